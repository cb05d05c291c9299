package sheet

import "slices"

// A RoundField is a cell that is typed at the machine in the round that counts: of the Machines sheet, or of the Rounds sheet where the round stands there.
type RoundField struct {
	Sheet   SheetKind
	Row     int // index of the row in the sheet's table
	Col     int // index of the column in it
	Header  string
	Text    string   // as it stands there
	Angle   float64  // clock angle that is asked for, degrees from 12; NaN: none
	Problem *Problem // the gravest of the cell
}

// RoundFields are the cells that are typed at the machine of row i in the round that counts, in the order in which they are read.
func (e *Evaluator) RoundFields(i int) (list []RoundField) {
	r := e.Row(i)
	if r == nil || r.Kind != MachineRow {
		return nil
	}
	t := e.job.Machines
	if !r.FromRounds() {
		for c, h := range t.Header {
			if c < len(e.bind) && e.IsReading(c) && e.Uses(i, c) {
				list = append(list, RoundField{MachinesSheet, i, c, h, t.Cell(i, c), e.clockAngle(e.bind[c].id), e.CellProblem(i, c)})
			}
		}
		return list
	}
	rounds := e.job.Table(RoundsSheet)
	row := r.counting.Row - rounds.SourceRow(0)
	at := roundColumns(rounds.Header)
	for _, id := range e.roundReads(i) {
		c := slices.Index(at, id)
		if c < 0 {
			continue
		}
		f := RoundField{RoundsSheet, row, c, rounds.Header[c], rounds.Cell(row, c), e.clockAngle(id), nil}
		for k := range r.Problems {
			if p := &r.Problems[k]; p.Row == r.counting.Row && p.Col == c && p.Sheet == e.sheetName(RoundsSheet) && (f.Problem == nil || p.Severity > f.Problem.Severity) {
				f.Problem = p
			}
		}
		list = append(list, f)
	}
	return list
}

// NewRound is what a row of the Rounds sheet for the next round of row i is begun with: the names of its columns, those of the readings headed as the Machines sheet heads them, and their
// texts. left makes it the round left. why says why there is none: "" there is.
func (e *Evaluator) NewRound(i int, left bool, when string) (names, texts []string, why string) {
	r := e.Row(i)
	switch {
	case r == nil || r.Kind != MachineRow:
		return nil, nil, todNoCoupling
	case r.roundWord() == "waiting":
		return nil, nil, rndWaiting
	case r.FromRounds() && !slices.ContainsFunc(r.counting.cells, func(c roundCell) bool { return !blank(c.text) }):
		return nil, nil, rndEmpty
	}
	round := e.NextRound(i)
	if left {
		round = "left"
	}
	if r.State == "left" {
		return nil, nil, rndLeft
	}
	names, texts = []string{columnInfos[oMachine].Name, columnInfos[oRound].Name, columnInfos[oWhen].Name}, []string{r.Name, round, when}
	for _, id := range e.roundReads(i) {
		name := columnInfos[id].Name
		for c, b := range e.bind {
			if b.id == id {
				name = e.job.Machines.Header[c]
				break
			}
		}
		names, texts = append(names, name), append(texts, "")
	}
	return names, texts, ""
}

// roundReads are the columns of what is read in a round of row i: those its method reads, else those in which readings of it stand already.
func (e *Evaluator) roundReads(i int) (list []colID) {
	r := e.Row(i)
	method := r.Method
	if f := r.foundRound; method == MethodBlank && f != nil {
		method = f.Method
	}
	stands := map[colID]bool{} // in the Machines row, or in any round
	for c, b := range e.bind {
		if b.id != none && b.id < numInputs && isReading(b.id) && (method != MethodBlank || !blank(e.job.Machines.Cell(i, c))) {
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
	for _, id := range readingColumns() {
		switch {
		case method == MethodBlank && stands[id],
			method != MethodBlank && usedBy(id, method) && (stands[id] || id < cMovSag && (id-cReading)%numPos != again12):
			list = append(list, id)
		}
	}
	return list
}

// roundColumns says what each column of the Rounds sheet's header is.
func roundColumns(header []string) []colID {
	at := make([]colID, len(header))
	for c, h := range header {
		at[c] = none
		if !blank(h) {
			at[c], _, _ = matchHeader(RoundsSheet, h)
		}
	}
	return at
}

// clockAngle is the angle that a column of readings asks for, degrees from 12 o'clock through 3; NaN for what has none.
func (e *Evaluator) clockAngle(id colID) float64 {
	if id < cReading || id >= cMovSag {
		return nan
	}
	if p := (id - cReading) % numPos; p != again12 {
		return posAngle[p]
	}
	return 0
}

// Why there is no new round.
const (
	rndWaiting = "Nothing was read yet: what is typed now is the round found."
	rndEmpty   = "The last round has no readings yet: type them, or strike it."
	rndLeft    = "The round left is the last. Strike it with a reason to read anew."
)
