#!/usr/bin/env bash
# The study of examples/sweep as a pipeline of Apache Beam on its embedded runner: the same bytes as the plain form, and
# its throughput with scenarios of 1 ms. The SDK is large: the first build takes minutes.
set -euo pipefail
cd "$(dirname "$0")/../../examples/sweep/beam"
go vet ./...
SWEEP_THROUGHPUT=1 go test -count=1 -v -timeout 60m ./... | { grep -E '^ok|^(---|FAIL)|scenarios at|direct throughput|Error' || true; }
go mod tidy -diff
