package calc

import "shimsheet/internal/packs"

// A Moved is what is done under one foot of a pair.
type Moved struct {
	Pair   int // index in Result.Feet
	Packer *packs.Packer
	Change *packs.Change // made by Packer
}

// AfterFeet puts how much each foot pair really rises (mm, signed, one a pair of res.Feet) into a solved row and predicts the line after it
// afresh, judged again: a straight line through where the feet then stand, through more than two pairs the best one. moved is what is done
// under the single feet, for what the tolerance of the pieces leaves uncertain: a pair rises by the mean of its feet, and a pair without any
// gets the pack of res.Feet. Sideways moves stay as they are. res must come from Solve(in, res) with a Packer; without a line after, or with a number that is none, it returns false and
// changes nothing.
func AfterFeet(in *Input, res *Result, rise []float64, moved []Moved) bool {
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
	if p := in.Planned; p != nil {
		res.After.DV, res.After.TV = res.After.DV+p.Others.DV, res.After.TV+p.Others.TV
	}
	_, cov := deviation(in, res)
	g := newJudge(in, &cov, &res.byLength)
	g.after(res, &res.After, moved, res.Found.Verdict == NotJudged, &res.AfterJ)
	return true
}

// AfterBolts predicts the line after a solved row's bolt packs afresh, judged again, when other packs took the place of those in res.BoltPacks. The
// slide stays as it is. Without packs, or without a line after, it returns false and changes nothing.
func AfterBolts(in *Input, res *Result) bool {
	if !res.HasAfter || len(res.BoltPacks) == 0 || len(res.BoltPacks) != in.Bolts {
		return false
	}
	res.After = afterFlange(in, res)
	_, cov := deviation(in, res)
	g := newJudge(in, &cov, &res.byLength)
	g.after(res, &res.After, nil, res.Found.Verdict == NotJudged, &res.AfterJ)
	return true
}
