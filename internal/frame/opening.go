package frame

import (
	"strconv"
	"strings"

	"shimsheet/internal/desk"
	"shimsheet/internal/words"
)

// Start shows the first job. lacks: this file is the browser's own copy of a page, which lacks as many changes.
func (f *Frame) Start(lacks int) {
	f.share.mark()
	f.first()
	f.whenDrawn(func() {
		if f.state.Columns > 0 {
			f.b.FocusSheet()
		}
		f.b.Remove("first") // the live list stands in its place, or there is none
		f.started = true
		f.b.Mark("ready", "1")
		if lacks > 0 {
			f.banner(words.Text("frame.savedByTheBrowser", words.Count("frame.changes", lacks)), "")
		}
		f.b.Go(func() {
			if f.b.CutShort() {
				f.broken([]string{"end"})
			}
		})
	})
}

// first decides which job to show first: the one in the page, or a safety copy.
func (f *Frame) first() {
	inPage := f.b.JobInPage()
	found := f.b.Lines()
	last := f.lastOf(found)
	f.b.Sweep()
	if string(inPage) == "null" {
		if last == nil {
			last = onlyLeft(found)
		}
		if last != nil && f.restore(last.Line, "") {
			f.sayOffering(f.b.TextOf("status"), words.Text("frame.beginANewJob"), func() { f.Do("new") })
			return
		}
		f.begin()
		return
	}
	open := func(anyway bool) (State, bool) {
		if inPage == nil { // the desk has what it was given
			inPage = f.b.JobInPage()
		}
		s, whole, ok := f.asked("openJob", inPage, anyway)
		inPage = nil
		if !ok {
			return State{}, false
		}
		f.coming = f.newSaving(f.b.PageName())
		f.fresh(s, whole)
		if f.now.handedAt = ""; f.state.SavedAt != "" {
			f.now.handedAt = words.Text("frame.saved", f.b.Clock(f.state.SavedAt))
		}
		f.around()
		if !s.yes("sealed") && !anyway && f.state.SavedAt != "" {
			f.say(words.Text("frame.noChecksum"))
		}
		return f.state, true
	}
	s, ok := open(false)
	if !ok {
		f.banner(words.Text("frame.cannotBeOpened", f.b.TextOf("status")), "")
		f.begin()
		f.sayOffering("", words.Text("frame.openAllTheSame"), func() {
			if _, ok := open(true); ok {
				f.banner(words.Text("frame.wasDamaged"), "")
			}
		})
		return
	}
	if last != nil && (last.Job != s.ID || last.Opened == s.SavedAt) && f.restore(last.Line, "") {
		f.sayOffering(f.b.TextOf("status"), words.Text("frame.backToTheFile"), func() {
			open(false)
			f.say(words.Text("frame.asInTheFile"))
		})
		return
	}
	f.lookForOthers(f.b.PageName())
}

// begin shows an empty job.
func (f *Frame) begin() {
	if s, whole, ok := f.asked("new"); ok {
		f.fresh(s, whole)
	}
}

// lastOf is the line of work that this tab had last on this page, for reloading.
func (f *Frame) lastOf(found []About) *About {
	line, page, _ := strings.Cut(f.b.KeptByTab("shimsheet:line"), "\n")
	if page != f.b.Address() {
		return nil
	}
	for i := range found {
		if found[i].Line == line {
			return &found[i]
		}
	}
	return nil
}

// onlyLeft is the only line that somebody left with work in it that no file has; nil: there is none, or several.
func onlyLeft(found []About) *About {
	var only *About
	for i := range found {
		if c := &found[i]; !c.Open && !c.Handed && c.Aside == "" && !followed(found, c) {
			if only != nil {
				return nil
			}
			only = c
		}
	}
	return only
}

// followed says whether another line goes on with the work of this one.
func followed(found []About, c *About) bool {
	for i := range found {
		if found[i].Follows == c.Line {
			return true
		}
	}
	return false
}

// bring hands a copy to the desk, which can then compare or open it.
func (f *Frame) bring(c *Copy) bool {
	if _, ok := f.ask("copyBegin", c.Head); !ok {
		return false
	}
	for _, r := range c.Rows {
		if _, ok := f.ask("copyRows", r.Table, r.Text); !ok {
			return false
		}
	}
	for _, r := range c.Records {
		if _, ok := f.ask("copyRecord", r); !ok {
			return false
		}
	}
	return true
}

// restore opens a copy and goes on with its line of work; or with a line of its own: apart is "copy" if that one is to stay as it is, "beside" if another tab works on it.
func (f *Frame) restore(line, apart string) bool {
	c := f.b.CopyOf(line)
	from := ""
	if c != nil {
		from = c.About.From
	}
	mine := f.newSaving(from)
	var resumed Line
	if c != nil && apart == "" {
		if resumed = f.b.Resume(c, f.hooks(mine)); resumed == nil {
			apart = "beside"
		}
	}
	var s answer
	var whole string
	ok := c != nil && f.bring(c)
	if f.settle(); ok && f.storageNote != "" { // else what is on the page stays among the copies
		facts := f.factsOf(&c.About)
		if !f.leave(words.Text("copies.openThis", facts.Label())) {
			if resumed != nil {
				resumed.Leave()
			}
			return false
		}
	}
	if ok {
		s, whole, ok = f.asked("copyOpen")
	}
	if !ok {
		if resumed != nil {
			resumed.Leave()
		}
		f.say(words.Text("frame.copyUnreadable"))
		return false
	}
	mine.line, mine.before, mine.followsKnown = resumed, c.About.Changes, true
	switch {
	case resumed != nil:
		mine.follows, mine.began = c.About.Follows, c.About.Began
	case apart != "beside":
		mine.follows = line
	}
	mine.restored = !c.About.Handed
	f.coming = mine
	f.fresh(s, whole)
	if resumed != nil {
		f.now.opened = c.About.Opened
		if c.About.Aside != "" {
			resumed.Know() // it is not set aside any more
		}
	}
	more := ""
	switch {
	case c.Broken:
		more = words.Text("frame.lastIsMissing")
	case f.now.restored && c.About.Changes > 0:
		more = words.Text("frame.noFileHasThese")
	}
	f.say(words.Text("frame.restored", f.b.Clock(c.About.Changed), more))
	f.tellTyped(c.About.Typing)
	if f.state.Columns > 0 {
		f.b.FocusSheet()
	}
	return true
}

// tellTyped tells what was being typed when the browser ended: above everything, for in the line at the foot it would be cut short, or out of sight on a phone.
func (f *Frame) tellTyped(what string) {
	switch said := words.Text("frame.wasTyped", what); {
	case what == "":
	case f.b.Shown("banner"): // graver things stand there
		f.say(f.b.TextOf("status") + " " + said)
	default:
		f.banner(said, "")
	}
}

// lookForOthers looks for other states of a job that was opened from a file, and lets the person choose.
func (f *Frame) lookForOthers(name string) {
	s := f.state
	var found []About
	for _, c := range f.b.Lines() {
		if c.Job == s.ID && c.Line != f.now.line.ID() {
			found = append(found, c)
		}
	}
	var out []state
	for i := range found {
		about := &found[i]
		if about.Aside != "" || followed(found, about) {
			continue
		}
		c := f.b.CopyOf(about.Line)
		if f.state.Desk != s.Desk || c == nil || !f.bring(c) {
			continue
		}
		d, ok := f.ask("copyCompare", mostDifferences)
		if !ok {
			continue
		}
		if differs := d.int("changed")+d.int("onlyA")+d.int("onlyB") > 0; differs && !(about.Handed && d.yes("before")) {
			out = append(out, state{about: *about, differences: d, broken: c.Broken})
		} else if !about.Open {
			f.tellTyped(about.Typing)
			f.b.Note(about.Line, f.b.Now(), true) // a file has it
		}
	}
	if len(out) > 0 && f.state.Desk == s.Desk {
		f.choose(name, s, out)
	}
}

// opened shows a job that was opened, from a file if from is its name.
func (f *Frame) opened(s answer, whole, said, from string) {
	f.coming = f.newSaving(from)
	f.fresh(s, whole)
	f.say(said)
	if f.state.Changes > 0 {
		f.keep()
	}
	if f.state.Columns > 0 {
		f.b.FocusSheet()
	}
}

// Open opens a file that was chosen or dropped. A saved page or a job is opened here; everything else is looked at by the program for workbook files first.
func (f *Frame) Open(file File) {
	switch {
	case f.b.DialogOpen() == "":
		f.open(file)
	case len(f.copies.states) > 0: // its question is about the job that is open
		f.b.Confirm(words.Text("frame.answerFirst", file.Name()))
	case f.b.Confirm(words.Text("frame.dialogIsOpen", file.Name())):
		f.b.CloseDialog()
		f.b.Later(0, func() { f.Open(file) }) // once the page was told that it is closed
	}
}

func (f *Frame) open(file File) {
	f.settle()
	f.b.Go(func() {
		if !ours(file) {
			f.preview(file)
			return
		}
		name, text := file.Name(), file.Bytes()
		if !f.leave(words.Text("frame.open", name)) { // not before the file is read: it takes time in which somebody may type
			return
		}
		s, whole, ok := f.asked("openFile", name, text, false)
		if !ok {
			return
		}
		said := words.Text("frame.isOpen", name)
		if !s.yes("sealed") {
			said += words.Text("frame.fileNoChecksum")
		}
		if !s.yes("whole") {
			said += words.Text("frame.pageCutShort")
		}
		f.opened(s, whole, said, name)
		f.lookForOthers(name)
	})
}

// ours says whether a file is a saved page or a job, by its name or how it begins.
func ours(file File) bool {
	name := strings.ToLower(file.Name())
	for _, end := range [...]string{".html", ".htm", ".json"} {
		if strings.HasSuffix(name, end) {
			return true
		}
	}
	if at := strings.LastIndexByte(name, '.'); at >= 0 {
		switch end := name[at+1:]; {
		case end == "csv" || end == "tsv" || end == "ods" || strings.HasPrefix(end, "xls") && len(end) <= 4:
			return false
		}
	}
	begins := strings.TrimLeft(strings.TrimPrefix(file.Begins(), "\ufeff"), " \t\r\n\f\v")
	return strings.HasPrefix(begins, "{") || strings.HasPrefix(begins, "<")
}

// demo opens the demo job, whose lists stand in the page.
func (f *Frame) demo() {
	if f.pending["demo"] {
		return
	}
	f.pending["demo"] = true
	f.b.Mark("idle", "0")
	f.b.Go(func() {
		text := f.b.Unpacked("demo")
		delete(f.pending, "demo")
		defer f.idle()
		if text == "" {
			f.broken([]string{"demo"})
			return
		}
		f.settle() // something may have been typed while it was unpacked
		if !f.leave(words.Text("frame.openTheDemo")) {
			return
		}
		lists := parse(text)
		args := make([]desk.Value, 0, 12)
		for _, k := range [...]string{"machines", "job", "readings", "stock", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"} {
			args = append(args, lists.text(k))
		}
		if s, whole, ok := f.asked("demo", args...); ok {
			f.opened(s, whole, words.Text("frame.theDemo"), "")
		}
	})
}

func (f *Frame) newJob() {
	if !f.leave(words.Text("frame.beginANewJob")) {
		return
	}
	if s, whole, ok := f.asked("new"); ok {
		f.opened(s, whole, words.Text("frame.aNewJob"), "")
	}
}

// revisionAnd is what is said of the time of a sharing-out.
func (f *Frame) stamp() string {
	of := ""
	switch s := &f.state; {
	case s.Revision == 0:
	case s.Changes > f.now.handed:
		of = words.Text("frame.revisionAndChanges", strconv.Itoa(s.Revision))
	default:
		of = words.Text("frame.ofRevision", strconv.Itoa(s.Revision))
	}
	return words.Text("frame.sharedOn", f.b.Clock(f.b.Now()), of)
}
