package frame

import (
	"errors"
	"path"
	"strconv"
	"strings"

	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// mostBytes of a file are handed to the program for workbook files at all; what is read that says itself.
const mostBytes = 200e6

// A fileOpen is a file from elsewhere in the dialog that shows what it holds and how it would be read.
type fileOpen struct {
	name    string
	reading bool
	wanted  string // choices that it is to be read with once more, "" none
}

// busy shows in a dialog what is being done; said "" hides it. far below 0: how far it is is not known.
func (f *Frame) busy(dialog, said string, far float64) {
	f.hide(dialog+"-busy", said == "")
	f.b.SetText(dialog+"-busy-said", said)
	f.far(dialog, far)
}

func (f *Frame) far(dialog string, far float64) {
	if far < 0 {
		f.b.RemoveAttribute(dialog+"-busy-far", "value")
	} else {
		f.b.SetValue(dialog+"-busy-far", strconv.FormatFloat(far, 'g', -1, 64))
	}
}

func tooLarge(file File) error {
	if n := file.Size(); n > mostBytes {
		return errors.New(words.Text("frame.fileTooLarge", words.Number(int(n/1e6+0.5))))
	}
	return nil
}

// preview reads a file from elsewhere in the worker and shows what it holds. It waits.
func (f *Frame) preview(file File) {
	f.b.StopWorker()
	mine := &fileOpen{name: file.Name()}
	f.file = mine
	f.toOpen("begin", "", "", mine.name)
	if err := tooLarge(file); err != nil {
		f.notRead(mine, err)
		return
	}
	f.read(mine, file, f.Choices(""))
}

// toOpen tells the dialog something.
func (f *Frame) toOpen(event, arg, value, name string) {
	f.Send("open", screens.Event{Name: event, Arg: arg, Value: value, Key: name})
}

// read reads a file, nil: that of the dialog once more, as often as other choices are made meanwhile.
func (f *Frame) read(mine *fileOpen, file File, choices string) {
	mine.reading = true
	defer func() { mine.reading = false }()
	for {
		f.busy("open", words.Text("frame.reading", mine.name), -1)
		f.b.SetAttribute("open-body", "aria-busy", "true")
		text, err := f.b.ReadFile(file, choices, func(far float64) { f.far("open", far) })
		if f.file != mine {
			return
		}
		if err != nil {
			f.notRead(mine, err)
			return
		}
		if choices, mine.wanted = mine.wanted, ""; choices != "" {
			file = nil
			continue
		}
		f.busy("open", "", 0)
		f.b.RemoveAttribute("open-body", "aria-busy")
		unsaved := ""
		if f.unsaved() {
			unsaved = "unsaved"
		}
		f.toOpen("read", unsaved, text, "")
		return
	}
}

// reread has the file in the dialog read once more with other choices.
func (f *Frame) reread(sheets string) {
	mine := f.file
	if mine == nil {
		return
	}
	if mine.wanted = f.Choices(sheets); mine.reading {
		return // it is, when this reading has ended
	}
	f.b.Go(func() {
		choices := mine.wanted
		mine.wanted = ""
		f.read(mine, nil, choices)
	})
}

// notRead shows in the dialog why a file could not be read or taken.
func (f *Frame) notRead(mine *fileOpen, err error) {
	if f.file != mine || err == ErrStopped {
		return
	}
	f.busy("open", "", 0)
	f.b.RemoveAttribute("open-body", "aria-busy")
	f.toOpen("failed", "", err.Error(), "")
}

// takeFile puts the job of the file in the dialog in the place of the one at hand.
func (f *Frame) takeFile() {
	mine := f.file
	if mine == nil {
		return
	}
	f.b.SetAttribute("open-take", "disabled", "")
	f.busy("open", words.Text("frame.takingRows"), 0)
	f.b.Go(func() {
		refused := false
		err := f.b.TakeRows(func(head string, table int, rows string) bool {
			var ok bool
			if head != "" {
				_, ok = f.ask("coming", head)
			} else {
				_, ok = f.ask("comingRows", table, rows)
			}
			refused = refused || !ok
			return ok
		})
		if refused {
			err = errors.New(words.Text("frame.rowsNotTaken"))
		}
		if err != nil {
			f.notRead(mine, err)
			return
		}
		if f.file != mine {
			return
		}
		f.b.StopWorker()
		f.busy("open", words.Text("frame.puttingInPlace"), 1)
		f.b.Await(func(done func()) { f.b.NextTurn(done) })
		s, whole, ok := f.asked("take")
		if !ok {
			f.notRead(mine, errors.New(words.Text("frame.jobNotTaken")))
			return
		}
		if headers := s.text("remember"); headers != "" {
			f.remember(headers)
		}
		f.coming = f.newSaving(mine.name)
		f.b.CloseDialog()
		f.taken(s, whole, s.text("said"))
	})
}

// DialogClosed ends what was under way in a dialog for files.
func (f *Frame) DialogClosed(id string) {
	if f.b.DialogOpen() == id {
		return // this comes late, and the dialog is there for the next file already
	}
	switch id {
	case "dlg-open":
		f.b.StopWorker()
		f.busy("open", "", 0)
		if f.file != nil {
			f.toOpen("closed", "", "", "")
		}
		f.file = nil
	case "dlg-workbook":
		if f.b.DialogOpen() != "dlg-open" {
			f.b.StopWorker()
		}
	}
}

// workbookButtons lets the buttons of the dialog for workbooks be pressed, or not.
func (f *Frame) workbookButtons(on bool) {
	for _, id := range [...]string{"workbook-save", "workbook-add", "workbook-live"} {
		if on {
			f.b.RemoveAttribute(id, "disabled")
		} else {
			f.b.SetAttribute(id, "disabled", "")
		}
	}
}

func (f *Frame) workbookSays(said, class string) {
	f.b.SetText("workbook-said", said)
	f.b.SetAttribute("workbook-said", "class", class)
}

// workbook opens the dialog that saves the job as a workbook.
func (f *Frame) workbook() {
	f.settle()
	f.workbookSays("", "")
	f.workbookButtons(true)
	f.busy("workbook", "", 0)
	f.b.OpenDialog("dlg-workbook")
	f.b.Focus("workbook-save", false)
	if f.Machines() > 0 {
		f.prepared = preparedBook{f.now, f.state.Changes}
		f.b.PrepareWorkbook(f.b.Ticked("workbook-live"))
	}
}

// A preparedBook is the job, and the state of it, that a worker was handed to make a workbook of.
type preparedBook struct {
	of      *saving
	changes int
}

// WriteWorkbook hands the browser a workbook of the job, or a copy of somebody's with the results added; nil: a fresh one.
func (f *Frame) WriteWorkbook(original File) {
	f.workbookSays("", "")
	if f.Machines() == 0 {
		f.workbookSays(words.Text("frame.noMachineYet"), "")
		return
	}
	f.settle()
	if f.prepared != (preparedBook{f.now, f.state.Changes}) {
		f.b.StopWorker() // it has another job, or another state of this one
	}
	f.workbookButtons(false)
	said, failed := words.Text("frame.writingWorkbook"), words.Text("frame.noWorkbookWritten")
	if original != nil {
		said, failed = words.Text("frame.addingResults", original.Name()), words.Text("frame.nothingAdded", original.Name())
	}
	f.busy("workbook", said, 0)
	f.b.Focus("workbook-cancel", false)
	f.b.Go(func() {
		var content Content
		var err error
		if original != nil {
			err = tooLarge(original)
		}
		if err == nil {
			content, err = f.b.WriteWorkbook(original, f.b.Ticked("workbook-live"), func(far float64) { f.far("workbook", far) })
		}
		if err == ErrStopped {
			return
		}
		if err != nil {
			f.b.StopWorker()
			f.busy("workbook", "", 0)
			f.workbookButtons(true)
			f.workbookSays(failed+screens.Sentence(err.Error()), "refused")
			return
		}
		f.handWorkbook(original, content)
	})
}

// handWorkbook hands the browser a workbook that is ready.
func (f *Frame) handWorkbook(original File, content Content) {
	name, kind, more := f.SaveName("xlsx"), "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", words.Text("frame.holdsTheJob")
	if original != nil {
		ending := strings.ToLower(path.Ext(original.Name()))
		if ending == ".xlsm" {
			kind = "application/vnd.ms-excel.sheet.macroEnabled.12"
		} else {
			ending = ".xlsx"
		}
		base := original.Name()
		if e := path.Ext(base); strings.EqualFold(e, ".xlsx") || strings.EqualFold(e, ".xlsm") {
			base = strings.TrimSuffix(base, e)
		}
		name, more = words.Text("frame.withResults", base, ending[1:]), words.Text("frame.yoursIsAsItWas")
	}
	f.b.HandOverContent(name, kind, content)
	f.b.CloseDialog()
	f.b.FocusSheet()
	f.say(words.Text("frame.workbookHanded", name, more))
}
