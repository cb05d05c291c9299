package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/merge"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// runMerge puts together what several crews brought back. Exit status 1: what two changed differently is told, and nothing is written before it is answered.
func runMerge(args []string, stdout, stderr io.Writer) (int, error) {
	fl := newFlags("merge")
	out := fl.String("o", "", "")
	prefer := fl.String("prefer", "", "")
	given, err := parse(fl, args)
	if err != nil {
		return 0, err
	}
	if len(given) < 2 || *out == "" {
		return 0, errors.New(words.CommandMergeTwo.String())
	}
	if *prefer != "" && !slices.Contains(given, *prefer) {
		return 0, errors.New(words.CommandPreferOther.Say(*prefer))
	}
	write, err := jobWriter(*out)
	if err != nil {
		return 0, err
	}
	var files []merge.File
	for _, name := range given {
		src := sources{in: name}
		if err := src.spare(*out); err != nil {
			return 0, err
		}
		j, problems, err := src.load()
		if err != nil {
			return 0, err
		}
		if writeProblems(stderr, problems, name) {
			return 0, errors.New(words.CommandMergeUnread.Say(name))
		}
		if err := holdsCouplings(j, name, stderr); err != nil {
			return 0, err
		}
		sealed := true // nobody tells that it has no checksum
		for k := range problems {
			sealed = sealed && problems[k].Severity < job.Warning
		}
		switch strings.ToLower(filepath.Ext(name)) {
		case ".json", ".html", ".htm":
		default:
			sealed = false
		}
		for _, k := range job.SheetKinds() { // where it was read from is no part of the job
			if t := j.Table(k); t != nil {
				t.File = ""
			}
		}
		files = append(files, merge.File{Name: name, Job: j, Sealed: sealed})
	}
	p, err := merge.New(files)
	if err != nil {
		return 0, err
	}
	if *prefer != "" {
		p.Prefer(*prefer)
	}
	w := sentences.VisibleWriter{W: stdout}
	tellMerge(w, p)
	if n := p.Open(); n > 0 {
		fmt.Fprintln(w, words.CommandMergeOpen.Say(n))
		return exitSome, nil
	}
	j, err := p.Merged()
	if err != nil {
		return 0, err
	}
	return exitOK, write(j)
}

// tellMerge says what merging comes to, a line a row.
func tellMerge(w io.Writer, p *merge.Plan) {
	if p.Base != "" {
		fmt.Fprintln(w, words.CommandMergeBase.Say(p.Base))
	}
	for _, n := range p.Notes {
		fmt.Fprintf(w, "%s\n", n)
	}
	for _, i := range p.Items {
		from := ""
		if i.File != "" {
			from = " (" + i.File + ")"
		}
		fmt.Fprintf(w, "%s%s: %s%s\n", strings.TrimSuffix(i.Sheet.String()+", "+i.Machine, ", "), row(i.Row), i.What, from)
	}
	for _, q := range p.Questions {
		answer := "?"
		if q.Answer >= 0 {
			answer = words.CommandIsTaken.Say(strings.Join(q.Choices[q.Answer].Files, ", "))
		}
		fmt.Fprintf(w, "%s, %s%s: %s\n", q.Sheet, q.Machine, row(q.Row), answer)
		for _, c := range q.Choices {
			fmt.Fprintf(w, "    %s: %s\n", strings.Join(c.Files, ", "), c.Text)
		}
	}
}

func row(s string) string {
	if s == "" {
		return ""
	}
	return ", " + s
}

// holdsCouplings refuses a list whose rows are no couplings, such as one turned on its side: merged, its rows would stand nameless among the others. What is wrong with its sheets is said.
func holdsCouplings(j *job.Job, name string, stderr io.Writer) error {
	e := worked(j, nil)
	if n, _ := e.Count(); n > 0 || len(j.Machines.Rows) == 0 {
		return nil
	}
	writeProblems(stderr, e.Problems(), name)
	return errors.New(words.CommandMergeNoCoupling.Say(name))
}
