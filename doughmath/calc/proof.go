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
		listEntry("proofer-tradeoff", "How do pieces an hour and time in the proofer trade off, for each number across?",
			`{"speed":{"proofer":{"pockets":6,"trays":120,"last_pass_trays":120,"trays_per_stroke":1},"across":2,"dwell_low":"8 min","dwell_high":"20 min",
			  "limits":[{"name":"divider","low":"10 strokes/min","high":"40 strokes/min"}]},"across":[1,2,3],"steps":5}`,
			proof.ExplainTradeoff, "proofer-speed"),
		entry("proofer-speed-change", "What does a stop or a change of speed do to the pieces inside?",
			`{"proofer":{"pockets":6,"trays":120,"last_pass_trays":120,"trays_per_stroke":1},"across":2,"from":"24 strokes/min","pause":"3 min","to":"20 strokes/min","dwell_low":"12 min","dwell_high":"20 min"}`,
			proof.ExplainSpeedChange),
		listEntry("proofer-lanes", "How long does each lane stay when pieces move in a pattern of their own?",
			`{"proofer":{"pockets":5,"trays":100,"last_pass_trays":60,"trays_per_stroke":1},"first_pass_trays":80,"load":[1,2],"next":[3,4,5,0,0],"strokes":"20 strokes/min"}`,
			proof.ExplainLanes),
		entry("proofer-run", "What comes of a run with stops, speed changes and jams, pocket by pocket?",
			`{"proofer":{"pockets":6,"trays":120,"last_pass_trays":120,"trays_per_stroke":1},"across":2,"strokes":"24 strokes/min","pieces":2000,
			  "acts":[{"at":"20 min","do":"stop"},{"at":"25 min","do":"start"}],"faults":[{"kind":"missing","stroke":3,"lane":1}]}`,
			proof.ExplainRun, "proofer-dwell", "proofer-clear"),
	}
}
