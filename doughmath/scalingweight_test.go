package doughmath_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func onDough(p unit.Percent) doughmath.Loss {
	return doughmath.Loss{Percent: p, Basis: doughmath.LossOnDough}
}

func onBaked(p unit.Percent) doughmath.Loss {
	return doughmath.Loss{Percent: p, Basis: doughmath.LossOnBaked}
}

func ExampleScalingWeight() {
	out, err := doughmath.ScalingWeight{Baked: unit.Grams(500), Bake: onDough(12), Combine: doughmath.LossesCompounded}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("scale", out.Dough)
	// Output: scale 568.2 g
}

func ExampleBakedWeightForDough() {
	out, err := doughmath.BakedWeightForDough{Dough: unit.Ounces(3), Bake: onDough(12), Combine: doughmath.LossesCompounded}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("a roll of", out.Baked)
	// Output: a roll of 74.84 g
}

func ExampleLossFromWeights() {
	out, err := doughmath.LossFromWeights{Dough: unit.Grams(85), Baked: unit.Grams(75)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.LossOnDough, "of the dough, or", out.LossOnBaked, "of the bread")
	// Output: 11.76 % of the dough, or 13.33 % of the bread
}

func TestScalingWeightNamesEveryBadField(t *testing.T) {
	_, err := doughmath.ScalingWeight{Fermentation: onBaked(1001), Bake: onDough(100), Cooling: doughmath.Loss{Percent: -1, Basis: "bread"}, Combine: "both"}.Solve()
	assert.Equal(t, []string{"baked", "fermentation.percent", "bake.percent", "cooling.basis", "cooling.percent", "combine"}, fields(err))
	_, err = doughmath.BakedWeightForDough{Dough: unit.Mass(math.NaN()), Bake: doughmath.Loss{Percent: unit.Percent(math.NaN()), Basis: doughmath.LossOnDough}, Combine: doughmath.LossesAdded}.Solve()
	assert.Equal(t, []string{"dough", "bake.percent"}, fields(err))
	_, err = doughmath.ScalingWeight{Baked: 1, Combine: doughmath.LossesAdded}.Solve()
	assert.Equal(t, []string{"bake.basis"}, fields(err), "the bake loss is not optional")

	// Only losses on the same weight can be added, and only to less than the dough.
	_, err = doughmath.ScalingWeight{Baked: 1, Fermentation: onBaked(1), Bake: onDough(10), Cooling: onBaked(1), Combine: doughmath.LossesAdded}.Solve()
	assert.Equal(t, []string{"fermentation.basis", "cooling.basis"}, fields(err))
	_, err = doughmath.ScalingWeight{Baked: 1, Fermentation: onDough(60), Bake: onDough(40), Combine: doughmath.LossesAdded}.Solve()
	assert.ErrorContains(t, err, "they make 100 %")
	_, err = doughmath.ScalingWeight{Baked: 1, Fermentation: onDough(60), Bake: onDough(40), Combine: doughmath.LossesCompounded}.Solve()
	assert.NoError(t, err)

	_, err = doughmath.LossFromWeights{}.Solve()
	assert.Equal(t, []string{"dough", "baked"}, fields(err))
	_, err = doughmath.LossFromWeights{Dough: 100, Baked: 101}.Solve()
	assert.Equal(t, []string{"baked"}, fields(err))
	_, err = doughmath.LossFromWeights{Dough: 1e9, Baked: 1e-3}.Solve()
	assert.Equal(t, []string{"baked"}, fields(err))
}

// By hand: 100 g of bread; the bases and combinations give different dough.
func TestScalingWeightReadings(t *testing.T) {
	for _, c := range []struct {
		id   string
		f, b doughmath.Loss
		how  doughmath.LossCombination
		want float64
	}{
		{"on dough, compounded", onDough(10), onDough(20), doughmath.LossesCompounded, 100 / 0.9 / 0.8},
		{"on dough, added", onDough(10), onDough(20), doughmath.LossesAdded, 100 / 0.7},
		{"on baked, compounded", onBaked(10), onBaked(20), doughmath.LossesCompounded, 132},
		{"on baked, added", onBaked(10), onBaked(20), doughmath.LossesAdded, 130},
		{"mixed, compounded", onBaked(10), onDough(20), doughmath.LossesCompounded, 137.5},
	} {
		out, err := doughmath.ScalingWeight{Baked: 100, Fermentation: c.f, Bake: c.b, Combine: c.how}.Solve()
		require.NoError(t, err, c.id)
		assert.InDelta(t, c.want, float64(out.Dough), 1e-12*c.want, c.id)
	}
}

// The limits that the errors name are taken.
func TestLossBounds(t *testing.T) {
	out, err := doughmath.LossFromWeights{Dough: 1e9, Baked: 1e9}.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Lost)
	_, err = doughmath.LossFromWeights{Dough: 1e6, Baked: 1e-3}.Solve()
	require.NoError(t, err)
	_, err = doughmath.ScalingWeight{Baked: 1e-3, Bake: onBaked(1000), Combine: doughmath.LossesAdded}.Solve()
	require.NoError(t, err)
}

func TestLossConditions(t *testing.T) {
	for loss, want := range map[unit.Percent]doughmath.Conditions{
		0: doughmath.UnusualLoss, 4.9: doughmath.UnusualLoss, 5: 0, 30: 0, 30.1: doughmath.UnusualLoss,
	} {
		out, err := doughmath.ScalingWeight{Baked: 500, Bake: onDough(loss), Combine: doughmath.LossesAdded}.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Conditions, "%v", loss)
		assert.True(t, out.Cautions.Has(reckon.WeightsLaw))
	}
}

func TestScalingWeightThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 2000 {
		basis := func() doughmath.LossBasis {
			return []doughmath.LossBasis{doughmath.LossOnDough, doughmath.LossOnBaked}[r.IntN(2)]
		}
		loss := func() doughmath.Loss {
			return doughmath.Loss{Percent: unit.Percent(33 * r.Float64()), Basis: basis()}
		}
		in := doughmath.ScalingWeight{Baked: unit.Mass(math.Pow(10, 6*r.Float64())), Fermentation: loss(), Bake: loss(), Cooling: loss(), Combine: doughmath.LossesCompounded}
		if r.IntN(2) == 0 {
			in.Combine = doughmath.LossesAdded
			in.Fermentation.Basis, in.Cooling.Basis = in.Bake.Basis, in.Bake.Basis
		}
		out, err := in.Solve()
		require.NoError(t, err)
		back, err := doughmath.BakedWeightForDough{Dough: out.Dough, Fermentation: in.Fermentation, Bake: in.Bake, Cooling: in.Cooling, Combine: in.Combine}.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(in.Baked), float64(back.Baked), 1e-12)
		require.InDelta(t, float64(out.LossOnBaked), float64(back.LossOnBaked), 1e-9*(1+float64(out.LossOnBaked)))
		weighed, err := doughmath.LossFromWeights{Dough: out.Dough, Baked: in.Baked}.Solve()
		require.NoError(t, err)
		for _, l := range []doughmath.Loss{onDough(weighed.LossOnDough), onBaked(weighed.LossOnBaked)} {
			again, err := doughmath.ScalingWeight{Baked: in.Baked, Bake: l, Combine: doughmath.LossesCompounded}.Solve()
			require.NoError(t, err)
			require.InEpsilon(t, float64(out.Dough), float64(again.Dough), 1e-10)
		}
	}
}

func TestScalingWeightDoesNotAllocate(t *testing.T) {
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		out, err := doughmath.ScalingWeight{Baked: 500, Fermentation: onDough(1), Bake: onDough(11), Cooling: onDough(2), Combine: doughmath.LossesCompounded}.Solve()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.BakedWeightForDough{Dough: out.Dough, Bake: onDough(11), Combine: doughmath.LossesAdded}).Solve(); err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.LossFromWeights{Dough: out.Dough, Baked: 500}).Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkScalingWeight(b *testing.B) {
	in := doughmath.ScalingWeight{Baked: 500, Fermentation: onDough(1), Bake: onDough(11), Cooling: onDough(2), Combine: doughmath.LossesCompounded}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzScalingWeight(f *testing.F) {
	f.Add(500.0, 1.0, 12.0, 2.0, true, true)
	f.Add(1e9, 99.99999999999999, 99.99999999999999, 99.99999999999999, true, true)
	f.Add(1e-3, 0.0, 1e3, 1e3, false, false)
	f.Fuzz(func(t *testing.T, mass, a, b, c float64, dough, compounded bool) {
		basis, combine := doughmath.LossOnBaked, doughmath.LossesAdded
		if dough {
			basis = doughmath.LossOnDough
		}
		if compounded {
			combine = doughmath.LossesCompounded
		}
		l := [3]doughmath.Loss{{Percent: unit.Percent(a), Basis: basis}, {Percent: unit.Percent(b), Basis: basis}, {Percent: unit.Percent(c), Basis: basis}}
		out, _ := doughmath.ScalingWeight{Baked: unit.Mass(mass), Fermentation: l[0], Bake: l[1], Cooling: l[2], Combine: combine}.Solve()
		marshals(t, out)
		back, _ := doughmath.BakedWeightForDough{Dough: unit.Mass(mass), Fermentation: l[0], Bake: l[1], Cooling: l[2], Combine: combine}.Solve()
		marshals(t, back)
		loss, _ := doughmath.LossFromWeights{Dough: unit.Mass(mass), Baked: unit.Mass(a)}.Solve()
		marshals(t, loss)
	})
}
