#!/bin/bash
# The plan of the house, checked: which folder of lib/loadline may include which, no circles between
# files, no file over 600 lines, no function over 60, and no words in lib/loadline/study.
# usage: structure.sh [ROOT]

cd "${1:-$(dirname "$0")/..}" || exit 2
export LC_ALL=C
bad=0
fail() {
    echo "structure: $1"
    bad=1
}

sources=$(find lib/loadline cli -name '*.cpp' -o -name '*.hpp' | sort)
includes=$(grep -HoE '^ *#include "[^"]+"' $sources | sed -E 's/: *#include "([^"]+)"/ \1/')

# Left to right: a folder includes what stands left of it. Strength and sound do not see each other.
# Case fills a scenario, and nobody in the library includes it.
wrong=$(grep '^lib/' <<<"$includes" | awk '
    BEGIN {
        n = split("number quantity air section blade rotor engine drive craft strength sound making scenario uncertainty study words", folders)
        for (i = 1; i <= n; ++i) place[folders[i]] = i
        place["case"] = place["scenario"] + 0.5
    }
    $2 ~ /\.inc$/ { next }  # generated data
    {
        split($1, here, "/")
        split($2, there, "/")
        from = here[3]
        to = there[2]
        detail = $2 ~ /\/detail\//
        if (there[1] != "loadline") print $1 " includes " $2 ", which is outside the library"
        else if (!(from in place)) print "lib/loadline/" from " has no place in the order of folders"
        else if (detail && from != to) print $1 " includes " $2 ", which is inside another folder"
        else if (detail && $1 ~ /\.hpp$/ && $1 !~ /\/detail\//) print $1 " is installed and includes " $2 ", which is not"
        else if (from != to && (to == "case" || !(to in place) || place[to] >= place[from] || from == "sound" && to == "strength"))
            print $1 " includes " $2 ": " to " does not stand left of " from
    }')
[[ -n $wrong ]] && fail "$wrong"

# Study holds no sentences: they are made in words. No literal there has three words or more, but for
# what an exception or an assertion says, and the labels and verbs in the table of figures.
study=$(grep '^lib/loadline/study/' <<<"$sources")
words=$(grep -l '#include <fmt/' $study)
[[ -n $words ]] && fail "sentences are made in words, not in $words"
sentences=$(awk '
    function look_at(code) {
        if (code ~ /[^ ]/) said = ""
        if (code ~ /(^|[^a-z_])(throw|static_assert|invalid_argument)[ (]/) allowed = 1
        if (code ~ /\.[a-z_]+ *=/) named = FILENAME ~ /\/figures\.cpp$/ && code ~ /\.(label|verbs) *=/
    }
    FNR == 1 { said = ""; allowed = 0; named = 0 }
    /^ *(#|\/\/)/ { next }
    {
        line = $0
        while (match(line, /"([^"\\]|\\.)*"|;|\/\/.*/)) {
            look_at(substr(line, 1, RSTART - 1))
            token = substr(line, RSTART, RLENGTH)
            line = substr(line, RSTART + RLENGTH)
            if (token == ";") {
                said = ""
                allowed = named = 0
            } else if (token ~ /^"/) {
                said = said substr(token, 2, length(token) - 2)
                if (!allowed && !named && said ~ /[^ ] +[^ ]+ +[^ ]/)
                    print FILENAME ":" FNR ": \"" said "\""
            }
        }
        look_at(line)
    }' $study)
[[ -n $sentences ]] && fail "sentences are made in words, not in study: $sentences"

# Nothing is computed before main begins: a section or blade of a user's own, made that early, would see zeros.
early=$(grep -nE '^(inline |static )*const (double|auto|int|std::[a-z_]+<?[^(]*) [a-z_]+ = [^;]*\(' $(grep '^lib/' <<<"$sources"))
[[ -n $early ]] && fail "computed before main begins: $early"

# A file is a header with its source here, and detail/x.hpp goes with x.cpp.
edges=$(sed -E 's/ loadline/ lib\/loadline/; s/\.[chi][pn][pc]//g; s/detail\///g' <<<"$includes" |
    awk '$1 != $2' | sort -u)
circles=$(tsort <<<"$edges" 2>&1 >/dev/null | sed -E 's/^tsort: //')
[[ -n $circles ]] && fail "files that include each other in a circle: $(tr '\n' ' ' <<<"$circles")"

long=$(wc -l $sources | awk '$2 != "total" && $1 > 600 { print $2 ": " $1 " lines; at most 600" }')

# Functions: an opening brace inside a namespace or a class, with round brackets before it.
functions=$(awk -v most=60 '
    FNR == 1 { depth = 0; text = ""; delete kind; delete begun; delete name; raw = 0 }
    {
        line = $0
        if (raw) { if (!index(line, ")\"")) next; raw = 0; line = "" }
        if (line ~ /^ *#/) next
        gsub(/\\./, "", line)
        gsub(/\047[^\047]\047/, "0", line)
        gsub(/"[^"]*"/, "0", line)
        sub(/\/\/.*/, "", line)
        if (line ~ /R0?"\(/) { raw = 1; sub(/R"\(.*/, "0", line) }
        n = length(line)
        for (i = 1; i <= n; ++i) {
            c = substr(line, i, 1)
            if (c == "{") {
                ++depth
                outside = depth == 1 || kind[depth - 1] == "scope"
                if (text ~ /^ *(inline |export )*(namespace|extern)/ || text ~ /(^|[ >])(class|struct|enum|union)[ {]/ && text !~ /\)/)
                    kind[depth] = outside ? "scope" : "inner"
                else if (outside && text ~ /\(/ && text !~ /= *$/ && text !~ /= *[A-Za-z_:<>, ]*$/)
                    kind[depth] = "function"
                else
                    kind[depth] = "inner"
                begun[depth] = text == "" ? FNR : first
                name[depth] = text
                text = ""
            } else if (c == "}") {
                if (kind[depth] == "function" && FNR - begun[depth] + 1 > most) {
                    shown = name[depth]
                    sub(/\(.*/, "", shown)
                    sub(/^.* /, "", shown)
                    printf "%s: %s: %d lines; at most %d\n", FILENAME, shown, FNR - begun[depth] + 1, most
                }
                if (kind[depth] != "inner" || depth == 1 || kind[depth - 1] != "inner") text = ""
                --depth
            } else if (c == ";") {
                text = ""
            } else if (c != " " || text != "") {
                if (text == "") first = FNR
                text = text c
            }
        }
        if (text != "") text = text " "
    }' $sources)
over=$(printf '%s\n%s\n' "$long" "$functions" | grep .)
[[ -n $over ]] && fail "$over"

exit $bad
