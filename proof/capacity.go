package proof

import (
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// maxShift is the longest time asked about, a week.
const maxShift unit.Duration = 7 * 24 * 3600

// Machine is one machine or stage of a chain that every piece passes.
type Machine struct {
	Name      string         `json:"name"`                                                         // what the bakery calls it
	PieceRate unit.PieceRate `json:"piece_rate" sym:"r_#" range:">0 pieces/min..10000 pieces/min"` // most pieces that it passes while it runs
	Running   unit.Percent   `json:"running" sym:"e_#" range:">0 %..100 %"`                        // share of the time for which it could run that it does run; 100 % if it never stops by itself
}

func (m *Machine) check(c *reckon.Checks) {
	if m.Name == "" {
		c.Fail("name", "empty", "a name, such as \"oven\"")
	}
	reckon.CheckAbove(c, "piece_rate", m.PieceRate, 10_000)
	reckon.CheckAbove(c, "running", m.Running, 100)
}

// checkMachines checks a chain.
func checkMachines(c *reckon.Checks, machines []Machine) {
	if len(machines) == 0 || len(machines) > maxLimits {
		c.Fail("machines", strconv.Itoa(len(machines))+" machines", "1 to "+strconv.Itoa(maxLimits)+" machines")
		return
	}
	for i := range machines {
		mark := c.Mark()
		machines[i].check(c)
		c.Item(mark, "machines", i)
	}
}

// chain returns what the chain passes while it runs, the names of the slowest
// machines, the rate of the next slowest (0 if there is none) and the
// share of the time for which all run.
func chain(machines []Machine) (rate unit.PieceRate, limit string, next unit.PieceRate, running float64) {
	rate, running = machines[0].PieceRate, 100
	for _, m := range machines {
		rate = min(rate, m.PieceRate)
		running = float64(running*float64(m.Running)) / 100
	}
	for _, m := range machines {
		switch {
		case m.PieceRate > rate*(1+limitSlack):
			if next == 0 {
				next = m.PieceRate
			}
			next = min(next, m.PieceRate)
		case limit == "":
			limit = m.Name
		default:
			limit += tie + m.Name
		}
	}
	return rate, limit, next, running
}

// showChain records what the chain passes and for how much of the time.
func showChain(w *reckon.Working, out any, machines []Machine) {
	shares := make([]string, len(machines))
	for i := range shares {
		shares[i] = "e_" + strconv.Itoa(i+1) + "/100"
	}
	if len(machines) == 1 {
		w.Lines(out, "rate of the chain: R = r_1")
	} else {
		w.Lines(out, "rate of the chain: R = min(r_#...)  [the slowest passes no more]")
	}
	w.Lines(out, "share of the time for which it runs: E = 100*("+strings.Join(shares, "*")+") in %  [every stop stops all]")
}

// LineCapacity asks how many pieces a chain of machines makes in a shift, and
// which machine holds it back:
//
//	R = min(r_i), E = 100 * prod(e_i / 100)
//	R_2 = min of the r_i that exceed R
//	t_l = n_c * t_c, t_a = t_s - t_b - t_l - t_f
//	n = floor(R * t_a / 60 * E / 100), R_m = R * E / 100
//
// with t_f the time that the first piece takes through the chain, before which
// nothing leaves it. Several machines that are equally slow hold it back
// together; next_rate is what the chain would pass if they did not.
//
// It holds for machines without a buffer between them, so that a stop of one
// stops all, and for stops that come independently of one another. A buffer
// makes up for some of the stops: then the shift makes more, at most R * t_a.
//
// It is refused if:
//   - machines is empty, or a machine has no name,
//   - breaks, changeovers and the way through take the whole shift.
//
// Source: bakingbusiness.com, Boost capacity by improving operating
// efficiencies (product of efficiencies); the slowest machine sets the rate (common practice).
//
// The inverse is [ShiftForLineCapacity].
type LineCapacity struct {
	Machines       []Machine     `json:"machines" items:"1..100"`                                // in the order in which the pieces pass them
	Shift          unit.Duration `json:"shift" sym:"t_s" range:"1 min..7 d"`                     // from the start to the end of the work
	Breaks         unit.Duration `json:"breaks,omitzero" sym:"t_b,0" range:"0 s..7 d"`           // in which the chain stands, all together; leave out for none
	Changeovers    int           `json:"changeovers,omitzero" sym:"n_c,0" range:"0..1000"`       // changes of product; leave out for none
	ChangeoverTime unit.Duration `json:"changeover_time,omitzero" sym:"t_c,0" range:"0 s..24 h"` // for which the chain stands at each; needed with changeovers
	Through        unit.Duration `json:"through,omitzero" sym:"t_f,0" range:"0 s..24 h"`         // that the first piece takes from the first machine to the end; leave out to count from the first piece out
}

// LineCapacityResult is what the chain makes.
type LineCapacityResult struct {
	PieceRate   unit.PieceRate `json:"piece_rate" sym:"R"`           // while the chain runs
	Limit       string         `json:"limit"`                        // the slowest machine; several that are equal are joined by " and "
	NextRate    unit.PieceRate `json:"next_rate,omitzero" sym:"R_2"` // of the next slowest: what the chain would pass if limit were no limit; left out if all are equal
	Running     unit.Percent   `json:"running" sym:"E"`              // share of the time available for which the chain runs
	Changeovers unit.Duration  `json:"changeovers" sym:"t_l"`        // lost to changes of product
	Available   unit.Duration  `json:"available" sym:"t_a"`          // time in which pieces can leave the chain
	Pieces      int            `json:"pieces" sym:"n"`               // whole pieces out by the end of the shift
	MeanRate    unit.PieceRate `json:"mean_rate" sym:"R_m"`          // over the time available, its stops counted
	Conditions  Conditions     `json:"conditions"`                   // rounded
}

func (LineCapacity) ID() string { return "line-capacity" }

func (q LineCapacity) Check(c *reckon.Checks) {
	before := c.Mark()
	checkMachines(c, q.Machines)
	reckon.CheckRange(c, "shift", q.Shift, 60, maxShift)
	checkLost(c, q.Breaks, q.Changeovers, q.ChangeoverTime, q.Through)
	if c.Mark() > before {
		return
	}
	if lost := q.Breaks + unit.Duration(float64(q.Changeovers)*float64(q.ChangeoverTime)) + q.Through; lost >= q.Shift {
		c.Fail("shift", q.Shift.String(), "more than breaks, changeovers and the way through, "+lost.String())
	}
}

// checkLost checks the times for which nothing leaves a chain.
func checkLost(c *reckon.Checks, breaks unit.Duration, changeovers int, each, through unit.Duration) {
	reckon.CheckRange(c, "breaks", breaks, 0, maxShift)
	reckon.CheckCount(c, "changeovers", changeovers, 0, 1000)
	if reckon.CheckRange(c, "changeover_time", each, 0, maxDwell) && changeovers > 0 && each == 0 {
		c.Fail("changeover_time", "missing", "how long a change of product takes")
	}
	reckon.CheckRange(c, "through", through, 0, maxDwell)
}

func (q LineCapacity) Solve() (out LineCapacityResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	var running float64
	out.PieceRate, out.Limit, out.NextRate, running = chain(q.Machines)
	out.Running = unit.Percent(running)
	out.Changeovers = unit.Duration(float64(q.Changeovers) * float64(q.ChangeoverTime))
	out.Available = q.Shift - q.Breaks - out.Changeovers - q.Through
	out.MeanRate = unit.PieceRate(float64(out.PieceRate) * running / 100)
	// The hours are rounded to the last digit of the longest of them, which may be a week.
	digits := unit.Duration(1e-15 * float64(max(q.Shift, q.Breaks, out.Changeovers, q.Through)))
	out.Pieces = int(down(float64(out.PieceRate) * float64(out.Available+digits) / 60 * running / 100))
	out.Conditions = reckon.Rounded
	return out, nil
}

func (q LineCapacity) Show(w *reckon.Working, out LineCapacityResult) {
	w.Inputs(q)
	showChain(w, out, q.Machines)
	if out.NextRate != 0 {
		var faster []string
		for i, m := range q.Machines {
			if m.PieceRate > out.PieceRate {
				faster = append(faster, "r_"+strconv.Itoa(i+1))
			}
		}
		w.Lines(out, "rate if the slowest were no limit: R_2 = min("+strings.Join(faster, ", ")+")")
	}
	w.Lines(out,
		"lost to changeovers: t_l = n_c*t_c",
		"time available: t_a = t_s - t_b - t_l - t_f",
		"mean rate: R_m = R*E/100",
		"whole pieces: n = floor(R*t_a/60{s/min}*E/100)",
	)
}

// ShiftForLineCapacity asks how long a shift must be for a chain of machines to
// make a number of pieces:
//
//	R = min(r_i), E = 100 * prod(e_i / 100)
//	t_a = n / (R * E / 100) * 60, t_s = t_a + t_b + n_c * t_c + t_f
//
// It is the inverse of [LineCapacity], with the same validity.
//
// It is refused if:
//   - machines is empty, or a machine has no name.
//
// Source: as for [LineCapacity].
//
// The inverse is [LineCapacity].
type ShiftForLineCapacity struct {
	Machines       []Machine     `json:"machines" items:"1..100"`                                // in the order in which the pieces pass them
	Pieces         int           `json:"pieces" sym:"n" range:"1..100000000"`                    // pieces wanted by the end of the shift
	Breaks         unit.Duration `json:"breaks,omitzero" sym:"t_b,0" range:"0 s..7 d"`           // in which the chain stands, all together; leave out for none
	Changeovers    int           `json:"changeovers,omitzero" sym:"n_c,0" range:"0..1000"`       // changes of product; leave out for none
	ChangeoverTime unit.Duration `json:"changeover_time,omitzero" sym:"t_c,0" range:"0 s..24 h"` // for which the chain stands at each; needed with changeovers
	Through        unit.Duration `json:"through,omitzero" sym:"t_f,0" range:"0 s..24 h"`         // that the first piece takes from the first machine to the end; leave out to count from the first piece out
}

// ShiftForLineCapacityResult is how long the work takes.
type ShiftForLineCapacityResult struct {
	Shift     unit.Duration  `json:"shift" sym:"t_s"`     // from the start to the last piece out
	Available unit.Duration  `json:"available" sym:"t_a"` // of it, time in which pieces leave the chain, its stops counted
	PieceRate unit.PieceRate `json:"piece_rate" sym:"R"`  // while the chain runs
	Running   unit.Percent   `json:"running" sym:"E"`     // share of the time available for which the chain runs
	Limit     string         `json:"limit"`               // the slowest machine; several that are equal are joined by " and "
}

func (ShiftForLineCapacity) ID() string { return "shift-for-line-capacity" }

func (q ShiftForLineCapacity) Check(c *reckon.Checks) {
	checkMachines(c, q.Machines)
	reckon.CheckCount(c, "pieces", q.Pieces, 1, maxPieces)
	checkLost(c, q.Breaks, q.Changeovers, q.ChangeoverTime, q.Through)
}

// Solve has no answer if the work takes more than a week.
func (q ShiftForLineCapacity) Solve() (out ShiftForLineCapacityResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	rate, limit, _, running := chain(q.Machines)
	available := unit.Duration(float64(q.Pieces) / (float64(rate) * running / 100) * 60)
	lost := q.Breaks + unit.Duration(float64(q.Changeovers)*float64(q.ChangeoverTime)) + q.Through
	if !(available+lost <= maxShift) {
		most := math.Max(0, float64(maxShift-lost)) / 60 * float64(rate) * running / 100
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "shift of at most " + maxShift.String(), Wanted: strconv.Itoa(q.Pieces) + " pieces",
			High: strconv.Itoa(int(most)) + " pieces", Advice: "the " + limit + " holds the chain back; ask for one week's pieces at a time",
		}
	}
	return ShiftForLineCapacityResult{Shift: available + lost, Available: available, PieceRate: rate, Running: unit.Percent(running), Limit: limit}, nil
}

func (q ShiftForLineCapacity) Show(w *reckon.Working, out ShiftForLineCapacityResult) {
	w.Inputs(q)
	showChain(w, out, q.Machines)
	w.Lines(out,
		"time in which pieces leave: t_a = n/(R*E/100)*60{s/min}",
		"shift: t_s = t_a + t_b + n_c*t_c + t_f",
	)
}
