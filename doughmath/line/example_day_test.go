package line_test

import (
	"fmt"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func ExampleDayPlan() {
	data, _ := testdata.Scenario("demo.json")
	s, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	night := line.DayPlan{
		Line: s.Line, Shift: s.Shift,
		DayTerms: line.DayTerms{Start: unit.Hours(22), People: 2, Aim: line.FewestLate, Allergens: line.PlainFirst},
		Orders: []line.DayOrder{
			{Name: "rolls", Order: s.Orders[1], DayTimes: line.DayTimes{Due: unit.Hours(31), Bake: unit.Minutes(15), Packing: unit.Minutes(40)}},
			{Name: "buns", Order: s.Orders[0], DayTimes: line.DayTimes{Due: unit.Hours(29), Bake: unit.Minutes(15), Packing: unit.Minutes(40)}},
			{Name: "sticks", Order: s.Orders[3], DayTimes: line.DayTimes{Due: unit.Hours(30), Bake: unit.Minutes(15), Packing: unit.Minutes(40)}},
		},
	}
	out, err := night.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range out.Runs {
		fmt.Printf("%s: mixing from %v, ready at %v, due at %v\n", r.Name, r.Batches[0], r.Ready, r.Due)
	}
	fmt.Printf("late: %d of at least %d; %v to draw, %v of it ice\n", out.Total.Late, out.Least.Late, out.Drawn, out.Ice)
	// Output:
	// sticks: mixing from 22 h, ready at 24 h 17 min 48 s, due at 30 h
	// buns: mixing from 23 h 18 s, ready at 26 h 45 min 8 s, due at 29 h
	// rolls: mixing from 25 h 12 min 8 s, ready at 28 h 43 min 1 s, due at 31 h
	// late: 0 of at least 0; 667.5 kg to draw, 570 g of it ice
}

func ExampleRunOrder() {
	out, err := line.RunOrder{
		Runs: []line.Run{
			{Name: "brown", Time: unit.Minutes(50), Due: unit.Hours(4), Next: []unit.Duration{0, unit.Minutes(10), unit.Minutes(30)}},
			{Name: "white", Time: unit.Minutes(40), Due: unit.Hours(4), Next: []unit.Duration{unit.Minutes(5), 0, unit.Minutes(15)}},
			{Name: "cheese", Time: unit.Minutes(60), Due: unit.Hours(2), Next: []unit.Duration{unit.Minutes(60), unit.Minutes(60), 0}},
		},
		Aim: line.FewestLate,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range out.Runs {
		fmt.Printf("%s: %v changing over, done at %v\n", r.Name, r.Changeover, r.End)
	}
	fmt.Println("late:", out.Total.Late)
	// Output:
	// cheese: 0 s changing over, done at 1 h
	// white: 1 h changing over, done at 2 h 40 min
	// brown: 5 min changing over, done at 3 h 35 min
	// late: 0
}
