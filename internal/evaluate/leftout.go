package evaluate

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Rows that are no machines, and cells that say nothing. Planners put totals, means and counts under a list, notes across it and lines of dashes into it; none
// of them is computed and nothing is ordered for one. A dash or "n/a" in a cell is a cell that is not given.

// isDashes says whether a text is a line drawn with signs.
func isDashes(s string) bool {
	return strings.Trim(strings.TrimSpace(s), "-–—−‐‑_=*~+|.#") == ""
}

// totalWords are names of rows that sum a list up, in their normal form.
var totalWords = map[string]bool{"total": true, "totals": true, "sum": true, "sums": true, "subtotal": true, "subtotals": true, "grandtotal": true, "sumtotal": true, "totalsum": true,
	"mean": true, "means": true, "meanvalue": true, "meanvalues": true, "average": true, "averages": true, "averagevalue": true, "avg": true, "count": true, "counts": true, "min": true, "minimum": true, "max": true,
	"maximum": true, "minmax": true, "median": true, "stddev": true, "stdev": true, "standarddeviation": true, "range": true, "totalcount": true, "totalnumber": true, "number": true,
	"numberofmachines": true, "noofmachines": true, "numberofcouplings": true, "noofcouplings": true, "numberofpumps": true, "totalmachines": true, "totalcouplings": true, "totalofmachines": true, "machinestotal": true,
	"machinecount": true, "largest": true, "smallest": true, "average/mean": true}

// countNouns are what a count counts: "12 machines".
var countNouns = []string{"machines", "couplings", "pumps", "motors", "fans", "units", "items", "rows", "sets", "pcs", "pieces", "trains"}

// noteWords begin a note that stands across a list.
var noteWords = []string{"note", "notes", "nb", "remark", "remarks", "legend", "key", "source", "checked", "prepared", "printed", "revision", "rev", "continued", "page", "sheet", "date", "readings", "all", "values", "units", "end"}

// summary says whether a name is that of a row of totals; doubt: it may be, or a machine. It makes no text: every row of a list is asked.
func summary(name string) (total, doubt bool) {
	name = strings.TrimSpace(name)
	switch name {
	case "":
		return false, false
	case "Σ", "∑", "ø", "Ø":
		return true, false
	}
	if len(name) > job.MaxHeader {
		return false, false
	}
	head := name
	if i := strings.IndexAny(name, ":=("); i > 0 {
		head = name[:i]
	}
	if isTotalWord(head) {
		return true, false
	}
	first, rest, more := strings.Cut(name, " ")
	if !more {
		return false, false
	}
	cut := strings.LastIndexByte(name, ' ')
	front, last := strings.TrimRight(name[:cut], "0123456789=:.() "), strings.TrimRight(name[cut+1:], ".:;)")
	if oneOf(last, countNouns) && (front == "" || isTotalWord(front) || isTotalWord(strings.TrimSuffix(front, " of"))) {
		return true, false
	}
	second, _, _ := strings.Cut(rest, " ")
	return false, oneOf(first, totalFirst) || oneOf(second, totalFirst[:2]) && oneOf(first, totalBefore) || strings.EqualFold(second, "of") && oneOf(first, totalOf) || oneOf(last, totalLast)
}

// Words of names that may be those of rows of totals: as the first word, before "total", before "of", as the last one.
var totalFirst, totalBefore, totalOf, totalLast = []string{"total", "totals", "subtotal", "average", "mean"}, []string{"grand", "sub"}, []string{"sum", "number", "count"}, []string{"total", "totals", "subtotal", "average", "sum"}

// oneOf says whether a word is one of a list, whatever its case and the signs around it.
func oneOf(w string, list []string) bool {
	w = strings.Trim(w, ".:;,()-")
	for _, s := range list {
		if strings.EqualFold(s, w) {
			return true
		}
	}
	return false
}

func isTotalWord(s string) bool {
	var buf [job.MaxHeader + 64]byte
	return totalWords[string(job.AppendNormalForm(buf[:0], s))]
}

// noteLike says whether a lone text reads like a note and not like the name of a machine.
func noteLike(s string) bool {
	s = strings.TrimSpace(s)
	if s == "" {
		return false
	}
	if s[0] == '*' || s[0] == '#' || strings.HasPrefix(s, "†") || len(strings.Fields(s)) > 6 {
		return true
	}
	first, _, _ := strings.Cut(strings.ToLower(s), " ")
	if w := strings.TrimRight(first, ".:,"); slices.Contains(noteWords, w) && (w != first || strings.ContainsRune(s, ' ')) {
		return true
	}
	return false
}

// leftOut says why a row of a list is no machine; empty: it may be one. name is the cell of the machine's column; isNumeric are the columns that hold numbers or words of a list.
// doubt: it may be a machine, or a row of totals.
func leftOut(row []string, name string, title [][]string, isNumeric []bool) (why words.Phrase, doubt bool) {
	filled, lone, label, numbers := 0, "", strings.TrimSpace(name), 0
	for c, s := range row {
		if job.Blank(s) {
			continue
		}
		filled++
		lone = s
		if job.IsNumber(s) {
			numbers++
		} else if label == "" && (c >= len(isNumeric) || !isNumeric[c]) {
			label = s
		}
	}
	if filled == 0 {
		return words.Phrase{}, false
	}
	if !slices.ContainsFunc(row, func(s string) bool { return !job.Blank(s) && !isDashes(s) }) {
		return words.ProblemLeftOutLine.With(), false
	}
	if total, d := summary(label); total {
		return words.ProblemLeftOutTotal.With(job.Quote(label)), false
	} else if d {
		if filled == 1 {
			return words.ProblemLeftOutTotal.With(job.Quote(label)), false
		}
		doubt = true
	}
	if filled == 1 && (noteLike(lone) || standsIn(title, strings.TrimSpace(lone))) {
		return note(row, lone), false
	}
	if filled == 2 && job.IsLegend(row) {
		return note(row, strings.TrimSpace(name+" "+lone)), false
	}
	if numbers == 0 && job.Blank(name) && !job.NotGiven(lone) {
		if label == "" {
			label = lone
		}
		return note(row, label), false
	}
	return words.Phrase{}, doubt
}

// note tells of a row that stands across the list; of one that says what numbers are in, that this counts.
func note(row []string, text string) words.Phrase {
	if job.SaysUnits(row) {
		return words.ProblemLeftOutUnits.With(job.Quote(text))
	}
	return words.ProblemLeftOutNote.With(job.Quote(text))
}

// standsIn says whether a text is one of the titles.
func standsIn(title [][]string, s string) bool {
	for _, row := range title {
		for _, cell := range row {
			if strings.TrimSpace(cell) == s {
				return true
			}
		}
	}
	return false
}

// A header further down that is not the list's own, or the list's own again.
type lowerHeader struct {
	row   int
	other bool // its columns are not those of the list's header, or not known
}

// findLower brings the list of headers further down up to date for the rows from … to-1, and marks the rows that hang on one that changed.
func (e *Evaluator) findLower(from, to int) {
	t := e.job.Machines
	if t == nil || e.known == 0 {
		e.lower = e.lower[:0]
		return
	}
	var found []lowerHeader
	for i := from; i < to; i++ {
		if !job.Wordy(t.Rows[i]) {
			continue
		}
		if e.isHeader(i) {
			found = append(found, lowerHeader{i, false})
		} else if e.otherHeader(t.Rows, i) {
			found = append(found, lowerHeader{i, true})
		}
	}
	var next []lowerHeader
	for _, l := range e.lower {
		if l.row < from {
			next = append(next, l)
		}
	}
	next = append(next, found...)
	for _, l := range e.lower {
		if l.row >= to {
			next = append(next, l)
		}
	}
	if !slices.Equal(next, e.lower) {
		e.lower = next
		e.mark(from, len(e.dirty))
	}
}

// otherHeader says whether a row of the Machines sheet is a header whose columns are not those above: known names in other places or with other units, a row of units, or
// words in three columns of numbers and no number.
func (e *Evaluator) otherHeader(rows [][]string, i int) bool {
	t := e.job.Machines
	if names, ok := job.SectionNames(rows, i, t.Header, job.MachinesSheet); ok {
		for c, name := range names {
			if c >= len(t.Header) || !e.sameColumn(name, t.Header[c], job.MachinesSheet) {
				return !job.Blank(name)
			}
		}
		return false
	}
	said := 0
	for c, s := range rows[i] {
		if c >= len(e.bind) || job.Blank(s) {
			continue
		}
		id := e.bind[c].id
		if id == job.NoColumn || id >= job.NumInputs {
			continue
		}
		switch id.Info().Quantity {
		case job.QText, job.QChoice, job.QSweep:
			continue
		}
		if job.IsNumber(s) {
			return false
		}
		if !job.NotGiven(s) {
			said++
		}
	}
	return said >= 3
}

// SameColumn says whether two header cells are of one meaning and, in this job, of one unit.
func (e *Evaluator) sameColumn(a, b string, kind job.SheetKind) bool {
	x, u := job.HeaderUnit(kind, a, e.set.inch)
	y, v := job.HeaderUnit(kind, b, e.set.inch)
	return job.SameColumn(a, b, kind) || x != job.NoColumn && x == y && u == v && u != units.None
}

// ruledBy is the index of the other header that the row stands under, −1 none.
func (e *Evaluator) ruledBy(i int) int {
	k, ok := slices.BinarySearchFunc(e.lower, i, func(l lowerHeader, i int) int { return l.row - i })
	if !ok {
		k--
	}
	if k >= 0 && e.lower[k].other {
		return e.lower[k].row
	}
	return -1
}

// noMachine settles whether a row of the Machines sheet is no machine: it is then left out with a warning.
func (e *Evaluator) noMachine(i int, r *RowResult) (out, doubt bool) {
	t := e.job.Machines
	row := t.Rows[i]
	name := ""
	if c := e.Column(job.ColMachine); c >= 0 {
		if name = t.Cell(i, c); job.NoWord(strings.TrimSpace(name)) {
			name = ""
		}
	}
	why, doubt := leftOut(row, name, t.Title, e.numeric)
	if why.Empty() && job.Blank(name) && e.sums(i) {
		why = words.ProblemLeftOutSums.With()
	}
	if why.Empty() {
		return false, doubt
	}
	r.Kind = LeftOutRow
	r.Problems = r.Problems[:0]
	e.problem(r, job.Warning, job.NoColumn, why, words.HintLeftOut.With())
	return true, false
}

// maxSums is how many rows above a row without a name are added up to see whether it is their total.
const maxSums = 2000

// sums says whether a row without a name holds the sum, the mean or the number of what stands above it, in two columns at least, or in all it fills.
func (e *Evaluator) sums(i int) bool {
	t := e.job.Machines
	hits, filled := 0, 0
	for c, b := range e.bind {
		if b.id == job.NoColumn || b.id >= job.NumInputs || job.Blank(t.Cell(i, c)) {
			continue
		}
		q := b.id.Info().Quantity
		if q == job.QText || q == job.QChoice || q == job.QSweep || q == job.QDistances {
			continue
		}
		x, text, _ := job.ParseQuantity(t.Cell(i, c), q, b.unit, e.set.mark)
		if text != "" {
			continue
		}
		filled++
		sum, n, least, most := 0.0, 0, math.Inf(1), math.Inf(-1)
		for k := i - 1; k >= max(0, i-maxSums); k-- {
			if y, text, _ := job.ParseQuantity(t.Cell(k, c), q, b.unit, e.set.mark); text == "" {
				sum += y
				n++
				least, most = min(least, y), max(most, y)
			}
		}
		if n < 2 || least == most {
			continue
		}
		near := func(y float64) bool { return math.Abs(x-y) <= 1e-9*(1+math.Abs(y)) }
		if near(sum) || math.Abs(x-sum/float64(n)) <= 0.006*(1+math.Abs(sum/float64(n))) && !near(least) || near(float64(n)) {
			hits++
		}
	}
	return hits >= 2 || hits > 0 && hits == filled
}

// decimalComma says whether a text has a number whose decimal sign is a comma beyond doubt: 0,35, 12,5, −0,125; not 1,234 and not a list such as 12,3,6,9.
func decimalComma(s string) bool {
	for from := 0; ; {
		k := strings.IndexByte(s[from:], ',')
		if k < 0 {
			return false
		}
		k += from
		from = k + 1
		before, after := 0, 0
		for k-1-before >= 0 && s[k-1-before]-'0' < 10 {
			before++
		}
		for from+after < len(s) && s[from+after]-'0' < 10 {
			after++
		}
		edge := func(i int) bool { return i < 0 || i >= len(s) || s[i] != ',' && s[i] != '.' }
		if before > 0 && after > 0 && edge(k-1-before) && edge(from+after) && (after != 3 || before == 1 && s[k-1] == '0' || before > 3) {
			return true
		}
	}
}

// rowHasComma says whether a cell of the row of numbers has a decimal comma.
func (e *Evaluator) rowHasComma(row []string) bool {
	for c, s := range row {
		if !strings.Contains(s, ",") || c >= len(e.bind) || e.bind[c].id == job.NoColumn || e.bind[c].id >= job.NumInputs {
			continue
		}
		if q := e.bind[c].id.Info().Quantity; q != job.QText && q != job.QChoice && decimalComma(s) {
			return true
		}
	}
	return false
}

// countCommas looks for decimal commas on all sheets, where the job does not say its decimal sign: a point before three digits is then no more certain than a comma.
func (e *Evaluator) countCommas() {
	e.commas = 0
	if e.set.mark != units.Either {
		e.comma = e.comma[:0]
		return
	}
	for _, k := range job.SheetOrder {
		t := e.job.Table(k)
		if t == nil || k == job.MachinesSheet || k == job.SettingsSheet {
			continue
		}
		for _, row := range t.Rows {
			if slices.ContainsFunc(row, decimalComma) && !slices.ContainsFunc(row, func(s string) bool { return len(s) > job.MaxSweep }) {
				e.commas++
				break
			}
		}
	}
	e.comma = make([]bool, e.Len())
	for i := range e.comma {
		if e.comma[i] = e.rowHasComma(e.job.Machines.Rows[i]); e.comma[i] {
			e.commas++
		}
	}
	if e.commas > 0 {
		e.set.mark = units.Commas
	}
}

// commasChanged brings the count up to date for changed rows and says whether numbers are to be read otherwise now.
func (e *Evaluator) commasChanged(from, to int) bool {
	if e.set.mark != units.Either && e.set.mark != units.Commas {
		return false
	}
	if n := e.Len(); n != len(e.comma) {
		for k := n; k < len(e.comma); k++ {
			if e.comma[k] {
				e.commas--
			}
		}
		if n < len(e.comma) {
			e.comma = e.comma[:n]
		} else {
			e.comma = append(e.comma, make([]bool, n-len(e.comma))...)
		}
	}
	for i := from; i < to; i++ {
		if has := e.rowHasComma(e.job.Machines.Rows[i]); has != e.comma[i] {
			if e.comma[i] = has; has {
				e.commas++
			} else {
				e.commas--
			}
		}
	}
	return (e.commas > 0) != (e.set.mark == units.Commas)
}
