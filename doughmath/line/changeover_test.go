package line_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func changeover(t testing.TB, before, next, people int) line.Changeover {
	t.Helper()
	s, _ := demo(t)
	return line.Changeover{Line: s.Line, Before: s.Orders[before], Next: s.Orders[next], Shift: s.Shift, People: people}
}

// step returns the step that does something.
func step(t testing.TB, out line.ChangeoverResult, do string) line.ChangeStep {
	t.Helper()
	i := slices.IndexFunc(out.Steps, func(s line.ChangeStep) bool { return strings.Contains(s.Do, do) })
	require.GreaterOrEqual(t, i, 0, "%s in %v", do, out.Steps)
	return out.Steps[i]
}

// safe holds the steps against the safe order, each rule by itself.
func safe(t *testing.T, out line.ChangeoverResult) {
	t.Helper()
	var empty, stop, start unit.Duration
	locked, guarded := map[string]unit.Duration{}, map[string]unit.Duration{}
	for _, s := range out.Steps {
		switch s.Phase {
		case line.PhaseClearOut:
			empty = s.End
		case line.PhaseStop:
			stop = s.End
		case line.PhaseStart:
			start = s.Start
		case line.PhaseLockOut:
			locked[s.Machine] = s.End
		case line.PhaseGuards:
			guarded[s.Machine] = s.Start
		}
	}
	for _, s := range out.Steps {
		if until, inside := guarded[s.Machine]; inside && s.Control != "" && s.Phase != line.PhaseChange {
			assert.GreaterOrEqual(t, s.Start, until, "%s while somebody may be inside of %s", s.Do, s.Machine)
		}
		switch s.Phase {
		case line.PhaseAhead:
			assert.LessOrEqual(t, s.End, unit.Duration(1e-6), "%s is done before the last stroke", s.Do)
		case line.PhaseAnyTime:
			assert.GreaterOrEqual(t, s.Start, empty, s.Do)
		case line.PhaseStop, line.PhaseLockOut:
			assert.GreaterOrEqual(t, s.Start, empty, s.Do)
			if s.Phase == line.PhaseLockOut {
				assert.GreaterOrEqual(t, s.Start, stop, s.Do)
			}
		case line.PhaseStopped:
			assert.True(t, s.Start >= stop && s.End <= start, s.Do)
		case line.PhaseChange:
			require.Contains(t, locked, s.Machine)
			assert.True(t, s.Start >= locked[s.Machine], "%s while %s is not locked out", s.Do, s.Machine)
			assert.True(t, s.End <= guarded[s.Machine], "%s while the guards of %s go back", s.Do, s.Machine)
			assert.True(t, s.Cautions.Has(reckon.LockedOut|reckon.Interlocks), s.Do)
		case line.PhaseGuards:
			assert.LessOrEqual(t, s.End, start, s.Do)
			assert.True(t, s.Cautions.Has(reckon.Interlocks), s.Do)
		case line.PhaseRunning:
			assert.True(t, s.Start >= start && s.Cautions.Has(reckon.RunningDrive), s.Do)
		case line.PhaseFirstPieces:
			assert.Equal(t, out.Takes, s.Start)
		}
		if s.Phase != line.PhaseAhead && s.Phase != line.PhaseFirstPieces {
			assert.LessOrEqual(t, s.End, out.Takes, s.Do)
		}
		assert.True(t, out.Cautions.Has(s.Cautions), s.Do)
	}
	assert.Equal(t, start-stop, out.Standing)
}

// Whatever changes to whatever, with however many people, the order is the safe one.
func TestChangeoverIsSafe(t *testing.T) {
	for before := range 4 {
		for next := range 4 {
			for people := 1; people <= 3; people++ {
				out, err := changeover(t, before, next, people).Solve()
				if err != nil {
					assert.Equal(t, 1, people)
					assert.ErrorContains(t, err, "takes so many")
					continue
				}
				safe(t, out)
				assert.LessOrEqual(t, out.Least, out.Takes)
				assert.Equal(t, out.Least < out.Takes, out.Conditions.Has(line.NotProven))
				last := out.ByPeople[len(out.ByPeople)-1]
				assert.Equal(t, line.ChangeTime{People: people, Takes: out.Takes, Least: out.Least}, last)
				for i, k := range out.ByPeople[1:] {
					assert.LessOrEqual(t, k.Takes, out.ByPeople[i].Takes, "one more person never takes longer")
				}
			}
		}
	}
}

// Where a drum is changed, what it takes out is out before, and what stands beside the next goes in behind it.
func TestDrumAndWhatComesOutWithIt(t *testing.T) {
	for _, c := range []struct {
		before, next int
		first        []string
	}{
		{1, 2, []string{"take out chutes", "take out drum brush", "take out small guides", "set rounding drum"}},
		{2, 1, []string{"set rounding drum", "put in chutes"}},
		{2, 1, []string{"set rounding drum", "put in drum brush"}},
		{2, 1, []string{"set rounding drum", "put in small guides"}},
	} {
		out, err := changeover(t, c.before, c.next, 3).Solve()
		require.NoError(t, err)
		last := step(t, out, c.first[len(c.first)-1])
		for _, do := range c.first[:len(c.first)-1] {
			assert.LessOrEqual(t, step(t, out, do).End, last.Start, "%s before %s", do, last.Do)
		}
	}
}

// The line is stopped and locked out only for what calls for it.
func TestNothingIsStoppedForNothing(t *testing.T) {
	q := changeover(t, 0, 0, 2)
	q.Line.Changing.Tasks = nil
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, out.ClearOut, out.Takes)
	assert.Zero(t, out.Standing)
	assert.Zero(t, out.Moved)
	assert.Len(t, out.Steps, 2, "the clear-out and the first pieces")
	q.Next.Product.Rounding.Speed = 150 // which is set running
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Standing)
	assert.Equal(t, 1, out.Moved)
	assert.Equal(t, out.ClearOut+60, out.Takes)
	assert.Equal(t, "set rounder speed to 150 rev/min (was 160 rev/min, down)", step(t, out, "rounder speed").Do)
	q.Next.Product.Baked = 50 // and the mark, standing
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Duration(60), out.Standing, "a minute at the handle")
	for _, s := range out.Steps {
		assert.NotEqual(t, line.PhaseLockOut, s.Phase)
	}
}

// A gap at the infeed is the same gap at the outlet, where both products stay as long.
func TestTheGapAtTheOutlet(t *testing.T) {
	q := changeover(t, 0, 0, 2)
	out, err := q.Solve()
	require.NoError(t, err)
	assert.InDelta(t, float64(out.Takes), float64(out.FirstOut-out.ClearOut), 1e-6)
	// The dough of the next product takes 12 min to mix and is not rested.
	assert.InDelta(t, float64(out.Takes-12*60), float64(out.FirstMix), 1e-9)
}

// Allergens that are carried over are cleaned away, and so is what is not known.
func TestAllergens(t *testing.T) {
	for _, c := range []struct {
		id           string
		before, next []string
		carried, new []string
		word         line.Conditions
		cleaned      bool
	}{
		{"the same", []string{"wheat"}, []string{"wheat"}, nil, nil, 0, false},
		{"one more comes", []string{"wheat"}, []string{"milk", "wheat"}, nil, []string{"milk"}, 0, false},
		{"one goes", []string{"wheat", "egg", "milk"}, []string{"wheat"}, []string{"egg", "milk"}, nil, line.CarriedOver, true},
		{"none after some", []string{"wheat"}, []string{}, []string{"wheat"}, nil, line.CarriedOver, true},
		{"not said before", nil, []string{"wheat"}, nil, nil, line.AllergensUnknown, true},
		{"not said next", []string{"wheat"}, nil, nil, nil, line.AllergensUnknown, true},
	} {
		q := changeover(t, 1, 3, 2)
		q.Before.Product.Allergens, q.Next.Product.Allergens = c.before, c.next
		out, err := q.Solve()
		require.NoError(t, err, c.id)
		assert.Equal(t, c.carried, out.CarriedOver, c.id)
		assert.Equal(t, c.new, out.NewInNext, c.id)
		assert.Equal(t, c.word, out.Conditions&^line.NotProven, c.id)
		for _, do := range []string{"wash hopper", "wash rollers", "brush out"} {
			i := slices.IndexFunc(out.Steps, func(s line.ChangeStep) bool { return strings.Contains(s.Do, do) })
			assert.Equal(t, c.cleaned, i >= 0, "%s: %s", c.id, do)
			if i >= 0 {
				assert.True(t, out.Steps[i].Cautions.Has(reckon.Allergens|reckon.Cleaning))
			}
		}
		q.Line.Changing.Tasks = q.Line.Changing.Tasks[:3]
		out, err = q.Solve()
		require.NoError(t, err, c.id)
		assert.Equal(t, c.cleaned, out.Conditions.Has(line.NothingCleaned), c.id)
	}
	// What the product before did not run over is not cleaned for it.
	q := changeover(t, 0, 3, 2)
	q.Before.Product.Allergens, q.Next.Product.Allergens = []string{"egg"}, []string{}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.False(t, slices.ContainsFunc(out.Steps, func(s line.ChangeStep) bool { return strings.Contains(s.Do, "wash rollers") }))
}

// Tasks wait for what they name, and those for a move are done before it unless they name it.
func TestTasksWait(t *testing.T) {
	out, err := changeover(t, 1, 2, 3).Solve()
	require.NoError(t, err)
	assert.LessOrEqual(t, step(t, out, "scrape").End, step(t, out, "wash hopper").Start)
	assert.LessOrEqual(t, step(t, out, "set rounding drum").End, step(t, out, "put the old drum").Start)
	assert.Less(t, step(t, out, "bring the next drum").End, step(t, out, "set rounding drum").Start)
	assert.Positive(t, out.Saved, "with three people too, fetching the drum after the stroke would hold up")
	q := changeover(t, 1, 2, 3)
	q.Line.Changing.Tasks = append(slices.Clone(q.Line.Changing.Tasks), line.ChangeTask{Name: "loosen the drum", Machine: "rounder", When: line.LockedOut, For: line.ForMove, Control: "rounding drum", Time: 600})
	out, err = q.Solve()
	require.NoError(t, err)
	safe(t, out)
	assert.LessOrEqual(t, step(t, out, "loosen the drum").End, step(t, out, "set rounding drum").Start)
	out, err = changeover(t, 0, 1, 2).Solve()
	require.NoError(t, err)
	for _, s := range out.Steps {
		assert.NotContains(t, s.Do, "bring the next drum", "the drum stays")
	}
}

// Nothing is switched at a machine while somebody may be inside.
func TestSwitchesWaitForTheGuards(t *testing.T) {
	out, err := changeover(t, 0, 1, 2).Solve()
	require.NoError(t, err)
	assert.GreaterOrEqual(t, step(t, out, "set moulder switch to on").Start, step(t, out, "guards back on moulder").End)
	assert.GreaterOrEqual(t, step(t, out, "set stamper switch").Start, step(t, out, "guards back on stamper").End)
}

func TestChangeoverRefuses(t *testing.T) {
	for _, c := range []struct {
		id     string
		spoil  func(*line.Changeover)
		fields []string
	}{
		{"no people", func(q *line.Changeover) { q.People = 0 }, []string{"people"}},
		{"no times", func(q *line.Changeover) { q.Line.Changing = line.Changing{} }, []string{"line.changing"}},
		{"a control without its time", func(q *line.Changeover) { control(t, &q.Line, "chutes").Time = 0 }, []string{"line.controls[7].time"}},
		{"both orders", func(q *line.Changeover) { q.Before.Pieces, q.Next.Product.Density = 0, 9 }, []string{"before.pieces", "next.product.density"}},
		{"the line once", func(q *line.Changeover) { q.Line.Divider.StrokesLow = 0 }, []string{"line.divider.strokes_low"}},
		{"a task for a control that there is not", func(q *line.Changeover) { tasks(q)[0].Control = "lever" }, []string{"line.changing.tasks[0].control"}},
		{"a control of a task for always", func(q *line.Changeover) { tasks(q)[1].Control = "chutes" }, []string{"line.changing.tasks[1].control"}},
		{"locked out nowhere", func(q *line.Changeover) { tasks(q)[3].Machine = "" }, []string{"line.changing.tasks[3].machine"}},
		{"a task twice", func(q *line.Changeover) { list := tasks(q); list[2].Name = list[1].Name }, []string{"line.changing.tasks[2].name"}},
		{"a task named as a control", func(q *line.Changeover) { tasks(q)[2].Name = "chutes" }, []string{"line.changing.tasks[2].name"}},
		{"after nothing", func(q *line.Changeover) { tasks(q)[2].After = []string{"the bell"} }, []string{"line.changing.tasks[2].after[0]"}},
		{"ahead of what comes later", func(q *line.Changeover) { list := tasks(q); list[1].After = []string{list[3].Name} }, []string{"line.changing.tasks[1].after[0]"}},
		{"a circle", func(q *line.Changeover) { list := tasks(q); list[3].After = []string{list[4].Name} }, []string{"line.changing.tasks[3].after", "line.changing.tasks[4].after"}},
		{"before a control that is moved before what comes first", func(q *line.Changeover) {
			q.Line.Changing.Tasks = []line.ChangeTask{
				{Name: "look", When: line.AnyTime, For: line.ForAlways, Time: 60, After: []string{"chutes"}},
				{Name: "clear the way", When: line.AnyTime, For: line.ForMove, Control: "chutes", Time: 60, After: []string{"look"}},
				{Name: "sweep", When: line.AnyTime, For: line.ForAlways, Time: 60},
			}
		}, []string{"line.changing.tasks[0].after", "line.changing.tasks[1].after"}},
		{"standing for what runs", func(q *line.Changeover) { tasks(q)[3].After = []string{"rounder speed"} }, []string{"line.changing.tasks[3].after", "line.changing.tasks[4].after"}},
	} {
		q := changeover(t, 1, 2, 2)
		c.spoil(&q)
		var fields []string
		for _, e := range reckon.Wrong(q) {
			fields = append(fields, e.Field)
			assert.Equal(t, "changeover", e.Func)
		}
		assert.Equal(t, c.fields, fields, c.id)
		_, err := q.Solve()
		assert.Error(t, err, c.id)
	}
	q := changeover(t, 1, 2, 1)
	_, err := q.Solve()
	assert.EqualError(t, err, `changeover: people is 1: want at least 2: "bring the next drum and its parts to the rounder" takes so many`)
	q = changeover(t, 1, 2, 2)
	for i := range 40 - len(q.Line.Changing.Tasks) {
		q.Line.Changing.Tasks = append(slices.Clip(q.Line.Changing.Tasks), line.ChangeTask{Name: fmt.Sprint("sweep ", i), When: line.AnyTime, For: line.ForAlways, Time: 60})
	}
	_, err = q.Solve()
	assert.ErrorContains(t, err, "up to 60 steps")
	// A product that cannot be made is named by its place.
	q = changeover(t, 1, 2, 2)
	q.Next.Product.RateHigh = 5
	_, err = q.Solve()
	assert.ErrorContains(t, err, "for the order next")
}

// What would contradict itself once it is changed over is told beforehand.
func TestChangeoverSaysWhatContradicts(t *testing.T) {
	q := changeover(t, 0, 2, 2)
	control(t, &q.Line, "belt duster").NotWith = []line.Clash{{At: "on", Control: "rounding drum", ControlAt: "large cups", Why: "flour cakes in the large cups"}}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(line.Contradictory))
	assert.Equal(t, []line.Contradiction{{Control: "belt duster", At: "on", Other: "rounding drum", OtherAt: "large cups", Why: "flour cakes in the large cups"}}, out.Contradictions)
}

// tasks returns the line's tasks in a list of its own that a test may change.
func tasks(q *line.Changeover) []line.ChangeTask {
	q.Line.Changing.Tasks = slices.Clone(q.Line.Changing.Tasks)
	return q.Line.Changing.Tasks
}

// A commissioned line says the same, and appends to the caller's list.
func TestChangeoverTwiceTheSame(t *testing.T) {
	s, cl := demo(t)
	whole, err := changeover(t, 1, 2, 2).Solve()
	require.NoError(t, err)
	head := line.ChangeStep{Do: "mine", Phase: line.PhaseStart, Start: 1e6, End: 2e6, Cautions: reckon.HotWater}
	quick, err := cl.Changeover(&s.Orders[1], &s.Orders[2], &s.Shift, 2, []line.ChangeStep{head})
	require.NoError(t, err)
	assert.Equal(t, head, quick.Steps[0])
	quick.Steps = quick.Steps[1:]
	assert.Equal(t, whole, quick)
	plans, err := s.PlanAll()
	require.NoError(t, err)
	between, err := cl.Between(&plans[1], &plans[2], &s.Shift, 2, nil)
	require.NoError(t, err)
	assert.Equal(t, whole, between)
	_, err = cl.Between(&line.Planned{}, &plans[2], &s.Shift, 2, nil)
	assert.ErrorContains(t, err, "before is no plan")
	_, err = cl.Changeover(&s.Orders[1], &s.Orders[2], &s.Shift, 11, nil)
	assert.ErrorContains(t, err, "people is 11")
}

// A control is moved if and only if the next product has it elsewhere: from where the one before has it, which way, and in the phase in which the line lets it be moved.
func TestStepsMoveWhatDiffers(t *testing.T) {
	phases := map[line.When]line.Phase{line.AnyTime: line.PhaseAnyTime, line.Stopped: line.PhaseStopped, line.Running: line.PhaseRunning, line.LockedOut: line.PhaseChange}
	ways := map[bool]int{}
	for before := range 4 {
		for next := range 4 {
			q := changeover(t, before, next, 2)
			out, err := q.Solve()
			require.NoError(t, err)
			var set [2][]line.Setting
			for i, order := range []line.Order{q.Before, q.Next} {
				k, err := line.ControlSettings{Line: q.Line, Order: order, Shift: q.Shift}.Solve()
				require.NoError(t, err)
				set[i] = k.Settings
			}
			moved := 0
			for i := range q.Line.Controls {
				k, from, to := &q.Line.Controls[i], &set[0][i], &set[1][i]
				at := slices.IndexFunc(out.Steps, func(s line.ChangeStep) bool { return s.Control == k.Name })
				if to.At == "" || to.At == from.At {
					assert.Less(t, at, 0, "%d to %d: %s stays", before, next, k.Name)
					continue
				}
				moved++
				require.GreaterOrEqual(t, at, 0, "%d to %d: %s is at %q and goes to %q", before, next, k.Name, from.At, to.At)
				s := out.Steps[at]
				assert.Equal(t, []string{k.Machine, from.At, to.At}, []string{s.Machine, s.From, s.To}, k.Name)
				assert.Equal(t, k.Sets, s.Sets)
				assert.Equal(t, k.Time, s.Time, k.Name)
				assert.Equal(t, phases[k.Change], s.Phase, k.Name)
				assert.Len(t, s.Who, max(1, k.People), k.Name)
				assert.InDelta(t, float64(s.Time), float64(s.End-s.Start), 1e-6)
				way := ""
				switch {
				case k.Sets == line.SetsFitting && to.At == "in":
					way = "put in"
				case k.Sets == line.SetsFitting:
					way = "take out"
				case (k.More != "" || k.Less != "") && from.At != "":
					more := to.Number > from.Number
					ways[more]++
					if way = k.Less; more {
						way = k.More
					}
				}
				assert.Equal(t, way, s.Way, k.Name)
				for _, sys := range []unit.System{unit.Metric, unit.US} {
					do := "set " + k.Name + " to " + to.In(sys)
					switch {
					case k.Sets == line.SetsFitting:
						do = way + " " + k.Name
					case from.At != "" && way != "":
						do += " (was " + from.In(sys) + ", " + way + ")"
					case from.At != "":
						do += " (was " + from.In(sys) + ")"
					}
					assert.Equal(t, do, s.In(sys))
					if sys == unit.Metric {
						assert.Equal(t, do, s.Do)
					}
				}
				// As read from JSON it holds only its texts: what has no unit reads the same.
				data, err := json.Marshal(s)
				require.NoError(t, err)
				var read line.ChangeStep
				require.NoError(t, json.Unmarshal(data, &read))
				assert.Equal(t, s.Do, read.In(unit.Metric))
			}
			assert.Equal(t, moved, out.Moved, "%d to %d", before, next)
			var union reckon.Cautions
			for _, s := range out.Steps {
				union |= s.Cautions
			}
			assert.Equal(t, union|reckon.Allergens, out.Cautions, "%d to %d", before, next)
			assert.Equal(t, line.PhaseFirstPieces, out.Steps[len(out.Steps)-1].Phase)
		}
	}
	assert.Positive(t, ways[true])
	assert.Positive(t, ways[false])
}

// What is done has the cautions of where and when it is done (common practice), and its own words and times.
func TestStepsByHand(t *testing.T) {
	q := changeover(t, 0, 0, 2)
	q.Before.Product.Allergens = []string{"wheat", "egg"}
	q.Line.Changing.Tasks = []line.ChangeTask{
		{Name: "lay out", When: line.Ahead, For: line.ForAlways, Time: 60},
		{Name: "fetch", When: line.Ahead, For: line.ForAlways, Time: 120, People: 2},
		{Name: "sweep", When: line.AnyTime, For: line.ForAlways, Time: 60},
		{Name: "wipe", Machine: "divider", When: line.Stopped, For: line.ForAlways, Time: 60},
		{Name: "oil", Machine: "divider", When: line.Running, For: line.ForAlways, Time: 60},
		{Name: "scrape", Machine: "divider", When: line.LockedOut, For: line.ForAlways, Time: 60},
		{Name: "wash", Machine: "overhead proofer", When: line.LockedOut, For: line.ForAllergens, Time: 60, People: 2},
		{Name: "move", When: line.AnyTime, For: line.ForMove, Control: "rounding drum", Time: 60}, // which stays
	}
	out, err := q.Solve()
	require.NoError(t, err)
	safe(t, out)
	plan, err := line.Plan{Line: q.Line, Order: q.Next, Shift: q.Shift}.Solve()
	require.NoError(t, err)
	weigh := fmt.Sprintf("weigh %d of the first pieces and look at them, set the first 24 aside", plan.Check.Pieces)
	type stands struct {
		phase    line.Phase
		machine  string
		time     unit.Duration
		people   int
		cautions reckon.Cautions
	}
	want := map[string]stands{
		"scaling off, oil shut, let the overhead proofer run empty": {line.PhaseClearOut, "", out.ClearOut, 0, reckon.MovingMachinery | reckon.OilSlip | reckon.Interlocks},
		"lay out":       {line.PhaseAhead, "", 60, 1, reckon.MovingMachinery},
		"fetch":         {line.PhaseAhead, "", 120, 2, reckon.MovingMachinery | reckon.Lifting},
		"sweep":         {line.PhaseAnyTime, "", 60, 1, reckon.MovingMachinery},
		"stop the line": {line.PhaseStop, "", 30, 1, reckon.MovingMachinery},
		"wipe":          {line.PhaseStopped, "divider", 60, 1, reckon.MovingMachinery | reckon.Interlocks},
		"isolate divider, a lock for each who reaches in, try that it does not start":          {line.PhaseLockOut, "divider", 60, 1, reckon.LockedOut | reckon.MovingMachinery},
		"isolate overhead proofer, a lock for each who reaches in, try that it does not start": {line.PhaseLockOut, "overhead proofer", 60, 1, reckon.LockedOut | reckon.MovingMachinery},
		"scrape": {line.PhaseChange, "divider", 60, 1, reckon.MovingMachinery | reckon.LockedOut | reckon.Interlocks},
		"wash":   {line.PhaseChange, "overhead proofer", 60, 2, reckon.MovingMachinery | reckon.LockedOut | reckon.Interlocks | reckon.Allergens | reckon.Cleaning | reckon.Lifting},
		"tools out, guards back on divider, each takes their own lock off":          {line.PhaseGuards, "divider", 120, 1, reckon.LockedOut | reckon.Interlocks},
		"tools out, guards back on overhead proofer, each takes their own lock off": {line.PhaseGuards, "overhead proofer", 120, 1, reckon.LockedOut | reckon.Interlocks},
		"start the line empty, see that it runs free":                               {line.PhaseStart, "", 60, 1, reckon.MovingMachinery | reckon.Interlocks},
		"oil": {line.PhaseRunning, "divider", 60, 1, reckon.MovingMachinery | reckon.RunningDrive},
		weigh: {line.PhaseFirstPieces, "", 240, 1, reckon.MovingBelt | reckon.MovingMachinery},
	}
	got := map[string]stands{}
	for _, s := range out.Steps {
		got[s.Do] = stands{s.Phase, s.Machine, s.Time, len(s.Who), s.Cautions}
		assert.InDelta(t, float64(s.Time), float64(s.End-s.Start), 1e-6, s.Do)
		assert.Equal(t, s.Do, s.In(unit.US), "no control is moved: there is no unit in it")
	}
	assert.Equal(t, want, got)
	assert.Equal(t, unit.Duration(180), out.Ahead, "fetch takes both for 2 min, lay out one for 1 min")
	assert.Equal(t, unit.Duration(180), -min(step(t, out, "lay out").Start, step(t, out, "fetch").Start))
	assert.Equal(t, plan.Check.Pieces, out.Weigh)
	assert.Equal(t, 24, out.SetAside)
	assert.Zero(t, out.Moved)
	// Stop to start, 600 s of work for two: 60 + 60 to lock out, 60 to scrape, twice 60 to wash, 120 + 120 of guards, 60 to wipe. With the stop, the start and the oiling
	// 30 + 300 + 60 + 60 s; sweeping fits in beside the start.
	assert.InDelta(t, float64(out.ClearOut)+450, float64(out.Takes), 1e-6)
	assert.Equal(t, out.Least, out.Takes)
	// Nobody says how many to weigh, and none are set aside.
	q.Next.Product.Check, q.Line.Changing.SetAside = line.Check{}, 0
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "weigh the first pieces and look at them", out.Steps[len(out.Steps)-1].Do)
	assert.Zero(t, out.Weigh)
}

// Work ahead waits for other work ahead, and is done by the last stroke: 1 min and then 2. Behind the clear-out it would take as long again.
func TestWorkAheadByHand(t *testing.T) {
	q := changeover(t, 0, 0, 2)
	q.Line.Changing.Tasks = []line.ChangeTask{
		{Name: "print labels", When: line.Ahead, For: line.ForAlways, Time: 60},
		{Name: "stick labels", When: line.Ahead, For: line.ForAlways, Time: 120, After: []string{"print labels"}},
		{Name: "fetch racks", When: line.Ahead, For: line.ForAlways, Time: 30},
	}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []unit.Duration{180, 180, out.ClearOut}, []unit.Duration{out.Ahead, out.Saved, out.Takes})
	for do, want := range map[string][]unit.Duration{"print labels": {-180, -120, 0}, "stick labels": {-120, 0, 0}, "fetch racks": {-180, -150, 150}} {
		s := step(t, out, do)
		assert.Equal(t, want, []unit.Duration{s.Start, s.End, s.Slack}, do)
		assert.Equal(t, s.Slack == 0, s.Critical, do)
	}
	q.People = 1
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []unit.Duration{210, 210, out.ClearOut}, []unit.Duration{out.Ahead, out.Saved, out.Takes}, "one does all of it")
}

// How long others would take is told for as many as no step is too heavy for, ahead or after the last stroke, and is what they are told themselves.
func TestChangeoverByFewerPeople(t *testing.T) {
	for _, c := range []struct {
		id    string
		tasks []line.ChangeTask
		first int
	}{
		{"one is enough", nil, 1},
		{"two for work ahead", []line.ChangeTask{{Name: "fetch", When: line.Ahead, For: line.ForAlways, Time: 60, People: 2}}, 2},
		{"three at a standstill", []line.ChangeTask{{Name: "lift", When: line.Stopped, For: line.ForAlways, Time: 60, People: 3}}, 3},
	} {
		q := changeover(t, 0, 0, 3)
		q.Next.Product.Baked, q.Next.Product.Rounding.Speed = 50, 150
		q.Line.Changing.Tasks = c.tasks
		out, err := q.Solve()
		require.NoError(t, err)
		require.Len(t, out.ByPeople, 3-c.first+1, c.id)
		for i, k := range out.ByPeople {
			assert.Equal(t, c.first+i, k.People, c.id)
			q.People = k.People
			own, err := q.Solve()
			require.NoError(t, err)
			assert.Equal(t, line.ChangeTime{People: k.People, Takes: own.Takes, Least: own.Least}, k, c.id)
		}
		if q.People = c.first - 1; q.People > 0 {
			_, err = q.Solve()
			assert.ErrorContains(t, err, fmt.Sprintf("people is %d: want at least %d", q.People, c.first), c.id)
		}
	}
}

// Sixty steps are taken, and one more is refused.
func TestStepsAreBounded(t *testing.T) {
	q := changeover(t, 1, 2, 2)
	out, err := q.Solve()
	require.NoError(t, err)
	have := len(out.Steps) - 1 // without the first pieces, which nobody has to put in order
	for i := have; i < 60; i++ {
		q.Line.Changing.Tasks = append(slices.Clip(q.Line.Changing.Tasks), line.ChangeTask{Name: fmt.Sprint("sweep ", i), When: line.AnyTime, For: line.ForAlways, Time: 1})
	}
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Len(t, out.Steps, 61)
	q.Line.Changing.Tasks = append(slices.Clip(q.Line.Changing.Tasks), line.ChangeTask{Name: "sweep once more", When: line.AnyTime, For: line.ForAlways, Time: 1})
	_, err = q.Solve()
	assert.EqualError(t, err, "changeover: line.changing.tasks is 61 steps in all: want up to 60 steps: take small ones together")
}

// Orders without a plan are named, each by its side, and with what else is wrong.
func TestBetweenOrdersWithoutPlans(t *testing.T) {
	s, cl := demo(t)
	plans, err := s.PlanAll()
	require.NoError(t, err)
	_, err = cl.Between(&plans[0], &line.Planned{Order: &s.Orders[1]}, &s.Shift, 0, nil)
	var fields []string
	for _, e := range reckon.InputErrors(err) {
		fields = append(fields, e.Field)
	}
	assert.Equal(t, []string{"people", "next"}, fields)
	_, err = cl.Between(&line.Planned{}, &line.Planned{}, &s.Shift, 2, nil)
	fields = nil
	for _, e := range reckon.InputErrors(err) {
		fields = append(fields, e.Field)
		assert.Equal(t, "an order with its plan: one that was refused cannot be changed to or from", e.Want)
	}
	assert.Equal(t, []string{"before", "next"}, fields)
	_, err = cl.Between(&plans[0], &line.Planned{Plan: plans[1].Plan}, &s.Shift, 2, nil)
	assert.ErrorContains(t, err, "next is no plan", "of no order")
	// A control that cannot stand as the next product needs it is named.
	lame := s.Line
	lame.Controls = slices.Clone(lame.Controls)
	chain := &lame.Controls[slices.IndexFunc(lame.Controls, func(k line.Control) bool { return k.Sets == line.SetsChain })]
	chain.Positions = []line.Position{{Name: "middle", Value: "middle"}}
	broken, err := line.Commission(lame)
	require.NoError(t, err)
	_, err = broken.Between(&plans[0], &plans[1], &s.Shift, 2, nil)
	assert.ErrorContains(t, err, "].positions is none for \"low\"")
	bad := s.Orders[0]
	bad.Product.RateHigh = 5
	_, err = cl.Changeover(&bad, &bad, &s.Shift, 2, nil)
	assert.ErrorContains(t, err, "for the order before")
	assert.ErrorContains(t, err, "for the order next")
}

// The working is that of the steps, with work ahead and without, whatever came before in the caller's list.
func TestChangeoverWorking(t *testing.T) {
	var workings []*reckon.Working
	free := changeover(t, 0, 0, 3) // for one, two or three
	free.Next.Product.Baked, free.Next.Product.Rounding.Speed, free.Next.Product.FloorTime = 50, 150, 300
	free.Next.Product.Check, free.Line.Changing.SetAside = line.Check{}, 0
	free.Line.Changing.Tasks = []line.ChangeTask{
		{Name: "print labels", When: line.Ahead, For: line.ForAlways, Time: 60},
		{Name: "stick labels", When: line.Ahead, For: line.ForAlways, Time: 120, After: []string{"print labels"}},
	}
	for _, q := range []line.Changeover{changeover(t, 1, 2, 2), changeover(t, 0, 0, 1), changeover(t, 2, 0, 3), free} {
		out, w, err := reckon.Explain(q)
		require.NoError(t, err)
		workings = append(workings, w)
		assert.NoError(t, testdata.Retrace(w, 1e-9))
		var want, got []string
		for _, k := range out.ByPeople[:len(out.ByPeople)-1] {
			want = append(want, fmt.Sprintf("Steps done by %d alone", k.People))
		}
		if out.Ahead > 0 {
			want = append(want, "If the work ahead came after the last stroke", "Work ahead, counted from its own start", "The same, counted from the last stroke")
		}
		want = append(want, "Steps, counted from the last stroke of the product before", "Changeover")
		for _, s := range w.Steps {
			if s.Kind == reckon.HeadingStep && !strings.HasPrefix(s.ID, "Plan of the ") {
				got = append(got, s.ID)
			}
		}
		assert.Equal(t, want, got)
		i := slices.IndexFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == "n_g" })
		assert.InDelta(t, float64(out.Weigh), w.Steps[i].Value, 0, "pieces weighed first")
	}
	outlinedBesideThePlan(t, "TestChangeoverWorking", workings...)
}

// Every changeover of the demo line, by the two people of its day, is proven.
func TestDemoChangeoversAreProven(t *testing.T) {
	s, cl := demo(t)
	plans, err := s.PlanAll()
	require.NoError(t, err)
	for before := range plans {
		for next := range plans {
			out, err := cl.Between(&plans[before], &plans[next], &s.Shift, s.Day.People, nil)
			require.NoError(t, err)
			assert.False(t, out.Conditions.Has(line.NotProven), "%d to %d", before, next)
			assert.Equal(t, out.Takes, out.Least)
		}
	}
}

func BenchmarkChangeover(b *testing.B) {
	for _, c := range []struct {
		id           string
		before, next int
		people       int
	}{{"alone", 0, 1, 1}, {"two", 0, 1, 2}, {"two, drum and lanes", 0, 2, 2}, {"two, searched", 1, 2, 2}} {
		s, cl := demo(b)
		plans, err := s.PlanAll()
		require.NoError(b, err)
		b.Run(c.id, func(b *testing.B) {
			var out line.ChangeoverResult
			b.ReportAllocs()
			for b.Loop() {
				var err error
				if out, err = cl.Between(&plans[c.before], &plans[c.next], &s.Shift, c.people, out.Steps[:0]); err != nil {
					b.Fatal(err)
				}
			}
			if out.Takes == 0 {
				b.Fatal("nothing was found")
			}
		})
	}
}
