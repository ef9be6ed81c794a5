#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Compiles the program to WebAssembly in the folder named and puts the module into the pages, as
# parts/engine.txt: bash src/page/make.sh FOLDER. Needs Debian's emscripten, which no other target
# does. `make.sh sources` prints what the module in the repository has to be made from.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
export LC_ALL=C NODE_PATH=/usr/share/nodejs

sources() {
    find models src -type f \( -name '*.[ch]pp' -o -name '*.ini' -o -name CMakeLists.txt \) \
        ! -path 'src/page/parts/*' | sort | xargs sha256sum | sha256sum | cut -c1-64
}
if [ "$1" = sources ]; then
    sources
    exit
fi
emcmake cmake -S src/page -B "$1" -G Ninja >/dev/null
cmake --build "$1"
node src/page/pack.js "$1" "$(sources)"
