package whatif_test

import (
	"context"
	"fmt"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
	"example.com/dough/doughmath/whatif"
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
