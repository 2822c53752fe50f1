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

// Rate returns the pieces and the dough that pass a divider:
//
//	pieces = strokes * across
//	dough  = pieces * piece weight
//
// It holds while the divider runs without a stop and every pocket fills.
//
// It returns an *[reckon.InputError] if:
//   - strokes is not 0.01 to 1000 a minute: a standing divider has no rate,
//   - across is not 1 to 32,
//   - piece is not above 0 and up to 100 kg.
//
// Source: counting; common practice.
//
// The inverse is [StrokesForRate].
type Rate struct {
	Strokes unit.StrokeRate `json:"strokes"` // strokes of the divider; 0.01 to 1000 a minute
	Across  int             `json:"across"`  // pieces cut at each stroke; 1 to 32
	Piece   unit.Mass       `json:"piece"`   // dough weight of one piece; above 0 up to 100 kg
}

func (Rate) ID() string { return "divider-rate" }

// SHELL
func (q Rate) Check(c *reckon.Checks) {
	_, err := explainRate(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Rate) Solve() (RateResult, error) { return explainRate(q, nil) }

func (q Rate) Show(w *reckon.Working, _ RateResult) { _, _ = explainRate(q, w) }

// RateResult is what the divider makes.
type RateResult struct {
	Pieces unit.PieceRate `json:"pieces"` // pieces made
	Dough  unit.MassRate  `json:"dough"`  // dough used
	Beat   unit.Duration  `json:"beat"`   // time from one stroke to the next
}

func explainRate(in Rate, w *reckon.Working) (out RateResult, err error) {
	c := reckon.Checks{Func: "divider-rate"}
	reckon.CheckRange(&c, "strokes", in.Strokes, minStrokes, maxStrokes)
	reckon.CheckCount(&c, "across", in.Across, 1, maxAcross)
	reckon.CheckAbove(&c, "piece", in.Piece, maxPiece)
	if err := c.Err(); err != nil {
		return RateResult{}, err
	}
	out = RateResult{
		Pieces: unit.PieceRate(float64(in.Strokes) * float64(in.Across)),
		Beat:   unit.Duration(60 / float64(in.Strokes)),
	}
	out.Dough = doughUsed(out.Pieces, in.Piece)
	if w != nil {
		w.Given("strokes", "s", float64(in.Strokes), "strokes/min", "")
		w.Given("pieces across", "a", float64(in.Across), "", "")
		w.Given("piece weight", "m", float64(in.Piece), "g", "")
		w.Step("time from stroke to stroke", "b", "60 / s", float64(out.Beat), "s", "")
		w.Step("pieces", "P", "s * a", float64(out.Pieces), "pieces/min", "counting")
		w.Step("dough", "D", "P * m * 60 / 1000", float64(out.Dough), "kg/h", "counting")
	}
	return out, nil
}

// doughUsed returns the dough in a stream of pieces.
func doughUsed(p unit.PieceRate, m unit.Mass) unit.MassRate {
	return unit.MassRate(float64(p) * float64(m) * 60 / 1000)
}

// StrokesForRate returns the strokes that make the pieces wanted:
//
//	strokes = pieces / across
//
// The strokes are never bent to the machine's range: what the machine can make
// instead is said beside them, with a condition. It is the inverse of [Rate],
// with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - pieces is not 0.01 to 32000 a minute,
//   - across is not 1 to 32,
//   - slowest or fastest is given and not 0 to 1000 strokes a minute, or slowest is above fastest.
//
// Source: counting; common practice.
//
// The inverse is [Rate].
type StrokesForRate struct {
	Pieces unit.PieceRate `json:"pieces"` // pieces wanted; 0.01 to 32000 a minute
	Across int            `json:"across"` // pieces cut at each stroke; 1 to 32

	Slowest unit.StrokeRate `json:"slowest,omitzero"` // slowest strokes of the machine; leave out if not known
	Fastest unit.StrokeRate `json:"fastest,omitzero"` // fastest strokes of the machine; leave out if not known
}

func (StrokesForRate) ID() string { return "strokes-for-rate" }

// SHELL
func (q StrokesForRate) Check(c *reckon.Checks) {
	_, err := explainStrokesForRate(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StrokesForRate) Solve() (StrokesForRateResult, error) { return explainStrokesForRate(q, nil) }

func (q StrokesForRate) Show(w *reckon.Working, _ StrokesForRateResult) {
	_, _ = explainStrokesForRate(q, w)
}

// StrokesForRateResult is how to run the divider.
type StrokesForRateResult struct {
	Strokes    unit.StrokeRate `json:"strokes"`    // strokes that give the rate, even where the machine cannot run so
	Reachable  unit.PieceRate  `json:"reachable"`  // the pieces wanted, or the nearest that the machine can make
	Conditions Conditions      `json:"conditions"` // rate-limited, slower-than-machine
}

func explainStrokesForRate(in StrokesForRate, w *reckon.Working) (out StrokesForRateResult, err error) {
	c := reckon.Checks{Func: "strokes-for-rate"}
	reckon.CheckRange(&c, "pieces", in.Pieces, 0.01, maxPieces)
	reckon.CheckCount(&c, "across", in.Across, 1, maxAcross)
	reckon.CheckRange(&c, "fastest", in.Fastest, 0, maxStrokes)
	if in.Fastest > 0 {
		reckon.CheckRange(&c, "slowest", in.Slowest, 0, in.Fastest)
	} else {
		reckon.CheckRange(&c, "slowest", in.Slowest, 0, maxStrokes)
	}
	if err := c.Err(); err != nil {
		return StrokesForRateResult{}, err
	}
	out = StrokesForRateResult{Strokes: unit.StrokeRate(float64(in.Pieces) / float64(in.Across)), Reachable: in.Pieces}
	switch {
	case in.Fastest > 0 && out.Strokes > in.Fastest:
		out.Conditions |= reckon.RateLimited
		out.Reachable = unit.PieceRate(float64(in.Fastest) * float64(in.Across))
	case out.Strokes < in.Slowest:
		out.Conditions |= SlowerThanMachine
		out.Reachable = unit.PieceRate(float64(in.Slowest) * float64(in.Across))
	}
	if w != nil {
		w.Given("pieces wanted", "P", float64(in.Pieces), "pieces/min", "")
		w.Given("pieces across", "a", float64(in.Across), "", "")
		w.Step("strokes", "s", "P / a", float64(out.Strokes), "strokes/min", "counting")
	}
	return out, nil
}
