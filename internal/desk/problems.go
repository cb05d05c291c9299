package desk

import (
	"cmp"
	"fmt"
	"slices"

	"shimsheet/internal/job"
)

// A problemPlace is a problem with where its cell is shown.
type problemPlace struct {
	Sheet      int // in the order of the tabs
	Row, Col   int // as stored; −1: none
	Severity   job.Severity
	Where      string
	Text, Hint string
}

func (p problemPlace) object() *object {
	return new(object).int("sheet", p.Sheet).int("row", p.Row).int("col", p.Col).text("severity", p.Severity.String()).text("where", p.Where).text("text", p.Text).text("hint", p.Hint)
}

func (d *Desk) rowProblem(row int, p *job.Problem) problemPlace {
	if k, at, ok := d.place(*p); ok && k != job.MachinesSheet {
		return d.onSheet(p, k, at)
	}
	out := problemPlace{Sheet: 0, Row: row, Col: p.Col, Severity: p.Severity, Text: p.Text, Hint: p.Hint}
	out.Where = fmt.Sprintf("%s row %d", job.MachinesSheet, p.Row)
	if r := d.ev.Row(row); r != nil && r.Name != "" {
		out.Where = fmt.Sprintf("%s (row %d)", r.Name, p.Row)
	}
	if p.Column != "" {
		out.Where += ", " + p.Column
	}
	return out
}

// mostProblems is how many problems the list shows.
const mostProblems = 500

// problems lists the problems of all sheets, errors first.
func (d *Desk) problems() raw {
	list := d.noticed()
	for _, p := range d.ev.Problems() {
		out := problemPlace{Row: -1, Col: -1, Severity: p.Severity, Where: p.Sheet, Text: p.Text, Hint: p.Hint}
		if k, row, ok := d.place(p); ok {
			out.Sheet, out.Row = slices.Index(kinds[:], k), row
			out.Col = p.Col
		}
		if p.Row > 0 {
			out.Where += fmt.Sprintf(" row %d", p.Row)
		}
		if p.Column != "" {
			out.Where += ", " + p.Column
		}
		list = append(list, out)
	}
	total := len(list)
	var rest [job.Error + 1]int // how many of each severity the list takes yet, from the rows
	for i := range rest {
		rest[i] = mostProblems
	}
	for i := range d.ev.Len() {
		r := d.ev.Row(i)
		total += len(r.Problems)
		for j := range r.Problems {
			if p := &r.Problems[j]; rest[p.Severity] > 0 { // wording them all would take long
				rest[p.Severity]--
				list = append(list, d.rowProblem(i, p))
			}
		}
	}
	slices.SortStableFunc(list, func(x, y problemPlace) int { return cmp.Compare(y.Severity, x.Severity) })
	var out []*object
	for _, p := range list[:min(len(list), mostProblems)] {
		out = append(out, p.object())
	}
	return new(object).int("total", total).objects("list", out).end()
}
