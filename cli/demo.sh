#!/usr/bin/env bash
# Installs what is missing, builds, and runs the main job on the demo case. May be run again.
set -euo pipefail
cd "$(dirname "$0")/.."

bash cli/packages.sh
echo "== Building (build/demo)"
cmake -S . -B build/demo -G Ninja -DCMAKE_BUILD_TYPE=Release -DLOADLINE_TESTS=OFF -DLOADLINE_BENCH=OFF > /dev/null
cmake --build build/demo --parallel "$(nproc)" | tail -n 1
echo "== build/demo/loadline match cases/demo.toml"
echo
build/demo/loadline match cases/demo.toml
echo
echo "== build/demo/loadline compare cases/demo.toml"
echo
build/demo/loadline compare cases/demo.toml
echo
echo "Next: build/demo/loadline new mine.toml   writes a case of your own to change,"
echo "      build/demo/loadline --help          lists the commands."
