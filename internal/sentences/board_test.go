package sentences

import (
	"bytes"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// Every stage, from what stands on the sheets. By the definition in docs/sheets.md.
func TestStages(t *testing.T) {
	inside := ",1480,reverse indicator,100,120,300,600,0,0.01,0.00,-0.01,0,0.01,0.02,0.01,0,0"
	outside := ",1480,reverse indicator,100,120,300,600,0,0.30,0.50,0.20,0,0.10,0.20,0.10,0,0"
	bare := ",1480,reverse indicator,100,120,300,600,,,,,,,,,0,0"
	wrong := ",1480,reverse indicator,100,120,300,600,0,0.30,0.50,0.90,0,0.10,0.20,0.10,0,0"
	head, _, _ := strings.Cut(recordMachines, "\n")
	head = strings.TrimSuffix(head, ",Note") + ",Area,Crew\n"
	rows := []struct{ name, cells, checks, feet, stage string }{
		{"W", bare, "", "", "waiting"},
		{"I", bare, "isolation,,yes", "", "isolated"},
		{"S", outside, "isolation,,yes", "0.4", "soft foot"},
		{"Q", bare, "", "0.4", "soft foot"},
		{"P", outside, "piping movement,0.2,", "", "piping"},
		{"M", outside, "guard,,yes", "", "measured"},
		{"R", outside, "", "", "moving"},
		{"N", inside, "", "", "inside"},
		{"C", inside, "coupling bolts,,yes", "", "coupled"},
		{"G", inside, "guard,,yes", "", "guard on"},
		{"H", inside, "guard,,yes|hot check,,", "", "hot check due"},
		{"F", strings.Replace(inside, ",0.01,0.00,", ",0.01,0;O,", 1), "isolation,,yes", "", "not judged"}, // stood as isolated, as if nobody had read it
		{"X", wrong, "", "", "not judged"},
		{"D", inside, "", "", "signed"},
		{"E", inside, "", "", "changed since signed"},
	}
	m, checks, feet := head, "Machine,Check,Value,Done,Hold\n", "Machine,Foot,Across,Gap\n"
	for k, r := range rows {
		m += r.name + r.cells + ",hall " + string(rune('A'+k%2)) + ",crew 1\n"
		for _, c := range strings.Split(r.checks, "|") {
			if c != "" {
				checks += r.name + "," + c + ",\n"
			}
		}
		if r.feet != "" {
			feet += r.name + ",front 9,-200," + r.feet + "\n" + r.name + ",front 3,200,0\n" + r.name + ",rear 9,-200,0\n" + r.name + ",rear 3,200,0\n"
		}
	}
	checks += "W,permit handed over,,,yes\n"
	j := job.NewJob()
	with(t, j, job.MachinesSheet, m)
	with(t, j, job.ChecksSheet, checks)
	with(t, j, job.FeetSheet, feet)
	with(t, j, job.RoundsSheet, "Machine,Round,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\nR,1,0,0.30,0.50,0.20,0,0.10,0.20,0.10\n")
	for _, name := range []string{"D", "E"} {
		tab, err := New(j).Sign(evaluate.Signing{Machine: name, By: "crew 1", At: "2026-04-12 10:00"})
		if err != nil {
			t.Fatal(err)
		}
		j.SetTable(job.RecordSheet, tab)
	}
	j.Machines.Rows[len(rows)-1][5] = "310"
	e := New(j)
	board := e.Board()
	if len(board) != len(rows) {
		t.Fatal(len(board))
	}
	seen := map[string]bool{}
	for k, b := range board {
		if b.Stage.Word().String() != rows[k].stage {
			t.Errorf("%s is %s, want %s (%s)", b.Machine, b.Stage.Word(), rows[k].stage, b.Why)
		}
		seen[b.Stage.Word().String()] = true
	}
	for _, s := range evaluate.Stages() {
		if !seen[s.Word().String()] {
			t.Errorf("no machine is %s", s.Word())
		}
	}
	if b := board[0]; len(b.Holds) != 1 || b.Holds[0] != "permit handed over" {
		t.Error(b.Holds)
	}
	if g := GroupBoard(board, "area"); len(g) != 2 || g[0].Name != "hall A" || len(g[0].Rows) != 8 || g[1].Count[evaluate.StageInside] != 1 {
		t.Errorf("%+v", g)
	}
	var out bytes.Buffer
	if err := e.ListText(&out, "board"); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"15 machines: 1 waiting, 1 isolated, 2 soft foot", "area hall A: ", "crew crew 1: ", "hold point: permit handed over"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not in\n%s", want, out.String())
		}
	}
}

// A verdict that is too close to call stands on the board with the reading that settles it.
func TestBoardSettles(t *testing.T) {
	j := job.NewJob()
	with(t, j, job.MachinesSheet, strings.Replace(recordMachines, "0.30,0.50,0.20,0,0.10,0.20,0.10", "0.02,0.04,0.02,0,0.04,0.08,0.04", 1))
	tried := false
	for _, limit := range []string{"0.02", "0.03", "0.04", "0.05", "0.06"} {
		with(t, j, job.MachinesSheet, strings.ReplaceAll(strings.Replace(recordMachines, "Note", "Offset limit", 1), ",0,0,\n", ",0,0,"+limit+"\n"))
		e := New(j)
		for _, b := range e.Board() {
			if r := e.Row(b.At); (r.Verdict.String() == "too close to call") != (b.Settle != "") {
				t.Errorf("%s: %s, settles %q", limit, r.Verdict, b.Settle)
			} else if b.Settle != "" {
				tried = true
			}
		}
	}
	if !tried {
		t.Skip("no limit of these is too close to call")
	}
}

// Whoever takes pieces to machines by a list learns there which machines are not judged: the reason stands elsewhere.
func TestListsNameWhatIsNotJudged(t *testing.T) {
	const line = ",line,0.3,0,0,0,200,400,"
	j := job.NewJob()
	with(t, j, job.MachinesSheet, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Sag\n"+
		"A,1480"+line+"\nB,1480"+line+"0.04\nC,"+line+"\nA,1480"+line+"\nD,1480,line,,,,,200,400,\nE,1480,line,0;O,0,0,0,200,400,\n")
	got := strings.Join(New(j).UnjudgedNotes(), "\n")
	want := "Listed though not judged, for a reason that changes no move, which stands with the machine: C, A (row 5).\nNot judged, and nothing of them is listed; the reason stands with the machine: B, E."
	if got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	for _, name := range []string{"pick", "order", "feet"} {
		var out bytes.Buffer
		if err := New(j).ListText(&out, name); err != nil || !strings.Contains(out.String(), want) {
			t.Errorf("%s: %v\n%s", name, err, out.String())
		}
	}
	with(t, j, job.FeetSheet, "Machine,Foot,Across,Gap\nB,front 9,-200,0.4\nB,front 3,200,0\nB,rear 9,-200,0\nB,rear 3,200,0\n")
	want = "Listed though not judged, for a reason that changes no move, which stands with the machine: C, A (row 5).\nNot judged, and listed for soft feet only; the reason stands with the machine: B.\nNot judged, and nothing of them is listed; the reason stands with the machine: E."
	if got := strings.Join(New(j).UnjudgedNotes(), "\n"); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	j = job.NewJob()
	with(t, j, job.MachinesSheet, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\nA,1480,line,0.3,0,0,0\nB,1480,line,,,,\n")
	if list := New(j).UnjudgedNotes(); len(list) > 0 {
		t.Error(list)
	}
}
