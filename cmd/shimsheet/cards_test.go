package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The command writes a card a machine, of one machine where that is asked for, and refuses what it does not know.
func TestCards(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "list.csv"), filepath.Join(dir, "cards.html")
	if err := os.WriteFile(in, []byte("Machine,Speed,Area\nP-1,1480,Intake\nP-2,1480,Boiler\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	var o, e strings.Builder
	for _, c := range []struct {
		args  string
		cards int
		first string
	}{{"", 2, "P-1"}, {"-by area", 2, "P-2"}, {"-machine p-2 -paper letter", 1, "P-2"}} {
		if got := run(append([]string{"cards", in, "-o", out}, strings.Fields(c.args)...), &o, &e, embedded); got != exitOK {
			t.Fatalf("%s: status %d, %s", c.args, got, e.String())
		}
		b, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		cards := strings.Split(string(b), "<section")[1:]
		if len(cards) != c.cards || !strings.Contains(cards[0], "Card of "+c.first) {
			t.Errorf("%s: %d cards, the first %.80s", c.args, len(cards), cards)
		}
	}
	for _, args := range []string{"", "-o x.pdf", "-o x.html -paper a5", "-o x.html -by colour", "-o x.html -machine none"} {
		if got := run(append([]string{"cards", in}, strings.Fields(args)...), &o, &e, embedded); got != exitNothing {
			t.Errorf("%q: status %d", args, got)
		}
	}
}
