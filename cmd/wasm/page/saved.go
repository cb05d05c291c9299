//go:build js && wasm

package main

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// How each sheet is shown is kept in the job, by the sheet's key: sorting, filter, hidden groups, widths.

// everything in a view's list of hidden groups says that columns are shown whether in use or not. No group is called that.
const everything = "*"

// before in that list says that results stand before the inputs, and what begins with hiddenColumn names one column. No group is called that.
const (
	before       = "<"
	hiddenColumn = "-"
)

// readViews takes the views out of the job. What cannot be read is as if it were not there.
func (a *app) readViews() {
	a.views = make([]grid.View, 32)
	for _, k := range kinds {
		v := &a.views[k]
		if v.UnmarshalText([]byte(a.job.Views[k.Key()])) != nil {
			continue
		}
		var groups []string
		for _, h := range v.Hidden {
			switch {
			case h == everything:
				a.all = true
			case h == before:
				a.resultsFirst = true
			default:
				groups = append(groups, h)
			}
		}
		v.Hidden = groups
	}
}

// writeViews puts the views into the job. Those of sheets that this program does not know stay.
func (a *app) writeViews() {
	views := map[string]string{}
	for k, v := range a.job.Views {
		views[k] = v
	}
	for _, k := range kinds {
		v := a.views[k]
		if a.all && k == job.MachinesSheet {
			v.Hidden = append(v.Hidden[:len(v.Hidden):len(v.Hidden)], everything)
		}
		if a.resultsFirst && k == job.MachinesSheet {
			v.Hidden = append(v.Hidden[:len(v.Hidden):len(v.Hidden)], before)
		}
		delete(views, k.Key())
		if len(v.Hidden) > 0 || len(v.Widths) > 0 || len(v.Sort) > 0 || len(v.Filter) > 0 {
			text, _ := v.MarshalText() // it does not fail
			views[k.Key()] = string(text)
		}
	}
	if a.job.Views = views; len(views) == 0 {
		a.job.Views = nil
	}
}

// turnSort keeps the sorting of the view beside the undo list: undoing that the shown order was made the job's shows the rows sorted again.
func (a *app) turnSort(name string, ch grid.Change, undo bool) {
	if !ch.Any || !strings.HasPrefix(name, "sorting ") {
		return
	}
	from, to := &a.undone, &a.sorts
	if undo {
		from, to = to, from
	}
	n := len(*from)
	if n == 0 {
		return
	}
	keys := (*from)[n-1]
	*from, *to = (*from)[:n-1], append(*to, keys)
	if a.views[a.kind].Sort = nil; undo {
		a.views[a.kind].Sort = keys
	}
	at := a.grid().Cursor()
	a.arrange(a.kind)
	a.grid().Go(at, false)
}

// inUnits converts a number that a column is filtered by between the units shown and the job's, in which it is kept. Other texts stay.
func (a *app) inUnits(name, text string, show bool) string {
	c, ok := a.columnNamed(name)
	if !ok || a.kind != job.MachinesSheet || a.ev.ShowsInch() == a.ev.Inch() {
		return text
	}
	x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return text
	}
	var unit func(inch bool) units.Unit
	if c < 0 {
		unit = a.results[^c].Unit
	} else if info := job.FindColumn(a.kind, a.grid().Header()[c]); info != nil {
		unit = info.Unit
	}
	if unit == nil || unit(true) == units.None {
		return text
	}
	from, to := unit(a.ev.ShowsInch()), unit(a.ev.Inch())
	if show {
		from, to = to, from
	}
	return strconv.FormatFloat(to.FromBase(from.ToBase(x)), 'g', 7, 64)
}

// opGoStored goes to a stored row and column, −1 for the column the cursor is in. What is asked for comes before what was hidden.
func opGoStored(a *app, in *arguments) raw {
	row, col := in.int(), in.int()
	g := a.grid()
	note := ""
	y := g.ShownRow(row)
	if y < 0 && row >= 0 && row < len(g.Rows()) {
		a.views[a.kind].Filter = nil
		a.arrange(a.kind)
		y = g.ShownRow(row)
		note = "The filter was taken off to show this row."
	}
	if y < 0 {
		y = row
	}
	x := g.Cursor().Col
	if col >= 0 && col < len(g.Header()) {
		if x = g.Shown(col); x < 0 {
			v := &a.views[a.kind]
			var groups []string
			for _, h := range v.Hidden {
				if h != a.group(col) && h != hiddenColumn+a.columnName(col) {
					groups = append(groups, h)
				}
			}
			v.Hidden = groups
			if a.setOrder(a.kind); g.Shown(col) < 0 {
				a.all = true
				a.setOrder(a.kind)
			}
			x = max(g.Shown(col), 0)
			note = "Columns that were hidden are shown again."
		}
	}
	g.Go(grid.Pos{Row: y, Col: x}, false)
	return a.state(grid.Change{Note: note}).yes("arranged", note != "").end()
}
