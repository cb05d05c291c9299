package screens

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A saved page holds the first rows of its list as text too, so that they are in sight before its program is up. Whoever writes a page with a job in it puts them there: the page's
// program as the sheet is shown, the command as a job that was never looked at is shown first.

// A ListColumn is a column of that list, described as the sheet on the screen has it.
type ListColumn struct {
	Name, Key           string
	Group, Line1, Line2 string // the lines of its header
	Unit                string
	Width               int // CSS pixels at 15 px text
	Number, Result      bool
}

// A ListCell is a cell with its mark: - plain, e error, w warning, n note, r result, b result of a row without any; 0 not judged, 1 inside, 2 outside, 3 too close to call.
type ListCell struct {
	Text string
	Mark byte
}

// A ListRow is a row with the number it is known by.
type ListRow struct {
	Number int
	Cells  []ListCell
}

// What is written at most: what a screen of 1920 × 1080 shows. Every cell is laid out twice while the program starts.
const (
	FirstRows  = 28
	firstWidth = 1500 // px
)

// FirstList is the list. digest is that of the job it belongs to, as job.SealDigest gives it: a page shows no list of another job. The first column stays in sight beside the
// others and stands apart; view says how the rows are chosen or sorted, "" as they stand in the job.
func FirstList(columns []ListColumn, rows []ListRow, digest, view string) HTML {
	return firstList(columns, rows, digest, view, false)
}

// firstList says with stored that the rows will be chosen or sorted when the program is up, and are not yet.
func firstList(columns []ListColumn, rows []ListRow, digest, view string, stored bool) HTML {
	n, width := 0, 0
	for n < len(columns) && width < firstWidth {
		width += columns[n].Width
		n++
	}
	columns, rows = columns[:n], rows[:min(len(rows), FirstRows)]
	if n == 0 || len(rows) == 0 {
		return HTML{}
	}
	said := words.Text("firstList.said")
	switch {
	case stored:
		said += " " + words.Text("firstList.stored")
	case view != "":
		said += " " + words.Text("firstList.view", view)
	}
	return El("section", Attrs(ID("first"), Class("first-list"), A("data-of", digest), when(view != "", "data-view", view)),
		El("p", Attr{}, Text(said)),
		El("div", Attr{}, El("table", A("aria-label", said),
			El("colgroup", Attr{}, El("col", A("width", "58")), Each(columns, func(i int, c ListColumn) HTML {
				return El("col", Attrs(when(i == 0, "class", "frozen"), A("width", strconv.Itoa(c.Width))))
			})),
			El("thead", Attr{}, listHeads(columns)),
			El("tbody", Attr{}, Each(rows, func(_ int, r ListRow) HTML {
				return El("tr", Attr{}, El("th", Class("rowno"), Text(strconv.Itoa(r.Number))), Each(r.Cells[:min(n, len(r.Cells))], func(i int, c ListCell) HTML {
					class := markClasses[c.Mark]
					if columns[i].Number {
						class = strings.TrimSpace(class + " num")
					}
					if i == 0 {
						return El("th", Class(strings.TrimSpace(class+" frozen")), Text(c.Text))
					}
					return El("td", when(class != "", "class", class), Text(c.Text))
				}))
			})))))
}

// when is an attribute where yes holds.
func when(yes bool, name, value string) Attr {
	if !yes {
		return Attr{}
	}
	return A(name, value)
}

// markClasses are what style.css knows marks by, as web/grid.js has them.
var markClasses = map[byte]string{'e': "perr", 'w': "pwarn", 'r': "result", 'b': "result", '0': "v0", '1': "v1", '2': "v2", '3': "v3"}

// listHeads are the header lines: the group, the two lines of the name; the last alone where no column has a group. Neighbours with the same group or first line share it.
func listHeads(columns []ListColumn) HTML {
	grouped := false
	for _, c := range columns {
		grouped = grouped || c.Group != ""
	}
	line := func(first string, text func(c *ListColumn) string, shared bool) HTML {
		var cells []HTML
		for i, j := 0, 0; i < len(columns); i = j {
			c, class, said := &columns[i], "", ""
			if i > 0 || !shared {
				said = text(c)
			}
			for j = i + 1; shared && i > 0 && said != "" && j < len(columns) && text(&columns[j]) == said && columns[j].Group == c.Group; {
				j++
			}
			switch {
			case i == 0:
				class = "frozen"
			case c.Result:
				class = "result"
			case c.Number && !shared:
				class = "num"
			}
			cells = append(cells, El("th", Attrs(when(class != "", "class", class), when(j > i+1, "colspan", strconv.Itoa(j-i))), Text(said)))
		}
		return El("tr", Attr{}, El("th", Attr{}, Text(first)), Join(cells...))
	}
	last := line(words.Text("firstList.row"), func(c *ListColumn) string {
		switch {
		case c == &columns[0]:
			return c.Name
		case c.Unit != "":
			return c.Line2 + " [" + c.Unit + "]"
		}
		return c.Line2
	}, false)
	if !grouped {
		return last
	}
	return Join(line("", func(c *ListColumn) string { return c.Group }, true), line("", func(c *ListColumn) string { return c.Line1 }, true), last)
}

// ColumnWidth is how wide a column is shown, by its name and the longest text, in letters, that stands in its first rows.
func ColumnWidth(c *ListColumn, longest int) int {
	head := utf8.RuneCountInString(c.Line2)
	if c.Unit != "" {
		head += 3 + utf8.RuneCountInString(c.Unit)
	}
	n := max((3*head+1)/2, 5, longest) // the header is bold
	least, most := 7, 34
	switch {
	case c.Key == "why":
		least, most = 34, 46
	case c.Key == "verdict", c.Key == "after_verdict":
		least = 20
	case c.Key == "machine":
		least, most = 18, 33
	case c.Result && c.Number:
		least = 11
	case c.Result:
		least = 16
	}
	return 8*min(max(n, least), most) + 18
}

// TwoLines parts a column's name for the two header lines, so that neighbours with the same beginning can share it.
func TwoLines(name string) (string, string) {
	for _, pos := range []string{" 12 again", " 12", " 3", " 6", " 9"} {
		if b, ok := strings.CutSuffix(name, pos); ok && b != "" {
			return b, pos[1:]
		}
	}
	if i := strings.Index(name, " to "); i > 0 {
		return name[:i+3], name[i+4:]
	}
	if i := strings.Index(name, ": "); i > 0 {
		return name[:i+1], name[i+2:]
	}
	n := utf8.RuneCountInString(name)
	if n <= 9 {
		return "", name
	}
	best := -1
	for i := range name {
		if name[i] == ' ' && (best < 0 || abs(2*i-len(name)) < abs(2*best-len(name))) {
			best = i
		}
	}
	if best < 0 {
		return "", name
	}
	return name[:best], name[best+1:]
}

func abs(i int) int { return max(i, -i) }

// FirstListOf is the list of a job that nobody has looked at yet: the machine, its verdict and why, then what was typed in at least one row.
func FirstListOf(e *sentences.Teller, t *job.Table, digest string) HTML {
	if t == nil || len(t.Header) == 0 {
		return HTML{}
	}
	machine := -1
	var order []int // ^k is result k
	for c, h := range t.Header {
		if info := job.FindColumn(job.MachinesSheet, h); info != nil && info.Key == "machine" && machine < 0 {
			machine, order = c, []int{c, ^0, ^1}
		}
	}
	if machine < 0 {
		return HTML{} // the sheet stands otherwise then
	}
	for c := range t.Header {
		if c != machine && typed(t, c) {
			order = append(order, c)
		}
	}
	known := job.ResultColumns()
	columns := make([]ListColumn, len(order))
	for i, k := range order {
		c, longest := &columns[i], 0
		if k < 0 {
			c.Name, c.Key, c.Result, c.Group = known[^k].Name, known[^k].Key, true, words.Text("firstList.results")
		} else {
			c.Name, c.Unit = job.HeaderParts(job.MachinesSheet, t.Header[k])
			c.Group = words.Text("firstList.own")
			if info := job.FindColumn(job.MachinesSheet, t.Header[k]); info != nil {
				if c.Key, c.Group = info.Key, strings.ToUpper(info.Group[:1])+info.Group[1:]; c.Unit == "" {
					if u := info.Unit(e.Inch()); u != units.None {
						c.Unit = u.String()
					}
				}
				c.Number = info.Quantity != job.QText && info.Quantity != job.QChoice && info.Quantity != job.QSweep && info.Quantity != job.QDistances
			}
			for r := range min(len(t.Rows), 300) {
				longest = max(longest, utf8.RuneCountInString(t.Cell(r, k)))
			}
		}
		c.Line1, c.Line2 = TwoLines(c.Name)
		c.Width = ColumnWidth(c, longest)
	}
	rows := make([]ListRow, min(len(t.Rows), FirstRows))
	for r := range rows {
		rows[r].Number = t.SourceRow(r)
		for _, k := range order {
			cell := ListCell{Mark: '-'}
			if k >= 0 {
				if cell.Text = t.Cell(r, k); e.CellProblem(r, k) != nil {
					cell.Mark = "nwe"[e.CellProblem(r, k).Severity]
				}
			} else if res := e.Row(r); res == nil || res.Kind != evaluate.MachineRow {
				cell.Mark = 'b'
			} else {
				cell.Text, cell.Mark = string(results.AppendText(nil, e, r, ^k)), 'r'
				if known[^k].Key == "verdict" {
					cell.Mark = '0' + byte(res.Verdict)
				}
			}
			rows[r].Cells = append(rows[r].Cells, cell)
		}
	}
	return firstList(columns, rows, digest, "", e.Job().Views[job.MachinesSheet.Key()] != "")
}

// typed says whether a column has a text in one of its first rows.
func typed(t *job.Table, c int) bool {
	for r := range min(len(t.Rows), 200) {
		if strings.TrimSpace(t.Cell(r, c)) != "" {
			return true
		}
	}
	return false
}
