package line_test

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A working goes from station to station as dough passes them, each under its own heading with something beneath.
func TestAWorkingGoesFromStationToStation(t *testing.T) {
	var workings []*reckon.Working
	fits := []string{"Mark and weight of rolls, 2 across", "Mark and weight of tin bread, 1 across"}
	weight := []string{"Dough piece", "Check weighing"}
	mark := []string{"Dough piece to scale", "Mark"}
	speed := []string{"Check weighing, the handle left alone", "Rounding drum", "Pocket of the overhead proofer", "What the oven takes", "What the belts carry", "Speed", "Rate", "Weight that may be lost in the hopper", "Largest batch"}
	mixing := []string{"Time in the hopper", "Weight in the hopper", "Rounding", "Weighing one batch", "Hydration", "Water temperature"}
	proofer := []string{"Water and ice", "Overhead proofer", "Waits between batches"}
	end := []string{"Times from the start of the first mixing", "Time in which pieces are scaled", "Divider oil", "Dusting flour, rounder belt", "Dusting flour, proofer pockets", "Final proof"}
	for order, want := range [][]string{
		slices.Concat(fits, weight, mark, speed, []string{"Batches", "The mixer's pace"}, mixing, proofer, []string{"Stamper", "Belt discharge belt, where two pieces lie closest"}, end),
		slices.Concat(fits, weight, mark, speed, []string{"Batch that holds its weight", "Batches", "The mixer's pace"}, mixing,
			[]string{"Preferments and final mix of one batch", "When the preferments are started", "Water of the sponge", "What to draw for the sponge"}, proofer,
			[]string{"Side guides", "Moulder", "Both pairs of rollers", "Curling chain", "Pressure board", "Belt moulder belt, where two pieces lie closest"}, end),
		slices.Concat(fits, []string{"Dough piece", "Check weighing", "Label", "Dough for one of bread", "Target"}, mark, speed,
			[]string{"Batches", "The mixer's pace", "Rate", "Largest batch"}, mixing, // at the mixer's pace once more
			[]string{"Heat balance of mixing"}, proofer,
			[]string{"Side guides", "Moulder", "Both pairs of rollers", "Curling chain", "Pressure board", "Pan", "Belt discharge belt, where two pieces lie closest"}, end),
	} {
		in := input(t, order)
		_, w, err := reckon.Explain(in)
		require.NoError(t, err)
		workings = append(workings, w)
		assert.NoError(t, retrace(w))
		stand, set, err := reckon.Explain(line.ControlSettings{Line: in.Line, Order: in.Order, Shift: in.Shift})
		require.NoError(t, err)
		workings = append(workings, set)
		assert.NoError(t, retrace(set))
		own := set.Steps[slices.IndexFunc(set.Steps, func(k reckon.Step) bool { return k.Kind == reckon.HeadingStep && k.ID == "Controls" }):]
		for i, s := range stand.Settings {
			worked := slices.ContainsFunc(own, func(k reckon.Step) bool { return k.Symbol == fmt.Sprintf("x_%d", i+1) })
			assert.Equal(t, s.Number != 0, worked, "%s: a number is worked out, a position is not", s.Control)
		}
		var got []string
		for i, s := range w.Steps {
			if s.Kind == reckon.HeadingStep {
				got = append(got, s.ID)
				if s.ID != "What the belts carry" { // none that limits the line, where all are geared to it
					assert.True(t, i+1 < len(w.Steps) && w.Steps[i+1].Kind != reckon.HeadingStep, "%s: nothing stands beneath", s.ID)
				}
			}
		}
		assert.Equal(t, want, got)
	}
	outlined(t, "TestAWorkingGoesFromStationToStation", workings...)
}

// Machines without steps are set to the figure itself, and the working says so.
func TestMachinesWithoutSteps(t *testing.T) {
	var workings []*reckon.Working
	for order := range 3 {
		fine := input(t, order) // steps that nobody sees are steps all the same
		fine.Line.Divider.StrokeStep = 0.005
		_, stepped, err := reckon.Explain(fine)
		require.NoError(t, err)
		assert.NoError(t, retrace(stepped))
		in := input(t, order)
		in.Line.Divider.StrokeStep, in.Line.Divider.MarkStep, in.Line.Moulder.GapStep = 0, 0, 0
		in.Order.Product.Drift = line.HopperDrift{}
		p, w, err := reckon.Explain(in)
		require.NoError(t, err)
		assert.NoError(t, retrace(w))
		workings = append(workings, w)
		_, set, err := reckon.Explain(line.ControlSettings{Line: in.Line, Order: in.Order, Shift: in.Shift})
		require.NoError(t, err)
		assert.NoError(t, retrace(set))
		workings = append(workings, set)
		assert.InDelta(t, float64(p.Target), float64(p.Mark.Expected), 1e-9)
		assert.Equal(t, p.Strokes == p.Speed.High, p.StrokesLimit == p.Speed.HighLimit)
	}
	outlined(t, "TestMachinesWithoutSteps", workings...)
}

// A working of the window says what excludes what, also where a single limit does, and each way with the limit that sets its ends.
func TestWorkingsOfWindows(t *testing.T) {
	var workings []*reckon.Working
	in := input(t, 0)
	in.Order.Product.DwellLow, in.Order.Product.DwellHigh = 1, 2 // no divider is so fast
	out, w, err := reckon.Explain(line.Window(in))
	require.NoError(t, err)
	workings = append(workings, w)
	require.NotEmpty(t, out.Conflict)
	beneath := func(heading string) int {
		for i, s := range w.Steps {
			if s.Kind == reckon.HeadingStep && s.ID == heading {
				n := 0
				for i++; i < len(w.Steps) && w.Steps[i].Kind != reckon.HeadingStep; i++ {
					n++
				}
				return n
			}
		}
		return -1 // no such heading
	}
	assert.Positive(t, beneath("Limits that exclude one another"), "%d of them", len(out.Conflict))
	assert.Equal(t, -1, beneath("What one unit more of each limit buys"))
	// One wait of two batches: 350 + (8400 - 4500)/S is at most 600 s from 15.6 strokes a minute on.
	in = aimed(t, line.Aim{})
	in.Order.Pieces, in.Order.Product.HopperMax, in.Shift.Mixer.Cycle = 300, 3600, 350
	in.Shift.Mixer.High, in.Shift.Mixer.Low = 15_000, 15_000
	out, w, err = reckon.Explain(line.Window(in))
	require.NoError(t, err)
	workings = append(workings, w)
	assert.Equal(t, "mixer", out.Ways[0].LowLimit)
	assert.NoError(t, retrace(w))
	assert.Positive(t, beneath("What one unit more of each limit buys"))
	assert.Equal(t, -1, beneath("Limits that exclude one another"))
	for i, way := range out.Ways { // numbered from 1 through all numbers across
		at := slices.IndexFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == fmt.Sprintf("b_w%d", i+1) })
		if assert.GreaterOrEqual(t, at, 0, "way %d", i+1) {
			assert.InDelta(t, float64(way.Batches), w.Steps[at].Value, 0, "way %d", i+1)
		}
	}
	// A slide whose trials reach from the flour of 16 strokes a minute to that of 24 sets both ends.
	in = aimed(t, line.Aim{})
	p, err := in.Solve()
	require.NoError(t, err)
	each := unit.MassRate(float64(p.Dusting[0].Flour.FlourPerPiece) * 2 * 60 / 1000) // in kg/h for each stroke a minute, two by two
	in.Line.Dusters = slices.Clone(in.Line.Dusters)
	in.Line.Dusters[0].Slide = []divider.SlidePoint{{Slide: 1, FlourRate: 16 * each}, {Slide: 5, FlourRate: 24 * each}}
	in.Line.Dusters[0].SlideStep, in.Line.Divider.StrokeStep = 0, 0
	out, w, err = reckon.Explain(line.Window(in))
	require.NoError(t, err)
	workings = append(workings, w)
	assert.InEpsilon(t, 16, float64(out.Ways[0].Low), 1e-6)
	assert.InEpsilon(t, 24, float64(out.Ways[0].High), 1e-6)
	assert.NoError(t, retrace(w))
	outlinedBesideThePlan(t, "TestWorkingsOfWindows", workings...)
}

// The narrowest gap where nobody knows when the sheet tears is the rollers' own, on a step if they have steps.
func TestWorkingOfTheNarrowestGap(t *testing.T) {
	for step, want := range map[unit.Length]float64{0.1: 2.1, 0: 2.04} {
		in := input(t, 1)
		in.Order.Product.TearLimit, in.Line.Moulder.GapLow, in.Line.Moulder.GapStep = 0, 2.04, step
		out, w, err := reckon.Explain(line.Window(in))
		require.NoError(t, err)
		assert.NoError(t, retrace(w))
		assert.InDelta(t, want, float64(out.Gap.Low), 1e-9)
		i := slices.IndexFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == "g_l" })
		if assert.GreaterOrEqual(t, i, 0) {
			assert.InDelta(t, want, w.Steps[i].Value, 1e-9)
		}
	}
}

// Half a step of the handle is worked out for a check however fine the step, and of a handle without steps there is none.
func TestHalfAStepInTheWorkingOfACheck(t *testing.T) {
	for _, step := range []float64{0.001, 0} {
		in := input(t, 0)
		in.Line.Divider.MarkStep, in.Order.Product.Drift = step, line.HopperDrift{}
		p, w, err := reckon.Explain(in)
		require.NoError(t, err)
		heading := ""
		var worked []float64
		for _, s := range w.Steps {
			if s.Kind == reckon.HeadingStep {
				heading = s.ID
			} else if heading == "Check weighing" && s.Expression == "abs(b)*D/2" {
				worked = append(worked, s.Value)
			}
		}
		if assert.Equal(t, step > 0, len(worked) == 1, "steps of %v: %v", step, worked) && step > 0 {
			assert.InEpsilon(t, float64(p.Mark.PerMark)*step/2, worked[0], 1e-9) // the curve of the trials is straight
		}
	}
}

// "Good runs", and a day adds up its runs.
var openParts = map[string]string{"Target": "Dough for one of bread", "Batch that holds its weight": "Largest batch"}

var (
	conversion = regexp.MustCompile(`\{[^}]*\}`)
	named      = regexp.MustCompile(`[A-Za-z][A-Za-z0-9_]*\(?`)
)

// earlier part has found it: nobody leafs back for a number.
func standsForItself(w *reckon.Working) error {
	var errs []error
	parts := map[string]map[string]bool{}
	heading := ""
	for _, s := range w.Steps {
		if s.Kind == reckon.HeadingStep {
			_, after, of := strings.Cut(s.ID, ": ")
			if heading = s.ID; of {
				heading = after
			}
			parts[heading] = map[string]bool{}
			continue
		}
		if parts[heading] == nil {
			parts[heading] = map[string]bool{}
		}
		if s.Kind != reckon.CarriedStep && !strings.Contains(heading, " day") {
			for _, name := range named.FindAllString(conversion.ReplaceAllString(s.Expression, ""), -1) {
				if !strings.HasSuffix(name, "(") && name != "pi" && name != s.Symbol && !parts[heading][name] && !parts[openParts[heading]][name] && !parts["Good runs"][name] {
					errs = append(errs, fmt.Errorf("%q names %s in %s = %s and does not say what it is", heading, name, s.Symbol, s.Expression))
				}
			}
		}
		parts[heading][s.Symbol] = true
	}
	return errors.Join(errs...)
}

// The working of an oven says how fast a belt runs only where there is one.
func TestWorkingOfAnOven(t *testing.T) {
	var workings []*reckon.Working
	for belt, shown := range map[unit.Length]bool{0: false, 30_000: true} {
		_, w, err := reckon.Explain(line.OvenRate{Oven: line.Oven{Kind: line.TunnelOven, Belt: belt}, Time: 1080, PerLoad: 1200})
		require.NoError(t, err)
		workings = append(workings, w)
		assert.NoError(t, retrace(w))
		assert.Equal(t, shown, slices.ContainsFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == "v_o" }))
	}
	outlined(t, "TestWorkingOfAnOven", workings...)
}

// What a station finds is worked out beneath its heading, not only named there.
func TestWhatIsFoundIsWorkedOut(t *testing.T) {
	for order := range 3 {
		in := input(t, order)
		in.Shift.Tap = unit.Celsius(20)
		p, w, err := reckon.Explain(in)
		require.NoError(t, err)
		found := map[string][]float64{
			"Dough piece": {float64(p.Piece.Dough)}, "Check weighing": {float64(p.Check.Pieces)}, "Mark": {p.Mark.Set, float64(p.Mark.Expected)},
			"Check weighing, the handle left alone": {float64(p.Band.Low), float64(p.Band.High)}, "Rounding drum": {float64(p.Drum.Diameter)},
			"Pocket of the overhead proofer": {float64(p.Pocket.Diameter)}, "Speed": {float64(p.Speed.High)}, "Rate": {float64(p.Rate.PieceRate), float64(p.Rate.DoughRate)},
			"Weight that may be lost in the hopper": {float64(p.DriftLimit)}, "Batches": {float64(p.Batch.PiecesPerBatch)}, "The mixer's pace": {float64(p.MixerStrokes)},
			"Time in the hopper": {float64(p.Hopper.Time)}, "Weight in the hopper": {float64(p.Drift.EndWeight)}, "Rounding": {p.Motions.Motions},
			"Hydration": {float64(p.Hydration.Hydration)}, "Water temperature": {p.Water.WaterTemp.Celsius()}, "Water and ice": {float64(p.WaterMass), float64(p.WaterToWeigh)},
			"Overhead proofer": {float64(p.Dwell.Dwell), float64(p.Clear.ClearOut)}, "Waits between batches": {float64(p.LongestDwell)},
			"Times from the start of the first mixing": {float64(p.Times.FirstStroke), float64(p.Times.LastOut)}, "Divider oil": {float64(p.Oil.PerRun)}, "Final proof": {float64(p.FinalProof.Needed)},
			"Dusting flour, rounder belt": {float64(p.Dusting[0].Flour.Hour), p.Dusting[0].Slide.Slide}, "Dusting flour, proofer pockets": {float64(p.Dusting[1].Flour.Hour)},
		}
		if order > 0 {
			found["Side guides"], found["Moulder"] = []float64{float64(p.Guides.Guides)}, []float64{float64(p.Gap.Gap), p.Roll.Turns}
			found["Belt "+p.TightestBelt+", where two pieces lie closest"] = []float64{float64(p.Spacing.Gap)}
			found["Both pairs of rollers"], found["Pressure board"] = []float64{float64(p.Rollers.FirstGap), p.Rollers.FirstNumber}, []float64{float64(p.Heights.HeightOut), p.Board.Turns}
		}
		switch order {
		case 0:
			found["Stamper"] = []float64{float64(p.Stamp.Stamps), float64(p.Stamp.Dwell)}
		case 1:
			held, err := divider.BatchForWeightDrift{
				StartWeight: p.Mark.Expected, DriftLimit: p.DriftLimit, Growth: in.Order.Product.Drift.Growth, GrowthBasis: in.Order.Product.Drift.GrowthBasis, DoughRate: p.Rate.DoughRate,
			}.Solve()
			require.NoError(t, err)
			cut, err := divider.BatchForHopperTime{TimeLimit: held.Time, DoughRate: p.Rate.DoughRate, Head: in.Line.Divider.HopperLeast}.Solve()
			require.NoError(t, err)
			found["Batch that holds its weight"] = []float64{float64(held.Time), float64(cut.Batch)}
			found["Water of the sponge"], found["What to draw for the sponge"] = []float64{p.PrefermentRuns[0].Water.WaterTemp.Celsius()}, []float64{float64(p.PrefermentRuns[0].Draw.HotWater)}
			found["When the preferments are started"] = []float64{float64(p.PrefermentRuns[0].Before)}
		case 2:
			found["Pan"], found["Target"] = []float64{float64(p.Pan.Fill), float64(p.Pan.Clearance)}, []float64{float64(p.Label.Target)}
			found["Heat balance of mixing"] = []float64{p.HeatWater.WaterTemp.Celsius()}
			found["Water and ice"] = append(found["Water and ice"], float64(p.HeatIce.Ice), float64(p.IceToWeigh))
			require.Positive(t, p.HeatIce.Ice)
		}
		heading, worked := "", map[string][]float64{}
		for _, s := range w.Steps {
			switch s.Kind {
			case reckon.HeadingStep:
				heading = s.ID
			case reckon.WorkedStep, reckon.RootStep, reckon.TableStep:
				worked[heading] = append(worked[heading], s.Value)
			}
		}
		for heading, values := range found {
			for _, v := range values {
				assert.Contains(t, worked[heading], v, "order %d: %s", order, heading)
			}
		}
	}
}

// Nobody asks for the working of what was refused, as a whole or for its order alone; who does finds nothing written down.
func TestNoWorkingOfWhatIsRefused(t *testing.T) {
	in := input(t, 0)
	in.Order.Pieces = 0
	one, other := changeover(t, 0, 1, 2), changeover(t, 0, 1, 2)
	one.Before.Pieces, other.Next.Pieces = 0, 0
	known := knownGood(t, 0, ran(t, 0, 1, "divider handle", "13"))
	known.Order.Pieces = 0
	planned := day(t)
	planned.Orders[0].Pieces = 0
	for name, show := range map[string]func(w *reckon.Working){
		"a plan of nothing":         func(w *reckon.Working) { line.Plan{}.Show(w, line.PlanResult{}) },
		"a window of nothing":       func(w *reckon.Working) { line.Window{}.Show(w, line.WindowResult{}) },
		"settings of nothing":       func(w *reckon.Working) { line.ControlSettings{}.Show(w, line.ControlSettingsResult{}) },
		"records of nothing":        func(w *reckon.Working) { line.KnownGood{}.Show(w, line.KnownGoodResult{}) },
		"causes of nothing":         func(w *reckon.Working) { line.FaultCauses{}.Show(w, line.FaultCausesResult{}) },
		"a clock of nothing":        func(w *reckon.Working) { line.Clock{}.Show(w, line.ClockResult{}) },
		"a day of nothing":          func(w *reckon.Working) { line.DayPlan{}.Show(w, line.DayPlanResult{}) },
		"a day's clock of nothing":  func(w *reckon.Working) { line.DayClock{}.Show(w, line.DayClockResult{}) },
		"a changeover of nothing":   func(w *reckon.Working) { line.Changeover{}.Show(w, line.ChangeoverResult{}) },
		"a window without an order": func(w *reckon.Working) { line.Window(in).Show(w, line.WindowResult{}) },
		"settings without an order": func(w *reckon.Working) {
			line.ControlSettings{Line: in.Line, Order: in.Order, Shift: in.Shift}.Show(w, line.ControlSettingsResult{})
		},
		"records without an order": func(w *reckon.Working) { known.Show(w, line.KnownGoodResult{}) },
		"causes without an order": func(w *reckon.Working) {
			line.FaultCauses{Line: in.Line, Order: in.Order, Shift: in.Shift}.Show(w, line.FaultCausesResult{})
		},
		"a clock without an order": func(w *reckon.Working) {
			line.Clock{Line: in.Line, Order: in.Order, Shift: in.Shift}.Show(w, line.ClockResult{})
		},
		"a day without an order": func(w *reckon.Working) { planned.Show(w, line.DayPlanResult{}) },
		"a day's clock without one": func(w *reckon.Working) {
			line.DayClock{Day: planned, Order: "rolls", Piece: 1}.Show(w, line.DayClockResult{})
		},
		"a changeover from no order": func(w *reckon.Working) { one.Show(w, line.ChangeoverResult{}) },
		"a changeover to no order":   func(w *reckon.Working) { other.Show(w, line.ChangeoverResult{}) },
	} {
		var w reckon.Working
		show(&w)
		assert.Empty(t, w.Steps, name)
	}
}
