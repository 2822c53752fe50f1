package line

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Changing is how the line is changed over from one product to another, in the shop's own
// times: timed with a watch, over several changeovers.
type Changing struct {
	Stop       unit.Duration `json:"stop" range:"1 s..4 h"`               // to stop the line once it is empty
	LockOut    unit.Duration `json:"lock_out" range:"1 s..4 h"`           // to isolate one machine, lock it out and try that it does not start
	Guards     unit.Duration `json:"guards" range:"1 s..4 h"`             // to clear tools away, put the guards of one machine back and take the lock off
	Start      unit.Duration `json:"start" range:"1 s..4 h"`              // to start the line and see that it runs free
	FirstCheck unit.Duration `json:"first_check" range:"1 s..4 h"`        // to weigh and look at the first pieces
	SetAside   int           `json:"set_aside,omitzero" range:"0..10000"` // first pieces that are set aside until weight and shape stand; leave out for none
	Tasks      []ChangeTask  `json:"tasks,omitzero" items:"..40"`         // what is done besides moving the controls; leave out for nothing
}

// ChangeTask is a piece of work at a changeover besides moving a control.
type ChangeTask struct {
	Name    string        `json:"name"`                          // what is done, each name once and none of a control
	Machine string        `json:"machine,omitzero"`              // the machine that it is done at; needed if it is locked out
	When    When          `json:"when"`                          // "ahead", "any-time", "running", "stopped" or "locked-out"
	For     ChangeFor     `json:"for"`                           // "always", "allergens" or "move"
	Control string        `json:"control,omitzero"`              // the control for whose move it is done; only with "move"
	Route   Route         `json:"route,omitzero"`                // only after products of this route; leave out for all
	After   []string      `json:"after,omitzero" items:"1..40"`  // tasks and controls that are done first, if they are; leave out for none
	Time    unit.Duration `json:"time" range:"1 s..4 h"`         // how long it takes
	People  int           `json:"people,omitzero" range:"1..10"` // people that it takes; leave out for one
}

// ChangeFor says for what a task at a changeover is done.
type ChangeFor string

const (
	// ForAlways is done at every changeover.
	ForAlways ChangeFor = "always"
	// ForAllergens is cleaning that is done where an allergen must not be carried over.
	ForAllergens ChangeFor = "allergens"
	// ForMove is done where one control is moved: before it is moved, or after it if the task names it among what is done first.
	ForMove ChangeFor = "move"
)

const mostTasks = 40

// none reports whether nothing is said of changing over.
func (g *Changing) none() bool {
	return g.Stop == 0 && g.LockOut == 0 && g.Guards == 0 && g.Start == 0 && g.FirstCheck == 0 && g.SetAside == 0 && g.Tasks == nil
}

func (g *Changing) check(c *reckon.Checks, l *Line) {
	mark := c.Mark()
	reckon.CheckRange(c, "stop", g.Stop, shortest, longestMove)
	reckon.CheckRange(c, "lock_out", g.LockOut, shortest, longestMove)
	reckon.CheckRange(c, "guards", g.Guards, shortest, longestMove)
	reckon.CheckRange(c, "start", g.Start, shortest, longestMove)
	reckon.CheckRange(c, "first_check", g.FirstCheck, shortest, longestMove)
	reckon.CheckCount(c, "set_aside", g.SetAside, 0, 10_000)
	if reckon.CheckItems(c, "tasks", len(g.Tasks), mostTasks) {
		for i := range g.Tasks {
			before := c.Mark()
			g.checkTask(c, l, i)
			c.Item(before, "tasks", i)
		}
	}
	c.Under(mark, "changing")
}

func (g *Changing) checkTask(c *reckon.Checks, l *Line, i int) {
	t := &g.Tasks[i]
	if t.Name == "" || g.task(t.Name) < i || l.control(t.Name) >= 0 {
		c.Fail("name", strconv.Quote(unit.Clip(t.Name)), "a name, each once and none of a control")
	}
	if reckon.CheckWord(c, "when", t.When, Ahead, AnyTime, Running, Stopped, LockedOut) && t.When == LockedOut && t.Machine == "" {
		c.Fail("machine", `""`, "the machine that is locked out for it")
	}
	switch word := reckon.CheckWord(c, "for", t.For, ForAlways, ForAllergens, ForMove); {
	case word && t.For == ForMove && l.control(t.Control) < 0:
		c.Fail("control", strconv.Quote(unit.Clip(t.Control)), "the name of one of the line's controls")
	case word && t.For != ForMove && t.Control != "":
		c.Fail("control", strconv.Quote(unit.Clip(t.Control)), `nothing, unless it is for "move"`)
	}
	if t.Route != "" {
		reckon.CheckWord(c, "route", t.Route, ToStamper, ToMoulder, ToPanning)
	}
	reckon.CheckRange(c, "time", t.Time, shortest, longestMove)
	if t.People != 0 {
		reckon.CheckCount(c, "people", t.People, 1, mostPeople)
	}
	if t.After != nil && len(t.After) == 0 {
		c.Fail("after", "empty", "what is done first")
	}
	if !reckon.CheckItems(c, "after", len(t.After), mostTasks) {
		return
	}
	for a, name := range t.After {
		if j := g.task(name); j < 0 && l.control(name) < 0 || j == i {
			c.Fail("after["+strconv.Itoa(a)+"]", strconv.Quote(unit.Clip(name)), "the name of another task or of a control of the line")
		} else if t.When == Ahead && (j < 0 || g.Tasks[j].When != Ahead) {
			c.Fail("after["+strconv.Itoa(a)+"]", strconv.Quote(unit.Clip(name)), "another task that is done ahead")
		}
	}
}

// task returns the index of the task with that name, or -1.
func (g *Changing) task(name string) int {
	return slices.IndexFunc(g.Tasks, func(t ChangeTask) bool { return t.Name == name })
}

// people is how many a task takes.
func (t *ChangeTask) people() int { return max(1, t.People) }

// checkCircle refuses tasks that would wait for one another if every control were moved, or for what is done
// only after the line has started again.
func (l *Line) checkCircle(c *reckon.Checks) {
	g := &l.Changing
	n, start := len(g.Tasks), len(g.Tasks)+len(l.Controls)
	waits := make([][]int, start+1) // for each task, each control and the start: what comes first
	place := func(i int, when When) {
		switch when {
		case Stopped, LockedOut:
			waits[start] = append(waits[start], i)
		case Running:
			waits[i] = append(waits[i], start)
		}
	}
	for j := range l.Controls {
		place(n+j, l.Controls[j].Change)
	}
	for i := range g.Tasks {
		t := &g.Tasks[i]
		place(i, t.When)
		for _, name := range t.After {
			if j := g.task(name); j >= 0 {
				waits[i] = append(waits[i], j)
			} else if j := l.control(name); j >= 0 {
				waits[i] = append(waits[i], n+j)
			}
		}
		if j := l.control(t.Control); t.first() && j >= 0 {
			waits[n+j] = append(waits[n+j], i)
		}
	}
	done, more := make([]bool, start+1), true
	for more {
		more = false
		for i := range waits {
			if !done[i] && !slices.ContainsFunc(waits[i], func(j int) bool { return !done[j] }) {
				done[i], more = true, true
			}
		}
	}
	for i := range g.Tasks {
		if !done[i] {
			c.Fail("line.changing.tasks["+strconv.Itoa(i)+"].after", strconv.Quote(unit.Clip(g.Tasks[i].Name)),
				"tasks that do not wait for one another in a circle, nor, while the line stands, for what is done when it runs again")
		}
	}
}

// first reports whether a task is done before its control is moved, if it has one.
func (t *ChangeTask) first() bool { return !slices.Contains(t.After, t.Control) }
