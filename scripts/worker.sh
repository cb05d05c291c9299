#!/usr/bin/env bash
# Builds dist/worker: both programs for the edge, what starts them, and the page beside them. The page must be built before (make native).
set -euo pipefail
cd "$(dirname "$0")/.."
out=dist/worker
mkdir -p "$out/assets"
page=cmd/shimsheet/embedded/page.html.gz
cp "$page" "$out/assets/page.html.gz"
gzip -dc "$page" > "$out/assets/page.html"
tag=$(sha256sum "$page" | cut -c1-32)
for program in json:./cmd/worker workbook:./cmd/worker/workbook; do
	GOOS=js GOARCH=wasm "${GO:-go}" build "$("${GO:-go}" run ./cmd/pagebuild -texts "${program#*:}")" -buildvcs=false -trimpath -ldflags "-s -w -X main.page=$tag -X main.version=${VERSION:-(devel)}" -o "$out/${program%%:*}.wasm" "${program#*:}"
	"${GO:-go}" run ./cmd/pagebuild -join "$out/${program%%:*}.wasm"
done
cp "$("${GO:-go}" env GOROOT)/lib/wasm/wasm_exec.js" web/worker/worker.mjs web/worker/keeper.mjs web/worker/config.capnp "$out/"
gzip -9nc "$out/json.wasm" | wc -c | sed 's/^/worker-program-gzip /' > "$out/sizes.txt"
gzip -9nc "$out/workbook.wasm" | wc -c | sed 's/^/worker-workbook-gzip /' >> "$out/sizes.txt"
