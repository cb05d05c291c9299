package sentences

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Card is what the paper card of one machine says beside its pictures: who and where, what is to be read and in which order, what is held to, what to take along.
// It leads a crew through one round of the machine and has a code by which the filled card finds its row again.
type Card struct {
	Row        int // index in the Machines sheet
	Machine    string
	Stationary string
	Job        [][2]string // name and text: what the Job sheet says of the whole job; revision last
	Numbers    [][2]string // work order, isolation, area, crew, date: blank ones too, for they are to be filled in
	Area, Crew string
	Round      string // the round to be read next: found, 1, 2, …, left
	State      string // how far the machine is
	Code       string // for the picture of the code: ParseCardCode reads it
	Stand      string // where to stand, and which side is which
	Verdict    string // of the round before, "" before the first

	SoftFeet []CardFoot  // gaps and rises to be measured, foot by foot
	Gap      string      // what is known of the gap between the shaft ends, "" nothing
	Sweeps   []CardSweep // dials and gauges with the positions they are read at
	Unit     string      // of readings
	Lines    []string    // readings in lines of their own: sweeps at any angle, a given line
	Wanted   bool        // the sweeps have wanted readings, because the line wanted cold is another than straight

	Todo   *Todo
	Take   []string // pieces to take along: "2 × 0.50"
	TakeIn string   // their unit
	From   []string // where the packs come from, which feet the stock is short of
	Rooms  []string // how far each pair of feet can go
	Checks []CardCheck
	Usual  bool // no check of this machine is on the Checks sheet: the usual ones stand there
	Torque string
	Order  string // in which bolts are tightened
}

// A CardFoot is a foot with what lies under it.
type CardFoot struct {
	Name    string
	InPlace string // "0.50 + 0.10 mm"; "" not known
}

// A CardSweep is one dial or gauge of a card.
type CardSweep struct {
	Name   string   // Movable rim
	At     []string // 12, 3, 6, 9, 12 again
	Wanted []string // what it should read cold at each, "" not known
	Sag    string   // at 6, as given; "" not given
	HasSag bool     // its bracket sags
}

// A CardCheck is a check with its number.
type CardCheck struct {
	Name   string
	Limit  string // "0.03 mm at most"; "" none
	Value  string // as typed; "" open
	Source string // of the limit
}

// the settings of a job that stand on its papers, in order
var paperSettings = [...]struct{ key, word string }{{"name", "Job"}, {"site", "Site"}, {"date", "Date"}, {"people", "People"}}

// cardColumns are the columns of the Machines sheet that stand at the top of a card.
var cardColumns = [...]job.ColumnID{job.ColWorkOrder, job.ColIsolation, job.ColArea, job.ColCrew, job.ColDate}

// Card is the card of row i; ok is false for a row without a coupling.
func (e *Teller) Card(i int) (c Card, ok bool) {
	r := e.Row(i)
	if r == nil || r.Kind != evaluate.MachineRow {
		return c, false
	}
	cell := func(id job.ColumnID) string { return e.MachineText(i, id) }
	c = Card{Row: i, Machine: r.Name, Stationary: cell(job.ColStationary), Round: e.NextRound(i), State: r.RoundWord(), Unit: job.QThickness.Unit(e.Inch()).String(), TakeIn: e.ThickUnit().String()}
	for _, s := range paperSettings {
		if text := e.Setting(s.key); text != "" {
			c.Job = append(c.Job, [2]string{s.word, text})
		}
	}
	if rev := e.Revision(); rev != "" {
		c.Job = append(c.Job, [2]string{"Revision", rev})
	}
	for _, id := range cardColumns {
		c.Numbers = append(c.Numbers, [2]string{id.Info().Name, cell(id)})
	}
	c.Area, c.Crew = cell(job.ColArea), cell(job.ColCrew)
	c.Code = CardCode{e.Setting("name"), r.Name, c.Round}.String()
	c.Stand = e.stand(r)
	for _, s := range e.Sentences(i) {
		switch s.Kind {
		case SentenceVerdict:
			if c.State != evaluate.StateWaiting {
				c.Verdict = s.Text
			}
		case SentencePacks:
			c.From = append(c.From, s.Text)
		}
	}
	e.cardReadings(&c, r, cell)
	c.Todo = e.Todo(i)
	c.Take = c.Todo.Take()
	e.cardRooms(&c, r)
	e.cardChecks(&c, r)
	c.Torque, c.Order = e.footTorque(r), e.tightenOrder(r)
	return c, true
}

// Revision names the state of the job for its papers: "revision 12, saved …"; "" for one that was never saved.
func (e *Teller) Revision() string { return strings.TrimPrefix(e.revision(), ", ") }

// stand says where to stand and which side is which.
func (e *Teller) stand(r *evaluate.RowResult) string {
	behind, right, left := words.PaperBehindMovable.String(), 1.0, -1.0
	if r.FromStationary {
		behind, right, left = words.PaperBehindStationary.String(), -1, 1
	}
	name := func(v float64, clock string) string {
		s := r.Side(v, true)
		if strings.HasPrefix(s.String(), clock) {
			return words.WordClock.Say(clock)
		}
		return words.WordClock.Say(clock) + ", " + s.String()
	}
	return words.PaperStand.Say(behind, name(right, "3"), name(left, "9"))
}

// cardReadings lists what is read at the machine, in the order in which it is taken.
func (e *Teller) cardReadings(c *Card, r *evaluate.RowResult, cell func(job.ColumnID) string) {
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			foot := CardFoot{Name: f.Name}
			if f.Listed {
				if foot.InPlace = e.piecesWords(f.InPlace); len(f.InPlace) == 0 {
					foot.InPlace = words.PaperBareBase.String()
				}
			}
			c.SoftFeet = append(c.SoftFeet, foot)
		}
	} else if !r.OnFlange {
		for _, name := range [...]string{"front 9", "front 3", "rear 9", "rear 3"} {
			c.SoftFeet = append(c.SoftFeet, CardFoot{Name: name})
		}
	}
	if x := r.Axial; x != nil {
		g := &x.Gap
		var parts []string
		for _, p := range [...]struct {
			word string
			v    float64
		}{{words.PaperGapWanted.String(), g.Wanted}, {words.PaperGapTolerance.String(), g.Tolerance}, {words.PaperEndFloat.String(), g.Float}} {
			if evaluate.Known(p.v) {
				parts = append(parts, p.word+e.Thickness(p.v))
			}
		}
		c.Gap = strings.Join(parts, ", ")
	}
	have := e.Reads(r)
	wanted := map[string]evaluate.WantedReading{}
	read := r
	if !r.HasLine() {
		read = e.AsIfRead(c.Row, have)
	}
	if c.Wanted = read.MovedWanted(); c.Wanted {
		for _, w := range e.WantedReadings(read) {
			wanted[w.Sweep] = w
		}
	}
	sags := map[job.Family]job.ColumnID{job.MovableRim: job.ColMovableSag, job.StationaryRim: job.ColStationarySag, job.Face: job.ColFaceSag, job.StationaryFace: job.ColStationaryFaceSag, job.SecondRim: job.ColSecondSag}
	u := job.QThickness.Unit(e.Inch())
	for f := range job.NumFamilies {
		if !have.Has(f) {
			continue
		}
		s := CardSweep{Name: f.String()}
		sag, dial := sags[f]
		for p := range job.NumPositions {
			if dial || p != job.Again12 {
				s.At = append(s.At, job.PositionName(p))
			}
		}
		if s.HasSag = dial; dial {
			s.Sag = cell(sag)
		}
		if w, ok := wanted[s.Name]; ok {
			for _, x := range w.Readings {
				s.Wanted = append(s.Wanted, string(evaluate.AppendNumber(nil, x.Zeroed, u, evaluate.Decimals(u, true), e.Mark())))
			}
		}
		c.Sweeps = append(c.Sweeps, s)
	}
	if r.Method == job.Sweeps {
		c.Lines = append(c.Lines, job.ColMovableSweep.Info().Name, job.ColStationarySweep.Info().Name)
	}
	if r.Method == job.GivenLineMethod {
		for id := job.ColGivenOffsetV; id <= job.ColGivenGapH; id++ {
			c.Lines = append(c.Lines, id.Info().Name)
		}
	}
}

// cardRooms words how far each pair of feet can go.
func (e *Teller) cardRooms(c *Card, r *evaluate.RowResult) {
	for k, room := range e.Rooms(c.Row) {
		if k >= len(r.Calc.Feet) {
			break
		}
		var parts []string
		for _, d := range [...]struct {
			word string
			v    float64
		}{{words.ListUp.String(), room.Up}, {words.ListDown.String(), room.Down}, {words.ListTowards.String() + r.TheSide(-1, true).String(), room.Left}, {words.ListTowards.String() + r.TheSide(1, true).String(), room.Right}} {
			if evaluate.Known(d.v) {
				parts = append(parts, d.word+" "+e.Thickness(d.v))
			}
		}
		if len(parts) > 0 {
			c.Rooms = append(c.Rooms, words.PaperRoom.Say(e.PairWord(r, k), strings.Join(parts, ", ")))
		}
	}
}

// cardChecks lists the machine's checks, or the usual ones where none of it are listed.
func (e *Teller) cardChecks(c *Card, r *evaluate.RowResult) {
	limit := func(v float64, kind units.Kind, least bool) string {
		switch {
		case math.IsNaN(v):
			return ""
		case least:
			return e.CheckNumber(v, kind) + words.PaperLeast.String()
		}
		return e.CheckNumber(v, kind) + words.PaperMost.String()
	}
	for k := range r.Checks {
		x := &r.Checks[k]
		c.Checks = append(c.Checks, CardCheck{x.Name, limit(x.Limit, x.Kind, x.Usual != nil && x.Usual.Least), x.Text, x.Source.String()})
	}
	if c.Usual = len(c.Checks) == 0; c.Usual {
		for k := range evaluate.CheckKinds {
			x := &evaluate.CheckKinds[k]
			c.Checks = append(c.Checks, CardCheck{x.Name, limit(x.Limit, x.Kind, x.Least), "", x.Source.String()})
		}
	}
}

// CardGroups sorts rows by what stands in their Area or Crew column, "" last; by neither they come back as one group.
func (e *Teller) CardGroups(rows []int, by string) (names []string, groups [][]int) {
	for _, i := range rows {
		name := ""
		switch by {
		case "area":
			name = e.MachineText(i, job.ColArea)
		case "crew":
			name = e.MachineText(i, job.ColCrew)
		}
		k := slices.Index(names, name)
		if k < 0 {
			k = len(names)
			names, groups = append(names, name), append(groups, nil)
		}
		groups[k] = append(groups[k], i)
	}
	order := make([]int, len(names))
	for k := range order {
		order[k] = k
	}
	sorting.Stable(order, func(a, b int) int {
		switch x, y := names[a], names[b]; {
		case x == y:
			return 0
		case x == "":
			return 1
		case y == "":
			return -1
		default:
			return strings.Compare(strings.ToLower(x), strings.ToLower(y))
		}
	})
	sortedNames, sorted := make([]string, len(names)), make([][]int, len(names))
	for k, o := range order {
		sortedNames[k], sorted[k] = names[o], groups[o]
	}
	return sortedNames, sorted
}

// A CardCode says which job, machine and round a card is for. Its text is what the code on the card holds:
//
//	shimsheet-card:JOB/MACHINE/ROUND
//
// with everything but letters and digits of ASCII, -_., and blanks within as % and two hexadecimal digits a byte of UTF-8. A scanner that types like a keyboard can type it.
type CardCode struct{ Job, Machine, Round string }

const cardCodeHead = "shimsheet-card:"

// String is the text of the code.
func (c CardCode) String() string {
	b := []byte(cardCodeHead)
	for k, s := range [...]string{c.Job, c.Machine, c.Round} {
		if k > 0 {
			b = append(b, '/')
		}
		for i := range len(s) {
			switch x := s[i]; {
			case x >= 'a' && x <= 'z', x >= 'A' && x <= 'Z', x >= '0' && x <= '9', strings.IndexByte("-_.,", x) >= 0, x == ' ' && i > 0 && i < len(s)-1:
				b = append(b, x)
			default:
				b = append(b, '%', "0123456789ABCDEF"[x>>4], "0123456789ABCDEF"[x&15])
			}
		}
	}
	return string(b)
}

// ParseCardCode reads the text of a code; ok is false for any other text.
func ParseCardCode(text string) (c CardCode, ok bool) {
	text = strings.TrimSpace(text)
	if len(text) < len(cardCodeHead) || !strings.EqualFold(text[:len(cardCodeHead)], cardCodeHead) {
		return c, false
	}
	parts := strings.Split(text[len(cardCodeHead):], "/")
	if len(parts) != 3 {
		return c, false
	}
	for k, to := range [...]*string{&c.Job, &c.Machine, &c.Round} {
		var b []byte
		for i := 0; i < len(parts[k]); i++ {
			x := parts[k][i]
			if x == '%' {
				if i+2 >= len(parts[k]) {
					return CardCode{}, false
				}
				n, err := strconv.ParseUint(parts[k][i+1:i+3], 16, 8)
				if err != nil {
					return CardCode{}, false
				}
				x, i = byte(n), i+2
			}
			b = append(b, x)
		}
		*to = string(b)
	}
	return c, true
}

// FindCard is the row of the machine that a code names, −1 where the job has none.
func (e *Teller) FindCard(c CardCode) int { return e.RowOf(c.Machine) }
