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

// Dwell asks how long a piece stays in the overhead proofer, in how many
// passes, and how many pieces are inside:
//
//	n = P / a, T = F + (n - 2)*N + L
//	v = S * r, t = T / v * 60
//	R = S * a, I = a * ceil(T / r)
//
// with P pockets across a tray, a pieces across, F trays on the first pass, N
// on a full one, L on the last, and r trays per stroke. A piece of a single
// pass travels from the chute straight to the discharge: T = F + L, less N if
// that exceeds N. With the transfer at the chute F = N; with the last pass
// whole as well and every tray filled, rate x dwell = pockets x trays.
//
// It is exact for a proofer whose pieces move on by the lanes loaded each time
// round; [Lanes] takes any other pattern. Because both machines change speed
// together, half the speed doubles the dwell.
//
// It is refused if:
//   - first_pass_trays or last_pass_trays exceeds the trays,
//   - across does not divide the pockets evenly.
//
// Source: common practice (six pockets take rolls two across in three passes and
// bread one across in six); content = rate x dwell is Little's law.
//
// The inverse is [StrokesForDwell].
type Dwell struct {
	Proofer Proofer         `json:"proofer"`                                                     // the overhead proofer
	Across  int             `json:"across" sym:"a" range:"-"`                                    // pieces dropped by one stroke, side by side; must divide the pockets evenly
	Strokes unit.StrokeRate `json:"strokes" sym:"S" range:"0.01 strokes/min..10000 strokes/min"` // speed of the divider
}

// DwellResult is the time in the proofer.
type DwellResult struct {
	Passes     int             `json:"passes" sym:"n"`     // times a piece goes round
	Dwell      unit.Duration   `json:"dwell" sym:"t"`      // from dropping into the tray to leaving it
	PieceRate  unit.PieceRate  `json:"piece_rate" sym:"R"` // pieces in, and out once full
	Inside     int             `json:"inside" sym:"I"`     // most pieces inside at once when running full, counted just after a stroke
	TrayRate   unit.TrayRate   `json:"tray_rate" sym:"v"`  // trays past the chute
	Conditions Conditions      `json:"conditions"`         // part-pass
	Cautions   reckon.Cautions `json:"cautions"`           // moving-machinery, running-drive
}

func (Dwell) ID() string { return "proofer-dwell" }

func (q Dwell) Check(c *reckon.Checks) { q.check(c) }

func (q *Dwell) check(c *reckon.Checks) {
	q.Proofer.checkAcross(c, q.Across)
	reckon.CheckRange(c, "strokes", q.Strokes, minStrokes, maxStrokes)
}

func (q Dwell) Solve() (out DwellResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *Dwell) SolveInto(out *DwellResult) error {
	*out = DwellResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	out.steady(&q.Proofer, q.Across, q.Strokes)
	return nil
}

func (q Dwell) Show(w *reckon.Working, out DwellResult) {
	w.Inputs(q)
	q.Proofer.show(w, q.Across)
	w.Lines(out,
		"trays a minute: v = S*r",
		"pieces a minute: R = S*a",
		"most pieces inside: I = a*ceil(T/r)  [a stroke for every r trays of travel]",
		"dwell: t = T/v*60{s/min}  [trays travelled over trays a minute]",
	)
}

// steady is a checked proofer running full at the given speed.
func (out *DwellResult) steady(p *Proofer, across int, strokes unit.StrokeRate) {
	out.Passes = p.passes(across)
	travel := p.travelled(out.Passes)
	out.PieceRate = unit.PieceRate(float64(strokes) * float64(across))
	out.Inside, out.Conditions, out.Cautions = p.inside(travel, across), p.conditions(), reckon.MovingMachinery|reckon.RunningDrive
	dwell, trayRate := p.dwell(travel, strokes)
	out.Dwell, out.TrayRate = dwell, unit.TrayRate(trayRate)
}

// StrokesForDwell asks how fast the divider must run for a given time in the
// overhead proofer:
//
//	n = P / a, T = F + (n - 2)*N + L
//	S = T / (t / 60) / r
//	v = S * r, R = S * a, I = a * ceil(T / r)
//
// with the symbols of [Dwell], of which it is the inverse, with the same
// validity. It does not know what the divider can do: [Speed] holds the answer
// against the limits of the machines.
//
// It is refused if:
//   - first_pass_trays or last_pass_trays exceeds the trays,
//   - across does not divide the pockets evenly.
//
// Source: as for [Dwell].
//
// The inverse is [Dwell].
type StrokesForDwell struct {
	Proofer Proofer       `json:"proofer"`                         // the overhead proofer
	Across  int           `json:"across" sym:"a" range:"-"`        // pieces dropped by one stroke, side by side; must divide the pockets evenly
	Dwell   unit.Duration `json:"dwell" sym:"t" range:"1 s..24 h"` // time that the product is to have in the proofer
}

// StrokesForDwellResult is the speed to run at.
type StrokesForDwellResult struct {
	Strokes    unit.StrokeRate `json:"strokes" sym:"S"`    // speed of the divider
	Passes     int             `json:"passes" sym:"n"`     // times a piece goes round
	PieceRate  unit.PieceRate  `json:"piece_rate" sym:"R"` // pieces in, and out once full
	Inside     int             `json:"inside" sym:"I"`     // most pieces inside at once when running full, counted just after a stroke
	TrayRate   unit.TrayRate   `json:"tray_rate" sym:"v"`  // trays past the chute
	Conditions Conditions      `json:"conditions"`         // part-pass
	Cautions   reckon.Cautions `json:"cautions"`           // moving-machinery, running-drive
}

func (StrokesForDwell) ID() string { return "strokes-for-dwell" }

func (q StrokesForDwell) Check(c *reckon.Checks) {
	q.Proofer.checkAcross(c, q.Across)
	reckon.CheckRange(c, "dwell", q.Dwell, minDwell, maxDwell)
}

func (q StrokesForDwell) Solve() (out StrokesForDwellResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Strokes = q.Proofer.strokes(q.Proofer.travel(q.Across), q.Dwell)
	var run DwellResult
	run.steady(&q.Proofer, q.Across, out.Strokes)
	out.Passes, out.PieceRate, out.Inside, out.TrayRate = run.Passes, run.PieceRate, run.Inside, run.TrayRate
	out.Conditions, out.Cautions = run.Conditions, run.Cautions
	return out, nil
}

func (q StrokesForDwell) Show(w *reckon.Working, out StrokesForDwellResult) {
	w.Inputs(q)
	q.Proofer.show(w, q.Across)
	w.Lines(out,
		"divider speed: S = T/(t/60{s/min})/r  [trays travelled over the time to be taken]",
		"trays a minute: v = S*r",
		"pieces a minute: R = S*a",
		"most pieces inside: I = a*ceil(T/r)  [a stroke for every r trays of travel]",
	)
}
