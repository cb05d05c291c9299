package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"shimsheet/internal/job"
	"shimsheet/internal/sheet"
	"shimsheet/internal/workbook"
)

// today is the day that certificates are held against where nobody has signed.
func today() string { return time.Now().Format(time.DateOnly) }

// runVerify holds every signature of a file against what is there. Its exit statuses are its own: 0 all hold; 1 something changed, or cannot be checked; 2 the file cannot be read.
func runVerify(args []string, stdout, stderr io.Writer) (int, error) {
	fl := newFlags("verify")
	var src sources
	for _, more := range src.more() {
		fl.StringVar(more.file, more.flag, "", "")
	}
	words, err := parse(fl, args)
	if err != nil {
		return 0, err
	}
	if len(words) != 1 {
		return 0, errors.New("verify takes one file to read; see shimsheet help")
	}
	src.in = words[0]
	e, err := evaluated(&src, stderr)
	if err != nil {
		return 0, err
	}
	out := sheet.VisibleWriter{W: stdout}
	checked, bad := 0, 0
	tell := func(list []sheet.RecordRow) {
		for k := range list {
			s := &list[k]
			if !s.Signs() {
				continue
			}
			checked++
			role := ""
			if s.Role != "" {
				role = ", " + s.Role
			}
			fmt.Fprintf(out, "%s: %s: %s%s, %s, digest %s\n", s.Machine, s.State, s.By, role, s.At, s.Digest)
			if s.Why != "" {
				fmt.Fprintf(out, "    %s\n", s.Why)
			}
			if s.State == sheet.SignFailed || s.State == sheet.SignBare {
				bad++
			}
		}
	}
	for i := range e.Len() {
		if r := e.Row(i); r != nil {
			tell(r.Record)
		}
	}
	tell(e.WholeRecord())
	tell(e.Strangers())
	switch {
	case checked == 0:
		fmt.Fprintf(out, "%s: nobody has signed for anything\n", filepath.Base(src.in))
		return exitSome, nil
	case bad > 0:
		fmt.Fprintf(out, "%d of %d signatures do not hold, or cannot be checked\n", bad, checked)
		return exitSome, nil
	}
	fmt.Fprintf(out, "all %d signatures hold\n", checked)
	return exitOK, nil
}

// evaluated loads a job and works it out. What was told of the sheets goes to stderr.
func evaluated(src *sources, stderr io.Writer) (*sheet.Evaluator, error) {
	j, problems, err := src.load()
	if err != nil {
		return nil, err
	}
	e := worked(j, nil)
	var lines bytes.Buffer
	writeProblems(&lines, append(problems, e.Problems()...), src.in)
	stderr.Write(lines.Bytes())
	return e, nil
}

// runRecord prints the canonical text of a signature: what sha256sum gives the digest of.
func runRecord(args []string, stdout, stderr io.Writer) error {
	fl := newFlags("record")
	var src sources
	for _, more := range src.more() {
		fl.StringVar(more.file, more.flag, "", "")
	}
	row := fl.Int("row", 0, "")
	words, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(words) != 1 || *row < 1 {
		return errors.New("record takes one file, and -row N: the row of the signature on the Record sheet")
	}
	src.in = words[0]
	e, err := evaluated(&src, stderr)
	if err != nil {
		return err
	}
	text, ok := e.CanonicalText(*row)
	if !ok {
		return fmt.Errorf("%s: nobody signs in row %d of the Record sheet for a machine of the job", src.in, *row)
	}
	_, err = io.WriteString(stdout, text)
	return err
}

// runSign signs for a machine, or for the whole job, and writes the job with the signature.
func runSign(args []string, stderr io.Writer) error {
	fl := newFlags("sign")
	var src sources
	var s sheet.Signing
	for _, more := range src.more() {
		fl.StringVar(more.file, more.flag, "", "")
	}
	fl.StringVar(&s.Machine, "machine", "", "")
	fl.StringVar(&s.Role, "role", "", "")
	fl.StringVar(&s.By, "by", "", "")
	fl.StringVar(&s.At, "at", time.Now().Format("2006-01-02 15:04"), "")
	fl.StringVar(&s.Note, "note", "", "")
	out := fl.String("o", "", "")
	words, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(words) != 1 || s.Machine == "" || s.By == "" || *out == "" {
		return errors.New("sign takes one file, -machine NAME (or \"whole job\"), -by NAME and -o OUT; see shimsheet help")
	}
	write, err := jobWriter(*out)
	if err != nil {
		return err
	}
	src.in = words[0]
	if err := src.spare(*out); err != nil {
		return err
	}
	e, err := evaluated(&src, stderr)
	if err != nil {
		return err
	}
	t, err := e.Sign(s)
	if err != nil {
		return fmt.Errorf("%s: %w", src.in, err)
	}
	j := e.Job()
	j.SetTable(job.RecordSheet, t)
	return write(j)
}

// jobWriter is what writes a job as it was typed into a file: .json, or .xlsx with its results; an error where the ending says neither.
func jobWriter(out string) (func(*job.Job) error, error) {
	switch strings.ToLower(filepath.Ext(out)) {
	case ".json":
		return func(j *job.Job) error {
			j.Saved(time.Now().Format(time.RFC3339))
			return writeFile(out, func(w io.Writer) error { return writeBytes(w)(j.Seal()) })
		}, nil
	case ".xlsx":
		return func(j *job.Job) error {
			e := worked(j, nil)
			allocate(e)
			return writeFile(out, func(w io.Writer) error { return writeBytes(w)(workbook.Write(j, e, workbook.Options{})) })
		}, nil
	}
	return nil, fmt.Errorf("%s: a job is written as .json or .xlsx", out)
}
