//go:build js && wasm

package main

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"shimsheet/internal/calc"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/screens"
	"shimsheet/internal/sheet"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

// An operation answers the page.
type operation func(a *app, in *arguments) raw

// operations is all that the page can ask for.
var operations map[string]operation

func init() {
	operations = map[string]operation{
		"state":  func(a *app, _ *arguments) raw { return a.answerState() },
		"layout": func(a *app, _ *arguments) raw { return a.layout() },
		"viewport": func(a *app, in *arguments) raw {
			x0, y0, x1, y1 := in.int(), in.int(), in.int(), in.int()
			return raw(a.grid().AppendViewport(nil, x0, y0, x1, y1, a))
		},
		"info":     func(a *app, _ *arguments) raw { return a.info() },
		"told":     opTold,
		"work":     opWork,
		"count":    opCount,
		"problems": func(a *app, _ *arguments) raw { return a.problems() },
		"help":     opHelp,
		"print":    opPrint,

		"sheet": func(a *app, in *arguments) raw {
			if k := in.int(); k >= 0 && k < len(kinds) {
				a.grid().Cancel()
				a.kind = kinds[k]
			}
			return a.answerState()
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
		"jump": func(a *app, in *arguments) raw {
			dr, dc, extend := in.int(), in.int(), in.yes()
			a.grid().Jump(dr, dc, extend, func(p grid.Pos) bool {
				if c := a.grid().Column(p.Col); c < 0 {
					return a.result(a.grid().Stored(p.Row), ^c) != ""
				}
				return a.grid().At(p) != ""
			})
			return a.answerState()
		},

		"begin": func(a *app, _ *arguments) raw {
			text, ok := a.grid().Begin()
			var ch grid.Change
			if !ok {
				ch.Note = "This column is worked out and cannot be typed."
			}
			o := a.state(ch).text("text", text).yes("ok", ok)
			if p := a.grid().Cursor(); ok {
				list, closed := a.choices(a.grid().Stored(p.Row), a.grid().Column(p.Col))
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
		"replaceAll": changing(func(a *app, g *grid.Model, in *arguments) grid.Change {
			return g.ReplaceAll(in.text(), in.text(), findOptions(in.text()))
		}),
		"sums": opSums,
		"plan": opPlan,
		"planned": changing(func(a *app, g *grid.Model, _ *arguments) grid.Change {
			p, learnt := a.planned, a.learnt
			a.planned, a.learnt = nil, nil
			if p == nil {
				return grid.Change{}
			}
			ch := g.ApplyPlan(p)
			if ch.Any {
				a.learn(learnt)
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
		"duplicateRows": changing(func(_ *app, g *grid.Model, _ *arguments) grid.Change { return g.DuplicateRows() }),
		"moveRows":      changing(func(_ *app, g *grid.Model, in *arguments) grid.Change { return g.MoveRows(in.int()) }),
		"fillRight":     changing(func(_ *app, g *grid.Model, _ *arguments) grid.Change { return g.FillRight() }),
		"series":        changing(func(_ *app, g *grid.Model, _ *arguments) grid.Change { return series(g) }),
		"fillTo": changing(func(_ *app, g *grid.Model, in *arguments) grid.Change {
			return g.FillTo(grid.Rect{R0: in.int(), C0: in.int(), R1: in.int(), C1: in.int()}, in.yes())
		}),
		"sortStored": changing(func(a *app, g *grid.Model, _ *arguments) grid.Change {
			v := &a.views[a.kind]
			keys := v.Sort
			ch := g.SortStored()
			if sorted, _ := g.Arranged(); !sorted {
				v.Sort = nil
			}
			if ch.Any {
				a.sorts, a.undone = append(a.sorts, keys), nil
			}
			return ch
		}),
		"goStored": opGoStored,
		"crew":     opCrew,
		"crewSet":  opCrewSet, "crewPaste": opCrewPaste, "undoOn": opUndoOn, "newRound": opNewRound, "strike": opStrike, "crewAbout": opCrewAbout, "findMachine": opFindMachine, "clockAt": opClockAt,
		"set": changing(func(a *app, g *grid.Model, in *arguments) grid.Change {
			row, col := in.int(), in.int()
			return g.SetCell(row, col, in.text())
		}),
		"showAs": func(a *app, in *arguments) raw {
			a.shown = in.text()
			a.ev.ShowAs(a.shown)
			return a.answerState()
		},
		"cancel":    moving(func(g *grid.Model, _ *arguments) { g.Cancel() }),
		"commitAll": changing(func(a *app, g *grid.Model, in *arguments) grid.Change { return g.CommitAll(in.text()) }),
		"fillAlong": changing(func(_ *app, g *grid.Model, in *arguments) grid.Change { return g.FillAlong(in.yes()) }),
		"also":      moving(func(g *grid.Model, in *arguments) { g.Also(grid.Pos{Row: in.int(), Col: in.int()}) }),
		"commit":    changing(func(a *app, g *grid.Model, in *arguments) grid.Change { return g.Commit(in.text(), in.int(), in.int()) }),
		"paste":     changing(func(a *app, g *grid.Model, in *arguments) grid.Change { return a.paste(in.text()) }),
		"delete":    changing(func(a *app, g *grid.Model, _ *arguments) grid.Change { return g.Delete() }),
		"fill":      changing(func(a *app, g *grid.Model, _ *arguments) grid.Change { return g.FillDown() }),
		"insertRows": changing(func(a *app, g *grid.Model, _ *arguments) grid.Change {
			return g.InsertRows()
		}),
		"deleteRows":   changing(func(a *app, g *grid.Model, _ *arguments) grid.Change { return g.DeleteRows() }),
		"clear":        changing(func(a *app, g *grid.Model, _ *arguments) grid.Change { return g.Clear() }),
		"addColumn":    changing(func(a *app, g *grid.Model, in *arguments) grid.Change { return g.AddColumn(in.int(), in.text()) }),
		"rename":       changing(func(a *app, g *grid.Model, in *arguments) grid.Change { return g.Rename(in.int(), in.text()) }),
		"deleteColumn": changing(func(a *app, g *grid.Model, in *arguments) grid.Change { return g.DeleteColumn(in.int()) }),
		"columns": changing(func(a *app, g *grid.Model, in *arguments) grid.Change {
			return g.SetHeader(usualColumns(in.text()))
		}),
		"undo":        func(a *app, _ *arguments) raw { return a.state(noted("Undone: ", a.undo())).end() },
		"redo":        func(a *app, _ *arguments) raw { return a.state(noted("Done again: ", a.redo())).end() },
		"copy":        opCopy,
		"hideColumns": opHideColumns,
		"resultsFirst": func(a *app, in *arguments) raw {
			a.resultsFirst = in.yes()
			at := a.grid().Column(a.grid().Cursor().Col)
			a.setOrder(job.MachinesSheet)
			a.keepColumn(a.grid(), at)
			return a.state(grid.Change{}).yes("arranged", true).end()
		},
		"cut": func(a *app, _ *arguments) raw {
			text, html, ch := a.grid().Cut(a.result)
			a.changed(a.kind, ch)
			return a.state(ch).text("text", text).text("html", html).end()
		},

		"new": func(a *app, _ *arguments) raw {
			a.open(job.NewJob())
			return a.answerState()
		},
		"demo": func(a *app, in *arguments) raw {
			lists := map[job.SheetKind]string{}
			for _, k := range kinds {
				lists[k] = in.text()
			}
			err := a.demo(lists)
			if err != nil {
				return failure(err.Error())
			}
			return a.answerState()
		},
		"openJob":  opOpenJob,
		"openFile": opOpenFile,
		"job": func(a *app, _ *arguments) raw {
			a.writeViews()
			return a.text(a.job.Seal())
		},
		"save": func(a *app, in *arguments) raw {
			return a.text(a.saved(in.text()))
		},
		"first": opFirst,
		"csv": func(a *app, _ *arguments) raw {
			var b bytes.Buffer
			if a.job.Machines == nil || len(a.job.Machines.Rows) == 0 {
				return failure("There is no machine yet.")
			}
			err := a.ev.ResultsCSV(&b)
			return a.text(b.Bytes(), err)
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
		"head":           func(a *app, _ *arguments) raw { return a.text(a.head()) },
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
		"bench":          opBench,
		"benchPacks":     opBenchPacks,
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
	return func(a *app, in *arguments) raw {
		f(a.grid(), in)
		return a.answerState()
	}
}

// changing wraps what may change the sheet.
func changing(f func(a *app, g *grid.Model, in *arguments) grid.Change) operation {
	return func(a *app, in *arguments) raw {
		ch := f(a, a.grid(), in)
		a.changed(a.kind, ch)
		return a.state(ch).end()
	}
}

// opCopy copies the selection: with the names of the columns or not, and results as they are shown or as plain numbers in the job's own decimal sign.
func opCopy(a *app, in *arguments) raw {
	heads, plain := in.yes(), in.yes()
	g := a.grid()
	var names func(x int) string
	if heads {
		names = a.headOf
	}
	shown := a.result
	if plain && a.kind == job.MachinesSheet {
		shown = a.plainResult
	}
	text, html := g.CopyTable(shown, names)
	ch := grid.Change{}
	if text == "" && len(g.Ranges()) > 0 {
		ch.Note = "Ranges are copied together when they have the same rows or the same columns. Nothing was copied."
	}
	return a.state(ch).text("text", text).text("html", html).end()
}

// headOf is the name of a shown column with its unit, as it can be pasted as a header.
func (a *app) headOf(x int) string {
	g := a.grid()
	c := g.Column(x)
	if c >= 0 {
		return g.Header()[c]
	}
	if a.kind == job.SettingsSheet {
		return "Meaning"
	}
	name := a.results[^c].Name
	if u := a.resultUnit(c); u != "" {
		name += " [" + u + "]"
	}
	return name
}

// plainResult is a result as a bare number with the job's decimal sign; what is no number is as it is shown.
func (a *app) plainResult(row, k int) string {
	v, text := a.cellKey(row, ^k)
	if math.IsNaN(v) {
		if text == "" {
			return a.result(row, k)
		}
		return text
	}
	return a.sign(strconv.FormatFloat(v, 'g', 12, 64))
}

// opHideColumns hides the columns of the selection, but the machine's name; they come back with the columns in use or with all.
func opHideColumns(a *app, _ *arguments) raw {
	g := a.grid()
	if a.kind != job.MachinesSheet {
		return a.state(grid.Change{Note: "Columns are hidden on the sheet Machines."}).end()
	}
	v := &a.views[a.kind]
	sel := g.Selection()
	var names []string
	for x := sel.C0; x <= sel.C1 && len(names) < g.Columns()-1; x++ {
		if c := g.Column(x); c != a.machine || c < 0 {
			v.Hidden = append(v.Hidden, hiddenColumn+a.columnName(c))
			names = append(names, a.headOf(x))
		}
	}
	if len(names) == 0 {
		return a.state(grid.Change{Note: "The machine's name stays."}).end()
	}
	a.setOrder(a.kind)
	g.Go(grid.Pos{Row: g.Cursor().Row, Col: min(sel.C0, g.Columns()-1)}, false)
	note := plural(len(names), "column is hidden", "columns are hidden") + ": " + strings.Join(names[:min(len(names), 4)], ", ")
	return a.state(grid.Change{Note: note + ". View, Columns shown brings them back."}).yes("arranged", true).end()
}

func noted(word string, ch grid.Change) grid.Change {
	if ch.Any {
		ch.Note = word + ch.Note + "."
	}
	return ch
}

func (a *app) text(b []byte, err error) raw {
	if err != nil {
		return failure(err.Error())
	}
	return a.state(grid.Change{}).text("text", string(b)).end()
}

func (a *app) answerState() raw { return a.state(grid.Change{}).end() }

// state is what the page shows around the cells, and what ch did: sel is first row, first column, last row, last column; blank says
// which sheets hold nothing.
func (a *app) state(ch grid.Change) *object {
	g := a.grid()
	sel, cur := g.Selection(), g.Cursor()
	o := new(object).int("sheet", slices.Index(kinds[:], a.kind)).int("row", cur.Row).int("col", cur.Col).int("stored", g.Stored(cur.Row))
	o.text("shown", a.shown).yes("all", a.all).yes("resultsFirst", a.resultsFirst)
	if more := g.Ranges(); len(more) > 0 {
		var list []int
		for _, r := range more {
			list = append(list, r.R0, r.C0, r.R1, r.C1)
		}
		o.ints("more", list)
	}
	o.numbers("sel", []float64{float64(sel.R0), float64(sel.C0), float64(sel.R1), float64(sel.C1)})
	o.int("rows", g.ShownRows()).text("view", a.arrangedWords()).int("height", g.Height()).int("columns", g.Columns()).int("machines", a.ev.Len()).text("undo", a.undoName()).text("redo", a.redoName())
	o.int("desk", a.number).int("changes", a.changes).yes("changed", ch.Any).yes("header", ch.Header).text("note", ch.Note)
	return o.text("id", a.job.ID).text("name", a.name()).int("revision", a.job.Revision).text("savedAt", a.job.SavedAt)
}

// A columnInfo is what the page knows of a shown column.
type columnInfo struct {
	screens.ListColumn
	Help   string
	Column int    // in the table; −1 for a result
	ID     string // as columnName gives it
}

// layout describes the shown columns.
func (a *app) layout() raw {
	var out []*object
	for _, c := range a.columns() {
		o := new(object).text("name", c.Name).text("line1", c.Line1).text("line2", c.Line2).text("group", c.Group).text("unit", c.Unit)
		out = append(out, o.yes("result", c.Result).yes("number", c.Number).int("width", c.Width).text("help", c.Help).text("key", c.Key).int("column", c.Column).text("id", c.ID))
	}
	return new(object).objects("columns", out).int("firstRow", a.firstRow()).int("frozen", a.frozen()).end()
}

// opFirst is the list as a saved page shows it before its program is up, of the job whose digest is the argument: the first rows of the Machines sheet as it is shown.
func opFirst(a *app, in *arguments) raw {
	digest, was := in.text(), a.kind
	a.kind = job.MachinesSheet
	defer func() { a.kind = was }()
	g := a.grid()
	if a.frozen() == 0 {
		return new(object).text("html", "").end()
	}
	var columns []screens.ListColumn
	for _, c := range a.columns() {
		columns = append(columns, c.ListColumn)
	}
	rows := make([]screens.ListRow, min(g.ShownRows(), screens.FirstRows))
	cells := strings.Split(string(g.AppendViewport(nil, 0, 0, len(columns), len(rows), a)), string(rune(grid.RowEnd)))
	for y := range rows {
		rows[y].Number = a.firstRow() + g.Stored(y)
		for _, c := range strings.Split(strings.TrimSuffix(cells[y], string(rune(grid.CellEnd))), string(rune(grid.CellEnd))) {
			rows[y].Cells = append(rows[y].Cells, screens.ListCell{Mark: c[0], Text: c[1:]})
		}
	}
	return new(object).text("html", screens.FirstList(columns, rows, digest, a.arrangedWords()).String()).end()
}

// columns are the shown columns.
func (a *app) columns() []columnInfo {
	g := a.grid()
	list := make([]columnInfo, g.Columns())
	for x := range list {
		c := &list[x]
		k := g.Column(x)
		c.Column = k
		if k < 0 {
			c.Column = -1
			c.Result = true
			if a.kind == job.SettingsSheet {
				c.Name, c.Line2, c.Width = "Meaning", "Meaning", 900
				continue
			}
			r := &a.results[^k]
			c.Name, c.Key, c.Help, c.Group = r.Name, r.Key, r.Help, "Results"
			c.Unit = a.resultUnit(k)
			c.Number = r.Quantity != job.QText && !strings.Contains(r.Key, "pack") && r.Key != "balance" && r.Key != "closure" && r.Key != "bolt_shims"
		} else {
			head := g.Header()[k]
			c.Name, c.Unit = a.unitOf(a.kind, head)
			if a.kind == job.MachinesSheet {
				if u := a.ev.ShownUnit(k); u != units.None {
					c.Unit = u.String()
				}
			}
			if info := job.FindColumn(a.kind, head); info != nil {
				c.Key, c.Help, c.Group = info.Key, info.Help, strings.ToUpper(info.Group[:1])+info.Group[1:]
				c.Number = info.Quantity != job.QText && info.Quantity != job.QChoice && info.Quantity != job.QSweep && info.Quantity != job.QDistances
				if info.Result {
					c.Group, c.Help = "Own", "A column of results that was typed or pasted. It is kept, and not read."
				}
			} else if a.kind == job.MachinesSheet {
				c.Group, c.Help = "Own", "A column the program does not know. It is kept as it is."
			}
			if a.kind == job.SettingsSheet {
				c.Number, c.Unit, c.Help, c.Group = false, "", "", ""
			}
		}
		if c.Name == "" {
			c.Name = fmt.Sprintf("(column %d)", k+1)
		}
		c.Line1, c.Line2 = screens.TwoLines(c.Name)
		c.Width = a.width(x, c)
		c.ID = a.columnName(k)
	}
	// A first line shared by neighbours needs room over all of them; alone it needs its own.
	for i := 0; i < len(list); {
		j := i + 1
		for j < len(list) && list[j].Line1 == list[i].Line1 && list[j].Group == list[i].Group && list[i].Line1 != "" {
			j++
		}
		sum := 0
		for _, c := range list[i:j] {
			sum += c.Width
		}
		if need := 9*utf8.RuneCountInString(list[i].Line1) + 18; need > sum {
			for m := i; m < j; m++ {
				list[m].Width += (need - sum + j - i - 1) / (j - i)
			}
		}
		i = j
	}
	for _, w := range a.views[a.kind].Widths {
		if i := slices.IndexFunc(list, func(c columnInfo) bool { return c.ID == w.Col }); i >= 0 {
			list[i].Width = w.Px
		}
	}
	return list
}

// firstRow is the number of the sheet's first row, as messages count.
func (a *app) firstRow() int {
	if t := a.job.Table(a.kind); t != nil && t.Header != nil && t.FirstRow > 0 {
		return t.FirstRow
	}
	return len(a.grid().Title()) + 2
}

// frozen is how many of the first shown columns stay in sight: the machine's name.
func (a *app) frozen() int {
	if a.kind == job.MachinesSheet && a.machine >= 0 || a.kind == job.SettingsSheet && a.grid().Columns() > 0 {
		return 1
	}
	return 0
}

// width is how wide a column is shown, in CSS pixels at 15 px text, by its name and what stands in its first rows.
func (a *app) width(x int, c *columnInfo) int {
	longest := 0
	g := a.grid()
	k := g.Column(x)
	if k >= 0 {
		for r := range min(len(g.Rows()), 300) {
			if t := g.Cell(r, k); len(t) > longest {
				longest = max(longest, utf8.RuneCountInString(t))
			}
		}
	} else if c.Number && (strings.Contains(c.Key, "move") || strings.Contains(c.Key, "offset") || strings.Contains(c.Key, "slope")) {
		for r := range min(len(g.Rows()), 40) {
			longest = max(longest, utf8.RuneCountInString(a.result(r, ^k)))
		}
	}
	return screens.ColumnWidth(&c.ListColumn, longest)
}

// info is what the bar above the cells and the panel beside them say about the cursor.
func (a *app) info() raw {
	g := a.grid()
	p := g.Cursor()
	row := g.Stored(p.Row)
	out := new(object)
	if g.Columns() > 0 {
		c := g.Column(p.Col)
		name, text := "Meaning", ""
		if c >= 0 {
			name, text = strings.TrimSpace(g.Header()[c]), g.At(p)
			info := job.FindColumn(a.kind, g.Header()[c])
			if a.kind == job.SettingsSheet && c == 1 {
				info = job.FindColumn(a.kind, g.Cell(row, 0))
			}
			if info != nil {
				out.text("help", info.Help).texts("choices", info.Choices)
			}
			if pr := a.cellProblem(row, c); pr != nil {
				out.text("severity", pr.Severity.String()).text("problem", pr.Text).text("hint", pr.Hint)
			}
			if a.kind == job.MachinesSheet {
				out.text("meaning", a.ev.Meaning(row, c))
			} else if a.kind != job.SettingsSheet {
				out.text("meaning", a.ev.MeaningIn(a.kind, g.Header()[c], text))
			} else if c == 1 {
				out.text("meaning", a.ev.MeaningIn(a.kind, g.Cell(row, 0), text))
			}
		} else {
			text = a.result(row, ^c)
			if a.kind == job.MachinesSheet {
				name = a.results[^c].Name
				out.text("help", a.results[^c].Help)
			}
		}
		out.text("where", fmt.Sprintf("Row %d, %s", a.firstRow()+row, name)).text("text", text)
	}
	if a.kind == job.MachinesSheet {
		a.machRow = row
	} else if name := a.follow(row); name != "" {
		out.text("nobody", name)
	}
	r := a.ev.Row(a.machRow)
	if r == nil || r.Kind != sheet.MachineRow {
		return out.end()
	}
	out.text("machine", r.Name).text("verdict", string(verdictMark(r.Verdict))).yes("feet", r.Feet != nil).yes("growth", r.Growth != nil).yes("rounds", len(r.Rounds) > 1)
	var sayings [][]string
	for _, s := range a.ev.Sentences(a.machRow) {
		sayings = append(sayings, []string{s.Kind.String(), s.Text})
	}
	var numbers [][]string
	for k := first; k < len(a.results); k++ {
		rc := &a.results[k]
		text := string(a.ev.AppendResultText(nil, a.machRow, k))
		if text == "" {
			continue
		}
		name := rc.Name
		if u := a.resultUnit(^k); u != "" {
			name += " [" + u + "]"
		}
		numbers = append(numbers, []string{name, text})
	}
	var problems []*object
	for i := range r.Problems {
		problems = append(problems, a.rowProblem(a.machRow, &r.Problems[i]).object())
	}
	return out.rows("sentences", sayings).rows("numbers", numbers).objects("problems", problems).end()
}

// opTold is what is said aloud after the cell at a row and shown column was typed: its problem, else the verdict of its row.
func opTold(a *app, in *arguments) raw {
	row, col := a.grid().Stored(in.int()), in.int()
	text := ""
	if p := a.cellProblem(row, a.grid().Column(col)); p != nil && p.Severity == job.Error {
		text = p.String()
	} else if r := a.ev.Row(row); a.kind == job.MachinesSheet && r != nil && r.Kind == sheet.MachineRow {
		for _, s := range a.ev.Sentences(row) {
			if s.Kind == sheet.SentenceVerdict {
				text = r.Name + ": " + s.Text
				break
			}
		}
	}
	return new(object).text("text", text).end()
}

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

func (a *app) rowProblem(row int, p *job.Problem) problemPlace {
	if k, at, ok := a.place(*p); ok && k != job.MachinesSheet {
		return a.onSheet(p, k, at)
	}
	out := problemPlace{Sheet: 0, Row: row, Col: p.Col, Severity: p.Severity, Text: p.Text, Hint: p.Hint}
	out.Where = fmt.Sprintf("%s row %d", job.MachinesSheet, p.Row)
	if r := a.ev.Row(row); r != nil && r.Name != "" {
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
func (a *app) problems() raw {
	list := a.noticed()
	for _, p := range a.ev.Problems() {
		out := problemPlace{Row: -1, Col: -1, Severity: p.Severity, Where: p.Sheet, Text: p.Text, Hint: p.Hint}
		if k, row, ok := a.place(p); ok {
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
	for i := range a.ev.Len() {
		r := a.ev.Row(i)
		total += len(r.Problems)
		for j := range r.Problems {
			if p := &r.Problems[j]; rest[p.Severity] > 0 { // wording them all would take long
				rest[p.Severity]--
				list = append(list, a.rowProblem(i, p))
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

// opWork does rows that wait, for about the given milliseconds.
func opWork(a *app, in *arguments) raw {
	done, total := a.work(time.Duration(in.int()) * time.Millisecond)
	columns := done == total && a.kind == job.MachinesSheet && !a.looked
	if columns {
		a.looked = true
		columns = a.unhide()
	}
	return new(object).int("done", done).int("total", total).yes("columns", columns).end()
}

// opCount counts the couplings, the verdicts and the problems of all sheets.
func opCount(a *app, _ *arguments) raw {
	n, v := a.ev.Count()
	problems := len(a.noticed()) + len(a.ev.Problems())
	for i := range a.ev.Len() {
		problems += len(a.ev.Row(i).Problems)
	}
	return new(object).int("problems", problems).int("couplings", n).int("notJudged", v[calc.NotJudged]).int("inside", v[calc.Inside]).int("outside", v[calc.Outside]).int("tooClose", v[calc.TooClose]).end()
}

// methodWords name the choices of usual columns.
var methodWords = map[string]job.Method{"reverse indicator": job.ReverseIndicator, "rim and face": job.RimAndFace, "two rims": job.TwoRims,
	"face and face": job.FaceAndFace, "straightedge and gap": job.StraightedgeAndGap, "sweeps": job.Sweeps, "line": job.GivenLineMethod, "": job.MethodBlank}

// usualLeftOut are columns a list rarely needs; they can be added one by one.
var usualLeftOut = []string{"Train", "Further feet", "Bolt circle", "Bolts", "Coupling to flange", "Stationary near support", "Stationary far support",
	"Stationary plane to movable plane", "Movable plane to front feet", "Graduation", "Repeatability", "Limits", "Offset limit", "Slope limit"}

// usualColumns is a header for one method, without the columns of growth, room and trust.
func usualColumns(method string) []string {
	m, ok := methodWords[method]
	head := strings.Split(job.HeaderBlock(job.MachinesSheet, m, false), "\t")
	var out []string
	for _, h := range head {
		name, _, _ := strings.Cut(h, " [")
		info := job.FindColumn(job.MachinesSheet, name)
		if ok && m != job.MethodBlank {
			if info == nil || info.Group == "growth" || info.Group == "room" || slices.Contains(usualLeftOut, name) ||
				strings.HasPrefix(name, "Stationary face") && m == job.RimAndFace || strings.HasPrefix(name, "Stationary rim") && m == job.RimAndFace ||
				(name == "Coupling to stationary plane" || name == "Stationary sag at 6" || name == "Stationary face sag at 6") && m == job.RimAndFace {
				continue
			}
			if name == "Note" {
				continue
			}
		}
		out = append(out, name)
	}
	if ok && m != job.MethodBlank {
		out = append(out, "Note")
	}
	return out
}

// opHelp is the table of columns and the header blocks to copy.
func opHelp(a *app, _ *arguments) raw {
	var list []*object
	for _, c := range job.Columns() {
		unit := ""
		if m, in := c.Unit(false), c.Unit(true); m != 0 {
			if unit = m.String(); in != m {
				unit += ", " + in.String()
			}
		}
		list = append(list, new(object).text("sheet", c.Sheet.String()).text("group", c.Group).text("name", c.Name).text("unit", unit).text("help", c.Help).
			texts("choices", c.Choices).texts("also", c.Spellings[1:]).yes("result", c.Result))
	}
	blocks := new(object)
	for w, m := range methodWords {
		if w == "" {
			blocks.text(w, job.HeaderBlock(job.MachinesSheet, m, a.ev.Inch()))
		} else {
			blocks.text(w, strings.Join(usualColumns(w), "\t"))
		}
	}
	return new(object).objects("columns", list).objects("blocks", []*object{blocks}).texts("cautions", cautions()).text("version", version).end()
}

func cautions() []string {
	var out []string
	for _, c := range tables.Cautions() {
		s := c.Text
		if c.Source.Text != "" {
			s += " (" + c.Source.Text + ")"
		}
		out = append(out, s)
	}
	return out
}

// opPrint is the printed list of the machines shown, as HTML. It takes the time in words.
func opPrint(a *app, in *arguments) raw {
	return new(object).text("html", screens.ListPaper(a.ev, a.couplings(), a.name(), in.text()).String()).end()
}

// opBench works out n reverse indicator rows of a job of its own, several times over, and says how long it took, in milliseconds.
func opBench(_ *app, in *arguments) raw {
	n, times := min(in.int(), 100_000), min(in.int(), 100)
	head := strings.Split("Machine\tSpeed\tCoupling\tCoupling to stationary plane\tCoupling to movable plane\tCoupling to front feet\tFront to rear feet\t"+
		"Movable rim 12\tMovable rim 3\tMovable rim 6\tMovable rim 9\tStationary rim 12\tStationary rim 3\tStationary rim 6\tStationary rim 9", "\t")
	rows := make([][]string, n)
	for i := range rows {
		d, h := float64(i%41-20)/100, float64(i%23-11)/100
		mm := func(v float64) string { return fmt.Sprintf("%.2f", v) }
		rows[i] = []string{fmt.Sprintf("Pump %d", i+1), "1480", "short", "120", "130", "410", "620", "0", mm(h - d), mm(-2 * d), mm(-h - d), "0", mm(d - h + 0.1), mm(2 * (d + 0.1)), mm(d + h + 0.1)}
	}
	j := job.NewJob()
	j.Machines = &job.Table{Name: "Machines", Header: head, Rows: rows, FirstRow: 2}
	var millis, calcMillis []float64
	ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
	t := time.Now()
	e := sheet.NewEvaluator(j)
	bind := ms(time.Since(t))
	for range times {
		t = time.Now()
		e.RowsChanged(0, n)
		for i := range n {
			e.Row(i)
		}
		millis = append(millis, ms(time.Since(t)))
	}
	_, v := e.Count()

	// the calculation by itself: the same readings as numbers
	packer, err := packs.NewPacker(tables.DefaultStock(false), tables.MaxPieces, tables.PackToleranceMM)
	if err != nil {
		return failure(err.Error())
	}
	angle := []float64{0, 90, 180, 270}
	ins := make([]calc.Input, n)
	for i := range ins {
		d, h := float64(i%41-20)/100, float64(i%23-11)/100
		ins[i] = calc.Input{
			Sweeps: []calc.Sweep{
				{Model: calc.RimOnMovable, Station: 130, Angle: angle, Reading: []float64{0, h - d, -2 * d, -h - d}, Graduation: 0.01, U: 0.004},
				{Model: calc.RimOnStationary, Station: -120, Angle: angle, Reading: []float64{0, d - h + 0.1, 2 * (d + 0.1), d + h + 0.1}, Graduation: 0.01, U: 0.004}},
			Given:  calc.Line{DV: math.NaN(), TV: math.NaN(), DH: math.NaN(), TH: math.NaN()},
			Length: math.NaN(), Limits: calc.Limits{Offset: 0.0762, Slope: 0.5}, Feet: []float64{410, 1030}, FlangeStation: math.NaN(), Packer: packer}
	}
	var res calc.Result
	for range times {
		t = time.Now()
		for i := range ins {
			calc.Solve(&ins[i], &res)
		}
		calcMillis = append(calcMillis, ms(time.Since(t)))
	}
	return new(object).int("rows", n).int("judged", n-v[calc.NotJudged]).numbers("bindMs", []float64{bind}).numbers("ms", millis).numbers("calcMs", calcMillis).end()
}

// opBenchPacks makes packs from the usual stock, onto the bare base and with three pieces in place, and tells how long a batch of each takes.
func opBenchPacks(_ *app, in *arguments) raw {
	n, times := min(in.int(), 100_000), min(in.int(), 100)
	p, err := packs.NewPacker(tables.DefaultStock(false), tables.MaxPieces, tables.PackToleranceMM)
	if err != nil {
		return failure(err.Error())
	}
	var millis, bare []float64
	sum := 0.0
	for range times {
		t := time.Now()
		for i := range n {
			sum += p.Pack(float64(i%2197) * 0.00137).Sum
		}
		bare = append(bare, float64(time.Since(t).Microseconds())/1000)
		t = time.Now()
		for i := range n {
			if _, err := p.Change(float64(i%219)*0.0137-0.5, []float64{0.5, 0.2, 0.05}); err != nil {
				return failure(err.Error())
			}
		}
		millis = append(millis, float64(time.Since(t).Microseconds())/1000)
	}
	return new(object).numbers("ms", millis).numbers("bareMs", bare).numbers("sum", []float64{sum}).end()
}
