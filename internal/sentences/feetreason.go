package sentences

import (
	"math"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// SoftReasons words what the Feet sheet says of row i's machine: the pattern in a few words, and in sentences why it is this pattern, what else would
// do, how sure it is and the limit. The head is "" for a row without feet there.
func (e *Teller) SoftReasons(i int) (head string, list []string) {
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
	off := softNames(r)
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
		say(words.ReasonPull, name(k), e.Thickness(math.Abs(s.PullLargest)), near)
	} else if k >= 0 {
		say(words.ReasonNoPull, e.Thickness(math.Abs(s.PullLargest)))
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
			case evaluate.Known(x.Excess):
				tail = words.ReasonExcess.Say(e.Thickness(x.Excess))
			case evaluate.Known(x.Shim):
				tail = words.ReasonGapOnly.Say(e.Thickness(x.Shim))
			}
		}
		say(words.ReasonOne, off, tail)
	case calc.SoftSpringing:
		say(words.ReasonSprings, e.Thickness(s.Common))
	case calc.SoftSeveral:
		say(words.ReasonSeveral, off)
	case calc.SoftAngled:
		say(words.ReasonAngled)
	}
	if s.FromGaps && len(s.Off) == 2 {
		var alone []string
		for _, k := range s.Off {
			if x := &s.Feet[k]; evaluate.Known(x.StandOff) && x.StandOff > x.Shim*(1+1e-9) {
				alone = append(alone, words.ReasonAlone.Say(e.Thickness(x.StandOff), name(k)))
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
		if evaluate.Known(x.SlopeAlong) && !e.ShowsZero(x.SlopeAlong, e.Slope) {
			parts = append(parts, words.ReasonTaperAl.Say(e.Slope(math.Abs(x.SlopeAlong))))
		}
		if evaluate.Known(x.SlopeAcross) && !e.ShowsZero(x.SlopeAcross, e.Slope) {
			parts = append(parts, words.ReasonTaperAc.Say(e.Slope(math.Abs(x.SlopeAcross))))
		}
		if len(parts) == 0 {
			parts = append(parts, words.ReasonTaperBig.Say(e.Thickness(math.Hypot(x.TaperAlong, x.TaperAcross))))
		}
		say(words.ReasonTaper, name(k), r.Opens(x.Open), strings.Join(parts, ", "))
	}
	if text := e.softSure(r); text != "" {
		say(words.SentenceAsItIs, text)
	} else {
		say(words.ReasonLimit, e.Thickness(f.Limit))
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
func (e *Teller) softSure(r *evaluate.RowResult) string {
	f, s := r.Feet, &r.Feet.Soft
	if s.Decider < 0 || !(s.UDecided > 0) {
		return ""
	}
	form := words.ReasonOff
	switch x := &s.Feet[s.Decider]; {
	case (s.Pattern == calc.SoftNone || s.Pattern == calc.SoftAngled) && s.Decided == x.Range:
		form = words.ReasonSole
	case evaluate.Known(x.Excess) && math.Abs(s.Decided-x.Excess-s.Common) > 1e-9:
		form = words.ReasonRiseMore
	case evaluate.Known(x.Excess):
		form = words.ReasonRise
	}
	what, value := form.Say(f.Feet[s.Decider].Name), s.Decided
	if form == words.ReasonOff {
		value = max(value, 0) // below zero it carries with something to spare
	}
	if s.Sure {
		return words.ReasonSure.Say(what, e.Thickness(value), e.Thickness(s.UDecided), e.Thickness(f.Limit))
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
	return words.ReasonUnsure.Say(what, e.Thickness(value), e.Thickness(s.UDecided), e.Thickness(f.Limit), may, again)
}

// SaySoft is what Sentences says to do about the soft foot of row i, in the order it is to be done, without what aligning asks for.
func (e *Teller) SaySoft(i int) (list []string) {
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
func (e *Teller) SayGrowth(i int) (list []string) {
	r := e.Row(i)
	if r == nil || r.Growth == nil {
		return nil
	}
	e.sayGrowth(r, func(k SentenceKind, form words.Key, a ...any) { list = append(list, form.Say(a...)) })
	return list
}

// GrowthPartWords says what a part grows by: "casing: 225 mm × 10.4 1e-6/K (pump casing) × 84 K, from 14 °C to 98 °C".
func (e *Teller) GrowthPartWords(p *evaluate.GrowthPart) string {
	name := p.Part
	if name == "" {
		name = words.ReasonPartName.String()
	}
	if math.IsNaN(p.Height) {
		return words.ReasonPartGave.Say(name, e.Thickness(evaluate.KnownOr(p.V, 0)))
	}
	of, coef := p.Material, words.ReasonPartMean.String()
	if of == "" {
		of = words.ReasonPartOwn.String()
	}
	inch := e.ShowsInch()
	if evaluate.Known(p.Alpha) {
		coef = e.Number(p.Alpha, job.QExpansion.Unit(inch), 2)
	}
	diff := units.KelvinDiff
	if inch {
		diff = units.FahrenheitDiff
	}
	at := func(t float64) string { return e.Number(t, job.QTemperature.Unit(inch), 1) }
	if p.Side != 0 {
		name += ", " + job.GrowthDirection.Info().Choices[(p.Side+3)%3]
	}
	return words.ReasonPart.Say(name, e.Distance(p.Height), coef, of, e.Number(p.Running-p.Cold, diff, 1), at(p.Cold), at(p.Running))
}
