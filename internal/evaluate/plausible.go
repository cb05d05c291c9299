package evaluate

import (
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A span is what is usual for a column, in base units. Zero is never questioned where a column may hold it.
type span struct {
	c         job.ColumnID
	low, high float64
}

// plausible is what is usual for the columns of coupled machines on a plant floor: common practice, no source. A number outside is questioned, once a column, and
// used as it stands: it is there to find a decimal sign read as a mark of thousands, a unit that was left away, a column in the wrong place.
var plausible = []span{
	{job.ColSpeed, 10, 60_000}, {job.ColOffsetLimit, 0.002, 5}, {job.ColSlopeLimit, 0.002, 50},
	{job.ColToStationary, 3, 6_000}, {job.ColToMovable, 3, 6_000}, {job.ColToFront, 10, 10_000}, {job.ColFrontToRear, 40, 15_000}, {job.ColFaceDiameter, 20, 3_000}, {job.ColSpacerLength, 8, 12_000}, {job.ColToSecond, 3, 10_000},
	{job.ColStationaryToMovable, 8, 12_000}, {job.ColMovableToFront, 3, 10_000}, {job.ColStationaryNear, 10, 10_000}, {job.ColStationaryFar, 40, 20_000}, {job.ColBoltCircle, 50, 6_000}, {job.ColToFlange, 3, 10_000},
	{job.ColGraduation, 0.0001, 0.6}, {job.ColRepeatability, 0.0001, 1},
	{job.StockThickness, 0.005, 30}, {job.StockLamination, 0.005, 1}, {job.StockTolerance, 0.0001, 1},
	{job.GrowthHeight, 5, 20_000}, {job.GrowthCoefficient, 0.2, 300}, {job.GrowthCold, -40, 50}, {job.GrowthRunning, -210, 900}, {job.GrowthRise, -5, 5}, {job.GrowthSideways, -5, 5}, {job.MaterialsCoefficient, 0.2, 300},
	{job.FeetAlong, 10, 20_000}, {job.FeetAcross, -10_000, 10_000}, {job.FeetRise, -3, 3}, {job.FeetRiseFree, -3, 3}, {job.FeetGapUnder, 0, 3}, {job.FeetCornerFront9, 0, 3}, {job.FeetCornerFront3, 0, 3}, {job.FeetCornerRear9, 0, 3}, {job.FeetCornerRear3, 0, 3}, {job.FeetPack, 0.005, 30},
	{job.FeetFootLength, 10, 3_000}, {job.FeetFootWidth, 10, 3_000},
	{job.FeetRoomUp, 0, 200}, {job.FeetRoomDown, 0, 200}, {job.FeetRoomLeft, 0, 100}, {job.FeetRoomRight, 0, 100}, {job.ReadingsReading, -12, 12},
	{job.LimitsUpTo, 10, 60_000}, {job.LimitsOffset, 0.01, 1.5}, {job.LimitsSlope, 0.01, 50},
	{job.RoundsPacks, 0.005, 30}, {job.RoundsFrontShim, -12, 12}, {job.RoundsRearShim, -12, 12}, {job.RoundsFrontMove, -12, 12}, {job.RoundsRearMove, -12, 12},
	{job.SettingGraduation, 0.0001, 0.6}, {job.SettingRepeatability, 0.0001, 1}, {job.SettingFeelerGraduation, 0.0001, 1}, {job.SettingFeelerRepeatability, 0.0001, 1}, {job.SettingSoftFoot, 0.005, 1},
	{job.SettingPackTolerance, 0.001, 1}, {job.SettingMoveStep, 0.001, 1}, {job.SettingDistanceU, 0.05, 50}, {job.SettingCold, -40, 50},
}

// readingSpan is that of readings, sags, given offsets, growths and rooms of the Machines sheet, mm.
const readingSpan = 12

// spanOf is what is usual for a column; ok is false where nothing is known.
func (e *Evaluator) spanOf(c job.ColumnID) (s span, ok bool) {
	if e.set.plausibleOff {
		return s, false
	}
	for _, own := range e.set.spans {
		if own.c == c {
			return own, true
		}
	}
	s = spans[c]
	return s, s.high > s.low
}

// spans is plausible by column.
var spans = func() (list [job.NumColumns]span) {
	for c := job.ColReading; c < job.ColMovableSweep; c++ {
		list[c] = span{c, -readingSpan, readingSpan}
	}
	for c := job.ColGivenOffsetV; c <= job.ColGivenOffsetH; c++ { // a cross-and-yoke shaft stands far out of line
		list[c] = span{c, -500, 500}
	}
	for c := job.ColGrowth; c < job.ColRunningOffsetV; c++ {
		list[c] = span{c, -30, 30}
	}
	for c := job.ColRoom; c < job.ColRoom+8; c++ {
		list[c] = span{c, 0, 200}
	}
	for _, s := range plausible {
		list[s.c] = s
	}
	return
}()

// odd says whether a number is outside what is usual for its column.
func (e *Evaluator) odd(c job.ColumnID, x float64) bool {
	s, ok := e.spanOf(c)
	return ok && x != 0 && (x < s.low || x > s.high)
}

// oddText is the question: the number and what is usual.
func (e *Evaluator) oddText(c job.ColumnID, x float64, typed string, more int) words.Phrase {
	s, _ := e.spanOf(c)
	text := e.outsideText(s, c.Info().Unit(e.set.inch), x, typed)
	if more > 0 {
		text = words.Joined(text, words.ProblemOddMore.With(more))
	}
	return text
}

// outsideText is the question about a number outside a span, told in a unit.
func (e *Evaluator) outsideText(s span, u units.Unit, x float64, typed string) words.Phrase {
	num := func(v float64) string {
		t := units.Format(v, u, -1, e.set.mark)
		if i := strings.IndexAny(t, ".,"); i > 0 && len(t) > i+4 {
			t = units.Format(v, u, 3, e.set.mark)
		}
		return t
	}
	name := u.String()
	return words.ProblemOdd.With(job.Quote(typed), num(x), name, num(s.low), num(s.high), name)
}

// columnSet is a set of columns of the Machines sheet.
type columnSet [(job.NumInputs + 63) / 64]uint64

func (b *columnSet) set(c job.ColumnID)      { b[c/64] |= 1 << (c % 64) }
func (b *columnSet) has(c job.ColumnID) bool { return b[c/64]>>(c%64)&1 == 1 }
func (b *columnSet) empty() bool             { return *b == columnSet{} }

// columnNotes are the questions and notes that are told once a column of the Machines sheet, for the rows worked out so far.
func (e *Evaluator) columnNotes(list []job.Problem) []job.Problem {
	var oddFirst, oddMore, dashFirst [job.NumInputs]int
	for i := range e.dirty {
		if e.dirty[i] {
			continue
		}
		r := e.at(i)
		if r.odd.empty() && r.dashes.empty() || r.Kind != MachineRow {
			continue
		}
		for c := range job.NumInputs {
			if r.odd.has(c) {
				if oddFirst[c] == 0 {
					oddFirst[c] = i + 1
				} else {
					oddMore[c]++
				}
			}
			if r.dashes.has(c) && dashFirst[c] == 0 {
				dashFirst[c] = i + 1
			}
		}
	}
	t := e.job.Machines
	say := func(sev job.Severity, c job.ColumnID, i int, text, hint words.Phrase) {
		list = append(list, job.Problem{Severity: sev, File: t.File, Sheet: e.SheetName(job.MachinesSheet), Row: t.SourceRow(i), Column: c.Info().Name,
			Text: text, Hint: hint, Col: e.Column(c)})
	}
	for c := range job.NumInputs {
		if i := oddFirst[c] - 1; i >= 0 {
			typed := t.Cell(i, e.Column(c))
			if x, text, _ := job.ParseQuantity(typed, c.Info().Quantity, e.bind[e.Column(c)].unit, e.set.mark); text == "" {
				say(job.Warning, c, i, e.oddText(c, x, typed, oddMore[c]), words.HintOdd.With())
			}
		}
		if i := dashFirst[c] - 1; i >= 0 {
			say(job.Note, c, i, words.ProblemNotGiven.With(job.Quote(t.Cell(i, e.Column(c)))), words.Phrase{})
		}
	}
	return list
}

// readPlausible reads the setting: "no", or columns with what is usual: Speed 5 to 90000 rpm; Spacer length 5 mm to 15 m.
func (e *Evaluator) readPlausible(text string, report func(text, hint words.Phrase)) {
	s := &e.set
	switch job.NormalForm(text) {
	case "":
		return
	case "no", "n", "off", "none", "false":
		s.plausibleOff = true
		return
	case "yes", "y", "on", "true", "usual":
		return
	}
	for part := range strings.SplitSeq(text, ";") {
		if job.Blank(part) {
			continue
		}
		at := strings.LastIndex(part, " to ") // a name may hold one too: Coupling to front feet 5 to 20000
		if at < 0 {
			report(words.ProblemSpan.With(job.Quote(part)), words.HintSpan.With())
			continue
		}
		low, high, found := part[:at], part[at+len(" to "):], false
		for cut := 1; cut < len(low) && !found; cut++ { // a name may hold a number: Movable rim 3 -20 to 20
			if c := low[cut]; low[cut-1] == ' ' && (c >= '0' && c <= '9' || c == '-') {
				found = e.readSpan(low[:cut], low[cut:], high)
			}
		}
		if !found {
			report(words.ProblemSpan.With(job.Quote(part)), words.HintSpan.With())
		}
	}
}

// readSpan reads what is usual for the columns of a name; false where there is none, or no range.
func (e *Evaluator) readSpan(name, low, high string) (found bool) {
	s := &e.set
	for _, k := range []job.SheetKind{job.MachinesSheet, job.StockSheet, job.GrowthSheet, job.FeetSheet, job.MaterialsSheet} {
		c, _, _ := job.MatchHeader(k, name)
		if c == job.NoColumn || c.Info().Quantity == job.QText || c.Info().Quantity == job.QChoice {
			continue
		}
		q := c.Info().Quantity
		b, text, _ := job.ParseQuantity(high, q, c.Info().Unit(s.inch), s.mark)
		unit := c.Info().Unit(s.inch)
		if v, err := units.Parse(high, q.Kind(), unit, s.mark); err == nil {
			unit = v.Unit
		}
		a, text2, _ := job.ParseQuantity(low, q, unit, s.mark)
		if text == "" && text2 == "" && a < b {
			found = true
			s.spans = append(slices.Clip(s.spans), span{c, a, b})
		}
	}
	return found
}
