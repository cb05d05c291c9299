package calc

import "math"

// Gravity is the standard acceleration of free fall in m/s², exact (third CGPM, 1901).
const Gravity = 9.80665

// A Bar is the bracket bar that carries a dial: round, solid or a tube, clamped at one end, the dial with its fittings at the other.
type Bar struct {
	OD, ID  float64 // mm; ID 0: solid
	Length  float64 // mm, from the clamp to the dial
	E       float64 // MPa
	Density float64 // kg/m³
	Tip     float64 // kg at the free end
}

// A Droop is how far the end of a bar hangs down. Lengths are mm, downwards positive.
type Droop struct {
	Inertia   float64 // mm⁴, second moment of area
	Mass      float64 // kg, of the bar
	Own, Tip  float64 // by its own weight, and by the mass at the end
	Total     float64
	DialAtSix float64 // what the dial shows at 6 o'clock, zeroed at 12: −2·Total
}

// Droop returns the deflection of the free end of a cantilever under the mass at its end and its own weight:
//
//	δ = P·L³/(3·E·I) + w·L⁴/(8·E·I)    I = π(OD⁴ − ID⁴)/64    P = m·g    w = ρ·A·g
//
// Small deflections, no shear, a rigid clamp: what the clamp gives way is not in it, so the droop seen on a stiff pipe is larger and
// comes first. ok is false, and every number NaN, unless 0 ≤ ID < OD and the length and E are more than 0, density and mass not negative.
//
// Reference: Roark's Formulas for Stress and Strain, table 8.1, cases 1a and 2a.
func (b *Bar) Droop() (d Droop, ok bool) {
	if !(b.OD > 0 && b.ID >= 0 && b.ID < b.OD && b.Length > 0 && b.E > 0 && b.Density >= 0 && b.Tip >= 0) {
		return Droop{nan, nan, nan, nan, nan, nan}, false
	}
	o2, i2 := b.OD*b.OD, b.ID*b.ID
	a := math.Pi / 4 * (b.OD - b.ID) * (b.OD + b.ID)
	d.Inertia = a / 16 * (o2 + i2)
	ei := b.E * d.Inertia               // N·mm²
	w := b.Density * 1e-9 * a * Gravity // N/mm
	d.Mass = b.Density * 1e-9 * a * b.Length
	l3 := b.Length * b.Length * b.Length
	d.Tip = b.Tip * Gravity * l3 / (3 * ei)
	d.Own = w * l3 * b.Length / (8 * ei)
	d.Total = d.Tip + d.Own
	d.DialAtSix = -2 * d.Total
	return d, true
}
