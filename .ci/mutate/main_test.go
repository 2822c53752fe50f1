package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
)

// A module of one package, whose tests hold some facts and not others.
const code = `package p

const Rate = 40.0

func Dough(minutes float64) float64 { return Rate * minutes }

func Warm(temp float64) bool { return temp > 40 }

func Same(a, b float64) bool { return a <= b*(1+1e-9) } // a guard, and no fact: unchanged
`

const codeTest = `package p

import "testing"

func TestDough(t *testing.T) {
	if Dough(2) != 80 {
		t.Error("dough")
	}
	if !Warm(50) {
		t.Error("warm")
	}
}
`

func written(t *testing.T) string {
	t.Helper()
	root := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module example.com/dough\n\ngo 1.26.0\n", "p/p.go": code, "p/p_test.go": codeTest} {
		file := filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.MkdirAll(filepath.Join(root, "doughmath", "mut"), 0o700); err != nil {
		t.Fatal(err)
	}
	return root
}

func TestWhatTheTestsDoNotHold(t *testing.T) {
	root := written(t)
	equal, lived := filepath.Join(root, "equal.txt"), filepath.Join(root, "lived.txt")
	if err := os.WriteFile(lived, []byte("p: 4 changes\nlived: p/p.go:9: p/p.go Warm: constant: 40\np: 4 tried\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, equal string
		args        []string
		code        int
		says        string
	}{
		{"all", "", nil, 0, "lived: p/p.go:7: p/p.go Warm: boundary: temp [>] 40\nlived: p/p.go:7: p/p.go Warm: constant: 40\narithmetic          1 tried,    0 lived\nboundary            1 tried,    1 lived\nconstant            1 tried,    1 lived\nnamed-constant      1 tried,    0 lived\np: 4 tried, 2 killed, 50.0 %; 0 make no difference\n"},
		{"a kind", "", []string{"-kinds", "named-constant,arithmetic"}, 0, "p: 2 tried, 2 killed, 100.0 %; 0 make no difference\n"},
		{"floor", "", []string{"-floor", "60"}, 1, "p: 4 tried, 2 killed, 50.0 %"},
		{"equal", "p/p.go Warm: constant: 40 # no dough is so warm\n", nil, 0, "p: 3 tried, 2 killed, 66.7 %; 1 make no difference\n"},
		{"killed though equal", "p/p.go Rate: named-constant: Rate = 40 # not so\n", nil, 0, "killed, though said to be equal: p/p.go:3: p/p.go Rate: "},
		{"gone", "p/p.go Cold: constant: 40 # no dough is so warm\n", nil, 2, "and gone:\np/p.go Cold: constant: 40\n"},
		{"no reason", "p/p.go Warm: constant: 40\n", nil, 2, "and the reason"},
		{"unknown kind", "", []string{"-kinds", "moonshine"}, 2, "arithmetic"},
		{"no package", "", []string{"-package", "q"}, 2, "not one package"},
		{"facts", "", []string{"-facts", "9"}, 1, "3 facts, of which 3 are made wrong\n"},
		{"a file", "", []string{"-file", "q.go"}, 0, "p: 0 changes"},
		{"again", "", []string{"-again", lived}, 0, "lived: p/p.go:7: p/p.go Warm: constant: 40\nconstant            1 tried,    1 lived\np: 1 tried, 0 killed"},
		{"again of nothing", "", []string{"-again", lived + "x"}, 2, "lived.txtx"},
		{"list", "", []string{"-list"}, 0, "p/p.go:3: p/p.go Rate: named-constant: Rate = 40\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := os.WriteFile(equal, []byte(c.equal), 0o600); err != nil {
				t.Fatal(err)
			}
			var out bytes.Buffer
			args := append([]string{"-root", root, "-package", "p", "-equal", equal}, c.args...)
			if got := run(context.Background(), args, &out, &out); got != c.code {
				t.Errorf("code %d, want %d", got, c.code)
			}
			if !bytes.Contains(out.Bytes(), []byte(c.says)) {
				t.Errorf("says\n%s\nwant\n%s", out.String(), c.says)
			}
		})
	}
}
