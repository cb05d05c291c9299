package screens

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// demoJob is the demo, worked out and with its stock shared out.
func demoJob(t testing.TB) *sentences.Teller {
	t.Helper()
	j := job.NewJob()
	for name, kind := range map[string]job.SheetKind{"machines": job.MachinesSheet, "readings": job.ReadingsSheet, "job": job.SettingsSheet, "stock": job.StockSheet, "growth": job.GrowthSheet,
		"feet": job.FeetSheet, "limits": job.LimitsSheet, "materials": job.MaterialsSheet, "checks": job.ChecksSheet, "rounds": job.RoundsSheet} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		table, _, err := job.ReadDelimited(name, data, 0)
		if err != nil {
			t.Fatal(err)
		}
		if kind != job.SettingsSheet {
			table.SplitHeader(kind)
		}
		j.SetTable(kind, table)
	}
	ev := sentences.New(j)
	ev.Count()
	if _, err := ev.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	return ev
}

type cardsHost struct {
	ev   *sentences.Teller
	rows []int
}

func (h *cardsHost) Evaluator() *sentences.Teller { return h.ev }
func (h *cardsHost) ShownMachines() []int         { return h.rows }
func (h *cardsHost) ChosenRow() int               { return h.rows[1] }

var tags = regexp.MustCompile(`<[^>]*>`)

// The screen prints a card for each machine that is chosen and no other, in order or by crew; each card has what a crew has to have in hand.
func TestCardsScreen(t *testing.T) {
	ev := demoJob(t)
	h := &cardsHost{ev: ev}
	for i := range ev.Len() {
		if ev.Row(i).Kind == evaluate.MachineRow {
			h.rows = append(h.rows, i)
		}
	}
	s := NewCards(h)
	cards := func() []string {
		u := s.Event(Event{Name: "paper"})
		if len(u.Regions) != 1 || u.Regions[0].ID != "paper" {
			t.Fatalf("%+v", u)
		}
		return strings.Split(u.Regions[0].Content.String(), "<section")[1:]
	}
	all := cards()
	if len(all) != len(h.rows) {
		t.Fatalf("%d cards for %d machines", len(all), len(h.rows))
	}
	for k, i := range h.rows {
		text := tags.ReplaceAllString(all[k], "|")
		for _, want := range []string{ev.Row(i).Name, "Isolated, locked, tagged and tried", "Stand behind", "Soft feet", "Readings in", "Tighten", "Cautions", "aligned: name", "witnessed: name", "accepted: name", "Work order"} {
			if !strings.Contains(strings.ReplaceAll(text, "&#39;", "'"), strings.ReplaceAll(want, "&", "&amp;")) && !(want == "Soft feet" && ev.Row(i).OnFlange) {
				t.Errorf("the card of %s lacks %q", ev.Row(i).Name, want)
			}
		}
		for _, p := range ev.Packs(i) {
			for _, x := range p.Put {
				if s := string(ev.AppendPack(nil, x)); !strings.Contains(text, "|"+s+"|") && p.Bolt < 0 {
					t.Errorf("the card of %s lacks the piece %s under %s", ev.Row(i).Name, s, p.Foot)
				}
			}
		}
	}
	s.Event(Event{Name: "one"})
	if got := cards(); len(got) != 1 || !strings.Contains(got[0], "Card of "+ev.Row(h.rows[1]).Name) {
		t.Errorf("%d cards of the one chosen", len(got))
	}
	s.Event(Event{Name: "none"})
	if got := cards(); len(got) != 0 {
		t.Errorf("%d cards of none", len(got))
	}
	s.Event(Event{Name: "open"})
	s.Event(Event{Name: "by", Value: "crew"})
	s.Event(Event{Name: "size", Value: "letter"})
	if got := cards(); len(got) == 0 || len(got) >= len(all) || !strings.Contains(got[0], `class="card letter"`) {
		t.Errorf("%d cards of those to be moved, %.60s", len(got), got)
	}
}

// The list on paper says of every machine the pieces and pushes that the evaluator says, the side before the number; a machine that stays has none.
func TestListPaper(t *testing.T) {
	ev := demoJob(t)
	var rows []int
	for i := range ev.Len() {
		if ev.Row(i).Kind == evaluate.MachineRow {
			rows = append(rows, i)
		}
	}
	lines := strings.Split(ListPaper(ev, rows, "Job", "today").String(), "<tr>")[2:]
	if len(lines) != len(rows) {
		t.Fatalf("%d lines for %d machines", len(lines), len(rows))
	}
	pushes := 0
	for k, i := range rows {
		text := tags.ReplaceAllString(lines[k], "|")
		r := ev.Row(i)
		todo := ev.Todo(i)
		if r.Stays() && len(todo.Feet) == 0 {
			if !strings.Contains(text, "|stays|") || strings.Contains(text, "put in") {
				t.Errorf("%s: %s", r.Name, text)
			}
			continue
		}
		if len(todo.Bolts) > 0 || todo.Missing != "" {
			continue
		}
		for _, p := range todo.Pushes {
			want := "leave"
			if p.Towards != 0 {
				want = strings.TrimPrefix(p.Side, "the ") + " " + p.Number
				pushes++
			}
			if !strings.Contains(text, "|"+want+"|") {
				t.Errorf("%s: %q is not in %s", r.Name, want, text)
			}
		}
	}
	if pushes < 15 {
		t.Errorf("only %d pushes", pushes)
	}
}
