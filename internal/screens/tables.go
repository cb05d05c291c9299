package screens

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// TablesHost is what the tables ask of the desk.
type TablesHost interface {
	Evaluator() *sentences.Teller
	TableRow() int // of the Machines sheet, that a table is used for at first
	// PutInto writes texts into a sheet as one step, −1 for new rows, and shows the sheet there; the error is a sentence.
	PutInto(k job.SheetKind, name string, row int, names []string, lines [][]string, note string) error
}

// Tables is one look-up box over all reference tables, each of them as a table, and what a row can put into a sheet.
type Tables struct {
	host    TablesHost
	machine int    // row of the Machines sheet that a row is used for, −1 none
	key     string // the table shown while nothing is looked up
	system  string // of units: "", metric or inch
	views   map[string]*tableView
	query   string
	hits    []hit
	said    []tables.Saying
	all     bool         // every hit is shown
	opened  map[int]bool // hits whose actions are shown
	whole   map[int]bool // hits of which every line is
}

// A hit is something found: a row of a table, or what was worked out.
type hit struct {
	*tables.Hit
	t     *shownTable // nil: of no table
	row   int
	lines [][3]string // what, value, source
	plain bool        // the lines are the row's cells
}

// NewTables is the screen with the first table.
func NewTables(host TablesHost) *Tables {
	return &Tables{host: host, machine: -1, key: tables.All()[0].Key, views: map[string]*tableView{}}
}

// Show is the screen for the machine that the sheet stands at, ready to look something up.
func (s *Tables) Show() Update {
	s.machine = -1
	s.find(s.query)
	return Update{Regions: []Region{{"screen-tables", s.page()}}, Focus: "look-box", Select: true}
}

// JobChanged brings machines and own tables up to the job.
func (s *Tables) JobChanged() Update {
	s.find(s.query)
	return Update{Regions: []Region{{"look-for", s.machines()}, {"look-side", s.side()}, {"look-main", s.main()}}}
}

func (s *Tables) view() *tableView {
	v := s.views[s.key]
	if v == nil {
		v = &tableView{by: -1, chosen: map[int]bool{}, acts: map[int]bool{}}
		s.views[s.key] = v
	}
	return v
}

func (s *Tables) machineName() string {
	if r := s.host.Evaluator().Row(s.machine); r != nil && r.Kind == evaluate.MachineRow {
		return r.Name
	}
	return ""
}

// Event answers the box, the tables at the side, filter, order and units of one, and what is done with a row.
func (s *Tables) Event(e Event) Update {
	n, _ := strconv.Atoi(e.Arg)
	v := s.view()
	switch e.Name {
	case "look":
		return s.look(e.Value)
	case "box":
		return s.boxKey(e.Key)
	case "choose":
		key := e.choice()
		if tables.Find(key) == nil {
			return Update{}
		}
		s.key = key
		u := s.look("")
		u.Values, u.Focus = []Value{{"look-box", ""}}, "look-nav-"+key
		return u
	case "machine":
		s.machine, _ = strconv.Atoi(e.Value)
		return Update{Regions: []Region{{"look-main", s.main()}}}
	case "all":
		was := len(s.some())
		s.all = true
		return Update{Regions: []Region{{"look-main", s.main()}}, Focus: "hit-" + strconv.Itoa(was)}
	case "open":
		return s.open(n)
	case "close": // Escape among the actions of a hit
		s.opened[n] = false
		return Update{Regions: []Region{{"look-main", s.main()}}, Focus: "hit-" + e.Arg}
	case "up":
		return Update{Focus: "look-box"}
	case "show":
		return s.showRow(n)
	case "copyHit":
		return s.copyHit(n)
	case "use":
		return s.use1(e)
	case "filter":
		v.filter = e.Value
		return s.rows("")
	case "units":
		s.system = e.Value
		return s.rows("")
	case "sort":
		switch {
		case v.by != n:
			v.by, v.down = n, false
		case !v.down:
			v.down = true
		default:
			v.by = -1
		}
		return s.rows("look-sort-" + e.Arg)
	case "tick":
		v.chosen[n] = e.Value == "true"
		return Update{Attributes: []Attribute{{ID: "look-row-" + e.Arg, Name: "data-chosen", Value: "1", Off: !v.chosen[n]}}}
	case "acts":
		return s.rowActions(n, !v.acts[n])
	case "closeActs":
		return s.rowActions(n, false)
	case "copy", "csv":
		return s.given(e)
	case "print":
		return Update{Print: true}
	case "paper":
		return Update{Regions: []Region{{"paper", s.paper()}}}
	}
	return Update{}
}

// look looks something up; "" shows the table.
func (s *Tables) look(query string) Update {
	s.all, s.opened, s.whole = false, map[int]bool{}, map[int]bool{}
	s.find(query)
	return Update{Regions: []Region{{"look-said", s.count()}, {"look-side", s.side()}, {"look-main", s.main()}}}
}

// find fills in what is found.
func (s *Tables) find(query string) {
	s.query, s.hits, s.said = query, nil, nil
	if s.opened == nil {
		s.opened, s.whole = map[int]bool{}, map[int]bool{}
	}
	if strings.TrimSpace(query) == "" {
		return
	}
	kept := map[string]*shownTable{}
	found := tables.Search(query, s.ownTables()...)
	s.said = found.Said
	for i := range found.Hits {
		h := &found.Hits[i]
		x := hit{Hit: h, row: -1}
		if h.Row != nil {
			t := kept[h.Table.Key]
			if t == nil {
				t = s.tableShown(h.Table.Key)
				kept[h.Table.Key] = t
			}
			// Own tables are made anew for each question: their rows are known by name.
			x.row = slices.IndexFunc(t.rows, func(r shownRow) bool {
				return r.Row == h.Row || h.Own && r.own != nil && r.Name == h.Row.Name && slices.Equal(r.Cells, h.Row.Cells)
			})
			if x.row >= 0 {
				x.t = t
			}
			if len(h.Facts) == 0 && x.row >= 0 {
				x.plain = true
				for c := range t.Columns {
					if text := t.cell(s, &t.rows[x.row], c, ""); text != "" {
						x.lines = append(x.lines, [3]string{t.Columns[c].Title, t.Columns[c].Show(text)})
					}
				}
			}
		}
		for _, f := range h.Facts {
			value := f.Value
			if !math.IsNaN(f.Base) {
				value = s.sign(value)
			}
			if f.Unit != "" {
				value += " " + f.Unit
			}
			x.lines = append(x.lines, [3]string{f.Label, value, sourceWords(f.Source, h.Own && h.Row != nil && f.Source == h.Row.Source)})
		}
		s.hits = append(s.hits, x)
	}
}

// boxKey answers the arrow down, Enter and Escape in the box.
func (s *Tables) boxKey(key string) Update {
	switch {
	case key == "ArrowDown" && len(s.hits) > 0:
		return Update{Focus: "hit-0"}
	case key == "ArrowDown" && s.query == "":
		return Update{Focus: "look-nav-" + s.key}
	case key == "Enter" && len(s.hits) > 0:
		return s.open(0)
	case key == "Escape" && s.query != "":
		u := s.look("")
		u.Values = []Value{{"look-box", ""}}
		return u
	case key == "Escape":
		return Update{Sheet: true}
	}
	return Update{}
}

func (s *Tables) some() []hit {
	if s.all {
		return s.hits
	}
	return s.hits[:min(len(s.hits), 10)]
}

// open shows what can be done with a hit, or hides it.
func (s *Tables) open(n int) Update {
	if n < 0 || n >= len(s.hits) {
		return Update{}
	}
	s.opened[n] = !s.opened[n]
	s.whole[n] = true
	u := Update{Regions: []Region{{"look-main", s.main()}}}
	if s.opened[n] {
		u.Focus = s.firstAction("hit-"+strconv.Itoa(n)+"-", &s.hits[n])
	}
	return u
}

// firstAction is the id of the first of the actions of a row that can be pressed.
func (s *Tables) firstAction(prefix string, x *hit) string {
	list := []action(nil)
	if x.t != nil {
		list = s.actions(x.t, &x.t.rows[x.row])
	}
	k := slices.IndexFunc(list, func(a action) bool { return !a.machine || s.machineName() != "" })
	if k < 0 {
		k = len(list)
	}
	return prefix + strconv.Itoa(k)
}

// showRow shows a hit in its table.
func (s *Tables) showRow(n int) Update {
	if n < 0 || n >= len(s.hits) || s.hits[n].t == nil {
		return Update{}
	}
	row := s.hits[n].row
	s.key = s.hits[n].t.Key
	v := s.view()
	v.filter, v.chosen = "", map[int]bool{row: true}
	u := s.look("")
	u.Values, u.Focus = []Value{{"look-box", ""}}, "look-tick-"+strconv.Itoa(row)
	return u
}

func (s *Tables) copyHit(n int) Update {
	if n < 0 || n >= len(s.hits) {
		return Update{}
	}
	x := &s.hits[n]
	text := x.Title
	for _, l := range x.lines {
		text += "\r\n" + l[0] + "\t" + l[1]
		if !x.plain {
			text += "\t" + l[2]
		}
	}
	return Update{Copy: &Clip{Text: text}, Say: words.Text("tables.hitCopied", x.Title)}
}

// use1 does an action: its place is table, row and number of the action, and the prefix of the ids of what was pressed.
func (s *Tables) use1(e Event) Update {
	at := strings.Fields(e.Arg)
	if len(at) != 4 {
		return Update{}
	}
	t := s.tableShown(at[0])
	row, _ := strconv.Atoi(at[1])
	n, _ := strconv.Atoi(at[2])
	if t == nil || row < 0 || row >= len(t.rows) {
		return Update{Say: words.Text("tables.gone")}
	}
	list := s.actions(t, &t.rows[row])
	if n < 0 || n >= len(list) {
		return Update{Say: words.Text("tables.gone")}
	}
	a := list[n]
	if number, ok := strings.CutPrefix(a.do, "sheet"); ok {
		k, _ := strconv.Atoi(number)
		return Update{Place: &Place{k, -1, -1}}
	}
	text := ""
	if a.ask != "" {
		_, text, _ = strings.Cut(e.Value, "\x1f")
		if strings.TrimSpace(text) == "" {
			return Update{Regions: []Region{{at[3] + "-said", Text(words.Text("tables.typeFirst"))}}, Focus: at[3]}
		}
	}
	if err := s.use(t, &t.rows[row], a.do, text); err != nil {
		if a.ask == "" {
			return Update{Say: err.Error()}
		}
		return Update{Regions: []Region{{at[3] + "-said", Text(err.Error())}}, Attributes: []Attribute{{ID: at[3], Name: "aria-invalid", Value: "true"}}, Focus: at[3], Say: err.Error()}
	}
	return Update{Changed: true, Sheet: true}
}

// page is the whole screen.
func (s *Tables) page() HTML {
	box := El("input", Attrs(ID("look-box"), A("autocomplete", "off"), A("spellcheck", "false"), A("aria-describedby", "look-hint"), A("value", s.query), On("look", ""), OnKey("box", "ArrowDown Enter Escape")))
	return Join(El("div", Class("look-top"),
		El("div", Role("search"), El("label", A("for", "look-box"), Text(words.Text("tables.lookUp"))), box, El("p", Attrs(Class("quiet"), Role("status"), ID("look-said")), s.count())),
		El("p", Attrs(Class("look-for"), ID("look-for")), s.machines()),
		El("p", Attrs(ID("look-hint"), Class("quiet")), Text(words.Text("tables.hint")))),
		El("div", Class("look-two"), El("div", Attrs(Class("look-side"), ID("look-side")), s.side()), El("div", Attrs(Class("look-main"), ID("look-main")), s.main())))
}

// mostMachines is how many machines the list offers: a long one is not worked out for this.
const mostMachines = 500

// machines is the choice of the machine that a row is used for; nothing where there is none.
func (s *Tables) machines() HTML {
	ev := s.host.Evaluator()
	chosen := s.host.TableRow()
	var rows []int
	add := func(i int) {
		if r := ev.Row(i); r != nil && r.Kind == evaluate.MachineRow {
			rows = append(rows, i)
		}
	}
	last := 0
	for ; last < ev.Len() && len(rows) < mostMachines; last++ {
		add(last)
	}
	if chosen >= last {
		add(chosen)
	}
	if len(rows) == 0 {
		s.machine = -1
		return HTML{}
	}
	if !slices.Contains(rows, s.machine) {
		if s.machine = rows[0]; slices.Contains(rows, chosen) {
			s.machine = chosen
		}
	}
	options := Each(rows, func(_, i int) HTML { return Choice(strconv.Itoa(i), ev.Row(i).Name, i == s.machine) })
	return Join(El("label", A("for", "look-machine"), Text(words.Text("tables.useFor")+" ")), El("select", Attrs(ID("look-machine"), On("machine", "")), options))
}

// side is the list of tables.
func (s *Tables) side() HTML {
	own := map[string]bool{}
	for _, t := range s.ownTables() {
		own[t.Key] = true
	}
	var list [][2]string
	for _, t := range tables.All() {
		title := t.Title
		if own[t.Key] {
			title = words.Text("tables.withYours", title)
		}
		list = append(list, [2]string{t.Key, title})
	}
	chosen := s.key
	if strings.TrimSpace(s.query) != "" {
		chosen = ""
	}
	return chooser("choose", "look-nav-", words.Text("tables.tables"), list, chosen)
}

// count is what is read out of an answer, and seen of it beside the box.
func (s *Tables) count() HTML {
	if strings.TrimSpace(s.query) == "" {
		return HTML{}
	}
	aside, refused := "", false
	for _, x := range s.said {
		aside += sentence(x.Text) + " "
		refused = refused || x.Kind == tables.Refused
	}
	count := words.Text("tables.nothing")
	if n := len(s.hits); n > 0 {
		if count = words.Text("tables.found", strconv.Itoa(n)); refused {
			count = ""
		}
	}
	return Join(El("span", Class("aside"), Text(aside)), Text(count))
}

// sentence is a saying with a large first letter and a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	return upper(s) + "."
}

// main is what was found, or the table.
func (s *Tables) main() HTML {
	if strings.TrimSpace(s.query) == "" {
		return s.table()
	}
	refused := false
	out := []HTML{Each(s.said, func(_ int, x tables.Saying) HTML {
		refused = refused || x.Kind == tables.Refused
		return P("notice said-"+[...]string{"refused", "asked", "unread"}[x.Kind], sentence(x.Text))
	})}
	if refused && len(s.hits) > 0 {
		out = append(out, P("quiet", words.Text("tables.near")))
	}
	some := s.some()
	switch {
	case len(s.hits) > 0:
		out = append(out, El("ol", Attrs(Class("hits"), A("data-arrows", "look-box")), Each(some, func(i int, x hit) HTML { return s.hit(i, &x) })))
	case len(s.said) == 0:
		out = append(out, P("quiet", words.Text("tables.none")))
	}
	if len(some) < len(s.hits) {
		out = append(out, Button(On("all", ""), words.Text("tables.showAll", strconv.Itoa(len(s.hits)))))
	}
	return Join(out...)
}

// hit is one thing found: its head, what can be done with it, and what it tells.
func (s *Tables) hit(i int, x *hit) HTML {
	n := strconv.Itoa(i)
	most := 4
	if i == 0 {
		most = 18
	}
	cut := !s.whole[i] && len(x.lines) > most
	why := x.Why
	yours := HTML{}
	if x.t != nil {
		why = strings.TrimPrefix(why+" · "+x.t.Title, " · ")
		if x.t.rows[x.row].own != nil {
			yours = El("b", Class("yours"), Text(words.Text("tables.yours")))
		}
	}
	head := El("div", Class("hit-head"), El("button", Attrs(A("type", "button"), ID("hit-"+n), Class("hit-open"), A("aria-expanded", strconv.FormatBool(s.opened[i])), On("open", n), OnKey("up", "Escape")), Text(x.Title)), yours, El("span", Class("quiet"), Text(why)))
	more := []HTML{}
	first := 0
	if x.t != nil {
		first = len(s.actions(x.t, &x.t.rows[x.row]))
		more = append(more, El("button", Attrs(A("type", "button"), ID("hit-"+n+"-"+strconv.Itoa(first)), On("show", n)), Text(words.Text("tables.showIt"))))
		first++
	}
	more = append(more, El("button", Attrs(A("type", "button"), ID("hit-"+n+"-"+strconv.Itoa(first)), On("copyHit", n)), Text(words.Text("tables.copy"))))
	acts := El("div", Attrs(Class("hit-acts"), Role("group"), A("aria-label", words.Text("tables.whatToDo", x.Title)), Flag("hidden", !s.opened[i]), closeOn("close", n)), s.acts("hit-"+n+"-", x.t, x.row), Join(more...))
	out := []HTML{head, acts}
	if len(x.lines) > 0 {
		out = append(out, El("table", A("aria-label", x.Title), El("tbody", Attr{}, Each(x.lines, func(k int, _ [3]string) HTML { return x.line(k, most, cut) }))))
	}
	if cut {
		out = append(out, P("quiet", words.Text("tables.whenOpened", words.Count("tables.moreValues", len(x.lines)-most))))
	}
	if x.Note != "" && x.Note != "yours" {
		out = append(out, P("note", sentence(x.Note)))
	}
	if x.Row != nil && len(x.Facts) == 0 {
		out = append(out, P("src", words.Text("tables.source", sourceWords(x.Row.Source, x.Own))))
	}
	return El("li", Attr{}, out...)
}

// closeOn is OnKey for Escape with an argument.
func closeOn(name, arg string) Attr { return Attrs(OnKey(name, "Escape"), A("data-arg", arg)) }

// line is a line of what a hit tells. A source that holds for several lines stands once.
func (x *hit) line(k, most int, cut bool) HTML {
	same := func(k int) bool { return k > 0 && k < len(x.lines) && k != most && x.lines[k][2] == x.lines[k-1][2] }
	source := HTML{}
	if !same(k) {
		below := 1
		for same(k + below) {
			below++
		}
		source = El("td", Attrs(Class("src"), A("rowspan", strconv.Itoa(below))), Text(x.lines[k][2]))
	}
	return El("tr", Flag("hidden", cut && k >= most), El("th", A("scope", "row"), Text(x.lines[k][0])), El("td", Attr{}, Text(x.lines[k][1])), source)
}

// acts are the actions of a row, with ids of a prefix and their number. One that needs a machine cannot be pressed without.
func (s *Tables) acts(prefix string, t *shownTable, row int) HTML {
	if t == nil {
		return HTML{}
	}
	return Each(s.actions(t, &t.rows[row]), func(k int, a action) HTML {
		id := prefix + strconv.Itoa(k)
		off := Flag("disabled", a.machine && s.machineName() == "")
		does := On("use", strings.Join([]string{t.Key, strconv.Itoa(row), strconv.Itoa(k), id}, " "))
		if a.ask == "" {
			return El("button", Attrs(A("type", "button"), ID(id), off, does), Text(a.label))
		}
		field := El("input", Attrs(ID(id), A("name", "x"), A("autocomplete", "off"), A("spellcheck", "false"), off))
		return El("form", Attrs(Class("ask"), does), El("label", Attr{}, Text(a.ask+" "), field), El("button", Attrs(A("type", "submit"), off), Text(a.label)), El("span", Attrs(Class("hint"), Role("alert"), ID(id+"-said"))))
	})
}

// table is the table chosen, with what can be done with it above.
func (s *Tables) table() HTML {
	t := s.tableShown(s.key)
	v := s.view()
	unit := func(key, text string) HTML { return Choice(key, text, key == s.system) }
	return Join(P("about", t.About), P("quiet", tables.GradeMeanings.String()),
		El("div", Attrs(Class("bar look-bar"), Role("toolbar"), A("aria-label", words.Text("tables.table"))),
			El("label", A("for", "look-filter"), Text(words.Text("tables.filter")+" ")), El("input", Attrs(ID("look-filter"), A("value", v.filter), A("autocomplete", "off"), A("spellcheck", "false"), On("filter", ""))),
			El("label", A("for", "look-units"), Text(words.Text("tables.units")+" ")), El("select", Attrs(ID("look-units"), On("units", "")), unit("", words.Text("tables.asPrinted")), unit("metric", words.Text("tables.metric")), unit("inch", words.Text("tables.inch"))),
			El("button", Attrs(A("type", "button"), A("title", words.Text("tables.copied")), On("copy", "")), Text(words.Text("tables.copyRows"))), Button(On("csv", ""), words.Text("tables.csv")), Button(On("print", ""), words.Text("tables.print"))),
		El("div", Attrs(Class("look-table"), ID("look-table"), A("tabindex", "0"), Role("region"), A("aria-label", t.Title), A("data-copies", "")), s.grid()))
}

// rows brings the rows up to the view, and goes to an element.
func (s *Tables) rows(focus string) Update {
	return Update{Regions: []Region{{"look-table", s.grid()}}, Focus: focus}
}

// rowActions shows or hides what can be done with a row of the table.
func (s *Tables) rowActions(row int, open bool) Update {
	s.view().acts[row] = open
	if !open {
		return s.rows("look-use-" + strconv.Itoa(row))
	}
	u := s.rows("")
	if t := s.tableShown(s.key); row >= 0 && row < len(t.rows) {
		u.Focus = s.firstAction("row-"+strconv.Itoa(row)+"-", &hit{t: t, row: row})
	}
	return u
}

// grid is the table itself.
func (s *Tables) grid() HTML {
	t := s.tableShown(s.key)
	v := s.view()
	rows := v.rows(s, t)
	useful := slices.ContainsFunc(rows, func(i int) bool { return len(s.actions(t, &t.rows[i])) > 0 })
	titles := make([]string, len(t.Columns), len(t.Columns)+1)
	for i := range titles {
		titles[i] = heading(&t.Columns[i], s.system)
	}
	head := Each(append(titles, words.Text("tables.sourceIs")), func(i int, title string) HTML {
		mark, order := "", Attr{}
		if v.by == i {
			if mark, order = " ▴", A("aria-sort", "ascending"); v.down {
				mark, order = " ▾", A("aria-sort", "descending")
			}
		}
		return El("th", Attrs(A("scope", "col"), numClass(i < len(t.Columns) && t.Columns[i].Numeric, ""), order),
			El("button", Attrs(A("type", "button"), ID("look-sort-"+strconv.Itoa(i)), On("sort", strconv.Itoa(i))), Text(title), El("span", Attrs(Class("sorted"), A("aria-hidden", "true")), Text(mark))))
	})
	count := words.Count("tables.rows", len(t.rows))
	if len(rows) != len(t.rows) {
		count = words.Text("tables.of", strconv.Itoa(len(rows)), count)
	}
	last := HTML{}
	if useful {
		last = El("th", A("scope", "col"), El("span", Class("aside"), Text(words.Text("tables.useIs"))))
	}
	return El("table", Attr{},
		El("caption", Attr{}, El("h2", Attr{}, Text(t.Title)), El("span", Attrs(Class("quiet"), Role("status")), Text(" "+count))),
		El("thead", Attr{}, El("tr", Attr{}, El("th", Attrs(Class("tick"), A("scope", "col")), El("span", Class("aside"), Text(words.Text("tables.chooseIs")))), head, last)),
		El("tbody", Attr{}, Each(rows, func(_, i int) HTML { return s.row(t, i, useful) })))
}

func numClass(num bool, other string) Attr {
	if num {
		other = "num"
	}
	if other == "" {
		return Attr{}
	}
	return Class(other)
}

// row is a row of the table, and what can be done with it below.
func (s *Tables) row(t *shownTable, i int, useful bool) HTML {
	r, v, n := &t.rows[i], s.view(), strconv.Itoa(i)
	class, yours, gives := Attr{}, HTML{}, HTML{}
	switch {
	case r.own != nil:
		class, yours = Class("own"), El("b", Class("yours"), Text(words.Text("tables.yours")))
	case r.gives:
		class, gives = Class("gives"), El("b", Attr{}, Text(" "+words.Text("tables.yoursInstead")))
	}
	chosen := Attr{}
	if v.chosen[i] {
		chosen = A("data-chosen", "1")
	}
	cells := []HTML{El("td", Class("tick"), El("input", Attrs(A("type", "checkbox"), ID("look-tick-"+n), A("aria-label", words.Text("tables.choose", r.Name)), Flag("checked", v.chosen[i]), On("tick", n))))}
	for c := range t.Columns {
		text := t.cell(s, r, c, s.system)
		if c > 0 {
			cells = append(cells, El("td", numClass(t.Columns[c].Numeric, ""), Text(text)))
			continue
		}
		short := "short"
		if len(text) > 28 {
			short = ""
		}
		cells = append(cells, El("th", Attrs(A("scope", "row"), numClass(t.Columns[c].Numeric, short)), Text(text), yours))
	}
	cells = append(cells, El("td", Class("src"), Text(sourceWords(r.Source, r.own != nil)), gives))
	below := HTML{}
	if useful {
		use := HTML{}
		if len(s.actions(t, r)) > 0 {
			use = El("button", Attrs(A("type", "button"), ID("look-use-"+n), A("aria-expanded", strconv.FormatBool(v.acts[i])), A("aria-label", words.Text("tables.use", r.Name)), On("acts", n)), Text(words.Text("tables.useDots")))
			if v.acts[i] {
				acts := El("div", Attrs(Class("hit-acts"), Role("group"), A("aria-label", words.Text("tables.whatToDo", r.Name))), s.acts("row-"+n+"-", t, i))
				below = El("tr", Attrs(Class("acts"), closeOn("closeActs", n)), El("td", A("colspan", strconv.Itoa(len(t.Columns)+3)), acts))
			}
		}
		cells = append(cells, El("td", Attr{}, use))
	}
	return Join(El("tr", Attrs(ID("look-row-"+n), A("data-row", n), class, chosen), cells...), below)
}

// taken are the rows chosen, or all that are shown.
func (s *Tables) taken(t *shownTable) []int {
	rows := s.view().rows(s, t)
	some := slices.DeleteFunc(slices.Clone(rows), func(i int) bool { return !s.view().chosen[i] })
	if len(some) == 0 {
		return rows
	}
	return some
}

// given is the table, or the rows chosen of it, for the clipboard or as a file. Ctrl+C asks for it too, but not while something is looked up.
func (s *Tables) given(e Event) Update {
	if e.Kind == "copied" && strings.TrimSpace(s.query) != "" {
		return Update{}
	}
	t := s.tableShown(s.key)
	head, lines := s.lines(t, false)
	clip, csv := Table(head, lines, s.host.Evaluator().Decimal() == units.Comma)
	if e.Name == "csv" {
		return csvFile("shimsheet-"+strings.ReplaceAll(s.key, "_", "-")+".csv", csv)
	}
	return Update{Copy: &clip, Say: words.Text("tables.rowsCopied", words.Count("tables.rows", len(lines)))}
}

// lines are the rows taken as text. On paper a row that gives way says so.
func (s *Tables) lines(t *shownTable, paper bool) (head []string, lines [][]string) {
	for i := range t.Columns {
		title := heading(&t.Columns[i], s.system)
		head = append(head, title)
	}
	head = append(head, words.Text("tables.sourceIs"))
	for _, i := range s.taken(t) {
		r := &t.rows[i]
		var cells []string
		for c := range t.Columns {
			cells = append(cells, t.cell(s, r, c, s.system))
		}
		source := sourceWords(r.Source, r.own != nil)
		if paper && r.gives {
			source += " " + words.Text("tables.yoursInstead")
		}
		lines = append(lines, append(cells, source))
	}
	return head, lines
}

// paper is what is shown, on paper.
func (s *Tables) paper() HTML {
	plain := func(head []string, lines [][]string) HTML {
		top := HTML{}
		if head != nil {
			top = El("thead", Attr{}, El("tr", Attr{}, Each(head, func(_ int, t string) HTML { return th(t) })))
		}
		return El("table", Class("plain"), top, El("tbody", Attr{}, Each(lines, func(_ int, l []string) HTML {
			return El("tr", Attr{}, Each(l, func(_ int, t string) HTML { return El("td", Attr{}, Text(t)) }))
		})))
	}
	query := strings.TrimSpace(s.query)
	if query == "" {
		t := s.tableShown(s.key)
		return Join(El("h1", Attr{}, Text(t.Title)), P("", t.About), P("", tables.GradeMeanings.String()), plain(s.lines(t, true)))
	}
	out := []HTML{El("h1", Attr{}, Text(words.Text("tables.lookedUp", query))), Each(s.said, func(_ int, x tables.Saying) HTML { return P("", sentence(x.Text)) })}
	for _, x := range s.some() {
		about := []string{x.Why, x.Note}
		if x.Row != nil {
			about = append(about, sourceWords(x.Row.Source, x.Own))
		}
		about = slices.DeleteFunc(about, func(t string) bool { return t == "" })
		var lines [][]string
		for _, l := range x.lines {
			lines = append(lines, l[:])
		}
		out = append(out, El("h2", Attr{}, Text(x.Title)), P("", strings.Join(about, " · ")), plain(nil, lines))
	}
	return Join(out...)
}
