package calc

import (
	"bufio"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// straight fits y = c + b·x, or y = b·x without a constant, through the moments and normal equations that every sweep goes through.
func straight(x, y []float64, hasConst bool) (c, b, sdB, rss float64, ok bool) {
	zero := make([]float64, len(x))
	m := newMoments(x, zero, y, 1, hasConst)
	var q normal
	q.add(&m, 1, 0)
	p, cov, ok := q.solve(1)
	b = p[0]
	if hasConst {
		c = m.my - b*m.mu
	}
	for i := range x {
		r := y[i] - c - b*x[i]
		rss += r * r
	}
	return c, b, math.Sqrt(cov[0][0]), rss, ok
}

// digits is the number of digits two values agree in.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

// TestNISTNorris fits the Norris data. Certified values have 15 digits; 11 are asked for the parameters, which a double-precision fit of
// data with two and three digits over a range of 1:1000 keeps easily when it is centred.
func TestNISTNorris(t *testing.T) {
	//evidence: calc=least squares of all sweeps grade=published count=4 source=NIST StRD, Norris, certified values
	f, err := os.Open("../../testdata/nist/Norris.dat")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var x, y []float64
	certified := map[string]float64{}
	sc := bufio.NewScanner(f)
	for line := 1; sc.Scan(); line++ {
		w := strings.Fields(sc.Text())
		switch {
		case line >= 61 && line <= 96: // as the head of the file says
			a, err1 := strconv.ParseFloat(w[0], 64)
			b, err2 := strconv.ParseFloat(w[1], 64)
			if err1 != nil || err2 != nil {
				t.Fatalf("line %d: %q", line, sc.Text())
			}
			y, x = append(y, a), append(x, b)
		case len(w) == 3 && (w[0] == "B0" || w[0] == "B1"):
			certified[w[0]], _ = strconv.ParseFloat(w[1], 64)
			certified["sd "+w[0]], _ = strconv.ParseFloat(w[2], 64)
		case len(w) == 3 && w[0] == "Standard" && w[1] == "Deviation":
			certified["s"], _ = strconv.ParseFloat(w[2], 64)
		}
	}
	if len(x) != 36 || certified["B1"] != 1.00211681802045 || certified["B0"] != -0.262323073774029 || certified["s"] != 0.884796396144373 {
		t.Fatalf("the file is not what it was: %d rows, %v", len(x), certified)
	}
	c, b, sdB, rss, ok := straight(x, y, true)
	s := math.Sqrt(rss / float64(len(x)-2))
	if !ok {
		t.Fatal("refused")
	}
	for _, k := range []struct {
		name      string
		got, want float64
		atLeast   float64
	}{
		{"B0", c, certified["B0"], 11},
		{"B1", b, certified["B1"], 13},
		{"residual standard deviation", s, certified["s"], 12},
		{"standard deviation of B1", s * sdB, certified["sd B1"], 12},
	} {
		if d := digits(k.got, k.want); d < k.atLeast {
			t.Errorf("%s: %.15g, certified %.15g: %.1f digits", k.name, k.got, k.want, d)
		}
	}
}

// TestNISTNoInt fits lines through the origin: NoInt1 and NoInt2 of the same collection, whose answers are fractions.
func TestNISTNoInt(t *testing.T) {
	//evidence: calc=least squares of all sweeps grade=published count=4 source=NIST StRD, NoInt1 and NoInt2, certified values as fractions
	var x1, y1 []float64
	for i := range 11 {
		x1, y1 = append(x1, float64(60+i)), append(y1, float64(130+i))
	}
	for _, c := range []struct {
		name   string
		x, y   []float64
		b, rss float64
	}{
		{"NoInt1", x1, y1, 251.0 / 121, 1400.0 / 11},
		{"NoInt2", []float64{4, 5, 6}, []float64{3, 4, 4}, 8.0 / 11, 3.0 / 11},
	} {
		_, b, _, rss, ok := straight(c.x, c.y, false)
		if !ok || digits(b, c.b) < 14 || digits(rss, c.rss) < 12 {
			t.Errorf("%s: slope %.15g, sum of squares %.15g; certified %.15g, %.15g", c.name, b, rss, c.b, c.rss)
		}
	}
}

// TestHarmonic holds a full turn of equal steps to the sums of its cosines and sines, and four readings to the half differences.
func TestHarmonic(t *testing.T) {
	//evidence: calc=least squares of all sweeps grade=identity count=17 source=discrete Fourier sums, a = 2/N Σ r cos φ; for four readings the half differences
	for n := 3; n <= 19; n++ {
		var s Sweep
		s.Model, s.Station, s.U, s.Graduation = RimOnMovable, 100, 0.003, 0.01
		o := Sweep{Model: RimOnStationary, Station: -100, U: 0.003, Graduation: 0.01}
		var a, b float64
		for i := range n {
			phi := 360 * float64(i) / float64(n)
			r := math.Sin(float64(i*i)) * 0.3
			s.Angle, s.Reading = append(s.Angle, phi), append(s.Reading, r)
			o.Angle, o.Reading = append(o.Angle, phi), append(o.Reading, 0)
			a += 2 / float64(n) * r * math.Cos(phi*math.Pi/180)
			b += 2 / float64(n) * r * math.Sin(phi*math.Pi/180)
		}
		if n == 4 {
			a, b = (s.Reading[0]-s.Reading[2])/2, (s.Reading[1]-s.Reading[3])/2
		}
		var res Result
		Solve(&Input{Sweeps: []Sweep{s, o}, Limits: Limits{math.NaN(), math.NaN()}, Length: math.NaN(), Checks: loose, FlangeStation: math.NaN()}, &res)
		l := res.Line
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"V at the dial", l.DV + 0.1*l.TV, a}, {"H at the dial", l.DH + 0.1*l.TH, b},
			{"V at the other dial", l.DV - 0.1*l.TV, 0}, {"H at the other dial", l.DH - 0.1*l.TH, 0},
		} {
			if !(math.Abs(c.got-c.want) <= 1e-14) { // readings of 0.3 mm, some rounding each
				t.Errorf("%d positions, %s: %.17g, want %.17g", n, c.name, c.got, c.want)
			}
		}
		if n == 4 {
			second := 0.0
			for i, r := range s.Reading {
				second += r * math.Cos(math.Pi*float64(i)) / 4
			}
			if got := res.Checks[0].Balance; !(math.Abs(got-4*second) <= 1e-15) {
				t.Errorf("balance %.17g, four times the second harmonic %.17g", got, 4*second)
			}
		}
	}
}
