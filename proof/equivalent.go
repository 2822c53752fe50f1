package proof

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// RateModel names how the speed of fermentation follows the dough temperature.
type RateModel string

const (
	// ModelQ10 multiplies the speed by the value for every ten Celsius degrees.
	ModelQ10 RateModel = "q10"
	// ModelArrhenius takes the value as an activation energy in kJ/mol.
	ModelArrhenius RateModel = "arrhenius"
)

// ValueOrigin names where a value that only the line itself can tell comes from.
type ValueOrigin string

const (
	// OriginMeasured is a value measured on this line and product.
	OriginMeasured ValueOrigin = "measured"
	// OriginAssumed is a value from books or another line: an estimate.
	OriginAssumed ValueOrigin = "assumed"
)

// gasConstant is R in J/(mol K), exact by the definition of the SI.
const gasConstant = 8.31446261815324

// The dough temperatures for which the sources give a rule of speed: the range
// of bakery doughs, from the piece that the rule of 10 % a degree is read in.
const (
	coldestVouched = 23
	hottestVouched = 30
)

// The temperatures at which dough is asked about at all. Below it is frozen,
// above yeast dies.
var (
	coldestDough = unit.Celsius(0)
	hottestDough = unit.Celsius(50)
)

// Stage is a stretch of time at one temperature.
type Stage struct {
	Temp unit.Temp     `json:"temp"` // temperature of the dough, not of the air, 0 to 50 °C
	Time unit.Duration `json:"time"` // how long, 0 to 7 d
}

// Equivalent returns the time at a reference temperature that ferments a dough
// as far as what it went through:
//
//	q10:       t_ref = sum t_i * Q10^((T_i - T_ref) / 10)
//	arrhenius: t_ref = sum t_i * exp(E/R * (1/T_ref - 1/T_i)), T in K
//
// Speeds add up over a history. The rules hold on the rising branch only, for
// bakery doughs of some 23 to 30 °C; nearer to the optimum, and above it, the
// speed rises less and then falls. Sourdough organisms have optima of their
// own, from 27 °C up, and need trials. The value differs between flours, salt
// and yeast: measure two proof times and take [Q10ForProof].
//
// It returns an *[reckon.InputError] if:
//   - history has no stretch or more than 1000, or one out of its range,
//   - reference is missing or outside 0 to 50 °C,
//   - model or origin is not named, or value is out of the model's range,
//   - low and high do not enclose value.
//
// Source: bakemag.com, The science of fermentation (10 % a degree, range);
// additivity and the identity of both models derived.
//
// Inverses are [TemperatureForProof] and [Q10ForProof].
type Equivalent struct {
	History   []Stage     `json:"history"`       // 1 to 1000 stretches; a slope is cut into short ones
	Reference unit.Temp   `json:"reference"`     // temperature at which the time is wanted, 0 to 50 °C
	Model     RateModel   `json:"model"`         // "q10" or "arrhenius"
	Value     float64     `json:"value"`         // Q10, 1.1 to 5, or the activation energy, 5 to 200 kJ/mol
	Low       float64     `json:"low,omitzero"`  // lowest value that is believed, not above value; leave out both to get no range
	High      float64     `json:"high,omitzero"` // highest value that is believed, not below value
	Origin    ValueOrigin `json:"origin"`        // "measured" or "assumed": where value comes from
}

func (Equivalent) ID() string { return "proof-equivalent" }

// SHELL
func (q Equivalent) Check(c *reckon.Checks) {
	_, err := explainEquivalent(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Equivalent) Solve() (EquivalentResult, error) { return explainEquivalent(q, nil) }

func (q Equivalent) Show(w *reckon.Working, _ EquivalentResult) { _, _ = explainEquivalent(q, w) }

// EquivalentResult is the time that would do the same.
type EquivalentResult struct {
	Equivalent unit.Duration `json:"equivalent"` // time at the reference temperature
	Shortest   unit.Duration `json:"shortest"`   // the same over the range from low to high; equal to equivalent if none is given
	Longest    unit.Duration `json:"longest"`    // the same, the other end
	Clock      unit.Duration `json:"clock"`      // time that passed
	Conditions Conditions    `json:"conditions"` // uncalibrated, outside-source
}

// checkModel checks the model and its value.
func checkModel(c *reckon.Checks, m RateModel, field string, value float64) {
	switch m {
	case ModelQ10:
		reckon.CheckRange(c, field, value, 1.1, 5)
	case ModelArrhenius:
		reckon.CheckRange(c, field, value, 5, 200)
	}
}

// speed returns how many times as fast fermentation is at t as at ref.
func (m RateModel) speed(value float64, t, ref unit.Temp) float64 {
	if m == ModelQ10 {
		return math.Pow(value, (t.Celsius()-ref.Celsius())/10)
	}
	return math.Exp(value * 1000 / gasConstant * (1/ref.Kelvins() - 1/t.Kelvins()))
}

func explainEquivalent(in Equivalent, w *reckon.Working) (EquivalentResult, error) {
	c := reckon.Checks{Func: "proof-equivalent"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return EquivalentResult{}, err
	}
	low, high := in.Low, in.High
	if low == 0 && high == 0 {
		low, high = in.Value, in.Value
	}
	var out EquivalentResult
	atLow, atHigh := 0.0, 0.0
	for _, s := range in.History {
		t := float64(s.Time)
		out.Clock += s.Time
		out.Equivalent += unit.Duration(float64(t * in.Model.speed(in.Value, s.Temp, in.Reference)))
		atLow += float64(t * in.Model.speed(low, s.Temp, in.Reference))
		atHigh += float64(t * in.Model.speed(high, s.Temp, in.Reference))
		out.Conditions |= vouched(s.Temp)
	}
	// With stretches on both sides of the reference the ends can lie either
	// way round, and the middle outside them.
	out.Shortest = min(out.Equivalent, unit.Duration(atLow), unit.Duration(atHigh))
	out.Longest = max(out.Equivalent, unit.Duration(atLow), unit.Duration(atHigh))
	out.Conditions |= vouched(in.Reference)
	if in.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		in.explain(w, out)
	}
	return out, nil
}

// vouched returns outside-source for a temperature outside the sources' range.
func vouched(t unit.Temp) Conditions {
	if t.Celsius() < coldestVouched || t.Celsius() > hottestVouched {
		return reckon.OutsideSource
	}
	return 0
}

func (in Equivalent) check(c *reckon.Checks) {
	if len(in.History) == 0 || len(in.History) > 1000 {
		c.Fail("history", strconv.Itoa(len(in.History))+" stretches", "1 to 1000 stretches of time at a temperature")
	} else {
		for i, s := range in.History {
			if !(s.Temp.Celsius() >= coldestDough.Celsius() && s.Temp.Celsius() <= hottestDough.Celsius()) {
				c.Fail(fmt.Sprintf("history[%d].temp", i), s.Temp.String(), "a temperature of the dough from "+coldestDough.String()+" to "+hottestDough.String())
			}
			if !(s.Time >= 0 && s.Time <= maxStay) {
				c.Fail(fmt.Sprintf("history[%d].time", i), s.Time.String(), "0 s to "+maxStay.String())
			}
		}
	}
	reckon.CheckTemp(c, "reference", in.Reference, coldestDough, hottestDough)
	reckon.CheckEither(c, "model", in.Model, ModelQ10, ModelArrhenius)
	reckon.CheckEither(c, "origin", in.Origin, OriginMeasured, OriginAssumed)
	checkModel(c, in.Model, "value", in.Value)
	if in.Low != 0 || in.High != 0 {
		checkModel(c, in.Model, "low", in.Low)
		checkModel(c, in.Model, "high", in.High)
		if in.Low > in.Value {
			c.Fail("low", number(in.Low), "at most value, "+number(in.Value))
		}
		if in.High < in.Value {
			c.Fail("high", number(in.High), "at least value, "+number(in.Value))
		}
	}
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func (in Equivalent) explain(w *reckon.Working, out EquivalentResult) {
	explainModel(w, in.Model, in.Value)
	w.Given("reference temperature", "T_r", in.Reference.Celsius(), "°C", "")
	var sum strings.Builder
	for i, s := range in.History {
		n := strconv.Itoa(i + 1)
		w.Given("temperature of stretch "+n, "T_"+n, s.Temp.Celsius(), "°C", "")
		w.Given("time of stretch "+n, "t_"+n, float64(s.Time), "s", "")
		expression := "pow(Q, (T_" + n + " - T_r) / 10)"
		if in.Model == ModelArrhenius {
			expression = "exp(E * 1000 / R * (1/(T_r + 273.15) - 1/(T_" + n + " + 273.15)))"
		}
		w.Step("speed in stretch "+n, "k_"+n, expression, in.Model.speed(in.Value, s.Temp, in.Reference), "", "times the speed at the reference")
		if i > 0 {
			sum.WriteString(" + ")
		}
		sum.WriteString("t_" + n + "*k_" + n)
	}
	w.Step("time at the reference temperature", "t", sum.String(), float64(out.Equivalent), "s", "speeds add up over a history")
}

func explainModel(w *reckon.Working, m RateModel, value float64) {
	if m == ModelArrhenius {
		w.Given("activation energy", "E", value, "kJ/mol", "")
		w.Given("gas constant", "R", gasConstant, "J/(mol K)", "SI, exact")
		return
	}
	w.Given("Q10", "Q", value, "", "")
}

// TemperatureForProof returns the dough temperature at which a proof takes the
// wanted time:
//
//	q10:       T = T_ref + 10 * ln(known / wanted) / ln(Q10)
//	arrhenius: 1/T = 1/T_ref - R/E * ln(known / wanted), T in K
//
// It is the inverse of [Equivalent] for a single stretch, with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - reference is missing or outside 0 to 50 °C,
//   - known or wanted is outside 1 s to 7 d,
//   - model or origin is not named, or value is out of the model's range.
//
// It returns a *[reckon.NoSolutionError] if the dough would have to be
// colder than 0 or warmer than 50 °C.
//
// Source: as for [Equivalent].
type TemperatureForProof struct {
	Reference unit.Temp     `json:"reference"` // dough temperature of the known proof, 0 to 50 °C
	Known     unit.Duration `json:"known"`     // its time, 1 s to 7 d
	Wanted    unit.Duration `json:"wanted"`    // time that is wanted, 1 s to 7 d
	Model     RateModel     `json:"model"`     // "q10" or "arrhenius"
	Value     float64       `json:"value"`     // Q10, 1.1 to 5, or the activation energy, 5 to 200 kJ/mol
	Origin    ValueOrigin   `json:"origin"`    // "measured" or "assumed": where value comes from
}

func (TemperatureForProof) ID() string { return "temperature-for-proof" }

// SHELL
func (q TemperatureForProof) Check(c *reckon.Checks) {
	_, err := explainTemperatureForProof(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TemperatureForProof) Solve() (TemperatureForProofResult, error) {
	return explainTemperatureForProof(q, nil)
}

func (q TemperatureForProof) Show(w *reckon.Working, _ TemperatureForProofResult) {
	_, _ = explainTemperatureForProof(q, w)
}

// TemperatureForProofResult is how warm the dough has to be.
type TemperatureForProofResult struct {
	Temp       unit.Temp  `json:"temp"`       // dough temperature
	Conditions Conditions `json:"conditions"` // uncalibrated, outside-source
}

func explainTemperatureForProof(in TemperatureForProof, w *reckon.Working) (out TemperatureForProofResult, err error) {
	c := reckon.Checks{Func: "temperature-for-proof"}
	reckon.CheckTemp(&c, "reference", in.Reference, coldestDough, hottestDough)
	reckon.CheckRange(&c, "known", in.Known, 1, maxStay)
	reckon.CheckRange(&c, "wanted", in.Wanted, 1, maxStay)
	reckon.CheckEither(&c, "model", in.Model, ModelQ10, ModelArrhenius)
	reckon.CheckEither(&c, "origin", in.Origin, OriginMeasured, OriginAssumed)
	checkModel(&c, in.Model, "value", in.Value)
	if err := c.Err(); err != nil {
		return TemperatureForProofResult{}, err
	}
	ratio := math.Log(float64(in.Known) / float64(in.Wanted))
	var celsius float64
	if in.Model == ModelQ10 {
		celsius = in.Reference.Celsius() + float64(10*ratio/math.Log(in.Value))
	} else {
		// Not finite where no temperature is hot enough; the check below catches it.
		celsius = unit.Kelvins(1 / (1/in.Reference.Kelvins() - float64(gasConstant/(in.Value*1000)*ratio))).Celsius()
		if !(celsius > -273.15) {
			celsius = math.MaxFloat64
		}
	}
	if celsius < coldestDough.Celsius() || celsius > hottestDough.Celsius() {
		longest := float64(in.Known) / in.Model.speed(in.Value, coldestDough, in.Reference)
		shortest := float64(in.Known) / in.Model.speed(in.Value, hottestDough, in.Reference)
		return TemperatureForProofResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "dough temperature from " + coldestDough.String() + " to " + hottestDough.String(),
			Wanted: "a proof of " + in.Wanted.String(), Low: unit.Duration(shortest).String(), High: unit.Duration(longest).String(),
			Advice: "change the yeast instead",
		}
	}
	out = TemperatureForProofResult{Temp: unit.Celsius(celsius)}
	out.Conditions = vouched(out.Temp) | vouched(in.Reference)
	if in.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		explainModel(w, in.Model, in.Value)
		w.Given("dough temperature of the known proof", "T_r", in.Reference.Celsius(), "°C", "")
		w.Given("its time", "t_r", float64(in.Known), "s", "")
		w.Given("time wanted", "t", float64(in.Wanted), "s", "")
		expression := "T_r + 10 * ln(t_r / t) / ln(Q)"
		if in.Model == ModelArrhenius {
			expression = "1 / (1/(T_r + 273.15) - R/(E * 1000) * ln(t_r / t)) - 273.15"
		}
		w.Step("dough temperature", "T", expression, celsius, "°C", "")
	}
	return out, nil
}

// Q10ForProof returns the Q10 and the activation energy of a dough from two
// proof times to the same height at two dough temperatures:
//
//	Q10 = (t_1 / t_2)^(10 / (T_2 - T_1)), E = R * ln(t_1 / t_2) / (1/T_1 - 1/T_2), T in K
//
// It is the calibration for [Equivalent]: use the value with origin
// "measured". The two temperatures should enclose those it is used for.
//
// It returns an *[reckon.InputError] if:
//   - a temperature is missing or outside 0 to 50 °C, or they are less than 2 C° apart,
//   - a time is outside 1 s to 7 d, or the warm dough was not quicker,
//   - the result is no Q10 that a dough can have (1.1 to 5): the readings are to be taken again.
//
// Source: definition of Q10; identity of both models derived.
type Q10ForProof struct {
	Cool Stage `json:"cool"` // the cooler one
	Warm Stage `json:"warm"` // the warmer one, warmer by 2 C° or more
}

func (Q10ForProof) ID() string { return "q10-for-proof" }

// SHELL
func (q Q10ForProof) Check(c *reckon.Checks) {
	_, err := explainQ10ForProof(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Q10ForProof) Solve() (Q10ForProofResult, error) { return explainQ10ForProof(q, nil) }

func (q Q10ForProof) Show(w *reckon.Working, _ Q10ForProofResult) { _, _ = explainQ10ForProof(q, w) }

// Q10ForProofResult is the speed of fermentation against temperature.
type Q10ForProofResult struct {
	Q10        float64      `json:"q10"`        // times as fast for every ten Celsius degrees
	Activation float64      `json:"activation"` // activation energy, kJ/mol, that does the same between the two temperatures
	PerDegree  unit.Percent `json:"per_degree"` // rise of the speed with each Celsius degree, compounded
	Conditions Conditions   `json:"conditions"` // outside-source
}

func explainQ10ForProof(in Q10ForProof, w *reckon.Working) (out Q10ForProofResult, err error) {
	c := reckon.Checks{Func: "q10-for-proof"}
	coolOK := reckon.CheckTemp(&c, "cool.temp", in.Cool.Temp, coldestDough, hottestDough)
	warmOK := reckon.CheckTemp(&c, "warm.temp", in.Warm.Temp, coldestDough, hottestDough)
	reckon.CheckRange(&c, "cool.time", in.Cool.Time, 1, maxStay)
	reckon.CheckRange(&c, "warm.time", in.Warm.Time, 1, maxStay)
	apart := in.Warm.Temp.Celsius() - in.Cool.Temp.Celsius()
	if coolOK && warmOK && apart < 2 {
		c.Fail("warm.temp", in.Warm.Temp.String(), "at least 2 C° above cool.temp, "+in.Cool.Temp.String())
	}
	if err := c.Err(); err != nil {
		return Q10ForProofResult{}, err
	}
	ratio := float64(in.Cool.Time) / float64(in.Warm.Time)
	out = Q10ForProofResult{Q10: math.Pow(ratio, 10/apart)}
	if !(out.Q10 >= 1.1 && out.Q10 <= 5) {
		c.Fail("warm.time", in.Warm.Time.String(), "a time that fits "+in.Cool.Time.String()+" at "+in.Cool.Temp.String()+
			" with a Q10 of 1.1 to 5, not "+number(out.Q10)+": prove both doughs again to the same height")
		return Q10ForProofResult{}, c.Err()
	}
	out.Activation = gasConstant * math.Log(ratio) / (1/in.Cool.Temp.Kelvins() - 1/in.Warm.Temp.Kelvins()) / 1000
	out.PerDegree = unit.Percent((math.Pow(out.Q10, 0.1) - 1) * 100)
	out.Conditions = vouched(in.Cool.Temp) | vouched(in.Warm.Temp)
	if w != nil {
		w.Given("cool dough", "T_1", in.Cool.Temp.Celsius(), "°C", "")
		w.Given("its time", "t_1", float64(in.Cool.Time), "s", "")
		w.Given("warm dough", "T_2", in.Warm.Temp.Celsius(), "°C", "")
		w.Given("its time", "t_2", float64(in.Warm.Time), "s", "")
		w.Given("gas constant", "R", gasConstant, "J/(mol K)", "SI, exact")
		w.Step("activation energy", "E", "R * ln(t_1 / t_2) / (1/(T_1 + 273.15) - 1/(T_2 + 273.15)) / 1000", out.Activation, "kJ/mol", "")
		w.Step("Q10", "Q", "pow(t_1 / t_2, 10 / (T_2 - T_1))", out.Q10, "", "")
	}
	return out, nil
}
