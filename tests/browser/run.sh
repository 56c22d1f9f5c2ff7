#!/usr/bin/env bash
# run.sh PROGRAM CASES FOLDER: writes every page with PROGRAM and looks at it in a browser. The pages,
# their screenshots and a printed sheet of each stay in FOLDER.
set -euo pipefail
FOLDER="$3"
. "$(dirname "$0")/driver.sh"
exec node "$FOLDER/pages.mjs" "$1" "$2" "$FOLDER"
