package workbook

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
)

// A job with rounds, a struck one among them, goes from lists to a workbook, to the JSON of a job, over the wire between the page and its worker, and back to a list: every cell comes back as typed, with
// who, when, temperature, instrument, what was done, what lies under the feet and why one is struck; and every round comes to the same result, to the last bit.
func TestRoundsTravel(t *testing.T) {
	machines := "Machine,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Minutes since stop," +
		"Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n" +
		"Pump 1,1480,100,100,300,500,5,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\nPump 2,1480,100,100,300,500,5,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\n"
	head := "Machine,Round,When,By,Temperature,Instrument,Done,Packs in place,Struck,Front shim done [mil],Rear shim done,Front move done,Rear move done," +
		"Movable rim 12 [mil],Movable rim 3 [mil],Movable rim 6 [mil],Movable rim 9 [mil],Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9,Weather\n"
	rounds := head + `Pump 1,found,2026-04-11 07:10,"Kim, Ada",12 °C,dial 0417,,"front 9: 0.5+0.2; front 3: 0.5; rear: 0",,,,,,` + "0,-6.7,-11.8,-5.1,0,0.11,0.10,-0.01,fog\n" +
		`Pump 1,1,2026-04-11 09:00,Kim,"13,5 °C",dial 0417,"shims in, bolts ""hand-tight""",,"the bracket touched the guard; read again",,,,,0,9,9,9,0,9,9,9,` + "\n" +
		`Pump 1,1,2026-04-11 09:40,Kim,14 °C,dial 0417,as told,"front: 0.7+0.2; rear: 0.1",,7.9,0.1,−0.05,0,` + "0,-1.2,-2,-0.8,0,0.02,0.02,0.00,sun\n" +
		"Pump 1,left,2026-04-11 11:20,Ada,15 °C,dial 0417,torqued,,,,,,,0,-0.4,-0.8,-0.4,0,0.01,0.01,0,\n" +
		"Pump 1,hot,2026-04-14 15:00,Ada,62 °C,dial 0418,ran four hours,,,,,,,0,0.4,0.8,0.4,0,-0.01,-0.01,0,\n" +
		"Pump 2,found,,Ada,,,,,wrong machine,,,,,,,,,,,,,\n"
	feet := "Machine,Foot,Pack in place\nPump 1,front 9,0.5\nPump 1,front 3,0.5\nPump 1,rear 9,0.5\nPump 1,rear 3,0.5\n"
	j := job.NewJob()
	for k, text := range map[job.SheetKind]string{job.MachinesSheet: machines, job.RoundsSheet: rounds, job.FeetSheet: feet} {
		j.SetTable(k, delimited(t, k, text))
	}
	want, result := cells(j.Table(job.RoundsSheet)), resultsOf(t, j)
	for _, w := range []string{`"state": "left"`, `"struck": "the bracket touched the guard; read again"`, `"struck": "wrong machine"`, `"instrument": "dial 0418"`, `"round": "hot"`} {
		if !strings.Contains(result, w) && !strings.Contains(result, strings.Replace(w, ": ", ":", 1)) {
			t.Fatalf("%s is not in %s", w, result)
		}
	}
	same := func(way string, got *job.Job) *job.Job {
		t.Helper()
		if c := cells(got.Table(job.RoundsSheet)); c != want {
			t.Errorf("%s: the cells are\n%s\nwant\n%s", way, c, want)
		}
		if r := resultsOf(t, got); r != result {
			k := 0
			for k < min(len(r), len(result)) && r[k] == result[k] {
				k++
			}
			t.Errorf("%s: the results part at …%.200s, want …%.200s", way, r[k:], result[k:])
		}
		return got
	}
	book, report, err := Read(write(t, j, Options{}), "job.xlsx", nil)
	if err != nil || slices.ContainsFunc(report.Problems, func(p job.Problem) bool { return p.Severity == job.Error }) {
		t.Fatal(err, report.Problems)
	}
	same("workbook", book)
	data, err := book.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	saved := new(job.Job)
	if err := saved.UnmarshalJSON(data); err != nil {
		t.Fatal(err)
	}
	same("JSON", saved)
	sealed, err := saved.Seal()
	if err != nil {
		t.Fatal(err)
	}
	opened := new(job.Job)
	if ok, err := opened.OpenChecked(string(sealed)); err != nil || !ok {
		t.Fatal(ok, err)
	}
	same("a saved page's job", opened)
	for _, k := range []job.SheetKind{job.RoundsSheet, job.MachinesSheet} {
		rows := &opened.Table(k).Rows
		*rows = job.AppendUnpacked(nil, string(job.AppendPacked(nil, *rows)))
	}
	same("between the page and its worker", opened)
	back := opened.Table(job.RoundsSheet)
	csv := job.AppendCSVRow(nil, back.Header, ',')
	for _, r := range back.Rows {
		csv = append(csv, job.AppendCSVRow(nil, r, ',')...)
	}
	opened.SetTable(job.RoundsSheet, delimited(t, job.RoundsSheet, string(csv)))
	same("CSV", opened)
	if again := write(t, opened, Options{Live: true}); bytes.Equal(again, nil) {
		t.Error("no workbook with formulas")
	}
}

func delimited(t *testing.T, k job.SheetKind, text string) *job.Table {
	t.Helper()
	tab, problems, err := job.ReadDelimited(k.String(), []byte(text), ',')
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	tab.SplitHeader(k)
	return tab
}

// cells are the cells of a sheet that are filled, by header and row.
func cells(t *job.Table) string {
	var list []string
	for i := range t.Rows {
		for c, h := range t.Header {
			if s := t.Cell(i, c); s != "" {
				list = append(list, fmt.Sprintf("%d %s: %q", i, h, s))
			}
		}
	}
	slices.Sort(list)
	return strings.Join(list, "\n")
}

// results are what the machines come to, as JSON, without the rows and files they were read from.
func resultsOf(t *testing.T, j *job.Job) string {
	t.Helper()
	var b bytes.Buffer
	if err := results.WriteJSON(&b, work(t, j)); err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(b.String(), `"file":"job.xlsx",`, "")
}
