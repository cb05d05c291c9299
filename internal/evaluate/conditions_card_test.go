package evaluate

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// The round to be read next.
func TestNextRounds(t *testing.T) {
	rd := func(name string, more ...string) string {
		return strings.Join(append([]string{"Rounds: Machine=pump | Round=" + name + rims(calc.Line{DV: 0.3})}, more...), " | ")
	}
	for _, c := range []struct {
		rows []string
		want string
	}{
		{nil, "found"}, {[]string{rd("found")}, "1"}, {[]string{rd("found"), rd("1")}, "2"}, {[]string{rd("found"), rd("9"), rd("3")}, "10"}, {[]string{rd("found"), rd("1"), rd("2", "Struck=x")}, "2"}, {[]string{rd("found", "Struck=x")}, "found"}, {[]string{rd("left")}, "left"}, {[]string{rd("found"), rd("left"), rd("hot")}, "left"},
		{[]string{rd("found"), rd("left", "Struck=x")}, "1"}, {[]string{rd("found"), rd("hot")}, "1"},
	} {
		if got := workText(t, plus(roundsText, c.rows...)...).NextRound(0); got != c.want {
			t.Errorf("%q: %s", c.rows, got)
		}
	}
}

// What a row of a new round begins with, or why there is none; and what is typed in the open round.
func TestNewRounds(t *testing.T) {
	rd := func(name string, more ...string) string {
		return strings.Join(append([]string{"Rounds: Machine=pump | Round=" + name + rims(calc.Line{DV: 0.3})}, more...), " | ")
	}
	own := "2: " + strings.TrimPrefix(rims(calc.Line{DV: 0.3}), " | ")
	waiting, empty, hot, left := words.RoundWaiting.String(), words.RoundEmpty.String(), words.RoundHot.String(), words.RoundLeft.String()
	for _, c := range []struct {
		rows []string
		want [3]string // of the next one, of left, of hot: the round, or why not
	}{
		{nil, [3]string{waiting, waiting, waiting}}, {[]string{own}, [3]string{"1", "left", "hot"}}, {[]string{rd("found")}, [3]string{"1", "left", "hot"}}, {[]string{rd("found"), rd("1")}, [3]string{"2", "left", "hot"}},
		{[]string{own, "Rounds: Machine=pump | Round=1"}, [3]string{empty, empty, empty}}, {[]string{own, "Rounds: Machine=pump | Round=found | By=Kim"}, [3]string{"1", "left", "hot"}}, {[]string{rd("left")}, [3]string{left, left, "hot"}},
		{[]string{rd("left"), rd("hot")}, [3]string{hot, hot, hot}}, {[]string{rd("left"), rd("hot", "Struck=x")}, [3]string{left, left, "hot"}}, {[]string{own, "Rounds: Machine=pump | Round=found | Struck=x"}, [3]string{"found", waiting, waiting}},
		{[]string{rd("found", "Struck=x")}, [3]string{waiting, waiting, waiting}},
	} {
		e := workText(t, plus(roundsText, c.rows...)...)
		for kind, want := range c.want {
			names, texts, why := e.NewRound(0, RoundKind(kind), "today")
			if len(want) < 12 {
				if !why.Empty() || len(names) != len(texts) || len(names) < 8 || strings.Join(names[:8], ",") != "Machine,Round,When,By,Temperature,Instrument,Done,Packs in place" || strings.Join(texts[:3], ",") != "pump,"+want+",today" || strings.Join(texts[3:], "") != "" {
					t.Errorf("%q, %d: %q %q %s", c.rows, kind, names, texts, why)
				}
			} else if why.String() != want || names != nil || texts != nil {
				t.Errorf("%q, %d: %s, want %s", c.rows, kind, why, want)
			}
		}
	}
	e := workText(t, "Machines: Machine=P", "Machines: Machine")
	if _, _, why := e.NewRound(1, NextRound, ""); why.String() != words.TodoNoCoupling.String() {
		t.Error(why)
	}
	if _, _, why := e.NewRound(9, NextRound, ""); why.String() != words.TodoNoCoupling.String() {
		t.Error(why)
	}
	// Which columns of readings it has: what the method reads, at 12 again only where it was read before; without a method what was read, in the row or in any round; headed as in the row.
	reads := func(lines ...string) string {
		names, _, why := workText(t, lines...).NewRound(0, NextRound, "")
		if !why.Empty() {
			return why.String()
		}
		return strings.Join(names[8:], ",")
	}
	const rim = "Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9"
	const two = "Machines: Machine=P | Coupling to movable plane=100 | Coupling to second plane=300 | Method=two rims | Movable rim 12=0 | Movable rim 3=0 | Movable rim 6=0 | Movable rim 9=0 | Second rim 12 [mil]=0 | Second rim 3 [mil]=1 | Second rim 6 [mil]=0 | Second rim 9 [mil]=0"
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{[]string{two + " | Movable sag at 6=0.1"}, rim + ",Second rim 12 [mil],Second rim 3 [mil],Second rim 6 [mil],Second rim 9 [mil]"},
		{[]string{two + " | Movable rim 12 again=0 | Face 3=1"}, rim + ",Movable rim 12 again,Second rim 12 [mil],Second rim 3 [mil],Second rim 6 [mil],Second rim 9 [mil]"},
		{[]string{two, "Rounds: Machine=P | Round=1 | Movable rim 12 again=0" + strings.ReplaceAll(strings.Split(two, "two rims")[1], " [mil]", ""), "Rounds: Machine=Q | Round=1 | Second rim 12 again=0"}, rim + ",Movable rim 12 again,Second rim 12 [mil],Second rim 3 [mil],Second rim 6 [mil],Second rim 9 [mil]"},
		{[]string{"Machines: Machine=P | Method=line | Given offset V=0.1 | Given offset H=0 | Given slope V=0 | Given slope H=0"}, "Given offset V,Given offset H,Given slope V,Given slope H"}, // a line that is typed: in the columns it was typed in
		{[]string{"Machines: Machine=P | Method=line | Given offset V=0.1 | Given offset H=0 | Given gap V=0 | Given gap H=0"}, "Given offset V,Given offset H,Given gap V,Given gap H"},
		// Nothing counts: what was read in the row or in any round.
		{[]string{"Machines: Machine=P | Face 3=0.1 | Movable rim 6 | Movable rim 9=0.2", "Rounds: Machine=P | Round=found | Struck=x", "Rounds: Machine=P | Round=1 | Step 12=0 | Struck=y", "Rounds: Machine=Q | Round=1 | Step 3=0"}, "Movable rim 9,Face 3,Step 12"},
	} {
		if got := reads(c.lines...); got != c.want {
			t.Errorf("%q: %s, want %s", c.lines, got, c.want)
		}
	}
}

// The cells of the open round, where they stand, with what is typed, the angle that is asked for, and the gravest problem of each.
func TestFieldsOfTheOpenRound(t *testing.T) {
	told := func(e *Evaluator) string {
		out := ""
		for _, f := range e.RoundFields(0) {
			p := ""
			if f.Problem != nil {
				p = " " + f.Problem.Severity.String()
			}
			out += fmt.Sprintf("%v %d %d %s=%s at %g%s\n", f.Sheet, f.Row, f.Col, f.Header, f.Text, f.Angle, p)
		}
		return out
	}
	const head = "Machines: Machine=pump | Method=two rims | Movable rim 3=0.1 | Face 12=9 | Movable rim 12 again=0.01 | Second rim 9=x | Movable sag at 6=0.2"
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{[]string{head}, "Machines 0 2 Movable rim 3=0.1 at 90\nMachines 0 4 Movable rim 12 again=0.01 at 0\nMachines 0 5 Second rim 9=x at 270 error\nMachines 0 6 Movable sag at 6=0.2 at NaN\n"},
		{[]string{head, "Rounds: Machine=fan | Round=found", "Rounds: Note=a | Machine=pump | Round=1 | Second rim 9=y | Movable rim 6=-0.1 | Face 12=3"}, "Rounds 1 4 Movable rim 6=-0.1 at 180\nRounds 1 3 Second rim 9=y at 270 error\n"},
		{[]string{head, "Rounds: Machine=pump | Round=1 | Movable rim 6=-0.1 | Struck=x"}, "Machines 0 2 Movable rim 3=0.1 at 90\nMachines 0 4 Movable rim 12 again=0.01 at 0\nMachines 0 5 Second rim 9=x at 270 error\nMachines 0 6 Movable sag at 6=0.2 at NaN\n"},
		{[]string{head, "Rounds: Machine=pump | Round=found | Struck=x"}, ""},
		{[]string{"Machines: Machine"}, ""},
	} {
		if got := told(workText(t, c.lines...)); got != c.want {
			t.Errorf("%q:\n%s\nwant\n%s", c.lines, got, c.want)
		}
	}
	// About the round: who read it and how, and where that stands.
	for _, c := range []struct {
		lines []string
		texts string
		row   int
		open  string
	}{
		{[]string{head}, "nil", -1, ""}, // nothing that counts was read
		{[]string{"2: " + strings.TrimPrefix(rims(calc.Line{}), " | ")}, "||||", -1, ""},
		{[]string{"Machines: Machine=pump"}, "nil", -1, ""},
		{[]string{head, "Rounds: Machine=fan | Round=1", "Rounds: Machine=pump | Round=1 | By=a | Temperature=b | Instrument=c | Done=d | Packs in place=front: 1 | Movable rim 3=0"}, "a|b|c|d|front: 1", 1, "1"},
		{[]string{head, "Rounds: Machine=pump | Round=found | By=Kim"}, "Kim||||", 0, "found"},
		{[]string{head, "Rounds: Machine=pump | Round=found | Struck=x | By=Kim"}, "nil", -1, ""},
		{[]string{head, "Rounds: Machine=pump | Round=1 | Struck=x | By=Kim"}, "||||", -1, "found"},
	} {
		if strings.HasPrefix(c.lines[0], "2:") {
			c.lines = plus(roundsText, c.lines...)
		}
		e := workText(t, c.lines...)
		names, texts, row := e.RoundAbout(0)
		got := strings.Join(texts, "|")
		if names == nil {
			got = "nil"
		} else if strings.Join(names, ",") != "By,Temperature,Instrument,Done,Packs in place" {
			t.Error(names)
		}
		if got != c.texts || row != c.row || e.Row(0).OpenRound() != c.open {
			t.Errorf("%q: %s in row %d, open %q", c.lines, got, row, e.Row(0).OpenRound())
		}
	}
	e := workText(t, head)
	if names, texts := e.FoundRow(0); strings.Join(names, ",") != "Machine,Round" || strings.Join(texts, ",") != "pump,found" || StruckColumn() != "Struck" {
		t.Error(names, texts)
	}
}

// How far a machine is, by what is known of it, a case a line: in the order of docs/sheets.md.
func TestStagesByWhatIsKnown(t *testing.T) {
	soft, hard := &Feet{Feet: []Foot{{Soft: 0}, {Soft: 0.2}}}, &Feet{Feet: []Foot{{Soft: 0}, {Soft: math.NaN()}}}
	check := func(name string, s CheckState) Check { return Check{Name: name, State: s} }
	for _, c := range []struct {
		state   string
		verdict calc.Verdict
		feet    *Feet
		signed  SignState
		checks  []Check
		want    Stage
	}{
		{"waiting", calc.NotJudged, nil, NotSigned, nil, StageWaiting}, {"waiting", calc.NotJudged, hard, NotSigned, nil, StageWaiting}, {"waiting", calc.NotJudged, soft, NotSigned, nil, StageSoftFoot},
		{"waiting", calc.NotJudged, nil, NotSigned, []Check{check("isolation", CheckDone)}, StageIsolated}, {"waiting", calc.NotJudged, nil, NotSigned, []Check{check("isolation", CheckOpen)}, StageWaiting}, {"waiting", calc.NotJudged, nil, NotSigned, []Check{check("guard", CheckDone)}, StageWaiting},
		{"waiting", calc.NotJudged, soft, NotSigned, []Check{check("isolation", CheckDone), check("piping movement", CheckFailed)}, StagePiping}, {"waiting", calc.NotJudged, nil, NotSigned, []Check{check("flange parallelism", CheckFailed)}, StagePiping},
		{"waiting", calc.NotJudged, nil, NotSigned, []Check{check("flange offset", CheckFailed)}, StagePiping}, {"waiting", calc.NotJudged, nil, NotSigned, []Check{check("flange offset", CheckOpen)}, StageWaiting}, {"waiting", calc.NotJudged, nil, NotSigned, []Check{check("dowels", CheckFailed)}, StageWaiting},
		{"found", calc.NotJudged, soft, NotSigned, []Check{check("piping movement", CheckFailed)}, StageNotJudged}, {"found", calc.Outside, soft, NotSigned, []Check{check("piping movement", CheckFailed)}, StagePiping}, {"found", calc.Inside, nil, NotSigned, []Check{check("piping movement", CheckFailed)}, StagePiping},
		{"found", calc.Outside, soft, NotSigned, nil, StageSoftFoot}, {"found", calc.Inside, soft, NotSigned, nil, StageInside}, {"round 1", calc.Outside, soft, NotSigned, nil, StageMoving}, {"found", calc.Outside, hard, NotSigned, nil, StageMeasured}, {"found", calc.TooClose, nil, NotSigned, nil, StageMeasured},
		{"round 2", calc.TooClose, nil, NotSigned, []Check{check("guard", CheckDone)}, StageMoving}, {"left", calc.Outside, nil, NotSigned, nil, StageMoving}, {"left", calc.Inside, nil, NotSigned, nil, StageInside}, {"left", calc.Inside, nil, SignBare, nil, StageInside}, {"left", calc.Inside, nil, SignLater, nil, StageInside},
		{"left", calc.Inside, nil, NotSigned, []Check{check("coupling bolts", CheckDone)}, StageCoupled}, {"left", calc.Inside, nil, NotSigned, []Check{check("coupling bolts", CheckDone), check("guard", CheckDone)}, StageGuard}, {"left", calc.Inside, nil, NotSigned, []Check{check("guard", CheckOpen)}, StageInside},
		{"left", calc.Inside, nil, NotSigned, []Check{check("guard", CheckDone), check("hot check", CheckOpen)}, StageHot}, {"left", calc.Inside, nil, NotSigned, []Check{check("guard", CheckDone), check("hot check", CheckFailed)}, StageHot}, {"left", calc.Inside, nil, NotSigned, []Check{check("guard", CheckDone), check("hot check", CheckDone)}, StageGuard},
		{"left", calc.Inside, nil, NotSigned, []Check{check("hot check", CheckOpen)}, StageInside}, {"waiting", calc.NotJudged, soft, SignHolds, nil, StageSigned}, {"left", calc.Outside, nil, SignFailed, nil, StageChanged},
	} {
		if got := StageOf(&RowResult{State: c.state, Verdict: c.verdict, Feet: c.feet, Signed: c.signed, Checks: c.checks}); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	var names []string
	for _, s := range Stages() {
		names = append(names, s.Word().String())
	}
	if got := strings.Join(names, ","); got != "waiting,isolated,soft foot,piping,measured,moving,inside,coupled,guard on,hot check due,signed,not judged,changed since signed" {
		t.Error(got)
	}
}

// What is drawn of a row: distances as typed or by the chain, nothing of what is not given or cannot be read, and the readings of the round that counts.
func TestWhatIsMeasured(t *testing.T) {
	for _, c := range []struct {
		cells, want string
	}{
		{"", "stat NaN mov NaN second NaN front NaN rear NaN near NaN far NaN"},
		{"Coupling to stationary plane=110 | Coupling to movable plane=120 | Coupling to second plane=130 | Coupling to front feet=140 | Front to rear feet=150 | Stationary near support=160 | Stationary far support=170", "stat 110 mov 120 second 130 front 140 rear 150 near 160 far 170"},
		{"Coupling to stationary plane=110 | Stationary plane to movable plane=230 | Movable plane to front feet=20", "stat 110 mov 120 second NaN front 140 rear NaN near NaN far NaN"},
		{"Coupling to movable plane=120 | Stationary plane to movable plane=230 | Movable plane to front feet=20 | Front to rear feet=x", "stat 110 mov 120 second NaN front 140 rear NaN near NaN far NaN"},
		{"Coupling to stationary plane=110 | Coupling to movable plane=120 | Movable plane to front feet=20 | Coupling to front feet=140.5", "stat 110 mov 120 second NaN front 140.5 rear NaN near NaN far NaN"},
	} {
		e := workText(t, "Machines: Machine=P | Stationary= gear "+" | Movable rim 12=0 | Movable rim 3=0.1 | Movable rim 6=0.2 | Movable rim 9=0.1 | Stationary rim 12=0 | Stationary rim 3=0.1 | Stationary rim 6=0.2 | Stationary rim 9=0.1", "2: Note=x | "+c.cells)
		var m Measured
		ok := e.Measured(0, &m)
		got := fmt.Sprintf("stat %g mov %g second %g front %g rear %g near %g far %g", m.ToStat, m.ToMov, m.ToSecond, m.ToFront, m.FrontToRear, m.StatNear, m.StatFar)
		if !ok || got != c.want || m.Stationary != "gear" {
			t.Errorf("%s: %v %s %q", c.cells, ok, got, m.Stationary)
		}
	}
	// Rows that stop before a line have no readings to draw; those of the round that counts take the place of the row's; memory of a larger row before does not show.
	e := workText(t, plus(roundsText, "2: "+strings.TrimPrefix(rims(calc.Line{DV: 0.5}), " | "), "Rounds: Machine=pump | Round=1"+rims(calc.Line{DV: 0.2}), "3 of 2: Machine=fan | Movable rim 3=x", "4 of 2: Machine=last | Coupling to stationary plane")...)
	var m Measured
	for i, want := range map[int]string{0: "[[0 -0.2 -0.4 -0.2] [0 0.2 0.4 0.2]]", 1: "[]", 2: "[]"} {
		ok := e.Measured(i, &m)
		var list [][]float64
		for k := range m.Input.Sweeps {
			list = append(list, m.Input.Sweeps[k].Reading)
		}
		got := strings.ReplaceAll(fmt.Sprint(list), "-0 ", "0 ")
		if !ok || got != want {
			t.Errorf("row %d: %s", i, got)
		}
	}
	if e.Measured(0, &m); len(m.Input.Feet) != 2 || m.Input.Feet[0] != 300 || m.Input.Feet[1] != 800 || strings.Join(m.SweepOf, ",") != "Movable rim,Stationary rim" {
		t.Errorf("%+v", m)
	}
	for k := range m.Input.Sweeps {
		if s := m.Input.Sweeps[k]; fmt.Sprint(s.Angle) != "[0 90 180 270]" {
			t.Error(s.Angle)
		}
	}
	var blank Measured
	if e := workText(t, "Machines: Machine=P", "Machines: Machine"); e.Measured(1, &blank) || Known(blank.ToMov) || blank.Stationary != "" {
		t.Errorf("%+v", blank)
	}
}

// Running a list tells how far it is, and at the end that it is done; a list that ends its growth has room for its rows alone.
func TestRunTells(t *testing.T) {
	var lines []string
	for i := range 600 {
		lines = append(lines, fmt.Sprintf("Machines: Machine=P-%d", i))
	}
	e := NewEvaluator(jobText(t, lines...))
	e.Final()
	last := -1 // in pieces, by whoever is free
	if err := e.Run(context.Background(), func(done, total int) {
		if done < last || total != 600 {
			t.Errorf("%d of %d after %d", done, total, last)
		}
		last = done
	}); err != nil || last != 600 {
		t.Error(err, last)
	}
	if n := len(e.blocks[len(e.blocks)-1]); n != 600%blockRows {
		t.Errorf("room for %d rows in the last block", n)
	}
	e.Tell([]job.Problem{{Text: words.Plain("read so")}})
	if p := e.Problems(); len(p) == 0 || p[0].Text.String() != "read so" {
		t.Error(p)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	e.Refresh()
	if err := e.Run(ctx, nil); err == nil {
		t.Error("it ran on")
	}
}

// Records whose numbers come with a point, under each decimal sign; settings as names and values; sheets that have their header among their rows.
func TestRowsAsTheyCome(t *testing.T) {
	tab, refused := SettingsTable([]string{"Cold temperature", "Decimal sign", "Site"}, []string{"14.5", "comma", "1.5"}, []bool{true, false, false})
	if refused != nil || fmt.Sprint(tab.Rows) != "[[Cold temperature 14,5] [Decimal sign comma] [Site 1.5]]" || tab.FirstRow != 1 || tab.Name != "Job" {
		t.Errorf("%+v %+v", tab, refused)
	}
	r := NewRecords(nil)
	r.Begin(job.MachinesSheet)
	for _, c := range [][2]string{{"Machine", "P"}, {"Note", "0,5"}, {"Coupling to front feet", "1.234"}, {"Speed", "1480"}} {
		if refused := r.Set(c[0], c[1], c[0] == "Coupling to front feet" || c[0] == "Speed"); refused != nil {
			t.Fatal(refused)
		}
	}
	r.Begin(job.StockSheet)
	r.Set("Thickness", "0.125", true)
	j := r.Job()
	if j.Machines.Rows[0][2] != "1.234" || j.Stock.Rows[0][0] != "0.125" { // a comma in a note says nothing
		t.Errorf("%v %v", j.Machines.Rows, j.Stock.Rows)
	}
	r = NewRecords(nil)
	r.Begin(job.MachinesSheet)
	r.Set("Coupling to front feet", "1.234", true)
	r.Set("Front to rear feet", "500,5", false)
	r.Set("Note", "1.234", true)
	r.Begin(job.ChecksSheet)
	r.Set("Value", "1.234", true)
	j = r.Job()
	if fmt.Sprint(j.Machines.Rows[0], j.Checks.Rows[0]) != "[1.2340 500,5 1.234] [1.2340]" {
		t.Errorf("%v %v", j.Machines.Rows, j.Checks.Rows)
	}
	// The record sheet with its header among the rows is signed all the same.
	j = jobText(t, "Machines: Machine=P-1 | Method=line | Given offset V=0.01 | Given offset H=0 | Given slope V=0 | Given slope H=0")
	j.Record = &job.Table{Name: "Record", FirstRow: 1, Rows: [][]string{{"Machine", "Instrument"}, {"P-1", "dial"}}}
	j.Feet = &job.Table{Name: "Feet", FirstRow: 1, Rows: [][]string{{"Machine", "Foot"}, {"P-1", "front 9"}}}
	e := work(t, j)
	tab, err := e.Sign(Signing{Machine: "P-1", By: "a", At: "b"})
	if err != nil || len(tab.Rows) != 2 || tab.Header[0] != "Machine" || len(j.Record.Rows) != 2 {
		t.Fatalf("%v %+v", err, tab)
	}
	j.SetTable(job.RecordSheet, tab)
	e = work(t, j)
	if e.Row(0).Signed != SignHolds {
		t.Errorf("%+v", e.Row(0).Record)
	}
	if text, _ := e.CanonicalText(tab.SourceRow(1)); !strings.Contains(text, "Feet\tFoot\tfront 9\tMachine\tP-1\n") || !strings.Contains(text, "Record\tInstrument\tdial\tMachine\tP-1\n") {
		t.Error(text)
	}
}

// A feed: each row by itself, with the job's other sheets; decimal commas and units of a row are its own; what only the whole job can give is said; machines that no row bore are told at the end.
func TestFeedRows(t *testing.T) {
	j := jobText(t, "Machines: Machine=gone", "Readings: Machine=P-1 | Sweep=movable rim | Angle=0 | Reading=0", "Feet: Machine=P-2 | Foot=front 9", "Checks: Machine=P-3 | Check=guard", "Stock: Thickness=0.05 | Pieces on hand=3", "Stock: Thickness=1 | Pieces on hand=3", "Trains: Train=T | Machine=gone | May move=no")
	j.Machines.Name, j.Machines.File = "List", "a.csv"
	f := NewFeed(j)
	if len(f.Problems()) != 0 || f.Evaluator().Len() != 1 {
		t.Error(toldBy(f.Problems()))
	}
	row := func(line int, cells ...string) (*RowResult, Done) {
		f.Begin(line)
		for _, c := range cells {
			k, v, number := strings.Cut(c, "=")
			if strings.HasPrefix(v, "#") {
				v = v[1:]
			} else {
				number = false
			}
			if refused := f.Set(k, v, number); refused != nil {
				return nil, Done{Refused: refused}
			}
		}
		return f.Work()
	}
	given := []string{"Method=line", "Given offset V=#0.3", "Given offset H=#0", "Given slope V=#0", "Given slope H=#0", "Coupling to front feet=#300", "Front to rear feet=#500", "Offset limit=#0.1", "Slope limit=#0.5"}
	r, done := row(7, append([]string{"Machine= p-1"}, given...)...)
	if r == nil || r.Row != 7 || r.Verdict != calc.Outside || done.Verdict != calc.Outside || done.Refused != nil {
		t.Fatalf("%+v %+v", r, done)
	}
	if got := f.WholeJob(r); len(got) != 1 || got[0].String() != words.ProblemFeedShared.String() {
		t.Error(got)
	}
	r, _ = row(8, append([]string{"Machine=P-9", "Train=T"}, given[:5]...)...)
	if got := f.WholeJob(r); len(got) != 1 || got[0].String() != words.ProblemFeedTrain.String() {
		t.Error(got)
	}
	// In the unit that the row says; a comma of the row makes its own points certain.
	r, _ = row(9, append([]string{"Machine=P-9", "Unit=mil"}, change(given, "Given offset V=#10", "Given offset H", "Offset limit=#5")...)...)
	if r == nil || math.Abs(r.Calc.Line.DV-0.254) > 1e-12 && math.Abs(r.Calc.Line.DV-10) > 1e-12 {
		t.Errorf("%+v", r)
	}
	r, _ = row(10, append([]string{"Machine=P-9"}, change(given, "Given offset V=0,3", "Given slope V=#1.234")...)...)
	if r == nil || math.Abs(r.Calc.Line.DV-0.3) > 1e-12 || math.Abs(r.Calc.Line.TV-1.234) > 1e-12 {
		t.Errorf("%+v", r.Calc.Line)
	}
	r, done = row(11, append([]string{"Machine=P-9"}, change(given, "Given offset V=0.3")...)...)
	if r == nil || math.Abs(r.Calc.Line.DV-0.3) > 1e-12 || done.Failed {
		t.Errorf("%+v", r.Calc.Line)
	}
	if _, done = row(12, append([]string{"Machine=P-9"}, change(given, "Given offset V=x")...)...); !done.Failed || done.Verdict != calc.NotJudged {
		t.Errorf("%+v", done)
	}
	if _, done = row(13, "Machine=Total", "Speed=#3"); done.Refused == nil || !strings.Contains(done.Refused.Text.String(), "Total") || done.Refused.Hint.Empty() {
		t.Errorf("%+v", done)
	}
	// Asked about: long brackets without a sag.
	r, _ = row(14, "Machine=P-9", "Coupling to stationary plane=#700", "Coupling to movable plane=#500", "Movable rim 12=#0", "Movable rim 3=#0", "Movable rim 6=#0", "Movable rim 9=#0", "Stationary rim 12=#0", "Stationary rim 3=#0", "Stationary rim 6=#0", "Stationary rim 9=#0")
	if q := f.Questions(r); len(q) != 1 || q[0].Sheet != "List" || q[0].File != "a.csv" || !strings.Contains(q[0].Text.String(), "1200 mm") {
		t.Errorf("%+v", q)
	}
	if r, _ = row(15, append([]string{"Machine=P-2"}, given...)...); f.Questions(r) != nil {
		t.Errorf("%+v", f.Questions(r))
	}
	if got := toldBy(Unnamed(f)); got != "error Checks 2 Machine: \"P-3\" is not on the Machines sheet (write the name as it is there)\n" {
		t.Error(got)
	}
	g := NewFeed(j)
	g.Begin(1)
	g.Set("Machine", "P-3", false)
	g.Work()
	if got := toldBy(Unnamed(f, g)); got != "" {
		t.Error(got)
	}
	if got := toldBy(Unnamed(g)); !strings.Contains(got, "error Readings 2 Machine: \"P-1\"") || !strings.Contains(got, "error Feet 2 Machine: \"P-2\"") || strings.Count(got, "\n") != 2 {
		t.Error(got)
	}
	if Unnamed() != nil {
		t.Error("nobody")
	}
}
