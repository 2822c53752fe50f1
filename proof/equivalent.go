package proof

import (
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

// ValueOrigin names where a value that can only be measured on the line itself comes from.
type ValueOrigin string

const (
	// OriginMeasured is a value measured on this line and product.
	OriginMeasured ValueOrigin = "measured"
	// OriginAssumed is a value from books or another line: an estimate.
	OriginAssumed ValueOrigin = "assumed"
)

// gasConstant is R in J/(mol K), exact by the definition of the SI.
const gasConstant = 8.31446261815324

// The least and the greatest Q10 that a dough can have.
const (
	lowestQ10  = 1.1
	highestQ10 = 5
)

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

// Stage is a stretch of time at one temperature, or of a temperature that
// rises or falls evenly.
type Stage struct {
	Temp unit.Temp     `json:"temp" sym:"T_#" range:"0 °C..50 °C"`              // temperature of the dough, not of the air, at the start of the stretch
	Time unit.Duration `json:"time" sym:"t_#" range:"0 s..7 d"`                 // how long
	End  unit.Temp     `json:"end_temp,omitzero" sym:"U_#" range:"0 °C..50 °C"` // at its end, if the temperature rises or falls evenly; leave out if it stays
}

// slopes reports whether the temperature changes in the stretch.
func (s *Stage) slopes() bool { return s.End.Given() && s.End.Celsius() != s.Temp.Celsius() }

func (s *Stage) check(c *reckon.Checks) {
	if !(s.Temp.Celsius() >= coldestDough.Celsius() && s.Temp.Celsius() <= hottestDough.Celsius()) {
		c.Fail("temp", s.Temp.String(), "a temperature of the dough from "+coldestDough.String()+" to "+hottestDough.String())
	}
	if s.End.Given() && !(s.End.Celsius() >= coldestDough.Celsius() && s.End.Celsius() <= hottestDough.Celsius()) {
		c.Fail("end_temp", s.End.String(), "a temperature of the dough from "+coldestDough.String()+" to "+hottestDough.String())
	}
	if !(s.Time >= 0 && s.Time <= maxStay) {
		c.Fail("time", s.Time.String(), "0 s to "+maxStay.String())
	}
}

// Equivalent asks how long a dough would have to stand at a reference
// temperature to ferment as far as it did in its own history:
//
//	q10:       k_i = Q^((T_i - T_r) / 10)
//	arrhenius: k_i = exp(E * 1000 / R * (1/(T_r + 273.15) - 1/(T_i + 273.15)))
//	t = sum(t_i * k_i), t_c = sum(t_i)
//	t_min, t_max = the least and the greatest t with model_value, low and high
//
// with k_i the speed in a stretch over that at the reference temperature, and
// model_value as Q or as E. Where the temperature goes evenly from T_i to U_i,
// k_i is the mean of the speed over the slope, with K that at its end:
//
//	q10:       k_i = (K(U_i) - K(T_i)) / ln(K(U_i) / K(T_i))
//	arrhenius: k_i = integral of K from T_i to U_i, over U_i - T_i
//
// Speeds add up over a history. The rules hold on the rising branch only, for
// bakery doughs of some 23 to 30 °C; nearer to the optimum, and above it, the
// speed rises less and then falls. Sourdough organisms have optima of their
// own, from 27 °C up, and require trials. The value of the model differs between
// flours, salt and yeast: measure two proof times and take [Q10ForProof].
//
// It is refused if:
//   - model_value, low or high is out of the model's range,
//   - low and high do not enclose model_value.
//
// Source: bakemag.com, The science of fermentation (10 % a degree, range);
// additivity and the identity of both models derived.
//
// Inverses are [TemperatureForProof] and [Q10ForProof].
type Equivalent struct {
	History    []Stage     `json:"history" items:"1..1000"`                 // the stretches in turn; a curve is cut into straight slopes
	Reference  unit.Temp   `json:"reference" sym:"T_r" range:"0 °C..50 °C"` // temperature at which the time is wanted
	Model      RateModel   `json:"model"`                                   // "q10" or "arrhenius"
	ModelValue float64     `json:"model_value" range:"-"`                   // Q10, 1.1 to 5, or the activation energy, 5 to 200 kJ/mol
	Low        float64     `json:"low,omitzero" range:"-"`                  // lowest value that is believed, in the same range and not above model_value; leave out both to get no range
	High       float64     `json:"high,omitzero" range:"-"`                 // highest value that is believed, in the same range and not below model_value
	Origin     ValueOrigin `json:"origin"`                                  // "measured" or "assumed": where model_value comes from
}

// EquivalentResult is the time that would do the same.
type EquivalentResult struct {
	Equivalent unit.Duration `json:"equivalent" sym:"t"`   // time at the reference temperature
	Shortest   unit.Duration `json:"shortest" sym:"t_min"` // the same over the range from low to high; equal to equivalent if none is given
	Longest    unit.Duration `json:"longest" sym:"t_max"`  // the same, the other end
	Clock      unit.Duration `json:"clock" sym:"t_c"`      // time that passed
	Conditions Conditions    `json:"conditions"`           // uncalibrated, outside-source
}

func (Equivalent) ID() string { return "proof-equivalent" }

func (q Equivalent) Check(c *reckon.Checks) {
	if len(q.History) == 0 || len(q.History) > 1000 {
		c.Fail("history", strconv.Itoa(len(q.History))+" stretches", "1 to 1000 stretches of time at a temperature")
	} else {
		for i := range q.History {
			mark := c.Mark()
			q.History[i].check(c)
			c.Item(mark, "history", i)
		}
	}
	reckon.CheckTemp(c, "reference", q.Reference, coldestDough, hottestDough)
	reckon.CheckEither(c, "model", q.Model, ModelQ10, ModelArrhenius)
	reckon.CheckEither(c, "origin", q.Origin, OriginMeasured, OriginAssumed)
	q.Model.check(c, "model_value", q.ModelValue)
	if q.Low != 0 || q.High != 0 {
		q.Model.check(c, "low", q.Low)
		q.Model.check(c, "high", q.High)
		if q.Low > q.ModelValue {
			c.Fail("low", reckon.Text(q.Low), "at most model_value, "+reckon.Text(q.ModelValue))
		}
		if q.High < q.ModelValue {
			c.Fail("high", reckon.Text(q.High), "at least model_value, "+reckon.Text(q.ModelValue))
		}
	}
}

func (q Equivalent) Solve() (out EquivalentResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	low, high := q.Low, q.High
	if low == 0 {
		low, high = q.ModelValue, q.ModelValue
	}
	atLow, atHigh := 0.0, 0.0
	for _, s := range q.History {
		t := float64(s.Time)
		out.Clock += s.Time
		out.Equivalent += unit.Duration(float64(t * q.Model.mean(q.ModelValue, &s, q.Reference)))
		atLow += float64(t * q.Model.mean(low, &s, q.Reference))
		atHigh += float64(t * q.Model.mean(high, &s, q.Reference))
		out.Conditions |= vouched(s.Temp)
		if s.End.Given() {
			out.Conditions |= vouched(s.End)
		}
	}
	// With stretches on both sides of the reference the ends can lie either
	// way round, and the middle outside them.
	out.Shortest = min(out.Equivalent, unit.Duration(atLow), unit.Duration(atHigh))
	out.Longest = max(out.Equivalent, unit.Duration(atLow), unit.Duration(atHigh))
	out.Conditions |= vouched(q.Reference)
	if q.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q Equivalent) Show(w *reckon.Working, out EquivalentResult) {
	w.Inputs(q)
	value := q.Model.show(w, "", "", q.ModelValue)
	q.showSpeeds(w, "k_", value, q.ModelValue)
	w.Lines(out,
		"time on the clock: t_c = sum(t_#)",
		"time at the reference temperature: t = sum(t_#*k_#)  [speeds add up over a history]",
	)
	if q.Low == 0 {
		w.Lines(out, "shortest: t_min = t  [no range of the value is given]", "longest: t_max = t")
		return
	}
	low, high := q.Model.show(w, "lowest ", "_l", q.Low), q.Model.show(w, "highest ", "_h", q.High)
	q.showSpeeds(w, "k_l", low, q.Low)
	q.showSpeeds(w, "k_h", high, q.High)
	w.Lines(out,
		"time with the lowest: t_l = sum(t_#*k_l#) in s",
		"time with the highest: t_h = sum(t_#*k_h#) in s",
		"shortest: t_min = min(t, t_l, t_h)",
		"longest: t_max = max(t, t_l, t_h)",
	)
}

// showSpeeds records the speed in every stretch with the value called symbol.
func (q *Equivalent) showSpeeds(w *reckon.Working, speed, symbol string, value float64) {
	// One sheet for all stretches: there may be many.
	lines := make([]string, 0, len(q.History))
	for i := range q.History {
		s := &q.History[i]
		n := strconv.Itoa(i + 1)
		line := "speed in stretch #: " + speed + "# = " + q.Model.speedText(symbol) + "  [times the speed at the reference]"
		switch {
		case s.slopes() && q.Model == ModelQ10:
			line = "mean speed over the slope of stretch #: " + speed + "# = (pow(" + symbol + ", (U_# - T_r)/10) - pow(" + symbol + ", (T_# - T_r)/10))/(ln(" + symbol + ")*(U_# - T_#)/10)  [the temperature goes evenly from T_# to U_#]"
		case s.slopes():
			w.Lines(nil, lines...)
			lines = lines[:0]
			w.Given("mean speed over the slope of stretch "+n, speed+n, q.Model.mean(value, s, q.Reference), "", "integral of the speed over the slope, by Gauss's rule")
			continue
		}
		lines = append(lines, strings.ReplaceAll(line, "#", n))
	}
	w.Lines(nil, lines...)
}

// check checks a value of the model; that there is such a model is checked apart.
func (m RateModel) check(c *reckon.Checks, field string, value float64) {
	switch m {
	case ModelQ10:
		reckon.CheckRange(c, field, value, lowestQ10, highestQ10)
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

// gauss holds the points and weights of Gauss's rule with ten points on -1 to 1,
// the positive half. Over the few degrees of one panel it is exact to the last digits.
//
// Source: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, table 25.4.
var gauss = [...][2]float64{
	{0.148874338981631, 0.295524224714753},
	{0.433395394129247, 0.269266719309996},
	{0.679409568299024, 0.219086362515982},
	{0.865063366688985, 0.149451349150581},
	{0.973906528517172, 0.066671344308688},
}

// mean returns the mean speed in a stretch, times that at ref.
func (m RateModel) mean(value float64, s *Stage, ref unit.Temp) float64 {
	if !s.slopes() {
		return m.speed(value, s.Temp, ref)
	}
	from, to := s.Temp.Celsius(), s.End.Celsius()
	if m == ModelQ10 {
		return (m.speed(value, s.End, ref) - m.speed(value, s.Temp, ref)) / (math.Log(value) * (to - from) / 10)
	}
	// Five panels of ten degrees at most.
	const panels = 5
	sum, half := 0.0, (to-from)/(2*panels)
	for i := range panels {
		middle := from + float64(half*float64(2*i+1))
		for _, g := range gauss {
			sum += float64(g[1] * (m.speed(value, unit.Celsius(middle-float64(half*g[0])), ref) + m.speed(value, unit.Celsius(middle+float64(half*g[0])), ref)))
		}
	}
	return sum / (2 * panels)
}

// show records a value of the model, which is another quantity in each, and
// returns its symbol.
func (m RateModel) show(w *reckon.Working, which, mark string, value float64) (symbol string) {
	if m == ModelQ10 {
		w.Given(which+"Q10", "Q"+mark, value, "", "")
		return "Q" + mark
	}
	w.Given(which+"activation energy", "E"+mark, value, "kJ/mol", "")
	if mark == "" {
		w.Given("gas constant", "R", gasConstant, "J/(mol K)", "SI, exact")
	}
	return "E" + mark
}

// speedText is what a sheet says of speed in stretch #, for the value called symbol.
func (m RateModel) speedText(symbol string) string {
	if m == ModelQ10 {
		return "pow(" + symbol + ", (T_# - T_r)/10)"
	}
	return "exp(" + symbol + "*1000{J/kJ}/R*(1/(T_r + 273.15) - 1/(T_# + 273.15)))"
}

// vouched returns outside-source for a temperature outside the sources' range.
func vouched(t unit.Temp) Conditions {
	if t.Celsius() < coldestVouched || t.Celsius() > hottestVouched {
		return reckon.OutsideSource
	}
	return 0
}

// TemperatureForProof asks how warm the dough must be for a proof of a given time:
//
//	q10:       T = T_r + 10 * ln(t_r / t) / ln(Q)
//	arrhenius: T = 1 / (1/(T_r + 273.15) - R / (E * 1000) * ln(t_r / t)) - 273.15
//
// It is the inverse of [Equivalent] for a single stretch, with the same validity.
//
// It is refused if:
//   - model_value is out of the model's range.
//
// Source: as for [Equivalent].
//
// The inverse is [Equivalent].
type TemperatureForProof struct {
	Reference  unit.Temp     `json:"reference" sym:"T_r" range:"0 °C..50 °C"` // dough temperature of the known proof
	KnownTime  unit.Duration `json:"known_time" sym:"t_r" range:"1 s..7 d"`   // its time
	WantedTime unit.Duration `json:"wanted_time" sym:"t" range:"1 s..7 d"`    // time wanted
	Model      RateModel     `json:"model"`                                   // "q10" or "arrhenius"
	ModelValue float64       `json:"model_value" range:"-"`                   // Q10, 1.1 to 5, or the activation energy, 5 to 200 kJ/mol
	Origin     ValueOrigin   `json:"origin"`                                  // "measured" or "assumed": where model_value comes from
}

// TemperatureForProofResult is how warm the dough has to be.
type TemperatureForProofResult struct {
	Temp       unit.Temp  `json:"temp" sym:"T"` // dough temperature
	Conditions Conditions `json:"conditions"`   // uncalibrated, outside-source
}

func (TemperatureForProof) ID() string { return "temperature-for-proof" }

func (q TemperatureForProof) Check(c *reckon.Checks) {
	reckon.CheckTemp(c, "reference", q.Reference, coldestDough, hottestDough)
	reckon.CheckRange(c, "known_time", q.KnownTime, 1, maxStay)
	reckon.CheckRange(c, "wanted_time", q.WantedTime, 1, maxStay)
	reckon.CheckEither(c, "model", q.Model, ModelQ10, ModelArrhenius)
	reckon.CheckEither(c, "origin", q.Origin, OriginMeasured, OriginAssumed)
	q.Model.check(c, "model_value", q.ModelValue)
}

// Solve has no answer if the dough would have to be colder than 0 °C or warmer than 50 °C.
func (q TemperatureForProof) Solve() (out TemperatureForProofResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	ratio := math.Log(float64(q.KnownTime) / float64(q.WantedTime))
	var celsius float64
	if q.Model == ModelQ10 {
		celsius = q.Reference.Celsius() + float64(10*ratio/math.Log(q.ModelValue))
	} else {
		// Infinite, or below absolute zero, where no temperature is hot enough; the check below catches it.
		celsius = unit.Kelvins(1 / (1/q.Reference.Kelvins() - float64(gasConstant/(q.ModelValue*1000)*ratio))).Celsius()
	}
	if celsius < coldestDough.Celsius() || celsius > hottestDough.Celsius() {
		longest := float64(q.KnownTime) / q.Model.speed(q.ModelValue, coldestDough, q.Reference)
		shortest := float64(q.KnownTime) / q.Model.speed(q.ModelValue, hottestDough, q.Reference)
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "dough temperature from " + coldestDough.String() + " to " + hottestDough.String(),
			Wanted: "a proof of " + q.WantedTime.String(), Low: unit.Duration(shortest).String(), High: unit.Duration(longest).String(),
			Advice: "change the yeast instead",
		}
	}
	out.Temp = unit.Celsius(celsius)
	out.Conditions = vouched(out.Temp) | vouched(q.Reference)
	if q.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q TemperatureForProof) Show(w *reckon.Working, out TemperatureForProofResult) {
	w.Inputs(q)
	q.Model.show(w, "", "", q.ModelValue)
	if q.Model == ModelArrhenius {
		w.Lines(out, "dough temperature: T = 1/(1/(T_r + 273.15) - R/(E*1000{J/kJ})*ln(t_r/t)) - 273.15")
	} else {
		w.Lines(out, "dough temperature: T = T_r + 10*ln(t_r/t)/ln(Q)")
	}
}

// Trial is a proof to a given height as it was timed.
type Trial struct {
	Temp unit.Temp     `json:"temp" sym:"T_#" range:"0 °C..50 °C"` // temperature of the dough, not of the air
	Time unit.Duration `json:"time" sym:"t_#" range:"1 s..7 d"`    // how long it took
}

// Q10ForProof asks for the Q10 and the activation energy of a dough, from two
// proof times to the same height at two dough temperatures:
//
//	Q = (t_1 / t_2)^(10 / (T_2 - T_1)), p = (Q^0.1 - 1) * 100
//	E = R * ln(t_1 / t_2) / (1/(T_1 + 273.15) - 1/(T_2 + 273.15)) / 1000
//
// It is the calibration for [Equivalent]: use the value with origin
// "measured". The two temperatures should enclose those it is used for.
//
// It is refused if:
//   - the two temperatures are less than 2 C° apart,
//   - the result is no Q10 that a dough can have (1.1 to 5): the readings are to be taken again.
//
// Source: definition of Q10; identity of both models derived.
//
// The inverse is [Equivalent].
type Q10ForProof struct {
	Cool Trial `json:"cool" sym:"1"` // the cooler one
	Warm Trial `json:"warm" sym:"2"` // the warmer one, warmer by 2 C° or more
}

// Q10ForProofResult is the speed of fermentation against temperature.
type Q10ForProofResult struct {
	Q10        float64      `json:"q10" sym:"Q"`        // times as fast for every ten Celsius degrees
	Activation float64      `json:"activation" sym:"E"` // activation energy, kJ/mol, that does the same between the two temperatures
	PerDegree  unit.Percent `json:"per_degree" sym:"p"` // rise of the speed with each Celsius degree, compounded
	Conditions Conditions   `json:"conditions"`         // outside-source
}

func (Q10ForProof) ID() string { return "q10-for-proof" }

func (q Q10ForProof) Check(c *reckon.Checks) { q.check(c) }

// check returns the Q10 as well, and the ratio of the times that it comes from.
func (q *Q10ForProof) check(c *reckon.Checks) (q10, ratio float64) {
	before := c.Mark()
	coolOK := reckon.CheckTemp(c, "cool.temp", q.Cool.Temp, coldestDough, hottestDough)
	warmOK := reckon.CheckTemp(c, "warm.temp", q.Warm.Temp, coldestDough, hottestDough)
	reckon.CheckRange(c, "cool.time", q.Cool.Time, 1, maxStay)
	reckon.CheckRange(c, "warm.time", q.Warm.Time, 1, maxStay)
	apart := q.Warm.Temp.Celsius() - q.Cool.Temp.Celsius()
	if coolOK && warmOK && apart < 2 {
		c.Fail("warm.temp", q.Warm.Temp.String(), "at least 2 C° above cool.temp, "+q.Cool.Temp.String())
	}
	if c.Mark() > before {
		return q10, ratio
	}
	ratio = float64(q.Cool.Time) / float64(q.Warm.Time)
	q10 = math.Pow(ratio, 10/apart)
	if !(q10 >= lowestQ10 && q10 <= highestQ10) {
		c.Fail("warm.time", q.Warm.Time.String(), "a time that fits "+q.Cool.Time.String()+" at "+q.Cool.Temp.String()+
			" with a Q10 of 1.1 to 5, not "+reckon.Text(q10)+": prove both doughs again to the same height")
	}
	return q10, ratio
}

func (q Q10ForProof) Solve() (out Q10ForProofResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	q10, ratio := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.Q10 = q10
	out.Activation = gasConstant * math.Log(ratio) / (1/q.Cool.Temp.Kelvins() - 1/q.Warm.Temp.Kelvins()) / 1000
	out.PerDegree = unit.Percent((math.Pow(q10, 0.1) - 1) * 100)
	out.Conditions = vouched(q.Cool.Temp) | vouched(q.Warm.Temp)
	return out, nil
}

func (q Q10ForProof) Show(w *reckon.Working, out Q10ForProofResult) {
	w.Inputs(q)
	w.Given("gas constant", "R", gasConstant, "J/(mol K)", "SI, exact")
	w.Lines(out,
		"activation energy: E = R*ln(t_1/t_2)/(1/(T_1 + 273.15) - 1/(T_2 + 273.15))/1000{J/kJ} in kJ/mol",
		"Q10: Q = pow(t_1/t_2, 10/(T_2 - T_1))",
		"rise with each degree: p = (pow(Q, 0.1) - 1)*100",
	)
}
