package whatif_test

import (
	"context"
	"fmt"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/testdata"
)

// How warm the water must be, for three rooms and two flours.
func ExampleStudy_Compile() {
	base := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Friction: unit.CelsiusDegrees(14), Basis: doughmath.FrictionOnce,
	}
	study, err := whatif.Study{
		Subject: whatif.Of(base),
		Vary: []whatif.Factor{
			{Path: "room", From: "20 °C", To: "24 °C", Step: "2 C°"},
			{Path: "flour_temp", Values: []string{"18 °C", "66 °F"}},
		},
		Outputs: []whatif.Output{{Path: "water_temp"}},
	}.Compile()
	if err != nil {
		fmt.Println(err) // names everything that is wrong with the study
		return
	}
	for _, c := range study.Columns() {
		fmt.Println(c.Name)
	}
	for row, err := range study.Rows(context.Background(), whatif.Options{}) {
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.4g\n", row.Values)
	}
	// By hand: 3 x 26 °C less 14 C° of friction are 64 °C for flour, room and water together.

	// Output:
	// room (°C)
	// flour_temp (°C)
	// water_temp (°C)
	// [20 18 26]
	// [20 18.89 25.11]
	// [22 18 24]
	// [22 18.89 23.11]
	// [24 18 22]
	// [24 18.89 21.11]
}

// A study from JSON, of a plan on an invented line: two shards give what one run gives.
func ExampleCompiled_Rows() {
	day, err := testdata.Scenario("demo.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	study, err := whatif.ReadStudy(fmt.Appendf(nil, `{
		"scenario": %s,
		"vary": [
			{"path": "shift.tap", "values": ["12 °C", "60 °F"]},
			{"path": "orders[Star bun].product.baked", "from": "45 g", "to": "47 g", "step": "1 g"}
		],
		"outputs": [{"path": "orders[Star bun].target", "unit": "oz"}, {"path": "orders[Star bun].strokes_limit"}]
	}`, day))
	if err != nil {
		fmt.Println(err)
		return
	}
	compiled, err := study.Compile()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(compiled.Size(), "scenarios")
	for _, shard := range []whatif.Options{{Count: 4, Workers: 2}, {First: 4}} {
		for row, err := range compiled.Rows(context.Background(), shard) {
			if err != nil {
				fmt.Println(err)
				return
			}
			fmt.Printf("%d %.4g %s\n", row.Index, row.Values[:3], row.Word(3))
		}
	}
	// By hand: 45 g of bread, less 11 % and 1.5 % on the way, are 45/(0.89*0.985) = 51.33 g or 1.811 oz of dough.
	// 60 °F stands in the unit of its column, that of the first tap.

	// Output:
	// 6 scenarios
	// 0 [12 45 1.811] dwell and stamper
	// 1 [12 46 1.851] dwell and stamper
	// 2 [12 47 1.891] dwell and stamper
	// 3 [15.56 45 1.811] dwell and stamper
	// 4 [15.56 46 1.851] dwell and stamper
	// 5 [15.56 47 1.891] dwell and stamper
}

// Why the water of a warm day is colder: what changed, from the inputs to the answer.
func ExampleComparison() {
	base := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Friction: unit.CelsiusDegrees(14), Basis: doughmath.FrictionOnce,
	}
	out, err := whatif.Comparison{
		Subject: whatif.Of(base),
		Cases: []whatif.Case{
			{Name: "today"},
			{Name: "a warm day", Change: []whatif.Change{{Path: "room", Value: "28 °C"}}},
			{Name: "a very warm dough", Change: []whatif.Change{{Path: "target_temp", Value: "40 °C"}}},
		},
		Outputs: []whatif.Output{{Path: "water_temp"}},
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	water := out.Outputs[0]
	for i, c := range water.Cases {
		if !c.There {
			fmt.Printf("%s: no answer, it would be too %s: at most %s\n", out.Cases[i].Name, out.Cases[i].Refusals[0].Binds, out.Cases[i].Refusals[0].High)
			continue
		}
		fmt.Printf("%s: %g %s\n", out.Cases[i].Name, c.Number, water.Unit)
		for _, step := range c.Because {
			fmt.Printf("    %s: %s %g, before %g\n", step.ID, step.Symbol, step.Value, *step.Before)
		}
	}
	// By hand: 3 x 26 °C less 14 C° and less 28 °C and 21 °C are 15 °C; with water of 45 °C the
	// dough is (45 + 21 + 23 + 14)/3 = 34.3 °C, and warmer water kills the yeast.

	// Output:
	// today: 20 °C
	// a warm day: 15 °C
	//     room: T_r 28, before 23
	//     sum of the known temperatures: S 49, before 44
	//     water temperature: T_w 15, before 20
	// a very warm dough: no answer, it would be too high: at most 34.3 °C
}
