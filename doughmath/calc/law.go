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
	}
}
