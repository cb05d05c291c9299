package sentences

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// Conditions that nothing else looked at.
func TestLeftConditions(t *testing.T) {
	cases(t, job.Warning, reverse, "", []jobCase{
		// what the job says of its decimal sign is not overruled by a cell that has the other
		{"Coupling to front feet=410,5", "Job:\nDecimal sign=point", "error Machines row 2, Coupling to front feet: \"410,5\" …\n"},
		// blanks number no feet, and are no mistake
		{"", "Job:\nFeet numbered= \u00a0 ", ""},
	})
}

// What there is to do is told of machines: of a flange how it slides, of feet none of its bolts, of a row that is none nothing.
func TestTodoOfWhat(t *testing.T) {
	const head = "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Mounting,Bolts,Bolt circle,First bolt,Coupling to flange\n"
	for _, c := range []struct {
		row                   string
		feet, bolts, pushes   int
		slide, missing, shown bool
	}{
		{"A,1480,line,-0.3,0.2,0,0,300,500,feet,,,,", 4, 0, 2, false, false, true},
		{"A,1480,line,-0.3,0.2,1,0,,,flange,4,400,0,300", 0, 4, 0, true, false, true},
		{"A,1480,line,-0.3,0.2,1,0,,,flange,,,,300", 0, 0, 0, false, true, true},
		{"Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Mounting,Bolts,Bolt circle,First bolt,Coupling to flange", 0, 0, 0, false, true, false},
	} {
		e := work(t, list(t, head+"first,1480,line,0,0,0,0,300,500,feet,,,,\n"+c.row+"\n"))
		x := e.Todo(1)
		if len(x.Feet) != c.feet || len(x.Bolts) != c.bolts || len(x.Pushes) != c.pushes || (x.Slide != "") != c.slide || (x.Missing != "") != c.missing {
			t.Errorf("%s: %d feet, %d bolts, %d pushes, slide %q, missing %q", c.row, len(x.Feet), len(x.Bolts), len(x.Pushes), x.Slide, x.Missing)
		}
		for _, past := range []int{-1, e.Len(), e.Len() + 7} {
			if x := e.Todo(past); x.Missing != words.TodoNoCoupling.String() || len(x.Feet) > 0 {
				t.Errorf("row %d: %+v", past, x)
			}
		}
		if !c.shown && x.Missing != words.TodoNoCoupling.String() {
			t.Errorf("a header further down: %q", x.Missing)
		}
	}
}

// A machine that stays where it is is told that, and no more, whatever else is missing.
func TestTodoOfOneThatStays(t *testing.T) {
	e := work(t, list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\nA,1480,line,0.01,0,0,0\nB,1480,line,0.5,0,0,0\n"))
	if x := e.Todo(0); x.Missing != words.SentenceStand.String() {
		t.Errorf("%q", x.Missing)
	}
	if x := e.Todo(1); !strings.HasPrefix(x.Missing, words.TodoNoFeet.String()+" ") {
		t.Errorf("%q", x.Missing)
	}
}

// Seen: a flange that only goes up was to be slid "0.10 mm towards 12 o'clock and 0.00 mm towards the 3 o'clock side".
func TestSlideTellsNoZero(t *testing.T) {
	const head = "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Mounting,Bolts,Bolt circle,Coupling to flange\n"
	const left = " (left, standing behind the movable machine looking at the coupling)"
	for _, c := range []struct{ given, want string }{
		{"-0.3,0.2,1,0", "Slide the flange 0.30 mm towards 12 o'clock and 0.20 mm towards the 9 o'clock side" + left},
		{"-0.3,0,0,0", "Slide the flange 0.30 mm towards 12 o'clock"},
		{"0.3,0.004,0,0", "Slide the flange 0.30 mm towards 6 o'clock"},
		{"0,0.2,0,0", "Slide the flange 0.20 mm towards the 9 o'clock side" + left},
		{"0.001,-0.2,0,0", "Slide the flange 0.20 mm towards the 3 o'clock side" + strings.Replace(left, "left", "right", 1)},
		{"0,0,2,0", "The flange need not be slid"},
	} {
		e := work(t, list(t, head+"A,1480,line,"+c.given+",flange,4,400,0\n"))
		if got := e.Todo(0).Slide; got != c.want {
			t.Errorf("%s: %q, want %q", c.given, got, c.want)
		}
	}
}
