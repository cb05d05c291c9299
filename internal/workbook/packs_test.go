package workbook

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/sentences"
)

// TestWorkbookHasTheSharedPacks: Results and Pick list hold the pieces that the shared-out stock gives each foot, and say where they come from. Results once held those
// of a full box, since it was written before the stock was shared out.
func TestWorkbookHasTheSharedPacks(t *testing.T) {
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
	for _, live := range []bool{false, true} {
		ev := sentences.New(j)
		if err := ev.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		out, err := Write(j, ev, Options{Live: live})
		if err != nil {
			t.Fatal(err)
		}
		f, err := excelize.OpenReader(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		chosen := map[string]map[string]evaluate.Picked{}
		for i := range ev.Len() {
			for _, p := range ev.Packs(i) {
				if chosen[p.Machine] == nil {
					chosen[p.Machine] = map[string]evaluate.Picked{}
				}
				chosen[p.Machine][p.Foot] = p
			}
		}
		const from = "from the stock shared out over the whole job"
		results, err := f.GetRows("Results")
		if err != nil {
			t.Fatal(err)
		}
		head, text := []string(nil), ""
		rows := 0
		for _, row := range results {
			if len(row) > 0 && row[0] == "Machine" {
				head = row
				continue
			}
			if head == nil {
				text += strings.Join(row, " ") + "\n"
				continue
			}
			for c, h := range head {
				pair, ok := map[string]string{"Front pack [mm]": "front", "Rear pack [mm]": "rear"}[h]
				if !ok || c >= len(row) || chosen[row[0]] == nil {
					continue
				}
				for _, side := range []string{"9", "3"} {
					p, ok := chosen[row[0]][pair+" "+side]
					if !ok {
						continue
					}
					rows++
					if do := ev.PickDo(&p); row[c] != do && !strings.Contains(row[c]+";", side+": "+do+";") {
						t.Errorf("Results, %s, %s: %q, want %q", row[0], p.Foot, row[c], do)
					}
				}
			}
		}
		if !strings.Contains(text, from) || rows < 30 {
			t.Errorf("%d packs in Results, which says %q", rows, text)
		}
		list, err := f.GetRows("Pick list")
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, row := range list {
			p, ok := evaluate.Picked{}, false
			if len(row) > 6 {
				p, ok = chosen[row[0]][row[1]]
			}
			if !ok {
				continue
			}
			n++
			put, then := string(ev.AppendPieces(nil, evaluate.NewPieces(&p.Change))), string(ev.AppendPieces(nil, p.Pieces))
			if p.Change.Status == packs.ChangeUnlisted {
				put, then = "", ""
			}
			if row[5] != put || row[6] != then {
				t.Errorf("Pick list, %s, %s: %q and %q, want %q and %q", row[0], row[1], row[5], row[6], put, then)
			}
			if p.Together != strings.Contains(row[2], "chosen together") {
				t.Errorf("Pick list, %s, %s: %q", row[0], row[1], row[2])
			}
			if row[0] == "H tiny" && (len(row) < 11 || row[9] != "" || row[10] != "leave") {
				t.Errorf("Pick list, %s: %q", row[0], row)
			}
		}
		if n < 30 || !strings.Contains(list[1][0], from) {
			t.Errorf("%d feet in the pick list, which says %q", n, list[1])
		}
	}
}
