package calc

import "example.com/dough/doughmath"

func temperatureEntries() []Entry {
	return []Entry{
		entry("water-temperature", "How warm must the water be for the dough I want?",
			`{"target":"26 °C","flour":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`,
			doughmath.ExplainWaterTemperature, "dough-temperature-for-water", "friction-factor"),
		entry("dough-temperature-for-water", "How warm will the dough be with this water?",
			`{"water":"18 °C","flour":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`,
			doughmath.ExplainDoughTemperatureForWater, "water-temperature", "friction-factor"),
		entry("friction-factor", "What friction does this batch show?",
			`{"dough":"26 °C","water":"18 °C","flour":"21 °C","room":"23 °C"}`,
			doughmath.ExplainFrictionFactor, "water-temperature", "dough-temperature-for-water"),
		entry("base-temperature", "Which sum must water, flour and room make?",
			`{"target":"24 °C","factors":3,"friction":"8 C°","friction_basis":"once"}`,
			doughmath.ExplainBaseTemperature, "dough-temperature-for-base"),
		entry("dough-temperature-for-base", "Which dough does this base stand for?",
			`{"base":"64 C°","factors":3,"friction":"8 C°","friction_basis":"once"}`,
			doughmath.ExplainDoughTemperatureForBase, "base-temperature"),
		entry("water-for-base", "How warm must the water be for my base today?",
			`{"base":"64 C°","flour":"27 °C","room":"28 °C"}`,
			doughmath.ExplainWaterForBase),
		entry("base-correction", "The dough came out too warm or too cold: what base and water next?",
			`{"base":"70 C°","factors":3,"water":"15 °C","wanted":"24 °C","got":"26 °C"}`,
			doughmath.ExplainBaseCorrection),
		entry("ice", "How much ice, and how much water?",
			`{"water":"40 kg","tap":"18 °C","needed":"4 °C","reading":"replacing"}`,
			doughmath.ExplainIce, "temperature-for-ice"),
		entry("temperature-for-ice", "How cold does this ice make the water?",
			`{"water":"40 kg","tap":"18 °C","ice":"5.7 kg","reading":"replacing"}`,
			doughmath.ExplainTemperatureForIce, "ice"),
	}
}
