package line_test

import (
	"fmt"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func ExampleFaultCauses() {
	data, _ := testdata.Scenario("demo.json")
	day, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	q := line.FaultCauses{
		Line: day.Line, Order: day.Orders[1], Shift: day.Shift, Symptom: line.TooLong,
		Readings: line.Readings{
			Guides: 168, BoardOut: 18,
			Lengths: []unit.Length{161, 160.5, 162, 161, 161.5},
		},
		Instruments: line.Instruments{Rule: 0.5},
	}
	out, err := q.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range out.Causes {
		fmt.Printf("%s, %.0f uncertainties beyond: %s\n  %s\n  %s\n", c.Cause, c.Beyond, c.Says, c.Do, c.Next)
	}
	for _, c := range out.Cleared {
		fmt.Println("not", c.Cause, "-", c.Says)
	}
	for _, m := range out.Measure {
		fmt.Println("for", m.For[0].Cause, "and", m.For[1].Cause, "-", m.Measure)
	}
	// Output:
	// guides-off, 24 uncertainties beyond: Distance between the side guides: 168 mm, against at most 156.2 mm.
	//   Set side guides, together by 12 mm, to 156 mm, with the line stopped.
	//   Measure ten pieces that have come to rest: if the guides stand as planned, it is how the dough draws back.
	// not draws-back - Length of the piece over the distance between the guides: 0.9595, against at most 0.96.
	// not board-out-off - Height of the pressure board where the piece leaves: 18 mm, against at least 17.84 mm.
	// for handle-moved and dough-otherwise - Weigh at least 15 single pieces behind the divider, one subgroup at one setting.
}
