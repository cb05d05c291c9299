package sheet

import (
	"math"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// RowOf is the row of the Machines sheet that bears a name, as the other sheets write it; −1: none.
func (e *Evaluator) RowOf(name string) int {
	if k := nameKey(name); k != "" {
		if i, ok := e.first[k]; ok {
			return i
		}
	}
	return -1
}

// MaterialNames lists the materials that the Growth sheet knows: the job's own, then those of the tables.
func (e *Evaluator) MaterialNames() []string {
	var names []string
	for i := range e.ownMaterials {
		names = append(names, e.ownMaterials[i].Name)
	}
	list := tables.Materials()
	for i := range list {
		names = append(names, list[i].Name)
	}
	return names
}

// FootGauges is what was measured at each foot of row i's machine, in the order of RowResult.Feet.Feet, mm: gaps, corners, rises, the size of
// the sole, NaN where there is none. Along and Across are as typed, or where the row says; NaN where nobody says. Nil without feet.
func (e *Evaluator) FootGauges(i int) []calc.SoftFoot {
	r := e.Row(i)
	if r == nil || r.Feet == nil {
		return nil
	}
	g := e.footings[e.keys[i]]
	if g == nil || len(g.feet) != len(r.Feet.Feet) {
		return nil
	}
	list := make([]calc.SoftFoot, len(g.feet))
	for k := range list {
		list[k] = g.feet[k].soft
		list[k].Along, list[k].Across = r.Feet.Feet[k].Station, g.feet[k].Across
	}
	return list
}

// FootPlace says which end of the machine the name of foot k of the row speaks of (0 front, 1 rear, −1 none) and which side (−1 at 9 o'clock, 1 at
// 3, 0 none).
func (e *Evaluator) FootPlace(r *RowResult, k int) (end, side int) {
	if end, side = footWords(r.Feet.Feet[k].Name); r.FromStationary {
		side = -side
	}
	return end, side
}

// SoftReasons words what the Feet sheet says of row i's machine: the pattern in a few words, and in sentences why it is this pattern, what else would
// do, how sure it is and the limit. The head is "" for a row without feet there.
func (e *Evaluator) SoftReasons(i int) (head string, list []string) {
	r := e.Row(i)
	if r == nil || r.Feet == nil {
		return "", nil
	}
	say := func(form words.Key, a ...any) { list = append(list, form.Say(a...)) }
	f, s := r.Feet, &r.Feet.Soft
	if !f.HasSoft {
		return words.ReasonNotYet.String(), []string{words.ReasonNothing.String()}
	}
	if head = string(e.AppendSoft(nil, r)); s.Status != calc.SoftOK {
		return head, nil // a problem says the rest
	}
	name := func(k int) string {
		if k < 0 || k >= len(f.Feet) {
			return ""
		}
		return f.Feet[k].Name
	}
	off := r.softNames()
	if len(s.Off) <= 2 {
		parts := strings.Split(off, ", ")
		off = parts[0]
		for _, part := range parts[1:] {
			off = words.WordAnd.Say(off, part)
		}
	}
	if k := s.PullFoot; s.Pull {
		near := ""
		if !s.PullSure {
			near = words.ReasonPullNear.String()
		}
		say(words.ReasonPull, name(k), e.thick(math.Abs(s.PullLargest)), near)
	} else if k >= 0 {
		say(words.ReasonNoPull, e.thick(math.Abs(s.PullLargest)))
	}
	switch s.Pattern {
	case calc.SoftNone:
		say(words.ReasonNone)
		if s.FromGaps && len(f.Feet) == 3 {
			say(words.ReasonThree)
		}
	case calc.SoftRocking:
		say(words.ReasonRocks, name(s.Carrying[0])+" – "+name(s.Carrying[1]), off)
	case calc.SoftOneFoot:
		tail := ""
		if len(s.Off) == 1 {
			switch x := &s.Feet[s.Off[0]]; {
			case Known(x.Excess):
				tail = words.ReasonExcess.Say(e.thick(x.Excess))
			case Known(x.Shim):
				tail = words.ReasonGapOnly.Say(e.thick(x.Shim))
			}
		}
		say(words.ReasonOne, off, tail)
	case calc.SoftSpringing:
		say(words.ReasonSprings, e.thick(s.Common))
	case calc.SoftSeveral:
		say(words.ReasonSeveral, off)
	case calc.SoftAngled:
		say(words.ReasonAngled)
	}
	if s.FromGaps && len(s.Off) == 2 {
		var alone []string
		for _, k := range s.Off {
			if x := &s.Feet[k]; Known(x.StandOff) && x.StandOff > x.Shim*(1+1e-9) {
				alone = append(alone, words.ReasonAlone.Say(e.thick(x.StandOff), name(k)))
			}
		}
		if len(alone) > 0 {
			all := alone[0]
			for _, one := range alone[1:] {
				all = words.WordOrElse.Say(all, one)
			}
			say(words.ReasonEither, all)
		}
	}
	for k := range s.Feet {
		x := &s.Feet[k]
		if !x.Angled {
			continue
		}
		var parts []string
		if Known(x.SlopeAlong) && !e.zero(x.SlopeAlong, e.slope) {
			parts = append(parts, words.ReasonTaperAl.Say(e.slope(math.Abs(x.SlopeAlong))))
		}
		if Known(x.SlopeAcross) && !e.zero(x.SlopeAcross, e.slope) {
			parts = append(parts, words.ReasonTaperAc.Say(e.slope(math.Abs(x.SlopeAcross))))
		}
		if len(parts) == 0 {
			parts = append(parts, words.ReasonTaperBig.Say(e.thick(math.Hypot(x.TaperAlong, x.TaperAcross))))
		}
		say(words.ReasonTaper, name(k), r.Opens(x.Open), strings.Join(parts, ", "))
	}
	if text := e.softSure(r); text != "" {
		say(words.SentenceAsItIs, text)
	} else {
		say(words.ReasonLimit, e.thick(f.Limit))
	}
	if text := e.softDiffers(r); text != "" {
		say(words.SentenceAsItIs, text)
	}
	if s.Pattern != calc.SoftNone {
		say(words.SentenceSoftFirst)
	}
	return head, list
}

// softSure says how sure the pattern of row r is: the number nearest to the limit, with its uncertainty. "" where no number decides.
func (e *Evaluator) softSure(r *RowResult) string {
	f, s := r.Feet, &r.Feet.Soft
	if s.Decider < 0 || !(s.UDecided > 0) {
		return ""
	}
	form := words.ReasonOff
	switch x := &s.Feet[s.Decider]; {
	case (s.Pattern == calc.SoftNone || s.Pattern == calc.SoftAngled) && s.Decided == x.Range:
		form = words.ReasonSole
	case Known(x.Excess) && math.Abs(s.Decided-x.Excess-s.Common) > 1e-9:
		form = words.ReasonRiseMore
	case Known(x.Excess):
		form = words.ReasonRise
	}
	what, value := form.Say(f.Feet[s.Decider].Name), s.Decided
	if form == words.ReasonOff {
		value = max(value, 0) // below zero it carries with something to spare
	}
	if s.Sure {
		return words.ReasonSure.Say(what, e.thick(value), e.thick(s.UDecided), e.thick(f.Limit))
	}
	may, again := words.ReasonPerhaps.String(), words.ReasonAgain.String()
	switch {
	case value > f.Limit && value > s.UDecided:
		may = words.ReasonLess.String()
	case value > f.Limit:
		may = words.ReasonNil.String()
	case s.UDecided > f.Limit:
		again = words.ReasonFiner.String()
	}
	return words.ReasonUnsure.Say(what, e.thick(value), e.thick(s.UDecided), e.thick(f.Limit), may, again)
}

// SaySoft is what Sentences says to do about the soft foot of row i, in the order it is to be done, without what aligning asks for.
func (e *Evaluator) SaySoft(i int) (list []string) {
	r := e.Row(i)
	if r == nil || r.Feet == nil || !r.Feet.HasSoft {
		return nil
	}
	e.saySoft(r, func(k SentenceKind, form words.Key, a ...any) {
		if k == SentenceDo {
			list = append(list, form.Say(a...))
		}
	})
	return list
}

// SayGrowth words what the wanted line of row i rests on, one sentence a support.
func (e *Evaluator) SayGrowth(i int) (list []string) {
	r := e.Row(i)
	if r == nil || r.Growth == nil {
		return nil
	}
	e.sayGrowth(r, func(k SentenceKind, form words.Key, a ...any) { list = append(list, form.Say(a...)) })
	return list
}

// GrowthPartWords says what a part grows by: "casing: 225 mm × 10.4 1e-6/K (pump casing) × 84 K, from 14 °C to 98 °C".
func (e *Evaluator) GrowthPartWords(p *GrowthPart) string {
	name := p.Part
	if name == "" {
		name = words.ReasonPartName.String()
	}
	if math.IsNaN(p.Height) {
		return words.ReasonPartGave.Say(name, e.thick(nanTo(p.V, 0)))
	}
	of, coef := p.Material, words.ReasonPartMean.String()
	if of == "" {
		of = words.ReasonPartOwn.String()
	}
	inch := e.ShowsInch()
	if Known(p.Alpha) {
		coef = e.number(p.Alpha, job.QExpansion.Unit(inch), 2)
	}
	diff := units.KelvinDiff
	if inch {
		diff = units.FahrenheitDiff
	}
	at := func(t float64) string { return e.number(t, job.QTemperature.Unit(inch), 1) }
	if p.Side != 0 {
		name += ", " + job.GrowthDirection.Info().Choices[(p.Side+3)%3]
	}
	return words.ReasonPart.Say(name, e.dist(p.Height), coef, of, e.number(p.Running-p.Cold, diff, 1), at(p.Cold), at(p.Running))
}

// SupportName is the support the part belongs to, as the Growth sheet has it.
func (p *GrowthPart) SupportName() string {
	if list := job.GrowthSupport.Info().Choices; p.Support >= 0 && p.Support < len(list) {
		return list[p.Support]
	}
	return ""
}

// Covers says whether the feet of pair k of Calc.Feet stand on the Feet sheet, each with a change of its own.
func (f *Feet) Covers(k int) bool { return f.covers(k) }
