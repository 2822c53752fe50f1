package divider

import (
	"cmp"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Capability asks whether the pieces are steady enough for the tolerance, by the
// usual indices and their confidence limits:
//
//	Cp = (H - L) / (6 s)          Cp_low, Cp_high = Cp * sqrt(chi2 / (n - 1))
//	Cpl = (m - L) / (3 s),  Cpu = (H - m) / (3 s),  Cpk = min(Cpl, Cpu)
//	                              Cpk_low, Cpk_high = Cpk -+ z * sqrt(1/(9n) + Cpk^2 / (2(n - 1)))
//	Cpm = Cp / sqrt(1 + x^2)      Cpm_low, Cpm_high = Cpm * sqrt(chi2(v) / v), x = (m - T)/s,
//	                              v = n (1 + x^2)^2 / (1 + 2 x^2)
//	Pp, Pp_low, Pp_high, Ppk, Ppk_low, Ppk_high: as Cp and Cpk, with S in place of s
//	b_L = Phi((L - m) / q),  b_H = Phi((m - H) / q),  q = S where it is given, s otherwise
//	chi2 at (1 - P) / 2 and (1 + P) / 2,  z at (1 + P) / 2
//
// chi2 stands for the chi-square quantiles, z for the normal one. The standard
// deviation S of all pieces includes the wandering of the mean: Pp and Ppk are
// what the buyer gets, Cp and Cpk what the divider could do if the mean were
// held still. What share falls outside the tolerance is what the buyer gets, so it
// follows S wherever S is given. The limits take n - 1 degrees of freedom, as the source does; a
// deviation from ranges has somewhat fewer.
//
// It sets not-capable if Cpk (or Ppk, where sd_overall is given) is below the one
// required, and weigh-more if it is above but its lower limit is not.
//
// The indices mean something only for a process in control ([ControlChart])
// whose weights scatter normally.
//
// It is refused if:
//   - high is not above low, or target is not between them.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control;
// NIST/SEMATECH e-Handbook of Statistical Methods, section 6.1.6; R. A. Boyles,
// Journal of Quality Technology 23 (1991), 17-26 (Cpm).
//
// The inverse is [SDForCapability].
type Capability struct {
	Mean       unit.Mass    `json:"mean" sym:"m" range:"1 mg..100 kg"`                    // mean weight of the pieces
	SDWithin   unit.Mass    `json:"sd_within" sym:"s" range:"0.001 mg..100 kg"`           // standard deviation within subgroups, from [SetUpChart]
	SDOverall  unit.Mass    `json:"sd_overall,omitzero" sym:"S" range:"0.001 mg..100 kg"` // standard deviation of all pieces together, from [PieceSample]; left out, there is no Pp
	Pieces     int          `json:"pieces" sym:"n" range:"2..1000000"`                    // pieces behind them
	Low        unit.Mass    `json:"low" sym:"L" range:"0 g..100 kg"`                      // lightest piece allowed
	High       unit.Mass    `json:"high" sym:"H" range:"-"`                               // heaviest piece allowed; above low, to 100 kg
	Target     unit.Mass    `json:"target,omitzero" sym:"T" range:"-"`                    // weight aimed at, between low and high; left out, there is no Cpm
	Confidence unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"`             // confidence of the limits
	Required   float64      `json:"required" range:"0.1..5"`                              // Cpk that the plant or its buyer asks for, 1.33 being usual
}

// CapabilityResult holds the indices, each with its limits at the confidence asked for.
type CapabilityResult struct {
	Cp         float64      `json:"cp" sym:"Cp"`             // tolerance over six standard deviations within subgroups
	CpLow      float64      `json:"cp_low" sym:"Cp_low"`     // Cp is at least this
	CpHigh     float64      `json:"cp_high" sym:"Cp_high"`   // and at most this
	Cpl        float64      `json:"cpl" sym:"Cpl"`           // room below the mean over three standard deviations
	Cpu        float64      `json:"cpu" sym:"Cpu"`           // room above the mean over three standard deviations
	Cpk        float64      `json:"cpk" sym:"Cpk"`           // the smaller of the two; below zero if the mean lies outside
	CpkLow     float64      `json:"cpk_low" sym:"Cpk_low"`   // Cpk is at least this
	CpkHigh    float64      `json:"cpk_high" sym:"Cpk_high"` // and at most this
	Cpm        float64      `json:"cpm" sym:"Cpm"`           // Cp with the distance from the target counted as scatter; 0 without a target
	CpmLow     float64      `json:"cpm_low" sym:"Cpm_low"`   // Cpm is at least this
	CpmHigh    float64      `json:"cpm_high" sym:"Cpm_high"` // and at most this
	Pp         float64      `json:"pp" sym:"Pp"`             // as Cp, from the standard deviation of all pieces; 0 if it was not given
	PpLow      float64      `json:"pp_low" sym:"Pp_low"`     // Pp is at least this
	PpHigh     float64      `json:"pp_high" sym:"Pp_high"`   // and at most this
	Ppk        float64      `json:"ppk" sym:"Ppk"`           // as Cpk, from the standard deviation of all pieces; 0 if it was not given
	PpkLow     float64      `json:"ppk_low" sym:"Ppk_low"`   // Ppk is at least this
	PpkHigh    float64      `json:"ppk_high" sym:"Ppk_high"` // and at most this
	ShareBelow unit.Percent `json:"share_below" sym:"b_L"`   // share of pieces to expect below low, were weights normal; by sd_overall where it is given
	ShareAbove unit.Percent `json:"share_above" sym:"b_H"`   // share of pieces to expect above high, likewise
	Conditions Conditions   `json:"conditions"`              // not-capable, weigh-more
}

func (Capability) ID() string { return "capability" }

func (q Capability) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "mean", q.Mean, lightestPiece, heaviestPiece)
	checkSD(c, "sd_within", q.SDWithin)
	if q.SDOverall != 0 {
		checkSD(c, "sd_overall", q.SDOverall)
	}
	reckon.CheckCount(c, "pieces", q.Pieces, 2, 1_000_000)
	low, high := checkTolerance(c, q.Low, q.High)
	if q.Target != 0 {
		reckon.CheckRange(c, "target", q.Target, low, high)
	}
	checkLevel(c, "confidence", q.Confidence)
	reckon.CheckRange(c, "required", q.Required, 0.1, 5)
}

func (q Capability) Solve() (out CapabilityResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n, level := float64(q.Pieces), float64(q.Confidence)/100
	mean, low, high, sd := float64(q.Mean), float64(q.Low), float64(q.High), float64(q.SDWithin)
	out = CapabilityResult{Cp: (high - low) / (6 * sd), Cpl: (mean - low) / (3 * sd), Cpu: (high - mean) / (3 * sd)}
	out.Cpk = min(out.Cpl, out.Cpu)
	out.CpLow, out.CpHigh = indexLimits(out.Cp, n-1, level)
	out.CpkLow, out.CpkHigh = cpkLimits(out.Cpk, n, level)
	spread := cmp.Or(float64(q.SDOverall), sd)
	out.ShareBelow, out.ShareAbove = unit.Percent(100*normalBelow((low-mean)/spread)), unit.Percent(100*normalBelow((mean-high)/spread))
	if q.Target != 0 {
		x2 := square((mean - float64(q.Target)) / sd)
		out.Cpm = out.Cp / math.Sqrt(1+float64(x2))
		out.CpmLow, out.CpmHigh = indexLimits(out.Cpm, n*square(1+float64(x2))/(1+float64(2*x2)), level)
	}
	worst, worstLow := out.Cpk, out.CpkLow
	if q.SDOverall != 0 {
		all := float64(q.SDOverall)
		out.Pp = (high - low) / (6 * all)
		out.Ppk = min(mean-low, high-mean) / (3 * all)
		out.PpLow, out.PpHigh = indexLimits(out.Pp, n-1, level)
		out.PpkLow, out.PpkHigh = cpkLimits(out.Ppk, n, level)
		worst, worstLow = min(worst, out.Ppk), min(worstLow, out.PpkLow)
	}
	switch {
	case worst < q.Required:
		out.Conditions |= NotCapable
	case worstLow < q.Required:
		out.Conditions |= WeighMore
	}
	return out, nil
}

func (q Capability) Show(w *reckon.Working, out CapabilityResult) {
	n, level := float64(q.Pieces), float64(q.Confidence)/100
	w.Inputs(q)
	w.Given("lower chi-square quantile", "X_low", chiSquareQuantile((1-level)/2, n-1), "", "n - 1 degrees of freedom, at (1 - P/100)/2")
	w.Given("upper chi-square quantile", "X_high", chiSquareQuantile((1+level)/2, n-1), "", "n - 1 degrees of freedom, at (1 + P/100)/2")
	w.Given("normal quantile", "z", normalQuantile((1+level)/2), "", "at (1 + P/100)/2")
	w.Lines(out,
		"tolerance over scatter: Cp = (H - L)/(6*s)",
		"Cp is at least: Cp_low = Cp*sqrt(X_low/(n - 1))",
		"Cp is at most: Cp_high = Cp*sqrt(X_high/(n - 1))",
		"room below: Cpl = (m - L)/(3*s)",
		"room above: Cpu = (H - m)/(3*s)",
		"the smaller: Cpk = min(Cpl, Cpu)",
		"half-width of its limits: U = z*sqrt(1/(9*n) + Cpk*Cpk/(2*(n - 1)))",
		"Cpk is at least: Cpk_low = Cpk - U",
		"Cpk is at most: Cpk_high = Cpk + U",
	)
	if q.SDOverall != 0 {
		w.Lines(out, "scatter that pieces leave with: q = S  [of all pieces: the wandering of the mean counts]")
	} else {
		w.Lines(out, "scatter that pieces leave with: q = s  [within subgroups: the mean is taken to stand still]")
	}
	w.Lines(out,
		"lower limit in standard deviations from the mean: z_L = (L - m)/q",
		"upper limit in standard deviations from the mean: z_H = (H - m)/q",
		"share below the lower limit: b_L = 100*normal(z_L)  [share of a normal distribution below z_L]",
		"share above the upper limit: b_H = 100*normal(-z_H)",
	)
	if q.Target != 0 {
		x2 := square((float64(q.Mean) - float64(q.Target)) / float64(q.SDWithin))
		v := n * square(1+float64(x2)) / (1 + float64(2*x2))
		w.Lines(out,
			"distance from the target in standard deviations: x = (m - T)/s",
			"tolerance over scatter and distance: Cpm = Cp/sqrt(1 + x*x)  [Boyles 1991]",
			"its degrees of freedom: v = n*(1 + x*x)*(1 + x*x)/(1 + 2*x*x)",
		)
		w.Given("lower chi-square quantile for it", "X_v_low", chiSquareQuantile((1-level)/2, v), "", "v degrees of freedom, at (1 - P/100)/2")
		w.Given("upper chi-square quantile for it", "X_v_high", chiSquareQuantile((1+level)/2, v), "", "v degrees of freedom, at (1 + P/100)/2")
		w.Lines(out,
			"Cpm is at least: Cpm_low = Cpm*sqrt(X_v_low/v)",
			"Cpm is at most: Cpm_high = Cpm*sqrt(X_v_high/v)",
		)
	}
	if q.SDOverall != 0 {
		w.Lines(out,
			"tolerance over the scatter of all pieces: Pp = (H - L)/(6*S)",
			"Pp is at least: Pp_low = Pp*sqrt(X_low/(n - 1))",
			"Pp is at most: Pp_high = Pp*sqrt(X_high/(n - 1))",
			"smaller room over the scatter of all pieces: Ppk = min(m - L, H - m)/(3*S)",
			"half-width of its limits: U_p = z*sqrt(1/(9*n) + Ppk*Ppk/(2*(n - 1)))",
			"Ppk is at least: Ppk_low = Ppk - U_p",
			"Ppk is at most: Ppk_high = Ppk + U_p",
		)
	}
}

// checkTolerance requires a tolerance. It returns it, or where it is refused the widest there may be.
func checkTolerance(c *reckon.Checks, low, high unit.Mass) (from, to unit.Mass) {
	lowOK, highOK := reckon.CheckRange(c, "low", low, 0, heaviestPiece), reckon.CheckRange(c, "high", high, 0, heaviestPiece)
	switch {
	case !lowOK || !highOK:
	case !(high-low >= 1e-6):
		c.Fail("high", high.String(), "more than low, "+low.String())
	default:
		return low, high
	}
	return 0, heaviestPiece
}

// indexLimits returns the limits of an index that goes as 1/s.
func indexLimits(index, df, level float64) (low, high float64) {
	return index * math.Sqrt(chiSquareQuantile((1-level)/2, df)/df), index * math.Sqrt(chiSquareQuantile((1+level)/2, df)/df)
}

func cpkLimits(cpk, n, level float64) (low, high float64) {
	half := normalQuantile((1+level)/2) * math.Sqrt(1/(9*n)+float64(cpk*cpk)/(2*(n-1)))
	return cpk - float64(half), cpk + float64(half)
}

// SDForCapability asks how little the pieces must scatter for the capability
// required:
//
//	s = min(m - L, H - m) / (3 Cpk)
//
// It is the inverse of [Capability], with the same validity and source.
//
// It is refused if:
//   - high is not above low, or mean is not between them.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 6.1.6.
//
// The inverse is [Capability].
type SDForCapability struct {
	Mean unit.Mass `json:"mean" sym:"m" range:"-"`          // mean weight of the pieces, between low and high
	Low  unit.Mass `json:"low" sym:"L" range:"0 g..100 kg"` // lightest piece allowed
	High unit.Mass `json:"high" sym:"H" range:"-"`          // heaviest piece allowed; above low, to 100 kg
	Cpk  float64   `json:"cpk" sym:"Cpk" range:"0.1..5"`    // capability asked for
}

// SDForCapabilityResult is the scatter that the tolerance allows.
type SDForCapabilityResult struct {
	SD unit.Mass `json:"sd" sym:"s"` // largest standard deviation of single pieces with that Cpk
}

func (SDForCapability) ID() string { return "sd-for-capability" }

func (q SDForCapability) Check(c *reckon.Checks) {
	low, high := checkTolerance(c, q.Low, q.High)
	if !(q.Mean > low && q.Mean < high) {
		c.Fail("mean", q.Mean.String(), "more than "+low.String()+" and less than "+high.String()+", between low and high")
	}
	reckon.CheckRange(c, "cpk", q.Cpk, 0.1, 5)
}

func (q SDForCapability) Solve() (out SDForCapabilityResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.SD = min(q.Mean-q.Low, q.High-q.Mean) / unit.Mass(3*q.Cpk)
	return out, nil
}

func (q SDForCapability) Show(w *reckon.Working, out SDForCapabilityResult) {
	w.Inputs(q)
	w.Lines(out, "largest standard deviation: s = min(m - L, H - m)/(3*Cpk)")
}
