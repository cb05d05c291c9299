package sentences

import (
	"strings"
	"testing"

	"shimsheet/internal/calc"
)

// Four feet are tightened crosswise, beginning at the coupling, whatever the order they are listed in; others in the order of the list from the coupling outwards, 9 o'clock first.
func TestOrderOfTightening(t *testing.T) {
	feet := []string{"pump,front 9,300,-200", "pump,front 3,300,200", "pump,rear 9,800,-200", "pump,rear 3,800,200"}
	for _, order := range [][]int{{0, 1, 2, 3}, {3, 2, 1, 0}, {2, 0, 3, 1}, {1, 3, 0, 2}} {
		text := "Machine,Foot,Along,Across\n"
		for _, k := range order {
			text += feet[k] + "\n"
		}
		e, r := grown(t, change(reverse, "Coupling to front feet", "Front to rear feet"), "Feet", text)
		if got := e.tightenOrder(r); got != "front 9, rear 3, front 3, rear 9" {
			t.Errorf("listed %v: %s; %v", order, got, r.Problems)
		}
	}
	e, r := grown(t, change(reverse, "Coupling to front feet", "Front to rear feet"), "Feet", "Machine,Foot,Along,Across\n"+feet[3]+"\npump,middle 9,550,-200\n"+feet[1]+"\n"+feet[0]+"\n"+feet[2]+"\npump,middle 3,550,200\n")
	if got := e.tightenOrder(r); got != "front 9, front 3, middle 9, middle 3, rear 9, rear 3" {
		t.Errorf("%s; %v", got, r.Problems)
	}
	e, r = one(t, reverse...)
	if got := e.tightenOrder(r); got == "" || strings.Contains(got, "rear 3,  ") {
		t.Errorf("%q", got)
	}
}

// A machine that is not read yet is told what it will be held to by nothing: what belongs to readings is said with readings alone.
func TestUnreadSaysNothingOfReadings(t *testing.T) {
	const feet = "Machine,Foot,Gap\npump,front 9,0\npump,front 3,0\npump,rear 9,0\npump,rear 3,0.3\n"
	text := func(cells []string) string {
		e, _ := grown(t, cells, "Feet", feet)
		s := ""
		for _, x := range e.Sentences(0) {
			s += x.Text + "\n"
		}
		return s
	}
	read := text(reverse)
	for _, w := range []string{"Held to offset", "Sag of the bracket not given", "comes from the readings of"} {
		if !strings.Contains(read, w) {
			t.Errorf("%q is not in\n%s", w, read)
		}
	}
	unread := reverse
	for _, h := range []string{"12", "3", "6", "9"} {
		unread = change(unread, "Movable rim "+h, "Stationary rim "+h)
	}
	_, r := grown(t, unread, "Feet", feet)
	if r.HasLine() || !r.Stopped() || r.Verdict != calc.NotJudged {
		t.Errorf("%v %v %v", r.HasLine(), r.Stopped(), r.Problems)
	}
	if got := text(unread); strings.Contains(got, "Held to offset") || strings.Contains(got, "Sag of the bracket") || strings.Contains(got, "where the feet stand across") {
		t.Error(got)
	}

}
