package proof

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// maxPieces limits a run, so that every count and time stays exact.
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

// Clear asks when the first and the last piece of a run leave the overhead
// proofer, how many a stop would strand, and when the next product may follow:
//
//	n = P / a, T = F + (n - 2)*N + L, k = ceil(m / a), v = S * r
//	t_1 = T / v * 60, t_2 = (k - 1) / S * 60
//	t_3 = (ceil((k - 1)*r) + T) / v * 60, t_4 = t_3 - t_2
//	I = min(m, a * ceil(T / r))
//	g = 1 / S * 60 on the next tray, g = t_4 after a clear-out
//
// with k strokes and the symbols of [Dwell]. Times count from the first
// stroke. Both machines run at one speed until the last piece is out; scaling
// is off, and the oil shut, after the last stroke.
//
// The next product may follow one stroke later if it is loaded the same number
// across: then pieces leave in the order in which they came and no pocket
// changes hands (rule "next-tray"). Otherwise, or if it is not known, the
// proofer is run empty first (rule "clear-out").
//
// It is exact for a steady run; [Run] follows stops, speed changes and jams.
//
// It is refused if:
//   - first_pass_trays or last_pass_trays exceeds the trays,
//   - across, or next_across if it is given, does not divide the pockets evenly.
//
// Source: common practice (divider and proofer start, stop and change speed
// together; oil is shut whenever scaling stops).
type Clear struct {
	Proofer    Proofer         `json:"proofer"`                                                     // the overhead proofer
	Across     int             `json:"across" sym:"a" range:"-"`                                    // pieces dropped by one stroke, side by side; must divide the pockets evenly
	Strokes    unit.StrokeRate `json:"strokes" sym:"S" range:"0.01 strokes/min..10000 strokes/min"` // speed of the divider
	Pieces     int             `json:"pieces" sym:"m" range:"1..100000000"`                         // pieces in the run; the last stroke may drop fewer
	NextAcross int             `json:"next_across,omitzero" range:"-"`                              // lanes of the product that follows, which must divide the pockets evenly; leave out if it is not known, and the proofer is run empty to be safe
}

// ClearResult is when the pieces of a run come out.
type ClearResult struct {
	FirstOut      unit.Duration   `json:"first_out" sym:"t_1"`    // from the first stroke until the first pieces leave
	LastIn        unit.Duration   `json:"last_in" sym:"t_2"`      // from the first stroke to the last one
	LastOut       unit.Duration   `json:"last_out" sym:"t_3"`     // from the first stroke until the last piece has left
	ClearOut      unit.Duration   `json:"clear_out" sym:"t_4"`    // from the last stroke until the last piece has left, both machines running on with scaling off
	Stranded      int             `json:"stranded" sym:"I"`       // pieces inside if both machines stop when the proofer is at its fullest
	ChangeoverGap unit.Duration   `json:"changeover_gap" sym:"g"` // from the last stroke of this run to the earliest first stroke of the next product
	Rule          GapRule         `json:"rule"`                   // "next-tray" or "clear-out": why the next product waits that long
	Conditions    Conditions      `json:"conditions"`             // part-pass
	Cautions      reckon.Cautions `json:"cautions"`               // moving-machinery, oil-slip, locked-out, allergens
}

func (Clear) ID() string { return "proofer-clear" }

func (q Clear) Check(c *reckon.Checks) { q.check(c) }

func (q *Clear) check(c *reckon.Checks) {
	q.Proofer.checkAcross(c, q.Across)
	reckon.CheckRange(c, "strokes", q.Strokes, minStrokes, maxStrokes)
	reckon.CheckCount(c, "pieces", q.Pieces, 1, maxPieces)
	if q.NextAcross != 0 {
		q.Proofer.checkLanes(c, "next_across", q.NextAcross)
	}
}

func (q Clear) Solve() (out ClearResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *Clear) SolveInto(out *ClearResult) error {
	*out = ClearResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	p := &q.Proofer
	strokes := (q.Pieces + q.Across - 1) / q.Across
	travel := p.travel(q.Across)
	dwell, trayRate := p.dwell(travel, q.Strokes)
	lastTray := p.tray(strokes - 1)
	out.FirstOut = dwell
	out.LastIn = unit.Duration(float64(strokes-1) / float64(q.Strokes) * 60)
	out.LastOut = unit.Duration((lastTray + float64(travel)) / trayRate * 60)
	out.Stranded, out.Rule = min(q.Pieces, p.inside(travel, q.Across)), GapClearOut
	out.Conditions, out.Cautions = p.conditions(), reckon.MovingMachinery|reckon.OilSlip|reckon.LockedOut|reckon.Allergens
	out.ClearOut = out.LastOut - out.LastIn
	out.ChangeoverGap = out.ClearOut
	if q.NextAcross == q.Across {
		out.ChangeoverGap, out.Rule = unit.Duration(1/float64(q.Strokes)*60), GapNextTray
	}
	return nil
}

func (q Clear) Show(w *reckon.Working, out ClearResult) {
	w.Inputs(q)
	q.Proofer.show(w, q.Across)
	w.Lines(out,
		"strokes: k = ceil(m/a)  [the last may drop fewer]",
		"trays a minute: v = S*r in trays/min",
		"first pieces out: t_1 = T/v*60{s/min}  [the dwell]",
		"last stroke: t_2 = (k - 1)/S*60{s/min}  [the first stroke is at 0]",
		"last piece out: t_3 = (ceil((k - 1)*r) + T)/v*60{s/min}  [its tray and the travel]",
		"clear-out: t_4 = t_3 - t_2",
		"most pieces inside: I = min(m, a*ceil(T/r))  [a stroke for every r trays of travel, or the whole run]",
	)
	if out.Rule == GapNextTray {
		w.Lines(out, "wait of the next product: g = 1/S*60{s/min}  [same number across: the next tray is free]")
	} else {
		w.Lines(out, "wait of the next product: g = t_4  [the proofer is run empty first]")
	}
}
