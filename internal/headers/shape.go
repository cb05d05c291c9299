package headers

import (
	"cmp"
	"slices"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Shape is how the machines of a list lie in its cells. Everything else here takes [ByRows].
type Shape int

// The shapes.
const (
	ByRows    Shape = iota // a machine a row, or nothing that can be told
	ByColumns              // turned on its side: a machine a column, the names in front of the rows
	ByValues               // a value a row: one column holds the names, another the values
	ByDials                // a dial a row: the places of the readings are columns, and one column names the dial
	ByBlocks               // a block of rows for each machine, the same names in front of the rows of each
)

// Sentence says what is wrong with a list of this shape; "" of ByRows.
func (s Shape) Sentence() string { return shapeWords[s].String() }

var shapeWords = [...]words.Key{words.SentenceNone,
	words.HeaderShapeTurned,
	words.HeaderShapeValues,
	words.HeaderShapeDials,
	words.HeaderShapeBlocks,
}

// HintShape says what to do with a list that is not one machine a row: straight is what ShapeOf made of it.
func HintShape(straight [][]string) string {
	if straight == nil {
		return words.HeaderShapeHint.String()
	}
	return words.HeaderShapeHintPage.String()
}

// mostShaped is in how many rows the shape of a list is looked for.
const mostShaped = 400

// ShapeOf says how the machines lie in the rows of a list. For another shape than ByRows it returns the same list one machine a row, header first: every text of the list stands in
// it once. The rows are nil where that cannot be done without leaving something out, as where two rows give one machine the same value. before is what was matched before.
func ShapeOf(rows [][]string, before []evaluate.OwnHeader) (Shape, [][]string) {
	rows = slices.DeleteFunc(slices.Clone(rows), job.BlankRow)
	if len(rows) < 2 {
		return ByRows, nil
	}
	head := rows[:min(len(rows), mostShaped)]
	asItIs := namesFound(head, before)
	if len(rows) <= 200 && asItIs < 3 { // no machine has as many values, and none of its names stands over the columns
		turned := transposed(rows)
		if n := turnedNames(turned, before); n >= max(3, 2*asItIs) {
			if namedAgain(rows) >= 2 {
				return ByBlocks, nil
			}
			if c := &turned[0][0]; strings.TrimSpace(*c) == "" { // the corner of a table is often left blank
				*c = "Machine"
			}
			return ByColumns, turned
		}
	}
	if shape, straight := ofTall(rows, before, asItIs); shape != ByRows {
		return shape, straight
	}
	if asItIs < 3 && namedAgain(head) >= 2 {
		return ByBlocks, nil
	}
	return ByRows, nil
}

// ofTall is ShapeOf of a list that may have more rows than machines, and asItIs names over its columns.
func ofTall(rows [][]string, before []evaluate.OwnHeader, asItIs int) (Shape, [][]string) {
	at := FindHeader(job.MachinesSheet, rows, before)
	if at < 0 {
		if at = slices.IndexFunc(rows, func(r []string) bool { n, filled := namesIn(r); return n >= 3 && n == filled }); at < 0 {
			return ByRows, nil
		}
	}
	for k := range job.NumSheets { // a list for another sheet, such as readings one a row
		if _, filled := namesIn(rows[at]); k != job.MachinesSheet && filled >= 3 && knownNames(k, rows[at]) == filled {
			return ByRows, nil
		}
	}
	l := tall{header: rows[at], rows: rows[at+1:], title: rows[:at]}
	if l.machine = l.machineColumn(before); l.machine < 0 {
		return ByRows, nil
	}
	if machines := len(l.different(l.machine)); machines == 0 || machines*2 > len(l.rows) {
		return ByRows, nil
	}
	if asItIs < 4 && l.findValues() {
		return ByValues, l.straight()
	}
	if l.findDials() {
		return ByDials, l.straight()
	}
	return ByRows, nil
}

// namesFound is how many columns of the rows as they stand have a name that is known, was matched before or can be guessed at.
func namesFound(rows [][]string, before []evaluate.OwnHeader) int {
	h := FindHeader(job.MachinesSheet, rows, before)
	if h < 0 {
		return 0
	}
	n := 0
	for _, c := range Look(List{Kind: job.MachinesSheet, Header: rows[h], Rows: rows[h+1:], Before: before}) {
		if c.State != Unread && c.Filled > 0 {
			n++
		}
	}
	return n
}

func knownNames(kind job.SheetKind, header []string) (n int) {
	for _, h := range header {
		if job.FindColumn(kind, h) != nil {
			n++
		}
	}
	return n
}

// turnedNames is how many names of columns the first column of a list holds, where that is at least half of what stands in it; it is the first row of the turned list or, where the
// rows were numbered, the second. A question that is no reading in a series does not count: a machine called Pump 2 is one.
func turnedNames(turned [][]string, before []evaluate.OwnHeader) (most int) {
	for h := range turned[:max(min(len(turned)-1, 2), 0)] {
		names, filled := namesIn(turned[h])
		if names < 3 || names < filled || h > 0 && slices.ContainsFunc(turned[0], func(s string) bool { return strings.TrimSpace(s) != "" && !isNumber(s) }) {
			continue
		}
		n := 0
		for _, c := range Look(List{Kind: job.MachinesSheet, Header: turned[h], Rows: turned[h+1:], Before: before}) {
			if c.State != Unread && (c.State != Asked || c.Series != 0) && c.Filled > 0 {
				n++
			}
		}
		if n*2 >= filled {
			most = max(most, n)
		}
	}
	return most
}

// namedAgain is how many names of inputs and dials stand more than once in the first column.
func namedAgain(rows [][]string) (again int) {
	times := map[string]int{}
	for _, r := range rows {
		if len(r) == 0 {
			continue
		}
		s := strings.ToLower(strings.TrimSpace(r[0]))
		if c := job.FindColumn(job.MachinesSheet, s); c == nil && !namesADial(s) {
			continue
		}
		if times[s]++; times[s] == 2 {
			again++
		}
	}
	return again
}

// transposed are the rows turned: columns as rows. Columns of which every cell is empty are left out.
func transposed(rows [][]string) [][]string {
	width := 0
	for _, r := range rows {
		width = max(width, len(r))
	}
	var out [][]string
	for c := range min(width, 4096) {
		col := make([]string, len(rows))
		for i, r := range rows {
			if c < len(r) {
				col[i] = r[c]
			}
		}
		if !job.BlankRow(col) {
			out = append(out, col)
		}
	}
	return out
}

// A tall list has more rows than machines.
type tall struct {
	title   [][]string
	header  []string
	rows    [][]string
	machine int
	name    int   // the column that names the value, or the dial
	values  []int // the columns of values; with one of them its header says nothing
	unit    int   // the column of units, −1 none
}

// at is the text of a cell.
func (l *tall) at(row, col int) string {
	if col < 0 || col >= len(l.rows[row]) {
		return ""
	}
	return strings.TrimSpace(l.rows[row][col])
}

// machineColumn is the column that names the machine.
func (l *tall) machineColumn(before []evaluate.OwnHeader) int {
	for _, c := range Look(List{Kind: job.MachinesSheet, Header: l.header, Rows: l.rows[:min(len(l.rows), mostShaped)], Before: before}) {
		if c.Key == "machine" || c.State == Asked && slices.Contains(c.Keys, "machine") {
			return c.Col
		}
	}
	for c := range l.header { // else the first of texts
		if l.share(c, func(s string) bool { return !isNumber(s) }) == 1 {
			return c
		}
	}
	return -1
}

// share is how many of the filled cells of a column are as said, from 0 to 1; 0 of an empty column.
func (l *tall) share(col int, is func(string) bool) float64 {
	filled, n := 0, 0
	for i := range l.rows[:min(len(l.rows), mostShaped)] {
		if s := l.at(i, col); s != "" {
			filled++
			if is(s) {
				n++
			}
		}
	}
	return float64(n) / float64(max(filled, 1))
}

// findValues finds a column of names and one of values right of it.
func (l *tall) findValues() bool {
	for c := range l.header {
		if c == l.machine || l.share(c, namesAColumn) < 0.75 || len(l.different(c)) < 3 {
			continue
		}
		l.name, l.values, l.unit = c, nil, -1
		for v := range l.header {
			if v != c && v != l.machine && len(l.values) == 0 && v > c && l.share(v, beginsAValue) >= 0.75 {
				l.values = []int{v}
			} else if v != c && v != l.machine && l.share(v, isUnit) == 1 {
				l.unit = v
			}
		}
		return len(l.values) > 0
	}
	return false
}

func beginsAValue(s string) bool { return job.IsNumber(s) }

// namesAColumn says whether a text is the name of a column of inputs, or names a reading by its dial and place.
func namesAColumn(s string) bool {
	c := job.FindColumn(job.MachinesSheet, s)
	if c != nil {
		return true
	}
	words := significant(tokens(s))
	if len(words) == 0 || isNumber(s) {
		return false
	}
	for _, x := range spellings()[job.MachinesSheet] {
		if likeness(words, x.words) >= enough {
			return true
		}
	}
	return false
}

// findDials finds columns that name bare places of readings, and a column that names the dial, where a machine has more than one row.
func (l *tall) findDials() bool {
	l.values, l.unit = nil, -1
	var seen [4]bool
	for c, h := range l.header {
		if w := tokens(h); len(w) == 1 {
			if p, ok := job.PlaceOf(w[0]); ok {
				l.values = append(l.values, c)
				if p.Position < 4 {
					seen[p.Position] = true
				}
			}
		}
	}
	if places := slices.DeleteFunc(seen[:], func(s bool) bool { return !s }); len(places) < 3 {
		return false
	}
	for c := range l.header {
		if c == l.machine || slices.Contains(l.values, c) || l.share(c, namesADial) < 1 || len(l.different(c)) < 2 {
			continue
		}
		l.name = c
		return true
	}
	return false
}

// namesADial says whether a text has a word for a dial.
func namesADial(s string) bool {
	words := significant(tokens(s))
	return slices.ContainsFunc(words, func(w string) bool {
		return w == "rim" || w == "face" || w == "gap" || slices.Contains(short.means(w), "rim") || slices.Contains(short.means(w), "face") || w == "movable" || w == "stationary"
	}) && !isNumber(s)
}

// different are the different texts of a column in their order.
func (l *tall) different(col int) (out []string) {
	seen := map[string]bool{}
	for i := range l.rows {
		if s := l.at(i, col); s != "" && !seen[strings.ToLower(s)] {
			seen[strings.ToLower(s)] = true
			out = append(out, s)
		}
	}
	return out
}

// straight is the list one machine a row; nil where something would be left out. A machine that is not named again is the one above.
func (l *tall) straight() [][]string {
	type column struct{ from, name int } // the column it comes from, and which name; −1: as it stands
	var columns []column
	var header []string
	names := l.different(l.name)
	index := map[string]int{}
	for i, n := range names {
		index[strings.ToLower(n)] = i
	}
	for c, h := range l.header {
		h = strings.TrimSpace(h)
		switch {
		case c == l.name, c == l.unit:
		case slices.Contains(l.values, c):
			if c != l.values[0] {
				continue
			}
			for i, n := range names {
				for _, v := range l.values {
					columns = append(columns, column{v, i})
					if len(l.values) > 1 {
						header = append(header, n+" "+strings.TrimSpace(l.header[v]))
					} else {
						header = append(header, n)
					}
				}
			}
		default:
			columns, header = append(columns, column{c, -1}), append(header, h)
		}
	}
	place := map[column]int{}
	for i, c := range columns {
		place[c] = i
	}
	var out [][]string
	rowOf := map[string]int{}
	last := ""
	for i := range l.rows {
		last = cmp.Or(l.at(i, l.machine), last)
		n, named := index[strings.ToLower(l.at(i, l.name))]
		if last == "" {
			return nil
		}
		at, ok := rowOf[strings.ToLower(last)]
		if !ok {
			at = len(out)
			rowOf[strings.ToLower(last)] = at
			out = append(out, make([]string, len(columns)))
		}
		row := out[at]
		put := func(c column, s string) bool {
			to := &row[place[c]]
			if *to != "" && *to != s {
				return false
			}
			*to = s
			return true
		}
		for c := range max(len(l.rows[i]), l.machine+1) {
			s := l.at(i, c)
			switch {
			case c == l.machine:
				s = last
			case s == "", c == l.name, c == l.unit && l.at(i, l.values[0]) != "":
				continue
			}
			switch {
			case c >= len(l.header), c == l.unit:
				return nil // a text under no name
			case slices.Contains(l.values, c):
				if u := l.at(i, l.unit); u != "" && !hasUnit(s) {
					s += " " + u
				}
				if !named || row[place[column{c, n}]] != "" || !put(column{c, n}, s) {
					return nil
				}
			case !put(column{c, -1}, s):
				return nil
			}
		}
	}
	return append(append(slices.Clone(l.title), header), out...)
}

// hasUnit says whether a value bears its own unit.
func hasUnit(s string) bool {
	_, err := units.Parse(s, units.Number, units.None, units.Either)
	return err != nil
}
