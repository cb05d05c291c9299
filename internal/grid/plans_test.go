package grid

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// what says a plan's columns in short: the pasted header, where it goes, its name there, and + for one that is added.
func what(p *Plan) string {
	var out []string
	for _, c := range p.Columns {
		s := fmt.Sprintf("%s>%d %s", c.Pasted, c.Column, c.Name)
		if c.New {
			s += "+"
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// What is planned for a list with its headers, and what comes of it: each column to the one of its text, else of its meaning, else a new one; columns without header and text nowhere;
// rows without text at the end, and headers without name and text at the end, left out.
func TestPlansOfLists(t *testing.T) {
	for _, c := range []struct {
		header      string
		rows        []string
		paste       string
		columns     string
		cells, news int
		note        string
		want        string
	}{
		{"Machine|Speed", []string{"P1|1480"}, "Machine\tSpeed\nP2\t990", "Machine>0 Machine, Speed>1 Speed", 2, 1, "", "Machine|Speed/P1|1480/P2|990"},
		{"Machine|Speed", []string{"P1|1480"}, "machine\tSPEED\nP2\t990\n\t\n \t\n", "machine>0 Machine, SPEED>1 Speed", 2, 1, "", "Machine|Speed/P1|1480/P2|990"},
		{"Speed|Machine", []string{"1480|P1"}, "Machine\tspeed\tSpeed\nP2\t990\t7", "Machine>1 Machine, speed>2 speed+, Speed>0 Speed", 3, 1, "", "Speed|Machine|speed/1480|P1/7|P2|990"},
		{"Machine|Speed", []string{"P1|1480"}, "Machine\tspeed\tSPEED\nP2\t990\t7", "Machine>0 Machine, speed>1 Speed, SPEED>2 SPEED+", 3, 1, "", "Machine|Speed|SPEED/P1|1480/P2|990|7"},
		{"Machine|Speed", []string{"P1|1480"}, "Machine\t\tTag\nP2\tx\t", "Machine>0 Machine, >2 Column 3+, Tag>3 Tag+", 2, 1, "", "Machine|Speed|Column 3|Tag/P1|1480/P2||x"},
		{"Machine|Column 3", []string{"P1|1480"}, "Machine\t \t\nP2\tx\ty", "Machine>0 Machine,  >2 Column 4+, >3 Column 5+", 3, 1, "", "Machine|Column 3|Column 4|Column 5/P1|1480/P2||x|y"},
		{"Machine|Speed", []string{"P1|1480"}, "Machine\t\tSpeed\nP2\t\t990", "Machine>0 Machine, >-1 , Speed>1 Speed", 2, 1, "", "Machine|Speed/P1|1480/P2|990"},
		{"Machine|Speed", []string{"P1|1480"}, "Machine\t\t\nP2\n\nP3\tx", "Machine>0 Machine, >2 Column 3+", 3, 3, "", "Machine|Speed|Column 3/P1|1480/P2//P3||x"},
		{"Machine|Speed", []string{"P1|1480"}, "Machine\nP2\tx\t\ty", "Machine>0 Machine, >2 Column 3+, >-1 , >3 Column 4+", 3, 1, "", "Machine|Speed|Column 3|Column 4/P1|1480/P2||x|y"},
		{"Machine|Speed", []string{"P1|1480", "", " | "}, "Spring\nof all\nMachine\nP2", "Machine>0 Machine", 1, 1, "2 lines above the header left out.", "Machine|Speed/P1|1480/P2"},
		{"Machine|Speed", []string{"P1|1480"}, "Spring\nMachine\nP2", "Machine>0 Machine", 1, 1, "1 line above the header left out.", "Machine|Speed/P1|1480/P2"},
		{"Machine|Speed", []string{"P1|1480"}, "Machine\tSpeed\n\t\n\t", "Machine>0 Machine, Speed>1 Speed", 0, 0, "", "Machine|Speed/P1|1480"},
		{"Machine|Speed", []string{"P1|1480"}, "Machine\tSpeed\n\t7\nP3", "Machine>0 Machine, Speed>1 Speed", 2, 2, "", "Machine|Speed/P1|1480/|7/P3"},
		// into a sheet without rows: as it is
		{"A|B", []string{"", " |"}, "Machine\tSpeed\nP2\t990\nP3", "Machine>0 Machine+, Speed>1 Speed+", 3, 2, "", "Machine|Speed/P2|990/P3"},
		{"A|B", nil, "Machine\tSpeed\t\t \nP2\t990\t\nP3", "Machine>0 Machine+, Speed>1 Speed+, >2 +", 4, 2, "", "Machine|Speed|/P2|990/P3"},
		{"A|B", nil, "Machine\tSpeed\t\t \nP2\nP3\n\n", "Machine>0 Machine+, Speed>1 Speed+", 2, 2, "", "Machine|Speed/P2/P3"},
		{"A|B", nil, "Machine\t\t\nP2\t990\t\tx\nP3", "Machine>0 Machine+, >1 +, >2 +", 5, 2, "", "Machine||/P2|990||x/P3"},
		{"", nil, "Spring\nMachine\n", "Machine>0 Machine+", 0, 0, "", "Machine"},
	} {
		m := sheet(c.header, c.rows...)
		before := text(m)
		m.Go(Pos{7, 1}, false)
		p := m.PlanPasteText(c.paste, known)
		fresh := !slices.ContainsFunc(m.rows, func(r []string) bool { return !blankRow(r) })
		if got := what(p); got != c.columns || p.Cells != c.cells || p.New != c.news || p.Over != 0 || p.Replaced != 0 || !p.OK || !p.Table || p.Fresh != fresh || p.Note != c.note || p.Name != "paste of "+count2(c.news, "row") {
			t.Errorf("%q: %s; %+v\nwant %s, %d cells", c.paste, got, p, c.columns, c.cells)
		}
		if text(m) != before {
			t.Errorf("planning changes the sheet: %s", text(m))
		}
		ch := m.ApplyPlan(p)
		if got := text(m); got != c.want || ch.Note != c.note || ch.Header != (fresh || m.Header()[len(m.Header())-1] != c.header[strings.LastIndex(c.header, "|")+1:]) {
			t.Errorf("%q: %s, want %s; %+v", c.paste, got, c.want, ch)
		}
		row := 0
		if !fresh {
			row = 1
		}
		if m.cur != (Pos{row, 0}) || m.anchor != m.cur {
			t.Errorf("%q: at %v", c.paste, m.cur)
		}
		if m.Undo(); text(m) != before || m.cur != (Pos{7, 1}) && c.header != "" {
			t.Errorf("%q undone: %s at %v", c.paste, text(m), m.cur)
		}
	}
	// a header of blanks alone, which an owner's Arrange may find
	m := New(nil, nil, nil)
	mean := Meaning{Arrange: func(b [][]string) ([][]string, []string, [][]string, bool) { return nil, b[0], b[1:], true }}
	if p := m.PlanPaste([][]string{{"", " "}}, mean); !p.OK || len(p.Columns) != 0 || len(p.header) != 0 {
		t.Errorf("%+v", p)
	}
	// without a Match the same text is meant
	m = sheet("Machine|Speed", "P1|1")
	mean.Match = nil
	if p := m.PlanPaste([][]string{{"Speed", "machine"}, {"2", "P2"}}, mean); what(p) != "Speed>1 Speed, machine>2 machine+" {
		t.Error(what(p))
	}
}

// What is planned for a block without headers: where it goes, how often it is repeated in the selection, what it writes over, and the first five cells of that.
func TestPlansOfBlocks(t *testing.T) {
	rows := []string{"a|b|c", "d|e|f", "g|h|i", "j|k|l"}
	for _, c := range []struct {
		order    []int
		sel      Rect
		block    string
		name     string
		cells    int
		over     int
		news     int
		replaced int
		columns  string
		want     string
		end      Rect
	}{
		{nil, Rect{1, 1, 1, 1}, "x", "paste of a cell", 1, 1, 0, 1, ">1 B", "a|b|c/d|x|f/g|h|i/j|k|l", Rect{1, 1, 1, 1}},
		{nil, Rect{1, 1, 1, 1}, "x\ty", "paste of 2 cells", 2, 1, 0, 2, ">1 B, >2 C", "a|b|c/d|x|y/g|h|i/j|k|l", Rect{1, 1, 1, 2}},
		{nil, Rect{2, 1, 2, 1}, "x\ny\nz", "paste of 3 rows", 3, 2, 1, 2, ">1 B", "a|b|c/d|e|f/g|x|i/j|y|l/|z", Rect{2, 1, 4, 1}},
		{nil, Rect{0, 0, 3, 1}, "x\ty\nz\tw", "paste of 4 rows", 8, 4, 0, 8, ">0 A, >1 B", "x|y|c/z|w|f/x|y|i/z|w|l", Rect{0, 0, 3, 1}},
		{nil, Rect{0, 0, 1, 2}, "x\ny", "paste of 2 rows", 6, 2, 0, 6, ">0 A, >1 B, >2 C", "x|x|x/y|y|y/g|h|i/j|k|l", Rect{0, 0, 1, 2}},
		{nil, Rect{0, 0, 2, 2}, "x\ny", "paste of 2 rows", 2, 2, 0, 2, ">0 A", "x|b|c/y|e|f/g|h|i/j|k|l", Rect{0, 0, 1, 0}},
		{nil, Rect{0, 0, 1, 2}, "x\ty\nz\tw", "paste of 2 rows", 4, 2, 0, 4, ">0 A, >1 B", "x|y|c/z|w|f/g|h|i/j|k|l", Rect{0, 0, 1, 1}},
		{nil, Rect{0, 0, 3, 2}, "x\ty\nz\tw", "paste of 2 rows", 4, 2, 0, 4, ">0 A, >1 B", "x|y|c/z|w|f/g|h|i/j|k|l", Rect{0, 0, 1, 1}},
		{nil, Rect{0, 0, 0, 2}, "x\ny", "paste of 2 rows", 2, 2, 0, 2, ">0 A", "x|b|c/y|e|f/g|h|i/j|k|l", Rect{0, 0, 1, 0}},
		{nil, Rect{0, 2, 0, 2}, "c\tx", "paste of 2 cells", 2, 1, 0, 0, ">2 C, >3 Column 4+", "a|b|c|x/d|e|f/g|h|i/j|k|l", Rect{0, 2, 0, 3}},
		{nil, Rect{0, 0, 0, 0}, "\tx\t\n\t", "paste of 2 rows", 6, 2, 0, 6, ">0 A, >1 B, >2 C", "|x//g|h|i/j|k|l", Rect{0, 0, 1, 2}},
		{nil, Rect{6, 0, 6, 0}, "x\n\n", "paste of 2 rows", 2, 0, 2, 0, ">0 A", "a|b|c/d|e|f/g|h|i/j|k|l///x/", Rect{6, 0, 7, 0}},
		{[]int{0, ^0, 1, 2}, Rect{0, 0, 0, 1}, "x\ty", "paste of 2 cells", 2, 1, 0, 2, ">0 A, >1 B", "x|y|c/d|e|f/g|h|i/j|k|l", Rect{0, 0, 0, 2}},
		{[]int{0, ^0, 1, 2}, Rect{0, 1, 0, 2}, "x", "paste of a cell", 1, 1, 0, 1, ">1 B", "a|x|c/d|e|f/g|h|i/j|k|l", Rect{0, 1, 0, 2}},
		{[]int{0, 1, ^0, ^1, 2}, Rect{0, 2, 1, 3}, "x", "paste of 2 rows", 2, 2, 0, 2, ">2 C", "a|b|x/d|e|x/g|h|i/j|k|l", Rect{0, 2, 1, 4}},
		{[]int{2, 1, 0}, Rect{3, 1, 3, 1}, "x\ty", "paste of 2 cells", 2, 1, 0, 2, ">1 B, >0 A", "a|b|c/d|e|f/g|h|i/y|x|l", Rect{3, 1, 3, 2}},
	} {
		m := sheet("A|B|C", rows...)
		m.SetOrder(c.order)
		m.Select(c.sel)
		p := m.PlanPasteText(c.block, Meaning{})
		if !p.OK || p.Table || p.Fresh || p.Name != c.name || p.Cells != c.cells || p.Over != c.over || p.New != c.news || p.Replaced != c.replaced || what(p) != c.columns || p.Note != "" {
			t.Errorf("%q at %v: %s, %+v", c.block, c.sel, what(p), p)
		}
		// what would be written over is what stands there, in reading order
		if len(p.Samples) != min(c.replaced, planSamples) {
			t.Errorf("%q at %v: %d samples of %d", c.block, c.sel, len(p.Samples), c.replaced)
		}
		olds := make([]string, len(p.Samples))
		for i, s := range p.Samples {
			if olds[i] = m.Cell(s.Row, s.Column); olds[i] != s.Old || s.Old == s.New {
				t.Errorf("%q at %v: sample %+v, there stands %q", c.block, c.sel, s, olds[i])
			}
		}
		ch := m.ApplyPlan(p)
		for _, s := range p.Samples {
			if m.Cell(s.Row, s.Column) != s.New {
				t.Errorf("%q at %v: sample %+v, it is %q", c.block, c.sel, s, m.Cell(s.Row, s.Column))
			}
		}
		if got := text(m); !strings.HasPrefix(got, "A|B|C/"+c.want) && !strings.HasPrefix(got, "A|B|C|Column 4/"+c.want) || ch.Header != (len(m.Header()) > 3) || m.Selection() != c.end {
			t.Errorf("%q at %v: %s, %v is selected; %+v", c.block, c.sel, got, m.Selection(), ch)
		}
	}
	for _, c := range []struct {
		order []int
		sel   Rect
		note  string
	}{
		{[]int{0, ^0, 1, 2}, Rect{0, 1, 1, 1}, "This column is worked out"}, {[]int{0, 1, 2, ^0, ^1}, Rect{0, 3, 0, 4}, "This column is worked out"}, {[]int{^0, 0, 1, 2}, Rect{0, 0, 0, 0}, "This column is worked out"},
	} {
		m := sheet("A|B|C", rows...)
		m.SetOrder(c.order)
		m.Select(c.sel)
		if p := m.PlanPasteText("x", Meaning{}); p.OK || !strings.HasPrefix(p.Note, c.note) {
			t.Errorf("%v in %v: %+v", c.sel, c.order, p)
		}
	}
	// in a view the samples are of stored rows
	m := sheet("A|B|C", rows...)
	m.Arrange([]SortKey{{0, true}}, nil, func(r int) bool { return r != 2 })
	m.Go(Pos{1, 0}, false)
	p := m.PlanPasteText("x\ny", Meaning{})
	if !reflect.DeepEqual(p.Samples, []PlanSample{{1, 0, "d", "x"}, {0, 0, "a", "y"}}) {
		t.Errorf("%+v", p.Samples)
	}
	// a plan is for the sheet as it was, and as it was shown
	for i, do := range []func(){func() { m.SetCell(0, 0, "z") }, func() { m.Undo() }, func() { m.Redo() }, func() { m.Arrange(nil, nil, nil) }} {
		p := m.PlanPasteText("x\ny", Meaning{})
		do()
		now := text(m)
		if ch := m.ApplyPlan(p); ch.Any || ch.Note == "" || text(m) != now {
			t.Errorf("after change %d: %+v", i, ch)
		}
	}
}

// What a program puts on the clipboard: ends of lines, marks, quotation, and nothing at all.
func TestBlocksOfText(t *testing.T) {
	for text, want := range map[string][][]string{
		"": nil, "a": {{"a"}}, "a\n": {{"a"}}, "a\r\n": {{"a"}}, "a\n\n": {{"a"}, {""}}, "\n": {{""}}, "\t": {{"", ""}}, "a\t": {{"a", ""}}, "a\t\n": {{"a", ""}}, "a\rb": {{"a"}, {"b"}},
		"\ufeffa": {{"a"}}, "\ufeff\ufeffa\tb": {{"a", "b"}}, "a\ufeff": {{"a\ufeff"}}, "\ufeff": {{""}}, "\"a\nb\"\tc": {{"a\nb", "c"}}, "\"a\"b\tc": {{"\"a\"b", "c"}}, "\"a": {{"\"a"}}, "\"a\"\"b\"": {{"a\"b"}}, "\"\"": {{""}}, "\"a\"\r\nb": {{"a"}, {"b"}}, "\"a\"\rb": {{"a"}, {"b"}},
	} {
		if got := ParseBlock(text); !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	for _, c := range []struct {
		rows [][]string
		want string
	}{
		{nil, ""}, {[][]string{{"a", "b"}, {"c"}}, "a\tb\r\nc"}, {[][]string{{""}}, `""`}, {[][]string{{"a"}, {""}}, "a\r\n\"\""}, {[][]string{{""}, {"a"}}, "\r\na"}, {[][]string{{"", ""}}, "\t"}, {[][]string{{"a", ""}}, "a\t"},
		{[][]string{{"\ufeffa", "\ufeffb"}, {"\ufeffc", "\ufeffd"}}, "\"\ufeffa\"\t\ufeffb\r\n\ufeffc\t\ufeffd"}, {[][]string{{`3/8"`}}, `"3/8"""`}, {[][]string{{"a\tb", "c\nd", "e\rf"}}, "\"a\tb\"\t\"c\nd\"\t\"e\rf\""},
	} {
		if got := FormatBlock(c.rows); got != c.want {
			t.Errorf("%q: %q, want %q", c.rows, got, c.want)
		}
	}
	m := sheet("A|B", "1|2")
	if ch := m.PasteText("", Meaning{}); ch != (Change{}) || m.Cell(0, 0) != "1" {
		t.Errorf("nothing pasted: %+v", ch)
	}
}

// What is copied: the rows that are there, results of these rows only; a selection below the last row is that one empty row.
func TestCopiedRows(t *testing.T) {
	m := sheet("A|B", "1|2", "3")
	m.SetOrder([]int{0, ^4, 1})
	result := func(row, k int) string {
		if row < 0 || row > 1 || k != 4 {
			t.Errorf("asked for result %d of row %d", k, row)
		}
		return fmt.Sprint("r", row)
	}
	for _, c := range []struct {
		sel    Rect
		inputs string
		text   string
	}{
		{Rect{0, 0, 9, 2}, "1\t2\n3\t", "1\tr0\t2\r\n3\tr1\t"}, {Rect{1, 1, 2, 2}, "\"\"", "r1\t"}, {Rect{2, 0, 5, 2}, "\t", "\t\t"}, {Rect{0, 1, 0, 1}, "", "r0"}, {Rect{7, 0, 7, 0}, "\"\"", "\"\""}, {Rect{2, 1, 2, 1}, "", "\"\""},
	} {
		m.Select(c.sel)
		text, html := m.Copy(result)
		if text != c.text || !m.Copied(text) == (m.clipInputs != nil) || m.Copied(text+"x") {
			t.Errorf("%v: %q, want %q", c.sel, text, c.text)
		}
		if strings.Count(html, "<td>") != strings.Count(c.text, "\t")+strings.Count(c.text, "\r\n")+1 {
			t.Errorf("%v: %s", c.sel, html)
		}
		if got := strings.ReplaceAll(FormatBlock(m.clipInputs), "\r\n", "\n"); got != c.inputs {
			t.Errorf("%v: inputs %q, want %q", c.sel, got, c.inputs)
		}
	}
	m.Select(Rect{0, 0, 0, 0})
	if _, html := m.Copy(nil); html != `<meta charset="utf-8"><table><tr><td>1</td></tr></table>` {
		t.Error(html)
	}
	if _, html := m.CopyTable(nil, func(x int) string { return fmt.Sprint("h", x) }); html != `<meta charset="utf-8"><table><tr><th>h0</th></tr><tr><td>1</td></tr></table>` {
		t.Error(html)
	}
	if text, _ := m.CopyTable(nil, func(x int) string { return "h" }); m.Copied(text) {
		t.Error("a table with its header is read anew when it is pasted")
	}
	// what was cut with results among it is put back without them
	m.Select(Rect{0, 0, 0, 2})
	cut, _, ch := m.Cut(result)
	if cut != "1\tr0\t2" || !ch.Any || m.UndoName() != "cutting 2 cells" || text(m) != "A|B//3" {
		t.Errorf("%q, %+v, %s", cut, ch, text(m))
	}
	m.Go(Pos{2, 0}, false)
	if m.PasteText(cut, Meaning{}); text(m) != "A|B//3/1|2" {
		t.Error(text(m))
	}
}

// What is typed into all cells of a selection goes into it only if the cell that was opened is one of it, at any edge; else into that cell alone.
func TestCommitAllWhereItWasOpened(t *testing.T) {
	for row := range 5 {
		for col := range 5 {
			m := sheet("A|B|C|D|E", "a|a|a|a|a", "a|a|a|a|a", "a|a|a|a|a", "a|a|a|a|a", "a|a|a|a|a")
			m.Go(Pos{row, col}, false)
			m.Begin()
			m.cur, m.anchor = Pos{1, 2}, Pos{2, 3}
			ch := m.CommitAll("x")
			inside := row >= 1 && row <= 2 && col >= 2 && col <= 3
			n := 1
			if inside {
				n = 4
			}
			if !ch.Any || m.UndoName() != "typing into "+count2(n, "cell") || strings.Count(text(m), "x") != n || m.Cell(row, col) != "x" {
				t.Errorf("opened at %d, %d: %q, %s", row, col, m.UndoName(), text(m))
			}
			if m.cur != (Pos{1, 2}) || m.anchor != (Pos{2, 3}) {
				t.Errorf("the cursor went to %v", m.cur)
			}
			if _, open := m.Editing(); open {
				t.Error("still open")
			}
			if inside && (m.Cell(1, 2) != "x" || m.Cell(2, 3) != "x") {
				t.Error(text(m))
			}
		}
	}
	// nothing typed over nothing is no step. Seen: "typing into 0 cells" in the undo list
	m := sheet("A|B", "a|", "|")
	m.Select(Rect{0, 1, 3, 1})
	m.Begin()
	if ch := m.CommitAll(""); ch.Any || m.UndoName() != "" || len(m.Rows()) != 2 {
		t.Errorf("%+v, %q, %d rows", ch, m.UndoName(), len(m.Rows()))
	}
	// a text that some cells hold already
	m.Select(Rect{0, 0, 1, 1})
	m.Begin()
	if m.CommitAll("a"); m.UndoName() != "typing into 3 cells" || text(m) != "A|B/a|a/a|a" {
		t.Errorf("%q %s", m.UndoName(), text(m))
	}
}

// Columns that are not there are neither taken out nor renamed; one added at the end touches no row.
func TestColumnsThatAreNotThere(t *testing.T) {
	m := sheet("A|B", "1|2", "3")
	before := snap(m)
	for _, c := range []int{-1, 2, 99} {
		if m.DeleteColumn(c).Any || m.Rename(c, "x").Any || snap(m) != before || m.UndoName() != "" {
			t.Errorf("column %d: %s", c, snap(m))
		}
	}
	for at, touched := range map[int]int{-1: 0, 2: 0, 99: 0, 0: 2, 1: 2} {
		ch := m.AddColumn(at, "N")
		if !ch.Any || !ch.Header || ch.From != 0 || ch.To != touched || ch.Moved || m.UndoName() != "adding a column" || len(m.Header()) != 3 {
			t.Errorf("added at %d: %+v", at, ch)
		}
		want := at
		if touched == 0 {
			want = 2
		}
		if m.Header()[want] != "N" {
			t.Errorf("added at %d: %q", at, m.Header())
		}
		if m.Undo(); snap(m) != before {
			t.Errorf("added at %d and undone: %s", at, snap(m))
		}
	}
	if ch := m.DeleteColumn(1); !ch.Any || m.UndoName() != "taking out a column" || text(m) != "A/1/3" {
		t.Errorf("%+v %s", ch, text(m))
	}
	if ch := m.SetHeader([]string{"X"}); ch.Any || !strings.HasPrefix(ch.Note, "The sheet has rows") {
		t.Errorf("%+v", ch)
	}
}
