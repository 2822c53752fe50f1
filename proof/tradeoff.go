package proof

import (
	"errors"
	"fmt"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Tradeoff returns the rate against the dwell over the window of [Speed], for
// one or more numbers across:
//
//	rate x dwell = a * T / r
//
// which is the pieces inside: in one proofer more pieces an hour always means
// less time for each. Limits in strokes hold for every number across, limits
// in pieces are turned into strokes for each.
//
// It is exact as [Dwell] is.
//
// It returns an *[reckon.InputError] if:
//   - an input of [Speed] is wrong,
//   - across is empty, has more than 200 entries or one that does not divide the pockets evenly,
//   - steps is outside 1 to 1000.
//
// It returns a *[reckon.NoSolutionError], that of the first number across,
// if no number has a window.
//
// Source: Little's law (content = rate x dwell); common practice.
type Tradeoff struct {
	Speed  Speed `json:"speed"`  // the proofer, the wanted dwell and the limits of the other machines
	Across []int `json:"across"` // numbers across to compare, each of which must divide the pockets evenly; the one in speed is not used
	Steps  int   `json:"steps"`  // speeds for each number across, from the slowest to the fastest of its window, 1 to 1000; 1 gives the fastest alone
}

func (Tradeoff) ID() string { return "proofer-tradeoff" }

// SHELL
func (q Tradeoff) Check(c *reckon.Checks) {
	_, err := explainTradeoff(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Tradeoff) Solve() (TradeoffResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q Tradeoff) Append(dst []TradeoffRow) (TradeoffResult, error) {
	return explainTradeoff(q, dst, nil)
}

func (q Tradeoff) Show(w *reckon.Working, _ TradeoffResult) { _, _ = explainTradeoff(q, nil, w) }

// TradeoffRow is one way to run.
type TradeoffRow struct {
	Across  int             `json:"across"`  // pieces dropped by one stroke
	Strokes unit.StrokeRate `json:"strokes"` // speed
	Rate    unit.PieceRate  `json:"rate"`    // pieces
	Dwell   unit.Duration   `json:"dwell"`   // time in the proofer
	Inside  int             `json:"inside"`  // most pieces inside
}

// TradeoffResult is the ways to run that hold every limit.
type TradeoffResult struct {
	Rows        []TradeoffRow   `json:"rows"`         // for each number across in turn, from slow to fast; none for one whose window is empty
	FastestRate unit.PieceRate  `json:"fastest_rate"` // highest rate in the rows
	Conditions  Conditions      `json:"conditions"`   // part-pass
	Cautions    reckon.Cautions `json:"cautions"`     // moving-machinery
}

func explainTradeoff(in Tradeoff, dst []TradeoffRow, w *reckon.Working) (out TradeoffResult, err error) {
	c := reckon.Checks{Func: "proofer-tradeoff"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return TradeoffResult{}, err
	}
	p := in.Speed.Proofer
	out = TradeoffResult{Conditions: p.conditions(), Cautions: reckon.MovingMachinery}
	var none error
	var best TradeoffRow
	for _, across := range in.Across {
		one := in.Speed
		one.Across = across
		window, err := one.Solve()
		if err != nil {
			if none == nil {
				none = asTradeoff(err)
			}
			continue
		}
		for i := range in.Steps {
			row := TradeoffRow{Across: across, Strokes: window.High, Inside: p.inside(p.travel(across), across)}
			if i < in.Steps-1 {
				row.Strokes = window.Low + unit.StrokeRate(float64(window.High-window.Low)*(float64(i)/float64(in.Steps-1)))
			}
			row.Rate = unit.PieceRate(float64(row.Strokes) * float64(across))
			row.Dwell, _ = p.dwell(p.travel(across), row.Strokes)
			dst = append(dst, row)
			if row.Rate > best.Rate {
				best = row
			}
		}
	}
	if best.Rate == 0 {
		return TradeoffResult{}, none
	}
	out.Rows, out.FastestRate = dst, best.Rate
	if w != nil {
		p.explain(w, best.Across)
		w.Given("speed of the fastest way", "S", float64(best.Strokes), "strokes/min", "highest rate among the rows")
		w.Step("its dwell", "t", "T / (S * r) * 60", float64(best.Dwell), "s", "")
		w.Step("its rate", "R", "S * a", float64(best.Rate), "pieces/min", "")
	}
	return out, nil
}

func (in Tradeoff) check(c *reckon.Checks) {
	if len(in.Across) == 0 || len(in.Across) > maxPockets {
		c.Fail("across", strconv.Itoa(len(in.Across))+" numbers", "1 to "+strconv.Itoa(maxPockets)+" numbers across")
	} else {
		for i, across := range in.Across {
			if across < 1 || in.Speed.Proofer.Pockets%across != 0 {
				in.Speed.Proofer.checkLanes(c, fmt.Sprintf("across[%d]", i), across)
			}
		}
	}
	reckon.CheckCount(c, "steps", in.Steps, 1, 1000)
	s := in.Speed
	s.Across = 1 // each number across is checked above
	var inner reckon.Checks
	inner.Func = c.Func
	s.check(&inner)
	c.Nest("speed", inner.Err())
}

// asTradeoff puts this calculation's id on the conflict that [Speed] found.
func asTradeoff(err error) error {
	var conflict *reckon.NoSolutionError
	if errors.As(err, &conflict) {
		mine := *conflict
		mine.Func = "proofer-tradeoff"
		return &mine
	}
	return err
}
