package results

import (
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
)

// trains writes the plans. Numbers of feet are in the frame of the train: X from the coupling of its first row towards that row's Machine, left and right as that row sees them;
// couplings are as each row sees itself.
func (j *Rows) trains() {
	list := j.e.Trains()
	j.open(`,"trains":`, '[')
	for i := range list {
		p := &list[i]
		j.open("", '{')
		j.str(`,"train":`, p.Train)
		j.str(`,"plan":`, p.Plan)
		j.bool(`,"chosen":`, p.Chosen)
		j.int(`,"row":`, p.Row)
		j.plan(p)
		j.open(`,"feet":`, '[')
		for k := range p.Feet {
			j.trainFoot(&p.Feet[k])
		}
		j.shut(']')
		j.open(`,"couplings":`, '[')
		for k := range p.Couplings {
			j.trainCoupling(&p.Couplings[k])
		}
		j.shut(']')
		j.short(p.Short)
		j.open(`,"sequence":`, '[')
		for k := range p.Steps {
			s := &p.Steps[k]
			j.open("", '{')
			j.str(`,"machine":`, s.Machine)
			j.bool(`,"sideways":`, s.Sideways)
			j.strs(`,"feet":`, s.Feet)
			j.nums(`,"amounts_mm":`, s.Amounts)
			j.num(`,"slide_12_mm":`, s.Slide)
			j.shut('}')
		}
		j.shut(']')
		j.open(`,"alternatives":`, '[')
		for _, q := range j.e.TrainChoices(i) {
			j.open("", '{')
			j.str(`,"plan":`, q.Plan)
			j.plan(&q)
			j.open(`,"feet":`, '[')
			for k := range q.Feet {
				j.trainFoot(&q.Feet[k])
			}
			j.shut(']')
			j.short(q.Short)
			j.shut('}')
		}
		j.shut(']')
		j.shut('}')
	}
	j.shut(']')
}

// plan writes how a plan fares.
func (j *writer) plan(p *evaluate.TrainPlan) {
	j.str(`,"also":`, p.Also)
	j.str(`,"aim":`, p.Aim)
	j.str(`,"status":`, string(p.Status))
	j.str(`,"why":`, p.Why.String())
	j.num(`,"largest_move_mm":`, p.Largest)
	j.num(`,"total_move_mm":`, p.Total)
	j.int(`,"to_touch":`, p.Touch)
	if len(p.Couplings) > 0 {
		j.str(`,"after_verdict":`, p.Verdict.String())
	} else {
		j.null(`,"after_verdict":`)
	}
	j.num(`,"after_chance_inside_pct":`, p.Chance*100)
}

func (j *writer) trainFoot(f *evaluate.TrainFoot) {
	j.open("", '{')
	j.str(`,"machine":`, f.Machine)
	j.str(`,"foot":`, f.Foot)
	j.num(`,"station_mm":`, f.Station)
	j.num(`,"shim_mm":`, f.Shim)
	j.num(`,"move_mm":`, f.Move)
	if evaluate.Known(f.Slide) {
		j.num(`,"slide_12_mm":`, f.Slide)
	}
	j.num(`,"room_up_mm":`, f.Room.Up)
	j.num(`,"room_down_mm":`, f.Room.Down)
	j.num(`,"room_left_mm":`, f.Room.Left)
	j.num(`,"room_right_mm":`, f.Room.Right)
	j.open(`,"packs":`, '{')
	j.change(&f.Change, f.HasStock, f.Listed, f.InPlace)
	j.shut('}')
	j.shut('}')
}

func (j *writer) trainCoupling(c *evaluate.TrainCoupling) {
	j.open("", '{')
	j.str(`,"machine":`, c.Machine)
	j.int(`,"row":`, c.Row)
	j.after(&c.After, &c.AfterJ)
	if c.HasPacks {
		j.open(`,"after_packs":`, '{')
		j.after(&c.Packed, &c.PackedJ)
		j.shut('}')
	} else {
		j.null(`,"after_packs":`)
	}
	j.shut('}')
}

func (j *writer) short(list []evaluate.TrainShort) {
	j.open(`,"short":`, '[')
	for k := range list {
		s := &list[k]
		j.open("", '{')
		j.str(`,"machine":`, s.Machine)
		j.str(`,"foot":`, s.Foot)
		j.str(`,"direction":`, s.Direction)
		j.num(`,"missing_mm":`, s.Missing)
		j.bool(`,"must_not_move":`, s.Fixed)
		j.shut('}')
	}
	j.shut(']')
}

// after writes a line with what it is judged.
func (j *writer) after(l *calc.Line, g *calc.Judgement) {
	j.str(`,"verdict":`, g.Verdict.String())
	j.num(`,"share_of_limit_pct":`, g.Share*100)
	j.num(`,"chance_inside_pct":`, g.Chance*100)
	j.line(l)
}

// line writes the four numbers of a line.
func (j *writer) line(l *calc.Line) {
	j.num(`,"offset_v_mm":`, l.DV)
	j.num(`,"slope_v":`, l.TV)
	j.num(`,"offset_h_mm":`, l.DH)
	j.num(`,"slope_h":`, l.TH)
}

func (j *writer) strs(k string, list []string) {
	j.open(k, '[')
	for _, s := range list {
		j.str("", s)
	}
	j.shut(']')
}
