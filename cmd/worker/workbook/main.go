//go:build js && wasm

// Command workbook is cmd/worker with workbook files: three times as large, and so started only for requests that send or want one.
package main

import (
	"shimsheet/internal/edge"
	"shimsheet/internal/httpapi"
	"shimsheet/internal/sheet"
	"shimsheet/internal/workbook"
)

// Set by the build: of the program, and the digest of the page beside it.
var version, page string

// books reads and writes workbooks for the handler.
type books struct{}

func (books) Read(data []byte) (*sheet.Job, []sheet.Problem, error) {
	j, report, err := workbook.Read(data, "job.xlsx", nil)
	if report == nil {
		return j, nil, err
	}
	for i := range report.Problems {
		report.Problems[i].File = ""
	}
	return j, report.Problems, err
}

func (books) Write(e *sheet.Evaluator) ([]byte, error) {
	return workbook.Write(e.Job(), e, workbook.Options{})
}

func main() {
	edge.Serve(httpapi.New(httpapi.Config{Version: version, PageTag: page, Books: books{}, Compute: -1, Streams: 1000}))
}
