package sheet

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
)

// Lists are the lists that ListText writes.
var Lists = []string{"pick", "order", "feet", "moves", "board", "history"}

// A List is one of [Lists] in words, in the job's units.
type List struct {
	Header []string
	Words  int // columns from the left that hold words, and
	Number int // the column behind them up to which are numbers
	Rows   [][]string
	Short  []bool // rows that wait for pieces, or that no pack comes near; nil: a list without such
	At     []int  // index in the Machines sheet of the coupling of each row; −1 none
	Notes  []string
}

// List makes one of [Lists]: pick, what is done under each foot of the job; order, the stock over the job; feet, the single feet of the Feet sheet
// with soft foot and alignment apart; board, every machine with how far it is. Pick and order share the stock out ([Evaluator.Allocate], which takes progress).
func (e *Evaluator) List(list string, progress func(done, total int) bool) (*List, error) {
	unit := " [" + e.thickUnit().String() + "]"
	l := &List{Words: 3, Number: 3}
	add := func(at int, row ...string) {
		l.Rows, l.At = append(l.Rows, row), append(l.At, at)
	}
	switch list {
	case "feet":
		l.Header = []string{job.FeetMachine.Info().Name, job.FeetFoot.Info().Name, rSoftName, "Align" + unit, "Soft" + unit, "Shim" + unit, "In place" + unit, "Do" + unit, "Pack then" + unit}
		l.Number = 5
		for i := range e.dirty {
			r := e.Row(i)
			if r.Feet == nil {
				continue
			}
			for k := range r.Feet.Feet {
				f := &r.Feet.Feet[k]
				soft, in, then := "", "", ""
				if r.Feet.HasSoft && k == 0 {
					soft = string(e.appendSoft(nil, r))
				}
				if f.Listed {
					if in = e.packWords(f.InPlace); in == "" {
						in = senBareBase
					}
				}
				if f.HasStock && f.Change.Status != packs.ChangeUnlisted {
					then = e.packWords(f.Change.Pieces)
				}
				add(i, r.Name, f.Name, soft, e.bare(f.Align), e.bare(f.Soft), e.bare(f.Wanted), in, e.FootDo(f), then)
			}
		}
		l.Notes = append(l.Notes, e.PackNotes()...)
	case "moves":
		e.listMoves(l, unit, add)
	case "history":
		e.listHistory(l, add)
		return l, nil
	case "board":
		if err := e.listBoard(l, add); err != nil {
			return nil, err
		}
	case "pick", "order":
		a, err := e.Allocate(progress)
		if err != nil {
			return nil, err
		}
		l.Notes = append(append(l.Notes, a.Proof()), e.ServedNotes(a)...)
		if list == "order" {
			l.Words, l.Number = 0, 6
			l.Header = []string{"Thickness" + unit, "To add", "On hand", "Back", "Short by", "Order", "Couplings", "Size"}
			for i := range a.Orders {
				o := &a.Orders[i]
				have := txtNotCounted
				if o.Counted {
					have = strconv.Itoa(o.Stock.Count)
				}
				size := o.Stock.Size
				if o.Stock.Lamination > 0 {
					size += fmt.Sprintf(txtLaminated, e.packNumber(o.Stock.Lamination))
				}
				l.Short = append(l.Short, o.Missing > 0)
				add(-1, e.packNumber(o.Stock.MM), strconv.Itoa(o.Pieces), have, strconv.Itoa(o.Back), strconv.Itoa(o.Missing), strconv.Itoa(o.Order), strconv.Itoa(o.Machines), size)
			}
			if e.assumed {
				l.Notes = append(l.Notes, strings.TrimSpace(txtAssumed))
			}
			if n := len(e.StepShims()); n > 0 {
				l.Notes = append(l.Notes, fmt.Sprintf(txtStepsCount, n))
			}
			break
		}
		l.Header = []string{job.ColMachine.Info().Name, "Foot", "Stock", "To rise by" + unit, "Do" + unit, "Pack then" + unit}
		for i := range a.Picks {
			p := &a.Picks[i]
			do, status := e.ChangeDo(&p.Change, p.Wanted, p.Made), e.pickWord(p)
			if do == wordNothing && len(p.Take) == 0 && len(p.Put) == 0 {
				status = txtNoChange
			}
			then := ""
			if p.Change.Status != packs.ChangeUnlisted {
				then = e.packWords(p.Pieces)
			}
			short := p.Pick.Status == packs.PickShort || p.Pick.Status == packs.PickNoPack || p.Pick.Status == packs.PickBelow
			l.Short = append(l.Short, short)
			add(p.Row, p.Machine, p.Foot, status, e.bare(p.Wanted), do, then)
		}
		l.Notes = append(l.Notes, e.PackNotes()...)
		for _, s := range e.StepShims() {
			l.Notes = append(l.Notes, fmt.Sprintf(txtSteps, s.Machine, s.Foot, s.Text))
		}
		if a.Left > 0 {
			l.Notes = append(l.Notes, fmt.Sprintf(txtLeft, a.Left))
		}
	default:
		return nil, fmt.Errorf(msgNoSuchList, list)
	}
	if len(l.Rows) == 0 {
		l.Notes = append([]string{strings.TrimSpace(txtNoFeet)}, l.Notes...)
	}
	return l, nil
}

// pickWord is how a foot of the pick list fares.
func (e *Evaluator) pickWord(p *Picked) string {
	s := p.Pick.Status.String()
	if p.Together {
		s += txtChosenTogether
	}
	return s
}

// A StepShim is what is laid under one bent foot besides its pack. It is cut for the foot, and stands on no line of the stock.
type StepShim struct {
	Row     int    // index in the Machines sheet
	Machine string // as typed
	Foot    string
	Text    string // "from the 3 o'clock edge: 0.05 mm over 75 % of the way, …"
}

// StepShims lists the step shims of the job.
func (e *Evaluator) StepShims() []StepShim {
	var list []StepShim
	for i := range e.dirty {
		r := e.Row(i)
		if r.Feet == nil || r.Feet.Soft.Status != calc.SoftOK {
			continue
		}
		for k := range r.Feet.Soft.Feet {
			if x := &r.Feet.Soft.Feet[k]; len(x.Steps) > 0 && !x.Machine {
				list = append(list, StepShim{i, r.Name, r.Feet.Feet[k].Name, fmt.Sprintf(txtStepsFrom, r.Opens(x.Open), e.stepWords(x))})
			}
		}
	}
	return list
}

// ListText writes one of [Lists] as an aligned table for a terminal.
func (e *Evaluator) ListText(w io.Writer, list string) error {
	l, err := e.List(list, nil)
	if err != nil {
		return err
	}
	var b []byte
	if len(l.Rows) > 0 {
		b = AppendTable(b, append([][]string{l.Header}, l.Rows...), l.Words, l.Number)
		b = append(b, '\n')
	}
	for _, n := range l.Notes {
		b = append(append(b, n...), '\n')
	}
	for _, c := range tables.Cautions() {
		b = append(append(b, c.Text...), '\n')
	}
	_, err = w.Write(b)
	return err
}

// bare is a thickness as shims are shown, without its unit.
func (e *Evaluator) bare(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return string(appendNumber(nil, v, e.thickUnit(), decimals(e.thickUnit(), false), e.set.mark))
}
