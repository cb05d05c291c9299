package headers

import (
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// Lacks says why the first rows of a list cannot be worked out as its header stands, with all else as in the job: what the first such row says;
// "" where all of them can, or where there is none. Only lists of machines are worked out; another one lacks something where it has no column
// that is known.
func Lacks(j *job.Job, kind job.SheetKind, header []string, rows [][]string) string {
	known := slices.ContainsFunc(header, func(h string) bool { return job.FindColumn(kind, h) != nil })
	if !known {
		return words.HeaderLacksNoneKnown.String()
	}
	if kind != job.MachinesSheet {
		return ""
	}
	if !slices.ContainsFunc(header, func(h string) bool { c := job.FindColumn(kind, h); return c != nil && c.Key == "machine" }) {
		return words.HeaderLacksNoMachine.String()
	}
	n := *j
	n.Machines = &job.Table{Name: j.Machines.Name, Header: header, Rows: rows[:min(len(rows), 40)], FirstRow: 2}
	e := evaluate.NewEvaluator(&n)
	for i := range e.Len() {
		if r := e.Row(i); r.Kind == evaluate.MachineRow && (!r.HasLine() || r.Verdict == calc.NotJudged || r.Front < 0) {
			why := r.Why
			if why.Empty() {
				why = words.HeaderLacksNotJudged.With()
			}
			return r.Name + ": " + strings.TrimRight(why.String(), ".")
		}
	}
	return ""
}
