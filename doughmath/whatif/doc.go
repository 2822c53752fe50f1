// Package whatif varies a calculation, a line plan or a whole scenario and says
// what becomes of the answer.
//
//	study, err := whatif.Study{
//		Subject: whatif.Of(q), // or ByID, or OfScenario
//		Vary:    []whatif.Factor{{Path: "room", From: "18 °C", To: "30 °C", Step: "2 C°"}},
//		Outputs: []whatif.Output{{Path: "water_temp"}},
//	}.Compile()
//	for row, err := range study.Rows(ctx, whatif.Options{}) { ... }
//
// [Study.Compile] finds every path, unit, word and range before anything runs, and
// tells all that is wrong with them at once; [Compiled.Size] says how many
// scenarios there are. [Compiled.Rows] solves them one after the other, or with
// several goroutines, a shard or all of them; [Compiled.At] solves one alone. A
// scenario is the same to the last bit however it is reached. [Comparison] sets named
// cases side by side and explains each difference by the steps of the working.
//
// # Paths
//
// A path is made of the names in the JSON of a calculation: "room",
// "shift.tap", "line.belts[0].belt_speed". An item of a list is named by its number,
// counted from 0, or by its name: "orders[Star bun].product.baked". Paths of outputs lead
// into the answer in the same way. A list there may be too short, and a part left out: the
// output is then absent (NaN), which is not 0.
//
// # A study as JSON
//
// [ReadStudy] reads a study strictly: unknown names, bare numbers with units and
// missing values are refused by their paths.
//
//	{
//	  "calculation": "water-temperature",
//	  "base": {"target_temp": "26 °C", "flour_temp": "21 °C", "room": "23 °C", "friction": "14 C°", "friction_basis": "once"},
//	  "vary": [
//	    {"path": "room", "from": "18 °C", "to": "30 °C", "step": "2 C°"},
//	    {"path": "flour_temp", "values": ["18 °C", "70 °F"]},
//	    {"path": "friction_basis", "values": ["once"]}
//	  ],
//	  "outputs": [{"path": "water_temp", "unit": "°F"}, {"path": "base"}]
//	}
//
// In place of calculation and base, "scenario" holds a line, a shift and its orders
// (see [line.Scenario]). A factor has values, or from and to with a step or a
// count, or a distribution; "unit" is that of its column, otherwise the unit of its first text. "combine" is
// "grid" (each with each, the last varying fastest), "side-by-side", or a way to
// draw "samples" scenarios with a "seed", as [Combine] lists them. More than "limit" scenarios (a
// million unless it is given) are refused, unless "force" is true. "units" is
// "metric" or "us".
//
// # A comparison as JSON
//
//	{
//	  "calculation": "curls", "base": {"length": "300 mm", "thickness": "5 mm"},
//	  "cases": [
//	    {"name": "as it is"},
//	    {"name": "thinner", "change": [{"path": "thickness", "value": "4 mm"}]}
//	  ],
//	  "outputs": [{"path": "turns"}]
//	}
//
// A case may have a "base" of its own. Without outputs every value that differs is compared.
//
// # Speed
//
// What leads to the inputs and outputs is found once. A calculation that keeps
// what does not depend on what varies, as [reckon.Repeat] lets it, is asked in that way; the others
// are checked and solved anew for each scenario. Rows use the same memory again, and only a
// refusal allocates: its error.
package whatif
