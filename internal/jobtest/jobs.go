// Package jobtest makes jobs for the tests of what works a job out and of what says it: of a row's cells, of lines, of sheets in CSV. Tests alone import it; it knows no result, so that the
// packages that have one can use it in their own tests.
package jobtest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// List makes a job of a Machines sheet in CSV.
func List(t testing.TB, csv string) *job.Job {
	t.Helper()
	tab, problems, err := job.ReadDelimited("Machines", []byte(csv), 0)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	tab.SplitHeader(job.MachinesSheet)
	j := job.NewJob()
	j.Machines = tab
	return j
}

// With puts a sheet in CSV into a job.
func With(t testing.TB, j *job.Job, k job.SheetKind, csv string) *job.Job {
	t.Helper()
	tab, _, err := job.ReadDelimited(k.String(), []byte(csv), 0)
	if err != nil {
		t.Fatal(err)
	}
	tab.SplitHeader(k)
	j.SetTable(k, tab)
	return j
}

// Row is a job of one machine, called pump, whose cells are header=value.
func Row(cells ...string) *job.Job {
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	Add(j, cells...)
	return j
}

// Add adds columns to the first row of the Machines sheet, each as header=value.
func Add(j *job.Job, cells ...string) {
	for _, c := range cells {
		h, v, _ := strings.Cut(c, "=")
		j.Machines.Header = append(j.Machines.Header, h)
		j.Machines.Rows[0] = append(j.Machines.Rows[0], v)
	}
}

// Reverse is a sound row by reverse indicator: offset 0.10 and −0.04 mm, slope 0.5 and 0.2 mm/m, planes at ±100 mm.
var Reverse = []string{"Speed=1480", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500",
	"Movable rim 12=0", "Movable rim 3=-0.17", "Movable rim 6=-0.30", "Movable rim 9=-0.13",
	"Stationary rim 12=0", "Stationary rim 3=0.11", "Stationary rim 6=0.10", "Stationary rim 9=-0.01"}

// LowRow is a machine that stands low: 0.36 mm under the front feet at 300 mm and 0.46 mm under the rear ones at 800 mm, 0.115 and 0.14 mm towards 9 o'clock.
var LowRow = []string{"Speed=1480", "Method=line", "Given offset V=-0.3", "Given slope V=-0.2", "Given offset H=0.1", "Given slope H=0.05", "Coupling to front feet=300", "Front to rear feet=500"}

// Change returns the cells with some replaced (header=value) or taken out (header alone) or added.
func Change(cells []string, by ...string) []string {
	out := append([]string{}, cells...)
	for _, b := range by {
		h, _, has := strings.Cut(b, "=")
		found := false
		for i := 0; i < len(out); i++ {
			if o, _, _ := strings.Cut(out[i], "="); o == h {
				found = true
				if has {
					out[i] = b
				} else {
					out = append(out[:i], out[i+1:]...)
				}
				break
			}
		}
		if !found && has {
			out = append(out, b)
		}
	}
	return out
}

// Sheets is the job of a row, its cells header=value, with further sheets: name, CSV, name, CSV.
func Sheets(t testing.TB, cells []string, sheets ...string) *job.Job {
	t.Helper()
	j := Row(cells...)
	for i := 0; i < len(sheets); i += 2 {
		kind := job.MachinesSheet
		for _, k := range job.SheetKinds() {
			if k.String() == sheets[i] {
				kind = k
			}
		}
		With(t, j, kind, sheets[i+1])
	}
	return j
}

// Case is the job of a row and its sheets with something changed, as a case of a table says it: cells "Speed=1480; Offset limit=" changes cells of the base or adds them, "Speed" alone takes one out;
// sheets "Growth: Machine,Support,…" and then its rows, a line each; a sheet named without anything behind it is taken out; "Job:" has a setting a line, "Name=value".
func Case(t testing.TB, base []string, baseSheets, cells, sheets string) *job.Job {
	t.Helper()
	var by []string
	for _, s := range strings.Split(cells, "; ") {
		if s = strings.TrimSpace(s); s != "" {
			by = append(by, s)
		}
	}
	j := Row(Change(base, by...)...)
	of := caseSheets(t, baseSheets)
	for k, s := range caseSheets(t, sheets) {
		of[k] = s
	}
	for k, s := range of {
		switch {
		case strings.TrimSpace(s) == "":
		case k == job.SettingsSheet:
			j.Settings = &job.Table{Name: "Job", FirstRow: 1}
			for _, line := range strings.Split(strings.TrimSpace(s), "\n") {
				name, v, _ := strings.Cut(strings.TrimSpace(line), "=")
				j.Settings.Rows = append(j.Settings.Rows, []string{name, v})
			}
		default:
			With(t, j, k, s)
		}
	}
	return j
}

// caseSheets parts the sheets of a case.
func caseSheets(t testing.TB, text string) map[job.SheetKind]string {
	t.Helper()
	of := map[job.SheetKind]string{}
	at := job.MachinesSheet
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		for _, k := range job.SheetKinds() {
			if rest, ok := strings.CutPrefix(line, k.String()+":"); ok {
				at, line = k, strings.TrimSpace(rest)
				of[k] = ""
			}
		}
		if line == "" {
			continue
		}
		if at == job.MachinesSheet {
			t.Fatalf("%q belongs to no sheet", line)
		}
		of[at] += line + "\n"
	}
	return of
}

const fourFeet = "Machine,Foot,Across,Gap,Pack in place,Shim size\npump,front 9,-200,%s,%s,\npump,front 3,200,%s,%s,\npump,rear 9,-200,%s,%s,\npump,rear 3,200,%s,%s,\n"

// FeetOf is a Feet sheet of four feet: gap and pack in place of each.
func FeetOf(cells ...any) string { return fmt.Sprintf(fourFeet, cells...) }

// Pair is a job of two sheets in CSV, machines and feet.
func Pair(t testing.TB, machines, feet string) *job.Job {
	t.Helper()
	j := job.NewJob()
	for k, text := range map[job.SheetKind]string{job.MachinesSheet: machines, job.FeetSheet: feet} {
		With(t, j, k, text)
	}
	return j
}

// ReasonMachine is a machine whose feet are looked at.
const ReasonMachine = "Machine,Coupling,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\nP 1,short,1480,line,0.3,-0.1,0.4,0.2\n"

// Demo reads the demo job; alone leaves out everything but the Machines sheet.
func Demo(t testing.TB, alone bool) *job.Job {
	j := job.NewJob()
	for name, kind := range map[string]job.SheetKind{"machines.csv": job.MachinesSheet, "readings.csv": job.ReadingsSheet, "job.csv": job.SettingsSheet, "stock.csv": job.StockSheet,
		"growth.csv": job.GrowthSheet, "feet.csv": job.FeetSheet, "limits.csv": job.LimitsSheet, "materials.csv": job.MaterialsSheet, "checks.csv": job.ChecksSheet, "rounds.csv": job.RoundsSheet, "trains.csv": job.TrainsSheet, "record.csv": job.RecordSheet} {
		if alone && kind != job.MachinesSheet {
			continue
		}
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name))
		if err != nil {
			t.Fatal(err)
		}
		table, problems, err := job.ReadDelimited(name, data, 0)
		if err != nil || len(problems) > 0 {
			t.Fatal(name, err, problems)
		}
		if kind != job.SettingsSheet && !table.SplitHeader(kind) {
			t.Fatalf("%s: no header", name)
		}
		j.SetTable(kind, table)
	}
	return j
}

// Packs is a job whose counted stock does not do for every foot: feet that want the same pieces, soft feet with pieces in place, pairs chosen together, machines
// that stay, moves smaller than their ±, a flange, a pair to be lowered, three pairs of feet, a row without a verdict.
func Packs(t testing.TB) *job.Job {
	t.Helper()
	j := job.NewJob()
	for _, k := range []job.SheetKind{job.MachinesSheet, job.StockSheet, job.FeetSheet, job.SettingsSheet} {
		name := map[job.SheetKind]string{job.SettingsSheet: "job"}[k]
		if name == "" {
			name = strings.ToLower(k.String())
		}
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "packs", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		With(t, j, k, string(data))
	}
	return j
}

// RecordMachines are two machines that are signed for.
const RecordMachines = `Machine,Speed [rpm],Method,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9,Movable sag at 6,Stationary sag at 6,Note
P-1,1480,reverse indicator,100,120,300,600,0,0.01,0.00,-0.01,0,0.01,0.02,0.01,0,0,"a tab	and a \ in it"
P-2,1480,reverse indicator,100,120,300,600,0,0.30,0.50,0.20,0,0.10,0.20,0.10,0,0,
`
