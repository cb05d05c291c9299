package headers

import (
	"slices"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// OfJob reads headers in somebody's own words as the Job sheet says, and tells of the columns that stay unread which known one they look like.
// It guesses at none: it is for where nobody is there to look at a guess.
func OfJob(j *job.Job) []job.Problem {
	before := evaluate.OwnHeaders(j.Settings)
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
		if p, ok := ofShape(k, t, before); ok {
			told = append(told, p)
			continue
		}
		ApplyBefore(k, t, before)
		told = append(told, LookAlikes(k, t)...)
	}
	return told
}

// ofShape tells of a list of machines that is not one machine a row. None of it is read: everything stays where it stood, above the header of a list without rows.
func ofShape(k job.SheetKind, t *job.Table, before []evaluate.OwnHeader) (job.Problem, bool) {
	if k != job.MachinesSheet {
		return job.Problem{}, false
	}
	rows := WholeRows(t)
	shape, straight := ShapeOf(rows, before)
	if shape == ByRows {
		return job.Problem{}, false
	}
	name := t.Name
	if name == "" {
		name = k.String()
	}
	t.Title, t.Header, t.Rows = rows, nil, nil
	return job.Problem{Severity: job.Error, File: t.File, Sheet: name, Col: -1, Text: words.Plain(shape.Sentence()), Hint: words.Plain(HintShape(straight))}, true
}

// WholeRows are the rows of a table with its header and what stands above it.
func WholeRows(t *job.Table) [][]string {
	if t.Header == nil {
		return t.Rows
	}
	return slices.Concat(t.Title, [][]string{t.Header}, t.Rows)
}
