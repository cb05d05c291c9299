package evaluate

import (
	"shimsheet/internal/job"
	"shimsheet/internal/words"
	"slices"
)

// A RoundField is a cell that is typed at the machine in the open round, the last that is not struck: of the Machines sheet, or of the Rounds sheet where the round stands there.
type RoundField struct {
	Sheet   job.SheetKind
	Row     int // index of the row in the sheet's table
	Col     int // index of the column in it
	Header  string
	Text    string       // as it stands there
	Angle   float64      // clock angle that is asked for, degrees from 12; NaN: none
	Problem *job.Problem // the gravest of the cell
}

// RoundFields are the cells that are typed at the machine of row i in the open round, in the order in which they are read. Where all readings are struck there are none before a new round is begun.
func (e *Evaluator) RoundFields(i int) (list []RoundField) {
	r := e.Row(i)
	if r == nil || r.Kind != MachineRow {
		return nil
	}
	t := e.job.Machines
	if e.allStruck(i) {
		return nil
	}
	if r.open == nil || r.open.Row == 0 {
		for c, h := range t.Header {
			if c < len(e.bind) && e.IsReading(c) && e.Uses(i, c) {
				list = append(list, RoundField{job.MachinesSheet, i, c, h, t.Cell(i, c), e.clockAngle(e.bind[c].id), e.CellProblem(i, c)})
			}
		}
		return list
	}
	rounds := e.job.Table(job.RoundsSheet)
	row := r.open.Row - rounds.SourceRow(0)
	at := roundColumns(rounds.Header)
	for _, id := range e.roundReads(i) {
		c := slices.Index(at, id)
		if c < 0 {
			continue
		}
		f := RoundField{job.RoundsSheet, row, c, rounds.Header[c], rounds.Cell(row, c), e.clockAngle(id), nil}
		for k := range r.Problems {
			if p := &r.Problems[k]; p.Row == r.open.Row && p.Col == c && p.Sheet == e.SheetName(job.RoundsSheet) && (f.Problem == nil || p.Severity > f.Problem.Severity) {
				f.Problem = p
			}
		}
		list = append(list, f)
	}
	return list
}

// allStruck says whether the readings of row i's own columns are struck and no other round is open: they are not to be typed over.
func (e *Evaluator) allStruck(i int) bool {
	r := e.Row(i)
	return r.open == nil && len(r.Rounds) > 0 && e.hasReadings(i)
}

// OpenRound is the name of the round that is being read: the last that is not struck; "" none is.
func (r *RowResult) OpenRound() string {
	if r.open == nil {
		return ""
	}
	return r.open.Name
}

// OpenIsHot says that the round that is being read is the one hot.
func (r *RowResult) OpenIsHot() bool { return r.open != nil && r.open.Hot() }

// aboutRound are the columns of the Rounds sheet that say how a round was read.
var aboutRound = [...]job.ColumnID{job.RoundsBy, job.RoundsTemperature, job.RoundsInstrument, job.RoundsDone, job.RoundsPacks}

// RoundAbout is what the open round of row i says of how it was read: the columns, their texts, and the index of its row in the Rounds sheet; −1 where it has none, being the readings of the Machines
// row. Such a row is then begun as [Evaluator.FoundRow] says.
func (e *Evaluator) RoundAbout(i int) (names, texts []string, row int) {
	r := e.Row(i)
	o := r.open
	if o == nil {
		if len(r.Rounds) > 0 || r.RoundWord() == StateWaiting {
			return nil, nil, -1
		}
		o = &roundRow{}
	}
	row = -1
	if at := max(o.Row, o.about); at > 0 {
		row = at - e.job.Table(job.RoundsSheet).SourceRow(0)
	}
	for k, text := range [...]string{o.By, o.Temperature, o.Instrument, o.Done, o.Packs} {
		names, texts = append(names, aboutRound[k].Info().Name), append(texts, text)
	}
	return names, texts, row
}

// FoundRow is a row of the Rounds sheet that speaks of the readings of row i of the Machines sheet: it has none of its own.
func (e *Evaluator) FoundRow(i int) (names, texts []string) {
	return []string{job.RoundsMachine.Info().Name, job.RoundsRound.Info().Name}, []string{e.Row(i).Name, foundRound}
}

// StruckColumn is the name of the column that strikes a round.
func StruckColumn() string { return job.RoundsStruck.Info().Name }

// A RoundKind is which round is begun.
type RoundKind uint8

// Rounds that are begun.
const (
	NextRound RoundKind = iota // the next number; found where nothing counts yet
	LeftRound
	HotRound
)

// NewRound is what a row of the Rounds sheet for the next round of row i is begun with: the names of its columns, those of the readings headed as the Machines sheet heads them, and their
// texts. why says why there is none; empty: there is.
func (e *Evaluator) NewRound(i int, kind RoundKind, when string) (names, texts []string, why words.Phrase) {
	r := e.Row(i)
	if r == nil || r.Kind != MachineRow {
		return nil, nil, words.TodoNoCoupling.With()
	}
	round := e.NextRound(i)
	switch {
	case r.RoundWord() == StateWaiting && (kind != NextRound || !e.allStruck(i)):
		return nil, nil, words.RoundWaiting.With()
	case r.open != nil && r.open.Row > 0 && !slices.ContainsFunc(r.open.cells, func(c roundCell) bool { return !job.Blank(c.text) }):
		return nil, nil, words.RoundEmpty.With()
	case r.open != nil && r.open.order == roundHot:
		return nil, nil, words.RoundHot.With()
	case kind == HotRound:
		round = hotRound
	case r.State == leftRound:
		return nil, nil, words.RoundLeft.With()
	case kind == LeftRound:
		round = leftRound
	}
	names, texts = []string{job.RoundsMachine.Info().Name, job.RoundsRound.Info().Name, job.RoundsWhen.Info().Name}, []string{r.Name, round, when}
	for _, id := range aboutRound {
		names, texts = append(names, id.Info().Name), append(texts, "")
	}
	for _, id := range e.roundReads(i) {
		name := id.Info().Name
		for c, b := range e.bind {
			if b.id == id {
				name = e.job.Machines.Header[c]
				break
			}
		}
		names, texts = append(names, name), append(texts, "")
	}
	return names, texts, words.Phrase{}
}

// roundReads are the columns of what is read in a round of row i: those its method reads, else those in which readings of it stand already.
func (e *Evaluator) roundReads(i int) (list []job.ColumnID) {
	r := e.Row(i)
	method := r.Method
	if f := r.foundRound; method == job.MethodBlank && f != nil {
		method = f.Method
	}
	stands := map[job.ColumnID]bool{} // in the Machines row, or in any round
	for c, b := range e.bind {
		if b.id != job.NoColumn && b.id < job.NumInputs && job.IsReading(b.id) && (method != job.MethodBlank || !job.Blank(e.job.Machines.Cell(i, c))) {
			stands[b.id] = true
		}
	}
	if m := e.rounds[e.keys[i]]; m != nil {
		for k := range m.list {
			for _, c := range m.list[k].cells {
				stands[c.id] = true
			}
		}
	}
	for _, id := range job.ReadingColumns() {
		switch {
		case method == job.MethodBlank && stands[id],
			method != job.MethodBlank && job.UsedBy(id, method) && (stands[id] || id < job.ColMovableSag && (id-job.ColReading)%job.NumPositions != job.Again12):
			list = append(list, id)
		}
	}
	return list
}

// roundColumns says what each column of the Rounds sheet's header is.
func roundColumns(header []string) []job.ColumnID {
	at := make([]job.ColumnID, len(header))
	for c, h := range header {
		at[c] = job.NoColumn
		if !job.Blank(h) {
			at[c], _, _ = job.MatchHeader(job.RoundsSheet, h)
		}
	}
	return at
}

// clockAngle is the angle that a column of readings asks for, degrees from 12 o'clock through 3; NaN for what has none.
func (e *Evaluator) clockAngle(id job.ColumnID) float64 {
	if id < job.ColReading || id >= job.ColMovableSag {
		return nan
	}
	if p := (id - job.ColReading) % job.NumPositions; p != job.Again12 {
		return job.PositionAngle[p]
	}
	return 0
}
