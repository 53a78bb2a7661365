#!/usr/bin/env bash
# Builds for other processors compute the same: the dump of every public computation by this machine's plain build
# against those with fused multiplications (GOAMD64=v3), for 32 bits (386) and for arm64; arm64-tests runs the short
# tests of the numeric packages there. What this kernel cannot run goes through qemu's user emulation (Debian:
# qemu-user-static), which takes some thirty times as long; qemu-i386 cannot run Go's threads, so that 386 needs a kernel with
# 32 bits and is told as skipped without one. An emulated dump is spared the five calls of .ci/golden/slow.tsv, which
# take five sixths of it. They end as fast as elsewhere where Go fuses and no assembly helps, as on arm64: 10.8 s for
# the longest with GOAMD64=v3 and the tags noasm and safe. Usage: .ci/long/builds.sh [v3|386|arm64|arm64-tests]…
set -uo pipefail
cd "$(dirname "$0")/../.."
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
export CGO_ENABLED=0
failed=0
GOAMD64=v1 go build -o "$tmp/golden" ./.ci/golden || exit 1
spared=()
compare() { # compare NAME RUNNER… : runs the build of that name
	local name=$1
	shift
	if "$tmp/golden" "${spared[@]}" >"$tmp/base.tsv" && "$@" "$tmp/$name" "${spared[@]}" >"$tmp/$name.tsv" && "$tmp/golden" -builds "$tmp/base.tsv" -and "$tmp/$name.tsv" -loose .ci/golden/rounding.tsv; then
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
	arm64 | arm64-tests)
		run=(qemu-aarch64-static)
		[ "$(uname -m)" != aarch64 ] || run=(env)
		if ! command -v "${run[0]}" >/dev/null; then
			echo "skip  $build: no ${run[0]}"
		elif [ "$build" = arm64 ]; then
			[ "${run[0]}" = env ] || spared=(-without .ci/golden/slow.tsv)
			GOARCH=arm64 go build -o "$tmp/arm64" ./.ci/golden && compare arm64 "${run[@]}"
			spared=()
		else
			GOARCH=arm64 go test -short -timeout 60m -exec "${run[*]}" ./units/... ./humidity/... ./charge/... ./decay/... ./ionflow/... \
				./line || failed=1
		fi ;;
	esac
done
exit "$failed"
