package sentences

import (
	"shimsheet/internal/evaluate"
	"shimsheet/internal/words"
)

// sayRecord tells who signed, what changed since, and what the record holds besides.
func (e *Teller) sayRecord(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	for k := range r.Record {
		s := &r.Record[k]
		role := ""
		if s.Role != "" {
			role = ", " + s.Role
		}
		switch s.State {
		case evaluate.SignHolds:
			say(SentenceLine, words.SentenceSigned, s.By+role, s.At, s.Digest)
		case evaluate.SignFailed:
			say(SentenceDo, words.SentenceChanged, s.By+role, s.At, s.Why)
		case evaluate.SignBare:
			say(SentenceHint, words.SentenceBare, s.By+role)
		}
	}
}
