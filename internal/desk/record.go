package desk

import (
	"errors"
	"strings"

	"shimsheet/internal/dates"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/merge"
	"shimsheet/internal/pictures"
	"shimsheet/internal/words"
)

// What the screens of the record, the board and merging ask of the page.

// Now is the time as people read it.
func (d *Desk) Now() string { return d.local().Long() }

// SignTime is the time as a signature has it.
func (d *Desk) SignTime() string { return d.local().Clock() }

// local is what the clock on the wall shows.
func (d *Desk) local() dates.Time {
	now := d.now()
	year, month, day := now.Date()
	return dates.Of(year, int(month), day, now.Hour(), now.Minute())
}

// Chosen is the machine that was looked at last.
func (d *Desk) Chosen() int { return d.machRow }

// AddRecord puts a row behind the others of the Record sheet. columns are keys; a column the sheet lacks is added.
func (d *Desk) AddRecord(name string, columns, texts []string) bool {
	names := make([]string, len(columns))
	for k, key := range columns {
		names[k] = key
		for _, c := range job.Columns() {
			if c.Sheet == job.RecordSheet && c.Key == key {
				names[k] = c.Name
			}
		}
	}
	was := d.kind
	d.kind = job.RecordSheet
	mean := d.meaning()
	d.kind = was
	return d.change(job.RecordSheet, func(g *grid.Model) grid.Change {
		g.Cancel()
		ch, _, _ := g.Put(name, -1, names, [][]string{texts}, mean)
		return ch
	}).Any
}

// Put writes a setting of the Job sheet.
func (d *Desk) Put(setting, text string) {
	d.change(job.SettingsSheet, func(g *grid.Model) grid.Change {
		g.Cancel()
		return g.PutRows(setting, [][]string{{setting, text}})
	})
}

// opPhoto looks at a photo, given as a data URI, before the browser decodes it.
func opPhoto(_ *Desk, in *arguments) raw {
	info, err := pictures.Photo(in.text())
	if err != nil {
		return failure(err.Error())
	}
	return new(object).text("format", info.Format).end()
}

// Mine is the job at hand, as one of the files to be merged.
func (d *Desk) Mine() merge.File {
	j := *d.job
	return merge.File{Name: words.Text("desk.jobAtHand"), Job: &j, Sealed: d.changes == 0}
}

// ReadJob reads a saved page or a job file. The text of a workbook is that of the job which the program for workbook files read from it.
func (d *Desk) ReadJob(name, text string) (merge.File, error) {
	text = strings.TrimPrefix(text, "\ufeff")
	if lower := strings.ToLower(name); strings.HasSuffix(lower, ".html") || strings.HasSuffix(lower, ".htm") {
		job, whole, err := job.JobInPage(text)
		if err != nil {
			return merge.File{}, err
		}
		if !whole {
			return merge.File{}, errors.New(words.Text("desk.pageCutShort"))
		}
		text = strings.Clone(job) // and not the whole page with it
	}
	j := new(job.Job)
	sealed, err := j.OpenChecked(text)
	if err != nil {
		return merge.File{}, err
	}
	return merge.File{Name: name, Job: j, Sealed: sealed}, nil
}

// SetHistory sets older jobs beside the one at hand.
func (d *Desk) SetHistory(list []evaluate.Older) {
	d.older = list
	d.ev.SetHistory(list)
}

// TakeMerged puts the merged job in the place of the one at hand.
func (d *Desk) TakeMerged(p *merge.Plan, name string) error {
	j, err := p.Merged()
	if err != nil {
		return err
	}
	past := append(d.past, step{d.opening, words.Text("desk.merging", name)})
	d.openWith(j, nil)
	d.past = past
	d.changes++
	d.byScreen = grid.Change{Any: true, Header: true}
	return nil
}
