package evaluate

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// What is usual for a column can be set, and asked about is what lies outside, once a column: counted by hand. Seen: for a column with a
// number in its name, such as Movable rim 3, none could be set.
func TestWhatIsUsual(t *testing.T) {
	rows := "Machine,Speed,Spacer length,Movable rim 3,Growth movable front V,Front room up\nA,5,400,0.1,0.2,1\nB,70000,400,12,0.2,1\nC,60000,12001,-12.5,31,201\nD,10,7,13,-30,200\nE,9.99,8,0,30,0\n"
	for _, c := range []struct {
		setting string
		want    string // column: first row asked about, and how many more
		bad     int    // problems of the setting
	}{
		{"", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 0}, {"no", "", 0}, {"Off", "", 0}, {"yes", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 0},
		{"Speed 1 to 90000 rpm", "Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 0}, {"Speed 1 to 90000 rpm; Spacer length 0.001 m to 20 m;", "Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 0},
		{"Speed 10 to 100", "Speed 2 3|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 0}, {"Movable rim 3 -20 to 20 mm", "Speed 2 2|Spacer length 4 1|Growth movable front V 4 0|Front room up 4 0", 0},
		{"Speed 5", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 1}, {"Speed 100 to 10", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 1}, {"no such 1 to 2; Speed to", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 2},
		{"Note 1 to 2", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 1}, {"Coupling 1 to 2", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 1}, {"Speed 1 to x", "Speed 2 2|Spacer length 4 1|Movable rim 3 4 1|Growth movable front V 4 0|Front room up 4 0", 1},
	} {
		j := list(t, rows)
		j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Plausible ranges", c.setting}}}
		e := work(t, j)
		var got []string
		bad := 0
		for _, p := range e.Problems() {
			if p.Sheet == "Job" {
				bad++
				continue
			}
			if p.Severity != job.Warning || !strings.Contains(p.Text.String(), "usual") {
				continue
			}
			more := "0"
			if m := regexp.MustCompile(`(\d+) more`).FindStringSubmatch(p.Text.String()); m != nil {
				more = m[1]
			}
			got = append(got, p.Column+" "+strconv.Itoa(p.Row)+" "+more)
			if !strings.Contains(p.Text.String(), `"`+j.Machines.Cell(p.Row-2, p.Col)+`"`) {
				t.Errorf("%s: %s", p.Column, p.Text)
			}
		}
		if s := strings.Join(got, "|"); s != c.want || bad != c.bad {
			t.Errorf("%q: %s, %d problems\nwant %s", c.setting, s, bad, c.want)
		}
	}
}
