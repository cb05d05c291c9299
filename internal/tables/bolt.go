package tables

import (
	"math"
	"strings"
)

// A Bolt is one size of coarse thread.
type Bolt struct {
	Name   string  // "M16", "3/4-10"
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
// The preload that a given torque makes scatters by a quarter to a third either way.
func Torque(k, d, f float64) float64 { return k * d * f / 1000 }

// FindBolt finds a bolt by its name, case and blanks aside: "m16", "3/4", "3/4-10", "1 1/8". An inch size needs a fraction or the threads an inch.
func FindBolt(name string) (Bolt, bool) {
	name = strings.ToUpper(strings.Join(strings.Fields(name), " "))
	name = strings.TrimSuffix(strings.TrimSuffix(name, " UNC"), "UNC")
	if name == "" || len(name) > 16 {
		return Bolt{}, false
	}
	if name[0] == 'M' {
		t := Find("bolts_metric")
		size := strings.ReplaceAll(name, " ", "")
		pitch := ""
		if i := strings.IndexAny(size, "X×"); i > 0 { // M16x2 is the coarse pitch written out; M16x1.5 is another thread
			size, pitch = size[:i], strings.TrimLeft(size[i:], "X×")
		}
		for i := range t.Rows {
			if r := &t.Rows[i]; r.Name == size {
				return Bolt{r.Name, t.base(r, "d"), t.base(r, "pitch"), t.base(r, "area"), r.Source, t, r}, pitch == "" || pitch == t.text(r, "pitch")
			}
		}
		return Bolt{}, false
	}
	t := Find("bolts_unc")
	for i := range t.Rows {
		r := &t.Rows[i]
		d := t.text(r, "d")
		if r.Name == name || d == name && strings.Contains(d, "/") {
			return Bolt{r.Name, t.base(r, "d"), 25.4 / t.base(r, "tpi"), t.base(r, "area") * (25.4 * 25.4), r.Source, t, r}, true
		}
	}
	return Bolt{}, false
}

// ProofStress is the proof stress in MPa of a bolt of diameter d in mm of the class or grade "8.8", "10.9", "grade 5" or "grade 8".
// ok is false for another class or a diameter the class does not cover.
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

// ProofLoad is the proof load in N of the bolt in a class, as printed where the table has it, else proof stress times stress area.
func (b *Bolt) ProofLoad(class string) (n float64, source Source, ok bool) {
	s, src, ok := ProofStress(class, b.D)
	if !ok {
		return math.NaN(), Source{}, false
	}
	if col := b.table.Column("proof_" + strings.ReplaceAll(class, ".", "")); col >= 0 && b.row.Base[col] > 0 {
		return b.row.Base[col], b.row.Source, true
	}
	src.Text += "; times the stress area"
	src.Grade = max(src.Grade, b.Source.Grade) // the weaker of the two: Published before Memory
	return s * b.Area, src, true
}
