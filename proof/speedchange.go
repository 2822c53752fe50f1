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

// SpeedChange asks what happens to the dwell of the pieces inside when the
// speed changes or the machines stop:
//
//	n = P / a, T = F + (n - 2)*N + L
//	t_1 = T / (S_1 * r) * 60, t_2 = T / (S_2 * r) * 60
//	t(f) = f*t_1 + p + (1 - f)*t_2, t_next = t(1), t_last = t(0)
//	t_s = p + t_2, I = a * ceil(T / r), O = those of I with t(f) < t_min or t(f) > t_max
//	p_max = max(0, t_max - max(t_1, t_2))
//
// for a piece that has the share f of its way behind it, with t_1 the dwell at
// the old speed, t_2 that at the new one, and the symbols of [Dwell]. It runs in
// a straight line from the piece that was dropped last to the one that leaves
// next. A dwell that passes a limit by a billionth of it or less does not lie
// outside.
//
// It is exact for a full proofer at one speed before and one after, the change
// coming just after a stroke; [Run] follows any number of changes.
//
// It is refused if:
//   - first_pass_trays or last_pass_trays exceeds the trays,
//   - across does not divide the pockets evenly,
//   - dwell_low exceeds dwell_high.
//
// Source: common practice (divider and proofer start, stop and change speed
// together); derived from the way travelled.
//
// Its longest_pause answers the question the other way round.
type SpeedChange struct {
	Proofer       Proofer         `json:"proofer"`                                                              // the overhead proofer
	Across        int             `json:"across" sym:"a" range:"-"`                                             // pieces dropped by one stroke, side by side; must divide the pockets evenly
	StrokesBefore unit.StrokeRate `json:"strokes_before" sym:"S_1" range:"0.01 strokes/min..10000 strokes/min"` // speed until the change
	Pause         unit.Duration   `json:"pause,omitzero" sym:"p,0" range:"0 s..24 h"`                           // how long both machines stand between; leave out if they run on
	StrokesAfter  unit.StrokeRate `json:"strokes_after" sym:"S_2" range:"0.01 strokes/min..10000 strokes/min"`  // speed from then on; equal to strokes_before for a stop alone
	DwellLow      unit.Duration   `json:"dwell_low" sym:"t_min" range:"1 s..24 h"`                              // shortest dwell that suits the product
	DwellHigh     unit.Duration   `json:"dwell_high" sym:"t_max" range:"1 s..24 h"`                             // longest, not below dwell_low
}

// SpeedChangeResult is what a change of speed does to the pieces inside.
type SpeedChangeResult struct {
	DwellBefore  unit.Duration   `json:"dwell_before" sym:"t_1"`    // dwell of the pieces that left before the change
	DwellAfter   unit.Duration   `json:"dwell_after" sym:"t_2"`     // dwell of the pieces loaded after it
	NextOut      unit.Duration   `json:"next_out" sym:"t_next"`     // dwell of the piece that leaves next: its way is behind it, only the stop counts
	JustIn       unit.Duration   `json:"just_in" sym:"t_last"`      // dwell of the piece dropped by the last stroke before the change: the stop and the whole way at the new speed
	Settled      unit.Duration   `json:"settled" sym:"t_s"`         // from the change until every piece that leaves has the new dwell
	Inside       int             `json:"inside" sym:"I"`            // pieces inside at the change: those whose dwell it can alter, whether it does or not
	Outside      int             `json:"outside" sym:"O"`           // those of them whose dwell comes to lie outside what suits the product
	LongestPause unit.Duration   `json:"longest_pause" sym:"p_max"` // longest stop that keeps every piece below the longest dwell; 0 if none does
	Conditions   Conditions      `json:"conditions"`                // dwell-outside-window, part-pass
	Cautions     reckon.Cautions `json:"cautions"`                  // moving-machinery, running-drive
}

func (SpeedChange) ID() string { return "proofer-speed-change" }

func (q SpeedChange) Check(c *reckon.Checks) {
	q.Proofer.checkAcross(c, q.Across)
	reckon.CheckRange(c, "strokes_before", q.StrokesBefore, minStrokes, maxStrokes)
	reckon.CheckRange(c, "strokes_after", q.StrokesAfter, minStrokes, maxStrokes)
	reckon.CheckRange(c, "pause", q.Pause, 0, maxPause)
	checkDwellWindow(c, q.DwellLow, q.DwellHigh)
}

func (q SpeedChange) Solve() (out SpeedChangeResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	p := q.Proofer
	travel := p.travel(q.Across)
	out = SpeedChangeResult{Inside: p.inside(travel, q.Across), Conditions: p.conditions(), Cautions: reckon.MovingMachinery | reckon.RunningDrive}
	out.DwellBefore, _ = p.dwell(travel, q.StrokesBefore)
	out.DwellAfter, _ = p.dwell(travel, q.StrokesAfter)
	out.NextOut, out.JustIn = out.DwellBefore+q.Pause, out.DwellAfter+q.Pause
	out.Settled = q.Pause + out.DwellAfter
	out.LongestPause = max(0, q.DwellHigh-max(out.DwellBefore, out.DwellAfter))
	// The dwell of the piece of the stroke so many strokes ago. It only rises
	// or only falls with the strokes, so that the ends of what is outside can be searched for.
	dwell := func(ago int) float64 {
		share := math.Min(1, float64(ago)*p.TraysPerStroke/float64(travel))
		return float64(out.DwellAfter) + float64(share*float64(out.DwellBefore-out.DwellAfter)) + float64(q.Pause)
	}
	low, high := float64(q.DwellLow)*(1-limitSlack), float64(q.DwellHigh)*(1+limitSlack)
	n := out.Inside / q.Across
	rising := out.DwellBefore > out.DwellAfter
	short := sort.Search(n, func(ago int) bool { return dwell(ago) < low != rising })
	long := sort.Search(n, func(ago int) bool { return dwell(ago) > high == rising })
	if rising {
		long = n - long // short ones are the newest, long ones the oldest
	} else {
		short = n - short
	}
	out.Outside = q.Across * (short + long)
	if out.Outside > 0 {
		out.Conditions |= DwellOutsideWindow
	}
	return out, nil
}

func (q SpeedChange) Show(w *reckon.Working, out SpeedChangeResult) {
	w.Inputs(q)
	q.Proofer.show(w, q.Across)
	w.Lines(out,
		"dwell before: t_1 = T/(S_1*r)*60{s/min}",
		"dwell after: t_2 = T/(S_2*r)*60{s/min}",
		"longest stop: p_max = max(0, t_max - max(t_1, t_2))",
		"most pieces inside: I = a*ceil(T/r)  [a stroke for every r trays of travel]",
	)
	w.Given("pieces outside t_min to t_max", "O", float64(out.Outside), "", "counted from t(f), stroke by stroke")
	w.Lines(out,
		"dwell of the piece that leaves next: t_next = t_1 + p  [f = 1]",
		"dwell of the piece dropped last: t_last = t_2 + p  [f = 0]",
		"settled after: t_s = p + t_2  [the last of the pieces inside has left]",
	)
}
