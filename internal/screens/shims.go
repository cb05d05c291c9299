package screens

import (
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// ShimsHost is what the screen of the shims asks of the desk.
type ShimsHost interface {
	Evaluator() *sentences.Teller
	JobState() string // another one after every change
	Now() string
}

// Lists are the lists of the stock shared out over a job, as a worker makes them.
type Lists struct {
	Pick, Order results.List
	Assumed     bool // nobody has said what is in the box
}

// Pack is the lists as one text, to go from the worker to the page.
func (l *Lists) Pack() string {
	var rows [][]string
	for _, x := range [...]*results.List{&l.Pick, &l.Order} {
		rows = append(rows, []string{strconv.FormatBool(l.Assumed), strconv.Itoa(x.Words), strconv.Itoa(x.Number), strconv.Itoa(len(x.Notes)), strconv.Itoa(len(x.Rows))}, x.Header)
		for _, n := range x.Notes {
			rows = append(rows, []string{n})
		}
		for i, r := range x.Rows {
			rows = append(rows, append([]string{strconv.Itoa(x.At[i]), strconv.FormatBool(x.Short[i])}, r...))
		}
	}
	return string(job.AppendPacked(nil, rows))
}

// unpackLists reads what Pack wrote; false: it is something else.
func unpackLists(text string) (*Lists, bool) {
	rows := job.AppendUnpacked(nil, text)
	next := func() []string {
		if len(rows) == 0 {
			return nil
		}
		r := rows[0]
		rows = rows[1:]
		return r
	}
	l := new(Lists)
	for _, x := range [...]*results.List{&l.Pick, &l.Order} {
		head := next()
		if len(head) != 5 {
			return nil, false
		}
		var n [4]int
		for k := range n {
			n[k], _ = strconv.Atoi(head[k+1])
		}
		l.Assumed, x.Words, x.Number = head[0] == "true", n[0], n[1]
		x.Header = next()
		for range n[2] {
			x.Notes = append(x.Notes, next()...)
		}
		for range n[3] {
			r := next()
			if len(r) < 2 {
				return nil, false
			}
			at, _ := strconv.Atoi(r[0])
			x.At, x.Short, x.Rows = append(x.At, at), append(x.Short, r[1] == "true"), append(x.Rows, r[2:])
		}
	}
	return l, true
}

// Shims is the stock over the whole job: what is done under each foot, and what is to be ordered. Sharing it out may take seconds, so a worker does it.
type Shims struct {
	host    ShimsHost
	lists   *Lists
	done    string // the state of the job that they are of
	running string // the state that they are being made of, "" none
	ended   string // the state of which they could not be made, or were not to be: made again only when somebody says so
	order   bool   // the order list is shown, else the pick list
	put     int    // rows of it that are on the page
}

// NewShims is the screen without lists.
func NewShims(host ShimsHost) *Shims { return &Shims{host: host} }

// shimsAtOnce and shimsAtATime are how many rows of a long list come at first, and then with each piece.
const (
	shimsAtOnce  = 100
	shimsAtATime = 400
)

// Show has the lists made, or shows them where they are of the job as it is.
func (s *Shims) Show() Update { return s.work() }

// JobChanged has them made anew a moment after the last change.
func (s *Shims) JobChanged() Update {
	if now := s.host.JobState(); s.done == now || s.running == now || s.ended == now {
		return Update{}
	}
	return Update{Soon: "work", SoonIn: 400}
}

func (s *Shims) work() Update {
	now := s.host.JobState()
	switch {
	case s.done == now:
		return s.page()
	case s.running == now:
		return Update{}
	}
	s.running = now
	bar := El("progress", Attrs(ID("share-bar"), A("max", "1"), A("aria-label", words.Text("shims.howFar"))))
	return Update{Regions: []Region{{"screen-shims", El("p", Class("busy"), El("span", Attr{}, Text(words.Text("shims.sharing"))), bar, Button(On("stop", ""), words.Text("shims.stop")))}}, Share: now}
}

// again says what happened, with a button to have the lists made.
func (s *Shims) again(text string) Update {
	s.running, s.ended = "", s.running
	return Update{Regions: []Region{{"screen-shims", El("p", Attr{}, Text(text+" "), Button(On("work", ""), words.Text("shims.again")))}}}
}

// Event answers the worker, the choice of a list, a machine to go to, and the buttons.
func (s *Shims) Event(e Event) Update {
	switch e.Name {
	case "work":
		return s.work()
	case "stop":
		return Update{Unshare: true}
	case "lists":
		return s.made(e)
	case "show":
		s.order = e.Arg == "order"
		u := s.page()
		u.Focus = "shims-" + e.Arg
		return u
	case "row":
		at, _ := strconv.Atoi(e.Arg)
		return Update{Place: &Place{0, at, -1}}
	case "stock":
		return Update{Place: &Place{3, -1, -1}}
	case "print":
		return Update{Print: true}
	}
	if s.lists == nil {
		return Update{}
	}
	l := s.list()
	switch e.Name {
	case "more":
		return s.more()
	case "copy":
		clip, _ := Table(l.Header, l.Rows, s.host.Evaluator().Decimal() == units.Comma)
		return Update{Copy: &clip, Say: words.Text("shims.copied", words.Number(len(l.Rows)))}
	case "csv":
		_, csv := Table(l.Header, l.Rows, s.host.Evaluator().Decimal() == units.Comma)
		name := words.Text("shims.pickFile", s.jobName())
		if s.order {
			name = words.Text("shims.orderFile", s.jobName())
		}
		u := csvFile(name, csv)
		u.File.Ending, u.Say = "csv", ""
		return u
	case "paper":
		return Update{Regions: []Region{{"paper", s.paper()}}}
	}
	return Update{}
}

// made takes what the worker came to, for the state of the job that is its argument.
func (s *Shims) made(e Event) Update {
	if e.Arg != s.running {
		return Update{} // the same is done for a newer state
	}
	switch e.Kind {
	case "refused":
		return s.again(words.Text("shims.failed", e.Value))
	case "stopped":
		return s.again(words.Text("shims.stopped"))
	}
	s.running = ""
	if e.Arg != s.host.JobState() {
		return s.work()
	}
	l, ok := unpackLists(e.Value)
	if !ok {
		return s.again(words.Text("shims.failed", ""))
	}
	s.lists, s.done = l, e.Arg
	u := s.page()
	if len(l.Pick.Notes) > 0 {
		u.Say = l.Pick.Notes[0]
	}
	return u
}

func (s *Shims) list() *results.List {
	if s.order {
		return &s.lists.Order
	}
	return &s.lists.Pick
}

func (s *Shims) title() string {
	if s.order {
		return words.Text("shims.orderList")
	}
	return words.Text("shims.pickList")
}

// jobName is the job's name for a file.
func (s *Shims) jobName() string {
	if name := s.host.Evaluator().Setting("name"); name != "" {
		return name
	}
	return words.Text("shims.job")
}

// page is the list chosen; a long one comes in pieces.
func (s *Shims) page() Update {
	l := s.list()
	tab := func(key, text string, on bool) HTML {
		mark := Attr{}
		if on {
			mark = Class("pressed")
		}
		return El("button", Attrs(A("type", "button"), ID("shims-"+key), A("aria-pressed", strconv.FormatBool(on)), mark, On("show", key)), Text(text))
	}
	bar := El("div", Attrs(Class("bar"), Role("toolbar"), A("aria-label", words.Text("shims.lists"))), tab("pick", words.Text("shims.byFoot"), !s.order), tab("order", words.Text("shims.byJob"), s.order),
		Button(On("copy", ""), words.Text("shims.copy")), Button(On("csv", ""), words.Text("shims.csv")), Button(On("print", ""), words.Text("shims.print")))
	out := []HTML{bar, paragraphs("note", l.Notes)}
	if s.lists.Assumed {
		out = append(out, El("p", Attr{}, Button(On("stock", ""), words.Text("shims.say"))))
	}
	u := Update{}
	if s.put = min(shimsAtOnce, len(l.Rows)); len(l.Rows) > 0 {
		busy := Attr{}
		if s.put < len(l.Rows) {
			busy = A("aria-busy", "true")
			u.Soon = "more"
		}
		parts := []HTML{El("tbody", Attr{}, s.lines(0, s.put, true))}
		for at := s.put; at < len(l.Rows); at += shimsAtATime {
			parts = append(parts, El("tbody", ID("shims-part-"+strconv.Itoa(at))))
		}
		out = append(out, El("div", Attrs(Class("wide"), A("tabindex", "0"), Role("region"), A("aria-label", s.title())), s.table(Attrs(Class("list"), ID("shims-table"), busy), parts)))
	}
	u.Regions = []Region{{"screen-shims", Join(append(out, shimsCautions())...)}}
	return u
}

func (s *Shims) table(a Attr, bodies []HTML) HTML {
	return El("table", a, El("caption", Class("aside"), Text(s.title())), El("thead", Attr{}, El("tr", Attr{}, Each(s.list().Header, func(_ int, t string) HTML { return th(t) }))), Join(bodies...))
}

func shimsCautions() HTML {
	return Join(El("h3", Attr{}, Text(words.Text("panel.cautions"))), El("ul", Attr{}, Each(tables.Cautions(), func(_ int, c tables.Caution) HTML { return El("li", Attr{}, Text(cautionWords(c))) })))
}

// more is the next piece of the list.
func (s *Shims) more() Update {
	n := len(s.list().Rows)
	if s.put >= n {
		return Update{}
	}
	from := s.put
	s.put = min(from+shimsAtATime, n)
	u := Update{Regions: []Region{{"shims-part-" + strconv.Itoa(from), s.lines(from, s.put, true)}}}
	if s.put < n {
		u.Soon = "more"
	} else {
		u.Attributes = []Attribute{{ID: "shims-table", Name: "aria-busy", Off: true}}
	}
	return u
}

// lines are the rows of the list from one to before another. On the screen a machine's name leads to its row.
func (s *Shims) lines(from, to int, live bool) HTML {
	l := s.list()
	return Each(l.Rows[from:to], func(i int, r []string) HTML {
		i += from
		first := i == 0 || l.At[i] != l.At[i-1]
		row := Attr{}
		if l.Short[i] {
			row = Class("short")
		}
		return El("tr", row, Each(r, func(k int, t string) HTML {
			class := Attr{}
			switch {
			case !s.order && k == 0 && !first:
				return El("th", Attrs(A("scope", "row"), Class("again")), El("span", Class("aside"), Text(t)))
			case !s.order && k == 0 && live:
				return El("th", A("scope", "row"), El("button", Attrs(A("type", "button"), Class("link"), On("row", strconv.Itoa(l.At[i]))), Text(t)))
			case !s.order && k == 0:
				return El("th", A("scope", "row"), Text(t))
			case s.order && k >= l.Words && k <= l.Number, !s.order && k == 3:
				class = Class("num")
			}
			return El("td", class, Text(t))
		}))
	})
}

// bodies are the rows on paper: those of a machine stand together and on one page, since its name stands at the first of them only.
func (s *Shims) bodies() (out []HTML) {
	l := s.list()
	if s.order {
		return []HTML{El("tbody", Attr{}, s.lines(0, len(l.Rows), false))}
	}
	for from, to := 0, 0; from < len(l.Rows); from = to {
		for to = from + 1; to < len(l.Rows) && l.At[to] == l.At[from]; to++ {
		}
		out = append(out, El("tbody", Class("machine"), s.lines(from, to, false)))
	}
	return out
}

// paper is the whole list on paper.
func (s *Shims) paper() HTML {
	l := s.list()
	name := s.host.Evaluator().Setting("name")
	if name == "" {
		name = words.Text("listPaper.noName")
	}
	out := []HTML{El("h1", Attr{}, Text(s.title())), El("div", Class("meta"), El("b", Attr{}, Text(name)), El("span", Attr{}, Text(words.Text("panel.printed", s.host.Now())))), paragraphs("note", l.Notes)}
	if len(l.Rows) > 0 {
		out = append(out, El("div", Class("wide"), s.table(Class("list"), s.bodies())))
	}
	return Join(append(out, shimsCautions())...)
}
