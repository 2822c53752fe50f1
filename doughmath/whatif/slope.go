package whatif

import "math"

// A slope is how fast an output changes with an input.
type slope struct{ value, err float64 }

const (
	slopeSteps = 12   // halvings of the first step
	slopeReach = 1e-4 // the first step is at least this part of the input
)

// slopes returns for each of n outputs how fast it changes with input j at x,
// from steps of about the uncertainty u and smaller ones on both sides, carried
// on to none by Richardson's rule. The error is that of Ridders: how far the
// best entry of the table is from its neighbours. Where one side is refused, the
// other alone serves. It is NaN where too few steps are answered.
//
// Source: C. J. F. Ridders, Advances in Engineering Software 4 (1982) 75.
func slopes(f function, x []float64, j int, u float64, n int) []slope {
	at := append([]float64(nil), x...)
	here := make([]float64, n)
	_ = f(at, here) // an error leaves NaN
	first := max(u, slopeReach*math.Abs(x[j]))
	var up, down [slopeSteps][]float64
	var width [slopeSteps]float64
	for k := range slopeSteps {
		h := math.Ldexp(first, -k)
		up[k], down[k] = make([]float64, n), make([]float64, n)
		at[j] = x[j] + h
		above := at[j] // as the input has it, rounded
		_ = f(at, up[k])
		at[j] = x[j] - h
		width[k] = (above - at[j]) / 2
		_ = f(at, down[k])
	}
	out := make([]slope, n)
	for o := range out {
		var both, right, left []float64
		for k := range slopeSteps {
			both = appendReal(both, (up[k][o]-down[k][o])/(2*width[k]))
			right = appendReal(right, (up[k][o]-here[o])/width[k])
			left = appendReal(left, (here[o]-down[k][o])/width[k])
		}
		switch {
		case len(both) > 2:
			out[o] = extrapolate(both, 4)
		case len(right) > 2:
			out[o] = extrapolate(right, 2)
		case len(left) > 2:
			out[o] = extrapolate(left, 2)
		default:
			out[o] = slope{math.NaN(), math.NaN()}
		}
	}
	return out
}

// appendReal starts again after what is no number: a step too far.
func appendReal(list []float64, v float64) []float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return list[:0]
	}
	return append(list, v)
}

// extrapolate carries quotients of halved steps on to a step of none; ratio is by
// how much the leading error falls with each.
func extrapolate(quotients []float64, ratio float64) slope {
	best := slope{quotients[0], math.Inf(1)}
	before := []float64{quotients[0]}
	for i := 1; i < len(quotients); i++ {
		row := []float64{quotients[i]}
		factor := ratio
		for k := 1; k <= i; k++ {
			next := row[k-1] + float64((row[k-1]-before[k-1])/(factor-1))
			factor *= ratio
			row = append(row, next)
			if err := max(math.Abs(next-row[k-1]), math.Abs(next-before[k-1])); err <= best.err {
				best = slope{next, err}
			}
		}
		if math.Abs(row[i]-before[i-1]) >= 2*best.err {
			break // rounding has taken over
		}
		before = row
	}
	return best
}
