package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// FrictionFactor returns the friction factor that one mixed batch shows:
//
//	F = N*T_d - (T_f + T_r + ...) - T_w
//	r = F / N
//
// with N the number of temperatures counted, the water included (2 to 5), F
// the friction taken off once and r the same as a rise for each factor.
//
// It holds for the same mixer, speed, time, formula, batch size and N. A batch
// larger, stiffer or mixed longer has another factor; [FrictionLog] shows how.
// A factor outside -20 to 60 C° is outside what the trade reports.
//
// It returns an *[reckon.InputError] if:
//   - dough is missing or outside -10 to 60 °C,
//   - water is missing or outside -80 to 55 °C,
//   - another temperature given is outside -40 to 60 °C, or flour is missing.
//
// Source: Instituto Nacional de Aprendizaje, bakery course book, chapter 3, after the
// American Institute of Baking (2010); cases in testdata/cases/doughmath/friction-factor.json.
//
// The inverses are [WaterTemperature] and [DoughTemperatureForWater].
type FrictionFactor struct {
	Dough  unit.Temp `json:"dough"`           // dough temperature at the end of mixing, -10 to 60 °C
	Water  unit.Temp `json:"water"`           // water temperature; below 0 °C stands for ice and water; -80 to 55 °C
	Flour  unit.Temp `json:"flour"`           // flour temperature, -40 to 60 °C
	Room   unit.Temp `json:"room,omitzero"`   // room temperature, -40 to 60 °C; leave out for the two-factor rule
	Third  unit.Temp `json:"third,omitzero"`  // preferment, starter or soaker, if any, -40 to 60 °C
	Fourth unit.Temp `json:"fourth,omitzero"` // a second one, if any, -40 to 60 °C
}

func (FrictionFactor) ID() string { return "friction-factor" }

// SHELL
func (q FrictionFactor) Check(c *reckon.Checks) {
	_, err := explainFrictionFactor(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FrictionFactor) Solve() (FrictionFactorResult, error) { return explainFrictionFactor(q, nil) }

func (q FrictionFactor) Show(w *reckon.Working, _ FrictionFactorResult) {
	_, _ = explainFrictionFactor(q, w)
}

func (in FrictionFactor) factors() *factorTemps {
	return &factorTemps{in.Flour, in.Room, in.Third, in.Fourth}
}

func (in FrictionFactor) check(c *reckon.Checks) {
	reckon.CheckTemp(c, "dough", in.Dough, unit.Celsius(-10), hottestReading)
	reckon.CheckTemp(c, "water", in.Water, unit.Celsius(-float64(iceEquivalent)), unit.Celsius(yeastRefusalCelsius))
	in.factors().check(c)
}

// once returns the friction, taken off once, and the number of factors.
func (in FrictionFactor) once() (friction float64, n int) {
	n, sum := in.factors().known()
	return float64(float64(n)*in.Dough.Celsius()) - sum - in.Water.Celsius(), n
}

// FrictionFactorResult is the friction of that batch in both readings.
type FrictionFactorResult struct {
	Once       unit.TempDelta `json:"once"`       // friction factor, taken off once
	PerFactor  unit.TempDelta `json:"per_factor"` // the same as a rise for each factor
	Factors    int            `json:"factors"`    // N, the water included; the figure holds for this N only
	Conditions Conditions     `json:"conditions"` // friction-negative, outside-source
}

func explainFrictionFactor(in FrictionFactor, w *reckon.Working) (out FrictionFactorResult, err error) {
	c := reckon.Checks{Func: "friction-factor"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return FrictionFactorResult{}, err
	}
	once, n := in.once()
	out = FrictionFactorResult{Once: unit.TempDelta(once), PerFactor: unit.TempDelta(once / float64(n)), Factors: n}
	if out.Once < 0 {
		out.Conditions |= FrictionNegative
	}
	if out.Once < leastFriction || out.Once > mostFriction {
		out.Conditions |= reckon.OutsideSource
	}
	if w != nil {
		w.Given("dough temperature", "T_d", in.Dough.Celsius(), "°C", "")
		w.Given("water temperature", "T_w", in.Water.Celsius(), "°C", "")
		in.factors().explain(w, n)
		w.Step("friction factor, once", "F", "N*T_d - S - T_w", once, "C°", "factor rule")
		w.Step("rise in mixing, per factor", "r", "F / N", float64(out.PerFactor), "C°", "the same friction, shared by the factors")
	}
	return out, nil
}
