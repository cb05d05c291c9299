package mutants

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// An Outcome is what became of a mutant.
type Outcome string

const (
	Killed     Outcome = "killed" // a test failed, or ran far longer than without the fault
	Lived      Outcome = "lived"
	NotCovered Outcome = "not covered" // no test reaches the place
	Skipped    Outcome = "skipped"     // not in the sample
)

// Options say which mutants are tried and how.
type Options struct {
	Sample   int           // how many covered mutants are tried; 0 is all
	Seed     string        // which sample; the same text gives the same one
	Within   time.Duration // no further mutant is tried when so much has passed since the first; 0 none
	Classic  bool          // only kinds that gremlins plants too
	Only     string        // a regular expression that the key must match; empty is all
	Short    bool          // run the tests with -short
	Longest  time.Duration // tests that take longer by themselves are left out, and counted in Report.LeftOut; 0 none
	Also     []string      // directories of packages that import the mutated one: their tests are run too, so that what only they notice counts as noticed
	Progress func(Mutant, Outcome)
}

// A Report has an outcome for each mutant.
type Report struct {
	Package string
	LeftOut int // tests that took too long
	Mutants []Mutant
	Outcome []Outcome
}

// Count returns how many mutants ended so; classic counts only the kinds that gremlins plants too.
func (r *Report) Count(o Outcome, classic bool) int {
	n := 0
	for i, x := range r.Outcome {
		if x == o && (!classic || r.Mutants[i].Kind.Classic()) {
			n++
		}
	}
	return n
}

// Line is the report in one line: of the covered mutants that were tried, how many died, in brackets among the classic kinds alone; of all, how many no test reaches.
func (r *Report) Line() string {
	share := func(n, of int) float64 { return 100 * float64(n) / float64(max(1, of)) }
	killed, lived, not := r.Count(Killed, false), r.Count(Lived, false), r.Count(NotCovered, false)
	old, oldLived := r.Count(Killed, true), r.Count(Lived, true)
	left := ""
	if r.LeftOut > 0 {
		left = fmt.Sprintf("; %d tests left out, they take too long", r.LeftOut)
	}
	return fmt.Sprintf("%-18s of %5d mutants tried %4d: killed %4d, lived %4d, efficacy %.1f %% (classic %d of %d, %.1f %%); no test reaches %d, %.1f %%%s",
		r.Package, len(r.Mutants), killed+lived, killed, lived, share(killed, killed+lived), old, old+oldLived, share(old, old+oldLived), not, share(not, len(r.Mutants)), left)
}

// A run is one test function: how long it takes, and which mutants it reaches.
type run struct {
	bin  int
	name string
	took time.Duration
	hits []byte
}

// A bench is what is needed to run tests with a mutant on.
type bench struct {
	dirs, bins []string
	command    string // the program itself, where the package is one
	opts       Options
	runs       []run
	leftOut    int
}

// Measure builds the package in dir with its mutants and runs the tests. tmp takes the files. It is an error when a test fails without any mutant.
func Measure(dir, tmp string, opts Options) (*Report, error) {
	p, err := Plant(dir, tmp)
	if err != nil {
		return nil, err
	}
	b := bench{opts: opts}
	if p.Command {
		b.command = filepath.Join(tmp, "command")
		if text, err := command(p.Dir, "go", "build", "-buildvcs=false", "-overlay", p.Overlay, "-o", b.command, ".").CombinedOutput(); err != nil {
			return nil, fmt.Errorf("building %s with its mutants: %w\n%s", dir, err, text)
		}
	}
	for i, d := range append([]string{p.Dir}, opts.Also...) { // The overlay holds for all that is built, so a companion's tests are linked with the switches too.
		bin := filepath.Join(tmp, fmt.Sprintf("tests%d", i))
		if text, err := command(d, "go", "test", "-c", "-vet=off", "-overlay", p.Overlay, "-o", bin, ".").CombinedOutput(); err != nil {
			return nil, fmt.Errorf("building %s with its mutants: %w\n%s", d, err, text)
		}
		if _, err := os.Stat(bin); err != nil {
			if i > 0 {
				return nil, fmt.Errorf("%s has no tests to run beside those of %s", d, dir)
			}
			continue // No test files.
		}
		b.dirs = append(b.dirs, d)
		b.bins = append(b.bins, bin)
	}
	if err := b.cover(tmp, len(p.Mutants)+1); err != nil {
		return nil, err
	}
	if d := b.strange(); d != "" {
		return nil, fmt.Errorf("no test of %s reaches a mutant of %s", d, dir)
	}
	rel, err := filepath.Rel(moduleDir(p.Dir), p.Dir)
	if err != nil {
		return nil, err
	}
	r := &Report{Package: filepath.ToSlash(rel), LeftOut: b.leftOut, Mutants: p.Mutants, Outcome: make([]Outcome, len(p.Mutants))}
	return r, b.try(r)
}

func command(dir, name string, args ...string) *exec.Cmd {
	c := exec.Command(name, args...)
	c.Dir = dir
	return c
}

// moduleDir is the nearest directory upwards that has a go.mod.
func moduleDir(dir string) string {
	for d := dir; ; d = filepath.Dir(d) {
		if _, err := os.Stat(filepath.Join(d, "go.mod")); err == nil || d == filepath.Dir(d) {
			return d
		}
	}
}

// cover runs each test by itself and notes what it reaches.
func (b *bench) cover(tmp string, size int) error {
	for i, bin := range b.bins {
		text, err := command(b.dirs[i], bin, "-test.list", "^(Test|Fuzz|Example)").Output()
		if err != nil {
			return fmt.Errorf("listing tests of %s: %w", b.dirs[i], err)
		}
		for _, name := range strings.Fields(string(text)) {
			file := filepath.Join(tmp, "hits")
			if err := os.WriteFile(file, make([]byte, size), 0o644); err != nil {
				return err
			}
			start := time.Now()
			ctx, stop := context.WithCancel(context.Background())
			if b.opts.Longest > 0 {
				ctx, stop = context.WithTimeout(ctx, b.opts.Longest)
			}
			out, err := b.start(ctx, i, "^"+regexp.QuoteMeta(name)+"$", "MUTANT_HITS="+file)
			late := ctx.Err() != nil
			if stop(); late {
				b.leftOut++
				continue
			}
			if err != nil {
				return fmt.Errorf("%s fails without any mutant: %w\n%s", name, err, out)
			}
			took := time.Since(start)
			hits, err := os.ReadFile(file)
			if err != nil {
				return err
			}
			b.runs = append(b.runs, run{i, name, took, hits})
		}
	}
	slices.SortStableFunc(b.runs, func(x, y run) int { return cmp.Compare(x.took, y.took) })
	return nil
}

// strange names a companion none of whose tests reaches any mutant: most likely another package was meant.
func (b *bench) strange() string {
	for i, d := range b.dirs {
		reaches := func(t run) bool { return t.bin == i && slices.Contains(t.hits, 1) }
		if slices.Contains(b.opts.Also, d) && !slices.ContainsFunc(b.runs, reaches) {
			return d
		}
	}
	return ""
}

// start runs tests of one binary to the first failure.
func (b *bench) start(ctx context.Context, bin int, pattern string, env ...string) ([]byte, error) {
	args := []string{"-test.run", pattern, "-test.failfast"}
	if b.opts.Short {
		args = append(args, "-test.short")
	}
	c := exec.CommandContext(ctx, b.bins[bin], args...)
	c.Dir = b.dirs[bin]
	c.Env = append(os.Environ(), env...)
	if b.command != "" {
		c.Env = append(c.Env, "MUTANT_COMMAND="+b.command) // Tests that start the program start the one with the mutants.
	}
	c.WaitDelay = time.Second // A test that started a program of its own leaves its output open.
	return c.CombinedOutput()
}

// try runs the sample, or all.
func (b *bench) try(r *Report) error {
	only, err := regexp.Compile(b.opts.Only)
	if err != nil {
		return err
	}
	var picked []int
	for i, m := range r.Mutants {
		r.Outcome[i] = Skipped
		if !only.MatchString(m.Key()) || b.opts.Classic && !m.Kind.Classic() {
			continue
		}
		if !slices.ContainsFunc(b.runs, func(t run) bool { return t.hits[i+1] != 0 }) {
			r.Outcome[i] = NotCovered
			continue
		}
		picked = append(picked, i)
	}
	if n := b.opts.Sample; n > 0 && n < len(picked) {
		slices.SortFunc(picked, func(x, y int) int {
			return cmp.Compare(r.Mutants[x].rank(r.Package+b.opts.Seed), r.Mutants[y].rank(r.Package+b.opts.Seed))
		})
		picked = picked[:n]
	}
	begun := time.Now()
	for _, i := range picked {
		if b.opts.Within > 0 && time.Since(begun) > b.opts.Within {
			break
		}
		r.Outcome[i] = b.one(i + 1)
		if b.opts.Progress != nil {
			b.opts.Progress(r.Mutants[i], r.Outcome[i])
		}
	}
	return nil
}

// one runs the tests that reach a mutant: the quick ones first, up to half a second of them, then the others.
func (b *bench) one(n int) Outcome {
	var spent time.Duration
	first, rest := make([][]run, len(b.bins)), make([][]run, len(b.bins))
	for _, t := range b.runs {
		if t.hits[n] == 0 {
			continue
		}
		spent += t.took
		if spent < time.Second/2 {
			first[t.bin] = append(first[t.bin], t)
		} else {
			rest[t.bin] = append(rest[t.bin], t)
		}
	}
	for _, part := range [][][]run{first, rest} {
		for bin, list := range part {
			if len(list) > 0 && b.fails(n, bin, list) {
				return Killed
			}
		}
	}
	return Lived
}

func (b *bench) fails(n, bin int, list []run) bool {
	var names []string
	limit := 10 * time.Second
	for _, t := range list {
		names = append(names, regexp.QuoteMeta(t.name))
		limit += 5 * t.took
	}
	ctx, stop := context.WithTimeout(context.Background(), limit)
	defer stop()
	_, err := b.start(ctx, bin, "^("+strings.Join(names, "|")+")$", "MUTANT="+strconv.Itoa(n))
	if errors.Is(err, exec.ErrWaitDelay) {
		err = nil
	}
	return err != nil
}
