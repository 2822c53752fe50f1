package exercise

// unfit lists the calculations that make no exercise, and why.
var unfit = map[string]string{
	"weighing-correlation":       "it takes thirty weighings and more: too many to work with by hand",
	"operating-curve":            "the chance of a signal is read off the normal distribution; what is left for a person is a subtraction",
	"run-length":                 "it solves an integral equation: no step can be done by hand",
	"fraction-for-acceptance":    "it searches an operating curve: no step can be done by hand",
	"lot-operating-curve":        "it sums binomial chances: what is left for a person is an addition",
	"calender-bound":             "it takes the root of an integral: what is left for a person is a square",
	"dust-limit":                 "a limit is looked up, nothing is computed",
	"target-temperature":         "a temperature is looked up by kind of dough; there is no value to give",
	"part-care":                  "a rule is looked up, nothing is computed",
	"curling-chain":              "a height is read off the shop's list, nothing is computed",
	"water-property":             "its equation has dozens of coefficients: it is for a computer",
	"dough-property":             "it takes a table of eighteen properties of the ingredients",
	"temperature-for-saturation": "it inverts an equation by bisection: no step can be done by hand",
	"rounding-from-trials":       "the answer is one of the trials, read off or counted",
	"motions-from-trials":        "the answer is one of the trials, read off or counted",
	"sheet-from-trials":          "the answer is one of the trials, read off or counted",
	"seal-from-trials":           "the answer is one of the trials, read off or counted",
	"proofer-run":                "it counts pocket by pocket: no step can be done by hand",
	"line-plan":                  "a whole line: a case study takes it in parts",
	"line-window":                "all settings of a whole line: too many values to hand out",
	"line-clock":                 "a whole line by the clock: too many values to hand out",
	"day-clock":                  "a whole day by the clock: too many values to hand out",
	"control-settings":           "a whole line's controls: a case study takes them in parts",
	"changeover":                 "controls are compared and put in order: nothing is worked out by hand",
	"critical-path":              "the order of the jobs is searched for: what is left for a person is an addition",
	"run-order":                  "the order of the runs is searched for: what is left for a person is an addition",
	"fault-causes":               "a whole line with what was measured on it: [FaultSpec] asks for one cause of one calculation",
	"day-plan":                   "a whole day of a line: too many values to hand out",
	"known-good":                 "settings are compared with those on record: nothing is worked out by hand",
}

// smaller are examples that a person can work through, where the calculator's
// own has too many values.
var smaller = map[string]string{
	"friction-log": `{"log":[` +
		`{"mixer":"spiral","batch_size":"120 kg","time":"7 min","dough_temp":"26 °C","water_temp":"15 °C","flour_temp":"21 °C","room":"23 °C"},` +
		`{"mixer":"spiral","batch_size":"120 kg","time":"7 min","dough_temp":"27 °C","water_temp":"16 °C","flour_temp":"21 °C","room":"24 °C"},` +
		`{"mixer":"spiral","batch_size":"120 kg","time":"7 min","dough_temp":"25.5 °C","water_temp":"14 °C","flour_temp":"20 °C","room":"22 °C"},` +
		`{"mixer":"spiral","batch_size":"120 kg","time":"7 min","dough_temp":"26.5 °C","water_temp":"14 °C","flour_temp":"22 °C","room":"23 °C"}],` +
		`"mixer":"spiral","model":"mean","batch_size":"120 kg","time":"7 min","confidence":"90 %"}`,
}

// notAsked lists outputs that are worked out in the answer and yet make no
// question: whatever is drawn, they are nothing, given already, or too close to it to be told apart.
var notAsked = map[string][]string{
	"formula-scale":           {"weighed"},
	"preferment-split":        {"weighed", "hydration"},
	"dough-for-stock":         {"uses[1].used", "uses[1].left"},
	"dough-cost":              {"parts[1].cost_per_piece", "parts[1].share"},
	"water-draw":              {"hot_water", "acts_like"},
	"ice-melt":                {"unmelted"},
	"ice-for-mixing-heat":     {"tap_water"},
	"mixed-batch-plan":        {"lines[0].pieces"},
	"strokes-for-rate":        {"reachable"},
	"hopper-time":             {"first_piece"},
	"mark-fit":                {"calibration.degrees_of_freedom", "calibration.mean_mark"},
	"mark-for-weight":         {"expected"},
	"next-mark":               {"weigh_more"},
	"lane-offsets":            {"worst", "lanes[0].lane"},
	"trial-plan":              {"trials[0].mark", "trials[2].mark", "trials[3].mark", "trials[5].mark"},
	"piece-sample":            {"lightest", "heaviest"},
	"pieces-to-weigh":         {"usable"},
	"set-up-chart":            {"setup.limit_width", "subgroups", "chart.points[2].point", "chart.spread_low"},
	"control-chart":           {"spread_low"},
	"target-weight":           {"better_target"},
	"lot-check":               {"mean_limit"},
	"proofer-tradeoff":        {"rows[0].dwell", "rows[4].strokes", "rows[5].across", "rows[6].across", "rows[7].across"},
	"line-capacity":           {"piece_rate"},
	"shift-for-line-capacity": {"piece_rate"},
	"spiral-length":           {"spiral"},
}

// dull ends the path of what a rounding leaves over, which teaches nothing.
const dull = ".error"

// notTold lists constants of the working that a student finds alone: from the
// words of the question, by counting, or because they are given under another name.
var notTold = map[string][]string{
	"rounding-time":                {"k"},
	"drum-speed-for-rounding-time": {"k"},
	"proofer-lanes":                {"a", "n_1", "n_2"},
	"lot-check":                    {"n"},
	"flour-use":                    {"A"},
	"stickiness-for-flour":         {"A"},
	"proof-equivalent":             {"Q", "Q_l", "Q_h"},
}

// byJudgement are those of unfit that could make an exercise of a kind, one
// that teaches nothing.
var byJudgement = []string{"dough-property", "operating-curve", "critical-path"}

// toldRelations lists steps, by symbol, that are told with the question: they
// rest on a figure of a trade or of a law.
var toldRelations = map[string][]string{
	"water-draw":  {"e_ice"},
	"loaf-limits": {"v"},
}

// Unfit says why a calculation makes no exercise. It is false for one that does.
func Unfit(id string) (why string, unfitted bool) {
	why, unfitted = unfit[id]
	return why, unfitted
}
