package line

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// lastGap returns the gap of the last rollers as read, and asks for it if it was not.
func (f *fault) lastGap(cause CauseName, calculation string) (gap unit.Length, ok bool) {
	if gap = f.q.Readings.LastGap; gap == 0 {
		f.need(cause, calculation, "With the moulder stopped, isolated and locked out, measure the gap of the last rollers.")
	}
	return gap, gap > 0
}

// lastRollers is a suspect that ends at the last rollers, where the plan sets them.
func (f *fault) lastRollers(gap unit.Length, s suspect) {
	s.Sets, s.moved = SetsLastGap, length
	if f.q.Line.controlFor(SetsLastGap, "") == nil && f.q.Line.controlFor(SetsLastNumber, "") != nil {
		s.advice = "At the indicator: " + kind(nil).text(f.plan.Rollers.LastNumber) + "."
	}
	s.x = read(float64(gap))
	if s.y == (figure{}) {
		s.y = asPlanned(float64(f.plan.Gap.Gap))
	}
	f.judge(s)
}

// gapNarrow: do the last rollers leave the sheet as thick as it holds?
func (f *fault) gapNarrow() {
	gap, ok := f.lastGap(GapNarrow, molder.GapForThickness{}.ID())
	if !ok {
		return
	}
	m := &f.q.Line.Moulder
	s := suspect{
		Cause: Cause{
			Cause: GapNarrow, Calculation: molder.GapForThickness{}.ID(),
			Next: "Measure a sheet well behind the rollers: thinner than the tear limit is the gap; as thick as planned and torn is the dough.",
		},
		what: "gap of the last rollers", side: TooLittle, in: length,
		v: read(float64(gap)), l: asPlanned(float64(f.plan.Gap.Gap)), u: read(float64(f.q.Instruments.Gauge)),
	}
	if tears := f.q.Order.Product.TearLimit; tears > 0 {
		q := molder.GapForThickness{Thickness: tears, Recovery: m.Recovery, Measured: m.Measured}
		if out, err := q.Solve(); err == nil && out.Gap < f.plan.Gap.Gap {
			s.l, s.show = worked(float64(out.Gap), "g"), func(w *reckon.Working) { q.Show(w, out) }
		}
	}
	f.lastRollers(gap, s)
}

// firstGap: does the first pair share the reduction?
func (f *fault) firstGap() {
	m := &f.q.Line.Moulder
	if m.First == nil {
		return
	}
	g := f.q.Readings.FirstGap
	if g == 0 {
		f.need(FirstGapOff, molder.RollerGaps{}.ID(), "With the moulder stopped, isolated and locked out, measure the gap of the first rollers.")
		return
	}
	// Thickness in over gap, in the pair that has more to do.
	before := f.plan.Drum.Diameter
	if m.First.FlattenedTo > 0 && m.First.FlattenedTo < before {
		before = m.First.FlattenedTo
	}
	last := f.plan.Gap.Gap
	reduction := func(g unit.Length) float64 {
		return max(float64(before/g), float64(m.First.Recovery*float64(g))/float64(last))
	}
	v, off := reduction(g), f.q.Instruments.Gauge
	wide := float64(before/g) < v
	u := v * float64(off/g)
	s := suspect{
		Cause: Cause{
			Cause: FirstGapOff, Calculation: molder.RollerGaps{}.ID(), Sets: SetsFirstGap,
			Next: "Look where the sheet tears: behind the first pair, that pair has too much to do; behind the last, that one.",
		},
		what: "reduction in the pair of rollers that has more to do", side: TooMuch, moved: length,
		v: worked(v, "max(h_1/g_r, R_r*g_r/g_l)"), l: asPlanned(max(m.First.ReductionLimit, f.plan.Rollers.Reduction)), u: worked(u, "v_#*r_g/g_r"),
		x: read(float64(g)), y: asPlanned(float64(f.plan.Rollers.FirstGap)),
		show: func(w *reckon.Working) {
			w.Carried("thickness in front of the first pair", "h_1", float64(before), "mm")
			w.Given("gap of the first pair", "g_r", float64(g), "mm", "")
			w.Carried("sheet over gap behind it", "R_r", m.First.Recovery, "")
			w.Carried("gap of the last pair, as planned", "g_l", float64(last), "mm")
			w.Given("how closely gaps are measured", "r_g", float64(off), "mm", "")
		},
		advice: map[bool]string{true: "As it stands the last pair has too much to do.", false: "As it stands the first pair has too much to do."}[wide],
	}
	if f.q.Line.controlFor(SetsFirstGap, "") == nil && f.q.Line.controlFor(SetsFirstNumber, "") != nil {
		s.advice += " At its indicator: " + kind(nil).text(f.plan.Rollers.FirstNumber) + "."
	}
	f.judge(s)
}

// sheetThin: does the sheet spring back behind the rollers as on the line before?
func (f *fault) sheetThin() {
	x, tears := f.q.Readings.Sheets, f.q.Order.Product.TearLimit
	if tears == 0 {
		return // nobody knows how thin it may be
	}
	calculation := molder.RecoveryFromSheet{}.ID()
	if len(x) == 0 {
		f.need(SheetThin, calculation, "Take sheets from well behind the rollers and measure them in their middle.")
		return
	}
	gap, ok := f.lastGap(SheetThin, calculation)
	if !ok {
		return
	}
	q := molder.RecoveryFromSheet{Gap: gap, Thicknesses: x}
	out, err := q.Solve()
	if err != nil {
		f.wrong(err)
		return
	}
	to := molder.GapForThickness{Thickness: f.plan.Gap.Thickness, Recovery: max(1, out.Recovery)}
	set, err := to.Solve()
	if err != nil || out.Recovery >= f.q.Line.Moulder.Recovery {
		f.out.Cleared = append(f.out.Cleared, Cleared{SheetThin, "The sheet springs back to " + kind(nil).text(out.Recovery) + " times the gap, on the line before to " + kind(nil).text(f.q.Line.Moulder.Recovery) + " times."})
		return
	}
	off, sd := float64(f.q.Instruments.Gauge), float64(out.SD*float64(gap))
	u := math.Sqrt(float64(sd*sd)/float64(len(x)) + float64(off*off)) // the scatter of the mean, and the gauge
	f.lastRollers(gap, suspect{
		Cause: Cause{
			Cause: SheetThin, Calculation: q.ID(),
			Next: "Measure the gap again: if it is right, the dough springs back less today, so look at its rest and its water.",
		},
		what: "thickness of the sheet", side: TooLittle, in: length,
		v: worked(float64(out.Thickness), "t"), l: asPlanned(float64(min(tears, f.plan.Gap.Thickness))), u: worked(u, "sqrt(s*g*s*g/n + r_g*r_g)"),
		y: worked(float64(set.Gap), "g"),
		show: func(w *reckon.Working) {
			q.Show(w, out)
			w.Given("how closely sheets are measured", "r_g", off, "mm", "")
			if out.SD == 0 {
				w.Lines(nil, "scatter of one sheet: s = 0")
			}
		}, showTo: func(w *reckon.Working) { to.Show(w, set) },
	})
}

// curls: does the sheet make the turns asked for?
func (f *fault) curls() {
	p, m := &f.q.Order.Product, &f.q.Line.Moulder
	gap, ok := f.lastGap(GapWide, molder.GapForTurns{}.ID())
	if !ok {
		return
	}
	s := suspect{
		Cause: Cause{
			Cause: GapWide, Calculation: molder.GapForTurns{}.ID(),
			Next: "Cut a piece across and count its turns: fewer than asked for is the gap; as many and open is the board or flour in the seam.",
		},
		what: "gap of the last rollers", side: TooMuch, in: length,
		v: read(float64(gap)), l: asPlanned(float64(f.plan.Gap.Gap)), u: read(float64(f.q.Instruments.Gauge)),
	}
	q := molder.GapForTurns{Turns: p.Turns, Piece: f.plan.Target, Density: p.Density, Recovery: m.Recovery, Aspect: p.Aspect, Measured: m.Measured, TurnsRatio: p.TurnsRatio}
	if out, err := q.Solve(); err == nil && out.Gap > f.plan.Gap.Gap {
		s.l, s.show = worked(float64(out.Gap), "g"), func(w *reckon.Working) { q.Show(w, out) }
	}
	f.lastRollers(gap, s)
}

// seam: does the pressure board turn the piece as often as it takes to close it?
func (f *fault) seam() {
	b := f.q.Line.Moulder.Board
	if b == nil || b.SealTurns == 0 {
		return // nobody knows how many it takes
	}
	o, r := &f.plan, &f.q.Readings
	for _, at := range [...]struct {
		cause   CauseName
		sets    Sets
		v, plan unit.Length
		where   string
	}{
		{BoardInOff, SetsBoardIn, r.BoardIn, o.Heights.HeightIn, "where the piece enters"},
		{BoardOutOff, SetsBoardOut, r.BoardOut, o.Heights.HeightOut, "where the piece leaves"},
	} {
		if at.v == 0 {
			f.need(at.cause, molder.PressureBoard{}.ID(), "With the moulder stopped, isolated and locked out, measure the height of the pressure board over the belt "+at.where+".")
			continue
		}
		of := func(h unit.Length) (q molder.PressureBoard, out molder.PressureBoardResult, err error) {
			p := &f.q.Order.Product
			q = molder.PressureBoard{
				Piece: o.Target, Density: p.Density, RollDiameter: o.Roll.Diameter, RollLength: o.Roll.Width, HeightIn: o.Heights.HeightIn, HeightOut: o.Heights.HeightOut,
				BoardLength: b.Length, Belt: b.Belt, Spring: b.Spring, Guides: o.Guides.Guides, SealTurns: b.SealTurns, Measured: b.Measured,
			}
			if at.sets == SetsBoardIn {
				q.HeightIn = h
			} else {
				q.HeightOut = h
			}
			out, err = q.Solve()
			return q, out, err
		}
		s := suspect{
			Cause: Cause{
				Cause: at.cause, Calculation: molder.PressureBoard{}.ID(), Sets: at.sets,
				Next: "Mark the seam with flour and count the turns of a piece under the board.",
			},
			what: "turns under the pressure board", side: TooLittle, moved: length, x: read(float64(at.v)), y: asPlanned(float64(at.plan)),
		}
		q, out, err := of(at.v)
		nearby, other, err2 := of(at.v + f.q.Instruments.Rule)
		if err2 != nil {
			nearby, other, err2 = of(at.v - f.q.Instruments.Rule)
		}
		if err != nil || err2 != nil {
			// The board does not work the piece at all there.
			f.boardAt(at.cause, at.sets, at.v, at.plan, EitherWay, at.where)
			continue
		}
		off := max(1e-6, abs(other.Turns-out.Turns))
		s.v, s.l, s.u = worked(out.Turns, "N"), asPlanned(min(b.SealTurns, o.Board.Turns)), worked(off, "max(0.000001, abs(N_b - N))")
		s.show = func(w *reckon.Working) {
			nearby.Show(w, other)
			w.Lines(nil, "turns, a standard uncertainty of the height away: N_b = N")
			q.Show(w, out)
		}
		f.judge(s)
	}
}

func abs(v float64) float64 { return max(v, -v) }
