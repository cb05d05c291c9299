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

// Each number of a growth has what it can be: one past it is refused with its support and part, one short of it is not. Parts are refused where they stand, what is given where it is given, the line wanted hot at no support.
func TestGrowthNumbers(t *testing.T) {
	inf := math.Inf(1)
	whole := func() *GrowthInput {
		p := GrowthPart{Height: 500, Alpha: 11, Cold: 10, Running: 60, UAlpha: 0.05, UCold: 1, URunning: 2}
		q := GrowthPart{Height: 300, Alpha: nan, Table: &MeanTable{21, []float64{0, 50, 100}, []float64{11, 11.5, 12}}, Cold: 20, Running: 80, Across: true}
		in := &GrowthInput{Hot: Line{0.1, 0.2, 0.1, 0.2}}
		for _, x := range []float64{300, 900, -300, -900} {
			s := noGrowth(x > 0, x, p, q)
			s.Parts = slices.Clone(s.Parts)
			table := *q.Table
			table.Temp, table.Mean = slices.Clone(table.Temp), slices.Clone(table.Mean)
			s.Parts[1].Table = &table
			in.Supports = append(in.Supports, s)
		}
		return in
	}
	type place struct {
		what          string
		at            func(in *GrowthInput, k int) *float64
		status        GrowthStatus
		part          int
		bad, good     []float64
		withoutStatus bool
	}
	first := func(f func(p *GrowthPart) *float64) func(in *GrowthInput, k int) *float64 {
		return func(in *GrowthInput, k int) *float64 { return f(&in.Supports[k].Parts[0]) }
	}
	table := func(f func(m *MeanTable) *float64) func(in *GrowthInput, k int) *float64 {
		return func(in *GrowthInput, k int) *float64 { return f(in.Supports[k].Parts[1].Table) }
	}
	for _, c := range []place{
		{"height", first(func(p *GrowthPart) *float64 { return &p.Height }), GrowthBadNumber, 0, []float64{nan, inf, -inf}, []float64{0, -200, 1e5}, false},
		{"coefficient", first(func(p *GrowthPart) *float64 { return &p.Alpha }), GrowthBadNumber, 0, []float64{inf, -inf}, []float64{0, -2}, false},
		{"no coefficient", first(func(p *GrowthPart) *float64 { return &p.Alpha }), GrowthNoMaterial, 0, []float64{nan}, nil, false},
		{"cold", first(func(p *GrowthPart) *float64 { return &p.Cold }), GrowthBadNumber, 0, []float64{nan, inf, -inf, -273.16, 1e12}, []float64{-273.15, 1000}, false},
		{"running", first(func(p *GrowthPart) *float64 { return &p.Running }), GrowthBadNumber, 0, []float64{nan, inf, -inf, -273.16, 1e12}, []float64{-273.15, 1000}, false},
		{"u of the coefficient", first(func(p *GrowthPart) *float64 { return &p.UAlpha }), GrowthBadNumber, 0, []float64{nan, -1e-9}, []float64{0, 1}, false},
		{"u of cold", first(func(p *GrowthPart) *float64 { return &p.UCold }), GrowthBadNumber, 0, []float64{nan, -1e-9}, []float64{0, 1}, false},
		{"u of running", first(func(p *GrowthPart) *float64 { return &p.URunning }), GrowthBadNumber, 0, []float64{nan, -1e-9}, []float64{0, 1}, false},
		{"an endless u", first(func(p *GrowthPart) *float64 { return &p.UCold }), GrowthBadNumber, -1, []float64{inf}, nil, false},
		{"station", func(in *GrowthInput, k int) *float64 { return &in.Supports[k].Station }, GrowthBadNumber, -1, []float64{nan, inf, -inf, 1e12, -1e12}, []float64{5000, -5000}, false},
		{"given up", func(in *GrowthInput, k int) *float64 { return &in.Supports[k].GivenV }, GrowthBadNumber, -1, []float64{inf, -inf, 1e12}, []float64{nan, 0, -1}, false},
		{"given sideways", func(in *GrowthInput, k int) *float64 { return &in.Supports[k].GivenH }, GrowthBadNumber, -1, []float64{inf, -inf, 1e12}, []float64{nan, 0, -1}, false},
		{"u of what is not given", func(in *GrowthInput, k int) *float64 { return &in.Supports[k].UGivenV }, GrowthBadNumber, -1, nil, []float64{nan, -1, 0, 1}, false},
		{"hot offset V", func(in *GrowthInput, k int) *float64 { return &in.Hot.DV }, GrowthBadNumber, -1, []float64{inf, -inf}, []float64{nan, 5}, true},
		{"hot offset H", func(in *GrowthInput, k int) *float64 { return &in.Hot.DH }, GrowthBadNumber, -1, []float64{inf, -inf}, []float64{nan, 5}, true},
		{"hot slope V", func(in *GrowthInput, k int) *float64 { return &in.Hot.TV }, GrowthBadNumber, -1, []float64{nan, inf, -inf, 1e12}, []float64{0, 5}, true},
		{"hot slope H", func(in *GrowthInput, k int) *float64 { return &in.Hot.TH }, GrowthBadNumber, -1, []float64{nan, inf, -inf, 1e12}, []float64{0, 5}, true},
		{"reference", table(func(m *MeanTable) *float64 { return &m.Reference }), GrowthBadTable, 1, []float64{nan, inf}, []float64{-100, 20, 500}, false},
		{"first temperature", table(func(m *MeanTable) *float64 { return &m.Temp[0] }), GrowthBadTable, 1, []float64{nan, -inf, 50, 60}, []float64{-100, 20}, false},
		{"middle temperature", table(func(m *MeanTable) *float64 { return &m.Temp[1] }), GrowthBadTable, 1, []float64{nan, inf, 0, 100, 101}, []float64{0.1, 99.9}, false},
		{"last temperature", table(func(m *MeanTable) *float64 { return &m.Temp[2] }), GrowthBadTable, 1, []float64{nan, inf, 50, 49}, []float64{80, 500}, false},
		{"last temperature below the running one", table(func(m *MeanTable) *float64 { return &m.Temp[2] }), GrowthOutsideTable, 1, []float64{79.9, 51}, nil, false},
		{"first temperature above the cold one", table(func(m *MeanTable) *float64 { return &m.Temp[0] }), GrowthOutsideTable, 1, []float64{20.1, 49}, nil, false},
		{"mean", table(func(m *MeanTable) *float64 { return &m.Mean[1] }), GrowthBadTable, 1, []float64{nan, inf, -inf}, []float64{0, 20}, false},
	} {
		for k := range 4 {
			var res GrowthResult
			for _, v := range c.bad {
				in := whole()
				*c.at(in, k) = v
				Growth(in, &res)
				support := k
				if c.withoutStatus {
					support = -1
				}
				if res.Status != c.status || res.Support != support || res.Part != c.part {
					t.Errorf("support %d, %s %g: %v at %d, %d", k, c.what, v, res.Status, res.Support, res.Part)
				}
				for _, x := range []float64{res.Wanted.DV, res.Wanted.TH, res.Movable.TV, res.Stationary.DH, res.Cov[0][0], res.Cov[3][2]} {
					if !math.IsNaN(x) {
						t.Errorf("support %d, %s %g leaves %g", k, c.what, v, x)
					}
				}
				for j := range res.Supports {
					if g := res.Supports[j]; !math.IsNaN(g.V) || !math.IsNaN(g.UV) || !math.IsNaN(g.H) || !math.IsNaN(g.UH) {
						t.Errorf("support %d, %s %g leaves %+v at %d", k, c.what, v, g, j)
					}
				}
			}
			for _, v := range c.good {
				in := whole()
				*c.at(in, k) = v
				if Growth(in, &res); res.Status != GrowthOK || res.Support != -1 || res.Part != -1 {
					t.Errorf("support %d, %s %g: %v at %d, %d", k, c.what, v, res.Status, res.Support, res.Part)
				}
			}
		}
	}
	for _, m := range []*MeanTable{{21, nil, nil}, {21, []float64{50}, nil}, {21, []float64{50, 60}, []float64{11}}, {21, []float64{50}, []float64{11, 12}}} {
		in := whole()
		in.Supports[2].Parts[1].Table = m
		var res GrowthResult
		if Growth(in, &res); res.Status != GrowthBadTable || res.Support != 2 || res.Part != 1 {
			t.Errorf("%+v: %v at %d, %d", *m, res.Status, res.Support, res.Part)
		}
	}
	// Growths that can be, of supports that can be, and a line at the coupling that cannot: past a thousand kilometres.
	for plane := range 2 {
		for _, movable := range []bool{false, true} {
			in := &GrowthInput{}
			for _, x := range []float64{1e9, 1e9 + 1} {
				s := noGrowth(movable, x)
				g := (x - 1e9) * 2e3
				if s.GivenV, s.GivenH = g, 0; plane == 1 {
					s.GivenV, s.GivenH = 0, g
				}
				in.Supports = append(in.Supports, s)
			}
			var res GrowthResult
			if Growth(in, &res); res.Status != GrowthBadNumber || !math.IsNaN(res.Wanted.DV) {
				t.Errorf("plane %d, movable %v: %v, %+v", plane, movable, res.Status, res.Wanted)
			}
		}
	}
	// Supports a millimetre apart are two, closer they are one; which machine, is said.
	for _, c := range []struct {
		apart float64
		want  GrowthStatus
	}{{1, GrowthOK}, {0.99, GrowthOneSupport}, {0, GrowthOneSupport}} {
		for k := range 4 {
			in := whole()
			in.Supports[k].Station = in.Supports[k^1].Station + c.apart
			var res GrowthResult
			if Growth(in, &res); res.Status != c.want || c.want != GrowthOK && res.Support/2 != k/2 {
				t.Errorf("%g mm apart at %d: %v at %d", c.apart, k, res.Status, res.Support)
			}
		}
	}
}

// What a table of means says at its ends, at its entries and at its reference, wherever that lies: by hand, growth = mean · (temperature − reference), and nothing at the reference. Within a billionth of an end it is the end.
func TestMeansByHand(t *testing.T) {
	m := MeanTable{20, []float64{50, 100, 300}, []float64{11, 12, 14}}
	for _, c := range []struct{ temp, want float64 }{{50, 11 * 30}, {100, 12 * 80}, {300, 14 * 280}, {75, 11.5 * 55}, {60, 11.2 * 40}, {90, 11.8 * 70}, {200, 13 * 180}, {20, 0}, {50 * (1 - 1e-12), 330}, {300 * (1 + 1e-12), 14 * 280}} {
		if got, _, ok := m.strain(c.temp); !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g °C: %g, %v, by hand %g", c.temp, got, ok, c.want)
		}
	}
	for _, temp := range []float64{49.999, 300.001, 20.001, 19.999, -20, 1000} {
		if got, _, ok := m.strain(temp); ok {
			t.Errorf("%g °C is outside, and grows by %g", temp, got)
		}
	}
	// The slope is what the strain does a little to either side.
	for _, temp := range []float64{51, 60, 74, 76, 99, 101, 200, 299} {
		a, _, _ := m.strain(temp - 1e-4)
		b, _, _ := m.strain(temp + 1e-4)
		if _, slope, _ := m.strain(temp); math.Abs(slope-(b-a)/2e-4) > 1e-5 {
			t.Errorf("%g °C: slope %g, by difference %g", temp, slope, (b-a)/2e-4)
		}
	}
	// At a reference below or above the list the mean is that of the nearer end.
	for _, c := range []struct{ reference, slope float64 }{{20, 11}, {400, 14}} {
		m.Reference = c.reference
		if got, slope, ok := m.strain(c.reference); !ok || got != 0 || slope != c.slope {
			t.Errorf("reference %g: %g, slope %g, %v", c.reference, got, slope, ok)
		}
	}
	one := MeanTable{20, []float64{100}, []float64{12}}
	if got, slope, ok := one.strain(100); !ok || got != 960 || slope != 12 {
		t.Errorf("one entry: %g, slope %g, %v", got, slope, ok)
	}
	if _, _, ok := one.strain(101); ok {
		t.Error("one entry, and past it a growth")
	}
}
