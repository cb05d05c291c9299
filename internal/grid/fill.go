package grid

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/dates"
	"shimsheet/internal/words"
)

// FillDown copies the input cells of the selection's first row into the rows below it.
func (m *Model) FillDown() Change {
	s := m.Selection()
	return m.fill(Rect{s.R0, s.C0, s.R0, s.C1}, s, false, words.GridFillDown.Say(count(s.R1-s.R0, rowsOf)))
}

// FillUp copies the input cells of the selection's last row into the rows above it.
func (m *Model) FillUp() Change {
	s := m.Selection()
	return m.fill(Rect{s.R1, s.C0, s.R1, s.C1}, s, false, words.GridFillUp.Say(count(s.R1-s.R0, rowsOf)))
}

// FillRight copies the cells of the selection's first input column into the input columns right of it.
func (m *Model) FillRight() Change {
	s := m.Selection()
	in := m.inputs(s)
	if len(in) == 0 {
		return Change{}
	}
	s.C0 = in[0]
	return m.fill(Rect{s.R0, s.C0, s.R1, s.C0}, s, false, words.GridFillRight.Say(count(len(in)-1, columnsOf)))
}

// FillLeft copies the cells of the selection's last input column into the input columns left of it.
func (m *Model) FillLeft() Change {
	s := m.Selection()
	in := m.inputs(s)
	if len(in) == 0 {
		return Change{}
	}
	s.C1 = in[len(in)-1]
	return m.fill(Rect{s.R0, s.C1, s.R1, s.C1}, s, false, words.GridFillLeft.Say(count(len(in)-1, columnsOf)))
}

// inputs lists the shown input columns between two shown columns, both included.
func (m *Model) inputs(r Rect) []int {
	var out []int
	for x := r.C0; x <= r.C1; x++ {
		if m.Column(x) >= 0 {
			out = append(out, x)
		}
	}
	return out
}

// FillTo fills from the selection into a larger block that holds it, in one direction: the one in which the block reaches furthest
// (down, right, up, left if equal), and selects the result. Read-only columns are passed over. series false repeats the selection.
// series true goes on by line, each column (sideways: each row) by itself, as [Extrapolate] says. Cells that are filled with
// nothing make no new row.
func (m *Model) FillTo(target Rect, series bool) Change {
	s := m.Selection()
	target.R0, target.C0 = max(target.R0, 0), max(target.C0, 0)
	target.R1, target.C1 = min(target.R1, m.Height()-1), min(target.C1, len(m.order)-1)
	to, most := s, 0
	for i, d := range []int{target.R1 - s.R1, target.C1 - s.C1, s.R0 - target.R0, s.C0 - target.C0} {
		if d <= most {
			continue
		}
		to, most = s, d
		switch i {
		case 0:
			to.R1 = target.R1
		case 1:
			to.C1 = target.C1
		case 2:
			to.R0 = target.R0
		case 3:
			to.C0 = target.C0
		}
	}
	ch := m.fill(s, to, series, "")
	if !m.editing {
		m.Select(to)
	}
	return m.done(ch)
}

// fill fills the rest of the block to from its part seed, which leaves one side of it free. An empty name is made of the number of
// cells that change.
func (m *Model) fill(seed, to Rect, series bool, name string) Change {
	if m.editing {
		return Change{}
	}
	tall := to.C0 == seed.C0 && to.C1 == seed.C1
	back := to.R0 < seed.R0 || to.C0 < seed.C0
	inputs := m.inputs(to)
	b := batch{m: m}
	cells := 0
	from, end := to.R0, to.R1 // rows that are written
	var lines [][]string      // tall: by input column
	switch {
	case tall && back:
		end = seed.R0 - 1
	case tall:
		from = seed.R1 + 1
	}
	if tall {
		for _, x := range inputs {
			var seeds []string
			for r := seed.R0; r <= seed.R1; r++ {
				seeds = append(seeds, m.At(Pos{r, x}))
			}
			lines = append(lines, goOn(seeds, end-from+1, back, series))
		}
	}
	for r := from; r <= end; r++ {
		old := m.row(r)
		row := old
		set := func(c int, s string) {
			if c < len(row) && row[c] == s || c >= len(row) && s == "" {
				return
			}
			if len(row) == 0 || sameRow(row, old) {
				row = slices.Clone(old)
			}
			for len(row) <= c {
				row = append(row, "")
			}
			row[c] = s
			cells++
		}
		if tall {
			for i, x := range inputs {
				k := r - from
				if back {
					k = end - r
				}
				set(m.Column(x), lines[i][k])
			}
		} else {
			var seeds []string
			var free []int
			for _, x := range inputs {
				if x >= seed.C0 && x <= seed.C1 {
					seeds = append(seeds, m.At(Pos{r, x}))
				} else {
					free = append(free, x)
				}
			}
			if len(seeds) == 0 {
				continue
			}
			if back {
				slices.Reverse(free)
			}
			for i, s := range goOn(seeds, len(free), back, series) {
				set(m.Column(free[i]), s)
			}
		}
		if !sameRow(row, old) {
			b.put(r, row)
		}
	}
	if cells == 0 {
		return Change{}
	}
	if name == "" {
		name = words.GridFill.Say(count(cells, cellsOf))
		if series {
			name = words.GridFillSeries.Say(count(cells, cellsOf))
		}
	}
	return m.done(m.apply(name, nil, nil, b.hunks()...))
}

func goOn(seeds []string, n int, back, series bool) []string {
	if series {
		return Extrapolate(seeds, n, back)
	}
	return pattern(seeds, n, back)
}

// pattern repeats the seeds.
func pattern(seeds []string, n int, back bool) []string {
	out := make([]string, n)
	for i := range out {
		k := i % len(seeds)
		if back {
			k = len(seeds) - 1 - k
		}
		out[i] = seeds[k]
	}
	return out
}

// Extrapolate returns the n texts that follow the seeds, or with back those that stand before them, nearest first:
//
//   - one plain number, with or without a unit behind it, is repeated;
//   - one text that ends in a whole number counts by 1: Pump 7, Pump 8; P-009, P-010;
//   - dates as 2026-03-31 go on by their constant difference in days, one of them by a day;
//   - two and more numbers a constant difference apart go on by it, with the text around them, the decimal sign and the decimals as
//     typed: 0,5 1 → 1,5 2; 12.50 mil 12.75 mil → 13.00 mil; the number is the last in the text, else the first;
//   - quarter positions of the clock (12, 3, 6, 9) a quarter apart, that step between 12 and 3, go round: 12 3 → 6 9 12 3; without
//     that step they are numbers;
//   - everything else is repeated as a pattern, fractions as 3/8 too.
//
// Before the seeds it counts down. A number behind other text does not go below 0: the seeds are then repeated. It returns nil
// without seeds.
func Extrapolate(seeds []string, n int, back bool) []string {
	if len(seeds) == 0 {
		return nil
	}
	for _, rule := range []func([]string, int, bool) []string{days, numbers} {
		if out := rule(seeds, n, back); out != nil {
			return out
		}
	}
	return pattern(seeds, n, back)
}

func days(seeds []string, n int, back bool) []string {
	list := make([]int64, len(seeds))
	for i, s := range seeds {
		t, ok := dates.ParseDay(s)
		if !ok {
			return nil
		}
		list[i] = int64(t / dates.Day)
	}
	step := int64(1)
	if len(list) > 1 {
		step = list[1] - list[0]
	}
	first, step, ok := steady(list, step, back)
	if !ok {
		return nil
	}
	out := make([]string, n)
	for i := range out {
		t := dates.Time(first+step*int64(i+1)) * dates.Day
		if year, _, _ := t.Date(); year < 0 || year > 9999 {
			return nil
		}
		out[i] = t.String()
	}
	return out
}

// steady checks that values are step apart and returns the one to go on from, and the step in that direction.
func steady(values []int64, step int64, back bool) (from, by int64, ok bool) {
	for i := 1; i < len(values); i++ {
		if values[i]-values[i-1] != step {
			return 0, 0, false
		}
	}
	if back {
		return values[0], -step, true
	}
	return values[len(values)-1], step, true
}

// A framed is a number in a text: before + sign + whole + point + decimals + after.
type framed struct {
	before, after string
	sign          string // "", "-", "−" or "+"
	whole, part   string
	point         string // "", "." or ","
}

// frame finds the last or the first number of a text. ok is false when there is none, or it is part of a fraction, a date or a number
// written with an exponent.
func frame(s string, last bool) (f framed, ok bool) {
	in := func(c byte) bool { return digit(c) || c == '.' || c == ',' }
	i, j := 0, 0
	if last {
		for j = len(s); j > 0 && !digit(s[j-1]); j-- {
		}
		for i = j; i > 0 && in(s[i-1]); i-- {
		}
	} else {
		for i = 0; i < len(s) && !digit(s[i]); i++ {
		}
		if i > 0 && in(s[i-1]) { // .5
			i--
		}
		for j = i; j < len(s) && in(s[j]); j++ {
		}
		for ; j > i && !digit(s[j-1]); j-- {
		}
	}
	num := s[i:j]
	if num == "" {
		return f, false
	}
	f.before, f.after = s[:i], s[j:]
	if p := strings.IndexAny(num, ".,"); p >= 0 {
		f.whole, f.point, f.part = num[:p], num[p:p+1], num[p+1:]
		if strings.ContainsAny(f.part, ".,") {
			return f, false
		}
	} else {
		f.whole = num
	}
	for _, sign := range []string{"-", "−", "+"} {
		if b, found := strings.CutSuffix(f.before, sign); found && strings.TrimSpace(b) == "" {
			f.before, f.sign = b, sign
			break
		}
	}
	if strings.HasSuffix(f.before, "/") || strings.HasPrefix(f.after, "/") {
		return f, false
	}
	// 1e3, 1e-3: neither half of it is a number by itself
	if b := strings.TrimRight(f.before, "+-"); strings.HasSuffix(b, "e") || strings.HasSuffix(b, "E") {
		if b = b[:len(b)-1]; b != "" && digit(b[len(b)-1]) {
			return f, false
		}
	}
	if strings.HasPrefix(f.after, "e") || strings.HasPrefix(f.after, "E") {
		if a := strings.TrimLeft(f.after[1:], "+-"); a != "" && in(a[0]) {
			return f, false
		}
	}
	return f, true
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// most is how many digits a number of a series may have: all of it is done in whole numbers.
const mostDigits = 15

func numbers(seeds []string, n int, back bool) []string {
	if len(seeds) == 1 {
		f, ok := frame(seeds[0], true)
		if !ok || f.point != "" || f.after != "" || strings.TrimSpace(f.before) == "" || f.sign != "" {
			return nil
		}
		return series([]framed{f}, n, back)
	}
	for _, last := range []bool{true, false} {
		fs := make([]framed, len(seeds))
		good := true
		point := ""
		for i, s := range seeds {
			f, ok := frame(s, last)
			if f.point != "" {
				good = good && (point == "" || point == f.point)
				point = f.point
			}
			good = good && ok && (i == 0 || f.before == fs[0].before && f.after == fs[0].after)
			fs[i] = f
		}
		if good {
			return series(fs, n, back)
		}
	}
	return nil
}

// series goes on from numbers in the same frame.
func series(fs []framed, n int, back bool) []string {
	places, least, width := 0, len(fs[0].part), 0
	var point, minus string
	plus := false
	for _, f := range fs {
		places, least = max(places, len(f.part)), min(least, len(f.part))
		if f.point != "" {
			point = f.point
		}
		if strings.HasPrefix(f.whole, "0") {
			width = max(width, len(f.whole))
		}
		switch f.sign {
		case "+":
			plus = true
		case "-", "−":
			minus = f.sign
		}
	}
	if minus == "" {
		minus = "-"
	}
	values := make([]int64, len(fs))
	for i, f := range fs {
		t := f.whole + f.part + strings.Repeat("0", places-len(f.part))
		if len(strings.TrimLeft(t, "0")) > mostDigits {
			return nil
		}
		values[i], _ = strconv.ParseInt(t, 10, 64) // digits only, and few of them
		if f.sign != "" && f.sign != "+" {
			values[i] = -values[i]
		}
	}
	var at func(i int) int64 // the i-th that follows, from 1
	if places == 0 && quarters(values) {
		round := []int64{12, 3, 6, 9}
		end, step := values[len(values)-1], (slices.Index(round, values[1])-slices.Index(round, values[0])+4)%4
		if back {
			end, step = values[0], 4-step
		}
		k := slices.Index(round, end)
		at = func(i int) int64 { return round[(k+i%4*step)%4] }
	} else {
		step := int64(1)
		if len(values) > 1 {
			step = values[1] - values[0]
		}
		from, by, ok := steady(values, step, back)
		if !ok {
			return nil
		}
		at = func(i int) int64 { return from + by*int64(i) }
		const limit = 1_000_000_000_000_000_000
		if far := float64(from) + float64(by)*float64(n); far > limit || far < -limit {
			return nil
		}
	}
	out := make([]string, n)
	for i := range out {
		v := at(i + 1)
		sign := ""
		switch {
		case v < 0:
			if strings.TrimSpace(fs[0].before) != "" {
				return nil
			}
			sign, v = minus, -v
		case plus && v > 0:
			sign = "+"
		}
		t := strconv.FormatInt(v, 10)
		t = zeros(places+1-len(t)) + t
		whole, part := t[:len(t)-places], t[len(t)-places:]
		for len(part) > least && part[len(part)-1] == '0' {
			part = part[:len(part)-1]
		}
		whole = zeros(width-len(whole)) + whole
		if part != "" {
			if whole == "0" && fs[0].whole == "" { // .5 as typed
				whole = ""
			}
			whole += point + part
		}
		out[i] = fs[0].before + sign + whole + fs[0].after
	}
	return out
}

func zeros(n int) string { return strings.Repeat("0", max(n, 0)) }

// quarters says whether whole numbers are clock positions a quarter apart, all in one direction, with the step between 12 and 3.
func quarters(v []int64) bool {
	round := []int64{12, 3, 6, 9}
	top, by := false, 0
	for i := range v {
		k := slices.Index(round, v[i])
		if k < 0 {
			return false
		}
		if i == 0 {
			continue
		}
		d := (k - slices.Index(round, v[i-1]) + 4) % 4
		if d != 1 && d != 3 || i > 1 && d != by {
			return false
		}
		by = d
		top = top || v[i]+v[i-1] == 15 && (v[i] == 3 || v[i] == 12)
	}
	return top
}
