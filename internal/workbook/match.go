package workbook

import (
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/headers"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// A Learnt is a header that a person's choice gave a meaning to, to be kept in the job.
type Learnt struct {
	Sheet  string `json:"sheet"` // as package evaluate names it
	Header string `json:"header"`
	Means  string `json:"means"`
}

// own is what a header means in somebody's own words.
func (l *Learnt) own() (evaluate.OwnHeader, bool) {
	return evaluate.ParseOwnHeader("Header of "+l.Sheet+": "+l.Header, l.Means)
}

// ownHeaders is what the Job sheet of the file says of headers.
func (l *loaded) ownHeaders() []evaluate.OwnHeader {
	for i := range l.sheets {
		if s := &l.sheets[i]; s.kind == int(job.SettingsSheet) && s.g != nil {
			return evaluate.OwnHeaders(&job.Table{Rows: s.g.rows})
		}
	}
	return nil
}

// splitOwn looks for a header in somebody's own words.
func (l *loaded) splitOwn(t *job.Table, kind job.SheetKind) bool {
	if kind == job.SettingsSheet || l.preview.Own {
		return false
	}
	h := headers.FindHeader(kind, t.Rows, append(l.ownHeaders(), l.offered...))
	if h < 0 {
		return false
	}
	part(t, h)
	return true
}

// readOwn names the columns that the Job sheet of the file gives a meaning to.
func (l *loaded) readOwn(s *loadedSheet, kind job.SheetKind) {
	if l.preview.Own || kind == job.SettingsSheet || s.t.Header == nil {
		return
	}
	was := s.t.Header
	var names []string
	for _, c := range headers.ApplyBefore(kind, s.t, l.ownHeaders()) {
		names = append(names, words.NoticeReadAs.Say(strconv.Quote(clip(was[c], 40)), s.t.Header[c]))
	}
	if len(names) > 0 {
		l.note("note", s.ref.name, 0, "", -1, words.NoticeReadAsJob.Say(strings.Join(names, ", ")), "")
	}
}

// byGuess takes the sheet whose headers look most like those of a list of machines, where no sheet has known ones and nobody has chosen.
func (l *loaded) byGuess(why []string, c *Choices) {
	if l.delim || l.preview.Own {
		return
	}
	if c != nil {
		for i := range c.Sheets {
			if c.Sheets[i].Kind != nil {
				return
			}
		}
	}
	best, most, known := -1, 3, append(l.ownHeaders(), l.offered...)
	for i := range l.sheets {
		s := &l.sheets[i]
		if s.kind == int(job.MachinesSheet) {
			return
		}
		if s.kind >= 0 || s.g == nil || s.own {
			continue
		}
		h := headers.FindHeader(job.MachinesSheet, s.g.rows, known)
		if h < 0 {
			continue
		}
		n := 0
		for _, c := range headers.Look(headers.List{Kind: job.MachinesSheet, Header: s.g.rows[h], Rows: s.g.rows[h+1:], Before: known}) {
			if c.State != headers.Unread {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
	}
	if best >= 0 {
		l.sheets[best].kind, l.sheets[best].score, why[best] = int(job.MachinesSheet), most, words.KindByLooks.String()
	}
}

// guess says of the columns that are not read what they may mean.
func (l *loaded) guess(s *loadedSheet, p *SheetPreview, kind job.SheetKind) {
	if s.t.Header == nil || kind == job.SettingsSheet {
		return
	}
	var above []string
	if n := len(s.t.Title); n > 0 {
		above = s.t.Title[n-1]
	}
	looks := map[int]headers.Column{}
	for _, c := range headers.Look(headers.List{Kind: kind, Header: s.t.Header, Above: above, Rows: s.t.Rows, Inch: l.inch, Before: l.offered}) {
		looks[c.Col] = c
	}
	for i := range p.Columns {
		c := &p.Columns[i]
		g, ok := looks[c.Col]
		if !ok || c.Key != "" || strings.HasPrefix(c.Header, "Kept unread: ") {
			continue
		}
		c.GuessUnit = g.Unit
		switch g.State {
		case headers.Guessed, headers.Before:
			c.Guess, c.Why = g.Key, g.Why
			if g.State == headers.Before {
				c.Why = words.NoticeMatchedBefore.String()
			}
		case headers.Asked:
			c.Asked, c.Why = g.Keys, g.Why
		}
		c.Series, c.Place = g.Series, g.Place
	}
}
