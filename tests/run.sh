#!/usr/bin/env bash
# Installs what is missing, builds, and runs every test: first under the address and undefined-behaviour
# sanitizers, then as users build it. May be run again; ends with ctest's own summary.
set -euo pipefail
cd "$(dirname "$0")/.."

bash cli/packages.sh tests

jobs=$(nproc)
echo "== Building with sanitizers (build/sanitize)"
cmake -S . -B build/sanitize -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_CXX_FLAGS_RELWITHDEBINFO=-O1 \
    -DLOADLINE_SANITIZE=ON -DLOADLINE_BENCH=OFF > /dev/null
cmake --build build/sanitize --parallel "$jobs" | tail -n 1
echo "== Running the tests with sanitizers"
ctest --test-dir build/sanitize --output-on-failure --parallel "$jobs"

echo "== Building (build/test)"
cmake -S . -B build/test -G Ninja -DCMAKE_BUILD_TYPE=Release > /dev/null
cmake --build build/test --parallel "$jobs" | tail -n 1
echo "== Running the tests"
ctest --test-dir build/test --output-on-failure --parallel "$jobs"
