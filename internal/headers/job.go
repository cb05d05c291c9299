package headers

import (
	"shimsheet/internal/job"
	"shimsheet/internal/sheet"
)

// OfJob reads headers in somebody's own words as the Job sheet says, and tells of the columns that stay unread which known one they look like.
// It guesses at none: it is for where nobody is there to look at a guess.
func OfJob(j *job.Job) []job.Problem {
	before := sheet.OwnHeaders(j.Settings)
	var told []job.Problem
	for _, k := range job.SheetKinds() {
		t := j.Table(k)
		if t == nil || k == job.SettingsSheet {
			continue
		}
		if t.Header == nil {
			if h := FindHeader(k, t.Rows, before); h >= 0 {
				t.Title, t.Header, t.Rows, t.FirstRow = t.Rows[:h:h], t.Rows[h], t.Rows[h+1:], max(t.FirstRow, 1)+h+1
			}
		}
		ApplyBefore(k, t, before)
		told = append(told, LookAlikes(k, t)...)
	}
	return told
}
