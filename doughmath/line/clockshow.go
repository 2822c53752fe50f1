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
	r := ran{&q, &plan, out.Start}
	r.showPlan(w)
	switch {
	case q.OvenAt != 0:
		r.showStart(w, "v_a", "1")
	case q.FinishAt != 0:
		r.showStart(w, "v_z", "n_a")
	}
	batches := out.Batches[len(out.Batches)-plan.Batch.Batches:]
	preferments := 0
	for i := range batches {
		preferments = r.showBatch(w, &batches[i], preferments)
	}
	w.Lines(out,
		"first work: E = min(t_0, p_#...)",
		"first pieces into the oven: t_o = oven_f1",
		"last pieces into the oven: t_z = oven_l"+strconv.Itoa(len(batches)),
	)
	if q.Piece > 0 {
		k := &out.Piece
		r.showPiece(w, "the piece", "k")
		w.Lines(k, "in whose stretch it is cut: B_k = 1 + floor((k - 1)/n_b)")
		w.Lines(k, "into the overhead proofer: cut_k = "+r.moment("x_k"), "out of it: out_k = "+r.moment("y_k"))
		w.Lines(k, "its rack is full: full_k = "+r.moment("z_k"), "into the oven: oven_k = full_k + t_p")
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
	if p.PerCarrier > 0 {
		w.Carried("pieces in one rack", "g", float64(p.PerCarrier), "")
	}
	if r.waits() {
		w.Carried("scaling one batch", "t_s", float64(t.BatchScaling), "s")
		w.Carried("wait between batches", "t_w", float64(t.BatchWait), "s")
	}
}

// waits reports whether the divider waits for dough.
func (r *ran) waits() bool { return r.plan.Times.BatchWait > 0 && r.plan.Batch.Batches > 1 }

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
	case r.q.Order.Product.PerCarrier < 1:
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
func (r *ran) showStart(w *reckon.Working, at, piece string) {
	w.Lines(nil, "piece that goes in then: k_0 = "+piece)
	r.showRack(w, "0", "k_0")
	w.Lines(nil, "from the first mixing to the oven: d_0 = "+r.after("z_0")+" + t_p in s")
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
	for j, p := range k.Preferments {
		preferments++
		due := "d_" + strconv.Itoa(j+1)
		if i == 1 {
			w.Carried(p.Name+", started before its batch is mixed", due, float64(r.plan.PrefermentRuns[j].Before), "s")
		}
		w.Step(p.Name+" for batch "+n, "p_"+strconv.Itoa(preferments), "t_"+n+" - "+due, float64(p.Start), "s", "")
	}
	w.Item(i, k, "first piece of batch #: k_f# = (# - 1)*n_b + 1", "last piece of batch #: k_l# = min(n_a, #*n_b)")
	r.showPiece(w, "the first of batch "+n, "f"+n)
	r.showPiece(w, "the last of batch "+n, "l"+n)
	w.Item(i, k,
		"first of batch # cut: cut_f# = "+r.moment("x_f#"),
		"last of batch # cut: cut_l# = "+r.moment("x_l#"),
		"first of batch # out: out_f# = "+r.moment("y_f#"),
		"last of batch # out: out_l# = "+r.moment("y_l#"),
		"first of batch # into the oven: oven_f# = "+r.moment("z_f#")+" + t_p",
		"last of batch # into the oven: oven_l# = "+r.moment("z_l#")+" + t_p",
	)
	return preferments
}
