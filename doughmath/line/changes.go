package line

import (
	"fmt"
	"math/bits"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// change is one step of a changeover before it has its time.
type change struct {
	ChangeStep
	people int
	after  uint64 // the steps that come first, by index
	name   string // of the control or the task
}

// changes gathers the steps of a changeover and puts them in order.
type changes struct {
	line             *Line
	list             []change // after the last stroke; the clear-out first
	ahead            []change // before it
	stopped, started unit.Duration
}

func (b *changes) add(k change) int {
	b.list = append(b.list, k)
	return len(b.list) - 1
}

// whole is a step of the line as a whole, or of one machine.
func whole(phase Phase, do, machine string, time unit.Duration, after uint64, care reckon.Cautions) change {
	return change{ChangeStep: ChangeStep{Phase: phase, Do: do, Machine: machine, Time: time, Cautions: care}, people: 1, after: after}
}

// gather lists every step that the two products call for.
func (b *changes) gather(out *ChangeoverResult, before *Order, from, to []Setting) {
	clear := whole(PhaseClearOut, "scaling off, oil shut, let the overhead proofer run empty", "", out.ClearOut, 0, reckon.MovingMachinery|reckon.OilSlip|reckon.Interlocks)
	clear.people = 0
	b.add(clear)
	for i := range to {
		if k, ok := b.move(i, &from[i], &to[i]); ok {
			b.add(k)
			out.Moved++
		}
	}
	cleaned := b.tasks(out, before.Product.Route)
	if unknown := out.Conditions.Has(AllergensUnknown); (unknown || len(out.CarriedOver) > 0) && !cleaned {
		out.Conditions |= NothingCleaned
	}
	b.link()
	b.safely()
}

// move is the step that moves control i, if it stands elsewhere for the next product.
func (b *changes) move(i int, from, to *Setting) (change, bool) {
	k := &b.line.Controls[i]
	if to.At == "" || to.At == from.At && to.Number == from.Number {
		return change{}, false
	}
	step := ChangeStep{
		Phase: phaseOf(k.Change), Machine: k.Machine, Control: k.Name, Sets: k.Sets, From: from.At, To: to.At, Time: k.Time, Cautions: cautions(k.Sets, k.Change),
		from: *from, to: *to,
	}
	switch {
	case k.Sets == SetsFitting:
		step.Way = either(k.value(to.At) == inPut, "put in", "take out")
	case to.Sets.number() && from.At != "":
		step.Way = either(to.fromNumber(from.Number) == MoveMore, k.More, k.Less)
	}
	step.Do = step.In(unit.Metric)
	return change{ChangeStep: step, people: k.people(), name: k.Name}, true
}

// In returns what is done, in the units of a person's choice.
func (s *ChangeStep) In(sys unit.System) string {
	switch {
	case s.Control == "":
		return s.Do
	case s.Sets == SetsFitting:
		return s.Way + " " + s.Control
	}
	was, to := s.Sets.in(s.From, sys), s.Sets.in(s.To, sys)
	if s.to.At == s.To && s.from.At == s.From { // not if the step was read from JSON, which has the texts alone
		was, to = s.from.In(sys), s.to.In(sys)
	}
	do := "set " + s.Control + " to " + to
	if s.From == "" {
		return do
	}
	do += " (was " + was
	if s.Way != "" {
		do += ", " + s.Way
	}
	return do + ")"
}

func phaseOf(when When) Phase {
	switch when {
	case Ahead:
		return PhaseAhead
	case Running:
		return PhaseRunning
	case Stopped:
		return PhaseStopped
	case LockedOut:
		return PhaseChange
	}
	return PhaseAnyTime
}

// tasks adds the line's tasks that this changeover calls for, and reports whether any of them cleans for allergens.
func (b *changes) tasks(out *ChangeoverResult, route Route) (cleaned bool) {
	for i := range b.line.Changing.Tasks {
		t := &b.line.Changing.Tasks[i]
		switch {
		case t.Route != "" && t.Route != route,
			t.For == ForAllergens && len(out.CarriedOver) == 0 && !out.Conditions.Has(AllergensUnknown),
			t.For == ForMove && b.index(t.Control) < 0:
			continue
		}
		k := whole(phaseOf(t.When), t.Name, t.Machine, t.Time, 0, taskCautions(t))
		k.people, k.name = t.people(), t.Name
		cleaned = cleaned || t.For == ForAllergens
		if t.When == Ahead {
			b.ahead = append(b.ahead, k)
		} else {
			b.add(k)
		}
	}
	return cleaned
}

func taskCautions(t *ChangeTask) reckon.Cautions {
	out := reckon.MovingMachinery
	switch t.When {
	case LockedOut:
		out |= reckon.LockedOut | reckon.Interlocks
	case Stopped:
		out |= reckon.Interlocks
	case Running:
		out |= reckon.RunningDrive
	}
	if t.For == ForAllergens {
		out |= reckon.Allergens | reckon.Cleaning
	}
	if t.people() > 1 {
		out |= reckon.Lifting
	}
	return out
}

// index finds the step of a control or a task after the last stroke, or -1.
func (b *changes) index(name string) int {
	return slices.IndexFunc(b.list, func(k change) bool { return k.name == name && name != "" })
}

// link lets steps wait for what the line's tasks name.
func (b *changes) link() {
	for i := range b.line.Changing.Tasks {
		t := &b.line.Changing.Tasks[i]
		here := b.index(t.Name)
		if here < 0 {
			continue
		}
		for _, name := range t.After {
			if j := b.index(name); j >= 0 {
				b.list[here].after |= 1 << j
			}
		}
		if j := b.index(t.Control); t.first() && j >= 0 {
			b.list[j].after |= 1 << here
		}
	}
}

// safely puts the stop, the lock-outs, the guards and the start where the safe order has them.
func (b *changes) safely() {
	const cleared = uint64(1) // the clear-out
	g, n := &b.line.Changing, len(b.list)
	var stands, running uint64
	var machines []string
	for i := range b.list[:n] {
		k := &b.list[i]
		switch k.Phase {
		case PhaseChange:
			if !slices.Contains(machines, k.Machine) {
				machines = append(machines, k.Machine)
			}
			stands |= 1 << i
		case PhaseStopped:
			stands |= 1 << i
		case PhaseRunning:
			running |= 1 << i
		case PhaseAnyTime:
			k.after |= cleared
		}
	}
	if stands == 0 {
		b.each(running, cleared)
		return
	}
	b.drums(n)
	stop := b.add(whole(PhaseStop, "stop the line", "", g.Stop, cleared, reckon.MovingMachinery))
	b.each(stands, 1<<stop)
	starts := stands
	for _, m := range machines {
		lock := b.add(whole(PhaseLockOut, "isolate "+m+", a lock for each who reaches in, try that it does not start", m, g.LockOut, 1<<stop, reckon.LockedOut|reckon.MovingMachinery))
		var inside, moves uint64
		for i := range b.list[:n] {
			switch k := &b.list[i]; {
			case k.Machine != m:
			case k.Phase == PhaseChange:
				k.after |= 1 << lock
				inside |= 1 << i
			case k.Control != "" && k.Phase != PhaseRunning:
				moves |= 1 << i
			}
		}
		guards := b.add(whole(PhaseGuards, "tools out, guards back on "+m+", each takes their own lock off", m, g.Guards, inside, reckon.LockedOut|reckon.Interlocks))
		starts |= 1 << guards
		b.each(moves, 1<<guards) // nothing is moved or switched at a machine that somebody may be inside of
	}
	start := b.add(whole(PhaseStart, "start the line empty, see that it runs free", "", g.Start, starts, reckon.MovingMachinery|reckon.Interlocks))
	b.each(running, 1<<start)
}

// drums puts parts that come out before the drum that they leave room for, and parts that go in behind it.
func (b *changes) drums(n int) {
	for i := range b.list[:n] {
		drum := &b.list[i]
		if j := b.line.control(drum.Control); j < 0 || b.line.Controls[j].Sets != SetsDrum {
			continue
		}
		for f := range b.list[:n] {
			fitting := &b.list[f]
			j := b.line.control(fitting.Control)
			switch {
			case j < 0 || b.line.Controls[j].Sets != SetsFitting || fitting.Machine != drum.Machine:
			case b.line.Controls[j].value(fitting.To) == inPut:
				fitting.after |= 1 << i
			default:
				drum.after |= 1 << f
			}
		}
	}
}

// each lets the steps of a set wait for more.
func (b *changes) each(set, after uint64) {
	for ; set != 0; set &= set - 1 {
		b.list[bits.TrailingZeros64(set)].after |= after
	}
}

// check refuses more steps than the search takes, and a step that is too heavy for the people there are.
func (b *changes) check(c *reckon.Checks, people int) {
	if n := len(b.list) + len(b.ahead); n > mostJobs {
		c.Fail("line.changing.tasks", strconv.Itoa(n)+" steps in all", "up to "+strconv.Itoa(mostJobs)+" steps: take small ones together")
		return
	}
	for _, k := range slices.Concat(b.ahead, b.list) {
		if k.people > people {
			c.Fail("people", strconv.Itoa(people), fmt.Sprintf("at least %d: %q takes so many", k.people, k.name))
			return
		}
	}
}

// order finds who does what when, appends the steps to dst, and says how long fewer people would take.
func (b *changes) order(out *ChangeoverResult, people int, dst []ChangeStep) {
	heaviest := 1
	for _, list := range [...][]change{b.ahead, b.list} {
		for i := range list {
			heaviest = max(heaviest, list[i].people)
		}
	}
	for p := heaviest; p < people; p++ {
		s := b.search(p, nil)
		takes, least := s.run()
		out.ByPeople = append(out.ByPeople, ChangeTime{p, takes, least})
	}
	late := b.search(people, b.ahead)
	if len(b.ahead) > 0 {
		ahead := b.searchAhead(people)
		out.Ahead, _ = ahead.run()
		dst = b.timed(&ahead, b.ahead, -out.Ahead, dst)
	}
	s := b.search(people, nil)
	out.Takes, out.Least = s.run()
	out.ByPeople = append(out.ByPeople, ChangeTime{people, out.Takes, out.Least})
	if out.Least < out.Takes {
		out.Conditions |= NotProven
	}
	if len(b.ahead) > 0 {
		with, _ := late.run()
		out.Saved = max(0, with-out.Takes)
	}
	first := len(dst)
	dst = b.timed(&s, b.list, 0, dst)
	b.standing(dst[first:])
	out.Standing = b.started - b.stopped
	dst = append(dst, b.firstPieces(out))
	for i := range dst[len(dst)-len(b.ahead)-len(b.list)-1:] {
		out.Cautions |= dst[len(dst)-1-i].Cautions
	}
	out.Cautions |= reckon.Allergens
	out.Steps = dst
}

// standing notes when the line stops and when it starts again.
func (b *changes) standing(steps []ChangeStep) {
	for i := range steps {
		switch steps[i].Phase {
		case PhaseStop:
			b.stopped = steps[i].End
		case PhaseStart:
			b.started = steps[i].Start
		}
	}
}

// firstPieces is the step after the first stroke of the next product.
func (b *changes) firstPieces(out *ChangeoverResult) ChangeStep {
	do := "weigh the first pieces and look at them"
	if out.Weigh > 0 {
		do = "weigh " + strconv.Itoa(out.Weigh) + " of the first pieces and look at them"
	}
	if out.SetAside > 0 {
		do += ", set the first " + strconv.Itoa(out.SetAside) + " aside"
	}
	check := b.line.Changing.FirstCheck
	return ChangeStep{Phase: PhaseFirstPieces, Do: do, Time: check, Start: out.Takes, End: out.Takes + check, Who: []int{1}, Cautions: reckon.MovingBelt | reckon.MovingMachinery}
}

// search is the steps as jobs, with more of them once the line is empty.
func (b *changes) search(people int, more []change) search {
	s := search{people: people}
	for i := range b.list {
		s.add(b.list[i].Time, b.list[i].people, b.list[i].after)
	}
	for i := range more {
		at := s.add(more[i].Time, more[i].people, 1|b.aheadAfter(i)<<len(b.list))
		// What is fetched and weighed is there before it is used.
		if j := b.index(b.control(more[i].name)); j >= 0 {
			s.after[j] |= 1 << at
		}
	}
	return s
}

// control returns the control for whose move a task is done, "" for none.
func (b *changes) control(task string) string {
	if i := b.line.Changing.task(task); i >= 0 {
		return b.line.Changing.Tasks[i].Control
	}
	return ""
}

// aheadAfter is what of the work ahead comes before its step i.
func (b *changes) aheadAfter(i int) (after uint64) {
	t := &b.line.Changing.Tasks[b.line.Changing.task(b.ahead[i].name)]
	for _, name := range t.After {
		if j := slices.IndexFunc(b.ahead, func(k change) bool { return k.name == name }); j >= 0 {
			after |= 1 << j
		}
	}
	return after
}

// timed appends the steps with their times, counted from a moment, in the order of their starts.
func (b *changes) timed(s *search, list []change, from unit.Duration, dst []ChangeStep) []ChangeStep {
	var times [mostJobs]JobTime
	s.hand(times[:s.n])
	var order [mostJobs]int
	for i := range list {
		order[i] = i
	}
	byStart(order[:len(list)], times[:])
	for _, i := range order[:len(list)] {
		k, t := list[i].ChangeStep, &times[i]
		k.Start, k.End, k.Slack, k.Critical, k.Who = from+t.Start, from+t.End, t.Slack, t.Critical, t.Who
		dst = append(dst, k)
	}
	return dst
}

// path is the steps of a search as a question of their own.
func (s *search) path(list []change) CriticalPath {
	name := func(i int) string { return strconv.Itoa(i+1) + ". " + list[i].Do }
	q := CriticalPath{People: s.people}
	for i := range list {
		j := Job{Name: name(i), Time: list[i].Time, People: list[i].people}
		for rest := s.after[i]; rest != 0; rest &= rest - 1 {
			j.After = append(j.After, name(bits.TrailingZeros64(rest)))
		}
		q.Jobs = append(q.Jobs, j)
	}
	return q
}

// searchAhead is the work ahead as jobs.
func (b *changes) searchAhead(people int) search {
	s := search{people: people}
	for i := range b.ahead {
		s.add(b.ahead[i].Time, b.ahead[i].people, b.aheadAfter(i))
	}
	return s
}
