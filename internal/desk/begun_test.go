package desk

import (
	"fmt"
	"testing"
	"time"
)

// A new job that was laid out ahead of time is like any other but for its name.
func TestBegin(t *testing.T) {
	plain, ahead := begin(t), page{t, New("test", nil)}
	ahead.d.Begin()
	if ahead.d.job != nil {
		t.Error("a job lies open before one is asked for")
	}
	ahead.d.now = func() time.Time { return time.Date(2026, 4, 14, 9, 30, 0, 0, time.UTC) }
	laid := ahead.d.begun.job.ID
	is, want := ahead.ask("new"), plain.ask("state")
	for _, round := range []string{"as it opens", "after some rows", "a second one"} {
		if is["id"] == want["id"] || is["id"] == laid {
			t.Errorf("%s: both are called %v", round, is["id"])
		}
		is["id"], want["id"] = nil, nil
		is["changed"], want["changed"], is["header"], want["header"] = nil, nil, nil, nil // of what was asked last
		if fmt.Sprint(is) != fmt.Sprint(want) {
			t.Errorf("%s:\n%v\n%v", round, is, want)
		}
		switch round {
		case "as it opens":
			for _, p := range []page{plain, ahead} {
				p.paste("Machine\tSpeed [rpm]\nP-101\t1480\n")
				p.ask("work", 60_000)
			}
			is, want = ahead.ask("state"), plain.ask("state")
		case "after some rows":
			laid = ahead.d.job.ID
			is, want = ahead.ask("new"), plain.ask("new")
		}
	}
}
