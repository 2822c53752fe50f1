package calc

import "example.com/dough/divider"

// calibrationExample is what mark-fit makes of its own example.
const calibrationExample = `"calibration":{"shape":"straight","weighting":"by-pieces","across":2,"confidence":"95 %","student_t":2.7764451051977934,
	"trials":6,"degrees_of_freedom":4,"low_mark":2,"high_mark":6,"mean_mark":4,"mean_weight":"78.16666666666667 g","slope":8.4,
	"sum_weights":60,"sxx":160,"residual_sd":"1.1105554165971845 g","piece_sd":"1.1105554165971845 g"}`

func dividerEntries() []Entry {
	return []Entry{
		entry("divider-rate", "How many pieces and how much dough pass the divider?",
			`{"strokes":"30 strokes/min","across":2,"piece":"3 oz"}`,
			divider.ExplainRate, "strokes-for-rate"),
		entry("strokes-for-rate", "At how many strokes must the divider run for the rate I want?",
			`{"pieces":"3600 pieces/h","across":2,"slowest":"10 strokes/min","fastest":"40 strokes/min"}`,
			divider.ExplainStrokesForRate, "divider-rate"),
		entry("hopper-time", "How long does this batch stand in the hopper?",
			`{"batch":"120 kg","dough":"300 kg/h","limit":"20 min"}`,
			divider.ExplainHopperTime, "batch-for-hopper-time"),
		entry("batch-for-hopper-time", "What is the largest batch that leaves the hopper in time?",
			`{"dough":"300 kg/h","limit":"20 min"}`,
			divider.ExplainBatchForHopperTime, "hopper-time"),
		entry("mark-fit", "What does each mark of the handle weigh?",
			`{"trials":[{"mark":2,"weight":"61.2 g","pieces":10},{"mark":4,"weight":"77.9 g","pieces":10},{"mark":6,"weight":"94.6 g","pieces":10},
			{"mark":4,"weight":"78.3 g","pieces":10},{"mark":6,"weight":"95.4 g","pieces":10},{"mark":2,"weight":"61.6 g","pieces":10}],
			"confidence":"95 %","shape":"straight","weighting":"by-pieces","across":2}`,
			divider.ExplainMarkFit),
		entry("mark-for-weight", "Where do I set the mark for this weight?",
			`{`+calibrationExample+`,"weight":"85 g","interval":"fieller","of":"mean","mark_low":0,"mark_high":10,"tolerance":"1 g"}`,
			divider.ExplainMarkForWeight, "weight-for-mark"),
		entry("weight-for-mark", "What does a piece weigh at this mark?",
			`{`+calibrationExample+`,"mark":5,"of":"sample","pieces":10}`,
			divider.ExplainWeightForMark, "mark-for-weight"),
	}
}
