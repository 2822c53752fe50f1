package exercise

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A draw is the course of chance behind one exercise. It is made of whole
// numbers alone, so that it is the same on every machine.
type draw struct{ chance *rand.Rand }

func newDraw(seed, number uint64) draw { return draw{rand.New(rand.NewPCG(seed, number))} }

// The courses of chance that one seed starts.
const (
	valueStream uint64 = iota
	askStream
	setStream
	caseStream
	faultStream
	formStream
)

// n returns a whole number from 0 to n-1.
func (d draw) n(n int) int { return d.chance.IntN(n) }

// mostDraws is how often values are drawn anew before it is said that none
// makes an exercise.
const mostDraws = 400

// drawn is one set of values.
type drawn struct {
	texts []string
	held  []float64
	input []byte
}

// exercise draws values until they make an exercise, or returns nil. own holds
// an instructor's grids, carried the texts that stand for certain slots.
func (d draw) exercise(f *form, o *outlet, s Spec, own []grid, carried map[string]string) *Exercise {
	v := drawn{texts: make([]string, len(f.slots)), held: make([]float64, len(f.slots))}
	for range mostDraws {
		d.values(f, &v, s.Units, own, carried)
		if e := build(f, o, s, &v, false); e != nil {
			d.dress(f, e, s, &v)
			return e
		}
	}
	return nil
}

// values draws a value for every slot.
func (d draw) values(f *form, v *drawn, system unit.System, own []grid, carried map[string]string) {
	var factors [64]int64 // by list, in permille; 0 until drawn
	v.input = v.input[:0]
	for i := range f.slots {
		s := &f.slots[i]
		text, ok := carried[s.path]
		g := &s.grids[system]
		if own != nil && own[i].tenths > 0 {
			g = &own[i]
		}
		switch {
		case ok:
		case s.choices != nil:
			text = s.choices[0]
			if len(s.choices) > 1 {
				text = s.choices[d.n(len(s.choices))]
			}
		case len(g.fixed) > 0:
			text = g.fixed[d.n(len(g.fixed))]
		case s.list > 0 && s.list < len(factors) && (own == nil || own[i].tenths == 0):
			if factors[s.list] == 0 {
				factors[s.list] = int64(1000 - togetherPermille + d.n(2*togetherPermille+1))
			}
			n := (g.middle*factors[s.list] + 500) / 1000
			if math.Abs(float64(g.middle)) >= 30 {
				n += int64(d.n(3) - 1)
			}
			text = g.text(n)
		default:
			text = g.text(g.low + d.chance.Int64N(g.high-g.low+1))
		}
		v.set(f, i, text)
	}
	v.close(f)
}

// set fills a slot; close ends the JSON after the last.
func (v *drawn) set(f *form, i int, text string) {
	v.texts[i], v.held[i] = text, math.NaN()
	if s := &f.slots[i]; s.choices == nil {
		v.held[i], _ = readBound(text, s.quantity)
	}
	v.input = append(append(v.input, f.literal[i]...), text...)
}

func (v *drawn) close(f *form) { v.input = append(v.input, f.literal[len(f.slots)]...) }

// build evaluates the values and returns the exercise that they make: nil if
// they are refused, remarked upon as the example is not, or if the answer is no
// answer. For a student's own values, lenient, remarks and mistakes do not matter.
func build(f *form, o *outlet, s Spec, v *drawn, lenient bool) *Exercise {
	r, err := f.entry.Eval(v.input, calc.Options{})
	if err != nil {
		return nil
	}
	for _, c := range r.Conditions {
		if !lenient && !slices.Contains(f.remarks, c.Word) && !slices.Contains(harmless, c.Word) {
			return nil
		}
	}
	answer := reflect.ValueOf(r.Value())
	held, ok := o.value(answer)
	if !ok || math.IsNaN(held) || math.IsInf(held, 0) || !lenient && !o.shop.holds(held) {
		return nil
	}
	a, ok := newAsked(o, held, s.Units)
	if !ok || isGiven(f, o, v, held, a.tolerance) {
		return nil
	}
	e := &Exercise{Spec: s, Asked: a, Station: f.entry.Station, Question: f.entry.Question, form: f, outlet: o, held: held, texts: slices.Clone(v.texts), input: slices.Clone(v.input)}
	e.Spec.Calculation = f.entry.ID
	e.Spec.Asked = o.path
	if !e.addMistakes(f, v, answer) && !lenient {
		return nil
	}
	if r.Cautions != 0 {
		e.Hazards = r.Cautions.Notes()
	}
	return e
}

// harmless are conditions that tell of no oddity in the values.
var harmless = []string{"rounded", "part-pass", "below-label", "longer-than-guides", "leftover-dough"}

// isGiven reports whether the answer is among what is given: then nothing is
// left to work out, or nothing changes. Of a list, a mean may lie near an item.
func isGiven(f *form, o *outlet, v *drawn, held, tolerance float64) bool {
	kind := reflect.TypeOf(o.quantity)
	for i := range f.slots {
		s := &f.slots[i]
		if s.choices != nil || reflect.TypeOf(s.quantity) != kind {
			continue
		}
		reach := tolerance
		if s.list > 0 {
			reach = slack * math.Abs(held)
		}
		if math.Abs(v.held[i]-held) <= reach {
			return true
		}
	}
	return false
}

// dress gives the exercise its words: setting, givens, conversions and distractors.
func (d draw) dress(f *form, e *Exercise, s Spec, v *drawn) {
	e.Setting = d.setting(f.entry.Station)
	e.Given = make([]Given, 0, len(f.slots)+s.Distractors)
	var convertible []int
	for i := range f.slots {
		slot := &f.slots[i]
		if slot.hidden || !e.outlet.needs[i] {
			continue
		}
		g := Given{Field: slot.path, Group: slot.group, Words: slot.words, Symbol: slot.symbol, Text: v.texts[i]}
		if slot.name == "base" && s.Units == unit.US {
			g.Words += aboveFreezing
		}
		if slot.choices != nil {
			g.Words, g.Text = wordText(slot.name, slot.words, v.texts[i])
		} else if _, symbol, ok := strings.Cut(v.texts[i], " "); ok && slot.list == 0 && otherUnits[symbol] != nil {
			convertible = append(convertible, len(e.Given))
		}
		e.Given = append(e.Given, g)
	}
	for range s.Conversions {
		if len(convertible) == 0 {
			break
		}
		k := d.n(len(convertible))
		g := &e.Given[convertible[k]]
		convertible = slices.Delete(convertible, k, k+1)
		if text, ok := d.converted(g.Text); ok {
			g.Text, g.Converted = text, true
			e.Difficulty.Conversions++
		}
	}
	e.addTables()
	e.Given = append(e.Given, e.outlet.relations...)
	e.distract(d, f, s)
	e.Difficulty.Steps = e.outlet.stepsBy[f.wording(v.texts)]
}

// setting picks where an exercise of the station plays.
func (d draw) setting(station string) string {
	opening, ok := settings[station]
	if !ok {
		opening = settings["line"]
	}
	return opening[d.n(len(opening))]
}

// otherUnits are the units in which a value may be given besides the usual one,
// with the power of ten, or the factor, that makes the number.
var otherUnits = map[string][]struct {
	unit     string
	mul, div float64
}{
	"g":          {{"kg", 1, 1000}},
	"kg":         {{"g", 1000, 1}},
	"mm":         {{"cm", 1, 10}},
	"m":          {{"cm", 100, 1}},
	"min":        {{"s", 60, 1}},
	"h":          {{"min", 60, 1}},
	"s":          {{"ms", 1000, 1}},
	"m/min":      {{"mm/s", 1000, 60}},
	"pieces/min": {{"pieces/h", 60, 1}},
	"l":          {{"ml", 1000, 1}},
	"ml":         {{"l", 1, 1000}},
	"kPa":        {{"bar", 1, 100}, {"hPa", 10, 1}},
	"kJ":         {{"MJ", 1, 1000}},
	"lb":         {{"oz", 16, 1}},
	"ft":         {{"in", 12, 1}},
	"US gal":     {{"US fl oz", 128, 1}},
}

// addTables tells the constants that the answer rests on and that come from a
// table or a source: a student cannot work out Student's t.
func (e *Exercise) addTables() {
	if len(e.outlet.tables) == 0 {
		return
	}
	r, err := e.form.entry.Eval(e.input, calc.Options{Working: true})
	if err != nil {
		return // it was evaluated before
	}
	for _, symbol := range e.outlet.tables {
		i := slices.IndexFunc(r.Working, func(s reckon.Step) bool {
			return s.Symbol == symbol && s.Kind != reckon.WorkedStep && s.Kind != reckon.CheckStep
		})
		if i < 0 {
			continue
		}
		s := r.Working[i]
		g := Given{Words: s.ID, Symbol: s.Symbol, Table: true}
		if zero := kindOfHeld(s.Unit); zero != nil {
			in := (&outlet{quantity: zero}).unitOf(s.Value, e.Spec.Units)
			g.Text = figures(shown(zero, s.Value, in), tableFigures) + " " + in
		} else {
			g.Text = strings.TrimSpace(figures(s.Value, tableFigures) + " " + s.Unit)
		}
		e.Given = append(e.Given, g)
	}
}

// tableFigures is how many figures a constant is told with.
const tableFigures = 5

// figures writes v with so many significant figures.
func figures(v float64, n int) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		return ""
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// The numbers that people write.
const leastConverted, mostConverted = 0.1, 20_000

// converted gives a value in another unit, if it comes out as a short number there.
func (d draw) converted(text string) (string, bool) {
	number, symbol, _ := strings.Cut(text, " ")
	others := otherUnits[symbol]
	other := others[d.n(len(others))]
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return "", false
	}
	out := strconv.FormatFloat(float64(v*other.mul)/other.div, 'f', -1, 64)
	if w, err := strconv.ParseFloat(out, 64); err != nil || len(out) > 7 || math.Abs(w) < leastConverted || math.Abs(w) > mostConverted {
		return "", false // nobody writes it so
	}
	return out + " " + other.unit, true
}

// aboveFreezing says how a sum of temperatures is counted where 32 is freezing.
const aboveFreezing = ", each factor counted in degrees above freezing"

// distract adds values that are not needed, at places among the others.
func (e *Exercise) distract(d draw, f *form, s Spec) {
	var fitting []int
	for i := range distractions {
		if !f.names[distractions[i].name] {
			fitting = append(fitting, i)
		}
	}
	for range s.Distractors {
		if len(fitting) == 0 {
			return
		}
		k := d.n(len(fitting))
		line := distractions[fitting[k]]
		fitting = slices.Delete(fitting, k, k+1)
		from, to, _ := strings.Cut(line.quantity, "..")
		zero := kindOf(from)
		low, _ := readBound(from, zero)
		high, _ := readBound(to, zero)
		g := newGrid(&slot{quantity: zero}, instrument(zero, false, low, s.Units), low, high)
		given := Given{Words: line.words, Text: g.text(g.low + d.chance.Int64N(g.high-g.low+1)), distractor: true}
		at := 0
		if len(e.Given) > 0 {
			at = d.n(len(e.Given) + 1)
			for at > 0 && at < len(e.Given) && e.Given[at].Group != "" && e.Given[at-1].Group != "" {
				at-- // not into the middle of a list
			}
		}
		e.Given = slices.Insert(e.Given, at, given)
		e.Difficulty.Distractors++
	}
}
