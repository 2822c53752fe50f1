package divider_test

import (
	"fmt"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExampleTolerableDeficiency() {
	loaf, err := divider.TolerableDeficiency{Rules: divider.RulesUK, Nominal: unit.Grams(400)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("few loaves below", loaf.FirstLimit, "and none below", loaf.SecondLimit)
	fmt.Println(loaf.RuleSet.Authority, "-", loaf.RuleSet.Edition)
	// Output:
	// few loaves below 388 g and none below 376 g
	// United Kingdom - SI 2006/659, Schedule 2, with the government's table to 25 kg
}

func ExampleLoafLimits() {
	loaf, err := divider.LoafLimits{Rules: divider.LoafTexas, Nominal: unit.Pounds(1.5)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("each loaf", loaf.Least.In(unit.US), "to", loaf.Most.In(unit.US))
	// Output:
	// each loaf 1.406 lb to 1.594 lb
}
