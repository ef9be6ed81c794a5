#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# From a fresh clone to an answer: installs what is missing, builds a release into build/, runs the
# example case and says where its pictures are.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
. examples/packages.sh g++ cmake ninja-build libeigen3-dev libboost-dev libboost-program-options-dev \
    libboost-iostreams-dev libboost-filesystem-dev libboost-system-dev libgnuplot-iostream-dev \
    nlohmann-json3-dev gnuplot-nox

[ -f build/build.ninja ] || rm -rf build
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DTIDEMARK_TESTS=OFF -DCMAKE_UNITY_BUILD=ON >/dev/null
cmake --build build --target tidemark

mkdir -p build/pictures
build/tidemark day --case examples/loin.ini --figure build/pictures/loin.svg
build/tidemark day --case examples/loin.ini --figure build/pictures/loin.png >/dev/null
echo
echo "The program: build/tidemark    The pictures: build/pictures/loin.svg and loin.png"
