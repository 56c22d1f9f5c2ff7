#!/bin/bash
# Prints what the readers know, one word a line: keys and choices (the plain words in quotes of lib/loadline/case),
# units, names of sections. With "dictionary" as a dictionary for the fuzzers, with "table" as an array for C++.
# usage: dictionary.sh words|dictionary|table

cd "$(dirname "$0")/../.." || exit 2
export LC_ALL=C
words() { # PATTERN FILES... : literals that are one word
    grep -hoE "$@" | sed -E 's/^[^"]*"//; s/"[^"]*$//' | sort -u
}
keys=$(words '"[a-z][a-z0-9_]+"' lib/loadline/case/*.cpp)
units=$(words '^ *\{[a-z_]+, "[^"\\]+"' lib/loadline/quantity/unit.cpp)
sections=$(find airfoils -mindepth 1 -maxdepth 1 -type d -printf '%f\n' | sort)

case "${1:-}" in
    words) printf '%s\n' "$keys" "$units" "$sections" ;;
    dictionary) printf '%s\n' "$keys" "$units" "$sections" '[[propeller]]' ' = ' ',' '#' 'HFDTE020526' 'I023638TDS3943RPM' \
        'B1602405407121N00249342WA0028000421' '<trkpt ' '</trkpt>' '<ele>' '</ele>' '<time>' '</time>' '<trkseg>' 'rpm' 'CHT' |
        sed -E 's/\\/\\\\/g; s/"/\\"/g; s/°/\\xC2\\xB0/g; s/^(.*)$/"\1"/' ;;
    table)
        for name in keys units sections; do
            printf 'const std::vector<std::string> known_%s = {\n' "$name"
            sed -E 's/^(.*)$/    "\1",/' <<<"${!name}"
            printf '};\n'
        done ;;
    *) echo "usage: dictionary.sh words|dictionary|table" >&2
        exit 2 ;;
esac
