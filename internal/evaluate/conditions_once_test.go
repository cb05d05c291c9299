package evaluate

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// What is signed for has a wanted line only where all four parts of it are known.
func TestSignedWantedLineIsWhole(t *testing.T) {
	e, r := one(t, "Method=line", "Given offset V=0.01", "Given offset H=0.02", "Given slope V=0.3", "Given slope H=0.4")
	if got := e.SignedResult(r); !strings.Contains(got, "; wanted offset V 0.0000 H 0.0000 mm, slope V 0.0000 H 0.0000 mm/m") {
		t.Error(got)
	}
	for k := range 4 {
		part := *r
		*[]*float64{&part.Wanted.DV, &part.Wanted.DH, &part.Wanted.TV, &part.Wanted.TH}[k] = math.NaN()
		if got := e.SignedResult(&part); strings.Contains(got, "wanted") || !strings.Contains(got, "offset V 0.0100 H 0.0200") {
			t.Errorf("part %d: %s", k, got)
		}
	}
}

// A row without a name has nothing of the row before it in a stream: not the readings that another sheet has of that machine.
func TestFeedRowWithoutANameIsNobodys(t *testing.T) {
	j := job.NewJob()
	with(t, j, job.ReadingsSheet, setsHead+sweepsOf("", hotMovable, hotStationary))
	cells := without
	named := append([]string{"Machine=pump"}, cells...)
	f := NewFeed(j)
	with0, _ := feed(t, f, 1, named...)
	got, _ := feed(t, f, 2, cells...)
	want, _ := feed(t, NewFeed(j), 2, cells...)
	if strings.Contains(with0, `"offset_v_mm":null`) || !strings.Contains(want, `"offset_v_mm":null`) {
		t.Errorf("with readings %s, and without %s", with0, want)
	}
	if got != want {
		t.Errorf("after a row with a name\n%s\nwant\n%s", got, want)
	}
	if again, _ := feed(t, f, 1, named...); again != with0 {
		t.Errorf("the first row again\n%s\nwant\n%s", again, with0)
	}
}

// Each row put on the Record sheet is put behind the sheet as it is, whoever else has one of an earlier row in hand; the job keeps its own.
func TestEntriesAreApart(t *testing.T) {
	e, _ := one(t, reverse...)
	rows := make([][]string, 1, 8) // room behind
	rows[0] = []string{"pump", "seen"}
	header := append(make([]string, 0, 40), "Machine", "Note")
	e.Job().Record = &job.Table{Name: "Record", Header: header, Rows: rows, FirstRow: 2}
	first := e.AddEntry(map[string]string{"machine": "pump", "note": "first"})
	second := e.AddEntry(map[string]string{"machine": "pump", "note": "second"})
	note := func(tab *job.Table) string {
		return tab.Cell(1, slices.Index(tab.Header, "Note"))
	}
	if note(first) != "first" || note(second) != "second" || len(first.Rows) != 2 || len(second.Rows) != 2 || len(e.Job().Record.Rows) != 1 || rows[:2][1] != nil || len(e.Job().Record.Header) != 2 || header[:3][2] != "" {
		t.Errorf("%q, %q, the job %q", first.Rows, second.Rows, rows[:2])
	}
}

// What is told once a column is told of rows that are worked out; a row that changed since is not in it until it is again.
func TestOddNumbersOfRowsWorkedOut(t *testing.T) {
	j := list(t, "Machine,Speed,Coupling to front feet [mm]\nP 1,1480,3000000\nP 2,1480,4000000\n")
	told := func(e *Evaluator) string {
		for _, p := range e.Problems() {
			if p.Column == "Coupling to front feet" && p.Severity == job.Warning {
				return p.Text.String()
			}
		}
		return ""
	}
	e := NewEvaluator(j)
	if s := told(e); s != "" {
		t.Errorf("before anything is worked out: %s", s)
	}
	e.Row(1)
	if s := told(e); !strings.Contains(s, "4000000") {
		t.Errorf("with the second row worked out: %q", s)
	}
	e.Row(0)
	both := told(e)
	if !strings.Contains(both, "3000000") {
		t.Errorf("with both worked out: %q", both)
	}
	e.RowsChanged(0, 1)
	if s := told(e); !strings.Contains(s, "4000000") {
		t.Errorf("with the first row changed since: %q", s)
	}
	e.Row(0)
	if s := told(e); s != both {
		t.Errorf("worked out again: %q", s)
	}
}

// A dash for a name is no name: a row of totals under it is left out, as one without any is.
func TestTotalsUnderADash(t *testing.T) {
	for _, name := range []string{"", "-", " - ", "n/a"} {
		e := work(t, list(t, "Machine,Speed,Coupling to front feet,Front to rear feet\nP 1,1480,300,500\nP 2,2960,350,600\n"+name+",4440,650,1100\n"))
		if r := e.Row(2); r.Kind != LeftOutRow {
			t.Errorf("%q: kind %v, %v", name, r.Kind, r.Problems)
		}
	}
	e := work(t, list(t, "Machine,Speed,Coupling to front feet,Front to rear feet\nP 1,1480,300,500\nP 2,2960,350,600\nP 3,4440,650,1100\n"))
	if r := e.Row(2); r.Kind != MachineRow {
		t.Errorf("a machine: kind %v", r.Kind)
	}
}

// A Job sheet may begin with a line about a header.
func TestOwnHeaderInTheFirstLine(t *testing.T) {
	got := OwnHeaders(&job.Table{Title: [][]string{{"Header of Stock: thk", "Thickness"}}, Header: []string{"Header of Machines: DE 12", "Movable rim 12"}, Rows: [][]string{{"Header of Machines: NDE", "Speed"}}})
	want := []OwnHeader{{job.StockSheet, "thk", "Thickness"}, {job.MachinesSheet, "DE 12", "Movable rim 12"}, {job.MachinesSheet, "NDE", "Speed"}}
	if !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
}

// A row that comes by itself is read as the job reads it: in the unit of its row, with the decimal sign that the texts beside it show, one row after the other.
func TestFeedRowsInEveryDress(t *testing.T) {
	inMil := change(reverse, "Movable rim 3=-6.6929", "Movable rim 6=-11.811", "Movable rim 9=-5.1181", "Stationary rim 3=4.3307", "Stationary rim 6=3.937", "Stationary rim 9=-0.3937")
	line := []string{"Method=line", "Given slope V=0", "Given slope H=0"}
	dresses := [][]string{
		reverse, append(slices.Clone(inMil), "Unit=mil"), reverse, append(slices.Clone(line), "Given offset V=0,125", "Given offset H=1.234"), append(slices.Clone(line), "Given offset V=0.125", "Given offset H=1.234"),
		append(slices.Clone(line), "Given offset V=1", "Given offset H=1.234"), append(slices.Clone(line), "Given offset V=0,5", "Given offset H=0,25"), append(slices.Clone(line), "Given offset V=5", "Given offset H=2.5", "Unit=mil"),
	}
	offset := map[string]bool{}
	f := NewFeed(job.NewJob())
	for i, cells := range dresses {
		e, _ := one(t, cells...)
		want := byName(t, e)["pump"]
		text, done := feed(t, f, i+1, append([]string{"Machine=pump"}, cells...)...)
		var got map[string]any
		if done.Refused != nil || json.Unmarshal([]byte(text), &got) != nil {
			t.Fatalf("%v: %+v %s", cells, done.Refused, text)
		}
		for _, k := range []string{"verdict", "offset_v_mm", "offset_h_mm", "slope_v", "slope_h", "speed_rpm", "status"} {
			if !reflect.DeepEqual(got[k], want[k]) {
				t.Errorf("%v, %s: %v, in the job %v", cells, k, got[k], want[k])
			}
		}
		offset[fmt.Sprint(got["offset_h_mm"])] = true
	}
	if len(offset) < 6 {
		t.Errorf("the dresses come to %v", offset)
	}
}

// Of a row that is left out nothing is said but that: not what cannot be read in it, nor that a cell of it says nothing.
func TestLeftOutRowsSayOneThing(t *testing.T) {
	e := work(t, list(t, "Machine,Speed,Coupling to front feet,Front to rear feet\nP 1,1480,300,500\nTotal,x,-,7 ell\nPage 2,,,\n"))
	for range 2 {
		for i := 1; i < 3; i++ {
			if r := e.Row(i); r.Kind != LeftOutRow || len(r.Problems) != 1 || r.Problems[0].Severity != job.Warning {
				t.Errorf("row %d: kind %v, %v", i, r.Kind, r.Problems)
			}
		}
		if p := e.Problems(); len(p) != 0 {
			t.Errorf("%v", p)
		}
		e.RowsChanged(0, 3)
	}
	e = work(t, list(t, "Machine,Speed,Coupling to front feet,Front to rear feet\nP 1,1480,-,500\nP 2,1480,-,600\n"))
	if p := e.Problems(); len(p) != 1 || p[0].Severity != job.Note || p[0].Row != 2 || p[0].Column != "Coupling to front feet" {
		t.Errorf("%v", p)
	}
}

// A slope given twice, as such and by the gaps, names both columns, and the given line is not taken; a diameter that is missing leaves the slope unknown and the offset known.
func TestGivenTwiceNamesBoth(t *testing.T) {
	line := []string{"Method=line", "Given offset V=0.1", "Given offset H=0", "Given slope H=0"}
	_, r := one(t, append(slices.Clone(line), "Given slope V=0.5", "Given gap 12 minus 6=-0.1", "Face diameter=200")...)
	if r.HasLine() || !r.asked.has(job.ColGivenSlopeV) || !r.asked.has(job.ColGivenGapV) {
		t.Errorf("%v", r.Problems)
	}
	_, r = one(t, append(slices.Clone(line), "Given gap 12 minus 6=-0.1")...)
	if Known(r.Slope.V) || !Known(r.Offset.V) || !r.asked.has(job.ColFaceDiameter) {
		t.Errorf("%+v, %v", r.Slope, r.Problems)
	}
	_, r = one(t, append(slices.Clone(line), "Given gap 12 minus 6=-0.1", "Face diameter=200")...)
	near(t, "the slope", r.Slope.V, 0.5, 1e-12)
}
