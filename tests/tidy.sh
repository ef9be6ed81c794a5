#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# clang-tidy, by the rules of .clang-tidy, over the files of src that compile together:
#   bash tests/tidy.sh BUILD      of a build with -DCMAKE_UNITY_BUILD=ON
# All others take minutes more, one by one:
#   bash tests/tidy.sh BUILD all
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$1"
shopt -s nullglob
together=(CMakeFiles/tidemark_core.dir/Unity/*.cxx CMakeFiles/tidemark.dir/Unity/*.cxx)
others=()
[ "${2:-}" != all ] || others=("$here"/src/{geometry,cure,inference,output,api}/*.cpp)
[ ${#together[@]} -gt 0 ] || { echo "no files that compile together in $1"; exit 1; }
# Such a file includes .cpp files; GCC's flags are not all known to clang.
printf '%s\n' "${together[@]}" "${others[@]}" | xargs -P "$(nproc)" -I{} clang-tidy-14 -p . --quiet \
    --config-file="$here/.clang-tidy" --checks=-bugprone-suspicious-include \
    --extra-arg=-Wno-unknown-warning-option {} 2> >(grep -v 'warnings\? generated\|^Suppressed\|^Use -header' >&2)
