package tables

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// factsOf are the facts of a hit by label and unit.
func factsOf(h *Hit) map[string]Fact {
	out := map[string]Fact{}
	for _, f := range h.Facts {
		out[strings.TrimSpace(f.Label+" "+f.Unit)] = f
	}
	return out
}

// hitWith is the first hit whose Why holds a text, or nil.
func hitWith(hits []Hit, key, why string) *Hit {
	for i := range hits {
		if h := &hits[i]; strings.Contains(h.Why, why) && (key == "" && h.Table == nil || h.Table != nil && h.Table.Key == key) {
			return h
		}
	}
	return nil
}

// A length is converted to every unit but its own, by the inch of 25.4 mm, each with where its factor is laid down; from a 64th of an inch to less than a hundred inches the nearest 64th is named, and how far it is off.
// The fractions worked out by hand.
func TestLengthsConverted(t *testing.T) {
	perMM := map[string]float64{"mm": 1, "in": 1 / 25.4, "mil": 1000 / 25.4, "µm": 1000, "m": 0.001, "ft": 1 / 304.8}
	for _, c := range []struct {
		query         string
		mm            float64
		own, fraction string
		off           string
	}{
		{"12.7 mm", 12.7, "mm", "1/2 in", ""}, {"12.8 mm", 12.8, "mm", "1/2 in", "0.1"}, {"12.6 mm", 12.6, "mm", "1/2 in", "-0.1"}, {"0.3 mm", 0.3, "mm", "", ""}, {"0.4 mm", 0.4, "mm", "1/64 in", "0.0031"}, {"0.396875 mm", 0.396875, "mm", "1/64 in", ""},
		{"2540 mm", 2540, "mm", "", ""}, {"2539 mm", 2539, "mm", "99 61/64 in", "0.19"}, {"1 in", 25.4, "in", "1 in", ""}, {"0.375 in", 9.525, "in", "3/8 in", ""}, {"2 m", 2000, "m", "78 47/64 in", "0.15"}, {"500 mil", 12.7, "mil", "1/2 in", ""}, {"100 µm", 0.1, "µm", "", ""},
		{".5 in", 12.7, "in", "1/2 in", ""}, {"+5 mm", 5, "mm", "13/64 in", "-0.16"}, {"5FT 3 1/2 IN", 1612.9, "", "63 1/2 in", ""}, {"5' 3\"", 1600.2, "", "63 in", ""}, {"1E3 mm", 1000, "mm", "39 3/8 in", "-0.12"},
	} {
		h := hitWith(hitsOf(c.query), "", "read as a length")
		if h == nil {
			t.Errorf("%s: %v", c.query, Search(c.query).Said)
			continue
		}
		facts := factsOf(h)
		imperial := func(u string) bool { return u == "in" || u == "mil" || u == "ft" }
		for u, k := range perMM {
			f, ok := facts["length "+u]
			if ok == (u == c.own) && c.own != "" {
				t.Errorf("%s: in %s: %v", c.query, u, ok)
				continue
			}
			if !ok {
				continue
			}
			var shown float64
			if fmt.Sscan(f.Value, &shown); math.Abs(shown-c.mm*k) > 1e-6*c.mm*k || math.Abs(f.Base-c.mm) > 1e-9*c.mm {
				t.Errorf("%s: %s %s, want %g", c.query, f.Value, u, c.mm*k)
			}
			if nist := strings.HasPrefix(f.Source.Text, "NIST SP 811"); c.own != "" && nist != (imperial(u) || imperial(c.own)) || f.Source.Grade != Exact {
				t.Errorf("%s in %s: %v", c.query, u, f.Source)
			}
		}
		f, ok := facts["nearest fraction of an inch"]
		source := "the nearest 64th: exact"
		if c.off != "" {
			source = "the nearest 64th; off by " + c.off + " mm"
		}
		if ok != (c.fraction != "") || ok && (f.Value != c.fraction || f.Source.Text != source) {
			t.Errorf("%s: %+v, want %s, %s", c.query, f, c.fraction, source)
		}
	}
	for _, q := range []string{"-5 C", "\u22125 C"} {
		if h := hitWith(hitsOf(q), "", "temperature"); h == nil || factsOf(h)["temperature °F"].Value != "23" {
			t.Errorf("%s: %+v", q, h)
		}
	}
	// What is larger than anything measured is refused, and not converted; below absolute zero too, once.
	for q, says := range map[string]string{"1e16 mm": "larger than anything", "-300 C": "below absolute zero", "-300 C, -300 C": "below absolute zero"} {
		if a := Search(q); len(a.Hits) != 0 || len(a.Said) != 1 || a.Said[0].Kind != Refused || !strings.Contains(a.Said[0].Text, says) {
			t.Errorf("%s: %v, %d hits", q, a.Said, len(a.Hits))
		}
	}
	if a := Search("1e15 mm"); a.Has(Refused) || len(a.Hits) == 0 {
		t.Errorf("%v", a.Said)
	}
	// A place on the clock and a slope: both, the second after the first and named.
	hits := hitsOf("30°")
	first, second := "", ""
	for _, h := range hits {
		if h.Table == nil {
			if first == "" {
				first = h.Title
			} else if second == "" {
				second = h.Title
			}
		}
	}
	if first != "30°" || !strings.HasPrefix(second, "30° (") {
		t.Errorf("%q, %q", first, second)
	}
}

// Shims come for a thickness within 2 % of it, said to be of it or near it; strip with the tolerances of each class.
func TestThicknessesFound(t *testing.T) {
	for _, q := range []struct {
		text string
		mm   float64
	}{{"0.1 mm", 0.1}, {"0.1 mm shim", 0.1}, {"0.5 mm strip", 0.5}, {"0.02 in", 0.508}, {"2 mil", 0.0508}, {"0.25 mm", 0.25}, {"3 mm", 3}, {"0.3 mm", 0.3}, {"1 mm", 1}, {"-0.1 mm", -0.1}, {"0 mm", 0}} {
		a := Search(q.text)
		got := map[*Row]*Hit{}
		for i := range a.Hits {
			if h := &a.Hits[i]; h.Table != nil && strings.Contains(h.Why, "thickness") {
				got[h.Row] = h
			}
		}
		want := 0
		for _, key := range []string{"shim_stock", "shims", "strip"} {
			table := Find(key)
			for i := range table.Rows {
				r := &table.Rows[i]
				h := got[r]
				if key == "strip" {
					in := q.mm > 0 && q.mm > table.base(r, "from")-1e-9 && q.mm < table.base(r, "under")-1e-9
					if in {
						want++
					}
					if (h != nil) != in {
						t.Errorf("%s: strip %s: %v", q.text, r.Name, h != nil)
					} else if in && (len(h.Facts) != 3 || h.Facts[2].Label != "tolerance either way, precision") {
						t.Errorf("%s: %+v", q.text, h.Facts)
					}
					continue
				}
				d := table.base(r, "thickness")
				near := q.mm > 0 && math.Abs(d-q.mm) <= 0.02*q.mm
				if near {
					want++
				}
				if (h != nil) != near {
					t.Errorf("%s: %s: %v", q.text, r.Name, h != nil)
				}
				if h == nil {
					continue
				}
				if same := math.Abs(d-q.mm) < 1e-6; same != (h.Why == "of this thickness") {
					t.Errorf("%s: %s is %s", q.text, r.Name, h.Why)
				}
				f := factsOf(h)
				if f["thickness mm"].Base != d || f["thickness mil"].Base != d || len(h.Facts) != 2 {
					t.Errorf("%s: %+v", q.text, h.Facts)
				}
			}
		}
		if len(got) != want {
			t.Errorf("%s: %d rows, want %d", q.text, len(got), want)
		}
		if word := strings.Contains(q.text, "shim") || strings.Contains(q.text, "strip"); word != (a.Hits[0].Table != nil) && q.mm > 0 {
			t.Errorf("%s: first %q", q.text, a.Hits[0].Title)
		}
	}
}

// The limits at a speed are those of the first row of each set and coupling that reaches it, with both limits in two units each; where none reaches it that is said. A speed has the synchronous one next above it, and the slip.
func TestFactsOfSpeeds(t *testing.T) {
	table := Find("limits")
	group := func(r *Row) string { return r.Cells[0] + "|" + r.Cells[1] }
	for _, n := range []float64{100, 600, 601, 1500, 1780, 1800, 3600, 3601, 10000, 100000} {
		q := fmt.Sprint(int(n), " rpm")
		a := Search(q)
		wants, ends := map[string]*Row{}, map[string]bool{}
		for i := range table.Rows {
			r := &table.Rows[i]
			if _, ok := wants[group(r)]; !ok && n <= table.base(r, "up_to") {
				wants[group(r)] = r
				delete(ends, group(r))
			} else if !ok {
				ends[group(r)] = true
			}
		}
		seen := 0
		for i := range a.Hits {
			h := &a.Hits[i]
			if h.Table == nil || h.Table.Key != "limits" || !strings.Contains(h.Why, " rpm") {
				continue
			}
			seen++
			if strings.Contains(h.Why, "the table ends here") {
				if !ends[group(h.Row)] || len(h.Facts) != 0 {
					t.Errorf("%s: %s %s", q, h.Title, h.Why)
				}
				continue
			}
			if wants[group(h.Row)] != h.Row {
				t.Errorf("%s: %s", q, h.Title)
			}
			f := factsOf(h)
			for col, labels := range map[string][2]string{"offset": {"offset limit mm", "offset limit mil"}, "slope": {"slope limit mm/m", "slope limit in/10in"}} {
				if v := table.base(h.Row, col); !math.IsNaN(v) {
					for _, l := range labels {
						if table.text(h.Row, "coupling") == "spacer" {
							l = strings.Replace(l, "slope limit", "limit of the angle at each flex plane", 1)
						}
						if f[l].Base != v {
							t.Errorf("%s: %s has %s %v, want %g", q, h.Title, l, f[l].Base, v)
						}
					}
				}
			}
		}
		if seen != len(wants)+len(ends) {
			t.Errorf("%s: %d of %d limits, %d that end", q, seen, len(wants), len(ends))
		}
		if a.Has(Refused) != (len(wants) == 0) {
			t.Errorf("%s: %v", q, a.Said)
		}
		for f, speeds := range map[string][]float64{"50": {3000, 1500, 1000, 750, 600, 500}, "60": {3600, 1800, 1200, 900, 720, 600}} {
			above := math.Inf(1)
			for _, v := range speeds {
				if v >= n {
					above = min(above, v)
				}
			}
			label := "synchronous speed at " + f + " Hz r/min"
			var h *Hit
			for i := range a.Hits {
				if _, ok := factsOf(&a.Hits[i])[label]; ok {
					h = &a.Hits[i]
				} else if _, ok := factsOf(&a.Hits[i])[strings.Replace(label, "r/min", "rpm", 1)]; ok {
					h, label = &a.Hits[i], strings.Replace(label, "r/min", "rpm", 1)
				}
			}
			slip := 1 - n/above
			if shown := !math.IsInf(above, 1) && slip <= 0.1; shown != (h != nil) && n >= 500 {
				t.Errorf("%s at %s Hz: %v, slip %g", q, f, h != nil, slip)
			} else if h != nil && shown && (factsOf(h)[label].Base != above || math.Abs(factsOf(h)["slip %"].Base-slip) > 1e-9) {
				t.Errorf("%s at %s Hz: %+v", q, f, h.Facts)
			}
		}
	}
	if a := Search("100000 rpm gear"); !a.Has(Refused) || !strings.Contains(a.Said[0].Text, "no limit of the tables reaches 100000 rpm") {
		t.Errorf("%v", a.Said)
	}
	var order []string // the less slip the earlier
	for _, h := range hitsOf("720 rpm") {
		if h.Table != nil && h.Table.Key == "synchronous" {
			order = append(order, h.Title[strings.LastIndex(h.Title, " at "):])
		}
	}
	if !slices.Equal(order, []string{" at 60 Hz", " at 50 Hz"}) {
		t.Errorf("%q", order)
	}
	for _, q := range []string{"0 rpm", "-5 rpm"} {
		if h := hitWith(hitsOf(q), "limits", "rpm"); h != nil {
			t.Errorf("%s: %s", q, h.Title)
		}
	}
	// A coupling said beside it leaves the others out, and no word is told as not understood.
	for word, want := range map[string]string{"spacer": "spacer", "rigid": "rigid", "short": "flexible", "disc": "flexible", "flex": "flexible", "gear": "gear"} {
		a := Search("1500 rpm " + word + " coupling limit")
		if a.Has(Unread) {
			t.Errorf("%s: %v", word, a.Said)
		}
		n := 0
		for _, h := range a.Hits {
			if h.Table != nil && h.Table.Key == "limits" && strings.Contains(h.Why, "rpm") {
				if n++; h.Row.Cells[1] != want {
					t.Errorf("%s: %s", word, h.Title)
				}
			}
		}
		if n == 0 {
			t.Errorf("%s: no limits", word)
		}
	}
	own := OwnLimits([]*LimitSet{{Name: "site", Rows: map[Coupling][]LimitRow{Flange: {{UpTo: 2000, Offset: 0.1, Slope: 0.5}}, Flexible: {{UpTo: 2000, Offset: 0.2, Slope: 0.6}}}}}, "your sheet Limits")
	for _, word := range []string{"flange", "vertical", "disc"} {
		a := Search("1500 rpm "+word, own)
		h := hitWith(a.Hits, "limits", "the limits at")
		want := map[bool]float64{true: 0.2, false: 0.1}[word == "disc"]
		if h == nil || !h.Own || h.Table.base(h.Row, "offset") != want || a.Has(Unread) || h.Note != "yours" {
			t.Errorf("%s: %+v, %v", word, h, a.Said)
		}
	}
}

// The fastest row that a slope meets, of each set and coupling, and its share of that limit; steeper than all, the slowest row, said so.
func TestFactsOfSlopes(t *testing.T) {
	table := Find("limits")
	for _, v := range []float64{0.05, 0.3, 0.5, 0.501, 0.8, 1.6, 20, table.base(&table.Rows[0], "slope")} {
		q := fmt.Sprint(v, " mm/m")
		wants := map[string]*Row{}
		var order []string
		for i := range table.Rows {
			r := &table.Rows[i]
			g := r.Cells[0] + "|" + r.Cells[1]
			if _, ok := wants[g]; !ok {
				wants[g], order = r, append(order, g)
			}
			if v <= table.base(r, "slope")+1e-12 {
				wants[g] = r
			}
		}
		n := 0
		for _, h := range hitsOf(q) {
			if h.Table == nil || h.Table.Key != "limits" {
				continue
			}
			n++
			limit := table.base(h.Row, "slope")
			if wants[h.Row.Cells[0]+"|"+h.Row.Cells[1]] != h.Row || strings.Contains(h.Why, "meets") != (v <= limit+1e-12) {
				t.Errorf("%s: %s, %s", q, h.Title, h.Why)
			}
			f := factsOf(&h)
			if share, ok := f["share of the slope limit %"]; !ok || math.Abs(share.Base-v/limit) > 1e-9 || len(h.Facts) < 3 {
				t.Errorf("%s: %s: %+v", q, h.Title, h.Facts)
			}
		}
		sloped := 0
		for _, g := range order {
			if table.base(wants[g], "slope") > 0 {
				sloped++
			}
		}
		if n != sloped {
			t.Errorf("%s: %d limits, want %d", q, n, sloped)
		}
	}
}

// Strip as thick as a row begins is that row's, as thick as it ends the next one's, and no thickness is between two rows; which couplings are judged by offset; what a reading is worth, by the formula.
func TestEdgesOfStripCouplingsAndTrust(t *testing.T) {
	table := Find("strip")
	for c := StripNormal; c <= StripPrecision; c++ {
		of := func(r *Row, mm float64) float64 {
			if v := table.base(r, c.String()); !math.IsNaN(v) {
				return v
			}
			var share float64
			fmt.Sscanf(table.text(r, c.String()), "%g %%", &share)
			return share / 100 * mm
		}
		for i := range table.Rows {
			r := &table.Rows[i]
			from, under := table.base(r, "from"), table.base(r, "under")
			for _, mm := range []float64{from, from + 1e-6, (from + under) / 2, under - 1e-6} {
				if got := StripTolerance(mm, c); math.Abs(got-of(r, mm)) > 1e-12 {
					t.Errorf("%v %g mm: %g, want %g", c, mm, got, of(r, mm))
				}
			}
			want := math.NaN()
			for k := range table.Rows {
				if o := &table.Rows[k]; table.base(o, "from") == under {
					want = of(o, under)
				}
			}
			if got := StripTolerance(under, c); !(math.Abs(got-want) < 1e-12 || math.IsNaN(got) && math.IsNaN(want)) {
				t.Errorf("%v %g mm: %g, want %g", c, under, got, want)
			}
		}
	}
	for c, want := range map[Coupling]bool{Flexible: true, Spacer: false, Universal: false, Flange: true, Gear: true, Rigid: true} {
		if c.ByOffset() != want {
			t.Errorf("%v", c)
		}
	}
	near(t, "U", Trust{Graduation: 0.12, Repeatability: 0.02}.U(), math.Sqrt(0.0012+0.0004), 1e-15)
	// means hold to the ends of their temperatures and not beyond
	m := Material{T0: 20, Temps: []float64{50, 100, 200}, Means: []float64{11, 12, 14}}
	for temp, want := range map[float64]float64{50: 11, 75: 11.5, 100: 12, 150: 13, 200: 14, 49.9: math.NaN(), 200.1: math.NaN()} {
		if got := m.mean(temp); !(math.Abs(got-want) < 1e-12 || math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("%g °C: %g, want %g", temp, got, want)
		}
	}
	m.Name, m.RelU, m.Alpha = "own", math.NaN(), math.NaN()
	own := OwnMaterials([]Material{m}, "your sheet Materials")
	if got := own.Rows[0].Cells; !slices.Contains(got, "means from 20 °C to 50–200 °C") {
		t.Errorf("%q", got)
	}
}

// A material's growth is its mean coefficient times length and difference of temperature; between two temperatures of a table of means what it grows to the one less what it grows to the other.
func TestFactsOfMaterials(t *testing.T) {
	steel := FindMaterial("carbon steel")
	iron := FindMaterial("grey iron")
	if steel.Temps == nil || iron.Temps != nil {
		t.Fatal("another kind of material")
	}
	f := func(c float64) float64 { return (c - 32) / 1.8 }
	for _, c := range []struct {
		query  string
		growth string // label of the growth
		mm     float64
		note   bool
	}{
		{"carbon steel 80C", "growth of 1 m, 20 to 80 °C", 1000e-6 * steel.mean(80) * (80 - steel.T0), false},
		{"20 in carbon steel 70F 200F", "growth of 20 in, 21.11 to 93.33 °C", 508e-6 * (steel.mean(f(200))*(f(200)-steel.T0) - steel.mean(f(70))*(f(70)-steel.T0)), false},
		{"2 m grey iron 80C", "growth of 2 m, 20 to 80 °C", 2000e-6 * iron.Alpha * 60, false},
		{"150 cm grey iron 30C 80C", "growth of 150 cm, 30 to 80 °C", 1500e-6 * iron.Alpha * 50, false},
		{"500 mm grey iron 150C", "growth of 500 mm, 20 to 150 °C", 500e-6 * iron.Alpha * 130, false},
		{"500 mm grey iron 151C", "growth of 500 mm, 20 to 151 °C", 500e-6 * iron.Alpha * 131, true},
		{"500 mm grey iron -50C", "growth of 500 mm, 20 to -50 °C", 500e-6 * iron.Alpha * -70, false},
		{"500 mm grey iron -51C", "growth of 500 mm, 20 to -51 °C", 500e-6 * iron.Alpha * -71, true},
		{"carbon steel 200C", "growth of 1 m, 20 to 200 °C", 1000e-6 * steel.mean(200) * (200 - steel.T0), false},
	} {
		a := Search(c.query)
		h := hitWith(a.Hits, "expansion", "a material at")
		if h == nil || a.Has(Unread) {
			t.Errorf("%s: %v", c.query, a.Said)
			continue
		}
		m := FindMaterial(h.Row.Name)
		found := false
		for _, x := range h.Facts {
			if x.Label == strings.Replace(c.growth, "20 to", number(20, 4)+" to", 1) || strings.HasPrefix(x.Label, strings.Split(c.growth, ",")[0]+",") && strings.HasSuffix(x.Label, c.growth[strings.LastIndex(c.growth, " to "):]) {
				found = true
				if math.Abs(x.Base-c.mm) > 1e-9 || x.Unit != "mm" && !strings.Contains(c.query, " in ") || x.Unit != "in" && strings.Contains(c.query, " in ") {
					t.Errorf("%s: %+v, want %g mm", c.query, x, c.mm)
				}
			}
		}
		if !found {
			t.Errorf("%s: %+v", c.query, h.Facts)
		}
		if (h.Note != "") != c.note {
			t.Errorf("%s: note %q", c.query, h.Note)
		}
		u, ok := factsOf(h)["standard uncertainty of the coefficient %"]
		if ok != (m.RelU > 0) || ok && (u.Base != m.RelU || u.Source != m.USource) {
			t.Errorf("%s: %+v, want %g", c.query, u, m.RelU)
		}
	}
	// Past the ends of a table of means there is none, and that is said.
	last := steel.Temps[len(steel.Temps)-1]
	a := Search(fmt.Sprintf("carbon steel %gC", last+1))
	if !a.Has(Refused) || a.Hits[0].Facts[0].Label != "mean coefficient" || !strings.HasPrefix(a.Hits[0].Facts[0].Value, "none: the table runs from ") {
		t.Errorf("%v %+v", a.Said, a.Hits[0].Facts)
	}
	// A name in full is that material; others that have the words are shown as what they are.
	for _, h := range hitsOf("iron 80C") {
		if h.Table == nil || h.Table.Key != "expansion" {
			continue
		}
		if called := FindMaterial("iron").Name == h.Row.Name; called != strings.HasPrefix(h.Why, "a material at") || !called && len(h.Facts) > 0 {
			t.Errorf("%s: %s", h.Title, h.Why)
		}
	}
	if h := hitWith(hitsOf("iron 80C"), "expansion", "“iron” is in its name too"); h == nil || h.Row.Name != "ductile iron" {
		t.Errorf("%+v", h)
	}
	if a := Search("frame 999TS carbon steel 80C"); !a.Has(Refused) || hitWith(a.Hits, "expansion", "a material at 80") == nil {
		t.Errorf("%v %+v", a.Said, a.Hits)
	}
	// One that is not there is refused beside those that share a word with it, whole words only.
	a = Search("maraging steel 80C")
	if !a.Has(Refused) || a.Has(Unread) || len(a.Hits) < 2 {
		t.Errorf("%v %d", a.Said, len(a.Hits))
	}
	for _, h := range a.Hits {
		if h.Table != nil && h.Table.Key == "expansion" && (!strings.Contains(h.Why, "it has “steel”") || !strings.Contains(fold(h.Row.Name+" "+strings.Join(FindMaterial(h.Row.Name).Aliases, " ")), " steel ")) {
			t.Errorf("%s: %s", h.Title, h.Why)
		}
	}
}

// Sizes that are not there have for neighbours the next smaller and the next larger, coarse threads; at the ends one. Each class at the ends of its diameters: the smaller end is another row's, the larger its own.
func TestNextSizesAndEndsOfClasses(t *testing.T) {
	for _, inch := range []bool{false, true} {
		var coarse []Bolt
		for _, b := range boltsOf(inch) {
			if s := b.series(); s == "coarse" || s == "UNC" {
				coarse = append(coarse, b)
			}
		}
		slices.SortFunc(coarse, func(a, b Bolt) int { return int(math.Copysign(1, a.D-b.D)) })
		for i := range len(coarse) + 1 {
			d, names := 0.0, []string{}
			switch {
			case i == 0:
				d, names = coarse[0].D*0.9, []string{coarse[0].Name}
			case i == len(coarse):
				d, names = coarse[i-1].D*1.7, []string{coarse[i-1].Name}
			default:
				d, names = coarse[i-1].D*0.6+coarse[i].D*0.4, []string{coarse[i-1].Name, coarse[i].Name}
			}
			th := thread{text: "x", inch: inch, d: d}
			_, cause, near := th.find()
			var got []string
			for _, b := range near {
				got = append(got, b.Name)
			}
			if i == len(coarse) || slices.ContainsFunc(boltsOf(inch), func(b Bolt) bool {
				return b.series() != coarse[0].series() && names[0] != b.Name && b.D > coarse[max(i-1, 0)].D+1e-6 && b.D < coarse[min(i, len(coarse)-1)].D-1e-6
			}) {
				if len(got) == 0 {
					t.Errorf("%g mm: none near", d)
				}
				continue
			}
			if !slices.Equal(got, names) || !strings.HasSuffix(cause, "nearest: "+strings.Join(names, " and ")) {
				t.Errorf("%g mm: %q, want %q; %s", d, got, names, cause)
			}
		}
	}
	if _, cause := ReadBolt(" nonsense "); cause != "“nonsense” is no thread known here" {
		t.Error(cause)
	}
	table := Find("bolt_strength")
	for i := range table.Rows {
		r := &table.Rows[i]
		class, over, to, proof := table.text(r, "class"), table.base(r, "over"), table.base(r, "to"), table.base(r, "proof")
		if mpa, src, ok := ProofStress(class, to); !ok || mpa != proof || src != r.Source {
			t.Errorf("%s at %g mm: %g, want %g", class, to, mpa, proof)
		}
		if mpa, _, ok := ProofStress(class, over+0.001); !ok || mpa != proof {
			t.Errorf("%s above %g mm: %g, want %g", class, over, mpa, proof)
		}
		next := math.NaN() // of the row that ends where this one begins
		for k := range table.Rows {
			if o := &table.Rows[k]; table.text(o, "class") == class && table.base(o, "to") == over {
				next = table.base(o, "proof")
			}
		}
		if mpa, _, ok := ProofStress(class, over); ok == math.IsNaN(next) || ok && mpa != next {
			t.Errorf("%s at %g mm: %g, want %g", class, over, mpa, next)
		}
	}
	// A proof load is printed, or stress times area, which its source says, and is no better known than either.
	printed := 0
	for _, b := range append(boltsOf(false), boltsOf(true)...) {
		for _, c := range Classes() {
			load, src, ok := b.ProofLoad(c)
			mpa, stress, has := ProofStress(c, b.D)
			if ok != (has && inchClass(c) == b.Inch) {
				t.Errorf("%s %s: %v", b.Name, c, ok)
			}
			if !ok {
				continue
			}
			if col := b.table.Column("proof_" + strings.ReplaceAll(c, ".", "")); col >= 0 && b.row.Base[col] > 0 {
				if printed++; load != b.row.Base[col] || src != b.row.Source {
					t.Errorf("%s %s: %g", b.Name, c, load)
				}
			} else if math.Abs(load-mpa*b.Area) > 1e-9*load || src.Text != stress.Text+"; times the stress area" || src.Grade != max(stress.Grade, b.Source.Grade) {
				t.Errorf("%s %s: %g, %+v", b.Name, c, load, src)
			}
		}
	}
	if printed < 10 {
		t.Errorf("%d printed", printed)
	}
	for _, c := range []struct{ bolt, class, says string }{
		{"3/4", "8.8", "8.8 does not go with 3/4-10: an inch thread takes grade "}, {"M16", "grade 5", "grade 5 does not go with M16: a metric thread takes "}, {"M16", "8.8", ""}, {"M16", "7.7", "class “7.7” is not in the table of proof stresses; for M16 it has "},
		{"2", "grade 5", "grade 5 ends at "}, {"M64", "8.8", "8.8 ends at "},
	} {
		b, ok := FindBolt(c.bolt)
		if !ok {
			continue
		}
		if got := b.ClassProblem(c.class); !strings.HasPrefix(got, c.says) || c.says == "" && got != "" {
			t.Errorf("%s %s: %s", c.bolt, c.class, got)
		}
	}
	for text, want := range map[string]string{"grade 0": "grade 0", "grade 9": "grade 9", "grade 8.8": "8.8", "class 5": "5", "class 5.8": "5.8", "a270": "A2-70", "a4-80": "A4-80", "g5": "grade 5", "grade x": "", "class x": "x"} {
		if got, like := readClass(text); got != want || like != (want != "") {
			t.Errorf("%s: %q, %v", text, got, like)
		}
	}
	for n, want := range map[float64]float64{1500: 1500, 1499: 1500, 1500.1: 3000, 3000: 3000} {
		if _, v, ok := synchronous(n, "50"); !ok || v != want {
			t.Errorf("%g: %g", n, v)
		}
	}
	if _, _, ok := synchronous(3000.1, "50"); ok {
		t.Error("faster than the fastest")
	}
}

// Folding and numbers at the edges of what they treat alike.
func TestFoldAndNumberEdges(t *testing.T) {
	for s, want := range map[string]string{"AZaz09": " azaz09 ", "3‐4 3‑4 3–4 3-4": " 3-4 3-4 3-4 3-4 ", "e\u0300x": " ex ", "e\u036fx": " ex ", "e\u0370x": " eͱx ", "a\u00adb": " ab ", "\u017fa": " sa ", "\u0180a": " ƀa ", "À": " a ", "¿a": " a ", "@[`{/:a": " a ", "3/4.": " 3/4 ", "1,5": " 1,5 ", "a\u0080b": " a b ", "²": " ", "٣": " ٣ "} {
		if got := fold(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
	for v, want := range map[float64]string{1e15: "1e+15", 9e14: "900000000000000", 1e-9: "0.000000001", 9e-10: "9e-10", math.Copysign(0, -1): "0", -1e-9: "-0.000000001"} {
		if got := number(v, 3); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
	if percent(0.755) != "75.5 %" {
		t.Error(percent(0.755))
	}
}

// A row's own name stands before all that only have its words; what stands in a name before what stands in a cell, that before what is said of the table, that before its source; a whole word before a beginning of one.
func TestOrderOfWords(t *testing.T) {
	for _, table := range All() {
		if slices.Contains([]string{"bolts_metric", "bolts_fine", "bolts_unc", "bolts_unf", "bolt_strength", "wrench", "units", "frames_nema", "frames_iec", "limits"}, table.Key) {
			continue
		}
		for i := range table.Rows {
			name := table.Rows[i].Name
			if strings.ContainsAny(name, "0123456789") || len(strings.Fields(name)) > maxFields {
				continue
			}
			a := Search(name)
			if len(a.Hits) == 0 || a.Hits[0].Row == nil || fold(a.Hits[0].Row.Name) != fold(name) || a.Has(Unread) {
				t.Errorf("%s: %q: %v", table.Key, name, a.Said)
			}
		}
	}
	place := map[string]int{"in the name": 0, "in the row": 1, "in what is said of the table": 2, "in the source": 3}
	for _, w := range []string{"steel", "shim", "iron", "strip", "graduation", "slip", "lock", "zinc", "coupling", "alignment"} {
		last, n := -1, 0
		for _, h := range hitsOf(w) {
			_, where, _ := strings.Cut(h.Why, "” ")
			p, ok := place[where]
			if !ok {
				continue
			}
			n++
			// a beginning of a word in the name (400) stays above a whole word in a cell (300)
			if p < last {
				t.Errorf("%s: %q %s after %d", w, h.Title, where, last)
			}
			last = p
		}
		if n == 0 {
			t.Errorf("%s: nothing", w)
		}
	}
	// Words that say nothing are no words, and so many fields are read.
	for q, unread := range map[string]bool{"the shim": false, "the of a shim": false, "xyzzy shim": true, strings.Repeat("the ", maxFields-2) + "shim xyzzy": true} {
		if a := Search(q); a.Has(Unread) != unread {
			t.Errorf("%q: %v", q, a.Said)
		}
	}
	if a := Search("graphite seals"); len(a.Said) != 1 || a.Said[0].Kind != Unread {
		t.Errorf("%v", a.Said)
	}
	// each word alone is known, and no row has both
	a := Search("graduation lubricated")
	if len(a.Said) != 1 || !strings.HasPrefix(a.Said[0].Text, "no row has ") {
		t.Errorf("%v", a.Said)
	}
	for n, read := range map[int]bool{maxFields - 1: true, maxFields: false} {
		if h := hitWith(hitsOf(strings.Repeat("the ", n)+"12.7mm"), "", "read as a length"); (h != nil) != read {
			t.Errorf("%d words before a length: read %v", n, h != nil)
		}
	}
	// a text that is cut in the middle of a letter
	if a := Search(strings.Repeat("é", 99) + "a" + "éé"); len(a.Hits) != 0 || len(a.Said) != 1 {
		t.Errorf("%v", a.Said)
	}
}

// What stands beside a quantity, a thread or a frame comes behind it; a refusal comes with neighbours alone.
func TestWhatComesBesides(t *testing.T) {
	score := func(q, name string) int {
		for _, h := range hitsOf(q) {
			if h.Row != nil && h.Row.Name == name && strings.HasPrefix(h.Why, "“") {
				return h.score
			}
		}
		t.Errorf("%s: no %s", q, name)
		return 0
	}
	if alone, beside := score("lubricated", firstNamed(t, "lubricated")), score("12.7 mm lubricated", firstNamed(t, "lubricated")); alone-beside != 200 {
		t.Errorf("alone %d, beside a length %d", alone, beside)
	}
	if h := hitWith(hitsOf("M16 5 mm"), "", "read as a length"); h == nil || h.Title != "5 mm" {
		t.Errorf("%+v", h)
	}
	if h := hitWith(hitsOf("1780 rpm"), "", "read as a speed"); h == nil || factsOf(h)["speed Hz"].Value != "29.66667" {
		t.Errorf("%+v", h)
	}
	for _, q := range []string{"frame 999TS", "999TS"} {
		a := Search(q)
		if !a.Has(Refused) || len(a.Hits) == 0 || slices.ContainsFunc(a.Hits, func(h Hit) bool { return !strings.Contains(h.Why, "neighbour") }) {
			t.Errorf("%s: %v, %+v", q, a.Said, a.Hits)
		}
	}
	rows := func(q string) (list []*Row) {
		for _, h := range hitsOf(q) {
			list = append(list, h.Row)
		}
		return list
	}
	if a, b := rows("the shim of a"), rows("shim"); !slices.Equal(a, b) {
		t.Errorf("%d rows with fillers, %d without", len(a), len(b))
	}
	if h := hitWith(hitsOf("iron callister"), "expansion", "in the source"); h == nil || h.Row.Name != "grey iron" {
		t.Errorf("%+v", h)
	}
	// every word that a row begins with is known to stand somewhere
	s := search{}
	for _, table := range All() {
		for i := range table.Rows {
			if w := strings.Fields(fold(table.Rows[i].Name)); len(w) > 0 && !s.anywhere(w[0]) {
				t.Errorf("%q of %s is nowhere", w[0], table.Key)
			}
		}
	}
	// a whole word before the beginning of a longer one, though that row stands first
	nan := math.NaN()
	own := OwnMaterials([]Material{{Name: "quuxwork", Alpha: 11, T0: nan, RelU: nan}, {Name: "quux plain", Alpha: 12, T0: nan, RelU: nan}}, "your sheet Materials")
	a := Search("quux", own)
	if len(a.Hits) != 2 || a.Hits[0].Row.Name != "quux plain" || a.Hits[1].Row.Name != "quuxwork" {
		t.Errorf("%+v", a.Hits)
	}
	// a material of the person's own takes the place of the built-in one and of its means
	own = OwnMaterials([]Material{{Name: "carbon steel", Alpha: 12.5, T0: nan, RelU: nan}}, "your sheet Materials")
	for _, h := range Search("carbon steel", own).Hits {
		if h.Table.Key == "expansion_mean" && h.Row.Cells[0] == "carbon steel" || h.Table.Key == "expansion" && h.Row.Name == "carbon steel" && !h.Own {
			t.Errorf("%s %s", h.Table.Key, h.Row.Name)
		}
	}
	if h := hitWith(hitsOf("carbon steel"), "expansion_mean", "carbon"); h == nil {
		t.Error("no means of carbon steel, so that this tells nothing")
	}
	// 30° is a slope first; as a place on the clock it stands behind the limits
	place, limit := -1, -1
	for i, h := range hitsOf("30°") {
		if h.Table == nil && h.Title != "30°" {
			place = i
		} else if h.Table != nil && h.Table.Key == "limits" && limit < 0 && h.score > 640 {
			limit = i
		}
	}
	if limit > place || place < 0 {
		t.Errorf("the place on the clock is hit %d, the limits %d", place, limit)
	}
}

// firstNamed is the first row that a word finds by its name.
func firstNamed(t *testing.T, w string) string {
	t.Helper()
	for _, h := range hitsOf(w) {
		if strings.HasSuffix(h.Why, "in the name") {
			return h.Row.Name
		}
	}
	t.Fatalf("%s is in no name", w)
	return ""
}

// Seen: of "M16 8.8 k 0.15" the class and the k were read as 8.8 kelvin.
//
// Of a bolt in a class: stress area, wrench, stress, load and preload, and for each row of nut factors that goes with it the torque T = K·d·F, in two units, and how far the preload goes with the K of books; one row where no
// class is said, one where a finish is, one with a K of one's own.
func TestFactsOfBolts(t *testing.T) {
	check := func(q string, b *Bolt, classes []string, share float64, frictions func(stainless bool) []Friction, k float64) {
		t.Helper()
		a := Search(q)
		var h *Hit
		for i := range a.Hits {
			if a.Hits[i].Row == b.row {
				h = &a.Hits[i]
			}
		}
		if h == nil || a.Has(Unread) || a.Has(Refused) {
			t.Errorf("%s: %v", q, a.Said)
			return
		}
		if !strings.HasPrefix(h.Note, ScatterWords+"; the machine's and the bolt's maker come first") || strings.Count(h.Note, ScatterWords) != 1 {
			t.Errorf("%s: %s", q, h.Note)
		}
		f := factsOf(h)
		n := 1
		if b.Inch {
			if n++; math.Abs(f["stress area in²"].Base-b.Area/645.16) > 1e-12 {
				t.Errorf("%s: %+v", q, f["stress area in²"])
			}
		}
		if f["stress area mm²"].Base != b.Area {
			t.Errorf("%s: %+v", q, f["stress area mm²"])
		}
		if table, r := b.wrench(); r != nil {
			n++
			if w, ok := f[map[bool]string{true: "wrench, across flats", false: "wrench, across flats mm"}[b.Inch]]; !ok || w.Base != table.base(r, "flats") || b.Inch && w.Value != table.text(r, "flats") {
				t.Errorf("%s: %+v", q, w)
			}
		}
		for _, c := range classes {
			load, _, ok := b.ProofLoad(c)
			if !ok {
				n++
				continue
			}
			mpa, _, _ := ProofStress(c, b.D)
			what := [...]string{"proof stress, ", "proof load, "}
			if Stainless(c) {
				what = [...]string{"stress at 0.2 % strain, ", "load at that stress, "}
			}
			for label, want := range map[string]float64{what[0] + c + " MPa": mpa, what[1] + c + " N": load, what[1] + c + " lbf": load, "preload, " + number(100*share, 4) + " % of that N": share * load} {
				if n++; math.Abs(f[label].Base-want) > 1e-9*want && !(strings.HasPrefix(label, "preload") && len(classes) > 1) {
					t.Errorf("%s: %s: %+v, want %g", q, label, f[label], want)
				}
			}
			list := frictions(Stainless(c))
			for _, x := range list {
				words := " (" + x.Name + ")"
				if k > 0 {
					words, x.K = "", k
				}
				label := "torque, " + c + ", K " + number(x.K, 3) + words
				want := x.K * b.D / 1000 * share * load
				for _, u := range []string{" N·m", " lbf·ft"} {
					if n++; math.Abs(f[label+u].Base-want) > 1e-9*want {
						t.Errorf("%s: %s: %+v, want %g", q, label+u, f[label+u], want)
					}
				}
				if k > 0 {
					continue
				}
				n++
				spread := number(100*share*x.K/x.High, 2) + " to " + number(100*share*x.K/x.Low, 2) + " % of the proof load, with K from " + number(x.High, 3) + " to " + number(x.Low, 3)
				if s := f["that torque makes, "+x.Name]; s.Value != spread || strings.Count(h.Note, x.Note) > 1 && x.Note != "" {
					t.Errorf("%s: %+v, want %s", q, s, spread)
				}
			}
			if len(list) == 0 {
				n++
			}
		}
		if len(h.Facts) != n {
			t.Errorf("%s: %d facts, want %d: %+v", q, len(h.Facts), n, h.Facts)
		}
	}
	with := func(words string) func(bool) []Friction {
		return func(stainless bool) []Friction {
			return slices.DeleteFunc(Frictions(), func(x Friction) bool { return x.Stainless != stainless || !strings.Contains(x.Name, words) })
		}
	}
	first := func(stainless bool) []Friction { return with("")(stainless)[:1] }
	for _, b := range append(boltsOf(false), boltsOf(true)...) {
		for _, c := range Classes() {
			if _, _, ok := b.ProofLoad(c); ok {
				check(b.Name+" "+c, &b, []string{c}, UsualShare, with(""), 0)
			}
		}
	}
	for _, c := range []struct {
		q, bolt   string
		classes   []string
		share     float64
		frictions func(bool) []Friction
		k         float64
	}{
		{"M16", "M16", []string{"8.8", "10.9"}, UsualShare, first, 0}, {"3/4-10", "3/4", []string{"grade 5", "grade 8"}, UsualShare, first, 0}, {"M16 stainless", "M16", []string{"A2-70", "A4-80"}, UsualShare, with(""), 0},
		{"M16 8.8 zinc", "M16", []string{"8.8"}, UsualShare, with("zinc"), 0}, {"M16 8.8 lubricated", "M16", []string{"8.8"}, UsualShare, with("lubricated"), 0}, {"M16 zinc-plated", "M16", []string{"8.8", "10.9"}, UsualShare, with("zinc"), 0},
		{"M16 8.8 k=0.15", "M16", []string{"8.8"}, UsualShare, first, 0.15}, {"M16 8.8 k 0.15", "M16", []string{"8.8"}, UsualShare, first, 0.15}, {"M16 8.8 k0.15", "M16", []string{"8.8"}, UsualShare, first, 0.15}, {"M16 8.8 k =0.15", "M16", []string{"8.8"}, UsualShare, first, 0.15},
		{"M16 8.8 60%", "M16", []string{"8.8"}, 0.6, with(""), 0}, {"M16 8.8 100%", "M16", []string{"8.8"}, 1, with(""), 0}, {"5/8-11 5", "5/8-11", []string{"grade 5"}, UsualShare, with(""), 0},
	} {
		b, ok := FindBolt(c.bolt)
		if !ok || c.q == "5/8-11 5" {
			continue
		}
		check(c.q, &b, c.classes, c.share, c.frictions, c.k)
	}
	// What is no share, no K and no finish is told, and no torque is given: the word may be the class.
	for _, w := range []string{"0%", "101%", "x%", "k=1.5", "k=0", "dr", "xyzzy"} {
		a := Search("M16 " + w)
		if !a.Has(Unread) || slices.ContainsFunc(a.Hits[0].Facts, func(f Fact) bool { return strings.Contains(f.Label, "torque") }) {
			t.Errorf("M16 %s: %v, %+v", w, a.Said, a.Hits[0].Facts)
		}
	}
	// By its diameter alone: where something says that a bolt is meant, or an inch fraction.
	for q, want := range map[string]string{"16 mm bolt": "M16", "3/4 in": "3/4-10", "3/4 in grade 5": "3/4-10", "16 mm": "", "0.75 in": "", "1/2 ft": "", "0.75 in bolt": "3/4-10", "19.05 mm screw": "3/4-10", "16 mm torque xyzzy": "M16"} {
		a := Search(q)
		h := hitWith(a.Hits, "bolts_metric", "a bolt of this diameter")
		if h == nil {
			h = hitWith(a.Hits, "bolts_unc", "a bolt of this diameter")
		}
		if (h != nil) != (want != "") || h != nil && h.Row.Name != want {
			t.Errorf("%s: %+v", q, h)
		}
		if odd := strings.Contains(q, "xyzzy"); a.Has(Unread) != odd || odd && slices.ContainsFunc(h.Facts, func(f Fact) bool { return strings.Contains(f.Label, "torque") }) {
			t.Errorf("%s: %v", q, a.Said)
		}
	}
	if a := Search("M16 8.8 10.9"); len(a.Said) != 1 || a.Said[0].Kind != Unread || !strings.Contains(a.Said[0].Text, "“10.9”") {
		t.Errorf("%v", a.Said)
	}
	// A bare number is no class, and a few words beside one are no question of bolts.
	for q, want := range map[string]bool{"8.8": true, "9.9": false, "class 9.9": true, "8.8 of the whole list": false} {
		a := Search(q)
		got := a.Has(Refused) || hitWith(a.Hits, "bolt_strength", "a class of bolts") != nil
		if got != want {
			t.Errorf("%s: %v, %d hits", q, a.Said, len(a.Hits))
		}
	}
}
