#!/usr/bin/env bash
# Makes the Debian package and the archive of a build and tries them: what is inside, installed in an empty root, run
# there with nothing but the libraries it says it needs, removed without a trace; the archive's program alone in an
# empty folder. Both answer as the build does. Arguments: source folder, build folder.
set -euo pipefail
source=$1 build=$2
export LC_ALL=C PATH=$PATH:/usr/sbin:/sbin

place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
fail() {
    echo "package: $1" >&2
    exit 1
}
is_root=$([ "$(id -u)" -eq 0 ] && echo yes || echo no)
[ "$is_root" = yes ] || echo "not root: packages are unpacked and run where they lie, not installed in a root of their own"
"$build/loadline" match "$source/cases/demo.toml" > "$place/expected"

for kind in DEB TGZ; do
    (cd "$place" && cpack -G "$kind" --config "$build/CPackConfig.cmake" -B "$place/$kind") > "$place/log" 2>&1 ||
        { cat "$place/log" >&2; fail "cpack -G $kind"; }
done
deb=$(find "$place/DEB" -maxdepth 1 -name '*.deb')
archive=$(find "$place/TGZ" -maxdepth 1 -name '*.tar.gz')
echo "$(basename "$deb"): $(stat -c %s "$deb") bytes; $(basename "$archive"): $(stat -c %s "$archive") bytes"

# The Debian package: what is inside, and nothing of the library.
dpkg-deb --contents "$deb" | awk '{ print $6 }' > "$place/contents"
for file in bin/loadline share/loadline/airfoils/clark-y/section.csv share/man/man1/loadline.1.gz \
    share/bash-completion/completions/loadline share/zsh/vendor-completions/_loadline \
    share/fish/vendor_completions.d/loadline.fish share/loadline/schema/match.json share/doc/loadline/README.md \
    share/doc/loadline/copyright share/doc/loadline/examples/demo.toml; do
    grep -qxF "./usr/$file" "$place/contents" || fail "usr/$file is not in the Debian package"
done
! grep -E '/include/|\.a$|/cmake/|/local/' "$place/contents" || fail "the Debian package holds what it should not"
# Every library is of a package it depends on.
mkdir "$place/root"
dpkg -x "$deb" "$place/unpacked"
ldd "$place/unpacked/usr/bin/loadline" | awk '$2 == "=>" { print $3 } $1 ~ /^\// { print $1 }' > "$place/libraries"
depends=$(dpkg-deb --field "$deb" Depends)
while read -r library; do
    # Since /lib became a link, a file may be known under either path.
    owner=$(dpkg -S "$library" 2> /dev/null || dpkg -S "${library#/usr}" 2> /dev/null || dpkg -S "/usr$library")
    owner=${owner%%:*}
    [[ ", $depends" == *", $owner "* || ", $depends," == *", $owner,"* ]] ||
        fail "$library is of $owner, which Depends ($depends) leaves out"
done < "$place/libraries"

runs_in() { # ROOT PROGRAM CASE...: a root of its own, where one may have it
    local root=$1 program=$2
    if [ "$is_root" = yes ]; then
        env -i "$(command -v chroot)" "$root" "$program" match "$3" > "$place/got"
    else
        (cd "$root" && env -i ".$program" match ".$3" > "$place/got")
    fi
    cmp "$place/expected" "$place/got" || fail "$program answers otherwise than the build"
}

root=$place/root
if [ "$is_root" = yes ]; then
    mkdir -p "$root/var/lib/dpkg/info" "$root/var/lib/dpkg/updates"
    touch "$root/var/lib/dpkg/status" "$root/var/lib/dpkg/available"
    # The libraries are put there as files: their packages, and an empty Debian, are not at hand without a network.
    # The configuration of this machine may leave documents out.
    dpkg --root="$root" --force-depends --path-include='*' -i "$deb" > "$place/log" 2>&1 ||
        { cat "$place/log" >&2; fail "dpkg --install"; }
    while read -r library; do
        mkdir -p "$root$(dirname "$library")"
        cp -L "$library" "$root$library"
    done < "$place/libraries"
else
    cp -r "$place/unpacked/." "$root"
fi
runs_in "$root" /usr/bin/loadline /usr/share/doc/loadline/examples/demo.toml
if [ "$is_root" = yes ]; then
    dpkg --root="$root" --force-depends --path-include='*' --purge loadline > "$place/log" 2>&1 ||
        { cat "$place/log" >&2; fail "dpkg --purge"; }
    left=$(cd "$root" && find . -path ./var -prune -o -type f -print | grep -vxFf <(sed 's|^|.|' "$place/libraries") || true)
    [ -z "$left" ] || fail "left behind: $left"
fi
if command -v lintian > /dev/null; then
    # Nobody uploads it, so no bug of Debian's asked for it.
    lintian --allow-root --fail-on error --suppress-tags initial-upload-closes-no-bugs "$deb" || fail "lintian"
else
    echo "lintian is not installed: the package's form was not looked at"
fi

# The archive: one folder, a program that needs no library, in a folder with nothing else.
mkdir "$place/anywhere"
tar -xzf "$archive" -C "$place/anywhere"
folder=$(find "$place/anywhere" -mindepth 1 -maxdepth 1)
[ "$(wc -l <<< "$folder")" -eq 1 ] || fail "the archive unpacks into more than one folder"
needs=$(ldd "$folder/bin/loadline" 2>&1 || true)
[[ $needs == *"not a dynamic executable"* ]] || fail "the archive's program needs libraries: $needs"
runs_in "$folder" /bin/loadline /share/doc/loadline/examples/demo.toml
[ "$is_root" = no ] || echo "the Debian package installs, runs and is removed without a trace"
echo "the archive's program runs alone"
