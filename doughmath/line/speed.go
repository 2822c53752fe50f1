package line

import (
	"math"
	"slices"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// speed: what every machine allows, as divider strokes, and the fastest of it.
func (r *run) speed() {
	p, d := r.product, &r.line.Divider
	var limits [2]proof.StrokeLimit
	limits[0].Name, limits[0].Low, limits[0].High = "divider", d.StrokesLow, d.StrokesHigh
	n := 1
	// The moulder, the oven and the belts count pieces, whatever the number across.
	var rates [3]proof.RateLimit
	m := 0
	switch {
	case r.stamped && !r.has.stamper:
		r.c.Fail("order.product.route", `"stamper"`, "a route that the line has: it has no stamper")
	case r.stamped && r.line.Stamper.Mode == molder.OffStamp:
		r.c.Fail("order.product.route", `"stamper"`, "a route that is on: the line's stamper is off; set line.stamper.mode to continuous or timed")
	case r.moulded && !r.has.moulder:
		r.c.Fail("order.product.route", `"moulder"`, "a route that the line has: it has no moulder")
	case r.stamped:
		// One stamp for each row.
		limits[1].Name, limits[1].Low, limits[1].High = "stamper", r.line.Stamper.StampsLow, r.line.Stamper.StampsHigh
		n++
	case r.moulded:
		rates[0].Name, rates[0].High = "moulder", r.line.Moulder.RateHigh
		m++
	}
	if oven := r.ovenRate(); p.RateHigh > 0 || oven > 0 {
		rates[m].Name, rates[m].High = "oven", p.RateHigh
		if p.RateHigh == 0 || oven > 0 && oven < p.RateHigh {
			rates[m].High = oven
		}
		m++
	}
	if r.ready() {
		if slowest, most := r.slowestBelt(); slowest != nil {
			rates[m].Name, rates[m].High = slowest.Name, most
			m++
		}
	}
	ask := func(q *proof.Speed) {
		q.Proofer, q.Across, q.DwellLow, q.DwellHigh = r.line.Proofer, p.Across, p.DwellLow, p.DwellHigh
	}
	// The line itself checks the machines' limits.
	at := func() places {
		return places{{"proofer", "line.proofer"}, {"limits", "~line"}, {"rates", "~line"}, {"", "order.product."}}
	}
	if !r.ready() {
		var bare proof.Speed
		ask(&bare)
		r.tell(at, bare.Check)
		return
	}
	var q proof.Speed
	ask(&q)
	q.Limits, q.Rates = limits[:n], rates[:m]
	var err error
	if err = q.SolveInto(&r.out.Speed); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		var shown proof.Speed
		ask(&shown)
		shown.Limits, shown.Rates = slices.Clone(q.Limits), slices.Clone(q.Rates) // the arrays above stay off the heap
		r.w.Heading("Speed")
		shown.Show(r.w, r.out.Speed)
	}
}

// setSpeed: the speed to set while no batch is known, and the rate at it.
func (r *run) setSpeed() {
	if !r.ready() {
		return
	}
	if r.strokes(); r.ready() {
		r.rate()
	}
}

// slowestBelt finds the belt that takes the fewest pieces: on it they would
// come to lie too close first. A belt that is geared to the line never limits
// it: its pieces lie as far apart at any speed.
func (r *run) slowestBelt() (slowest *Belt, most unit.PieceRate) {
	r.w.Heading("What the belts carry")
	for i := range r.line.Belts {
		b := &r.line.Belts[i]
		if !r.over(b) {
			continue
		}
		length, files, uneven := r.on(b)
		if !r.checkBelt(i, length+b.LeastGap, files, uneven) || b.AdvancePerStroke != 0 {
			continue
		}
		// The belt that one row takes, from the first piece in file to the first of the next.
		row := files * float64(length+b.LeastGap)
		if uneven {
			row = float64((files-1)*float64(b.MergePitch)) + float64(length+b.LeastGap)
		}
		rate := unit.PieceRate(float64(b.BeltSpeed) * 60 / row * float64(r.product.Across))
		if r.w != nil {
			r.w.Carried("belt "+b.Name+", speed", "v", float64(b.BeltSpeed), "mm/s")
			r.w.Carried("length or diameter of a piece on it", "D", float64(length), "mm")
			r.w.Carried("pieces of a row that follow in file", "f", files, "")
			r.w.Carried("smallest gap", "g", float64(b.LeastGap), "mm")
			r.w.Carried("pieces in a row", "a", float64(r.product.Across), "")
			if uneven {
				r.w.Carried("from piece to piece of a row, where the lanes merge", "o", float64(b.MergePitch), "mm")
				r.w.Lines(nil, "most pieces on it: P_b = v*60{s/min}/((f - 1)*o + D + g)*a in pieces/min  [a row, a gap and the next row]")
			} else {
				r.w.Lines(nil, "most pieces on it: P_b = v*60{s/min}/(f*(D + g))*a in pieces/min  [one piece and one gap after the other]")
			}
		}
		if slowest == nil || rate < most {
			slowest, most = b, rate
		}
	}
	return slowest, most
}

// checkBelt refuses a belt of the product's route on which no speed of the line
// keeps the pieces apart, each with its gap at least so long.
func (r *run) checkBelt(i int, least unit.Length, files float64, uneven bool) bool {
	b := &r.line.Belts[i]
	mark := r.c.Mark()
	if r.moulded && b.Place == "" {
		r.c.Fail("place", "missing", `"before-moulder" or "behind-moulder": this product is moulded`)
	}
	switch {
	case uneven && b.MergePitch == 0:
		r.c.Fail("merge_pitch", "missing", "how far apart the pieces of a row come to lie where the lanes merge, or even_merge if they follow evenly")
	case uneven && b.MergePitch < least*(1-1e-9):
		r.c.Fail("merge_pitch", b.MergePitch.String(), "at least "+least.String()+", one piece and its gap: no speed parts the pieces of one row")
	}
	if b.AdvancePerStroke != 0 {
		need := unit.Length(files) * least
		if uneven {
			need = unit.Length((files-1)*float64(b.MergePitch)) + least
		}
		if b.AdvancePerStroke < need*(1-1e-9) {
			r.c.Fail("advance_per_stroke", b.AdvancePerStroke.String(), "at least "+need.String()+" for these pieces: geared to the line, it holds them as close at any speed")
		}
	}
	r.c.Item(mark, "line.belts", i)
	return r.c.Mark() == mark
}

// over reports whether this product runs over a belt.
func (r *run) over(b *Belt) bool {
	switch b.Route {
	case "":
		return true
	case ToMoulder:
		return r.moulded
	case ToStamper:
		return r.stamped
	}
	return b.Route == r.product.Route
}

// on returns how the pieces of a row lie on a belt: how long each is, how many follow one
// another on its fullest file, and whether lanes merge on it whose pieces are not said to follow evenly.
func (r *run) on(b *Belt) (length unit.Length, files float64, uneven bool) {
	length, files = r.out.Drum.Diameter, 1
	if r.moulded && b.Place == BehindMoulder {
		length = r.product.Length
	}
	if across := r.product.Across; b.Across < across {
		files, uneven = float64((across+b.Across-1)/b.Across), !b.EvenMerge
	}
	return length, files, uneven
}

// pitch returns how far apart the two closest pieces on a belt lie, at the speed set.
func (r *run) pitch(b *Belt, files float64, uneven bool) unit.Length {
	row := b.AdvancePerStroke
	if row == 0 {
		row = unit.Length(float64(b.BeltSpeed) * 60 / float64(r.out.Strokes))
	}
	if uneven {
		return min(b.MergePitch, row-unit.Length((files-1)*float64(b.MergePitch)))
	}
	return row / unit.Length(files)
}

// strokes: the fastest speed that the setting has a step for.
func (r *run) strokes() {
	o, step := r.out, r.line.Divider.StrokeStep
	o.Strokes, o.StrokesLimit = o.Speed.High, o.Speed.HighLimit
	if step > 0 {
		o.Strokes = unit.StrokeRate(math.Floor(float64(o.Speed.High)/float64(step)+1e-9) * float64(step))
	}
	if r.w != nil {
		r.w.Carried("fastest that everything allows", "S_top", float64(o.Speed.High), "strokes/min")
		if step > 0 {
			r.w.Carried("step of the speed setting", "q", float64(step), "strokes/min")
			r.w.Lines(*o, "speed to set: S_set = floor(S_top/q)*q  [rounded down to a step]")
		} else {
			r.w.Lines(*o, "speed to set: S_set = S_top  [the setting is stepless]")
		}
	}
	if o.Strokes < o.Speed.Low {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "step of the divider's speed", Wanted: "a speed that everything allows",
			Low: o.Speed.Low.String(), High: o.Speed.High.String(), Advice: "the step of " + step.String() + " skips that range; ask whether the drive can be set finer",
		})
		return
	}
	if o.Strokes != o.Speed.High {
		o.Conditions |= reckon.Rounded
	}
}

// rate: pieces and dough at the speed set.
func (r *run) rate() {
	var q divider.Rate
	q.Strokes, q.Across, q.Piece = r.out.Strokes, r.product.Across, r.out.Target
	if err := q.SolveInto(&r.out.Rate); r.settled(err, all("~order.product.")) && r.w != nil {
		r.w.Heading("Rate")
		q.Show(r.w, r.out.Rate)
	}
}

// pocket: whether the grown piece fits the proofer's pocket. One that does not
// would stick to the wall and leave late, on the next piece.
func (r *run) pocket() {
	k := r.product.Pocketed
	if k == nil {
		return
	}
	p := r.product
	q := proof.PocketFit{Pocket: r.line.Pocket, Piece: r.out.Target, Density: p.Density, Growth: k.Growth, Flatness: k.Flatness, Measured: k.Measured}
	at := func() places {
		return places{
			{"pocket", "line.pocket"}, {"piece", "~order.product.baked"}, {"density", "order.product.density"}, {"", "order.product.pocketed."},
		}
	}
	if !r.has.pocket { // which the order has told; its values are looked at all the same
		r.tell(func() places {
			return places{{"pocket", "~line.pocket"}, {"piece", "~order.product.baked"}, {"density", "~order.product.density"}, {"", "order.product.pocketed."}}
		}, q.Check)
		return
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Pocket, err = q.Solve(); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		r.w.Heading("Pocket of the overhead proofer")
		q.Show(r.w, r.out.Pocket)
	}
	if r.out.Pocket.Conditions.Has(proof.PocketTooSmall) {
		most, _ := proof.PieceForPocket{Pocket: q.Pocket, Density: q.Density, Growth: q.Growth, Flatness: q.Flatness}.Solve()
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "pocket of the overhead proofer",
			Wanted: "room for a piece of " + q.Piece.String() + ", which grows to " + r.out.Pocket.Diameter.String() + " (pocket " + q.Pocket.Width.String() + ", least gap " + q.Pocket.Gap.String() + ")",
			Advice: "it takes pieces up to " + most.Piece.String() + "; make this one on a line with larger pockets, or let it grow less, cooler or for a shorter time",
		})
	}
}

// proofer: passes, dwell and how it fills and empties.
func (r *run) proofer() {
	if !r.ready() {
		return // the speed has said what is wrong with it
	}
	var err error
	at := func() places {
		return places{{"pieces", "order.pieces"}, {"across", "order.product.across"}, {"", "line."}}
	} // made in whole batches, there are more pieces
	var dwell proof.Dwell
	dwell.Proofer, dwell.Across, dwell.Strokes = r.line.Proofer, r.product.Across, r.out.Strokes
	if err = dwell.SolveInto(&r.out.Dwell); !r.settled(err, at) {
		return
	}
	var clear proof.Clear
	clear.Proofer, clear.Across, clear.Strokes = r.line.Proofer, r.product.Across, r.out.Strokes
	clear.Pieces = r.out.Batch.PiecesMade
	if err = clear.SolveInto(&r.out.Clear); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		r.w.Heading("Overhead proofer")
		dwell.Show(r.w, r.out.Dwell)
		clear.Show(r.w, r.out.Clear)
	}
	r.waits()
}

// waits: how long the divider waits for dough between batches, and the proofer
// with it, so that the pieces inside stay longer.
func (r *run) waits() {
	o := r.out
	t := &o.Times
	_, _, met := r.wait(o.batched(), o.Strokes, o.Dwell.Dwell)
	o.LongestDwell = o.Dwell.Dwell + unit.Duration(float64(met*float64(t.BatchWait)))
	if w := r.w; w != nil {
		w.Heading("Waits between batches")
		w.Carried("pieces per batch", "n_b", float64(o.Batch.PiecesPerBatch), "")
		w.Carried("pieces a minute", "P", float64(o.Rate.PieceRate), "pieces/min")
		w.Carried("mixer, from batch to batch", "t_c", float64(r.shift.Mixer.Cycle), "s")
		w.Carried("batches", "b", float64(o.Batch.Batches), "")
		w.Carried("dwell, while the machines run", "t", float64(o.Dwell.Dwell), "s")
		w.Carried("divider speed", "S_set", float64(o.Strokes), "strokes/min")
		w.Carried("pieces across", "a", float64(r.product.Across), "")
		w.Lines(*o, "scaling one batch: t_s = n_b*60{s/min}/(S_set*a)  [waste is lost before the divider and takes no strokes]")
		if t.BatchWait > 0 {
			w.Lines(*o, "from batch to batch: t_b = t_c  [the mixer is slower than the divider]")
		} else {
			w.Lines(*o, "from batch to batch: t_b = t_s  [the mixer keeps up]")
		}
		w.Lines(*o,
			"wait between batches: t_w = t_b - t_s  [divider and proofer stand together]",
			"most waits that one piece meets: k = min(b - 1, ceil(t/t_s))",
			"longest stay in the proofer: t_long = t + k*t_w",
		)
	}
	if o.LongestDwell > r.product.DwellHigh*(1+hair) {
		r.tooLong()
	}
}

// belts finds the belt on which the pieces lie closest.
func (r *run) belts() {
	if !r.ready() {
		return // the line has said what is wrong with its belts
	}
	var tightest *Belt
	var least, closest, of unit.Length
	for i := range r.line.Belts {
		b := &r.line.Belts[i]
		if !r.over(b) {
			continue
		}
		length, files, uneven := r.on(b)
		pitch := r.pitch(b, files, uneven)
		// Free belt between the closest pieces, over what they need at least.
		if spare := pitch - (length + b.LeastGap); tightest == nil || spare < least {
			tightest, least, closest, of = b, spare, pitch, length
		}
	}
	if tightest == nil {
		return
	}
	r.out.TightestBelt = tightest.Name
	speed := tightest.BeltSpeed
	if speed == 0 {
		speed = unit.Speed(float64(tightest.AdvancePerStroke) * float64(r.out.Strokes) / 60)
	}
	var q molder.PieceSpacing
	q.Belt, q.PieceLength, q.PieceRate = speed, of, unit.PieceRate(float64(speed)*60/float64(closest))
	var err error
	if err = q.SolveInto(&r.out.Spacing); r.settled(err, func() places { return places{{"piece", "~order.product.length"}, {"", "~line.belts."}} }) && r.w != nil {
		r.w.Heading("Belt " + tightest.Name + ", where two pieces lie closest")
		q.Show(r.w, r.out.Spacing)
	}
}

// times: from the first mixing to the last piece out.
func (r *run) times() {
	if !r.ready() {
		return
	}
	p, s, o := r.product, r.shift, r.out
	t := &o.Times
	batches := float64(o.Batch.Batches)
	t.FirstStroke = s.Mixer.Mixing + p.FloorTime
	t.LastMix = unit.Duration((batches - 1) * float64(t.BatchInterval))
	waited := unit.Duration((batches - 1) * float64(t.BatchWait))
	t.FirstOut = t.FirstStroke + o.Clear.FirstOut
	t.LastStroke = t.FirstStroke + o.Clear.LastIn + waited
	t.LastOut = t.LastStroke + o.Clear.ClearOut
	if w := r.w; w != nil {
		w.Heading("Times from the start of the first mixing")
		w.Carried("mixing", "t_m", float64(s.Mixer.Mixing), "s")
		w.Carried("floor time", "t_f", float64(p.FloorTime), "s")
		w.Carried("from batch to batch", "t_b", float64(t.BatchInterval), "s")
		w.Carried("wait between batches", "t_w", float64(t.BatchWait), "s")
		w.Carried("batches", "b", batches, "")
		w.Carried("proofer, first pieces out after", "t_1", float64(o.Clear.FirstOut), "s")
		w.Carried("proofer, last stroke after, if the divider never waits", "t_2", float64(o.Clear.LastIn), "s")
		w.Carried("proofer, empty after the last stroke", "t_3", float64(o.Clear.ClearOut), "s")
		w.Lines(*o,
			"first stroke: T_1 = t_m + t_f",
			"last batch started: T_2 = (b - 1)*t_b",
			"first pieces out: T_3 = T_1 + t_1",
			"last stroke: T_4 = T_1 + t_2 + (b - 1)*t_w",
			"last pieces out: T_5 = T_4 + t_3",
		)
	}
}
