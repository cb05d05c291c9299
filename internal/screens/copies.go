package screens

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/words"
)

// CopyFacts are what is known of a safety copy. Times are as people write them, "" none.
type CopyFacts struct {
	Name, Changed, Began, From, Opened, KeptUntil string
	Typing                                        string // what was being typed, and where
	Revision, Changes, Rows                       int
	Elsewhere                                     bool // another tab works on it
	Here                                          bool // it is that of the job on the page
	OfThisJob                                     bool
	Handed                                        bool // a file has all of it
	Aside                                         bool // it was not chosen
	Broken                                        bool // its end is missing
}

// CopyDifferences are what sets two states of a job apart, counted, and the first of them: sheet, row in each ("" none), machine, column ("" the whole row), text in each.
type CopyDifferences struct {
	Changed, Cells, OnlyA, OnlyB int
	List                         [][]string
}

// told says who made a copy, when, and how far a file has it.
func (c *CopyFacts) told() string {
	who := words.Text("copies.inAnEarlierSitting")
	switch {
	case c.Elsewhere:
		who = words.Text("copies.inAnotherTab")
	case c.Here:
		who = words.Text("copies.inThisTab")
	}
	out := []string{words.Text("copies.changedFrom", c.Changed, words.Count("copies.changes", c.Changes), who, c.Began)}
	if c.From == "" {
		out = append(out, words.Text("copies.begunWithoutAFile"))
	} else {
		saved := ""
		if c.Opened != "" {
			saved = words.Text("copies.savedThen", c.Opened)
		}
		out = append(out, words.Text("copies.begunWith", c.From, saved))
	}
	if c.Handed {
		out = append(out, words.Text("copies.itWasHanded"))
	} else {
		out = append(out, words.Text("copies.noFileHasIt"))
	}
	if c.Typing != "" {
		out = append(out, words.Text("frame.wasTyped", c.Typing))
	}
	if c.Aside {
		out = append(out, words.Text("copies.keptUntil", c.KeptUntil))
	}
	return strings.Join(out, " ")
}

// html is what sets two states apart, counted and row by row; a and b are what the two are called ("in the file").
func (d *CopyDifferences) html(a, b string) (counted, list HTML) {
	var said []string
	if texts := words.Count("copies.texts", d.Cells); d.Changed == 1 {
		said = append(said, words.Text("copies.rowsDiffer.one", "1", texts))
	} else if d.Changed > 0 {
		said = append(said, words.Text("copies.rowsDiffer.many", words.Number(d.Changed), texts))
	}
	only := func(n int, where string) {
		if n == 1 {
			said = append(said, words.Text("copies.rowsOnly.one", "1", where))
		} else if n > 0 {
			said = append(said, words.Text("copies.rowsOnly.many", words.Number(n), where))
		}
	}
	only(d.OnlyA, a)
	only(d.OnlyB, b)
	if len(said) == 0 {
		return P("", words.Text("copies.noDifference")), HTML{}
	}
	or := func(s, other string) string {
		if s == "" {
			return other
		}
		return s
	}
	cell := func(there, s string) string {
		if there == "" {
			return words.Text("copies.notThere")
		}
		return or(s, words.Text("copies.blank"))
	}
	rows := Each(d.List, func(_ int, x []string) HTML {
		sheet, rowA, rowB, name, column := x[0], x[1], x[2], x[3], x[4]
		return El("tr", Attr{}, Each([]string{sheet, or(rowA, rowB), name, or(column, words.Text("copies.theWholeRow")), cell(rowA, x[5]), cell(rowB, x[6])},
			func(_ int, s string) HTML { return El("td", Attr{}, Text(s)) }))
	})
	heads := []string{words.Text("copies.sheet"), words.Text("copies.row"), words.Text("copies.name"), words.Text("copies.column"), upper(a), upper(b)}
	byRow := words.Text("copies.rowByRow")
	list = El("details", Flag("open", len(d.List) <= 12), El("summary", Attr{}, Text(byRow)),
		El("div", Attrs(Class("scroll"), A("tabindex", "0"), Role("region"), A("aria-label", byRow)),
			El("table", Class("list"), El("thead", Attr{}, El("tr", Attr{}, Each(heads, func(_ int, s string) HTML { return El("th", A("scope", "col"), Text(s)) }))), El("tbody", Attr{}, rows))),
		If(len(d.List) < d.Cells+d.OnlyA+d.OnlyB, P("quiet", words.Text("copies.theFirstAreShown", words.Number(len(d.List))))))
	return P("differ", strings.Join(said, "; ")+"."), list
}

// A CopyChoice is one of the states of a job to go on with.
type CopyChoice struct {
	CopyFacts
	CopyDifferences // from the file
}

// ChooseCopy asks which of several states of a job to go on with: that of the file which was opened, or one that this browser holds. The buttons send "go" with the number of the copy, −1 the
// file.
func ChooseCopy(file string, job CopyFacts, saved string, others []CopyChoice) (title string, body HTML) {
	title = words.Text("copies.thereAreSeveralStates")
	if job.Name != "" {
		title = words.Text("copies.thereAreSeveral", job.Name)
	}
	card := func(i int, title, said string, button string, counted, list HTML) HTML {
		return El("section", Class("state"), El("h3", Attr{}, Text(title)), P("", said), counted,
			El("p", Attr{}, Button(On("go", strconv.Itoa(i)), button)), list)
	}
	said := words.Count("copies.rows", job.Rows)
	if saved != "" {
		said = words.Text("copies.revisionSaved", words.Number(job.Revision), saved, said)
	}
	return title, Join(P("lead", words.Text("copies.whatYouDoNotChoose", words.Count("copies.states", len(others)))),
		card(-1, words.Text("copies.theFile", file), said, words.Text("copies.goOnWithTheFile"), HTML{}, HTML{}),
		Each(others, func(i int, o CopyChoice) HTML {
			title, button, where := words.Text("copies.theCopy", o.CopyFacts.Changed), words.Text("copies.goOnWithTheCopy"), words.Text("copies.inTheCopy")
			if o.Elsewhere {
				title, button, where = words.Text("copies.theOtherTab", o.CopyFacts.Changed), words.Text("copies.takeTheOther"), words.Text("copies.inTheOtherTab")
			}
			said := o.told()
			if o.Broken {
				said += words.Text("copies.itsEndIsMissing")
			}
			counted, list := o.html(words.Text("copies.inTheFile"), where)
			return card(i, title, said, button, counted, list)
		}))
}

// Label is how a list of copies calls one.
func (c *CopyFacts) Label() string {
	name := c.Name
	if name == "" {
		name = words.Text("frame.jobWithoutAName")
	}
	if c.Revision > 0 {
		name += words.Text("frame.revision", words.Number(c.Revision))
	}
	return name + ", " + words.Count("copies.rows", c.Rows)
}

// ListCopies is the copies that there are with what can be done with each: "take", "compare" and "forget" with the copy's number. What a comparison comes to goes into the element copy-N.
// at is the number of the first.
func ListCopies(list []CopyFacts, at int) HTML {
	return El("ul", Class("copies"), Each(list, func(i int, c CopyFacts) HTML {
		n, label := strconv.Itoa(at+i), c.Label()
		return El("li", Attr{}, El("b", Attr{}, Text(label)), P("", c.told()),
			El("p", Attr{}, Button(Attrs(A("aria-label", words.Text("copies.openThis", label)), On("take", n)), words.Text("copies.open")), Text(" "),
				If(c.OfThisJob, Button(On("compare", n), words.Text("copies.differences"))), Text(" "),
				If(!c.Elsewhere, Button(Attrs(A("aria-label", words.Text("copies.forgetThis", label)), On("forget", n)), words.Text("copies.forget")))),
			El("div", ID("copy-"+n)))
	}))
}

// AllCopies is the dialog of the copies: those of the job on the page first, as they must come.
func AllCopies(list []CopyFacts) HTML {
	own := slices.IndexFunc(list, func(c CopyFacts) bool { return !c.OfThisJob })
	if own < 0 {
		own = len(list)
	}
	lead := words.Text("copies.thereIsNone")
	if len(list) > 0 {
		lead = words.Text("copies.keptInThisBrowser")
	}
	part := func(title string, list []CopyFacts, at int) HTML {
		return If(len(list) > 0, Join(El("h3", Attr{}, Text(title)), ListCopies(list, at)))
	}
	return Join(P("lead", lead), part(words.Text("copies.ofThisJob"), list[:own], 0), part(words.Text("copies.ofOtherJobs"), list[own:], own))
}

// Compared is what a copy in the list differs in from the job on the page; nil: it cannot be read.
func Compared(d *CopyDifferences) HTML {
	if d == nil {
		return P("", words.Text("copies.cannotBeRead"))
	}
	counted, list := d.html(words.Text("copies.onThePage"), words.Text("copies.inTheCopy"))
	return Join(counted, list)
}
