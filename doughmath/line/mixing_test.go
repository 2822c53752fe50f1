package line_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func refused(err error) (fields []string) {
	for _, e := range reckon.InputErrors(err) {
		fields = append(fields, e.Field)
	}
	return fields
}

// The water of a plan is weighed: ice and taps make up the formula water, and
// bring it to the temperature within what the scale moves.
func TestWaterAddsUp(t *testing.T) {
	for i := range 3 {
		for _, tap := range []float64{1, 8, 15, 25} {
			in := input(t, i)
			in.Shift.Tap = unit.Celsius(tap)
			p, err := in.Solve()
			require.NoError(t, err)
			assert.InDelta(t, float64(p.WaterMass), float64(p.IceToWeigh+p.HotToWeigh+p.WaterToWeigh), 1e-6)
			assert.False(t, p.IceToWeigh > 0 && p.HotToWeigh > 0)
			assert.Equal(t, p.IceToWeigh > 0 || anyDraw(&p), reckon.Hazards(&p).Has(reckon.IceHandling), "%d at %g °C", i, tap)
			if p.HotToWeigh > 0 {
				got := (float64(p.HotToWeigh)*58 + float64(p.WaterToWeigh)*tap) / float64(p.WaterMass)
				assert.InDelta(t, p.WaterTemp.Celsius(), got, 5*58/float64(p.WaterMass)+1e-9)
			}
		}
	}
	in := input(t, 0)
	in.Shift.HotTap = unit.Temp{}
	p, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, p.Water.Conditions.Has(doughmath.WarmerThanTap), "16 °C from a tap of 15 °C")
	in.Shift.HotTap = unit.Celsius(15)
	_, err = in.Solve()
	assert.Equal(t, []string{"shift.hot_tap"}, refused(err))
}

// Water that is as cold as the tap but for what binary arithmetic leaves takes neither ice nor hot water.
func TestWaterAsColdAsTheTap(t *testing.T) {
	for _, hot := range []unit.Temp{{}, unit.Celsius(58)} {
		for warmer, ice := range map[float64]bool{1e-15: false, 0.995e-6: false, 1.005e-6: true} {
			in := input(t, 0)
			in.Shift.HotTap = hot
			p, err := in.Solve()
			require.NoError(t, err)
			in.Shift.Tap = p.WaterTemp.Add(unit.CelsiusDegrees(warmer))
			p, err = in.Solve()
			require.NoError(t, err)
			assert.Equal(t, ice, p.Ice.Ice > 0, "%g C° warmer", warmer)
			assert.Zero(t, p.HotToWeigh)
			assert.Equal(t, p.WaterMass, p.WaterToWeigh)
			assert.False(t, p.Ice.Conditions.Has(doughmath.NoIceNeeded))
		}
	}
}

// anyDraw reports whether ice goes into a preferment.
func anyDraw(p *line.PlanResult) bool {
	for i := range p.PrefermentRuns {
		if p.PrefermentRuns[i].Draw.Ice > 0 {
			return true
		}
	}
	return false
}

// Ice that the scale does not show is not weighed, and carries no caution.
func TestIceBelowTheScale(t *testing.T) {
	in := input(t, 0)
	p, err := in.Solve()
	require.NoError(t, err)
	in.Shift.Tap = p.WaterTemp.Add(0.005) // 20.78 kg by 0.005/96 is 1 g of ice
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, p.IceToWeigh)
	assert.False(t, reckon.Hazards(&p).Has(reckon.IceHandling))
}

// Every mix that the plan prints adds up, on one scale or on several.
func TestMixesOfAPlanAddUp(t *testing.T) {
	for i := range 3 {
		for _, scales := range [][]doughmath.Scale{nil, {{Name: "bench", Division: 2}}, {
			{Name: "floor", Division: 50},
			{Name: "bench", Division: 1, Capacity: 6000, For: []string{"salt", "sugar"}},
		}} {
			in := input(t, i)
			if scales != nil {
				in.Shift.Division, in.Shift.Scales = 0, scales
			}
			p, w, err := reckon.Explain(in)
			require.NoError(t, err)
			require.NotNil(t, w)
			var sum unit.Mass
			for _, part := range p.Weigh.Parts {
				sum += part.Mass
				if scales != nil && part.Name == "salt" {
					assert.Equal(t, "bench", part.Scale)
				}
			}
			assert.InDelta(t, float64(p.Weigh.Weighed), float64(sum), 1e-6)
			made := map[string]unit.Mass{}
			for _, part := range p.Split.Parts {
				made[part.Mix] += part.Mass
				if part.Division > 0 {
					assert.InDelta(t, math.Round(float64(part.Mass/part.Division)), float64(part.Mass/part.Division), 1e-9, "%+v", part)
				}
				if m, ok := made[part.Name]; ok {
					assert.InDelta(t, float64(m), float64(part.Mass), 1e-6, "it goes in as it was made")
				}
			}
			assert.InDelta(t, float64(p.Split.Weighed), float64(made[doughmath.FinalMix]), 1e-6)
		}
	}
	in := input(t, 0)
	in.Shift.Division = 0
	_, err := in.Solve()
	assert.Equal(t, []string{"shift.division"}, refused(err))
	in.Shift.Scales = []doughmath.Scale{{Name: "bench", Division: 1, Capacity: 5000}}
	_, err = in.Solve()
	assert.Equal(t, []string{"shift.scales"}, refused(err))
}

// A sponge has its own start and its own water: 3 h and 8 min, and by hand
// 3*24 - 4 - 22 - 25 = 21 °C from taps of 15 and 58 °C.
func TestPrefermentMixes(t *testing.T) {
	p, err := input(t, 1).Solve()
	require.NoError(t, err)
	require.Len(t, p.PrefermentRuns, 1)
	run := &p.PrefermentRuns[0]
	assert.Equal(t, unit.Minutes(188), run.Before)
	assert.InDelta(t, 21, run.Water.WaterTemp.Celsius(), 1e-12)
	var water unit.Mass
	for _, part := range p.Split.Parts {
		if part.Mix == "sponge" && part.Name == "water" {
			water = part.Mass
		}
	}
	assert.InDelta(t, float64(water), float64(run.Draw.Ice+run.Draw.HotWater+run.Draw.TapWater), 1e-9)
	assert.Equal(t, math.Round(float64(water)*6/43/5)*5, float64(run.Draw.HotWater), "to the sponge's division of 5 g")

	for _, c := range []struct {
		bend func(*line.PrefermentMix)
		want string
	}{
		{func(m *line.PrefermentMix) { m.Name = "biga" }, "order.product.preferment_mixes[0].name"},
		{func(m *line.PrefermentMix) { m.Ripening = -1 }, "order.product.preferment_mixes[0].ripening"},
		{func(m *line.PrefermentMix) { m.Basis = "twice" }, "order.product.preferment_mixes[0].friction_basis"},
		{func(m *line.PrefermentMix) { m.TargetTemp = unit.Temp{} }, "order.product.preferment_mixes[0].target_temp"},
	} {
		in := input(t, 1)
		in.Order.Product.PrefermentMixes = append([]line.PrefermentMix(nil), in.Order.Product.PrefermentMixes...)
		c.bend(&in.Order.Product.PrefermentMixes[0])
		_, err := in.Solve()
		assert.Equal(t, []string{c.want}, refused(err))
	}
	in := input(t, 0)
	in.Order.Product.PrefermentMixes = make([]line.PrefermentMix, 1)
	_, err = in.Solve()
	assert.Equal(t, []string{"order.product.preferment_mixes"}, refused(err))
}

// A starter in the sponge counts as a third temperature of the sponge's water: 4*24 - 47 - 4 °C less the starter's, where 47 °C are flour and room.
func TestWaterOfASpongeThatTakesAStarter(t *testing.T) {
	in := input(t, 1)
	p := &in.Order.Product
	p.Preferments, p.PrefermentMixes = slices.Clone(p.Preferments), slices.Clone(p.PrefermentMixes)
	p.Preferments[0].Parts = append(slices.Clone(p.Preferments[0].Parts), doughmath.PrefermentPart{Name: "starter", Percent: 10})
	starter, mix := p.Preferments[0], p.PrefermentMixes[0]
	starter.Name, starter.Amount, starter.Parts = "starter", 0, p.Preferments[0].Parts[:2]
	mix.Name = "starter"
	p.Preferments, p.PrefermentMixes = append(p.Preferments, starter), append(p.PrefermentMixes, mix)
	p.PrefermentTemp = unit.Celsius(20)
	out, err := in.Solve()
	require.NoError(t, err)
	for i, want := range []float64{96 - 47 - 4 - 20, 21} {
		assert.InDelta(t, want, out.PrefermentRuns[i].Water.WaterTemp.Celsius(), 1e-9, out.PrefermentRuns[i].Name)
	}
}

// Hot water is for a dough whose yeast is kept out of it, and the plan says
// dry yeast of cold water, by the rule and by the balance.
func TestYeastOfAPlan(t *testing.T) {
	in := input(t, 0)
	in.Order.Product.Friction = -16 // water of 47 °C... by hand 3*26 + 16 - 22 - 25
	_, err := in.Solve()
	assert.ErrorContains(t, err, "kill yeast that it touches; with water of 45 °C, flour of 24 °C or a room of 27 °C would do")
	in.Order.Product.YeastStep = doughmath.YeastAfterward
	_, err = in.Solve()
	assert.NoError(t, err)

	in = input(t, 2)
	in.Order.Product.Yeast = doughmath.InstantYeast
	_, err = in.Solve()
	assert.Equal(t, []string{"order.product.yeast"}, refused(err), "the heat balance has compressed yeast")
	in.Order.Product.Heat = nil
	p, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, p.Water.Conditions.Has(doughmath.ColdForDryYeast))
}

// A scale is kept for ingredients that some product has.
func TestScaleOfNoIngredient(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	_, err = line.ReadScenario([]byte(strings.Replace(string(data), `"division": "10 g"`,
		`"scales": [{"name": "floor", "division": "10 g", "for": ["salt", "gravel"]}]`, 1)))
	assert.Equal(t, []string{"shift.scales[0].for[1]"}, refused(err))
}

// Ice that the scale does not show is handled by nobody, whichever rule found it.
func TestIceOfTheBalanceBelowTheScale(t *testing.T) {
	in := input(t, 2)
	p, err := in.Solve()
	require.NoError(t, err)
	in.Shift.Tap = unit.Celsius(p.HeatWater.WaterTemp.Celsius() + 0.001) // of 30 kg of water less than 1 g of ice, on a division of 10 g
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Positive(t, p.HeatIce.Ice)
	assert.Less(t, p.HeatIce.Ice, unit.Mass(5))
	assert.Zero(t, p.IceToWeigh)
	assert.Equal(t, p.WaterMass, p.WaterToWeigh)
	assert.False(t, p.HeatIce.Cautions.Has(reckon.IceHandling))
}

// Of warm water the plan says once that it may harm the yeast: where its temperature is found, and not where it is mixed.
func TestWarmWaterIsToldOnce(t *testing.T) {
	in := input(t, 0)
	in.Order.Product.Friction = -10 // 3*26 - 22 - 25 + 10 = 41 °C, of which the tap gives 15 and the hot tap 58
	p, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 41, p.WaterTemp.Celsius(), 1e-9)
	// By mass: (41 - 15)/(58 - 15) of the water is hot.
	assert.InEpsilon(t, 26.0/43, float64(p.Mix.HotWater)/float64(p.WaterMass), 1e-9)
	assert.InDelta(t, float64(p.WaterMass), float64(p.HotToWeigh+p.WaterToWeigh), 1e-9)
	assert.True(t, p.Water.Conditions.Has(doughmath.WarmForYeast))
	assert.False(t, p.Mix.Conditions.Has(doughmath.WarmForYeast))
}

// Where the sponge takes all of the water, the final mix has none to weigh, and its working no line of it.
func TestAllWaterInThePreferment(t *testing.T) {
	in := input(t, 1)
	in.Order.Product.Preferments = slices.Clone(in.Order.Product.Preferments)
	sponge := &in.Order.Product.Preferments[0]
	sponge.Amount, sponge.Parts = 100, slices.Clone(sponge.Parts)
	sponge.Parts[1].Percent = in.Order.Product.Formula[1].Percent
	require.Equal(t, []string{"water", "water"}, []string{sponge.Parts[1].Name, in.Order.Product.Formula[1].Name})
	p, w, err := reckon.Explain(in)
	require.NoError(t, err)
	assert.Zero(t, p.WaterMass)
	assert.Zero(t, p.WaterToWeigh)
	assert.False(t, slices.ContainsFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == "W_all" || s.Symbol == "W_tap" }))
}

// A part of 0 % is no part: neither preferment waits for the other.
func TestPrefermentWithNothingOfAnother(t *testing.T) {
	in := input(t, 1)
	p := &in.Order.Product
	p.Preferments = slices.Repeat(p.Preferments, 2)
	p.Preferments[0].Amount, p.Preferments[1].Amount, p.Preferments[1].Name = 15, 10, "poolish"
	p.PrefermentMixes = slices.Repeat(p.PrefermentMixes, 2)
	p.PrefermentMixes[1].Name = "poolish"
	want, err := in.Solve()
	require.NoError(t, err)
	p.Preferments[0].Parts = append(slices.Clone(p.Preferments[0].Parts), doughmath.PrefermentPart{Name: "poolish"})
	got, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, want.PrefermentRuns, got.PrefermentRuns)
	assert.Equal(t, unit.Minutes(188), got.PrefermentRuns[1].Before, "8 min of mixing and 3 h to ripen")
}
