package calculators

import (
	"math"
	"strings"
	"testing"

	"shimsheet/internal/tables"
)

func tableMaterial(name string) (Material, bool) {
	m := tables.FindMaterial(name)
	if m == nil {
		return Material{}, false
	}
	return Material{Expansion: m.Alpha, Mean: m.MeanBetween, Source: m.Source}, true
}

// 20 in of carbon steel from 70 to 200 °F: 0.01742 in (ASME BPVC II-D, 2001, table TE-1); grey iron 11.4e-6/K (data pages after Callister, app. B).
func TestGrowthByMeans(t *testing.T) {
	c := Find("growth")
	set := Settings{Material: tableMaterial}
	r := c.Row([]string{"20 in; 100 mm", "", "carbon steel; grey iron", "", "70 °F", "200 °F"}, set)
	if want := 0.01742*25.4 + 100*11.4e-6*130/1.8; !r.OK() || math.Abs(r.Numbers[0]-want) > 5e-6 {
		t.Errorf("%v, not %v: %v", r.Numbers, want, r.Problems)
	}
	for _, bad := range []struct {
		cells []string
		want  string
	}{
		{[]string{"20 in", "", "carbon steel", "130 °F", "", ""}, "depends on the temperatures"},
		{[]string{"20 in", "", "carbon steel", "", "70 °F", "2000 °F"}, "does not reach"},
		{[]string{"20 in", "", "cheese", "", "70 °F", "200 °F"}, "not in the table"},
	} {
		r := c.Row(bad.cells, set)
		if r.OK() || !math.IsNaN(r.Numbers[0]) || !strings.Contains(r.Problems[0].Text.String(), bad.want) {
			t.Errorf("%v: %v %v", bad.cells, r.Problems, r.Numbers)
		}
	}
}
