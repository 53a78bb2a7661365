#!/usr/bin/env bash
# Nozzle, isentropic flow and compression against python3-fluids.
set -euo pipefail
go run ./.ci/crosscheck/nozzle | /usr/bin/python3 .ci/crosscheck/nozzle.py
