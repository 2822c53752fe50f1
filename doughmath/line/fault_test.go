package line_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
	"example.com/dough/testdata"
)

// bench is a line that runs as planned, with everything measured that can be, so that a fault can be planted.
type bench struct {
	line.FaultCauses
	plan line.PlanResult
	cal  divider.Calibration
}

const (
	bun = iota
	roll
	loaf
)

func newBench(t testing.TB, order int) *bench {
	t.Helper()
	s, cl := demo(t)
	b := &bench{FaultCauses: line.FaultCauses{Line: s.Line, Order: s.Orders[order], Shift: s.Shift}}
	var err error
	b.plan, err = cl.Plan(&b.Order, &b.Shift, nil)
	require.NoError(t, err)
	p := &b.Order.Product
	lanes := s.Line.Divider.Lanes[slices.IndexFunc(s.Line.Divider.Lanes, func(l line.Lanes) bool { return l.Dough == p.Dough && l.Across == p.Across })]
	fit, err := divider.MarkFit{
		Trials: lanes.Trials, Confidence: s.Line.Divider.Confidence, Shape: lanes.Shape, Weighting: lanes.Weighting, Across: lanes.Across,
	}.Solve()
	require.NoError(t, err)
	b.cal = fit.Calibration
	mark := b.plan.Mark.Set
	b.Instruments = line.Instruments{Thermometer: 0.3, Rule: 0.5, Gauge: 0.05, Counting: 1, Scale: 2, Stickiness: 0.3}
	b.Readings = line.Readings{
		Mark: &mark, DoughTemp: p.DoughTemp, Stood: b.plan.Hopper.Time, HopperDough: 10_000, Cycle: b.plan.Times.BatchInterval, Racks: b.plan.FinalProof.Needed,
		Stickiness: p.Stickiness, Grown: b.plan.Pocket.Diameter, OnBelt: b.plan.Drum.Diameter,
		Strokes: b.plan.Strokes, Stamps: b.plan.Strokes, StampMode: s.Line.Stamper.Mode, Spin: s.Line.Stamper.Spin, RounderSpeed: p.Rounding.Speed, Drum: b.plan.Drum.Name,
		Air: &line.Around{
			Air: proof.Air{DryBulb: unit.Celsius(30), Humidity: 75, Pressure: 101.325}, Activity: 0.97, Warming: unit.Minutes(8), Origin: proof.OriginAssumed,
			SurfaceIn: unit.Celsius(27), SweatLimit: unit.Minutes(8), DryLimit: unit.Minutes(20),
		},
	}
	for _, d := range b.plan.Dusting {
		rate := d.Flour.Hour
		if d.Slide.FlourRate > 0 {
			rate = d.Slide.FlourRate
		}
		b.Readings.Flour = append(b.Readings.Flour, line.FlourReading{Duster: d.Name, FlourRate: rate})
	}
	for _, k := range s.Line.Belts {
		if k.BeltSpeed > 0 {
			b.Readings.Belts = append(b.Readings.Belts, line.BeltReading{Belt: k.Name, BeltSpeed: k.BeltSpeed})
		}
	}
	if p.Route == line.ToMoulder {
		b.Readings.FirstGap, b.Readings.LastGap = b.plan.Rollers.FirstGap, b.plan.Gap.Gap
		b.Readings.Guides, b.Readings.BoardIn, b.Readings.BoardOut = b.plan.Guides.Guides, b.plan.Heights.HeightIn, b.plan.Heights.HeightOut
		b.Readings.Sheets = []unit.Length{b.plan.Gap.Thickness - 0.02, b.plan.Gap.Thickness, b.plan.Gap.Thickness + 0.02}
		b.measure(p.Length)
	}
	b.weigh(b.plan.Mark.Expected)
	b.grow(b.growth())
	if p.Across > 1 {
		b.Readings.Lanes = []divider.LaneWeighing{{Lane: 1, Weight: b.plan.Mark.Expected, Pieces: 20}, {Lane: 2, Weight: b.plan.Mark.Expected, Pieces: 20}}
	}
	return b
}

// weigh puts a subgroup on the scale, of that mean and of the usual scatter.
func (b *bench) weigh(mean unit.Mass) {
	b.Readings.Weighings = nil
	n := max(5, b.plan.Check.Pieces)
	for i := range n {
		z := math.Sqrt2 * math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n)) * math.Sqrt(float64(n-1)/float64(n))
		b.Readings.Weighings = append(b.Readings.Weighings, mean+unit.Mass(z)*b.Order.Product.Check.SD)
	}
}

func (b *bench) growth() unit.GrowthRate { return b.Order.Product.Drift.Growth }

// grow weighs through a batch that gasses so fast.
func (b *bench) grow(rate unit.GrowthRate) {
	b.Readings.Hopper = nil
	for i, wobble := range []unit.Mass{1, -1, 1, -1, 1, -1} {
		at := unit.Duration(i) * b.plan.Hopper.Time / 5
		b.Readings.Hopper = append(b.Readings.Hopper, divider.HopperWeighing{
			Time: at, Weight: b.plan.Mark.Expected/unit.Mass(1+float64(rate)/100*float64(at)/60) + wobble*b.Order.Product.Check.SD/30, Pieces: 20,
		})
	}
}

// measure takes five pieces that have come to rest.
func (b *bench) measure(length unit.Length) {
	b.Readings.Lengths = nil
	for _, off := range []unit.Length{-1, -0.5, 0, 0.5, 1} {
		b.Readings.Lengths = append(b.Readings.Lengths, length+off)
	}
}

func (b *bench) at(mark float64) unit.Mass {
	out, _ := divider.WeightForMark{Calibration: b.cal, Mark: mark, Of: divider.OfMean}.Solve()
	return out.Weight
}

// board is the piece under a pressure board of those heights.
func (b *bench) board(in, out unit.Length) (molder.PressureBoardResult, error) {
	m := b.Line.Moulder.Board
	return molder.PressureBoard{
		Piece: b.plan.Target, Density: b.Order.Product.Density, RollDiameter: b.plan.Roll.Diameter, RollLength: b.plan.Roll.Width, HeightIn: in, HeightOut: out,
		BoardLength: m.Length, Belt: m.Belt, Spring: m.Spring, Guides: b.plan.Guides.Guides, SealTurns: m.SealTurns,
	}.Solve()
}

// plantedFaults are faults with the cause that has to come first, and what has to be true once the control is set as told.
var plantedFaults = []struct {
	id      string
	symptom line.Symptom
	order   int
	plant   func(b *bench)
	cause   line.CauseName
	move    line.Move
	mends   func(t *testing.T, b *bench, c *line.Cause)
}{
	{"handle two steps up", line.TooHeavy, bun, func(b *bench) {
		*b.Readings.Mark += 1
		b.weigh(b.at(*b.Readings.Mark))
	}, line.HandleMoved, line.MoveLess, weightMended(0)},
	{"handle two steps down", line.TooLight, bun, func(b *bench) {
		*b.Readings.Mark -= 1
		b.weigh(b.at(*b.Readings.Mark))
	}, line.HandleMoved, line.MoveMore, weightMended(0)},
	{"handle three steps up, loaf", line.TooHeavy, loaf, func(b *bench) {
		*b.Readings.Mark += 1.5
		b.weigh(b.at(*b.Readings.Mark))
	}, line.HandleMoved, line.MoveLess, weightMended(0)},
	{"denser dough", line.TooHeavy, bun, func(b *bench) { b.weigh(b.plan.Mark.Expected + 4) }, line.DoughOtherwise, line.MoveLess, weightMended(4)},
	{"gassier dough", line.TooLight, bun, func(b *bench) { b.weigh(b.plan.Mark.Expected - 4) }, line.DoughOtherwise, line.MoveMore, weightMended(-4)},
	{"dough warmer", line.DriftingWeight, bun, func(b *bench) { b.Readings.DoughTemp = unit.Celsius(29) }, line.DoughWarm, "", func(t *testing.T, b *bench, c *line.Cause) {
		assert.Contains(t, c.Do, "colder by 9 C°") // three factors, three degrees
	}},
	{"dough grows fast", line.DriftingWeight, bun, func(b *bench) { b.grow(4 * b.growth()) }, line.GrowsFast, "", func(t *testing.T, b *bench, c *line.Cause) {
		assert.InDelta(t, float64(4*b.growth()), c.Value, 0.05)
	}},
	{"batch stands", line.DriftingWeight, bun, func(b *bench) { b.Readings.Stood *= 2 }, line.StoodLong, "", nil},
	{"hopper runs low", line.TooLight, bun, func(b *bench) { b.Readings.HopperDough = 3000 }, line.HopperLow, "", nil},
	{"one lane heavy", line.UnevenLanes, bun, func(b *bench) { b.Readings.Lanes[1].Weight += 3 }, line.LaneOff, "", func(t *testing.T, b *bench, c *line.Cause) {
		assert.Contains(t, c.Do, "Leave the handle alone")
	}},
	{"belt slips", line.Doubles, roll, func(b *bench) { b.Readings.Belts[0].BeltSpeed *= 0.25 }, line.BeltSlow, line.MoveMore, func(t *testing.T, b *bench, c *line.Cause) {
		out, err := molder.PieceSpacing{Belt: unit.Speed(c.SetTo), PieceRate: b.plan.Rate.PieceRate, PieceLength: b.plan.Drum.Diameter}.Solve()
		require.NoError(t, err)
		assert.GreaterOrEqual(t, out.Gap, b.Line.Belts[1].LeastGap)
	}},
	{"line runs away", line.Doubles, roll, func(b *bench) { b.Readings.Strokes = b.plan.Speed.High * 1.2 }, line.LineFast, line.MoveLess, strokesMended},
	{"pieces lie wide", line.Doubles, roll, func(b *bench) { b.Readings.OnBelt = 400 }, line.PieceWide, "", nil},
	{"duster starved", line.Doubles, roll, func(b *bench) { b.Readings.Flour[0].FlourRate *= 0.5 }, line.FlourLittle, line.MoveMore, flourMended(0)},
	{"last rollers too close", line.TornSheet, loaf, func(b *bench) { b.Readings.LastGap = 4; b.Readings.Sheets = []unit.Length{6.4} }, line.GapNarrow, line.MoveMore, func(t *testing.T, b *bench, c *line.Cause) {
		assert.GreaterOrEqual(t, b.Line.Moulder.Recovery*c.SetTo, float64(b.Order.Product.TearLimit))
	}},
	{"first rollers too wide", line.TornSheet, loaf, func(b *bench) { b.Readings.FirstGap *= 3 }, line.FirstGapOff, line.MoveLess, firstMended},
	{"first rollers too close", line.TornSheet, loaf, func(b *bench) { b.Readings.FirstGap /= 3 }, line.FirstGapOff, line.MoveMore, firstMended},
	{"sheet springs back less", line.TornSheet, loaf, func(b *bench) {
		b.Readings.Sheets = []unit.Length{b.Readings.LastGap * 1.2, b.Readings.LastGap * 1.21}
	}, line.SheetThin, line.MoveMore, func(t *testing.T, b *bench, c *line.Cause) {
		assert.InDelta(t, float64(b.plan.Gap.Thickness), 1.205*c.SetTo, 0.01)
	}},
	{"dough cold", line.TornSheet, loaf, func(b *bench) { b.Readings.DoughTemp = unit.Celsius(22) }, line.DoughCold, "", nil},
	{"no rest", line.TornSheet, loaf, func(b *bench) { b.Readings.Strokes *= 3 }, line.DwellShort, line.MoveLess, strokesMended},
	{"board entry too high", line.OpenSeam, loaf, func(b *bench) { b.Readings.BoardIn = b.plan.Roll.Diameter * 3 }, line.BoardInOff, line.MoveLess, func(t *testing.T, b *bench, c *line.Cause) {
		out, err := b.board(unit.Length(c.SetTo), b.plan.Heights.HeightOut)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, out.Turns, b.Line.Moulder.Board.SealTurns)
	}},
	{"last rollers too wide", line.OpenSeam, loaf, func(b *bench) { b.Readings.LastGap = 13; b.Readings.Sheets = nil }, line.GapWide, line.MoveLess, func(t *testing.T, b *bench, c *line.Cause) {
		p, m := &b.Order.Product, &b.Line.Moulder
		out, err := molder.TurnsForGap{Piece: b.plan.Target, Density: p.Density, Gap: unit.Length(c.SetTo), Recovery: m.Recovery, Aspect: p.Aspect, TurnsRatio: p.TurnsRatio}.Solve()
		require.NoError(t, err)
		assert.GreaterOrEqual(t, out.Turns, p.Turns*(1-1e-9))
	}},
	{"guides apart", line.TooLong, roll, func(b *bench) { b.Readings.Guides += 10; b.measure(b.Readings.Guides * 0.96) }, line.GuidesOff, line.MoveLess, lengthMended(0.96)},
	{"guides together", line.TooShort, roll, func(b *bench) { b.Readings.Guides -= 10; b.measure(b.Readings.Guides * 0.96) }, line.GuidesOff, line.MoveMore, lengthMended(0.96)},
	{"dough draws back less", line.TooLong, loaf, func(b *bench) { b.measure(b.Readings.Guides * 1.01) }, line.DrawsBack, line.MoveLess, lengthMended(1.01)},
	{"dough draws back more", line.TooShort, loaf, func(b *bench) { b.measure(b.Readings.Guides * 0.9) }, line.DrawsBack, line.MoveMore, lengthMended(0.9)},
	{"board exit too low", line.TooLong, loaf, func(b *bench) { b.Readings.BoardOut -= 4 }, line.BoardOutOff, line.MoveMore, boardMended},
	{"board exit too high", line.TooShort, loaf, func(b *bench) { b.Readings.BoardOut += 4 }, line.BoardOutOff, line.MoveLess, boardMended},
	{"heavy loaf", line.TooLong, loaf, func(b *bench) { b.weigh(b.plan.Mark.Expected + 30) }, line.DoughOtherwise, line.MoveLess, weightMended(30)},
	{"rounder slow", line.NotRound, bun, func(b *bench) { b.Readings.RounderSpeed = 60 }, line.RoundedLittle, line.MoveMore, func(t *testing.T, b *bench, c *line.Cause) {
		out, err := molder.RoundingMotions{Rows: b.Line.Rounder.Rows, Strokes: b.Readings.Strokes, Speed: unit.RotationRate(c.SetTo)}.Solve()
		require.NoError(t, err)
		assert.GreaterOrEqual(t, out.Motions, b.Order.Product.Rounding.MotionsLow)
	}},
	{"flour under the rounder", line.NotRound, bun, func(b *bench) { b.Readings.Flour[0].FlourRate *= 2 }, line.FlourMuch, line.MoveLess, flourMended(0)},
	{"stamper fast", line.OutOfStep, bun, func(b *bench) {
		b.Line.Stamper.Mode = molder.ContinuousStamp
		b.Readings.StampMode = molder.ContinuousStamp
		b.Readings.Stamps *= 1.1
	}, line.StampsOff, line.MoveLess, func(t *testing.T, b *bench, c *line.Cause) {
		assert.InDelta(t, float64(b.Readings.Strokes), c.SetTo, 1e-9)
	}},
	{"stamper slow", line.MisshapenStamp, bun, func(b *bench) {
		b.Line.Stamper.Mode = molder.ContinuousStamp
		b.Readings.StampMode = molder.ContinuousStamp
		b.Readings.Stamps *= 0.9
	}, line.StampsOff, line.MoveMore, func(t *testing.T, b *bench, c *line.Cause) {
		assert.InDelta(t, float64(b.Readings.Strokes), c.SetTo, 1e-9)
	}},
	{"pockets dry of flour", line.StickingInPocket, bun, func(b *bench) { b.Readings.Flour[1].FlourRate = 0 }, line.FlourLittle, "", nil},
	{"sticky dough", line.StickingInPocket, bun, func(b *bench) { b.Readings.Stickiness = 4 }, line.DoughSticky, "", nil},
	{"stays long", line.StickingInPocket, bun, func(b *bench) { b.Readings.Strokes = 14 }, line.DwellLong, line.MoveMore, strokesMended},
	{"damp air", line.StickingInPocket, bun, func(b *bench) { b.Readings.Air.Air.Humidity = 95; b.Readings.Air.SweatLimit = unit.Minutes(2) }, line.AirDamp, "", nil},
	{"grown into the wall", line.StickingInPocket, bun, func(b *bench) { b.Readings.Grown = 149 }, line.GrownLarge, "", nil},
	{"slide too far out", line.Floury, bun, func(b *bench) { b.Readings.Flour[0].FlourRate *= 1.5 }, line.FlourMuch, line.MoveLess, flourMended(0)},
	{"dough drier than dusted for", line.Floury, bun, func(b *bench) { b.Readings.Stickiness = 1 }, line.DoughSticky, "", nil},
	{"dry air", line.Skinned, bun, func(b *bench) { b.Readings.Air.Air.Humidity = 30; b.Readings.Air.DryLimit = unit.Minutes(4) }, line.AirDry, "", nil},
	{"stop and go", line.Skinned, bun, func(b *bench) { b.Readings.Strokes = 14 }, line.DwellLong, line.MoveMore, strokesMended},
	{"fog", line.Wet, bun, func(b *bench) { b.Readings.Air.Air.Humidity = 98; b.Readings.Air.SweatLimit = unit.Minutes(1) }, line.AirDamp, "", nil},
	{"cold dough", line.Wet, bun, func(b *bench) { b.Readings.DoughTemp = unit.Celsius(21) }, line.DoughCold, "", nil},
	{"line slow", line.OvenWaits, loaf, func(b *bench) { b.Readings.Strokes *= 0.8 }, line.LineSlow, line.MoveMore, strokesMended},
	{"mixer slow", line.OvenWaits, loaf, func(b *bench) { b.Readings.Cycle *= 1.3 }, line.MixerSlow, "", nil},
	{"racks away", line.OvenWaits, loaf, func(b *bench) { b.Readings.Racks -= 2 }, line.RacksFew, "", nil},
}

func weightMended(shift unit.Mass) func(*testing.T, *bench, *line.Cause) {
	return func(t *testing.T, b *bench, c *line.Cause) {
		b.weigh(b.at(c.SetTo) + shift)
		*b.Readings.Mark = c.SetTo
		out, err := b.Solve()
		if err == nil {
			assert.Equal(t, divider.FoundSteady, out.Finding, "%s", c.Do)
			assert.Empty(t, out.Causes)
		}
		assert.NoError(t, err)
	}
}

func strokesMended(t *testing.T, b *bench, c *line.Cause) {
	dwell, err := proof.Dwell{Proofer: b.Line.Proofer, Across: b.Order.Product.Across, Strokes: unit.StrokeRate(c.SetTo)}.Solve()
	require.NoError(t, err)
	assert.LessOrEqual(t, dwell.Dwell, b.Order.Product.DwellHigh)
	assert.GreaterOrEqual(t, dwell.Dwell, b.Order.Product.DwellLow)
	assert.InDelta(t, float64(b.plan.Strokes), c.SetTo, 1e-9)
}

func flourMended(i int) func(*testing.T, *bench, *line.Cause) {
	return func(t *testing.T, b *bench, c *line.Cause) {
		out, err := divider.FlowForSlide{Slide: c.SetTo, Points: b.Line.Dusters[i].Slide}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(b.plan.Dusting[i].Slide.FlourRate), float64(out.FlourRate), 1e-9)
	}
}

func firstMended(t *testing.T, b *bench, c *line.Cause) {
	assert.InDelta(t, float64(b.plan.Rollers.FirstGap), c.SetTo, 1e-9)
}

func lengthMended(ratio float64) func(*testing.T, *bench, *line.Cause) {
	return func(t *testing.T, b *bench, c *line.Cause) {
		assert.InDelta(t, float64(b.Order.Product.Length), ratio*c.SetTo, 0.6, "to the step of the guides")
	}
}

func boardMended(t *testing.T, b *bench, c *line.Cause) {
	assert.InDelta(t, float64(b.plan.Heights.HeightOut), c.SetTo, 0.25, "to the step of the board")
}

// A fault is planted in a line that otherwise runs as planned: the right cause comes first, with the right way, and
// what it says to set mends it.
func TestPlantedFaults(t *testing.T) {
	met := map[line.Symptom]bool{}
	for _, p := range plantedFaults {
		t.Run(p.id, func(t *testing.T) {
			b := newBench(t, p.order)
			p.plant(b)
			b.Symptom = p.symptom
			met[p.symptom] = true
			out, err := b.Solve()
			require.NoError(t, err)
			require.NotEmpty(t, out.Causes, "%+v", out)
			c := out.Causes[0]
			assert.Equal(t, p.cause, c.Cause, "%+v", out.Causes)
			assert.Equal(t, p.move, c.Move, "%s", c.Do)
			assert.Greater(t, c.Beyond, 2.0)
			assert.NotEmpty(t, c.Do)
			assert.NotEmpty(t, c.Next)
			assert.True(t, c.Cautions.Has(reckon.MovingMachinery|reckon.Interlocks))
			for _, other := range out.Causes {
				assert.LessOrEqual(t, other.Beyond, c.Beyond)
				assert.True(t, out.Cautions.Has(other.Cautions), "what can hurt at a control is said of the whole")
			}
			_, w, err := reckon.Explain(b.FaultCauses)
			require.NoError(t, err)
			require.NoError(t, retrace(w))
			outlinedBesideThePlan(t, t.Name(), w)
			assert.True(t, slices.ContainsFunc(w.Steps, func(k reckon.Step) bool { return k.Symbol == "v_1" }), "the first cause is numbered 1")
			if p.mends != nil {
				p.mends(t, b, &c)
			}
		})
	}
	for s := range met {
		assert.Contains(t, symptoms, s)
	}
	assert.Len(t, met, len(symptoms), "each symptom has a fault that causes it")
}

var symptoms = []line.Symptom{
	line.TooLight, line.TooHeavy, line.DriftingWeight, line.UnevenLanes, line.Doubles, line.TornSheet, line.OpenSeam, line.TooLong, line.TooShort, line.NotRound,
	line.MisshapenStamp, line.OutOfStep, line.StickingInPocket, line.Floury, line.Skinned, line.Wet, line.OvenWaits,
}

// A line that runs as planned has no cause for anything, whatever is asked.
func TestSteadyLineHasNoCause(t *testing.T) {
	asked := 0
	for order := range 3 {
		for _, s := range symptoms {
			b := newBench(t, order)
			b.Symptom = s
			out, err := b.Solve()
			if err != nil {
				require.Len(t, reckon.InputErrors(err), 1)
				assert.Equal(t, "symptom", reckon.InputErrors(err)[0].Field)
				continue
			}
			asked++
			assert.Empty(t, out.Causes, "%s of order %d", s, order)
			assert.Empty(t, out.Elsewhere)
			assert.True(t, out.Conditions.Has(line.NothingFound))
			assert.NotEmpty(t, out.Look)
		}
	}
	assert.Equal(t, 3*11+2+2*4, asked)
}

// Where a control stands in another position than planned, that is told before anything is ranked.
func TestPositionsComeBeforeNumbers(t *testing.T) {
	for _, p := range []struct {
		id      string
		symptom line.Symptom
		plant   func(b *bench)
		cause   line.CauseName
		control string
		says    string
	}{
		{"bread drum left in", line.NotRound, func(b *bench) { b.Readings.Drum = "large cups"; b.Readings.RounderSpeed = 60 }, line.DrumWrong, "rounding drum", `from "large cups" to "small cups", after stopping, isolating and locking out`},
		{"spin off", line.MisshapenStamp, func(b *bench) { b.Readings.Spin = molder.SpinOff }, line.StamperSet, "spin switch", `from "off" to "on"`},
		{"stamper by hand", line.OutOfStep, func(b *bench) { b.Readings.StampMode = molder.ContinuousStamp }, line.StamperSet, "stamper switch", `from "hand" to "proofer"`},
	} {
		t.Run(p.id, func(t *testing.T) {
			b := newBench(t, bun)
			b.Symptom = p.symptom
			p.plant(b)
			out, err := b.Solve()
			require.NoError(t, err)
			require.Len(t, out.Elsewhere, 1)
			e := out.Elsewhere[0]
			assert.Equal(t, p.cause, e.Cause)
			assert.Equal(t, p.control, e.Control)
			assert.Contains(t, e.Says, p.says)
			assert.Contains(t, out.Says, e.Says)
			assert.Equal(t, len(out.Causes) > 0, out.Conditions.Has(line.MoreThanOne))
		})
	}
}

// Whatever else is wrong, the handle is moved only where the verdict on the weighings says that the mark is the matter.
func TestHandleIsLeftWhereTheVerdictSaysSo(t *testing.T) {
	for id, spoil := range map[string]func(b *bench){
		"steady, though the handle was read a step off": func(b *bench) { *b.Readings.Mark += 0.5 },
		"a double":      func(b *bench) { b.weigh(b.plan.Mark.Expected + 4); b.Readings.Weighings[1] *= 2 },
		"a torn piece":  func(b *bench) { b.weigh(b.plan.Mark.Expected - 4); b.Readings.Weighings[1] /= 2 },
		"one piece out": func(b *bench) { b.Readings.Weighings[0] += 8 },
		"scatters more": func(b *bench) {
			b.Order.Product.Check.SD *= 3
			b.weigh(b.plan.Mark.Expected)
			b.Order.Product.Check.SD /= 3
		},
		"nothing was weighed": func(b *bench) { b.Readings.Weighings = nil; *b.Readings.Mark += 5 },
	} {
		for _, s := range []line.Symptom{line.TooHeavy, line.TooLight} {
			b := newBench(t, bun)
			b.Symptom = s
			spoil(b)
			out, err := b.Solve()
			require.NoError(t, err, id)
			assert.NotEqual(t, divider.FoundMark, out.Finding, id)
			for _, c := range out.Causes {
				assert.NotEqual(t, line.SetsMark, c.Sets, "%s: %s", id, c.Do)
			}
			if out.Finding == divider.FoundDouble {
				assert.Contains(t, out.Says, "leave the handle alone")
				assert.True(t, out.Conditions.Has(line.FreshFirst))
				assert.Contains(t, out.Look[0].Do, "stuck together")
			}
		}
	}
	for _, s := range []line.Symptom{line.TooLong, line.TooShort} {
		b := newBench(t, loaf)
		b.Symptom = s
		*b.Readings.Mark += 2
		out, err := b.Solve()
		require.NoError(t, err)
		assert.Empty(t, out.Causes, "%s: the mean is steady", s)
	}
}

// What was not measured is no cause, and the answer says what to measure.
func TestWhatWasNotMeasuredIsAskedFor(t *testing.T) {
	for order := range 3 {
		for _, s := range symptoms {
			b := newBench(t, order)
			b.Symptom, b.Readings, b.Instruments = s, line.Readings{}, line.Instruments{}
			out, err := b.Solve()
			if err != nil {
				continue // of a machine that it does not pass
			}
			assert.Empty(t, out.Causes)
			assert.Empty(t, out.Cleared)
			assert.NotEmpty(t, out.Measure, s)
			for _, m := range out.Measure {
				assert.NotEmpty(t, m.Measure)
				for _, k := range m.For {
					assert.NotEmpty(t, k.Cause)
					assert.NotEmpty(t, k.Calculation)
				}
			}
			for _, l := range out.Look {
				assert.NotEmpty(t, l.At+l.Do)
				assert.NotEmpty(t, l.Seen)
			}
		}
	}
}

// Where the line names no controls the trade's word stands.
func TestCausesWithoutControls(t *testing.T) {
	b := newBench(t, bun)
	b.Line.Controls, b.Line.Changing = nil, line.Changing{}
	b.Symptom = line.TooHeavy
	*b.Readings.Mark += 1
	b.weigh(b.at(*b.Readings.Mark))
	out, err := b.Solve()
	require.NoError(t, err)
	c := out.Causes[0]
	assert.Equal(t, "the handle of the divider", c.Control)
	assert.Equal(t, "Set the handle of the divider, down by 1, to 12.5, with the line stopped. Weigh again: every change of the mark is followed by a weighing.", c.Do)
}

// A handle without steps and without a control is set to just where the plan has it.
func TestHandleWithoutStepsIsSetJustThere(t *testing.T) {
	b := newBench(t, bun)
	b.Line.Controls, b.Line.Changing, b.Line.Divider.MarkStep, b.Order.Product.Drift = nil, line.Changing{}, 0, line.HopperDrift{}
	plan, err := line.Plan{Line: b.Line, Order: b.Order, Shift: b.Shift}.Solve()
	require.NoError(t, err)
	mark := plan.Mark.Set + 1
	b.Symptom, b.Readings, b.Instruments = line.TooHeavy, line.Readings{Mark: &mark}, line.Instruments{Handle: 0.2}
	b.weigh(b.at(mark))
	out, err := b.Solve()
	require.NoError(t, err)
	assert.Equal(t, line.HandleMoved, out.Causes[0].Cause)
	assert.InDelta(t, plan.Mark.Set, out.Causes[0].SetTo, 1e-12)
	assert.InDelta(t, -1, out.Causes[0].By, 1e-9)
}

// Where a pair of rollers has no gap to set, only an indicator, what it is to show is said beside the gap.
func TestRollersByTheirIndicator(t *testing.T) {
	for _, c := range []struct {
		gap, number line.Sets
		cause       line.CauseName
		read        func(b *bench)
		says        func(b *bench) string
	}{
		{line.SetsLastGap, line.SetsLastNumber, line.GapNarrow, func(b *bench) { b.Readings.LastGap, b.Readings.Sheets = 5.2, nil }, func(*bench) string {
			return "At the indicator: 5.222." // the table of the demo gives 5 at 5.5 mm and 9 at 10 mm, so that 5.75 mm are 5 + 0.25*4/4.5
		}},
		{line.SetsFirstGap, line.SetsFirstNumber, line.FirstGapOff, func(b *bench) { b.Readings.FirstGap *= 3 }, func(b *bench) string {
			return "At its indicator: " + strconv.FormatFloat(4+(float64(b.plan.Rollers.FirstGap)-12)*4/13, 'g', 4, 64) + "." // 4 at 12 mm and 8 at 25 mm
		}},
	} {
		b := newBench(t, loaf)
		b.Symptom = line.TornSheet
		c.read(b)
		i := slices.IndexFunc(b.Line.Controls, func(k line.Control) bool { return k.Sets == c.gap || k.Sets == c.number })
		gap, number := b.Line.Controls[i], b.Line.Controls[i]
		gap.Name, gap.Sets, gap.Step = "the wheel", c.gap, ""
		number.Name, number.Sets, number.Step = "the scale", c.number, ""
		rest := slices.Delete(slices.Clone(b.Line.Controls), i, i+1)
		for _, own := range [][]line.Control{{gap}, {gap, number}, {}, {number}} {
			b.Line.Controls = slices.Concat(rest, own)
			out, err := b.Solve()
			require.NoError(t, err)
			require.Equal(t, c.cause, out.Causes[0].Cause)
			alone := len(own) == 1 && own[0].Sets == c.number
			assert.Equal(t, alone, strings.Contains(out.Causes[0].Do, c.says(b)), out.Causes[0].Do)
			assert.Equal(t, alone, strings.Contains(out.Causes[0].Do, "indicator"), out.Causes[0].Do)
		}
	}
}

// What a calculation refuses of readings is told, not passed over: a mark at which the divider gives no dough, and other lanes than the divider has.
func TestReadingsFromWhichNothingFollows(t *testing.T) {
	b := newBench(t, bun)
	lanes := slices.Clone(b.Line.Divider.Lanes)
	lanes[0].Trials = slices.Clone(lanes[0].Trials)
	for i := range lanes[0].Trials {
		lanes[0].Trials[i].Mark += 5 // of about 12 g and 3.1 g a mark: below nothing at mark 0
	}
	b.Line.Divider.Lanes = lanes
	mark := 0.0
	b.Symptom, b.Readings.Mark = line.TooHeavy, &mark
	b.weigh(b.plan.Mark.Expected + 4)
	_, err := b.Solve()
	assert.EqualError(t, err, "weight-for-mark: no weight gives mark 0; it can reach 30.44 g to 105.4 g: the curve gives no dough there; it was fitted on marks far from it", "once")

	for lanes, want := range map[int]string{1: "1 lanes: want 2 to 32 lanes", 3: "3 lanes: want 2 lanes, as in the calibration"} {
		b := newBench(t, bun)
		b.Symptom, b.Readings.Lanes = line.UnevenLanes, nil
		for i := range lanes {
			b.Readings.Lanes = append(b.Readings.Lanes, divider.LaneWeighing{Lane: i + 1, Weight: b.plan.Mark.Expected, Pieces: 20})
		}
		_, err := b.Solve()
		assert.ErrorContains(t, err, want)
	}
}

// However fine or coarse a scale is, a move of it goes the same way.
func TestCausesOnScalesOfAllSizes(t *testing.T) {
	for _, size := range []float64{1e-3, 1e3} {
		s, _ := demo(t)
		d := &s.Line.Divider
		d.Lanes = slices.Clone(d.Lanes)
		for k := range d.Lanes {
			d.Lanes[k].Trials = slices.Clone(d.Lanes[k].Trials)
			for i := range d.Lanes[k].Trials {
				d.Lanes[k].Trials[i].Mark *= size
			}
		}
		d.MarkLow, d.MarkHigh, d.MarkStep = d.MarkLow*size, d.MarkHigh*size, d.MarkStep*size
		plan, err := line.Plan{Line: s.Line, Order: s.Orders[bun], Shift: s.Shift}.Solve()
		require.NoError(t, err)
		for off, want := range map[float64]line.Move{-1: line.MoveMore, 1: line.MoveLess} {
			q := line.FaultCauses{Line: s.Line, Order: s.Orders[bun], Shift: s.Shift, Symptom: map[bool]line.Symptom{true: line.TooLight, false: line.TooHeavy}[off < 0]}
			mark := plan.Mark.Set + off*size
			q.Readings.Mark = &mark
			for _, by := range []unit.Mass{-1, -0.5, 0, 0.5, 1} {
				q.Readings.Weighings = append(q.Readings.Weighings, plan.Mark.Expected+unit.Mass(off)*3.1+by) // 3.1 g are a mark of the demo
			}
			out, err := q.Solve()
			require.NoError(t, err)
			assert.Equal(t, line.HandleMoved, out.Causes[0].Cause)
			assert.Equal(t, want, out.Causes[0].Move)
			assert.InEpsilon(t, -off*size, out.Causes[0].By, 1e-6)
		}
	}
}

// Where the nearest step of a control is the one that it stands at, it is left there: nothing is moved by nothing.
func TestControlAtItsNearestStepIsLeft(t *testing.T) {
	b := newBench(t, roll)
	b.Symptom, b.Instruments.Rule = line.TooLong, 0.01
	b.Readings.Guides = 156 // to its step of 1 mm; 150 mm of roll by 0.9646 are 155.5 mm and more
	b.Readings.Lengths = []unit.Length{150.4, 150.41, 150.42, 150.41, 150.41}
	out, err := b.Solve()
	require.NoError(t, err)
	i := slices.IndexFunc(out.Causes, func(c line.Cause) bool { return c.Cause == line.DrawsBack })
	require.GreaterOrEqual(t, i, 0)
	c := out.Causes[i]
	assert.Equal(t, "Leave side guides at 156 mm: no step comes nearer to what is asked for.", c.Do)
	assert.Empty(t, c.Move)
	assert.Equal(t, []float64{0, 0, 0}, []float64{c.Stands, c.SetTo, c.By})
	_, w, err := reckon.Explain(b.FaultCauses)
	require.NoError(t, err)
	assert.NoError(t, retrace(w))
}

// A rule too coarse to tell how much a height off by as much would turn the piece leaves the height itself to judge by: the board of the roll stands at 34
// and 18 mm, and 20 mm more or less where it leaves is higher than where it enters, or nothing.
func TestBoardUnderACoarseRule(t *testing.T) {
	b := newBench(t, roll)
	b.Symptom, b.Instruments.Rule = line.OpenSeam, 20
	out, err := b.Solve()
	require.NoError(t, err)
	i := slices.IndexFunc(out.Cleared, func(k line.Cleared) bool { return k.Cause == line.BoardOutOff })
	require.GreaterOrEqual(t, i, 0)
	assert.Contains(t, out.Cleared[i].Says, "Height of the pressure board where the piece leaves: "+b.Readings.BoardOut.String())
}

// The handle is left alone where the plan's own check of as many pieces leaves it, with a label and without.
func TestHandleIsLeftWhereThePlanLeavesIt(t *testing.T) {
	for order := range 3 {
		b := newBench(t, order)
		b.Symptom = line.TooHeavy
		require.Len(t, b.Readings.Weighings, b.plan.Check.Pieces)
		out, err := b.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(b.plan.Band.Low), float64(out.Low), 1e-9)
		assert.InDelta(t, float64(b.plan.Band.High), float64(out.High), 1e-9)
		assert.Equal(t, order == loaf, b.plan.Label.Dough > 0)
	}
}

// On a scale that runs backwards the lower mark is the heavier.
func TestCausesOnAScaleThatRunsBackwards(t *testing.T) {
	s, _ := demo(t)
	lanes := &s.Line.Divider.Lanes[0]
	lanes.Trials = slices.Clone(lanes.Trials)
	for i := range lanes.Trials {
		lanes.Trials[i].Mark = 40 - lanes.Trials[i].Mark
	}
	q := line.FaultCauses{Line: s.Line, Order: s.Orders[bun], Shift: s.Shift, Symptom: line.TooHeavy}
	plan, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	require.NoError(t, err)
	mark := plan.Mark.Set - 1
	q.Readings.Mark = &mark
	heavy := plan.Mark.Expected + 3.1
	for _, off := range []unit.Mass{-1, -0.5, 0, 0.5, 1} {
		q.Readings.Weighings = append(q.Readings.Weighings, heavy+off)
	}
	out, err := q.Solve()
	require.NoError(t, err)
	c := out.Causes[0]
	assert.Equal(t, line.HandleMoved, c.Cause)
	assert.Equal(t, line.MoveLess, c.Move, "less is lighter")
	assert.Equal(t, "anticlockwise", c.Way)
	assert.InDelta(t, 1, c.By, 1e-9, "which is a higher mark here")
}

// Two things are off: the one that lies farther beyond its limit, in its own uncertainty, comes first, and it says to
// change one thing at a time.
func TestTwoFaultsAreRanked(t *testing.T) {
	b := newBench(t, loaf)
	b.Symptom = line.TornSheet
	b.Readings.LastGap, b.Readings.Sheets = 5.5, nil // 0.125 mm beyond, at 0.05 mm
	b.Readings.DoughTemp = unit.Celsius(20)          // 6 degrees beyond, at 0.3
	out, err := b.Solve()
	require.NoError(t, err)
	require.Len(t, out.Causes, 2)
	assert.Equal(t, line.DoughCold, out.Causes[0].Cause)
	assert.InDelta(t, 20, out.Causes[0].Beyond, 1e-9)
	assert.Equal(t, line.GapNarrow, out.Causes[1].Cause)
	assert.InDelta(t, 2.5, out.Causes[1].Beyond, 1e-9, "9 mm of sheet by a recovery of 1.6 are 5.625 mm of gap")
	assert.True(t, out.Conditions.Has(line.MoreThanOne))
	assert.Contains(t, out.Says, "Change that first")
	b.Instruments.Gauge = 0.005
	out, err = b.Solve()
	require.NoError(t, err)
	assert.Equal(t, line.GapNarrow, out.Causes[0].Cause, "measured ten times as closely it is the surer one")
}

// What cannot be is refused, all of it at once and by its name.
func TestFaultCausesRefuses(t *testing.T) {
	fields := func(err error) (list []string) {
		for _, e := range reckon.InputErrors(err) {
			list = append(list, e.Field)
		}
		return list
	}
	b := newBench(t, bun)
	b.Symptom = "sad"
	_, err := b.Solve()
	assert.Equal(t, []string{"symptom"}, fields(err))
	for _, s := range symptoms {
		assert.ErrorContains(t, err, strconv.Quote(string(s)), "each that there is")
	}
	b.Symptom = line.TornSheet
	_, err = b.Solve()
	assert.ErrorContains(t, err, "does not go by the moulder")
	b.Symptom = line.TooLight
	b.weigh(b.plan.Mark.Expected + 4)
	_, err = b.Solve()
	assert.ErrorContains(t, err, "too-heavy: the mean of the weighings")
	b.Symptom = line.TooHeavy
	b.Order.Product.Check = line.Check{}
	_, err = b.Solve()
	assert.Equal(t, []string{"readings.sd"}, fields(err))
	assert.ErrorContains(t, err, "how single pieces scatter while the divider is steady")
	b.Readings.SD = 1.1
	_, err = b.Solve()
	assert.NoError(t, err)

	b = newBench(t, loaf)
	mark := 41.0
	b.Symptom = line.TooLong
	b.Instruments = line.Instruments{Thermometer: 9}
	b.Readings.Mark, b.Readings.DoughTemp, b.Readings.Drum, b.Readings.Guides = &mark, unit.Celsius(70), "a pail", 3
	b.Readings.Lengths, b.Readings.Weighings = []unit.Length{1}, []unit.Mass{-1}
	b.Readings.Flour = []line.FlourReading{{Duster: "roof", FlourRate: 1}}
	b.Readings.Belts = []line.BeltReading{{Belt: "discharge belt", BeltSpeed: 100}, {Belt: "moulder belt"}}
	b.Readings.Lanes = []divider.LaneWeighing{{Lane: 1, Weight: 900, Pieces: 1}, {Lane: 1, Weight: 900, Pieces: 1}}
	b.Readings.Hopper = b.Readings.Hopper[:2]
	b.Readings.Air.SurfaceIn = unit.Temp{}
	_, err = b.Solve()
	assert.ElementsMatch(t, []string{
		"readings.weighings[0]", "readings.mark", "readings.lanes[1].lane", "readings.hopper", "readings.dough_temp", "readings.air.surface_in", "readings.lengths[0]",
		"readings.flour[0].duster", "readings.belts[0].belt", "readings.belts[1].belt_speed", "readings.drum", "readings.guides",
		"instruments.thermometer", "instruments.rule", "instruments.gauge", "instruments.counting", "instruments.scale", "instruments.stickiness",
	}, fields(err))

	b = newBench(t, bun)
	b.Symptom = line.TooHeavy
	b.Line.Moulder, b.Line.FinalProof, b.Line.Rounder, b.Line.Controls = line.Moulder{}, line.FinalProof{}, line.Rounder{}, nil
	b.Order.Product.FinalStay, b.Order.Product.PerCarrier, b.Order.Product.Rounding, b.Line.Changing = 0, 0, line.Rounding{}, line.Changing{}
	b.Readings.LastGap, b.Readings.FirstGap, b.Readings.Guides, b.Readings.BoardIn, b.Readings.BoardOut = 5, 20, 150, 30, 25
	b.Readings.Sheets, b.Readings.Lengths = []unit.Length{8}, []unit.Length{150}
	_, err = b.Solve()
	assert.ElementsMatch(t, []string{
		"line.final_proof", "line.rounder", "line.moulder", "line.moulder.first_pair", "line.moulder.side_guides", "line.moulder.pressure_board",
	}, fields(err))
}

// Readings that are off by no more than the instruments may be name a cause seldom: about one in forty for each that is
// looked at one way.
func TestScatterOfReadingsIsSeldomACause(t *testing.T) {
	b := newBench(t, roll)
	b.Symptom = line.TooLong
	rng := rand.New(rand.NewPCG(7, 11))
	guides, out, length, rule := b.Readings.Guides, b.Readings.BoardOut, b.Order.Product.Length, unit.Length(b.Instruments.Rule)
	off := func() unit.Length { return rule * unit.Length(rng.NormFloat64()) }
	const draws = 150
	named := 0
	for range draws {
		b.Readings.Guides, b.Readings.BoardOut = guides+off(), out+off()
		b.measure(length + off())
		got, err := b.Solve()
		require.NoError(t, err)
		if len(got.Causes) > 0 {
			named++
		}
	}
	// Three are looked at, each beyond twice its uncertainty in 2.3 %: 10 of 150.
	assert.Greater(t, named, 1)
	assert.Less(t, named, 22)
}

// Whatever is read, nothing panics; what is named lies beyond its limit, the farthest first, and the handle is moved only
// where the verdict says that it is the mark.
func FuzzFaultCauses(f *testing.F) {
	f.Add(uint8(0), uint8(0), 14.5, 52.0, 26.0, 5.5, 160.0, 18.0, 30.0, 23.0, 80.0, uint8(3))
	f.Add(uint8(7), uint8(2), 37.0, 960.0, 29.0, 12.0, 250.0, 40.0, 0.1, 16.0, 99.0, uint8(0))
	s, err := testdata.Scenario("demo.json")
	require.NoError(f, err)
	day, err := line.ReadScenario(s)
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, symptom, order uint8, mark, weight, temp, gap, guides, board, flour, strokes, humidity float64, racks uint8) {
		q := line.FaultCauses{Line: day.Line, Order: day.Orders[order%3], Shift: day.Shift, Symptom: symptoms[int(symptom)%len(symptoms)]}
		q.Readings = line.Readings{
			Weighings: []unit.Mass{unit.Mass(weight), unit.Mass(weight) + 1, unit.Mass(weight) - 1, unit.Mass(weight)}, Mark: &mark, DoughTemp: unit.Celsius(temp),
			Flour: []line.FlourReading{{Duster: "rounder belt", FlourRate: unit.MassRate(flour)}}, Strokes: unit.StrokeRate(strokes), RounderSpeed: unit.RotationRate(strokes * 5), Stamps: unit.StrokeRate(board),
			LastGap: unit.Length(gap), FirstGap: unit.Length(gap * 3), Guides: unit.Length(guides), BoardIn: unit.Length(board * 1.5), BoardOut: unit.Length(board), Sheets: []unit.Length{unit.Length(gap * 1.5)},
			Lengths: []unit.Length{unit.Length(guides), unit.Length(guides * 0.97)}, Racks: int(racks), Grown: unit.Length(guides), Stood: unit.Duration(weight), Cycle: unit.Duration(weight),
			Air: &line.Around{
				Air: proof.Air{DryBulb: unit.Celsius(temp + 4), Humidity: unit.Percent(humidity), Pressure: 101.325}, Activity: 0.97, Warming: 500, Origin: proof.OriginAssumed,
				SurfaceIn: unit.Celsius(temp), SweatLimit: 60, DryLimit: 60,
			},
		}
		q.Instruments = line.Instruments{Thermometer: 0.3, Rule: 0.5, Gauge: 0.05, Counting: 1, Scale: 2, Stickiness: 0.3}
		out, err := q.Solve()
		if err != nil {
			return
		}
		last := math.Inf(1)
		for _, c := range out.Causes {
			assert.True(t, c.Beyond > 2 && c.Beyond <= last, "%+v", c)
			last = c.Beyond
			for _, v := range []float64{c.Value, c.Limit, c.Uncertainty, c.Stands, c.SetTo, c.By} {
				assert.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%+v", c)
			}
			assert.True(t, c.Sets != line.SetsMark || out.Finding == divider.FoundMark)
			assert.NotEmpty(t, c.Do)
		}
		var w reckon.Working
		q.Show(&w, out)
		assert.NoError(t, testdata.Retrace(&w, 1e-6))
	})
}

func BenchmarkFaultCauses(b *testing.B) {
	k := newBench(b, loaf)
	k.Symptom = line.TooLong
	b.ReportAllocs()
	for b.Loop() {
		if _, err := k.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
