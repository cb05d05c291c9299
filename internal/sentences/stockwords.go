package sentences

import (
	"cmp"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/packs"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
	"slices"
	"strconv"
	"strings"
)

// ServedNotes say which machines are served whole, in part and not at all, and what these lack; none where the stock does for all.
func (e *Teller) ServedNotes(a *evaluate.Allocation) (list []string) {
	var whole, part, none []string
	for i := range a.Machines {
		s := &a.Machines[i]
		name := s.Machine
		if s.Priority > 0 {
			name += words.ListOfPriority.Say(s.Priority)
		}
		if s.Whole() {
			whole = append(whole, name)
			continue
		}
		if len(s.Lacks) > 0 {
			name += words.ListLacks.Say(e.countPieces(s.Lacks))
		}
		if s.Begun() {
			part = append(part, name)
		} else {
			none = append(none, name)
		}
	}
	if len(part)+len(none) == 0 || a.Plan.Cancelled {
		return nil
	}
	for _, l := range []struct {
		text  words.Key
		names []string
	}{{words.ListServedWhole, whole}, {words.ListServedPart, part}, {words.ListNotBegun, none}} {
		if len(l.names) > 0 {
			list = append(list, l.text.Say(len(l.names), strings.Join(l.names, "; ")))
		}
	}
	return list
}

// countPieces words pieces by their thickness, the thickest first: "2 × 0.50 + 0.05 mm".
func (e *Teller) countPieces(pieces []evaluate.StockLine) string {
	pieces = slices.Clone(pieces)
	sorting.Stable(pieces, func(a, b evaluate.StockLine) int { return cmp.Compare(b.MM, a.MM) })
	s := ""
	for i := 0; i < len(pieces); {
		n := 1
		for i+n < len(pieces) && pieces[i+n].MM == pieces[i].MM && pieces[i+n].Lamination == pieces[i].Lamination {
			n++
		}
		if s != "" {
			s += " + "
		}
		if n > 1 {
			s += strconv.Itoa(n) + " × "
		}
		if s += e.PackNumber(pieces[i].MM); pieces[i].Lamination > 0 {
			s += words.ListLaminated.Say(e.PackNumber(pieces[i].Lamination))
		}
		i += n
	}
	return s + " " + e.ThickUnit().String()
}

// Proof words how good the allocation is, and which feet no stock helps.
func (e *Teller) Proof(a *evaluate.Allocation) string {
	var below, none int
	for i := range a.Picks {
		switch a.Picks[i].Pick.Status {
		case packs.PickBelow:
			below++
		case packs.PickNoPack:
			none++
		}
	}
	s := proof(a, below, none)
	if below > 0 {
		s += words.ListBelow.Say(below)
	}
	if none > 0 {
		s += words.ListNoPack.Say(none)
	}
	return s
}

func proof(a *evaluate.Allocation, below, none int) string {
	p := a.Plan
	switch {
	case p.Cancelled:
		return words.ListStopped.String()
	case p.Asked == 0 && none == 0:
		return words.ListNoNeed.String()
	case !p.Contended && p.Met == p.Asked && below+none > 0:
		return words.ListHave.Say(p.Met)
	case !p.Contended && p.Met == p.Asked:
		return words.ListEnough.Say(p.Met)
	case a.ByMachines:
		return proofMachines(a)
	case p.Proved:
		return words.ListProved.Say(p.Met, p.Asked)
	case p.GapFeet == 0:
		return words.ListProvedFeet.Say(p.Met, p.Asked)
	}
	return words.ListGap.Say(p.Met, p.Asked, p.BoundFeet)
}

// proofMachines is proof for a stock that does not do for every machine.
func proofMachines(a *evaluate.Allocation) string {
	p := a.Plan
	asked, met := a.MachinesServed()
	s := words.ListMachines.Say(met, asked)
	byPriority, gap := "", -1
	for c := range p.Shares {
		k := &p.Shares[c]
		if gap < 0 && k.Bound > k.Met {
			gap = c
		}
		if len(p.Shares) > 1 && k.Asked > 0 {
			if byPriority != "" {
				byPriority += ", "
			}
			byPriority += words.ListClassMet.Say(className(k), k.Met, k.Asked)
		}
	}
	if byPriority != "" {
		s += words.ListByPriority.Say(byPriority)
	}
	switch {
	case p.Proved:
		return s + words.ListMachinesProved.String()
	case gap < 0:
		return s + words.ListMachinesMost.String()
	}
	k := &p.Shares[gap]
	return s + words.ListMachinesGap.Say(className(k), k.Bound)
}

// className names the machines of one turn.
func className(k *packs.ShareClass) string {
	s := words.ListNoPriority.String()
	if k.Priority > 0 {
		s = words.ListPriority.Say(k.Priority)
	}
	if k.Helpless {
		s += words.ListHelpless.String()
	}
	return s
}
