package frame

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/screens"
)

// A file from elsewhere as the program for workbook files says it: a list of one pump under headers of which one was matched.
const preview = `{"preview":{"format":"xlsx","sheets":[{"name":"Machines","kind":"machines","rows":1,"columns":[]}],"notices":[],"learnt":[{"sheet":"Machines","header":"Tag","means":"machine"}]},"rows":[1,0,0,0,0,0,0,0,0,0,0,0]}`

// parts is the job of that file as it comes: its head, then the rows.
func parts() []part {
	j := job.NewJob()
	t := &job.Table{Name: "Machines", Header: []string{"Machine", "Speed [1/min]"}, FirstRow: 2}
	j.SetTable(job.MachinesSheet, t)
	head, err := j.MarshalJSON()
	if err != nil {
		panic(err)
	}
	return []part{{head: string(head)}, {table: 0, rows: string(job.AppendPacked(nil, [][]string{{"Fan 7", "990"}}))}}
}

// big is a file that is too large to be read.
type big struct{ fakeFile }

func (big) Size() float64 { return 200e6 + 1 }

type justFits struct{ fakeFile }

func (justFits) Size() float64 { return 200e6 }

// busy is what a dialog says of what is being done.
func (b *fake) busy(dialog string) string {
	if b.shown(dialog+"-busy") == "" {
		return ""
	}
	return b.text[dialog+"-busy-said"] + " " + b.values[dialog+"-busy-far"]
}

// A file from elsewhere is read in its dialog, which says so; what it holds is shown, and taken it is a step that can be undone.
func TestTakeFromElsewhere(t *testing.T) {
	f, b := withList(t)
	b.preview, b.parts = preview, parts()
	said := ""
	b.reading = func() { said = b.busy("open") + "|" + b.has("open-body", "aria-busy") + "|" + b.dialog }
	if did := b.moves(func() { f.Open(fakeFile{"list.xlsx", "PK"}) }); !strings.HasPrefix(did, "stop worker") {
		t.Error(did)
	}
	b.want(t, "while it is read", said, "Reading list.xlsx … |true|dlg-open")
	b.want(t, "when it has been read", b.busy("open")+"|"+b.has("open-body", "aria-busy")+"|"+b.has("open-take", "disabled"), "|off|off")
	b.want(t, "how far", strings.Join(b.halfway, " ")+" "+b.values["open-busy-far"], "0.25 0")
	if s := b.html["open-body"] + b.html["open-what"]; !strings.Contains(s, "Machines") {
		t.Error(s)
	}
	said = ""
	b.taking = func() { said += b.busy("open") + "|" + b.has("open-take", "disabled") + "; " }
	b.did = nil
	f.Do("takeFile")
	if f.state != b.view {
		t.Errorf("the sheet shows %+v", b.view)
	}
	b.want(t, "while it is taken", said, "Taking the rows … 0|; Taking the rows … 0|; ")
	b.want(t, "put in place", b.text["open-busy-said"], "Putting the job in place …")
	if did := strings.Join(b.did, ", "); !strings.Contains(did, "stop worker") || !strings.HasSuffix(did, "layout, draw, sheet top") {
		t.Error(did)
	}
	b.text["cell-where"] = ""
	b.turn()
	b.want(t, "the dialog", b.dialog+"|"+b.busy("open")+"|"+b.focus, "||sheet")
	b.want(t, "told", b.text["status"]+"|"+b.text["undo"], "list.xlsx is open: 1 row. Ctrl+Z brings back the job before.|Undo opening of list.xlsx")
	b.want(t, "remembered", b.kept[headersKey], `[["Machines","Tag","machine"]]`)
	if l := b.made[len(b.made)-1]; b.text["cell-where"] == "" || b.text["counts"] != "1 coupling: 1 not judged" || len(l.records) == 0 || l.hooks.Facts().Handed {
		t.Errorf("cell %q, counts %q, %d records", b.text["cell-where"], b.text["counts"], len(l.records))
	}
	if f.file != nil {
		t.Error("the file is still in the dialog")
	}
	f.Do("undo")
	b.turn()
	b.want(t, "undone", f.second(t), "Pump 2")
}

// The dialog says what is on the page that no file has.
func TestReadingKnowsOfUnsaved(t *testing.T) {
	f, b := withList(t)
	b.preview = preview
	f.Open(fakeFile{"list.xlsx", "PK"})
	unsaved := b.html["open-body"] + b.html["open-what"] + b.html["open-foot"]
	b.dialog = ""
	f.DialogClosed("dlg-open")
	f.Do("json")
	f.Open(fakeFile{"list.xlsx", "PK"})
	if saved := b.html["open-body"] + b.html["open-what"] + b.html["open-foot"]; saved == unsaved {
		t.Error("it says the same of a job that is saved")
	}
}

// What is chosen while a file is being read has it read once more, with the last choice; another file, or the dialog's end, leaves what comes of it alone.
func TestReadOnceMore(t *testing.T) {
	f, b := withList(t)
	b.preview = preview
	b.reading = func() {
		b.reading = nil
		f.reread(`["first"]`)
		f.reread(`["second"]`)
	}
	f.Open(fakeFile{"list.xlsx", "PK"})
	b.want(t, "choices", strings.Join(b.read, " "), f.Choices("")+" "+f.Choices(`["second"]`))
	b.want(t, "of the file", strings.Join(b.previewed, " "), "list.xlsx")
	f.reread(`["third"]`)
	if len(b.read) != 3 || b.read[2] != f.Choices(`["third"]`) || f.file.wanted != "" || f.file.reading {
		t.Error(b.read)
	}
	f.Apply("open", &screens.Update{Reread: &screens.FileChoices{}})
	if len(b.read) != 4 {
		t.Error("the dialog's own choice has it not read once more")
	}
	// the dialog is closed meanwhile
	b.html["open-body"] = "closed"
	b.reading = func() {
		b.reading = nil
		b.want(t, "how far again", b.busy("open"), "Reading list.xlsx … ")
		b.dialog = ""
		f.DialogClosed("dlg-open")
	}
	stops := b.stopped
	f.reread(`["fourth"]`)
	b.want(t, "nothing is shown", b.busy("open")+"|"+b.dialog+"|"+b.html["open-body"], "||")
	b.want(t, "told", b.text["status"], "list.xlsx was not opened; nothing is changed.")
	if b.stopped != stops+1 {
		t.Error("the worker goes on")
	}
	b.text["status"] = ""
	f.DialogClosed("dlg-open") // once more
	b.want(t, "told once", b.text["status"], "")
	n := len(b.read)
	f.reread("[]")
	f.Do("takeFile")
	if len(b.read) != n || b.has("open-take", "disabled") != "off" || f.second(t) != "Pump 2" {
		t.Error("a file was read or taken that is not there")
	}
	// what was stopped is not told as a failure
	b.readFails = ErrStopped
	b.html["open-body"] = ""
	f.Open(fakeFile{"list.xlsx", "PK"})
	if strings.Contains(b.html["open-body"], "cannot") || strings.Contains(b.html["open-body"], "Stopped") {
		t.Error(b.html["open-body"])
	}
	// the end of a dialog that is open for the next file already
	b.dialog = "dlg-open"
	mine := f.file
	if f.DialogClosed("dlg-open"); f.file != mine {
		t.Error("the next file was put away")
	}
	b.dialog = "dlg-open"
	stopped := b.stopped
	if f.DialogClosed("dlg-workbook"); b.stopped != stopped {
		t.Error("the worker of the other dialog was ended")
	}
	b.dialog = ""
	if f.DialogClosed("dlg-workbook"); b.stopped != stopped+1 {
		t.Error("the worker goes on")
	}
	f.DialogClosed("dlg-help")
}

// A file that is too large, rows that are not taken, a worker that fails: the dialog says so, and the job at hand stays.
func TestNotTaken(t *testing.T) {
	f, b := withList(t)
	b.preview, b.parts = preview, parts()
	f.Open(big{fakeFile{"huge.xlsx", "PK"}})
	if s := b.html["open-body"]; !strings.Contains(s, "The file has 200 MB, which is too much for this page.") || len(b.read) > 0 || b.busy("open") != "" {
		t.Error(s, b.read)
	}
	closed := func() { b.dialog = ""; f.DialogClosed("dlg-open") }
	closed()
	f.Open(justFits{fakeFile{"large.xlsx", "PK"}})
	if len(b.read) != 1 {
		t.Error("a file that is not too large was not read")
	}
	for what, spoil := range map[string]func(){
		"The page&#39;s program did not take the rows.": func() { b.parts = []part{{head: "{"}} },
		"The disk is full.":                             func() { b.taking = func() { b.readFails = errDisk } },
		"The page&#39;s program did not take the job.":  func() { b.preview = strings.Replace(preview, `"rows":[1`, `"rows":[2`, 1) },
	} {
		closed()
		b.readFails, b.parts, b.preview, b.taking = nil, parts(), preview, nil
		spoil()
		f.Open(fakeFile{"list.xlsx", "PK"})
		f.Do("takeFile")
		s := strings.ReplaceAll(b.html["open-body"], "'", "&#39;")
		if !strings.Contains(s, what) || b.dialog != "dlg-open" || b.busy("open") != "" || f.second(t) != "Pump 2" || b.focus != "open-cancel" {
			t.Errorf("%s: %s; dialog %q, busy %q", what, s, b.dialog, b.busy("open"))
		}
	}
	// the dialog is left while the rows come
	closed()
	b.readFails, b.parts, b.preview = nil, parts(), preview
	f.Open(fakeFile{"list.xlsx", "PK"})
	rows := 0
	b.taking = func() {
		if rows++; rows == 2 { // the last of them
			closed()
		}
	}
	f.Do("takeFile")
	b.turn()
	b.want(t, "left", f.second(t)+"|"+b.busy("open"), "Pump 2|")
	b.readFails = errDisk
	f.Open(fakeFile{"list.xlsx", "PK"})
	if s := b.html["open-body"]; !strings.Contains(s, "The disk is full.") || b.has("open-body", "aria-busy") != "off" {
		t.Errorf("%s, busy %q", s, b.has("open-body", "aria-busy"))
	}
}

// The dialog of a workbook: what it says while one is written, and that it can be tried again.
func TestWorkbookDialog(t *testing.T) {
	f, b := withList(t)
	b.attributes["workbook-save disabled"] = ""
	b.text["workbook-said"] = "old"
	f.at(t, 0, "note")
	f.typeIn(b, "typed before")
	if did := b.moves(func() { f.Do("workbook") }); !strings.Contains(did, "prepare false") || b.open { // the job as it is with what was typed
		t.Error(did, b.open)
	}
	f.Act("duplicateRows") // nothing a person can do while the dialog is open
	if did := b.moves(func() { f.Do("writeWorkbook") }); !strings.Contains(did, "stop worker") {
		t.Error("a workbook of another state would have been handed over:", did)
	}
	f.Do("workbook")
	f.prepared.of = new(saving) // another job with as many changes
	if did := b.moves(func() { f.Do("writeWorkbook") }); !strings.Contains(did, "stop worker") {
		t.Error("a workbook of another job would have been handed over:", did)
	}
	f.Do("workbook")
	b.attributes["workbook-save disabled"] = ""
	b.text["workbook-said"] = "old"
	if did := b.moves(func() { f.Do("workbook"); f.Do("writeWorkbook") }); strings.Contains(did, "stop worker") || b.values["workbook-live"] == "true" {
		t.Error("what was made ahead is made again:", did)
	}
	f.Do("workbook")
	state := func() string {
		return strings.Join([]string{b.dialog, b.busy("workbook"), b.text["workbook-said"], b.has("workbook-said", "class"), b.has("workbook-save", "disabled"), b.has("workbook-add", "disabled"), b.has("workbook-live", "disabled"), b.focus}, "|")
	}
	b.want(t, "open", state(), "dlg-workbook||||off|off|off|workbook-save")
	said := ""
	b.writing = func() { said = state() }
	f.Do("writeWorkbook")
	b.want(t, "while it is written", said, "dlg-workbook|Writing the workbook … 0||||||workbook-cancel")
	b.want(t, "how far", b.values["workbook-busy-far"], "0.25")
	b.want(t, "written", b.dialog+"|"+b.focus+"|"+b.text["status"], "|sheet|-rev0.xlsx was handed to the browser. Look in your downloads that it arrived. It holds the job too and can be opened here.")
	b.turn()
	// one's own
	f.Do("workbook")
	f.WriteWorkbook(fakeFile{"my.xlsx", ""})
	b.want(t, "while it is written", said, "dlg-workbook|Adding the results to a copy of my.xlsx … 0||||||workbook-cancel")
	b.want(t, "written", b.handed[0]+"|"+b.handed[1]+"|"+b.handed[2], "my with results.xlsx|application/vnd.openxmlformats-officedocument.spreadsheetml.sheet|workbook true false")
	f.Do("workbook")
	f.WriteWorkbook(fakeFile{"no.ending", ""})
	b.want(t, "without an ending", b.handed[0], "no.ending with results.xlsx")
	// failures
	f.Do("workbook")
	b.handed, said = nil, ""
	f.WriteWorkbook(big{fakeFile{"huge.xlsx", ""}})
	b.want(t, "too large", state(), "dlg-workbook||huge.xlsx: nothing was added. The file has 200 MB, which is too much for this page.|refused|off|off|off|workbook-cancel")
	if said != "" || b.handed != nil {
		t.Error("it was written all the same")
	}
	b.writeFails = errDisk
	stopped := b.stopped
	f.Do("writeWorkbook")
	b.want(t, "failed", state(), "dlg-workbook||No workbook was written. The disk is full.|refused|off|off|off|workbook-cancel")
	if b.stopped != stopped+1 {
		t.Error("the worker goes on")
	}
	b.writeFails = ErrStopped
	f.Do("writeWorkbook")
	b.want(t, "stopped", b.text["workbook-said"]+"|"+b.dialog, "|dlg-workbook")
	f.Do("workbook")
	b.want(t, "opened again", state(), "dlg-workbook||||off|off|off|workbook-save")
}
