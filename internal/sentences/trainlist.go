package sentences

import (
	"fmt"
	"math"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// TrainFootDo says what goes under a foot of a train, and how a flange slides.
func (e *Teller) TrainFootDo(f *evaluate.TrainFoot) string {
	if f.Foot == evaluate.FootFlange {
		return fmt.Sprintf("%s "+words.ListTowards.String()+"12 o'clock", e.Shim(f.Slide))
	}
	if !f.HasStock {
		return ""
	}
	return e.ChangeDo(&f.Change, f.Shim, true)
}

// TrainWords says in sentences what a plan comes to.
func (e *Teller) TrainWords(p *evaluate.TrainPlan) string {
	switch p.Status {
	case evaluate.TrainPossible:
		chosen := ""
		if p.Chosen {
			chosen = words.ListTrainChosen.String()
		}
		return words.ListTrainPossible.Say(p.Train, p.Aim, e.Thickness(p.Largest), e.Thickness(p.Total)) + " " +
			words.ListTrainPlan.Say(p.Train, job.Quote(p.Plan), chosen, p.Touch, p.Verdict, e.trainChance(p))
	case evaluate.TrainImpossible:
		return words.ListTrainImpossible.Say(p.Train, p.Aim, p.Why)
	}
	return words.ProblemTrainWas.Say(job.Quote(p.Train), p.Why)
}

func (e *Teller) trainChance(p *evaluate.TrainPlan) string {
	if math.IsNaN(p.Chance) {
		return ""
	}
	return words.ListTrainChance.Say(e.Percent(p.Chance))
}

// TrainFares says how a plan fares beside others.
func (e *Teller) TrainFares(p *evaluate.TrainPlan) string {
	if p.Status == evaluate.TrainPossible {
		return words.ListTrainOtherCan.Say(e.Thickness(p.Largest), e.Thickness(p.Total), p.Touch, p.Verdict, e.trainChance(p))
	}
	return string(p.Status) + ", " + strings.TrimSuffix(p.Why.String(), ".")
}

// TrainOrder says in which order the work is done: a heading and a sentence a step, none where nothing is done.
func (e *Teller) TrainOrder(p *evaluate.TrainPlan) []string {
	if len(p.Steps) == 0 {
		return nil
	}
	list := []string{words.ListTrainOrder.Say(p.Train)}
	for k := range p.Steps {
		s := &p.Steps[k]
		what := words.ListTrainHeights.String()
		if s.Sideways {
			what = words.ListTrainSideways.String()
		}
		var feet []string
		for n, f := range s.Feet {
			var ways []string
			if v := s.Slide; math.Abs(v) >= evaluate.Touch {
				ways = append(ways, e.Shim(math.Abs(v))+" "+words.ListTowards.String()+[2]string{"6", "12"}[evaluate.AsInt(v > 0)]+" o'clock")
			}
			if v := s.Amounts[n]; math.Abs(v) >= evaluate.Touch {
				ways = append(ways, e.trainAmount(p, s.Sideways, v))
			}
			feet = append(feet, f+" "+strings.Join(ways, ", "))
		}
		list = append(list, words.ListTrainStep.Say(k+1, s.Machine, what, strings.Join(feet, ", then ")))
	}
	return list
}

// trainAmount is an amount with its direction, as the train's first row sees it.
func (e *Teller) trainAmount(p *evaluate.TrainPlan, sideways bool, v float64) string {
	if !sideways {
		return e.Shim(math.Abs(v)) + " " + [2]string{words.ListDown.String(), words.ListUp.String()}[evaluate.AsInt(v > 0)]
	}
	return e.Shim(math.Abs(v)) + " " + words.ListTowards.String() + e.TrainSide(p, v)
}

// TrainSide names the side of the frame that a sideways number points to.
func (e *Teller) TrainSide(p *evaluate.TrainPlan, v float64) string {
	return e.Row(p.Row-e.Job().Machines.SourceRow(0)).TheSide(v, false).String()
}

// sayTrain says whether what follows is the chosen plan's or the machine's own.
func (e *Teller) sayTrain(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	p := e.TrainPlanOf(r)
	switch {
	case p == nil:
	case r.Plan != nil:
		say(SentenceDo, words.SentenceTrainTakes, p.Train, job.Quote(p.Plan))
	case p.Asked != "":
		why := string(p.Status)
		if p.Status == evaluate.TrainNotJudged && !p.Why.Empty() {
			why = p.Why.String()
		}
		say(SentenceDo, words.SentenceTrainNot, p.Train, job.Quote(p.Asked), why)
	default:
		say(SentenceHint, words.SentenceTrainAlone, p.Train, string(p.Status))
	}
}

// sayStationary says what the chosen plan does at the row's Stationary.
func (e *Teller) sayStationary(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	for _, s := range e.stationaryWords(r) {
		say(SentenceDo, words.SentenceAsItIs, s)
	}
}

// stationaryWords are those sentences.
func (e *Teller) stationaryWords(r *evaluate.RowResult) (list []string) {
	if r.Plan == nil {
		return nil
	}
	for _, p := range e.PacksOf(r) {
		if p.Pair >= 0 || p.Single >= 0 || p.Bolt >= 0 {
			continue
		}
		do := e.PickDo(&p)
		if !p.Made {
			do = e.Bare(p.Wanted) + " " + e.ThickUnit().String()
		}
		if math.Abs(p.Move) >= evaluate.Touch {
			do += "; " + e.Shim(math.Abs(p.Move)) + " " + words.ListTowards.String() + r.TheSide(p.Move, false).String()
		}
		list = append(list, words.SentenceTrainOther.Say(p.Machine, p.Foot, do))
	}
	return list
}

// TrainAfter says how a plan leaves each coupling, after the packs where there are packs.
func (e *Teller) TrainAfter(p *evaluate.TrainPlan) (list []string) {
	for k := range p.Couplings {
		c := &p.Couplings[k]
		form := words.ListTrainAfterMoves
		if c.HasPacks {
			form = words.ListTrainAfter
		}
		l, j := c.Judged()
		list = append(list, form.Say(c.Machine, e.Thickness(l.DV), e.Thickness(l.DH), e.Slope(l.TV), e.Slope(l.TH), j.Verdict))
	}
	return list
}

// Cautions are the warnings that go with every result, in words.
func (e *Teller) Cautions() (list []string) {
	for _, c := range tables.Cautions() {
		list = append(list, c.Text)
	}
	return list
}

// TrainOthers says how the other plans of train k fare.
func (e *Teller) TrainOthers(k int) (list []string) {
	p := &e.Trains()[k]
	for _, q := range e.TrainChoices(k) {
		if q.Plan != p.Plan {
			list = append(list, words.ListTrainOther.Say(p.Train, q.Plan, alsoCalled(&q), q.Aim, e.TrainFares(&q)))
		}
	}
	return list
}

// alsoCalled is another name of a plan in brackets.
func alsoCalled(p *evaluate.TrainPlan) string {
	if p.Also == "" {
		return ""
	}
	return " (" + p.Also + ")"
}
