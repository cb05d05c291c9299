package headers

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Weights of a likeness, which is from 0 to about 1.3: the least for a guess, the least to be worth a question, and how far the best has to stand
// before the next. Chosen so that the lists of the tests come out as a planner would; common practice, no source.
const (
	enough  = 0.62
	worth   = 0.44
	clearly = 0.12
)

// mostGuessed is for how many columns of a list a meaning is looked for.
const mostGuessed = 120

// A spelling is one way to write a column's name, in its significant words.
type spelling struct {
	info  *job.ColumnInfo
	words []string
}

var spellings = sync.OnceValue(func() map[job.SheetKind][]spelling {
	out := map[job.SheetKind][]spelling{}
	all := job.Columns()
	for i := range all {
		c := &all[i]
		if c.Result {
			continue
		}
		var mine []spelling
		for _, s := range c.Spellings() {
			w := significant(tokens(s))
			if len(w) > 0 && !slices.ContainsFunc(mine, func(m spelling) bool { return slices.Equal(m.words, w) }) {
				mine = append(mine, spelling{c, w})
			}
		}
		out[c.Sheet] = append(out[c.Sheet], mine...)
	}
	return out
})

// likeness compares the words of a header with those of a spelling: words that stand for each other, as a share of all there are.
func likeness(header, name []string) float64 {
	sum, met, twice := 0.0, 0, 0
	var used uint64
	for _, h := range header {
		best, at := 0.0, -1
		for j, w := range name {
			if a := alike(h, w); a > best && used>>(j&63)&1 == 0 {
				best, at = a, j
			} else if a >= 0.9 && at < 0 {
				at = -2 // says once more what another word said
			}
		}
		if at >= 0 {
			used |= 1 << (at & 63)
			sum += best
			met++
		} else if at == -2 {
			twice++
		}
	}
	return sum / float64(len(header)-twice+len(name)-met)
}

// A candidate is a meaning of a column and how likely it is.
type candidate struct {
	info  *job.ColumnInfo
	score float64
	why   string
}

// candidates are the meanings a column may have that no other has taken, likeliest first.
func (l *look) candidates(i int) []candidate {
	list, ok := l.found[i]
	if !ok {
		list = l.weigh(i)
	}
	list = slices.DeleteFunc(list, func(c candidate) bool { return l.taken[c.info.Key] != 0 })
	l.found[i] = list
	return list
}

// weigh finds the candidates of a column.
func (l *look) weigh(i int) []candidate {
	best := map[string]candidate{}
	add := func(c *job.ColumnInfo, score float64, why string) {
		if old, ok := best[c.Key]; !ok || score > old.score {
			best[c.Key] = candidate{c, score, why}
		}
	}
	if l.kind == job.ChecksSheet && l.taken["check"] == 0 && evaluate.FindCheck(l.cols[i].Header) != nil {
		return nil // the name of a check over a column is no name of a column
	}
	if len(l.words[i]) > 0 {
		for _, s := range spellings()[l.kind] {
			if l.taken[s.info.Key] != 0 {
				continue
			}
			if strings.Contains(s.info.Name, "±") && !strings.Contains(l.cols[i].Header, "±") && !slices.ContainsFunc(l.words[i], func(w string) bool { return strings.HasPrefix(w, "uncertain") }) {
				continue // a quantity is not its uncertainty
			}
			if l.turned(i, s.info) {
				continue
			}
			if x := likeness(l.words[i], s.words); x > worth-0.2 {
				add(s.info, x, words.HeaderWhyWordsFit.String())
			}
		}
	}
	all := job.Columns()
	for k := range all { // texts that are the words of a column are a sign of it under any header
		if c := &all[k]; c.Sheet == l.kind && c.Quantity == job.QChoice && !c.Result && l.taken[c.Key] == 0 && l.cols[i].Filled > 0 && !l.answers(i) && l.fit(i, c) > 0 {
			add(c, max(0.5, best[c.Key].score), words.HeaderWhyTexts.String())
		}
	}
	for k := range all { // so is a unit that only one column has a use for
		c := &all[k]
		if _, ok := units.ParseUnit(l.cols[i].Unit, c.Quantity.Kind()); ok && l.cols[i].Unit != "" && c.Quantity == job.QSpeed && c.Sheet == l.kind && l.taken[c.Key] == 0 {
			add(c, 0.7, words.HeaderWhyUnit.String())
		}
	}
	var out []candidate
	for _, c := range best {
		if f := l.fit(i, c.info); f > -1 {
			c.score += f
			out = append(out, c)
		}
	}
	sorting.Stable(out, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(b.score, a.score), strings.Compare(a.info.Key, b.info.Key))
	})
	return out
}

// turned says whether the header of a column says no to what a column of yes and no is named for, such as Not movable: what is yes under one is no under the other. "No" at the end is a number.
func (l *look) turned(i int, c *job.ColumnInfo) bool {
	if c.Quantity != job.QChoice && c.Key != "struck" && c.Key != "done" {
		return false
	}
	said := tokens(l.cols[i].Header)
	for k, w := range said {
		if w == "not" || w == "cannot" || w == "never" || w == "non" || w == "no" && k < len(said)-1 {
			return true
		}
	}
	return false
}

// answers says whether the texts of a column are yes and no and nothing else, or nothing: they are words of every column of yes and no, whatever its header asks, and so a sign of none.
func (l *look) answers(i int) bool {
	for _, r := range l.rows {
		if i < len(r) {
			switch job.NormalForm(r[i]) {
			case "", "yes", "no", "y", "n", "true", "false", "0", "1":
			default:
				return false
			}
		}
	}
	return true
}

// open says whether a column still waits for a meaning.
func (l *look) open(i int) bool {
	c := &l.cols[i]
	return c.State == Unread && c.Series == 0 && c.Header != "" && c.Filled > 0
}

// singles settles the columns that are not readings in a series.
func (l *look) singles() {
	waiting := 0
	for i := range l.cols { // a list has some; what has hundreds is none of ours
		if l.open(i) {
			if waiting++; waiting > mostGuessed {
				l.found[i] = []candidate{}
			}
		}
	}
	for { // the likeliest first; what it takes is no meaning for another
		type claim struct {
			col int
			candidate
		}
		var claims []claim
		for i := range l.cols {
			if l.open(i) {
				if c := l.candidates(i); len(c) > 0 && c[0].score >= worth {
					claims = append(claims, claim{i, c[0]})
				}
			}
		}
		if len(claims) == 0 {
			break
		}
		sorting.Stable(claims, func(a, b claim) int { return cmp.Compare(b.score, a.score) })
		first := claims[0]
		var rivals []int
		for _, c := range claims[1:] {
			if c.info == first.info && first.score-c.score < clearly {
				rivals = append(rivals, c.col)
			}
		}
		l.settle(first.col, l.candidates(first.col), rivals)
		for _, r := range rivals {
			l.settle(r, l.candidates(r), append(rivals, first.col))
		}
	}
	l.machine()
}

// settle makes the best candidates of a column a guess or a question.
func (l *look) settle(i int, list []candidate, rivals []int) {
	c := &l.cols[i]
	keys := []string{}
	two := slices.IndexFunc(l.words[i], func(w string) bool { return twofold.has(w) })
	margin := clearly
	if two >= 0 {
		margin *= 3
	}
	for _, x := range list {
		if list[0].score-x.score < margin && len(keys) < 5 {
			keys = append(keys, x.info.Key)
		}
	}
	switch {
	case len(rivals) > 0:
		c.State, c.Keys, c.Why = Asked, keys, words.HeaderWhyBoth.Say(quoted(c.Header), l.names(rivals, i))
	case two >= 0:
		c.State, c.Keys, c.Why = Asked, keys, words.HeaderWhyTwofold.Say(quoted(l.words[i][two]))
	case len(keys) > 1:
		c.State, c.Keys, c.Why = Asked, keys, words.HeaderWhyWays.String()
	case list[0].score < enough:
		c.State, c.Keys, c.Why = Asked, keys, words.HeaderWhyNear.Say(list[0].info.Name)
	default:
		c.State, c.Key, c.Why = Guessed, list[0].info.Key, list[0].why
		l.taken[c.Key] = i + 1
		if c.Unit != "" && list[0].info.Quantity.Kind() == units.Number {
			c.Unit = ""
		}
	}
}

func quoted(s string) string { return "“" + s + "”" }

func (l *look) names(cols []int, but int) string {
	var out []string
	for _, c := range cols {
		if c != but {
			out = append(out, quoted(l.cols[c].Header))
		}
	}
	return strings.Join(out, ", ")
}

// machine guesses at the first column of different texts where none names the machine.
func (l *look) machine() {
	if l.taken["machine"] != 0 || slices.ContainsFunc(l.cols, func(c Column) bool { return slices.Contains(c.Keys, "machine") }) || info(l.kind, "machine") == nil {
		return
	}
	settled := 0
	for i := range l.cols {
		if l.cols[i].State != Unread {
			settled++
		}
	}
	if settled < 3 {
		return // no list of machines
	}
	for i := range l.cols {
		seen := map[string]bool{}
		texts := 0
		for _, r := range l.rows {
			if i < len(r) && strings.TrimSpace(r[i]) != "" {
				if _, err := units.Parse(r[i], units.Number, units.None, units.Either); err != nil {
					texts++
				}
				seen[strings.ToLower(strings.TrimSpace(r[i]))] = true
			}
		}
		if texts == 0 || texts < l.cols[i].Filled {
			continue
		}
		if l.open(i) && len(seen) == texts {
			l.cols[i].State, l.cols[i].Key, l.cols[i].Why = Guessed, "machine", words.HeaderWhyFirst.String()
			l.taken["machine"] = i + 1
		}
		return
	}
}

var placeKeys = [...]string{"12", "3", "6", "9", "12_again"}

// A run is columns whose headers differ only in the place of a reading.
type run struct {
	stem  []string // significant words besides the place
	raw   string
	kind  byte
	cols  [5]int // by place, −1 none
	score map[string]float64
}

func (r *run) count() (n int) {
	for _, c := range r.cols[:4] {
		if c >= 0 {
			n++
		}
	}
	return n
}

// runs finds the series among the columns that wait: at least three of the four places, in one manner of naming them; the top of a clock may be called 0.
func (l *look) runs() []*run {
	var all []*run
	for _, kind := range []byte("cds") {
		openRuns := map[string]*run{}
		last := ""
		for i := range l.cols {
			if !l.open(i) && !l.reads(i) {
				last = ""
				continue
			}
			name, _ := parted(l.cols[i].Header)
			parts := tokens(name)
			pos := -1
			var stem []string
			again := false
			for _, w := range parts {
				if p, ok := job.PlaceOf(w); ok && pos < 0 && (p.Manner == kind || kind == 'c' && w == "0") && !(kind == 's' && len(w) == 1 && len(parts) > 1 && hasWord(parts, w)) {
					pos = p.Position
				} else if w == "again" || slices.Contains(plain.means(w), "again") {
					again = true
				} else if w != "h" && w != "deg" && w != "o" && w != "clock" && w != "00" { // 12:00
					stem = append(stem, w)
				}
			}
			if pos < 0 {
				last = ""
				continue
			}
			if again && pos == 0 {
				pos = 4
			}
			key := strings.Join(stem, " ")
			r := openRuns[key]
			if r != nil && key == "" && last != key+"·" {
				r = nil // bare places belong together where they stand together
			}
			if r != nil && r.cols[pos] >= 0 && pos == 0 && r.cols[4] < 0 && !l.begins(i, kind) {
				pos = 4
			}
			if r == nil || r.cols[pos] >= 0 {
				r = &run{stem: significant(stem), raw: key, kind: kind, cols: [5]int{-1, -1, -1, -1, -1}}
				openRuns[key] = r
				all = append(all, r)
			}
			r.cols[pos] = i
			last = key + "·"
		}
	}
	all = slices.DeleteFunc(all, func(r *run) bool {
		return r.count() < 3 || !slices.ContainsFunc(r.cols[:], func(c int) bool { return c >= 0 && l.open(c) })
	})
	sorting.Stable(all, func(a, b *run) int { return cmp.Compare(b.count(), a.count()) })
	var out []*run
	used := map[int]bool{}
	for _, r := range all {
		if !slices.ContainsFunc(r.cols[:], func(c int) bool { return c >= 0 && used[c] }) {
			for _, c := range r.cols {
				used[c] = c >= 0
			}
			out = append(out, r)
		}
	}
	sorting.Stable(out, func(a, b *run) int { return cmp.Compare(slices.Max(a.cols[:]), slices.Max(b.cols[:])) })
	return out
}

// reads says whether a column is known as a reading of a sweep: it stands in a series with those that are not.
func (l *look) reads(i int) bool { return l.sweepOf(i) != "" }

// sweepOf is the sweep of a column that is known as a reading.
func (l *look) sweepOf(i int) string {
	for _, p := range placeKeys {
		if s, ok := strings.CutSuffix(l.cols[i].Key, "_"+p); ok && len(sweepWords()[s]) > 0 {
			return s
		}
	}
	return ""
}

// hasWord: "R 12" names a rim by R and not a side.
func hasWord(words []string, but string) bool {
	for _, w := range words {
		if p, ok := job.PlaceOf(w); ok && w != but && p.Manner != 's' {
			return true
		}
	}
	return false
}

// begins says whether a new series begins at a column for 12: 3 comes next.
func (l *look) begins(i int, kind byte) bool {
	if i+1 >= len(l.cols) {
		return false
	}
	name, _ := parted(l.cols[i+1].Header)
	for _, w := range tokens(name) {
		if p, ok := job.PlaceOf(w); ok && p.Manner == kind {
			return p.Position == 1
		}
	}
	return false
}

// sweepWords are the words of each sweep, by the beginning of its keys.
var sweepWords = sync.OnceValue(func() map[string][][]string {
	out := map[string][][]string{}
	all := job.Columns()
	for i := range all {
		if key, ok := strings.CutSuffix(all[i].Key, "_12"); ok && all[i].Sheet == job.MachinesSheet {
			for _, s := range all[i].Spellings() {
				if s, ok := strings.CutSuffix(s, " 12"); ok {
					out[key] = append(out[key], significant(tokens(s)))
				}
			}
		}
	}
	return out
})

// series settles the columns that are the readings of a sweep.
func (l *look) series() {
	list := l.runs()
	allowed := l.methods()
	diameter := slices.ContainsFunc(l.words, func(w []string) bool { return slices.Contains(w, "diameter") }) || l.taken["face_diameter"] != 0
	for n, r := range list {
		if len(r.stem) == 0 {
			r.stem = l.heading(r)
		}
		r.score = map[string]float64{}
		for _, c := range r.cols {
			if c >= 0 && l.reads(c) {
				r.score[l.sweepOf(c)] = 2
			}
		}
		for key, ways := range sweepWords() {
			if r.score[key] > 0 || allowed != nil && !slices.Contains(allowed, key) || slices.ContainsFunc(r.cols[:], func(c int) bool { return c >= 0 && l.open(c) && l.taken[key+"_"+placeKeys[r.place(c)]] != 0 }) {
				continue
			}
			r.score[key] = 0
			if allowed != nil {
				r.score[key] = 0.1
			}
			for _, w := range ways {
				if len(r.stem) > 0 {
					r.score[key] = max(r.score[key], likeness(r.stem, w))
				}
			}
			if !diameter && (strings.HasSuffix(key, "face") || key == "gap") && r.score[key] < 0.9 {
				r.score[key] -= 0.15
			}
			if key == "second_rim" && r.score[key] < 0.9 {
				r.score[key] -= 0.15
			}
		}
		if slices.ContainsFunc(r.stem, func(w string) bool { return kindsOfMachine.has(w) }) { // a pump or a motor: either may be the one that is moved
			for _, pair := range [][2]string{{"movable_rim", "stationary_rim"}, {"face", "stationary_face"}} {
				m, okM := r.score[pair[0]]
				s, okS := r.score[pair[1]]
				if okM && okS {
					r.score[pair[0]], r.score[pair[1]] = max(m, s), max(m, s)
				}
			}
		}
		for _, c := range r.cols {
			if c >= 0 && l.open(c) {
				l.cols[c].Series = n + 1
				l.cols[c].Place = placeKeys[r.place(c)]
			}
		}
	}
	l.beside(list)
	l.family(list, diameter)
}

func (r *run) place(col int) int { return max(slices.Index(r.cols[:], col), 0) }

// heading takes the words that stand over a series of bare places.
func (l *look) heading(r *run) []string {
	first := slices.Max(r.cols[:])
	for _, c := range r.cols {
		if c >= 0 {
			first = min(first, c)
		}
	}
	for i := min(first, len(l.above)-1); i >= 0; i-- {
		if s := strings.TrimSpace(l.above[i]); s != "" {
			return significant(tokens(s))
		}
	}
	return nil
}

// methods are the sweeps that the methods named in the list read; nil where they are not all named.
func (l *look) methods() []string {
	m := info(job.MachinesSheet, "method")
	for i := range l.cols {
		if c := &l.cols[i]; c.Filled == 0 || c.Key != "method" && (c.State != Unread || l.fit(i, m) <= 0) {
			continue
		}
		var out []string
		for _, r := range l.rows {
			if i < len(r) && strings.TrimSpace(r[i]) != "" {
				s := job.SweepsOf(r[i])
				if s == nil {
					return nil
				}
				out = append(out, s...)
			}
		}
		return out
	}
	return nil
}

// beside lifts the rim that stands beside a face: one bracket carries both dials, so that both ride on one hub.
func (l *look) beside(list []*run) {
	face := l.taken["face_12"] != 0
	for _, r := range list {
		face = face || r.score["face"] >= 0.9 && r.score["stationary_face"] < 0.9
	}
	if !face {
		return
	}
	for _, r := range list {
		if slices.Contains(r.stem, "rim") || slices.Contains(r.stem, "r") || slices.Contains(r.stem, "od") {
			r.score["movable_rim"] += 0.25
		}
	}
}

// family settles which sweep each series is, the clearest first.
func (l *look) family(list []*run, diameter bool) {
	done := map[*run]bool{}
	taken := map[string]bool{}
	ranked := func(r *run) []string {
		var keys []string
		for k := range r.score {
			if !taken[k] {
				keys = append(keys, k)
			}
		}
		sorting.Stable(keys, func(a, b string) int { return cmp.Or(cmp.Compare(r.score[b], r.score[a]), strings.Compare(a, b)) })
		return keys
	}
	for {
		var best *run
		for _, r := range list {
			k := ranked(r)
			if done[r] || len(k) == 0 || r.score[k[0]] < worth || len(k) > 1 && r.score[k[0]]-r.score[k[1]] < clearly {
				continue
			}
			rival := slices.ContainsFunc(list, func(o *run) bool { return o != r && !done[o] && r.score[k[0]]-o.score[k[0]] < clearly })
			if !rival && (best == nil || r.score[k[0]] > best.score[ranked(best)[0]]) {
				best = r
			}
		}
		if best == nil {
			break
		}
		key := ranked(best)[0]
		done[best], taken[key] = true, true
		l.take(best, key, diameter)
	}
	for _, r := range list {
		if !done[r] {
			l.ask(r, ranked(r))
		}
	}
}

// take makes a series a guess.
func (l *look) take(r *run, family string, diameter bool) {
	why := words.HeaderWhySeries.Say(r.words())
	if r.raw != "" {
		why = words.HeaderWhySeriesOf.Say(r.words(), quoted(r.raw))
	}
	if !diameter && strings.HasSuffix(family, "rim") && !slices.Contains(r.stem, "rim") {
		why += words.HeaderWhyRims.String()
	}
	if r.kind == 's' {
		why += words.HeaderWhyRight.String()
	}
	for _, col := range r.cols {
		if col >= 0 && l.cols[col].State == Unread {
			c := &l.cols[col]
			c.State, c.Key, c.Why = Guessed, family+"_"+c.Place, why
			l.taken[c.Key] = col + 1
		}
	}
}

// ask makes a series a question.
func (l *look) ask(r *run, ranked []string) {
	var keys []string
	for _, k := range ranked {
		if len(keys) < 4 && r.score[ranked[0]]-r.score[k] < clearly {
			keys = append(keys, k)
		}
	}
	if len(keys) > 0 && r.score[ranked[0]] < worth/2 { // nothing tells them apart: the usual ones
		keys = nil
		for _, k := range []string{"movable_rim", "stationary_rim", "face", "stationary_face"} {
			if _, ok := r.score[k]; ok && slices.Contains(ranked, k) {
				keys = append(keys, k)
			}
		}
	}
	why := words.HeaderWhyWhichDial.String()
	if i := slices.IndexFunc(r.stem, func(w string) bool { return kindsOfMachine.has(w) }); i >= 0 {
		why = words.HeaderWhyWhichMachine.Say(r.stem[i])
	}
	for _, col := range r.cols {
		if col < 0 || l.cols[col].State != Unread {
			continue
		}
		c := &l.cols[col]
		c.State, c.Why = Asked, words.HeaderWhySeries.Say(r.words())+"; "+why
		for _, k := range keys {
			c.Keys = append(c.Keys, k+"_"+c.Place)
		}
		if len(keys) == 0 {
			c.State, c.Why = Unread, ""
		}
	}
}

// words lists the places of a series.
func (r *run) words() string {
	names := map[byte][5]string{'c': {"12", "3", "6", "9", "12 again"}, 'd': {"0", "90", "180", "270", "360°"}, 's': {"top", "right", "bottom", "left", "top again"}}[r.kind]
	var out []string
	for i, c := range r.cols {
		if c >= 0 {
			out = append(out, names[i])
		}
	}
	return strings.Join(out, ", ")
}
