// Package deptest holds tests only: which package may know which, one package comment a package, and documents that agree with the files
// they speak of (licences, versions, commands).
//
// A new rule about imports is a row of bans with its reason. A rule that no longer bites, because a package it names has gone, fails.
package deptest

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// root is the module's directory, from this one.
const root = "../.."

const module = "shimsheet/"

// A ban forbids packages to be reached, directly or through others, by code that is not a test.
type ban struct {
	from   string   // package within the module; a tail of /... takes all below it
	except []string // packages taken out of from
	to     []string // packages within the module, of the standard library, or of a required module; a tail of /... takes all below; !std is every other module
	but    []string // packages that may be reached all the same
	direct bool     // look at direct imports only
	why    string
}

var bans = []ban{
	{from: "internal/units", to: []string{"!std", "internal/..."}, but: []string{"internal/words"}, why: "quantities are the bottom; anything may stand on them only if they stand on nothing but the texts of what they say"},
	{from: "internal/tables", to: []string{"!std", "internal/packs", "internal/calc", "internal/job", "internal/evaluate", "internal/grid"}, why: "reference values are data; what uses them is above"},
	{from: "internal/packs", to: []string{"!std", "internal/calc", "internal/job", "internal/evaluate", "internal/grid"}, why: "thicknesses and pieces: what they do to a shaft is for those above"},
	{from: "internal/packs", to: []string{"os", "net/http", "encoding/json", "math/rand", "math/rand/v2", "crypto/rand", "time"}, direct: true, why: "one answer for one stock, on any machine"},
	{from: "internal/sorting", to: []string{"!std", "internal/..."}, why: "one sort for every kind of list"},
	{from: "internal/dates", to: []string{"!std", "internal/...", "time", "fmt"}, why: "it is there so that the page need not have package time's reading and writing"},
	{from: "internal/abreast", to: []string{"!std", "internal/..."}, why: "it knows nothing of the work it shares out"},
	{from: "internal/calc", to: []string{"internal/job", "internal/evaluate", "internal/grid"}, why: "the arithmetic takes numbers and gives numbers; it does not know of cells"},
	{from: "internal/moves", to: []string{"!std", "internal/...", "os", "net/http", "encoding/json", "math/rand", "math/rand/v2", "crypto/rand", "time"}, direct: true, why: "trains are geometry: numbers in, numbers out, the same on any machine"},
	{from: "...", to: []string{"gonum.org/v1/gonum/..."}, why: "the small least squares is written out, 4 to 13 times faster as WebAssembly; gonum checks it in the tests only"},
	{from: "internal/calc", to: []string{"os", "net/http", "encoding/json", "math/rand", "math/rand/v2", "crypto/rand", "time"}, direct: true, why: "pure functions: the same input gives the same output, on any machine"},
	{from: "internal/job", to: []string{"!std", "internal/calc", "internal/packs", "internal/evaluate", "internal/grid"}, why: "what was typed and how it is kept hangs on nothing that is worked out of it"},
	{from: "internal/calculators", to: []string{"internal/evaluate", "internal/sentences", "internal/grid", "internal/workbook", "internal/report", "internal/screens"}, why: "they read cells as the sheets do, and stand beside the sheets"},
	{from: "internal/evaluate", to: []string{"internal/sentences"}, why: "what a row comes to is numbers, statuses and codes; it is worked out without knowing what will be said of it"},
	{from: "internal/sentences", to: []string{"internal/results", "internal/grid", "internal/workbook", "internal/report", "internal/screens", "internal/streams", "internal/httpapi"}, why: "what a job means must not hang on how it is shown or stored"},
	{from: "internal/results", to: []string{"internal/grid", "internal/workbook", "internal/report", "internal/screens", "internal/streams", "internal/httpapi"}, why: "results are handed on in one way, whoever asks for them"},
	{from: "internal/results", to: []string{"os", "net/http", "encoding/json", "time"}, direct: true, why: "what a job came to is written the same on any machine and day, and a row of a stream without reflection"},
	{from: "internal/headers", to: []string{"internal/sentences", "internal/grid", "internal/workbook", "internal/report", "internal/httpapi"}, why: "what a header may mean must not hang on who asks: page, command and workbooks guess alike"},
	{from: "internal/grid", to: []string{"internal/workbook", "internal/report", "internal/httpapi"}, why: "grid, workbook and report stand side by side and do not know each other"},
	{from: "...", except: []string{"cmd/wasm/...", "internal/edge"}, to: []string{"syscall/js"}, direct: true, why: "all else runs and is tested natively; the edge to browser and worker stays small"},
	{from: "...", except: []string{"internal/workbook", "cmd/wasm/workbook"}, to: []string{"github.com/xuri/excelize/v2/..."}, direct: true, why: "one place knows the workbook library, so that its limits and panics are met in one place"},
	{from: "internal/words", to: []string{"!std", "internal/..."}, why: "texts and nothing else; anything may show them"},
	{from: "internal/screens", to: []string{"internal/workbook", "internal/httpapi", "html/template", "text/template", "os", "net/http", "time"}, direct: true, why: "a screen is a function of its state: no browser, no clock, no file"},
	{from: "internal/merge", to: []string{"internal/sentences", "internal/grid", "internal/workbook", "internal/report", "internal/streams", "internal/httpapi"}, why: "it puts jobs together, wherever they were read from and whoever asks"},
	{from: "internal/tally", to: []string{"internal/grid", "internal/workbook", "internal/report", "internal/screens", "os", "time"}, direct: true, why: "it counts what the sheets say, and does not know who shows it"},
	{from: "internal/pictures", to: []string{"!std", "internal/...", "image/..."}, why: "every program looks at pictures; only the page has room for what decodes them"},
	{from: "internal/streams", to: []string{"internal/grid", "internal/workbook", "internal/report", "internal/httpapi"}, why: "a stream is rows in and rows out; command and handler share it"},
	{from: "internal/streams", to: []string{"os", "net/http", "time"}, direct: true, why: "it reads and writes what it is given, and no clock decides what it does"},
	{from: "internal/httpapi", to: []string{"internal/grid", "internal/workbook", "internal/report", "github.com/xuri/excelize/v2/...", "github.com/prometheus/client_golang/..."}, why: "the program for JSON at the edge has to stay small; what reads workbooks, counts and logs is handed in or put around"},
	{from: "internal/desk", to: []string{"internal/workbook", "internal/httpapi/...", "internal/streams", "net/http", "text/template", "html/template"}, why: "the page's program asks nobody, and workbook files are another program's; templates would make it five times as large"},
	{from: "internal/desk", to: []string{"os", "path/filepath"}, direct: true, why: "files are the browser's; the desk is handed texts and bytes"},
	{from: "internal/desk", to: []string{"internal/frame"}, why: "the frame shows what the desk holds, and has it done; the desk knows nothing around the sheet"},
	{from: "internal/frame", to: []string{"syscall/js", "os", "path/filepath", "net/http", "internal/workbook"}, direct: true, why: "what is seen and kept is the Browser's, so that the page is tested without one"},
	{from: "internal/screens", to: []string{"internal/desk", "internal/frame"}, why: "a screen asks its host; the desk is one"},
	{from: "internal/jsonread", to: []string{"!std", "internal/..."}, but: []string{"internal/words"}, why: "JSON and nothing else, but the words for what is wrong with it; anything may be read with it"},
	{from: "cmd/wasm/page", to: []string{"encoding/json"}, why: "with the reflection it needs it is a thirtieth of the program; jsonread reads"},
	{from: "cmd/wasm/workbook", to: []string{"encoding/json"}, direct: true, why: "what the page does not hold this program would bring whole, 90 kB; messages.go writes and jsonread reads"},
	{from: "cmd/wasm/page", to: []string{"internal/httpapi/...", "net/http"}, why: "the page asks nobody"},
	{from: "cmd/worker", to: []string{"github.com/xuri/excelize/v2/...", "text/template", "html/template"}, why: "the program for JSON has at most 3 MB; workbooks are the other program's"},
	{from: "cmd/...", to: []string{"internal/httpapi/exchange"}, why: "what the tests ask is no part of what people get"},
	{from: "...", to: []string{"cmd/..."}, why: "a command is an end, not a library"},
	{from: "...", to: []string{"testing"}, except: []string{"internal/vec", "internal/glpk", "internal/jobtest"}, direct: true, why: "test code in a shipped program is dead weight; the packages that only tests use excepted"},
	{from: "...", to: []string{"internal/jobtest"}, why: "jobs for tests: what ships makes its jobs of what people typed"},
	{from: "internal/jobtest", to: []string{"internal/evaluate"}, why: "the tests of evaluate are in its own package, and import it"},
	{from: "cmd/wasm/page", to: []string{"text/template", "html/template", "github.com/xuri/excelize/v2/..."}, why: "they look methods up by name, and then the linker keeps every method of every package: the program would be five times as large"},
	{from: "cmd/wasm/page", to: []string{"github.com/evanw/esbuild/...", "internal/vec", "internal/glpk", "internal/evidence", "internal/mutants"}, why: "tools of the build and of the tests have no business on the laptop"},
	{from: "cmd/shimsheet", to: []string{"github.com/evanw/esbuild/...", "internal/vec", "internal/glpk", "internal/evidence", "internal/mutants"}, why: "tools of the build and of the tests have no business in the command"},
}

// notYet lists what the bans name although it does not exist so far. What has come must leave the list.
var notYet = []string{}

// A pkg is what `go list` says of one package.
type pkg struct {
	ImportPath string
	Imports    []string
	Deps       []string
	Standard   bool
	Module     *struct {
		Path, Version string
		Main          bool
	}
}

func goList(t *testing.T, wasm bool, args ...string) []pkg {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-e=false", "-json=ImportPath,Imports,Deps,Standard,Module"}, args...)...)
	cmd.Dir = root
	cmd.Env = os.Environ()
	if wasm {
		cmd.Env = append(cmd.Env, "GOOS=js", "GOARCH=wasm")
	}
	var errOut strings.Builder
	cmd.Stderr = &errOut
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list %v: %v\n%s", args, err, &errOut)
	}
	var list []pkg
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p pkg
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	return list
}

// covers says whether a pattern of the table takes an import path. Standard packages and modules are named in full.
func covers(pattern, path string) bool {
	if pattern == "..." {
		return strings.HasPrefix(path, module)
	}
	for _, pre := range []string{"internal/", "cmd/"} {
		if strings.HasPrefix(pattern, pre) {
			pattern = module + pattern
		}
	}
	if base, ok := strings.CutSuffix(pattern, "/..."); ok {
		return path == base || strings.HasPrefix(path, base+"/")
	}
	return path == pattern
}

// A graph is the module's packages and everything they reach, for one platform.
type graph struct {
	own []pkg
	std map[string]bool
}

func load(t *testing.T, wasm bool) graph {
	g := graph{own: goList(t, wasm, "./..."), std: map[string]bool{}}
	for _, p := range goList(t, wasm, "std") {
		g.std[p.ImportPath] = true
	}
	return g
}

// broken returns a line for each package that reaches what the ban forbids.
func (g graph) broken(b ban) []string {
	var out []string
	for _, p := range g.own {
		if !covers(b.from, p.ImportPath) || slices.ContainsFunc(b.except, func(e string) bool { return covers(e, p.ImportPath) }) {
			continue
		}
		reach := p.Deps
		if b.direct {
			reach = p.Imports
		}
		for _, d := range reach {
			for _, to := range b.to {
				hit := covers(to, d)
				if to == "!std" {
					hit = !g.std[d] && !strings.HasPrefix(d, module)
				}
				if hit && !slices.ContainsFunc(b.but, func(e string) bool { return covers(e, d) }) {
					out = append(out, p.ImportPath+" reaches "+d+": "+b.why)
				}
			}
		}
	}
	return out
}

func TestImports(t *testing.T) {
	for _, wasm := range []bool{false, true} {
		g := load(t, wasm)
		for _, b := range bans {
			for _, line := range g.broken(b) {
				t.Error(line)
			}
		}
	}
}

// A test of the test: rules that do not hold must be seen to break.
func TestBansBite(t *testing.T) {
	g := load(t, false)
	for _, b := range []ban{
		{from: "internal/tables", to: []string{"math"}},
		{from: "internal/calc", to: []string{"internal/tables"}},
		{from: "internal/calc", to: []string{"internal/tables"}, direct: true},
		{from: "...", to: []string{"internal/..."}},
	} {
		if len(g.broken(b)) == 0 {
			t.Errorf("%v: nothing found, though it is there", b)
		}
	}
}

// What the bans name exists: a package that was renamed would otherwise take its rule with it.
func TestBansNameWhatIs(t *testing.T) {
	exists := map[string]bool{}
	for _, wasm := range []bool{false, true} {
		g := load(t, wasm)
		for _, p := range g.own {
			exists[p.ImportPath] = true
		}
		for p := range g.std {
			exists[p] = true
		}
	}
	for _, m := range modules(t) {
		exists[m.Path] = true
	}
	there := func(name string) bool {
		for p := range exists {
			if covers(name, p) || covers(name+"/...", p) {
				return true
			}
			if base, ok := strings.CutSuffix(name, "/..."); ok && p == base {
				return true
			}
		}
		return false
	}
	used := map[string]bool{}
	for _, b := range bans {
		for _, name := range append(append([]string{b.from}, b.except...), b.to...) {
			base := strings.TrimSuffix(name, "/...")
			used[base] = true
			if name == "!std" || slices.Contains(notYet, base) {
				continue
			}
			if !there(name) {
				t.Errorf("a ban names %s, which is not there: rename it, drop the rule, or list it in notYet", name)
			}
		}
	}
	for _, name := range notYet {
		if there(name) {
			t.Errorf("%s is there now: take it off notYet", name)
		} else if !used[name] {
			t.Errorf("notYet lists %s, which no ban names", name)
		} else {
			t.Logf("not there so far: %s", name)
		}
	}
}

type mod struct {
	Path, Version string
	Indirect      bool
	Main          bool
}

// modules returns what go.mod requires, with the versions in use.
func modules(t *testing.T) []mod {
	t.Helper()
	cmd := exec.Command("go", "mod", "edit", "-json")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var m struct{ Require []mod }
	if err := json.Unmarshal(out, &m); err != nil {
		t.Fatal(err)
	}
	return m.Require
}

// goFiles calls f with the path from the root and the text of every Go file. It opens the files, so that `go test` does not answer from
// its cache when one has changed.
func goFiles(t *testing.T, f func(path string, text []byte)) {
	t.Helper()
	for _, top := range []string{"cmd", "internal"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
				return err
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			rel, err := filepath.Rel(root, path)
			f(filepath.ToSlash(rel), text)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
