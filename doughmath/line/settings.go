package line

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// ControlSettings asks where every control of the line stands for a product, in walking
// order, and what contradicts itself before anything runs:
//
//	x_i = w_i, or round(w_i / q_i) * q_i where the control itself has a step q_i
//	p_i = b_x * q, for the mark: b_x the weight of one mark there, q the step of the handle, 1 if it is stepless
//	n_s = n - n_0
//	n_m of them stand elsewhere now, n_c contradictions
//
// with w_i what the plan gives control i, which is set to a number, n controls, n_0 of them
// left alone by this product and n_s set.
// Every setting is the plan's: nothing is decided a second time.
//
// A contradiction is two controls that cannot stand so together whatever is made: lanes that differ
// from infeed to outlet, a still die that is to spin, a route to a machine that is off, a fitting beside a
// drum that takes it out, or what the line itself says in not_with. It looks at the settings of the plan and,
// if stands is given, at where the controls stand now; a control that stands does not name is not looked at.
//
// It is refused if the plan is, and if a control has no position for what the plan sets.
//
// Source: the plan of [Plan]; common practice for what contradicts.
type ControlSettings struct {
	Line   Line       `json:"line" sym:"-"`                  // the equipment as it stands, with its controls
	Order  Order      `json:"order" sym:"-"`                 // what to make, and how much
	Shift  Shift      `json:"shift" sym:"-"`                 // today's conditions
	Stands []Standing `json:"stands,omitzero" items:"..100"` // where controls stand now; leave out if that is not to be looked at
}

// Standing is where one control stands.
type Standing struct {
	Control string `json:"control"` // its name on the line
	At      string `json:"at"`      // the position in the shop's words, or the number with its unit
}

// Setting is where one control stands for a product.
type Setting struct {
	Control string    `json:"control"`                     // its name on the line
	Machine string    `json:"machine"`                     // the machine that it is on
	Sets    Sets      `json:"sets"`                        // what it sets
	At      string    `json:"at,omitzero"`                 // where it stands: the position in the shop's words, or the number, rounded for reading; left out where the product leaves it alone
	Number  float64   `json:"number,omitzero" sym:"x_#"`   // the number with every digit, in unit; left out for a position
	Wanted  float64   `json:"wanted,omitzero" sym:"w_#"`   // what the plan asks for, where the step of the control rounds it
	Unit    string    `json:"unit,omitzero"`               // of both; left out for a plain number
	PerStep unit.Mass `json:"per_step,omitzero" sym:"p_#"` // of the mark: what one step of the handle weighs, one mark if it is stepless; below 0 if a higher mark weighs less
	More    string    `json:"more,omitzero"`               // which way is more: of the mark, heavier
	Less    string    `json:"less,omitzero"`               // which way is less
	Change  When      `json:"change"`                      // when it may be moved
	Stands  string    `json:"stands,omitzero"`             // where it stands now, if that was given
	Move    Move      `json:"move,omitzero"`               // what to do with it, if that was given

	step string // of the control itself, as its scale has it
}

// Move is what to do with a control.
type Move string

const (
	// Leave is a control that stands where it should, or that the product leaves alone.
	Leave Move = "leave"
	// MoveTo is a control to be put into another position.
	MoveTo Move = "move"
	// MoveMore is a number to be set the way that is more.
	MoveMore Move = "more"
	// MoveLess is a number to be set the way that is less.
	MoveLess Move = "less"
)

// In returns where the control stands in the units of a person's choice. A control with a step of its own is read to that step,
// and in the unit of that if it is one of the choice: that is what stands on its scale.
func (s *Setting) In(sys unit.System) string {
	if s.At == "" || !s.Sets.number() {
		return s.At
	}
	return s.Sets.shown(s.Number, s.step, sys)
}

// Contradiction is two controls that cannot stand so together.
type Contradiction struct {
	Control string `json:"control"`           // one control
	At      string `json:"at"`                // where it stands
	Other   string `json:"other,omitzero"`    // the other, or the part of the line that it is at odds with
	OtherAt string `json:"other_at,omitzero"` // where that stands
	Why     string `json:"why"`               // what would happen
}

// ControlSettingsResult is every setting, in walking order.
type ControlSettingsResult struct {
	Settings       []Setting       `json:"settings"`                // one for each control of the line, in its order
	Controls       int             `json:"controls" sym:"n"`        // controls of the line
	LeftAlone      int             `json:"left_alone" sym:"n_0"`    // those that this product leaves as they are
	Set            int             `json:"set" sym:"n_s"`           // those that it sets
	ToMove         int             `json:"to_move" sym:"n_m"`       // those that stand elsewhere now; 0 if that was not given
	Found          int             `json:"found" sym:"n_c"`         // contradictions
	Contradictions []Contradiction `json:"contradictions,omitzero"` // what contradicts itself, as set or as it stands; nothing runs before they are mended
	Conditions     Conditions      `json:"conditions"`              // contradiction, rounded
	Cautions       reckon.Cautions `json:"cautions"`                // moving-machinery, interlocks; locked-out, running-drive, roller-nip, lifting, oil-slip, flour-dust and stamper-cover where a control calls for them
}

func (ControlSettings) ID() string { return "control-settings" }

func (q ControlSettings) Check(c *reckon.Checks) {
	Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.under(c, "order")
	if len(q.Line.Controls) == 0 {
		c.Fail("line.controls", "empty", "the controls of the line, in walking order")
	}
	q.Line.checkStands(c, "stands", q.Stands)
}

// Solve has no answer if the plan has none.
func (q ControlSettings) Solve() (ControlSettingsResult, error) { return q.Append(nil) }

// Append is Solve with the settings appended to dst.
func (q ControlSettings) Append(dst []Setting) (out ControlSettingsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	plan, err := Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	if err != nil {
		nestPlan(&c, "order", err)
		return out, c.Err()
	}
	first := len(dst)
	list := q.Line.settings(&c, dst, &q.Order.Product, &plan)
	if !c.OK() {
		return out, c.Err()
	}
	out.Settings = list
	set := list[first:]
	out.Controls = len(set)
	at := func(i int) string { return set[i].At }
	out.Contradictions = q.Line.contradictions(nil, at)
	if len(q.Stands) > 0 {
		q.stand(set, &out)
	}
	for i := range set {
		s := &set[i]
		if s.At == "" {
			out.LeftAlone++
			continue
		}
		if s.Wanted != 0 { // the step has moved it
			out.Conditions |= reckon.Rounded
		}
		out.Cautions |= cautions(s.Sets, s.Change)
	}
	out.Set = out.Controls - out.LeftAlone
	if out.Found = len(out.Contradictions); out.Found > 0 {
		out.Conditions |= Contradictory
	}
	return out, nil
}

// stand says what to do with each control from where it stands.
func (q *ControlSettings) stand(set []Setting, out *ControlSettingsResult) {
	stands := make([]string, len(set))
	for _, s := range q.Stands {
		i := q.Line.control(s.Control)
		stands[i], set[i].Stands = s.At, s.At
		set[i].Move = set[i].from(s.At)
		if set[i].Move != Leave {
			out.ToMove++
		}
	}
	for _, k := range q.Line.contradictions(nil, func(i int) string { return stands[i] }) {
		if !slices.Contains(out.Contradictions, k) {
			out.Contradictions = append(out.Contradictions, k)
		}
	}
}

// from says what to do with a control that stands so.
func (s *Setting) from(at string) Move {
	switch {
	case s.At == "" || at == s.At:
		return Leave
	case !s.Sets.number():
		return MoveTo
	}
	now, _ := s.Sets.parse(at)
	return s.fromNumber(now)
}

// fromNumber says which way a number goes. On a scale that runs backwards the lower mark is the heavier.
func (s *Setting) fromNumber(now float64) Move {
	more := s.Number > now
	if s.PerStep < 0 {
		more = !more
	}
	switch {
	case s.same(now):
		return Leave
	case more:
		return MoveMore
	}
	return MoveLess
}

// same reports whether a number is the setting's, but for what binary arithmetic leaves over or a scale can be read to.
func (s *Setting) same(now float64) bool {
	d := now - s.Number
	return d*d <= float64(readable*readable)*max(s.Number*s.Number, 1e-6)
}

// readable is how far, as a part of it, a number read off a scale and written down may be off by rounding alone:
// numbers are shown to four figures.
const readable = 5e-4

func (q ControlSettings) Show(w *reckon.Working, out ControlSettingsResult) {
	plan, ok := Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.showFirst(w)
	if !ok {
		return
	}
	w.Heading("Controls")
	set := out.Settings[len(out.Settings)-out.Controls:]
	for i := range set {
		s, k := &set[i], &q.Line.Controls[i]
		if s.At == "" || !s.Sets.number() {
			continue
		}
		n := strconv.Itoa(i + 1)
		wanted, _ := k.plannedNumber(&q.Line, &q.Order.Product, &plan)
		k.showPlanned(w, "w_"+n, wanted)
		if k.Step == "" {
			w.Step(s.Control, "x_"+n, "w_"+n, s.Number, s.Unit, "as planned")
		} else {
			step, _ := k.Sets.parse(k.Step)
			w.Given("step of "+s.Control, "q_"+n, step, s.Unit, "as the line gives it")
			w.Step(s.Control, "x_"+n, "round(w_"+n+"/q_"+n+")*q_"+n, s.Number, s.Unit, "to the nearest step")
		}
		if s.Sets == SetsMark {
			w.Carried("weight of one mark, there", "b_x", float64(plan.Mark.PerMark), "g")
			if q.Line.Divider.MarkStep > 0 {
				w.Carried("step of the handle", "q", q.Line.Divider.MarkStep, "")
				w.Item(i+1, s, "weight of one step of the handle: p_# = b_x*q")
			} else {
				w.Item(i+1, s, "weight of one mark, as the handle is stepless: p_# = b_x")
			}
		}
	}
	const counted = "counted, control by control"
	w.Given("controls of the line", "n", float64(out.Controls), "", counted)
	w.Given("controls that the product leaves alone", "n_0", float64(out.LeftAlone), "", counted)
	w.Lines(out, "controls that it sets: n_s = n - n_0")
	w.Given("controls that stand elsewhere now", "n_m", float64(out.ToMove), "", counted)
	w.Given("contradictions", "n_c", float64(out.Found), "", counted)
}

// showPlanned records the number that a plan gives the control, from where the working of that plan has it.
func (k *Control) showPlanned(w *reckon.Working, symbol string, v float64) {
	held := ""
	if q := k.Sets.quantity(0); q != nil {
		held = unit.Describe(q).Held
	}
	words, from := k.Sets.inPlan()
	w.Carried(words, from, v, held)
	w.Step(k.Name+", what the plan asks for", symbol, from, v, held, "")
}

// inPlan returns the words and the symbol that the number of such a control has in a plan.
func (s Sets) inPlan() (words, symbol string) {
	switch s {
	case SetsMark:
		return "mark to set", "x_set"
	case SetsStrokes, SetsStamps:
		return "divider speed", "S_set"
	case SetsRounderSpeed:
		return "speed of the rounder", "q_r"
	case SetsSlide:
		return "slide to set", "X_set"
	case SetsBelt:
		return "speed of the belt", "v_b"
	case SetsFirstGap:
		return "gap of the first pair", "g_1"
	case SetsFirstNumber:
		return "number of the first pair", "n_1"
	case SetsLastGap:
		return "gap of the last pair", "g"
	case SetsLastNumber:
		return "number of the last pair", "n_2"
	case SetsGuides:
		return "distance between the guides", "G"
	case SetsBoardIn:
		return "height of the board where the piece enters", "h_in"
	}
	return "height of the board where it leaves", "h_out"
}

// Settings returns where each control stands for an order that was planned on the line, appended to dst. It returns an
// *[reckon.InputError] for each control that has no position for what the plan sets.
func (cl *Commissioned) Settings(dst []Setting, order *Order, plan *PlanResult) ([]Setting, error) {
	c := reckon.Checks{Func: ControlSettings{}.ID()}
	list := cl.line.settings(&c, dst, &order.Product, plan)
	return list, c.Err()
}

func (l *Line) settings(c *reckon.Checks, dst []Setting, p *Product, plan *PlanResult) []Setting {
	for i := range l.Controls {
		k := &l.Controls[i]
		s := Setting{Control: k.Name, Machine: k.Machine, Sets: k.Sets, More: k.More, Less: k.Less, Change: k.Change}
		if k.Sets.number() {
			if number, ok := k.plannedNumber(l, p, plan); ok {
				s.number(k, number)
				if k.Sets == SetsMark {
					s.PerStep = plan.Mark.PerMark
					if step := l.Divider.MarkStep; step > 0 {
						s.PerStep = unit.Mass(float64(s.PerStep) * step)
					}
				}
			}
		} else if word, ok := k.plannedWord(l, p, plan); ok {
			name, has := k.word(word)
			if !has {
				mark := c.Mark()
				c.Fail("positions", "none for "+strconv.Quote(word), "a position for it: "+p.Name+" needs it")
				c.Item(mark, "line.controls", i)
			}
			s.At = name
			if i := slices.Index(p.Fittings, k.Name); i >= 0 && word == out { // only fittings are named
				c.Fail("order.product.fittings["+strconv.Itoa(i)+"]", strconv.Quote(unit.Clip(k.Name)),
					"a fitting that goes in for route "+string(p.Route)+" beside the drum "+strconv.Quote(plan.Drum.Name)+", which the piece needs")
			}
		}
		dst = append(dst, s)
	}
	return dst
}

// number sets a number to the step of the control, if it has one.
func (s *Setting) number(k *Control, v float64) {
	s.Number, s.step = v, k.Step
	if step, ok := k.Sets.parse(k.Step); ok {
		if s.Number = nearest(v, step); s.Number != v {
			s.Wanted = v
		}
	}
	s.At = k.Sets.text(s.Number, unit.Metric)
	if q := k.Sets.quantity(0); q != nil {
		s.Unit = unit.Describe(q).Held
	}
}

// plannedWord returns the word that a plan gives a control that is no number, and false if the product leaves it alone.
func (k *Control) plannedWord(l *Line, p *Product, plan *PlanResult) (word string, ok bool) {
	stamped, moulded := p.Route == ToStamper, p.Route == ToMoulder
	switch k.Sets {
	case SetsAcross:
		return strconv.Itoa(p.Across), true
	case SetsRoute:
		return string(p.Route), true
	case SetsMoulder:
		return either(moulded, on, off), true
	case SetsStampMode:
		return either(stamped, string(l.Stamper.Mode), string(molder.OffStamp)), true
	case SetsSpin:
		return string(l.Stamper.Spin), stamped
	case SetsDuster:
		i := slices.IndexFunc(plan.Dusting, func(d Dusting) bool { return d.Name == k.Of })
		return either(i >= 0 && plan.Dusting[i].Flour.FlourPerPiece > 0, on, off), true
	case SetsOil:
		return open, true
	case SetsChain:
		return plan.Chain.Name, moulded
	case SetsDrum:
		return plan.Drum.Name, true
	case SetsFitting:
		return either(k.goesIn(p.Route, plan.Drum.Name, plan.Drum.TakesOut, p.Fittings), inPut, out), true
	}
	return "", false
}

// goesIn reports whether a fitting is in for such a product.
func (k *Control) goesIn(route Route, drum string, takesOut, named []string) bool {
	return !slices.Contains(takesOut, k.Name) && (k.Route == "" || k.Route == route) &&
		(len(k.Drums) == 0 || slices.Contains(k.Drums, drum)) && (!k.ByName || slices.Contains(named, k.Name))
}

func (k *Control) plannedNumber(l *Line, p *Product, plan *PlanResult) (number float64, ok bool) {
	moulded := p.Route == ToMoulder
	switch k.Sets {
	case SetsMark:
		return plan.Mark.Set, true
	case SetsStrokes:
		return float64(plan.Strokes), true
	case SetsStamps:
		return float64(plan.Strokes), p.Route == ToStamper && l.Stamper.Mode == molder.ContinuousStamp
	case SetsRounderSpeed:
		return float64(p.Rounding.Speed), true
	case SetsSlide:
		i := slices.IndexFunc(plan.Dusting, func(d Dusting) bool { return d.Name == k.Of })
		if i < 0 {
			return 0, false
		}
		return plan.Dusting[i].Slide.Slide, true
	case SetsBelt:
		i := slices.IndexFunc(l.Belts, func(b Belt) bool { return b.Name == k.Of })
		return float64(l.Belts[i].BeltSpeed), l.Belts[i].Route == "" || l.Belts[i].Route == p.Route
	case SetsFirstGap:
		return float64(plan.Rollers.FirstGap), moulded
	case SetsFirstNumber:
		return plan.Rollers.FirstNumber, moulded
	case SetsLastGap:
		return float64(plan.Gap.Gap), moulded
	case SetsLastNumber:
		return plan.Rollers.LastNumber, moulded
	case SetsGuides:
		return float64(plan.Guides.Guides), moulded
	case SetsBoardIn:
		return float64(plan.Heights.HeightIn), moulded
	case SetsBoardOut:
		return float64(plan.Heights.HeightOut), moulded
	}
	return 0, false
}

func either(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// cautions are those of moving such a control at such a moment.
func cautions(sets Sets, when When) reckon.Cautions {
	out := reckon.MovingMachinery | reckon.Interlocks
	switch when {
	case LockedOut:
		out |= reckon.LockedOut
	case Running:
		out |= reckon.RunningDrive
	}
	switch sets {
	case SetsDrum:
		out |= reckon.LockedOut | reckon.Lifting
	case SetsStampMode, SetsStamps, SetsSpin:
		out |= reckon.StamperCover
	case SetsFirstGap, SetsFirstNumber, SetsLastGap, SetsLastNumber:
		out |= reckon.RollerNip
	case SetsOil:
		out |= reckon.OilSlip
	case SetsDuster, SetsSlide:
		out |= reckon.FlourDust
	}
	return out
}
