package calc

import "math"

// Trend fits a straight line to points by least squares: its slope with the standard uncertainty that the scatter gives it, and the standard deviation about the line, of n − 2 degrees of freedom.
// Fewer than three points have no uncertainty, points all at one x no slope: NaN.
func Trend(x, y []float64) (slope, u, scatter float64) {
	slope, u, scatter = nan, nan, nan
	n := float64(len(x))
	mx, _ := MeanSD(x)
	my, _ := MeanSD(y)
	sxx, sxy := 0.0, 0.0
	for k := range x {
		sxx += (x[k] - mx) * (x[k] - mx)
		sxy += (x[k] - mx) * (y[k] - my)
	}
	if !(sxx > 0) {
		return slope, u, scatter
	}
	if slope = sxy / sxx; n < 3 {
		return slope, u, scatter
	}
	rest := 0.0
	for k := range x {
		d := y[k] - my - slope*(x[k]-mx)
		rest += d * d
	}
	scatter = math.Sqrt(rest / (n - 2))
	return slope, scatter / math.Sqrt(sxx), scatter
}

// MeanSD is the mean and the standard deviation, of n − 1 degrees of freedom; NaN of nothing, and of one value no standard deviation.
func MeanSD(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v
	}
	n := float64(len(x))
	mean /= n
	for _, v := range x {
		sd += (v - mean) * (v - mean)
	}
	if n < 2 {
		return mean, nan
	}
	return mean, math.Sqrt(sd / (n - 1))
}

// coverage95 are the factors of Student's t for 95 %, both tails, from one degree of freedom on.
var coverage95 = [...]float64{12.7062, 4.3027, 3.1824, 2.7764, 2.5706, 2.4469, 2.3646, 2.3060, 2.2622, 2.2281, 2.2010, 2.1788, 2.1604, 2.1448, 2.1314, 2.1199, 2.1098, 2.1009, 2.0930, 2.0860}

// Coverage is the factor that makes a standard uncertainty of so many degrees of freedom one of 95 %; NaN for none.
func Coverage(freedom int) float64 {
	switch {
	case freedom < 1:
		return nan
	case freedom <= len(coverage95):
		return coverage95[freedom-1]
	}
	f := float64(freedom)
	return 1.959964 + 2.3723/f + 2.822/(f*f) // the first terms of its series
}
