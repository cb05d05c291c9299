package desk

import (
	"cmp"
	"slices"
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

func (d *Desk) rowProblem(row int, p *job.Problem) screens.Problem {
	if k, at, ok := d.place(*p); ok && k != job.MachinesSheet {
		return d.onSheet(p, k, at)
	}
	out := screens.Problem{Place: screens.Place{Sheet: 0, Row: row, Col: p.Col}, Severity: p.Severity, Text: p.Text.String(), Hint: p.Hint.String()}
	out.Where = words.Text("desk.sheetAndRow", job.MachinesSheet.String(), strconv.Itoa(p.Row))
	if r := d.ev.Row(row); r != nil && r.Name != "" {
		out.Where = words.Text("desk.nameAndRow", r.Name, strconv.Itoa(p.Row))
	}
	if p.Column != "" {
		out.Where += ", " + p.Column
	}
	return out
}

// mostProblems is how many problems the list shows.
const mostProblems = 500

// problems are the problems of all sheets, errors first, up to a number; total is how many there are.
func (d *Desk) problems() (list []screens.Problem, total int) {
	list = d.noticed()
	for _, p := range d.ev.Problems() {
		out := screens.Problem{Place: screens.Place{Row: -1, Col: -1}, Severity: p.Severity, Where: p.Sheet, Text: p.Text.String(), Hint: p.Hint.String()}
		if k, row, ok := d.place(p); ok {
			out.Sheet, out.Row = slices.Index(kinds[:], k), row
			out.Col = p.Col
		}
		if p.Row > 0 {
			out.Where += words.Text("desk.atRow", strconv.Itoa(p.Row))
		}
		if p.Column != "" {
			out.Where += ", " + p.Column
		}
		list = append(list, out)
	}
	total = len(list)
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
	sorting.Stable(list, func(x, y screens.Problem) int { return cmp.Compare(y.Severity, x.Severity) })
	return list[:min(len(list), mostProblems)], total
}
