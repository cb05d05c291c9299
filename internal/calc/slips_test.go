package calc

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"shimsheet/internal/tables"
)

// mend does to a sweep's readings what a finding says would mend them.
func (f *Finding) mend(s *Sweep) {
	r := s.Reading
	switch f.Kind {
	case OddReading:
		r[f.Reading] -= f.By
	case SignTurned:
		r[f.Reading] = -r[f.Reading]
	case Swapped:
		r[f.Reading], r[f.Other] = r[f.Other], r[f.Reading]
	case WrongUnit, DecimalPoint:
		r[f.Reading] *= f.By
	}
}

// The slips that people make with one reading, planted one at a time: Diagnose names that reading and what would mend it, and each thing it names, done, makes the sweep pass. Of two readings that are the
// same, and of one next to nothing, nothing is said.
//
// evidence: calc=which slip was made grade=identity count=500 source=slips planted in readings off a line; what is found is done, and the row worked out again
func TestSlipsFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 20))
	type slip struct {
		kind FindingKind
		by   float64
	}
	slips := []slip{{SignTurned, 0}, {Swapped, 0}, {WrongUnit, milFactor}, {WrongUnit, 1 / milFactor}, {WrongUnit, 25.4}, {WrongUnit, 1 / 25.4}, {DecimalPoint, 10}, {DecimalPoint, 0.1}, {DecimalPoint, 100}, {DecimalPoint, 0.01}}
	found, kinds, scattered := map[slip]int{}, map[FindingKind]int{}, 0
	for i := range 500 {
		line := Line{either(rng, 0.2, 0.9), either(rng, 0.2, 3), either(rng, 0.2, 0.9), either(rng, 0.2, 3)}
		angles := []float64{0, 90, 180, 270}
		switch i % 5 {
		case 4: // none at 12, 3, 6, 9: the scatter alone tells
			angles = []float64{10, 55, 100, 145, 190, 235, 280, 325}
		case 1:
			angles = append(angles, 360)
		case 2:
			angles = []float64{0, 45, 90, 135, 180, 225, 270, 315}
		case 3:
			angles = []float64{0, 90, 180, 270, 0, 90, 180, 270}
		}
		in := rowInput(reverseSweeps(line, angles))
		for k := range in.Sweeps {
			for j := range in.Sweeps[k].Reading {
				r := &in.Sweeps[k].Reading[j]
				*r = math.Round((*r+0.3)/0.01) * 0.01
			}
		}
		if i%3 == 0 { // another reading is a little off too: what a slip is mended to must still pass
			in.Sweeps[i%2].Reading[i%len(angles)] += between(rng, 0.01, 0.04)
		}
		var good Result
		if Solve(&in, &good); good.Status != OK && i%3 != 0 {
			t.Fatalf("row %d: %v", i, good.Status)
		}
		if list := Diagnose(&in, &good, nil); good.Status == OK && len(list) != 0 {
			t.Errorf("row %d is sound, and yet %+v", i, list)
		}
		p := slips[i/5%len(slips)]
		k, at, other := rng.IntN(2), 1+rng.IntN(len(angles)-1), rng.IntN(len(angles))
		s := &in.Sweeps[k]
		right := s.Reading[at]
		switch p.kind {
		case SignTurned:
			s.Reading[at] = -right
		case Swapped:
			s.Reading[at], s.Reading[other] = s.Reading[other], right
		default:
			s.Reading[at] = right / p.by
		}
		var res Result
		Solve(&in, &res)
		if res.Status != BalanceFailed && res.Status != ClosureFailed && res.Status != ResidualFailed {
			continue // too small to be seen
		}
		mark := Finding{Kind: AllTooLarge}
		all := Diagnose(&in, &res, []Finding{mark})
		if all[0] != mark || len(all) > 6 {
			t.Fatalf("row %d: what was in the list is gone, or too much is said: %+v", i, all)
		}
		list, last, named := all[1:], math.Inf(-1), false
		for j := range list {
			f := &list[j]
			kinds[f.Kind]++
			switch f.Kind {
			case AllTooLarge, AllTooSmall:
				if f.Sweep != -1 || f.Reading != -1 || f.Other != -1 || j != len(list)-1 {
					t.Errorf("row %d: %+v", i, *f)
				}
				continue
			case AnyOfFour:
				if f.Sweep != k || f.Reading != -1 || f.Other != -1 || f.By != res.Checks[k].Balance || j != 0 {
					t.Errorf("row %d: %+v in %+v", i, *f, list)
				}
				continue
			case OddReading:
				if named = true; j != 0 || f.Score < 3 || f.Other != -1 {
					t.Errorf("row %d: %+v in %+v", i, *f, list)
				}
			default:
				if f.Score < last {
					t.Errorf("row %d: %+v does not fit better than what stands before it: %+v", i, *f, list)
				}
				last = f.Score
				if (f.Kind == Swapped) != (f.Other >= 0) || f.Kind == Swapped && (f.Other <= f.Reading || s.Reading[f.Other] == s.Reading[f.Reading]) || f.Kind == SignTurned && f.By != -1 ||
					f.Kind == Swapped && f.By != 0 || (f.Kind == WrongUnit || f.Kind == DecimalPoint) && math.Abs(s.Reading[f.Reading]*f.By) < 2*s.Graduation {
					t.Errorf("row %d: %+v", i, *f)
				}
				same := p.kind == f.Kind && (f.Reading == at && (p.kind == Swapped && f.Other == other || p.kind != Swapped && (p.by == 0 || f.By == p.by)) ||
					p.kind == Swapped && f.Reading == other && f.Other == at)
				if same {
					if found[p]++; res.Status == ResidualFailed {
						scattered++
					}
				}
			}
			if f.Sweep != k {
				continue // a reading of the other sweep stands out as much
			}
			mended := clone(&in)
			f.mend(&mended.Sweeps[k])
			var then Result
			if Solve(&mended, &then); then.Sweep >= 0 && then.Sweep != k {
				continue // the other sweep fails of itself
			}
			if f.Kind != OddReading && then.Status != OK || f.Kind == OddReading && then.Status == res.Status && then.ResidualSD >= res.ResidualSD {
				t.Errorf("row %d: %v; with %+v done it is %v", i, res.Status, *f, then.Status)
			}
		}
		if named && slices.ContainsFunc(list, func(f Finding) bool { return f.Kind == AnyOfFour }) {
			t.Errorf("row %d: one is named, and any of four: %+v", i, list)
		}
	}
	for _, p := range slips {
		if found[p] < 3 {
			t.Errorf("slip %d by %g was found %d times: %v", p.kind, p.by, found[p], found)
		}
	}
	if scattered < 20 {
		t.Errorf("by their scatter %d were found", scattered)
	}
	for k := OddReading; k <= DecimalPoint; k++ {
		if kinds[k] < 10 {
			t.Errorf("findings of kind %d: %d", k, kinds[k])
		}
	}
	// More readings than a hint can go through: none is named but by its residual.
	in := rowInput(reverseSweeps(Line{0.4, 1, 0.3, 2}, nil))
	for _, n := range []int{64, 65} {
		for k := range in.Sweeps {
			s := &in.Sweeps[k]
			s.Angle, s.Reading = nil, nil
			for j := range n {
				s.Angle = append(s.Angle, 360*float64(j)/float64(n))
			}
			s.Reading, _ = Expected(s, &Line{0.4, 1, 0.3, 2}, nil)
		}
		in.Sweeps[0].Reading[32] *= -1
		var res Result
		Solve(&in, &res)
		list := Diagnose(&in, &res, nil)
		turned := slices.ContainsFunc(list, func(f Finding) bool { return f.Kind == SignTurned && f.Reading == 32 })
		if len(list) == 0 || list[0].Kind != OddReading || list[0].Reading != 32 || turned != (n == 64) {
			t.Errorf("%d readings, %v: %+v", n, res.Status, list)
		}
	}
}

// A whole row in another unit: what is asked on either side of each bound. A dial at a coupling does not turn four hundred divisions; a gauge may open so far, and so may the dials of a universal coupling, whose
// offset is wanted.
func TestWholeRow(t *testing.T) {
	row := func(model [2]Model, largest, graduation float64) Input {
		in := rowInput([]Sweep{{Model: model[0], Station: 100, Diameter: 200}, {Model: model[1], Station: -100, Diameter: 200}})
		for k := range in.Sweeps {
			s := &in.Sweeps[k]
			s.Graduation, s.U, s.Angle = graduation, 0.005, []float64{0, 90, 180, 270}
			s.Reading = []float64{1, 1 + largest/2, 1 + largest, 1 + largest/2}
			if k == 1 {
				s.Reading = []float64{1, 1, 1 - largest, 1 - largest}
			}
		}
		return in
	}
	dials := [2]Model{RimOnMovable, RimOnStationary}
	for _, c := range []struct {
		what     string
		in       Input
		coupling tables.Coupling
		want     FindingKind
		none     bool
	}{
		{"399 divisions", row(dials, 3.99, 0.01), tables.Flexible, 0, true},
		{"401 divisions", row(dials, 4.01, 0.01), tables.Flexible, AllTooLarge, false},
		{"401 divisions of a universal coupling", row(dials, 4.01, 0.01), tables.Universal, 0, true},
		{"401 divisions of a coarse dial", row(dials, 0.0401, 1e-4), tables.Flexible, AllTooLarge, false},
		{"no divisions", row(dials, 4.01, 0), tables.Flexible, 0, true},
		{"a gauge", row([2]Model{RimOnMovable, GapBetween}, 4.01, 0.01), tables.Flexible, 0, true},
		{"a straightedge", row([2]Model{StepAtRim, FaceFront}, 4.01, 0.01), tables.Flexible, 0, true},
		{"less than half a division", row(dials, 0.0049, 0.01), tables.Flexible, AllTooSmall, false},
		{"half a division", row(dials, 0.0051, 0.01), tables.Flexible, 0, true},
		{"nothing", row(dials, 0, 0.01), tables.Flexible, 0, true},
	} {
		c.in.Coupling, c.in.Limits = c.coupling, Limits{nan, nan}
		var res Result
		Solve(&c.in, &res)
		list := Diagnose(&c.in, &res, nil)
		list = slices.DeleteFunc(list, func(f Finding) bool { return f.Kind < AllTooLarge })
		by := map[FindingKind]float64{AllTooLarge: 0.0254, AllTooSmall: 1 / 0.0254}[c.want]
		if c.none && len(list) > 0 || !c.none && (len(list) != 1 || list[0].Kind != c.want || list[0].By != by || list[0].Sweep != -1 || list[0].Reading != -1 || list[0].Other != -1) {
			t.Errorf("%s: %+v", c.what, list)
		}
	}
	// Four readings that moved are enough, three are not.
	in := row(dials, 0.004, 0.01)
	in.Sweeps[1].Reading = []float64{1, 1, 1, 1}
	var res Result
	Solve(&in, &res)
	if list := Diagnose(&in, &res, nil); len(list) != 0 {
		t.Errorf("three readings moved: %+v", list)
	}
	in.Sweeps[1].Reading = []float64{1, 1, 1, 1.004}
	Solve(&in, &res)
	if list := Diagnose(&in, &res, nil); len(list) != 1 || list[0].Kind != AllTooSmall {
		t.Errorf("four readings moved: %+v", list)
	}
	// Gauges far past the limit, and near it once divided by 39.4.
	for _, c := range []struct {
		share, largest float64
		asked          bool
	}{{14.9, 3, false}, {15.1, 3, true}, {157, 3, true}, {158, 3, false}, {20, 2.4, false}, {20, 2.6, true}} {
		in := row([2]Model{StepAtRim, GapBetween}, c.largest, 0.01)
		var res Result
		in.Limits = Limits{1, 1}
		Solve(&in, &res)
		res.Found.Share = c.share
		if list := wholeRow(&in, &res, nil); (len(list) == 1 && list[0].Kind == AllTooLarge && list[0].By == 0.0254) != c.asked || len(list) > 1 {
			t.Errorf("%+v: %+v", c, list)
		}
	}
	given := Input{Given: Line{40, 40, 40, 40}, GivenU: Line{0.1, 0.1, 0.1, 0.1}, Length: nan, Limits: Limits{1, 1}, FlangeStation: nan}
	if Solve(&given, &res); len(Diagnose(&given, &res, nil)) != 0 {
		t.Error("a finding on a row without readings")
	}
}

// A sign turned is told where it leaves the sweep within the dial's own graduations, and not past them: what is left scatters by no more than one division (half of the two that the checks allow).
func TestSlipWithinGraduations(t *testing.T) {
	for _, c := range []struct {
		off  float64
		told bool
	}{{0.0078, true}, {0.0081, false}, {0.0110, false}} {
		in := rowInput(reverseSweeps(Line{0.6, 1, 0.3, 2}, []float64{0, 45, 90, 135, 180, 225, 270, 315}))
		s := &in.Sweeps[0]
		for k := range s.Reading { // no sine, no cosine, no balance: eight readings, five of them to spare, √(8·off²/5) against 0.01
			s.Reading[k] += c.off * float64(1-2*(k%2))
		}
		s.Reading[4] *= -1
		var res Result
		Solve(&in, &res)
		told := slices.ContainsFunc(Diagnose(&in, &res, nil), func(f Finding) bool { return f.Kind == SignTurned && f.Sweep == 0 && f.Reading == 4 })
		if told != c.told || res.Status != BalanceFailed {
			t.Errorf("readings off by %g, %v: told %v", c.off, res.Status, told)
		}
	}
}

// Of four readings that do not balance each may be the one: their residuals are one number, and none is named, in whichever place the odd one stands.
func TestFourNameNone(t *testing.T) {
	for at := range 4 {
		in := rowInput(reverseSweeps(Line{}, []float64{0, 90, 180, 270}))
		in.Sweeps[1].Reading[at] += 1
		var res Result
		Solve(&in, &res)
		list := Diagnose(&in, &res, nil)
		if res.Status != BalanceFailed || len(list) == 0 || list[0].Kind != AnyOfFour || math.Abs(math.Abs(list[0].By)-1) > 1e-12 || slices.ContainsFunc(list, func(f Finding) bool { return f.Kind == OddReading }) {
			t.Errorf("reading %d, %v: %+v", at, res.Status, list)
		}
	}
}
