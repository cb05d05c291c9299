package job

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shimsheet/internal/units"
)

// How a list stands in its rows. Planners put titles above the header, write it in two lines, put a row of units under or over it, say the unit of all
// readings in a title, and begin again further down with the columns in another order. [Table.SplitHeader] brings each of these into one plain form, the same
// for a file, a workbook and a block from the clipboard: one header row that bears the units in brackets, and every row under it with its cells in that
// header's columns. What was typed in a cell stays as it is. Where a unit can be read in two ways the header bears both, as in [mm or mil], which is no unit: every
// bare number under it is refused.

// A heading is a header as it stands in the rows from … to-1, its lines joined and a row of units in brackets behind the names.
type heading struct {
	from, to int
	names    []string
	Known    int // names that lead to a column
}

// findHeading finds the first header of the rows. The rules for one line are those of [FindHeader]; two lines are joined where that makes more known names.
func findHeading(rows [][]string, kind SheetKind) (heading, bool) {
	LoadColumns()
	if kind == SettingsSheet { // every row begins with a known name; only "Name, Value" is a header
		for i, row := range rows[:min(len(rows), MaxTitle)] {
			if SettingsHeader(row) {
				return heading{i, i + 1, row, 2}, true
			}
		}
		return heading{}, false
	}
	single := heading{from: -1}
	for i := range rows[:min(len(rows), MaxTitle)] {
		h, filled := HeadingAt(rows, i, kind)
		if h.Known == 2 && h.to == i+1 && labelled(rows[i]) && i+1 < len(rows) {
			if next, _ := HeadingAt(rows, i+1, kind); next.Known > 2 {
				continue
			}
		}
		if h.Known >= 3 || h.Known == 2 && filled <= 8 {
			h.takeUnits(rows, kind)
			return h, true
		}
		if h.Known == 1 && filled <= 2 && single.from < 0 {
			single = h
		}
	}
	if single.from >= 0 {
		single.takeUnits(rows, kind)
		return single, true
	}
	return heading{}, false
}

// HeadingAt reads row i as a header, with the row below it where both together make more known names than either alone.
func HeadingAt(rows [][]string, i int, kind SheetKind) (h heading, filled int) {
	h = heading{from: i, to: i + 1, names: rows[i]}
	h.Known, filled = countKnown(rows[i], kind)
	if filled == 0 || i+1 >= len(rows) {
		return h, filled
	}
	if !slices.ContainsFunc(rows[i], func(s string) bool { return !Blank(s) && !IsNumber(s) }) {
		return h, filled
	}
	if linesJoined(rows[i], rows[i+1]) {
		both, n := countKnown(rows[i+1], kind)
		return heading{i, i + 2, rows[i+1], both}, n
	}
	below, _ := countKnown(rows[i+1], kind)
	under := placesUnder(rows[i], rows[i+1], kind)
	names := joinLines(rows[i], rows[i+1], under, kind)
	if both, n := countKnown(names, kind); both > max(h.Known, below) && both >= 3 || under != nil && h.Known >= 2 && both >= h.Known {
		return heading{i, i + 2, names, both}, n
	}
	return h, filled
}

// countKnown counts the columns that cells of a row are names of, and the cells that are filled. Of a row that names no column but by words that also stand in that column, as OK is a name of Done and a
// word under it, nobody can tell that it is a header: it has none.
func countKnown(row []string, kind SheetKind) (known, filled int) {
	var seen [16]ColumnID
	name := false
	for _, cell := range row {
		if Blank(cell) {
			continue
		}
		filled++
		c, _, _ := MatchHeader(kind, cell)
		if c == NoColumn {
			continue
		}
		if known < len(seen) {
			if slices.Contains(seen[:known], c) && c.Info().Quantity == QChoice {
				continue
			}
			seen[known] = c
		}
		known++
		if !name && c.Info().Quantity == QChoice {
			_, word := ChoiceIndex(c, cell)
			name = !word
		} else {
			name = true
		}
	}
	if !name {
		known = 0
	}
	return known, filled
}

// joinLines joins the two lines of a header. A name of the upper line reaches over the blank cells to its right, as merged cells do, where that makes a
// known name, and over places of readings ([placesUnder]; nil none); where a name alone and the joined one are both known and lead to different columns, both are given: no one can tell.
func joinLines(upper, lower []string, under []bool, kind SheetKind) []string {
	out := make([]string, max(len(upper), len(lower)))
	group, inGroup := "", 0
	for c := range out {
		up, low := cellOf(upper, c), cellOf(lower, c)
		if up != "" {
			group, inGroup = up, c
		}
		switch {
		case low == "":
			out[c] = up
			continue
		case up == "" && group == "":
			out[c] = low
			continue
		}
		joined := joinNames(group, low)
		j, _, _ := MatchHeader(kind, joined)
		alone, _, _ := MatchHeader(kind, low)
		switch {
		case j != NoColumn && alone != NoColumn && j != alone && inGroup != c:
			out[c] = alone.Info().Name + WordOr + j.Info().Name
		case j != NoColumn:
			out[c] = joined
		case alone != NoColumn:
			out[c] = low
		case up == "" && (under == nil || !under[c]):
			out[c] = low
		default:
			out[c] = joined
		}
	}
	return out
}

func cellOf(row []string, c int) string {
	if c >= len(row) || Blank(row[c]) {
		return ""
	}
	return strings.TrimSpace(row[c])
}

func joinWords(s string) string { return strings.Join(strings.Fields(s), " ") }

// takeUnits takes in a row of units directly under the header or over it.
func (h *heading) takeUnits(rows [][]string, kind SheetKind) {
	if h.to < len(rows) && isUnitsRow(rows[h.to], h.names, kind) {
		h.names = withUnits(h.names, rows[h.to], kind)
		h.to++
	} else if h.from > 0 && isUnitsRow(rows[h.from-1], h.names, kind) && Wordy(rows[h.from-1]) && (!isLabel(rows[h.from-1][0]) || unitsIn(rows[h.from-1]) > 1) {
		h.names = withUnits(h.names, rows[h.from-1], kind)
		h.from--
	}
	out := slices.Clone(h.names)
	for c, name := range out {
		if n, u, has := SplitUnit(kind, name); has && !strings.ContainsAny(name, "[(") {
			out[c] = n + " [" + u + "]"
		}
	}
	h.names = out
}

// unitWord is what a cell of a row of units says, "" where it is no unit of any kind.
func unitWord(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > 40 {
		return ""
	}
	s = strings.TrimSpace(strings.Trim(s, "[]()"))
	s = strings.TrimSpace(strings.TrimPrefix(s, "in "))
	for _, k := range units.Kinds() {
		if k == units.Number {
			continue
		}
		if _, ok := units.ParseHeaderUnit(s, k); ok {
			return s
		}
	}
	return ""
}

func unitsIn(row []string) (n int) {
	for _, cell := range row {
		if unitWord(cell) != "" {
			n++
		}
	}
	return n
}

// RowOfUnits is what a row of units and nothing else says of each column, whatever the names above it are; nil: it is no such row.
func RowOfUnits(row []string) []string {
	out := make([]string, len(row))
	for c, s := range row {
		if out[c] = unitWord(s); out[c] == "" && !Blank(s) && !NotGiven(s) {
			return nil
		}
	}
	if IsLegend(row) || unitsIn(row) < 2 {
		return nil
	}
	return out
}

// isUnitsRow says whether a row holds the units of the columns: two units at least, or nothing else in the columns that take one, and no number.
func isUnitsRow(row, names []string, kind SheetKind) bool {
	word, other := 0, 0
	if IsLegend(row) {
		return false
	}
	for _, s := range row {
		if BeginsNumber(s) && OnlyNumbers(s) {
			return false // no unit is written so
		}
	}
	for c, s := range row {
		if Blank(s) {
			continue
		}
		u := unitWord(s)
		id := NoColumn
		if c < len(names) {
			id, _, _ = MatchHeader(kind, names[c])
		}
		if id == NoColumn || id.Info().Quantity.Kind() == units.Number {
			if u == "" && IsNumber(s) {
				return false
			}
			continue
		}
		switch {
		case u != "":
			word++
		case IsNumber(s):
			return false
		case !NotGiven(s):
			other++
		}
	}
	return word >= 2 && word >= other || word == 1 && other == 0
}

// withUnits puts a row of units behind the names. A unit over the first of a family of readings and blanks beside it is meant for the family. A name that bears
// another unit already gets both, which is none.
func withUnits(names, row []string, kind SheetKind) []string {
	out := slices.Clone(names)
	last, lastFamily := "", -1
	for c := range out {
		id, _, _ := MatchHeader(kind, out[c])
		if id == NoColumn || id.Info().Quantity.Kind() == units.Number {
			last, lastFamily = "", -1
			if u := unitWord(cellOf(row, c)); id == NoColumn && u != "" && !Blank(out[c]) && !strings.ContainsAny(out[c], "[(") {
				out[c] = joinWords(out[c]) + " [" + u + "]" // whoever matches the name wants to know
			}
			continue
		}
		fam := -1
		if kind == MachinesSheet && id >= ColReading && id < ColMovableSag {
			fam = int(id-ColReading) / NumPositions
		}
		u := cellOf(row, c)
		switch {
		case NotGiven(u):
			u = ""
		case u == "" && fam >= 0 && fam == lastFamily:
			u = last
		default:
			if w := unitWord(u); w != "" {
				u = w
			}
		}
		last, lastFamily = u, fam
		if u != "" {
			out[c] = WithUnit(out[c], u, kind)
		}
	}
	return out
}

// WithUnit puts a unit in brackets behind the name of a column. A name that bears another unit already gets both, which is none: no one can tell.
func WithUnit(name, unit string, kind SheetKind) string {
	id, _, _ := MatchHeader(kind, name)
	n, old, has := SplitUnit(kind, name)
	if !has || Blank(old) {
		return joinWords(n) + " [" + unit + "]"
	}
	q := id.Info().Quantity.Kind()
	a, okA := units.ParseHeaderUnit(old, q)
	b, okB := units.ParseHeaderUnit(unit, q)
	if okA && okB && a == b {
		return name
	}
	return joinWords(n) + " [" + old + WordOr + unit + "]"
}

// WordOr joins what a header could mean.
const WordOr = " or "

// IsNumber says whether a text begins like a number: a sign perhaps, and a digit.
func IsNumber(s string) bool {
	if BeginsNumber(s) {
		return true
	}
	s = strings.TrimLeft(strings.TrimSpace(s), "+-–−.,'’")
	return s != "" && s[0]-'0' < 10
}

// SplitHeader looks for the header among the rows and parts the table there: what stands above becomes Title. It brings the list into its plain form: see above. It
// reports whether a header was found; without one the table stays as it is. Rows already parted are looked at afresh.
func (t *Table) SplitHeader(kind SheetKind) bool {
	rows, first := t.Rows, max(t.FirstRow, 1)
	if t.Header != nil {
		rows = append(append(append([][]string{}, t.Title...), t.Header), t.Rows...)
		first -= len(t.Title) + 1
	}
	h, ok := findHeading(rows, kind)
	if !ok {
		return false
	}
	t.arrange(kind, rows, first, h)
	return true
}

// SplitHeaderAt is SplitHeader with the header in a row that somebody chose.
func (t *Table) SplitHeaderAt(kind SheetKind, row int) {
	LoadColumns()
	for len(t.Rows) <= row {
		t.Rows = append(t.Rows, nil)
	}
	h := heading{from: row, to: row + 1, names: t.Rows[row]}
	if kind != SettingsSheet {
		if both, _ := HeadingAt(t.Rows, row, kind); both.to == row+2 {
			h = both
		}
		h.takeUnits(t.Rows, kind)
	}
	t.arrange(kind, t.Rows, max(t.FirstRow, 1), h)
}

// Rename gives the columns other names, in the order of the header, and reads the list with them: what names that were not known left unread, such as a row of units under them or the unit
// that a title says of the readings, counts now. A list with further headers stays as it is brought into its columns; of it only what titles say is read.
func (t *Table) Rename(kind SheetKind, header []string) {
	if t.Header = header; kind == SettingsSheet {
		return
	}
	if len(t.placed) > 0 {
		t.StateUnits(kind)
		return
	}
	at := len(t.Title)
	t.FirstRow -= at + 1
	t.Title, t.Header, t.Rows = nil, nil, slices.Concat(t.Title, [][]string{header}, t.Rows)
	t.SplitHeaderAt(kind, at)
}

// arrange parts the rows at the heading and puts the rows under further headers into its columns.
func (t *Table) arrange(kind SheetKind, rows [][]string, first int, h heading) {
	t.Title, t.Header, t.Rows = rows[:h.from:h.from], h.names, rows[h.to:]
	if extra := h.to - h.from - 1; extra > 0 { // the lines of the header are kept above it, as typed; their number is that of the rows they stand in
		t.Title = rows[: h.to-1 : h.to-1]
	}
	t.FirstRow, t.placed, t.stated = first+h.to, nil, nil
	if t.Header == nil {
		t.Header = []string{}
	}
	if kind == SettingsSheet {
		return
	}
	t.sections(kind)
	t.StateUnits(kind)
}

// sections finds headers further down and puts the rows below each into the columns of the table's header. Columns it lacks are added, one of the same meaning
// with another unit among them.
func (t *Table) sections(kind SheetKind) {
	var to []int // where the columns of the section at hand go; nil: where they stand
	cloned := false
	for i := 0; i < len(t.Rows); i++ {
		h, ok := sectionAt(t.Rows, i, t.Header, kind)
		if !ok && to == nil {
			continue
		}
		if !cloned { // the rows may belong to somebody else
			t.Rows, t.Header, cloned = slices.Clone(t.Rows), slices.Clone(t.Header), true
		}
		if !ok {
			t.Rows[i] = moved(t.Rows[i], to)
			continue
		}
		to = t.places(h.names, kind)
		plain := true
		for c, p := range to {
			plain = plain && c == p
		}
		if plain {
			to = nil
		}
		names := h.names
		if h.to == i+1 && to == nil {
			names = t.Rows[i] // a plain repeat stays as typed
		}
		t.Rows[i] = moved(names, to)
		for k := i + 1; k < h.to; k++ {
			t.Rows[k] = nil // joined to the line above
		}
		if to != nil || len(t.placed) > 0 {
			t.placed = append(t.placed, placing{i, to})
		}
	}
}

// sectionAt says whether a header stands in the rows from i on: names of columns, two at least and half of what is filled, and no number; or a row of units.
func sectionAt(rows [][]string, i int, header []string, kind SheetKind) (h heading, ok bool) {
	if !Wordy(rows[i]) {
		return h, false
	}
	filled := 0
	if MayHead(rows, i, kind) {
		h, filled = HeadingAt(rows, i, kind)
	}
	if h.Known >= 2 && 2*h.Known >= filled && (h.to == i+2 || !slices.ContainsFunc(rows[i], IsNumber)) {
		if h.to < len(rows) && isUnitsRow(rows[h.to], h.names, kind) {
			h.names = withUnits(h.names, rows[h.to], kind)
			h.to++
		}
		g := heading{from: i, to: h.to, names: h.names}
		for c, name := range g.names {
			if n, u, has := SplitUnit(kind, name); has && !strings.ContainsAny(name, "[(") {
				g.names = slices.Clone(g.names)
				g.names[c] = n + " [" + u + "]"
			}
		}
		return g, true
	}
	if isUnitsRow(rows[i], header, kind) { // rules the rows below it; where none are, nobody knows which it was written for
		bare := make([]string, len(header))
		for c, name := range header {
			bare[c] = name
			if n, _, has := SplitUnit(kind, name); has {
				bare[c] = n
			}
		}
		return heading{from: i, to: i + 1, names: withUnits(bare, rows[i], kind)}, true
	}
	return h, false
}

// SectionNames are the names of the header that stands in the rows from i on, in a table whose own is header; ok is false where none does.
func SectionNames(rows [][]string, i int, header []string, kind SheetKind) (names []string, ok bool) {
	h, ok := sectionAt(rows, i, header, kind)
	return h.names, ok
}

// MayHead says whether names of columns can fill half of row i, or of it joined with the row below, by how their texts begin. It counts as [joinLines] joins, and spares the rows of a list
// a closer look.
func MayHead(rows [][]string, i int, kind SheetKind) bool {
	var below []string
	if i+1 < len(rows) {
		below = rows[i+1]
	}
	words, filled, bothWords, bothFilled, group := 0, 0, 0, 0, false
	for c := range max(len(rows[i]), len(below)) {
		up, low := cellOf(rows[i], c), cellOf(below, c)
		if up == "" && low == "" {
			continue
		}
		if up != "" {
			filled++
			if group = mayBegin(kind, up); group {
				words++
			}
		}
		if bothFilled++; low == "" && group && up != "" || low != "" && (group || mayBegin(kind, low)) {
			bothWords++
		}
	}
	return 2*words >= filled || 2*bothWords >= bothFilled
}

// Wordy says whether a row has two texts that are no numbers, as a header has; it spares most rows a closer look.
func Wordy(row []string) bool {
	n := 0
	for _, s := range row {
		if s != "" && (s[0] < '0' || s[0] > '9') && !Blank(s) && !IsNumber(s) {
			if n++; n == 2 {
				return true
			}
		}
	}
	return false
}

// places are the columns of the table that the names of a section lead to; those it lacks are added.
func (t *Table) places(names []string, kind SheetKind) []int {
	to := make([]int, len(names))
	taken := map[int]bool{}
	for c, name := range names { // the same name first
		to[c] = -1
		for k, own := range t.Header {
			if !taken[k] && !Blank(name) && SameSpelling(name, own) && SameColumn(name, own, kind) && (to[c] < 0 || k == c) {
				to[c] = k
			}
		}
		if to[c] >= 0 {
			taken[to[c]] = true
		}
	}
	for c, name := range names {
		for k, own := range t.Header {
			if to[c] >= 0 && to[c] != c || taken[k] || !SameColumn(name, own, kind) || !meant(names, c, kind) || !meant(t.Header, k, kind) {
				continue
			}
			if to[c] < 0 || k == c {
				to[c] = k
			}
		}
		if to[c] >= 0 {
			taken[to[c]] = true
		}
	}
	inPlace := true
	for c, name := range names {
		inPlace = inPlace && (Blank(name) || to[c] == c)
	}
	for c, name := range names {
		switch {
		case Blank(name) && inPlace: // a header written only as far as somebody cared to
			to[c] = c
		case to[c] < 0:
			to[c] = len(t.Header)
			t.Header = append(t.Header, name)
		}
	}
	return to
}

// meant says whether the column c is the one that its meaning is read from where several columns of words have it, such as Item and Machine: the one with the exact
// name; where none has that nobody can tell.
func meant(names []string, c int, kind SheetKind) bool {
	id, _, _ := MatchHeader(kind, names[c])
	if id == NoColumn || id.Info().Quantity != QText {
		return true
	}
	others := 0
	for k, n := range names {
		if k == c {
			continue
		}
		if x, _, _ := MatchHeader(kind, n); x == id {
			if others++; ExactName(n, id) {
				return false
			}
		}
	}
	return others == 0 || ExactName(names[c], id)
}

// SameColumn says whether two header cells are of one meaning and one unit.
func SameColumn(a, b string, kind SheetKind) bool {
	x, ux, hasX := MatchHeader(kind, a)
	y, uy, hasY := MatchHeader(kind, b)
	if x != y {
		return false
	}
	if x == NoColumn {
		return Blank(a) && Blank(b) || !Blank(a) && joinWords(a) == joinWords(b) || !Blank(a) && SameSpelling(a, b)
	}
	k := x.Info().Quantity.Kind()
	if k == units.Number || !hasX && !hasY {
		return true
	}
	u, okU := units.ParseHeaderUnit(ux, k)
	v, okV := units.ParseHeaderUnit(uy, k)
	return hasX == hasY && okU == okV && u == v && (okU || ux == uy)
}

// moved puts the cells of a row where to says; to nil: as they stand.
func moved(row []string, to []int) []string {
	if to == nil || len(row) == 0 {
		return row
	}
	n := 0
	for c, s := range row {
		if s == "" {
			continue
		}
		if c < len(to) {
			n = max(n, to[c]+1)
		} else {
			n = max(n, c+1)
		}
	}
	out := make([]string, n)
	for c, s := range row {
		if s == "" {
			continue
		}
		at := c
		if c < len(to) {
			at = to[c]
		}
		if out[at] != "" { // a cell behind the section's last name: it keeps its text beside what came there
			s = out[at] + " " + s
		}
		out[at] = s
	}
	return out
}

// StateUnits takes the units that a title or a note says the readings or the lengths are in, for the columns without one of their own.
func (t *Table) StateUnits(kind SheetKind) {
	s := StatedUnits(t.Title, t.Rows)
	if !s.any() {
		return
	}
	cloned := false
	for c, name := range t.Header {
		id, _, has := MatchHeader(kind, name)
		if id == NoColumn || has || id.Info().Result {
			continue
		}
		q := id.Info().Quantity
		if id == ChecksValue || id == ChecksLimit { // texts, for a check may have no number
			q = QThickness
		}
		u := s.Of(q)
		if u == "" {
			continue
		}
		if !cloned {
			t.Header, cloned = slices.Clone(t.Header), true
		}
		t.Header[c] = joinWords(name) + " [" + u + "]"
		t.stated = append(t.stated, c)
	}
}

// Stated are the columns whose headers were given the unit that a title or a note says.
func (t *Table) Stated() []int { return t.stated }

// Stated is what titles and notes say of units: of readings, of distances, of speeds, of all lengths, of temperatures, of slopes, of coefficients of expansion.
type Stated struct {
	readings, lengths, speeds, all   []string
	temperatures, slopes, expansions []string

	rows [][]string // of the list
	of   string     // while a text is read that names one machine of several: its name
}

// StatedUnits reads what the rows above a list and the notes among its rows say of units.
func StatedUnits(title, rows [][]string) Stated {
	s := Stated{rows: rows}
	for _, row := range title {
		s.read(row)
		s.pairs(row)
	}
	for _, row := range rows {
		s.read(row)
	}
	return s
}

// titleUnits are the words for units that count in a title. "in" is not among them: it stands in any sentence.
var titleUnits = map[string]string{"mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "mil": "mil", "mils": "mil", "thou": "mil", "thous": "mil",
	"thousandths": "mil", "µm": "µm", "μm": "µm", "um": "µm", "micron": "µm", "microns": "µm", "micrometres": "µm", "micrometers": "µm", "inch": "in", "inches": "in", "hundredths": "0.01 mm",
	"cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm", "hundertstel": "0.01 mm", "centièmes": "0.01 mm", "centésimas": "0.01 mm"}

// speedUnits are those of a speed, and one that no speed is read in: it is told.
var speedUnits = []string{"hz", "rpm", "1/min", "min-1", "1/s", "s-1", "rps", "rad/s"}

var (
	readingWords     = []string{"reading", "readings", "dial", "dials", "indicator", "indicators", "rim", "rims", "face", "faces", "gap", "gaps", "offset", "offsets", "values", "rises", "figures", "messwerte", "lectures", "lecturas"}
	lengthWords      = []string{"distance", "distances", "dimension", "dimensions", "length", "lengths", "spacing", "spacings", "diameters", "heights", "dims", "abstände", "maße", "längen", "cotes", "distancias"}
	speedWords       = []string{"speed", "speeds", "drehzahl", "drehzahlen", "vitesse", "vitesses", "velocidad", "velocidades"}
	otherWords       = []string{"shim", "shims", "limit", "limits", "tolerance", "tolerances", "result", "results", "stock", "bolt", "bolts"} // units of these are not those of the list
	temperatureWords = []string{"temperature", "temperatures", "temp", "temps", "temperaturen", "températures", "temperaturas"}
	slopeWords       = []string{"slope", "slopes", "angularity"}
	expansionWords   = []string{"coefficient", "coefficients", "alpha", "expansion"}
	allWords         = []string{"unit", "units", "all", "everything", "numbers", "measurements"}
)

// read takes one row of a title or a note: a row with a single text, or a row before the list.
func (s *Stated) read(row []string) {
	text := ""
	for _, cell := range row {
		if cell == "" || Blank(cell) {
			continue
		}
		if text != "" && !isLabel(text) && !IsLegend(row) {
			return
		}
		text += " " + cell
	}
	if len(text) < 3 || len(text) > 400 || IsNumber(text) && len(text) < 12 {
		return
	}
	s.of = s.machineIn(text)
	if IsLegend(row) {
		at := slices.IndexFunc(row, func(cell string) bool { return !Blank(cell) })
		s.legend(row[at], strings.TrimPrefix(strings.TrimSpace(text), strings.TrimSpace(row[at])))
		return
	}
	s.words(text)
}

// SaysUnits says whether a title or a note says what numbers are in.
func SaysUnits(row []string) bool {
	var s Stated
	s.read(row)
	return s.any()
}

// any says whether anything was said.
func (s *Stated) any() bool {
	return len(s.readings)+len(s.lengths)+len(s.speeds)+len(s.all)+len(s.temperatures)+len(s.slopes)+len(s.expansions) > 0
}

// IsLegend says whether a row says the unit of a kind of quantity and nothing else: "Readings", "1/100 mm".
func IsLegend(row []string) bool {
	label, unit := "", ""
	for _, cell := range row {
		switch {
		case Blank(cell):
		case label == "":
			label = cell
		case unit == "":
			unit = cell
		default:
			return false
		}
	}
	if unitWord(unit) == "" {
		return false
	}
	about, known := legendLabel(label)
	return about && known
}

// legendLabel says whether a text names kinds of quantities, and whether it has no words but those and "all" or "unit".
func legendLabel(text string) (about, known bool) {
	for _, w := range strings.Fields(strings.ToLower(strings.TrimRight(strings.TrimSpace(text), ":="))) {
		known = true
		switch {
		case slices.Contains(readingWords, w), slices.Contains(lengthWords, w), slices.Contains(speedWords, w), slices.Contains(temperatureWords, w), slices.Contains(slopeWords, w), slices.Contains(expansionWords, w):
			about = true
		case !slices.Contains(allWords, w):
			return about, false
		}
	}
	return about, known
}

// legend takes a unit from behind its label.
func (s *Stated) legend(label, unit string) {
	unit, about := unitWord(unit), false
	for _, w := range strings.Fields(strings.ToLower(strings.TrimRight(strings.TrimSpace(label), ":="))) {
		for _, of := range [...]struct {
			words []string
			list  *[]string
		}{{readingWords, &s.readings}, {lengthWords, &s.lengths}, {speedWords, &s.speeds}, {temperatureWords, &s.temperatures}, {slopeWords, &s.slopes}, {expansionWords, &s.expansions}} {
			if slices.Contains(of.words, w) {
				*of.list, about = s.add(*of.list, unit), true
			}
		}
	}
	if !about {
		s.all = s.add(s.all, unit)
	}
}

// pairs takes the units of a row above the list that says several things, each behind its label: "Date", "30.11.2026", "Unit", "1/100 mm".
func (s *Stated) pairs(row []string) {
	var cells []string
	for _, cell := range row {
		if !Blank(cell) {
			cells = append(cells, cell)
		}
	}
	for i := 0; len(cells) > 2 && i+1 < len(cells); i++ {
		if _, known := legendLabel(cells[i]); known && unitWord(cells[i+1]) != "" && (i+2 == len(cells) || unitWord(cells[i+2]) == "") {
			s.legend(cells[i], cells[i+1])
		}
	}
}

// labelled says whether a row holds labels and values in turns, no text among the values but a unit: it is no header though a label may be a name.
func labelled(row []string) bool {
	n := 0
	for _, cell := range row {
		if Blank(cell) {
			continue
		}
		if value := IsNumber(cell) || unitWord(cell) != ""; value != (n%2 == 1) {
			return false
		}
		n++
	}
	return n >= 2 && n%2 == 0
}

// machineIn is the name of the machine that a text speaks of, where the list has several: its unit is then not that of the list. A name has a letter and a digit.
func (s *Stated) machineIn(text string) string {
	found, others := "", false
	for _, row := range s.rows {
		at := slices.IndexFunc(row, func(cell string) bool { return !Blank(cell) })
		if at < 0 || at+1 >= len(row) {
			continue
		}
		name := strings.TrimSpace(row[at])
		if len(name) < 3 || !strings.ContainsAny(name, "0123456789") || !strings.ContainsFunc(name, unicode.IsLetter) {
			continue
		}
		switch {
		case !holdsName(text, name):
			others = true
		case found == "":
			found = name
		}
		if found != "" && others {
			return found
		}
	}
	return ""
}

// holdsName says whether a name stands in a text, and not only as a part of another.
func holdsName(text, name string) bool {
	part := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for from := 0; ; {
		k := strings.Index(text[from:], name)
		if k < 0 {
			return false
		}
		before, _ := utf8.DecodeLastRuneInString(text[:from+k])
		after, _ := utf8.DecodeRuneInString(text[from+k+len(name):])
		if !part(before) && !part(after) {
			return true
		}
		from += k + len(name)
	}
}

// isLabel says whether a text announces what stands in the next cell: "Units:".
func isLabel(s string) bool {
	s = strings.ToLower(strings.TrimSpace(s))
	w := strings.TrimSpace(strings.TrimRight(s, ":="))
	return w != s || slices.Contains(allWords, w) || slices.Contains(readingWords, w)
}

// words reads one text.
func (s *Stated) words(text string) {
	words := strings.FieldsFunc(inTitle.Replace(strings.ToLower(text)), func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune("()[]\"“”", r)
	})
	var about [3]bool // readings, lengths, all
	speed := false
	lists := [3]*[]string{&s.readings, &s.lengths, &s.all}
	if open := strings.LastIndexAny(text, "(["); open > 0 && strings.HasSuffix(strings.TrimSpace(text), string(")]"[strings.IndexByte("([", text[open])])) {
		if u, ok := units.ParseHeaderUnit(strings.Trim(text[open:], "()[] "), units.Length); ok && u.Division() { // Soft foot (1/100 mm)
			s.all = s.add(s.all, u.String())
		}
	}
	other := units.Number // of temperatures, slopes or coefficients, while the text speaks of them
	taken := 0            // the words before this one are a unit that was taken
	for i, w := range words {
		bare := strings.Trim(w, ".,;:=!?")
		if i < taken {
			continue
		}
		if other = otherKind(bare, other); other != units.Number || isTemperatureUnit(bare) {
			if n := s.otherUnit(words[i:], other, i > 0 && IsNumber(words[i-1])); n > 0 {
				about, other, taken = [3]bool{}, units.Number, i+n
				continue
			}
		}
		if speed = (speed || slices.Contains(speedWords, bare)) && !slices.Contains(readingWords, bare) && !slices.Contains(lengthWords, bare); speed && slices.Contains(speedUnits, bare) && !IsNumber(words[i-1]) {
			s.speeds, speed = s.add(s.speeds, bare), false
			continue
		}
		u, ok := titleUnits[bare]
		if !ok { // 0.01mm, 1/100mm
			if v, is := units.ParseHeaderUnit(bare, units.Length); is && (v.Division() || IsNumber(bare)) {
				u, ok = v.String(), true
			}
		}
		if bare == "in" && i > 0 { // 1/1000 in; Units: in, mil
			v, is := units.ParseHeaderUnit(words[i-1]+bare, units.Length)
			if ok = is && v != units.Inch; !ok && about != [3]bool{} && (w != bare || i == len(words)-1) {
				u, ok = bare, true
			}
		}
		switch {
		case slices.Contains(readingWords, bare):
			about[0] = true
		case slices.Contains(lengthWords, bare):
			about[1] = true
		case slices.Contains(allWords, bare):
			about[2] = true
		case slices.Contains(otherWords, bare):
			about = [3]bool{}
		}
		if !ok {
			continue
		}
		if i > 0 && IsNumber(words[i-1]) {
			v, is := units.ParseHeaderUnit(words[i-1]+bare, units.Length)
			if last := v.Division() && i == len(words)-1 && i > 1 && strings.HasSuffix(words[i-2], ","); !is || i < 2 || !linking(words[i-2]) && !last {
				continue // a value: 0.05 mm; but Soft foot, 1/100 mm
			}
			u = v.String()
		}
		if about == [3]bool{} && len(words) > 4 && i < len(words)-1 && !linking(words[max(i-1, 0)]) {
			continue // a word in a sentence
		}
		if about[0] || about[1] {
			about[2] = false
		} else {
			about[2] = true
		}
		for k, dst := range lists {
			if about[k] {
				*dst = s.add(*dst, u)
			}
		}
		if strings.ContainsAny(w[len(w)-1:], ".;,") || i+1 < len(words) && !strings.ContainsAny(words[i+1], "/|&") && words[i+1] != "or" {
			about = [3]bool{}
		}
	}
}

// otherKind is what a text speaks of after a word: a temperature, a slope, a coefficient of expansion, Number none of them; before is what it spoke of.
func otherKind(w string, before units.Kind) units.Kind {
	switch {
	case slices.Contains(expansionWords, w):
		return units.Expansion
	case slices.Contains(temperatureWords, w):
		return units.Temperature
	case slices.Contains(slopeWords, w):
		return units.Slope
	case slices.Contains(readingWords, w), slices.Contains(lengthWords, w), slices.Contains(speedWords, w), slices.Contains(otherWords, w):
		return units.Number
	}
	return before
}

// isTemperatureUnit says whether a word can only be the unit of temperatures.
func isTemperatureUnit(w string) bool {
	return w == "°c" || w == "°f" || w == "degc" || w == "degf" || w == "celsius" || w == "fahrenheit"
}

// otherUnit takes the unit that a text begins with, of a kind or, where that is Number, of temperatures, and says how many words it is; 0: it begins with none, or the unit is that of a value.
func (s *Stated) otherUnit(words []string, kind units.Kind, value bool) (n int) {
	list := map[units.Kind]*[]string{units.Temperature: &s.temperatures, units.Number: &s.temperatures, units.Slope: &s.slopes, units.Expansion: &s.expansions}[kind]
	if kind == units.Number {
		kind = units.Temperature
	}
	for n = min(4, len(words)); n > 0; n-- {
		if u, ok := units.ParseHeaderUnit(strings.Trim(strings.Join(words[:n], " "), ".,;:=!?"), kind); ok && !value {
			*list = s.add(*list, u.String())
			return n
		}
	}
	return 0
}

// inTitle writes the signs of a title so that its words can be told apart.
var inTitle = strings.NewReplacer(`1/1000"`, "1/1000in", `0.001"`, "0.001in", "×", " × ", "*", " * ", " x0", " x 0", " x1/", " x 1/")

// ofOne stands behind a unit that is said of one machine.
const ofOne = " of "

// add adds a unit that was said; said of one machine of several it is no unit of the list.
func (s *Stated) add(list []string, unit string) []string {
	if s.of != "" {
		unit += ofOne + strings.Map(func(r rune) rune {
			if strings.ContainsRune("[]()", r) {
				return -1
			}
			return r
		}, s.of) + " only"
	}
	if slices.Contains(list, unit) {
		return list
	}
	return append(list, unit)
}

// linking says whether a word leads to a unit.
func linking(w string) bool {
	return w == "x" || w == "×" || w == "*" || w == "times" || w == "in" || w == "are" || w == "is" || w == "as" || w == "of" || strings.HasSuffix(w, ":") || strings.HasSuffix(w, "=") || slices.Contains(allWords, w)
}

// Of is the unit that was said for a quantity, "" none. Two of them are joined, and are none.
func (s *Stated) Of(q Quantity) string {
	reading, distance := q == QThickness || q == QSweep || q == QPieces, q == QDistance || q == QDistances
	switch q {
	case QSpeed:
		return strings.Join(s.speeds, WordOr)
	case QTemperature:
		return strings.Join(s.temperatures, WordOr)
	case QSlope:
		return strings.Join(s.slopes, WordOr)
	case QExpansion:
		return strings.Join(s.expansions, WordOr)
	}
	if !reading && !distance {
		return ""
	}
	list := s.lengths
	if reading {
		list = s.readings
	}
	if len(list) == 0 {
		for _, u := range s.all {
			if bare, _, _ := strings.Cut(u, ofOne); unitFits(bare, q) {
				list = append(list, u)
			}
		}
	}
	return strings.Join(list, WordOr)
}

// unitFits says whether a unit of length can be that of a distance along machines, or of a reading: nobody tapes in mil or reads in metres.
func unitFits(unit string, q Quantity) bool {
	u, ok := units.ParseHeaderUnit(unit, units.Length)
	if !ok {
		return false
	}
	switch u {
	case units.Mil, units.Micron, units.HundredthMM, units.TenthMil:
		return q != QDistance && q != QDistances
	case units.M, units.CM, units.Foot:
		return q == QDistance || q == QDistances
	}
	return true
}

// SplitUnit is a header cell without its unit, and the unit: "Speed", "rpm" of Speed [rpm] and of Speed rpm.
func SplitUnit(kind SheetKind, text string) (name, unit string, has bool) {
	c, unit, has := MatchHeader(kind, text)
	if c == NoColumn || !has {
		return text, "", false
	}
	if open := strings.LastIndexAny(text, "[("); open >= 0 {
		if shut := strings.IndexAny(text[open:], "])"); shut > 0 && strings.Contains(text[open:open+shut+1], unit) {
			return strings.TrimSpace(text[:open] + text[open+shut+1:]), unit, true
		}
	}
	name = strings.TrimRightFunc(text[:strings.LastIndex(text, unit)], isUnitGap)
	if _, known := lookups[kind][NormalForm(name)]; !known { // Movable rim 12 in mm
		name = strings.TrimRightFunc(strings.TrimSuffix(strings.TrimSuffix(name, "in"), "IN"), isUnitGap)
	}
	return name, unit, true
}

// HeaderParts is a header cell without its unit, and the unit in it; "" where it has none, or is no name of a column.
func HeaderParts(kind SheetKind, text string) (name, unit string) {
	LoadColumns()
	name, unit, _ = SplitUnit(kind, text)
	return strings.TrimSpace(name), unit
}

func isUnitGap(r rune) bool {
	return unicode.IsSpace(r) || r == ',' || r == '/' || r == '-' || r == '_' || r == ':' || r == ';' || r == '–'
}

// looseUnit parts a unit that stands behind a name without brackets: Speed rpm; Face 12, mil; Movable rim 3 in mm.
func looseUnit(m map[string]ColumnID, text string) (c ColumnID, unit string, ok bool) {
	var buf [MaxHeader + 64]byte
	for i := 1; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if !isUnitGap(r) {
			i += n
			continue
		}
		if id, known := m[string(AppendNormalForm(buf[:0], text[:i]))]; known && id.Info().Quantity.Kind() != units.Number {
			tail := strings.TrimFunc(text[i:], isUnitGap)
			if len(tail) > 3 && strings.EqualFold(tail[:3], "in ") {
				tail = strings.TrimSpace(tail[3:])
			}
			if unitWord(tail) == tail && tail != "" {
				return id, tail, true
			}
		}
		i += n
	}
	return NoColumn, "", false
}

// MatchColumn is the column of a header that a name of another list means: the same text, else the same meaning with numbers in the same unit; −1 none. A column of
// the same meaning in another unit is not it: numbers would change by their factor.
func MatchColumn(kind SheetKind, header []string, name string, inch bool) int {
	LoadColumns()
	if c := slices.Index(header, name); c >= 0 {
		return c
	}
	id, unit := HeaderUnit(kind, name, inch)
	if id == NoColumn {
		return -1
	}
	for c, h := range header {
		if x, u := HeaderUnit(kind, h, inch); x == id && u == unit && (unit != units.None || id.Info().Quantity.Kind() == units.Number) {
			return c
		}
	}
	return -1
}

// HeaderUnit is what a header cell means and the unit of a bare number under it; None where that is not known.
func HeaderUnit(kind SheetKind, header string, inch bool) (id ColumnID, unit units.Unit) {
	id, text, has := MatchHeader(kind, header)
	if id == NoColumn {
		return NoColumn, units.None
	}
	info := id.Info()
	if !has {
		return id, info.Unit(inch)
	}
	u, ok := units.ParseHeaderUnit(text, info.Quantity.Kind())
	if !ok {
		u = units.None
	}
	return id, u
}

// HeaderNames are the names of the header found among rows, its lines joined; nil: none is found.
func HeaderNames(rows [][]string, kind SheetKind) []string {
	h, ok := findHeading(rows, kind)
	if !ok {
		return nil
	}
	return h.names
}

// ExactName says whether a header cell bears the very name of the column, whatever its unit.
func ExactName(h string, c ColumnID) bool {
	n, _, _ := SplitUnit(c.Info().Sheet, h)
	return SameSpelling(n, c.Info().Name)
}

// NotGiven says whether a text is what people write into a cell to say that there is nothing: a dash, n/a, none, a question mark.
func NotGiven(s string) bool {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > 14 {
		return false
	}
	switch s[0] | 0x20 {
	case 'n', 't', 'u':
		return NoWord(s) || equalsOne(s, absentWords)
	}
	return NoWord(s)
}

// Words that say nothing: where a number is wanted, and also where a word is.
var absentWords, absentSigns = []string{"none", "nil", "null", "tbd", "tba", "t.b.d.", "unknown", "not known", "not given", "not measured", "not taken"},
	[]string{"n/a", "n.a.", "na", "n/m", "n.m.", "#n/a"}

func equalsOne(s string, list []string) bool {
	for _, w := range list {
		if strings.EqualFold(w, s) {
			return true
		}
	}
	return false
}

// IsBareNumber says whether a text is a number and nothing else.
func IsBareNumber(s string) bool { return IsNumber(s) && OnlyNumbers(strings.TrimSpace(s)) }

// Ditto says whether a cell says no more than that what stands above it holds here too.
func Ditto(s string) bool {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > 12 || s[0]-'0' < 10 {
		return false
	}
	marks := strings.Trim(s, "-–—_ ")
	return marks != "" && strings.Trim(marks, "\"'″”“„〃") == "" || equalsOne(s, dittoWords)
}

var dittoWords = []string{"do.", "dto", "dto.", "ditto", "dito", "idem", "id.", "as above", "same as above", "wie oben"}

// NoWord is what says nothing even where a word is wanted.
func NoWord(s string) bool {
	if BeginsNumber(s) {
		return false // as most cells do, and every cell of a list comes by here
	}
	return strings.Trim(s, "-–—−‐‑_.…=*?/~") == "" || len(s) <= 4 && equalsOne(s, absentSigns)
}

// BeginsNumber says whether a text begins with a digit, or with a minus sign and one. It is the short way of isNumber, for most numbers.
func BeginsNumber(s string) bool {
	return s != "" && (s[0]-'0' < 10 || s[0] == '-' && len(s) > 1 && s[1]-'0' < 10)
}

// ColumnLetters are the letters of a 0-based column, as a spreadsheet heads it: A, Z, AA.
func ColumnLetters(col int) string {
	var b [8]byte
	i := len(b)
	for col++; col > 0; col = (col - 1) / 26 {
		i--
		b[i] = byte('A' + (col-1)%26)
	}
	return string(b[i:])
}

// Spaced says whether a table looks like a list whose columns stand side by side by blanks only: most of its rows are one cell, which two blanks or more part in three or more.
func Spaced(t *Table) bool {
	rows, spaced := 0, 0
	for _, list := range [...][][]string{t.Title, {t.Header}, t.Rows[:min(len(t.Rows), 100)]} {
		for _, row := range list {
			filled, one := 0, ""
			for _, cell := range row {
				if !Blank(cell) {
					filled, one = filled+1, cell
				}
			}
			if filled == 0 {
				continue
			}
			rows++
			parts := 0
			for part := range strings.SplitSeq(strings.TrimSpace(one), "  ") {
				if strings.TrimSpace(part) != "" {
					parts++
				}
			}
			if filled == 1 && parts >= 3 {
				spaced++
			}
		}
	}
	return spaced >= 2 && 2*spaced > rows
}
