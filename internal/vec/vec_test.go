package vec

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

const good = `# a comment
calc: convert
grade: published
source: a book, p. 3: table 2
note: as printed
in: text = 1 in
in: formula = a = b
want: value = 25.4 mm
want: unit = "in"
tol: 1e-12 mm (rounding)

# between

calc: refuse
grade: practice
source: common practice, no source
in: text =
wantErr: empty
`

func TestParse(t *testing.T) {
	got, err := Parse("a.vec", good)
	if err != nil {
		t.Fatal(err)
	}
	want := []Case{
		{File: "a.vec", Line: 2, Calc: "convert", Grade: "published", Source: "a book, p. 3: table 2", Note: "as printed",
			In: []KV{{"text", "1 in"}, {"formula", "a = b"}}, Want: []KV{{"value", "25.4 mm"}, {"unit", `"in"`}}, Tol: 1e-12, TolUnit: "mm", TolReason: "rounding"},
		{File: "a.vec", Line: 14, Calc: "refuse", Grade: "practice", Source: "common practice, no source", In: []KV{{"text", ""}}, WantErr: "empty"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if s := got[0].String(); s != "a.vec:2 convert" {
		t.Errorf("String() = %q", s)
	}
	if v, ok := got[0].Input("text"); v != "1 in" || !ok {
		t.Errorf("Input = %q, %v", v, ok)
	}
	if v, ok := got[0].Wanted("value"); v != "25.4 mm" || !ok {
		t.Errorf("Wanted = %q, %v", v, ok)
	}
	if _, ok := got[0].Input("nothing"); ok {
		t.Error("Input found what is not there")
	}
}

// Each change of one line makes the file unusable, and the message says where.
func TestRefusals(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"grade: published", "grade: certain", `a.vec:3: unknown grade "certain"`},
		{"grade: published\n", "", "a.vec:2: no grade"},
		{"source: a book, p. 3: table 2\n", "", "a.vec:2: no source"},
		{"source: a book, p. 3: table 2", "source:", `a.vec:4: "source:" is not "key: value"`},
		{"calc: convert\n", "", "a.vec:2: no calc"},
		{"note: as", "remark: as", `a.vec:5: unknown key "remark"`},
		{"note: as printed", "as printed", `a.vec:5: "as printed" is not "key: value"`},
		{"note: as printed", "grade: published", "a.vec:5: grade stands twice"},
		{"in: text = 1 in", "in: text", `a.vec:6: in must be "name = value"`},
		{"in: text = 1 in", "in: = 1 in", `a.vec:6: in must be "name = value"`},
		{"in: formula", "in: text", "a.vec:7: in text stands twice"},
		{"want: unit", "want: value", "a.vec:9: want value stands twice"},
		{"tol: 1e-12 mm (rounding)\n", "", "a.vec:2: a number is wanted and there is no tol"},
		{"25.4 mm\n", "\"25.4\"\n", "a.vec:2: tol without a wanted number"},
		{" (rounding)", "", "no reason in brackets"},
		{"(rounding)", "()", "no reason in brackets"},
		{"(rounding)", "(rounding", "no reason in brackets"},
		{"1e-12 mm", "1e-12", `a.vec:10: tol "1e-12 (rounding)": no unit`},
		{"1e-12 mm", "-1 mm", "not a number of zero or more"},
		{"1e-12 mm", "NaN mm", "not a number of zero or more"},
		{"1e-12 mm", "Inf mm", "not a number of zero or more"},
		{"1e-12 mm", "mm", "not a number of zero or more"},
		{"wantErr: empty\n", "", "a.vec:14: no want and no wantErr"},
		{"wantErr: empty", "wantErr: empty\nwant: v = x", "a.vec:14: both want and wantErr"},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		if text == good {
			t.Fatalf("%q is not in the text", c.old)
		}
		cases, err := Parse("a.vec", text)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("with %q for %q: error %v, want %q", c.new, c.old, err, c.want)
		}
		if cases != nil {
			t.Errorf("with %q for %q: cases beside an error", c.new, c.old)
		}
	}
}

func TestIsNumeric(t *testing.T) {
	for s, want := range map[string]bool{"1": true, "-0.5 mm": true, ".5": true, "0.05, 0.1": true, "1/2": true, "inside": false, "NaN": false, `"1"`: false, "": false, "-": false} {
		if isNumeric(s) != want {
			t.Errorf("isNumeric(%q) = %v", s, !want)
		}
	}
}

func TestLoad(t *testing.T) {
	path := filepath.Join(t.TempDir(), "b.vec")
	if err := os.WriteFile(path, []byte(good), 0o600); err != nil {
		t.Fatal(err)
	}
	if cases, err := Load(path); err != nil || len(cases) != 2 || cases[0].File != "b.vec" {
		t.Errorf("Load = %v, %v", cases, err)
	}
	if _, err := Load(path + "x"); err == nil {
		t.Error("a missing file went unnoticed")
	}
}

// Every file of checks in the module can be read.
func TestReadAll(t *testing.T) {
	if cases := Read(t, "*.vec"); len(cases) < 100 {
		t.Errorf("only %d checks", len(cases))
	}
}
