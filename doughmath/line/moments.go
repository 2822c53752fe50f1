package line

import (
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// ran is a plan on the clock.
type ran struct {
	q     *Clock
	plan  *PlanResult
	start unit.Duration
	loads []OvenLoad // counted from the first mixing; nil where pieces go into the oven as they are proofed
}

// check refuses more than can be followed on the clock; order is the path of the order.
func (r *ran) check(c *reckon.Checks, order string) {
	b, p := &r.plan.Batch, &r.q.Order.Product
	if b.Batches > mostClockBatches {
		c.Fail(order+".pieces", strconv.Itoa(r.q.Order.Pieces), "up to 1000 batches; these are "+strconv.Itoa(b.Batches))
	}
	if n := b.PiecesMade/max(1, p.PerCarrier) + b.Batches; r.countsRacks() && n > mostClockRacks {
		c.Fail(order+".product.per_carrier", strconv.Itoa(p.PerCarrier), "more pieces in each: these are "+strconv.Itoa(n)+" to follow, and 100000 is the most")
	} else if r.countsRacks() && r.q.Levels && n > mostLevelRacks {
		c.Fail("levels", "true", "nothing: there are "+strconv.Itoa(n)+" racks, and 10000 is the most to list")
	}
	if per := r.perLoad(); per > 0 && b.PiecesMade/per+b.Batches > mostLoads {
		c.Fail(order+".product.baking.per_load", strconv.Itoa(per), "more pieces in each: these are "+strconv.Itoa(b.PiecesMade/per+b.Batches)+" loads to follow, and 10000 is the most")
	}
}

const (
	mostClockRacks = 100_000
	mostLevelRacks = 10_000
	mostLoads      = 10_000
)

// at returns the moment at which the machines have run for so long since the first stroke.
func (r *ran) at(run float64) unit.Duration {
	t := &r.plan.Times
	return r.start + t.FirstStroke + unit.Duration(run) + unit.Duration(float64(r.waited(run)*float64(t.BatchWait)))
}

// waited returns how often the machines have waited by then.
func (r *ran) waited(run float64) float64 {
	return min(float64(r.plan.Batch.Batches-1), math.Floor(run/float64(r.plan.Times.BatchScaling)*(1+hair)))
}

// stroke returns how long the machines have run when a piece is cut.
func (r *ran) stroke(piece int) float64 {
	return float64((piece-1)/r.q.Order.Product.Across) * 60 / float64(r.plan.Strokes)
}

// piece returns the way of a piece, counted from 1 as pieces are cut.
func (r *ran) piece(piece int) PieceClock {
	k := PieceClock{Batch: r.batchOf(piece), Cut: r.when(atCut, piece), Out: r.when(atOut, piece), Full: r.when(atFull, piece)}
	k.Proofed = k.Full + r.q.Order.Product.FinalStay
	k.Oven = k.Proofed
	if len(r.loads) > 0 {
		k.Oven = r.intoOven(piece)
	}
	if bake := r.q.Order.Product.Baking.Time; bake > 0 {
		k.Baked = k.Oven + bake
	}
	return k
}

func (r *ran) batchOf(piece int) int { return 1 + (piece-1)/r.plan.Batch.PiecesPerBatch }

// A passage is a moment in the way of every piece.
type passage int

// The passages, in their order. Pieces come to each in the order in which they are cut.
const (
	atMix passage = iota
	atMixed
	atTip
	atCut
	atOut
	atFull
	atProofed
	atOven
	atBaked
)

// when returns when a piece comes to a passage.
func (r *ran) when(p passage, piece int) unit.Duration {
	product := &r.q.Order.Product
	switch p {
	case atMix:
		return r.start + unit.Duration(float64(r.batchOf(piece)-1)*float64(r.plan.Times.BatchInterval))
	case atMixed:
		return r.when(atMix, piece) + r.q.Shift.Mixer.Mixing
	case atTip:
		return r.when(atMixed, piece) + product.FloorTime
	case atCut:
		return r.at(r.stroke(piece))
	case atOut:
		return r.at(r.stroke(piece) + float64(r.plan.Dwell.Dwell))
	case atFull:
		return r.when(atOut, r.lastOnRack(piece))
	case atProofed:
		return r.when(atFull, piece) + product.FinalStay
	case atOven:
		if len(r.loads) > 0 {
			return r.intoOven(piece)
		}
		return r.when(atProofed, piece)
	default:
		return r.when(atOven, piece) + product.Baking.Time
	}
}

// waits reports whether the divider waits for dough.
func (r *ran) waits() bool { return r.plan.Times.BatchWait > 0 && r.plan.Batch.Batches > 1 }

// onRacks reports whether the pieces of a rack wait for the last one on it.
func (r *ran) onRacks() bool {
	return r.q.Order.Product.PerCarrier > 0 && r.q.Line.FinalProof.Carrier == proof.CarrierRack
}

// lastOnRack returns the piece that fills the rack of a piece; the piece itself where there are no racks.
func (r *ran) lastOnRack(piece int) int {
	if !r.onRacks() {
		return piece
	}
	return r.lastOf(piece, r.q.Order.Product.PerCarrier)
}

// lastOf returns the last of the pieces that are put together with a piece, so many at a time. Where the divider waits, each batch begins anew.
func (r *ran) lastOf(piece, per int) int {
	b := &r.plan.Batch
	before, most := 0, b.PiecesMade
	if r.waits() {
		before = (piece - 1) / b.PiecesPerBatch * b.PiecesPerBatch
		most = min(most, before+b.PiecesPerBatch)
	}
	return min(most, before+((piece-1-before)/per+1)*per)
}

// batch returns the moments of a batch, counted from 1.
func (r *ran) batch(i int) BatchClock {
	b := &r.plan.Batch
	first, last := (i-1)*b.PiecesPerBatch+1, min(i*b.PiecesPerBatch, b.PiecesMade)
	k := BatchClock{Batch: i, Mix: r.when(atMix, first), Mixed: r.when(atMixed, first), Tip: r.when(atTip, first)}
	head, tail := r.piece(first), r.piece(last)
	k.FirstCut, k.FirstOut, k.FirstOven = head.Cut, head.Out, head.Oven
	k.LastCut, k.LastOut, k.LastOven = tail.Cut, tail.Out, tail.Oven
	for j := range r.plan.PrefermentRuns {
		if p := &r.plan.PrefermentRuns[j]; r.q.Order.Product.PrefermentMixes[j].Keeps == 0 {
			k.Preferments = append(k.Preferments, PrefermentDue{p.Name, k.Mix - p.Before})
		}
	}
	return k
}

// lots lists the preferments that keep: each lot serves all batches that are mixed while it does.
func (r *ran) lots() (list []PrefermentLot) {
	for j := range r.plan.PrefermentRuns {
		keeps := r.q.Order.Product.PrefermentMixes[j].Keeps
		if keeps == 0 {
			continue
		}
		p := &r.plan.PrefermentRuns[j]
		var from unit.Duration
		for i := 1; i <= r.plan.Batch.Batches; i++ {
			mix := r.start + unit.Duration(float64(i-1)*float64(r.plan.Times.BatchInterval))
			if n := len(list); i > 1 && mix-from <= keeps*(1+hair) {
				list[n-1].LastBatch = i
				continue
			}
			from = mix
			list = append(list, PrefermentLot{p.Name, mix - p.Before, i, i})
		}
	}
	return slices.Clip(list)
}

// write writes down the order by the clock, with its batches appended to dst.
func (r *ran) write(out *ClockResult, dst []BatchClock) {
	b, p := &r.plan.Batch, &r.q.Order.Product
	*out = ClockResult{Start: r.start, Earliest: r.start, Bottleneck: r.plan.StrokesLimit, Cautions: reckon.MovingMachinery, Lots: r.lots()}
	for i := 1; i <= b.Batches; i++ {
		k := r.batch(i)
		for _, p := range k.Preferments {
			out.Earliest = min(out.Earliest, p.Start)
		}
		dst = append(dst, k)
	}
	for i := range out.Lots {
		out.Earliest = min(out.Earliest, out.Lots[i].Start)
	}
	out.Batches = dst
	out.FirstOven, out.LastOven = r.piece(1).Oven, r.piece(b.PiecesMade).Oven
	out.Loads = r.ovenLoads()
	if o := &r.q.Line.Oven; o.Belt > 0 && p.baked(&r.q.Line) {
		out.OvenBelt = unit.Speed(float64(o.Belt) / float64(p.Baking.Time))
	}
	out.Buffers = r.buffers()
	spans := r.racks(nil)
	out.Racks = rackUse(spans, r.q.Line.FinalProof.Available, r.q.Levels)
	if out.Racks.ShortBy > 0 {
		out.Conditions |= RacksShort
	}
	if r.waits() {
		out.Conditions |= reckon.RateLimited
	}
	if p.Baking.Time > 0 {
		out.Cautions |= reckon.HotOven
	}
	if len(r.plan.PrefermentRuns) > 0 {
		out.Cautions |= reckon.Spoilage
	}
	out.Findings = r.findings(&out.Racks)
}
