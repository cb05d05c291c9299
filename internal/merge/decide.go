package merge

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// findSigned notes which machines are signed in which file, as far as that holds.
func (p *Plan) findSigned() {
	for _, f := range p.files {
		signed := map[string]bool{}
		if f.Job.Record != nil {
			e := evaluate.NewEvaluator(f.Job)
			for i := range e.Len() {
				if r := e.Row(i); r != nil && r.Signed == evaluate.SignHolds {
					signed[fold(r.Name)] = true
				}
			}
		}
		p.signed = append(p.signed, signed)
	}
}

// within says whether everything that a holds stands in b too.
func within(a, b []string) bool {
	for x, s := range a {
		if s = strings.TrimSpace(s); strings.Contains(s, cellSign) { // rows in one
			for _, row := range strings.Split(s, rowSign) {
				if !slices.Contains(strings.Split(strings.TrimSpace(b[x]), rowSign), row) {
					return false
				}
			}
			continue
		}
		if s != "" && s != strings.TrimSpace(b[x]) {
			return false
		}
	}
	return true
}

func same(a, b []string) bool { return within(a, b) && within(b, a) }

// lockSigned settles the machines that somebody signed for: their rows are those of the file in which they are signed, all of them.
func (p *Plan) lockSigned() {
	machines := map[string][]int{}
	for k, s := range p.signed {
		for m := range s {
			machines[m] = append(machines[m], k)
		}
	}
	for _, m := range slices.Sorted(maps.Keys(machines)) {
		by := machines[m]
		l := &lock{file: by[0], question: -1}
		p.locked[m] = l
		var groups [][]int // files with another say, beside the first
		name := m
		for k := range p.files {
			if k == l.file {
				continue
			}
			differs := false
			for _, t := range p.sheets {
				for key, row := range t.files[k] {
					if t.machineOf(key) != m || t.kind == job.RecordSheet && t.signs(row) {
						continue
					}
					mine := t.files[l.file][key]
					if t.kind == job.MachinesSheet {
						name = t.names[key][0]
					}
					if mine != nil && within(row, mine) || t.base != nil && t.base[key] != nil && same(row, t.base[key]) {
						continue
					}
					differs = true
				}
			}
			if slices.Contains(by, k) { // signed there too, perhaps for more
				for _, t := range p.sheets {
					for key, row := range t.files[l.file] {
						if t.machineOf(key) == m && !(t.kind == job.RecordSheet && t.signs(row)) && !(t.files[k][key] != nil && within(row, t.files[k][key])) {
							differs = true
						}
					}
				}
			}
			if differs {
				groups = append(groups, []int{k})
			}
		}
		for _, t := range p.sheets {
			for key := range t.files[l.file] {
				if t.kind == job.MachinesSheet && t.machineOf(key) == m {
					name = t.names[key][0]
				}
			}
		}
		p.Items = append(p.Items, Item{job.MachinesSheet, name, "", Signed, p.files[l.file].Name})
		if len(groups) == 0 {
			continue
		}
		q := Question{Sheet: job.MachinesSheet, Machine: name, Row: words.MergingAllSigned.String(), Answer: -1,
			Choices: []Choice{{[]string{p.files[l.file].Name}, words.MergingAsSigned.String()}}}
		for _, g := range groups {
			text := words.MergingNotCovered.String()
			if p.signed[g[0]][m] {
				text = words.MergingAsSigned.String()
			}
			q.Choices = append(q.Choices, Choice{[]string{p.files[g[0]].Name}, text + ": " + p.others(m, l.file, g[0])})
		}
		l.question = len(p.Questions)
		p.Questions = append(p.Questions, q)
	}
	p.ofSigned = len(p.Questions)
}

// others lists what a file has of a machine that the file in which it is signed has not.
func (p *Plan) others(m string, signed, other int) string {
	var list []string
	for _, t := range p.sheets {
		for _, key := range t.keys() {
			row := t.files[other][key]
			if row == nil || t.machineOf(key) != m || t.files[signed][key] != nil && within(row, t.files[signed][key]) {
				continue
			}
			list = append(list, strings.TrimSpace(t.kind.String()+" "+t.names[key][1]))
		}
	}
	return strings.Join(list, ", ")
}

// plain is a text for people: rows that one row stands for are parted by semicolons.
func plain(s string) string {
	return strings.NewReplacer(rowSign, "; ", cellSign, " ").Replace(s)
}

// unbundle puts the rows back that one row stands for.
func (t *table) unbundle(out *job.Table) {
	var rows [][]string
	for _, row := range out.Rows {
		for _, text := range strings.Split(row[0], rowSign) {
			rows = append(rows, strings.Split(text, cellSign))
		}
	}
	out.Header, out.Rows = slices.Clone(t.inner), rows
}

// strike is a round that was not chosen, struck with the reason.
func (t *table) strike(cells []string, why string) []string {
	row := slices.Clone(cells)
	if x := slices.Index(t.ids, "struck"); x >= 0 {
		if row[x] == "" {
			row[x] = why
		}
		return row
	}
	return append(row, why)
}

// signs says whether a row of the Record sheet is a signature.
func (t *table) signs(row []string) bool {
	for x, id := range t.ids {
		if (id == "signed_by" || id == "digest") && row[x] != "" {
			return true
		}
	}
	return false
}

// keys are all keys of a sheet in an order that does not depend on that of the files: each file's own order is kept where they do not contradict each other, and where they
// leave it open the keys decide; all keys of the earlier state come in its order.
func (t *table) keys() []string {
	after := map[string]map[string]bool{} // what comes right after a key in some file
	waits := map[string]int{}
	rank := map[string]int{}
	if t.base != nil {
		for n, k := range t.order[len(t.order)-1] {
			rank[k] = n + 1
		}
	}
	for _, order := range t.order {
		for n, k := range order {
			if _, ok := waits[k]; !ok {
				waits[k] = 0
			}
			if n == 0 {
				continue
			}
			if before := order[n-1]; !after[before][k] {
				if after[before] == nil {
					after[before] = map[string]bool{}
				}
				after[before][k] = true
				waits[k]++
			}
		}
	}
	less := func(a, b string) int {
		ra, rb := rank[a], rank[b]
		if ra > 0 && rb > 0 {
			return cmp.Compare(ra, rb)
		}
		return cmp.Or(cmp.Compare(natural(a), natural(b)), cmp.Compare(a, b))
	}
	left := slices.SortedFunc(maps.Keys(waits), less)
	var out []string
	for len(left) > 0 {
		at := slices.IndexFunc(left, func(k string) bool { return waits[k] == 0 })
		if at < 0 {
			at = 0 // the files contradict each other
		}
		k := left[at]
		left = slices.Delete(left, at, at+1)
		out = append(out, k)
		for next := range after[k] {
			waits[next]--
		}
	}
	return out
}

// natural is a key with its numbers filled up, so that pump 10 comes behind pump 9.
func natural(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		if j == i {
			b.WriteByte(s[i])
			i++
			continue
		}
		fmt.Fprintf(&b, "%012s", s[i:j])
		i = j
	}
	return b.String()
}

// compare says what becomes of the rows of a sheet.
func (p *Plan) compare(t *table) {
	for _, key := range t.keys() {
		m := t.machineOf(key)
		if l := p.locked[m]; m != "" && l != nil && !(t.kind == job.RecordSheet && t.anySigns(key)) {
			continue
		}
		for _, part := range t.parts() {
			p.comparePart(t, key, part)
		}
	}
}

func (t *table) anySigns(key string) bool {
	for _, f := range t.files {
		if row := f[key]; row != nil && t.signs(row) {
			return true
		}
	}
	return false
}

// A part is columns of a row that are one thing: all of them, but on the Machines sheet the readings together and every other column by itself.
type part struct {
	name string // "" the whole row
	cols []int
}

func (t *table) parts() []part {
	if t.kind != job.MachinesSheet || t.inner != nil {
		all := make([]int, len(t.columns))
		for x := range all {
			all[x] = x
		}
		return []part{{"", all}}
	}
	readings := part{name: "readings"}
	var list []part
	for x, id := range t.ids {
		switch {
		case id != "" && job.FindColumn(job.RoundsSheet, t.columns[x]) != nil && id != "machine" && id != "unit":
			readings.cols = append(readings.cols, x)
		default:
			list = append(list, part{t.columns[x], []int{x}})
		}
	}
	return append(list, readings)
}

// of is the cells of a part.
func (q part) of(row []string) []string {
	out := make([]string, len(q.cols))
	if row != nil {
		for k, x := range q.cols {
			out[k] = strings.Trim(row[x], " \t\r\n")
		}
	}
	return out
}

// A version is what one file or several have of a part.
type version struct {
	cells []string
	files []int
}

// versions are the different states of a part that count: those that are not the earlier state's, and not within another. lacking is a file without the row that the
// earlier state has.
func (p *Plan) versions(t *table, key string, q part) (list []version, lacking int) {
	lacking = -1
	base := t.base[key]
	for k := range p.files {
		row := t.files[k][key]
		if row == nil {
			if base != nil && t.has[k] {
				lacking = k
			}
			continue
		}
		cells := q.of(row)
		if base != nil && slices.Equal(cells, q.of(base)) {
			continue
		}
		if at := slices.IndexFunc(list, func(v version) bool { return slices.Equal(v.cells, cells) }); at >= 0 {
			list[at].files = append(list[at].files, k)
			continue
		}
		list = append(list, version{cells, []int{k}})
	}
	if base == nil { // a cell blank here and filled there was filled in
		list = slices.DeleteFunc(list, func(v version) bool {
			return slices.ContainsFunc(list, func(w version) bool { return !slices.Equal(v.cells, w.cells) && within(v.cells, w.cells) })
		})
	}
	return list, lacking
}

// comparePart says what becomes of a part of a row.
func (p *Plan) comparePart(t *table, key string, q part) {
	list, lacking := p.versions(t, key, q)
	name := t.names[key]
	what := name[1]
	if q.name != "" {
		what = q.name
	}
	switch {
	case lacking >= 0 && len(list) == 0:
		if q.name != t.parts()[0].name {
			return // once a row
		}
		p.Items = append(p.Items, Item{t.kind, name[0], name[1], Lacking, p.files[lacking].Name})
	case len(list) == 1 && t.differs(key, q):
		w := Changed
		if t.count(key) == 1 && t.base[key] == nil {
			w = Fresh
		}
		if w == Fresh && q.name != "" && q.name != t.parts()[0].name {
			return // once a row
		}
		if w == Fresh {
			what = name[1]
		}
		p.Items = append(p.Items, Item{t.kind, name[0], what, w, p.files[list[0].files[0]].Name})
	case len(list) > 1:
		question := Question{Sheet: t.kind, Machine: name[0], Row: what, Answer: -1}
		for _, v := range list {
			var c Choice
			for _, k := range v.files {
				c.Files = append(c.Files, p.files[k].Name)
			}
			var cells []string
			for x, s := range v.cells {
				if slices.ContainsFunc(list, func(w version) bool { return w.cells[x] != s }) {
					if s == "" {
						s = "(blank)"
					}
					cells = append(cells, strings.TrimSpace(t.columns[q.cols[x]]+" "+plain(s)))
				}
			}
			c.Text = strings.Join(cells, " · ")
			question.Choices = append(question.Choices, c)
		}
		p.Questions = append(p.Questions, question)
		p.Items = append(p.Items, Item{t.kind, name[0], what, Both, ""})
	}
}

// differs says whether not all files that have the row have the same of a part.
func (t *table) differs(key string, q part) bool {
	var first []string
	for _, f := range append(slices.Clone(t.files), t.base) {
		if f == nil {
			continue
		}
		cells := q.of(f[key])
		if f[key] == nil && t.base == nil {
			return true
		}
		if first == nil {
			first = cells
		} else if !slices.Equal(first, cells) {
			return true
		}
	}
	return false
}

// count is how many files have a row.
func (t *table) count(key string) (n int) {
	for _, f := range t.files {
		if f[key] != nil {
			n++
		}
	}
	return n
}

// Open is how many questions have no answer.
func (p *Plan) Open() (n int) {
	for _, q := range p.Questions {
		if q.Answer < 0 {
			n++
		}
	}
	return n
}

// Prefer answers every open question with what a file has, where it has a say.
func (p *Plan) Prefer(file string) {
	for k := range p.Questions {
		q := &p.Questions[k]
		if q.Answer < 0 {
			q.Answer = slices.IndexFunc(q.Choices, func(c Choice) bool { return slices.Contains(c.Files, file) })
		}
	}
}

// Files are the names of the files that have a say, the earlier state left out.
func (p *Plan) Files() (names []string) {
	for _, f := range p.files {
		names = append(names, f.Name)
	}
	return names
}

// Merged puts the job together. Every question has to be answered. A round of readings that was not chosen stays as a struck one, with the reason.
func (p *Plan) Merged() (*job.Job, error) {
	if n := p.Open(); n > 0 {
		return nil, errors.New(words.MergingOpen.Say(n))
	}
	last := p.files[len(p.files)-1].Job
	j := &job.Job{ID: p.files[0].Job.ID, Views: maps.Clone(last.Views)}
	if p.base != nil {
		j.ID = p.base.ID
	}
	times := map[string]bool{}
	for _, f := range append(slices.Clone(p.files), File{Job: p.base}) {
		if f.Job == nil {
			continue
		}
		for _, at := range f.Job.SavedBefore {
			times[at] = true
		}
		if f.Job.SavedAt != "" {
			times[f.Job.SavedAt] = true
		}
		j.Revision = max(j.Revision, f.Job.Revision)
	}
	list := slices.Sorted(maps.Keys(times))
	if n := len(list); n > 0 {
		j.SavedAt = list[n-1]
		j.SavedBefore = list[max(0, n-1-job.MostSavedBefore) : n-1]
	}
	asked := p.ofSigned
	for _, t := range p.sheets {
		out := &job.Table{Name: t.kind.String(), Title: t.title, Header: slices.Clone(t.columns), FirstRow: len(t.title) + 2}
		if t.kind == job.SettingsSheet && !slices.ContainsFunc(p.files, func(f File) bool { s := f.Job.Settings; return s != nil && s.Header != nil }) {
			out.Header, out.FirstRow = nil, len(t.title)+1
		}
		for _, key := range t.keys() {
			m := t.machineOf(key)
			l := p.locked[m]
			if m != "" && l != nil && !(t.kind == job.RecordSheet && t.anySigns(key)) {
				from := l.file
				if l.question >= 0 {
					q := &p.Questions[l.question]
					from = slices.IndexFunc(p.files, func(f File) bool { return f.Name == q.Choices[q.Answer].Files[0] })
				}
				row := t.files[from][key]
				if row == nil && from != l.file {
					row = t.files[l.file][key]
				}
				if row != nil {
					out.Rows = append(out.Rows, slices.Clone(row))
				}
				continue
			}
			row := make([]string, len(t.columns))
			var struck [][]string
			for _, q := range t.parts() {
				list, _ := p.versions(t, key, q)
				cells := q.of(t.base[key])
				switch {
				case len(list) == 1:
					cells = list[0].cells
				case len(list) > 1:
					answer := p.Questions[asked].Answer
					asked++
					cells = list[answer].cells
					if t.kind == job.RoundsSheet {
						for n, v := range list {
							if n != answer {
								struck = append(struck, t.strike(v.cells, words.MergingNotChosen.Say(p.files[v.files[0]].Name)))
							}
						}
					}
				}
				for k, x := range q.cols {
					row[x] = cells[k]
				}
			}
			out.Rows = append(append(out.Rows, row), struck...)
		}
		if t.inner != nil {
			t.unbundle(out)
		}
		if slices.ContainsFunc(out.Rows, func(row []string) bool { return len(row) > len(t.columns) && t.inner == nil }) {
			out.Header = append(out.Header, job.FindColumn(job.RoundsSheet, "struck").Name)
		}
		j.SetTable(t.kind, out)
	}
	if j.Machines == nil {
		j.Machines = &job.Table{Name: job.MachinesSheet.String(), FirstRow: 1}
	}
	return j, nil
}
