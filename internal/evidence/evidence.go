// Package evidence makes the documents of what each calculation was checked against: EVIDENCE.md in full, README in short.
//
// It counts the blocks of testdata/vec and the checks that Go tests register with a comment:
//
//	//evidence: calc=<calculation> grade=<grade> count=<n> source=<text to the end of the line>
//
// Such a comment stands in the file of the test that does the checks. Start with [Collect], then [Markdown] and [Splice].
//
// Left out on purpose: running the checks. The tests do that; a check that fails fails there.
package evidence

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/vec"
)

// A Check is one or more counted checks of one calculation against one source.
type Check struct {
	Calc, Grade, Source string
	Count               int
	Pos                 string // file:line, for messages
}

// Collect reads the checks of the module at root: testdata/vec/*.vec, then the comments in the Go tests below internal and cmd.
func Collect(root string) ([]Check, error) {
	checks, err := fromVec(filepath.Join(root, "testdata", "vec"))
	if err != nil {
		return nil, err
	}
	for _, top := range []string{"internal", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d fs.DirEntry, err error) error {
			if errors.Is(err, fs.ErrNotExist) {
				return nil
			}
			if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
				return err
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			more, err := FromGo(filepath.ToSlash(strings.TrimPrefix(path, root+string(filepath.Separator))), text)
			checks = append(checks, more...)
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return checks, nil
}

// fromVec counts the blocks of the .vec files in dir. The name of the calculation may carry a part behind a colon ("units: print").
func fromVec(dir string) ([]Check, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.vec"))
	if err != nil {
		return nil, err
	}
	var out []Check
	for _, f := range files {
		cases, err := vec.Load(f)
		if err != nil {
			return nil, err
		}
		for _, c := range cases {
			out = append(out, Check{Calc: c.Calc, Grade: c.Grade, Source: c.Source, Count: 1, Pos: c.String()})
		}
	}
	return out, nil
}

// FromGo reads the checks that one Go test file registers.
func FromGo(name string, text []byte) ([]Check, error) {
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, name, text, parser.ParseComments)
	if err != nil {
		return nil, err
	}
	runs := slices.ContainsFunc(file.Decls, func(d ast.Decl) bool {
		f, ok := d.(*ast.FuncDecl)
		return ok && (strings.HasPrefix(f.Name.Name, "Test") || strings.HasPrefix(f.Name.Name, "Fuzz"))
	})
	var out []Check
	for _, group := range file.Comments {
		for _, c := range group.List {
			rest, ok := strings.CutPrefix(strings.TrimSpace(strings.TrimPrefix(c.Text, "//")), "evidence:")
			if !ok {
				continue
			}
			at := fset.Position(c.Pos()).String()
			if !runs {
				return nil, fmt.Errorf("%s: evidence in a file without a test function", at)
			}
			check, err := parse(strings.TrimSpace(rest))
			if err != nil {
				return nil, fmt.Errorf("%s: %w", at, err)
			}
			check.Pos = at
			out = append(out, check)
		}
	}
	return out, nil
}

// parse reads `calc=… grade=… count=… source=…`, in this order. A name may hold spaces.
func parse(s string) (c Check, err error) {
	for i, key := range []string{"calc=", "grade=", "count=", "source="} {
		rest, ok := strings.CutPrefix(s, key)
		if !ok {
			return c, fmt.Errorf("evidence: %q where %s… should stand", s, key)
		}
		val := rest
		if next := []string{" grade=", " count=", " source=", ""}[i]; next != "" {
			j := strings.Index(rest, next)
			if j < 0 {
				return c, fmt.Errorf("evidence: no %s…", next[1:])
			}
			val, s = rest[:j], rest[j+1:]
		}
		val = strings.TrimSpace(val)
		if val == "" {
			return c, fmt.Errorf("evidence: %s is empty", key)
		}
		switch key {
		case "calc=":
			c.Calc = val
		case "grade=":
			c.Grade = val
		case "source=":
			c.Source = val
		case "count=":
			if c.Count, err = strconv.Atoi(val); err != nil || c.Count < 1 {
				return c, fmt.Errorf("evidence: count=%s is not a count", val)
			}
		}
	}
	if !slices.Contains(vec.Grades, c.Grade) {
		return c, fmt.Errorf("evidence: grade=%s is none of %s", c.Grade, strings.Join(vec.Grades, ", "))
	}
	return c, nil
}

// Markdown returns the table, a row a calculation and a column a grade, and below it the sources of each calculation.
// A calculation that has nothing but regressions is called unverified.
func Markdown(checks []Check) string {
	count := map[string]map[string]int{}
	type origin struct{ calc, grade, source string }
	bySource := map[origin]int{}
	total := map[string]int{}
	for _, c := range checks {
		if count[c.Calc] == nil {
			count[c.Calc] = map[string]int{}
		}
		count[c.Calc][c.Grade] += c.Count
		bySource[origin{c.Calc, c.Grade, c.Source}] += c.Count
		total[c.Grade] += c.Count
	}
	var calcs []string
	for name := range count {
		calcs = append(calcs, name)
	}
	slices.Sort(calcs)
	sources := make([]origin, 0, len(bySource))
	for o := range bySource {
		sources = append(sources, o)
	}
	slices.SortFunc(sources, func(a, b origin) int {
		if d := strings.Compare(a.calc, b.calc); d != 0 {
			return d
		}
		if d := slices.Index(vec.Grades, a.grade) - slices.Index(vec.Grades, b.grade); d != 0 {
			return d
		}
		return strings.Compare(a.source, b.source)
	})

	var b strings.Builder
	fmt.Fprintf(&b, "| calculation | %s |\n|---|%s\n", strings.Join(vec.Grades, " | "), strings.Repeat("--:|", len(vec.Grades)))
	row := func(name string, n map[string]int) {
		b.WriteString("| " + name + " |")
		for _, g := range vec.Grades {
			if n[g] == 0 {
				b.WriteString(" |")
			} else {
				fmt.Fprintf(&b, " %d |", n[g])
			}
		}
		b.WriteByte('\n')
	}
	for _, name := range calcs {
		label := name
		if n := count[name]; len(n) == 1 && n["regression"] > 0 {
			label += " (unverified)"
		}
		row(label, count[name])
	}
	row("all", total)
	b.WriteString("\nSources:\n\n")
	last := ""
	for _, o := range sources {
		if o.calc != last {
			fmt.Fprintf(&b, "- %s\n", o.calc)
			last = o.calc
		}
		fmt.Fprintf(&b, "  - %s, %d: %s\n", o.grade, bySource[o], o.source)
	}
	return b.String()
}

// Summary is the checks counted, a row a grade.
func Summary(checks []Check) string {
	var b strings.Builder
	b.WriteString("| checks | calculations | cases |\n|---|--:|--:|\n")
	for _, g := range vec.Grades {
		calcs, cases := map[string]bool{}, 0
		for _, c := range checks {
			if c.Grade == g {
				calcs[c.Calc] = true
				cases += c.Count
			}
		}
		fmt.Fprintf(&b, "| %s | %d | %d |\n", g, len(calcs), cases)
	}
	return b.String()
}

// A Document is one that holds what is made of the checks, between two lines.
type Document struct {
	Name string // path from the module's root
	mark string // of the two lines
	text func([]Check) string
}

// Documents are those of the project.
var Documents = []Document{{"EVIDENCE.md", "evidence", Markdown}, {"README.md", "evidence in short", Summary}}

// Splice puts what is made of the checks between the lines of the document, whose text is old.
func (d *Document) Splice(old string, checks []Check) (string, error) {
	begin, end := "<!-- "+d.mark+": made by `make evidence`, do not edit -->\n", "<!-- /"+d.mark+" -->"
	head, rest, ok := strings.Cut(old, begin)
	_, tail, ok2 := strings.Cut(rest, end)
	if !ok || !ok2 {
		return "", fmt.Errorf("evidence: %s lacks the lines %q and %q", d.Name, strings.TrimSpace(begin), end)
	}
	return head + begin + "\n" + strings.TrimSpace(d.text(checks)) + "\n\n" + end + tail, nil
}
