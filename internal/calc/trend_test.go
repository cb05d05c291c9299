package calc

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Slope, scatter and repeatability are those of a general-purpose library.
func TestTrend(t *testing.T) {
	//evidence: calc=trend and repeatability grade=independent count=2040 source=gonum: stat.LinearRegression, stat.RSquared, stat.MeanStdDev and Student's t of stat/distuv
	rng := rand.New(rand.NewPCG(2, 17))
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	for range 1000 {
		n := 3 + rng.IntN(12)
		x, y := make([]float64, n), make([]float64, n)
		for k := range x {
			x[k], y[k] = 2000+30*rng.Float64(), rng.NormFloat64()
		}
		slope, u, scatter := Trend(x, y)
		a, b := stat.LinearRegression(x, y, nil, false)
		near("slope", slope, b, 1e-9)
		rest := 0.0
		for k := range x {
			rest += (y[k] - a - b*x[k]) * (y[k] - a - b*x[k])
		}
		near("scatter", scatter, math.Sqrt(rest/float64(n-2)), 1e-7)
		r2 := stat.RSquared(x, y, nil, a, b) // the standard error of a slope is |b|·√((1/R² − 1)/(n − 2))
		near("uncertainty of the slope", u, math.Abs(b)*math.Sqrt((1/r2-1)/float64(n-2)), 1e-6*(1+u))
		mean, sd := MeanSD(y)
		m, s := stat.MeanStdDev(y, nil)
		near("mean", mean, m, 1e-12)
		near("standard deviation", sd, s, 1e-12)
	}
	for f := 1; f <= 40; f++ {
		near("coverage", Coverage(f), distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(f)}.Quantile(0.975), 1e-3)
	}
	if s, u, _ := Trend([]float64{1, 2}, []float64{3, 5}); s != 2 || !math.IsNaN(u) {
		t.Error("two points:", s, u)
	}
	for _, x := range [][]float64{nil, {1}, {1, 1, 1}} {
		if s, _, _ := Trend(x, x); !math.IsNaN(s) {
			t.Error("a slope of", x, s)
		}
	}
	if !math.IsNaN(Coverage(0)) {
		t.Error("a factor of no degree of freedom")
	}
}
