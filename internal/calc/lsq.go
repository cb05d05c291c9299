package calc

import "math"

// The least-squares core. Every sweep of readings is y = c + a·u + b·v with its own constant c, two regressors u, v (cosine and sine
// of the clock angle) and a weight; a and b are linear in the unknowns. The constants are taken out sweep by sweep (exactly what
// solving for them gives), which leaves normal equations in at most four unknowns, written out on fixed arrays: no allocation.
//
// Normal equations square the condition of the design. Two things keep that harmless: each sweep is centred on its mean before
// products are formed, and the offset is referred to the weighted mean station of the sweeps, not to the coupling centre, so the columns
// that are left are nearly orthogonal however far away the rims are. The tests hold it against orthogonal factorisations of the whole design.

// moments are the centred, weighted sums of one sweep: the information on its two coefficients a, b.
type moments struct {
	n                       int
	w                       float64 // weight of one reading, 1/u²
	mu, mv, my              float64 // means
	uu, uv, vv, uy, vy, syy float64 // centred sums times w
}

// newMoments forms the moments of y on u, v; hasConst false leaves the means in (a fit through the origin).
func newMoments(u, v, y []float64, w float64, hasConst bool) moments {
	m := moments{n: len(y), w: w}
	if hasConst {
		for i := range y {
			m.mu += u[i]
			m.mv += v[i]
			m.my += y[i]
		}
		k := 1 / float64(len(y))
		m.mu *= k
		m.mv *= k
		m.my *= k
	}
	for i := range y {
		du, dv, dy := u[i]-m.mu, v[i]-m.mv, y[i]-m.my
		m.uu += du * du
		m.uv += du * dv
		m.vv += dv * dv
		m.uy += du * dy
		m.vy += dv * dy
		m.syy += dy * dy
	}
	m.uu *= w
	m.uv *= w
	m.vv *= w
	m.uy *= w
	m.vy *= w
	m.syy *= w
	return m
}

// again forms the moments of other readings on the same u and v, with constant, from those of a sweep before.
func (m *moments) again(u, v, y []float64, w float64) moments {
	r := *m
	k := w / m.w
	r.w, r.my, r.uy, r.vy, r.syy = w, 0, 0, 0, 0
	r.uu, r.uv, r.vv = k*m.uu, k*m.uv, k*m.vv
	for _, t := range y {
		r.my += t
	}
	r.my /= float64(len(y))
	for i := range y {
		dy := y[i] - r.my
		r.uy += (u[i] - m.mu) * dy
		r.vy += (v[i] - m.mv) * dy
		r.syy += dy * dy
	}
	r.uy *= w
	r.vy *= w
	r.syy *= w
	return r
}

// normal holds normal equations N p = r in up to four unknowns, lower triangle in n.
type normal struct {
	n    [4][4]float64
	r    [4]float64
	size [4]float64 // what each diagonal would be for a full turn, the yardstick of solve; zero takes the diagonal itself
}

// add lays a sweep into the equations: its a is gᵀ(p0, p1), its b is gᵀ(p2, p3).
func (q *normal) add(m *moments, g0, g1 float64) {
	g00, g01, g11 := g0*g0, g0*g1, g1*g1
	q.n[0][0] += m.uu * g00
	q.n[1][0] += m.uu * g01
	q.n[1][1] += m.uu * g11
	q.n[2][0] += m.uv * g00
	q.n[2][1] += m.uv * g01
	q.n[3][0] += m.uv * g01
	q.n[3][1] += m.uv * g11
	q.n[2][2] += m.vv * g00
	q.n[3][2] += m.vv * g01
	q.n[3][3] += m.vv * g11
	q.r[0] += m.uy * g0
	q.r[1] += m.uy * g1
	q.r[2] += m.vy * g0
	q.r[3] += m.vy * g1
}

// A design that hardly determines the line gives a line of metres with an uncertainty of metres, and rounding of the readings then looks
// like a result. minPivot is the smallest share of its size that may be left of a column after the columns before it are taken out: it
// refuses arcs of less than about three degrees, a condition of 100. minBase is the like for the stations: the sweeps must be at
// least 0.2 % of their distance from the coupling centre apart.
const (
	minPivot = 1e-4
	minBase  = 1e-6
)

// solve factors N = L D Lᵀ, solves for the unknowns and inverts N into cov. ok is false when a pivot is lost, that is, when the readings
// do not determine the unknowns. Only the first k unknowns are used.
func (q *normal) solve(k int) (p [4]float64, cov Cov, ok bool) {
	if k == 4 && q.n[2][0] == 0 && q.n[2][1] == 0 && q.n[3][0] == 0 && q.n[3][1] == 0 {
		// Readings in opposite pairs: the two planes have nothing to do with each other.
		ok = q.plane(0, &p, &cov) && q.plane(2, &p, &cov)
		return p, cov, ok
	}
	var l [4][4]float64
	var d, inv [4]float64
	for j := 0; j < k; j++ {
		dj := q.n[j][j]
		for m := 0; m < j; m++ {
			dj -= l[j][m] * l[j][m] * d[m]
		}
		if !(dj > minPivot*q.size[j]) || !(dj > minPivot*q.n[j][j]) || !(dj > 0) || math.IsInf(dj, 1) {
			return p, cov, false
		}
		d[j], inv[j] = dj, 1/dj
		for i := j + 1; i < k; i++ {
			s := q.n[i][j]
			for m := 0; m < j; m++ {
				s -= l[i][m] * l[j][m] * d[m]
			}
			l[i][j] = s * inv[j]
		}
	}
	// Forward, scale, back.
	for i := 0; i < k; i++ {
		s := q.r[i]
		for m := 0; m < i; m++ {
			s -= l[i][m] * p[m]
		}
		p[i] = s
	}
	for i := k - 1; i >= 0; i-- {
		s := p[i] * inv[i]
		for m := i + 1; m < k; m++ {
			s -= l[m][i] * p[m]
		}
		p[i] = s
	}
	// Inverse of L, in place, then cov = L⁻ᵀ D⁻¹ L⁻¹.
	var li [4][4]float64
	for j := 0; j < k; j++ {
		li[j][j] = 1
		for i := j + 1; i < k; i++ {
			s := -l[i][j]
			for m := j + 1; m < i; m++ {
				s -= l[i][m] * li[m][j]
			}
			li[i][j] = s
		}
	}
	for i := 0; i < k; i++ {
		for j := 0; j <= i; j++ {
			s := 0.0
			for m := i; m < k; m++ {
				s += li[m][i] * li[m][j] * inv[m]
			}
			cov[i][j], cov[j][i] = s, s
		}
	}
	return p, cov, true
}

// plane solves the two unknowns from i on alone.
func (q *normal) plane(i int, p *[4]float64, cov *Cov) bool {
	d0 := q.n[i][i]
	if !(d0 > minPivot*q.size[i]) || !(d0 > 0) {
		return false
	}
	l := q.n[i+1][i] / d0
	d1 := q.n[i+1][i+1] - l*q.n[i+1][i]
	if !(d1 > minPivot*q.size[i+1]) || !(d1 > minPivot*q.n[i+1][i+1]) || math.IsInf(d0+d1, 1) {
		return false
	}
	c11 := 1 / d1
	p[i+1] = (q.r[i+1] - l*q.r[i]) * c11
	p[i] = q.r[i]/d0 - l*p[i+1]
	cov[i+1][i+1] = c11
	cov[i][i+1], cov[i+1][i] = -l*c11, -l*c11
	cov[i][i] = 1/d0 + l*l*c11
	return true
}

// cosSin returns cosine and sine of an angle in degrees, exact at multiples of 90°.
func cosSin(deg float64) (c, s float64) {
	if deg < 0 || deg >= 360 {
		if deg = math.Mod(deg, 360); deg < 0 {
			deg += 360
		}
	}
	switch deg {
	case 0, 360: // a negative angle too small to be told from a full turn
		return 1, 0
	case 90:
		return 0, 1
	case 180:
		return -1, 0
	case 270:
		return 0, -1
	}
	s, c = math.Sincos(deg * (math.Pi / 180))
	return c, s
}
