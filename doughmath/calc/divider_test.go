package calc_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
)

// What mark-fit writes is what the calculations after it read, to the last
// digit; and the calibration in their examples is the one of mark-fit's example.
func TestCalibrationTravelsAsText(t *testing.T) {
	run := func(id, in string, out any) {
		e, ok := calc.Lookup(id)
		require.True(t, ok)
		result, err := e.Run([]byte(in), nil)
		require.NoError(t, err)
		data, err := json.Marshal(result)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, out))
	}
	fit, _ := calc.Lookup("mark-fit")
	setting, _ := calc.Lookup("mark-for-weight")
	var example struct{ Calibration map[string]any }
	require.NoError(t, json.Unmarshal([]byte(setting.Example), &example))
	for _, in := range []string{
		fit.Example,
		strings.Replace(fit.Example, "straight", "quadratic", 1),
		strings.Replace(fit.Example, "by-pieces", "equal", 1),
	} {
		var fitted struct{ Calibration map[string]any }
		run("mark-fit", in, &fitted)
		if in == fit.Example {
			assert.Equal(t, fitted.Calibration, example.Calibration)
		}
		text, err := json.Marshal(fitted.Calibration)
		require.NoError(t, err)
		var there struct{ Mark float64 }
		run("mark-for-weight", `{"calibration":`+string(text)+`,"weight":"80 g","interval":"fieller","of":"mean","mark_low":0,"mark_high":10}`, &there)
		var back struct{ Weight unit.Mass }
		run("weight-for-mark", fmt.Sprintf(`{"calibration":%s,"mark":%v,"of":"mean"}`, text, there.Mark), &back)
		assert.InDelta(t, 80, float64(back.Weight), 1e-9)
	}
}
