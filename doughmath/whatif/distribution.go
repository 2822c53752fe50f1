package whatif

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Distribution says how an input scatters, or how well it is known. Which of
// the fields a shape takes stands beside it; a mean that is left out is the value
// in the base.
//
//	{"shape": "normal", "mean": "21 °C", "sd": "0.5 C°"}
//	{"shape": "uniform", "half_width": "2 C°"}
type Distribution struct {
	Shape     Shape   `json:"shape"`
	Mean      string  `json:"mean,omitzero"`               // or the middle, of a symmetrical one
	SD        string  `json:"sd,omitzero"`                 // standard deviation; of a temperature a difference, "0.5 C°"
	HalfWidth string  `json:"half_width,omitzero"`         // from the mean to either limit, as a tolerance is stated
	Low       string  `json:"low,omitzero"`                // or the limits themselves
	Mode      string  `json:"mode,omitzero"`               // likeliest value of a triangular one
	High      string  `json:"high,omitzero"`               //
	Top       float64 `json:"top,omitzero" range:"0..1"`   // share of the width of a trapezoidal one on which it is level
	Within    string  `json:"within,omitzero"`             // how far either limit of a curvilinear-trapezoid may be off
	DoF       float64 `json:"dof,omitzero" range:"1..1e9"` // degrees of freedom of a student-t; of the others those of the standard uncertainty, which the first order uses
	Truncate  bool    `json:"truncate,omitzero"`           // true to cut it off where the range of the input ends
}

// A Shape is the shape of a distribution.
type Shape string

// The shapes, with the fields that they take.
const (
	Normal      Shape = "normal"                // mean, sd
	Lognormal   Shape = "lognormal"             // mean, sd: of the value itself, not of its logarithm
	StudentT    Shape = "student-t"             // mean, sd, dof: sd is the scale, the standard uncertainty of few readings
	Uniform     Shape = "uniform"               // limits, or half_width
	Triangular  Shape = "triangular"            // limits and mode, or half_width
	Trapezoidal Shape = "trapezoidal"           // limits or half_width, top
	Arcsine     Shape = "arcsine"               // limits or half_width: what swings between them, as under a thermostat
	Curvilinear Shape = "curvilinear-trapezoid" // limits or half_width, within: uniform between limits that are not sure
)

// outsideShare of a distribution may lie beyond the range of its input: one
// draw in a million, which is then refused and counted.
const outsideShare = 1e-6

// text is the first text of d, whose unit its column has.
func (d *Distribution) text() string {
	if d.Mean != "" {
		return d.Mean
	}
	return d.Low
}

// compile returns the distribution in the unit held, or nil and tells what is wrong.
func (d *Distribution) compile(p *parser, at string) *uncertain {
	if p.in.kind != Number {
		p.c.Fail(at, "a distribution", "values: only a quantity or a number scatters in between")
		return nil
	}
	takes := map[Shape]string{
		Normal: "mean sd dof", Lognormal: "mean sd dof", StudentT: "mean sd dof",
		Uniform: "mean half_width low high dof", Triangular: "mean half_width low mode high dof", Trapezoidal: "mean half_width low high top dof",
		Arcsine: "mean half_width low high dof", Curvilinear: "mean half_width low high within dof",
	}[d.Shape]
	if !reckon.CheckWord(p.c, at+".shape", d.Shape, Normal, Lognormal, StudentT, Uniform, Triangular, Trapezoidal, Arcsine, Curvilinear) {
		return nil
	}
	mark := p.c.Mark()
	for _, f := range []struct {
		name  string
		given bool
	}{
		{"mean", d.Mean != ""},
		{"sd", d.SD != ""},
		{"half_width", d.HalfWidth != ""},
		{"low", d.Low != ""},
		{"mode", d.Mode != ""},
		{"high", d.High != ""},
		{"top", d.Top != 0},
		{"within", d.Within != ""},
		{"dof", d.DoF != 0},
	} {
		if f.given && !slices.Contains(strings.Fields(takes), f.name) {
			p.c.Fail(at+"."+f.name, "given", "nothing: a distribution that is "+string(d.Shape)+" takes "+strings.Join(strings.Fields(takes), ", "))
		}
	}
	dof := math.Inf(1)
	if d.DoF != 0 || d.Shape == StudentT {
		reckon.CheckRange(p.c, at+".dof", d.DoF, 1, 1e9)
		dof = d.DoF
	}
	var out shape
	if strings.Contains(takes, "half_width") {
		out = d.between(p, at)
	} else {
		out = d.about(p, at)
	}
	if p.c.Mark() > mark {
		return nil
	}
	if out = d.inside(p, at, out); out == nil {
		return nil
	}
	return &uncertain{out, dof}
}

// about returns a distribution with a mean and a standard deviation.
func (d *Distribution) about(p *parser, at string) shape {
	mark := p.c.Mark()
	mean := d.middle(p, at)
	sd := p.positive(at+".sd", d.SD)
	switch {
	case p.c.Mark() > mark:
		return nil
	case d.Shape == Lognormal && !(mean > 0):
		p.c.Fail(at+".mean", d.Mean, "more than 0: a logarithm has no other")
		return nil
	case d.Shape == Lognormal:
		return lognormalOf(mean, sd)
	case d.Shape == StudentT:
		return student{mean, sd, d.DoF}
	}
	return normal{mean, sd}
}

// middle is the mean, or the value in the base if there is none.
func (d *Distribution) middle(p *parser, at string) float64 {
	if d.Mean == "" {
		if n, ok := reckon.NumberAt(p.in.base); ok && !math.IsNaN(n.Value()) {
			return n.Value()
		}
	}
	v := p.number(at+".mean", d.Mean, p.in.zero)
	return v
}

// between returns a distribution between two limits.
func (d *Distribution) between(p *parser, at string) shape {
	mark := p.c.Mark()
	var low, high, mode float64
	switch {
	case d.HalfWidth != "" && (d.Low != "" || d.High != "" || d.Mode != ""):
		p.c.Fail(at+".half_width", d.HalfWidth, "nothing beside limits")
	case d.HalfWidth != "":
		half := p.positive(at+".half_width", d.HalfWidth)
		mode = d.middle(p, at)
		low, high = mode-half, mode+half
	case d.Mean != "" || d.Low == "" && d.High == "":
		p.c.Fail(at+".half_width", "missing", "how far the limits are from the mean; or low and high in place of both")
	default:
		low, high = p.number(at+".low", d.Low, p.in.zero), p.number(at+".high", d.High, p.in.zero)
		if d.Shape == Triangular {
			mode = p.number(at+".mode", d.Mode, p.in.zero)
		}
	}
	if p.c.Mark() > mark {
		return nil
	}
	switch {
	case low < high:
	case d.HalfWidth != "":
		p.c.Fail(at+".half_width", d.HalfWidth, "so much that the limits differ from the mean")
		return nil
	default:
		p.c.Fail(at+".high", d.High, "more than low, "+d.Low)
		return nil
	}
	switch d.Shape {
	case Arcsine:
		return arcsine{low, high}
	case Trapezoidal:
		reckon.CheckRange(p.c, at+".top", d.Top, 0, 1)
		return trapezoidal{low, high, d.Top}
	case Curvilinear:
		within := p.positive(at+".within", d.Within)
		if p.c.Mark() == mark && !(within < (high-low)/2) {
			p.c.Fail(at+".within", d.Within, "less than half of the width")
		}
		return curvilinear{low, high, within}
	case Triangular:
		if !(low <= mode && mode <= high) {
			p.c.Fail(at+".mode", d.Mode, "from low to high")
		}
		return triangular{low, mode, high}
	}
	return trapezoidal{low, high, 1}
}

// inside holds a distribution to the range that its input has.
func (d *Distribution) inside(p *parser, at string, out shape) shape {
	for _, share := range []float64{1e-12, 0.5, 1 - 1e-12} {
		if x := out.quantile(share); math.IsNaN(x) || math.IsInf(x, 0) {
			p.c.Fail(at, "too wide", "a distribution whose values can be counted")
			return nil
		}
	}
	low, high, says := p.legal()
	below, above := out.below(low), 1-out.below(high)
	if math.IsInf(low, -1) {
		below = 0
	}
	if math.IsInf(high, 1) {
		above = 0
	}
	if d.Truncate {
		if says == "" {
			p.c.Fail(at+".truncate", "true", "false: the input has no range of its own")
			return nil
		}
		if cut, ok := newTruncated(out, low, high); ok {
			return cut
		}
		p.c.Fail(at, percent(below+above)+" of it is out of the range", "at most 99 % beyond what is cut off: the input is "+says)
		return nil
	}
	if below+above > outsideShare {
		p.c.Fail(at, percent(below+above)+" of it is out of the range", says+"; or truncate, to cut it off there")
		return nil
	}
	return out
}

func percent(share float64) string { return strconv.FormatFloat(100*share, 'g', 3, 64) + " %" }

// legal returns the range that the tag of the input names, in the unit held and
// in words. An end that is not in it is moved inwards by hardly anything.
func (p *parser) legal() (low, high float64, says string) {
	r, ok := reckon.ParseRange(p.in.tag.Get("range"))
	if !ok {
		return math.Inf(-1), math.Inf(1), ""
	}
	low, high = p.bound(r.Low, math.Inf(-1)), p.bound(r.High, math.Inf(1))
	hardly := 1e-12 * (high - low)
	if math.IsInf(hardly, 0) {
		hardly = 1e-12 * max(1, math.Abs(low))
	}
	if r.LowOpen {
		low += hardly
	}
	if r.HighOpen {
		high -= hardly
	}
	return low, high, r.String()
}

// positive reads a width, which of a temperature is a difference.
func (p *parser) positive(field, text string) float64 {
	mark := p.c.Mark()
	v := p.number(field, text, p.in.difference())
	if p.c.Mark() == mark && !(v > 0) {
		p.c.Fail(field, text, "more than 0")
	}
	return v
}

// difference is the quantity that two values of the input differ by.
func (in *input) difference() unit.Quantity {
	if in.zero != nil && reflect.TypeOf(in.zero) == tempType {
		return unit.TempDelta(0)
	}
	return in.zero
}
