package jobtest

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// RoundsHead is the header of a Rounds sheet; RimRow are a line's readings for its end.
const RoundsHead = "Machine,Round,Struck,By,Done,Front shim done,Rear shim done,Front move done,Rear move done,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"

// RimRow are the readings of both rims of a line, planes 100 mm from the coupling, dials at zero at 12; worked out by hand: a rim shows the plane's height times the cosine and its
// place sideways times the sine.
func RimRow(l calc.Line) string {
	v, h := l.DV+l.TV*0.1, l.DH+l.TH*0.1
	w, g := l.DV-l.TV*0.1, l.DH-l.TH*0.1
	return fmt.Sprintf("%.12f,%.12f,%.12f,%.12f,%.12f,%.12f,%.12f,%.12f", 0.0, h-v, -2*v, -h-v, 0.0, -g+w, 2*w, g+w)
}

// Rims are the readings of both rims of a line, planes 100 mm from the coupling, as cells: see RimRow.
func Rims(l calc.Line) string {
	out := ""
	for k, v := range strings.Split(RimRow(l), ",") {
		out += " | " + []string{"Movable rim ", "Stationary rim "}[k/4] + []string{"12", "3", "6", "9"}[k%4] + "=" + v
	}
	return out
}

// RoundsText is the machine of the cases of rounds, without a reading: feet at 300 and 800 mm, limits 0.1 mm and 0.5 mm/m.
var RoundsText = []string{"Machines: Machine=pump | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=300 | Front to rear feet=500 | Side at 3=river | Side at 9=wall | Movable sag at 6=0 | " +
	"Stationary sag at 6=0 | Offset limit=0.1 | Slope limit=0.5", "Stock: Thickness=0.05", "Stock: Thickness=0.1", "Stock: Thickness=0.2", "Stock: Thickness=0.5", "Stock: Thickness=1"}

// Rounds is a job of one machine and its rounds.
func Rounds(t testing.TB, cells []string, rows string) *job.Job {
	t.Helper()
	return With(t, Row(cells...), job.RoundsSheet, RoundsHead+rows)
}

// Year is a job of one machine with rounds, of a year.
func Year(t testing.TB, year int, cells []string, rows string) *job.Job {
	t.Helper()
	j := Rounds(t, cells, rows)
	With(t, j, job.SettingsSheet, fmt.Sprintf("Name,Value\nDate,%d-04-12\n", year))
	return j
}

// SweepsOf writes readings of the pump at 12, 3, 6 and 9 as rows of the Readings sheet.
func SweepsOf(set string, movable, stationary [4]float64) string {
	var b strings.Builder
	for k, sweep := range [...]string{"Movable rim", "Stationary rim"} {
		for p, x := range [2][4]float64{movable, stationary}[k] {
			fmt.Fprintf(&b, "pump,%s,%s,%v,%s\n", sweep, [...]string{"12", "90", "6 o'clock", "270"}[p], x, set)
		}
	}
	return strings.ReplaceAll(strings.ReplaceAll(b.String(), ",12,", ",0,"), "6 o'clock", "180")
}

// SetsHead is the header of a Readings sheet whose rows SweepsOf writes.
const SetsHead = "Machine,Sweep,Angle,Reading,Set\n"

// The readings of Reverse, and a hot set: offset −0.04 and 0.02 mm, slope −0.5 and 0.3 mm/m, read at the planes ±100 mm.
var (
	ReverseMovable, ReverseStationary = [4]float64{0, -0.17, -0.30, -0.13}, [4]float64{0, 0.11, 0.10, -0.01}
	HotMovable, HotStationary         = [4]float64{0, 0.14, 0.18, 0.04}, [4]float64{0, 0.02, 0.02, 0}
)

// Without are the cells of Reverse without its readings.
var Without = Reverse[:5]

// Sets is a job of a row, as exact as read, with readings in sets.
func Sets(t testing.TB, cells []string, rows string) *job.Job {
	t.Helper()
	if !slices.ContainsFunc(cells, func(c string) bool { return strings.HasPrefix(c, "Minutes since stop") }) {
		cells = Change(cells, "Minutes since stop=0")
	}
	return Sheets(t, cells, "Readings", SetsHead+rows)
}

// Boxed makes a job of the row with a Stock sheet and a Strip class on the Job sheet, "" none. Without cells it wants shims of −0.25 and −0.50.
func Boxed(t testing.TB, class, stock string, cells ...string) *job.Job {
	t.Helper()
	more := []string{"Stock", stock}
	if class != "" {
		more = append(more, "Job", "Setting,Value\nStrip class,"+class+"\n")
	}
	if len(cells) == 0 {
		cells = Change(Reverse, "Given offset V=-0.35")
	}
	return Sheets(t, cells, more...)
}
