package sheet

import "shimsheet/internal/words"

// sayRecord tells who signed, what changed since, and what the record holds besides.
func (e *Evaluator) sayRecord(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	for k := range r.Record {
		s := &r.Record[k]
		role := ""
		if s.Role != "" {
			role = ", " + s.Role
		}
		switch s.State {
		case SignHolds:
			say(SentenceLine, words.SentenceSigned, s.By+role, s.At, s.Digest)
		case SignFailed:
			say(SentenceDo, words.SentenceChanged, s.By+role, s.At, s.Why)
		case SignBare:
			say(SentenceHint, words.SentenceBare, s.By+role)
		}
	}
}
