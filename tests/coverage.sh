#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Which lines and branches of src the tests run, by folder; coverage.md has the figures and says what is
# left. BUILD is a build of its own, made here; needs GCC and gcovr. What is not run: BUILD/coverage.txt.
#   bash tests/coverage.sh BUILD
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
# Only the functions of src are counted: with Eigen's the numbers would take hours.
cmake -S "$here" -B "$1" -G Ninja -DCMAKE_BUILD_TYPE=None -DCMAKE_UNITY_BUILD=ON -DCMAKE_CXX_FLAGS="-O2 \
--coverage -fprofile-update=prefer-atomic -fprofile-filter-files=$here/src/.*" > /dev/null
cmake --build "$1"
build=$(cd "$1" && pwd)
find "$build" -name '*.gcda' -delete
# What is installed is linked without counters; the pages hold a module, test_fuzz a copy of its own.
ctest --test-dir "$build" -j2 --timeout 7200 -E '^(package|page|format|breaks|tidy|fuzz)$' ||
    echo "failed tests: those of file sizes and of times may, see coverage.md"
# Where programs end at one time a count can come out negative: such a line is passed over.
gcovr -r "$here" --object-directory "$build" --filter "$here/src/" --exclude-throw-branches \
    --exclude-unreachable-branches --gcov-ignore-parse-errors \
    --json-summary "$build/coverage.json" --txt "$build/coverage.txt" \
    "$build/CMakeFiles"
python3 - "$build/coverage.json" <<'TABLE'
import collections, json, sys
folders = collections.defaultdict(lambda: [0] * 4)
for file in json.load(open(sys.argv[1]))["files"]:
    for name in (file["filename"].split("/")[1], "~all"):
        for k, what in enumerate(("line_covered", "line_total", "branch_covered", "branch_total")):
            folders[name][k] += file[what]
print("| folder | lines | of | % | branches | of | % |\n|---|---|---|---|---|---|---|")
for name, (line, lines, branch, branches) in sorted(folders.items()):
    print(f"| {name.strip('~')} | {line} | {lines} | {100 * line / lines:.1f} |"
          f" {branch} | {branches} | {100 * branch / max(1, branches):.1f} |")
TABLE
