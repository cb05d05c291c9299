package tables

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// A word stands in a text, or begins a word of it, a number no longer number: begins against the same said over a list of words.
func TestBegins(t *testing.T) {
	rnd := rand.New(rand.NewPCG(15, 2))
	word := func(most int) string {
		b := []byte{"am09"[rnd.IntN(4)]}
		for range rnd.IntN(most) {
			b = append(b, "am09./,-"[rnd.IntN(8)])
		}
		return string(b)
	}
	seen := map[int]int{}
	for range 20000 {
		var words []string
		for range rnd.IntN(4) {
			words = append(words, word(4))
		}
		w := word(3)
		if len(words) > 0 && rnd.IntN(2) == 0 {
			w = words[rnd.IntN(len(words))]
			w = w[:1+rnd.IntN(len(w))]
		}
		want, whole, at := -1, false, 0
		for _, x := range words {
			rest, ok := strings.CutPrefix(x, w)
			longer := rest != "" && strings.Contains("0123456789.,/-", rest[:1]) && w[len(w)-1] >= '0' && w[len(w)-1] <= '9'
			switch {
			case x == w && !whole:
				want, whole = at, true
			case ok && !longer && want < 0:
				want = at
			}
			at += 1 + len(x)
		}
		got, is := begins(" "+strings.Join(words, " ")+" ", " "+w)
		if len(words) == 0 {
			got, is = begins(" ", " "+w)
		}
		if got != want || is != whole {
			t.Fatalf("%q in %q: %d, %v, want %d, %v", w, words, got, is, want, whole)
		}
		seen[min(want, 1)]++
	}
	if seen[-1] < 1000 || seen[0] < 1000 || seen[1] < 300 {
		t.Error(seen)
	}
}

// Every word of a question is used, or it is said that it is not understood. So a word that means nothing, put before or behind a question that is answered, is named.
func TestNoWordIsDropped(t *testing.T) {
	for _, q := range []string{"M16 8.8", "M16", "3/4-10 grade 8", "8.8", "class 10.9", "A2-70", "grade 5", "M16 8.8 k=0.15 60%", "k 0.15 M16 8.8", "steel 80C", "20 in steel 70F 200F", "aluminum", "1780 rpm", "3600 rpm short",
		"0.0015 in/10in", "213T", "160M", "0.1 mm shim", "12.7 mm", "25 mil", "stainless"} {
		if a := Search(q); len(a.Hits) == 0 || a.Has(Refused) || a.Has(Unread) {
			t.Errorf("%q is not answered: %v", q, a.Said)
			continue
		}
		for _, with := range []string{q + " qqxyz", "qqxyz " + q} {
			named := false
			for _, x := range Search(with).Said {
				named = named || strings.Contains(x.Text, "qqxyz")
			}
			if !named {
				t.Errorf("%q: the word that means nothing is not named", with)
			}
		}
	}
}

// One thing written in several ways is one question.
func TestSameQuestion(t *testing.T) {
	for _, ways := range [][]string{
		{"M16 8.8 k=0.15", "k 0.15 M16 8.8", "K 0.15 M16 8.8", "M16 8.8 k0.15", "k =0.15 M16 8.8"},
		{"M16 8.8 60%", "M16 8,8 60%", "m16 class 8.8 60%", "M16 property class 8.8 60%"},
		{"M16 a2-70", "M16 A2-70", "M16 a2 70"},
		{"3/4-10 grade 8", "3/4-10 gr.8", "3/4-10 SAE 8", "3/4-10 G8"},
	} {
		facts := func(q string) (out []string) {
			a := Search(q)
			for _, s := range a.Said {
				out = append(out, s.Text)
			}
			if len(a.Hits) > 0 {
				out = append(out, a.Hits[0].Title)
				for _, f := range a.Hits[0].Facts {
					out = append(out, f.Label+" "+f.Value+" "+f.Unit)
				}
			}
			return out
		}
		want := facts(ways[0])
		if len(want) < 3 {
			t.Errorf("%q: %q", ways[0], want)
		}
		for _, w := range ways[1:] {
			if got := facts(w); !slices.Equal(got, want) {
				t.Errorf("%q gives %q; %q gives %q", w, got, ways[0], want)
			}
		}
	}
}

// A frame is found by its name with a blank before the letters too.
func TestFramesWithABlank(t *testing.T) {
	for _, f := range [][2]string{{"132S", "132 S"}, {"160M", "160 M"}, {"160L", "160 L"}, {"213T", "213 T"}, {"284TS", "284 TS"}, {"132S", "132 s"}} {
		for _, q := range f {
			a := Search(q)
			if !slices.ContainsFunc(a.Hits, func(h Hit) bool { return h.Row != nil && h.Row.Name == f[0] && h.Why == "a motor frame" }) {
				t.Errorf("%q does not find the frame: %v", q, a.Said)
			}
		}
	}
}

// A class as people write it; what is not in the table keeps its text, and what is no class is none.
func TestReadClass(t *testing.T) {
	for text, want := range map[string]string{"8.8": "8.8", "8,8": "8.8", "Class 10.9": "10.9", "grade 5": "grade 5", "gr.5": "grade 5", "G5": "grade 5", "SAE 5": "grade 5", "A2-70": "A2-70", "a4 80": "A4-80",
		"A9-70": "A9-70", "c1-110": "C1-110", "F1-45": "F1-45", "a0-50": "A0-50"} {
		if got, like := readClass(text); got != want || !like {
			t.Errorf("%q: %q, %v", text, got, like)
		}
	}
	for _, text := range []string{"", "class", "grade", "graphite", "b2-70", "a2-7", "8.", ".8", "123.4", "8.88", "steel", "a2-70 steel", "ab-70", "a2-7x"} {
		if got, like := readClass(text); like {
			t.Errorf("%q is taken for a class: %q", text, got)
		}
	}
}

// A nut factor lies between 0.02 and 1; what is not is no nut factor, and is named.
func TestNutFactorBounds(t *testing.T) {
	for text, is := range map[string]bool{"k=0.021": true, "k=0.999": true, "k=1": false, "k=0.02": false, "k=0": false, "k=20": false} {
		a := Search("M16 8.8 " + text)
		if is == a.Has(Unread) {
			t.Errorf("%s: %v", text, a.Said)
		}
	}
}

// The whole of what a row is called finds the row, whatever else the words can mean. Left out are the rows whose names lead to a bolt as a whole, and units, which are signs.
func TestNamesFindTheirRows(t *testing.T) {
	asked := 0
	for _, table := range All() {
		if slices.Contains([]string{"bolt_strength", "wrench", "units"}, table.Key) {
			continue
		}
		for i := range table.Rows {
			r := &table.Rows[i]
			if len(r.Name) > maxQuery || len(strings.Fields(r.Name)) > maxFields {
				continue
			}
			asked++
			if a := Search(r.Name); !slices.ContainsFunc(a.Hits, func(h Hit) bool { return h.Row != nil && h.Row.Name == r.Name }) {
				t.Errorf("%s: %q is not found by its name: %v", table.Key, r.Name, a.Said)
			}
		}
	}
	if asked < 300 {
		t.Errorf("only %d rows", asked)
	}
}

// What is said of a bolt: the classes there are one by one, the coarse threads next to a size that is not there, that torque scatters, and a class that does not go with the thread in no title.
func TestSaidOfBolts(t *testing.T) {
	for _, metric := range []bool{true, false} {
		b, want := Bolt{}, []string{}
		for _, c := range Classes() {
			if inchClass(c) != metric {
				want = append(want, c)
			}
		}
		for _, x := range allBolts() {
			if x.Inch != metric {
				b = x
				break
			}
		}
		_, has, _ := strings.Cut(b.ClassProblem("7.7"), "it has ")
		if got := strings.Split(has, ", "); len(want) < 3 || !slices.Equal(got, want) {
			t.Errorf("metric %v: %q, want %q", metric, got, want)
		}
	}
	for q, near := range map[string]string{"M15": "M14 and M16", "M23": "M22 and M24"} {
		if a := Search(q); !a.Has(Refused) || !strings.HasSuffix(a.Said[0].Text, "nearest: "+near) {
			t.Errorf("%s: %v", q, a.Said)
		}
	}
	for _, q := range []string{"M16 8.8", "M16", "3/4-10 grade 8", "M16 8.8 k=0.15"} {
		if a := Search(q); len(a.Hits) == 0 || !strings.Contains(a.Hits[0].Note, ScatterWords) {
			t.Errorf("%s: nothing is said of how torque scatters", q)
		}
	}
	for _, q := range []string{"M16 grade 8", "3/4-10 8.8"} {
		if a := Search(q); !a.Has(Refused) || len(a.Hits) > 0 && strings.ContainsAny(a.Hits[0].Title, ",") {
			t.Errorf("%s: %v, %+v", q, a.Said, a.Hits)
		}
	}
	for _, c := range []string{"2", "5", "8"} {
		if a := Search("3/4-10 class " + c); len(a.Hits) == 0 || a.Hits[0].Title != "3/4-10, grade "+c && a.Hits[0].Title != "3/4-10 UNC, grade "+c {
			t.Errorf("class %s: %+v %v", c, a.Hits, a.Said)
		}
	}
}

// A question is cut behind 200 bytes, between letters; no rest of a stroke or of a letter is stumbled over.
func TestOddQuestions(t *testing.T) {
	if a := Search(strings.Repeat(" ", 199) + "  M16"); len(a.Hits)+len(a.Said) > 0 {
		t.Errorf("what stands behind 200 bytes is read: %+v", a)
	}
	if a := Search(strings.Repeat(" ", 197) + "M16"); len(a.Hits) == 0 {
		t.Error("what stands before is not")
	}
	Search(strings.Repeat("é", 150))
	for _, q := range []string{"5/", "5 /", "/", "5/x", "1 5/ in", "1½", "1½/", "5 ½", "1½ ¾"} {
		Search(q) // and it comes back
	}
	if got := fold("20°C, 5 °"); got != " 20°c 5 ° " {
		t.Errorf("%q", got)
	}
}

// Of two materials that answer alike the person's own comes first.
func TestOwnComesFirst(t *testing.T) {
	own := OwnMaterials([]Material{{Name: "stainless mine", Alpha: 16, T0: math.NaN(), RelU: 0.02}}, "your sheet Materials")
	if hits := Search("stainless", own).Hits; len(hits) < 2 || !hits[0].Own || hits[1].Own {
		t.Errorf("%+v", hits)
	}
}

// With a word that is not understood, which may be the class, no torque and no load is given; without a class the usual ones are.
func TestClassesShown(t *testing.T) {
	given := func(q string) (classes []string) {
		a := Search(q)
		if len(a.Hits) == 0 {
			return nil
		}
		for _, f := range a.Hits[0].Facts {
			if rest, ok := strings.CutPrefix(f.Label, "proof load, "); ok && !slices.Contains(classes, rest) {
				classes = append(classes, rest)
			} else if rest, ok := strings.CutPrefix(f.Label, "load at that stress, "); ok && !slices.Contains(classes, rest) {
				classes = append(classes, rest)
			}
			if strings.HasPrefix(f.Label, "torque") && len(classes) == 0 {
				classes = append(classes, f.Label)
			}
		}
		return classes
	}
	for q, want := range map[string][]string{"M16": {"8.8", "10.9"}, "3/4-10": {"grade 5", "grade 8"}, "M16 stainless": {"A2-70", "A4-80"}, "M16 8.8": {"8.8"}, "3/4-10 grade 8": {"grade 8"},
		"M16 qqxyz": nil, "M16 8.8 qqxyz": nil, "3/4-10 qqxyz bolt": nil} {
		if got := given(q); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", q, got, want)
		}
	}
}

// A quantity of several words is one, and its parts are none beside it.
func TestOneQuantity(t *testing.T) {
	for _, q := range []string{"5 ft 3 1/2 in", "3 1/2 in", "12.7 mm", "1 1/8 in"} {
		s := search{whole: q, fields: strings.Fields(q)}
		s.used = make([]bool, len(s.fields))
		s.read()
		for _, r := range s.readings {
			if r.text != q {
				t.Errorf("%q: %q is read beside it", q, r.text)
			}
		}
		if len(s.readings) == 0 || slices.Contains(s.used, false) {
			t.Errorf("%q: %+v, %v", q, s.readings, s.used)
		}
	}
}

// The limit of a spacer coupling is one of the angle at each flex plane, that of the others one of the slope.
func TestWhatLimitsAreOf(t *testing.T) {
	seen := map[bool]int{}
	for _, q := range []string{"1800 rpm spacer", "1800 rpm", "3600 rpm short", "1800 rpm gear"} {
		for _, h := range Search(q).Hits {
			if h.Table == nil || h.Table.Column("coupling") < 0 {
				continue
			}
			for _, f := range h.Facts {
				spacer := h.Table.text(h.Row, "coupling") == "spacer"
				switch f.Label {
				case "slope limit":
					if spacer {
						t.Errorf("%s: %s is said of a spacer coupling", q, f.Label)
					}
					seen[false]++
				case "limit of the angle at each flex plane":
					if !spacer {
						t.Errorf("%s: %s is said of %s", q, f.Label, h.Title)
					}
					seen[true]++
				}
			}
		}
	}
	if seen[true] == 0 || seen[false] == 0 {
		t.Error(seen)
	}
}
