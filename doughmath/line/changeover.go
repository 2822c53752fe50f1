package line

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Changeover asks what is changed on the line from one product to the next, in which order, by whom, and
// how long it takes:
//
//	T is the end of all steps done by P people, and T_0 is proven, as in [CriticalPath]; the first step is the clear-out t_c
//	t_s = e_2 - e_1
//	t_v = max(0, T_v - T)
//	t_f = T + t_1
//	t_m = T - t_x - t_r
//	counted: n_m controls moved, n_g pieces weighed first
//	t_a is the end of the work ahead, done by the same people
//	s_i, f_i, p_i and c_i of a step are those of [CriticalPath], less t_a of the work ahead
//	T_i and L_i are T and T_0 with i people
//
// from the last stroke of the product before, with t_c of its plan and t_1, when the first pieces leave the overhead
// proofer, of the next one's; e_1 and e_2, when the line stops and starts; T_v, the end if the work
// ahead were done after the last stroke; and t_x and t_r, mixing and floor time of the next product.
//
// The order is always the safe one: the proofer runs empty with the scaling off and the oil shut, the
// line is stopped, a machine is isolated and locked out before hands go in, parts and positions are
// changed, the guards go back and the lock comes off, the line is started, and what may only be
// adjusted running is adjusted running. What need not wait is done meanwhile, but nothing is moved or switched at a
// machine that somebody may be inside of. Nothing is stopped or locked out for which no control, part or task calls.
//
// Allergens of the product before that the next does not contain are carried over by what is not cleaned: the
// tasks for "allergens" are then done. They are done too where a product does not say what it contains.
//
// It is refused if:
//   - a plan of either product is,
//   - the line names no controls or no changing, or a control has no time,
//   - a step takes more people than there are,
//   - there are more than 60 steps.
//
// Source: the plans of [Plan] and the search of [CriticalPath]; common practice for the order, and for what may be done while the line
// runs; cases in testdata/cases/line/changeover.json.
type Changeover struct {
	Line   Line  `json:"line" sym:"-"`                 // the equipment, with its controls and with changing
	Before Order `json:"before" sym:"-"`               // what runs now
	Next   Order `json:"next" sym:"-"`                 // what runs after it
	Shift  Shift `json:"shift" sym:"-"`                // today's conditions
	People int   `json:"people" sym:"P" range:"1..10"` // people who change over
}

// Phase is a part of a changeover, in the safe order.
type Phase string

const (
	// PhaseAhead is work done while the product before still runs.
	PhaseAhead Phase = "ahead"
	// PhaseClearOut is the proofer running empty, scaling off and oil shut.
	PhaseClearOut Phase = "clear-out"
	// PhaseAnyTime is what is set once the line is empty, whether it runs or stands.
	PhaseAnyTime Phase = "any-time"
	// PhaseStop is the stop of the line.
	PhaseStop Phase = "stop"
	// PhaseLockOut is one machine isolated and locked out.
	PhaseLockOut Phase = "lock-out"
	// PhaseChange is work inside a machine that is locked out.
	PhaseChange Phase = "change"
	// PhaseStopped is what is set while the line stands.
	PhaseStopped Phase = "stopped"
	// PhaseGuards is the guards of one machine back and its lock off.
	PhaseGuards Phase = "guards"
	// PhaseStart is the start of the line.
	PhaseStart Phase = "start"
	// PhaseRunning is what is adjusted while the line runs.
	PhaseRunning Phase = "running"
	// PhaseFirstPieces is the weighing of and the look at the first pieces of the next product.
	PhaseFirstPieces Phase = "first-pieces"
)

// ChangeStep is one step of a changeover.
type ChangeStep struct {
	Phase    Phase           `json:"phase"`            // which part of the changeover
	Do       string          `json:"do"`               // what is done, in words
	Machine  string          `json:"machine,omitzero"` // where; left out for the line as a whole
	Control  string          `json:"control,omitzero"` // the control that is moved
	Sets     Sets            `json:"sets,omitzero"`    // what that sets
	Way      string          `json:"way,omitzero"`     // which way a number goes, in the shop's words
	From     string          `json:"from,omitzero"`    // where it stood for the product before; left out if that left it alone
	To       string          `json:"to,omitzero"`      // where it goes
	Time     unit.Duration   `json:"time" sym:"p_#"`   // how long it takes
	Start    unit.Duration   `json:"start" sym:"s_#"`  // from the last stroke of the product before; below 0 for work ahead
	End      unit.Duration   `json:"end" sym:"f_#"`    // when it is done
	Slack    unit.Duration   `json:"slack" sym:"c_#"`  // how late it may be without holding up the next product
	Critical bool            `json:"critical"`         // true if it may not be late at all
	Who      []int           `json:"who,omitzero"`     // the people, numbered from 1; left out if it takes nobody
	Cautions reckon.Cautions `json:"cautions"`         // moving-machinery, interlocks, locked-out, running-drive, roller-nip, lifting, cleaning, allergens, oil-slip, flour-dust, moving-belt, stamper-cover

	from, to Setting // of a control that is moved
}

// ChangeTime is how long a changeover takes so many people.
type ChangeTime struct {
	People int           `json:"people"`          // so many
	Takes  unit.Duration `json:"takes" sym:"T_#"` // from the last stroke of the product before to the first of the next
	Least  unit.Duration `json:"least" sym:"L_#"` // no order takes less; the same if the shortest was found
}

// ChangeoverResult is the changeover, step by step.
type ChangeoverResult struct {
	Takes    unit.Duration `json:"takes" sym:"T"`            // from the last stroke of the product before to the first of the next
	Least    unit.Duration `json:"least" sym:"T_0"`          // no order of these steps takes less; the same if the shortest was found
	ClearOut unit.Duration `json:"clear_out" sym:"t_c"`      // until the overhead proofer is empty
	Standing unit.Duration `json:"standing" sym:"t_s"`       // how long the line stands; 0 if nothing stops it
	Ahead    unit.Duration `json:"ahead" sym:"t_a"`          // so long before the last stroke the work ahead begins
	Saved    unit.Duration `json:"saved" sym:"t_v"`          // by so much doing it ahead is shorter
	FirstOut unit.Duration `json:"first_out" sym:"t_f"`      // from the last stroke before until the first pieces of the next leave the overhead proofer
	FirstMix unit.Duration `json:"first_mix" sym:"t_m"`      // when the next product's first mixing starts, so that its dough is there in time; below 0 if that is before the last stroke
	Weigh    int           `json:"weigh,omitzero" sym:"n_g"` // first pieces to weigh, if the product says how it is watched
	SetAside int           `json:"set_aside,omitzero"`       // first pieces that are set aside
	Moved    int           `json:"moved" sym:"n_m"`          // controls moved
	ByPeople []ChangeTime  `json:"by_people"`                // for one person up to as many as there are, without those that a step is too heavy for
	Steps    []ChangeStep  `json:"steps"`                    // in the order of starts

	CarriedOver    []string        `json:"carried_over,omitzero"`   // allergens of the product before that the next does not contain
	Contradictions []Contradiction `json:"contradictions,omitzero"` // what contradicts itself as the next product sets it; nothing runs before it is mended

	NewInNext  []string        `json:"new_in_next,omitzero"` // allergens of the next that the one before does not contain: labels and racks change with them
	Conditions Conditions      `json:"conditions"`           // carried-over, allergens-unknown, nothing-cleaned, not-proven, contradiction
	Cautions   reckon.Cautions `json:"cautions"`             // those of all steps: moving-machinery, interlocks, allergens, and the others where a step calls for them
}

func (Changeover) ID() string { return "changeover" }

func (q Changeover) Check(c *reckon.Checks) {
	Plan{Line: q.Line, Order: q.Before, Shift: q.Shift}.under(c, "before")
	Plan{Line: q.Line, Order: q.Next, Shift: q.Shift}.under(c, "next")
	q.checkChanging(c)
}

// checkChanging tells what is wrong beside the plans.
func (q *Changeover) checkChanging(c *reckon.Checks) {
	reckon.CheckCount(c, "people", q.People, 1, mostPeople)
	if len(q.Line.Controls) == 0 {
		c.Fail("line.controls", "empty", "the controls of the line, in walking order")
	}
	if q.Line.Changing.none() {
		c.Fail("line.changing", "missing", "how the line is changed over, in the shop's own times")
	}
	if !c.OK() {
		return
	}
	for i := range q.Line.Controls {
		if k := &q.Line.Controls[i]; k.Time == 0 {
			c.Fail("line.controls["+strconv.Itoa(i)+"].time", "missing", "how long the shop takes to move "+strconv.Quote(k.Name)+", 1 s to 4 h")
		}
	}
	q.Line.checkCircle(c)
}

// Solve has no answer if either product cannot be made as asked.
func (q Changeover) Solve() (ChangeoverResult, error) { return q.Append(nil) }

// Append is Solve with the steps appended to dst.
func (q Changeover) Append(dst []ChangeStep) (ChangeoverResult, error) {
	out, _, err := q.solve(dst)
	return out, err
}

func (q *Changeover) solve(dst []ChangeStep) (out ChangeoverResult, b changes, err error) {
	c := reckon.Checks{Func: q.ID()}
	cl, refused := Commission(q.Line)
	if q.checkChanging(&c); refused == nil && c.OK() {
		if out, b, err = cl.changeover(&q.Before, &q.Next, &q.Shift, q.People, dst); err == nil {
			return out, b, nil
		}
	}
	// Plans that are made need no Check before them; where something is wrong, all that is is told.
	c = reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, b, c.Err()
	}
	if refused != nil {
		nestPlan(&c, "before", refused)
		return out, b, c.Err()
	}
	return out, b, err
}

// Changeover is the package's [Changeover] on a line that was commissioned before.
func (cl *Commissioned) Changeover(before, next *Order, shift *Shift, people int, dst []ChangeStep) (ChangeoverResult, error) {
	c := reckon.Checks{Func: Changeover{}.ID()}
	q := Changeover{Line: cl.line, People: people}
	if q.checkChanging(&c); !c.OK() {
		return ChangeoverResult{}, c.Err()
	}
	out, _, err := cl.changeover(before, next, shift, people, dst)
	return out, err
}

func (cl *Commissioned) changeover(before, next *Order, shift *Shift, people int, dst []ChangeStep) (ChangeoverResult, changes, error) {
	c := reckon.Checks{Func: Changeover{}.ID()}
	both := [2]Planned{{Order: before}, {Order: next}}
	for i := range both {
		if err := cl.PlanInto(&both[i].Plan, both[i].Order, shift, nil); err != nil {
			nestPlan(&c, sides[i], err)
		}
	}
	if !c.OK() {
		return ChangeoverResult{}, changes{}, c.Err()
	}
	return cl.between(&both[0], &both[1], shift, people, dst)
}

// Between is [Commissioned.Changeover] between two orders that were planned already, such as each with each of a day.
func (cl *Commissioned) Between(before, next *Planned, shift *Shift, people int, dst []ChangeStep) (ChangeoverResult, error) {
	c := reckon.Checks{Func: Changeover{}.ID()}
	q := Changeover{Line: cl.line, People: people}
	q.checkChanging(&c)
	for i, p := range [...]*Planned{before, next} {
		if p.Order == nil || !(p.Plan.Strokes > 0) {
			c.Fail(sides[i], "no plan", "an order with its plan: one that was refused cannot be changed to or from")
		}
	}
	if !c.OK() {
		return ChangeoverResult{}, c.Err()
	}
	out, _, err := cl.between(before, next, shift, people, dst)
	return out, err
}

// sides are the names of the two orders.
var sides = [...]string{"before", "next"}

func (cl *Commissioned) between(before, next *Planned, shift *Shift, people int, dst []ChangeStep) (out ChangeoverResult, b changes, err error) {
	if b, err = cl.changes(&out, before, next, people); err != nil {
		return ChangeoverResult{}, b, err
	}
	b.order(&out, people, dst)
	out.FirstOut = out.Takes + next.Plan.Clear.FirstOut
	out.FirstMix = out.Takes - shift.Mixer.Mixing - next.Order.Product.FloorTime
	return out, b, nil
}

// changes gathers the steps between two orders, before anybody is to do them.
func (cl *Commissioned) changes(out *ChangeoverResult, before, next *Planned, people int) (b changes, err error) {
	c := reckon.Checks{Func: Changeover{}.ID()}
	var set [2][]Setting
	for i, p := range [...]*Planned{before, next} {
		if set[i], err = cl.Settings(make([]Setting, 0, len(cl.line.Controls)), p.Order, &p.Plan); err != nil {
			nestPlan(&c, sides[i], err)
		}
	}
	if !c.OK() {
		return b, c.Err()
	}
	out.ClearOut = before.Plan.Clear.ClearOut
	out.SetAside, out.Weigh = cl.line.Changing.SetAside, next.Plan.Check.Pieces
	out.compare(&before.Order.Product, &next.Order.Product)
	if out.Contradictions = cl.line.contradictions(nil, func(i int) string { return set[1][i].At }); out.Contradictions != nil {
		out.Conditions |= Contradictory
	}
	b = changes{line: &cl.line, list: make([]change, 0, mostJobs)}
	b.gather(out, before.Order, set[0], set[1])
	b.check(&c, people)
	return b, c.Err()
}

// compare finds the allergens that only one of the products contains.
func (o *ChangeoverResult) compare(before, next *Product) {
	if before.Allergens == nil || next.Allergens == nil {
		o.Conditions |= AllergensUnknown
		return
	}
	o.CarriedOver = lacking(before.Allergens, next.Allergens)
	o.NewInNext = lacking(next.Allergens, before.Allergens)
	if len(o.CarriedOver) > 0 {
		o.Conditions |= CarriedOver
	}
}

// lacking returns what of a is not in b.
func lacking(a, b []string) (list []string) {
	for _, word := range a {
		if !slices.Contains(b, word) {
			list = append(list, word)
		}
	}
	return list
}

func (q Changeover) Show(w *reckon.Working, out ChangeoverResult) {
	if w == nil {
		return
	}
	_, b, err := q.solve(nil)
	if err != nil {
		return
	}
	var plans [2]PlanResult
	for i, order := range [...]Order{q.Before, q.Next} {
		asked := Plan{Line: q.Line, Order: order, Shift: q.Shift}
		if plans[i], err = asked.Solve(); err != nil {
			return
		}
		asked.showAs(w, [...]string{"Plan of the product before", "Plan of the next product"}[i], plans[i])
	}
	for i := range out.ByPeople[:len(out.ByPeople)-1] {
		t := &out.ByPeople[i]
		s := b.search(t.People, nil)
		b.showPath(w, "Steps done by "+strconv.Itoa(t.People)+" alone", &s, b.list)
		n := strconv.Itoa(t.People)
		w.Step("changeover by so many", "T_"+n, "T", float64(t.Takes), "s", "")
		w.Step("no order takes less than", "L_"+n, "T_0", float64(t.Least), "s", "")
	}
	b.showAhead(w, &out, q.People)
	s := b.search(q.People, nil)
	b.showPath(w, "Steps, counted from the last stroke of the product before", &s, b.list)
	w.Heading("Changeover")
	n := strconv.Itoa(q.People)
	w.Step("changeover by all", "T_"+n, "T", float64(out.Takes), "s", "")
	w.Step("no order takes less than", "L_"+n, "T_0", float64(out.Least), "s", "")
	w.Lines(out, "clear-out of the overhead proofer: t_c = p_1  [the first step]")
	b.showStanding(w, &out)
	if len(b.ahead) > 0 {
		w.Lines(out, "saved by working ahead: t_v = max(0, T_v - T)")
	}
	w.Carried("first pieces out of the proofer", "t_1", float64(plans[1].Clear.FirstOut), "s")
	w.Lines(out, "first pieces out: t_f = T + t_1")
	w.Carried("mixing", "t_x", float64(q.Shift.Mixer.Mixing), "s")
	w.Carried("floor time", "t_r", float64(q.Next.Product.FloorTime), "s")
	w.Lines(out, "first mixing of the next product: t_m = T - t_x - t_r")
	if out.Weigh > 0 {
		w.Carried("pieces to weigh", "n", float64(out.Weigh), "")
		w.Lines(out, "pieces weighed first: n_g = n")
	} else {
		w.Given("pieces weighed first", "n_g", 0, "", "the next product does not say")
	}
	last := strconv.Itoa(len(b.list) + 1)
	w.Given("weighing and looking at the first pieces", "p_"+last, float64(q.Line.Changing.FirstCheck), "s", "")
	w.Step("first pieces, start", "s_"+last, "T", float64(out.Takes), "s", "")
	w.Step("first pieces, end", "f_"+last, "s_"+last+" + p_"+last, float64(out.Takes+q.Line.Changing.FirstCheck), "s", "")
	w.Given("controls moved", "n_m", float64(out.Moved), "", "counted, control by control")
}

// showPath shows the critical path of some steps.
func (b *changes) showPath(w *reckon.Working, heading string, s *search, list []change) {
	w.Heading(heading)
	path := s.path(list)
	if times, err := path.Solve(); err == nil {
		path.Show(w, times)
	}
}

// showAhead shows how long the work ahead takes, and how long all would take if it came after the last stroke.
func (b *changes) showAhead(w *reckon.Working, out *ChangeoverResult, people int) {
	if len(b.ahead) == 0 {
		return
	}
	late := b.search(people, b.ahead)
	b.showPath(w, "If the work ahead came after the last stroke", &late, slices.Concat(b.list, b.ahead))
	w.Lines(nil, "end of all then: T_v = T in s")
	ahead := b.searchAhead(people)
	b.showPath(w, "Work ahead, counted from its own start", &ahead, b.ahead)
	w.Lines(out, "the work ahead begins before the last stroke: t_a = T")
	w.Heading("The same, counted from the last stroke")
	for i := range b.ahead {
		n := strconv.Itoa(i + 1)
		w.Lines(nil, "start: s_a"+n+" = s_"+n+" - t_a in s", "end: f_a"+n+" = f_"+n+" - t_a in s")
	}
}

// showStanding shows when the line stops and starts, if it does.
func (b *changes) showStanding(w *reckon.Working, out *ChangeoverResult) {
	stop := slices.IndexFunc(b.list, func(k change) bool { return k.Phase == PhaseStop })
	if stop < 0 {
		return
	}
	start := slices.IndexFunc(b.list, func(k change) bool { return k.Phase == PhaseStart })
	w.Lines(out,
		"the line stops: e_1 = f_"+strconv.Itoa(stop+1)+" in s",
		"the line starts: e_2 = s_"+strconv.Itoa(start+1)+" in s",
		"the line stands: t_s = e_2 - e_1",
	)
}
