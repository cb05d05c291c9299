package desk

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/screens"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Find goes to the next cell that holds a text: screens.FindHost.
func (d *Desk) Find(text string, o grid.FindOptions) grid.Found {
	return d.grid().Find(text, o, d.result)
}

// Replace replaces the text in the cell at hand, if it is there, and goes on to the next.
func (d *Desk) Replace(text, by string, o grid.FindOptions) (f grid.Found) {
	d.change(d.kind, func(g *grid.Model) (ch grid.Change) {
		ch, f = g.Replace(text, by, o, d.result)
		return ch
	})
	return f
}

// ReplaceAll replaces it in every cell.
func (d *Desk) ReplaceAll(text, by string, o grid.FindOptions) screens.Pasted {
	ch := d.change(d.kind, func(g *grid.Model) grid.Change { return g.ReplaceAll(text, by, o) })
	return screens.Pasted{Changed: ch.Any, Note: ch.Note, Undo: d.undoName()}
}

// RowsSelected says whether more than one row is selected.
func (d *Desk) RowsSelected() bool { s := d.grid().Selection(); return s.R0 != s.R1 }

// SheetRows is how many rows are shown.
func (d *Desk) SheetRows() int { return d.grid().ShownRows() }

// opSums is the summary of the selection in words for the status line; done is false when it was too much for one call, and it goes on with the next.
func opSums(d *Desk, _ *arguments) raw {
	g := d.grid()
	sel := g.Selection()
	if sel.R0 == sel.R1 && sel.C0 == sel.C1 {
		d.summing = nil
		return new(object).text("text", "").yes("done", true).end()
	}
	if d.summing == nil {
		d.summing = g.Summarise(func(row, x int) (float64, bool) {
			c := g.Column(x)
			v, _ := d.cellKey(row, c)
			return v, !math.IsNaN(v)
		})
	}
	if !d.summing.Next(4000) {
		return new(object).text("text", "…").yes("done", false).end()
	}
	s, ok := d.summing.Result()
	d.summing = nil
	if !ok {
		return new(object).text("text", "").yes("done", true).end()
	}
	unit := d.shownUnit(g.Column(sel.C0))
	for x := sel.C0 + 1; x <= sel.C1; x++ {
		if d.shownUnit(g.Column(x)) != unit {
			unit = "?"
			break
		}
	}
	text := plural(s.Filled, words.Text("desk.filled.one"), words.Text("desk.filled.many"))
	if s.Numbers > 0 && unit != "?" {
		num := func(v float64) string {
			t := strconv.FormatFloat(v, 'g', 7, 64)
			if d.ev.Decimal() == units.Comma {
				t = strings.Replace(t, ".", ",", 1)
			}
			if unit != "" {
				t += " " + unit
			}
			return t
		}
		text = words.Text("desk.sum", plural(s.Numbers, words.Text("desk.numbers.one"), words.Text("desk.numbers.many")), num(s.Sum), num(s.Min), num(s.Max))
	}
	return new(object).text("text", text).yes("done", true).end()
}
