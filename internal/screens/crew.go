package screens

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/report"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// CrewHost is what One by one asks of the desk, and has done to the job.
type CrewHost interface {
	Evaluator() *sentences.Teller
	Panel() *Panel                                              // words what is said of a coupling
	ScreenWidth() int                                           // in pixels
	SignTime() string                                           // now, as a round has its time: 2026-04-12 16:40
	ShownMachines() []int                                       // the rows of couplings, in the order of the list
	NextMachine(row int) int                                    // the place in that list of a row, or of the next coupling below it
	ShownAs() string                                            // what is shown of the list, in words; "" all of it
	CursorRow() int                                             // where the sheet Machines stands, as stored
	LookAt(row int) bool                                        // panel, paper and the sheet's cursor go to a coupling; false: they were there
	HeaderUnit(k job.SheetKind, header string) (name, u string) // the name of a column and the unit shown under it
	RoundRow(r *evaluate.Round) int                             // the row of the Rounds sheet that a round stands in, below 0: none
	UndoName(k job.SheetKind) string                            // what Undo takes back on a sheet
	LastUndo() string                                           // the same on the sheet shown, or of the whole job
	Undo(k job.SheetKind)
	UndoLast()
	PutCell(k job.SheetKind, row, col int, text string) bool
	Empty(k job.SheetKind, row int, name string) bool                         // the cell in the column of that name
	PutRow(step string, k job.SheetKind, row int, names, texts []string) bool // into the columns of these names; below 0 into a row more
}

// Crew is One by one: one coupling at a time, for whoever stands at the machine with gloves on. Large numbers, readings typed by a pad of keys or a keyboard into the
// round that counts, what to do. What is typed is a draft until the field is left; what stands on the screen stays there while a field is gone to, for a new one under
// the finger would swallow the tap.
type Crew struct {
	host CrewHost
	coupling
	at    int    // the open field
	text  string // as typed in it
	fresh bool   // the next key begins the text anew
	about [][2]string
	drawn string            // the frame on the screen
	shown map[string]string // what its regions hold
	out   Update            // the answer under way
	own   bool              // the next change of the job that is told is this screen's own
}

// A coupling is what is told of one.
type coupling struct {
	row           int // as stored; below 0: none was gone to yet
	number, total int // its place in the list, from 1, and how many there are
	name, state   string
	mark          string // of its verdict
	said          string
	says          HTML
	fields        []evaluate.RoundField
	waiting       bool // nothing was read yet
	next          string
	describes     bool // how the open round was read can be said
}

// NewCrew is One by one before a coupling was gone to.
func NewCrew(host CrewHost) *Crew {
	return &Crew{host: host, coupling: coupling{row: -1}, shown: map[string]string{}}
}

// Show is the coupling where the sheet stands, at its first empty field.
func (s *Crew) Show() Update {
	s.row, s.drawn, s.own = max(s.host.CursorRow(), 0), "", false
	s.load(0)
	s.open(s.firstEmpty())
	s.focus()
	s.out.Window, s.out.Finger = "low", "-" // the page's own bars would leave no room
	return s.finish()
}

// Hide takes what is typed.
func (s *Crew) Hide() Update {
	s.take()
	s.row = -1
	u := s.out
	s.out = Update{}
	return u
}

// JobChanged brings the screen up to the job. What is half typed stays, as long as there is a field for it.
func (s *Crew) JobChanged() Update {
	if s.row < 0 || s.own {
		s.own = false
		return Update{}
	}
	was, text, fresh := s.fieldName(), s.text, s.fresh
	s.load(0)
	if k := slices.IndexFunc(s.fields, func(f evaluate.RoundField) bool { return s.name+f.Sheet.String()+f.Header == was }); !fresh && k >= 0 {
		s.at, s.text, s.fresh = k, text, false
	}
	return s.finish()
}

// fieldName tells the open field from all others.
func (s *Crew) fieldName() string {
	if f := s.field(); f != nil {
		return s.name + f.Sheet.String() + f.Header
	}
	return ""
}

// field is the open one, nil where there is none.
func (s *Crew) field() *evaluate.RoundField {
	if s.at < 0 || s.at >= len(s.fields) {
		return nil
	}
	return &s.fields[s.at]
}

// Event answers fields and keys, the buttons above them, and the small forms.
func (s *Crew) Event(e Event) Update {
	n, _ := strconv.Atoi(e.Arg)
	switch e.Name {
	case "focus":
		s.goTo(n)
		s.focus()
		s.out.Select = true
	case "typed":
		if n == s.at {
			s.text = e.Value
			return s.typed()
		}
		s.goTo(n)
		s.text, s.fresh = e.Value, false
	case "key":
		return s.key(e.Arg)
	case "keyed":
		return s.keyed(e.Key)
	case "left":
		if n == s.at {
			s.take()
		}
	case "settle":
		s.take()
	case "step":
		s.step(n)
	case "undo":
		s.undo()
	case "new":
		s.newRound(evaluate.RoundKind(n))
	case "paste":
		s.take()
		s.out.Paste = "pasted"
	case "pasted":
		s.pasted(e)
	case "choose":
		s.choose()
	case "find":
		return s.find(e)
	case "go":
		s.goMachine(n)
	case "sheet":
		return Update{Place: &Place{0, s.row, -1}}
	case "fold":
		return s.host.Panel().Event(e)
	default:
		s.formEvent(e)
	}
	return s.finish()
}

// goTo opens another field; what is typed in the one before is taken.
func (s *Crew) goTo(i int) {
	if i != s.at {
		s.take()
		s.open(i)
	}
}

// keyed answers a key pressed in a field.
func (s *Crew) keyed(key string) Update {
	switch key {
	case "Enter", "ArrowDown":
		s.enter(1)
	case "ArrowUp":
		s.enter(-1)
	case "Control+z":
		s.undo()
	default: // Escape
		if f := s.field(); f == nil || f.Text == s.text {
			return Update{Pass: true}
		}
		s.open(s.at)
		s.focus()
	}
	return s.finish()
}

// load brings what is told up to the job, step couplings on.
func (s *Crew) load(step int) {
	s.look(step)
	if s.total > 0 && s.host.LookAt(s.row) {
		s.out.Changed = true
	}
	if step != 0 {
		s.at = s.firstEmpty()
	}
	s.open(min(s.at, max(len(s.fields)-1, 0)))
}

// look asks what is to be told of the coupling nearest to the row in the direction of step.
func (s *Crew) look(step int) {
	ev, list := s.host.Evaluator(), s.host.ShownMachines()
	if len(list) == 0 {
		s.coupling = coupling{row: s.row}
		return
	}
	k := min(max(s.host.NextMachine(s.row)+step, 0), len(list)-1)
	at := list[k]
	r := ev.Row(at)
	c := coupling{row: at, number: k + 1, total: len(list), name: r.Name, state: r.StateWord().String(), mark: verdictMark(r.Verdict), fields: ev.RoundFields(at), next: ev.NextRound(at)}
	c.waiting = c.state == "waiting" && len(r.Rounds) == 0
	names, _, _ := ev.RoundAbout(at)
	c.describes = len(names) > 0
	var rounds []RoundLine
	for i := range r.Rounds {
		x := &r.Rounds[i]
		rounds = append(rounds, RoundLine{Name: x.Name, Who: strings.Trim(x.When+", "+x.By, ", "), Verdict: x.Verdict.String(), Struck: x.Struck, Row: s.host.RoundRow(x)})
	}
	if len(rounds) == 0 && c.state != "waiting" { // the readings found, in its own row
		rounds = []RoundLine{{Name: "found", Verdict: r.Verdict.String(), Row: -1}}
	}
	if r.OpenIsHot() {
		c.state += words.Text("crew.hot")
	}
	c.said = told(ev.Sentences(at)).verdict()
	room := 30
	if s.host.ScreenWidth() > 800 {
		room = 460 // fields and keys stand beside it
	}
	c.says = s.host.Panel().Said(at, min(max(s.host.ScreenWidth()-room, 300), 760), rounds)
	s.coupling = c
}

// firstEmpty is the first empty field; 0 where all are filled.
func (s *Crew) firstEmpty() int {
	for i := range s.fields {
		if s.empty(i) {
			return i
		}
	}
	return 0
}

func (s *Crew) empty(i int) bool { return strings.TrimSpace(s.fields[i].Text) == "" }

func (s *Crew) open(i int) {
	s.at, s.text, s.fresh = i, "", true
	if f := s.field(); f != nil {
		s.text = f.Text
	}
}

// focus leads to the open field, and brings it into sight.
func (s *Crew) focus() {
	if s.field() != nil {
		s.out.Focus, s.out.Reveal = crewInputID(s.at), crewFieldID(s.at)
	}
}

func crewInputID(i int) string { return "crew-input-" + strconv.Itoa(i) }
func crewFieldID(i int) string { return "crew-field-" + strconv.Itoa(i) }

// take puts the typed text into the job if it is another one.
func (s *Crew) take() {
	f := s.field()
	if f == nil || f.Text == s.text {
		return
	}
	s.changed(s.host.PutCell(f.Sheet, f.Row, f.Col, s.text))
	s.look(0)
	s.out.Say = s.said
	if f := s.field(); f != nil && f.Problem != nil {
		name, _ := s.host.HeaderUnit(f.Sheet, f.Header)
		s.out.Say = words.Text("crew.wrong", name, brief(f.Problem))
	}
}

// changed notes that the job was changed, or at least asked about.
func (s *Crew) changed(yes bool) {
	s.out.Changed = true
	s.own = s.own || yes
}

// brief is what is wrong with a cell, with what helps where that is short.
func brief(p *job.Problem) string {
	if len(p.Hint.String()) > 100 {
		return p.Text.String()
	}
	return (&Problem{Text: p.Text.String(), Hint: p.Hint.String()}).words()
}

// enter takes the field and goes on: to the next empty one, to the next, to one that was left out, and at last to what it comes to; or back by one.
func (s *Crew) enter(step int) {
	s.take()
	n := len(s.fields)
	if step < 0 {
		s.open(max(s.at-1, 0))
		s.focus()
		return
	}
	for i := s.at + 1; i < n; i++ {
		if s.empty(i) {
			s.open(i)
			s.focus()
			return
		}
	}
	missed := -1
	for i := 0; i < min(s.at, n) && missed < 0 && s.at+1 >= n; i++ {
		if s.empty(i) {
			missed = i
		}
	}
	switch {
	case s.at+1 < n:
		s.open(s.at + 1)
	case missed >= 0:
		s.open(missed)
	default:
		s.open(s.at)
		s.out.Read = "crew-says"
		return
	}
	s.focus()
}

// key is a key of the pad.
func (s *Crew) key(k string) Update {
	if s.field() == nil {
		return Update{}
	}
	switch k {
	case "up", "down":
		s.enter(map[string]int{"up": -1, "down": 1}[k])
		return s.finish()
	case "sign":
		if bare, minus := strings.CutPrefix(s.text, "-"); minus {
			s.text = bare
		} else {
			s.text = "-" + strings.TrimPrefix(s.text, "+")
		}
	case "back":
		r := []rune(s.text)
		if s.fresh || len(r) == 0 {
			s.text = ""
		} else {
			s.text = string(r[:len(r)-1])
		}
	default:
		if s.fresh {
			s.text = ""
		}
		s.text += k
	}
	s.out.Values = []Value{{crewInputID(s.at), s.text}}
	s.out.Reveal = crewFieldID(s.at)
	return s.typed()
}

// typed is the answer to what changes the draft and nothing else.
func (s *Crew) typed() Update {
	s.fresh = false
	s.digits()
	s.out.Attributes = append(s.out.Attributes, Attribute{ID: crewInputID(s.at), Name: "data-fresh", Off: true}, s.undoable())
	return s.answer()
}

// answer is the answer under way.
func (s *Crew) answer() Update {
	u := s.out
	s.out = Update{}
	if f := s.field(); f != nil && f.Text != s.text {
		name, _ := s.host.HeaderUnit(f.Sheet, f.Header)
		u.Typing = words.Text("crew.typedIn", s.name, name, s.text)
	}
	return u
}

// step goes to another coupling; the focus stays in the screen.
func (s *Crew) step(d int) {
	s.take()
	s.load(d)
	s.focus()
	s.out.Finger = "crew-next"
	if d < 0 {
		s.out.Finger = "crew-previous"
	}
	s.out.Say = words.Text("crew.place", s.name, strconv.Itoa(s.number), strconv.Itoa(s.total))
}

// undo takes back the last thing typed: first what is not taken yet.
func (s *Crew) undo() {
	f := s.field()
	switch {
	case f != nil && f.Text != s.text:
		s.open(s.at)
	case f != nil && s.host.UndoName(s.sheet()) != "":
		s.host.Undo(s.sheet())
		s.changed(true)
		s.load(0)
	case s.host.LastUndo() != "":
		s.host.UndoLast()
		s.changed(true)
		s.load(0)
	}
	s.focus()
}

// sheet is that of the fields.
func (s *Crew) sheet() job.SheetKind {
	if len(s.fields) == 0 {
		return job.MachinesSheet
	}
	return s.fields[len(s.fields)-1].Sheet
}

// undoable is whether there is something that Undo takes back.
func (s *Crew) undoable() Attribute {
	f := s.field()
	return Attribute{ID: "crew-undo", Name: "disabled", Off: s.host.LastUndo() != "" || s.host.UndoName(s.sheet()) != "" || f != nil && f.Text != s.text}
}

// newRound begins a round on the Rounds sheet: what is typed from then on goes there, and nothing is written over.
func (s *Crew) newRound(kind evaluate.RoundKind) {
	s.take()
	names, texts, why := s.host.Evaluator().NewRound(s.row, kind, s.host.SignTime())
	s.out.Say = why.String()
	if why.Empty() && s.host.PutRow(words.Text("crew.stepRound"), job.RoundsSheet, -1, names, texts) {
		s.changed(true)
		s.out.Say = words.Text("crew.begins", texts[1], texts[0])
	}
	s.load(0)
	s.open(s.firstEmpty())
	s.focus()
}

// pasted puts readings into the fields from the open one on, as one step to undo. Values are set apart by tabs, line ends, semicolons or blanks. Where the browser does not
// hand the clipboard over, or asks first, they are pasted into a field.
func (s *Crew) pasted(e Event) {
	text := e.Value
	if e.Kind == "none" {
		box := El("textarea", Attrs(ID("crew-text"), A("name", "text"), A("rows", "2"), A("aria-label", words.Text("crew.pasteHere"))))
		s.ask("pasted", "", words.Text("crew.takeIt"), El("label", Attr{}, Text(words.Text("crew.pasteHere")), box))
		s.out.Focus = "crew-text"
		return
	}
	if e.Kind == "submit" {
		text = s.form(e)[0]
	}
	s.closeForm()
	values := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("\t\r\n; ", r) })
	switch left := len(s.fields) - s.at; {
	case len(values) == 0:
		s.out.Say = words.Text("crew.nothingToPaste")
	case len(values) > left:
		s.out.Say = words.Text("crew.notPasted", strconv.Itoa(len(values)), strconv.Itoa(max(left, 0)))
	default:
		from := s.fields[s.at]
		names := make([]string, len(values))
		for i := range values {
			names[i] = s.fields[s.at+i].Header
		}
		if s.host.PutRow(words.Text("crew.stepPaste"), from.Sheet, from.Row, names, values) {
			s.changed(true)
			s.out.Say = words.Text("crew.pasted", words.Count("crew.readingsPasted", len(values)), from.Header)
		}
	}
	s.load(0)
	s.open(s.firstEmpty())
	s.focus()
}

// ask opens a form below the buttons.
func (s *Crew) ask(event, class, take string, body ...HTML) {
	body = append(body, El("button", A("type", "submit"), Text(take)), Button(On("notNow", event), words.Text("crew.notNow")))
	s.region("crew-form", El("form", Attrs(Class("crew-ask"+class), ID("crew-ask"), On(event, "")), body...))
}

func (s *Crew) closeForm() { s.region("crew-form", HTML{}) }

// form are the fields of a form that was sent.
func (s *Crew) form(e Event) []string {
	var out []string
	for _, f := range formFields(e.Value) {
		out = append(out, f[1])
	}
	return out
}

// formEvent answers the forms that say how a round was read, and that strike one.
func (s *Crew) formEvent(e Event) {
	switch e.Name {
	case "notNow":
		s.closeForm()
		if e.Arg == "pasted" {
			s.focus()
		}
	case "about":
		s.describe()
	case "described":
		s.closeForm()
		for i, text := range s.form(e) {
			if i < len(s.about) && text != s.about[i][1] {
				_, _, row := s.host.Evaluator().RoundAbout(s.row)
				s.note(words.Text("crew.stepAbout"), row, s.about[i][0], text)
			}
		}
		s.load(0)
		s.focus()
	case "strike": // its row of the Rounds sheet, and its name
		_, name, _ := strings.Cut(e.Arg, " ")
		box := El("input", Attrs(ID("crew-why"), A("name", e.Arg), A("aria-label", words.Text("crew.whyItDoesNotCount"))))
		s.ask("struck", "", words.Text("crew.strikeIt"), El("label", Attr{}, Text(words.Text("crew.strikeWhy", name)), box))
		s.out.Focus, s.out.Reveal, s.out.Centre = "crew-why", "crew-ask", true
	case "struck":
		place, why, _ := strings.Cut(e.Value, "\x1f")
		if why = strings.TrimSpace(why); why == "" {
			s.out.Say, s.out.Focus = words.Text("crew.aReasonIsNeeded"), "crew-why"
			return
		}
		place, _, _ = strings.Cut(place, " ")
		row, err := strconv.Atoi(place)
		if err != nil {
			return
		}
		s.closeForm()
		s.note(words.Text("crew.stepStrike"), row, evaluate.StruckColumn(), why)
		s.load(0)
	}
}

// describe asks how the open round was read: who, how warm, with what, what was done, what lies under the feet now. A second time it closes that form.
func (s *Crew) describe() {
	if strings.Contains(s.shown["crew-form"], "crew-about") {
		s.closeForm()
		return
	}
	s.take()
	s.refresh() // taking may have begun another frame
	names, texts, _ := s.host.Evaluator().RoundAbout(s.row)
	s.about = nil
	var body []HTML
	for i, name := range names {
		s.about = append(s.about, [2]string{name, texts[i]})
		title := Attr{}
		if i == len(names)-1 {
			title = A("title", words.Text("crew.packsMeans"))
		}
		k := strconv.Itoa(i)
		body = append(body, El("label", Attr{}, Text(name), El("input", Attrs(ID("crew-about-"+k), A("name", k), A("value", texts[i]), A("aria-label", name), title))))
	}
	s.ask("described", " crew-about", words.Text("crew.takeIt"), body...)
	s.out.Focus = "crew-about-0"
}

// note writes a text into the row of a round on the Rounds sheet; below 0 into a new one, which speaks of the readings found that stand in the machine's own
// row, and leaves these as they are. An empty text empties the cell.
func (s *Crew) note(step string, row int, name, text string) {
	names, texts := []string{name}, []string{text}
	if text == "" && row >= 0 {
		s.changed(s.host.Empty(job.RoundsSheet, row, name))
		return
	}
	if row < 0 {
		n, t := s.host.Evaluator().FoundRow(s.row)
		names, texts, row = append(n, names...), append(t, texts...), -1
	}
	s.changed(s.host.PutRow(step, job.RoundsSheet, row, names, texts))
}

// choose opens or closes the machine chooser: a field to search in, which also takes the code of a card, and the machines that fit.
func (s *Crew) choose() {
	if s.shown["crew-chooser"] != "" {
		s.region("crew-chooser", HTML{})
		s.out.Focus = "crew-pick"
		return
	}
	s.take()
	s.refresh()
	search := El("input", Attrs(A("type", "search"), ID("crew-search"), A("autocomplete", "off"), A("spellcheck", "false"), A("aria-label", words.Text("crew.searchAMachine")),
		A("placeholder", words.Text("crew.searchAMachine")), On("find", ""), OnKey("find", "Enter Escape")))
	s.region("crew-chooser", El("div", Attrs(Class("crew-choose"), Role("region"), A("aria-label", words.Text("crew.chooseAMachine"))), search,
		El("ul", ID("crew-list"), s.fitting(""))))
	s.out.Focus = "crew-search"
}

// fits are the machines of the list as it is shown whose names hold every word of a text.
func (s *Crew) fits(text string) (list []int) {
	parts := strings.Fields(strings.ToLower(text))
	for _, i := range s.host.ShownMachines() {
		name := strings.ToLower(s.host.Evaluator().Row(i).Name)
		if !slices.ContainsFunc(parts, func(w string) bool { return !strings.Contains(name, w) }) {
			list = append(list, i)
		}
	}
	return list
}

func (s *Crew) fitting(text string) HTML {
	list := s.fits(text)
	if len(list) == 0 {
		return El("li", Class("quiet"), Text(words.Text("crew.noMachineFits")))
	}
	return Each(list, func(_, i int) HTML {
		r := s.host.Evaluator().Row(i)
		return El("li", Attr{}, El("button", Attrs(A("type", "button"), On("go", strconv.Itoa(i))), El("b", Attr{}, Text(r.Name)), Text(" "),
			El("span", Class("quiet"), Text(r.StateWord().String()+", "+r.Verdict.String()))))
	})
}

// find answers what is typed, pasted or scanned into the chooser, and its keys.
func (s *Crew) find(e Event) Update {
	code, card := sentences.ParseCardCode(e.Value)
	switch {
	case e.Key == "Escape":
		s.choose()
	case card && e.Key != "":
		s.card(code)
	case e.Key == "Enter":
		if list := s.fits(e.Value); len(list) > 0 {
			s.goMachine(list[0])
		}
	case card:
		return Update{}
	default:
		return Update{Regions: []Region{{"crew-list", s.fitting(e.Value)}}}
	}
	return s.finish()
}

// card goes to the machine that the code of a card names, whatever is shown.
func (s *Crew) card(c sentences.CardCode) {
	ev := s.host.Evaluator()
	row, jobName := ev.FindCard(c), ev.Setting("name")
	named := func(name string) string {
		if name == "" {
			return words.Text("crew.withoutAName")
		}
		return name
	}
	if row < 0 {
		s.out.Say = words.Text("crew.noSuchMachine", c.Machine, named(c.Job))
		return
	}
	s.goMachine(row)
	say := ""
	if c.Job != jobName {
		say = words.Text("crew.otherJob", named(c.Job), named(jobName)) + " "
	}
	if c.Round == strings.TrimPrefix(s.state, "round ") {
		s.out.Say = say + words.Text("crew.cardFound", s.name, c.Round)
	} else {
		s.out.Say = say + words.Text("crew.cardOfOtherRound", s.name, c.Round, s.state)
	}
}

func (s *Crew) goMachine(row int) {
	s.region("crew-chooser", HTML{})
	s.row, s.at = row, 0
	s.load(0)
	s.open(s.firstEmpty())
	s.focus()
	s.out.Window = "always"
}

// region fills a region unless it holds that already.
func (s *Crew) region(id string, h HTML) {
	if was, ok := s.shown[id]; ok && was == h.String() {
		return
	}
	s.shown[id] = h.String()
	s.out.Regions = append(s.out.Regions, Region{id, h})
}

// finish is the answer under way, with what brings the screen up to it.
func (s *Crew) finish() Update {
	s.refresh()
	return s.answer()
}

// refresh draws the frame where it is another one, and brings what stands in it up to what is told.
func (s *Crew) refresh() {
	frame := s.frame()
	if frame.String() != s.drawn {
		s.drawn, s.shown = frame.String(), map[string]string{"crew-chooser": "", "crew-form": ""}
		s.out.Regions = []Region{{"screen-crew", frame}}
		s.out.Select = s.out.Focus == crewInputID(s.at) // the new one has the focus as the old one had it: going there is nothing new
	}
	if s.total == 0 {
		return
	}
	s.out.Attributes, s.out.Values = nil, nil
	set := func(id, name, value string, yes bool) {
		s.out.Attributes = append(s.out.Attributes, Attribute{ID: id, Name: name, Value: value, Off: !yes})
	}
	for i := range s.fields {
		f, now, hint := &s.fields[i], s.fields[i].Text, ""
		if i == s.at {
			now = s.text
		}
		if f.Problem != nil {
			hint = brief(f.Problem)
		}
		s.out.Values = append(s.out.Values, Value{crewInputID(i), now})
		set(crewFieldID(i), "aria-current", "true", i == s.at)
		set(crewInputID(i), "aria-invalid", "true", f.Problem != nil && f.Problem.Severity == job.Error)
		set(crewInputID(i), "data-fresh", "", i == s.at && s.fresh)
		s.region("crew-hint-"+strconv.Itoa(i), Text(hint))
	}
	set("crew-verdict", "class", "crew-verdict v"+s.mark, true)
	s.out.Attributes = append(s.out.Attributes, s.undoable())
	s.region("crew-verdict", Text(s.said))
	s.region("crew-says", s.says)
	if f := s.field(); f != nil {
		s.digits()
		s.asked(f)
	}
}

// digits is what is typed, to be read at arm's length.
func (s *Crew) digits() {
	if s.text == "" {
		s.region("crew-digits", Text("–"))
	} else {
		s.region("crew-digits", Text(s.text))
	}
}

// asked stands beside the digits: what is asked for, and a clock with its angle.
func (s *Crew) asked(f *evaluate.RoundField) {
	name, unit := s.host.HeaderUnit(f.Sheet, f.Header)
	s.region("crew-asked", Text(withUnit(name, unit)))
	clock := HTML{}
	if !math.IsNaN(f.Angle) {
		clock = Drawing(report.ClockAt(nil, f.Angle, report.Options{Width: 280, Prefix: "at"}))
	}
	s.region("crew-clock", clock)
}

func withUnit(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + ", " + unit
}

// frame is what stays on the screen while readings are typed.
func (s *Crew) frame() HTML {
	view := s.host.ShownAs()
	if s.total == 0 {
		if view == "" {
			return El("div", Class("empty"), P("", words.Text("crew.thereIsNoCouplingYet")))
		}
		return El("div", Class("empty"), P("", words.Text("crew.noCouplingIsAmongThe", view)),
			El("button", Attrs(A("type", "button"), A("data-do", "showAll")), Text(words.Text("crew.showAllRows"))))
	}
	if view != "" {
		view = " (" + view + ")"
	}
	place := words.Text("crew.numberOf", strconv.Itoa(s.number), strconv.Itoa(s.total), view) + ", " + s.state
	pick := Attrs(Class("crew-pick"), ID("crew-pick"), A("aria-label", words.Text("crew.chooseAnother", s.name)), On("choose", ""))
	nav := El("div", Attrs(Class("crew-nav"), A("data-over", "nav")),
		Button(Attrs(ID("crew-previous"), Flag("disabled", s.number == 1), On("step", "-1")), words.Text("crew.previous")),
		El("div", Class("crew-name"), El("h2", Attr{}, Button(pick, s.name)), P("quiet", place)),
		Button(Attrs(Class("crew-undo"), ID("crew-undo"), A("title", words.Text("crew.ctrlZ")), On("undo", "")), words.Text("crew.undo")),
		Button(Attrs(ID("crew-next"), Flag("disabled", s.number == s.total), On("step", "1")), words.Text("crew.next")))
	tool := func(event, arg, label, means string) HTML {
		title := Attr{}
		if means != "" {
			title = A("title", means)
		}
		return Button(Attrs(title, On(event, arg)), label)
	}
	next := s.next
	if s.waiting {
		next = "1"
	}
	tools := El("div", Attrs(Class("crew-tools"), Role("group"), A("aria-label", words.Text("crew.thisMachine"))),
		tool("new", "0", words.Text("crew.newRound", next), words.Text("crew.newRoundMeans")), tool("new", "1", words.Text("crew.asLeft"), words.Text("crew.asLeftMeans")),
		tool("paste", "", words.Text("crew.paste"), ""), If(s.describes, tool("about", "", words.Text("crew.about"), words.Text("crew.aboutMeans"))),
		tool("new", "2", words.Text("crew.asHot"), words.Text("crew.asHotMeans")), El("button", Attrs(A("type", "button"), A("data-do", "printMachine")), Text(words.Text("crew.print"))))
	slot := func(id string) HTML { return El("div", Attrs(Class("slot"), ID(id))) }
	return Join(nav, slot("crew-chooser"), El("p", Attrs(Class("crew-verdict"), ID("crew-verdict"))), tools, slot("crew-form"),
		El("div", Class("crew-main"), El("div", Class("crew-entry"), s.fieldList(), s.pad()),
			El("div", Attrs(Class("crew-says"), ID("crew-says"), A("tabindex", "0"), Role("region"), A("aria-label", words.Text("crew.verdictAndWhatToDo"))))))
}

// fieldList are the fields, without what stands in them; or why there are none.
func (s *Crew) fieldList() HTML {
	list := Each(s.fields, func(i int, f evaluate.RoundField) HTML {
		name, unit := s.host.HeaderUnit(f.Sheet, f.Header)
		n := strconv.Itoa(i)
		input := El("input", Attrs(ID(crewInputID(i)), A("inputmode", "none"), A("autocomplete", "off"), A("spellcheck", "false"), A("aria-label", withUnit(name, unit)),
			On("typed", n), OnFocus("focus"), OnLeave("left"), OnKey("keyed", "Enter ArrowDown ArrowUp Escape Control+z")))
		return El("label", Attrs(Class("field"), ID(crewFieldID(i))), El("span", Attr{}, Text(name), If(unit != "", El("small", Attr{}, Text(" "+unit)))), input,
			El("span", Attrs(Class("hint"), ID("crew-hint-"+n))))
	})
	switch {
	case len(s.fields) > 0:
	case !s.waiting && s.state == "waiting":
		list = P("quiet", words.Text("crew.allStruck"))
	default:
		list = El("p", Class("quiet"), Text(words.Text("crew.thisRowHasNoColumns")), Button(On("sheet", ""), words.Text("crew.showItInTheSheet")))
	}
	return El("div", Attrs(Class("crew-fields"), Role("group"), A("aria-label", words.Text("crew.readings"))), list)
}

// pad is the pad of keys.
func (s *Crew) pad() HTML {
	decimal := "."
	if s.host.Evaluator().Decimal() == units.Comma {
		decimal = ","
	}
	labels := map[string]string{"back": words.Text("crew.erase"), "sign": "+ / −", "up": words.Text("crew.up"), "down": words.Text("crew.enter")}
	keys := Each([]string{"7", "8", "9", "back", "4", "5", "6", "sign", "1", "2", "3", "up", "0", decimal, ":", "down"}, func(_ int, k string) HTML {
		label := labels[k]
		if label == "" {
			label = k
		}
		return Button(Attrs(A("tabindex", "-1"), OnPress("key", k)), label)
	})
	read := El("div", Attrs(Class("crew-read"), A("aria-hidden", "true")), El("span", Attrs(Class("crew-clock"), ID("crew-clock"))),
		El("span", Attrs(Class("crew-asked"), ID("crew-asked"))),
		El("output", Attrs(Class("crew-digits"), ID("crew-digits"))))
	return El("div", Attrs(Class("crew-keys"), A("data-over", "keys"), Role("group"), A("aria-label", words.Text("crew.keys"))), read, keys)
}
