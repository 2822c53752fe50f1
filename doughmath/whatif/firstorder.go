package whatif

import (
	"math"
)

// uncertain is an input that is not known for certain.
type uncertain struct {
	shape
	dof float64 // of its standard uncertainty; infinite if that is known for certain
}

// u is the standard uncertainty. For Student's t that is its scale, as stated.
func (in uncertain) u() float64 {
	if t, ok := in.shape.(student); ok {
		return t.s
	}
	return in.sd()
}

// freedom is the degrees of freedom of u.
func (in uncertain) freedom() float64 {
	if t, ok := in.shape.(student); ok {
		return t.dof
	}
	return in.dof
}

// A propagation is the uncertainty of one output by the law of propagation, to first order.
type propagation struct {
	estimate float64
	u        float64   // combined standard uncertainty
	slopes   []slope   // sensitivity coefficients
	parts    []float64 // |slope| * u of each input
	shares   []float64 // of the variance; they add up to 1, and correlations can make one negative
	dof      float64   // effective degrees of freedom; NaN if correlated inputs have finite ones
	factor   float64   // coverage factor
	expanded float64
}

// propagate takes the estimates and uncertainties of the inputs through f:
//
//	u_c² = sum over i and j of c_i c_j u_i u_j r_ij
//
// It returns the covariance matrix of the outputs beside each of them.
//
// Source: JCGM 100:2008 (GUM), 5.1.2, 5.2.2, G.4.1; JCGM 102:2011, 6.2.
func propagate(f function, in []uncertain, correlation [][]float64, outputs int, probability float64) ([]propagation, [][]float64, error) {
	x := make([]float64, len(in))
	for j := range in {
		x[j] = in[j].mean()
	}
	estimate := make([]float64, outputs)
	if err := f(x, estimate); err != nil {
		return nil, nil, err
	}
	out := make([]propagation, outputs)
	for o := range out {
		out[o].estimate = estimate[o]
	}
	for j := range in {
		for o, s := range slopes(f, x, j, in[j].u(), outputs) {
			out[o].slopes = append(out[o].slopes, s)
			out[o].parts = append(out[o].parts, math.Abs(s.value)*in[j].u())
		}
	}
	joint := make([][]float64, outputs)
	for a := range out {
		joint[a] = make([]float64, outputs)
		for b := range out {
			joint[a][b] = covariance(in, correlation, out[a].slopes, out[b].slopes)
		}
	}
	for o := range out {
		out[o].finish(in, correlation, joint[o][o], probability)
	}
	return out, joint, nil
}

func correlated(r [][]float64, i, j int) float64 {
	switch {
	case i == j:
		return 1
	case len(r) == 0:
		return 0
	}
	return r[i][j]
}

func covariance(in []uncertain, r [][]float64, a, b []slope) (sum float64) {
	for i := range in {
		for j := range in {
			sum += float64(a[i].value * in[i].u() * b[j].value * in[j].u() * correlated(r, i, j))
		}
	}
	return sum
}

// finish works out shares, degrees of freedom and the expanded uncertainty. The
// degrees of freedom are cut to a whole number for the coverage factor.
func (p *propagation) finish(in []uncertain, r [][]float64, variance, probability float64) {
	p.u = math.Sqrt(max(variance, 0))
	p.dof = math.Inf(1)
	spent := 0.0 // of the degrees of freedom, as Welch and Satterthwaite sum them
	for i := range in {
		share := 0.0
		for j := range in {
			share += float64(p.slopes[i].value * in[i].u() * p.slopes[j].value * in[j].u() * correlated(r, i, j))
		}
		p.shares = append(p.shares, 0)
		if variance > 0 {
			p.shares[i] = share / variance
		}
		if dof := in[i].freedom(); !math.IsInf(dof, 1) && p.parts[i] > 0 {
			spent += math.Pow(p.parts[i]/p.u, 4) / dof
			for j := range in {
				if i != j && correlated(r, i, j) != 0 {
					spent = math.NaN() // the formula is for inputs that are independent
				}
			}
		}
	}
	if spent != 0 {
		p.dof = 1 / spent
	}
	// Whole degrees of freedom, which 16.999999999 stands for 17 of.
	whole := math.Floor(p.dof + 1e-9)
	switch {
	case math.IsNaN(p.dof):
		p.factor = studentQuantile((1+probability)/2, math.Inf(1))
	case whole < 1:
		p.factor = studentQuantile((1+probability)/2, p.dof)
	default:
		p.factor = studentQuantile((1+probability)/2, whole)
	}
	p.expanded = p.factor * p.u
}
