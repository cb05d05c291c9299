package calc

import (
	"math"
	"testing"
)

// TestCurve: at 12, 3, 6 and 9 o'clock the fitted curve has the textbook half-differences as its parts, the mean as its constant, and goes
// through the readings when top and bottom balance left and right.
//
// Source: half the difference of opposite readings is the offset at the rim, common practice for dial readings; e.g. H. P. Bloch and F. K.
// Geitner, Machinery Component Maintenance and Repair, ch. 5 (from memory).
func TestCurve(t *testing.T) {
	angle := []float64{0, 90, 180, 270}
	in := Input{Given: noLine, Length: nan, Limits: Limits{nan, nan}, Sweeps: []Sweep{
		{Model: RimOnMovable, Station: 125, Angle: angle, Reading: []float64{0, 0.30, 0.46, 0.16}, SagAt6: -0.04, Graduation: 0.01, U: 0.005},
		{Model: RimOnStationary, Station: -110, Angle: angle, Reading: []float64{0, -0.22, -0.32, -0.10}, Graduation: 0.01, U: 0.005},
	}}
	var res Result
	Solve(&in, &res)
	if res.Status.Err() != nil && res.Status != NoLimit {
		t.Fatal(res.Status)
	}
	for k := range in.Sweeps {
		s := &in.Sweeps[k]
		var y [4]float64
		for i, r := range s.Reading {
			y[i] = r - s.SagAt6/2*(1-math.Cos(angle[i]*math.Pi/180))
			if got := s.Corrected(i); math.Abs(got-y[i]) > 1e-12 {
				t.Errorf("sweep %d: reading %d is %g without sag, not %g", k, i, got, y[i])
			}
		}
		a, b, ok := s.Curve(&res.Line)
		c := s.Constant(a, b)
		for _, q := range [][2]float64{{a, (y[0] - y[2]) / 2}, {b, (y[1] - y[3]) / 2}, {c, (y[0] + y[1] + y[2] + y[3]) / 4}} {
			if !ok || math.Abs(q[0]-q[1]) > 1e-12 {
				t.Errorf("sweep %d: %g, not %g", k, q[0], q[1])
			}
		}
		for i := range y {
			sin, cos := math.Sincos(angle[i] * math.Pi / 180)
			balance := (y[0] + y[2]) - (y[1] + y[3])
			if d := math.Abs(y[i] - c - a*cos - b*sin); math.Abs(d-math.Abs(balance)/4) > 1e-12 {
				t.Errorf("sweep %d: the curve misses reading %d by %g, not a quarter of the balance %g", k, i, d, balance)
			}
		}
		if v, h := res.Line.At(s.Station); math.Abs(math.Abs(v)-math.Abs(a)) > 1e-12 || math.Abs(math.Abs(h)-math.Abs(b)) > 1e-12 {
			t.Errorf("sweep %d: the line stands at %g, %g, the curve has %g, %g", k, v, h, a, b)
		}
		// A half-difference of two readings of u each has u/√2; at the plane of the readings so has the line (GUM 5.1.2).
		if v, h := res.Cov.At(s.Station); math.Abs(v-0.005/math.Sqrt2) > 1e-12 || math.Abs(h-0.005/math.Sqrt2) > 1e-12 {
			t.Errorf("sweep %d: uncertainty %g, %g, not %g", k, v, h, 0.005/math.Sqrt2)
		}
	}
	if _, _, ok := (&Sweep{Model: FaceFront, Diameter: -1}).Curve(&res.Line); ok {
		t.Error("a negative diameter is accepted")
	}
}
