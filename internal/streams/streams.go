// Package streams works out rows that come without end: a JSON object a line in, an object a line out, in the order of the lines, in memory that does not grow with
// their number.
//
// [Run] is all of it. A line is an object with the names of columns as keys, units in them as in headers, and numbers or texts as values; keys may be in any
// order and others from line to line. It is answered by the object that the same row has under machines in [results.WriteJSON], with the number of its
// line, or by {"line":n,"error":…,"hint":…}; nothing a line holds stops the stream. Lines with nothing in them are passed over, and counted.
package streams

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/words"
)

// MaxLine is the longest line that is read, in bytes.
const MaxLine = 64 << 10

// ErrProgram is what went wrong where the fault is the program's own.
var ErrProgram = errors.New("the program failed")

// chunk is how much is read at a time. A batch holds the whole lines of one reading, and no line is longer than a chunk.
const chunk = 64<<10 + MaxLine

// A Report is what became of a stream.
type Report struct {
	Lines    int    // read, those with nothing in them too
	Machines int    // rows with a coupling
	Verdicts [4]int // of them, by calc.Verdict
	Failed   int    // of them, with something that could not be given, of any verdict
	Refused  int    // lines answered with an error

	FirstRefused int           // number of the first of them
	FirstError   string        // what was said of it
	Unnamed      []job.Problem // machines that a sheet of the job names and no line bore
}

// Whole says whether every line was computed and judged, with nothing left to tell.
func (r *Report) Whole() bool {
	return r.Refused == 0 && r.Failed == 0 && r.Verdicts[calc.NotJudged] == 0 && len(r.Unnamed) == 0
}

// add counts what came of a batch.
func (r *Report) add(b *Report) {
	r.Lines, r.Machines, r.Failed = r.Lines+b.Lines, r.Machines+b.Machines, r.Failed+b.Failed
	for k := range r.Verdicts {
		r.Verdicts[k] += b.Verdicts[k]
	}
	if r.Refused == 0 {
		r.FirstRefused, r.FirstError = b.FirstRefused, b.FirstError
	}
	r.Refused += b.Refused
}

// A batch is some lines on their way.
type batch struct {
	in      []byte // whole lines, each with its end but for the last of the stream
	first   int    // number of the first of them
	tooLong bool   // in place of lines: one that was too long and was passed over
	out     []byte
	report  Report
	err     error // the program's own fault
	done    chan struct{}
}

// Run reads lines from r until its end and writes the answers to w. The sheets of job but Machines hold for every line; job is not changed. workers is how many rows
// are worked out at a time, 0 one for each processor. A stream that is waited on is answered as far as it came: what one Read of r gives is worked out at once.
//
// The error is one of reading, of writing, or ctx's; the report is then of what was written before. Run returns without waiting for a Read under way.
func Run(ctx context.Context, r io.Reader, w io.Writer, job *job.Job, workers int) (Report, error) {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	most := 2*workers + 2
	free, work, order := make(chan *batch, most), make(chan *batch, most), make(chan *batch, most)
	for range most {
		free <- &batch{done: make(chan struct{}, 1)}
	}
	readErr := make(chan error, 1)
	go func() {
		readErr <- split(ctx, r, free, func(b *batch) {
			work <- b // neither waits: there is room for all
			order <- b
		})
		close(work)
		close(order)
	}()
	feeds := make([]*results.Feed, workers)
	var running sync.WaitGroup
	for i := range feeds {
		running.Go(func() {
			feeds[i] = results.NewFeed(job)
			for b := range work {
				if ctx.Err() == nil {
					b.answer(feeds[i])
				}
				b.done <- struct{}{}
			}
		})
	}
	var total Report
	for {
		var b *batch
		select {
		case <-ctx.Done():
			return total, ctx.Err()
		case b = <-order:
		}
		if b == nil {
			break
		}
		select {
		case <-ctx.Done():
			return total, ctx.Err()
		case <-b.done:
		}
		if len(b.out) > 0 {
			if _, err := w.Write(b.out); err != nil {
				return total, err
			}
		}
		total.add(&b.report)
		if b.err != nil {
			return total, b.err
		}
		free <- b
	}
	running.Wait()
	total.Unnamed = results.Unnamed(feeds...)
	return total, <-readErr
}

// split reads r and hands on batches of whole lines, as they come.
func split(ctx context.Context, r io.Reader, free <-chan *batch, hand func(*batch)) error {
	next := func() *batch {
		select {
		case <-ctx.Done():
			return nil
		case b := <-free:
			if b.in == nil {
				b.in = make([]byte, 0, chunk)
			}
			b.in, b.out, b.tooLong, b.report, b.err = b.in[:0], b.out[:0], false, Report{}, nil
			return b
		}
	}
	line, start, skipping := 1, true, false
	b := next()
	for idle := 0; b != nil; {
		n, err := r.Read(b.in[len(b.in):chunk])
		b.in = b.in[:len(b.in)+n]
		if idle++; n > 0 {
			idle = 0
		} else if err == nil && idle == 100 {
			err = io.ErrNoProgress
		}
		if start && (len(b.in) >= 3 || err != nil) {
			b.in, start = append(b.in[:0], bytes.TrimPrefix(b.in, []byte("\xef\xbb\xbf"))...), false
		}
		if skipping { // the rest of a line that was too long
			if end := bytes.IndexByte(b.in, '\n'); end >= 0 {
				b.in, skipping = append(b.in[:0], b.in[end+1:]...), false
			} else {
				b.in = b.in[:0]
			}
		}
		end := bytes.LastIndexByte(b.in, '\n') + 1
		if err == io.EOF {
			end = len(b.in)
		}
		switch rest := b.in[end:]; {
		case end > 0:
			kept := bytes.Clone(rest) // once handed on, the batch may be used again
			b.in, b.first, start = b.in[:end], line, false
			line += bytes.Count(b.in, []byte{'\n'})
			hand(b)
			if b = next(); b != nil {
				b.in = append(b.in, kept...)
			}
		case len(rest) > MaxLine:
			b.first, b.tooLong, skipping = line, true, true
			line++
			hand(b)
			b = next()
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}

// answer works the lines of the batch out.
func (b *batch) answer(f *results.Feed) {
	line := b.first
	defer func() {
		if p := recover(); p != nil {
			b.err = fmt.Errorf("line %d: %w: %v", line, ErrProgram, p)
		}
	}()
	if b.tooLong {
		b.report.Lines++
		b.refuse(line, &evaluate.Refusal{Text: words.ProblemLineTooLong.With(MaxLine), Hint: words.HintLineTooLong.With()})
		return
	}
	rest := string(b.in) // one copy, of which the cells are pieces
	for ; rest != ""; line++ {
		var text string
		text, rest, _ = strings.Cut(rest, "\n")
		b.report.Lines++
		if len(text) > MaxLine {
			b.refuse(line, &evaluate.Refusal{Text: words.ProblemLineTooLong.With(MaxLine), Hint: words.HintLineTooLong.With()})
			continue
		}
		if strings.Trim(text, " \t\r") == "" {
			continue
		}
		f.Begin(line)
		if bad := Members(text, f.Set); bad != nil {
			b.refuse(line, bad)
			continue
		}
		var done evaluate.Done
		if b.out, done = f.Append(b.out); done.Refused != nil {
			b.refuse(line, done.Refused)
			continue
		}
		b.out = append(b.out, '\n')
		b.report.Machines++
		b.report.Verdicts[done.Verdict]++
		if done.Failed {
			b.report.Failed++
		}
	}
}

// refuse answers a line that was not read, in its place.
func (b *batch) refuse(line int, why *evaluate.Refusal) {
	if b.report.Refused++; b.report.Refused == 1 {
		b.report.FirstRefused, b.report.FirstError = line, why.Text.String()
	}
	b.out = append(results.AppendRefusal(b.out, line, why), '\n')
}
