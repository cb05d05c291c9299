// Command again plants the faults of testdata/mutants/planted.txt one by one and says which tests notice each. It is run from the module's root, with numbers of faults or without. The
// exit status is 1 when one lives.
package main

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/mutants"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(asked []string) error {
	text, err := os.ReadFile("testdata/mutants/planted.txt")
	if err != nil {
		return err
	}
	list, err := mutants.ReadKnown(string(text))
	if err != nil {
		return err
	}
	root, err := os.Getwd()
	if err != nil {
		return err
	}
	tmp, err := os.MkdirTemp("", "again")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp)
	lived := 0
	for i := range list {
		if len(asked) > 0 && !slices.Contains(asked, strconv.Itoa(i+1)) {
			continue
		}
		k := &list[i]
		failed, err := k.Try(root, tmp)
		switch {
		case err != nil:
			return err
		case len(failed) == 0:
			lived++
			fmt.Printf("%2d %s: LIVED\n", i+1, k.What)
		default:
			fmt.Printf("%2d %s: %s %s\n", i+1, k.What, k.Package, strings.Join(failed, ", "))
		}
	}
	if lived > 0 {
		return fmt.Errorf("%d lived", lived)
	}
	return nil
}
