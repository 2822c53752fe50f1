package divider

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The bounds within which figures of a divider are taken at their word. They
// catch slips of a digit, not an unusual machine.
const (
	minStrokes unit.StrokeRate = 0.01
	maxStrokes unit.StrokeRate = 1000
	maxPieces  unit.PieceRate  = 32000
	maxAcross                  = 32
	maxPiece                   = unit.Mass(100_000)
	maxBatch                   = unit.Mass(10_000_000)
	maxDough   unit.MassRate   = 200_000_000
)

// Rate asks how many pieces the divider makes and how much dough it uses:
//
//	b = 60 / s
//	P = s * a
//	D = P * m * 60 / 1000
//
// It holds while the divider runs without a stop and every pocket fills. A
// standing divider has no rate.
//
// Source: counting; common practice.
//
// The inverse is [StrokesForRate].
type Rate struct {
	Strokes unit.StrokeRate `json:"strokes" sym:"s" range:"0.01 strokes/min..1000 strokes/min"` // strokes of the divider
	Across  int             `json:"across" sym:"a" range:"1..32"`                               // pieces cut at each stroke
	Piece   unit.Mass       `json:"piece" sym:"m" range:">0 g..100 kg"`                         // dough weight of one piece
}

// RateResult is what the divider makes.
type RateResult struct {
	PieceRate unit.PieceRate `json:"piece_rate" sym:"P"` // pieces made
	DoughRate unit.MassRate  `json:"dough_rate" sym:"D"` // dough used
	Beat      unit.Duration  `json:"beat" sym:"b"`       // time from one stroke to the next
}

func (Rate) ID() string { return "divider-rate" }

func (q Rate) Check(c *reckon.Checks) { q.check(c) }

func (q *Rate) check(c *reckon.Checks) {
	reckon.CheckRange(c, "strokes", q.Strokes, minStrokes, maxStrokes)
	reckon.CheckCount(c, "across", q.Across, 1, maxAcross)
	reckon.CheckAbove(c, "piece", q.Piece, maxPiece)
}

func (q Rate) Solve() (out RateResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *Rate) SolveInto(out *RateResult) error {
	*out = RateResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	out.PieceRate = unit.PieceRate(float64(q.Strokes) * float64(q.Across))
	out.DoughRate = unit.MassRate(float64(out.PieceRate) * float64(q.Piece) * 60 / 1000)
	out.Beat = unit.Duration(60 / float64(q.Strokes))
	return nil
}

func (q Rate) Show(w *reckon.Working, out RateResult) {
	w.Inputs(q)
	w.Lines(out,
		"time from stroke to stroke: b = 60{s/min}/s",
		"pieces: P = s*a  [counting]",
		"dough: D = P*m * 60{min/h}/1000{g/kg}  [counting]",
	)
}

// StrokesForRate asks how many strokes make the pieces wanted:
//
//	s   = P / a
//	P_r = min(max(P, s_min * a), s_max * a)
//
// It is the inverse of [Rate], with the same validity. The strokes are never
// forced into the machine's range: what the machine can make instead, P_r,
// stands beside them, with a condition.
//
// Source: counting; common practice.
//
// The inverse is [Rate].
type StrokesForRate struct {
	PieceRate unit.PieceRate `json:"piece_rate" sym:"P" range:"0.01 pieces/min..32000 pieces/min"` // pieces wanted
	Across    int            `json:"across" sym:"a" range:"1..32"`                                 // pieces cut at each stroke

	StrokesLow  unit.StrokeRate `json:"strokes_low,omitzero" sym:"s_min" range:"-"`                                // slowest the machine can stroke, up to strokes_high, or up to 1000 strokes/min without it; leave out if not known
	StrokesHigh unit.StrokeRate `json:"strokes_high,omitzero" sym:"s_max" range:"0 strokes/min..1000 strokes/min"` // fastest the machine can stroke; leave out if not known
}

// StrokesForRateResult is how to run the divider.
type StrokesForRateResult struct {
	Strokes    unit.StrokeRate `json:"strokes" sym:"s"`     // strokes that give the rate, even where the machine cannot run so
	Reachable  unit.PieceRate  `json:"reachable" sym:"P_r"` // the pieces wanted, or the nearest that the machine can make
	Conditions Conditions      `json:"conditions"`          // rate-limited, slower-than-machine
	Cautions   reckon.Cautions `json:"cautions"`            // moving-machinery, running-drive
}

func (StrokesForRate) ID() string { return "strokes-for-rate" }

func (q StrokesForRate) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "piece_rate", q.PieceRate, 0.01, maxPieces)
	reckon.CheckCount(c, "across", q.Across, 1, maxAcross)
	reckon.CheckRange(c, "strokes_high", q.StrokesHigh, 0, maxStrokes)
	if q.StrokesHigh > 0 {
		reckon.CheckRange(c, "strokes_low", q.StrokesLow, 0, q.StrokesHigh)
	} else {
		reckon.CheckRange(c, "strokes_low", q.StrokesLow, 0, maxStrokes)
	}
}

func (q StrokesForRate) Solve() (out StrokesForRateResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Strokes, out.Reachable = unit.StrokeRate(float64(q.PieceRate)/float64(q.Across)), q.PieceRate
	switch {
	case q.StrokesHigh != 0 && out.Strokes > q.StrokesHigh:
		out.Conditions |= reckon.RateLimited
		out.Reachable = unit.PieceRate(float64(q.StrokesHigh) * float64(q.Across))
	case out.Strokes < q.StrokesLow:
		out.Conditions |= SlowerThanMachine
		out.Reachable = unit.PieceRate(float64(q.StrokesLow) * float64(q.Across))
	}
	out.Cautions = reckon.MovingMachinery | reckon.RunningDrive
	return out, nil
}

func (q StrokesForRate) Show(w *reckon.Working, out StrokesForRateResult) {
	w.Inputs(q)
	reachable := "P"
	if q.StrokesLow > 0 {
		reachable = "max(P, s_min*a)"
	}
	if q.StrokesHigh > 0 {
		reachable = "min(" + reachable + ", s_max*a)"
	}
	w.Lines(out,
		"pieces that the machine can make: P_r = "+reachable,
		"strokes: s = P/a  [counting]",
	)
}
