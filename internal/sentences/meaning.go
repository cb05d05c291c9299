package sentences

import (
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
	"strings"
)

// Meaning is what a cell of the Machines table was understood as, to be shown under it: "= 12.7 mm", "= reverse indicator", "= 8 readings". It
// is empty for a blank cell, for text, and for what could not be understood.
func (e *Teller) Meaning(row, col int) string {
	return e.MeaningOf(col, e.Job().Machines.Cell(row, col))
}

// MeaningOf is what a text would mean in a column of the Machines table.
func (e *Teller) MeaningOf(col int, text string) string {
	if e.ColumnOf(col) == nil {
		return ""
	}
	id, unit := e.Bound(col)
	return e.meaning(id, unit, text)
}

// MeaningIn is what a text would mean under a header of any sheet; on the Job sheet header is the setting's name.
func (e *Teller) MeaningIn(kind job.SheetKind, header, text string) string {
	id, unit := e.BoundUnit(kind, header)
	if id == job.NoColumn {
		return ""
	}
	return e.meaning(id, unit, text)
}

func (e *Teller) meaning(id job.ColumnID, unit units.Unit, s string) string {
	info := id.Info()
	if info.Result || job.Blank(s) {
		return ""
	}
	shown := info.Unit(e.ShowsInch())
	switch info.Quantity {
	case job.QText:
		return ""
	case job.QChoice:
		if k, ok := job.ChoiceIndex(id, s); ok {
			return "= " + info.Choices[k]
		}
		return ""
	case job.QSweep:
		if a, _, text, _ := job.ParseSweep(s, unit, e.Mark(), nil, nil); text == "" {
			return words.MeaningSweep.Say(len(a))
		}
		return ""
	case job.QDistances:
		list, text, _ := job.ParseDistances(s, unit, e.Mark(), nil)
		if text != "" {
			return ""
		}
		var said []string
		for _, x := range list {
			said = append(said, e.Exact(x, shown))
		}
		return "= " + strings.Join(said, "; ")
	}
	x, text, _ := job.ParseQuantity(s, info.Quantity, unit, e.Mark())
	if text != "" {
		return ""
	}
	return "= " + e.Exact(x, shown)
}
