package exercise

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A FaultSpec says which "what would you change" exercise to make: a plan that
// came out wrong, with what was measured.
type FaultSpec struct {
	Fault string      `json:"fault,omitzero"` // one of [Faults]; left out, the seed picks one
	Units unit.System `json:"units,omitzero"` // metric unless US is chosen
	Seed  int64       `json:"seed,omitzero"`  // up to [MaxSeed]
}

// A FaultExercise shows a plan, a symptom and measurements, and asks what is
// to blame most and what to set.
type FaultExercise struct {
	Spec    FaultSpec     `json:"spec"` // makes it again
	Setting string        `json:"setting"`
	Symptom string        `json:"symptom"`
	Plan    []Compared    `json:"plan"`    // each value as planned and as measured
	Choices []string      `json:"choices"` // ids of what may be to blame, in the order of Plan
	Change  *Exercise     `json:"change"`  // what to set, with things as they are; the Spec of the fault makes it, its own does not
	Hazards []reckon.Note `json:"hazards,omitzero"`

	causes []Cause
}

// Compared is a value as planned and as measured.
type Compared struct {
	ID       string `json:"id"`
	Words    string `json:"words"`
	Planned  string `json:"planned"`
	Measured string `json:"measured"`
}

// A Cause is what one value that is off its plan does to what came out.
type Cause struct {
	ID       string  `json:"id"`       // of the value, as in Choices
	Words    string  `json:"words"`    // "flour temperature"
	Explains string  `json:"explains"` // what it alone would have made of the plan, with its unit
	Share    float64 `json:"share"`    // of the whole difference, in percent; negative if it works against it
	Beyond   float64 `json:"beyond"`   // how far that lies off the plan, in tolerances of the answer; negative likewise
}

// fault is a kind of trouble: a calculation whose answer came out otherwise.
type fault struct {
	name, calculation, out string
	symptom                string   // with %p for the planned and %m for the measured value
	blamed                 []string // the inputs that may be off
	control                string   // the calculation that finds what to set
	sets                   string   // its output
	takes                  map[string]string
	ranges                 []Range
}

// faults are the kinds of trouble, in the order in which dough passes. takes
// says from where the control takes its inputs: the name of an input as
// measured, or "plan" for what was to come out.
var faults = []fault{
	{
		"dough-off-temperature", "dough-temperature-for-water", "dough_temp", "The dough was to leave the mixer at %p and came out at %m.",
		[]string{"water_temp", "flour_temp", "room", "friction"},
		"water-temperature", "water_temp",
		map[string]string{"target_temp": "plan", "flour_temp": "flour_temp", "room": "room", "friction": "friction", "friction_basis": "friction_basis"},
		nil,
	},
	{
		"pieces-off-weight", "chamber-weight", "weight", "The pieces were to weigh %p and weigh %m.",
		[]string{"gas", "gas_free", "chamber"},
		"volume-for-chamber-weight", "volume",
		map[string]string{"weight": "plan", "gas_free": "gas_free", "gas": "gas", "ambient": "ambient", "chamber": "chamber"},
		nil,
	},
	{
		"hopper-off-time", "hopper-time", "time", "The batch was to be through the hopper in %p and took %m.",
		[]string{"batch", "dough_rate"},
		"batch-for-hopper-time", "batch",
		map[string]string{"time_limit": "plan", "dough_rate": "dough_rate"},
		[]Range{{"batch", "80 kg", "140 kg", ""}, {"dough_rate", "300 kg/h", "600 kg/h", ""}},
	},
	{
		"proof-off-time", "proofer-dwell", "dwell", "The pieces were to stay %p in the overhead proofer and stayed %m.",
		[]string{"strokes", "proofer.last_pass_trays"},
		"strokes-for-dwell", "strokes",
		map[string]string{
			"dwell": "plan", "proofer.pockets": "proofer.pockets", "proofer.trays": "proofer.trays", "proofer.last_pass_trays": "proofer.last_pass_trays",
			"proofer.trays_per_stroke": "proofer.trays_per_stroke", "across": "across",
		},
		nil,
	},
	{
		"pieces-too-close", "piece-spacing", "gap", "The pieces were to have a gap of %p on the belt and have %m.",
		[]string{"belt", "piece_rate", "piece_length"},
		"belt-for-gap", "belt",
		map[string]string{"gap": "plan", "piece_rate": "piece_rate", "piece_length": "piece_length"},
		nil,
	},
	{
		"loaf-off-weight", "baked-weight-for-dough", "baked", "The loaves were to weigh %p baked and weigh %m.",
		[]string{"dough", "bake.percent", "cooling.percent"},
		"scaling-weight", "dough",
		map[string]string{
			"baked": "plan", "bake.percent": "bake.percent", "cooling.percent": "cooling.percent", "fermentation.percent": "none", "combine": "combine",
			"bake.basis": "bake.basis", "cooling.basis": "cooling.basis", "fermentation.basis": "bake.basis",
		},
		nil,
	},
}

// Faults returns the kinds of trouble.
func Faults() []string {
	names := make([]string, len(faults))
	for i := range faults {
		names[i] = faults[i].name
	}
	return names
}

// How a plan goes wrong: one value clearly, the others a little; and what it
// takes to tell the main cause from the next.
const (
	mainCause     = 2.0 // times the effect of the next
	leastSymptom  = 3.0 // times the tolerance of what came out
	littlePermill = 20
	mainPermill   = 100
)

// Make makes the exercise.
//
// It returns an *[reckon.InputError] for everything that is wrong with the FaultSpec.
func (s FaultSpec) Make() (*FaultExercise, error) {
	c := reckon.Checks{Func: refusal}
	checkSeed(&c, s.Seed)
	checkUnits(&c, s.Units)
	at := slices.IndexFunc(faults, func(f fault) bool { return f.name == s.Fault })
	if s.Fault != "" && at < 0 {
		reckon.CheckWord(&c, "fault", s.Fault, Faults()...)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	d := newDraw(uint64(s.Seed), faultStream)
	if at < 0 {
		at = d.n(len(faults))
		s.Fault = faults[at].name
	}
	for range mostDraws {
		if e := d.fault(&faults[at], s); e != nil {
			return e, nil
		}
	}
	return nil, &reckon.NoSolutionError{Func: refusal, Unknown: "value in the ranges", Wanted: "the fault " + s.Fault, Advice: "take another seed"}
}

// faultDrawn is a plan and what became of it.
type faultDrawn struct {
	fault             *fault
	form              *form
	outlet            *outlet
	system            unit.System
	planned, measured drawn
	out, found        float64 // what was to come out, and what did
}

// fault draws a plan and its trouble, or returns nil if it teaches nothing.
func (d draw) fault(kind *fault, s FaultSpec) *FaultExercise {
	spec := Spec{Calculation: kind.calculation, Asked: kind.out, Units: s.Units, Ranges: kind.ranges}
	var c reckon.Checks
	f, asks, own := spec.check(&c)
	if !c.OK() {
		return nil // a test finds it
	}
	x := &faultDrawn{fault: kind, form: f, outlet: asks[0], system: s.Units, planned: newDrawn(f), measured: newDrawn(f)}
	d.values(f, &x.planned, s.Units, own, nil)
	if !x.plan() {
		return nil
	}
	asked, ok := newAsked(x.outlet, x.out, s.Units)
	if !ok {
		return nil
	}
	d.goWrong(x)
	if x.found, ok = x.comesTo(&x.measured); !ok || math.Abs(x.found-x.out) < leastSymptom*asked.tolerance {
		return nil
	}
	causes := oneByOne(x)
	if len(causes) < 2 || causes[0].Share < mainCause*math.Abs(causes[1].Share) || causes[0].Share <= 0 {
		return nil
	}
	change := d.change(x, asked)
	if change == nil {
		return nil
	}
	e := &FaultExercise{Spec: s, Setting: d.setting(f.entry.Station), causes: causes, Change: change, Hazards: change.Hazards}
	e.Symptom = strings.NewReplacer("%p", asked.write(x.outlet.quantity, x.out), "%m", asked.write(x.outlet.quantity, x.found)).Replace(kind.symptom)
	for _, path := range kind.blamed {
		i := f.slotAt(path)
		e.Plan = append(e.Plan, Compared{path, f.slots[i].words, x.planned.texts[i], x.measured.texts[i]})
		e.Choices = append(e.Choices, path)
	}
	return e
}

func newDrawn(f *form) drawn {
	return drawn{texts: make([]string, len(f.slots)), held: make([]float64, len(f.slots))}
}

// goWrong measures what was planned: one value is well off, the others hardly.
func (d draw) goWrong(x *faultDrawn) {
	main := d.n(len(x.fault.blamed))
	texts := slices.Clone(x.planned.texts)
	for n, path := range x.fault.blamed {
		i := x.form.slotAt(path)
		g := &x.form.slots[i].grids[x.system]
		if len(g.fixed) > 0 {
			continue
		}
		number, _, _ := strings.Cut(texts[i], " ")
		at, err := strconv.ParseFloat(number, 64)
		if err != nil {
			continue
		}
		step := float64(g.tenths) * powerOfTen(-g.decimals)
		k := int64(math.Round(at / step))
		off := int64(d.n(3) - 1)
		if n == main {
			off = max((g.high-g.low)/4, 2)
			if _, temp := x.form.slots[i].quantity.(unit.Temp); !temp { // a share of any other value
				off = max(k*mainPermill/1000, 2)
			}
			if off += int64(d.n(int(off))); d.n(2) == 0 {
				off = -off
			}
		} else if g.high-g.low > 40 {
			off *= max(1, k*littlePermill/1000)
		}
		texts[i] = g.text(k + off)
	}
	for i, text := range texts {
		x.measured.set(x.form, i, text)
	}
	x.measured.close(x.form)
}

// comesTo is what the calculation makes of the values.
func (x *faultDrawn) comesTo(v *drawn) (float64, bool) {
	r, err := x.form.entry.Eval(v.input, calc.Options{})
	if err != nil {
		return 0, false
	}
	held, ok := x.outlet.value(reflect.ValueOf(r.Value()))
	return held, ok && !math.IsNaN(held) && held != 0
}

// plan is what the plan comes to; it has to be one that a shop would make.
func (x *faultDrawn) plan() (ok bool) {
	x.out, ok = x.comesTo(&x.planned)
	return ok && x.outlet.shop.holds(x.out)
}

// oneByOne puts each value as measured into the plan alone, and ranks what comes of it as the causes on a line are ranked:
// by how far it lies off the plan, the way that the symptom does.
func oneByOne(x *faultDrawn) []Cause {
	var out []Cause
	side := line.TooMuch
	if x.found < x.out {
		side = line.TooLittle
	}
	plan, _ := newAsked(x.outlet, x.out, x.system)
	for _, path := range x.fault.blamed {
		at := x.form.slotAt(path)
		v := newDrawn(x.form)
		for i := range x.form.slots {
			text := x.planned.texts[i]
			if i == at {
				text = x.measured.texts[i]
			}
			v.set(x.form, i, text)
		}
		v.close(x.form)
		alone, ok := x.comesTo(&v)
		if !ok {
			return nil
		}
		a, _ := newAsked(x.outlet, alone, x.system)
		out = append(out, Cause{path, x.form.slots[at].words, a.write(x.outlet.quantity, alone), float64(100*(alone-x.out)/(x.found-x.out)) + 0, float64(side.Beyond(alone, x.out, plan.tolerance)) + 0})
	}
	line.RankCauses(out, func(c *Cause) float64 { return c.Beyond })
	return out
}

// change is the exercise that finds what to set, with everything as measured
// and what was to come out.
func (d draw) change(x *faultDrawn, asked Asked) *Exercise {
	spec := Spec{Calculation: x.fault.control, Asked: x.fault.sets, Units: x.system}
	var c reckon.Checks
	f, asks, _ := spec.check(&c)
	if !c.OK() {
		return nil
	}
	carried := map[string]string{}
	for path, from := range x.fault.takes {
		switch from {
		case "plan":
			carried[path] = asked.write(x.outlet.quantity, x.out)
		case "none":
			carried[path] = "0 %"
		default:
			carried[path] = x.measured.texts[x.form.slotAt(from)]
		}
	}
	v := newDrawn(f)
	for range mostStudyDraws {
		d.values(f, &v, x.system, nil, carried)
		if e := build(f, asks[0], spec, &v, false); e != nil {
			d.dress(f, e, spec, &v)
			e.Setting = ""
			e.Given = slices.DeleteFunc(e.Given, func(g Given) bool {
				part, _, _ := strings.Cut(g.Field, ".")
				return x.fault.takes[part+".percent"] == "none"
			})
			return e
		}
	}
	return nil
}

// mostStudyDraws is how often the rest of the values is drawn for values that are carried.
const mostStudyDraws = 8

// Causes is the key: what is to blame, the most first.
func (e *FaultExercise) Causes() []Cause { return slices.Clone(e.causes) }

// String is the exercise as it is handed out.
func (e *FaultExercise) String() string {
	var b strings.Builder
	b.WriteString(e.Setting + " " + e.Symptom + " What would you change?\n\n")
	for i, p := range e.Plan {
		b.WriteString("  (" + string(rune('a'+i)) + ") " + p.Words + ": planned " + p.Planned + ", measured " + p.Measured + "\n")
	}
	b.WriteString("\nWhich of these is to blame most? Rank them.\nThen, with everything as measured: " + e.Change.Question + "\n\n")
	for _, line := range e.Change.Lines() {
		b.WriteString("  " + line + "\n")
	}
	b.WriteString("\nFind: " + e.Change.Asked.Words + ", " + e.Change.Asked.Text() + ".\n")
	for _, h := range e.Hazards {
		b.WriteString("Take care: " + h.Says + "\n")
	}
	if len(e.Hazards) > 0 {
		b.WriteString(reckon.CautionDeference + "\n")
	}
	return b.String()
}

// A FaultMark is what an answer to a fault is worth.
type FaultMark struct {
	Cause  Mark    `json:"cause"`
	Change Mark    `json:"change"`
	Score  float64 `json:"score"` // 0 to 1: half for the causes, half for the change
}

// Mark marks a ranking of the causes, by their ids or letters with the most to
// blame first, and the value to set. The first of the ranking decides; those
// behind it may be left out.
func (e *FaultExercise) Mark(ranking []string, change string) FaultMark {
	m := FaultMark{Change: e.Change.Mark(change)}
	m.Cause = e.markRanking(ranking)
	m.Score = (m.Cause.Score + m.Change.Score) / 2
	return m
}

func (e *FaultExercise) markRanking(ranking []string) Mark {
	if len(ranking) == 0 {
		return Mark{Verdict: Empty, Says: "There is no answer yet."}
	}
	if len(ranking) > len(e.Choices) {
		return Mark{Verdict: Unread, Says: "Name each of the values once, the most to blame first."}
	}
	at := -1
	name := strings.ToLower(strings.Trim(strings.TrimSpace(unit.Clip(ranking[0])), "()"))
	for i, id := range e.Choices {
		if name == id || name == string(rune('a'+i)) {
			at = i
		}
	}
	if at < 0 {
		return Mark{Verdict: Unread, Says: "Name one of the values by its letter."}
	}
	for i, c := range e.causes {
		if c.ID != e.Choices[at] {
			continue
		}
		switch {
		case i == 0:
			return Mark{Verdict: Right, Score: rightScore, Read: c.Words, Says: "Right."}
		case c.Share > 0:
			return Mark{Verdict: Wrong, Read: c.Words, Says: "It has a part in it: alone it would have made " + c.Explains + ". Something else does more."}
		}
	}
	return Mark{Verdict: Wrong, Read: e.Plan[at].Words, Says: "That is hardly off its plan, or works the other way: put each value as measured into the plan alone and see what comes out."}
}
