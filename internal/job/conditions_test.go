package job

import (
	"reflect"
	"slices"
	"strings"
	"testing"
)

// How wide most rows of a list are, counted by hand: rows of one cell and those with a line end in a cell do not count; of two widths as frequent the one that was so frequent first; where no row counts, the first line of the text.
func TestUsualWidth(t *testing.T) {
	for text, want := range map[string]int{
		"a,b\nc,d,e\nf,g,h\n": 3, "a,b,c\nd,e\nf,g\n": 2, "a,b\nc,d,e\n": 2, "a,b,c\nd,e\n": 3, "a,b\nc,d\ne,f,g\nh,i,j\n": 2, "a,b\nc,d,e\nf,g,h\ni,j\nk,l,m\n": 3, "a\nb\nc,d\n": 2, "a,b,c,d\nx,y\nx,y\nx,y,z\nx,y,z\nx,y,z\n": 3,
		"a,b,\"c\nd\"\ne,f,\"g\nh\"\n": 3, "a,b,\"c\nd\"\ne,f\n": 2, "a,b,\"c\nd\"\ne,f,\"g\nh\"\ni,j\n": 2, "a,b,c,\"d\r\ne\"\r\n": 4, "a\nb\n": 1,
	} {
		s := splitter{text: text, sep: ','}
		rows := s.rows(-1)
		if got := s.usualWidth(rows); got != want {
			t.Errorf("%q: %d cells, by hand %d", text, got, want)
		}
	}
}

// A row of units below a header: each column gets its own; over the first of a family of readings and blanks beside it the unit is the family's, but not past a column of another kind, nor into another family, nor into a column with a
// unit of its own; a dash says that there is none.
func TestUnitsBelowNames(t *testing.T) {
	LoadColumns()
	for _, c := range []struct{ names, row, want string }{
		{"Machine,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9", ",mil,,,", "Machine,Movable rim 12 [mil],Movable rim 3 [mil],Movable rim 6 [mil],Movable rim 9 [mil]"},
		{"Movable rim 12,Note,Movable rim 3", "mil,,", "Movable rim 12 [mil],Note,Movable rim 3"},
		{"Movable rim 12,Nothing known,Movable rim 3", "mil,,", "Movable rim 12 [mil],Nothing known,Movable rim 3"},
		{"Movable rim 12,Speed,Movable rim 3", "mil,,", "Movable rim 12 [mil],Speed,Movable rim 3"},
		{"Movable rim 12,Movable rim 3,Stationary rim 12,Stationary rim 3", "mil,,mm,", "Movable rim 12 [mil],Movable rim 3 [mil],Stationary rim 12 [mm],Stationary rim 3 [mm]"},
		{"Movable rim 12,Movable rim 3,Stationary rim 12,Stationary rim 3", "mil,,,", "Movable rim 12 [mil],Movable rim 3 [mil],Stationary rim 12,Stationary rim 3"},
		{"Movable rim 12,Movable rim 3,Movable rim 6", "mil,-,", "Movable rim 12 [mil],Movable rim 3,Movable rim 6"},
		{"Movable rim 12,Movable rim 3,Movable rim 6", "mil,mm,", "Movable rim 12 [mil],Movable rim 3 [mm],Movable rim 6 [mm]"},
		{"Coupling to front feet,Front to rear feet", "mm,", "Coupling to front feet [mm],Front to rear feet"},
		{"Movable rim 12 [mm],Movable rim 3", "mm,", "Movable rim 12 [mm],Movable rim 3 [mm]"},
		{"Movable rim 12 [mm],Movable rim 3", "mil,", "Movable rim 12 [mm or mil],Movable rim 3 [mil]"},
		{"Movable rim 12,Movable sag at 6", "mil,", "Movable rim 12 [mil],Movable sag at 6"},
	} {
		names, row := strings.Split(c.names, ","), strings.Split(c.row, ",")
		if got := strings.Join(withUnits(names, row, MachinesSheet), ","); got != c.want {
			t.Errorf("%q under %q: %q, want %q", c.row, c.names, got, c.want)
		}
		if strings.Join(names, ",") != c.names {
			t.Errorf("%q was changed", c.names)
		}
	}
}

// Places under a name: three at least, of one manner; two are none, and a place that comes twice counts once.
func TestThreePlacesUnderAName(t *testing.T) {
	LoadColumns()
	for _, c := range []struct{ upper, lower, want string }{
		{"Machine,Rim dial,,,", ",12,3,6,9", "01111"}, {"Machine,Rim dial,,", ",12,3,6", "0111"}, {"Machine,Rim dial,", ",12,3", ""}, {"Machine,Rim dial,,", ",12,3,3", ""}, {"Machine,Rim dial,,,", ",12,3,6,12", "01111"},
		{"Machine,Rim dial,,,Face dial,,,", ",12,3,6,12,3,6,9", "01111111"}, {"Machine,Rim dial,,,,Face dial,,,", ",12,3,6,9,0,90,180,270", "011111111"}, {"Machine,Rim dial,,", ",12,90,6", ""}, {"Machine,Rim dial,,", ",Top,Right,Bottom", "0111"},
		{"Machine,Rim dial,Rim dial,Rim dial", ",0°,90°,180°", "0111"}, {"Machine,,,", ",12,3,6", ""}, {"Machine,Rim dial,,", "P 1,12,3,6", ""}, {"Machine,Rim dial,,,Speed", ",12,3,6,,1480", ""}, {"Machine,Rim dial,,,Note", ",12,3,6,,", "01110"},
		// Seen in a trial list: the units of the other columns in the line of the places, 1/min among them, taken for a number; the top called 0.
		{"Machine,Speed,Rim dial,,,", ",1/min,12,3,6,9", "001111"}, {"Machine,Rim dial,,,", ",0,3,6,9", "01111"}, {"Machine,Rim dial,,,", ",0,3,90,180", ""}, {"Machine,Rim dial,,", ",3,0,6", ""},
	} {
		upper, lower := strings.Split(c.upper, ","), strings.Split(c.lower, ",")
		got := ""
		for _, u := range placesUnder(upper, lower, MachinesSheet) {
			got += map[bool]string{false: "0", true: "1"}[u]
		}
		if strings.TrimRight(got, "0") != strings.TrimRight(c.want, "0") {
			t.Errorf("%q over %q: %q, want %q", c.upper, c.lower, got, c.want)
		}
		if placesUnder(upper, lower, StockSheet) != nil {
			t.Errorf("%q over %q in a stock", c.upper, c.lower)
		}
	}
}

// The rows of a Job sheet stay as typed whatever they hold: no header is looked for among them, and no unit.
func TestSettingsStayAsTyped(t *testing.T) {
	rows := [][]string{{"Setting", "Value"}, {"Units", "metric"}, {"Value", "Setting"}, {"Name", "Spring"}, {"mm", "mil"}, {"Setting", "Value"}, {"Order", "x"}}
	for from := range 2 {
		tab := &Table{Name: "Job", FirstRow: 1, Rows: slices.Clone(rows[from:])}
		tab.SplitHeader(SettingsSheet)
		all := append(slices.Clone(tab.Title), tab.Rows...)
		if len(tab.Header) > 0 {
			all = append(append(slices.Clone(tab.Title), tab.Header), tab.Rows...)
		}
		if !reflect.DeepEqual(all, rows[from:]) {
			t.Errorf("%q came to title %q, header %q, rows %q", rows[from:], tab.Title, tab.Header, tab.Rows)
		}
	}
}

// A text with one of length and checksum, with both in the other order, twice, or with something behind them is damaged; without either it is an older file if it ends as a job does, else cut short.
func TestSealsThatAreNone(t *testing.T) {
	whole, err := NewJob().Seal()
	if err != nil {
		t.Fatal(err)
	}
	text := string(whole)
	i, k := strings.LastIndex(text, sealLength), strings.LastIndex(text, sealDigest)
	length, digest := text[i:k], text[k:len(text)-1]
	for what, s := range map[string]string{"the checksum alone": text[:i] + digest + "}", "the length alone": text[:i] + length + "}", "the other order": text[:i] + digest + length + "}", "something behind": text + "x", "the checksum twice": text[:len(text)-1] + digest + "}",
		"a short checksum": strings.Replace(text, digest, digest[:len(digest)-3]+`"`, 1), "no number": text[:i] + sealLength + "many" + digest + "}", "another length": text[:i] + sealLength + "7" + digest + "}", "a letter changed": strings.Replace(text, `"revision":0`, `"revision":1`, 1),
		"nothing before": sealDigest + "x", "cut": text[:i-1]} {
		sealed, err := CheckSeal(s)
		if _, damaged := err.(*Damage); sealed || !damaged {
			t.Errorf("%s: %v, %v", what, sealed, err)
		}
	}
	for what, s := range map[string]string{"as it is": text, "with line ends": text + "\r\n\t "} {
		if sealed, err := CheckSeal(s); !sealed || err != nil {
			t.Errorf("%s: %v, %v", what, sealed, err)
		}
	}
	for what, s := range map[string]string{"an older one": text[:i] + "}", "no job": "hello", "nothing": ""} {
		if sealed, err := CheckSeal(s); sealed || err != nil {
			t.Errorf("%s: %v, %v", what, sealed, err)
		}
	}
	if SealDigest(whole) != text[k+len(sealDigest):len(text)-len(sealEnd)] || SealDigest([]byte(text[:i]+"}")) != "" || SealDigest(whole[1:]) != SealDigest(whole) || SealDigest(nil) != "" {
		t.Errorf("%q", SealDigest(whole))
	}
}
