#!/usr/bin/env bash
# Builds the page and checks it in a browser; the pictures go to $SHOTS (default: a folder that is removed).
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
export TREE=$(cd "$here/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp "$here"/*.mjs "$here/package.json" "$work"
(cd "$work" && npm install --no-audit --no-fund --no-package-lock --ignore-scripts --silent)
cd "$TREE"
go build -o "$work/page" ./examples/page
"$work/page" -build "$work/site" -single "$work/one.html"
size=0
for f in "$work"/site/*; do size=$((size + $(gzip -9 -c "$f" | wc -c))); done
echo "all files of the page, gzip: $size bytes; one file, gzip: $(gzip -9 -c "$work/one.html" | wc -c) bytes"
[ "$size" -lt 2500000 ]
go build -o "$work/survey" ./examples/survey
(cd "$work" && ./survey -format json -html "" >"$work/result.json")
go run ./line/survey/internal/files -surveys 40 "$work/drawn"
for d in "$work"/drawn/*; do
	(cd "$d" && "$work/survey" -line line.json -survey survey.csv -format json -html "" >result.json)
done
export DRAWN="$work/drawn" SURVEY="$work/survey" PAGE="$work/page" SINGLE="$work/one.html" RESULT="$work/result.json" SHOTS="${SHOTS:-$work/shots}"
cd "$work"
timeout "${LIMIT:-1200}" node --test --test-concurrency=1 ${ONLY:+--test-name-pattern="$ONLY"} ${FILES:-*.test.mjs}
