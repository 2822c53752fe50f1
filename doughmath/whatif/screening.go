package whatif

import (
	"math"
	"math/rand/v2"
)

// effects is what steps of one input do to an output, wherever the others stand.
type effects struct {
	mean     float64 // mu, the mean effect over the whole range of the input
	absolute float64 // mu*, the mean size of the effect
	sd       float64 // sigma: how much the effect depends on where the others stand, or on how far the input is
	of       int     // steps that were answered
}

const (
	screenLevels = 4  // places of each input, as is usual
	screenPaths  = 32 // walks through them
)

// screening returns [output][input] the elementary effects of inputs on f, in
// d+1 scenarios a path: from a random place of a grid of levels one input after
// the other, in random order, is moved by half of the levels, up or down. draw turns a
// point of the unit hypercube into inputs. A step that is refused at one of its
// ends is left out.
//
// Source: M. D. Morris, Technometrics 33 (1991) 161; F. Campolongo, J. Cariboni
// and A. Saltelli, Environmental Modelling & Software 22 (2007) 1509 (mu*).
func screening(f function, draw func(u, x []float64), d, outputs, paths int, seed uint64) [][]effects {
	const delta = float64(screenLevels) / (2 * (screenLevels - 1)) // of the range of levels
	random := rand.New(rand.NewPCG(seed, screenStream))
	found := make([][][]float64, outputs)
	for o := range found {
		found[o] = make([][]float64, d)
	}
	level, u, x := make([]float64, d), make([]float64, d), make([]float64, d)
	before, after := make([]float64, outputs), make([]float64, outputs)
	solve := func(y []float64) {
		for j := range u {
			// The levels stand in the middle of their parts: no input is drawn at an infinite end.
			u[j] = (float64(level[j]*(screenLevels-1)) + 0.5) / screenLevels
		}
		draw(u, x)
		_ = f(x, y) // an error leaves NaN
	}
	for range paths {
		for j := range level {
			level[j] = float64(random.IntN(screenLevels)) / (screenLevels - 1)
		}
		solve(before)
		for _, j := range random.Perm(d) {
			step := delta
			if level[j]+delta > 1+1e-9 {
				step = -delta
			}
			level[j] += step
			solve(after)
			for o := range found {
				if e := (after[o] - before[o]) / step; !math.IsNaN(e) {
					found[o][j] = append(found[o][j], e)
				}
			}
			before, after = after, before
		}
	}
	out := make([][]effects, outputs)
	for o := range out {
		out[o] = make([]effects, d)
		for j, list := range found[o] {
			out[o][j] = summarise(list)
		}
	}
	return out
}

// summarise returns the moments of elementary effects; sigma has the divisor n-1.
func summarise(list []float64) effects {
	e := effects{of: len(list)}
	mean, sd := meanAndSD(list)
	e.mean, e.sd = mean, sd*math.Sqrt(float64(len(list))/float64(len(list)-1))
	for _, v := range list {
		e.absolute += math.Abs(v) / float64(len(list))
	}
	return e
}
