package headers

import (
	"slices"
	"strings"
	"sync"
	"unicode"
)

// A wordTable says what words stand for. It is read when it is first wanted: entries between semicolons, the word first. As text it weighs a twentieth of what a map does that the
// compiler fills.
type wordTable struct {
	text string
	once sync.Once
	list map[string][]string
}

// find is what a word stands for; ok is false of a word that is not in the table.
func (t *wordTable) find(word string) (means []string, ok bool) {
	t.once.Do(func() {
		t.list = map[string][]string{}
		for e := range strings.SplitSeq(t.text, ";") {
			if w := strings.Fields(e); len(w) > 0 {
				t.list[w[0]] = w[1:]
			}
		}
	})
	means, ok = t.list[word]
	return means, ok
}

func (t *wordTable) has(word string) bool { _, ok := t.find(word); return ok }

func (t *wordTable) means(word string) []string { m, _ := t.find(word); return m }

// plain are words that stand for one other word wherever they occur, on the lists and in the names of the columns.
var plain = wordTable{text: `moveable movable; moving movable; moved movable; movables movable;
fixed stationary; static stationary; stays stationary;
radial rim; periphery rim; peripheral rim; circumference rim; rims rim;
axial face; faces face;
foot feet; center centre; dia diameter; ø diameter; diam diameter;
revs rpm; vertical v; vert v; horizontal h; horiz h; hor h;
bottom 6; top 12; o; clock; oclock;
tolerance limit; tolerances limits; allowed limit; allowable limit; permitted limit; max limit;
angularity slope; angle slope; kind type; remarks note; remark note; notes note; comment note; comments note;
repeat again; repeated again; closing again; return again`}

// short are short forms and words of the trade at large with what each may stand for, likeliest first. None is special to one product.
var short = wordTable{text: `m movable; mv movable; mob movable; adj movable; adjustable movable; shimmed movable;
s stationary; fix stationary; st stationary; sta stationary; stn stationary;
r rim rear right; rad rim; od rim; f face front; fr front; ax face;
rm rim; fc face; rr rear; back rear; bk rear; near front near; far rear far;
inboard front near; ib front near; outboard rear far; ob rear far; inner front near; outer rear far;
de front near; nde rear far;
ft feet; legs feet; bolts feet bolts; support support feet;
cpl coupling; cplg coupling; cpg coupling; coup coupling; hub coupling; cl coupling;
pl plane; dial plane; ind plane; indicator plane;
n speed; rev speed; rpm speed rpm; u speed;
spcr spacer; spool spacer; dbse spacer;
grad graduation; div graduation; division graduation; resolution graduation; res graduation;
rep repeatability; droop sag; barsag sag;
tol limit limits; lim limit limits; offs offset; parallel offset; angular slope; ang slope;
asset machine; equip machine; eq machine; unit machine train; tag machine; kks machine; position machine; id machine; object machine;
driver machine stationary; driven machine stationary; motor machine stationary; pump machine stationary; gear machine stationary;
gearbox machine stationary; fan machine stationary; turbine machine stationary; compressor machine stationary; generator machine stationary; mach machine;
mtd method; meth method; technique method; procedure method;
qty pieces; pcs pieces; stock hand; count pieces; thk thickness; thick thickness; gauge thickness; t thickness;
mat material; matl material; temp temperature; op running; operating running; hot running; amb cold; ambient cold;
coeff coefficient; alpha coefficient; ht height; exp growth; expansion growth coefficient; rise growth rise;
feeler gap; opening gap; straightedge step; se step; 2nd second; swing sweep; bc bolt; pcd bolt`}

// pairs are two words in two letters.
var pairs = map[string][]string{"ff": {"front", "feet"}, "rf": {"rear", "feet"}}

// kindsOfMachine are words for one of the two machines. Both shafts of a coupling turn at one speed, so that before a speed they say nothing; and which of the two is moved they do not say.
var kindsOfMachine = wordTable{text: `driver; driven; motor; pump; gear; gearbox; fan; turbine; compressor; generator`}

// twofold are words that one site uses of the end at the coupling, another of the side that faces a wall or another machine: they lead to a question.
var twofold = wordTable{text: `de; nde; inboard; outboard; ib; ob; inner; outer; near; far`}

// empty are words that say nothing of which column is meant.
var empty = wordTable{text: `to; of; the; from; at; in; on; an; for; by; between; and; reading; readings; value; val; measured; distance; dist; dim; dimension; length; len; name;
no; nr; number; type; deg; degrees; centre; tir; bar; bracket; rod; as; found`}

// tokens parts a header into words in lower case: at blanks and punctuation, between letters and digits, and where a small letter meets a capital.
func tokens(s string) []string {
	var out []string
	var b strings.Builder
	flush := func() {
		if b.Len() > 0 {
			out = append(out, strings.ToLower(b.String()))
			b.Reset()
		}
	}
	var last rune
	for _, r := range s {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			flush()
		case unicode.IsDigit(r) != unicode.IsDigit(last), unicode.IsUpper(r) && unicode.IsLower(last):
			flush()
			b.WriteRune(r)
		default:
			b.WriteRune(r)
		}
		last = r
	}
	flush()
	for i := 0; i < len(out); i++ {
		if two := pairs[out[i]]; two != nil {
			out = slices.Replace(out, i, i+1, two...)
		}
	}
	for i := 0; i+1 < len(out); i++ { // 2 and nd again
		if out[i] == "2" && out[i+1] == "nd" {
			out = append(append(out[:i:i], "2nd"), out[i+2:]...)
		}
	}
	return out
}

// significant are the words of a header that tell columns apart, in their plain form.
func significant(words []string) []string {
	var out []string
	for _, w := range words {
		if p, ok := plain.find(w); ok {
			w = strings.Join(p, "")
		}
		if w != "" && !empty.has(w) {
			out = append(out, w)
		}
	}
	has := func(list ...string) bool {
		return slices.ContainsFunc(out, func(w string) bool { return slices.Contains(list, w) })
	}
	if len(out) > 1 && has("speed", "rpm") {
		out = slices.DeleteFunc(out, func(w string) bool { return kindsOfMachine.has(w) || w == "machine" })
	}
	if has("sag", "droop") { // it is always the one at 6
		out = slices.DeleteFunc(out, func(w string) bool { return w == "6" })
	}
	return out
}

// alike says how well a word of a header stands for a word of a column's name, from 0 to 1.
func alike(word, name string) float64 {
	if word == name {
		return 1
	}
	for i, w := range short.means(word) {
		if w == name {
			return 0.95 - 0.02*float64(i)
		}
	}
	if unicode.IsDigit(rune(word[0])) || unicode.IsDigit(rune(name[0])) {
		return 0
	}
	switch {
	case len(word) >= 3 && strings.HasPrefix(name, word), len(name) >= 4 && strings.HasPrefix(word, name):
		return 0.9
	case len(word) >= 3 && len(name) >= 5 && len(word)*2 >= len(name)-1 && word[0] == name[0] && within(word, name):
		return 0.85
	case len(word) >= 5 && len(name) >= 5 && oneSlip(word, name):
		return 0.9
	}
	return 0
}

// within says whether the letters of a short form stand in the name in their order, as those of cplg in coupling.
func within(short, name string) bool {
	i := 0
	for j := 0; j < len(name) && i < len(short); j++ {
		if short[i] == name[j] {
			i++
		}
	}
	return i == len(short)
}

// oneSlip says whether two words differ by one letter added, left out or exchanged, or by two neighbours in each other's place.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return a[i:] == b[i+1:]
	}
	return i == len(a) || a[i+1:] == b[i+1:] || i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}
