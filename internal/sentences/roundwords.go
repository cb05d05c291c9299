package sentences

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/words"
)

// HotWords tells the round hot of row i, where that is the open one.
func (e *Teller) HotWords(i int) []string {
	if r := e.Row(i); r.OpenIsHot() {
		for k := range r.Rounds {
			if o := &r.Rounds[k]; o.Hot() && o.Struck == "" {
				return e.hotWords(r, o)
			}
		}
	}
	return nil
}

// RoundsHead says which round counts and how many there are.
func (e *Teller) RoundsHead(r *evaluate.RowResult) string {
	return words.SentenceRoundState.Say(r.RoundWord(), len(r.Rounds))
}

// RoundsWords tells the rounds of row i one by one: the share of the limit, how far the feet missed, which sprang back; the reason of those that are struck.
func (e *Teller) RoundsWords(i int) (list []string) {
	r := e.Row(i)
	for k := range r.Rounds {
		o := &r.Rounds[k]
		if o.Struck != "" {
			list = append(list, words.SentenceRoundStruck.Say(o.Name, o.Struck))
			continue
		}
		if o.Hot() {
			list = append(list, e.hotWords(r, o)...)
			continue
		}
		s := words.SentenceRoundLine.Say(o.Name, o.Verdict)
		if evaluate.Known(o.Share) {
			s += words.SentenceRoundShare.Say(e.Percent(o.Share))
		}
		list = append(list, s+".")
		for _, f := range o.Missed {
			list = append(list, e.missedWords(r, &f))
			if f.Sprang {
				list = append(list, words.SentenceSprang.Say(f.Foot, e.Thickness(-f.V)))
			}
		}
	}
	return list
}

// hotWords tells a round hot: how it is held against the line wanted hot, and how far growth was from what was worked out.
func (e *Teller) hotWords(r *evaluate.RowResult, o *evaluate.Round) (list []string) {
	share := ""
	if evaluate.Known(o.Share) {
		share = words.SentenceRoundShare.Say(e.Percent(o.Share))
	}
	verdict := o.Verdict.String()
	if o.Verdict == calc.NotJudged && !o.Why.Empty() {
		verdict += " (" + o.Why.String() + ")"
	}
	list = append(list, words.SentenceHot.Say(verdict, share))
	for _, f := range o.Missed {
		way := words.SentenceMissHigh
		if f.V < 0 {
			way = words.SentenceMissLow
		}
		list = append(list, words.SentenceHotGrew.Say(f.Foot, way.Say(e.Thickness(math.Abs(f.V))), e.towards(r, f.H, words.SentenceMissSide, words.SentenceMissStraight.String(), e.Thickness)))
	}
	return list
}

// missedWords says how far a pair of feet missed.
func (e *Teller) missedWords(r *evaluate.RowResult, f *evaluate.MissedFoot) string {
	way := words.SentenceMissHigh
	if f.V < 0 {
		way = words.SentenceMissLow
	}
	return words.SentenceMissed.Say(f.Foot, way.Say(e.Thickness(math.Abs(f.V))), e.towards(r, f.H, words.SentenceMissSide, words.SentenceMissStraight.String(), e.Thickness))
}

// sayRounds tells which round counts, and how far the feet missed.
func (e *Teller) sayRounds(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	if len(r.Rounds) == 0 {
		return
	}
	say(SentenceLine, words.SentenceAsItIs, e.RoundsHead(r))
	for k := len(r.Rounds) - 1; k >= 0; k-- {
		o := &r.Rounds[k]
		if o.Struck != "" {
			say(SentenceHint, words.SentenceRoundStruck, o.Name, o.Struck)
			continue
		}
		if o.Hot() {
			for _, s := range e.hotWords(r, o) {
				say(SentenceLine, words.SentenceAsItIs, s)
			}
			if o.Verdict != calc.Inside {
				say(SentenceHint, words.SentenceHotMend)
			}
			continue
		}
		for _, f := range o.Missed {
			say(SentenceLine, words.SentenceAsItIs, e.missedWords(r, &f))
			if f.Sprang {
				say(SentenceHint, words.SentenceSprang, f.Foot, e.Thickness(-f.V))
			}
		}
		break
	}
}
