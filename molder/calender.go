package molder

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/dough/doughmath/reckon"
)

// CalenderBound asks for the least that dough can spring back behind equal
// rollers, which is what a purely viscous power-law dough does:
//
//	R = 1 + lambda^2
//	integral from -r_f to lambda of sgn(r^2 - lambda^2) |r^2 - lambda^2|^n / (1 + r^2)^(2n+1) dr = 0
//	r_f = sqrt(H - 1)
//
// It is lubrication theory: rollers much larger than the gap, no slip, no
// elasticity. Bread dough is elastic and springs back much further, about 1.5
// to 2.75 of the gap: measure it with [RecoveryFromSheet]. The bound only says
// which measurements cannot be right.
//
// Source: calendering of power-law fluids; Newtonian limit 1.226 published
// (liquid-film spread heights in the calendering of Newtonian and power law
// fluids), the table by quadrature; cases in testdata/cases/molder/calender-bound.json.
//
// It has no inverse.
type CalenderBound struct {
	Feed  float64 `json:"feed,omitzero" sym:"H" range:"1.01..1000"` // thickness in front of the rollers over gap; leave out for an unlimited feed
	Index float64 `json:"index" sym:"n" range:"0.1..1.5"`           // power-law index of the dough; 1 for a Newtonian liquid, 0.25 to 0.5 reported for biscuit dough
}

// CalenderBoundResult is what purely viscous dough would do.
type CalenderBoundResult struct {
	Recovery   float64    `json:"recovery" sym:"R"` // sheet thickness over gap by viscous flow alone
	Conditions Conditions `json:"conditions"`       // uncalibrated
}

func (CalenderBound) ID() string { return "calender-bound" }

func (q CalenderBound) Check(c *reckon.Checks) {
	if q.Feed != 0 {
		reckon.CheckRange(c, "feed", q.Feed, 1.01, 1000)
	}
	reckon.CheckRange(c, "index", q.Index, 0.1, 1.5)
}

// Solve has no answer if the feed is too close to the gap to be squeezed.
func (q CalenderBound) Solve() (out CalenderBoundResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	lambda, ok := q.exit()
	if !ok {
		return out, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "exit point", Wanted: "flow through the rollers",
			Advice: "the feed is too close to the gap to be squeezed",
		}
	}
	return CalenderBoundResult{Recovery: 1 + float64(lambda*lambda), Conditions: reckon.Uncalibrated}, nil
}

// exit returns lambda, the point at which the sheet leaves the rollers.
func (q CalenderBound) exit() (lambda float64, ok bool) {
	entry := math.Pi / 2
	if q.Feed != 0 {
		entry = math.Atan(math.Sqrt(q.Feed - 1))
	}
	// With r = tan(phi) the integral is, but for a constant,
	// that of sgn |sin(phi-l) sin(phi+l)|^n cos(phi)^2n, finite for any feed.
	nodes := newQuadrature()
	exit, ok := reckon.Bisect(0, entry, func(l float64) float64 {
		f := func(phi float64) float64 {
			return math.Pow(math.Abs(math.Sin(phi-l)*math.Sin(phi+l)), q.Index) * math.Pow(math.Abs(math.Cos(phi)), 2*q.Index)
		}
		return nodes.integrate(f, -entry, -l) - nodes.integrate(f, -l, l)
	})
	return math.Tan(exit), ok
}

func (q CalenderBound) Show(w *reckon.Working, out CalenderBoundResult) {
	w.Inputs(q)
	lambda, _ := q.exit()
	w.Given("exit point", "lambda", lambda, "", "root of the integral, by Gauss-Legendre quadrature and bisection")
	w.Lines(out, "recovery: R = 1 + lambda*lambda  [lubrication theory]")
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
