package calc

import "example.com/dough/divider"

func lawEntries() []Entry {
	return []Entry{
		entry("tolerable-deficiency", "How far may one package fall short of its label?",
			`{"rules":"uk-2006-659","nominal":"400 g"}`,
			divider.ExplainTolerableDeficiency),
		entry("loaf-limits", "What may one loaf of a standard size weigh?",
			`{"rules":"us-tx-434-007","nominal":"1.5 lb"}`,
			divider.ExplainLoafLimits),
		entry("lot-check", "Does this sample pass the net-content rules?",
			`{"rules":"nz-1999-373","sampling":"single","nominal":"400 g","lot":5,"sample":["403 g","398 g","407 g","401 g","396 g"]}`,
			divider.ExplainLotCheck),
		listEntry("lot-operating-curve", "How likely does a lot with so many light packages pass?",
			`{"rules":"eu-76-211","sampling":"double","lot":3000,"fractions":["1 %","2.5 %","5 %"]}`,
			divider.ExplainLotOperatingCurve, "fraction-for-acceptance"),
		entry("fraction-for-acceptance", "With how many light packages does a lot pass nine times in ten?",
			`{"rules":"eu-76-211","sampling":"double","lot":3000,"accepted":0.9}`,
			divider.ExplainFractionForAcceptance, "lot-operating-curve"),
		entry("oil-use", "How much divider oil does a day take, and how much runs away while scaling stops?",
			`{"valves":["12 ml/min","8 ml/min"],"scaling":"40 min","left_open":"5 min","runs":6,"pieces_per_run":2400}`,
			divider.ExplainOilUse, "oil-time-for-use", "oil-rate-for-use"),
		entry("oil-time-for-use", "How long may the oil valves be open for this much oil?",
			`{"valves":["12 ml/min","8 ml/min"],"use":"5 l"}`,
			divider.ExplainOilTimeForUse, "oil-use"),
		entry("oil-rate-for-use", "How far may each oil valve be opened for this much oil?",
			`{"use":"3 l","open":"4 h","valves":2}`,
			divider.ExplainOilRateForUse, "oil-use"),
		entry("stickiness-fit", "How much dusting flour does a piece take at each step of our own scale of stickiness?",
			`{"trials":[{"stickiness":1,"flour":"90 g","pieces":120},{"stickiness":2,"flour":"130 g","pieces":120},{"stickiness":3,"flour":"185 g","pieces":120},{"stickiness":4,"flour":"230 g","pieces":120}]}`,
			divider.ExplainStickinessFit),
		entry("flour-use", "How much dusting flour does this run take?",
			`{"scale":{"intercept":"0.33 g","per_step":"0.4 g","from":1,"to":4,"spread":"0.03 g","trials":4},"stickiness":2.5,"rate":"72 pieces/min","run":"2 h"}`,
			divider.ExplainFlourUse, "stickiness-for-flour"),
		entry("stickiness-for-flour", "How sticky is a dough that takes this much dusting flour?",
			`{"scale":{"intercept":"0.33 g","per_step":"0.4 g","from":1,"to":4,"spread":"0.03 g","trials":4},"per_piece":"1.5 g"}`,
			divider.ExplainStickinessForFlour, "flour-use"),
		listEntry("dust-limit", "What does this authority say on flour dust?",
			`{"authority":"uk-eh40"}`,
			divider.ExplainDustLimit),
	}
}
