package main

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
)

// Where a script names an operation of the page's program (package desk): as the first argument of what calls it, or first in a list of what to call.
var (
	operationCall = regexp.MustCompile(`\b(?:ask|act|call|go|copyBy|column|tell)\(|\bput\(e, |\(m\) => \[`)
	firstArgument = regexp.MustCompile(`^[^,;(){}\[\]]*`)
	operationName = regexp.MustCompile(`"(\w+)"`)
)

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
