#!/usr/bin/env bash
# Mutants of the packages of line, drawn one a function in turn and not picked, each tried
# by the short tests of its package: 26 of line, 26 of line/upkeep, 8 each of line/cure and
# line/survey, whose tests take longer. Usage: .ci/long/mutants.sh [SEED [SHARE]], SHARE
# divides the numbers for a quick look. It prints a line a package and those that live;
# its status is 1 if more than 15 % of a package live.
set -uo pipefail
cd "$(dirname "$0")/../.."
seed=${1:-1} share=${2:-1} failed=0
while read -r n pkg; do
	n=$((n / share > 0 ? n / share : 1))
	go run ./.ci/mutate -n "$n" -seed "$seed" -allow 15 "./$pkg" || failed=1
done <<-END
	26 line
	26 line/upkeep
	8 line/cure
	8 line/survey
END
exit "$failed"
