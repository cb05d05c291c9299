package tables

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Fact is one computed or converted value of a [Hit].
type Fact struct {
	Label  string
	Value  string  // as shown, a point for decimal sign
	Unit   string  // "" for words
	Base   float64 // in the base unit, where package units knows the unit, else in Unit; NaN for words
	Source Source
}

// A Hit is one answer to a query.
type Hit struct {
	Table *Table // nil where the answer is no row, such as a conversion
	Row   *Row   // a row of Table, or nil
	Title string // what was found: the row's name, or the quantity read
	Why   string // why it matched, in words
	Facts []Fact
	Own   bool   // a row of the person's own tables
	Note  string // "" or what must be said beside it: that it takes the place of a built-in row, that torque scatters

	score int
}

// An Answer is what a query finds, and what must be said of it.
type Answer struct {
	Hits []Hit // best first
	Said []Saying
}

// A Saying is a sentence that stands above the hits.
type Saying struct {
	Kind SayingKind
	Text string
}

// A SayingKind says what a [Saying] is about.
type SayingKind uint8

// The kinds of sayings.
const (
	Refused SayingKind = iota // what was asked for is not in the tables, or cannot be: the hits are neighbours, shown as what they are
	Asked                     // it can be read two ways; the hits have both
	Unread                    // words that are not understood
)

// Has says whether something of that kind was said.
func (a *Answer) Has(k SayingKind) bool {
	return slices.ContainsFunc(a.Said, func(s Saying) bool { return s.Kind == k })
}

const (
	maxQuery  = 200 // bytes
	maxFields = 16
	maxHits   = 40
)

// Search looks a query up in every table, best first. It is meant to run at every key press.
//
// It understands bolts ("M16 8.8", "3/4-10 grade 8", with a nut factor and a share of the proof load: "M16 8.8 k=0.15 60%"), materials with a
// temperature ("steel 80C", "20 in steel 70F 200F"), speeds ("1780 rpm"), slopes ("0.0015 in/10in"), motor frames ("213T", "160M"), thicknesses ("0.1 mm shim")
// and every other quantity with its unit ("12.7 mm"), and takes all else as words, each the beginning of a word in a row's name, its cells, its source or what is said of the table;
// case and accents do not matter. A word ending in a digit matches whole numbers only.
//
// Every word is used, or [Answer.Said] names it as not understood. A size, class, thread, frame or material that is in no table is refused there, and its neighbours
// come as what they are, with nothing worked out for them. What a table has for a name and looks like a quantity too (447T) is asked about. own are the person's tables, made by [OwnLimits] and [OwnMaterials]; a row of theirs
// takes the place of a built-in one of the same name. A blank query finds nothing. No text makes it panic; one longer than 200
// bytes is cut. At most 40 hits come back.
func Search(query string, own ...*Table) Answer {
	query = query[:min(len(query), maxQuery)] // what is left of a letter becomes a blank
	s := search{own: own, whole: strings.ToValidUTF8(query, " ")}
	for _, f := range strings.Fields(s.whole) {
		if f = strings.TrimRight(f, ",;:?!"); f != "" && len(s.fields) < maxFields {
			s.fields = append(s.fields, f)
		}
	}
	s.used = make([]bool, len(s.fields))
	s.read()
	for i, f := range s.fields {
		if !s.used[i] {
			s.left = append(s.left, strings.Fields(fold(f))...)
		}
	}
	s.answer()
	// Sorted as plain numbers, the better and earlier first: a sort of hits would be the largest function here.
	order := make([]int, len(s.hits))
	for i := range s.hits {
		order[i] = -s.hits[i].score<<16 + i
	}
	slices.Sort(order)
	best := make([]Hit, min(len(order), maxHits))
	for i := range best {
		best[i] = s.hits[order[i]&0xffff]
	}
	return Answer{best, s.said}
}

// answer finds the hits and says what must be said.
func (s *search) answer() {
	if s.impossible() || s.bolts() {
		for _, r := range s.readings {
			s.reading(r)
		}
		return
	}
	s.frames()
	for _, r := range s.readings {
		s.reading(r)
	}
	s.materials()
	if s.refused() {
		return
	}
	var rest []string // the words that nothing has used
	for _, w := range s.left {
		if !slices.Contains(fillers, w) && !slices.Contains(s.consumed, w) {
			rest = append(rest, w)
		}
	}
	whole := strings.Fields(fold(s.whole))
	if len(s.readings) == 0 && len(s.consumed) == 0 {
		rest = whole
	} else {
		s.words(whole, 0)
	}
	less := 0
	if len(s.hits) > 0 {
		less = 200
	}
	if s.words(rest, less) || len(rest) == 0 {
		return
	}
	var known, unread []string
	for _, w := range rest {
		if slices.Contains(fillers, w) || s.anywhere(w) {
			known = append(known, w)
		} else {
			unread = append(unread, w)
		}
	}
	s.notUnderstood(unread)
	if len(unread) == 0 || !s.words(known, less) && len(known) > 0 {
		s.say(Unread, words.LookNoRow.Say(quotedWords(known)))
	}
}

// impossible refuses quantities that cannot be.
func (s *search) impossible() bool {
	for _, r := range s.readings {
		if math.Abs(r.value.Base) > 1e15 {
			s.refuse(words.LookTooLarge.Say(r.text))
		}
	}
	if s.refused() {
		s.readings = nil
	}
	return s.refused()
}

func (s *search) say(k SayingKind, text string) {
	for _, x := range s.said {
		if x.Text == text {
			return
		}
	}
	s.said = append(s.said, Saying{k, text})
}

func (s *search) refuse(text string) { s.say(Refused, text) }

func (s *search) refused() bool {
	return slices.ContainsFunc(s.said, func(x Saying) bool { return x.Kind == Refused })
}

// notUnderstood names words that were left out.
func (s *search) notUnderstood(left []string) {
	switch len(left) {
	case 0:
	case 1:
		s.say(Unread, words.LookNotUnderstood.Say(quotedWords(left)))
	default:
		s.say(Unread, words.LookNotUnderstoodMany.Say(quotedWords(left)))
	}
}

func quotedWords(words []string) string {
	out := ""
	for i, w := range words {
		if i > 0 {
			out += ", "
		}
		out += "“" + w + "”"
	}
	return out
}

// use marks words as used.
func (s *search) use(words ...string) { s.consumed = append(s.consumed, words...) }

// A search is one query on its way.
type search struct {
	own      []*Table
	whole    string
	fields   []string // between blanks
	used     []bool   // the fields that are part of a quantity
	left     []string // the folded words of the others
	consumed []string // those of them that have been used
	said     []Saying
	readings []reading
	hits     []Hit
	found    map[*Row]bool
}

// A reading is a quantity read in the query.
type reading struct {
	text  string
	kind  units.Kind
	value units.Value
	first bool // not a second meaning of the same text
}

// read finds the quantities: at each field that begins like a number, the longest run of fields that is one with its unit.
func (s *search) read() {
	for i := 0; i < len(s.fields); i++ {
		if c := s.fields[i][0]; !('0' <= c && c <= '9' || c == '.' || c == '-' || c == '+' || strings.HasPrefix(s.fields[i], "\u2212")) {
			continue
		}
		for n := min(5, len(s.fields)-i); n > 0; n-- { // 5 ft 3 1/2 in
			text := strings.Join(s.fields[i:i+n], " ")
			if end := i + n; strings.HasSuffix(text, " k") && end < len(s.fields) && strings.IndexByte("=0.,", s.fields[end][0]) >= 0 {
				continue // 8.8 k 0.15: a nut factor, no kelvin
			}
			first := true
			for _, k := range units.Kinds() {
				if k == units.Number || !mayBe(text, k) {
					continue
				}
				v, err := units.Parse(text, k, units.None, units.Either)
				if err != nil && k == units.Temperature && strings.Contains(err.Msg, words.CauseAbsoluteZero.String()) {
					s.refuse(words.LookAbsoluteZero.Say(text))
				}
				if err == nil && v.Own {
					s.readings = append(s.readings, reading{text, k, v, first})
					first = false
				}
			}
			if !first {
				for j := range n {
					s.used[i+j] = true
				}
				i += n - 1
				break
			}
		}
	}
}

// mayBe says whether what stands behind the number is a unit of the kind, or feet and inches, or an exponent. It spares Parse the making of
// messages that nobody reads.
func mayBe(text string, k units.Kind) bool {
	const digits = "0123456789.,+-\u2212 ¼½¾⅛⅜⅝⅞⅓⅔"
	unit := strings.TrimLeft(text, digits)
	if len(unit) > 1 && unit[0] == '/' && '0' <= unit[1] && unit[1] <= '9' {
		unit = strings.TrimLeft(unit[1:], digits)
	}
	if _, ok := units.ParseUnit(unit, k); ok {
		return true
	}
	if !strings.ContainsAny(unit, "0123456789") {
		return false
	}
	unit = strings.ToLower(unit)
	feet := strings.HasPrefix(unit, "f") || strings.IndexAny(unit, "'′’‘ʹ") == 0
	return k == units.Length && feet || strings.HasPrefix(unit, "e")
}

// has says whether one of the words not read as a quantity begins with w.
func (s *search) has(w string) bool {
	return slices.ContainsFunc(s.left, func(l string) bool { return strings.HasPrefix(l, w) })
}

func (s *search) add(h *Hit) {
	if len(s.hits) > 0xffff { // the sort counts so far
		return
	}
	if h.Row != nil {
		if s.found[h.Row] {
			return
		}
		if s.found == nil {
			s.found = map[*Row]bool{}
		}
		s.found[h.Row] = true
		if h.Title == "" {
			h.Title = h.Row.Name
		}
		if h.Own = h.Table.own; h.Own {
			h.score += 5
			h.Note = words.LookYours.String()
			for i := range h.Table.Rows {
				if &h.Table.Rows[i] == h.Row && h.Table.replaces[i] {
					h.Note = words.LookYoursInstead.String()
				}
			}
		}
	}
	s.hits = append(s.hits, *h)
}

// each calls f for the rows of the tables of a key, the person's own first, without the built-in rows that are replaced. "" is every table.
func (s *search) each(key string, f func(t *Table, i int)) {
	for _, t := range s.own {
		if t != nil && (key == "" || t.Key == key) {
			for i := range t.Rows {
				f(t, i)
			}
		}
	}
	for _, t := range All() {
		if key == "" || t.Key == key {
			for i := range t.Rows {
				if !s.replaced(t, &t.Rows[i]) {
					f(t, i)
				}
			}
		}
	}
}

// replaced says whether a built-in row gives way to one of the person's own. A limit set goes as a whole, a material with its means.
func (s *search) replaced(t *Table, r *Row) bool {
	for _, o := range s.own {
		if o != nil && (o.Key == t.Key || o.Key == "expansion" && t.Key == "expansion_mean") && slices.Contains(o.replaced, r.Cells[0]) {
			return true
		}
	}
	return false
}

// begins says whether the word stands in hay, or begins a word there; a number does not begin a longer one. whole: the whole word stands there. It returns
// where, −1 nowhere. w has a blank before it.
func begins(hay, w string) (at int, whole bool) {
	last := w[len(w)-1]
	digit := '0' <= last && last <= '9'
	first := -1
	for from := 0; ; {
		i := strings.Index(hay[from:], w)
		if i < 0 {
			return first, false
		}
		i += from
		c := hay[i+len(w)] // a blank is behind the last word
		if c == ' ' {
			return i, true
		}
		if first < 0 && !(digit && ('0' <= c && c <= '9' || c == '.' || c == ',' || c == '/' || c == '-')) {
			first = i
		}
		from = i + len(w)
	}
}

// anywhere says whether any row or table has the word.
func (s *search) anywhere(w string) bool {
	found := false
	last, index := (*Table)(nil), (*tableIndex)(nil)
	s.each("", func(t *Table, i int) {
		if found {
			return
		}
		if t != last {
			last, index = t, t.index
		}
		x := &index.rows[i]
		for _, hay := range [...]string{x.name, x.cells, index.title, x.source} {
			if at, _ := begins(hay, " "+w); at >= 0 {
				found = true
			}
		}
	})
	return found
}

// words finds the rows in which every word begins one, at most so many points; false if there is none.
func (s *search) words(query []string, less int) bool {
	asked := slices.DeleteFunc(slices.Clone(query), func(w string) bool { return slices.Contains(fillers, w) })
	if len(asked) == 0 {
		return false
	}
	spaced := make([]string, len(asked))
	for i, w := range asked {
		spaced[i] = " " + w
	}
	met := false
	phrase := " " + strings.Join(asked, " ") + " "
	var last *Table
	var index *tableIndex
	type candidate struct {
		table      *Table
		row, place int
		score      int
	}
	var list []candidate
	s.each("", func(t *Table, i int) {
		if len(list) > 0xffff {
			return
		}
		if t != last {
			last, index = t, t.index
		}
		x := &index.rows[i]
		points, worst := 0, 0
		for _, w := range spaced {
			best, place := 0, 0
			for p, hay := range [...]string{x.name, x.cells, index.title, x.source} {
				at, whole := begins(hay, w)
				if at < 0 {
					continue
				}
				best, place = [...]int{40, 20, 12, 8}[p], p
				if whole {
					best += best / 2
				}
				break
			}
			if best == 0 {
				return
			}
			points += best
			worst = max(worst, place)
		}
		score := 10 * points / len(asked)
		if x.name == phrase {
			score = 680
		}
		if met = true; !s.found[&t.Rows[i]] {
			list = append(list, candidate{t, i, worst, score - less})
		}
	})
	// One letter matches most rows: only the best are made hits.
	order := make([]int, len(list))
	for i, c := range list {
		order[i] = -c.score<<16 + i&0xffff
	}
	slices.Sort(order)
	quoted := strings.Join(asked, " ")
	for _, o := range order[:min(len(order), maxHits)] {
		c := &list[o&0xffff]
		where := [...]words.Key{words.LookWordsInName, words.LookWordsInRow, words.LookWordsInTable, words.LookWordsInSource}[c.place]
		s.add(&Hit{Table: c.table, Row: &c.table.Rows[c.row], Why: where.Say(quoted), score: c.score})
	}
	return met
}

// fillers are words that say nothing of what is wanted.
var fillers = []string{"a", "an", "and", "as", "at", "by", "for", "from", "in", "is", "of", "the", "to", "what"}

// A tableIndex is a table's words, folded.
type tableIndex struct {
	title string
	rows  []struct{ name, cells, source string }
}

func indexOf(t *Table) *tableIndex {
	x := &tableIndex{title: fold(t.Title + " " + t.About), rows: make([]struct{ name, cells, source string }, len(t.Rows))}
	for i := range t.Rows {
		r := &t.Rows[i]
		x.rows[i].name = fold(r.Name)
		x.rows[i].cells = fold(strings.Join(r.Cells, " "))
		x.rows[i].source = fold(r.Source.String())
	}
	return x
}

// fact adds a number in a unit of package units, given in its base.
//
//go:noinline
func (h *Hit) fact(label string, base float64, u units.Unit, digits int, src Source) {
	h.plain(label, number(u.FromBase(base), digits), u.String(), base, src)
}

// say adds words.
//
//go:noinline
func (h *Hit) say(label, words string, src Source) { h.plain(label, words, "", math.NaN(), src) }

//go:noinline
func (h *Hit) plain(label, value, unit string, base float64, src Source) {
	h.Facts = append(h.Facts, Fact{label, value, unit, base, src})
}

func percent(share float64) string { return number(100*share, 4) + " %" }

// ---- motor frames

// A frameName is a word of a query that may be the name of a motor frame.
type frameName struct {
	name     string // upper case, without blanks
	from, to int    // its fields
}

func (s *search) frames() {
	key, said := "", false // of the standard named
	for _, f := range s.left {
		switch f {
		case "frame", "frames":
			said = true
		case "iec", "nema":
			said, key = true, "frames_"+f
		default:
			continue
		}
		s.use(f)
	}
	for _, n := range s.frameNames() {
		bare := strings.Trim(n.name, "0123456789") == ""
		if bare && !said { // 80 alone may be anything
			continue
		}
		hits := 0
		for _, t := range frameTables {
			if key == "" || key == t.key {
				if f, table, r := findFrame(t.word + " " + n.name); r != nil {
					s.frame(&f, table, r)
					hits++
				}
			}
		}
		unit := s.unitOf(n)
		text := strings.Join(s.fields[n.from:n.to], " ")
		switch {
		case hits > 0:
			s.use(strings.Fields(fold(text))...)
			if unit != "" && !said {
				s.say(Asked, words.LookFrameOrUnit.Say(text, unit, n.name))
			}
		case unit != "" && !frameLike(n.name): // 150F beside a machine frame
		case said || frameLike(n.name):
			if unit != "" && !said {
				s.say(Asked, words.LookFrameUnit.Say(text, unit))
			} else {
				s.refuse(words.LookNoFrame.Say(text))
				s.use(strings.Fields(fold(text))...)
			}
			s.nearFrames(n.name, key)
		}
	}
}

// frameNames are the fields, or two of them, that begin with two or three digits and have letters behind.
func (s *search) frameNames() (list []frameName) {
	for i := 0; i < len(s.fields); i++ {
		f := strings.ToUpper(s.fields[i])
		digits := len(f) - len(strings.TrimLeft(f, "0123456789"))
		if digits < 2 || digits > 3 || len(f) > 6 || strings.Trim(f[digits:], "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "" {
			continue
		}
		if len(f) == digits && i+1 < len(s.fields) {
			if next := strings.ToUpper(s.fields[i+1]); next == "S" || next == "M" || next == "L" || next == "T" || next == "TS" {
				list = append(list, frameName{f + next, i, i + 2})
				i++
				continue
			}
		}
		list = append(list, frameName{f, i, i + 1})
	}
	return list
}

// frameLike says whether a name is written like that of a frame, though none is called so: T or TS behind three digits; S, M or L behind a
// shaft height of the table.
func frameLike(name string) bool {
	digits := strings.TrimRight(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	switch name[len(digits):] {
	case "T", "TS":
		return len(digits) == 3
	case "S", "M", "L":
		t := Find("frames_iec")
		return slices.ContainsFunc(t.Rows, func(r Row) bool { return strings.TrimRight(r.Name, "SML") == digits })
	}
	return false
}

// unitOf is the quantity that a frame's name can be read as, in words, or "".
func (s *search) unitOf(n frameName) string {
	text := strings.Join(s.fields[n.from:n.to], " ")
	for _, r := range s.readings {
		if r.text == text {
			return r.kind.String() + " (" + units.Format(r.value.Unit.FromBase(r.value.Base), units.None, -1, units.Point) + " " + r.value.Unit.String() + ")"
		}
	}
	return ""
}

// nearFrames adds the frames that come nearest to a name by its number.
func (s *search) nearFrames(name, key string) {
	digits := strings.TrimRight(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	want, err := strconv.Atoi(digits)
	if err != nil {
		return
	}
	if letters := name[len(digits):]; key == "" && letters != "" {
		key = "frames_iec"
		if letters[0] == 'T' {
			key = "frames_nema"
		}
	}
	for _, t := range frameTables {
		if key != "" && key != t.key {
			continue
		}
		table := Find(t.key)
		best := 1 << 30
		far := func(r *Row) int {
			n, _ := strconv.Atoi(strings.TrimRight(r.Name, "SMLT"))
			return max(n-want, want-n)
		}
		for i := range table.Rows {
			best = min(best, far(&table.Rows[i]))
		}
		for i := range table.Rows {
			if r := &table.Rows[i]; far(r) == best {
				s.add(&Hit{Table: table, Row: r, Why: words.LookNeighbour.String(), score: 880 - i})
			}
		}
	}
}

func (s *search) frame(f *Frame, t *Table, r *Row) {
	h := Hit{Table: t, Row: r, Title: f.Name + ", " + f.Standard, Why: words.LookFrame.String(), score: 990,
		Note: words.LookMeasure.String()}
	for i, label := range [...]words.Key{words.LookFrameH, words.LookFrameA, words.LookFrameB, words.LookFrameC, words.LookFrameE, words.LookFrameCE} {
		if v := [...]float64{f.H, f.A, f.B, f.C, f.E, f.ShaftEnd()}[i]; !math.IsNaN(v) {
			h.fact(label.String(), v, units.MM, 7, f.Source)
		}
	}
	s.add(&h)
}

// ---- quantities

// shown are the units a quantity is converted to.
var shown = [...][]units.Unit{
	units.Length:                {units.MM, units.Inch, units.Mil, units.Micron, units.M, units.Foot},
	units.Slope:                 {units.MMPerM, units.MilPerInch, units.DegreeSlope, units.InchPer10Inch, units.MMPer100MM, units.MilPerFoot, units.ArcMinuteSlope},
	units.Angle:                 {units.Degree, units.ClockHour},
	units.Temperature:           {units.Celsius, units.Fahrenheit, units.Kelvin},
	units.TemperatureDifference: {units.KelvinDiff, units.FahrenheitDiff},
	units.Speed:                 {units.RPM, units.Hertz},
	units.Force:                 {units.Newton, units.KiloNewton, units.PoundForce},
	units.Torque:                {units.NewtonMetre, units.PoundFoot, units.PoundInch},
	units.Pressure:              {units.MegaPascal, units.Bar, units.PSI, units.KiloPascal},
	units.Mass:                  {units.Kilogram, units.Pound, units.Tonne},
	units.Expansion:             {units.PerKelvin, units.PerFahrenheit},
}

// unitSource says where the factor of a unit is laid down.
func unitSource(u units.Unit) Source {
	switch u {
	case units.Inch, units.Foot, units.Mil, units.Pound, units.PoundForce, units.PoundFoot, units.PoundInch, units.PSI, units.KSI:
		return Source{Exact, "NIST SP 811 (2008), app. B.8"}
	}
	return Source{Exact, "by definition"}
}

func (s *search) reading(r reading) {
	_, kind, _ := strings.Cut(r.kind.String(), " ")
	h := Hit{Title: r.text, Why: words.LookReadAs.Say(r.kind), score: 900}
	if !r.first { // 30° may be a slope or a place on the clock
		h.Title += " (" + kind + ")"
		h.score = 640
	}
	if len(s.left) > 0 {
		h.score -= 100
	}
	for _, u := range shown[r.kind] {
		if u == r.value.Unit {
			continue
		}
		src := unitSource(u)
		if src.Text == "by definition" {
			src = unitSource(r.value.Unit)
		}
		h.fact(kind, r.value.Base, u, 7, src)
	}
	switch r.kind {
	case units.Length:
		if in := r.value.Base / 25.4; in >= 1./64 && in < 100 {
			n := int(math.Round(in * 64))
			src := Source{Exact, words.LookNearestExact.String()}
			if off := r.value.Base - float64(n)*25.4/64; math.Abs(off) > 1e-9 {
				src.Text = words.LookNearestOff.Say(number(off, 2))
			}
			h.say(words.LookNearestFraction.String(), fraction(n, 64), src)
		}
		s.add(&h)
		s.thickness(r.value.Base)
	case units.Speed:
		h.score -= 150
		s.add(&h)
		if r.first {
			s.speed(r.value.Base)
		}
	case units.Slope:
		s.add(&h)
		if r.first {
			s.slope(math.Abs(r.value.Base))
		}
	default:
		s.add(&h)
	}
}

// fraction words n/d inches in its lowest terms.
func fraction(n, d int) string {
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	w := strconv.Itoa(n / d)
	if n%d == 0 {
		return w + " in"
	}
	f := strconv.Itoa(n%d) + "/" + strconv.Itoa(d) + " in"
	if n < d {
		return f
	}
	return w + " " + f
}

// thickness finds the shims of a thickness in mm, and the tolerance of strip that thick.
func (s *search) thickness(mm float64) {
	if !(mm > 0) {
		return
	}
	score := 850
	if s.has("shim") || s.has("strip") {
		score = 950
	}
	for _, key := range [...]string{"shim_stock", "shims"} {
		s.each(key, func(t *Table, i int) {
			r := &t.Rows[i]
			if d := t.base(r, "thickness"); math.Abs(d-mm) <= 0.02*mm {
				why, less := words.LookOfThickness.String(), 0
				if math.Abs(d-mm) > 1e-9*mm {
					why, less = words.LookNearThickness.String(), 2
				}
				h := Hit{Table: t, Row: r, Why: why, score: score - less}
				h.fact(words.LookThickness.String(), d, units.MM, 6, r.Source)
				h.fact(words.LookThickness.String(), d, units.Mil, 6, r.Source)
				s.add(&h)
			}
		})
	}
	s.each("strip", func(t *Table, i int) {
		r := &t.Rows[i]
		if from, under := t.base(r, "from"), t.base(r, "under"); mm >= from*(1-1e-9) && mm < under*(1-1e-9) {
			h := Hit{Table: t, Row: r, Why: words.LookStrip.String(), score: score - 10}
			for c := StripNormal; c <= StripPrecision; c++ {
				h.fact(words.LookStripTolerance.Say(c), StripTolerance(mm, c), units.MM, 4, r.Source)
			}
			s.add(&h)
		}
	})
}

// limitWords may stand beside a speed or a slope and say nothing more.
var limitWords = []string{"limit", "limits", "coupling", "couplings", "alignment", "motor", "pump", "speed", "tolerance"}

// groups calls f for each run of rows of a limit set for one coupling: rows i to j−1.
func (s *search) groups(f func(t *Table, i, j int)) {
	means := func(w, name string) bool {
		return strings.HasPrefix(name, w) || name == Flexible.String() && (w == "short" || w == "disc") || name == Flange.String() && w == "flange"
	}
	coupling := func(name string) bool {
		return slices.ContainsFunc(s.left, func(w string) bool { return means(w, name) })
	}
	var kinds []string
	for c := range numCouplings {
		kinds = append(kinds, c.String())
	}
	any := slices.ContainsFunc(kinds, coupling)
	for _, w := range s.left {
		if slices.ContainsFunc(kinds, func(k string) bool { return means(w, k) }) || slices.Contains(limitWords, w) {
			s.use(w)
		}
	}
	seen, from := -1, (*Table)(nil)
	s.each("limits", func(t *Table, i int) {
		if t == from && i < seen {
			return
		}
		j := i + 1
		for j < len(t.Rows) && t.Rows[j].Cells[0] == t.Rows[i].Cells[0] && t.Rows[j].Cells[1] == t.Rows[i].Cells[1] {
			j++
		}
		from, seen = t, j
		if !any || coupling(t.Rows[i].Cells[1]) {
			f(t, i, j)
		}
	})
}

func (h *Hit) limits() {
	t, r := h.Table, h.Row
	if v := t.base(r, "offset"); !math.IsNaN(v) {
		h.fact(words.LookOffsetLimit.String(), v, units.MM, 5, r.Source)
		h.fact(words.LookOffsetLimit.String(), v, units.Mil, 5, r.Source)
	}
	if v := t.base(r, "slope"); !math.IsNaN(v) {
		label := words.LookSlopeLimit
		if t.text(r, "coupling") == "spacer" {
			label = words.LookFlexLimit
		}
		h.fact(label.String(), v, units.MMPerM, 5, r.Source)
		h.fact(label.String(), v, units.InchPer10Inch, 5, r.Source)
	}
}

// speed finds the limits that hold at n r/min, and the motors that turn at it.
func (s *search) speed(n float64) {
	if !(n > 0) {
		return
	}
	score := 960
	limited, ended := false, false
	s.groups(func(t *Table, i, j int) {
		for ; i < j; i++ {
			if r := &t.Rows[i]; n <= t.base(r, "up_to")*(1+1e-9) {
				h := Hit{Table: t, Row: r, Why: words.LookLimitsAt.Say(number(n, 6)), score: score}
				h.limits()
				s.add(&h)
				score--
				limited = true
				return
			}
		}
		ended = true
		r := &t.Rows[j-1]
		s.add(&Hit{Table: t, Row: r, Why: words.LookTableEnds.Say(number(n, 6)), score: 600})
	})
	if ended && !limited {
		s.refuse(words.LookNoLimitReaches.Say(number(n, 6)))
	}
	for _, f := range [...]string{"50", "60"} {
		r, fast, ok := synchronous(n, f)
		if !ok {
			continue
		}
		slip := 1 - n/fast
		if slip > 0.1 {
			continue
		}
		t := Find("synchronous")
		src := r.Source
		h := Hit{Table: t, Row: r, Title: words.LookAtHertz.Say(r.Name, f), Why: words.LookSynchronousAbove.Say(number(n, 6)), score: 930 - int(math.Ceil(300*max(slip, 0)))}
		h.fact(words.LookSynchronousAt.Say(f), fast, units.RPM, 6, src)
		h.fact(words.LookSlip.String(), max(slip, 0), units.Percent, 3, src)
		s.add(&h)
	}
}

// slope finds, of each set and coupling, the fastest row whose limit a slope in mm/m meets.
func (s *search) slope(v float64) {
	score := 880
	s.groups(func(t *Table, i, j int) {
		col := t.Column("slope")
		best := -1
		for k := i; k < j; k++ {
			if v <= t.Rows[k].Base[col]*(1+1e-9) {
				best = k
			}
		}
		h := Hit{Table: t, score: score}
		if best >= 0 {
			h.Row, h.Why = &t.Rows[best], words.LookFastestRow.String()
		} else {
			h.Row, h.Why, h.score = &t.Rows[i], words.LookSteeper.String(), 600
		}
		if limit := h.Row.Base[col]; limit > 0 {
			h.limits()
			h.fact(words.LookSlopeShare.String(), v/limit, units.Percent, 4, h.Row.Source)
			s.add(&h)
		}
		score--
	})
}

// materials finds the coefficients at a temperature read in the query.
func (s *search) materials() {
	var temps []float64
	length := math.NaN()
	lengthUnit := units.MM
	for _, r := range s.readings {
		switch r.kind {
		case units.Temperature:
			temps = append(temps, r.value.Base)
		case units.Length:
			length, lengthUnit = r.value.Base, r.value.Unit
		}
	}
	asked := slices.DeleteFunc(slices.Clone(s.left), func(w string) bool {
		return slices.Contains(fillers, w) || slices.Contains(s.consumed, w) || slices.Contains(growthWords, w)
	})
	if len(temps) == 0 || len(asked) == 0 {
		return
	}
	to := temps[len(temps)-1]
	found, exact := false, false
	wanted := strings.Join(asked, " ")
	called := func(m *Material) bool {
		return sameWords(m.Name, wanted) || slices.ContainsFunc(m.Aliases, func(a string) bool { return sameWords(a, wanted) })
	}
	s.each("expansion", func(t *Table, i int) { exact = exact || called(&t.materials[i]) })
	s.each("expansion", func(t *Table, i int) {
		m, r := &t.materials[i], &t.Rows[i]
		names := fold(m.Name + " " + strings.Join(m.Aliases, " "))
		for _, w := range asked {
			if at, _ := begins(names, " "+w); at < 0 {
				return
			}
		}
		found = true
		score := 910
		if called(m) {
			score = 940
		} else if exact { // another material with this word is shown as what it is
			s.add(&Hit{Table: t, Row: r, Why: words.LookInName.Say(wanted), score: score})
			return
		}
		h := Hit{Table: t, Row: r, Why: words.LookMaterialAt.Say(number(to, 5)), score: score}
		if t.text(r, "range") == "room temperature" && (to < -50 || to > 150) {
			h.Note = words.LookRoomValue.String()
		}
		from := 20.0
		if m.Temps != nil {
			from = m.T0
		}
		mean := m.mean(to)
		span := words.LookSpan.Say(number(from, 4), number(to, 4))
		if math.IsNaN(mean) {
			ends := words.LookTableRuns.Say(number(m.Temps[0], 4), number(m.Temps[len(m.Temps)-1], 4))
			h.say(words.LookMeanCoefficient.String(), words.LookNone.Say(ends), r.Source)
			s.refuse(words.LookNoCoefficient.Say(m.Name, number(to, 5), ends))
		} else {
			h.fact(words.LookMeanCoefficientSpan.Say(span), mean, units.PerKelvin, 4, r.Source)
			h.fact(words.LookMeanCoefficientSpan.Say(span), mean, units.PerFahrenheit, 4, r.Source)
		}
		l, label, u := length, words.LookGrowthOf.Say(number(lengthUnit.FromBase(length), 6)+" "+lengthUnit.String()), lengthUnit
		if math.IsNaN(l) {
			l, label, u = 1000, words.LookGrowthOf.Say("1 m"), units.MM
		}
		if u == units.M || u == units.CM {
			u = units.MM
		}
		per := mean * (to - from)
		if len(temps) > 1 {
			from = temps[0]
			span = words.LookSpan.Say(number(from, 4), number(to, 4))
			per = mean * (to - from)
			if m.Temps != nil {
				per = mean*(to-m.T0) - m.mean(from)*(from-m.T0)
			}
		}
		if growth := l * 1e-6 * per; !math.IsNaN(growth) {
			h.fact(label+span, growth, u, 4, r.Source)
		}
		if m.RelU > 0 {
			h.fact(words.LookCoefficientU.String(), m.RelU, units.Percent, 3, m.USource)
		}
		s.add(&h)
	})
	if found {
		s.use(s.left...)
		return
	}
	s.nearMaterials(asked)
}

// growthWords may stand beside a material and say nothing more.
var growthWords = []string{"growth", "grows", "expansion", "coefficient", "mean", "material", "thermal", "long", "high", "tall", "cold", "hot", "running"}

// nearMaterials refuses a material that is in no table, if one of the words is of a material, and adds those that share a word with it.
func (s *search) nearMaterials(asked []string) {
	shared := map[string]bool{}
	s.each("expansion", func(t *Table, i int) {
		m := &t.materials[i]
		names := fold(m.Name + " " + strings.Join(m.Aliases, " "))
		for _, w := range asked {
			if at, whole := begins(names, " "+w); at >= 0 && whole {
				shared[w] = true
				s.add(&Hit{Table: t, Row: &t.Rows[i], Why: words.LookNeighbourHas.Say(w), score: 890 - i})
			}
		}
	})
	if len(shared) > 0 {
		s.refuse(words.LookNoMaterial.Say(strings.Join(asked, " ")))
	}
}
