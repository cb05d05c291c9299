// Package headers matches a list's own headers with the columns of a sheet: by what was matched before, and by guesses.
//
// Start with [Look]. A guess is there to be shown to a person, who takes it or not; nothing here changes a list but [Apply], which writes what a
// person settled. Two meanings that are as likely are a question and no guess. The words are those of the trade at large (words.go).
package headers

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// A State says how a column came to its meaning.
type State uint8

// The states.
const (
	Unread  State = iota // no meaning is known or likely
	Known                // the header is a spelling of the column
	Before               // as it was matched before
	Guessed              // likely; to be shown as a guess
	Asked                // two or more meanings are as likely
)

var stateWords = [...]string{"unread", "known", "before", "guessed", "asked"}

// String is the word for scripts and tests.
func (s State) String() string { return stateWords[s] }

// A Column is one column of a list and what it may mean.
type Column struct {
	Col    int
	Header string // as in the list
	State  State
	Key    string   // of the column it means; "" for Unread and Asked
	Unit   string   // of a bare number as the header says, "" where it does not
	Why    string   // what a guess or a question rests on, in words
	Keys   []string // Asked: the meanings that are as likely
	Series int      // columns that are the readings of one sweep share a number; 0 none
	Place  string   // Series: which reading, as a key ends: 12, 3, 6, 9, 12_again
	Filled int      // cells with a text
	Sample []string // the first texts
}

// A look is a list while it is looked at.
type look struct {
	kind  job.SheetKind
	cols  []Column
	words [][]string // significant, of each header, without its unit
	above []string   // of the row above the header
	rows  [][]string
	inch  bool
	taken map[string]int // by key: 1 + the column that has it
	found map[int][]candidate
}

// A List is what is looked at.
type List struct {
	Kind   job.SheetKind
	Header []string
	Above  []string // the row above the header, which may name groups of columns; nil none
	Rows   [][]string
	Inch   bool                 // a number without a unit is in inches and mils
	Before []evaluate.OwnHeader // what was matched before, the more telling first
}

// most is how many rows are looked at for what the values are.
const most = 200

// Look says for each column of a list what it means or may mean. Columns without header and texts are left out.
func Look(list List) []Column {
	l := &look{kind: list.Kind, rows: list.Rows[:min(len(list.Rows), most)], inch: list.Inch, above: list.Above, taken: map[string]int{}, found: map[int][]candidate{}}
	width := len(list.Header)
	for _, r := range l.rows {
		width = max(width, len(r))
	}
	before := resolve(list.Kind, list.Header, list.Before)
	for col := range width {
		c := Column{Col: col}
		if col < len(list.Header) {
			c.Header = strings.TrimSpace(list.Header[col])
		}
		for _, r := range list.Rows {
			if col < len(r) && strings.TrimSpace(r[col]) != "" {
				if c.Filled++; len(c.Sample) < 3 {
					c.Sample = append(c.Sample, strings.TrimSpace(r[col]))
				}
			}
		}
		var words []string
		if c.Header != "" {
			if info := job.FindColumn(list.Kind, c.Header); info != nil {
				c.State, c.Key = Known, info.Key
				_, c.Unit = parted(c.Header)
			} else if means := before[col]; means != "" {
				c.State, c.Key = Before, job.FindColumn(list.Kind, means).Key
				_, c.Unit = parted(means)
			} else {
				var name string
				name, c.Unit = parted(c.Header)
				words = significant(tokens(name))
			}
			if c.Key != "" && l.taken[c.Key] == 0 {
				l.taken[c.Key] = col + 1
			}
		}
		l.cols, l.words = append(l.cols, c), append(l.words, words)
	}
	if l.kind == job.MachinesSheet {
		l.series()
	}
	l.singles()
	return slices.DeleteFunc(l.cols, func(c Column) bool { return c.Header == "" && c.Filled == 0 })
}

// parted takes the unit off a header: what stands in brackets, or last words that are one. What only sounds like one goes along as well: over the column that somebody takes it for it is
// refused, as it is over a name that is known.
func parted(h string) (name, unit string) {
	if i := strings.LastIndexAny(h, "[("); i > 0 {
		if j := strings.IndexAny(h[i:], "])"); j > 0 {
			in := strings.TrimSpace(h[i+1 : i+j])
			if bare := strings.TrimPrefix(in, "in "); isUnit(bare) {
				in = bare
			}
			if isUnit(in) || soundsLikeUnit(in) {
				return strings.TrimSpace(strings.TrimSpace(h[:i]) + " " + strings.TrimSpace(h[i+j+1:])), in
			}
		}
	}
	if strings.ContainsAny(h, "[]()") {
		return h, ""
	}
	const gaps = " \t\n,;/"
	for i := 1; i < len(h); i++ { // the longest: 1/100 mm, and not its mm
		if !strings.ContainsRune(gaps, rune(h[i-1])) || strings.ContainsRune(gaps, rune(h[i])) {
			continue
		}
		name, last := strings.TrimRight(h[:i], gaps), strings.TrimSpace(h[i:])
		known := len(last) > 1 && isUnit(last) && !slices.Contains([]string{"ft", "feet", "foot"}, strings.ToLower(last)) && !strings.HasSuffix(last, "°")
		if name != "" && (known || h[i-1] != '/' && strings.Contains(last, "/") && soundsLikeUnit(last) && !strings.ContainsAny(last, " \t\n")) {
			return name, last
		}
	}
	return h, ""
}

func isUnit(s string) bool {
	for _, k := range units.Kinds() {
		if k != units.Number {
			if _, ok := units.ParseHeaderUnit(s, k); ok {
				return true
			}
		}
	}
	return false
}

// unitWords are words that are said of the unit of a reading and of little else.
var unitWords = wordTable{text: `mm; cm; µm; um; mil; mils; thou; inch; inches; zoll; pouce; pouces; hundredth; hundredths; tenth; tenths; thousandth; thousandths; hundertstel; zehntel; tausendstel; centièmes; dixièmes; millièmes; centésimas; div; divs; divisions; skt`}

// soundsLikeUnit says whether a text is about a unit, though none that can be read: mm/100, Hundertstel, 0.01 mm/div; or a share of one that it does not name: 1/100, x 0,01.
func soundsLikeUnit(s string) bool {
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if unitWords.has(w) {
			return true
		}
	}
	s = strings.TrimSpace(strings.TrimLeft(s, "xX×* "))
	for _, share := range []string{"10", "100", "1000", "10000"} {
		zeros := share[1:]
		if s == "1/"+share || s == "0."+zeros[1:]+"1" || s == "0,"+zeros[1:]+"1" {
			return true
		}
	}
	return false
}

// resolve gives for each header what it was matched with before, "" nothing. A column has one meaning, and a meaning one column.
func resolve(kind job.SheetKind, header []string, before []evaluate.OwnHeader) []string {
	out := make([]string, len(header))
	taken := map[string]bool{}
	for _, h := range header {
		if c := job.FindColumn(kind, h); c != nil {
			taken[c.Key] = true
		}
	}
	names := numbered(header)
	for i, h := range names {
		if h == "" || job.FindColumn(kind, header[i]) != nil {
			continue
		}
		plain, again := h, ""
		if at := strings.LastIndex(h, " #"); at >= 0 && job.OnlyNumbers(h[at+2:]) { // the second of its name, and on
			plain, again = h[:at], h[at:]
		}
		name, unit := parted(plain)
		name += again
		for _, o := range before {
			same := strings.Join(strings.Fields(o.Header), " ")
			if o.Kind != kind || !strings.EqualFold(same, h) && !(unit != "" && strings.EqualFold(same, name)) {
				continue
			}
			if c := job.FindColumn(kind, o.Means); c != nil && !c.Result && !taken[c.Key] {
				if out[i], taken[c.Key] = o.Means, true; !strings.EqualFold(same, h) { // the header bears a unit now
					out[i] = job.WithUnit(o.Means, unit, kind)
				}
			}
			break
		}
	}
	return out
}

// numbered are the headers as an [evaluate.OwnHeader] names them: the second and later of one text with #2, #3 … behind it.
func numbered(header []string) []string {
	seen := map[string]int{}
	out := make([]string, len(header))
	for i, h := range header {
		if h = strings.Join(strings.Fields(h), " "); h == "" {
			continue
		}
		k := strings.ToLower(h)
		if seen[k]++; seen[k] > 1 {
			h = fmt.Sprintf("%s #%d", h, seen[k])
		}
		out[i] = h
	}
	return out
}

// A Choice is what a person settled for one column of a list: the key of the column it means, "" to keep it unread, and its unit.
type Choice struct {
	Col       int
	Key, Unit string
}

// Apply writes the header anew by what was settled, and returns what is to be remembered of it. A column whose name is known but that is to be
// kept unread gets words before its name that say so.
func Apply(kind job.SheetKind, header []string, choices []Choice) (anew []string, learnt []evaluate.OwnHeader) {
	anew = slices.Clone(header)
	names := numbered(header)
	for _, ch := range choices {
		if ch.Col < 0 {
			continue
		}
		for len(anew) <= ch.Col {
			anew, names = append(anew, ""), append(names, "")
		}
		is := job.FindColumn(kind, anew[ch.Col])
		if ch.Key == "" {
			if is != nil && !is.Result {
				anew[ch.Col] = "Kept unread: " + anew[ch.Col]
			}
			continue
		}
		means := Means(kind, ch.Key, ch.Unit)
		if _, unit := parted(anew[ch.Col]); means == "" || is != nil && is.Key == ch.Key && unit == ch.Unit {
			continue
		}
		if names[ch.Col] != "" && is == nil {
			learnt = append(learnt, evaluate.OwnHeader{Kind: kind, Header: names[ch.Col], Means: means})
		}
		anew[ch.Col] = means
	}
	return anew, learnt
}

// Means is the header of a column: its name, and the unit of a bare number in brackets. "" for a key that no column has.
func Means(kind job.SheetKind, key, unit string) string {
	c := info(kind, key)
	switch {
	case c == nil:
		return ""
	case unit == "" || c.Quantity.Kind() == units.Number:
		return c.Name
	}
	return c.Name + " [" + unit + "]"
}

// ApplyBefore writes the header of a table anew by what was matched before, reads the list with it ([job.Table.Rename]), and returns which columns that were.
func ApplyBefore(kind job.SheetKind, t *job.Table, before []evaluate.OwnHeader) []int {
	if t == nil || t.Header == nil || len(before) == 0 {
		return nil
	}
	var out []int
	anew := slices.Clone(t.Header)
	for i, means := range resolve(kind, t.Header, before) {
		if means != "" {
			anew[i] = means
			out = append(out, i)
		}
	}
	if out != nil {
		t.Rename(kind, anew)
	}
	return out
}

// FindHeader is the row of a list in which its columns are named: by names that are known, else by those that were matched before, else by those that
// a guess is to be had of. −1: none, as in a block of cells without one.
func FindHeader(kind job.SheetKind, rows [][]string, before []evaluate.OwnHeader) int {
	best, most := -1, 0
	for i, row := range rows[:min(len(rows), 30)] {
		names, count := namesIn(row)
		if names < 2 || names < count {
			continue // numbers, and texts that are none
		}
		n := 0
		for _, means := range resolve(kind, row, before) {
			if means != "" {
				n++
			}
		}
		for _, h := range row {
			if job.FindColumn(kind, h) != nil {
				n++
			}
		}
		if n > most && n >= min(3, count) {
			best, most = i, n
		}
	}
	if h := job.FindHeader(rows, kind); h >= 0 && (best < 0 || h <= best) {
		return h
	}
	if best >= 0 {
		return best
	}
	for i, row := range rows[:min(len(rows), 30)] {
		if names, count := namesIn(row); names < 3 || names < count || i+1 >= len(rows) {
			continue
		}
		n := 0
		for _, c := range Look(List{Kind: kind, Header: row, Rows: rows[i+1 : min(len(rows), i+30)]}) {
			if c.State == Guessed || c.State == Asked || c.State == Known {
				n++
			}
		}
		if n > most && n >= 3 {
			best, most = i, n
		}
	}
	return best
}

// namesIn counts the cells of a row that hold a text, and of those the ones that may be names: not a number unless it is a place on the clock.
func namesIn(row []string) (names, filled int) {
	for _, s := range row {
		if s = strings.TrimSpace(s); s == "" {
			continue
		}
		filled++
		_, err := units.Parse(s, units.Number, units.None, units.Either)
		if err != nil || slices.Contains([]string{"12", "3", "6", "9", "0", "90", "180", "270", "360"}, s) {
			names++
		}
	}
	return names, filled
}

func info(kind job.SheetKind, key string) *job.ColumnInfo {
	all := job.Columns()
	for i := range all {
		if all[i].Sheet == kind && all[i].Key == key && !all[i].Result {
			return &all[i]
		}
	}
	return nil
}

// fit says how well the texts of a column go with what a column of the sheet holds: −1 they do not, 0 nothing speaks against it, more the better.
func (l *look) fit(col int, c *job.ColumnInfo) float64 {
	var texts []string
	for _, r := range l.rows {
		if col < len(r) {
			if s := strings.TrimSpace(r[col]); s != "" && !slices.Contains([]string{"-", "–", "—", "?", "n/a", "none"}, strings.ToLower(s)) {
				texts = append(texts, s)
			}
		}
	}
	if len(texts) == 0 {
		return 0
	}
	switch unit := l.cols[col].Unit; c.Quantity {
	case job.QText:
		if unit != "" {
			return -1
		}
		return l.fitText(texts)
	case job.QChoice:
		if unit != "" {
			return -1
		}
		for _, s := range texts {
			if !c.TakesWord(s) {
				return -1
			}
		}
		if !slices.ContainsFunc(texts, func(s string) bool { return !isNumber(s) }) {
			return 0 // such as the 0 of a dial at the top, which is 12 o'clock too
		}
		return 0.3
	case job.QSweep, job.QDistances, job.QPieces:
		return 0
	}
	return l.fitNumbers(col, texts, c)
}

func isNumber(s string) bool {
	_, err := units.Parse(s, units.Number, units.None, units.Either)
	return err == nil
}

func (l *look) fitText(texts []string) float64 {
	numbers := 0
	for _, s := range texts {
		if isNumber(s) {
			numbers++
		}
	}
	if numbers*2 > len(texts) {
		return -0.2 // names that are numbers happen
	}
	return 0.05
}

func (l *look) fitNumbers(col int, texts []string, c *job.ColumnInfo) float64 {
	kind := c.Quantity.Kind()
	def := c.Unit(l.inch)
	if u, ok := units.ParseHeaderUnit(l.cols[col].Unit, kind); ok && l.cols[col].Unit != "" {
		def = u
	} else if l.cols[col].Unit != "" && kind != units.Number && (kind != units.Length || isUnit(l.cols[col].Unit)) {
		return -1 // a unit of something else
	}
	bad, sum, least := 0, 0.0, math.Inf(1)
	n := 0
	for _, s := range texts {
		v, err := units.Parse(s, kind, def, units.Either)
		if err != nil {
			bad++
			continue
		}
		n++
		sum += math.Abs(v.Base)
		least = min(least, v.Base)
	}
	if bad*2 > len(texts) || n == 0 { // cells with a remark behind the number are told when they are read
		return -1
	}
	mean := sum / float64(n)
	switch c.Quantity {
	case job.QDistance:
		if least <= 0 && c.Key != "across" && c.Key != "along" {
			return -1
		}
		if mean < 10 {
			return -0.2
		}
		return 0.05
	case job.QSpeed:
		if least <= 0 {
			return -1
		}
		if mean < 10 {
			return -0.3
		}
		return 0.1
	case job.QThickness:
		if mean > 30 {
			return -0.4
		}
		return 0.05
	}
	return 0
}
