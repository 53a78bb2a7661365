#!/usr/bin/env bash
# The fits of package decay against scipy: see fit.py.
set -euo pipefail
cd "$(dirname "$0")/../.."
exec /usr/bin/python3 .ci/crosscheck/fit.py
