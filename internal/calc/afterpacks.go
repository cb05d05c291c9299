package calc

import "shimsheet/internal/packs"

// What the packs do to the line, and how sure it is after them.

// after judges a predicted line against res.Wanted, with what the tolerance of the pieces moved adds to the covariance: under each pair those
// of moved, else its pack of res.Feet; under a flange the packs of the bolts. res.Feet and res.BoltPacks are those the line rests on.
func (g *judge) after(res *Result, l *Line, moved []Moved, numbers bool, j *Judgement) {
	dev := Line{l.DV - res.Wanted.DV, l.TV - res.Wanted.TV, l.DH - res.Wanted.DH, l.TH - res.Wanted.TH}
	loose := g.in.Packer != nil && g.in.Packer.Loose()
	for i := range moved {
		loose = loose || moved[i].Packer.Loose()
	}
	if !loose {
		g.of(&dev, numbers, j)
		return
	}
	cov := *g.cov
	addPacks(g.in, res, moved, &cov)
	wide := newJudge(g.in, &cov, &g.byLength)
	wide.only = g.only
	wide.of(&dev, numbers, j)
}

// addPacks adds to the covariance of the line after what the tolerance of the pieces does.
func addPacks(in *Input, res *Result, moved []Moved, cov *Cov) {
	var buf [2 * packs.MaxPieces]packs.Effect
	s := packs.Effects(buf[:0])
	if len(res.BoltPacks) > 0 {
		// As in correctFlange: the plane that best fits the packs, turned about the flange.
		x := in.FlangeStation
		if !finite(x) {
			x = 0
		}
		f := 2000 / (float64(in.Bolts) * in.BoltCircleRadius)
		for i := range res.BoltPacks {
			cs, sn := in.bolt(i)
			s = s.Count(in.Packer, &packs.Change{Pack: res.BoltPacks[i]}, &[4]float64{f * cs * x / 1000, -f * cs, f * sn * x / 1000, -f * sn})
		}
		s.AddTo((*[4][4]float64)(cov))
		return
	}
	// As in through: the line is linear in the rises.
	k := 1 / float64(len(res.Feet))
	mx, sxx := 0.0, 0.0
	for i := range res.Feet {
		mx += k * res.Feet[i].Station
	}
	for i := range res.Feet {
		d := res.Feet[i].Station - mx
		sxx += d * d
	}
	for i := range res.Feet {
		f := &res.Feet[i]
		t := (f.Station - mx) / sxx
		n := 0
		for m := range moved {
			if moved[m].Pair == i {
				n++
			}
		}
		if n == 0 && in.Packer != nil {
			c := packs.Change{Pack: f.Pack}
			if f.Shim < 0 {
				c.Status = packs.ChangeUnlisted
			}
			s = s.Count(in.Packer, &c, &[4]float64{k - t*mx, 1000 * t})
			continue
		}
		w := 1 / float64(n)
		for m := range moved {
			if moved[m].Pair == i {
				s = s.Count(moved[m].Packer, moved[m].Change, &[4]float64{w * (k - t*mx), 1000 * w * t})
			}
		}
	}
	s.AddTo((*[4][4]float64)(cov))
}

// ChooseTogether repeats the choice of packs of a solved row with two foot pairs when the line after is judged but not inside: it looks
// for other packs, n of every number of pieces and within reach mm at each foot (0: as JointFoot), that bring it inside, and then puts
// them with the line after into res and returns true. It takes no more pieces whose tolerance is not known than the feet's own packs have: not to
// know a thickness must not look like knowing it. res must come from Solve(in, res). Sideways moves stay as they are.
func ChooseTogether(in *Input, res *Result, n int, reach float64) bool {
	if in.Packer == nil || len(res.Feet) != 2 || !res.HasAfter || res.Status != OK ||
		res.AfterJ.Verdict == Inside || res.AfterJ.Verdict == NotJudged {
		return false
	}
	_, cov := deviation(in, res)
	g := newJudge(in, &cov, &res.byLength)
	g.only = true // of hundreds of pairs
	old := [2]Foot{res.Feet[0], res.Feet[1]}
	after := func(packs [2]*packs.Pack, rounded [2]float64) Line {
		for i := range rounded {
			res.Feet[i].Pack, res.Feet[i].Rounded = *packs[i], rounded[i]
		}
		l, _ := through(res)
		in.others(&l)
		return l
	}
	var j Judgement
	unknown := -1 // pieces of the feet's own packs whose tolerance is not known
	best := packs.JointPacks([2]packs.JointFoot{{Packer: in.Packer, Shim: res.Feet[0].Shim, N: n, Reach: reach}, {Packer: in.Packer, Shim: res.Feet[1].Shim, N: n, Reach: reach}},
		func(chosen [2]*packs.Pack, rounded [2]float64) (float64, bool) {
			l := after(chosen, rounded)
			g.after(res, &l, nil, false, &j)
			if j.Verdict == Inside && in.Packer.Loose() || unknown < 0 {
				_, list := in.Packer.Uncertainty(nil, &packs.Change{Pack: *chosen[0]})
				_, list = in.Packer.Uncertainty(list, &packs.Change{Pack: *chosen[1]})
				if unknown < 0 {
					unknown = len(list)
				}
				return j.Share, j.Verdict == Inside && len(list) <= unknown
			}
			return j.Share, j.Verdict == Inside
		})
	if !best.Changed {
		copy(res.Feet, old[:])
		return false
	}
	res.After = after([2]*packs.Pack{&best.Packs[0], &best.Packs[1]}, best.Rounded)
	g.only = false
	g.after(res, &res.After, nil, false, &res.AfterJ)
	return true
}
