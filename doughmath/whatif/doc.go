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
// # What to set, and how far to trust it
//
// Four questions rest on a study, under "study" in their JSON, and are read by [ReadSeek],
// [ReadBest], [ReadSpread] and [ReadRobust]. [Seek] finds the value of one input that
// brings an output to a wanted value, all that it can find, or the reachable range. [Best] finds the
// setting that makes an output or an input least, most or nearest to a value, under
// limits and conditions. [Spread] says how far outputs may be off when inputs are, to first
// order and by trials, and which input matters most. [Robust] finds the setting that
// keeps to limits and conditions most often while other inputs scatter.
//
//	{"study": {..., "vary": [{"path": "flour_temp"}], "outputs": [{"path": "water_temp"}]}, "value": "4 °C"}
//	{"study": {..., "vary": [{"path": "flour_temp", "from": "15 °C", "to": "50 °C", "count": 8}]},
//	  "aim": "most", "of": "flour_temp", "must": {"without": ["below-freezing"]}}
//	{"study": {..., "vary": [{"path": "flour_temp", "distribution": {"shape": "uniform", "half_width": "2 C°"}}],
//	  "outputs": [{"path": "water_temp"}]}, "probability": "95 %", "digits": 2}
//	{"study": {..., "vary": [{"path": "room", "from": "20 °C", "to": "26 °C", "step": "1 C°"}]},
//	  "scatter": [{"path": "flour_temp", "distribution": {"shape": "normal", "sd": "1 C°"}}],
//	  "must": {"limits": [{"path": "water_temp", "low": "19 °C", "high": "21 °C"}]}}
//
// What is drawn depends on the seed, the scheme and the number of the draw alone. The points that it
// comes from are the same to the last bit on every machine; the values made of them may differ in their last
// digits where its logarithms do.
//
// # Speed
//
// What leads to the inputs and outputs is found once. A calculation that keeps
// what does not depend on what varies, as [reckon.Repeat] lets it, is asked in that way; the others
// are checked and solved anew for each scenario. Rows use the same memory again, and only a
// refusal allocates: its error.
package whatif
