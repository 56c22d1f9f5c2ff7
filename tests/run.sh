#!/usr/bin/env bash
# Installs what is missing, builds as users do, and runs every test once. With --sanitize instead: what reads input
# and every property tried on random cases, under clang's address and undefined-behaviour sanitizers; with --page: the
# whole program in one page (cli/page.sh), in a browser and against the program itself. May be run again; the first two
# end with ctest's own summary.
set -euo pipefail
cd "$(dirname "$0")/.."

packages=tests
[ "${1:-}" = --sanitize ] && packages=sanitize
bash cli/packages.sh "$packages"

case "${1:-}" in
    "") folder=build/test
        options=(-DCMAKE_BUILD_TYPE=Release) ;;
    --sanitize) folder=build/sanitized
        # By clang, which takes half of what g++ takes here, and so that both compilers see everything; linked by its
        # own linker, which takes a quarter.
        options=(-DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_EXE_LINKER_FLAGS=-fuse-ld=lld
            -DCMAKE_CXX_FLAGS_RELWITHDEBINFO=-O0 -DLOADLINE_SANITIZE=ON -DLOADLINE_BENCH=OFF) ;;
    --page)
        bash cli/page.sh
        folder=build/page
        FOLDER=$folder/browser
        . tests/browser/driver.sh
        echo "== The case as a form writes it"
        node "$FOLDER/case_text.mjs" .
        echo "== Against the program"
        node "$FOLDER/same.mjs" build/demo/loadline . "$folder/web/loadline_web.wasm" "$folder/web/loadline_web.js"
        echo "== In a browser"
        node "$FOLDER/live.mjs" "$folder/loadline.html" "$FOLDER" build/demo/loadline cases
        node "$FOLDER/firefox.mjs" "$folder/loadline.html" "$FOLDER" || [ $? -eq 77 ]  # skipped, and says so
        echo "== For readers of screens"
        node "$FOLDER/axe.mjs" build/demo/loadline cases "$folder/loadline.html" "$FOLDER"
        echo "== On a processor four times as slow"
        node "$FOLDER/speed.mjs" "$folder/loadline.html"
        exit ;;
    *) echo "usage: tests/run.sh [--sanitize|--page]" >&2
        exit 2 ;;
esac
jobs=$(nproc)
echo "== Building ($folder)"
cmake -S . -B "$folder" -G Ninja "${options[@]}" > /dev/null
cmake --build "$folder" --parallel "$jobs" > "$folder/build.log" || {
    grep -E -A 4 "error|FAILED" "$folder/build.log" | head -n 60
    exit 1
}
tail -n 1 "$folder/build.log"
echo "== Running the tests"
# One more than there are processors: who looks at pages often waits.
ctest --test-dir "$folder" --output-on-failure --parallel "$((jobs + 1))"
