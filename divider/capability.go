package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Capability returns whether the scatter of the pieces fits the tolerance, by
// the usual indices and their confidence limits:
//
//	Cp  = (H - L) / (6 s)         limits: Cp * sqrt(chi2 / (n - 1))
//	Cpl = (m - L) / (3 s), Cpu = (H - m) / (3 s), Cpk = min(Cpl, Cpu)
//	                              limits: Cpk -+ z * sqrt(1/(9n) + Cpk^2 / (2(n - 1)))
//	Cpm = Cp / sqrt(1 + x^2)      limits: Cpm * sqrt(chi2(v) / v), x = (m - T)/s,
//	                              v = n (1 + x^2)^2 / (1 + 2 x^2)
//
// Pp and Ppk are Cp and Cpk with the standard deviation of all pieces, which
// holds the wandering of the mean as well: what the buyer gets. Cp and Cpk say
// what the divider could do if the mean were kept still. The limits take n - 1
// degrees of freedom, as the source does; a deviation from ranges has somewhat
// fewer.
//
// It sets not-capable if Cpk (or Ppk, where overall is given) is below the one
// required, and weigh-more if it is above but its lower limit is not.
//
// The indices mean something only for a process in control ([ControlChart])
// whose weights scatter normally.
//
// It returns an *[reckon.InputError] if:
//   - mean is outside 1 mg to 100 kg, within or overall outside 1 µg to 100 kg,
//   - pieces is outside 2 to 1 000 000, required outside 0.1 to 5 or level outside 50 to 99.99 %,
//   - high is not above low, or target is not between them.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control;
// NIST/SEMATECH e-Handbook of Statistical Methods, section 6.1.6; R. A. Boyles,
// Journal of Quality Technology 23 (1991), 17-26 (Cpm).
//
// The inverse is [SDForCapability].
type Capability struct {
	Mean     unit.Mass    `json:"mean"`             // mean weight of the pieces; 1 mg to 100 kg
	Within   unit.Mass    `json:"within"`           // standard deviation within subgroups, from [SetUpChart]; 1 µg to 100 kg
	Overall  unit.Mass    `json:"overall,omitzero"` // standard deviation of all pieces together, from [PieceSample]; 1 µg to 100 kg; 0 g leaves Pp out
	Pieces   int          `json:"pieces"`           // pieces behind them; 2 to 1 000 000
	Low      unit.Mass    `json:"low"`              // lightest piece allowed; 0 g to 100 kg
	High     unit.Mass    `json:"high"`             // heaviest piece allowed; above low, to 100 kg
	Target   unit.Mass    `json:"target,omitzero"`  // weight aimed at, between low and high; 0 g leaves Cpm out
	Level    unit.Percent `json:"level"`            // confidence of the limits; 50 % to 99.99 %
	Required float64      `json:"required"`         // Cpk that the plant or its buyer asks for, 1.33 being usual; 0.1 to 5
}

func (Capability) ID() string { return "capability" }

// SHELL
func (q Capability) Check(c *reckon.Checks) {
	_, err := explainCapability(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Capability) Solve() (CapabilityResult, error) { return explainCapability(q, nil) }

func (q Capability) Show(w *reckon.Working, _ CapabilityResult) { _, _ = explainCapability(q, w) }

// CapabilityResult holds the indices, each with its limits at the level.
type CapabilityResult struct {
	Cp         float64      `json:"cp"`         // tolerance over six standard deviations within subgroups
	CpLow      float64      `json:"cp_low"`     // Cp is at least this
	CpHigh     float64      `json:"cp_high"`    // and at most this
	Cpl        float64      `json:"cpl"`        // room below the mean over three standard deviations
	Cpu        float64      `json:"cpu"`        // room above the mean over three standard deviations
	Cpk        float64      `json:"cpk"`        // the smaller of the two; below zero if the mean lies outside
	CpkLow     float64      `json:"cpk_low"`    // Cpk is at least this
	CpkHigh    float64      `json:"cpk_high"`   // and at most this
	Cpm        float64      `json:"cpm"`        // Cp with the distance from the target counted as scatter; 0 without a target
	CpmLow     float64      `json:"cpm_low"`    // Cpm is at least this
	CpmHigh    float64      `json:"cpm_high"`   // and at most this
	Pp         float64      `json:"pp"`         // as Cp, from the standard deviation of all pieces; 0 if it was not given
	PpLow      float64      `json:"pp_low"`     // Pp is at least this
	PpHigh     float64      `json:"pp_high"`    // and at most this
	Ppk        float64      `json:"ppk"`        // as Cpk, from the standard deviation of all pieces; 0 if it was not given
	PpkLow     float64      `json:"ppk_low"`    // Ppk is at least this
	PpkHigh    float64      `json:"ppk_high"`   // and at most this
	Below      unit.Percent `json:"below"`      // share of pieces to expect below low, were weights normal
	Above      unit.Percent `json:"above"`      // share of pieces to expect above high, were weights normal
	Conditions Conditions   `json:"conditions"` // not-capable, weigh-more
}

func explainCapability(in Capability, w *reckon.Working) (out CapabilityResult, err error) {
	c := reckon.Checks{Func: "capability"}
	reckon.CheckRange(&c, "mean", in.Mean, lightestPiece, heaviestPiece)
	reckon.CheckRange(&c, "within", in.Within, 1e-6, heaviestPiece)
	if in.Overall != 0 {
		reckon.CheckRange(&c, "overall", in.Overall, 1e-6, heaviestPiece)
	}
	reckon.CheckCount(&c, "pieces", in.Pieces, 2, 1_000_000)
	checkTolerance(&c, in.Low, in.High)
	if in.Target != 0 {
		reckon.CheckRange(&c, "target", in.Target, in.Low, in.High)
	}
	checkLevel(&c, "level", in.Level)
	reckon.CheckRange(&c, "required", in.Required, 0.1, 5)
	if err := c.Err(); err != nil {
		return CapabilityResult{}, err
	}
	n, level := float64(in.Pieces), float64(in.Level)/100
	mean, low, high, sd := float64(in.Mean), float64(in.Low), float64(in.High), float64(in.Within)
	out = CapabilityResult{Cp: (high - low) / (6 * sd), Cpl: (mean - low) / (3 * sd), Cpu: (high - mean) / (3 * sd)}
	out.Cpk = min(out.Cpl, out.Cpu)
	out.CpLow, out.CpHigh = indexLimits(out.Cp, n-1, level)
	out.CpkLow, out.CpkHigh = cpkLimits(out.Cpk, n, level)
	out.Below, out.Above = unit.Percent(100*normalBelow((low-mean)/sd)), unit.Percent(100*normalBelow((mean-high)/sd))
	if in.Target != 0 {
		x2 := square((mean - float64(in.Target)) / sd)
		out.Cpm = out.Cp / math.Sqrt(1+float64(x2))
		out.CpmLow, out.CpmHigh = indexLimits(out.Cpm, n*square(1+float64(x2))/(1+float64(2*x2)), level)
	}
	worst, worstLow := out.Cpk, out.CpkLow
	if in.Overall != 0 {
		all := float64(in.Overall)
		out.Pp = (high - low) / (6 * all)
		out.Ppk = min(mean-low, high-mean) / (3 * all)
		out.PpLow, out.PpHigh = indexLimits(out.Pp, n-1, level)
		out.PpkLow, out.PpkHigh = cpkLimits(out.Ppk, n, level)
		worst, worstLow = min(worst, out.Ppk), min(worstLow, out.PpkLow)
	}
	switch {
	case worst < in.Required:
		out.Conditions |= NotCapable
	case worstLow < in.Required:
		out.Conditions |= WeighMore
	}
	if w != nil {
		w.Given("mean", "m", mean, "g", "")
		w.Given("standard deviation within subgroups", "s", sd, "g", "")
		w.Given("pieces", "n", n, "pieces", "")
		w.Given("lightest allowed", "L", low, "g", "")
		w.Given("heaviest allowed", "H", high, "g", "")
		w.Step("tolerance over scatter", "Cp", "(H - L)/(6*s)", out.Cp, "", "")
		w.Step("room below", "Cpl", "(m - L)/(3*s)", out.Cpl, "", "")
		w.Step("room above", "Cpu", "(H - m)/(3*s)", out.Cpu, "", "")
		w.Step("the smaller", "Cpk", "min(Cpl, Cpu)", out.Cpk, "", "")
		w.Given("normal quantile", "z", normalQuantile((1+level)/2), "", "two-sided at the level")
		w.Step("half-width of its limits", "U", "z*sqrt(1/(9*n) + Cpk*Cpk/(2*(n - 1)))", (out.CpkHigh-out.CpkLow)/2, "", "")
		w.Step("Cpk is at least", "Cpk_low", "Cpk - U", out.CpkLow, "", "")
	}
	return out, nil
}

func checkTolerance(c *reckon.Checks, low, high unit.Mass) {
	lowOK := reckon.CheckRange(c, "low", low, 0, heaviestPiece)
	if reckon.CheckRange(c, "high", high, 0, heaviestPiece) && lowOK && !(high-low >= 1e-6) {
		c.Fail("high", high.String(), "more than low, "+low.String())
	}
}

// indexLimits returns the limits of an index that goes as 1/s.
func indexLimits(index, df, level float64) (low, high float64) {
	return index * math.Sqrt(chiSquareQuantile((1-level)/2, df)/df), index * math.Sqrt(chiSquareQuantile((1+level)/2, df)/df)
}

func cpkLimits(cpk, n, level float64) (low, high float64) {
	half := normalQuantile((1+level)/2) * math.Sqrt(1/(9*n)+float64(cpk*cpk)/(2*(n-1)))
	return cpk - float64(half), cpk + float64(half)
}

// SDForCapability returns the largest scatter with which the process reaches
// the capability asked for:
//
//	s = min(m - L, H - m) / (3 Cpk)
//
// It is the inverse of [Capability], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - low or high is outside 0 g to 100 kg, or high is not above low,
//   - mean is not between low and high, or cpk is outside 0.1 to 5.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 6.1.6.
type SDForCapability struct {
	Mean unit.Mass `json:"mean"` // mean weight of the pieces, between low and high
	Low  unit.Mass `json:"low"`  // lightest piece allowed; 0 g to 100 kg
	High unit.Mass `json:"high"` // heaviest piece allowed; above low, to 100 kg
	Cpk  float64   `json:"cpk"`  // capability asked for; 0.1 to 5
}

func (SDForCapability) ID() string { return "sd-for-capability" }

// SHELL
func (q SDForCapability) Check(c *reckon.Checks) {
	_, err := explainSDForCapability(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SDForCapability) Solve() (SDForCapabilityResult, error) {
	return explainSDForCapability(q, nil)
}

func (q SDForCapability) Show(w *reckon.Working, _ SDForCapabilityResult) {
	_, _ = explainSDForCapability(q, w)
}

// SDForCapabilityResult is the scatter that may be.
type SDForCapabilityResult struct {
	SD unit.Mass `json:"sd"` // largest standard deviation of single pieces with that Cpk
}

func explainSDForCapability(in SDForCapability, w *reckon.Working) (out SDForCapabilityResult, err error) {
	c := reckon.Checks{Func: "sd-for-capability"}
	checkTolerance(&c, in.Low, in.High)
	reckon.CheckRange(&c, "cpk", in.Cpk, 0.1, 5)
	if c.OK() && !(in.Mean > in.Low && in.Mean < in.High) {
		c.Fail("mean", in.Mean.String(), "more than low, "+in.Low.String()+", and less than high, "+in.High.String())
	} else if !c.OK() {
		reckon.CheckRange(&c, "mean", in.Mean, 0, heaviestPiece)
	}
	if err := c.Err(); err != nil {
		return SDForCapabilityResult{}, err
	}
	out = SDForCapabilityResult{SD: min(in.Mean-in.Low, in.High-in.Mean) / unit.Mass(3*in.Cpk)}
	if w != nil {
		w.Given("mean", "m", float64(in.Mean), "g", "")
		w.Given("lightest allowed", "L", float64(in.Low), "g", "")
		w.Given("heaviest allowed", "H", float64(in.High), "g", "")
		w.Given("capability asked for", "Cpk", in.Cpk, "", "")
		w.Step("largest standard deviation", "s", "min(m - L, H - m)/(3*Cpk)", float64(out.SD), "g", "")
	}
	return out, nil
}
