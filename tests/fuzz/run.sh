#!/usr/bin/env bash
# Runs every fuzzer of a build for some seconds, one after the other, on a copy of the corpus. What makes
# one fail is kept in BUILD/fuzz.
#   bash tests/fuzz/run.sh BUILD [SECONDS] [TARGET ...]
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
build=$(cd "$1" && pwd)
seconds=${2:-60}
targets=("${@:3}")
[ ${#targets[@]} -gt 0 ] || targets=(quantity date case_file stage outline cooler_log notebook drawing)
failed=0
for target in "${targets[@]}"; do
    mkdir -p "$build/fuzz/$target"
    log=$build/fuzz/$target.log
    words=$here/words/$target
    [ -e "$words" ] || words=$here/words/any
    if ! "$build/fuzz_$target" -max_total_time="$seconds" -timeout=300 -rss_limit_mb=2000 -max_len=4096 \
        -dict="$words" -artifact_prefix="$build/fuzz/$target-" -print_final_stats=1 \
        "$build/fuzz/$target" "$here/corpus/$target" > "$log" 2>&1; then
        failed=1
        echo "$target FAILED: $(grep -m1 -E 'does not hold|ERROR|runtime error' "$log")"
    fi
    echo "$target: $(grep -o 'number_of_executed_units: *[0-9]*' "$log" | grep -o '[0-9]*$') inputs," \
        "$(grep -oE 'cov: [0-9]+' "$log" | tail -1 | grep -o '[0-9]*') edges"
done
exit $failed
