package calc

import "example.com/dough/doughmath"

func formulaEntries() []Entry {
	return []Entry{
		listEntry("formula-scale", "What must I weigh for this much dough, or this much flour?",
			`{"ingredients":[{"name":"flour","percent":"100 %","role":"flour"},{"name":"water","percent":"60 %","role":"water"},
			{"name":"salt","percent":"2 %","role":"salt"},{"name":"yeast","percent":"1.5 %","role":"other"}],"dough":"120 kg","division":"5 g"}`,
			doughmath.ExplainFormulaScale, "formula-from-weights"),
		listEntry("formula-from-weights", "What are the baker's percentages of this dough?",
			`{"weights":[{"name":"flour","mass":"50 kg","role":"flour"},{"name":"water","mass":"30 kg","role":"water"},
			{"name":"salt","mass":"1 kg","role":"salt"},{"name":"yeast","mass":"800 g","role":"other"}]}`,
			doughmath.ExplainFormulaFromWeights, "formula-scale"),
		entry("hydration", "How wet is this dough really?",
			`{"ingredients":[{"name":"flour","percent":"100 %","role":"flour"},{"name":"water","percent":"50 %","role":"water"},
			{"name":"milk","percent":"10 %","role":"liquid","water":"88 %"},{"name":"starter","percent":"20 %","role":"starter","hydration":"100 %"}],"liquids":"water-content"}`,
			doughmath.ExplainHydration, "water-for-hydration"),
		entry("water-for-hydration", "How much water do I add for this hydration?",
			`{"ingredients":[{"name":"flour","percent":"100 %","role":"flour"},{"name":"starter","percent":"20 %","role":"starter","hydration":"100 %"}],
			"liquids":"water-content","hydration":"65 %"}`,
			doughmath.ExplainWaterForHydration, "hydration"),
	}
}
