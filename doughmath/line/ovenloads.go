package line

import (
	"slices"
	"sort"

	"example.com/dough/doughmath/unit"
)

// OvenLoad is what goes into the oven together: onto a deck, into a chamber, or, of a tunnel, from one rack.
type OvenLoad struct {
	Load       int           `json:"load"`                  // counted from 1
	FirstPiece int           `json:"first_piece" sym:"y_#"` // of the pieces as they are scaled
	LastPiece  int           `json:"last_piece" sym:"l_#"`  // the last of them
	Ready      unit.Duration `json:"ready" sym:"rdy_#"`     // the last of its pieces is proofed
	In         unit.Duration `json:"in" sym:"in_#"`         // into the oven; of a tunnel, the first piece
	Out        unit.Duration `json:"out" sym:"done_#"`      // baked; of a tunnel, the last piece
}

// perLoad is how many pieces go in as one load: what fills a place, or, of a tunnel, one rack. 0 where
// pieces go in as they are proofed.
func (r *ran) perLoad() int {
	p, l := &r.q.Order.Product, &r.q.Line
	switch {
	case !p.baked(l):
		return 0
	case l.Oven.Kind != TunnelOven:
		return p.Baking.PerLoad
	case r.onRacks():
		return p.PerCarrier
	}
	return 0 // the plan is no faster than the belt
}

// each is how long a tunnel's belt takes to move on by one piece.
func (r *ran) each() float64 {
	b := &r.q.Order.Product.Baking
	return float64(b.Time) / float64(b.PerLoad)
}

// bake puts the pieces into the oven, load by load, each as soon as it is ready and a place is free. Times count from the first mixing.
func (r *ran) bake() {
	per := r.perLoad()
	if per == 0 {
		return
	}
	n := r.plan.Batch.PiecesMade
	for first := 1; first <= n; {
		k := OvenLoad{Load: len(r.loads) + 1, FirstPiece: first, LastPiece: r.lastOf(first, per)}
		k.Ready = r.when(atProofed, k.LastPiece)
		k.In = max(k.Ready, r.free(len(r.loads)))
		k.Out = k.In + r.q.Order.Product.Baking.Time
		if r.q.Line.Oven.Kind == TunnelOven {
			k.Out += unit.Duration(float64(k.LastPiece-k.FirstPiece) * r.each())
		}
		r.loads = append(r.loads, k)
		first = k.LastPiece + 1
	}
}

// free returns when there is room for a load, counted from 0, by the loads before it.
func (r *ran) free(load int) unit.Duration {
	o := &r.q.Line.Oven
	before := load - o.places()
	if before < 0 {
		return unit.Duration(-1e12)
	}
	k := &r.loads[before]
	if o.Kind == TunnelOven {
		return k.In + unit.Duration(float64(k.LastPiece-k.FirstPiece+1)*r.each())
	}
	return k.Out + o.Loading
}

// loadOf returns the load of a piece.
func (r *ran) loadOf(piece int) *OvenLoad {
	return &r.loads[sort.Search(len(r.loads)-1, func(i int) bool { return r.loads[i].LastPiece >= piece })]
}

// intoOven returns when a piece goes into the oven.
func (r *ran) intoOven(piece int) unit.Duration {
	k := r.loadOf(piece)
	in := r.start + k.In
	if r.q.Line.Oven.Kind == TunnelOven {
		in += unit.Duration(float64(piece-k.FirstPiece) * r.each())
	}
	return in
}

// ovenLoads are the loads by the clock.
func (r *ran) ovenLoads() []OvenLoad {
	list := slices.Clone(r.loads)
	for i := range list {
		k := &list[i]
		k.Ready, k.In, k.Out = k.Ready+r.start, k.In+r.start, k.Out+r.start
	}
	return list
}

// baked returns when the last piece is baked.
func (r *ran) baked() (last unit.Duration) {
	if len(r.loads) == 0 {
		return r.when(atBaked, r.plan.Batch.PiecesMade)
	}
	return r.start + r.loads[len(r.loads)-1].Out
}

// behind returns how much later than another order this one must begin its first mixing, each on a clock of its own, so that none of its loads waits for a place
// that the other's take; 0 if none does.
func (r *ran) behind(before *ran) (later unit.Duration) {
	for i := range min(len(r.loads), r.q.Line.Oven.places()) {
		later = max(later, before.free(len(before.loads)+i)-r.loads[i].In)
	}
	return later
}
