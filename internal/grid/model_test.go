package grid

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// The reference below is a second, plain implementation of the same rules: whole copies of everything, rows known by a number of
// their own, no hunks, no views by address. It was written from the doc comments.

type refRow struct {
	id    int
	cells map[int]string
}

type refSheet struct {
	header []string
	rows   []refRow
	view   []int // ids; nil: all
	sorted bool
	ids    int
}

func (s *refSheet) clone() *refSheet {
	t := *s
	t.header = slices.Clone(s.header)
	t.rows = nil
	for _, r := range s.rows {
		c := map[int]string{}
		for k, v := range r.cells {
			c[k] = v
		}
		t.rows = append(t.rows, refRow{r.id, c})
	}
	t.view = slices.Clone(s.view)
	return &t
}

func (s *refSheet) shown() []int {
	if s.view != nil {
		return s.view
	}
	var out []int
	for _, r := range s.rows {
		out = append(out, r.id)
	}
	return out
}

func (s *refSheet) at(id int) int {
	return slices.IndexFunc(s.rows, func(r refRow) bool { return r.id == id })
}

func (s *refSheet) fresh(cells map[int]string) refRow {
	s.ids++
	c := map[int]string{}
	for k, v := range cells {
		c[k] = v
	}
	return refRow{s.ids, c}
}

// add puts rows in before the stored row at, shown before the shown row show.
func (s *refSheet) add(at, show int, rows ...refRow) {
	if s.view != nil {
		var ids []int
		for _, r := range rows {
			ids = append(ids, r.id)
		}
		s.view = slices.Insert(s.view, show, ids...)
	}
	s.rows = slices.Insert(s.rows, at, rows...)
}

// need makes the shown row r exist.
func (s *refSheet) need(r int) {
	for len(s.shown()) <= r {
		s.add(len(s.rows), len(s.shown()), s.fresh(nil))
	}
}

func (s *refSheet) get(r, c int) string {
	if sh := s.shown(); r < len(sh) {
		return s.rows[s.at(sh[r])].cells[c]
	}
	return ""
}

func (s *refSheet) set(r, c int, t string) {
	s.need(r)
	s.rows[s.at(s.shown()[r])].cells[c] = t
}

func line(n int, get func(c int) string) string {
	var f []string
	for c := range n {
		f = append(f, get(c))
	}
	return strings.TrimRight(strings.Join(f, "|"), "|")
}

// stored and visible write out the sheet as stored and as shown.
func (s *refSheet) stored() string {
	var b strings.Builder
	b.WriteString(strings.Join(s.header, "|"))
	for _, r := range s.rows {
		b.WriteString("/" + line(len(s.header), func(c int) string { return r.cells[c] }))
	}
	return b.String()
}

func (s *refSheet) visible() string {
	var b strings.Builder
	for r := range s.shown() {
		b.WriteString("/" + line(len(s.header), func(c int) string { return s.get(r, c) }))
	}
	return b.String()
}

func visible(m *Model) string {
	var b strings.Builder
	for r := range m.ShownRows() {
		b.WriteString("/" + line(len(m.header), func(c int) string { return m.Cell(m.Stored(r), c) }))
	}
	return b.String()
}

// refOrder is what is shown: the input columns between two read-only ones, less the hidden.
func refOrder(header []string, hidden []int) []int {
	out := []int{0, ^0}
	for c := 1; c < len(header); c++ {
		out = append(out, c)
	}
	return slices.DeleteFunc(out, func(c int) bool { return slices.Contains(hidden, c) })
}

type moment struct {
	sheet       *refSheet
	epoch       int // how often rows were arranged before
	cur, anchor Pos // where the cursor stood before the operation that led here, and which view that was
	view        *rowView
}

// count2 words a number of things as the undo list does.
func count2(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", one, "s")
}

// differing counts the cells of one sheet that are others in the other, of the same rows and columns.
func differing(a, b *refSheet) int {
	n := 0
	for i := range max(len(a.rows), len(b.rows)) {
		for c := range len(b.header) {
			s, t := "", ""
			if i < len(a.rows) {
				s = a.rows[i].cells[c]
			}
			if i < len(b.rows) {
				t = b.rows[i].cells[c]
			}
			if s != t {
				n++
			}
		}
	}
	return n
}

// play does operations taken from next on the model and on the reference, until next says stop.
func play(t *testing.T, next func() (int, bool)) {
	m := New(nil, []string{"A", "B", "C", "D"}, [][]string{{"P 1", "3", "x"}, {"P 2", "1"}, {}, {"P 10", "20", "y", "z"}, {"p 3", "", "X", "w"}})
	ref := &refSheet{header: []string{"A", "B", "C", "D"}}
	for _, r := range m.rows {
		row := ref.fresh(nil)
		for c, s := range r {
			row.cells[c] = s
		}
		ref.rows = append(ref.rows, row)
	}
	var hidden []int
	epoch := 0
	wish := []int{0, ^0, 1, 2, 3}
	m.SetOrder(wish)
	start := ref.clone()
	past := []moment{{sheet: start}}
	n := func(k int) int { v, _ := next(); return v % k }
	words := []string{"", "x", "P 7", "12", "aXa", "3,5"}
	for {
		op, more := next()
		if !more || len(ref.rows) > 60 || len(ref.header) > 14 {
			break
		}
		before := ref.clone()
		order := refOrder(ref.header, hidden)
		if len(order) > 0 {
			m.Select(Rect{n(9), n(len(order)), n(9), n(len(order))})
		}
		sel := m.Selection()
		cur, anchor, view := m.cur, m.anchor, m.view // where they are to stand after the operation, by its doc comment
		atCur, atAnchor := cur, anchor
		height := len(ref.shown())
		var inputs []int // selected
		for x := sel.C0; x <= sel.C1 && x < len(order); x++ {
			if order[x] >= 0 {
				inputs = append(inputs, order[x])
			}
		}
		var ch Change
		name, what := "", op%17
		arranged := false
		switch what {
		case 0: // typing
			if s := words[n(len(words))]; len(order) > 0 {
				m.Go(Pos{sel.R0, sel.C0}, false)
				cur = Pos{sel.R0, sel.C0}
				anchor = cur
				atCur, atAnchor = cur, cur
				if _, ok := m.Begin(); ok != (order[sel.C0] >= 0) {
					t.Fatal("Begin")
				} else if ok {
					if s != "" || sel.R0 < height {
						ref.set(sel.R0, order[sel.C0], s)
					}
					ch = m.Commit(s, 1, 0)
					cur.Row++
					anchor = cur
					if name = "typing"; s == "" {
						name = "clearing a cell"
					}
				}
			}
		case 1, 2: // a block
			h, w := 1+n(3), 1+n(3)
			var block [][]string
			for range h {
				var row []string
				for range w {
					row = append(row, words[n(len(words))])
				}
				block = append(block, row)
			}
			plan := m.PlanPaste(block, Meaning{})
			over := 0
			ch = m.ApplyPlan(plan)
			var cols []int
			if len(order) > 0 {
				for _, c := range order[sel.C0:] {
					if c >= 0 {
						cols = append(cols, c)
					}
				}
			}
			if len(order) == 0 {
				if what == 1 || ch.Any {
					// all columns hidden: the block makes new ones
					ref.needColumns(&cols, w)
					for i := range h {
						for j := range w {
							ref.set(i, cols[j], block[i][j])
						}
					}
				}
				if !ch.Any {
					ref = before
				}
				cur, anchor = Pos{}, Pos{h - 1, w - 1}
				break
			}
			if order[sel.C0] < 0 && (sel.C0 == sel.C1 || len(cols) == 0) {
				if ch.Any {
					t.Fatal("pasted over a result")
				}
				break
			}
			sh := sel.R1 - sel.R0 + 1
			th, tw := h, w
			if sh%h == 0 && len(inputs)%w == 0 && len(inputs) > 0 {
				th, tw = sh, len(inputs)
			} else if sh > h && sh%h == 0 && len(inputs)%w == 0 {
				th = sh
			}
			had := len(cols)
			ref.needColumns(&cols, tw)
			cur, anchor = Pos{sel.R0, sel.C0}, Pos{sel.R0 + th - 1, slices.Index(order, cols[tw-1])}
			if tw > had { // new columns stand last
				anchor.Col = len(order) + tw - had - 1
			}
			anchor.Col = max(anchor.Col, sel.C0)
			switch {
			case th*tw == 1:
				name = "paste of a cell"
			case th == 1:
				name = "paste of " + count2(tw, "cell")
			default:
				name = "paste of " + count2(th, "row")
			}
			for i := range th {
				ref.need(sel.R0 + i)
				for j := range tw {
					s := block[i%h][j%w]
					if old := ref.get(sel.R0+i, cols[j]); old != "" && old != s {
						over++
					}
					ref.set(sel.R0+i, cols[j], s)
				}
			}
			if plan.Replaced != over || plan.Cells != th*tw || plan.Over+plan.New != th {
				t.Fatalf("plan %+v, want %d replaced in %d × %d", plan, over, th, tw)
			}
		case 3: // clear or cut
			for r := sel.R0; r <= min(sel.R1, height-1); r++ {
				for _, c := range inputs {
					ref.set(r, c, "")
				}
			}
			if n(2) == 0 {
				ch = m.Delete()
				name = "clearing "
			} else {
				_, _, ch = m.Cut(nil)
				name = "cutting "
			}
			name += count2(differing(before, ref), "cell")
		case 4: // fill
			back := n(2) == 1
			from, step := sel.R0, 1
			if back {
				from, step = sel.R1, -1
				ch = m.FillUp()
			} else {
				ch = m.FillDown()
			}
			name = "filling " + count2(sel.R1-sel.R0, "row") + map[bool]string{false: " down", true: " up"}[back]
			end := sel.R0 + sel.R1 - from
			for i := from; i != end+step; i += step {
				for _, c := range inputs {
					if s := ref.get(from, c); s != "" || i < height {
						ref.set(i, c, s)
					}
				}
			}
		case 5: // fill sideways
			back := n(2) == 1
			if back {
				ch = m.FillLeft()
				slices.Reverse(inputs)
			} else {
				ch = m.FillRight()
			}
			name = "filling "
			for r := sel.R0; r <= min(sel.R1, height-1) && len(inputs) > 0; r++ {
				for _, c := range inputs {
					ref.set(r, c, ref.get(r, inputs[0]))
				}
			}
		case 6:
			ch = m.InsertRows()
			if sel.R0 > height || len(order) == 0 {
				break
			}
			at := len(ref.rows)
			if sel.R0 < height {
				at = ref.at(ref.shown()[sel.R0])
			}
			if name = "inserting " + count2(sel.R1-sel.R0+1, "row"); ch.From != at || ch.To != at+sel.R1-sel.R0+1 {
				t.Fatalf("%s at %d: %+v", name, at, ch)
			}
			for range sel.R1 - sel.R0 + 1 {
				ref.add(at, sel.R0, ref.fresh(nil))
			}
		case 7:
			ch = m.DeleteRows()
			for r := min(sel.R1, height-1); r >= sel.R0; r-- {
				id := ref.shown()[r]
				i := ref.at(id)
				ref.rows = slices.Delete(ref.rows, i, i+1)
				if ref.view != nil {
					ref.view = slices.Delete(ref.view, r, r+1)
				}
			}
			if k := len(before.rows) - len(ref.rows); k > 0 {
				cur.Row, anchor = sel.R0, Pos{sel.R0, cur.Col}
				name = "deleting " + count2(k, "row")
			}
		case 8:
			ch = m.DuplicateRows()
			if end := min(sel.R1, height-1); end >= sel.R0 {
				at := ref.at(ref.shown()[end]) + 1
				var rows []refRow
				for _, id := range ref.shown()[sel.R0 : end+1] {
					rows = append(rows, ref.fresh(ref.rows[ref.at(id)].cells))
				}
				ref.add(at, end+1, rows...)
				cur.Row, anchor.Row = min(cur.Row, end)+len(rows), min(anchor.Row, end)+len(rows)
				if name = "duplicating " + count2(len(rows), "row"); ch.From != at || ch.To != at+len(rows) {
					t.Fatalf("%s to %d: %+v", name, at, ch)
				}
			}
		case 9:
			d := 2*n(2) - 1
			ch = m.MoveRows(d)
			if ref.sorted {
				if ch.Any {
					t.Fatal("moved sorted rows")
				}
				break
			}
			end := min(sel.R1, height-1)
			from, to := end, sel.R0
			if d < 0 {
				from, to = sel.R0, end
			}
			if sel.R0 > end || from+d < 0 || from+d >= height {
				break
			}
			// one by one past the neighbour, contents only
			for i := from; ; i -= d {
				ids := ref.shown()
				a, b := ref.at(ids[i]), ref.at(ids[i+d])
				ref.rows[a].cells, ref.rows[b].cells = ref.rows[b].cells, ref.rows[a].cells
				if i == to {
					break
				}
			}
			cur.Row, anchor.Row = min(cur.Row, end)+d, min(anchor.Row, end)+d
			name = "moving " + count2(end-sel.R0+1, "row")
		case 10, 11: // another view
			var keys []SortKey
			for range n(3) {
				if len(order) > 0 {
					keys = append(keys, SortKey{n(len(order)), n(2) == 1})
				}
			}
			var keep func(int) bool
			var kept map[int]bool
			if n(2) == 1 {
				kept = map[int]bool{}
				for i := range ref.rows {
					kept[i] = n(3) > 0
				}
				keep = func(r int) bool { return kept[r] }
			}
			id := 0
			if cur.Row < height {
				id = ref.shown()[cur.Row]
			}
			m.Arrange(keys, nil, keep)
			ref.arrange(keys, order, kept)
			arranged = true
			one := cur.Row == anchor.Row
			if to := slices.Index(ref.shown(), id); cur.Row >= height { // as far below the last
				cur.Row += len(ref.shown()) - height
			} else if to >= 0 {
				cur.Row = to
			} else {
				cur.Row = min(cur.Row, max(len(ref.shown())-1, 0))
			}
			if anchor.Row = cur.Row; !one {
				anchor = cur
			}
		case 12:
			was := visible(m)
			name = "sorting " + count2(height, "row")
			ch = m.SortStored()
			if visible(m) != was {
				t.Fatalf("storing the order shows %s, before %s", visible(m), was)
			}
			if !ref.sorted {
				break
			}
			ids := ref.shown()
			var places []int
			for _, id := range ids {
				places = append(places, ref.at(id))
			}
			slices.Sort(places)
			old := slices.Clone(ref.rows)
			oldAt := func(id int) refRow {
				return old[slices.IndexFunc(old, func(r refRow) bool { return r.id == id })]
			}
			for i, p := range places {
				ref.rows[p] = oldAt(ids[i])
			}
			ref.sorted = false
			if len(ids) == len(ref.rows) && !ref.filtered(m) {
				ref.view = nil
			}
			epoch++ // undone it is shown in another way
		case 13: // find and replace
			q, with := words[1+n(len(words)-1)], words[n(len(words))]
			o := FindOptions{MatchCase: n(2) == 1, WholeCell: n(2) == 1, Back: n(3) == 0, InColumn: n(4) == 0, Here: n(4) == 0}
			result := func(row, k int) string { return words[(row+k)%len(words)] }
			hit := func(s string) bool {
				a, b := s, q
				if !o.MatchCase {
					a, b = strings.ToLower(a), strings.ToLower(b)
				}
				return a == b || !o.WholeCell && strings.Contains(a, b)
			}
			in := func(p Pos) bool { return !o.InColumn || p.Col == cur.Col }
			var all []Pos // in reading order
			want := Found{}
			for r := range height {
				for x, c := range order {
					p := Pos{r, x}
					if !in(p) || c >= 0 && !hit(ref.get(r, c)) || c < 0 && !hit(result(ref.at(ref.shown()[r]), ^c)) {
						continue
					}
					if all = append(all, p); c < 0 {
						want.Fixed++
					}
				}
			}
			if want.Count = len(all); len(all) > 0 {
				before := func(p Pos) bool { return p.Row < cur.Row || p.Row == cur.Row && p.Col < cur.Col }
				i := slices.IndexFunc(all, func(p Pos) bool { return p != cur && !before(p) })
				if here := slices.Index(all, cur); o.Here && here >= 0 {
					i = here
				} else if o.Back {
					i = -1
					for k, p := range all {
						if before(p) {
							i = k
						}
					}
					if want.Wrapped = i < 0; i < 0 {
						i = len(all) - 1
					}
				} else if want.Wrapped = i < 0; i < 0 {
					i = 0
				}
				want.OK, want.At, want.Index = true, all[i], i+1
				cur, anchor = all[i], all[i]
				atCur, atAnchor = cur, cur
			}
			if f := m.Find(q, o, result); f != want {
				t.Fatalf("find %q %+v: %+v, want %+v", q, o, f, want)
			}
			ch = m.ReplaceAll(q, with, o)
			for r := range height {
				for x, c := range order {
					if s := ref.get(r, c); c >= 0 && in(Pos{r, x}) && hit(s) {
						ref.set(r, c, refReplace(s, q, with, o.MatchCase))
					}
				}
			}
			name = "replacing " + count2(differing(before, ref), "cell")
		case 14: // other columns hidden
			hidden = nil
			for _, c := range []int{^0, 0, 1, 2, 3, 4} {
				if n(4) == 0 {
					hidden = append(hidden, c)
				}
			}
			m.SetHidden(hidden)
		case 15:
			k := n(len(past))
			for range k {
				c := m.Undo()
				was := past[len(past)-1]
				past = past[:len(past)-1]
				if !c.Any || text(m) != past[len(past)-1].sheet.stored() {
					t.Fatalf("undo of %q gives\n %s, want\n %s", c.Note, text(m), past[len(past)-1].sheet.stored())
				}
				if was.epoch == epoch && past[len(past)-1].epoch == epoch && visible(m) != past[len(past)-1].sheet.visible() {
					t.Fatalf("undo of %q shows\n %s, want\n %s", c.Note, visible(m), past[len(past)-1].sheet.visible())
				}
				checkView(t, m)
				checkChange(t, c, was.sheet, past[len(past)-1].sheet)
				cur, anchor = was.cur, was.anchor
				if m.view != was.view { // rows are shown in another way now: the first that changed
					cur.Row = max(m.ShownRow(c.From), 0)
					anchor.Row = cur.Row
				}
				checkCursor(t, m, "undo of "+c.Note, cur, anchor)
			}
			if k > 0 {
				cur, anchor = m.cur, m.anchor
			}
			ref = past[len(past)-1].sheet.clone()
			m.Arrange(nil, nil, nil)
			ref.view, ref.sorted = nil, false
			arranged = true
			m.SetHidden(hidden)
			cur, anchor = m.cur, m.anchor
		case 16: // a table with its header
			mean := Meaning{Arrange: func(rows [][]string) ([][]string, []string, [][]string, bool) { return nil, rows[0], rows[1:], true }}
			add := []string{"A", "C", "New " + fmt.Sprint(n(2))}
			ch = m.PasteText(strings.Join(add, "\t")+"\n1\t2\t3\n\tx\t", mean)
			name = "paste of 2 rows"
			if ref.blank() {
				cur, anchor, view = Pos{}, Pos{}, nil // a list that comes into an empty sheet is shown as it comes
				ref.header, ref.rows, ref.view, ref.sorted = add, []refRow{ref.fresh(map[int]string{0: "1", 1: "2", 2: "3"}), ref.fresh(map[int]string{1: "x"})}, nil, false
				epoch++
				break
			}
			var to []int
			for _, a := range add {
				c := slices.Index(ref.header, a)
				if c < 0 {
					c = len(ref.header)
					ref.header = append(ref.header, a)
				}
				to = append(to, c)
			}
			for len(ref.rows) > 0 && line(len(ref.header), func(c int) string { return ref.rows[len(ref.rows)-1].cells[c] }) == "" {
				id := ref.rows[len(ref.rows)-1].id
				ref.rows = ref.rows[:len(ref.rows)-1]
				if ref.view != nil {
					ref.view = slices.DeleteFunc(ref.view, func(i int) bool { return i == id })
				}
			}
			cur = Pos{len(ref.shown()), 0}
			anchor = cur
			ref.add(len(ref.rows), len(ref.shown()), ref.fresh(map[int]string{to[0]: "1", to[1]: "2", to[2]: "3"}), ref.fresh(map[int]string{to[1]: "x"}))
		}
		if arranged {
			epoch++
		}
		if got, want := text(m), ref.stored(); got != want {
			t.Fatalf("operation %d over %v, view %v, hidden %v of\n %s gives\n %s, want\n %s", what, sel, before.view, hidden, before.stored(), got, want)
		}
		if got, want := visible(m), ref.visible(); got != want {
			t.Fatalf("operation %d over %v, view %v of\n %s shows\n %s, want\n %s", what, sel, before.view, before.stored(), got, want)
		}
		checkCursor(t, m, fmt.Sprint("operation ", what, " over ", sel), cur, anchor)
		if what == 15 {
			continue
		}
		if ch.Any {
			past = append(past, moment{ref.clone(), epoch, atCur, atAnchor, view})
			if what == 0 || what == 3 || what == 4 || what == 5 || what == 13 {
				checkTight(t, ch, before, ref)
			}
			if name == "filling " && !strings.HasPrefix(m.UndoName(), name) || name != "filling " && m.UndoName() != name {
				t.Fatalf("operation %d is named %q, want %q", what, m.UndoName(), name)
			}
			checkChange(t, ch, before, ref)
		} else if before.stored() != ref.stored() {
			t.Fatalf("operation %d changed without saying so", what)
		}
		if ch.Header { // as the owner does
			wish = append([]int{}, refOrder(ref.header, nil)...)
			m.SetOrder(wish)
			m.Arrange(nil, nil, nil)
			ref.view, ref.sorted = nil, false
			hidden = nil
			m.SetHidden(nil)
			epoch++
		}
		checkView(t, m)
		if got := slices.Clone(m.order); !slices.Equal(got, refOrder(ref.header, hidden)) {
			t.Fatalf("shown are %v, want %v", got, refOrder(ref.header, hidden))
		}
		s := m.Selection()
		if len(m.order) > 0 && (s.R0 < 0 || s.C0 < 0 || s.R1 >= m.Height() || s.C1 >= m.Columns()) {
			t.Fatalf("selection %v outside", s)
		}
	}
	end, further := text(m), len(m.redo) // what was undone last and not done again
	for i := len(past) - 2; i >= 0; i-- {
		if m.Undo(); text(m) != past[i].sheet.stored() {
			t.Fatalf("step %d undone gives\n %s, want\n %s", i, text(m), past[i].sheet.stored())
		}
		checkView(t, m)
	}
	if m.Undo().Any || text(m) != start.stored() {
		t.Fatalf("all undone gives %s", text(m))
	}
	for i := 1; i < len(past); i++ {
		if m.Redo(); text(m) != past[i].sheet.stored() {
			t.Fatalf("step %d done again gives\n %s, want\n %s", i, text(m), past[i].sheet.stored())
		}
		checkView(t, m)
	}
	if len(m.redo) != further || text(m) != end {
		t.Fatalf("all done again gives %s, want %s", text(m), end)
	}
	for range len(past) - 1 {
		m.Undo()
	}
	if m.Undo().Any || text(m) != start.stored() {
		t.Fatalf("all done again and undone gives %s", text(m))
	}
}

func (s *refSheet) needColumns(cols *[]int, w int) {
	for len(*cols) < w {
		*cols = append(*cols, len(s.header))
		k := len(s.header) + 1
		for slices.Contains(s.header, fmt.Sprintf("Column %d", k)) {
			k++
		}
		s.header = append(s.header, fmt.Sprintf("Column %d", k))
	}
}

func (s *refSheet) blank() bool {
	for _, r := range s.rows {
		for _, c := range r.cells {
			if c != "" {
				return false
			}
		}
	}
	return true
}

// filtered: whether a filter is on cannot be told from the rows when it keeps all, and it makes no difference to what is seen.
func (s *refSheet) filtered(m *Model) bool { return m.view != nil }

func (s *refSheet) arrange(keys []SortKey, order []int, kept map[int]bool) {
	s.view, s.sorted = nil, false
	if len(keys) == 0 && kept == nil {
		return
	}
	ids := []int{}
	for i, r := range s.rows {
		if kept == nil || kept[i] {
			ids = append(ids, r.id)
		}
	}
	s.sorted = len(keys) > 0
	// the last key first, each time stable, by insertion
	for k := len(keys) - 1; k >= 0; k-- {
		c := order[keys[k].Col]
		cell := func(id int) string {
			if c < 0 {
				return ""
			}
			return strings.ToLower(s.rows[s.at(id)].cells[c])
		}
		for i := 1; i < len(ids); i++ {
			for j := i; j > 0 && refLess(cell(ids[j]), cell(ids[j-1]), keys[k].Desc); j-- {
				ids[j], ids[j-1] = ids[j-1], ids[j]
			}
		}
	}
	s.view = ids
}

// refLess knows the words of this test only: their order is written out.
func refLess(a, b string, desc bool) bool {
	if a == "" || b == "" {
		return a != "" && b == ""
	}
	order := []string{"1", "3", "3,5", "12", "20", "p 1", "p 2", "p 3", "p 7", "p 10"}
	rank := func(s string) (int, string) {
		if i := slices.Index(order, s); i >= 0 {
			return i, ""
		}
		return -1, s
	}
	i, s := rank(a)
	j, t := rank(b)
	if i < 0 || j < 0 { // words made by replacing: take the model's own comparison, tested by itself
		c := naturally(a, b)
		return c < 0 && !desc || c > 0 && desc
	}
	_, _ = s, t
	return i < j && !desc || i > j && desc
}

func refReplace(s, q, with string, matchCase bool) string {
	if matchCase {
		return strings.ReplaceAll(s, q, with)
	}
	out := ""
	for i := 0; i < len(s); {
		if i+len(q) <= len(s) && strings.EqualFold(s[i:i+len(q)], q) {
			out += with
			i += len(q)
		} else {
			out += s[i : i+1]
			i++
		}
	}
	return out
}

// checkView: every shown row is a stored one, none twice, and the two directions agree.
func checkView(t *testing.T, m *Model) {
	t.Helper()
	seen := map[int]bool{}
	for r := range m.ShownRows() {
		s := m.Stored(r)
		if s < 0 || s >= len(m.rows) || seen[s] || m.ShownRow(s) != r {
			t.Fatalf("shown row %d is stored row %d of %d, which is shown at %d", r, s, len(m.rows), m.ShownRow(s))
		}
		seen[s] = true
	}
	for s := range m.rows {
		if !seen[s] && m.ShownRow(s) != -1 {
			t.Fatalf("stored row %d is shown at %d", s, m.ShownRow(s))
		}
	}
	if m.Stored(m.ShownRows()) != len(m.rows) || m.ShownRow(len(m.rows)) != -1 {
		t.Fatal("the first spare row")
	}
}

// checkChange: rows outside From … To are as before, counted from the nearer end.
func checkChange(t *testing.T, ch Change, before, now *refSheet) {
	t.Helper()
	if ch.Header {
		return
	}
	if ch.Moved != (len(before.rows) != len(now.rows)) {
		t.Fatalf("%+v: %d rows, now %d", ch, len(before.rows), len(now.rows))
	}
	row := func(s *refSheet, i int) string {
		return line(len(s.header), func(c int) string { return s.rows[i].cells[c] })
	}
	if ch.From < 0 || ch.From > ch.To || ch.To > len(now.rows) {
		t.Fatalf("%+v with %d rows", ch, len(now.rows))
	}
	for i := range ch.From {
		if row(before, i) != row(now, i) {
			t.Fatalf("%+v: row %d changed", ch, i)
		}
	}
	for i := ch.To; i < len(now.rows); i++ {
		if j := i - len(now.rows) + len(before.rows); j < 0 || row(before, j) != row(now, i) {
			t.Fatalf("%+v: row %d changed", ch, i)
		}
	}
}

// checkTight: the first and the last row of From … To did change.
func checkTight(t *testing.T, ch Change, before, now *refSheet) {
	t.Helper()
	row := func(s *refSheet, i int) string {
		if i >= len(s.rows) {
			return "none"
		}
		return line(len(s.header), func(c int) string { return s.rows[i].cells[c] })
	}
	if row(before, ch.From) == row(now, ch.From) || row(before, ch.To-1) == row(now, ch.To-1) {
		t.Fatalf("%+v: more rows than changed", ch)
	}
}

// checkCursor: cursor and the selection's other end stand there, or at the nearest place that there is.
func checkCursor(t *testing.T, m *Model, what string, cur, anchor Pos) {
	t.Helper()
	near := func(p Pos) Pos {
		return Pos{max(0, min(p.Row, m.Height()-1)), max(0, min(p.Col, m.Columns()-1))}
	}
	if m.cur != near(cur) || m.anchor != near(anchor) {
		t.Fatalf("%s: the cursor is at %v from %v, want %v from %v, of %d rows", what, m.cur, m.anchor, near(cur), near(anchor), m.ShownRows())
	}
}

func TestAgainstReference(t *testing.T) {
	for seed := range 50 {
		rnd := rand.New(rand.NewPCG(uint64(seed), 7))
		left := 900
		play(t, func() (int, bool) {
			left--
			return rnd.IntN(1 << 20), left > 0
		})
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// FuzzOps plays operations on the model and the reference.
func FuzzOps(f *testing.F) {
	f.Add([]byte{10, 1, 2, 3, 4, 5, 6, 7, 8, 9, 7, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22})
	f.Add([]byte("some bytes to begin with: \x0a\x01\x02\x08\x07\x06\x0c\x0f"))
	f.Fuzz(func(t *testing.T, ops []byte) {
		if len(ops) > 1000 {
			return
		}
		play(t, func() (int, bool) {
			if len(ops) == 0 {
				return 0, false
			}
			b := ops[0]
			ops = ops[1:]
			return int(b), true
		})
	})
}
