package hold

import (
	"strings"

	"example.com/dough/doughmath/calc"
)

// otherBranches are inputs of the calculation beside its example and cases, for numbers that
// none of those asks for.
func otherBranches(e calc.Entry) []string {
	falling := strings.NewReplacer(`"slope":"8.4 g"`, `"slope":"-8.4 g"`).Replace
	curve := func(slope string) string {
		return `{"calibration":{"shape":"quadratic","weighting":"by-pieces","confidence":"95 %","student_t":2.570581835636316,"trial_count":8,"degrees_of_freedom":5,
			"mark_low":1,"mark_high":9,"mean_mark":5,"mean_weight":"75 g","slope":"` + slope + ` g","curve":-0.25,"skew":0.3,"sum_weights":80,"sxx":800,"sqq":6000,
			"residual_sd":"0.8 g","piece_sd":"0.8 g"},`
	}
	switch e.ID {
	case "mark-for-weight":
		fieller := `"weight":"85 g","interval":"fieller","of":"mean","mark_low":0,"mark_high":10}`
		delta := `"weight":"70 g","interval":"delta","of":"sample","pieces":10,"mark_low":0,"mark_high":10}`
		return []string{
			curve("6.5") + fieller, curve("-6.5") + fieller, curve("6.5") + delta, curve("-6.5") + delta,
			falling(e.Example), falling(strings.Replace(e.Example, `"fieller"`, `"delta"`, 1)),
		}
	case "weight-for-mark":
		return []string{curve("6.5") + `"mark":7,"of":"piece"}`, falling(e.Example)}
	case "next-mark":
		rest := `"mark":6,"weight":"85 g","pieces":10,"target":"83 g","move_limit":"1 g","mark_low":0,"mark_high":10}`
		more := strings.Replace(rest, `"mark_low":0`, `"sd":"0.9 g","needless":"2 %","expected":"80.5 g","label":"82 g","mark_step":0.1,"mark_low":0`, 1)
		return []string{
			curve("6.5") + more, curve("-6.5") + more,
			curve("6.5") + strings.NewReplacer(`"move_limit":"1 g",`, "", `"mark_low":0`, `"mark_step":1e-6,"mark_low":0`).Replace(rest),
			strings.Replace(strings.Replace(e.Example, "82.1 g", "84 g", 1), `"pieces":10,"target"`, `"pieces":2,"target"`, 1),
			curve("6.5") + rest, curve("-6.5") + strings.Replace(rest, "85 g", "66 g", 1), falling(e.Example),
		}
	case "slide-for-flow": // to a step, and to a point of the table
		return []string{strings.Replace(e.Example, "1.4 kg/h", "1.5 kg/h", 1), strings.Replace(e.Example, "1.4 kg/h", "0.8 kg/h", 1), strings.Replace(strings.Replace(e.Example, "1.4 kg/h", "0.5 kg/h", 1), `,"slide_step":0.5`, "", 1)}
	case "strokes-for-rate": // faster and slower than the machine runs, and by a machine of which one of the two is known
		fast, slow := strings.Replace(e.Example, "3600", "6000", 1), strings.Replace(e.Example, "3600", "600", 1)
		return []string{fast, slow, strings.Replace(fast, `"strokes_low":"10 strokes/min",`, "", 1), strings.Replace(slow, `,"strokes_high":"40 strokes/min"`, "", 1)}
	case "pieces-to-weigh": // a scale far too coarse: of a billionth of a piece it is one
		return []string{`{"sd":"1.147 g","half_width":"0.652 g","confidence":"50 %","division":"99 kg"}`}
	case "trial-plan":
		return []string{strings.Replace(e.Example, `"straight"`, `"quadratic"`, 1)}
	case "sheet-setting": // as thin as 20 turns allow
		return []string{strings.NewReplacer(`"gap_low":"1 mm"`, `"gap_low":"0.05 mm"`, `"tear_limit":"7 mm"`, `"tear_limit":"0.1 mm"`, `,"width_limit":"250 mm"`, "").Replace(e.Example)}
	case "weight-drift":
		return []string{`{"start_weight":"85 g","growth":"0 %/min","growth_basis":"estimated","time":"20 min"}`}
	case "friction-log":
		return []string{
			`{"mixer":"A","model":"size","batch_size":"90 kg","time":"8 min","confidence":"95 %","log":[
		{"mixer":"A","batch_size":"60 kg","time":"8 min","dough_temp":"25 °C","water_temp":"10 °C","flour_temp":"20 °C","room":"22 °C"},
		{"mixer":"A","batch_size":"80 kg","time":"8 min","dough_temp":"25.5 °C","water_temp":"10 °C","flour_temp":"20 °C","room":"22 °C"},
		{"mixer":"A","batch_size":"100 kg","time":"8 min","dough_temp":"26.5 °C","water_temp":"10 °C","flour_temp":"20 °C","room":"22 °C"},
		{"mixer":"A","batch_size":"120 kg","time":"8 min","dough_temp":"26.5 °C","water_temp":"10 °C","flour_temp":"20 °C","room":"22 °C"}]}`,
			`{"mixer":"A","model":"time-and-size","batch_size":"90 kg","time":"8 min","confidence":"95 %","log":[
		{"mixer":"A","batch_size":"60 kg","time":"8 min","dough_temp":"25 °C","water_temp":"10 °C","flour_temp":"20 °C"},
		{"mixer":"A","batch_size":"80 kg","time":"7 min","dough_temp":"25.5 °C","water_temp":"10 °C","flour_temp":"20 °C"},
		{"mixer":"A","batch_size":"100 kg","time":"9 min","dough_temp":"26.5 °C","water_temp":"10 °C","flour_temp":"20 °C"},
		{"mixer":"A","batch_size":"120 kg","time":"10 min","dough_temp":"26.5 °C","water_temp":"10 °C","flour_temp":"20 °C"},
		{"mixer":"A","batch_size":"70 kg","time":"6 min","dough_temp":"24 °C","water_temp":"10 °C","flour_temp":"20 °C"}]}`,
		}
	case "fraction-below":
		return []string{`{"rules":"us-tx-434-007","nominal":"1 lb","mean":"456 g","sd":"8 g"}`}
	case "set-up-chart":
		return []string{`{"kind":"cusum","subgroup_size":2,"slack":0.5,"decision":4,"rules":"limits-only","weighings":["85 g","84 g","86 g","85.5 g","84.5 g","85 g","87 g","83 g","86 g","87 g"]}`}
	case "line-plan": // with water that is warmer than the tap
		return []string{strings.NewReplacer(`"tap": "15 °C"`, `"tap": "15 °C", "hot_tap": "50 °C"`, `"friction": "24 C°"`, `"friction": "2 C°"`).Replace(e.Example)}
	}
	return nil
}
