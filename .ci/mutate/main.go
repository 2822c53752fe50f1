// Mutate plants one wrong fact after the other into a package and runs the package's own tests on
// each: a test that passes all the same does not hold that fact.
//
//	go -C .ci/mutate run . -package divider                              every change of every kind
//	go -C .ci/mutate run . -package divider -kinds constant -sample 50   fifty, drawn by -seed
//	go -C .ci/mutate run . -package divider -file takt.go                those of one file
//	go -C .ci/mutate run . -package divider -sample 100 -floor 80        leave with 1 below 80 %
//	go -C .ci/mutate run . -package divider -again lived.txt             those that an earlier run printed as lived
//	go -C .ci/mutate run . -facts 50                                     fifty facts of all packages, and what is said of each
//
// All changes are compiled into one test program at once, and an environment variable chooses which
// of them holds; each test runs once to learn which changes it comes by. So a change costs a run of
// the tests that can see it, the quickest first, and no build. Changes that no test reaches are
// counted apart. Those that make no difference stand in equal.txt, one on a line with the reason; a line
// whose change is killed or gone is complained of. Changes that are alike in a function are numbered; a
// line without a number is for all of them.
//
// It leaves with 0 if all is well, with 1 below the floor, and with 2 if it was called wrongly or the
// package does not build.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/signal"
	"path"
	"slices"
	"strings"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// everyPackage is where the facts stand.
var everyPackage = []string{"doughmath", "divider", "proof", "molder", "doughmath/line", "doughmath/unit", "doughmath/reckon"}

// errFloor says that too many changes lived.
var errFloor = errors.New("below the floor")

func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("mutate", flag.ContinueOnError)
	flags.SetOutput(stderr)
	var o options
	flags.StringVar(&o.root, "root", "../..", "the `folder` of the module")
	flags.StringVar(&o.pkg, "package", "", "the `package`, such as divider or doughmath/line")
	flags.StringVar(&o.file, "file", "", "only changes in the `file` of that name, such as board.go")
	kinds := flags.String("kinds", "", "only changes of these `kinds`, with commas between; all by default")
	again := flags.String("again", "", "only changes that lived in an earlier run, whose output is in the `file`")
	flags.IntVar(&o.sample, "sample", 0, "only so `many` changes, drawn by the seed; 0 for all")
	flags.Uint64Var(&o.seed, "seed", 1, "draws the sample")
	flags.IntVar(&o.workers, "workers", 2, "tests that run at a time")
	flags.DurationVar(&o.limit, "limit", 2*time.Minute, "a change with which a test takes longer, and half of it in processor time, is killed")
	facts := flags.Int("facts", 0, "plant so `many` wrong facts, drawn from all packages, and tell what is said of each")
	floor := flags.Float64("floor", 0, "least share of killed changes, in percent")
	equal := flags.String("equal", "equal.txt", "the `file` of changes that make no difference")
	list := flags.Bool("list", false, "list the changes and run nothing")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if flags.NArg() > 0 || o.pkg == "" && *facts < 1 || o.workers < 1 || o.sample < 0 {
		fmt.Fprintln(stderr, "mutate: give -package NAME or -facts MANY, and no argument; see -h")
		return 2
	}
	if *kinds != "" {
		o.kinds = strings.Split(*kinds, ",")
		for _, k := range o.kinds {
			if !slices.Contains(allKinds, kind(k)) {
				fmt.Fprintf(stderr, "mutate: -kinds: no kind is called %q; there are %v\n", k, allKinds)
				return 2
			}
		}
	}
	known, err := readEqual(*equal)
	if err == nil && *again != "" {
		o.again, err = readLived(*again)
	}
	pkgs := everyPackage
	if o.pkg != "" {
		pkgs = []string{o.pkg}
	}
	switch {
	case err != nil:
	case *facts > 0:
		err = o.facts(ctx, pkgs, known, *facts, stdout)
	default:
		err = o.mutate(ctx, known, *list, *floor, stdout)
	}
	switch {
	case errors.Is(err, errFloor):
		fmt.Fprintln(stderr, "mutate:", err)
		return 1
	case err != nil:
		fmt.Fprintln(stderr, "mutate:", err)
		return 2
	}
	return 0
}

type options struct {
	root, pkg string
	file      string
	kinds     []string
	again     map[string]bool // changes as they are printed; all of them if nil
	sample    int
	seed      uint64
	workers   int
	limit     time.Duration
}

func (o *options) mutate(ctx context.Context, known map[string]string, list bool, floor float64, w io.Writer) error {
	p, err := load(o.root, o.pkg)
	if err != nil {
		return err
	}
	if gone := p.gone(known); len(gone) > 0 {
		return fmt.Errorf("said to make no difference, and gone:\n%s", strings.Join(gone, "\n"))
	}
	chosen := slices.DeleteFunc(slices.Clone(p.changes), func(c change) bool {
		return len(o.kinds) > 0 && !slices.Contains(o.kinds, string(c.kind)) || o.file != "" && path.Base(c.file) != o.file ||
			o.again != nil && !o.again[c.key()]
	})
	if list {
		for _, c := range chosen {
			fmt.Fprintln(w, c)
		}
		return nil
	}
	t, units, err := p.prepare(ctx)
	if err != nil {
		return err
	}
	defer t.remove()
	all := len(chosen)
	chosen = slices.DeleteFunc(chosen, func(c change) bool { return !reached(units, c.id) })
	fmt.Fprintf(w, "%s: %d changes, of which the package's own tests reach %d\n", o.pkg, all, len(chosen))
	if o.sample > 0 && o.sample < len(chosen) {
		r := rand.New(rand.NewPCG(o.seed, 0))
		r.Shuffle(len(chosen), func(i, j int) { chosen[i], chosen[j] = chosen[j], chosen[i] })
		chosen = chosen[:o.sample]
	}
	lived, err := t.run(ctx, units, chosen, o.workers, o.limit)
	if err != nil {
		return err
	}
	var equal []string
	open := 0
	left := map[kind]int{}
	for _, c := range lived {
		if c.equal(known) {
			equal = append(equal, c.key())
			continue
		}
		open++
		left[c.kind]++
		fmt.Fprintln(w, "lived:", c)
	}
	for _, c := range chosen {
		if c.equal(known) && !slices.Contains(equal, c.key()) {
			fmt.Fprintln(w, "killed, though said to be equal:", c)
		}
	}
	tried := len(chosen) - len(equal)
	share := 100.0
	if tried > 0 {
		share = 100 * float64(tried-open) / float64(tried)
	}
	if o.file == "" && open > 0 {
		tell(w, chosen, left)
	}
	fmt.Fprintf(w, "%s: %d tried, %d killed, %.1f %%; %d make no difference\n", o.pkg, tried, tried-open, share, len(equal))
	if share < floor {
		return fmt.Errorf("%s: %.1f %% killed: %w of %g %%", o.pkg, share, errFloor, floor)
	}
	return nil
}

// tell writes how many of each kind lived.
func tell(w io.Writer, chosen []change, left map[kind]int) {
	for _, k := range allKinds {
		all := 0
		for _, c := range chosen {
			if c.kind == k {
				all++
			}
		}
		if all > 0 {
			fmt.Fprintf(w, "%-15s %5d tried, %4d lived\n", k, all, left[k])
		}
	}
}

// readLived reads which changes an earlier run printed as lived. Their lines may have moved since.
func readLived(file string) (map[string]bool, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	lived := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if change, ok := strings.CutPrefix(strings.TrimSpace(line), "lived: "); ok {
			if _, key, ok := strings.Cut(change, ": "); ok {
				lived[key] = true
			}
		}
	}
	return lived, nil
}

// readEqual reads the changes that make no difference: on each line the change as it is printed, then
// " # " and the reason.
func readEqual(file string) (map[string]string, error) {
	text, err := os.ReadFile(file)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	known := map[string]string{}
	for i, line := range strings.Split(string(text), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		key, why, ok := strings.Cut(line, " # ")
		if !ok || why == "" {
			return nil, fmt.Errorf("%s:%d: want the change, %q and the reason", file, i+1, " # ")
		}
		known[key] = why
	}
	return known, nil
}
