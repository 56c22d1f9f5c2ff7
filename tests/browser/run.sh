#!/usr/bin/env bash
# run.sh PROGRAM CASES FOLDER [pictures]: writes every page with PROGRAM and looks at it in a browser. The pages stay
# in FOLDER, and with "pictures" what they look like, printed too.
set -euo pipefail
FOLDER="$3"
. "$(dirname "$0")/driver.sh"
exec node "$FOLDER/pages.mjs" "$1" "$2" "$FOLDER" "${4:-}"
