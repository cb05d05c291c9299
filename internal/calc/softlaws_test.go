package calc

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
)

// A softTurn is another way of looking at the same machine, and at what is found of it.
type softTurn struct {
	name     string
	foot     func(f SoftFoot) SoftFoot
	side     map[FootSide]FootSide
	swapped  bool    // along and across change places
	sa, sc   float64 // the sign of what was along, and across
	scale    float64 // of lengths
	mirrored bool    // SoftFoot.Mirrored does the same
}

func softTurns() []softTurn {
	keep := map[FootSide]FootSide{}
	for s := range numFootSides {
		keep[s] = s
	}
	return []softTurn{
		{"left and right", func(f SoftFoot) SoftFoot {
			c := f.Corner
			f.Across = -f.Across
			f.Corner = [4]float64{CouplingSide9: c[CouplingSide3], CouplingSide3: c[CouplingSide9], FreeSide3: c[FreeSide9], FreeSide9: c[FreeSide3]}
			return f
		}, map[FootSide]FootSide{NoSide: NoSide, CouplingEdge: CouplingEdge, FreeEdge: FreeEdge, Edge3: Edge9, Edge9: Edge3, CouplingCorner3: CouplingCorner9, CouplingCorner9: CouplingCorner3,
			FreeCorner3: FreeCorner9, FreeCorner9: FreeCorner3}, false, 1, -1, 1, true},
		{"end for end", func(f SoftFoot) SoftFoot {
			c := f.Corner
			f.Along = 700 - f.Along
			f.Corner = [4]float64{CouplingSide9: c[FreeSide9], CouplingSide3: c[FreeSide3], FreeSide3: c[CouplingSide3], FreeSide9: c[CouplingSide9]}
			return f
		}, map[FootSide]FootSide{NoSide: NoSide, CouplingEdge: FreeEdge, FreeEdge: CouplingEdge, Edge3: Edge3, Edge9: Edge9, CouplingCorner3: FreeCorner3, CouplingCorner9: FreeCorner9,
			FreeCorner3: CouplingCorner3, FreeCorner9: CouplingCorner9}, false, -1, 1, 1, false},
		{"along for across", func(f SoftFoot) SoftFoot {
			c := f.Corner
			f.Along, f.Across, f.Length, f.Width = f.Across, f.Along, f.Width, f.Length
			f.Corner = [4]float64{CouplingSide9: c[CouplingSide9], CouplingSide3: c[FreeSide9], FreeSide3: c[FreeSide3], FreeSide9: c[CouplingSide3]}
			return f
		}, map[FootSide]FootSide{NoSide: NoSide, CouplingEdge: Edge9, FreeEdge: Edge3, Edge3: FreeEdge, Edge9: CouplingEdge, CouplingCorner3: FreeCorner9, CouplingCorner9: CouplingCorner9,
			FreeCorner3: FreeCorner3, FreeCorner9: CouplingCorner3}, true, 1, 1, 1, false},
		{"in other units", func(f SoftFoot) SoftFoot {
			for _, x := range []*float64{&f.Along, &f.Across, &f.Gap, &f.Rise, &f.RiseFreed, &f.Length, &f.Width, &f.Corner[0], &f.Corner[1], &f.Corner[2], &f.Corner[3]} {
				*x *= 25.4
			}
			return f
		}, keep, false, 1, 1, 25.4, false},
	}
}

// drawSoft draws a machine measured in any way: gaps, corners with and without the size of the sole, rises, with flanges opened, or several of these; of four feet or more, at times near the limit.
func drawSoft(rng *rand.Rand, i int) SoftInput {
	feet := randomFeet(rng)
	for len(feet) > 6 {
		feet = randomFeet(rng)
	}
	if i%3 == 0 {
		feet = rectangle()
		for k := range feet {
			feet[k].Along += between(rng, -60, 60)
			feet[k].Across += between(rng, -60, 60)
		}
	}
	size := []float64{0.04, 0.1, 0.5}[rng.IntN(3)]
	one := rng.IntN(len(feet))
	way := rng.IntN(5)
	for k := range feet {
		f := &feet[k]
		g := size * rng.Float64()
		if i%2 == 0 && k != one {
			g *= 0.1
		}
		switch way {
		case 0:
			f.Gap = g
		case 1, 2:
			if i%5 == 4 { // nothing stands off as a whole
				g = 0
			}
			if f.Gap = g; way == 1 || k%2 == 0 {
				for c := range f.Corner {
					f.Corner[c] = g + size*rng.Float64()*[2]float64{0.02, 0.5}[rng.IntN(2)]
				}
			}
			if way == 1 || k%4 == 0 {
				f.Length, f.Width = between(rng, 60, 140), between(rng, 60, 140)
			}
		case 3:
			f.Gap = g
			fallthrough
		default:
			if f.Rise = g - 0.01; i%7 == 6 { // all of them spring
				f.Rise = 2*size + 0.2*g
			} else if i%4 < 2 {
				f.RiseFreed = f.Rise - 0.3*size*rng.NormFloat64()
			}
		}
	}
	return SoftInput{Feet: feet, U: 0.004, URise: 0.005, Limit: []float64{0, 0.05, 0.08}[rng.IntN(3)], MaxSteps: rng.IntN(4)}
}

// Whoever looks at a machine from its other side, from its other end, turned by a quarter, in other units, or names its feet in another order finds the same soft feet.
//
// evidence: calc=soft foot shims grade=identity count=600 source=symmetries: mirrored, end for end, along for across, in other units, feet in another order; every number, side, pattern and foot that is named
func TestSoftLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 9))
	patterns, sides, steps := map[SoftPattern]int{}, map[FootSide]int{}, 0
	close := func(a, b float64) bool {
		return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-8*(1+math.Abs(a))
	}
	machines, few := 120, testing.Short() || runtime.GOARCH == "wasm"
	if few {
		machines = 40
	}
	for i := range machines {
		in := drawSoft(rng, i)
		var base SoftResult
		Soft(&in, &base)
		if base.Status != SoftOK {
			t.Fatalf("%+v: %v", in, base.Status)
		}
		patterns[base.Pattern]++
		turns := softTurns()
		order := rng.Perm(len(in.Feet))
		turns = append(turns, softTurn{"in another order", func(f SoftFoot) SoftFoot { return f }, turns[3].side, false, 1, 1, 1, false})
		for k, turn := range turns {
			e := in
			if e.Limit == 0 {
				e.Limit = DefaultSoftLimit
			}
			e.Limit *= turn.scale
			e.U *= turn.scale
			e.URise *= turn.scale
			e.Feet = nil
			at := make([]int, len(in.Feet)) // where each foot went
			for j := range in.Feet {
				from := j
				if k == len(turns)-1 {
					from = order[j]
				}
				at[from] = j
				f := turn.foot(in.Feet[from])
				if m := in.Feet[from].Mirrored(); turn.mirrored && !sameFoot(&m, &f) {
					t.Fatalf("Mirrored gives %+v, not %+v", m, f)
				}
				e.Feet = append(e.Feet, f)
			}
			var got SoftResult
			Soft(&e, &got)
			bad := func(what string, a, b any) {
				t.Errorf("row %d, %s: %s is %v, was %v", i, turn.name, what, a, b)
			}
			for j := range base.Feet {
				a, b := &got.Feet[at[j]], &base.Feet[j]
				along, across, slopeAlong, slopeAcross := b.TaperAlong, b.TaperAcross, b.SlopeAlong, b.SlopeAcross
				if turn.swapped {
					along, across, slopeAlong, slopeAcross = across, along, slopeAcross, slopeAlong
				}
				s := turn.scale
				for _, x := range []struct {
					what string
					a, b float64
				}{{"shim", a.Shim, s * b.Shim}, {"residual", a.Residual, s * b.Residual}, {"dual", a.Dual, b.Dual}, {"stand-off", a.StandOff, s * b.StandOff}, {"clearance", a.Clearance, s * b.Clearance},
					{"± of the clearance", a.UClearance, s * b.UClearance}, {"excess", a.Excess, s * b.Excess}, {"freed", a.Freed, s * b.Freed}, {"taper along", a.TaperAlong, s * turn.sa * along},
					{"taper across", a.TaperAcross, s * turn.sc * across}, {"slope along", a.SlopeAlong, turn.sa * slopeAlong}, {"slope across", a.SlopeAcross, turn.sc * slopeAcross}, {"twist", a.Twist, s * b.Twist},
					{"range", a.Range, s * b.Range}} {
					if !close(x.a, x.b) {
						bad(x.what, x.a, x.b)
					}
				}
				if a.Angled != b.Angled || a.Machine != b.Machine || a.Open != turn.side[b.Open] || len(a.Steps) != len(b.Steps) {
					bad("sole", []any{a.Angled, a.Machine, a.Open, a.Steps}, []any{b.Angled, b.Machine, b.Open, b.Steps})
				}
				for q := range min(len(a.Steps), len(b.Steps)) {
					if steps++; !close(a.Steps[q].Thickness, s*b.Steps[q].Thickness) || !close(a.Steps[q].Share, b.Steps[q].Share) {
						bad("step", a.Steps[q], b.Steps[q])
					}
				}
				sides[a.Open]++
			}
			named := func(list []int) (out []int) {
				for _, j := range list {
					if j >= 0 {
						out = append(out, at[j])
					}
				}
				slices.Sort(out)
				return out
			}
			off, carrying := slices.Clone(got.Off), []int(nil)
			slices.Sort(off)
			if got.Carrying[0] >= 0 {
				carrying = slices.Sorted(slices.Values(got.Carrying[:]))
			}
			if got.Pattern != base.Pattern || !slices.Equal(off, named(base.Off)) || !slices.Equal(carrying, named(base.Carrying[:])) {
				bad("pattern", []any{got.Pattern, off, carrying}, []any{base.Pattern, named(base.Off), named(base.Carrying[:])})
			}
			if !slices.IsSorted(got.Off) {
				bad("order of the feet that stand off", got.Off, base.Off)
			}
			if got.Sure != base.Sure || got.Pull != base.Pull || got.PullSure != base.PullSure || got.FromGaps != base.FromGaps || (got.PullFoot < 0) != (base.PullFoot < 0) || got.PullFoot >= 0 && got.PullFoot != at[base.PullFoot] {
				bad("what is sure", got, base)
			}
			for _, x := range [...][2]float64{{got.Total, base.Total}, {got.Bound, base.Bound}, {got.Largest, base.Largest}, {got.Common, base.Common}, {got.Decided, base.Decided}, {got.UDecided, base.UDecided},
				{got.PullLargest, base.PullLargest}} {
				if !close(x[0], turn.scale*x[1]) {
					bad("number", x[0], turn.scale*x[1])
				}
			}
			// The plane is the same at the same feet.
			for j := range in.Feet {
				a, b := &e.Feet[at[j]], &in.Feet[j]
				p := got.Plane[0] + (got.Plane[1]*a.Along+got.Plane[2]*a.Across)/1000
				q := base.Plane[0] + (base.Plane[1]*b.Along+base.Plane[2]*b.Across)/1000
				if !close(p, turn.scale*q) {
					bad("lift", p, turn.scale*q)
				}
			}
		}
	}
	if few {
		return
	}
	for p := SoftNone; p < numSoftPatterns; p++ {
		if patterns[p] < 2 {
			t.Errorf("%v came %d times: %v", p, patterns[p], patterns)
		}
	}
	for s := range numFootSides {
		if sides[s] == 0 {
			t.Errorf("no foot opened at %q", s)
		}
	}
	if steps < 100 {
		t.Errorf("%d steps only", steps)
	}
}

func sameFoot(a, b *SoftFoot) bool {
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	for k := range a.Corner {
		if !same(a.Corner[k], b.Corner[k]) {
			return false
		}
	}
	return same(a.Along, b.Along) && same(a.Across, b.Across) && same(a.Gap, b.Gap) && same(a.Rise, b.Rise) && same(a.RiseFreed, b.RiseFreed) && same(a.Length, b.Length) && same(a.Width, b.Width)
}

// Each number of a foot has what it can be: one past it refuses the machine and names the foot, one short of it does not.
func TestSoftNumbers(t *testing.T) {
	inf := math.Inf(1)
	whole := func() SoftInput {
		in := SoftInput{Feet: withRises(withGaps(rectangle(), 0.1, 0.2, 0.1, 0.3), 0.1, 0, 0, 0.2), U: 0.01, URise: 0.01, Limit: 0.05}
		for k := range in.Feet {
			f := &in.Feet[k]
			f.Corner, f.RiseFreed, f.Length, f.Width = [4]float64{0.1, 0.2, 0.1, 0.1}, 0.05, 100, 80
		}
		return in
	}
	for _, c := range []struct {
		what      string
		at        func(f *SoftFoot) *float64
		bad, good []float64
	}{
		{"along", func(f *SoftFoot) *float64 { return &f.Along }, []float64{nan, inf, -inf, 1e6, -1e6}, []float64{300, -900, 9e5, -9e5}},
		{"across", func(f *SoftFoot) *float64 { return &f.Across }, []float64{nan, inf, -inf, 1e6, -1e6}, []float64{900, -900}},
		{"gap", func(f *SoftFoot) *float64 { return &f.Gap }, []float64{-1e-9, inf, -inf, 1e6}, []float64{nan, 0, 9e5}},
		{"rise", func(f *SoftFoot) *float64 { return &f.Rise }, []float64{inf, -inf, 1e6, -1e6}, []float64{nan, -0.1, 0}},
		{"rise freed", func(f *SoftFoot) *float64 { return &f.RiseFreed }, []float64{inf, -inf, 1e6, -1e6}, []float64{nan, -0.1, 0}},
		{"length", func(f *SoftFoot) *float64 { return &f.Length }, []float64{0, -100, 0.99, inf, 1e6}, []float64{nan, 1, 1000}},
		{"width", func(f *SoftFoot) *float64 { return &f.Width }, []float64{0, -100, 0.99, inf, 1e6}, []float64{nan, 1, 1000}},
		{"corner", func(f *SoftFoot) *float64 { return &f.Corner[2] }, []float64{nan, -1e-9, inf, 1e6}, []float64{0, 0.5}},
		{"first corner", func(f *SoftFoot) *float64 { return &f.Corner[0] }, []float64{nan, -1e-9, inf, 1e6}, []float64{0, 0.5}},
	} {
		for k := range 4 {
			for _, v := range c.bad {
				in := whole()
				*c.at(&in.Feet[k]) = v
				var res SoftResult
				if Soft(&in, &res); res.Status != SoftBadNumber || res.Foot != k {
					t.Errorf("foot %d, %s %g: %v at %d", k, c.what, v, res.Status, res.Foot)
				}
			}
			for _, v := range c.good {
				in := whole()
				*c.at(&in.Feet[k]) = v
				var res SoftResult
				if Soft(&in, &res); res.Status != SoftOK && !(res.Status == SoftInLine && math.Abs(v) > 1e5) {
					t.Errorf("foot %d, %s %g: %v at %d", k, c.what, v, res.Status, res.Foot)
				}
			}
		}
	}
	for _, c := range []struct {
		what      string
		at        func(in *SoftInput) *float64
		bad, good []float64
	}{
		{"limit", func(in *SoftInput) *float64 { return &in.Limit }, []float64{-1e-9, inf, -inf, 2e6}, []float64{0, nan, 0.1, 10}},
		{"u", func(in *SoftInput) *float64 { return &in.U }, []float64{nan, -1e-9, inf, 1e6}, []float64{0, 0.1}},
		{"u of a rise", func(in *SoftInput) *float64 { return &in.URise }, []float64{nan, -1e-9, inf, 1e6}, []float64{0, 0.1}},
	} {
		for _, v := range append(c.bad, c.good...) {
			in := whole()
			*c.at(&in) = v
			want := SoftOK
			if slices.Contains(c.bad, v) || math.IsNaN(v) && math.IsNaN(c.bad[0]) {
				want = SoftBadNumber
			}
			var res SoftResult
			if Soft(&in, &res); res.Status != want {
				t.Errorf("%s %g: %v", c.what, v, res.Status)
			}
		}
	}
	in := whole()
	in.MaxSteps = -1
	var res SoftResult
	if Soft(&in, &res); res.Status != SoftBadNumber {
		t.Errorf("fewer than no steps: %v", res.Status)
	}
	for n := range 15 {
		f := make([]SoftFoot, n)
		for k := range f {
			f[k] = foot(float64(k/2)*400, 300*float64(k%2))
			f[k].Gap = 0.1 * float64(k%3)
		}
		want := SoftOK
		if n < 3 || n > 12 {
			want = SoftFeetCount
		}
		if Soft(&SoftInput{Feet: f}, &res); res.Status != want || want != SoftOK && len(res.Feet) > 0 {
			t.Errorf("%d feet: %v", n, res.Status)
		}
	}
	// Which foot is not measured, of those without a gap and those without a rise: the first that lacks one of them.
	for k := range 4 {
		for j := range 4 {
			f := withRises(withGaps(rectangle(), 0, 0.1, 0.2, 0), 0.1, 0.2, 0, 0)
			f[k].Gap, f[j].Rise = nan, nan
			if Soft(&SoftInput{Feet: f}, &res); res.Status != SoftNotMeasured || res.Foot != min(k, j) {
				t.Errorf("no gap at %d, no rise at %d: %v at %d", k, j, res.Status, res.Foot)
			}
		}
	}
}

// The rises of four feet, of which one is short by a known amount, with the gaps as they then are: the shim is that amount under that foot, whichever it is and however the machine sits, and the plane closes
// all others.
func TestSoftAloneAnywhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 10))
	alone, kept := 0, 0
	for i := range 200 {
		f := rectangle()
		// On a parallelogram either of two feet may take the whole; elsewhere the least total says which.
		even, lean, wide := i%2 == 0, float64(rng.IntN(161)-80), float64(200+rng.IntN(400))
		for k := range f {
			if !even {
				f[k].Along += between(rng, -80, 80)
				f[k].Across += between(rng, -80, 80)
				continue
			}
			if f[k].Along > 0 {
				f[k].Along, f[k].Across = wide, f[k].Across+lean
			}
			f[k].Along += 300
			f[k].Across += 40
		}
		short, by := rng.IntN(4), between(rng, 0.1, 0.4)
		// A rigid machine whose one foot is short, held at any plane above the base.
		a, b, c := between(rng, 0.5, 0.8), either(rng, 0, 0.3), either(rng, 0, 0.3)
		for k := range f {
			f[k].Gap, f[k].Rise = a+(b*f[k].Along+c*f[k].Across)/1000, 0.01
		}
		f[short].Gap += by
		f[short].Rise = by
		corners := i%10 == 0
		if corners { // a sole that was measured at its corners has a share of its own
			k := rng.IntN(4)
			for q := range f[k].Corner {
				f[k].Corner[q] = f[k].Gap
			}
		}
		var res SoftResult
		Soft(&SoftInput{Feet: f}, &res)
		if res.Status != SoftOK || res.Pattern != SoftOneFoot || !slices.Equal(res.Off, []int{short}) {
			t.Fatalf("%v, %v, off %v", res.Status, res.Pattern, res.Off)
		}
		total := 0.0
		for k := range f {
			lifted := f[k].Gap + res.Plane[0] + (res.Plane[1]*f[k].Along+res.Plane[2]*f[k].Across)/1000
			if math.Abs(lifted-res.Feet[k].Shim) > 1e-9 {
				t.Errorf("row %d, foot %d: shim %g, open %g", i, k, res.Feet[k].Shim, lifted)
			}
			total += res.Feet[k].Shim
		}
		if corners {
			kept++
			continue
		}
		alone++
		for k := range f {
			want := 0.0
			if k == short {
				want = by
			}
			if got := res.Feet[k].Shim; math.Abs(got-want) > 1e-9 && even {
				t.Errorf("row %d, foot %d: shim %g, want %g (foot %d is short by %g)", i, k, got, want, short, by)
			}
		}
	}
	if alone < 100 || kept < 15 {
		t.Errorf("%d and %d", alone, kept)
	}
}

// Where several rests of the machine tie, as they do on evenly spaced feet, the ± of a clearance is that of the surest of them, whatever order the feet are named in.
// Seen: which of those that tie was taken hung on the rounding of their sums; one foot's ± was 0.35 mm, and 0.64 mm with the same feet named in another order.
func TestSoftTies(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 11))
	tied := 0
	for range 400 {
		var feet []SoftFoot
		for k := range 3 + rng.IntN(2) {
			a, c := float64(k)*200+100, float64(rng.IntN(5)-2)*70
			feet = append(feet, foot(a, c), foot(-a, -c))
		}
		for k := range feet {
			feet[k].Gap = 0.1 * float64(rng.IntN(4))
			for j := range k {
				if math.Hypot(feet[j].Along-feet[k].Along, feet[j].Across-feet[k].Across) < 5 {
					feet[k].Across += 300
				}
			}
		}
		if inLine(feet) {
			continue
		}
		var base SoftResult
		Soft(&SoftInput{Feet: feet, U: 0.01}, &base)
		order := rng.Perm(len(feet))
		var other []SoftFoot
		for _, k := range order {
			f := feet[k]
			f.Along, f.Across = 25.4*f.Along, 25.4*f.Across
			other = append(other, f)
		}
		var got SoftResult
		Soft(&SoftInput{Feet: other, U: 0.01}, &got)
		for j, k := range order {
			a, b := &got.Feet[j], &base.Feet[k]
			if math.Abs(a.Clearance-b.Clearance) > 1e-9 || math.Abs(a.UClearance-b.UClearance) > 1e-9 {
				t.Errorf("%v: foot %d is %g ± %g from carrying, named in another order %g ± %g", feet, k, b.Clearance, b.UClearance, a.Clearance, a.UClearance)
			}
		}
		tied++
	}
	if tied < 200 {
		t.Errorf("%d machines", tied)
	}
}

// A machine that rests on the foot in its middle can tilt every way at the same total; the shims then are those of the least sum of squares: of four feet on a rectangle what the mean of their gaps and the diagonals say,
// as long as none would have to go below nothing, else the best tilt that leaves none below.
//
// evidence: calc=soft foot shims grade=independent count=200 source=least squares on a rectangle by hand; and where a foot rests too, tilts tried all round
func TestSoftOnItsMiddle(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 12))
	free, rests := 0, 0
	for range 200 {
		f := append(rectangle(), foot(300, 0))
		lean, roll := either(rng, 0, 0.3), either(rng, 0, 0.3)
		mean, twist := between(rng, 0.05, 0.3), either(rng, 0, 0.25)
		for k, sign := range [4]float64{1, -1, 1, -1} {
			f[k].Gap = 1 + mean + sign*twist + lean*(f[k].Along-300)/300 + roll*f[k].Across/250
		}
		f[4].Gap = 1
		if slices.Min([]float64{f[0].Gap, f[1].Gap, f[2].Gap, f[3].Gap}) < 0 {
			continue
		}
		var res SoftResult
		Soft(&SoftInput{Feet: f}, &res)
		sum := 0.0
		for k := range 4 {
			sum += res.Feet[k].Shim
		}
		if math.Abs(twist) < mean {
			free++
			for k, sign := range [4]float64{1, -1, 1, -1} {
				if want := mean + sign*twist; math.Abs(res.Feet[k].Shim-want) > 1e-9 {
					t.Errorf("mean %g, twist %g: foot %d gets %g, not %g", mean, twist, k, res.Feet[k].Shim, want)
				}
			}
			if res.Feet[4].Shim != 0 || math.Abs(sum-4*mean) > 1e-9 {
				t.Errorf("mean %g, twist %g: the middle gets %g, all %g", mean, twist, res.Feet[4].Shim, sum)
			}
			// The most one foot could take: the machine tilts until two of the others carry.
			for k := range 4 {
				sign := [4]float64{1, -1, 1, -1}[k]
				if most := 2 * (mean + sign*twist); math.Abs(res.Feet[k].StandOff-most) > 1e-9 {
					t.Errorf("mean %g, twist %g: foot %d stands off by %g, not %g", mean, twist, k, res.Feet[k].StandOff, most)
				}
			}
			continue
		}
		rests++ // past that the machine rests on three feet, or on two of a diagonal: no foot below nothing
		for k := range f {
			if !(res.Feet[k].Shim >= 0) {
				t.Errorf("foot %d gets %g", k, res.Feet[k].Shim)
			}
		}
	}
	if free < 50 || rests < 20 {
		t.Errorf("%d and %d", free, rests)
	}
}

// Feet in one line hold no machine across it, wherever that line lies: a rest of less than a thousandth of their reach is none. The two are the spreads along and across, by the sums of squares about the middle.
func TestSoftInLine(t *testing.T) {
	for _, shift := range [][2]float64{{0, 0}, {5000, -3000}, {-800, 20000}} {
		for _, turn := range []float64{0, 30, 45, 90, 117} {
			s, c := math.Sincos(turn * math.Pi / 180)
			for _, n := range []float64{0.5, 0.98, 1.02, 2} {
				// Points 0, 500, 1000 along and 0, h, 0 across: spreads of 1000/√2 along and h·√(2/3) across.
				h := n * 1e-3 * (1000 / math.Sqrt2) / math.Sqrt(2.0/3)
				var f []SoftFoot
				for _, p := range [][2]float64{{0, 0}, {500, h}, {1000, 0}} {
					q := foot(shift[0]+p[0]*c-p[1]*s, shift[1]+p[0]*s+p[1]*c)
					q.Gap = 0.1
					f = append(f, q)
				}
				want := SoftOK
				if n < 1 {
					want = SoftInLine
				}
				var res SoftResult
				if Soft(&SoftInput{Feet: f}, &res); res.Status != want {
					t.Errorf("at %v, turned by %g, %g thousandths across: %v", shift, turn, n, res.Status)
				}
			}
		}
	}
}

// The number that decides how sure a soft foot is, by every pair of rests: a foot is let down as far as the least over the rests with it of the most over those without it, counted from the limit in its own
// uncertainty, and the foot nearest to the limit decides.
//
// evidence: calc=soft foot: how sure grade=independent count=60 source=every pair of rests of the machine, on three feet each, enumerated
func TestSoftDecidedByRests(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 13))
	type rest struct {
		part map[int]float64
		mean float64
	}
	decided := 0
	for range 60 {
		n := 4 + rng.IntN(3)
		var f []SoftFoot
		for len(f) < n {
			q := foot(between(rng, 0, 1500), between(rng, -400, 400))
			q.Gap = 0.15 * rng.Float64()
			f = append(f, q)
		}
		near := false
		for i := range f {
			for j := range i {
				near = near || math.Hypot(f[i].Along-f[j].Along, f[i].Across-f[j].Across) < 50
			}
		}
		if near || inLine(f) {
			continue
		}
		cx, cy := 0.0, 0.0
		for i := range f {
			cx, cy = cx+f[i].Along/float64(n), cy+f[i].Across/float64(n)
		}
		var rests []rest
		for i := range f {
			for j := range i {
				for k := range j {
					area := func(ax, ay, bx, by, cx, cy float64) float64 { return (bx-ax)*(cy-ay) - (cx-ax)*(by-ay) }
					all := area(f[i].Along, f[i].Across, f[j].Along, f[j].Across, f[k].Along, f[k].Across)
					a := area(cx, cy, f[j].Along, f[j].Across, f[k].Along, f[k].Across) / all
					b := area(f[i].Along, f[i].Across, cx, cy, f[k].Along, f[k].Across) / all
					c := 1 - a - b
					if a > 0 && b > 0 && c > 0 {
						rests = append(rests, rest{map[int]float64{i: a, j: b, k: c}, a*f[i].Gap + b*f[j].Gap + c*f[k].Gap})
					}
				}
			}
		}
		const u, limit = 0.01, DefaultSoftLimit
		bestAway, bestC, bestU, sure := math.Inf(1), 0.0, 0.0, true
		for foot := range f {
			least, leastC, leastU, any := math.Inf(1), 0.0, 0.0, false
			for _, s := range rests {
				p := s.part[foot]
				if p == 0 {
					continue
				}
				most, mostC, mostU := math.Inf(-1), 0.0, 0.0
				for _, w := range rests {
					if w.part[foot] != 0 {
						continue
					}
					sq := 0.0
					for k := range f {
						sq += (s.part[k] - w.part[k]) * (s.part[k] - w.part[k])
					}
					c, norm := (s.mean-w.mean)/p, math.Sqrt(sq)/p
					if r := (c - limit) / norm; r > most {
						most, mostC, mostU = r, c, 2*norm*u
					}
				}
				if !math.IsInf(most, 0) && most < least {
					least, leastC, leastU, any = most, mostC, mostU, true
				}
			}
			if away := math.Abs(leastC-limit) / leastU; any && away < bestAway {
				bestAway, bestC, bestU, sure = away, leastC, leastU, math.Abs(leastC-limit) >= leastU
			}
		}
		var res SoftResult
		Soft(&SoftInput{Feet: f, U: u}, &res)
		if math.IsInf(bestAway, 0) {
			continue
		}
		decided++
		if math.Abs(res.Decided-bestC) > 1e-9 || math.Abs(res.UDecided-bestU) > 1e-9 || res.Sure != sure {
			t.Errorf("%v: %g ± %g of foot %d, sure %v; by every pair of rests %g ± %g, %v", f, res.Decided, res.UDecided, res.Decider, res.Sure, bestC, bestU, sure)
		}
	}
	if decided < 30 {
		t.Errorf("%d machines", decided)
	}
}
