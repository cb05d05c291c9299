package sheet

import (
	"fmt"
	"slices"
	"strings"

	"shimsheet/internal/units"
)

// A span is what is usual for a column, in base units. Zero is never questioned where a column may hold it.
type span struct {
	c         colID
	low, high float64
}

// plausible is what is usual for the columns of coupled machines on a plant floor: common practice, no source. A number outside is questioned, once a column, and
// used as it stands: it is there to find a decimal sign read as a mark of thousands, a unit that was left away, a column in the wrong place.
var plausible = []span{
	{cSpeed, 10, 60_000}, {cOffsetLimit, 0.002, 5}, {cSlopeLimit, 0.002, 50},
	{cToStat, 3, 6_000}, {cToMov, 3, 6_000}, {cToFront, 10, 10_000}, {cFrontToRear, 40, 15_000}, {cFaceDia, 20, 3_000}, {cSpacerLen, 8, 12_000}, {cToSecond, 3, 10_000},
	{cStatToMov, 8, 12_000}, {cMovToFront, 3, 10_000}, {cStatNear, 10, 10_000}, {cStatFar, 40, 20_000}, {cBoltCircle, 50, 6_000}, {cToFlange, 3, 10_000},
	{cGraduation, 0.0001, 0.6}, {cRepeatability, 0.0001, 1},
	{kThickness, 0.005, 30}, {kLamination, 0.005, 1}, {kTolerance, 0.0001, 1},
	{pHeight, 5, 20_000}, {pCoefficient, 0.2, 300}, {pCold, -60, 100}, {pRunning, -210, 900}, {pRise, -30, 30}, {pSideways, -30, 30}, {mCoefficient, 0.2, 300},
	{fAlong, 10, 20_000}, {fAcross, -10_000, 10_000}, {fRise, -10, 10}, {fGapUnder, 0, 10}, {fFootLength, 10, 3_000}, {fFootWidth, 10, 3_000},
	{fRoomUp, 0, 200}, {fRoomDown, 0, 200}, {fRoomLeft, 0, 100}, {fRoomRight, 0, 100}, {lReading, -12, 12},
}

// readingSpan is that of readings, sags, given offsets, growths and rooms of the Machines sheet, mm.
const readingSpan = 12

// spanOf is what is usual for a column; ok is false where nothing is known.
func (e *Evaluator) spanOf(c colID) (s span, ok bool) {
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
var spans = func() (list [numCols]span) {
	for c := cReading; c < cMovSweep; c++ {
		list[c] = span{c, -readingSpan, readingSpan}
	}
	for c := cGivenOffV; c <= cGivenOffH; c++ { // a cross-and-yoke shaft stands far out of line
		list[c] = span{c, -500, 500}
	}
	for c := cGrowth; c < cRunOffV; c++ {
		list[c] = span{c, -30, 30}
	}
	for c := cRoom; c < cRoom+8; c++ {
		list[c] = span{c, 0, 200}
	}
	for _, s := range plausible {
		list[s.c] = s
	}
	return
}()

// odd says whether a number is outside what is usual for its column.
func (e *Evaluator) odd(c colID, x float64) bool {
	s, ok := e.spanOf(c)
	return ok && x != 0 && (x < s.low || x > s.high)
}

// oddText words the question: the number and what is usual.
func (e *Evaluator) oddText(c colID, x float64, typed string, more int) string {
	s, _ := e.spanOf(c)
	u := c.info().Unit(e.set.inch)
	num := func(v float64) string {
		t := units.Format(v, u, -1, e.set.mark)
		if i := strings.IndexAny(t, ".,"); i > 0 && len(t) > i+4 {
			t = units.Format(v, u, 3, e.set.mark)
		}
		return t
	}
	name := u.String()
	text := fmt.Sprintf(msgOdd, quote(typed), num(x), name, num(s.low), num(s.high), name)
	if more > 0 {
		text += fmt.Sprintf(msgOddMore, more)
	}
	return text
}

// columnSet is a set of columns of the Machines sheet.
type columnSet [(numInputs + 63) / 64]uint64

func (b *columnSet) set(c colID)      { b[c/64] |= 1 << (c % 64) }
func (b *columnSet) has(c colID) bool { return b[c/64]>>(c%64)&1 == 1 }
func (b *columnSet) empty() bool      { return *b == columnSet{} }

// columnNotes are the questions and notes that are told once a column of the Machines sheet, for the rows worked out so far.
func (e *Evaluator) columnNotes(list []Problem) []Problem {
	var oddFirst, oddMore, dashFirst [numInputs]int
	any := false
	for i := range e.dirty {
		if e.dirty[i] || e.blocks[i/blockRows] == nil {
			continue
		}
		r := e.at(i)
		if r.odd.empty() && r.dashes.empty() || r.Kind != MachineRow {
			continue
		}
		any = true
		for c := range numInputs {
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
	if !any {
		return list
	}
	t := e.job.Machines
	say := func(sev Severity, c colID, i int, text, hint string) {
		list = append(list, Problem{Severity: sev, File: t.File, Sheet: e.sheetName(MachinesSheet), Row: t.SourceRow(i), Column: c.info().Name,
			Text: text, Hint: hint, Col: e.column(c)})
	}
	for c := range numInputs {
		if i := oddFirst[c] - 1; i >= 0 {
			typed := t.Cell(i, e.column(c))
			if x, text, _ := parseQuantity(typed, c.info().Quantity, e.bind[e.column(c)].unit, e.set.mark); text == "" {
				say(Warning, c, i, e.oddText(c, x, typed, oddMore[c]), hintOdd)
			}
		}
		if i := dashFirst[c] - 1; i >= 0 {
			say(Note, c, i, fmt.Sprintf(msgNotGiven, quote(t.Cell(i, e.column(c)))), "")
		}
	}
	return list
}

// readPlausible reads the setting: "no", or columns with what is usual: Speed 5 to 90000 rpm; Spacer length 5 mm to 15 m.
func (e *Evaluator) readPlausible(text string, report func(text, hint string)) {
	s := &e.set
	switch normal(text) {
	case "":
		return
	case "no", "n", "off", "none", "false":
		s.plausibleOff = true
		return
	case "yes", "y", "on", "true", "usual":
		return
	}
	for part := range strings.SplitSeq(text, ";") {
		if blank(part) {
			continue
		}
		low, high, ok := strings.Cut(part, " to ")
		cut := strings.IndexFunc(low, func(r rune) bool { return r >= '0' && r <= '9' || r == '-' })
		if !ok || cut < 0 {
			report(fmt.Sprintf(msgSpan, quote(part)), hintSpan)
			continue
		}
		found := false
		for _, k := range []SheetKind{MachinesSheet, StockSheet, GrowthSheet, FeetSheet, MaterialsSheet} {
			c, _, _ := matchHeader(k, low[:cut])
			if c == none || c.info().Quantity == QText || c.info().Quantity == QChoice {
				continue
			}
			q := c.info().Quantity
			b, text, _ := parseQuantity(high, q, c.info().Unit(s.inch), s.mark)
			unit := c.info().Unit(s.inch)
			if v, err := units.Parse(high, q.Kind(), unit, s.mark); err == nil {
				unit = v.Unit
			}
			a, text2, _ := parseQuantity(low[cut:], q, unit, s.mark)
			if text == "" && text2 == "" && a < b {
				found = true
				s.spans = append(slices.Clip(s.spans), span{c, a, b})
			}
		}
		if !found {
			report(fmt.Sprintf(msgSpan, quote(part)), hintSpan)
		}
	}
}
