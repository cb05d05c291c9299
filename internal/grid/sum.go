package grid

import (
	"math"
	"strings"
)

// A Summary is what the status line says of a selection. Sum, Min and Max are 0 without numbers.
type Summary struct {
	Cells, Filled, Numbers int
	Sum, Min, Max          float64
}

// A Summing works a Summary out in pieces, so that its owner can stop.
type Summing struct {
	m       *Model
	value   func(row, x int) (float64, bool)
	version int
	view    *rowView
	sel     Rect
	row     int // the next one
	sum     Summary
	lost    float64 // what the running sum has lost to rounding
}

// Summarise begins a summary of the selection, as far as rows exist. value gives the number of a cell (row stored, x a shown column)
// and whether it has one. An input cell is filled when it holds a text, a read-only one when it has a number.
func (m *Model) Summarise(value func(row, x int) (float64, bool)) *Summing {
	s := &Summing{m: m, value: value, version: m.version, view: m.view, sel: m.Selection()}
	s.row = s.sel.R0
	s.sel.R1 = min(s.sel.R1, m.ShownRows()-1)
	s.sel.C1 = min(s.sel.C1, len(m.order)-1)
	return s
}

func (s *Summing) stale() bool { return s.version != s.m.version || s.view != s.m.view }

// Next looks at the given number of cells, rounded up to whole rows, and says whether all are done, or the sheet changed meanwhile.
func (s *Summing) Next(cells int) (done bool) {
	if s.stale() {
		return true
	}
	t := &s.sum
	for ; s.row <= s.sel.R1 && cells > 0; s.row++ {
		at := s.m.Stored(s.row)
		row := s.m.rows[at]
		for x := s.sel.C0; x <= s.sel.C1; x++ {
			c := s.m.order[x]
			filled := c >= 0 && c < len(row) && strings.TrimSpace(row[c]) != ""
			t.Cells++
			if filled || c < 0 {
				if v, ok := s.value(at, x); ok && !math.IsNaN(v) {
					filled = true
					s.add(v)
				}
			}
			if filled {
				t.Filled++
			}
		}
		cells -= s.sel.C1 - s.sel.C0 + 1
	}
	return s.row > s.sel.R1
}

// add is Neumaier's compensated summation.
func (s *Summing) add(v float64) {
	t := &s.sum
	if t.Numbers == 0 {
		t.Min, t.Max = v, v
	}
	t.Numbers++
	t.Min, t.Max = min(t.Min, v), max(t.Max, v)
	sum := t.Sum + v
	if math.Abs(t.Sum) >= math.Abs(v) {
		s.lost += t.Sum - sum + v
	} else {
		s.lost += v - sum + t.Sum
	}
	t.Sum = sum
}

// Result returns what is known so far; ok is false when the sheet or what is shown of it changed since the beginning.
func (s *Summing) Result() (sum Summary, ok bool) {
	sum = s.sum
	if !math.IsInf(sum.Sum, 0) {
		sum.Sum += s.lost
	}
	return sum, !s.stale()
}
