// Command cmd plants faults in packages and says which of them the tests notice. It is run from the module's root:
//
//	go run ./internal/mutants/cmd -sample 40 internal/units internal/grid
//
// The exit status is 1 when a mutant lived that is not in the list of those that may.
package main

import (
	"flag"
	"fmt"
	"os"

	"shimsheet/internal/mutants"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	var opts mutants.Options
	flag.IntVar(&opts.Sample, "sample", 0, "how many covered mutants a package are tried, the same ones each time; 0 is all")
	flag.BoolVar(&opts.Classic, "classic", false, "only the kinds that gremlins plants too")
	flag.BoolVar(&opts.Short, "short", false, "run the tests with -short")
	flag.StringVar(&opts.Only, "only", "", "a regular expression: only mutants whose name it matches")
	flag.DurationVar(&opts.Longest, "longest", 0, "leave out tests that take longer by themselves, such as 20s; 0 none")
	list := flag.String("equivalent", "testdata/mutants/equivalent.txt", "the list of mutants that may live")
	uncovered := flag.Bool("uncovered", false, "name the mutants that no test reaches too")
	quiet := flag.Bool("quiet", false, "do not say each mutant that died")
	flag.Parse()
	opts.Progress = func(m mutants.Mutant, o mutants.Outcome) {
		if o == mutants.Killed && !*quiet {
			fmt.Fprintf(os.Stderr, "killed  %d %s\n", m.Line, m.Key())
		}
	}
	unlisted := 0
	for _, pkg := range flag.Args() {
		n, err := measure(pkg, *list, *uncovered, opts)
		if err != nil {
			return err
		}
		unlisted += n
	}
	if unlisted > 0 {
		return fmt.Errorf("%d mutants lived that are not in %s: write the test that notices, or look at them and list them with the reason", unlisted, *list)
	}
	return nil
}

func measure(pkg, list string, uncovered bool, opts mutants.Options) (int, error) {
	may, err := mutants.ReadEquivalent(list, pkg)
	if err != nil {
		return 0, err
	}
	tmp, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(tmp)
	r, err := mutants.Measure(pkg, tmp, opts)
	if err != nil {
		return 0, err
	}
	unlisted := 0
	for i, m := range r.Mutants {
		switch r.Outcome[i] {
		case mutants.Lived:
			reason, ok := may[m.Key()]
			if !ok {
				unlisted++
				reason = "NOT LISTED"
			}
			fmt.Printf("lived   %s/%s:%d: %s => %s\n", pkg, m.File, m.Line, m.Key(), reason)
		case mutants.NotCovered:
			if uncovered {
				fmt.Printf("not covered   %s/%s:%d: %s\n", pkg, m.File, m.Line, m.Key())
			}
		}
	}
	fmt.Println(r.Line())
	return unlisted, nil
}
