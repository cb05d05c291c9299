package httpapi

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"os"
	"strconv"
	"strings"
	"time"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/streams"
	"shimsheet/internal/words"
)

// A pace lets a body come and an answer go for as long as they move: each read and each write has the time of [Config.Idle].
type pace struct {
	w       *answer
	body    io.Reader
	control *http.ResponseController
	idle    time.Duration
	flush   bool

	readTimed, writeTimed bool // each is its own goroutine's in a stream
}

func (s *server) pace(w *answer, r *http.Request) *pace {
	return &pace{w: w, body: r.Body, control: http.NewResponseController(w), idle: s.Idle, readTimed: true, writeTimed: true}
}

// Read is one of the body.
func (p *pace) Read(b []byte) (int, error) {
	if p.readTimed {
		p.readTimed = p.control.SetReadDeadline(time.Now().Add(p.idle)) == nil
	}
	return p.body.Read(b)
}

// Write is one of the answer. In a stream it goes out at once: somebody may wait for it before the next line comes.
func (p *pace) Write(b []byte) (int, error) {
	if p.writeTimed {
		p.writeTimed = p.control.SetWriteDeadline(time.Now().Add(p.idle)) == nil
	}
	n, err := p.w.Write(b)
	if err == nil && p.flush {
		err = p.control.Flush()
		if errors.Is(err, http.ErrNotSupported) {
			err, p.flush = nil, false
		}
	}
	return n, err
}

// end takes the limits away, for the next request of the connection.
func (p *pace) end() {
	p.control.SetReadDeadline(time.Time{})
	p.endWrite()
}

// endWrite takes the limit of writing away, where nothing was read by the pace.
func (p *pace) endWrite() { p.control.SetWriteDeadline(time.Time{}) }

// stream answers lines by lines.
func (s *server) stream(w *answer, r *http.Request, settings *job.Table) *problem {
	done, bad := s.turn(s.streams)
	if bad != nil {
		return bad
	}
	defer done()
	job := &job.Job{Machines: &job.Table{Name: job.MachinesSheet.String(), FirstRow: 1}, Settings: settings}
	p := s.pace(w, r)
	defer p.end()
	p.flush = true
	_ = p.control.EnableFullDuplex() // where it is not to be had, both ways are open anyhow
	h := w.Header()
	h.Set("Content-Type", mediaNDJSON)
	h.Set("Cache-Control", "no-store")
	h.Set("X-Accel-Buffering", "no")
	// Not the request's own context: it ends as soon as nothing more can be read, and what was read is answered all the same.
	report, err := streams.Run(context.WithoutCancel(r.Context()), p, p, job, 0)
	switch {
	case err == nil && report.Machines+report.Refused == 0:
		return unreadable(words.HttpNoLine.String(), words.HttpSendLines.Say(`{"Machine": "P-101", "Speed [rpm]": 1480}`), nil)
	case err == nil:
		return nil
	case !w.begun && errors.Is(err, os.ErrDeadlineExceeded):
		h.Set("Connection", "close")
		return failure(kindSlow, words.HttpNoLineFor.Say(s.Idle), words.HttpSendLine.String())
	case !w.begun && !errors.Is(err, streams.ErrProgram):
		h.Set("Connection", "close")
		return failure(kindCut, err.Error(), words.HttpSendWholeBody.String())
	}
	p.Write(append(results.AppendRefusal(nil, report.Lines+1, &evaluate.Refusal{Text: words.HttpStreamEnded.With(cause(err, s.Idle)), Hint: words.HttpSendRest.With()}), '\n'))
	panic(http.ErrAbortHandler) // the answer is not whole
}

// cause words why a stream ended.
func cause(err error, idle time.Duration) string {
	if errors.Is(err, os.ErrDeadlineExceeded) {
		return words.HttpNothingMoved.Say(idle)
	}
	return err.Error()
}

// getRow works out the coupling that stands in the address.
func (s *server) getRow(w *answer, r *http.Request) *problem {
	names, values, bad := query(r)
	if bad != nil {
		return bad
	}
	var give []string
	var set, to, cols, cells []string
	for i, n := range names {
		switch {
		case n == "give":
			give = append(give, strings.Split(values[i], ",")...)
		case job.FindColumn(job.MachinesSheet, n) == nil && job.FindColumn(job.SettingsSheet, n) != nil:
			set, to = append(set, n), append(to, values[i])
		default:
			cols, cells = append(cols, n), append(cells, values[i])
		}
	}
	j := &job.Job{Machines: &job.Table{Name: job.MachinesSheet.String(), FirstRow: 1}}
	if len(set) > 0 {
		t, refused := evaluate.SettingsTable(set, to, make([]bool, len(set)))
		if refused != nil {
			return failure(kindParameter, refused.Text.String(), refused.Hint.String())
		}
		if bad := badSettings(t); bad != nil {
			return bad
		}
		j.Settings = t
	}
	done, bad := s.turn(s.jobs)
	if bad != nil {
		return bad
	}
	defer done()
	f := results.NewFeed(j)
	f.Begin(1)
	for i, c := range cols {
		if refused := f.Set(c, cells[i], false); refused != nil {
			return failure(kindParameter, refused.Text.String(), refused.Hint.String()).at(job.MachinesSheet.String(), 0, shorten(c))
		}
	}
	line, got := f.Append(nil)
	if got.Refused != nil {
		return unreadable(got.Refused.Text.String(), got.Refused.Hint.String(), nil)
	}
	status := "0"
	if got.Failed || got.Verdict == calc.NotJudged {
		status = "1"
	}
	w.Header().Set(headerStatus, status)
	if len(give) == 0 {
		s.small(w, mediaJSON, append(line, '\n'))
		return nil
	}
	var members map[string]json.RawMessage
	if err := json.Unmarshal(line, &members); err != nil {
		panic("httpapi: " + err.Error())
	}
	var text []byte
	for i, g := range give {
		v, ok := members[strings.TrimSpace(g)]
		if !ok {
			return failure(kindParameter, words.HttpGiveUnknown.Say(strconv.Quote(shorten(g))), words.HttpGiveMembers.String())
		}
		if i > 0 {
			text = append(text, '\t')
		}
		var word string
		switch {
		case string(v) == "null":
		case json.Unmarshal(v, &word) == nil:
			text = append(text, strings.ReplaceAll(word, "\t", " ")...)
		default:
			text = append(text, v...)
		}
	}
	s.small(w, mediaText+"; charset=utf-8", text)
	return nil
}
