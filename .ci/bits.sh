#!/usr/bin/env bash
# The program survey gives the same JSON, byte for byte, built with and without the assembly kernels of its libraries and
# as WebAssembly (under node, which is skipped where there is none): every command on the invented web, sheets and doses,
# and the report of 40 surveys that are drawn (8 as WebAssembly, which starts anew for each; .ci/page takes all of them
# through the page).
set -euo pipefail
cd "$(dirname "$0")/.."
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
go build -o "$tmp/plain" ./examples/survey
go build -tags noasm -o "$tmp/noasm" ./examples/survey

web=(-site demo/site.json)
sheets=(-line testdata/plant_b.json -site demo/site.json)
doses=(-line testdata/plant_c.json -site demo/site.json)
# all RUNNER…: every command's answer, into the folder $into
all() {
	(
		cd examples/survey
		say() { local name=$1; shift; "$@" -format json >"$into/$name.json"; }
		say web "$@" -html "" "${web[@]}" -speed "300 m/min" -faces
		say web_us "$@" -html "" -units us
		say web_plan "$@" plan "${web[@]}" -speed "300 m/min" -faces
		say web_hazards "$@" hazards "${web[@]}"
		say web_try "$@" try "${web[@]}" -changes demo/changes.json
		say web_keep "$@" keep -season demo/season.json
		say web_forecast "$@" forecast -season demo/season.json
		say web_compare "$@" compare -days demo/days.json
		say sheets "$@" -html "" "${sheets[@]}" -season demo/season.json -rate "15000 1/h" -cold "8 °C"
		say sheets_plan "$@" plan "${sheets[@]}" -cold "8 °C"
		say sheets_hazards "$@" hazards "${sheets[@]}"
		say doses "$@" -html "" "${doses[@]}"
		say doses_plan "$@" plan "${doses[@]}"
		say doses_hazards "$@" hazards "${doses[@]}"
	)
}
builds="plain noasm"
if command -v node >/dev/null; then
	builds="$builds wasm"
	GOOS=js GOARCH=wasm go build -o "$tmp/survey.wasm" ./examples/survey
	printf '#!/bin/sh\nexec "%s" "%s" "$@"\n' "$(go env GOROOT)/lib/wasm/go_js_wasm_exec" "$tmp/survey.wasm" >"$tmp/wasm"
	chmod +x "$tmp/wasm"
fi
for build in $builds; do
	mkdir "$tmp/$build.out"
	into=$tmp/$build.out all "$tmp/$build"
done
[ "$(cat "$tmp"/plain.out/*.json | wc -l)" -gt 2000 ] || { echo "the answers are too short to show anything"; exit 1; }
go run ./line/survey/internal/files -surveys 40 "$tmp/drawn"
for build in $builds; do
	mkdir "$tmp/$build.drawn"
	for d in "$tmp"/drawn/*; do
		n=${d##*/}
		[ "$build" != wasm ] || [ "$((10#$n % 5))" = 0 ] || continue
		(cd "$d" && "$tmp/$build" -line line.json -survey survey.csv -format json -html "" >"$tmp/$build.drawn/$n.json")
		cmp "$tmp/plain.drawn/$n.json" "$tmp/$build.drawn/$n.json"
	done
done
for build in $builds; do diff -rq "$tmp/plain.out" "$tmp/$build.out"; done
echo "$(find "$tmp/plain.out" "$tmp/plain.drawn" -name '*.json' | wc -l) answers are the same bytes by the builds: $builds"
