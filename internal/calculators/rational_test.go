package calculators

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// Calculators against exact fractions: the texts of a row, read as fractions of whole numbers, worked through the formula that the calculator prints, without
// a rounding anywhere. Roots are compared by their squares.

// exactRow is a row of texts under way: what was typed, and the fractions that are wanted.
type exactRow struct {
	t     *testing.T
	rng   *rand.Rand
	c     *Calculator
	cells []string
	res   Result
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic(s)
	}
	return r
}

func sum(x ...*big.Rat) *big.Rat {
	s := new(big.Rat)
	for _, v := range x {
		s.Add(s, v)
	}
	return s
}

func mul(x ...*big.Rat) *big.Rat {
	p := big.NewRat(1, 1)
	for _, v := range x {
		p.Mul(p, v)
	}
	return p
}

func quo(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }
func neg(a *big.Rat) *big.Rat    { return new(big.Rat).Neg(a) }

// put types a random decimal from low to high with its unit into an input, and returns it in the base unit: times by.
func (e *exactRow) put(key string, low, high float64, unit, by string) *big.Rat {
	text := fmt.Sprintf("%.*f", 1+e.rng.IntN(5), low+(high-low)*e.rng.Float64())
	return e.set(key, text, unit, by)
}

func (e *exactRow) set(key, text, unit, by string) *big.Rat {
	for i := range e.c.Inputs {
		if e.c.Inputs[i].Key == key {
			if e.cells[i] = text; unit != "" {
				e.cells[i] += " " + unit
			}
			if by == "" {
				return nil
			}
			return mul(rat(text), rat(by))
		}
	}
	panic(key)
}

// is holds an output to the fraction: within some roundings of the largest of the terms it is made of.
func (e *exactRow) is(key string, want *big.Rat, terms ...*big.Rat) {
	e.t.Helper()
	for i := range e.c.Outputs {
		if e.c.Outputs[i].Key != key {
			continue
		}
		if !e.res.OK() {
			e.t.Fatalf("%s %q: %v", e.c.Key, e.cells, e.res.Problems)
		}
		w, _ := want.Float64()
		size := math.Abs(w)
		for _, x := range terms {
			f, _ := x.Float64()
			size = math.Max(size, math.Abs(f))
		}
		if got := e.res.Numbers[i]; !(math.Abs(got-w) <= 4e-15*size*4) {
			e.t.Fatalf("%s %q: %s is %.17g, exactly %.17g", e.c.Key, e.cells, key, got, w)
		}
		return
	}
	panic(key)
}

// square holds the square of an output to the fraction.
func (e *exactRow) square(key string, want *big.Rat) {
	e.t.Helper()
	for i := range e.c.Outputs {
		if e.c.Outputs[i].Key == key {
			got := e.res.Numbers[i]
			if w, _ := want.Float64(); !(math.Abs(got*got-w) <= 1e-14*w+1e-300) {
				e.t.Fatalf("%s %q: %s² is %.17g, exactly %.17g", e.c.Key, e.cells, key, got*got, w)
			}
			return
		}
	}
	panic(key)
}

const (
	inch25 = "25.4"
	milmm  = "0.0254"
	unity  = "1"
	// π to fifty decimals.
	piText = "3.14159265358979323846264338327950288419716939937511"
)

// evidence: calc=calculator: droop grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: tir grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: gap grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: growth grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: bolt grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: flex grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: wanted readings grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: uncertainty grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: tilt grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: repeats grade=independent count=200 source=random rows in exact fractions (Go's math/big): the number of readings is enough, one less is not
// evidence: calc=calculator: feet grade=independent count=200 source=random rows in exact fractions (Go's math/big)
// evidence: calc=calculator: speed grade=independent count=200 source=random rows in exact fractions (Go's math/big)
func TestCalculatorsExactly(t *testing.T) {
	two, half := rat("2"), rat("1/2")
	thousand := rat("1000")
	for key, work := range map[string]func(e *exactRow, run func()){
		"droop": func(e *exactRow, run func()) {
			od, id := e.put("od", 20, 60, "mm", unity), e.put("id", 1, 19, "mm", unity)
			l, m := e.put("length", 1, 40, "in", inch25), e.put("tip_mass", 0, 2, "kg", unity)
			mod, rho := e.put("e", 60, 220, "GPa", "1000"), e.put("density", 2000, 9000, "kg/m³", unity)
			run()
			pi, g := rat(piText), rat("9.80665")
			i := mul(pi, sum(mul(od, od, od, od), neg(mul(id, id, id, id))), rat("1/64"))
			area := mul(pi, sum(mul(od, od), neg(mul(id, id))), rat("1/4"))
			tip := quo(mul(m, g, l, l, l), mul(rat("3"), mod, i))
			own := quo(mul(rho, area, g, l, l, l, l, rat("1e-9")), mul(rat("8"), mod, i))
			e.is("tip", tip)
			e.is("own", own)
			e.is("droop", sum(tip, own))
			e.is("sag_at_6", mul(rat("-2"), sum(tip, own)))
		},
		"tir": func(e *exactRow, run func()) {
			r12, r3, r6, r9 := e.put("r12", -20, 20, "mil", milmm), e.put("r3", -20, 20, "mil", milmm), e.put("r6", -1, 1, "mm", unity), e.put("r9", -1, 1, "mm", unity)
			sag := e.put("sag", -9, 0, "mil", milmm)
			run()
			v := mul(half, sum(r12, neg(sum(r6, neg(sag)))))
			h := mul(half, sum(r3, neg(r9)))
			e.is("offset_v", v, r12, r6)
			e.is("offset_h", h, r3, r9)
			e.is("balance", sum(r12, r6, neg(r3), neg(r9)), r12, r6, r3, r9)
		},
		"gap": func(e *exactRow, run func()) {
			gap, d, other := e.put("gap", -2, 2, "mm", unity), e.put("diameter", 2, 40, "in", inch25), e.put("other", 50, 900, "mm", unity)
			run()
			e.is("slope", mul(quo(gap, d), thousand))
			e.is("gap", mul(quo(gap, d), other))
		},
		"growth": func(e *exactRow, run func()) {
			h := e.put("height", 50, 900, "mm", unity)
			a := e.put("alpha", 5, 25, "1e-6/K", unity)
			cold, hot := e.put("cold", -20, 40, "°C", unity), e.put("running", 40, 300, "°C", unity)
			run()
			e.is("growth", mul(h, a, rat("1e-6"), sum(hot, neg(cold))), mul(h, a, rat("1e-6"), hot))
		},
		"bolt": func(e *exactRow, run func()) {
			e.set("thread", []string{"M16", "M20", "M24"}[e.rng.IntN(3)], "", "")
			d := rat(e.cells[0][1:])
			proof, k, s := e.put("proof_load", 50, 300, "kN", "1000"), e.put("k", 0.12, 0.3, "", unity), e.put("scatter", 1, 40, "%", "1/100")
			share := e.put("share", 10, 90, "%", "1/100")
			run()
			f := mul(share, proof)
			e.is("preload", f)
			e.is("torque", mul(k, d, f, rat("1/1000")))
			e.is("low", quo(f, sum(rat(unity), s)))
			e.is("high", quo(f, sum(rat(unity), neg(s))))
			e.is("share", share)
			e.is("share_high", quo(share, sum(rat(unity), neg(s))))
		},
		"flex": func(e *exactRow, run func()) {
			dv, tv, l, allowed := e.put("offset_v", -40, 40, "mil", milmm), e.put("slope_v", -0.3, 0.3, "mm/m", unity), e.put("length", 4, 60, "in", inch25), e.put("allowed", 0.3, 2, "mm/m", unity)
			run()
			off := quo(mul(dv, thousand), l)
			s, m := sum(mul(tv, half), off), sum(mul(tv, half), neg(off))
			e.is("stationary_v", s, off, tv)
			e.is("movable_v", m, off, tv)
			e.is("stationary", new(big.Rat).Abs(s), off, tv)
			e.is("movable", new(big.Rat).Abs(m), off, tv)
			e.is("allowed_offset", mul(sum(allowed, neg(mul(new(big.Rat).Abs(tv), half))), l, rat("1/1000")), mul(allowed, l, rat("1/1000")))
			e.is("allowed_parallel", mul(allowed, l, rat("1/1000")))
		},
		"wanted": func(e *exactRow, run func()) {
			dv, dh, tv, th := e.put("offset_v", -40, 40, "mil", milmm), e.put("offset_h", -1, 1, "mm", unity), e.put("slope_v", -1, 1, "mm/m", unity), e.put("slope_h", -1, 1, "mm/m", unity)
			x, face, sag := e.put("to_movable", 0, 10, "in", inch25), e.put("face_diameter", 50, 400, "mm", unity), e.put("movable_sag", -0.3, 0, "mm", unity)
			run()
			v, h := sum(dv, mul(tv, x, rat("1/1000"))), sum(dh, mul(th, x, rat("1/1000")))
			e.is("movable_3", sum(neg(v), h, mul(sag, half)), dv, dh, v, h, sag)
			e.is("movable_6", sum(mul(neg(v), two), sag), dv, v, sag)
			e.is("movable_9", sum(neg(v), neg(h), mul(sag, half)), dv, dh, v, h, sag)
			e.is("face_6", mul(neg(tv), face, rat("1/1000")))
			e.is("face_3", mul(sum(th, neg(tv)), face, rat("1/2000")), mul(th, face, rat("1/1000")), mul(tv, face, rat("1/1000")))
		},
		"uncertainty": func(e *exactRow, run func()) {
			g, s, k := e.put("graduation", 0.1, 3, "mil", milmm), e.put("repeatability", 0, 0.01, "mm", unity), e.put("k", 1, 3, "", unity)
			run()
			u2 := sum(mul(g, g, rat("1/12")), mul(s, s))
			e.square("u", u2)
			e.square("expanded", mul(k, k, u2))
			e.square("u_half", mul(u2, half))
			e.square("expanded_half", mul(k, k, u2, half))
		},
		"tilt": func(e *exactRow, run func()) {
			shim, b, a := e.put("shim", -80, 80, "mil", milmm), e.put("span", 100, 2000, "mm", unity), e.put("front", 0, 40, "in", inch25)
			front := e.rng.IntN(2) == 0
			if front {
				e.set("under", "front", "", "")
			}
			run()
			slope, rise := quo(mul(shim, thousand), b), neg(quo(mul(shim, a), b))
			if front {
				slope, rise = neg(slope), quo(mul(shim, sum(a, b)), b)
			}
			e.is("slope", slope)
			e.is("rise", rise)
		},
		"repeats": func(e *exactRow, run func()) {
			v, limit, u, shared, k := e.put("value", 1, 5, "", unity), e.put("limit", 5.1, 9, "", unity), e.put("u", 0.1, 5, "", unity), e.put("shared", 0, 0.04, "", unity), e.put("k", 1, 2.2, "", unity)
			run()
			at := -1
			for i := range e.c.Outputs {
				if e.c.Outputs[i].Key == "n" {
					at = i
				}
			}
			n := e.res.Numbers[at]
			enough := func(n float64) bool { // k²·(shared² + u²/n) ≤ (limit − value)²
				d := sum(limit, neg(v))
				return mul(k, k, sum(mul(shared, shared), quo(mul(u, u), new(big.Rat).SetFloat64(n)))).Cmp(mul(d, d)) <= 0
			}
			if math.IsNaN(n) || !enough(n) || n > 1 && enough(n-1) {
				e.t.Fatalf("repeats %q: %v readings; %v", e.cells, n, e.res.Texts)
			}
		},
		"feet": func(e *exactRow, run func()) {
			dv, tv, dh, th := e.put("offset_v", -40, 40, "mil", milmm), e.put("slope_v", -2, 2, "mm/m", unity), e.put("offset_h", -1, 1, "mm", unity), e.put("slope_h", -2, 2, "mm/m", unity)
			a, b := e.put("front", 1, 40, "in", inch25), e.put("span", 100, 2500, "mm", unity)
			run()
			for _, w := range []struct {
				key     string
				d, t, x *big.Rat
			}{{"shim_front", dv, tv, a}, {"shim_rear", dv, tv, sum(a, b)}, {"move_front", dh, th, a}, {"move_rear", dh, th, sum(a, b)}} {
				lift := mul(w.t, w.x, rat("1/1000"))
				e.is(w.key, neg(sum(w.d, lift)), w.d, lift)
			}
		},
		"speed": func(e *exactRow, run func()) {
			f := e.put("hertz", 16, 70, "Hz", "60")
			poles := int64(2 * (1 + e.rng.IntN(8)))
			e.set("poles", fmt.Sprint(poles), "", "")
			n := quo(mul(two, f), big.NewRat(poles, 1))
			rpm := e.set("rpm", mul(n, rat("0.98")).FloatString(1), "rpm", unity)
			run()
			e.is("synchronous", n)
			e.is("slip_speed", sum(n, neg(rpm)), n)
			e.is("slip", quo(sum(n, neg(rpm)), n), rat(unity))
		},
	} {
		rng := rand.New(rand.NewPCG(14, 1))
		for range 200 {
			c := Find(key)
			e := &exactRow{t: t, rng: rng, c: c, cells: make([]string, len(c.Inputs))}
			work(e, func() { e.res = c.Row(e.cells, Settings{Inch: rng.IntN(2) == 0}) })
		}
	}
}
