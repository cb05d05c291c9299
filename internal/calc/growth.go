package calc

import (
	"math"

	"shimsheet/internal/words"
)

// A MeanTable holds mean coefficients of expansion of one material, each the mean from Reference to a temperature, as the tables of the
// pressure codes print them. Between two entries the mean is interpolated linearly; outside the table nothing is given.
type MeanTable struct {
	Reference float64   // °C
	Temp      []float64 // °C, rising
	Mean      []float64 // 1e-6 per °C, mean from Reference to Temp
}

// A GrowthPart is one of the stacked parts under a shaft: pedestal, foot, casing.
//
// Three things about it are uncertain: its coefficient and its two temperatures. An error is often shared: one thermometer and one
// morning for all cold temperatures, one table value for all parts of a material. Parts with the same group number above zero have the
// same error in that quantity, to the size of each one's own uncertainty; group 0 is an error of the part's own. The groups hold over all
// supports of an input, of both machines, so that what is common to both machines cancels in the wanted line as it does on site.
type GrowthPart struct {
	Height  float64    // mm; sideways parts: positive where the part reaches towards 3 o'clock from what holds it
	Across  bool       // the part grows sideways, as gear cases do, and not upwards
	Alpha   float64    // 1e-6 per °C, mean between Cold and Running; NaN: from Table. Wins over Table
	Table   *MeanTable // nil: none
	Cold    float64    // °C
	Running float64    // °C

	UAlpha                              float64 // standard uncertainty of the coefficient, as a share of it: 0.05 is 5 %
	UCold, URunning                     float64 // standard uncertainties, °C
	AlphaGroup, ColdGroup, RunningGroup int
}

// A GrowthSupport is where one machine stands, or the bearing above it: its station and what grows there.
type GrowthSupport struct {
	Movable bool    // stands under the movable machine, else under the stationary one
	Station float64 // mm from the coupling centre, signed as in Line
	Parts   []GrowthPart

	// Growth known otherwise, mm, with standard uncertainty; H positive towards 3 o'clock. A number wins over the parts of its
	// direction, NaN leaves it to them.
	GivenV, GivenH   float64
	UGivenV, UGivenH float64
}

// A GrowthInput is the growth of both machines of one row. A machine without supports does not grow; one with supports has two or
// more at different stations (through more than two the straight line of least squares is taken).
type GrowthInput struct {
	Supports []GrowthSupport
	Hot      Line // where the movable shaft should run, seen from the stationary one; zero: in line. An offset of NaN stays free
}

// A SupportGrowth is the growth of one support, mm, with standard uncertainties.
type SupportGrowth struct{ V, UV, H, UH float64 }

// A GrowthStatus says how Growth ended.
type GrowthStatus uint8

// The ways Growth ends.
const (
	GrowthOK           GrowthStatus = iota
	GrowthNone                      // no support at all
	GrowthOneSupport                // a machine with one support, or all of them at one station
	GrowthNoMaterial                // a part without a coefficient and without a table
	GrowthOutsideTable              // a temperature outside the table of means
	GrowthBadTable                  // a table whose temperatures do not rise, or with unequal lists
	GrowthBadNumber                 // a number that is missing or cannot be
	numGrowthStatus
)

// A GrowthResult is the growth of each support and the wanted cold line from it.
type GrowthResult struct {
	Status        GrowthStatus
	Support, Part int // what Status speaks of, else −1

	Supports            []SupportGrowth // one a support of the input
	Stationary, Movable Line            // growth along each machine, mm and mm/m about the coupling centre
	Wanted              Line            // Hot − (Movable − Stationary): where the shaft should stand cold; for Input.Wanted
	Cov                 Cov             // of Wanted; for Input.WantedCov
}

// Growth computes the growth of each support, V = Σ height·α·(running − cold), and the line on which the movable shaft should stand cold
// so that both machines come to Hot when they run. With a table of means from T₀ a part grows by
// height·(α(T₂)(T₂ − T₀) − α(T₁)(T₁ − T₀)). On a status other than GrowthOK all numbers are NaN. res is overwritten.
func Growth(in *GrowthInput, res *GrowthResult) {
	*res = GrowthResult{Support: -1, Part: -1, Supports: res.Supports[:0], Stationary: noLine, Movable: noLine, Wanted: noLine, Cov: noCov}
	if res.Status = in.grow(res); res.Status == GrowthOK {
		return
	}
	for i := range res.Supports {
		res.Supports[i] = SupportGrowth{nan, nan, nan, nan}
	}
}

// A growthSource is one error with its effect, in standard deviations, on the growth of each support, V and H in turn.
type growthSource struct {
	kind   byte // 'a' coefficient, 'c' cold, 'r' running
	group  int
	effect []float64
}

// grow does the work of Growth; it leaves numbers of supports behind on a bad status.
func (in *GrowthInput) grow(res *GrowthResult) GrowthStatus {
	n := len(in.Supports)
	if n == 0 {
		return GrowthNone
	}
	from := growthSources{own: make([]float64, 2*n)}
	for range in.Supports {
		res.Supports = append(res.Supports, SupportGrowth{})
	}
	for j := range in.Supports {
		res.Support, res.Part = j, -1
		if st := in.support(j, res, &from); st != GrowthOK {
			return st
		}
	}
	res.Support = -1
	weights := make([][2]float64, n)
	for _, movable := range [2]bool{false, true} {
		if st := in.line(movable, res, weights); st != GrowthOK {
			return st
		}
	}
	res.Support = -1
	m, s, w := &res.Movable, &res.Stationary, &in.Hot
	res.Wanted = Line{w.DV - (m.DV - s.DV), w.TV - (m.TV - s.TV), w.DH - (m.DH - s.DH), w.TH - (m.TH - s.TH)}
	res.Cov = from.covariance(weights)
	sum := math.Abs(res.Wanted.TV) + math.Abs(res.Wanted.TH) + math.Abs(m.DV) + math.Abs(s.DV) + math.Abs(m.DH) + math.Abs(s.DH)
	if !(sum < absurd) || math.IsInf(w.DV, 0) || math.IsInf(w.DH, 0) || !(res.Cov[0][0]+res.Cov[1][1]+res.Cov[2][2]+res.Cov[3][3] < absurd*absurd) {
		res.Stationary, res.Movable, res.Wanted, res.Cov = noLine, noLine, noLine, noCov
		return GrowthBadNumber
	}
	return GrowthOK
}

// support works out how far support j grows, up and sideways, and where its uncertainty comes from. A growth that is given counts in place of parts.
func (in *GrowthInput) support(j int, res *GrowthResult, from *growthSources) GrowthStatus {
	s, g := &in.Supports[j], &res.Supports[j]
	if !(math.Abs(s.Station) < absurd) {
		return GrowthBadNumber
	}
	given := [2]bool{!math.IsNaN(s.GivenV), !math.IsNaN(s.GivenH)}
	if given[0] {
		g.V = s.GivenV
		from.own[2*j] = s.UGivenV * s.UGivenV
	}
	if given[1] {
		g.H = s.GivenH
		from.own[2*j+1] = s.UGivenH * s.UGivenH
	}
	if given[0] && !(s.UGivenV >= 0) || given[1] && !(s.UGivenH >= 0) {
		return GrowthBadNumber
	}
	for k := range s.Parts {
		p := &s.Parts[k]
		at, sum := 2*j, &g.V
		if p.Across {
			at, sum = at+1, &g.H
		}
		if given[at-2*j] {
			continue
		}
		res.Part = k
		growth, slopeCold, slopeRun, st := p.strain()
		if st != GrowthOK {
			return st
		}
		h := p.Height / 1e6
		*sum += h * growth
		from.add('a', p.AlphaGroup, at, h*growth*p.UAlpha)
		from.add('c', p.ColdGroup, at, -h*slopeCold*p.UCold)
		from.add('r', p.RunningGroup, at, h*slopeRun*p.URunning)
	}
	res.Part = -1
	g.UV, g.UH = from.uncertainty(2*j), from.uncertainty(2*j+1)
	if !(math.Abs(g.V)+math.Abs(g.H)+g.UV+g.UH < absurd) {
		return GrowthBadNumber
	}
	return GrowthOK
}

// line lays the line through the supports of one machine. It is linear in their growths: offset = Σ k0·g, slope = Σ k1·g; weights get k0 and k1 of each, with the sign they have in the wanted line.
// A machine without supports does not grow.
func (in *GrowthInput) line(movable bool, res *GrowthResult, weights [][2]float64) GrowthStatus {
	line, sign := &res.Stationary, 1.0
	if movable {
		line, sign = &res.Movable, -1
	}
	*line = Line{}
	count, mean, least, most := 0.0, 0.0, math.Inf(1), math.Inf(-1)
	for j := range in.Supports {
		if s := &in.Supports[j]; s.Movable == movable {
			count++
			mean += s.Station
			least, most = min(least, s.Station), max(most, s.Station)
			res.Support = j
		}
	}
	if count == 0 {
		return GrowthOK
	}
	if !(most-least >= leastBase) {
		return GrowthOneSupport
	}
	mean /= count
	sxx := 0.0
	for j := range in.Supports {
		if s := &in.Supports[j]; s.Movable == movable {
			sxx += (s.Station - mean) * (s.Station - mean)
		}
	}
	for j := range in.Supports {
		s, g := &in.Supports[j], &res.Supports[j]
		if s.Movable != movable {
			continue
		}
		k1 := (s.Station - mean) / sxx
		k0 := 1/count - mean*k1
		line.DV += k0 * g.V
		line.TV += 1000 * k1 * g.V
		line.DH += k0 * g.H
		line.TH += 1000 * k1 * g.H
		weights[j] = [2]float64{sign * k0, sign * 1000 * k1}
	}
	return GrowthOK
}

// growthSources are what the uncertainty of growths comes from. Their elements go by support, up and sideways in turn.
type growthSources struct {
	own    []float64 // variances that belong to one growth alone
	shared []growthSource
}

// add notes a standard uncertainty at an element. Those of one kind and group above 0 share one error; group 0 or less is an error of its own.
func (f *growthSources) add(kind byte, group, at int, effect float64) {
	if group <= 0 {
		f.own[at] += effect * effect
		return
	}
	k := 0
	for k < len(f.shared) && (f.shared[k].kind != kind || f.shared[k].group != group) {
		k++
	}
	if k == len(f.shared) {
		f.shared = append(f.shared, growthSource{kind, group, make([]float64, len(f.own))})
	}
	f.shared[k].effect[at] += effect
}

// uncertainty is the standard uncertainty of an element, of all sources.
func (f *growthSources) uncertainty(at int) float64 {
	v := f.own[at]
	for k := range f.shared {
		e := f.shared[k].effect[at]
		v += e * e
	}
	return math.Sqrt(v)
}

// covariance is that of the line with these weights of each support: offset and slope up, offset and slope sideways.
func (f *growthSources) covariance(weights [][2]float64) Cov {
	var cov Cov
	for j := range weights {
		k := &weights[j]
		for a := range 2 {
			for b := range 2 {
				cov[a][b] += k[a] * k[b] * f.own[2*j]
				cov[2+a][2+b] += k[a] * k[b] * f.own[2*j+1]
			}
		}
	}
	for i := range f.shared {
		var e [4]float64
		for j := range weights {
			for a := range 2 {
				e[a] += weights[j][a] * f.shared[i].effect[2*j]
				e[2+a] += weights[j][a] * f.shared[i].effect[2*j+1]
			}
		}
		for a := range e {
			for b := range e {
				cov[a][b] += e[a] * e[b]
			}
		}
	}
	return cov
}

const (
	leastBase    = 1.0 // mm: supports, feet and soles closer together than this are one place
	absoluteZero = -273.15
)

// strain returns what a part grows in µm per m of height, and by how much more that is for each °C that the cold temperature is lower
// and the running one higher: the coefficient that holds at that temperature.
func (p *GrowthPart) strain() (growth, slopeCold, slopeRun float64, st GrowthStatus) {
	if !finite(p.Height) || !(p.Cold >= absoluteZero && p.Cold < absurd) || !(p.Running >= absoluteZero && p.Running < absurd) ||
		!(p.UAlpha >= 0 && p.UCold >= 0 && p.URunning >= 0) {
		return 0, 0, 0, GrowthBadNumber
	}
	if !math.IsNaN(p.Alpha) {
		if !finite(p.Alpha) {
			return 0, 0, 0, GrowthBadNumber
		}
		return p.Alpha * (p.Running - p.Cold), p.Alpha, p.Alpha, GrowthOK
	}
	if p.Table == nil {
		return 0, 0, 0, GrowthNoMaterial
	}
	if !p.Table.sound() {
		return 0, 0, 0, GrowthBadTable
	}
	ec, sc, ok1 := p.Table.strain(p.Cold)
	er, sr, ok2 := p.Table.strain(p.Running)
	if !ok1 || !ok2 {
		return 0, 0, 0, GrowthOutsideTable
	}
	return er - ec, sc, sr, GrowthOK
}

// sound says whether the temperatures rise and every one has a coefficient.
func (t *MeanTable) sound() bool {
	if len(t.Temp) == 0 || len(t.Temp) != len(t.Mean) || !finite(t.Reference) {
		return false
	}
	for i := range t.Temp {
		if !finite(t.Temp[i]) || !finite(t.Mean[i]) || i > 0 && !(t.Temp[i] > t.Temp[i-1]) {
			return false
		}
	}
	return true
}

// strain returns the growth from the reference to a temperature in µm/m and its slope there. At the reference itself nothing has grown,
// so the reference need not be in the list. A temperature within 1e-9 of an end of the table is at that end.
func (t *MeanTable) strain(temp float64) (strain, slope float64, ok bool) {
	n := len(t.Temp)
	lo, hi := t.Temp[0], t.Temp[n-1]
	near := tieRel * max(1, math.Abs(lo), math.Abs(hi))
	if temp < lo && temp >= lo-near {
		temp = lo
	}
	if temp > hi && temp <= hi+near {
		temp = hi
	}
	if temp < lo || temp > hi {
		if math.Abs(temp-t.Reference) <= near {
			// From the reference on the mean changes little up to the first entry.
			if t.Reference < lo {
				return 0, t.Mean[0], true
			}
			return 0, t.Mean[n-1], true
		}
		return 0, 0, false
	}
	if n == 1 {
		return t.Mean[0] * (temp - t.Reference), t.Mean[0], true
	}
	i := 1
	for i < n-1 && temp > t.Temp[i] {
		i++
	}
	rate := (t.Mean[i] - t.Mean[i-1]) / (t.Temp[i] - t.Temp[i-1])
	// From the nearer end, so that the entries themselves come out exactly.
	mean := t.Mean[i-1] + rate*(temp-t.Temp[i-1])
	if t.Temp[i]-temp < temp-t.Temp[i-1] {
		mean = t.Mean[i] - rate*(t.Temp[i]-temp)
	}
	return mean * (temp - t.Reference), mean + rate*(temp-t.Reference), true
}

// A ColdToHot is a measured change from cold to running: the line of one movable shaft cold and the line of the same shaft hot, each with
// its covariance. The shaft moved by Hot − Cold, so it must stand cold at the line wanted hot less that.
type ColdToHot struct {
	Cold, Hot       Line
	ColdCov, HotCov Cov
	// FromFound: the readings to be corrected are themselves the cold set. Cold and ColdCov are not read, the line found stands in their
	// place. The errors of its readings are then in the line found and in the wanted one alike, and cancel in the deviation,
	// which is that of the hot line from the line wanted hot.
	FromFound bool
	// Cooled is the standard uncertainty of the change as a share of it: a machine that has to be stopped to be read hot has lost some of its growth by
	// then, all of it by the same share. 0: read while it ran.
	Cooled float64
}

// cooling is what Cooled adds to the covariance of the change from cold to hot: all four numbers shrink together.
//
// Reference: H. P. Bloch and F. K. Geitner, Machinery Component Maintenance and Repair, p. 231: after the stop most of the growth, and all of the part
// that the torque makes, goes; the share a minute is the caller's.
func (m *ColdToHot) cooling(cold *Line) (c Cov) {
	d := [4]float64{m.Hot.DV - cold.DV, m.Hot.TV - cold.TV, m.Hot.DH - cold.DH, m.Hot.TH - cold.TH}
	for i := range c {
		for j := range c[i] {
			c[i][j] = m.Cooled * m.Cooled * d[i] * d[j]
		}
	}
	return c
}

// Wanted returns the cold line to stand on, target − (Hot − Cold), and its covariance. target is where the shaft should run, taken as exact; found and
// foundCov are the line found, which FromFound uses. Otherwise the two sets are independent, and their covariances add.
func (m *ColdToHot) Wanted(target, found *Line, foundCov *Cov) (Line, Cov) {
	cold, coldCov := &m.Cold, &m.ColdCov
	if m.FromFound {
		cold, coldCov = found, foundCov
	}
	h := &m.Hot
	w := Line{target.DV - (h.DV - cold.DV), target.TV - (h.TV - cold.TV), target.DH - (h.DH - cold.DH), target.TH - (h.TH - cold.TH)}
	c := *coldCov
	c.add(&m.HotCov)
	if m.Cooled != 0 {
		lost := m.cooling(cold)
		c.add(&lost)
	}
	return w, c
}

// sound says whether lines and covariances are numbers.
func (m *ColdToHot) sound() bool {
	sum := math.Abs(m.Cooled)
	for _, l := range [2]*Line{&m.Hot, &m.Cold} {
		if l == &m.Cold && m.FromFound {
			break
		}
		sum += math.Abs(l.DV) + math.Abs(l.TV) + math.Abs(l.DH) + math.Abs(l.TH)
	}
	for i := range m.HotCov {
		for j := range m.HotCov[i] {
			sum += math.Abs(m.HotCov[i][j])
			if !m.FromFound {
				sum += math.Abs(m.ColdCov[i][j])
			}
		}
	}
	return sum < absurd*absurd
}

// An ExpectedReading is what one indicator should show at one clock position, mm, as the crew sees it, droop included.
type ExpectedReading struct {
	Angle  float64 // degrees from 12 o'clock
	Zeroed float64 // with the dial at zero at 12; for gauges the difference from 12
	Mean   float64 // from the mean of the full turn: for StepAtRim the step itself on hubs of one size, for GapBetween to add to the mean gap
	U      float64 // standard uncertainty of Zeroed from the line's covariance
}

// Expect appends to dst what a sweep of this model, station, diameter and droop should read at the given angles, as the sweep counts them, when the movable shaft
// stands on line; Angle and Reading of the sweep are not used. cov may be nil. ok is false, and nothing appended, for a sweep or a line
// that cannot be. The total at 6 is Zeroed at 180.
func (s *Sweep) Expect(line *Line, cov *Cov, angles []float64, dst []ExpectedReading) (list []ExpectedReading, ok bool) {
	g0, g1, sound := s.gains()
	sum := math.Abs(line.DV) + math.Abs(line.TV) + math.Abs(line.DH) + math.Abs(line.TH) + math.Abs(s.SagAt6)
	for _, a := range angles {
		sum += math.Abs(a)
	}
	if !sound || !(sum < absurd) {
		return dst, false
	}
	a, b := g0*line.DV+g1*line.TV, g0*line.DH+g1*line.TH
	start := len(dst)
	for _, angle := range angles {
		u, v := cosSin(angle)
		if s.Mirrored {
			v = 0 - v
		}
		e := ExpectedReading{
			Angle:  angle,
			Zeroed: (a-0.5*s.SagAt6)*(u-1) + b*v,
			Mean:   (a-0.5*s.SagAt6)*u + b*v,
		}
		if cov != nil {
			k := [4]float64{g0 * (u - 1), g1 * (u - 1), g0 * v, g1 * v}
			q := 0.0
			for i := range k {
				for j := range k {
					q += k[i] * k[j] * cov[i][j]
				}
			}
			e.U = root(q)
		}
		if !finite(e.Zeroed) || !finite(e.Mean) || !finite(e.U) {
			return dst[:start], false
		}
		dst = append(dst, e)
	}
	return dst, true
}

// String is the ending in a few words.
func (s GrowthStatus) String() string { return growthText[s].String() }

var growthText = [numGrowthStatus]words.Key{
	GrowthOK:           words.GrowthStatusComputed,
	GrowthNone:         words.GrowthStatusNoSupports,
	GrowthOneSupport:   words.GrowthStatusOneStation,
	GrowthNoMaterial:   words.GrowthStatusNoMaterial,
	GrowthOutsideTable: words.GrowthStatusOutsideTable,
	GrowthBadTable:     words.GrowthStatusBadTable,
	GrowthBadNumber:    words.GrowthStatusBadNumber,
}
