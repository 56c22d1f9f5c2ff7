#!/usr/bin/env bash
# screenshots.sh [PROGRAM]: takes README's two pictures anew from the demo case.
set -euo pipefail
cd "$(dirname "$0")/../.."
program="$(realpath "${1:-build/demo/loadline}")"
FOLDER="$(dirname "$program")/browser"
. tests/browser/driver.sh
node "$FOLDER/screenshots.mjs" "$program" "$PWD/cases" tests/browser/screenshots
