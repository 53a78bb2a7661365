#!/usr/bin/env bash
# Every change of the packages of line that the syntax offers (.ci/mutate), and the mutants of a
# general tool on line. Usage: .ci/long/mutants.sh [own|general] [PACKAGE…]. The last results
# stand in mutants.md; the status is 1 if more than 15 % of a package live.
set -uo pipefail
cd "$(dirname "$0")/../.."
root=$PWD what=${1:-own} failed=0
[ $# -gt 0 ] && shift
[ $# -gt 0 ] || set -- line line/upkeep line/ensemble line/cure
case $what in
own)
	for pkg; do go run ./.ci/mutate -n 0 -allow 15 "./$pkg" || failed=1; done
	;;
general)
	# It takes in all folders below the one that it is given and writes beside it: each package is tried in a
	# copy of the tree without the packages below it.
	for pkg; do
		tmp=$(mktemp -d)
		git archive HEAD | tar x -C "$tmp"
		find "$tmp/$pkg" -mindepth 1 -maxdepth 1 -type d ! -name testdata -exec rm -rf {} +
		git -C "$tmp" init -q
		# Short tests without vet, one at a time: a mutant costs the build of one test binary and little more. It is given
		# 150 times the time of the tests alone, since it has to be built in that.
		(cd "$tmp" && GOFLAGS="${GOFLAGS:-} -short -vet=off" go run github.com/go-gremlins/gremlins/cmd/gremlins@v0.6.0 unleash \
			--invert-logical --workers 1 --timeout-coefficient 150 --threshold-efficacy 85 "./$pkg") || failed=1
		rm -rf "$tmp"
	done
	;;
*)
	sed -n '2,4p' "$root/.ci/long/mutants.sh"
	exit 2
	;;
esac
exit "$failed"
