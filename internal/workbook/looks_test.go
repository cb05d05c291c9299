package workbook

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
)

// A looked is a sheet of a workbook as excelize sees it.
type looked struct {
	t    *testing.T
	f    *excelize.File
	name string
	rows [][]string
}

func look(t *testing.T, f *excelize.File, name string) *looked {
	t.Helper()
	rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	return &looked{t, f, name, rows}
}

// style is that of a cell, 0-based column and 1-based row.
func (l *looked) style(col, row int) *excelize.Style {
	id, err := l.f.GetCellStyle(l.name, cellName(col, row))
	if err != nil {
		l.t.Fatal(err)
	}
	s, err := l.f.GetStyle(id)
	if err != nil {
		l.t.Fatal(err)
	}
	return s
}

func format(s *excelize.Style) string {
	switch {
	case s.CustomNumFmt != nil:
		return *s.CustomNumFmt
	case s.NumFmt == 1:
		return "0"
	case s.NumFmt == 2:
		return "0.00"
	case s.NumFmt != 0:
		return fmt.Sprint(s.NumFmt)
	}
	return ""
}

// header is the 1-based row that begins with these names.
func (l *looked) header(first, second string) int {
	for n, row := range l.rows {
		if len(row) > 1 && row[0] == first && strings.HasPrefix(row[1], second) {
			return n + 1
		}
	}
	l.t.Fatalf("%s has no header %s, %s", l.name, first, second)
	return 0
}

// printed checks what is frozen, repeated and set for paper: the header and the rows above stay, and stand on every page.
func (l *looked) printed(frozenCols, header int, portrait, a3, repeated bool) {
	l.t.Helper()
	p, err := l.f.GetPanes(l.name)
	if err != nil || p.XSplit != frozenCols || p.YSplit != header || p.Freeze != (frozenCols+header > 0) || p.Freeze && p.TopLeftCell != cellName(frozenCols, header+1) {
		l.t.Errorf("%s: frozen %+v, %v; want %d columns and %d rows", l.name, p, err, frozenCols, header)
	}
	if want := map[[2]bool]string{{true, true}: "bottomRight", {false, true}: "bottomLeft", {true, false}: "topRight"}[[2]bool{frozenCols > 0, header > 0}]; p.Freeze && p.ActivePane != want {
		l.t.Errorf("%s: the pane %s is active, want %s", l.name, p.ActivePane, want)
	}
	o, err := l.f.GetPageLayout(l.name)
	if err != nil || (*o.Orientation == "portrait") != portrait || (*o.Size == 8) != a3 || !a3 && *o.Size != 9 || *o.FitToHeight != 0 || *o.FitToWidth < 1 {
		l.t.Errorf("%s: page %v, %v", l.name, o, err)
	}
	if s, err := l.f.GetSheetProps(l.name); err != nil || s.FitToPage == nil || !*s.FitToPage {
		l.t.Errorf("%s: not fitted to the page", l.name)
	}
	titles := ""
	for _, n := range l.f.GetDefinedName() {
		if n.Name == "_xlnm.Print_Titles" && n.Scope == l.name {
			titles = n.RefersTo
		}
	}
	if want := fmt.Sprintf("$%d:$%d", header, header); repeated != strings.HasSuffix(titles, want) || repeated != strings.HasPrefix(titles, "'"+l.name+"'!") {
		l.t.Errorf("%s: printed again is %q, want %s", l.name, titles, want)
	}
	if dim, err := l.f.GetSheetDimension(l.name); err != nil {
		l.t.Error(err)
	} else {
		wide := 0
		for _, r := range l.rows {
			wide = max(wide, len(r))
		}
		_, to, _ := strings.Cut(dim, ":")
		c, r, err := excelize.CellNameToCoordinates(to)
		if !strings.HasPrefix(dim, "A1:") || err != nil || c < wide || r < len(l.rows) || r > len(l.rows)+1 {
			l.t.Errorf("%s says it covers %s; %d rows of %d columns are filled", l.name, dim, len(l.rows), wide)
		}
	}
}

// tall checks that rows are high enough for the texts that wrap in them, so that paper and screen show them whole: by the width of each column and Calibri 10, whose line takes 13 pt.
func (l *looked) tall(from, cols int) {
	l.t.Helper()
	for n := from; n <= len(l.rows); n++ {
		lines := 1
		for c, s := range l.rows[n-1] {
			if c >= cols || s == "" || strings.HasPrefix(s, "data:") {
				continue
			}
			st := l.style(c, n)
			if st.Alignment == nil || !st.Alignment.WrapText {
				continue
			}
			w, _ := l.f.GetColWidth(l.name, columnName(c))
			sum := 0
			for _, part := range strings.Split(s, "\n") {
				sum += max(1, int(math.Ceil(float64(utf8.RuneCountInString(part))/math.Max(w, 3))))
			}
			lines = max(lines, sum)
		}
		h, err := l.f.GetRowHeight(l.name, n)
		if err != nil || lines > 1 && h < 13*float64(min(lines, 30)) {
			l.t.Errorf("%s row %d is %g pt high, and has texts of %d lines", l.name, n, h, lines)
		}
		if h > 13*31 {
			l.t.Errorf("%s row %d is %g pt high", l.name, n, h)
		}
	}
}

// Sheets of results look as people read them: a title, a head that stays, patterns behind verdicts (blue rising lines inside, orange trellis outside, grey dots too close to call, as web/style.css draws them), numbers with the digits that their
// unit is read to, and rows high enough for what is in them.
func TestSheetsAsSeen(t *testing.T) {
	for _, whole := range []string{"", "Setting,Value\nUnits,inch\nName,Spring\nSite,the plant\nDate,today\n"} {
		m := demoBook(t, whole)
		title := []string{}
		for _, k := range []string{"name", "site", "date"} {
			if v := m.ev.Setting(k); v != "" {
				title = append(title, v)
			}
		}
		results := look(t, m.f, "Results")
		head := results.header("Machine", "Verdict")
		if results.rows[0][0] != strings.Join(title, ", ") || !strings.Contains(results.rows[1][0], "couplings: ") || !strings.Contains(results.rows[2][0], "± is expanded, k = 2") || results.rows[3][0] != tables.Cautions()[0].Text {
			t.Errorf("%q", results.rows[:4])
		}
		if s := results.style(0, 1); !s.Font.Bold || s.Font.Size != 14 {
			t.Errorf("%+v", s.Font)
		}
		results.printed(1, head, false, false, true)
		if got := m.f.GetSheetName(m.f.GetActiveSheetIndex()); got != "Results" {
			t.Errorf("%s is open first", got)
		}
		shown := map[string]string{"mm": "0.000", "in": "0.000", "mil": "0.0", "%": "0", "mm/m": "0.00", "mil/in": "0.00"}
		formats, marks := 0, map[string]int{}
		for n := head; n <= len(results.rows); n++ {
			row := results.rows[n-1]
			for c := range results.rows[head-1] {
				h, s := results.rows[head-1][c], results.style(c, n)
				if n == head {
					if !s.Font.Bold || s.Fill.Pattern != 1 || !slices.Equal(s.Fill.Color, []string{"E9EDF2"}) || !s.Alignment.WrapText || s.Alignment.Vertical != "bottom" {
						t.Errorf("the head %s looks like %+v", h, s)
					}
					continue
				}
				if len(s.Border) != 4 || s.Font.Bold != (c < 2) || s.Alignment.Vertical != "top" {
					t.Errorf("%s of %s: %+v", h, row[0], s)
				}
				_, unit, _ := strings.Cut(strings.TrimSuffix(h, "]"), " [")
				cell := ""
				if c < len(row) {
					cell = row[c]
				}
				words := strings.HasPrefix(h, "Verdict") || strings.HasPrefix(h, "After: verdict")
				if words {
					want, fill := map[string]int{"inside": 14, "outside": 16, "too close to call": 4}[cell], map[string]string{"inside": "9DB8D9", "outside": "E8A33D", "too close to call": "B8B8B8"}[cell]
					if s.Fill.Pattern != want || want > 0 && !slices.Equal(s.Fill.Color, []string{fill}) {
						t.Errorf("%s, %q: the pattern is %d %v", row[0], cell, s.Fill.Pattern, s.Fill.Color)
					}
					marks[cell]++
				} else if s.Fill.Pattern != 0 {
					t.Errorf("%s of %s has a pattern", h, row[0])
				}
				if s.Alignment.Horizontal != "right" || shown[unit] == "" {
					continue
				}
				want := shown[unit]
				if unit == "mm" && (strings.Contains(h, "shim") || strings.Contains(h, "move") || strings.Contains(h, "slide")) {
					want = "0.00"
				}
				if formats++; format(s) != want {
					t.Errorf("%s is shown as %q, want %q", h, format(s), want)
				}
			}
		}
		if formats < 400 || len(marks) < 4 {
			t.Errorf("%d numbers, %v", formats, marks)
		}
		printed := 0
		for _, n := range m.f.GetDefinedName() {
			if n.Name == "_xlnm.Print_Area" && n.Scope == "Results" {
				_, to, _ := strings.Cut(strings.ReplaceAll(n.RefersTo, "$", ""), ":")
				c, r, err := excelize.CellNameToCoordinates(to)
				if printed = c; err != nil || r != len(results.rows) || !strings.HasPrefix(n.RefersTo, "'Results'!$A$1:") {
					t.Errorf("printed is %s of %d rows", n.RefersTo, len(results.rows))
				}
			}
		}
		if h := results.rows[head-1]; printed < 15 || !strings.HasPrefix(h[printed-1], "After: verdict") {
			t.Errorf("%d columns are printed", printed)
		}
		results.tall(head+1, printed)
		for _, s := range []struct {
			name, first, second string
			cols                int
			portrait            bool
		}{{"Pick list", "Machine", "Foot", 1, false}, {"Order list", "Thickness [" + job.QThickness.Unit(m.ev.Inch()).String() + "]", "Pieces to add", 0, true}, {"Moves", "Train", "Machine", 1, false}, {"Limits used", "Coupling", "Limit set", 0, false}} {
			l := look(t, m.f, s.name)
			h := l.header(s.first, s.second)
			if l.rows[0][0] != s.name+": "+strings.Join(title, ", ") || len(l.rows[1]) != 1 || len(l.rows[1][0]) < 40 || h != 4 {
				t.Errorf("%s begins %q", s.name, l.rows[:4])
			}
			if a, b := l.style(0, 1), l.style(0, 2); !a.Font.Bold || a.Font.Size != 14 || !b.Font.Italic {
				t.Errorf("%s: %+v %+v", s.name, a.Font, b.Font)
			}
			l.printed(s.cols, 4, s.portrait, false, true)
			l.tall(5, 99)
			for c := range l.rows[3] {
				if st := l.style(c, 4); !st.Font.Bold || st.Fill.Pattern != 1 || !st.Alignment.WrapText {
					t.Errorf("%s, %s: %+v", s.name, l.rows[3][c], st)
				}
				w, err := m.f.GetColWidth(s.name, columnName(c))
				if err != nil || w < 4 || w > 60 {
					t.Errorf("%s, %s is %g wide", s.name, l.rows[3][c], w)
				}
			}
		}
		method := look(t, m.f, "Method")
		method.printed(0, 0, false, false, false)
		method.tall(1, 99)
	}
}

// Sheets of inputs look as typed: as many decimals as were typed, numbers to the right, the unit of a bare number shown behind its header and no part of it, lists of the words that a column takes, and the name of the job at the foot.
func TestInputsAsSeen(t *testing.T) {
	for _, whole := range []string{"", "Setting,Value\nUnits,inch\nName,A & B\n"} {
		m := demoBook(t, whole)
		numbers, units, lists := 0, 0, 0
		for _, k := range job.SheetKinds() {
			tab := m.j.Table(k)
			if tab == nil {
				continue
			}
			l := look(t, m.f, k.String())
			head := len(tab.Title) + 1
			many := k == job.MachinesSheet && tab.Width() > 14
			frozen := 0
			if k == job.MachinesSheet {
				frozen = 1
			}
			l.printed(frozen, head, k != job.MachinesSheet, false, true)
			foot, err := m.f.GetHeaderFooter(k.String())
			name := m.ev.Setting("name")
			if err != nil || !strings.Contains(foot.OddFooter, "&L&8"+clip(strings.ReplaceAll(name, "&", "&&"), 50)) || !strings.HasSuffix(foot.OddFooter, "&R&8&A, page &P of &N") {
				t.Errorf("%v: foot %q, %v", k, foot.OddFooter, err)
			}
			dvs, err := m.f.GetDataValidations(k.String())
			if err != nil {
				t.Fatal(err)
			}
			words := map[string]string{}
			for _, dv := range dvs {
				if dv.Type != "list" || dv.ErrorStyle == nil || *dv.ErrorStyle != "information" || dv.Error == nil || !strings.Contains(*dv.Error, "Other spellings") {
					t.Errorf("%v: %+v", k, dv)
				}
				words[dv.Sqref] = strings.Trim(dv.Formula1, `"`)
			}
			for c := range tab.Width() {
				h := ""
				if c < len(tab.Header) {
					h = tab.Header[c]
				}
				info := columnAt(tab, k, c)
				if h != "" {
					st := l.style(c, head)
					if !st.Font.Bold || st.Fill.Pattern != 1 || (st.Alignment.TextRotation == 90) != (many && c > 0) || !st.Alignment.WrapText {
						t.Errorf("%v, %s: %+v", k, h, st)
					}
					want := ""
					if info != nil && k != job.SettingsSheet && !strings.ContainsAny(h, "[(") {
						if u := info.Unit(m.ev.Inch()).String(); u != "" {
							want = `@" [` + u + `]"`
							units++
						}
					}
					if format(st) != want {
						t.Errorf("%v, %s is shown by %q, want %q", k, h, format(st), want)
					}
				}
				if info != nil && k != job.SettingsSheet && (len(info.Choices) > 0 || info.Key == "limits") {
					want := strings.Join(info.Choices, ",")
					if info.Key == "limits" {
						var sets []string
						for _, s := range m.ev.LimitSets() {
							sets = append(sets, s.Name)
						}
						want = strings.Join(sets, ",")
					}
					at := fmt.Sprintf("%s%d:%s%d", columnName(c), head+1, columnName(c), head+len(tab.Rows)+200)
					if words[at] != want {
						t.Errorf("%v, %s: the list over %s is %q, want %q; there are %v", k, h, at, words[at], want, words)
					}
					lists++
				}
				w, err := m.f.GetColWidth(k.String(), columnName(c))
				longest := 0
				for i := range tab.Rows {
					longest = max(longest, utf8.RuneCountInString(tab.Cell(i, c)))
				}
				if err != nil || w < 4 || w > 60 || longest > 0 && longest < 6 && w < float64(longest)+1 {
					t.Errorf("%v, %s is %g wide, the longest text has %d signs", k, h, w, longest)
				}
				for i := range tab.Rows {
					s := tab.Cell(i, c)
					if s == "" {
						continue
					}
					st := l.style(c, head+1+i)
					kind, _ := m.f.GetCellType(k.String(), cellName(c, head+1+i))
					number := kind == excelize.CellTypeUnset || kind == excelize.CellTypeNumber
					in := info
					if k == job.SettingsSheet {
						if in = nil; c == 1 {
							in = job.FindColumn(k, tab.Cell(i, 0))
						}
					}
					wanted := in != nil && !in.Result && in.Quantity != job.QText && in.Quantity != job.QChoice && in.Quantity != job.QSweep && in.Quantity != job.QDistances
					if number && !wanted {
						t.Errorf("%v: %q went out as a number", k, s)
					}
					if (st.Alignment.Horizontal == "right") != wanted || len(st.Border) != 4 {
						t.Errorf("%v: %q stands %q", k, s, st.Alignment.Horizontal)
					}
					if number {
						numbers++
						_, frac, _ := strings.Cut(s, ".")
						want := "0"
						if len(frac) > 0 {
							want += "." + strings.Repeat("0", len(frac))
						}
						if format(st) != want {
							t.Errorf("%v: %q is shown by %q", k, s, format(st))
						}
					}
				}
			}
			if k == job.SettingsSheet {
				for i := range tab.Rows {
					if info := job.FindColumn(k, tab.Cell(i, 0)); info != nil && len(info.Choices) > 0 {
						at := fmt.Sprintf("B%d:B%d", head+1+i, head+1+i)
						if got := words[at]; got == "" {
							at = fmt.Sprintf("B%d", head+1+i)
						}
						if words[at] != strings.Join(info.Choices, ",") {
							t.Errorf("%s: the list is %q of %v", info.Name, words[at], words)
						}
						lists++
					}
				}
			}
			if many {
				if h, _ := m.f.GetRowHeight(k.String(), head); h < 100 {
					t.Errorf("a head of upright names is %g pt high", h)
				}
			} else {
				l.tall(head+1, 99)
			}
			for name, want := range map[string]string{nameHeader + k.String(): fmt.Sprintf("'%v'!$A$%d:$%s$%d", k, head, columnName(max(tab.Width(), 1)-1), head), nameRows + k.String(): fmt.Sprintf("'%v'!$A$%d:$%s$%d", k, head+1, columnName(max(tab.Width(), 1)-1), head+len(tab.Rows))} {
				got := ""
				for _, n := range m.f.GetDefinedName() {
					if n.Name == name {
						got = n.RefersTo
					}
				}
				if got != want {
					t.Errorf("%s is %q, want %q", name, got, want)
				}
			}
		}
		if numbers < 500 || units < 15 && whole == "" || lists < 6 {
			t.Errorf("%d numbers, %d units, %d lists", numbers, units, lists)
		}
	}
}

// What the document says of itself: its name, who wrote it, which state of the job it is and when that was saved; the same job gives the same bytes.
func TestDocumentSaysWhatItIs(t *testing.T) {
	j := job.NewJob()
	j.ID, j.Revision = "00112233445566778899aabbccddeeff", 7
	j.Machines.Header, j.Machines.Rows = []string{"Machine", "Speed"}, [][]string{{"P 1", "1480"}}
	for saved, want := range map[string]string{"": "2000-01-01T00:00:00Z", "2026-04-12T07:30:00+02:00": "2026-04-12T05:30:00Z", "some day": "2000-01-01T00:00:00Z"} {
		j.SavedAt = saved
		out, err := WriteInputs(j, sentences.New(j))
		if err != nil {
			t.Fatal(err)
		}
		again, _ := WriteInputs(j, sentences.New(j))
		if !bytes.Equal(out, again) {
			t.Error("the same job gives other bytes")
		}
		f, err := excelize.OpenReader(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		p, err := f.GetDocProps()
		if err != nil || p.Title != "Shaft alignment" || p.Creator != "Shimsheet" || p.LastModifiedBy != "Shimsheet" || p.Created != want || p.Modified != want || p.Identifier != strings.TrimSpace("shimsheet 00112233445566778899aabbccddeeff 7 "+saved) || !strings.Contains(p.Description, "inputs as typed") {
			t.Errorf("%+v, %v", p, err)
		}
		if a, err := f.GetAppProps(); err != nil || a.Application != "Shimsheet" {
			t.Errorf("%+v, %v", a, err)
		}
		if got := f.GetSheetList(); !slices.Equal(got, []string{"Machines"}) {
			t.Errorf("%q", got)
		}
		back, r, err := Read(out, "x.xlsx", nil)
		if err != nil || !r.Own || back.ID != j.ID || back.Revision != 7 || back.SavedAt != saved {
			t.Errorf("%+v, %v", back, err)
		}
	}
	var b [3]loaded
	for i, id := range []string{"abc", "abc x", " 7"} { // none of ours
		b[i].job = job.NewJob()
		before := b[i].job.ID
		if b[i].ownIdentity(id); b[i].preview.Own || b[i].job.ID != before {
			t.Errorf("%q is an identity", id)
		}
	}
}
