package sentences

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/words"
)

// sayAxial says what is done about the gap. It comes behind shims and moves: pushing the machine lengthwise is the last of them.
func (e *Teller) sayAxial(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	x := r.Axial
	if x == nil {
		return
	}
	g, f := &x.Gap, &x.Forecast
	switch {
	case evaluate.Known(f.Axial) && f.Verdict == calc.Outside:
		way := words.SentenceGapOpen.String()
		if f.Axial < 0 {
			way = words.SentenceGapClose.String()
		}
		say(SentenceDo, words.SentenceGapPush, e.gapStands(x), e.Thickness(g.Wanted), e.Thickness(g.Tolerance), e.Thickness(math.Abs(f.Axial)), way)
	case f.Verdict == calc.Inside:
		say(SentenceDo, words.SentenceGapStays, e.gapStands(x), e.Thickness(g.Wanted), e.Thickness(g.Tolerance))
	case evaluate.Known(f.After) && evaluate.Known(g.Wanted):
		say(SentenceDo, words.SentenceGapNoTolerance, e.gapStands(x), e.Thickness(g.Wanted))
	case evaluate.Known(f.After):
		say(SentenceHint, words.SentenceGapNotJudged, e.gapStands(x))
	case evaluate.Known(g.Wanted):
		say(SentenceDo, words.SentenceGapSet, e.Thickness(g.Wanted))
	}
	if evaluate.Known(f.Least) && evaluate.Known(f.Most) && f.Most-f.Least > 0.0005 {
		say(SentenceHint, words.SentenceGapRound, e.Thickness(f.Least), e.Thickness(f.Most), e.Distance(g.Diameter))
	}
	if !(g.Float > 0) {
		return
	}
	if math.IsNaN(g.Mark) {
		say(SentenceDo, words.SentenceFloatNoMark, e.Thickness(g.Float))
	} else {
		say(SentenceDo, words.SentenceFloatMark, e.Thickness(g.Float), e.Thickness(g.Mark))
	}
	if evaluate.Known(f.Touch) && f.Touch <= 0 {
		say(SentenceDo, words.SentenceFloatTouch, e.Thickness(-f.Touch))
	}
}

// gapStands words the gap as found or as predicted.
func (e *Teller) gapStands(x *evaluate.Axial) string {
	form := words.SentenceGapAfter
	if x.Stays {
		form = words.SentenceGapFound
	}
	return form.Say(e.Thickness(x.Forecast.After))
}
