package workbook

import (
	"math"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/results"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// allocation is how the stock is shared out over the job; nil, with the reason, if it cannot be.
func (w *writer) allocation() (*evaluate.Allocation, error) {
	return w.ev.Allocate(func(done, total int) bool {
		if total > 0 {
			w.opts.progress(0.3 + 0.1*float64(done)/float64(total))
		}
		return true
	})
}

// pieces lists pieces of shims.
func (w *writer) pieces(list []float64) string {
	return string(w.ev.AppendPieces(nil, list))
}

func (w *writer) pickList(name string) {
	p := w.out(name)
	u := job.QThickness.Unit(w.ev.Inch())
	unit := " [" + u.String() + "]"
	a, err := w.allocation()
	line := words.BookPickLine.String()
	if err != nil {
		line = words.BookNoPickList.Say(err.Error())
	} else {
		line += " " + w.ev.Proof(a)
		if a.Left > 0 {
			line += words.BookPickLeft.Say(a.Left)
		}
		for _, s := range append(w.ev.PackNotes(), w.ev.UnjudgedNotes()...) {
			line += " " + s
		}
	}
	n := w.heading(p, words.BookPickTitle.Say(w.title()), line,
		[]string{words.ListColMachine.String(), words.ListColFoot.String(), words.ListColDo.String(), words.ListColToRise.Say(unit), words.BookColTakeOut.Say(unit),
			words.BookColPutIn.Say(unit), words.ListColPackThen.Say(unit), words.BookColPieces.String(), words.BookColOffBy.Say(unit), words.BookColThenMove.Say(unit),
			words.BookColTowards.String(), words.ListColSize.String(), words.BookColDone.String()},
		[]int{34, 11, 20, 10, 18, 26, 28, 8, 9, 10, 14, 12, 8})
	text, bold := w.style(style{frame: true, wrap: true, indent: true}), w.style(style{frame: true, bold: true, wrap: true})
	num := w.style(style{frame: true, right: true, format: numberFormat(u, true)})
	fine := w.style(style{frame: true, right: true, format: numberFormat(u, false)})
	whole := w.style(style{frame: true, right: true, format: "0"})
	if err == nil {
		for i := range a.Picks {
			k := &a.Picks[i]
			r := w.ev.Row(k.Row)
			n++
			p.start(n, 0)
			p.text(0, bold, k.Machine)
			p.text(1, text, k.Foot)
			out := k.Change.Status == packs.ChangeUnlisted
			do := words.BookDoNothing.String()
			idle := evaluate.ChangesNothing(&k.Change, k.Wanted, k.Made)
			switch {
			case idle:
			case k.Status.Short(), k.Status == packs.PickNoPack, k.Status == packs.PickBelow:
				do = k.Status.String()
			case out && len(k.Pieces) > 0, len(k.Take) > 0 && len(k.Put) == 0:
				do = words.BookDoTakeOut.String()
			case len(k.Take) > 0:
				do = words.BookDoExchange.String()
			case len(k.Put) > 0:
				do = words.BookDoAdd.String()
			}
			if k.Together && !idle {
				do += words.BookTogether.String()
			}
			p.text(2, text, do)
			p.number(3, num, u.FromBase(k.Wanted))
			switch {
			case out && len(k.Pieces) > 0:
				p.text(4, text, words.BookInAll.Say(w.thickness(k.Sum)))
			default:
				p.text(4, text, w.pieces(k.Take))
			}
			if out {
				p.blank(5, text)
				p.blank(6, text)
				p.blank(7, whole)
			} else {
				p.text(5, text, w.pieces(evaluate.NewPieces(&k.Change)))
				p.text(6, text, w.pieces(k.Pieces))
				p.number(7, whole, float64(len(k.Pieces)))
			}
			p.number(8, fine, u.FromBase(k.Net-k.Wanted))
			var pair *calc.Foot
			if k.Pair >= 0 && k.Pair < len(r.Calc.Feet) && !r.Stays() {
				pair = &r.Calc.Feet[k.Pair]
			}
			ofTrain := k.Pair < 0 && k.Single < 0 && k.Bolt < 0 // a foot of the Stationary, which a train's plan moves too
			switch {
			case ofTrain && k.Move != 0:
				p.number(9, num, u.FromBase(math.Abs(k.Move)))
				p.text(10, text, side(r, k.Move))
			case pair == nil || math.IsNaN(pair.Move):
				p.blank(9, num)
				p.blank(10, text)
			case evaluate.Pushes(pair):
				p.number(9, num, u.FromBase(math.Abs(pair.Move)))
				p.text(10, text, side(r, pair.Move))
			default:
				p.blank(9, num)
				p.text(10, text, words.BookLeave.String())
			}
			p.text(11, text, k.Size)
			p.blank(12, text)
			p.end()
		}
	}
	for _, s := range results.StepShims(w.ev) {
		n++
		p.start(n, 0)
		p.text(0, bold, s.Machine)
		p.text(1, text, s.Foot)
		p.text(2, text, words.BookStepShims.String())
		for c := 3; c < 13; c++ {
			if c == 5 {
				p.text(c, text, s.Text)
			} else {
				p.blank(c, text)
			}
		}
		p.end()
	}
	if n == 4 {
		n++
		p.start(n, 0)
		p.text(0, text, words.BookNothingToDo.String())
		p.end()
	}
	p.finish(layout{freezeCols: 1, freezeRows: 4, repeat: [2]int{4, 4}, title: w.title()})
}

func (w *writer) orderList(name string) {
	p := w.out(name)
	u := job.QThickness.Unit(w.ev.Inch())
	a, err := w.allocation()
	line := words.BookOrderLine.String()
	if err != nil {
		line = words.BookNoOrderList.Say(err.Error())
	} else {
		line += " " + strings.Join(append([]string{w.ev.Proof(a)}, w.ev.UnjudgedNotes()...), " ")
	}
	if steps := len(results.StepShims(w.ev)); steps > 0 {
		line += words.BookOrderSteps.Say(steps)
	}
	for _, note := range w.ev.OrderNotes() {
		line += " " + note
	}
	n := w.heading(p, words.BookOrderTitle.Say(w.title()), line,
		[]string{words.BookColThickness.Say(u.String()), words.BookColPiecesToAdd.String(), words.ListColOnHand.String(), words.ListColShortBy.String(),
			words.BookColOrder.String(), words.ListColCouplings.String(), words.ListColSize.String(), words.BookColKind.String()}, []int{14, 12, 12, 12, 14, 12, 20, 22})
	text := w.style(style{frame: true, wrap: true, indent: true})
	whole := w.style(style{frame: true, right: true, format: "0"})
	short := w.style(style{frame: true, right: true, bold: true, format: "0", pattern: patternTrellis, fill: orange})
	total, missing, order := 0, 0, 0
	if err == nil {
		for i := range a.Orders {
			o := &a.Orders[i]
			n++
			total += o.Pieces
			missing += o.Missing
			order += o.Order
			p.start(n, 0)
			s := w.thickness(o.Stock.MM)
			if x, d, ok := asNumber(s, w.ev.Decimal()); ok {
				p.number(0, w.style(style{frame: true, right: true, format: decimalFormat(d)}), x)
			} else {
				p.text(0, text, s)
			}
			p.number(1, whole, float64(o.Pieces))
			if o.Counted {
				p.number(2, whole, float64(o.Stock.Count))
			} else {
				p.text(2, text, words.BookNotCounted.String())
			}
			if o.Missing > 0 {
				p.number(3, short, float64(o.Missing))
			} else {
				p.blank(3, whole)
			}
			if o.Order > 0 {
				p.number(4, whole, float64(o.Order))
			} else {
				p.blank(4, whole)
			}
			p.number(5, whole, float64(o.Machines))
			p.text(6, text, o.Stock.Size)
			kind := words.BookPlain.String()
			if o.Stock.Lamination > 0 {
				kind = words.BookLaminated.Say(w.thickness(o.Stock.Lamination))
			}
			if c := o.Stock.Class; c != tables.NoStripClass {
				kind += ", " + c.String()
			}
			p.text(7, text, kind)
			p.end()
		}
	}
	n++
	p.start(n, 0)
	sum := w.style(style{bold: true, right: true, format: "0"})
	p.text(0, w.style(style{bold: true}), words.BookAll.String())
	p.number(1, sum, float64(total))
	p.number(3, sum, float64(missing))
	p.number(4, sum, float64(order))
	p.end()
	p.finish(layout{freezeRows: 4, repeat: [2]int{4, 4}, title: w.title(), portrait: true})
}
