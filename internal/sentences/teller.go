package sentences

import (
	"math"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// A Teller says in words what an evaluator works out. It is the evaluator besides, and like that not safe for use by several goroutines; see Beside.
type Teller struct{ *evaluate.Evaluator }

// New is the teller of a job, with an evaluator of its own.
func New(j *job.Job) *Teller { return On(j, "") }

// On is New on a day, that certificates are held against; "" none.
func On(j *job.Job, day string) *Teller { return Of(evaluate.NewEvaluatorOn(j, day)) }

// Of is the teller of what an evaluator works out.
func Of(e *evaluate.Evaluator) *Teller { return &Teller{e} }

// Beside returns a teller that another goroutine may use at the same time, as [evaluate.Evaluator.Beside] says.
func (e *Teller) Beside() *Teller { return Of(e.Evaluator.Beside()) }

var nan = math.NaN()
