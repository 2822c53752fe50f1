package describe

// alwaysSaid are the conditions and cautions that a calculation has with every answer, by calculation and word, each
// with the reason. The list is exact: what is not in it is not said by some example, case or threshold.
var alwaysSaid = func() map[string]string {
	list := map[string]string{}
	for word, of := range map[string]struct {
		why string
		ids []string
	}{
		"allergens": {"what is cleaned out, mixed in or made next may carry an allergen, whatever the numbers", []string{
			"changeover", "day-clock", "day-plan", "line-plan", "liquid-for-water", "proofer-clear",
		}},
		"cleaning": {"parts that come out are washed", []string{
			"drum-choice", "line-plan", "part-care",
		}},
		"flour-dust": {"whoever weighs, catches or sets flour stands in its dust", []string{
			"day-clock", "day-plan", "dust-limit", "flour-for-piece", "flour-share", "flour-use", "flow-for-slide", "formula-scale",
			"line-plan", "preferment-split", "preferment-times", "slide-for-flow", "stickiness-fit", "stickiness-for-flour",
		}},
		"from-memory": {"no figure for the part is from a source that was seen", []string{
			"part-care",
		}},
		"hot-oven": {"whoever sets the oven stands at it", []string{
			"oven-rate",
		}},
		"interlocks": {"what is set lies behind guards", []string{
			"changeover", "control-settings", "drum-speed-for-rounding-time", "fault-causes", "gap-for-grip", "gap-for-sheet-length",
			"gap-for-thickness", "gap-for-turns", "grip-from-trials", "known-good", "last-gap-for-reduction", "line-window",
			"rate-for-stamps", "roller-gaps", "roller-grip", "rounding-motions", "rounding-time", "sheet", "sheet-from-trials",
			"sheet-setting", "speed-for-motions", "stamp-drift", "stamp-rate", "stamps-for-run", "turns-for-gap",
		}},
		"lifting": {"batches, drums and tubs are heavy", []string{
			"batch-plan", "day-clock", "day-plan", "drum-choice", "formula-scale", "line-plan", "mixed-batch-plan", "preferment-split",
			"preferment-times",
		}},
		"locked-out": {"hands go inside a machine", []string{
			"chain-from-trials", "curling-chain", "drum-choice", "fault-causes", "line-plan", "part-care", "proofer-clear", "proofer-run",
			"rate-for-stamps", "stamp-drift", "stamp-rate", "stamps-for-run",
		}},
		"moving-belt": {"pieces are taken from a belt that runs, or weighed beside it", []string{
			"chain-from-trials", "changeover", "control-chart", "cup-ratio-from-trials", "day-clock", "day-plan", "fault-causes",
			"group-sample", "guide-ratio-from-pieces", "handle-band", "hopper-growth", "lane-offsets", "line-plan", "mark-fit",
			"mark-for-weight", "motions-from-trials", "piece-sample", "pieces-to-detect", "pieces-to-weigh", "rounding-from-trials",
			"seal-from-trials", "set-up-chart", "trial-plan", "turns-ratio-from-pieces", "weighing-correlation", "weighing-verdict",
		}},
		"moving-machinery": {"whoever does what it says stands at machinery that moves", []string{
			"belt-for-doubles", "belt-for-gap", "belt-train", "board-for-length", "changeover", "control-settings", "curl-sensitivity",
			"curling-chain", "curls", "day-clock", "day-plan", "doubles-risk", "drum-choice", "drum-speed-for-rounding-time",
			"fault-causes", "flour-use", "gap-for-grip", "gap-for-sheet-length", "gap-for-thickness", "gap-for-turns", "grip-from-trials",
			"indicator-for-gap", "known-good", "last-gap-for-reduction", "line-clock", "line-plan", "line-window", "mark-fit",
			"mark-for-weight", "oil-rate-for-use", "oil-time-for-use", "oil-use", "piece-spacing", "pressure-board", "proofer-clear",
			"proofer-dwell", "proofer-lanes", "proofer-run", "proofer-speed", "proofer-speed-change", "proofer-tradeoff",
			"rate-for-final-proof-load", "rate-for-gap", "rate-for-stamps", "roller-gaps", "roller-grip", "rounding-motions",
			"rounding-time", "sheet", "sheet-from-trials", "sheet-setting", "sheeting-passes", "side-guides", "slide-for-flow",
			"speed-for-motions", "stamp-drift", "stamp-rate", "stamps-for-run", "strokes-for-dwell", "strokes-for-rate",
			"thickness-for-passes", "trial-plan", "turns-for-gap",
		}},
		"oil-slip": {"oil drips where it is opened or shut", []string{
			"changeover", "day-clock", "day-plan", "line-plan", "oil-rate-for-use", "oil-time-for-use", "oil-use", "proofer-clear",
			"proofer-run",
		}},
		"raised-bowl": {"the dough comes in a bowl that is raised over the hopper", []string{
			"batch-for-hopper-time", "batch-for-weight-drift", "hopper-time", "line-plan", "weight-drift",
		}},
		"roller-nip": {"what is set or measured is at rollers that draw in", []string{
			"aspect-from-sheet", "curl-sensitivity", "curls", "gap-for-grip", "gap-for-indicator", "gap-for-sheet-length",
			"gap-for-thickness", "gap-for-turns", "grip-from-trials", "indicator-fit", "indicator-for-gap", "last-gap-for-reduction",
			"recovery-from-sheet", "roller-gaps", "roller-grip", "sheet", "sheet-from-trials", "sheet-setting", "sheeting-passes",
			"thickness-for-passes", "thickness-for-turns", "turns-for-gap",
		}},
		"rounded": {"whole pieces and whole passes are counted", []string{
			"line-capacity", "long-tray-fit", "tray-fit",
		}},
		"rule-set-dated": {"every rule of the law has an edition, which may be out of force", []string{
			"dust-limit", "fraction-below", "fraction-for-acceptance", "loaf-limits", "lot-check", "lot-operating-curve", "sd-for-target",
			"target-weight", "tolerable-deficiency",
		}},
		"running-drive": {"a speed is set while the drive runs", []string{
			"belt-for-doubles", "belt-for-gap", "belt-train", "doubles-risk", "drum-speed-for-rounding-time", "line-plan", "line-window",
			"piece-spacing", "proofer-dwell", "proofer-run", "proofer-speed", "proofer-speed-change", "proofer-tradeoff",
			"rate-for-final-proof-load", "rate-for-gap", "rate-for-stamps", "rounding-motions", "rounding-time", "speed-for-motions",
			"stamp-drift", "stamp-rate", "stamps-for-run", "strokes-for-dwell", "strokes-for-rate",
		}},
		"spoilage": {"dairy, preferments and starters spoil", []string{
			"liquid-for-water", "preferment-split", "preferment-times", "starter-feeding",
		}},
		"stamper-cover": {"the stamper is set with its cover shut", []string{
			"rate-for-stamps", "stamp-drift", "stamp-rate", "stamps-for-run",
		}},
		"uncalibrated": {"a model's estimate, which has no trial to be measured by", []string{
			"calender-bound", "chamber-weight", "curl-sensitivity", "dough-property", "gas-after-mixing", "ice-melt", "size-for-ice-melt",
			"volume-for-chamber-weight",
		}},
		"weights-law": {"the weight as sold is a matter of law", []string{
			"baked-weight-for-dough", "fraction-below", "fraction-for-acceptance", "line-plan", "loaf-limits", "lot-check",
			"lot-operating-curve", "scaling-weight", "sd-for-target", "target-weight", "tolerable-deficiency",
		}},
	} {
		for _, id := range of.ids {
			list[id+" "+word] = of.why
		}
	}
	return list
}()
