#!/usr/bin/env bash
# Runs the notebooks from their first cell to their last with the distribution's own
# interpreter and fails on any error; the client builds the server itself, as on a new
# machine. What they make stays outside the tree.
set -euo pipefail
cd "$(dirname "$0")/../../examples/notebook"
out=$(mktemp -d)
GOCACHE=$(go env GOCACHE) # not below the empty cache folder of this run: Go's own packages need no second build
export GOCACHE
trap 'rm -rf "$out"' EXIT
export PYTHONDONTWRITEBYTECODE=1 JUPYTER_PREFER_ENV_PATH=0 MPLCONFIGDIR="$out" XDG_CACHE_HOME="$out/cache"
unset PITHBALL_SERVE
for n in tour plant; do
	/usr/bin/python3 -m jupyter nbconvert --to html --execute --output-dir "$out" "$n.ipynb"
	chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking \
		--user-data-dir="$out/profile" --window-size=1000,4000 --screenshot="$out/$n.png" "file://$out/$n.html"
	[ "$(stat -c %s "$out/$n.png")" -gt 100000 ] # a page without its pictures is smaller
done
grep -q 'tension nip' "$out/plant.html"
grep -q '<svg' "$out/plant.html"
[ "$(grep -o 'data:image/png' "$out/tour.html" | wc -l)" -ge 5 ]
