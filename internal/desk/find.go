package desk

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/units"
)

// opFind searches: text, options as letters (c same case, w whole cell, s in the selection, b upwards, h the cursor's cell first).
func opFind(d *Desk, in *arguments) raw {
	query, opts := in.text(), in.text()
	f := d.grid().Find(query, findOptions(opts), d.result)
	return d.found(grid.Change{}, f)
}

func findOptions(s string) grid.FindOptions {
	has := func(c string) bool { return strings.Contains(s, c) }
	return grid.FindOptions{MatchCase: has("c"), WholeCell: has("w"), InSelection: has("s"), Back: has("b"), Here: has("h")}
}

func (d *Desk) found(ch grid.Change, f grid.Found) raw {
	return d.state(ch).yes("found", f.OK).int("index", f.Index).int("count", f.Count).int("fixed", f.Fixed).yes("wrapped", f.Wrapped).end()
}

func opReplace(d *Desk, in *arguments) raw {
	query, by, opts := in.text(), in.text(), in.text()
	ch, f := d.grid().Replace(query, by, findOptions(opts), d.result)
	d.changed(d.kind, ch)
	return d.found(ch, f)
}

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
	text := plural(s.Filled, "filled cell", "filled cells")
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
		text = plural(s.Numbers, "number", "numbers") + " · sum " + num(s.Sum) + " · smallest " + num(s.Min) + " · largest " + num(s.Max)
	}
	return new(object).text("text", text).yes("done", true).end()
}
