package line

import (
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Show works out every plan, then the day.
func (q DayPlan) Show(w *reckon.Working, out DayPlanResult) {
	if w == nil {
		return
	}
	if d, err := q.connected(); err == nil {
		d.show(w, out)
	}
}

func (d *day) show(w *reckon.Working, out DayPlanResult) {
	q := d.q
	w.Inputs(*q)
	for i := range d.runs {
		d.showPlan(w, i)
	}
	w.Heading("The day, from midnight")
	w.Inputs(*q)
	w.Lines(nil, "start, in whole seconds: f_0 = ceil(t_0) in s")
	total := totalled{end: "f_0"}
	last, names := len(d.runs), q.names()
	for _, r := range out.Runs[len(out.Runs)-len(d.runs):] {
		j := slices.Index(names, r.Name)
		d.showRun(w, &r, last, j, &total)
		last = j
	}
	d.showChangeover(w, "as the line is left", "z", last, len(d.runs))
	w.Lines(out, total.lines("orders")...)
	out.Least.show(w)
	if late := &out.Remedies; late.StartEarlier > 0 {
		if out.Total.Worst == late.StartEarlier {
			w.Step("to start earlier by", "b_w", "W_1", float64(late.StartEarlier), "s", "the start moves everything")
		} else {
			w.Given("to start earlier by", "b_w", float64(late.StartEarlier), "s", "the latest of the order that is named, found by the search")
		}
		w.Step("start then", "b_s", "f_0 - b_w", float64(late.StartAt), "s", "")
	}
	d.showStore(w, &out)
}

// showPlan shows the plan of an order, and what the day takes from it under symbols of its own.
func (d *day) showPlan(w *reckon.Working, i int) {
	o, p, n := &d.q.Orders[i], &d.runs[i], "_"+strconv.Itoa(i+1)
	Plan{Line: d.q.Line, Order: o.asBaked(), Shift: d.q.Shift}.showAs(w, "Plan of "+o.Name, p.plan)
	w.Heading(o.Name + ", counted from its first mixing")
	p.ran.showPlan(w)
	t := &p.plan.Times
	w.Step(o.Name+", batches", "b_mix"+n, "b", float64(p.plan.Batch.Batches), "", "")
	w.Carried("from batch to batch", "t_b"+n, float64(t.BatchInterval), "s")
	w.Carried("first stroke", "T_1"+n, float64(t.FirstStroke), "s")
	w.Carried("last mixing", "T_2"+n, float64(t.LastMix), "s")
	w.Carried("last stroke", "T_4"+n, float64(t.LastStroke), "s")
	w.Carried("last pieces out of the overhead proofer", "T_5"+n, float64(t.LastOut), "s")
	for k, run := range p.plan.PrefermentRuns {
		w.Carried(run.Name+", started before its batch is mixed", "v"+n+"_"+strconv.Itoa(k+1), float64(run.Before), "s")
	}
	for _, end := range [...]struct {
		words, symbol, piece string
		at                   unit.Duration
	}{{"first", "f" + n, "1", p.firstOven}, {"last", "l" + n, "n_a", p.lastOven}} {
		if len(p.ran.loads) > 0 {
			w.Given(end.words+" pieces into the oven", "o_"+end.symbol, float64(end.at), "s", "load by load, as line-clock shows")
			continue
		}
		p.ran.showRack(w, end.symbol, end.piece)
		w.Lines(nil, end.words+" pieces into the oven: o_"+end.symbol+" = "+p.ran.after("z_"+end.symbol)+" + t_p in s")
	}
	d.eachDrawn(i, func(k int, name string, m unit.Mass) {
		w.Carried(name+", for each batch", "w"+n+"_"+strconv.Itoa(k), float64(m), "g")
	})
	w.Carried("ice for each batch", "w_ice"+n, float64(p.plan.IceToWeigh), "g")
	for k := range p.plan.Dusting {
		w.Carried(p.plan.Dusting[k].Name+", dusting flour for the run", "u"+n+"_"+strconv.Itoa(k+1), float64(p.plan.Dusting[k].Flour.PerRun), "g")
	}
}

// showChangeover shows what changing over from order i to j takes; their number is that of the line as it stands.
func (d *day) showChangeover(w *reckon.Working, words, n string, i, j int) {
	takes, given := d.given(i, j)
	source := ""
	if !given && i < len(d.runs) && j < len(d.runs) {
		takes, source = d.takes(i, j), "its steps, put into the shortest order found"
	}
	w.Given("changeover "+words, "u_"+n, float64(takes), "s", source)
	w.Lines(nil, "changeover "+words+", in whole seconds: c_"+n+" = ceil(u_"+n+") in s")
}

// showRun shows order j as it is made after order i.
func (d *day) showRun(w *reckon.Working, r *DayRun, i, j int, total *totalled) {
	o, p, n := &d.q.Orders[j], &d.runs[j], strconv.Itoa(j+1)
	d.showChangeover(w, "to "+r.Name, n, i, j)
	mixer, waits := "ceil(T_1_"+n+")", []string{"c_" + n, "a_" + n}
	if i < len(d.runs) {
		h := strconv.Itoa(i + 1)
		w.Carried("cycle of the mixer", "t_y", float64(d.q.Shift.Mixer.Cycle), "s")
		mixer = "ceil(t_y + T_1_" + n + " - (T_4_" + h + " - T_2_" + h + "))"
	}
	w.Lines(nil, r.Name+", gap for the mixer: a_"+n+" = "+mixer+" in s")
	w.Given(r.Name+", baking", "k_"+n, float64(o.baking()), "s", "")
	w.Given(r.Name+", packing", "j_"+n, float64(o.Packing), "s", "")
	if i < len(d.runs) && d.q.Orders[i].baking() > 0 {
		h := strconv.Itoa(i + 1)
		oven := "o_l_" + h + " - T_4_" + h + " - (o_f_" + n + " - T_1_" + n + ")"
		if d.q.Orders[i].bakedOtherwise(o) {
			w.Given("until the oven is ready for another product", "t_r", float64(d.q.OvenReset), "s", "")
			oven += " + k_" + h + " + t_r"
		}
		w.Lines(nil, r.Name+", gap for the oven: i_"+n+" = ceil("+oven+") in s")
		waits = append(waits, "i_"+n)
		if later := p.ran.behind(&d.runs[i].ran); later > 0 {
			w.Given(r.Name+", first mixing after that before, so that no load waits for a place", "l_o_"+n, float64(later), "s", "load by load, as line-clock shows")
			w.Lines(nil, r.Name+", gap for the places in the oven: i_o_"+n+" = ceil(l_o_"+n+" + T_1_"+n+" - T_4_"+h+") in s")
			waits = append(waits, "i_o_"+n)
		}
	}
	w.Step(r.Name+", from the last stroke before to its first", "g_"+n, "max("+strings.Join(waits, ", ")+")", float64(r.Gap), "s", r.GapLimit)
	w.Step(r.Name+", between the strokes", "p_"+n, "ceil(T_4_"+n+" - T_1_"+n+")", float64(d.sequence.time[j]), "s", "")
	w.Step(r.Name+", from the last stroke until it is ready", "q_"+n, "ceil(o_l_"+n+" - T_4_"+n+" + k_"+n+" + j_"+n+")", float64(p.tail), "s", "final proof, oven and packing")
	w.Step(r.Name+", first stroke", "x_"+n, total.end+" + g_"+n, float64(r.FirstStroke), "s", "from midnight")
	w.Step(r.Name+", last stroke", "f_"+n, "x_"+n+" + p_"+n, float64(r.LastStroke), "s", "")
	w.Step(r.Name+", ready", "e_"+n, "f_"+n+" + q_"+n, float64(r.Ready), "s", "")
	for b, mix := range r.Batches {
		w.Step(r.Name+", mixing of batch "+strconv.Itoa(b+1), "m_"+n+"_"+strconv.Itoa(b+1),
			"x_"+n+" - T_1_"+n+" + "+strconv.Itoa(b)+"*t_b_"+n, float64(mix), "s", "")
	}
	for k, f := range r.Preferments {
		at := n + "_" + strconv.Itoa(k+1)
		w.Step(r.Name+", start of "+f.Name, "s_"+at, "m_"+n+"_1 - v_"+at, float64(f.Start), "s", "")
	}
	for _, m := range [...]struct {
		words, symbol, from string
		at                  unit.Duration
	}{
		{"last pieces out of the overhead proofer", "h_", "T_5_", r.LastOut},
		{"first pieces into the oven", "y_", "o_f_", r.FirstOven},
		{"last pieces into the oven", "z_", "o_l_", r.LastOven},
	} {
		w.Step(r.Name+", "+m.words, m.symbol+n, "m_"+n+"_1 + "+m.from+n, float64(m.at), "s", "")
	}
	total.add(n)
	if r.Due != 0 {
		w.Given(r.Name+", due", "v_"+n, float64(r.Due), "s", "")
		w.Lines(nil, r.Name+", due, in whole seconds: d_"+n+" = floor(v_"+n+") in s")
		w.Step(r.Name+", late", "l_"+n, "max(0, e_"+n+" - d_"+n+")", float64(r.Late), "s", "")
		total.due(n, max(1, o.Weight))
	}
}

// showStore shows what is drawn of each ingredient, of ice and for dusting.
func (d *day) showStore(w *reckon.Working, out *DayPlanResult) {
	sums := make([][]string, len(out.Store))
	var ice, dust []string
	for i := range d.runs {
		n := strconv.Itoa(i + 1)
		d.eachDrawn(i, func(k int, name string, _ unit.Mass) {
			at := slices.IndexFunc(out.Store, func(s StoreDraw) bool { return s.Name == name })
			sums[at] = append(sums[at], "b_mix_"+n+"*w_"+n+"_"+strconv.Itoa(k))
		})
		ice = append(ice, "b_mix_"+n+"*w_ice_"+n)
		for k := range d.runs[i].plan.Dusting {
			dust = append(dust, "u_"+n+"_"+strconv.Itoa(k+1))
		}
	}
	var all []string
	for k, s := range out.Store {
		n := strconv.Itoa(k + 1)
		w.Step(s.Name+", to draw", "S_"+n, strings.Join(sums[k], " + "), float64(s.Mass), "g", "")
		all = append(all, "S_"+n)
	}
	w.Lines(out, "to draw from the store: S = "+strings.Join(all, " + "))
	if out.Ice > 0 {
		w.Step("ice of that", "S_ice", strings.Join(ice, " + "), float64(out.Ice), "g", "")
	}
	if out.Dusting > 0 {
		w.Step("dusting flour beside that", "S_dust", strings.Join(dust, " + "), float64(out.Dusting), "g", "")
	}
}

// totalled is the terms of the totals of an order, as far as it has been shown.
type totalled struct {
	end                        string // the last run's end
	late, lateness, worst, all []string
}

func (t *totalled) add(n string) {
	t.end = "f_" + n
	t.all = append(t.all, "c_"+n)
}

func (t *totalled) due(n string, weight int) {
	t.late = append(t.late, "min(1, l_"+n+")")
	t.lateness = append(t.lateness, strconv.Itoa(weight)+"*l_"+n)
	t.worst = append(t.worst, "l_"+n)
}

// lines are the totals.
func (t *totalled) lines(what string) []string {
	late, lateness, worst := "0", "0", "0"
	if len(t.late) > 0 {
		late, lateness = strings.Join(t.late, " + "), strings.Join(t.lateness, " + ")
		worst = "max(" + strings.Join(append([]string{"0"}, t.worst...), ", ") + ")"
	}
	return []string{
		what + " that are late: N_1 = " + late + "  [whole seconds: what is late is so by one at least]",
		"lateness of all: L_1 = " + lateness,
		"latest of all: W_1 = " + worst,
		"the line is done: F_1 = " + t.end + " + c_z",
		"changing over: G_1 = " + strings.Join(t.all, " + ") + " + c_z",
	}
}

// show shows what no order has less of.
func (t OrderTotal) show(w *reckon.Working) {
	w.Given("no order has fewer late than", "N_0", float64(t.Late), "", "proven by the search")
	w.Given("nor less lateness than", "L_0", float64(t.Lateness), "s", "proven by the search")
	w.Given("nor a latest below", "W_0", float64(t.Worst), "s", "proven by the search")
	w.Given("nor finishes before", "F_0", float64(t.Finish), "s", "proven by the search")
	w.Given("nor changes over less than", "G_0", float64(t.Changing), "s", "proven by the search")
}
