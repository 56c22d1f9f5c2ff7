#!/usr/bin/env bash
# Installs the build into an empty folder, builds a stranger's project against it and runs it: the program README
# shows, and one that reads an installed section. Runs the installed program from there. Then takes the sources in
# with add_subdirectory. Arguments: source folder, build folder, compiler.
set -euo pipefail
source=$1 build=$2 compiler=$3

place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cmake --install "$build" --prefix "$place/installed" > /dev/null

cp -r "$source/tests/consumer" "$place/stranger"
sed -n '/^```cpp$/,/^```$/p' "$source/README.md" | sed '/^```/d' > "$place/stranger/readme.cpp"
# Every installed header stands on its own, and none of the library's inner ones came along.
test -z "$(find "$place/installed/include" -path '*/detail*')"
(cd "$place/installed/include" && find loadline -name '*.hpp' | sort | sed 's|.*|#include <&>|') \
    > "$place/stranger/every_header.cpp"

cmake -S "$place/stranger" -B "$place/build" -G Ninja -DCMAKE_CXX_COMPILER="$compiler" \
    -DCMAKE_PREFIX_PATH="$place/installed" > /dev/null
cmake --build "$place/build" > "$place/log" || { cat "$place/log" >&2; exit 1; }
"$place/build/readme" | tee /dev/stderr | grep -q ' N for '
"$place/build/installed_section" "$place/installed/share/loadline/airfoils/clark-y/section.csv"
"$place/installed/bin/loadline" sections | grep -q clark-y

# As a folder of the stranger's project: the library is asked for without the program, its tests and what they need.
# Built whole it would be the library a second time, so only the stranger's own source is compiled.
cmake -S "$place/stranger" -B "$place/folder" -G Ninja -DCMAKE_CXX_COMPILER="$compiler" \
    -DLOADLINE_FOLDER="$source" > /dev/null
test -z "$(ninja -C "$place/folder" -t targets all | grep -E 'loadline_program|_test:')"
(cd "$place/folder" && ninja -t commands CMakeFiles/readme.dir/readme.cpp.o | tail -n 1 | bash)
