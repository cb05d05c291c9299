package workbook

import (
	"shimsheet/internal/job"
)

// lookOrder is the order in which sheets without one of our names are tried; of equally good ones the first is taken.
var lookOrder = [...]job.SheetKind{job.RoundsSheet, job.ReadingsSheet, job.GrowthSheet, job.FeetSheet, job.LimitsSheet, job.MaterialsSheet, job.ChecksSheet, job.TrainsSheet, job.RecordSheet, job.MachinesSheet, job.StockSheet}

// marks are the columns by which the small sheets are told from a list of machines, whose names they share. Every one of all has to be there, and
// one of any.
var marks = map[job.SheetKind]struct{ all, any []string }{
	job.GrowthSheet:    {[]string{"machine", "support"}, []string{"height", "running", "growth_v", "coefficient"}},
	job.FeetSheet:      {[]string{"machine", "foot"}, []string{"along", "across", "rise", "gap", "corner_front_9", "pack_in_place"}},
	job.LimitsSheet:    {[]string{"set", "coupling", "slope"}, []string{"offset", "up_to_speed"}},
	job.MaterialsSheet: {[]string{"material", "coefficient"}, []string{"from", "at_temperature", "uncertainty", "source"}},
	job.TrainsSheet:    {[]string{"train", "machine"}, []string{"may_move", "effort"}},
	job.RecordSheet:    {[]string{"machine"}, []string{"signed_by", "signed_at", "digest", "instrument", "deviation"}},
	job.RoundsSheet:    {[]string{"machine", "round"}, []string{"struck", "done", "front_shim_done", "rear_shim_done", "movable_rim_12", "movable_rim_6", "face_12", "movable_sweep", "given_offset_v", "gap_12"}},
	job.ChecksSheet:    {[]string{"machine", "check"}, []string{"value", "limit", "done"}},
}

// marksOf says whether columns with these keys make a sheet of the kind, and how much that counts: all it has, against a few of many.
func marksOf(k job.SheetKind, seen map[string]bool) (extra int, ok bool) {
	m := marks[k]
	for _, key := range m.all {
		if !seen[key] {
			return 0, false
		}
	}
	for _, key := range m.any {
		if seen[key] {
			return 3, true
		}
	}
	return 0, false
}

// otherTables writes the job's tables besides Job and Machines.
func (w *writer) otherTables() {
	for _, k := range job.SheetKinds() {
		if k != job.MachinesSheet && k != job.SettingsSheet && w.job.Table(k) != nil {
			w.table(k, k.String())
		}
	}
}

// meant says whether a sheet with the name of a kind is one. Limits, materials, growth and feet are words for other lists too, so in somebody's
// workbook such a sheet has to have the columns, unless it is empty but for its head.
func (l *loaded) meant(k job.SheetKind, s *loadedSheet) bool {
	if _, small := marks[k]; !small || l.preview.Own {
		return true
	}
	names := job.HeaderNames(s.g.rows, k)
	if names == nil {
		return false
	}
	seen := map[string]bool{}
	for _, cell := range names {
		if c := job.FindColumn(k, cell); c != nil {
			seen[c.Key] = true
		}
	}
	n := 0
	for _, key := range marks[k].all {
		if seen[key] {
			n++
		}
	}
	return n == len(marks[k].all) || n == len(marks[k].all)-1 && len(seen) >= 3
}
