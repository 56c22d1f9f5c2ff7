#!/bin/bash
# Random operating points by the million, over all cores, each with a seed of its own; builds what it needs
# (build/points). Prints one line a core; the exit status tells whether all held.
# usage: points.sh [MILLIONS [SEED]]

set -euo pipefail
cd "$(dirname "$0")/../.."
millions=${1:-20}
seed=${2:-1000}
cores=$(nproc)
cmake -S . -B build/points -G Ninja -DCMAKE_BUILD_TYPE=Release -DLOADLINE_PROGRAM=ON > /dev/null
cmake --build build/points --parallel "$cores" --target points > build/points/build.log
share=$(awk "BEGIN { print $millions / $cores }")
runs=()
for ((i = 0; i < cores; ++i)); do
    nice -n 5 build/points/tests/fuzz/points "$share" $((seed + i)) airfoils &
    runs+=($!)
done
bad=0
for run in "${runs[@]}"; do
    wait "$run" || bad=1
done
exit $bad
