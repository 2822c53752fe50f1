package proof

import (
	"math"
	"sort"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// limitSlack is how far, as a part of it, a limit may be passed: a speed that
// was computed from a dwell gives it back but for the last binary digits.
const limitSlack = 1e-9

// maxPause is the longest stop that a piece is followed through.
const maxPause unit.Duration = 24 * 3600

// SpeedChange returns the dwell of the pieces that are inside while the speed
// changes or the machines stand:
//
//	t(f) = f*t_1 + pause + (1 - f)*t_2
//
// for a piece that has the share f of its way behind it, with t_1 the dwell at
// the old speed and t_2 at the new one. It runs in a straight line from the
// piece that was dropped last to the one that leaves next. A dwell that passes
// a limit by a billionth of it or less does not lie outside.
//
// It is exact for a full proofer at one speed before and one after, the change
// coming just after a stroke; [Run] follows any number of changes.
//
// It returns an *[reckon.InputError] if:
//   - a number that describes the proofer is out of its range,
//   - across does not divide the pockets evenly,
//   - from or to is outside 0.01 to 10000 strokes/min, or pause outside 0 s to 24 h,
//   - dwell_low or dwell_high is outside 1 s to 24 h, or the window is empty.
//
// Source: common practice (divider and proofer start, stop and change speed
// together); derived from the way travelled.
//
// LongestPause answers the question the other way round.
type SpeedChange struct {
	Proofer   Proofer         `json:"proofer"`        // the overhead proofer
	Across    int             `json:"across"`         // pieces dropped by one stroke, side by side; must divide the pockets evenly
	From      unit.StrokeRate `json:"from"`           // speed until the change, 0.01 to 10000 strokes/min
	Pause     unit.Duration   `json:"pause,omitzero"` // how long both machines stand between, 0 to 24 h; leave out if they run on
	To        unit.StrokeRate `json:"to"`             // speed from then on, 0.01 to 10000 strokes/min; equal to from for a stop alone
	DwellLow  unit.Duration   `json:"dwell_low"`      // shortest dwell that the product wants, 1 s to 24 h
	DwellHigh unit.Duration   `json:"dwell_high"`     // longest, dwell_low to 24 h
}

func (SpeedChange) ID() string { return "proofer-speed-change" }

// SHELL
func (q SpeedChange) Check(c *reckon.Checks) {
	_, err := explainSpeedChange(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SpeedChange) Solve() (SpeedChangeResult, error) { return explainSpeedChange(q, nil) }

func (q SpeedChange) Show(w *reckon.Working, _ SpeedChangeResult) { _, _ = explainSpeedChange(q, w) }

// SpeedChangeResult is what a change of speed does to the pieces inside.
type SpeedChangeResult struct {
	Before       unit.Duration   `json:"before"`        // dwell of the pieces that left before the change
	After        unit.Duration   `json:"after"`         // dwell of the pieces loaded after it
	NextOut      unit.Duration   `json:"next_out"`      // dwell of the piece that leaves next: its way is behind it, only the stop counts
	JustIn       unit.Duration   `json:"just_in"`       // dwell of the piece dropped by the last stroke before the change: the stop and the whole way at the new speed
	Settled      unit.Duration   `json:"settled"`       // from the change until every piece that leaves has the new dwell
	Inside       int             `json:"inside"`        // pieces inside at the change: those whose dwell it can alter, whether it does or not
	Outside      int             `json:"outside"`       // those of them whose dwell comes to lie outside what the product wants
	LongestPause unit.Duration   `json:"longest_pause"` // longest stop that keeps every piece below the longest dwell; 0 if none does
	Conditions   Conditions      `json:"conditions"`    // dwell-outside-window, part-pass
	Cautions     reckon.Cautions `json:"cautions"`      // moving-machinery
}

func explainSpeedChange(in SpeedChange, w *reckon.Working) (out SpeedChangeResult, err error) {
	c := reckon.Checks{Func: "proofer-speed-change"}
	in.Proofer.check(&c, in.Across)
	reckon.CheckRange(&c, "from", in.From, minStrokes, maxStrokes)
	reckon.CheckRange(&c, "to", in.To, minStrokes, maxStrokes)
	reckon.CheckRange(&c, "pause", in.Pause, 0, maxPause)
	checkDwellWindow(&c, in.DwellLow, in.DwellHigh)
	if err := c.Err(); err != nil {
		return SpeedChangeResult{}, err
	}
	p := in.Proofer
	travel := p.travel(in.Across)
	out = SpeedChangeResult{Inside: p.inside(travel, in.Across), Conditions: p.conditions(), Cautions: reckon.MovingMachinery}
	out.Before, _ = p.dwell(travel, in.From)
	out.After, _ = p.dwell(travel, in.To)
	out.NextOut, out.JustIn = out.Before+in.Pause, out.After+in.Pause
	out.Settled = in.Pause + out.After
	out.LongestPause = max(0, in.DwellHigh-max(out.Before, out.After))
	// The dwell of the piece of the stroke so many strokes ago. It only rises
	// or only falls with the strokes, so that the ends of what is outside can be searched for.
	dwell := func(ago int) float64 {
		share := math.Min(1, float64(ago)*p.TraysPerStroke/float64(travel))
		return float64(out.After) + float64(share*float64(out.Before-out.After)) + float64(in.Pause)
	}
	low, high := float64(in.DwellLow)*(1-limitSlack), float64(in.DwellHigh)*(1+limitSlack)
	n := out.Inside / in.Across
	rising := out.Before > out.After
	short := sort.Search(n, func(ago int) bool { return dwell(ago) < low != rising })
	long := sort.Search(n, func(ago int) bool { return dwell(ago) > high == rising })
	if rising {
		long = n - long // short ones are the newest, long ones the oldest
	} else {
		short = n - short
	}
	out.Outside = in.Across * (short + long)
	if out.Outside > 0 {
		out.Conditions |= DwellOutsideWindow
	}
	if w != nil {
		p.explain(w, in.Across)
		w.Given("old speed", "S_1", float64(in.From), "strokes/min", "")
		w.Given("new speed", "S_2", float64(in.To), "strokes/min", "")
		w.Given("stop", "p", float64(in.Pause), "s", "")
		w.Given("longest dwell wanted", "t_h", float64(in.DwellHigh), "s", "")
		w.Step("dwell before", "t_1", "T / (S_1 * r) * 60", float64(out.Before), "s", "")
		w.Step("dwell after", "t_2", "T / (S_2 * r) * 60", float64(out.After), "s", "")
		w.Step("longest stop", "p_max", "max(0, t_h - max(t_1, t_2))", float64(out.LongestPause), "s", "")
		w.Step("dwell of the piece that leaves next", "t_next", "t_1 + p", float64(out.NextOut), "s", "f = 1")
		w.Step("dwell of the piece dropped last", "t_last", "t_2 + p", float64(out.JustIn), "s", "f = 0")
	}
	return out, nil
}

// checkDwellWindow wants a window with something in it.
func checkDwellWindow(c *reckon.Checks, low, high unit.Duration) {
	lowOK := reckon.CheckRange(c, "dwell_low", low, minDwell, maxDwell)
	highOK := reckon.CheckRange(c, "dwell_high", high, minDwell, maxDwell)
	if lowOK && highOK && low > high {
		c.Fail("dwell_high", high.String(), "at least dwell_low, "+low.String())
	}
}
