package screens

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/pictures"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// RecordHost is what the record asks of the job, and has done to it.
type RecordHost interface {
	Evaluator() *sentences.Teller
	Now() string                                         // the time, as people read it
	SignTime() string                                    // the same as a signature has it: 2026-04-12 16:40
	Chosen() int                                         // the machine that was looked at last, its index on the Machines sheet
	AddRecord(name string, columns, texts []string) bool // a row more on the Record sheet, as one step called name
	Put(setting, text string)                            // into the Job sheet
}

// Record shows the record of a machine as it goes on paper, takes what belongs to it, and has it signed.
type Record struct {
	host  RecordHost
	name  string            // of the machine; evaluate.WholeJob for the job
	typed map[string]string // fields of the forms
	said  string            // the last refusal
}

// NewRecord is the record of the machine looked at last.
func NewRecord(host RecordHost) *Record {
	return &Record{host: host, typed: map[string]string{"role": "aligner"}}
}

// Show is the record of the machine looked at last.
func (s *Record) Show() Update {
	if r := s.host.Evaluator().Row(s.host.Chosen()); r != nil && r.Kind == evaluate.MachineRow && s.name != evaluate.WholeJob {
		s.name = r.Name
	}
	return s.again("")
}

// JobChanged shows it anew.
func (s *Record) JobChanged() Update { return s.again("") }

func (s *Record) again(say string) Update {
	return Update{Regions: []Region{{"screen-record", s.page()}}, Say: say}
}

// Event answers the choice of a machine, what is typed and drawn, and the buttons.
func (s *Record) Event(e Event) Update {
	switch e.Name {
	case "machine":
		s.name, s.said = e.Value, ""
		return s.again("")
	case "field":
		s.typed[e.Arg] = e.Value
		return Update{}
	case "pen":
		s.typed["signature"] = e.Value
		return Update{}
	case "wipe":
		delete(s.typed, "signature")
		return s.again("")
	case "sign":
		return s.sign()
	case "instrument":
		return s.add(words.Text("record.stepInstrument"), "instrument", "certificate", "due")
	case "deviation":
		return s.add(words.Text("record.stepDeviation"), "deviation", "allowed_by")
	case "photo", "logo":
		return s.picture(e)
	case "print":
		return Update{Print: true}
	case "paper":
		return Update{Regions: []Region{{"paper", El("section", Class("one record"), s.sheetOf())}}}
	case "text":
		if t, ok := s.host.Evaluator().CanonicalText(s.row(e.Arg)); ok {
			return Update{File: &File{Name: "record-row-" + e.Arg + ".txt", Type: "text/plain", Text: t}, Say: words.Text("common.handedOver", "record-row-"+e.Arg+".txt")}
		}
	}
	return Update{}
}

func (s *Record) row(arg string) int {
	n, _ := strconv.Atoi(arg)
	return n
}

// add puts an entry into the Record sheet: the fields with these keys.
func (s *Record) add(step string, keys ...string) Update {
	columns, texts := []string{"machine"}, []string{s.name}
	for _, k := range keys {
		columns, texts = append(columns, k), append(texts, strings.TrimSpace(s.typed[k]))
	}
	if texts[1] == "" {
		return s.refuse(words.Text("record.nothing"))
	}
	if !s.host.AddRecord(step, columns, texts) {
		return s.refuse(words.Text("record.notNow"))
	}
	for _, k := range keys {
		delete(s.typed, k)
	}
	u := s.again(step)
	u.Changed = true
	return u
}

func (s *Record) refuse(why string) Update {
	s.said = why
	return s.again(why)
}

// sign has the record signed: the row that the evaluator makes goes onto the Record sheet.
func (s *Record) sign() Update {
	e := s.host.Evaluator()
	t, err := e.Sign(evaluate.Signing{Machine: s.name, Role: s.typed["role"], By: s.typed["signed_by"], At: s.host.SignTime(), Signature: s.typed["signature"]})
	if err != nil {
		return s.refuse(err.Error())
	}
	var columns, texts []string
	for c, text := range t.Rows[len(t.Rows)-1] {
		if info := job.FindColumn(job.RecordSheet, t.Header[c]); info != nil && text != "" {
			columns, texts = append(columns, info.Key), append(texts, text)
		}
	}
	if !s.host.AddRecord(words.Text("record.stepSign", s.name), columns, texts) {
		return s.refuse(words.Text("record.notNow"))
	}
	delete(s.typed, "signature")
	s.said = ""
	u := s.again(words.Text("record.signed", s.name))
	u.Changed = true
	return u
}

// picture takes a photo for the record or a logo for the papers, as the browser scaled it: the event has it as the text of a cell, and the name and size of its file.
func (s *Record) picture(e Event) Update {
	info, err := pictures.Look(e.Value)
	if err != nil {
		return s.refuse(err.Error())
	}
	s.said = ""
	if e.Name == "logo" {
		s.host.Put("Logo", e.Value)
	} else if !s.host.AddRecord(words.Text("record.stepPhoto"), []string{"machine", "photo", "note"}, []string{s.name, e.Value, strings.TrimSpace(s.typed["caption"])}) {
		return s.refuse(words.Text("record.notNow"))
	}
	delete(s.typed, "caption")
	u := s.again(words.Text("record.scaled", info.String(), e.Key))
	u.Changed = true
	return u
}

// page is the screen: the choice of the machine, the record as on paper, the forms.
func (s *Record) page() HTML {
	e := s.host.Evaluator()
	var names []string
	for i := range e.Len() {
		if r := e.Row(i); r.Kind == evaluate.MachineRow && e.RowOf(r.Name) == i {
			names = append(names, r.Name)
		}
	}
	if len(names) == 0 {
		return Join(El("h2", Attr{}, Text(words.Text("record.title"))), P("quiet", words.Text("record.none")))
	}
	if s.name == "" {
		s.name = names[0]
	}
	choose := El("label", Attr{}, Text(words.Text("record.machine")+" "), El("select", Attrs(ID("record-machine"), On("machine", "")),
		Each(append(names, evaluate.WholeJob), func(_ int, n string) HTML {
			state := ""
			if i := e.RowOf(n); i >= 0 {
				state = ": " + e.Row(i).StateWord().String()
			}
			return Choice(n, n+state, n == s.name)
		})))
	return Join(El("p", Class("bar"), choose, Text(" "), Button(Attrs(ID("record-print"), On("print", "")), words.Text("record.print"))),
		If(s.said != "", El("p", Attrs(Class("hint"), Role("alert")), Text(s.said))),
		El("div", Class("record-two"), El("article", Class("record"), s.sheetOf()), El("div", Class("record-forms"), s.forms())))
}

// field is a labelled field whose text the screen keeps.
func (s *Record) field(key, label string) HTML {
	return El("label", Attr{}, Text(label+" "), El("input", Attrs(ID("record-"+key), A("value", s.typed[key]), A("autocomplete", "off"), On("field", key))))
}

// forms are what can be added to the record, and the signature.
func (s *Record) forms() HTML {
	roles := Each(evaluate.Roles(), func(_ int, r string) HTML { return Choice(r, r, r == s.typed["role"]) })
	strokes, _ := pictures.Strokes(s.typed["signature"])
	pen := El("svg", Attrs(ID("record-pen"), Class("pen"), A("viewbox", fmt.Sprintf("0 0 %d %d", pictures.StrokesWide, pictures.StrokesHigh)), A("data-pen", "pen"), Role("img"),
		A("aria-label", words.Text("record.penField"))), Each(strokes, func(_ int, p [][2]int) HTML { return stroke(p) }))
	return Join(
		El("section", Attr{}, El("h3", Attr{}, Text(words.Text("record.sign"))),
			El("label", Attr{}, Text(words.Text("record.role")+" "), El("select", Attrs(ID("record-role"), On("field", "role")), roles)), s.field("signed_by", words.Text("record.by")),
			P("quiet", words.Text("record.penAbout")), pen,
			El("p", Attr{}, Button(Attrs(ID("record-wipe"), On("wipe", "")), words.Text("record.wipe")), Text(" "), MainButton(Attrs(ID("record-sign"), On("sign", "")), words.Text("record.signButton"))),
			s.notInside(), P("quiet", words.Text("record.signAbout"))),
		El("section", Attr{}, El("h3", Attr{}, Text(words.Text("record.instrument"))), s.field("instrument", words.Text("record.instrument")), s.field("certificate", words.Text("record.certificate")),
			s.field("due", words.Text("record.due")), El("p", Attr{}, Button(Attrs(ID("record-add-instrument"), On("instrument", "")), words.Text("record.add")))),
		El("section", Attr{}, El("h3", Attr{}, Text(words.Text("record.deviation"))), s.field("deviation", words.Text("record.deviation")), s.field("allowed_by", words.Text("record.allowedBy")),
			El("p", Attr{}, Button(Attrs(ID("record-add-deviation"), On("deviation", "")), words.Text("record.add")))),
		El("section", Attr{}, El("h3", Attr{}, Text(words.Text("record.photo"))), s.field("caption", words.Text("record.caption")), filePicker("photo", words.Text("record.photoFile")),
			P("quiet", words.Text("record.photoAbout")), filePicker("logo", words.Text("record.logoFile"))))
}

// notInside says before somebody signs that the machine is not inside its limit.
func (s *Record) notInside() HTML {
	e := s.host.Evaluator()
	r := e.Row(e.RowOf(s.name))
	if s.name == evaluate.WholeJob || r == nil || r.Stays() {
		return HTML{}
	}
	return P("hint", words.Text("record.notInside", r.Verdict.String()))
}

// filePicker takes a file, whose bytes come as a data URI.
func filePicker(event, label string) HTML {
	return El("label", Attr{}, Text(label+" "), El("input", Attrs(A("type", "file"), ID("record-"+event), A("accept", "image/jpeg,image/png"), A("data-read", "photo"), On(event, ""))))
}

// stroke is a stroke of a pen.
func stroke(points [][2]int) HTML {
	var b strings.Builder
	for k, p := range points {
		if k > 0 {
			b.WriteByte(' ')
		}
		fmt.Fprintf(&b, "%d,%d", p[0], p[1])
	}
	if len(points) == 1 {
		fmt.Fprintf(&b, " %d,%d", points[0][0]+1, points[0][1])
	}
	return El("polyline", A("points", b.String()))
}

// sheetOf is the record as it stands on paper.
func (s *Record) sheetOf() HTML {
	e := s.host.Evaluator()
	if s.name == evaluate.WholeJob {
		return s.whole(e)
	}
	i := e.RowOf(s.name)
	r := e.Row(i)
	if i < 0 || r == nil {
		return P("quiet", words.Text("record.gone", s.name))
	}
	said := func(key string) string { return results.Text(e, i, key) }
	facts := [][2]string{{words.Text("record.machine"), r.Name}, {words.Text("record.state"), r.StateWord().String()}, {words.Text("record.verdict"), said("verdict")}, {words.Text("record.limits"), said("limit_held")}}
	if w := said("why"); w != "" {
		facts = append(facts, [2]string{words.Text("record.why"), w})
	}
	for _, b := range e.Board() {
		if b.At == i {
			for _, f := range [][2]string{{words.Text("board.area"), b.Area}, {words.Text("board.crew"), b.Crew}, {words.Text("board.date"), b.Date}, {words.Text("board.order"), b.WorkOrder}} {
				if f[1] != "" {
					facts = append(facts, f)
				}
			}
		}
	}
	rows := make([][]string, 0, 4)
	for _, k := range [...]string{"offset_v", "offset_h", "offset", "slope_v", "slope_h", "slope", "share_of_limit", "chance_inside"} {
		if text := said(k); text != "" {
			rows = append(rows, []string{results.Header(e, k), text})
		}
	}
	return Join(letterhead(e, words.Text("record.title"), s.host.Now()),
		El("dl", Class("facts"), Each(facts, func(_ int, f [2]string) HTML { return Join(El("dt", Attr{}, Text(f[0])), El("dd", Attr{}, Text(f[1]))) })),
		small(words.Text("record.results"), nil, rows), s.rounds(e, r), small(words.Text("record.readings"), nil, e.ReadingsTyped(i)), s.checks(e, r), s.packs(e, r), entries(e, r.Record))
}

// small is a small table under a heading; nothing where it has no rows.
func small(title string, head []string, rows [][]string) HTML {
	if len(rows) == 0 {
		return HTML{}
	}
	top := HTML{}
	if head != nil {
		top = El("thead", Attr{}, El("tr", Attr{}, Each(head, func(_ int, h string) HTML { return El("th", A("scope", "col"), Text(h)) })))
	}
	body := Each(rows, func(_ int, row []string) HTML {
		return El("tr", Attr{}, Each(row, func(n int, c string) HTML {
			if n == 0 {
				return El("th", A("scope", "row"), Text(c))
			}
			return El("td", Attr{}, Text(c))
		}))
	})
	table := El("table", Class("plain"), top, El("tbody", Attr{}, body))
	if len(head) > 2 { // wider than a phone: it scrolls by itself, and the numbers in it are not broken
		table = El("div", Attrs(Class("wide"), A("tabindex", "0"), Role("region"), A("aria-label", title)), table)
	}
	return Join(El("h3", Attr{}, Text(title)), table)
}

func (s *Record) rounds(e *sentences.Teller, r *evaluate.RowResult) HTML {
	var rows [][]string
	num := func(v float64, slope bool) string {
		switch {
		case math.IsNaN(v):
			return ""
		case slope:
			return string(e.AppendSlope(nil, v))
		}
		return string(e.AppendThickness(nil, v))
	}
	for _, o := range r.Rounds {
		name := o.Name
		if o.Struck != "" {
			name += ", " + words.Text("record.struck", o.Struck)
		}
		rows = append(rows, []string{name, o.When, o.By, o.Done, o.Verdict.String(), num(o.Offset.V, false), num(o.Offset.H, false), num(o.Slope.V, true), num(o.Slope.H, true)})
	}
	return small(words.Text("record.rounds"), []string{words.Text("record.round"), words.Text("record.when"), words.Text("record.who"), words.Text("record.done"), words.Text("record.verdict"),
		results.Header(e, "offset_v"), results.Header(e, "offset_h"), results.Header(e, "slope_v"), results.Header(e, "slope_h")}, rows)
}

func (s *Record) checks(e *sentences.Teller, r *evaluate.RowResult) HTML {
	var rows [][]string
	for k := range r.Checks {
		c := &r.Checks[k]
		limit := ""
		if !math.IsNaN(c.Limit) {
			limit = e.CheckNumber(c.Limit, c.Kind)
		}
		rows = append(rows, []string{c.Name, c.Text, limit, c.Source.String(), c.By, c.When, c.State.String()})
	}
	return small(words.Text("record.checks"), []string{words.Text("record.check"), words.Text("record.value"), words.Text("record.limit"), words.Text("record.source"), words.Text("record.who"),
		words.Text("record.when"), words.Text("record.stands")}, rows)
}

// packs is what lies under each foot now, as the Feet sheet has it.
func (s *Record) packs(e *sentences.Teller, r *evaluate.RowResult) HTML {
	var rows [][]string
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			if f.Listed {
				text := string(e.AppendPieces(nil, f.InPlace))
				if len(f.InPlace) == 0 {
					text = words.Text("record.bareBase")
				}
				rows = append(rows, []string{f.Name, text})
			}
		}
	}
	return small(words.Text("record.packs"), nil, rows)
}

// entries are instruments, deviations, photos and signatures.
func entries(e *sentences.Teller, list []evaluate.RecordRow) HTML {
	var instruments, deviations [][]string
	var photos, signatures []HTML
	for k := range list {
		r := &list[k]
		if r.Instrument != "" {
			instruments = append(instruments, []string{r.Instrument, r.Certificate, r.Due})
		}
		if r.Deviation != "" {
			deviations = append(deviations, []string{r.Deviation, r.AllowedBy})
		}
		if info, err := pictures.Look(r.Photo); r.Photo != "" && err == nil {
			photos = append(photos, El("figure", Attr{}, El("img", Attrs(A("src", strings.TrimSpace(r.Photo)), A("alt", words.Text("record.photoAlt", r.Machine)))),
				El("figcaption", Attr{}, Text(strings.TrimPrefix(r.Note+" · "+info.String(), " · ")))))
		}
		if r.Signs() {
			signatures = append(signatures, signature(r))
		}
	}
	whole := HTML{}
	if len(signatures) > 0 {
		whole = Join(El("h3", Attr{}, Text(words.Text("record.signatures"))), Join(signatures...))
	}
	return Join(small(words.Text("record.deviations"), []string{words.Text("record.deviation"), words.Text("record.allowedBy")}, deviations),
		small(words.Text("record.instruments"), []string{words.Text("record.instrument"), words.Text("record.certificate"), words.Text("record.due")}, instruments),
		If(len(photos) > 0, El("div", Class("photos"), photos...)), whole)
}

// signature is one signature with what it says and how it stands.
func signature(r *evaluate.RecordRow) HTML {
	mark := Text(r.Signature)
	if strokes, _ := pictures.Strokes(r.Signature); strokes != nil {
		mark = El("svg", Attrs(Class("penned"), A("viewbox", fmt.Sprintf("0 0 %d %d", pictures.StrokesWide, pictures.StrokesHigh)), Role("img"), A("aria-label", words.Text("record.signatureOf", r.By))),
			Each(strokes, func(_ int, p [][2]int) HTML { return stroke(p) }))
	}
	class := "signature holds"
	if r.State != evaluate.SignHolds {
		class = "signature not"
	}
	role := r.Role
	if role == "" {
		role = words.Text("record.noRole")
	}
	return El("div", Class(class), El("p", Attr{}, El("b", Attr{}, Text(r.By)), Text(", "+role+", "+r.At+": "), El("b", Attr{}, Text(r.State.Word().String()))), mark,
		If(!r.Why.Empty(), P("hint", r.Why.String())), P("quiet", r.Result), El("p", Class("digest"), Text(words.Text("record.digest")+" "+r.Digest)),
		El("p", Attr{}, Button(On("text", strconv.Itoa(r.Row)), words.Text("record.saveText"))))
}

// whole is the record of the whole job.
func (s *Record) whole(e *sentences.Teller) HTML {
	var rows [][]string
	for i := range e.Len() {
		if r := e.Row(i); r.Kind == evaluate.MachineRow {
			by := ""
			for k := range r.Record {
				if x := &r.Record[k]; x.Signs() && x.State != evaluate.SignLater {
					by = strings.TrimPrefix(by+"; "+strings.Trim(x.By+" "+x.At, " "), "; ")
				}
			}
			rows = append(rows, []string{r.Name, r.StateWord().String(), r.Verdict.String(), by})
		}
	}
	return Join(letterhead(e, words.Text("record.wholeTitle"), s.host.Now()), P("", e.WholeResult()),
		small(words.Text("record.machines"), []string{words.Text("record.machine"), words.Text("record.state"), words.Text("record.verdict"), words.Text("record.signedBy")}, rows), entries(e, e.WholeRecord()))
}
