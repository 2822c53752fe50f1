package line

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// guides: do they stand where the plan sets them?
func (f *fault) guides(way Side) {
	if f.q.Line.Moulder.Guides == nil {
		return
	}
	g, calculation := f.q.Readings.Guides, molder.SideGuides{}.ID()
	if g == 0 {
		f.need(GuidesOff, calculation, "With the moulder stopped, isolated and locked out, measure how far apart the side guides stand.")
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: GuidesOff, Calculation: calculation, Sets: SetsGuides,
			Next: "Measure ten pieces that have come to rest: if the guides stand as planned, it is how the dough draws back.",
		},
		what: "distance between the side guides", side: way, in: length, moved: length,
		v: read(float64(g)), l: asPlanned(float64(f.plan.Guides.Guides)), u: read(float64(f.q.Instruments.Rule)),
		x: read(float64(g)), y: asPlanned(float64(f.plan.Guides.Guides)),
	})
}

// drawsBack: is the piece as long, over the distance between the guides, as on the line before?
func (f *fault) drawsBack(way Side) {
	k := f.q.Line.Moulder.Guides
	if k == nil {
		return
	}
	calculation := molder.GuideRatioFromPieces{}.ID()
	g, x := f.q.Readings.Guides, f.q.Readings.Lengths
	if len(x) == 0 || g == 0 {
		f.need(DrawsBack, calculation, "Measure five pieces or more that have come to rest, and how far apart the side guides stand.")
		return
	}
	q := molder.GuideRatioFromPieces{Guides: g, Lengths: x}
	out, err := q.Solve()
	if err != nil {
		f.wrong(err)
		return
	}
	n, rule := float64(len(x)), float64(f.q.Instruments.Rule)
	// The scatter of the mean, and the rule on both lengths.
	u := math.Sqrt(float64(out.SD*out.SD)/n + float64(rule*rule*(1+float64(out.LengthRatio*out.LengthRatio)))/float64(g*g))
	to := molder.SideGuides{PanLength: f.q.Order.Product.Length, LengthRatio: out.LengthRatio, Narrowest: k.Narrowest, Widest: k.Widest, Measured: true}
	set, err := to.Solve()
	s := suspect{
		Cause: Cause{
			Cause: DrawsBack, Calculation: calculation,
			Next: "Measure a piece as it leaves the board and again after a minute: if it changes more than usual, the dough is tighter or slacker, so look at its rest, its water and its temperature.",
		},
		what: "length of the piece over the distance between the guides", side: way,
		v: worked(out.LengthRatio, "s"), l: asPlanned(k.LengthRatio),
		show: func(w *reckon.Working) {
			q.Show(w, out)
			w.Given("how closely lengths are measured", "r_l", rule, "mm", "")
		},
		advice: "The guides do not reach that far: change the dough's rest or its water.",
	}
	if out.SD > 0 {
		s.u = worked(u, "sqrt(u*u/n + r_l*r_l*(1 + s*s)/(G*G))")
	} else {
		s.u = worked(u, "sqrt(r_l*r_l*(1 + s*s)/(G*G))")
	}
	if err == nil {
		s.Sets, s.moved, s.advice = SetsGuides, length, ""
		s.x, s.y = read(float64(g)), worked(float64(set.Guides), "G")
		s.showTo = func(w *reckon.Working) { to.Show(w, set) }
	}
	f.judge(s)
}

// boardOut: does the pressure board leave the piece as thick as planned where it leaves?
func (f *fault) boardOut(way Side) {
	if f.q.Line.Moulder.Board == nil {
		return
	}
	h := f.q.Readings.BoardOut
	if h == 0 {
		f.need(BoardOutOff, molder.BoardForLength{}.ID(), "With the moulder stopped, isolated and locked out, measure the height of the pressure board over the belt where the piece leaves.")
		return
	}
	f.boardAt(BoardOutOff, SetsBoardOut, h, f.plan.Heights.HeightOut, way, "where the piece leaves")
}

// boardAt is a pressure board at another height than planned.
func (f *fault) boardAt(cause CauseName, sets Sets, h, plan unit.Length, way Side, where string) {
	f.judge(suspect{
		Cause: Cause{
			Cause: cause, Calculation: molder.BoardForLength{}.ID(), Sets: sets,
			Next: "Measure the board's height on both sides: one that hangs askew makes pointed pieces.",
		},
		what: "height of the pressure board " + where, side: way, in: length, moved: length,
		v: read(float64(h)), l: asPlanned(float64(plan)), u: read(float64(f.q.Instruments.Rule)), x: read(float64(h)), y: asPlanned(float64(plan)),
	})
}

// width: where no board rolls the piece out, it is as long as its sheet is wide.
func (f *fault) width(way Side) {
	if f.q.Line.Moulder.Board != nil {
		return
	}
	name := GapNarrow // a narrower gap makes a wider sheet
	if way == TooLittle {
		name = GapWide
	}
	calculation := molder.TurnsForGap{}.ID()
	gap, ok := f.lastGap(name, calculation)
	if !ok {
		return
	}
	p, m := &f.q.Order.Product, &f.q.Line.Moulder
	q := molder.TurnsForGap{
		Piece: f.plan.Target, Density: p.Density, Gap: gap, Recovery: m.Recovery, Aspect: p.Aspect, Measured: m.Measured, TurnsRatio: p.TurnsRatio, TearLimit: p.TearLimit,
	}
	out, err := q.Solve()
	if err != nil {
		f.wrong(err)
		return
	}
	w := float64(out.Width)
	f.lastRollers(gap, suspect{
		Cause: Cause{
			Cause: name, Calculation: calculation,
			Next: "Measure the width of a sheet: the roll is as long. Weigh the piece as well: a heavy one makes a larger sheet.",
		},
		what: "width of the sheet, which is the length of the roll", side: way, in: length,
		v: worked(w, "W"), l: asPlanned(float64(f.plan.Roll.Width)), u: worked(w*float64(f.q.Instruments.Gauge/gap)/2, "W*r_g/(2*g)"),
		show: func(sheet *reckon.Working) {
			q.Show(sheet, out)
			sheet.Given("how closely gaps are measured", "r_g", float64(f.q.Instruments.Gauge), "mm", "")
		},
	})
}

// rounded: does the rounder work the piece for as long as it takes?
func (f *fault) rounded() {
	k, g := &f.q.Line.Rounder, &f.q.Order.Product.Rounding
	v, s := f.q.Readings.RounderSpeed, f.q.Readings.Strokes
	cause := Cause{
		Cause: RoundedLittle, Sets: SetsRounderSpeed,
		Next: "Cut a rounded piece: a loose middle or an open bottom is too little rounding; a torn skin is too much.",
	}
	if k.Way == "" {
		return
	}
	cause.Calculation = map[RoundingWay]string{OnTrack: molder.RoundingTime{}.ID(), InCup: molder.RoundingMotions{}.ID()}[k.Way]
	if v == 0 {
		f.need(RoundedLittle, cause.Calculation, "Count the turns of the rounder for a minute.")
		return
	}
	at := suspect{Cause: cause, side: TooLittle, moved: turn, x: read(float64(v)), y: asPlanned(float64(g.Speed))}
	if k.Way == OnTrack {
		q := molder.RoundingTime{Diameter: k.Diameter, DrumSpeed: v, Path: k.Path, Travel: k.Travel, GoodLow: g.TimeLow, GoodHigh: g.TimeHigh}
		out, err := q.Solve()
		if err != nil {
			f.wrong(err)
			return
		}
		t := float64(out.Time)
		at.what, at.in = "time in the rounder", second
		at.v, at.l, at.u = worked(t, "T"), asPlanned(float64(leastOf(g.TimeLow, f.plan.Rounding.Time))), f.counted(t)
		at.show = func(w *reckon.Working) { q.Show(w, out); f.showCounting(w) }
		f.judge(at)
		return
	}
	if s == 0 {
		f.need(RoundedLittle, cause.Calculation, "Count the strokes of the divider for a minute: they carry the cups on.")
		return
	}
	q := molder.RoundingMotions{Rows: k.Rows, Strokes: s, Speed: v, GoodLow: g.MotionsLow, GoodHigh: g.MotionsHigh}
	out, err := q.Solve()
	if err != nil {
		f.wrong(err)
		return
	}
	at.what = "motions in the cup"
	// Both speeds are counted, so that the two uncertainties add up as squares.
	at.v, at.l, at.u = worked(out.Motions, "M"), asPlanned(leastOf(g.MotionsLow, f.plan.Motions.Motions)), worked(out.Motions*float64(f.q.Instruments.Counting)/100*math.Sqrt2, "v_#*r_c/100*sqrt(2)")
	at.show = func(w *reckon.Working) { q.Show(w, out); f.showCounting(w) }
	// At other strokes than planned the rounder is set for those.
	to := molder.SpeedForMotions{Motions: f.plan.Motions.Motions, Rows: k.Rows, Strokes: s, GoodLow: g.MotionsLow, GoodHigh: g.MotionsHigh}
	if set, err := to.Solve(); err == nil && s != f.plan.Strokes && set.Speed >= k.SpeedLow && set.Speed <= k.SpeedHigh {
		at.y, at.showTo = worked(float64(set.Speed), "q"), func(w *reckon.Working) { to.Show(w, set) }
	}
	f.judge(at)
}

// leastOf is what trials found to be the least, or what the plan has if there were none.
func leastOf[T ~float64](trials, plan T) T {
	if trials == 0 {
		return plan
	}
	return min(trials, plan)
}

// drum: is the one in that the piece takes?
func (f *fault) drum() {
	in := f.q.Readings.Drum
	if in == "" {
		f.need(DrumWrong, molder.DrumChoice{}.ID(), "Read which rounding drum is in.")
		return
	}
	f.position(DrumWrong, SetsDrum, in, f.plan.Drum.Name, molder.DrumChoice{}.ID(), "The piece of "+f.plan.Target.String()+" is a ball of "+f.plan.Drum.Diameter.String()+
		" and takes cups of "+f.plan.Drum.CupLow.String()+" to "+f.plan.Drum.CupHigh.String()+".")
}

// position is a control that is no number: it stands as planned, or not.
func (f *fault) position(cause CauseName, sets Sets, at, plan, calculation, why string) {
	name, when := sets.trade("")
	word := func(value string) string { return value }
	if k := f.q.Line.controlFor(sets, ""); k != nil {
		name, when = k.Name, k.Change
		word = func(value string) string { w, _ := k.word(value); return w }
	}
	if at == plan {
		f.out.Cleared = append(f.out.Cleared, Cleared{cause, "It is as planned: " + name + " at " + strconv.Quote(word(plan)) + "."})
		return
	}
	e := Elsewhere{
		Cause: cause, Calculation: calculation, Control: name, Stands: word(at), SetTo: word(plan), Change: when, Cautions: cautions(sets, when),
		Says: "Put " + name + " from " + strconv.Quote(word(at)) + " to " + strconv.Quote(word(plan)) + when.how() + ". " + why,
	}
	f.out.Elsewhere = append(f.out.Elsewhere, e)
	f.out.Cautions |= e.Cautions
}

// stamperSet: is the stamper set as the line says?
func (f *fault) stamperSet() {
	k, r := &f.q.Line.Stamper, &f.q.Readings
	if r.StampMode == "" {
		f.need(StamperSet, molder.StampRate{}.ID(), "Read how the stamper is set: off, continuous or timed.")
	} else {
		f.position(StamperSet, SetsStampMode, string(r.StampMode), string(k.Mode), molder.StampRate{}.ID(), "Timed, the stamper stamps when a row arrives; continuous, at a speed of its own.")
	}
	if k.Die == "" {
		return
	}
	if r.Spin == "" {
		f.need(StamperSet, molder.StampRate{}.ID(), "Look whether the die turns, with the cover shut.")
		return
	}
	f.position(StamperSet, SetsSpin, string(r.Spin), string(k.Spin), molder.StampRate{}.ID(), "A still die that spins tears the piece; a turning die makes its cut by turning.")
}

// stamps: does the stamper run as fast as rows arrive?
func (f *fault) stamps() {
	mode := f.q.Line.Stamper.Mode
	if f.q.Readings.StampMode != "" {
		mode = f.q.Readings.StampMode
	}
	if mode != molder.ContinuousStamp {
		return // each row calls its own stamp
	}
	v, rows := f.q.Readings.Stamps, f.q.Readings.Strokes
	calculation := molder.RateForStamps{}.ID()
	if v == 0 || rows == 0 {
		f.need(StampsOff, calculation, "Count the stamps, and the strokes of the divider, each for a minute.")
		return
	}
	n := float64(f.q.Instruments.Counting) / 100
	f.judge(suspect{
		Cause: Cause{
			Cause: StampsOff, Calculation: calculation, Sets: SetsStamps,
			Next: "Count both for five minutes: a difference that stays the same is the setting, one that changes is a drive that slips.",
		},
		what: "stamps of the stamper, against one for each row", side: EitherWay, in: stroke, moved: stroke,
		v: read(float64(v)), l: read(float64(rows)), u: worked(n*math.Sqrt(float64(v*v)+float64(rows*rows)), "r_c/100*sqrt(v_#*v_# + l_#*l_#)"),
		x: read(float64(v)), y: read(float64(rows)), show: f.showCounting,
	})
}
