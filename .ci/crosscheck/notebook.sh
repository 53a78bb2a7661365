#!/usr/bin/env bash
# Runs the notebook from its first cell to its last with the distribution's own
# interpreter and fails on any error; what it makes stays outside the tree.
set -euo pipefail
cd "$(dirname "$0")/../../examples/notebook"
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
export PYTHONDONTWRITEBYTECODE=1 JUPYTER_PREFER_ENV_PATH=0 MPLCONFIGDIR="$out"
/usr/bin/python3 -m jupyter nbconvert --to notebook --execute --output-dir "$out" pithball.ipynb
grep -q 'tension nip' "$out/pithball.ipynb"
