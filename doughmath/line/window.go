package line

import (
	"errors"
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// Window asks for all settings at which an order runs: speed, number across, number and
// size of the batches, and last gap; what limits each of them and what a little more of each
// limit would buy; the best of them for each aim; and where none works, which limits exclude one another.
//
//	n_wi = ceil(n / b_wi), D_wi = n_wi * m * k_w, a_wi = a
//	S_li = max(S_low, (n_wi + H / m) * 60 / (a * t_h))
//	S_hi = S_high, or (A - k * c) / (t_max - k * t_c) if the divider waits and pieces would stay too long
//	S_mi = n_wi * 60 / (a * t_c),  c = n_wi * 60 / a,  k = min(b_wi - 1, ceil(A / c))
//	R_li = S_li * a, R_hi = S_hi * a, t_si = A / S_hi, t_gi = A / S_li
//
// with n pieces in b_wi batches of n_wi, a across, dough pieces of m, waste counted by k_w, the head of dough H, the hopper time t_h, the
// mixer's cycle t_c, the longest dwell t_max, the speeds S_low to S_high that the machines and the dwell
// share, and A the dwell at one stroke a minute. What a batch does by its
// weight drift, and what the slides of the dusters reach, narrow S_li and S_hi in the same way. Batches are counted from the fewest to 31 more; the step of
// the speed setting rounds S_li up and S_hi down. At a point i the settings S_i and b_i give
//
//	n_i = ceil(n / b_i), P_i = S_i * a, or n_i * 60 / t_c while the divider waits for dough
//	t_i = A / S_i, l_i = t_i + k * u, w_i = (b_i - 1) * u,  u = t_c - n_i * 60 / (S_i * a) where that is more than 0
//	z_i = t_m + t_f + (ceil((ceil(b_i * n_i / a) - 1) * r) / (S_i * r)) * 60 + t_i + w_i
//	g_i = max(0, m_s - m_b) * b_i * n_i + (b_i * n_i - n) * m_b
//	f_i = ceil(b_i * n_i / a) * a * f_p
//
// with r trays a stroke, t_m mixing, t_f floor time, m_s what the mark scales, m_b the dough piece for the baked weight and f_p the
// dusting flour on a piece. The narrowest and the widest gap, g_l and g_h, are those of [molder.SheetSetting].
//
// The plan of [Plan] for an aim is the best point for it here, at the product's number across. A limit is moved by one unit,
// or as far as its range lets it if that is less, and the order planned again. What that buys, in pieces kept up, in the range of
// speeds and in the range of gaps, is what is found then less what is found now:
//
//	DR_i = max P' - max P, DS_i = S_h' - S_l' - (S_h - S_l), DG_i = g_h' - g_l' - (g_h - g_l)
//
// Of limits that exclude one another there is no smaller set; each is then moved alone, the others as they are, until a plan is found:
//
//	P_ci = S_ci * a
//
// It holds as far as the plan does. Water, weighing and rounding do not narrow it: a best point that they refuse says so.
//
// Source: the stations of [Plan]; intervals and their common part, a smallest conflict found by trying every smaller set (derived); cases in
// testdata/cases/line/line-window.json.
type Window struct {
	Line  Line  `json:"line" sym:"-"`  // the equipment as it stands
	Order Order `json:"order" sym:"-"` // what to make, and how much
	Shift Shift `json:"shift" sym:"-"` // today's conditions
}

// WindowWay is the speeds at which the order runs with so many across in so many batches.
type WindowWay struct {
	Across         int             `json:"across" sym:"a_w#"`           // pieces across
	Batches        int             `json:"batches" sym:"b_w#"`          // batches, all alike
	PiecesPerBatch int             `json:"pieces_per_batch" sym:"n_w#"` // whole pieces in each
	BatchDough     unit.Mass       `json:"batch_dough" sym:"D_w#"`      // dough of each, with its waste
	Low            unit.StrokeRate `json:"low" sym:"S_l#"`              // slowest speed to set
	LowLimit       string          `json:"low_limit"`                   // what allows no slower: "dwell", a machine or a duster, "hopper time", "weight drift"
	High           unit.StrokeRate `json:"high" sym:"S_h#"`             // fastest speed to set
	HighLimit      string          `json:"high_limit"`                  // what allows no faster: "dwell", a machine, or a duster, or "mixer" where pieces would stay too long as the divider waits
	Steady         unit.StrokeRate `json:"steady,omitzero" sym:"S_m#"`  // fastest speed with which the mixer keeps up; left out for a single batch
	RateLow        unit.PieceRate  `json:"rate_low" sym:"R_l#"`         // pieces while it runs at low
	RateHigh       unit.PieceRate  `json:"rate_high" sym:"R_h#"`        // pieces while it runs at high
	ShortestDwell  unit.Duration   `json:"shortest_dwell" sym:"t_s#"`   // dwell at high, while the machines run
	LongestDwell   unit.Duration   `json:"longest_dwell" sym:"t_g#"`    // dwell at low, while the machines run
}

// WindowGap is how narrow and how wide the last pair of rollers may be set.
type WindowGap struct {
	Low       unit.Length `json:"low" sym:"g_l"`  // narrowest gap to set
	LowLimit  string      `json:"low_limit"`      // what allows no narrower: "tear", "width", "rollers", or "turns" at the 20 turns that are the most
	High      unit.Length `json:"high" sym:"g_h"` // widest gap to set
	HighLimit string      `json:"high_limit"`     // what allows no wider: "turns" or "rollers"
}

// WindowClosed is a number across at which nothing works.
type WindowClosed struct {
	Across int    `json:"across"` // pieces across
	Says   string `json:"says"`   // what stands in the way
}

// WindowLimit is a limit at the product's number across, and what moving it alone would buy.
type WindowLimit struct {
	Limit     string          `json:"limit"`                 // its name, as the limits of the plan are called
	Field     string          `json:"field"`                 // the input that sets it
	Side      LimitSide       `json:"side"`                  // what it limits: "slow", "fast", "batch" or "gap"
	Stands    string          `json:"stands"`                // its value
	Binds     bool            `json:"binds"`                 // true if settings lie at it
	Moved     string          `json:"moved"`                 // moved by one unit
	PieceRate unit.PieceRate  `json:"piece_rate" sym:"DR_#"` // more pieces kept up by the fastest run then
	Speeds    unit.StrokeRate `json:"speeds" sym:"DS_#"`     // wider range of speeds then
	Gaps      unit.Length     `json:"gaps" sym:"DG_#"`       // wider range of gaps then
	stands    legible
	moved     legible
}

// In returns where the limit stands and where it was moved to, as Stands and Moved say, in the units of a person's choice.
func (l *WindowLimit) In(sys unit.System) (stands, moved string) {
	if l.stands == nil {
		return l.Stands, l.Moved
	}
	return l.stands.In(sys), l.moved.In(sys)
}

// LimitSide is what a limit limits.
type LimitSide string

// A limit keeps the line from running slower or faster, from larger batches or a longer wait for
// them, or from a narrower or wider gap.
const (
	SlowSide  LimitSide = "slow"
	FastSide  LimitSide = "fast"
	BatchSide LimitSide = "batch"
	GapSide   LimitSide = "gap"
)

// WindowConflict is one of the limits that exclude one another.
type WindowConflict struct {
	Limit     string          `json:"limit"`                          // its name
	Field     string          `json:"field"`                          // the input that sets it
	Stands    string          `json:"stands"`                         // its value
	Needs     string          `json:"needs,omitzero"`                 // value with which a plan is found, the others as they are; left out if no value will do
	By        string          `json:"by,omitzero"`                    // how far that is
	Strokes   unit.StrokeRate `json:"strokes,omitzero" sym:"S_c#"`    // speed of that plan
	PieceRate unit.PieceRate  `json:"piece_rate,omitzero" sym:"P_c#"` // its pieces while it runs
	stands    legible
	needs, by legible
	way       string // which by is: more or less
}

// In returns where the limit stands, the value with which a plan is found and how far that is, rounded for reading in the
// units of a person's choice; the last two are empty if no value will do.
func (c *WindowConflict) In(sys unit.System) (stands, needs, by string) {
	switch {
	case c.stands == nil:
		return c.Stands, c.Needs, c.By
	case c.needs == nil:
		return c.stands.In(sys), "", ""
	}
	return c.stands.In(sys), c.needs.In(sys), c.by.In(sys) + c.way
}

// WindowResult is the settings at which an order runs.
type WindowResult struct {
	Ways       []WindowWay      `json:"ways,omitzero"`        // by number across and number of batches; left out if nothing works
	Closed     []WindowClosed   `json:"closed,omitzero"`      // numbers across at which nothing works
	Gap        WindowGap        `json:"gap,omitzero" sym:"-"` // last gap, for the moulder
	Best       []AimPoint       `json:"best,omitzero"`        // the best for each aim, at the product's number across
	Limits     []WindowLimit    `json:"limits,omitzero"`      // the limits there, each moved alone
	Conflict   []WindowConflict `json:"conflict,omitzero"`    // a smallest set of limits that exclude one another, where nothing works there
	Conditions Conditions       `json:"conditions"`           // no-window, aim-missed, rate-limited
	Cautions   reckon.Cautions  `json:"cautions"`             // moving-machinery, running-drive, interlocks
}

const windowID = "line-window"

func (Window) ID() string { return windowID }

func (q Window) Check(c *reckon.Checks) {
	Plan(q).under(c, "order")
}

// Solve has no answer if something that no setting moves stands in the way: it says what.
func (q Window) Solve() (WindowResult, error) { return q.Append(nil) }

// Append is Solve with the ways appended to dst.
func (q Window) Append(dst []WindowWay) (WindowResult, error) {
	cl, err := Commission(q.Line)
	if err != nil {
		c := reckon.Checks{Func: windowID}
		if q.Check(&c); c.OK() {
			nestPlan(&c, "order", err)
		}
		return WindowResult{}, c.Err()
	}
	return cl.Window(&q.Order, &q.Shift, dst)
}

// Window is the package's [Window] on a line that was commissioned before, with the ways appended to dst.
func (cl *Commissioned) Window(order *Order, shift *Shift, dst []WindowWay) (out WindowResult, err error) {
	a := newAsked(cl, order, shift)
	refuse := func(err error) (WindowResult, error) {
		c := reckon.Checks{Func: windowID}
		nestPlan(&c, "order", err)
		return WindowResult{}, c.Err()
	}
	if !a.before() {
		return refuse(cl.PlanInto(&a.out, order, shift, nil)) // which tells all that is wrong
	}
	var none *reckon.NoSolutionError
	switch works := a.again(); {
	case works:
		if err := a.rest(Aim{}); err != nil {
			return refuse(err)
		}
	case !errors.As(a.checks.Err(), &none):
		return refuse(cl.PlanInto(&a.out, order, shift, nil))
	default:
		why := a.checks.Err()
		if out.Conflict = a.conflict(); out.Conflict == nil {
			return refuse(why)
		}
		out.Conditions |= NoWindow
	}
	out.Cautions = reckon.MovingMachinery | reckon.RunningDrive | reckon.Interlocks
	if out.Ways = dst; out.Conflict == nil {
		out.Ways = a.ways(dst)
		out.Gap = a.gap()
		out.Best = a.best(order.Aim)
		out.Limits = a.buys(out.Ways[len(dst):], &out.Gap)
		for i := range out.Best {
			if p := &out.Best[i]; p.Missed != "" && p.Aim == order.Aim.For {
				out.Conditions |= AimMissed
			}
		}
		out.Conditions |= a.limited
	} else {
		out.Closed = append(out.Closed, WindowClosed{order.Product.Across, conflictSays(out.Conflict)})
	}
	cl.otherAcross(&a, order, shift, &out)
	return out, nil
}

// otherAcross looks at the other numbers across at which the dough was weighed.
func (cl *Commissioned) otherAcross(a *asked, order *Order, shift *Shift, out *WindowResult) {
	for i := range cl.line.Divider.Lanes {
		lanes := &cl.line.Divider.Lanes[i]
		if lanes.Dough != order.Product.Dough || lanes.Across == order.Product.Across {
			continue
		}
		*a = newAsked(cl, order, shift)
		a.plan.Order.Product.Across = lanes.Across
		if !a.before() || !a.again() {
			err := a.checks.Err()
			out.Closed = append(out.Closed, WindowClosed{lanes.Across, strings.TrimPrefix(err.Error(), planID+": ")})
			continue
		}
		out.Ways = a.ways(out.Ways)
	}
}

// conflictSays names the limits that exclude one another.
func conflictSays(list []WindowConflict) string {
	var names []string
	for i := range list {
		names = append(names, list[i].Limit+" ("+list[i].Stands+")")
	}
	return "these exclude one another: " + strings.Join(names, ", ")
}

// asked is an order of which the window asks again with something changed: only the stations that narrow it.
type asked struct {
	cl      *Commissioned
	plan    Plan
	r       run
	checks  reckon.Checks
	out     PlanResult
	slides  int        // dusters whose slides a working shows
	limited Conditions // rate-limited, if the mixer sets the fastest speed
}

const (
	// pacing are the stations that narrow speed and batches, sheeting those that narrow the gap.
	pacing    = speeding | batching | proofing
	sheeting  = moulding | rolling
	narrowing = pacing | sheeting
	// outside are those that come before and do not depend on them.
	outside = ordering | shifting | weighting | checking | labelling | aiming | marking | leaving | drumming | pocketing | guiding
)

func newAsked(cl *Commissioned, order *Order, shift *Shift) asked {
	a := asked{cl: cl, plan: Plan{Line: cl.line, Order: *order, Shift: *shift}}
	a.plan.Line.Belts = slices.Clone(a.plan.Line.Belts) // their speeds are moved
	return a
}

// start asks some of the stations, without what they have found before.
func (a *asked) start(due station) bool {
	a.checks = reckon.Checks{Func: planID}
	r, p := &a.r, &a.plan
	r.line, r.fits, r.has, r.order, r.product, r.shift, r.c, r.out, r.bare = &p.Line, a.cl.fits, a.cl.has, &p.Order, &p.Order.Product, &p.Shift, &a.checks, &a.out, true
	r.forget(due)
	r.stations(due, nil)
	return a.checks.OK()
}

// before asks the stations that do not narrow the window.
func (a *asked) before() bool {
	sound := a.start(outside)
	a.plan.Order.Aim = Aim{}
	return sound
}

// again asks the stations that narrow it, for the fastest run.
func (a *asked) again() bool { return a.start(narrowing) }

// rest asks all that come behind, for an aim.
func (a *asked) rest(aim Aim) error {
	a.plan.Order.Aim = aim
	a.start(everyStation &^ outside)
	a.plan.Order.Aim = Aim{}
	return a.checks.Err()
}

// ways appends the speeds that work, a number of batches after the other.
func (a *asked) ways(dst []WindowWay) []WindowWay {
	r := &a.r
	a.limited = a.out.Conditions & reckon.RateLimited
	across, stay := float64(r.product.Across), float64(a.out.Speed.DwellAtHigh)*float64(a.out.Speed.High)
	each := float64(a.out.Target) * r.shift.WasteBasis.Factor(r.shift.Waste)
	r.eachWorkable(func(of batched, s stretch) {
		w := WindowWay{
			Across: r.product.Across, Batches: of.batches, PiecesPerBatch: of.pieces, BatchDough: unit.Mass(float64(of.pieces) * each),
			Low: s.low, LowLimit: s.lowLimit, High: s.high, HighLimit: s.highLimit,
			RateLow: unit.PieceRate(float64(s.low) * across), RateHigh: unit.PieceRate(float64(s.high) * across),
			ShortestDwell: unit.Duration(stay / float64(s.high)), LongestDwell: unit.Duration(stay / float64(s.low)),
		}
		if of.batches > 1 {
			w.Steady = r.keepsUp(of)
		}
		dst = append(dst, w)
	})
	return dst
}

// eachWorkable visits the batches, from the fewest on, for which there is a speed.
func (r *run) eachWorkable(visit func(batched, stretch)) {
	of, more := r.fewest, true
	for i := 0; more && i < mostCounts; i++ {
		if s := r.workable(of); s.low <= s.high*(1+hair) {
			visit(of, s)
		}
		of, more = r.more(of)
	}
}

// gap returns how narrow and how wide the last gap may be.
func (a *asked) gap() (g WindowGap) {
	if !a.r.moulded {
		return g
	}
	narrow, wide := a.gaps()
	low, _ := narrow.Solve()
	high, _ := wide.Solve() // the plan has found one: so do these
	g = WindowGap{Low: low.Gap, LowLimit: low.Limit, High: high.Gap, HighLimit: "turns"}
	if high.TurnsGap > wide.GapHigh {
		g.HighLimit = "rollers"
	}
	return g
}

// gaps asks for the narrowest and the widest gap: as thin as the sheet holds, whatever a pair may reduce, and as if nothing were known of that.
func (a *asked) gaps() (narrow, wide molder.SheetSetting) {
	a.r.askSheet(&narrow)
	narrow.ReductionGap, wide = 0, narrow
	if wide.TearLimit = 0; narrow.TearLimit == 0 {
		narrow.TearLimit = thinnest
	}
	return narrow, wide
}

// thinnest is a sheet that tears whatever the dough: it stands for a tear limit that is not known.
const thinnest unit.Length = 0.1

// best returns the best point for each aim, and for that of the order.
func (a *asked) best(own Aim) (list []AimPoint) {
	aims := make([]Aim, 0, len(plainAims)+1)
	for _, aim := range plainAims {
		aims = append(aims, Aim{For: aim})
	}
	if own.named() && !slices.Contains(plainAims[:], own.For) {
		aims = append(aims, own)
	}
	for _, aim := range aims {
		list = append(list, a.r.best(aim))
	}
	for i, aim := range aims {
		p := &list[i]
		if p.Missed = aim.missed(&a.r, p); p.Missed == "" {
			if err := a.rest(aim); err != nil {
				p.Missed = "refused: " + strings.TrimPrefix(err.Error(), planID+": ")
			}
		}
	}
	a.again()
	return list
}
