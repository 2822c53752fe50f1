package proof

import (
	"fmt"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// maxLimits is the longest list of limits, far above any line's number of machines.
const maxLimits = 100

// dwellLimit is what the product's range of dwell is called among the limits.
const dwellLimit = "dwell"

// tie stands between the names of limits that apply together.
const tie = " and "

// maxLimitRate is the fastest stroke of the widest proofer.
const maxLimitRate = unit.PieceRate(float64(maxStrokes) * maxPockets)

// StrokeLimit is the range of divider speeds that one machine or one stage allows.
type StrokeLimit struct {
	Name string          `json:"name"`                                                     // whose limit it is, as a person would say it: "stamper"
	Low  unit.StrokeRate `json:"low" sym:"l_#" range:"0 strokes/min..10000 strokes/min"`   // slowest; 0 if there is no slowest
	High unit.StrokeRate `json:"high" sym:"h_#" range:">0 strokes/min..10000 strokes/min"` // fastest, not below low
}

// RateLimit is the range of pieces a minute that one stage takes, such as the
// final proof (see [RateForFinalProofLoad]) or the oven. How many strokes that
// is depends on the number across.
type RateLimit struct {
	Name string         `json:"name"`                                                      // whose limit it is, as a person would say it: "oven"
	Low  unit.PieceRate `json:"low" sym:"r_l#" range:"0 pieces/min..2000000 pieces/min"`   // slowest; 0 if there is no slowest
	High unit.PieceRate `json:"high" sym:"r_h#" range:">0 pieces/min..2000000 pieces/min"` // fastest, not below low
}

// strokes returns the limit in strokes.
func (l *RateLimit) strokes(across int) (low, high unit.StrokeRate) {
	return unit.StrokeRate(float64(l.Low) / float64(across)), unit.StrokeRate(float64(l.High) / float64(across))
}

// Speed asks at which divider speeds the dwell suits the product and every
// other limit holds, and which limit applies on either side:
//
//	n = P / a, T = F + (n - 2)*N + L
//	l_0 = T / (t_max / 60) / r, h_0 = T / (t_min / 60) / r
//	S_low = max(l_0, l_i, ..., r_li / a, ...)
//	S_high = min(h_0, h_i, ..., r_hi / a, ...)
//	R_low = S_low * a, t_low = T / (S_low * r) * 60
//	R_high = S_high * a, t_high = T / (S_high * r) * 60
//
// with the symbols of [Dwell]. Limits that are equal within a billionth all
// apply, and all are named: moving one of them alone changes nothing. The dwell
// comes first, then the limits in strokes and those in pieces, as listed. Limits
// that overlap by a billionth or less meet: the window is then one speed, the
// slower of the two, which is both S_low and S_high.
//
// It is as exact as the limits given: those of a machine come from its plate or
// manual, those of a product from trials.
//
// It is refused if:
//   - first_pass_trays or last_pass_trays exceeds the trays,
//   - across does not divide the pockets evenly,
//   - dwell_low exceeds dwell_high, or a limit's low its high,
//   - a limit has no name.
//
// Source: common practice (divider and proofer change speed together, so that
// every stage downstream sees the divider's rate).
//
// [StrokesForDwell] answers for one dwell.
type Speed struct {
	Proofer   Proofer       `json:"proofer"`                                  // the overhead proofer
	Across    int           `json:"across" sym:"a" range:"-"`                 // pieces dropped by one stroke, side by side; must divide the pockets evenly
	DwellLow  unit.Duration `json:"dwell_low" sym:"t_min" range:"1 s..24 h"`  // shortest dwell that suits the product
	DwellHigh unit.Duration `json:"dwell_high" sym:"t_max" range:"1 s..24 h"` // longest, not below dwell_low
	Limits    []StrokeLimit `json:"limits" items:"0..100"`                    // divider, stamper, moulder and so on, each as divider strokes; may be empty
	Rates     []RateLimit   `json:"rates,omitzero" items:"0..100"`            // final proof, oven and so on, each in pieces; leave out if there are none
}

// SpeedResult is the window of speeds that suits everything.
type SpeedResult struct {
	Low         unit.StrokeRate `json:"low" sym:"S_low"`            // slowest speed that everything allows
	High        unit.StrokeRate `json:"high" sym:"S_high"`          // fastest
	LowLimit    string          `json:"low_limit"`                  // what does not allow a slower speed: "dwell" (the longest one) or the limit's name; several that are equal are joined by " and "
	HighLimit   string          `json:"high_limit"`                 // what does not allow a faster speed: "dwell" (the shortest one) or the limit's name; several that are equal are joined by " and "
	RateLow     unit.PieceRate  `json:"rate_low" sym:"R_low"`       // pieces at low
	RateHigh    unit.PieceRate  `json:"rate_high" sym:"R_high"`     // pieces at high
	DwellAtLow  unit.Duration   `json:"dwell_at_low" sym:"t_low"`   // dwell at low, the longest in the window
	DwellAtHigh unit.Duration   `json:"dwell_at_high" sym:"t_high"` // dwell at high, the shortest in the window
	Conditions  Conditions      `json:"conditions"`                 // part-pass
	Cautions    reckon.Cautions `json:"cautions"`                   // moving-machinery, running-drive
}

func (Speed) ID() string { return "proofer-speed" }

func (q Speed) Check(c *reckon.Checks) { q.check(c) }

func (q *Speed) check(c *reckon.Checks) {
	q.Proofer.checkAcross(c, q.Across)
	checkDwellWindow(c, q.DwellLow, q.DwellHigh)
	if len(q.Limits) > maxLimits {
		c.Fail("limits", strconv.Itoa(len(q.Limits))+" limits", "at most "+strconv.Itoa(maxLimits))
	} else {
		for i := range q.Limits {
			if l := &q.Limits[i]; !inOrder(l.Name, l.Low, l.High, maxStrokes) {
				mark := c.Mark()
				checkLimit(c, l.Name, l.Low, l.High, maxStrokes)
				c.Item(mark, "limits", i)
			}
		}
	}
	if len(q.Rates) > maxLimits {
		c.Fail("rates", strconv.Itoa(len(q.Rates))+" limits", "at most "+strconv.Itoa(maxLimits))
	} else {
		for i := range q.Rates {
			if l := &q.Rates[i]; !inOrder(l.Name, l.Low, l.High, maxLimitRate) {
				mark := c.Mark()
				checkLimit(c, l.Name, l.Low, l.High, maxLimitRate)
				c.Item(mark, "rates", i)
			}
		}
	}
}

// checkDwellWindow checks a range of dwell, which must have something in it.
func checkDwellWindow(c *reckon.Checks, low, high unit.Duration) {
	lowOK := reckon.CheckRange(c, "dwell_low", low, minDwell, maxDwell)
	highOK := reckon.CheckRange(c, "dwell_high", high, minDwell, maxDwell)
	if lowOK && highOK && low > high {
		c.Fail("dwell_high", high.String(), "at least dwell_low, "+low.String())
	}
}

func inOrder[R unit.StrokeRate | unit.PieceRate](name string, low, high, most R) bool {
	return name != "" && low >= 0 && low <= high && high > 0 && high <= most
}

// checkLimit says what is wrong with a limit that is not in order.
func checkLimit[R unit.StrokeRate | unit.PieceRate](c *reckon.Checks, name string, low, high, most R) {
	if name == "" {
		c.Fail("name", "empty", "a name, such as \"stamper\"")
	}
	lowOK := reckon.CheckRange(c, "low", low, 0, most)
	highOK := reckon.CheckAbove(c, "high", high, most)
	if lowOK && highOK {
		reckon.CheckRange(c, "high", high, low, most)
	}
}

// Solve has no answer if two limits exclude each other; the error names them
// and the speeds nearest to both.
func (q Speed) Solve() (out SpeedResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *Speed) SolveInto(out *SpeedResult) error {
	*out = SpeedResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	q.window(out)
	if out.Low > out.High*(1+limitSlack) {
		err := q.conflict(out)
		*out = SpeedResult{}
		return err
	}
	out.Low = min(out.Low, out.High)
	travel := q.Proofer.travel(q.Across)
	out.Conditions, out.Cautions = q.Proofer.conditions(), reckon.MovingMachinery|reckon.RunningDrive
	out.RateLow = unit.PieceRate(float64(out.Low) * float64(q.Across))
	out.RateHigh = unit.PieceRate(float64(out.High) * float64(q.Across))
	out.DwellAtLow, _ = q.Proofer.dwell(travel, out.Low)
	out.DwellAtHigh, _ = q.Proofer.dwell(travel, out.High)
	return nil
}

func (q Speed) Show(w *reckon.Working, out SpeedResult) {
	w.Inputs(q)
	q.Proofer.show(w, q.Across)
	w.Lines(out,
		"slowest for the dwell: l_0 = T/(t_max/60{s/min})/r in strokes/min",
		"fastest for the dwell: h_0 = T/(t_min/60{s/min})/r in strokes/min",
	)
	for i, l := range q.Rates { // by hand, because a name can hold anything
		n := strconv.Itoa(i + 1)
		low, high := l.strokes(q.Across)
		w.Step(l.Name+", slowest", "s_l"+n, "r_l"+n+"/a", float64(low), "strokes/min", "")
		w.Step(l.Name+", fastest", "s_h"+n, "r_h"+n+"/a", float64(high), "strokes/min", "")
	}
	var limits SpeedResult
	q.window(&limits)
	switch {
	case len(q.Limits)+len(q.Rates) == 0:
		w.Lines(out, "slowest for all: S_low = l_0  [set by the dwell]", "fastest for all: S_high = h_0  [set by the dwell]")
	case limits.Low > limits.High:
		w.Lines(out,
			"slowest for all: S_low = min(max(l_0, l_#..., s_l#...), min(h_0, h_#..., s_h#...))  [set by "+out.LowLimit+", which meets "+out.HighLimit+": the slower of the two]",
			"fastest for all: S_high = min(h_0, h_#..., s_h#...)  [set by "+out.HighLimit+"]",
		)
	default:
		w.Lines(out,
			"slowest for all: S_low = max(l_0, l_#..., s_l#...)  [set by "+out.LowLimit+"]",
			"fastest for all: S_high = min(h_0, h_#..., s_h#...)  [set by "+out.HighLimit+"]",
		)
	}
	w.Lines(out,
		"dwell at the slowest: t_low = T/(S_low*r)*60{s/min}",
		"dwell at the fastest: t_high = T/(S_high*r)*60{s/min}",
		"pieces at the slowest: R_low = S_low*a",
		"pieces at the fastest: R_high = S_high*a",
	)
}

// window finds the slowest and the fastest speed that the dwell and every limit allow, and names
// the limits at which they stand, all that apply together. The slowest exceeds the fastest if two
// limits exclude each other.
func (q *Speed) window(out *SpeedResult) {
	travel := q.Proofer.travel(q.Across)
	slowest, fastest := q.Proofer.strokes(travel, q.DwellHigh), q.Proofer.strokes(travel, q.DwellLow)
	out.Low, out.High = slowest, fastest
	for i := range q.Limits {
		out.Low, out.High = max(out.Low, q.Limits[i].Low), min(out.High, q.Limits[i].High)
	}
	for i := range q.Rates {
		low, high := q.Rates[i].strokes(q.Across)
		out.Low, out.High = max(out.Low, low), min(out.High, high)
	}
	// A limit applies where the window stands in the end: one that tied may have been beaten since.
	out.LowLimit, out.HighLimit = "", ""
	out.name(dwellLimit, slowest, fastest)
	for i := range q.Limits {
		out.name(q.Limits[i].Name, q.Limits[i].Low, q.Limits[i].High)
	}
	for i := range q.Rates {
		low, high := q.Rates[i].strokes(q.Across)
		out.name(q.Rates[i].Name, low, high)
	}
}

// name names a limit where the window stands at it.
func (out *SpeedResult) name(name string, low, high unit.StrokeRate) {
	if low >= out.Low*(1-limitSlack) {
		out.LowLimit = beside(out.LowLimit, name)
	}
	if high <= out.High*(1+limitSlack) {
		out.HighLimit = beside(out.HighLimit, name)
	}
}

// beside returns the names of limits that apply together.
func beside(names, name string) string {
	if names == "" {
		return name
	}
	return names + tie + name
}

// conflict says which two limits exclude each other. At the faster of the two
// speeds the one that asks for speed holds, at the slower the other one.
func (q *Speed) conflict(out *SpeedResult) error {
	travel := q.Proofer.travel(q.Across)
	slowDwell, _ := q.Proofer.dwell(travel, out.High)
	fastDwell, _ := q.Proofer.dwell(travel, out.Low)
	return &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "divider speed",
		Wanted: fmt.Sprintf("both %s (%v or more) and %s (%v or less)", out.LowLimit, out.Low, out.HighLimit, out.High),
		Advice: fmt.Sprintf("the nearest are %v (dwell %v), which suits %s, and %v (dwell %v), which suits %s; move one of the two limits, or load another number across",
			out.High, slowDwell, out.HighLimit, out.Low, fastDwell, out.LowLimit),
	}
}
