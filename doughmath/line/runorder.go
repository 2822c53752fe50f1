package line

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// RunOrder asks in which order to make the runs of a day on one line, where the changeover depends on what was
// made before:
//
//	x_i = f_h + c_h_i, with h the run before; x_i = t_0 + c_0_i for the first
//	f_i = x_i + p_i
//	l_i = max(0, f_i - d_i)
//	F_1 = f_z + c_z_0, with z the last run
//	L_1 = sum(w_i*l_i), W_1 = max(l_i), N_1 counts the l_i above 0
//	G_1 is the sum of the changeovers in this order
//	N_0, L_0, W_0, F_0, G_0 are proven: no order has less
//
// with p_i the time of a run, d_i its due time, w_i its weight, c_h_i the changeover and t_0 the start. Each time is
// taken up to whole seconds, so that orders compare exactly, and a due time down.
//
// The search is exact for lists of up to 15 runs, and for longer ones where due times, precedence or changeovers
// leave little to choose: the condition not-proven says where it is not. It is then a good order, found by a bounded number
// of steps, the same each time; least says how much better another could be.
//
// It is refused if:
//   - a run must be made after one that there is not, or runs wait for one another in a circle,
//   - the changeovers after a run are not as many as the runs,
//   - a due time is not after the start,
//   - the aim looks at due times and no run has one.
//
// Source: M. Held and R. M. Karp, A dynamic programming approach to sequencing problems, SIAM Journal 10 (1962) 196
// (recalled); J. M. Moore, Management Science 15 (1968) 102 (the fewest late, recalled); cases in
// testdata/cases/line/run-order.json.
type RunOrder struct {
	Runs  []Run         `json:"runs" items:"1..60"`                            // what is to be made
	Start unit.Duration `json:"start,omitzero" sym:"t_0,0" range:"0 s..168 h"` // when the line is free, on the same clock as the due times; leave out for 0
	Aim   OrderAim      `json:"aim"`                                           // "fewest-late", "least-lateness", "least-worst" or "earliest-finish"
}

// Run is one product that is made without a break.
type Run struct {
	Name   string          `json:"name"`                                         // what it is, each name once
	Time   unit.Duration   `json:"time" sym:"p_#" range:"0 s..48 h"`             // how long the line makes it
	Due    unit.Duration   `json:"due,omitzero" sym:"-" range:">0 s..2000 h"`    // when it must be done; leave out if it need not be done at any time
	Weight int             `json:"weight,omitzero" sym:"-" range:"1..1000"`      // how much its lateness counts; leave out for 1
	First  unit.Duration   `json:"first,omitzero" sym:"-" range:"0 s..48 h"`     // changeover to it from the line as it stands; leave out for none
	Next   []unit.Duration `json:"next,omitzero" sym:"-" range:"-" items:"..60"` // changeover from it to each of the runs, in the order given, 0 s to 48 h, its own not counted; leave out for none
	Last   unit.Duration   `json:"last,omitzero" sym:"-" range:"0 s..48 h"`      // what is done at the line after it if it is the last; leave out for nothing
	After  []string        `json:"after,omitzero" items:"0..60"`                 // runs that must be made before it; leave out if none must
}

// RunTime is one run of the order found.
type RunTime struct {
	Name       string        `json:"name"`       // as given
	Changeover unit.Duration `json:"changeover"` // before it
	Start      unit.Duration `json:"start"`      // of the run
	End        unit.Duration `json:"end"`        // of the run
	Late       unit.Duration `json:"late"`       // after its due time; 0 if it is in time
}

// OrderTotal is what an order comes to.
type OrderTotal struct {
	Late     int           `json:"late" sym:"N_#"`     // runs that are late
	Lateness unit.Duration `json:"lateness" sym:"L_#"` // of all, each by its weight
	Worst    unit.Duration `json:"worst" sym:"W_#"`    // of the one that is the latest
	Finish   unit.Duration `json:"finish" sym:"F_#"`   // when the line is done
	Changing unit.Duration `json:"changing" sym:"G_#"` // changing over, together
}

// RunOrderResult is the order to make the runs in.
type RunOrderResult struct {
	Runs       []RunTime  `json:"runs"`          // in the order to make them
	Total      OrderTotal `json:"total" sym:"1"` // of this order
	Least      OrderTotal `json:"least" sym:"0"` // no order has less of any of these, each taken alone
	Conditions Conditions `json:"conditions"`    // late, not-proven
}

// longestRun bounds what one run or changeover takes.
const (
	longestRun = unit.Duration(48 * 3600)
	latestDue  = unit.Duration(2000 * 3600)
	latestFree = unit.Duration(168 * 3600)
	mostWeight = 1000
)

func (RunOrder) ID() string { return "run-order" }

func (q RunOrder) Check(c *reckon.Checks) {
	n := len(q.Runs)
	if n == 0 {
		c.Fail("runs", "empty", "1 to 60 runs")
	}
	listed := reckon.CheckItems(c, "runs", n, mostRuns)
	reckon.CheckRange(c, "start", q.Start, 0, latestFree)
	reckon.CheckWord(c, "aim", q.Aim, FewestLate, LeastLateness, LeastWorst, EarliestFinish)
	if !listed {
		return
	}
	due := false
	names, known := q.names(), true
	for i := range q.Runs {
		mark := c.Mark()
		r := &q.Runs[i]
		q.checkRun(c, r)
		due = due || r.Due != 0
		known = checkNamed(c, names, i, r.After) && known
		c.Item(mark, "runs", i)
	}
	if n > 0 && !due && q.Aim != EarliestFinish && !c.Told("aim") {
		c.Fail("aim", strconv.Quote(string(q.Aim)), `"earliest-finish": no run has a due time`)
	}
	if known {
		checkCircle(c, "runs", names, madeBefore(names, q.after))
	}
}

func (q *RunOrder) names() []string {
	names := make([]string, len(q.Runs))
	for i := range q.Runs {
		names[i] = q.Runs[i].Name
	}
	return names
}

func (q *RunOrder) after(i int) []string { return q.Runs[i].After }

func (q *RunOrder) checkRun(c *reckon.Checks, r *Run) {
	reckon.CheckRange(c, "time", r.Time, 0, longestRun)
	checkDue(c, r.Due, q.Start)
	if r.Weight != 0 {
		reckon.CheckCount(c, "weight", r.Weight, 1, mostWeight)
	}
	reckon.CheckRange(c, "first", r.First, 0, longestRun)
	switch {
	case !reckon.CheckItems(c, "next", len(r.Next), mostRuns):
	case len(r.Next) != 0 && len(r.Next) != len(q.Runs):
		c.Fail("next", strconv.Itoa(len(r.Next))+" times", "one for each of the "+strconv.Itoa(len(q.Runs))+" runs, in their order")
	default:
		for j, t := range r.Next {
			reckon.CheckRange(c, "next["+strconv.Itoa(j)+"]", t, 0, longestRun)
		}
	}
	reckon.CheckRange(c, "last", r.Last, 0, longestRun)
}

// checkDue requires a due time, if there is one, after the start.
func checkDue(c *reckon.Checks, due, start unit.Duration) {
	if due != 0 && reckon.CheckAbove(c, "due", due, latestDue) && due <= start {
		c.Fail("due", due.String(), "after the start at "+start.String()+": the next day is 24 h more")
	}
}

// checkNamed requires a name that only run i has, and that what it is made after is on the list. It reports the latter.
func checkNamed(c *reckon.Checks, names []string, i int, after []string) bool {
	if names[i] == "" || slices.Index(names, names[i]) < i {
		c.Fail("name", strconv.Quote(unit.Clip(names[i])), "a name, each once")
	}
	known := reckon.CheckItems(c, "after", len(after), mostRuns)
	for k := range after[:min(len(after), mostRuns)] {
		if !slices.Contains(names, after[k]) {
			c.Fail("after["+strconv.Itoa(k)+"]", strconv.Quote(unit.Clip(after[k])), "one of the names on the list")
			known = false
		}
	}
	return known
}

// madeBefore returns, for each run, all that must be made before it, directly or not.
func madeBefore(names []string, after func(i int) []string) []uint64 {
	sets := make([]uint64, len(names))
	for i := range names {
		for _, name := range after(i) {
			sets[i] |= 1 << slices.Index(names, name)
		}
	}
	through(sets)
	return sets
}

// through adds to each set what comes before its members.
func through(sets []uint64) {
	for k := range sets {
		for i := range sets {
			if sets[i]>>k&1 == 1 {
				sets[i] |= sets[k]
			}
		}
	}
}

// checkCircle refuses runs that wait for one another, and names them.
func checkCircle(c *reckon.Checks, list string, names []string, before []uint64) {
	var circle []string
	for i, b := range before {
		if b>>i&1 == 1 {
			circle = append(circle, strconv.Quote(unit.Clip(names[i])))
		}
	}
	if len(circle) > 0 {
		c.Fail(list, strings.Join(circle, ", "), "runs that need not be made after one another in a circle, as these must")
	}
}

func (q RunOrder) Solve() (RunOrderResult, error) { return q.Append(nil) }

// Append is Solve with the runs, in the order to make them, appended to dst.
func (q RunOrder) Append(dst []RunTime) (out RunOrderResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	o := q.sequence()
	f := o.search(usual(len(q.Runs)))
	t, last := tally{line: o.start}, len(q.Runs)
	for _, j := range f.order {
		r := RunTime{Name: q.Runs[j].Name, Changeover: unit.Duration(o.gap[last][j]), Start: unit.Duration(t.line + o.gap[last][j])}
		t = o.step(t, last, j)
		r.End, r.Late = unit.Duration(t.line), unit.Duration(max(0, t.line-o.due[j]))
		dst = append(dst, r)
		last = j
	}
	out.Runs = dst
	out.Total, out.Least = f.tally.total(), f.least.total()
	out.Conditions = f.conditions()
	return out, nil
}

func (t *tally) total() OrderTotal {
	return OrderTotal{int(t.late), unit.Duration(t.lateness), unit.Duration(t.worst), unit.Duration(t.finish), unit.Duration(t.changing)}
}

func (f *found) conditions() (set Conditions) {
	if f.tally.late > 0 {
		set |= Late
	}
	if !f.proven {
		set |= NotProven
	}
	return set
}

func (q *RunOrder) sequence() *sequence {
	n := len(q.Runs)
	o := newSequence(n, q.Aim)
	o.start, o.before = secondsUp(q.Start), madeBefore(q.names(), q.after)
	for i := range q.Runs {
		r := &q.Runs[i]
		o.time[i], o.weight[i] = secondsUp(r.Time), int64(max(1, r.Weight))
		if r.Due != 0 {
			o.due[i] = secondsDown(r.Due)
		}
		o.gap[n][i], o.gap[i][n] = secondsUp(r.First), secondsUp(r.Last)
		for j, t := range r.Next {
			o.gap[i][j] = secondsUp(t)
		}
	}
	o.change = o.gap
	return o
}

// newSequence makes room for so many runs without due times.
func newSequence(n int, aim OrderAim) *sequence {
	o := &sequence{aim: aim, time: make([]int64, n), due: make([]int64, n), weight: make([]int64, n), before: make([]uint64, n)}
	o.gap, o.change = make([][]int64, n+1), make([][]int64, n+1)
	for i := range n + 1 {
		o.gap[i], o.change[i] = make([]int64, n+1), make([]int64, n+1)
	}
	for i := range n {
		o.due[i], o.weight[i] = noDue, 1
	}
	return o
}

// secondsUp takes a time up to whole seconds, whatever binary arithmetic leaves over.
func secondsUp(d unit.Duration) int64 { return int64(math.Ceil(float64(d) * (1 - hair))) }

// secondsDown takes a time down to whole seconds.
func secondsDown(d unit.Duration) int64 { return int64(math.Floor(float64(d) * (1 + hair))) }

func (q RunOrder) Show(w *reckon.Working, out RunOrderResult) {
	if w == nil {
		return
	}
	w.Inputs(q)
	w.Lines(nil, "the line is free, in whole seconds: f_0 = ceil(t_0) in s")
	names, last, total := q.names(), len(q.Runs), totalled{end: "f_0"}
	for _, r := range out.Runs[len(out.Runs)-len(q.Runs):] {
		i := slices.Index(names, r.Name)
		n, run := strconv.Itoa(i+1), &q.Runs[i]
		change := run.First
		if last < len(q.Runs) {
			change = 0
			if next := q.Runs[last].Next; next != nil {
				change = next[i]
			}
		}
		w.Given("changeover to "+r.Name, "u_"+n, float64(change), "s", "")
		w.Step(r.Name+", changeover in whole seconds", "c_"+n, "ceil(u_"+n+")", float64(r.Changeover), "s", "")
		w.Lines(nil, r.Name+", run in whole seconds: r_"+n+" = ceil(p_"+n+") in s")
		w.Step(r.Name+", start", "x_"+n, total.end+" + c_"+n, float64(r.Start), "s", "after what was made before")
		w.Step(r.Name+", end", "f_"+n, "x_"+n+" + r_"+n, float64(r.End), "s", "")
		total.add(n)
		last = i
		if run.Due == 0 {
			continue
		}
		w.Given(r.Name+", due", "v_"+n, float64(run.Due), "s", "")
		w.Lines(nil, r.Name+", due, in whole seconds: d_"+n+" = floor(v_"+n+") in s")
		w.Step(r.Name+", late", "l_"+n, "max(0, f_"+n+" - d_"+n+")", float64(r.Late), "s", "")
		total.due(n, max(1, run.Weight))
	}
	w.Given("changeover as the line is left", "u_z", float64(q.Runs[last].Last), "s", "")
	w.Lines(nil, "changeover as the line is left, in whole seconds: c_z = ceil(u_z) in s")
	w.Lines(out, total.lines("runs")...)
	out.Least.show(w)
}
