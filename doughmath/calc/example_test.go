package calc_test

import (
	"fmt"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A program that evaluates whatever it is asked for, from JSON to JSON.
func ExampleEval() {
	input := `{"target_temp":"78 °F","flour_temp":"70 °F","room":"72 °F","friction":"24 F°","friction_basis":"once"}`
	result, err := calc.Eval("water-temperature", []byte(input), calc.Options{Units: unit.US, Rounded: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	data, _ := result.AppendJSON(nil)
	fmt.Println(string(data))
	// Output:
	// {"calculation":"water-temperature","result":{"water_temp":"68 °F","factors":3,"base":"114 F°"},"conditions":[],"cautions":[]}
}

// Everything that is wrong is said at once, beside the field that it is about.
func ExampleEval_refused() {
	_, err := calc.Eval("water-temperature", []byte(`{"target_temp":78,"flower_temp":"70 °F","friction":"24","friction_basis":"once"}`), calc.Options{})
	for _, bad := range reckon.InputErrors(err) {
		fmt.Printf("%s is %s: want %s\n", bad.Field, bad.Value, bad.Want)
	}
	// Output:
	// target_temp is the bare number 78: want a temperature in quotes with its unit (°C, °F, K), 0 °C to 45 °C
	// flower_temp is not a known name: want flour_temp perhaps; the names here are target_temp, flour_temp, room, third, fourth, friction, friction_basis, yeast, yeast_step, water, tap, hot_tap
	// friction is "24": want a unit after the number; a number and a unit (C°, F°)
	// flour_temp is missing: want a temperature in quotes with its unit (°C, °F, K), -40 °C to 60 °C
}

// A learner who wants to see every step of a worked solution.
func ExampleAppendWorking() {
	e, _ := calc.Lookup("water-temperature")
	result, err := e.Eval([]byte(e.Example), calc.Options{Working: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(e.Question)
	fmt.Print(string(calc.AppendWorking(nil, result.Working, unit.Metric)))
	// Output:
	// How warm must the water be for the dough temperature I want?
	// T_d  target temperature                   = 26 °C
	// T_f  flour temperature                    = 21 °C
	// T_r  room                                 = 23 °C
	// f    friction                             = 14 C°
	// N    factors counted, the water included  = 3                 from 1 + count(T_f, T_r) = 1 + count(21, 23)
	// S    sum of the known temperatures        = 44 °C (sum of 2)  from T_f + T_r = 21 + 23
	// F    friction factor                      = 14 C°             from f (taken off once)
	// B    base temperature                     = 64 °C (sum of 3)  from N*T_d - F = 3*26 - 14 (what all factors must add up to)
	// T_w  water temperature                    = 20 °C             from B - S = 64 - 44 (factor rule)
}

// A Go program that needs one calculation embeds its function: the calculator
// is not needed for it.
func Example_embedding() {
	result, err := doughmath.WaterTemperature{
		TargetTemp: unit.Fahrenheit(78), FlourTemp: unit.Fahrenheit(70), Room: unit.Fahrenheit(72),
		Friction: unit.FahrenheitDegrees(24), Basis: doughmath.FrictionOnce,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("water at", result.WaterTemp.In(unit.US))
	// Output:
	// water at 68 °F
}

// The same relation for another unknown.
func ExampleEntry_Solving() {
	e, _ := calc.Lookup("water-temperature")
	other, err := e.Solving("dough_temp")
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := other.Eval([]byte(other.Example), calc.Options{Rounded: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	text, _ := result.AppendText(nil)
	fmt.Printf("%s\n%s", other.Question, text)
	// Output:
	// How warm will the dough be with this water?
	// dough_temp  25.3 °C
	// factors     3
}
