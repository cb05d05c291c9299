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
	"shimsheet/internal/words"
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
		return 0, errors.New(words.CommandFromNdjson.Say(from))
	case from == "" && src.in == dash:
		return 0, errors.New(words.CommandSayStream.String())
	case from == "" && !endsInLines(src.in):
		return 0, errors.New(words.CommandLineByLine.Say(out, src.in))
	case out != "" && out != dash && !endsInLines(out):
		return 0, errors.New(words.CommandStreamKinds.Say(out))
	}
	if out == "" {
		out = dash
	}
	if err := src.spare(out); err != nil {
		return 0, err
	}
	in, name := io.Reader(os.Stdin), words.CommandStandardInput.String()
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
			err = errors.New(words.CommandNoLine.Say(name))
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
		fmt.Fprintln(stderr, words.CommandLinesRefused.Say(name, n, report.Lines, report.FirstRefused, report.FirstError))
	}
	if n := report.Verdicts[calc.NotJudged]; n > 0 {
		fmt.Fprintln(stderr, words.CommandRowsNotJudged.Say(name, n, report.Machines))
	} else if report.Failed > 0 {
		fmt.Fprintln(stderr, words.CommandRowsFailed.Say(name, report.Failed, report.Machines))
	}
	return exitSome, nil
}
