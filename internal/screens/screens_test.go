package screens

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"shimsheet/internal/calculators"
	"shimsheet/internal/units"
)

// parse reads HTML as XML, which is possible as long as every element is closed; void elements are closed here first.
func parse(t *testing.T, h HTML) []xml.Token {
	t.Helper()
	s := "<root>" + h.String() + "</root>"
	d := xml.NewDecoder(strings.NewReader(s))
	d.Strict = false
	d.AutoClose = []string{"br", "hr", "img", "input", "col", "wbr"}
	var out []xml.Token
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatalf("%v in %s", err, s)
		}
		out = append(out, xml.CopyToken(tok))
	}
}

// plain is the text of HTML, as a person reads it, pieces apart by blanks.
func plain(t *testing.T, h HTML) string {
	var out []string
	for _, tok := range parse(t, h) {
		if c, ok := tok.(xml.CharData); ok && strings.TrimSpace(string(c)) != "" {
			out = append(out, strings.TrimSpace(string(c)))
		}
	}
	return strings.Join(out, " ")
}

// What a person typed is text wherever it is put: no element and no attribute comes out of it. The markup is read back by encoding/xml.
func TestNothingTypedIsMarkup(t *testing.T) {
	for _, evil := range []string{`<img src=x onerror=alert(1)>`, `" onfocus="alert(1)`, `' autofocus '`, `</textarea><script>x</script>`, "&lt;b&gt;", "a\x00b", `]]>`, "<!--"} {
		h := El("p", Attrs(A("title", evil), ID("x")), Text(evil))
		toks := parse(t, h)
		var elements int
		for _, tok := range toks {
			if e, ok := tok.(xml.StartElement); ok {
				elements++
				if e.Name.Local == "p" && len(e.Attr) != 2 {
					t.Errorf("%q made attributes: %v", evil, e.Attr)
				}
				if e.Name.Local == "p" && e.Attr[0].Value != strings.ReplaceAll(evil, "\x00", "�") {
					t.Errorf("%q became %q", evil, e.Attr[0].Value)
				}
			}
		}
		if elements != 2 {
			t.Errorf("%q made elements: %v", evil, toks)
		}
		if got := plain(t, h); got != strings.ReplaceAll(evil, "\x00", "�") {
			t.Errorf("%q reads %q", evil, got)
		}
	}
}

// Names that could run or load something cannot be written.
func TestNames(t *testing.T) {
	for _, f := range []func(){
		func() { El("script", Attr{}) }, func() { El("p onclick", Attr{}) }, func() { El("", Attr{}) }, func() { A("onclick", "x") }, func() { A("style", "x") },
		func() { A("href", "javascript:x") }, func() { A("src", "http://x") }, func() { A("a b", "x") }, func() { El("br", Attr{}, Text("x")) }, func() { Drawing([]byte("<img>")) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Error("a forbidden name was taken")
				}
			}()
			f()
		}()
	}
}

type calcHost struct{ set calculators.Settings }

func (h calcHost) CalcSettings() calculators.Settings { return h.set }

func calculatorsShown() *Calculators {
	return NewCalculators(calcHost{calculators.Settings{Decimal: units.Point, Material: func(string) (calculators.Material, bool) { return calculators.Material{}, false }}})
}

// region is the content of a region of an update.
func region(t *testing.T, u Update, id string) HTML {
	t.Helper()
	for _, r := range u.Regions {
		if r.ID == id {
			return r.Content
		}
	}
	t.Fatalf("no region %s in %v", id, u)
	return HTML{}
}

// The lists of the screen are the calculators, each shows, and each example comes to the result that is printed beside it.
func TestCalculatorsExamples(t *testing.T) {
	s := calculatorsShown()
	for _, c := range calculators.All() {
		u := s.Event(Event{Name: "choose", Arg: c.Key, Kind: "click"})
		page := plain(t, region(t, u, "screen-calc"))
		for _, want := range []string{c.Title.String(), c.About.String(), c.Check.String()} {
			if !strings.Contains(page, want) {
				t.Errorf("%s does not say %q", c.Key, want)
			}
		}
		u = s.Event(Event{Name: "example", Kind: "click"})
		said := plain(t, region(t, u, "calc-out"))
		r := c.Row(c.ExampleCells(units.Point), s.host.CalcSettings())
		for _, text := range r.Texts {
			for _, part := range strings.Split(text, "; ") {
				if !strings.Contains(said, part) {
					t.Errorf("%s: %q is not in %q", c.Key, part, said)
				}
			}
		}
		if len(u.Values) != len(c.Inputs) || u.Say == "" {
			t.Errorf("%s: %d fields filled of %d, said %q", c.Key, len(u.Values), len(c.Inputs), u.Say)
		}
	}
}

// What was typed into one calculator is there when one comes back from another; a wrong field is marked and says why; 12 mil is 0.3048 mm (an inch is 25.4 mm).
func TestCalculatorsKeep(t *testing.T) {
	s := calculatorsShown()
	s.Event(Event{Name: "choose", Arg: "gap"})
	u := s.Event(Event{Name: "field", Arg: "0", Value: "12 mil"})
	if got := plain(t, region(t, u, "calc-0-said")); !strings.Contains(got, "0.3048") {
		t.Errorf("12 mil is told as %q", got)
	}
	u = s.Event(Event{Name: "field", Arg: "1", Value: "<wide>"})
	if got := plain(t, region(t, u, "calc-1-said")); !strings.Contains(got, "<wide>") {
		t.Errorf("what is wrong: %q", got)
	}
	bad := false
	for _, a := range u.Attributes {
		bad = bad || a == Attribute{ID: "calc-1", Name: "aria-invalid", Value: "true"}
	}
	if !bad {
		t.Error("the wrong field is not marked")
	}
	s.Event(Event{Name: "choose", Kind: "change", Value: "droop"})
	back := s.Event(Event{Name: "choose", Arg: "gap"})
	if h := region(t, back, "screen-calc").String(); !strings.Contains(h, `value="12 mil"`) || !strings.Contains(h, `value="&lt;wide&gt;"`) {
		t.Error("what was typed is gone")
	}
	if back.Focus != "calc-nav-gap" || !back.Top {
		t.Errorf("%+v", back)
	}
	if u := s.Event(Event{Name: "choose", Arg: "no such"}); len(u.Regions) != 0 || s.key != "gap" {
		t.Error("a calculator that is none was chosen")
	}
}

// Rows: as many as pasted, the wrong ones told with their place; copied and saved whole.
func TestCalculatorsRows(t *testing.T) {
	s := calculatorsShown()
	s.Event(Event{Name: "choose", Arg: "gap"})
	c := s.calculator()
	line := strings.Join(c.ExampleCells(units.Point), "\t")
	text := strings.Repeat(line+"\n", calcShown+5) + strings.Replace(line, c.ExampleCells(units.Point)[0], "wide", 1) + "\n"
	u := s.Event(Event{Name: "rows", Kind: "input", Value: text})
	got := plain(t, region(t, u, "calc-many"))
	if !strings.HasPrefix(got, "305 of 306 rows worked out, 1 with a problem. The first 300 are shown") || !strings.Contains(got, "Row 306") {
		t.Errorf("%.200s", got)
	}
	u = s.Event(Event{Name: "copy"})
	if u.Copy == nil || strings.Count(strings.TrimSpace(u.Copy.Text), "\n") != 306 || !strings.HasPrefix(u.Say, "306 rows") {
		t.Errorf("%+.100v", u)
	}
	u = s.Event(Event{Name: "csv"})
	if u.File == nil || u.File.Name != "shimsheet-gap.csv" || !strings.HasPrefix(u.File.Text, "\ufeff") {
		t.Errorf("%+.100v", u)
	}
	if u := s.Event(Event{Name: "field", Arg: "0", Value: "1"}); u.Soon != "again" {
		t.Error("the rows are not worked out again after a field")
	}
	s.Event(Event{Name: "rows", Value: "  \n"})
	if u := s.Event(Event{Name: "copy"}); u.Copy != nil {
		t.Error("nothing was copied as something")
	}
}

// A cell that a workbook would take for a formula is a text on the clipboard and in the file.
func TestTableFormula(t *testing.T) {
	clip, csv := Table([]string{"a"}, [][]string{{"=1+1"}, {"-0.5"}}, false)
	if !strings.Contains(clip.Text, "'=1+1") || !strings.Contains(csv, "'=1+1") || strings.Contains(csv, "'-0.5") {
		t.Errorf("%q %q", clip.Text, csv)
	}
}
