package main

import (
	"errors"
	"io"
	"path/filepath"
	"strings"

	"shimsheet/internal/report"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tally"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// runStats counts over a whole job, and over earlier ones beside it: onto the terminal, or into a .csv, .json or .svg.
func runStats(args []string, stdout, stderr io.Writer) error {
	fl := newFlags("stats")
	var src sources
	for _, more := range src.more() {
		fl.StringVar(more.file, more.flag, "", "")
	}
	out := fl.String("o", "", "")
	given, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(given) == 0 {
		return errors.New(words.CommandStatsOne.String())
	}
	ext := strings.ToLower(filepath.Ext(*out))
	switch ext {
	case "", ".csv", ".json", ".svg":
	default:
		return errors.New(words.CommandStatsKinds.Say(*out))
	}
	var first *sentences.Teller
	var jobs []*tally.Job
	for k, name := range given {
		from := &sources{in: name} // the lists beside it belong to the first
		if k == 0 {
			src.in = name
			from = &src
		}
		if err := from.spare(*out); err != nil {
			return err
		}
		e, err := evaluated(from, stderr)
		if err != nil {
			return err
		}
		if k == 0 {
			first = e
		}
		jobs = append(jobs, tally.Of(e, filepath.Base(name)))
	}
	if *out == "" {
		_, err := sentences.VisibleWriter{W: stdout}.Write(tally.AppendText(nil, tally.Tables(first, jobs)))
		return err
	}
	return writeFile(*out, func(w io.Writer) error {
		switch ext {
		case ".json":
			return writeBytes(w)(statsJSON(jobs))
		case ".svg":
			return writeBytes(w)(report.Numbers(nil, first, jobs, report.Options{Standalone: true}), nil)
		}
		sep := byte(',')
		if first.Decimal() == units.Comma {
			sep = ';'
		}
		return writeBytes(w)(tally.AppendCSV(nil, tally.Tables(first, jobs), sep), nil)
	})
}
