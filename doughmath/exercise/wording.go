package exercise

import (
	"slices"
	"strings"
)

// inWords is a JSON name as a person reads it.
func inWords(name string) string {
	parts := strings.Split(name, "_")
	for i, w := range parts {
		switch w {
		case "temp":
			parts[i] = "temperature"
		case "sd":
			parts[i] = "standard deviation"
		}
	}
	return strings.Join(parts, " ")
}

// inputNames is what an input is called where its own name says too little.
var inputNames = map[string]string{
	"room": "room temperature", "tap": "tap water", "hot_tap": "hot tap water", "cold": "cold tap water", "hot": "hot tap water", "target_temp": "dough temperature wanted", "got_temp": "dough temperature that came out", "third": "temperature of the preferment", "fourth": "temperature of the soaker",
	"across": "pieces across", "strokes": "divider speed", "baked": "baked weight", "dough": "dough", "piece": "piece weight",
	"bake.percent": "bake loss", "bake.basis": "bake loss is counted on", "cooling.percent": "cooling loss", "cooling.basis": "cooling loss is counted on",
	"fermentation.percent": "fermentation loss", "fermentation.basis": "fermentation loss is counted on", "combine": "the losses are", "waste": "allowance for waste", "waste_basis": "the waste is counted on the",
	"friction": "friction", "friction_basis": "the friction is counted", "mixer_high": "most dough that the mixer takes", "mixer_low": "least dough that the mixer takes", "spare": "spare pieces",
	"pockets": "pockets on a tray", "trays": "trays on a whole pass", "last_pass_trays": "trays travelled on the last pass", "first_pass_trays": "trays travelled on the first pass", "trays_per_stroke": "trays moved by a stroke",
	"gas_free": "density of the dough without gas", "gas": "gas in the dough", "ambient": "pressure of the air", "chamber": "pressure in the chamber", "liquids": "liquids are counted by their",
	"stay": "time in the final proof", "per_carrier": "pieces on each rack", "handling": "time for handling a rack", "belt": "belt speed", "of": "for a", "growth": "growth", "aspect": "length over width of the sheet", "recovery": "recovery of the sheet",
	"hydration_heat": "heat of hydration", "keep": "starter to keep for the next feeding", "order_pieces": "pieces in the order", "needless": "chance of a needless move", "per_mark": "weight of one mark", "model": "rule", "model_value": "value of the rule",
	"sxx": "sum of squares of the marks", "student_t": "Student's t", "cpk": "Cpk", "melt": "time to melt", "around_temp": "temperature around the ice", "through": "time through the line", "open": "time open",
	"use": "oil used", "scaling": "time of scaling in a run", "rest": "rest after mixing", "wait": "wait between batches", "batch_pieces": "pieces in a batch", "available": "racks available",
	"computed": "turns computed", "thickness_in": "thickness before", "thickness_out": "thickness wanted", "reference": "reference temperature", "sum_weights": "sum of the weights",
}

// inputWords is what an input is called: its own name, with the part before it
// if it stands in one.
func inputWords(at spot) string {
	for _, key := range [...]string{lastTwo(at.path), at.name} {
		if words, ok := inputNames[key]; ok {
			if key == at.name && at.prefix != "" && at.prefix != "proofer" {
				return inWords(at.prefix) + ", " + words
			}
			return words
		}
	}
	words := inWords(at.name)
	switch {
	case strings.HasSuffix(at.path, "]"):
		return "" // a list of plain values goes by the list's name
	case at.prefix != "":
		return inWords(at.prefix) + ", " + words
	}
	return words
}

// singular is what one of several is called.
func singular(name string) string {
	name = inWords(name)
	switch {
	case name == "history":
		return "stretch"
	case name == "across", name == "counted":
		return name
	case name == "thicknesses":
		return "thickness"
	case strings.HasSuffix(name, "ies"):
		return name[:len(name)-3] + "y"
	case strings.HasSuffix(name, "s"):
		return name[:len(name)-1]
	}
	return name
}

// askedWords names what is asked: as the step does that computes it, unless
// that refers to a neighbouring step.
func askedWords(o *outlet, step string) string {
	for _, refers := range [...]string{"the same", "its ", "that ", "lower end", "upper end", "the smaller", "their", "left", "the rest", "by mass", "lost", "most", "least"} {
		if strings.HasPrefix(step, refers) {
			if o.words == step {
				return step
			}
			return o.words + " (" + step + ")"
		}
	}
	return step
}

// listWords is what a list of plain values is called.
func listWords(name string) string {
	if words, ok := listNames[name]; ok {
		return words
	}
	return inWords(name)
}

var listNames = map[string]string{"counted": "turns counted", "across": "pieces across", "groups": "weights of groups", "load": "pockets loaded", "next": "pocket after each, 0 for the chute", "sample": "weights of the sample", "valves": "oil of each valve", "diameters": "diameters of the pieces"}

// toldWith says with which value a word is told: how that value is meant. Any
// other word goes without saying.
var toldWith = map[string]string{
	"friction_basis": "friction", "waste_basis": "waste", "basis": "percent", "combine": "percent", "reading": "", "travel": "", "liquids": "water_content", "model": "model_value",
}

// choices are the words that may stand in for the example's, by path.
var choices = map[string][]string{
	"friction_basis": {"once", "per-factor"},
	"waste_basis":    {"order", "dough"},
	"combine":        {"compounded", "added"},
	"travel":         {"carried", "rolling"},
}

func wordChoices(path, example string) []string {
	if words := choices[path]; slices.Contains(words, example) {
		return words
	}
	return []string{example}
}

// wordTexts says a choice as the wording needs it.
var wordTexts = map[string]string{
	"friction_basis=once": "once, for the whole mix", "friction_basis=per-factor": "for each factor",
	"combine=compounded": "compounded, one after the other", "combine=added": "added together",
	"waste_basis=order": "pieces ordered", "waste_basis=dough": "dough mixed",
	"reading=replacing": "part of the water", "reading=added": "added to the water", "travel=carried": "the piece is carried along with the drum",
	"reading=flour-on-flour": "the flour in it on all the flour", "reading=mass-on-flour": "its weight on all the flour", "reading=mass-on-final-flour": "its weight on the flour of the final mix",
	"travel=rolling": "the piece rolls along a fixed wall", "basis=dough": "the weight that goes in", "basis=baked": "the weight that comes out",
}

// wordText says what a word is about, and the word itself.
func wordText(name, words, word string) (about, text string) {
	if name == "reading" {
		if words = "counted as"; word == "replacing" || word == "added" {
			words = "the ice is"
		}
	}
	if text, ok := wordTexts[name+"="+word]; ok {
		return words, text
	}
	return words, strings.ReplaceAll(word, "-", " ")
}

// settings opens an exercise, by station of the calculator. The shops are invented.
var settings = map[string][]string{
	"formula": {
		"At the Alder Quay bakery the mixing sheet for tomorrow is being written.",
		"A trainee at the Tern Street bakehouse checks the formula card of a dough.",
		"The mixing room of the Old Ropewalk bakery starts a new formula.",
	},
	"temperature": {
		"Before the first mix of the day at the Alder Quay bakery the temperatures are read.",
		"It is a changeable morning at the Tern Street bakehouse, and the mixer waits for its water.",
		"The mixing room of the Old Ropewalk bakery keeps a log of its dough temperatures.",
	},
	"batch": {
		"An order has come in at the Alder Quay bakery.",
		"The shift leader at the Tern Street bakehouse plans the dough for an order.",
		"At the Old Ropewalk bakery the scaling for tomorrow is worked out.",
	},
	"divider": {
		"The divider at the Alder Quay bakery is being set.",
		"At the Tern Street bakehouse a trainee stands at the divider with the shift leader.",
		"The Old Ropewalk bakery prepares its divider for the next product.",
	},
	"weight": {
		"At the Alder Quay bakery pieces are weighed beside the divider.",
		"The Tern Street bakehouse looks at its weighings of the week.",
		"The Old Ropewalk bakery prepares for a check of its weights.",
	},
	"proofer": {
		"The overhead proofer at the Alder Quay bakery is being set for a product.",
		"At the Tern Street bakehouse the proof is planned.",
		"The Old Ropewalk bakery looks at what its proof does to the pieces.",
	},
	"moulder": {
		"At the Alder Quay bakery the make-up line is being set.",
		"A trainee at the Tern Street bakehouse sets the moulding for a product.",
		"The Old Ropewalk bakery prepares its make-up line for the next product.",
	},
	"line": {"At the Alder Quay bakery the whole line is being set."},
}

// A distraction is a line that is true and not needed.
type distraction struct {
	name, words string // the input that it would be, and its words
	quantity    string // "low..high"
}

// distractions are lines that a shop's notes have besides what is needed. One
// is never added to a calculation that asks for such an input.
var distractions = []distraction{
	{"hopper_capacity", "the hopper holds", "120 kg..200 kg"},
	{"power", "motor of the mixer", "8 kW..20 kW"},
	{"humidity", "humidity of the room", "45 %..70 %"},
	{"time", "mixing time", "6 min..14 min"},
	{"bowl", "weight of the empty bowl", "180 kg..320 kg"},
	{"flour_temp", "flour in the silo", "16 °C..24 °C"},
	{"altitude", "the shop stands at an altitude of", "100 m..600 m"},
	{"belt", "speed of the discharge belt", "10 m/min..20 m/min"},
	{"pan_length", "length of the tins", "220 mm..320 mm"},
	{"bake_time", "baking time", "18 min..38 min"},
	{"oven", "temperature of the oven", "200 °C..240 °C"},
	{"valves", "oil on the divider", "8 ml/min..20 ml/min"},
}
