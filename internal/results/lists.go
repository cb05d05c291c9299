package results

import (
	"errors"
	"io"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
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

// NewList makes one of [Lists]: pick, what is done under each foot of the job; order, the stock over the job; feet, the single feet of the Feet sheet
// with soft foot and alignment apart; board, every machine with how far it is. Pick and order share the stock out ([evaluate.Evaluator.Allocate], which takes progress).
func NewList(e *sentences.Teller, list string, progress func(done, total int) bool) (*List, error) {
	l := &List{Words: 3, Number: 3}
	var err error
	switch list {
	case "feet":
		l.feet(e)
	case "moves":
		l.moves(e)
	case "history":
		l.history(e)
		return l, nil
	case "board":
		err = l.board(e)
	case "pick":
		err = l.pick(e, progress)
	case "order":
		err = l.order(e, progress)
	default:
		err = errors.New(words.ProblemNoSuchList.Say(strconv.Quote(list), strings.Join(Lists, ", ")))
	}
	if err != nil {
		return nil, err
	}
	if len(l.Rows) == 0 {
		l.Notes = append([]string{words.ListNoFeet.String()}, l.Notes...)
	}
	return l, nil
}

// add appends a row. at is the index of its coupling in the Machines sheet, −1 for none.
func (l *List) add(at int, row ...string) { l.Rows, l.At = append(l.Rows, row), append(l.At, at) }

// bracketed is a unit as headers have it.
func bracketed(u units.Unit) string { return " [" + u.String() + "]" }

// feet lists the single feet of the Feet sheet.
func (l *List) feet(e *sentences.Teller) {
	unit := bracketed(e.ThickUnit())
	l.Header = []string{job.FeetMachine.Info().Name, job.FeetFoot.Info().Name, words.ListSoftFoot.String(), words.ListColAlign.Say(unit), words.ListColSoft.Say(unit),
		words.ListColShim.Say(unit), words.ListColInPlace.Say(unit), words.ListColDoIn.Say(unit), words.ListColPackThen.Say(unit)}
	l.Number = 5
	for i := range e.Len() {
		r := e.Row(i)
		if r.Feet == nil {
			continue
		}
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			soft, in, then := "", "", ""
			if r.Feet.HasSoft && k == 0 {
				soft = string(e.AppendSoft(nil, r))
			}
			if f.Listed {
				in = e.LiesThere(f.InPlace)
			}
			if f.HasStock && f.Change.Status != packs.ChangeUnlisted {
				then = e.PackWords(f.Change.Pieces)
			}
			l.add(i, r.Name, f.Name, soft, e.Bare(f.Align), e.Bare(f.Soft), e.Bare(f.Wanted), in, e.FootDo(f), then)
		}
	}
	l.Notes = append(append(l.Notes, e.PackNotes()...), e.UnjudgedNotes()...)
}

// shared shares the stock out for a list, and begins its notes with how that fares.
func (l *List) shared(e *sentences.Teller, progress func(done, total int) bool) (*evaluate.Allocation, error) {
	a, err := e.Allocate(progress)
	if err == nil {
		l.Notes = append(append(l.Notes, e.Proof(a)), e.ServedNotes(a)...)
	}
	return a, err
}

// order lists the lines of the stock: what the job takes of each, and what is missing.
func (l *List) order(e *sentences.Teller, progress func(done, total int) bool) error {
	a, err := l.shared(e, progress)
	if err != nil {
		return err
	}
	l.Words, l.Number = 0, 6
	l.Header = []string{words.ListColThickness.Say(bracketed(e.ThickUnit())), words.ListColToAdd.String(), words.ListColOnHand.String(), words.ListColBack.String(),
		words.ListColShortBy.String(), words.ListColOrder.String(), words.ListColCouplings.String(), words.ListColSize.String()}
	for i := range a.Orders {
		o := &a.Orders[i]
		have := words.ListNotCounted.String()
		if o.Counted {
			have = strconv.Itoa(o.Stock.Count)
		}
		size := o.Stock.Size
		if o.Stock.Lamination > 0 {
			size += e.LaminatedWords(o.Stock.Lamination)
		}
		l.Short = append(l.Short, o.Missing > 0)
		l.add(-1, e.PackNumber(o.Stock.MM), strconv.Itoa(o.Pieces), have, strconv.Itoa(o.Back), strconv.Itoa(o.Missing), strconv.Itoa(o.Order), strconv.Itoa(o.Machines), size)
	}
	l.Notes = append(l.Notes, e.UnjudgedNotes()...)
	l.Notes = append(l.Notes, e.OrderNotes()...)
	if n := len(StepShims(e)); n > 0 {
		l.Notes = append(l.Notes, words.ListStepsCount.Say(n))
	}
	return nil
}

// pick lists what is done under each foot of the job.
func (l *List) pick(e *sentences.Teller, progress func(done, total int) bool) error {
	a, err := l.shared(e, progress)
	if err != nil {
		return err
	}
	unit := bracketed(e.ThickUnit())
	l.Header = []string{job.ColMachine.Info().Name, words.ListColFoot.String(), words.ListColStock.String(), words.ListColToRise.Say(unit), words.ListColDoIn.Say(unit),
		words.ListColPackThen.Say(unit)}
	for i := range a.Picks {
		p := &a.Picks[i]
		then := ""
		if p.Change.Status != packs.ChangeUnlisted {
			then = e.PackWords(p.Pieces)
		}
		l.Short = append(l.Short, p.Pick.Status == packs.PickShort || p.Pick.Status == packs.PickNoPack || p.Pick.Status == packs.PickBelow)
		l.add(p.Row, p.Machine, p.Foot, pickWord(p), e.Bare(p.Wanted), e.ChangeDo(&p.Change, p.Wanted, p.Made), then)
	}
	l.Notes = append(append(l.Notes, e.PackNotes()...), e.UnjudgedNotes()...)
	for _, s := range StepShims(e) {
		l.Notes = append(l.Notes, words.ListSteps.Say(s.Machine, s.Foot, s.Text))
	}
	if a.Left > 0 {
		l.Notes = append(l.Notes, words.ListLeft.Say(a.Left))
	}
	return nil
}

// pickWord is how a foot of the pick list fares.
func pickWord(p *evaluate.Picked) string {
	if evaluate.ChangesNothing(&p.Change, p.Wanted, p.Made) {
		return words.ListNoChange.String()
	}
	s := p.Pick.Status.String()
	if p.Together {
		s += words.ListChosenTogether.String()
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
func StepShims(e *sentences.Teller) []StepShim {
	var list []StepShim
	for i := range e.Len() {
		r := e.Row(i)
		if r.Feet == nil || r.Feet.Soft.Status != calc.SoftOK {
			continue
		}
		for k := range r.Feet.Soft.Feet {
			if x := &r.Feet.Soft.Feet[k]; len(x.Steps) > 0 && !x.Machine {
				list = append(list, StepShim{i, r.Name, r.Feet.Feet[k].Name, words.ListStepsFrom.Say(r.Opens(x.Open), e.StepWords(x))})
			}
		}
	}
	return list
}

// WriteList writes one of [Lists] as an aligned table for a terminal.
func WriteList(w io.Writer, e *sentences.Teller, list string) error {
	l, err := NewList(e, list, nil)
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

// moves lists what the trains' feet are to do.
func (l *List) moves(e *sentences.Teller) {
	unit := bracketed(e.ThickUnit())
	l.Words, l.Number = 3, 6
	l.Header = []string{job.ColTrain.Info().Name, job.ColMachine.Info().Name, words.ListColFoot.String(),
		words.ListColStation.Say(bracketed(job.QDistance.Unit(e.Inch()))), words.ListColShim.Say(unit), words.ListColMoveTo3.Say(unit), words.ListColDo.String()}
	list := e.Trains()
	for i := range list {
		p := &list[i]
		for k := range p.Feet {
			f := &p.Feet[k]
			do := e.TrainFootDo(f)
			station := string(evaluate.AppendNumber(nil, f.Station, job.QDistance.Unit(e.Inch()), 1, e.Decimal()))
			l.add(-1, p.Train, f.Machine, f.Foot, station, e.Bare(f.Shim), e.Bare(f.Move), do)
		}
		l.Notes = append(l.Notes, e.TrainWords(p))
		l.Notes = append(l.Notes, e.TrainAfter(p)...)
		l.Notes = append(l.Notes, e.TrainOrder(p)...)
		l.Notes = append(l.Notes, e.TrainOthers(i)...)
	}
	if len(list) == 0 {
		l.Notes = append(l.Notes, words.ListNoTrains.String())
	}
}

// history lists what moved since older jobs.
func (l *List) history(e *sentences.Teller) {
	mm, sl := bracketed(job.QThickness.Unit(e.ShowsInch())), bracketed(job.QSlope.Unit(e.ShowsInch()))
	l.Header = []string{job.ColMachine.Info().Name, words.ListColSince.String(), words.ListColFile.String(), words.ListColThen.String(), words.ListColNow.String(),
		words.ListColOffsetV.Say(mm), "±", words.ListColOffsetH.Say(mm), "±", words.ListColSlopeV.Say(sl), "±", words.ListColSlopeH.Say(sl), "±", words.ListColMoved.String()}
	l.Words, l.Number = 5, 13
	for i := range e.Len() {
		for _, p := range e.History(i) {
			l.add(i, append(append([]string{e.Row(i).Name, p.When, p.File, p.Round, p.Now}, e.ChangeCells(&p)...), e.ChangeWords(&p))...)
		}
	}
	for i := range e.Len() {
		if said := e.HistoryWords(i); len(said) > 0 {
			if _, ok := e.Drift(i); ok {
				l.Notes = append(l.Notes, e.Row(i).Name+": "+said[len(said)-1])
			}
		}
	}
	if s := e.MissesWords(); s != "" {
		l.Notes = append(l.Notes, s)
	}
	if l.Notes = append(l.Notes, words.ListHistoryHow.String()); !e.HasHistory() {
		l.Notes = append([]string{words.ListHistoryNone.String()}, l.Notes...)
	}
}

// board lists a machine a row in the order of the stages, and how many are how far, all and by area and crew.
func (l *List) board(e *sentences.Teller) error {
	if _, err := e.Allocate(nil); err != nil {
		return err
	}
	list := e.Board()
	l.Header = []string{job.ColMachine.Info().Name, job.ColArea.Info().Name, job.ColCrew.Info().Name, job.ColDate.Info().Name, job.ColPriority.Info().Name,
		words.ListColStage.String(), words.ListColWaitsFor.String()}
	l.Words, l.Number = len(l.Header), len(l.Header)
	for _, g := range sentences.GroupBoard(list, "stage") {
		for _, b := range g.Rows {
			l.Short = append(l.Short, len(b.Short) > 0)
			l.add(b.At, b.Machine, b.Area, b.Crew, b.Date, b.By("priority"), b.Stage.Word().String(), b.Waits())
		}
	}
	for _, by := range sentences.BoardBy {
		groups := sentences.GroupBoard(list, by)
		switch {
		case by == "stage":
			whole := sentences.BoardGroup{}
			for _, b := range list {
				whole.Count[b.Stage]++
			}
			l.Notes = append(l.Notes, words.ListBoard.Say(len(list), whole.Words()))
		case len(groups) > 1 || len(groups) == 1 && groups[0].Name != "":
			for _, g := range groups {
				name := g.Name
				if name == "" {
					name = words.ListBoardNone.String()
				}
				l.Notes = append(l.Notes, words.ListBoardBy.Say(by, name, g.Words()))
			}
		}
	}
	return nil
}
