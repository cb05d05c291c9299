package httpapi

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/headers"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// withBooks leaves the workbooks out of a list of types where they are not served.
func (s *server) withBooks(types []string) []string {
	if s.Books != nil {
		return types
	}
	return slices.DeleteFunc(slices.Clone(types), func(m string) bool { return m == mediaXLSX })
}

var (
	jobReads  = []string{mediaJSON, mediaNDJSON, mediaCSV, mediaTSV, mediaXLSX}
	jobWrites = []string{mediaJSON, mediaNDJSON, mediaCSV, mediaXLSX}
)

// postJobs works a job out.
func (s *server) postJobs(w *answer, r *http.Request) *problem {
	in, bad := bodyType(r, s.withBooks(jobReads))
	if bad != nil {
		return bad
	}
	offers := s.withBooks(jobWrites)
	if in == mediaNDJSON {
		offers = []string{mediaNDJSON}
	}
	out, bad := accepted(r, offers)
	if bad != nil {
		return bad
	}
	settings, bad := querySettings(r)
	if bad != nil {
		return bad
	}
	if in == mediaNDJSON {
		return s.stream(w, r, settings)
	}
	body, bad := s.body(w, r)
	if bad != nil {
		return bad
	}
	done, bad := s.turn(s.jobs)
	if bad != nil {
		return bad
	}
	x := s.work(&posted{in, out, body, settings}, done)
	if x.bad != nil {
		return x.bad
	}
	return s.write(w, r, &x, out)
}

// A posted job is one that came as a body.
type posted struct {
	in, out  string // types of the body and of the answer
	body     []byte
	settings *job.Table // of the address, nil none
}

// A body up to smallBody without a workbook in it is read in no time, and of a job of at most fewRows rows that has no sheets beside them the end can be foreseen, should they even be a
// train that is to be planned: such a job is worked out where it came, without a clock that is to stop it.
const (
	smallBody = 16 << 10
	fewRows   = 8
)

// few says whether a job is such a one.
func few(j *job.Job) bool {
	for _, k := range job.SheetKinds() {
		if j.Table(k) != nil && k != job.MachinesSheet && k != job.SettingsSheet {
			return false
		}
	}
	return len(j.Machines.Rows) <= fewRows
}

// work works a job out, and calls done when it has ended.
func (s *server) work(p *posted, done func()) result {
	if p.in == mediaXLSX || len(p.body) > smallBody {
		return s.timed(done, func(ctx context.Context) result {
			j, told, bad := s.job(p)
			if bad != nil {
				return result{bad: bad}
			}
			return s.evaluate(ctx, j, told, p.out)
		})
	}
	mine := true
	defer func() {
		if mine {
			done()
		}
	}()
	began := time.Now()
	j, told, bad := s.job(p)
	if bad != nil {
		return result{bad: bad}
	}
	if !few(j) || p.out == mediaXLSX {
		mine = false
		return s.timed(done, func(ctx context.Context) result { return s.evaluate(ctx, j, told, p.out) })
	}
	x := s.evaluate(context.Background(), j, told, p.out)
	if s.Compute > 0 && time.Since(began) > s.Compute && x.bad == nil {
		return s.late()
	}
	return x
}

// job makes a job of a body.
func (s *server) job(p *posted) (*job.Job, []job.Problem, *problem) {
	j, told, bad := s.read(p.in, p.body, p.settings)
	if bad != nil {
		return nil, nil, bad
	}
	if j.Revision == 0 && j.SavedAt == "" {
		sum := sha256.Sum256(p.body)
		j.ID = hex.EncodeToString(sum[:16]) // the same job has the same answer
	}
	return j, told, nil
}

// querySettings reads a Job sheet out of the address; nil if nothing stands there.
func querySettings(r *http.Request) (*job.Table, *problem) {
	if r.URL.RawQuery == "" {
		return nil, nil
	}
	names, values, bad := query(r)
	if bad != nil {
		return nil, bad
	}
	t, refused := evaluate.SettingsTable(names, values, make([]bool, len(names)))
	if refused != nil {
		return nil, failure(kindParameter, refused.Text.String(), refused.Hint.String())
	}
	return t, badSettings(t)
}

// badSettings is the problem of a Job sheet that cannot be understood.
func badSettings(t *job.Table) *problem {
	e := sentences.New(&job.Job{Machines: &job.Table{}, Settings: t})
	for _, p := range e.Problems() {
		if p.Severity == job.Error || p.Severity == job.Warning && p.Sheet == job.SettingsSheet.String() {
			return failure(kindParameter, p.Column+": "+p.Text.String(), p.Hint.String())
		}
	}
	return nil
}

// query reads the parameters of the address in order.
func query(r *http.Request) (names, values []string, bad *problem) {
	for part := range strings.SplitSeq(r.URL.RawQuery, "&") {
		if part == "" {
			continue
		}
		k, v, _ := strings.Cut(part, "=")
		name, err := url.QueryUnescape(k)
		value, err2 := url.QueryUnescape(v)
		if err = errors.Join(err, err2); err != nil || !utf8.ValidString(name+value) {
			return nil, nil, failure(kindParameter, words.HttpParameterWritten.Say(shorten(part)), words.HttpWriteEscaped.String())
		}
		names, values = append(names, name), append(values, value)
	}
	return names, values, nil
}

// body reads the whole body, within the limits of size and time.
func (s *server) body(w *answer, r *http.Request) ([]byte, *problem) {
	large := func() *problem {
		return failure(kindTooLarge, words.HttpBodyLong.Say(int(s.MaxBody)), words.HttpSendInParts.String())
	}
	if r.ContentLength > s.MaxBody {
		return nil, large()
	}
	control := http.NewResponseController(w)
	timed := control.SetReadDeadline(time.Now().Add(s.Idle)) == nil
	var b bytes.Buffer
	if n := r.ContentLength; n > 0 && n <= 1<<20 {
		b.Grow(int(n) + bytes.MinRead)
	}
	_, err := b.ReadFrom(http.MaxBytesReader(w, r.Body, s.MaxBody))
	if timed && err == nil {
		control.SetReadDeadline(time.Time{})
	}
	var over *http.MaxBytesError
	switch {
	case err == nil:
		return b.Bytes(), nil
	case errors.As(err, &over):
		return nil, large()
	case errors.Is(err, os.ErrDeadlineExceeded):
		w.Header().Set("Connection", "close")
		return nil, failure(kindSlow, words.HttpBodyLate.Say(s.Idle, b.Len()), words.HttpSendLess.String())
	}
	w.Header().Set("Connection", "close")
	return nil, failure(kindCut, words.HttpAfterBytes.Say(b.Len(), err), words.HttpSendWhole.String())
}

// A result is a job worked out.
type result struct {
	e      *sentences.Teller
	book   []byte        // the workbook, where one is wanted
	told   []job.Problem // of the job as a whole
	status int           // that the command would end with
	bad    *problem
}

// timed works with the limit of time, and calls done once the work has ended, which may be later than the answer: nothing can be torn out of the middle of a row.
// The request's own context has no say: it ends when a client has sent all it will, which still waits for its answer.
func (s *server) timed(done func(), work func(context.Context) result) result {
	if s.Compute < 0 {
		defer done()
		return work(context.Background())
	}
	ctx, cancel := context.WithTimeout(context.Background(), s.Compute)
	defer cancel()
	type ended struct {
		result
		panicked any
	}
	ch := make(chan ended, 1)
	go func() {
		var x ended
		defer func() {
			x.panicked = recover()
			done()
			ch <- x
		}()
		x.result = work(ctx)
	}()
	select {
	case x := <-ch:
		if x.panicked != nil {
			panic(x.panicked)
		}
		if ctx.Err() != nil && x.bad == nil {
			return s.late()
		}
		return x.result
	case <-ctx.Done():
		return s.late()
	}
}

// late is what comes of a job that took too long.
func (s *server) late() result {
	return result{bad: failure(kindTooLong, words.HttpNotWorkedOut.Say(s.Compute), words.HttpSendFewer.String())}
}

// read makes a job of a body.
func (s *server) read(in string, body []byte, settings *job.Table) (j *job.Job, told []job.Problem, bad *problem) {
	named := false // each cell came under a name that is a column's
	switch in {
	case mediaJSON:
		j, named, bad = s.readJSON(body, settings)
	case mediaXLSX:
		var err error
		if j, told, err = s.Books.Read(body); err != nil {
			return nil, nil, unreadable(err.Error(), "", told)
		}
	default:
		j, told, bad = s.readList(in, body)
	}
	if bad != nil {
		return nil, nil, bad
	}
	if settings != nil && j.Settings != settings {
		if t := j.Settings; t != nil && len(t.Rows) > 0 {
			return nil, nil, failure(kindParameter, words.HttpSettingsTwice.String(), words.HttpSettingsOnSheet.String())
		}
		j.Settings = settings
	}
	cells := 0
	for _, k := range job.SheetKinds() {
		t := j.Table(k)
		if t == nil {
			continue
		}
		if len(t.Rows) > s.MaxRows {
			return nil, nil, failure(kindTooLarge, words.HttpSheetRows.Say(k, len(t.Rows), s.MaxRows),
				words.HttpOrAsStream.String()).at(k.String(), 0, "")
		}
		for _, row := range t.Rows {
			cells += len(row)
		}
	}
	if cells > s.MaxCells {
		return nil, nil, s.manyCells()
	}
	if !named {
		told = append(told, headers.OfJob(j)...)
	}
	return j, told, nil
}

func (s *server) manyCells() *problem {
	return failure(kindTooLarge, words.HttpManyCells.Say(s.MaxCells), words.HttpFewerColumns.String())
}

// readList reads delimited text.
func (s *server) readList(in string, body []byte) (*job.Job, []job.Problem, *problem) {
	sep := rune(0)
	if in == mediaTSV {
		sep = '\t'
	}
	if n := max(bytes.Count(body, []byte{','}), bytes.Count(body, []byte{';'}), bytes.Count(body, []byte{'\t'})) + bytes.Count(body, []byte{'\n'}); n > s.MaxCells {
		return nil, nil, s.manyCells()
	}
	t, told, err := job.ReadDelimited(job.MachinesSheet.String(), body, sep)
	if err != nil {
		return nil, nil, unreadable(err.Error(), "", nil)
	}
	t.SplitHeader(job.MachinesSheet)
	j := job.NewJob()
	j.Machines = t
	return j, told, nil
}

// evaluate works the job out, all of it that takes time.
func (s *server) evaluate(ctx context.Context, j *job.Job, told []job.Problem, out string) result {
	e := sentences.New(j)
	e.Final()
	e.Tell(told)
	if err := e.Run(ctx, nil); err != nil {
		return result{}
	}
	// What keeps the stock from being shared out is a problem of the stock and told with the packs, which are then those of a full box.
	_, _ = e.Allocate(func(_, _ int) bool { return ctx.Err() == nil })
	x := result{e: e, told: e.Problems()}
	machines, verdicts := e.Count()
	if machines == 0 {
		return result{bad: unreadable(words.HttpNoCoupling.String(), words.HttpWantsHeader.String(), rowless(e, x.told))}
	}
	if verdicts[calc.NotJudged] > 0 {
		x.status = 1
	}
	for i := range e.Len() {
		r := e.Row(i)
		if r.Worst() == job.Error {
			x.status = 1
		}
		if r.Kind == evaluate.HeaderRow || r.Kind == evaluate.LeftOutRow {
			x.told = append(x.told[:len(x.told):len(x.told)], r.Problems...)
		}
	}
	for i := range x.told {
		if x.told[i].Severity == job.Error {
			x.status = 1
		}
	}
	if out == mediaXLSX && ctx.Err() == nil {
		var err error
		if x.book, err = s.Books.Write(e); err != nil {
			return result{bad: failure(kindFailed, err.Error(), "")}
		}
	}
	return x
}

// rowless adds what was said of rows to what was said of the job.
func rowless(e *sentences.Teller, list []job.Problem) []job.Problem {
	for i := 0; i < e.Len() && len(list) < 20; i++ {
		list = append(list[:len(list):len(list)], e.Row(i).Problems...)
	}
	return list
}

// Headers of an answer: what the command would end with, and what there is to say of the job as a whole, for forms that have no room for it.
const (
	headerStatus  = "Shimsheet-Exit-Status"
	headerProblem = "Shimsheet-Problem"
	mostTold      = 20
)

// write gives the results in the form that was asked for.
func (s *server) write(w *answer, r *http.Request, x *result, out string) *problem {
	h := w.Header()
	h[headerStatus] = exitStatus[x.status]
	h["Cache-Control"] = noStore
	if out == mediaXLSX {
		h.Set("Content-Disposition", `attachment; filename="results.xlsx"`)
		tell(h, x.told)
		s.small(w, out, x.book)
		return nil
	}
	media := out
	var give func(io.Writer) error
	switch out {
	case mediaJSON:
		give = func(w io.Writer) error { return results.WriteJSON(w, x.e) }
	case mediaNDJSON:
		give = func(w io.Writer) error { return linesOf(w, x) }
	case mediaCSV:
		media += "; charset=utf-8"
		tell(h, x.told)
		give = func(w io.Writer) error { return results.WriteCSV(w, x.e) }
	}
	h["Content-Type"] = []string{media}
	p := s.pace(w, r)
	defer p.endWrite()
	first := heldAnswers.Get().(*held)
	*first = held{w: p, b: first.b[:0]}
	defer func() {
		if first.w = nil; cap(first.b) <= 1<<18 {
			heldAnswers.Put(first)
		}
	}()
	if err := give(first); err != nil {
		panic(http.ErrAbortHandler) // the client has gone, or takes nothing
	}
	if !first.let {
		h["Content-Length"] = []string{strconv.Itoa(len(first.b))}
		p.Write(first.b)
	}
	return nil
}

// small answers with a text that is there as a whole.
func (s *server) small(w *answer, media string, body []byte) {
	h := w.Header()
	h.Set("Content-Type", media)
	h.Set("Content-Length", strconv.Itoa(len(body)))
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "no-store")
	}
	w.Write(body)
}

// tell puts problems of the job as a whole into headers, percent-encoded where they are not plain.
func tell(h http.Header, list []job.Problem) {
	n := 0
	for i := range list {
		if list[i].Severity == job.Note {
			continue
		}
		if n++; n > mostTold {
			h.Add(headerProblem, words.HttpAndMore.String())
			return
		}
		h.Add(headerProblem, list[i].Severity.String()+": "+headerText(list[i].String()))
	}
}

// headerText is a text as it can stand in a header: what is not plain ASCII, and commas, at which some split headers, as % and its bytes in hexadecimal.
func headerText(s string) string {
	var b strings.Builder
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '%' || c == ',' {
			fmt.Fprintf(&b, "%%%02X", c)
		} else {
			b.WriteByte(c)
		}
	}
	return b.String()
}

// linesOf writes each coupling's object on a line, and behind them, if there is something to say of the job as a whole, one line with its problems.
func linesOf(w io.Writer, x *result) error {
	var b []byte
	rows := results.NewRows(x.e)
	for i := range x.e.Len() {
		if x.e.Row(i).Kind != evaluate.MachineRow {
			continue
		}
		b = append(rows.Append(b, i), '\n')
		if len(b) > 1<<16 {
			if _, err := w.Write(b); err != nil {
				return err
			}
			b = b[:0]
		}
	}
	if len(x.told) > 0 {
		var list []placed
		for i := range x.told {
			p := &x.told[i]
			list = append(list, placed{p.Severity.String(), p.Sheet, p.Row, p.Column, p.Text.String(), p.Hint.String()})
		}
		line, err := json.Marshal(map[string]any{"problems": list})
		if err != nil {
			return err
		}
		b = append(append(b, line...), '\n')
	}
	_, err := w.Write(b)
	return err
}

// Values of headers that are the same again and again.
var (
	exitStatus = [...][]string{{"0"}, {"1"}}
	noStore    = []string{"no-store"}
)

// heldAnswers are used again: an answer of one row has ten thousand bytes.
var heldAnswers = sync.Pool{New: func() any { return new(held) }}

// A held writer keeps what it is given first until more comes, so that a short answer can say how long it is.
type held struct {
	w   io.Writer
	b   []byte
	any bool
	let bool // go
}

func (h *held) Write(b []byte) (int, error) {
	if !h.any {
		h.any, h.b = true, append(h.b, b...)
		return len(b), nil
	}
	if !h.let {
		h.let = true
		if _, err := h.w.Write(h.b); err != nil {
			return 0, err
		}
	}
	return h.w.Write(b)
}
