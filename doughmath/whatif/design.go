package whatif

import "example.com/dough/doughmath/reckon"

// design says which values each scenario has.
type design interface {
	// point sets x to the inputs of scenario i, in the unit held, and shown to
	// the same in the units of the columns where they are known. u is room for
	// as many numbers.
	point(i int, x, shown, u []float64)
}

// drawn reports whether scenarios are drawn.
func (s *Study) drawn() bool { return s.Combine != "" && s.Combine != Grid && s.Combine != SideBySide }

// design returns the design of the study.
func (s *Study) design(c *reckon.Checks, factors []factor) design {
	switch s.Combine {
	case "", Grid:
		return grid(factors)
	case SideBySide:
		return beside(factors)
	}
	return &draws{factors, newSampler(c, s.Combine, len(factors), s.Samples, uint64(s.Seed))}
}

// grid is each value with each, the last factor varying fastest.
type grid []factor

func (g grid) point(i int, x, shown, _ []float64) {
	for k := len(g) - 1; k >= 0; k-- {
		n := len(g[k].values)
		x[k], shown[k] = g[k].values[i%n], g[k].shown[i%n]
		i /= n
	}
}

// beside is the first value of each, then the second of each.
type beside []factor

func (b beside) point(i int, x, shown, _ []float64) {
	for k := range b {
		x[k], shown[k] = b[k].values[i], b[k].shown[i]
	}
}

// draws is each factor drawn from its distribution, its range or its list.
type draws struct {
	factors []factor
	from    sampler
}

func (d *draws) point(i int, x, shown, u []float64) {
	d.from.Point(i, u)
	for k := range d.factors {
		f := &d.factors[k]
		if f.inverse != nil {
			x[k] = f.inverse(u[k])
			shown[k] = f.fromHeld(x[k])
			continue
		}
		n := min(int(u[k]*float64(len(f.values))), len(f.values)-1)
		x[k], shown[k] = f.values[n], f.shown[n]
	}
}
