package line_test

import (
	"fmt"

	"example.com/dough/doughmath/line"
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
	// Output:
	// scale 916.5 g at mark 35
	// 16 strokes/min, dwell 18 min 8 s, limited by the oven
	// 10 batches, 6.03 kg of ice in each
}

func ExampleScenario_PlanAll() {
	data, _ := testdata.Scenario("demo.json")
	day, _ := line.ReadScenario(data)
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
	// Output:
	// Star bun: done after 2 h 4 min 49 s
	// Long picnic roll: done after 1 h 45 min 52 s
	// Tin loaf 800 g: done after 2 h 19 min 30 s
	// Slow stick: cannot be made as asked
}
