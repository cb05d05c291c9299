package workbook

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// An expr is a formula with its value, so that what is written can be held against what was computed before it is.
type expr struct {
	s    string
	v    float64
	prec int    // of the outermost operation: 0 atom, 1 product, 2 sum
	text string // value of a formula that gives a text
}

func atom(s string, v float64) expr { return expr{s: s, v: v} }

// constant is a number in a formula.
func constant(v float64) expr {
	s := strconv.FormatFloat(v, 'g', -1, 64)
	if a := math.Abs(v); a == 0 || a >= 1e-4 && a < 1e15 {
		s = strconv.FormatFloat(v, 'f', -1, 64)
	}
	e := expr{s: strings.ToUpper(s), v: v}
	if v < 0 {
		e.s = "(" + e.s + ")"
	}
	return e
}

func wrap(e expr, prec int) string {
	if e.prec >= prec {
		return "(" + e.s + ")"
	}
	return e.s
}

func add(a, b expr) expr { return expr{s: a.s + "+" + b.s, v: a.v + b.v, prec: 2} }
func sub(a, b expr) expr { return expr{s: a.s + "-" + wrap(b, 2), v: a.v - b.v, prec: 2} }
func mul(a, b expr) expr {
	if b.s == "1" {
		return a
	}
	return expr{s: wrap(a, 2) + "*" + wrap(b, 2), v: a.v * b.v, prec: 1}
}
func div(a, b expr) expr {
	if b.s == "1" {
		return a
	}
	return expr{s: wrap(a, 2) + "/" + wrap(b, 1), v: a.v / b.v, prec: 1}
}
func neg(a expr) expr { return expr{s: "-" + wrap(a, 2), v: -a.v, prec: 2} }
func hypot(a, b expr) expr {
	return expr{s: "SQRT(" + wrap(a, 1) + "^2+" + wrap(b, 1) + "^2)", v: math.Sqrt(a.v*a.v + b.v*b.v)}
}
func maxOf(a, b expr) expr { return expr{s: "MAX(" + a.s + "," + b.s + ")", v: math.Max(a.v, b.v)} }

// live writes the formulas of the Results sheet over the Machines sheet.
//
// It covers reverse indicator, two rims, rim and face, straightedge and gap, and given lines, whose readings stand in columns. There each of the
// two sweeps fixes two of the line's four numbers by itself, so the fit of all readings is two small ones, and each is a sum of the
// readings with fixed shares. A formula is written only if it gives, worked out here as it stands, what the calculation gave; else the
// row keeps plain values and its State says so.
type live struct {
	w    *writer
	in   *inputSheet
	at   map[string][]int // columns of the Machines sheet by key
	thin units.Unit
	slp  units.Unit

	sharedRef string // the condition that what all rows share is unchanged
}

// The steps, as columns at the right end of the Results sheet.
var workingColumns = []struct {
	key, head string
	u         units.Unit
}{
	{"v1", "First plane, V [mm]", units.MM}, {"h1", "First plane, H [mm]", units.MM}, {"x1", "Station of the first plane [mm]", units.MM},
	{"v2", "Second: height V [mm], or slope V of the faces [mm/m]", units.None}, {"h2", "Second: H [mm], or slope H [mm/m]", units.None}, {"x2", "Station of the second plane [mm]", units.MM},
	{"xf", "Station of the front feet [mm]", units.MM}, {"xr", "Station of the rear feet [mm]", units.MM}, {"flex", "Spacer length [mm]", units.MM},
}

// formulasState is the key of the column that says whether a row is formulas: no result has it.
const formulasState = "formulas state"

func newLive(w *writer, cols *[]resultColumn) *live {
	l := &live{w: w, in: w.machines, at: map[string][]int{}, thin: job.QThickness.Unit(w.ev.Inch()), slp: job.QSlope.Unit(w.ev.Inch())}
	for c := range l.in.cols {
		if info := l.in.cols[c].info; info != nil {
			l.at[info.Key] = append(l.at[info.Key], c)
		}
	}
	for _, x := range workingColumns {
		*cols = append(*cols, resultColumn{head: x.head, key: x.key, index: -1, unit: x.u, width: 11, working: true})
	}
	*cols = append(*cols, resultColumn{head: "State of the formulas", key: formulasState, index: -1, text: true, width: 40})
	return l
}

// A liveRow is one row being put into formulas.
type liveRow struct {
	*live
	row   int // index in the table
	fixed []string
	bad   string // why it can have no formulas

	res   *evaluate.RowResult
	n     int // its row of the sheet of results
	cols  []resultColumn
	place map[string]int  // in cols, of what is no ±, by key
	fs    map[string]expr // the formulas, by key of the column, in its unit
	whole bool            // every formula gives a number
}

// has says whether a column is filled on the row.
func (r *liveRow) has(key string) bool { return r.column(key) >= 0 }

func (r *liveRow) column(key string) int {
	for _, c := range r.at[key] {
		if strings.TrimSpace(r.in.t.Cell(r.row, c)) != "" {
			return c
		}
	}
	return -1
}

// cell is a quantity of the row in mm or mm/m: the cell times its unit, or, for a text such as 4 1/2 in, the number it stands for.
func (r *liveRow) cell(key string) expr {
	c := r.column(key)
	if c < 0 {
		r.bad = words.FormulasEmptyColumn.String()
		return constant(math.NaN())
	}
	ic := &r.in.cols[c]
	s := r.in.t.Cell(r.row, c)
	mark := r.w.ev.Decimal()
	kind := ic.info.Quantity.Kind()
	linear := ic.unit != units.None && ic.unit.ToBase(0) == 0 && ic.unit.ToBase(2) == 2*ic.unit.ToBase(1)
	if x, _, ok := asNumber(s, mark); ok && ic.number && linear && !r.in.texts[spot{r.in.first + r.row - 1, c}] {
		ref := quoteRef(r.in.p.name) + "!" + cellName(c, r.in.first+r.row)
		return mul(atom(ref, x), constant(ic.unit.ToBase(1)))
	}
	v, err := units.Parse(s, kind, ic.unit, mark)
	if err != nil {
		r.bad = words.FormulasNotRead.Say(ic.info.Name)
		return constant(math.NaN())
	}
	r.fixed = append(r.fixed, ic.info.Name)
	return constant(v.Base)
}

// quoteRef is a sheet's name in a formula.
func quoteRef(name string) string {
	for i := 0; i < len(name); i++ {
		if c := name[i] | 0x20; c < 'a' || c > 'z' {
			return quoteSheet(name)
		}
	}
	return name
}

// components is what the readings of a family fit to cos φ and sin φ, sag taken off.
func (r *liveRow) components(family, sag string) (a, b expr) {
	suffix := [5]string{"12", "3", "6", "9", "12_again"}
	u, v := [5]int{1, 0, -1, 0, 1}, [5]int{0, 1, 0, -1, 0}
	var have []int
	for i := range suffix {
		if r.has(family + "_" + suffix[i]) {
			have = append(have, i)
		}
	}
	n, su, sv, suu, svv := len(have), 0, 0, 0, 0
	for _, i := range have {
		su, sv, suu, svv = su+u[i], sv+v[i], suu+u[i]*u[i], svv+v[i]*v[i]
	}
	// Least squares with a constant, in whole numbers: shares of the readings over one denominator.
	A, B, C := n*suu-su*su, n*svv-sv*sv, -su*sv
	den := A*B - C*C
	if den == 0 {
		r.bad = words.FormulasFewPositions.Say(family)
		return constant(math.NaN()), constant(math.NaN())
	}
	form := func(share func(i int) int) expr {
		g := den
		for _, i := range have {
			g = gcd(g, share(i))
		}
		if (den < 0) != (g < 0) {
			g = -g
		}
		var plus, minus []expr
		for _, i := range have {
			k := share(i) / g
			if k == 0 {
				continue
			}
			e := mul(r.cell(family+"_"+suffix[i]), constant(math.Abs(float64(k))))
			if k > 0 {
				plus = append(plus, e)
			} else {
				minus = append(minus, e)
			}
		}
		var e expr
		switch {
		case len(plus) > 0:
			e = plus[0]
			plus = plus[1:]
		case len(minus) > 0:
			e = neg(minus[0])
			minus = minus[1:]
		default:
			return constant(0)
		}
		for _, x := range plus {
			e = add(e, x)
		}
		for _, x := range minus {
			e = sub(e, x)
		}
		return div(e, constant(float64(den/g)))
	}
	a = form(func(i int) int { return B*(n*u[i]-su) - C*(n*v[i]-sv) })
	b = form(func(i int) int { return A*(n*v[i]-sv) - C*(n*u[i]-su) })
	if sag != "" && r.has(sag) {
		a = add(a, div(r.cell(sag), constant(2)))
	}
	return a, b
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// distance is a distance from the coupling centre, by itself or by tape.
func (r *liveRow) distance(key string) expr {
	if r.has(key) {
		return r.cell(key)
	}
	switch key {
	case "coupling_to_stationary_plane":
		return sub(r.cell("stationary_plane_to_movable_plane"), r.cell("coupling_to_movable_plane"))
	case "coupling_to_movable_plane":
		return sub(r.cell("stationary_plane_to_movable_plane"), r.cell("coupling_to_stationary_plane"))
	case "coupling_to_front_feet":
		return add(r.cell("movable_plane_to_front_feet"), r.distance("coupling_to_movable_plane"))
	}
	return r.cell(key)
}

// row gives the formulas of one row by the key of the column; values in the column's unit. Row i of the table stands in row n of the sheet.
func (l *live) row(i int, res *evaluate.RowResult, n int, cols []resultColumn) map[string]expr {
	fs, guards := l.formulas(i, res, n, cols)
	fs[formulasState] = l.state(i, fs[formulasState].text, guards)
	return fs
}

// formulas gives them without the State's, of which it has the text, and with what says that they still give what was calculated.
func (l *live) formulas(i int, res *evaluate.RowResult, n int, cols []resultColumn) (fs map[string]expr, same []condition) {
	r := &liveRow{live: l, row: i, res: res, n: n, cols: cols, place: map[string]int{}, fs: map[string]expr{}, whole: true}
	for k := range cols {
		if !cols[k].pm {
			r.place[cols[k].key] = k
		}
	}
	why := r.hasNone()
	if why == "" {
		why = r.work()
	}
	if why == "" {
		why = r.held()
	}
	if why != "" {
		return map[string]expr{formulasState: {text: words.FormulasValuesWhy.Say(why)}}, nil
	}
	text := words.FormulasAll.String()
	if len(r.fixed) > 0 {
		text += words.FormulasFixed.Say(strings.Join(r.fixed, ", "))
	}
	same = r.guards()
	r.fs[formulasState] = expr{text: text}
	return r.fs, same
}

// hasNone says why a row has values and no formulas, before any is tried; "" where nothing stands against them.
func (r *liveRow) hasNone() string {
	res := r.res
	switch {
	case !res.HasLine():
		return words.FormulasNoLine.String()
	case res.Plan != nil:
		return words.FormulasPlan.String()
	case res.Growth != nil:
		return words.FormulasGrowth.String()
	case res.FromRounds():
		return words.FormulasRounds.String()
	case res.FromStationary:
		return words.FormulasFromStationary.String()
	case res.ColdSetting && !r.has("cold_offset_v"):
		return words.FormulasWantedSet.String()
	case res.Feet != nil && !r.has("coupling_to_front_feet") && !r.has("movable_plane_to_front_feet"):
		return words.FormulasFeetSheet.String()
	case slices.ContainsFunc(res.Sweeps, func(s evaluate.SweepInfo) bool { return strings.HasSuffix(s.Name, "sweep") }):
		return words.FormulasOneCell.String()
	case len(res.Sweeps) > 0 && !r.has(familyKey(res.Sweeps[0].Name)+"_12") && !r.has(familyKey(res.Sweeps[0].Name)+"_6"):
		return words.FormulasOtherPlace.String()
	}
	return ""
}

// put writes an expression in mm or mm/m into its column and returns the cell as an expression of the same.
func (r *liveRow) put(key string, e expr) expr {
	c := &r.cols[r.place[key]]
	f := 1.0
	if c.unit != units.None && c.unit != units.Percent {
		f = c.unit.ToBase(1)
	}
	e = div(e, constant(f))
	r.fs[key] = e
	r.whole = r.whole && !math.IsNaN(e.v)
	return mul(atom(cellName(c.position, r.n), e.v), constant(f))
}

// written is a cell that put has written, in the column's own unit; ok is false where it has not.
func (r *liveRow) written(key string) (e expr, ok bool) {
	x, ok := r.fs[key]
	return atom(cellName(r.cols[r.place[key]].position, r.n), x.v), ok
}

// work writes the formulas, and returns why there can be none.
func (r *liveRow) work() (why string) {
	l, ok := r.found()
	switch {
	case !ok:
		return words.FormulasMethods.String()
	case r.bad != "":
		return r.bad
	}
	r.put("offset", hypot(l.offV, l.offH))
	r.put("slope", hypot(l.slopeV, l.slopeH))
	if !math.IsNaN(r.res.Wanted.TV) {
		r.wanted(r.res, r.put, l.offV, l.offH)
	}
	if _, ok := r.fs["wanted_tv"]; ok && r.bad == "" {
		r.against(l)
	}
	if r.bad == "" && !r.whole {
		r.bad = words.FormulasMissing.String()
	}
	return r.bad
}

// A liveLine is a line as expressions: offsets at the coupling centre in mm, slopes in mm/m.
type liveLine struct{ offV, offH, slopeV, slopeH expr }

var thousand = constant(1000)

// found writes the line as found; ok is false for a method that has no formulas.
func (r *liveRow) found() (l liveLine, ok bool) {
	var families []string
	for _, s := range r.res.Sweeps {
		families = append(families, familyKey(s.Name))
	}
	switch m := r.res.Method; {
	case m == job.GivenLineMethod:
		given := func(slope, gap string) expr {
			if r.has(gap) {
				return div(mul(neg(r.cell(gap)), thousand), r.cell("face_diameter"))
			}
			return r.cell(slope)
		}
		l.slopeV, l.slopeH = r.put("slope_v", given("given_slope_v", "given_gap_12_6")), r.put("slope_h", given("given_slope_h", "given_gap_3_9"))
		l.offV, l.offH = r.put("offset_v", r.cell("given_offset_v")), r.put("offset_h", r.cell("given_offset_h"))
		return l, true
	case len(families) != 2:
		return l, false
	case m == job.ReverseIndicator:
		return r.twoRims("movable_rim", "stationary_rim"), true
	case m == job.TwoRims:
		return r.twoRims("movable_rim", "second_rim"), true
	case m == job.RimAndFace:
		sag, sign := "face_sag_6", 1.0
		if families[1] == "stationary_face" {
			sag = "stationary_face_sag_6"
		}
		if c := r.column("face_side"); c >= 0 {
			if w := strings.ToLower(strings.TrimSpace(r.in.t.Cell(r.row, c))); w != "front" && w != "f" && w != "coupling side" {
				sign = -1
			}
		}
		return r.rimAndFace(families[0], families[1], sag, sign), true
	case m == job.StraightedgeAndGap:
		return r.rimAndFace("step", "gap", "", -1), true
	}
	return l, false
}

// rim is what the readings of a rim say of the plane they are taken in: mm and, from the coupling centre, mm.
func (r *liveRow) rim(family string) (v, h, x expr) {
	switch family {
	case "stationary_rim":
		a, b := r.components(family, "stationary_sag_6")
		return neg(a), neg(b), neg(r.distance("coupling_to_stationary_plane"))
	case "second_rim":
		a, b := r.components(family, "second_rim_sag_6")
		return a, b, r.distance("coupling_to_second_plane")
	case "step":
		a, b := r.components(family, "")
		return a, b, r.distance("coupling_to_movable_plane")
	}
	a, b := r.components(family, "movable_sag_6")
	return a, b, r.distance("coupling_to_movable_plane")
}

// firstRim writes a rim into the columns of the first.
func (r *liveRow) firstRim(family string) (v, h, x expr) {
	v, h, x = r.rim(family)
	return r.put("v1", v), r.put("h1", h), r.put("x1", x)
}

// through writes the offsets of a line of known slopes through a plane.
func (r *liveRow) through(l liveLine, v, h, x expr) liveLine {
	l.offV = r.put("offset_v", sub(v, div(mul(l.slopeV, x), thousand)))
	l.offH = r.put("offset_h", sub(h, div(mul(l.slopeH, x), thousand)))
	return l
}

// twoRims writes the line through two planes.
func (r *liveRow) twoRims(one, other string) (l liveLine) {
	v1, h1, x1 := r.firstRim(one)
	v2, h2, x2 := r.rim(other)
	v2, h2, x2 = r.put("v2", v2), r.put("h2", h2), r.put("x2", x2)
	l.slopeV = r.put("slope_v", div(mul(sub(v1, v2), thousand), sub(x1, x2)))
	l.slopeH = r.put("slope_h", div(mul(sub(h1, h2), thousand), sub(x1, x2)))
	return r.through(l, v1, h1, x1)
}

// rimAndFace writes the line through one plane with the slopes of a face; sign is −1 where the dial reads the other way.
func (r *liveRow) rimAndFace(rim, face, sag string, sign float64) (l liveLine) {
	v1, h1, x1 := r.firstRim(rim)
	a, b := r.components(face, sag)
	d := r.cell("face_diameter")
	v2, h2 := r.put("v2", div(mul(a, constant(sign*2000)), d)), r.put("h2", div(mul(b, constant(sign*2000)), d))
	l.slopeV, l.slopeH = r.put("slope_v", v2), r.put("slope_h", h2)
	return r.through(l, v1, h1, x1)
}

// against writes what stands against the wanted line: shims and moves, limits, and the share of them.
func (r *liveRow) against(l liveLine) {
	res := r.res
	from := func(e expr, wanted string) expr {
		w, _ := r.written(wanted)
		return sub(e, w)
	}
	dv, dh, tv, th := from(l.offV, "wanted_dv"), from(l.offH, "wanted_dh"), from(l.slopeV, "wanted_tv"), from(l.slopeH, "wanted_th")
	if res.Front >= 0 && res.Rear >= 0 {
		x := r.put("xf", r.distance("coupling_to_front_feet"))
		y := r.put("xr", add(x, r.cell("front_to_rear_feet")))
		for _, f := range []struct {
			name string
			x    expr
		}{{"front", x}, {"rear", y}} {
			r.put(f.name+"_shim", neg(add(dv, div(mul(tv, f.x), thousand))))
			r.put(f.name+"_move", neg(add(dh, div(mul(th, f.x), thousand))))
		}
	}
	r.limits(res, r.fs, r.put)
	lo, hasO := r.written("limit_offset")
	ls, hasS := r.written("limit_slope")
	judged := !math.IsNaN(res.Calc.Found.Share)
	hundred := constant(100)
	if r.has("spacer_length") && !math.IsNaN(res.Calc.Found.FlexS.Total) {
		length := r.put("flex", r.cell("spacer_length"))
		half := func(t expr) expr { return div(t, constant(2)) }
		k := func(d expr) expr { return div(mul(d, thousand), length) }
		s := r.put("flex_stationary", hypot(add(k(dv), half(tv)), add(k(dh), half(th))))
		m := r.put("flex_movable", hypot(sub(half(tv), k(dv)), sub(half(th), k(dh))))
		if res.Coupling == tables.Spacer && hasS && judged {
			r.put("share_of_limit", mul(div(maxOf(s, m), ls), hundred))
		}
	}
	switch {
	case !judged || !hasS:
	case res.Coupling == tables.Universal:
		r.put("share_of_limit", mul(div(hypot(tv, th), ls), hundred))
	case res.Coupling != tables.Spacer && hasO:
		r.put("share_of_limit", mul(maxOf(div(hypot(dv, dh), lo), div(hypot(tv, th), ls)), hundred))
	}
}

// held holds the formulas against the calculation, to a millionth of a micrometre or as many parts of the number, and says which would not give the same. One of a number that the
// calculation does not give, since a check failed, goes.
func (r *liveRow) held() string {
	for key, e := range r.fs {
		c := &r.cols[r.place[key]]
		if c.working {
			continue
		}
		want, _, known := results.NumberOf(r.res, key)
		switch key {
		case "wanted_dv":
			want = r.res.Wanted.DV
		case "wanted_dh":
			want = r.res.Wanted.DH
		case "wanted_tv":
			want = r.res.Wanted.TV
		case "wanted_th":
			want = r.res.Wanted.TH
		case "limit_offset":
			want = r.res.Limits.Offset
		case "limit_slope":
			want = r.res.Limits.Slope
		default:
			if !known {
				continue
			}
		}
		if math.IsNaN(want) {
			delete(r.fs, key)
			continue
		}
		want = c.unit.FromBase(want)
		if d := math.Abs(e.v - want); !(d <= 1e-9*math.Abs(want)+1e-9) {
			return words.FormulasNotSame.Say(c.head)
		}
	}
	return ""
}

// guards are the conditions that the cells still give what was calculated, which the values that are no formulas belong to.
func (r *liveRow) guards() (same []condition) {
	keys := []string{"offset_v", "offset_h", "slope_v", "slope_h"}
	if _, ok := r.fs["share_of_limit"]; ok {
		keys = append(keys, "share_of_limit")
	}
	if _, ok := r.fs["rear_shim"]; ok {
		keys = append(keys, "front_shim", "rear_shim", "front_move", "rear_move")
	}
	for _, key := range keys {
		c := &r.cols[r.place[key]]
		same = append(same, "ABS("+cellName(c.position, r.n)+"-"+constant(c.unit.FromBase(valueOf(r.res, key))).s+")<1E-6")
	}
	return same
}

func valueOf(res *evaluate.RowResult, key string) float64 {
	v, _, _ := results.NumberOf(res, key)
	return v
}

// familyKey is the key of a family of columns from its name.
func familyKey(name string) string { return strings.ReplaceAll(strings.ToLower(name), " ", "_") }

// wanted puts where the movable shaft should stand cold.
func (r *liveRow) wanted(res *evaluate.RowResult, put func(string, expr) expr, offV, offH expr) {
	if res.ColdSetting {
		for p, plane := range []string{"v", "h"} {
			d := [2]expr{offV, offH}[p] // left where it is
			if r.has("cold_offset_" + plane) {
				d = r.cell("cold_offset_" + plane)
			}
			put("wanted_d"+plane, d)
			put("wanted_t"+plane, r.cell("cold_slope_"+plane))
		}
		return
	}
	for p, plane := range []string{"v", "h"} {
		mov0, mov1 := r.growth("growth_movable_front_"+plane, "growth_movable_rear_"+plane, false)
		st0, st1 := r.growth("growth_stationary_near_"+plane, "growth_stationary_far_"+plane, true)
		d, t := sub(st0, mov0), sub(st1, mov1)
		dKey, tKey := "wanted_d"+plane, "wanted_t"+plane
		if r.has("running_offset_" + plane) {
			d = add(d, r.cell("running_offset_"+plane))
		} else if res.Coupling == tables.Universal {
			d = [2]expr{offV, offH}[p] // left where it is
		}
		if r.has("running_slope_" + plane) {
			t = add(t, r.cell("running_slope_"+plane))
		}
		put(dKey, tidy(d))
		put(tKey, tidy(t))
	}
}

// tidy drops a sum of two plain zeros.
func tidy(e expr) expr {
	if e.s == "0-0" {
		return constant(0)
	}
	return e
}

// growth is a machine's growth as a line: at the coupling centre and its slope.
func (r *liveRow) growth(near, far string, stationary bool) (at0, slope expr) {
	if !r.has(near) && !r.has(far) {
		return constant(0), constant(0)
	}
	a, b := r.cell(near), r.cell(far)
	if r.bad != "" {
		return a, b
	}
	if stationary && (!r.has("stationary_near_support") || !r.has("stationary_far_support")) || !stationary && !r.has("front_to_rear_feet") {
		if a.v == b.v {
			return a, constant(0)
		}
	}
	var xa, span expr // station of the near support, and from it to the far one
	if stationary {
		n, f := r.cell("stationary_near_support"), r.cell("stationary_far_support")
		xa, span = neg(n), sub(n, f)
	} else {
		xa, span = r.distance("coupling_to_front_feet"), r.cell("front_to_rear_feet")
	}
	k := div(sub(b, a), span)
	return sub(a, mul(k, xa)), mul(k, constant(1000))
}

// limits puts the limits: the cell of the row's own, else the number of the set.
func (r *liveRow) limits(res *evaluate.RowResult, fs map[string]expr, put func(string, expr) expr) {
	if res.Limits.OwnOffset {
		put("limit_offset", r.cell("offset_limit"))
	} else if !math.IsNaN(res.Limits.Offset) {
		fs["limit_offset"] = expr{v: res.Limits.Offset}
	}
	if res.Limits.OwnSlope {
		put("limit_slope", r.cell("slope_limit"))
	} else if !math.IsNaN(res.Limits.Slope) {
		fs["limit_slope"] = expr{v: res.Limits.Slope}
	}
}
