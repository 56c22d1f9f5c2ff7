#!/usr/bin/env bash
# Fetches the source of Expat, which reads GPX, as Debian mends it, into FOLDER/expat: once. Needs no rights of its own
# and changes nothing of the machine's apt: its lists are kept in FOLDER. usage: expat.sh FOLDER
set -euo pipefail
mkdir -p "$1"
cd "$1"
[ -f expat/lib/xmlparse.c ] && exit 0

rm -rf apt fetched
mkdir -p apt/parts apt/lists/partial fetched
release=$(. /etc/os-release && echo "$VERSION_CODENAME")
printf 'Types: deb-src\nURIs: http://deb.debian.org/debian\nSuites: %s\nComponents: main\nSigned-By: %s\n' \
    "$release" /usr/share/keyrings/debian-archive-keyring.gpg > apt/parts/debian.sources
options=(-qq -o Dir::Etc::SourceList=/dev/null -o "Dir::Etc::SourceParts=$PWD/apt/parts"
    -o "Dir::State::Lists=$PWD/apt/lists" -o Dir::Cache::pkgcache= -o Dir::Cache::srcpkgcache=
    -o APT::Sandbox::User=)
apt-get "${options[@]}" update
cd fetched
apt-get "${options[@]}" source expat > /dev/null
cd ..
mkdir -p expat
cp -r fetched/expat-*/expat/lib fetched/expat-*/expat/COPYING expat/
rm -rf apt fetched
