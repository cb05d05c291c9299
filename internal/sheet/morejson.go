package sheet

import (
	"math"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
)

// growthJSON writes where the wanted line comes from: how sure it is, what the dials should read, what grows.
func (e *Evaluator) growthJSON(j *js, r *RowResult) {
	cov := calc.Cov{}
	from := "columns"
	switch {
	case r.ColdSetting:
		cov, from = r.coldCov, "cold setting"
	case r.Growth == nil:
	case r.Growth.BySets:
		cov, from = r.Growth.Cov, "two sets of readings"
	case r.Growth.Measured:
		cov, from = r.Growth.Cov, "measured change"
	default:
		cov, from = r.Growth.Cov, "growth sheet"
	}
	u := func(k int) float64 {
		if math.IsNaN(r.Wanted.DV) {
			return nan
		}
		return 2 * math.Sqrt(math.Max(cov[k][k], 0))
	}
	j.num(`,"u_wanted_offset_v_mm":`, u(0))
	j.num(`,"u_wanted_offset_h_mm":`, u(2))
	j.num(`,"u_wanted_slope_v":`, u(1))
	j.num(`,"u_wanted_slope_h":`, u(3))
	if math.IsNaN(r.Wanted.DV) {
		j.null(`,"wanted_from":`)
	} else {
		j.str(`,"wanted_from":`, from)
	}
	j.open(`,"wanted_readings":`, '[')
	for _, w := range e.WantedReadings(r) {
		j.open("", '{')
		j.str(`,"sweep":`, w.Sweep)
		for k, key := range [...]string{`,"at_12_mm":`, `,"at_3_mm":`, `,"at_6_mm":`, `,"at_9_mm":`} {
			if k < len(w.Readings) {
				j.num(key, w.Readings[k].Zeroed)
			}
		}
		j.shut('}')
	}
	j.shut(']')
	if r.Growth == nil {
		j.null(`,"growth":`)
		return
	}
	j.open(`,"growth":`, '{')
	if g := r.Growth; g.Measured {
		line := func(of string, l *calc.Line) {
			j.num(memberName(of+"_offset_v_mm"), l.DV)
			j.num(memberName(of+"_offset_h_mm"), l.DH)
			j.num(memberName(of+"_slope_v"), l.TV)
			j.num(memberName(of+"_slope_h"), l.TH)
		}
		line("change", &g.Change)
		line("u_change", &g.UChange)
		if g.BySets {
			j.bool(`,"cold_set_is_found":`, g.FromFound)
			line("cold", &g.Cold)
			line("hot", &g.Hot)
		}
	} else {
		j.open(`,"supports":`, '[')
		for i := range g.Supports {
			s := &g.Supports[i]
			j.open("", '{')
			j.str(`,"support":`, s.Name)
			j.bool(`,"growth_sheet":`, s.Sheet)
			j.num(`,"station_mm":`, s.Station)
			j.num(`,"growth_v_mm":`, s.V)
			j.num(`,"u_growth_v_mm":`, s.UV)
			j.num(`,"growth_h_mm":`, s.H)
			j.num(`,"u_growth_h_mm":`, s.UH)
			j.num(`,"columns_growth_v_mm":`, s.ColumnV)
			j.num(`,"columns_growth_h_mm":`, s.ColumnH)
			j.shut('}')
		}
		j.shut(']')
		j.open(`,"parts":`, '[')
		for i := range g.Parts {
			p := &g.Parts[i]
			j.open("", '{')
			j.int(`,"row":`, p.Row)
			j.str(`,"support":`, job.GrowthSupport.Info().Choices[p.Support])
			j.str(`,"part":`, p.Part)
			j.num(`,"height_mm":`, p.Height)
			j.str(`,"direction":`, job.GrowthDirection.Info().Choices[(p.Side+3)%3])
			j.str(`,"material":`, p.Material)
			j.bool(`,"own_material":`, p.OwnMaterial)
			j.num(`,"coefficient_1e6_per_k":`, p.Alpha)
			j.str(`,"source":`, p.Source)
			j.num(`,"cold_c":`, p.Cold)
			j.num(`,"running_c":`, p.Running)
			j.num(`,"growth_v_mm":`, p.V)
			j.num(`,"growth_h_mm":`, p.H)
			j.shut('}')
		}
		j.shut(']')
	}
	j.shut('}')
}

// feetJSON writes the single feet and the soft foot.
func (e *Evaluator) feetJSON(j *js, r *RowResult) {
	j.open(`,"feet":`, '[')
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			j.open("", '{')
			j.str(`,"foot":`, f.Name)
			j.int(`,"row":`, f.Row)
			j.num(`,"station_mm":`, f.Station)
			j.num(`,"across_mm":`, f.Across)
			j.num(`,"align_mm":`, f.Align)
			j.num(`,"u_align_mm":`, f.UAlign)
			j.num(`,"soft_mm":`, f.Soft)
			j.num(`,"shim_mm":`, f.Wanted)
			j.change(&f.Change, f.HasStock, f.Listed, f.InPlace)
			j.num(`,"u_pack_mm":`, e.footPackU(f, new([]float64)))
			j.num(`,"room_up_mm":`, f.Room.Up)
			j.num(`,"room_down_mm":`, f.Room.Down)
			j.num(`,"room_left_mm":`, f.Room.Left)
			j.num(`,"room_right_mm":`, f.Room.Right)
			j.shut('}')
		}
	}
	j.shut(']')
	if r.Feet == nil || !r.Feet.HasSoft {
		j.null(`,"soft_foot":`)
		return
	}
	s := &r.Feet.Soft
	j.open(`,"soft_foot":`, '{')
	j.str(`,"status":`, s.Status.String())
	j.num(`,"limit_mm":`, r.Feet.Limit)
	if s.Status == calc.SoftOK {
		j.str(`,"pattern":`, s.Pattern.String())
		j.open(`,"feet":`, '[')
		for _, k := range s.Off {
			j.str("", r.Feet.Feet[k].Name)
		}
		j.shut(']')
		j.bool(`,"sure":`, s.Sure)
		j.num(`,"decided_mm":`, s.Decided)
		j.num(`,"u_decided_mm":`, s.UDecided)
		j.bool(`,"from_gaps":`, s.FromGaps)
		j.num(`,"total_mm":`, s.Total)
		j.num(`,"least_total_mm":`, s.Bound)
		j.bool(`,"piping_pulls":`, s.Pull)
		j.num(`,"piping_change_mm":`, s.PullLargest)
		j.open(`,"tapers":`, '[')
		for k := range s.Feet {
			x := &s.Feet[k]
			if !x.Angled {
				continue
			}
			j.open("", '{')
			j.str(`,"foot":`, r.Feet.Feet[k].Name)
			j.num(`,"taper_along_mm":`, x.TaperAlong)
			j.num(`,"taper_across_mm":`, x.TaperAcross)
			j.num(`,"slope_along":`, x.SlopeAlong)
			j.num(`,"slope_across":`, x.SlopeAcross)
			j.str(`,"opens":`, x.Open.String())
			j.bool(`,"machining":`, x.Machine)
			j.open(`,"steps":`, '[')
			for _, st := range x.Steps {
				j.open("", '{')
				j.num(`,"thickness_mm":`, st.Thickness)
				j.num(`,"share":`, st.Share)
				j.shut('}')
			}
			j.shut(']')
			j.shut('}')
		}
		j.shut(']')
	}
	j.shut('}')
}

// change writes what is done under a foot.
func (j *js) change(c *packs.Change, has, listed bool, in []float64) {
	list := func(k string, ok bool, v []float64) {
		if ok {
			j.nums(k, v)
		} else {
			j.null(k)
		}
	}
	list(`,"in_place_mm":`, listed, in)
	if !has {
		j.null(`,"status":`)
		return
	}
	j.str(`,"status":`, c.Status.String())
	out := c.Status == packs.ChangeUnlisted
	list(`,"pack_mm":`, !out && listed, c.Pieces)
	list(`,"keep_mm":`, listed, c.Keep)
	if out {
		j.nums(`,"take_mm":`, c.Pieces)
	} else {
		j.nums(`,"take_mm":`, c.Take)
	}
	j.nums(`,"put_mm":`, c.Put)
	j.num(`,"net_mm":`, c.Net)
	j.num(`,"error_mm":`, c.Error)
	j.num(`,"shortfall_mm":`, c.Shortfall)
}

// allocationJSON writes the pick list and the order list.
func (e *Evaluator) allocationJSON(j *js) {
	a := e.alloc
	if a == nil {
		return
	}
	p := a.Plan
	j.open(`,"stock_plan":`, '{')
	j.str(`,"text":`, a.Proof())
	j.int(`,"feet_asked":`, p.Asked)
	j.int(`,"feet_met":`, p.Met)
	j.int(`,"feet_bound":`, p.BoundFeet)
	e.servedJSON(j, a)
	j.bool(`,"contended":`, p.Contended)
	j.bool(`,"proved":`, p.Proved)
	j.bool(`,"cancelled":`, p.Cancelled)
	j.shut('}')
	j.open(`,"pick_list":`, '[')
	for i := range a.Picks {
		k := &a.Picks[i]
		if i > 0 {
			j.b = append(j.b, ',', '\n')
		}
		j.b = append(j.b, '{')
		j.str(`,"machine":`, k.Machine)
		j.str(`,"foot":`, k.Foot)
		j.str(`,"size":`, k.Size)
		j.num(`,"shim_mm":`, k.Wanted)
		j.str(`,"pick":`, k.Pick.Status.String())
		var in []float64
		in = append(append(in, k.Keep...), k.Take...)
		j.change(&k.Change, k.Pick.Status != packs.PickNone, k.Listed, in)
		j.shut('}')
	}
	j.shut(']')
	j.open(`,"order_list":`, '[')
	for i := range a.Orders {
		o := &a.Orders[i]
		j.open("", '{')
		j.num(`,"thickness_mm":`, o.Stock.MM)
		j.str(`,"size":`, o.Stock.Size)
		j.num(`,"lamination_mm":`, map[bool]float64{true: o.Stock.Lamination, false: nan}[o.Stock.Lamination > 0])
		if o.Counted {
			j.int(`,"on_hand":`, o.Stock.Count)
		} else {
			j.null(`,"on_hand":`)
		}
		j.int(`,"pieces":`, o.Pieces)
		j.int(`,"used":`, o.Used)
		j.int(`,"back":`, o.Back)
		j.int(`,"missing":`, o.Missing)
		j.int(`,"order":`, o.Order)
		j.int(`,"machines":`, o.Machines)
		j.shut('}')
	}
	j.shut(']')
}

// servedJSON writes how machines fare: by which count the stock was shared out, and what each machine that is not served whole lacks.
func (e *Evaluator) servedJSON(j *js, a *Allocation) {
	asked, met := a.MachinesServed()
	j.str(`,"share_by":`, map[bool]string{true: "machines", false: "feet"}[a.ByMachines])
	j.int(`,"machines_asked":`, asked)
	j.int(`,"machines_met":`, met)
	priority := func(n int) {
		if n > 0 {
			j.int(`,"priority":`, n)
		} else {
			j.null(`,"priority":`)
		}
	}
	j.open(`,"priorities":`, '[')
	for i := range a.Plan.Shares {
		k := &a.Plan.Shares[i]
		j.open("", '{')
		priority(k.Priority)
		j.bool(`,"can_be_finished":`, !k.Helpless)
		j.int(`,"machines_asked":`, k.Asked)
		j.int(`,"machines_met":`, k.Met)
		j.int(`,"machines_bound":`, k.Bound)
		j.shut('}')
	}
	j.shut(']')
	j.open(`,"machines":`, '[')
	for i := range a.Machines {
		s := &a.Machines[i]
		j.open("", '{')
		j.str(`,"machine":`, s.Machine)
		priority(s.Priority)
		served := "not begun"
		switch {
		case s.Whole():
			served = "whole"
		case s.Begun():
			served = "in part"
		}
		j.str(`,"served":`, served)
		j.int(`,"feet_asked":`, s.Asked)
		j.int(`,"feet_met":`, s.Met)
		var lacks []float64
		for k := range s.Lacks {
			lacks = append(lacks, s.Lacks[k].MM)
		}
		j.nums(`,"lacks_mm":`, lacks)
		j.shut('}')
	}
	j.shut(']')
}
