package results

import (
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// A Feed is a [evaluate.Feed] that answers each row in JSON.
type Feed struct {
	*evaluate.Feed
	rows *Rows
}

// NewFeed is [evaluate.NewFeed].
func NewFeed(j *job.Job) *Feed {
	return AnswersOf(evaluate.NewFeed(j))
}

// AnswersOf has f answer in JSON.
func AnswersOf(f *evaluate.Feed) *Feed { return &Feed{f, NewRows(sentences.Of(f.Evaluator()))} }

// Unnamed is [evaluate.Unnamed].
func Unnamed(feeds ...*Feed) []job.Problem {
	list := make([]*evaluate.Feed, len(feeds))
	for i, f := range feeds {
		list[i] = f.Feed
	}
	return evaluate.Unnamed(list...)
}

// Append works the row out and appends its object as [WriteJSON] has it in machines, with up to three members more at its end: questions, where
// there are some, with what a job asks or notes once a column; whole_job, a list of what the row asks for that only the whole job can give, where there is something; and line.
// For a refused row dst is returned as it is.
func (f *Feed) Append(dst []byte) ([]byte, evaluate.Done) {
	r, done := f.Work()
	if done.Refused != nil {
		return dst, done
	}
	j := f.rows
	j.b = append(dst, '{')
	j.members(r)
	if list := f.Questions(r); len(list) > 0 {
		j.open(`,"questions":`, '[')
		for i := range list {
			j.problem(&list[i])
		}
		j.shut(']')
	}
	if list := f.WholeJob(r); len(list) > 0 {
		j.open(`,"whole_job":`, '[')
		for _, s := range list {
			j.str("", s.String())
		}
		j.shut(']')
	}
	j.int(`,"line":`, r.Row)
	j.shut('}')
	return j.b, done
}

// AppendRefusal appends the answer to a line that was refused: {"line":n,"error":…,"hint":…}.
func AppendRefusal(dst []byte, line int, r *evaluate.Refusal) []byte {
	j := writer{b: append(dst, '{')}
	j.int(`,"line":`, line)
	j.str(`,"error":`, r.Text.String())
	j.str(`,"hint":`, r.Hint.String())
	j.shut('}')
	return j.b
}
