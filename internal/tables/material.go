package tables

import (
	"math"
	"strings"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Material is how far a material grows with temperature: a constant coefficient, or means from one temperature.
type Material struct {
	Name    string
	Aliases []string
	Alpha   float64 // constant mean coefficient, 1e-6/K; NaN where the material has a table of means
	// A table of mean coefficients: Means[i], in 1e-6/K, holds from T0 to Temps[i], both in °C. Temps rise. Between them interpolate
	// the mean linearly; beyond them there is none. Growth of a length between two temperatures a and b is then
	// mean(b)·(b − T0) − mean(a)·(a − T0). nil and T0 NaN where the coefficient is constant.
	T0           float64
	Temps, Means []float64
	RelU         float64 // standard uncertainty of the coefficient as a share of it: the spread among tables (0.07: 7 %); NaN: not stated
	USource      Source  // of RelU
	Source       Source
	In           units.Unit // what the person typed the coefficient in; None of a built-in one
}

// Materials returns the built-in materials in the order they are shown. Callers must not change them.
func Materials() []Material { return Find("expansion").materials }

// FindMaterial returns the built-in material of that name or alias, case and blanks aside, or nil.
func FindMaterial(name string) *Material {
	list := Materials()
	for i := range list {
		if sameWords(list[i].Name, name) {
			return &list[i]
		}
	}
	for i := range list {
		for _, a := range list[i].Aliases {
			if sameWords(a, name) {
				return &list[i]
			}
		}
	}
	return nil
}

// sameWords compares without regard to case and blanks.
func sameWords(a, b string) bool {
	return strings.EqualFold(a, b) || strings.EqualFold(strings.Join(strings.Fields(a), ""), strings.Join(strings.Fields(b), ""))
}

func readMaterials(t, means *Table) []Material {
	list := make([]Material, len(t.Rows))
	for i := range t.Rows {
		r := &t.Rows[i]
		m := &list[i]
		*m = Material{Name: r.Name, Aliases: strings.Split(t.text(r, "also"), ", "), Alpha: t.base(r, "coefficient"), T0: math.NaN(), RelU: t.base(r, "u"), Source: r.Source}
		m.USource = Source{Practice, t.text(r, "u_from")}
		if !math.IsNaN(m.Alpha) {
			continue
		}
		for j := range means.Rows {
			if q := &means.Rows[j]; means.text(q, "material") == m.Name {
				m.T0 = means.base(q, "from")
				m.Temps = append(m.Temps, means.base(q, "temperature"))
				m.Means = append(m.Means, means.base(q, "mean"))
			}
		}
		if m.Temps == nil {
			panic("tables: " + m.Name + " has neither a coefficient nor means")
		}
	}
	return list
}

// mean is the mean coefficient in 1e-6/K from T0 to temp in °C; NaN beyond the table.
func (m *Material) mean(temp float64) float64 {
	if m.Temps == nil {
		return m.Alpha
	}
	n := len(m.Temps) - 1
	slack := 1e-9 * (1 + math.Abs(temp))
	if !(temp >= m.Temps[0]-slack && temp <= m.Temps[n]+slack) {
		return math.NaN()
	}
	i := 0
	for i < n-1 && temp > m.Temps[i+1] {
		i++
	}
	f := (temp - m.Temps[i]) / (m.Temps[i+1] - m.Temps[i])
	return m.Means[i] + float64(f*(m.Means[i+1]-m.Means[i]))
}

// OwnMaterials makes the person's own coefficients a table that [Search] takes. source is what is shown as their source,
// such as "your sheet Materials"; a material that has one of its own keeps it.
func OwnMaterials(list []Material, source string) *Table {
	t := &Table{Key: "expansion", Title: words.LookYourMaterials.String(), About: words.LookYoursFirst.String(), Columns: columnsOf("expansion", nil)}
	for _, m := range list {
		m.Source = ownSource(m.Source, source)
		t.materials = append(t.materials, m)
		span := ""
		if m.Temps != nil {
			last := len(m.Temps) - 1
			span = words.LookMeansFrom.Say(number(m.T0, 4), number(m.Temps[0], 4), number(m.Temps[last], 4))
		}
		t.Rows = append(t.Rows, Row{
			Name: m.Name,
			Cells: []string{m.Name, strings.Join(m.Aliases, ", "), typed(m.Alpha, m.In, units.PerKelvin), span,
				units.Format(m.RelU, units.Percent, -1, units.Point), m.USource.Text},
			Base:   []float64{math.NaN(), math.NaN(), m.Alpha, math.NaN(), m.RelU, math.NaN()},
			Source: m.Source,
		})
	}
	names := map[string]string{} // own name to the built-in material's
	for _, m := range list {
		if b := FindMaterial(m.Name); b != nil {
			names[m.Name] = b.Name
		}
	}
	t.finish(func(builtIn, own string) bool { return names[own] == builtIn })
	return t
}
