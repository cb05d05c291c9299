package calculators

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// barMaterials are stiffness in MPa and density in kg/m³ in the order of the choices: common practice, no source.
var barMaterials = [...]Material{{Modulus: 200e3, Density: 7850}, {Modulus: 193e3, Density: 8000}, {Modulus: 69e3, Density: 2700}}

func evalDroop(r *run) {
	b := calc.Bar{OD: r.positive("od"), ID: r.notNegative("id"), Length: r.positive("length"), Tip: r.notNegative("tip_mass"),
		E: r.positive("e"), Density: r.notNegative("density")}
	if m := r.choice("material"); m >= 0 {
		if r.state[r.in("e")] == stateBlank {
			b.E = barMaterials[m].Modulus
		}
		if r.state[r.in("density")] == stateBlank {
			b.Density = barMaterials[m].Density
		}
	}
	if b.ID >= b.OD {
		r.fail("id", words.CalcProblemNotLess.Say("Inside diameter", "Outside diameter"), "")
	}
	d, ok := b.Droop()
	if !ok {
		return
	}
	if b.Length < 4*b.OD {
		r.problem(job.Note, r.in("length"), words.CalcProblemShortBar.String(), "")
	} else if d.Total > 0.1*b.Length {
		r.problem(job.Warning, r.in("length"), words.CalcProblemFarBent.String(), words.CalcHintFarBent.String())
	}
	r.put("droop", d.Total)
	r.put("sag_at_6", d.DialAtSix)
	r.put("own", d.Own)
	r.put("tip", d.Tip)
	r.put("bar_mass", d.Mass)
}

func evalTIR(r *run) {
	keys := [4]string{"r12", "r3", "r6", "r9"}
	var v [4]float64
	have, bad := 0, r.state[r.in("tir")] == stateBad
	for i, k := range keys {
		v[i] = r.f(k)
		if r.given(k) {
			have++
		}
		bad = bad || r.state[r.in(k)] == stateBad
	}
	if r.given("tir") {
		if have > 0 {
			r.fail("tir", words.CalcProblemTwoWays.String(), words.CalcHintTir.String())
			return
		}
		t := r.notNegative("tir")
		r.put("offset", t/2)
		r.put("full", t)
		return
	}
	if have < 3 {
		if !bad {
			for _, k := range keys {
				if !r.given(k) {
					r.fail(k, words.ProblemMissing.Say(r.c.Inputs[r.in(k)].Title), words.CalcHintThree.String())
				}
			}
		}
		return
	}
	vv, hh, balance := calc.HalfDifferences(v[0], v[1], v[2], v[3], r.f("sag"))
	if bad {
		return // not to be put in from the others: it was meant to say something
	}
	if rides := r.choice("rides"); rides < 0 {
		return
	} else if rides == ridesStationary {
		vv, hh = -vv, -hh
	}
	if r.f("sag") > 0 {
		r.problem(job.Warning, r.in("sag"), words.ProblemSagPositive.String(), "")
	}
	vec := calc.Vector{V: vv, H: hh, Total: math.Hypot(vv, hh)}
	r.put("offset", vec.Total)
	r.put("full", 2*vec.Total)
	r.put("offset_v", vv)
	r.put("offset_h", hh)
	r.put("balance", balance)
	if clock := vec.Clock(); !math.IsNaN(clock) {
		r.put("direction", clock)
		r.say("clock", clockWords(clock))
	}
}

// clockWords tells an angle as the hour and minute on a dial: 135 is 4:30.
func clockWords(deg float64) string {
	m := int(math.Round(deg * 2)) // minutes of the hour hand: 30° an hour
	h := m / 60 % 12
	if h == 0 {
		h = 12
	}
	s := strconv.Itoa(m % 60)
	if len(s) < 2 {
		s = "0" + s
	}
	return words.WordClock.Say(strconv.Itoa(h) + ":" + s)
}

func evalGap(r *run) {
	gap, d, slope, other := r.f("gap"), r.positive("diameter"), r.f("slope"), r.positive("other")
	switch {
	case r.given("slope"):
		if r.given("gap") {
			r.fail("slope", words.CalcProblemTwoWays.String(), words.CalcHintGap.String())
			return
		}
		r.put("diameter_gap", slope*d/1000)
	case r.state[r.in("slope")] == stateBad:
		return
	default:
		if !r.need("gap", "diameter") {
			return
		}
		slope = gap / d * 1000
	}
	r.put("slope", slope)
	r.put("degrees", math.Atan(slope/1000)*(180/math.Pi))
	r.put("gap", slope*other/1000)
}

// part is value i of a list that holds one for all or one a part.
func part(list []float64, i int) float64 {
	if len(list) == 1 {
		i = 0
	}
	if i >= len(list) {
		return math.NaN()
	}
	return list[i]
}

func evalGrowth(r *run) {
	heights := r.lists[r.in("height")]
	n := len(heights)
	if n == 0 {
		return
	}
	ok := true
	fits := func(key string, have int) {
		if have != 1 && have != n {
			r.fail(key, words.CalcProblemCount.Say(have, n), words.CalcHintCount.String())
			ok = false
		}
	}
	list := func(key string) []float64 {
		if !r.given(key) {
			ok = ok && r.state[r.in(key)] != stateBad
			return nil
		}
		fits(key, len(r.lists[r.in(key)]))
		return r.lists[r.in(key)]
	}
	for i, h := range heights {
		if h < 0 {
			r.fail("height", words.CalcProblemPart.Say(i+1, words.ProblemTooSmall.Say(words.CalcProblemHeightBelow.String())), words.HintNotNegative.String())
			ok = false
		}
	}
	alpha := list("alpha")
	var found []Material
	if alpha == nil && ok {
		found = r.materials(n, &ok)
		for i := range found {
			alpha = append(alpha, found[i].Expansion)
		}
	}
	rise := list("rise")
	cold, running := list("cold"), list("running")
	switch {
	case rise != nil && (cold != nil || running != nil):
		r.fail("rise", words.CalcProblemTwoWays.String(), words.CalcHintRise.String())
		return
	case rise == nil && ok && cold == nil && running == nil:
		r.fail("rise", words.ProblemMissing.Say("Rise of temperature"), words.CalcHintRiseOr.String())
		return
	case rise == nil && ok && !r.need("cold", "running"):
		return
	}
	if !ok {
		return
	}
	parts := make([]calc.Part, n)
	each := ""
	out := &r.c.Outputs[r.out("growth")]
	for i := range parts {
		parts[i] = calc.Part{Height: heights[i], Expansion: part(alpha, i), Rise: part(rise, i)}
		if rise == nil {
			parts[i].Rise = part(running, i) - part(cold, i)
		}
		if len(found) > 0 && math.IsNaN(parts[i].Expansion) { // means by temperature
			if rise != nil {
				r.fail("rise", words.CalcProblemPart.Say(i+1, words.CalcProblemMeans.String()), words.CalcHintRiseOr.String())
				return
			}
			m := &found[min(i, len(found)-1)]
			if parts[i].Expansion = m.Mean(part(cold, i), part(running, i)); !finite(parts[i].Expansion) {
				r.fail("material", words.CalcProblemPart.Say(i+1, words.CalcProblemNoMean.String()), words.CalcHintAlpha.String())
				return
			}
		}
		if i > 0 {
			each += "; "
		}
		each += out.text(calc.StackGrowth(parts[i:i+1]), r.set.Inch, r.set.Decimal)
		if a := parts[i].Expansion; a < 0 || a > 100 {
			r.problem(job.Warning, r.in("alpha"), words.CalcProblemOddAlpha.Say(i+1), words.CalcHintAlpha.String())
		}
	}
	r.put("growth", calc.StackGrowth(parts))
	if n > 1 {
		r.say("parts", each+" "+out.Unit(r.set.Inch))
	}
}

// materials looks the names of the parts up.
func (r *run) materials(n int, ok *bool) []Material {
	i := r.in("material")
	if r.state[i] != stateRead {
		r.fail("alpha", words.ProblemMissing.Say("Coefficients"), words.CalcHintAlpha.String())
		*ok = false
		return nil
	}
	find := r.set.Material
	if find == nil {
		find = FindMaterial
	}
	names := strings.Split(r.res.Used[i], ";")
	if len(names) != 1 && len(names) != n {
		r.fail("material", words.CalcProblemCount.Say(len(names), n), words.CalcHintCount.String())
		*ok = false
		return nil
	}
	var out []Material
	for k, name := range names {
		name = strings.TrimSpace(name)
		if find == nil {
			r.fail("material", words.CalcProblemNoTable.String(), words.CalcHintAlpha.String())
			*ok = false
			return nil
		}
		m, found := find(name)
		if !found || !finite(m.Expansion) && m.Mean == nil {
			r.fail("material", words.CalcProblemPart.Say(k+1, words.CalcProblemNoMaterial.Say(job.Quote(name))), words.CalcHintAlpha.String())
			*ok = false
			continue
		}
		out = append(out, m)
	}
	return out
}

// evalBolt works with the threads, classes and proof loads of package tables, so that the look-up says the same.
func evalBolt(r *run) {
	b, class := r.thread(), r.class()
	d, area := math.NaN(), math.NaN()
	if b != nil {
		d, area = b.D, b.Area
		r.put("area", area)
	}
	k, friction := r.nutFactor(class)
	scatter := r.notNegative("scatter")
	if scatter >= 1 {
		r.fail("scatter", words.ProblemTooSmall.Say(job.Quote(r.res.Used[r.in("scatter")])), words.CalcHintScatter.String())
		scatter = math.NaN()
	}
	proof := r.positive("proof_load")
	if r.state[r.in("proof_load")] == stateBlank {
		stress := r.positive("proof_stress")
		if proof = stress * area; r.state[r.in("proof_stress")] == stateBlank {
			proof = r.classLoad(b, class)
		}
	}
	torque, preload, share := r.notNegative("torque"), r.notNegative("preload"), r.notNegative("share")
	ways := 0
	for _, key := range []string{"torque", "preload", "share"} {
		if r.state[r.in(key)] != stateBlank {
			if ways++; ways > 1 {
				r.fail(key, words.CalcProblemTwoWays.String(), words.CalcHintBolt.String())
				return
			}
		}
	}
	low, high := math.NaN(), math.NaN()
	switch {
	case ways == 0:
		r.fail("torque", words.CalcProblemNoWay.String(), words.CalcHintBolt.String())
	case r.state[r.in("torque")] == stateBlank:
		if r.given("share") {
			if math.IsNaN(proof) && r.state[r.in("proof_load")] == stateBlank && r.state[r.in("proof_stress")] == stateBlank && r.state[r.in("grade")] == stateBlank {
				r.fail("grade", words.ProblemMissing.Say("Class"), words.CalcHintProof.String())
			}
			preload = share * proof
		}
		torque = calc.BoltTorque(preload, k, d)
		fallthrough
	default:
		var f float64
		f, low, high = calc.BoltPreload(torque, k, d, scatter)
		if math.IsNaN(preload) {
			preload = f
		}
	}
	r.put("proof", proof)
	r.put("torque", torque)
	r.put("preload", preload)
	r.put("low", low)
	r.put("high", high)
	r.put("share", preload/proof)
	r.put("share_high", high/proof)
	if part := preload / proof; friction != nil && finite(part) {
		r.say("books", words.CalcAnswerBooks.Say(significant(friction.Low, 3, r.set.Decimal), significant(friction.High, 3, r.set.Decimal), friction.Name, significant(100*part*friction.K/friction.High, 2, r.set.Decimal), significant(100*part*friction.K/friction.Low, 2, r.set.Decimal)))
	}
	if preload > proof {
		r.problem(job.Warning, -1, words.CalcProblemOverProof.String(), words.CalcHintOverProof.String())
	} else if high/proof > tables.UsualShare/(1-tables.UsualScatter)*(1+1e-9) { // what usual practice makes is no reason to warn
		r.problem(job.Warning, -1, words.CalcProblemMayBeOver.String(), words.CalcHintOverProof.String())
	}
}

// thread is the bolt of the input Thread, nil with an error.
func (r *run) thread() *tables.Bolt {
	if !r.given("thread") {
		return nil
	}
	b, cause := tables.ReadBolt(r.res.Used[r.in("thread")])
	if cause != "" {
		r.fail("thread", cause, words.CalcHintThread.String())
		return nil
	}
	return &b
}

// class is the word of the input Class, "" none.
func (r *run) class() string {
	if i := r.choice("grade"); i >= 0 {
		return r.c.Inputs[r.in("grade")].ChoiceWords()[i]
	}
	return ""
}

// classLoad is the proof load of a bolt in its class, in N; NaN with an error where the class has none for it.
func (r *run) classLoad(b *tables.Bolt, class string) float64 {
	if b == nil || class == "" {
		return math.NaN()
	}
	if cause := b.ClassProblem(class); cause != "" {
		r.fail("grade", cause, words.CalcHintProof.String())
		return math.NaN()
	}
	if tables.Stainless(class) {
		r.problem(job.Note, r.in("grade"), words.CalcProblemStainless.String(), "")
	}
	load, _, _ := b.ProofLoad(class)
	return load
}

// nutFactor is K: as typed, or of the finish, and then what books print for it; without either of the first finish, or of the first that stainless
// bolts have.
func (r *run) nutFactor(class string) (k float64, f *tables.Friction) {
	if r.state[r.in("finish")] == stateBad || r.state[r.in("k")] == stateBad {
		return math.NaN(), nil
	}
	if k = r.positive("k"); r.state[r.in("k")] != stateBlank {
		r.put("k", k)
		return k, nil
	}
	list := tables.Frictions()
	i := r.choice("finish")
	if i < 0 {
		i = slices.IndexFunc(list, func(f tables.Friction) bool { return f.Stainless == tables.Stainless(class) })
	}
	r.put("k", list[i].K)
	return list[i].K, &list[i]
}

func evalFlex(r *run) {
	l := calc.Line{DV: r.f("offset_v"), TV: r.f("slope_v"), DH: r.f("offset_h"), TH: r.f("slope_h")}
	length, allowed := r.positive("length"), r.positive("allowed")
	a := calc.Flex(&l, length)
	r.put("stationary", a.S)
	r.put("movable", a.M)
	r.put("stationary_v", a.SV)
	r.put("stationary_h", a.SH)
	r.put("movable_v", a.MV)
	r.put("movable_h", a.MH)
	r.put("share", math.Max(a.S, a.M)/allowed)
	slope := math.Hypot(l.TV, l.TH)
	off := calc.FlexOffset(slope, length, allowed)
	r.put("allowed_offset", off)
	r.put("allowed_parallel", calc.FlexOffset(0, length, allowed))
	if math.IsNaN(off) && slope/2 > allowed {
		r.problem(job.Warning, r.in("allowed"), words.CalcProblemSlopeAlone.String(), "")
	}
}

func evalWanted(r *run) {
	l := calc.Line{DV: r.f("offset_v"), TV: r.f("slope_v"), DH: r.f("offset_h"), TH: r.f("slope_h")}
	angles := []float64{90, 180, 270}
	for _, f := range []struct {
		sweep calc.Sweep
		key   string
	}{
		{calc.Sweep{Model: calc.RimOnMovable, Station: r.notNegative("to_movable"), SagAt6: r.f("movable_sag")}, "movable"},
		{calc.Sweep{Model: calc.RimOnStationary, Station: -r.notNegative("to_stationary"), SagAt6: r.f("stationary_sag")}, "stationary"},
		{calc.Sweep{Model: calc.FaceFront, Diameter: r.positive("face_diameter"), SagAt6: r.f("face_sag")}, "face"},
		{calc.Sweep{Model: calc.GapBetween, Diameter: r.positive("gap_diameter")}, "gap"},
	} {
		f.sweep.Angle = angles
		got, ok := calc.Expected(&f.sweep, &l, nil)
		if !ok {
			continue
		}
		for i, tail := range []string{"_3", "_6", "_9"} {
			r.put(f.key+tail, got[i])
		}
	}
	for _, k := range []string{"movable_sag", "stationary_sag"} {
		if r.f(k) > 0 {
			r.problem(job.Warning, r.in(k), words.ProblemSagPositive.String(), "")
		}
	}
}

func evalUncertainty(r *run) {
	u := calc.ReadingU(r.notNegative("graduation"), r.notNegative("repeatability"))
	k := r.positive("k")
	r.put("u", u)
	r.put("expanded", k*u)
	r.put("u_half", u/math.Sqrt2)
	r.put("expanded_half", k*u/math.Sqrt2)
}

func evalTilt(r *run) {
	under := r.choice("under")
	if under < 0 {
		return
	}
	t := calc.ShimTilt(r.f("shim"), r.positive("span"), r.notNegative("front"), under != footFront)
	r.put("slope", t.Slope)
	r.put("degrees", t.Degrees)
	r.put("rise", t.Rise)
}

func evalRepeats(r *run) {
	value, limit, u, shared, k := r.f("value"), r.f("limit"), r.notNegative("u"), r.notNegative("shared"), r.positive("k")
	bound := calc.Bound(0)
	if b := r.choice("bound"); b < 0 {
		return
	} else if b == 1 {
		bound = calc.AtLeast
	}
	all := math.Hypot(u, shared)
	if math.IsNaN(value + limit + all + k) {
		return
	}
	r.put("chance", calc.ChanceInside(value, limit, all, bound))
	r.say("verdict", calc.Judge(value, limit, k*all, bound).String())
	n, ok := calc.Repeats(value, limit, u, shared, k, bound)
	switch {
	case !ok && calc.ChanceInside(value, limit, 0, bound) == 0:
		r.say("answer", words.CalcAnswerNeverPast.String())
	case !ok && k*shared > 0 && calc.Judge(value, limit, k*shared, bound) != calc.Inside:
		r.say("answer", words.CalcAnswerNeverShared.String())
	case !ok:
		r.say("answer", words.CalcAnswerNeverAt.String())
	case n == 1:
		r.put("n", 1)
		r.say("answer", words.CalcAnswerOneIsEnough.String())
	default:
		r.put("n", float64(n))
		r.say("answer", words.CalcAnswerReadings.Say(n))
	}
}

func evalFeet(r *run) {
	a, b := r.f("front"), r.positive("span")
	r.put("shim_front", 0-(r.f("offset_v")+r.f("slope_v")*a/1000))
	r.put("shim_rear", 0-(r.f("offset_v")+r.f("slope_v")*(a+b)/1000))
	r.put("move_front", 0-(r.f("offset_h")+r.f("slope_h")*a/1000))
	r.put("move_rear", 0-(r.f("offset_h")+r.f("slope_h")*(a+b)/1000))
}

// mostSlip is how far a motor at its load stays behind its field at most: those made for much slip come to 13 %. Common practice, no source.
const mostSlip = 0.15

func evalSpeed(r *run) {
	hertz := r.positive("hertz") / 60
	rpm := r.notNegative("rpm")
	poles := 0
	switch {
	case r.given("poles"):
		p := r.f("poles")
		if p < 2 || math.Mod(p, 2) != 0 || p > 1000 {
			r.fail("poles", words.ProblemTooSmall.Say(job.Quote(r.res.Used[r.in("poles")])), words.CalcHintEvenPoles.String())
			return
		}
		poles = int(p)
	case r.state[r.in("poles")] == stateBad:
		return
	case r.given("rpm") && !math.IsNaN(hertz):
		if poles = calc.Poles(hertz, rpm); poles == 0 {
			r.fail("rpm", words.CalcProblemNoPoles.String(), words.CalcHintPoles.String())
			return
		}
		if n := calc.Synchronous(hertz, poles); (n-rpm)/n > mostSlip {
			r.fail("rpm", words.CalcProblemMuchSlip.Say(poles, significant(100*(n-rpm)/n, 2, r.set.Decimal)), words.CalcHintPoles.String())
			return
		}
	case r.state[r.in("rpm")] == stateBlank:
		r.fail("poles", words.ProblemMissing.Say("Poles"), words.CalcHintPoles.String())
		return
	}
	n := calc.Synchronous(hertz, poles)
	r.put("synchronous", n)
	if poles > 0 {
		r.put("poles", float64(poles))
	}
	r.put("slip", (n-rpm)/n)
	r.put("slip_speed", n-rpm)
	r.put("slip_hertz", (n-rpm)/n*hertz*60)
	if slip := (n - rpm) / n; slip > mostSlip && rpm > 0 {
		r.problem(job.Warning, r.in("rpm"), words.CalcProblemMuchSlip.Say(poles, significant(100*slip, 2, r.set.Decimal)), "")
	}
	if rpm > n*(1+1e-9) {
		r.problem(job.Note, r.in("rpm"), words.CalcProblemAboveSync.String(), "")
	}
}
