package deptest

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(root, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Each directory of Go files has exactly one package comment, and it starts as Go's tools want it.
func TestOnePackageComment(t *testing.T) {
	type dir struct{ plain, test []string } // files with a package comment
	dirs := map[string]*dir{}
	onlyTests := map[string]bool{}
	goFiles(t, func(name string, text []byte) {
		f, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ParseComments|parser.PackageClauseOnly)
		if err != nil {
			t.Error(err)
			return
		}
		d := dirs[path.Dir(name)]
		if d == nil {
			d = &dir{}
			dirs[path.Dir(name)] = d
			onlyTests[path.Dir(name)] = true
		}
		isTest := strings.HasSuffix(name, "_test.go")
		if !isTest {
			onlyTests[path.Dir(name)] = false
		}
		if f.Doc == nil {
			return
		}
		if isTest {
			d.test = append(d.test, name)
		} else {
			d.plain = append(d.plain, name)
		}
		want := "Package " + f.Name.Name + " "
		if f.Name.Name == "main" {
			want = "Command "
		}
		if !strings.HasPrefix(f.Doc.Text(), want) {
			t.Errorf("%s: the package comment starts %q, not %q", name, strings.SplitN(f.Doc.Text(), "\n", 2)[0], want)
		}
	})
	for name, d := range dirs {
		docs := append(slices.Clone(d.plain), d.test...)
		if !onlyTests[name] && len(d.plain) != 1 || len(docs) != 1 {
			t.Errorf("%s: %d package comments (%s), want one", name, len(docs), strings.Join(docs, ", "))
		}
	}
	if len(dirs) < 5 {
		t.Errorf("only %d directories looked at", len(dirs))
	}
}

// code returns the fenced and the indented blocks and the inline code of a Markdown text.
func code(text string) []string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		if s, ok := strings.CutPrefix(line, "    "); ok {
			out = append(out, s)
		}
	}
	for i, part := range strings.Split(text, "```") {
		if i%2 == 1 {
			_, part, _ = strings.Cut(part, "\n") // the info string
			out = append(out, strings.Split(part, "\n")...)
			continue
		}
		for j, s := range strings.Split(part, "`") {
			if j%2 == 1 {
				out = append(out, s)
			}
		}
	}
	return out
}

// What README and DEVELOPERS.md tell people to type is there: targets, subcommands, flags, files.
func TestDocumentsCommands(t *testing.T) {
	target := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^([a-z]+):`).FindAllStringSubmatch(read(t, "Makefile"), -1) {
		target[m[1]] = true
	}
	var command strings.Builder
	goFiles(t, func(name string, text []byte) {
		if path.Dir(name) == "cmd/shimsheet" && !strings.HasSuffix(name, "_test.go") {
			command.Write(text)
		}
	})
	var (
		makes, subs int
		makeRE      = regexp.MustCompile(`\bmake ([a-z]+)`)
		subRE       = regexp.MustCompile(`(?:^|[/ ])shimsheet ([a-z]+)`)
		flagRE      = regexp.MustCompile(`(?:^|[ \[])-([a-z]+)\b`)
		fileRE      = regexp.MustCompile(`^(?:cmd|internal|web|test|testdata|scripts|docs|\.ci)/[\w./*-]+$`)
	)
	for _, doc := range []string{"README.md", "DEVELOPERS.md"} {
		for _, line := range code(read(t, doc)) {
			for _, m := range makeRE.FindAllStringSubmatch(line, -1) {
				makes++
				if !target[m[1]] {
					t.Errorf("%s says `make %s`; the Makefile has no such target", doc, m[1])
				}
			}
			for _, m := range subRE.FindAllStringSubmatch(line, -1) {
				subs++
				if !strings.Contains(command.String(), `"`+m[1]+`"`) {
					t.Errorf("%s says `shimsheet %s`; cmd/shimsheet names no such thing", doc, m[1])
				}
				for _, f := range flagRE.FindAllStringSubmatch(line, -1) {
					if !strings.Contains(command.String(), `"`+f[1]+`"`) {
						t.Errorf("%s says `%s`; cmd/shimsheet names no -%s", doc, line, f[1])
					}
				}
			}
			if fileRE.MatchString(line) {
				if found, err := filepath.Glob(filepath.Join(root, line)); err != nil || len(found) == 0 {
					t.Errorf("%s names %s, which is not there", doc, line)
				}
			}
		}
	}
	if makes == 0 || subs == 0 {
		t.Errorf("found %d make and %d shimsheet commands to check", makes, subs)
	}
}

// The Go names that the documents speak of, such as calc.Solve, Result.Line or tables.LimitSet.At, are declared.
func TestDocumentsNames(t *testing.T) {
	declared := map[string]map[string]bool{} // by directory name: types, functions, methods, fields, constants
	types := map[string]map[string]bool{}    // by type name: everything declared in its package
	goFiles(t, func(name string, text []byte) {
		f, err := parser.ParseFile(token.NewFileSet(), name, text, 0)
		if err != nil || strings.HasSuffix(name, "_test.go") {
			return
		}
		dir := path.Base(path.Dir(name))
		if declared[dir] == nil {
			declared[dir] = map[string]bool{}
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				declared[dir][n.Name.Name] = true
				return false
			case *ast.TypeSpec:
				declared[dir][n.Name.Name] = true
				types[n.Name.Name] = declared[dir]
			case *ast.ValueSpec:
				for _, id := range n.Names {
					declared[dir][id.Name] = true
				}
			case *ast.Field:
				for _, id := range n.Names {
					declared[dir][id.Name] = true
				}
			}
			return true
		})
	})
	looked := 0
	dotted := regexp.MustCompile(`^\*?(\w+)\.([A-Z]\w*)(?:\.(\w+))?$`)
	for _, doc := range []string{"README.md", "DEVELOPERS.md"} {
		for _, s := range code(read(t, doc)) {
			m := dotted.FindStringSubmatch(s)
			if m == nil {
				continue
			}
			looked++
			set := declared[m[1]]
			if set == nil {
				set = types[m[1]]
			}
			if !set[m[2]] || m[3] != "" && !set[m[3]] {
				t.Errorf("%s names %s, which is not declared", doc, s)
			}
		}
	}
	if looked < 10 {
		t.Errorf("only %d names looked at", looked)
	}
}

// A licensed thing is a row of THIRD_PARTY.md: | name | version | licence | where it goes |
type licensed struct{ version, licence, where string }

func thirdParty(t *testing.T) map[string]licensed {
	t.Helper()
	rows := map[string]licensed{}
	for _, line := range strings.Split(read(t, "THIRD_PARTY.md"), "\n") {
		cell := strings.Split(strings.Trim(line, "| "), "|")
		if len(cell) != 4 || strings.HasPrefix(line, "|--") {
			continue
		}
		for i := range cell {
			cell[i] = strings.TrimSpace(cell[i])
		}
		rows[cell[0]] = licensed{cell[1], cell[2], cell[3]}
	}
	if len(rows) < 5 {
		t.Fatalf("THIRD_PARTY.md: %d rows understood", len(rows))
	}
	return rows
}

// THIRD_PARTY.md agrees with go.mod, and names every module that is linked into what people get.
func TestGoLicences(t *testing.T) {
	rows := thirdParty(t)
	version := map[string]string{}
	for _, m := range modules(t) {
		version[m.Path] = m.Version
		row, ok := rows[m.Path]
		if !ok && !m.Indirect {
			t.Errorf("go.mod requires %s; THIRD_PARTY.md does not name it", m.Path)
		}
		if ok && row.version != m.Version {
			t.Errorf("%s: THIRD_PARTY.md says %s, go.mod %s", m.Path, row.version, m.Version)
		}
	}
	for name := range rows {
		if host, _, ok := strings.Cut(name, "/"); ok && strings.Contains(host, ".") && version[name] == "" {
			t.Errorf("THIRD_PARTY.md names %s, which go.mod does not require", name)
		}
	}
	for _, p := range append(goList(t, true, "-deps", "./cmd/wasm/page", "./cmd/wasm/workbook", "./cmd/worker", "./cmd/worker/workbook"), goList(t, false, "-deps", "./cmd/shimsheet")...) {
		if p.Standard || p.Module == nil || p.Module.Main {
			continue
		}
		if !strings.HasPrefix(rows[p.Module.Path].where, "shipped") {
			t.Errorf("%s is linked into what people get; THIRD_PARTY.md must list it as shipped, with its notice", p.Module.Path)
		}
	}
	if v := rows["Go"].version; !strings.HasPrefix(v, "1.26") {
		t.Errorf("THIRD_PARTY.md says Go %q; go.mod wants 1.26", v)
	}
	if !regexp.MustCompile(`(?m)^go 1\.26`).MatchString(read(t, "go.mod")) {
		t.Error("go.mod has moved to another Go: change THIRD_PARTY.md and this test")
	}
}

// THIRD_PARTY.md agrees with the JavaScript that is vendored and with what the browser tests pin, and the pins name no registry.
func TestJavaScriptLicences(t *testing.T) {
	rows := thirdParty(t)
	for _, dir := range []string{"test/browser", "test/worker"} {
		pinsAgree(t, dir, rows)
	}

	vendored, err := filepath.Glob(filepath.Join(root, "web/vendor/*/README.md"))
	if err != nil || len(vendored) == 0 {
		t.Fatal("web/vendor is empty", err)
	}
	row := rows["regular-table"]
	if !strings.HasPrefix(row.where, "shipped") {
		t.Error("THIRD_PARTY.md must list regular-table as shipped")
	}
	found := false
	for _, name := range vendored {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		found = found || strings.Contains(string(b), "regular-table "+row.version)
	}
	if !found {
		t.Errorf("nothing in web/vendor bears regular-table %s", row.version)
	}
}

// pinsAgree holds the packages that the tests in a directory pin to THIRD_PARTY.md.
func pinsAgree(t *testing.T, dir string, rows map[string]licensed) {
	t.Helper()
	var manifest struct{ Dependencies, DevDependencies map[string]string }
	if err := json.Unmarshal([]byte(read(t, dir+"/package.json")), &manifest); err != nil {
		t.Fatal(err)
	}
	var lock struct {
		Packages map[string]struct{ Version, Resolved string }
	}
	text := read(t, dir+"/package-lock.json")
	if err := json.Unmarshal([]byte(text), &lock); err != nil {
		t.Fatal(err)
	}
	pinned := 0
	for _, deps := range []map[string]string{manifest.Dependencies, manifest.DevDependencies} {
		for name, want := range deps {
			pinned++
			if got := rows[name].version; got != want {
				t.Errorf("%s: THIRD_PARTY.md says %q, %s/package.json %q", name, got, dir, want)
			}
			if got := lock.Packages["node_modules/"+name].Version; got != want {
				t.Errorf("%s: package.json says %q, package-lock.json %q: pin the exact version", name, want, got)
			}
		}
	}
	if pinned == 0 {
		t.Error(dir, "pins nothing")
	}
	if strings.Contains(text, `"resolved"`) {
		t.Error(dir, "names a registry in package-lock.json: npm install with omit-lockfile-registry-resolved")
	}
}
