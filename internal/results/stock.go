package results

import (
	"shimsheet/internal/evaluate"
	"shimsheet/internal/packs"
)

// stock writes the pick list and the order list.
func (j *Rows) stock() {
	a := j.e.Allocated()
	if a == nil {
		return
	}
	p := a.Plan
	j.open(`,"stock_plan":`, '{')
	j.str(`,"text":`, j.e.Proof(a))
	j.int(`,"feet_asked":`, p.Asked)
	j.int(`,"feet_met":`, p.Met)
	j.int(`,"feet_bound":`, p.BoundFeet)
	j.served(a)
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

// served writes how machines fare: by which count the stock was shared out, and what each machine that is not served whole lacks.
func (j *Rows) served(a *evaluate.Allocation) {
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
