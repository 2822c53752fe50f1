package line_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
	"example.com/dough/testdata"
)

func demo(t testing.TB) (line.Scenario, line.Commissioned) {
	t.Helper()
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	cl, err := line.Commission(s.Line)
	require.NoError(t, err)
	return s, cl
}

// straight is the demo without what is optional: no preferments, no heat
// balance, no label, no supplies. It is what is planned without allocating.
func straight(t testing.TB) (line.Scenario, line.Commissioned) {
	t.Helper()
	s, _ := demo(t)
	s.Line.Oil, s.Line.Dusters, s.Line.Rounder, s.Line.Parts, s.Line.Controls = nil, nil, line.Rounder{}, nil, nil
	s.Line.Changing, s.Line.Oven = line.Changing{}, line.Oven{}
	m := &s.Line.Moulder
	m.First, m.Chain, m.Board, m.Guides = nil, nil, nil, nil
	s.Line.Divider.HopperLeast = 0
	s.Line.Stamper.Die, s.Line.Stamper.Spin, s.Line.Stamper.Around, s.Line.Stamper.Contact = "", "", 0, 0
	s.Line.Pocket = proof.Pocket{}
	s.Line.Stamper.StampsHigh = 27.5 // slower than the dwell allows: the names of two equal limits are put together
	for i := range s.Orders {
		p := &s.Orders[i].Product
		p.Preferments, p.PrefermentMixes, p.PrefermentTemp, p.Heat = nil, nil, unit.Temp{}, nil
		p.Label, p.Check, p.Drift, p.Stickiness = line.Label{}, line.Check{}, line.HopperDrift{}, 0
		p.Panned, p.FinalStay, p.PerCarrier, p.Pocketed, p.Baking = nil, 0, 0, nil, line.Baking{}
	}
	cl, err := line.Commission(s.Line)
	require.NoError(t, err)
	return s, cl
}

func input(t testing.TB, order int) line.Plan {
	t.Helper()
	s, _ := demo(t)
	return line.Plan{Line: s.Line, Order: s.Orders[order], Shift: s.Shift}
}

func TestPlanTwiceTheSame(t *testing.T) {
	s, cl := demo(t)
	for i := range s.Orders[:3] {
		quick, err := cl.Plan(&s.Orders[i], &s.Shift, nil)
		require.NoError(t, err)
		whole, err := input(t, i).Solve()
		require.NoError(t, err)
		assert.Empty(t, cmp.Diff(whole, quick))
		assert.Equal(t, "line 2", cl.Line().Name)
	}
}

// What limits the plan is named, on either side and for the batch.
func TestPlanSaysWhatLimits(t *testing.T) {
	p, err := input(t, 2).Solve()
	require.NoError(t, err)
	assert.Equal(t, "dwell", p.Speed.LowLimit)
	assert.Equal(t, "oven", p.Speed.HighLimit)
	assert.Equal(t, "hopper", p.LargestBatchLimit)
	in := input(t, 0)
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, "dwell and stamper", p.Speed.HighLimit, "28 strokes/min is both: moving one of them gains nothing")
	in.Line.Stamper.StampsHigh = 20
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, "stamper", p.Speed.HighLimit)
	assert.Equal(t, "hopper time", p.LargestBatchLimit)
	in.Shift.Mixer.High = 42_000
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, "mixer", p.LargestBatchLimit)
}

// A mark outside the interval printed beside it is said, whichever side it lies on
// and whether the label or the rounding took it there.
func TestPlanSaysThatTheMarkIsOutsideItsInterval(t *testing.T) {
	outside := map[bool]int{}
	for order := range 3 {
		for step := range 40 {
			in := input(t, order)
			in.Order.Product.Baked *= 1 + unit.Mass(step)/400
			in.Order.Product.Tolerance *= 3
			p, err := in.Solve()
			if err != nil {
				continue
			}
			out := p.Mark.Set < p.Mark.Low || p.Mark.Set > p.Mark.High
			assert.Equal(t, out, p.Mark.Conditions.Has(divider.MarkOutsideInterval))
			outside[out]++
		}
	}
	assert.Positive(t, outside[true])
	assert.Positive(t, outside[false])
}

// Trial pieces are those of a dough: bread two across is not set by the trials of rolls
// two across, and a dough that was never weighed is refused, with those that were.
func TestTrialPiecesBelongToADough(t *testing.T) {
	in := input(t, 0)
	rolls, err := in.Solve()
	require.NoError(t, err)
	airy := in.Line.Divider.Lanes[0]
	airy.Dough, airy.Trials = "airy rolls", slices.Clone(airy.Trials)
	for i := range airy.Trials {
		airy.Trials[i].Weight *= 0.9
	}
	in.Line.Divider.Lanes = append(slices.Clone(in.Line.Divider.Lanes), airy)
	same, err := in.Solve()
	require.NoError(t, err)
	assert.Empty(t, cmp.Diff(rolls, same), "another dough's trials change nothing")
	in.Order.Product.Dough = "airy rolls"
	higher, err := in.Solve()
	require.NoError(t, err)
	assert.Greater(t, higher.Mark.Mark, rolls.Mark.Mark+1)

	for dough, want := range map[string]string{"rye": "order.product.dough", "": "order.product.dough", "tin bread": "order.product.across"} {
		in.Order.Product.Dough = dough
		_, err = in.Solve()
		bad := reckon.InputErrors(err)
		require.Len(t, bad, 1, dough)
		assert.Equal(t, want, bad[0].Field)
	}
	in.Order.Product.Dough = "rolls"
	in.Line.Divider.Lanes = append(in.Line.Divider.Lanes, airy, airy)
	_, err = in.Solve()
	bad := reckon.InputErrors(err)
	require.Len(t, bad, 2)
	assert.Equal(t, "line.divider.lanes[3].across", bad[0].Field)
	in.Line.Divider.Lanes = slices.Repeat([]line.Lanes{{Across: 4}}, 101)
	_, err = in.Solve()
	assert.Equal(t, "line.divider.lanes", reckon.InputErrors(err)[0].Field)
}

// The weight falls while the dough gasses: held by moves of the mark or by a smaller batch, the
// mean stays within what tolerance and label allow, minute by minute, and an estimate is marked as one.
func TestWeightDriftInThePlan(t *testing.T) {
	for i := range 3 {
		for _, hold := range []line.Hold{line.HoldByMoves, line.HoldByBatch} {
			in := input(t, i)
			in.Order.Product.Drift = line.HopperDrift{Growth: 0.25, GrowthBasis: divider.Estimated, Hold: hold}
			in.Shift.Mixer.Low = 1000
			if hold == line.HoldByBatch {
				if i == 2 { // the smaller the batch, the longer the divider waits for the mixer, and the head of dough with it
					_, err := in.Solve()
					require.ErrorContains(t, err, "waits for the mixer while the head of dough stands")
				}
				in.Shift.Mixer.Cycle = 120
			}
			p, err := in.Solve()
			require.NoError(t, err)
			assert.True(t, p.Drift.Conditions.Has(reckon.Uncalibrated))
			low := p.PieceLow
			if i == 2 {
				low = max(low, p.Label.Dough*(1-in.Order.Product.Label.Drift/p.Label.Target))
			}
			if hold == line.HoldByBatch {
				assert.Empty(t, p.Drift.Moves)
				assert.Equal(t, "weight drift", p.LargestBatchLimit)
			} else {
				assert.NotEmpty(t, p.Drift.Moves)
			}
			volume, next := float64(p.Mark.Expected), 0
			for at := unit.Duration(0); at < p.Hopper.Time; at++ {
				for next < len(p.Drift.Moves) && p.Drift.Moves[next].At <= at {
					volume += p.Drift.Moves[next].Move * float64(p.Mark.PerMark)
					next++
				}
				weight := volume / (1 + 0.25/6000*float64(at))
				assert.GreaterOrEqual(t, weight, float64(low)*(1-1e-4), "%s by %s at %v", in.Order.Product.Name, hold, at)
				assert.LessOrEqual(t, weight, float64(p.PieceHigh))
			}
		}
	}
	in := input(t, 2)
	in.Order.Product.Label.Drift = 0
	in.Line.Divider.MarkStep = 0
	_, err := in.Solve()
	assert.ErrorContains(t, err, "label.drift", "a mean on the label cannot fall")
	in = input(t, 0)
	in.Order.Product.Tolerance, in.Order.Product.Drift.Hold = 0, "prayer"
	in.Order.Product.Drift.Growth, in.Order.Product.Drift.GrowthBasis = -1, ""
	_, err = in.Solve()
	bad := reckon.InputErrors(err)
	for _, field := range []string{"hold", "drift_limit", "growth", "growth_basis"} {
		assert.True(t, slices.ContainsFunc(bad, func(e *reckon.InputError) bool { return e.Field == "order.product.hopper_drift."+field }), field)
	}
}

// A divider that draws dough in needs a head of it: the next batch is tipped on top, the
// dough stands longer, and the last pieces of the run are light.
func TestHeadOfDough(t *testing.T) {
	in := input(t, 2)
	in.Order.Product.Drift = line.HopperDrift{}
	in.Line.Divider.HopperLeast = 0
	// By hand: of 921.2 g, with the waste 930.4 g, 140 kg make 150 pieces, so 11 batches of 138. The mixer keeps up with
	// 13.8 strokes/min, and 290 trays allow no less than 290/21.3 = 13.62: the divider runs at 14 and waits for 600 - 138*60/14 = 8.57 s.
	// 290/14 min and three such waits are 21.14 min.
	in.Order.Product.DwellHigh = unit.Minutes(21.3)
	dry, err := in.Solve()
	require.NoError(t, err)
	in.Line.Divider.HopperLeast = 20_000
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(140_000), p.LargestBatch, "of 160 kg, 20 kg are in")
	assert.Equal(t, "hopper", p.LargestBatchLimit)
	assert.Equal(t, unit.Mass(160_000), dry.LargestBatch)
	cut := float64(p.Batch.PiecesPerBatch) * float64(p.Target)
	assert.InEpsilon(t, (cut+20_000)*3.6/float64(p.Rate.DoughRate)+float64(p.Times.BatchWait), float64(p.Hopper.Time), 1e-12)
	assert.InDelta(t, 8.571, float64(p.Times.BatchWait), 1e-3)
	assert.Equal(t, int(math.Ceil(20_000/float64(p.Target))), p.LightPieces)
	assert.True(t, p.Hopper.Conditions.Has(divider.LightRunOut))
	assert.Zero(t, dry.LightPieces)
	in.Line.Divider.HopperLeast = 160_000
	_, err = in.Solve()
	assert.Equal(t, "line.divider.hopper_least", reckon.InputErrors(err)[0].Field)
}

// At one stickiness every product of a line takes the same flour on its surface.
func TestDustingFlourGoesWithTheSurface(t *testing.T) {
	var first float64
	for i := range 3 {
		in := input(t, i)
		in.Order.Product.Stickiness = 2
		p, err := in.Solve()
		require.NoError(t, err)
		area := math.Pow(float64(p.Target), 2.0/3)
		if i == 0 {
			first = float64(p.Dusting[0].Flour.FlourPerPiece) / area
		}
		assert.InEpsilon(t, first, float64(p.Dusting[0].Flour.FlourPerPiece)/area, 1e-12)
		assert.Positive(t, p.Dusting[0].Slide.Slide, "each duster has its own flow and slide")
		assert.Greater(t, p.Dusting[1].Flour.FlourPerPiece, p.Dusting[0].Flour.FlourPerPiece)
		assert.Zero(t, p.Dusting[1].Slide.Slide)
	}
}

func TestPlanNeedsNoMemory(t *testing.T) {
	s, cl := straight(t)
	parts := make([]doughmath.Part, 0, 20)
	for i := range s.Orders[:3] {
		allocs := testing.AllocsPerRun(100, func() {
			if _, err := cl.Plan(&s.Orders[i], &s.Shift, parts); err != nil {
				t.Error(err)
			}
		})
		assert.Zero(t, allocs, s.Orders[i].Product.Name)
		var into line.PlanResult
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			if err := cl.PlanInto(&into, &s.Orders[i], &s.Shift, parts); err != nil {
				t.Error(err)
			}
		}))
		plan, err := cl.Plan(&s.Orders[i], &s.Shift, nil)
		require.NoError(t, err)
		assert.Equal(t, plan, into)
	}
	plan, _ := cl.Plan(&s.Orders[0], &s.Shift, nil)
	assert.Error(t, cl.PlanInto(&plan, &line.Order{}, &s.Shift, nil))
	assert.Equal(t, line.PlanResult{}, plan, "nothing is left of the plan before")
}

// Every number of a plan stands in its working, bit for bit, so that a person
// can ask of any of them where it came from.
func TestEveryNumberIsExplained(t *testing.T) {
	for i := range 3 {
		p, w, err := reckon.Explain(input(t, i))
		require.NoError(t, err)
		shown := map[float64]bool{0: true}
		for _, s := range w.Steps {
			shown[s.Value] = true
		}
		walkNumbers(reflect.ValueOf(p), "plan", func(path string, v float64) {
			if slices.ContainsFunc(beside, func(part string) bool { return strings.Contains(path, part) }) {
				return
			}
			if math.IsNaN(v) {
				return // a temperature that is not given, of a part that is not used
			}
			assert.True(t, shown[v], "%s of %s = %v is not in the working", path, input(t, i).Order.Product.Name, v)
		})
	}
}

// beside lists what stands beside the settings and is on no sheet: neighbours
// on the shelf, the quality of a fit, shares, and what repeats the formula.
var beside = []string{
	"Smaller", "Larger", "Drum.Drum", "Mark.G", "Ice.Cooling", ".Percent", ".Exact", ".Error", "Oil.OilPerPiece",
	"FlourShare", "WaterShare", "PerFactor", "Heat.Rise", "Heat.Rule", "Heat.Difference", "HeatIce", "FinalHydration",
}

func walkNumbers(v reflect.Value, path string, visit func(string, float64)) {
	if q, ok := v.Interface().(unit.Quantity); ok {
		visit(path, unit.Held(q))
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			walkNumbers(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walkNumbers(v.Index(i), path, visit)
		}
	case reflect.Float64:
		visit(path, v.Float())
	case reflect.Int:
		visit(path, float64(v.Int()))
	}
}

func TestPlanRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		bend func(*line.Plan)
		want []string // paths refused, or part of the sentence of a refusal
	}{
		{"dwell that no speed gives", func(in *line.Plan) { in.Order.Product.DwellLow, in.Order.Product.DwellHigh = 1500, 2100 }, []string{"dwell", "divider", "strokes/min"}},
		{"piece off the scale", func(in *line.Plan) { in.Order.Product.Baked = 5 }, []string{"mark on the handle", "can reach"}},
		{"mixer larger than the hopper allows", func(in *line.Plan) { in.Order.Product.HopperMax = 200 }, []string{"hopper time", "smaller mixer"}},
		{"gap beyond the rollers", func(in *line.Plan) { in.Line.Moulder.GapLow, in.Line.Moulder.GapHigh = 13, 14 }, []string{"no gap gives at least 2.5 turns", "13 mm to 14 mm"}},
		{"sheet that tears before it makes the turns", func(in *line.Plan) { in.Order.Product.TearLimit = 21 }, []string{"of this dough tears"}},
		{"speed step skips the window", func(in *line.Plan) { in.Line.Divider.StrokeStep = 50 }, []string{"step of the divider's speed"}},
		{"belt too slow", func(in *line.Plan) { in.Line.Belts[1].BeltSpeed = 20 }, []string{"moulder belt"}},
		{"water that no ice can give", func(in *line.Plan) {
			in.Order.Product.Friction = 60
			in.Order.Product.DoughTemp = unit.Celsius(2)
		}, []string{"ice"}},
		{"water that kills yeast", func(in *line.Plan) { in.Order.Product.DoughTemp = unit.Celsius(45) }, []string{"kill yeast that it touches", "flour and room would have to be 42 C° warmer together"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := input(t, 1)
			c.bend(&in)
			p, err := in.Solve()
			require.Error(t, err)
			var none *reckon.NoSolutionError
			assert.ErrorAs(t, err, &none)
			for _, part := range c.want {
				assert.Contains(t, err.Error(), part)
			}
			assert.Empty(t, cmp.Diff(line.PlanResult{}, p), "nothing is half planned")
		})
	}
}

func TestPlanNamesEveryBadValue(t *testing.T) {
	for _, c := range []struct {
		name string
		bend func(*line.Plan)
		want []string
	}{
		{"lanes that do not divide the pockets", func(in *line.Plan) { in.Line.Divider.Lanes[0].Across = 4 }, []string{"line.divider.lanes[0].across"}},
		{"the same lanes twice", func(in *line.Plan) {
			in.Line.Divider.Lanes[1].Across, in.Line.Divider.Lanes[1].Dough = 2, in.Line.Divider.Lanes[0].Dough
		}, []string{"line.divider.lanes[1].across"}},
		{"no lanes at all", func(in *line.Plan) { in.Line.Divider.Lanes = nil }, []string{"line.divider.lanes"}},
		{"no trials across three", func(in *line.Plan) { in.Order.Product.Across = 3 }, []string{"order.product.across"}},
		{"empty dwell window", func(in *line.Plan) { in.Order.Product.DwellHigh = in.Order.Product.DwellLow - 1 }, []string{"order.product.dwell_high"}},
		{"zero strokes", func(in *line.Plan) { in.Line.Divider.StrokesLow = 0 }, []string{"line.divider.strokes_low"}},
		{"strokes the wrong way round", func(in *line.Plan) { in.Line.Divider.StrokesHigh = 1 }, []string{"line.divider.strokes_high"}},
		{"NaN tap", func(in *line.Plan) { in.Shift.Tap = unit.Celsius(math.NaN()) }, []string{"shift.tap"}},
		{"no room temperature and infinite friction", func(in *line.Plan) {
			in.Shift.FlourTemp = unit.Temp{}
			in.Order.Product.Friction = unit.TempDelta(math.Inf(1))
		}, []string{"order.product.friction", "shift.flour_temp"}},
		{"steps that nothing can be set to", func(in *line.Plan) {
			in.Line.Divider.StrokeStep, in.Line.Moulder.GapStep = 1e-310, 1e-310
		}, []string{"line.divider.stroke_step", "line.moulder.gap_step"}},
		{"negative weight", func(in *line.Plan) { in.Order.Product.Baked = -5 }, []string{"order.product.baked"}},
		{"loss of all", func(in *line.Plan) { in.Order.Product.Loss.Bake.Percent = 100 }, []string{"order.product.loss.bake.percent"}},
		{"flours that do not make 100 %", func(in *line.Plan) { in.Order.Product.Formula[0].Percent = 70 }, []string{"order.product.formula"}},
		{"no water", func(in *line.Plan) {
			in.Order.Product.Formula = in.Order.Product.Formula[:1]
		}, []string{"order.product.formula"}},
		{"no route", func(in *line.Plan) { in.Order.Product.Route = "oven" }, []string{"order.product.route"}},
		{"a stamper that is not there", func(in *line.Plan) {
			in.Line.Stamper = line.Stamper{}
			p := &in.Order.Product
			p.Route, p.Turns, p.Aspect, p.Length = line.ToStamper, 0, 0, 0
		}, []string{"order.product.route"}},
		{"a moulder that is not there", func(in *line.Plan) { in.Line.Moulder = line.Moulder{} }, []string{"order.product.route"}},
		{"turns for the stamper", func(in *line.Plan) { in.Order.Product.Route = line.ToStamper }, []string{"order.product.turns"}},
		{"too few turns", func(in *line.Plan) { in.Order.Product.Turns = 0.3 }, []string{"order.product.turns"}},
		{"nothing ordered", func(in *line.Plan) { in.Order.Pieces = 0 }, []string{"order.pieces"}},
		{"waste without its basis", func(in *line.Plan) { in.Shift.WasteBasis = "" }, []string{"shift.waste_basis"}},
		{"mixer the wrong way round", func(in *line.Plan) { in.Shift.Mixer.Low = 1e6 }, []string{"shift.mixer.low"}},
		{"tolerance as large as the piece", func(in *line.Plan) { in.Order.Product.Tolerance = 100 }, []string{"order.product.tolerance"}},
		{"nameless belt at a stand", func(in *line.Plan) { in.Line.Belts[0] = line.Belt{} }, []string{"line.belts[0].across", "line.belts[0].name", "line.belts[0].belt_speed"}},
		{"no drums", func(in *line.Plan) { in.Line.Drums = []molder.Drum{} }, []string{"line.drums"}},
		{"equal marks", func(in *line.Plan) {
			for i := range in.Line.Divider.Lanes[0].Trials {
				in.Line.Divider.Lanes[0].Trials[i].Mark = 7
			}
		}, []string{"line.divider.lanes[0].trials"}},
		{"line and order both wrong", func(in *line.Plan) {
			in.Line.Divider.HopperCapacity = 0
			in.Order.Product.Density = 9
		}, []string{"line.divider.hopper_capacity", "order.product.density"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := input(t, 1)
			c.bend(&in)
			_, err := in.Solve()
			require.Error(t, err)
			got := map[string]bool{}
			for _, e := range reckon.InputErrors(err) {
				got[e.Field] = true
				assert.NotEmpty(t, e.Want)
				assertField(t, e.Field)
			}
			for _, field := range c.want {
				assert.True(t, got[field], "%s is not named: %v", field, err)
			}
		})
	}
}

// assertField checks that a path is that of a value of a plan: a station's own
// name for it must not come through.
func assertField(t *testing.T, path string) {
	t.Helper()
	at := reflect.TypeFor[line.Plan]()
	for name := range strings.SplitSeq(path, ".") {
		name, _, _ = strings.Cut(name, "[")
		for at.Kind() == reflect.Slice || at.Kind() == reflect.Pointer {
			at = at.Elem()
		}
		if !assert.Equal(t, reflect.Struct, at.Kind(), "%s goes on after a value", path) {
			return
		}
		field, ok := at.FieldByNameFunc(func(n string) bool {
			f, _ := at.FieldByName(n)
			tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			return tag == name
		})
		if !assert.True(t, ok, "%s: a plan has no such value", path) {
			return
		}
		at = field.Type
	}
}

// The parts that a line may have or not: what is wrong with them is named too.
func TestFittingsNameEveryBadValue(t *testing.T) {
	for _, c := range []struct {
		name  string
		order int
		bend  func(*line.Plan)
		want  []string
	}{
		{"oil valve the wrong way round", 2, func(in *line.Plan) { in.Line.Oil[1] = -1 }, []string{"line.oil_valves[1]"}},
		{"duster without trials", 2, func(in *line.Plan) { in.Line.Dusters[1].Scale.TrialCount = -3 }, []string{"line.flour_dusters[1].scale.trial_count"}},
		{"duster tried on pieces of no weight", 2, func(in *line.Plan) { in.Line.Dusters[1].Scale.TrialPiece = 0 }, []string{"line.flour_dusters[1].scale.trial_piece"}},
		{"dusters onto nothing, with slides that jam", 2, func(in *line.Plan) {
			in.Line.Dusters[0].Onto, in.Line.Dusters[0].Slide[1].Slide, in.Line.Dusters[1].Name, in.Line.Dusters[1].SlideStep = "floor", 0, "", 1
		}, []string{"line.flour_dusters[0].onto", "line.flour_dusters[0].slide[1].slide", "line.flour_dusters[1].name", "line.flour_dusters[1].slide_step"}},
		{"stickiness off the scale", 2, func(in *line.Plan) { in.Order.Product.Stickiness = -1 }, []string{"order.product.stickiness"}},
		{"drum at a stand", 2, func(in *line.Plan) { in.Order.Product.Rounding.Speed = 0 }, []string{"order.product.rounding.speed"}},
		{"first pair without its recovery", 2, func(in *line.Plan) { in.Line.Moulder.First.Recovery = 0 }, []string{"line.moulder.first_pair.recovery"}},
		{"rules that nobody made", 2, func(in *line.Plan) { in.Order.Product.Label.Rules = "moon-1969" }, []string{"order.product.label.rules"}},
		{"check without a standard deviation", 2, func(in *line.Plan) { in.Order.Product.Check.SD = 0 }, []string{"order.product.check.sd"}},
		{"check that never comes", 2, func(in *line.Plan) { in.Order.Product.Check.Every = 0 }, []string{"order.product.check.every"}},
		{"heat of another formula", 2, func(in *line.Plan) {
			in.Order.Product.Heat.Ingredients = in.Order.Product.Heat.Ingredients[:2]
		}, []string{"order.product.heat.ingredients"}},
		{"heat model by no name", 2, func(in *line.Plan) { in.Order.Product.Heat.Heats = "" }, []string{"order.product.heat.specific_heats"}},
		{"rollers without friction", 2, func(in *line.Plan) { in.Line.Moulder.First.Friction = 0 }, []string{"line.moulder.first_pair.friction"}},
		{"a negative height in front of the rollers", 2, func(in *line.Plan) { in.Line.Moulder.First.FlattenedTo = -1 }, []string{"line.moulder.first_pair.flattened_to"}},
		{"turns ratio that cannot be", 2, func(in *line.Plan) { in.Order.Product.TurnsRatio = 9 }, []string{"order.product.turns_ratio"}},
		{"tear limit that cannot be", 2, func(in *line.Plan) { in.Order.Product.TearLimit = 900 }, []string{"order.product.tear_limit"}},
		{"chain without heights", 2, func(in *line.Plan) { in.Line.Moulder.Chain.Heights = nil }, []string{"line.moulder.curling_chain.heights"}},
		{"board without its guides", 2, func(in *line.Plan) { in.Line.Moulder.Guides = nil }, []string{"line.moulder.side_guides"}},
		{"guides that pull the piece", 2, func(in *line.Plan) { in.Line.Moulder.Guides.LengthRatio = 9 }, []string{"line.moulder.side_guides.length_ratio"}},
		{"board without spring", 2, func(in *line.Plan) { in.Line.Moulder.Board.Spring = 0 }, []string{"line.moulder.pressure_board.spring"}},
		{"board at a stand", 2, func(in *line.Plan) { in.Line.Moulder.Board.Belt = 0 }, []string{"line.moulder.pressure_board.belt"}},
		{"pan as flat as a sheet", 2, func(in *line.Plan) { in.Order.Product.Panned.Pan.Depth = 0 }, []string{"order.product.panned.pan.depth"}},
		{"die by no name", 0, func(in *line.Plan) { in.Line.Stamper.Die = "hammer" }, []string{"line.stamper.die"}},
		{"a still die that spins", 0, func(in *line.Plan) { in.Line.Stamper.Die = molder.StillDie }, []string{"line.stamper.spin"}},
		{"a turning die that does not", 0, func(in *line.Plan) { in.Line.Stamper.Spin = molder.SpinOff }, []string{"line.stamper.spin"}},
		{"a stamper in no mode", 0, func(in *line.Plan) { in.Line.Stamper.Mode = "" }, []string{"line.stamper.mode"}},
		{"a route to a stamper that is off", 0, func(in *line.Plan) { in.Line.Stamper.Mode = molder.OffStamp }, []string{"order.product.route"}},
		{"spin and head without a die", 0, func(in *line.Plan) { in.Line.Stamper.Die, in.Line.Stamper.Around = "", 8 }, []string{"line.stamper.spin", "line.stamper.around"}},
		{"no carrier", 2, func(in *line.Plan) { in.Line.FinalProof.Carrier = "" }, []string{"line.final_proof.carrier"}},
		{"nothing on a carrier", 2, func(in *line.Plan) { in.Order.Product.PerCarrier = 0 }, []string{"order.product.per_carrier"}},
		{"preferment larger than the dough", 1, func(in *line.Plan) { in.Order.Product.Preferments[0].Amount = 130 }, []string{"order.product.preferments[0].amount"}},
		{"preferment from the freezer of a laboratory", 1, func(in *line.Plan) { in.Order.Product.PrefermentTemp = unit.Celsius(-90) }, []string{"order.product.preferment_temp"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := input(t, c.order)
			c.bend(&in)
			_, err := in.Solve()
			require.Error(t, err)
			got := map[string]bool{}
			for _, e := range reckon.InputErrors(err) {
				got[e.Field] = true
				assertField(t, e.Field)
			}
			for _, field := range c.want {
				assert.True(t, got[field], "%s is not named: %v", field, err)
			}
		})
	}
}

// The board is set for the length wanted: rolled out between the guides, the
// piece has the volume that it came with.
func TestShapingKeepsTheVolume(t *testing.T) {
	for i := 1; i <= 2; i++ {
		in := input(t, i)
		p, err := in.Solve()
		require.NoError(t, err)
		d, l := float64(p.Board.Diameter), float64(p.Guides.Guides)
		assert.InEpsilon(t, float64(p.Target)/float64(in.Order.Product.Density)*1000, math.Pi/4*d*d*l, 1e-9)
		assert.InEpsilon(t, float64(in.Order.Product.Length), float64(p.Guides.PieceLength), 1e-12)
		assert.Equal(t, []string{"low", "high"}[i-1], p.Chain.Name)
	}
}

func TestCare(t *testing.T) {
	s, _ := demo(t)
	care, err := s.Line.Care(nil)
	require.NoError(t, err)
	require.Len(t, care, 4)
	for _, c := range care {
		assert.Less(t, c.Warmest.Celsius(), 45.0, "lukewarm, never hot")
	}
	s.Line.Parts[1].Part = "chimney"
	_, err = s.Line.Care(nil)
	assert.ErrorContains(t, err, "line.parts[1].part")
}

func TestPieceBelowTheLabelIsTold(t *testing.T) {
	in := input(t, 2)
	p, err := in.Solve()
	require.NoError(t, err)
	assert.False(t, p.Label.Conditions.Has(divider.BelowLabel))
	in.Order.Product.Label.SD = 12 // too wide for the mean to be the nominal weight
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Greater(t, p.Label.Dough, p.Piece.Dough)
	assert.Equal(t, p.Label.Dough, p.Target, "what the label asks for is scaled")
	assert.GreaterOrEqual(t, p.Mark.Expected, p.Label.Dough)
	assert.False(t, p.Label.Conditions.Has(divider.BelowLabel))
	in = input(t, 2)
	in.Order.Product.Drift, in.Order.Product.Label.Drift = line.HopperDrift{}, 0
	in.Order.Product.Tolerance = 60
	in.Line.Divider.MarkStep = 3
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 36.0, p.Mark.Set)
	in.Line.Divider.MarkHigh = 36 // as far as it goes
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 36.0, p.Mark.Set)
	in.Line.Divider.MarkHigh = 40
	assert.Greater(t, p.Mark.Expected, p.Label.Dough)
	assert.False(t, p.Label.Conditions.Has(divider.BelowLabel))
	in.Line.Divider.MarkStep = 11 // the nearest mark is 33, which is too light, and the handle does not reach 44
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 33.0, p.Mark.Set)
	assert.True(t, p.Label.Conditions.Has(divider.BelowLabel), "the piece is heavy enough, what the handle gives is not")
}

// A handle that cannot be set near enough to the piece is told, and by how much.
func TestMarkWithinTheTolerance(t *testing.T) {
	in := input(t, 0)
	in.Line.Divider.MarkStep = 5
	_, err := in.Solve()
	assert.ErrorContains(t, err, "a step of 5 marks weighs 15.61 g")
	in.Line.Divider.MarkStep = 0.5
	in.Order.Product.Tolerance = 0.9
	_, err = in.Solve()
	assert.ErrorContains(t, err, "one step of the handle weighs 1.561 g", "nor can it follow the dough in the hopper")
	in.Order.Product.Drift = line.HopperDrift{}
	p, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, p.Check.Conditions.Has(divider.WideInterval), "a check as coarse as the tolerance says so, and is not narrowed")
	assert.Less(t, p.Band.Low, p.PieceLow)
}

// While the divider waits for dough the proofer stands with it, the oil is
// shut and nothing is dusted; and a batch is scaled only once it is mixed.
func TestDividerThatWaits(t *testing.T) {
	in := input(t, 0)
	usual, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, usual.Dwell.Dwell, usual.LongestDwell)
	in.Order.Product.DwellHigh, in.Shift.Mixer.Cycle = unit.Minutes(20), unit.Minutes(26)
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Positive(t, p.Times.BatchWait, "the hopper takes no batch that lasts 26 min")
	assert.InDelta(t, float64(p.Dwell.Dwell+p.Times.BatchWait), float64(p.LongestDwell), 1e-9)
	assert.True(t, p.Conditions.Has(reckon.RateLimited))
	assert.InEpsilon(t, float64(usual.Oil.PerRun)*float64(usual.Strokes/p.Strokes), float64(p.Oil.PerRun), 1e-3, "open while pieces are scaled, shut while the divider waits")
	assert.InEpsilon(t, float64(usual.Dusting[0].Flour.PerRun), float64(p.Dusting[0].Flour.PerRun), 1e-3)
	assert.InDelta(t, float64(p.Dusting[0].Flour.FlourPerPiece)*float64(p.Batch.PiecesMade), float64(p.Dusting[0].Flour.PerRun), 0.01*float64(p.Dusting[0].Flour.PerRun))
	for _, waste := range []unit.Percent{0, 1, 20} {
		for i := range 3 {
			in := input(t, i)
			in.Shift.Mixer.Cycle = unit.Minutes(9) // with a fifth wasted, a batch of loaves is soon scaled
			in.Shift.Waste, in.Shift.WasteBasis = waste, doughmath.WasteOnOrder
			p, err := in.Solve()
			require.NoError(t, err)
			if in.Line.Divider.HopperLeast = 0; true {
				dry, err := in.Solve()
				require.NoError(t, err)
				assert.InEpsilon(t, float64(dry.Times.BatchScaling), float64(dry.Hopper.Time), 1e-12, "waste takes no strokes, and no time in the hopper")
			}
			ready := float64(p.Times.LastMix + p.Times.FirstStroke)
			assert.InDelta(t, ready+float64(p.Times.BatchScaling), float64(p.Times.LastStroke+p.Rate.Beat), float64(p.Rate.Beat), "the last batch is scaled after it is mixed")
		}
	}
}

// The mixer is one of the machines that set the pace: where the window holds
// its speed nothing waits, and no output is lost by running no faster.
func TestMixerSetsThePace(t *testing.T) {
	in := input(t, 0)
	in.Order.Product.HopperMax = unit.Minutes(60)
	in.Shift.Mixer.High = 62_700 // 1208 pieces a batch, as in the demo
	in.Shift.Mixer.Cycle = unit.Minutes(24)
	p, w, err := reckon.Explain(in)
	require.NoError(t, err)
	require.Equal(t, 1208, p.Batch.PiecesPerBatch)
	// By hand: 1208 pieces / 2 across = 604 strokes in 24 min are 25.17 strokes/min, on the step of 0.5: 25.
	assert.InDelta(t, 25.1667, float64(p.MixerStrokes), 1e-4)
	assert.Equal(t, unit.StrokesPerMinute(25), p.Strokes)
	assert.Equal(t, "mixer", p.StrokesLimit)
	assert.Zero(t, p.Times.BatchWait)
	assert.Equal(t, p.Dwell.Dwell, p.LongestDwell)
	assert.InDelta(t, 140/25.0*60, float64(p.LongestDwell), 1e-9)
	assert.InDelta(t, 50*float64(p.Target)*60/1000, float64(p.Rate.DoughRate), 1e-9, "the rate follows the speed")
	assert.True(t, p.Conditions.Has(reckon.RateLimited))
	assert.Contains(t, w.String(), "nothing waits")

	// A stepless drive runs at that very speed, and a single batch waits for none.
	in.Line.Divider.StrokeStep = 0
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, p.MixerStrokes, p.Strokes)
	assert.Zero(t, p.Times.BatchWait)
	in.Order.Pieces, in.Order.Spare = 1000, 0
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, p.Speed.High, p.Strokes)
	assert.Zero(t, p.MixerStrokes)
}

// Whatever the mixer's cycle: a plan keeps every piece within the dwell window,
// waits only if no speed of the window is slow enough, and never stands for
// longer than the fastest speed would.
func TestPaceOfEveryCycle(t *testing.T) {
	var steady, waiting, refused int
	for cycle := 10.0; cycle < 60; cycle += 0.5 {
		for _, dwell := range []float64{9, 14, 40} {
			in := input(t, 0)
			in.Order.Product.HopperMax, in.Order.Product.DwellHigh = unit.Minutes(70), unit.Minutes(dwell)
			in.Shift.Mixer.High, in.Shift.Mixer.Cycle = 62_700, unit.Minutes(cycle)
			p, err := in.Solve()
			if err != nil {
				refused++
				var none *reckon.NoSolutionError
				require.ErrorAs(t, err, &none)
				// Refused only if the slowest speed is too fast for the mixer: by hand, a wait met while it runs.
				slowest := math.Ceil(max(12, 140/dwell)*2) / 2 // on the step of the drive
				require.Greater(t, cycle, 604/slowest, "%v min", cycle)
				continue
			}
			require.LessOrEqual(t, float64(p.LongestDwell), dwell*60*(1+1e-9))
			require.False(t, slices.ContainsFunc(reckon.Remarks(p), func(r reckon.Remark) bool { return r.Word == "dwell-outside-window" }))
			if p.Times.BatchWait == 0 {
				steady++
				continue
			}
			waiting++
			require.Less(t, p.MixerStrokes, p.Speed.Low+0.5, "no step of the window is slow enough")
			require.LessOrEqual(t, float64(p.LongestDwell), 5*60+cycle*60-604.0/28*60+1e-6, "never longer than at the fastest, 28 strokes/min")
		}
	}
	assert.Positive(t, steady)
	assert.Positive(t, waiting)
	assert.Positive(t, refused)
}

// Pieces that would stay too long are no plan as asked: it is refused, with
// what holds it and what would do.
func TestPiecesThatStayTooLongAreRefused(t *testing.T) {
	in := input(t, 0)
	in.Shift.Mixer.Cycle = unit.Hours(1)
	p, err := in.Solve()
	assert.Zero(t, p.Piece)
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	// By hand: 1208 pieces and a head of 6000/51.332 = 116.9 are cut in 25 min at 26.50 strokes/min, on the step 26.5. A batch
	// takes 604/26.5 = 22.79 min, so 37.21 min of waiting; 140 trays take 5.28 min: 42.49 min.
	for _, want := range []string{"a dwell of 5 min to 9 min", "the next after 1 h", "up to 42 min 29 s", "no slower: hopper time", "nothing waits at 26.5 strokes/min"} {
		assert.ErrorContains(t, err, want)
	}
	in.Line.Divider.StrokeStep = 2 // the next step above
	_, err = in.Solve()
	assert.ErrorContains(t, err, "nothing waits at 28 strokes/min (no slower: hopper time)")
}

// A plain round piece needs neither moulder nor stamper, and a line without
// either makes it: neither limits the speed or sets a caution.
func TestPlainRoundPiece(t *testing.T) {
	in := input(t, 0)
	in.Line.Controls, in.Line.Changing = nil, line.Changing{}
	in.Order.Product.Route = line.ToPanning
	in.Line.Stamper, in.Line.Moulder = line.Stamper{}, line.Moulder{}
	in.Line.Belts = append(in.Line.Belts, line.Belt{Name: "tray belt", BeltSpeed: 50, Route: line.ToPanning, Across: 1, EvenMerge: true, LeastGap: 20})
	p, err := in.Solve()
	require.NoError(t, err)
	// By hand: a ball of 44.94 mm every 64.94 mm at 50 mm/s are 46.2 pieces/min, 23.1 strokes/min two across.
	assert.Equal(t, "tray belt", p.Speed.HighLimit)
	assert.InDelta(t, 23.1, float64(p.Speed.High), 0.05)
	assert.Zero(t, p.Stamp)
	assert.Zero(t, p.Gap)
	assert.False(t, p.Cautions.Has(reckon.Interlocks), "there is no stamper's cover")
	in.Order.Product.Length, in.Order.Product.Panned = 100, &line.Panned{}
	_, err = in.Solve()
	assert.ErrorContains(t, err, "order.product.length is 100 mm: want nothing: leave it out for a piece that is not moulded")
	assert.ErrorContains(t, err, "order.product.panned")
	in.Order.Product.Route = "oven"
	_, err = in.Solve()
	assert.ErrorContains(t, err, `want "stamper", "moulder" or "panning"`)
}

// A pocket has a size, and the grown piece must fit it.
func TestPocketThatIsTooSmall(t *testing.T) {
	in := input(t, 2)
	p, err := in.Solve()
	require.NoError(t, err)
	// By hand: a ball, grown by a fifth and 6 % wider than a ball.
	grown := 1.06 * math.Cbrt(6*1.2*float64(p.Target)/1.05/math.Pi*1000)
	assert.InDelta(t, grown, float64(p.Pocket.Diameter), 1e-9)
	in.Line.Pocket.Width = 138
	_, err = in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "which grows to "+unit.Length(grown).String()+" (pocket 138 mm, least gap 3 mm)")
	in.Line.Pocket.Width = 140
	_, err = in.Solve()
	require.NoError(t, err)
	in.Order.Product.Pocketed.Growth = 0.5
	in.Line.Pocket.Gap = 70
	_, err = in.Solve()
	assert.ErrorContains(t, err, "line.pocket.gap")
	assert.ErrorContains(t, err, "order.product.pocketed.growth")
	in.Order.Product.Pocketed = nil
	_, err = in.Solve()
	assert.ErrorContains(t, err, "order.product.pocketed is missing")
	in = input(t, 2)
	in.Line.Pocket = proof.Pocket{}
	_, err = in.Solve()
	assert.ErrorContains(t, err, "order.product.pocketed is given")
}

func TestOneStroke(t *testing.T) {
	in := input(t, 0)
	in.Order.Pieces, in.Order.Spare = 2, 0
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Positive(t, p.Oil.PerRun)
}

// Bad values of stations that come one after the other are told in one go.
func TestBadValuesOfManyStationsAtOnce(t *testing.T) {
	in := input(t, 2)
	p := &in.Order.Product
	p.Across, p.HopperMax, p.DwellLow, p.FinalStay, p.Check.SD, p.Label.Rules, p.Basis, p.Baked = 7, 0, 0, -60, -1, "moon", "twice", -1
	in.Order.Pieces = -4
	bad := func(l func(*line.Line)) map[string]bool {
		in := in
		l(&in.Line)
		_, err := in.Solve()
		got := map[string]bool{}
		for _, e := range reckon.InputErrors(err) {
			assert.False(t, got[e.Field], "%s is told twice", e.Field)
			got[e.Field] = true
		}
		return got
	}
	of := []string{
		"order.product.across", "order.product.hopper_max", "order.product.dwell_low", "order.product.final_stay", "order.product.check.sd",
		"order.product.label.rules", "order.product.friction_basis", "order.product.baked", "order.pieces",
	}
	got := bad(func(*line.Line) {})
	for _, field := range of {
		assert.True(t, got[field], field)
	}
	got = bad(func(l *line.Line) {
		l.Divider.StrokesLow, l.Moulder.Recovery, l.CupRatio.Low, l.Rounder.Rows, l.Stamper.Around = 0, 0.5, 5, 101, -3
		l.Oil = []unit.VolumeRate{-1}
	})
	for _, field := range append(of, "line.divider.strokes_low", "line.moulder.recovery", "line.cup_ratio.low", "line.rounder.rows", "line.stamper.around", "line.oil_valves[0]") {
		assert.True(t, got[field], field)
	}
}

// A check of the divider just set hardly ever orders a move, and what it
// leaves alone is legal. The sheet's band is the one by which next-mark judges.
func TestLeaveTheHandle(t *testing.T) {
	for i := range 3 {
		in := input(t, i)
		for _, step := range []float64{in.Line.Divider.MarkStep, 0} {
			in.Line.Divider.MarkStep = step
			p, err := in.Solve()
			require.NoError(t, err)
			b := &p.Band
			assert.LessOrEqual(t, b.NeedlessChance, divider.NeedlessMoves+1e-9)
			rng, moves := rand.New(rand.NewPCG(uint64(i), 20)), 0
			const checks = 20_000 // of single pieces, the divider as planned
			for range checks {
				mean := 0.0
				for range p.Check.Pieces {
					mean += (float64(p.Mark.Expected) + float64(in.Order.Product.Check.SD)*rng.NormFloat64()) / float64(p.Check.Pieces)
				}
				if unit.Mass(mean) < b.Low || unit.Mass(mean) > b.High {
					moves++
				}
			}
			assert.Less(t, float64(moves)/checks, 0.055)
			if step > 0 {
				assert.Less(t, float64(moves)/checks, 0.05, "the demo's own sheets")
			}
			assert.False(t, b.Nearer)
			assert.False(t, p.Label.Conditions.Has(divider.BelowLabel))
			assert.LessOrEqual(t, float64(b.Noise), float64(p.Check.HalfWidth), "Student's t asks for more than a known scatter")
			if p.Label.Dough > 0 {
				legal := in.Order.Product.Label
				law, err := divider.TargetWeight{
					Rules: legal.Rules, Nominal: in.Order.Product.Baked, SD: legal.SD, FirstShare: legal.FirstShare, SecondShare: legal.SecondShare, Drift: legal.Drift,
					Fermentation: in.Order.Product.Loss.Fermentation, Bake: in.Order.Product.Loss.Bake, Cooling: in.Order.Product.Loss.Cooling, Combine: in.Order.Product.Loss.Combine,
				}.Solve()
				require.NoError(t, err)
				assert.GreaterOrEqual(t, float64(b.Low), float64(law.Dough)-1e-9, "a mean that is left alone is legal")
			}
			trials := divider.MarkFit{Trials: in.Line.Divider.Lanes[0].Trials, Confidence: 95, Shape: divider.Straight, Weighting: divider.ByPieces}
			for _, l := range in.Line.Divider.Lanes {
				if l.Across == in.Order.Product.Across {
					trials.Trials = l.Trials
				}
			}
			fit, err := trials.Solve()
			require.NoError(t, err)
			next := divider.NextMark{
				Calibration: fit.Calibration, Mark: p.Mark.Set, Pieces: p.Check.Pieces, Target: b.Aim, MarkStep: step, MarkLow: in.Line.Divider.MarkLow, MarkHigh: in.Line.Divider.MarkHigh,
				Expected: p.Mark.Expected, SD: in.Order.Product.Check.SD, Needless: divider.NeedlessMoves,
			}
			for at := -3.0; at <= 3; at += 0.01 {
				next.Weight = p.Mark.Expected + unit.Mass(at)*b.Noise
				out, err := next.Solve()
				require.NoError(t, err)
				inside := next.Weight >= b.Low && next.Weight <= b.High
				require.Equal(t, inside, out.Action != divider.Move, "%v of %v to %v: %v", next.Weight, b.Low, b.High, out.Action)
			}
		}
	}
}

// With preferments only the water of the final mix can carry ice, and with a
// heat balance the plan goes by it and shows the rule beside it.
func TestPrefermentsAndHeat(t *testing.T) {
	p, err := input(t, 1).Solve()
	require.NoError(t, err)
	assert.Equal(t, 4, p.Water.Factors)
	var final, sponge unit.Mass
	for _, part := range p.Split.Parts {
		switch {
		case part.Mix == doughmath.FinalMix && part.Name == "water":
			final += part.Mass
		case part.Mix == "sponge":
			sponge += part.Mass
		}
	}
	assert.InDelta(t, float64(final), float64(p.WaterMass), 1e-6)
	assert.Greater(t, sponge, unit.Mass(0))

	in := input(t, 2)
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, p.HeatWater.WaterTemp, p.WaterTemp)
	assert.InDelta(t, 26, p.Heat.DoughTemp.Celsius(), 1e-9)
	assert.NotEqual(t, p.Water.WaterTemp, p.WaterTemp)
	// The friction that the balance is worth makes the rule agree with it.
	in.Order.Product.Friction = p.Heat.Once
	again, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, p.WaterTemp.Celsius(), again.Water.WaterTemp.Celsius(), 1e-9)
	assert.Positive(t, p.HeatIce.Ice)
	in.Order.Product.Heat.IceTemp = unit.Temp{}
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Positive(t, p.Ice.Ice, "without the temperature of the ice, by the trade's rule")

	// A sponge at its own temperature takes part in the balance.
	in = input(t, 1)
	in.Order.Product.Heat = &line.Heat{
		Heats: doughmath.TradeHeats, HydrationHeat: doughmath.HydrationHeat, Work: 25,
		Ingredients: []line.HeatOf{
			{Kind: doughmath.BreadFlour, Temp: unit.Celsius(22)},
			{Kind: doughmath.WaterKind},
			{Kind: doughmath.OtherKind, Temp: unit.Celsius(5), SpecificHeat: 3.9},
			{Kind: doughmath.OtherKind, Temp: unit.Celsius(5), SpecificHeat: 3.5},
			{Kind: doughmath.OtherKind, Temp: unit.Celsius(22), SpecificHeat: 0.9},
			{Kind: doughmath.OtherKind, Temp: unit.Celsius(22), SpecificHeat: 1.3},
			{Kind: doughmath.OtherKind, Temp: unit.Celsius(22), SpecificHeat: 2},
		},
	}
	in.Shift.FlourTemp = unit.Celsius(22)
	warm, err := in.Solve()
	require.NoError(t, err)
	// Both count the sponge, so that the friction which the balance is worth makes the rule agree here too.
	assert.Equal(t, warm.Water.Factors, warm.Heat.Factors)
	in.Order.Product.Friction, in.Order.Product.Basis = warm.Heat.PerFactor, doughmath.FrictionPerFactor
	again, err = in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, warm.WaterTemp.Celsius(), again.Water.WaterTemp.Celsius(), 1e-9)
	// The flour of the sponge gave its heat of hydration off hours ago.
	flour := unit.Mass(0)
	for _, part := range warm.Split.Parts {
		if part.Mix == doughmath.FinalMix && part.Name == in.Order.Product.Formula[0].Name {
			flour += part.Mass
		}
	}
	assert.InDelta(t, float64(doughmath.HydrationHeat)*float64(flour)/1000, float64(warm.Heat.HeatOfHydration), 1e-9)
	in.Order.Product.PrefermentTemp = unit.Celsius(10)
	cold, err := in.Solve()
	require.NoError(t, err)
	assert.Greater(t, cold.WaterTemp.Celsius(), warm.WaterTemp.Celsius())
	in.Order.Product.PrefermentTemp = unit.Temp{}
	_, err = in.Solve()
	assert.ErrorContains(t, err, "order.product.preferment_temp")
}

func TestScenarioReportsAllAtOnce(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	text := string(data)
	for _, swap := range [][2]string{
		{`"hopper_capacity": "160 kg"`, `"hopper_capacity": "160"`},
		{`"flour_temp": "22 °C"`, `"flour_temp": "22 kg"`},
		{`"interval": "fieller"`, `"intervall": "fieller"`},
		{`"pieces": 6000`, `"pieces": "many"`},
	} {
		require.Contains(t, text, swap[0])
		text = strings.Replace(text, swap[0], swap[1], 1)
	}
	_, err = line.ReadScenario([]byte(text))
	var got []string
	for _, e := range reckon.InputErrors(err) {
		got = append(got, e.Field)
	}
	assert.ElementsMatch(t, []string{"line.divider.hopper_capacity", "shift.flour_temp", "line.divider.intervall", "line.divider.interval", "orders[0].pieces"}, got)
}

func TestPlanAll(t *testing.T) {
	s, _ := demo(t)
	s.Orders[3].Product.DwellLow, s.Orders[3].Product.DwellHigh = unit.Minutes(25), unit.Minutes(35)
	plans, err := s.PlanAll()
	require.NoError(t, err)
	require.Len(t, plans, 4)
	for _, p := range plans[:3] {
		assert.NoError(t, p.Refused)
		assert.NotZero(t, p.Plan.Piece.Dough)
	}
	var none *reckon.NoSolutionError
	assert.True(t, errors.As(plans[3].Refused, &none))
	assert.Equal(t, "Slow stick", plans[3].Order.Product.Name)

	s.Shift.Tap = unit.Temp{}
	s.Orders[1].Product.Density = 0
	_, err = s.PlanAll()
	in := reckon.InputErrors(err)
	require.Len(t, in, 2, "the tap is told once: %v", err)
	assert.Equal(t, "shift.tap", in[0].Field)
	assert.Equal(t, "orders[1].product.density", in[1].Field)

	s.Line.Divider.HopperCapacity = 0
	_, err = s.PlanAll()
	assert.ErrorContains(t, err, "line.divider.hopper_capacity")
	assert.ErrorContains(t, err, "orders[1].product.density")

	_, err = (&line.Scenario{}).PlanAll()
	assert.ErrorContains(t, err, "orders")
	s.Orders = nil // what is wrong with the line is told without any
	_, err = s.PlanAll()
	assert.ErrorContains(t, err, "orders is empty")
	assert.ErrorContains(t, err, "line.divider.hopper_capacity")
}

func TestWaterMassWithoutIce(t *testing.T) {
	in := input(t, 0)
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, p.IceToWeigh, "water at 16 °C from a tap at 15 °C needs no ice")
	assert.Equal(t, p.WaterMass, p.WaterToWeigh+p.HotToWeigh)
	assert.True(t, p.Cautions.Has(reckon.Interlocks), "the stamper's cover")
}

// Goroutines share a commissioned line.
func TestPlanConcurrently(t *testing.T) {
	s, cl := demo(t)
	want, err := cl.Plan(&s.Orders[1], &s.Shift, nil)
	require.NoError(t, err)
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			got, err := cl.Plan(&s.Orders[1], &s.Shift, nil)
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Error("another plan than alone", err)
			}
		})
	}
	group.Wait()
}

func FuzzPlan(f *testing.F) {
	f.Add(62.0, 2.5, 360.0, 600.0, 1.06, 2.5, 22.0, 15.0, 27.0, 16.0, 4000, 1.0)
	f.Add(-1.0, 0.0, math.NaN(), 1e300, 0.0, 99.0, -300.0, math.Inf(1), 1e9, -1e9, -5, 100.0)
	s, cl := demo(f)
	f.Fuzz(func(t *testing.T, baked, tolerance, dwellLow, dwellHigh, density, turns, flour, tap, dough, friction float64, pieces int, waste float64) {
		o, shift := s.Orders[1], s.Shift
		o.Pieces = pieces
		p := &o.Product
		p.Baked, p.Tolerance = unit.Mass(baked), unit.Mass(tolerance)
		p.DwellLow, p.DwellHigh = unit.Duration(dwellLow), unit.Duration(dwellHigh)
		p.Density, p.Turns = unit.Density(density), turns
		p.DoughTemp, p.Friction = unit.Celsius(dough), unit.TempDelta(friction)
		shift.FlourTemp, shift.Tap, shift.Waste = unit.Celsius(flour), unit.Celsius(tap), unit.Percent(waste)
		plan, err := cl.Plan(&o, &shift, nil)
		if err != nil {
			return
		}
		if _, err := json.Marshal(plan); err != nil {
			t.Fatalf("a plan that cannot be written: %v", err)
		}
	})
}

// What can be read is looked at in the same go as what cannot, and what is
// wrong with the line is told once, however many orders run on it.
func TestScenarioTellsAllAtOnce(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	text := string(data)
	for _, swap := range [][2]string{
		{`"hopper_capacity": "160 kg"`, `"hopper_capacity": "160"`},
		{`"tap": "15 °C"`, `"tap": "150 °F"`},
		{`"interval": "fieller"`, `"interval": "feiler"`},
	} {
		require.Contains(t, text, swap[0])
		text = strings.Replace(text, swap[0], swap[1], 1)
	}
	_, err = line.ReadScenario([]byte(text))
	assert.EqualError(t, err, `scenario: line.divider.hopper_capacity is "160": want a unit after the number; a number and a unit (g, kg, mg, t, oz, lb)
line-plan: line.divider.interval is "feiler": want "fieller" or "delta"
line-plan: shift.tap is 150 °F: want a temperature from 0 °C to 40 °C`)

	s, _ := demo(t)
	s.Line.Divider.Interval = "feiler"
	_, err = s.PlanAll()
	assert.EqualError(t, err, `line-plan: line.divider.interval is "feiler": want "fieller" or "delta"`)
	_, err = line.ReadScenario([]byte(`{"title":"a","line":{},"shift":{},"orders":[]}`))
	assert.ErrorContains(t, err, "line.divider is missing: want an object with strokes_low, strokes_high")
}

// Where the hopper time forbids the mixer's pace the divider still runs as
// slowly as it may: no output is lost, and the pieces stay the shorter.
func TestPaceWithinTheHopperTime(t *testing.T) {
	in := input(t, 1)
	in.Shift.Mixer.High, in.Shift.Mixer.Cycle = 62_700, unit.Minutes(24)
	in.Order.Product.DwellHigh = unit.Minutes(12)
	in.Line.Divider.HopperLeast = 0 // a head would stand while the divider waits, for longer than it may
	p, err := in.Solve()
	require.NoError(t, err, "11 min 7 s at 20.5 strokes/min; at 23 it would be 12 min 31 s")
	assert.Equal(t, unit.StrokesPerMinute(20.5), p.Strokes)
	assert.Equal(t, "mixer", p.StrokesLimit)
	assert.Equal(t, unit.Minutes(24), p.Times.BatchInterval)
	// By hand: 404 strokes at 20.5 are 1182.4 s, so 257.6 s of waiting; 140 trays at 20.5 are 409.8 s.
	assert.InDelta(t, 409.8+257.6, float64(p.LongestDwell), 0.1)
	assert.LessOrEqual(t, p.Hopper.Time, in.Order.Product.HopperMax)
}

// A head of dough stands while the divider waits: the pace leaves it the time, whether the
// hopper time or the weight that it loses sets that.
func TestPaceWithAHeadOfDough(t *testing.T) {
	in := input(t, 1)
	in.Shift.Mixer.High, in.Shift.Mixer.Cycle = 62_700, unit.Minutes(24)
	in.Order.Product.DwellHigh, in.Order.Product.HopperMax = unit.Minutes(12.5), unit.Minutes(26)
	p, err := in.Solve()
	require.NoError(t, err)
	require.Equal(t, 808, p.Batch.PiecesPerBatch)
	// By hand: 404 strokes in 24 min are 16.83 strokes/min, and (808 + 6000/69.938)/2 = 446.9 in 26 min are 17.19. Faster than
	// the mixer the tail of a batch stands for 24 min, and the head of 42.9 strokes is cut in the 2 min that are left
	// at 21.45 strokes/min, on the step 21.5: 42.9/21.5 + 24 = 25.995 min.
	assert.Equal(t, unit.StrokesPerMinute(21.5), p.Strokes)
	assert.Equal(t, "mixer", p.StrokesLimit)
	assert.InDelta(t, 25.995*60, float64(p.Hopper.Time), 0.05)
	assert.False(t, p.Hopper.Conditions.Has(divider.LongHopperTime))
	// 140 trays at 21.5 take 6.512 min, and one wait is 24 - 404/21.5 = 5.209 min.
	assert.InDelta(t, 11.721*60, float64(p.LongestDwell), 0.05)

	// At 0.1 %/min the share 0.026/1.026 of the weight is lost in 26 min.
	in.Order.Product.HopperMax = unit.Minutes(60)
	in.Order.Product.Drift.DriftLimit = p.Mark.Expected * 0.026 / 1.026
	drifts, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, p.Strokes, drifts.Strokes)
	assert.LessOrEqual(t, -drifts.Drift.Drift, drifts.DriftLimit)
}

// The loaf of the demo gets a sheet that a baker would recognise, and no advice
// that contradicts it.
func TestLoafIsSheetedAsThinAsItHolds(t *testing.T) {
	in := input(t, 2)
	p, err := in.Solve()
	require.NoError(t, err)
	assert.LessOrEqual(t, p.Roll.Thickness, unit.Length(10))
	assert.GreaterOrEqual(t, p.Roll.Thickness, in.Order.Product.TearLimit)
	assert.GreaterOrEqual(t, p.Roll.Turns, in.Order.Product.Turns)
	assert.InEpsilon(t, p.Gap.Turns, p.Roll.Turns, 1e-12)
	assert.LessOrEqual(t, p.Roll.Width, p.Guides.Guides, "the board makes no roll shorter")
	assert.Equal(t, "tear", p.Gap.Limit)
	for _, remark := range reckon.Remarks(p) {
		assert.NotContains(t, []string{"many-turns", "deep-reduction", "sheet-may-tear"}, remark.Word)
	}

	in.Order.Product.TearLimit = 0
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.TearUntried, p.Gap.Conditions)
	assert.GreaterOrEqual(t, p.Roll.Turns, in.Order.Product.Turns, "at least, not the nearest step")

	// A ball of 118 mm in front of the rollers takes more than two pairs give it.
	in.Line.Moulder.First.FlattenedTo = 0
	in.Order.Product.TearLimit = 9
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, "reduction", p.Gap.Limit)
	assert.Greater(t, p.Roll.Thickness, unit.Length(10))
	assert.True(t, p.Rollers.Conditions.Has(molder.NoGrip), "rollers of 200 mm do not draw in a ball of 118 mm")
}

// The rounder's speed is the product's, its drive the line's, and each way of
// rounding has its own values.
func TestRounderIsSetForEachProduct(t *testing.T) {
	in := input(t, 0)
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, p.Rounding)
	// Three rows at the strokes planned, and the motions in that time: by hand.
	assert.InDelta(t, 180/float64(p.Strokes), float64(p.Motions.Time), 1e-9)
	assert.InDelta(t, 160*3/float64(p.Strokes), p.Motions.Motions, 1e-9)
	in.Order.Product.Rounding.Speed = 70
	p, err = in.Solve()
	require.NoError(t, err)
	assert.True(t, p.Motions.Conditions.Has(molder.FewMotions))

	// Where the mixer sets the pace, the rounder turns with the strokes that are set.
	slow := in
	slow.Order.Product.HopperMax, slow.Shift.Mixer.High, slow.Shift.Mixer.Cycle = unit.Minutes(60), 62_700, unit.Minutes(24)
	p, err = slow.Solve()
	require.NoError(t, err)
	require.Equal(t, "mixer", p.StrokesLimit)
	require.Equal(t, unit.StrokesPerMinute(25), p.Strokes)
	assert.InDelta(t, 180/25.0, float64(p.Motions.Time), 1e-9)

	track := line.Rounder{Way: line.OnTrack, SpeedLow: 10, SpeedHigh: 60, Diameter: 620, Path: 2400, Travel: molder.Rolling}
	in.Line.Rounder, in.Order.Product.Rounding = track, line.Rounding{Speed: 38, TimeLow: 3, TimeHigh: 8}
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, p.Motions)
	assert.InDelta(t, 2400/(math.Pi*620*38/60/2), float64(p.Rounding.Time), 1e-9)

	for _, c := range []struct {
		name    string
		rounder line.Rounder
		setting line.Rounding
		want    []string
	}{
		{"no way", line.Rounder{SpeedLow: 1, SpeedHigh: 2}, line.Rounding{Speed: 1}, []string{"line.rounder.way"}},
		{"no setting", track, line.Rounding{}, []string{"order.product.rounding.speed"}},
		{"faster than the drive", track, line.Rounding{Speed: 61}, []string{"order.product.rounding.speed"}},
		{"motions on a track", track, line.Rounding{Speed: 38, MotionsLow: 5, MotionsHigh: 9}, []string{"order.product.rounding.motions_low", "order.product.rounding.motions_high"}},
		{"times in a cup", line.Rounder{Way: line.InCup, SpeedLow: 60, SpeedHigh: 200, Rows: 3}, line.Rounding{Speed: 90, TimeLow: 5, TimeHigh: 9}, []string{"order.product.rounding.time_low", "order.product.rounding.time_high"}},
		{"motions the wrong way round", line.Rounder{Way: line.InCup, SpeedLow: 60, SpeedHigh: 200, Rows: 3}, line.Rounding{Speed: 90, MotionsLow: 9, MotionsHigh: 5}, []string{"order.product.rounding.motions_high"}},
		{
			"a track in a cup",
			line.Rounder{Way: line.InCup, SpeedLow: 60, SpeedHigh: 50, Diameter: 620, Path: 1, Travel: molder.Rolling},
			line.Rounding{Speed: 90},
			[]string{"line.rounder.speed_high", "line.rounder.diameter", "line.rounder.path", "line.rounder.travel", "line.rounder.rows"},
		},
		{"rows on a track", line.Rounder{Way: line.OnTrack, SpeedLow: 10, SpeedHigh: 60, Diameter: 620, Path: 2400, Travel: molder.Rolling, Rows: 3}, line.Rounding{Speed: 38}, []string{"line.rounder.rows"}},
	} {
		in := input(t, 0)
		in.Line.Rounder, in.Order.Product.Rounding = c.rounder, c.setting
		_, err := in.Solve()
		var got []string
		for _, e := range reckon.InputErrors(err) {
			got = append(got, e.Field)
			assertField(t, e.Field)
		}
		assert.ElementsMatch(t, c.want, got, c.name)
	}
}

// A belt before the moulder carries balls; one that is geared to the line does
// not limit it; lanes that merge are not evenly spaced unless that is said.
func TestBelts(t *testing.T) {
	bare := func(b line.Belt) line.Plan {
		in := input(t, 1)
		b.Name = "belt"
		in.Line.Belts = []line.Belt{b}
		return in
	}
	solve := func(b line.Belt) line.PlanResult {
		p, err := bare(b).Solve()
		require.NoError(t, err)
		return p
	}
	free := solve(line.Belt{BeltSpeed: 1000, Place: line.BeforeMoulder, Across: 2})
	ball := float64(free.Drum.Diameter)
	// By hand: 30 mm/s past a ball, and past a piece of 150 mm, two side by side.
	p := solve(line.Belt{BeltSpeed: 30, Place: line.BeforeMoulder, Across: 2, LeastGap: 40})
	assert.Equal(t, "belt", p.Speed.HighLimit)
	assert.InDelta(t, 1800/(ball+40), float64(p.Speed.High), 1e-9)
	p = solve(line.Belt{BeltSpeed: 60, Place: line.BehindMoulder, Across: 2, LeastGap: 40})
	assert.InDelta(t, 3600/190.0, float64(p.Speed.High), 1e-9)

	// Geared: as far apart at any speed, and refused if that is too close.
	p = solve(line.Belt{AdvancePerStroke: 95, Place: line.BeforeMoulder, Across: 2, LeastGap: 40})
	assert.Equal(t, free.Speed, p.Speed, "it limits nothing")
	assert.InDelta(t, 95, float64(p.Spacing.Pitch), 1e-9)
	assert.Zero(t, p.Spacing.Conditions)

	// Two lanes onto one file, evenly or with 120 mm from the one to the other.
	even := solve(line.Belt{BeltSpeed: 60, Place: line.BeforeMoulder, Across: 1, EvenMerge: true, LeastGap: 40})
	assert.InDelta(t, 3600/(2*(ball+40)), float64(even.Speed.High), 1e-9)
	uneven := solve(line.Belt{BeltSpeed: 60, Place: line.BeforeMoulder, Across: 1, MergePitch: 120, LeastGap: 40})
	assert.InDelta(t, 3600/(120+ball+40), float64(uneven.Speed.High), 1e-9)
	assert.InDelta(t, min(120, 3600/float64(uneven.Strokes)-120), float64(uneven.Spacing.Pitch), 1e-9)
	_, w, err := reckon.Explain(bare(line.Belt{Name: "merge belt", BeltSpeed: 60, Place: line.BeforeMoulder, Across: 1, MergePitch: 120, LeastGap: 40}))
	require.NoError(t, err)
	require.NoError(t, retrace(w))
	outlined(t, "TestPiecesOnABelt, which merge unevenly", w)
	slow := solve(line.Belt{AdvancePerStroke: 300, Place: line.BeforeMoulder, Across: 1, MergePitch: 120, LeastGap: 40})
	assert.InDelta(t, 120, float64(slow.Spacing.Pitch), 1e-9, "two of one row are closer than the rows")

	for _, c := range []struct {
		name string
		belt line.Belt
		want []string
	}{
		{"neither speed", line.Belt{Place: line.BeforeMoulder, Across: 2}, []string{"line.belts[0].belt_speed"}},
		{"both speeds", line.Belt{BeltSpeed: 300, AdvancePerStroke: 300, Place: line.BeforeMoulder, Across: 2}, []string{"line.belts[0].advance_per_stroke"}},
		{"both, and no speed", line.Belt{BeltSpeed: 0.05, AdvancePerStroke: 300, Place: line.BeforeMoulder, Across: 2}, []string{"line.belts[0].advance_per_stroke", "line.belts[0].belt_speed"}},
		{"geared too close", line.Belt{AdvancePerStroke: 85, Place: line.BeforeMoulder, Across: 2, LeastGap: 40}, []string{"line.belts[0].advance_per_stroke"}},
		{"geared too close for a row that comes apart", line.Belt{AdvancePerStroke: 204.5, Place: line.BeforeMoulder, Across: 1, MergePitch: 120, LeastGap: 40}, []string{"line.belts[0].advance_per_stroke"}}, // 120 + 45 + 40
		{"no place", line.Belt{BeltSpeed: 300, Across: 2}, []string{"line.belts[0].place"}},
		{"no place of a moulder's belt", line.Belt{BeltSpeed: 300, Across: 2, Route: line.ToMoulder}, []string{"line.belts[0].place"}},
		{"a place on the stamper's way", line.Belt{BeltSpeed: 300, Across: 2, Route: line.ToStamper, Place: line.BeforeMoulder}, []string{"line.belts[0].place"}},
		{"lanes that merge somehow", line.Belt{BeltSpeed: 300, Place: line.BeforeMoulder, Across: 1}, []string{"line.belts[0].merge_pitch"}},
		{"lanes that merge onto each other", line.Belt{BeltSpeed: 300, Place: line.BeforeMoulder, Across: 1, MergePitch: 80, LeastGap: 40}, []string{"line.belts[0].merge_pitch"}},
		{"even and uneven", line.Belt{BeltSpeed: 300, Place: line.BeforeMoulder, Across: 1, EvenMerge: true, MergePitch: 120}, []string{"line.belts[0].merge_pitch"}},
	} {
		_, err := bare(c.belt).Solve()
		var got []string
		for _, e := range reckon.InputErrors(err) {
			got = append(got, e.Field)
			assertField(t, e.Field)
		}
		assert.Equal(t, c.want, got, c.name)
		if c.name == "lanes that merge somehow" {
			assert.ErrorContains(t, err, "merge_pitch is missing: want how far apart the pieces of a row come to lie where the lanes merge, or even_merge if they follow evenly")
		}
	}
}

// Guides that cannot stand so far apart are told of, with the lengths that they can give: 150 mm drawn back to 0.96 of the guides asks for 156.2 mm.
func TestGuidesThatDoNotReach(t *testing.T) {
	in := input(t, 1)
	guides := *in.Line.Moulder.Guides
	guides.Widest = 150
	in.Line.Moulder.Guides = &guides
	_, err := in.Solve()
	assert.EqualError(t, err, "line-plan: no guide setting gives a piece 150 mm long; it can reach 57.6 mm to 144 mm: the guides would stand at 156.2 mm; take another pan or another clearance")
}
