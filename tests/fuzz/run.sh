#!/bin/bash
# Runs each fuzzer, or those named, for so many minutes; builds them with clang first (build/fuzz). New inputs are
# gathered in build/fuzz/corpus, findings in build/fuzz/findings; kept inputs lie in corpus beside this file.
# "merge" makes the kept inputs anew: the fewest that reach what all reach together.
# usage: run.sh MINUTES|merge [NAME...]

set -euo pipefail
cd "$(dirname "$0")/../.."
minutes=${1:?usage: run.sh MINUTES [NAME...]}
shift
cmake -S . -B build/fuzz -G Ninja -DCMAKE_CXX_COMPILER="${CXX:-clang++-14}" -DCMAKE_BUILD_TYPE=RelWithDebInfo \
    -DCMAKE_CXX_FLAGS_RELWITHDEBINFO=-O1 -DLOADLINE_FUZZ=ON -DLOADLINE_BENCH=OFF \
    -DLOADLINE_WARNINGS_AS_ERRORS=OFF > /dev/null
names=("$@")
if [[ $# == 0 ]]; then
    for source in tests/fuzz/*_fuzz.cpp; do
        name=$(basename "$source" _fuzz.cpp)
        names+=("$name")
    done
fi
cmake --build build/fuzz --parallel "$(nproc)" --target "${names[@]/#/fuzz_}" > build/fuzz/build.log || {
    grep -A 4 error build/fuzz/build.log | head -n 40
    exit 1
}
mkdir -p build/fuzz/findings

# What to begin from: the ready cases, the sections and what tests/broken gets wrong.
seeds() {
    local command
    case $1 in
        case) cp cases/*.toml tests/broken/*.toml "$2" ;;
        section) cp tests/broken/*.csv "$2"
            for file in airfoils/*/section.csv; do
                cp "$file" "$2/$(basename "$(dirname "$file")")"
            done ;;
        outline) for file in airfoils/*/outline.csv tests/broken/*.outline.csv; do
                cp "$file" "$2/$(basename "$(dirname "$file")")"
            done ;;
        measured_points) cp cases/*.csv "$2" ;;
        measured_blade) printf '# by hand\nradius_mm,chord_mm,level_deg,thickness_mm,blade\n150,90,24,12,1\n580,40,9,5,2\n' \
            > "$2/level"
            printf 'blade,angle_deg,chord_mm,radius_mm\n1,24.5,90,150\n' > "$2/angle" ;;
        quantity) local letters=abcdefghijklmnopqrstu i=0
            while read -r unit; do
                printf '%s12.5 %s' "${letters:i++%21:1}" "$unit" > "$2/$i"
            done < <(bash tests/fuzz/dictionary.sh words | grep -v '^[a-z_]\{4,\}')
            for ((i = 0; i < 21; ++i)); do
                printf '%s0, 10, 1,5 m/s' "${letters:i:1}" > "$2/list-$i"
            done ;;
        command) for file in cases/*.toml; do
                for command in "match" "match --json" "compare --no-band --json" "blade" "curve --json"; do
                    { echo "#? $command"
                        grep -v '^ *#' "$file"
                        printf '[model]\nannuli = 6\n'; } > "$2/$(basename "$file")-${command// /}"
                done
            done ;;
    esac
}

for name in "${names[@]}"; do
    kept=tests/fuzz/corpus/$name
    gathered=build/fuzz/corpus/$name
    mkdir -p "$kept" "$gathered" "build/fuzz/seeds/$name"
    seeds "$name" "build/fuzz/seeds/$name"
    common=(-dict=build/fuzz/tests/fuzz/fuzz.dict -timeout=120 -rss_limit_mb=3000
        "-artifact_prefix=build/fuzz/findings/$name-")
    [[ $name == command ]] && common+=(-max_len=12000) || common+=(-max_len=20000)
    if [[ $minutes == merge ]]; then
        fewest=build/fuzz/fewest/$name
        rm -rf "$fewest"
        mkdir -p "$fewest"
        build/fuzz/tests/fuzz/"fuzz_$name" -set_cover_merge=1 -use_counters=0 -max_len=6000 -timeout=120 \
            "$fewest" "build/fuzz/seeds/$name" "$gathered" "$kept" > "build/fuzz/merge-$name.log" 2>&1
        rm -rf "$kept"
        cp -r "$fewest" "$kept"
        echo "$name: $(find "$kept" -type f | wc -l) inputs, $(du -sb "$kept" | cut -f1) bytes"
        continue
    fi
    echo "== $name"
    build/fuzz/tests/fuzz/"fuzz_$name" -max_total_time=$((minutes * 60)) -print_final_stats=1 "${common[@]}" \
        "$gathered" "$kept" "build/fuzz/seeds/$name" > "build/fuzz/$name.log" 2>&1 || echo "FOUND: see build/fuzz/$name.log"
    grep -E 'number_of_executed_units|peak_rss|^not held|^SUMMARY' "build/fuzz/$name.log" || true
done
if compgen -G 'build/fuzz/findings/*' > /dev/null; then
    ls -l build/fuzz/findings
    exit 1
fi
