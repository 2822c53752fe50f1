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

func ExampleWaterDraw() {
	q := doughmath.WaterDraw{Water: unit.Kilograms(40), NeededTemp: unit.Celsius(-4), Tap: unit.Celsius(18), HotTap: unit.Celsius(60), Division: unit.Grams(50)}
	for _, needed := range []float64{-4, 27} {
		q.NeededTemp = unit.Celsius(needed)
		out, err := q.Solve()
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(out.Ice, "of ice,", out.TapWater, "from the tap,", out.HotWater, "hot")
	}
	// Output:
	// 9 kg of ice, 31 kg from the tap, 0 g hot
	// 0 g of ice, 31.45 kg from the tap, 8.55 kg hot
}

// The kilograms lead back to the water needed through the calculations for ice
// and for two waters, within what rounding to the scale moves.
func TestWaterDrawThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 1))
	iced, mixed := 0, 0
	for range 3000 {
		q := doughmath.WaterDraw{
			Water: unit.Mass(1000 + 1e5*r.Float64()), NeededTemp: unit.Celsius(-60 + 110*r.Float64()),
			Tap: unit.Celsius(2 + 20*r.Float64()), HotTap: unit.Celsius(40 + 40*r.Float64()),
		}
		if r.IntN(2) == 0 {
			q.Division = []unit.Mass{1, 5, 20, 50, 200}[r.IntN(5)]
		}
		if q.HotTap.Less(q.NeededTemp) {
			continue
		}
		out, w, err := reckon.Explain(q)
		require.NoError(t, err)
		isTrue(t, w)
		require.InDelta(t, float64(q.Water), float64(out.Ice+out.TapWater+out.HotWater), 1e-9, "what is weighed adds up")
		require.False(t, out.Ice > 0 && out.HotWater > 0)
		acts := out.ActsLike
		if out.Ice > 0 {
			iced++
			back, err := doughmath.TemperatureForIce{Water: q.Water, Tap: q.Tap, Ice: out.Ice, Reading: doughmath.IceReplacing}.Solve()
			require.NoError(t, err)
			require.InDelta(t, back.WaterTemp.Celsius(), acts.Celsius(), 1e-9)
		} else {
			mixed++
			back, err := doughmath.TemperatureForWaterMix{ColdWater: out.TapWater, Cold: q.Tap, HotWater: out.HotWater, Hot: q.HotTap}.Solve()
			require.NoError(t, err)
			require.InDelta(t, back.Temperature.Celsius(), acts.Celsius(), 1e-9)
		}
		near := 1e-9
		if q.Division > 0 {
			near += float64(q.Division/q.Water) / 2 * (q.HotTap.Celsius() + 80)
			for _, m := range []unit.Mass{out.Ice, out.HotWater} {
				require.InDelta(t, math.Round(float64(m/q.Division)), float64(m/q.Division), 1e-9)
			}
		}
		require.InDelta(t, q.NeededTemp.Celsius(), acts.Celsius(), near)
		require.Equal(t, out.Ice > 0, out.Cautions.Has(reckon.IceHandling))
	}
	assert.Greater(t, iced, 500)
	assert.Greater(t, mixed, 500)
}

func TestWaterDrawEdges(t *testing.T) {
	q := doughmath.WaterDraw{Water: 4000, NeededTemp: unit.Celsius(17.9), Tap: unit.Celsius(18), Division: 50}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Ice, "4 g are less than half a division")
	assert.Equal(t, doughmath.Conditions(reckon.Rounded), out.Conditions)
	assert.Zero(t, out.Cautions, "no ice, nothing to handle")
	assert.Equal(t, unit.Celsius(18), out.ActsLike)

	q.NeededTemp = unit.Celsius(18.1)
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.WarmerThanTap, out.Conditions)
	assert.Equal(t, unit.Mass(4000), out.TapWater)
	q.NeededTemp = unit.Celsius(math.Nextafter(18, 19))
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions, "a residue is not warmer")

	var none *reckon.NoSolutionError
	q.HotTap, q.NeededTemp = unit.Celsius(40), unit.Celsius(41)
	_, err = q.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"-80 °C", "40 °C"}, [2]string{none.Low, none.High})
	q.NeededTemp = unit.Celsius(-81)
	_, err = q.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"-80 °C", "40 °C"}, [2]string{none.Low, none.High}, "from all ice to the hot tap")
	q.HotTap = unit.Temp{}
	_, err = q.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"-80 °C", "18 °C"}, [2]string{none.Low, none.High}, "from all ice to the only tap")
	q.HotTap = unit.Celsius(40)

	q.NeededTemp, q.Division, q.Water = unit.Celsius(-80), 50, 1040
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(1000), out.Ice, "all the whole divisions that the water has")
	assert.Equal(t, unit.Mass(40), out.TapWater)

	_, err = doughmath.WaterDraw{Water: 10, NeededTemp: unit.Celsius(-300), Tap: unit.Celsius(20), HotTap: unit.Celsius(20), Division: 11}.Solve()
	assert.Equal(t, []string{"needed_temp", "hot_tap", "division"}, fields(err))
}

// By hand: 40 kg from a tap of 18 °C and a hot one of 60 °C, and what is next to nothing of them.
func TestWaterDrawTakes(t *testing.T) {
	const handling, hot, lifting = reckon.IceHandling, reckon.HotWater, reckon.Lifting
	for _, c := range []struct {
		id               string
		water            unit.Mass
		needed, tap, hot float64
		ice, hotWater    float64
		conditions       doughmath.Conditions
		cautions         reckon.Cautions
	}{
		{"a mix, and nothing is rounded", 40000, 27, 18, 60, 0, 40000 * 9 / 42.0, 0, hot | lifting},
		{"hardly warmer", 40000, 18.005, 18, 60, 0, 40000 * 0.005 / 42, 0, hot | lifting},
		{"by a binary digit colder", 40000, math.Nextafter(18, 17), 18, 60, 0, 0, 0, lifting},
		{"ice without a hot tap", 4000, 8, 18, 0, 4000 * 10 / 98.0, 0, 0, handling},
		{"a drop, warmed", 0.02, 20, 10, 50, 0, 0.005, 0, hot},
		{"a drop, cooled", 0.02, 0, 20, 0, 0.004, 0, 0, handling},
		{"a cold tap of 43 °C", 4000, 43, 43, 0, 0, 0, 0, 0},
		{"a hotter one", 4000, 43.4, 43.4, 0, 0, 0, 0, hot},
		{"a drop of it", 0.01, 50, 50, 0, 0, 0, 0, hot},
		{"all ice, and none of the warm tap", 4000, -80, 50, 0, 4000, 0, doughmath.MuchIce, handling},
	} {
		q := doughmath.WaterDraw{Water: c.water, NeededTemp: unit.Celsius(c.needed), Tap: unit.Celsius(c.tap)}
		if c.hot != 0 {
			q.HotTap = unit.Celsius(c.hot)
		}
		out, err := q.Solve()
		require.NoError(t, err, c.id)
		assert.InDelta(t, c.ice, float64(out.Ice), 1e-9, c.id)
		assert.InDelta(t, c.hotWater, float64(out.HotWater), 1e-9, c.id)
		if c.hotWater == 0 && c.ice == 0 {
			assert.Equal(t, c.water, out.TapWater, c.id)
		}
		assert.InDelta(t, c.needed, out.ActsLike.Celsius(), 1e-9, c.id)
		assert.Equal(t, c.conditions, out.Conditions, c.id)
		assert.Equal(t, c.cautions, out.Cautions, c.id)
	}
}

// 98 kg for -24.7 °C from a tap of 18 °C are 98*42.7/98 kg of ice: whole divisions, whatever binary arithmetic adds.
func TestWaterDrawOfWholeDivisions(t *testing.T) {
	out, err := doughmath.WaterDraw{Water: 98000, NeededTemp: unit.Celsius(-24.7), Tap: unit.Celsius(18), Division: 50}.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(42700), out.Ice)
	assert.Equal(t, doughmath.MuchIce, out.Conditions)
}

func TestWaterDrawRefuses(t *testing.T) {
	for _, c := range []struct {
		water, division unit.Mass
		want            []string
	}{
		{4000, 0.001, nil},
		{4000, 4000, nil},
		{0.005, 0.005, nil},
		{4000, 0.00099, []string{"division"}},
		{4000, -1, []string{"division"}},
		{4000, 4001, []string{"division"}},
		{0.005, 0.00501, []string{"division"}},
		{4000, 2e9, []string{"division"}},
		{0, 50, []string{"water"}},
		{-1, 50, []string{"water"}},
		{0, -1, []string{"water", "division"}},
	} {
		_, err := doughmath.WaterDraw{Water: c.water, NeededTemp: unit.Celsius(10), Tap: unit.Celsius(18), Division: c.division}.Solve()
		assert.Equal(t, c.want, fields(err), "%v of %v", c.division, c.water)
	}
	_, err := doughmath.WaterDraw{Water: 4000, NeededTemp: unit.Celsius(10), Tap: unit.Celsius(18), Division: 2e9}.Solve()
	assert.ErrorContains(t, err, "no more than the water of 4 kg")
	for _, needed := range []float64{-81, 61} {
		out, err := doughmath.WaterDraw{Water: 4000, NeededTemp: unit.Celsius(min(needed, 60)), Tap: unit.Celsius(18), HotTap: unit.Celsius(55)}.Solve()
		require.Error(t, err)
		assert.Zero(t, out, "what cannot be drawn is not weighed")
	}
	_, err = doughmath.WaterForBase{Base: 40, FlourTemp: unit.Celsius(21), WaterSupply: doughmath.WaterSupply{Tap: unit.Celsius(18)}}.Solve()
	assert.Equal(t, []string{"water"}, fields(err))
}

// What the water does to the yeast is said whether or not it is weighed, and the working leads to the kilograms.
func TestKilogramsKeepWhatIsSaidOfTheWater(t *testing.T) {
	q := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(22), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23), Friction: 14, Basis: doughmath.FrictionOnce,
		YeastUse: doughmath.YeastUse{Yeast: doughmath.InstantYeast}, WaterSupply: doughmath.WaterSupply{Water: 10000, Tap: unit.Celsius(18)},
	}
	out, w, err := reckon.Explain(q) // water of 8 °C
	require.NoError(t, err)
	assert.Equal(t, doughmath.ColdForDryYeast, out.Conditions)
	assert.Equal(t, reckon.IceHandling, out.Cautions)
	shown := map[string]float64{}
	for _, s := range w.Steps {
		shown[s.Symbol] = s.Value
	}
	assert.InDelta(t, 10000*10/98.0, shown["m_ice"], 1e-9)
	assert.InDelta(t, 10000*88/98.0, shown["m_t"], 1e-9)
}

// With water and tap an answer leads with kilograms, and says no more that
// water cannot be below freezing. By hand: 40 kg at 18 °C for -4 °C is 40*22/98 kg of ice.
func TestAnswersLeadWithKilograms(t *testing.T) {
	q := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(18), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23), Friction: 14, Basis: doughmath.FrictionOnce,
	}
	bare, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.BelowFreezing, bare.Conditions)
	assert.Zero(t, bare.Weigh)
	q.WaterSupply = doughmath.WaterSupply{Water: 40000, Tap: unit.Celsius(18), HotTap: unit.Celsius(60)}
	out, w, err := reckon.Explain(q)
	require.NoError(t, err)
	isTrue(t, w)
	assert.InDelta(t, 40000*22/98.0, float64(out.Weigh.Ice), 1e-9)
	assert.InDelta(t, 40000*76/98.0, float64(out.Weigh.TapWater), 1e-9)
	assert.Zero(t, out.Conditions)
	assert.Equal(t, reckon.IceHandling|reckon.Lifting, out.Cautions)

	base := doughmath.WaterForBase{Base: 40, FlourTemp: unit.Celsius(21), Room: unit.Celsius(23), WaterSupply: q.WaterSupply}
	same, w, err := reckon.Explain(base)
	require.NoError(t, err)
	isTrue(t, w)
	assert.Equal(t, out.Weigh, same.Weigh)
	next := doughmath.BaseCorrection{Base: 46, Factors: 3, WaterTemp: unit.Celsius(2), TargetTemp: unit.Celsius(18), GotTemp: unit.Celsius(20), WaterSupply: q.WaterSupply}
	corrected, w, err := reckon.Explain(next)
	require.NoError(t, err)
	isTrue(t, w)
	assert.Equal(t, out.Weigh, corrected.Weigh)

	q.TargetTemp = unit.Celsius(28) // water of 26 °C
	out, w, err = reckon.Explain(q)
	require.NoError(t, err)
	isTrue(t, w)
	assert.InDelta(t, 40000*8/42.0, float64(out.Weigh.HotWater), 1e-9)
	assert.Equal(t, reckon.HotWater|reckon.Lifting, out.Cautions)

	q.WaterSupply = doughmath.WaterSupply{HotTap: unit.Celsius(60)}
	_, err = q.Solve()
	assert.Equal(t, []string{"water", "tap"}, fields(err))
	q.WaterSupply = doughmath.WaterSupply{Water: 40000, Tap: unit.Celsius(18)}
	q.TargetTemp, q.Friction = unit.Celsius(0), 50
	_, err = q.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none, "kilograms that do not exist are not handed out")
}

// The kilograms by the heat balance bring the dough to the target, and are those that the ice calculation finds.
func TestHeatBalanceLeadsWithKilograms(t *testing.T) {
	q := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(24), Tap: unit.Celsius(16), HotTap: unit.Celsius(55)}
	q.Work = 40
	_, err := q.Solve()
	assert.Equal(t, []string{"ice_temp"}, fields(err))
	q.IceTemp = unit.Celsius(-8)
	for _, m := range []doughmath.Melting{{}, {Heat: doughmath.MeltingTrade}} {
		q.Melting = m
		out, w, err := reckon.Explain(q)
		require.NoError(t, err)
		isTrue(t, w)
		batch := q.MixingBatch
		batch.Ingredients = append([]doughmath.HeatIngredient(nil), batch.Ingredients...)
		batch.Ingredients[1].Temp = q.Tap
		ice, err := doughmath.IceForMixingHeat{MixingBatch: batch, TargetTemp: q.TargetTemp, Reading: doughmath.IceReplacing}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(ice.Ice), float64(out.Weigh.Ice), 1e-12)
		assert.False(t, out.Conditions.Has(doughmath.BelowFreezing))
		assert.True(t, out.Cautions.Has(reckon.IceHandling))
	}
	q.Work = 0
	out, w, err := reckon.Explain(q)
	require.NoError(t, err)
	isTrue(t, w)
	assert.Positive(t, out.Weigh.HotWater)
	assert.InDelta(t, out.WaterTemp.Celsius(), out.Weigh.ActsLike.Celsius(), 1e-9)
}

func TestWaterDrawAllocatesNothing(t *testing.T) {
	q := doughmath.WaterDraw{Water: 40000, NeededTemp: unit.Celsius(4), Tap: unit.Celsius(18), HotTap: unit.Celsius(60), Division: 50}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := q.Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkWaterDraw(b *testing.B) {
	q := doughmath.WaterDraw{Water: 40000, NeededTemp: unit.Celsius(4), Tap: unit.Celsius(18), HotTap: unit.Celsius(60), Division: 50}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := q.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzWaterDraw(f *testing.F) {
	f.Add(40000.0, 4.0, 18.0, 60.0, 50.0)
	f.Add(1e-9, -80.0, 60.0, 61.0, 1e-9)
	f.Fuzz(func(t *testing.T, water, needed, tap, hot, division float64) {
		out, _ := doughmath.WaterDraw{Water: unit.Mass(water), NeededTemp: unit.Celsius(needed), Tap: unit.Celsius(tap), HotTap: unit.Celsius(hot), Division: unit.Mass(division)}.Solve()
		marshals(t, out)
	})
}
