package sentences

import (
	"cmp"
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
	"strings"
)

// HistoryWords tells what older jobs say of row i.
func (e *Teller) HistoryWords(i int) (list []string) {
	r := e.Row(i)
	for _, p := range e.History(i) {
		since := cmp.Or(p.When, words.PastNoDate.String())
		if !p.Why.Empty() {
			list = append(list, words.PastNot.Say(p.File, since, p.Why))
			continue
		}
		list = append(list, words.PastMoved.Say(since, p.File, p.Round, e.higher(p.Offset.V), e.towards(r, p.Offset.H, words.SentenceMissSide, words.SentenceMissStraight.String(), e.Thickness), e.beyond(&p.Offset, e.Thickness), e.Thickness(p.Offset.UTotal)),
			words.PastLeans.Say(e.Slope(p.Slope.Total), e.beyond(&p.Slope, e.Slope), e.Slope(p.Slope.UTotal)))
		if p.Advised {
			list = append(list, words.PastAdvised.Say(p.Round))
		}
	}
	if d, ok := e.Drift(i); ok {
		list = append(list, words.PastDrift.Say(string(evaluate.AppendNumber(nil, d.Years, units.None, 1, e.Mark())), d.Times, e.higher(d.V), e.towards(r, d.H, words.SentenceMissSide, words.SentenceMissStraight.String(), e.Thickness), e.Thickness(d.UV), e.Thickness(d.UH), e.Thickness(d.SV), e.Thickness(d.SH)))
	}
	return list
}

// higher says how much higher or lower.
func (e *Teller) higher(v float64) string {
	if v < 0 {
		return words.SentenceMissLow.Say(e.Thickness(-v))
	}
	return words.SentenceMissHigh.Say(e.Thickness(v))
}

// beyond says whether a change is more than the readings explain, and by how much.
func (e *Teller) beyond(v *calc.Vector, show func(float64) string) string {
	if b := evaluate.Beyond(v); b > 0 {
		return words.PastMore.Say(show(b))
	}
	return words.PastNoMore.String()
}

// ChangeCells are the offset and the slope that a machine moved by, each with its ±, as a list has them.
func (e *Teller) ChangeCells(p *evaluate.Past) (cells []string) {
	for _, v := range [...]float64{p.Offset.V, p.Offset.UV, p.Offset.H, p.Offset.UH} {
		cells = append(cells, e.without(v, e.Thickness))
	}
	for _, v := range [...]float64{p.Slope.V, p.Slope.UV, p.Slope.H, p.Slope.UH} {
		cells = append(cells, e.without(v, e.Slope))
	}
	return cells
}

// ChangeWords says whether that is more than the readings explain, or why it is not known.
func (e *Teller) ChangeWords(p *evaluate.Past) string {
	if !p.Why.Empty() {
		return p.Why.String()
	}
	return words.PastBoth.Say(e.beyond(&p.Offset, e.Thickness), e.beyond(&p.Slope, e.Slope))
}

// MissesWords says how well feet came to stand where they should, over the job; "" where hardly any was read again.
func (e *Teller) MissesWords() string {
	n, v, sv, h, sh := e.Misses()
	if n < 2 {
		return ""
	}
	return words.PastMisses.Say(n, e.Thickness(v), e.Thickness(sv), e.Thickness(h), e.Thickness(sh))
}

// without is a number as it is shown without its unit; "" for none.
func (e *Teller) without(v float64, show func(float64) string) string {
	if math.IsNaN(v) {
		return ""
	}
	s, _, _ := strings.Cut(show(v), " ")
	return s
}
