package desk

import (
	"bytes"
	"slices"
	"time"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
)

// An operation answers the page.
type operation func(d *Desk, in *arguments) raw

// operations is all that the page can ask for.
var operations map[string]operation

func init() {
	operations = map[string]operation{
		"state":  func(d *Desk, _ *arguments) raw { return d.answerState() },
		"layout": func(d *Desk, _ *arguments) raw { return d.layout() },
		"viewport": func(d *Desk, in *arguments) raw {
			x0, y0, x1, y1 := in.int(), in.int(), in.int(), in.int()
			return raw(d.grid().AppendViewport(nil, x0, y0, x1, y1, d))
		},
		"info":     func(d *Desk, _ *arguments) raw { return d.info() },
		"told":     opTold,
		"work":     opWork,
		"count":    opCount,
		"problems": func(d *Desk, _ *arguments) raw { return d.problems() },
		"help":     opHelp,
		"print":    opPrint,

		"sheet": func(d *Desk, in *arguments) raw {
			if k := in.int(); k >= 0 && k < len(kinds) {
				d.grid().Cancel()
				d.kind = kinds[k]
			}
			return d.answerState()
		},
		"go":        moving(func(g *grid.Model, in *arguments) { g.Go(grid.Pos{Row: in.int(), Col: in.int()}, in.yes()) }),
		"move":      moving(func(g *grid.Model, in *arguments) { g.Move(in.int(), in.int(), in.yes()) }),
		"step":      moving(func(g *grid.Model, in *arguments) { g.Step(in.int(), in.int()) }),
		"rowStart":  moving(func(g *grid.Model, in *arguments) { g.RowStart(in.yes(), in.yes()) }),
		"rowEnd":    moving(func(g *grid.Model, in *arguments) { g.RowEnd(in.yes(), in.yes()) }),
		"selectAll": moving(func(g *grid.Model, _ *arguments) { g.SelectAll() }),
		"select": moving(func(g *grid.Model, in *arguments) {
			g.Select(grid.Rect{R0: in.int(), C0: in.int(), R1: in.int(), C1: in.int()})
		}),
		"jump": func(d *Desk, in *arguments) raw {
			dr, dc, extend := in.int(), in.int(), in.yes()
			d.grid().Jump(dr, dc, extend, func(p grid.Pos) bool {
				if c := d.grid().Column(p.Col); c < 0 {
					return d.result(d.grid().Stored(p.Row), ^c) != ""
				}
				return d.grid().At(p) != ""
			})
			return d.answerState()
		},

		"begin": func(d *Desk, _ *arguments) raw {
			text, ok := d.grid().Begin()
			var ch grid.Change
			if !ok {
				ch.Note = "This column is worked out and cannot be typed."
			}
			o := d.state(ch).text("text", text).yes("ok", ok)
			if p := d.grid().Cursor(); ok {
				list, closed := d.choices(d.grid().Stored(p.Row), d.grid().Column(p.Col))
				o.texts("choices", list).yes("closed", closed)
			}
			return o.end()
		},
		"tryText":    opTry,
		"arrange":    opArrange,
		"viewOf":     opViewOf,
		"rowNumbers": opRowNumbers,
		"find":       opFind,
		"replace":    opReplace,
		"replaceAll": changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change {
			return g.ReplaceAll(in.text(), in.text(), findOptions(in.text()))
		}),
		"sums": opSums,
		"plan": opPlan,
		"planned": changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change {
			p, learnt := d.planned, d.learnt
			d.planned, d.learnt = nil, nil
			if p == nil {
				return grid.Change{}
			}
			ch := g.ApplyPlan(p)
			if ch.Any {
				d.learn(learnt)
			}
			return ch
		}),
		"match":         opMatch,
		"matchPlan":     opMatchPlan,
		"learnt":        opLearnt,
		"drawing":       opDrawing,
		"feet":          opFeet,
		"makeRows":      changing(makeRows),
		"picture":       opPicture,
		"figure":        opFigure,
		"width":         opWidth,
		"showColumns":   opShowColumns,
		"columnGroups":  opColumnGroups,
		"duplicateRows": changing(func(_ *Desk, g *grid.Model, _ *arguments) grid.Change { return g.DuplicateRows() }),
		"moveRows":      changing(func(_ *Desk, g *grid.Model, in *arguments) grid.Change { return g.MoveRows(in.int()) }),
		"fillRight":     changing(func(_ *Desk, g *grid.Model, _ *arguments) grid.Change { return g.FillRight() }),
		"series":        changing(func(_ *Desk, g *grid.Model, _ *arguments) grid.Change { return series(g) }),
		"fillTo": changing(func(_ *Desk, g *grid.Model, in *arguments) grid.Change {
			return g.FillTo(grid.Rect{R0: in.int(), C0: in.int(), R1: in.int(), C1: in.int()}, in.yes())
		}),
		"sortStored": changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change {
			v := &d.views[d.kind]
			keys := v.Sort
			ch := g.SortStored()
			if sorted, _ := g.Arranged(); !sorted {
				v.Sort = nil
			}
			if ch.Any {
				d.sorts, d.undone = append(d.sorts, keys), nil
			}
			return ch
		}),
		"goStored": opGoStored,
		"crew":     opCrew,
		"crewSet":  opCrewSet, "crewPaste": opCrewPaste, "undoOn": opUndoOn, "newRound": opNewRound, "strike": opStrike, "crewAbout": opCrewAbout, "findMachine": opFindMachine, "clockAt": opClockAt,
		"showAs": func(d *Desk, in *arguments) raw {
			d.shown = in.text()
			d.ev.ShowAs(d.shown)
			return d.answerState()
		},
		"cancel":    moving(func(g *grid.Model, _ *arguments) { g.Cancel() }),
		"commitAll": changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change { return g.CommitAll(in.text()) }),
		"fillAlong": changing(func(_ *Desk, g *grid.Model, in *arguments) grid.Change { return g.FillAlong(in.yes()) }),
		"also":      moving(func(g *grid.Model, in *arguments) { g.Also(grid.Pos{Row: in.int(), Col: in.int()}) }),
		"commit": changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change {
			return g.Commit(in.text(), in.int(), in.int())
		}),
		"paste":  changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change { return d.paste(in.text()) }),
		"delete": changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change { return g.Delete() }),
		"fill":   changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change { return g.FillDown() }),
		"insertRows": changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change {
			return g.InsertRows()
		}),
		"deleteRows":   changing(func(d *Desk, g *grid.Model, _ *arguments) grid.Change { return g.DeleteRows() }),
		"addColumn":    changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change { return g.AddColumn(in.int(), in.text()) }),
		"rename":       changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change { return g.Rename(in.int(), in.text()) }),
		"deleteColumn": changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change { return g.DeleteColumn(in.int()) }),
		"columns": changing(func(d *Desk, g *grid.Model, in *arguments) grid.Change {
			return g.SetHeader(usualColumns(in.text()))
		}),
		"undo":        func(d *Desk, _ *arguments) raw { return d.state(noted("Undone: ", d.undo())).end() },
		"redo":        func(d *Desk, _ *arguments) raw { return d.state(noted("Done again: ", d.redo())).end() },
		"copy":        opCopy,
		"hideColumns": opHideColumns,
		"resultsFirst": func(d *Desk, in *arguments) raw {
			d.resultsFirst = in.yes()
			at := d.grid().Column(d.grid().Cursor().Col)
			d.setOrder(job.MachinesSheet)
			d.keepColumn(d.grid(), at)
			return d.state(grid.Change{}).yes("arranged", true).end()
		},
		"cut": func(d *Desk, _ *arguments) raw {
			text, html, ch := d.grid().Cut(d.result)
			d.changed(d.kind, ch)
			return d.state(ch).text("text", text).text("html", html).end()
		},

		"new": func(d *Desk, _ *arguments) raw {
			d.open(job.NewJob())
			return d.answerState()
		},
		"demo": func(d *Desk, in *arguments) raw {
			lists := map[job.SheetKind]string{}
			for _, k := range kinds {
				lists[k] = in.text()
			}
			err := d.demo(lists)
			if err != nil {
				return failure(err.Error())
			}
			return d.answerState()
		},
		"openJob":  opOpenJob,
		"openFile": opOpenFile,
		"job": func(d *Desk, _ *arguments) raw {
			d.writeViews()
			return d.text(d.job.Seal())
		},
		"save": func(d *Desk, in *arguments) raw {
			return d.text(d.saved(in.text()))
		},
		"first": opFirst,
		"csv": func(d *Desk, _ *arguments) raw {
			var b bytes.Buffer
			if d.job.Machines == nil || len(d.job.Machines.Rows) == 0 {
				return failure("There is no machine yet.")
			}
			err := d.ev.ResultsCSV(&b)
			return d.text(b.Bytes(), err)
		},
		"record":         opRecord,
		"wholeCopy":      opWholeCopy,
		"wholeRows":      opWholeRows,
		"copyBegin":      opCopyBegin,
		"copyRows":       opCopyRows,
		"copyRecord":     opCopyRecord,
		"copyCompare":    opCopyCompare,
		"copyOpen":       opCopyOpen,
		"copyText":       opCopyText,
		"head":           func(d *Desk, _ *arguments) raw { return d.text(d.head()) },
		"rows":           opRows,
		"coming":         opComing,
		"comingRows":     opComingRows,
		"take":           opTake,
		"columnsToMatch": opColumns,
		"listsHead":      opListsHead,
		"listsRows":      opListsRows,
		"lists":          opLists,
		"sharing":        opSharing,
		"shared":         opShared,
		"notShared":      opNotShared,
		"tables":         opTables,
		"table":          opTable,
		"lookup":         opLookup,
		"tableDo":        opTableDo,
		"tableText":      opTableText,
		"screen":         opScreen,
		"took":           opTook,
		"photo":          opPhoto,
	}
}

// moving wraps what only moves the cursor.
func moving(f func(g *grid.Model, in *arguments)) operation {
	return func(d *Desk, in *arguments) raw {
		f(d.grid(), in)
		return d.answerState()
	}
}

// changing wraps what may change the sheet.
func changing(f func(d *Desk, g *grid.Model, in *arguments) grid.Change) operation {
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
	return o.text("id", d.job.ID).text("name", d.name()).int("revision", d.job.Revision).text("savedAt", d.job.SavedAt)
}

// opWork does rows that wait, for about the given milliseconds.
func opWork(d *Desk, in *arguments) raw {
	done, total := d.work(time.Duration(in.int()) * time.Millisecond)
	columns := done == total && d.kind == job.MachinesSheet && !d.looked
	if columns {
		d.looked = true
		columns = d.unhide()
	}
	return new(object).int("done", done).int("total", total).yes("columns", columns).end()
}
