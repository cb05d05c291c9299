package evaluate

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// readLimits reads the Limits sheet into the job's own limit sets. A set with a row that cannot be used is not used at all: a row left out
// would put another in its place.
func (e *Evaluator) readLimits() {
	e.ownSets, e.badSets = nil, nil
	l := e.lines(job.LimitsSheet, job.LimitsSet, job.LimitsUnit, job.LimitsSet, job.LimitsCoupling, job.LimitsSlope)
	if l == nil {
		return
	}
	name := ""
	defer e.askDefaultSet()
	for l.next() {
		if !l.blank(job.LimitsSet) {
			name = l.text(job.LimitsSet)
		}
		if name == "" {
			l.missing(job.LimitsSet, words.HintOwnSet.With())
			continue
		}
		kind := l.choice(job.LimitsCoupling)
		if kind < 0 && !l.bad {
			l.missing(job.LimitsCoupling, words.Plain(job.HintChoices(job.LimitsCoupling)))
		}
		upTo, offset, slope := l.number(job.LimitsUpTo, positive), l.number(job.LimitsOffset, positive), l.number(job.LimitsSlope, positive)
		if !l.bad && math.IsNaN(upTo) {
			upTo = math.Inf(1)
		}
		if !l.bad && math.IsNaN(slope) {
			l.missing(job.LimitsSlope, words.HintOwnSlope.With())
		}
		c := job.LimitKinds[max(kind, 0)]
		if !l.bad && math.IsNaN(offset) && c.ByOffset() {
			l.missing(job.LimitsOffset, words.HintOwnOffset.With(c))
		}
		if l.bad {
			if e.badSets == nil {
				e.badSets = map[string]int{}
			}
			if k := nameKey(name); e.badSets[k] == 0 {
				e.badSets[k] = l.src()
			}
			continue
		}
		set := e.ownSet(name)
		if set == nil {
			set = &tables.LimitSet{Name: name, Rows: map[tables.Coupling][]tables.LimitRow{}}
			e.ownSets = append(e.ownSets, set)
		}
		row := tables.LimitRow{UpTo: upTo, Offset: offset, Slope: slope, OffsetIn: l.typed(job.LimitsOffset), SlopeIn: l.typed(job.LimitsSlope), Source: tables.Source{Grade: tables.Stated, Text: e.ownRow(job.LimitsSheet, l.src())}}
		if s := l.text(job.LimitsSource); s != "" {
			row.Source.Text = s + " (" + row.Source.Text + ")"
		}
		at, twice := slices.BinarySearchFunc(set.Rows[c], upTo, func(r tables.LimitRow, x float64) int {
			switch {
			case r.UpTo < x:
				return -1
			case r.UpTo > x:
				return 1
			}
			return 0
		})
		if twice {
			l.fail(job.LimitsUpTo, words.ProblemLimitTwice.With(set.Name, c), words.HintLimitTwice.With())
			if e.badSets == nil {
				e.badSets = map[string]int{}
			}
			e.badSets[nameKey(name)] = l.src()
			continue
		}
		set.Rows[c] = slices.Insert(set.Rows[c], at, row)
	}
}

// askDefaultSet says once a job that its own sets hold only where they are named, where nothing names one.
func (e *Evaluator) askDefaultSet() {
	if len(e.ownSets) == 0 || !job.Blank(e.set.text[job.SettingLimits-job.SettingName]) || slices.ContainsFunc(e.ownSets, func(s *tables.LimitSet) bool { return tables.FindLimitSet(s.Name) == tables.LimitSets()[0] }) {
		return
	}
	t := e.job.Table(job.LimitsSheet)
	e.problems = append(e.problems, job.Problem{Severity: job.Warning, File: t.File, Sheet: e.SheetName(job.LimitsSheet),
		Text: words.ProblemSetNotDefault.With(e.ownSets[0].Name, tables.LimitSets()[0].Name), Hint: words.HintSetNotDefault.With(e.ownSets[0].Name), Col: -1})
}

func (e *Evaluator) ownSet(name string) *tables.LimitSet {
	for _, s := range e.ownSets {
		if strings.EqualFold(s.Name, strings.TrimSpace(name)) {
			return s
		}
	}
	return nil
}

// findSet finds a limit set: the job's own first, then a built-in one.
func (e *Evaluator) findSet(name string) *tables.LimitSet {
	if s := e.ownSet(name); s != nil {
		return s
	}
	return tables.FindLimitSet(name)
}

// LimitSets returns the limit sets of the job: its own first, then the built-in ones that bear another name. Callers must not change them.
func (e *Evaluator) LimitSets() []*tables.LimitSet {
	list := slices.Clone(e.ownSets)
	for _, s := range tables.LimitSets() {
		if e.ownSet(s.Name) == nil {
			list = append(list, s)
		}
	}
	return list
}

// noSuchSet is what is wrong with a name that is no limit set, and what would be right; the set that was the default once is told of.
func (e *Evaluator) noSuchSet(name string) (text, hint words.Phrase) {
	if strings.EqualFold(strings.TrimSpace(name), tables.FormerLimitSet) {
		return words.ProblemFormerSet.With(job.Quote(name)), e.hintSets()
	}
	return words.ProblemNoSuchSet.With(job.Quote(name)), e.hintSets()
}

// hintSets lists the limit sets.
func (e *Evaluator) hintSets() words.Phrase {
	var names []string
	for _, s := range e.LimitSets() {
		names = append(names, s.Name)
	}
	return words.HintSetsAre.With(strings.Join(names, ", "))
}

// Materials returns the job's own materials, in the order they stand. Callers must not change them.
func (e *Evaluator) Materials() []tables.Material { return e.ownMaterials }

// readMaterials reads the Materials sheet. Several rows of one material are a table of means over the temperature.
func (e *Evaluator) readMaterials() {
	e.ownMaterials, e.badMaterials = nil, nil
	l := e.lines(job.MaterialsSheet, job.MaterialsMaterial, job.MaterialsUnit, job.MaterialsMaterial, job.MaterialsCoefficient)
	if l == nil {
		return
	}
	name := ""
	type point struct{ from, to, mean, u float64 }
	points := map[string][]point{}
	spoil := func(key string) {
		if e.badMaterials == nil {
			e.badMaterials = map[string]int{}
		}
		if e.badMaterials[key] == 0 {
			e.badMaterials[key] = l.src()
		}
	}
	for l.next() {
		if !l.blank(job.MaterialsMaterial) {
			name = l.text(job.MaterialsMaterial)
		}
		if name == "" {
			l.missing(job.MaterialsMaterial, words.HintOwnMaterial.With())
			continue
		}
		key := nameKey(name)
		p := point{l.number(job.MaterialsFrom, anything), l.number(job.MaterialsTo, anything), l.number(job.MaterialsCoefficient, anything), l.number(job.MaterialsUncertainty, notNegative)}
		l.coefficientDoubt(job.MaterialsCoefficient, job.MaterialsFrom, job.MaterialsTo)
		if !l.bad && math.IsNaN(p.mean) {
			l.missing(job.MaterialsCoefficient, words.HintOwnMaterial.With())
		}
		if l.bad {
			spoil(key)
			continue
		}
		old := points[key]
		if old == nil {
			m := tables.Material{Name: name, Alpha: p.mean, In: l.typed(job.MaterialsCoefficient), T0: nan, RelU: p.u,
				Source: tables.Source{Grade: tables.Stated, Text: e.ownRow(job.MaterialsSheet, l.src())}}
			if s := l.text(job.MaterialsSource); s != "" {
				m.Source.Text = s + " (" + m.Source.Text + ")"
			}
			e.ownMaterials = append(e.ownMaterials, m)
		} else {
			switch last := old[len(old)-1]; {
			case math.IsNaN(p.to) || math.IsNaN(last.to):
				l.missing(job.MaterialsTo, words.HintMaterialTable.With())
			case p.from != last.from && (Known(p.from) || Known(last.from)):
				l.fail(job.MaterialsFrom, words.ProblemMaterialFrom.With(name), words.HintMaterialTable.With())
			case slices.ContainsFunc(old, func(q point) bool { return q.to == p.to }):
				l.fail(job.MaterialsTo, words.ProblemMaterialTwice.With(name), words.HintMaterialTable.With())
			}
			if l.bad {
				spoil(key)
				continue
			}
		}
		points[key] = append(old, p)
	}
	for i := range e.ownMaterials {
		m := &e.ownMaterials[i]
		list := points[nameKey(m.Name)]
		for _, p := range list {
			if Known(p.u) {
				m.RelU = math.Max(p.u, KnownOr(m.RelU, 0))
			}
		}
		if len(list) < 2 {
			continue
		}
		sorting.Stable(list, func(a, b point) int {
			if a.to < b.to {
				return -1
			}
			return 1
		})
		m.Alpha, m.T0 = nan, KnownOr(list[0].from, roomTemperature)
		for _, p := range list {
			m.Temps, m.Means = append(m.Temps, p.to), append(m.Means, p.mean)
		}
	}
}

// roomTemperature is where a table of means begins that does not say, °C: what ISO 1 makes the reference of lengths.
const roomTemperature = 20

// KnownOr is a number, or another where it is not there.
func KnownOr(x, instead float64) float64 {
	if math.IsNaN(x) {
		return instead
	}
	return x
}

// findMaterial finds a material: the job's own first, then a built-in one. own tells them apart.
func (e *Evaluator) findMaterial(name string) (m *tables.Material, own bool) {
	key := nameKey(name)
	for i := range e.ownMaterials {
		if nameKey(e.ownMaterials[i].Name) == key {
			return &e.ownMaterials[i], true
		}
	}
	return tables.FindMaterial(name), false
}
