package main

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// stated are the kinds of change that make a fact wrong, and not only the code that uses it; of whole numbers,
// only those that count nothing.
var stated = []kind{arithmetic, literal, namedConstant, exponent, sign, unitSwap, condition, caution}

// planted is a wrong fact on its way through the tests.
type planted struct {
	change
	tests *tests
	units []unit
}

// facts plants so many wrong facts, drawn from all packages together, and tells of each which tests
// catch it and what they say: those of its own package, or, where they do not see it, all of the module.
func (o *options) facts(ctx context.Context, pkgs []string, known map[string]string, many int, w io.Writer) error {
	var all []planted
	for _, pkg := range pkgs {
		p, err := load(o.root, pkg)
		if err != nil {
			return err
		}
		t, units, err := p.prepare(ctx)
		if err != nil {
			return err
		}
		defer t.remove()
		for _, c := range p.changes {
			if slices.Contains(stated, c.kind) && !c.counts && !c.equal(known) {
				all = append(all, planted{c, t, units})
			}
		}
	}
	r := rand.New(rand.NewPCG(o.seed, 0))
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	fmt.Fprintf(w, "%d facts, of which %d are made wrong\n", len(all), min(many, len(all)))
	caught, named := 0, 0
	for _, p := range all[:min(many, len(all))] {
		says := p.says(ctx)
		if says == "" {
			says = p.everywhere(ctx, o.root)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if says == "" {
			fmt.Fprintf(w, "LIVED %s\n", p.change)
			continue
		}
		caught++
		message, ok := best(says)
		if ok {
			named++
		}
		fmt.Fprintf(w, "caught %s\n       %s\n", p.change, message)
	}
	fmt.Fprintf(w, "%d of %d caught; of %d the message names a source\n", caught, min(many, len(all)), named)
	if caught < min(many, len(all)) {
		return fmt.Errorf("%d lived: %w of all", min(many, len(all))-caught, errFloor)
	}
	return nil
}

// says returns what the package's own tests say of the change, nothing if they pass.
func (p *planted) says(ctx context.Context) string {
	var patterns []string
	for _, u := range p.units {
		if u.reaches[p.id] {
			patterns = append(patterns, u.pattern)
		}
	}
	var said strings.Builder
	for _, pattern := range patterns {
		c := p.tests.command(ctx, "-test.run", pattern)
		c.Env = append(c.Env, "MUTATE="+strconv.Itoa(p.id))
		if text, err := c.CombinedOutput(); err != nil {
			said.Write(text)
			if _, named := best(said.String()); named {
				break
			}
		}
	}
	return said.String()
}

// everywhere returns what the tests of the whole module say.
func (p *planted) everywhere(ctx context.Context, root string) string {
	c := exec.CommandContext(ctx, "go", "test", "-vet=off", "-overlay", filepath.Join(p.tests.out, "overlay.json"), "./...")
	c.Dir, c.Env = root, append(os.Environ(), "MUTATE="+strconv.Itoa(p.id), "OFFICE=no", "BROWSER=no")
	text, err := c.CombinedOutput()
	if err == nil {
		return ""
	}
	return string(text)
}

var (
	sourced  = regexp.MustCompile(`(?m)^.*\b(published|common-practice|memory|reference-library|derived), source .*$|^.*\bthere is (no )?"[^"]+".*: .*$`)
	standsOn = regexp.MustCompile(`(?m)^.*\b[a-z-]+ stands on: .+$`)
	failed   = regexp.MustCompile(`(?s)\sError: .*?\n\n|\sError: .*$`)
)

// best picks the line that says most, and with it what the calculation stands on, and reports whether that names where the
// fact comes from.
func best(said string) (line string, named bool) {
	if line = sourced.FindString(said); line != "" {
		return strings.TrimSpace(line), true
	}
	if line = failed.FindString(said); line == "" {
		line = said
	}
	line = strings.Join(strings.Fields(line), " ")
	line = line[:min(len(line), 400)]
	if source := standsOn.FindString(said); source != "" {
		return line + "\n       " + strings.TrimSpace(source), true
	}
	return line, false
}
