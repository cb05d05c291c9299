package job

import (
	"strings"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A column named Unit says in each row which unit its bare numbers are in.

const unitWords = "units|uom|unit of measure|unit of readings|reading unit|units of readings"

// RowUnit is the unit of a bare number of a quantity in a row whose column Unit says unit; bound is that of the column, own says that its header has it. ok is false,
// with the reason, where the two do not agree.
func RowUnit(unit string, q Quantity, bound units.Unit, own bool) (u units.Unit, why string) {
	kind := q.Kind()
	if kind == units.Number || bound == units.None {
		return bound, ""
	}
	w := strings.TrimSpace(strings.Trim(strings.TrimSpace(unit), "[]()"))
	said, ok := units.ParseHeaderUnit(w, kind)
	if !ok {
		for _, k := range units.Kinds() {
			if _, is := units.ParseHeaderUnit(w, k); is {
				return bound, "" // of another kind: it is not meant for this column
			}
		}
		return bound, words.ProblemUnitUnknown.Say(Quote(unit))
	}
	if kind == units.Length && !unitFits(w, q) {
		return bound, "" // nobody tapes in mil or reads in metres
	}
	if own && said != bound {
		return bound, words.ProblemUnitDiffers.Say(said, bound)
	}
	return said, ""
}

// UnitColumn is the column Unit of a sheet, none where it has none.
func UnitColumn(k SheetKind) ColumnID {
	switch k {
	case MachinesSheet:
		return ColUnit
	case ReadingsSheet:
		return ReadingsUnit
	case StockSheet:
		return StockUnit
	case GrowthSheet:
		return GrowthUnit
	case FeetSheet:
		return FeetUnit
	case LimitsSheet:
		return LimitsUnit
	case MaterialsSheet:
		return MaterialsUnit
	case RoundsSheet:
		return RoundsUnit
	case ChecksSheet:
		return ChecksUnit
	}
	return NoColumn
}

// BearsUnit says whether a text bears a unit of its own.
func BearsUnit(s string, q Quantity, unit units.Unit, mark units.Decimal) bool {
	v, err := units.Parse(s, q.Kind(), unit, mark)
	return err == nil && v.Own
}
