package line

import (
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// supplies: oil and dusting flour of the run.
func (r *run) supplies() {
	if len(r.line.Oil)+len(r.line.Dusters) == 0 {
		return
	}
	// While the divider waits for dough the valves are shut and nothing is dusted.
	scaling := r.out.Clear.LastIn + r.out.Rate.Beat
	oil := divider.OilUse{Valves: r.line.Oil, Scaling: scaling, Runs: 1, PiecesPerRun: r.out.Batch.PiecesMade}
	oilAt := func() places { return places{{"valves", "line.oil_valves"}, {"", "~line.oil_"}} }
	if !r.ready() {
		if len(r.line.Oil) > 0 {
			r.tell(oilAt, oil.Check)
		}
		for i := range min(len(r.line.Dusters), mostDusters) {
			q, _, at := r.dusting(i, scaling)
			r.tell(at, q.Check)
		}
		return
	}
	if r.w != nil {
		r.w.Heading("Time in which pieces are scaled")
		r.w.Carried("last stroke after the first, if the divider never waits", "t_2", float64(r.out.Clear.LastIn), "s")
		r.w.Carried("time from stroke to stroke", "b", float64(r.out.Rate.Beat), "s")
		r.w.Step("time in which pieces are scaled", "T_s", "t_2 + b", float64(scaling), "s", "each stroke takes its time")
	}
	var err error
	if len(r.line.Oil) > 0 {
		if r.out.Oil, err = oil.Solve(); r.settled(err, oilAt) && r.w != nil {
			r.w.Heading("Divider oil")
			oil.Show(r.w, r.out.Oil)
		}
	}
	if n := len(r.line.Dusters); n > 0 {
		if cap(r.out.Dusting) < n {
			r.out.Dusting = make([]Dusting, n)
		}
		r.out.Dusting = r.out.Dusting[:n]
		clear(r.out.Dusting)
	}
	for i := range r.out.Dusting {
		r.dust(i, scaling)
	}
}

// dusting is what duster i is asked: its flour, its slide, and where the plan holds the values.
func (r *run) dusting(i int, scaling unit.Duration) (divider.FlourUse, divider.SlideForFlow, func() places) {
	d := &r.line.Dusters[i]
	at := func() places {
		return places{
			{"scale", "line.flour_dusters[" + strconv.Itoa(i) + "].scale"}, {"stickiness", "order.product.stickiness"}, {"", "~order.product."},
		}
	}
	return divider.FlourUse{Scale: d.Scale, Stickiness: r.product.Stickiness, Piece: r.out.Target, PieceRate: r.out.Rate.PieceRate, RunTime: scaling},
		divider.SlideForFlow{Points: d.Slide, SlideStep: d.SlideStep}, at
}

// dust: the flour of one duster, and its slide.
func (r *run) dust(i int, scaling unit.Duration) {
	q, slide, at := r.dusting(i, scaling)
	d, out := &r.line.Dusters[i], &r.out.Dusting[i]
	out.Name, out.Onto = d.Name, d.Onto
	var err error
	if out.Flour, err = q.Solve(); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		r.w.Heading("Dusting flour, " + d.Name)
		q.Show(r.w, out.Flour)
	}
	if len(d.Slide) == 0 {
		return
	}
	slide.FlourRate = out.Flour.Hour
	if out.Slide, err = slide.Solve(); r.settled(err, at) && r.w != nil {
		slide.Show(r.w, out.Slide)
	}
}

// finalProof: the room that the final proof needs.
func (r *run) finalProof() {
	p, f := r.product, &r.line.FinalProof
	if p.FinalStay == 0 {
		return
	}
	q := proof.FinalProofLoad{PieceRate: r.out.Rate.PieceRate, Stay: p.FinalStay, Carrier: f.Carrier, PerCarrier: p.PerCarrier, Handling: f.Handling + p.inRacks(r.line), Available: f.Available}
	if t := &r.out.Times; t.BatchWait > 0 && r.out.Batch.Batches > 1 {
		q.BatchPieces, q.Wait = r.out.Batch.PiecesPerBatch, t.BatchWait
	}
	at := func() places {
		return places{
			{"stay", "order.product.final_stay"},
			{"per_carrier", "order.product.per_carrier"},
			{"piece_rate", "~order.product.rate_high"},
			{"batch_pieces", "~order.pieces"},
			{"wait", "~shift.mixer.cycle"},
			{"", "line.final_proof."},
		}
	}
	if !r.ready() {
		if !(p.Baking.Time <= longestBake) { // which is told by its own name
			q.Handling = f.Handling
		}
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.FinalProof, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Final proof")
		if baked := p.inRacks(r.line); baked > 0 {
			r.w.Carried("a rack is taken besides the stay", "h_f", float64(f.Handling), "s")
			r.w.Carried("baking, in the rack", "t_k", float64(baked), "s")
			r.w.Step("a rack is taken besides, the baking counted", "h_b", "h_f + t_k", float64(q.Handling), "s", "")
		}
		q.Show(r.w, r.out.FinalProof)
	}
}

// Care returns how each part of the line that is taken out is washed, dried
// and stored. The maker's instructions come first.
func (l *Line) Care(w *reckon.Working) ([]molder.PartCareResult, error) {
	c := reckon.Checks{Func: "part-care"}
	out := make([]molder.PartCareResult, len(l.Parts))
	for i, part := range l.Parts {
		mark := c.Mark()
		var err error
		if out[i], err = part.Solve(); err != nil {
			c.Nest("", err)
			c.Item(mark, "line.parts", i)
			continue
		}
		if w != nil {
			w.Heading("Care of the " + string(part.Part))
			part.Show(w, out[i])
		}
	}
	return out, c.Err()
}
