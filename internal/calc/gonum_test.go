package calc

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// randomDesign draws one to five sweeps of any models, positions, droops and uncertainties, and readings with noise.
func randomDesign(rng *rand.Rand) []Sweep {
	truth := Line{either(rng, 0, 1), either(rng, 0, 3), either(rng, 0, 1), either(rng, 0, 3)}
	length := between(rng, 100, 1500)
	sweeps := make([]Sweep, 1+rng.IntN(5))
	for i := range sweeps {
		s := &sweeps[i]
		s.Model = Model(rng.IntN(int(numModels)))
		s.Station, s.Diameter, s.Length = either(rng, 0, 800), between(rng, 50, 600), length
		s.Angle = randomAngles(rng, 45)
		if rng.IntN(4) == 0 { // a few positions twice, and in no order
			s.Angle = append(s.Angle, s.Angle[rng.IntN(len(s.Angle))], s.Angle[0]+360)
			rng.Shuffle(len(s.Angle), func(a, b int) { s.Angle[a], s.Angle[b] = s.Angle[b], s.Angle[a] })
		}
		if rng.IntN(2) == 0 {
			s.SagAt6 = -between(rng, 0, 0.4)
		}
		s.Graduation, s.U = 0.01, []float64{0.002, 0.004, 0.01, 0.05}[rng.IntN(4)]
		c := either(rng, 0, 2)
		for _, a := range s.Angle {
			var row [4]float64
			designRow(row[:], s, a)
			sag := s.SagAt6 * (1 - math.Cos(a*math.Pi/180)) / 2
			s.Reading = append(s.Reading, c+sag+row[0]*truth.DV+row[1]*truth.TV+row[2]*truth.DH+row[3]*truth.TH+s.U*rng.NormFloat64())
		}
	}
	return sweeps
}

// explicit lays out the whole weighted design, a row a reading: DV, TV, DH, TH and one constant a sweep, in mm and mm/m.
func explicit(sweeps []Sweep) (a *mat.Dense, y []float64) {
	rows := 0
	for i := range sweeps {
		rows += len(sweeps[i].Angle)
	}
	a = mat.NewDense(rows, 4+len(sweeps), nil)
	k := 0
	for i := range sweeps {
		s := &sweeps[i]
		for j, ang := range s.Angle {
			row := make([]float64, 4+len(sweeps))
			designRow(row, s, ang)
			row[4+i] = 1
			for c := range row {
				a.Set(k, c, row[c]/s.U)
			}
			y = append(y, (s.Reading[j]-s.SagAt6*(1-math.Cos(ang*math.Pi/180))/2)/s.U)
			k++
		}
	}
	return a, y
}

// equilibrated returns the condition number of a with its columns scaled to one.
func equilibrated(a *mat.Dense) float64 {
	r, c := a.Dims()
	b := mat.DenseCopyOf(a)
	for j := range c {
		n := mat.Norm(a.ColView(j), 2)
		if n == 0 {
			return math.Inf(1)
		}
		for i := range r {
			b.Set(i, j, a.At(i, j)/n)
		}
	}
	return mat.Cond(b, 2)
}

// TestGonum solves random designs with gonum, the whole matrix with every constant in it: the line by QR and the covariance by the
// singular values.
//
// Tolerance 1e-9 of Σ|G||y|, what the readings put into each number before they cancel (G the pseudo-inverse): the
// normal equations square the condition, which is under 1e3 for what is compared, so about 1e6 × 2e-16 with the growth of
// some forty readings; gonum's own error is far less. The covariance 1e-9 of √(Cii·Cjj) for the same reason.
func TestGonum(t *testing.T) {
	//evidence: calc=least squares of all sweeps grade=independent count=10000 source=gonum v0.17.0, mat.QR and mat.SVD on the whole weighted design
	rng := rand.New(rand.NewPCG(7, 7))
	var res Result
	compared, refused, worst := 0, 0, 0.0
	want := simCount(10000)
	for tries := 0; compared < want; tries++ {
		if tries > 20*want {
			t.Fatalf("only %d designs of %d could be solved", compared, tries)
		}
		sweeps := randomDesign(rng)
		in := Input{Sweeps: sweeps, Limits: Limits{math.NaN(), math.NaN()}, Given: nanLine, Length: math.NaN(), FlangeStation: math.NaN(), NoMisfit: true}
		Solve(&in, &res)
		a, y := explicit(sweeps)
		rows, cols := a.Dims()
		cond := math.Inf(1)
		if rows >= cols {
			cond = equilibrated(a)
		}
		switch res.Status {
		case PlanesCoincide, IllConditioned:
			refused++
			if cond < 1e3 {
				t.Fatalf("refused (%v) with a condition of only %g: %+v", res.Status, cond, sweeps)
			}
			continue
		case NoLimit, BalanceFailed, ClosureFailed, ResidualFailed: // noise may well fail a check; the line is there
		default:
			t.Fatalf("status %v of %+v", res.Status, sweeps)
		}
		if cond > 1e6 {
			t.Fatalf("accepted with a condition of %g: %+v", cond, sweeps)
		}
		if cond > 1e3 {
			continue
		}
		compared++

		var qr mat.QR
		qr.Factorize(a)
		var x mat.VecDense
		if err := qr.SolveVecTo(&x, false, mat.NewVecDense(rows, y)); err != nil {
			t.Fatal(err)
		}
		var svd mat.SVD
		if !svd.Factorize(a, mat.SVDThin) {
			t.Fatal("no singular values")
		}
		var u, v mat.Dense
		svd.UTo(&u)
		svd.VTo(&v)
		sv := svd.Values(nil)
		got := lineArray(res.Line)
		for i := range 4 {
			scale := 0.0
			for r := range rows {
				g := 0.0
				for k := range cols {
					g += v.At(i, k) / sv[k] * u.At(r, k)
				}
				scale += math.Abs(g * y[r])
			}
			d := math.Abs(got[i] - x.AtVec(i))
			worst = math.Max(worst, d/scale)
			if !(d <= 1e-9*scale) {
				t.Fatalf("%s: %.15g, gonum %.15g, condition %g: %+v", lineNames[i], got[i], x.AtVec(i), cond, sweeps)
			}
		}
		var cov [4][4]float64
		for i := range 4 {
			for j := range 4 {
				for k := range cols {
					cov[i][j] += v.At(i, k) * v.At(j, k) / (sv[k] * sv[k])
				}
			}
		}
		for i := range 4 {
			for j := range 4 {
				if d := math.Abs(res.Cov[i][j] - cov[i][j]); !(d <= 1e-9*math.Sqrt(cov[i][i]*cov[j][j])) {
					t.Fatalf("covariance %d %d: %.15g, gonum %.15g", i, j, res.Cov[i][j], cov[i][j])
				}
			}
		}
		// The residual standard deviation, weighted, in mm with the weights scaled to a mean of one.
		if res.DOF != rows-cols {
			t.Fatalf("%d readings to spare, want %d", res.DOF, rows-cols)
		}
		if rows > cols {
			rss, sw, k := 0.0, 0.0, 0
			for i := range sweeps {
				for range sweeps[i].Angle {
					r := y[k]
					for c := range cols {
						r -= a.At(k, c) * x.AtVec(c)
					}
					rss += r * r
					sw += 1 / (sweeps[i].U * sweeps[i].U)
					k++
				}
			}
			sd := math.Sqrt(rss / sw * float64(rows) / float64(rows-cols))
			if !(math.Abs(res.ResidualSD-sd) <= 1e-8*sd+1e-12) {
				t.Fatalf("residual standard deviation %.15g, gonum %.15g", res.ResidualSD, sd)
			}
		} else if !math.IsNaN(res.ResidualSD) {
			t.Fatalf("residual standard deviation %g without readings to spare", res.ResidualSD)
		}
	}
	if refused < want/50 {
		t.Errorf("only %d refused designs were drawn", refused)
	}
	t.Logf("%d compared, %d refused, worst difference %.1e of the scale", compared, refused, worst)
}

// TestRefused names what cannot be solved. An unguarded solver gives a number for every one of these.
func TestRefused(t *testing.T) {
	//evidence: calc=designs that leave the line undetermined grade=identity count=16 source=rank of the design
	q := []float64{0, 90, 180, 270}
	arc := func(from, span float64, n int) []float64 {
		a := make([]float64, n)
		for i := range a {
			a[i] = from + span*float64(i)/float64(n-1)
		}
		return a
	}
	rim := func(x float64, a []float64) Sweep { return Sweep{Model: RimOnMovable, Station: x, Angle: a} }
	sta := func(x float64, a []float64) Sweep { return Sweep{Model: RimOnStationary, Station: x, Angle: a} }
	face := func(d float64, a []float64) Sweep { return Sweep{Model: FaceFront, Diameter: d, Angle: a} }
	spool := func(m Model) Sweep { return Sweep{Model: m, Diameter: 200, Length: 400, Angle: q} }
	for _, c := range []struct {
		words  string
		sweeps []Sweep
		want   Status
		sweep  int
	}{
		{"nothing at all", nil, NoReadings, -1},
		{"two rims at one station", []Sweep{rim(100, q), rim(100, q)}, PlanesCoincide, -1},
		{"rims on both hubs at one station", []Sweep{rim(80, q), sta(80, q)}, PlanesCoincide, -1},
		{"two rims a tenth of a micrometre apart", []Sweep{rim(100, q), rim(100.0001, q)}, PlanesCoincide, -1},
		{"one rim alone", []Sweep{rim(100, q)}, PlanesCoincide, -1},
		{"faces alone say nothing of the offset", []Sweep{face(200, q), face(300, q)}, PlanesCoincide, -1},
		{"one spool dial alone", []Sweep{spool(SpoolOnStationary)}, PlanesCoincide, -1},
		{"front and back of the same hub from the spool", []Sweep{spool(SpoolOnStationary), spool(SpoolOnStationaryBack)}, PlanesCoincide, -1},
		{"two positions on the second sweep", []Sweep{rim(100, q), sta(-100, []float64{0, 180})}, TooFewAngles, 1},
		{"two positions, each twice", []Sweep{rim(100, []float64{0, 90, 360, 450}), sta(-100, q)}, TooFewAngles, 0},
		{"one position", []Sweep{rim(100, []float64{0}), sta(-100, q)}, TooFewAngles, 0},
		{"an arc of one degree on both", []Sweep{rim(100, arc(40, 1, 9)), sta(-100, arc(40, 1, 9))}, IllConditioned, -1},
		{"an arc of one degree about 12 o'clock", []Sweep{rim(100, arc(-0.5, 1, 9)), sta(-100, arc(-0.5, 1, 9))}, IllConditioned, -1},
		{"an arc of one degree about 3 o'clock", []Sweep{rim(100, arc(89.5, 1, 9)), sta(-100, arc(89.5, 1, 9))}, IllConditioned, -1},
		{"an arc of one degree on one of two", []Sweep{rim(100, q), sta(-100, arc(200, 1, 5))}, IllConditioned, -1},
		{"no readings in a sweep", []Sweep{rim(100, q), sta(-100, nil)}, TooFewAngles, 1},
	} {
		for i := range c.sweeps {
			s := &c.sweeps[i]
			s.U, s.Graduation = 0.003, 0.01
			s.Reading = make([]float64, len(s.Angle))
			for k := range s.Reading {
				s.Reading[k] = 0.01 * float64((k*7+i)%3)
			}
		}
		var res Result
		Solve(&Input{Sweeps: c.sweeps, Given: nanLine, Length: math.NaN(), Limits: Limits{0.05, 0.5}, FlangeStation: math.NaN(), Feet: []float64{300, 900}}, &res)
		if res.Status != c.want || res.Sweep != c.sweep {
			t.Errorf("%s: status %v of sweep %d, want %v of %d", c.words, res.Status, res.Sweep, c.want, c.sweep)
		}
		if res.Found.Verdict != NotJudged || len(res.Feet) > 0 || !math.IsNaN(res.Line.DV) || !math.IsNaN(res.Found.Chance) {
			t.Errorf("%s: numbers are left over: %+v", c.words, res)
		}
	}
}
