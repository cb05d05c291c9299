//go:build js && wasm

// Command workbook is cmd/worker with workbook files: three times as large, and so started only for requests that send or want one.
package main

import (
	"shimsheet/internal/edge"
	"shimsheet/internal/httpapi"
	"shimsheet/internal/workbook"
)

// Set by the build: of the program, and the digest of the page beside it.
var version, page string

func main() {
	edge.Serve(httpapi.New(httpapi.Config{Version: version, PageTag: page, Books: workbook.Books{}, Compute: -1, Streams: 1000}))
}
