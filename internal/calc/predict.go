package calc

// Predict judges the line that a solved row would have after moves of any machines, against the same wanted line and with the uncertainty of the readings. res must come from
// Solve(in, res); where that gave no verdict there is none here.
func Predict(in *Input, res *Result, after Line) (j Judgement) {
	_, cov := deviation(in, res)
	g := newJudge(in, &cov, &res.byLength)
	w := &res.Wanted
	g.of(&Line{after.DV - w.DV, after.TV - w.TV, after.DH - w.DH, after.TH - w.TH}, res.Found.Verdict == NotJudged, &j)
	return j
}
