package divider_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// judged is a subgroup of pieces about 85 g that scatter by 1 g, at a handle that moves freely.
func judged(weights ...float64) divider.WeighingVerdict {
	return divider.WeighingVerdict{Weighings: grams(weights...), Expected: 85, Target: 85, PerMark: 8.4, SD: 1, Needless: divider.NeedlessMoves}
}

func ExampleWeighingVerdict() {
	out, err := divider.WeighingVerdict{
		Weighings: []unit.Mass{84.6, 85.3, 171.2, 84.9, 85.8}, Expected: 85, Target: 85, PerMark: 8.4, MarkStep: 0.1, SD: 1, Needless: divider.NeedlessMoves,
	}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Finding, "at piece", out.Piece)
	fmt.Println(out.LookAt)
	fmt.Println(out.Advice)
	// Output:
	// double at piece 3
	// Two pieces have stuck together: look at the drop into the rounder, at the belts and the gaps between pieces on them, and at the dusting.
	// Leave the handle alone: this subgroup says nothing of the mark. Find the cause, and weigh a fresh subgroup.
}

func TestWeighingVerdictFinds(t *testing.T) {
	for _, tc := range []struct {
		id      string
		weights []float64
		finding divider.Finding
		piece   int
	}{
		{"steady", []float64{84.6, 85.3, 85.1, 84.2, 85.9}, divider.FoundSteady, 0},
		{"heavy", []float64{86.6, 87.3, 87.1, 86.2, 87.9}, divider.FoundMark, 0},
		{"light", []float64{82.6, 83.3, 83.1, 82.2, 83.9}, divider.FoundMark, 0},
		{"double", []float64{84.6, 170.3, 85.1, 84.2, 85.9}, divider.FoundDouble, 2},
		{"two doubles of four", []float64{84.6, 170.3, 85.1, 169}, divider.FoundDouble, 2},
		{"three doubles of five", []float64{84.6, 170.3, 171, 85.2, 169}, divider.FoundDouble, 3},
		{"all double", []float64{168, 170.3, 171}, divider.FoundDouble, 3},
		{"double of two", []float64{84.6, 170.3}, divider.FoundDouble, 2},
		{"double of one", []float64{170.3}, divider.FoundDouble, 1},
		{"a double of light pieces", []float64{80.1, 80.6, 161, 79.9, 80.2}, divider.FoundDouble, 3},
		{"torn", []float64{84.6, 85.3, 41.2, 84.2, 85.9}, divider.FoundTorn, 3},
		{"three torn of five", []float64{42, 85.3, 41.2, 84.2, 43}, divider.FoundTorn, 3},
		{"torn of two", []float64{84.6, 43}, divider.FoundTorn, 2},
		{"a piece with the half of another", []float64{84.6, 43, 85, 85.2, 130}, divider.FoundDouble, 5},
		{"outlier", []float64{84.6, 85.3, 91, 84.2, 85.9}, divider.FoundOutlier, 3},
		{"light outlier", []float64{84.6, 79, 85.1, 84.2, 85.9}, divider.FoundOutlier, 2},
		{"spread", []float64{83, 87.4, 82.8, 87.2, 85}, divider.FoundSpread, 0},
		{"spread of two", []float64{87, 83}, divider.FoundSpread, 0},
		{"one piece", []float64{85.4}, divider.FoundSteady, 0},
	} {
		t.Run(tc.id, func(t *testing.T) {
			out, err := judged(tc.weights...).Solve()
			require.NoError(t, err)
			assert.Equal(t, tc.finding, out.Finding, "%+v", out)
			assert.Equal(t, tc.piece, out.Piece)
			stops := tc.finding != divider.FoundSteady && tc.finding != divider.FoundMark
			assert.Equal(t, stops, out.LookAt != "")
			says, warns := divider.FreshSubgroup, reckon.MovingBelt|reckon.MovingMachinery|reckon.LockedOut
			switch tc.finding {
			case divider.FoundSteady:
				says, warns = divider.NoMoveWarranted, reckon.MovingBelt
			case divider.FoundMark:
				says, warns = 0, reckon.MovingBelt
			}
			assert.Equal(t, says, out.Conditions)
			assert.Equal(t, warns, out.Cautions)
			assert.NotEmpty(t, out.Advice)
		})
	}
}

// Each limit by a weight on either side. Of five pieces an outlier lies above z_G = 3.0902 (normal, at 0.999), a
// spread above sqrt(13.2767/4) = 1.8219 (chi-square at 99 % with 4 degrees of freedom), and a mean of the band has
// 2.0537/sqrt(5) = 0.91846 of a deviation (normal, at 98 %); all of them from any table.
func TestWeighingVerdictLimits(t *testing.T) {
	with := func(sd unit.Mass, weights ...float64) divider.WeighingVerdict {
		q := judged(weights...)
		q.SD = sd
		return q
	}
	alike := func(w float64) divider.WeighingVerdict { return judged(w, w, w, w, w) }
	for _, tc := range []struct {
		id      string
		q       divider.WeighingVerdict
		finding divider.Finding
		piece   int
	}{
		// One of five lies a off the others, and 0.8*a/sqrt(0.8) of a deviation off the mean: 3.0902/sqrt(0.8) = 3.4550.
		{"not yet an outlier", with(1, 85, 85, 85, 85, 88.45), divider.FoundSteady, 0},
		{"outlier", with(1, 85, 85, 85, 85, 88.46), divider.FoundOutlier, 5},
		{"not yet a light outlier", with(1, 85, 81.55, 85, 85, 85), divider.FoundSteady, 0},
		{"light outlier", with(1, 85, 81.54, 85, 85, 85), divider.FoundOutlier, 2},
		// Of two pieces b off either way s_w = b*sqrt(2), and chi-square at 99 % with one degree of freedom is 6.6349.
		{"not yet a spread of two", judged(86.82, 83.18), divider.FoundSteady, 0},
		{"spread of two", judged(86.822, 83.178), divider.FoundSpread, 0},
		// Of three there is an outlier: it lies sqrt(2/3)*a of a deviation off, 2.9352/0.81650 = 3.5949.
		{"not yet an outlier of three", judged(83.2, 83.2, 86.79), divider.FoundSteady, 0},
		{"outlier of three", judged(83.2, 83.2, 86.80), divider.FoundOutlier, 3},
		{"two outliers alike: the first", with(0.3, 84, 85, 86), divider.FoundOutlier, 1},
		// A double has half as much again as its neighbour, and more than z_G deviations more.
		{"not yet half as much again", judged(85, 85, 127.49, 85, 85), divider.FoundOutlier, 3},
		{"half as much again", judged(85, 85, 127.5, 85, 85), divider.FoundDouble, 3},
		{"two doubles alike: the first", judged(170, 85, 170, 85, 85), divider.FoundDouble, 1},
		{"half as much again, of coarse pieces", with(20, 85, 85, 85, 85, 146.8), divider.FoundSteady, 0}, // 85 + 61.8046
		{"a double of coarse pieces", with(20, 85, 85, 85, 85, 146.81), divider.FoundDouble, 5},
		{"all but doubles", alike(127.49), divider.FoundMark, 0},
		{"all doubles", alike(127.5), divider.FoundDouble, 1},
		// A torn piece has three quarters of its neighbour, and z_G deviations less.
		{"not yet torn", judged(85, 63.76, 85, 85, 85), divider.FoundOutlier, 2},
		{"torn", judged(85, 63.75, 85, 85, 85), divider.FoundTorn, 2},
		{"two torn alike: the first", judged(85, 40, 85, 40, 85), divider.FoundTorn, 2},
		{"light, of coarse pieces", with(10, 85, 54.1, 85, 85, 85), divider.FoundSteady, 0}, // 85 - 30.9023
		{"torn of coarse pieces", with(10, 85, 54.09, 85, 85, 85), divider.FoundTorn, 2},
		{"all but torn", alike(63.76), divider.FoundMark, 0},
		{"all torn", alike(63.75), divider.FoundTorn, 1},
		// 85 -+ 0.91846
		{"the lightest steady mean", alike(84.0816), divider.FoundSteady, 0},
		{"a mean too light", alike(84.0815), divider.FoundMark, 0},
		{"the heaviest steady mean", alike(85.9184), divider.FoundSteady, 0},
		{"a mean too heavy", alike(85.9185), divider.FoundMark, 0},
	} {
		out, err := tc.q.Solve()
		require.NoError(t, err)
		assert.Equal(t, tc.finding, out.Finding, "%s: %+v", tc.id, out)
		assert.Equal(t, tc.piece, out.Piece, tc.id)
	}
	for _, tc := range []struct {
		weights []float64
		want    unit.Mass // the middle one; of two the nearer to 85 g
	}{{[]float64{80, 84, 90}, 84}, {[]float64{84, 80, 88, 90}, 84}, {[]float64{80, 78, 86, 90}, 86}, {[]float64{84, 86}, 84}, {[]float64{85.5}, 85.5}} {
		out, err := judged(tc.weights...).Solve()
		require.NoError(t, err)
		assert.Equal(t, tc.want, out.Neighbours, "%v", tc.weights)
	}
}

// day is a divider behind one handle, checked by the sheet's own rule.
type day struct {
	next   divider.NextMark
	n      int
	target float64
	sd     float64
	rng    *rand.Rand
}

// checked weighs a subgroup about a mean, spoils a piece of it if asked to, and
// returns what is found and whether the handle is moved.
func (d *day) checked(t *testing.T, mean float64, spoil func(unit.Mass) unit.Mass) (divider.Finding, bool) {
	x := make([]unit.Mass, d.n)
	sum := 0.0
	for i := range x {
		x[i] = unit.Mass(mean + d.sd*d.rng.NormFloat64())
	}
	if spoil != nil {
		i := d.rng.IntN(d.n)
		x[i] = spoil(x[i])
	}
	for _, m := range x {
		sum += float64(m) / float64(d.n)
	}
	q := d.next
	verdict, err := divider.WeighingVerdict{
		Weighings: x, Expected: q.Expected, Target: q.Target, PerMark: q.Calibration.Slope, MarkStep: q.MarkStep, SD: q.SD, Needless: q.Needless,
	}.Solve()
	require.NoError(t, err)
	if verdict.Finding != divider.FoundMark {
		return verdict.Finding, false
	}
	q.Weight, q.Pieces = unit.Mass(sum), d.n
	out, err := q.Solve()
	require.NoError(t, err)
	require.Equal(t, divider.Move, out.Action, "the mark was found, and next-mark agrees")
	return verdict.Finding, true
}

// Simulated days with the sheet's own rule: hardly a needless move while the
// divider runs as planned, none at all on a double or a torn piece, and a shift
// of the size that the band names found nine times in ten.
func TestSimulatedDays(t *testing.T) {
	c := calibrated(t, morning())
	const checks = 4000
	for i, plan := range []struct {
		sd, step, off float64
		n             int
	}{{1.1, 0.1, 0.3, 11}, {1.1, 0, 0, 5}, {0.6, 0.2, -0.8, 8}, {3, 0.1, 0.2, 20}} {
		d := day{n: plan.n, target: 85, sd: plan.sd, rng: rand.New(rand.NewPCG(uint64(i), 85))}
		d.next = divider.NextMark{
			Calibration: c, Mark: 4.8, Target: 85, Expected: unit.Mass(85 + plan.off), MarkStep: plan.step, MarkLow: 0, MarkHigh: 10,
			SD: unit.Mass(plan.sd), Needless: divider.NeedlessMoves,
		}
		band, err := divider.HandleBand{
			Expected: d.next.Expected, Target: 85, PerMark: c.Slope, MarkStep: plan.step, SD: d.next.SD, Pieces: plan.n, Needless: divider.NeedlessMoves,
		}.Solve()
		require.NoError(t, err)
		share := func(mean float64, spoil func(unit.Mass) unit.Mass) (moves, clean float64) {
			moved, stopped := 0, 0
			for range checks {
				found, m := d.checked(t, mean, spoil)
				switch {
				case m:
					moved++
				case found != divider.FoundSteady:
					stopped++
				}
			}
			return float64(moved) / checks, float64(checks-stopped) / checks
		}
		mean := float64(d.next.Expected)
		needless, clean := share(mean, nil)
		assert.Less(t, needless, 0.05, "plan %d", i)
		assert.Less(t, needless, float64(band.NeedlessChance)/100+0.01, "plan %d", i)
		assert.Greater(t, clean, 0.97, "plan %d: a steady divider is seldom stopped", i)
		for _, shift := range []unit.Mass{band.ShiftUp, -band.ShiftDown} {
			found, clean := share(mean+float64(shift), nil)
			assert.InDelta(t, 0.9, found/clean, 0.025, "plan %d, shift %v", i, shift)
		}
		for name, spoil := range map[string]func(unit.Mass) unit.Mass{
			"double": func(m unit.Mass) unit.Mass { return m + unit.Mass(85+plan.sd*d.rng.NormFloat64()) },
			"torn":   func(m unit.Mass) unit.Mass { return m * unit.Mass(0.35+0.3*d.rng.Float64()) },
		} {
			moves, _ := share(mean, spoil)
			assert.Zero(t, moves, "plan %d: a %s is not the mark", i, name)
		}
		t.Logf("plan %d: %.1f %% needless moves, %.1f %% stopped", i, 100*needless, 100*(1-clean))
	}
}

func TestWeighingVerdictRefuses(t *testing.T) {
	q := divider.WeighingVerdict{Weighings: grams(85, -1), Needless: 50}
	_, err := q.Solve()
	assert.Equal(t, []string{"weighings[1]", "expected", "target", "sd", "needless"}, fields(err))
	q = judged()
	_, err = q.Solve()
	assert.Equal(t, []string{"weighings"}, fields(err))
}

func TestWeighingVerdictShowsItsWorking(t *testing.T) {
	for _, weights := range [][]float64{{85}, {85, 86}, {85, 86, 84.5}, {85, 86, 170, 84}, {85, 86, 84.2, 85.5, 85.1}} {
		q := judged(weights...)
		holdsWhenWorkedByHand(t, q)
		q.MarkStep, q.Label, q.MoveLimit = 0.1, 84, 1
		holdsWhenWorkedByHand(t, q)
	}
}

func FuzzWeighingVerdict(f *testing.F) {
	f.Add(85.0, 84.0, 170.0, 86.0, 1.0)
	f.Add(1e5, 1e-3, 1e-3, 1e5, 1e-6)
	f.Fuzz(func(t *testing.T, a, b, c, d, sd float64) {
		q := judged(a, b, c, d)
		q.SD = unit.Mass(sd)
		out, err := q.Solve()
		if err == nil {
			finite(t, float64(out.Mean), float64(out.FoundSD), float64(out.SDLimit), out.Deviation, float64(out.Low), float64(out.High))
		}
	})
}

func BenchmarkWeighingVerdict(b *testing.B) {
	q := judged(84.6, 85.3, 85.1, 84.2, 85.9)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = q.Solve()
	}
}
