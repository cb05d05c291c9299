package grid

import (
	"slices"
	"strings"

	"shimsheet/internal/words"
)

// A Plan is what a paste would do.
type Plan struct {
	Note       string // why nothing would be done; else what is to be known besides
	OK         bool   // there is something to do
	Name       string // as in the undo list: "paste of 3 rows"
	Table      bool   // by its header row; else as a block at the selection
	Fresh      bool   // the sheet is empty and takes the block's header and rows over
	TitleLines int    // lines above the header row; they are kept in an empty sheet only
	Columns    []PlanColumn
	Over, New  int // rows that exist and are written over; rows added
	Cells      int // cells written, with those written empty
	Replaced   int // cells with a text that would get another one, or none
	Samples    []PlanSample

	version int
	view    *rowView
	title   [][]string
	header  []string
	hunks   []hunk
	cursor  func(m *Model) // sets cursor and selection afterwards
}

// A PlanColumn is where one column of a block goes. A block without a header has Pasted empty.
type PlanColumn struct {
	Pasted string // its header
	Column int    // the column it goes to; −1: left out, as it has neither header nor text
	Name   string // the name of that column
	New    bool   // it is added
}

// A PlanSample is one of the first cells that would be replaced. Row is a stored row.
type PlanSample struct {
	Row, Column int
	Old, New    string
}

// planSamples is how many samples a plan has at most.
const planSamples = 5

func refuse(note string) *Plan { return &Plan{Note: note} }

// PlanPaste says what [Model.Paste] would do.
func (m *Model) PlanPaste(block [][]string, mean Meaning) *Plan {
	if m.editing || len(block) == 0 {
		return refuse("")
	}
	if w := widest(block); w > MaxColumns || len(block)*w > MaxCells {
		return refuse(words.GridTooLarge.Say(count(MaxColumns, columnsOf), count(MaxCells, cellsOf)))
	}
	if mean.Arrange != nil {
		if title, header, body, ok := mean.Arrange(block); ok {
			return m.planTable(title, header, body, mean)
		}
	}
	return m.planBlock(block)
}

// Copied says whether a clipboard text is what Copy gave out last.
func (m *Model) Copied(text string) bool {
	return m.clipInputs != nil && strings.ReplaceAll(text, "\r\n", "\n") == m.clipText
}

// PlanPasteText says what [Model.PasteText] would do.
func (m *Model) PlanPasteText(text string, mean Meaning) *Plan {
	if m.Copied(text) {
		if m.editing {
			return refuse("")
		}
		return m.planBlock(m.clipInputs)
	}
	return m.PlanPaste(ParseBlock(text), mean)
}

// ApplyPlan does what was planned. It is refused with a Note when the sheet or what is shown of it changed since.
func (m *Model) ApplyPlan(p *Plan) Change {
	if !p.OK || m.editing {
		return Change{Note: p.Note}
	}
	if p.version != m.version || p.view != m.view {
		return Change{Note: words.GridHasChanged.String()}
	}
	if p.Fresh {
		m.unarrange()
	}
	ch := m.apply(p.Name, p.title, p.header, p.hunks...)
	ch.Note = p.Note
	p.cursor(m)
	return m.done(ch)
}

// ready makes a plan one that can be applied to the sheet as it is.
func (m *Model) ready(p *Plan) *Plan {
	p.OK, p.version, p.view = true, m.version, m.view
	return p
}

func (m *Model) planTable(title [][]string, header []string, rows [][]string, mean Meaning) *Plan {
	rows = trimRows(rows)
	p := &Plan{Name: words.GridPaste.Say(count(len(rows), rowsOf)), Table: true, New: len(rows), TitleLines: len(title)}
	for len(header) > 0 && strings.TrimSpace(header[len(header)-1]) == "" && widest(rows) < len(header) {
		header = header[:len(header)-1]
	}
	if m.Blank() {
		p.Fresh = true
		for i, n := range header {
			p.Columns = append(p.Columns, PlanColumn{n, i, n, true})
		}
		for _, r := range rows {
			p.Cells += len(r)
		}
		p.title, p.header = append([][]string{}, title...), append([]string{}, header...)
		p.hunks = []hunk{{0, slices.Clone(m.rows), slices.Clone(rows), asBefore}}
		p.cursor = func(m *Model) { m.Go(Pos{}, false) }
		return m.ready(p)
	}
	// to[i] is where column i of the block goes; one that goes nowhere holds no text
	full := slices.Clone(m.header)
	to := make([]int, max(len(header), widest(rows)))
	taken, same := map[int]bool{}, make([]int, len(to))
	for i := range to { // the same text first: of two names of one meaning the other is a column of its own
		same[i] = -1
		if i < len(header) && strings.TrimSpace(header[i]) != "" {
			if c := slices.Index(m.header, header[i]); c >= 0 && !taken[c] {
				same[i], taken[c] = c, true
			}
		}
	}
	for i := range to {
		n := ""
		if i < len(header) {
			n = header[i]
		}
		pc := PlanColumn{Pasted: n, Column: -1}
		if c := same[i]; c >= 0 {
			to[i] = c
			pc.Column, pc.Name = c, m.header[c]
		} else if c := match(mean, m.header, n); c >= 0 && !taken[c] {
			to[i] = c
			taken[c] = true
			pc.Column, pc.Name = c, m.header[c]
		} else if strings.TrimSpace(n) != "" || columnUsed(rows, i) {
			if strings.TrimSpace(n) == "" {
				n = m.freeName(full, len(full)+1)
			}
			to[i] = len(full)
			full = append(full, n)
			pc.Column, pc.Name, pc.New = to[i], n, true
		}
		p.Columns = append(p.Columns, pc)
	}
	if len(full) > MaxColumns {
		return refuse(words.GridTooWide.Say(count(MaxColumns, columnsOf)))
	}
	ins := make([][]string, len(rows))
	for r, row := range rows {
		need := 0
		for i, s := range row {
			if s != "" {
				need = max(need, to[i]+1)
			}
		}
		out := make([]string, need)
		for i, s := range row {
			if s != "" {
				out[to[i]] = s
				p.Cells++
			}
		}
		ins[r] = out
	}
	at := m.used()
	if len(full) > len(m.header) {
		p.header = full
	}
	if len(title) > 0 {
		p.Note = words.GridLeftOut.Say(count(len(title), linesOf))
	}
	p.hunks = []hunk{{at, slices.Clone(m.rows[at:]), ins, m.ShownRows()}}
	p.cursor = func(m *Model) {
		r := at // without rows there is none to go to
		if w := m.ShownRow(at); w >= 0 {
			r = w
		}
		m.Go(Pos{r, 0}, false)
	}
	return m.ready(p)
}

func (m *Model) planBlock(block [][]string) *Plan {
	if len(m.header) == 0 {
		return refuse(words.GridNoColumns.String())
	}
	sel := m.Selection()
	h, w := len(block), widest(block)
	if w == 0 {
		return refuse("")
	}
	// input columns of the sheet from the cursor on, in the order shown
	var cols []int
	for x := sel.C0; x < len(m.order); x++ {
		if c := m.order[x]; c >= 0 {
			cols = append(cols, c)
		}
	}
	if m.Column(sel.C0) < 0 && (sel.C0 == sel.C1 || len(cols) == 0) {
		return refuse(words.GridNoPaste.String())
	}
	selCols := 0
	for x := sel.C0; x <= sel.C1; x++ {
		if m.Column(x) >= 0 {
			selCols++
		}
	}
	tallH, tallW := h, w
	if sh := sel.R1 - sel.R0 + 1; sh%h == 0 && selCols%w == 0 { // it fits a whole number of times
		tallH, tallW = sh, max(w, selCols)
	}
	p := &Plan{Name: words.GridPaste.Say(count(tallH, rowsOf)), Cells: tallH * tallW}
	if tallH == 1 && tallW == 1 {
		p.Name = words.GridPasteCell.String()
	} else if tallH == 1 {
		p.Name = words.GridPaste.Say(count(tallW, cellsOf))
	}
	full := slices.Clone(m.header)
	if tallW > len(cols) {
		for len(cols) < tallW {
			cols = append(cols, len(full))
			full = append(full, m.freeName(full, len(full)+1))
		}
		if len(full) > MaxColumns {
			return refuse(words.GridTooWide.Say(count(MaxColumns, columnsOf)))
		}
		p.header = full
	}
	cols = cols[:tallW]
	for _, c := range cols {
		p.Columns = append(p.Columns, PlanColumn{Column: c, Name: full[c], New: c >= len(m.header)})
	}
	p.Over = max(0, min(tallH, m.ShownRows()-sel.R0))
	p.New = tallH - p.Over
	b := batch{m: m}
	for i := range tallH {
		row := m.row(sel.R0 + i)
		src := block[i%h]
		need := len(row)
		for j := range tallW {
			if jj := j % w; jj < len(src) && src[jj] != "" {
				need = max(need, cols[j]+1)
			}
		}
		out := make([]string, need)
		copy(out, row)
		for j, c := range cols {
			s := ""
			if jj := j % w; jj < len(src) {
				s = src[jj]
			}
			if c >= need {
				continue
			}
			if old := out[c]; old != s && strings.TrimSpace(old) != "" {
				if p.Replaced++; len(p.Samples) < planSamples {
					p.Samples = append(p.Samples, PlanSample{m.Stored(sel.R0 + i), c, old, s})
				}
			}
			out[c] = s
		}
		b.put(sel.R0+i, out)
	}
	p.hunks = b.hunks()
	p.cursor = func(m *Model) {
		// new columns stand last, so that what was pasted may not be one rectangle
		m.Select(Rect{sel.R0, sel.C0, sel.R0 + tallH - 1, max(m.Shown(cols[tallW-1]), sel.C0)})
	}
	return m.ready(p)
}
