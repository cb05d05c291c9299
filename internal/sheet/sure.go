package sheet

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/words"
)

// What uncertainty is taken where nothing is said; common practice, no source.
const (
	defaultSagShare  = 0.2   // of a sag, expanded
	defaultDistanceU = 1.0   // mm, standard, of a distance by tape
	longestBare      = 200.0 // mm: a usual bracket no longer than this shows 6 µm at 6 o'clock or less (calc.Bar), which the reading's own uncertainty covers
)

// inputOf is the calculation's input of row i, good until another row is read.
func (e *Evaluator) inputOf(i int) *calc.Input {
	var again RowResult
	var w want
	known := e.Row(i)
	e.sc.round, e.sc.found = nil, known.foundRound
	if known.FromRounds() {
		e.sc.round = known.counting
	}
	e.understand(i, &again, &w)
	e.sc.round, e.sc.found = nil, nil
	return &e.sc.in
}

// saySure says what the uncertainty of a verdict is made of, and what would settle one that is too close to call.
func (e *Evaluator) saySure(i int, r *RowResult, say func(SentenceKind, words.Key, ...any)) {
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
	in := e.inputOf(i)
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
		said = append(said, words.SentencePart.Say(word, e.percent(p.Share)))
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
