package workbook

import (
	"math"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// movesList writes the sheet Moves: what the plan of every train asks of each foot, the lines it leaves at the couplings, the other plans, and the order of the work. In a workbook
// with formulas the lines after follow from the shims and moves above them, so that one can try others.
func (w *writer) movesList(name string) {
	trains := w.ev.Trains()
	if len(trains) == 0 {
		return
	}
	p := w.out(name)
	u, du, su := job.QThickness.Unit(w.ev.Inch()), job.QDistance.Unit(w.ev.Inch()), job.QSlope.Unit(w.ev.Inch())
	unit := " [" + u.String() + "]"
	n := w.heading(p, words.BookMovesTitle.Say(w.title()), words.BookMovesLine.String(),
		[]string{words.BookColTrain.String(), words.ListColMachine.String(), words.ListColFoot.String(), words.BookColStation.Say(du.String()),
			words.ListColShim.Say(unit), words.BookColMove.Say(unit), words.BookColRoomUp.Say(unit), words.BookColRoomDown.Say(unit), words.BookColRoomTo9.Say(unit),
			words.BookColRoomTo3.Say(unit), words.ListColDo.String()},
		[]int{16, 30, 11, 11, 13, 13, 13, 13, 13, 13, 40})
	text, bold := w.style(style{frame: true, wrap: true, indent: true}), w.style(style{frame: true, bold: true, wrap: true})
	num := w.style(style{frame: true, right: true, format: numberFormat(u, false)})
	dist := w.style(style{frame: true, right: true, format: "0.0"})
	m := &movesSheet{writer: w, p: p, u: u, du: du, su: su, rows: map[*evaluate.TrainFoot]int{}}
	value := func(col, style int, v float64, u units.Unit) {
		if math.IsNaN(v) {
			p.blank(col, style)
			return
		}
		p.number(col, style, u.FromBase(v))
	}
	for t := range trains {
		for k := range trains[t].Feet {
			f := &trains[t].Feet[k]
			n++
			m.rows[f] = n
			p.start(n, 0)
			p.text(0, bold, trains[t].Train)
			p.text(1, text, f.Machine)
			p.text(2, text, f.Foot)
			value(3, dist, f.Station, du)
			value(4, num, f.Shim, u)
			value(5, num, f.Move, u)
			for c, v := range [...]float64{f.Room.Up, f.Room.Down, f.Room.Left, f.Room.Right} {
				value(6+c, num, v, u)
			}
			p.text(10, text, w.ev.TrainFootDo(f))
			p.end()
		}
	}
	n = m.couplings(n+2, trains)
	line := func(s string, st int) {
		n++
		p.start(n, 0)
		p.text(0, st, s)
		p.end()
	}
	plain, strong := w.style(style{}), w.style(style{bold: true})
	for t := range trains {
		n++
		line(trains[t].Train, strong)
		line(w.ev.TrainWords(&trains[t]), plain)
		for _, s := range w.ev.TrainOrder(&trains[t]) {
			line(s, plain)
		}
		for _, s := range w.ev.TrainOthers(t) {
			line(s, plain)
		}
	}
	p.finish(layout{freezeCols: 1, freezeRows: 4, repeat: [2]int{4, 4}, title: w.title()})
}

// A movesSheet is the sheet Moves being written.
type movesSheet struct {
	*writer
	p         *page
	u, du, su units.Unit
	rows      map[*evaluate.TrainFoot]int // where each foot stands
}

// couplings writes the lines of the couplings: as found, and after the exact moves; with formulas where the workbook has them.
func (m *movesSheet) couplings(n int, trains []evaluate.TrainPlan) int {
	w, p := m.writer, m.p
	heads := []string{words.BookColTrain.String(), words.BookColCouplingOf.String(), words.BookColRow.String()}
	for q, k := range [...]words.Key{words.BookColFoundOffsetV, words.BookColFoundOffsetH, words.BookColFoundSlopeV, words.BookColFoundSlopeH,
		words.BookColAfterOffsetV, words.BookColAfterOffsetH, words.BookColAfterSlopeV, words.BookColAfterSlopeH} {
		unit := m.u
		if q%4 > 1 {
			unit = m.su
		}
		heads = append(heads, k.Say(unit))
	}
	heads = append(heads, words.BookColAfterPacks.String(), words.BookColChance.String(), words.BookColState.String())
	h := w.style(style{head: true, bold: true, wrap: true, pattern: patternSolid, fill: pale})
	p.start(n, 48)
	for c, s := range heads {
		p.text(c, h, s)
		p.wide(c, 11, 60)
	}
	p.end()
	text, bold := w.style(style{frame: true, wrap: true, indent: true}), w.style(style{frame: true, bold: true, wrap: true})
	num := w.style(style{frame: true, right: true, format: numberFormat(m.u, false)})
	slope := w.style(style{frame: true, right: true, format: "0.000"})
	whole := w.style(style{frame: true, right: true, format: "0"})
	for t := range trains {
		for k := range trains[t].Couplings {
			c := &trains[t].Couplings[k]
			n++
			p.start(n, 0)
			p.text(0, bold, trains[t].Train)
			p.text(1, text, c.Machine)
			p.number(2, whole, float64(c.Row))
			found, after := [4]float64{c.Found.DV, c.Found.DH, c.Found.TV, c.Found.TH}, [4]float64{c.After.DV, c.After.DH, c.After.TV, c.After.TH}
			formulas, state := m.formulas(&trains[t], c, n)
			units, styles := [4]units.Unit{m.u, m.u, m.su, m.su}, [4]int{num, num, slope, slope}
			for q, v := range found {
				p.number(3+q, styles[q], units[q].FromBase(v))
			}
			for q, v := range after {
				if state == words.FormulasAll.String() {
					p.formula(7+q, styles[q], tidy(formulas[q]).s, formulas[q].v)
				} else {
					p.number(7+q, styles[q], units[q].FromBase(v))
				}
			}
			j := &c.AfterJ
			if c.HasPacks {
				j = &c.PackedJ
			}
			p.text(11, text, j.Verdict.String())
			if math.IsNaN(j.Chance) {
				p.blank(12, whole)
			} else {
				p.number(12, whole, 100*j.Chance)
			}
			p.text(13, text, state)
			p.end()
		}
	}
	return n
}

// formulas are the line after the moves at a coupling, in the sheet's units: what was found and what the two machines do to it, each a straight line through its outermost feet. They
// are written where they give, worked out here as they stand, what the calculation gave.
func (m *movesSheet) formulas(t *evaluate.TrainPlan, c *evaluate.TrainCoupling, n int) (list [4]expr, state string) {
	if !m.opts.Live {
		return list, words.FormulasValues.String()
	}
	for q := range list {
		v := [4]float64{c.Found.DV, c.Found.DH, c.Found.TV, c.Found.TH}[q]
		unit := m.u
		if q > 1 {
			unit = m.su
		}
		list[q] = mul(atom(cellName(3+q, n), unit.FromBase(v)), constant(unit.ToBase(1)))
	}
	for _, end := range [...]struct {
		machine string
		sign    float64
	}{{c.Machine, 1}, {c.Stationary, -1}} {
		var a, b *evaluate.TrainFoot
		for k := range t.Feet {
			f := &t.Feet[k]
			if f.Machine != end.machine {
				continue
			}
			if !math.IsNaN(f.Slide) {
				return list, words.FormulasFlange.Say(end.machine)
			}
			if a == nil {
				a = f
			}
			b = f
		}
		if a == nil {
			continue // it stays, and nobody said where its feet are
		}
		at := func(f *evaluate.TrainFoot, col int, v float64, unit units.Unit) expr {
			return mul(atom(cellName(col, m.rows[f]), unit.FromBase(v)), constant(unit.ToBase(1)))
		}
		x0, x1 := at(a, 3, a.Station, m.du), at(b, 3, b.Station, m.du)
		for plane, cells := range [2][2]expr{{at(a, 4, a.Shim, m.u), at(b, 4, b.Shim, m.u)}, {at(a, 5, a.Move, m.u), at(b, 5, b.Move, m.u)}} {
			slope := div(sub(cells[1], cells[0]), sub(x1, x0))
			offset := add(cells[0], mul(slope, sub(constant(c.X), x0)))
			turnO, turnS := end.sign, end.sign // which way the row looks turns the offset sideways and the slope upwards
			if plane == 0 {
				turnS *= c.Sign
			} else {
				turnO *= c.Sign
			}
			list[plane] = add(list[plane], mul(constant(turnO), offset))
			list[2+plane] = add(list[2+plane], mul(constant(1000*turnS), slope))
		}
	}
	for q, want := range [4]float64{c.After.DV, c.After.DH, c.After.TV, c.After.TH} {
		unit := m.u
		if q > 1 {
			unit = m.su
		}
		list[q] = div(list[q], constant(unit.ToBase(1)))
		if d := math.Abs(list[q].v - unit.FromBase(want)); !(d <= 1e-9*math.Abs(want)+1e-9) {
			return list, words.FormulasOff.Say(d)
		}
	}
	return list, words.FormulasAll.String()
}
