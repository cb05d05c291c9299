package desk

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
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
func (d *Desk) readViews() {
	d.views = make([]grid.View, 32)
	for _, k := range kinds {
		v := &d.views[k]
		if v.UnmarshalText([]byte(d.job.Views[k.Key()])) != nil {
			continue
		}
		var groups []string
		for _, h := range v.Hidden {
			switch {
			case h == everything:
				d.all = true
			case h == before:
				d.resultsFirst = true
			default:
				groups = append(groups, h)
			}
		}
		v.Hidden = groups
	}
}

// writeViews puts the views into the job. Those of sheets that this program does not know stay.
func (d *Desk) writeViews() {
	views := map[string]string{}
	for k, v := range d.job.Views {
		views[k] = v
	}
	for _, k := range kinds {
		v := d.views[k]
		if d.all && k == job.MachinesSheet {
			v.Hidden = append(v.Hidden[:len(v.Hidden):len(v.Hidden)], everything)
		}
		if d.resultsFirst && k == job.MachinesSheet {
			v.Hidden = append(v.Hidden[:len(v.Hidden):len(v.Hidden)], before)
		}
		delete(views, k.Key())
		if len(v.Hidden) > 0 || len(v.Widths) > 0 || len(v.Sort) > 0 || len(v.Filter) > 0 {
			text, _ := v.MarshalText() // it does not fail
			views[k.Key()] = string(text)
		}
	}
	if d.job.Views = views; len(views) == 0 {
		d.job.Views = nil
	}
}

// turnSort keeps the sorting of the view beside the undo list: undoing that the shown order was made the job's shows the rows sorted again.
func (d *Desk) turnSort(ch grid.Change, undo bool) {
	if !ch.Any || !ch.Sorted {
		return
	}
	from, to := &d.undone, &d.sorts
	if undo {
		from, to = to, from
	}
	n := len(*from)
	if n == 0 {
		return
	}
	keys := (*from)[n-1]
	*from, *to = (*from)[:n-1], append(*to, keys)
	if d.views[d.kind].Sort = nil; undo {
		d.views[d.kind].Sort = keys
	}
	at := d.grid().Cursor()
	d.arrange(d.kind)
	d.grid().Go(at, false)
}

// inUnits converts a number that a column is filtered by between the units shown and the job's, in which it is kept. Other texts stay.
func (d *Desk) inUnits(name, text string, show bool) string {
	c, ok := d.columnNamed(name)
	if !ok || d.kind != job.MachinesSheet || d.ev.ShowsInch() == d.ev.Inch() {
		return text
	}
	x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return text
	}
	var unit func(inch bool) units.Unit
	if c < 0 {
		unit = d.results[^c].Unit
	} else if info := job.FindColumn(d.kind, d.grid().Header()[c]); info != nil {
		unit = info.Unit
	}
	if unit == nil || unit(true) == units.None {
		return text
	}
	from, to := unit(d.ev.ShowsInch()), unit(d.ev.Inch())
	if show {
		from, to = to, from
	}
	return strconv.FormatFloat(to.FromBase(from.ToBase(x)), 'g', 7, 64)
}

// opGoStored goes to a stored row and column, −1 for the column the cursor is in. What is asked for comes before what was hidden.
func opGoStored(d *Desk, in *arguments) raw {
	row, col := in.int(), in.int()
	g := d.grid()
	note := ""
	y := g.ShownRow(row)
	if y < 0 && row >= 0 && row < len(g.Rows()) {
		d.views[d.kind].Filter = nil
		d.arrange(d.kind)
		y = g.ShownRow(row)
		note = words.Text("desk.filterTaken")
	}
	if y < 0 {
		y = row
	}
	x := g.Cursor().Col
	if col >= 0 && col < len(g.Header()) {
		if x = g.Shown(col); x < 0 {
			v := &d.views[d.kind]
			var groups []string
			for _, h := range v.Hidden {
				if h != d.group(col) && h != hiddenColumn+d.columnName(col) {
					groups = append(groups, h)
				}
			}
			v.Hidden = groups
			if d.setOrder(d.kind); g.Shown(col) < 0 {
				d.all = true
				d.setOrder(d.kind)
			}
			x = max(g.Shown(col), 0)
			note = words.Text("desk.columnsBack")
		}
	}
	g.Go(grid.Pos{Row: y, Col: x}, false)
	return d.state(grid.Change{Note: note}).yes("arranged", note != "").end()
}
