package line

import (
	"slices"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// FaultCauses asks why pieces are not as wanted: which of the things that may cause it is off, by
// how much, and which control to move, which way and how far:
//
//	b_i = (v_i - l_i) / u_i, (l_i - v_i) / u_i or |v_i - l_i| / u_i
//	d_i = y_i - x_i
//	a cause if b_i > 2, n of them
//	the handle is left alone from a_low to a_high, if the mean x_m of the weighings lies there
//
// Each cause is a calculation of its own, run on the plan and on what was measured: v is what it gives for the line as
// found, l how far that may go, u the standard uncertainty of v, from how closely the instruments read or from the scatter of
// what was weighed. A cause is named if v lies beyond l by more than twice u, and the one that lies farthest in its
// own u comes first. Which of the three forms b has depends on whether too much, too little or either is the fault.
// The control then stands at x and is to stand at y; y is where the plan sets it, or what the calculation asks for with the
// line as found. Change the first, and look again before the next.
//
// Nothing is taken for granted: what was not measured is no cause, and the answer says what to measure for it. What
// no calculation knows is a named check: where to look, and what is seen if that is the cause. The handle
// is only moved if [divider.WeighingVerdict] finds that the mark is the matter; whatever else it finds, the handle is left alone.
//
// It holds as far as each calculation does, and while one thing at a time is off. Readings that the symptom has no use for
// are not looked at.
//
// It is refused if:
//   - the plan is,
//   - the symptom is one of a machine that this product does not pass,
//   - weighings say the opposite of the symptom,
//   - a reading is of something that the line does not have,
//   - instruments lacks how closely a reading was taken.
//
// Source: the calculations named with each cause; twice the standard uncertainty: JCGM 100:2008 (GUM), 6.2 and G.6.6; named checks and
// cautions: common practice; cases in testdata/cases/line/fault-causes.json.
type FaultCauses struct {
	Line        Line        `json:"line" sym:"-"`                 // the equipment as it should stand
	Order       Order       `json:"order" sym:"-"`                // what is made
	Shift       Shift       `json:"shift" sym:"-"`                // today's conditions, as planned with
	Symptom     Symptom     `json:"symptom"`                      // what is wrong
	Readings    Readings    `json:"readings,omitzero" sym:"-"`    // what was measured at the line; leave out for what to measure
	Instruments Instruments `json:"instruments,omitzero" sym:"-"` // how closely it was measured
}

// Readings is what was measured at the line as it runs. Each is left out if it was not.
type Readings struct {
	Weighings []unit.Mass              `json:"weighings,omitzero" range:"1 mg..100 kg" items:"..1000"` // single pieces of one subgroup, behind the divider
	SD        unit.Mass                `json:"sd,omitzero" range:"0.001 mg..100 kg"`                   // standard deviation of single pieces, of a steady run; leave out for that of the product's check
	Mark      *float64                 `json:"mark,omitzero" range:"-"`                                // where the handle stands; mark_low to mark_high
	Lanes     []divider.LaneWeighing   `json:"lanes,omitzero" items:"..32"`                            // each lane weighed by itself
	Hopper    []divider.HopperWeighing `json:"hopper,omitzero" items:"..10000"`                        // mean weights through one batch, from its tipping; 3 or more with the mark left alone

	DoughTemp   unit.Temp      `json:"dough_temp,omitzero" range:"0 °C..50 °C"`              // of the dough at the end of mixing
	Stood       unit.Duration  `json:"stood,omitzero" range:"1 s..24 h"`                     // how long the last dough of a batch stood in the hopper
	HopperDough unit.Mass      `json:"hopper_dough,omitzero" range:"1 g..10 t"`              // dough in the hopper when the pieces were bad
	Cycle       unit.Duration  `json:"cycle,omitzero" range:"1 s..24 h"`                     // from one batch to the next, as mixed
	Racks       int            `json:"racks,omitzero" range:"1..100000"`                     // racks, boxes or carriers that go round
	Stickiness  float64        `json:"stickiness,omitzero" range:"0..1000"`                  // of today's dough, on the bakery's own scale
	Air         *Around        `json:"air,omitzero"`                                         // the air of the overhead proofer, and what the piece stands of it
	Grown       unit.Length    `json:"grown,omitzero" range:"1 mm..1000 mm"`                 // diameter of the piece in its pocket, as it leaves
	OnBelt      unit.Length    `json:"on_belt,omitzero" range:"1 mm..5 m"`                   // length or diameter of a piece as it lies on the belt in front of the moulder
	Lengths     []unit.Length  `json:"lengths,omitzero" range:"5 mm..2 m" items:"..100"`     // moulded pieces that have come to rest
	Sheets      []unit.Length  `json:"sheets,omitzero" range:"0.1 mm..200 mm" items:"..100"` // sheets behind the last rollers, in their middle
	Flour       []FlourReading `json:"flour,omitzero" items:"..10"`                          // flour caught under the dusters
	Belts       []BeltReading  `json:"belts,omitzero" items:"..100"`                         // belts that have a speed of their own

	Strokes      unit.StrokeRate   `json:"strokes,omitzero" range:"0.01 strokes/min..1000 strokes/min"` // speed of divider and overhead proofer, counted
	Stamps       unit.StrokeRate   `json:"stamps,omitzero" range:"0.01 strokes/min..1000 strokes/min"`  // of the stamper, counted
	StampMode    molder.StampMode  `json:"stamp_mode,omitzero"`                                         // how the stamper is set
	Spin         molder.Spin       `json:"spin,omitzero"`                                               // whether the die turns
	RounderSpeed unit.RotationRate `json:"rounder_speed,omitzero" range:"0.1 rev/min..1000 rev/min"`    // of the rounder, counted
	Drum         string            `json:"drum,omitzero"`                                               // the rounding drum that is in, by its name
	FirstGap     unit.Length       `json:"first_gap,omitzero" range:"0.05 mm..200 mm"`                  // of the first pair of rollers
	LastGap      unit.Length       `json:"last_gap,omitzero" range:"0.05 mm..200 mm"`                   // of the last pair, or of the only one
	Guides       unit.Length       `json:"guides,omitzero" range:"5 mm..2 m"`                           // how far apart the side guides stand
	BoardIn      unit.Length       `json:"board_in,omitzero" range:"1 mm..500 mm"`                      // height of the pressure board where the piece enters
	BoardOut     unit.Length       `json:"board_out,omitzero" range:"1 mm..500 mm"`                     // height where it leaves
}

// FlourReading is the flour caught under one duster.
type FlourReading struct {
	Duster    string        `json:"duster"`                               // its name on the line
	FlourRate unit.MassRate `json:"flour_rate" range:"0 kg/h..1000 kg/h"` // flour caught in a time, with the line running
}

// BeltReading is the speed of one belt.
type BeltReading struct {
	Belt      string     `json:"belt"`                                // its name on the line
	BeltSpeed unit.Speed `json:"belt_speed" range:"0.1 mm/s..10 m/s"` // timed over a length of it
}

// Around is the air of the overhead proofer, and what this piece stands of it.
type Around struct {
	Air        proof.Air         `json:"air"`                             // of the proofer
	Activity   float64           `json:"water_activity" range:"0.8..1"`   // as in [proof.Surface]; about 0.97 for bread dough
	Warming    unit.Duration     `json:"warming" range:"1 s..24 h"`       // time constant with which the surface follows the air: see [proof.WarmingForSurface]
	Origin     proof.ValueOrigin `json:"origin"`                          // "measured" or "assumed": where both come from
	SurfaceIn  unit.Temp         `json:"surface_in" range:"0 °C..50 °C"`  // surface of the piece as it comes into the proofer
	SweatLimit unit.Duration     `json:"sweating_limit" range:"0 s..7 d"` // how long this product may sweat before it sticks or blisters: from trials
	DryLimit   unit.Duration     `json:"drying_limit" range:"0 s..7 d"`   // how long it may dry before it skins: from trials
}

// Instruments is how closely the readings were taken, each as a standard uncertainty. Of an instrument that is
// known to be off by no more than so much it is that divided by the square root of 3.
type Instruments struct {
	Thermometer unit.TempDelta `json:"thermometer,omitzero" range:"0.01 C°..5 C°"` // of dough and surfaces
	Rule        unit.Length    `json:"rule,omitzero" range:"0.01 mm..20 mm"`       // of pieces, guides and the heights of the board
	Gauge       unit.Length    `json:"gauge,omitzero" range:"0.001 mm..5 mm"`      // of roller gaps and sheets
	Counting    unit.Percent   `json:"counting,omitzero" range:"0.01 %..20 %"`     // of speeds that are counted or timed, and of times
	Scale       unit.Percent   `json:"scale,omitzero" range:"0.01 %..20 %"`        // of flour caught and dough in the hopper
	Handle      float64        `json:"handle,omitzero" range:"1e-6..1e6"`          // of the mark, in marks, where the handle moves freely; one with steps is read to its step
	Stickiness  float64        `json:"stickiness,omitzero" range:"0.01..100"`      // of the bakery's own scale of stickiness
}

// Cause is one thing that is off, and what to do about it.
type Cause struct {
	Cause       CauseName `json:"cause"`                     // what is to blame
	Calculation string    `json:"calculation"`               // id of the calculation behind it
	Says        string    `json:"says"`                      // what was found against what may be
	Do          string    `json:"do"`                        // what to do
	Next        string    `json:"next"`                      // what to weigh, measure or look at to tell it from another cause
	Value       float64   `json:"value" sym:"v_#"`           // what the calculation gives for the line as found, in unit
	Limit       float64   `json:"limit" sym:"l_#"`           // how far it may go
	Uncertainty float64   `json:"uncertainty" sym:"u_#"`     // standard uncertainty of value, less limit
	Beyond      float64   `json:"beyond" sym:"b_#"`          // how far value lies beyond limit, in uncertainties
	Unit        string    `json:"unit,omitzero"`             // of the three; left out for a plain number
	Control     string    `json:"control,omitzero"`          // what to move: its name on the line, the trade's word where the line names none; left out where it is not for a control
	Sets        Sets      `json:"sets,omitzero"`             // what it sets
	Move        Move      `json:"move,omitzero"`             // "more", "less" or "move"
	Way         string    `json:"way,omitzero"`              // the line's word for that way
	Stands      float64   `json:"stands,omitzero" sym:"x_#"` // where it stands, in move_unit
	SetTo       float64   `json:"set_to,omitzero" sym:"y_#"` // where to set it; left out if that is not known or is a position
	By          float64   `json:"by,omitzero" sym:"d_#"`     // how far that is
	MoveUnit    string    `json:"move_unit,omitzero"`        // of the three
	At          string    `json:"at,omitzero"`               // the position to set, of a control that is no number
	Change      When      `json:"change,omitzero"`           // when it may be moved

	Cautions reckon.Cautions `json:"cautions"` // of moving it
}

// Elsewhere is a control that is no number and stands in another position than planned: no matter of degree, so
// that it is mended before anything is ranked.
type Elsewhere struct {
	Cause       CauseName       `json:"cause"`       // what is to blame
	Calculation string          `json:"calculation"` // id of the calculation that the plan has the position from
	Says        string          `json:"says"`        // what to do, and why
	Control     string          `json:"control"`     // its name on the line, the trade's word where the line names none
	Stands      string          `json:"stands"`      // where it stands
	SetTo       string          `json:"set_to"`      // where to put it
	Change      When            `json:"change"`      // when it may be moved
	Cautions    reckon.Cautions `json:"cautions"`    // of moving it
}

// ToMeasure is something that was not measured.
type ToMeasure struct {
	Measure string      `json:"measure"` // what to measure, and where
	For     []Suspected `json:"for"`     // what it will tell about
}

// Suspected is something that may be to blame.
type Suspected struct {
	Cause       CauseName `json:"cause"`       // what may be to blame
	Calculation string    `json:"calculation"` // id of the calculation that will tell
}

// Cleared is something that was measured and is not to blame.
type Cleared struct {
	Cause CauseName `json:"cause"` // what is not to blame
	Says  string    `json:"says"`  // what was found against what may be
}

// Look is a named check: a cause that no calculation knows.
type Look struct {
	At   string `json:"at"`   // what to look at
	Do   string `json:"do"`   // how
	Seen string `json:"seen"` // what is seen if it is the cause
}

// FaultCausesResult is the causes, the likeliest first.
type FaultCausesResult struct {
	Says      string          `json:"says"`                       // what the answer comes to
	Finding   divider.Finding `json:"finding,omitzero"`           // what the weighings show: "steady", "mark" or a piece that is not whole
	Mean      unit.Mass       `json:"mean,omitzero" sym:"x_m"`    // mean of the weighings
	Low       unit.Mass       `json:"low,omitzero" sym:"a_low"`   // lowest mean at which the handle is left alone
	High      unit.Mass       `json:"high,omitzero" sym:"a_high"` // highest
	Elsewhere []Elsewhere     `json:"elsewhere,omitzero"`         // what stands in another position than planned: mend it first
	Found     int             `json:"found" sym:"n"`              // causes
	Causes    []Cause         `json:"causes"`                     // what is off, the farthest beyond its limit first; empty if nothing measured is
	Cleared   []Cleared       `json:"cleared,omitzero"`           // what was measured and is not to blame
	Measure   []ToMeasure     `json:"measure,omitzero"`           // what may be to blame and was not measured
	Look      []Look          `json:"look"`                       // what no calculation knows, and where to look for it

	Conditions Conditions      `json:"conditions"` // nothing-found, more-than-one, fresh-subgroup-first
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, interlocks, locked-out, moving-belt; running-drive, roller-nip, stamper-cover, lifting, flour-dust where the control to move has them; oil-slip and flour-dust where to look at the oil or the dusters
}

func (FaultCauses) ID() string { return "fault-causes" }

func (q FaultCauses) Check(c *reckon.Checks) {
	Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.under(c, "order")
	q.checkFound(c)
}

// checkFound tells what is wrong beside the plan.
func (q *FaultCauses) checkFound(c *reckon.Checks) {
	q.checkSymptom(c)
	mark := c.Mark()
	q.Readings.check(c, &q.Line)
	c.Under(mark, "readings")
	q.Readings.checkThere(c, &q.Line)
	if len(q.Readings.Weighings) > 0 && q.Readings.SD == 0 && q.Order.Product.Check == (Check{}) {
		c.Fail("readings.sd", "missing", "how single pieces scatter while the divider is steady: weighings are judged by it")
	}
	mark = c.Mark()
	q.Instruments.check(c, &q.Readings, q.Line.Divider.MarkStep)
	c.Under(mark, "instruments")
}

func (q *FaultCauses) checkSymptom(c *reckon.Checks) {
	words := make([]Symptom, len(symptoms))
	for i := range symptoms {
		words[i] = symptoms[i].symptom
		if k := &symptoms[i]; k.symptom == q.Symptom {
			if k.route != "" && k.route != q.Order.Product.Route {
				c.Fail("symptom", strconv.Quote(string(q.Symptom)), "a symptom of what this product passes: it does not go by the "+string(k.route))
			}
			return
		}
	}
	reckon.CheckWord(c, "symptom", q.Symptom, words...)
}

// Solve has no answer if the plan has none.
func (q FaultCauses) Solve() (FaultCausesResult, error) {
	f, err := q.solve()
	return f.out, err
}

func (q *FaultCauses) solve() (f fault, err error) {
	c := reckon.Checks{Func: q.ID()}
	f.q = q
	if f.cl, err = Commission(q.Line); err == nil {
		err = f.cl.PlanInto(&f.plan, &q.Order, &q.Shift, nil)
	}
	if q.checkFound(&c); err != nil || !c.OK() {
		return fault{}, q.refusal(err)
	}
	f.out.Cautions = reckon.MovingMachinery | reckon.Interlocks | reckon.LockedOut | reckon.MovingBelt
	at := slices.IndexFunc(symptoms[:], func(k symptomOf) bool { return k.symptom == q.Symptom })
	f.c = &c
	f.weigh()
	if c.OK() {
		f.out.Look = append(f.out.Look, symptoms[at].look...)
		f.lookSafely()
		symptoms[at].suspect(&f)
	}
	if !c.OK() {
		return fault{}, c.Err()
	}
	f.close()
	return f, nil
}

// refusal is all that is wrong, also what stands behind what the plan stopped at. A plan that is made needs no Check before it.
func (q *FaultCauses) refusal(ofPlan error) error {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); c.OK() {
		nestPlan(&c, "order", ofPlan)
	}
	return c.Err()
}

// lookSafely adds what to take care of where a look brings people close to oil or flour.
func (f *fault) lookSafely() {
	for _, k := range f.out.Look {
		switch k {
		case lookOil:
			f.out.Cautions |= reckon.OilSlip
		case lookDuster:
			f.out.Cautions |= reckon.FlourDust
		}
	}
}

// close ranks what was found and says what it comes to.
func (f *fault) close() {
	RankCauses(f.found, func(s *suspect) float64 { return s.Beyond })
	f.out.Found = len(f.found)
	f.out.Causes = make([]Cause, f.out.Found)
	for i := range f.found {
		f.out.Causes[i] = f.found[i].Cause
		f.out.Cautions |= f.found[i].Cautions
	}
	switch n := len(f.found); {
	case len(f.out.Elsewhere) > 0:
		f.out.Says = f.out.Elsewhere[0].Says + " Mend that first, and look again before you change anything else."
		if n+len(f.out.Elsewhere) > 1 {
			f.out.Conditions |= MoreThanOne
		}
	case f.stopped && f.q.Symptom.ofWeight():
		f.out.Says = "The pieces weighed are not whole, or scatter otherwise than they did: leave the handle alone, find out why, and weigh a fresh subgroup."
		f.out.Conditions |= FreshFirst
	case n == 0 && f.out.Finding == divider.FoundSteady && f.q.Symptom.ofWeight():
		f.out.Says = "The mean of the pieces lies where the handle is left alone: leave it."
		f.out.Conditions |= NothingFound
	case n == 0 && len(f.out.Measure) > 0:
		f.out.Says = "Nothing that was measured is off: measure what is listed, and look where nothing can be measured."
		f.out.Conditions |= NothingFound
	case n == 0:
		f.out.Says = "Nothing that was measured is off: look where nothing can be measured."
		f.out.Conditions |= NothingFound
	case n == 1:
		f.out.Says = f.found[0].Says + " " + f.found[0].Do
	default:
		f.out.Says = f.found[0].Says + " " + f.found[0].Do + " Change that first, and look again before you change anything else."
		f.out.Conditions |= MoreThanOne
	}
}

// ofWeight reports whether the symptom is one that only the weight of pieces shows.
func (s Symptom) ofWeight() bool { return s == TooLight || s == TooHeavy }

func (q FaultCauses) Show(w *reckon.Working, _ FaultCausesResult) {
	if _, ok := (Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}).showFirst(w); !ok {
		return
	}
	f, err := q.solve()
	if err != nil {
		return
	}
	if f.verdict != nil {
		w.Heading("Pieces weighed")
		f.showVerdict(w)
	}
	for i := range f.found {
		f.found[i].write(w, i+1)
	}
	w.Given("causes", "n", float64(f.out.Found), "", "counted, cause by cause")
}
