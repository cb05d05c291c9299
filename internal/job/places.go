package job

import "strings"

// A Place is what a word of a header says of where a reading was taken.
type Place struct {
	Position int  // 0 to 3: 12, 3, 6, 9 o'clock; 4: 12 again
	Manner   byte // c clock, d degrees, s sides
}

var places = map[string]Place{
	"12": {0, 'c'}, "3": {1, 'c'}, "6": {2, 'c'}, "9": {3, 'c'},
	"0": {0, 'd'}, "90": {1, 'd'}, "180": {2, 'd'}, "270": {3, 'd'}, "360": {4, 'd'},
	"top": {0, 's'}, "t": {0, 's'}, "up": {0, 's'}, "right": {1, 's'}, "r": {1, 's'}, "rt": {1, 's'},
	"bottom": {2, 's'}, "b": {2, 's'}, "bot": {2, 's'}, "btm": {2, 's'}, "left": {3, 's'}, "l": {3, 's'}, "lt": {3, 's'},
}

// PlaceOf is the place that a word in small letters names; ok is false for any other word.
func PlaceOf(word string) (p Place, ok bool) {
	p, ok = places[word]
	return p, ok
}

// placeIn is the place that a cell names which holds nothing else: 12, 90°, Top, 3 o'clock.
func placeIn(cell string) (Place, bool) {
	s := strings.ToLower(strings.TrimSpace(cell))
	for _, end := range [...]string{"o'clock", "o’clock", "h", "°", "deg", "."} {
		if t := strings.TrimSpace(strings.TrimSuffix(s, end)); t != s {
			s = t
			break
		}
	}
	return PlaceOf(s)
}

// placesUnder says for each column whether the lower of two lines names the place of a reading there, and the upper what was read, as in
//
//	Machine | Rim dial on the pump [mil] |   |   |   | Note
//	        | 12                         | 3 | 6 | 9 |
//
// whatever the name above: at least three places of one manner under a name that reaches over the blank cells to its right, or stands over each of them. nil where there are none, and where
// the lower line is a row of the list: it has something in another column that is a number, or in the column of the machines.
func placesUnder(upper, lower []string, kind SheetKind) []bool {
	if kind != MachinesSheet {
		return nil
	}
	under := make([]bool, max(len(upper), len(lower)))
	found := false
	for c := 0; c < len(under); {
		name := cellOf(upper, c)
		var seen [5]bool
		first, to, n := Place{}, c, 0
		for ; to < len(under) && name != ""; to++ {
			if up := cellOf(upper, to); up != name && (up != "" || to == c) {
				break
			}
			p, ok := placeIn(cellOf(lower, to))
			if ok && n == 1 && p.Manner == 'c' && first == places["0"] {
				first.Manner = 'c' // 0, 3, 6, 9: the top, and no degrees
			}
			if !ok || n > 0 && p.Manner != first.Manner {
				break
			}
			if n == 0 {
				first = p
			}
			if !seen[p.Position] {
				n++
			}
			seen[p.Position] = true
		}
		if n < 3 {
			c++
			continue
		}
		found = true
		for ; c < to; c++ {
			under[c] = true
		}
	}
	if !found {
		return nil
	}
	for c := range under {
		low := cellOf(lower, c)
		if under[c] || low == "" {
			continue
		}
		if id, _, _ := MatchHeader(kind, cellOf(upper, c)); IsNumber(low) && unitWord(low) == "" || id == ColMachine {
			return nil
		}
	}
	return under
}

// linesJoined says whether the lower line is the upper one joined with more already, which is so in a list that was parted before: each of its names begins with the one above it.
func linesJoined(upper, lower []string) bool {
	group, joined := "", 0
	for c := range max(len(upper), len(lower)) {
		up, low := cellOf(upper, c), joinWords(cellOf(lower, c))
		if up != "" {
			group, _ = unitBehind(up)
		}
		switch {
		case low == joinWords(up):
		case group != "" && strings.HasPrefix(low, group+" "):
			joined++
		default:
			return false
		}
	}
	return joined >= 3
}

// joinNames puts the lower line of a header behind the upper, before a unit in brackets at its end.
func joinNames(group, low string) string {
	name, unit := unitBehind(group)
	if unit != "" {
		unit = " " + unit
	}
	return name + " " + joinWords(low) + unit
}

// unitBehind parts a unit in brackets at the end of a name; unit is "" where there is none.
func unitBehind(s string) (name, unit string) {
	s = joinWords(s)
	if i := strings.LastIndexAny(s, "[("); i > 0 && (s[i] == '[' && s[len(s)-1] == ']' || s[i] == '(' && s[len(s)-1] == ')') && unitWord(s[i:]) != "" {
		return strings.TrimSpace(s[:i]), s[i:]
	}
	return s, ""
}
