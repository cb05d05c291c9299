package sentences

import (
	"slices"
	"strings"
)

// sentencesOf are the sentences of a row that are of one of the kinds, one a line.
func sentencesOf(e *Teller, i int, kinds ...SentenceKind) string {
	var b strings.Builder
	for _, s := range e.Sentences(i) {
		if slices.Contains(kinds, s.Kind) {
			b.WriteString(s.Text + "\n")
		}
	}
	return b.String()
}
