package doughmath_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func ExampleDoughProperty() {
	out, err := doughmath.DoughProperty{Temperature: unit.Celsius(25), Ingredients: []doughmath.DoughIngredient{
		{Kind: doughmath.BreadFlour, Mass: unit.Kilograms(100)},
		{Kind: doughmath.WaterKind, Mass: unit.Kilograms(60)},
		{Kind: doughmath.SaltKind, Mass: unit.Kilograms(2)},
	}}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.WaterContent, "water,", out.SpecificHeat, "and without gas", out.GasFree)
	// Output: 45.28 % water, 2.798 kJ/(kg K) and without gas 1.231 g/ml
}

func ExampleDoughDensity() {
	out, err := doughmath.DoughDensity{GasFree: unit.GramsPerMillilitre(1.27), From: doughmath.GasFreeMeasured, Gas: 10}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Density)
	// Output: 1.143 g/ml
}

func ExampleGasForDensity() {
	out, err := doughmath.GasForDensity{GasFree: unit.GramsPerMillilitre(1.27), From: doughmath.GasFreeMeasured, Density: unit.GramsPerMillilitre(1.143)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Gas, "gas")
	// Output: 10 % gas
}

// The published column of foods is ours with the fibre counted once more as
// carbohydrate, on rows as they are printed. That checks the components
// against a printed table, and the finding that the table double-counts.
func TestPublishedFoodsCountFibreTwice(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	sugar, err := doughmath.DoughProperty{Temperature: unit.Celsius(20), Ingredients: []doughmath.DoughIngredient{{Kind: doughmath.SugarKind, Mass: 1}}}.Solve()
	require.NoError(t, err)
	checked := 0
	for _, c := range cases {
		if !strings.HasPrefix(c.ID, "T1-03-") || len(c.Printed) == 0 {
			continue
		}
		var in doughmath.DoughProperty
		require.NoError(t, json.Unmarshal(c.In, &in))
		out, err := in.Solve()
		require.NoError(t, err)
		var printed unit.SpecificHeat
		require.NoError(t, json.Unmarshal(c.Printed["specific_heat"], &printed))
		m := in.Ingredients[0].Composition
		row := float64(m.WaterContent+m.Protein+m.Fat+m.Carbohydrate+m.Ash) / 100
		twice := float64(out.SpecificHeat)*row + float64(m.Fibre)/100*float64(sugar.SpecificHeat)
		// 0.005 is the printing; the reference allows 0.006 in all.
		assert.InDelta(t, float64(printed), twice, 0.006, c.ID)
		checked++
	}
	assert.Equal(t, 25, checked)
}

func TestDoughPropertyNamesEveryBadField(t *testing.T) {
	_, err := doughmath.DoughProperty{}.Solve()
	assert.Equal(t, []string{"temperature", "ingredients"}, fields(err))
	_, err = doughmath.DoughProperty{Temperature: unit.Celsius(101), Ingredients: []doughmath.DoughIngredient{
		{Kind: "rye", Mass: 1},
		{Kind: doughmath.OtherKind, Mass: 0},
		{Kind: doughmath.OtherKind, Mass: 1, Composition: doughmath.Composition{WaterContent: 120, Fibre: 1}},
		{Kind: doughmath.OtherKind, Mass: 1, Composition: doughmath.Composition{WaterContent: 90}},
	}}.Solve()
	assert.Equal(t, []string{
		"temperature", "ingredients[0].kind", "ingredients[0].composition", "ingredients[1].mass", "ingredients[1].composition",
		"ingredients[2].composition.water_content", "ingredients[2].composition.fibre", "ingredients[3].composition",
	}, fields(err))
	assert.ErrorContains(t, err, "parts that add to 90 %")
}

func TestDoughPropertyOfMixtureLiesBetween(t *testing.T) {
	at := func(parts ...doughmath.DoughIngredient) doughmath.DoughPropertyResult {
		out, err := doughmath.DoughProperty{Temperature: unit.Celsius(30), Ingredients: parts}.Solve()
		require.NoError(t, err)
		return out
	}
	flour, water := doughmath.DoughIngredient{Kind: doughmath.WholeGrainFlour, Mass: 100}, doughmath.DoughIngredient{Kind: doughmath.WaterKind, Mass: 70}
	f, w, dough := at(flour), at(water), at(flour, water)
	assert.InDelta(t, 170*float64(dough.SpecificHeat), 100*float64(f.SpecificHeat)+70*float64(w.SpecificHeat), 1e-9)
	assert.InDelta(t, 170/float64(dough.GasFree), 100/float64(f.GasFree)+70/float64(w.GasFree), 1e-9)
	assert.Equal(t, doughmath.Conditions(reckon.Uncalibrated|reckon.FromMemory), dough.Conditions, "the whole-grain row was recalled")
	assert.Equal(t, doughmath.Conditions(reckon.Uncalibrated), w.Conditions)
}

func TestDoughDensityThereAndBack(t *testing.T) {
	for gas := 0.0; gas <= 95; gas += 2.5 {
		for _, from := range []doughmath.GasFreeSource{doughmath.GasFreeMeasured, doughmath.GasFreeFromComposition} {
			out, err := doughmath.DoughDensity{GasFree: 1.27, From: from, Gas: unit.Percent(gas)}.Solve()
			require.NoError(t, err)
			back, err := doughmath.GasForDensity{GasFree: 1.27, From: from, Density: out.Density}.Solve()
			require.NoError(t, err)
			assert.InDelta(t, gas, float64(back.Gas), 1e-10)
			assert.InDelta(t, out.Expansion, back.Expansion, 1e-10)
			assert.InDelta(t, 1, float64(out.Density)*float64(out.SpecificVolume), 1e-12)
			assert.Equal(t, from == doughmath.GasFreeFromComposition, out.Conditions.Has(reckon.Uncalibrated))
		}
	}
	_, err := doughmath.GasForDensity{GasFree: 1.23, From: doughmath.GasFreeFromComposition, Density: 1.25}.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Contains(t, none.Advice, "measure it on the dough itself")
	_, err = doughmath.DoughDensity{GasFree: 1231, Gas: 96}.Solve()
	assert.Equal(t, []string{"gas_free", "gas_free_from", "gas"}, fields(err))
	_, err = doughmath.GasForDensity{GasFree: 0.8, Density: 0.01}.Solve()
	assert.Equal(t, []string{"gas_free", "gas_free_from"}, fields(err))
	_, err = doughmath.GasForDensity{GasFree: 1.2, From: doughmath.GasFreeMeasured, Density: 0.01}.Solve()
	assert.Equal(t, []string{"density"}, fields(err))
}

func BenchmarkDoughProperty(b *testing.B) {
	in := doughmath.DoughProperty{Temperature: unit.Celsius(25), Ingredients: []doughmath.DoughIngredient{
		{Kind: doughmath.BreadFlour, Mass: 100}, {Kind: doughmath.WaterKind, Mass: 60}, {Kind: doughmath.SaltKind, Mass: 2},
	}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzDoughProperty(f *testing.F) {
	f.Add(100.0, 60.0, 25.0, 13.0, 12.0, 2.0, 72.0, 2.0, 1.0, 1.27, 10.0)
	f.Add(math.NaN(), math.Inf(1), 0.0, -1.0, 101.0, 5e-324, 1e308, 1e308, 0.0, 0.9, 95.0)
	f.Fuzz(func(t *testing.T, flour, water, temp, a, b, c, d, e, g, gasFree, gas float64) {
		m := doughmath.Composition{
			WaterContent: unit.Percent(a), Protein: unit.Percent(b), Fat: unit.Percent(c),
			Carbohydrate: unit.Percent(d), Fibre: unit.Percent(e), Ash: unit.Percent(g),
		}
		out, _ := doughmath.DoughProperty{Temperature: unit.Celsius(temp), Ingredients: []doughmath.DoughIngredient{
			{Kind: doughmath.OtherKind, Mass: unit.Mass(flour), Composition: m}, {Kind: doughmath.WaterKind, Mass: unit.Mass(water)},
		}}.Solve()
		marshals(t, out)
		density, _ := doughmath.DoughDensity{GasFree: unit.Density(gasFree), From: doughmath.GasFreeMeasured, Gas: unit.Percent(gas)}.Solve()
		marshals(t, density)
		back, _ := doughmath.GasForDensity{GasFree: unit.Density(gasFree), From: doughmath.GasFreeMeasured, Density: unit.Density(flour)}.Solve()
		marshals(t, back)
	})
}
