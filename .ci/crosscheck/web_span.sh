#!/usr/bin/env bash
# The moving web between two earthed rollers against an independent scipy discretisation.
set -euo pipefail
cd "$(dirname "$0")/../.."
exec /usr/bin/python3 .ci/crosscheck/web_span.py
