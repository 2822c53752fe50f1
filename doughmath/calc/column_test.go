package calc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
)

// A column keeps the unit of its first value, whatever the size of those below.
func TestColumnKeepsItsUnit(t *testing.T) {
	for name, c := range map[string]struct {
		options calc.Options
		rates   []string
		want    []string
	}{
		"grams first":     {calc.Options{Rounded: true}, []string{"1 kg/h", "300 kg/h"}, []string{"333.3 g", "100000 g"}},
		"kilograms first": {calc.Options{Rounded: true}, []string{"300 kg/h", "1 kg/h"}, []string{"100 kg", "0.3333 kg"}},
		"every digit":     {calc.Options{}, []string{"3 kg/h", "1.5 kg/h"}, []string{"1 kg", "0.5 kg"}},
		"customary":       {calc.Options{Rounded: true, Units: unit.US}, []string{"300 kg/h", "0.3 kg/h"}, []string{"220.5 lb", "0.2205 lb"}},
	} {
		in := ""
		for i, rate := range c.rates {
			r, err := calc.Eval("batch-for-hopper-time", []byte(`{"dough_rate":"`+rate+`","time_limit":"20 min"}`), c.options)
			require.NoError(t, err)
			cell, err := r.AppendColumn(nil, "batch", &in)
			require.NoError(t, err)
			assert.Equal(t, c.want[i], string(cell), name)
		}
	}
	in := ""
	for celsius, want := range map[string]string{"18 °C": "64.4 °F", "20 °C": "68 °F"} {
		r, err := calc.Eval("dough-temperature-for-water", []byte(`{"water_temp":"`+celsius+`","flour_temp":"`+celsius+`","friction":"0 C°","friction_basis":"once"}`), calc.Options{Rounded: true, Units: unit.US})
		require.NoError(t, err)
		cell, err := r.AppendColumn(nil, "dough_temp", &in)
		require.NoError(t, err)
		assert.Equal(t, want, string(cell))
	}
}
