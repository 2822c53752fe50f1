package line

import (
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

func (q KnownGood) Show(w *reckon.Working, out KnownGoodResult) {
	plan, ok := Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.showFirst(w)
	if !ok {
		return
	}
	w.Heading("Good runs")
	good := q.good()
	then := make([][]Setting, len(good))
	for j, at := range good {
		r, n := &q.Records[at], strconv.Itoa(j+1)
		then[j], _, _ = planned(r.plan())
		w.Given("run of "+r.Date, "j_"+n, float64(j+1), "", "counted")
		if r.Mean > 0 {
			w.Given("mean weight of a piece, "+r.Date, "y_"+n, float64(r.Mean), "g", "")
		}
	}
	w.Given("records looked at", "R", float64(out.Records), "", "counted, record by record")
	w.Lines(out, "good runs among the last: N = count(j_#...)")
	if out.MeanHigh > 0 {
		w.Lines(out, "lowest mean: y_l = min(y_#...)", "highest mean: y_h = max(y_#...)")
	}
	list := out.Settings[len(out.Settings)-len(q.Line.Controls):]
	for i := range list {
		q.showSetting(w, &list[i], i, &plan, good, then)
	}
}

// showSetting shows where to start one control.
func (q *KnownGood) showSetting(w *reckon.Working, s *KnownSetting, i int, plan *PlanResult, good []int, then [][]Setting) {
	n := strconv.Itoa(i + 1)
	k := &q.Line.Controls[i]
	number := s.Sets.number()
	if s.Runs == 0 && (!number || s.Planned == "") {
		return
	}
	w.Heading(s.Control)
	var runs, reads, offsets []string // the numbers of the runs, where the control stood, and how far off its plan
	for j, at := range good {
		r := &q.Records[at]
		f := slices.IndexFunc(r.Settings, func(o Standing) bool { return o.Control == s.Control })
		if c := r.Line.control(s.Control); f < 0 || r.Line.Controls[c].Sets != s.Sets {
			continue
		}
		run := strconv.Itoa(j + 1)
		runs = append(runs, "j_"+run)
		if !number || s.Planned == "" {
			continue
		}
		v, _ := s.Sets.parse(r.Settings[f].At)
		read := "r_" + n + "_" + run
		w.Given("where it stood, "+r.Date, read, v, s.Unit, "read in the record")
		reads = append(reads, read)
		if p := slices.IndexFunc(then[j], func(o Setting) bool { return o.Control == s.Control && o.At != "" }); p >= 0 {
			was := "w_" + n + "_" + run
			w.Given("what was planned, "+r.Date, was, then[j][p].Number, s.Unit, "the plan of that record, control-settings")
			offsets = append(offsets, read+" - "+was)
		}
	}
	if len(runs) > 0 {
		w.Item(i+1, s, "good runs that name it: n_# = count("+strings.Join(runs, ", ")+")")
	}
	if !number || s.Planned == "" {
		return
	}
	s.showToday(w, k, n, plan, q)
	start := "w_" + n
	if len(offsets) > 0 {
		w.Step("by how much they differed from their plans", "m_"+n, "("+strings.Join(offsets, " + ")+")/"+strconv.Itoa(len(offsets)), s.Offset, s.Unit, "mean")
		start += " + m_" + n
	}
	if step := q.Line.step(i); len(reads) > 0 && step > 0 {
		w.Given("its step", "q_"+n, step, s.Unit, "as the line gives it")
		w.Step("where to start", "x_"+n, "round(("+start+")/q_"+n+")*q_"+n, s.Number, s.Unit, "to the nearest step")
	} else {
		w.Step("where to start", "x_"+n, start, s.Number, s.Unit, "")
	}
	if len(reads) > 0 {
		w.Step("lowest", "l_"+n, "min("+strings.Join(reads, ", ")+")", s.Low, s.Unit, "")
		w.Step("highest", "h_"+n, "max("+strings.Join(reads, ", ")+")", s.High, s.Unit, "")
	}
	s.showDrift(w, n, runs, reads)
}

// showToday shows what today's plan gives the control, to its own step.
func (s *KnownSetting) showToday(w *reckon.Working, k *Control, n string, plan *PlanResult, q *KnownGood) {
	wanted, _ := k.plannedNumber(&q.Line, &q.Order.Product, plan)
	if k.Step == "" {
		k.showPlanned(w, "w_"+n, wanted)
		return
	}
	k.showPlanned(w, "v_"+n, wanted)
	step, _ := k.Sets.parse(k.Step)
	w.Given("its step", "q_"+n, step, s.Unit, "as the line gives it")
	w.Step("today's plan, to its step", "w_"+n, "round(v_"+n+"/q_"+n+")*q_"+n, s.Plan, s.Unit, "")
}

// showDrift shows the slope of the straight line through where the control stood, run after run.
func (s *KnownSetting) showDrift(w *reckon.Working, n string, runs, reads []string) {
	if s.Drift == 0 || len(reads) < 3 {
		return
	}
	count := strconv.Itoa(len(reads))
	w.Lines(nil,
		"middle of the runs: J_"+n+" = ("+strings.Join(runs, " + ")+")/"+count,
		"mean of where it stood: M_"+n+" = ("+strings.Join(reads, " + ")+")/"+count+" in "+s.Unit,
	)
	var products, squares []string
	for a := range reads {
		off := "(" + runs[a] + " - J_" + n + ")"
		products = append(products, off+"*("+reads[a]+" - M_"+n+")")
		squares = append(squares, off+"*"+off)
	}
	w.Step("change from run to run", "b_"+n, "("+strings.Join(products, " + ")+")/("+strings.Join(squares, " + ")+")", s.Drift, s.Unit, "least squares")
}
