package sentences

import (
	"strings"
	"testing"

	"shimsheet/internal/calc"
)

// The reason of a verdict says that a magnitude is one from the wanted line if there is a wanted line other than straight, whichever of its numbers makes it so, and not else. A cross-and-yoke shaft's
// wanted offset is none of what is judged.
func TestWhySaysFromWhere(t *testing.T) {
	base := []string{"Speed=1480", "Method=line", "Given offset V=0.8", "Given offset H=-0.6", "Given slope V=3", "Given slope H=-2", "Coupling to front feet=300", "Front to rear feet=500", "Spacer length=400", "Slope limit=0.5"}
	for _, c := range []struct {
		cells []string
		from  bool
	}{
		{[]string{"Coupling=short"}, false}, {[]string{"Coupling=spacer"}, false}, {[]string{"Coupling=universal"}, false},
		{[]string{"Coupling=short", "Running offset V=0.01"}, true}, {[]string{"Coupling=short", "Running offset H=-0.01"}, true},
		{[]string{"Coupling=short", "Running slope V=0.05"}, true}, {[]string{"Coupling=spacer", "Running slope H=-0.05"}, true}, {[]string{"Coupling=universal", "Running slope H=0.05"}, true},
		{[]string{"Coupling=universal", "Running offset V=0.5"}, false},
	} {
		e, r := one(t, append(append([]string{}, base...), c.cells...)...)
		why := string(e.AppendWhy(nil, r))
		if r.Verdict != calc.Outside || strings.Contains(why, "from the wanted line") != c.from {
			t.Errorf("%v: %v, %q", c.cells, r.Verdict, why)
		}
	}
}

// The sentence on limits names each limit that there is with its own number, in the unit shown.
func TestLimitsAreNamed(t *testing.T) {
	for _, c := range []struct {
		cells    []string
		has, not string
	}{
		{[]string{"Coupling=short", "Offset limit=0.07", "Slope limit=0.4"}, "offset 0.07 mm", "offset 0.4"},
		{[]string{"Coupling=short", "Offset limit=0.07", "Slope limit=0.4"}, "slope 0.4 mm/m", "slope 0.07"},
		{[]string{"Coupling=spacer", "Spacer length=400", "Slope limit=0.4"}, "Held to slope 0.4 mm/m", "offset"},
	} {
		e, _ := one(t, append([]string{"Speed=1480", "Method=line", "Given offset V=0.3", "Given offset H=0", "Given slope V=0", "Given slope H=0"}, c.cells...)...)
		said := ""
		for _, s := range e.Sentences(0) {
			if s.Kind == SentenceHint && strings.Contains(strings.ToLower(s.Text), "limits") {
				said = s.Text
			}
		}
		if !strings.Contains(said, c.has) || strings.Contains(said, c.not) || !strings.Contains(said, "stricter than published") {
			t.Errorf("%v: %q", c.cells, said)
		}
	}
}
