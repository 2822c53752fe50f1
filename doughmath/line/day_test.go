package line_test

import (
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
	"example.com/dough/testdata"
)

// scenario reads a demo plant.
func scenario(t testing.TB, name string) line.Scenario {
	t.Helper()
	data, err := testdata.Scenario(name)
	require.NoError(t, err)
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	return s
}

// The day of a scenario is day-plan's of the same orders, whichever of them are named in it.
func TestPlanDay(t *testing.T) {
	for _, name := range []string{"demo.json", "alder.json"} {
		s := scenario(t, name)
		plans, err := s.PlanAll()
		require.NoError(t, err)
		out, err := s.PlanDay(plans)
		require.NoError(t, err)
		assert.Len(t, out.Runs, len(s.Orders))
		q := line.DayPlan{Line: s.Line, Shift: s.Shift, DayTerms: s.Day.DayTerms}
		for _, o := range s.Orders {
			i := slices.IndexFunc(s.Day.Orders, func(d line.DayOf) bool { return d.Product == o.Product.Name })
			q.Orders = append(q.Orders, line.DayOrder{Name: o.Product.Name, Order: o, DayTimes: s.Day.Orders[i].DayTimes})
		}
		want, err := q.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out)
		assert.Zero(t, out.Total.Late, "the demo is in time")
		byTheClock, err := line.DayClock{Day: q}.Solve()
		require.NoError(t, err)
		day, clock, err := s.ClockDay(plans)
		require.NoError(t, err)
		assert.Equal(t, want, day)
		assert.Equal(t, byTheClock, clock, "the same day by the clock, sought once")
	}
	s := scenario(t, "demo.json")
	s.Day.Orders, s.Day.Aim = nil, line.EarliestFinish
	out, err := s.PlanDay(nil)
	require.NoError(t, err)
	assert.Len(t, out.Runs, 4, "orders of which the day asks nothing are made all the same")
	s.Day = nil
	out, err = s.PlanDay(nil)
	require.NoError(t, err)
	assert.Empty(t, out.Runs)
	out, clock, err := s.ClockDay(nil)
	require.NoError(t, err)
	assert.Empty(t, out.Runs)
	assert.Empty(t, clock.Runs)
}

// What is wrong with a day is told under its path in the scenario, with its clock or without.
func TestClockDayRefuses(t *testing.T) {
	s := scenario(t, "demo.json")
	s.Day.People, s.Day.Orders[1].Due = 0, s.Day.Start
	plan, clock, err := s.ClockDay(nil)
	assert.Empty(t, plan.Runs)
	assert.Empty(t, clock.Runs)
	_, plain := s.PlanDay(nil)
	require.Error(t, plain)
	assert.EqualError(t, err, plain.Error())
	fields := make([]string, 0, 2)
	for _, e := range reckon.InputErrors(err) {
		fields = append(fields, e.Field)
	}
	assert.Equal(t, []string{"day.people", "day.orders[1].due"}, fields)
}

// Each value is told once, by the path that a person finds in the scenario.
func TestDayPathsInTheScenario(t *testing.T) {
	for _, c := range []struct {
		id   string
		bend func(s *line.Scenario)
		want []string
	}{
		{"pieces", func(s *line.Scenario) { s.Orders[2].Pieces = 0 }, []string{"orders[2].pieces"}},
		{"spare", func(s *line.Scenario) { s.Orders[2].Spare = -1 }, []string{"orders[2].spare"}},
		{"the product", func(s *line.Scenario) { s.Orders[1].Product.Across = 5 }, []string{"orders[1].product.across"}},
		{"the shift", func(s *line.Scenario) { s.Shift.Mixer.Cycle = 0 }, []string{"shift.mixer.cycle"}},
		{"the line", func(s *line.Scenario) { s.Line.Divider.StrokesLow = 0 }, []string{"line.divider.strokes_low"}},
		{"what the day asks of an order", func(s *line.Scenario) { s.Day.Orders[3].Packing, s.Day.Orders[0].Weight = -1, 1001 }, []string{"day.orders[0].weight", "day.orders[3].packing"}},
		{"in another order", func(s *line.Scenario) {
			o := s.Day.Orders
			o[0], o[3] = o[3], o[0]
			o[3].Weight = -1 // the star bun, the first of the orders
		}, []string{"day.orders[3].weight"}},
		{"the day", func(s *line.Scenario) { s.Day.People, s.Day.OvenReset = 11, -1 }, []string{"day.people", "day.oven_reset"}},
		{"too many orders", func(s *line.Scenario) {
			for i := len(s.Orders); i < 61; i++ {
				o := s.Orders[0]
				o.Product.Name = "bun " + strconv.Itoa(i)
				s.Orders = append(s.Orders, o)
			}
			s.Day.People = 0
		}, []string{"orders", "day.people"}},
	} {
		s := scenario(t, "demo.json")
		c.bend(&s)
		_, err := s.PlanDay(nil)
		var told []string
		for _, e := range reckon.InputErrors(err) {
			assert.Equal(t, "scenario", e.Func, c.id)
			told = append(told, e.Field)
		}
		assert.Equal(t, c.want, told, c.id)
	}
	// An order that cannot be made is told in the name of the scenario too.
	s := scenario(t, "demo.json")
	s.Orders[0].Product.RateHigh = 5
	_, err := s.PlanDay(nil)
	assert.ErrorContains(t, err, "for the order orders[0]")
	// A day may name sixty orders; beyond them nothing is looked at.
	s = scenario(t, "demo.json")
	s.Day.Orders, s.Day.Allergens = nil, line.CleanedBetween
	for i := range 60 {
		if i >= len(s.Orders) {
			o := s.Orders[0]
			o.Product.Name = "bun " + strconv.Itoa(i)
			s.Orders = append(s.Orders, o)
		}
		s.Day.Orders = append(s.Day.Orders, line.DayOf{Product: s.Orders[i].Product.Name, DayTimes: line.DayTimes{Due: unit.Hours(90)}})
	}
	told := func() (fields []string) {
		checks := reckon.Checks{Func: "scenario"}
		s.Check(&checks)
		for _, e := range reckon.InputErrors(checks.Err()) {
			fields = append(fields, e.Field)
		}
		return fields
	}
	assert.Empty(t, told())
	s.Day.Orders = append(s.Day.Orders, line.DayOf{Product: "Rye"})
	assert.Equal(t, []string{"day.orders"}, told())
}

// Pieces followed pocket by pocket come and go when the pages of both demo days say, to the stroke.
func TestDemoDaysAgainstThePockets(t *testing.T) {
	for _, name := range []string{"demo.json", "alder.json"} {
		s := scenario(t, name)
		plans, err := s.PlanAll()
		require.NoError(t, err)
		out, err := s.PlanDay(plans)
		require.NoError(t, err)
		for _, r := range out.Runs {
			i := slices.IndexFunc(plans, func(p line.Planned) bool { return p.Order.Product.Name == r.Name })
			p := &plans[i].Plan
			require.Zero(t, p.Times.BatchWait, "%s: stops are for another test", r.Name)
			got, err := proof.Run{Proofer: s.Line.Proofer, Across: plans[i].Order.Product.Across, Strokes: p.Strokes, Pieces: p.Batch.PiecesMade}.Solve()
			require.NoError(t, err)
			beat := 60 / float64(p.Strokes)
			assert.InDelta(t, float64(got.LastIn), float64(r.LastStroke-r.FirstStroke), 1, "%s: whole seconds", r.Name)
			assert.InDelta(t, float64(got.LastOut), float64(r.LastOut-r.FirstStroke), beat, r.Name)
			assert.Equal(t, r.Pieces, got.PiecesOut, r.Name)
		}
	}
}

// An order that cannot be made is left out, and nothing waits for it.
func TestPlanDayWithoutRefused(t *testing.T) {
	s := scenario(t, "demo.json")
	stick := &s.Orders[3].Product
	stick.DwellLow, stick.DwellHigh = unit.Minutes(25), unit.Minutes(35)
	s.Day.Orders[0].After = []string{stick.Name}
	s.Day.Changeovers = []line.GivenChangeover{{Before: stick.Name, Next: "Star bun", Time: unit.Minutes(5)}}
	plans, err := s.PlanAll()
	require.NoError(t, err)
	require.Error(t, plans[3].Refused)
	out, err := s.PlanDay(plans)
	require.NoError(t, err)
	assert.Len(t, out.Runs, 3)
	for i := range plans {
		plans[i].Refused = plans[3].Refused
	}
	out, err = s.PlanDay(plans)
	require.NoError(t, err)
	assert.Empty(t, out.Runs, "nothing to make")
}

// What is wrong with a day is told with the rest, by its path in the scenario, whether or not the scenario can be read.
func TestDayRefuses(t *testing.T) {
	for _, c := range []struct {
		name, path string
		bend       func(s *line.Scenario)
	}{
		{"no people", "day.people", func(s *line.Scenario) { s.Day.People = 0 }},
		{"no start", "day.start", func(s *line.Scenario) { s.Day.Start = 0 }},
		{"no aim", "day.aim", func(s *line.Scenario) { s.Day.Aim = "" }},
		{"due in the past", "day.orders[1].due", func(s *line.Scenario) { s.Day.Orders[1].Due = unit.Hours(20) }},
		{"no such product", "day.orders[2].product", func(s *line.Scenario) { s.Day.Orders[2].Product = "Rye" }},
		{"one product twice", "day.orders[1].product", func(s *line.Scenario) { s.Day.Orders[1].Product = s.Day.Orders[0].Product }},
		{"after what is not there", "day.orders[0].after[0]", func(s *line.Scenario) { s.Day.Orders[0].After = []string{"Rye"} }},
		{"a circle", "day.orders", func(s *line.Scenario) {
			s.Day.Orders[0].After, s.Day.Orders[1].After = []string{s.Day.Orders[1].Product}, []string{s.Day.Orders[0].Product}
		}},
		{"one is not baked", "day.orders[3].bake", func(s *line.Scenario) { s.Orders[3].Product.Baking = line.Baking{} }},
		{"one is not named", "day.orders", func(s *line.Scenario) {
			s.Orders[3].Product.Baking = line.Baking{}
			s.Day.Orders = s.Day.Orders[:3]
		}},
		{"two of one name", "orders[3].product.name", func(s *line.Scenario) { s.Orders[3].Product.Name = s.Orders[0].Product.Name }},
		{"allergens unknown", "orders[1].product.allergens", func(s *line.Scenario) { s.Orders[1].Product.Allergens = nil }},
		{"a changeover of nobody", "day.changeovers[0].before", func(s *line.Scenario) {
			s.Day.Changeovers = []line.GivenChangeover{{Before: "Rye", Next: "Star bun", Time: 60}}
		}},
		{"no changing", "line.changing", func(s *line.Scenario) { s.Line.Changing = line.Changing{} }},
	} {
		s := scenario(t, "demo.json")
		c.bend(&s)
		_, err := s.PlanAll()
		var told []string
		for _, e := range reckon.InputErrors(err) {
			told = append(told, e.Field)
		}
		assert.Contains(t, told, c.path, c.name)
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(told))), len(told), "%s: each once", c.name)
		checks := reckon.Checks{Func: "scenario"}
		s.Check(&checks)
		told = nil
		for _, e := range reckon.InputErrors(checks.Err()) {
			told = append(told, e.Field)
		}
		assert.Contains(t, told, c.path, c.name)
	}
	// One person for a drum that takes two: found with the changeovers.
	s := scenario(t, "demo.json")
	s.Day.People = 1
	plans, err := s.PlanAll()
	require.NoError(t, err)
	_, err = s.PlanDay(plans)
	require.NotEmpty(t, reckon.InputErrors(err))
	assert.Equal(t, "day.people", reckon.InputErrors(err)[0].Field)
}

// A number stands on the page as it does on the scale of its control.
func TestSettingsAsTheScaleReads(t *testing.T) {
	s := scenario(t, "alder.json")
	at := func(units unit.System, steps ...string) (shown []string) {
		for i := range s.Line.Controls {
			if k := &s.Line.Controls[i]; k.Sets == line.SetsGuides && len(steps) > 0 {
				k.Step = steps[0]
			}
		}
		out, err := line.ControlSettings{Line: s.Line, Order: s.Orders[1], Shift: s.Shift}.Solve()
		require.NoError(t, err)
		for i := range out.Settings {
			if out.Settings[i].Sets == line.SetsGuides {
				shown = append(shown, out.Settings[i].In(units))
			}
		}
		return shown
	}
	for _, c := range []struct{ step, us, metric string }{
		{"0.125 in", "7 1/4 in", "184.1 mm"},
		{"0.25 in", "7 1/4 in", "184.1 mm"},
		{"0.5 in", "7 in", "177.8 mm"},
		{"0.1 in", "7.2 in", "182.9 mm"},
		{"1 mm", "7.205 in", "183 mm"},
		{"0.5 cm", "7.283 in", "18.5 cm"},
		{"", "7.216 in", "183.3 mm"},
	} {
		assert.Equal(t, []string{c.us}, at(unit.US, c.step), "%q", c.step)
		assert.Equal(t, []string{c.metric}, at(unit.Metric), "%q", c.step)
	}
}
