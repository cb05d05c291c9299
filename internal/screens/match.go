package screens

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/headers"
	"shimsheet/internal/words"
)

// MatchHost is what pasting, and matching the columns of a list, ask of the desk.
type MatchHost interface {
	// LookAtList says what the columns of a list mean or may mean. text is a clipboard text, "" the sheet shown; head is the row of its header, from 1; 0: it has none; −1: to be
	// found; before is what was matched in other jobs, packed rows of sheet, header, meaning.
	LookAtList(text string, head int, before string) Matching
	MatchKeys() []MatchKey // what a column of the sheet shown can be read as
	SheetFilled() bool     // it has columns and rows
	PlanPaste(text string) PastePlan
	PlanMatched(text string, head int, choices []headers.Choice) PastePlan // no choices: what was matched in this job counts
	TakePlan() Pasted                                                      // the plan made last
	NameColumns(choices []headers.Choice) Pasted                           // of the sheet shown
	Learnt() string                                                        // what the job knows of headers, packed as before is
}

// A Matching is a list whose columns are looked at.
type Matching struct {
	Need     string // what comes before its rows: "ask" a person; "before": nothing, all that it needs was matched in this job; "" nothing
	Head     int    // row of its header, from 1; 0 none
	Rows     int
	Applied  int    // columns matched before in this job
	Lacks    string // why its rows cannot be worked out as its columns are named; "" they can
	Sheet    string
	Shape    string            // what the list is, where it is not one machine a row
	Straight string            // the same list one machine a row; "" where it cannot be laid out so
	Stated   map[string]string // by the key of a meaning, the unit that a title or a note says bare numbers are in
	Columns  []MatchColumn
}

// A MatchColumn is one column of the list.
type MatchColumn struct {
	headers.Column
	Below string // the unit that a row of units under the names says, "" none
	InJob bool   // Before: matched in this job, and read so; else on this computer
	Was   string // the header it had in the list, where the job gave it another name
}

// A MatchKey is a meaning that a column can have. Unit is that of a bare number as the job has it, "" none.
type MatchKey struct {
	Key, Name, Unit string
	Units           []string
}

// A PastePlan is what a paste would do.
type PastePlan struct {
	OK                  bool
	Note                string // why nothing would be done; else what is to be known besides
	Table               bool   // it goes by its header row; else as a block where it is put
	Fresh               bool   // the sheet is empty and takes it over as it is
	New, Over, Replaced int    // rows added, rows that are there and written over, cells that get another text
	Columns             []PasteColumn
	Samples             []PasteSample
}

// A PasteColumn is where a column of the list goes. Known is what it is understood as, "" where it is kept and not read.
type PasteColumn struct {
	Pasted, Name, Known string
	New, Left           bool
}

// A PasteSample is a cell that would get another text. Row is as people count.
type PasteSample struct {
	Row              int
	Column, Old, New string
}

// A Pasted is what came of a paste.
type Pasted struct {
	Changed bool
	Note    string
	Undo    string   // what it is called in the undo list
	Own     []string // columns of the sheet that are kept and not read
}

// How a column came to what it is read as, as the style names it.
const (
	matchKnown  = "known"
	matchBefore = "before"
	matchGuess  = "guess"
	matchAsk    = "question"
	matchChosen = "chosen"
	matchNone   = "none"
)

var matchHow = [...]string{headers.Unread: matchNone, headers.Known: matchKnown, headers.Before: matchBefore, headers.Guessed: matchGuess, headers.Asked: matchAsk}

// A matchLine is a column in the dialog: how it came to its meaning, and which it has now.
type matchLine struct {
	MatchColumn
	how, key, unit string
	shown          [2]string // class and content of its row, as last put on the page
}

// Match is pasting. A list whose columns a person has to speak about is matched in one dialog; one that goes elsewhere than where it is put, or writes over much, is shown in
// another before it is taken. Under Sheet the columns of the sheet shown are matched anew.
type Match struct {
	host   MatchHost
	before string // what was matched on this computer
	text   string // the list; "": the sheet shown
	about  Matching
	keys   []MatchKey
	lines  []matchLine
	after  Update // what is told once the paste that waits is taken
}

// NewMatch is it before anything was pasted.
func NewMatch(host MatchHost) *Match { return &Match{host: host} }

// Show is said at Event "open".
func (s *Match) Show() Update { return s.open("", nil) }

// JobChanged says nothing: the dialogs are what is worked in.
func (s *Match) JobChanged() Update { return Update{} }

// Event answers what was pasted (Value the clipboard's text, Key what was matched on this computer), and what is pressed and chosen in the dialogs.
func (s *Match) Event(e Event) Update {
	switch e.Name {
	case "pasted":
		s.before = e.Key
		return s.paste(e.Value)
	case "open":
		s.before = e.Key
		return s.open("", nil)
	case "again": // from the line of messages
		return s.open("", nil)
	case "straight":
		return s.open(s.about.Straight, nil)
	case "head":
		n, _ := strconv.Atoi(e.Value)
		s.about = s.host.LookAtList(s.text, max(0, n), s.before)
		u := s.draw()
		u.Focus = "match-head"
		return u
	case "what-list", "unit-list":
		return s.list(e.Name, e.Arg, e.Value)
	case "what":
		if at, ok := s.line(e.Arg); ok {
			s.choose(at, e.Value)
		}
		return s.bring(Update{})
	case "unit":
		if at, ok := s.line(e.Arg); ok {
			s.lines[at].unit = e.Value
		}
		return s.bring(Update{})
	case "answer":
		col, key, _ := strings.Cut(e.Arg, " ")
		at, ok := s.line(col)
		if !ok {
			return Update{}
		}
		s.choose(at, key)
		return s.bring(Update{Focus: s.next(at)})
	case "take":
		return s.take(true)
	case "less":
		return s.take(false)
	case "paste":
		u := s.done(s.host.TakePlan(), s.after)
		u.Dialog = "-"
		return u
	}
	return Update{}
}

// line is the place of a line in the dialog.
func (s *Match) line(arg string) (at int, ok bool) {
	at, err := strconv.Atoi(arg)
	return at, err == nil && at >= 0 && at < len(s.lines)
}

// paste takes a clipboard text: at once where nothing is to be asked and little is written over.
func (s *Match) paste(text string) Update {
	m := s.host.LookAtList(text, -1, s.before)
	switch m.Need {
	case "ask":
		return s.open(text, &m)
	case "before":
		said := Update{Say: words.Text("match.before", words.Count("match.columnsAre", m.Applied)), Offer: &Offer{words.Text("match.change"), "again"}}
		return s.plan(s.host.PlanMatched(text, m.Head, nil), said)
	}
	filled := s.host.SheetFilled()
	p := s.host.PlanPaste(text)
	switch {
	case !p.OK && !filled && strings.ContainsAny(strings.TrimSpace(text), "\t\n,;"): // a header of words that nobody knows: the person says which column is which
		u := s.open(text, nil)
		u.Say = words.Text("paste.theHeaderRowIsNot")
		return u
	case filled && p.OK && (p.Table && !p.Fresh || p.Replaced > 50):
		return s.show(p, Update{})
	}
	return s.carry(p, Update{}, filled)
}

// plan shows what a paste would do, or does it where it only fills an empty sheet.
func (s *Match) plan(p PastePlan, after Update) Update {
	if p.OK && p.Table && !p.Fresh {
		return s.show(p, after)
	}
	return s.carry(p, after, true)
}

// carry does what was planned and tells what came of it; of columns that are not read only where the sheet was empty.
func (s *Match) carry(p PastePlan, after Update, filled bool) Update {
	if !p.OK {
		if p.Note == "" {
			p.Note = words.Text("paste.nothingWasPasted")
		}
		return Update{Say: p.Note}
	}
	done := s.host.TakePlan()
	u := s.done(done, after)
	switch {
	case !done.Changed || done.Note != "" || after.Say != "":
	case filled && p.Replaced > 0:
		u.Say = words.Text("paste.doneNowCtrlZTakes", done.Undo, words.Count("paste.cellsHaveOtherTexts", p.Replaced))
	case !filled && len(done.Own) > 0:
		names, more := done.Own, ""
		if len(names) > 4 {
			names, more = names[:4], words.Text("paste.andMore", strconv.Itoa(len(names)-4))
		}
		u.Say = words.Text("paste.doneKeptButNotRead", done.Undo, strings.Join(names, ", "), more)
		u.Offer = &Offer{words.Text("paste.matchTheColumns"), "again"}
	}
	return u
}

// done tells of a paste, or of columns named anew: what is to be known of it, then after, or how it is taken back.
func (s *Match) done(p Pasted, after Update) Update {
	u := Update{Changed: true, Sheet: true, Say: p.Note}
	if !p.Changed {
		return u
	}
	if after.Say == "" {
		if u.Say == "" {
			u.Say = words.Text("paste.doneCtrlZTakesIt", p.Undo)
		}
		return u
	}
	u.Say, u.Offer, u.Remember = strings.TrimSpace(u.Say+" "+after.Say), after.Offer, s.host.Learnt()
	return u
}

// show is the dialog that says what a paste would do.
func (s *Match) show(p PastePlan, after Update) Update {
	s.after = after
	var what []string
	if p.New > 0 {
		what = append(what, words.Text("paste.putInBelowThoseThat", words.Count("paste.rowsAre", p.New)))
	}
	if p.Over > 0 {
		what = append(what, words.Text("paste.overThoseThatAreThere", words.Count("paste.rowsGo", p.Over)))
	}
	if p.Replaced > 0 {
		what = append(what, words.Count("paste.cellsGetOtherTexts", p.Replaced))
	}
	columns := Each(p.Columns, func(_ int, c PasteColumn) HTML {
		pasted, to, known, class := c.Pasted, c.Name, c.Known, Attr{}
		if pasted == "" {
			pasted = words.Text("paste.noHeader")
		}
		if known == "" {
			known = words.Text("paste.keptNotRead")
		}
		if c.New {
			to += words.Text("paste.aNewColumn")
		}
		if c.Left {
			to, known, class = words.Text("paste.leftOut"), "", Class("unread")
		}
		return El("tr", class, td(pasted), td(to), td(known))
	})
	body := []HTML{P("", strings.Join(what, "; ")+"."), If(p.Note != "", P("", p.Note))}
	body = append(body, listTable(Attr{}, []string{words.Text("paste.pastedColumn"), words.Text("paste.goesTo"), words.Text("paste.understoodAs")}, columns))
	if len(p.Samples) > 0 {
		body = append(body, El("h3", Attr{}, Text(words.Text("paste.textsThatChange"))),
			listTable(Attr{}, []string{words.Text("paste.row"), words.Text("paste.column"), words.Text("paste.now"), words.Text("paste.then")}, Each(p.Samples, func(_ int, c PasteSample) HTML {
				return El("tr", Attr{}, td(strconv.Itoa(c.Row)), td(c.Column), td(c.Old), td(c.New))
			})))
	}
	return Update{Regions: []Region{{"paste-body", Join(body...)}}, Dialog: "dlg-paste", Focus: "paste-take"}
}

// listTable is a table with a head.
func listTable(a Attr, head []string, rows HTML) HTML {
	return El("table", a, El("thead", Attr{}, El("tr", Attr{}, Each(head, func(_ int, t string) HTML { return th(t) }))), El("tbody", Attr{}, rows))
}

func td(text string) HTML { return El("td", Attr{}, Text(text)) }

// open is the dialog for a list, "" the sheet shown; m is what it was looked at as already, nil: not yet.
func (s *Match) open(text string, m *Matching) Update {
	if m == nil {
		looked := s.host.LookAtList(text, -1, s.before)
		m = &looked
	}
	keys := s.host.MatchKeys()
	if text == "" && len(m.Columns) == 0 {
		return Update{Say: words.Text("match.thereAreNoColumns")}
	}
	if len(keys) == 0 {
		return Update{Say: words.Text("match.theJobSheetHasRows")}
	}
	s.text, s.about, s.keys = text, *m, keys
	u := s.draw()
	u.Dialog, u.Focus = "dlg-match", "match-take"
	for at, l := range s.lines {
		if l.how == matchAsk && s.answers(at) {
			u.Focus = answerID(at)
			break
		}
	}
	if m.Straight != "" {
		u.Focus = "match-straight"
	}
	return u
}

// draw is the dialog anew, each column as the list has it.
func (s *Match) draw() Update {
	s.lines = make([]matchLine, len(s.about.Columns))
	for at, c := range s.about.Columns {
		s.lines[at] = matchLine{MatchColumn: c, how: matchHow[c.State], key: c.Key, unit: c.Unit}
	}
	lead := words.Text("match.theColumnsOf", s.about.Sheet)
	if s.text != "" {
		lead = words.Text("match.rowsOfTheSheet", words.Count("match.rows", s.about.Rows), s.about.Sheet)
	}
	if s.about.Lacks != "" && s.about.Shape == "" {
		lead += " " + words.Text("match.asItStands", s.about.Lacks)
	}
	body := []HTML{P("lead", lead)}
	if s.about.Shape != "" {
		does := Text(words.Text("match.layOutByHand"))
		if s.about.Straight != "" {
			does = Button(Attrs(ID("match-straight"), On("straight", "")), words.Text("match.layOut"))
		}
		body = append(body, El("p", Class("shape"), Text(words.Text("match.shape", s.about.Shape)+" "), does))
	}
	var look []string
	if n := s.count(matchGuess); n > 0 {
		look = append(look, words.Count("match.aGuessIs", n))
	}
	if n := s.questions(); n > 0 {
		look = append(look, words.Count("match.aQuestionIs", n))
	}
	if look != nil {
		body = append(body, P("", strings.Join(look, " ")))
	}
	if s.text != "" {
		head := El("input", Attrs(ID("match-head"), A("type", "number"), A("min", "0"), A("max", "200"), A("value", strconv.Itoa(s.about.Head)), A("aria-label", words.Text("match.headerRow")), OnLeave("head")))
		body = append(body, El("p", Class("fix"), El("label", Attr{}, Text(words.Text("match.headerInRow")+" "), head), Text(" "), El("span", Class("quiet"), Text(words.Text("match.zeroForNone")))))
	}
	rows := Each(s.lines, func(at int, l matchLine) HTML {
		class, cells := s.row(at)
		s.lines[at].shown = [2]string{class, cells.String()}
		return El("tr", Attrs(ID("match-row-"+strconv.Itoa(at)), Class(class)), cells)
	})
	body = append(body, listTable(Attrs(Class("match"), A("aria-label", words.Text("match.columnsOfTheList"))), []string{words.Text("match.inYourList"), words.Text("match.firstTexts"),
		words.Text("match.readAs"), words.Text("match.unit"), words.Text("match.whereFrom")}, rows))
	u := Update{Regions: []Region{{"match-body", Join(body...)}}}
	s.foot(&u)
	return u
}

// bring brings the rows that became others, and the foot, up to what was settled. The others stay as they are: somebody may be about to press something in them.
func (s *Match) bring(u Update) Update {
	for at := range s.lines {
		id := "match-row-" + strconv.Itoa(at)
		class, cells := s.row(at)
		if was := &s.lines[at].shown; *was != [2]string{class, cells.String()} {
			*was = [2]string{class, cells.String()}
			u.Regions = append(u.Regions, Region{id, cells})
			u.Attributes = append(u.Attributes, Attribute{ID: id, Name: "class", Value: class})
		}
	}
	s.foot(&u)
	return u
}

// row is a column of the list: the class of its row, and its cells.
func (s *Match) row(at int) (class string, cells HTML) {
	l, n := &s.lines[at], strconv.Itoa(at)
	name, was := s.name(at), HTML{}
	if l.Was != "" {
		was = El("span", Class("quiet"), Text(" "+words.Text("match.was", l.Was)))
	}
	is := s.known(l.key)
	what, units := words.Text("match.keptUnread"), HTML{}
	if is != nil {
		what = is.Name
		if len(is.Units) > 0 {
			units = El("select", Attrs(ID("match-unit-"+n), A("aria-label", words.Text("match.unitOf", name)), On("unit", n), Choices("unit-list")), Choice(l.unit, s.unit(is, l, l.unit), true))
		}
	}
	return l.how, Join(El("th", A("scope", "row"), Text(name), was), El("td", Class("sample"), Text(strings.Join(l.Sample, " · "))),
		El("td", Attr{}, El("select", Attrs(ID("match-what-"+n), A("aria-label", words.Text("match.whatIs", name)), On("what", n), Choices("what-list")), Choice(l.key, what, true))),
		El("td", Attr{}, units), El("td", Class("how"), s.why(at)))
}

// name is the header of a column.
func (s *Match) name(at int) string {
	if s.lines[at].Header == "" {
		return words.Text("match.noName")
	}
	return s.lines[at].Header
}

// known is a meaning by its key; nil: there is none.
func (s *Match) known(key string) *MatchKey {
	if at := slices.IndexFunc(s.keys, func(k MatchKey) bool { return k.Key == key }); at >= 0 {
		return &s.keys[at]
	}
	return nil
}

// unit is the unit of a bare number in words: where the header says none, what the row of units below says, then what a title says, else the job's.
func (s *Match) unit(is *MatchKey, l *matchLine, unit string) string {
	switch {
	case unit != "":
		return unit
	case l.Below != "":
		return words.Text("match.asTheRowBelow", l.Below)
	case s.about.Stated[is.Key] != "":
		return words.Text("match.asTheTitle", s.about.Stated[is.Key])
	case is.Unit != "":
		return words.Text("match.asTheJob", is.Unit)
	}
	return words.Text("match.none")
}

// list is what a list of meanings, or of units, has to choose from.
func (s *Match) list(which, arg, now string) Update {
	at, ok := s.line(arg)
	if !ok {
		return Update{}
	}
	if which == "unit-list" {
		is := s.known(s.lines[at].key)
		if is == nil {
			return Update{}
		}
		l := &s.lines[at]
		all := Choice("", s.unit(is, l, ""), now == "")
		if l.Unit != "" && !slices.Contains(is.Units, l.Unit) {
			all = Join(all, Choice(l.Unit, l.Unit, now == l.Unit)) // as the header spells it
		}
		return Update{Regions: []Region{{"match-unit-" + arg, Join(all, Each(is.Units, func(_ int, u string) HTML { return Choice(u, u, u == now) }))}}}
	}
	taken := map[string]string{}
	for k := range s.lines {
		if k != at && s.lines[k].key != "" {
			taken[s.lines[k].key] = s.name(k)
		}
	}
	all := Choice("", words.Text("match.keptUnread"), now == "")
	return Update{Regions: []Region{{"match-what-" + arg, Join(all, Each(s.keys, func(_ int, k MatchKey) HTML {
		text := k.Name
		if by := taken[k.Key]; by != "" {
			text += words.Text("match.isReadSo", by)
		}
		return Choice(k.Key, text, k.Key == now)
	}))}}}
}

// why says how a column came to what it is read as, and asks where that is open.
func (s *Match) why(at int) HTML {
	l := &s.lines[at]
	var out HTML
	switch l.how {
	case matchGuess:
		out = Join(bold(words.Text("match.guess")), Text(" "+l.Why))
	case matchAsk:
		out = Join(bold(words.Text("match.which")), Text(" "))
		if !s.answers(at) {
			out = Join(out, Text(words.Text("match.asTheFirst")))
			break
		}
		out = Join(out, Text(l.Why+" "), Each(l.Keys, func(i int, k string) HTML {
			id, name := Attr{}, k
			if i == 0 {
				id = ID(answerID(at))
			}
			if is := s.known(k); is != nil {
				name = is.Name
			}
			return Button(Attrs(id, On("answer", strconv.Itoa(at)+" "+k)), name)
		}))
	case matchBefore:
		out = Text(words.Text("match.asOnThisComputer"))
		if l.InJob {
			out = Text(words.Text("match.asInThisJob"))
		}
	case matchKnown:
		out = Text(words.Text("match.byItsName"))
	case matchChosen:
		out = Text(words.Text("match.asYouChose"))
	default:
		out = Text(words.Text("match.notRead"))
	}
	for k := range s.lines {
		if k != at && l.key != "" && s.lines[k].key == l.key {
			return Join(out, Text(" "), bold(words.Text("match.isReadTwice", s.name(k))))
		}
	}
	return out
}

func bold(text string) HTML { return El("b", Attr{}, Text(text)) }

// answerID is the first answer to a question.
func answerID(at int) string { return "match-answer-" + strconv.Itoa(at) }

// answers says whether a question is answered in this line: one answer settles all readings of a series, and stands at the first.
func (s *Match) answers(at int) bool {
	l := &s.lines[at]
	return l.Series == 0 || slices.IndexFunc(s.lines, func(x matchLine) bool { return x.Series == l.Series }) == at
}

// choose takes what somebody chose for a column; the others of its series follow, but for those that were chosen otherwise.
func (s *Match) choose(at int, key string) {
	l := &s.lines[at]
	before, place := l.key, l.Place
	s.set(at, key)
	if l.Series == 0 || key != "" && !strings.HasSuffix(key, "_"+place) {
		return
	}
	family := strings.TrimSuffix(key, place)
	for k := range s.lines {
		x := &s.lines[k]
		if k == at || x.Series != l.Series || x.how == matchChosen && x.key != "" && before != "" && !strings.HasPrefix(x.key, strings.TrimSuffix(before, place)) {
			continue
		}
		if key == "" {
			s.set(k, "")
		} else if s.known(family+x.Place) != nil {
			s.set(k, family+x.Place)
		}
	}
}

// set gives a line a meaning, "" none; a unit that it cannot have goes.
func (s *Match) set(at int, key string) {
	l := &s.lines[at]
	l.key, l.how = key, matchChosen
	if key == "" {
		l.how = matchNone
	}
	if is := s.known(key); is != nil && l.unit != "" && !slices.Contains(is.Units, l.unit) {
		l.unit = l.Unit
	}
}

// next is what to go to after an answer: the next question, or the button that takes it all.
func (s *Match) next(at int) string {
	for k := range s.lines {
		if n := (at + k) % len(s.lines); s.lines[n].how == matchAsk && s.answers(n) {
			return answerID(n)
		}
	}
	return "match-take"
}

// count is how many columns came so to what they are read as.
func (s *Match) count(how string) int {
	n := 0
	for i := range s.lines {
		if s.lines[i].how == how {
			n++
		}
	}
	return n
}

// countWords is a count of columns that came so to what they are read as.
func countWords(how string, n int) string {
	switch how {
	case matchKnown:
		return words.Count("match.areKnown", n)
	case matchBefore:
		return words.Count("match.asBefore", n)
	case matchGuess:
		return words.Count("match.areGuesses", n)
	case matchChosen:
		return words.Count("match.areChosen", n)
	}
	return words.Count("match.areUnread", n)
}

// questions is how many answers are wanted.
func (s *Match) questions() int {
	n := 0
	for at := range s.lines {
		if s.lines[at].how == matchAsk && s.answers(at) {
			n++
		}
	}
	return n
}

// foot is what stands below: what the columns come to, and what the buttons take.
func (s *Match) foot(u *Update) {
	var parts []string
	for _, how := range []string{matchKnown, matchBefore, matchGuess, matchChosen, matchNone} {
		if n := s.count(how); n > 0 {
			parts = append(parts, countWords(how, n))
		}
	}
	said := strings.Join(parts, ", ") + "."
	if n := s.questions(); n > 0 {
		said += " " + words.Count("match.questionsOpen", n)
	}
	guesses, take := s.count(matchGuess), ""
	switch {
	case guesses > 0 && s.text != "":
		take = words.Count("match.takeGuesses", guesses)
	case guesses > 0:
		take = words.Count("match.takeGuessesHere", guesses)
	case s.text != "":
		take = words.Text("match.readItSo")
	default:
		take = words.Text("match.nameThemSo")
	}
	u.Regions = append(u.Regions, Region{"match-said", Text(said)}, Region{"match-take", Text(take)})
	u.Attributes = append(u.Attributes, Attribute{ID: "match-less", Name: "hidden", Off: guesses > 0})
}

// take reads the list as it was settled; without guesses their columns stay unread.
func (s *Match) take(guesses bool) Update {
	var choices []headers.Choice
	named := 0
	for _, l := range s.lines {
		if l.how == matchAsk || l.how == matchGuess && !guesses || l.how == matchNone && l.State != headers.Known && l.State != headers.Before || l.how == matchKnown && l.unit == l.Unit {
			continue
		}
		if choices = append(choices, headers.Choice{Col: l.Col, Key: l.key, Unit: l.unit}); l.key != "" {
			named++
		}
	}
	after := Update{Say: words.Text("match.done", words.Count("match.columnsAre", named)), Offer: &Offer{words.Text("match.change"), "again"}}
	var u Update
	if s.text != "" {
		u = s.plan(s.host.PlanMatched(s.text, s.about.Head, choices), after)
	} else {
		u = s.done(s.host.NameColumns(choices), after)
	}
	if u.Dialog == "" {
		u.Dialog = "-"
	}
	return u
}
