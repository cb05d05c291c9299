package desk

import (
	"bytes"
	"slices"
	"time"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// An operation is something that the page can ask for.
type operation struct {
	takes string // its arguments, a letter each: n number, t text, y yes or no, b text or the bytes of one; those behind ? may be left out
	do    func(d *Desk, in *arguments) raw
}

// operations is all that the page can ask for.
var operations map[string]operation

func init() {
	operations = map[string]operation{
		"state":  {"", func(d *Desk, _ *arguments) raw { return d.answerState() }},
		"layout": {"", func(d *Desk, _ *arguments) raw { return d.layout() }},
		"viewport": {"nnnn", func(d *Desk, in *arguments) raw {
			x0, y0, x1, y1 := in.int(), in.int(), in.int(), in.int()
			return raw(d.grid().AppendViewport(nil, x0, y0, x1, y1, d))
		}},
		"info":  {"n", opInfo},
		"told":  {"nn", opTold},
		"work":  {"n", opWork},
		"count": {"", opCount},
		"problems": {"", func(d *Desk, _ *arguments) raw {
			list, total := d.problems()
			return new(object).text("html", screens.Problems(list, total).String()).end()
		}},
		"print": {"tty", opPrint},

		"sheet": {"n", func(d *Desk, in *arguments) raw {
			if k := in.int(); k >= 0 && k < len(kinds) {
				d.grid().Cancel()
				d.kind = kinds[k]
			}
			return d.answerState()
		}},
		"go":        {"nny", moving(func(g *grid.Model, in *arguments) { g.Go(grid.Pos{Row: in.int(), Col: in.int()}, in.yes()) })},
		"move":      {"nny", moving(func(g *grid.Model, in *arguments) { g.Move(in.int(), in.int(), in.yes()) })},
		"step":      {"nn", moving(func(g *grid.Model, in *arguments) { g.Step(in.int(), in.int()) })},
		"rowStart":  {"yy", moving(func(g *grid.Model, in *arguments) { g.RowStart(in.yes(), in.yes()) })},
		"rowEnd":    {"yy", moving(func(g *grid.Model, in *arguments) { g.RowEnd(in.yes(), in.yes()) })},
		"selectAll": {"", moving(func(g *grid.Model, _ *arguments) { g.SelectAll() })},
		"select": {"nnnn", moving(func(g *grid.Model, in *arguments) {
			g.Select(grid.Rect{R0: in.int(), C0: in.int(), R1: in.int(), C1: in.int()})
		})},
		"jump": {"nny", func(d *Desk, in *arguments) raw {
			dr, dc, extend := in.int(), in.int(), in.yes()
			d.grid().Jump(dr, dc, extend, func(p grid.Pos) bool {
				if c := d.grid().Column(p.Col); c < 0 {
					return d.result(d.grid().Stored(p.Row), ^c) != ""
				}
				return d.grid().At(p) != ""
			})
			return d.answerState()
		}},

		"begin": {"", func(d *Desk, _ *arguments) raw {
			text, ok := d.grid().Begin()
			var ch grid.Change
			if !ok {
				ch.Note = words.Text("desk.workedOut")
			}
			o := d.state(ch).text("text", text).yes("ok", ok)
			if p := d.grid().Cursor(); ok {
				list, closed := d.choices(d.grid().Stored(p.Row), d.grid().Column(p.Col))
				o.texts("choices", list).yes("closed", closed)
			}
			return o.end()
		}},
		"tryText":       {"nntn", opTry},
		"arrange":       {"tt", opArrange},
		"rowNumbers":    {"nn", opRowNumbers},
		"sums":          {"", opSums},
		"width":         {"nn", opWidth},
		"showAll":       {"y", opShowAll},
		"duplicateRows": {"", changing(func(_ *Desk, g *grid.Model, _ *arguments) grid.Change { return g.DuplicateRows() })},
		"moveRows":      {"n", changing(func(_ *Desk, g *grid.Model, in *arguments) grid.Change { return g.MoveRows(in.int()) })},
		"fillRight":     {"", changing(func(_ *Desk, g *grid.Model, _ *arguments) grid.Change { return g.FillRight() })},
		"series":        {"", changing(func(_ *Desk, g *grid.Model, _ *arguments) grid.Change { return series(g) })},
		"fillTo": {"nnnny", changing(func(_ *Desk, g *grid.Model, in *arguments) grid.Change {
			return g.FillTo(grid.Rect{R0: in.int(), C0: in.int(), R1: in.int(), C1: in.int()}, in.yes())
		})},
		"goStored": {"nn", opGoStored},
		"showAs": {"t", func(d *Desk, in *arguments) raw {
			d.shown = in.text()
			d.ev.ShowAs(d.shown)
			return d.answerState()
		}},
		"cancel":    {"", moving(func(g *grid.Model, _ *arguments) { g.Cancel() })},
		"commitAll": {"t", changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change { return g.CommitAll(in.text()) })},
		"fillAlong": {"y", changing(func(_ *Desk, g *grid.Model, in *arguments) grid.Change { return g.FillAlong(in.yes()) })},
		"also":      {"nn", moving(func(g *grid.Model, in *arguments) { g.Also(grid.Pos{Row: in.int(), Col: in.int()}) })},
		"commit": {"tnn", changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change {
			return g.Commit(in.text(), in.int(), in.int())
		})},
		"delete": {"", changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change { return g.Delete() })},
		"fill":   {"", changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change { return g.FillDown() })},
		"insertRows": {"", changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change {
			return g.InsertRows()
		})},
		"deleteRows": {"", changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change { return g.DeleteRows() })},
		"columns": {"t", changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change {
			return g.SetHeader(usualColumns(in.text()))
		})},
		"undo":        {"", func(d *Desk, _ *arguments) raw { return d.state(noted(words.Text("desk.undone"), d.undo())).end() }},
		"redo":        {"", func(d *Desk, _ *arguments) raw { return d.state(noted(words.Text("desk.doneAgain"), d.redo())).end() }},
		"copy":        {"yy", opCopy},
		"hideColumns": {"", opHideColumns},
		"resultsFirst": {"y", func(d *Desk, in *arguments) raw {
			d.resultsFirst = in.yes()
			at := d.grid().Column(d.grid().Cursor().Col)
			d.setOrder(job.MachinesSheet)
			d.keepColumn(d.grid(), at)
			return d.state(grid.Change{}).yes("arranged", true).end()
		}},
		"cut": {"", func(d *Desk, _ *arguments) raw {
			text, html, ch := d.grid().Cut(d.result)
			d.changed(d.kind, ch)
			return d.state(ch).text("text", text).text("html", html).end()
		}},

		"new": {"", func(d *Desk, _ *arguments) raw {
			d.openNew()
			return d.answerState()
		}},
		"demo": {"tttttttttttt", func(d *Desk, in *arguments) raw {
			lists := map[job.SheetKind]string{}
			for _, k := range kinds {
				lists[k] = in.text()
			}
			err := d.demo(lists)
			if err != nil {
				return failure(err.Error())
			}
			return d.answerState()
		}},
		"openJob":  {"b?y", opOpenJob},
		"openFile": {"tb?y", opOpenFile},
		"job": {"", func(d *Desk, _ *arguments) raw {
			d.writeViews()
			return d.text(d.job.Seal())
		}},
		"save": {"t", func(d *Desk, in *arguments) raw {
			return d.text(d.saved(in.text()))
		}},
		"notSaved": {"", opNotSaved},
		"first":    {"t", opFirst},
		"csv": {"", func(d *Desk, _ *arguments) raw {
			var b bytes.Buffer
			if d.job.Machines == nil || len(d.job.Machines.Rows) == 0 {
				return failure(words.Text("desk.noMachine"))
			}
			err := results.WriteCSV(&b, d.ev)
			return d.text(b.Bytes(), err)
		}},
		"record":      {"", opRecord},
		"wholeCopy":   {"y", opWholeCopy},
		"wholeRows":   {"nnnn", opWholeRows},
		"copyBegin":   {"b", opCopyBegin},
		"copyRows":    {"nt", opCopyRows},
		"copyRecord":  {"t", opCopyRecord},
		"copyCompare": {"n", opCopyCompare},
		"copyOpen":    {"", opCopyOpen},
		"copyText":    {"", opCopyText},
		"head":        {"", func(d *Desk, _ *arguments) raw { return d.text(d.head()) }},
		"rows":        {"nnn", opRows},
		"coming":      {"t", opComing},
		"comingRows":  {"nt", opComingRows},
		"take":        {"", opTake},
		"listsHead":   {"t", opListsHead},
		"listsRows":   {"nt", opListsRows},
		"lists":       {"t", opLists},
		"sharing":     {"", opSharing},
		"shared":      {"tt", opShared},
		"notShared":   {"t", opNotShared},
		"took":        {"", opTook},
		"photo":       {"t", opPhoto},
	}
}

// moving wraps what only moves the cursor.
func moving(f func(g *grid.Model, in *arguments)) func(d *Desk, in *arguments) raw {
	return func(d *Desk, in *arguments) raw {
		f(d.grid(), in)
		return d.answerState()
	}
}

// changing wraps what may change the sheet.
func changing(f func(d *Desk, g *grid.Model, in *arguments) grid.Change) func(d *Desk, in *arguments) raw {
	return func(d *Desk, in *arguments) raw {
		ch := f(d, d.grid(), in)
		d.changed(d.kind, ch)
		return d.state(ch).end()
	}
}

func noted(word string, ch grid.Change) grid.Change {
	if ch.Any {
		ch.Note = word + ch.Note + "."
	}
	return ch
}

func (d *Desk) text(b []byte, err error) raw {
	if err != nil {
		return failure(err.Error())
	}
	return d.state(grid.Change{}).text("text", string(b)).end()
}

func (d *Desk) answerState() raw { return d.state(grid.Change{}).end() }

// state is what the page shows around the cells, and what ch did: sel is first row, first column, last row, last column; blank says
// which sheets hold nothing.
func (d *Desk) state(ch grid.Change) *object {
	g := d.grid()
	sel, cur := g.Selection(), g.Cursor()
	o := new(object).int("sheet", slices.Index(kinds[:], d.kind)).int("row", cur.Row).int("col", cur.Col).int("stored", g.Stored(cur.Row))
	o.text("shown", d.shown).yes("all", d.all).yes("resultsFirst", d.resultsFirst)
	if more := g.Ranges(); len(more) > 0 {
		var list []int
		for _, r := range more {
			list = append(list, r.R0, r.C0, r.R1, r.C1)
		}
		o.ints("more", list)
	}
	o.numbers("sel", []float64{float64(sel.R0), float64(sel.C0), float64(sel.R1), float64(sel.C1)})
	o.int("rows", g.ShownRows()).text("view", d.arrangedWords()).int("height", g.Height()).int("columns", g.Columns()).int("machines", d.ev.Len()).text("undo", d.undoName()).text("redo", d.redoName())
	o.int("desk", d.number).int("changes", d.changes).yes("changed", ch.Any).yes("header", ch.Header).text("note", ch.Note)
	if d.ownSheet() && g.ShownRows() == 0 {
		if p := d.PanelSheet(); p.Lacking > 0 {
			o.text("makers", screens.Makers(&p).String())
		}
	}
	return o.text("id", d.job.ID).text("name", d.name()).int("revision", d.job.Revision).text("savedAt", d.job.SavedAt)
}

// opWork does rows that wait, for about the given milliseconds. Columns that came into use are shown when all are done, and nobody types into a cell.
func opWork(d *Desk, in *arguments) raw {
	done, total := d.work(time.Duration(in.int()) * time.Millisecond)
	_, typing := d.grid().Editing()
	columns := done == total && d.kind == job.MachinesSheet && !d.looked && !typing // a cell that is typed into stays where it is
	if columns {
		d.looked = true
		columns = d.unhide()
	}
	return new(object).int("done", done).int("total", total).yes("columns", columns).end()
}
