package results

import (
	"io"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
	"strings"
	"unicode/utf8"
)

// WriteTable writes an aligned table for a terminal, rounded, and a line that counts the verdicts.
func WriteTable(w io.Writer, e *sentences.Teller) error {
	defer e.AsJob()()
	cols := []job.ColumnID{job.ResultVerdict, job.ResultOffset, job.ResultSlope, job.ResultShare, job.ResultChance, job.ResultFrontShim, job.ResultRearShim, job.ResultFrontMove, job.ResultRearMove, job.ResultFrontPack, job.ResultRearPack, job.ResultAfterVerdict, job.ResultWhy}
	header := []string{job.ColMachine.Info().Name}
	for _, c := range cols {
		name := c.Info().Name
		if u := c.Info().Unit(e.Inch()); u != units.None {
			name += " [" + u.String() + "]"
		}
		header = append(header, name)
	}
	rows := [][]string{header}
	for i := range e.Len() {
		r := e.Row(i)
		if r.Kind != evaluate.MachineRow {
			continue
		}
		line := []string{r.Name}
		for _, c := range cols {
			line = append(line, string(appendTold(nil, e, r, c)))
		}
		rows = append(rows, line)
	}
	if len(rows) == 1 {
		_, err := io.WriteString(w, words.ListNothing.String())
		return err
	}
	b := AppendTable(nil, rows, 2, 7)
	b = append(b, '\n')
	b = append(append(b, Count(e)...), '\n')
	b = append(b, words.ListUnits.Say(job.QThickness.Unit(e.Inch()), job.QSlope.Unit(e.Inch()))...)
	for _, n := range e.PackNotes() {
		b = append(append(b, n...), '\n')
	}
	for _, c := range tables.Cautions() {
		b = append(append(b, c.Text...), '\n')
	}
	_, err := w.Write(b)
	return err
}

// Count says how many couplings a job has and how many end with each verdict.
func Count(e *sentences.Teller) string {
	m, v := e.Count()
	say := words.ListCount
	if m == 1 {
		say = words.ListCountOne
	}
	return say.Say(m, v[calc.Inside], v[calc.Outside], v[calc.TooClose], v[calc.NotJudged])
}

// AppendTable aligns rows of cells, the first their header; the columns from … to are numbers and stand to the right.
func AppendTable(b []byte, rows [][]string, from, to int) []byte {
	width := make([]int, len(rows[0]))
	for _, line := range rows {
		for k, c := range line {
			line[k] = sentences.Visible(c)
			width[k] = max(width[k], utf8.RuneCountInString(line[k]))
		}
	}
	for n, line := range rows {
		start := len(b)
		for k, c := range line {
			if k > 0 {
				b = append(b, "  "...)
			}
			pad := width[k] - utf8.RuneCountInString(c)
			right := k >= from && k <= to && n > 0
			if right {
				b = append(b, spaces(pad)...)
			}
			b = append(b, c...)
			if !right && k < len(line)-1 {
				b = append(b, spaces(pad)...)
			}
		}
		for len(b) > start && b[len(b)-1] == ' ' {
			b = b[:len(b)-1]
		}
		b = append(b, '\n')
	}
	return b
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }
