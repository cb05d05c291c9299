package calc

// AfterFeet puts how much each foot pair really rises (mm, signed, one a pair of res.Feet) into a solved row and predicts the line after it
// afresh, judged again: a straight line through where the feet then stand, through more than two pairs the best one. Sideways moves stay as
// they are. res must come from Solve(in, res) with a Packer; without a line after, or with a number that is none, it returns false and
// changes nothing.
func AfterFeet(in *Input, res *Result, rise []float64) bool {
	if !res.HasAfter || len(rise) != len(res.Feet) || len(rise) < 2 {
		return false
	}
	k := 1 / float64(len(rise))
	var mx, mv float64
	for i, r := range rise {
		if !finite(r) {
			return false
		}
		x := res.Feet[i].Station
		mx += k * x
		mv += k * (res.Line.at(x, false) + r)
	}
	var sxx, sxv float64
	for i, r := range rise {
		x := res.Feet[i].Station
		sxx += (x - mx) * (x - mx)
		sxv += (x - mx) * (res.Line.at(x, false) + r - mv)
	}
	if !(sxx > 0) {
		return false
	}
	for i, r := range rise {
		res.Feet[i].Rounded = r
	}
	res.After.DV, res.After.TV = mv-sxv/sxx*mx, 1000*sxv/sxx
	_, cov := deviation(in, res)
	g := newJudge(in, &cov)
	a := Line{res.After.DV - res.Wanted.DV, res.After.TV - res.Wanted.TV, res.After.DH - res.Wanted.DH, res.After.TH - res.Wanted.TH}
	g.of(&a, res.Found.Verdict == NotJudged, &res.AfterJ)
	return true
}
