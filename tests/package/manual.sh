#!/usr/bin/env bash
# The manual page is set without a warning, bash completes with the script, and both name every command and option
# that --help names; so do the scripts of zsh and fish, which complete too where these shells are. Arguments: program, folder of the manual.
set -euo pipefail
program=$1 made=$2
fail() {
    echo "manual: $1" >&2
    exit 1
}
if command -v groff > /dev/null; then
    warnings=$(groff -mandoc -ww -Tutf8 -z "$made/loadline.1" 2>&1)
    [ -z "$warnings" ] || fail "the manual page: $warnings"
    # As it is read: without the marks of bold and underlined.
    groff -mandoc -Tascii -P-c -P-b -P-o -P-u -rLL=200n "$made/loadline.1" > "$made/loadline.txt"
else
    echo "groff is not installed: the manual page was not set"
    sed 's/\\-/-/g; s/\\f.//g' "$made/loadline.1" > "$made/loadline.txt"
fi

# shellcheck source=/dev/null
source "$made/loadline.bash"
completed() { # WORDS...: what the last may become
    COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
    _loadline "$1" "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
    printf '%s\n' "${COMPREPLY[@]}"
}
has() { # WORD LINE...
    # Not through a pipe: a reader that has seen enough would end the writer, and with pipefail the test.
    grep -qxF -e "$1" <<< "$(completed "${@:2}")" || fail "\"${*:2}\" is not completed with $1 but with: $(completed "${@:2}")"
}
complete -p loadline > /dev/null

count=0
for command in $("$program" --help | sed -n '/^Subcommands:/,/^$/s/^  \([a-z]*\) .*/\1/p'); do
    has "$command" loadline "${command:0:2}"
    grep -qF "'$command:" "$made/loadline.zsh" || fail "zsh's completion leaves $command out"
    grep -qF "__fish_use_subcommand -a $command " "$made/loadline.fish" || fail "fish's completion leaves $command out"
    grep -qE "^ *loadline $command( |$)" "$made/loadline.txt" || fail "the manual page leaves $command out"
    for option in $("$program" "$command" --help | grep -oE '^ +(-h,)?--[a-z-]+' | grep -oE -e '--[a-z-]+'); do
        has "$option" loadline "$command" "${option:0:4}"
        count=$((count + 1))
        grep -qF -e "'$option[" <<< "$(sed -n "/^ *$command) _arguments/,/;;/p" "$made/loadline.zsh")" ||
            fail "zsh's completion leaves $command $option out"
        grep -qE -e "^complete -c loadline (-n '__fish_seen_subcommand_from $command' )?-l ${option#--} " "$made/loadline.fish" ||
            fail "fish's completion leaves $command $option out"
        [ "$option" = --help ] ||
            grep -qE -e "^ *$option( |$)" <<< "$(sed -n "/loadline $command/,/Example/p" "$made/loadline.txt")" ||
            fail "the manual page leaves $command $option out"
    done
done
[ "$count" -gt 40 ] || fail "only $count options were found in --help"
has imperial loadline match --units ""
has --version loadline --v
cd "$(mktemp -d)"
trap 'rm -rf "$PWD"' EXIT
mkdir folder
touch mine.toml notes.txt
[ "$(completed loadline match "" | sort | tr '\n' ' ')" = "folder mine.toml " ] || fail "a case is not completed"
[ "$(completed loadline match mine.toml --airfoils "")" = folder ] || fail "a folder is not completed"
[ -z "$(completed loadline nothing x)" ] || fail "what is no command is completed"
if command -v zsh > /dev/null; then
    zsh -n "$made/loadline.zsh" || fail "zsh does not take its completion"
else
    echo "zsh is not installed: its completion was only read"
fi
if command -v fish > /dev/null; then
    fish -n "$made/loadline.fish" || fail "fish does not take its completion"
    in_fish() { # LINE: what it may become, without what is said of it
        HOME=$PWD fish --no-config -c "source '$made/loadline.fish'; complete -C '$1'" | cut -f 1 | sort | tr '\n' ' '
    }
    [ "$(in_fish 'loadline match m')" = "mine.toml " ] || fail "fish completes a case with: $(in_fish 'loadline match m')"
    [ "$(in_fish 'loadline match --units ')" = "imperial metric " ] || fail "fish does not complete --units"
    [[ "$(in_fish 'loadline ')" == *"lesson "* ]] || fail "fish does not complete a command"
else
    echo "fish is not installed: its completion was only read"
fi
echo "$count options in the manual page and completed"
