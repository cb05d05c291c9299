package sentences

import (
	"os"
	"path/filepath"
	"testing"

	"shimsheet/internal/job"
)

// demoJob reads the demo job; alone leaves out everything but the Machines sheet.
func demoJob(t testing.TB, alone bool) *job.Job {
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
