package journal

import (
	"slices"
	"strings"

	"shimsheet/internal/job"
)

// Differences are what sets two states of a job apart. Views, revisions and blank rows do not count, nor does a setting without a value.
type Differences struct {
	Changed      int // rows that both have, with other texts
	Cells        int // texts that differ in those
	OnlyA, OnlyB int // rows that only one of them has
	List         []Difference
}

// Any says that there are some.
func (d *Differences) Any() bool { return d.Changed+d.OnlyA+d.OnlyB > 0 }

// A Difference is one cell, or a row that only one of the states has: then Column is "" and A or B is what stands in the row.
type Difference struct {
	Sheet      job.SheetKind
	RowA, RowB int    // as a spreadsheet counts; 0: the row is not there
	Name       string // of the row: its machine, or what stands first in it
	Column     string
	A, B       string
}

// Compare compares two states of a job, listing up to most differences and counting them all. Rows are matched by what stands in them, so that a row put in
// above does not make all below it differ.
func Compare(a, b *job.Job, most int) *Differences {
	d := &Differences{}
	for _, k := range job.SheetKinds() {
		c := comparison{kind: k, a: side(k, a.Table(k), nil), d: d, most: most}
		c.b = side(k, b.Table(k), c.a.columns)
		if n := len(c.b.columns); n > len(c.a.columns) {
			c.a.columns = c.b.columns // those of b stand behind those of a
		}
		c.run()
	}
	return d
}

// A half is one of the two tables: the rows that hold something, their cells in the columns of both.
type half struct {
	columns []string
	rows    [][]string
	number  []int // of the row, as a spreadsheet counts
	keys    []string
}

// side makes a half. known are the columns of the other one, which come first.
func side(k job.SheetKind, t *job.Table, known []string) half {
	h := half{columns: slices.Clone(known)}
	if t == nil {
		return h
	}
	c := *t
	if c.Header == nil {
		c.SplitHeader(k)
	}
	width := c.Width()
	at := make([]int, width)
	taken := map[int]bool{}
	for i := range at {
		name := ""
		if i < len(c.Header) {
			name = strings.TrimSpace(c.Header[i])
		}
		at[i] = -1
		for x, have := range h.columns {
			if have == name && !taken[x] {
				at[i] = x
				break
			}
		}
		if at[i] < 0 {
			at[i] = len(h.columns)
			h.columns = append(h.columns, name)
		}
		taken[at[i]] = true
	}
	for i, row := range c.Rows {
		cells := make([]string, len(h.columns))
		filled := 0
		for x, s := range row {
			if cells[at[x]] = s; s != "" {
				filled++
			}
		}
		if filled == 0 || k == job.SettingsSheet && filled == 1 && cells[0] != "" {
			continue
		}
		n := len(cells)
		for n > 0 && cells[n-1] == "" {
			n--
		}
		h.rows = append(h.rows, cells)
		h.number = append(h.number, c.SourceRow(i))
		h.keys = append(h.keys, strings.Join(cells[:n], "\x1f"))
	}
	return h
}

func (h *half) cell(row, col int) string {
	if col < len(h.rows[row]) {
		return h.rows[row][col]
	}
	return ""
}

type comparison struct {
	kind job.SheetKind
	a, b half
	d    *Differences
	most int
}

func (c *comparison) run() {
	a, b := c.a.keys, c.b.keys
	head := 0
	for head < min(len(a), len(b)) && a[head] == b[head] {
		head++
	}
	endA, endB := len(a), len(b)
	for endA > head && endB > head && a[endA-1] == b[endB-1] {
		endA--
		endB--
	}
	if endA-head == endB-head && c.alike(head, endA) {
		for i := head; i < endA; i++ {
			c.pair(i, i)
		}
		return
	}
	atA, atB := head, head
	for _, m := range c.anchors(head, endA, endB) {
		c.gap(atA, m[0], atB, m[1])
		atA, atB = m[0]+1, m[1]+1
	}
	c.gap(atA, endA, atB, endB)
}

// alike says that rows from … to−1 of both have the same names one by one: then they are the same rows.
func (c *comparison) alike(from, to int) bool {
	for i := from; i < to; i++ {
		if c.name(&c.a, i) != c.name(&c.b, i) {
			return false
		}
	}
	return true
}

// anchors are the rows that stand once in each and are the same in both, as far as they are in the same order.
func (c *comparison) anchors(head, endA, endB int) [][2]int {
	count := map[string]int{}
	for _, k := range c.a.keys[head:endA] {
		count[k]++
	}
	at, twice := map[string]int{}, map[string]bool{}
	for i := head; i < endB; i++ {
		k := c.b.keys[i]
		_, seen := at[k]
		twice[k] = twice[k] || seen
		at[k] = i
	}
	var both [][2]int
	for i := head; i < endA; i++ {
		k := c.a.keys[i]
		if j, ok := at[k]; ok && count[k] == 1 && !twice[k] {
			both = append(both, [2]int{i, j})
		}
	}
	// the longest run that rises in b too
	var ends []int // ends[n] is the place in both of the last of a run of n+1
	before := make([]int, len(both))
	for i := range both {
		n, _ := slices.BinarySearchFunc(ends, both[i][1], func(e, j int) int { return both[e][1] - j })
		if before[i] = -1; n > 0 {
			before[i] = ends[n-1]
		}
		if n == len(ends) {
			ends = append(ends, i)
		} else {
			ends[n] = i
		}
	}
	out := make([][2]int, len(ends))
	if len(ends) > 0 {
		for i, n := ends[len(ends)-1], len(ends)-1; i >= 0; i, n = before[i], n-1 {
			out[n] = both[i]
		}
	}
	return out
}

// gap matches what lies between two anchors: rows of one name, else rows in their order if there are as many in both.
func (c *comparison) gap(fromA, toA, fromB, toB int) {
	if toA-fromA == toB-fromB && c.sameNames(fromA, toA, fromB) {
		for i := fromA; i < toA; i++ {
			c.pair(i, fromB+i-fromA)
		}
		return
	}
	byName := map[string][]int{}
	for j := fromB; j < toB; j++ {
		n := c.name(&c.b, j)
		byName[n] = append(byName[n], j)
	}
	usedB := map[int]bool{}
	var restA []int
	for i := fromA; i < toA; i++ {
		n := c.name(&c.a, i)
		if list := byName[n]; len(list) > 0 {
			usedB[list[0]] = true
			byName[n] = list[1:]
			c.pair(i, list[0])
		} else {
			restA = append(restA, i)
		}
	}
	var restB []int
	for j := fromB; j < toB; j++ {
		if !usedB[j] {
			restB = append(restB, j)
		}
	}
	if len(restA) == len(restB) {
		for x, i := range restA {
			c.pair(i, restB[x])
		}
		return
	}
	for _, i := range restA {
		c.d.OnlyA++
		c.list(Difference{RowA: c.a.number[i], Name: c.name(&c.a, i), A: text(c.a.rows[i])})
	}
	for _, j := range restB {
		c.d.OnlyB++
		c.list(Difference{RowB: c.b.number[j], Name: c.name(&c.b, j), B: text(c.b.rows[j])})
	}
}

func (c *comparison) sameNames(fromA, toA, fromB int) bool {
	for i := fromA; i < toA; i++ {
		if c.name(&c.a, i) != c.name(&c.b, fromB+i-fromA) {
			return false
		}
	}
	return true
}

// pair compares two rows that are one.
func (c *comparison) pair(i, j int) {
	if c.a.keys[i] == c.b.keys[j] {
		return
	}
	n := 0
	for x := range max(len(c.a.columns), len(c.b.columns)) {
		s, t := c.a.cell(i, x), c.b.cell(j, x)
		if s == t {
			continue
		}
		n++
		column := ""
		if x < len(c.a.columns) {
			column = c.a.columns[x]
		}
		if column == "" {
			column = "?"
		}
		c.list(Difference{RowA: c.a.number[i], RowB: c.b.number[j], Name: c.name(&c.a, i), Column: column, A: s, B: t})
	}
	if n > 0 {
		c.d.Changed++
		c.d.Cells += n
	}
}

func (c *comparison) list(x Difference) {
	if len(c.d.List) < c.most {
		x.Sheet = c.kind
		c.d.List = append(c.d.List, x)
	}
}

// name is the machine of a row, else what stands first in it.
func (c *comparison) name(h *half, row int) string {
	for x, column := range c.a.columns {
		if info := job.FindColumn(c.kind, column); info != nil && info.Key == "machine" {
			return strings.TrimSpace(h.cell(row, x))
		}
	}
	for _, s := range h.rows[row] {
		if s = strings.TrimSpace(s); s != "" {
			return s
		}
	}
	return ""
}

// text is a row in one line.
func text(row []string) string {
	var out []string
	for _, s := range row {
		if s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, " · ")
}
