#!/usr/bin/env bash
# Installs what the tests need and this machine lacks: two browsers, Node, the packages pinned in test/browser and test/worker, the workbook programs that
# exports are tried in, GNU parallel, curl, what packs the page densest, and the solver and the units that results are held against.
set -euo pipefail
cd "$(dirname "$0")/.."

need=()
command -v chromium >/dev/null || need+=(chromium fonts-dejavu-core)
command -v firefox-esr >/dev/null || need+=(firefox-esr)
command -v node >/dev/null || need+=(nodejs)
command -v npm >/dev/null || need+=(npm)
command -v soffice >/dev/null || need+=(libreoffice-calc)
command -v ssconvert >/dev/null || need+=(gnumeric)
command -v glpsol >/dev/null || need+=(glpk-utils)
command -v parallel >/dev/null || need+=(parallel)
command -v curl >/dev/null || need+=(curl)
command -v libdeflate-gzip >/dev/null || need+=(libdeflate-tools)
command -v units >/dev/null || need+=(units)
/usr/bin/python3 -c 'import openpyxl' 2>/dev/null || need+=(python3-openpyxl)

if [ ${#need[@]} -gt 0 ]; then
	command -v apt-get >/dev/null || { echo "setup: please install ${need[*]}; only Debian's apt-get is known here" >&2; exit 1; }
	asroot=()
	if [ "$(id -u)" -ne 0 ]; then
		command -v sudo >/dev/null || { echo "setup: as root: apt-get install ${need[*]}" >&2; exit 1; }
		asroot=(sudo)
	fi
	echo "setup: apt-get install ${need[*]}"
	log=$(mktemp)
	if ! { "${asroot[@]}" apt-get update -qq &&
		"${asroot[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 install -y -qq --no-install-recommends "${need[@]}"; } >"$log" 2>&1; then
		tail -n 20 "$log" >&2
		exit 1
	fi
	rm -f "$log"
fi

major=$(node -p 'process.versions.node.split(".")[0]')
[ "$major" -ge 20 ] || { echo "setup: Node $major is too old for the browser drivers; 20 or newer is needed" >&2; exit 1; }

echo "setup: npm ci in test/browser"
npm ci --prefix test/browser --ignore-scripts --no-audit --no-fund --no-progress --loglevel=error

echo "setup: npm ci in test/worker"
npm ci --prefix test/worker --ignore-scripts --no-audit --no-fund --no-progress --loglevel=error
