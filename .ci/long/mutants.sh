#!/usr/bin/env bash
# Every change of the packages of line that the syntax offers (.ci/mutate), and the mutants of a
# general tool. Usage: .ci/long/mutants.sh [own|general] [PACKAGE…]; general takes files too (line/meter.go);
# KEEP=FOLDER keeps there what it says of each mutant, TESTS=EXPRESSION runs these tests alone: fewer are covered then.
# The last results stand in mutants.md; the status is 1 if more than 15 % of a package live.
set -uo pipefail
cd "$(dirname "$0")/../.."
root=$PWD what=${1:-own} failed=0
[ $# -gt 0 ] && shift
[ $# -gt 0 ] || set -- line line/upkeep line/ensemble line/cure charge/gas ionflow/transport
case $what in
own)
	for pkg; do go run ./.ci/mutate -n 0 -allow 15 "./$pkg" || failed=1; done
	;;
general)
	# It takes in all folders below the one that it is given and writes beside it: each package is tried in a copy of
	# the tree, line without the packages below it, which need it and not the other way round, the others with those
	# left alone. A run that ends early loses its counts, so it is given one file at a time.
	tmp=$(mktemp -d) counts=$(mktemp)
	trap 'rm -rf "$tmp" "$counts"' EXIT
	for item; do
		pkg=${item%/*.go} only=
		[ "$pkg" = "$item" ] || only=${item##*/}
		rm -rf "$tmp" && mkdir "$tmp" && git archive HEAD | tar x -C "$tmp"
		below=()
		for dir in "$tmp/$pkg"/*/; do
			dir=$(basename "$dir")
			[ "$dir" != testdata ] && [ -d "$tmp/$pkg/$dir" ] || continue
			if [ "$pkg" = line ]; then rm -rf "${tmp:?}/$pkg/$dir"; else below+=(-E "(^|/)$dir/"); fi
		done
		git -C "$tmp" init -q
		for file in "$tmp/$pkg"/*.go; do
			file=${file##*/}
			case $file in *_test.go | doc.go) continue ;; esac
			[ -z "$only" ] || [ "$file" = "$only" ] || continue
			others=("${below[@]}")
			for other in "$tmp/$pkg"/*.go; do
				[ "${other##*/}" = "$file" ] || others+=(-E "(^|/)${other##*/}\$")
			done
			# Short tests without vet, one at a time: a mutant costs the build of one test binary and little more. It is
			# given ten times what all tests below its folder take, which are never taken from the cache (of a cached
			# run it would be nothing). A loop that never ends may not take the memory either.
			(cd "$tmp" && ulimit -v 16000000 && GOFLAGS="${GOFLAGS:-} -short -vet=off -ldflags=-w -count=1${TESTS:+ -run=$TESTS}" \
				go run github.com/go-gremlins/gremlins/cmd/gremlins@v0.6.0 unleash --invert-logical --workers 1 \
				--timeout-coefficient 10 "${others[@]}" "./$pkg") >"$counts" 2>&1
			if [ -n "${KEEP:-}" ]; then cp "$counts" "$KEEP/${pkg//\//-}-$file.txt"; fi
			grep -E '^ *(LIVED|TIMED OUT)' "$counts" | sed "s#^#$pkg: #"
			said=$(sed -n 's/^Killed: \([0-9]*\), Lived: \([0-9]*\), Not covered: \([0-9]*\).*/\1 \2 \3/p' "$counts")
			if [ -z "$said" ]; then
				grep -q 'No results' "$counts" || { tail -n 3 "$counts"; echo "$pkg/$file: it ended early"; failed=1; }
				continue
			fi
			read -r killed lived open <<<"$said"
			echo "$pkg/$file: $killed killed, $lived alive, $open without a test"
			echo "$pkg $killed $lived" >>"$tmp.sums"
		done
	done
	awk '{k[$1] += $2; l[$1] += $3}
		END {for (p in k) {c = k[p] + l[p]; if (c == 0) continue
			printf "%s: %d of %d covered killed (%.1f %%)\n", p, k[p], c, 100*k[p]/c; all += c; won += k[p]; if (k[p] < .85*c) bad = 1}
			printf "general: %d of %d covered killed\n", won, all; exit bad}' "$tmp.sums" || failed=1
	rm -f "$tmp.sums"
	;;
*)
	sed -n '2,5p' "$root/.ci/long/mutants.sh"
	exit 2
	;;
esac
exit "$failed"
