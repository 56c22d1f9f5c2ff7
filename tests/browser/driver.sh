#!/usr/bin/env bash
# Sourced with FOLDER set: puts the pinned driver and our scripts there, once per lock file.
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
mkdir -p "$FOLDER"
cp "$here"/package.json "$here"/*.mjs "$FOLDER"
if ! cmp -s "$here/package-lock.json" "$FOLDER/installed.json"; then
    cp "$here/package-lock.json" "$FOLDER/package-lock.json"
    (cd "$FOLDER" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error > /dev/null)
    cp "$here/package-lock.json" "$FOLDER/installed.json"
fi
