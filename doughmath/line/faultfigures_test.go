package line_test

import (
	"math"
	"slices"
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
)

// found is what is to be said of a cause: value, limit, standard uncertainty, and where its control stands and is to stand.
type found struct{ value, limit, uncertainty, stands, to float64 }

// Every cause by hand: what was read or comes of it, how far it may go by the plan, and how closely it is known: by the
// instrument (thermometer 0.3 C°, rule 0.5 mm, gauge 0.05 mm, counting 1 %, scale 2 %, stickiness 0.3), by a step of
// the handle, which is even within the step (step/sqrt(12): JCGM 100:2008, 4.3.7), or by the scatter of what was weighed.
func TestEveryCauseByHand(t *testing.T) {
	counted := func(v, limit, stands, to float64) found { return found{v, limit, v / 100, stands, to} }
	cup := func(b *bench, speed, strokes float64) float64 { return speed * float64(b.Line.Rounder.Rows) / strokes }
	for _, c := range []struct {
		id      string
		symptom line.Symptom
		order   int
		plant   func(b *bench)
		cause   line.CauseName
		want    func(b *bench) found
	}{
		{"the handle, read to its step", line.TooHeavy, bun, func(b *bench) {
			*b.Readings.Mark += 1
			b.weigh(b.at(*b.Readings.Mark))
		}, line.HandleMoved, func(b *bench) found {
			slope := float64(b.at(20) - b.at(19)) // a straight line
			return found{float64(b.plan.Mark.Expected) + slope, float64(b.plan.Mark.Expected), slope * 0.5 / math.Sqrt(12), b.plan.Mark.Set + 1, b.plan.Mark.Set}
		}},
		{"the handle, which moves freely", line.TooHeavy, bun, func(b *bench) {
			b.Line.Divider.MarkStep, b.Instruments.Handle = 0, 0.25
			*b.Readings.Mark += 1
			b.weigh(b.at(*b.Readings.Mark))
		}, line.HandleMoved, func(b *bench) found {
			slope := float64(b.at(20) - b.at(19))
			free, err := line.Plan{Line: b.Line, Order: b.Order, Shift: b.Shift}.Solve()
			require.NoError(t, err)
			return found{float64(b.at(*b.Readings.Mark)), float64(free.Mark.Expected), slope * 0.25, *b.Readings.Mark, free.Mark.Set}
		}},
		{"first rollers, which a ball comes to", line.TornSheet, loaf, func(b *bench) {
			first := *b.Line.Moulder.First
			first.FlattenedTo = 0
			b.Line.Moulder.First = &first
			b.Readings.FirstGap /= 2
		}, line.FirstGapOff, func(b *bench) found {
			ball, err := line.Plan{Line: b.Line, Order: b.Order, Shift: b.Shift}.Solve()
			require.NoError(t, err)
			g := float64(b.Readings.FirstGap)
			v := float64(ball.Drum.Diameter) / g
			require.Greater(t, v, b.Line.Moulder.First.Recovery*g/float64(ball.Gap.Gap), "the first pair has more to do")
			return found{v, math.Max(b.Line.Moulder.First.ReductionLimit, ball.Rollers.Reduction), v * 0.05 / g, g, float64(ball.Rollers.FirstGap)}
		}},
		{"the mean of the pieces", line.TooHeavy, bun, func(b *bench) { b.weigh(b.plan.Mark.Expected + 4) }, line.DoughOtherwise, func(b *bench) found {
			n, mean := float64(len(b.Readings.Weighings)), float64(b.plan.Mark.Expected)+4
			marks := (mean - float64(b.plan.Target)) / float64(b.at(20)-b.at(19)) // too many, and the handle goes by halves
			return found{mean, float64(b.plan.Mark.Expected), float64(b.Order.Product.Check.SD) / math.Sqrt(n), b.plan.Mark.Set, b.plan.Mark.Set - math.Round(marks*2)/2}
		}},
		{"dough temperature", line.DriftingWeight, bun, func(b *bench) { b.Readings.DoughTemp = unit.Celsius(29) }, line.DoughWarm, func(b *bench) found {
			return found{29, b.Order.Product.DoughTemp.Celsius(), 0.3, 0, 0}
		}},
		{"time in the hopper", line.DriftingWeight, bun, func(b *bench) { b.Readings.Stood = 2000 }, line.StoodLong, func(b *bench) found {
			return counted(2000, float64(b.plan.Hopper.Time), 0, 0)
		}},
		{"dough in the hopper", line.TooLight, bun, func(b *bench) { b.Readings.HopperDough = 3000 }, line.HopperLow, func(b *bench) found {
			return found{3000, float64(b.Line.Divider.HopperLeast), 60, 0, 0}
		}},
		{"strokes above all limits", line.Doubles, roll, func(b *bench) { b.Readings.Strokes = 40 }, line.LineFast, func(b *bench) found {
			return counted(40, float64(b.plan.Speed.High), 40, float64(b.plan.Strokes))
		}},
		{"strokes below the plan", line.OvenWaits, loaf, func(b *bench) { b.Readings.Strokes = 10 }, line.LineSlow, func(b *bench) found {
			return counted(10, float64(b.plan.Strokes), 10, float64(b.plan.Strokes))
		}},
		{"a belt, for its gap", line.Doubles, roll, func(b *bench) { b.Readings.Belts[0].BeltSpeed = 50 }, line.BeltSlow, func(b *bench) found {
			// What goes by in a second: the pieces of one file, each with its gap.
			belt := &b.Line.Belts[1]
			files := float64((b.Order.Product.Across + belt.Across - 1) / belt.Across)
			need := float64(b.plan.Rate.PieceRate) / float64(b.Order.Product.Across) * files / 60 * float64(b.plan.Drum.Diameter+belt.LeastGap)
			return counted(50, need, 50, float64(belt.BeltSpeed))
		}},
		{"a wide piece", line.Doubles, roll, func(b *bench) { b.Readings.OnBelt = 400 }, line.PieceWide, func(b *bench) found {
			return found{400, float64(b.plan.Spacing.Pitch - leastGap(b)), 0.5, 0, 0}
		}},
		{"stay, too long", line.Skinned, bun, func(b *bench) { b.Readings.Strokes = 14 }, line.DwellLong, func(b *bench) found {
			return counted(600, float64(b.Order.Product.DwellHigh), 14, float64(b.plan.Strokes)).of(6) // 140 trays at 14 a minute
		}},
		{"stay, too short", line.TornSheet, loaf, func(b *bench) { b.Readings.Strokes = 60 }, line.DwellShort, func(b *bench) found {
			dwell, err := proof.Dwell{Proofer: b.Line.Proofer, Across: 1, Strokes: 60}.Solve()
			require.NoError(t, err)
			return found{float64(dwell.Dwell), float64(b.Order.Product.DwellLow), float64(dwell.Dwell) / 100, 60, float64(b.plan.Strokes)}
		}},
		{"the mixer", line.OvenWaits, loaf, func(b *bench) { b.Readings.Cycle = 3000 }, line.MixerSlow, func(b *bench) found {
			return counted(3000, float64(b.plan.Times.BatchInterval), 0, 0)
		}},
		// What is counted one by one is known to a quarter: one too few is a cause, by four of it.
		{"racks", line.OvenWaits, loaf, func(b *bench) { b.Readings.Racks-- }, line.RacksFew, func(b *bench) found {
			return found{float64(b.plan.FinalProof.Needed) - 1, float64(b.plan.FinalProof.Needed), 0.25, 0, 0}
		}},
		{"flour, too little", line.StickingInPocket, bun, func(b *bench) { b.Readings.Flour[1].FlourRate *= 0.5 }, line.FlourLittle, func(b *bench) found {
			want := float64(b.plan.Dusting[1].Flour.Hour)
			return found{want / 2, want, want / 50, 0, 0} // the plan's flour is weighed as closely
		}},
		{"flour, too much", line.Floury, bun, func(b *bench) { b.Readings.Flour[1].FlourRate *= 1.5 }, line.FlourMuch, func(b *bench) found {
			want := float64(b.plan.Dusting[1].Flour.Hour)
			return found{want * 1.5, want, want * 1.5 / 50, 0, 0}
		}},
		{"stickiness", line.StickingInPocket, bun, func(b *bench) { b.Readings.Stickiness = 9 }, line.DoughSticky, func(b *bench) found {
			return found{9, b.Order.Product.Stickiness, 0.3, 0, 0}
		}},
		{"the grown piece", line.StickingInPocket, bun, func(b *bench) { b.Readings.Grown = 149 }, line.GrownLarge, func(b *bench) found {
			return found{149, float64(b.Line.Pocket.Width - 2*b.Line.Pocket.Gap), 0.5, 0, 0}
		}},
		{"guides", line.TooLong, roll, func(b *bench) { b.Readings.Guides += 10; b.measure(b.Readings.Guides * 0.96) }, line.GuidesOff, func(b *bench) found {
			want := float64(b.plan.Guides.Guides)
			return found{want + 10, want, 0.5, want + 10, want}
		}},
		{"how the dough draws back", line.TooLong, loaf, func(b *bench) {
			g := b.Readings.Guides
			b.Readings.Lengths = []unit.Length{g * 1.1, g * 1.12, g * 1.11}
		}, line.DrawsBack, func(b *bench) found {
			// Three ratios of 1.1, 1.12 and 1.11 have the mean 1.11 and the standard deviation 0.01; the rule reads both lengths.
			g := float64(b.Readings.Guides)
			k := b.Line.Moulder.Guides
			return found{1.11, k.LengthRatio, math.Sqrt(0.01*0.01/3 + 0.5*0.5*(1+1.11*1.11)/(g*g)), g, float64(b.Order.Product.Length) / 1.11}
		}},
		{"board, where it leaves", line.TooShort, loaf, func(b *bench) { b.Readings.BoardOut += 4 }, line.BoardOutOff, func(b *bench) found {
			want := float64(b.plan.Heights.HeightOut)
			return found{want + 4, want, 0.5, want + 4, want}
		}},
		{"last rollers, the tear limit", line.TornSheet, loaf, func(b *bench) { b.Readings.LastGap, b.Readings.Sheets = 4, nil }, line.GapNarrow, func(b *bench) found {
			return found{4, float64(b.Order.Product.TearLimit) / b.Line.Moulder.Recovery, 0.05, 4, float64(b.plan.Gap.Gap)}
		}},
		{"last rollers, a tear limit below any gap", line.TornSheet, loaf, func(b *bench) {
			b.Line.Moulder.Recovery, b.Order.Product.TearLimit = 2.5, 0.1 // 0.1 mm by 2.5 are 0.04 mm, and no rollers close so far
			var err error
			b.plan, err = line.Plan{Line: b.Line, Order: b.Order, Shift: b.Shift}.Solve()
			if err != nil {
				panic(err)
			}
			b.Readings.LastGap, b.Readings.Sheets = b.plan.Gap.Gap-1, nil
		}, line.GapNarrow, func(b *bench) found {
			g := float64(b.plan.Gap.Gap)
			return found{g - 1, g, 0.05, g - 1, g}
		}},
		{"the sheet", line.TornSheet, loaf, func(b *bench) {
			b.Readings.LastGap, b.Readings.Sheets = 5, []unit.Length{6, 6.1, 6.2}
		}, line.SheetThin, func(b *bench) found {
			// Of 6, 6.1 and 6.2 mm the standard deviation is 0.1 mm; the sheet over the gap is 1.22.
			return found{6.1, math.Min(float64(b.Order.Product.TearLimit), float64(b.plan.Gap.Thickness)), math.Sqrt(0.1*0.1/3 + 0.05*0.05), 5, float64(b.plan.Gap.Thickness) / 1.22}
		}},
		{"first rollers, too close", line.TornSheet, loaf, func(b *bench) { b.Readings.FirstGap /= 3 }, line.FirstGapOff, func(b *bench) found {
			g := float64(b.plan.Rollers.FirstGap) / 3
			before := math.Min(float64(b.plan.Drum.Diameter), float64(b.Line.Moulder.First.FlattenedTo))
			return found{before / g, math.Max(b.Line.Moulder.First.ReductionLimit, b.plan.Rollers.Reduction), before / g * 0.05 / g, g, g * 3}
		}},
		{"first rollers, too wide", line.TornSheet, loaf, func(b *bench) { b.Readings.FirstGap *= 3 }, line.FirstGapOff, func(b *bench) found {
			g := float64(b.plan.Rollers.FirstGap) * 3
			v := b.Line.Moulder.First.Recovery * g / float64(b.plan.Gap.Gap)
			return found{v, math.Max(b.Line.Moulder.First.ReductionLimit, b.plan.Rollers.Reduction), v * 0.05 / g, g, g / 3}
		}},
		{"motions in the cup", line.NotRound, bun, func(b *bench) { b.Readings.RounderSpeed = 60 }, line.RoundedLittle, func(b *bench) found {
			g := &b.Order.Product.Rounding
			v := cup(b, 60, float64(b.plan.Strokes))
			limit := cup(b, float64(g.Speed), float64(b.plan.Strokes))
			if g.MotionsLow > 0 {
				limit = math.Min(limit, g.MotionsLow)
			}
			return found{v, limit, v / 100 * math.Sqrt2, 60, float64(g.Speed)} // both speeds are counted to 1 %
		}},
		// Without trials the plan's own motions are the least, and at other strokes the rounder goes as much slower for them.
		{"motions in the cup, without trials", line.NotRound, bun, func(b *bench) {
			b.Order.Product.Rounding.MotionsLow, b.Order.Product.Rounding.MotionsHigh, b.Readings.RounderSpeed = 0, 0, 60
		}, line.RoundedLittle, func(b *bench) found {
			v, s := cup(b, 60, float64(b.plan.Strokes)), float64(b.Order.Product.Rounding.Speed)
			return found{v, cup(b, s, float64(b.plan.Strokes)), v / 100 * math.Sqrt2, 60, s}
		}},
		{"motions in the cup, at other strokes", line.NotRound, bun, func(b *bench) {
			b.Line.Controls, b.Line.Changing = nil, line.Changing{}
			b.Readings.RounderSpeed, b.Readings.Strokes = 60, b.plan.Strokes*0.8
		}, line.RoundedLittle, func(b *bench) found {
			v := cup(b, 60, float64(b.plan.Strokes)*0.8)
			return found{v, b.Order.Product.Rounding.MotionsLow, v / 100 * math.Sqrt2, 60, float64(b.Order.Product.Rounding.Speed) * 0.8}
		}},
		{"motions in the cup, at strokes for which the rounder does not go so slowly", line.NotRound, bun, func(b *bench) {
			b.Line.Controls, b.Line.Changing = nil, line.Changing{}
			b.Readings.RounderSpeed, b.Readings.Strokes = 20, b.plan.Strokes*0.3
		}, line.RoundedLittle, func(b *bench) found {
			v := cup(b, 20, float64(b.plan.Strokes)*0.3)
			return found{v, b.Order.Product.Rounding.MotionsLow, v / 100 * math.Sqrt2, 20, float64(b.Order.Product.Rounding.Speed)}
		}},
		{"last rollers, the turns", line.OpenSeam, loaf, func(b *bench) { b.Readings.LastGap, b.Readings.Sheets = 13, nil }, line.GapWide, func(b *bench) found {
			p, m := &b.Order.Product, &b.Line.Moulder
			gap, err := molder.GapForTurns{Turns: p.Turns, Piece: b.plan.Target, Density: p.Density, Recovery: m.Recovery, Aspect: p.Aspect, Measured: m.Measured, TurnsRatio: p.TurnsRatio}.Solve()
			require.NoError(t, err)
			require.Greater(t, gap.Gap, b.plan.Gap.Gap, "the plan sets the thinnest that holds")
			return found{13, float64(gap.Gap), 0.05, 13, float64(b.plan.Gap.Gap)}
		}},
		{"board, higher where the piece leaves", line.OpenSeam, loaf, func(b *bench) { b.Readings.BoardOut = b.plan.Heights.HeightIn + 5 }, line.BoardOutOff, func(b *bench) found {
			h := b.plan.Heights.HeightIn + 5
			_, err := b.board(b.plan.Heights.HeightIn, h)
			require.Error(t, err, "so it does not work the piece")
			return found{float64(h), float64(b.plan.Heights.HeightOut), 0.5, float64(h), float64(b.plan.Heights.HeightOut)}
		}},
		{"turns under the board", line.OpenSeam, loaf, func(b *bench) { b.Readings.BoardIn = b.plan.Roll.Diameter * 3 }, line.BoardInOff, func(b *bench) found {
			turns := func(in unit.Length) float64 {
				r, err := b.board(in, b.plan.Heights.HeightOut)
				require.NoError(t, err)
				return r.Turns
			}
			h := b.plan.Roll.Diameter * 3
			return found{turns(h), math.Min(b.Line.Moulder.Board.SealTurns, b.plan.Board.Turns), math.Max(1e-6, math.Abs(turns(h+0.5)-turns(h))), float64(h), float64(b.plan.Heights.HeightIn)}
		}},
		{"time on the track, without trials", line.NotRound, bun, func(b *bench) {
			b.Line.Controls, b.Line.Changing = nil, line.Changing{}
			b.Line.Rounder = line.Rounder{Way: line.OnTrack, SpeedLow: 10, SpeedHigh: 60, Diameter: 620, Path: 2400, Travel: molder.Rolling}
			b.Order.Product.Rounding = line.Rounding{Speed: 38}
			b.Readings.RounderSpeed = 60
		}, line.RoundedLittle, func(*bench) found {
			time := func(speed float64) float64 { return 2400 / (math.Pi * 620 * speed / 60 / 2) }
			return found{time(60), time(38), time(60) / 100, 60, 38}
		}},
		{"time on the track", line.NotRound, bun, func(b *bench) {
			b.Line.Controls, b.Line.Changing = nil, line.Changing{}
			b.Line.Rounder = line.Rounder{Way: line.OnTrack, SpeedLow: 10, SpeedHigh: 60, Diameter: 620, Path: 2400, Travel: molder.Rolling}
			b.Order.Product.Rounding = line.Rounding{Speed: 38, TimeLow: 3, TimeHigh: 8}
			b.Readings.RounderSpeed = 60
		}, line.RoundedLittle, func(*bench) found {
			v := 2400 / (math.Pi * 620 * 60 / 60 / 2) // a piece that rolls goes half as fast as the drum
			return found{v, 3, v / 100, 60, 38}
		}},
		{"motions in the cup", line.NotRound, bun, func(b *bench) { b.Readings.RounderSpeed, b.Instruments.Counting = 60, 2 }, line.RoundedLittle, func(b *bench) found {
			// Rounder and divider are both counted to 2 %.
			v := cup(b, 60, float64(b.plan.Strokes))
			return found{v, b.Order.Product.Rounding.MotionsLow, v * 0.02 * math.Sqrt2, 60, float64(b.Order.Product.Rounding.Speed)}
		}},
		{"damp air", line.StickingInPocket, bun, func(b *bench) { b.Readings.Air.Air.Humidity, b.Readings.Air.SweatLimit = 90, unit.Minutes(2) }, line.AirDamp, func(b *bench) found {
			a := b.Readings.Air
			sweats := func(surface unit.Temp) float64 {
				out, err := proof.Surface{
					Air: a.Air, DoughTemp: surface, Activity: a.Activity, Warming: a.Warming, Origin: a.Origin, Time: b.plan.LongestDwell, SweatLimit: a.SweatLimit, DryLimit: a.DryLimit,
				}.Solve()
				require.NoError(t, err)
				return float64(out.Sweating)
			}
			v := sweats(a.SurfaceIn)
			require.InDelta(t, 245, v, 10, "the surface, 3 C° colder than the air, comes to its dew point of 28.2 °C after 8 min * ln(3/1.8)")
			return found{v, float64(a.SweatLimit), math.Max(1, math.Abs(sweats(unit.Celsius(a.SurfaceIn.Celsius()+0.3))-v)), 0, 0}
		}},
		{"stamps", line.OutOfStep, bun, func(b *bench) {
			b.Line.Stamper.Mode, b.Readings.StampMode = molder.ContinuousStamp, molder.ContinuousStamp
			b.Readings.Stamps = b.Readings.Strokes * 1.25
		}, line.StampsOff, func(b *bench) found {
			s := float64(b.Readings.Strokes)
			return found{1.25 * s, s, 0.01 * s * math.Hypot(1.25, 1), 1.25 * s, s}
		}},
	} {
		b := newBench(t, c.order)
		b.Symptom = c.symptom
		c.plant(b)
		out, err := b.Solve()
		require.NoError(t, err, c.id)
		if !assert.NotEmpty(t, out.Causes, c.id) {
			continue
		}
		got, want := out.Causes[0], c.want(b)
		assert.Equal(t, c.cause, got.Cause, c.id)
		assert.InEpsilon(t, want.value, got.Value, 1e-6, "%s: value", c.id)
		assert.InEpsilon(t, want.limit, got.Limit, 1e-6, "%s: how far it may go", c.id)
		assert.InEpsilon(t, want.uncertainty, got.Uncertainty, 1e-6, "%s: uncertainty", c.id)
		assert.InEpsilon(t, math.Abs(want.value-want.limit)/want.uncertainty, got.Beyond, 1e-6, "%s: beyond it", c.id)
		if want.stands != 0 {
			assert.InDelta(t, want.stands, got.Stands, 1e-6, "%s: where the control stands", c.id)
			if k := controlStep(b, got.Control); k > 0 {
				want.to = math.Round(want.to/k) * k
			}
			assert.InDelta(t, want.to, got.SetTo, 1e-6, "%s: where to set it", c.id)
			assert.InDelta(t, want.to-want.stands, got.By, 1e-6, "%s: by how much", c.id)
		}
	}
}

func (f found) of(uncertainty float64) found { f.uncertainty = uncertainty; return f }

// leastGap is the smallest gap of the belt on which the pieces lie closest.
func leastGap(b *bench) unit.Length {
	for i := range b.Line.Belts {
		if b.Line.Belts[i].Name == b.plan.TightestBelt {
			return b.Line.Belts[i].LeastGap
		}
	}
	return 0
}

// controlStep is the step in which a length is set at a control, 0 if it has none.
func controlStep(b *bench, name string) float64 {
	for i := range b.Line.Controls {
		k := &b.Line.Controls[i]
		if k.Name == name && k.Step != "" {
			var step unit.Length
			if step.UnmarshalText([]byte(k.Step)) == nil {
				return float64(step)
			}
		}
	}
	return 0
}

// The growth in the hopper is as sure as its weighings let it be: one standard uncertainty is half of the interval that holds
// erf(1/sqrt(2)) of a normal distribution, 68.27 %.
func TestGrowthIsAsSureAsItsWeighings(t *testing.T) {
	b := newBench(t, bun)
	b.Symptom = line.DriftingWeight
	b.grow(4 * b.growth())
	out, err := b.Solve()
	require.NoError(t, err)
	one, err := divider.HopperGrowth{Weighings: b.Readings.Hopper, Confidence: unit.Percent(100 * math.Erf(1/math.Sqrt2))}.Solve()
	require.NoError(t, err)
	c := out.Causes[0]
	require.Equal(t, line.GrowsFast, c.Cause)
	assert.InEpsilon(t, float64(one.High-one.Low)/2, c.Uncertainty, 1e-3)
	assert.InEpsilon(t, float64(one.Growth), c.Value, 1e-9)
	assert.InEpsilon(t, float64(b.growth()), c.Limit, 1e-9)
}

// A lane is held against the mean of the lanes, and is as sure as its interval of 95 %, of which a quarter is one standard uncertainty.
func TestLaneIsAsSureAsItsWeighings(t *testing.T) {
	b := newBench(t, bun)
	b.Symptom = line.UnevenLanes
	b.Readings.Lanes[1].Weight += 3
	out, err := b.Solve()
	require.NoError(t, err)
	lanes, err := divider.LaneOffsets{Calibration: b.cal, Mark: b.plan.Mark.Set, Lanes: b.Readings.Lanes}.Solve()
	require.NoError(t, err)
	require.Len(t, out.Causes, 2)
	for i, c := range out.Causes {
		assert.Equal(t, line.LaneOff, c.Cause)
		assert.InDelta(t, []float64{-1.5, 1.5}[i], c.Value, 1e-9, "one lane is 3 g heavier than the other")
		assert.Zero(t, c.Limit)
		assert.InEpsilon(t, float64(lanes.Lanes[i].High-lanes.Lanes[i].Low)/4, c.Uncertainty, 1e-9)
	}
	// The working is of the mark that was read, or of the plan's.
	for _, read := range []bool{true, false} {
		want := b.plan.Mark.Set
		if b.Readings.Mark = nil; read {
			want++
			b.Readings.Mark = &want
		}
		_, w, err := reckon.Explain(b.FaultCauses)
		require.NoError(t, err)
		at := slices.IndexFunc(w.Steps, func(s reckon.Step) bool {
			return s.Kind == reckon.HeadingStep && strings.HasPrefix(s.ID, "lane 1")
		})
		require.GreaterOrEqual(t, at, 0)
		i := slices.IndexFunc(w.Steps[at:], func(s reckon.Step) bool { return s.ID == "mark" })
		assert.InDelta(t, want, w.Steps[at+i].Value, 1e-12)
	}
}

// Air is as sure as the thermometer: the time that the piece sweats or dries is asked for again with a surface so much warmer,
// and never surer than a second.
func TestAirIsAsSureAsTheThermometer(t *testing.T) {
	for _, c := range []struct {
		symptom line.Symptom
		cause   line.CauseName
		warmer  float64
		spoil   func(a *line.Around)
	}{
		{line.Wet, line.AirDamp, 0.3, func(a *line.Around) { a.Air.Humidity, a.SweatLimit = 98, unit.Minutes(1) }},
		{line.Skinned, line.AirDry, 0.3, func(a *line.Around) { a.Air.Humidity, a.DryLimit = 30, unit.Minutes(2) }},
		// A surface that comes to the dew point within its stay does so sooner, by more than a second, if it comes in warmer.
		{line.Wet, line.AirDamp, 0.3, func(a *line.Around) { a.Air.Humidity, a.SweatLimit, a.Warming = 90, unit.Minutes(1), unit.Minutes(4) }},
		// No surface is warmer than 50 °C: it is asked for colder.
		{line.Skinned, line.AirDry, -0.3, func(a *line.Around) {
			a.Air.Humidity, a.DryLimit, a.SurfaceIn = 30, unit.Minutes(2), unit.Celsius(49.9)
		}},
	} {
		b := newBench(t, bun)
		b.Symptom = c.symptom
		a := b.Readings.Air
		c.spoil(a)
		times := func(warmer float64) (sweats, dries float64) {
			out, err := proof.Surface{
				Air: a.Air, DoughTemp: unit.Celsius(a.SurfaceIn.Celsius() + warmer), Activity: a.Activity, Warming: a.Warming, Origin: a.Origin, Time: b.plan.LongestDwell,
				SweatLimit: a.SweatLimit, DryLimit: a.DryLimit,
			}.Solve()
			require.NoError(t, err)
			return float64(out.Sweating), float64(out.Drying)
		}
		v, dry := times(0)
		next, drier := times(c.warmer)
		limit := float64(a.SweatLimit)
		if c.cause == line.AirDry {
			v, next, limit = dry, drier, float64(a.DryLimit)
		}
		out, err := b.Solve()
		require.NoError(t, err)
		got := out.Causes[0]
		assert.Equal(t, c.cause, got.Cause)
		assert.InEpsilon(t, v, got.Value, 1e-9)
		assert.InEpsilon(t, limit, got.Limit, 1e-9)
		assert.InEpsilon(t, math.Max(1, math.Abs(next-v)), got.Uncertainty, 1e-9)
	}
}

// Each reading wants its instrument, and what it was read on: alone, so that none hides behind another.
func TestEachReadingWantsItsInstrument(t *testing.T) {
	whole := newBench(t, roll).Readings
	mark := 18.0
	for _, c := range []struct {
		field string // of the instrument
		part  string // of the line, "" if every line has it
		order int
		read  func(r *line.Readings)
	}{
		{"thermometer", "", bun, func(r *line.Readings) { r.DoughTemp = unit.Celsius(26) }},
		{"thermometer", "", bun, func(r *line.Readings) { r.Air = whole.Air }},
		{"rule", "pocket", bun, func(r *line.Readings) { r.Grown = 100 }},
		{"rule", "", bun, func(r *line.Readings) { r.OnBelt = 100 }},
		{"rule", "moulder", roll, func(r *line.Readings) { r.Lengths = []unit.Length{150, 151} }},
		{"rule", "moulder.side_guides", roll, func(r *line.Readings) { r.Guides = 150 }},
		{"rule", "moulder.pressure_board", roll, func(r *line.Readings) { r.BoardIn = 30 }},
		{"rule", "moulder.pressure_board", roll, func(r *line.Readings) { r.BoardOut = 20 }},
		{"gauge", "moulder.first_pair", roll, func(r *line.Readings) { r.FirstGap = 8 }},
		{"gauge", "moulder", roll, func(r *line.Readings) { r.LastGap = 4 }},
		{"gauge", "moulder", roll, func(r *line.Readings) { r.Sheets = []unit.Length{6} }},
		{"counting", "", bun, func(r *line.Readings) { r.Stood = 600 }},
		{"counting", "", bun, func(r *line.Readings) { r.Cycle = 600 }},
		{"counting", "", bun, func(r *line.Readings) { r.Strokes = 20 }},
		{"counting", "stamper", bun, func(r *line.Readings) { r.Stamps = 20 }},
		{"counting", "rounder", bun, func(r *line.Readings) { r.RounderSpeed = 100 }},
		{"counting", "", roll, func(r *line.Readings) { r.Belts = whole.Belts[:1] }},
		{"scale", "", bun, func(r *line.Readings) { r.Flour = []line.FlourReading{whole.Flour[0]} }},
		{"scale", "", bun, func(r *line.Readings) { r.HopperDough = 9000 }},
		{"stickiness", "", bun, func(r *line.Readings) { r.Stickiness = 2 }},
		{"handle", "", bun, func(r *line.Readings) { r.Mark = &mark }}, // of a handle that moves freely
		{"", "final_proof", bun, func(r *line.Readings) { r.Racks = 3 }},
		{"", "stamper", bun, func(r *line.Readings) { r.StampMode = molder.TimedStamp }},
		{"", "stamper.die", bun, func(r *line.Readings) { r.Spin = molder.SpinOn }},
	} {
		b := newBench(t, c.order)
		b.Symptom, b.Readings, b.Instruments = line.OvenWaits, line.Readings{}, line.Instruments{}
		if c.field == "handle" {
			b.Line.Divider.MarkStep = 0
		}
		c.read(&b.Readings)
		fields := func() (list []string) {
			for _, e := range reckon.Wrong(b.FaultCauses) {
				list = append(list, e.Field)
			}
			return list
		}
		if c.field != "" {
			assert.Equal(t, []string{"instruments." + c.field}, fields())
		}
		b.Instruments = line.Instruments{Thermometer: 0.3, Rule: 0.5, Gauge: 0.05, Counting: 1, Scale: 2, Stickiness: 0.3, Handle: 0.2}
		assert.Empty(t, fields(), "%s: with every instrument nothing is missing", c.part)
		if c.part == "" {
			continue
		}
		b.Line.Controls, b.Line.Changing = nil, line.Changing{}
		switch l := &b.Line; c.part {
		case "pocket":
			l.Pocket, b.Order.Product.Pocketed = proof.Pocket{}, nil
		case "moulder":
			l.Moulder = line.Moulder{}
		case "moulder.side_guides":
			l.Moulder.Guides = nil
		case "moulder.pressure_board":
			l.Moulder.Board = nil
		case "moulder.first_pair":
			l.Moulder.First = nil
		case "stamper":
			l.Stamper = line.Stamper{}
		case "stamper.die":
			l.Stamper.Die, l.Stamper.Spin = "", ""
		case "rounder":
			l.Rounder, b.Order.Product.Rounding = line.Rounder{}, line.Rounding{}
		case "final_proof":
			l.FinalProof = line.FinalProof{}
		}
		assert.Contains(t, fields(), "line."+c.part, "nothing was read on what the line does not have")
	}
}

// What the whole comes to, in words: what the weighings show is said of symptoms that only weight shows.
func TestWhatTheFaultComesTo(t *testing.T) {
	for _, c := range []struct {
		id         string
		symptom    line.Symptom
		order      int
		spoil      func(b *bench)
		says       string
		not        string
		conditions string
	}{
		{"heavy pieces, and a steady mean", line.TooHeavy, bun, nil, "The mean of the pieces lies where the handle is left alone: leave it.", "Nothing", "nothing-found"},
		{"long pieces, and a steady mean", line.TooLong, loaf, nil, "Nothing that was measured is off: look where nothing can be measured.", "handle", "nothing-found"},
		{"heavy pieces, and a double", line.TooHeavy, bun, func(b *bench) { b.Readings.Weighings[1] *= 2 }, "leave the handle alone, find out why, and weigh a fresh subgroup", "Nothing", "fresh-subgroup-first"},
		{"long pieces, and a double", line.TooLong, loaf, func(b *bench) { b.Readings.Weighings[1] *= 2 }, "Nothing that was measured is off", "handle", "nothing-found"},
		{"heavy pieces, and nothing measured", line.TooHeavy, bun, func(b *bench) { b.Readings = line.Readings{} }, "Nothing that was measured is off: measure what is listed, and look where nothing can be measured.", "handle", "nothing-found"},
		{"heavy pieces, a steady mean and a cold dough", line.TooHeavy, bun, func(b *bench) { b.Readings.DoughTemp = unit.Celsius(24) }, "Make the water of the next batch warmer", "leave it", ""},
		{"nothing measured", line.TooLong, loaf, func(b *bench) { b.Readings = line.Readings{} }, "Nothing that was measured is off: measure what is listed, and look where nothing can be measured.", "handle", "nothing-found"},
		{"one thing off", line.OvenWaits, loaf, func(b *bench) { b.Readings.Racks-- }, "Bring 1 more", "Change that first", ""},
		{"two things off", line.OvenWaits, loaf, func(b *bench) { b.Readings.Racks--; b.Readings.Cycle *= 2 }, "Change that first, and look again before you change anything else.", "Nothing", "more-than-one"},
		{"a drum left in", line.NotRound, bun, func(b *bench) { b.Readings.Drum = "large cups" }, "Mend that first, and look again before you change anything else.", "Nothing", ""},
		{"a drum left in, and a slow rounder", line.NotRound, bun, func(b *bench) { b.Readings.Drum, b.Readings.RounderSpeed = "large cups", 60 }, "Mend that first", "Nothing", "more-than-one"},
	} {
		b := newBench(t, c.order)
		b.Symptom = c.symptom
		if c.spoil != nil {
			c.spoil(b)
		}
		out, err := b.Solve()
		require.NoError(t, err, c.id)
		assert.Contains(t, out.Says, c.says, c.id)
		assert.NotContains(t, out.Says, c.not, c.id)
		assert.Equal(t, c.conditions, out.Conditions.String(), c.id)
		assert.Equal(t, len(out.Causes), out.Found, c.id)
	}
	// A plan that is refused has no causes, whatever was read.
	b := newBench(t, bun)
	b.Symptom, b.Order.Product.Baked = line.TooHeavy, 5
	_, err := b.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "mark on the handle")
	b.Order.Product.Baked, b.Order.Pieces = 45, 0
	_, err = b.Solve()
	require.Len(t, reckon.InputErrors(err), 1)
	assert.Equal(t, "order.pieces", reckon.InputErrors(err)[0].Field)
}

// A cause is named beyond twice its standard uncertainty (JCGM 100:2008, 6.2 and G.6.6): counted to 1 %, 1.99 % or 2.01 % below the plan.
func TestTwiceTheUncertaintyIsACause(t *testing.T) {
	for percent, named := range map[unit.StrokeRate]bool{1.99: false, 2.01: true} {
		b := newBench(t, loaf)
		b.Symptom = line.OvenWaits
		b.Readings.Strokes = b.plan.Strokes / (1 + percent/100)
		out, err := b.Solve()
		require.NoError(t, err)
		assert.Equal(t, named, out.Found == 1, "%v %% too slow", percent)
	}
	for stickier, named := range map[float64]bool{1: false, 1.0625: true} { // just twice a half is none
		b := newBench(t, bun)
		b.Symptom, b.Instruments.Stickiness = line.StickingInPocket, 0.5
		b.Readings.Stickiness += stickier
		out, err := b.Solve()
		require.NoError(t, err)
		assert.Equal(t, named, out.Found == 1, "stickier by %v", stickier)
	}
}

// Belts that a product does not run over are neither asked for nor judged, nor are those that are geared to the line.
func TestFaultLooksAtTheProductsOwnBelts(t *testing.T) {
	for order := range 3 {
		b := newBench(t, order)
		b.Symptom, b.Readings, b.Instruments = line.Doubles, line.Readings{}, line.Instruments{}
		out, err := b.Solve()
		require.NoError(t, err)
		for _, k := range b.Line.Belts {
			own := k.BeltSpeed > 0 && (k.Route == "" || k.Route == b.Order.Product.Route)
			asked := false
			for _, m := range out.Measure {
				asked = asked || m.Measure == "Time the "+k.Name+" over a length that is chalked on it."
			}
			assert.Equal(t, own, asked, "order %d: %s", order, k.Name)
		}
	}
}
