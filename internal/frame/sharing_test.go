package frame

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// The stock shared out: once for each state of the job, by a worker, put on the page when nobody is in the middle of a cell.

// worker is another program of the page, as one works in a worker: it gets the job of f and shares its stock out.
func worker(t *testing.T, f *Frame, when string) (lists, sharing string) {
	t.Helper()
	w, _ := newFake(t)
	if a := parse(w.desk.Answer("listsHead", parse(f.desk.Answer("head")).text("text"))); a.has("error") {
		t.Fatal(a)
	}
	for k := range 12 {
		for at := 0; ; {
			a := parse(f.desk.Answer("rows", k, at, 2000))
			if text := a.text("rows"); text != "" {
				w.desk.Answer("listsRows", k, text)
			}
			if at = a.int("next"); at < 0 {
				break
			}
		}
	}
	a := parse(w.desk.Answer("lists", when))
	if a.has("error") {
		t.Fatal(a.text("error"))
	}
	return a.text("lists"), a.text("sharing")
}

// sharing is a page with the demo whose worker shares the stock out in truth; n counts how often.
func withSharing(t *testing.T) (f *Frame, b *fake, n *int) {
	f, b = started(t)
	n = new(int)
	b.lists = func() (string, string, error) {
		*n++
		l, s := worker(t, f, f.stamp())
		return l, s, nil
	}
	f.Do("demo")
	return f, b, n
}

// After a change the stock is shared out once, when every row is worked out; the page says that it is under way, and shows the packs of it.
func TestSharedOut(t *testing.T) {
	f, b, n := withSharing(t)
	for range 6 { // the rows are worked out, and then it waits
		all := b.later
		b.later = nil
		for _, g := range all {
			g()
		}
		if b.marks["sharing"] == "1" {
			break
		}
	}
	b.want(t, "about to be", b.marks["sharing"], "1")
	if *n != 0 {
		t.Error("it did not wait")
	}
	if ms := b.waits[len(b.waits)-1]; ms <= f.state.Rows || ms > 5000 {
		t.Errorf("it waits %d ms", ms)
	}
	b.html["panel-row"], b.text["counts"] = "", ""
	b.turn()
	if *n != 1 || b.marks["sharing"] != "0" || f.share.last == nil {
		t.Errorf("%d times, mark %s", *n, b.marks["sharing"])
	}
	if b.html["panel-row"] == "" || b.text["counts"] == "" || f.state != b.view {
		t.Error("panel and counts are not brought up to the packs")
	}
	packs := f.desk.Answer("viewport", 0, 0, f.state.Columns, f.state.Rows)
	if f.Unsaved() != true || f.state.Changes != f.now.state.Changes {
		t.Error("it is taken for a change")
	}
	f.Act("go", 3, 3, false)
	b.turn()
	if *n != 1 {
		t.Error("the cursor's way had it shared out anew")
	}
	f.at(t, 2, "note")
	f.typeIn(b, "looked at")
	f.done()
	b.turn()
	if *n != 2 {
		t.Errorf("%d times after a change", *n)
	}
	f.Do("undo")
	b.turn()
	if got := f.desk.Answer("viewport", 0, 0, f.state.Columns, f.state.Rows); got != packs {
		t.Error("the same job has other packs")
	}
}

// Somebody types into a cell when it is done: the packs come afterwards. Where the job has changed meanwhile they do not come.
func TestSharedWhileTyping(t *testing.T) {
	f, b, n := withSharing(t)
	share := b.lists
	b.lists = func() (string, string, error) {
		f.at(t, 2, "note")
		f.typeIn(b, "half typed")
		return share()
	}
	for range 100 { // until the packs wait for the cell
		all := b.later
		b.later = nil
		for _, g := range all {
			g()
		}
		if *n == 1 {
			break
		}
	}
	for range 3 {
		all := b.later
		b.later = nil
		for _, g := range all {
			g()
		}
	}
	if !b.open || b.values["editor"] != "half typed" || len(b.later) == 0 {
		t.Fatalf("the cell was closed, or nothing waits: %v %q", b.open, b.values["editor"])
	}
	b.lists = share
	f.CellKey(Key{Name: "Escape"})
	drawn := b.drawn
	b.turn()
	if b.drawn == drawn || *n != 1 {
		t.Errorf("the packs did not come, or it was shared out again (%d)", *n)
	}
	// typed to the end: the job is another one now, and gets other packs
	b.lists = func() (string, string, error) {
		b.lists = share
		f.at(t, 2, "note")
		f.typeIn(b, "half typed")
		return share()
	}
	f.at(t, 3, "note")
	f.typeIn(b, "another")
	f.done()
	for range 100 {
		all := b.later
		b.later = nil
		for _, g := range all {
			g()
		}
		if *n == 2 {
			break
		}
	}
	f.LeftCell()
	b.text["status"] = ""
	b.turn()
	if *n != 3 || f.share.last.at != f.share.at() || strings.Contains(b.text["status"], "shar") {
		t.Errorf("%d times, told %q", *n, b.text["status"])
	}
	// changed meanwhile
	f, b, n = withSharing(t)
	share = b.lists
	b.lists = func() (string, string, error) {
		b.lists = share
		l, s, err := share()
		f.at(t, 2, "note")
		f.Act("begin")
		f.Act("commit", "changed", 0, 0)
		return l, s, err
	}
	b.turn()
	if *n != 2 || f.share.last.at != f.share.at() {
		t.Errorf("%d times", *n)
	}
}

// A failure is told where the packs stand; a sharing-out that was stopped is not told, and one that failed is not begun again by itself.
func TestNotSharedOut(t *testing.T) {
	f, b := started(t)
	n := 0
	b.lists = func() (string, string, error) { n++; return "", "", errors.New("no room in the worker") }
	f.Do("demo")
	b.turn()
	told := func() bool {
		for row := range f.state.Rows {
			f.desk.Answer("goStored", row, 0)
			if strings.Contains(f.desk.Answer("info", 0), "No room in the worker.") {
				return true
			}
		}
		return false
	}
	if n != 1 || !told() {
		t.Errorf("%d times, told %v", n, told())
	}
	f, b = started(t)
	b.lists = func() (string, string, error) { return "", "", ErrStopped }
	f.Do("demo")
	b.turn()
	if told() || f.share.running != nil {
		t.Error("what was stopped is told as a failure")
	}
	b.want(t, "mark", b.marks["sharing"], "0")
}

// The screen of the lists has them made: what is under way stands there, then the lists, or why there are none and a button to have them made again. What is made already is not made again.
func TestListsForAScreen(t *testing.T) {
	f, b, n := withSharing(t)
	share := b.lists
	shows := func() string { return b.html["screen-shims"] }
	b.lists = func() (string, string, error) {
		b.want(t, "waits for them", f.lists, "shims")
		b.want(t, "mark", b.marks["sharing"], "1")
		if s := shows(); !strings.Contains(s, "share-bar") {
			t.Errorf("not said that it is under way: %.200s", s)
		}
		if again := f.share.begin(); again != f.share.running || *n != 0 {
			t.Error("what is under way was begun again")
		}
		return share()
	}
	f.OpenScreen("shims") // before the page had it done by itself
	b.want(t, "waits for nothing", f.lists+b.marks["sharing"], "0")
	if s := shows(); *n != 1 || !strings.Contains(s, "<table") {
		t.Errorf("%d sharings: %.300s", *n, s)
	}
	b.turn()
	if f.OpenScreen("tables"); *n != 1 {
		t.Errorf("%d sharings of one state", *n)
	}
	b.html["screen-shims"] = ""
	if f.OpenScreen("shims"); *n != 1 || !strings.Contains(shows(), "<table") {
		t.Error("the lists do not stand there again")
	}
	// a change: made anew a moment after, of the state that there is then; the page's own sharing and the screen's are one
	change := func(to string) {
		f.at(t, 0, "note")
		f.Act("begin")
		f.Act("commit", to, 0, 0)
	}
	b.lists = share
	change("changed")
	b.turn()
	if *n != 2 || !strings.Contains(shows(), "<table") || f.share.last.at != f.share.at() {
		t.Errorf("%d sharings after a change: %.200s", *n, shows())
	}
	// what the page had done by itself is not made again for the screen
	f2, b2, n2 := withSharing(t)
	b2.turn()
	if f2.OpenScreen("shims"); *n2 != 1 || !strings.Contains(b2.html["screen-shims"], "<table") {
		t.Errorf("%d sharings", *n2)
	}
	// a failure and an end that was wanted
	b.lists = func() (string, string, error) { return "", "", errors.New("no room") }
	change("refused")
	b.turn()
	if s := shows(); !strings.Contains(s, "No room.") || !strings.Contains(s, `data-on="work"`) || f.lists != "" {
		t.Error(s)
	}
	b.lists = func() (string, string, error) { return "", "", ErrStopped }
	f.Send("shims", event("work", ""))
	if s := shows(); strings.Contains(s, "No room.") || strings.Contains(s, "<table") || !strings.Contains(s, `data-on="work"`) {
		t.Error(s)
	}
	b.lists = share
	f.Send("shims", event("work", ""))
	if s := shows(); !strings.Contains(s, "<table") {
		t.Error(s)
	}
	// leaving the screen that waits stops it, leaving another does not
	b.turn()
	f.lists = "shims"
	if did := b.moves(func() { f.OpenScreen("board") }); !strings.Contains(did, "stop lists") {
		t.Error(did)
	}
	if did := b.moves(func() { f.OpenScreen("tables") }); strings.Contains(did, "stop lists") {
		t.Error(did)
	}
	// one that is under way already is heard, and waited for
	x := &sharedOut{at: f.share.at()}
	f.share.last, f.share.running = nil, x
	b.later = append(b.later, func() {
		for _, g := range x.far {
			g(0.25)
		}
		x.lists, x.done, f.share.running = "its lists", true, nil
		for _, g := range x.waits {
			g()
		}
	})
	got, err := f.share.lists(func(far float64) { b.values["share-bar"] = fmt.Sprint(far) })
	if got != x || err != nil || !x.done || b.values["share-bar"] != "0.25" {
		t.Errorf("%v, %v, how far %q", got, err, b.values["share-bar"])
	}
	// one that is wanted while an older one is still waited for: the older leaves the wait alone
	f.share.last = nil
	b.lists = func() (string, string, error) { f.share.ordered++; return "", "", ErrStopped }
	f.shareOut("shims", "x")
	b.want(t, "the newer is still waited for", f.lists, "shims")
}

// A change while it is about to be shared out puts it off: the wait before it is over without a sharing-out.
func TestSharingPutOff(t *testing.T) {
	f, b, n := withSharing(t)
	b.turn()
	before := *n
	f.at(t, 2, "note")
	f.Act("begin")
	f.Act("commit", "changed", 0, 0)
	f.share.soon()
	first := b.later[len(b.later)-1]
	f.share.soon()
	first()
	if *n != before || b.marks["sharing"] != "1" {
		t.Errorf("%d sharings, mark %s", *n-before, b.marks["sharing"])
	}
	b.turn()
	if *n != before+1 || b.marks["sharing"] != "0" {
		t.Errorf("%d sharings, mark %s", *n-before, b.marks["sharing"])
	}
}

// A printing waits for the packs that are on their way, and begins those that are about to be.
func TestPrintingWaits(t *testing.T) {
	f, b, n := withSharing(t)
	for b.marks["sharing"] != "1" {
		all := b.later
		b.later = nil
		for _, g := range all {
			g()
		}
	}
	f.Do("print")
	if *n != 1 || len(b.printed) != 1 || b.marks["sharing"] != "0" {
		t.Errorf("%d sharings, %d printings, mark %s", *n, len(b.printed), b.marks["sharing"])
	}
	b.turn()
	f.Do("print")
	if *n != 1 || len(b.printed) != 2 {
		t.Errorf("%d sharings, %d printings", *n, len(b.printed))
	}
	// one that is under way
	x := &sharedOut{at: "another"}
	f.share.running = x
	b.later = []func(){func() {
		if len(b.printed) != 2 {
			t.Error("it did not wait")
		}
		x.done, f.share.running = true, nil
		for _, g := range x.waits {
			g()
		}
	}}
	if f.Do("print"); len(b.printed) != 3 || !x.done || len(x.waits) != 1 {
		t.Errorf("%d printings, done %v", len(b.printed), x.done)
	}
	b.printed = b.printed[:2]
	// but not for ever
	f.share.running = &sharedOut{at: "another"}
	f.Do("print")
	if len(b.printed) != 3 {
		t.Error("nothing was printed")
	}
}
