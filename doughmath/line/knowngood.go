package line

import (
	"math"
	"reflect"
	"slices"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// KnownGood asks what ran well before, beside what today's plan sets, and what has changed since:
//
//	m_i = sum(r_ij - w_ij) / n_i
//	x_i = w_i + m_i, to the step of the control
//	l_i = min(r_ij),  h_i = max(r_ij)
//	b_i is the slope of the straight line through r_ij over j, as in [divider.MarkFit]
//	y_l = min(y_j),  y_h = max(y_j)
//	counted: R records, N of them good and among the last so many
//
// with y_j the mean piece weight of the good run j, r_ij where control i stood in it, w_ij what was planned for it then and w_i what is planned
// today. So x_i is where to start: today's plan, moved by as much as the good runs differed from theirs. Of a run whose
// plan could not be made any more, only where the controls stood counts.
// A control drifts if b_i is farther from 0 than Student's t times its standard deviation at 95 %; that takes four runs.
// It holds as far as the runs are alike: what differs from the last good one is listed, so judge by that.
//
// It is refused if:
//   - the plan of today is, or a value in a record,
//   - a record is of another line or of another product,
//   - records are not in the order of their days, or none is good.
//
// Source: common practice (start from the last good set-up); least squares as in [divider.MarkFit]; cases in
// testdata/cases/line/known-good.json.
type KnownGood struct {
	Line    Line        `json:"line" sym:"-"`                   // the equipment as it stands today
	Order   Order       `json:"order" sym:"-"`                  // what is to be made
	Shift   Shift       `json:"shift" sym:"-"`                  // today's conditions
	Records []RunRecord `json:"records" sym:"-" items:"1..200"` // runs of this product on this line, the oldest first
	Last    int         `json:"last" range:"1..200"`            // good runs to look at, the last ones
}

// KnownSetting is where one control stood in the good runs, and where to start today.
type KnownSetting struct {
	Control  string  `json:"control"`                   // its name on the line
	Sets     Sets    `json:"sets"`                      // what it sets
	Planned  string  `json:"planned,omitzero"`          // where today's plan sets it; left out where the product leaves it alone
	Known    string  `json:"known,omitzero"`            // where it stood in the last good run; left out if no record says
	Start    string  `json:"start,omitzero"`            // where to start: of a number x, of a position the one planned
	Number   float64 `json:"number,omitzero" sym:"x_#"` // x with every digit, in unit
	Plan     float64 `json:"plan,omitzero" sym:"w_#"`   // w, what is planned today
	Offset   float64 `json:"offset,omitzero" sym:"m_#"` // m, by how much the good runs differed from their plans
	Low      float64 `json:"low,omitzero" sym:"l_#"`    // lowest in the good runs
	High     float64 `json:"high,omitzero" sym:"h_#"`   // highest
	Drift    float64 `json:"drift,omitzero" sym:"b_#"`  // b, change from run to run; left out with fewer than three
	Unit     string  `json:"unit,omitzero"`             // of all these
	Runs     int     `json:"runs" sym:"n_#"`            // good runs that name it
	Drifting bool    `json:"drifting,omitzero"`         // true if the drift is more than chance
	Outside  bool    `json:"outside,omitzero"`          // true if today's plan lies outside what was good: of a position, if it was never good
	Says     string  `json:"says,omitzero"`             // the same in words, in metric units
	step     string  // of the control, if it has one of its own
}

// In is what Says says, in the units of a person's choice and to the step of the control.
func (s *KnownSetting) In(sys unit.System) string {
	if s.Says == "" || !s.Sets.number() {
		return s.Says
	}
	return s.says(func(v float64) string { return s.Sets.shown(v, s.step, sys) })
}

// StartIn is where to start, as Start says, in the units of a person's choice and to the step of the control.
func (s *KnownSetting) StartIn(sys unit.System) string {
	if s.Start == "" || !s.Sets.number() {
		return s.Start
	}
	return s.Sets.shown(s.Number, s.step, sys)
}

// says says of a number where it stood in good runs.
func (s *KnownSetting) says(reads func(float64) string) string {
	text := runs(s.Runs) + " " + reads(s.Low)
	if s.High != s.Low {
		text += " to " + reads(s.High)
	}
	return text + ", today's plan " + reads(s.Plan)
}

// KnownGoodResult is what ran well, control by control.
type KnownGoodResult struct {
	Settings   []KnownSetting  `json:"settings"`                     // in walking order
	Records    int             `json:"records" sym:"R"`              // records looked at
	Good       int             `json:"good" sym:"N"`                 // good runs among the last so many
	LastGood   string          `json:"last_good"`                    // day of the last good run
	Changed    []Difference    `json:"changed,omitzero"`             // what differs from the last good run in line, product and day; up to 60
	MeanLow    unit.Mass       `json:"mean_low,omitzero" sym:"y_l"`  // lowest mean piece weight of the good runs that weighed
	MeanHigh   unit.Mass       `json:"mean_high,omitzero" sym:"y_h"` // highest
	Target     unit.Mass       `json:"target"`                       // today's
	Conditions Conditions      `json:"conditions"`                   // few-runs, outside-good, drifting, changed-since
	Cautions   reckon.Cautions `json:"cautions"`                     // moving-machinery, interlocks
}

func (KnownGood) ID() string { return "known-good" }

func (q KnownGood) Check(c *reckon.Checks) {
	Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.under(c, "order")
	if len(q.Line.Controls) == 0 {
		c.Fail("line.controls", "empty", "the controls of the line, in walking order")
	}
	switch n := len(q.Records); {
	case n == 0:
		c.Fail("records", "empty", "1 to 200 records")
	case reckon.CheckItems(c, "records", n, mostRecords):
		good := false
		for i := range q.Records {
			mark := c.Mark()
			q.checkRecord(c, i)
			c.Item(mark, "records", i)
			good = good || q.Records[i].Good
		}
		if !good {
			c.Fail("records[0].good", "false", "true for at least one of the records: there is no good run to start from")
		}
	}
	reckon.CheckCount(c, "last", q.Last, 1, mostRecords)
}

func (q *KnownGood) checkRecord(c *reckon.Checks, i int) {
	r := &q.Records[i]
	r.check(c)
	if r.Line.Name != q.Line.Name {
		c.Fail("line.name", strconv.Quote(unit.Clip(r.Line.Name)), "a record of the same line, "+strconv.Quote(unit.Clip(q.Line.Name)))
	}
	if p := r.Order.Product.Name; p != q.Order.Product.Name {
		c.Fail("order.product.name", strconv.Quote(unit.Clip(p)), "a record of the same product, "+strconv.Quote(unit.Clip(q.Order.Product.Name)))
	}
	if i > 0 && r.Date < q.Records[i-1].Date && isDay(r.Date) && isDay(q.Records[i-1].Date) {
		c.Fail("date", strconv.Quote(unit.Clip(r.Date)), "no day before "+q.Records[i-1].Date+": the oldest first")
	}
}

// Solve has no answer if today's plan has none.
func (q KnownGood) Solve() (KnownGoodResult, error) { return q.Append(nil) }

// Append is Solve with the settings appended to dst.
func (q KnownGood) Append(dst []KnownSetting) (out KnownGoodResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	today, plan, err := planned(Plan{Line: q.Line, Order: q.Order, Shift: q.Shift})
	if err != nil {
		nestPlan(&c, "order", err)
		return out, c.Err()
	}
	good := q.good()
	last := &q.Records[good[len(good)-1]]
	out = KnownGoodResult{Records: len(q.Records), Good: len(good), LastGood: last.Date, Target: plan.Target, Cautions: reckon.MovingMachinery | reckon.Interlocks}
	then := make([][]Setting, len(good)) // what was planned in each run; nil where there is no plan any more
	for j, at := range good {
		r := &q.Records[at]
		then[j], _, _ = planned(r.plan())
		if r.Mean > 0 {
			if out.MeanLow == 0 || r.Mean < out.MeanLow {
				out.MeanLow = r.Mean
			}
			out.MeanHigh = max(out.MeanHigh, r.Mean)
		}
	}
	for i := range today {
		s := known(&q.Line, &today[i], i)
		q.look(&s, &today[i], good, then)
		if s.Outside {
			out.Conditions |= OutsideGood
		}
		if s.Drifting {
			out.Conditions |= Drifting
		}
		dst = append(dst, s)
	}
	if len(good) < 3 {
		out.Conditions |= FewRuns
	}
	for _, part := range [...]struct {
		path    string
		was, is any
	}{{"line", last.Line, q.Line}, {"order", last.Order, q.Order}, {"shift", last.Shift, q.Shift}} {
		out.Changed = differences(out.Changed, part.path, reflect.ValueOf(part.was), reflect.ValueOf(part.is))
	}
	if len(out.Changed) > 0 {
		out.Conditions |= ChangedSince
	}
	out.Settings = dst
	return out, nil
}

// planned returns where every control stands by a plan.
func planned(q Plan) ([]Setting, *PlanResult, error) {
	cl, err := Commission(q.Line)
	if err != nil {
		return nil, nil, err
	}
	var plan PlanResult
	if err := cl.PlanInto(&plan, &q.Order, &q.Shift, nil); err != nil {
		return nil, nil, err
	}
	list, err := cl.Settings(nil, &q.Order, &plan)
	return list, &plan, err
}

// good lists the last good runs, by the index of their records.
func (q *KnownGood) good() []int {
	var list []int
	for i := len(q.Records) - 1; i >= 0 && len(list) < q.Last; i-- {
		if q.Records[i].Good {
			list = append(list, i)
		}
	}
	slices.Reverse(list)
	return list
}

func known(l *Line, today *Setting, i int) KnownSetting {
	k := &l.Controls[i]
	return KnownSetting{Control: today.Control, Sets: k.Sets, Planned: today.At, Start: today.At, Number: today.Number, Plan: today.Number, Unit: today.Unit, step: k.Step}
}

// look finds where the control stood in the good runs.
func (q *KnownGood) look(s *KnownSetting, today *Setting, good []int, then [][]Setting) {
	var trials []divider.Trial
	var numbers []float64
	offset, offsets := 0.0, 0
	met, alike := false, true
	for j, at := range good {
		r := &q.Records[at]
		i := slices.IndexFunc(r.Settings, func(k Standing) bool { return k.Control == s.Control })
		if k := r.Line.control(s.Control); i < 0 || r.Line.Controls[k].Sets != s.Sets {
			continue
		}
		alike = alike && (s.Runs == 0 || s.Known == r.Settings[i].At)
		s.Runs++
		s.Known = r.Settings[i].At
		if !s.Sets.number() {
			met = met || s.Known == s.Planned
			continue
		}
		v, _ := s.Sets.parse(s.Known)
		numbers = append(numbers, v)
		trials = append(trials, divider.Trial{Mark: float64(j), Pieces: 1})
		if p := slices.IndexFunc(then[j], func(k Setting) bool { return k.Control == s.Control && k.At != "" }); p >= 0 {
			offset += v - then[j][p].Number
			offsets++
		}
	}
	switch {
	case s.Runs == 0 || today.At == "":
		return
	case !s.Sets.number():
		s.Outside = !met
		s.Says = runs(s.Runs) + either(alike, " at ", " differ, the last at ") + s.Known + ", today's plan " + s.Planned
		return
	}
	if offsets > 0 {
		s.Offset = offset / float64(offsets)
	}
	s.Low, s.High = slices.Min(numbers), slices.Max(numbers)
	q.start(s)
	s.Outside = s.Plan < s.Low && !today.same(s.Low) || s.Plan > s.High && !today.same(s.High)
	s.drift(trials, numbers)
	s.Says = s.says(func(v float64) string { return s.Sets.text(v, unit.Metric) })
}

// runs says how many runs there are.
func runs(n int) string {
	if n == 1 {
		return "last run"
	}
	return "last " + strconv.Itoa(n) + " runs"
}

// start moves today's plan by what the good runs differed from theirs, to the step of the control.
func (q *KnownGood) start(s *KnownSetting) {
	s.Number = s.Plan + s.Offset
	if step := q.Line.step(q.Line.control(s.Control)); step > 0 {
		s.Number = nearest(s.Number, step)
	}
	s.Start = s.Sets.text(s.Number, unit.Metric)
}

// step is the finest step of a control, its own or that of the machine; 0 if it has none.
func (l *Line) step(i int) float64 {
	k := &l.Controls[i]
	switch k.Sets {
	case SetsMark:
		return l.Divider.MarkStep
	case SetsStrokes:
		return float64(l.Divider.StrokeStep)
	case SetsLastGap:
		return float64(l.Moulder.GapStep)
	case SetsSlide:
		if d := slices.IndexFunc(l.Dusters, func(d Duster) bool { return d.Name == k.Of }); d >= 0 {
			return l.Dusters[d].SlideStep
		}
	}
	step, _ := k.Sets.parse(k.Step)
	return step
}

// drift fits a straight line through the numbers as run, one run after the other. The fit takes weights above zero: they
// are counted from one below the lowest. There is none through fewer than three, nor where all are the same.
func (s *KnownSetting) drift(trials []divider.Trial, numbers []float64) {
	for i, v := range numbers {
		trials[i].Weight = unit.Mass(v - s.Low + 1)
	}
	fit, err := divider.MarkFit{Trials: trials, Confidence: driftConfidence, Shape: divider.Straight, Weighting: divider.EqualWeights}.Solve()
	if err != nil {
		return
	}
	s.Drift = float64(fit.Slope)
	s.Drifting = len(numbers) >= 4 && math.Abs(s.Drift) > fit.Calibration.StudentT*float64(fit.SlopeSD)
}

// driftConfidence is how sure to be that a control drifts: the usual level.
const driftConfidence unit.Percent = 95
