package line_test

import (
	"fmt"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func ExampleWindow() {
	data, _ := testdata.Scenario("demo.json")
	day, _ := line.ReadScenario(data)
	rolls := day.Orders[0]
	out, err := line.Window{Line: day.Line, Order: rolls, Shift: day.Shift}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range out.Ways {
		fmt.Printf("%d batches of %d: %v (%s) to %v (%s)\n", w.Batches, w.PiecesPerBatch, w.Low, w.LowLimit, w.High, w.HighLimit)
	}
	for _, l := range out.Limits {
		if l.Speeds > 0 {
			fmt.Printf("%s %s instead of %s: %v more to choose from\n", l.Limit, l.Moved, l.Stands, l.Speeds)
		}
	}

	// A dwell for which the line is too fast: by hand, 140 trays at the slowest 12 strokes a minute take 11 min 40 s.
	rolls.Product.DwellLow, rolls.Product.DwellHigh, rolls.Product.HopperMax = unit.Minutes(12), unit.Minutes(13), unit.Minutes(90)
	out, _ = line.Window{Line: day.Line, Order: rolls, Shift: day.Shift}.Solve()
	for _, c := range out.Conflict {
		fmt.Printf("%s %s: %s, then %v\n", c.Limit, c.Stands, c.By, c.Strokes)
	}

	// Output:
	// 5 batches of 1208: 26.5 strokes/min (hopper time) to 28 strokes/min (dwell and stamper)
	// 6 batches of 1007: 22.5 strokes/min (hopper time) to 28 strokes/min (dwell and stamper)
	// 7 batches of 863: 20 strokes/min (hopper time) to 28 strokes/min (dwell and stamper)
	// hopper time 26 min instead of 25 min: 1 strokes/min more to choose from
	// mixer 39 kg instead of 40 kg: 2.5 strokes/min more to choose from
	// step 0 strokes/min instead of 0.5 strokes/min: 0.4023 strokes/min more to choose from
	// divider 12 strokes/min: 0.5 strokes/min less, then 11.5 strokes/min
	// dwell 12 min: 20 s less, then 12 strokes/min
}

func ExampleAim() {
	data, _ := testdata.Scenario("demo.json")
	day, _ := line.ReadScenario(data)
	rolls := day.Orders[0]
	rolls.Aim = line.Aim{For: line.MidDwell}
	plan, err := line.Plan{Line: day.Line, Order: rolls, Shift: day.Shift}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v, dwell %v\n", plan.Strokes, plan.Dwell.Dwell)
	for _, c := range plan.Aim.Costs[:1] {
		fmt.Printf("against %s: %v, %v later\n", c.Best.Aim, c.PieceRate, c.Finish)
	}
	rolls.Aim = line.Aim{For: line.WantedRate, Rate: 80}
	_, err = line.Plan{Line: day.Line, Order: rolls, Shift: day.Shift}.Solve()
	fmt.Println(err)

	// Output:
	// 20 strokes/min, dwell 7 min
	// against fastest: -16 pieces/min, 45 min 11 s later
	// line-plan: no speed and batches gives a rate of 80 pieces/min kept up: the nearest is 28 strokes/min with 5 batches of 1208 pieces, 56 pieces/min: 24 pieces/min fewer than wanted; see line-window for what limits it and what more would buy
}
