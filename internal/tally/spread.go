package tally

import (
	"math"
	"slices"
)

// Few is the number of values below which a share is not given in per cent, and a spread is pointed out to be of few.
const Few = 5

// A Share is N of Of.
type Share struct{ N, Of int }

func (s *Share) add(yes bool) {
	s.Of++
	if yes {
		s.N++
	}
}

// z is the quantile of the normal distribution that leaves 2.5 % on each side.
const z = 1.959963984540054

// Part is the share, 0 to 1, and between what the share lies in the long run with 95 % confidence; NaN for fewer than [Few].
//
// The ends are the two p at which the share seen is z standard deviations from p,
//
//	|N/Of − p| = z · √(p (1 − p) / Of)
//
// Reference: E. B. Wilson, Journal of the American Statistical Association 22 (1927) 209.
func (s Share) Part() (p, low, high float64) {
	if s.Of < Few {
		return math.NaN(), math.NaN(), math.NaN()
	}
	n := float64(s.Of)
	p = float64(s.N) / n
	mid, half := p+z*z/(2*n), z*math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	low, high = (mid-half)/(1+z*z/n), (mid+half)/(1+z*z/n)
	if s.N == 0 {
		low = 0 // exactly, whatever rounding leaves
	}
	if s.N == s.Of {
		high = 1
	}
	return p, low, high
}

// A Spread is what a set of values comes to. NaN where there are too few: none for the mean, one for the standard deviation.
type Spread struct {
	N                   int
	Mean, SD            float64 // SD: of the sample, n − 1
	Least, Median, Most float64
}

// SpreadOf is the spread of values; what is no number is left out. The median of an even number of values is the mean of the two in the middle.
func SpreadOf(values []float64) Spread {
	x := slices.DeleteFunc(slices.Clone(values), math.IsNaN)
	slices.Sort(x)
	s := Spread{len(x), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	if s.N == 0 {
		return s
	}
	n := float64(s.N)
	s.Least, s.Most, s.Median = x[0], x[s.N-1], (x[(s.N-1)/2]+x[s.N/2])/2
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	near := sum / n
	squares, rest := 0.0, 0.0 // rest is what rounding leaves of the sum of differences
	for _, v := range x {
		d := v - near
		squares, rest = squares+d*d, rest+d
	}
	s.Mean = near + rest/n
	if s.N > 1 {
		s.SD = math.Sqrt((squares - rest*rest/n) / (n - 1))
	}
	return s
}

// Largest is the largest magnitude.
func (s *Spread) Largest() float64 { return math.Max(math.Abs(s.Least), math.Abs(s.Most)) }
