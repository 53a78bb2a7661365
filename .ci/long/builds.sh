#!/usr/bin/env bash
# Builds for other processors compute the same: the dump of every public computation by this machine's plain build
# against those with fused multiplications (GOAMD64=v3), for 32 bits (386) and for arm64, and the tests of the numeric
# packages for arm64. What this kernel cannot run goes through qemu's user emulation (Debian: qemu-user-static), which
# takes ten times as long; qemu-i386 cannot run Go's threads, so that 386 needs a kernel with 32 bits and is told as
# skipped without one. Emulated, arm64 is a matter of hours: calls of transport.Transient.Advance and of
# transport.Solver.Pass that take up to 15 s of a processor by themselves had not ended after minutes there
# (LIMIT=28800 .ci/long/run arm64). Usage: .ci/long/builds.sh [v3|386|arm64]…
set -uo pipefail
cd "$(dirname "$0")/../.."
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
export CGO_ENABLED=0
failed=0
GOAMD64=v1 go build -o "$tmp/golden" ./.ci/golden && "$tmp/golden" >"$tmp/base.tsv" || exit 1
compare() { # compare NAME RUNNER… : runs the build of that name
	local name=$1
	shift
	if "$@" "$tmp/$name" >"$tmp/$name.tsv" && "$tmp/golden" -builds "$tmp/base.tsv" -and "$tmp/$name.tsv" -loose .ci/golden/rounding.tsv; then
		echo "ok    $name"
	else
		echo "FAIL  $name"
		failed=1
	fi
}
[ $# -gt 0 ] || set -- v3 386 arm64
for build; do
	case $build in
	v3)
		if grep -qw fma /proc/cpuinfo; then
			GOAMD64=v3 go build -o "$tmp/v3" ./.ci/golden && compare v3
		else
			echo "skip  v3: this processor has no fused multiplication"
		fi ;;
	386)
		GOARCH=386 go build -o "$tmp/386" ./.ci/golden || failed=1
		if "$tmp/386" -h 2>&1 | grep -q builds; then
			compare 386
		else
			echo "skip  386: this kernel runs no programs of 32 bits"
		fi ;;
	arm64)
		run=(qemu-aarch64-static)
		[ "$(uname -m)" != aarch64 ] || run=(env)
		if command -v "${run[0]}" >/dev/null; then
			GOARCH=arm64 go build -o "$tmp/arm64" ./.ci/golden && compare arm64 "${run[@]}"
			GOARCH=arm64 go test -short -timeout 60m -exec "${run[*]}" ./units/... ./humidity/... ./charge/... ./decay/... ./ionflow/... ./line ||
				failed=1
		else
			echo "skip  arm64: no ${run[0]}"
		fi ;;
	esac
done
exit "$failed"
