package screens

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// mostNotices is how many of each kind are shown: more are no help to read.
const mostNotices = 60

// body is what the file holds: in a sentence, what is to be looked at, and each sheet that is read.
func (s *OpenFile) body() HTML {
	p := s.preview
	format := words.Text("openFile.aFile")
	switch p.Format {
	case "xlsx":
		format = words.Text("openFile.aWorkbook")
	case "xlsm":
		format = words.Text("openFile.aWorkbookWithMacrosWhich")
	case "csv":
		format = words.Text("openFile.aListAsText", p.Encoding)
	case "tsv":
		format = words.Text("openFile.aListAsTextTabs", p.Encoding)
	}
	if len(p.Sheets) > 1 {
		format += words.Text("openFile.with", words.Count("openFile.sheets", len(p.Sheets)))
	}
	if p.Own {
		format += words.Text("openFile.writtenByThisProgramIt")
	}
	format += ". "
	if at := slices.IndexFunc(p.Sheets, func(sh *sheetPreview) bool { return sh.Kind == fileKey(job.MachinesSheet) }); at >= 0 {
		format += words.Text("openFile.ofMachines", words.Count("openFile.rows", p.Sheets[at].Rows))
	}
	var blocks, rest []HTML
	var results []string
	for at, sh := range p.Sheets {
		switch {
		case sh.Kind != "":
			blocks = append(blocks, s.sheet(at))
		case p.Own && sh.Results:
			results = append(results, sh.Name)
		case len(rest) < mostNotices:
			rest = append(rest, El("tr", Attr{}, td(sh.Name), td(sh.Why), El("td", Attr{}, s.kinds(at))))
		}
	}
	out := []HTML{P("lead", format)}
	if p.Refused != "" {
		out = append(out, El("p", Attrs(Class("refused"), Role("alert")), Text(Sentence(p.Refused))))
	}
	graver := s.graver()
	if len(graver) > 0 {
		items := Each(graver[:min(len(graver), mostNotices)], func(_ int, n fileNotice) HTML { return s.notice(n) })
		if more := len(graver) - mostNotices; more > 0 {
			items = Join(items, El("li", Attr{}, Text(words.Text("openFile.andMore", words.Number(more)))))
		}
		out = append(out, El("ul", Attrs(Class("notices"), A("aria-label", words.Text("openFile.toLookAt"))), items))
	}
	out = append(out, blocks...)
	if rest != nil {
		out = append(out, El("section", Attr{}, El("h3", Attr{}, Text(words.Text("openFile.sheetsKeptUnread"))), El("table", Attr{}, El("tbody", Attr{}, rest...))))
	}
	if results != nil {
		out = append(out, P("", words.Text("openFile.theResultsOnAreWorked", strings.Join(results, ", "))))
	}
	lesser := slices.DeleteFunc(slices.Clone(p.Notices), func(n fileNotice) bool { return n.Severity != job.Note.String() })
	if lesser = lesser[:min(len(lesser), mostNotices)]; len(lesser) > 0 {
		out = append(out, El("details", Attr{}, El("summary", Attr{}, Text(words.Count("openFile.notes", len(lesser)))),
			El("ul", Attr{}, Each(lesser, func(_ int, n fileNotice) HTML { return s.notice(n) }))))
	}
	return Join(out...)
}

// what is what taking the file does to the job on the page.
func (s *OpenFile) what() string {
	name, blank := s.host.JobAtHand()
	if name == "" {
		name = words.Text("openFile.theJobWithoutAName")
	}
	switch {
	case s.preview.Refused != "":
		return words.Text("openFile.nothingIsChanged")
	case s.only():
		var kinds []string
		for _, sh := range s.preview.Sheets {
			if sh.Kind != "" {
				kinds = append(kinds, kindName(sh.Kind))
			}
		}
		return words.Text("openFile.theSheetOfTheJob", strings.Join(kinds, ", "))
	case blank:
		return words.Text("openFile.itIsOpenedAsA")
	case s.unsaved:
		return words.Text("openFile.itTakesThePlaceOf", name, words.Text("openFile.whichNoFileHasAs"))
	}
	return words.Text("openFile.itTakesThePlaceOf", name, "")
}

// notice is something that was pointed out, with its place.
func (s *OpenFile) notice(n fileNotice) HTML {
	word := ""
	switch n.Severity {
	case job.Error.String():
		word = words.Text("openFile.problem")
	case job.Warning.String():
		word = words.Text("openFile.look")
	}
	var at []string
	if len(s.preview.Sheets) > 1 && n.Sheet != "" {
		at = append(at, n.Sheet)
	}
	if n.Row > 0 {
		at = append(at, words.Text("openFile.row", words.Number(n.Row)))
	}
	if n.Column != "" {
		at = append(at, n.Column)
	}
	text := n.Text + "."
	if at != nil {
		text = upper(strings.Join(at, ", ")) + ": " + text
	}
	if n.Hint != "" {
		text += " " + upper(n.Hint) + "."
	}
	return El("li", Class(n.Severity), bold(word), Text(text))
}

// kinds is the list of what a sheet of the file can be read as.
func (s *OpenFile) kinds(at int) HTML {
	sh := s.preview.Sheets[at]
	options := Each(fileKinds, func(_ int, k job.SheetKind) HTML { return Choice(fileKey(k), k.String(), fileKey(k) == sh.Kind) })
	n := strconv.Itoa(at)
	return El("select", Attrs(ID("open-kind-"+n), A("aria-label", words.Text("openFile.readSheetAs", sh.Name)), On("kind", n)),
		Join(options, Choice("", words.Text("openFile.keptUnread"), sh.Kind == "")))
}

// sheet is one sheet that is read: what was found, what can be chosen, its columns.
func (s *OpenFile) sheet(at int) HTML {
	sh, n := s.preview.Sheets[at], strconv.Itoa(at)
	inputs, chosen, texts := sh.inputs(), s.choice(sh.Name), 0
	for _, c := range inputs {
		texts += c.TextNumbers
	}
	settings := sh.Kind == fileKey(job.SettingsSheet)
	fix := []HTML{El("label", Attr{}, Text(words.Text("openFile.readAs2")), s.kinds(at))}
	if !settings {
		row := ""
		if sh.HeaderRow > 0 {
			row = strconv.Itoa(sh.HeaderRow)
		}
		fix = append(fix, El("label", Attr{}, Text(words.Text("openFile.headerRow")), El("input", Attrs(ID("open-header-"+n), A("type", "number"), A("min", "1"), A("max", "100000"),
			A("value", row), A("aria-label", words.Text("openFile.headerRowOf", sh.Name)), A("data-arg", n), OnLeave("header")))))
	}
	if !s.preview.Own && (texts > 0 || chosen.TextToNumbers) { // in a workbook of this program texts are as typed
		say := words.Text("openFile.numbersStoredAsTextAre")
		if texts > 0 {
			say = words.Text("openFile.writeStoredAsTextThe", words.Count("openFile.theNumberThatIs", texts))
		}
		fix = append(fix, El("label", Attr{}, El("input", Attrs(ID("open-numbers-"+n), A("type", "checkbox"), Flag("checked", chosen.TextToNumbers), On("numbers", n))), Text(say)))
	}
	out := []HTML{El("h3", Attr{}, Text(sh.Name)), P("", strings.Join(s.facts(sh), " ")), El("p", Class("fix"), fix...)}
	if len(inputs) > 0 {
		out = append(out, s.columns(at, inputs))
	}
	return El("section", Attr{}, out...)
}

// facts are the sentences about a sheet that is read.
func (s *OpenFile) facts(sh *sheetPreview) []string {
	why := ""
	if sh.Why != "" {
		why = ", " + sh.Why
	}
	if s.choice(sh.Name).Chosen {
		why = words.Text("openFile.asChosen")
	}
	facts := []string{words.Text("openFile.readAs", kindName(sh.Kind), why)}
	if sh.HeaderRow > 0 {
		under := ""
		if sh.Titles > 0 {
			under = words.Text("openFile.under", words.Count("openFile.titleLines", sh.Titles))
		}
		facts = append(facts, words.Text("openFile.headerInRow", words.Number(sh.HeaderRow), under))
	}
	says := ""
	if sh.Dimension != "" {
		says = words.Text("openFile.theSheetSaysOfItself", sh.Dimension)
	}
	facts = append(facts, words.Text("openFile.readTheLastInRow", words.Count("openFile.rows", sh.Rows), words.Number(sh.LastRow), says))
	if sh.Merged > 0 {
		facts = append(facts, words.Text("openFile.theFirstCellCounts", words.Count("openFile.mergedRanges", sh.Merged)))
	}
	if len(sh.HiddenRows) > 0 {
		facts = append(facts, words.Text("openFile.readToo", words.Count("openFile.hiddenRowsAre", len(sh.HiddenRows))))
	}
	if sh.Kind == fileKey(job.SettingsSheet) {
		return facts
	}
	inputs := sh.inputs()
	var unread []string
	for _, c := range inputs {
		if c.Key == "" {
			name := c.Header
			if name == "" {
				name = words.Text("openFile.column", c.Letter)
			}
			unread = append(unread, name)
		}
	}
	left, more, results := words.Text("openFile.noneKeptUnread"), "", ""
	if len(unread) > 0 {
		names := unread
		if len(names) > 6 {
			names, more = names[:6], ", …"
		}
		left = words.Text("openFile.keptUnread2", words.Number(len(unread)), strings.Join(names, ", "), more)
	}
	if k := len(sh.Columns) - len(inputs); k > 0 {
		results = words.Text("openFile.workedOutAnew", words.Count("openFile.columnsOfResultsAre", k))
	}
	return append(facts, words.Text("openFile.understood", words.Count("openFile.columnsAre", len(inputs)-len(unread)), left, results))
}

// columns is the table of a sheet's columns, with what each is understood as, to be chosen.
func (s *OpenFile) columns(at int, inputs []*columnPreview) HTML {
	sh := s.preview.Sheets[at]
	var all HTML
	if k := len(sh.guesses()); k > 1 {
		all = El("p", Class("fix"), El("button", Attrs(A("type", "button"), ID("open-guesses"), Class("guesses"), On("guesses", strconv.Itoa(at))), Text(words.Count("openFile.takeTheGuesses", k))),
			Text(" "+words.Text("openFile.lookAtEach")))
	}
	head := El("tr", Attr{}, El("th", A("scope", "col"), El("span", Class("aside"), Text(words.Text("openFile.column2")))), th(words.Text("openFile.inTheFile")), th(words.Text("openFile.understoodAs")),
		th(words.Text("openFile.unitOfABareNumber")), th(words.Text("openFile.firstTexts")), El("th", Attrs(A("scope", "col"), Class("count")), Text(words.Text("openFile.filled"))))
	rows := Each(inputs, func(_ int, c *columnPreview) HTML { return s.columnRow(at, sh, c) })
	return Join(all, El("table", Attrs(Class("match"), A("aria-label", words.Text("openFile.columnsOf", sh.Name))), El("thead", Attr{}, head), El("tbody", Attr{}, rows)))
}

// columnRow is the row of one column.
func (s *OpenFile) columnRow(at int, sh *sheetPreview, c *columnPreview) HTML {
	arg := strconv.Itoa(at) + "-" + strconv.Itoa(c.Col)
	header := s.headers[sh.Name+"\n"+c.Letter]
	what, class := c.Name, Attr{}
	if c.Key == "" {
		what, class = words.Text("openFile.keptUnread"), Class("unread")
	}
	how := []HTML{El("select", Attrs(ID("open-what-"+arg), A("aria-label", words.Text("openFile.whatColumnIs", c.Letter, header)), On("what", arg), Choices("what-list")), Choice(c.Key, what, true))}
	if c.Guess != "" {
		how = append(how, El("br", Attr{}), bold(words.Text("match.guess")), Text(" "+s.keyName(sh.Kind, c.Guess)+": "+c.Because+" "),
			Button(Attrs(ID("open-guess-"+arg), On("guess", arg)), words.Text("openFile.takeTheGuess")))
	}
	if c.Asked != nil {
		first := c.Series == 0 || c == sh.Columns[slices.IndexFunc(sh.Columns, func(x *columnPreview) bool { return x.Series == c.Series && x.Asked != nil })]
		how = append(how, El("br", Attr{}))
		if first {
			how = append(how, bold(words.Text("match.which")), Text(" "+c.Because+" "), Each(c.Asked, func(_ int, key string) HTML { return Button(On("answer", arg+" "+key), s.keyName(sh.Kind, key)) }))
		} else {
			how = append(how, Text(words.Text("match.asTheFirst")))
		}
	}
	unit := HTML{}
	if is := s.known(sh.Kind, c.Key); is != nil && len(is.Units) > 0 {
		from := ""
		switch {
		case c.UnitFrom == "header" && (strings.Contains(header, c.Unit) || !s.choice(sh.Name).unitOf(c.Col)):
			from = words.Text("openFile.asTheHeaderSays")
		case c.UnitFrom == "header":
			from = words.Text("openFile.asChosen2")
		case c.UnitFrom == "title":
			from = words.Text("openFile.asTheTitleSays")
		case c.UnitFrom == "job":
			from = words.Text("openFile.asTheJobSays")
		}
		unit = Join(El("select", Attrs(ID("open-unit-"+arg), A("aria-label", words.Text("openFile.unitOfColumn", c.Letter, header)), On("unit", arg), Choices("unit-list")), Choice(c.Unit, c.Unit, true)),
			El("span", Class("quiet"), Text(" "+from)))
	}
	if header == "" {
		header = words.Text("openFile.noName")
	}
	return El("tr", class, El("td", Class("letter"), Text(c.Letter)), td(header), El("td", Class("how"), how...), El("td", Attr{}, unit),
		El("td", Class("sample"), Text(strings.Join(c.Sample, " · "))), El("td", Class("count"), Text(words.Number(c.Filled))))
}

// list is what a list of the dialog has to choose from, when somebody comes to it.
func (s *OpenFile) list(e Event, sh *sheetPreview, col *columnPreview) Update {
	if col == nil {
		return Update{}
	}
	switch e.Name {
	case "what-list":
		taken := map[string]bool{}
		for _, x := range sh.inputs() {
			taken[x.Key] = taken[x.Key] || x != col
		}
		all := Choice("", words.Text("openFile.keptUnread"), e.Value == "")
		return Update{Regions: []Region{{"open-what-" + e.Arg, Join(all, Each(s.keysOf(sh.Kind), func(_ int, k MatchKey) HTML {
			text := k.Name
			if taken[k.Key] {
				text += words.Text("openFile.anotherColumnIsThis")
			}
			return Choice(k.Key, text, k.Key == e.Value)
		}))}}}
	case "unit-list":
		if is := s.known(sh.Kind, col.Key); is != nil {
			return Update{Regions: []Region{{"open-unit-" + e.Arg, Each(is.Units, func(_ int, u string) HTML { return Choice(u, u, u == e.Value) })}}}
		}
	}
	return Update{}
}
