package line

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DayPlan asks in which order to make the products of a day on one line, when each of their batches is started, when each
// is ready, and what to draw from the store:
//
//	x_i = f_h + g_h_i, with h the order before; x_i = t_0 + g_0_i for the first
//	f_i = x_i + p_i
//	e_i = f_i + q_i
//	l_i = max(0, e_i - d_i)
//	g_h_i is the largest of the changeover, of what the mixer takes and of what the oven takes, each up to whole seconds
//	g_h_i counts the changeover by P people
//	N_1, L_1, W_1, F_1, G_1 and N_0, L_0, W_0, F_0, G_0 as in [RunOrder]
//	S = sum of what is drawn of all ingredients
//
// with x_i and f_i the first and the last stroke, p_i between them by the plan, q_i from the last stroke until all of it is ready (overhead
// proofer, final proof, baking, cooling and packing) and d_i its due time. The first stroke of the day waits for the first mixing, which starts at t_0.
//
// The mixer starts the first batch of the next order not before its cycle after the last batch of the one before. The next order's first
// pieces do not come to the oven before the last of the one before, no load of them before the oven has a place free, and where baking differs not before those are out and
// the oven is reset. The changeovers are those of [Changeover] with so many people, unless they are given.
//
// Runs are at the speed of the plan, the fastest that everything allows. The order is found as in [RunOrder]; people do
// the changeovers, and whoever else is wanted is not planned here. A day that is late is no error: late says by how much,
// and remedies what would meet every due time.
//
// It is refused if:
//   - a plan of one of the orders is,
//   - an order must be made after one that there is not, or orders wait for one another in a circle,
//   - a due time is not after the start, or the aim looks at due times and no order has one,
//   - a changeover is neither given nor to be found from the line's controls and its changing,
//   - some orders are baked and others are not,
//   - plain-first is asked for and a product does not say what it contains,
//   - a step of a changeover takes more people than there are.
//
// Source: the plans of [Plan], [Clock] and [Changeover] and the search of [RunOrder]; cases in testdata/cases/line/day-plan.json.
type DayPlan struct {
	Line   Line       `json:"line" sym:"-"`                 // the equipment as it stands
	Shift  Shift      `json:"shift" sym:"-"`                // the day's conditions
	Orders []DayOrder `json:"orders" sym:"-" items:"1..60"` // what is to be made, in any order
	DayTerms
}

// DayTerms is what a day asks of all its orders together.
type DayTerms struct {
	Start       unit.Duration     `json:"start" sym:"t_0" range:">0 s..48 h"`             // when the first mixing may start, from midnight, such as "5 h 30 min"
	People      int               `json:"people" sym:"P" range:"1..10"`                   // people who change over
	Aim         OrderAim          `json:"aim"`                                            // "fewest-late", "least-lateness", "least-worst" or "earliest-finish"
	Allergens   AllergenOrder     `json:"allergens"`                                      // "plain-first" or "cleaned-between"
	Changeover  unit.Duration     `json:"changeover,omitzero" sym:"-" range:">0 s..48 h"` // between any two, in place of what the line's controls take; leave out to find it from them
	Changeovers []GivenChangeover `json:"changeovers,omitzero" sym:"-" items:"0..3660"`   // of single pairs, in place of all else; leave out if none is given
	OvenReset   unit.Duration     `json:"oven_reset,omitzero" sym:"-" range:"0 s..24 h"`  // until the oven is ready for another baking time or temperature, from when it is empty; leave out if it takes none
}

// DayOrder is one order of the day.
type DayOrder struct {
	Name string `json:"name"` // what the day calls it, each name once
	Order
	DayTimes
}

// DayTimes is what a day asks of one order.
type DayTimes struct {
	Due      unit.Duration `json:"due,omitzero" range:">0 s..2000 h"`        // when all of it must be ready, from midnight of the day of start: above 24 h the day after; leave out if it need not be ready at any time
	Weight   int           `json:"weight,omitzero" range:"1..1000"`          // how much its lateness counts; leave out for 1
	After    []string      `json:"after,omitzero" items:"0..60"`             // orders that must be made before it; leave out if none must
	Bake     unit.Duration `json:"bake,omitzero" range:"0 s..12 h"`          // time in the oven, for all orders or for none; in place of that of the product; leave out for the product
	BakeTemp unit.Temp     `json:"bake_temp,omitzero" range:"50 °C..500 °C"` // oven temperature; leave out if all are baked alike
	Packing  unit.Duration `json:"packing,omitzero" range:"0 s..48 h"`       // cooling and packing, from the oven until it is ready; leave out if it is ready then
}

// AllergenOrder is what is done about allergens between products.
type AllergenOrder string

const (
	// PlainFirst puts a product before every one that contains all its allergens and more.
	PlainFirst AllergenOrder = "plain-first"
	// CleanedBetween leaves the order free: what is carried over is cleaned away in the changeover.
	CleanedBetween AllergenOrder = "cleaned-between"
)

// GivenChangeover is the time from the last stroke of one order to the first of another, the clear-out of the overhead proofer included.
type GivenChangeover struct {
	Before string        `json:"before,omitzero"`        // the order before; leave out for the line as it stands at the start
	Next   string        `json:"next,omitzero"`          // the order after it; leave out for the line as it is left
	Time   unit.Duration `json:"time" range:"0 s..48 h"` // how long it takes
}

const (
	mostChangeovers = mostRuns * (mostRuns + 1)
	longestBake     = unit.Duration(12 * 3600)
)

func (DayPlan) ID() string { return "day-plan" }

func (q DayPlan) Check(c *reckon.Checks) { q.check(c, true) }

// check tells what is wrong, with the plan of each order or beside it.
func (q *DayPlan) check(c *reckon.Checks, plans bool) {
	n := len(q.Orders)
	if n == 0 {
		c.Fail("orders", "empty", "1 to 60 orders")
	}
	listed := reckon.CheckItems(c, "orders", n, mostRuns)
	start := reckon.CheckAbove(c, "start", q.Start, latestClock)
	reckon.CheckCount(c, "people", q.People, 1, mostPeople)
	reckon.CheckWord(c, "aim", q.Aim, FewestLate, LeastLateness, LeastWorst, EarliestFinish)
	reckon.CheckWord(c, "allergens", q.Allergens, PlainFirst, CleanedBetween)
	if q.Changeover != 0 {
		reckon.CheckAbove(c, "changeover", q.Changeover, longestRun)
	}
	reckon.CheckRange(c, "oven_reset", q.OvenReset, 0, longest)
	if !listed {
		return
	}
	names, known, due := q.names(), true, false
	for i := range q.Orders {
		o := &q.Orders[i]
		if plans {
			Plan{Line: q.Line, Order: o.Order, Shift: q.Shift}.under(c, "orders["+strconv.Itoa(i)+"]")
		}
		mark := c.Mark()
		known = checkNamed(c, names, i, o.After) && known
		if start {
			checkDue(c, o.Due, q.Start)
		}
		due = due || o.Due != 0
		q.checkOrder(c, o)
		c.Item(mark, "orders", i)
	}
	if n > 0 && !due && q.Aim != EarliestFinish && !c.Told("aim") {
		c.Fail("aim", strconv.Quote(string(q.Aim)), `"earliest-finish": no order has a due time`)
	}
	if known {
		checkCircle(c, "orders", names, q.before())
		q.checkChangeovers(c, names)
	}
}

// checkOrder tells what is wrong with an order beside its plan, its name and its due time.
func (q *DayPlan) checkOrder(c *reckon.Checks, o *DayOrder) {
	if o.Weight != 0 {
		reckon.CheckCount(c, "weight", o.Weight, 1, mostWeight)
	}
	if reckon.CheckRange(c, "bake", o.Bake, 0, longestBake) && o.bakes() != q.Orders[0].bakes() {
		c.Fail("bake", o.Bake.String(), "a time for all orders or for none: they go through one oven in the order of the day")
	}
	if o.BakeTemp.Given() {
		reckon.CheckTemp(c, "bake_temp", o.BakeTemp, unit.Celsius(50), unit.Celsius(500))
	}
	reckon.CheckRange(c, "packing", o.Packing, 0, longestRun)
	if q.Allergens == PlainFirst && o.Product.Allergens == nil {
		c.Fail("product.allergens", "missing", "what it contains, [] for nothing: plain products are to go first")
	}
}

// checkChangeovers requires the changeovers given to be of orders of the day, each once, and that no other is wanting.
func (q *DayPlan) checkChangeovers(c *reckon.Checks, names []string) {
	if !reckon.CheckItems(c, "changeovers", len(q.Changeovers), mostChangeovers) {
		return
	}
	type pair struct{ before, next string }
	given := map[pair]bool{}
	for k, g := range q.Changeovers {
		mark := c.Mark()
		for _, end := range [...]struct{ field, name string }{{"before", g.Before}, {"next", g.Next}} {
			if end.name != "" && !slices.Contains(names, end.name) {
				c.Fail(end.field, strconv.Quote(unit.Clip(end.name)), "the name of an order")
			}
		}
		if g.Before == g.Next || given[pair{g.Before, g.Next}] {
			c.Fail("next", strconv.Quote(unit.Clip(g.Next)), "another order than the one before, each pair once")
		}
		given[pair{g.Before, g.Next}] = true
		reckon.CheckRange(c, "time", g.Time, 0, longestRun)
		c.Item(mark, "changeovers", k)
	}
	if !c.OK() || q.Changeover != 0 {
		return
	}
	for _, b := range names {
		for _, n := range names {
			if b != n && !given[pair{b, n}] {
				(&Changeover{Line: q.Line, People: q.People}).checkChanging(c)
				if !c.OK() {
					c.Fail("changeover", "missing", "the time of any changeover, or changeovers for all pairs, such as from "+strconv.Quote(b)+" to "+strconv.Quote(n)+", or the line's controls and changing")
				}
				return
			}
		}
	}
}

func (q *DayPlan) names() []string {
	names := make([]string, len(q.Orders))
	for i := range q.Orders {
		names[i] = q.Orders[i].Name
	}
	return names
}

// before returns, for each order, all that must be made before it.
func (q *DayPlan) before() []uint64 {
	sets := madeBefore(q.names(), func(i int) []string { return q.Orders[i].After })
	if q.Allergens != PlainFirst {
		return sets
	}
	for i := range q.Orders {
		for j := range q.Orders {
			plain, rich := q.Orders[i].Product.Allergens, q.Orders[j].Product.Allergens
			if len(lacking(plain, rich)) == 0 && len(lacking(rich, plain)) > 0 {
				sets[j] |= 1 << i
			}
		}
	}
	through(sets)
	return sets
}

// Solve has no answer if one of the orders cannot be made as asked: each is named with what stands in the way.
func (q DayPlan) Solve() (DayPlanResult, error) { return q.Append(nil) }

// Append is Solve with the runs, in the order to make them, appended to dst.
func (q DayPlan) Append(dst []DayRun) (DayPlanResult, error) {
	out, _, err := q.solve(dst)
	return out, err
}

func (q *DayPlan) solve(dst []DayRun) (out DayPlanResult, d *day, err error) {
	if d, err = q.connected(); err != nil {
		return out, nil, err
	}
	d.found = d.sequence.search(usual(len(q.Orders)))
	d.write(&out, dst)
	return out, d, nil
}

// connected plans each order and finds what lies between any two.
func (q *DayPlan) connected() (*day, error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return nil, c.Err()
	}
	cl, err := Commission(q.Line)
	if err != nil {
		nestPlan(&c, "orders[0]", err)
		return nil, c.Err()
	}
	d := &day{q: q, cl: &cl, c: &c, runs: make([]dayRun, len(q.Orders)), known: map[jobList]unit.Duration{}}
	if d.plan(); !c.OK() {
		return nil, c.Err()
	}
	if d.connect(); !c.OK() {
		return nil, c.Err()
	}
	return d, nil
}
