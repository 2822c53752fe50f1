package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// tests is the package's test program with all changes in it.
type tests struct {
	program string // the file
	dir     string // of the package, in which it runs
	out     string // the folder of what was made
	most    int    // the highest number of a change
}

// build writes the package with its changes beside the module and compiles its tests.
func (p *source) build(ctx context.Context) (*tests, error) {
	out, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return nil, err
	}
	t := &tests{program: filepath.Join(out, "test"), dir: p.dir, out: out, most: len(p.changes)}
	replace := map[string]string{filepath.Join(p.root, "doughmath", "mut", "mut.go"): filepath.Join(out, "mut.go")}
	p.texts["mut.go"] = chooser
	for name, text := range p.texts {
		file := filepath.Join(out, filepath.Base(name))
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			return nil, err
		}
		if name != "mut.go" {
			replace[name] = file
		}
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return nil, err
	}
	file := filepath.Join(out, "overlay.json")
	if err := os.WriteFile(file, overlay, 0o600); err != nil {
		return nil, err
	}
	cmd := exec.CommandContext(ctx, "go", "test", "-vet=off", "-c", "-overlay", file, "-o", t.program, "./"+p.pkg)
	cmd.Dir = p.root
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("the package does not build with its changes: %w\n%s", err, said)
	}
	return t, nil
}

// prepare builds the tests and learns which changes each comes by.
func (p *source) prepare(ctx context.Context) (*tests, []unit, error) {
	t, err := p.build(ctx)
	if err != nil {
		return nil, nil, err
	}
	units, err := t.units(ctx)
	if err != nil {
		t.remove()
		return nil, nil, err
	}
	return t, units, nil
}

func (t *tests) remove() { _ = os.RemoveAll(t.out) }

// unit is a test that can be run alone: a test of the package, or one of its parts where it is long.
type unit struct {
	pattern string // for -test.run
	takes   time.Duration
	reaches []bool // by change
}

const (
	long  = 200 * time.Millisecond // a test that takes longer is run in its parts
	short = 20 * time.Millisecond  // tests that take less are run together
)

// units runs the tests as they are, one by one, and returns them with the changes that they come by.
func (t *tests) units(ctx context.Context) ([]unit, error) {
	listed, err := t.command(ctx, "-test.list", ".").Output()
	if err != nil {
		return nil, fmt.Errorf("the tests are not listed: %w", err)
	}
	var out []unit
	for name := range strings.Lines(string(listed)) {
		name = strings.TrimSpace(name)
		if name == "" || strings.HasPrefix(name, "Benchmark") {
			continue
		}
		whole, parts, err := t.one(ctx, "^"+name+"$")
		if err != nil {
			return nil, err
		}
		if whole.takes > long && len(parts) > 1 {
			if split := t.split(ctx, name, parts); split != nil {
				out = append(out, split...)
				continue
			}
		}
		out = append(out, whole)
	}
	slices.SortStableFunc(out, func(a, b unit) int { return cmp.Compare(a.takes, b.takes) })
	return out, ctx.Err()
}

// split returns the parts of a test, or nil if they do not pass alone.
func (t *tests) split(ctx context.Context, name string, parts []string) []unit {
	var out []unit
	for _, part := range parts {
		u, _, err := t.one(ctx, "^"+name+"$/^"+regexp.QuoteMeta(part)+"$")
		if err != nil {
			return nil
		}
		out = append(out, u)
	}
	return out
}

var started = regexp.MustCompile(`(?m)^=== RUN +[^/\n]+/([^/\n]+)$`)

// one runs what the pattern says, without any change, and returns the names of its parts with it.
func (t *tests) one(ctx context.Context, pattern string) (unit, []string, error) {
	file := filepath.Join(t.out, "reached")
	if err := os.WriteFile(file, nil, 0o600); err != nil { // of the one before
		return unit{}, nil, err
	}
	c := t.command(ctx, "-test.v", "-test.run", pattern)
	c.Env = append(c.Env, "MUTATE_REACHED="+file)
	begin := time.Now()
	said, err := c.CombinedOutput()
	takes := time.Since(begin)
	if err != nil {
		return unit{}, nil, fmt.Errorf("the tests %s fail without any change: %w\n%s", pattern, err, said[max(0, len(said)-2000):])
	}
	seen, err := os.ReadFile(file)
	if err != nil {
		return unit{}, nil, err
	}
	u := unit{pattern: pattern, takes: takes, reaches: make([]bool, t.most+1)}
	for i := range u.reaches {
		u.reaches[i] = i < len(seen) && seen[i] == 1
	}
	var parts []string
	for _, m := range started.FindAllStringSubmatch(string(said), -1) {
		parts = append(parts, m[1])
	}
	return u, parts, nil
}

func reached(units []unit, id int) bool {
	return slices.ContainsFunc(units, func(u unit) bool { return u.reaches[id] })
}

// run runs the tests with each change and returns those with which they pass.
func (t *tests) run(ctx context.Context, units []unit, chosen []change, workers int, limit time.Duration) ([]change, error) {
	passes := make([]bool, len(chosen))
	next := make(chan int)
	var all sync.WaitGroup
	for range workers {
		all.Go(func() {
			for i := range next {
				passes[i] = t.passes(ctx, units, chosen[i].id, limit)
			}
		})
	}
	for i := range chosen {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	all.Wait()
	var lived []change
	for i, c := range chosen {
		if passes[i] {
			lived = append(lived, c)
		}
	}
	return lived, ctx.Err()
}

// passes tells whether every test that comes by the change passes with it; the quickest run first.
func (t *tests) passes(ctx context.Context, units []unit, id int, limit time.Duration) bool {
	var together []string
	var alone []string
	for _, u := range units {
		switch {
		case !u.reaches[id]:
		case u.takes < short && !strings.Contains(u.pattern, "/"):
			together = append(together, u.pattern)
		default:
			alone = append(alone, u.pattern)
		}
	}
	if len(together) > 0 {
		alone = slices.Insert(alone, 0, strings.Join(together, "|"))
	}
	for _, pattern := range alone {
		if t.fails(ctx, pattern, id, limit) {
			return false
		}
	}
	return true
}

// fails tells whether a test fails with the change, or does not end: one that the limit cut off while the machine had
// little time for it has said nothing.
func (t *tests) fails(ctx context.Context, pattern string, id int, limit time.Duration) bool {
	soon, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	c := t.command(soon, "-test.failfast", "-test.run", pattern)
	c.Env = append(c.Env, "MUTATE="+strconv.Itoa(id))
	err := c.Run()
	if soon.Err() != nil && c.ProcessState != nil {
		return c.ProcessState.UserTime() >= limit/2
	}
	return err != nil
}

func (t *tests) command(ctx context.Context, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, t.program, args...)
	c.Dir, c.Env = t.dir, append(os.Environ(), "OFFICE=no", "BROWSER=no")
	return c
}

// chooser is the package that every changed file imports.
const chooser = `package mut

import (
	"math"
	"os"
	"strconv"
	"syscall"
)

var (
	chosen, _ = strconv.Atoi(os.Getenv("MUTATE"))
	reached   = open(os.Getenv("MUTATE_REACHED"))
)

func open(name string) []byte {
	if name == "" {
		return nil
	}
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err == nil {
		err = f.Truncate(1 << 16)
	}
	if err != nil {
		panic(err)
	}
	b, err := syscall.Mmap(int(f.Fd()), 0, 1<<16, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_SHARED)
	if err != nil {
		panic(err)
	}
	return b
}

func On(id int) bool {
	if reached != nil {
		reached[id] = 1
	}
	return id == chosen
}

type number interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~float32 | ~float64
}

func Add[T number](id int, a, b T) T { if On(id) { return a - b }; return a + b }
func Sub[T number](id int, a, b T) T { if On(id) { return a + b }; return a - b }
func Mul[T number](id int, a, b T) T { if On(id) { return a / b }; return a * b }
func Quo[T number](id int, a, b T) T { if On(id) { return a * b }; return a / b }
func Less[T number](id int, a, b T) bool { if On(id) { return a <= b }; return a < b }
func AtMost[T number](id int, a, b T) bool { if On(id) { return a < b }; return a <= b }
func More[T number](id int, a, b T) bool { if On(id) { return a >= b }; return a > b }
func AtLeast[T number](id int, a, b T) bool { if On(id) { return a > b }; return a >= b }
func Minus[T number](id int, a T) T { if On(id) { return a }; return -a }
func None[T ~uint64](id int, set T) T { if On(id) { return 0 }; return set }
func Nil(id int, err error) error { if On(id) { return nil }; return err }
func If(not, never int, v bool) bool { if On(not) { return !v }; if On(never) { return false }; return v }

// Constant is by a hundredth larger, a whole number by one.
func Constant[T number](id int, v T) T {
	if !On(id) {
		return v
	}
	half, hundredth := 0.5, 0.01
	switch {
	case T(half) == 0:
		return v + 1
	case v == 0:
		return T(hundredth)
	}
	return T(float64(v) * 1.01)
}
func Sqrt(id int, x float64) float64 { if On(id) { return math.Cbrt(x) }; return math.Sqrt(x) }
func Pow(id int, x, y float64) float64 { if On(id) { y *= 1.05 }; return math.Pow(x, y) }
func Twin[A, B any](id int, f, other func(A) B) func(A) B { if On(id) { return other }; return f }
`
