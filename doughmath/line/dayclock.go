package line

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DayClock asks what happens on a whole day, by the clock on the wall: each order on the clock of [Clock], one after the other
// with the changeovers between them, through one oven and with the same racks; what waits, and which piece is where:
//
//	t_0 of each order = its first mixing by the day
//	E = min(E of each order), t_o = the first t_o, t_z = the last t_z
//	R = max(z of each order + its baking and packing)
//
// Order, starts and changeovers are those of [DayPlan]: nothing is decided again. Between two orders the mixer, the oven and its
// places are never taken twice, so that each order goes through as it would alone, and its clock is that of [Clock] from its first mixing.
//
// Racks and boxes are counted together for all orders. Findings are those of all orders, with the order that each is of, and of what
// lies between two: an oven that is empty there, why, and what would mend it.
//
// It is refused if:
//   - the day is,
//   - an order has more than 1000 batches, 10000 loads or 100000 racks, or levels are wanted of more than 10000,
//   - piece is given without the order that it is of, or is more than are made of that.
//
// Source: the day of [DayPlan] and the clock of [Clock]; cases in testdata/cases/line/day-clock.json.
type DayClock struct {
	Day    DayPlan       `json:"day" sym:"-"`                         // the day, as day-plan takes it
	Order  string        `json:"order,omitzero"`                      // the order of the piece to follow, by its name; leave out if none is followed
	Piece  int           `json:"piece,omitzero" range:"1..100000000"` // the piece, by the order in which pieces are scaled; leave out for none
	At     unit.Duration `json:"at,omitzero" range:"-48 h..240 h"`    // a moment to look at, from midnight; leave out for none
	Levels bool          `json:"levels,omitzero"`                     // true to list how many racks are taken, from change to change
}

// RunClock is one order of the day by the clock.
type RunClock struct {
	Name       string        `json:"name"`          // the order
	Changeover unit.Duration `json:"changeover"`    // to it from what was made before
	GapLimit   string        `json:"gap_limit"`     // what its first stroke waits for: "changeover", "mixer" or "oven"
	Clock      ClockResult   `json:"clock" sym:"-"` // its moments; its findings stand with those of the day
}

// DayClockResult is the day by the clock.
type DayClockResult struct {
	Runs       []RunClock      `json:"runs"`                   // in the order in which they are made
	Earliest   unit.Duration   `json:"earliest" sym:"E"`       // when the first work starts, preferments and soakers included; below 0 it is the day before
	FirstOven  unit.Duration   `json:"first_oven" sym:"t_o"`   // when the first pieces go into the oven
	LastOven   unit.Duration   `json:"last_oven" sym:"t_z"`    // when the last do
	Ready      unit.Duration   `json:"ready" sym:"R"`          // when all is ready, as the day says
	Racks      RackUse         `json:"racks,omitzero"`         // racks or boxes that are taken by all orders together, if they are planned
	Piece      PieceClock      `json:"piece,omitzero" sym:"-"` // the piece followed, if one was named
	Stations   []Station       `json:"stations,omitzero"`      // where pieces are at the moment that was named
	Findings   []Finding       `json:"findings,omitzero"`      // what does not go as it should; left out if nothing waits
	Conditions Conditions      `json:"conditions"`             // those of the day, and rate-limited: late, not-proven of the order or of a changeover, racks-short, carried-over, allergens-unknown, nothing-cleaned
	Cautions   reckon.Cautions `json:"cautions"`               // those of the day, hot-oven where pieces are baked, spoilage where preferments or soakers stand: moving-machinery, interlocks, locked-out, flour-dust, oil-slip, lifting, allergens, moving-belt, running-drive, roller-nip, cleaning, stamper-cover, wheels
}

func (DayClock) ID() string { return "day-clock" }

func (q DayClock) Check(c *reckon.Checks) {
	mark := c.Mark()
	q.Day.Check(c)
	c.Under(mark, "day")
	if q.Order != "" && !slices.Contains(q.Day.names(), q.Order) {
		c.Fail("order", strconv.Quote(unit.Clip(q.Order)), "the name of an order of the day")
	}
	if q.Piece != 0 && reckon.CheckCount(c, "piece", q.Piece, 1, mostPieces) && q.Order == "" {
		c.Fail("order", "missing", "the order that the piece is of")
	}
	if q.Order != "" && q.Piece == 0 {
		c.Fail("piece", "missing", "the piece of the order to follow, or no order")
	}
	if q.At != 0 {
		reckon.CheckRange(c, "at", q.At, -latestClock, latestLook)
	}
}

// Solve has no answer if one of the orders cannot be made as asked.
func (q DayClock) Solve() (DayClockResult, error) { return q.Append(nil) }

// Append is Solve with the runs, in the order to make them, appended to dst.
func (q DayClock) Append(dst []RunClock) (out DayClockResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	plan, d, err := q.Day.solve(nil)
	if err != nil {
		nestDay(&c, err)
		return out, c.Err()
	}
	runs := d.onTheClock(&plan, q.Levels)
	for i := range runs {
		if r := &runs[i]; q.Levels {
			r.ran.check(&c, "day.orders["+strconv.Itoa(r.order)+"]")
		}
		if n := runs[i].ran.plan.Batch.PiecesMade; runs[i].name == q.Order && q.Piece > n {
			c.Fail("piece", strconv.Itoa(q.Piece), "one of the "+strconv.Itoa(n)+" that are made")
		}
	}
	if !c.OK() {
		return out, c.Err()
	}
	q.write(&out, dst, &plan, runs)
	return out, nil
}

// ByTheClock is Solve with the same day by the clock, as [DayClock] has it: the order of the runs is sought once.
func (q DayPlan) ByTheClock() (plan DayPlanResult, clock DayClockResult, err error) {
	plan, d, err := q.solve(nil)
	if err == nil {
		(&DayClock{Day: q}).write(&clock, nil, &plan, d.onTheClock(&plan, false))
	}
	return plan, clock, err
}

// nestDay takes over what the day refused.
func nestDay(c *reckon.Checks, err error) {
	for _, e := range reckon.InputErrors(err) {
		here := *e
		here.Func, here.Field = c.Func, "day."+e.Field
		c.Nest("", &here)
	}
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		here := *none
		here.Func = c.Func
		c.Nest("", &here)
	}
}

// clockRun is an order of the day, on the clock from its first mixing.
type clockRun struct {
	name  string
	order int // among the orders given
	ran   ran
	run   *DayRun
}

// onTheClock puts the orders of a day onto the clock, in the order in which they are made.
func (d *day) onTheClock(plan *DayPlanResult, levels bool) []clockRun {
	names := d.q.names()
	list := make([]clockRun, len(plan.Runs))
	for k := range plan.Runs {
		i := slices.Index(names, plan.Runs[k].Name)
		list[k] = clockRun{names[i], i, d.runs[i].ran, &plan.Runs[k]}
		q := *list[k].ran.q
		q.Levels = levels
		list[k].ran.q, list[k].ran.start = &q, plan.Runs[k].Batches[0]
	}
	return list
}

func (q *DayClock) write(out *DayClockResult, dst []RunClock, plan *DayPlanResult, runs []clockRun) {
	out.Ready, out.Conditions, out.Cautions = plan.Ready, plan.Conditions&^RacksShort, plan.Cautions
	var spans []rackSpan
	for i := range runs {
		r := &runs[i]
		k := RunClock{Name: r.name, Changeover: r.run.Changeover, GapLimit: r.run.GapLimit}
		r.ran.write(&k.Clock, nil)
		if i > 0 {
			out.Findings = append(out.Findings, between(&runs[i-1], r)...)
		}
		for _, f := range k.Clock.Findings {
			if f.At != theRacks { // those are counted for all orders together
				f.Order = r.name
				out.Findings = append(out.Findings, f)
			}
		}
		k.Clock.Findings = nil
		spans = r.ran.racks(spans)
		if q.At != 0 {
			out.Stations = r.ran.stations(out.Stations, r.name, q.At)
		}
		if r.name == q.Order {
			out.Piece = r.ran.piece(q.Piece)
			if q.At != 0 {
				out.Piece.Station = r.ran.station(q.Piece, q.At)
			}
		}
		if i == 0 {
			out.Earliest, out.FirstOven = k.Clock.Earliest, k.Clock.FirstOven
		}
		out.Earliest, out.FirstOven = min(out.Earliest, k.Clock.Earliest), min(out.FirstOven, k.Clock.FirstOven)
		out.LastOven = max(out.LastOven, k.Clock.LastOven)
		out.Conditions |= k.Clock.Conditions&^RacksShort | r.run.Conditions&NotProven
		out.Cautions |= k.Clock.Cautions
		dst = append(dst, k)
	}
	out.Runs = dst
	f := &q.Day.Line.FinalProof
	if out.Racks = rackUse(spans, f.Available, q.Levels); out.Racks.ShortBy > 0 {
		out.Conditions |= RacksShort
		out.Findings = append(out.Findings, Finding{
			At: theRacks, Says: shortOf(&out.Racks, f.Available),
			Mend: "have " + strconv.Itoa(out.Racks.Most) + ", or start the order that fills them then later",
		})
	}
}

// between tells of an oven that is without pieces from one order to the next.
func between(before, next *clockRun) []Finding {
	if next.ran.q.Order.Product.Baking.Time == 0 {
		return nil
	}
	from, to := before.ran.baked(), next.ran.piece(1).Oven
	empty := to - from
	if empty <= worthTelling {
		return nil
	}
	f := Finding{Order: next.name, At: theOven, Says: "it stands without pieces for " + empty.String() + " from " + wall(from) + ", between " + before.name + " and " + next.name}
	switch next.run.GapLimit {
	case "changeover":
		f.Says += ": the changeover takes " + next.run.Changeover.String()
		if next.run.Changeover > empty {
			f.Mend = "change over in " + (next.run.Changeover - empty).String() + ", if the mixer keeps up, or make another order between them"
		} else {
			f.Mend = "no changeover is short enough: make an order between them that comes to the oven sooner"
		}
	case "mixer":
		f.Says += ": the first batch of the one comes too late after the last of the other"
		f.Mend = "mix it " + empty.String() + " sooner, in another bowl or mixer"
	default:
		f.Says += ": the oven is emptied and made ready for another baking"
		f.Mend = "make orders that bake alike one after the other"
	}
	return []Finding{f}
}

// Show works out the day, then each order by the clock.
func (q DayClock) Show(w *reckon.Working, out DayClockResult) {
	if w == nil {
		return
	}
	plan, d, err := q.Day.solve(nil)
	if err != nil {
		return
	}
	d.show(w, plan)
	runs := d.onTheClock(&plan, false)
	first := slices.Clone(out.Runs[len(out.Runs)-len(runs):])
	var earliest, ovens, lasts []string
	for i := range runs {
		r, n := &runs[i], strconv.Itoa(i+1)
		w.Heading(r.name + " by the clock, from midnight")
		w.Carried("first mixing", "t_0", float64(r.ran.start), "s")
		if r.name == q.Order {
			r.ran.q.Piece = q.Piece
			first[i].Clock.Piece = out.Piece
			w.Given("piece", "k", float64(q.Piece), "", "")
		}
		r.ran.show(w, &first[i].Clock)
		for _, m := range [...]struct {
			words, symbol, of string
			list              *[]string
			at                unit.Duration
		}{
			{"first work", "E_" + n, "E", &earliest, first[i].Clock.Earliest},
			{"first pieces into the oven", "t_o_" + n, "t_o", &ovens, first[i].Clock.FirstOven},
			{"last pieces into the oven", "t_z_" + n, "t_z", &lasts, first[i].Clock.LastOven},
		} {
			w.Step(r.name+", "+m.words, m.symbol, m.of, float64(m.at), "s", "")
			*m.list = append(*m.list, m.symbol)
		}
	}
	w.Heading("The whole day by the clock")
	var ready []string
	for i := range runs {
		n, e := strconv.Itoa(i+1), "e_"+strconv.Itoa(runs[i].order+1)
		w.Step(runs[i].name+", ready", "e_d_"+n, e, float64(runs[i].run.Ready), "s", "as the day says")
		ready = append(ready, "e_d_"+n)
	}
	w.Lines(out,
		"first work: E = "+"min("+strings.Join(earliest, ", ")+")",
		"first pieces into the oven: t_o = "+"min("+strings.Join(ovens, ", ")+")",
		"last pieces into the oven: t_z = "+"max("+strings.Join(lasts, ", ")+")",
		"all is ready: R = "+"max("+strings.Join(ready, ", ")+")",
	)
}
