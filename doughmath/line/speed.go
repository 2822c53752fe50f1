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
	limits := [2]proof.StrokeLimit{{Name: "divider", Low: d.StrokesLow, High: d.StrokesHigh}}
	n := 1
	// The moulder, the oven and the belts count pieces, whatever the number across.
	var rates [3]proof.RateLimit
	m := 0
	add := func(name string, most unit.PieceRate) {
		rates[m] = proof.RateLimit{Name: name, High: most}
		m++
	}
	switch {
	case p.Route == ToStamper && !r.has.stamper:
		r.c.Fail("order.product.route", `"stamper"`, "a route that the line has: it has no stamper")
	case p.Route == ToMoulder && !r.has.moulder:
		r.c.Fail("order.product.route", `"moulder"`, "a route that the line has: it has no moulder")
	case p.Route == ToStamper:
		// One stamp for each row.
		limits[n] = proof.StrokeLimit{Name: "stamper", Low: r.line.Stamper.StampsLow, High: r.line.Stamper.StampsHigh}
		n++
	case p.Route == ToMoulder:
		add("moulder", r.line.Moulder.RateHigh)
	}
	if p.RateHigh > 0 {
		add("oven", p.RateHigh)
	}
	if r.ready() {
		if slowest, most := r.slowestBelt(); slowest != nil {
			add(slowest.Name, most)
		}
	}
	bare := proof.Speed{Proofer: r.line.Proofer, Across: p.Across, DwellLow: p.DwellLow, DwellHigh: p.DwellHigh}
	// The line itself checks the machines' limits.
	at := func() places {
		return places{{"proofer", "line.proofer"}, {"limits", "~line"}, {"rates", "~line"}, {"", "order.product."}}
	}
	if !r.ready() {
		r.tell(at, bare.Check)
		return
	}
	q := bare
	q.Limits, q.Rates = limits[:n], rates[:m]
	var err error
	if r.out.Speed, err = q.Solve(); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		shown := bare
		shown.Limits, shown.Rates = slices.Clone(q.Limits), slices.Clone(q.Rates) // the arrays above stay off the heap
		r.w.Heading("Speed")
		shown.Show(r.w, r.out.Speed)
	}
	if r.strokes(); r.ready() {
		r.rate()
	}
}

// slowestBelt finds the belt that takes the fewest pieces: on it they would
// come to lie too close first.
func (r *run) slowestBelt() (slowest *Belt, most unit.PieceRate) {
	r.length = r.out.Drum.Diameter
	if r.product.Route == ToMoulder {
		r.length = r.product.Length
	}
	r.w.Heading("What the belts carry")
	r.w.Given("length of the piece on the belt", "D", float64(r.length), "mm", "its diameter as a ball, or the moulded length")
	for i := range r.line.Belts {
		b := &r.line.Belts[i]
		if b.Route != "" && b.Route != r.product.Route {
			continue
		}
		pitch := float64(r.length + b.LeastGap)
		rate := unit.PieceRate(float64(b.BeltSpeed) * 60 * float64(r.lanesOn(b)) / pitch)
		if r.w != nil {
			r.w.Given("belt "+b.Name+", speed", "v", float64(b.BeltSpeed), "mm/s", "")
			r.w.Given("pieces side by side on it", "l", float64(r.lanesOn(b)), "", "")
			r.w.Given("smallest gap", "g", float64(b.LeastGap), "mm", "")
			r.w.Lines(nil, "most pieces on it: P_b = v*60*l/(D + g) in pieces/min  [one piece and one gap after the other]")
		}
		if slowest == nil || rate < most {
			slowest, most = b, rate
		}
	}
	return slowest, most
}

// lanesOn returns how many pieces lie side by side on a belt.
func (r *run) lanesOn(b *Belt) int { return min(b.Across, r.product.Across) }

// strokes: the fastest speed that the setting has a step for.
func (r *run) strokes() {
	o, step := r.out, r.line.Divider.StrokeStep
	o.Strokes = o.Speed.High
	if step > 0 {
		o.Strokes = unit.StrokeRate(math.Floor(float64(o.Speed.High)/float64(step)+1e-9) * float64(step))
	}
	if r.w != nil {
		r.w.Given("fastest that everything allows", "S_top", float64(o.Speed.High), "strokes/min", "")
		if step > 0 {
			r.w.Given("step of the speed setting", "q", float64(step), "strokes/min", "")
			r.w.Lines(*o, "speed to set: S_set = floor(S_top/q + 1e-9)*q  [rounded down to a step]")
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
	q := divider.Rate{Strokes: r.out.Strokes, Across: r.product.Across, Piece: r.out.Target}
	var err error
	if r.out.Rate, err = q.Solve(); r.settled(err, all("~order.product.")) && r.w != nil {
		r.w.Heading("Rate")
		q.Show(r.w, r.out.Rate)
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
	dwell := proof.Dwell{Proofer: r.line.Proofer, Across: r.product.Across, Strokes: r.out.Strokes}
	if r.out.Dwell, err = dwell.Solve(); !r.settled(err, at) {
		return
	}
	clear := proof.Clear{Proofer: r.line.Proofer, Across: r.product.Across, Strokes: r.out.Strokes, Pieces: r.out.Batch.PiecesMade}
	if r.out.Clear, err = clear.Solve(); !r.settled(err, at) {
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
	met := min(float64(o.Batch.Batches-1), math.Ceil(float64(o.Dwell.Dwell)/float64(t.BatchScaling)*(1-1e-9)))
	o.LongestDwell = o.Dwell.Dwell + unit.Duration(float64(met*float64(t.BatchWait)))
	if t.BatchWait > 0 && o.Batch.Batches > 1 {
		o.Conditions |= reckon.RateLimited
	}
	if float64(o.LongestDwell) > float64(r.product.DwellHigh)*(1+1e-9) {
		o.Dwell.Conditions |= proof.DwellOutsideWindow
	}
	if w := r.w; w != nil {
		w.Heading("Waits between batches")
		w.Given("pieces per batch", "n_b", float64(o.Batch.PiecesPerBatch), "", "")
		w.Given("pieces a minute", "P", float64(o.Rate.PieceRate), "pieces/min", "")
		w.Given("mixer, from batch to batch", "t_c", float64(r.shift.Mixer.Cycle), "s", "")
		w.Given("batches", "b", float64(o.Batch.Batches), "", "")
		w.Given("dwell", "t", float64(o.Dwell.Dwell), "s", "while the machines run")
		w.Lines(*o,
			"scaling one batch: t_s = n_b*60/P  [waste is lost before the divider and takes no strokes]",
			"from batch to batch: t_b = max(t_s, t_c)  [the slower of divider and mixer]",
			"wait between batches: t_w = t_b - t_s  [divider and proofer stand together]",
			"most waits that one piece meets: k = min(b - 1, ceil(t/t_s*(1 - 1e-9)))",
			"longest stay in the proofer: t_long = t + k*t_w",
		)
	}
}

// belts finds the belt on which the pieces lie closest.
func (r *run) belts() {
	if !r.ready() {
		return // the line has said what is wrong with its belts
	}
	var tightest *Belt
	var least float64
	for i := range r.line.Belts {
		b := &r.line.Belts[i]
		if b.Route != "" && b.Route != r.product.Route {
			continue
		}
		// Free belt for each piece, over what it needs at least.
		spare := float64(b.BeltSpeed)*60*float64(r.lanesOn(b))/float64(r.out.Rate.PieceRate) - float64(r.length+b.LeastGap)
		if tightest == nil || spare < least {
			tightest, least = b, spare
		}
	}
	if tightest == nil {
		return
	}
	r.out.TightestBelt = tightest.Name
	q := molder.PieceSpacing{
		Belt: tightest.BeltSpeed, PieceLength: r.length,
		PieceRate: unit.PieceRate(float64(r.out.Rate.PieceRate) / float64(r.lanesOn(tightest))), LeastGap: tightest.LeastGap,
	}
	var err error
	if r.out.Spacing, err = q.Solve(); r.settled(err, func() places { return places{{"piece", "~order.product.length"}, {"", "~line.belts."}} }) && r.w != nil {
		r.w.Heading("Belt " + tightest.Name)
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
		w.Given("mixing", "t_m", float64(s.Mixer.Mixing), "s", "")
		w.Given("floor time", "t_f", float64(p.FloorTime), "s", "")
		w.Given("from batch to batch", "t_b", float64(t.BatchInterval), "s", "")
		w.Given("wait between batches", "t_w", float64(t.BatchWait), "s", "")
		w.Given("batches", "b", batches, "", "")
		w.Given("proofer, first pieces out after", "t_1", float64(o.Clear.FirstOut), "s", "")
		w.Given("proofer, last stroke after", "t_2", float64(o.Clear.LastIn), "s", "if the divider never waits")
		w.Given("proofer, empty after the last stroke", "t_3", float64(o.Clear.ClearOut), "s", "")
		w.Lines(*o,
			"first stroke: T_1 = t_m + t_f",
			"last batch started: T_2 = (b - 1)*t_b",
			"first pieces out: T_3 = T_1 + t_1",
			"last stroke: T_4 = T_1 + t_2 + (b - 1)*t_w",
			"last pieces out: T_5 = T_4 + t_3",
		)
	}
}
