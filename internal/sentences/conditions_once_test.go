package sentences

import (
	"strings"
	"testing"
)

// A card of a machine that nothing is known of has room for the readings whose columns the list has: not for those of a column beside them, of sags or distances.
func TestCardRoomsByTheColumns(t *testing.T) {
	for header, want := range map[string]string{
		"Movable rim 12": "Movable rim", "Movable rim 12,Movable sag at 6": "Movable rim", "Movable sag at 6,Stationary sag at 6,Face sag at 6": "", "Speed,Coupling to front feet": "", "Step 9": "Step", "Face 3,Gap 6": "Face, Gap", "Nobody knows": "",
		"Movable rim 6,Second rim 12": "Movable rim, Second rim",
	} {
		tab := list(t, "Machine,"+header+"\npump\n")
		e := work(t, tab)
		c, ok := e.Card(0)
		var names []string
		for _, s := range c.Sweeps {
			names = append(names, s.Name)
		}
		if got := strings.Join(names, ", "); !ok || got != want {
			t.Errorf("%s: %s, want %s", header, got, want)
		}
	}
}

// A card's code leads to the first machine of its name, whatever its case; to none where no machine has it.
func TestFindCardByName(t *testing.T) {
	e := work(t, list(t, "Machine,Speed\nP 2,1480\np 1,1480\nP 1,1480\n,1480\nP 2,990\n"))
	for name, want := range map[string]int{"P 2": 0, "P 1": 1, "p 1": 1, "": -1, "P 3": -1} {
		if got := e.FindCard(CardCode{Machine: name}); got != want {
			t.Errorf("%q: row %d, want %d", name, got, want)
		}
	}
}
