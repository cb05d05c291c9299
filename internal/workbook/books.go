package workbook

import (
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// Books reads and writes the workbooks of internal/httpapi, which links no library for them: a program that does without them is a third of the size.
type Books struct{}

// Read reads a job as the handler got it; problems name no file, since a request has none.
func (Books) Read(data []byte) (*job.Job, []job.Problem, error) {
	j, report, err := Read(data, "job.xlsx", nil)
	if report == nil {
		return j, nil, err
	}
	for i := range report.Problems {
		report.Problems[i].File = ""
	}
	return j, report.Problems, err
}

// Write writes a job and its results.
func (Books) Write(e *sentences.Teller) ([]byte, error) {
	return Write(e.Job(), e, Options{})
}
