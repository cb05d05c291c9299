package desk

import (
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
)

// opPlan says what pasting a text would do, if it has a header row and so may go elsewhere than where the cursor stands, or would write over
// other texts. The paste waits on the desk until it is taken or dropped.
func opPlan(d *Desk, in *arguments) raw {
	text := in.text()
	d.planned, d.learnt = d.plan(text), nil
	return d.planObject(d.planned)
}

// planObject is a plan for the page.
func (d *Desk) planObject(p *grid.Plan) raw {
	if p == nil || !p.OK {
		note := ""
		if p != nil {
			note = p.Note
		}
		return new(object).yes("ok", false).text("note", note).end()
	}
	g := d.grid()
	o := new(object).yes("ok", true).text("note", p.Note).text("name", p.Name).yes("table", p.Table).yes("fresh", p.Fresh).int("titles", p.TitleLines).
		int("over", p.Over).int("new", p.New).int("cells", p.Cells).int("replaced", p.Replaced)
	var cols, samples []*object
	for _, c := range p.Columns {
		known := job.FindColumn(d.kind, c.Name)
		k := ""
		if known != nil {
			k = known.Name
		}
		cols = append(cols, new(object).text("pasted", c.Pasted).text("name", c.Name).yes("new", c.New).yes("left", c.Column < 0).text("known", k))
	}
	for _, s := range p.Samples {
		name := ""
		if s.Column < len(g.Header()) {
			name = g.Header()[s.Column]
		}
		samples = append(samples, new(object).int("row", d.firstRow()+s.Row).text("column", name).text("old", s.Old).text("new", s.New))
	}
	return o.objects("columns", cols).objects("samples", samples).end()
}

// plan reads a clipboard text as a.paste does.
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
