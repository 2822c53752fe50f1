package line_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Where a handle is left alone nothing is said of a tolerance that was not given, nor of a handle that stands between its marks.
func TestNoToleranceIsNoMatter(t *testing.T) {
	in := input(t, 0)
	in.Order.Product.Tolerance, in.Order.Product.Drift = 0, line.HopperDrift{}
	p, err := in.Solve()
	require.NoError(t, err)
	assert.False(t, p.Check.Conditions.Has(divider.WideInterval))
	in.Line.Divider.MarkStep, in.Order.Product.Tolerance = 0, 1e-15 // less than binary arithmetic leaves over
	_, err = in.Solve()
	assert.NoError(t, err, "a handle without steps gives the weight itself")
}

// A move of one step goes above the start by a step less what may be lost: within the tolerance it is made, beyond it refused.
func TestAMoveOfTheMarkStaysWithinTheTolerance(t *testing.T) {
	in := input(t, 0)
	p, err := in.Solve()
	require.NoError(t, err)
	step := unit.Mass(math.Abs(float64(p.Mark.PerMark)) * in.Line.Divider.MarkStep)
	in.Order.Product.Baked *= (p.Mark.Expected - 0.3*step) / p.Target // so that the mark gives 0.3 steps more than is wanted
	p, err = in.Solve()
	require.NoError(t, err)
	for _, lost := range []unit.Mass{0.55, 0.6, 0.7} { // in steps
		for _, further := range []unit.Mass{0.004, -0.004} {
			in.Order.Product.Drift.DriftLimit = lost * step
			in.Order.Product.Tolerance = p.Mark.Expected - p.Target + (1-lost+further)*step
			_, err := in.Solve()
			if further > 0 {
				assert.NoError(t, err, "%v steps may be lost", float64(lost))
			} else {
				assert.ErrorContains(t, err, "no move of the mark gives a weight that stays within the tolerance", "%v steps may be lost", float64(lost))
				small := in
				small.Shift.Mixer.Low, small.Order.Product.Drift.Hold, small.Line.Divider.HopperLeast = 1000, line.HoldByBatch, 0
				_, err := small.Solve()
				assert.NoError(t, err, "a small batch takes no move")
			}
		}
	}
}

// An oven that takes more than any line makes limits none: 10 000 pieces/min are the most that a line is asked for.
func TestAnOvenFasterThanAnyLine(t *testing.T) {
	for perLoad, limits := range map[int]bool{5000: false, 10_000: false, 10_050: false, 100_000: false, 40: true} {
		in := input(t, 0)
		in.Line.Oven = line.Oven{Kind: line.TunnelOven}
		in.Order.Product.Baking = line.Baking{Time: 60, PerLoad: perLoad} // so many a minute
		p, err := in.Solve()
		require.NoError(t, err, "%d pieces/min", perLoad)
		assert.Equal(t, limits, strings.Contains(p.Speed.HighLimit, "oven"), "%d pieces/min", perLoad)
	}
}

// A divider that can run at one speed only waits as long as the mixer takes longer than it scales, however short that is.
func TestTheShortestWait(t *testing.T) {
	in := input(t, 0)
	d := &in.Line.Divider
	d.StrokesLow, d.StrokesHigh, d.StrokeStep = 20, 20, 0
	p, err := in.Solve()
	require.NoError(t, err)
	require.Greater(t, p.Batch.Batches, 1)
	scaling := unit.Duration(float64(p.Batch.PiecesPerBatch) * 60 / (20 * 2))
	for wait, limited := range map[unit.Duration]bool{-5: false, 0: false, 0.005: true, 5: true} {
		in.Shift.Mixer.Cycle = scaling + wait
		p, err := in.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(max(0, wait)), float64(p.Times.BatchWait), 1e-9)
		assert.InDelta(t, float64(scaling+max(0, wait)), float64(p.Times.BatchInterval), 1e-9)
		assert.Equal(t, limited, p.Conditions.Has(reckon.RateLimited), "%v", wait)
	}
}

// A head of dough that takes longer to cut than dough may stand leaves no batch: 6 kg at most 56 pieces of 51 g a minute take 2 min.
func TestAHeadThatStandsTooLong(t *testing.T) {
	in := input(t, 0)
	in.Order.Product.HopperMax = 110
	p, err := in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "the head of 6 kg alone stands longer")
	assert.Equal(t, line.PlanResult{}, p)
	var c reckon.Checks
	in.Check(&c)
	assert.True(t, c.OK(), "each value may be so")
}

// Trials from which no weight can be told are refused where they stand, by a plan and by a line that is commissioned.
func TestTrialsThatTellNoWeight(t *testing.T) {
	in := input(t, 0)
	lanes := slices.Clone(in.Line.Divider.Lanes)
	lanes[1].Trials = slices.Clone(lanes[1].Trials)
	for i := range lanes[1].Trials {
		lanes[1].Trials[i].Weight = 900 // whatever the mark
	}
	in.Line.Divider.Lanes = lanes
	want := []string{"line.divider.lanes[1].trials is weighings that are all 900 g: want weights that differ: the handle has moved nothing, or the marks are too close"}
	assert.Equal(t, want, told(in))
	cl, err := line.Commission(in.Line)
	assert.ErrorContains(t, err, want[0])
	assert.Empty(t, cl.Line().Name, "nothing is commissioned")
	_, err = in.Solve()
	assert.ErrorContains(t, err, want[0])
	// Marks that differ, and by so little that no slope shows: no value of them is wrong.
	for i := range lanes[1].Trials {
		lanes[1].Trials[i].Mark, lanes[1].Trials[i].Weight = float64(i)*1e-200, unit.Mass(900+i)
	}
	require.Empty(t, told(in))
	for _, solve := range []func() error{
		func() error { _, err := line.Commission(in.Line); return err },
		func() error { _, err := in.Solve(); return err },
		func() error { _, err := line.Window(in).Solve(); return err },
	} {
		var none *reckon.NoSolutionError
		if assert.ErrorAs(t, solve(), &none) {
			assert.Contains(t, none.Error(), "the marks lie too close together to show a slope")
		}
	}
}

// Of the changeover either nothing is said, or all of it.
func TestAChangeoverIsToldWhole(t *testing.T) {
	all := []string{"line.changing.stop", "line.changing.lock_out", "line.changing.guards", "line.changing.start", "line.changing.first_check"}
	for field, given := range map[string]line.Changing{
		all[0]: {Stop: 60}, all[1]: {LockOut: 60}, all[2]: {Guards: 60}, all[3]: {Start: 60}, all[4]: {FirstCheck: 60}, "set_aside": {SetAside: 1}, "tasks": {Tasks: []line.ChangeTask{}},
	} {
		in := input(t, 0)
		in.Line.Changing = given
		var got []string
		for _, e := range reckon.Wrong(in) {
			got = append(got, e.Field)
		}
		assert.Equal(t, slices.DeleteFunc(slices.Clone(all), func(f string) bool { return f == field }), got, "only %s is given", field)
	}
}

// Tasks that wait for one another are refused, also where a control or the line's start stands between them.
func TestTasksInACircle(t *testing.T) {
	task := func(name string, when line.When, after ...string) line.ChangeTask {
		return line.ChangeTask{Name: name, Machine: "divider", When: when, For: line.ForAlways, After: after, Time: 60}
	}
	moved := func(name string, after ...string) line.ChangeTask {
		k := task(name, line.AnyTime, after...)
		k.For, k.Control = line.ForMove, "cocks"
		return k
	}
	for _, c := range []struct {
		id    string
		when  line.When // the control is moved
		tasks []line.ChangeTask
		want  []int // tasks that are refused
	}{
		{"one after the other", line.AnyTime, []line.ChangeTask{task("a", line.AnyTime), task("b", line.AnyTime, "a")}, nil},
		{"in a circle", line.AnyTime, []line.ChangeTask{task("a", line.AnyTime, "b"), task("b", line.AnyTime, "a"), task("c", line.AnyTime)}, []int{0, 1}},
		{"for a move and before it", line.AnyTime, []line.ChangeTask{moved("a"), task("b", line.AnyTime, "cocks")}, nil},
		{"before a move and after it", line.AnyTime, []line.ChangeTask{moved("a", "b"), task("b", line.AnyTime, "cocks")}, []int{0, 1}},
		{"after the move", line.AnyTime, []line.ChangeTask{moved("a", "cocks"), task("b", line.AnyTime, "a")}, nil},
		{"while it runs, after it stood", line.AnyTime, []line.ChangeTask{task("a", line.Stopped), task("b", line.Running, "a")}, nil},
		{"while it stands, after it runs again", line.AnyTime, []line.ChangeTask{task("a", line.Stopped, "b"), task("b", line.Running)}, []int{0, 1}},
		{"locked out, after it runs again", line.AnyTime, []line.ChangeTask{task("a", line.LockedOut, "b"), task("b", line.Running)}, []int{0, 1}},
		{"while it stands, after a control that is moved running", line.Running, []line.ChangeTask{task("a", line.Stopped, "cocks")}, []int{0}},
		{"while it stands, after a control that is moved stopped", line.Stopped, []line.ChangeTask{task("a", line.Stopped, "cocks")}, nil},
		{"while it runs, before a control that is moved stopped", line.Stopped, []line.ChangeTask{func() line.ChangeTask { k := moved("a"); k.When = line.Running; return k }()}, []int{0}},
	} {
		in := input(t, 0)
		in.Line.Controls = []line.Control{{Name: "cocks", Machine: "divider", Sets: line.SetsOil, Change: c.when, Time: 60}}
		in.Line.Changing = line.Changing{Stop: 60, LockOut: 60, Guards: 60, Start: 60, FirstCheck: 60, Tasks: c.tasks}
		in.Order.Product.Allergens = []string{}
		q := line.Changeover{Line: in.Line, Before: in.Order, Next: in.Order, Shift: in.Shift, People: 1}
		var want []string
		for _, i := range c.want {
			want = append(want, "line.changing.tasks["+string(rune('0'+i))+"].after")
		}
		var got []string
		for _, e := range reckon.Wrong(q) {
			got = append(got, e.Field)
		}
		assert.Equal(t, want, got, c.id)
	}
}

// Names are printed on one line of a sheet: a hundred characters that can be printed, each by its own path.
func TestNamesThatCannotBePrinted(t *testing.T) {
	for path, set := range map[string]func(s *line.Scenario, name string){
		"title":                       func(s *line.Scenario, name string) { s.Title = name },
		"line.name":                   func(s *line.Scenario, name string) { s.Line.Name = name },
		"line.divider.lanes[1].dough": func(s *line.Scenario, name string) { s.Line.Divider.Lanes[1].Dough = name },
		"line.drums[2].name":          func(s *line.Scenario, name string) { s.Line.Drums[2].Name = name },
		"line.flour_dusters[1].name":  func(s *line.Scenario, name string) { s.Line.Dusters[1].Name = name },
		"line.belts[1].name":          func(s *line.Scenario, name string) { s.Line.Belts[1].Name = name },
		"line.moulder.curling_chain.heights[1].name": func(s *line.Scenario, name string) { s.Line.Moulder.Chain.Heights[1].Name = name },
		"shift.scales[0].name":                       func(s *line.Scenario, name string) { s.Shift.Scales = []doughmath.Scale{{Name: name, Division: 10}} },
		"orders[1].product.name":                     func(s *line.Scenario, name string) { s.Orders[1].Product.Name = name },
		"orders[1].product.dough":                    func(s *line.Scenario, name string) { s.Orders[1].Product.Dough = name },
		"orders[1].product.formula[3].name":          func(s *line.Scenario, name string) { s.Orders[1].Product.Formula[3].Name = name },
		"orders[1].product.preferments[0].name":      func(s *line.Scenario, name string) { s.Orders[1].Product.Preferments[0].Name = name },
	} {
		refused := func(name string) bool {
			s, _ := demo(t)
			s.Orders = s.Orders[:2]
			set(&s, name)
			c := reckon.Checks{Func: "scenario"}
			s.Check(&c)
			return slices.ContainsFunc(reckon.InputErrors(c.Err()), func(e *reckon.InputError) bool {
				return e.Field == path && e.Want == "up to 100 printable characters, without line breaks"
			})
		}
		assert.False(t, refused(strings.Repeat("é", 100)), path)
		assert.True(t, refused(strings.Repeat("é", 101)), path)
		assert.True(t, refused("two\nlines"), path)
	}
	s, _ := demo(t)
	s.Shift.Scales = []doughmath.Scale{{Name: "bench", Division: 1, For: []string{"salt", "gravel"}}}
	s.Orders[0].Product.Formula[3].Name = "water"
	s.Orders = s.Orders[:1]
	c := reckon.Checks{Func: "scenario"}
	s.Check(&c)
	var got []string
	for _, e := range reckon.InputErrors(c.Err()) {
		got = append(got, e.Field+" is "+e.Value+": want "+e.Want)
	}
	assert.Contains(t, got, `shift.scales[0].for[1] is "gravel": want an ingredient of one of the formulas`)
	assert.Contains(t, got, `orders[0].product.formula[3].name is "water": want each ingredient once: add its percentages up, or give the two different names`)
	c = reckon.Checks{Func: "scenario"}
	(&line.Scenario{}).Check(&c)
	assert.True(t, c.Told("orders"), "at least one order")
}

// The belt of a tunnel moves its length in the time of baking: 30 m in 18 min are 27.78 mm/s.
func TestBeltOfATunnelOnTheClock(t *testing.T) {
	for _, c := range []struct {
		oven   line.Oven
		speed  float64
		baking line.Baking
	}{
		{line.Oven{Kind: line.TunnelOven, Belt: 30_000}, 30_000.0 / (18 * 60), line.Baking{Time: 18 * 60, PerLoad: 1200}},
		{line.Oven{Kind: line.TunnelOven}, 0, line.Baking{Time: 18 * 60, PerLoad: 1200}},
		{line.Oven{}, 0, line.Baking{Time: 18 * 60}},
		{line.Oven{Kind: line.TunnelOven, Belt: 30_000}, 0, line.Baking{}}, // not baked in it
	} {
		in := input(t, 0)
		in.Line.Oven, in.Order.Product.Baking = c.oven, c.baking
		out, err := line.Clock{Line: in.Line, Order: in.Order, Shift: in.Shift, Start: unit.Hours(6)}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, c.speed, float64(out.OvenBelt), 1e-9)
	}
}

// The window lists the best for each aim that needs no number, and for the order's own after them.
func TestTheWindowsBestForTheOrdersOwnAim(t *testing.T) {
	plain := []line.AimFor{line.Fastest, line.MidDwell, line.NoWaits, line.LeastGiveaway, line.LeastFlour}
	for aim, want := range map[line.Aim][]line.AimFor{
		{}:                               plain,
		{For: line.NoWaits}:              plain,
		{For: line.WantedRate, Rate: 40}: append(slices.Clone(plain), line.WantedRate),
		{For: line.FinishInTime, FinishIn: unit.Hours(10)}: append(slices.Clone(plain), line.FinishInTime),
	} {
		in := input(t, 0)
		in.Order.Aim = aim
		out, err := line.Window(in).Solve()
		require.NoError(t, err)
		var got []line.AimFor
		for _, p := range out.Best {
			got = append(got, p.Aim)
		}
		assert.Equal(t, want, got, "%+v", aim)
	}
}

// A limit is listed where its input is given, however small that is.
func TestSmallLimitsAreListed(t *testing.T) {
	in := input(t, 1)
	in.Line.Divider.StrokeStep, in.Order.Product.Drift.Growth, in.Order.Product.RateHigh = 0.005, 0.005, 0.01
	out, err := line.Window(in).Solve()
	require.NoError(t, err)
	var names []string
	for _, k := range out.Conflict {
		names = append(names, k.Limit)
	}
	assert.Contains(t, names, "oven", "a piece in 100 min is too few for any dwell")
	in.Order.Product.RateHigh = 0
	out, err = line.Window(in).Solve()
	require.NoError(t, err)
	names = nil
	for _, k := range out.Limits {
		names = append(names, k.Limit)
	}
	assert.Contains(t, names, "step")
	assert.Contains(t, names, "weight drift")
	assert.NotContains(t, names, "oven", "the product names no rate")
}

// Small values are values: a head of 5 mg, flour of 5 mg, a tolerance of 5 mg, a step of five thousandths of a stroke.
func TestSmallValuesAreValues(t *testing.T) {
	in := input(t, 0)
	in.Line.Divider.HopperLeast = 0.005
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 1, p.LightPieces)
	assert.True(t, p.Hopper.Conditions.Has(divider.LightRunOut))
	in.Line.Divider.HopperLeast = 0
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, p.LightPieces)
	assert.False(t, p.Hopper.Conditions.Has(divider.LightRunOut))

	in = input(t, 0)
	in.Line.Divider.MarkStep, in.Order.Product.Tolerance, in.Order.Product.Drift.Growth = 0, 0.005, 0
	p, err = in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 0.005, float64(p.DriftLimit), 1e-9, "a handle without steps gives the weight itself")
	assert.True(t, p.Check.Conditions.Has(divider.WideInterval), "no check sees 5 mg")
	in.Order.Product.Drift.DriftLimit = 0.004
	p, err = in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 0.004, float64(p.DriftLimit), 1e-9)
	in.Order.Product.Tolerance = p.Target - 0.005
	p, err = in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 0.005, float64(p.PieceLow), 1e-9)
	in.Order.Product.Tolerance = p.Target
	_, err = in.Solve()
	assert.ErrorContains(t, err, "order.product.tolerance is "+p.Target.String()+": want less than the dough piece, "+p.Target.String())

	for flour, want := range map[unit.Mass]string{0.005: "on", 0: "off"} {
		in = input(t, 0)
		in.Line.Dusters = slices.Clone(in.Line.Dusters)
		in.Line.Dusters[1].Scale.Intercept, in.Line.Dusters[1].Scale.PerStep = flour, 0
		in.Line.Changing = line.Changing{}
		in.Line.Controls = []line.Control{{Name: "pocket duster", Machine: "proofer", Sets: line.SetsDuster, Of: "proofer pockets", Change: line.AnyTime}}
		out, err := line.ControlSettings{Line: in.Line, Order: in.Order, Shift: in.Shift}.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Settings[0].At, "%v on a piece", flour)
	}

	in = input(t, 0)
	in.Line.Divider.StrokeStep, in.Order.Aim = 0.005, line.Aim{For: line.WantedRate, Rate: 40.003} // 20.0015 strokes a minute
	p, err = in.Solve()
	require.NoError(t, err)
	assert.True(t, p.Conditions.Has(reckon.Rounded), "%v", float64(p.Strokes))
}

// How far a record may go: the ranges of the tags on its fields.
func TestHowFarARecordGoes(t *testing.T) {
	one := ran(t, 0, 1)
	for _, c := range []struct {
		field      string
		at, beyond float64
		set        func(r *line.RunRecord, v float64)
	}{
		{"records[0].made", 1e8, 1e8 + 1, func(r *line.RunRecord, v float64) { r.Made = int(v) }},
		{"records[0].made", 0, -1, func(r *line.RunRecord, v float64) { r.Made = int(v) }},
		{"records[0].weighed", 1e8, 1e8 + 1, func(r *line.RunRecord, v float64) { r.Weighed = int(v) }},
		{"records[0].mean", 1e6, 1.005e6, func(r *line.RunRecord, v float64) { r.Mean = unit.Mass(v) }},
		{"records[0].mean", 0, -0.005, func(r *line.RunRecord, v float64) { r.Mean = unit.Mass(v) }},
		{"records[0].sd", 1e6, 1.005e6, func(r *line.RunRecord, v float64) { r.SD = unit.Mass(v) }},
		{"records[0].sd", 0, -0.005, func(r *line.RunRecord, v float64) { r.SD = unit.Mass(v) }},
		{"records[0].dough_temp", -10, -10.05, func(r *line.RunRecord, v float64) { r.DoughTemp = unit.Celsius(v) }},
		{"records[0].dough_temp", 60, 60.3, func(r *line.RunRecord, v float64) { r.DoughTemp = unit.Celsius(v) }},
		{"records[0].waited", 24 * 3600, 24*3600 + 400, func(r *line.RunRecord, v float64) { r.Waited = unit.Duration(v) }},
		{"records[0].waited", 0, -0.005, func(r *line.RunRecord, v float64) { r.Waited = unit.Duration(v) }},
	} {
		refused := func(v float64) (fields []string) {
			r := one
			c.set(&r, v)
			check := reckon.Checks{Func: "run-book"}
			(&line.RunBook{Records: []line.RunRecord{r}}).Check(&check)
			for _, e := range reckon.InputErrors(check.Err()) {
				fields = append(fields, e.Field)
			}
			return fields
		}
		assert.Empty(t, refused(c.at), "%s may be %v", c.field, c.at)
		assert.Equal(t, []string{c.field}, refused(c.beyond), "%s may not be %v", c.field, c.beyond)
	}
}

// What is said of records from which nothing can be learnt, and what has changed where something was not given before.
func TestWhatIsSaidOfRecords(t *testing.T) {
	q := knownGood(t, 2, ran(t, 2, 1))
	for last, want := range map[int][]string{1: nil, 200: nil, 0: {"last is 0: want a whole number from 1 to 200"}, 201: {"last is 201: want a whole number from 1 to 200"}} {
		q.Last = last
		assert.Equal(t, want, told(q))
	}
	q.Last = 1
	q.Records[0].Order.Product.Panned = nil
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []line.Difference{{Path: "order.product.panned", Was: "not given", Is: "given"}}, out.Changed)
	q.Records[0].Order.Product.Panned, q.Order.Product.Panned = q.Order.Product.Panned, nil
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []line.Difference{{Path: "order.product.panned", Was: "given", Is: "not given"}}, out.Changed)
	// What rounding for reading would hide is told with every digit.
	q.Order.Product.Panned, q.Line.Pocket.Width = q.Records[0].Order.Product.Panned, 150.00001
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []line.Difference{{Path: "line.pocket.width", Was: "150 mm", Is: "150.00001 mm"}}, out.Changed)
	q.Line.Controls, q.Line.Changing = nil, line.Changing{}
	assert.Equal(t, []string{"line.controls is empty: want the controls of the line, in walking order"}, told(q))
}

// What no scale can weigh does not hide what is wrong with the water.
func TestNoScaleForTheDoughAndNoFriction(t *testing.T) {
	in := input(t, 0)
	in.Shift.Division, in.Shift.Scales = 0, []doughmath.Scale{{Name: "bench", Division: 1, Capacity: 5000}}
	in.Order.Product.Friction = unit.TempDelta(math.NaN())
	_, err := in.Solve()
	assert.ElementsMatch(t, []string{"shift.scales", "order.product.friction"}, refused(err))
}

// What a scale is kept for is always weighed on it, all else on the finest that takes it; ice is no line of the formula.
func TestScalesThatAreKept(t *testing.T) {
	in := input(t, 0)
	in.Shift.Division, in.Shift.Tap = 0, unit.Celsius(25)
	in.Shift.Scales = []doughmath.Scale{{Name: "floor", Division: 50, For: []string{"gravel", "salt"}}, {Name: "bench", Division: 1, Capacity: 20_000}}
	p, err := in.Solve()
	require.NoError(t, err)
	for _, part := range p.Weigh.Parts {
		assert.Equal(t, map[bool]string{true: "floor", false: "bench"}[part.Name == "salt" || part.Mass > 20_000], part.Scale, part.Name)
	}
	assert.InDelta(t, math.Round(float64(p.Ice.Ice)), float64(p.IceToWeigh), 1e-9)
}

// A speed that a belt alone limits leaves the pieces on it just their gap, which is no risk, whatever the last binary digit.
func TestABeltAtItsGap(t *testing.T) {
	in := input(t, 1)
	in.Line.Divider.StrokeStep = 0
	limited := 0
	for n := range 40 {
		in.Line.Belts = slices.Clone(in.Line.Belts)
		in.Line.Belts[1].BeltSpeed = unit.Speed(52 + 0.75*float64(n))
		p, err := in.Solve()
		if err != nil || p.Speed.HighLimit != in.Line.Belts[1].Name || p.Strokes != p.Speed.High {
			continue
		}
		limited++
		assert.InDelta(t, float64(in.Line.Belts[1].LeastGap), float64(p.Spacing.Gap), 1e-6)
		assert.Empty(t, p.Spacing.Conditions.Words(), "%v", in.Line.Belts[1].BeltSpeed)
	}
	assert.Greater(t, limited, 10)
}

// The slide of a duster moves in steps of 0.7 and so stands for the flour from half a step below its first step to half a step above its last, within its
// trials: from 1.05 to 8.75 of 1 to 9.
func TestSlideBetweenItsSteps(t *testing.T) {
	slides := func(rates ...unit.MassRate) (line.Plan, float64) {
		in := input(t, 0)
		in.Line.Divider.StrokeStep, in.Order.Product.HopperMax = 0, 7200
		in.Line.Dusters = slices.Clone(in.Line.Dusters)
		d := &in.Line.Dusters[0]
		d.SlideStep, d.Slide = 0.7, slices.Clone(d.Slide)
		for i, rate := range rates {
			d.Slide[i].FlourRate = rate // kg/h at 1, 4 and 9
		}
		flour, err := divider.FlourUse{Scale: d.Scale, Stickiness: in.Order.Product.Stickiness, Piece: 45 / 0.89 / 0.985, PieceRate: 1, RunTime: 60}.Solve()
		require.NoError(t, err)
		return in, 1000.0 / 60 / 2 / float64(flour.FlourPerPiece) // strokes a minute for each kg/h: two pieces in each
	}
	in, each := slides(0.3, 1.5, 9)
	out, err := line.Window(in).Solve()
	require.NoError(t, err)
	assert.Equal(t, "rounder belt", out.Ways[0].LowLimit)
	assert.InEpsilon(t, (0.3+0.05/3*1.2)*each, float64(out.Ways[0].Low), 1e-6)
	in, each = slides(0.05, 0.2, 0.36)
	in.Order.Aim = line.Aim{For: line.Fastest}
	p, err := in.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, (0.36-0.25/5*0.16)*each, float64(p.Strokes), 1e-6)
}

// openParts are the parts of a working that go on from another: what they name may stand there. The runs that all controls were read in stand under
// standsForItself reports what the parts of a working name without saying beneath their own heading what it is, and be it only that an
// A preferment that keeps is made in lots, one that does not for each batch.
func TestLotsOfPreferments(t *testing.T) {
	in := input(t, 1)
	q := line.Clock{Line: in.Line, Order: in.Order, Shift: in.Shift, Start: 8 * 3600}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Empty(t, out.Lots)
	for _, k := range out.Batches {
		assert.Len(t, k.Preferments, 1)
	}
	q.Order.Product.PrefermentMixes = slices.Clone(q.Order.Product.PrefermentMixes)
	q.Order.Product.PrefermentMixes[0].Keeps = unit.Hours(24)
	out, err = q.Solve()
	require.NoError(t, err)
	require.Len(t, out.Lots, 1, "all batches are mixed within a day")
	assert.Equal(t, []int{1, len(out.Batches)}, []int{out.Lots[0].FirstBatch, out.Lots[0].LastBatch})
	for _, k := range out.Batches {
		assert.Empty(t, k.Preferments)
	}
}

// The band in which the handle is left alone lies within the tolerance on both sides, or the plan says that it does not.
func TestBandWithinTheTolerance(t *testing.T) {
	beyond := map[string]int{}
	for n := range 8 {
		in := input(t, 0)
		in.Order.Product.Drift, in.Order.Product.Baked = line.HopperDrift{}, 45+unit.Mass(n)/10
		p, err := in.Solve()
		require.NoError(t, err)
		low, high := p.Target-p.Band.Low, p.Band.High-p.Target
		for tolerance, wide := range map[unit.Mass]bool{(low + high) / 2: true, max(low, high) * 1.001: false, min(low, high) * 0.999: true} {
			in.Order.Product.Tolerance = tolerance
			p, err := in.Solve()
			if err != nil {
				continue // the mark's step alone is more
			}
			assert.Equal(t, wide, p.Check.Conditions.Has(divider.WideInterval), "%v either way, of %v below and %v above", tolerance, low, high)
			if p.Band.Low < p.PieceLow && p.Band.High <= p.PieceHigh {
				beyond["below"]++
			} else if p.Band.High > p.PieceHigh && p.Band.Low >= p.PieceLow {
				beyond["above"]++
			}
		}
	}
	assert.Positive(t, beyond["below"])
	assert.Positive(t, beyond["above"])
}

// The handle is set one step heavier where the nearest mark would fall below the label.
func TestMarkMeetsTheLabel(t *testing.T) {
	for n := range 10 {
		in := input(t, 2)
		in.Order.Product.Baked = 790 + unit.Mass(n)
		in.Order.Product.Panned, in.Order.Product.Drift = nil, line.HopperDrift{}
		p, err := in.Solve()
		require.NoError(t, err)
		assert.GreaterOrEqual(t, float64(p.Mark.Expected), float64(p.Label.Dough)*(1-1e-9))
		assert.False(t, p.Label.Conditions.Has(divider.BelowLabel))
	}
}

// A piece that is not moulded lies on every belt as the ball that it is.
func TestARoundPieceBehindTheMoulder(t *testing.T) {
	in := input(t, 0)
	in.Line.Belts = slices.Clone(in.Line.Belts)
	in.Line.Belts[0].Place = line.BehindMoulder
	p, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, float64(p.Spacing.Pitch-p.Drum.Diameter), float64(p.Spacing.Gap), 1e-9)
	assert.InDelta(t, 400, float64(p.Spacing.Pitch), 1e-9, "two lanes, each row 400 mm behind the one before")
}
