package whatif

import (
	"math"

	"example.com/dough/doughmath/reckon"
)

// An influence is the part of an output's variance that goes back to an input:
// alone, and with everything that the input does together with others.
type influence struct{ first, total Estimate }

const (
	indexReplicates = 16
	indexPoints     = 1 << 10
)

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
// An output that does not vary has no indices: they are NaN.
//
// Source: A. Saltelli and others, Computer Physics Communications 181 (2010)
// 259 (first order); M. J. W. Jansen, Computer Physics Communications 117 (1999) 35 (total).
func influences(c *reckon.Checks, f function, p *population, outputs, points, replicates int, seed uint64) ([][]influence, Share) {
	d := len(p.shapes)
	scheme := Sobol
	if 2*d > maxSpaceful {
		scheme = LatinHypercube
	}
	first := make([][][]float64, outputs) // [output][input][replicate]
	total := make([][][]float64, outputs)
	for o := range outputs {
		first[o], total[o] = make([][]float64, d), make([][]float64, d)
	}
	refused := 0
	for r := range replicates {
		s := newSampler(c, scheme, 2*d, points, mix(seed)^mix(uint64(r)))
		if s == nil {
			return nil, Share{}
		}
		block := newIndexBlock(p, outputs)
		for i := range points {
			if !block.take(f, s, i) {
				refused++
			}
		}
		for o := range outputs {
			for j := range d {
				a, b := block.index(o, j)
				first[o][j], total[o][j] = append(first[o][j], a), append(total[o][j], b)
			}
		}
	}
	out := make([][]influence, outputs)
	for o := range out {
		out[o] = make([]influence, d)
		for j := range out[o] {
			out[o][j] = influence{over(first[o][j]), over(total[o][j])}
		}
	}
	return out, newShare(refused, replicates*points)
}

// indexBlock holds what one replicate's points gave: rows of f(A), f(B), f(AB_1) ... for each output.
type indexBlock struct {
	p       *population
	outputs int
	width   int // rows of a point
	y       []float64
	u       []float64
	a, b, x []float64
}

func newIndexBlock(p *population, outputs int) *indexBlock {
	d := len(p.shapes)
	return &indexBlock{
		p: p, outputs: outputs, width: d + 2,
		u: make([]float64, 2*d), a: make([]float64, d), b: make([]float64, d), x: make([]float64, d),
	}
}

// take evaluates a point, and forgets it if something of it is refused or left out.
func (k *indexBlock) take(f function, s sampler, i int) bool {
	d := len(k.a)
	s.Point(i, k.u)
	k.p.draw(k.u[:d], k.a)
	k.p.draw(k.u[d:], k.b)
	start := len(k.y)
	for row := range k.width {
		switch row {
		case 0:
			copy(k.x, k.a)
		case 1:
			copy(k.x, k.b)
		default:
			copy(k.x, k.a)
			k.x[row-2] = k.b[row-2]
		}
		at := len(k.y)
		for range k.outputs {
			k.y = append(k.y, math.NaN())
		}
		_ = f(k.x, k.y[at:]) // an error leaves NaN
	}
	for _, v := range k.y[start:] {
		if math.IsNaN(v) {
			k.y = k.y[:start]
			return false
		}
	}
	return true
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
		first += b * (ab - a) / n
		total += (a - ab) * (a - ab) / (2 * n)
	}
	if math.Sqrt(variance) <= rounding*math.Abs(mean) {
		return math.NaN(), math.NaN() // what varies is rounding
	}
	return first / variance, total / variance
}
