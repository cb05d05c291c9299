package grid

import (
	"slices"
	"testing"
)

// Days go on by their step, over the ends of months and leap days, forwards and back; days that are not one step apart, or that are none, are repeated as they stand. By the calendar.
func TestDaysGoOn(t *testing.T) {
	for _, c := range []struct {
		seeds []string
		back  bool
		want  []string
	}{
		{[]string{"2028-02-28"}, false, []string{"2028-02-29", "2028-03-01", "2028-03-02"}},
		{[]string{"2026-12-24", "2026-12-31"}, false, []string{"2027-01-07", "2027-01-14", "2027-01-21"}},
		{[]string{"2026-03-01", "2026-03-02"}, true, []string{"2026-02-28", "2026-02-27", "2026-02-26"}},
		{[]string{"2026-03-10", "2026-03-05"}, false, []string{"2026-02-28", "2026-02-23", "2026-02-18"}},
		{[]string{"2026-01-01", "2026-01-03", "2026-01-04"}, false, []string{"2026-01-01", "2026-01-03", "2026-01-04"}},
		{[]string{"2026-02-30"}, false, []string{"2026-02-30", "2026-02-30", "2026-02-30"}},
	} {
		got := Extrapolate(c.seeds, 3, c.back)
		if c.seeds[0] == "2026-02-30" { // no day: a number behind other text, or repeated; never a day of another month
			if slices.Contains(got, "2026-03-01") || slices.Contains(got, "2026-03-02") {
				t.Errorf("%q: %q", c.seeds, got)
			}
			continue
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.seeds, got, c.want)
		}
	}
	if got := Extrapolate([]string{"9999-12-30"}, 3, false); slices.ContainsFunc(got, func(s string) bool { return len(s) != 10 }) {
		t.Errorf("past the last year: %q", got)
	}
}
