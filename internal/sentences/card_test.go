package sentences

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
)

// Whatever a job and a machine are called, the code of a card says it again, in characters that a scanner can type; and no other text is taken for one.
func TestCardCode(t *testing.T) {
	//evidence: calc=code of a card grade=identity count=2000 source=any text of job, machine and round, written as a code and read again
	rng := rand.New(rand.NewPCG(4, 17))
	alphabet := []rune("abcXYZ 0189-_.,/%:;|\"'<>&\n\tÄöß漢\u202e")
	text := func() string {
		r := make([]rune, rng.IntN(20))
		for i := range r {
			r[i] = alphabet[rng.IntN(len(alphabet))]
		}
		return string(r)
	}
	for range 2000 {
		c := CardCode{text(), text(), text()}
		s := c.String()
		for _, x := range []byte(s) {
			if x < ' ' || x > '~' {
				t.Fatalf("%q holds %q", s, x)
			}
		}
		if got, ok := ParseCardCode(s); !ok || got != c {
			t.Fatalf("%q read as %q", s, got)
		}
	}
	if c, ok := ParseCardCode("  SHIMSHEET-CARD:Job/P-101/found\r\n"); !ok || c != (CardCode{"Job", "P-101", "found"}) {
		t.Error("as a scanner types it:", c, ok)
	}
	for _, s := range []string{"", "P-101", "shimsheet-card:a/b", "shimsheet-card:a/b/c/d", "shimsheet-card:a/%4/c", "shimsheet-card:a/%zz/c", "shimsheet-card:a/b/c%"} {
		if c, ok := ParseCardCode(s); ok {
			t.Errorf("%q is taken for the code of %v", s, c)
		}
	}
}

// A card says the pieces that the evaluator gives, counts what is to be taken along, and names the round to be read next.
func TestCardSaysWhatThePacksSay(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, without...)
	j.Machines.Header = append(j.Machines.Header, "Work order", "Isolation", "Area", "Crew")
	j.Machines.Rows[0] = append(j.Machines.Rows[0], "4711", "V-12", "Intake", "B")
	with(t, j, job.RoundsSheet, roundsHead+"pump,found,,,,,,,,"+rimRow(calc.Line{DV: 0.3, TV: 0.4, DH: 0.1, TH: -0.2})+"\n")
	e := work(t, j)
	c, ok := e.Card(0)
	if !ok || c.Round != "1" || c.Area != "Intake" || c.Crew != "B" || c.Numbers[0][1] != "4711" || c.Numbers[1][1] != "V-12" {
		t.Fatalf("%v %+v", ok, c)
	}
	count := map[string]int{}
	for _, p := range e.Packs(0) {
		if p.Change.Status != packs.ChangeUnlisted {
			for _, x := range p.Pieces {
				count[string(e.AppendPack(nil, x))]++
			}
		}
	}
	total := 0
	for _, s := range c.Take {
		n, piece, _ := strings.Cut(s, " × ")
		if count[piece] == 0 || n != string(rune('0'+count[piece])) {
			t.Errorf("to take along: %s, the packs have %d", s, count[piece])
		}
		total++
	}
	if total != len(count) {
		t.Errorf("%v to take along, the packs have %v", c.Take, count)
	}
	if len(c.Sweeps) != 2 || !slices.Equal(c.Sweeps[0].At, []string{"12", "3", "6", "9", "12 again"}) {
		t.Errorf("boxes for %+v", c.Sweeps)
	}
	if e.FindCard(CardCode{"", " PUMP ", "1"}) != 0 || e.FindCard(CardCode{"", "motor", "1"}) != -1 {
		t.Error("the machine of a code is not found, or one that is not there is")
	}
}

// Seen: the card of a machine that was not read yet had no wanted readings, though they follow from distances, sag and growth. They are those of the card once it is read.
func TestCardWantedBeforeReading(t *testing.T) {
	card := func(cells ...string) Card {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, cells...)
		e := work(t, j)
		before := e.Row(0).Verdict
		c, ok := e.Card(0)
		if !ok || e.Row(0).Verdict != before {
			t.Fatal("no card, or it changed the row")
		}
		return c
	}
	grown := []string{"Growth movable front V=0.2", "Growth movable rear V=0.3", "Movable sag at 6=-0.08", "Stationary sag at 6=-0.08"}
	want := card(change(reverse, grown...)...)
	if !want.Wanted || len(want.Sweeps) != 2 || len(want.Sweeps[0].Wanted) != 4 || len(want.Sweeps[1].Wanted) != 4 || want.Sweeps[0].Wanted[0] != "0.00" || want.Sweeps[1].Wanted[2] == want.Sweeps[0].Wanted[2] {
		t.Fatalf("%+v", want.Sweeps)
	}
	for _, by := range [][]string{{"Method=reverse indicator"}, {"Movable rim 12=", "Stationary rim 12="}} { // by the method, or by the columns there are
		got := card(change(change(without, grown...), by...)...)
		if !got.Wanted || len(got.Sweeps) != 2 || !slices.Equal(got.Sweeps[0].Wanted, want.Sweeps[0].Wanted) || !slices.Equal(got.Sweeps[1].Wanted, want.Sweeps[1].Wanted) {
			t.Errorf("%v: %+v, want %+v", by, got.Sweeps, want.Sweeps)
		}
	}
	if c := card(change(without[:1], grown...)...); c.Wanted {
		t.Errorf("wanted readings without distances: %+v", c.Sweeps)
	}
}
