#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# From a fresh clone to a verdict: installs what is missing, builds everything with warnings as
# errors, runs every test.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
. examples/packages.sh g++ cmake ninja-build libeigen3-dev libboost-dev libboost-program-options-dev \
    libboost-iostreams-dev libboost-filesystem-dev libboost-system-dev libgnuplot-iostream-dev \
    nlohmann-json3-dev gnuplot-nox catch2 libsundials-dev libical-dev clang-format-14 \
    clang-tidy-14 python3-jsonschema dpkg-dev

[ -f build/build.ninja ] || rm -rf build
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DTIDEMARK_TESTS=ON \
    -DCMAKE_UNITY_BUILD=ON -DTIDEMARK_TIDY=ON >/dev/null
cmake --build build
ctest --test-dir build --output-on-failure -j2
