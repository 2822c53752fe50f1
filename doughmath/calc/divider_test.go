package calc_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// The working of a calculation with several branches is true on each of them,
// not only on the one that its example takes: the published cases go down the
// rest, and a few more are written out here.
func TestWorkingOfTheDividersCases(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	inputs := map[string][]string{}
	for _, c := range cases {
		inputs[c.Func] = append(inputs[c.Func], string(c.In))
	}
	falling := strings.NewReplacer(`"slope":"8.4 g"`, `"slope":"-8.4 g"`).Replace
	curve := func(slope string) string {
		return `{"calibration":{"shape":"quadratic","weighting":"by-pieces","confidence":"95 %","student_t":2.570581835636316,"trial_count":8,"degrees_of_freedom":5,
			"mark_low":1,"mark_high":9,"mean_mark":5,"mean_weight":"75 g","slope":"` + slope + ` g","curve":-0.25,"skew":0.3,"sum_weights":80,"sxx":800,"sqq":6000,
			"residual_sd":"0.8 g","piece_sd":"0.8 g"},`
	}
	for _, e := range calc.Entries() {
		if !strings.HasPrefix(e.Func(), "divider.") {
			continue
		}
		published := len(inputs[e.ID])
		switch e.ID {
		case "mark-for-weight":
			for _, rest := range []string{
				`"weight":"85 g","interval":"fieller","of":"mean","mark_low":0,"mark_high":10}`,
				`"weight":"70 g","interval":"delta","of":"sample","pieces":10,"mark_low":0,"mark_high":10}`,
			} {
				inputs[e.ID] = append(inputs[e.ID], curve("6.5")+rest, curve("-6.5")+rest, falling(e.Example),
					falling(strings.Replace(e.Example, `"fieller"`, `"delta"`, 1)))
			}
		case "weight-for-mark":
			inputs[e.ID] = append(inputs[e.ID], curve("6.5")+`"mark":7,"of":"piece"}`, falling(e.Example))
		case "next-mark":
			rest := `"mark":6,"weight":"85 g","pieces":10,"target":"83 g","move_limit":"1 g","mark_low":0,"mark_high":10}`
			more := `"sd":"0.9 g","needless":"2 %","expected":"80.5 g","label":"82 g","mark_step":0.1,"mark_low":0`
			inputs[e.ID] = append(inputs[e.ID], curve("6.5")+strings.Replace(rest, `"mark_low":0`, more, 1), curve("-6.5")+strings.Replace(rest, `"mark_low":0`, more, 1),
				curve("6.5")+strings.NewReplacer(`"move_limit":"1 g",`, "", `"mark_low":0`, `"mark_step":1e-6,"mark_low":0`).Replace(rest),
				strings.Replace(strings.Replace(e.Example, "82.1 g", "84 g", 1), `"pieces":10,"target"`, `"pieces":2,"target"`, 1))
			inputs[e.ID] = append(inputs[e.ID], curve("6.5")+rest, curve("-6.5")+strings.Replace(rest, "85 g", "66 g", 1), falling(e.Example))
		case "trial-plan":
			inputs[e.ID] = append(inputs[e.ID], strings.Replace(e.Example, `"straight"`, `"quadratic"`, 1))
		case "weight-drift":
			inputs[e.ID] = append(inputs[e.ID], `{"start_weight":"85 g","growth":"0 %/min","growth_basis":"estimated","time":"20 min"}`)
		}
		for i, in := range inputs[e.ID] {
			t.Run(fmt.Sprintf("%s/%d", e.ID, i), func(t *testing.T) {
				var w reckon.Working
				explained, err := e.Run([]byte(in), &w)
				if err != nil && i < published { // a case of a refusal
					_, again := e.Run([]byte(in), nil)
					require.Error(t, again)
					return
				}
				require.NoError(t, err)
				plain, err := e.Run([]byte(in), nil)
				require.NoError(t, err)
				require.Equal(t, plain, explained)
				require.NoError(t, testdata.Retrace(&w, 1e-9))
				last := w.Steps[len(w.Steps)-1].Value
				assert.True(t, holds(t, explained, last), "the last step (%v) is not a value of the result", last)
			})
		}
	}
}

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
