#!/usr/bin/env bash
# Sourced with FOLDER set: puts the pinned driver and our scripts there, once per lock file.
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
mkdir -p "$FOLDER"
cp "$here"/package.json "$here"/*.mjs "$FOLDER"
if ! cmp -s "$here/package-lock.json" "$FOLDER/installed.json"; then
    cp "$here/package-lock.json" "$FOLDER/package-lock.json"
    if ! (cd "$FOLDER" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error > /dev/null); then
        echo "The package registry does not answer: no driver, pages not looked at" >&2
        exit 77 # ctest says "skipped"
    fi
    cp "$here/package-lock.json" "$FOLDER/installed.json"
fi
