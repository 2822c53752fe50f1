package whatif

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/mat"

	"example.com/dough/doughmath/reckon"
)

// rounding is how far a correlation matrix may be off what one must be: as far as
// sums of a few hundred products are.
const rounding = 1e-12

// checkCorrelation wants a correlation matrix of n inputs, or none.
func checkCorrelation(c *reckon.Checks, field string, r [][]float64, n int) bool {
	if len(r) == 0 {
		return true
	}
	mark := c.Mark()
	at := func(i, j int) string { return field + "[" + strconv.Itoa(i) + "][" + strconv.Itoa(j) + "]" }
	text := func(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }
	if len(r) != n {
		c.Fail(field, strconv.Itoa(len(r))+" rows", strconv.Itoa(n)+", one for each input that is uncertain")
		return false
	}
	for i, row := range r {
		if len(row) != n {
			c.Fail(field+"["+strconv.Itoa(i)+"]", strconv.Itoa(len(row))+" numbers", strconv.Itoa(n)+", one for each input that is uncertain")
		}
	}
	if c.Mark() > mark {
		return false
	}
	for i, row := range r {
		for j, x := range row {
			switch {
			case i == j && x != 1:
				c.Fail(at(i, j), text(x), "1: every input is correlated with itself")
			case !(x >= -1 && x <= 1):
				c.Fail(at(i, j), text(x), "-1 to 1")
			case x != r[j][i] && i > j:
				c.Fail(at(i, j), text(x), text(r[j][i])+", as "+at(j, i)+" has it")
			}
		}
	}
	if c.Mark() > mark {
		return false
	}
	if least := leastEigenvalue(r); !(least >= -rounding*float64(n)) {
		c.Fail(field, "a matrix with the eigenvalue "+text(least),
			"correlations that can hold together, with no eigenvalue below 0: bring some nearer to 0")
		return false
	}
	return true
}

func leastEigenvalue(r [][]float64) float64 {
	m := mat.NewSymDense(len(r), nil)
	for i, row := range r {
		for j := i; j < len(row); j++ {
			m.SetSym(i, j, row[j])
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(m, false) {
		return math.NaN()
	}
	return eigen.Values(nil)[0]
}

// cholesky returns the lower triangle l with l*lᵀ = r for a correlation matrix
// that passed its check, also one of less than full rank. It is written out here
// so that its sums are taken in the same order on every machine.
func cholesky(r [][]float64) [][]float64 {
	l := make([][]float64, len(r))
	for i := range r {
		l[i] = make([]float64, i+1)
		for j := range i + 1 {
			sum := r[i][j]
			for k := range j {
				sum -= float64(l[i][k] * l[j][k])
			}
			switch {
			case i == j:
				l[i][i] = math.Sqrt(max(sum, 0))
			case l[j][j] > math.Sqrt(rounding*float64(len(r))):
				l[i][j] = sum / l[j][j]
			}
		}
	}
	return l
}

// A population is the inputs that vary, each with its distribution.
type population struct {
	shapes []shape
	lower  [][]float64 // Cholesky factor of the correlations of their normal scores; nil if there are none
}

func newPopulation(shapes []shape, correlation [][]float64) *population {
	p := &population{}
	for _, d := range shapes {
		p.shapes = append(p.shapes, tabulate(d))
	}
	if len(correlation) > 0 {
		p.lower = cholesky(correlation)
	}
	return p
}

// draw turns a point of the unit hypercube into values of the inputs. Inputs
// that are correlated are so in their normal scores (a Gaussian copula): between
// normal inputs that is the correlation of the values.
//
// Source: JCGM 101:2008, 6.4.8 (joint normal); R. B. Nelsen, An Introduction to
// Copulas, 2nd ed. 2006, 2.3 (other shapes).
func (p *population) draw(u, x []float64) {
	if p.lower == nil {
		for j, d := range p.shapes {
			x[j] = d.quantile(u[j])
		}
		return
	}
	score := normal{0, 1}
	for j := range u {
		x[j] = score.quantile(u[j])
	}
	for j := len(x) - 1; j >= 0; j-- { // from the last, so that the scores before it are still there
		z := 0.0
		for k, l := range p.lower[j] {
			z += float64(l * x[k])
		}
		x[j] = z
	}
	for j, d := range p.shapes {
		if n, ok := d.(normal); ok {
			x[j] = n.m + float64(n.s*x[j])
		} else {
			x[j] = d.quantile(min(max(normalBelow(x[j]), math.SmallestNonzeroFloat64), 1-0x1p-53))
		}
	}
}
