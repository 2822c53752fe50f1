package proof

import (
	"fmt"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// maxLimits bounds the list of limits, far above any line's number of machines.
const maxLimits = 100

// dwellLimit is the name under which the product's dwell window binds.
const dwellLimit = "dwell"

// StrokeLimit is the range of divider speeds that one machine or one stage allows.
type StrokeLimit struct {
	Name string          `json:"name"` // whose limit it is, as a person would say it: "stamper"
	Low  unit.StrokeRate `json:"low"`  // slowest, 0 or more; 0 if it knows no slowest
	High unit.StrokeRate `json:"high"` // fastest, above 0 and not below low, up to 10000 strokes/min
}

// RateLimit is the range of pieces a minute that one stage takes, such as the
// final proof (see [RateForFinalProofLoad]) or the oven. How many strokes that
// is depends on the number across.
type RateLimit struct {
	Name string         `json:"name"` // whose limit it is, as a person would say it: "oven"
	Low  unit.PieceRate `json:"low"`  // slowest, 0 or more; 0 if it knows no slowest
	High unit.PieceRate `json:"high"` // fastest, above 0 and not below low, up to 2 million pieces/min
}

// strokes returns the limit in strokes.
func (l RateLimit) strokes(across int) StrokeLimit {
	return StrokeLimit{Name: l.Name, Low: unit.StrokeRate(float64(l.Low) / float64(across)), High: unit.StrokeRate(float64(l.High) / float64(across))}
}

// Speed returns the divider speeds at which the dwell suits the product and
// every other limit holds, and what binds on either side:
//
//	low = max(T / (t_high * r), low_1, low_2, ..., rate_low / a, ...)
//	high = min(T / (t_low * r), high_1, high_2, ..., rate_high / a, ...)
//
// with the symbols of [Dwell]. Where two limits are equal the dwell is named
// first, then the limits in strokes and those in pieces, as listed. Limits that
// pass each other by a billionth or less meet: the window is then one speed,
// the slower of the two, which is low and high.
//
// It is as exact as the limits given: those of a machine come from its plate or
// manual, those of a product from trials.
//
// It returns an *[reckon.InputError] if:
//   - a number that describes the proofer is out of its range,
//   - across does not divide the pockets evenly,
//   - dwell_low or dwell_high is outside 1 s to 24 h, or the window is empty,
//   - a limit has no name, is out of its range or has low above high, or there are more than 100 of a kind.
//
// It returns a *[reckon.NoSolutionError] that names the two limits that
// exclude each other and the speeds nearest to both.
//
// Source: common practice (divider and proofer change speed together, so that
// every stage downstream sees the divider's rate).
//
// [StrokesForDwell] answers for one dwell.
type Speed struct {
	Proofer   Proofer       `json:"proofer"`        // the overhead proofer
	Across    int           `json:"across"`         // pieces dropped by one stroke, side by side; must divide the pockets evenly
	DwellLow  unit.Duration `json:"dwell_low"`      // shortest dwell that the product wants, 1 s to 24 h
	DwellHigh unit.Duration `json:"dwell_high"`     // longest, dwell_low to 24 h
	Limits    []StrokeLimit `json:"limits"`         // divider, stamper, moulder and so on, each as divider strokes; at most 100, may be empty
	Rates     []RateLimit   `json:"rates,omitzero"` // final proof, oven and so on, each in pieces; at most 100; leave out if there are none
}

func (Speed) ID() string { return "proofer-speed" }

// SHELL
func (q Speed) Check(c *reckon.Checks) {
	_, err := explainSpeed(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Speed) Solve() (SpeedResult, error) { return explainSpeed(q, nil) }

func (q Speed) Show(w *reckon.Working, _ SpeedResult) { _, _ = explainSpeed(q, w) }

// SpeedResult is the window of speeds that everything shares.
type SpeedResult struct {
	Low         unit.StrokeRate `json:"low"`           // slowest speed that everything allows
	High        unit.StrokeRate `json:"high"`          // fastest
	LowLimit    string          `json:"low_limit"`     // what forbids to run slower: "dwell" (the longest one) or the limit's name
	HighLimit   string          `json:"high_limit"`    // what forbids to run faster: "dwell" (the shortest one) or the limit's name
	RateLow     unit.PieceRate  `json:"rate_low"`      // pieces at low
	RateHigh    unit.PieceRate  `json:"rate_high"`     // pieces at high
	DwellAtLow  unit.Duration   `json:"dwell_at_low"`  // dwell at low, the longest in the window
	DwellAtHigh unit.Duration   `json:"dwell_at_high"` // dwell at high, the shortest in the window
	Conditions  Conditions      `json:"conditions"`    // part-pass
	Cautions    reckon.Cautions `json:"cautions"`      // moving-machinery
}

func (in *Speed) check(c *reckon.Checks) {
	in.Proofer.check(c, in.Across)
	checkDwellWindow(c, in.DwellLow, in.DwellHigh)
	// The paths are only put together for a limit that is wrong, so that a good list costs nothing.
	if len(in.Limits) > maxLimits {
		c.Fail("limits", strconv.Itoa(len(in.Limits))+" limits", "at most "+strconv.Itoa(maxLimits))
	} else {
		for i := range in.Limits {
			l := &in.Limits[i]
			if !inOrder(l.Name, l.Low, l.High, maxStrokes) {
				checkLimit(c, fmt.Sprintf("limits[%d]", i), l.Name, l.Low, l.High, maxStrokes)
			}
		}
	}
	if len(in.Rates) > maxLimits {
		c.Fail("rates", strconv.Itoa(len(in.Rates))+" limits", "at most "+strconv.Itoa(maxLimits))
	} else {
		for i := range in.Rates {
			l := &in.Rates[i]
			if !inOrder(l.Name, l.Low, l.High, maxLimitRate) {
				checkLimit(c, fmt.Sprintf("rates[%d]", i), l.Name, l.Low, l.High, maxLimitRate)
			}
		}
	}
}

// maxLimitRate is the fastest stroke of the widest proofer.
const maxLimitRate = unit.PieceRate(float64(maxStrokes) * maxPockets)

func inOrder[R unit.StrokeRate | unit.PieceRate](name string, low, high, most R) bool {
	return name != "" && low >= 0 && low <= high && high > 0 && high <= most
}

// checkLimit says what is wrong with a limit that is not in order.
func checkLimit[R unit.StrokeRate | unit.PieceRate](c *reckon.Checks, path, name string, low, high, most R) {
	if name == "" {
		c.Fail(path+".name", "empty", "a name, such as \"stamper\"")
	}
	lowOK := reckon.CheckRange(c, path+".low", low, 0, most)
	highOK := reckon.CheckPositive(c, path+".high", high) && reckon.CheckRange(c, path+".high", high, 0, most)
	if lowOK && highOK && high < low {
		reckon.CheckRange(c, path+".high", high, low, most)
	}
}

func explainSpeed(in Speed, w *reckon.Working) (out SpeedResult, err error) {
	c := reckon.Checks{Func: "proofer-speed"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return SpeedResult{}, err
	}
	travel := in.Proofer.travel(in.Across)
	out.Low, out.LowLimit = in.Proofer.strokes(travel, in.DwellHigh), dwellLimit
	out.High, out.HighLimit = in.Proofer.strokes(travel, in.DwellLow), dwellLimit
	out.Conditions, out.Cautions = in.Proofer.conditions(), reckon.MovingMachinery
	if w != nil {
		in.Proofer.explain(w, in.Across)
		w.Given("longest dwell", "t_1", float64(in.DwellHigh), "s", "")
		w.Given("shortest dwell", "t_2", float64(in.DwellLow), "s", "")
		w.Step("slowest for the dwell", "S_1", "T / (t_1 / 60) / r", float64(out.Low), "strokes/min", "")
		w.Step("fastest for the dwell", "S_2", "T / (t_2 / 60) / r", float64(out.High), "strokes/min", "")
	}
	for _, l := range in.Limits {
		out.narrow(l)
	}
	for _, l := range in.Rates {
		out.narrow(l.strokes(in.Across))
	}
	meets := out.Low > out.High
	if meets {
		if out.Low > out.High*(1+limitSlack) {
			return SpeedResult{}, in.conflict(out)
		}
		out.Low = out.High
	}
	out.RateLow = unit.PieceRate(float64(out.Low) * float64(in.Across))
	out.RateHigh = unit.PieceRate(float64(out.High) * float64(in.Across))
	out.DwellAtLow, _ = in.Proofer.dwell(travel, out.Low)
	out.DwellAtHigh, _ = in.Proofer.dwell(travel, out.High)
	if w != nil {
		in.explainWindow(w, out, meets)
	}
	return out, nil
}

// narrow holds the window within a limit.
func (r *SpeedResult) narrow(l StrokeLimit) {
	if l.Low > r.Low {
		r.Low, r.LowLimit = l.Low, l.Name
	}
	if l.High < r.High {
		r.High, r.HighLimit = l.High, l.Name
	}
}

func (in *Speed) explainWindow(w *reckon.Working, out SpeedResult, meets bool) {
	low, high := "max(S_1", "min(S_2"
	if len(in.Limits)+len(in.Rates) == 0 {
		low, high = "(S_1", "(S_2"
	}
	for i, l := range in.Limits {
		n := strconv.Itoa(i + 1)
		w.Given(l.Name+", slowest", "l_"+n, float64(l.Low), "strokes/min", "")
		w.Given(l.Name+", fastest", "h_"+n, float64(l.High), "strokes/min", "")
		low, high = low+", l_"+n, high+", h_"+n
	}
	for i, l := range in.Rates {
		n, strokes := strconv.Itoa(i+1), l.strokes(in.Across)
		w.Given(l.Name+", fewest pieces", "r_l"+n, float64(l.Low), "pieces/min", "")
		w.Given(l.Name+", most pieces", "r_h"+n, float64(l.High), "pieces/min", "")
		w.Step(l.Name+", slowest", "s_l"+n, "r_l"+n+" / a", float64(strokes.Low), "strokes/min", "")
		w.Step(l.Name+", fastest", "s_h"+n, "r_h"+n+" / a", float64(strokes.High), "strokes/min", "")
		low, high = low+", s_l"+n, high+", s_h"+n
	}
	low, why := low+")", "bound by "+out.LowLimit
	if meets {
		low, why = "min("+low+", "+high+"))", why+", which meets "+out.HighLimit+": the slower of the two"
	}
	w.Step("slowest for all", "S_low", low, float64(out.Low), "strokes/min", why)
	w.Step("fastest for all", "S_high", high+")", float64(out.High), "strokes/min", "bound by "+out.HighLimit)
	w.Step("dwell at the slowest", "t_low", "T / (S_low * r) * 60", float64(out.DwellAtLow), "s", "")
	w.Step("dwell at the fastest", "t_high", "T / (S_high * r) * 60", float64(out.DwellAtHigh), "s", "")
	w.Step("pieces at the slowest", "R_low", "S_low * a", float64(out.RateLow), "pieces/min", "")
	w.Step("pieces at the fastest", "R_high", "S_high * a", float64(out.RateHigh), "pieces/min", "")
}

// conflict says which two limits exclude each other. At the faster of the two
// speeds the limit that wants to go fast holds, at the slower the other one.
func (in *Speed) conflict(out SpeedResult) error {
	travel := in.Proofer.travel(in.Across)
	slowDwell, _ := in.Proofer.dwell(travel, out.High)
	fastDwell, _ := in.Proofer.dwell(travel, out.Low)
	return &reckon.NoSolutionError{
		Func: "proofer-speed", Unknown: "divider speed",
		Wanted: fmt.Sprintf("both %s (%v or more) and %s (%v or less)", out.LowLimit, out.Low, out.HighLimit, out.High),
		Advice: fmt.Sprintf("the nearest are %v (dwell %v), which suits %s, and %v (dwell %v), which suits %s; move one of the two limits, or load another number across",
			out.High, slowDwell, out.HighLimit, out.Low, fastDwell, out.LowLimit),
	}
}
