// Package tables holds the reference values the calculation looks up, each with where it comes from.
//
// Start with [All] (every table, as texts and numbers) and [Search] (the look-up). For the calculation there are [LimitSets] and [LimitSet.At]
// (alignment limits by speed), [Materials] (expansion coefficients), [FrameByName] (a motor's feet), [DialMetric] and its like (what a
// reading is worth), [DefaultStock] (shim thicknesses assumed until a box is listed), [FindBolt] and [Cautions].
//
// The values stand as text in testdata/tables, whose FORMAT.txt tells how; data.go is made from it.
//
// Left out on purpose: anything a maker of the machine or of the coupling states. Those values the person types; of several limits the stricter holds.
package tables

import (
	"math"
	"strings"
	"sync"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Grade says how far a row can be trusted.
type Grade uint8

// The grades from the surest to the least, in words on every row the page shows; [GradeMeanings] says there what they mean.
const (
	Exact     Grade = iota // by definition
	Read                   // read in the document named
	Quoted                 // read in a reproduction of the document named, not in the document itself
	Published              // printed in the document named; of no single value is it said whether it was read there
	Memory                 // from memory, not checked against the document
	Practice               // common practice, no source
	Stated                 // stated by the person whose job it is
)

// String is the grade in the words the page and the reference use.
func (g Grade) String() string {
	return [...]string{"exact", "read", "quoted", "published", "from memory, not checked against the document", "common practice, no source", "stated by you"}[g]
}

// GradeMeanings says what the words of the grades mean, for the reader of the page.
const GradeMeanings = words.LookGrades

// A Source is where a row comes from.
type Source struct {
	Grade Grade
	Text  string // document, edition, page; "" for common practice
}

// String words the source for a reader.
func (s Source) String() string {
	if s.Text == "" {
		return s.Grade.String()
	}
	if s.Grade == Memory || s.Grade == Quoted {
		return s.Text + " (" + s.Grade.String() + ")"
	}
	return s.Text
}

// A Coupling is the kind of coupling between the two shafts; it decides what is judged, and by which limits.
type Coupling uint8

// The coupling kinds.
const (
	Flexible  Coupling = iota // disc or other flexible, short: offset at the coupling centre and slope
	Spacer                    // the angles at the two flex planes
	Universal                 // cross and yoke: slope only, offset is wanted
	Flange                    // no kind of its own: in a limit set, the rows for machines that hang on a vertical flange, judged like Flexible
	Gear                      // judged like Flexible
	Rigid                     // judged like Flexible; its hubs' runout counts as well
	numCouplings
)

// String is the word the Coupling column takes.
func (c Coupling) String() string {
	return [...]string{"flexible", "spacer", "universal", "vertical flange", "gear", "rigid"}[c]
}

// ByOffset says whether the kind is judged by the offset at the coupling centre besides the slope.
func (c Coupling) ByOffset() bool { return c != Spacer && c != Universal }

// CouplingKinds is how many kinds there are: they are counted from 0.
const CouplingKinds = int(numCouplings)

// A LimitRow holds for speeds above the row before it up to and including UpTo.
type LimitRow struct {
	UpTo   float64 // r/min; +Inf: the source names no speed
	Offset float64 // mm at the coupling centre; NaN where the kind of coupling is not judged by offset
	Slope  float64 // mm/m; for a spacer coupling the angle at each flex plane
	Source Source

	OffsetIn, SlopeIn units.Unit // what the person typed them in; None of a built-in row
}

// A LimitSet is a named table of limits, rows by coupling kind in rising speed.
type LimitSet struct {
	Name string
	Rows map[Coupling][]LimitRow
}

// At returns the row for a coupling and a speed in r/min. A speed exactly on the end of a row takes that row.
// ok is false for a speed that is not positive, past the last row, or for a coupling the set does not cover:
// there is no extrapolation.
func (s *LimitSet) At(c Coupling, speed float64) (row LimitRow, ok bool) {
	rows := s.Rows[c]
	for i := range rows {
		if math.IsInf(rows[i].UpTo, 1) && !(speed <= 0) {
			return rows[i], true // a limit for any speed holds without one too
		}
		if speed > 0 && (speed <= rows[i].UpTo || speed-rows[i].UpTo <= 1e-9*rows[i].UpTo) {
			return rows[i], true
		}
	}
	return LimitRow{}, false
}

// Top is the last speed a set reaches for a coupling, 0 when it does not cover it, +Inf when it covers any speed.
func (s *LimitSet) Top(c Coupling) float64 {
	rows := s.Rows[c]
	if len(rows) == 0 {
		return 0
	}
	return rows[len(rows)-1].UpTo
}

const mil = 0.0254 // mm, exact

var limitSets = sync.OnceValue(func() []*LimitSet {
	t := Find("limits")
	var sets []*LimitSet
	for i := range t.Rows {
		r := &t.Rows[i]
		name := t.text(r, "set")
		if len(sets) == 0 || sets[len(sets)-1].Name != name {
			sets = append(sets, &LimitSet{name, map[Coupling][]LimitRow{}})
		}
		rows := sets[len(sets)-1].Rows
		for c := range numCouplings {
			if c.String() == t.text(r, "coupling") {
				rows[c] = append(rows[c], LimitRow{UpTo: t.base(r, "up_to"), Offset: t.base(r, "offset"), Slope: t.base(r, "slope"), Source: r.Source})
			}
		}
	}
	return sets
})

// LimitSets returns the built-in sets. The first is the default. Callers must not change them.
func LimitSets() []*LimitSet { return limitSets() }

// FormerLimitSet is the name of a set that was the default once. Its values were from memory and of disputed origin, so it is no more, and jobs that name it are told.
const FormerLimitSet = "by speed"

// FindLimitSet returns the built-in set of that name, case and outer spaces aside, or nil.
func FindLimitSet(name string) *LimitSet {
	for _, s := range limitSets() {
		if strings.EqualFold(s.Name, strings.TrimSpace(name)) {
			return s
		}
	}
	return nil
}

// A Trust is what one reading of a kind is worth when the person states nothing else.
type Trust struct {
	Graduation    float64 // mm; the smallest division
	Repeatability float64 // mm; standard deviation of the same reading taken again
	Source        Source
}

// U is the standard uncertainty of one reading, mm: sqrt(Graduation²/12 + Repeatability²). A reading rounded to the nearest division is off by at most
// half of one, evenly spread (JCGM 100:2008, 4.3.7).
func (t Trust) U() float64 {
	return math.Sqrt(t.Graduation*t.Graduation/12 + t.Repeatability*t.Repeatability)
}

// Trust for readings in millimetres and in thousandths of an inch, by how they are taken.
var (
	DialMetric   = Trust{0.01, 0.003, Source{Quoted, "repeatability 3 µm of a 0.01 mm dial: JIS B 7503:2011"}}
	DialInch     = Trust{1 * mil, 0.003, Source{Practice, "a dial divided in thousandths; repeatability as for the 0.01 mm dial"}}
	FeelerMetric = Trust{0.05, 0.02, Source{Practice, "feeler or taper gauge, and a straightedge with feelers"}}
	FeelerInch   = Trust{2 * mil, 0.02, Source{Practice, "feeler or taper gauge, and a straightedge with feelers"}}
	GivenLine    = Trust{0.01, 0.01, Source{Practice, "a line reduced elsewhere: offset"}}
	GivenSlope   = 0.05 // mm/m; standard uncertainty of a slope reduced elsewhere; common practice, no source
)

// A Thickness is one shim thickness of a stock.
type Thickness struct {
	MM    float64
	Count int // pieces on hand; negative: not counted
}

// DefaultStock is the stock assumed until the job lists its own box: common practice, no source. No standard for slotted foot
// shims was found; the metric steps from 0.1 mm are among those of the rings of DIN 988 (from memory). Pieces are not counted.
func DefaultStock(inch bool) []Thickness {
	series := "metric"
	if inch {
		series = "inch"
	}
	t := Find("shim_stock")
	var out []Thickness
	for i := range t.Rows {
		if r := &t.Rows[i]; t.text(r, "series") == series {
			out = append(out, Thickness{t.base(r, "thickness"), -1})
		}
	}
	return out
}

// Pack settings. MaxPieces lies between the three that are in print (McMillan 2004, ch. 8) and the up to five that other practice allows: common
// practice, no source. So does PackTolerance.
const (
	MaxPieces         = 4
	PackToleranceMM   = 0.0125    // half the thinnest step of the assumed stock
	PackToleranceInch = 0.5 * mil // likewise; in mm
)

// A Caution is one line of warning with where it comes from.
type Caution struct {
	Text   string
	Source Source
}

// cautions are shown beside every result and printed with it. Local rules, the maker's limits and the site's licensed people come first.
var cautions = sync.OnceValue(func() []Caution {
	t := Find("cautions")
	list := make([]Caution, len(t.Rows))
	for i, r := range t.Rows {
		list[i] = Caution{r.Name, r.Source}
	}
	return list
})

// Cautions returns the warnings in the order they are shown. Callers must not change them.
func Cautions() []Caution { return cautions() }
