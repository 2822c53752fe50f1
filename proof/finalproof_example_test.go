package proof_test

import (
	"fmt"

	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

func ExampleFinalProofLoad() {
	out, err := proof.FinalProofLoad{
		PieceRate: unit.PiecesPerMinute(48), Stay: unit.Minutes(55), Carrier: proof.CarrierRack, PerCarrier: 240,
		Handling: unit.Minutes(10), BatchPieces: 2400, Wait: unit.Minutes(6), Available: 12,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a rack every %v; %d racks in proof at once, %d needed in all\n", out.FillTime, out.InProof, out.Needed)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// a rack every 5 min; 10 racks in proof at once, 13 needed in all
	// A station is asked for more than it can hold.
}

func ExampleRateForFinalProofLoad() {
	out, err := proof.RateForFinalProofLoad{
		Available: 14, PerCarrier: 240, Carrier: proof.CarrierRack, Stay: unit.Minutes(55), Handling: unit.Minutes(10), Piece: unit.Grams(85),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("up to %v, %v\n", out.PieceRate, out.MassRate)
	// Output: up to 48 pieces/min, 244.8 kg/h
}

func ExampleSharedRate() {
	out, err := proof.SharedRate{
		Basis: proof.ShareOfOutput, Products: []proof.ProductShare{{Share: 60, MassRate: 700}, {Share: 40, MassRate: 500}},
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.MassRate)
	// Output: 603.4 kg/h
}

func ExampleEquivalent() {
	out, err := proof.Equivalent{
		History:   []proof.Stage{{Temp: unit.Celsius(24), Time: unit.Minutes(20)}, {Temp: unit.Celsius(28), Time: unit.Minutes(30)}},
		Reference: unit.Celsius(26), Model: proof.ModelQ10, ModelValue: 2.2, Low: 1.8, High: 2.6, Origin: proof.OriginAssumed,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v on the clock are %v at 26 °C (%v to %v)\n", out.Clock, out.Equivalent, out.Shortest, out.Longest)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// 50 min on the clock are 52 min 12 s at 26 °C (51 min 31 s to 52 min 50 s)
	// This is a model's estimate: measure it on the line and put the measured value in.
}

func ExampleTemperatureForProof() {
	out, err := proof.TemperatureForProof{
		Reference: unit.Celsius(26), KnownTime: unit.Minutes(60), WantedTime: unit.Minutes(50), Model: proof.ModelQ10, ModelValue: 2.2, Origin: proof.OriginMeasured,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("make the dough", out.Temp)
	// Output: make the dough 28.3 °C
}

func ExampleQ10ForProof() {
	out, err := proof.Q10ForProof{
		Cool: proof.Trial{Temp: unit.Celsius(24), Time: unit.Minutes(75)},
		Warm: proof.Trial{Temp: unit.Celsius(29), Time: unit.Minutes(50)},
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("Q10 %.2f, %v a degree\n", out.Q10, out.PerDegree)
	// Output: Q10 2.25, 8.447 % a degree
}

func ExampleSaturationPressure() {
	out, err := proof.SaturationPressure{Temp: unit.Celsius(38)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Pressure)
	// Output: 6.631 kPa
}

func ExampleTemperatureForSaturation() {
	out, err := proof.TemperatureForSaturation{Pressure: unit.Kilopascals(5.6)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("condenses below", out.Temp)
	// Output: condenses below 34.9 °C
}

func ExampleAir() {
	out, err := proof.Air{DryBulb: unit.Celsius(38), WetBulb: unit.Celsius(35.5), Pressure: unit.Kilopascals(101.325)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v, dew point %v, %.1f g water per kg of dry air\n", out.Humidity, out.DewPoint, out.Ratio)
	// Output: 84.81 %, dew point 35 °C, 36.6 g water per kg of dry air
}

func ExampleSurface() {
	out, err := proof.Surface{
		Air:       proof.Air{DryBulb: unit.Celsius(38), Humidity: 82, Pressure: unit.Kilopascals(101.325)},
		DoughTemp: unit.Celsius(27), Activity: 0.97, Warming: unit.Minutes(25), Origin: proof.OriginMeasured,
		Time: unit.Minutes(60), SweatLimit: unit.Minutes(45), DryLimit: unit.Minutes(15),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("comes in %v below the dew point, sweats %v, dries the last %v\n", out.SweatMargin, out.Sweating, out.Drying)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// comes in 7.38 C° below the dew point, sweats 27 min 47 s, dries the last 28 min 6 s
	// The air dries the surface of the piece: raise the humidity or shorten the stay.
}

func ExampleWarmingForSurface() {
	out, err := proof.WarmingForSurface{AirTemp: unit.Celsius(40), StartTemp: unit.Celsius(27), AfterTemp: unit.Celsius(34), Time: unit.Minutes(30)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("time constant", out.Warming)
	// Output: time constant 38 min 48 s
}

func ExampleHumidityForSurface() {
	out, err := proof.HumidityForSurface{AirTemp: unit.Celsius(38), DoughTemp: unit.Celsius(33), Activity: 0.97, Origin: proof.OriginMeasured}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("sweats above %v, dries below %v\n", out.SweatsAbove, out.DriesBelow)
	// Output: sweats above 75.92 %, dries below 73.64 %
}

func ExampleSweatWater() {
	out, err := proof.SweatWater{
		Piece: unit.Grams(500), SpecificHeat: 2.8, StartTemp: unit.Celsius(27), UntilTemp: unit.Celsius(33), Latent: 2420, Share: 40, Origin: proof.OriginMeasured, Uptake: 20, Dusted: unit.Grams(3),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v of water, %v of flour to take it up\n", out.Water, out.Flour)
	for _, s := range append(out.Conditions.Sentences(), out.Cautions.Sentences()...) {
		fmt.Println(s)
	}
	// Output:
	// 1.388 g of water, 6.942 g of flour to take it up
	// Moisture condenses on the piece: lower the humidity or use a little more dusting flour.
	// Flour dust harms the lungs and can explode: raise little of it, do not blow it away with air, and keep to the limit your authority sets.
}

func ExampleShareForSweatWater() {
	out, err := proof.ShareForSweatWater{
		Piece: unit.Grams(500), SpecificHeat: 2.8, StartTemp: unit.Celsius(27), UntilTemp: unit.Celsius(33), Latent: 2420, WeightGain: unit.Grams(1.2),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("condensation does", out.Share, "of the warming")
	// Output: condensation does 34.57 % of the warming
}
