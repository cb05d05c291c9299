package evaluate

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// trainLine is a row of the Trains sheet.
type trainLine struct {
	key, name string // of the machine
	may       int    // 0 no, 1 yes, −1 not said
	effort    float64
	row       int
	bad       bool
	plan      string // as typed, "" not said
	train     string // as typed
	col       int    // of the train's name
}

// readTrains reads the Trains sheet.
func (e *Evaluator) readTrains() {
	e.trainLines, e.trainsBad, e.planChosen, e.rowPlans = map[string][]trainLine{}, false, false, nil
	l := e.lines(job.TrainsSheet, job.TrainsTrain, job.TrainsNote, job.TrainsTrain)
	if l == nil {
		t := e.job.Table(job.TrainsSheet)
		e.trainsBad = t != nil && slices.ContainsFunc(t.Rows, func(row []string) bool { return !job.BlankRow(row) })
		return
	}
	for l.next() {
		x := trainLine{name: l.text(job.TrainsMachine), row: l.src(), plan: l.text(job.TrainsPlan)}
		if l.blank(job.TrainsMachine) && l.blank(job.TrainsMayMove) && l.blank(job.TrainsEffort) && x.plan == "" && !l.blank(job.TrainsTrain) {
			continue // nothing is said
		}
		if x.key = nameKey(x.name); l.blank(job.TrainsMachine) && (x.plan == "" || !l.blank(job.TrainsMayMove) || !l.blank(job.TrainsEffort)) {
			l.missing(job.TrainsMachine, words.HintTrainStranger.With()) // a row that only chooses a plan is the whole train's
		}
		e.planChosen = e.planChosen || x.plan != ""
		x.may = l.choice(job.TrainsMayMove)
		if x.effort = l.number(job.TrainsEffort, positive); math.IsNaN(x.effort) {
			x.effort = 1
		}
		if x.bad = l.bad; l.blank(job.TrainsTrain) {
			l.missing(job.TrainsTrain, words.HintTrainNoRow.With())
			e.trainsBad = true // it may have been meant to forbid a move, of whichever train
			continue
		}
		key := nameKey(l.text(job.TrainsTrain))
		x.train, x.col = l.text(job.TrainsTrain), l.col(job.TrainsTrain)
		e.trainLines[key] = append(e.trainLines[key], x)
	}
}

// trainsUnknown tells of rows of the Trains sheet whose train no row of the Machines sheet has.
func (e *Evaluator) trainsUnknown(groups map[string][]int) (list []job.Problem) {
	for key, lines := range e.trainLines {
		if groups[key] != nil {
			continue
		}
		for _, l := range lines {
			list = append(list, job.Problem{Severity: job.Error, File: e.job.Trains.File, Sheet: e.SheetName(job.TrainsSheet), Row: l.row, Column: job.TrainsTrain.Info().Name,
				Text: words.ProblemTrainNoRow.With(job.Quote(l.train)), Hint: words.HintTrainNoRow.With(), Col: l.col})
		}
	}
	sorting.Stable(list, func(a, b job.Problem) int { return a.Row - b.Row })
	return list
}

// movesAim reads the setting Moves aim: the share of the limits, NaN for the wanted line. A bare number below 1, which may be a share or per cent, is refused with the others that cannot be.
func movesAim(s string, mark units.Decimal) (share float64, text string, ok bool) {
	switch job.NormalForm(s) {
	case "", "wantedline", "wanted", "line":
		return nan, "wanted line", true
	case "inside", "insidethelimits", "insidelimits", "limits":
		return 1, "inside", true
	}
	x, bad, _ := job.ParseQuantity(s, job.QShare, job.QShare.Unit(false), mark)
	if bad != "" || !(x > 0) || x > 1+1e-12 {
		return nan, "", false
	}
	return x, strings.TrimSpace(s), true
}

// trainRow is what the trains need of a row.
type trainRow struct {
	name, stationary string
	side3, side9     string
	near, far        float64 // of the stationary machine's supports; NaN not given
	in               calc.Input
	room             [2]Room      // front, rear
	badRoom          job.ColumnID // one that could not be read
	growth           [numSupports][2]float64
	wanted, judged   bool
}

// inTrain keeps what the trains need of the row being read; nil: it belongs to none.
func (e *Evaluator) inTrain(w *want) *trainRow {
	sc := &e.sc
	if sc.state[job.ColTrain] == absent || job.Blank(sc.text[job.ColTrain]) {
		return nil
	}
	t := &trainRow{name: strings.TrimSpace(sc.text[job.ColTrain]), stationary: strings.TrimSpace(sc.text[job.ColStationary]), side3: strings.TrimSpace(sc.text[job.ColSide3]), side9: strings.TrimSpace(sc.text[job.ColSide9]),
		near: nan, far: nan, in: sc.in, badRoom: job.NoColumn, wanted: !w.noWanted, judged: w.judged()}
	t.in.Sweeps, t.in.Feet = nil, nil
	if x, st := e.num(job.ColStationaryNear); st == fine {
		t.near = x
	}
	if x, st := e.num(job.ColStationaryFar); st == fine {
		t.far = x
	}
	for k := range t.room {
		for d, dst := range [4]*float64{&t.room[k].Up, &t.room[k].Down, &t.room[k].Left, &t.room[k].Right} {
			*dst = nan
			id := job.ColRoom + job.ColumnID(4*k+d)
			switch x, st := e.num(id); st {
			case fine:
				*dst = x
			case unreadable:
				t.badRoom = id
			}
		}
	}
	for s := range t.growth {
		for p := range 2 {
			t.growth[s][p] = nan
			if x, st := e.num(job.ColGrowth + job.ColumnID(2*s+p)); st == fine {
				t.growth[s][p] = x
			}
		}
	}
	return t
}
