package line

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// run is the plan, as far as the belts ask it.
func (f *fault) run() run {
	p := &f.q.Order.Product
	return run{line: &f.q.Line, product: p, out: &f.plan, moulded: p.Route == ToMoulder, stamped: p.Route == ToStamper}
}

// belts: does each run as fast as its gap needs?
func (f *fault) belts() {
	r := f.run()
	for i := range f.q.Line.Belts {
		b := &f.q.Line.Belts[i]
		if !r.over(b) || b.BeltSpeed == 0 {
			continue // geared to the line it cannot run otherwise
		}
		at := slices.IndexFunc(f.q.Readings.Belts, func(k BeltReading) bool { return k.Belt == b.Name })
		if at < 0 {
			f.need(BeltSlow, molder.BeltForGap{}.ID(), "Time the "+b.Name+" over a length that is chalked on it.")
			continue
		}
		v := float64(f.q.Readings.Belts[at].BeltSpeed)
		s := suspect{
			Cause: Cause{
				Cause: BeltSlow, Calculation: molder.BeltForGap{}.ID(), Sets: SetsBelt,
				Next: "Count the strokes of the divider for a minute: if they are as planned, it is the belt; if there are more, it is the line.",
			},
			what: "speed of the " + b.Name, side: TooLittle, in: speed, moved: speed, of: b.Name,
			v: read(v), l: asPlanned(float64(b.BeltSpeed)), u: f.counted(v), x: read(v), y: asPlanned(float64(b.BeltSpeed)), show: f.showCounting,
		}
		// Where the pieces follow one another evenly, the gap says how slow is slow enough to be too slow.
		if long, files, uneven := r.on(b); !uneven && b.LeastGap > 0 {
			q := molder.BeltForGap{Gap: b.LeastGap, PieceRate: f.plan.Rate.PieceRate * unit.PieceRate(files) / unit.PieceRate(r.product.Across), PieceLength: long}
			if need, err := q.Solve(); err == nil {
				s.l = worked(float64(need.Belt), "v")
				s.show = func(w *reckon.Working) {
					f.showCounting(w)
					w.Carried("pieces made", "P", float64(f.plan.Rate.PieceRate), "pieces/min")
					w.Lines(nil, "pieces on one file: r = P*"+strconv.Itoa(int(files))+"/"+strconv.Itoa(r.product.Across)+" in pieces/min")
					q.Show(w, need)
				}
			}
		}
		f.judge(s)
	}
}

// lineFast: does the line run faster than everything allows?
func (f *fault) lineFast() {
	f.lineSpeed(LineFast, TooMuch, float64(f.plan.Speed.High), "Time the belts as well: a belt that runs too slowly brings the pieces as close.")
}

// lineSpeed holds the strokes counted against a limit.
func (f *fault) lineSpeed(name CauseName, side Side, limit float64, next string) {
	v := float64(f.q.Readings.Strokes)
	if v == 0 {
		f.need(name, proof.Speed{}.ID(), "Count the strokes of the divider for a minute.")
		return
	}
	f.judge(suspect{
		Cause: Cause{Cause: name, Calculation: proof.Speed{}.ID(), Sets: SetsStrokes, Next: next},
		what:  "strokes of the divider", side: side, in: stroke, moved: stroke,
		v: read(v), l: asPlanned(limit), u: f.counted(v), x: read(v), y: asPlanned(float64(f.plan.Strokes)), show: f.showCounting,
	})
}

// pieceWide: is there room on the belt for the piece as it lies there?
func (f *fault) pieceWide() {
	v := float64(f.q.Readings.OnBelt)
	q := f.plan.Spacing
	if f.plan.TightestBelt == "" {
		return
	}
	r := f.run()
	at := slices.IndexFunc(f.q.Line.Belts, func(b Belt) bool { return b.Name == f.plan.TightestBelt })
	b := &f.q.Line.Belts[at]
	if r.moulded && b.Place == BehindMoulder {
		return // there the length is wanted, see too-long
	}
	if v == 0 {
		f.need(PieceWide, molder.PieceSpacing{}.ID(), "Measure a piece as it lies on the "+b.Name+".")
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: PieceWide, Calculation: molder.PieceSpacing{}.ID(),
			Next: "Weigh the pieces, and time how long they stay in the overhead proofer: heavy ones or grown ones lie wider.",
		},
		what: "length of a piece on the " + b.Name, side: TooMuch, in: length,
		v: read(v), l: worked(float64(q.Pitch-b.LeastGap), "p_b - g_b"), u: read(float64(f.q.Instruments.Rule)),
		show: func(w *reckon.Working) {
			w.Carried("pitch, where two pieces lie closest", "p_b", float64(q.Pitch), "mm")
			w.Carried("smallest gap", "g_b", float64(b.LeastGap), "mm")
		},
		advice: "Let the pieces grow less before the belt, or make them lie longer apart: a piece of " + unit.Length(v).String() + " needs a pitch of " + (unit.Length(v) + b.LeastGap).String() + " there.",
	})
}

// dwell: do the pieces stay in the overhead proofer as they should?
func (f *fault) dwell(way Side) {
	name, p := DwellLong, &f.q.Order.Product
	limit := p.DwellHigh
	if way == TooLittle {
		name, limit = DwellShort, p.DwellLow
	}
	v := f.q.Readings.Strokes
	q := proof.Dwell{Proofer: f.q.Line.Proofer, Across: p.Across, Strokes: v}
	if v == 0 {
		f.need(name, q.ID(), "Count the strokes of the divider for a minute.")
		return
	}
	out, err := q.Solve()
	if err != nil {
		f.wrong(err)
		return
	}
	t := float64(out.Dwell)
	f.judge(suspect{
		Cause: Cause{
			Cause: name, Calculation: q.ID(), Sets: SetsStrokes,
			Next: "Mark a piece with flour and time it through the proofer: longer than computed is a stop, or a piece that missed its transfer.",
		},
		what: "stay in the overhead proofer", side: way, in: second, moved: stroke,
		v: worked(t, "t"), l: asPlanned(float64(limit)), u: f.counted(t), x: read(float64(v)), y: asPlanned(float64(f.plan.Strokes)),
		show: func(w *reckon.Working) {
			q.Show(w, out)
			f.showCounting(w)
		},
	})
}

// lineSlow: does the line make what the oven waits for?
func (f *fault) lineSlow() {
	f.lineSpeed(LineSlow, TooLittle, float64(f.plan.Strokes), "Write down the stops of an hour: a line that runs as planned and is short of pieces has stood.")
}

// mixerSlow: does the mixer give its batches as often as planned?
func (f *fault) mixerSlow() {
	t := float64(f.q.Readings.Cycle)
	if t == 0 {
		f.need(MixerSlow, planID, "Time the mixer from one batch to the next, three times.")
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: MixerSlow, Calculation: planID,
			Next: "Look whether the divider stands with an empty hopper: if it never does, it is not the mixer.",
		},
		what: "time from batch to batch", side: TooMuch, in: second,
		v: read(t), l: asPlanned(float64(f.plan.Times.BatchInterval)), u: f.counted(t), show: f.showCounting,
		advice: "Give a batch every " + f.plan.Times.BatchInterval.String() + ": weigh the next one ahead, or let bowls take turns.",
	})
}

// racksFew: are there enough racks?
func (f *fault) racksFew() {
	need, n := f.plan.FinalProof.Needed, f.q.Readings.Racks
	if need == 0 {
		return
	}
	if n == 0 {
		f.need(RacksFew, proof.FinalProofLoad{}.ID(), "Count the racks, boxes or carriers that go round.")
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: RacksFew, Calculation: proof.FinalProofLoad{}.ID(),
			Next: "Look whether pieces wait for a rack behind the line: if they never do, there are enough.",
		},
		what: "racks that go round", side: TooLittle,
		v: read(float64(n)), l: asPlanned(float64(need)), u: worked(countedExactly, "1/4"),
		advice: "Bring " + strconv.Itoa(max(0, need-n)) + " more, or empty them sooner.",
	})
}

// countedExactly is the uncertainty of what can be counted one by one: less than half of one at [sure].
const countedExactly = 0.25
