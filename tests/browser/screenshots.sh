#!/usr/bin/env bash
# screenshots.sh [PROGRAM [PAGE]]: takes README's pictures anew from the demo case, and of the one page (cli/page.sh)
# where it is named.
set -euo pipefail
cd "$(dirname "$0")/../.."
program="$(realpath "${1:-build/demo/loadline}")"
FOLDER="$(dirname "$program")/browser"
. tests/browser/driver.sh
node "$FOLDER/screenshots.mjs" "$program" "$PWD/cases" tests/browser/screenshots ${2:+"$(realpath "$2")"}
