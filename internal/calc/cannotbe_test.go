package calc

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/tables"
)

// Numbers that cannot be, one at a time in a row that is sound without: the row ends with the status that says so, at that sweep, and no number is left behind. On both sides of each bound.
func TestReadingsThatCannotBe(t *testing.T) {
	inf := math.Inf(1)
	base := func(m Model) Input {
		var sweeps []Sweep
		switch m {
		case SpoolOnMovable, SpoolOnMovableBack, SpoolOnStationary, SpoolOnStationaryBack:
			sweeps = []Sweep{{Model: SpoolOnMovable, Length: 300, Diameter: 150}, {Model: SpoolOnStationary, Length: 300, Diameter: 150}}
		default:
			sweeps = []Sweep{{Model: RimOnMovable, Station: 80}, {Model: FaceFront, Diameter: 150}}
		}
		at := 1
		switch m {
		case RimOnMovable, SpoolOnMovable, SpoolOnMovableBack:
			at = 0
		case RimOnStationary, StepAtRim:
			at = 0
			sweeps[0].Station = -80
		}
		sweeps[at].Model = m
		in := rowInput(sweeps)
		for k := range in.Sweeps {
			s := &in.Sweeps[k]
			s.Graduation, s.U, s.Angle = 0.01, 0.005, []float64{0, 90, 180, 270}
			s.Reading, _ = Expected(s, &Line{0.1, 0.2, -0.1, 0.3}, nil)
		}
		if at == 1 {
			in.Sweeps[0], in.Sweeps[1] = in.Sweeps[1], in.Sweeps[0]
		}
		return in
	}
	type change func(s *Sweep)
	for m := range numModels {
		in := base(m)
		var res Result
		if Solve(&in, &res); res.Status != OK || res.Found.Verdict == NotJudged {
			t.Fatalf("model %d: %v", m, res.Status)
		}
		g0, g1, _ := in.Sweeps[0].gains()
		var row [4]float64
		designRow(row[:], &in.Sweeps[0], 0)
		if math.Abs(g0-row[0]) > 1e-15 || math.Abs(g1-row[1]) > 1e-15 {
			t.Errorf("model %d sees %g and %g of offset and slope, by its formula %g and %g", m, g0, g1, row[0], row[1])
		}
		try := func(what string, want Status, f change) {
			t.Helper()
			in := base(m)
			f(&in.Sweeps[0])
			var res Result
			Solve(&in, &res)
			if res.Status != want || want != OK && res.Sweep != 0 {
				t.Errorf("model %d, %s: %v of sweep %d", m, what, res.Status, res.Sweep)
			}
			if want != OK && (!math.IsNaN(res.Line.DV) || !math.IsNaN(res.Cov[0][0]) || len(res.Feet) > 0 || res.HasAfter || res.Found.Verdict != NotJudged || !math.IsNaN(res.Found.Share)) {
				t.Errorf("model %d, %s: numbers are left: %+v", m, what, res)
			}
		}
		rim := m == RimOnMovable || m == RimOnStationary || m == StepAtRim
		for _, bad := range []float64{nan, inf, -inf} {
			if rim {
				try("station", BadInput, func(s *Sweep) { s.Station = bad })
			} else {
				try("diameter", BadInput, func(s *Sweep) { s.Diameter = bad })
			}
			try("reading", BadInput, func(s *Sweep) { s.Reading = slices.Clone(s.Reading); s.Reading[2] = bad })
			try("angle", BadInput, func(s *Sweep) { s.Angle = slices.Clone(s.Angle); s.Angle[2] = bad })
			try("sag", BadInput, func(s *Sweep) { s.SagAt6 = bad })
			try("uncertainty", BadInput, func(s *Sweep) { s.U = bad })
		}
		for _, bad := range []float64{0, -150} {
			if !rim {
				try("diameter", BadInput, func(s *Sweep) { s.Diameter = bad })
			}
			if m >= SpoolOnMovable {
				try("length", BadInput, func(s *Sweep) { s.Length = bad })
			}
			try("uncertainty", BadInput, func(s *Sweep) { s.U = bad })
		}
		if m >= SpoolOnMovable {
			try("length", BadInput, func(s *Sweep) { s.Length = nan })
		}
		try("a reading too few", BadInput, func(s *Sweep) { s.Reading = s.Reading[:3] })
		try("an angle too few", BadInput, func(s *Sweep) { s.Angle = s.Angle[:3] })
		try("no reading", BadInput, func(s *Sweep) { s.Reading = nil })
		try("nothing", TooFewAngles, func(s *Sweep) { s.Reading, s.Angle = nil, nil })
		try("two angles", TooFewAngles, func(s *Sweep) { s.Reading, s.Angle = s.Reading[:2], s.Angle[:2] })
		try("two angles, three readings", TooFewAngles, func(s *Sweep) { s.Reading, s.Angle = s.Reading[:3], []float64{0, 90, 360} })
		try("one angle", TooFewAngles, func(s *Sweep) { s.Angle = []float64{10, 370, -350, 10} })
		try("three angles", OK, func(s *Sweep) { s.Reading, s.Angle = s.Reading[:3], s.Angle[:3] })
	}
	if _, _, ok := (&Sweep{Model: numModels, Station: 100, Diameter: 100, Length: 100}).gains(); ok {
		t.Error("a model that is none has gains")
	}
}

// A line that was given: every part and its uncertainty must be numbers that can be; what is missing is said, and judged is only the whole.
func TestGivenThatCannotBe(t *testing.T) {
	in := Input{Given: Line{0.1, 0.2, -0.1, 0.3}, GivenU: Line{0.01, 0.02, 0.01, 0.02}, Length: nan, FlangeStation: nan, Limits: Limits{0.5, 1}, Feet: []float64{300, 900}}
	parts := func(l *Line) [4]*float64 { return [4]*float64{&l.DV, &l.TV, &l.DH, &l.TH} }
	for k := range 4 {
		for _, c := range []struct {
			value, u float64
			want     Status
		}{
			{nan, 0.01, PartOfLine}, {nan, nan, PartOfLine}, {math.Inf(1), 0.01, BadInput}, {math.Inf(-1), 0.01, BadInput}, {2e12, 0.01, BadInput}, {0.1, nan, BadInput}, {0.1, -0.01, BadInput}, {0.1, 2e12, BadInput},
			{0.1, math.Inf(1), BadInput}, {0.1, 0, OK}, {-0.1, 0.01, OK},
		} {
			e := in
			*parts(&e.Given)[k], *parts(&e.GivenU)[k] = c.value, c.u
			var res Result
			Solve(&e, &res)
			if res.Status != c.want || (res.Found.Verdict != NotJudged) != (c.want == OK) {
				t.Errorf("part %d %g ± %g: %v, %v", k, c.value, c.u, res.Status, res.Found.Verdict)
			}
			switch c.want {
			case OK:
				if got := res.Cov[k][k]; got != c.u*c.u {
					t.Errorf("part %d: variance %g, not %g", k, got, c.u*c.u)
				}
			case PartOfLine:
				for i := range 4 {
					for j := range 4 {
						if math.IsNaN(res.Cov[i][j]) != (i == k || j == k) {
							t.Errorf("part %d is missing, covariance %d, %d is %g", k, i, j, res.Cov[i][j])
						}
					}
				}
				// The plane that is whole has its corrections, the other has none.
				for _, f := range res.Feet {
					if math.IsNaN(f.Shim) != (k < 2) || math.IsNaN(f.Move) != (k >= 2) {
						t.Errorf("part %d is missing: shim %g, move %g", k, f.Shim, f.Move)
					}
				}
			default:
				if !math.IsNaN(res.Line.DV) || len(res.Feet) > 0 {
					t.Errorf("part %d %g ± %g leaves %+v", k, c.value, c.u, res.Line)
				}
			}
		}
	}
	none := in
	none.Given = nanLine
	var res Result
	if Solve(&none, &res); res.Status != NoReadings || len(res.Feet) > 0 {
		t.Errorf("nothing given: %v", res.Status)
	}
}

// A wanted line, its covariance and a measured change must be numbers, each of them; only an offset may be free, and then the shaft stays at the offset it has.
func TestWantedThatCannotBe(t *testing.T) {
	var rng = rand.New(rand.NewPCG(16, 7))
	in := coupled(rng, 0, Line{0.1, 0.2, -0.1, 0.3})
	in.AddShares = false
	var sound Result
	Solve(&in, &sound)
	for _, bad := range []float64{nan, math.Inf(1), math.Inf(-1), 1e25} {
		for k := range 4 {
			e := clone(&in)
			*[4]*float64{&e.Wanted.DV, &e.Wanted.TV, &e.Wanted.DH, &e.Wanted.TH}[k] = bad
			var res Result
			Solve(&e, &res)
			if free := math.IsNaN(bad) && k%2 == 0; free {
				if got, found := lineArray(res.Wanted)[k], lineArray(res.Line)[k]; res.Status != OK || got != found {
					t.Errorf("free offset %d: %v, wanted %g, found %g", k, res.Status, got, found)
				}
				if o := &res.Found.Offset; k == 0 && (o.V != 0 || o.UV != 0) || k == 2 && (o.H != 0 || o.UH != 0) {
					t.Errorf("free offset %d: deviation %+v", k, *o)
				}
				continue
			}
			if res.Status != BadInput || res.Found.Verdict != NotJudged || len(res.Feet) > 0 {
				t.Errorf("wanted %d is %g: %v", k, bad, res.Status)
			}
			for j := range 4 {
				e := clone(&in)
				e.WantedCov[k][j] = bad
				if Solve(&e, &res); res.Status != BadInput {
					t.Errorf("wanted covariance %d, %d is %g: %v", k, j, bad, res.Status)
				}
				for what, at := range map[string]func(m *ColdToHot) *float64{
					"cold": func(m *ColdToHot) *float64 { return &m.ColdCov[k][j] }, "hot": func(m *ColdToHot) *float64 { return &m.HotCov[k][j] },
					"cold line":   func(m *ColdToHot) *float64 { return [4]*float64{&m.Cold.DV, &m.Cold.TV, &m.Cold.DH, &m.Cold.TH}[k] },
					"hot line":    func(m *ColdToHot) *float64 { return [4]*float64{&m.Hot.DV, &m.Hot.TV, &m.Hot.DH, &m.Hot.TH}[k] },
					"lost growth": func(m *ColdToHot) *float64 { return &m.Cooled },
				} {
					for _, found := range [2]bool{false, true} {
						e := clone(&in)
						e.Measured = &ColdToHot{FromFound: found}
						*at(e.Measured) = bad
						want := BadInput
						if found && strings.HasPrefix(what, "cold") { // not read
							want = OK
						}
						if Solve(&e, &res); res.Status != want {
							t.Errorf("%s %d, %d is %g, the readings are the cold ones: %v: %v", what, k, j, bad, found, res.Status)
						}
					}
				}
			}
		}
	}
}

// Limits, lengths and what else a verdict needs: missing it is said which, and on both sides of what counts as none.
func TestNoVerdictWithout(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 8))
	for _, c := range []struct {
		coupling              tables.Coupling
		length, offset, slope float64
		want                  Status
		flexS, offsetMatters  bool
	}{
		{tables.Flexible, nan, 0.5, 2, OK, false, true}, {tables.Flexible, nan, nan, 2, NoLimit, false, true}, {tables.Flexible, nan, 0.5, nan, NoLimit, false, true}, {tables.Flexible, nan, 0, 2, NoLimit, false, true},
		{tables.Flexible, nan, 0.5, 0, NoLimit, false, true}, {tables.Flexible, nan, -1, 2, NoLimit, false, true}, {tables.Flexible, nan, 1e-10, 2, NoLimit, false, true}, {tables.Flexible, nan, 0.5, 1e-10, NoLimit, false, true},
		{tables.Flexible, nan, 1e-8, 2, OK, false, true}, {tables.Flexible, 300, 0.5, 2, OK, false, true},
		{tables.Spacer, 300, nan, 2, OK, true, false}, {tables.Spacer, 300, 0.5, nan, NoLimit, true, false}, {tables.Spacer, nan, 0.5, 2, NoLength, false, false}, {tables.Spacer, 0, 0.5, 2, NoLength, false, false},
		{tables.Spacer, -300, 0.5, 2, NoLength, false, false}, {tables.Spacer, 0.9e-3, 0.5, 2, NoLength, false, false}, {tables.Spacer, 1.1e6, 0.5, 2, NoLength, false, false}, {tables.Spacer, 1.1e-3, 0.5, 2, OK, true, false},
		{tables.Spacer, 0.9e6, 0.5, 2, OK, true, false}, {tables.Universal, nan, nan, 2, OK, false, false}, {tables.Universal, 300, nan, 2, OK, true, false}, {tables.Universal, 300, 0.5, nan, NoLimit, true, false},
	} {
		in := coupled(rng, 0, Line{0.1, 0.2, -0.1, 0.3})
		in.AddShares = false
		in.Coupling, in.Length, in.Limits = c.coupling, c.length, Limits{c.offset, c.slope}
		var res Result
		Solve(&in, &res)
		if res.Status != c.want || (res.Found.Verdict == NotJudged) != (c.want != OK) || math.IsNaN(res.Found.Share) != (c.want != OK) || math.IsNaN(res.Found.Chance) != (c.want != OK) {
			t.Errorf("%+v: %v, %v, share %g, chance %g", c, res.Status, res.Found.Verdict, res.Found.Share, res.Found.Chance)
		}
		if math.IsNaN(res.Found.FlexS.Total) == c.flexS || math.IsNaN(res.Found.FlexM.Total) == c.flexS {
			t.Errorf("%+v: flex planes %g and %g", c, res.Found.FlexS.Total, res.Found.FlexM.Total)
		}
		if len(res.Feet) != 2 { // what is to be done does not hang on a limit
			t.Errorf("%+v: no corrections", c)
		}
	}
}

// Every ending has words of its own, an error but for the good one; so have verdicts, patterns and sides of a foot.
func TestEndingsHaveWords(t *testing.T) {
	seen := map[string]bool{}
	word := func(kind, s string) {
		t.Helper()
		if s == "" || seen[kind+s] || s != strings.ToLower(s[:1])+s[1:] && s[0] > '9' {
			t.Errorf("%s %q", kind, s)
		}
		seen[kind+s] = true
	}
	for s := range numStatus {
		word("status", s.String())
		if err := s.Err(); (err == nil) != (s == OK) || err != nil && err.Error() != "calc: "+s.String() {
			t.Errorf("%v: %v", s, err)
		}
	}
	for s := range numGrowthStatus {
		word("growth", s.String())
	}
	for s := range numSoftStatus {
		word("soft foot", s.String())
	}
	for s := range numSoftPatterns {
		word("pattern", s.String())
	}
	for v := NotJudged; v <= TooClose; v++ {
		word("verdict", v.String())
	}
	for f := NoSide + 1; f < numFootSides; f++ {
		word("side", f.String())
		m := f.Mirrored()
		if m.Mirrored() != f || (m == f) != (f == CouplingEdge || f == FreeEdge) || strings.Replace(f.String(), "3 o'", "9 o'", 1) != m.String() && strings.Replace(f.String(), "9 o'", "3 o'", 1) != m.String() {
			t.Errorf("%v seen from the other side is %v", f, m)
		}
	}
	if NoSide.String() != "" || NoSide.Mirrored() != NoSide {
		t.Errorf("no side is %q", NoSide.String())
	}
}

// The clock of a vector: 12 o'clock is up, 3 o'clock is 90°, never 360; nothing has no direction.
func TestVectorClock(t *testing.T) {
	for deg := 0.0; deg < 360; deg += 7.5 {
		s, c := math.Sincos(deg * math.Pi / 180)
		v := Vector{V: 0.3 * c, H: 0.3 * s, Total: 0.3}
		if got := v.Clock(); math.Abs(got-deg) > 1e-9 {
			t.Errorf("%g°: %g", deg, got)
		}
	}
	for _, c := range []struct{ v, h, want float64 }{{1, 0, 0}, {0, 1, 90}, {-1, 0, 180}, {0, -1, 270}, {1, -1e-300, 0}, {1, -1e-17, 0}} {
		v := Vector{V: c.v, H: c.h, Total: math.Hypot(c.v, c.h)}
		if got := v.Clock(); got != c.want {
			t.Errorf("%g, %g: %g, not %g", c.v, c.h, got, c.want)
		}
	}
	for _, total := range []float64{0, nan} {
		if got := (&Vector{Total: total}).Clock(); !math.IsNaN(got) {
			t.Errorf("a vector of %g points to %g", total, got)
		}
	}
}
