package whatif

import (
	"math"

	"gonum.org/v1/gonum/optimize"
)

// A standing is how a setting does: first how far it misses what must be so,
// then its score. Less is better of both.
type standing struct{ missed, score float64 }

var nowhere = standing{math.Inf(1), math.Inf(1)} // refused

func (a standing) better(b standing) bool {
	return a.missed < b.missed || a.missed == b.missed && a.score < b.score
}

// refiner looks about a setting for a better one within bounds.
type refiner struct {
	judge     func(x []float64) standing
	low, high []float64 // of each input; equal for one that stays as it is
	best      []float64
	standing
	solved int
}

// refineBudget bounds the scenarios of one descent.
const refineBudget = 2000

// from goes downhill from x, which must lie within the bounds, by Nelder and
// Mead's simplex: first to where all is kept, if it is not, then to the best
// score. What it finds is never worse than x.
//
// Source: gonum optimize.NelderMead (J. A. Nelder and R. Mead, Computer Journal 7 (1965) 308).
func (r *refiner) from(x []float64) {
	r.best = append([]float64(nil), x...)
	r.standing = r.judge(x)
	r.solved++
	var free []int
	for j := range x {
		if r.low[j] < r.high[j] {
			free = append(free, j)
		}
	}
	if len(free) == 0 || math.IsInf(r.missed, 1) {
		return
	}
	if r.missed > 0 {
		r.descend(free, func(s standing) float64 { return s.missed })
	}
	// Twice: a simplex that has gone flat against a bound starts afresh.
	for range 2 {
		r.descend(free, func(s standing) float64 {
			if s.missed > r.missed {
				return math.Inf(1)
			}
			return s.score
		})
	}
}

func (r *refiner) descend(free []int, value func(standing) float64) {
	at := append([]float64(nil), r.best...)
	// Each coordinate counts from the nearer bound, 0, to the farther, 1: the first
	// simplex steps upwards, and so inwards.
	start, near, far := make([]float64, len(free)), make([]float64, len(free)), make([]float64, len(free))
	for k, j := range free {
		near[k], far[k] = r.low[j], r.high[j]
		if at[j]-near[k] > far[k]-at[j] {
			near[k], far[k] = far[k], near[k]
		}
		start[k] = (at[j] - near[k]) / (far[k] - near[k])
	}
	problem := optimize.Problem{Func: func(z []float64) float64 {
		for k, j := range free {
			// Beyond a bound counts as at the bound, so that the simplex can lie against it.
			inside := near[k] + float64(min(max(z[k], 0), 1)*(far[k]-near[k]))
			at[j] = min(max(inside, r.low[j]), r.high[j]) // not a rounding's width beyond
		}
		s := r.judge(at)
		r.solved++
		v := value(s) // before the best is moved, which value may look at
		if s.better(r.standing) {
			r.standing = s
			copy(r.best, at)
		}
		return v
	}}
	settings := &optimize.Settings{
		FuncEvaluations: refineBudget,
		Converger:       &optimize.FunctionConverge{Relative: 1e-12, Iterations: 60},
	}
	// However it ends, the best that was seen is kept.
	_, _ = optimize.Minimize(problem, start, settings, &optimize.NelderMead{SimplexSize: 0.1})
}
