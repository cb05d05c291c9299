package evaluate

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/dates"
	"shimsheet/internal/job"
	"shimsheet/internal/pictures"
	"shimsheet/internal/words"
)

// WholeJob stands under Machine on the Record sheet for what belongs to every machine.
const WholeJob = "whole job"

// A SignState says how a row of the Record sheet stands.
type SignState uint8

// The states of a row of the Record sheet.
const (
	NotSigned  SignState = iota // an entry: an instrument, a deviation, a picture
	SignHolds                   // what was signed is what is there
	SignFailed                  // something changed since
	SignBare                    // somebody's name without a digest: nothing can be checked
	SignLater                   // the same role signed again later
)

// Word is the state as people see it.
func (s SignState) Word() words.Key {
	return [...]words.Key{words.WordNotSigned, words.WordSigned, words.WordChanged, words.WordNoDigest, words.WordSignedLater}[s]
}

// A RecordRow is one row of the Record sheet: a signature with its role, or an entry that a signature Covers: an instrument with its certificate, a deviation and who allowed
// it, a picture.
type RecordRow struct {
	Row         int    // source row
	Machine     string // as typed; [WholeJob] for the job
	Role        string // aligner, witness, accepter; "" not said
	By, At      string // who signed, and when
	Result      string // what was signed for
	Deviation   string
	AllowedBy   string
	Instrument  string
	Certificate string
	Due         string // until when the certificate holds
	Photo       string // as typed, with its bytes in base64
	Signature   string // the strokes of a drawn signature, or a typed name
	Note        string
	Digest      string
	State       SignState
	Why         words.Phrase // what changed; empty: nothing did

	key  string
	cell []string // the row as typed
	bad  bool
}

// Signs says whether somebody put a name to the row.
func (r *RecordRow) Signs() bool { return r.By != "" || r.Digest != "" }

// records are the rows of the Record sheet, by machine key; those of the whole job have theirs.
type records struct {
	rows    map[string][]*RecordRow
	list    []*RecordRow // in the order of the sheet
	header  []string
	digest  int // its column in the Record sheet, −1 none
	lines   map[string][]string
	claimed map[string]*claim
}

// readRecord reads the Record sheet.
func (e *Evaluator) readRecord() {
	e.record = nil
	l := e.lines(job.RecordSheet, job.RecordMachine, job.RecordNote, job.RecordMachine)
	if l == nil {
		return
	}
	rec := &records{rows: map[string][]*RecordRow{}, header: l.header, digest: l.col(job.RecordDigest), claimed: map[string]*claim{}}
	e.record = rec
	for l.next() {
		key, cl := l.owner(job.RecordMachine)
		if key == "" {
			continue
		}
		if rec.claimed[key] == nil && key != WholeJob {
			rec.claimed[key] = &cl
			e.claims = append(e.claims, &cl)
		}
		r := &RecordRow{Row: l.src(), Machine: l.text(job.RecordMachine), key: key, cell: l.rows[l.i]}
		if k := l.choice(job.RecordRole); k >= 0 {
			r.Role = job.RecordRole.Info().Choices[k]
		}
		for _, f := range [...]struct {
			c  job.ColumnID
			to *string
		}{{job.RecordSignedBy, &r.By}, {job.RecordSignedAt, &r.At}, {job.RecordResult, &r.Result}, {job.RecordDeviation, &r.Deviation}, {job.RecordAllowedBy, &r.AllowedBy}, {job.RecordInstrument, &r.Instrument}, {job.RecordCertificate, &r.Certificate},
			{job.RecordDue, &r.Due}, {job.RecordPhoto, &r.Photo}, {job.RecordSignature, &r.Signature}, {job.RecordNote, &r.Note}, {job.RecordDigest, &r.Digest}} {
			*f.to = l.text(f.c)
		}
		e.checkEntry(l, r)
		r.bad = l.bad
		rec.rows[key] = append(rec.rows[key], r)
		rec.list = append(rec.list, r)
	}
	for _, rows := range rec.rows {
		supersede(rows)
	}
	e.checkDue()
}

// checkEntry looks at what a row of the Record sheet says by itself.
func (e *Evaluator) checkEntry(l *lines, r *RecordRow) {
	switch {
	case r.Digest != "" && r.By == "":
		l.fail(job.RecordSignedBy, words.ProblemSignNobody.With(), words.HintSignNobody.With())
	case r.Digest == "" && r.By != "":
		l.tell(job.Warning, job.RecordDigest, words.ProblemSignBare.With(), words.HintSignBare.With())
	case r.Digest != "" && !isDigest(r.Digest):
		l.fail(job.RecordDigest, words.ProblemNoDigest.With(job.Quote(r.Digest)), words.HintNoDigest.With())
	}
	if r.Deviation != "" && r.AllowedBy == "" {
		l.tell(job.Warning, job.RecordAllowedBy, words.ProblemNotAllowed.With(), words.HintNotAllowed.With())
	}
	if r.Photo != "" {
		if _, err := pictures.Look(r.Photo); err != nil {
			l.fail(job.RecordPhoto, words.Plain(err.Error()), words.HintPicture.With())
			r.Photo = ""
		}
	}
	if _, err := pictures.Strokes(r.Signature); err != nil {
		l.fail(job.RecordSignature, words.Plain(err.Error()), words.HintSignature.With())
		r.Signature = ""
	}
}

// isDigest says whether a text is a SHA-256 in hexadecimal.
func isDigest(s string) bool {
	b, err := hex.DecodeString(strings.ToLower(s))
	return err == nil && len(b) == sha256.Size
}

// supersede marks the signatures of a machine that the same role gave again later.
func supersede(rows []*RecordRow) {
	last := map[string]*RecordRow{}
	for _, r := range rows {
		if !r.Signs() {
			continue
		}
		was := last[r.Role]
		if was == nil {
			last[r.Role] = r
			continue
		}
		older, newer := was, r
		if a, ok := dates.ParseTime(was.At); ok {
			if b, ok := dates.ParseTime(r.At); ok && b < a {
				older, newer = r, was
			}
		}
		older.State, last[r.Role] = SignLater, newer
	}
}

// SetToday tells the day, as 2006-01-02, that certificates of instruments are held against where nobody has signed yet. The program itself looks at no clock.
func (e *Evaluator) SetToday(day string) {
	if e.today == day {
		return
	}
	if e.today = day; e.record != nil {
		e.Refresh()
	}
}

// checkDue warns of instruments whose certificate had run out when somebody signed for what they read; where nobody has, when it has run out today.
func (e *Evaluator) checkDue() {
	t := e.job.Table(job.RecordSheet)
	for _, r := range e.record.list {
		if r.Due == "" {
			continue
		}
		tell := func(text, hint words.Phrase) {
			e.problems = append(e.problems, job.Problem{Severity: job.Warning, File: t.File, Sheet: e.SheetName(job.RecordSheet), Row: r.Row, Column: job.RecordDue.Info().Name,
				Text: text, Hint: hint, Col: slices.IndexFunc(e.record.header, func(h string) bool {
					c, _, _ := job.MatchHeader(job.RecordSheet, h)
					return c == job.RecordDue
				})})
		}
		due, ok := dates.ParseLast(r.Due)
		if !ok {
			tell(words.ProblemDueUnread.With(job.Quote(r.Due)), words.HintDue.With())
			continue
		}
		signed := false
		for _, s := range e.record.list {
			at, ok := dates.ParseTime(s.At)
			if !ok || !s.Signs() || s.State == SignLater || s.key != r.key && r.key != WholeJob {
				continue
			}
			signed = true
			if at > due+dates.Day {
				tell(words.ProblemDuePast.With(r.Instrument, due.String(), s.At, s.Machine), words.HintDuePast.With())
				break
			}
		}
		if now, ok := dates.ParseTime(e.today); ok && !signed && now > due {
			tell(words.ProblemDuePastToday.With(r.Instrument, due.String()), words.HintDuePast.With())
		}
	}
}

// recordSheets are the sheets whose rows of a machine are in its record, beside the entries of the Record sheet.
var recordSheets = [...]job.SheetKind{job.MachinesSheet, job.ReadingsSheet, job.RoundsSheet, job.GrowthSheet, job.FeetSheet, job.TrainsSheet, job.ChecksSheet}

// The first line of a canonical text: its form and the version of that.
const recordForm = "shimsheet record 1"

// canonicalLine writes the row of a sheet as a line of the canonical text: the name of the sheet, then header and text of each filled cell, sorted, all with a tab between.
// omit is a column that is left out, −1 none.
func canonicalLine(kind job.SheetKind, header, row []string, omit int) string {
	var cells []string
	for c, s := range row {
		if s = canonicalCell(s); s == "" || c == omit {
			continue
		}
		h := ""
		if c < len(header) {
			h = header[c]
			if id, _, _ := job.MatchHeader(kind, h); id != job.NoColumn && id.Info().Result {
				continue
			}
		}
		cells = append(cells, canonicalCell(h)+"\t"+s)
	}
	slices.Sort(cells)
	return kind.String() + "\t" + strings.Join(cells, "\t")
}

// canonicalCell is a text of a cell in the canonical text: without blanks at its ends, with \\ for a backslash, \t for a tab and \n for the end of a line.
func canonicalCell(s string) string {
	return oneLineCell.Replace(strings.Trim(oneLineEnd.Replace(s), " \t\n"))
}

var (
	oneLineEnd  = strings.NewReplacer("\r\n", "\n", "\r", "\n")
	oneLineCell = strings.NewReplacer(`\`, `\\`, "\t", `\t`, "\n", `\n`)
)

// machineColumn is the header of a sheet and its column Machine, −1 where it has none.
func machineColumn(t *job.Table, kind job.SheetKind) (header []string, rows [][]string, col int) {
	header, rows = t.Header, t.Rows
	if header == nil {
		plain := *t
		plain.SplitHeader(kind)
		header, rows = plain.Header, plain.Rows
	}
	col = slices.IndexFunc(header, func(h string) bool {
		c, _, _ := job.MatchHeader(kind, h)
		return c != job.NoColumn && c.Info().Key == job.ColMachine.Info().Key
	})
	return header, rows, col
}

// linesOf gathers the lines of the machines that somebody signed for, from all sheets but Machines, whose rows may change by themselves.
func (e *Evaluator) linesOf() {
	rec := e.record
	rec.lines = map[string][]string{}
	for _, kind := range recordSheets[1:] {
		t := e.job.Table(kind)
		if t == nil {
			continue
		}
		header, rows, col := machineColumn(t, kind)
		if col < 0 {
			continue
		}
		for _, row := range rows {
			if col >= len(row) || job.Blank(row[col]) {
				continue
			}
			if key := nameKey(row[col]); rec.rows[key] != nil {
				rec.lines[key] = append(rec.lines[key], canonicalLine(kind, header, row, -1))
			}
		}
	}
}

// recordText is the canonical text of what the row s of the Record sheet signs for: of the machine in row i of the Machines sheet. s need not stand on the sheet yet; its
// digest is not in the text.
func (e *Evaluator) recordText(i int, s *RecordRow) string {
	rec := e.record
	if rec.lines == nil {
		e.linesOf()
	}
	key := e.keys[i]
	list := slices.Clone(rec.lines[key])
	list = append(list, canonicalLine(job.MachinesSheet, e.machineHeader(), e.job.Machines.Rows[i], -1))
	for _, r := range rec.list {
		if !r.Signs() && r.key == key {
			list = append(list, canonicalLine(job.RecordSheet, rec.header, r.cell, rec.digest))
		}
	}
	list = append(list, canonicalLine(job.RecordSheet, rec.header, s.cell, rec.digest))
	return canonical(list)
}

// machineHeader is the header of the Machines sheet.
func (e *Evaluator) machineHeader() []string {
	header, _, _ := machineColumn(e.job.Machines, job.MachinesSheet)
	return header
}

// wholeText is the canonical text of what a row of the Record sheet signs for that stands for the whole job: every row of every sheet but Stock, with the other signatures.
func (e *Evaluator) wholeText(s *RecordRow) string {
	var list []string
	for _, kind := range job.SheetKinds() {
		t := e.job.Table(kind)
		if t == nil || kind == job.StockSheet || kind == job.RecordSheet {
			continue
		}
		header, rows, _ := machineColumn(t, kind)
		for _, row := range rows {
			if !job.BlankRow(row) {
				list = append(list, canonicalLine(kind, header, row, -1))
			}
		}
	}
	for _, r := range e.record.list {
		switch {
		case r == s:
			list = append(list, canonicalLine(job.RecordSheet, e.record.header, r.cell, e.record.digest))
		case !r.Signs() || r.key != WholeJob:
			list = append(list, canonicalLine(job.RecordSheet, e.record.header, r.cell, -1))
		}
	}
	return canonical(list)
}

// canonical puts a canonical text together.
func canonical(lines []string) string {
	slices.Sort(lines)
	return recordForm + "\n" + strings.Join(lines, "\n") + "\n"
}

// Digest is the digest of a canonical text.
func Digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// SignedResult says in a line what somebody signs for at a machine: verdict, round, line with its ±, wanted line and limits, in mm and mm/m whatever the job's units.
func (e *Evaluator) SignedResult(r *RowResult) string {
	num := func(x float64) string {
		if math.IsNaN(x) {
			return "-"
		}
		s := strconv.FormatFloat(x, 'f', 4, 64)
		if s == "-0.0000" {
			s = s[1:]
		}
		return s
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s; %s", r.Verdict, r.RoundWord())
	if r.HasLine() {
		fmt.Fprintf(&b, "; offset V %s H %s ± %s mm; slope V %s H %s ± %s mm/m", num(r.Offset.V), num(r.Offset.H), num(r.Offset.UTotal), num(r.Slope.V), num(r.Slope.H), num(r.Slope.UTotal))
		if w := r.Wanted; knownLine(w) {
			fmt.Fprintf(&b, "; wanted offset V %s H %s mm, slope V %s H %s mm/m", num(w.DV), num(w.DH), num(w.TV), num(w.TH))
		}
	}
	if Known(r.Limits.Offset) || Known(r.Limits.Slope) {
		fmt.Fprintf(&b, "; limits %s mm, %s mm/m", num(r.Limits.Offset), num(r.Limits.Slope))
		if r.Limits.Set != "" {
			fmt.Fprintf(&b, ", %s, %s", r.Limits.Set, r.Limits.Source.String())
		}
		if r.Limits.Reason != "" {
			fmt.Fprintf(&b, ", %s", r.Limits.Reason)
		}
	}
	return b.String()
}

// judgeRecord holds the signatures of a machine against what is there now.
func (e *Evaluator) judgeRecord(i int, r *RowResult) {
	r.Record, r.Signed = nil, NotSigned
	if e.record == nil || e.keys[i] == "" || e.dups[i] >= 0 {
		return
	}
	rows := e.record.rows[e.keys[i]]
	for _, row := range rows {
		s := *row
		if s.Signs() && s.State != SignLater {
			switch now := e.SignedResult(r); {
			case s.Digest == "" || s.bad:
				s.State = SignBare
			case Digest(e.recordText(i, row)) != strings.ToLower(s.Digest):
				s.State, s.Why = SignFailed, words.ProblemChangedRows.With()
			case s.Result != "" && s.Result != now:
				s.State, s.Why = SignFailed, words.ProblemChangedResult.With(s.Result, now)
			default:
				s.State = SignHolds
			}
			switch {
			case s.State == SignFailed || r.Signed == NotSigned:
				r.Signed = s.State
			case r.Signed == SignBare && s.State == SignHolds:
				r.Signed = SignHolds
			}
			if s.State == SignFailed {
				e.problem(r, job.Warning, job.NoColumn, words.ProblemChangedSince.With(s.By, s.At, s.Why), words.HintChangedSince.With())
			}
		}
		r.Record = append(r.Record, s)
	}
}

// Strangers are the rows of the Record sheet that name a machine which no row of the Machines sheet has: nothing is there to hold them against.
func (e *Evaluator) Strangers() (list []RecordRow) {
	if e.record == nil {
		return nil
	}
	for _, row := range e.record.list {
		if _, ok := e.first[row.key]; !ok && row.key != WholeJob && row.Signs() {
			s := *row
			s.State, s.Why = SignFailed, words.ProblemNoSuchMachine.With(strconv.Quote(row.Machine))
			list = append(list, s)
		}
	}
	return list
}

// WholeRecord are the rows of the Record sheet for the whole job, the signatures among them held against what is there now. Every row of the job is worked out.
func (e *Evaluator) WholeRecord() (list []RecordRow) {
	if e.record == nil {
		return nil
	}
	for _, row := range e.record.rows[WholeJob] {
		s := *row
		if s.Signs() && s.State != SignLater {
			switch now := e.WholeResult(); {
			case s.Digest == "" || s.bad:
				s.State = SignBare
			case Digest(e.wholeText(row)) != strings.ToLower(s.Digest):
				s.State, s.Why = SignFailed, words.ProblemChangedRows.With()
			case s.Result != "" && s.Result != now:
				s.State, s.Why = SignFailed, words.ProblemChangedResult.With(s.Result, now)
			default:
				s.State = SignHolds
			}
		}
		list = append(list, s)
	}
	return list
}

// WholeResult says in a line what somebody signs for who signs for the whole job.
func (e *Evaluator) WholeResult() string {
	machines, v := e.Count()
	var b strings.Builder
	fmt.Fprintf(&b, "%d machines", machines)
	for k, n := range v {
		if n > 0 {
			fmt.Fprintf(&b, "; %d %s", n, calc.Verdict(k))
		}
	}
	return b.String()
}

// CanonicalText is the text whose SHA-256 is the digest of a signature: of row number row of the Record sheet, as a spreadsheet counts. ok is false where no row there signs.
func (e *Evaluator) CanonicalText(row int) (text string, ok bool) {
	if e.record == nil {
		return "", false
	}
	for _, s := range e.record.list {
		if s.Row != row || !s.Signs() {
			continue
		}
		if s.key == WholeJob {
			return e.wholeText(s), true
		}
		if i, ok := e.first[s.key]; ok {
			return e.recordText(i, s), true
		}
	}
	return "", false
}

// A Signing is what somebody puts down who signs.
type Signing struct {
	Machine   string // as the Machines sheet has it, or [WholeJob]
	Role      string
	By, At    string
	Signature string // strokes or a typed name; may be ""
	Note      string
}

// recordHeader is the header of a Record sheet that the program makes.
var recordHeader = []job.ColumnID{job.RecordMachine, job.RecordRole, job.RecordSignedBy, job.RecordSignedAt, job.RecordResult, job.RecordDeviation, job.RecordAllowedBy, job.RecordInstrument, job.RecordCertificate, job.RecordDue, job.RecordPhoto, job.RecordSignature, job.RecordNote, job.RecordDigest}

// recordTable is the Record sheet of the job with the columns that are needed, at hand to append to; the job's own is left as it is.
func (e *Evaluator) recordTable() *job.Table {
	t := &job.Table{Name: job.RecordSheet.String(), FirstRow: 2}
	if own := e.job.Table(job.RecordSheet); own != nil {
		*t = *own
		if t.Header == nil {
			t.SplitHeader(job.RecordSheet)
		}
		t.Rows = slices.Clone(t.Rows)
	}
	t.Header = slices.Clone(t.Header)
	for _, c := range recordHeader {
		if !slices.ContainsFunc(t.Header, func(h string) bool { id, _, _ := job.MatchHeader(job.RecordSheet, h); return id == c }) {
			t.Header = append(t.Header, c.Info().Name)
		}
	}
	return t
}

// AddEntry gives the Record sheet with a row more: the texts by column key, such as machine, instrument, due. The job is left as it is.
func (e *Evaluator) AddEntry(texts map[string]string) *job.Table {
	t := e.recordTable()
	row := make([]string, len(t.Header))
	for c, h := range t.Header {
		if id, _, _ := job.MatchHeader(job.RecordSheet, h); id != job.NoColumn {
			row[c] = texts[id.Info().Key]
		}
	}
	t.Rows = append(t.Rows, row)
	return t
}

// Sign gives the Record sheet with a signature more, frozen by its digest. The job is left as it is; the caller puts the sheet into it. An error says why nobody may sign now.
func (e *Evaluator) Sign(s Signing) (*job.Table, error) {
	s.Machine, s.By, s.At = strings.TrimSpace(s.Machine), strings.TrimSpace(s.By), strings.TrimSpace(s.At)
	if s.By == "" || s.At == "" {
		return nil, errSignNobody
	}
	texts := map[string]string{"machine": s.Machine, "role": s.Role, "signed_by": s.By, "signed_at": s.At, "signature": s.Signature, "note": s.Note}
	if nameKey(s.Machine) == WholeJob {
		texts["result"] = e.WholeResult()
	} else {
		i, ok := e.first[nameKey(s.Machine)]
		if !ok {
			return nil, words.ProblemNoSuchMachine.With(strconv.Quote(s.Machine)).Err()
		}
		r := e.Row(i)
		if r.RoundWord() == StateWaiting {
			return nil, errSignWaiting
		}
		texts["result"] = e.SignedResult(r)
	}
	t := e.AddEntry(texts)
	j := *e.job
	j.SetTable(job.RecordSheet, t)
	signed := NewEvaluator(&j)
	last := signed.record.list[len(signed.record.list)-1]
	if last.bad || last.Row != t.SourceRow(len(t.Rows)-1) {
		return nil, words.ProblemSignUnreadable.With(s.Machine).Err()
	}
	text, ok := signed.CanonicalText(last.Row)
	if !ok {
		return nil, words.ProblemSignUnreadable.With(s.Machine).Err()
	}
	t.Rows[len(t.Rows)-1][signed.record.digest] = Digest(text)
	return t, nil
}

// Why nobody may sign.
var (
	errSignNobody  = words.Error(words.ProblemSignIncomplete)
	errSignWaiting = words.Error(words.ProblemSignNothing)
)

// Roles are what somebody can sign as.
func Roles() []string {
	job.LoadColumns()
	return job.RecordRole.Info().Choices
}

// ReadingsTyped are the readings of row i as they were typed, with their headers: of the round that counts where it stands on the Rounds sheet, else of the row itself.
func (e *Evaluator) ReadingsTyped(i int) (list [][]string) {
	r := e.Row(i)
	header, row, kind := e.machineHeader(), e.job.Machines.Rows[i], job.MachinesSheet
	if r.counting != nil && r.counting.Row > 0 {
		t := e.job.Table(job.RoundsSheet)
		rows := [][]string(nil)
		header, rows, _ = machineColumn(t, job.RoundsSheet)
		if at := r.counting.Row - t.SourceRow(0); t.Header != nil && at >= 0 && at < len(rows) {
			row, kind = rows[at], job.RoundsSheet
		}
	}
	for c, h := range header {
		if id, _, _ := job.MatchHeader(kind, h); job.IsReading(id) && c < len(row) && !job.Blank(row[c]) {
			list = append(list, []string{strings.TrimSpace(h), strings.TrimSpace(row[c])})
		}
	}
	return list
}
