package screens

import (
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// HelpHost is what the help asks of the desk.
type HelpHost interface {
	Version() string
	Figure(what string, width int) HTML // "clock", or the sketch of a way of measuring
}

// Help is the help: signs with a drawing, ways of measuring with sketches, every column as the program reads it, keys, cautions, what all of it was checked
// against. What stands in a section is made when it is opened.
type Help struct {
	host  HelpHost
	ways  [][2]string // of measuring: as the sheet says it, as people call it
	texts []string    // that the page carries: notices of others' work, the licence, what was checked against
	made  bool
}

// NewHelp is the help before it was opened.
func NewHelp(host HelpHost) *Help { return &Help{host: host} }

// Show opens the help as it was left.
func (s *Help) Show() Update {
	u := Update{Dialog: "dlg-help", Focus: "help-body"}
	if s.made {
		return u
	}
	s.made = true
	u.Regions = []Region{{"help-body", Each(s.sections(), func(i int, x helpSection) HTML {
		n, content := strconv.Itoa(i), HTML{}
		if i < 2 {
			content = x.content()
		}
		return El("details", Attrs(ID("help-"+n), On("fold", n), Flag("open", i < 2)), El("summary", Attr{}, Text(x.title)), El("div", Attrs(Class("slot"), ID("help-in-"+n)), content))
	})}}
	return u
}

// JobChanged says nothing: the help is the same for every job.
func (s *Help) JobChanged() Update { return Update{} }

// Event answers a section that is opened, and takes what the page carries.
func (s *Help) Event(e Event) Update {
	switch e.Name {
	case "ways":
		s.ways = pairs(e.Value)
	case "texts":
		s.texts = strings.Split(e.Value, "\x1e")
	case "fold":
		list := s.sections()
		if i, err := strconv.Atoi(e.Arg); err == nil && i >= 0 && i < len(list) && e.Value == "true" {
			return Update{Regions: []Region{{"help-in-" + e.Arg, list[i].content()}}}
		}
	}
	return Update{}
}

type helpSection struct {
	title   string
	content func() HTML
}

func helpList(name string, texts ...string) HTML {
	return El(name, Attr{}, Each(texts, func(_ int, t string) HTML { return El("li", Attr{}, Text(t)) }))
}

func helpTexts(texts ...string) func() HTML {
	return func() HTML { return paragraphs("", texts) }
}

// sections are those of the help, in order.
func (s *Help) sections() []helpSection {
	list := []helpSection{
		{words.Text("help.firstSteps"), func() HTML {
			return helpList("ol", words.Text("help.pasteYourListFromA"), words.Text("help.lookAtProblemsEachSays"), words.Text("help.overviewShowsEveryCouplingBy"),
				words.Text("help.chosenRowTellsTheVerdict"), words.Text("help.savePageOneFileThat"))
		}},
		{words.Text("help.whereToStandAndWhich"), func() HTML {
			return Join(s.figure("clock"), helpList("ul", words.Text("help.oneMachineStaysStationaryOne"), words.Text("help.n12OClockIsUp"),
				words.Text("help.aDialSPlungerPushed"), words.Text("help.distancesAreTakenFromThe"),
				words.Text("help.offsetVMovableShaftHigh"), words.Text("help.shimsAddTakeOutTurn")))
		}},
		{words.Text("help.waysOfMeasuring"), func() HTML {
			return Each(s.ways, func(_ int, w [2]string) HTML {
				return If(w[0] != "", Join(El("h4", Attr{}, Text(w[1])), s.figure(w[0])))
			})
		}},
		{words.Text("help.verdicts"), helpTexts(words.Text("help.insideAndOutsideAreSaid"))},
		{words.Text("help.cautions"), func() HTML {
			return El("ul", Attr{}, Each(tables.Cautions(), func(_ int, c tables.Caution) HTML {
				text := c.Text
				if c.Source.Text != "" {
					text += " (" + c.Source.Text + ")"
				}
				return El("li", Attr{}, Text(text))
			}))
		}},
		{words.Text("help.keys"), helpKeys},
		{words.Text("help.saving"), helpTexts(words.Text("help.savePageWritesThisPage"), words.Text("help.aFileThatIsOlder"))},
		{words.Text("help.workbooksAndLists"), helpTexts(words.Text("help.openTakesWorkbooksXlsxXlsm"), words.Text("help.saveWorkbookWritesAFresh"))},
	}
	last := ""
	for _, c := range job.Columns() {
		if name := c.Sheet.String(); name != last {
			last = name
			list = append(list, helpSection{words.Text("help.columnsOfTheSheet", name), func() HTML { return helpColumns(c.Sheet) }})
		}
	}
	return append(list,
		helpSection{words.Text("help.whatThisWasCheckedAgainst"), func() HTML { return s.evidence() }},
		helpSection{words.Text("help.aboutThisPage"), func() HTML {
			notices := s.texts[:min(len(s.texts), 2)]
			return Join(P("", words.Text("help.shimsheetTheGridIsDrawn", s.host.Version())), El("details", Attr{}, El("summary", Attr{}, Text(words.Text("help.licencesInFull"))),
				Each(notices, func(_ int, t string) HTML { return El("pre", Attr{}, Text(t)) })))
		}})
}

func (s *Help) figure(what string) HTML { return El("div", Class("drawing"), s.host.Figure(what, 620)) }

// helpKeys is what each key does.
func helpKeys() HTML {
	keys := [...][2]string{
		{words.Text("help.arrows"), words.Text("help.moveWithCtrlToThe")}, {words.Text("help.enterF2"), words.Text("help.openTheCellTypingReplaces")},
		{words.Text("help.enterTab"), words.Text("help.takeTheTextAndGo")}, {words.Text("help.upAndDownInAn"), words.Text("help.walkThroughTheWordsIt")},
		{words.Text("help.escape"), words.Text("help.leaveTheCellAsIt")}, {words.Text("help.delete"), words.Text("help.emptyTheSelectedCells")},
		{words.Text("help.ctrlCCtrlXCtrl"), words.Text("help.copyCutPasteABlock")}, {words.Text("help.ctrlZCtrlY"), words.Text("help.undoRedo")},
		{words.Text("help.ctrlAShiftSpaceCtrl"), words.Text("help.selectAllTheRowsThe")}, {words.Text("help.ctrlDCtrlR"), words.Text("help.fillTheSelectionDownOr")},
		{words.Text("help.ctrlShiftD"), words.Text("help.fillDownAsASeries")}, {words.Text("help.altUpAltDown"), words.Text("help.moveTheSelectedRows")},
		{words.Text("help.ctrlF"), words.Text("help.findAndReplace")}, {words.Text("help.homeEndPageUpPage"), words.Text("help.withCtrlFirstAndLast")},
		{words.Text("help.ctrlS"), words.Text("help.saveThePage")}, {words.Text("help.ctrlP"), words.Text("help.printTheList")},
		{words.Text("help.f6"), words.Text("help.goRoundSheetPanelTabs")}, {words.Text("help.f1"), words.Text("help.thisHelp")},
	}
	return El("table", Attr{}, El("tbody", Attr{}, Each(keys[:], func(_ int, k [2]string) HTML {
		names := Each(strings.Split(k[0], ", "), func(i int, name string) HTML {
			return Join(If(i > 0, Text(", ")), El("kbd", Attr{}, Text(name)))
		})
		return El("tr", Attr{}, El("td", Attr{}, names), El("td", Attr{}, Text(k[1])))
	})))
}

// helpTable is a table with a head.
func helpTable(class Attr, heads []string, rows [][]string) HTML {
	return listTable(class, heads, Each(rows, func(_ int, r []string) HTML {
		return El("tr", Attr{}, Each(r, func(_ int, t string) HTML { return td(t) }))
	}))
}

// helpColumns are the columns of a sheet as the program reads them.
func helpColumns(k job.SheetKind) HTML {
	var rows [][]string
	for _, c := range job.Columns() {
		if c.Sheet != k {
			continue
		}
		unit := ""
		if m, in := c.Unit(false), c.Unit(true); m != 0 {
			if unit = m.String(); in != m {
				unit += ", " + in.String()
			}
		}
		means := c.Help()
		if len(c.Choices) > 0 {
			means += words.Text("help.oneOf", strings.Join(c.Choices, ", "))
		}
		if c.Result {
			means += words.Text("help.workedOut")
		}
		also := c.Spellings()[1:]
		rows = append(rows, []string{c.Name, unit, means, strings.Join(also[:min(len(also), 4)], ", ")})
	}
	return helpTable(Class("cols"), []string{words.Text("help.column"), words.Text("help.unitOfABareNumber"), words.Text("help.meaning"), words.Text("help.alsoSpelt")}, rows)
}

// evidence is the table of what was checked against, as EVIDENCE.md has it: a Markdown table.
func (s *Help) evidence() HTML {
	if len(s.texts) < 3 {
		return HTML{}
	}
	var out []HTML
	var rows [][]string
	flush := func() {
		if len(rows) > 1 {
			out = append(out, helpTable(Attr{}, rows[0], rows[min(2, len(rows)):]))
		}
		rows = nil
	}
	marks := strings.NewReplacer("`", "", "*", "")
	for line := range strings.SplitSeq(s.texts[2], "\n") {
		if strings.HasPrefix(line, "|") {
			cells := strings.Split(line, "|")
			cells = cells[1 : len(cells)-1]
			for k := range cells {
				cells[k] = marks.Replace(strings.TrimSpace(cells[k]))
			}
			rows = append(rows, cells)
			continue
		}
		flush()
		if strings.TrimSpace(line) != "" {
			out = append(out, P("", strings.TrimSpace(strings.ReplaceAll(marks.Replace(line), "#", ""))))
		}
	}
	flush()
	return Join(out...)
}
