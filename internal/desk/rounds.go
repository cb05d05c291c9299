package desk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/report"
	"shimsheet/internal/screens"
	"shimsheet/internal/sheet"
	"shimsheet/internal/units"
)

// What One by one asks for: the coupling at hand with the cells of the round that counts, typing and pasting into them, a new round, a round struck, a machine looked for.

// couplings are the rows of couplings as the list shows them.
func (d *Desk) couplings() (list []int) {
	g := d.grids[job.MachinesSheet]
	for y := range g.ShownRows() {
		if i := g.Stored(y); i < d.ev.Len() && d.ev.Row(i).Kind == sheet.MachineRow {
			list = append(list, i)
		}
	}
	return list
}

// opCrew describes one coupling for whoever stands at the machine. It takes a row of the Machines sheet and a step (0, 1, −1), goes to the nearest coupling in that
// direction, and draws as wide as is said.
func opCrew(d *Desk, in *arguments) raw {
	row, step, width := in.int(), in.int(), in.int()
	g := d.grids[job.MachinesSheet]
	list := d.couplings()
	if len(list) == 0 {
		return new(object).int("total", 0).text("view", d.arrangedIn(g)).end()
	}
	k := slices.Index(list, row)
	if k < 0 { // a row without a coupling: the next that is shown below it
		for y := max(g.ShownRow(row), 0); y < g.ShownRows() && k < 0; y++ {
			k = slices.Index(list, g.Stored(y))
		}
		k = max(k, 0)
	}
	k = min(max(k+step, 0), len(list)-1)
	at := list[k]
	d.machRow = at
	r := d.ev.Row(at)
	decimal := "."
	if d.ev.Decimal() == units.Comma {
		decimal = ","
	}
	o := new(object).int("row", at).int("number", k+1).int("total", len(list)).text("name", r.Name).text("verdict", string(verdictMark(r.Verdict))).
		text("view", d.arrangedIn(g)).text("decimal", decimal)
	var fields []*object
	kind := job.MachinesSheet
	for _, f := range d.ev.RoundFields(at) {
		kind = f.Sheet
		name, unit := d.unitOf(f.Sheet, f.Header)
		x := new(object).int("sheet", slices.Index(kinds[:], f.Sheet)).int("row", f.Row).int("col", f.Col).text("name", name).text("unit", unit).text("text", f.Text)
		if f.Angle == f.Angle {
			x.text("angle", fmt.Sprint(f.Angle))
		}
		if f.Problem != nil {
			x.text("severity", f.Problem.Severity.String()).text("problem", briefly(f.Problem))
		}
		fields = append(fields, x)
	}
	var rounds []screens.RoundLine
	if names, texts, _ := d.ev.RoundAbout(at); names != nil {
		var about [][]string
		for k := range names {
			about = append(about, []string{names[k], texts[k]})
		}
		o.rows("about", about)
	}
	for i := range r.Rounds {
		x := &r.Rounds[i]
		at := -1
		if t := d.job.Table(job.RoundsSheet); x.Row > 0 && t != nil {
			at = x.Row - t.SourceRow(0)
		}
		rounds = append(rounds, screens.RoundLine{Name: x.Name, Who: strings.Trim(x.When+", "+x.By, ", "), Verdict: x.Verdict.String(), Struck: x.Struck, Row: at})
	}
	if len(rounds) == 0 && r.StateWord() != "waiting" { // the readings found, in its own row
		rounds = []screens.RoundLine{{Name: "found", Verdict: r.Verdict.String(), Row: -1}}
	}
	state := r.StateWord()
	if r.OpenIsHot() {
		state += ", hot"
	}
	o.text("state", state).text("open", r.OpenRound()).yes("waiting", state == "waiting" && len(r.Rounds) == 0).text("next", d.ev.NextRound(at)).text("undo", d.grids[kind].UndoName())
	var said []string
	for _, x := range d.ev.Sentences(at) {
		if x.Kind == sheet.SentenceVerdict {
			said = append(said, x.Text)
		}
	}
	return o.text("said", strings.Join(said, " ")).text("says", d.panel().Said(width, rounds).String()).objects("fields", fields).int("rounds", len(rounds)).end()
}

// changeSheet changes a sheet of the job that need not be the one shown.
func (d *Desk) changeSheet(k job.SheetKind, f func(g *grid.Model) grid.Change) raw {
	ch := f(d.grids[k])
	d.changed(k, ch)
	return d.state(ch).end()
}

// kindAt is the sheet of a tab's number.
func kindAt(n int) job.SheetKind {
	if n < 0 || n >= len(kinds) {
		return job.MachinesSheet
	}
	return kinds[n]
}

// opCrewSet types a text into a cell: sheet, row, column, text.
func opCrewSet(d *Desk, in *arguments) raw {
	k, row, col := kindAt(in.int()), in.int(), in.int()
	return d.changeSheet(k, func(g *grid.Model) grid.Change { return g.SetCell(row, col, in.text()) })
}

// opUndoOn takes back the last step of a sheet.
func opUndoOn(d *Desk, in *arguments) raw {
	k := kindAt(in.int())
	if k == d.kind {
		return d.state(noted("Undone: ", d.undo())).end()
	}
	return d.changeSheet(k, func(g *grid.Model) grid.Change { return noted("Undone: ", g.Undo()) })
}

// match is a.meaning for a sheet that need not be shown.
func (d *Desk) match(k job.SheetKind) grid.Meaning {
	return grid.Meaning{Match: func(header []string, name string) int { return job.MatchColumn(k, header, name, d.ev.Inch()) }}
}

// opCrewPaste puts pasted readings into the fields of a machine's round, from the field of that number on, as one step to undo. Values are set apart by tabs, line ends, semicolons or blanks.
func opCrewPaste(d *Desk, in *arguments) raw {
	row, from, text := in.int(), in.int(), in.text()
	values := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("\t\r\n; ", r) })
	fields := d.ev.RoundFields(row)
	switch {
	case len(values) == 0:
		return d.state(grid.Change{Note: "There was nothing to paste."}).end()
	case from < 0 || from+len(values) > len(fields):
		return d.state(grid.Change{Note: fmt.Sprintf("Not pasted: %d values for %d fields from here on.", len(values), max(len(fields)-from, 0))}).end()
	}
	k := fields[from].Sheet
	names := make([]string, len(values))
	for i := range values {
		names[i] = fields[from+i].Header
	}
	return d.changeSheet(k, func(g *grid.Model) grid.Change {
		ch, _, _ := g.Put("pasting readings", fields[from].Row, names, [][]string{values}, d.match(k))
		if ch.Any {
			ch.Note = fmt.Sprintf("%s pasted, from %s on.", plural(len(values), "reading", "readings"), fields[from].Header)
		}
		return ch
	})
}

// opNewRound begins the next round of a machine on the Rounds sheet: what is typed from then on goes there, and nothing is written over. It takes the row, which kind of round, and when.
func opNewRound(d *Desk, in *arguments) raw {
	row, kind := in.int(), sheet.RoundKind(in.int())
	names, texts, why := d.ev.NewRound(row, kind, in.text())
	if why != "" {
		return d.state(grid.Change{Note: why}).end()
	}
	return d.changeSheet(job.RoundsSheet, func(g *grid.Model) grid.Change {
		ch, _, _ := g.Put("a new round", -1, names, [][]string{texts}, d.match(job.RoundsSheet))
		if ch.Any {
			ch.Note = "Round " + texts[1] + " of " + texts[0] + " begins."
		}
		return ch
	})
}

// noteRound writes texts into the row of a round on the Rounds sheet; below 0 into a new one, which speaks of the readings found that stand in the machine's own row, and leaves these as they are.
func (d *Desk) noteRound(what string, machine, row int, names, texts []string) raw {
	return d.changeSheet(job.RoundsSheet, func(g *grid.Model) grid.Change {
		if row >= len(g.Rows()) || machine < 0 || machine >= d.ev.Len() {
			return grid.Change{}
		}
		if row < 0 {
			n, t := d.ev.FoundRow(machine)
			names, texts, row = append(n, names...), append(t, texts...), -1
		}
		ch, _, _ := g.Put(what, row, names, [][]string{texts}, d.match(job.RoundsSheet))
		return ch
	})
}

// opStrike strikes a round with a reason: the machine's row, the row of the Rounds sheet (below 0: the readings found stand in the machine's own row), and the reason.
func opStrike(d *Desk, in *arguments) raw {
	machine, row, why := in.int(), in.int(), strings.TrimSpace(in.text())
	if why == "" {
		return d.state(grid.Change{Note: "A round is struck with a reason: write why it does not count."}).end()
	}
	return d.noteRound("striking a round", machine, row, []string{sheet.StruckColumn()}, []string{why})
}

// opCrewAbout says how the open round was read: the machine's row, a column of the Rounds sheet, and the text.
func opCrewAbout(d *Desk, in *arguments) raw {
	machine, name, text := in.int(), in.text(), in.text()
	if machine < 0 || machine >= d.ev.Len() {
		return d.answerState()
	}
	_, _, row := d.ev.RoundAbout(machine)
	return d.noteRound("about the round", machine, row, []string{name}, []string{text})
}

// opFindMachine looks for machines whose name holds every word of a text, in the list as it is shown; or for the one that the code of a card names, whatever is shown.
func opFindMachine(d *Desk, in *arguments) raw {
	text := in.text()
	o := new(object)
	if c, ok := sheet.ParseCardCode(text); ok {
		o.yes("code", true).text("round", c.Round)
		row := d.ev.FindCard(c)
		switch {
		case row < 0:
			return o.text("why", fmt.Sprintf("This card is of %s, job %s: this job has no such machine.", c.Machine, orWords(c.Job, "without a name"))).int("row", -1).end()
		case c.Job != d.ev.Setting("name"):
			o.text("why", fmt.Sprintf("This card was printed from the job %s; this job is %s. Look before you type.", orWords(c.Job, "without a name"), orWords(d.ev.Setting("name"), "without a name")))
		}
		return o.int("row", row).end()
	}
	words := strings.Fields(strings.ToLower(text))
	var list [][]string
	for _, i := range d.couplings() {
		r := d.ev.Row(i)
		name := strings.ToLower(r.Name)
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(name, w) }) {
			list = append(list, []string{fmt.Sprint(i), r.Name, r.StateWord() + ", " + r.Verdict.String()})
		}
	}
	return o.int("row", -1).rows("list", list).end()
}

func orWords(s, none string) string {
	if s == "" {
		return none
	}
	return s
}

// opClockAt is the clock with the angle that a reading is asked for at.
func opClockAt(_ *Desk, in *arguments) raw {
	in.int()
	angle, err := strconv.ParseFloat(in.text(), 64)
	if err != nil {
		return failure("no angle")
	}
	return new(object).text("svg", string(report.ClockAt(nil, angle, report.Options{Width: 280, Prefix: "at"}))).end()
}

// ShownMachines are the rows of couplings as the list shows them.
func (d *Desk) ShownMachines() []int { return d.couplings() }
