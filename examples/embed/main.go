// Embed is the smallest program that uses the library; README.md carries it.
package main

import (
	"fmt"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
)

func main() {
	water, err := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Friction: unit.CelsiusDegrees(14), Basis: doughmath.FrictionOnce,
	}.Solve()
	if err != nil {
		fmt.Println(err) // names every bad field, its value and its range
		return
	}
	fmt.Println("water:", water.WaterTemp, water.Conditions.Sentences(), water.Cautions.Sentences())
}
