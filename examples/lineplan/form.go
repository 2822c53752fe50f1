package main

import (
	"bytes"
	"reflect"

	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/line"
)

// formHead stands above the form.
const formHead = `# A form for one line, one day and its orders. Fill it in with a text editor and plan it with
#
#     go run ./examples/lineplan -scenario THIS-FILE
#
# A line that starts with # is a note. A text that starts with ? is not filled in: it counts as left out, so what you do
# not need may stay as it is. What is marked [needed] must be there, or the whole part that it is in left out. Write
# every quantity with its unit, "85 g", "2 lb 8 oz", "24 °C", "75 °F", "7 min 30 s", and a plain number or true and false
# without quotation marks. Where a list has several items, copy what stands between [ and ] with a comma between the
# items; a list that is to be empty is []. The figures come from the plates and manuals of the machines and from trials on the
# line itself; "calc about NAME" is go run ./examples/calc about NAME. Trials are run as the manual allows, with the
# guards shut; a machine is stopped, isolated and locked out before anybody measures inside it.
`

// measure says how what no plate shows is found, by its path in the form.
var measure = map[string]string{
	"line.divider.lanes[].trials":                    "Weigh 10 pieces or more at each of 4 or 5 marks with this dough, freshly tipped: calc about trial-plan.",
	"line.divider.confidence":                        "95 % is usual.",
	"line.divider.interval":                          "\"fieller\" holds for a few trials too; \"delta\" is quicker by hand.",
	"line.divider.lanes[].shape":                     "Straight, until the fit says that the trials bend: calc about mark-fit.",
	"line.divider.lanes[].weighting":                 "By pieces, if the trials are means of different numbers of pieces.",
	"line.divider.hopper_least":                      "Let the hopper run out once and weigh pieces: it is what was left when they began to weigh less.",
	"line.divider.strokes_low":                       "Count strokes for a minute at the slowest setting.",
	"line.proofer.trays":                             "Count, or from the plate.",
	"line.pocket.width":                              "Measure inside, across the line.",
	"line.cup_ratio.low":                             "Round pieces of several weights in one drum and keep those that come out round: calc about cup-ratio-from-trials.",
	"line.moulder.recovery":                          "Measure the gap, and the sheet behind it: calc about recovery-from-sheet.",
	"line.moulder.first_pair.friction":               "Feed pieces of growing thickness until one is not drawn in: calc about grip-from-trials.",
	"line.moulder.curling_chain.heights":             "Mould pieces of several weights at each height: calc about chain-from-trials.",
	"line.moulder.pressure_board.seal_turns":         "Lower the board until seams hold: calc about seal-from-trials.",
	"line.moulder.side_guides.length_ratio":          "Measure finished pieces, and the distance between the guides: length over distance.",
	"line.oil_valves":                                "Catch what each valve drips in ten minutes.",
	"line.flour_dusters[].scale":                     "Catch the flour of pieces of doughs from stiff to sticky: calc about stickiness-fit.",
	"line.controls[].time":                           "Time it with a watch, over several changeovers.",
	"shift.mixer.cycle":                              "Time it from one batch out of the mixer to the next.",
	"orders[].product.loss":                          "Weigh pieces as dough, out of the oven and cool: calc about loss-from-weights.",
	"orders[].product.friction":                      "From one batch with all its temperatures: calc about friction-factor; better from several: calc about friction-log.",
	"orders[].product.density":                       "Weigh a piece in air and under water, or 1.05 g/ml for a dough that has hardly gassed.",
	"orders[].product.tear_limit":                    "Close the gap until a sheet tears: calc about sheet-from-trials.",
	"orders[].product.turns_ratio":                   "Cut a piece and count: calc about turns-ratio-from-pieces.",
	"orders[].product.hopper_drift.growth":           "Weigh pieces at one mark from a batch as it stands: calc about hopper-growth.",
	"orders[].product.rounding.time_low":             "Round at several speeds and keep what comes out round and whole: calc about rounding-from-trials.",
	"orders[].product.rounding.motions_low":          "The same in a cup: calc about motions-from-trials.",
	"orders[].product.pocketed.growth":               "Let a piece grow in a measuring jar beside the proofer: calc about growth-from-jar.",
	"orders[].product.panned.growth":                 "Let a piece grow in a measuring jar beside the pans: calc about growth-from-jar.",
	"orders[].product.check.sd":                      "Weigh 20 pieces or more one by one at one setting: calc about piece-sample.",
	"orders[].product.preferment_mixes[].friction":   "As for the dough: calc about friction-factor.",
	"orders[].product.preferments[].parts[].percent": "Of its own flour.",
}

func writeForm(w *bytes.Buffer) {
	w.WriteString(formHead)
	w.Write(describe.AppendForm(nil, reflect.TypeFor[line.Scenario](), measure))
}
