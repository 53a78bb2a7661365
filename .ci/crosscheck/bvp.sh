#!/usr/bin/env bash
# The ion transport problem against scipy.integrate.solve_bvp.
set -euo pipefail
cd "$(dirname "$0")/../.."
go run ./.ci/crosscheck/bvp | /usr/bin/python3 .ci/crosscheck/bvp.py
