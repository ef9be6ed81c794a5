#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Breaks one line after the other (breaks.txt), builds the smallest test program that should notice, and
tells which breaks no test has caught. Works in a clean tree and puts every file back.

    python3 tests/mutation/mutate.py BUILD [WORD ...]   # of one file, test or line of the list
    python3 tests/mutation/mutate.py --check            # only whether every line still stands
"""
import pathlib
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parents[2]
listed = pathlib.Path(__file__).with_name("breaks.txt")


def breaks():
    for number, line in enumerate(listed.read_text().splitlines(), 1):
        if line.strip() and not line.startswith("#"):
            file, test, old, new = (part.replace("\\n", "\n") for part in line.split(" :: "))
            yield number, file, test, old, new


def quiet(words, seconds):
    try:
        return subprocess.run(words, cwd=root, timeout=seconds, stdout=subprocess.DEVNULL,
                              stderr=subprocess.DEVNULL).returncode
    except subprocess.TimeoutExpired:
        return "time"


def tried(build, file, test, old, new):
    path = root / file
    before = path.read_text()
    if before.count(old) != 1:
        return f"stands {before.count(old)} times in {file}"
    targets = [f"test_{test}"] + (["tidemark"] if test == "cli" else [])
    try:
        path.write_text(before.replace(old, new))
        if quiet(["ninja", "-C", build, *targets], 1800) != 0:
            return "not compiled"
        result = quiet([f"{build}/test_{test}", "-a"], 900)
        return "escaped" if result == 0 else "caught"
    finally:
        path.write_text(before)


def check():
    """Whether every line to break stands in its file once."""
    lost = [f"{listed.name}:{number} {file}: {old}" for number, file, _, old, _ in breaks()
            if (root / file).read_text().count(old) != 1]
    print("\n".join(lost) or f"{sum(1 for _ in breaks())} breaks stand")
    return 1 if lost else 0


def main(build, words):
    count = {}
    for number, file, test, old, new in breaks():
        if words and not any(word in file or word in (test, str(number)) for word in words):
            continue
        result = tried(build, file, test, old, new)
        count[result] = count.get(result, 0) + 1
        print(f"{result:9} {listed.name}:{number} {file}: {old.strip()} -> {new.strip()}", flush=True)
    print(", ".join(f"{n} {what}" for what, n in sorted(count.items())))
    return 0 if set(count) <= {"caught"} else 1


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    if sys.argv[1] == "--check":
        sys.exit(check())
    sys.exit(main(str(pathlib.Path(sys.argv[1]).resolve()), sys.argv[2:]))
