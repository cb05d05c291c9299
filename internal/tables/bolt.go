package tables

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Bolt is one size of thread.
type Bolt struct {
	Name   string  // "M16", "M16x1.5", "3/4-10"
	Inch   bool    // unified, not metric
	D      float64 // nominal diameter, mm
	Pitch  float64 // mm
	Area   float64 // stress area, mm², as printed in the source
	Source Source

	table *Table
	row   *Row
}

// StressAreaISO is the stress area in mm² of a metric thread of diameter d and pitch p in mm.
//
//	As = π/4·(d − 0.938194·p)²
//
// Reference: ISO 898-1.
func StressAreaISO(d, p float64) float64 {
	x := d - 0.938194*p
	return math.Pi / 4 * x * x
}

// StressAreaUN is the stress area in in² of an inch thread of diameter d in inches with n threads an inch.
//
//	As = π/4·(d − 0.9743/n)²
//
// Reference: ASME B1.1.
func StressAreaUN(d, n float64) float64 {
	x := d - 0.9743/n
	return math.Pi / 4 * x * x
}

// Torque is the tightening torque in N·m for a preload f in N of a bolt of diameter d in mm with the nut factor k.
//
//	T = k·d·F
//
// The preload that a given torque makes scatters: see [ScatterWords].
func Torque(k, d, f float64) float64 { return k * d * f / 1000 }

// UsualScatter is how far K is taken to be off to either side where nothing is said, and ScatterWords what that makes of the preload:
// 1/1.30 and 1/0.70 of it. UsualShare is the share of the proof load a bolt is usually tightened to. Common practice, no source.
const (
	UsualScatter = 0.30
	UsualShare   = 0.75
	ScatterWords = "30 % either way on K is −23 to +43 % on the preload"
)

// boltTables are the tables of threads: coarse before fine.
var boltTables = [...]struct {
	key, series string
	inch        bool
}{{"bolts_metric", "coarse", false}, {"bolts_fine", "fine", false}, {"bolts_unc", "UNC", true}, {"bolts_unf", "UNF", true}}

func boltAt(t *Table, r *Row, inch bool) Bolt {
	b := Bolt{r.Name, inch, t.base(r, "d"), 0, t.base(r, "area"), r.Source, t, r}
	if inch {
		b.Pitch = 25.4 / t.base(r, "tpi")
		b.Area *= 25.4 * 25.4
	} else {
		b.Pitch = t.base(r, "pitch")
	}
	return b
}

var allBolts = sync.OnceValue(func() (list []Bolt) {
	for _, k := range boltTables {
		t := Find(k.key)
		for i := range t.Rows {
			list = append(list, boltAt(t, &t.Rows[i], k.inch))
		}
	}
	return list
})

// boltsOf are the threads of a system, coarse before fine.
func boltsOf(inch bool) (list []Bolt) {
	for _, b := range allBolts() {
		if b.Inch == inch {
			list = append(list, b)
		}
	}
	return list
}

// A thread is a size of thread as written, before it is looked for.
type thread struct {
	text   string
	inch   bool
	d      float64 // mm
	pitch  float64 // mm; 0: not written
	series string  // "coarse", "fine", "UNC", "UNF", "" not written
}

// readThread reads M16, m 16, M16x1.5, M16 fine, 3/4, 3/4-10, 1-8, 1 1/8 UNF, 1-1/4, 0.75 in, 3/4". ok is false for what is not written like
// the size of a thread. An inch size without a unit needs a fraction, the threads an inch or the series.
func readThread(text string) (th thread, ok bool) {
	s := strings.ToLower(strings.Join(strings.Fields(text), " "))
	th.text = strings.TrimSpace(text)
	if s == "" || len(s) > 30 {
		return th, false
	}
	for _, w := range [...]string{"coarse", "fine", "unc", "unf"} {
		if rest, cut := strings.CutSuffix(s, w); cut {
			s, th.series = strings.TrimSpace(rest), w
			if w[0] == 'u' {
				th.series = strings.ToUpper(w)
			}
			break
		}
	}
	length := func(s string, u units.Unit) float64 {
		if s == "" || !('0' <= s[0] && s[0] <= '9' || s[0] == '.') {
			return 0
		}
		v, err := units.Parse(s, units.Length, u, units.Either)
		if err != nil || v.Unit != u || !(v.Base > 0 && v.Base < 1000) {
			return 0
		}
		return v.Base
	}
	if rest, cut := strings.CutPrefix(s, "m"); cut {
		size, pitch, fine := strings.Cut(strings.ReplaceAll(rest, "×", "x"), "x")
		size, pitch = strings.TrimSpace(size), strings.TrimSpace(pitch)
		th.d = length(size, units.MM)
		if fine {
			th.pitch = length(pitch, units.MM)
		}
		return th, th.d > 0 && (!fine || th.pitch > 0) && strings.Trim(size+pitch, "0123456789.,") == "" && th.series != "UNC" && th.series != "UNF"
	}
	th.inch = true
	size := s
	if i := strings.LastIndexByte(s, '-'); i > 0 && !strings.Contains(s[i:], "/") {
		n, err := strconv.ParseFloat(strings.TrimSpace(s[i+1:]), 64)
		if err != nil || !(n >= 1 && n <= 100) || strings.TrimSpace(s[i+1:])[0] == '+' {
			return th, false
		}
		th.pitch, size = 25.4/n, strings.TrimSpace(s[:i])
	} else if !strings.ContainsAny(s, `/"`) && !strings.HasSuffix(s, "in") && th.series == "" {
		return th, false
	}
	th.d = length(size, units.Inch)
	if th.series == "coarse" {
		th.series = "UNC"
	} else if th.series == "fine" {
		th.series = "UNF"
	}
	return th, th.d > 0
}

// find looks the thread up. cause is "" if it is there, else the sentence that says what is not in the tables, and near are what comes nearest.
func (th *thread) find() (b Bolt, cause string, near []Bolt) {
	all := boltsOf(th.inch)
	var same []Bolt
	for _, b := range all {
		if math.Abs(b.D-th.d) < 1e-6 {
			same = append(same, b)
		}
	}
	if same == nil {
		var below, above *Bolt
		for i := range all {
			if b := &all[i]; b.D < th.d {
				if below == nil || b.D > below.D {
					below = b
				}
			} else if above == nil || b.D < above.D {
				above = b
			}
		}
		names := ""
		for _, b := range []*Bolt{below, above} {
			if b != nil {
				near = append(near, *b)
				names = joinAnd(names, b.Name)
			}
		}
		return b, words.LookNoThread.Say(th.text, names), near
	}
	has := ""
	for i, b := range same {
		if i > 0 {
			has += ", "
		}
		has += b.Name
		if (th.pitch == 0 || math.Abs(b.Pitch-th.pitch) < 1e-6) && (th.series == "" || th.series == b.series()) {
			return b, "", nil
		}
	}
	return b, words.LookNoPitch.Say(th.text, has), same
}

func (b *Bolt) series() string {
	for _, k := range boltTables {
		if k.key == b.table.Key {
			return k.series
		}
	}
	return ""
}

func joinAnd(a, b string) string {
	if a == "" {
		return b
	}
	return words.WordAnd.Say(a, b)
}

// ReadBolt reads the size of a thread and looks it up: M16, m 16, M16x1.5, 3/4, 3/4-10, 1 1/8 UNF, 0.75 in. Without a pitch, threads an inch or a
// series it is the coarse one. cause is "" or a sentence that says what is wrong and what is there. Nothing is taken for its neighbour.
func ReadBolt(text string) (b Bolt, cause string) {
	th, ok := readThread(text)
	if !ok {
		return b, words.LookThreadUnknown.Say(strings.TrimSpace(text))
	}
	b, cause, _ = th.find()
	return b, cause
}

// FindBolt finds a bolt as [ReadBolt] does.
func FindBolt(name string) (Bolt, bool) {
	b, cause := ReadBolt(name)
	return b, cause == ""
}

// Classes are the property classes and grades in the order of the table "bolt_strength": those of metric threads, then the SAE grades.
func Classes() (list []string) {
	t := Find("bolt_strength")
	for i := range t.Rows {
		if c := t.text(&t.Rows[i], "class"); !slices.Contains(list, c) {
			list = append(list, c)
		}
	}
	return list
}

// inchClass says whether a class is one of inch threads.
func inchClass(class string) bool { return strings.HasPrefix(class, "grade ") }

// Stainless says whether a class is one of stainless steel.
func Stainless(class string) bool { return class != "" && class[0] == 'A' }

// ProofStress is the proof stress in MPa of a bolt of diameter d in mm of one of [Classes]. ok is false for another class or a diameter the
// class does not cover. Of stainless classes it is the stress at 0.2 % permanent strain, for want of a proof stress.
func ProofStress(class string, d float64) (mpa float64, source Source, ok bool) {
	t := Find("bolt_strength")
	for i := range t.Rows {
		r := &t.Rows[i]
		if sameWords(t.text(r, "class"), class) && d > t.base(r, "over")*(1+1e-9) && d <= t.base(r, "to")*(1+1e-9) {
			return t.base(r, "proof"), r.Source, true
		}
	}
	return math.NaN(), Source{}, false
}

// ClassProblem is why a class has no proof stress for this bolt, as a sentence, or "".
func (b *Bolt) ClassProblem(class string) string {
	of := ""
	known := false
	for _, c := range Classes() {
		if inchClass(c) == b.Inch {
			if of != "" {
				of += ", "
			}
			of += c
		}
		known = known || c == class
	}
	switch _, _, ok := ProofStress(class, b.D); {
	case !known:
		return words.LookClassUnknown.Say(class, b.Name, of)
	case inchClass(class) != b.Inch:
		other := words.LookClassMetric
		if b.Inch {
			other = words.LookClassInch
		}
		return other.Say(class, b.Name, of)
	case ok:
		return ""
	}
	t := Find("bolt_strength")
	end, src, one := 0.0, "", ""
	for i := range t.Rows {
		if r := &t.Rows[i]; t.text(r, "class") == class && t.base(r, "to") > end {
			end, one, src = t.base(r, "to"), t.Columns[t.Column("to")].Show(t.text(r, "to")), r.Source.Text
		}
	}
	src, _, _ = strings.Cut(src, ",")
	ends := words.LookClassEnds
	if b.Inch {
		ends = words.LookClassEndsInch
	}
	return ends.Say(class, one, src, b.Name)
}

// ProofLoad is the proof load in N of the bolt in a class, as printed where the table has it, else proof stress times stress area.
func (b *Bolt) ProofLoad(class string) (n float64, source Source, ok bool) {
	s, src, ok := ProofStress(class, b.D)
	if !ok || inchClass(class) != b.Inch {
		return math.NaN(), Source{}, false
	}
	if col := b.table.Column("proof_" + strings.ReplaceAll(class, ".", "")); col >= 0 && b.row.Base[col] > 0 {
		return b.row.Base[col], b.row.Source, true
	}
	src.Text = words.LookTimesArea.Say(src.Text)
	src.Grade = max(src.Grade, b.Source.Grade) // the weaker of the two
	return s * b.Area, src, true
}

// readClass reads a class or grade in the ways they are written: 8.8, 8,8, class 10.9, grade 5, gr.5, G5, SAE 5, A2-70, a4 80. like is false for what
// is not written so; class is then "". A class that is in no table is returned as it stands.
func readClass(text string) (class string, like bool) {
	s := strings.ToLower(strings.Join(strings.Fields(text), " "))
	said := false
	for _, w := range [...]string{"property class", "class", "sae grade", "sae gr", "sae", "grade", "gr", "g"} {
		if rest, cut := strings.CutPrefix(s, w); cut {
			rest = strings.TrimLeft(rest, " .")
			if rest == "" || !('0' <= rest[0] && rest[0] <= '9') && !strings.HasSuffix(w, "class") {
				return "", false
			}
			if s, said = rest, true; strings.Contains(s, " ") {
				return "", false
			}
			if !strings.HasSuffix(w, "class") && strings.Trim(s, "0123456789") == "" {
				return "grade " + s, true
			}
			break
		}
	}
	d := strings.Replace(s, ",", ".", 1)
	if whole, part, point := strings.Cut(d, "."); point && len(whole) > 0 && len(whole) <= 2 && len(part) == 1 && strings.Trim(whole+part, "0123456789") == "" {
		return d, true
	}
	// A2-70: a letter, a digit, two or three digits more.
	if len(s) >= 4 && len(s) <= 6 && strings.IndexByte("acfd", s[0]) >= 0 && '0' <= s[1] && s[1] <= '9' {
		if t := strings.TrimLeft(s[2:], "- "); len(t) >= 2 && strings.Trim(t, "0123456789") == "" {
			return strings.ToUpper(s[:2]) + "-" + t, true
		}
	}
	return s, said
}

// A Friction is a row of the table "nut_factor": how a thread and its nut's face are, and what K books print for it.
type Friction struct {
	Name         string // "zinc plated, dry"
	K, Low, High float64
	Stainless    bool
	Note         string
	Source       Source
}

// Frictions are the rows of the table "nut_factor".
func Frictions() []Friction {
	t := Find("nut_factor")
	list := make([]Friction, len(t.Rows))
	for i := range t.Rows {
		r := &t.Rows[i]
		list[i] = Friction{r.Name, t.base(r, "k"), t.base(r, "low"), t.base(r, "high"), strings.HasPrefix(r.Name, "stainless"), t.text(r, "note"), r.Source}
	}
	return list
}

// wrench is the row of the table "wrench" for a thread's diameter, or nil: size across the flats of a plain hexagon head.
func (b *Bolt) wrench() (*Table, *Row) {
	t := Find("wrench")
	for i := range t.Rows {
		if r := &t.Rows[i]; strings.HasPrefix(r.Name, "wrench for M") != b.Inch && math.Abs(t.base(r, "d")-b.D) < 1e-6 {
			return t, r
		}
	}
	return t, nil
}
