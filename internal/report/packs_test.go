package report

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/sentences"
)

// TestDrawingsShowTheSharedPacks: under each view of a machine stand the pieces that the shared-out stock gives each foot, and the plan of the feet says where
// they come from.
func TestDrawingsShowTheSharedPacks(t *testing.T) {
	j := job.NewJob()
	for kind, name := range map[job.SheetKind]string{job.MachinesSheet: "machines", job.StockSheet: "stock", job.FeetSheet: "feet", job.SettingsSheet: "job"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "packs", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		table, _, err := job.ReadDelimited(kind.String(), data, 0)
		if err != nil {
			t.Fatal(err)
		}
		table.SplitHeader(kind)
		j.SetTable(kind, table)
	}
	ev := sentences.New(j)
	if err := ev.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	if _, err := ev.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	seen, together := 0, 0
	for i := range ev.Len() {
		r := ev.Row(i)
		drawn := string(Machine(nil, ev, i, Options{Width: 900, Prefix: "m"}))
		plan := string(FeetPlan(nil, ev, i, Options{Width: 900, Prefix: "f"}))
		for _, p := range ev.Packs(i) {
			if len(p.Pieces) < 2 || p.Bolt >= 0 {
				continue
			}
			seen++
			where, want := drawn, string(ev.AppendPieces(nil, p.Pieces))
			if p.Change.Status == packs.ChangeUnlisted {
				want = "take out " + string(ev.AppendPack(nil, p.Sum))
			} else if p.Single >= 0 {
				where, want = plan, ev.PickDo(&p)
			}
			if p.Status.Short() && !strings.Contains(where, p.Status.String()) {
				t.Errorf("%s, %s: nothing says that it is %s", r.Name, p.Foot, p.Status)
			}
			if !strings.Contains(where, want) {
				t.Errorf("%s, %s: %q is not drawn", r.Name, p.Foot, want)
			}
		}
		if r.Feet != nil && !strings.Contains(plan, "from the stock shared out over the whole job") {
			t.Errorf("%s: the plan of the feet does not say where the packs come from", r.Name)
		}
		if r.Together && r.Feet == nil {
			together++
			if strings.Count(drawn, "chosen together") < 2 { // front and rear
				t.Errorf("%s: nothing under its feet says that the packs were chosen together", r.Name)
			}
		}
		if !r.Together && strings.Contains(drawn, ">chosen together<") {
			t.Errorf("%s: packs chosen together are said where none were", r.Name)
		}
		if r.Together && !strings.Contains(drawn+plan, "chosen together") {
			t.Errorf("%s: nothing says that the packs were chosen together", r.Name)
		}
		if strings.HasPrefix(r.Name, "H tiny") && strings.Count(drawn, ">leave<") != 2 {
			t.Errorf("%s: a move smaller than its own ± is not left", r.Name)
		}
	}
	if together == 0 {
		t.Error("no packs were chosen together")
	}
	if seen < 15 {
		t.Errorf("only %d packs were looked for", seen)
	}
}
