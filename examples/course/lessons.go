package main

// A lesson is what a teacher says about one calculation. It holds no number that is worked
// out: those come from the library.
type lesson struct {
	title       string
	calculation string
	asked       string   // the output of which example and exercise are made
	relation    []string // the symbols whose steps are the relation, in their order
	why         string   // it matters on the line
	reading     string   // how to read the relation, and where people go wrong
	next        string   // how the dough goes on
	example     int64    // its seed
	exercise    int64    // the same of the exercise
}

// lessons are the trade's arithmetic in the order in which dough passes.
var lessons = []lesson{
	{
		title: "Percent of the flour", calculation: "formula-from-weights", asked: "ingredients[1].percent", relation: []string{"p_2"},
		why: "A formula card gives every ingredient as a percentage of the flour, and the flour itself is always 100 %. Written like this, a dough of any size " +
			"has the same card, two doughs can be compared at a glance, and a slip at the scale shows at once. The percentages add up to far more than 100, because they are not shares of the dough.",
		reading: "The same division is made for every ingredient. Where there are several flours, it is their weights together that count as 100 %.",
		next:    "The card says how the ingredients stand to one another. Next comes how much of each to weigh.",
		example: 2, exercise: 5,
	},
	{
		title: "Weighing out a dough", calculation: "formula-scale", asked: "parts[1].exact", relation: []string{"S", "F", "e_2"},
		why: "The order says how much dough is needed, the card how the ingredients stand to the flour. The sum of the percentages links the two: it is the dough " +
			"that comes from 100 parts of flour. Find the flour first, and everything else follows from it.",
		reading: "Round to the division of the scale at the very end. Flour that is rounded early takes every other ingredient with it.",
		next:    "The water on the card is not all the water in the dough, once there is milk or a starter in it.",
		example: 4, exercise: 9,
	},
	{
		title: "Hydration", calculation: "hydration", asked: "hydration", relation: []string{"W_s", "F_s", "h"},
		why: "How soft a dough is depends first of all on its water against its flour. A card with milk and a starter hides part of both: milk is mostly water, " +
			"and a starter is flour and water that are mixed already. Hydration counts all the water and all the flour, wherever they come from.",
		reading: "The starter counts on both sides, its water as water and its flour as flour. Whoever forgets its flour takes the dough for wetter than it is.",
		next:    "The card is settled. The order, however, speaks of bread, and bread is lighter than its dough.",
		example: 3, exercise: 6,
	},
	{
		title: "The piece for a baked weight", calculation: "scaling-weight", asked: "dough", relation: []string{"k_b", "k", "D"},
		why: "The customer buys bread, the divider cuts dough, and on the way from one to the other the piece loses weight: a little in the proof, most of it as steam " +
			"in the oven, and some more as the loaf cools. The piece has to carry all of these losses. Weigh them on your own oven. Where a weight stands on the label, " +
			"the law decides whether a light loaf may leave the shop.",
		reading: "A loss that is counted on the dough is not added on, it is divided out: the baked weight is what the loss has left over. Adding the percentage instead always makes the bread too light.",
		next:    "Pieces times piece weight is the dough for the order. The mixer decides in how many batches it is made.",
		example: 1, exercise: 4,
	},
	{
		title: "Batches", calculation: "batch-plan", asked: "batches", relation: []string{"n_M", "b"},
		why: "A mixer takes only so much dough, and it kneads poorly when it is nearly empty. So the order is made in the fewest batches that the mixer takes, all " +
			"of one size: then water, mixing time and dough temperature are the same for each of them.",
		reading: "The brackets ⌊ ⌋ mean rounded down to a whole number, ⌈ ⌉ rounded up. The pieces that a batch makes are rounded down, the batches up: half a batch too few is an order that comes up short.",
		next:    "Every batch is to leave the mixer equally warm, and the mixer itself has a part in that.",
		example: 7, exercise: 1,
	},
	{
		title: "Friction", calculation: "friction-factor", asked: "once", relation: []string{"N", "F"},
		why: "Kneading warms the dough. By how much depends on the mixer, the size of the batch, the mixing time and the dough, so it is in no book: it is measured " +
			"on a batch that was made, and written on the card. Four thermometer readings are enough.",
		reading: "N counts the temperatures in the rule, the water's among them. A friction belongs to the N with which it was found: one taken from three temperatures is worth nothing in a rule with four.",
		next:    "With the friction known, the same rule is turned round: now it is the water that is looked for.",
		example: 8, exercise: 9,
	},
	{
		title: "Water temperature", calculation: "water-temperature", asked: "water_temp", relation: []string{"S", "B", "T_w"},
		why: "Flour and room are as warm as they are. The water is the one temperature that can still be chosen a minute before mixing. Dough that is too warm runs ahead of the " +
			"line, dough that is too cold holds it up, and each gasses differently in the hopper, so that the same mark cuts another weight.",
		reading: "B is what all the temperatures have to add up to. Take off those that can be read, and what is left over is the water's. An answer below freezing is no mistake: it says that ice is needed. A warm answer has its limit: hot water kills the yeast, and it scalds whoever carries it.",
		next:    "And if the tap does not run that cold?",
		example: 3, exercise: 8,
	},
	{
		title: "Ice", calculation: "ice", asked: "ice", relation: []string{"m_ice"},
		why: "On a warm day the water has to be colder than the tap gives it. A little ice does that, because melting takes up far more heat than it takes to warm " +
			"the same weight of water by a few degrees.",
		reading: "On one side stands the heat that the tap water gives up, on the other what the ice takes up, first to melt and then, being water, to warm up. The ice is part of the water of the formula: what is weighed as ice is not drawn from the tap.",
		next:    "The dough is mixed. From now on the clock runs.",
		example: 2, exercise: 5,
	},
	{
		title: "Time in the hopper", calculation: "hopper-time", asked: "time", relation: []string{"t"},
		why: "Dough goes on gassing while it waits in the divider’s hopper. The last pieces of a batch are the oldest ones: lighter out of the same chamber and softer " +
			"in the rounder. No setting rescues a batch that stands too long, so the time is worked out before the batch is mixed, and a smaller batch is the remedy.",
		reading: "H is the dough that is still in the hopper when the batch is tipped on top of it, w a wait in which nothing is cut. In the example both are nothing. Kilograms over kilograms an hour make hours: multiply by 60 for minutes.",
		next:    "How fast the hopper empties is no fact of nature. The strokes of the divider make it.",
		example: 7, exercise: 5,
	},
	{
		title: "Strokes, pieces and dough", calculation: "divider-rate", asked: "dough_rate", relation: []string{"P", "D"},
		why: "Each stroke of the divider cuts one piece in every lane. Strokes a minute, pieces a minute and dough an hour are one speed told in three ways, and every machine " +
			"behind the divider has to keep up with it.",
		reading: "Count the lanes, and mind the two conversions: an hour has 60 minutes, a kilogram 1000 grams.",
		next:    "The speed is settled, the weight is not yet: that is the handle’s business.",
		example: 8, exercise: 9,
	},
	{
		title: "The mark of the handle", calculation: "mark-for-weight", asked: "mark", relation: []string{"u", "x"},
		why: "A volumetric divider cuts a volume, and the mark at its handle is no more than a number. What a mark weighs is found by trial: pieces are weighed at several marks " +
			"and a line is laid through them. Read the other way round, the line says where to set the handle for the next product.",
		reading: "The line does not start at nothing, so the weight is not simply divided by the weight of one mark: go from the middle of the trials, the mean mark and the mean weight. " +
			"The line says where to begin. After every move of the handle, pieces are weighed, and the scale has the last word.",
		next:    "How many pieces, though, before the scale can be believed?",
		example: 2, exercise: 6,
	},
	{
		title: "How many pieces to weigh", calculation: "half-width-for-pieces", asked: "half_width", relation: []string{"U"},
		why: "No two pieces weigh the same. A single piece on the scale says more about that piece than about the mark. The mean of several is surer, and arithmetic says how " +
			"much surer: the true mean lies within the half-width on either side, as often as the confidence says.",
		reading: "It is the root that costs: to be twice as sure takes four times as many pieces. Student’s t comes from a table; it grows as the pieces become few.",
		next:    "The weight is right. Now the piece, cut raw on all sides, gets a skin.",
		example: 1, exercise: 5,
	},
	{
		title: "Rounding", calculation: "rounding-time", asked: "time", relation: []string{"v", "T"},
		why: "Rounding draws a skin over the cut piece that keeps the gas in. Too short, and it stays rough and open; too long, and the skin tears again. How long it lasts depends on " +
			"the path along the drum and on the speed of the drum’s surface.",
		reading: "A piece that is carried along moves as fast as the drum, and k is 1. A piece that rolls between the drum and a wall that stands still moves half as fast, and k is one half.",
		next:    "The skin is tight and the dough would tear between rollers. First it rests.",
		example: 5, exercise: 4,
	},
	{
		title: "Rest in the overhead proofer", calculation: "proofer-dwell", asked: "dwell", relation: []string{"n", "T", "v", "t"},
		why: "The rounded piece rests in the pockets of the overhead proofer, which is driven together with the divider: they start, stop and change speed as one. " +
			"So it is the divider that sets the rest, and whoever changes the one changes the other.",
		reading: "A tray has more pockets than the divider has lanes, so the trays go round several times before all pockets are filled, and a piece goes round as often: " +
			"these are the passes. Leave them out, and the dwell comes out as that of one pass.",
		next:    "Rested, the piece can be rolled out thin.",
		example: 3, exercise: 8,
	},
	{
		title: "Turns in the moulder", calculation: "curls", asked: "turns", relation: []string{"D", "N"},
		why: "The rollers make a sheet of the piece, and the curling chain rolls it up. The turns in the roll decide the grain of the crumb. Two and a half are the usual aim; " +
			"a thinner sheet gives more, and does better as long as it does not tear.",
		reading: "Seen from the side, the sheet is a long strip, its length times its thickness. Rolled up, the same strip is the end of the roll. That gives the diameter, and every turn adds two thicknesses to it.",
		next:    "The piece has its shape. What is left is the last proof, and the room for it.",
		example: 4, exercise: 7,
	},
	{
		title: "Room in the final proof", calculation: "final-proof-load", asked: "mean_inside", relation: []string{"R_m", "m"},
		why: "The line does not stop for the final proof, so there has to be room for all that it makes in that time. The rule behind it holds for every store, queue and " +
			"oven: what is inside is what comes in each minute, times the minutes that it stays.",
		reading: "Take the mean rate, in which the waits between batches are counted. With the rate at which the line runs while it runs, the room comes out too large.",
		next:    "From here the pieces go to the oven, and the course begins again with the weight that comes out of it. Sheets of more exercises, and case studies that join several lessons to one order, come from `examples/worksheet`; the same in a browser from `examples/practice`.",
		example: 2, exercise: 5,
	},
}
