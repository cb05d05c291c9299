package evaluate

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A check with a unit of its own kind, a number that cannot be read, a machine that is not there, a check without its name: each is told, and none spoils another.
func TestChecksWrong(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, reverse...)
	with(t, j, job.ChecksSheet, "Machine,Check,Value,Limit,Done\npump,hub runout movable,0.02 N·m,,\npump,,0.1,,\nfan,dowels,,,yes\npump,gland,3 mm,2 N·m,\npump,gland leak,1.2,1.5,\npump,bearing lift,0.11,,\npump,hub runout stationary,1 mil,0.5 mil,\n")
	e := work(t, j)
	var all []string
	for _, p := range e.Problems() {
		all = append(all, fmt.Sprintf("%s %d %s: %s", p.Sheet, p.Row, p.Column, p.Text))
	}
	text := strings.Join(all, "\n")
	for _, w := range []string{"Checks 2 Value", "N·m", "Checks 3 Check", "missing", "Checks 5 Limit", `"3 mm"`, `"2 N·m"`, "Checks 4 Machine", "fan"} {
		if !strings.Contains(text, w) {
			t.Errorf("%q is not told in\n%s", w, text)
		}
	}
	states := map[string]CheckState{}
	for _, c := range e.Row(0).Checks {
		states[c.Name] = c.State
	}
	if states["gland leak"] != CheckDone || states["bearing lift"] != CheckUnheld || states["hub runout stationary"] != CheckFailed || states["hub runout movable"] != CheckOpen {
		t.Error(states)
	}
}

// In an inch job bare readings are mil and bare torques lbf·ft.
func TestChecksInch(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	with(t, j, job.SettingsSheet, "Name,Value\nUnits,inch\n")
	with(t, j, job.ChecksSheet, "Machine,Check,Value,Limit\npump,hub runout movable,0.8,\npump,final torque,266,\n")
	add(j, "Speed=1480")
	e := work(t, j)
	c := e.Row(0).Checks
	if len(c) != 2 || math.Abs(c[0].Value-0.02032) > 1e-12 || c[0].State != CheckDone || c[1].Kind != units.Torque || math.Abs(c[1].Value-266*1.3558179483314004) > 1e-9 {
		t.Errorf("%+v", c)
	}
}

// Every spelling of a check leads to one check, and a check has a limit only with its source.
func TestCheckKinds(t *testing.T) {
	seen := map[string]string{}
	for _, c := range CheckKinds {
		for _, s := range append([]string{c.Name}, strings.Split(c.Also, "|")...) {
			if o, twice := seen[job.NormalForm(s)]; twice {
				t.Errorf("%q is %s and %s", s, o, c.Name)
			}
			seen[job.NormalForm(s)] = c.Name
			if f := FindCheck(s); f == nil || f.Name != c.Name {
				t.Errorf("%q leads to %v", s, f)
			}
		}
		if !math.IsNaN(c.Limit) != (c.Source != words.SentenceNone) || c.Mend == words.SentenceNone {
			t.Errorf("%+v", c)
		}
	}
	//evidence: calc=checks with numbers grade=practice count=2 source=common practice: hub runout under 0.001 in total reading
	//evidence: calc=checks with numbers grade=published count=2 source=API RP 686 as quoted elsewhere: piping movement 0.002 in (0.05 mm), flanges parallel 0.25 mm below 250 mm
	for name, want := range map[string]float64{"hub runout movable": 0.0254, "hub runout stationary": 0.0254, "piping movement": 0.0508, "flange parallelism": 0.25} {
		if c := FindCheck(name); math.Abs(c.Limit-want) > 1e-12 {
			t.Errorf("%s: %v, want %v", name, c.Limit, want)
		}
	}
}

// Bolt room in the row's own columns counts: today only that of the Feet sheet did.
func TestPairRooms(t *testing.T) {
	_, r := one(t, change(reverse, "Front room down=0.1", "Rear room left=1", "Front room right=0.01")...)
	says(t, r, job.Warning, "both front feet have to go 0.25 mm down", "room for 0.1 mm")
	n := 0
	for _, p := range r.Problems {
		if strings.Contains(p.Text.String(), "have to go") {
			n++
		}
	}
	// The line stands high, +0.10 and rising: down at the front by 0.25; sideways −0.04 + 0.2·0.3 = +0.02: towards 9.
	if n != 1 {
		t.Error(n, r.Problems)
	}
	_, r = one(t, change(reverse, "Front room left=0.01")...)
	says(t, r, job.Warning, "both front feet have to go 0.02 mm towards 9 o'clock", "room for 0.01 mm")
}

// Checks side by side are told so. Seen: the row "P-101, OK, 0.02, OK, no" below "Machine, Isolation, Runout, Guard, Dowels" was taken for the header, since OK is another name of the column Done.
func TestChecksSideBySide(t *testing.T) {
	e, r := grown(t, reverse, job.ChecksSheet.String(), "Machine,Isolation,Runout,Guard,Dowels\npump,OK,0.02,OK,no\n")
	if told := sheetTold(e, job.ChecksSheet); len(r.Checks) > 0 || !strings.Contains(told, "error 0 : no row with column names was found (the checks stand side by side here; write a row a check: Machine, Check, and Value or Done)") || strings.Count(told, "\n") != 1 {
		t.Error(told)
	}
	if got, told := checked(t, "Machine,Check,Done,Hold\npump,guard,done,OK\npump,dowels,no,yes\n"); !strings.Contains(got, "dowels failed") || !strings.Contains(told, `2 Hold: "OK" is not one`) {
		t.Errorf("%s\n%s", got, told)
	}
}
