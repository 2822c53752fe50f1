package line_test

import (
	"fmt"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func ExamplePlan() {
	data, _ := testdata.Scenario("demo.json")
	day, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := line.Plan{Line: day.Line, Order: day.Orders[2], Shift: day.Shift}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("scale %v at mark %v\n", plan.Target, plan.Mark.Set)
	fmt.Printf("%v, dwell %v, limited by the %s\n", plan.Strokes, plan.Dwell.Dwell, plan.Speed.HighLimit)
	fmt.Printf("%d batches, %v of ice in each\n", plan.Batch.Batches, plan.IceToWeigh)
	// By hand: the label asks for 800 g, 8 g that the mean may drift, and what a check of seven leaves alone,
	// 2.054*6/sqrt(7) = 4.657 g of dough or 4.106 g of bread: 812.106/(0.895*0.985) = 921.2 g of dough.
	// With the waste a piece takes 930.4 g, and 154 kg go on top of the head of 6 kg: 165 pieces at most, so
	// 10 batches of 151. One in 10 min is 15.1 strokes/min, on the step 15: 290 trays take 19.33 min.
	// The energy of mixing is the same for a batch of any size, so that ice goes down in proportion to what is mixed:
	// 5.53 kg for the 154.7 kg of 168 pieces of 911.9 g and 6.03 kg for the 139.8 kg of 151 of 916.5 g make 6.01 kg for 140.5 kg.

	// Output:
	// scale 921.2 g at mark 35
	// 15 strokes/min, dwell 19 min 20 s, limited by the oven
	// 10 batches, 6.01 kg of ice in each
}

func ExampleScenario_PlanAll() {
	data, _ := testdata.Scenario("demo.json")
	day, _ := line.ReadScenario(data)
	stick := &day.Orders[3].Product
	stick.DwellLow, stick.DwellHigh = unit.Minutes(25), unit.Minutes(35) // the divider does not run so slowly
	plans, err := day.PlanAll()
	if err != nil {
		fmt.Println(err) // names every value to mend
		return
	}
	for _, p := range plans {
		if p.Refused != nil {
			fmt.Printf("%s: cannot be made as asked\n", p.Order.Product.Name)
			continue
		}
		fmt.Printf("%s: done after %v\n", p.Order.Product.Name, p.Plan.Times.LastOut)
	}
	// By hand, for the loaf: nine batches before the last, each of 151/15 min, are 90.6 min; 12 min of mixing and 10 min on
	// the floor, 150 strokes at 15 in a minute, and a dwell of 19.33 min make 141.93 min.

	// Output:
	// Star bun: done after 2 h 4 min 49 s
	// Long picnic roll: done after 1 h 45 min 52 s
	// Tin loaf 800 g: done after 2 h 21 min 56 s
	// Slow stick: cannot be made as asked
}
