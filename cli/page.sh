#!/usr/bin/env bash
# The whole program in one page, build/page/loadline.html: installs what is missing (Emscripten among it), builds the
# program, compiles it for a browser and puts all parts into one file that needs no network and no installation.
# usage: page.sh [BUILD]   BUILD: a build of the program to take what is made from; else build/demo, made when missing
set -euo pipefail
cd "$(dirname "$0")/.."

bash cli/packages.sh page
build=${1:-build/demo}
if [ $# -eq 0 ]; then
    echo "== Building the program ($build)"
    cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DLOADLINE_TESTS=OFF -DLOADLINE_BENCH=OFF > /dev/null
    cmake --build "$build" --parallel "$(nproc)" --target loadline_program > "$build/build.log"
fi
page=build/page
mkdir -p "$page"

echo "== Compiling it for a browser ($page)"
# Debian's Emscripten looks for its parser there, and keeps what it compiles of its own library in a cache.
export NODE_PATH=/usr/share/nodejs
[ -w /usr/share/emscripten/cache ] || export EM_CACHE="$PWD/$page/cache"
bash cli/web/expat.sh "$page" 2> "$page/expat.log" ||
    echo "   The source of Expat could not be fetched ($page/expat.log): this page will read no GPX log"
emcmake cmake -S cli/web -B "$page/web" -G Ninja -DCMAKE_BUILD_TYPE=Release \
    -DLOADLINE_GENERATED="$(realpath "$build")/generated" -DLOADLINE_EXPAT="$PWD/$page/expat/lib" > "$page/configure.log" 2>&1 || {
    tail -n 30 "$page/configure.log"
    exit 1
}
cmake --build "$page/web" --parallel "$(nproc)" > "$page/build.log" 2>&1 || {
    grep -aE -A 4 "error|FAILED" "$page/build.log" | head -n 60
    exit 1
}

echo "== Putting it into one file"
for command in blade compare lesson; do  # their scripts are those of all pages
    "$build/loadline" "$command" cases/demo.toml --page "$page/$command.html" --force > /dev/null 2>&1
done
node cli/web/assemble.mjs . "$page/web/loadline_web.wasm" "$page/web/loadline_web.js" \
    "$page/blade.html" "$page/compare.html" "$page/lesson.html" "$page/loadline.html"
echo "$page/loadline.html: $(($(stat -c %s "$page/loadline.html") / 1024)) kB"
