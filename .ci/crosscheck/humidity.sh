#!/usr/bin/env bash
# 10 000 seeded states of moist air against the npm package psychrolib 1.1.1
# (ASHRAE ideal gas). The package is installed into a temporary folder outside the
# tree. Fails on a difference that nothing explains.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
(cd "$tmp" && npm install --silent --no-audit --no-fund --ignore-scripts psychrolib@1.1.1)
cp "$here/humidity/states.cjs" "$tmp/"
node "$tmp/states.cjs" 10000 >"$tmp/states.jsonl"
cd "$here/../.."
go run ./.ci/crosscheck/humidity "$tmp/states.jsonl"
