package report

import (
	"math"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

func clockFigure(dst []byte, side3, side9 string, opt Options) []byte {
	p := newPen(opt)
	title := words.DrawingClock.String()
	y := p.wrapped(fontHead, 10, 20, p.w-20, title)
	names := [2]string{words.DrawingClock3.String(), words.DrawingClock9.String()}
	said := words.DrawingClockAbout.String()
	for i, s := range [...]string{side3, side9} {
		if s = strings.TrimSpace(s); s != "" {
			said += words.DrawingClockSide.Say(names[i], s)
			names[i] += ": " + s
		}
	}
	y = p.wrapped(fontText, 10, y, p.w-20, said)

	side := p.w >= 640 // both parts side by side
	half := p.w
	if side {
		half = p.w / 2
	}
	// From above.
	y0 := y + 6
	p.text(fontSub, start, 10, y0+10, half-20, words.DrawingFromAbove.String())
	k := min((half-90)/320, 1.25)
	cy := y0 + 88
	x := func(v float64) float64 { return 10 + v*k }
	p.text(fontSoft, middle, x(190), cy-54, half-40, names[0])
	p.text(fontSoft, middle, x(190), cy+64, half-40, names[1])
	p.line(inkDatum, x(0), cy, x(306), cy)
	p.rect(inkBody, x(4), cy-36, 86*k, 72)
	p.rect(inkBody, x(170), cy-36, 130*k, 72)
	p.text(fontSoft, middle, x(47), cy-12, 84*k, words.DrawingStationary.String())
	p.text(fontSoft, middle, x(235), cy-12, 126*k, words.DrawingMovableWord.String())
	p.rect(inkBody, x(112), cy-14, 16*k, 28)
	p.rect(inkBody, x(132), cy-14, 16*k, 28)
	p.text(fontSoft, middle, x(130), cy+30, 0, words.DrawingCoupling.String())
	px := x(306) + 26 // the person: a head, shoulders across the way they look, and the look
	p.circle(inkBody, px, cy, 7)
	p.path(inkBody, false, px-2, cy-18, px+8, cy-14, px+8, cy+14, px-2, cy+18)
	p.arrow(inkDo, inkDoHead, px-11, cy, x(250), cy, 8, false)
	p.text(fontSoft, middle, px+10, cy+34, 0, words.DrawingYou.String())

	// As it looks from there.
	ox, oy := 0.0, cy+96
	if side {
		ox, oy = half, y0
	}
	p.text(fontSub, start, ox+10, oy+10, half-20, words.DrawingWhatYouSee.String())
	const r = 50.0
	cx, my := ox+half/2, oy+98
	p.circle(inkBody, cx, my, r)
	p.circle(inkBody, cx, my, r*0.3)
	p.line(inkDatum, cx-r-8, my, cx+r+8, my)
	p.line(inkDatum, cx, my-r-8, cx, my+r+8)
	p.text(fontNum, middle, cx, my-r-14, 0, words.DrawingTwelveUp.String())
	p.text(fontNum, middle, cx, my+r+22, 0, "6")
	room := half/2 - r - 30
	for i, s := range names {
		yy := my - 2.0
		parts := []string{[...]string{"3", "9"}[i], ""}
		if _, name, ok := strings.Cut(s, ": "); ok {
			parts[1] = name
		}
		anchor, tx := start, cx+r+14
		if i == 1 {
			anchor, tx = end, cx-r-14
		}
		p.text(fontNum, anchor, tx, yy, room, parts[0])
		p.text(fontSoft, anchor, tx, yy+15, room, parts[1])
	}
	// The way angles grow.
	arc := make([]float64, 0, 26)
	for a := 20.0; a <= 70; a += 5 {
		s, c := math.Sincos(a * math.Pi / 180)
		arc = append(arc, cx+r*0.72*s, my-r*0.72*c)
	}
	p.path(inkDo, false, arc...)
	n := len(arc)
	p.tip(inkDoHead, arc[n-4], arc[n-3], arc[n-2], arc[n-1], 7)
	y = my + r + 40
	y = p.wrapped(fontSoft, 10, y, p.w-20, words.DrawingAngles.String())
	return p.finish(dst, y, title, said)
}

// columnName is the printed name of a column, so that the figures say what the sheet says.
func columnName(key string) string {
	for _, c := range job.Columns() {
		if c.Sheet == job.MachinesSheet && c.Key == key {
			return c.Name
		}
	}
	return key
}

// A scene is a sketch of one coupling from the side. Its own units are 340 across, 0 at the left.
type scene struct {
	*pen
	k    float64 // px a unit
	ox   float64
	cy   float64  // of the shafts
	rim  float64  // radius of the hubs
	rows int      // of dimensions so far
	base float64  // y below the machines
	list []string // names of the columns, by letter

	taken [][2]float64 // where letters of dimensions stand, and the line below each
}

// Stations of the sketch.
const (
	scStat, scMid, scMov = 105.0, 140.0, 175.0 // planes and coupling centre
	scFaceS, scFaceM     = 132.0, 148.0        // hub faces
	scFront, scRear      = 250.0, 312.0
)

func (s *scene) x(v float64) float64 { return s.ox + v*s.k }

// shafts appends both machines with hubs whose faces are at faceS and faceM.
func (s *scene) shafts(faceS, faceM float64) {
	body := 54.0
	s.line(inkDatum, s.x(0), s.cy, s.x(338), s.cy)
	s.rect(inkBody, s.x(4), s.cy-body, 52*s.k, 2*body-8)
	s.rect(inkBody, s.x(232), s.cy-body, 100*s.k, 2*body-8)
	s.text(fontSoft, start, s.x(2), s.cy-body-5, 0, words.DrawingStationary.String())
	s.text(fontSoft, middle, s.x(282), s.cy-body-5, 0, words.DrawingMovableWord.String())
	for _, f := range [...]float64{scFront, scRear} {
		s.rect(inkBody, s.x(f)-8, s.cy+body-8, 16, 8)
	}
	s.rect(inkBody, s.x(16), s.cy+body-8, 16, 8)
	s.line(inkGround, s.x(0), s.cy+body, s.x(338), s.cy+body)
	s.rect(inkBody, s.x(faceS-46), s.cy-s.rim, 46*s.k, 2*s.rim)
	s.rect(inkBody, s.x(faceM), s.cy-s.rim, 46*s.k, 2*s.rim)
	s.rect(inkBody, s.x(56), s.cy-6, (faceS-46-56)*s.k, 12)
	s.rect(inkBody, s.x(faceM+46), s.cy-6, (232-faceM-46)*s.k, 12)
	s.base = s.cy + body + 4
}

// dial appends a dial whose plunger touches at tx, ty, its face away by dx, dy pixels.
func (s *scene) dial(tx, ty, dx, dy float64) (x, y float64) {
	x, y = tx+dx, ty+dy
	l := math.Hypot(dx, dy)
	const r = 8.0
	s.line(inkBody, tx, ty, tx+dx*(1-r/l), ty+dy*(1-r/l))
	s.circle(inkBody, tx, ty, 1.5)
	s.circle(inkOdd, x, y, r)
	s.line(inkBody, x, y, x+3.5, y-4.5)
	return x, y
}

// bracket appends a bracket along points in pixels.
func (s *scene) bracket(xy ...float64) {
	s.path(ink{"d-body", strokeOnly + `"2.4"`}, false, xy...)
}

// note appends words with a leader.
func (s *scene) note(anchor int, tx, ty, x, y float64, said string) {
	s.line(inkLead, tx, ty, x, y+2)
	switch anchor {
	case start:
		x += 2
	case end:
		x -= 2
	}
	s.text(fontSoft, anchor, x, y, 0, said)
}

// measure appends a dimension named by a letter, for the column with this key.
func (s *scene) measure(a, b float64, key string) {
	s.letter(key)
	y := s.base + 16 + 18*float64(s.rows)
	s.rows++
	for _, v := range [...]float64{a, b} {
		from := s.base
		for _, q := range s.taken { // below a letter that stands in the way
			if math.Abs(q[0]-s.x(v)) < 7 {
				from = q[1]
			}
		}
		s.line(inkLead, s.x(v), from, s.x(v), y+3)
	}
	s.arrow(inkDim, inkDimTip, s.x(a), y, s.x(b), y, 7, true)
	s.text(fontNum, middle, s.x((a+b)/2), y-3, 0, s.last())
	s.taken = append(s.taken, [2]float64{s.x((a + b) / 2), y})
}

// letter takes the next letter for a column.
func (s *scene) letter(key string) { s.list = append(s.list, columnName(key)) }

func (s *scene) last() string { return string(rune('A' + len(s.list) - 1)) }

// diameter appends the diameter at which a face is read, 2r, at x pixels.
func (s *scene) diameter(x, r float64) {
	s.letter("face_diameter")
	s.arrow(inkDim, inkDimTip, x, s.cy-r, x, s.cy+r, 7, true)
	s.text(fontNum, start, x+4, s.cy+r-3, 0, s.last())
}

var methodWords = [...]words.Key{
	job.MethodBlank:        words.DrawingWaysAll,
	job.ReverseIndicator:   words.DrawingWayReverse,
	job.RimAndFace:         words.DrawingWayRimFace,
	job.TwoRims:            words.DrawingWayTwoRims,
	job.FaceAndFace:        words.DrawingWayFaces,
	job.StraightedgeAndGap: words.DrawingWayStraightedge,
	job.Sweeps:             words.DrawingWaySweeps,
	job.GivenLineMethod:    words.DrawingWayLine,
}

func methodFigure(dst []byte, m job.Method, opt Options) []byte {
	if int(m) >= len(methodWords) {
		m = job.MethodBlank
	}
	p := newPen(opt)
	title := words.DrawingDistances.String()
	if m != job.MethodBlank {
		title = strings.ToUpper(m.String()[:1]) + m.String()[1:]
		if m == job.GivenLineMethod {
			title = words.DrawingGivenLine.String()
		}
	}
	y := p.wrapped(fontHead, 10, 20, p.w-20, title)
	y = p.wrapped(fontText, 10, y, p.w-20, methodWords[m].String())
	s := &scene{pen: p, k: min((p.w-34)/340, 1.7), ox: 10, cy: y + 92, rim: 30}
	rim, cy := s.rim, s.cy
	switch m {
	case job.ReverseIndicator, job.Sweeps:
		s.shafts(scFaceS, scFaceM)
		dx, dy := s.dial(s.x(scMov), cy-rim, 0, -20)
		s.bracket(s.x(92), cy-rim, s.x(92), dy, dx-8, dy)
		s.note(middle, dx, dy-8, dx, dy-16, words.DrawingMovableRim.String())
		ex, ey := s.dial(s.x(scStat), cy+rim, 0, 14)
		s.bracket(s.x(188), cy+rim, s.x(188), ey, ex+8, ey)
		s.text(fontSoft, middle, ex, s.base+9, 0, words.DrawingStationaryRim.String())
		s.base += 14
		s.measure(scStat, scMid, "coupling_to_stationary_plane")
		s.measure(scMid, scMov, "coupling_to_movable_plane")
	case job.RimAndFace:
		s.shafts(scFaceS-8, scFaceM+8)
		dx, dy := s.dial(s.x(scMov+8), cy-rim, 0, -20)
		s.bracket(s.x(84), cy-rim, s.x(84), dy, dx-8, dy)
		s.note(middle, dx, dy-8, dx, dy-16, words.DrawingMovableRim.String())
		fx, fy := s.dial(s.x(scFaceM+8), cy-rim+8, -14, 0)
		s.bracket(fx, fy-8, fx, dy)
		s.text(fontSoft, start, s.x(88), cy-rim-6, 0, words.DrawingFace.String())
		s.line(inkLead, s.x(88)+30, cy-rim-9, fx-8, fy-4)
		s.diameter(s.x(scFaceM+8)+7*s.k, rim-8)
		s.measure(scMid, scMov+8, "coupling_to_movable_plane")
	case job.TwoRims:
		s.shafts(scFaceS, scFaceM)
		s.rect(inkBody, s.x(194), cy-14, 30*s.k, 28)
		dx, dy := s.dial(s.x(160), cy-rim, 0, -20)
		ex, _ := s.dial(s.x(212), cy-14, 0, -36)
		s.bracket(s.x(92), cy-rim, s.x(92), dy, dx-8, dy)
		s.bracket(dx+8, dy, ex-8, dy)
		s.note(middle, dx, dy-8, dx-12, dy-16, words.DrawingMovableRim.String())
		s.note(middle, ex, dy-8, ex+14, dy-28, words.DrawingSecondRim.String())
		s.measure(scMid, 160, "coupling_to_movable_plane")
		s.measure(scMid, 212, "coupling_to_second_plane")
	case job.FaceAndFace:
		s.shafts(108, 172)
		s.rect(ink{"d-spool", strokeOnly + `"1.6"`}, s.x(114), cy-7, 52*s.k, 14)
		s.line(inkBody, s.x(108), cy-rim-6, s.x(108), cy+rim)
		s.line(inkBody, s.x(172), cy-rim-6, s.x(172), cy+rim)
		fx, fy := s.dial(s.x(108), cy-rim+7, 14, 0)
		gx, gy := s.dial(s.x(172), cy-rim+7, -14, 0)
		s.bracket(fx, fy+8, fx+3, cy-7)
		s.bracket(gx, gy+8, gx-3, cy-7)
		s.note(end, fx, fy-8, s.x(134), cy-rim-42, words.DrawingStationaryFace.String())
		s.note(start, gx, gy-8, s.x(148), cy-rim-42, words.DrawingFace.String())
		s.text(fontSoft, middle, s.x(140), cy+22, 0, words.DrawingSpool.String())
		s.diameter(s.x(172)+7*s.k, rim-7)
		s.measure(108, 172, "spacer_length")
	case job.StraightedgeAndGap:
		s.shafts(scFaceS, scFaceM)
		s.rect(inkOdd, s.x(96), cy-rim-7, 74*s.k, 6)
		s.note(start, s.x(104), cy-rim-7, s.x(84), cy-rim-40, words.DrawingStraightedge.String())
		s.path(inkOdd, true, s.x(scFaceS)+1, cy+rim-7, s.x(scFaceM)-1, cy+rim-7, s.x(scMid), cy+rim-22)
		s.note(end, s.x(scMid), cy+rim-8, s.x(120), cy+rim+36, words.DrawingGauge.String())
		s.diameter(s.x(scFaceM)+7*s.k, rim-8)
		s.measure(scMid, 160, "coupling_to_movable_plane")
	case job.GivenLineMethod:
		s.shafts(scFaceS, scFaceM)
		s.path(inkFound, false, s.x(scMid), cy-14, s.x(338), cy-40)
		s.line(inkGrid, s.x(scMid), cy-14, s.x(228), cy-14)
		s.arrow(inkDo, inkDoHead, s.x(scMid), cy, s.x(scMid), cy-14, 6, false)
		s.note(end, s.x(scMid), cy-8, s.x(136), cy-rim-46, columnName("given_offset_v"))
		s.note(start, s.x(206), cy-22, s.x(150), cy-rim-46, columnName("given_slope_v"))
	default:
		s.shafts(scFaceS, scFaceM)
		s.line(inkDim, s.x(scMid), cy-rim-14, s.x(scMid), cy+rim+10)
		s.note(middle, s.x(scMid), cy-rim-14, s.x(scMid), cy-rim-20, words.DrawingCouplingCentre.String())
	}
	s.measure(scMid, scFront, "coupling_to_front_feet")
	s.rows-- // it goes on in the same row
	s.measure(scFront, scRear, "front_to_rear_feet")
	y = s.base + 16 + 18*float64(s.rows) + 18
	said := methodWords[m].String()
	for i, name := range s.list {
		t := string(rune('A'+i)) + "  " + name
		y = p.wrapped(fontText, 10, y, p.w-20, t)
		said += " " + t + "."
	}
	if m == job.Sweeps {
		y = p.wrapped(fontSoft, 10, y, p.w-20, words.DrawingSweepColumns.Say(columnName("movable_sweep"), columnName("stationary_sweep")))
	}
	return p.finish(dst, y, title, said)
}
