package main

import (
	"errors"
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
		return nil, nil, errors.New(words.CommandJobLarge.Say(file, int(st.Size()>>20), maxSaved>>20))
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, nil, readError(file, err)
	}
	var problems []job.Problem
	warn := func(of, text words.Key) {
		problems = append(problems, job.Problem{File: file, Sheet: of.String(), Text: text.With(), Severity: job.Warning})
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	if ext := strings.ToLower(filepath.Ext(file)); ext == ".html" || ext == ".htm" {
		job, whole, err := job.JobInPage(text)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", file, err)
		}
		if text = job; !whole {
			warn(words.CommandThePage, words.ProblemPageCutShort)
		}
	}
	j := new(job.Job)
	sealed, err := j.OpenChecked(text)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	if !sealed {
		warn(words.CommandTheJob, words.ProblemNoChecksum)
	}
	for _, k := range job.SheetKinds() {
		if t := j.Table(k); t != nil {
			t.File = file
		}
	}
	return j, problems, nil
}
