package desk

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/headers"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A matching is a list whose columns are being matched: a clipboard text, or the sheet at hand.
type matching struct {
	block  [][]string // nil: the sheet at hand
	head   int        // row of the header in block, −1 none
	header []string
	above  []string
	rows   [][]string
}

// block is a clipboard text as cells: as a spreadsheet gives them, or the text of a CSV file that somebody copied from an editor.
func (d *Desk) block(text string) [][]string {
	if !strings.Contains(text, "\t") && strings.Contains(text, "\n") {
		if t, _, err := job.ReadDelimited("clipboard", []byte(text), 0); err == nil && t.Width() > 1 && headers.FindHeader(d.kind, t.Rows, evaluate.OwnHeaders(d.job.Settings)) >= 0 {
			return t.Rows
		}
	}
	return grid.ParseBlock(text)
}

// matchOf takes the list to be matched: text "" is the sheet at hand. head is the row of its header, from 1; 0: it has none; −1: to be found.
func (d *Desk) matchOf(text string, head int, before []evaluate.OwnHeader) *matching {
	g := d.grid()
	if text == "" {
		m := &matching{head: -1, header: g.Header(), rows: g.Rows()}
		if t := g.Title(); len(t) > 0 {
			m.above = t[len(t)-1]
		}
		return m
	}
	m := &matching{block: d.block(text), head: head - 1}
	if head < 0 {
		m.head = headers.FindHeader(d.kind, m.block, before)
	}
	// The list in its plain form, where its own header is the one in question: lines of a header joined, rows of units taken in.
	if t := (&job.Table{Rows: m.block}); m.head >= 0 && d.kind != job.SettingsSheet {
		if at := job.FindHeader(m.block, d.kind); at >= 0 && t.SplitHeader(d.kind) && (head < 0 && at == m.head || head > 0 && len(t.Title) == m.head) {
			m.block, m.head = slices.Concat(t.Title, [][]string{t.Header}, t.Rows), len(t.Title)
		}
	}
	if m.head >= len(m.block) {
		m.head = -1
	}
	if m.rows = m.block[m.head+1:]; m.head >= 0 {
		m.header = m.block[m.head]
	}
	if m.head > 0 {
		m.above = m.block[m.head-1]
	}
	for len(m.rows) > 0 && !slices.ContainsFunc(m.rows[len(m.rows)-1], func(s string) bool { return strings.TrimSpace(s) != "" }) {
		m.rows = m.rows[:len(m.rows)-1]
	}
	return m
}

// elsewhere reads headers that were matched in other jobs: packed rows of sheet, header, meaning.
func elsewhere(text string) []evaluate.OwnHeader {
	var out []evaluate.OwnHeader
	for _, r := range job.AppendUnpacked(nil, text) {
		if len(r) == 3 {
			if o, ok := evaluate.ParseOwnHeader("Header of "+r[0]+": "+r[1], r[2]); ok {
				out = append(out, o)
			}
		}
	}
	return out
}

// LookAtList says what each column of a list means or may mean: screens.MatchHost.
func (d *Desk) LookAtList(text string, head int, before string) screens.Matching {
	if text != "" && d.grid().Copied(text) {
		return screens.Matching{}
	}
	mine := evaluate.OwnHeaders(d.job.Settings)
	all := slices.Concat(mine, elsewhere(before))
	m := d.matchOf(text, head, all)
	header, rows, below := m.withUnits()
	cols := headers.Look(headers.List{Kind: d.kind, Header: header, Above: m.above, Rows: rows, Inch: d.ev.Inch(), Before: all})
	t := &job.Table{Header: m.header}
	applied := headers.ApplyBefore(d.kind, t, mine)
	out := screens.Matching{Head: m.head + 1, Rows: len(rows), Applied: len(applied), Sheet: d.kind.String()}
	if m.block == nil || d.kind != job.SettingsSheet {
		out.Lacks = headers.Lacks(d.job, d.kind, t.Header, m.rows)
	}
	out.Stated = d.statedUnits(m)
	likely := false
	for _, c := range cols {
		col := screens.MatchColumn{Column: c, InJob: c.State == headers.Before && slices.Contains(applied, c.Col)}
		if c.Col < len(below) && below[c.Col] != "" {
			col.Header, col.Unit, col.Below = strings.TrimSpace(m.header[c.Col]), "", below[c.Col]
		}
		likely = likely || c.State == headers.Guessed || c.State == headers.Asked || c.State == headers.Before && !col.InJob
		for _, o := range mine {
			if o.Kind == d.kind && o.Means == c.Header {
				col.Was = o.Header
			}
		}
		out.Columns = append(out.Columns, col)
	}
	shape := headers.ByRows
	if m.block != nil && d.kind == job.MachinesSheet {
		var straight [][]string
		shape, straight = headers.ShapeOf(m.block, all)
		out.Shape, out.Straight = shape.Sentence(), grid.FormatBlock(straight)
	}
	switch {
	case shape != headers.ByRows:
		out.Need = "ask"
	case m.block == nil || len(m.rows) == 0 || d.kind == job.SettingsSheet:
	case m.head < 0:
		if len(d.grid().Header()) == 0 && len(cols) > 1 {
			out.Need = "ask"
		}
	case likely && out.Lacks != "":
		out.Need = "ask"
	case len(applied) > 0:
		out.Need = "before"
	}
	return out
}

// withUnits is the list as it will be read where a row of units, and of nothing else, stands under its names: those with their units, the rows without it, and the unit of each column.
func (m *matching) withUnits() (header []string, rows [][]string, below []string) {
	if m.block == nil || m.head < 0 || len(m.rows) == 0 {
		return m.header, m.rows, nil
	}
	below = job.RowOfUnits(m.rows[0])
	if below == nil {
		return m.header, m.rows, nil
	}
	header = slices.Clone(m.header)
	for c, u := range below {
		if c >= len(header) || strings.TrimSpace(header[c]) == "" || strings.ContainsAny(header[c], "[(") {
			below[c] = "" // a header's own unit is told as its own
		} else if u != "" {
			header[c] += " [" + u + "]"
		}
	}
	return header, m.rows[1:], below
}

// statedUnits is what titles and notes of a list say of the units of its bare numbers, by the key of what a column can mean.
func (d *Desk) statedUnits(m *matching) map[string]string {
	title := d.grid().Title()
	if m.block != nil {
		title = m.block[:max(m.head, 0)]
	}
	said, by := job.StatedUnits(title, m.rows), map[string]string{}
	for _, c := range job.Columns() {
		if u := said.Of(c.Quantity); u != "" && c.Sheet == d.kind && !c.Result {
			by[c.Key] = u
		}
	}
	return by
}

// MatchKeys is what a column of the sheet shown can be read as; none for the Job sheet.
func (d *Desk) MatchKeys() []screens.MatchKey { return d.keysOf(d.kind) }

func (d *Desk) keysOf(kind job.SheetKind) []screens.MatchKey {
	var out []screens.MatchKey
	for _, c := range job.Columns() {
		if c.Sheet == kind && !c.Result && c.Sheet != job.SettingsSheet {
			k := screens.MatchKey{Key: c.Key, Name: c.Name, Units: unitNames(c.Quantity.Kind())}
			if u := c.Unit(d.ev.Inch()); u != units.None {
				k.Unit = u.String()
			}
			out = append(out, k)
		}
	}
	return out
}

// SheetFilled says whether the sheet shown has columns and rows.
func (d *Desk) SheetFilled() bool { return d.grid().Columns() > 0 && d.grid().ShownRows() > 0 }

// PlanPaste plans the paste of a clipboard text. The plan waits on the desk until it is taken or another is made.
func (d *Desk) PlanPaste(text string) screens.PastePlan {
	d.planned, d.learnt = d.plan(text), nil
	return d.pastePlan()
}

// PlanMatched plans the paste of a clipboard text whose columns a person matched. Without choices what was matched in this job counts.
func (d *Desk) PlanMatched(text string, head int, choices []headers.Choice) screens.PastePlan {
	mine := evaluate.OwnHeaders(d.job.Settings)
	m := d.matchOf(text, head, mine)
	anew, learnt := headers.Apply(d.kind, m.header, choices)
	if len(choices) == 0 {
		t := &job.Table{Header: m.header}
		headers.ApplyBefore(d.kind, t, mine)
		anew = t.Header
	}
	block := slices.Clone(m.block)
	at := m.head
	if at >= 0 {
		block[at] = anew
	} else { // a list without a header gets one
		for i := range anew {
			if anew[i] == "" {
				anew[i] = words.Text("desk.column", strconv.Itoa(i+1))
			}
		}
		block, at = append([][]string{anew}, block...), 0
	}
	mean := d.meaning()
	mean.Arrange = func(rows [][]string) (title [][]string, header []string, body [][]string, ok bool) {
		t := &job.Table{Rows: rows}
		t.SplitHeaderAt(d.kind, at)
		return t.Title, t.Header, t.Rows, true
	}
	d.planned, d.learnt = d.grid().PlanPaste(block, mean), learnt
	return d.pastePlan()
}

// NameColumns names the columns of the sheet shown by what a person chose.
func (d *Desk) NameColumns(choices []headers.Choice) screens.Pasted {
	g := d.grid()
	anew, learnt := headers.Apply(d.kind, g.Header(), choices)
	t := &job.Table{Title: g.Title(), Header: anew, Rows: g.Rows()}
	t.StateUnits(d.kind) // what stands above the list of its units is read with the names that are known now
	ch := d.change(d.kind, func(g *grid.Model) grid.Change { return g.RenameAll(t.Header) })
	d.learn(learnt)
	return screens.Pasted{Changed: ch.Any, Note: ch.Note, Undo: d.undoName()}
}

// TakePlan carries out the plan that waits.
func (d *Desk) TakePlan() screens.Pasted {
	p, learnt := d.planned, d.learnt
	d.planned, d.learnt = nil, nil
	if p == nil {
		return screens.Pasted{}
	}
	ch := d.change(d.kind, func(g *grid.Model) grid.Change { return g.ApplyPlan(p) })
	out := screens.Pasted{Changed: ch.Any, Note: ch.Note}
	if ch.Any {
		d.learn(learnt)
	}
	out.Undo = d.undoName()
	for _, c := range d.columns() {
		if c.Group == "Own" && !c.Result {
			out.Own = append(out.Own, c.Name)
		}
	}
	return out
}

// learn keeps in the Job sheet what headers mean.
func (d *Desk) learn(list []evaluate.OwnHeader) {
	var rows [][]string
	for _, o := range list {
		rows = append(rows, o.Row())
	}
	if len(rows) > 0 {
		step := words.Text("desk.keepingMatch", plural(len(rows), words.Text("desk.columns.one"), words.Text("desk.columns.many")))
		d.changed(job.SettingsSheet, d.grids[job.SettingsSheet].PutRows(step, rows))
	}
}

// Learnt lists what this job knows of headers: packed rows of sheet, header, meaning.
func (d *Desk) Learnt() string {
	var rows [][]string
	for _, o := range evaluate.OwnHeaders(d.job.Settings) {
		rows = append(rows, []string{o.Kind.String(), o.Header, o.Means})
	}
	return string(job.AppendPacked(nil, rows))
}
