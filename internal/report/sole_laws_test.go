package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// The plan of a sole that is not parallel: as long and wide as typed, but no slimmer than one to two, its longer side 90 px; each corner gap outside its corner; each step an area from the open side on, as large as its share;
// beside it, or below where there is no room, what goes under it, step by step, standing out, and then the taper in soft letters.
func TestSoleRead(t *testing.T) {
	soles, beside, below := 0, 0, 0
	for _, size := range []string{"80,60", "60,80", "200,40", "40,200", ","} {
		for _, corners := range [][4]string{{"0", "0", "0.2", "0.2"}, {"0.2", "0.2", "0", "0"}, {"0", "0.2", "0", "0.2"}, {"0.2", "0", "0.2", "0"}, {"0", "0.1", "0.1", "0.2"}, {"0.3", "0.1", "0.2", "0"}} {
			text := "Machine,Foot,Across,Corner front 9,Corner front 3,Corner rear 9,Corner rear 3,Foot length,Foot width\n"
			for _, foot := range []string{"front 9,-250", "front 3,250", "rear 9,-250"} {
				text += "P1," + foot + ",0,0,0,0," + size + "\n"
			}
			ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.FeetSheet: text + "P1,rear 3,250," + strings.Join(corners[:], ",") + "," + size + "\n"})
			ev.Count()
			foot := &ev.Row(0).Feet.Soft.Feet[3]
			if !foot.Angled {
				continue
			}
			for _, w := range []float64{300, 760} {
				where := fmt.Sprintf("%s, %v at %g", size, corners, w)
				list := parse(t, FeetPlan(nil, ev, 0, Options{Width: w}))
				checkLayout(t, where, list, 32)
				soles++
				var sole [4]float64
				var areas []float64
				var shapes [][]float64
				for i := range list {
					e := &list[i]
					if e.inside["data-sole"] != "3" {
						continue
					}
					if e.name == "rect" {
						sole = box(t, e)
						continue
					}
					xy := coords(t, e.attr["d"])
					a := 0.0
					for k := 0; k < len(xy); k += 2 {
						j := (k + 2) % len(xy)
						a += xy[k]*xy[j+1] - xy[j]*xy[k+1]
					}
					shapes, areas = append(shapes, xy), append(areas, math.Abs(a)/2)
				}
				long, wide := sole[2]-sole[0], sole[3]-sole[1]
				ratio := 1.0
				if a, b, ok := strings.Cut(size, ","); ok && a != "" {
					x, _ := strconv.ParseFloat(a, 64)
					y, _ := strconv.ParseFloat(b, 64)
					ratio = min(max(x/y, 0.5), 2)
				}
				if math.Abs(long/wide-ratio) > 0.001 || math.Abs(max(long, wide)-90) > 0.01 {
					t.Errorf("%s: a sole of %.1f × %.1f", where, long, wide)
				}
				if len(areas) != len(foot.Steps) {
					t.Fatalf("%s: %d steps drawn, %d found", where, len(areas), len(foot.Steps))
				}
				// The side that is open, by the corner gaps: where the largest stands, x to the free edge, y to 3 o'clock.
				gap := func(k int) float64 { v, _ := strconv.ParseFloat(corners[k], 64); return v }
				most := max(gap(0), gap(1), gap(2), gap(3))
				for n, xy := range shapes {
					for k, at := range [][2]float64{{sole[0], sole[3]}, {sole[0], sole[1]}, {sole[2], sole[3]}, {sole[2], sole[1]}} { // coupling 9, coupling 3, free 9, free 3
						has := false
						for i := 0; i < len(xy); i += 2 {
							has = has || math.Hypot(xy[i]-at[0], xy[i+1]-at[1]) < 0.01
							if xy[i] < sole[0]-0.01 || xy[i] > sole[2]+0.01 || xy[i+1] < sole[1]-0.01 || xy[i+1] > sole[3]+0.01 {
								t.Errorf("%s: step %d goes past the sole: %v", where, n, xy)
							}
						}
						if gap(k) == most && !has || gap(k) == 0 && has && foot.Steps[n].Share < 0.999 {
							t.Errorf("%s: step %d under the corner with a gap of %g: %v, %v", where, n, gap(k), has, xy)
						}
					}
					straight := gap(0) == gap(1) && gap(2) == gap(3) || gap(0) == gap(2) && gap(1) == gap(3)
					if straight && math.Abs(areas[n]/long/wide-foot.Steps[n].Share) > 0.001 {
						t.Errorf("%s: step %d covers %.3f, its share is %.3f", where, n, areas[n]/long/wide, foot.Steps[n].Share)
					}
				}
				// Numbers at the corners, and the words.
				var words []textBox
				var bold []bool
				heading := 0.0
				for i := range list {
					e := &list[i]
					if e.name != "text" {
						continue
					}
					b := boxes(t, list[i:i+1])[0]
					switch {
					case e.attr["class"] == "d-head" && e.attr["font-size"] == "12" && strings.HasPrefix(said(list[i:]), "Sole of rear 3, seen from above, gap at each corner in mm"), heading > 0 && e.attr["class"] == "d-head":
						heading = b.y1
					case strings.HasPrefix(e.text, "step ") || strings.HasPrefix(e.text, "at best") || strings.HasPrefix(e.text, "a tapered") || strings.HasPrefix(e.text, "taper "):
						words, bold = append(words, b), append(bold, e.attr["font-weight"] != "")
					}
				}
				if heading == 0 || sole[1]-heading < 4 || sole[1]-heading > 36 || math.Abs(sole[0]-54) > 0.01 {
					t.Errorf("%s: the sole %v below its heading at %.1f", where, sole, heading)
				}
				for k, at := range [][2]float64{{sole[0] - 5, sole[3]}, {sole[0] - 5, sole[1] + 9}, {sole[2] + 5, sole[3]}, {sole[2] + 5, sole[1] + 9}} {
					found := false
					for i := range list {
						e := &list[i]
						if e.name == "text" && e.attr["class"] == "d-num" && math.Abs(e.num(t, "x")-at[0]) < 0.01 && math.Abs(e.num(t, "y")-at[1]) < 0.01 {
							found = e.text == strconv.FormatFloat(gap(k), 'f', 3, 64) && (e.attr["text-anchor"] == "end") == (k < 2)
						}
					}
					if !found {
						t.Errorf("%s: no %.3f at its corner %.1f", where, gap(k), at)
					}
				}
				all := said(list)
				for n, s := range foot.Steps {
					want := fmt.Sprintf("step %d: %s mm over %d %% from the %s", n+1, string(ev.AppendPack(nil, s.Thickness)), int(math.Round(100*s.Share)), foot.Open)
					if !strings.Contains(all, want) {
						t.Errorf("%s: %q is not in %s", where, want, all)
					}
				}
				if strings.Contains(all, "a tapered shim or machining is needed") != foot.Machine || strings.Contains(all, "at best step 1") != (foot.Machine && len(foot.Steps) > 0) {
					t.Errorf("%s: machining %v: %s", where, foot.Machine, all)
				}
				for i, b := range words {
					if want := !strings.HasPrefix(b.text, "taper "); bold[i] != want {
						t.Errorf("%s: %q stands out: %v", where, b.text, bold[i])
					}
					if side := sole[2]+56 < w-8-100; side {
						beside++
						if b.x0 < sole[2]+40 || b.y1 < sole[1] {
							t.Errorf("%s: %q at %v, not beside the sole %v", where, b.text, b, sole)
						}
					} else {
						below++
						if b.x0 != 10 || b.y0 < sole[3] {
							t.Errorf("%s: %q at %v, not below the sole %v", where, b.text, b, sole)
						}
					}
				}
			}
		}
	}
	if soles < 40 || beside < 20 || below < 10 {
		t.Errorf("%d soles, words beside %d and below %d", soles, beside, below)
	}
}
