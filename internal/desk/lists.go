package desk

import (
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/sentences"
)

// The stock shared out over a job may take seconds. So the page runs this program a second time, in a worker and out of the code that is compiled
// already, and hands it the job as opRows does it: a head, rows, then opLists. The program in the worker shows nothing and opens no job.

// opListsHead begins to take a job of which only the head is there.
func opListsHead(d *Desk, in *arguments) raw {
	d.listed = new(job.Job)
	if err := d.listed.UnmarshalJSON([]byte(in.text())); err != nil {
		d.listed = nil
		return failure(err.Error())
	}
	return new(object).end()
}

// opListsRows appends rows to one of its sheets.
func opListsRows(d *Desk, in *arguments) raw {
	k, text := in.int(), in.text()
	if d.listed == nil || k < 0 || k >= len(wire) || d.listed.Table(wire[k]) == nil {
		return failure("rows of no sheet")
	}
	t := d.listed.Table(wire[k])
	t.Rows = job.AppendUnpacked(t.Rows, text)
	return new(object).end()
}

// opLists shares the stock out and gives the pick list and the order list as the screen of the shims takes them, and as sharing what opShared takes. Its argument is what is said of
// the time of it. progress is told how far it is.
func opLists(d *Desk, in *arguments) raw {
	when := in.text()
	j := d.listed
	d.listed = nil
	if j == nil {
		return failure("no job has come")
	}
	e := sentences.New(j)
	e.StampSharing(when)
	var all screens.Lists
	for name, to := range map[string]*results.List{"pick": &all.Pick, "order": &all.Order} {
		l, err := results.NewList(e, name, func(done, total int) bool {
			if total > 0 {
				d.progress(float64(done) / float64(total))
			}
			return true
		})
		if err != nil {
			return failure(err.Error())
		}
		*to = *l
	}
	_, all.Assumed = e.Stock()
	return new(object).text("lists", all.Pack()).text("sharing", string(e.AppendSharing(nil))).end()
}

// JobState is another text after every change of the job and for every job.
func (d *Desk) JobState() string { return strconv.Itoa(d.number) + " " + strconv.Itoa(d.changes) }

// opSharing says whether the stock is to be shared out for the packs shown, which are those of a full box until then.
func opSharing(d *Desk, _ *arguments) raw {
	return new(object).yes("wanted", d.ev.WantsSharing()).end()
}

// opShared has the packs shown be those of a sharing-out that a worker made of the job as it is.
func opShared(d *Desk, in *arguments) raw {
	if err := d.ev.TakeSharing(in.text(), in.text()); err != nil {
		return failure(err.Error())
	}
	d.wait()
	return d.answerState()
}

// opNotShared notes why it could not be made.
func opNotShared(d *Desk, in *arguments) raw {
	d.ev.FailSharing(in.text())
	d.wait()
	return d.answerState()
}
