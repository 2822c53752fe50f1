package divider_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// check is a check at mark 5 of the morning's calibration, ten pieces, target 85 g.
func check(c divider.Calibration, weight unit.Mass) divider.NextMark {
	return divider.NextMark{
		Calibration: c, Mark: 5, Weight: weight, Pieces: 10, Target: 85, MoveLimit: 1,
		MarkLow: 0, MarkHigh: 10, WayUp: "towards the hopper", WayDown: "away from the hopper",
	}
}

func ExampleNextMark() {
	fitted, err := morning().Solve()
	if err != nil {
		panic(err)
	}
	out, err := divider.NextMark{
		Calibration: fitted.Calibration, Mark: 4.8, Weight: 82.1, Pieces: 10, Target: 85, MoveLimit: 1,
		MarkStep: 0.1, MarkLow: 0, MarkHigh: 10, WayUp: "towards the hopper", WayDown: "away from the hopper",
	}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Printf("%v, %s by %.1f to mark %.1f\n", out.Action, out.Way, math.Abs(out.By), out.Mark)
	fmt.Printf("expect %v; weigh %d pieces\n", out.Expected, out.WeighNext)
	fmt.Println(out.Advice)
	// Output:
	// move, towards the hopper by 0.3 to mark 5.1
	// expect 84.62 g; weigh 10 pieces
	// Move the handle to the mark, let the dough already in the chambers clear, and weigh again: every change of the mark is followed by a weighing.
}

func TestNextMarkDecides(t *testing.T) {
	c := calibrated(t, morning()) // noise of ten pieces: 2.776 * 1.111 / sqrt(10) = 0.975 g
	for _, tc := range []struct {
		name   string
		change func(*divider.NextMark)
		action divider.Action
		has    divider.Conditions
	}{
		{"on target", func(*divider.NextMark) {}, divider.Stay, divider.NoMoveWarranted},
		{"within the noise and the limit", func(in *divider.NextMark) { in.Weight = 85.9 }, divider.Stay, divider.NoMoveWarranted},
		{"above the noise, within the limit", func(in *divider.NextMark) { in.Weight, in.Pieces = 85.9, 40 }, divider.Stay, divider.NoMoveWarranted},
		{"plainly off", func(in *divider.NextMark) { in.Weight = 87 }, divider.Move, 0},
		{"too few pieces to tell", func(in *divider.NextMark) { in.Weight, in.Pieces = 86.5, 3 }, divider.Weigh, divider.WeighMore},
		{"too few pieces, on target by chance", func(in *divider.NextMark) { in.Pieces = 3 }, divider.Stay, divider.NoMoveWarranted},
		{"few pieces, but so far off that it shows", func(in *divider.NextMark) { in.Weight, in.Pieces = 95, 2 }, divider.Move, 0},
		{"nearest mark is the one it stands on", func(in *divider.NextMark) { in.Weight, in.MarkStep = 87, 1 }, divider.Between, reckon.Rounded},
		{"the nearest mark that can be set lies the wrong way", func(in *divider.NextMark) { in.Mark, in.Weight, in.MarkStep = 5.4, 83.5, 2 }, divider.Between, reckon.Rounded},
		{"off the scale", func(in *divider.NextMark) { in.Weight, in.MarkHigh = 60, 7 }, divider.OffScale, divider.MarkOutOfRange | reckon.Extrapolated},
		{"to the last mark of the scale", func(in *divider.NextMark) { in.Weight, in.MarkStep, in.MarkHigh = 76.6, 1, 6 }, divider.Move, 0},
		{"to the first mark of the scale", func(in *divider.NextMark) { in.Weight, in.MarkStep, in.MarkLow = 93.4, 1, 4 }, divider.Move, 0},
		{"beyond the trials", func(in *divider.NextMark) { in.Weight = 70 }, divider.Move, reckon.Extrapolated},
		{"below the trials", func(in *divider.NextMark) { in.Weight = 112 }, divider.Move, reckon.Extrapolated},                          // 5 - 27/8.4 = 1.79
		{"to the lowest mark tried", func(in *divider.NextMark) { in.Weight, in.MarkStep = 110.2, 2 }, divider.Move, 0},                  // 5 - 25.2/8.4 = 2
		{"off the scale below", func(in *divider.NextMark) { in.Weight, in.MarkLow = 110, 3 }, divider.OffScale, divider.MarkOutOfRange}, // 5 - 25/8.4 = 2.02
		{"to the nearest step", func(in *divider.NextMark) { in.Weight, in.MarkStep = 82, 0.5 }, divider.Move, reckon.Rounded},           // 5 + 3/8.4 = 5.36
	} {
		t.Run(tc.name, func(t *testing.T) {
			in := check(c, 85)
			tc.change(&in)
			out, err := in.Solve()
			require.NoError(t, err)
			assert.Equal(t, tc.action, out.Action)
			assert.Equal(t, tc.has, out.Conditions)
			next := 10
			if in.MarkStep > 0 {
				next = 3 // half a step is so much that it shows at once
			}
			assert.Equal(t, next, out.WeighNext)
			if tc.action == divider.Weigh {
				assert.Equal(t, 7, out.WeighMore)
			} else {
				assert.Zero(t, out.WeighMore)
			}
			if tc.action == divider.Stay || tc.action == divider.Weigh {
				assert.Equal(t, in.Mark, out.Mark, "the handle is left alone")
				assert.Zero(t, out.By)
				assert.Empty(t, out.Way)
			}
			assert.NotEmpty(t, out.Advice)
			assert.Equal(t, tc.action == divider.Move, strings.Contains(out.Advice, "every change of the mark is followed by a weighing"))
		})
	}
}

// The shifted curve gives the target at the mark advised, whatever the shape
// and whichever way the handle works.
func TestNextMarkShiftsTheCurve(t *testing.T) {
	falling := morning()
	for i := range falling.Trials {
		falling.Trials[i].Mark = 8 - falling.Trials[i].Mark
	}
	for name, in := range map[string]divider.MarkFit{"straight": morning(), "falling": falling, "bent": bent()} {
		t.Run(name, func(t *testing.T) {
			c := calibrated(t, in)
			at := func(mark float64) unit.Mass {
				out, err := divider.WeightForMark{Calibration: c, Mark: mark, Of: divider.OfMean}.Solve()
				require.NoError(t, err)
				return out.Weight
			}
			ask := check(c, at(5)-4)
			ask.Target = at(6)
			out, err := ask.Solve()
			require.NoError(t, err)
			assert.InDelta(t, -4, float64(out.Shift), 1e-9)
			assert.InDelta(t, float64(ask.Target), float64(at(out.Mark))-4, 1e-9)
			assert.InDelta(t, float64(ask.Target), float64(out.Expected), 1e-9)
			assert.Less(t, out.Low, out.Mark)
			assert.Greater(t, out.High, out.Mark)
			want := "towards the hopper"
			if out.By < 0 {
				want = "away from the hopper"
			}
			assert.Equal(t, want, out.Way)
			assert.Equal(t, name == "falling", out.By < 0 == (ask.Weight < ask.Target), "a lower mark weighs more only where the handle works the other way")
		})
	}
}

// The doubt of the next mark is that of the check and that of the curve's rise
// between the two marks. The latter is found here by nudging each trial and
// fitting again: a fit is linear in its weights.
func TestNextMarkIntervalCarriesTheDoubtOfTheSlope(t *testing.T) {
	for name, in := range map[string]divider.MarkFit{"straight": morning(), "bent": bent()} {
		t.Run(name, func(t *testing.T) {
			in.Trials = append([]divider.Trial(nil), in.Trials...)
			in.Trials[0].Pieces, in.Trials[2].Pieces = 4, 15
			rise := func() (divider.Calibration, float64) {
				c := calibrated(t, in)
				a, err := divider.WeightForMark{Calibration: c, Mark: 5, Of: divider.OfMean}.Solve()
				require.NoError(t, err)
				b, err := divider.WeightForMark{Calibration: c, Mark: 6.5, Of: divider.OfMean}.Solve()
				require.NoError(t, err)
				return c, float64(b.Weight - a.Weight)
			}
			c, before := rise()
			variance := 0.0
			for i := range in.Trials {
				in.Trials[i].Weight++
				_, after := rise()
				in.Trials[i].Weight--
				variance += (after - before) * (after - before) * float64(c.PieceSD*c.PieceSD) / float64(in.Trials[i].Pieces)
			}
			ask := check(c, 80)
			ask.Target = 80 + unit.Mass(before) // so that the next mark is 6.5
			out, err := ask.Solve()
			require.NoError(t, err)
			require.InDelta(t, 6.5, out.ExactMark, 1e-9)
			const h = 1e-4
			a, err := divider.WeightForMark{Calibration: c, Mark: 6.5 - h, Of: divider.OfMean}.Solve()
			require.NoError(t, err)
			b, err := divider.WeightForMark{Calibration: c, Mark: 6.5 + h, Of: divider.OfMean}.Solve()
			require.NoError(t, err)
			slope := float64(b.Weight-a.Weight) / (2 * h)
			half := c.StudentT * math.Sqrt(float64(c.PieceSD*c.PieceSD)/10+variance) / slope
			assert.InEpsilon(t, half, out.High-out.ExactMark, 1e-6)
			assert.InEpsilon(t, half, out.ExactMark-out.Low, 1e-6)
		})
	}
}

func TestNextMarkRefuses(t *testing.T) {
	in := check(calibrated(t, morning()), -1)
	in.Across, in.Mark, in.Pieces, in.Target, in.MoveLimit, in.MarkStep = 4, math.NaN(), 0, 0, -1, -1
	in.Expected, in.SD, in.Label = -1, 1, -1
	in.MarkHigh, in.WayUp = 0, strings.Repeat("é", 61)
	_, err := in.Solve()
	assert.Equal(t, []string{"across", "weight", "pieces", "target", "expected", "move_limit", "mark_step", "needless", "label", "mark_high", "mark", "way_up"}, fields(err))
	assert.ErrorContains(t, err, "each number of pieces across has its own curve")
	in = check(calibrated(t, morning()), 86)
	in.MoveLimit = 0.005
	_, err = in.Solve()
	assert.ErrorContains(t, err, "widen the limit")
	in = check(calibrated(t, morning()), 86)
	in.Mark = in.MarkHigh + 1
	_, err = in.Solve()
	assert.Equal(t, []string{"mark"}, fields(err), "a handle that stands off its own scale")
}

// An off-weight divider is brought inside its limits, by two people who weigh
// ten pieces at every check: one moves after every weighing, the other does
// what NextMark says. The handle can only be set to within a hand's accuracy.
func TestFollowingNextMarkBeatsMovingEveryTime(t *testing.T) {
	const (
		target, tolerance, limit = 85.0, 3.0, 1.0
		pieceSD, handSD          = 1.1, 0.08 // g, marks
		pieces, between, checks  = 10, 200, 40
	)
	c := calibrated(t, morning())
	type tally struct{ moves, scrap int }
	run := func(seed uint64, decide func(mark, mean float64) float64) (tally, float64) {
		rng := rand.New(rand.NewPCG(seed, 85))
		// Today's dough is 5 g lighter than the trials, and the handle stands where the trials said.
		weighs := func(mark float64) float64 { return 44.57 - 5 + 8.4*mark }
		set := 4.81
		stands := set
		var sum tally
		for range checks {
			mean := 0.0
			for range pieces {
				mean += (weighs(stands) + pieceSD*rng.NormFloat64()) / pieces
			}
			hand := handSD * rng.NormFloat64()
			if next := decide(set, mean); next != set {
				sum.moves++
				set, stands = next, next+hand
			}
			for range between {
				if math.Abs(weighs(stands)+pieceSD*rng.NormFloat64()-target) > tolerance {
					sum.scrap++
				}
			}
		}
		return sum, weighs(stands)
	}
	var every, advised tally
	const seeds = 40
	for seed := range uint64(seeds) {
		e, _ := run(seed, func(mark, mean float64) float64 { return mark + (target-mean)/float64(c.Slope) })
		a, end := run(seed, func(mark, mean float64) float64 {
			out, err := divider.NextMark{
				Calibration: c, Mark: mark, Weight: unit.Mass(mean), Pieces: pieces, Target: target, MoveLimit: limit, MarkLow: 0, MarkHigh: 10,
			}.Solve()
			require.NoError(t, err)
			return out.Mark
		})
		assert.Positive(t, a.moves, "seed %d: the divider starts off weight", seed)
		assert.Less(t, a.moves, e.moves, "seed %d", seed)
		// Inside the limit, give or take what ten pieces can show.
		assert.InDelta(t, target, end, limit+c.StudentT*pieceSD/math.Sqrt(pieces), "seed %d", seed)
		every.moves, every.scrap = every.moves+e.moves, every.scrap+e.scrap
		advised.moves, advised.scrap = advised.moves+a.moves, advised.scrap+a.scrap
	}
	t.Logf("moving every time: %+v; following the advice: %+v; in %d mornings", every, advised, seeds)
	assert.Less(t, advised.scrap, every.scrap)
	assert.Less(t, advised.moves*4, every.moves)
}

func FuzzNextMark(f *testing.F) {
	f.Add(5.0, 87.0, 10, 85.0, 1.0, 0.1)
	f.Add(-1e9, 1e9, 1, 1e-9, 1e9, 1e-300)
	straight, curve := calibrated(f, morning()), calibrated(f, bent())
	f.Fuzz(func(t *testing.T, mark, weight float64, pieces int, target, limit, division float64) {
		for _, c := range []divider.Calibration{straight, curve} {
			out, err := divider.NextMark{
				Calibration: c, Mark: mark, Weight: unit.Mass(weight), Pieces: pieces,
				Target: unit.Mass(target), MoveLimit: unit.Mass(limit), MarkStep: division, MarkLow: 0, MarkHigh: 10,
			}.Solve()
			if err == nil {
				finite(t, out.Mark, out.By, out.ExactMark, out.Low, out.High, float64(out.Off), float64(out.Shift), float64(out.Noise), float64(out.Expected))
			}
		}
	})
}

func BenchmarkNextMark(b *testing.B) {
	in := check(calibrated(b, morning()), 87)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = in.Solve()
	}
}

// On a curve that grows steeper half a step about the mark that is set weighs less than half a step higher up. A mark weighs
// 8.4 g at mark 4, and u marks on 8.4*u + 0.5*u*u more: a mean 8.5 g short, further off than half a step of two marks, wants 0.96 marks,
// and the nearest that can be set is still the one it is at. 10.3 g want 1.15 marks, and mark 6 is nearer.
func TestNoMoveBringsTheMeanNearer(t *testing.T) {
	c := calibrated(t, morning())
	c.Shape, c.Curve, c.Sqq, c.DegreesOfFreedom = divider.Quadratic, 0.5, 1e6, 3
	c.ResidualSD, c.PieceSD = 0.01, 0.01
	at, err := divider.WeightForMark{Calibration: c, Mark: 4, Of: divider.OfMean}.Solve()
	require.NoError(t, err)
	q := divider.NextMark{Calibration: c, Mark: 4, Weight: at.Weight, Pieces: 10, Target: at.Weight + 8.5, MarkStep: 2, MarkLow: 0, MarkHigh: 10}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, divider.Between, out.Action)
	assert.Equal(t, divider.Conditions(reckon.Rounded), out.Conditions)
	assert.Zero(t, out.By)
	assert.Zero(t, out.Cautions)
	q.Target = at.Weight + 10.3
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, divider.Move, out.Action)
	assert.Equal(t, 6.0, out.Mark)
}

// The next check is large enough to show the limit: (z*s/L)^2 pieces, z = 2.05375 at 98 % (any table); three at least.
func TestPiecesOfTheNextCheck(t *testing.T) {
	c := calibrated(t, morning())
	for _, tc := range []struct {
		limit unit.Mass
		want  int
	}{{0.01, 422}, {0.1, 5}, {0.2, 3}, {5, 3}} { // 421.79, 4.22, 1.05 and less
		in := check(c, 85)
		in.Pieces, in.SD, in.Needless, in.MoveLimit = 16, 0.1, divider.NeedlessMoves, tc.limit
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, tc.want, out.WeighNext, "%v", tc.limit)
	}
}

// A curve that turns is told as that, however little its trials say of its slope.
func TestTurningIsToldFirst(t *testing.T) {
	c := calibrated(t, bent())
	c.Slope, c.ResidualSD = 0, 60
	_, err := check(c, 87).Solve()
	assert.ErrorContains(t, err, "one weight has two marks")
}

// A mean that lies off by more than half a step, and in the scatter about what the set mark gives: with as many pieces as show half a
// step nothing more is to be weighed. A mark weighs 10 g and the handle goes by tenths; z is 2.05375 at 98 %.
func TestNoMoreToWeigh(t *testing.T) {
	c := calibrated(t, morning())
	c.Slope = 10
	for _, noise := range []unit.Mass{0.3, 0.49, 0.51} { // of 16 pieces; 6, 16 and 17 show half a gram
		out, err := divider.NextMark{
			Calibration: c, Mark: 4.8, Weight: 85.6, Pieces: 16, Target: 85, Expected: 85.4, MarkStep: 0.1,
			SD: noise * 4 / 2.053749, Needless: divider.NeedlessMoves, MarkLow: 0, MarkHigh: 10,
		}.Solve()
		require.NoError(t, err)
		if noise > 0.5 {
			assert.Equal(t, divider.Weigh, out.Action)
			assert.Equal(t, 1, out.WeighMore)
			continue
		}
		assert.Equal(t, divider.Stay, out.Action, "%v", noise)
		assert.Zero(t, out.WeighMore, "%v", noise)
		assert.Equal(t, divider.NoMoveWarranted, out.Conditions, "%v", noise)
	}
}

// A scale without a length is told once, and not of the mark that would stand on it.
func TestScaleWithoutLength(t *testing.T) {
	in := check(calibrated(t, morning()), 85)
	in.MarkLow, in.MarkHigh = 7, 7
	_, err := in.Solve()
	assert.Equal(t, []string{"mark_high"}, fields(err))
}

// Half a step off, no mark comes nearer; a mark weighs 10 g and the handle goes by tenths.
func TestHalfAStepOff(t *testing.T) {
	c := calibrated(t, morning())
	c.Slope = 10
	for _, weight := range []unit.Mass{84.5, 85.5} {
		out, err := divider.NextMark{
			Calibration: c, Mark: 4.8, Weight: weight, Pieces: 16, Target: 85, Expected: 85, MarkStep: 0.1,
			SD: 0.01, Needless: divider.NeedlessMoves, MarkLow: 0, MarkHigh: 10,
		}.Solve()
		require.NoError(t, err)
		assert.Equal(t, divider.Between, out.Action)
	}
}

// A line without words of its own has ours, also for the least of moves.
func TestWayWithoutWords(t *testing.T) {
	c := calibrated(t, morning())
	for _, off := range []unit.Mass{3, 0.05} { // 0.05 g are 0.006 marks
		for way, weight := range map[string]unit.Mass{"to a higher mark": 85 - off, "to a lower mark": 85 + off} {
			in := check(c, weight)
			in.WayUp, in.WayDown, in.MoveLimit, in.SD, in.Needless, in.Expected = "", "", 0, 0.01, divider.NeedlessMoves, 85
			out, err := in.Solve()
			require.NoError(t, err)
			assert.Equal(t, divider.Move, out.Action)
			assert.Equal(t, way, out.Way)
		}
	}
}
