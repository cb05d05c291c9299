package job

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestReadDelimited(t *testing.T) {
	for _, c := range []struct {
		name, in string
		sep      rune
		want     [][]string
		warns    int
	}{
		{"plain", "a,b\nc,d\n", 0, [][]string{{"a", "b"}, {"c", "d"}}, 0},
		{"no last line end", "a,b\r\nc", 0, [][]string{{"a", "b"}, {"c"}}, 0},
		{"old line ends", "a,b\rc,d\r", 0, [][]string{{"a", "b"}, {"c", "d"}}, 0},
		{"blank rows stay", "a,b\n\n,\nc,d\n", 0, [][]string{{"a", "b"}, nil, {"", ""}, {"c", "d"}}, 0},
		{"nothing is trimmed", " a , b\t", ',', [][]string{{" a ", " b\t"}}, 0},
		{"quotes", "\"a,\"\"b\"\"\",\"two\r\nlines\"\nc,d", 0, [][]string{{`a,"b"`, "two\r\nlines"}, {"c", "d"}}, 0},
		{"inch marks", "5 1/2\",b\n\"3\"\"\",c\n", 0, [][]string{{`5 1/2"`, "b"}, {`3"`, "c"}}, 0},
		{"behind the quote", "\"a\"b,c\n", 0, [][]string{{"ab", "c"}}, 0},
		{"never closed", "a,\"b\nc,d\n", ',', [][]string{{"a", `"b`}, {"c", "d"}}, 1},
		{"semicolons", "Machine;Speed\nP 1;1480,5\n", 0, [][]string{{"Machine", "Speed"}, {"P 1", "1480,5"}}, 0},
		{"tabs", "Machine\tSpeed\na;b,c\t1\n", 0, [][]string{{"Machine", "Speed"}, {"a;b,c", "1"}}, 0},
		{"clipboard without header", "P 1\t0,10\t0,20\nP 2\t0,10\t0,30\n", 0, [][]string{{"P 1", "0,10", "0,20"}, {"P 2", "0,10", "0,30"}}, 0},
		{"sep=", "sep=;\r\na;b\r\n", 0, [][]string{{"a", "b"}}, 0},
		{"mark", "\xef\xbb\xbfa,b", 0, [][]string{{"a", "b"}}, 0},
		{"UTF-16", "\xff\xfea\x00,\x00\xe9\x00", 0, [][]string{{"a", "é"}}, 0},
		{"Windows-1252", "caf\xe9,\x80\n", 0, [][]string{{"café", "€"}}, 1},
		{"empty", "", 0, [][]string{}, 0},
	} {
		tab, problems, err := ReadDelimited("list", []byte(c.in), c.sep)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !reflect.DeepEqual(tab.Rows, c.want) {
			t.Errorf("%s: %q, want %q", c.name, tab.Rows, c.want)
		}
		if len(problems) != c.warns {
			t.Errorf("%s: %v", c.name, problems)
		}
	}
	for _, bad := range []string{"PK\x03\x04rest", "a\x00b"} {
		if _, _, err := ReadDelimited("list", []byte(bad), 0); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

func TestRowNumbers(t *testing.T) {
	tab, _, _ := ReadDelimited("Machines", []byte("sep=,\ntitle\n\nMachine,Speed\nP 1,2\n"), 0)
	if !tab.SplitHeader(MachinesSheet) || tab.SourceRow(0) != 5 || len(tab.Title) != 2 || tab.Header[1] != "Speed" || tab.Cell(0, 1) != "2" || tab.Cell(9, 9) != "" {
		t.Errorf("%+v", tab)
	}
	if again := *tab; !again.SplitHeader(MachinesSheet) || again.SourceRow(0) != 5 || !reflect.DeepEqual(again.Rows, tab.Rows) {
		t.Errorf("parted again: %+v", again)
	}
	if tab, _, _ = ReadDelimited("Machines", []byte("P 1,2,3\n"), 0); tab.SplitHeader(MachinesSheet) || tab.Header != nil || len(tab.Rows) != 1 {
		t.Errorf("%+v", tab)
	}
}

func TestFormulas(t *testing.T) {
	for cell, risky := range map[string]bool{
		"-0.35": false, "+12": false, "-0,35 mm": false, "-12.5 mil": false, "-1 1/8 in": false, `-5 1/2"`: false, "-3°": false, "": false,
		"=1+1": true, "@SUM(A1)": true, "+A1": true, "-A1": true, "-2+3": true, "-1;2": true, "-1(2)": true, "\t=1": true, " =1": true, "+1|cmd!A1": true, "-": false, "a=b": false,
		"-7.5e-17": false, "+1e+99": false, "-1e-12": false, "-1e-19+A1": true, "-1e-1": false, "+1E+3 mm": false, "-1e-3+A1": true, "-1e-": true, "-2e5": false,
	} {
		got := RunsAsFormula(cell)
		if got != risky {
			t.Errorf("%q: %v", cell, got)
		}
		out := string(AppendCSVRow(nil, []string{cell}, ','))
		if has := strings.HasPrefix(strings.TrimPrefix(out, `"`), "'"); has != risky {
			t.Errorf("%q is written %q", cell, out)
		}
	}
}

// A cell a;=1+1; once went out bare, and a program set to semicolons ran its middle; -7.5e-17 went out as text.
func TestCSVOfOtherPrograms(t *testing.T) {
	for cell, want := range map[string]string{
		"a;=1+1;": `"a;'=1+1;"`, "a;b": "a;b", "x|@SUM(A1)": `"x|'@SUM(A1)"`, "a\n=1+1": "\"a\n'=1+1\"", "90:-0.17; 180:-0.30": "90:-0.17; 180:-0.30", "0;-0,17 mm": `"0;-0,17 mm"`,
		"=1;=2": `"'=1;'=2"`, ";+A1": `";'+A1"`, "a\t =1": "\"a\t' =1\"", "-7.5e-17": "-7.5e-17", `5"; =1`: `"5"";' =1"`,
	} {
		if got := string(AppendCSVRow(nil, []string{cell}, ',')); got != want+"\n" {
			t.Errorf("%q is written %s, want %s", cell, got, want)
		}
	}
}

// A note that began "checked and a later 3/4" once made one cell of the rows between, which were gone without a word.
func TestSwallowedRows(t *testing.T) {
	for _, c := range []struct {
		text string
		row  string // in the refusal; "" it is read
	}{
		{"Machine,Speed,Note\nP1,1480,\"checked\nP2,1480,ok\nP3,2970,3/4\"\nP4,1480,\n", "row 2: a quotation mark opens a cell that ends in line 4"},
		{"Machine,Note,Speed\nP1,\"checked,1480\nP2,ok,1480\nP3,3/4\",2970\nP4,,1480\n", "row 2: a quotation mark opens a cell that ends in line 4"},
		{"Machine;Note;Speed\r\nP0;;1\r\nP1;\"checked;1480\r\nP2;3/4\";2970\r\n", "row 3"},
		{"Machine,Note,Speed\nP1,\"checked,1480\nP2,ok\nP3,3/4\" bolts,2970\nP4,,1480\n", "row 2"}, // ragged, and something behind the closing mark
		{"\"checked,Note,Speed\nP2,ok,1480\nP3,3/4\",2970\nP4,,1480\n", "row 1: a quotation mark"},
		{"sep=,\nMachine,Note,Speed\nP1,\"checked,1480\nP2,ok,3/4\"\n", "row 3"},
		{"Machine,Note,Speed\nP1,\"two lines\nof a note\",1480\nP2,\"a, b\nc\",1480\nP3,\"\n\",1\n", ""},
		{"Machine,Speed,Note\nP1,1480,\"seen\nby two\"\nP2,1480,5 1/2\"\n", ""},
		{"Machine,Speed,Note\nP1,1480,\"one, two\nthree, four\"\n", ""},
	} {
		tab, _, err := ReadDelimited("x", []byte(c.text), 0)
		if c.row == "" && err != nil || c.row != "" && (err == nil || !strings.HasPrefix(err.Error(), c.row)) {
			t.Errorf("%q: %v %v, want %q", c.text, tab, err, c.row)
		}
	}
}

// A million rows once took 22.9 GB on their way to a workbook. They are counted while they are read.
func TestTooManyRows(t *testing.T) {
	row := []byte("P 1,1480,100,100,300,500,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\n")
	if _, _, err := ReadDelimited("x", bytes.Repeat(row, MaxRows+1), 0); err == nil || !strings.Contains(err.Error(), "more than 100000 rows") {
		t.Error(err)
	}
	whole := append(bytes.Repeat(row, 10), bytes.Repeat([]byte(",,\n"), MaxRows)...) // blank rows that a spreadsheet left below
	tab, _, err := ReadDelimited("x", whole, 0)
	if err != nil || len(tab.Rows) != MaxRows {
		t.Error(err)
	}
}

func FuzzReadDelimited(f *testing.F) {
	for _, s := range []string{"a,b\nc,d", "\"a\"\"\",\n\"", "sep=;\na;b", "\xff\xfea\x00", "Machine\tSpeed\r\rP\t1", "\xe9;\"\n\"\"\"", "'=1,=1"} {
		f.Add([]byte(s), false)
	}
	f.Fuzz(func(t *testing.T, data []byte, tab bool) {
		sep := rune(0)
		if tab {
			sep = '\t'
		}
		got, _, err := ReadDelimited("x", data, sep)
		if err != nil {
			return
		}
		// What was read and is written comes back the same.
		var out []byte
		for _, row := range got.Rows {
			for _, c := range row {
				if !utf8.ValidString(c) {
					t.Fatalf("%q is not UTF-8", c)
				}
			}
			out = AppendCSVRow(out, row, ';')
		}
		back, problems, err := ReadDelimited("x", append([]byte("sep=;\n"), out...), 0)
		if err != nil || len(problems) > 0 || len(back.Rows) != len(got.Rows) {
			if bytes.IndexByte(data, 0) >= 0 {
				return // a zero that came out of UTF-16 is refused in UTF-8
			}
			t.Fatalf("%q written as %q: %v %v", got.Rows, out, err, problems)
		}
		for i, row := range got.Rows {
			for k, c := range row {
				if d := back.Cell(i, k); d != c && strings.ReplaceAll(d, "'", "") != strings.ReplaceAll(c, "'", "") {
					t.Fatalf("%q came back as %q", c, d)
				}
			}
		}
		got.SplitHeader(MachinesSheet)
	})
}
