#!/usr/bin/env bash
# Holds the built files to budgets.txt. `make page` comes first.
set -euo pipefail
cd "$(dirname "$0")/.."

# The same flags as the page's build; gzip -9, so the number does not hang on zopfli being installed.
program() {
	GOOS=js GOARCH=wasm go build -buildvcs=false -trimpath -ldflags '-s -w' -o "dist/$1.wasm" "./cmd/wasm/$1"
	gzip -9nc "dist/$1.wasm" | wc -c
}

measure() {
	case $1 in
	page-file) wc -c <dist/shimsheet.html ;;
	page-file-gzip) gzip -9nc dist/shimsheet.html | wc -c ;;
	page-file-sheet) sed -E 's|<script type="application/gzip" class="part-workbook">[A-Za-z0-9+/=]*</script>||; s|<script type="application/json" id="part-worker">.*</script>||' dist/shimsheet.html | wc -c ;;
	page-program-gzip) program page ;;
	workbook-program-gzip) program workbook ;;
	*) return 1 ;;
	esac
}

[ -f dist/shimsheet.html ] || { echo "size: dist/shimsheet.html is not there: make page" >&2; exit 1; }
bad=0 seen=0
while read -r name limit _; do
	case $name in '' | '#'*) continue ;; esac
	n=$(measure "$name") || { echo "size: budgets.txt names $name, which nothing here measures" >&2; exit 1; }
	printf '%-22s %9d of %9d bytes\n' "$name" "$n" "$limit"
	seen=$((seen + 1))
	[ "$n" -le "$limit" ] || { echo "size: $name is over its budget" >&2; bad=1; }
done <budgets.txt
[ "$seen" -gt 0 ] || { echo "size: budgets.txt holds no budget" >&2; exit 1; }
exit $bad
