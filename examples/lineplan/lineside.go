package main

import (
	"fmt"
	"math"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// lineside is the page that hangs at the line for one product: what matters first, then every control in walking order, what is
// to be seen at each machine, how the weight is watched, and room for what was run.
func (b *book) lineside(o *made) {
	b.open("LINE  "+o.name(), b.s.Line.Name+", order "+o.place)
	b.scales(&b.s.Shift, o.order())
	if o.refused() != nil {
		b.notAsAsked(o)
		return
	}
	b.head(o)
	b.lookAt(o, atLine)
	b.ranWell(o)
	b.controls(o)
	b.see(o)
	b.check(o)
	b.ran()
	b.hazards(reckon.Hazards(o.plan()) &^ elsewhere)
}

// notAsAsked says what stands in the way of an order, and what would work.
func (b *book) notAsAsked(o *made) {
	b.block("NOT AS ASKED")
	for part := range strings.SplitSeq(o.refused().Error(), "\n") {
		b.row("REFUSED", "%s", part)
	}
}

// head is what is made, and when.
func (b *book) head(o *made) {
	p, q := o.plan(), &o.order().Product
	b.row("Make", "%s", b.pieces(o))
	accept := ""
	if q.Tolerance > 0 {
		accept = ", accept " + b.span(p.PieceLow, p.PieceHigh)
	}
	b.row("Piece", "%s at mark %s; wanted %s%s", b.fine(p.Mark.Expected), trimmed(p.Mark.Set, 3), b.fine(p.Target), accept)
	t := &o.clock
	last := &t.Batches[len(t.Batches)-1]
	oven := ""
	if q.FinalStay > 0 {
		oven = "; oven from " + b.at(t.FirstOven)
	}
	b.row("Run", "%s to %s, then oil shut; proofer empty %s%s", b.at(t.Batches[0].FirstCut), b.at(last.LastCut), b.at(last.LastOut), oven)
	b.aim(p)
	for _, f := range t.Findings {
		b.row("WAITS", "%s: %s", f.At, f.Says)
	}
	for _, k := range o.settings.Contradictions {
		b.mendFirst(k)
	}
}

// pieces says how many are made of an order, and by when.
func (b *book) pieces(o *made) string {
	text := fmt.Sprintf("%d pieces", o.order().Pieces)
	if spare := o.order().Spare; spare > 0 {
		text += fmt.Sprintf(" and %d spare", spare)
	}
	if r := o.run; r != nil && r.Due > 0 {
		text += ", ready " + b.at(r.Ready) + ", due " + b.at(r.Due)
		if r.Late > 0 {
			text += ": " + b.minutes(r.Late) + " LATE"
		}
	}
	return text
}

// mendFirst names two controls that cannot stand so together.
func (b *book) mendFirst(k line.Contradiction) {
	b.row("MEND FIRST", "%s at %s, %s at %s: %s", k.Control, k.At, k.Other, k.OtherAt, k.Why)
}

// controlWidths are the columns of the controls: machine, control, where it is set, where it was run, which way is more.
var controlWidths = []int{16, 21, 17, 7, 15}

// underControl is where what is said of a control stands.
const underControl = 17

// controls lists every control that the product sets, in walking order.
func (b *book) controls(o *made) {
	b.blank()
	b.block(columns(controlWidths, "", "MACHINE", "CONTROL", "SET TO", "RAN", "MORE IS")...)
	machine := ""
	for i := range o.settings.Settings {
		c := &o.settings.Settings[i]
		if c.At == "" {
			continue // the product leaves it alone
		}
		at := c.Machine
		if at == machine {
			at = ""
		}
		machine = c.Machine
		rows := columns(controlWidths, "", at, c.Control, c.In(b.units), "______", c.More)
		if c.PerStep != 0 {
			step := "a mark"
			if s := b.s.Line.Divider.MarkStep; s > 0 {
				step = "a step of " + trimmed(s, 3)
			}
			heavier := ""
			if c.PerStep < 0 {
				heavier = ", a lower mark is heavier"
			}
			rows = append(rows, columns([]int{width - underControl}, strings.Repeat(" ", underControl),
				fmt.Sprintf("%s is %s a piece%s: weigh after every move", step, b.small(unit.Mass(math.Abs(float64(c.PerStep)))), heavier))...)
		}
		b.block(append(rows, b.knownRow(o, i)...)...)
	}
}

// knownRow says of a control where it ran well before, if that is not where it is planned.
func (b *book) knownRow(o *made, i int) []string {
	if o.known == nil || i >= len(o.known.Settings) {
		return nil
	}
	k := &o.known.Settings[i]
	if k.Says == "" || !k.Outside && !k.Drifting && k.Low == k.High && k.Start == k.Planned {
		return nil // as planned, every time
	}
	text := k.In(b.units)
	if k.Start != k.Planned {
		text += "; start at " + k.StartIn(b.units)
	}
	if k.Drifting {
		text += "; it creeps from run to run"
	}
	return columns([]int{width - underControl}, strings.Repeat(" ", underControl), text)
}

// ranWell says which runs the page looks back on, and what has changed since the last of them.
func (b *book) ranWell(o *made) {
	if o.known == nil {
		return
	}
	b.row("RAN WELL", "%d good runs looked at, the last on %s; where a control says nothing of them, it stood as planned", o.known.Good, o.known.LastGood)
	const most = 6
	for i, d := range o.known.Changed {
		if i == most {
			b.row("", "and %d more have changed since", len(o.known.Changed)-most)
			break
		}
		b.row("", "since then %s was %s, is %s", d.Path, d.Was, d.Is)
	}
}

// see says what is to be seen at each machine if all is as planned, in walking order.
func (b *book) see(o *made) {
	b.block("WHAT YOU SHOULD SEE")
	b.seeDivider(o)
	b.seeHopper(o)
	b.seeRounder(o)
	b.seeProofer(o)
	switch o.order().Product.Route {
	case line.ToStamper:
		b.seeStamper(o)
	case line.ToMoulder:
		b.seeMoulder(o)
	case line.ToPanning:
		b.row("Panning", "plain round, straight to panning")
	}
	b.seeBehind(o)
}

func (b *book) seeDivider(o *made) {
	p, q := o.plan(), &o.order().Product
	pace := ""
	if p.StrokesLimit == "mixer" {
		pace = "; the mixer sets the pace"
		if p.Times.BatchWait > 0 {
			pace += ", and the divider waits " + b.minutes(p.Times.BatchWait) + " for each batch"
		}
	}
	b.row("Divider", "%d across, %s, %s; it may run from %s (%s) to %s (%s)%s", q.Across, p.Rate.PieceRate.In(b.units), p.Rate.DoughRate.In(b.units),
		trimmed(math.Ceil(float64(p.Speed.Low)*10-1e-9)/10, 1), p.Speed.LowLimit, unit.StrokeRate(math.Floor(float64(p.Speed.High)*10+1e-9)/10).In(b.units), p.Speed.HighLimit, pace)
	if p.Label.Target > 0 {
		none := ""
		if p.Label.SecondLimit > 0 {
			none = ", none below " + b.fine(p.Label.DoughSecond)
		}
		b.row("Label", "no mean below %s, few below %s%s", b.fine(p.Label.Dough), b.fine(p.Label.DoughFirst), none)
	}
}

// seeHopper says how long a batch stands, when the next is tipped, and how the weight is held meanwhile.
func (b *book) seeHopper(o *made) {
	p, q := o.plan(), &o.order().Product
	text := fmt.Sprintf("a batch stands %s, %s allowed", b.minutes(p.Hopper.Time), b.minutes(q.HopperMax))
	if p.LightPieces > 0 {
		text += fmt.Sprintf("; tip the next at %s left; the last %d pieces scale light: weigh each", b.weight(b.s.Line.Divider.HopperLeast), p.LightPieces)
	}
	b.row("Hopper", "%s", text)
	if len(p.Drift.Moves) == 0 {
		return
	}
	mark, moves := p.Mark.Set, make([]string, 0, len(p.Drift.Moves))
	for _, m := range p.Drift.Moves {
		mark += m.Move
		moves = append(moves, b.minutes(m.At)+" to mark "+trimmed(mark, 3))
	}
	b.row("", "MOVE THE HANDLE as it gasses: after tipping %s; back to %s %s after the next is tipped", listed(moves), trimmed(p.Mark.Set, 3), b.minutes(p.Hopper.FirstPiece))
}

func (b *book) seeRounder(o *made) {
	p := o.plan()
	text := "balls " + b.length(p.Drum.Diameter) + " across"
	if p.Rounding.Time > 0 {
		text += fmt.Sprintf(", each rounded for %.1f s", float64(p.Rounding.Time))
	}
	if p.Motions.Motions > 0 {
		text += fmt.Sprintf(", each worked by %.0f motions in %.1f s", p.Motions.Motions, float64(p.Motions.Time))
	}
	b.row("Rounder", "%s", text)
}

func (b *book) seeProofer(o *made) {
	p, q := o.plan(), &o.order().Product
	text := fmt.Sprintf("%d passes, %s, %d inside", p.Dwell.Passes, b.minutes(p.Dwell.Dwell), p.Dwell.Inside)
	if p.LongestDwell > p.Dwell.Dwell {
		text += fmt.Sprintf("; up to %s where the divider waits (%s to %s is good)", b.minutes(p.LongestDwell), b.minutes(q.DwellLow), b.minutes(q.DwellHigh))
	}
	if p.Pocket.Diameter > 0 {
		text += fmt.Sprintf("; grown %s, pocket %s", b.length(p.Pocket.Diameter), b.length(b.s.Line.Pocket.Width))
	}
	b.row("Proofer", "%s", text)
}

func (b *book) seeStamper(o *made) {
	p := o.plan()
	how := "in time with the proofer"
	if b.s.Line.Stamper.Mode == molder.ContinuousStamp {
		how = "running by itself: watch that it keeps step"
	}
	text := trimmed(float64(p.Strokes), 2) + " rows/min, " + how
	if p.Stamp.Dwell > 0 {
		text += fmt.Sprintf("; the die is on the dough for %.2f s", float64(p.Stamp.Dwell))
	}
	if p.Stamp.Head > 0 {
		text += ", the head turns at " + p.Stamp.Head.In(b.units)
	}
	b.row("Stamper", "%s", text)
}

func (b *book) seeMoulder(o *made) {
	p, q := o.plan(), &o.order().Product
	first := ""
	if p.Rollers.FirstGap > 0 {
		first = b.length(p.Rollers.FirstSheet) + ", then "
	}
	b.row("Sheet", "%s%s thick, %s by %s; %s", first, b.length(p.Roll.Thickness), b.length(p.Roll.Length), b.length(p.Roll.Width), b.thinnest(p, q))
	board := ""
	if p.Guides.Guides > 0 {
		board = fmt.Sprintf(", under the board %s", b.length(p.Board.Diameter))
	}
	b.row("Roll", "%s turns, %s across%s; %s long", trimmed(p.Roll.Turns, 1), b.length(p.Roll.Diameter), board, b.length(q.Length))
	if p.Pan.Volume > 0 {
		b.row("Pan", "%.0f %% full at the end of the proof, %s free at each end", float64(p.Pan.Fill), b.length(p.Pan.Clearance))
	}
}

// thinnest says what keeps the sheet from being thinner.
func (b *book) thinnest(p *line.PlanResult, q *line.Product) string {
	switch p.Gap.Limit {
	case "tear":
		return "it held to " + b.length(q.TearLimit)
	case "reduction":
		return "more is too much for one pair"
	case "width":
		return "thinner is wider than the guides"
	case "rollers":
		return "the rollers make none thinner"
	}
	return "it may go thinner: try until one tears"
}

// seeBehind is what lies behind make-up.
func (b *book) seeBehind(o *made) {
	p, q := o.plan(), &o.order().Product
	var list []string
	if p.TightestBelt != "" {
		list = append(list, b.length(p.Spacing.Gap)+" between pieces ("+p.TightestBelt+")")
	}
	if p.FinalProof.Needed > 0 {
		list = append(list, fmt.Sprintf("%s final proof, %d %s", b.minutes(q.FinalStay), p.FinalProof.Needed, carriers(string(b.s.Line.FinalProof.Carrier))))
	}
	if list != nil {
		b.row("Behind", "%s", strings.Join(list, "; "))
	}
}

// carriers names what the pieces stand in while they proof.
func carriers(kind string) string {
	switch kind {
	case "rack":
		return "racks"
	case "box":
		return "boxes"
	}
	return "carriers"
}

// check says how the weight is watched, and when the handle is left alone.
func (b *book) check(o *made) {
	p, c, k := o.plan(), &o.order().Product.Check, &o.plan().Band
	if p.Check.Pieces == 0 {
		return
	}
	group := ""
	if p.Check.Groups > 0 {
		group = fmt.Sprintf(", or %d groups of %d together for the mean alone", p.Check.Groups, c.Group)
	}
	falls, aim := "", ""
	if p.Drift.FirstMinute > 0 {
		falls = fmt.Sprintf(" (of dough just tipped; %s less a minute later)", b.small(p.Drift.FirstMinute))
	}
	if k.Aim > p.Target {
		aim = "; if it is moved, aim at " + b.fine(k.Aim) + ", which keeps the label"
	}
	b.row("CHECK", "weigh %d pieces every %s%s. LEAVE THE HANDLE ALONE while they average %s%s%s", p.Check.Pieces, b.minutes(c.Every), group, b.span(k.Low, k.High), falls, aim)
	b.block(strings.Repeat(" ", labelWidth) + "time _______ mean ________   time _______ mean ________")
}

// ran is room for what a record of the run holds beside the controls.
func (b *book) ran() {
	b.block(padded("RAN", labelWidth) + "good pieces _____ weighed _____ mean ______ sd _____ stood ____ min")
}
