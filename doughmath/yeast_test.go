package doughmath_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Water above 45 °C never meets yeast: every calculation that hands out water
// refuses it, says what flour or room would do, and takes that; and each takes
// the hot water itself once a step that is stated keeps the yeast out of it.
func TestHotWaterAndYeast(t *testing.T) {
	hot := unit.Celsius(50)
	meets := []doughmath.YeastUse{
		{},
		{Yeast: doughmath.FreshYeast},
		{Yeast: doughmath.InstantYeast},
		{YeastStep: doughmath.YeastInFlour},
		{Yeast: doughmath.FreshYeast, YeastStep: doughmath.YeastInFlour},
		{Yeast: doughmath.ActiveDry, YeastStep: doughmath.YeastInWater},
	}
	apart := []doughmath.YeastUse{
		{Yeast: doughmath.NoYeast},
		{Yeast: doughmath.InstantYeast, YeastStep: doughmath.YeastInFlour},
		{Yeast: doughmath.ActiveDry, YeastStep: doughmath.YeastInFlour},
		{Yeast: doughmath.FreshYeast, YeastStep: doughmath.YeastAfterward},
		{YeastStep: doughmath.YeastApart},
	}
	rule := doughmath.WaterTemperature{TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(10), Room: unit.Celsius(20), Friction: -2, Basis: doughmath.FrictionOnce} // 50 °C
	back := doughmath.DoughTemperatureForWater{WaterTemp: hot, FlourTemp: unit.Celsius(10), Room: unit.Celsius(20), Friction: -2, Basis: doughmath.FrictionOnce}
	base := doughmath.WaterForBase{Base: 80, FlourTemp: unit.Celsius(10), Room: unit.Celsius(20)}
	next := doughmath.BaseCorrection{Base: 60, Factors: 3, WaterTemp: unit.Celsius(35), TargetTemp: unit.Celsius(27), GotTemp: unit.Celsius(22)}
	balance := doughmath.WaterForMixingHeat{MixingBatch: leanBatch(unit.Temp{})}
	made := doughmath.MixingHeat{MixingBatch: leanBatch(hot)}
	made.Yeast = doughmath.NoYeast
	dough, err := made.Solve()
	require.NoError(t, err)
	balance.TargetTemp = dough.DoughTemp
	iced := doughmath.IceForMixingHeat{MixingBatch: leanBatch(hot), TargetTemp: unit.Celsius(20), Reading: doughmath.IceReplacing}
	iced.IceTemp = unit.Celsius(-6)

	all := func(y doughmath.YeastUse) map[string]error {
		rule.YeastUse, back.YeastUse, base.YeastUse, next.YeastUse = y, y, y, y
		balance.YeastUse, made.YeastUse, iced.YeastUse = y, y, y
		out := map[string]error{}
		for id, q := range map[string]func() error{
			"rule": func() error { _, err := rule.Solve(); return err }, "back": func() error { _, err := back.Solve(); return err },
			"base": func() error { _, err := base.Solve(); return err }, "next": func() error { _, err := next.Solve(); return err },
			"balance": func() error { _, err := balance.Solve(); return err }, "made": func() error { _, err := made.Solve(); return err },
			"iced": func() error { _, err := iced.Solve(); return err },
		} {
			out[id] = q()
		}
		return out
	}
	for _, y := range meets {
		for id, err := range all(y) {
			require.Error(t, err, "%s %+v", id, y)
			assert.ErrorContains(t, err, "keep the yeast out of the water", "%s %+v", id, y)
		}
	}
	for _, y := range apart {
		for id, err := range all(y) {
			assert.NoError(t, err, "%s %+v", id, y)
		}
		out, err := rule.Solve()
		require.NoError(t, err)
		assert.Zero(t, out.Conditions, "it harms no yeast: %+v", y)
		assert.Equal(t, reckon.HotWater, out.Cautions)
	}

	rule.YeastUse = doughmath.YeastUse{}
	_, err = rule.Solve()
	assert.ErrorContains(t, err, "with water of 45 °C, flour of 15 °C or a room of 25 °C would do")
	rule.FlourTemp = unit.Celsius(15)
	out, err := rule.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 45, out.WaterTemp.Celsius(), 1e-12)

	balance.YeastUse = doughmath.YeastUse{}
	_, err = balance.Solve()
	// By hand: 100 kg of flour of 1.76 kJ/(kg K) against 60 kg of water of 4.1868: 5*60*4.1868/176 C°.
	assert.ErrorContains(t, err, "flour 7.137 C° warmer would do")

	rule.FlourTemp = unit.Celsius(0)
	rule.Yeast = doughmath.NoYeast
	_, err = rule.Solve()
	assert.ErrorContains(t, err, "scalds flour and hands; with water of 55 °C, flour of 5 °C or a room of 25 °C would do")
	assert.NotContains(t, err.Error(), "yeast")
}

// Work is found from a dough that was made: there is nobody to warn any more.
func TestWorkOfADoughMadeWithHotWater(t *testing.T) {
	q := doughmath.WorkForMixingHeat{MixingBatch: leanBatch(unit.Celsius(50)), DoughTemp: unit.Celsius(40)}
	q.Work = 0
	_, err := q.Solve()
	assert.NoError(t, err)
}

func TestColdWaterAndDryYeast(t *testing.T) {
	q := doughmath.WaterTemperature{TargetTemp: unit.Celsius(20), FlourTemp: unit.Celsius(20), Basis: doughmath.FrictionOnce} // water of 20 °C
	at := func(y doughmath.YeastUse, friction unit.TempDelta) doughmath.Conditions {
		q.YeastUse, q.Friction = y, friction
		out, err := q.Solve()
		require.NoError(t, err)
		return out.Conditions
	}
	for _, form := range []doughmath.YeastForm{doughmath.InstantYeast, doughmath.ActiveDry} {
		for _, step := range []doughmath.YeastStep{"", doughmath.YeastInWater, doughmath.YeastInFlour} {
			assert.Equal(t, doughmath.ColdForDryYeast, at(doughmath.YeastUse{Yeast: form, YeastStep: step}, 0.5), "%s %s", form, step)
			assert.Zero(t, at(doughmath.YeastUse{Yeast: form, YeastStep: step}, 0), "20 °C is warm enough")
		}
		for _, step := range []doughmath.YeastStep{doughmath.YeastAfterward, doughmath.YeastApart} {
			assert.Zero(t, at(doughmath.YeastUse{Yeast: form, YeastStep: step}, 5), "%s %s", form, step)
		}
	}
	assert.Zero(t, at(doughmath.YeastUse{Yeast: doughmath.FreshYeast}, 5))
	assert.Zero(t, at(doughmath.YeastUse{}, 5))
	assert.Equal(t, doughmath.ColdForDryYeast|doughmath.BelowFreezing, at(doughmath.YeastUse{Yeast: doughmath.InstantYeast}, 20.5))
}

func TestYeastRefuses(t *testing.T) {
	q := doughmath.WaterForBase{Base: 60, FlourTemp: unit.Celsius(20), Room: unit.Celsius(20)}
	q.YeastUse = doughmath.YeastUse{Yeast: "wild", YeastStep: "later"}
	_, err := q.Solve()
	assert.Equal(t, []string{"yeast", "yeast_step"}, fields(err))
	q.YeastUse = doughmath.YeastUse{Yeast: doughmath.NoYeast, YeastStep: doughmath.YeastInFlour}
	_, err = q.Solve()
	assert.Equal(t, []string{"yeast_step"}, fields(err))

	batch := leanBatch(unit.Celsius(20))
	batch.Ingredients = append(batch.Ingredients, doughmath.HeatIngredient{Kind: doughmath.CompressedYeast, Mass: 2000, Temp: unit.Celsius(4), SpecificHeat: 3.5})
	batch.Yeast = doughmath.NoYeast
	_, err = doughmath.MixingHeat{MixingBatch: batch}.Solve()
	assert.Equal(t, []string{"yeast"}, fields(err), "there is yeast among the ingredients")
	batch.Yeast = doughmath.FreshYeast
	_, err = doughmath.MixingHeat{MixingBatch: batch}.Solve()
	assert.NoError(t, err)
}
