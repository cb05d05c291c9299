package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
)

// What stands under each pair of feet, line by line, by hand from the line that was given: the pack of the sharing-out, or what comes out where nobody listed what lies there, and from how much it is made; sideways how far and to
// which side, or to leave it; without a stock the amount itself; a machine inside its limit stays. Amounts are magnitudes: the words say the way.
func TestLinesUnderFeet(t *testing.T) {
	names := "Given offset V,Given offset H,Given slope V,Given slope H,Offset limit,Slope limit"
	looked := map[string]int{}
	for _, m := range append(knownMachines, knownMachine{0.001, 0.3, 0, 0}, knownMachine{-0.62, 0.002, 0.001, 0}, knownMachine{0.2, -0.5, -0.2, 0.9})[2:] {
		for _, limit := range []string{"0.05,0.3", "5,9"} {
			for _, further := range []string{"", "300", "700 900"} {
				for _, stock := range []string{"Thickness\n2\n1\n0.5\n0.2\n0.1\n0.05\n0.025\n", "Thickness,Pieces on hand\n0.3,2\n"} {
					ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: strings.Replace(machineText(names+",Further feet", fmt.Sprintf("%g,%g,%g,%g,%s,%s", m.dv, m.dh, m.tv, m.th, limit, further)), ",1480,", ",,", 1), job.StockSheet: stock})
					ev.Count()
					if _, err := ev.Allocate(nil); err != nil {
						t.Fatal(err)
					}
					r := ev.Row(0)
					list := parse(t, Machine(nil, ev, 0, Options{Width: 1600}))
					for _, v := range readViews(t, fmt.Sprintf("%+v, limit %s, %q", m, limit, further), list) {
						bottom := v.y0 + 95
						for i := range v.list { // nor is it told to go anywhere by an arrow
							if e := &v.list[i]; r.Verdict == calc.Inside && (e.attr["class"] == "d-do" || e.attr["class"] == "d-after") {
								t.Errorf("%s: %s in the view of a machine that stays", v.where, e.attr["class"])
							}
						}
						for k := range r.Calc.Feet {
							f := &r.Calc.Feet[k]
							at := m.dv + m.tv*f.Station/1000
							if v.name == "top" {
								at = m.dh + m.th*f.Station/1000
							}
							var want []string
							u := func(x float64) string { return strconv.FormatFloat(x, 'f', 3, 64) }
							switch {
							case r.Verdict == calc.Inside:
								want = []string{"stays"}
							case v.name == "top":
								side := "hill" // away from where it stands
								if at < 0 {
									side = "river"
								}
								want = []string{"push " + strconv.FormatFloat(math.Abs(at), 'f', 2, 64) + " mm", "towards " + side}
								if !evaluate.Pushes(f) || math.Abs(at) < 0.005 {
									want = []string{"leave"}
								}
								want = append(want, "from "+u(math.Abs(at))+" ± "+u(f.UMove)+" mm")
							default:
								p, alike := ev.PairPacks(r, k)
								if !alike {
									for _, q := range p {
										want = append(want, q.Foot+": "+ev.PickDo(q))
									}
									break
								}
								sum := 0.0
								for _, x := range p[0].Pieces {
									sum += x
								}
								amount := strings.TrimSuffix(strconv.FormatFloat(p[0].Sum, 'f', 3, 64), "0") + " mm"
								switch {
								case len(p[0].Pieces) == 0:
									want = []string{"leave"}
								case p[0].Change.Status == packs.ChangeUnlisted:
									want = []string{"take out " + amount}
								default:
									want = []string{"add " + amount}
									if len(p[0].Pieces) > 1 {
										var parts []string
										for _, x := range p[0].Pieces {
											parts = append(parts, strings.TrimSuffix(strconv.FormatFloat(x, 'f', 3, 64), "0"))
										}
										want = append(want, strings.Join(parts, " + "))
									}
									if p[0].Status.Short() {
										want = append(want, p[0].Status.String())
									}
									if at > 0 {
										t.Errorf("%s: a shaft %.3f high gets %q", v.where, at, want)
									}
								}
								if p[0].Together {
									want = append(want, "chosen together")
								}
							}
							if v.name == "side" && r.Verdict != calc.Inside {
								want = append(want, "from "+u(math.Abs(at))+" ± "+u(f.UShim)+" mm")
							}
							looked[strings.Fields(want[0])[0]]++
							// The words whose leader comes from this foot.
							x := math.NaN()
							for i := range v.list {
								if e := &v.list[i]; e.name == "path" && e.attr["class"] == "d-lead" {
									if xy := coords(t, e.attr["d"]); len(xy) == 6 && xy[1] > bottom && math.Abs(xy[0]-v.px(f.Station)) < 0.02 {
										x = xy[4]
									}
								}
							}
							var got []string
							for _, b := range v.texts {
								if b.y0 > bottom && math.Abs((b.x0+b.x1)/2-x) < 0.02 {
									got = append(got, b.text)
								}
							}
							name := "front feet"
							switch {
							case k == r.Rear:
								name = "rear feet"
							case k != r.Front:
								name = ""
							}
							if len(got) == 0 || !slices.Equal(got[1:], want) || name != "" && got[0] != name || name == "" && !strings.HasSuffix(got[0], "…") && (strings.HasSuffix(got[0], " feet") != (further == "300") || got[0] == "front" || got[0] == "rear") {
								t.Errorf("%s, %s, stock %.30q: the feet at %.0f mm say %q, not %q", v.where, v.name, stock, f.Station, got, want)
							}
						}
					}
				}
			}
		}
	}
	if looked["push"] < 20 || looked["leave"] < 5 || looked["stays"] < 20 || looked["take"] < 10 || looked["add"] < 10 {
		t.Errorf("looked at %v", looked)
	}
}
