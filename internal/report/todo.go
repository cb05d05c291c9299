package report

import (
	"math"
	"strings"

	"shimsheet/internal/sentences"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// WhatToDo appends what is done at the feet of row's machine as a picture that is legible at arm's length: the feet seen from above, at each the plates that come
// out (dashed) and go in, across the machine an arrow for each push with its amount and the name of the side. It says what [sentences.Teller.Todo] says.
//
// It is drawn as whoever pushes stands: behind the movable machine, looking at the coupling, which is at the top; 3 o'clock is to the right. Machine and feet are not to
// scale. A machine on a flange shows its bolt circle with the pieces of each bolt below.
func WhatToDo(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	d, ok := newCoupling(ev, row, opt)
	if !ok {
		return noCoupling(dst, d.pen, words.DrawingNoCoupling.String())
	}
	t := &todoPlan{coupling: d, todo: ev.Todo(row), size: 1}
	switch {
	case d.w >= 640:
		t.size = 1.35
	case d.w >= 480:
		t.size = 1.15
	}
	title := words.DrawingTodo.Say(d.r.Name)
	switch {
	case t.todo.Stays:
		title = words.DrawingTodoStays.Say(d.r.Name)
	case t.todo.OneLift:
		title += words.DrawingInOneLift.String()
	}
	if t.todo.Missing != "" {
		return noCoupling(dst, d.pen, strings.TrimSuffix(t.todo.Missing, ".")+".")
	}
	y := 4.0
	if !opt.Bare {
		y = d.wrapped(fontHead, 10, 20, d.w-20, title)
	}
	if len(t.todo.Bolts) > 0 {
		y = t.flange(y + 8)
	} else {
		y = t.feet(y)
	}
	return d.finish(dst, y+6, title, t.words())
}

// A todoPlan is what the picture of what to do is made from.
type todoPlan struct {
	*coupling
	todo *sentences.Todo
	size float64 // of letters and plates, times those of a phone
}

func (t *todoPlan) font(class string, px float64, bold bool) font {
	return font{class, math.Round(px * t.size), bold}
}

var (
	inkPlate = ink{"d-do", strokeOnly + `"2"`}
	inkOut   = ink{"d-raw", strokeOnly + `"1.6" stroke-dasharray="5 4"`}
	inkPush  = ink{"d-do", strokeOnly + `"4"`}
)

// A todoRow is the feet that stand at one place along the machine.
type todoRow struct {
	station     float64
	name        string
	pair        int
	left, right []*sentences.FootTodo
	push        *sentences.Push
}

// rows sorts the feet by where they stand along; those whose side nobody knows come back as rest.
func (t *todoPlan) rows() (list []todoRow, rest []*sentences.FootTodo) {
	at := func(pair int, station float64) *todoRow {
		for k := range list {
			if r := &list[k]; pair >= 0 && r.pair == pair || math.Abs(r.station-station) < 1 {
				return r
			}
		}
		list = append(list, todoRow{station: station, pair: pair})
		return &list[len(list)-1]
	}
	for k := range t.todo.Pushes {
		p := &t.todo.Pushes[k]
		r := at(p.Pair, p.Station)
		r.push, r.name = p, p.Word
	}
	for k := range t.todo.Feet {
		f := &t.todo.Feet[k]
		if f.Side == 0 || f.Pair < 0 && !known(f.Station) {
			rest = append(rest, f)
			continue
		}
		r := at(f.Pair, f.Station)
		if f.Side < 0 {
			r.left = append(r.left, f)
		} else {
			r.right = append(r.right, f)
		}
	}
	sorting.Stable(list, func(a, b todoRow) int {
		switch {
		case a.station < b.station:
			return -1
		case a.station > b.station:
			return 1
		}
		return 0
	})
	return list, rest
}

// feet appends the plan.
func (t *todoPlan) feet(y float64) float64 {
	d, u := t.coupling, t.size
	soft, small := t.font("d-soft", 11, false), t.font("d-soft", 11, false)
	list, rest := t.rows()
	body := math.Round(max(112*u, d.w*0.3))
	cx := d.w / 2
	l, r := cx-body/2, cx+body/2
	footW, footH := 18*u, 14*u
	near := footW/2 + 8  // of the words from the edge of the machine
	cell := l - near - 6 // room for the words of one side
	if !d.opt.Bare {
		y = d.wrapped(soft, 10, y, d.w-20, words.DrawingSeenFromAbove.String())
	} else {
		y += 8
	}
	// The names of both sides, then the coupling in the middle between them.
	name := t.font("d-head", 12, true)
	side := func(v, x float64, anchor int) float64 {
		at, sy := x, y+6
		for s := d.sideName(v); s != ""; {
			part := fit(s, name, cell)
			d.text(name, anchor, at, sy, cell, part)
			s, sy = strings.TrimLeft(s[len(part):], " "), sy+name.size+3
		}
		return sy
	}
	top := max(side(-1, l-near, end), side(1, r+near, start))
	stat := d.m.Stationary
	if stat == "" {
		stat = words.DrawingStationaryMachine.String()
	}
	d.text(small, middle, cx, y+6, body-8, within(stat, body-8+width(words.DrawingIsMovable.String(), fontSoft)))
	hy := y + 14
	d.rect(inkBody, cx-17*u, hy, 34*u, 7*u)
	d.rect(inkBody, cx-17*u, hy+9*u, 34*u, 7*u)
	d.line(inkDatum, cx, hy-4, cx, hy+26*u)
	y = max(top, hy+26*u) + 6

	from := y - 6*u
	for k := range list {
		o := &list[k]
		low := y
		for i, feet := range [2][]*sentences.FootTodo{o.left, o.right} {
			x, anchor, mark := l-near, end, l
			if i == 1 {
				x, anchor, mark = r+near, start, r
			}
			fy := y
			for _, f := range feet {
				d.raw(`<g data-foot="`)
				d.words(f.Name)
				d.raw("\">\n")
				d.rect(inkBody, mark-footW/2, fy, footW, footH)
				fy = t.foot(f, x, fy, cell, anchor) + 10
				d.raw("</g>\n")
			}
			low = max(low, fy-10)
		}
		if o.push != nil {
			low = max(low, t.push(o.push, cx, y, body))
		}
		y = low + 20*u
	}
	y -= 12 * u
	d.rect(inkBody, l, from, body, y-from)
	y += 18 * u
	for _, f := range rest {
		y = d.wrapped(t.font("d-num", 13, true), 10, y, d.w-20, f.Name+": "+footWords(f))
	}
	return t.foots(t.others(y))
}

// others appends what a plan does at the other machine.
func (t *todoPlan) others(y float64) float64 {
	for _, s := range t.todo.Others {
		y = t.wrapped(t.font("d-num", 13, true), 10, y, t.w-20, s)
	}
	return y
}

// foots appends what the plates are and how far apart the feet stand.
func (t *todoPlan) foots(y float64) float64 {
	d := t.coupling
	soft := t.font("d-soft", 11, false)
	plates := words.DrawingPlates.Say(d.pu)
	if t.todo.Stays {
		plates += words.DrawingOtherwiseLeft.String()
	}
	y = d.wrapped(soft, 10, y, d.w-20, plates)
	if known(d.m.ToFront) && known(d.m.FrontToRear) && !d.opt.Bare {
		s := words.DrawingFeetDistances.Say(d.dist(d.m.ToFront), d.du, d.dist(d.m.FrontToRear))
		y = d.wrapped(soft, 10, y, d.w-20, s)
	}
	return y - 10
}

// foot appends the name of a foot and its plates, and returns y below them.
func (t *todoPlan) foot(f *sentences.FootTodo, x, y, room float64, anchor int) float64 {
	d, u := t.coupling, t.size
	name, word, num := t.font("d-head", 13, true), t.font("d-text", 12, false), t.font("d-num", 19, true)
	y = t.lines(name, anchor, x, y+name.size-1, room, f.Name)
	if f.Nothing() {
		y = t.lines(word, anchor, x, y, room, words.DrawingLeaveAsIs.String())
	}
	stack := func(what string, list []string, k ink, x, y, room float64) float64 {
		if len(list) == 0 {
			return y
		}
		y = t.lines(word, anchor, x, y, room, what)
		y -= word.size - 2
		wide := 0.0
		for _, s := range list {
			wide = max(wide, width(s, num)+10*u)
		}
		wide = min(max(wide, 62*u), room)
		high := num.size + 6*u
		for _, s := range list {
			px := x
			if anchor == end {
				px = x - wide
			}
			face := num
			if width(s, face) > wide-4 {
				face = t.font("d-num", 13, true)
			}
			d.rect(k, px+1, y, wide-2, high)
			d.text(face, middle, px+wide/2, y+high-5*u, wide-4, s)
			y += high + 3*u
		}
		return y + word.size + 4*u
	}
	in := words.DrawingPutInWord.String()
	if f.Exact {
		in = words.DrawingAddPieces.String()
	}
	half := (room - 10) / 2
	if len(f.Out) > 0 && len(f.In) > 0 && half >= 62*u {
		second := x + half + 10
		if anchor == end {
			second = x - half - 10
		}
		y = max(stack(words.DrawingTakeOutPieces.String(), f.Out, inkOut, second, y, half), stack(in, f.In, inkPlate, x, y, half))
	} else {
		y = stack(words.DrawingTakeOutPieces.String(), f.Out, inkOut, x, y, room)
		y = stack(in, f.In, inkPlate, x, y, room)
	}
	for _, s := range f.Notes {
		y = t.lines(word, anchor, x, y, room, s)
	}
	return y - word.size
}

// lines appends a text over as many lines as it takes, y being its base line, and returns the next base line.
func (t *todoPlan) lines(f font, anchor int, x, y, room float64, s string) float64 {
	for s != "" {
		part := fit(s, f, room)
		t.text(f, anchor, x, y, room, part)
		s, y = strings.TrimLeft(s[len(part):], " "), y+f.size+3
	}
	return y
}

// push appends the move of a pair of feet as an arrow across the machine, and returns y below it.
func (t *todoPlan) push(p *sentences.Push, cx, y, body float64) float64 {
	d, u := t.coupling, t.size
	word, num := t.font("d-text", 12, false), t.font("d-num", 19, true)
	room := body - 14
	centred := func(f font, y float64, s string) float64 { return t.lines(f, middle, cx, y, room, s) }
	d.raw(`<g data-push="`)
	d.words(p.Word)
	d.raw("\">\n")
	defer d.raw("</g>\n")
	if p.Towards == 0 {
		y = centred(word, y+word.size+2, words.DrawingFeetColon.Say(p.Word))
		return centred(word, y, words.DrawingLeaveSideways.String()) - word.size
	}
	y = centred(word, y+word.size+2, words.DrawingPushFeet.Say(p.Word))
	y = centred(num, y+6*u, p.Amount)
	long := body/2 - 12
	a, b := cx-float64(p.Towards)*long, cx+float64(p.Towards)*long
	y -= num.size - 8*u
	d.line(inkPush, a, y, b-float64(p.Towards)*10*u, y)
	d.tip(inkDoHead, a, y, b, y, 16*u)
	y += word.size + 8*u
	y = centred(word, y, words.DrawingTowardsWord.String())
	return centred(t.font("d-num", 13, true), y+1, p.Side) - word.size
}

// flange appends the bolt circle and the pieces at each bolt.
func (t *todoPlan) flange(y float64) float64 {
	d := t.coupling
	d.m.Input.Feet = nil
	d.stations()
	d.scales(d.r.HasLine())
	y = d.boltCircle(y+8) + 20
	columns, low := 1, y
	if d.w >= 440 {
		columns = 2
	}
	room := d.w / float64(columns)
	each := (len(t.todo.Bolts) + columns - 1) / columns
	for c := range columns {
		at := y
		for k := c * each; k < min((c+1)*each, len(t.todo.Bolts)); k++ {
			f := &t.todo.Bolts[k]
			d.raw(`<g data-foot="`)
			d.words(f.Name)
			d.raw("\">\n")
			at = d.wrapped(t.font("d-text", 13, false), 10+room*float64(c), at, room-20, f.Name+": "+footWords(f)+unitBehind(f, d.pu))
			d.raw("</g>\n")
		}
		low = max(low, at)
	}
	return t.others(low)
}

func unitBehind(f *sentences.FootTodo, unit string) string {
	if f.Exact || f.Nothing() {
		return ""
	}
	return " " + unit
}

// footWords says what is done at a foot on one line.
func footWords(f *sentences.FootTodo) string {
	var parts []string
	if len(f.Out) > 0 {
		parts = append(parts, words.DrawingTakeOut.Say(strings.Join(f.Out, " + ")))
	}
	if len(f.In) > 0 {
		parts = append(parts, words.DrawingPutIn.Say(strings.Join(f.In, " + ")))
	}
	if len(parts) == 0 {
		parts = append(parts, words.DrawingLeaveAsIs.String())
	}
	return strings.Join(append(parts, f.Notes...), ", ")
}

// words says the whole picture.
func (t *todoPlan) words() string {
	var list []string
	for _, feet := range [2][]sentences.FootTodo{t.todo.Feet, t.todo.Bolts} {
		for k := range feet {
			list = append(list, feet[k].Name+": "+footWords(&feet[k])+unitBehind(&feet[k], t.pu)+".")
		}
	}
	for _, p := range t.todo.Pushes {
		if p.Towards == 0 {
			list = append(list, words.DrawingLeaveFeet.Say(p.Word))
		} else {
			list = append(list, words.DrawingPushFeetTowards.Say(p.Word, p.Amount, p.Side))
		}
	}
	list = append(list, t.todo.Others...)
	if t.todo.Slide != "" {
		list = append(list, t.todo.Slide+".")
	}
	return strings.Join(list, " ")
}
