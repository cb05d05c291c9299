package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// maxSaved is the largest saved job or page that is read, in bytes.
const maxSaved = 256 << 20

// loadSaved reads a saved job, .json, or the job out of a saved page, .html or .htm. A damaged one is an error; that nobody can tell, because it was saved without a
// checksum, or that the page around the job is cut short, is a warning.
func loadSaved(file string) (*job.Job, []job.Problem, error) {
	if st, err := os.Stat(file); err == nil && st.Size() > maxSaved {
		return nil, nil, fmt.Errorf("%s: it has %d MB; saved jobs up to %d MB are read", file, st.Size()>>20, maxSaved>>20)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, nil, readError(file, err)
	}
	var problems []job.Problem
	warn := func(of, text string) {
		problems = append(problems, job.Problem{File: file, Sheet: of, Text: words.Plain(text), Severity: job.Warning})
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	if ext := strings.ToLower(filepath.Ext(file)); ext == ".html" || ext == ".htm" {
		job, whole, err := job.JobInPage(text)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", file, err)
		}
		if text = job; !whole {
			warn("the page", "it is cut short behind the job; the job in it is there")
		}
	}
	j := new(job.Job)
	sealed, err := j.OpenChecked(text)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	if !sealed {
		warn("the job", "it has no checksum, as earlier versions saved; whether it is whole, nobody can tell")
	}
	for _, k := range job.SheetKinds() {
		if t := j.Table(k); t != nil {
			t.File = file
		}
	}
	return j, problems, nil
}
