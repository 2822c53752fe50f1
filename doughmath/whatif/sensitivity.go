package whatif

import (
	"math"
	"slices"

	"example.com/dough/doughmath/reckon"
)

// An influence is the part of an output's variance that goes back to an input:
// alone, and with everything that the input does together with others.
type influence struct{ first, total Estimate }

const (
	indexReplicates = 16
	indexPoints     = 1 << 10
)

// pairs is the plan of scenarios for the indices: for every point of A and B
// one at A, one at B, and one at A with each input of B in turn.
type pairs struct {
	p     *population
	a     sampler
	b     []sampler // one for each input
	show  func(x, shown []float64)
	width int // scenarios of a point
}

// newPairs takes A and B from the coordinates of one sampler.
func newPairs(c *reckon.Checks, p *population, points int, seed uint64, show func(x, shown []float64)) *pairs {
	d := len(p.shapes)
	out := &pairs{p: p, show: show, width: d + 2}
	if 2*d <= maxSpaceful {
		all := newSobolPoints(2*d, seed)
		part := func(from, to int) sampler { return &sobolPoints{axes: all.axes[from:to], half: all.half} }
		out.a = part(0, d)
		for j := range d {
			out.b = append(out.b, part(d+j, d+j+1))
		}
		return out
	}
	if newSampler(c, LatinHypercube, 2*d, points, seed) == nil {
		return nil
	}
	all := newLatinPoints(2*d, points, seed)
	part := func(from, to int) sampler { return &latinPoints{n: all.n, within: all.within, axes: all.axes[from:to]} }
	out.a = part(0, d)
	for j := range d {
		out.b = append(out.b, part(d+j, d+j+1))
	}
	return out
}

func (p *pairs) point(i int, x, shown, u []float64) {
	at, row := i/p.width, i%p.width
	p.a.Point(at, u)
	for j := range p.b {
		if row == 1 || row == j+2 {
			p.b[j].Point(at, u[j:j+1])
		}
	}
	p.p.draw(u, x)
	p.show(x, shown)
}

// influences returns [output][input] the first-order and the total index of each
// input, for inputs that are independent:
//
//	S_i = mean(f(B)*(f(AB_i) - f(A))) / V
//	T_i = mean((f(A) - f(AB_i))²) / (2*V)
//
// A and B are two points of the inputs from one Sobol point of twice as many
// coordinates, and AB_i is A with input i of B. Each replicate has a
// scrambling of its own, so that their scatter gives the error. Points
// of which something is refused are left out; the second result counts them.
// An output that does not vary has no indices: they are NaN. solve visits the
// outputs of the first n scenarios of a plan in order, NaN where there is none.
//
// Source: A. Saltelli and others, Computer Physics Communications 181 (2010)
// 259 (first order); M. J. W. Jansen, Computer Physics Communications 117 (1999) 35 (total).
func influences(newPlan func(seed uint64) *pairs, solve func(plan design, n int, visit func(y []float64)) error, outputs, points, replicates int, seed uint64) ([][]influence, Share, error) {
	var first, total [][][]float64 // [output][input][replicate]
	refused := 0
	for r := range replicates {
		plan := newPlan(nth(seed, r))
		d := len(plan.b)
		if r == 0 {
			for range outputs {
				first, total = append(first, make([][]float64, d)), append(total, make([][]float64, d))
			}
		}
		block := indexBlock{outputs: outputs, width: plan.width}
		if err := solve(plan, points*plan.width, block.take); err != nil {
			return nil, Share{}, err
		}
		refused += block.refused
		for o := range outputs {
			for j := range d {
				a, b := block.index(o, j)
				first[o][j], total[o][j] = append(first[o][j], a), append(total[o][j], b)
			}
		}
	}
	out := make([][]influence, outputs)
	for o := range out {
		for j := range first[o] {
			out[o] = append(out[o], influence{over(first[o][j]), over(total[o][j])})
		}
	}
	return out, newShare(refused, replicates*points), nil
}

// indexBlock holds what one replicate's points gave: rows of f(A), f(B), f(AB_1) ... for each output.
type indexBlock struct {
	outputs int
	width   int // rows of a point
	y       []float64
	refused int // points
	rows    int
}

// take adds a row, and forgets a point when it is complete if something of it is missing.
func (k *indexBlock) take(y []float64) {
	k.y = append(k.y, y...)
	if k.rows++; k.rows%k.width != 0 {
		return
	}
	if start := len(k.y) - k.width*k.outputs; slices.ContainsFunc(k.y[start:], math.IsNaN) {
		k.y = k.y[:start]
		k.refused++
	}
}

// index works out both indices of output o and input j. The outputs are taken
// from their mean, which changes nothing in the limit and much at its beginning.
func (k *indexBlock) index(o, j int) (first, total float64) {
	stride := k.width * k.outputs
	n := float64(len(k.y) / stride)
	mean, variance := 0.0, 0.0
	for at := o; at < len(k.y); at += stride {
		mean += (k.y[at] + k.y[at+k.outputs]) / (2 * n)
	}
	for at := o; at < len(k.y); at += stride {
		a, b, ab := k.y[at]-mean, k.y[at+k.outputs]-mean, k.y[at+(2+j)*k.outputs]-mean
		variance += (float64(a*a) + float64(b*b)) / (2 * n)
		first += float64(b * (ab - a) / n)
		total += float64((a - ab) * (a - ab) / (2 * n))
	}
	if math.Sqrt(variance) <= rounding*math.Abs(mean) {
		return math.NaN(), math.NaN() // what varies is rounding
	}
	return first / variance, total / variance
}
