package molder

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/dough/doughmath/reckon"
)

// CalenderBound returns the recovery of a purely viscous power-law dough
// between equal rollers, the lower end of what to expect:
//
//	recovery = 1 + lambda^2
//	integral from -r_f to lambda of sgn(r^2 - lambda^2) |r^2 - lambda^2|^n / (1 + r^2)^(2n+1) dr = 0
//	r_f = sqrt(feed - 1)
//
// It is lubrication theory: rollers much larger than the gap, no slip, no
// elasticity. Bread dough is elastic and springs back much further, about 1.5
// to 2.75 of the gap: measure it with [RecoveryFromSheet]. The bound only says
// which measurements cannot be right.
//
// It returns an *[reckon.InputError] if:
//   - feed is given and outside 1.01 to 1000,
//   - index is outside 0.1 to 1.5.
//
// Source: calendering of power-law fluids; Newtonian limit 1.226 published
// (liquid-film spread heights in the calendering of Newtonian and power law
// fluids), the table by quadrature; cases in testdata/cases/molder/calender-bound.json.
//
// It has no inverse: the dough is not set by its sheet.
type CalenderBound struct {
	Feed  float64 `json:"feed,omitzero"` // thickness in front of the rollers over gap, 1.01 to 1000; leave out for dough without end
	Index float64 `json:"index"`         // power-law index n of the dough, 0.1 to 1.5; 1 for a Newtonian liquid, 0.25 to 0.5 reported for biscuit dough
}

func (CalenderBound) ID() string { return "calender-bound" }

// SHELL
func (q CalenderBound) Check(c *reckon.Checks) {
	_, err := explainCalenderBound(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q CalenderBound) Solve() (CalenderBoundResult, error) { return explainCalenderBound(q, nil) }

func (q CalenderBound) Show(w *reckon.Working, _ CalenderBoundResult) {
	_, _ = explainCalenderBound(q, w)
}

// CalenderBoundResult is what purely viscous dough would do.
type CalenderBoundResult struct {
	Recovery   float64    `json:"recovery"`   // sheet thickness over gap by viscous flow alone
	Conditions Conditions `json:"conditions"` // uncalibrated
}

func explainCalenderBound(in CalenderBound, w *reckon.Working) (out CalenderBoundResult, err error) {
	c := reckon.Checks{Func: "calender-bound"}
	entry := math.Pi / 2
	if in.Feed != 0 {
		reckon.CheckRange(&c, "feed", in.Feed, 1.01, 1000)
		entry = math.Atan(math.Sqrt(in.Feed - 1))
	}
	reckon.CheckRange(&c, "index", in.Index, 0.1, 1.5)
	if err := c.Err(); err != nil {
		return CalenderBoundResult{}, err
	}
	// With r = tan(phi) the integral is, but for a constant,
	// that of sgn |sin(phi-l) sin(phi+l)|^n cos(phi)^2n, finite for any feed.
	nodes := newQuadrature()
	exit, ok := reckon.Bisect(0, entry, func(l float64) float64 {
		f := func(phi float64) float64 {
			return math.Pow(math.Abs(math.Sin(phi-l)*math.Sin(phi+l)), in.Index) * math.Pow(math.Abs(math.Cos(phi)), 2*in.Index)
		}
		return nodes.integrate(f, -entry, -l) - nodes.integrate(f, -l, l)
	})
	if !ok {
		return CalenderBoundResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "exit point", Wanted: "flow through the rollers",
			Advice: "the feed is too close to the gap to be squeezed",
		}
	}
	lambda := math.Tan(exit)
	out = CalenderBoundResult{Recovery: 1 + float64(lambda*lambda), Conditions: reckon.Uncalibrated}
	if w != nil {
		w.Given("power-law index", "n", in.Index, "", "")
		if in.Feed != 0 {
			w.Given("feed over gap", "H", in.Feed, "", "")
		}
		w.Given("exit point", "lambda", lambda, "", "root of the integral, by Gauss-Legendre quadrature and bisection")
		w.Step("recovery", "R", "1 + lambda*lambda", out.Recovery, "", "lubrication theory")
	}
	return out, nil
}

// A quadrature holds Gauss-Legendre nodes for integrands that behave like a
// power of the distance at both ends: u^3(10 - 15u + 6u^2) draws the nodes to
// the ends, so that even a power of 0.1 becomes smooth.
type quadrature struct{ at, weight [quadratureNodes]float64 }

const quadratureNodes = 60

func newQuadrature() *quadrature {
	q := new(quadrature)
	quad.Legendre{}.FixedLocations(q.at[:], q.weight[:], 0, 1)
	for i, u := range q.at {
		q.weight[i] *= 30 * u * u * (1 - u) * (1 - u)
		q.at[i] = u * u * u * (10 - float64(15*u) + float64(6*u*u))
	}
	return q
}

func (q *quadrature) integrate(f func(float64) float64, low, high float64) float64 {
	sum := 0.0
	for i, u := range q.at {
		sum += float64(q.weight[i] * f(low+float64((high-low)*u)))
	}
	return float64(sum * (high - low))
}
