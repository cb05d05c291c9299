package evaluate

import (
	"slices"
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// Names that the catalogue gives to things which nobody has named. They are data from then on: things are found by them, and lists and files hold them.

// rowName is the name of a machine without one.
func rowName(row int) string { return words.ProblemRowName.String() + strconv.Itoa(row) }

// ownRow names a row of a sheet of the job as the source of a number.
func (e *Evaluator) ownRow(kind job.SheetKind, row int) string {
	return words.ProblemOwnRow.Say(e.SheetName(kind), row)
}

// PairNamed names a pair of feet of which the Feet sheet lists none.
func (r *RowResult) PairNamed(k int) string {
	switch k {
	case r.Front:
		return words.SentenceFront.String()
	case r.Rear:
		return words.SentenceRear.String()
	}
	return words.WordFurther.String() + strconv.Itoa(slices.Index(r.Further, k)+1)
}

// boltName names a bolt of a flange, the first by 0.
func boltName(k int) string { return words.WordBolt.String() + strconv.Itoa(k+1) }
