package main

import (
	"encoding/json"
	"errors"
	"maps"
	"math"
	"reflect"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A trial is what the question gave with one input changed. It is held against
// the question at once and keeps no more than numbers: there are many.
type trial struct {
	input     int
	value     float64
	alike     bool      // its working and its answer have the same steps and numbers
	worded    bool      // the answer says the same in words
	warned    bool      // it has other conditions or cautions
	steps     []float64 // if it is alike
	numbers   []float64
	otherwise []int // steps with other words or another source
}

// against holds an answer against that of the question as it was asked.
func (a *answer) against(base *answer) (t trial) {
	t.alike = slices.EqualFunc(a.steps, base.steps, func(x, y reckon.Step) bool { return x.Symbol == y.Symbol }) &&
		slices.EqualFunc(a.numbers, base.numbers, func(x, y number) bool { return x.path == y.path })
	t.worded = slices.Equal(a.words, base.words)
	t.warned = !slices.Equal(a.remarks, base.remarks) || a.hazards != base.hazards
	if !t.alike {
		return t
	}
	for i, s := range a.steps {
		t.steps = append(t.steps, s.Value)
		if s.ID != base.steps[i].ID || s.Source != base.steps[i].Source {
			t.otherwise = append(t.otherwise, i)
		}
	}
	for _, n := range a.numbers {
		t.numbers = append(t.numbers, n.value)
	}
	return t
}

// clone is a copy of the question that shares nothing with it.
func clone(q reflect.Value) (reflect.Value, error) {
	data, err := json.Marshal(q.Interface())
	if err != nil {
		return q, err
	}
	out := reflect.New(q.Type())
	return out.Elem(), json.Unmarshal(data, out.Interface())
}

// mostToTry bounds the inputs times the numbers that each may move. A plan of the demo has
// less than a tenth of it.
const mostToTry = 2_000_000

// steps by which inputs are changed, from small to large, each both ways.
var (
	shares  = []float64{1e-4, 0.03, 0.25} // of the value
	degrees = []float64{0.01, 1, 5}       // of a temperature
	counts  = []float64{1, 5, 50}         // of what is counted
	nothing = []float64{0.001, 0.1, 5}    // of what is 0
	ways    = [2]float64{-1, 1}
)

// trialValues lists the values to try for a number, outwards, in one direction.
func trialValues(n *number, way float64) []float64 {
	sizes, scale := shares, math.Abs(n.value)
	switch {
	case n.whole:
		sizes, scale = counts, 1
	case n.at.Type() == tempType:
		sizes, scale = degrees, 1
	case n.value == 0:
		sizes, scale = nothing, 1
	}
	out := make([]float64, len(sizes))
	for i, s := range sizes {
		out[i] = n.value + way*float64(s*scale)
	}
	return out
}

// tryAll tries one input in so many, on as many processors as there are. What it
// returns does not depend on how many.
func (l *live) tryAll(q reflect.Value, base *answer, sys unit.System, every int) ([][]trial, error) {
	out := make([][]trial, len(l.inputs))
	errs := make([]error, runtime.GOMAXPROCS(0))
	var next atomic.Int64
	var all sync.WaitGroup
	for worker := range errs {
		all.Go(func() {
			own, err := clone(q)
			errs[worker] = err
			numbers := valuesOf(own, sys).numbers
			for i := int(next.Add(1)) - 1; err == nil && i < len(out); i = int(next.Add(1)) - 1 {
				if i%every == 0 {
					out[i] = try(own, i, &numbers[i], base, sys)
				}
			}
		})
	}
	all.Wait()
	return out, errors.Join(errs...)
}

// try changes input i both ways, outwards until the calculation refuses.
func try(q reflect.Value, i int, n *number, base *answer, sys unit.System) (out []trial) {
	defer n.set(n.value)
	for _, way := range ways {
		for _, v := range trialValues(n, way) {
			n.set(v)
			a, err := solve(q, sys)
			if err != nil {
				break
			}
			t := a.against(base)
			t.input, t.value = i, v
			out = append(out, t)
		}
	}
	return out
}

// reach finds how far input i can be changed with the results still those of
// the calculation, or off only by what follows from nothing, which is marked. So
// are steps on the way that would be others where the results are right all the same.
func (l *live) reach(i int, trials []trial) {
	in := &l.inputs[i]
	in.stale = map[ref]bool{}
	values := make([]float64, len(l.inputs))
	for j := range l.inputs {
		values[j] = l.inputs[j].value
	}
	for _, way := range ways {
		for k := range trials {
			t := &trials[k]
			if (t.value-in.value)*way <= 0 {
				continue
			}
			values[i] = t.value
			if !t.alike || !t.worded || len(onlyOutputs(l.differs(values, t, true))) > 0 {
				break
			}
			maps.Copy(in.stale, l.differs(values, t, false))
			in.low, in.high = min(in.low, t.value), max(in.high, t.value)
			in.warned = in.warned || t.warned
		}
	}
}

func onlyOutputs(refs map[ref]bool) map[ref]bool {
	maps.DeleteFunc(refs, func(r ref, _ bool) bool { return r.kind != 'o' })
	return refs
}
