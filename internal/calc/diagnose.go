package calc

import (
	"math"
	"shimsheet/internal/sorting"
	"slices"

	"shimsheet/internal/tables"
)

// A FindingKind says what slip would explain a failed check.
type FindingKind uint8

// The kinds of finding.
const (
	OddReading   FindingKind = iota // this reading stands out; it is off by By
	AnyOfFour                       // one of the readings at 12, 3, 6, 9 is off by By: four readings cannot say which
	SignTurned                      // this reading with its sign turned mends the sweep
	Swapped                         // this reading and Other exchanged mend the sweep
	WrongUnit                       // this reading times By (a step between mil, mm and µm) mends the sweep
	DecimalPoint                    // this reading times By (10, 100, 0.1, 0.01) mends the sweep
	AllTooLarge                     // the readings of the whole row look too large by a step of units, against the limit
	AllTooSmall                     // the readings of the whole row are finer than the dial can show
)

// A Finding is one hint on what may be wrong with the readings. It never changes them.
type Finding struct {
	Kind    FindingKind
	Sweep   int     // index in Input.Sweeps; −1 for the whole row
	Reading int     // index in the sweep's readings; −1 for the whole row
	Other   int     // second reading of a swap, else −1
	By      float64 // mm off (reading minus what the others say) for OddReading and AnyOfFour, the factor that mends for units and decimals
	Score   float64 // for OddReading the normalised residual: how many standard deviations it stands out
}

const milFactor = 0.0254 // mm per mil, exact

// Diagnose lists what would explain res, the result of in, the likeliest first: the reading with the largest normalised residual where the
// readings can single one out, then single slips (a sign, two readings exchanged, a unit, a decimal point) after which the sweep
// passes its checks with room to spare. It returns at most four findings on a failed check, and none when all is well. Findings on the
// whole row (a unit step) come without a failed check too.
//
// The normalised residual of a reading is its residual over its own standard deviation, u·√(1−h), h its leverage in the whole fit; the error
// it points to is residual/(1−h). Where two readings at different positions share the largest one no single reading can be named.
//
// Reference: W. Baarda, A Testing Procedure for Use in Geodetic Networks, 1968 (largest normalised residual; from memory).
func Diagnose(in *Input, res *Result, dst []Finding) []Finding {
	start := len(dst)
	switch res.Status {
	case BalanceFailed, ClosureFailed, ResidualFailed:
		k := res.Sweep
		var stated Result // leverages are those of the readings as stated, whatever sag, distances and their own misfit made of the uncertainty
		plain := Input{Sweeps: slices.Clone(in.Sweeps), Given: noLine, Length: nan, FlangeStation: nan, Limits: Limits{nan, nan}, Checks: in.Checks, NoMisfit: true}
		for i := range plain.Sweeps {
			plain.Sweeps[i].USag = 0
		}
		Solve(&plain, &stated)
		f, named := oddReading(in, &stated, k)
		if named {
			dst = append(dst, f)
			k = f.Sweep
		}
		if k >= 0 {
			if !named && res.Status == BalanceFailed {
				dst = append(dst, Finding{AnyOfFour, k, -1, -1, res.Checks[k].Balance, 0})
			}
			dst = slips(in, k, dst)
		}
		dst = dst[:min(len(dst), start+4)]
	}
	return wholeRow(in, res, dst)
}

// oddReading finds the reading with the largest normalised residual. named is false when another position ties with it.
// With sweep ≥ 0 only that sweep is searched.
func oddReading(in *Input, res *Result, sweep int) (best Finding, named bool) {
	mem := rowsFor(1)
	defer scratch.Put(mem)
	w := &(*mem)[0]
	l := &res.Line
	second := 0.0
	for i := range in.Sweeps {
		s := &in.Sweeps[i]
		var chk SweepCheck
		if (sweep >= 0 && i != sweep) || w.load(s, nil, &in.Checks, &chk) != OK {
			continue
		}
		m := newMoments(w.u, w.v, w.y, 1/(s.U*s.U), true)
		a, b := w.g0*l.DV+w.g1*l.TV, w.g0*l.DH+w.g1*l.TH
		vv, vh, hh := cross(&res.Cov, w.g0, w.g1, w.g0, w.g1)
		for k := range w.y {
			du, dv := w.u[k]-m.mu, w.v[k]-m.mv
			h := 1/float64(len(w.y)) + m.w*(du*du*vv+2*du*dv*vh+dv*dv*hh)
			if 1-h < 1e-9 {
				continue
			}
			r := (w.y[k] - m.my) - a*du - b*dv
			score := math.Abs(r) / (s.U * math.Sqrt(1-h))
			if score > best.Score {
				if best.Score > second {
					second = best.Score
				}
				best = Finding{OddReading, i, k, -1, r / (1 - h), score}
			} else if score > second {
				second = score
			}
		}
	}
	// A tie is a tie of the design: the scores agree to rounding.
	return best, best.Score > 3 && second < best.Score*(1-1e-6)
}

// slips tries every single slip on one sweep and keeps those after which it closes within the dial's own graduations.
func slips(in *Input, k int, dst []Finding) []Finding {
	s := in.Sweeps[k]
	n := len(s.Reading)
	if n > 64 {
		return dst // too many pairs to be a hint
	}
	start := len(dst)
	trial := slices.Clone(s.Reading)
	s.Reading = trial
	mem := rowsFor(1)
	defer scratch.Put(mem)
	w := &(*mem)[0]
	mended := func() (miss float64, ok bool) {
		chk := SweepCheck{nan, nan, nan, nan, 0, 1, 0, 0}
		if w.load(&s, nil, &in.Checks, &chk) != OK {
			return 0, false
		}
		g := share(in.Checks.BalanceGraduation, 2) * s.Graduation
		m := newMoments(w.u, w.v, w.y, 1, true)
		var q normal
		q.add(&m, 1, 0)
		q.n[1][0], q.n[1][1], q.r[1] = q.n[2][0], q.n[2][2], q.r[2] // cosine and sine as the two unknowns
		p, _, solved := q.solve(2)
		if !solved || beyond(chk.Balance, g) || beyond(chk.Closure, g) {
			return 0, false
		}
		rss := max(0, m.syy-p[0]*m.uy-p[1]*m.vy)
		return rss, rss <= g*g*float64(max(1, n-3))/4*(1+1e-6)
	}
	try := func(f Finding) {
		if (f.Kind == WrongUnit || f.Kind == DecimalPoint) && math.Abs(trial[f.Reading]) < 2*s.Graduation {
			return // next to nothing: any small factor would do
		}
		if miss, ok := mended(); ok {
			f.Score = miss
			dst = append(dst, f)
		}
	}
	for i := range trial {
		orig := trial[i]
		if orig != 0 {
			trial[i] = -orig
			try(Finding{SignTurned, k, i, -1, -1, 0})
			for _, f := range [...]float64{milFactor, 1 / milFactor, 25.4, 1 / 25.4} {
				trial[i] = orig * f
				try(Finding{WrongUnit, k, i, -1, f, 0})
			}
			for _, f := range [...]float64{10, 0.1, 100, 0.01} {
				trial[i] = orig * f
				try(Finding{DecimalPoint, k, i, -1, f, 0})
			}
			trial[i] = orig
		}
		for j := i + 1; j < n; j++ {
			trial[i], trial[j] = trial[j], trial[i]
			if trial[i] != trial[j] {
				try(Finding{Swapped, k, i, j, 0, 0})
			}
			trial[i], trial[j] = trial[j], trial[i]
		}
	}
	sorting.By(dst[start:], func(a, b *Finding) int {
		switch {
		case a.Score < b.Score:
			return -1
		case a.Score > b.Score:
			return 1
		}
		return int(a.Kind) - int(b.Kind)
	})
	return dst
}

// manyDivisions is how many divisions of a dial a reading at a coupling does not reach: 4 mm on a dial of 0.01 mm, past which the unit is asked about.
const manyDivisions = 400

// wholeRow looks for a step of units over all readings: far past the limit and back in reach of it when divided by 39.4 (mil typed among
// millimetres), or every reading that is not the same as the first finer than a graduation.
func wholeRow(in *Input, res *Result, dst []Finding) []Finding {
	if len(in.Sweeps) == 0 {
		return dst
	}
	largest, moving, graduation, dial := 0.0, 0, 0.0, true
	fine := true
	for i := range in.Sweeps {
		s := &in.Sweeps[i]
		dial = dial && s.Model != GapBetween && s.Model != StepAtRim
		graduation = max(graduation, s.Graduation)
		for _, r := range s.Reading {
			d := math.Abs(r - s.Reading[0])
			largest = max(largest, d)
			if d > 0 {
				moving++
				fine = fine && d < 0.5*s.Graduation
			}
		}
	}
	if moving >= 4 && fine {
		return append(dst, Finding{AllTooSmall, -1, -1, -1, 1 / milFactor, 0})
	}
	if dial && in.Coupling != tables.Universal && graduation > 0 && largest > manyDivisions*graduation {
		return append(dst, Finding{AllTooLarge, -1, -1, -1, milFactor, 0})
	}
	if sh := res.Found.Share; sh > 15 && sh*milFactor < 4 && largest > 2.5 {
		return append(dst, Finding{AllTooLarge, -1, -1, -1, milFactor, 0})
	}
	return dst
}
