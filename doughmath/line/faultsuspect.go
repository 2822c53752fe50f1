package line

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// sure is how many standard uncertainties a value has to lie beyond its limit to be named a cause: a
// coverage factor of 2, for a confidence of about 95 %. Source: JCGM 100:2008 (GUM), 6.2 and G.6.6.
const sure = 2

// Side is which way a value has to be off to be a cause.
type Side int

const (
	// TooLittle is a value that is a cause if it is too small.
	TooLittle Side = -1
	// EitherWay is a value that is a cause if it is too small or too large.
	EitherWay Side = 0
	// TooMuch is a value that is a cause if it is too large.
	TooMuch Side = 1
)

// Beyond returns how far a value lies beyond its limit, in its own standard uncertainties; below 0 if it does not.
func (s Side) Beyond(value, limit, uncertainty float64) float64 {
	off := (value - limit) / uncertainty
	if s == EitherWay {
		return math.Abs(off)
	}
	return float64(float64(s) * off)
}

// form is the same as an expression.
func (s Side) form(n string) string {
	switch s {
	case TooLittle:
		return "(l_" + n + " - v_" + n + ")/u_" + n
	case EitherWay:
		return "abs(v_" + n + " - l_" + n + ")/u_" + n
	}
	return "(v_" + n + " - l_" + n + ")/u_" + n
}

// RankCauses puts causes into order: what lies farthest beyond its limit, in its own uncertainty, comes first. Equals
// stay as they were.
func RankCauses[T any](list []T, beyond func(*T) float64) {
	slices.SortStableFunc(list, func(a, b T) int { return cmp.Compare(beyond(&b), beyond(&a)) })
}

// fault is one symptom on its way through what may cause it.
type fault struct {
	q       *FaultCauses
	c       *reckon.Checks // what a calculation refused of the readings
	cl      Commissioned
	plan    PlanResult
	verdict *divider.WeighingVerdict // of the weighings, if there are any
	weight  divider.WeighingVerdictResult
	stopped bool // the weighings say nothing of the mark
	found   []suspect
	out     FaultCausesResult
}

// suspect is a cause with how its working comes about.
type suspect struct {
	Cause
	what         string // what value is, such as "speed of the moulder belt"
	side         Side
	in, moved    kind // the quantities of value and limit, and of where the control stands
	v, l, u      figure
	x, y         figure                  // where the control stands and is to stand
	of           string                  // the duster or belt
	advice       string                  // what to do where there is no control to set
	show, showTo func(w *reckon.Working) // the calculation, and the one that says where to set the control
}

// kind makes a quantity of a number; nil for a plain number.
type kind func(float64) unit.Quantity

func gram(v float64) unit.Quantity    { return unit.Mass(v) }
func celsius(v float64) unit.Quantity { return unit.Celsius(v) }
func second(v float64) unit.Quantity  { return unit.Duration(v) }
func stroke(v float64) unit.Quantity  { return unit.StrokeRate(v) }
func speed(v float64) unit.Quantity   { return unit.Speed(v) }
func flow(v float64) unit.Quantity    { return unit.MassRate(v) }
func length(v float64) unit.Quantity  { return unit.Length(v) }
func turn(v float64) unit.Quantity    { return unit.RotationRate(v) }
func growing(v float64) unit.Quantity { return unit.GrowthRate(v) }

func (k kind) text(v float64) string {
	if k == nil {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return k(v).In(unit.Metric)
}

// apart is the text of a difference of two of them.
func (k kind) apart(v float64) string {
	if k != nil {
		if _, temp := k(v).(unit.Temp); temp {
			return unit.TempDelta(v).String()
		}
	}
	return k.text(v)
}

func (k kind) unit() string {
	if k == nil {
		return ""
	}
	return unit.Describe(k(0)).Held
}

// figure is a number and where a working has it from: a reading, the plan, or an expression in which # is the
// number of the cause.
type figure struct {
	v    float64
	from string // "reading" or "plan", otherwise an expression
}

func read(v float64) figure                { return figure{v, "reading"} }
func asPlanned(v float64) figure           { return figure{v, "plan"} }
func worked(v float64, from string) figure { return figure{v, from} }
func (g figure) write(w *reckon.Working, words, symbol, n, held string) {
	switch g.from {
	case "reading":
		w.Given(words, symbol+n, g.v, held, "")
	case "plan":
		w.Carried(words, symbol+n, g.v, held)
	default:
		w.Step(words, symbol+n, strings.ReplaceAll(g.from, "#", n), g.v, held, "")
	}
}

// counted is the uncertainty of something counted or timed, as a part of it.
func (f *fault) counted(v float64) figure {
	return worked(v*float64(f.q.Instruments.Counting)/100, "v_#*r_c/100")
}

// scaled is that of something weighed.
func (f *fault) scaled(v float64) figure {
	return worked(v*float64(f.q.Instruments.Scale)/100, "v_#*r_s/100")
}

// wrong notes what a calculation refused of the readings.
func (f *fault) wrong(err error) { f.c.Nest("readings", err) }

// need notes what was not measured, and for which cause.
func (f *fault) need(cause CauseName, calculation, measure string) {
	for i := range f.out.Measure {
		if m := &f.out.Measure[i]; m.Measure == measure {
			m.For = append(m.For, Suspected{cause, calculation})
			return
		}
	}
	f.out.Measure = append(f.out.Measure, ToMeasure{measure, []Suspected{{cause, calculation}}})
}

// judge names a suspect as a cause, or clears it.
func (f *fault) judge(s suspect) {
	s.Value, s.Limit, s.Uncertainty, s.Unit = s.v.v, s.l.v, s.u.v, s.in.unit()
	s.Beyond = s.side.Beyond(s.Value, s.Limit, s.Uncertainty)
	bound := map[Side]string{TooLittle: "at least ", EitherWay: "", TooMuch: "at most "}[s.side]
	s.Says = strings.ToUpper(s.what[:1]) + s.what[1:] + ": " + s.in.text(s.Value) + ", against " + bound + s.in.text(s.Limit) + "."
	if !(s.Beyond > sure) {
		f.out.Cleared = append(f.out.Cleared, Cleared{s.Cause.Cause, s.Says})
		return
	}
	f.move(&s)
	f.found = append(f.found, s)
}

// move says which control to set, which way and how far.
func (f *fault) move(s *suspect) {
	if s.Sets == "" {
		s.Do, s.Cautions = s.advice, reckon.MovingMachinery|reckon.Interlocks
		return
	}
	step, name := 0.0, ""
	s.Control, s.Change = s.Sets.trade(s.of)
	up, down := "up", "down"
	if k := f.q.Line.controlFor(s.Sets, s.of); k != nil {
		s.Control, s.Change, name = k.Name, k.Change, k.Name
		up, down = cmp.Or(k.More, up), cmp.Or(k.Less, down)
		step, _ = k.Sets.parse(k.Step)
	}
	s.Cautions = cautions(s.Sets, s.Change)
	if step > 0 && s.y.v != nearest(s.y.v, step) {
		before, asked := s.showTo, s.y
		s.y = worked(nearest(s.y.v, step), "round(y_p/q_s)*q_s")
		s.showTo = func(w *reckon.Working) {
			if before != nil {
				before(w)
			}
			asked.write(w, "where it is asked for", "y_p", "", s.moved.unit())
			w.Given("step of "+name, "q_s", step, s.moved.unit(), "as the line gives it")
		}
	}
	if s.x.v == s.y.v {
		s.Do = "Leave " + s.Control + " at " + s.moved.text(s.x.v) + ": no step comes nearer to what is asked for."
		if s.advice != "" {
			s.Do += " " + s.advice
		}
		return
	}
	s.Stands, s.SetTo, s.By, s.MoveUnit = s.x.v, s.y.v, s.y.v-s.x.v, s.moved.unit()
	s.Move, s.Way = MoveMore, up
	if heavier := s.By > 0; heavier == (s.Sets == SetsMark && f.plan.Mark.PerMark < 0) {
		s.Move, s.Way = MoveLess, down
	}
	s.Do = "Set " + s.Control + ", " + s.Way + " by " + s.moved.apart(math.Abs(s.By)) + ", to " + s.moved.text(s.SetTo) + s.Change.how() + "."
	if s.Sets == SetsMark {
		s.Do += " Weigh again: every change of the mark is followed by a weighing."
	}
	if s.advice != "" {
		s.Do += " " + s.advice
	}
}

// how says when such a control is moved.
func (k When) how() string {
	switch k {
	case Running:
		return ", while it runs and from outside the guards"
	case Stopped:
		return ", with the line stopped"
	case LockedOut:
		return ", after stopping, isolating and locking out"
	}
	return ""
}

// trade returns what the trade calls a control that the line does not name, and when such a one is moved.
func (s Sets) trade(of string) (name string, when When) {
	switch s {
	case SetsMark:
		return "the handle of the divider", Stopped
	case SetsStrokes:
		return "the speed of divider and overhead proofer", Running
	case SetsStamps:
		return "the speed of the stamper", Running
	case SetsRounderSpeed:
		return "the speed of the rounder", Running
	case SetsBelt:
		return "the speed of the " + of, Running
	case SetsSlide:
		return "the slide of the duster " + of, AnyTime
	case SetsFirstGap:
		return "the first rollers", Stopped
	case SetsLastGap:
		return "the last rollers", Stopped
	case SetsGuides:
		return "the side guides", Stopped
	case SetsBoardIn:
		return "the pressure board, where the piece enters", Stopped
	case SetsBoardOut:
		return "the pressure board, where it leaves", Stopped
	case SetsDrum:
		return "the rounding drum", LockedOut
	case SetsStampMode:
		return "what makes the stamper stamp", Stopped
	}
	return "the spin of the die", Stopped
}

// controlFor returns the control of the line that sets that, or nil.
func (l *Line) controlFor(sets Sets, of string) *Control {
	for i := range l.Controls {
		if k := &l.Controls[i]; k.Sets == sets && k.Of == of {
			return k
		}
	}
	return nil
}

// write shows how a cause comes about.
func (s *suspect) write(w *reckon.Working, i int) {
	n := strconv.Itoa(i)
	w.Heading(s.what)
	if s.show != nil {
		s.show(w)
	}
	held := s.in.unit()
	s.v.write(w, s.what, "v_", n, held)
	s.l.write(w, "how far it may go", "l_", n, held)
	var temp unit.Temp
	var apart unit.TempDelta
	if held == unit.Describe(temp).Held {
		held = unit.Describe(apart).Held
	}
	s.u.write(w, "standard uncertainty", "u_", n, held)
	w.Step("beyond it, in uncertainties", "b_"+n, s.side.form(n), s.Beyond, "", "")
	if s.Move == "" {
		return
	}
	if s.showTo != nil {
		s.showTo(w)
	}
	held = s.moved.unit()
	s.x.write(w, "where "+s.Control+" stands", "x_", n, held)
	s.y.write(w, "where to set it", "y_", n, held)
	w.Step("how far", "d_"+n, "y_"+n+" - x_"+n, s.By, held, "")
}
