package frame

import (
	"strings"

	"shimsheet/internal/words"
)

// saves is how far each opened job is saved.
type saves struct {
	savings     map[int]*saving // by opening, as the desk counts them
	now         *saving         // of the job on the page
	coming      *saving         // of the job that is opened next
	storageNote string          // why there is no safety copy, "" there is one
	elsewhere   bool            // another tab has this job open
	writing     bool            // a file is being saved
}

// A saving is how far one opened job is saved.
type saving struct {
	handed       int    // the job's count of changes when it was last handed to the browser
	handedAt     string // how that is told
	restored     bool   // it came from a safety copy, and no file has it
	lost         bool   // changes that no file has, when it was last on the page
	line         Line   // its safety copy
	state        State  // as last known
	from         string // the file it came from
	opened       string // when that was saved
	before       int    // changes that the safety copy had when it was taken up
	began        string
	follows      string // the line whose work it goes on with
	followsKnown bool
	file         Target // it was saved into
}

func (f *Frame) newSaving(from string) *saving { return &saving{from: from, began: f.b.Now()} }

// unsaved says whether there is something that no file has.
func (f *Frame) unsaved() bool { return f.state.Changes > f.now.handed || f.now.restored }

// Unsaved says whether something is lost with the page, of this job or of one that undoing leads back to.
func (f *Frame) Unsaved() bool {
	f.settle()
	return f.unsaved() || f.lost()
}

// lost says whether a job that undoing leads back to has changes that no file has.
func (f *Frame) lost() bool {
	for _, x := range f.savings {
		if x.lost {
			return true
		}
	}
	return false
}

// keep writes what has changed into the safety copy.
func (f *Frame) keep() {
	f.kept = f.typing()
	f.now.line.Change(func() string {
		record := f.desk.Answer("record")
		if !strings.HasPrefix(record, "{") {
			return record
		}
		a := parse(record)
		f.Panicked(a.text("panic"), a.text("stack"))
		return ""
	})
}

// hooks are what a line of work asks the page and tells it.
func (f *Frame) hooks(mine *saving) LineHooks {
	return LineHooks{
		Facts: func() About {
			s, typing := &mine.state, ""
			if f.now == mine {
				typing = f.typing()
			}
			return About{
				Name: s.Name, Revision: s.Revision, SavedAt: s.SavedAt, From: mine.from, Began: mine.began, Opened: mine.opened, Changes: mine.before + s.Changes,
				Rows: s.Machines, Handed: s.Changes <= mine.handed && !mine.restored && typing == "", Follows: mine.follows, Page: f.b.PageName(), Typing: typing,
			}
		},
		OnPage: func() bool { return f.now == mine },
		Told:   func(why string, gone About) { f.toldOfKeeping(mine, why, gone) },
	}
}

// toldOfKeeping hears whether the safety copy could be written.
func (f *Frame) toldOfKeeping(mine *saving, why string, gone About) {
	if why == "room" {
		name := gone.Name
		if name == "" {
			name = words.Text("frame.jobWithoutAName")
		}
		f.say(words.Text("frame.storageMadeRoom", name, f.b.Clock(gone.Changed)))
		return
	}
	note := ""
	if why != "" {
		there := words.Text("frame.nothingOnDisk")
		if at, changes, ok := mine.line.Safe(); ok {
			there = words.Text("frame.onDisk", f.b.Clock(at), words.Count("frame.changes", mine.before+mine.state.Changes-changes))
		}
		if why == "full" {
			note = words.Text("frame.storageFull", there)
		} else {
			note = words.Text("frame.noStorage", there)
		}
	}
	if note == f.storageNote {
		return
	}
	first := f.storageNote == ""
	if f.storageNote = note; note != "" && first {
		f.say(note)
	}
	f.around()
}

// Save hands the page with the job in it ("html") or the job alone ("json") to the browser. Where the browser can write a file that the person picks, saving again goes to the same
// file, and the page knows that it arrived; another: a file is picked in any case.
func (f *Frame) Save(kind string, another bool) {
	if f.writing {
		f.say(words.Text("frame.stillSaving"))
		return
	}
	f.writing = true
	f.b.Go(func() {
		defer func() { f.writing = false }()
		f.save(kind, another)
	})
}

// save waits: the page is read to its end some moments after it can be used, and a copy needs all of it.
func (f *Frame) save(kind string, another bool) {
	page := kind == "html"
	if page {
		if bad := f.b.Damage(); len(bad) > 0 {
			f.broken(bad)
			return
		}
	}
	f.settle()
	var target Target
	if page && f.b.CanPick() {
		if target = f.now.file; target == nil || another {
			var aborted bool
			if target, aborted = f.b.PickFile(f.b.FileName(f.state.Name, f.state.Revision+1, kind), words.Text("frame.pageWithTheJob")); aborted {
				f.say(words.Text("frame.noFileChosen"))
				return
			} // nil: forbidden here, handed over as a download
		}
	}
	when := f.b.Now()
	s, ok := f.ask("save", when)
	if !ok {
		return
	}
	job := s.text("text")
	f.state.Revision, f.state.SavedAt = s.int("revision"), s.text("savedAt")
	f.now.state = f.state
	name := f.b.FileName(f.state.Name, f.state.Revision, kind)
	time := f.b.HourMinute(when)
	changes, mine := f.state.Changes, f.now
	said := words.Text("frame.handed", name, time)
	handedAt := words.Text("frame.handedAt", time)
	switch {
	case target != nil:
		if err := f.b.WritePage(target, job, f.title(), f.firstList(job)); err != nil {
			mine.file = nil
			if f.now == mine { // the job is what it was: its title and its papers name a file that there is
				if s, ok := f.ask("notSaved"); ok {
					f.state.Revision, f.state.SavedAt = s.int("revision"), s.text("savedAt")
					mine.state = f.state
				}
			}
			f.say(words.Text("frame.notWritten", target.Name(), err.Error()))
			f.around()
			return
		}
		mine.file = target
		handedAt, said = words.Text("frame.savedInAt", target.Name(), time), words.Text("frame.savedIn", target.Name())
	case page:
		f.b.HandOverPage(name, job, f.title(), f.firstList(job))
	default:
		f.b.HandOver(name, "application/json", job)
	}
	mine.handed, mine.restored, mine.handedAt = changes, false, handedAt
	f.say(said)
	f.around()
	if mine.line.Begun() {
		f.keep()
		mine.line.Know()
	}
}

// firstList is the list as the page that is saved shows it before its program is up.
func (f *Frame) firstList(job string) string {
	a, _ := f.ask("first", f.b.DigestOf(job))
	return a.text("html")
}

// broken tells that this page's own file is damaged or cut short: a page written from it would be broken too.
func (f *Frame) broken(bad []string) {
	if len(bad) == 0 {
		return
	}
	if bad[0] == "end" {
		f.banner(words.Text("frame.cutShort"), "")
	} else {
		f.banner(words.Text("frame.damaged", strings.Join(bad, ", ")), "")
	}
	f.hide("banner-save", true)
}

// csv hands the results over as a list.
func (f *Frame) csv() {
	f.settle()
	s, ok := f.ask("csv")
	if !ok {
		return
	}
	name := f.b.FileName(f.state.Name, f.state.Revision, "csv")
	f.b.HandOver(name, "text/csv", "\ufeff", s.text("text"))
	f.say(words.Text("frame.resultsHanded", name))
}

// leave asks before another job takes the place of this one, where something is lost by that.
func (f *Frame) leave(what string) bool {
	if !f.Unsaved() {
		return true
	}
	who, copies := words.Text("frame.anEarlierJobHas"), f.storageNote
	if f.unsaved() {
		who = words.Text("frame.thisJobHas")
	}
	if copies == "" {
		copies = words.Text("frame.aCopyStays")
	}
	return f.b.Confirm(words.Text("frame.changesNoFileHas", who, copies, what))
}

// BeforePrint puts on paper what is to be printed, where no command did.
func (f *Frame) BeforePrint() {
	f.settle()
	if !f.onPaper {
		switch {
		case f.screen != "" && onPaper[f.screen]:
			f.toPaper()
		case f.screen == "crew" || f.screen == "" && (f.state.Sheet == 4 || f.state.Sheet == 5): // Growth and Feet have a machine in their panel
			f.paper(true)
		default:
			f.paper(false)
		}
	}
	f.onPaper = false
}

// paper puts the list, or one machine, on paper: a table of its own, for the sheet holds only what is in sight.
func (f *Frame) paper(one bool) {
	saved := ""
	if f.state.SavedAt != "" {
		saved = f.b.Clock(f.state.SavedAt)
	}
	if p, ok := f.ask("print", f.b.Clock(f.b.Now()), saved, one); ok {
		f.b.SetHTML("paper", p.text("html"))
	}
}

// SaveName is what a file of the job is called, with an ending.
func (f *Frame) SaveName(ending string) string {
	return f.b.FileName(f.state.Name, f.state.Revision, ending)
}
