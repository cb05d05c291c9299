package desk

import (
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
)

// pastePlan is the plan that waits, for the screen that shows it.
func (d *Desk) pastePlan() screens.PastePlan {
	p := d.planned
	if p == nil || !p.OK {
		out := screens.PastePlan{}
		if p != nil {
			out.Note = p.Note
		}
		return out
	}
	g := d.grid()
	out := screens.PastePlan{OK: true, Note: p.Note, Table: p.Table, Fresh: p.Fresh, Over: p.Over, New: p.New, Replaced: p.Replaced}
	for _, c := range p.Columns {
		col := screens.PasteColumn{Pasted: c.Pasted, Name: c.Name, New: c.New, Left: c.Column < 0}
		if known := job.FindColumn(d.kind, c.Name); known != nil {
			col.Known = known.Name
		}
		out.Columns = append(out.Columns, col)
	}
	for _, c := range p.Samples {
		name := ""
		if c.Column < len(g.Header()) {
			name = g.Header()[c.Column]
		}
		out.Samples = append(out.Samples, screens.PasteSample{Row: d.firstRow() + c.Row, Column: name, Old: c.Old, New: c.New})
	}
	return out
}

// plan reads a clipboard text as pasting does.
func (d *Desk) plan(text string) *grid.Plan {
	g := d.grid()
	if !strings.Contains(text, "\t") && strings.Contains(text, "\n") {
		// The text of a CSV file, copied from an editor: known by its header.
		if t, _, err := job.ReadDelimited("clipboard", []byte(text), 0); err == nil && t.Width() > 1 && job.FindHeader(t.Rows, d.kind) >= 0 {
			return g.PlanPaste(t.Rows, d.meaning())
		}
	}
	return g.PlanPasteText(text, d.meaning())
}
