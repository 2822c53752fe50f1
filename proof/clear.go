package proof

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// maxPieces bounds a run, so that every count and time stays exact.
const maxPieces = 100_000_000

// GapRule names why the next product has to wait.
type GapRule string

const (
	// GapNextTray says that the next product follows on the next tray: it is
	// loaded the same number across, so the pieces leave in the order in which they came.
	GapNextTray GapRule = "next-tray"
	// GapClearOut says that the proofer is run empty first: with another
	// number across the transfers are set differently, and the lanes of the two
	// products would share trays.
	GapClearOut GapRule = "clear-out"
)

// Clear returns when the first and the last piece of a run leave the overhead
// proofer, how many a stop would strand, and when the next product may follow:
//
//	first out = t,  last in = (k - 1) / strokes,  last out = (ceil((k - 1)*r) + T) / (strokes * r)
//
// with k = ceil(pieces / across) strokes and the symbols of [Dwell]. Times
// count from the first stroke. Both machines run at one speed until the last
// piece is out; scaling is off, and the oil shut, after the last stroke.
//
// The next product may follow one stroke later if it is loaded the same number
// across: then pieces leave in the order in which they came and no pocket
// changes hands (rule "next-tray"). Otherwise, or if it is not known, the
// proofer is run empty first (rule "clear-out").
//
// It is exact for a steady run; [Run] follows stops, speed changes and jams.
//
// It returns an *[reckon.InputError] if:
//   - a number that describes the proofer is out of its range,
//   - across, or next_across if it is given, does not divide the pockets evenly,
//   - strokes is outside 0.01 to 10000 strokes/min or pieces outside 1 to 100 million.
//
// Source: common practice (divider and proofer start, stop and change speed
// together; oil is shut whenever scaling stops).
type Clear struct {
	Proofer    Proofer         `json:"proofer"`              // the overhead proofer
	Across     int             `json:"across"`               // pieces dropped by one stroke, side by side; must divide the pockets evenly
	Strokes    unit.StrokeRate `json:"strokes"`              // speed of the divider, 0.01 to 10000 strokes/min
	Pieces     int             `json:"pieces"`               // pieces in the run, 1 to 100 million; the last stroke may drop fewer
	NextAcross int             `json:"next_across,omitzero"` // lanes of the product that follows; leave out if it is not known, and the proofer is run empty to be safe
}

func (Clear) ID() string { return "proofer-clear" }

// SHELL
func (q Clear) Check(c *reckon.Checks) {
	_, err := explainClear(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Clear) Solve() (ClearResult, error) { return explainClear(q, nil) }

func (q Clear) Show(w *reckon.Working, _ ClearResult) { _, _ = explainClear(q, w) }

// ClearResult is when the pieces of a run come out.
type ClearResult struct {
	FirstOut   unit.Duration   `json:"first_out"`  // from the first stroke until the first pieces leave
	LastIn     unit.Duration   `json:"last_in"`    // from the first stroke to the last one
	LastOut    unit.Duration   `json:"last_out"`   // from the first stroke until the last piece has left
	ClearOut   unit.Duration   `json:"clear_out"`  // from the last stroke until the last piece has left, both machines running on with scaling off
	Stranded   int             `json:"stranded"`   // pieces inside if both machines stop when the proofer is at its fullest
	Gap        unit.Duration   `json:"gap"`        // from the last stroke of this run to the earliest first stroke of the next product
	Rule       GapRule         `json:"rule"`       // "next-tray" or "clear-out": why the next product waits that long
	Conditions Conditions      `json:"conditions"` // part-pass
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, oil-slip, locked-out
}

func explainClear(in Clear, w *reckon.Working) (out ClearResult, err error) {
	c := reckon.Checks{Func: "proofer-clear"}
	in.Proofer.check(&c, in.Across)
	reckon.CheckRange(&c, "strokes", in.Strokes, minStrokes, maxStrokes)
	reckon.CheckCount(&c, "pieces", in.Pieces, 1, maxPieces)
	if in.NextAcross != 0 {
		in.Proofer.checkLanes(&c, "next_across", in.NextAcross)
	}
	if err := c.Err(); err != nil {
		return ClearResult{}, err
	}
	p := &in.Proofer
	strokes := (in.Pieces + in.Across - 1) / in.Across
	travel := p.travel(in.Across)
	dwell, trayRate := p.dwell(travel, in.Strokes)
	lastTray := p.tray(strokes - 1)
	out = ClearResult{
		FirstOut: dwell,
		LastIn:   unit.Duration(float64(strokes-1) / float64(in.Strokes) * 60),
		LastOut:  unit.Duration((lastTray + float64(travel)) / trayRate * 60),
		Stranded: min(in.Pieces, p.inside(travel, in.Across)), Rule: GapClearOut,
		Conditions: p.conditions(), Cautions: reckon.MovingMachinery | reckon.OilSlip | reckon.LockedOut,
	}
	out.ClearOut = out.LastOut - out.LastIn
	out.Gap = out.ClearOut
	if in.NextAcross == in.Across {
		out.Gap, out.Rule = unit.Duration(1/float64(in.Strokes)*60), GapNextTray
	}
	if w != nil {
		p.explain(w, in.Across)
		w.Given("divider speed", "S", float64(in.Strokes), "strokes/min", "")
		w.Given("pieces", "m", float64(in.Pieces), "", "")
		w.Step("strokes", "k", "ceil(m / a)", float64(strokes), "", "the last may drop fewer")
		w.Step("trays a minute", "v", "S * r", trayRate, "trays/min", "")
		w.Step("first pieces out", "t_1", "T / v * 60", float64(out.FirstOut), "s", "the dwell")
		w.Step("last stroke", "t_2", "(k - 1) / S * 60", float64(out.LastIn), "s", "the first stroke is at 0")
		w.Step("most pieces inside", "I", "min(m, a * ceil(T / r * (1 - 1e-15)))", float64(out.Stranded), "", "a stroke for every r trays of travel, or the whole run")
		if out.Rule == GapNextTray {
			w.Step("wait of the next product", "g", "1 / S * 60", float64(out.Gap), "s", "same number across: the next tray is free")
		}
		w.Step("last piece out", "t_3", "(ceil((k - 1) * r * (1 - 1e-15)) + T) / v * 60", float64(out.LastOut), "s", "its tray and the travel")
		w.Step("clear-out", "t_4", "t_3 - t_2", float64(out.ClearOut), "s", "")
	}
	return out, nil
}
