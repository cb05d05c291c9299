package screens

import (
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// ListPaper is the list of machines on paper, a line a machine: how each is judged and stands, what is done at its feet, and what that leaves. What it says of a machine's feet is what its own paper,
// its card and the sheet say. Sixty machines go on two pages of A4 across. job is the name of the job, printed the time.
func ListPaper(ev *sentences.Teller, rows []int, j, printed string) HTML {
	if j == "" {
		j = words.Text("listPaper.noName")
	}
	mm, slope, pack := job.QThickness.Unit(ev.ShowsInch()).String(), job.QSlope.Unit(ev.ShowsInch()).String(), job.QThickness.Unit(ev.Inch()).String()
	further := false
	for _, i := range rows {
		further = further || len(ev.Row(i).Further) > 0
	}
	head := []string{words.Text("listPaper.row"), words.Text("listPaper.machine"), words.Text("listPaper.verdict"), words.Text("listPaper.offset", mm), words.Text("listPaper.slope", slope), words.Text("listPaper.frontPack", pack), words.Text("listPaper.rearPack", pack)}
	if further {
		head = append(head, words.Text("listPaper.furtherPack", pack))
	}
	head = append(head, words.Text("listPaper.frontPush", mm), words.Text("listPaper.rearPush", mm))
	if further {
		head = append(head, words.Text("listPaper.furtherPush", mm))
	}
	head = append(head, words.Text("listPaper.after"))
	meta := []string{words.Text("listPaper.is")}
	for _, k := range [...][2]string{{"site", "Site"}, {"date", "Date"}, {"people", "People"}} {
		if s := ev.Setting(k[0]); s != "" {
			meta = append(meta, k[1]+": "+s)
		}
	}
	if rev := ev.Revision(); rev != "" {
		meta = append(meta, rev)
	} else {
		meta = append(meta, words.Text("listPaper.neverSaved"))
	}
	meta = append(meta, words.Text("listPaper.printed", printed), words.Text("listPaper.signs"))
	meta = append(meta, ev.PackNotes()...)
	return El("section", Class("listpaper"),
		El("h1", Attr{}, Text(j)),
		El("div", Class("meta"), Each(meta, func(k int, s string) HTML {
			if k == 0 {
				return El("b", Attr{}, Text(s))
			}
			return El("span", Attr{}, Text(s))
		})),
		El("table", Attr{},
			El("thead", Attr{}, El("tr", Attr{}, Each(head, func(_ int, s string) HTML { return El("th", A("scope", "col"), Text(s)) }))),
			El("tbody", Attr{}, Each(rows, func(_, i int) HTML { return listLine(ev, i, further) }))),
		El("div", Class("tail"), El("b", Attr{}, Text(words.Text("listPaper.cautions"))),
			El("ul", Attr{}, Each(tables.Cautions(), func(_ int, c tables.Caution) HTML { return El("li", Attr{}, Text(cautionWords(c))) })),
			El("div", Class("sign"), Each([]string{words.Text("listPaper.aligned"), words.Text("listPaper.again"), words.Text("listPaper.accepted")}, func(_ int, s string) HTML { return El("div", Attr{}, Text(s)) }))))
}

// listLine is the line of one machine.
func listLine(ev *sentences.Teller, i int, further bool) HTML {
	r := ev.Row(i)
	verdict := r.Verdict.String()
	if r.HasLine() && r.Verdict != calc.NotJudged {
		verdict += " " + string(results.Text(ev, i, "share_of_limit")) + " %"
	}
	cells := []HTML{
		El("td", Attr{}, Text(strconv.Itoa(r.Row))),
		El("td", Attr{}, Text(r.Name)),
		El("td", Class("v v"+verdictMark(r.Verdict)), Text(verdict)),
	}
	span := 7 // of what follows
	if further {
		span = 9
	}
	t := ev.Todo(i)
	nobr := func(list ...string) HTML {
		return Each(list, func(k int, s string) HTML {
			return Join(If(k > 0, Text(" ")), El("span", Class("nobr"), Text(s)))
		})
	}
	wide := func(n int, text string) HTML { return El("td", A("colspan", strconv.Itoa(n)), Text(text)) }
	why := string(ev.AppendWhy(nil, r))
	if !r.HasLine() {
		return El("tr", Attr{}, append(cells, wide(span, why))...)
	}
	offset, slope := ev.StandsShort(r)
	cells = append(cells, El("td", Attr{}, nobr(offset[0]+",", offset[1])), El("td", Attr{}, nobr(slope[0]+",", slope[1])))
	span -= 2
	pairs := []int{r.Front, r.Rear}
	if t.Stays && len(t.Feet) == 0 {
		return El("tr", Attr{}, append(cells, wide(span, words.Text("listPaper.stays")))...)
	}
	if len(t.Bolts) > 0 {
		list := []string{t.Slide + ";"}
		for k := range t.Bolts {
			list = append(list, t.Bolts[k].Name+": "+strings.Join(t.Bolts[k].In, " + ")+";")
		}
		return El("tr", Attr{}, append(cells, El("td", A("colspan", strconv.Itoa(span-1)), nobr(list...)), El("td", Attr{}, nobr(results.Text(ev, i, "after_verdict"))))...)
	}
	if t.Missing != "" {
		return El("tr", Attr{}, append(cells, wide(span, why))...)
	}
	told := func(key string) HTML {
		parts := strings.SplitAfter(results.Text(ev, i, key), ";")
		for k := range parts {
			parts[k] = strings.TrimSpace(parts[k])
		}
		return El("td", Attr{}, nobr(parts...))
	}
	cells = append(cells, told("front_pack"), told("rear_pack"))
	if further {
		cells = append(cells, told("further_packs"))
	}
	push := func(list []int) HTML {
		var said []string
		for _, k := range list {
			for _, p := range t.Pushes {
				switch {
				case p.Pair != k:
				case p.Towards == 0:
					said = append(said, words.Text("listPaper.leave"))
				default:
					said = append(said, strings.TrimPrefix(p.Side, "the ")+" "+p.Number)
				}
			}
		}
		if t.Stays {
			said = []string{words.Text("listPaper.stays")}
		}
		return El("td", Attr{}, nobr(said...))
	}
	for _, k := range pairs {
		cells = append(cells, push([]int{k}))
	}
	if further {
		if len(r.Further) > 0 {
			cells = append(cells, push(r.Further))
		} else {
			cells = append(cells, El("td", Attr{}))
		}
	}
	return El("tr", Attr{}, append(cells, El("td", Attr{}, nobr(results.Text(ev, i, "after_verdict"))))...)
}

// verdictMark is the number by which style and tests know a verdict.
func verdictMark(v calc.Verdict) string {
	switch v {
	case calc.Inside:
		return "1"
	case calc.Outside:
		return "2"
	case calc.TooClose:
		return "3"
	}
	return "0"
}
