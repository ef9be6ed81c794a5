#!/usr/bin/env bash
# Installs a build into a folder, builds another project with it and runs that; then packs it for Debian,
# unpacks that into an empty root and runs the program from there.
#   bash test.sh BUILD CONSUMER
set -euo pipefail
build=$(cd "$1" && pwd)
consumer=$2
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
fail() { echo "FAILED: $*"; exit 1; }

cmake --install "$build" --prefix "$tmp/prefix" > "$tmp/log"
cmake -S "$consumer" -B "$tmp/consumer" -DCMAKE_BUILD_TYPE=Release \
    -DCMAKE_PREFIX_PATH="$tmp/prefix" > "$tmp/log" || { cat "$tmp/log"; fail "package not found"; }
cmake --build "$tmp/consumer" > "$tmp/log" || { cat "$tmp/log"; fail "consumer not built"; }
answer=$("$tmp/consumer/consumer")
echo "consumer: $answer"
[[ $answer =~ ^day\ [0-9.]+,\ right\ in\ [0-9.]+\ of\ 100$ ]] || fail "consumer said: $answer"
# The same case, asked of the installed program.
told=$("$tmp/prefix/bin/tidemark" day --muscle beef-round --shape round --thickness 65mm --weight 1.2kg \
    --brine 2.5kg --brine-salt 4.5% --brine-nitrite 250ppm --cooler 3C | grep -oE 'day [0-9.]+' | head -1)
[[ $answer == "$told,"* ]] || fail "the program says $told, the library $answer"

if ! command -v dpkg-shlibdeps > /dev/null; then
    echo "dpkg-dev is not installed: no package of Debian's was made"
    exit 0
fi
(cd "$tmp" && cpack -G DEB --config "$build/CPackConfig.cmake" -B "$tmp/deb") > "$tmp/log" 2>&1 ||
    { cat "$tmp/log"; fail "cpack"; }
deb=$(ls "$tmp"/deb/*.deb)
dpkg-deb -c "$deb" > "$tmp/files"
for file in bin/tidemark include/tidemark/tidemark.hpp share/tidemark/schema.json \
    share/doc/tidemark/copyright; do
    grep -q " ./usr/$file\$" "$tmp/files" || fail "the package lacks $file"
done
! grep -q "$build\|/usr/local" "$tmp/files" || fail "the package holds a path of the build"
dpkg-deb -f "$deb" Depends | grep -q 'libc6' || fail "no dependencies"
dpkg-deb -x "$deb" "$tmp/root"
# Alone in that root where we may: nothing but the package and the system's shared libraries.
run="$tmp/root/usr/bin/tidemark"
$run --version | grep -q '^tidemark ' || fail "the unpacked program does not run"
if [ "$(id -u)" = 0 ]; then
    ldd "$run" | grep -oE '/[^ ]+' | sort -u | while read -r library; do
        mkdir -p "$tmp/root$(dirname "$library")"
        cp -L "$library" "$tmp/root$library"
    done
    chroot "$tmp/root" /usr/bin/tidemark day --thickness 40mm --brine-salt 6% --draws 0 > "$tmp/out" ||
        fail "the program does not run in a clean root"
    grep -q '^CURED' "$tmp/out" || fail "no answer in a clean root"
fi
echo "package: $(basename "$deb"), $(wc -l < "$tmp/files") entries"
