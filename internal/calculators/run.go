package calculators

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// An extraUnit is a unit of a quantity that occurs in calculators only. base = num·v/den, both exact as a float64.
type extraUnit struct {
	measures []Measure
	name     string
	num, den int64
	also     string // normalised as [normalUnit] does, blanks between
}

var (
	stiffness = []Measure{MStiffness, MStress}
	density   = []Measure{MDensity}
	area      = []Measure{MArea}
)

var extraUnits = [...]extraUnit{
	{density, "kg/m³", 1, 1, "kg/m3 kg/m^3 kg/cum"},
	{density, "lb/in³", 45359237e4, 16387064, "lb/in3 lb/in^3 lbs/in3 lb/cuin"}, // 0.45359237 kg over (0.0254 m)³
	{density, "g/cm³", 1000, 1, "g/cm3 g/cm^3 g/cc kg/dm3"},
	{density, "lb/ft³", 45359237e4, 16387064 * 1728, "lb/ft3 lb/ft^3 lbs/ft3 lb/cuft"},
	{area, "mm²", 1, 1, "mm2 mm^2 sqmm"},
	{area, "in²", 64516, 100, "in2 in^2 sqin"},
	{area, "cm²", 100, 1, "cm2 cm^2 sqcm"},
	{stiffness, "GPa", 1000, 1, "gpa kn/mm2"},
	{stiffness, "Mpsi", 45359237 * 980665 / 5, 254 * 254 * 1e5 / 5, "mpsi msi"}, // a million psi in MPa
}

// A measureUnit is a unit of a measure, from the table of package units or from extraUnits.
type measureUnit struct {
	u    units.Unit
	x    *extraUnit
	none bool // no unit for bare numbers: each must bear its own
}

func (m measureUnit) String() string {
	if m.x != nil {
		return m.x.name
	}
	return m.u.String()
}

func (m measureUnit) fromBase(b float64) float64 {
	if m.x != nil {
		return float64(b*float64(m.x.den)) / float64(m.x.num)
	}
	return m.u.FromBase(b)
}

// measureInfo is the kind of unit, and the units of a bare number metric and inch. x: places in extraUnits.
var measureInfo = [numMeasures]struct {
	kind         units.Kind
	metric, inch units.Unit
	xm, xi       int // index in extraUnits, −1 none
}{
	MText:        {xm: -1, xi: -1},
	MChoice:      {xm: -1, xi: -1},
	MNumber:      {xm: -1, xi: -1},
	MCount:       {xm: -1, xi: -1},
	MShare:       {units.Number, units.Percent, units.Percent, -1, -1},
	MDistance:    {units.Length, units.MM, units.Inch, -1, -1},
	MThickness:   {units.Length, units.MM, units.Mil, -1, -1},
	MSlope:       {units.Slope, units.MMPerM, units.MilPerInch, -1, -1},
	MAngle:       {units.Angle, units.Degree, units.Degree, -1, -1},
	MTemperature: {units.Temperature, units.Celsius, units.Fahrenheit, -1, -1},
	MRise:        {units.TemperatureDifference, units.CelsiusDiff, units.FahrenheitDiff, -1, -1},
	MSpeed:       {units.Speed, units.RPM, units.RPM, -1, -1},
	MFrequency:   {units.Speed, units.Hertz, units.Hertz, -1, -1},
	MForce:       {units.Force, units.KiloNewton, units.PoundForce, -1, -1},
	MTorque:      {units.Torque, units.NewtonMetre, units.PoundFoot, -1, -1},
	MStress:      {units.Pressure, units.MegaPascal, units.PSI, -1, -1},
	MStiffness:   {units.Pressure, units.MegaPascal, units.PSI, 7, -1},
	MMass:        {units.Mass, units.Kilogram, units.Pound, -1, -1},
	MExpansion:   {units.Expansion, units.PerKelvin, units.PerFahrenheit, -1, -1},
	MDensity:     {units.Number, units.None, units.None, 0, 1},
	MArea:        {units.Number, units.None, units.None, 4, 5},
	MValue:       {xm: -1, xi: -1},
}

var measureWords = [numMeasures]words.Key{words.MeasureText, words.MeasureChoice, words.MeasureNumber, words.MeasureCount, words.MeasureShare, words.MeasureLength, words.MeasureLength, words.MeasureSlope, words.MeasureAngle,
	words.MeasureTemperature, words.MeasureTemperatureDifference, words.MeasureSpeed, words.MeasureFrequency, words.MeasureForce, words.MeasureTorque, words.MeasureStress, words.MeasureStiffness, words.MeasureMass, words.MeasureExpansion,
	words.MeasureDensity, words.MeasureArea, words.MeasureValue}

// String names the measure with its article: "a length".
func (m Measure) String() string { return measureWords[m].String() }

func (m Measure) unit(inch bool) measureUnit {
	i := &measureInfo[m]
	u, x := i.metric, i.xm
	if inch {
		u, x = i.inch, i.xi
	}
	if x >= 0 {
		return measureUnit{x: &extraUnits[x]}
	}
	return measureUnit{u: u}
}

// texts says whether the cells are words and not numbers.
func (m Measure) texts() bool { return m == MText || m == MChoice || m == MValue }

// parseUnit reads the unit in brackets of a header.
func (m Measure) parseUnit(s string) (measureUnit, bool) {
	if u, ok := units.ParseUnit(s, measureInfo[m].kind); ok && (u != units.Percent || m == MShare) {
		return measureUnit{u: u}, true
	}
	if m == MNumber || m == MCount || m.texts() {
		return measureUnit{}, job.Blank(s) || strings.TrimSpace(s) == "1"
	}
	if x := m.extra(s); x != nil {
		return measureUnit{x: x}, true
	}
	return measureUnit{}, false
}

// extra finds a word among the extra units of the measure.
func (m Measure) extra(s string) *extraUnit {
	if len(s) > 40 {
		return nil
	}
	w := normalUnit(s)
	for i := range extraUnits {
		x := &extraUnits[i]
		if !slices.Contains(x.measures, m) {
			continue
		}
		for a := range strings.FieldsSeq(x.also) {
			if a == w && (w != "mpsi" || strings.HasPrefix(strings.TrimSpace(s), "M")) {
				return x
			}
		}
	}
	return nil
}

func normalUnit(s string) string {
	b := make([]byte, 0, len(s))
	for _, r := range s {
		switch {
		case r == ' ' || r == '.' || r == '\u00a0' || r == '[' || r == ']':
		case r == '²':
			b = append(b, '2')
		case r == '³':
			b = append(b, '3')
		case r >= 'A' && r <= 'Z':
			b = append(b, byte(r)+'a'-'A')
		default:
			b = append(b, string(r)...)
		}
	}
	return string(b)
}

// hasExtra says whether the measure takes units that package units does not know.
func (m Measure) hasExtra() bool {
	for i := range extraUnits {
		if slices.Contains(extraUnits[i].measures, m) {
			return true
		}
	}
	return false
}

// Hint lists the units a value of the measure can have.
func (m Measure) Hint() string {
	if !m.hasExtra() {
		return job.HintUnits(measureInfo[m].kind)
	}
	s, n := "", 0
	put := func(name string) {
		if n > 0 {
			s += ", "
		}
		s += name
		n++
	}
	if k := measureInfo[m].kind; k != units.Number {
		for _, e := range units.Table(k) {
			put(e.Unit.String())
		}
	}
	for i := range extraUnits {
		if slices.Contains(extraUnits[i].measures, m) {
			put(extraUnits[i].name)
		}
	}
	return words.HintWrite.Say(s)
}

// parse reads a text that is not blank in the base unit of the measure. cause is "" if it could be read.
func (m Measure) parse(s string, unit measureUnit, mark units.Decimal) (x float64, cause, hint string) {
	switch m {
	case MNumber:
		return job.ParseQuantity(s, job.QNumber, units.None, mark)
	case MCount:
		return job.ParseQuantity(s, job.QCount, units.None, mark)
	case MShare:
		return job.ParseQuantity(s, job.QShare, units.Percent, mark)
	case MAngle:
		u := unit.u
		if unit.none {
			u = units.None
		}
		deg, _, text, hint := job.ParseAngle(s, u, mark)
		return deg, text, hint
	}
	kind := measureInfo[m].kind
	if m.hasExtra() && len(s) <= 200 {
		number, x := s, unit.x
		for i, r := range s {
			if r >= '0' && r <= '9' || r == ' ' || r == '.' || r == ',' {
				continue
			}
			if own := m.extra(s[i:]); own != nil {
				number, x = s[:i], own
				break
			}
		}
		if x != nil || kind == units.Number {
			v, err := units.Parse(number, units.Number, units.None, mark)
			if err == nil && v.Unit == units.None {
				if x == nil {
					return math.NaN(), words.CalcProblemNoUnit.Say(job.Quote(s), measureWords[m]), m.Hint()
				}
				return float64(v.Base*float64(x.num)) / float64(x.den), "", ""
			}
			if number != s || kind == units.Number {
				return math.NaN(), words.CalcProblemNotThis.Say(job.Quote(s), measureWords[m]), m.Hint()
			}
		}
	}
	v, err := units.Parse(s, kind, unit.u, mark)
	if err != nil {
		hint := err.Hint
		if m.hasExtra() {
			hint = m.Hint()
		}
		return math.NaN(), err.Msg, hint
	}
	return v.Base, "", ""
}

// How an input stands.
const (
	stateBlank uint8 = iota // not given
	stateRead
	stateBad // it could not be read, or cannot be
)

// A run works rows of one calculator out.
type run struct {
	c     *Calculator
	set   Settings
	units []measureUnit // of a bare number, by input
	res   *Result
	cols  []int // by input: column of the cell for messages
	x     []float64
	state []uint8
	lists [][]float64
	where string
}

func newRun(c *Calculator, set Settings) *run {
	n := len(c.Inputs)
	r := &run{c: c, set: set, units: make([]measureUnit, n), cols: make([]int, n), x: make([]float64, n), state: make([]uint8, n), lists: make([][]float64, n), where: c.Title.String()}
	for i := range c.Inputs {
		r.units[i], r.cols[i] = c.Inputs[i].Measure.unit(set.Inch), i
	}
	return r
}

// noResult is a row without any number.
func (c *Calculator) noResult() Result {
	res := Result{Texts: make([]string, len(c.Outputs)), Numbers: make([]float64, len(c.Outputs)), Used: make([]string, len(c.Inputs))}
	for i := range res.Numbers {
		res.Numbers[i] = math.NaN()
	}
	return res
}

// row works one row out. more are problems found before.
func (r *run) row(cells []string, more []job.Problem) Result {
	c := r.c
	res := c.noResult()
	res.Problems = more
	r.res = &res
	given := false
	for i := range c.Inputs {
		given = given || i < len(cells) && !job.Blank(cells[i])
	}
	if !given && len(more) == 0 {
		res.Blank = true
		if r.set.Common == nil && !slices.ContainsFunc(c.Inputs, func(i Column) bool { return i.Required }) {
			res.Blank = false // everything has a default
		}
		if res.Blank {
			return res
		}
	}
	for i := range c.Inputs {
		in := &c.Inputs[i]
		s := ""
		unit := r.units[i]
		if i < len(cells) {
			s = cells[i]
		}
		if job.Blank(s) {
			if unit = in.Measure.unit(r.set.Inch); i < len(r.set.Common) && !job.Blank(r.set.Common[i]) {
				s = r.set.Common[i]
			} else {
				s = in.Default
			}
			// The program's own defaults stand with a point.
			if s == in.Default {
				r.read(i, s, unit, units.Point)
				continue
			}
		}
		r.read(i, s, unit, r.set.Decimal)
	}
	c.eval(r)
	return res
}

// read reads the text of an input.
func (r *run) read(i int, s string, unit measureUnit, mark units.Decimal) {
	in := &r.c.Inputs[i]
	r.x[i], r.state[i], r.lists[i] = math.NaN(), stateBlank, nil
	if job.Blank(s) {
		if in.Required {
			r.problem(job.Error, i, words.ProblemMissing.Say(in.Title), r.hintFor(i))
		}
		return
	}
	s = strings.TrimSpace(s)
	r.res.Used[i], r.state[i] = s, stateRead
	switch {
	case in.Measure == MChoice:
		for k, w := range in.Choices {
			if word, also, _ := strings.Cut(w, "|"); sameChoice(s, word) || slices.ContainsFunc(job.SplitWords(also), func(a string) bool { return sameChoice(s, a) }) {
				r.x[i] = float64(k)
				return
			}
		}
		r.state[i] = stateBad
		r.problem(job.Error, i, words.ProblemNotAWord.Say(job.Quote(s)), words.HintWrite.Say(strings.Join(in.ChoiceWords(), ", ")))
	case in.Measure.texts():
	case in.List:
		n := 0
		for w := range strings.SplitSeq(s, ";") {
			if n++; n > maxParts {
				r.state[i] = stateBad
				r.problem(job.Error, i, words.CalcProblemTooMany.Say(maxParts), "")
				return
			}
			if job.Blank(w) {
				r.state[i] = stateBad
				r.problem(job.Error, i, words.CalcProblemEmptyPart.Say(n), words.CalcHintList.String())
				continue
			}
			x, cause, hint := in.Measure.parse(strings.TrimSpace(w), unit, mark)
			if cause != "" {
				r.state[i] = stateBad
				r.problem(job.Error, i, words.CalcProblemPart.Say(n, cause), hint)
			}
			if cause, hint := in.odd(strings.TrimSpace(w), x, r.set); cause != "" {
				r.state[i] = stateBad
				r.problem(job.Error, i, words.CalcProblemPart.Say(n, cause), hint)
			}
			r.lists[i] = append(r.lists[i], x)
		}
		if r.state[i] == stateBad {
			r.lists[i] = nil
		}
	default:
		x, cause, hint := in.Measure.parse(s, unit, mark)
		if cause != "" {
			r.state[i] = stateBad
			r.problem(job.Error, i, cause, hint)
			return
		}
		if cause, hint := in.odd(s, x, r.set); cause != "" {
			r.state[i] = stateBad
			r.problem(job.Error, i, cause, hint)
			return
		}
		r.x[i] = x
	}
}

// sameChoice compares a word typed with one of a list, without regard to case, blanks, a decimal comma, and hyphens within a word; nothing else is
// passed over: --5 is no 5, and 88 no 8.8.
func sameChoice(typed, word string) bool { return choiceKey(typed) == choiceKey(word) }

func choiceKey(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	if len(s) > job.MaxHeader {
		return s
	}
	var b []byte
	part := func(i int) bool {
		return i >= 0 && i < len(s) && (s[i] >= 'a' && s[i] <= 'z' || s[i] >= '0' && s[i] <= '9' || s[i] >= 0x80)
	}
	for i := range len(s) {
		switch c := s[i]; {
		case c == ' ' || (c == '-' || c == '_') && part(i-1) && part(i+1):
		case c == ',' && i > 0 && i+1 < len(s) && s[i-1] >= '0' && s[i-1] <= '9' && s[i+1] >= '0' && s[i+1] <= '9':
			b = append(b, '.')
		default:
			b = append(b, c)
		}
	}
	return string(b)
}

// measureRange is what a cell of a measure can hold, in its base unit: what is outside cannot be meant, whichever calculator asks. Common practice,
// no source: a hundred kilometres, a thousand tonnes, the modulus of diamond and the like; nothing is colder than −273.15 °C, a distance is not negative.
var measureRange = [numMeasures][2]float64{
	MNumber: {-1e9, 1e9}, MCount: {0, 1e9}, MShare: {-10, 10}, MDistance: {0, 1e8}, MThickness: {-1000, 1000}, MSlope: {-1000, 1000}, MAngle: {-720, 720},
	MTemperature: {-273.15, 3000}, MRise: {-3000, 3000}, MSpeed: {0, 1e6}, MFrequency: {0, 60000}, MForce: {-1e9, 1e9}, MTorque: {-1e9, 1e9}, MStress: {0, 1e5},
	MStiffness: {0, 1.3e6}, MMass: {0, 1e6}, MExpansion: {-200, 200}, MDensity: {0, 25000}, MArea: {0, 1e12},
}

// leastExpansion is the smallest coefficient that is taken for one, in 1e-6/K: 11.5e-6 typed where millionths are meant is a millionth of it.
const leastExpansion = 0.01

// odd says why a value that could be read cannot be meant, or "".
func (c *Column) odd(text string, x float64, set Settings) (cause, hint string) {
	within := measureRange[c.Measure]
	slack := 1e-9 * math.Max(math.Abs(within[0]), math.Abs(within[1]))
	switch unit := c.Unit(set.Inch); {
	case math.IsNaN(x):
		return "", ""
	case c.Measure == MDistance && x < 0:
		return words.ProblemTooSmall.Say(job.Quote(text)), words.CalcHintDistance.String()
	case x < within[0]-slack || x > within[1]+slack:
		end := func(x float64) string {
			s := significant(c.Measure.unit(set.Inch).fromBase(x), 3, set.Decimal)
			if strings.ContainsAny(s, ".,") {
				s = strings.TrimRight(strings.TrimRight(s, "0"), ".,")
			}
			return s
		}
		return words.CalcProblemBeyond.Say(job.Quote(text), strings.TrimSpace(words.CalcProblemRange.Say(end(within[0]), end(within[1]))+" "+unit)), words.CalcHintBeyond.String()
	case c.Measure == MExpansion && x != 0 && math.Abs(x) < leastExpansion:
		return words.CalcProblemTinyAlpha.Say(job.Quote(text)), words.CalcHintTinyAlpha.String()
	}
	return "", ""
}

// maxParts is the most values in a list.
const maxParts = 50

// ChoiceWords are the words of an MChoice as printed.
func (c *Column) ChoiceWords() []string {
	out := make([]string, len(c.Choices))
	for i, w := range c.Choices {
		out[i], _, _ = strings.Cut(w, "|")
	}
	return out
}

func (r *run) hintFor(i int) string {
	in := &r.c.Inputs[i]
	if in.Measure == MChoice {
		return words.HintWrite.Say(strings.Join(in.ChoiceWords(), ", "))
	}
	return ""
}

func (r *run) problem(sev job.Severity, i int, text, hint string) {
	p := job.Problem{Severity: sev, Sheet: r.where, Text: words.Plain(text), Hint: words.Plain(hint), Col: -1}
	if i >= 0 {
		p.Column, p.Col = r.c.Inputs[i].Title, r.cols[i]
	}
	r.res.Problems = append(r.res.Problems, p)
}

// in is the index of an input; out that of an output. A key that does not exist is our own slip.
func (r *run) in(key string) int {
	for i := range r.c.Inputs {
		if r.c.Inputs[i].Key == key {
			return i
		}
	}
	panic("calculators: " + r.c.Key + " has no input " + key)
}

func (r *run) out(key string) int {
	for i := range r.c.Outputs {
		if r.c.Outputs[i].Key == key {
			return i
		}
	}
	panic("calculators: " + r.c.Key + " has no output " + key)
}

// f is the number of an input, NaN if there is none.
func (r *run) f(key string) float64 { return r.x[r.in(key)] }

// given says whether an input was read.
func (r *run) given(key string) bool { return r.state[r.in(key)] == stateRead }

// choice is the index of the word of an input, −1 none.
func (r *run) choice(key string) int {
	if x := r.f(key); !math.IsNaN(x) {
		return int(x)
	}
	return -1
}

// more than zero, or zero too, or NaN with an error.
func (r *run) positive(key string) float64 {
	return r.atLeast(key, 0, true, words.HintPositive.String())
}

func (r *run) notNegative(key string) float64 {
	return r.atLeast(key, 0, false, words.HintNotNegative.String())
}

func (r *run) atLeast(key string, least float64, strictly bool, hint string) float64 {
	i := r.in(key)
	if r.state[i] == stateRead && (!(r.x[i] >= least) || strictly && r.x[i] == least) {
		r.fail(key, words.ProblemTooSmall.Say(job.Quote(r.res.Used[i])), hint)
		r.x[i], r.state[i] = math.NaN(), stateBad
	}
	return r.x[i]
}

// need reports inputs that are blank although the way of working chosen needs them; false if one is missing or unreadable.
func (r *run) need(keys ...string) bool {
	ok := true
	for _, k := range keys {
		i := r.in(k)
		if r.state[i] == stateBlank && !r.c.Inputs[i].Required {
			r.problem(job.Error, i, words.ProblemMissing.Say(r.c.Inputs[i].Title), "")
		}
		ok = ok && r.state[i] == stateRead
	}
	return ok
}

func (r *run) fail(key, text, hint string) { r.problem(job.Error, r.in(key), text, hint) }

// put sets a number of the results.
func (r *run) put(key string, base float64) {
	i := r.out(key)
	if !finite(base) {
		return
	}
	r.res.Numbers[i] = base
	o := &r.c.Outputs[i]
	r.res.Texts[i] = r.c.Outputs[i].text(base, r.set.Inch, r.set.Decimal)
	if u := o.Unit(r.set.Inch); u != "" {
		r.res.Texts[i] += " " + u
	}
}

// say sets a text of the results.
func (r *run) say(key, s string) { r.res.Texts[r.out(key)] = s }

// text prints a number of the column without its unit, in its significant digits.
func (c *Column) text(base float64, inch bool, mark units.Decimal) string {
	if !finite(base) {
		return ""
	}
	v := c.Measure.unit(inch).fromBase(base)
	if c.Measure == MCount {
		return units.Format(v, units.None, 0, mark)
	}
	sig := c.Digits
	if sig == 0 {
		sig = 5
	}
	return significant(v, sig, mark)
}

// significant prints v in so many significant digits, at most 12 behind the decimal sign; whole digits are never cut.
func significant(v float64, sig int, mark units.Decimal) string {
	d := sig - 1
	if v != 0 {
		d = sig - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	}
	s := units.Format(v, units.None, max(0, min(d, 12)), mark)
	return s
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func newBatch(c *Calculator, t *job.Table, set Settings) *Batch {
	b := &Batch{Calculator: c, Settings: set, Table: t}
	rows, first := t.Rows, t.SourceRow(0)
	if t.Header != nil {
		rows = append(append(slices.Clone(t.Title), t.Header), t.Rows...)
		first -= len(t.Title) + 1
	}
	head := c.findHeader(rows)
	width := 0
	for _, row := range rows {
		width = max(width, len(row))
	}
	r := newRun(c, set)
	where := t.Name
	if where == "" {
		where = c.Title.String()
	}
	r.where = where
	b.Bound = make([]int, width)
	second := map[int]int{} // a further column of the same input, and its input
	if head >= 0 {
		b.Title, b.Header = rows[:head], rows[head]
		r.bindHeader(b, first+head, t.File, second)
		rows, first = rows[head+1:], first+head+1
	} else {
		for k := range b.Bound {
			if b.Bound[k] = k; k >= len(c.Inputs) {
				b.Bound[k] = -1
			}
		}
		if width > len(c.Inputs) {
			b.Problems = append(b.Problems, job.Problem{Severity: job.Note, File: t.File, Sheet: where,
				Text: words.CalcProblemTooWide.With(len(c.Inputs)), Hint: words.CalcHintHeader.With(), Col: len(c.Inputs)})
		}
	}
	b.Table = &job.Table{Name: t.Name, File: t.File, Title: b.Title, Header: b.Header, Rows: rows, FirstRow: first}
	b.units = r.units
	b.Rows = make([]Result, len(rows))
	cells := make([]string, len(c.Inputs))
	for i, row := range rows {
		clear(cells)
		var more []job.Problem
		for k, s := range row {
			if in := b.Bound[k]; in >= 0 {
				cells[in] = s
			}
		}
		for k, in := range second {
			if k >= len(row) || job.Blank(row[k]) {
				continue
			}
			if job.Blank(cells[in]) {
				cells[in] = row[k]
			} else if strings.TrimSpace(cells[in]) != strings.TrimSpace(row[k]) {
				more = append(more, job.Problem{Severity: job.Error, Sheet: where, Column: c.Inputs[in].Title,
					Text: words.CalcProblemTwoValues.With(job.Quote(cells[in]), job.Quote(row[k])), Hint: words.HintTwoValues.With(), Col: k})
				cells[in] = ""
			}
		}
		if head >= 0 && slices.EqualFunc(row, b.Header, job.SameSpelling) {
			b.Rows[i] = c.noResult()
			b.Rows[i].Blank = true
			b.Rows[i].Problems = []job.Problem{{Severity: job.Note, Sheet: where, Text: words.ProblemHeaderAgain.With(), Col: -1}}
		} else if filled(row) == 0 {
			b.Rows[i] = c.noResult()
			b.Rows[i].Blank = true
		} else {
			b.Rows[i] = r.row(cells, more)
		}
		res := &b.Rows[i]
		res.Row = first + i
		for k := range res.Problems {
			res.Problems[k].Row, res.Problems[k].File = first+i, t.File
		}
	}
	return b
}

func filled(row []string) int {
	n := 0
	for _, s := range row {
		if !job.Blank(s) {
			n++
		}
	}
	return n
}

func (b *Batch) report(sev job.Severity, file, where string, row, k int, text, hint string) {
	b.Problems = append(b.Problems, job.Problem{Severity: sev, File: file, Sheet: where, Row: row, Column: strings.TrimSpace(b.Header[k]), Text: words.Plain(text), Hint: words.Plain(hint), Col: k})
}

// bindHeader finds the input of each header cell.
func (r *run) bindHeader(b *Batch, row int, file string, second map[int]int) {
	c := r.c
	report := func(sev job.Severity, k int, text, hint string) { b.report(sev, file, r.where, row, k, text, hint) }
	for i := range r.cols {
		r.cols[i] = -1
	}
	for k := range b.Bound {
		b.Bound[k] = -1
		if k >= len(b.Header) || job.Blank(b.Header[k]) {
			continue
		}
		i, unit, has := c.matchHeader(b.Header[k])
		if i < 0 {
			report(job.Note, k, words.CalcProblemUnknown.String(), words.HintColumnsAre.Say(c.columnNames()))
			continue
		}
		m := c.Inputs[i].Measure
		u := m.unit(r.set.Inch)
		if has {
			var ok bool
			if u, ok = m.parseUnit(unit); !ok {
				report(job.Error, k, words.ProblemHeaderUnit.Say(unit, measureWords[m]), m.Hint())
				u = measureUnit{none: true}
			}
		}
		if r.cols[i] >= 0 {
			report(job.Warning, k, words.ProblemColumnTwice.Say(r.cols[i]+1, k+1), words.HintColumnTwice.String())
			if u == r.units[i] {
				second[k] = i
			} else {
				report(job.Error, k, words.CalcProblemTwiceUnits.String(), words.HintTwoValues.String())
			}
			continue
		}
		b.Bound[k], r.cols[i], r.units[i] = i, k, u
	}
	for i := range c.Inputs {
		if in := &c.Inputs[i]; in.Required && r.cols[i] < 0 && (i >= len(r.set.Common) || job.Blank(r.set.Common[i])) {
			b.Problems = append(b.Problems, job.Problem{Severity: job.Error, File: file, Sheet: r.where, Row: row, Column: in.Title,
				Text: words.ProblemMissing.With(in.Title), Hint: words.CalcHintColumn.With(), Col: -1})
		}
	}
}

func (c *Calculator) columnNames() string {
	s := ""
	for i := range c.Inputs {
		if i > 0 {
			s += ", "
		}
		s += c.Inputs[i].Title
	}
	return s
}

// findInput returns the input of a spelling in its normal form, or −1.
func (c *Calculator) findInput(s string) int {
	if s == "" {
		return -1
	}
	for i := range c.Inputs {
		in := &c.Inputs[i]
		if s == job.NormalForm(in.Title) || s == job.NormalForm(in.Key) {
			return i
		}
		for _, a := range job.SplitWords(in.also) {
			if s == job.NormalForm(a) {
				return i
			}
		}
	}
	return -1
}

// MatchHeader reads a header cell; i is −1 for a name nobody knows.
func (c *Calculator) matchHeader(text string) (i int, unit string, has bool) {
	if len(text) > job.MaxHeader {
		return -1, "", false
	}
	if open := strings.LastIndexAny(text, "[("); open > 0 {
		if shut := strings.IndexAny(text[open:], "])"); shut > 0 {
			if i := c.findInput(job.NormalForm(text[:open] + text[open+shut+1:])); i >= 0 {
				return i, text[open+1 : open+shut], true
			}
		}
	}
	return c.findInput(job.NormalForm(text)), "", false
}

// headerCells counts the cells of a row that are names of inputs.
func (c *Calculator) headerCells(row []string) int {
	n := 0
	for _, s := range row {
		if job.Blank(s) {
			continue
		}
		if i, _, _ := c.matchHeader(s); i >= 0 {
			n++
		}
	}
	return n
}

// findHeader returns the index of the header: the first row with two known names, else the first with one among no more than two
// cells. −1: none.
func (c *Calculator) findHeader(rows [][]string) int {
	single := -1
	for i, row := range rows {
		if i >= job.MaxTitle {
			break
		}
		n := c.headerCells(row)
		if n >= 2 {
			return i
		}
		if n == 1 && single < 0 && filled(row) <= 2 {
			single = i
		}
	}
	return single
}

func (b *Batch) typedHeadings() []string {
	if b.headings != nil {
		return b.headings
	}
	out := make([]string, len(b.Bound))
	for k := range out {
		if b.Header != nil {
			if k < len(b.Header) {
				out[k] = b.Header[k]
			}
		} else if k < len(b.Calculator.Inputs) {
			out[k] = b.Calculator.Inputs[k].Heading(b.Settings.Inch)
		}
	}
	b.headings = out
	return out
}

func (b *Batch) headerRow() []string {
	out := slices.Clone(b.typedHeadings())
	for i := range b.Calculator.Outputs {
		out = append(out, b.Calculator.Outputs[i].Heading(b.Settings.Inch))
	}
	return append(out, words.CalcProblemProblems.String())
}

func (b *Batch) resultRow(i int) []string {
	res := &b.Rows[i]
	out := make([]string, 0, len(b.Bound)+len(b.Calculator.Outputs)+1)
	for k := range b.Bound {
		out = append(out, b.Table.Cell(i, k))
	}
	for k := range b.Calculator.Outputs {
		o := &b.Calculator.Outputs[k]
		if o.Measure.texts() {
			out = append(out, res.Texts[k])
		} else {
			out = append(out, o.text(res.Numbers[k], b.Settings.Inch, b.Settings.Decimal))
		}
	}
	s := ""
	for k := range res.Problems {
		p := &res.Problems[k]
		if k > 0 {
			s += "; "
		}
		if p.Column != "" && !strings.Contains(p.Text.String(), p.Column) {
			s += p.Column + ": "
		}
		s += p.Text.String()
		if !p.Hint.Empty() {
			s += words.ProblemHintOpen.String() + p.Hint.String() + ")"
		}
	}
	return append(out, s)
}

func (b *Batch) tsv() string {
	var w strings.Builder
	line := func(cells []string) {
		for k, s := range cells {
			if k > 0 {
				w.WriteByte('\t')
			}
			if job.RunsAsFormula(s) {
				w.WriteByte('\'')
			}
			for j := 0; j < len(s); j++ {
				c := s[j]
				if c == '\t' || c == '\n' || c == '\r' {
					c = ' '
				}
				w.WriteByte(c)
			}
		}
		w.WriteByte('\n')
	}
	for _, row := range b.Title {
		line(row)
	}
	line(b.headerRow())
	for i := range b.Rows {
		line(b.resultRow(i))
	}
	return w.String()
}
