package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// The workbook library drags four things into the page that none of our calls reaches: a web client, for one look at the type of an embedded file; a
// copier that looks methods up by name and its own formula engine that does the same, which makes the linker keep every method of every package; and
// tables of old character sets, which workbooks have not used for twenty years and which our own check of the file refuses first. So the page's
// program for workbooks is built with a copy of the pinned library without them. The native command keeps the library as it is; the tests of
// internal/workbook run against both, and the library's own tests against the copy.

// slimModule is the library that is edited.
const slimModule = "github.com/xuri/excelize/v2"

// An edit takes one passage out of a file of the library and puts another in its place. The passage must stand there exactly once, so that a
// new version of the library cannot be half edited in silence.
type edit struct{ file, old, new string }

// leftOut is what a function that was cut answers. Nothing of ours calls it.
const leftOut = `errors.New("left out of this build of the library")`

const deepcopyImport = "\t\"github.com/tiendc/go-deepcopy\"\n"

var slimEdits = []edit{
	// The formula engine: its functions are found by name. Unreached, the linker leaves them out.
	{"calc.go", "function := reflect.ValueOf(receiver).MethodByName(name)", "var function reflect.Value"},

	// The type of an embedded file.
	{"sheet.go", "\t\"net/http\"\n", ""},
	{"sheet.go", "http.DetectContentType(opts.File)", `"application/octet-stream"`},

	// Character sets besides UTF-8.
	{"excelize.go", "\n\t\"golang.org/x/net/html/charset\"\n", ""},
	{"excelize.go", "\t\"encoding/xml\"\n", "\t\"encoding/xml\"\n\t\"errors\"\n"},
	{"excelize.go", "charset.NewReaderLabel,", "func(string, io.Reader) (io.Reader, error) { return nil, " + leftOut + " },"},

	// The copier. Columns are copied by hand, the copies of whole sheets and rows are left out.
	{"col.go", deepcopyImport, ""},
	{"col.go", "_ = deepcopy.Copy(&c, col)", "c = copyCol(col)"},
	{"col.go", "_ = deepcopy.Copy(&c, column)", "c = copyCol(column)"},
	{"col.go", "// flatCols provides", "// copyCol returns a column with a width of its own.\nfunc copyCol(c xlsxCol) xlsxCol {\n\tif c.Width != nil {\n\t\tw := *c.Width\n\t\tc.Width = &w\n\t}\n\treturn c\n}\n\n// flatCols provides"},
	{"sheet.go", "\t\"encoding/xml\"\n", "\t\"encoding/xml\"\n\t\"errors\"\n"},
	{"sheet.go", deepcopyImport, ""},
	{"sheet.go", "_ = deepcopy.Copy(&column, ws.Cols.Col[left])", "column = copyCol(ws.Cols.Col[left])"},
	{"sheet.go", "worksheet := &xlsxWorksheet{}\n\terr = deepcopy.Copy(worksheet, sheet)", "worksheet := sheet\n\tif true {\n\t\treturn " + leftOut + "\n\t}"},
	{"rows.go", deepcopyImport, ""},
	{"rows.go", "\t\"encoding/xml\"\n", "\t\"encoding/xml\"\n\t\"errors\"\n"},
	{"rows.go", "err = deepcopy.Copy(&rowCopy, ws.SheetData.Row[i])", "_ = i\n\t\t\treturn " + leftOut},
	{"rows.go", "_ = deepcopy.Copy(&cfCopy, *cf)", "cfCopy = *cf"},
	{"rows.go", "_ = deepcopy.Copy(&dvCopy, *dv)", "dvCopy = *dv"},
}

// apply makes the edits in a folder that holds the library.
func apply(dir string, edits []edit) error {
	for _, e := range edits {
		name := filepath.Join(dir, e.file)
		b, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if n := strings.Count(string(b), e.old); n != 1 {
			return fmt.Errorf("%s: %q stands there %d times, not once: look at the edits again after a change of version", e.file, e.old, n)
		}
		if err := os.WriteFile(name, []byte(strings.Replace(string(b), e.old, e.new, 1)), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// slim writes the edited copy of the library to dist/slim/excelize, and beside it a go.mod in which it stands in the library's place. It returns the
// path of that go.mod, which `go build -modfile` takes.
func slim(root string) (string, error) {
	// Asked of the download and not of the list, which knows no place for a module that is not on this machine yet.
	cmd := exec.Command("go", "mod", "download", "-json", slimModule)
	cmd.Dir = root
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	var got struct{ Dir, Error string }
	if e := json.Unmarshal(out, &got); e == nil && got.Error != "" {
		return "", errors.New(got.Error)
	}
	if err != nil {
		return "", err
	}
	from := got.Dir
	if from == "" {
		return "", fmt.Errorf("go mod download gives no place for %s", slimModule)
	}
	base := filepath.Join(root, "dist", "slim")
	to := filepath.Join(base, "excelize")
	if err := os.RemoveAll(to); err != nil {
		return "", err
	}
	if err := copyWritable(to, from); err != nil {
		return "", err
	}
	if err := apply(to, slimEdits); err != nil {
		return "", err
	}
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return "", err
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		return "", err
	}
	file := filepath.Join(base, "go.mod")
	text := string(mod) + "\nreplace " + slimModule + " => ./dist/slim/excelize\n" // from the module's root, as -modfile has it
	return file, errors.Join(os.WriteFile(file, []byte(text), 0o644), os.WriteFile(filepath.Join(base, "go.sum"), sum, 0o644))
}

// copyWritable copies a folder; what lies in the module cache is read-only, the copy is not.
func copyWritable(to, from string) error {
	return filepath.WalkDir(from, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(from, name)
		if err != nil {
			return err
		}
		if d.IsDir() {
			return os.MkdirAll(filepath.Join(to, rel), 0o755)
		}
		b, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(to, rel), b, 0o644)
	})
}
