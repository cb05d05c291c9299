package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/streams"
)

// dash stands for standard input, and standard output.
const dash = "-"

// endsInLines says whether a file is one of lines of JSON by its ending.
func endsInLines(file string) bool {
	ext := strings.ToLower(filepath.Ext(file))
	return ext == ".ndjson" || ext == ".jsonl"
}

// isStream says whether rows are to be worked out one at a time: by -from, by the ending of either file, or as one of them is no file.
func isStream(in, out, from string) bool {
	return from != "" || in == dash || out == dash || endsInLines(in) || endsInLines(out)
}

// runStream works rows out one at a time. Nothing of it grows with their number.
func runStream(src *sources, out, from string, stdout, stderr io.Writer) (int, error) {
	switch {
	case from != "" && from != "ndjson":
		return 0, fmt.Errorf("-from %s: a stream is ndjson, a JSON object a line", from)
	case from == "" && src.in == dash:
		return 0, errors.New("say what comes on standard input: -from ndjson, a JSON object a line")
	case from == "" && !endsInLines(src.in):
		return 0, fmt.Errorf("%s: written line by line are streams only, .ndjson or - with -from ndjson; for %s write .json", out, src.in)
	case out != "" && out != dash && !endsInLines(out):
		return 0, fmt.Errorf("%s: a stream is written as .ndjson, or to standard output with -o -", out)
	}
	if out == "" {
		out = dash
	}
	if err := src.spare(out); err != nil {
		return 0, err
	}
	in, name := io.Reader(os.Stdin), "standard input"
	job := job.NewJob()
	if src.in != dash {
		f, err := os.Open(src.in)
		if err != nil {
			return 0, readError(src.in, err)
		}
		defer f.Close()
		in, name, job.Machines.File = f, src.in, src.in
	}
	problems, err := src.loadMore(job)
	if err != nil {
		return 0, err
	}
	problems = append(problems, results.NewFeed(job).Problems()...)
	failed := writeProblems(stderr, problems, name)
	var report streams.Report
	run := func(w io.Writer) (err error) {
		if report, err = streams.Run(context.Background(), in, w, job, 0); err == nil && report.Machines+report.Refused == 0 {
			err = fmt.Errorf("%s: it holds no line", name)
		}
		return err
	}
	if out == dash {
		if err = run(stdout); errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
			return exitOK, nil // whoever reads has enough
		}
	} else {
		err = writeFile(out, run)
	}
	if err != nil {
		var p *os.PathError
		if errors.As(err, &p) && p.Op == "read" {
			err = readError(name, err)
		}
		return 0, err
	}
	if failed = writeProblems(stderr, report.Unnamed, name) || failed; !failed && report.Whole() {
		return exitOK, nil
	}
	if n := report.Refused; n > 0 {
		fmt.Fprintf(stderr, "%s: lines that were not read: %d of %d, answered in their place; the first is line %d: %s\n", name, n, report.Lines, report.FirstRefused, report.FirstError)
	}
	if n := report.Verdicts[calc.NotJudged]; n > 0 {
		fmt.Fprintf(stderr, "%s: rows not judged: %d of %d; why says the reason in each line\n", name, n, report.Machines)
	} else if report.Failed > 0 {
		fmt.Fprintf(stderr, "%s: rows with something that could not be given: %d of %d; problems says what in each line\n", name, report.Failed, report.Machines)
	}
	return exitSome, nil
}
