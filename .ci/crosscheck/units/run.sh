#!/bin/sh
# Compare every accepted unit with GNU units (Debian package units) and with the
# npm package @lhncbc/ucum-lhc, which is installed into a temporary folder.
# Exit 1 on an unexplained difference. Run from anywhere.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$root"
go run "$here/dump.go" >"$work/units.json"
/usr/bin/python3 "$here/gnu.py" <"$work/units.json"
npm install --prefix "$work" --no-save --silent --no-audit --no-fund --ignore-scripts @lhncbc/ucum-lhc@7.1.10 >&2
node "$here/ucum.mjs" "$work" <"$work/units.json"
