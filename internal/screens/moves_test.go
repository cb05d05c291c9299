package screens

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// movesHost is the demo job, with the sheet Trains to be written.
type movesHost struct {
	ev  *sentences.Teller
	row int
}

func (h *movesHost) Evaluator() *sentences.Teller { return h.ev }
func (h *movesHost) ChosenRow() int               { return h.row }
func (h *movesHost) ChoosePlan(train, plan string) bool {
	t := h.ev.Job().Trains
	for _, r := range t.Rows {
		if r[0] == train {
			r[4] = ""
		}
	}
	t.Rows = append(t.Rows, []string{train, "", "", "", plan, ""})
	h.ev.Refresh()
	return true
}

func demoMoves(t *testing.T) *movesHost {
	t.Helper()
	j := job.NewJob()
	for name, kind := range map[string]job.SheetKind{"machines": job.MachinesSheet, "job": job.SettingsSheet, "stock": job.StockSheet, "feet": job.FeetSheet, "trains": job.TrainsSheet} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		table, _, err := job.ReadDelimited(name+".csv", data, 0)
		if err != nil {
			t.Fatal(err)
		}
		if kind != job.SettingsSheet {
			table.SplitHeader(kind)
		}
		j.SetTable(kind, table)
	}
	return &movesHost{sentences.New(j), -1}
}

// The screen of the trains: the first train, the one of the chosen row, a plan looked at and one chosen, which the rows then speak of.
func TestMoves(t *testing.T) {
	h := demoMoves(t)
	s := NewMoves(h)
	show := func(u Update) string { return region(t, u, "screen-moves").String() }
	got := show(s.Show())
	for _, want := range []string{"<h2>Thickener</h2>", "base-bound", "this room stops the plan", "shared out", "least work", "<svg"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in the first train", want)
		}
	}
	h.row = h.ev.RowOf("Power house, house turbine")
	if got = show(s.Show()); !strings.Contains(got, "<h2>House set</h2>") || !strings.Contains(got, "Take the choice back") || !strings.Contains(got, "Order of House set") {
		t.Error(got[:300])
	}
	if u := s.Event(Event{Name: "train", Arg: "0"}); !strings.Contains(show(u), "<h2>Thickener</h2>") || u.Focus != "moves-train-0" {
		t.Error("another train")
	}
	choices := h.ev.TrainChoices(0)
	shared := -1
	for n := range choices {
		if choices[n].Plan == "shared out" {
			shared = n
		}
	}
	arg := string(rune('0' + shared))
	if got = show(s.Event(Event{Name: "look", Arg: arg})); !strings.Contains(got, "Order of Thickener") {
		t.Error("the plan looked at has no order")
	}
	u := s.Event(Event{Name: "choose", Arg: arg})
	if !u.Changed || !strings.Contains(u.Say, "shared out") || !strings.Contains(show(u), "Take the choice back") {
		t.Errorf("%+v", u.Say)
	}
	if p := h.ev.Trains()[0]; !p.Chosen || p.Plan != "shared out" {
		t.Errorf("%+v", p.Plan)
	}
	if r := h.ev.Row(h.ev.RowOf("Sludge hall, thickener pump motor")); r.Plan == nil || r.Plan.Name != "shared out" {
		t.Error("the row does not follow the plan")
	}
	if u = s.Event(Event{Name: "back"}); !u.Changed || h.ev.Trains()[0].Chosen {
		t.Error("the choice is not taken back")
	}
	if u = s.Event(Event{Name: "print"}); !u.Print {
		t.Error("nothing is printed")
	}
	if p := region(t, s.Event(Event{Name: "paper"}), "paper").String(); !strings.Contains(p, "Thickener") || !strings.Contains(p, "<svg") || !strings.Contains(p, "lock") {
		t.Error("the paper lacks something", p)
	}
	// A job without trains says how to make one.
	none := NewMoves(&movesHost{sentences.New(job.NewJob()), -1})
	if got = show(none.Show()); !strings.Contains(got, "No row of the Machines sheet has a train") {
		t.Error(got)
	}
}
