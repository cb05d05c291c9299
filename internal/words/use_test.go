package words

import (
	"strings"
	"testing"
)

// A catalogue of another language has the same keys with the same values; where it has not, it is told in which line.
func TestCompare(t *testing.T) {
	english := "# said\na.b = {0} of {1}\nc.d = x\n"
	for _, c := range []struct{ other, want string }{
		{"c.d = y\na.b = {1} von {0}\n", ""},
		{"a.b = {1} von {0}", "c.d is missing, line 3 of the English catalogue"},
		{"c.d = y\n# z\na.b = {0}", "line 3: a.b has other values"},
		{"a.b = {1} von {0}\nc.d = y{0}", "line 2: c.d has other values"},
		{"a.b = {1} von {0}\nc.d = y\n\ne.f = z", "line 4: nobody shows e.f"},
		{"a.b = {1} von {0}\nc.d = y\nc.d = z", "line 3: c.d stands twice"},
		{"a.b = {1} von {0}\nc.d y", "line 2 is not `key = text`"},
	} {
		all, err := Compare(english, c.other)
		if c.want == "" && (err != nil || all["a.b"] != "{1} von {0}" || all["c.d"] != "y") || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%q: %v, %v, want %q", c.other, all, err, c.want)
		}
	}
}

// In the words of another catalogue everything is said, by key and by name, whatever the order of its lines; one that is refused changes nothing.
func TestUse(t *testing.T) {
	defer func() {
		if err := Use(Catalogue); err != nil || StageWaiting.String() != "waiting" {
			t.Error(err, StageWaiting)
		}
	}()
	list := strings.Split(strings.NewReplacer("stage.waiting = waiting", "stage.waiting = wartet", "card.to = {0} to {1}", "card.to = von {0} nach {1}").Replace(Catalogue), "\n")
	for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
		list[i], list[j] = list[j], list[i]
	}
	for range 2 {
		if err := Use(strings.Join(list, "\n")); err != nil {
			t.Fatal(err)
		}
		if StageWaiting.String() != "wartet" || StageIsolated.String() != "isolated" || Text("card.to", "a", "b") != "von a nach b" {
			t.Error(StageWaiting, StageIsolated, Text("card.to", "a", "b"))
		}
	}
	if Use("a.b = c") == nil || StageWaiting.String() != "wartet" {
		t.Error("a catalogue of one text was taken")
	}
}
