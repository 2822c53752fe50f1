package line

import (
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// Show works out the plan of the fastest run, then the settings that work beside it. The limits are moved again, so that what they
// buy is found, not keyed in.
func (q Window) Show(w *reckon.Working, _ WindowResult) {
	if w == nil {
		return
	}
	cl, err := Commission(q.Line)
	if err != nil {
		return
	}
	out, err := cl.Window(&q.Order, &q.Shift, nil)
	if err != nil {
		return
	}
	w.Inputs(q)
	own := q.Order.Product.Across
	for i := 0; i < len(out.Ways); {
		across := out.Ways[i].Across
		n := slices.IndexFunc(out.Ways[i:], func(w WindowWay) bool { return w.Across != across })
		if n < 0 {
			n = len(out.Ways) - i
		}
		a := newAsked(&cl, &q.Order, &q.Shift)
		a.plan.Order.Product.Across = across
		a.before()
		_ = a.rest(Aim{}) // what stands in the way of the plan is no step of the window
		a.plan.showAs(w, strconv.Itoa(across)+" across", a.out)
		a.showWays(w, out.Ways[i:i+n], i)
		if across == own {
			a.showGap(w, &out.Gap)
			a.r.showPoints(w, out.Best, "The best for each aim")
		}
		i += n
	}
	if len(out.Limits) > 0 {
		w.Heading("What one unit more of each limit buys")
		w.Found(struct{ Limits []WindowLimit }{out.Limits}, "planned again with this limit alone moved by one unit")
	}
	if len(out.Conflict) > 0 {
		w.Heading("Limits that exclude one another")
		w.Found(struct{ Conflict []WindowConflict }{out.Conflict}, "planned again with this limit alone moved until there is a plan")
	}
}

// showSettings records what settings are worked out from.
func (r *run) showSettings(w *reckon.Working) {
	o, s := r.out, r.shift
	w.Carried("pieces to make", "n", float64(r.order.Pieces+r.order.Spare), "")
	w.Carried("pieces across", "a", float64(r.product.Across), "")
	w.Carried("mixer, from batch to batch", "t_c", float64(s.Mixer.Cycle), "s")
	w.Carried("fastest for all", "S_high", float64(o.Speed.High), "strokes/min")
	w.Carried("dwell at the fastest", "t_high", float64(o.Speed.DwellAtHigh), "s")
}

// showWays shows the speeds that work, numbered on from those before.
func (a *asked) showWays(w *reckon.Working, ways []WindowWay, from int) {
	r, o, d := &a.r, &a.out, &a.plan.Line.Divider
	w.Heading("Settings that work, " + strconv.Itoa(r.product.Across) + " across")
	r.showSettings(w)
	w.Carried("slowest for all", "S_low", float64(o.Speed.Low), "strokes/min")
	w.Carried("longest dwell", "t_max", float64(r.product.DwellHigh), "s")
	w.Carried("longest time in the hopper", "t_h", float64(r.product.HopperMax), "s")
	w.Carried("dough piece", "m", float64(o.Target), "g")
	w.Carried("least in the hopper", "H_d", float64(d.HopperLeast), "g")
	w.Carried("dough mixed for one of dough cut", "k_w", r.shift.WasteBasis.Factor(r.shift.Waste), "")
	if d.StrokeStep > 0 {
		w.Carried("step of the speed setting", "q", float64(d.StrokeStep), "strokes/min")
	}
	a.showSlides(w)
	if r.held > 0 {
		w.Carried("time in which the weight is held", "t_d", float64(r.held), "s")
	}
	for i := range ways {
		a.showWay(w, &ways[i], from+i+1)
	}
}

func (a *asked) showWay(w *reckon.Working, way *WindowWay, i int) {
	r := &a.r
	of := batched{way.Batches, way.PiecesPerBatch}
	w.Given("batches of way "+strconv.Itoa(i), "b_w"+strconv.Itoa(i), float64(way.Batches), "", "counted up from the fewest")
	w.Item(i, way, "pieces across: a_w# = a", "whole pieces in each: n_w# = ceil(n/b_w#)", "dough of each: D_w# = n_w#*m*k_w")
	low, high := []string{"S_low", "(n_w# + H_d/m)*60{s/min}/(a*t_h)"}, []string{"S_high"}
	if r.held > 0 {
		low = append(low, "(n_w# + H_d/m)*60{s/min}/(a*t_d)")
	}
	for n := range a.slides {
		low, high = append(low, "d_l"+strconv.Itoa(n+1)), append(high, "d_h"+strconv.Itoa(n+1))
	}
	if mixer := r.keepsUp(of); of.batches > 1 {
		w.Item(i, way, "fastest with which the mixer keeps up: S_m# = n_w#*60{s/min}/(a*t_c)")
		if a.out.Speed.High > mixer*(1+hair) {
			waits := "(t_high*S_high - k_#*n_w#*60{s/min}/a)/(t_max - k_#*t_c)"
			w.Item(i, way, "most waits that one piece meets: k_# = min(b_w# - 1, ceil(t_high*S_high*a/(n_w#*60{s/min})))")
			switch {
			case way.LowLimit == paceLimit:
				low = append(low, waits)
			case way.HighLimit == paceLimit && float64(mixer) >= float64(way.High)*(1-hair):
				high = append(high, "S_m#")
			case way.HighLimit == paceLimit:
				high = append(high, waits)
			}
			if head := a.plan.Line.Divider.HopperLeast; head > 0 && r.held > r.shift.Mixer.Cycle && way.High > mixer*(1+hair) {
				low = append(low, "H_d/m*60{s/min}/(a*(t_d - t_c))")
			}
		}
	}
	slowest, fastest := "max("+strings.Join(low, ", ")+")", strings.Join(high, ", ")
	if len(high) > 1 {
		fastest = "min(" + fastest + ")"
	}
	if r.line.Divider.StrokeStep > 0 {
		slowest, fastest = "q*ceil("+slowest+"/q)", "q*floor("+fastest+"/q)"
	}
	w.Item(i, way,
		"slowest to set: S_l# = "+slowest+"  [limit: "+way.LowLimit+"]",
		"fastest to set: S_h# = "+fastest+"  [limit: "+way.HighLimit+"]",
		"pieces at the slowest: R_l# = S_l#*a", "pieces at the fastest: R_h# = S_h#*a",
		"dwell at the fastest: t_s# = t_high*S_high/S_h#", "dwell at the slowest: t_g# = t_high*S_high/S_l#",
	)
}

// showSlides shows the speeds at which the slides of the dusters reach.
func (a *asked) showSlides(w *reckon.Working) {
	r := &a.r
	a.slides = 0
	for i := range r.line.Dusters {
		d := &r.line.Dusters[i]
		if len(d.Slide) == 0 || i >= len(a.out.Dusting) {
			continue
		}
		a.slides++
		n := a.slides
		low, high := d.reach()
		w.Carried(d.Name+", flour on a piece", "x_"+strconv.Itoa(n), float64(a.out.Dusting[i].Flour.FlourPerPiece), "g")
		w.Given(d.Name+", least flour that its slide is set for", "v_l"+strconv.Itoa(n), float64(low), "kg/h", "its trials, to half a step below the first position")
		w.Given(d.Name+", most flour that its slide is set for", "v_h"+strconv.Itoa(n), float64(high), "kg/h", "its trials, to half a step above the last position")
		w.Item(n, nil, "slowest for its slide: d_l# = v_l#*1000{g/kg}/60{min/h}/(x_#*a) in strokes/min", "fastest for its slide: d_h# = v_h#*1000{g/kg}/60{min/h}/(x_#*a) in strokes/min")
	}
}

// showGap shows the narrowest and the widest last gap.
func (a *asked) showGap(w *reckon.Working, gap *WindowGap) {
	if !a.r.moulded {
		return
	}
	narrow, wide := a.gaps()
	low, _ := narrow.Solve()
	high, _ := wide.Solve()
	if narrow.TearLimit != thinnest {
		w.Heading("Narrowest last gap")
		narrow.Show(w, low)
		w.Lines(gap, "narrowest gap to set: g_l = g")
	}
	w.Heading("Widest last gap")
	wide.Show(w, high)
	w.Lines(gap, "widest gap to set: g_h = g")
	switch {
	case narrow.TearLimit != thinnest:
	case wide.GapStep > 0:
		w.Lines(gap, "narrowest gap to set: g_l = q_g*ceil(g_low/q_g)  [when the sheet tears is not known]")
	default:
		w.Lines(gap, "narrowest gap to set: g_l = g_low  [when the sheet tears is not known]")
	}
}

// showPoints shows what comes of settings, numbered from 1.
func (r *run) showPoints(w *reckon.Working, points []AimPoint, words string) {
	o := r.out
	w.Heading(words)
	r.showSettings(w)
	w.Carried("mixing", "t_m", float64(r.shift.Mixer.Mixing), "s")
	w.Carried("floor time", "t_f", float64(r.product.FloorTime), "s")
	w.Carried("trays per stroke", "r", r.line.Proofer.TraysPerStroke, "")
	w.Carried("weight expected at the mark set", "m_s", float64(o.Mark.Expected), "g")
	w.Carried("dough piece for the baked weight", "m_b", float64(o.Piece.Dough), "g")
	flour := make([]string, 0, len(o.Dusting))
	for i := range o.Dusting {
		symbol := "f_p" + strconv.Itoa(i+1)
		w.Carried(o.Dusting[i].Name+", flour on a piece", symbol, float64(o.Dusting[i].Flour.FlourPerPiece), "g")
		flour = append(flour, symbol)
	}
	for i := range points {
		r.showPoint(w, &points[i], i+1, strings.Join(flour, " + "))
	}
}

func (r *run) showPoint(w *reckon.Working, p *AimPoint, i int, flour string) {
	n := strconv.Itoa(i)
	const best = "the best of all settings that work, by comparing them"
	w.Given(string(p.Aim)+", speed to set", "S_"+n, float64(p.Strokes), "strokes/min", best)
	w.Given(string(p.Aim)+", batches", "b_"+n, float64(p.Batches), "", best)
	w.Item(i, p, "whole pieces in each: n_# = ceil(n/b_#)", "dwell while the machines run: t_# = t_high*S_high/S_#")
	if p.Waits > 0 {
		w.Item(i, p,
			"scaling one batch: c_# = n_#*60{s/min}/(S_#*a) in s", "wait between batches: u_# = t_c - c_# in s",
			"most waits that one piece meets: k_# = min(b_# - 1, ceil(t_#/c_#))",
			"pieces kept up: P_# = n_#*60{s/min}/t_c  [a batch each time the mixer gives one]",
			"longest dwell: l_# = t_# + k_#*u_#", "all waits: w_# = (b_# - 1)*u_#",
		)
	} else {
		w.Item(i, p, "pieces kept up: P_# = S_#*a", "longest dwell: l_# = t_#", "all waits: w_# = 0 in s  [the mixer keeps up]")
	}
	w.Item(i, p,
		"last pieces out: z_# = t_m + t_f + ceil((ceil(b_#*n_#/a) - 1)*r)/(S_#*r)*60{s/min} + t_# + w_#",
		"dough beyond the order: g_# = max(0, m_s - m_b)*b_#*n_# + (b_#*n_# - n)*m_b",
	)
	if flour == "" {
		flour = "0"
	} else {
		flour = "ceil(b_#*n_#/a)*a*(" + flour + ")"
	}
	w.Item(i, p, "dusting flour: f_# = "+flour+" in g")
}

// showAim shows what the aim of the order costs.
func (r *run) showAim() {
	o, w := r.out, r.w
	if w == nil || len(o.Aim.Costs) == 0 {
		return
	}
	points := []AimPoint{o.Aim.Here}
	for i := range o.Aim.Costs {
		points = append(points, o.Aim.Costs[i].Best)
	}
	r.showPoints(w, points, "What the aim costs")
	for i := range o.Aim.Costs {
		w.Item(i+2, &o.Aim.Costs[i],
			"more pieces a minute than for "+string(points[i+1].Aim)+": DP_# = P_1 - P_#", "later: Dz_# = z_1 - z_#", "more waiting: Dw_# = w_1 - w_#",
			"more dough beyond the order: Dg_# = g_1 - g_#", "more dusting flour: Df_# = f_1 - f_#",
		)
	}
}
