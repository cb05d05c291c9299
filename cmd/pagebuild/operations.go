package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// Where a script, or package frame, names an operation of the page's program (package desk): as the first argument of what calls it, or first in a list of what to call.
var (
	operationCall = regexp.MustCompile(`\b(?:ask|asked|act|Act|call|go|onSheet|show|Answer)\(|\(m\) => \[`)
	firstArgument = regexp.MustCompile(`^[^,;(){}\[\]]*`)
	operationName = regexp.MustCompile(`"(\w+)"`)
)

// callers are the sources that may call operations: the scripts, and package frame.
func callers(root, scripts string) (string, error) {
	files, err := filepath.Glob(filepath.Join(root, "internal", "frame", "*.go"))
	for _, f := range files {
		if !strings.HasSuffix(f, "_test.go") {
			b, e := os.ReadFile(f)
			err = errors.Join(err, e)
			scripts += string(b)
		}
	}
	return scripts, err
}

// checkOperations holds the names of operations that the scripts call against those there are: one that is missing would be seen first by a person, and one that nobody
// calls is dead.
func checkOperations(scripts string, there []string) error {
	var errs []error
	called := map[string]bool{}
	for _, m := range operationCall.FindAllStringIndex(scripts, -1) {
		for _, n := range operationName.FindAllStringSubmatch(firstArgument.FindString(scripts[m[1]:]), -1) {
			if name := n[1]; !called[name] {
				called[name] = true
				if !slices.Contains(there, name) {
					errs = append(errs, fmt.Errorf("a script calls %s, which is no operation", name))
				}
			}
		}
	}
	for _, name := range there {
		if !called[name] {
			errs = append(errs, fmt.Errorf("no script calls the operation %s", name))
		}
	}
	return errors.Join(errs...)
}
