package results

import (
	"context"
	"io"
	"shimsheet/internal/abreast"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"sync"
)

// pages are the memory that results are written in on their way to a writer.
var pages = sync.Pool{New: func() any {
	b := make([]byte, 0, 1<<16)
	return &b
}}

// memos are memory for the numbers of a writing; each begins empty.
var memos = sync.Pool{New: func() any { return new(numberTexts) }}

// WriteJSON writes the results of every coupling:
//
//	{"job":{…}, "machines":[{"machine":…, "verdict":…, …}, …], "problems":[…], "cautions":[…]}
//
// Always SI: mm, mm/m, °C, rpm. Numbers are exact to the last bit, a number that does not exist is null. offset_ and slope_ are the line as
// found; wanted_ is where it should stand cold; after_ is what the rounded packs and moves are predicted to leave. u_ is the expanded
// uncertainty, k = 2; u_…pack_mm is what the tolerance of the pieces put in or taken out makes of it, and tolerance_unknown_mm lists the thicknesses of
// pieces whose tolerance is not known. feet holds the single feet of the Feet sheet, and soft_foot what they say; growth what the wanted line rests on. stock_plan,
// pick_list and order_list are there once [evaluate.Evaluator.Allocate] was called; until then packs are those of a full box, and packs_from says which they are. A pack is
// null where shims come out, then remove_ holds the pieces that make the amount; and where the feet of the pair do not all get the same pieces: packs has them foot
// by foot.
func WriteJSON(w io.Writer, e *sentences.Teller) error {
	if err := e.Run(context.Background(), nil); err != nil {
		return err
	}
	page, memo := pages.Get().(*[]byte), memos.Get().(*numberTexts)
	*memo = numberTexts{}
	j := Rows{writer: writer{(*page)[:0], memo}, e: e}
	defer func() {
		if *page = j.b[:0]; cap(j.b) <= 1<<18 {
			pages.Put(page)
		}
		memos.Put(memo)
	}()
	j.open("", '{')
	j.job()
	j.open(`,"machines":`, '[')
	if err := j.machines(w); err != nil {
		return err
	}
	j.shut(']')
	j.trains()
	j.stock()
	var list []job.Problem
	list = append(list, e.Problems()...)
	for i := range e.Len() {
		if r := e.Row(i); r.Kind == evaluate.HeaderRow || r.Kind == evaluate.LeftOutRow {
			list = append(list, r.Problems...)
		}
	}
	j.problems(list)
	j.key(`,"cautions":`)
	j.raw(cautionsJSON())
	j.shut('}')
	j.b = append(j.b, '\n')
	_, err := w.Write(j.b)
	return err
}

// pieceRows is how many rows are written as one piece, and piecesAtOnce how many pieces are in memory.
const pieceRows, piecesAtOnce = 64, 16

// machines writes the objects of all rows with a coupling, on all cores, and hands them over in their order.
func (j *Rows) machines(w io.Writer) error {
	e, first := j.e, true
	if e.Len() <= pieceRows { // a request of one row is to throw little away
		j.b = j.piece(j.b, 0, e.Len(), false)
		return nil
	}
	writers := []*Rows{j}
	var pieces [piecesAtOnce][]byte
	for begin := 0; begin < e.Len(); begin += piecesAtOnce * pieceRows {
		rows := min(e.Len()-begin, piecesAtOnce*pieceRows)
		abreast.Pieces(rows, pieceRows, func(worker int) func(from, to int) {
			if worker == len(writers) {
				writers = append(writers, NewRows(e.Beside()))
			}
			return func(from, to int) {
				pieces[from/pieceRows] = writers[worker].piece(pieces[from/pieceRows][:0], begin+from, begin+to, true)
			}
		})
		for _, b := range pieces[:(rows+pieceRows-1)/pieceRows] {
			if len(b) > 0 && first { // no comma before the first
				b, first = b[2:], false
			}
			if j.b = append(j.b, b...); len(j.b) > 1<<16 {
				if _, err := w.Write(j.b); err != nil {
					return err
				}
				j.b = j.b[:0]
			}
		}
	}
	return nil
}

// piece appends the objects of the rows from … to-1 that have a coupling, a comma and a new line before each; before the first of them only if others went before.
func (j *Rows) piece(b []byte, from, to int, others bool) []byte {
	own := j.b
	for j.b = b; from < to; from++ {
		if r := j.e.Row(from); r.Kind == evaluate.MachineRow {
			if others {
				j.b = append(j.b, ',', '\n')
			}
			j.row(r)
			others = true
		}
	}
	b, j.b = j.b, own
	return b
}

// job writes the settings that hold for every row, and counts the verdicts.
func (j *Rows) job() {
	e := j.e
	j.open(`,"job":`, '{')
	j.str(`,"id":`, e.Job().ID)
	j.int(`,"revision":`, e.Job().Revision)
	j.str(`,"saved_at":`, e.Job().SavedAt)
	for _, c := range []job.ColumnID{job.SettingName, job.SettingSite, job.SettingDate, job.SettingPeople} {
		j.str(memberName(c.Info().Key), e.Setting(c.Info().Key))
	}
	j.str(`,"units":`, job.SettingUnits.Info().Choices[evaluate.AsInt(e.Inch())])
	cold, coupling, limits := e.Defaults()
	j.num(`,"cold_temperature_c":`, cold)
	j.str(`,"default_coupling":`, coupling.String())
	j.str(`,"default_limits":`, limits)
	m, v := e.Count()
	j.int(`,"machines":`, m)
	j.open(`,"verdicts":`, '{')
	for k, n := range v {
		j.int(memberName(calc.Verdict(k).String()), n)
	}
	j.shut('}')
	j.shut('}')
}

// cautionsJSON is the list of cautions, which are the same in every answer.
var cautionsJSON = sync.OnceValue(func() string {
	var j writer
	j.open("", '[')
	for _, c := range tables.Cautions() {
		j.open("", '{')
		j.str(`,"text":`, c.Text)
		j.str(`,"source":`, c.Source.String())
		j.shut('}')
	}
	j.shut(']')
	return string(j.b)
})
