#!/bin/bash
# Runs each fuzzer, or those named, for so many minutes of a processor's time, which a busy machine does not shorten;
# builds them with clang first (build/fuzz). New inputs are gathered in build/fuzz/corpus, findings in
# build/fuzz/findings; kept inputs lie in corpus beside this file.
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
        igc) cp cases/log/*.igc "$2" ;;
        gpx) cp cases/log/*.gpx "$2" ;;
        engine_log) cp cases/log/*.csv "$2"
            printf 'w;n;k;x\n0:01;7000;150,5;\n0:02;7100;151;\n' > "$2/named"
            printf 'a logger\n"Timestamp (UTC)","RPM 1","CHT [F]"\n"2026-05-02T10:00:00Z","7000","302"\n' > "$2/quoted" ;;
        quantity) local letters=abcdefghijklmnopqrstu i=0
            while read -r unit; do
                printf '%s12.5 %s' "${letters:i++%21:1}" "$unit" > "$2/$i"
            done < <(bash tests/fuzz/dictionary.sh words | grep -v '^[a-z_]\{4,\}')
            for ((i = 0; i < 21; ++i)); do
                printf '%s0, 10, 1,5 m/s' "${letters:i:1}" > "$2/list-$i"
            done ;;
        command) for file in cases/*.toml; do
                for command in "match" "match --json" "compare --no-band --json" "blade" "curve --json" "trial --json"; do
                    { echo "#? $command"
                        grep -v '^ *#' "$file"
                        printf '[model]\nannuli = 6\n'; } > "$2/$(basename "$file")-${command// /}"
                done
            done ;;
    esac
}

# Runs a fuzzer until it has used so many seconds of a processor; then it is asked to stop, which it does with its
# figures and this status. Fails when it ended by itself.
interrupted=72
run_for() { # SECONDS LOG COMMAND...
    local limit=$1 log=$2 used=0 status=0 ticks stat fields
    ticks=$(getconf CLK_TCK)
    "${@:3}" > "$log" 2>&1 &
    local fuzzer=$!
    trap 'kill "$fuzzer" 2> /dev/null; exit 130' INT TERM
    while sleep 1 && stat=$(cat "/proc/$fuzzer/stat" 2> /dev/null); do
        read -ra fields <<< "${stat##*) }" # from the third field on: its user's and its system's time are the 14th and 15th
        [[ ${fields[0]} == Z ]] && break
        used=$(((fields[11] + fields[12]) / ticks))
        ((used < limit)) || { kill -INT "$fuzzer"; break; }
    done
    wait "$fuzzer" || status=$?
    trap - INT TERM
    echo "$used s of a processor"
    [[ $status == "$interrupted" ]]
}

# An input that was slow because others had the processor is no finding.
try_slow_alone() { # NAME
    local input seconds limit=5 TIMEFORMAT=%U
    [[ $1 == command ]] && limit=40  # a blade's beam takes 13 s so built, 60 times what a user waits
    for input in build/fuzz/findings/"$1"-{slow-unit,timeout}-*; do
        [[ -f $input ]] || continue
        seconds=$({ time build/fuzz/tests/fuzz/"fuzz_$1" -timeout=600 "$input" > /dev/null 2>&1; } 2>&1)
        [[ ${seconds%.*} -ge $limit ]] || rm "$input"
    done
}

for name in "${names[@]}"; do
    kept=tests/fuzz/corpus/$name
    gathered=build/fuzz/corpus/$name
    mkdir -p "$kept" "$gathered" "build/fuzz/seeds/$name"
    seeds "$name" "build/fuzz/seeds/$name"
    common=(-dict=build/fuzz/tests/fuzz/fuzz.dict -timeout=1200 -rss_limit_mb=3000
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
    run_for $((minutes * 60)) "build/fuzz/$name.log" \
        build/fuzz/tests/fuzz/"fuzz_$name" -print_final_stats=1 "${common[@]}" \
        "$gathered" "$kept" "build/fuzz/seeds/$name" || echo "FOUND: see build/fuzz/$name.log"
    try_slow_alone "$name"
    grep -E 'number_of_executed_units|peak_rss|^not held|^SUMMARY' "build/fuzz/$name.log" || true
done
if compgen -G 'build/fuzz/findings/*' > /dev/null; then
    ls -l build/fuzz/findings
    exit 1
fi
