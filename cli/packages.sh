#!/usr/bin/env bash
# Installs the Debian packages that are missing. With the word "tests", also those that only the tests
# and benchmarks need; with "sanitize", those of the tests under the sanitizers; with "page", those that compile the
# program for a browser.
set -euo pipefail

packages=(g++ cmake ninja-build libeigen3-dev libboost-dev libfmt-dev libtomlplusplus-dev libexpat1-dev libcli11-dev
    nlohmann-json3-dev libjs-chart.js)
if [ "${1:-}" = tests ]; then
    packages+=(doctest-dev libbenchmark-dev chromium-headless-shell groff-base poppler-utils python3 python3-jsonschema
        dpkg-dev file)
    # Node.js may be there from elsewhere, and then Debian's would not go with it.
    command -v node > /dev/null || packages+=(nodejs)
    command -v npm > /dev/null || packages+=(npm)
fi
if [ "${1:-}" = sanitize ]; then
    packages+=(clang libclang-rt-dev lld doctest-dev)
fi
if [ "${1:-}" = page ]; then
    packages+=(emscripten node-acorn dpkg-dev)
    command -v node > /dev/null || packages+=(nodejs)
fi
missing=()
for package in "${packages[@]}"; do
    dpkg-query -W -f '${Status}' "$package" 2> /dev/null | grep -q '^install ok installed$' ||
        missing+=("$package")
done
if [ ${#missing[@]} -eq 0 ]; then
    echo "== Everything needed is installed"
    exit 0
fi
echo "== Installing from Debian: ${missing[*]}"
as_root=()
if [ "$(id -u)" -ne 0 ]; then
    as_root=(sudo)
fi
"${as_root[@]}" apt-get update -q > /dev/null
"${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends \
    "${missing[@]}" > /dev/null
