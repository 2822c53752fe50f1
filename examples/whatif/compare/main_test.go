package main

import (
	"math"
	"math/rand/v2"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/whatif"
)

// The arithmetic by hand that the contenders repeat is that of the plan.
func TestHandAgreesWithPlan(t *testing.T) {
	base, err := straightPlan()
	require.NoError(t, err)
	k := newSheet(&base)
	s := whatif.Study{Subject: whatif.Of(base)}
	for i := range inputs {
		s.Vary = append(s.Vary, whatif.Factor{Path: inputs[i].path, Values: values(i)})
	}
	for _, path := range columns {
		s.Outputs = append(s.Outputs, whatif.Output{Path: path})
	}
	c, err := s.Compile()
	require.NoError(t, err)
	require.Equal(t, 100_000, c.Size())
	hand, random := make([]float64, len(columns)), rand.New(rand.NewPCG(1, 2))
	for range 300 {
		i := random.IntN(c.Size())
		row, err := c.At(i)
		require.NoError(t, err)
		require.NoError(t, row.Err())
		x := at(i)
		assert.InDeltaSlice(t, x[:], row.Values[:5], 1e-12)
		k.plan(x[0], x[1], x[2], x[3], x[4], hand)
		for j, want := range hand {
			got := row.Values[5+j]
			if math.IsNaN(got) {
				got = 0 // an answer leaves out what is nothing
			}
			require.InDelta(t, want, got, 1e-9*max(1, math.Abs(want)), "%s of scenario %d", columns[j], i)
		}
	}
}

// So is what Python makes of it, where that is there.
func TestPythonAgrees(t *testing.T) {
	python := findPython("")
	base, err := straightPlan()
	require.NoError(t, err)
	b := &bench{n: 1000, base: base, sheet: newSheet(&base), python: python, kept: make([]float64, 1000*len(columns))}
	b.seconds = 0.01
	want := b.byHand().sums
	tasks := []string{"loop"}
	if exec.Command(python, "--version").Run() != nil {
		t.Skip("no python3")
	}
	if exec.Command(python, "-c", "import numpy").Run() == nil {
		tasks = append(tasks, "numpy")
	}
	for _, task := range tasks {
		got, err := b.outside(task)
		require.NoError(t, err)
		for k, sum := range got[0].sums {
			assert.InDelta(t, want[k], sum, 1e-9*max(1, math.Abs(want[k])), "%s: %s", task, columns[k])
		}
	}
}
