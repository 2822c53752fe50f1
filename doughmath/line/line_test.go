package line_test

import (
	"encoding/json"
	"errors"
	"math"
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
	s.Line.Oil, s.Line.Dusters, s.Line.Rounder, s.Line.Parts = nil, nil, line.Rounder{}, nil
	m := &s.Line.Moulder
	m.First, m.Chain, m.Board, m.Guides = nil, nil, nil, nil
	s.Line.Divider.HopperLeast = 0
	s.Line.Stamper.Die, s.Line.Stamper.Around, s.Line.Stamper.Contact = "", 0, 0
	for i := range s.Orders {
		p := &s.Orders[i].Product
		p.Preferments, p.PrefermentTemp, p.Heat = nil, unit.Temp{}, nil
		p.Label, p.Check, p.Drift, p.Stickiness = line.Label{}, line.Check{}, line.HopperDrift{}, 0
		p.Panned, p.FinalStay, p.PerCarrier = nil, 0, 0
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
	assert.Positive(t, p.Times.BatchWait)
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
	}
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
		{"gap beyond the rollers", func(in *line.Plan) { in.Line.Moulder.GapHigh = 3 }, []string{"gap of the moulder", "1 mm to 3 mm"}},
		{"speed step skips the window", func(in *line.Plan) { in.Line.Divider.StrokeStep = 50 }, []string{"step of the divider's speed"}},
		{"belt too slow", func(in *line.Plan) { in.Line.Belts[1].BeltSpeed = 20 }, []string{"moulder belt"}},
		{"water that no ice can give", func(in *line.Plan) {
			in.Order.Product.Friction = 60
			in.Order.Product.DoughTemp = unit.Celsius(2)
		}, []string{"ice"}},
		{"water that kills yeast", func(in *line.Plan) { in.Order.Product.DoughTemp = unit.Celsius(45) }, []string{"kill the yeast"}},
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
		{"drum at a stand", 2, func(in *line.Plan) { in.Line.Rounder.DrumSpeed = 0 }, []string{"line.rounder.drum_speed"}},
		{"first pair without its recovery", 2, func(in *line.Plan) { in.Line.Moulder.First.Recovery = 0 }, []string{"line.moulder.first_pair.recovery"}},
		{"rules that nobody made", 2, func(in *line.Plan) { in.Order.Product.Label.Rules = "moon-1969" }, []string{"order.product.label.rules"}},
		{"check without a standard deviation", 2, func(in *line.Plan) { in.Order.Product.Check.SD = 0 }, []string{"order.product.check.sd"}},
		{"check that never comes", 2, func(in *line.Plan) { in.Order.Product.Check.Every = 0 }, []string{"order.product.check.every"}},
		{"heat of another formula", 2, func(in *line.Plan) {
			in.Order.Product.Heat.Ingredients = in.Order.Product.Heat.Ingredients[:2]
		}, []string{"order.product.heat.ingredients"}},
		{"heat model by no name", 2, func(in *line.Plan) { in.Order.Product.Heat.Heats = "" }, []string{"order.product.heat.specific_heats"}},
		{"chain without heights", 2, func(in *line.Plan) { in.Line.Moulder.Chain.Heights = nil }, []string{"line.moulder.curling_chain.heights"}},
		{"board without its guides", 2, func(in *line.Plan) { in.Line.Moulder.Guides = nil }, []string{"line.moulder.side_guides"}},
		{"guides that pull the piece", 2, func(in *line.Plan) { in.Line.Moulder.Guides.LengthRatio = 9 }, []string{"line.moulder.side_guides.length_ratio"}},
		{"board without spring", 2, func(in *line.Plan) { in.Line.Moulder.Board.Spring = 0 }, []string{"line.moulder.pressure_board.spring"}},
		{"board at a stand", 2, func(in *line.Plan) { in.Line.Moulder.Board.Belt = 0 }, []string{"line.moulder.pressure_board.belt"}},
		{"pan as flat as a sheet", 2, func(in *line.Plan) { in.Order.Product.Panned.Pan.Depth = 0 }, []string{"order.product.panned.pan.depth"}},
		{"die by no name", 0, func(in *line.Plan) { in.Line.Stamper.Die = "hammer" }, []string{"line.stamper.die"}},
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
	require.Len(t, care, 3)
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
	in.Line.Divider.MarkStep = 3 // the nearest mark to 34.4 is 33, which is too light
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 36.0, p.Mark.Set)
	assert.Greater(t, p.Mark.Expected, p.Label.Dough)
	assert.False(t, p.Label.Conditions.Has(divider.BelowLabel))
	in.Line.Divider.MarkHigh = 35 // the handle does not reach so far
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
	assert.LessOrEqual(t, p.LeaveHigh, p.PieceHigh)
	assert.GreaterOrEqual(t, p.LeaveLow, p.PieceLow)
}

// While the divider waits for dough the proofer stands with it, the oil is
// shut and nothing is dusted; and a batch is scaled only once it is mixed.
func TestDividerThatWaits(t *testing.T) {
	in := input(t, 0)
	usual, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, usual.Dwell.Dwell, usual.LongestDwell)
	in.Shift.Mixer.Cycle = unit.Hours(1)
	p, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, float64(p.Dwell.Dwell+p.Times.BatchWait), float64(p.LongestDwell), 1e-9)
	assert.True(t, p.Dwell.Conditions.Has(proof.DwellOutsideWindow))
	assert.True(t, p.Conditions.Has(reckon.RateLimited))
	assert.InDelta(t, float64(usual.Oil.PerRun), float64(p.Oil.PerRun), 1e-9)
	assert.InDelta(t, float64(usual.Dusting[0].Flour.PerRun), float64(p.Dusting[0].Flour.PerRun), 1e-9)
	assert.InDelta(t, float64(p.Dusting[0].Flour.FlourPerPiece)*float64(p.Batch.PiecesMade), float64(p.Dusting[0].Flour.PerRun), 0.01*float64(p.Dusting[0].Flour.PerRun))
	for _, waste := range []unit.Percent{0, 1, 20} {
		for i := range 3 {
			in := input(t, i)
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
		l.Divider.StrokesLow, l.Moulder.Recovery, l.CupRatio.Low, l.Rounder.DrumSpeed, l.Stamper.Around = 0, 0.5, 5, 0, -3
		l.Oil = []unit.VolumeRate{-1}
	})
	for _, field := range append(of, "line.divider.strokes_low", "line.moulder.recovery", "line.cup_ratio.low", "line.rounder.drum_speed", "line.stamper.around", "line.oil_valves[0]") {
		assert.True(t, got[field], field)
	}
}

// The handle is left alone where no other mark comes nearer, and never below
// the mean that the label allows.
func TestLeaveTheHandle(t *testing.T) {
	for i := range 3 {
		in := input(t, i)
		p, err := in.Solve()
		require.NoError(t, err)
		assert.LessOrEqual(t, p.LeaveLow, p.Mark.Expected, "a handle that was just set is left")
		assert.GreaterOrEqual(t, p.LeaveHigh, p.Mark.Expected)
		assert.GreaterOrEqual(t, p.LeaveLow, p.Label.Dough)
		in.Line.Divider.MarkStep = 0
		p, err = in.Solve()
		require.NoError(t, err)
		assert.InDelta(t, 2*float64(p.Check.HalfWidth), float64(p.LeaveHigh-p.LeaveLow), 1e-9, "a handle that moves freely")
		assert.False(t, p.Label.Conditions.Has(divider.BelowLabel), "just the weight of the label is enough")
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
	warm, err := in.Solve()
	require.NoError(t, err)
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
}

func TestWaterMassWithoutIce(t *testing.T) {
	in := input(t, 0)
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, p.IceToWeigh, "water at 16 °C from a tap at 15 °C needs no ice")
	assert.Equal(t, p.WaterMass, p.WaterToWeigh)
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
