package doughmath_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// leanBatch is 100 kg of flour at 22 °C and 60 kg of water.
func leanBatch(water unit.Temp) doughmath.MixingBatch {
	return doughmath.MixingBatch{
		Ingredients: []doughmath.HeatIngredient{
			{Kind: doughmath.BreadFlour, Mass: unit.Kilograms(100), Temp: unit.Celsius(22)},
			{Kind: doughmath.WaterKind, Mass: unit.Kilograms(60), Temp: water},
		},
		Heats: doughmath.TradeHeats, HydrationHeat: doughmath.HydrationHeat,
	}
}

func ExampleMixingHeat() {
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(12)), Room: unit.Celsius(23)}
	in.Work = unit.KilojoulesPerKilogram(20)
	out, err := in.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("dough %v; one degree of water moves it by %v of a degree, the three-factor rule says 33.33 %%\n", out.DoughTemp, out.WaterShare)
	fmt.Println("the rule agrees with a friction of", out.Once)
	// Output:
	// dough 27.1 °C; one degree of water moves it by 58.8 % of a degree, the three-factor rule says 33.33 %
	// the rule agrees with a friction of 24.45 C°
}

func ExampleWaterForMixingHeat() {
	in := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(26)}
	in.Work = unit.KilojoulesPerKilogram(20)
	out, err := in.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("water", out.WaterTemp)
	// Output: water 10 °C
}

func ExampleIceForMixingHeat() {
	in := doughmath.IceForMixingHeat{MixingBatch: leanBatch(unit.Celsius(15)), TargetTemp: unit.Celsius(26), Reading: doughmath.IceReplacing}
	in.Work, in.IceTemp = unit.KilojoulesPerKilogram(40), unit.Celsius(-6)
	out, err := in.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("ice", out.Ice, "and water", out.TapWater)
	// Output: ice 10.88 kg and water 49.12 kg
}

func ExampleWorkForMixingHeat() {
	out, err := doughmath.WorkForMixingHeat{MixingBatch: leanBatch(unit.Celsius(12)), DoughTemp: unit.Celsius(27.2)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("the mixer puts in", out.Work)
	// Output: the mixer puts in 20.14 kJ/kg
}

// randomBatch draws a plausible batch, with water temperatures and no ice.
func randomBatch(r *rand.Rand) doughmath.MixingBatch {
	b := leanBatch(unit.Celsius(1 + 39*r.Float64()))
	b.Ingredients[1].Mass = unit.Kilograms(45 + 35*r.Float64())
	b.Ingredients[0].Temp = unit.Celsius(5 + 25*r.Float64())
	b.HydrationHeat = unit.SpecificEnergy(20 * r.Float64())
	if r.IntN(2) == 0 {
		b.Heats = doughmath.CompositionHeats
		b.Ingredients = append(b.Ingredients, doughmath.HeatIngredient{Kind: doughmath.SaltKind, Mass: unit.Kilograms(2), Temp: unit.Celsius(20)},
			doughmath.HeatIngredient{Kind: doughmath.CompressedYeast, Mass: unit.Kilograms(3), Temp: unit.Celsius(4)})
	}
	if r.IntN(2) == 0 {
		b.Ingredients = append(b.Ingredients, doughmath.HeatIngredient{Kind: doughmath.OtherKind, Mass: unit.Kilograms(20), Temp: unit.Celsius(25), SpecificHeat: 2.8})
	}
	if r.IntN(3) == 0 {
		b.Ingredients = append(b.Ingredients, doughmath.HeatIngredient{Kind: doughmath.WaterKind, Mass: unit.Kilograms(5), Temp: unit.Celsius(40), SpecificHeat: 4.0})
	}
	if r.IntN(3) == 0 {
		b.Ingredients = append(b.Ingredients, doughmath.HeatIngredient{Kind: doughmath.BreadFlour, Mass: unit.Kilograms(20), Temp: unit.Celsius(18), Preferment: true},
			doughmath.HeatIngredient{Kind: doughmath.WaterKind, Mass: unit.Kilograms(20), Temp: unit.Celsius(18), Preferment: true})
	}
	switch r.IntN(3) {
	case 0:
		b.Work = unit.SpecificEnergy(45 * r.Float64())
	case 1:
		b.Power, b.Time = unit.Power(20*r.Float64()+0.1), unit.Minutes(1+9*r.Float64())
	}
	if r.IntN(2) == 0 {
		b.Bowl = doughmath.MixerBowl{Mass: unit.Kilograms(200), Temp: unit.Celsius(20), SpecificHeat: 0.5}
	}
	if r.IntN(2) == 0 {
		b.CoolingEnergy = unit.Energy(1000 * r.Float64())
	}
	return b
}

func TestMixingHeatThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	waters, ices, works := 0, 0, 0
	for range 2000 {
		b := randomBatch(r)
		in := doughmath.MixingHeat{MixingBatch: b, Room: unit.Celsius(22)}
		out, err := in.Solve()
		if err != nil {
			continue
		}
		// The factor rule with the friction returned says the same.
		rule := in
		rule.Friction, rule.Basis = &out.PerFactor, doughmath.FrictionPerFactor
		if out.PerFactor >= -20 {
			again, err := rule.Solve()
			require.NoError(t, err)
			assert.InDelta(t, out.DoughTemp.Celsius(), again.RuleDough.Celsius(), 1e-9)
			assert.InDelta(t, 0, float64(again.Difference), 1e-9)
			assert.False(t, again.Conditions.Has(doughmath.EnergyDiffers))
		}

		// Water for that dough.
		open := doughmath.WaterForMixingHeat{MixingBatch: b, TargetTemp: out.DoughTemp}
		open.Ingredients = append([]doughmath.HeatIngredient(nil), b.Ingredients...)
		want := open.Ingredients[1].Temp
		open.Ingredients[1].Temp = unit.Temp{}
		if out.DoughTemp.Celsius() <= 45 {
			water, err := open.Solve()
			require.NoError(t, err)
			assert.InDelta(t, want.Celsius(), water.WaterTemp.Celsius(), 1e-8)
			waters++
		}

		// Ice for a colder dough, put back into the balance in both readings.
		for _, reading := range []doughmath.IceReading{doughmath.IceReplacing, doughmath.IceAdded} {
			target := out.DoughTemp.Add(unit.TempDelta(-8 * r.Float64()))
			if target.Celsius() < 0 || target.Celsius() > 45 {
				continue
			}
			cold := doughmath.IceForMixingHeat{MixingBatch: b, TargetTemp: target, Reading: reading}
			cold.IceTemp = unit.Celsius(-20 * r.Float64())
			ice, err := cold.Solve()
			require.NoError(t, err)
			iced := doughmath.MixingHeat{MixingBatch: b}
			iced.Ice, iced.IceTemp = ice.Ice, cold.IceTemp
			iced.Ingredients = append([]doughmath.HeatIngredient(nil), b.Ingredients...)
			if reading == doughmath.IceReplacing {
				// Each water gives up the same share.
				left := float64(ice.TapWater / (ice.TapWater + ice.Ice))
				for i := range iced.Ingredients {
					if iced.Ingredients[i].Kind == doughmath.WaterKind && !iced.Ingredients[i].Preferment {
						iced.Ingredients[i].Mass *= unit.Mass(left)
					}
				}
			}
			got, err := iced.Solve()
			require.NoError(t, err)
			assert.InDelta(t, target.Celsius(), got.DoughTemp.Celsius(), 1e-8)
			assert.Equal(t, ice.Conditions.Has(doughmath.MuchIce), got.Conditions.Has(doughmath.MuchIce))
			ices++
		}

		// The work from the dough.
		measured := doughmath.WorkForMixingHeat{MixingBatch: b, DoughTemp: out.DoughTemp}
		measured.Work, measured.Power, measured.Time = 0, 0, 0
		work, err := measured.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(out.WorkHeat), float64(work.TotalEnergy), 1e-6)
		works++
	}
	assert.Greater(t, waters, 1000)
	assert.Greater(t, ices, 2000)
	assert.Greater(t, works, 1500)
}

// What is said of the water is said whether it is only found or drawn as well, and so is what is said of the batch's own
// ice. By hand: (4.27208*37 - 1.76*22 - 15.119)/2.51208 is 41.5 °C, and 5 g of ice take 1 C° more.
func TestWaterForMixingHeatSaysAll(t *testing.T) {
	q := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(37)}
	q.Ingredients[0].Mass, q.Ingredients[1].Mass = unit.Kilograms(1), unit.Kilograms(0.6)
	const warm = doughmath.WarmForYeast | reckon.Uncalibrated
	check := func(temp float64, cautions reckon.Cautions) {
		t.Helper()
		out, err := q.Solve()
		require.NoError(t, err)
		assert.InDelta(t, temp, out.WaterTemp.Celsius(), 0.05)
		assert.Equal(t, warm, out.Conditions)
		assert.Equal(t, cautions, out.Cautions)
	}
	check(41.5, reckon.HotWater)
	q.Ice, q.IceTemp = unit.Grams(5), unit.Celsius(-8)
	check(42.5, reckon.HotWater|reckon.IceHandling)
	q.Tap, q.HotTap = unit.Celsius(16), unit.Celsius(55)
	check(42.5, reckon.HotWater|reckon.IceHandling)
}

// Whatever is in the batch, its working is the arithmetic that was done.
func TestMixingHeatShowsItsWorking(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	shown := 0
	for range 200 {
		b := randomBatch(r)
		in := doughmath.MixingHeat{MixingBatch: b, Friction: new(unit.TempDelta(5)), Basis: doughmath.FrictionPerFactor}
		if r.IntN(2) == 0 {
			in.Room, in.Friction, in.Basis = unit.Celsius(22), nil, ""
		}
		if r.IntN(2) == 0 {
			in.Ice, in.IceTemp = unit.Kilograms(5), unit.Celsius(-8)
		}
		out, w, err := reckon.Explain(in)
		if err != nil {
			continue
		}
		isTrue(t, w)
		shown++

		open := doughmath.WaterForMixingHeat{MixingBatch: in.MixingBatch, TargetTemp: out.DoughTemp}
		open.Ingredients = append([]doughmath.HeatIngredient(nil), b.Ingredients...)
		open.Ingredients[1].Temp = unit.Temp{}
		if _, w, err = reckon.Explain(open); err == nil {
			isTrue(t, w)
			shown++
		}
		for _, reading := range []doughmath.IceReading{doughmath.IceReplacing, doughmath.IceAdded} {
			ice := doughmath.IceForMixingHeat{MixingBatch: b, TargetTemp: out.DoughTemp.Add(-1), Reading: reading}
			ice.IceTemp = unit.Celsius(-5)
			if _, w, err = reckon.Explain(ice); err == nil {
				isTrue(t, w)
				shown++
			}
		}
		work := doughmath.WorkForMixingHeat{MixingBatch: in.MixingBatch, DoughTemp: out.DoughTemp}
		work.Work, work.Power, work.Time = 0, 0, 0
		_, w, err = reckon.Explain(work)
		require.NoError(t, err)
		isTrue(t, w)
	}
	assert.Greater(t, shown, 500)
}

// The dough is where the heats of all parts, counted one by one, add to nothing.
func TestMixingHeatConservesEnergy(t *testing.T) {
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(14))}
	in.Ice, in.IceTemp = unit.Kilograms(8), unit.Celsius(-10)
	in.Power, in.Time, in.CoolingEnergy = unit.Kilowatts(15), unit.Minutes(5), unit.Kilojoules(300)
	in.Bowl = doughmath.MixerBowl{Mass: unit.Kilograms(300), Temp: unit.Celsius(24), SpecificHeat: 0.5}
	out, err := in.Solve()
	require.NoError(t, err)
	d := out.DoughTemp.Celsius()
	balance := 100*1.76*(d-22) + 60*4.1868*(d-14) + 300*0.5*(d-24) + 8*(354.019+4.1868*d) - 15*300 - 100*15.119 + 300
	assert.InDelta(t, 0, balance/1000, 1e-3, "ice of -10 °C takes 354.019 kJ/kg by IAPWS")
	assert.InDelta(t, 8*354.019, float64(out.IceHeat), 0.1)
	assert.Equal(t, unit.Kilograms(168), out.Mass)
	assert.Equal(t, doughmath.Conditions(reckon.Uncalibrated), out.Conditions)
	assert.Equal(t, reckon.IceHandling|reckon.Lifting, out.Cautions)
	in.Calibrated = true
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
}

// A batch for which the friction of another room is used shows why the factor
// rule drifts: the balance does not know the room.
func TestEnergyDiffersOnAnotherDay(t *testing.T) {
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(12)), Room: unit.Celsius(23)}
	in.Work = 20
	out, err := in.Solve()
	require.NoError(t, err)
	in.Friction, in.Basis = &out.Once, doughmath.FrictionOnce
	same, err := in.Solve()
	require.NoError(t, err)
	assert.False(t, same.Conditions.Has(doughmath.EnergyDiffers))
	in.Room = unit.Celsius(33)
	hot, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, hot.Conditions.Has(doughmath.EnergyDiffers))
	assert.InDelta(t, 10.0/3, float64(hot.Difference), 1e-9)
	in.Room, in.Ingredients[1].Temp = unit.Celsius(23), unit.Celsius(2)
	cold, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, -10.0/3+float64(cold.WaterShare)/10, float64(cold.Difference), 1e-9, "the rule gives the water too little weight")
}

func TestMixingHeatLimits(t *testing.T) {
	var none *reckon.NoSolutionError
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(2))}
	in.Ingredients[0].Temp, in.Ice, in.IceTemp = unit.Celsius(2), unit.Kilograms(20), unit.Celsius(-10)
	_, err := in.Solve()
	require.ErrorAs(t, err, &none, "the ice does not all melt")
	assert.Contains(t, none.Advice, "take less")
	in.Ice, in.Power, in.Time = 0, 100, unit.Hours(1)
	_, err = in.Solve()
	require.ErrorAs(t, err, &none)

	_, err = doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(45)}.Solve()
	require.ErrorAs(t, err, &none)
	hottest := in
	hottest.Power, hottest.Time, hottest.IceTemp = 0, 0, unit.Temp{}
	hottest.MixingBatch = leanBatch(unit.Celsius(45))
	reached, err := hottest.Solve()
	require.NoError(t, err)
	assert.Equal(t, none.High, reached.DoughTemp.String(), "the error names the dough that 45 °C water gives")

	for _, reading := range []doughmath.IceReading{doughmath.IceReplacing, doughmath.IceAdded} {
		cold := doughmath.IceForMixingHeat{MixingBatch: leanBatch(unit.Celsius(40)), TargetTemp: unit.Celsius(0), Reading: reading}
		cold.Work, cold.IceTemp, cold.Ingredients[0].Temp = 150, unit.Celsius(0), unit.Celsius(60)
		_, err = cold.Solve()
		require.ErrorAs(t, err, &none, reading)
		// The reachable dough is what the balance gives with ice to the limit.
		all := doughmath.MixingHeat{MixingBatch: cold.MixingBatch}
		all.Ice = unit.Kilograms(60)
		if reading == doughmath.IceReplacing {
			all.Ice, all.Ingredients[1].Mass = unit.Kilograms(60)-1, 1
		}
		out, err := all.Solve()
		require.NoError(t, err)
		assert.Equal(t, none.Low, out.DoughTemp.String())
		// And without any it is, by hand, flour, water, work and hydration over both heat capacities.
		assert.Equal(t, unit.Celsius((176*60+251.208*40+150*160+100*15.119)/(176+251.208)).String(), none.High)
	}

	for _, reading := range []doughmath.IceReading{doughmath.IceReplacing, doughmath.IceAdded} {
		without, err := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(10))}.Solve()
		require.NoError(t, err)
		warm := doughmath.IceForMixingHeat{MixingBatch: leanBatch(unit.Celsius(10)), TargetTemp: without.DoughTemp, Reading: reading}
		warm.IceTemp = unit.Celsius(0)
		out, err := warm.Solve()
		require.NoError(t, err)
		assert.InDelta(t, 0, float64(out.Ice), 1e-6)
		warm.TargetTemp = without.DoughTemp.Add(1e-10)
		out, w, err := reckon.Explain(warm)
		require.NoError(t, err, "no colder than binary arithmetic rounds")
		isTrue(t, w)
		assert.Zero(t, out.Ice)
		assert.True(t, out.Conditions.Has(doughmath.NoIceNeeded))

		// A dough that is too cold without any ice is not brought to the target by none.
		for _, colder := range []unit.TempDelta{1e-6, 11.5} {
			warm.TargetTemp = without.DoughTemp.Add(colder)
			out, err = warm.Solve()
			assert.Empty(t, out)
			require.ErrorAs(t, err, &none, "%v %v", reading, colder)
			assert.Equal(t, "0 °C", none.Low, "below it the ice does not all melt")
			assert.Equal(t, without.DoughTemp.String(), none.High)
			assert.Contains(t, none.Advice, "without any ice the dough is "+colder.String()+" too cold: warm the water")
		}
	}
	frozen := doughmath.IceForMixingHeat{MixingBatch: leanBatch(unit.Celsius(-20)), TargetTemp: unit.Celsius(20), Reading: doughmath.IceReplacing}
	frozen.Ingredients[0].Temp, frozen.IceTemp = unit.Celsius(-20), unit.Celsius(0)
	_, err = frozen.Solve()
	require.ErrorAs(t, err, &none)
	assert.Empty(t, none.Low, "no range that ends below where it begins")
	assert.Contains(t, none.Advice, "warm the water")

	odd, err := doughmath.WorkForMixingHeat{MixingBatch: leanBatch(unit.Celsius(10)), DoughTemp: unit.Celsius(10)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.FrictionNegative, odd.Conditions)
	odd, err = doughmath.WorkForMixingHeat{MixingBatch: leanBatch(unit.Celsius(1)), DoughTemp: unit.Celsius(60)}.Solve()
	require.NoError(t, err)
	assert.Zero(t, odd.Conditions, "%v", odd.Work)
}

// Water that no water or ice can stand for is refused with the dough that can be
// reached; what is merely colder than all ice is not told to be mended with ice.
func TestWaterForMixingHeatTooCold(t *testing.T) {
	in := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(20)}
	in.Work = 160
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Less(t, out.WaterTemp.Celsius(), -80.0)
	assert.Equal(t, doughmath.ColderThanAllIce|reckon.Uncalibrated, out.Conditions)
	in.Ingredients = append(in.Ingredients, doughmath.HeatIngredient{Kind: doughmath.WaterKind, Mass: 100, Temp: unit.Celsius(-5)})
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.ColderThanAllIce|reckon.Uncalibrated, out.Conditions, "another water below freezing")

	// A gram of water among 100 kg of flour would have to be colder than anything is.
	in.MixingBatch = leanBatch(unit.Temp{})
	in.Work, in.Ingredients[0].Temp, in.Ingredients[1].Mass = 20, unit.Celsius(40), 1
	out, err = in.Solve()
	assert.Empty(t, out)
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Contains(t, none.Advice, "below absolute zero")
	warmest := doughmath.MixingHeat{MixingBatch: in.MixingBatch}
	warmest.Ingredients = append([]doughmath.HeatIngredient(nil), in.Ingredients...)
	warmest.Ingredients[1].Temp = unit.Celsius(45)
	reached, err := warmest.Solve()
	require.NoError(t, err)
	assert.Equal(t, reached.DoughTemp.String(), none.High)

	// The other end is water of -80 °C: the same batch made with it is refused for its own reason, so by hand.
	in.MixingBatch = leanBatch(unit.Temp{})
	in.Work = 200
	in.TargetTemp, in.HydrationHeat, in.Ingredients[0].Temp, in.Ingredients[1].Mass = unit.Celsius(0), 0, unit.Celsius(60), unit.Kilograms(10)
	_, err = in.Solve()
	require.ErrorAs(t, err, &none)
	low := (176*60 + 200*110 - 41.868*80) / (176 + 41.868)
	assert.Equal(t, unit.Celsius(low).String(), none.Low)
}

func TestMixingHeatNamesEveryBadField(t *testing.T) {
	_, err := doughmath.MixingHeat{}.Solve()
	assert.Equal(t, []string{"ingredients", "specific_heats"}, fields(err))
	bad := doughmath.MixingHeat{MixingBatch: doughmath.MixingBatch{
		Ingredients: []doughmath.HeatIngredient{
			{Kind: "rye", Mass: -1, Temp: unit.Celsius(99), SpecificHeat: 9},
			{Kind: doughmath.SaltKind, Mass: 1, Temp: unit.Celsius(20)},
		},
		Heats: doughmath.TradeHeats, HydrationHeat: 101, Ice: -1, Work: 1, Power: 1, CoolingEnergy: unit.Energy(math.NaN()),
		Bowl: doughmath.MixerBowl{Mass: 1},
	}, Room: unit.Celsius(99), Friction: new(unit.TempDelta(99))}
	_, err = bad.Solve()
	assert.Equal(t, []string{
		"hydration_heat", "ingredients[0].mass", "ingredients[0].kind", "ingredients[0].temp", "ingredients[0].specific_heat", "ingredients[1].specific_heat",
		"ingredients", "ingredients", "work", "time", "cooling_energy", "ice", "ice_temp", "bowl.temp", "bowl.specific_heat", "room", "friction", "friction_basis",
	}, fields(err))
	dry := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(20))}
	dry.Ingredients = dry.Ingredients[:1]
	_, err = dry.Solve()
	assert.ErrorContains(t, err, "at least one water")
	_, err = doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Celsius(20)), TargetTemp: unit.Celsius(26)}.Solve()
	assert.ErrorContains(t, err, "no temperature on the water that is to be found")
	_, err = doughmath.MixingHeat{MixingBatch: leanBatch(unit.Temp{})}.Solve()
	assert.Equal(t, []string{"ingredients[1].temp"}, fields(err))
	full := doughmath.IceForMixingHeat{MixingBatch: leanBatch(unit.Celsius(20)), TargetTemp: unit.Celsius(26), Reading: "instead"}
	full.Ice = 5
	_, err = full.Solve()
	assert.Equal(t, []string{"reading", "ice", "ice_temp"}, fields(err))
	done := doughmath.WorkForMixingHeat{MixingBatch: leanBatch(unit.Celsius(20)), DoughTemp: unit.Celsius(26)}
	done.Work, done.Power, done.Time = 1, 1, 1
	_, err = done.Solve()
	assert.Equal(t, []string{"work", "power", "time"}, fields(err))
	for at, want := range map[unit.Duration][]string{unit.Hours(4): nil, unit.Hours(4.03): {"time"}} {
		long := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(20))}
		long.Power, long.Time = 0.1, at
		_, err = long.Solve()
		assert.Equal(t, want, fields(err), at)
	}
	for power, want := range map[unit.Power][]string{1000: nil, 1001: {"power"}} {
		strong := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(20))}
		strong.Power, strong.Time = power, 1
		_, err = strong.Solve()
		assert.Equal(t, want, fields(err), power)
	}
	both := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(20))}
	both.Work, both.Time = 1, 1
	_, err = both.Solve()
	assert.Equal(t, []string{"work", "time"}, fields(err))
	open := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(26)}
	open.Ingredients[0].Temp = unit.Temp{}
	_, err = open.Solve()
	assert.Equal(t, []string{"ingredients[0].temp"}, fields(err), "only that of water is to be found")
	scalding := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(26)}
	scalding.Ingredients = append(scalding.Ingredients, doughmath.HeatIngredient{Kind: doughmath.WaterKind, Mass: unit.Kilograms(1), Temp: unit.Celsius(60)})
	scalding.Yeast = doughmath.FreshYeast
	_, err = scalding.Solve()
	assert.Equal(t, []string{"ingredients[2].temp"}, fields(err), "it would kill the yeast")
	wrong := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(20))}
	wrong.Melting = doughmath.Melting{Heat: "some"}
	_, err = wrong.Solve()
	assert.Len(t, fields(err), 1, "the heat that melts ice: %v", err)
	much := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(20))}
	much.Ice, much.IceTemp = 2e8, unit.Celsius(1)
	_, err = much.Solve()
	assert.Equal(t, []string{"ice", "ice_temp"}, fields(err))
}

// A sheet says on whose authority it takes a specific heat.
func TestMixingHeatNamesItsSpecificHeats(t *testing.T) {
	for model, want := range map[doughmath.HeatModel]string{doughmath.TradeHeats: "trade value", doughmath.CompositionHeats: "Choi and Okos (1986)"} {
		in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(20))}
		in.Heats = model
		_, w, err := reckon.Explain(in)
		require.NoError(t, err)
		named := 0
		for _, s := range w.Steps {
			if strings.HasSuffix(s.ID, ", specific heat") {
				assert.Contains(t, s.Source, want)
				named++
			}
		}
		assert.Equal(t, 2, named)
	}
}

func TestMixingHeatAllocatesNothing(t *testing.T) {
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(14)), Room: unit.Celsius(23)}
	in.Heats, in.Work, in.Ice, in.IceTemp = doughmath.CompositionHeats, 20, 5000, unit.Celsius(-5)
	open := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{}), TargetTemp: unit.Celsius(26)}
	ice := doughmath.IceForMixingHeat{MixingBatch: leanBatch(unit.Celsius(14)), TargetTemp: unit.Celsius(20), Reading: doughmath.IceAdded}
	ice.IceTemp = unit.Celsius(-5)
	work := doughmath.WorkForMixingHeat{MixingBatch: leanBatch(unit.Celsius(14)), DoughTemp: unit.Celsius(26)}
	property := doughmath.DoughProperty{Temperature: unit.Celsius(20), Ingredients: []doughmath.DoughIngredient{{Kind: doughmath.BreadFlour, Mass: 1}}}
	var failed error
	n := testing.AllocsPerRun(100, func() {
		_, e1 := in.Solve()
		_, e2 := open.Solve()
		_, e3 := ice.Solve()
		_, e4 := work.Solve()
		_, e5 := property.Solve()
		_, e6 := doughmath.DoughDensity{GasFree: 1.27, From: doughmath.GasFreeMeasured, Gas: 10}.Solve()
		_, e7 := doughmath.WaterMix{Water: 1000, WantedTemp: unit.Celsius(27), Cold: unit.Celsius(12), Hot: unit.Celsius(55)}.Solve()
		_, e8 := doughmath.WaterProperty{Temperature: unit.Celsius(20), Phase: doughmath.LiquidWater}.Solve()
		for _, e := range [...]error{e1, e2, e3, e4, e5, e6, e7, e8} {
			if e != nil {
				failed = e
			}
		}
	})
	require.NoError(t, failed)
	assert.Zero(t, n)
}

func BenchmarkMixingHeat(b *testing.B) {
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(14)), Room: unit.Celsius(23)}
	in.Work = 20
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// No input makes the balance panic, or lets NaN or infinity out.
func FuzzMixingHeat(f *testing.F) {
	f.Add(100000.0, 22.0, 60000.0, 14.0, 15.1, 5000.0, -5.0, 20.0, 0.0, 0.0, 0.0, 26.0, true)
	f.Add(0.001, 60.0, 1e8, -40.0, 100.0, 1e8, -40.0, 0.0, 1000.0, 14400.0, 1e6, 0.0, false)
	f.Add(math.NaN(), math.Inf(1), 5e-324, 1e308, math.Copysign(0, -1), 1.0, 1.0, 1.0, 1.0, 1.0, math.Inf(-1), 1.0, false)
	f.Fuzz(func(t *testing.T, flour, flourTemp, water, waterTemp, hydration, ice, iceTemp, work, power, seconds, cooling, target float64, trade bool) {
		b := doughmath.MixingBatch{
			Ingredients: []doughmath.HeatIngredient{
				{Kind: doughmath.BreadFlour, Mass: unit.Mass(flour), Temp: unit.Celsius(flourTemp)},
				{Kind: doughmath.WaterKind, Mass: unit.Mass(water), Temp: unit.Celsius(waterTemp)},
			},
			Heats: doughmath.CompositionHeats, HydrationHeat: unit.SpecificEnergy(hydration), Ice: unit.Mass(ice), IceTemp: unit.Celsius(iceTemp),
			Work: unit.SpecificEnergy(work), Power: unit.Power(power), Time: unit.Duration(seconds), CoolingEnergy: unit.Energy(cooling),
		}
		if trade {
			b.Heats = doughmath.TradeHeats
		}
		out, outBy, _ := reckon.Explain(doughmath.MixingHeat{MixingBatch: b, Room: unit.Celsius(flourTemp), Friction: new(unit.TempDelta(work)), Basis: doughmath.FrictionOnce})
		marshals(t, out)
		isFinite(t, outBy)
		b.Ice = 0
		iced, icedBy, _ := reckon.Explain(doughmath.IceForMixingHeat{MixingBatch: b, TargetTemp: unit.Celsius(target), Reading: doughmath.IceAdded})
		marshals(t, iced)
		isFinite(t, icedBy)
		b.Work, b.Power, b.Time = 0, 0, 0
		worked, workedBy, _ := reckon.Explain(doughmath.WorkForMixingHeat{MixingBatch: b, DoughTemp: unit.Celsius(target)})
		marshals(t, worked)
		isFinite(t, workedBy)
		b.Ingredients[1].Temp = unit.Temp{}
		watered, wateredBy, _ := reckon.Explain(doughmath.WaterForMixingHeat{MixingBatch: b, TargetTemp: unit.Celsius(target)})
		marshals(t, watered)
		isFinite(t, wateredBy)
	})
}

// A friction of zero is a friction: the sheet has its line.
func TestMixingHeatWithoutFriction(t *testing.T) {
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(12)), Friction: new(unit.TempDelta), Basis: doughmath.FrictionOnce}
	_, w, err := reckon.Explain(in)
	require.NoError(t, err)
	isTrue(t, w)
}

// A friction that was forgotten is not a friction of zero.
func TestForgottenFrictionIsRefused(t *testing.T) {
	in := doughmath.MixingHeat{MixingBatch: leanBatch(unit.Celsius(12)), Room: unit.Celsius(23), Basis: doughmath.FrictionOnce}
	_, err := in.Solve()
	bad := reckon.InputErrors(err)
	require.Len(t, bad, 1)
	assert.Equal(t, "friction", bad[0].Field)

	in.Friction = new(unit.TempDelta)
	out, err := in.Solve()
	require.NoError(t, err)
	assert.NotZero(t, out.RuleDough.Celsius())

	in.Basis = ""
	_, err = in.Solve()
	require.Len(t, reckon.InputErrors(err), 1)
	assert.Equal(t, "friction_basis", reckon.InputErrors(err)[0].Field)
}
