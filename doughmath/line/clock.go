package line

import (
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Clock asks when, by the clock on the wall, each batch of an order is started, mixed, tipped, scaled and through the
// overhead proofer, and when its pieces come to the oven:
//
//	t_i = t_0 + (i - 1)*t_b,  m_i = t_i + t_m,  h_i = m_i + t_f
//	run(x) = t_0 + t_m + t_f + x + min(b - 1, floor(x/t_s)) * t_w
//	cut_k = run(60/S * floor((k - 1)/a)),  out_k = run(60/S * floor((k - 1)/a) + t)
//	full_k = out of the last piece on the same rack,  oven_k = full_k + t_p,  B_k = 1 + floor((k - 1)/n_b)
//	t_o = oven_1,  t_z = oven of the last piece,  t_0 = v_a - oven_1 or v_z - oven of the last, both counted from t_0
//	cut_fi, out_fi, oven_fi of the first piece of batch i, cut_li, out_li, oven_li of its last
//	p_i = t_i - d_i, E = min(t_0, p_i)
//
// with b batches, t_b from one to the next, t_m mixing and t_f floor time: batch i is mixed at m_i and tipped at h_i; t_s scaling
// one batch of n_b pieces and t_w the wait between batches, in which divider and proofer stand; S strokes, a pieces across and the dwell t;
// t_p the stay in the final proof, which counts from when
// a rack is full; and d_i how long before its batch is mixed a preferment is started, at p_i. Where the divider waits, each batch starts its own rack. All but t_0 is the plan's.
//
// Times are counted from midnight, on the day of whichever time is given: below 0 it is the day before, above 24 h the day after.
// A preferment is started so that it is ripe when its batch is mixed.
//
// What does not go as it should is told in findings: a hopper that runs dry, dough that stands there over its time, an oven
// that waits, racks that are short, and why. The plan has no bake time: it ends where pieces go into the oven.
//
// It is refused if:
//   - the plan is,
//   - not exactly one of start, oven_at and finish_at is given,
//   - there are more than 1000 batches,
//   - piece is more than are made.
//
// Source: the plan of [Plan]; counting of strokes and racks (derived), held against [proof.Run] pocket by pocket;
// cases in testdata/cases/line/line-clock.json.
type Clock struct {
	Line     Line          `json:"line" sym:"-"`                                    // the equipment as it stands
	Order    Order         `json:"order" sym:"-"`                                   // what to make, and how much
	Shift    Shift         `json:"shift" sym:"-"`                                   // today's conditions
	Start    unit.Duration `json:"start,omitzero" sym:"t_0" range:">0 s..48 h"`     // when the first mixing starts, from midnight, such as "5 h 30 min"; leave out if another time is given
	OvenAt   unit.Duration `json:"oven_at,omitzero" sym:"v_a" range:">0 s..48 h"`   // when the first pieces are to go into the oven, from midnight; leave out if another time is given
	FinishAt unit.Duration `json:"finish_at,omitzero" sym:"v_z" range:">0 s..48 h"` // when the last pieces are to go into the oven, from midnight; leave out if another time is given
	Piece    int           `json:"piece,omitzero" sym:"k" range:"1..100000000"`     // a piece to follow, by the order in which pieces are scaled; leave out for none
}

// BatchClock is the moments of one batch, from midnight.
type BatchClock struct {
	Batch       int             `json:"batch"`                    // counted from 1
	Preferments []PrefermentDue `json:"preferments,omitzero"`     // when each of its preferments is started
	Mix         unit.Duration   `json:"mix" sym:"t_#"`            // weighed and into the mixer
	Mixed       unit.Duration   `json:"mixed" sym:"m_#"`          // out of the mixer
	Tip         unit.Duration   `json:"tip" sym:"h_#"`            // after its floor time, into the hopper
	FirstCut    unit.Duration   `json:"first_cut" sym:"cut_f#"`   // first of as many pieces as the batch makes, from the head of dough before it
	LastCut     unit.Duration   `json:"last_cut" sym:"cut_l#"`    // last of them
	FirstOut    unit.Duration   `json:"first_out" sym:"out_f#"`   // the first leaves the overhead proofer
	LastOut     unit.Duration   `json:"last_out" sym:"out_l#"`    // the last
	FirstOven   unit.Duration   `json:"first_oven" sym:"oven_f#"` // the first goes into the oven
	LastOven    unit.Duration   `json:"last_oven" sym:"oven_l#"`  // the last
}

// PrefermentDue is when a preferment is started.
type PrefermentDue struct {
	Name  string        `json:"name"`            // the preferment
	Start unit.Duration `json:"start" sym:"p_#"` // from midnight
}

// PieceClock is the way of one piece.
type PieceClock struct {
	Batch int           `json:"batch" sym:"B_k"`   // in whose stretch it is cut
	Cut   unit.Duration `json:"cut" sym:"cut_k"`   // scaled, into the overhead proofer
	Out   unit.Duration `json:"out" sym:"out_k"`   // out of it, to the stamper, the moulder or the tray
	Full  unit.Duration `json:"full" sym:"full_k"` // its rack is full: the final proof counts from here
	Oven  unit.Duration `json:"oven" sym:"oven_k"` // into the oven
}

// Finding is something in a day that does not go as it should.
type Finding struct {
	At   string `json:"at"`   // where: "hopper", "oven" or "racks"
	Says string `json:"says"` // what, for how long, and why
}

// ClockResult is the order by the clock.
type ClockResult struct {
	Start      unit.Duration   `json:"start" sym:"t_0"`        // when the first mixing starts, from midnight
	Earliest   unit.Duration   `json:"earliest" sym:"E"`       // when the first work starts, preferments included
	FirstOven  unit.Duration   `json:"first_oven" sym:"t_o"`   // when the first pieces go into the oven
	LastOven   unit.Duration   `json:"last_oven" sym:"t_z"`    // when the last do
	Bottleneck string          `json:"bottleneck"`             // what sets the pace: the limit of the plan's speed
	Batches    []BatchClock    `json:"batches"`                // one for each, in order
	Piece      PieceClock      `json:"piece,omitzero" sym:"-"` // the piece followed, if one was named
	Findings   []Finding       `json:"findings,omitzero"`      // what does not go as it should; left out if nothing waits
	Conditions Conditions      `json:"conditions"`             // rate-limited
	Cautions   reckon.Cautions `json:"cautions"`               // moving-machinery
}

const (
	mostClockBatches = 1000
	latestClock      = unit.Duration(48 * 3600)
)

func (Clock) ID() string { return "line-clock" }

func (q Clock) Check(c *reckon.Checks) {
	Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.under(c, "order")
	given := 0
	for _, t := range [...]struct {
		field string
		at    unit.Duration
	}{{"start", q.Start}, {"oven_at", q.OvenAt}, {"finish_at", q.FinishAt}} {
		if t.at != 0 {
			given++
			reckon.CheckAbove(c, t.field, t.at, latestClock)
		}
	}
	if given != 1 {
		c.Fail("start", strconv.Itoa(given)+" times", "one time: when the first mixing starts, or oven_at, or finish_at")
	}
	if q.Piece != 0 {
		reckon.CheckCount(c, "piece", q.Piece, 1, mostPieces)
	}
}

// Solve has no answer if the plan has none.
func (q Clock) Solve() (ClockResult, error) { return q.Append(nil) }

// Append is Solve with the batches appended to dst.
func (q Clock) Append(dst []BatchClock) (out ClockResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	plan, err := Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	if err != nil {
		nestPlan(&c, "order", err)
		return out, c.Err()
	}
	b := &plan.Batch
	if b.Batches > mostClockBatches {
		c.Fail("order.pieces", strconv.Itoa(q.Order.Pieces), "up to 1000 batches; these are "+strconv.Itoa(b.Batches))
	}
	if q.Piece > b.PiecesMade {
		c.Fail("piece", strconv.Itoa(q.Piece), "one of the "+strconv.Itoa(b.PiecesMade)+" that are made")
	}
	if !c.OK() {
		return out, c.Err()
	}
	r := ran{&q, &plan, 0}
	switch {
	case q.Start != 0:
		r.start = q.Start
	case q.OvenAt != 0:
		r.start = q.OvenAt - r.piece(1).Oven
	default:
		r.start = q.FinishAt - r.piece(b.PiecesMade).Oven
	}
	out = ClockResult{Start: r.start, Earliest: r.start, Bottleneck: plan.StrokesLimit, Cautions: reckon.MovingMachinery}
	for i := 1; i <= b.Batches; i++ {
		k := r.batch(i)
		for _, p := range k.Preferments {
			out.Earliest = min(out.Earliest, p.Start)
		}
		dst = append(dst, k)
	}
	out.Batches = dst
	out.FirstOven, out.LastOven = r.piece(1).Oven, r.piece(b.PiecesMade).Oven
	if q.Piece > 0 {
		out.Piece = r.piece(q.Piece)
	}
	if out.Findings = r.findings(); plan.Times.BatchWait > 0 && b.Batches > 1 {
		out.Conditions |= reckon.RateLimited
	}
	return out, nil
}

// ran is a plan on the clock.
type ran struct {
	q     *Clock
	plan  *PlanResult
	start unit.Duration
}

// at returns the moment at which the machines have run for so long since the first stroke.
func (r *ran) at(run float64) unit.Duration {
	t := &r.plan.Times
	waits := min(float64(r.plan.Batch.Batches-1), math.Floor(run/float64(t.BatchScaling)*(1+hair)))
	return r.start + t.FirstStroke + unit.Duration(run) + unit.Duration(float64(waits*float64(t.BatchWait)))
}

// stroke returns how long the machines have run when a piece is cut.
func (r *ran) stroke(piece int) float64 {
	return float64((piece-1)/r.q.Order.Product.Across) * 60 / float64(r.plan.Strokes)
}

// piece returns the way of a piece, counted from 1 as pieces are cut.
func (r *ran) piece(piece int) PieceClock {
	run := r.stroke(piece)
	k := PieceClock{Batch: 1 + (piece-1)/r.plan.Batch.PiecesPerBatch, Cut: r.at(run), Out: r.at(run + float64(r.plan.Dwell.Dwell))}
	k.Full = r.at(r.stroke(r.lastOnRack(piece)) + float64(r.plan.Dwell.Dwell))
	k.Oven = k.Full + r.q.Order.Product.FinalStay
	return k
}

// lastOnRack returns the piece that fills the rack of a piece; the piece itself where there are no racks.
func (r *ran) lastOnRack(piece int) int {
	per, b := r.q.Order.Product.PerCarrier, &r.plan.Batch
	if per < 1 {
		return piece
	}
	before, most := 0, b.PiecesMade
	if r.plan.Times.BatchWait > 0 && b.Batches > 1 {
		before = (piece - 1) / b.PiecesPerBatch * b.PiecesPerBatch
		most = min(most, before+b.PiecesPerBatch)
	}
	return min(most, before+((piece-1-before)/per+1)*per)
}

// batch returns the moments of a batch, counted from 1.
func (r *ran) batch(i int) BatchClock {
	t, b := &r.plan.Times, &r.plan.Batch
	first, last := (i-1)*b.PiecesPerBatch+1, min(i*b.PiecesPerBatch, b.PiecesMade)
	k := BatchClock{Batch: i, Mix: r.start + unit.Duration(float64(i-1)*float64(t.BatchInterval))}
	k.Mixed = k.Mix + r.q.Shift.Mixer.Mixing
	k.Tip = k.Mixed + r.q.Order.Product.FloorTime
	head, tail := r.piece(first), r.piece(last)
	k.FirstCut, k.FirstOut, k.FirstOven = head.Cut, head.Out, head.Oven
	k.LastCut, k.LastOut, k.LastOven = tail.Cut, tail.Out, tail.Oven
	for j := range r.plan.PrefermentRuns {
		p := &r.plan.PrefermentRuns[j]
		k.Preferments = append(k.Preferments, PrefermentDue{p.Name, k.Mix - p.Before})
	}
	return k
}

// findings tells what does not go as it should.
func (r *ran) findings() (list []Finding) {
	t, o := &r.plan.Times, r.plan
	if t.BatchWait > 0 && o.Batch.Batches > 1 {
		why := "the mixer gives a batch every " + t.BatchInterval.String() + " and the divider scales it in " + t.BatchScaling.String()
		list = append(list,
			Finding{"hopper", "the divider waits for dough for " + t.BatchWait.String() + " after each batch but the last: " + why},
			Finding{"oven", "it waits " + t.BatchWait.String() + " longer than usual for the first pieces of each batch but the first: " + why})
	}
	if most := r.q.Order.Product.HopperMax; o.Hopper.Time > most*(1+hair) {
		list = append(list, Finding{"hopper", "dough stands there up to " + o.Hopper.Time.String() + ", longer than " + most.String()})
	}
	if have := r.q.Line.FinalProof.Available; have > 0 && o.FinalProof.Needed > have {
		list = append(list, Finding{"racks", strconv.Itoa(o.FinalProof.Needed) + " are needed and there are " + strconv.Itoa(have) + ": the line waits for racks"})
	}
	return slices.Clip(list)
}
