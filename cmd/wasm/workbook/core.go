package main

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"runtime/debug"
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/workbook"
)

// A program does the page's requests. It keeps the file that was opened, the job read from it, and the job that comes for writing, with what was worked out of it ahead.
type program struct {
	inflate func(packed []byte, size int, sum uint32, dst []byte) error // the host's, nil: none
	deflate func(pieces ...[]byte) (packed []byte, sum uint32, err error)

	data   []byte
	name   string
	taken  *job.Job
	coming *job.Job
	worked *sentences.Teller // of the job that has come, nil: not yet
	made   []byte            // a fresh workbook of it, nil: none
	madeAs string            // with these options
}

// A request is what the page asks for. Texts that are not given are "".
type request struct {
	op      string // read, take, text, head, rows, work, make, write, warm
	name    string // of the file: read
	data    []byte // the file: read, nil for the same once more; write, nil for a fresh workbook
	choices string // workbook.Choices as JSON: read
	head    string // a saved job without rows: head
	table   int    // an index in tables: rows
	rows    string // packed: rows
	options string // workbook.Options as JSON: write, make
}

// A reply has a JSON text, or the bytes of a file.
type reply struct {
	json []byte
	file []byte
}

// A piece is part of a reply that comes before its end.
type piece struct {
	head     string // the job without rows; "": rows
	table    int
	rows     string
	progress float64
}

// tables are the sheets as the programs number them.
var tables = [...]job.SheetKind{job.MachinesSheet, job.ReadingsSheet, job.StockSheet, job.SettingsSheet,
	job.GrowthSheet, job.FeetSheet, job.LimitsSheet, job.MaterialsSheet, job.ChecksSheet, job.RoundsSheet, job.TrainsSheet, job.RecordSheet}

// answer does one request. progress is told how far it is, from 0 to 1, and post gets the pieces. A panic becomes an error: the program lives on.
func (p *program) answer(r *request, progress func(float64), post func(piece)) (out reply, err error) {
	defer func() {
		if x := recover(); x != nil {
			out, err = reply{}, fmt.Errorf("this is a fault of the program, please report it: %v\n%s", x, debug.Stack())
		}
	}()
	switch r.op {
	case "read":
		return p.read(r, progress)
	case "take":
		return out, p.take(post)
	case "text":
		out.json, err = p.text(r)
		return out, err
	case "head":
		p.forget()
		j := new(job.Job)
		if err := j.UnmarshalJSON([]byte(r.head)); err != nil {
			return out, err
		}
		p.coming = j
		return out, nil
	case "rows":
		if p.coming == nil || r.table < 0 || r.table >= len(tables) || p.coming.Table(tables[r.table]) == nil {
			return out, errors.New("workbook: rows of no sheet")
		}
		p.worked, p.made = nil, nil
		t := p.coming.Table(tables[r.table])
		t.Rows = job.AppendUnpacked(t.Rows, r.rows)
		return out, nil
	case "work":
		_, err = p.work(progress)
		return out, err
	case "make":
		file, err := p.write(r, progress)
		p.made, p.madeAs = file, r.options
		return out, err
	case "write":
		out.file, err = p.write(r, progress)
		p.forget()
		return out, err
	case "warm":
		return out, p.warm()
	}
	return out, errors.New("workbook: no operation " + r.op)
}

// read opens a file, or the same one again with other choices. One without a list of machines has a report all the same.
func (p *program) read(r *request, progress func(float64)) (out reply, err error) {
	if r.data != nil {
		p.data, p.name = r.data, r.name
	}
	p.taken = nil
	var c *workbook.Choices
	if r.choices != "" {
		c = new(workbook.Choices)
		if err := readMessage(r.choices, c); err != nil {
			return out, fmt.Errorf("the choices cannot be understood: %w", err)
		}
	}
	in := workbook.Reader{Inflate: p.inflate, Progress: progress}
	j, report, err := in.Read(p.data, p.name, c)
	if report == nil {
		return out, err
	}
	var x struct {
		Preview *workbook.Report `json:"preview"`
		Refused string           `json:"refused,omitempty"`
		Rows    [len(tables)]int `json:"rows"` // by table
	}
	x.Preview = report
	if err != nil {
		x.Refused = err.Error()
	} else {
		for i, k := range tables {
			if t := j.Table(k); t != nil {
				x.Rows[i] = len(t.Rows)
			}
		}
		p.taken = j
	}
	out.json = appendMessage(nil, reflect.ValueOf(x))
	return out, nil
}

// take hands the job over: its tables without rows, and then the rows of each, machines last.
func (p *program) take(post func(piece)) error {
	j := p.taken
	if j == nil {
		return errors.New("workbook: no job was read")
	}
	head := *j
	total := 0
	for _, k := range tables {
		if t := j.Table(k); t != nil {
			c := *t
			c.Rows = nil
			head.SetTable(k, &c)
			total += len(t.Rows)
		}
	}
	b, err := head.MarshalJSON()
	if err != nil {
		return err
	}
	post(piece{head: string(b)})
	const most = 4000 // cells at a time: so many the page takes without a pause that is felt
	sent := 0
	var buf []byte
	for n := range tables {
		i := (n + 1) % len(tables) // machines last
		t := j.Table(tables[i])
		if t == nil {
			continue
		}
		for from := 0; from < len(t.Rows); {
			to := from
			for n := 0; to < len(t.Rows) && (to == from || n < most); to++ {
				n += len(t.Rows[to]) + 1
			}
			sent += to - from
			buf = job.AppendPacked(buf[:0], t.Rows[from:to])
			post(piece{table: i, rows: string(buf), progress: float64(sent) / float64(total)})
			from = to
		}
	}
	return nil
}

// text is a file as the text of a job, {"text": …}, for whoever wants the job beside another: with no choices made, and only if all of it can be read.
func (p *program) text(r *request) ([]byte, error) {
	in := workbook.Reader{Inflate: p.inflate}
	j, report, err := in.Read(r.data, r.name, nil)
	if err != nil {
		return nil, err
	}
	for k := range report.Notices {
		if x := report.Notices[k].Problem(""); x.Severity == job.Error {
			return nil, fmt.Errorf("not all of it can be read; open it by itself to see: %s", strings.TrimPrefix(x.Sheet+", "+x.Text.String(), ", "))
		}
	}
	for _, k := range tables { // where it was read from is no part of the job
		if t := j.Table(k); t != nil {
			t.File = ""
		}
	}
	b, err := j.MarshalJSON()
	if err != nil {
		return nil, err
	}
	b = job.AppendJSONString([]byte(`{"text":`), string(b))
	return append(b, '}'), nil
}

// forget lets go of the job that came for writing.
func (p *program) forget() { p.coming, p.worked, p.made = nil, nil, nil }

const workShare = 0.2 // of writing a workbook is working the rows out

// work works out the job that has come, once.
func (p *program) work(progress func(float64)) (*sentences.Teller, error) {
	if p.coming == nil {
		return nil, errors.New("workbook: no job has come")
	}
	if p.worked != nil {
		return p.worked, nil
	}
	e := sentences.New(p.coming)
	if err := e.Run(context.Background(), func(done, total int) {
		if total > 0 {
			progress(workShare * float64(done) / float64(total))
		}
	}); err != nil {
		return nil, err
	}
	p.worked = e
	return e, nil
}

// write is the workbook that was made ahead, or one written now.
func (p *program) write(r *request, progress func(float64)) ([]byte, error) {
	if p.made != nil && r.data == nil && r.options == p.madeAs {
		return p.made, nil
	}
	opts := workbook.Options{}
	if r.options != "" {
		if err := readMessage(r.options, &opts); err != nil {
			return nil, fmt.Errorf("the options cannot be understood: %w", err)
		}
	}
	e, err := p.work(progress)
	if err != nil {
		return nil, err
	}
	opts.Progress = func(x float64) { progress(workShare + (1-workShare)*x) }
	opts.Inflate, opts.Deflate = p.inflate, p.deflate
	if r.data != nil {
		return workbook.AddTo(r.data, p.coming, e, opts)
	}
	return workbook.Write(p.coming, e, opts)
}

// warm does with a small job what a person's would have done, a few times, so that the browser has the code ready when that comes. Nothing of it is kept.
func (p *program) warm() error {
	head := []string{"Machine", "Stationary", "Speed [rpm]", "Coupling", "Coupling to stationary plane [mm]", "Coupling to movable plane [mm]", "Coupling to front feet [mm]", "Front to rear feet [mm]",
		"Movable rim 12 [mm]", "Movable rim 3", "Movable rim 6", "Movable rim 9", "Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9", "Note"}
	row := []string{"", "Pump", "1480", "short", "120", "130", "410", "620", "0", "0.05", "0.12", "0.07", "0", "-0.15", "-0.02", "0.13", "as found"}
	j := job.NewJob()
	j.Machines = &job.Table{Name: job.MachinesSheet.String(), Header: head, FirstRow: 2}
	for i := range 400 {
		r := slices.Clone(row)
		r[0] = fmt.Sprintf("Motor %d", i)
		r[10] = fmt.Sprintf("%.2f", 0.12+float64(i%17)/100)
		j.Machines.Rows = append(j.Machines.Rows, r)
	}
	e := sentences.New(j)
	if err := e.Run(context.Background(), nil); err != nil {
		return err
	}
	file, err := workbook.Write(j, e, workbook.Options{Deflate: p.deflate})
	if err != nil {
		return err
	}
	in := workbook.Reader{Inflate: p.inflate}
	_, _, err = in.Read(file, "warm.xlsx", nil)
	return err
}
