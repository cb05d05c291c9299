package tables

import (
	"slices"
	"strings"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A boltQuestion is what a query asks of a bolt.
type boltQuestion struct {
	class    string
	k, share float64 // K: 0 not said
	finish   []string
	unread   bool // a word of it is not understood: no torque is given, for it may be the class
}

// boltWords may stand beside a bolt and say nothing more.
var boltWords = []string{"bolt", "bolts", "screw", "screws", "torque", "tightening", "tighten", "preload", "proof", "load", "stress", "area", "wrench", "spanner", "across", "flats",
	"hex", "hexagon", "head", "size", "thread", "threads", "pitch", "metric", "inch", "iso", "strength", "steel", "n", "nut", "nuts", "factor", "with"}

// bolts answers a query that names a thread or a class; false if it is none. Each of its words is then used, or said not to be understood.
func (s *search) bolts() bool {
	var threads []thread
	taken := slices.Clone(s.used)
	for i := 0; i < len(s.fields); i++ {
		for n := min(4, len(s.fields)-i); n > 0; n-- {
			if slices.Contains(s.used[i:i+n], true) {
				continue
			}
			th, ok := readThread(strings.Join(s.fields[i:i+n], " "))
			if !ok {
				continue
			}
			threads = append(threads, th)
			for j := range n {
				taken[i+j] = true
			}
			i += n - 1
			break
		}
	}
	q := boltQuestion{share: UsualShare}
	before := slices.Clone(taken)
	unread := s.boltWords(&q, taken)
	// "fist 4-1" is no bolt: an inch size counts where all else is said of bolts too.
	if len(threads) == 1 && threads[0].inch && threads[0].series == "" && len(unread) > 0 && q.class == "" &&
		!slices.ContainsFunc([]string{"bolt", "screw", "torque", "wrench", "spanner", "thread"}, s.has) {
		return false
	}
	if len(threads) == 0 {
		return s.boltByLength(&q, unread, before)
	}
	q.unread = len(unread) > 0
	for _, th := range threads {
		b, cause, near := th.find()
		if cause != "" {
			s.refuse(cause)
			for i := range near {
				s.add(&Hit{Table: near[i].table, Row: near[i].row, Why: words.LookNeighbour.String(), score: 900 - i})
			}
			continue
		}
		s.bolt(&b, &q, words.LookBoltSize.String(), 1000)
	}
	s.notUnderstood(unread)
	return true
}

// boltWords reads the fields that are not taken as what can be said of a bolt, and returns the others.
func (s *search) boltWords(q *boltQuestion, taken []bool) (unread []string) {
	finishes := fold("")
	for _, f := range Frictions() {
		finishes += fold(f.Name)
	}
next:
	for i := 0; i < len(s.fields); i++ {
		if taken[i] {
			continue
		}
		for n := min(3, len(s.fields)-i); n > 0; n-- {
			if slices.Contains(taken[i:i+n], true) {
				continue
			}
			if c, ok := readClass(strings.Join(s.fields[i:i+n], " ")); ok {
				if q.class != "" && q.class != c {
					unread = append(unread, s.fields[i:i+n]...)
				} else {
					q.class = c
				}
				for j := range n {
					taken[i+j] = true
				}
				continue next
			}
		}
		w := strings.ToLower(s.fields[i])
		if rest, ok := strings.CutPrefix(w, "k"); ok {
			rest = strings.TrimPrefix(rest, "=")
			next := rest == "" && i+1 < len(s.fields) && !taken[i+1]
			if next {
				rest = strings.TrimPrefix(s.fields[i+1], "=")
			}
			if v, err := units.Parse(rest, units.Number, units.None, units.Either); err == nil && v.Base > 0.02 && v.Base < 1 {
				q.k, taken[i] = v.Base, true
				if next {
					taken[i+1] = true
				}
				continue
			}
		}
		if strings.HasSuffix(w, "%") {
			if v, err := units.Parse(w, units.Number, units.None, units.Either); err == nil && v.Base > 0 && v.Base <= 1 {
				q.share, taken[i] = v.Base, true
				continue
			}
		}
		for _, w := range strings.Fields(fold(w)) {
			switch {
			case slices.Contains(boltWords, w) || slices.Contains(fillers, w):
			case len(w) > 2 && (strings.Contains(finishes, " "+w) || w == "zinc-plated"):
				q.finish = append(q.finish, strings.SplitN(w, "-", 2)[0])
			default:
				unread = append(unread, s.fields[i])
				continue next
			}
		}
	}
	return unread
}

// boltByLength answers a length or a class that stands without a thread: 16 mm bolt, 3/4 in grade 5, grade 7.
func (s *search) boltByLength(q *boltQuestion, unread []string, taken []bool) bool {
	asked := q.class != "" || s.has("bolt") || s.has("screw") || s.has("torque") || s.has("wrench") || s.has("spanner")
	done := false
	for _, r := range s.readings {
		fraction := r.value.Unit == units.Inch && strings.Contains(r.text, "/")
		if r.kind != units.Length || !fraction && !asked {
			continue
		}
		q.unread = len(unread) > 0
		hit := false
		for _, inch := range [...]bool{false, true} {
			for _, b := range boltsOf(inch) {
				if d := b.D - r.value.Base; d < 1e-6 && d > -1e-6 && (inch || b.series() == "coarse") {
					s.bolt(&b, q, words.LookBoltDiameter.String(), 860)
					hit = true
				}
			}
		}
		if asked {
			if done = true; !hit {
				th := thread{text: r.text, inch: r.value.Unit == units.Inch, d: r.value.Base}
				_, cause, near := th.find()
				s.refuse(cause)
				for i := range near {
					s.add(&Hit{Table: near[i].table, Row: near[i].row, Why: words.LookNeighbour.String(), score: 900 - i})
				}
			}
		}
	}
	if done {
		s.notUnderstood(unread)
		return true
	}
	if q.class == "" || len(s.readings) > 0 || len(s.fields) > 3 || slices.Contains(taken, true) {
		return false
	}
	// A class alone. A bare number such as 9.8 may be anything.
	t := Find("bolt_strength")
	for i := range t.Rows {
		if t.text(&t.Rows[i], "class") == q.class {
			s.add(&Hit{Table: t, Row: &t.Rows[i], Why: words.LookBoltClass.String(), score: 900 - i})
			done = true
		}
	}
	if !done && strings.Trim(strings.Join(s.fields, ""), "0123456789.,") == "" {
		return false
	}
	if !done {
		s.refuse(words.LookClassNone.Say(q.class, strings.Join(Classes(), ", ")))
	}
	s.notUnderstood(unread)
	return true
}

// bolt adds what is known of a thread, with the torques of the class asked for, or of the two usual ones.
func (s *search) bolt(b *Bolt, q *boltQuestion, why string, score int) {
	h := Hit{Table: b.table, Row: b.row, Why: why, score: score}
	if b.Inch {
		h.plain(words.LookStressArea.String(), b.table.text(b.row, "area"), "in²", b.Area/(25.4*25.4), b.Source)
	}
	h.plain(words.LookStressArea.String(), number(b.Area, 4), "mm²", b.Area, b.Source)
	if t, r := b.wrench(); r != nil {
		u := units.MM
		if b.Inch {
			u = units.Inch
			h.plain(words.LookWrench.String(), t.text(r, "flats"), "", t.base(r, "flats"), r.Source)
		} else {
			h.fact(words.LookWrench.String(), t.base(r, "flats"), u, 5, r.Source)
		}
	}
	stainless := slices.ContainsFunc(q.finish, func(w string) bool { return strings.HasPrefix("stainless", w) })
	classes := []string{q.class}
	switch {
	case q.unread:
		classes = nil
	case q.class != "":
		c := q.class
		if b.Inch && (c == "2" || c == "5" || c == "8") {
			c = "grade " + c
		}
		classes[0] = c
		h.Title = b.Name + ", " + c
		if cause := b.ClassProblem(c); cause != "" {
			s.refuse(cause)
			h.Title = ""
		}
	case stainless && !b.Inch:
		classes = []string{"A2-70", "A4-80"}
	case b.Inch:
		classes = []string{"grade 5", "grade 8"}
	default:
		classes = []string{"8.8", "10.9"}
	}
	for _, c := range classes {
		load, src, ok := b.ProofLoad(c)
		if !ok {
			h.say(words.LookProofLoad.Say(c), words.LookNotGiven.String(), Source{Practice, ""})
			continue
		}
		stress, stressSource, _ := ProofStress(c, b.D)
		what := [...]words.Key{words.LookProofStress, words.LookProofLoad}
		if Stainless(c) { // that standard has no proof load
			what = [...]words.Key{words.LookStrainStress, words.LookStrainLoad}
		}
		h.fact(what[0].Say(c), stress, units.MegaPascal, 4, stressSource)
		h.fact(what[1].Say(c), load, units.Newton, 6, src)
		h.fact(what[1].Say(c), load, units.PoundForce, 5, src)
		h.fact(words.LookPreloadOf.Say(percent(q.share)), q.share*load, units.Newton, 5, Source{Practice, words.LookProofShare.String()})
		h.torques(b, c, q, load)
	}
	s.add(&h)
}

// torques adds the torques for a share of a proof load, by how the thread is, and how far the preload goes with the K that books print.
func (h *Hit) torques(b *Bolt, class string, q *boltQuestion, load float64) {
	torque := func(k float64, finish string, src Source) {
		t := Torque(k, b.D, q.share*load)
		label := words.LookTorqueK.Say(class, number(k, 3), finish)
		h.fact(label, t, units.NewtonMetre, 3, src)
		h.fact(label, t, units.PoundFoot, 3, src)
		if h.Note != "" {
			return
		}
		h.Note = words.LookScatter.Say(ScatterWords)
	}
	if q.k > 0 {
		torque(q.k, "", Source{Practice, words.LookYourK.String()})
		return
	}
	first := true
	for _, f := range Frictions() {
		if f.Stainless != Stainless(class) {
			continue
		}
		named := slices.IndexFunc(q.finish, func(w string) bool { return !strings.Contains(fold(f.Name), " "+w) }) < 0
		if !named || len(q.finish) == 0 && q.class == "" && !first {
			continue
		}
		first = false
		torque(f.K, " ("+f.Name+")", Source{f.Source.Grade, words.LookKFrom.Say(f.Source.Text)})
		spread := words.LookSpread.Say(number(100*q.share*f.K/f.High, 2), number(100*q.share*f.K/f.Low, 2), number(f.High, 3), number(f.Low, 3))
		if f.Note != "" && !strings.Contains(h.Note, f.Note) {
			h.Note += "; " + f.Note
		}
		h.say(words.LookTorqueMakes.Say(f.Name), spread, f.Source)
	}
	if first {
		h.say(words.LookTorqueClass.Say(class), words.LookNoNutFactor.Say(strings.Join(q.finish, " ")), Source{Practice, ""})
	}
}
