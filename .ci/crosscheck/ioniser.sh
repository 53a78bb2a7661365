#!/usr/bin/env bash
# The expected values of the ioniser model by finite volumes and quadrature.
set -euo pipefail
cd "$(dirname "$0")/../.."
/usr/bin/python3 .ci/crosscheck/ioniser.py
