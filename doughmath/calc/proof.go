package calc

import "example.com/dough/proof"

func proofEntries() []Entry {
	return []Entry{
		entry("proofer-dwell", "How long does a piece stay in the overhead proofer at this speed?",
			`{"proofer":{"pockets":6,"trays":120,"last_pass_trays":120,"trays_per_stroke":1},"across":2,"strokes":"24 strokes/min"}`,
			proof.ExplainDwell, "strokes-for-dwell"),
		entry("strokes-for-dwell", "How fast must the divider run for this time in the overhead proofer?",
			`{"proofer":{"pockets":6,"trays":120,"last_pass_trays":90,"trays_per_stroke":1},"across":1,"dwell":"20 min"}`,
			proof.ExplainStrokesForDwell, "proofer-dwell"),
		entry("proofer-speed", "At which speeds do the dwell and all the machines agree, and what binds?",
			`{"proofer":{"pockets":6,"trays":120,"last_pass_trays":120,"trays_per_stroke":1},"across":2,"dwell_low":"10 min","dwell_high":"20 min",
			  "limits":[{"name":"divider","low":"10 strokes/min","high":"30 strokes/min"},{"name":"stamper","low":"0 strokes/min","high":"32 strokes/min"}]}`,
			proof.ExplainSpeed, "strokes-for-dwell"),
		entry("proofer-clear", "When do the first and last pieces of a run come out, and when may the next product follow?",
			`{"proofer":{"pockets":6,"trays":120,"last_pass_trays":120,"trays_per_stroke":1},"across":2,"strokes":"24 strokes/min","pieces":3000,"next_across":1}`,
			proof.ExplainClear),
	}
}
