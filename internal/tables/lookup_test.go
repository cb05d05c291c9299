package tables

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"shimsheet/internal/units"
	"shimsheet/internal/vec"
)

// hitsOf is what a query finds.
func hitsOf(query string, own ...*Table) []Hit { return Search(query, own...).Hits }

// value is a fact's number in its unit, unrounded.
func (f *Fact) value() float64 {
	for _, k := range units.Kinds() {
		if u, ok := units.ParseUnit(f.Unit, k); ok {
			return u.FromBase(f.Base)
		}
	}
	return f.Base
}

// The checks of testdata/vec/tables.vec.
func TestVec(t *testing.T) {
	for _, c := range vec.Read(t, "tables*.vec") {
		query, _ := c.Input("query")
		label, _ := c.Input("fact")
		hits := hitsOf(query)
		if key, ok := c.Input("table"); ok {
			hits = slices.DeleteFunc(hits, func(h Hit) bool { return h.Table == nil || h.Table.Key != key })
		}
		if len(hits) == 0 {
			t.Errorf("%v: %q finds nothing", &c, query)
			continue
		}
		h := hits[0]
		if row, ok := c.Wanted("row"); ok && (h.Row == nil || h.Row.Name != strings.Trim(row, `"`)) {
			t.Errorf("%v: the first hit is %q, want %s", &c, h.Title, row)
		}
		want, ok := c.Wanted("value")
		if !ok || label == "" {
			t.Errorf("%v: no fact or no value", &c)
		}
		number, unit, _ := strings.Cut(want, " ")
		v, err := strconv.ParseFloat(number, 64)
		got := ""
		for _, f := range h.Facts {
			if f.Label != label || err == nil && f.Unit != unit {
				continue
			}
			got = f.Value + " " + f.Unit
			if err != nil && f.Value != want {
				t.Errorf("%v: %s is %q, want %q", &c, label, f.Value, want)
			}
			if err == nil && !(math.Abs(f.value()-v) <= c.Tol) {
				t.Errorf("%v: %s is %.17g %s, want %s", &c, label, f.value(), f.Unit, want)
			}
		}
		if got == "" {
			t.Errorf("%v: no %q in %s among the facts of %q: %+v", &c, label, unit, h.Title, h.Facts)
		}
	}
}

// What comes first for what is typed. "" in place of a table is a conversion.
func TestFirstHit(t *testing.T) {
	for _, w := range []struct{ query, table, title string }{
		{"M16 8.8", "bolts_metric", "M16, 8.8"},
		{"m 16 10.9", "bolts_metric", "M16, 10.9"},
		{"M16", "bolts_metric", "M16"},
		{"torque M20", "bolts_metric", "M20"},
		{"3/4-10", "bolts_unc", "3/4-10"},
		{"3/4-10 UNC", "bolts_unc", "3/4-10"},
		{"1/2 grade 5", "bolts_unc", "1/2-13, grade 5"},
		{"1 1/8", "bolts_unc", "1 1/8-7"},
		{"1-8 gr8", "bolts_unc", "1-8, grade 8"},
		{"16 mm bolt", "bolts_metric", "M16"},
		{"3/4 in bolt", "bolts_unc", "3/4-10"},
		{"steel 80C", "expansion", "carbon steel"},
		{"STEEL, 80 °C", "expansion", "carbon steel"},
		{"stainless 304 80C", "expansion", "stainless steel 304"},
		{"cast iron 150 °F", "expansion", "grey iron"},
		{"cast iron", "expansion", "grey iron"},
		{"grey", "expansion", "grey iron"},
		{"alumin", "expansion", "aluminium 6061"},
		{"1780 rpm", "limits", "published, flexible, up to 1800 rpm"},
		{"1780rpm", "limits", "published, flexible, up to 1800 rpm"},
		{"spacer 1780 rpm", "limits", "published, spacer, up to any speed"},
		{"rigid 3000 r/min", "limits", "published, rigid, up to 3600 rpm"},
		{"8000 rpm", "limits", "published, spacer, up to any speed"},
		{"0.0015 in/10in", "", "0.0015 in/10in"},
		{"0,05 mm/m", "", "0,05 mm/m"},
		{"213T", "frames_nema", "213T, NEMA MG 1"},
		{"frame 445t", "frames_nema", "445T, NEMA MG 1"},
		{"160M", "frames_iec", "160M, IEC 60072-1"},
		{"160 m", "frames_iec", "160M, IEC 60072-1"},
		{"IEC 80", "frames_iec", "80, IEC 60072-1"},
		{"0.1 mm shim", "shim_stock", "metric shim, 0.1 mm"},
		{"shim 0.002 in", "shim_stock", "inch shim, 0.002 in"},
		{"2 mil", "", "2 mil"},
		{"12.7 mm", "", "12.7 mm"},
		{"1/2 in", "", "1/2 in"},
		{"5 ft 3 in", "", "5 ft 3 in"},
		{"150 °F", "", "150 °F"},
		{"90 lbf·ft", "", "90 lbf·ft"},
		{"1200 lb", "", "1200 lb"},
		{"4 poles", "synchronous", "4 poles"},
		{"lock out", "checks", "lock out and tag out"},
		{"closure", "checks", "closure"},
		{"lubric", "nut_factor", "lubricated"},
		{"slip", "synchronous", "2 poles"},
		{"jis", "dials", "graduation 0.01 mm, range over 5 to 10 mm, bezel 50 mm or more"},
		{"din 988", "shims", "shim ring, 0.1 mm"},
		{"fist 4-1a", "shim_material", "stainless steel"},
		{"thou", "units", "mil"},
		{"ÀLÙMÍNÏÜM", "expansion", "aluminium 6061"},
	} {
		hits := hitsOf(w.query)
		if len(hits) == 0 {
			t.Errorf("%q finds nothing", w.query)
			continue
		}
		key := ""
		if hits[0].Table != nil {
			key = hits[0].Table.Key
		}
		if key != w.table || hits[0].Title != w.title {
			t.Errorf("%q: first %s %q (%s), want %s %q", w.query, key, hits[0].Title, hits[0].Why, w.table, w.title)
		}
	}
	for _, q := range []string{"", "  ", "\t,;", "zzzz", "\xff\xfe", "unobtainium 80C xyz"} {
		if hits := hitsOf(q); len(hits) > 0 && hits[0].Table != nil {
			t.Errorf("%q finds %q", q, hits[0].Title)
		}
	}
}

// A speed brings the limits of each coupling, the motor that turns at it and its slip; every fact says where it comes from.
func TestSpeed(t *testing.T) {
	couplings := map[string]bool{}
	motor := ""
	for _, h := range hitsOf("1480 rpm") {
		if h.Table != nil && h.Table.Key == "limits" {
			couplings[h.Table.text(h.Row, "coupling")] = true
		}
		if h.Table != nil && h.Table.Key == "synchronous" && motor == "" {
			motor = h.Title
		}
		for _, f := range h.Facts {
			if f.Label == "" || f.Value == "" || f.Source.String() == "" {
				t.Errorf("%q: %+v", h.Title, f)
			}
		}
	}
	if len(couplings) != 4 || motor != "4 poles at 50 Hz" {
		t.Error(couplings, motor)
	}
	// Past the end of a table there is no limit, and it is said.
	said := false
	for _, h := range hitsOf("gear 3601 rpm") {
		if h.Table != nil && h.Table.Key == "limits" {
			said = strings.Contains(h.Why, "no limit") && h.Facts == nil
			break
		}
	}
	if !said {
		t.Error("a limit past the end of the table")
	}
}

// A slope meets the rows whose limit it does not pass; a limit met exactly is met.
func TestSlope(t *testing.T) {
	for query, upTo := range map[string]float64{"0.1 mm/m": 3600, "0.5 mil/in": 3600, "-0.25 mm/m": 3600, "0.0050 in/10in": 3600} {
		for _, h := range hitsOf(query) {
			if h.Table != nil && h.Table.Key == "limits" && h.Table.text(h.Row, "coupling") == "flexible" {
				if got := h.Table.base(h.Row, "up_to"); got != upTo || !strings.Contains(h.Why, "meets") {
					t.Errorf("%s: the row to %g (%s), want %g", query, got, h.Why, upTo)
				}
			}
		}
	}
	for _, h := range hitsOf("1.6 mm/m") {
		if h.Table != nil && h.Table.Key == "limits" && !strings.Contains(h.Why, "steeper than every limit") {
			t.Errorf("1.6 mm/m: %q %s", h.Title, h.Why)
		}
	}
}

// The person's own rows come before the built-in ones, take the place of those of the same name or alias, and say so.
func TestOwn(t *testing.T) {
	nan := math.NaN()
	materials := OwnMaterials([]Material{
		{Name: "Steel", Alpha: 12.5, T0: nan, RelU: 0.02},
		{Name: "Polymer concrete", Alpha: 14, T0: nan, RelU: nan, Source: Source{Stated, "the maker's sheet"}},
	}, "your sheet Materials")
	limits := OwnLimits([]*LimitSet{
		{Name: "PUBLISHED", Rows: map[Coupling][]LimitRow{Flexible: {{UpTo: 1500, Offset: 0.04, Slope: 0.4}, {UpTo: math.Inf(1), Offset: 0.02, Slope: 0.2}}}},
		{Name: "pumps", Rows: map[Coupling][]LimitRow{Spacer: {{UpTo: 3600, Offset: nan, Slope: 0.4}}}},
	}, "your sheet Limits")

	hits := hitsOf("steel 80C", materials, limits, nil)
	if h := hits[0]; !h.Own || h.Title != "Steel" || !strings.Contains(h.Note, "takes the place") || h.Row.Source.Text != "your sheet Materials" || h.Row.Source.Grade != Stated {
		t.Errorf("%+v", h)
	} else if f := h.Facts[0]; f.Value != "12.5" || f.Unit != "1e-6/K" {
		t.Errorf("%+v", f)
	}
	for _, q := range []string{"steel 80C", "carbon steel", "carbon steel 200", "steel"} {
		for _, h := range hitsOf(q, materials) {
			if h.Row != nil && strings.HasPrefix(h.Table.Key, "expansion") && h.Row.Cells[0] == "carbon steel" {
				t.Errorf("%q still finds the built-in %q", q, h.Title)
			}
		}
	}
	if h := hitsOf("polymer concrete 60 C", materials)[0]; !h.Own || h.Note != "yours" || h.Row.Source.Text != "the maker's sheet" {
		t.Errorf("%+v", h)
	}
	if h := hitsOf("concrete 60 C", materials)[0]; h.Own {
		t.Errorf("the exact name comes first: %+v", h)
	}
	seen := map[string]float64{}
	for i, h := range hitsOf("2000 rpm", limits) {
		if h.Table != nil && h.Table.Key == "limits" {
			if i == 0 && !h.Own {
				t.Errorf("the first is %q", h.Title)
			}
			if !h.Own {
				t.Errorf("the built-in set is replaced, but %q is found", h.Title)
			}
			seen[h.Table.text(h.Row, "set")] = h.Table.base(h.Row, "slope")
		}
	}
	if seen["PUBLISHED"] != 0.2 || seen["pumps"] != 0.4 {
		t.Error(seen)
	}
	// A table of means of one's own.
	own := OwnMaterials([]Material{{Name: "alloy", Alpha: nan, T0: 20, Temps: []float64{0, 100}, Means: []float64{10, 12}, RelU: 0.01}}, "your sheet Materials")
	if f := hitsOf("alloy 50 C", own)[0].Facts[0]; math.Abs(f.Base-11) > 1e-12 {
		t.Errorf("%+v", f)
	}
}

// Every text reads, each with its rows in order, and nothing in it is left without a source.
func TestTexts(t *testing.T) {
	files, err := filepath.Glob("../../testdata/tables/*.tsv")
	if err != nil || len(files) == 0 {
		t.Fatal(err, len(files))
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		table, err := readTable(filepath.Base(f), string(text))
		if err != nil {
			t.Error(err)
			continue
		}
		if !slices.Contains(order[:], table.Key) {
			t.Errorf("%s is in no place of the order", f)
		}
		if got := Find(table.Key); len(got.Rows) != len(table.Rows) {
			t.Errorf("%s: %d rows in the program, %d in the text", f, len(got.Rows), len(table.Rows))
		}
	}
	if len(files)+2 != len(order) { // and two that are made from values
		t.Errorf("%d texts, %d tables", len(files), len(order))
	}
	for _, table := range All() {
		names := map[string]bool{}
		if table.Title == "" || table.About == "" || Find(table.Key) != table {
			t.Errorf("%q", table.Key)
		}
		for i, r := range table.Rows {
			if len(r.Cells) != len(table.Columns) || len(r.Base) != len(table.Columns) || r.Name == "" || r.Source.String() == "" {
				t.Errorf("%s, row %d: %+v", table.Key, i, r)
			}
			if names[r.Name] && table.Key != "units" {
				t.Errorf("%s: two rows are called %q", table.Key, r.Name)
			}
			names[r.Name] = true
			for j, c := range table.Columns {
				if c.Numeric != !math.IsNaN(r.Base[j]) && r.Cells[j] != "" && !isShare(r.Cells[j]) {
					t.Errorf("%s, %s, %s: %q is %g", table.Key, r.Name, c.Key, r.Cells[j], r.Base[j])
				}
			}
		}
	}
	if Find("nothing") != nil {
		t.Error("a table that is not there was found")
	}
}

// A text with something wrong in it is refused with its line.
func TestTextErrors(t *testing.T) {
	const head = "key: a\ntitle: A\nsource s: Book\nsource none:\ncolumn n: N | words\ncolumn d: D | length mm\n\nn\td\tgrade\tsource\twhere\n"
	if table, err := readTable("a", head+"# said\nx\t1 in\tquoted\ts\tp. 3\n\ny\t\tpractice\tnone\t\n"); err != nil {
		t.Fatal(err)
	} else if r := table.Rows[0]; r.Base[1] != 25.4 || r.Source != (Source{Quoted, "Book, p. 3"}) || table.Rows[1].Source != (Source{Practice, ""}) {
		t.Errorf("%+v", table.Rows)
	}
	for text, want := range map[string]string{
		head:                                     "no rows",
		head + "x\t1\tpublished\ts\n":            "a:9: 4 cells, 5 are wanted",
		head + "x\tone\tpublished\ts\t\n":        `a:9: d: "one" is not a length`,
		head + "x\t1\tsurely\ts\t\n":             "a:9: no such grade or source: surely, s",
		head + "x\t1\tpublished\tq\t\n":          "a:9: no such grade or source: published, q",
		head + "x\t1\tpublished\tnone\t\n":       "a:9: no source",
		"key: a\nfoo: b\n":                       "a:2: unknown line",
		"key: a\nfoo\n":                          "a:2: no colon",
		"key: a\n\n":                             "a:2: the head lacks",
		"key: a\ncolumn n: N | furlongs\n":       "a:2: not a column",
		"key: a\ncolumn n: N | length kg\n":      "a:2: not a column",
		"key: a\ncolumn n: N | length\n":         "a:2: not a column",
		"key: a\ncolumn n: N\n":                  "a:2: not a column",
		strings.Replace(head, "n\td", "d\tn", 1): "a:8: the first row must name",
		strings.Replace(head, "title: A", "title: A\nname: {z}", 1) + "x\t1\tpublished\ts\t\n": "a:10: the name {z}",
	} {
		if _, err := readTable("a", text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func TestFold(t *testing.T) {
	for s, want := range map[string]string{
		"":                        " ",
		"M16 8.8":                 " m16 8.8 ",
		"3/4-10, UNC.":            " 3/4-10 unc ",
		"Grauguß, Übermaß — Ærø":  " grauguss ubermass aero ",
		"e\u0301te\u0301":         " ete ",
		"0.5\u00a0µm":             " 0.5 um ",
		"--a..b//":                " a b ",
		"(29 CFR 1910.219(i)(2))": " 29 cfr 1910.219 i 2 ",
		"Łódź":                    " lodz ",
		"ЖЕЛЕЗО":                  " железо ",
	} {
		if got := fold(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

func TestNumber(t *testing.T) {
	for _, w := range []struct {
		v      float64
		digits int
		want   string
	}{{0, 3, "0"}, {12.7, 7, "12.7"}, {0.1 + 0.2, 7, "0.3"}, {1234567, 3, "1234567"}, {-0.0254, 7, "-0.0254"}, {2.0 / 3, 3, "0.667"}, {99.96, 3, "100"}, {1e-12, 3, "1e-12"}, {1e20, 3, "1e+20"}} {
		if got := number(w.v, w.digits); got != w.want {
			t.Errorf("%g: %s, want %s", w.v, got, w.want)
		}
	}
}

// Whatever is typed, there is no panic, and what comes back is bounded and whole.
func FuzzSearch(f *testing.F) {
	for _, s := range []string{"M16 8.8", "steel 80C", "20 in steel 70F 200F", "1780 rpm", "0.0015 in/10in", "213T", "160 M", "0.1 mm shim", "3/4-10", "12.7 mm", "k=", "k 0.15 %", "-1 mm",
		"1e308 mm", "0 rpm", "1e-300 m", "89.9999°", "µ", "½ in", "\xff1 mm", "é́", strings.Repeat("1 1/8 ", 40), strings.Repeat("a", 300), "grade", "m", "M16x", "-40 °F steel", "{set}", "1,234 mm"} {
		f.Add(s)
	}
	own := []*Table{
		OwnMaterials([]Material{{Name: "Steel", Alpha: 12, T0: math.NaN(), RelU: math.NaN()}, {Name: ""}}, "own"),
		OwnLimits([]*LimitSet{{Name: "mine", Rows: map[Coupling][]LimitRow{Flexible: {{UpTo: 1000, Offset: math.NaN(), Slope: math.NaN()}}}}, {Name: "empty"}}, "own"),
	}
	f.Fuzz(func(t *testing.T, query string) {
		for _, o := range [][]*Table{nil, own} {
			hits := hitsOf(query, o...)
			if len(hits) > maxHits {
				t.Errorf("%d hits", len(hits))
			}
			seen := map[*Row]bool{}
			for i, h := range hits {
				if h.Title == "" && !h.Own || h.Why == "" || (h.Row == nil) != (h.Table == nil) {
					t.Errorf("%+v", h)
				}
				if h.Row != nil && seen[h.Row] {
					t.Errorf("%q twice", h.Title)
				}
				seen[h.Row] = true
				if i > 0 && hits[i-1].score < h.score {
					t.Error("not in order")
				}
				if len(h.Facts) > 40 || !utf8.ValidString(h.Title) || !utf8.ValidString(h.Why) {
					t.Errorf("%+v", h)
				}
				for _, x := range h.Facts {
					if x.Label == "" || x.Value == "" || len(x.Value) > 400 || x.Source.String() == "" {
						t.Errorf("%+v", x)
					}
				}
			}
		}
	})
}

func BenchmarkSearch(b *testing.B) {
	for _, q := range []string{"s", "steel 80C", "M16 8.8", "0.1 mm shim", "1780 rpm", "0.0015 in/10in", "zzz"} {
		b.Run(q, func(b *testing.B) {
			hitsOf(q)
			for b.Loop() {
				hitsOf(q)
			}
		})
	}
}

// Reading every text, as the first call does.
func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		for _, text := range texts {
			if _, err := readTable("", text); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// TestOwnLimitsAsTyped: what the person typed is shown in the unit it was typed in, not converted to that of the built-in rows.
func TestOwnLimitsAsTyped(t *testing.T) {
	own := OwnLimits([]*LimitSet{{Name: "mine", Rows: map[Coupling][]LimitRow{Flexible: {
		{UpTo: 1000, Offset: 0.05, OffsetIn: units.MM, Slope: 0.5, SlopeIn: units.MMPerM},
		{UpTo: 2000, Offset: units.Mil.ToBase(1.7), OffsetIn: units.Mil, Slope: 0.3, SlopeIn: units.MilPerInch}}}}}, "own")
	c := own.Column("offset")
	for i, want := range []string{"0.05 mm", "1.7 mil"} {
		if got := own.Columns[c].Show(own.Rows[i].Cells[c]); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := own.Columns[c+1].Show(own.Rows[1].Cells[c+1]); got != "0.3 mil/in" {
		t.Error(got)
	}
	m := OwnMaterials([]Material{{Name: "x", Alpha: units.PerFahrenheit.ToBase(6.3), In: units.PerFahrenheit, T0: math.NaN(), RelU: math.NaN()}}, "own")
	if got := m.Rows[0].Cells[m.Column("coefficient")]; !strings.HasPrefix(got, "6.3 ") {
		t.Error(got)
	}
}
