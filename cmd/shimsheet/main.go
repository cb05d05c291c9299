// Command shimsheet aligns coupled machines by the sheet: it reads a list of couplings with their readings, and writes line, verdict,
// shims and moves for each.
//
//	shimsheet calc IN [-o OUT]    IN .xlsx, .csv, .tsv, a saved job .json or a saved page .html; OUT .xlsx, .json or .csv; no -o: a table on the terminal
//	shimsheet calc - -from ndjson -o -   a JSON object a line in, an object a line out, for as long as they come
//	shimsheet page [-o OUT.html]  the offline page, with -job IN a job inside it
//	shimsheet serve [-listen ADDR] the page and the calculation over HTTP, on this machine
//	shimsheet verify IN           whether what was signed is what is there
//	shimsheet stats IN [EARLIER …] count over a whole job, and over earlier ones beside it
//	shimsheet merge A B … -o OUT  put together what several crews bring back
//	shimsheet record IN -row N    the text whose digest a signature holds
//	shimsheet sign IN …           sign for a machine or for the job
//	shimsheet cards IN -o OUT.html   a paper card a machine
//	shimsheet columns             every column and its spellings
//	shimsheet version
//	shimsheet help
//	shimsheet -language FILE …    the same, in the texts of another catalogue
//
// Exit status 0: every row computed; 1: some rows not judged, the output is still written and the reasons are on standard error, a
// line each; 2: nothing could be read or written.
package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/headers"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
	"shimsheet/internal/workbook"
)

// usage is what the command can be asked.
func usage() string {
	var b strings.Builder
	for _, k := range [...]words.Key{words.UsageHead, words.UsageCalc, words.UsageStream, words.UsagePage, words.UsageServe, words.UsageVerify, words.UsageMerge, words.UsageStats,
		words.UsageRecord, words.UsageSign, words.UsageCards, words.UsageRest, words.UsageLanguage, words.UsageStatus, words.UsageRules} {
		b.WriteString(k.Say(`{"Machine": "P-101", "Speed [rpm]": 1480, …}`, `{"line": …, "error": …, "hint": …}`)) // a line of a stream, and a refusal
	}
	return b.String()
}

// The exit statuses.
const (
	exitOK       = 0
	exitSome     = 1
	exitNothing  = 2
	pageFile     = "embedded/page.html.gz"
	jobMarker    = `<script type="application/json" id="job">null</script>`
	jobOpen      = `<script type="application/json" id="job">`
	jobClose     = `</script>`
	maxPageBytes = 64 << 20
)

//go:embed all:embedded
var embedded embed.FS

// version is set by the build; else the module's version is told.
var version string

func main() {
	args := os.Args[1:]
	if _, rest, _ := cutLanguage(args); len(rest) == 0 || rest[0] != "serve" { // which ends what is under way first
		endOnSignals(os.Stderr)
	}
	os.Exit(run(args, os.Stdout, os.Stderr, embedded))
}

// run is the command with its surroundings handed in. Nothing from a file or an argument reaches standard error as it stands, but the way [sentences.Visible] has it.
func run(args []string, stdout, raw io.Writer, files fs.FS) int {
	stderr := sentences.VisibleWriter{W: raw}
	language, args, asked := cutLanguage(args)
	var err error
	if asked {
		err = speak(language)
	}
	if err == nil && len(args) == 0 {
		io.WriteString(stderr, usage())
		return exitNothing
	}
	status := exitOK
	if err == nil {
		status, err = runCommand(args[0], args[1:], stdout, stderr, files)
	}
	if errors.Is(err, flag.ErrHelp) {
		io.WriteString(stdout, usage())
		return exitOK
	}
	if err != nil {
		fmt.Fprintf(stderr, "shimsheet: %s\n", sentences.Visible(err.Error())) // on one line, whatever a file is called
		return exitNothing
	}
	return status
}

// runCommand runs one of the commands.
func runCommand(cmd string, rest []string, stdout, stderr io.Writer, files fs.FS) (status int, err error) {
	switch cmd {
	case "calc":
		status, err = runCalc(rest, stdout, stderr)
	case "page":
		err = runPage(rest, stdout, stderr, files)
	case "serve":
		err = runServe(rest, stdout, stderr, files)
	case "verify":
		status, err = runVerify(rest, stdout, stderr)
	case "stats":
		err = runStats(rest, stdout, stderr)
	case "merge":
		status, err = runMerge(rest, stdout, stderr)
	case "record":
		err = runRecord(rest, stdout, stderr)
	case "sign":
		err = runSign(rest, stderr)
	case "cards":
		err = runCards(rest, stdout, stderr)
	case "columns":
		fl := newFlags(cmd)
		md := fl.Bool("markdown", false, "")
		var more []string
		if more, err = parse(fl, rest); err == nil && len(more) > 0 {
			err = errors.New(words.CommandColumnsTakesNo.Say(more[0]))
		}
		if err == nil {
			err = job.WriteReference(stdout, *md)
		}
	case "version", "-version", "--version":
		_, err = fmt.Fprintf(stdout, "shimsheet %s, %s %s/%s\n", versionText(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	case "help", "-h", "-help", "--help":
		_, err = io.WriteString(stdout, usage())
	default:
		err = errors.New(words.CommandNoCommand.Say(strconv.Quote(cmd)))
	}
	return status, err
}

// cutLanguage takes -language FILE off the beginning.
func cutLanguage(args []string) (file string, rest []string, asked bool) {
	if len(args) == 0 {
		return "", args, false
	}
	name, file, joined := strings.Cut(args[0], "=")
	if name != "-language" && name != "--language" {
		return "", args, false
	}
	if rest = args[1:]; !joined && len(rest) > 0 {
		file, rest = rest[0], rest[1:]
	}
	return file, rest, true
}

// speak lets what follows be said in the texts of the catalogue that -language names.
func speak(file string) error {
	if file == "" {
		return errors.New(words.CommandLanguageFile.String())
	}
	text, err := os.ReadFile(file)
	if err != nil {
		return readError(file, err)
	}
	if err := words.Use(string(text)); err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	return nil
}

func versionText() string {
	if version != "" {
		return version
	}
	if b, ok := debug.ReadBuildInfo(); ok && b.Main.Version != "" {
		return b.Main.Version
	}
	return "(devel)"
}

func newFlags(name string) *flag.FlagSet {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	return f
}

// parse reads flags wherever they stand and returns what else was given. What follows "--" is no flag.
func parse(f *flag.FlagSet, args []string) (given []string, err error) {
	for len(args) > 0 {
		before := args
		if err := f.Parse(args); err != nil {
			return nil, err
		}
		args = f.Args()
		if n := len(before) - len(args); n > 0 && before[n-1] == "--" {
			return append(given, args...), nil
		}
		if len(args) > 0 {
			given, args = append(given, args[0]), args[1:]
		}
	}
	return given, nil
}

// sources are the files of one job.
type sources struct {
	history                                                                                   []string
	in, job, readings, stock, growth, feet, limits, materials, checks, rounds, trains, record string
}

// more are the files beside the list, in the order they are read.
func (s *sources) more() []more {
	return []more{{"job", job.SettingsSheet, &s.job}, {"readings", job.ReadingsSheet, &s.readings}, {"stock", job.StockSheet, &s.stock}, {"growth", job.GrowthSheet, &s.growth},
		{"feet", job.FeetSheet, &s.feet}, {"limits", job.LimitsSheet, &s.limits}, {"materials", job.MaterialsSheet, &s.materials},
		{"checks", job.ChecksSheet, &s.checks}, {"rounds", job.RoundsSheet, &s.rounds}, {"trains", job.TrainsSheet, &s.trains}, {"record", job.RecordSheet, &s.record}}
}

// more is a flag that names the file of a sheet.
type more struct {
	flag string
	kind job.SheetKind
	file *string
}

// spare refuses an output that is one of the files read, by whatever name or link it goes.
func (s *sources) spare(out string) error {
	files := append([]string{s.in}, s.history...)
	for _, more := range s.more() {
		files = append(files, *more.file)
	}
	for _, f := range files {
		if f != "" && f != dash && out != dash && sameFile(f, out) {
			return errors.New(words.CommandReadHereToo.Say(out))
		}
	}
	return nil
}

// load reads the job. The warnings of reading are returned beside it.
func (s *sources) load() (*job.Job, []job.Problem, error) {
	var all []job.Problem
	var j *job.Job
	switch ext := strings.ToLower(filepath.Ext(s.in)); ext {
	case ".json", ".html", ".htm":
		var err error
		if j, all, err = loadSaved(s.in); err != nil {
			return nil, nil, err
		}
	case ".csv", ".tsv", ".txt":
		j = job.NewJob()
		t, problems, err := loadTable(s.in, job.MachinesSheet)
		if err != nil {
			return nil, nil, err
		}
		j.Machines, all = t, problems
	case ".xlsx", ".xlsm", ".xls", ".ods":
		data, err := readWorkbook(s.in)
		if err != nil {
			return nil, nil, err
		}
		var report *workbook.Report
		if j, report, err = workbook.Read(data, s.in, nil); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", s.in, err)
		}
		all = report.Problems
	default:
		return nil, nil, errors.New(words.CommandAreRead.Say(s.in))
	}
	problems, err := s.loadMore(j)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range problems { // what was said of the file already is not said again
		if !slices.ContainsFunc(all, func(o job.Problem) bool { return p.Col < 0 && o.Text.Same(p.Text) && o.Sheet == p.Sheet }) {
			all = append(all, p)
		}
	}
	return j, all, nil
}

// loadMore reads the files beside the list into the job.
func (s *sources) loadMore(j *job.Job) (all []job.Problem, err error) {
	for _, more := range s.more() {
		if *more.file == "" {
			continue
		}
		t, problems, err := loadTable(*more.file, more.kind)
		if err != nil {
			return nil, err
		}
		j.SetTable(more.kind, t)
		all = append(all, problems...)
	}
	return append(all, headers.OfJob(j)...), nil
}

// older reads the older jobs.
func (s *sources) older() (list []evaluate.Older, err error) {
	for _, file := range s.history {
		older := sources{in: file}
		j, _, err := older.load()
		if err != nil {
			return nil, err
		}
		list = append(list, evaluate.Older{Name: filepath.Base(file), Job: j})
	}
	return list, nil
}

// readWorkbook reads a file that may be a workbook, no more of it than could be one.
func readWorkbook(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, readError(file, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, workbook.MaxFile+1))
	if err != nil {
		return nil, readError(file, err)
	}
	return data, nil
}

func loadTable(file string, kind job.SheetKind) (*job.Table, []job.Problem, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, nil, readError(file, err)
	}
	sep := rune(0)
	if strings.EqualFold(filepath.Ext(file), ".tsv") {
		sep = '\t'
	}
	t, problems, err := job.ReadDelimited(kind.String(), data, sep)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	t.File = file
	t.SplitHeader(kind)
	for i := range problems {
		problems[i].File = file
	}
	return t, problems, nil
}

// readError words why a file could not be read.
func readError(file string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New(words.CommandNoSuchFile.Say(file))
	case errors.Is(err, fs.ErrPermission):
		return errors.New(words.CommandMayNotBeRead.Say(file))
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return errors.New(words.CommandNotRead.Say(file, err))
}

// A calcCommand is what `shimsheet calc` was asked.
type calcCommand struct {
	src             sources
	out, list, from string
	live, add       bool
}

// A resultWriter writes what a job came to.
type resultWriter func(e *sentences.Teller, w io.Writer) error

func runCalc(args []string, stdout, stderr io.Writer) (int, error) {
	var c calcCommand
	if err := c.parse(args); err != nil {
		return 0, err
	}
	if isStream(c.src.in, c.out, c.from) {
		return c.stream(stdout, stderr)
	}
	write, err := c.writer()
	if err != nil {
		return 0, err
	}
	e, problems, err := c.evaluate()
	if err != nil {
		return 0, err
	}
	machines, verdicts := e.Count()
	status := exitOK
	if verdicts[calc.NotJudged] > 0 {
		status = exitSome
	}
	var lines bytes.Buffer // written at once
	if writeProblems(&lines, problems, c.src.in) {
		status = exitSome
	}
	stderr.Write(lines.Bytes())
	if machines == 0 {
		return 0, errors.New(words.CommandNoCoupling.Say(c.src.in))
	}
	if c.out == "" {
		return status, write(e, sentences.VisibleWriter{W: stdout})
	}
	return status, writeFile(c.out, func(w io.Writer) error { return write(e, w) })
}

func (c *calcCommand) parse(args []string) error {
	fl := newFlags("calc")
	fl.StringVar(&c.out, "o", "", "")
	for _, more := range c.src.more() {
		fl.StringVar(more.file, more.flag, "", "")
	}
	fl.Func("history", "", func(file string) error { c.src.history = append(c.src.history, file); return nil })
	fl.StringVar(&c.list, "list", "", "")
	fl.BoolVar(&c.live, "live", false, "")
	fl.BoolVar(&c.add, "addto", false, "")
	fl.StringVar(&c.from, "from", "", "")
	given, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(given) != 1 {
		return errors.New(words.CommandCalcOne.String())
	}
	c.src.in = given[0]
	return nil
}

func (c *calcCommand) stream(stdout, stderr io.Writer) (int, error) {
	if len(c.src.history) > 0 {
		return 0, errors.New(words.CommandHistoryWholeJob.String())
	}
	if c.list != "" || c.live || c.add {
		return 0, errors.New(words.CommandListWholeJob.String())
	}
	return runStream(&c.src, c.out, c.from, stdout, stderr)
}

// writer is what writes the results, into the file that was asked for or onto the terminal; an error where what was asked does not go together.
func (c *calcCommand) writer() (resultWriter, error) {
	write := resultWriter(func(e *sentences.Teller, w io.Writer) error { return results.WriteTable(w, e) })
	if c.out != "" {
		var err error
		if write, err = c.fileWriter(); err != nil {
			return nil, err
		}
		if err := c.src.spare(c.out); err != nil {
			return nil, err
		}
	}
	if c.list != "" {
		if !slices.Contains(results.Lists, c.list) {
			return nil, errors.New(words.ProblemNoSuchList.Say(strconv.Quote(c.list), strings.Join(results.Lists, ", ")))
		}
		if c.out != "" {
			return nil, errors.New(words.CommandListTerminal.String())
		}
		write = func(e *sentences.Teller, w io.Writer) error { return results.WriteList(w, e, c.list) }
	}
	if c.list == "history" && len(c.src.history) == 0 {
		return nil, errors.New(words.CommandHistoryFiles.String())
	}
	if c.list == "" && c.out == "" && len(c.src.history) > 0 {
		write = func(e *sentences.Teller, w io.Writer) error {
			if err := results.WriteTable(w, e); err != nil {
				return err
			}
			return results.WriteList(w, e, "history")
		}
	}
	if c.out == "" && (c.live || c.add) {
		return nil, errors.New(words.CommandLiveWorkbooks.String())
	}
	return write, nil
}

// fileWriter is what writes a file of the kind that its ending says.
func (c *calcCommand) fileWriter() (resultWriter, error) {
	opts := workbook.Options{Live: c.live}
	switch ext := strings.ToLower(filepath.Ext(c.out)); {
	case c.add:
		if in := strings.ToLower(filepath.Ext(c.src.in)); in != ext || ext != ".xlsx" && ext != ".xlsm" {
			return nil, errors.New(words.CommandAddtoTwo.Say(c.out))
		}
		return func(e *sentences.Teller, w io.Writer) error {
			data, err := readWorkbook(c.src.in)
			if err != nil {
				return err
			}
			return writeBytes(w)(workbook.AddTo(data, e.Job(), e, opts))
		}, nil
	case ext == ".xlsx":
		return func(e *sentences.Teller, w io.Writer) error { return writeBytes(w)(workbook.Write(e.Job(), e, opts)) }, nil
	case c.live:
		return nil, errors.New(words.CommandFormulasWorkbooks.Say(c.out))
	case ext == ".json":
		return func(e *sentences.Teller, w io.Writer) error { return results.WriteJSON(w, e) }, nil
	case ext == ".csv":
		return func(e *sentences.Teller, w io.Writer) error { return results.WriteCSV(w, e) }, nil
	}
	return nil, errors.New(words.CommandAreWritten.Say(c.out))
}

// evaluate works the job out with the older ones beside it, and returns what is told of files, sheets and rows.
func (c *calcCommand) evaluate() (*sentences.Teller, []job.Problem, error) {
	j, problems, err := c.src.load()
	if err != nil {
		return nil, nil, err
	}
	older, err := c.src.older()
	if err != nil {
		return nil, nil, err
	}
	e := worked(j, older)
	allocate(e) // the packs shown are those of the stock shared out
	problems = append(problems, e.Problems()...)
	for i := range e.Len() {
		problems = append(problems, e.Row(i).Problems...)
	}
	return e, problems, nil
}

// writeProblems writes a line for each problem but notes, and says whether one of them is an error. file is named where the problem names none.
func writeProblems(w io.Writer, problems []job.Problem, file string) (failed bool) {
	for i := range problems {
		p := problems[i]
		switch p.Severity {
		case job.Note:
			continue
		case job.Warning:
			p.Text = words.CommandWarning.With(p.Text)
		default:
			failed = true
		}
		if p.File == "" {
			p.File = file
		}
		fmt.Fprintln(w, sentences.Visible(p.String()))
	}
	return failed
}

// worked is a job with every row worked out, as of today and beside older jobs.
func worked(j *job.Job, older []evaluate.Older) *sentences.Teller {
	e := sentences.New(j)
	e.SetToday(today())
	e.SetHistory(older)
	_ = e.Run(context.Background(), nil) // nothing ends it before
	return e
}

// allocate shares the stock out. What keeps it from that is a problem of the stock and is told with the packs, which are then those of a full box.
func allocate(e *sentences.Teller) { _, _ = e.Allocate(nil) }

// writeBytes writes what a call gave, or hands its error on.
func writeBytes(w io.Writer) func([]byte, error) error {
	return func(data []byte, err error) error {
		if err == nil {
			_, err = w.Write(data)
		}
		return err
	}
}

func runPage(args []string, stdout, stderr io.Writer, files fs.FS) error {
	fl := newFlags("page")
	out := fl.String("o", "", "")
	var src sources
	fl.StringVar(&src.in, "job", "", "")
	given, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(given) > 0 {
		return errors.New(words.CommandPageTakesNo.Say(given[0]))
	}
	if *out != "" {
		if err := src.spare(*out); err != nil {
			return err
		}
		if ext := strings.ToLower(filepath.Ext(*out)); ext != ".html" && ext != ".htm" {
			return errors.New(words.CommandPageHtml.Say(*out))
		}
	}
	page, err := readPage(files)
	if err != nil {
		return err
	}
	if src.in != "" {
		j, problems, err := src.load()
		if err != nil {
			return err
		}
		writeProblems(stderr, problems, src.in)
		if t := j.Machines; t.Header == nil && len(t.Rows) == 0 { // a list that is not one machine a row: it is not read here, and stands on the sheet for whoever opens the page
			t.Rows, t.Title = t.Title, nil
		}
		if page, err = withJob(page, j); err != nil {
			return err
		}
	}
	if *out != "" {
		return writeFile(*out, func(w io.Writer) error {
			_, err := w.Write(page)
			return err
		})
	}
	if f, ok := stdout.(*os.File); ok {
		if st, err := f.Stat(); err == nil && st.Mode()&fs.ModeCharDevice != 0 {
			return errors.New(words.CommandPageNoText.String())
		}
	}
	_, err = stdout.Write(page)
	return err
}

// readPage unpacks the page the build put into the command.
func readPage(files fs.FS) ([]byte, error) {
	packed, err := fs.ReadFile(files, pageFile)
	if err != nil {
		return nil, errors.New(words.CommandWithoutPage.Say(pageFile))
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, words.CommandPageDamaged.Wrap(err)
	}
	page, err := io.ReadAll(io.LimitReader(z, maxPageBytes))
	if err != nil {
		return nil, words.CommandPageDamaged.Wrap(err)
	}
	return page, nil
}

// withJob puts a job into the page, in place of the "null" its job element holds, and the first rows of its list before it.
func withJob(page []byte, j *job.Job) ([]byte, error) {
	if n := bytes.Count(page, []byte(jobMarker)); n != 1 {
		return nil, errors.New(words.CommandPagePlaces.Say(n))
	}
	data, err := j.Seal()
	if err != nil {
		return nil, err
	}
	first := screens.FirstListOf(sentences.New(j), j.Machines, job.SealDigest(data)).String()
	return bytes.Replace(page, []byte(jobMarker), append(append([]byte(first+jobOpen), data...), jobClose...), 1), nil
}
