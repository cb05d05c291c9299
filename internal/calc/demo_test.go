package calc

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var writeDemo = flag.Bool("write-demo", false, "write the readings of the demo job anew, out of the simulation")

// A demoRow is one coupling of the demo job: what is typed by hand, and what the simulation reads off its dials.
type demoRow struct {
	name string
	line Line // as found, invented
	hot  Line // as it ran, invented; zero: no hot set of readings
	// How it stood in later rounds, invented; readings of the clock columns only.
	rounds []demoRound
	typed
	dials []demoDial
	spoil func(cells map[string]string) // the two planted faults
}

type typed map[string]string

// A demoRound is a later round of readings: a row of the Rounds sheet.
type demoRound struct {
	line Line
	typed
}

// A demoDial is a family of columns and the instrument behind it.
type demoDial struct {
	family string // column family, or the name of a sweep column
	dial   dial
	at     []float64 // angles of a sweep column or of the Readings sheet; nil: the clock columns
	again  bool      // the full turn is closed at 12
	unit   string    // "" mm; "mil"
	long   bool      // goes to the Readings sheet
}

var demoHeader = []string{
	"Machine", "Work order", "Stationary", "Side at 3", "Side at 9", "Coupling", "Mounting", "Speed [rpm]", "Offset limit", "Slope limit", "Limit reason", "Method", "Face side",
	"Coupling to stationary plane", "Coupling to movable plane", "Coupling to second plane", "Coupling to front feet", "Movable plane to front feet", "Front to rear feet",
	"Further feet", "Face diameter [in]", "Spacer length", "Bolt circle", "Bolts", "Coupling to flange",
	"Movable rim 12", "Movable rim 3", "Movable rim 6", "Movable rim 9", "Movable rim 12 again",
	"Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9", "Stationary rim 12 again",
	"Face 12", "Face 3", "Face 6", "Face 9", "Face 12 again",
	"Stationary face 12", "Stationary face 3", "Stationary face 6", "Stationary face 9",
	"Second rim 12", "Second rim 3", "Second rim 6", "Second rim 9",
	"Gap 12", "Gap 3", "Gap 6", "Gap 9", "Step 12", "Step 3", "Step 6", "Step 9",
	"Movable sag at 6", "Stationary sag at 6", "Face sag at 6", "Second rim sag at 6", "Movable sweep", "Stationary sweep",
	"Given offset V", "Given offset H", "Given slope V", "Given slope H", "Given gap 12 minus 6", "Given gap 3 minus 9",
	"Growth movable front V", "Growth movable rear V", "Growth stationary near V", "Growth stationary far V", "Minutes since stop", "Note",
	"Train", "Front room up", "Front room down", "Front room left", "Front room right",
}

const inch = 25.4

// Diameters are in inches in the header of the demo; in millimetres here.
func diaIn(mm float64) string { return fmt.Sprintf("%g", mm/inch) }

func demoRim(family string, m Model, station, droop float64) demoDial {
	return demoDial{family: family, dial: dial{sweep: Sweep{Model: m, Station: station}, zero: 20, droop: droop}, again: true}
}

func demoFace(family string, m Model, onMov bool, dia, length float64) demoDial {
	return demoDial{family: family, dial: dial{sweep: Sweep{Model: m, Diameter: dia, Length: length}, onMov: onMov, zero: 15}}
}

func demoRows() []demoRow {
	reverse := func(s, m, droopS, droopM float64) []demoDial {
		return []demoDial{demoRim("Movable rim", RimOnMovable, m, droopM), demoRim("Stationary rim", RimOnStationary, -s, droopS)}
	}
	rimFace := func(m, droop, dia float64, model Model) []demoDial {
		f := demoFace("Face", model, true, dia, 0)
		f.again = true
		return []demoDial{demoRim("Movable rim", RimOnMovable, m, droop), f}
	}
	spool := func(dia, length float64) []demoDial {
		return []demoDial{demoFace("Face", SpoolOnMovable, true, dia, length), demoFace("Stationary face", SpoolOnStationary, false, dia, length)}
	}
	gauge := func(m, dia float64) []demoDial {
		return []demoDial{
			{family: "Step", dial: dial{sweep: Sweep{Model: StepAtRim, Station: m}}},
			{family: "Gap", dial: dial{sweep: Sweep{Model: GapBetween, Diameter: dia}}},
		}
	}
	mil := func(d []demoDial) []demoDial {
		for i := range d {
			d[i].unit = "mil"
		}
		return d
	}
	arc := func(from, to float64, n int) []float64 {
		a := make([]float64, n)
		for i := range a {
			a[i] = math.Round(from + (to-from)*float64(i)/float64(n-1))
		}
		return a
	}
	heads := func(s, m float64, at []float64, long bool) []demoDial {
		a, b := demoRim("Movable sweep", RimOnMovable, m, 0), demoRim("Stationary sweep", RimOnStationary, -s, 0)
		a.at, b.at, a.long, b.long = at, at, long, long
		return []demoDial{a, b}
	}
	feet := func(front, rear string) typed {
		return typed{"Coupling to front feet": front, "Front to rear feet": rear}
	}
	with := func(t typed, kv ...string) typed {
		out := typed{}
		for k, v := range t {
			out[k] = v
		}
		for i := 0; i < len(kv); i += 2 {
			out[kv[i]] = kv[i+1]
		}
		return out
	}
	const rev, rf, two, ff, sg, sw, gl = "reverse indicator", "rim and face", "two rims", "face and face", "straightedge and gap", "sweeps", "line"
	return []demoRow{
		{name: "Intake, raw water pump 1 motor", line: Line{0.31, -0.85, -0.22, 0.62}, dials: reverse(110, 125, 0.02, 0.02),
			typed: with(feet("480", "710"), "Method", rev, "Coupling", "flexible", "Speed [rpm]", "990", "Coupling to stationary plane", "110", "Coupling to movable plane", "125", "Movable sag at 6", "-0.04", "Stationary sag at 6", "-0.04")},
		{name: "Intake, raw water pump 2 motor", line: Line{-0.42, 0.55, 0.35, -0.4}, dials: reverse(110, 125, 0.02, 0.02),
			typed: with(feet("480", "710"), "Method", rev, "Coupling", "flexible", "Speed [rpm]", "990", "Coupling to stationary plane", "110", "Coupling to movable plane", "125", "Movable sag at 6", "-0.04", "Stationary sag at 6", "-0.04"),
			spoil: func(c map[string]string) { c["Stationary rim 3"] = turnSign(c["Stationary rim 3"]) }},
		{name: "Intake, raw water pump 3 motor", line: Line{0.18, 0.9, 0.27, -1.1}, dials: mil(reverse(114.3, 127, 0.02, 0.02)),
			typed: with(feet("19 in", "28 in"), "Method", rev, "Coupling", "flexible", "Speed [rpm]", "990", "Coupling to stationary plane", "4 1/2 in", "Coupling to movable plane", "5 in",
				"Movable sag at 6", "-1.6 mil", "Stationary sag at 6", "-1.6 mil", "Note", "readings taken with an inch dial")},
		{name: "Intake, screen wash pump motor", line: Line{-0.36, 1.7, 0.12, -0.8}, dials: rimFace(40, 0.03, 127, FaceFront),
			typed: with(feet("210", "330"), "Method", rf, "Coupling", "flexible", "Speed [rpm]", "1480", "Coupling to movable plane", "40", "Face diameter [in]", diaIn(127), "Movable sag at 6", "-0.06")},
		{name: "Filter hall, backwash pump 1 motor", line: Line{0.02, 0.06, -0.02, 0.05}, dials: reverse(95, 95, 0.01, 0.01),
			typed: with(feet("365", "560"), "Method", rev, "Coupling", "flexible", "Speed [rpm]", "1480", "Coupling to stationary plane", "95", "Coupling to movable plane", "95", "Movable sag at 6", "-0.02", "Stationary sag at 6", "-0.02")},
		{name: "Filter hall, backwash pump 2 motor", line: Line{0.24, -1.2, 0.4, 0.9}, dials: rimFace(60, 0.04, 203.2, FaceBack),
			typed: with(typed{}, "Movable plane to front feet", "305", "Front to rear feet", "560", "Method", rf, "Face side", "back", "Coupling", "flexible", "Speed [rpm]", "1480", "Coupling to movable plane", "60", "Face diameter [in]", "8", "Movable sag at 6", "-0.08")},
		{name: "Filter hall, scour blower A motor", line: Line{-0.28, -1.6, -0.15, 1.9}, rounds: []demoRound{
			{Line{-0.9, 0.4, 0.3, 0.2}, typed{"Round": "1", "When": "day 1, 16:10", "By": "crew B", "Struck": "the bracket touched the guard"}},
			{Line{-0.278, 0.328, 0.02, 0.05}, typed{"Round": "1", "When": "day 1, 16:40", "By": "crew B", "Done": "shims and pushes as told"}}}, dials: []demoDial{demoRim("Movable rim", RimOnMovable, 45, 0.02), demoRim("Second rim", RimOnMovable, 265, 0)},
			typed: with(feet("390", "457"), "Method", two, "Coupling", "gear", "Speed [rpm]", "2970", "Coupling to movable plane", "45", "Coupling to second plane", "265", "Movable sag at 6", "-0.04", "Second rim sag at 6", "0")},
		{name: "Filter hall, scour blower B motor", line: Line{0.015, 0.04, 0.012, -0.03}, dials: reverse(120, 120, 0.02, 0.02),
			typed: with(feet("390", "457"), "Method", rev, "Coupling", "flexible", "Speed [rpm]", "2970", "Coupling to stationary plane", "120", "Coupling to movable plane", "120", "Movable sag at 6", "-0.04", "Stationary sag at 6", "-0.04", "Note", "aligned in the autumn")},
		{name: "High lift, pump 1 motor", line: Line{0.62, -1.4, 0.35, 1.1}, dials: spool(254, 460),
			typed: with(feet("740", "1080"), "Method", ff, "Coupling", "spacer", "Speed [rpm]", "1485", "Spacer length", "460", "Face diameter [in]", "10", "Further feet", "1280")},
		{name: "High lift, pump 2 motor", line: Line{0.03, -0.1, -0.04, 0.07}, dials: spool(254, 460),
			typed: with(feet("740", "1080"), "Method", ff, "Coupling", "spacer", "Speed [rpm]", "1485", "Spacer length", "460", "Face diameter [in]", "10")},
		{name: "High lift, pump 3 motor", line: Line{-0.55, 0.9, 0.48, 1.3}, dials: reverse(290, 300, 0.09, 0.09),
			typed: with(feet("740", "1080"), "Method", rev, "Coupling", "spacer", "Speed [rpm]", "1485", "Spacer length", "460", "Coupling to stationary plane", "290", "Coupling to movable plane", "300", "Movable sag at 6", "-0.18", "Stationary sag at 6", "-0.18")},
		{name: "High lift, pump 4 motor", line: Line{0.33, 1.25, -0.41, -0.7}, dials: heads(240, 260, arc(0, 315, 8), false),
			typed: with(feet("740", "1080"), "Method", sw, "Coupling", "spacer", "Speed [rpm]", "1485", "Spacer length", "460", "Coupling to stationary plane", "240", "Coupling to movable plane", "260", "Movable sag at 6", "0", "Stationary sag at 6", "0", "Note", "two measuring heads, eight positions")},
		{name: "High lift, pump 5 motor", line: Line{-0.29, -1.05, 0.38, 0.85}, dials: append(heads(240, 260, []float64{0, 90, 180, 270}, false), heads(240, 260, arc(-100, 110, 11), true)...),
			typed: with(feet("740", "1080"), "Method", sw, "Coupling", "spacer", "Speed [rpm]", "1485", "Spacer length", "460", "Coupling to stationary plane", "240", "Coupling to movable plane", "260", "Movable sag at 6", "0", "Stationary sag at 6", "0", "Note", "second visit on the Readings sheet: the pipe is in the way below")},
		{name: "Chemical house, lime slurry pump motor", line: Line{-0.65, 5.2, 0.4, -3.5}, dials: gauge(12, 152.4),
			typed: with(feet("160", "178"), "Method", sg, "Coupling", "flexible", "Speed [rpm]", "1440", "Offset limit", "0.3", "Coupling to movable plane", "12", "Face diameter [in]", "6")},
		{name: "Chemical house, alum dosing pump motor", line: Line{0.55, -4.4, -0.7, 2.8}, dials: gauge(10, 127),
			typed: with(feet("140", "140"), "Method", sg, "Coupling", "flexible", "Speed [rpm]", "1440", "Slope limit", "1", "Limit reason", "pump maker's manual, p. 31 (invented)", "Coupling to movable plane", "10", "Face diameter [in]", "5")},
		{name: "Sludge hall, thickener pump motor", line: Line{0.9, 3.1, 0.5, -2.2}, dials: gauge(15, 203.2),
			typed: with(feet("230", "254"), "Method", sg, "Coupling", "flexible", "Speed [rpm]", "970", "Coupling to movable plane", "15", "Face diameter [in]", "8", "Train", "Thickener", "Stationary near support", "190", "Stationary far support", "560")},
		{name: "Sludge hall, centrifuge main motor", line: Line{0.083, 0.1, 0.058, 0.08}, dials: reverse(105, 105, 0.015, 0.015),
			typed: with(feet("420", "406"), "Method", rev, "Coupling", "flexible", "Speed [rpm]", "1780", "Coupling to stationary plane", "105", "Coupling to movable plane", "105", "Movable sag at 6", "-0.03", "Stationary sag at 6", "-0.03")},
		{name: "Sludge hall, return pump motor", line: Line{-0.2, 0.8, 0.3, 1}, dials: rimFace(50, 0.02, 152.4, FaceFront),
			typed: with(feet("250", "311"), "Method", rf, "Coupling", "flexible", "Speed [rpm]", "1480", "Coupling to movable plane", "50", "Face diameter [in]", "6", "Movable sag at 6", "-0.04"),
			spoil: func(c map[string]string) { c["Movable rim 12 again"] = "0.09" }},
		{name: "Boiler house, heating circulation pump motor", line: Line{-0.08, 0.1, 0.05, -0.2}, dials: reverse(90, 100, 0.015, 0.015),
			typed: with(feet("340", "349"), "Method", rev, "Coupling", "flexible", "Speed [rpm]", "1480", "Coupling to stationary plane", "90", "Coupling to movable plane", "100", "Movable sag at 6", "-0.03", "Stationary sag at 6", "-0.03",
				"Growth movable front V", "0.09", "Growth movable rear V", "0.07", "Growth stationary near V", "0.34", "Growth stationary far V", "0.31", "Stationary near support", "310", "Stationary far support", "820", "Note", "hot water pump, growth by calculation")},
		{name: "Boiler house, feed pump motor", line: Line{-0.26, -0.6, 0.19, 0.75}, hot: Line{-0.47, -0.42, 0.23, 0.7}, dials: mil(rimFace(55, 0.03, 177.8, FaceFront)),
			typed: with(feet("290", "368"), "Method", rf, "Coupling", "flexible", "Speed [rpm]", "2960", "Coupling to movable plane", "55 mm", "Face diameter [in]", "7", "Movable sag at 6", "-2.4 mil", "Minutes since stop", "4", "Note", "read hot when it was stopped, on the Readings sheet; cold two days later")},
		{name: "Reservoir, vertical booster 1 motor", line: Line{0.3, 0.9, -0.24, 0.65}, dials: rimFace(80, 0, 254, FaceFront),
			typed: with(typed{}, "Method", rf, "Coupling", "flexible", "Mounting", "vertical flange", "Speed [rpm]", "1480", "Coupling to movable plane", "80", "Face diameter [in]", "10", "Bolt circle", "600", "Bolts", "8", "Coupling to flange", "420", "Note", "12 o'clock is towards the crane rail; the register leaves half a millimetre",
				"Train", "Booster 1", "Front room up", "0.5", "Front room down", "0.5", "Front room left", "0.5", "Front room right", "0.5")},
		{name: "Reservoir, booster 2 motor", line: nanLine,
			typed: with(feet("510", "560"), "Method", gl, "Coupling", "flexible", "Speed [rpm]", "1480", "Face diameter [in]", "9", "Given offset V", "0.38", "Given offset H", "-11 mil", "Given gap 12 minus 6", "-0.14", "Given gap 3 minus 9", "0.09", "Note", "readings reduced by the day shift")},
		{name: "Reservoir, standby diesel drive", line: nanLine,
			typed: with(feet("900", "1250"), "Method", gl, "Coupling", "universal", "Speed [rpm]", "1500", "Slope limit", "1", "Limit reason", "maker of the joint shaft, sheet 2 (invented)", "Spacer length", "1150", "Given offset V", "38", "Given offset H", "1.5", "Given slope V", "0.12", "Given slope H", "-0.09", "Note", "joint shaft, offset is wanted")},
		{name: "Workshop, air compressor motor", line: Line{0.12, 0.95, -0.33, -1.15}, dials: rimFace(44.45, 0.025, 152.4, FaceFront),
			typed: with(feet("10 1/8 in", "406"), "Method", rf, "Coupling", "flexible", "Speed [rpm]", "1475", "Coupling to movable plane", "1 3/4 in", "Face diameter [in]", "6", "Movable sag at 6", "-2 mil")},
		{name: "Power house, house turbine", line: Line{0.12, -0.25, 0.18, 0.3}, dials: reverse(160, 180, 0.02, 0.02),
			typed: with(feet("520", "1450"), "Method", rev, "Stationary", "house set gear", "Coupling", "gear", "Speed [rpm]", "3600", "Coupling to stationary plane", "160", "Coupling to movable plane", "180", "Movable sag at 6", "-0.04",
				"Stationary sag at 6", "-0.04", "Stationary near support", "350", "Stationary far support", "1050", "Train", "House set")},
		{name: "Power house, house generator", line: Line{-0.21, 0.34, 0.25, -0.5}, dials: reverse(150, 170, 0.02, 0.02),
			typed: with(feet("450", "1800"), "Method", rev, "Stationary", "house set gear", "Side at 3", "hillside", "Side at 9", "river side", "Coupling", "gear", "Speed [rpm]", "1500", "Coupling to stationary plane", "150",
				"Coupling to movable plane", "170", "Movable sag at 6", "-0.04", "Stationary sag at 6", "-0.04", "Stationary near support", "400", "Stationary far support", "1100", "Train", "House set", "Note", "read from behind the generator")},
	}
}

func turnSign(s string) string {
	if t, ok := strings.CutPrefix(s, "-"); ok {
		return t
	}
	return "-" + s
}

// demoFiles builds the demo job. The readings come out of the simulation, with hubs off centre, drooping brackets, 3 µm of noise, and
// rounded to the division of the dial.
func demoFiles() map[string][]byte {
	header := slices.Clone(demoHeader)
	far := slices.Index(header, "Growth movable front V")
	header = slices.Insert(header, far, "Stationary near support", "Stationary far support")
	var machines, readings [][]string
	readings = append(readings, []string{"Machine", "Sweep", "Angle", "Reading", "Set"})
	roundHeader := []string{"Machine", "Round", "When", "By", "Done", "Struck", "Front shim done", "Rear shim done", "Front move done", "Rear move done",
		"Movable rim 12", "Movable rim 3", "Movable rim 6", "Movable rim 9", "Second rim 12", "Second rim 3", "Second rim 6", "Second rim 9"}
	rounds := [][]string{{"Readings after each move; what counts is the last round that is not struck"}, roundHeader}
	for i, row := range demoRows() {
		cells := map[string]string{"Machine": row.name, "Work order": fmt.Sprintf("S-%d", 4101+17*i), "Side at 3": "river side", "Side at 9": "hillside"}
		if strings.HasPrefix(row.name, "Reservoir") {
			cells["Side at 3"], cells["Side at 9"] = "hillside", "river side"
		}
		cells["Stationary"] = strings.TrimSuffix(strings.TrimSuffix(row.name[strings.Index(row.name, ", ")+2:], " motor"), " drive")
		for k, v := range row.typed {
			cells[k] = v
		}
		rng := rand.New(rand.NewPCG(1906, uint64(i)))
		r := randomRig(rng, 1)
		r.place(row.line)
		for _, h := range []*hub{&r.hm, &r.hs} {
			h.radius = 110
		}
		for k, d := range slices.Concat(row.dials, row.dials) {
			hot := k >= len(row.dials)
			if hot {
				if row.hot == (Line{}) {
					break
				}
				r.place(row.hot)
			}
			dl := d.dial
			if dl.sweep.Length > 0 {
				half := dl.sweep.Length / 2
				r.hm.front.p[0], r.hs.front.p[0], r.hm.back.p[0], r.hs.back.p[0] = half, -half, half+60, -half-60
			}
			gauge := dl.sweep.Model == GapBetween || dl.sweep.Model == StepAtRim
			step := 0.01
			switch {
			case gauge:
				step = 0.05
			case d.unit == "mil":
				step = 0.5 // half divisions of a thousandth dial are read by eye
			}
			text := func(mm float64) string {
				v := mm + 0.003*rng.NormFloat64()
				if d.unit == "mil" {
					v /= 0.0254
				}
				v = math.Round(v/step)*step + 0 // no −0
				if d.unit == "mil" {
					return fmt.Sprintf("%.1f mil", v)
				}
				return fmt.Sprintf("%.2f", v)
			}
			zero := 0.0
			if !gauge {
				zero = r.read(&dl, 0) // the pointer is set to zero at 12
			}
			if dl.sweep.Model == StepAtRim {
				zero = r.hm.radius - r.hs.radius // rims of one size
			}
			if d.at != nil {
				var list []string
				for _, a := range d.at {
					v := text(r.read(&dl, a) - zero)
					list = append(list, fmt.Sprintf("%g:%s", a, v))
					if d.long {
						readings = append(readings, []string{row.name, strings.Replace(d.family, "sweep", "rim", 1), fmt.Sprintf("%g", a), v, ""})
					}
				}
				if !d.long {
					cells[d.family] = strings.Join(list, " ")
				}
				continue
			}
			if hot {
				for a := 0.0; a <= 360; a += 90 { // back to 12
					readings = append(readings, []string{row.name, d.family, fmt.Sprintf("%g", a), text(r.read(&dl, a) - zero), "hot"})
				}
				continue
			}
			for k, pos := range []string{"12", "3", "6", "9"} {
				cells[d.family+" "+pos] = text(r.read(&dl, 90*float64(k)) - zero)
			}
			if !gauge {
				cells[d.family+" 12"] = map[bool]string{false: "0.00", true: "0.0 mil"}[d.unit == "mil"]
			}
			if again := d.family + " 12 again"; d.again && slices.Contains(header, again) {
				cells[again] = text(0)
			}
		}
		for _, o := range row.rounds {
			r.place(o.line)
			cells := map[string]string{"Machine": row.name}
			for k, v := range o.typed {
				cells[k] = v
			}
			for _, d := range row.dials {
				zero := r.read(&d.dial, 0)
				for k, pos := range []string{"12", "3", "6", "9"} {
					cells[d.family+" "+pos] = fmt.Sprintf("%.2f", math.Round((r.read(&d.dial, 90*float64(k))-zero+0.003*rng.NormFloat64())/0.01)*0.01+0)
				}
				cells[d.family+" 12"] = "0.00"
			}
			line := make([]string, len(roundHeader))
			for k, h := range roundHeader {
				line[k] = cells[h]
				delete(cells, h)
			}
			if len(cells) > 0 {
				panic(fmt.Sprintf("calc: demo cells of a round without a column: %v", cells))
			}
			rounds = append(rounds, line)
		}
		if row.spoil != nil {
			row.spoil(cells)
		}
		line := make([]string, len(header))
		for k, h := range header {
			line[k] = cells[h]
			delete(cells, h)
		}
		if len(cells) > 0 {
			panic(fmt.Sprintf("calc: demo cells without a column: %v", cells))
		}
		machines = append(machines, line)
	}
	title := [][]string{{"Marrow Ridge waterworks: spring shutdown, couplings to be aligned"}, {"as found, before anything was moved; lengths in mm unless a cell or a heading says otherwise"}}
	return map[string][]byte{
		"machines.csv": csvOf(append(append(title, header), machines...)),
		"readings.csv": csvOf(readings),
		"rounds.csv":   csvOf(rounds),
	}
}

func csvOf(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.WriteAll(rows); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// TestDemo holds the readings of the demo job to the simulation they are said to come from. Run with -write-demo to write them anew.
func TestDemo(t *testing.T) {
	for name, want := range demoFiles() {
		path := filepath.Join("..", "..", "testdata", "demo", name)
		if *writeDemo {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(bytes.ReplaceAll(got, []byte("\r\n"), []byte("\n")), want) {
			t.Errorf("testdata/demo/%s is not what the simulation reads: go test ./internal/calc -run TestDemo -write-demo", name)
		}
	}
}
