package main

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// width is the width of a sheet in characters: a portrait page in a clip.
const width = 78

// sheet writes a run sheet.
type sheet struct {
	*bytes.Buffer
	units    unit.System
	division unit.Mass
	plant    *line.Line
}

func writeSheet(b *bytes.Buffer, s *line.Scenario, plans []line.Planned, care []molder.PartCareResult, working []*reckon.Working, units unit.System) {
	sh := sheet{Buffer: b, units: units, division: finest(s), plant: &s.Line}
	fmt.Fprintf(b, "RUN SHEET   %s\n", s.Title)
	sh.row("Today", "flour %s, room %s, tap water %s; times run from the start of each order's first mix",
		s.Shift.FlourTemp.In(units), s.Shift.Room.In(units), s.Shift.Tap.In(units))
	for i := range plans {
		p := &plans[i]
		sh.rule('=')
		head := fmt.Sprintf("%d  %s", i+1, strings.ToUpper(p.Order.Product.Name))
		order := fmt.Sprintf("%d pieces", p.Order.Pieces)
		if p.Order.Spare > 0 {
			order += fmt.Sprintf(" and %d spare", p.Order.Spare)
		}
		fmt.Fprintf(b, "%s%s%s\n", head, strings.Repeat(" ", max(1, width-utf8.RuneCountInString(head)-utf8.RuneCountInString(order))), order)
		sh.rule('-')
		if p.Refused != nil {
			b.WriteString("NOT AS ASKED\n")
			sh.paragraph("REFUSED", strings.ReplaceAll(p.Refused.Error(), "\n", "; "))
		} else {
			sh.plan(p)
		}
		if working[i] != nil {
			fmt.Fprintf(b, "\nWorking\n%s", working[i].In(units))
		}
	}
	sh.rule('=')
	sh.takeCare(plans)
	sh.parts(s.Line.Parts, care)
	b.WriteByte('\n')
	sh.paragraph("ALWAYS", reckon.CautionDeference)
}

// parts says how what is taken out of the line is washed and stored.
func (s *sheet) parts(parts []molder.PartCare, care []molder.PartCareResult) {
	if len(parts) == 0 {
		return
	}
	s.WriteString("\nPARTS (the maker's own instructions come first)\n")
	for i, p := range parts {
		of := make([]string, len(p.Materials))
		for j, m := range p.Materials {
			of[j] = string(m)
		}
		if p.Glued {
			of = append(of, "glued")
		}
		fmt.Fprintf(s, "  %s: %s\n", p.Part, strings.Join(of, ", "))
		for _, text := range []string{care[i].Wash, care[i].Drying, care[i].Store, care[i].Loosens} {
			s.paragraph("", text)
		}
	}
}

// takeCare explains every caution on the sheets once; it is pinned up with them.
func (s *sheet) takeCare(plans []line.Planned) {
	var all reckon.Cautions
	for i := range plans {
		all |= reckon.Hazards(&plans[i].Plan)
	}
	words := all.Words()
	s.WriteString("TAKE CARE\n")
	for i, sentence := range all.Sentences() {
		fmt.Fprintf(s, "  %s\n", words[i])
		s.paragraph("", sentence)
	}
}

func (s *sheet) rule(r rune) { s.WriteString(strings.Repeat(string(r), width) + "\n") }

// row writes one labelled line; further lines of the same label have none.
func (s *sheet) row(label, format string, args ...any) {
	s.paragraph(label, fmt.Sprintf(format, args...))
}

const labelWidth = 12

// paragraph wraps text beside its label.
func (s *sheet) paragraph(label, text string) {
	line := fmt.Sprintf("%-*s", labelWidth, label)
	empty := true
	for word := range strings.FieldsSeq(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			s.WriteString(line + "\n")
			line, empty = strings.Repeat(" ", labelWidth), true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	s.WriteString(line + "\n")
}

// finest is the finest division among the scales: every weight on the sheet shows it.
func finest(s *line.Scenario) unit.Mass {
	division := s.Shift.Division
	add := func(d unit.Mass) {
		if d > 0 && (division == 0 || d < division) {
			division = d
		}
	}
	for _, scale := range s.Shift.Scales {
		add(scale.Division)
	}
	for i := range s.Orders {
		for _, f := range s.Orders[i].Product.Preferments {
			add(f.Division)
		}
	}
	return division
}

// weight shows a mass to the division of the ingredient scale, or finer where
// that division is too coarse for the unit.
func (s *sheet) weight(m unit.Mass) string {
	symbol, value, step := "kg", m.Kilograms(), s.division.Kilograms()
	if s.units == unit.US {
		symbol, value, step = "lb", m.Pounds(), s.division.Pounds()
	}
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return strconv.FormatFloat(value, 'f', decimals, 64) + " " + symbol
}

// length shows a length to a tenth of a millimetre, or a hundredth of an inch.
func (s *sheet) length(l unit.Length) string {
	if s.units == unit.US {
		return strconv.FormatFloat(l.Inches(), 'f', 2, 64) + " in"
	}
	return strconv.FormatFloat(l.Millimetres(), 'f', 1, 64) + " mm"
}

// gap shows a setting to a hundredth of a millimetre, or a thousandth of an inch.
func (s *sheet) gap(l unit.Length) string {
	if s.units == unit.US {
		return strconv.FormatFloat(l.Inches(), 'f', 3, 64) + " in"
	}
	return strconv.FormatFloat(l.Millimetres(), 'f', 2, 64) + " mm"
}

// fine shows a piece weight to a tenth of a gram, or a hundredth of an ounce.
func (s *sheet) fine(m unit.Mass) string {
	if s.units == unit.US {
		return strconv.FormatFloat(m.Ounces(), 'f', 2, 64) + " oz"
	}
	return strconv.FormatFloat(m.Grams(), 'f', 1, 64) + " g"
}

// hundredth shows a small weight to a hundredth of a gram, or a thousandth of an ounce.
func (s *sheet) hundredth(m unit.Mass) string {
	if s.units == unit.US {
		return strconv.FormatFloat(m.Ounces(), 'f', 3, 64) + " oz"
	}
	return strconv.FormatFloat(m.Grams(), 'f', 2, 64) + " g"
}

func (s *sheet) plan(p *line.Planned) {
	o, q, u := &p.Plan, &p.Order.Product, s.units
	s.row("Piece", "scale %s of dough (accept %s to %s) for %s baked; the dough loses %s", s.fine(o.Target), s.fine(o.PieceLow), s.fine(o.PieceHigh),
		s.fine(q.Baked), o.Piece.LossOnDough.In(u))
	s.label(p)
	s.row("Divider", "%d across, handle at mark %s (%s interval %s to %s), which should give %s. Weigh after every move of the handle.", q.Across, plain(o.Mark.Set), s.plant.Divider.Confidence.In(u),
		hundredths(o.Mark.Low), hundredths(o.Mark.High), s.fine(o.Mark.Expected))
	s.row("", "run at %s: %s, %s of dough", o.Strokes.In(u), o.Rate.PieceRate.In(u), o.Rate.DoughRate.In(u))
	s.aim(o)
	s.row("", "divider, proofer and all behind them can run from %s (limit: %s) to %s (limit: %s)", o.Speed.Low.In(u), o.Speed.LowLimit, o.Speed.High.In(u), o.Speed.HighLimit)
	if o.MixerStrokes > 0 {
		pace := ""
		switch mixer := o.StrokesLimit == "mixer"; {
		case o.Times.BatchWait == 0 && mixer:
			pace = "; at the speed set nothing waits, and faster would make no more"
		case o.Times.BatchWait > 0 && mixer:
			pace = "; the divider waits for dough, and faster would make no more"
		case o.Times.BatchWait > 0:
			pace = ": the divider waits for dough"
		}
		s.row("", "the mixer keeps up with %s%s", o.MixerStrokes.In(u), pace)
	}
	s.row("Proofer", "%d passes, dwell %s, %d pieces inside when full", o.Dwell.Passes, o.Dwell.Dwell.In(u), o.Dwell.Inside)
	if o.LongestDwell > o.Dwell.Dwell {
		s.row("", "it stops while the divider waits for dough: pieces inside stay up to %s (planned %s to %s)", o.LongestDwell.In(u), q.DwellLow.In(u), q.DwellHigh.In(u))
	}
	if o.Pocket.Diameter > 0 {
		s.row("", "the piece grows to %s in a pocket of %s", s.length(o.Pocket.Diameter), s.length(s.plant.Pocket.Width))
	}
	s.row("Drum", "%s (the rounded piece is %s across)", o.Drum.Name, s.length(o.Drum.Diameter))
	if len(o.Drum.TakesOut) > 0 {
		s.row("", "comes out of the machine for this drum: %s", strings.Join(o.Drum.TakesOut, ", "))
	}
	if o.Rounding.Time > 0 {
		s.row("", "each piece is rounded for %.1f s at %s", float64(o.Rounding.Time), q.Rounding.Speed.In(u))
	}
	if o.Motions.Motions > 0 {
		s.row("Rounder", "run it at %s: each piece is worked by %.0f motions in the %.1f s that it is in its cup", q.Rounding.Speed.In(u), o.Motions.Motions, float64(o.Motions.Time))
	}
	switch q.Route {
	case line.ToPanning:
		s.row("Panning", "plain round: past the moulder and the stamper")
	case line.ToStamper:
		if s.plant.Stamper.Mode == molder.ContinuousStamp {
			s.row("Stamper", "continuous: set it to %s rows/min and watch that it keeps step", plain(float64(o.Strokes)))
		} else {
			s.row("Stamper", "timed by the proofer, %s rows/min", plain(float64(o.Strokes)))
		}
		if d := s.plant.Stamper; d.Die != "" {
			s.row("", "%s die, spin %s", d.Die, d.Spin)
		}
		if o.Stamp.Dwell > 0 {
			s.row("", "one stamp every %.2f s, the die on the dough for %.2f s", float64(o.Stamp.StampInterval), float64(o.Stamp.Dwell))
			if o.Stamp.Head > 0 {
				s.row("", "the head turns at %s", o.Stamp.Head.In(u))
			}
		}
	case line.ToMoulder:
		s.moulder(p)
	}
	if o.TightestBelt != "" {
		s.row("Belts", "%s", s.belts(p))
		s.row("", "closest on the %s: a piece every %s, %s between pieces", o.TightestBelt, s.length(o.Spacing.Pitch), s.length(o.Spacing.Gap))
	}
	if o.Oil.OilRate > 0 {
		s.row("Oil", "%s for the run; shut the valves whenever scaling stops", o.Oil.PerRun.In(u))
	}
	s.flour(p)
	if o.FinalProof.Needed > 0 {
		s.row("Final proof", "%s; %d %s needed, %d of them in the proof at once", q.FinalStay.In(u), o.FinalProof.Needed, carriers(string(s.plant.FinalProof.Carrier)), o.FinalProof.InProof)
	}
	s.row("Batches", "%d of %s (%d pieces each), one every %s; largest possible %s (limit: %s)", o.Batch.Batches, s.weight(o.Batch.BatchDough), o.Batch.PiecesPerBatch,
		o.Times.BatchInterval.In(u), s.weight(o.LargestBatch), o.LargestBatchLimit)
	s.row("", "a batch stands in the hopper for up to %s (%s allowed)", o.Hopper.Time.In(u), q.HopperMax.In(u))
	s.hopper(p)
	s.preferments(o)
	s.row("Water", "%s", s.water(o))
	s.row("Dough", "%s, hydration %s", q.DoughTemp.In(u), o.Hydration.Hydration.In(u))
	if q.Heat != nil {
		s.row("", "water by the heat balance; the factor rule says %s and would agree at a friction of %s, taken off once", o.Water.WaterTemp.In(u), o.Heat.Once.In(u))
	}
	s.WriteByte('\n')
	s.weigh(p)
	s.WriteByte('\n')
	t := &o.Times
	s.row("TIMES", "first pieces scaled at %s, out of the proofer at %s", t.FirstStroke.In(u), t.FirstOut.In(u))
	s.row("", "last batch starts mixing at %s, last pieces scaled and oil shut at %s, proofer empty at %s", t.LastMix.In(u), t.LastStroke.In(u), t.LastOut.In(u))
	if t.BatchWait > 0 && o.Batch.Batches > 1 {
		s.row("", "the divider waits %s for dough between batches", t.BatchWait.In(u))
	}
	s.WriteByte('\n')
	s.lookAt(o)
	s.row("TAKE CARE", "%s", strings.Join(reckon.Hazards(o).Words(), ", "))
}

// label says what the law and the check ask of the piece weight.
func (s *sheet) label(p *line.Planned) {
	o := &p.Plan
	if o.Label.Target > 0 {
		none := ""
		if o.Label.SecondLimit > 0 {
			none = ", none below " + s.fine(o.Label.DoughSecond)
		}
		s.row("Label", "%s, %s: aim at an average of %s or more as sold, so scale at least %s; few dough pieces below %s%s", o.Label.RuleSet.Authority, o.Label.RuleSet.Edition,
			s.fine(o.Label.Target), s.fine(o.Label.Dough), s.fine(o.Label.DoughFirst), none)
	}
	if o.Target > o.Piece.Dough {
		why := ""
		if o.Check.Pieces > 0 {
			why = "; a mean that a check leaves alone stays legal with it"
		}
		s.row("", "that is %s more dough than the baked weight needs%s", s.fine(o.Target-o.Piece.Dough), why)
	}
	if o.Check.Pieces > 0 {
		s.check(p)
	}
}

// check says how the weight is watched, and when the handle is left alone.
func (s *sheet) check(p *line.Planned) {
	o, c, b := &p.Plan, &p.Order.Product.Check, &p.Plan.Band
	s.row("Check", "weigh %d pieces every %s; leave the handle alone while they average %s to %s", o.Check.Pieces, c.Every.In(s.units), s.fine(b.Low), s.fine(b.High))
	s.row("", "a divider that runs as set is outside in %.0f %% of checks; %s heavier or %s lighter is found nine times in ten",
		max(1, math.Ceil(float64(b.NeedlessChance)-1e-9)), s.fine(b.ShiftUp), s.fine(b.ShiftDown))
	if o.Check.Groups > 0 {
		s.row("", "or weigh %d groups of %d together, for the mean alone: a group hides a double or a torn piece", o.Check.Groups, c.Group)
	}
	s.row("", "a piece near twice or half the others is not the mark: leave the handle, find where it comes from, weigh afresh")
	if b.Aim > o.Target {
		s.row("", "if a check orders a move, aim at %s: every mark that is the nearest to it keeps the label", s.fine(b.Aim))
	}
	if off := math.Abs(float64(b.Offset)); off > 0.05 { // what is shown is to a tenth of a gram
		more, over := "more", "costs"
		if b.Offset < 0 {
			more, over = "less", "saves"
		}
		near := "this is as near as the handle comes, and "
		if o.Label.Dough > 0 {
			near = "this is as near as the handle comes with the label kept, and "
		}
		if b.Nearer {
			near = "another mark comes nearer, but is not on the scale; it "
		}
		s.row("", "the mark gives %s %s than aimed at; %s%s %s of dough over the order", s.fine(unit.Mass(off)), more, near, over, unit.Mass(math.Abs(float64(b.OffsetDough))).In(s.units))
	}
}

// flour says what each duster gives, and how far its slide is open.
func (s *sheet) flour(p *line.Planned) {
	label := "Flour"
	for _, d := range p.Plan.Dusting {
		slide := ""
		if d.Slide.FlourRate > 0 {
			slide = "slide at " + plain(d.Slide.Slide) + ", "
		}
		s.row(label, "%s, onto the %s: %s%s on each piece, %s, %s for the run", d.Name, d.Onto, slide, s.hundredth(d.Flour.FlourPerPiece), d.Flour.Hour.In(s.units), d.Flour.PerRun.In(s.units))
		label = ""
	}
	if label == "" {
		s.row("", "dust no more than keeps the pieces from sticking")
	}
}

// hopper says how the weight falls in the hopper and what holds it.
func (s *sheet) hopper(p *line.Planned) {
	o, q := &p.Plan, &p.Order.Product
	if o.LightPieces > 0 {
		s.row("", "tip the next batch while %s are left in the hopper; the last %d pieces of the run scale light", s.weight(s.plant.Divider.HopperLeast), o.LightPieces)
	}
	if q.Drift == (line.HopperDrift{}) {
		return
	}
	s.row("Hopper", "the dough grows by %s (%s): %s when it is tipped, %s after %s if the mark is left alone; up to %s may be lost", q.Drift.Growth.In(s.units), q.Drift.GrowthBasis,
		s.fine(o.Mark.Expected), s.fine(o.Drift.EndWeight), o.Hopper.Time.In(s.units), s.fine(o.DriftLimit))
	if o.Check.Pieces > 0 && o.Drift.FirstMinute > 0 {
		s.row("", "the band of the check is for dough just tipped: it falls with the dough, by %s a minute", s.hundredth(o.Drift.FirstMinute))
	}
	if len(o.Drift.Moves) == 0 {
		s.row("", "no move of the mark is needed within a batch")
		return
	}
	mark, moves := o.Mark.Set, make([]string, 0, len(o.Drift.Moves))
	for _, m := range o.Drift.Moves {
		mark += m.Move
		moves = append(moves, m.At.In(s.units)+" to mark "+hundredths(mark))
	}
	s.row("", "with dough that was tipped this long ago move the handle: %s; back to mark %s when the next batch comes through, %s after its tipping. Weigh after every move.",
		strings.Join(moves, ", "), plain(o.Mark.Set), o.Hopper.FirstPiece.In(s.units))
}

func (s *sheet) moulder(p *line.Planned) {
	o, q := &p.Plan, &p.Order.Product
	if o.Rollers.FirstGap > 0 {
		s.row("Moulder", "first pair: gap %s%s, sheet %s thick", s.length(o.Rollers.FirstGap), number(o.Rollers.FirstNumber), s.length(o.Rollers.FirstSheet))
		s.row("", "last pair: gap %s%s, sheet %s thick, %s long, %s wide", s.gap(o.Gap.Gap), number(o.Rollers.LastNumber), s.length(o.Roll.Thickness), s.length(o.Roll.Length), s.length(o.Roll.Width))
	} else {
		s.row("Moulder", "gap %s gives a sheet %s thick, %s long, %s wide", s.gap(o.Gap.Gap), s.length(o.Roll.Thickness), s.length(o.Roll.Length), s.length(o.Roll.Width))
	}
	s.row("", "%s", s.thinnest(o, q))
	s.row("", "%s turns (at least %s asked for), roll %s in diameter; piece %s long", hundredths(o.Roll.Turns), hundredths(q.Turns), s.length(o.Roll.Diameter), s.length(q.Length))
	if o.Chain.Name != "" {
		from := ""
		if o.Chain.Above > 0 {
			from = "from " + s.fine(o.Chain.Above) + " "
		}
		s.row("Chain", "%s, for pieces %sup to %s", o.Chain.Name, from, s.fine(o.Chain.UpTo))
	}
	if o.Guides.Guides > 0 {
		s.row("Guides", "%s apart", s.length(o.Guides.Guides))
		s.row("Board", "%s high at the entry, %s at the exit: the piece is %s thick between the guides after %s turns, and %s long behind them", s.length(o.Heights.HeightIn), s.length(o.Heights.HeightOut),
			s.length(o.Board.Diameter), hundredths(o.Board.Turns), s.length(o.Guides.PieceLength))
	}
	if o.Pan.Volume > 0 {
		s.row("Pan", "%s; %s full at the end of proof, %s free at each end", o.Pan.Volume.In(s.units), o.Pan.Fill.In(s.units), s.length(o.Pan.Clearance))
	}
}

// thinnest says what keeps the sheet from being thinner.
func (s *sheet) thinnest(o *line.PlanResult, q *line.Product) string {
	switch o.Gap.Limit {
	case "tear":
		return "the thinnest that holds: in trials it held down to " + s.length(q.TearLimit)
	case "reduction":
		return "the thinnest within the dough's limit for each pair"
	case "width":
		return "the thinnest that is no wider than the guides"
	case "rollers":
		return "the thinnest that the rollers make"
	}
	return "it may go thinner: try until a sheet tears, and keep the thinnest that holds"
}

// number shows a number at an indicator, if there is one.
func number(v float64) string {
	if v == 0 {
		return ""
	}
	return " (number " + strconv.FormatFloat(v, 'f', 1, 64) + ")"
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

// weigh lists what to weigh for one batch, preferments first.
func (s *sheet) weigh(p *line.Planned) {
	o, q := &p.Plan, &p.Order.Product
	if len(o.Split.Parts) == 0 {
		s.row("WEIGH", "for each batch, in this order")
		for i, part := range o.Weigh.Parts {
			name := part.Name
			if q.Formula[i].Role == doughmath.RoleWater && o.IceToWeigh > 0 {
				name += ", ice included"
			}
			s.item(strconv.Itoa(i+1), name+on(part.Scale), part.Mass, part.Percent)
		}
	}
	mix := ""
	for i, part := range o.Split.Parts {
		if part.Mix != mix {
			mix = part.Mix
			s.row("WEIGH", "%s of each batch, in this order", mix)
		}
		name := part.Name
		if mix == doughmath.FinalMix && o.IceToWeigh > 0 && isWater(q.Formula, name) {
			name += ", ice included"
		}
		s.item(strconv.Itoa(i+1), name+on(part.Scale), part.Mass, part.Percent)
	}
	if total := o.Weigh.Weighed; len(o.Split.Parts) == 0 {
		s.item("", "total dough", total, o.Weigh.TotalPercent)
	} else {
		s.item("", "total dough", o.Split.Weighed, o.Weigh.TotalPercent)
	}
}

// preferments says when each preferment is started, and from what water.
func (s *sheet) preferments(o *line.PlanResult) {
	for i := range o.PrefermentRuns {
		p := &o.PrefermentRuns[i]
		s.row("Start", "%s: %s before the mixing of each batch", p.Name, p.Before.In(s.units))
		d := &p.Draw
		if d.Ice+d.TapWater+d.HotWater == 0 {
			continue
		}
		var parts []string
		for _, x := range [...]struct {
			mass unit.Mass
			from string
		}{{d.Ice, "of ice"}, {d.HotWater, "hot"}, {d.TapWater, "from the cold tap"}} {
			if x.mass > 0 {
				parts = append(parts, s.weight(x.mass)+" "+x.from)
			}
		}
		s.row("", "its water: %s, which act like water of %s", strings.Join(parts, " and "), p.Water.WaterTemp.In(s.units))
	}
}

// water says what to draw for one batch: kilograms first, the temperature that
// they act like after them.
func (s *sheet) water(o *line.PlanResult) string {
	temp := o.WaterTemp.In(s.units)
	switch {
	case o.WaterMass == 0:
		return "none in the final mix"
	case o.IceToWeigh > 0:
		return fmt.Sprintf("%s of ice and %s from the tap for each batch, which act like water of %s", s.weight(o.IceToWeigh), s.weight(o.WaterToWeigh), temp)
	case o.HotToWeigh > 0:
		return fmt.Sprintf("%s hot and %s from the cold tap for each batch, mixed before the yeast meets it: %s", s.weight(o.HotToWeigh), s.weight(o.WaterToWeigh), temp)
	case o.Water.Conditions.Has(doughmath.WarmerThanTap):
		return fmt.Sprintf("%s for each batch, warmed to %s", s.weight(o.WaterToWeigh), temp)
	}
	return fmt.Sprintf("%s from the tap for each batch, at %s", s.weight(o.WaterToWeigh), temp)
}

// on names the scale, if there are several.
func on(scale string) string {
	if scale == "" {
		return ""
	}
	return " (" + scale + ")"
}

func (s *sheet) item(n, name string, m unit.Mass, percent unit.BakersPercent) {
	fmt.Fprintf(s, "  %2s  %-34s %12s   %s\n", n, name, s.weight(m), percent.In(s.units))
}

// lookAt says of each condition where it was met.
func (s *sheet) lookAt(o *line.PlanResult) {
	type station struct {
		name string
		met  []reckon.Noted
	}
	stations := []station{
		{"piece", []reckon.Noted{o.Piece.Conditions}},
		{"label", []reckon.Noted{o.Label.Conditions}},
		{"preferments", prefermentNotes(o)},
		{"mark", []reckon.Noted{o.Trials, o.Mark.Conditions}},
		{"drum", []reckon.Noted{o.Drum.Conditions}},
		{"rounder", []reckon.Noted{o.Rounding.Conditions, o.Motions.Conditions}},
		{"proofer", []reckon.Noted{o.Speed.Conditions, o.Dwell.Conditions, o.Clear.Conditions, o.Pocket.Conditions}},
		{"stamper", []reckon.Noted{o.Stamp.Conditions}},
		{"shaping", []reckon.Noted{o.Chain.Conditions, o.Guides.Conditions, o.Heights.Conditions, o.Board.Conditions}},
		{"pan", []reckon.Noted{o.Pan.Conditions}},
		{"final proof", []reckon.Noted{o.FinalProof.Conditions}},
		{"moulder", []reckon.Noted{o.Rollers.Conditions, o.Gap.Conditions, o.Roll.Conditions}},
		{"belts", []reckon.Noted{o.Spacing.Conditions}},
		{"batches", []reckon.Noted{o.Batch.Conditions}},
		{"hopper", []reckon.Noted{o.Hopper.Conditions, o.Drift.Conditions}},
		{"weighing", []reckon.Noted{o.Weigh.Conditions, o.Hydration.Conditions}},
		{"water", []reckon.Noted{o.Water.Conditions, o.Ice.Conditions, o.HeatIce.Conditions, o.Mix.Conditions}},
		{"heat balance", []reckon.Noted{o.HeatWater.Conditions, o.Heat.Conditions}},
	}
	for _, d := range o.Dusting {
		stations = append(stations, station{"flour, " + d.Name, []reckon.Noted{d.Flour.Conditions, d.Slide.Conditions}})
	}
	label := "LOOK AT"
	for _, one := range reckon.Distinct(reckon.Remarks(o)) {
		var where []string
		for _, st := range stations {
			if slices.ContainsFunc(st.met, func(set reckon.Noted) bool { return slices.Contains(set.Notes(), one) }) {
				where = append(where, st.name)
			}
		}
		if where == nil {
			where = []string{"speed"} // what the plan itself sets
		}
		s.row(label, "%s: %s", strings.Join(where, ", "), one.Says)
		label = ""
	}
}

func prefermentNotes(o *line.PlanResult) []reckon.Noted {
	met := []reckon.Noted{o.Split.Conditions}
	for i := range o.PrefermentRuns {
		met = append(met, o.PrefermentRuns[i].Water.Conditions, o.PrefermentRuns[i].Draw.Conditions)
	}
	return met
}

// isWater reports whether the formula's ingredient of that name is water.
func isWater(formula []doughmath.Ingredient, name string) bool {
	return slices.ContainsFunc(formula, func(g doughmath.Ingredient) bool { return g.Name == name && g.Role == doughmath.RoleWater })
}

// belts lists the belts of the product's route with their speeds.
func (s *sheet) belts(p *line.Planned) string {
	var list []string
	for _, b := range s.plant.Belts {
		if b.Route == "" || b.Route == p.Order.Product.Route {
			if b.AdvancePerStroke > 0 {
				list = append(list, b.Name+" geared to the line, "+s.length(b.AdvancePerStroke)+" a stroke")
			} else {
				list = append(list, b.Name+" at "+b.BeltSpeed.In(s.units))
			}
		}
	}
	return strings.Join(list, ", ")
}

// plain shows a setting without what binary arithmetic leaves behind.
func plain(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

func hundredths(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
