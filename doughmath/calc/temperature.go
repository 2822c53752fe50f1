package calc

import "example.com/dough/doughmath"

func temperatureEntries() []Entry {
	return []Entry{
		entry("water-temperature", "How warm must the water be for the dough I want?",
			`{"target":"26 °C","flour":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`,
			doughmath.ExplainWaterTemperature, "dough-temperature-for-water"),
		entry("dough-temperature-for-water", "How warm will the dough be with this water?",
			`{"water":"18 °C","flour":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`,
			doughmath.ExplainDoughTemperatureForWater, "water-temperature"),
	}
}
