// Command cmd plants faults in packages and says which of them the tests notice. It is run from the module's root:
//
//	go run ./internal/mutants/cmd -sample 40 internal/units internal/grid
//
// The exit status is 1 when a mutant lived that is not in the list of those that may; with -least, when fewer were noticed than that.
package main

import (
	"flag"
	"fmt"
	"hash/fnv"
	"os"
	"strings"
	"time"

	"shimsheet/internal/mutants"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// enough faults to say whether a share of them is too small.
const enough = 8

// A report is what is said beyond what the options of mutants.Measure hold.
type report struct {
	opts             mutants.Options
	list             string
	uncovered, quiet bool
}

func run() error {
	var r report
	flag.IntVar(&r.opts.Sample, "sample", 0, "how many covered mutants a package are tried, the same ones each time; 0 is all")
	flag.StringVar(&r.opts.Seed, "seed", "", "which sample: a text, such as the commit")
	one := flag.Bool("one", false, "only one of the packages, chosen by the seed")
	least := flag.Float64("least", 0, "the share in per cent of those tried and not listed that must be noticed, where there are eight or more; then one that lived is said and no more")
	flag.DurationVar(&r.opts.Within, "within", 0, "try no further mutant of a package so long after the first; 0 none")
	flag.BoolVar(&r.opts.Classic, "classic", false, "only the kinds that gremlins plants too")
	flag.BoolVar(&r.opts.Short, "short", false, "run the tests with -short")
	flag.StringVar(&r.opts.Only, "only", "", "a regular expression: only mutants whose name it matches")
	flag.DurationVar(&r.opts.Longest, "longest", 0, "leave out tests that take longer by themselves, such as 20s; 0 none")
	flag.Func("also", "a package that imports the mutated one, whose tests are run too; several parted by commas, or the flag again", func(s string) error {
		r.opts.Also = append(r.opts.Also, strings.Split(s, ",")...)
		return nil
	})
	flag.StringVar(&r.list, "equivalent", "testdata/mutants/equivalent.txt", "the list of mutants that may live")
	flag.BoolVar(&r.uncovered, "uncovered", false, "name the mutants that no test reaches too")
	flag.BoolVar(&r.quiet, "quiet", false, "do not say each mutant that died")
	flag.Parse()
	packages := flag.Args()
	if *one && len(packages) > 0 {
		h := fnv.New32a()
		h.Write([]byte(r.opts.Seed))
		packages = packages[h.Sum32()%uint32(len(packages)):][:1]
	}
	killed, unlisted := 0, 0
	for _, pkg := range packages {
		k, n, err := r.measure(pkg)
		if err != nil {
			return err
		}
		killed, unlisted = killed+k, unlisted+n
	}
	switch share := 100 * float64(killed) / float64(max(1, killed+unlisted)); {
	case *least > 0 && killed+unlisted >= enough && share < *least:
		return fmt.Errorf("%.0f %% of the planted faults were noticed, at least %.0f %% are asked for", share, *least)
	case *least == 0 && unlisted > 0:
		return fmt.Errorf("%d mutants lived that are not in %s: write the test that notices, or look at them and list them with the reason", unlisted, r.list)
	}
	return nil
}

// measure returns how many mutants of a package died, and how many lived that are not listed.
func (r *report) measure(pkg string) (killed, unlisted int, err error) {
	may, err := mutants.ReadEquivalent(r.list, pkg)
	if err != nil {
		return 0, 0, err
	}
	tmp, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return 0, 0, err
	}
	defer os.RemoveAll(tmp)
	opts, begun, listed := r.opts, time.Now(), 0
	opts.Progress = func(m mutants.Mutant, o mutants.Outcome) {
		switch reason, ok := may[m.Key()]; {
		case o == mutants.Killed && !r.quiet:
			fmt.Fprintf(os.Stderr, "killed  %d %s\n", m.Line, m.Key())
		case o == mutants.Lived && ok:
			listed++
			fmt.Printf("lived   %s/%s:%d: %s => %s\n", pkg, m.File, m.Line, m.Key(), reason)
		case o == mutants.Lived:
			unlisted++
			fmt.Printf("lived   %s/%s:%d: %s => NOT LISTED\n", pkg, m.File, m.Line, m.Key())
		}
	}
	got, err := mutants.Measure(pkg, tmp, opts)
	if err != nil {
		return 0, 0, err
	}
	for i, m := range got.Mutants {
		if got.Outcome[i] == mutants.NotCovered && r.uncovered {
			fmt.Printf("not covered   %s/%s:%d: %s\n", pkg, m.File, m.Line, m.Key())
		}
	}
	fmt.Printf("%s; %d of those that lived are listed; %v\n", got.Line(), listed, time.Since(begun).Round(time.Second))
	return got.Count(mutants.Killed, false), unlisted, nil
}
