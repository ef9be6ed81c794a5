#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# The pages hold the program as it is: bash tests/page/test.sh PROGRAM. What is not installed is not
# tried, and it says so.
set -euo pipefail
program=$(realpath "$1")
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
failed=0

if command -v emcc >/dev/null; then
    made=$(head -n 1 src/page/parts/engine.txt)
    if [ "$made" != "$(bash src/page/make.sh sources)" ]; then
        echo "src/page/parts/engine.txt is not made from these sources: build the target page_module"
        failed=1
    fi
else
    echo "no emcc: whether the module in the pages is made from these sources is NOT CHECKED"
fi

if command -v node >/dev/null; then
    node tests/page/agree.js "$program" "${2:-4}" || failed=1
else
    echo "no node: whether the module says what the program says is NOT CHECKED"
fi

chromium=$(command -v chromium || true)
if [ -n "$chromium" ] && command -v node >/dev/null; then
    folder=$(mktemp -d)
    node tests/page/browser.js "$chromium" "$program" "$folder" || failed=1
    rm -rf "$folder"
else
    echo "no chromium, or no node: the pages are NOT TRIED in a browser"
fi
exit $failed
