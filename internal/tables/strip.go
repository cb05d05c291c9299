package tables

import (
	"math"
	"strconv"
	"strings"
)

// A StripClass is a class of thickness tolerance of cold rolled strip.
type StripClass uint8

// The classes of EN ISO 9445-1.
const (
	NoStripClass StripClass = iota // none is named: the thickness is taken as exact
	StripNormal
	StripFine
	StripPrecision
)

// StripClassWords are the words of the classes from StripNormal on: they are the keys of the columns of the table "strip".
var StripClassWords = [...]string{"normal", "fine", "precision"}

// String is the class as a word, "" for NoStripClass.
func (c StripClass) String() string {
	if c == NoStripClass || int(c) > len(StripClassWords) {
		return ""
	}
	return StripClassWords[c-StripNormal]
}

// StripTolerance is the half-width (±, mm) of the thickness tolerance of strip narrower than 125 mm and mm thick: 0 for NoStripClass, NaN for
// a thickness that the table "strip" has no row for, and for a class that is none. Source: EN ISO 9445-1, as far as the table quotes it; nothing
// is put in between its rows.
func StripTolerance(mm float64, class StripClass) float64 {
	if class == NoStripClass {
		return 0
	}
	if int(class) > len(StripClassWords) {
		return math.NaN()
	}
	t := Find("strip")
	for i := range t.Rows {
		if r := &t.Rows[i]; mm >= t.base(r, "from")-1e-9 && mm < t.base(r, "under")-1e-9 {
			if v := t.base(r, class.String()); !math.IsNaN(v) {
				return v
			}
			share, _ := strconv.ParseFloat(strings.TrimSuffix(t.text(r, class.String()), " %"), 64)
			return share / 100 * mm
		}
	}
	return math.NaN()
}

// LaminationSource is where LaminationTolerance comes from.
const LaminationSource = "SAE AMS 6387"

// LaminationTolerance is the half-width (±, mm) of the thickness of one layer of laminated shim stock, NaN for a layer that the table "shims"
// has no tolerance for, read in a document,. Source: SAE AMS 6387.
func LaminationTolerance(mm float64) float64 {
	t := Find("shims")
	for i := range t.Rows {
		if r := &t.Rows[i]; r.Source.Grade == Read && math.Abs(t.base(r, "thickness")-mm) < 1e-6 {
			return t.base(r, "over")
		}
	}
	return math.NaN()
}
