package desk

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/journal"
)

// What the scripts write into the browser's storage comes from here, and goes back through here: whole copies of a job now and then, and a record of each
// change (see package journal). A copy is a head, which is a job as JSON, with or without rows, and packed rows to append to its sheets.

// opRecord is what changed since it was asked last, "" for nothing: plain text, no JSON.
func opRecord(d *Desk, _ *arguments) raw {
	d.writeViews()
	text := d.told.Next(d.job)
	if text != "" {
		d.source = "" // what is told from now on does not go onto that
	}
	return raw(text)
}

// wholeCells is how many cells a job may have to be handed over in one go.
const wholeCells = 30_000

// opWholeCopy begins a whole copy. A job as it was opened gives the text it was opened from, and the records go on from that; a small one its text as it is
// now. A large one gives its head, and its rows as they are now by opWholeRows; records go on from now.
func opWholeCopy(d *Desk, in *arguments) raw {
	asOpened := in.yes()
	if asOpened && d.source != "" {
		return new(object).text("head", d.source).end()
	}
	d.writeViews()
	d.told = journal.New(d.job)
	cells := 0
	for _, k := range wire {
		if t := d.job.Table(k); t != nil {
			cells += len(t.Rows) * (t.Width() + 1)
		}
	}
	if cells <= wholeCells {
		text, err := d.job.MarshalJSON()
		if err != nil {
			return failure(err.Error())
		}
		return new(object).text("head", string(text)).end()
	}
	head, err := d.head()
	if err != nil {
		return failure(err.Error())
	}
	j := journal.Freeze(d.job)
	d.snapshot = &j
	d.freezes++
	return new(object).text("head", string(head)).int("turn", d.freezes).int("tables", len(wire)).end()
}

// opWholeRows is some rows of the whole copy that was begun, as opRows gives them. Another one begun meanwhile ends it.
func opWholeRows(d *Desk, in *arguments) raw {
	turn, k, from, cells := in.int(), in.int(), in.int(), in.int()
	if turn != d.freezes || d.snapshot == nil {
		return new(object).yes("gone", true).end()
	}
	answer := rowsOf(d.snapshot, k, from, cells)
	if k == len(wire)-1 && strings.Contains(string(answer), `"next":-1`) {
		d.snapshot = nil
	}
	return answer
}

// opCopyBegin begins to bring a copy back: with its head.
func opCopyBegin(d *Desk, in *arguments) raw {
	j := new(job.Job)
	if err := j.Open(in.utf8()); err != nil {
		d.copied = nil
		return failure(err.Error())
	}
	d.copied = j
	return new(object).end()
}

var errNoCopy = errors.New("no copy is being brought back")

// opCopyRows appends rows to one of its sheets.
func opCopyRows(d *Desk, in *arguments) raw {
	k, text := in.int(), in.text()
	if d.copied == nil || k < 0 || k >= len(wire) || d.copied.Table(wire[k]) == nil {
		return failure(errNoCopy.Error())
	}
	t := d.copied.Table(wire[k])
	t.Rows = job.AppendUnpacked(t.Rows, text)
	return new(object).end()
}

// opCopyRecord puts a change over it.
func opCopyRecord(d *Desk, in *arguments) raw {
	text := in.text()
	if d.copied == nil {
		return failure(errNoCopy.Error())
	}
	if err := journal.Apply(d.copied, text); err != nil {
		return failure(err.Error())
	}
	return new(object).end()
}

// opCopyCompare compares the job on the page (a) with the copy (b), and lists up to a number of differences.
func opCopyCompare(d *Desk, in *arguments) raw {
	most := in.int()
	if d.copied == nil {
		return failure(errNoCopy.Error())
	}
	diff := journal.Compare(d.job, d.copied, most)
	var list [][]string
	number := func(row int) string {
		if row == 0 {
			return ""
		}
		return strconv.Itoa(row)
	}
	for _, x := range diff.List {
		list = append(list, []string{x.Sheet.String(), number(x.RowA), number(x.RowB), x.Name, x.Column, x.A, x.B})
	}
	older := d.copied.SavedAt != "" && slices.Contains(d.job.SavedBefore, d.copied.SavedAt)
	return new(object).int("changed", diff.Changed).int("cells", diff.Cells).int("onlyA", diff.OnlyA).int("onlyB", diff.OnlyB).yes("before", older).rows("list", list).
		text("name", nameOf(d.copied)).int("revision", d.copied.Revision).end()
}

// nameOf is the name of a job that is not on the page.
func nameOf(j *job.Job) string {
	t := j.Table(job.SettingsSheet)
	if t == nil {
		return ""
	}
	for r := range t.Rows {
		if c := job.FindColumn(job.SettingsSheet, t.Cell(r, 0)); c != nil && c.Key == "name" && strings.TrimSpace(t.Cell(r, 1)) != "" {
			return strings.TrimSpace(t.Cell(r, 1))
		}
	}
	return ""
}

// opCopyOpen opens the copy.
func opCopyOpen(d *Desk, _ *arguments) raw {
	j := d.copied
	if j == nil {
		return failure(errNoCopy.Error())
	}
	d.copied = nil
	d.open(j)
	return d.answerState()
}

// opCopyText is the copy as it would be saved.
func opCopyText(d *Desk, _ *arguments) raw {
	if d.copied == nil {
		return failure(errNoCopy.Error())
	}
	text, err := d.copied.Seal()
	if err != nil {
		return failure(err.Error())
	}
	return new(object).text("text", string(text)).end()
}

// openText opens the text of a job. A damaged one is refused, unless anyway: then it is opened as far as it can be read.
// name, if there is one, stands before what is wrong; whole is false if the page around it is cut short.
func (d *Desk) openText(name, text string, whole, anyway bool) raw {
	if name != "" {
		name += ": "
	}
	j := new(job.Job)
	sealed, err := job.CheckSeal(text)
	if err != nil && !anyway {
		return new(object).text("error", name+err.Error()).yes("damaged", true).end()
	}
	if err := j.Open(text); err != nil {
		return failure(name + err.Error())
	}
	d.open(j)
	d.source = text
	return d.state(grid.Change{}).yes("sealed", sealed).yes("whole", whole).end()
}

// opOpenJob opens the text of a job; with true behind it also a damaged one.
func opOpenJob(d *Desk, in *arguments) raw {
	text := in.utf8()
	anyway := in.more() && in.yes()
	return d.openText("", text, true, anyway)
}

// opOpenFile opens a saved page or a job, likewise.
func opOpenFile(d *Desk, in *arguments) raw {
	name, text := in.text(), in.utf8()
	anyway := in.more() && in.yes()
	whole := true
	if strings.HasPrefix(strings.TrimLeft(text, "\ufeff \t\r\n"), "<") {
		var err error
		if text, whole, err = job.JobInPage(text); err != nil {
			return failure(name + ": " + err.Error())
		}
	}
	return d.openText(name, strings.TrimPrefix(text, "\ufeff"), whole, anyway)
}
