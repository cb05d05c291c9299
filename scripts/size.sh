#!/usr/bin/env bash
# Holds the built files to budgets.txt. `make edge` comes first.
set -euo pipefail
cd "$(dirname "$0")/.."

# As pagebuild tells them.
program() { sed -n "s/^$1 //p" dist/sizes.txt; }

measure() {
	case $1 in
	page-file) wc -c <dist/shimsheet.html ;;
	page-file-gzip) gzip -9nc dist/shimsheet.html | wc -c ;;
	page-file-sheet) sed -E 's|<script type="application/gzip" class="part-workbook">[^<]*</script>||; s|<script type="application/json" id="part-worker">.*</script>||' dist/shimsheet.html | wc -c ;;
	page-program-gzip) program page ;;
	workbook-program-gzip) program workbook ;;
	worker-program-gzip) sed -n "s/^$1 //p" dist/worker/sizes.txt ;;
	*) return 1 ;;
	esac
}

[ -f dist/shimsheet.html ] && [ -f dist/sizes.txt ] && [ -f dist/worker/sizes.txt ] || { echo "size: dist/shimsheet.html or dist/worker is not there: make edge" >&2; exit 1; }
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
