// Package vec reads the checks in testdata/vec: calculations with known answers, each with the source of the answer and the
// reason for its tolerance. Only tests use it; start with [Read], or with [Load] for one file.
//
// A file is blocks of "key: value" lines, parted by blank lines; a line beginning with # is a comment.
//
//	calc: convert
//	grade: published
//	source: NIST SP 811 (2008), app. B.8, "inch"
//	note: anything worth saying
//	in: text = 1 in
//	want: value = 25.4 mm
//	tol: 0 mm (exact by definition)
//
// in and want may repeat. A wanted text that begins like a number stands in double quotes. wantErr stands in place of want and holds a part of the error's text. A block without calc, grade,
// source or an answer, with a number wanted and no tolerance, with a key or grade not known here, or with a tolerance that
// gives no unit or no reason, fails the whole file.
//
// Left out on purpose: units. The values are texts, and the test that runs a check reads them.
package vec

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Grades lists what a check may rest on: a published value, another method or library, an identity, common practice without a
// source, or only what the program itself gave before.
var Grades = []string{"published", "independent", "identity", "practice", "regression"}

// A KV is one "name = value" of an in or want line.
type KV struct{ Name, Value string }

// A Case is one check.
type Case struct {
	File      string // base name
	Line      int    // of the first line, from 1
	Calc      string // the calculation, or what is checked about it
	Grade     string // one of Grades
	Source    string // document, edition, page or equation
	Note      string
	In        []KV
	Want      []KV
	Tol       float64 // allowed |got − want|; 0 without a tol line
	TolUnit   string
	TolReason string
	WantErr   string // part of the wanted error's text
}

// String is where the case stands, "units.vec:12 convert".
func (c *Case) String() string { return fmt.Sprintf("%s:%d %s", c.File, c.Line, c.Calc) }

// Input returns the value of an in line; ok is false if there is none of that name.
func (c *Case) Input(name string) (value string, ok bool) { return find(c.In, name) }

// Wanted returns the value of a want line; ok is false if there is none of that name.
func (c *Case) Wanted(name string) (value string, ok bool) { return find(c.Want, name) }

func find(list []KV, name string) (string, bool) {
	for _, kv := range list {
		if kv.Name == name {
			return kv.Value, true
		}
	}
	return "", false
}

// Load reads one file. The error joins everything wrong with it, a line each, beginning with file:line.
func Load(path string) ([]Case, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return Parse(filepath.Base(path), string(data))
}

// Read loads the files of testdata/vec that match pattern, such as "units*.vec", from any package of the module. It fails the
// test if one is wrong or if there is no check in them.
func Read(tb testing.TB, pattern string) []Case {
	tb.Helper()
	dir, err := filepath.Abs(".")
	if err != nil {
		tb.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		if filepath.Dir(dir) == dir {
			tb.Fatal("vec: no go.mod above the package")
		}
		dir = filepath.Dir(dir)
	}
	files, err := filepath.Glob(filepath.Join(dir, "testdata", "vec", pattern))
	if err != nil {
		tb.Fatal(err)
	}
	var all []Case
	for _, f := range files {
		cases, err := Load(f)
		if err != nil {
			tb.Fatal(err)
		}
		all = append(all, cases...)
	}
	if len(all) == 0 {
		tb.Fatalf("vec: no check in testdata/vec/%s", pattern)
	}
	return all
}

// Parse reads the text of a file; file is its name in messages.
func Parse(file, text string) ([]Case, error) {
	var (
		cases []Case
		errs  []error
		c     *Case
		seen  map[string]bool
	)
	bad := func(line int, format string, args ...any) {
		errs = append(errs, fmt.Errorf("%s:%d: %s", file, line, fmt.Sprintf(format, args...)))
	}
	finish := func() {
		if c == nil {
			return
		}
		for _, key := range []string{"calc", "grade", "source"} {
			if !seen[key] {
				bad(c.Line, "no %s", key)
			}
		}
		numeric := slices.ContainsFunc(c.Want, func(kv KV) bool { return isNumeric(kv.Value) })
		switch {
		case len(c.Want) == 0 && !seen["wantErr"]:
			bad(c.Line, "no want and no wantErr")
		case len(c.Want) > 0 && seen["wantErr"]:
			bad(c.Line, "both want and wantErr")
		case numeric && !seen["tol"]:
			bad(c.Line, "a number is wanted and there is no tol")
		case !numeric && seen["tol"]:
			bad(c.Line, "tol without a wanted number")
		}
		cases = append(cases, *c)
		c = nil
	}
	for i, s := range strings.Split(text, "\n") {
		line := i + 1
		s = strings.TrimSpace(s)
		if strings.HasPrefix(s, "#") {
			continue
		}
		if s == "" {
			finish()
			continue
		}
		if c == nil {
			c, seen = &Case{File: file, Line: line}, map[string]bool{}
		}
		key, value, ok := strings.Cut(s, ":")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		if !ok || value == "" {
			bad(line, "%q is not \"key: value\"", s)
			seen[key] = true // one message is enough
			continue
		}
		if seen[key] && key != "in" && key != "want" {
			bad(line, "%s stands twice in one block", key)
		}
		seen[key] = true
		switch key {
		case "calc":
			c.Calc = value
		case "grade":
			if !slices.Contains(Grades, value) {
				bad(line, "unknown grade %q; one of %s", value, strings.Join(Grades, ", "))
			}
			c.Grade = value
		case "source":
			c.Source = value
		case "note":
			c.Note = value
		case "wantErr":
			c.WantErr = value
		case "in", "want":
			name, v, ok := strings.Cut(value, "=")
			kv := KV{strings.TrimSpace(name), strings.TrimSpace(v)}
			list := &c.In
			if key == "want" {
				list = &c.Want
			}
			if _, twice := find(*list, kv.Name); !ok || kv.Name == "" {
				bad(line, "%s must be \"name = value\"", key)
			} else if twice {
				bad(line, "%s %s stands twice in one block", key, kv.Name)
			}
			*list = append(*list, kv)
		case "tol":
			if err := c.tolerance(value); err != nil {
				bad(line, "tol %q: %v", value, err)
			}
		default:
			bad(line, "unknown key %q", key)
		}
	}
	finish()
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return cases, nil
}

// tolerance reads "1e-12 mm (reason)".
func (c *Case) tolerance(s string) error {
	amount, reason, ok := strings.Cut(s, "(")
	reason, closed := strings.CutSuffix(reason, ")")
	if reason = strings.TrimSpace(reason); !ok || !closed || reason == "" {
		return errors.New("no reason in brackets")
	}
	number, unit, _ := strings.Cut(strings.TrimSpace(amount), " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || !(v >= 0) || math.IsInf(v, 0) {
		return errors.New("not a number of zero or more")
	}
	if unit = strings.TrimSpace(unit); unit == "" {
		return errors.New("no unit")
	}
	c.Tol, c.TolUnit, c.TolReason = v, unit, reason
	return nil
}

// isNumeric says whether a wanted value begins like a number. A text that does is written in double quotes.
func isNumeric(s string) bool {
	s = strings.TrimLeft(s, "+-.")
	return s != "" && '0' <= s[0] && s[0] <= '9'
}
