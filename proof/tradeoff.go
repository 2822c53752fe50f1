package proof

import (
	"errors"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Tradeoff asks how the rate trades off against the dwell over the window of
// [Speed], for one or more numbers across:
//
//	n_i = P / a_i, T_i = F + (n_i - 2)*N + L
//	R_i = S_i * a_i, t_i = T_i / (S_i * r) * 60, I_i = a_i * ceil(T_i / r)
//	R_max = max(R_i)
//
// over m speeds S_i from the slowest to the fastest of each window, in equal
// steps, with the symbols of [Dwell]. R_i x t_i is the pieces inside: in one
// proofer more pieces an hour always means less time for each. Limits in
// strokes hold for every number across, limits in pieces are turned into
// strokes for each.
//
// It is exact as [Dwell] is.
//
// It is refused if:
//   - an input of [Speed] is refused there,
//   - an entry of across does not divide the pockets evenly.
//
// Source: Little's law (content = rate x dwell); common practice.
type Tradeoff struct {
	Speed  Speed `json:"speed" sym:"-"`                             // the proofer, the dwell that suits the product and the limits of the other machines
	Across []int `json:"across" sym:"a_#" range:"-" items:"1..200"` // numbers across to compare, each of which must divide the pockets evenly; the one in speed is not used
	Steps  int   `json:"steps" sym:"m" range:"1..1000"`             // speeds for each number across, from the slowest to the fastest of its window; 1 gives only the fastest
}

// TradeoffRow is one way to run.
type TradeoffRow struct {
	Across    int             `json:"across"`               // pieces dropped by one stroke
	Strokes   unit.StrokeRate `json:"strokes" sym:"S_#"`    // speed
	PieceRate unit.PieceRate  `json:"piece_rate" sym:"R_#"` // pieces
	Dwell     unit.Duration   `json:"dwell" sym:"t_#"`      // time in the proofer
	Inside    int             `json:"inside" sym:"I_#"`     // most pieces inside
}

// TradeoffResult is the ways to run that hold every limit.
type TradeoffResult struct {
	Rows        []TradeoffRow   `json:"rows"`                     // for each number across in turn, from slow to fast; none for one whose window is empty
	FastestRate unit.PieceRate  `json:"fastest_rate" sym:"R_max"` // highest rate in the rows
	Conditions  Conditions      `json:"conditions"`               // part-pass
	Cautions    reckon.Cautions `json:"cautions"`                 // moving-machinery, running-drive
}

func (Tradeoff) ID() string { return "proofer-tradeoff" }

func (q Tradeoff) Check(c *reckon.Checks) {
	if len(q.Across) == 0 || len(q.Across) > maxPockets {
		c.Fail("across", strconv.Itoa(len(q.Across))+" numbers", "1 to "+strconv.Itoa(maxPockets)+" numbers across")
	} else {
		for i, across := range q.Across {
			mark := c.Mark()
			q.Speed.Proofer.checkLanes(c, "", across)
			c.Item(mark, "across", i)
		}
	}
	reckon.CheckCount(c, "steps", q.Steps, 1, 1000)
	mark := c.Mark()
	q.at(1).Check(c) // each number across is checked above
	c.Under(mark, "speed")
}

// at is the question of the window for a number across.
func (q *Tradeoff) at(across int) Speed {
	one := q.Speed
	one.Across = across
	return one
}

// Solve has no answer if no number across has a window; the error is that of the first.
func (q Tradeoff) Solve() (TradeoffResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q Tradeoff) Append(dst []TradeoffRow) (out TradeoffResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	p := &q.Speed.Proofer
	out = TradeoffResult{Conditions: p.conditions(), Cautions: reckon.MovingMachinery | reckon.RunningDrive}
	var none error
	for _, across := range q.Across {
		window, err := q.at(across).Solve()
		if err != nil {
			if none == nil {
				none = asTradeoff(err)
			}
			continue
		}
		for i := range q.Steps {
			row := TradeoffRow{Across: across, Strokes: window.High, Inside: p.inside(p.travel(across), across)}
			if i < q.Steps-1 {
				row.Strokes = window.Low + unit.StrokeRate(float64(window.High-window.Low)*(float64(i)/float64(q.Steps-1)))
			}
			row.PieceRate = unit.PieceRate(float64(row.Strokes) * float64(across))
			row.Dwell, _ = p.dwell(p.travel(across), row.Strokes)
			dst = append(dst, row)
			out.FastestRate = max(out.FastestRate, row.PieceRate)
		}
	}
	if out.FastestRate == 0 {
		return TradeoffResult{}, none
	}
	out.Rows = dst
	return out, nil
}

func (q Tradeoff) Show(w *reckon.Working, out TradeoffResult) {
	p := &q.Speed.Proofer
	w.Inputs(q.Speed)
	w.Inputs(q)
	p.showFirst(w)
	var windows []int // places in across
	for i, across := range q.Across {
		if _, err := q.at(across).Solve(); err == nil {
			windows = append(windows, i)
		}
	}
	out.Rows = out.Rows[len(out.Rows)-len(windows)*q.Steps:]
	// One sheet for all rows: there may be many.
	var lines []string
	for k, place := range windows {
		across, j := q.Across[place], strconv.Itoa(place+1)
		lines = append(lines,
			"passes, "+strconv.Itoa(across)+" across: n_"+j+" = P/a_"+j,
			p.travelLine("trays travelled: T_"+j, "n_"+j, p.passes(across)),
		)
		first, last := k*q.Steps, (k+1)*q.Steps-1
		slow, fast := "S_"+strconv.Itoa(first+1), "S_"+strconv.Itoa(last+1)
		if first < last {
			lines = append(lines, "slowest speed, "+strconv.Itoa(across)+" across: "+slow+" = max(T_"+j+"/(t_max/60{s/min})/r, l_#..., r_l#/a_"+j+"...)  [for the dwell and for every limit]")
		}
		lines = append(lines, "fastest speed, "+strconv.Itoa(across)+" across: "+fast+" = min(T_"+j+"/(t_min/60{s/min})/r, h_#..., r_h#/a_"+j+"...)  [for the dwell and for every limit]")
		for row := first; row <= last; row++ {
			n := strconv.Itoa(row + 1)
			if row > first && row < last {
				lines = append(lines, "speed: S_"+n+" = "+slow+" + ("+fast+" - "+slow+")*("+strconv.Itoa(row-first)+"/(m - 1))")
			}
			lines = append(lines,
				"pieces: R_"+n+" = S_"+n+"*a_"+j,
				"dwell: t_"+n+" = T_"+j+"/(S_"+n+"*r)*60{s/min}",
				"most pieces inside: I_"+n+" = a_"+j+"*ceil(T_"+j+"/r)",
			)
		}
	}
	w.Lines(out, append(lines, "highest rate: R_max = max(0, R_#...)")...)
}

// asTradeoff puts this calculation's id on the conflict that [Speed] found.
func asTradeoff(err error) error {
	var conflict *reckon.NoSolutionError
	if errors.As(err, &conflict) {
		mine := *conflict
		mine.Func = Tradeoff{}.ID()
		return &mine
	}
	return err
}
