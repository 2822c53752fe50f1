package line

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
)

func (q Clock) Show(w *reckon.Working, out ClockResult) {
	plan, ok := Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.showFirst(w)
	if !ok {
		return
	}
	w.Heading("By the clock, from midnight")
	w.Inputs(q)
	r := ran{q: &q, plan: &plan}
	r.bake()
	r.start = out.Start
	r.show(w, &out)
}

// show shows an order on the clock.
func (r *ran) show(w *reckon.Working, out *ClockResult) {
	q := r.q
	r.showPlan(w)
	r.showMade(w)
	switch {
	case q.OvenAt != 0:
		r.showStart(w, "v_a", "1", 1)
	case q.FinishAt != 0:
		r.showStart(w, "v_z", "n_a", r.plan.Batch.PiecesMade)
	}
	loads := r.ovenLoads()
	for i := range loads {
		w.Item(i+1, &loads[i], "load # is proofed: rdy_# = t_0 + q_#", "load # into the oven: in_# = t_0 + ent_#", "load # is baked: done_# = in_# + t_k"+r.along("l_#", i))
	}
	batches := out.Batches[len(out.Batches)-r.plan.Batch.Batches:]
	preferments := 0
	for i := range batches {
		preferments = r.showBatch(w, &batches[i], preferments)
	}
	for i := range out.Lots {
		r.showLot(w, i, out.Lots[i])
	}
	w.Lines(out,
		"first work: E = min(t_0, p_#..., u_#...)",
		"first pieces into the oven: t_o = oven_f1",
		"last pieces into the oven: t_z = oven_l"+strconv.Itoa(len(batches)),
	)
	if out.OvenBelt > 0 {
		w.Carried("length of the oven's belt", "x_o", float64(q.Line.Oven.Belt), "mm")
		w.Lines(out, "speed of the oven's belt: v_o = x_o/t_k")
	}
	if q.Piece > 0 {
		k := &out.Piece
		r.showPiece(w, "the piece", "k")
		w.Lines(k, "in whose stretch it is cut: B_k = 1 + floor((k - 1)/n_b)")
		w.Lines(k, "into the overhead proofer: cut_k = "+r.moment("x_k"), "out of it: out_k = "+r.moment("y_k"))
		w.Lines(k, "its rack is full: full_k = "+r.moment("z_k"), "proofed: prf_k = full_k + t_p", "into the oven: oven_k = "+r.oven("k", "prf_k", q.Piece))
		if k.Baked != 0 {
			w.Lines(k, "baked: bkd_k = oven_k + t_k")
		}
	}
}

// showLot shows the start of a lot of a preferment that keeps.
func (r *ran) showLot(w *reckon.Working, i int, k PrefermentLot) {
	for j := range r.plan.PrefermentRuns {
		if p := &r.plan.PrefermentRuns[j]; p.Name == k.Name {
			w.Carried(k.Name+", started before its batch is mixed", "d_"+strconv.Itoa(j+1), float64(p.Before), "s")
			n := strconv.Itoa(k.FirstBatch)
			w.Step(k.Name+", lot from batch "+n+" on", "u_"+strconv.Itoa(i+1), "t_"+n+" - d_"+strconv.Itoa(j+1), float64(k.Start), "s", "")
		}
	}
}

// along is how much later than the first piece of a load, counted from 0, a piece of it goes into a tunnel.
func (r *ran) along(piece string, load int) string {
	if r.q.Line.Oven.Kind != TunnelOven {
		return ""
	}
	return " + (" + piece + " - y_" + strconv.Itoa(load+1) + ")*t_k/L_o"
}

// oven is the relation by which a piece goes into the oven, whose symbol is k and which is proofed at a moment.
func (r *ran) oven(k, proofed string, piece int) string {
	if len(r.loads) == 0 {
		return proofed
	}
	load := r.loadOf(piece).Load
	return "in_" + strconv.Itoa(load) + r.along(k, load-1)
}

// showMade shows when each load is ready and goes into the oven, counted from the first mixing.
func (r *ran) showMade(w *reckon.Working) {
	per := "L_o"
	if r.q.Line.Oven.Kind == TunnelOven {
		per = "g"
	}
	inBatch, batch := 0, 0
	for i := range r.loads {
		k, n := r.loads[i], i+1
		if b := r.batchOf(k.FirstPiece); b != batch {
			batch, inBatch = b, 0
		}
		inBatch++
		first, last := "(# - 1)*"+per+" + 1", "min(n_a, #*"+per+")"
		if r.waits() {
			b := strconv.Itoa(batch)
			first = "(" + b + " - 1)*n_b + (" + strconv.Itoa(inBatch) + " - 1)*" + per + " + 1"
			last = "min(n_a, " + b + "*n_b, (" + b + " - 1)*n_b + " + strconv.Itoa(inBatch) + "*" + per + ")"
		}
		w.Item(n, &k, "first piece of load #: y_# = "+first, "last piece of load #: l_# = "+last)
		r.showRack(w, "b"+strconv.Itoa(n), "l_"+strconv.Itoa(n))
		w.Item(n, nil, "load # is proofed, from the first mixing: q_# = "+r.after("z_b#")+" + t_p in s")
		free := ""
		if before := n - r.q.Line.Oven.places(); before > 0 {
			m := strconv.Itoa(before)
			free = "ent_" + m + " + t_k + t_l"
			if r.q.Line.Oven.Kind == TunnelOven {
				free = "ent_" + m + " + (l_" + m + " - y_" + m + " + 1)*t_k/L_o"
			}
			free = "max(q_#, " + free + ")"
		} else {
			free = "q_#"
		}
		w.Item(n, nil, "load # into the oven, from the first mixing: ent_# = "+free+" in s")
	}
}

// showPlan records what the clock takes from the plan.
func (r *ran) showPlan(w *reckon.Working) {
	t, b, p := &r.plan.Times, &r.plan.Batch, &r.q.Order.Product
	w.Carried("mixing", "t_m", float64(r.q.Shift.Mixer.Mixing), "s")
	w.Carried("floor time", "t_f", float64(p.FloorTime), "s")
	w.Carried("from batch to batch", "t_b", float64(t.BatchInterval), "s")
	w.Carried("batches", "b", float64(b.Batches), "")
	w.Carried("pieces per batch", "n_b", float64(b.PiecesPerBatch), "")
	w.Carried("pieces of all batches", "n_a", float64(b.PiecesMade), "")
	w.Carried("divider speed", "S_set", float64(r.plan.Strokes), "strokes/min")
	w.Carried("pieces across", "a", float64(p.Across), "")
	w.Carried("dwell", "t", float64(r.plan.Dwell.Dwell), "s")
	w.Carried("final proof", "t_p", float64(p.FinalStay), "s")
	if r.onRacks() {
		w.Carried("pieces in one rack", "g", float64(p.PerCarrier), "")
	}
	if p.Baking.Time > 0 {
		w.Carried("baking", "t_k", float64(p.Baking.Time), "s")
	}
	if len(r.loads) > 0 {
		w.Carried("pieces in a load of the oven", "L_o", float64(p.Baking.PerLoad), "")
		if r.q.Line.Oven.Kind != TunnelOven {
			w.Carried("a place in the oven is taken besides", "t_l", float64(r.q.Line.Oven.Loading), "s")
		}
	}
	if r.waits() {
		w.Carried("scaling one batch", "t_s", float64(t.BatchScaling), "s")
		w.Carried("wait between batches", "t_w", float64(t.BatchWait), "s")
	}
}

// moment is the relation of [ran.at].
func (r *ran) moment(run string) string { return "t_0 + " + r.after(run) }

// after is the same, counted from the first mixing.
func (r *ran) after(run string) string {
	if !r.waits() {
		return "t_m + t_f + " + run
	}
	return "t_m + t_f + " + run + " + min(b - 1, floor(" + run + "/t_s))*t_w"
}

// showPiece shows how long the machines have run when a piece is cut, x, when it is out, y, and when the last on its rack is out, z.
// Its number has a symbol already.
func (r *ran) showPiece(w *reckon.Working, words, k string) {
	of := k
	if k != "k" {
		of = "k_" + k
	}
	w.Lines(nil,
		"machines run until "+words+" is cut: x_"+k+" = 60{s/min}/S_set*floor(("+of+" - 1)/a) in s",
		"until it is out: y_"+k+" = x_"+k+" + t in s",
	)
	r.showRack(w, k, of)
}

// showRack shows how long the machines have run when the last piece on a rack is out.
func (r *ran) showRack(w *reckon.Working, k, of string) {
	switch {
	case !r.onRacks():
		w.Lines(nil, "the piece itself, as there are no racks: r_"+k+" = "+of)
	case r.waits():
		w.Lines(nil,
			"pieces of the batches before: j_"+k+" = floor(("+of+" - 1)/n_b)*n_b",
			"piece that fills its rack: r_"+k+" = min(n_a, j_"+k+" + n_b, j_"+k+" + ceil(("+of+" - j_"+k+")/g)*g)  [each batch starts its own rack]",
		)
	default:
		w.Lines(nil, "piece that fills its rack: r_"+k+" = min(n_a, ceil("+of+"/g)*g)")
	}
	w.Lines(nil, "until that is out: z_"+k+" = 60{s/min}/S_set*floor((r_"+k+" - 1)/a) + t in s")
}

// showStart shows the start that brings a piece into the oven in time.
func (r *ran) showStart(w *reckon.Working, at, k string, piece int) {
	if len(r.loads) > 0 {
		load := r.loadOf(piece).Load
		w.Lines(nil, "from the first mixing to the oven: d_0 = ent_"+strconv.Itoa(load)+r.along(k, load-1)+" in s")
	} else {
		w.Lines(nil, "piece that goes in then: k_0 = "+k)
		r.showRack(w, "0", "k_0")
		w.Lines(nil, "from the first mixing to the oven: d_0 = "+r.after("z_0")+" + t_p in s")
	}
	w.Step("first mixing", "t_0", at+" - d_0", float64(r.start), "s", "")
}

// showBatch shows the moments of a batch, with its preferments numbered on from those before it.
func (r *ran) showBatch(w *reckon.Working, k *BatchClock, preferments int) int {
	i := k.Batch
	n := strconv.Itoa(i)
	w.Item(i, k,
		"mixing of batch #: t_# = t_0 + (# - 1)*t_b",
		"batch # mixed: m_# = t_# + t_m",
		"batch # tipped: h_# = m_# + t_f",
	)
	own := 0
	for j := range r.plan.PrefermentRuns {
		run := &r.plan.PrefermentRuns[j]
		if own == len(k.Preferments) || k.Preferments[own].Name != run.Name {
			continue // it keeps, and is made in lots
		}
		p := k.Preferments[own]
		own++
		preferments++
		due := "d_" + strconv.Itoa(j+1)
		if i == 1 {
			w.Carried(p.Name+", started before its batch is mixed", due, float64(run.Before), "s")
		}
		w.Step(p.Name+" for batch "+n, "p_"+strconv.Itoa(preferments), "t_"+n+" - "+due, float64(p.Start), "s", "")
	}
	w.Item(i, k, "first piece of batch #: k_f# = (# - 1)*n_b + 1", "last piece of batch #: k_l# = min(n_a, #*n_b)")
	r.showPiece(w, "the first of batch "+n, "f"+n)
	r.showPiece(w, "the last of batch "+n, "l"+n)
	b := &r.plan.Batch
	w.Item(i, k,
		"first of batch # cut: cut_f# = "+r.moment("x_f#"),
		"last of batch # cut: cut_l# = "+r.moment("x_l#"),
		"first of batch # out: out_f# = "+r.moment("y_f#"),
		"last of batch # out: out_l# = "+r.moment("y_l#"),
		"first of batch # into the oven: oven_f# = "+r.oven("k_f#", r.moment("z_f#")+" + t_p", (i-1)*b.PiecesPerBatch+1),
		"last of batch # into the oven: oven_l# = "+r.oven("k_l#", r.moment("z_l#")+" + t_p", min(i*b.PiecesPerBatch, b.PiecesMade)),
	)
	return preferments
}
