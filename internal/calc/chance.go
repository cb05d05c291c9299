package calc

import (
	"math"
	"sync"
)

// How the chance is computed. A judged vector is normal in the plane; its chance is the integral of the normal density over the disc of
// the limit's radius. One direction is integrated in closed form (a difference of error functions over the chord), the other
// numerically: by the trapezoidal rule, which converges geometrically for a bell curve, where the spread is nearly round and small
// against the disc, and by adaptive Gauss–Kronrod quadrature elsewhere. Two vectors together (offset and slope, or the two flex
// planes) are one normal vector in four dimensions, integrated in the same manner over both chords at once. Absolute error: under 1e-8 for
// one vector, under 1e-4 for the pair; under 2e-3 for a pair whose limits are hardly larger than the spread, or which are nearly one number
// (there a lattice of points is taken, so that the cost stays bounded). Beyond seven standard deviations the answer is taken as 0 or 1, off by
// less than 1e-10.

const (
	farSigmas  = 7.0
	maxHalf    = 40 // points of pairByChords to each side; its smallest step is π/√(11·33)
	planeTol   = 1e-9
	pairTol    = 1e-4
	tieRel     = 1e-9 // equal to a limit within this share is inside
	invSqrt2Pi = 0.39894228040143267794
)

// phi is the normal distribution function.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z*(1/math.Sqrt2)) }

// discChance returns the probability that a normal vector of mean (mx, my) and covariance (sxx, sxy; sxy, syy) has magnitude at most r.
// Without spread it is 1 for a magnitude up to r (and equal to it within 1e-9), else 0. It is NaN if r is not positive or an input is NaN.
func discChance(mx, my, sxx, sxy, syy, r float64) float64 {
	if m2, tr := mx*mx+my*my, sxx+syy; r > 0 && m2 < 1e200 { // far from the edge, by the trace alone
		m := math.Sqrt(m2)
		if d := r - m; d*d > farSigmas*farSigmas*tr && tr > 0 {
			if d > 0 {
				return 1
			}
			return 0
		}
	}
	m := math.Hypot(mx, my)
	mid, dif := 0.5*(sxx+syy), math.Hypot(0.5*(sxx-syy), sxy)
	big := mid + dif
	if !(r > 0) || math.IsNaN(m) || math.IsNaN(big) {
		return math.NaN()
	}
	sig := root(big)
	if r-m > farSigmas*sig || (sig == 0 && m <= r*(1+tieRel)) {
		return 1
	}
	if m-r > farSigmas*sig || sig == 0 {
		return 0
	}
	if m > 1e-3*sig {
		// Axes along and across the mean. t is across, n along.
		nx, ny := mx/m, my/m
		snn := sxx*nx*nx + 2*sxy*nx*ny + syy*ny*ny
		stt := sxx*ny*ny - 2*sxy*nx*ny + syy*nx*nx
		snt := (syy-sxx)*nx*ny + sxy*(nx*nx-ny*ny)
		st := root(stt)
		if st > 0 && r > 6.5*st {
			beta := snt / stt
			s2 := snn - snt*beta
			if s2 > 0.4*stt && beta*beta*stt < 0.4*s2 { // past that the chord's chance turns too sharply for the step
				return trapezoid(m, r, st, beta, math.Sqrt(s2))
			}
		}
	}
	// Principal axes: outer variable along the narrow one.
	small := max(mid-dif, 0)
	ax, ay := 1.0, 0.0 // wide axis
	if dif > 0 {
		if sxx >= syy {
			ax, ay = 0.5*(sxx-syy)+dif, sxy
		} else {
			ax, ay = sxy, 0.5*(syy-sxx)+dif
		}
		h := math.Hypot(ax, ay)
		ax, ay = ax/h, ay/h
	}
	m1, m2 := mx*ax+my*ay, -mx*ay+my*ax
	s1, s2 := sig, math.Sqrt(small)
	chord := func(h float64) float64 { return span((-h-m1)/s1, (h-m1)/s1) }
	if s2 < 1e-9*s1 {
		if math.Abs(m2) >= r {
			return 0
		}
		return chord(math.Sqrt(r*r - m2*m2))
	}
	lo, hi := max(-1, (m2-farSigmas*s2)/r), min(1, (m2+farSigmas*s2)/r)
	if lo >= hi {
		return 0
	}
	f := func(th float64) float64 {
		s, c := math.Sincos(th)
		z := (r*s - m2) / s2
		return invSqrt2Pi * math.Exp(-0.5*z*z) * (r * c / s2) * chord(r*c)
	}
	return clamp01(peaked(f, math.Asin(lo), math.Asin(hi), math.Asin(max(-1, min(1, m2/r))), planeTol))
}

// trapezoid integrates across the mean with step 0.75 standard deviations, 17 points; what it leaves out is below 1e-8.
func trapezoid(m, r, st, beta, sn float64) float64 {
	const step, half = bellStep, len(bell) - 1
	inv := 1 / sn
	total := 0.0
	if math.Abs(beta) < 1e-12 {
		for i := half; i > 0; i-- {
			t := float64(i) * step * st
			h := math.Sqrt(r*r - t*t)
			total += 2 * bell[i] * span((-h-m)*inv, (h-m)*inv)
		}
	} else {
		for i := -half; i <= half; i++ {
			if i == 0 {
				continue
			}
			t := float64(i) * step * st
			h := math.Sqrt(r*r - t*t)
			c := m + beta*t
			k := i
			if k < 0 {
				k = -k
			}
			total += bell[k] * span((-h-c)*inv, (h-c)*inv)
		}
	}
	total += bell[0] * span((-r-m)*inv, (r-m)*inv)
	return clamp01(total * step)
}

const bellStep = 0.75

// bell holds the normal density at the points of trapezoid.
var bell = func() (b [9]float64) {
	for i := range b {
		z := bellStep * float64(i)
		b[i] = invSqrt2Pi * math.Exp(-0.5*z*z)
	}
	return
}()

// span is the chance of a standard normal number between a and b.
func span(a, b float64) float64 {
	if b <= a {
		return 0
	}
	if a > 0 {
		a, b = -b, -a
	}
	if a < -9 {
		return phi(b)
	}
	return phi(b) - phi(a)
}

func clamp01(p float64) float64 { return min(1, max(0, p)) }

// pairChance returns the probability that the vectors (m0, m1) within r1 and (m2, m3) within r2 hold together, c their joint covariance
// in that order; p1 and p2 are their chances alone. Where these leave no room (p1 + p2 − 1 and the smaller of the two agree
// within pairTol) it is not integrated.
func pairChance(m [4]float64, c *Cov, r1, r2, p1, p2 float64) float64 {
	lo, hi := max(0, p1+p2-1), min(p1, p2)
	if hi-lo < pairTol || math.IsNaN(hi) {
		return p1 * p2 // between the two, and right if they are independent
	}
	if c.split() {
		return p1 * p2
	}
	p, ok := pairByChords(m, c, r1, r2)
	if !ok {
		p = pairByLattice(m, c, r1, r2, lattice())
	}
	return min(hi, max(lo, p))
}

// split says whether the first two numbers are independent of the last two.
func (c *Cov) split() bool {
	for i := 0; i < 2; i++ {
		for j := 2; j < 4; j++ {
			if math.Abs(c[i][j]) > 1e-9*math.Sqrt(c[i][i]*c[j][j]) {
				return false
			}
		}
	}
	return true
}

// pairByChords integrates over the two parts across the means, t1 and t2, by the trapezoidal rule; for each pair of them what is left is
// a two-dimensional normal chance over the two chords, which is known in closed form but for one short integral. The step follows how
// sharply the chords' chance depends on t; points farther out than 4.5 standard deviations hold 4e-5 and are left out. ok is false where the rule would converge poorly: a disc hardly
// larger than the spread, or parts so strongly correlated that the answer is nearly a step.
func pairByChords(m [4]float64, c *Cov, r1, r2 float64) (p float64, ok bool) {
	f1, f2 := along(m[0], m[1]), along(m[2], m[3])
	// Rotate into t1, n1, t2, n2.
	mix := func(i, j int, a, b [2]float64) float64 {
		return a[0]*(c[i][j]*b[0]+c[i][j+1]*b[1]) + a[1]*(c[i+1][j]*b[0]+c[i+1][j+1]*b[1])
	}
	tt1, tt2, tt12 := mix(0, 0, f1.t, f1.t), mix(2, 2, f2.t, f2.t), mix(0, 2, f1.t, f2.t)
	nn1, nn2, nn12 := mix(0, 0, f1.n, f1.n), mix(2, 2, f2.n, f2.n), mix(0, 2, f1.n, f2.n)
	n1t1, n1t2 := mix(0, 0, f1.n, f1.t), mix(0, 2, f1.n, f2.t)
	n2t1, n2t2 := mix(2, 0, f2.n, f1.t), mix(2, 2, f2.n, f2.t)
	if !(tt1 > 0) || !(tt2 > 0) || r1*r1 < 30*tt1 || r2*r2 < 30*tt2 {
		return 0, false
	}
	// t = L z with z standard normal.
	l11 := math.Sqrt(tt1)
	l21 := tt12 / l11
	l22 := root(tt2 - l21*l21)
	if l22 < 1e-6*math.Sqrt(tt2) {
		return 0, false
	}
	g11 := n1t1 / l11
	g12 := (n1t2 - g11*l21) / l22
	g21 := n2t1 / l11
	g22 := (n2t2 - g21*l21) / l22
	s1, s2 := nn1-g11*g11-g12*g12, nn2-g21*g21-g22*g22
	if !(s1 > 0.03*nn1) || !(s2 > 0.03*nn2) {
		return 0, false
	}
	sharp := max((nn1-s1)/s1, (nn2-s2)/s2)
	s1, s2 = math.Sqrt(s1), math.Sqrt(s2)
	var bv bivariate
	if !bv.set((nn12 - g11*g21 - g12*g22) / (s1 * s2)) {
		return 0, false
	}
	step := min(0.9, math.Pi/math.Sqrt(11*(1+sharp)))
	half := min(int(4.5/step), maxHalf)
	var weight [maxHalf + 1]float64
	for i := 0; i <= half; i++ {
		z := float64(i) * step
		weight[i] = math.Exp(-0.5 * z * z)
	}
	inv1, inv2 := 1/s1, 1/s2
	total := 0.0
	for i := -half; i <= half; i++ {
		z1 := float64(i) * step
		t1 := l11 * z1
		h1 := root(r1*r1 - t1*t1)
		row := 0.0
		for j := -half; j <= half; j++ {
			z2 := float64(j) * step
			if z1*z1+z2*z2 > 20.25 {
				continue
			}
			t2 := l21*z1 + l22*z2
			h2 := root(r2*r2 - t2*t2)
			c1, c2 := f1.m+g11*z1+g12*z2, f2.m+g21*z1+g22*z2
			row += weight[max(j, -j)] * bv.box((-h1-c1)*inv1, (h1-c1)*inv1, (-h2-c2)*inv2, (h2-c2)*inv2)
		}
		total += weight[max(i, -i)] * row
	}
	return total * step * step / (2 * math.Pi), true
}

// frame is the direction along a mean and the one across it.
type frame struct {
	m    float64
	n, t [2]float64
}

func along(x, y float64) frame {
	m := math.Hypot(x, y)
	if m == 0 {
		return frame{0, [2]float64{1, 0}, [2]float64{0, 1}}
	}
	return frame{m, [2]float64{x / m, y / m}, [2]float64{-y / m, x / m}}
}

// bivariate is the standard normal distribution of two numbers with a fixed correlation.
//
//	Φ2(h, k) = Φ(h)·Φ(k) + 1/(2π) ∫ exp(−(h² + k² − 2hk sin θ)/(2 cos² θ)) dθ, θ from 0 to arcsin ρ
//
// by Gauss–Legendre quadrature of 6, 12 or 20 points as |ρ| grows.
//
// Reference: A. Genz, Numerical computation of rectangular bivariate and trivariate normal and t probabilities, Statistics and
// Computing 14 (2004) 251–260, eq. 3.
type bivariate struct {
	n          int
	sin, q, wt [20]float64
}

// set prepares a correlation; it returns false from 0.925 on, where the integral needs another form.
func (b *bivariate) set(rho float64) bool {
	a := math.Abs(rho)
	if !(a < 0.925) {
		return false
	}
	x, w := gl6x[:], gl6w[:]
	switch {
	case a > 0.75:
		x, w = gl20x[:], gl20w[:]
	case a > 0.3:
		x, w = gl12x[:], gl12w[:]
	}
	asin := math.Asin(rho)
	b.n = 0
	for i := range x {
		for _, sgn := range [2]float64{-1, 1} {
			s := math.Sin(asin * 0.5 * (1 + sgn*x[i]))
			b.sin[b.n], b.q[b.n], b.wt[b.n] = s, 0.5/(1-s*s), w[i]*asin/(4*math.Pi)
			b.n++
		}
	}
	return true
}

// below returns the chance that both numbers are at most h and k.
func (b *bivariate) below(h, k, ph, pk float64) float64 {
	if ph < 1e-9 || pk < 1e-9 {
		return 0
	}
	if ph > 1-1e-9 {
		return pk
	}
	if pk > 1-1e-9 {
		return ph
	}
	s, hk := h*h+k*k, 2*h*k
	p := ph * pk
	for i := 0; i < b.n; i++ {
		p += b.wt[i] * math.Exp(-(s-hk*b.sin[i])*b.q[i])
	}
	return p
}

// box returns the chance of both numbers in their intervals.
func (b *bivariate) box(a1, b1, a2, b2 float64) float64 {
	pb1, pb2 := phi(b1), phi(b2)
	p := b.below(b1, b2, pb1, pb2)
	if a1 > -6 {
		pa1 := phi(a1)
		p -= b.below(a1, b2, pa1, pb2)
		if a2 > -6 {
			p += b.below(a1, a2, pa1, phi(a2))
		}
	}
	if a2 > -6 {
		p -= b.below(b1, a2, pb1, phi(a2))
	}
	return p
}

// latticePoints is how many points pairByLattice takes: what it costs is bounded, whatever the numbers are.
const latticePoints = 1 << 14

// lattice holds standard normal points in three dimensions: a rank-1 lattice, folded so that the mean converges faster, each axis
// put through the inverse normal distribution.
var lattice = sync.OnceValue(func() [][3]float64 { return makeLattice(latticePoints) })

// makeLattice takes Korobov's generating vector (1, g, g²) mod n.
func makeLattice(n int) [][3]float64 {
	const g = 1069
	pts := make([][3]float64, n)
	for i := range pts {
		k := i
		for d := range pts[i] {
			f := (float64(k) + 0.5) / float64(n)
			if d > 0 {
				f = (float64(k) + 0.25) / float64(n)
			}
			pts[i][d] = math.Sqrt2 * math.Erfinv(1-2*math.Abs(2*f-1))
			k = k * g % n
		}
	}
	return pts
}

// pairByLattice takes every covariance, singular ones too. The four numbers are written as m + A z with z standard normal and A a pivoted
// Cholesky factor, both discs scaled to radius one. Along the strongest z the part inside both discs is one interval, whose chance is in
// closed form; over the other three the mean is taken at the points given.
func pairByLattice(m [4]float64, c *Cov, r1, r2 float64, pts [][3]float64) float64 {
	scale := [4]float64{1 / r1, 1 / r1, 1 / r2, 1 / r2}
	var s, a [4][4]float64
	for i := range s {
		m[i] *= scale[i]
		for j := range s {
			s[i][j] = c[i][j] * scale[i] * scale[j]
		}
	}
	for k := range a { // column k of A from the largest variance left
		p := 0
		for i := range s {
			if s[i][i] > s[p][p] {
				p = i
			}
		}
		if !(s[p][p] > 1e-30) {
			break
		}
		d := math.Sqrt(s[p][p])
		for i := range s {
			a[i][k] = s[i][p] / d
		}
		for i := range s {
			for j := range s {
				s[i][j] -= a[i][k] * a[j][k]
			}
			s[i][i] = max(s[i][i], 0)
		}
	}
	total := 0.0
	for p := range pts {
		z := &pts[p]
		var x [4]float64
		for i := range x {
			x[i] = m[i] + a[i][1]*z[0] + a[i][2]*z[1] + a[i][3]*z[2]
		}
		lo1, hi1 := inUnitDisc(x[0], x[1], a[0][0], a[1][0])
		lo2, hi2 := inUnitDisc(x[2], x[3], a[2][0], a[3][0])
		total += span(max(lo1, lo2), min(hi1, hi2))
	}
	return total / float64(len(pts))
}

// inUnitDisc returns the interval of z for which (x + a·z, y + b·z) lies in the unit disc; lo > hi when there is none.
func inUnitDisc(x, y, a, b float64) (lo, hi float64) {
	q := a*a + b*b
	if q < 1e-30 {
		if x*x+y*y <= 1+tieRel {
			return math.Inf(-1), math.Inf(1)
		}
		return 1, -1
	}
	mid := -(a*x + b*y) / q
	cross := a*y - b*x
	h := (q - cross*cross) / (q * q)
	if h < 0 {
		return 1, -1
	}
	h = math.Sqrt(h)
	return mid - h, mid + h
}

// peaked integrates a function with one peak, cutting there so that the first panels cannot miss it.
func peaked(f func(float64) float64, a, b, peak, tol float64) float64 {
	switch {
	case a >= b:
		return 0
	case peak > a && peak < b:
		return adapt(f, a, peak, tol/2, tol/8, 12) + adapt(f, peak, b, tol/2, tol/8, 12)
	}
	return adapt(f, a, b, tol, tol/8, 12)
}

// adapt integrates f from a to b by Gauss–Kronrod quadrature of 7 and 15 points, halving where the two differ by more than tol, which is
// shared out between the halves, but never below floor: f may itself be a quadrature, and chasing its rounding would not end.
func adapt(f func(float64) float64, a, b, tol, floor float64, depth int) float64 {
	mid, half := 0.5*(a+b), 0.5*(b-a)
	f0 := f(mid)
	k, g := f0*gkWK[7], f0*gkWG[3]
	for i := 0; i < 7; i++ {
		s := f(mid-half*gkX[i]) + f(mid+half*gkX[i])
		k += gkWK[i] * s
		if i&1 == 1 {
			g += gkWG[i/2] * s
		}
	}
	k *= half
	g *= half
	if depth == 0 || math.Abs(k-g) <= tol {
		return k
	}
	tol = max(tol/2, floor)
	return adapt(f, a, mid, tol, floor, depth-1) + adapt(f, mid, b, tol, floor, depth-1)
}

// Nodes and weights of the 7 and 15 point rule (R. Piessens et al., QUADPACK, Springer 1983, routine QK15).
var (
	gkX = [7]float64{
		0.991455371120812639206854697526329, 0.949107912342758524526189684047851,
		0.864864423359769072789712788640926, 0.741531185599394439863864773280788,
		0.586087235467691130294144691693459, 0.405845151377397166906606412076961,
		0.207784955007898467600689403773245,
	}
	gkWK = [8]float64{
		0.022935322010529224963732008058970, 0.063092092629978553290700663189204,
		0.104790010322250183839876322541518, 0.140653259715525918745189590510238,
		0.169004726639267902826583426598550, 0.190350578064785409913256402421014,
		0.204432940075298892414161999234649, 0.209482141084727828012999174891714,
	}
	gkWG = [4]float64{
		0.129484966168869693270611432679082, 0.279705391489276667901467771423780,
		0.381830050505118944950369775488975, 0.417959183673469387755102040816327,
	}
)

// Half of the nodes and weights of Gauss–Legendre quadrature with 6, 12 and 20 points (M. Abramowitz and I. A. Stegun, Handbook of
// Mathematical Functions, table 25.4).
var (
	gl6x = [3]float64{0.932469514203152, 0.661209386466265, 0.238619186083197}
	gl6w = [3]float64{0.171324492379170, 0.360761573048139, 0.467913934572691}

	gl12x = [6]float64{0.981560634246719, 0.904117256370475, 0.769902674194305, 0.587317954286617, 0.367831498998180, 0.125233408511469}
	gl12w = [6]float64{0.047175336386512, 0.106939325995318, 0.160078328543346, 0.203167426723066, 0.233492536538355, 0.249147045813403}

	gl20x = [10]float64{0.993128599185094924786, 0.963971927277913791268, 0.912234428251325905868, 0.839116971822218823395,
		0.746331906460150792614, 0.636053680726515025453, 0.510867001950827098004, 0.373706088715419560673,
		0.227785851141645078080, 0.076526521133497333755}
	gl20w = [10]float64{0.017614007139152118312, 0.040601429800386941331, 0.062672048334109063570, 0.083276741576704748725,
		0.101930119817240435037, 0.118194531961518417312, 0.131688638449176626898, 0.142096109318382051329,
		0.149172986472603746788, 0.152753387130725850698}
)
