package line_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ran is a good run of an order of the demo on a day, with a few controls where they stood.
func ran(t testing.TB, order, day int, stands ...string) line.RunRecord {
	t.Helper()
	s, _ := demo(t)
	r := line.RunRecord{Date: fmt.Sprintf("2026-11-%02d", day), Line: s.Line, Order: s.Orders[order], Shift: s.Shift, Good: true}
	for i := 0; i < len(stands); i += 2 {
		r.Settings = append(r.Settings, line.Standing{Control: stands[i], At: stands[i+1]})
	}
	return r
}

func knownGood(t testing.TB, order int, records ...line.RunRecord) line.KnownGood {
	t.Helper()
	s, _ := demo(t)
	return line.KnownGood{Line: s.Line, Order: s.Orders[order], Shift: s.Shift, Records: records, Last: 10}
}

func setting(t testing.TB, out line.KnownGoodResult, control string) line.KnownSetting {
	t.Helper()
	i := slices.IndexFunc(out.Settings, func(s line.KnownSetting) bool { return s.Control == control })
	require.GreaterOrEqual(t, i, 0, control)
	return out.Settings[i]
}

// Where good runs differed from their plans, today's plan is moved by as much, to the step of the control.
func TestKnownGoodMovesThePlan(t *testing.T) {
	// The plan of the roll: mark 18.5, guides 156 mm, board 34 and 18 mm.
	out, err := knownGood(t, 1,
		ran(t, 1, 3, "divider handle", "19", "side guides", "160 mm", "curling chain", "low", "board, exit", "18 mm"),
		ran(t, 1, 4, "divider handle", "19.5", "side guides", "158 mm", "curling chain", "low"),
		ran(t, 1, 5, "divider handle", "19", "side guides", "15.6 cm", "curling chain", "middle"),
	).Solve()
	require.NoError(t, err)
	assert.Equal(t, 3, out.Good)
	assert.Equal(t, "2026-11-05", out.LastGood)
	assert.Empty(t, out.Changed)
	handle := setting(t, out, "divider handle")
	assert.InDelta(t, 2.0/3, handle.Offset, 1e-9)
	assert.Equal(t, "19", handle.Start, "18.5 and 0.67 are 19.17, to the step of 0.5")
	assert.Equal(t, []float64{19, 19.5, 18.5}, []float64{handle.Low, handle.High, handle.Plan})
	assert.True(t, handle.Outside)
	assert.Zero(t, handle.Drift, "up and down again")
	guides := setting(t, out, "side guides")
	assert.Equal(t, "158 mm", guides.Start, "156 and 2")
	assert.InDelta(t, -2, guides.Drift, 1e-9)
	assert.False(t, guides.Outside, "156 is the lowest of the good")
	assert.Equal(t, "last 3 runs 156 mm to 160 mm, today's plan 156 mm", guides.Says)
	assert.Equal(t, guides.Says, guides.In(unit.Metric))
	assert.Equal(t, guides.Start, guides.StartIn(unit.Metric))
	assert.Equal(t, "last 3 runs 6.142 in to 6.299 in, today's plan 6.142 in", guides.In(unit.US))
	assert.Equal(t, "6.22 in", guides.StartIn(unit.US))
	chain := setting(t, out, "curling chain")
	assert.Equal(t, "last 3 runs differ, the last at middle, today's plan low", chain.Says)
	assert.False(t, chain.Outside, "low was good too")
	assert.Equal(t, "low", chain.Start)
	assert.Equal(t, chain.Says, chain.In(unit.US), "a position has no unit")
	assert.Equal(t, "low", chain.StartIn(unit.US))
	exit := setting(t, out, "board, exit")
	assert.Equal(t, "last run 18 mm, today's plan 18 mm", exit.Says)
	assert.Equal(t, 1, exit.Runs)
	assert.Zero(t, setting(t, out, "board, entry").Runs)
	assert.Empty(t, setting(t, out, "board, entry").Says)
	entry := setting(t, out, "board, entry")
	assert.Empty(t, entry.In(unit.US))
	assert.Equal(t, "outside-good", out.Conditions.String())
}

// Only the last good runs count, and a position that was never good is told.
func TestKnownGoodLooksAtTheLastGood(t *testing.T) {
	bad := ran(t, 1, 6, "divider handle", "40")
	bad.Good = false
	q := knownGood(t, 1, ran(t, 1, 1, "divider handle", "10", "curling chain", "low"), ran(t, 1, 2, "divider handle", "18", "curling chain", "middle"), ran(t, 1, 3, "divider handle", "18.5", "curling chain", "middle"), bad)
	q.Last = 2
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, 4, out.Records)
	assert.Equal(t, 2, out.Good)
	assert.Equal(t, "2026-11-03", out.LastGood)
	handle := setting(t, out, "divider handle")
	assert.Equal(t, []float64{18, 18.5}, []float64{handle.Low, handle.High})
	assert.True(t, setting(t, out, "curling chain").Outside, "low is no longer among the good")
	assert.True(t, out.Conditions.Has(line.FewRuns))
}

// Every number starts where the good runs moved it, to the step of its control: two and three and three steps beside the plan are three. Today's plan lies outside
// what was good on either side, and not where a scale cannot be read so closely.
func TestKnownGoodStepsOfControls(t *testing.T) {
	steps := map[string]float64{ // of the demo line: the control's own, or that of divider, duster or rollers
		"divider handle": 0.5, "line speed wheel": 0.5, "belt duster slide": 0.5, "rounder speed": 5, "first rollers": 0.1, "last rollers": 0.25,
		"side guides": 1, "board, entry": 0.5, "board, exit": 0.5,
	}
	s, _ := demo(t)
	today, err := line.ControlSettings{Line: s.Line, Order: s.Orders[1], Shift: s.Shift}.Solve()
	require.NoError(t, err)
	for _, way := range []float64{1, -1} {
		var records []line.RunRecord
		for day, by := range []float64{2, 3, 3} {
			var stands []string
			for _, k := range today.Settings {
				if step, ok := steps[k.Control]; ok {
					stands = append(stands, k.Control, strings.TrimSpace(fmt.Sprint(k.Number+way*by*step, " ", k.Unit)))
				}
			}
			records = append(records, ran(t, 1, day+1, stands...))
		}
		out, err := knownGood(t, 1, records...).Solve()
		require.NoError(t, err)
		for _, k := range today.Settings {
			step, ok := steps[k.Control]
			if !ok {
				continue
			}
			got := setting(t, out, k.Control)
			assert.InDelta(t, k.Number, got.Plan, 1e-9, k.Control)
			assert.InDelta(t, way*step*8/3, got.Offset, 1e-9, k.Control)
			assert.InDelta(t, k.Number+way*3*step, got.Number, 1e-9, k.Control)
			assert.InDelta(t, k.Number+way*2.5*step-step/2, got.Low, 1e-9, k.Control)
			assert.InDelta(t, k.Number+way*2.5*step+step/2, got.High, 1e-9, k.Control)
			assert.InDelta(t, way*step/2, got.Drift, 1e-9, "%s: least squares through 2, 3 and 3", k.Control)
			assert.True(t, got.Outside, k.Control)
			assert.Equal(t, 3, got.Runs)
		}
	}
	// Without a step of its own anything is set; a run in the plan's own place, as a scale shows it, is not outside.
	q := knownGood(t, 1, ran(t, 1, 1, "side guides", "156.05 mm"), ran(t, 1, 2, "side guides", "156.06 mm"))
	for i := range q.Line.Controls {
		if k := &q.Line.Controls[i]; k.Name == "side guides" {
			k.Step = ""
		}
	}
	guides, err := q.Solve()
	require.NoError(t, err)
	got := setting(t, guides, "side guides")
	plan := 150 / 0.96 // a roll of 150 mm with a length ratio of 0.96
	assert.InDelta(t, plan, got.Plan, 1e-9)
	assert.InDelta(t, plan+0.055, got.Number, 1e-9)
	assert.True(t, got.Outside, "156.25 is above 156.06 by more than half a part in a thousand")
	q.Records[1] = ran(t, 1, 2, "side guides", "156.2 mm")
	guides, err = q.Solve()
	require.NoError(t, err)
	assert.False(t, setting(t, guides, "side guides").Outside, "156.25 reads as 156.2 or 156.3")
	q.Records[0], q.Records[1] = ran(t, 1, 1, "side guides", "158 mm"), ran(t, 1, 2, "side guides", "156.3 mm")
	guides, err = q.Solve()
	require.NoError(t, err)
	assert.False(t, setting(t, guides, "side guides").Outside)
	assert.True(t, guides.Conditions.Has(line.FewRuns), "two are few")
	assert.False(t, guides.Conditions.Has(line.OutsideGood))
}

// Of a run that could not be planned any more only where the controls stood counts; and what cannot be planned today is refused.
func TestKnownGoodWithoutThePlanThen(t *testing.T) {
	old := ran(t, 1, 1, "divider handle", "20", "side guides", "160 mm")
	old.Order.Product.RateHigh = 5
	q := knownGood(t, 1, old, ran(t, 1, 2, "divider handle", "19"), ran(t, 1, 3, "divider handle", "19"))
	out, err := q.Solve()
	require.NoError(t, err)
	handle := setting(t, out, "divider handle")
	assert.InDelta(t, 0.5, handle.Offset, 1e-9, "of the two that can be planned, at 18.5")
	assert.Equal(t, []float64{19, 20}, []float64{handle.Low, handle.High})
	guides := setting(t, out, "side guides")
	assert.Equal(t, []float64{0, 156}, []float64{guides.Offset, guides.Number})
	assert.False(t, out.Conditions.Has(line.FewRuns), "three are not few")
	assert.True(t, out.Cautions.Has(reckon.MovingMachinery|reckon.Interlocks))
	q.Order.Product.RateHigh = 5
	_, err = q.Solve()
	_, planErr := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	require.Error(t, planErr)
	assert.EqualError(t, err, strings.ReplaceAll(planErr.Error(), "line-plan", "known-good"))
}

// A position that was the same in all runs is told once.
func TestKnownGoodSaysPositions(t *testing.T) {
	out, err := knownGood(t, 1, ran(t, 1, 1, "curling chain", "middle"), ran(t, 1, 2, "curling chain", "middle")).Solve()
	require.NoError(t, err)
	assert.Equal(t, "last 2 runs at middle, today's plan low", setting(t, out, "curling chain").Says)
	out, err = knownGood(t, 1, ran(t, 1, 1, "curling chain", "middle"), ran(t, 1, 2, "curling chain", "low"), ran(t, 1, 3, "curling chain", "middle")).Solve()
	require.NoError(t, err)
	chain := setting(t, out, "curling chain")
	assert.Equal(t, "last 3 runs differ, the last at middle, today's plan low", chain.Says)
	assert.False(t, chain.Outside)
	// A control that the product leaves alone says nothing, whatever it was at.
	out, err = knownGood(t, 1, ran(t, 1, 1, "star die", "in")).Solve()
	require.NoError(t, err)
	die := setting(t, out, "star die")
	assert.Equal(t, 1, die.Runs)
	today, err := line.ControlSettings{Line: knownGood(t, 1).Line, Order: knownGood(t, 1).Order, Shift: knownGood(t, 1).Shift}.Solve()
	require.NoError(t, err)
	for i, k := range today.Settings {
		assert.Equal(t, []string{k.Control, k.At}, []string{out.Settings[i].Control, out.Settings[i].Planned})
		if k.At == "" {
			assert.Empty(t, out.Settings[i].Says)
			assert.False(t, out.Settings[i].Outside)
		}
	}
}

// A control that today's product leaves alone is not told where to stand, nor blamed for where it stood, a number no more than a position.
func TestKnownGoodLeavesAlone(t *testing.T) {
	out, err := knownGood(t, 0, ran(t, 0, 1, "side guides", "160 mm", "curling chain", "low"), ran(t, 0, 2, "side guides", "170 mm", "curling chain", "low")).Solve()
	require.NoError(t, err)
	for _, name := range []string{"side guides", "curling chain"} { // buns do not pass the moulder
		got := setting(t, out, name)
		assert.Equal(t, 2, got.Runs, name)
		assert.Equal(t, []string{"", "", ""}, []string{got.Planned, got.Start, got.Says}, name)
		assert.Equal(t, []float64{0, 0, 0, 0, 0, 0}, []float64{got.Number, got.Plan, got.Low, got.High, got.Offset, got.Drift}, name)
		assert.False(t, got.Outside, name)
	}
	assert.False(t, out.Conditions.Has(line.OutsideGood))
}

// The working has a part for each control that a good run names or that today's plan sets to a number, and in it what there is to work out.
func TestKnownGoodWorkingOfControls(t *testing.T) {
	var workings []*reckon.Working
	numbers := [][]string{ // buns do not pass the moulder
		{"divider handle", "line speed wheel", "belt duster slide", "rounder speed"},
		{"divider handle", "line speed wheel", "belt duster slide", "rounder speed", "first rollers", "last rollers", "side guides", "board, entry", "board, exit"},
	}
	for order, own := range numbers {
		stands := []string{"side guides", "160 mm", "curling chain", "low", "divider handle", "13"}
		out, w, err := reckon.Explain(knownGood(t, order, ran(t, order, 1, stands...), ran(t, order, 2, stands[2:]...)))
		require.NoError(t, err)
		workings = append(workings, w)
		parts, read, heading := map[string][]string{}, map[string]int{}, ""
		for _, s := range w.Steps {
			if s.Kind == reckon.HeadingStep {
				heading = s.ID
				parts[heading] = []string{}
				continue
			}
			if strings.HasPrefix(s.ID, "where it stood") {
				read[heading]++
			}
			parts[heading] = append(parts[heading], s.Symbol)
		}
		for i, k := range out.Settings {
			number, runs := slices.Contains(own, k.Control), map[string]int{"side guides": 1, "curling chain": 2, "divider handle": 2}[k.Control]
			steps, shown := parts[k.Control]
			assert.Equal(t, runs > 0 || number, shown, "order %d: %s", order, k.Control)
			for symbol, want := range map[string]bool{"n": runs > 0, "w": number, "x": number, "m": number && runs > 0, "l": number && runs > 0, "h": number && runs > 0} {
				assert.Equal(t, want, slices.Contains(steps, fmt.Sprint(symbol, "_", i+1)), "order %d: %s: %s", order, k.Control, symbol)
			}
			if !number {
				runs = 0
			}
			assert.Equal(t, runs, read[k.Control], "order %d: %s", order, k.Control)
		}
	}
	outlinedBesideThePlan(t, "TestKnownGoodWorkingOfControls", workings...)
}

// The working holds every number, with means, drift and steps, and where a control stood elsewhere or was not named.
func TestKnownGoodWorking(t *testing.T) {
	var workings []*reckon.Working
	a, b := ran(t, 1, 1, "divider handle", "19", "side guides", "160 mm", "curling chain", "low", "board, exit", "18 mm", "line speed wheel", "22 strokes/min"),
		ran(t, 1, 2, "divider handle", "19.5", "side guides", "158 mm", "curling chain", "low", "line speed wheel", "22.5 strokes/min")
	a.Mean, b.Mean = 70.1, 69.4
	c := ran(t, 1, 3, "divider handle", "19", "side guides", "15.6 cm", "curling chain", "middle", "line speed wheel", "21 strokes/min")
	old := ran(t, 1, 3, "divider handle", "18", "line speed wheel", "20 strokes/min")
	old.Order.Product.RateHigh = 5
	for _, records := range [][]line.RunRecord{{a, b, c}, {c}, {a, b, c, old}, {ran(t, 1, 1)}} {
		_, w, err := reckon.Explain(knownGood(t, 1, records...))
		require.NoError(t, err)
		workings = append(workings, w)
		assert.NoError(t, retrace(w))
		for i := range records { // each has its number
			j := slices.IndexFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == fmt.Sprint("j_", i+1) })
			assert.InDelta(t, i+1, w.Steps[j].Value, 0)
		}
	}
	fine := knownGood(t, 1, a, b, c) // a handle that goes by hundredths
	fine.Line.Divider.MarkStep = 0.01
	for i := range fine.Line.Controls {
		if k := &fine.Line.Controls[i]; k.Sets == line.SetsMark {
			k.Step = ""
		}
	}
	_, w, err := reckon.Explain(fine)
	require.NoError(t, err)
	workings = append(workings, w)
	assert.NoError(t, retrace(w))
	outlinedBesideThePlan(t, "TestKnownGoodWorking", workings...)
}

// A control that creeps is told once the runs show that it is more than chance.
func TestKnownGoodDrift(t *testing.T) {
	for _, c := range []struct {
		id       string
		marks    []string
		drift    float64
		drifting bool
	}{
		{"steady", []string{"12.5", "12.5", "12.5", "12.5"}, 0, false},
		{"to and fro", []string{"12.5", "13", "12.5", "13"}, 0.1, false},
		{"rising", []string{"12", "12.5", "12.5", "13", "13.5"}, 0.35, true},
		{"falling", []string{"14", "13.5", "13", "12.5"}, -0.5, true},
		{"too few", []string{"12", "12.5", "13"}, 0.5, false},
	} {
		var records []line.RunRecord
		for i, m := range c.marks {
			records = append(records, ran(t, 0, i+1, "divider handle", m))
		}
		out, err := knownGood(t, 0, records...).Solve()
		require.NoError(t, err)
		handle := setting(t, out, "divider handle")
		assert.InDelta(t, c.drift, handle.Drift, 1e-9, c.id)
		assert.Equal(t, c.drifting, handle.Drifting, c.id)
		assert.Equal(t, c.drifting, out.Conditions.Has(line.Drifting), c.id)
	}
}

// What differs from the last good run is named: line, product and day, but not how much is ordered.
func TestKnownGoodSaysWhatChanged(t *testing.T) {
	q := knownGood(t, 1, ran(t, 1, 1, "divider handle", "18.5"))
	q.Order.Pieces, q.Order.Spare = 100, 1
	q.Line.Moulder.Recovery, q.Line.Moulder.Measured = 1.7, !q.Line.Moulder.Measured
	q.Line.Pocket.Width = 140
	q.Line.Belts = slices.Clone(q.Line.Belts)[:3]
	q.Line.Belts[1].BeltSpeed *= 2
	q.Line.Oil = []unit.VolumeRate{1}
	board := *q.Line.Moulder.Board
	board.Spring = 1.35
	q.Line.Moulder.Board = &board
	q.Shift.Tap, q.Shift.HotTap = unit.Celsius(9), unit.Temp{}
	q.Order.Product.DwellLow = 330
	q.Order.Product.Allergens = []string{"wheat", "soya"}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Empty(t, cmp.Diff([]line.Difference{
		{Path: "line.pocket.width", Was: "150 mm", Is: "140 mm"},
		{Path: "line.moulder.recovery", Was: "1.6", Is: "1.7"},
		{Path: "line.moulder.measured", Was: "true", Is: "false"},
		{Path: "line.moulder.pressure_board.spring", Was: "1.3", Is: "1.35"},
		{Path: "line.belts[1].belt_speed", Was: "18 m/min", Is: "36 m/min"},
		{Path: "line.oil_valves", Was: "2 items", Is: "1 items"},
		{Path: "order.product.dwell_low", Was: "6 min", Is: "5 min 30 s"},
		{Path: "order.product.allergens[1]", Was: `"milk"`, Is: `"soya"`},
		{Path: "shift.tap", Was: "15 °C", Is: "9 °C"},
		{Path: "shift.hot_tap", Was: "58 °C", Is: "not given"},
	}, out.Changed))
	assert.True(t, out.Conditions.Has(line.ChangedSince))
}

// The mean piece weights of the good runs stand beside today's target.
func TestKnownGoodWeights(t *testing.T) {
	a, b, c := ran(t, 0, 1), ran(t, 0, 2), ran(t, 0, 3)
	a.Mean, b.Mean = 51.5, 50.9
	out, err := knownGood(t, 0, a, b, c).Solve()
	require.NoError(t, err)
	assert.Equal(t, []unit.Mass{50.9, 51.5}, []unit.Mass{out.MeanLow, out.MeanHigh})
	assert.InDelta(t, 51.3, float64(out.Target), 0.05)
}

// A control of an earlier line that set something else says nothing of today's.
func TestKnownGoodOfAnotherControl(t *testing.T) {
	old := ran(t, 0, 1, "belt duster", "on", "rounder speed", "160 rev/min")
	k := control(t, &old.Line, "belt duster")
	k.Sets, k.Of = line.SetsOil, ""
	old.Settings[0].At = "open"
	out, err := knownGood(t, 0, old).Solve()
	require.NoError(t, err)
	assert.Zero(t, setting(t, out, "belt duster").Runs)
	assert.Equal(t, 1, setting(t, out, "rounder speed").Runs)
}

func TestKnownGoodRefuses(t *testing.T) {
	for _, c := range []struct {
		id     string
		spoil  func(*line.KnownGood)
		fields []string
	}{
		{"none", func(q *line.KnownGood) { q.Records = nil }, []string{"records"}},
		{"of another line", func(q *line.KnownGood) { q.Records[1].Line.Name = "line 1" }, []string{"records[1].line.name"}},
		{"of another product", func(q *line.KnownGood) { q.Records[0].Order.Product.Name = "Rye" }, []string{"records[0].order.product.name"}},
		{"not in order", func(q *line.KnownGood) { q.Records[1].Date = "2026-10-31" }, []string{"records[1].date"}},
		{"no day", func(q *line.KnownGood) { q.Records[0].Date = "4 Nov" }, []string{"records[0].date"}},
		{"none good", func(q *line.KnownGood) { q.Records[0].Good, q.Records[1].Good = false, false }, []string{"records[0].good"}},
		{"how many", func(q *line.KnownGood) { q.Last = 0 }, []string{"last"}},
		{"a control that there is not", func(q *line.KnownGood) { q.Records[0].Settings[0].Control = "lever" }, []string{"records[0].settings[0].control"}},
		{"an impossible line then", func(q *line.KnownGood) { q.Records[0].Line.Divider.StrokesLow = 0 }, []string{"records[0].line.divider.strokes_low"}},
		{"what was met", func(q *line.KnownGood) {
			q.Records[0].Mean, q.Records[0].Made, q.Records[0].DoughTemp, q.Records[0].Note = -1, -1, unit.Celsius(90), strings.Repeat("x", 1001)
		}, []string{"records[0].made", "records[0].mean", "records[0].dough_temp", "records[0].note"}},
		{"and how it was weighed", func(q *line.KnownGood) {
			q.Records[0].Weighed, q.Records[0].SD, q.Records[0].Waited = -1, -1, unit.Hours(25)
		}, []string{"records[0].weighed", "records[0].sd", "records[0].waited"}},
	} {
		q := knownGood(t, 0, ran(t, 0, 1, "divider handle", "12.5"), ran(t, 0, 2, "divider handle", "12.5"))
		c.spoil(&q)
		var fields []string
		for _, e := range reckon.Wrong(q) {
			fields = append(fields, e.Field)
			assert.Equal(t, "known-good", e.Func)
		}
		assert.Equal(t, c.fields, fields, c.id)
		_, err := q.Solve()
		assert.Error(t, err, c.id)
	}
}

// Records come back from JSON as they were kept, and go to their own line and product.
func TestRunBook(t *testing.T) {
	a, b := ran(t, 0, 1, "divider handle", "12.5", "rounding drum", "small cups"), ran(t, 1, 2, "side guides", "156 mm")
	a.Made, a.Weighed, a.Mean, a.SD, a.DoughTemp, a.Waited, a.Note = 6010, 55, 50.8, 1.1, unit.Celsius(26.2), 90, "seam to the left"
	b.Good = false
	book := line.RunBook{Records: []line.RunRecord{a, b}}
	data, err := json.Marshal(book)
	require.NoError(t, err)
	back, err := line.ReadRunBook(data)
	require.NoError(t, err)
	assert.Empty(t, cmp.Diff(book, back, cmp.Comparer(func(x, y unit.Temp) bool { return x == y })))
	assert.Equal(t, []line.RunRecord{book.Records[1]}, book.Of("line 2", "Long picnic roll"))
	assert.Empty(t, book.Of("line 1", "Long picnic roll"))

	wrong := strings.Replace(strings.Replace(string(data), `"12.5"`, `"12.5 mm"`, 1), `"mean":"50.8 g"`, `"mean":"50.8"`, 1)
	_, err = line.ReadRunBook([]byte(wrong))
	assert.ErrorContains(t, err, "records[0].mean")
	_, err = line.ReadRunBook([]byte(strings.Replace(string(data), `"12.5"`, `"12.5 mm"`, 1)))
	assert.ErrorContains(t, err, "records[0].settings[0].at")
	_, err = line.ReadRunBook([]byte(strings.Replace(string(data), `"good":true`, `"good":true,"gut":true`, 1)))
	assert.ErrorContains(t, err, "records[0].gut")
	_, err = line.ReadRunBook([]byte(`[]`))
	assert.Error(t, err)
}

func BenchmarkKnownGood(b *testing.B) {
	q := knownGood(b, 1, ran(b, 1, 1, "divider handle", "19"), ran(b, 1, 2, "divider handle", "19.5"), ran(b, 1, 3, "divider handle", "19"), ran(b, 1, 4, "divider handle", "19"))
	b.ReportAllocs()
	var out line.KnownGoodResult
	for b.Loop() {
		var err error
		if out, err = q.Append(out.Settings[:0]); err != nil {
			b.Fatal(err)
		}
	}
	if out.Good != 4 {
		b.Fatal("runs are missing")
	}
}
