package describe_test

import (
	"fmt"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
)

// What a calculation wants, for a form on a screen.
func ExampleOf() {
	e, _ := calc.Lookup("curls")
	for _, f := range describe.Of(e).Inputs {
		fmt.Printf("%s (%s, %s): %s\n", f.Name, f.Symbol, f.Kind, f.Range)
	}
	// Output:
	// length (L, length): 1 mm to 5 m
	// thickness (t, length): 0.1 mm to 200 mm
	// core (d, length): 0 mm to 200 mm
}

// What a program wants to know before it asks.
func ExampleInputSchema() {
	e, _ := calc.Lookup("calender-bound")
	fmt.Println(string(describe.InputSchema(e)))
	// Output:
	// {"$schema":"https://json-schema.org/draft/2020-12/schema","title":"calender-bound","description":"What is the least that dough can spring back after the rollers?","type":"object","properties":{"feed":{"description":"thickness in front of the rollers over gap; leave out for an unlimited feed; 1.01 to 1000, or 0 as if left out","type":"number","minimum":0,"maximum":1000},"index":{"description":"power-law index of the dough; 1 for a Newtonian liquid, 0.25 to 0.5 reported for biscuit dough","type":"number","minimum":0.1,"maximum":1.5}},"required":["index"],"additionalProperties":false,"examples":[{"feed":4,"index":0.35}]}
}
