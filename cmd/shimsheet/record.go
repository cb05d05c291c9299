package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
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
	given, err := parse(fl, args)
	if err != nil {
		return 0, err
	}
	if len(given) != 1 {
		return 0, errors.New(words.CommandVerifyOne.String())
	}
	src.in = given[0]
	e, err := evaluated(&src, stderr)
	if err != nil {
		return 0, err
	}
	out := sentences.VisibleWriter{W: stdout}
	checked, bad := 0, 0
	tell := func(list []evaluate.RecordRow) {
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
			fmt.Fprintln(out, words.CommandSignatureLine.Say(s.Machine, s.State.Word(), s.By, role, s.At, s.Digest))
			if !s.Why.Empty() {
				fmt.Fprintf(out, "    %s\n", s.Why)
			}
			if s.State == evaluate.SignFailed || s.State == evaluate.SignBare {
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
		fmt.Fprintln(out, words.CommandNobodySigned.Say(filepath.Base(src.in)))
		return exitSome, nil
	case bad > 0:
		fmt.Fprintln(out, words.CommandSignaturesFail.Say(bad, checked))
		return exitSome, nil
	}
	fmt.Fprintln(out, words.CommandSignaturesHold.Say(checked))
	return exitOK, nil
}

// evaluated loads a job and works it out. What was told of the sheets goes to stderr.
func evaluated(src *sources, stderr io.Writer) (*sentences.Teller, error) {
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
	given, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(given) != 1 || *row < 1 {
		return errors.New(words.CommandRecordOne.String())
	}
	src.in = given[0]
	e, err := evaluated(&src, stderr)
	if err != nil {
		return err
	}
	text, ok := e.CanonicalText(*row)
	if !ok {
		return errors.New(words.CommandRecordRow.Say(src.in, *row))
	}
	_, err = io.WriteString(stdout, text)
	return err
}

// runSign signs for a machine, or for the whole job, and writes the job with the signature.
func runSign(args []string, stderr io.Writer) error {
	fl := newFlags("sign")
	var src sources
	var s evaluate.Signing
	for _, more := range src.more() {
		fl.StringVar(more.file, more.flag, "", "")
	}
	fl.StringVar(&s.Machine, "machine", "", "")
	fl.StringVar(&s.Role, "role", "", "")
	fl.StringVar(&s.By, "by", "", "")
	fl.StringVar(&s.At, "at", time.Now().Format("2006-01-02 15:04"), "")
	fl.StringVar(&s.Note, "note", "", "")
	out := fl.String("o", "", "")
	given, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(given) != 1 || s.Machine == "" || s.By == "" || *out == "" {
		return errors.New(words.CommandSignOne.String())
	}
	write, err := jobWriter(*out)
	if err != nil {
		return err
	}
	src.in = given[0]
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
	return nil, errors.New(words.CommandJobKinds.Say(out))
}
