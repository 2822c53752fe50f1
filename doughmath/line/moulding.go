package line

import (
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// drum: which one, and how large the piece is as a ball.
func (r *run) drum() {
	p, l := r.product, r.line
	var q molder.DrumChoice
	q.Piece, q.Density, q.Drums = r.out.Target, p.Density, l.Drums
	q.CupRatioLow, q.CupRatioHigh, q.Calibrated = l.CupRatio.Low, l.CupRatio.High, l.CupRatio.Calibrated
	at := func() places {
		return places{
			{"drums", "line.drums"},
			{"cup_ratio_low", "line.cup_ratio.low"},
			{"cup_ratio_high", "line.cup_ratio.high"},
			{"piece", "~order.product.baked"},
			{"", "order.product."},
		}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	if err := q.SolveInto(&r.out.Drum); r.settled(err, at) && r.w != nil {
		r.w.Heading("Rounding drum")
		q.Show(r.w, r.out.Drum)
	}
}

// rounding: how long a piece is rounded on a track, or by how many motions in a cup.
func (r *run) rounding() {
	switch r.line.Rounder.Way {
	case OnTrack:
		r.onTrack()
	case InCup:
		r.inCup()
	}
}

func (r *run) onTrack() {
	k, g := &r.line.Rounder, &r.product.Rounding
	q := molder.RoundingTime{Diameter: k.Diameter, DrumSpeed: g.Speed, Path: k.Path, Travel: k.Travel, GoodLow: g.TimeLow, GoodHigh: g.TimeHigh}
	at := func() places {
		return places{
			{"drum_speed", "order.product.rounding.speed"},
			{"good_low", "order.product.rounding.time_low"},
			{"good_high", "order.product.rounding.time_high"},
			{"", "line.rounder."},
		}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Rounding, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Rounding")
		q.Show(r.w, r.out.Rounding)
	}
}

func (r *run) inCup() {
	k, g := &r.line.Rounder, &r.product.Rounding
	q := molder.RoundingMotions{Rows: k.Rows, Strokes: r.out.Strokes, Speed: g.Speed, GoodLow: g.MotionsLow, GoodHigh: g.MotionsHigh}
	at := func() places {
		return places{
			{"strokes", "~order.product.across"},
			{"rows", "line.rounder.rows"},
			{"speed", "order.product.rounding.speed"},
			{"good_low", "order.product.rounding.motions_low"},
			{"good_high", "order.product.rounding.motions_high"},
		}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Motions, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Rounding")
		q.Show(r.w, r.out.Motions)
	}
}

// moulder: gap, sheet and turns.
func (r *run) moulder() {
	if !r.has.moulder {
		return
	}
	p, m := r.product, &r.line.Moulder
	var set molder.SheetSetting
	r.askSheet(&set)
	at := func() places {
		return places{
			{"recovery", "line.moulder.recovery"},
			{"aspect", "order.product.sheet_aspect"},
			{"gap", "~line.moulder.gap_low"},
			{"gap_low", "line.moulder.gap_low"},
			{"gap_high", "line.moulder.gap_high"},
			{"gap_step", "line.moulder.gap_step"},
			{"reduction_gap", "~line.moulder.first_pair.reduction_limit"},
			{"width_limit", "~order.product.length"},
			{"piece", "~order.product.baked"},
			{"", "order.product."},
		}
	}
	if !r.ready() {
		r.tell(at, set.Check)
		return
	}
	if m.First != nil {
		set.ReductionGap = r.reductionGap(m.First)
	}
	var err error
	if err = set.SolveInto(&r.out.Gap); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		r.w.Heading("Moulder")
		set.Show(r.w, r.out.Gap)
	}
	var roll molder.TurnsForGap
	roll.Piece, roll.Density, roll.Gap = r.out.Target, p.Density, r.out.Gap.Gap
	roll.Recovery, roll.Aspect, roll.Measured = m.Recovery, p.Aspect, m.Measured
	roll.TurnsRatio, roll.TearLimit = p.TurnsRatio, p.TearLimit
	if err = roll.SolveInto(&r.out.Roll); r.settled(err, at) && r.w != nil {
		roll.Show(r.w, r.out.Roll)
	}
}

// askSheet asks how narrow and how wide the last gap may be.
func (r *run) askSheet(set *molder.SheetSetting) {
	p, m := r.product, &r.line.Moulder
	set.Turns, set.Piece, set.Density = p.Turns, r.out.Target, p.Density
	set.Recovery, set.Aspect, set.Measured = m.Recovery, p.Aspect, m.Measured
	set.TurnsRatio, set.TearLimit, set.GapLow = p.TurnsRatio, p.TearLimit, m.GapLow
	set.GapHigh, set.GapStep = m.GapHigh, m.GapStep
	if m.Board != nil {
		// The board makes the roll longer, never shorter, up to the guides; they are 0 until they have answered.
		set.WidthLimit = r.out.Guides.Guides
	}
}

// inFront returns how thick the piece meets the first pair of rollers, 0 if as a ball.
func (r *run) inFront(f *FirstPair) unit.Length {
	if f.FlattenedTo < r.out.Drum.Diameter {
		return f.FlattenedTo
	}
	return 0
}

// reductionGap returns how far the last pair can close within the dough's
// limit, 0 if there is no such gap: both pairs then say that they reduce too much.
func (r *run) reductionGap(f *FirstPair) unit.Length {
	out, err := molder.LastGapForReduction{
		Piece: r.out.Target, Density: r.product.Density, Thickness: r.inFront(f), FirstRecovery: f.Recovery, Reduction: f.ReductionLimit,
	}.Solve()
	if err != nil {
		return 0
	}
	return out.LastGap
}

// rollers: both pairs, where the moulder has two.
func (r *run) rollers() {
	m := &r.line.Moulder
	if m.First == nil || !r.ready() {
		return // all that could be wrong with them is told of the line
	}
	q := molder.RollerGaps{
		Piece: r.out.Target, Density: r.product.Density, Thickness: r.inFront(m.First), LastGap: r.out.Gap.Gap, FirstRecovery: m.First.Recovery,
		LastRecovery: m.Recovery, ReductionLimit: m.First.ReductionLimit, FirstScale: m.First.Scale, Roller: m.First.Roller, Friction: m.First.Friction, LastScale: m.First.Last, Measured: m.Measured,
	}
	at := func() places {
		return places{
			{"first_scale", "line.moulder.first_pair.scale"},
			{"last_scale", "line.moulder.first_pair.last_scale"},
			{"first_recovery", "line.moulder.first_pair.recovery"},
			{"reduction_limit", "line.moulder.first_pair.reduction_limit"},
			{"thickness", "line.moulder.first_pair.flattened_to"},
			{"roller_diameter", "line.moulder.first_pair.roller_diameter"},
			{"friction", "line.moulder.first_pair.friction"},
			{"last_recovery", "line.moulder.recovery"},
			{"last_gap", "~line.moulder.gap_low"},
			{"piece", "~order.product.baked"},
			{"", "order.product."},
		}
	}
	var err error
	if r.out.Rollers, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Both pairs of rollers")
		q.Show(r.w, r.out.Rollers)
	}
}

// shaping: chain, board and pan of a moulded piece.
func (r *run) shaping() {
	p, m := r.product, &r.line.Moulder
	if m.Chain != nil {
		r.chain(m.Chain)
	}
	if m.Board != nil && m.Guides != nil {
		r.board(m.Board)
	}
	if p.Panned != nil {
		r.pan(p.Panned)
	}
}

// chain: at which height the curling chain hangs.
func (r *run) chain(k *Chain) {
	q := molder.CurlingChain{Piece: r.out.Target, Heights: k.Heights, Lightest: k.Lightest, Margin: k.Margin, Measured: k.Measured}
	at := func() places { return places{{"piece", "~order.product.baked"}, {"", "line.moulder.curling_chain."}} }
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Chain, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Curling chain")
		q.Show(r.w, r.out.Chain)
	}
}

// guides: how far apart the side guides stand for the length asked for. They
// come before the rollers: no sheet may be wider.
func (r *run) guides() {
	m := &r.line.Moulder
	if m.Board == nil {
		return
	}
	g := m.Guides
	if g == nil {
		r.c.Fail("line.moulder.side_guides", "missing", "the side guides: the pressure board needs them")
		return
	}
	// The length stands for a pan that the piece fills from end to end.
	q := molder.SideGuides{PanLength: r.product.Length, LengthRatio: g.LengthRatio, Narrowest: g.Narrowest, Widest: g.Widest, Measured: g.Measured}
	at := func() places {
		return places{{"pan_length", "order.product.length"}, {"clearance", "order.product.length"}, {"", "line.moulder.side_guides."}}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Guides, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Side guides")
		q.Show(r.w, r.out.Guides)
	}
}

// board: the heights of the pressure board, and what it does to the piece.
func (r *run) board(b *Board) {
	if !r.ready() {
		return // all that could be wrong with it is told of the line
	}
	p := r.product
	at := func() places {
		return places{
			{"piece", "~order.product.baked"},
			{"density", "order.product.density"},
			{"length", "order.product.length"},
			{"roll_diameter", "~order.product.length"},
			{"roll_length", "~order.product.length"},
			{"height_in", "~order.product.length"},
			{"height_out", "~order.product.length"},
			{"guides", "~order.product.length"},
			{"board_length", "line.moulder.pressure_board.length"},
			{"", "line.moulder.pressure_board."},
		}
	}
	// Under the board the piece reaches from guide to guide; it comes to its own length behind it.
	heights := molder.BoardForLength{
		Piece: r.out.Target, Density: p.Density, Length: r.out.Guides.Guides, RollDiameter: r.out.Roll.Diameter, RollLength: r.out.Roll.Width, Spring: b.Spring, Bite: b.Bite, Measured: b.Measured,
	}
	board := molder.PressureBoard{
		Piece: r.out.Target, Density: p.Density, RollDiameter: r.out.Roll.Diameter, RollLength: r.out.Roll.Width,
		BoardLength: b.Length, Belt: b.Belt, Spring: b.Spring, Guides: r.out.Guides.Guides, SealTurns: b.SealTurns, Measured: b.Measured,
	}
	var err error
	if r.out.Heights, err = heights.Solve(); !r.settled(err, at) {
		return
	}
	board.HeightIn, board.HeightOut = r.out.Heights.HeightIn, r.out.Heights.HeightOut
	if r.out.Board, err = board.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Pressure board")
		heights.Show(r.w, r.out.Heights)
		board.Show(r.w, r.out.Board)
	}
}

// pan: how the piece fills it.
func (r *run) pan(k *Panned) {
	p := r.product
	q := molder.PanFit{
		Piece: r.out.Target, Density: p.Density, Length: p.Length, Pan: k.Pan, Growth: k.Growth,
		FillLow: k.FillLow, FillHigh: k.FillHigh, Measured: k.Measured,
	}
	at := func() places {
		return places{{"piece", "~order.product.baked"}, {"density", "order.product.density"}, {"length", "order.product.length"}, {"", "order.product.panned."}}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Pan, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Pan")
		q.Show(r.w, r.out.Pan)
	}
}

// stamping: how the die meets the piece.
func (r *run) stamping() {
	s := &r.line.Stamper
	if s.Die == "" {
		return
	}
	q := molder.StampRate{PieceRate: r.out.Rate.PieceRate, Across: r.product.Across, Die: s.Die, Spin: s.Spin, Around: s.Around, Contact: s.Contact, StampsHigh: s.StampsHigh}
	at := func() places {
		return places{{"piece_rate", "~order.product.across"}, {"across", "~order.product.across"}, {"stamps_high", "~line.stamper.stamps_high"}, {"", "line.stamper."}}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Stamp, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Stamper")
		q.Show(r.w, r.out.Stamp)
	}
}
