package job

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"
)

// A job of every sheet comes back as it was, table by table, and its JSON is what the standard library reads the same in.
func TestJobComesBack(t *testing.T) {
	j := NewJob()
	j.Revision = 7
	for k := range NumSheets {
		n := int(k)
		j.SetTable(k, &Table{Name: "N " + k.String(), File: strings.Repeat("f", n%3), FirstRow: n + 2, Title: [][][]string{nil, {{"t", ""}, {}}}[n%2], Header: [][]string{{"H " + k.String(), "<&>\"\\"}, nil, {}}[n%3],
			Rows: [][]string{{"a\t\r\n\x01\x7f", "é\u2028\u2029\U0001f600"}, {}, {k.Key(), ""}}})
	}
	j.Views = map[string]string{"machines": "w", "stock": "v\"", "a": "b"}
	for i := range MostSavedBefore + 3 {
		j.Saved(fmt.Sprintf("time %d", i))
	}
	b, err := j.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range b {
		if c < ' ' && c != '\n' || c == '<' || c == '>' || c == '&' || c == 0x7f {
			t.Errorf("byte %d is %q", i, c)
		}
	}
	var doc map[string]any
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	if doc["format"] != "shimsheet job" || doc["version"] != 6.0 || doc["id"] != j.ID || doc["revision"] != float64(j.Revision) || doc["saved_at"] != "time 42" || len(doc["saved_before"].([]any)) != MostSavedBefore || doc["saved_before"].([]any)[0] != "time 2" {
		t.Errorf("%v", doc)
	}
	for k := range NumSheets {
		x, own := doc[k.Key()].(map[string]any), j.Table(k)
		if x["name"] != own.Name || x["first_row"] != float64(own.FirstRow) || fmt.Sprint(x["rows"]) != fmt.Sprint(own.Rows) || (x["file"] != nil) != (own.File != "") || (x["title"] != nil) != (own.Title != nil) || (x["header"] != nil) != (own.Header != nil) {
			t.Errorf("%v: %v, %+v", k, x, own)
		}
	}
	for _, read := range []func(*Job) error{func(n *Job) error { return n.Open(string(b)) }, func(n *Job) error { return json.Unmarshal(b, n) }, func(n *Job) error { return openWithStdlib(n, b) }} {
		n := new(Job)
		if err := read(n); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(n, j) {
			t.Errorf("%+v\n%+v", n, j)
		}
		if again, err := n.MarshalJSON(); err != nil || !bytes.Equal(again, b) {
			t.Errorf("written again as %s, %v", again, err)
		}
	}
	sealed, err := j.Seal()
	if err != nil || SealDigest(sealed) != fmt.Sprintf("%x", sha256.Sum256(b[:len(b)-1])) || SealDigest(b) != "" || SealDigest([]byte(`"}`)) != "" {
		t.Errorf("%v, digest %q", err, SealDigest(sealed))
	}
	n, err := ReadJob(bytes.NewReader(sealed))
	if err != nil || !reflect.DeepEqual(n, j) {
		t.Error(err)
	}
	if n, err := ReadJob(io.MultiReader(bytes.NewReader(sealed), brokenReader{})); n != nil || !errors.Is(err, errBroken) {
		t.Error(n, err)
	}
	if n, err := ReadJob(bytes.NewReader(sealed[1:])); n != nil || err == nil {
		t.Error(n, err)
	}
}

var errBroken = errors.New("broken")

type brokenReader struct{}

func (brokenReader) Read([]byte) (int, error) { return 0, errBroken }

// A job is written in the oldest form that holds all of it: an older program would open a newer one with sheets missing, and lose them. The versions are those the changes name.
func TestJobVersions(t *testing.T) {
	since := map[SheetKind]int{MachinesSheet: 1, ReadingsSheet: 1, StockSheet: 1, SettingsSheet: 1, GrowthSheet: 2, FeetSheet: 2, LimitsSheet: 2, MaterialsSheet: 2, ChecksSheet: 3, RoundsSheet: 4, TrainsSheet: 5, RecordSheet: 6}
	for a := range NumSheets {
		for b := range NumSheets {
			j := NewJob()
			j.SetTable(a, &Table{})
			j.SetTable(b, &Table{})
			text, _ := j.MarshalJSON()
			if want := fmt.Sprintf(`{"format":"shimsheet job","version":%d,`, max(since[a], since[b])); !strings.HasPrefix(string(text), want) {
				t.Errorf("%v and %v: %.60s", a, b, text)
			}
		}
	}
	order, names := map[SheetKind]bool{}, map[string]bool{}
	for _, k := range SheetKinds() {
		order[k], names[k.String()], names[k.Key()] = true, true, true
	}
	if len(order) != int(NumSheets) || len(names) != 2*int(NumSheets) {
		t.Error(order, names)
	}
	for _, c := range []struct{ text, says string }{
		{`{"format":"shimsheet job","version":7}`, "newer version"}, {`{"format":"shimsheet job","version":6}`, ""}, {`{"version":1}`, "not a saved job"}, {`{"format":"x","version":1}`, "not a saved job"}, {`{"format":null}`, "not a saved job"}, {`[]`, "damaged"}, {``, "damaged"},
		{"{\"format\":\"shimsheet job\",\n\n\"version\":x}", "in line 3, near byte 39"}, {`{"format":"shimsheet job","version":1,"machines":{"rows":[[1]]}}`, "damaged"}, {`{"format":"shimsheet job","version":1,"views":7}`, ""}, {`{"format":"shimsheet job","version":1,"views":{"a":7,"b":"","c":"d"}}`, ""},
	} {
		before := Job{ID: "kept"}
		err := before.Open(c.text)
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.text, err)
		}
		if err != nil && before.ID != "kept" {
			t.Errorf("%s: refused, and the job is changed", c.text)
		}
		if err == nil && (before.Machines == nil || before.Machines.Name != "Machines" || before.Machines.FirstRow != 1 || len(before.ID) != 32 || before.ID == "kept" || before.Views != nil && (len(before.Views) != 1 || before.Views["c"] != "d")) {
			t.Errorf("%s: %+v", c.text, before)
		}
	}
	if a, b := NewJob(), NewJob(); a.ID == b.ID || len(a.ID) != 32 {
		t.Error(a.ID, b.ID)
	}
	bad := NewJob()
	bad.Stock = &Table{Name: "Stock", Header: []string{"a\xff"}}
	if _, err := bad.MarshalJSON(); err == nil || !strings.Contains(err.Error(), "Stock") {
		t.Error(err)
	}
	bad.Stock = &Table{Name: "Stock", Rows: [][]string{{"a"}, {"\xff"}, {"b"}}}
	if _, err := bad.Seal(); err == nil || !strings.Contains(err.Error(), `\xff`) {
		t.Error(err)
	}
	bad.Stock = &Table{Name: "Stock", Title: [][]string{{"\xff"}}}
	if _, err := bad.MarshalJSON(); err == nil {
		t.Error("a title that is no text is written")
	}
}

// Every sign of Unicode and every byte in a text is read back by encoding/json (of the Go project) as the same; a byte that is no text as U+FFFD. Nothing ends a script element or a line of one.
func TestEverySignQuoted(t *testing.T) {
	var all strings.Builder
	for r := range rune(0x11000) {
		if utf8.ValidRune(r) {
			all.WriteRune(r)
		}
	}
	for s, want := range map[string]string{all.String(): all.String(), "\U0010ffff": "\U0010ffff", "a\xffb\xc0\x80": "a\ufffdb\ufffd\ufffd", "\xe2\x80": "\ufffd\ufffd", "\"": "\"", "\\u0041": "\\u0041", "": ""} {
		q := AppendJSONString([]byte("x"), s)[1:]
		var back string
		if err := json.Unmarshal(q, &back); err != nil || back != want {
			t.Errorf("%.40q is quoted %.60q, read as %.40q, %v", s, q, back, err)
		}
		if !utf8.Valid(q) {
			t.Errorf("%.40q is quoted with bytes that are no text", s)
		}
		if i := bytes.IndexAny(q, "<>&\n\r\t\x00\u2028\u2029"); i >= 0 {
			t.Errorf("%.40q is quoted with %q", s, q[i])
		}
	}
}

// What parts the cells of a text is told by the names of columns, then by rows that agree; a person's own word goes before both.
func TestSeparators(t *testing.T) {
	for _, c := range []struct {
		text  string
		sep   rune
		first []string
	}{
		{"Machine;Speed;Note\nP 1;1,5;a, b\n", 0, []string{"Machine", "Speed", "Note"}}, {"Machine,Speed,Note\nP 1,1;5,a\n", 0, []string{"Machine", "Speed", "Note"}}, {"Machine\tSpeed, rpm\tNote\n", 0, []string{"Machine", "Speed, rpm", "Note"}},
		{"Machine, a list;\n1;2;3\n4;5;6\n", 0, []string{"Machine, a list", ""}}, {"a,b\n1;2\n3;4\n5;6\n", 0, []string{"a,b"}}, {"a\n", 0, []string{"a"}},
		{"Thickness;Pieces on hand\n0,1;5\n", 0, []string{"Thickness", "Pieces on hand"}}, {"Name,Value\nUnits,inch;metric\n", 0, []string{"Name", "Value"}},
		{"Machine,Speed\n", ';', []string{"Machine,Speed"}}, {"a|b\n", '|', []string{"a", "b"}}, {"sep=|\na|c,d\n", 0, []string{"a", "c,d"}}, {"SEP=|\r\na|c,d\n", 0, []string{"a", "c,d"}}, {"sep=|\ra|b\n", 0, []string{"a", "b"}}, {"sep=|\na|b;c\n", ';', []string{"a|b", "c"}},
		{"sep=||\na|b\n", 0, []string{"sep=||"}}, {"sep=\"\na,c\n", 0, []string{"a", "c"}}, {"sep=;", 0, nil}, {"sep=", 0, []string{"sep="}},
		{"sep=a,b", 0, []string{"sep=a", "b"}}, {"sep=é,b", 0, []string{"sep=é", "b"}}, // Seen: a list of a single line that began so was gone
	} {
		tab, _, err := ReadDelimited("x", []byte(c.text), c.sep)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		var first []string
		if len(tab.Rows) > 0 {
			first = tab.Rows[0]
		}
		if !reflect.DeepEqual(first, c.first) {
			t.Errorf("%q: %q, want %q", c.text, first, c.first)
		}
		if sep := strings.HasPrefix(strings.ToLower(c.text), "sep=") && !strings.HasPrefix(c.text, "sep=|"+"|") && len(c.text) > 4 && !strings.Contains(c.text, ",b"); (tab.FirstRow == 2) != sep {
			t.Errorf("%q: the first row is %d", c.text, tab.FirstRow)
		}
	}
	for _, sep := range []rune{'"', '\n', '\r', 'é', 0x80, 0x20ac} {
		if _, _, err := ReadDelimited("x", []byte("a"), sep); err == nil || !strings.Contains(err.Error(), "cannot part cells") {
			t.Errorf("%q: %v", sep, err)
		}
	}
	if _, _, err := ReadDelimited("x", []byte("\xd0\xcf\x11\xe0"), 0); err == nil || !strings.Contains(err.Error(), "workbook") {
		t.Error(err)
	}
	if _, _, err := ReadDelimited("x", []byte("a\nb\n\x00"), 0); err == nil || !strings.Contains(err.Error(), "byte 5, in line 3") {
		t.Error(err)
	}
	if _, _, err := ReadDelimited("x", []byte("\x00a"), 0); err == nil || !strings.Contains(err.Error(), "byte 1, in line 1") {
		t.Error(err)
	}
	for in, want := range map[string]string{"\xfea": "þa", "\xffa": "ÿa", "\xfe": "þ", "a\xff": "aÿ"} { // no marks of UTF-16
		if tab, _, err := ReadDelimited("x", []byte(in), ','); err != nil || tab.Cell(0, 0) != want {
			t.Errorf("%q: %q, %v", in, tab.Rows, err)
		}
	}
	if tab, _, err := ReadDelimited("x", []byte("\xfe\xff\x00a\x00,\x20\xac\xd8\x3d\xde\x00\x00"), 0); err != nil || tab.Cell(0, 0) != "a" || tab.Cell(0, 1) != "€😀" {
		t.Errorf("%q, %v", tab.Rows, err)
	}
	// The signs of Windows-1252 from 0x80 to 0x9f: the table of the WHATWG Encoding Standard, index windows-1252.
	var every []byte
	for c := 0x80; c < 0x100; c++ {
		every = append(every, byte(c))
	}
	want := "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ"
	for r := rune(0xa0); r < 0x100; r++ {
		want += string(r)
	}
	tab, problems, err := ReadDelimited("x", every, ',')
	if err != nil || tab.Cell(0, 0) != want || len(problems) != 1 || problems[0].Severity != Warning || problems[0].Sheet != "x" || problems[0].Col != -1 || problems[0].Row != 0 {
		t.Errorf("%q, %v, %v", tab.Rows, problems, err)
	}
	_, problems, _ = ReadDelimited("x", []byte("sep=,\na,b\nc,\"d\n"), 0)
	if len(problems) != 1 || problems[0].Row != 3 || !strings.Contains(problems[0].Text.String(), "never closed") || problems[0].Hint.Empty() {
		t.Errorf("%v", problems)
	}
}

// A list whose rows are wider and wider keeps every cell and row apart.
func TestRowsOfAnyWidth(t *testing.T) {
	var text strings.Builder
	var want [][]string
	for n := range 90 {
		var row []string
		wide := 1 + n*7%173
		if n%40 == 30 {
			wide = 5000
		}
		for k := range wide {
			row = append(row, fmt.Sprintf("%d/%d", n, k))
		}
		want = append(want, row)
		text.WriteString(strings.Join(row, ";") + "\r\n")
	}
	tab, _, err := ReadDelimited("x", []byte(text.String()), ';')
	if err != nil || !reflect.DeepEqual(tab.Rows, want) {
		t.Fatalf("%v, %d rows", err, len(tab.Rows))
	}
	for i := range tab.Rows {
		_ = append(tab.Rows[i], "grown")
	}
	if !reflect.DeepEqual(tab.Rows, want) {
		t.Error("a row that grew wrote into the next")
	}
}
