package sentences

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/words"
)

// saySure says what the uncertainty of a verdict is made of, and what would settle one that is too close to call.
func (e *Teller) saySure(i int, r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	ratio := func(k float64) string { return strconv.FormatFloat(k, 'f', 1, 64) }
	odd := ""
	for k := range r.Sweeps {
		if k < len(c.Checks) && c.Checks[k].Misfit > 1 {
			say(SentenceHint, words.SentenceMisfit, r.Sweeps[k].Name, ratio(c.Checks[k].Misfit))
			if odd == "" {
				odd = r.Sweeps[k].Name
			}
		}
	}
	if c.Misfit > 1 {
		say(SentenceHint, words.SentenceMisfitAll, ratio(c.Misfit))
	}
	if r.Verdict == calc.NotJudged || len(r.Sweeps) == 0 || math.IsNaN(c.Found.Share) {
		return
	}
	in := e.InputOf(i)
	if len(in.Sweeps) != len(r.Sweeps) {
		return
	}
	var said []string
	main := ""
	for _, p := range in.Parts(c) {
		if p.Share < 0.05 && len(said) > 0 {
			break
		}
		what := [...]string{calc.FromSag: words.SentencePartSag.String(), calc.FromDistances: words.SentencePartDistances.String(), calc.FromWanted: words.SentencePartWanted.String()}
		word := what[p.Kind]
		if p.Kind == calc.FromSweep {
			word = words.SentencePartSweep.Say(r.Sweeps[p.Sweep].Name)
		} else if main == "" {
			main = word
		}
		said = append(said, words.SentencePart.Say(word, e.Percent(p.Share)))
	}
	if len(said) > 0 {
		say(SentenceHint, words.SentencePartsOf, strings.Join(said, ", "))
	}
	if r.Verdict != calc.TooClose {
		return
	}
	if odd != "" {
		say(SentenceHint, words.SentenceSettleOdd, odd)
	}
	sweep, times := in.Settles(c)
	often := words.SentenceOnce.String()
	if times > 1 {
		often = words.SentenceTimes.Say(times)
	}
	switch {
	case times > 0 && sweep >= 0:
		say(SentenceHint, words.SentenceSettle, r.Sweeps[sweep].Name, often)
	case times > 0:
		say(SentenceHint, words.SentenceSettleAll, often)
	case main == "":
		main = words.SentencePartDistances.String()
		fallthrough
	default:
		say(SentenceHint, words.SentenceSettleNot, main)
	}
}
