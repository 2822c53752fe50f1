package main

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/drawing"
)

// card is one product at the line, in walking order.
type card struct {
	Number    int
	Name      string
	Pieces    string
	Refused   string // why it cannot be made as asked; then there is nothing else but the conflict
	Conflict  *conflict
	MendFirst []string
	Facts     []fact
	Care      []string // what holds at every machine, and where pieces are taken off to be weighed
	Known     []string // of the good runs before
	Machines  []machine
	LeftAlone string
	Window    *window
}

// fact is a number that the line's people have in mind all day.
type fact struct{ What, Says string }

// machine is one machine with what is set on it.
type machine struct {
	Name     string
	Care     []string // what hurts here
	Controls []control
}

// Beside reports whether what hurts stands beside the first control: an odd number of them leaves a place free.
func (m machine) Beside() bool { return len(m.Controls)%2 == 1 }

// control is one control as it is drawn.
type control struct {
	Number  int
	Name    string
	At      string        // where it goes
	Unit    string        // of a number, "" if it has none
	Drawing template.HTML // the scale, or the positions
	Scale   bool          // the drawing is a scale, as wide as the control
	When    string        // when it may be moved
	Lock    bool          // the machine is locked out first
	Notes   []string
}

// lastRuns is how many good runs are looked at: about as many as a shop remembers.
const lastRuns = 6

// card draws one product.
func (s *shop) card(n int, p *line.Planned) (*card, error) {
	c := &card{Number: n, Name: p.Order.Product.Name, Pieces: pieces(p.Order), Refused: refusal(p)}
	if c.Refused != "" {
		c.Conflict = s.conflict(p)
		return c, nil
	}
	l := &s.scenario.Line
	at, err := line.ControlSettings{Line: *l, Order: *p.Order, Shift: s.scenario.Shift}.Solve()
	if err != nil {
		return nil, err
	}
	c.MendFirst = mendFirst(at.Contradictions)
	c.Facts = s.facts(p)
	known, err := s.known(p.Order)
	if err != nil {
		return nil, err
	}
	c.Known = s.ranBefore(known)
	told := always | p.Plan.Check.Cautions | p.Plan.Label.Cautions
	c.Care = told.Sentences()
	var alone []string
	set := 0
	for i := range at.Settings {
		k := &at.Settings[i]
		if k.At == "" {
			alone = append(alone, k.Control)
			continue
		}
		set++
		m := c.machine(k.Machine)
		m.Controls = append(m.Controls, s.control(set, i, k, known))
		m.Care = append(m.Care, (k.Hazards() &^ told).Sentences()...)
		told |= k.Hazards()
	}
	c.LeftAlone = strings.Join(alone, "; ")
	c.Window, err = s.window(p)
	return c, err
}

// refusal is why an order cannot be made as asked, "" if it can.
func refusal(p *line.Planned) string {
	if p.Refused == nil {
		return ""
	}
	return p.Refused.Error()
}

// always are the cautions that hold wherever something is set.
const always = reckon.MovingMachinery | reckon.Interlocks

// machine returns the machine that the walk has come to. One that is come to again stands there again: the order of the walk counts.
func (c *card) machine(name string) *machine {
	if n := len(c.Machines); n == 0 || c.Machines[n-1].Name != name {
		c.Machines = append(c.Machines, machine{Name: name})
	}
	return &c.Machines[len(c.Machines)-1]
}

func pieces(o *line.Order) string {
	text := strconv.Itoa(o.Pieces) + " pieces"
	if o.Spare > 0 {
		text += " and " + strconv.Itoa(o.Spare) + " spare"
	}
	return text
}

// mendFirst names controls that cannot stand so together.
func mendFirst(list []line.Contradiction) []string {
	var out []string
	for _, k := range list {
		text := k.Control + " at " + k.At
		if k.Other != "" {
			text += ", " + k.Other + " at " + k.OtherAt
		}
		out = append(out, text+": "+k.Why)
	}
	return out
}

// facts are the numbers at the head of the card.
func (s *shop) facts(p *line.Planned) []fact {
	o, u, r := &p.Plan, s.units, p.Order.Product
	list := []fact{
		{"Scale", fmt.Sprintf("%s of dough; from %s to %s is good", o.Target.In(u), o.PieceLow.In(u), o.PieceHigh.In(u))},
		{"Run", fmt.Sprintf("%d across at %s: %s", r.Across, o.Strokes.In(u), o.Rate.PieceRate.In(u))},
		{"Proofer", fmt.Sprintf("%s in %d passes", o.Dwell.Dwell.In(u), o.Dwell.Passes)},
	}
	if o.Dwell.Passes == 1 {
		list[2].Says = o.Dwell.Dwell.In(u) + " in one pass"
	}
	if o.LongestDwell > o.Dwell.Dwell {
		list[2].Says += ", up to " + o.LongestDwell.In(u) + " while the divider waits for dough"
	}
	if o.Check.Pieces > 0 {
		list = append(list, fact{"Check", fmt.Sprintf("weigh %d every %s; the handle stays at a mean of %s to %s", o.Check.Pieces, r.Check.Every.In(u), o.Band.Low.In(u), o.Band.High.In(u))})
	}
	return list
}

// known looks up what ran well before; nil if nothing did.
func (s *shop) known(o *line.Order) (*line.KnownGoodResult, error) {
	records := s.book.Of(s.scenario.Line.Name, o.Product.Name)
	if !slices.ContainsFunc(records, func(r line.RunRecord) bool { return r.Good }) {
		return nil, nil
	}
	// Of a long book the last are enough.
	records = records[max(0, len(records)-mostRecords):]
	if !slices.ContainsFunc(records, func(r line.RunRecord) bool { return r.Good }) {
		return nil, nil
	}
	out, err := line.KnownGood{Line: s.scenario.Line, Order: *o, Shift: s.scenario.Shift, Records: records, Last: lastRuns}.Solve()
	return &out, err
}

// mostRecords is how many records known-good takes.
const mostRecords = 200

// ranBefore says what is behind the good runs, and what has changed since.
func (s *shop) ranBefore(known *line.KnownGoodResult) []string {
	if known == nil {
		return nil
	}
	text := fmt.Sprintf("%d good runs looked at, the last on %s; they stand beside today's plan.", known.Good, known.LastGood)
	if known.Good == 1 {
		text = fmt.Sprintf("One good run, on %s, stands beside today's plan.", known.LastGood)
	}
	list := append([]string{text}, (known.Conditions & line.FewRuns).Sentences()...)
	for i, d := range known.Changed {
		if i == mostChanged {
			list = append(list, fmt.Sprintf("and %d more has changed since", len(known.Changed)-i))
			break
		}
		list = append(list, fmt.Sprintf("since then %s was %s, is %s", d.Path, d.Was, d.Is))
	}
	return list
}

// mostChanged is how much of what has changed since stands on a card.
const mostChanged = 6

// control draws one control: the n-th that is set, the i-th of the line.
func (s *shop) control(n, i int, k *line.Setting, known *line.KnownGoodResult) control {
	out := control{Number: n, Name: k.Control, At: k.In(s.units), When: when(k.Change), Lock: k.Change == line.LockedOut}
	var ran *line.KnownSetting
	if known != nil && known.Settings[i].Runs > 0 {
		ran = &known.Settings[i]
	}
	can := s.scenario.Line.Scale(i)
	says := ""
	if ran != nil {
		if says = s.ranAt(k, ran, len(can.Positions) == 0); says == "" {
			ran = nil // nothing to see
		}
	}
	switch {
	case len(can.Positions) == 0:
		out.Scale = true
		if i := strings.LastIndex(out.At, " "); k.Unit != "" && i >= 0 { // 7 1/4 in
			out.At, out.Unit = out.At[:i], out.At[i+1:]
		}
		out.Drawing = s.scale(k, can, ran)
	case k.Sets == line.SetsFitting:
		in := slices.ContainsFunc(can.Positions, func(p line.Position) bool { return p.Name == k.At && p.Value == "in" })
		out.Drawing = drawing.Fitting(s.id(), k.Control, in)
	default:
		out.Drawing = s.lever(k, can)
	}
	if k.PerStep != 0 {
		out.Notes = append(out.Notes, s.perStep(k, can.Step))
	}
	if says != "" {
		out.Notes = append(out.Notes, says)
	}
	return out
}

// when says when a control may be moved.
func when(w line.When) string {
	switch w {
	case line.Running:
		return "only while it runs"
	case line.Stopped:
		return "only while it stands"
	case line.LockedOut:
		return "lock out first"
	}
	return "with the line empty"
}

// perStep says what a move of the handle does to the weight.
func (s *shop) perStep(k *line.Setting, step float64) string {
	what := "one mark"
	if step > 0 {
		what = "a step of " + strconv.FormatFloat(step, 'f', -1, 64)
	}
	weighs := k.PerStep
	if weighs < 0 {
		weighs = -weighs
	}
	return what + " is " + weighs.In(s.units) + "; weigh after every move"
}

// ranAt says where a control stood in good runs, "" if always where today's plan has it.
func (s *shop) ranAt(k *line.Setting, ran *line.KnownSetting, number bool) string {
	if !number {
		switch {
		case ran.Outside:
			return "last good at " + ran.Known + ", never as planned today"
		case ran.Known != ran.Planned:
			return "last good at " + ran.Known
		}
		return ""
	}
	if ran.Low == ran.High && !ran.Outside {
		return ""
	}
	reads := func(v float64) string {
		at := *k
		at.Number = v
		return at.In(s.units)
	}
	text := "good at " + reads(ran.Low)
	if ran.High != ran.Low {
		text += " to " + reads(ran.High)
	}
	if ran.Outside {
		text += ", today's plan lies outside"
	}
	if ran.Start != ran.Planned {
		text += "; start at " + reads(ran.Number)
	}
	if ran.Drifting {
		text += "; it creeps from run to run"
	}
	return text
}

// scale draws a number in the units of a person's choice.
func (s *shop) scale(k *line.Setting, can line.ControlScale, ran *line.KnownSetting) template.HTML {
	in, _ := unit.Scales(k.Unit, k.Number, s.units)
	out := drawing.Scale{
		ID: s.id(), Name: k.Control, Low: in.Number(can.Low), High: in.Number(can.High), Step: in.Number(can.Step),
		At: in.Number(k.Number), Reads: k.In(s.units), Unit: in.Unit,
		Left: k.Less, Right: k.More,
	}
	if k.PerStep < 0 { // the lower mark is the heavier
		out.Left, out.Right = k.More, k.Less
	}
	if ran != nil {
		out.Kept, out.KeptLow, out.KeptHigh = true, in.Number(ran.Low), in.Number(ran.High)
	}
	return out.Draw()
}

// lever draws positions.
func (s *shop) lever(k *line.Setting, can line.ControlScale) template.HTML {
	out := drawing.Lever{ID: s.id(), Name: k.Control}
	for _, p := range can.Positions {
		place := drawing.Place{Word: p.Name, Here: p.Name == k.At}
		switch {
		case k.Sets == line.SetsAcross:
			place.Lanes, _ = strconv.Atoi(p.Value) // a number across, as the line was checked
		case p.Value != p.Name:
			place.Means = p.Value
		}
		out.Places = append(out.Places, place)
	}
	return out.Draw()
}
