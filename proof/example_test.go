package proof_test

import (
	"fmt"

	"example.com/dough/doughmath"
	"example.com/dough/proof"
)

func ExampleDwell() {
	p := proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1}
	rolls, err := proof.Dwell(proof.DwellInput{Proofer: p, Across: 2, Strokes: doughmath.StrokesPerMinute(24)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d passes, %v in the proofer, %d pieces inside at %v\n", rolls.Passes, rolls.Dwell, rolls.Inside, rolls.Rate)
	// Output: 3 passes, 15 min in the proofer, 720 pieces inside at 48 pieces/min
}

func ExampleStrokesForDwell() {
	p := proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 90, TraysPerStroke: 1}
	bread, err := proof.StrokesForDwell(proof.StrokesForDwellInput{Proofer: p, Across: 1, Dwell: doughmath.Minutes(20)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("run at %v: %d passes, %v\n", bread.Strokes, bread.Passes, bread.Rate)
	for _, s := range bread.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// run at 34.5 strokes/min: 6 passes, 34.5 pieces/min
	// One pass covers only part of the trays.
}

func ExampleSpeed() {
	in := proof.SpeedInput{
		Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1}, Across: 2,
		DwellLow: doughmath.Minutes(10), DwellHigh: doughmath.Minutes(20),
		Limits: []proof.StrokeLimit{{Name: "divider", Low: 10, High: 30}, {Name: "stamper", Low: 0, High: 32}},
	}
	out, err := proof.Speed(in)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("from %v (%s: %v) to %v (%s: dwell %v)\n", out.Low, out.LowLimit, out.DwellAtLow, out.High, out.HighLimit, out.DwellAtHigh)
	in.Limits[0].High = 15
	_, err = proof.Speed(in)
	fmt.Println(err)
	// Output:
	// from 18 strokes/min (dwell: 20 min) to 30 strokes/min (divider: dwell 12 min)
	// proofer-speed: no divider speed gives both dwell (18 strokes/min or more) and divider (15 strokes/min or less): the nearest are 15 strokes/min (dwell 24 min), which suits divider, and 18 strokes/min (dwell 20 min), which suits dwell; move one of the two limits, or load another number across
}

func ExampleClear() {
	out, err := proof.Clear(proof.ClearInput{
		Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1},
		Across:  2, Strokes: doughmath.StrokesPerMinute(24), Pieces: 3000, NextAcross: 1,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("first rolls after %v, last after %v; a stop strands up to %d\n", out.FirstOut, out.LastOut, out.Stranded)
	fmt.Printf("next product %v after the last stroke (%s)\n", out.Gap, out.Rule)
	// Output:
	// first rolls after 15 min, last after 1 h 17 min 28 s; a stop strands up to 720
	// next product 15 min after the last stroke (clear-out)
}
