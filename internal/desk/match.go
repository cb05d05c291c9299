package desk

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/headers"
	"shimsheet/internal/job"
	"shimsheet/internal/sheet"
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
		if t, _, err := job.ReadDelimited("clipboard", []byte(text), 0); err == nil && t.Width() > 1 && headers.FindHeader(d.kind, t.Rows, sheet.OwnHeaders(d.job.Settings)) >= 0 {
			return t.Rows
		}
	}
	return grid.ParseBlock(text)
}

// matchOf takes the list to be matched: text "" is the sheet at hand. head is the row of its header, from 1; 0: it has none; −1: to be found.
func (d *Desk) matchOf(text string, head int, before []sheet.OwnHeader) *matching {
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
func elsewhere(text string) []sheet.OwnHeader {
	var out []sheet.OwnHeader
	for _, r := range job.AppendUnpacked(nil, text) {
		if len(r) == 3 {
			if o, ok := sheet.ParseOwnHeader("Header of "+r[0]+": "+r[1], r[2]); ok {
				out = append(out, o)
			}
		}
	}
	return out
}

// opMatch takes a clipboard text ("": the sheet at hand), the row of its header as matchOf takes it, and what was matched in other jobs, and says what
// each column means or may mean. A list of machines that is not one machine a row says so in shape, and straight is the same list laid out one machine a row, as a clipboard text;
// "" where that cannot be done. need says what is to be done before the list is pasted: "ask" a person; "before": nothing, all that it needs was matched
// in this job; "": nothing.
func opMatch(d *Desk, in *arguments) raw {
	text, head, others := in.text(), in.int(), elsewhere(in.text())
	if text != "" && d.grid().Copied(text) {
		return new(object).text("need", "").end()
	}
	mine := sheet.OwnHeaders(d.job.Settings)
	m := d.matchOf(text, head, slices.Concat(mine, others))
	cols := headers.Look(headers.List{Kind: d.kind, Header: m.header, Above: m.above, Rows: m.rows, Inch: d.ev.Inch(), Before: slices.Concat(mine, others)})
	t := &job.Table{Header: m.header}
	applied := headers.ApplyBefore(d.kind, t, mine)
	lacks := ""
	if m.block == nil || d.kind != job.SettingsSheet {
		lacks = headers.Lacks(d.job, d.kind, t.Header, m.rows)
	}
	likely := false
	var list []*object
	for _, c := range cols {
		source := ""
		if c.State == headers.Before {
			if source = "here"; slices.Contains(applied, c.Col) {
				source = "job"
			}
		}
		likely = likely || c.State == headers.Guessed || c.State == headers.Asked || source == "here"
		was := ""
		for _, o := range mine {
			if o.Kind == d.kind && o.Means == c.Header {
				was = o.Header
			}
		}
		list = append(list, new(object).int("col", c.Col).text("header", c.Header).text("state", c.State.String()).text("source", source).text("key", c.Key).text("unit", c.Unit).
			text("why", c.Why).texts("keys", c.Keys).int("series", c.Series).text("place", c.Place).int("filled", c.Filled).texts("sample", c.Sample).text("was", was))
	}
	need, shape, straight := "", headers.ByRows, [][]string(nil)
	if m.block != nil && d.kind == job.MachinesSheet {
		shape, straight = headers.ShapeOf(m.block, slices.Concat(mine, others))
	}
	switch {
	case shape != headers.ByRows:
		need = "ask"
	case m.block == nil || len(m.rows) == 0 || d.kind == job.SettingsSheet:
	case m.head < 0:
		if len(d.grid().Header()) == 0 && len(cols) > 1 {
			need = "ask"
		}
	case likely && lacks != "":
		need = "ask"
	case len(applied) > 0:
		need = "before"
	}
	return new(object).text("need", need).int("head", m.head+1).int("rows", len(m.rows)).int("applied", len(applied)).text("lacks", lacks).text("sheet", d.kind.String()).
		text("shape", shape.Sentence()).text("straight", grid.FormatBlock(straight)).objects("columns", list).end()
}

// opMatchPlan plans the paste of a clipboard text whose columns a person matched: its header row as matchOf takes it, and packed rows of column, key
// and unit. Without choices what was matched in this job counts. For text "" the columns of the sheet at hand are named anew at once.
func opMatchPlan(d *Desk, in *arguments) raw {
	text, head, packed := in.text(), in.int(), in.text()
	mine := sheet.OwnHeaders(d.job.Settings)
	m := d.matchOf(text, head, mine)
	var choices []headers.Choice
	for _, r := range job.AppendUnpacked(nil, packed) {
		if len(r) == 3 {
			col, err := strconv.Atoi(r[0])
			if err == nil && col >= 0 && col < grid.MaxColumns {
				choices = append(choices, headers.Choice{Col: col, Key: r[1], Unit: r[2]})
			}
		}
	}
	anew, learnt := headers.Apply(d.kind, m.header, choices)
	if len(choices) == 0 {
		t := &job.Table{Header: m.header}
		headers.ApplyBefore(d.kind, t, mine)
		anew = t.Header
	}
	g := d.grid()
	if m.block == nil {
		ch := g.RenameAll(anew)
		d.changed(d.kind, ch)
		d.learn(learnt)
		return d.state(ch).end()
	}
	block := slices.Clone(m.block)
	at := m.head
	if at >= 0 {
		block[at] = anew
	} else { // a list without a header gets one
		for i := range anew {
			if anew[i] == "" {
				anew[i] = "Column " + strconv.Itoa(i+1)
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
	d.planned, d.learnt = g.PlanPaste(block, mean), learnt
	return d.planObject(d.planned)
}

// learn keeps in the Job sheet what headers mean.
func (d *Desk) learn(list []sheet.OwnHeader) {
	var rows [][]string
	for _, o := range list {
		rows = append(rows, o.Row())
	}
	if len(rows) > 0 {
		d.changed(job.SettingsSheet, d.grids[job.SettingsSheet].PutRows("keeping the match of "+plural(len(rows), "column", "columns"), rows))
	}
}

// opLearnt lists what this job knows of headers: packed rows of sheet, header, meaning.
func opLearnt(d *Desk, _ *arguments) raw {
	var rows [][]string
	for _, o := range sheet.OwnHeaders(d.job.Settings) {
		rows = append(rows, []string{o.Kind.String(), o.Header, o.Means})
	}
	return new(object).text("rows", string(job.AppendPacked(nil, rows))).end()
}
