package proof

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// binarySlack leaves out the last digits that binary arithmetic adds to a
// product or a quotient: 110 * 1.1 comes out a little above 121. They are no
// more than two parts in 1e16 for each of the two factors' roundings.
const binarySlack = 1 - 1e-15

// up rounds up, a whole number that came out a little above itself to itself.
func up(v float64) float64 { return math.Ceil(v * binarySlack) }

// down rounds down, a whole number that came out a little below itself to itself.
func down(v float64) float64 { return math.Floor(v * (1 + 1e-15)) }

// ceil rounds up a count that is known to be small.
func ceil(v float64) int { return int(up(v)) }

// Dwell returns how long a piece stays in the overhead proofer, in how many
// passes, and how many pieces are inside:
//
//	n = P / a,  T = F + (n - 2)*N + L,  t = T / (strokes * r)
//
// with P pockets across a tray, a pieces across, F trays on the first pass, N
// on a full one, L on the last, and r trays per stroke. A piece of a single
// pass travels from the chute straight to the discharge. With the transfer at
// the chute F = N; with the last pass whole as well and every tray filled,
// rate x dwell = pockets x trays.
//
// It is exact for a proofer whose pieces move on by the lanes loaded each time
// round; [Lanes] takes any other pattern. Because both machines change speed
// together, half the speed doubles the dwell.
//
// It returns an *[reckon.InputError] if:
//   - a number that describes the proofer is out of its range,
//   - across does not divide the pockets evenly,
//   - strokes is outside 0.01 to 10000 strokes/min.
//
// Source: common practice (six pockets take rolls two across in three passes and
// bread one across in six); content = rate x dwell is Little's law.
//
// The inverse is [StrokesForDwell].
type Dwell struct {
	Proofer Proofer         `json:"proofer"` // the overhead proofer
	Across  int             `json:"across"`  // pieces dropped by one stroke, side by side; must divide the pockets evenly
	Strokes unit.StrokeRate `json:"strokes"` // speed of the divider, 0.01 to 10000 strokes/min
}

func (Dwell) ID() string { return "proofer-dwell" }

// SHELL
func (q Dwell) Check(c *reckon.Checks) {
	_, err := explainDwell(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Dwell) Solve() (DwellResult, error) { return explainDwell(q, nil) }

func (q Dwell) Show(w *reckon.Working, _ DwellResult) { _, _ = explainDwell(q, w) }

// DwellResult is the time in the proofer.
type DwellResult struct {
	Passes     int             `json:"passes"`     // times a piece goes round
	Dwell      unit.Duration   `json:"dwell"`      // from dropping into the tray to leaving it
	Rate       unit.PieceRate  `json:"rate"`       // pieces in, and out once full
	Inside     int             `json:"inside"`     // most pieces inside at once when running full, counted just after a stroke
	TrayRate   float64         `json:"tray_rate"`  // trays/min past the chute
	Conditions Conditions      `json:"conditions"` // part-pass
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainDwell(in Dwell, w *reckon.Working) (out DwellResult, err error) {
	c := reckon.Checks{Func: "proofer-dwell"}
	in.Proofer.check(&c, in.Across)
	reckon.CheckRange(&c, "strokes", in.Strokes, minStrokes, maxStrokes)
	if err := c.Err(); err != nil {
		return DwellResult{}, err
	}
	out = steady(&in.Proofer, in.Across, in.Strokes)
	if w != nil {
		in.Proofer.explain(w, in.Across)
		w.Given("divider speed", "S", float64(in.Strokes), "strokes/min", "")
		explainSteady(w, out)
		w.Step("dwell", "t", "T / v * 60", float64(out.Dwell), "s", "trays travelled over trays a minute")
	}
	return out, nil
}

// steady is a checked proofer running full at the given speed.
func steady(p *Proofer, across int, strokes unit.StrokeRate) (out DwellResult) {
	out.Passes = p.passes(across)
	travel := p.travelled(out.Passes)
	out.Rate = unit.PieceRate(float64(strokes) * float64(across))
	out.Inside, out.Conditions, out.Cautions = p.inside(travel, across), p.conditions(), reckon.MovingMachinery
	out.Dwell, out.TrayRate = p.dwell(travel, strokes)
	return out
}

func explainSteady(w *reckon.Working, out DwellResult) {
	w.Step("trays a minute", "v", "S * r", out.TrayRate, "trays/min", "")
	w.Step("pieces a minute", "R", "S * a", float64(out.Rate), "pieces/min", "")
	w.Step("most pieces inside", "I", "a * ceil(T / r * (1 - 1e-15))", float64(out.Inside), "", "a stroke for every r trays of travel, but none for a last binary digit")
}

// StrokesForDwell returns the divider speed that gives a wanted time in the
// overhead proofer:
//
//	strokes = T / (t * r)
//
// with the symbols of [Dwell], of which it is the inverse, with the same
// validity. It does not know what the divider can do: [Speed] holds the answer
// against the limits of the machines.
//
// It returns an *[reckon.InputError] if:
//   - a number that describes the proofer is out of its range,
//   - across does not divide the pockets evenly,
//   - dwell is outside 1 s to 24 h.
//
// Source: as for [Dwell].
//
// The inverse is [Dwell].
type StrokesForDwell struct {
	Proofer Proofer       `json:"proofer"` // the overhead proofer
	Across  int           `json:"across"`  // pieces dropped by one stroke, side by side; must divide the pockets evenly
	Dwell   unit.Duration `json:"dwell"`   // wanted time in the proofer, 1 s to 24 h
}

func (StrokesForDwell) ID() string { return "strokes-for-dwell" }

// SHELL
func (q StrokesForDwell) Check(c *reckon.Checks) {
	_, err := explainStrokesForDwell(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StrokesForDwell) Solve() (StrokesForDwellResult, error) {
	return explainStrokesForDwell(q, nil)
}

func (q StrokesForDwell) Show(w *reckon.Working, _ StrokesForDwellResult) {
	_, _ = explainStrokesForDwell(q, w)
}

// StrokesForDwellResult is the speed to run at.
type StrokesForDwellResult struct {
	Strokes    unit.StrokeRate `json:"strokes"`    // speed of the divider
	Passes     int             `json:"passes"`     // times a piece goes round
	Rate       unit.PieceRate  `json:"rate"`       // pieces in, and out once full
	Inside     int             `json:"inside"`     // most pieces inside at once when running full, counted just after a stroke
	TrayRate   float64         `json:"tray_rate"`  // trays/min past the chute
	Conditions Conditions      `json:"conditions"` // part-pass
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainStrokesForDwell(in StrokesForDwell, w *reckon.Working) (out StrokesForDwellResult, err error) {
	c := reckon.Checks{Func: "strokes-for-dwell"}
	in.Proofer.check(&c, in.Across)
	reckon.CheckRange(&c, "dwell", in.Dwell, minDwell, maxDwell)
	if err := c.Err(); err != nil {
		return StrokesForDwellResult{}, err
	}
	strokes := in.Proofer.strokes(in.Proofer.travel(in.Across), in.Dwell)
	run := steady(&in.Proofer, in.Across, strokes)
	out = StrokesForDwellResult{
		Strokes: strokes, Passes: run.Passes, Rate: run.Rate, Inside: run.Inside,
		TrayRate: run.TrayRate, Conditions: run.Conditions, Cautions: run.Cautions,
	}
	if w != nil {
		in.Proofer.explain(w, in.Across)
		w.Given("wanted dwell", "t", float64(in.Dwell), "s", "")
		w.Step("divider speed", "S", "T / (t / 60) / r", float64(strokes), "strokes/min", "trays travelled in the time wanted")
	}
	return out, nil
}
