#!/usr/bin/env bash
# Runs every fuzz target of the module whose name the pattern fits, each for the time given. usage: fuzz.sh [TIME] [PATTERN]
set -euo pipefail
cd "$(dirname "$0")/.."
time=${1:-5s}
pattern=${2:-^Fuzz}
ran=0
pkgs=$(go list -f '{{if or .TestGoFiles .XTestGoFiles}}{{.ImportPath}}{{end}}' ./...)
for pkg in $pkgs; do
	list=$(go test -vet=off -list '^Fuzz' "$pkg") || { echo "$list"; exit 1; }
	for target in $(grep '^Fuzz' <<<"$list" | grep -E "$pattern" || true); do
		echo "fuzz: $pkg $target for $time"
		# The fuzzer sometimes reports its own deadline as a failure; a real one names the input it failed on.
		out=$(go test -vet=off -run '^$' -fuzz "^$target\$" -fuzztime "$time" -fuzzminimizetime 1x "$pkg" 2>&1) ||
			{ grep -q 'context deadline exceeded' <<<"$out" && ! grep -q 'Failing input' <<<"$out"; } ||
			{ echo "$out"; exit 1; }
		grep '^fuzz:.*execs' <<<"$out" | tail -n 1 || echo "fuzz: no more than its known inputs" # a slow machine
		ran=$((ran + 1))
	done
done
[ "$ran" -gt 0 ] || { echo "fuzz: no target found" >&2; exit 1; }
echo "fuzz: $ran targets"
