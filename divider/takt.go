package divider

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Takt asks how often a piece must leave the line for an order to be made in
// the time that a shift leaves:
//
//	t_a = t_s - t_b, t = t_a / n
//	R = n / t_a * 60
//
// It is the pace that the buyer sets, not one that a machine can keep: [StrokesForRate]
// turns the piece rate into strokes, and the slowest machine of the line must
// reach it. Time lost to stops and changes of product is a break here.
//
// It is refused if:
//   - the breaks take the whole shift.
//
// Source: production planning's takt time, available time over demand; cases in testdata/cases/divider/takt.json.
//
// The inverse is [PiecesForTakt].
type Takt struct {
	Shift  unit.Duration `json:"shift" sym:"t_s" range:"1 min..7 d"`        // from the start to the end of the work
	Breaks unit.Duration `json:"breaks,omitzero" sym:"t_b,0" range:"0 s.."` // in which nothing leaves the line, all together, less than the shift; leave out for none
	Pieces int           `json:"pieces" sym:"n" range:"1..100000000"`       // good pieces wanted by the end
}

// TaktResult is the pace.
type TaktResult struct {
	Available unit.Duration  `json:"available" sym:"t_a"` // the shift without its breaks
	Takt      unit.Duration  `json:"takt" sym:"t"`        // from piece to piece
	PieceRate unit.PieceRate `json:"piece_rate" sym:"R"`  // the same as pieces a minute, while the line runs
}

// The shortest and the longest shift that is taken at its word.
const (
	shortestShift unit.Duration = 60
	longestShift  unit.Duration = 7 * 86400
)

func (Takt) ID() string { return "takt" }

func (q Takt) Check(c *reckon.Checks) {
	checkShift(c, q.Shift, q.Breaks)
	reckon.CheckCount(c, "pieces", q.Pieces, 1, 100_000_000)
}

// checkShift requires a shift that its breaks do not fill.
func checkShift(c *reckon.Checks, shift, breaks unit.Duration) {
	ok := reckon.CheckRange(c, "shift", shift, shortestShift, longestShift)
	if reckon.CheckNotNegative(c, "breaks", breaks) && ok && breaks >= shift {
		c.Fail("breaks", breaks.String(), "less than the shift of "+shift.String())
	}
}

func (q Takt) Solve() (out TaktResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Available = q.Shift - q.Breaks
	out.Takt = unit.Duration(float64(out.Available) / float64(q.Pieces))
	out.PieceRate = unit.PieceRate(float64(q.Pieces) / float64(out.Available) * 60)
	return out, nil
}

func (q Takt) Show(w *reckon.Working, out TaktResult) {
	w.Inputs(q)
	w.Lines(out,
		"time available: t_a = t_s - t_b",
		"takt: t = t_a/n  [time available over demand]",
		"piece rate: R = n/t_a*60{s/min}",
	)
}

// PiecesForTakt asks how many pieces leave the line in a shift at this pace:
//
//	t_a = t_s - t_b, n = floor(t_a / t)
//
// It is the inverse of [Takt], with the same validity. A piece begun at the
// end of the shift does not count.
//
// It is refused if:
//   - the breaks take the whole shift.
//
// Source: as for [Takt].
//
// The inverse is [Takt].
type PiecesForTakt struct {
	Shift  unit.Duration `json:"shift" sym:"t_s" range:"1 min..7 d"`        // from the start to the end of the work
	Breaks unit.Duration `json:"breaks,omitzero" sym:"t_b,0" range:"0 s.."` // in which nothing leaves the line, all together, less than the shift; leave out for none
	Takt   unit.Duration `json:"takt" sym:"t" range:"10 ms..24 h"`          // from piece to piece
}

// PiecesForTaktResult is what a shift makes.
type PiecesForTaktResult struct {
	Available unit.Duration `json:"available" sym:"t_a"` // the shift without its breaks
	Pieces    int           `json:"pieces" sym:"n"`      // whole pieces by the end
}

func (PiecesForTakt) ID() string { return "pieces-for-takt" }

func (q PiecesForTakt) Check(c *reckon.Checks) {
	checkShift(c, q.Shift, q.Breaks)
	reckon.CheckRange(c, "takt", q.Takt, 0.01, 86400)
}

func (q PiecesForTakt) Solve() (out PiecesForTaktResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Available = q.Shift - q.Breaks
	// A whole number that came out a little below itself is that number.
	out.Pieces = int(float64(out.Available) / float64(q.Takt) * (1 + 1e-12))
	return out, nil
}

func (q PiecesForTakt) Show(w *reckon.Working, out PiecesForTaktResult) {
	w.Inputs(q)
	w.Lines(out,
		"time available: t_a = t_s - t_b",
		"pieces: n = floor(t_a/t)  [whole pieces]",
	)
}
