#!/usr/bin/env bash
# Installs the build into an empty folder, builds a stranger's project against it, runs it, and runs the
# installed program from there. Arguments: build folder, compiler, folder of the stranger's project.
set -euo pipefail
build=$1 compiler=$2 source=$3

place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cmake --install "$build" --prefix "$place/installed" > /dev/null
flags=()
if grep -q '^LOADLINE_SANITIZE:BOOL=ON' "$build/CMakeCache.txt"; then
    flags=(-DCMAKE_EXE_LINKER_FLAGS=-fsanitize=address,undefined)
fi
cmake -S "$source" -B "$place/build" -DCMAKE_CXX_COMPILER="$compiler" \
    -DCMAKE_PREFIX_PATH="$place/installed" "${flags[@]}" > /dev/null
cmake --build "$place/build" > /dev/null
"$place/build/consumer" "$place/installed/share/loadline/airfoils/clark-y/section.csv"
"$place/installed/bin/loadline" sections | grep -q clark-y
