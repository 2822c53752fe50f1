package line

import (
	"cmp"
	"slices"
	"sort"

	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// Buffer is what stands at one station of the way while an order goes through.
type Buffer struct {
	Station  string        `json:"station"`   // "mixer", "floor", "hopper", "overhead proofer", "rack being filled", "final proof", "before the oven" or "oven"
	Most     int           `json:"most"`      // most pieces, or dough for so many, at once
	MostAt   unit.Duration `json:"most_at"`   // when there are so many for the first time, from midnight
	Mean     float64       `json:"mean"`      // pieces on average, from when the first comes until the last has gone
	MeanStay unit.Duration `json:"mean_stay"` // of a piece
}

// Station is the pieces that are at one station at a moment.
type Station struct {
	Order      string `json:"order,omitzero"` // whose, if there are several
	Station    string `json:"station"`        // as in buffers
	FirstPiece int    `json:"first_piece"`    // of the pieces as they are scaled
	LastPiece  int    `json:"last_piece"`     // the last of them: all between are there too
}

// standsAt is the stations in the order in which every piece passes them, each from one passage to the next.
var standsAt = [...]string{
	atMix: "mixer", atMixed: "floor", atTip: "hopper", atCut: "overhead proofer", atOut: "rack being filled",
	atFull: "final proof", atProofed: "before the oven", atOven: "oven",
}

// soon is how long a piece that is just leaving still counts: what binary arithmetic leaves over.
const soon unit.Duration = 1e-3

// station says where a piece is at a moment.
func (r *ran) station(piece int, at unit.Duration) string {
	last := atBaked
	for ; last >= atMix && r.when(last, piece) > at; last-- {
	}
	switch {
	case last < atMix:
		return "not mixed yet"
	case last == atBaked && r.q.Order.Product.Baking.Time > 0:
		return "baked"
	case last == atBaked:
		return "proofed"
	}
	return standsAt[last]
}

// come returns how many pieces have come to a passage by a moment, that moment included.
func (r *ran) come(p passage, at unit.Duration) int {
	return sort.Search(r.plan.Batch.PiecesMade, func(i int) bool { return r.when(p, i+1) > at })
}

// stations appends what is where at a moment.
func (r *ran) stations(dst []Station, order string, at unit.Duration) []Station {
	left := r.come(atBaked, at)
	for p := atOven; p >= atMix; p-- {
		// Pieces of one stroke may be of two batches: the second is cut with the first.
		came := max(left, r.come(p, at))
		if came > left {
			dst = append(dst, Station{order, standsAt[p], left + 1, came})
		}
		left = came
	}
	return dst
}

// buffers counts what stands at each station.
func (r *ran) buffers() []Buffer {
	n := r.plan.Batch.PiecesMade
	list := make([]Buffer, 0, len(standsAt))
	before := r.sum(atMix)
	for p := range atBaked {
		after := r.sum(p + 1)
		stay := after - before
		before = after
		if stay <= float64(n)*float64(soon) {
			continue // nothing stands there
		}
		k := Buffer{Station: standsAt[p], MeanStay: unit.Duration(stay / float64(n))}
		k.Mean = stay / float64(r.when(p+1, n)-r.when(p, 1))
		r.most(&k, p)
		list = append(list, k)
	}
	return list
}

// most finds the most pieces at once at the station behind a passage.
func (r *ran) most(k *Buffer, p passage) {
	look := func(at unit.Duration, level int) {
		if level > k.Most || level == k.Most && at < k.MostAt-soon { // moments are not looked at in their order
			k.Most, k.MostAt = level, at
		}
	}
	standing := func(at unit.Duration) int { return r.come(p, at) - r.come(p+1, at+soon) }
	switch p {
	case atMix, atMixed, atTip:
		if p == atTip {
			standing = func(at unit.Duration) int { return r.come(p, at) - r.come(p+1, at-soon) } // before the first piece is cut
		}
		for i := range r.plan.Batch.Batches {
			at := r.when(p, i*r.plan.Batch.PiecesPerBatch+1)
			look(at, standing(at))
		}
	case atCut:
		// It moves with the divider, waits or not: as many as in a run without a wait.
		full := r.plan.Clear.Stranded
		look(r.when(atCut, full), full)
	case atOut:
		for first := 1; first <= r.plan.Batch.PiecesMade; {
			last := r.lastOnRack(first)
			look(r.when(atFull, last), last-first+1) // with the one that fills it
			first = last + 1
		}
	case atProofed:
		for i := range r.loads {
			ready, in := r.start+r.loads[i].Ready, r.start+r.loads[i].In
			look(ready, standing(ready))
			// Just before it goes in, since the last of them came.
			if came := r.come(p, in-soon-soon); came > 0 {
				look(r.when(p, came), came-r.come(p+1, in-soon))
			}
		}
	default:
		r.bursts(p, func(first, last int) {
			at := r.when(p, last)
			look(at, standing(at))
			// Just before the first of them leaves.
			at = r.when(p+1, first) - soon
			came := r.come(p, at)
			look(r.when(p, came), came-r.come(p+1, at))
		})
	}
}

// bursts visits the pieces that come to final proof or oven together or one after the other, without a wait.
func (r *ran) bursts(p passage, visit func(first, last int)) {
	n := r.plan.Batch.PiecesMade
	if p == atOven && len(r.loads) > 0 {
		for i := range r.loads {
			visit(r.loads[i].FirstPiece, r.loads[i].LastPiece)
		}
		return
	}
	for first := 1; first <= n; {
		last := n
		switch {
		case r.onRacks():
			last = r.lastOnRack(first)
		case r.waits():
			last = r.beforeWait(first)
		}
		visit(first, last)
		first = last + 1
	}
}

// beforeWait returns the last piece that leaves the overhead proofer before the machines wait again.
func (r *ran) beforeWait(piece int) int {
	waited := func(k int) float64 { return r.waited(r.stroke(k) + float64(r.plan.Dwell.Dwell)) }
	same := waited(piece)
	return piece - 1 + sort.Search(r.plan.Batch.PiecesMade-piece+1, func(i int) bool { return waited(piece+i) > same })
}

// sum returns the times of all pieces at a passage, added up, from the start.
func (r *ran) sum(p passage) float64 {
	n, product := float64(r.plan.Batch.PiecesMade), &r.q.Order.Product
	switch p {
	case atMix, atMixed, atTip:
		all, b := 0.0, &r.plan.Batch
		for first := 1; first <= b.PiecesMade; first += b.PiecesPerBatch {
			all += float64(float64(min(b.PiecesPerBatch, b.PiecesMade-first+1)) * float64(r.when(p, first)-r.start))
		}
		return all
	case atCut:
		return r.sumOfRuns(0)
	case atOut:
		return r.sumOfRuns(float64(r.plan.Dwell.Dwell))
	case atFull:
		if !r.onRacks() {
			return r.sum(atOut)
		}
		all := 0.0
		r.bursts(atFull, func(first, last int) { all += float64(float64(last-first+1) * float64(r.when(atFull, last)-r.start)) })
		return all
	case atProofed:
		return r.sum(atFull) + float64(n*float64(product.FinalStay))
	case atOven:
		if len(r.loads) == 0 {
			return r.sum(atProofed)
		}
		all := 0.0
		for i := range r.loads {
			k := &r.loads[i]
			all += float64(float64(k.LastPiece-k.FirstPiece+1) * float64(r.when(atOven, k.FirstPiece)+r.when(atOven, k.LastPiece)-r.start-r.start) / 2)
		}
		return all
	}
	return r.sum(atOven) + float64(n*float64(product.Baking.Time))
}

// sumOfRuns adds up, over all pieces, the moment so long of running after the piece was cut.
func (r *ran) sumOfRuns(after float64) float64 {
	across, n := r.q.Order.Product.Across, r.plan.Batch.PiecesMade
	strokes, beat := (n+across-1)/across, 60/float64(r.plan.Strokes)
	moment := func(stroke int) float64 { return float64(r.at(r.stroke(stroke*across+1)+after) - r.start) }
	waited := func(stroke int) float64 { return r.waited(r.stroke(stroke*across+1) + after) }
	all := 0.0
	for first := 0; first < strokes; {
		same := waited(first)
		next := first + sort.Search(strokes-first, func(i int) bool { return waited(first+i) > same })
		m := float64(next - first)
		all += float64(float64(across) * (float64(m*moment(first)) + float64(beat*m*(m-1)/2)))
		first = next
	}
	// The last stroke may drop fewer.
	return all - float64(float64(strokes*across-n)*moment(strokes-1))
}

// rackSpan is for how long a rack is taken.
type rackSpan struct{ from, to unit.Duration }

// countsRacks reports whether the final proof has racks or boxes that are taken and come back.
func (r *ran) countsRacks() bool {
	p, f := &r.q.Order.Product, &r.q.Line.FinalProof
	return p.FinalStay != 0 && p.PerCarrier != 0 && f.Carrier != proof.CarrierContinuous
}

// racks appends for how long each rack or box of the final proof is taken.
func (r *ran) racks(dst []rackSpan) []rackSpan {
	if !r.countsRacks() {
		return dst
	}
	p, f := &r.q.Order.Product, &r.q.Line.FinalProof
	back := atOven
	if p.inRacks(&r.q.Line) > 0 {
		back = atBaked
	}
	b := &r.plan.Batch
	for first := 1; first <= b.PiecesMade; {
		last := r.lastOf(first, p.PerCarrier)
		from := r.when(atOut, first)
		if first > 1 && (!r.waits() || (first-1)%b.PiecesPerBatch != 0) {
			from = r.when(atOut, first-1) // it stands ready as the one before is full
		}
		dst = append(dst, rackSpan{from, r.when(back, last) + f.Handling})
		first = last + 1
	}
	return dst
}

// RackUse is how many racks or boxes of the final proof are taken.
type RackUse struct {
	Most      int           `json:"most"`                // at once
	MostAt    unit.Duration `json:"most_at"`             // when there are so many for the first time, from midnight
	ShortBy   int           `json:"short_by,omitzero"`   // so many more than there are
	ShortFrom unit.Duration `json:"short_from,omitzero"` // when the first one is wanting
	Levels    []RackLevel   `json:"levels,omitzero"`     // from change to change, if they were asked for
}

// RackLevel is how many racks are taken from a moment on.
type RackLevel struct {
	At    unit.Duration `json:"at"`    // from midnight
	Racks int           `json:"racks"` // taken from then on
}

// rackUse counts how many are taken at once; one that is back at the very moment is in time.
func rackUse(spans []rackSpan, available int, levels bool) (u RackUse) {
	back := make([]unit.Duration, len(spans))
	slices.SortFunc(spans, func(a, b rackSpan) int { return cmp.Compare(a.from, b.from) })
	for i := range spans {
		back[i] = spans[i].to
	}
	slices.Sort(back)
	taken, free := 0, 0
	level := func(at unit.Duration) {
		if n := len(u.Levels); n > 0 && u.Levels[n-1].At >= at-soon {
			u.Levels[n-1].Racks = taken
		} else if levels {
			u.Levels = append(u.Levels, RackLevel{at, taken})
		}
	}
	giveBack := func(until unit.Duration) {
		for ; free < len(back) && back[free] <= until; free++ {
			taken--
			level(back[free])
		}
	}
	for i := range spans {
		giveBack(spans[i].from + soon)
		taken++
		level(spans[i].from)
		if taken > u.Most {
			u.Most, u.MostAt = taken, spans[i].from
		}
		if available > 0 && taken == available+1 && u.ShortBy == 0 {
			u.ShortBy, u.ShortFrom = 1, spans[i].from
		}
	}
	giveBack(unit.Duration(1e18))
	if available > 0 {
		u.ShortBy = max(0, u.Most-available)
	}
	return u
}
