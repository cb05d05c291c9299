package screens

import (
	"strconv"
	"strings"

	"shimsheet/internal/calculators"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/report"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// CalculatorsHost is what the calculators ask of the job: units, decimal sign, the job's own materials.
type CalculatorsHost interface {
	CalcSettings() calculators.Settings
}

// Calculators are small calculations beside the sheet: one set of values in a form, many pasted at once. What was typed and pasted is kept
// for each calculator.
type Calculators struct {
	host   CalculatorsHost
	key    string              // of the calculator shown
	typed  map[string][]string // by calculator: its fields
	pasted map[string]string   // by calculator: its rows
}

// NewCalculators is the screen with the first calculator chosen and nothing typed.
func NewCalculators(host CalculatorsHost) *Calculators {
	return &Calculators{host: host, key: calculators.All()[0].Key, typed: map[string][]string{}, pasted: map[string]string{}}
}

// calcShown is how many rows of a batch the screen shows; all of them are copied and saved.
const calcShown = 300

// Show is the chosen calculator, with the first field to go to.
func (s *Calculators) Show() Update {
	return Update{Regions: []Region{{"screen-calc", s.page()}}, Focus: "calc-0"}
}

// JobChanged shows it anew: units or materials may have changed.
func (s *Calculators) JobChanged() Update {
	return Update{Regions: []Region{{"screen-calc", s.page()}}}
}

// Event answers choosing a calculator, typing into a field or into the rows, and the buttons.
func (s *Calculators) Event(e Event) Update {
	switch e.Name {
	case "choose":
		key := e.choice()
		if calculators.Find(key) == nil {
			return Update{}
		}
		s.key = key
		return Update{Regions: []Region{{"screen-calc", s.page()}}, Focus: "calc-nav-" + key, Top: true}
	case "field":
		i, err := strconv.Atoi(e.Arg)
		if cells := s.cells(); err == nil && i >= 0 && i < len(cells) {
			cells[i] = e.Value
		}
		return s.worked()
	case "again": // a moment after a field: the rows take blank cells from it
		return Update{Regions: []Region{{"calc-many", s.many()}}}
	case "rows":
		s.pasted[s.key] = e.Value
		return Update{Regions: []Region{{"calc-many", s.many()}}}
	case "clear":
		return s.enter(make([]string, len(s.calculator().Inputs)), "")
	case "example":
		return s.enter(s.calculator().ExampleCells(s.host.CalcSettings().Decimal), words.Text("calculators.exampleFilled"))
	case "header":
		return Update{Copy: &Clip{Text: s.calculator().HeaderBlock(s.host.CalcSettings().Inch)}, Say: words.Text("calculators.headerCopied")}
	case "copy", "csv":
		b := s.batch()
		if b == nil {
			return Update{}
		}
		var rows [][]string
		for i := range b.Rows {
			rows = append(rows, b.ResultRow(i))
		}
		clip, csv := Table(b.HeaderRow(), rows, s.host.CalcSettings().Decimal == units.Comma)
		if e.Name == "csv" {
			return csvFile("shimsheet-"+strings.ReplaceAll(s.key, "_", "-")+".csv", csv)
		}
		return Update{Copy: &clip, Say: words.Text("calculators.copied", words.Count("common.rows", len(rows)))}
	}
	return Update{}
}

func (s *Calculators) calculator() *calculators.Calculator { return calculators.Find(s.key) }

// cells are the fields of the chosen calculator as typed.
func (s *Calculators) cells() []string {
	if s.typed[s.key] == nil {
		s.typed[s.key] = make([]string, len(s.calculator().Inputs))
	}
	return s.typed[s.key]
}

// enter fills the fields and works everything out again.
func (s *Calculators) enter(cells []string, say string) Update {
	s.typed[s.key] = append([]string(nil), cells...)
	u := s.worked()
	for i, c := range s.cells() {
		u.Values = append(u.Values, Value{fieldID(i), c})
	}
	u.Regions = append(u.Regions, Region{"calc-many", s.many()})
	u.Say = say
	return u
}

func fieldID(i int) string { return "calc-" + strconv.Itoa(i) }

// page is the whole screen.
func (s *Calculators) page() HTML {
	c := s.calculator()
	list := make([][2]string, 0, len(calculators.All()))
	for _, k := range calculators.All() {
		list = append(list, [2]string{k.Key, k.Title.String()})
	}
	said := s.work()
	fields := Each(c.Inputs, func(i int, k calculators.Column) HTML { return s.field(i, k, said.fields[i]) })
	cautions := Each(c.Cautions, func(_ int, w calculators.Caution) HTML {
		return P("caution", cautionWords(tables.Caution{Text: w.Text(), Source: w.Source}))
	})
	check := El("div", Class("calc-check"), El("h3", Attr{}, Text(words.Text("calculators.checkedAgainst"))), P("", c.Check.String()),
		El("p", Attr{}, Button(On("example", ""), words.Text("calculators.example"))))
	form := El("form", Attrs(Class("calc-form"), A("aria-label", c.Title.String())), fields, El("p", Attr{}, Button(On("clear", ""), words.Text("calculators.clear"))))
	result := El("div", Attrs(ID("calc-out"), Class("calc-out"), Role("region"), A("aria-live", "polite"), A("aria-label", words.Text("calculators.result"))), said.result)
	return El("div", Class("look-two"),
		El("div", Class("look-side"), chooser("choose", "calc-nav-", words.Text("calculators.title"), list, s.key)),
		El("div", Class("look-main"),
			El("h2", Attr{}, Text(c.Title.String())), P("about", c.About.String()),
			El("div", Class("calc-two"), form, El("div", Attr{}, El("div", ID("calc-loose"), said.loose), result, check),
				El("div", Class("drawing calc-fig"), Drawing(report.CalculatorFigure(c.Figure)))),
			El("dl", Class("calc-words"), El("dt", Attr{}, Text(words.Text("calculators.formula"))), El("dd", Attr{}, Text(c.Formula.String())),
				El("dt", Attr{}, Text(words.Text("calculators.source"))), El("dd", Attr{}, Text(SourceWords(c.Source)))),
			cautions, s.manySection(c)))
}

// field is a field of the form with its label, its help and what it was understood as.
func (s *Calculators) field(i int, k calculators.Column, said fieldSaid) HTML {
	set := s.host.CalcSettings()
	id := fieldID(i)
	normally := k.Default
	if k.Measure != calculators.MChoice && set.Decimal == units.Comma {
		normally = strings.Replace(normally, ".", ",", 1)
	}
	if normally != "" {
		normally = words.Text("calculators.blank", normally)
	}
	described := Attrs(ID(id), A("aria-describedby", id+"-help "+id+"-said"), On("field", strconv.Itoa(i)))
	if said.wrong {
		described = Attrs(described, A("aria-invalid", "true"))
	}
	var input HTML
	if choices := k.ChoiceWords(); len(choices) > 0 {
		if normally == "" {
			normally = words.Text("calculators.notChosen")
		}
		input = El("select", described, Choice("", normally, false), Each(choices, func(_ int, w string) HTML { return Choice(w, w, s.cells()[i] == w) }))
	} else {
		input = El("input", Attrs(described, A("value", s.cells()[i]), A("placeholder", normally), A("autocomplete", "off"), A("spellcheck", "false")))
	}
	about := k.Unit(set.Inch)
	if k.Required {
		about = strings.TrimPrefix(about+", "+words.Text("calculators.needed"), ", ")
	}
	return El("div", Class("calc-field"), El("label", A("for", id), Text(k.Title+" "), El("small", Attr{}, Text(about))), input,
		El("p", Attrs(ID(id+"-help"), Class("quiet")), Text(k.Help.String())), El("p", Attrs(ID(id+"-said"), Class(said.class)), Text(said.text)))
}

// fieldSaid is what is said of one field: its meaning or what is wrong.
type fieldSaid struct {
	class, text string
	wrong       bool // an error in something that was typed
}

// calcSaid is the form worked out.
type calcSaid struct {
	fields        []fieldSaid
	loose, result HTML
}

// work works the form out.
func (s *Calculators) work() calcSaid {
	c, cells, set := s.calculator(), s.cells(), s.host.CalcSettings()
	r := c.Row(cells, set)
	out := calcSaid{fields: make([]fieldSaid, len(c.Inputs))}
	for i := range c.Inputs {
		f := fieldSaid{class: "meaning", text: c.Inputs[i].Meaning(cells[i], set.Inch, set.Decimal)}
		var wrong []string
		for j := range r.Problems {
			if p := &r.Problems[j]; p.Col == i {
				wrong = append(wrong, problemWords(p))
				f.wrong = f.wrong || p.Severity == job.Error && strings.TrimSpace(cells[i]) != ""
			}
		}
		if len(wrong) > 0 {
			f.class, f.text = "notice", strings.Join(wrong, ". ")
		}
		if f.wrong {
			f.class = "hint"
		}
		out.fields[i] = f
	}
	out.loose = Each(r.Problems, func(_ int, p job.Problem) HTML { return If(p.Col < 0, P("notice", problemWords(&p))) })
	out.result = s.result(c, r.Texts)
	return out
}

// result is the table of results; of a conversion into every unit, a row a unit.
func (s *Calculators) result(c *calculators.Calculator, texts []string) HTML {
	some := false
	for _, t := range texts {
		some = some || t != ""
	}
	if !some {
		return P("quiet", words.Text("calculators.noResult"))
	}
	cell := func(t string) HTML { return El("td", Attr{}, Text(t)) }
	if s.key == "convert" && strings.Contains(texts[0], "; ") {
		values, names := strings.Split(texts[0], "; "), strings.Split(texts[1], "; ")
		return El("table", Attr{}, El("caption", Attr{}, Text(words.Text("calculators.as", texts[2]))),
			El("thead", Attr{}, El("tr", Attr{}, Each(c.Outputs[:2], func(_ int, o calculators.Column) HTML { return El("th", A("scope", "col"), Text(o.Title)) }))),
			El("tbody", Attr{}, Each(values, func(i int, t string) HTML {
				name := ""
				if i < len(names) {
					name = names[i]
				}
				return El("tr", Attr{}, cell(t), cell(name))
			})))
	}
	return El("table", Attr{}, El("caption", Class("aside"), Text(words.Text("calculators.result"))), El("tbody", Attr{}, Each(c.Outputs, func(i int, o calculators.Column) HTML {
		title := Attr{}
		if o.Help != words.SentenceNone {
			title = A("title", o.Help.String())
		}
		return If(texts[i] != "", El("tr", title, El("th", A("scope", "row"), Text(o.Title)), cell(texts[i])))
	})))
}

// worked is the update after a field changed: everything but the fields themselves, so that what is being typed stays untouched.
func (s *Calculators) worked() Update {
	said := s.work()
	u := Update{Regions: []Region{{"calc-loose", said.loose}, {"calc-out", said.result}}}
	for i, f := range said.fields {
		id := fieldID(i)
		u.Regions = append(u.Regions, Region{id + "-said", Text(f.text)})
		u.Attributes = append(u.Attributes, Attribute{ID: id + "-said", Name: "class", Value: f.class}, Attribute{ID: id, Name: "aria-invalid", Value: "true", Off: !f.wrong})
	}
	if strings.TrimSpace(s.pasted[s.key]) != "" {
		u.Soon, u.SoonIn = "again", 120
	}
	return u
}

// manySection is the place for many rows at once.
func (s *Calculators) manySection(c *calculators.Calculator) HTML {
	titles := make([]string, len(c.Inputs))
	for i := range titles {
		titles[i] = c.Inputs[i].Title
	}
	return El("section", Attrs(Class("calc-batch"), A("aria-labelledby", "calc-rows-title")),
		El("h3", ID("calc-rows-title"), Text(words.Text("calculators.many"))),
		El("p", Attrs(ID("calc-rows-help"), Class("quiet")), Text(words.Text("calculators.manyHelp", strings.Join(titles, ", ")))),
		El("p", Attr{}, Button(On("header", ""), words.Text("calculators.copyHeader"))),
		El("label", A("for", "calc-rows"), Text(words.Text("calculators.rows"))),
		El("textarea", Attrs(ID("calc-rows"), A("rows", "5"), A("spellcheck", "false"), A("wrap", "off"), A("aria-describedby", "calc-rows-help"), OnLater("rows", "", 120)), Text("\n"+s.pasted[s.key])),
		El("div", ID("calc-many"), s.many()))
}

// batch works the pasted rows out; what the form holds stands for blank cells. Nil: nothing is pasted.
func (s *Calculators) batch() *calculators.Batch {
	text := s.pasted[s.key]
	if strings.TrimSpace(text) == "" {
		return nil
	}
	set := s.host.CalcSettings()
	set.Common = s.cells()
	return s.calculator().Batch(&job.Table{Name: "Pasted", Rows: grid.ParseBlock(text), FirstRow: 1}, set)
}

// many is the rows worked out: how many, what is wrong, and the first of them.
func (s *Calculators) many() HTML {
	b := s.batch()
	told := func(t string) HTML { return El("p", Role("status"), Text(t)) }
	if b == nil {
		return told("")
	}
	var problems, rows []HTML
	done, bad := 0, 0
	note := func(list []job.Problem) {
		for i := range list {
			if len(problems) < calcShown {
				problems = append(problems, calcProblem(&list[i]))
			}
		}
	}
	typed := len(b.Bound)
	class := func(i int) Attr {
		if i >= typed {
			return Class("result")
		}
		return Attr{}
	}
	note(b.Problems)
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.Blank && len(r.Problems) == 0 {
			continue
		}
		mark := Attr{}
		if r.OK() {
			done++
		} else {
			bad++
			mark = Class("bad")
		}
		note(r.Problems)
		if len(rows) < calcShown {
			rows = append(rows, El("tr", mark, El("th", A("scope", "row"), Text(strconv.Itoa(r.Row))),
				Each(b.ResultRow(i), func(i int, t string) HTML { return El("td", class(i), Text(t)) })))
		}
	}
	if done+bad == 0 {
		return told("")
	}
	withProblem, first := "", "."
	if bad > 0 {
		withProblem = words.Text("calculators.problem", words.Number(bad))
	}
	if len(rows) < done+bad {
		first = words.Text("calculators.firstShown", words.Number(len(rows)))
	}
	title := words.Text("calculators.rowsResults")
	head := El("tr", Attr{}, El("th", A("scope", "col"), Text(words.Text("calculators.rowColumn"))),
		Each(b.HeaderRow(), func(i int, t string) HTML { return El("th", Attrs(A("scope", "col"), class(i)), Text(t)) }))
	return Join(told(words.Text("calculators.done", words.Number(done), words.Count("common.rows", done+bad), withProblem, first)),
		El("div", Class("calc-many"),
			El("p", Class("bar"), MainButton(On("copy", ""), words.Text("calculators.copy")), Button(On("csv", ""), words.Text("calculators.csv"))),
			If(len(problems) > 0, El("ul", Attrs(Class("calc-problems"), A("aria-label", words.Text("calculators.problems"))), problems...)),
			El("div", Attrs(Class("look-table"), A("tabindex", "0"), Role("region"), A("aria-label", title)),
				El("table", Attr{}, El("caption", Class("aside"), Text(title)), El("thead", Attr{}, head), El("tbody", Attr{}, rows...)))))
}

// calcProblem is a problem of the rows with its place.
func calcProblem(p *job.Problem) HTML {
	var where []string
	if p.Row > 0 {
		where = append(where, words.Text("calculators.row", strconv.Itoa(p.Row)))
	}
	if p.Column != "" {
		where = append(where, p.Column)
	}
	place := strings.Join(where, ", ")
	if place != "" {
		place += ": "
	}
	return El("li", Class(p.Severity.String()), El("b", Attr{}, Text(place)), Text(problemWords(p)))
}

// problemWords is a problem with its hint.
func problemWords(p *job.Problem) string {
	if p.Hint.Empty() {
		return p.Text.String()
	}
	return p.Text.String() + "; " + p.Hint.String()
}
