package frame

import (
	"fmt"

	"shimsheet/internal/desk"
	"shimsheet/internal/screens"
)

// sharing is the stock shared out over the job, for the packs on the page and for the lists: by a worker, of itself a moment after a change, and once for each state of the job. Until it is done
// the program says of its packs that they are from a full box.
type sharing struct {
	f       *Frame
	last    *sharedOut // of a state of the job
	running *sharedOut
	timer   func() // stops it
	ordered int    // counts what screens asked for
}

// A sharedOut is one sharing-out.
type sharedOut struct {
	at                   string // the state of the job
	lists, sharing, when string
	err                  error
	done                 bool
	waits                []func()              // for its end
	far                  []func(share float64) // hear how far it is
}

func (s *sharing) at() string { return fmt.Sprint(s.f.state.Desk, " ", s.f.state.Changes) }

// mark says on the page whether a sharing-out is under way or about to be.
func (s *sharing) mark() {
	on := "0"
	if s.timer != nil || s.running != nil {
		on = "1"
	}
	s.f.b.Mark("sharing", on)
}

func (s *sharing) wanted() bool {
	a, _ := s.f.ask("sharing")
	return a.yes("wanted")
}

// begin is the sharing-out of the job as it is: done, under way, or begun now.
func (s *sharing) begin() *sharedOut {
	at := s.at()
	if s.last != nil && s.last.at == at {
		return s.last
	}
	if s.running != nil && s.running.at == at {
		return s.running
	}
	s.halt()
	mine := &sharedOut{at: at, when: s.f.stamp()}
	s.running = mine
	s.mark()
	s.f.b.Go(func() {
		mine.lists, mine.sharing, mine.err = s.f.b.Lists(mine.when, func(share float64) {
			for _, g := range mine.far {
				g(share)
			}
		})
		mine.done = true
		if mine.err == nil && at == s.at() {
			s.last = mine
			s.take(mine)
		} else if mine.err != nil && mine.err != ErrStopped && at == s.at() {
			s.show("notShared", screens.Sentence(mine.err.Error()))
		}
		if s.running == mine {
			s.running = nil
		}
		s.mark()
		for _, g := range mine.waits {
			g()
		}
	})
	return mine
}

// lists waits for the lists of the job as it is; far hears how far they are.
func (s *sharing) lists(far func(share float64)) (*sharedOut, error) {
	x := s.begin()
	if !x.done {
		x.far = append(x.far, far)
		s.f.b.Await(func(done func()) { x.waits = append(x.waits, done) })
	}
	return x, x.err
}

// show has the packs shown be others.
func (s *sharing) show(op string, args ...desk.Value) {
	f := s.f
	a, whole, ok := f.asked(op, args...)
	if !ok {
		return
	}
	f.know(stateOf(a))
	f.b.ViewState(whole)
	f.redraw()
	f.soon("info", true)
	f.update(false, true, false)
	f.pump()
}

// take puts the packs on the page, when nobody is in the middle of a cell.
func (s *sharing) take(x *sharedOut) {
	if x.at != s.at() || !s.wanted() {
		return
	}
	if s.f.cell.open != "" {
		s.f.b.Later(300, func() { s.take(x) })
		return
	}
	s.show("shared", x.sharing, x.when)
}

func (s *sharing) halt() {
	if s.timer != nil {
		s.timer()
		s.timer = nil
	}
}

// soon begins one after a change, when every row is worked out.
func (s *sharing) soon() {
	s.halt()
	if (s.last == nil || s.last.at != s.at()) && s.wanted() {
		s.timer = s.f.b.Later(min(700+s.f.state.Rows, 5000), func() { // a long job takes long, and is not to be begun again at every cell
			s.timer = nil
			s.begin()
			s.mark()
		})
	}
	s.mark()
}

// settled waits for what is on its way, but not for ever.
func (s *sharing) settled() {
	if s.timer != nil {
		s.begin()
	}
	if x := s.running; x != nil {
		s.f.b.Await(func(done func()) {
			x.waits = append(x.waits, done)
			s.f.b.Later(4000, done)
		})
	}
}
