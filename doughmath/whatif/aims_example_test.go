package whatif_test

import (
	"context"
	"fmt"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
	"example.com/dough/doughmath/whatif"
)

// today is a dough of 26 °C on a day like any other.
var today = whatif.Of(doughmath.WaterTemperature{
	TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
	Friction: unit.CelsiusDegrees(14), Basis: doughmath.FrictionOnce,
})

// With which flour would the water have to be 4 °C?
func ExampleSeek_Run() {
	found, err := whatif.Seek{
		Study: whatif.Study{
			Subject: today,
			Vary:    []whatif.Factor{{Path: "flour_temp"}}, // over the range that the input has
			Outputs: []whatif.Output{{Path: "water_temp"}},
		},
		Value: "4 °C",
	}.Run(context.Background())
	if err != nil {
		fmt.Println(err) // what is wrong, or how far the water can go
		return
	}
	for _, m := range found.Met {
		fmt.Printf("%s: %.1f %s\n", m.Kind, m.From.Input, found.Columns[0].Unit)
	}
	// By hand: 3 x 26 °C less 14 C° of friction, 23 °C of the room and 4 °C of the water are 37 °C.

	// Output: crossing: 37.0 °C
}

// What is the warmest flour that still needs no ice?
func ExampleBest_Run() {
	found, err := whatif.Best{
		Study: whatif.Study{
			Subject: today,
			Vary:    []whatif.Factor{{Path: "flour_temp", From: "15 °C", To: "50 °C", Count: 8}},
			Outputs: []whatif.Output{{Path: "water_temp"}},
		},
		Aim: whatif.Most, Of: "flour_temp",
		Must: whatif.Must{Without: []string{"below-freezing"}},
	}.Run(context.Background(), whatif.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f °C, of the values looked at %.0f °C\n", found.Best.Inputs[0], found.Grid.Inputs[0])
	// By hand: 64 °C for flour, room and water together leave 41 °C with water of 0 °C.

	// Output: 41.00 °C, of the values looked at 40 °C
}

// How far off may the water be, and which of three tolerances decides it?
func ExampleSpread_Run() {
	got, err := whatif.Spread{Study: whatif.Study{
		Subject: today,
		Vary: []whatif.Factor{
			{Path: "flour_temp", Distribution: whatif.Distribution{Shape: whatif.Uniform, HalfWidth: "2 C°"}},
			{Path: "room", Distribution: whatif.Distribution{Shape: whatif.Normal, SD: "0.5 C°"}},
			{Path: "friction", Distribution: whatif.Distribution{Shape: whatif.Triangular, HalfWidth: "1.5 C°"}},
		},
		Outputs: []whatif.Output{{Path: "water_temp"}},
	}}.Run(context.Background(), whatif.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	water := got.Outputs[0]
	fmt.Printf("%.2f °C, standard uncertainty %.2f C°, by trials %.2f C°\n", water.FirstOrder.Estimate, water.FirstOrder.U, water.Trials.U.Value)
	for k, in := range got.Inputs {
		fmt.Printf("%-10s %.0f %%\n", in.Column.Path, 100*water.FirstOrder.Inputs[k].Share)
	}
	// By hand: variances of 4/3, 1/4 and 2.25/6 make 1.958, whose root is 1.40; 4/3 is 68 % of it.

	// Output:
	// 20.00 °C, standard uncertainty 1.40 C°, by trials 1.40 C°
	// flour_temp 68 %
	// room       13 %
	// friction   19 %
}

// Which room keeps the water between 19 and 21 °C most often, when flour scatters?
func ExampleRobust_Run() {
	got, err := whatif.Robust{
		Study: whatif.Study{
			Subject: today,
			Vary:    []whatif.Factor{{Path: "room", From: "20 °C", To: "26 °C", Step: "1 C°"}},
		},
		Scatter: []whatif.Factor{{Path: "flour_temp", Distribution: whatif.Distribution{Shape: whatif.Normal, SD: "1 C°"}}},
		Must:    whatif.Must{Limits: []whatif.Limit{{Path: "water_temp", Low: "19 °C", High: "21 °C"}}},
		Trials:  4000,
	}.Run(context.Background(), whatif.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	kept := got.Best.Kept
	fmt.Printf("%.0f °C: within the limits in %.0f to %.0f %% of all cases\n", got.Best.Inputs[0], 100*kept.Low, 100*kept.High)
	// By hand: with 23 °C the water is 20 °C, and a normal number is within one standard deviation in 68 % of all cases.

	// Output: 23 °C: within the limits in 67 to 69 % of all cases
}
