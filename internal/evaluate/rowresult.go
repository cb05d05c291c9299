package evaluate

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"slices"
	"strings"
)

// Mends says whether there is something to be mended before the machine is aligned: a soft foot, or a pull of the piping.
func (r *RowResult) Mends() bool {
	if r.Feet == nil || !r.Feet.HasSoft || r.Feet.Soft.Status != calc.SoftOK {
		return false
	}
	return r.Feet.Soft.Pattern != calc.SoftNone || r.Feet.Soft.Pull
}

// Pushes says whether a move of a pair of feet is told: one smaller than its own ± is left.
func Pushes(f *calc.Foot) bool { return Known(f.Move) && !(math.Abs(f.Move) < f.UMove) }

// LimitKind is the kind of coupling whose rows of the set hold.
func (r *RowResult) LimitKind() string {
	if r.OnFlange {
		return r.Coupling.String() + ", " + tables.Flange.String()
	}
	return r.Coupling.String()
}

// NewPieces are the pieces that go in: as they lie, where nothing else lies there.
func NewPieces(c *packs.Change) []float64 {
	if len(c.Keep) == 0 {
		return c.Pieces
	}
	return c.Put
}

// ChangesNothing says whether nothing comes out and nothing goes in under a foot of which that is known.
func ChangesNothing(c *packs.Change, wanted float64, hasStock bool) bool {
	return Known(wanted) && hasStock && len(c.Take)+len(c.Put) == 0 && c.Status != packs.ChangeBelow && (c.Status != packs.ChangeUnlisted || len(c.Pieces) == 0)
}

// Opens is where a taper opens, in the words of whoever named the sides of the row.
func (r *RowResult) Opens(s calc.FootSide) calc.FootSide {
	if r.FromStationary {
		return s.Mirrored()
	}
	return s
}

// TwoWays says whether a soft foot and an alignment are both to be mended: one after the other, or in one lift.
func (r *RowResult) TwoWays() bool {
	f := r.Feet
	return f != nil && f.HasSoft && f.Soft.Status == calc.SoftOK && f.Soft.Pattern != calc.SoftNone && !f.Leave && r.Verdict != calc.Inside &&
		slices.ContainsFunc(f.Feet, func(o Foot) bool { return Known(o.Align) })
}

// RowOf is the row of the Machines sheet that bears a name, as the other sheets write it; −1: none.
func (e *Evaluator) RowOf(name string) int {
	if k := nameKey(name); k != "" {
		if i, ok := e.first[k]; ok {
			return i
		}
	}
	return -1
}

// MaterialNames lists the materials that the Growth sheet knows: the job's own, then those of the tables.
func (e *Evaluator) MaterialNames() []string {
	var names []string
	for i := range e.ownMaterials {
		names = append(names, e.ownMaterials[i].Name)
	}
	list := tables.Materials()
	for i := range list {
		names = append(names, list[i].Name)
	}
	return names
}

// FootGauges is what was measured at each foot of row i's machine, in the order of RowResult.Feet.Feet, mm: gaps, corners, rises, the size of
// the sole, NaN where there is none. Along and Across are as typed, or where the row says; NaN where nobody says. Nil without feet.
func (e *Evaluator) FootGauges(i int) []calc.SoftFoot {
	r := e.Row(i)
	if r == nil || r.Feet == nil {
		return nil
	}
	g := e.footings[e.keys[i]]
	if g == nil || len(g.feet) != len(r.Feet.Feet) {
		return nil
	}
	list := make([]calc.SoftFoot, len(g.feet))
	for k := range list {
		list[k] = g.feet[k].soft
		list[k].Along, list[k].Across = r.Feet.Feet[k].Station, g.feet[k].Across
	}
	return list
}

// FootPlace says which end of the machine the name of foot k of the row speaks of (0 front, 1 rear, −1 none) and which side (−1 at 9 o'clock, 1 at
// 3, 0 none).
func (e *Evaluator) FootPlace(r *RowResult, k int) (end, side int) {
	if end, side = FootWords(r.Feet.Feet[k].Name); r.FromStationary {
		side = -side
	}
	return end, side
}

// SupportName is the support the part belongs to, as the Growth sheet has it.
func (p *GrowthPart) SupportName() string {
	if list := job.GrowthSupport.Info().Choices; p.Support >= 0 && p.Support < len(list) {
		return list[p.Support]
	}
	return ""
}

// MachineText is what is typed in a column of the Machines sheet in row i, trimmed; "" where nothing is given.
func (e *Evaluator) MachineText(i int, id job.ColumnID) string {
	for col, b := range e.bind {
		if b.id == id && !job.NotGiven(e.job.Machines.Cell(i, col)) {
			return strings.TrimSpace(e.job.Machines.Cell(i, col))
		}
	}
	return ""
}
