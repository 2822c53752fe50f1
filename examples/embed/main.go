// Embed is the smallest program that uses the library; README.md carries it.
package main

import (
	"fmt"

	"example.com/dough/doughmath"
)

func main() {
	water, err := doughmath.WaterTemperature(doughmath.WaterTemperatureInput{
		Target: doughmath.Celsius(26), Flour: doughmath.Celsius(21), Room: doughmath.Celsius(23),
		Friction: doughmath.CelsiusDegrees(14), Basis: doughmath.FrictionOnce,
	})
	if err != nil {
		fmt.Println(err) // names every bad field, its value and its range
		return
	}
	fmt.Println("water:", water.Water, water.Conditions.Sentences())
}
