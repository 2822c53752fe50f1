package molder_test

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// Inputs that take another branch than the calculator's own examples, so that
// every formula a person can be shown is worked out again.
var variants = []struct{ id, in string }{
	{"sheet", `{"piece":"500 g","density":"1.1 g/ml","gap":"4 mm","recovery":1.8,"width":"210 mm"}`},
	{"gap-for-sheet-length", `{"piece":"500 g","density":"1.1 g/ml","length":"360 mm","recovery":1.8,"width":"210 mm"}`},
	{"gap-for-turns", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"width":"210 mm"}`},
	{"gap-for-turns", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"width":"210 mm","core":"9 mm"}`},
	{"gap-for-turns", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"aspect":2}`},
	{"gap-for-turns", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"aspect":2,"turns_ratio":0.9}`},
	{"turns-for-gap", `{"piece":"500 g","density":"1.1 g/ml","gap":"4 mm","recovery":1.8,"aspect":1.6,"turns_ratio":0.9}`},
	{"sheet-setting", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"aspect":1.6,"gap_low":"1 mm","gap_high":"15 mm","gap_step":"0.25 mm"}`},
	{"sheet-setting", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"width":"210 mm","core":"8 mm","tear_limit":"7 mm","gap_low":"1 mm","gap_high":"15 mm"}`},
	{"sheet-setting", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"width":"210 mm","tear_limit":"7 mm","gap_low":"1 mm","gap_high":"15 mm","reduction_gap":"4.1 mm"}`},
	{"sheet-setting", `{"turns":2.5,"piece":"500 g","density":"1.1 g/ml","recovery":1.8,"aspect":1.6,"tear_limit":"5 mm","gap_low":"1 mm","gap_high":"15 mm","gap_step":"0.25 mm","reduction_gap":"4.1 mm"}`},
	{"sheet-from-trials", `{"trials":[{"thickness":"9 mm","verdict":"good"},{"thickness":"7 mm","verdict":"good"},{"thickness":"6 mm","verdict":"too-much"},{"thickness":"5 mm","verdict":"too-much"}]}`},
	{"grip-from-trials", `{"roller_diameter":"200 mm","trials":[{"thickness":"60 mm","gap":"15 mm","verdict":"good"},{"thickness":"80 mm","gap":"15 mm","verdict":"too-much"}]}`},
	{"curl-sensitivity", `{"piece":"500 g","density":"1.1 g/ml","gap":"4 mm","recovery":1.8,"width":"210 mm","core":"8 mm"}`},
	{"calender-bound", `{"index":1}`},
	{"roller-gaps", `{"piece":"500 g","density":"1.1 g/ml","last_gap":"9 mm","first_recovery":1.6,"last_recovery":1.8,"reduction_limit":4}`},
	{"indicator-for-gap", `{"gap":"4 mm","points":[{"number":0,"gap":"1 mm"},{"number":5,"gap":"3.6 mm"},{"number":10,"gap":"5.9 mm"}],"method":"line"}`},
	{"gap-for-indicator", `{"number":6,"points":[{"number":0,"gap":"1 mm"},{"number":5,"gap":"3.6 mm"},{"number":10,"gap":"5.9 mm"}],"method":"table"}`},
	{"pressure-board", `{"piece":"500 g","density":"1.1 g/ml","roll_diameter":"60 mm","height_in":"58 mm","height_out":"46 mm","board_length":"900 mm","belt":"20 m/min","spring":1.05,"guides":"280 mm"}`},
	{"pressure-board", `{"piece":"500 g","density":"1.1 g/ml","roll_diameter":"60 mm","height_in":"46 mm","height_out":"46 mm","board_length":"900 mm","belt":"20 m/min","spring":1.05,"guides":"280 mm"}`},
	{"board-length-for-turns", `{"turns":5,"roll_diameter":"60 mm","height_in":"46 mm","height_out":"46 mm","spring":1.25}`},
	{"board-for-length", `{"piece":"500 g","density":"1.1 g/ml","length":"240 mm","roll_diameter":"60 mm","roll_length":"220 mm","spring":1.05,"bite":"10 %"}`},
	{"pan-fit", `{"piece":"450 g","density":"1.1 g/ml","length":"180 mm","pan":{"length":"8 in","width":"3.5 in","depth":"3 in"},"growth":2.6,"fill_low":"70 %","fill_high":"95 %"}`},
	{"stamp-rate", `{"piece_rate":"60 pieces/min","across":2,"die":"still","spin":"off","contact":"25 %"}`},
	{"stamp-drift", `{"mode":"timed","stamps":"28 strokes/min","piece_rate":"60 pieces/min","across":2,"run_time":"5 min","window":"10 %"}`},
	{"belt-train", `{"piece_rate":"60 pieces/min","belts":[{"name":"own","belt_speed":"15 m/min","piece_length":"70 mm"},{"name":"geared","advance_per_stroke":"200 mm","piece_length":"70 mm"}]}`},
	{"drum-choice", `{"piece":"85 g","density":"1.1 g/ml","drums":[{"name":"only","cup":"72 mm"}],"cup_ratio_low":0.65,"cup_ratio_high":0.85}`},
	{"recovery-from-sheet", `{"gap":"4 mm","thicknesses":["7.1 mm"]}`},
	{"aspect-from-sheet", `{"piece":"500 g","sheets":[{"length":"350 mm","width":"220 mm","thickness":"7.5 mm"}]}`},
	{"last-gap-for-reduction", `{"piece":"500 g","density":"1.1 g/ml","thickness":"60 mm","first_recovery":1.6,"reduction":4}`},
	{"rounding-time", `{"diameter":"800 mm","drum_speed":"20 rev/min","path":"1250 mm","travel":"rolling"}`},
}

func TestEveryBranchOfTheWorkingIsTrue(t *testing.T) {
	for i, v := range variants {
		t.Run(fmt.Sprint(v.id, i), func(t *testing.T) {
			e, ok := calc.Lookup(v.id)
			require.True(t, ok)
			var w reckon.Working
			explained, err := e.Run([]byte(v.in), &w)
			require.NoError(t, err)
			plain, err := e.Run([]byte(v.in), nil)
			require.NoError(t, err)
			require.Equal(t, plain, explained)
			require.NotEmpty(t, w.Steps)
			assert.NoError(t, testdata.Retrace(&w, 1e-9))
			data, err := json.Marshal(plain)
			require.NoError(t, err)
			last := strconv.FormatFloat(w.Steps[len(w.Steps)-1].Value, 'g', -1, 64)
			assert.Contains(t, strings.NewReplacer(`"`, ",", ":", ",", "}", ",", " ", ",").Replace(string(data)), ","+last+",")
		})
	}
}
