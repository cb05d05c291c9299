//go:build js && wasm

// Command worker is the calculation at the edge: the handler of internal/httpapi in a runtime for workers, for everything but workbook files, which cmd/worker/workbook
// answers. web/worker starts both when they are needed; scripts/worker.sh builds them.
package main

import (
	"shimsheet/internal/edge"
	"shimsheet/internal/httpapi"
)

// Set by the build: of the program, and the digest of the page beside it.
var version, page string

func main() {
	edge.Serve(httpapi.New(httpapi.Config{Version: version, PageTag: page, Compute: -1, Streams: 1000}))
}
