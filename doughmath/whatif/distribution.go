package whatif

import (
	"math"
	"reflect"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Distribution says how an input scatters.
type Distribution struct {
	Shape Shape  `json:"shape"`         // "normal", "uniform" or "triangular"
	Mean  string `json:"mean,omitzero"` // of a normal one
	SD    string `json:"sd,omitzero"`   // its standard deviation; of a temperature a difference, "0.5 C°"
	Low   string `json:"low,omitzero"`  // least value of the others
	Mode  string `json:"mode,omitzero"` // likeliest value of a triangular one
	High  string `json:"high,omitzero"` // greatest value
}

// A Shape is the shape of a distribution.
type Shape string

// The shapes.
const (
	Normal     Shape = "normal"
	Uniform    Shape = "uniform"
	Triangular Shape = "triangular"
)

// text is the first text of d, whose unit its column has.
func (d *Distribution) text() string {
	if d.Mean != "" {
		return d.Mean
	}
	return d.Low
}

// compile returns the value below which the input falls with probability p, 0 <= p < 1.
func (d *Distribution) compile(p *parser, at string) func(u float64) float64 {
	if p.in.kind != Number {
		p.c.Fail(at, "a distribution", "values: only a quantity or a number scatters")
		return nil
	}
	if !reckon.CheckWord(p.c, at+".shape", d.Shape, Normal, Uniform, Triangular) {
		return nil
	}
	mark := p.c.Mark()
	if d.Shape == Normal {
		mean := p.number(at+".mean", d.Mean, p.in.zero)
		p.inRange(at+".mean", d.Mean, mean)
		zero := p.in.zero
		if zero != nil && reflect.TypeOf(zero) == tempType {
			zero = unit.TempDelta(0)
		}
		sd := p.number(at+".sd", d.SD, zero)
		if p.c.Mark() == mark && !(sd > 0) {
			p.c.Fail(at+".sd", d.SD, "more than 0")
		}
		return func(u float64) float64 {
			return mean + float64(sd*math.Sqrt2*math.Erfinv(float64(2*max(u, 0x1p-54))-1))
		}
	}
	low, high := p.number(at+".low", d.Low, p.in.zero), p.number(at+".high", d.High, p.in.zero)
	mode := low
	if d.Shape == Triangular {
		mode = p.number(at+".mode", d.Mode, p.in.zero)
	}
	if p.c.Mark() > mark {
		return nil
	}
	p.inRange(at+".low", d.Low, low)
	p.inRange(at+".high", d.High, high)
	if !(low < high) {
		p.c.Fail(at+".high", d.High, "more than low, "+d.Low)
	}
	if d.Shape == Uniform {
		return func(u float64) float64 { return low + float64(u*(high-low)) }
	}
	if !(low <= mode && mode <= high) {
		p.c.Fail(at+".mode", d.Mode, "from low to high")
	}
	return func(u float64) float64 {
		if left := (mode - low) / (high - low); u < left {
			return low + math.Sqrt(u*(high-low)*(mode-low))
		}
		return high - math.Sqrt((1-u)*(high-low)*(high-mode))
	}
}
