#!/usr/bin/env bash
# Every accepted unit against GNU units and ucum-lhc.
set -euo pipefail
cd "$(dirname "$0")/../.."
exec sh .ci/crosscheck/units/run.sh
