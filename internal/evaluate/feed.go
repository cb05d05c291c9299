package evaluate

import (
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Feed works out rows of the Machines sheet that come one at a time, each under keys of its own in the place of a header, beside the other sheets of a job:
//
//	f.Begin(17)
//	f.Set("Machine", "P-101", false)
//	f.Set("Speed [rpm]", "1480", true)
//	r, done := f.Work()
//
// A row stands alone: names are not held against those of other rows, and the stock is not shared out, so that packs are those of a full box. What the sheets
// Readings, Growth, Feet and Checks say of a machine holds for every row that bears its name. A Feed keeps one row, and is not safe for use by several goroutines.
type Feed struct {
	e    *Evaluator
	own  []OwnHeader
	keys map[string]*feedKey // those met, as they are spelt
	mark units.Decimal       // of the job, where a row does not tell more

	row    []string
	number []bool     // of each cell: a number with a point
	used   []*feedKey // over the row
	filled columnSet  // what they lead to
	last   []*feedKey // over the row before: rows of one source bear the same keys
	at     int        // in last

	seen  map[string]bool // keys of the machines that came by and that other sheets name
	named map[string]bool // keys of all that other sheets name
}

// A feedKey is a key and what it means.
type feedKey struct {
	text    string
	bind    binding
	numeric bool
}

// maxKeys is how many spellings of keys are remembered.
const maxKeys = 256

// A Refusal says why a row that came by itself is not read, and what would be right.
type Refusal struct{ Text, Hint words.Phrase }

// Done is what became of a row.
type Done struct {
	Refused *Refusal // no coupling was read: nothing was written
	Verdict calc.Verdict
	Failed  bool // something the row asks for could not be given; see its problems
}

// NewFeed understands the sheets of j but Machines, of which name and file are taken for messages. j is not changed, and its tables may be shared by several.
func NewFeed(j *job.Job) *Feed {
	job.LoadColumns()
	own := *j
	own.Machines = &job.Table{Name: job.MachinesSheet.String(), Header: []string{}, FirstRow: 1}
	if j.Machines != nil {
		own.Machines.Name, own.Machines.File = j.Machines.Name, j.Machines.File
	}
	own.Trains = nil // trains want the whole job, which their rows say
	f := &Feed{e: NewEvaluator(&own), own: OwnHeaders(j.Settings), keys: map[string]*feedKey{}, seen: map[string]bool{}, named: map[string]bool{}}
	f.mark = f.e.set.mark
	for k := range f.e.long {
		f.named[k] = true
	}
	for _, c := range f.e.claims {
		f.named[nameKey(c.name)] = true
	}
	own.Machines.Rows = [][]string{nil}
	f.e.resize()
	return f
}

// Problems are those of the other sheets as a whole. Machines that they name and no row bears are told by [Unnamed].
func (f *Feed) Problems() []job.Problem { return f.e.problems }

// Unnamed returns a problem for each machine that a sheet names and no row of any of the feeds bore. All must be of one job.
func Unnamed(feeds ...*Feed) []job.Problem {
	if len(feeds) == 0 {
		return nil
	}
	e := feeds[0].e
	e.first = map[string]int{}
	for _, f := range feeds {
		for k := range f.seen {
			e.first[k] = 0
		}
	}
	return e.unnamedClaims(e.unnamedReadings(nil), nil)
}

// Begin starts a row. line is its number in the source.
func (f *Feed) Begin(line int) {
	if len(f.keys) >= maxKeys {
		clear(f.keys)
		f.used = f.used[:0]
	}
	f.last, f.used, f.at = f.used, f.last[:0], 0
	f.row, f.number, f.filled = f.row[:0], f.number[:0], columnSet{}
	f.e.job.Machines.FirstRow = line
}

// Set fills a cell of the row. number says that the text is a number with a point for the decimal sign, whatever the job's is. A key that leads to no column, or
// to one that is filled, refuses the row.
func (f *Feed) Set(key, text string, number bool) *Refusal {
	k, refusal := f.key(key)
	if refusal != nil {
		return refusal
	}
	id := k.bind.id
	if id.Info().Result { // worked out, and not read
		return nil
	}
	if f.filled.has(id) {
		for _, o := range f.used {
			if o == k {
				return &Refusal{words.ProblemKeyTwice.With(job.Quote(key)), words.HintKeyTwice.With()}
			} else if o.bind.id == id {
				return &Refusal{words.ProblemKeysAlike.With(job.Quote(o.text), job.Quote(key), id.Info().Name), words.HintKeyTwice.With()}
			}
		}
	}
	f.filled.set(id)
	f.used, f.row, f.number = append(f.used, k), append(f.row, text), append(f.number, number && id.Info().Quantity != job.QText)
	return nil
}

// key finds what a key means.
func (f *Feed) key(text string) (*feedKey, *Refusal) {
	if f.at < len(f.last) && f.last[f.at].text == text {
		f.at++
		return f.last[f.at-1], nil
	}
	if k := f.keys[text]; k != nil {
		return k, nil
	}
	c, unit, has := job.MatchHeader(job.MachinesSheet, text)
	if c == job.NoColumn {
		for _, o := range f.own {
			if o.Kind == job.MachinesSheet && sameHeader(o.Header, text) {
				c, unit, has = job.MatchHeader(job.MachinesSheet, o.Means)
				break
			}
		}
	}
	if c == job.NoColumn {
		if near := nearColumn(job.MachinesSheet, text); near != job.NoColumn {
			return nil, &Refusal{words.ProblemKeyUnknown.With(job.Quote(text)), words.HintKeyNear.With(near.Info().Name)}
		}
		return nil, &Refusal{words.ProblemKeyUnknown.With(job.Quote(text)), words.HintKeyUnknown.With()}
	}
	info := c.Info()
	k := &feedKey{bind: binding{id: c, unit: info.Unit(f.e.set.inch)}, numeric: info.Quantity != job.QText}
	if kind := info.Quantity.Kind(); has && kind != units.Number && !info.Result {
		u, ok := units.ParseHeaderUnit(unit, kind)
		if !ok {
			return nil, &Refusal{words.ProblemKeyUnit.With(job.Quote(text), unit, kind), words.Plain(job.HintUnits(kind))}
		}
		k.bind.unit, k.bind.own = u, true
	}
	k.text = strings.Clone(text) // it may be a piece of something large
	f.keys[k.text] = k
	return k, nil
}

// lay puts the row into the evaluator's table, as a list of this one row with its keys for the header.
func (f *Feed) lay() {
	e := f.e
	t := e.job.Machines
	t.Header, e.bind, e.numeric, e.known, e.unitColumn = t.Header[:0], e.bind[:0], e.numeric[:0], len(f.used), -1
	e.keys[0], e.dups[0] = "", -1
	for c, k := range f.used {
		t.Header, e.bind, e.numeric = append(t.Header, k.text), append(e.bind, k.bind), append(e.numeric, k.numeric)
		switch k.bind.id {
		case job.ColUnit:
			e.unitColumn = c
		case job.ColMachine:
			if n := nameKey(f.row[c]); !job.NoWord(n) {
				e.keys[0] = n
			}
		}
	}
	t.Rows[0] = f.row
	if e.set.mark = f.mark; f.mark == units.Either && e.rowHasComma(f.row) {
		e.set.mark = units.Commas
	}
	for c, number := range f.number {
		if number {
			f.row[c] = pointed(f.row[c], e.set.mark)
		}
	}
}

// pointed writes a number of JSON so that it is read as itself under a decimal sign.
func pointed(s string, mark units.Decimal) string {
	i := strings.IndexByte(s, '.')
	switch {
	case i < 0:
	case mark == units.Comma:
		return s[:i] + "," + s[i+1:]
	case mark == units.Commas: // three digits behind a point might part thousands; four do not
		end := i + 1
		for end < len(s) && s[end] >= '0' && s[end] <= '9' {
			end++
		}
		if end == i+4 {
			return s[:end] + "0" + s[end:]
		}
	}
	return s
}

// Evaluator is what works the rows out; it has one row at a time.
func (f *Feed) Evaluator() *Evaluator { return f.e }

// Work works the row out. Its result is good until the next row begins; there is none where the row is refused.
func (f *Feed) Work() (*RowResult, Done) {
	e := f.e
	f.lay()
	if len(f.named) > 0 && f.named[e.keys[0]] {
		f.seen[strings.Clone(e.keys[0])] = true
	}
	e.evalRow(0)
	r := e.at(0)
	switch r.Kind {
	case BlankRow:
		return nil, Done{Refused: &Refusal{words.ProblemFeedBlank.With(), words.HintFeedBlank.With()}}
	case HeaderRow:
		return nil, Done{Refused: &Refusal{words.ProblemFeedHeader.With(), words.HintFeedHeader.With()}}
	case LeftOutRow:
		return nil, Done{Refused: &Refusal{r.Problems[0].Text, r.Problems[0].Hint}}
	}
	return r, Done{Verdict: r.Verdict, Failed: r.Worst() == job.Error}
}

// Questions asks about numbers that are outside what is usual, about cells that say nothing, and about the sag of a long bracket. A whole job does so once, in its problems.
func (f *Feed) Questions(r *RowResult) (list []job.Problem) {
	if !r.odd.empty() || !r.dashes.empty() {
		list = f.e.columnNotes(nil)
	}
	if p, ask := f.e.askSag(); ask {
		list = append(list, p)
	}
	return list
}

// WholeJob says what the row asks for that only the whole job can give.
func (f *Feed) WholeJob(r *RowResult) (list []words.Phrase) {
	if f.e.sc.state[job.ColTrain] != absent {
		list = append(list, words.ProblemFeedTrain.With())
	}
	if f.e.Shares() && len(f.e.PacksOf(r)) > 0 {
		list = append(list, words.ProblemFeedShared.With())
	}
	return list
}
