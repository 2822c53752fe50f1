package calc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// What no machine does is refused. The numbers are made up, so that these are
// no cases: nothing outside the library vouches for them.
func TestWhatCannotBeIsRefused(t *testing.T) {
	for _, c := range []struct {
		what, id, in string
		fields       []string // none if there is no solution
	}{
		{
			"a divider that stands has no rate", "divider-rate",
			`{"strokes":"0 strokes/min","across":2,"piece":"3 oz"}`,
			[]string{"strokes"},
		},
		{
			"water colder than the cold tap", "water-mix",
			`{"water":"100 kg","wanted_temp":"3 °C","cold":"4 °C","hot":"60 °C"}`,
			nil,
		},
		{
			"a slower belt pushes pieces together", "belt-train",
			`{"piece_rate":"60 pieces/min","belts":[{"name":"a","belt_speed":"0.25 m/s","piece_length":"100 mm"},{"name":"b","belt_speed":"0.1 m/s","piece_length":"100 mm"}]}`,
			[]string{"belts[1].belt_speed"},
		},
		{
			"a board does not make a piece shorter and thicker than its roll", "board-for-length",
			`{"piece":"500 g","density":"1.1 g/ml","length":"20 mm","roll_diameter":"80 mm","spring":5,"bite":"0 %"}`,
			nil,
		},
		{
			"pieces of 120 to 150 g were bad at both heights", "chain-from-trials",
			`{"names":["low","high"],"trials":[{"height":0,"piece":"100 g","verdict":"good"},{"height":0,"piece":"120 g","verdict":"too-much"},{"height":1,"piece":"150 g","verdict":"too-little"},{"height":1,"piece":"200 g","verdict":"good"}]}`,
			nil,
		},
		{
			"a piece heavier than the list goes is tried first", "curling-chain",
			`{"piece":"2 kg","heights":[{"name":"low","up_to":"60 g"},{"name":"middle","up_to":"250 g"},{"name":"high","up_to":"900 g"}]}`,
			nil,
		},
		{
			"less than half a turn is not rolled", "curls",
			`{"length":"3 mm","thickness":"8 mm"}`,
			[]string{"length"},
		},
		{
			"5 m of 1 mm would make 39.9 turns, twice the most that is asked for", "curls",
			`{"length":"5000 mm","thickness":"1 mm"}`,
			[]string{"length"},
		},
		{
			"a belt slower than the piece length allows", "doubles-risk",
			`{"belt":"50 mm/s","piece_rate":"60 pieces/min","piece_length":"100 mm","sd":"0.1 s","per_hour_limit":1}`,
			[]string{"belt"},
		},
		{
			"every bad value is named", "drum-choice",
			`{"piece":"0 g","density":"11 g/ml","drums":[{"name":"","cup":"0 mm"}],"cup_ratio_low":0.9,"cup_ratio_high":0.8}`,
			[]string{"piece", "density", "drums[0].name", "drums[0].cup", "cup_ratio_high"},
		},
		{
			"a piece longer than the pan", "pan-fit",
			`{"piece":"450 g","density":"1.1 g/ml","length":"210 mm","pan":{"length":"8 in","width":"3.5 in","depth":"3 in"},"growth":2.5,"fill_low":"60 %","fill_high":"90 %"}`,
			[]string{"length"},
		},
		{
			"a piece some 66 mm thick does not lie in a pan 20 mm wide", "pan-fit",
			`{"piece":"900 g","density":"1.1 g/ml","length":"240 mm","pan":{"length":"250 mm","width":"20 mm","depth":"100 mm"},"growth":2.5,"fill_low":"60 %","fill_high":"90 %"}`,
			[]string{"length"},
		},
		{
			"a pan is no larger at the bottom than at the top", "pan-fit",
			`{"piece":"900 g","density":"1.1 g/ml","length":"240 mm","pan":{"length":"250 mm","width":"120 mm","depth":"100 mm","bottom_length":"2000 mm","bottom_width":"2000 mm"},"growth":2.5,"fill_low":"60 %","fill_high":"90 %"}`,
			[]string{"pan.bottom_length", "pan.bottom_width"},
		},
		{
			"a belt slower than the piece length allows makes doubles", "piece-spacing",
			`{"belt":"0.25 m/s","piece_rate":"150 pieces/min","piece_length":"100 mm"}`,
			[]string{"belt"},
		},
		{
			"a board lower than the piece can pass between the guides", "pressure-board",
			`{"piece":"800 g","density":"1.1 g/ml","roll_diameter":"70 mm","height_in":"60 mm","height_out":"30 mm","board_length":"900 mm","belt":"0.3 m/s","spring":1,"guides":"280 mm"}`,
			[]string{"height_out"},
		},
		{
			"a board that does not touch the piece", "pressure-board",
			`{"piece":"800 g","density":"1.1 g/ml","roll_diameter":"70 mm","height_in":"90 mm","height_out":"70 mm","board_length":"900 mm","belt":"0.3 m/s","spring":1,"guides":"280 mm"}`,
			[]string{"height_out"},
		},
		{
			"a board only makes a piece thinner: a roll of 80 mm does not come out 395 mm thick", "pressure-board",
			`{"piece":"500 g","density":"1.1 g/ml","roll_diameter":"80 mm","height_in":"79 mm","height_out":"79 mm","board_length":"1000 mm","belt":"0.3 m/s","spring":5,"guides":"250 mm"}`,
			[]string{"height_out"},
		},
		{
			"a roll of 80 mm does not pass an entry of 10 mm", "pressure-board",
			`{"piece":"500 g","density":"1.1 g/ml","roll_diameter":"80 mm","height_in":"10 mm","height_out":"10 mm","board_length":"1000 mm","belt":"0.3 m/s","spring":4,"guides":"400 mm"}`,
			[]string{"height_in"},
		},
		{
			"a gap wider than the piece does not sheet it", "roller-gaps",
			`{"piece":"60 g","density":"1.1 g/ml","last_gap":"60 mm","first_recovery":1.5,"last_recovery":1.5,"reduction_limit":4}`,
			[]string{"last_gap"},
		},
		{
			"a bad trial among the good ones makes no range", "rounding-from-trials",
			`{"trials":[{"time":"2 s","verdict":"too-much"},{"time":"1.5 s","verdict":"good"},{"time":"2.5 s","verdict":"good"}]}`,
			nil,
		},
		{
			"rollers wider than the piece do not sheet it", "sheet",
			`{"piece":"60 g","density":"1.1 g/ml","gap":"48 mm","recovery":1.1,"aspect":1.5}`,
			[]string{"gap"},
		},
		{
			"a sheet of 10 kg, 5 mm wide, would be kilometres long", "sheet",
			`{"piece":"10 kg","density":"1.1 g/ml","gap":"0.1 mm","recovery":1.5,"width":"5 mm"}`,
			[]string{"gap"},
		},
		{
			"a sheet of 50 g, 2 m wide, would be less than 4 mm long", "sheet",
			`{"piece":"50 g","density":"1.1 g/ml","gap":"5 mm","recovery":1.5,"width":"2000 mm"}`,
			[]string{"gap"},
		},
		{
			"guides that do not close so far", "side-guides",
			`{"pan_length":"120 mm","clearance":"5 mm","length_ratio":1,"narrowest":"150 mm"}`,
			nil,
		},
		{
			"a piece larger than the tray", "tray-fit",
			`{"piece":"5 kg","density":"1100 kg/m3","growth":4,"flatness":1.2,"length":"300 mm","width":"300 mm","gap":"10 mm"}`,
			nil,
		},
		{
			"lanes must fill the pockets evenly", "proofer-dwell",
			`{"proofer":{"pockets":6,"trays":100,"last_pass_trays":100,"trays_per_stroke":1},"across":4,"strokes":"20 strokes/min"}`,
			[]string{"across"},
		},
		{
			"one pocket holds one piece", "proofer-lanes",
			`{"proofer":{"pockets":6,"trays":100,"last_pass_trays":100,"trays_per_stroke":1},"load":[1,2],"next":[2,3,4,5,6,0],"strokes":"20 strokes/min"}`,
			[]string{"next"},
		},
		{
			"a stage that is slower than the dwell demands leaves no speed", "proofer-speed",
			`{"proofer":{"pockets":6,"trays":100,"last_pass_trays":100,"trays_per_stroke":1},"across":2,"dwell_low":"7.5 min","dwell_high":"15 min","limits":[{"name":"oven","low":"0 strokes/min","high":"18 strokes/min"}]}`,
			nil,
		},
	} {
		_, err := calc.Eval(c.id, []byte(c.in), calc.Options{})
		require.Error(t, err, c.what)
		var fields []string
		for _, bad := range reckon.InputErrors(err) {
			fields = append(fields, bad.Field)
		}
		assert.Equal(t, c.fields, fields, c.what)
		if c.fields == nil {
			assert.EqualValues(t, "no-solution", reckon.Refusals(err)[0].Kind, c.what)
		}
	}
}
