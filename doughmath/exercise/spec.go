package exercise

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Spec says which exercise to make. The same Spec makes the same exercise.
type Spec struct {
	Calculation string      `json:"calculation"`          // id, such as "water-temperature"
	Asked       string      `json:"asked,omitzero"`       // an output, or an input that a listed inverse finds; left out, the seed picks an output
	Units       unit.System `json:"units,omitzero"`       // metric unless US is chosen
	Seed        int64       `json:"seed,omitzero"`        // up to [MaxSeed]
	Distractors int         `json:"distractors,omitzero"` // values given that are not needed, up to 3
	Conversions int         `json:"conversions,omitzero"` // values given in another unit than usual, up to 3
	Ranges      []Range     `json:"ranges,omitzero"`      // in place of what a shop knows
}

// A Range is where an instructor wants a value drawn.
type Range struct {
	Field string `json:"field"`         // path of the input, such as "flour_temp" or "bake.percent"
	Low   string `json:"low"`           // with its unit
	High  string `json:"high"`          // with its unit, not below Low
	Step  string `json:"step,omitzero"` // values are multiples of it; left out, the instrument's
}

// The bounds of what is asked for.
const (
	MaxSeed   = 1<<53 - 1 // what every reader of JSON keeps
	MaxSet    = 1000      // exercises in a set
	mostExtra = 3         // distractors, conversions
	mostRange = 30
)

// refusal is the name under which the package refuses what it is asked for.
const refusal = "exercise"

// Make makes the exercise.
//
// It returns an *[reckon.InputError] for everything that is wrong with the
// Spec, and a *[reckon.NoSolutionError] if no value in the ranges makes an exercise.
func (s Spec) Make() (*Exercise, error) {
	c := reckon.Checks{Func: refusal}
	f, asks, own := s.check(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	// What is asked is drawn apart from the values, so that the exercise's own Spec, which names it, makes the same.
	o := asks[newDraw(uint64(s.Seed), askStream).n(len(asks))]
	e := newDraw(uint64(s.Seed), valueStream).exercise(f, o, s, own, nil)
	if e == nil {
		return nil, &reckon.NoSolutionError{
			Func: refusal, Unknown: "value in the ranges", Wanted: "a " + f.entry.ID + " exercise that asks for " + o.path,
			Advice: "every draw was refused, or its answer was nothing, given already, or within reach of a likely mistake; widen the ranges",
		}
	}
	return e, nil
}

// check finds the form, what may be asked of it, and the instructor's own ranges.
func (s Spec) check(c *reckon.Checks) (*form, []*outlet, []grid) {
	reckon.CheckCount(c, "distractors", s.Distractors, 0, mostExtra)
	reckon.CheckCount(c, "conversions", s.Conversions, 0, mostExtra)
	checkSeed(c, s.Seed)
	checkUnits(c, s.Units)
	f := checkCalculation(c, "calculation", s.Calculation)
	if f == nil {
		return nil, nil, nil
	}
	var asks []*outlet
	f, asks = s.checkAsked(c, f)
	return f, asks, s.checkRanges(c, f)
}

func checkSeed(c *reckon.Checks, seed int64) {
	if seed < 0 || seed > MaxSeed {
		c.Fail("seed", strconv.FormatInt(seed, 10), "a whole number from 0 to "+strconv.FormatInt(MaxSeed, 10))
	}
}

func checkUnits(c *reckon.Checks, system unit.System) {
	if system > unit.US {
		c.Fail("units", strconv.Itoa(int(system)), "metric or us")
	}
}

// checkCalculation finds the form of a calculation that makes an exercise.
func checkCalculation(c *reckon.Checks, field, id string) *form {
	f := formOf(id)
	if f == nil {
		want := "the id of a calculation"
		ids := make([]string, 0, len(forms()))
		for _, e := range calc.Entries() {
			ids = append(ids, e.ID)
		}
		if len(id) <= 64 {
			if near := nearest.Of(id, ids); near != "" {
				want = strconv.Quote(near) + " perhaps"
			}
		}
		c.Fail(field, strconv.Quote(unit.Clip(id)), want)
		return nil
	}
	if why, unfit := Unfit(id); unfit {
		c.Fail(field, strconv.Quote(id), "a calculation that makes an exercise: "+why)
		return nil
	}
	if len(f.asks) == 0 {
		c.Fail(field, strconv.Quote(id), "a calculation of which a person can work something out by hand")
		return nil
	}
	return f
}

// checkAsked finds what is asked: an output of the calculation or, through one of its
// inverses, an input.
func (s Spec) checkAsked(c *reckon.Checks, f *form) (*form, []*outlet) {
	if s.Asked == "" {
		return f, f.main()
	}
	if o := f.asked(s.Asked); o != nil {
		return f, []*outlet{o}
	}
	known := f.askNames()
	symbol, kind := f.inputSymbol(s.Asked)
	for _, id := range f.entry.Inverses {
		if _, unfitted := Unfit(id); unfitted {
			continue
		}
		inverse := formOf(id)
		for _, i := range inverse.asks {
			o := &inverse.outlets[i]
			// The input goes by its own name there, or by its symbol: target_temp is dough_temp.
			if o.path == s.Asked || symbol != "" && o.symbol == symbol && reflect.TypeOf(o.quantity) == kind {
				return inverse, []*outlet{o}
			}
			if !slices.Contains(known, o.path) {
				known = append(known, o.path)
			}
		}
	}
	want := "one of " + strings.Join(known, ", ")
	if len(s.Asked) <= 64 {
		if near := nearest.Of(s.Asked, known); near != "" {
			want = strconv.Quote(near) + " perhaps; " + want
		}
	}
	c.Fail("asked", strconv.Quote(unit.Clip(s.Asked)), want)
	return f, nil
}

// inputSymbol is the symbol of an input, and its kind.
func (f *form) inputSymbol(path string) (string, reflect.Type) {
	for i := range f.slots {
		if s := &f.slots[i]; s.path == path && s.choices == nil {
			return s.symbol, reflect.TypeOf(s.quantity)
		}
	}
	return "", nil
}

// checkRanges lays the instructor's ranges over the slots: a grid for each,
// with an empty one where the shop's holds.
func (s Spec) checkRanges(c *reckon.Checks, f *form) []grid {
	if len(s.Ranges) == 0 || !reckon.CheckItems(c, "ranges", len(s.Ranges), mostRange) {
		return nil
	}
	own := make([]grid, len(f.slots))
	for i, r := range s.Ranges {
		mark := c.Mark()
		r.check(c, f, own, s.Units)
		c.Item(mark, "ranges", i)
	}
	return own
}

func (r Range) check(c *reckon.Checks, f *form, own []grid, system unit.System) {
	var paths []string
	at := -1
	for i := range f.slots {
		if f.slots[i].choices == nil {
			paths = append(paths, f.slots[i].path)
			if f.slots[i].path == r.Field {
				at = i
			}
		}
	}
	if at < 0 {
		c.Fail("field", strconv.Quote(unit.Clip(r.Field)), "one of "+strings.Join(paths, ", "))
		return
	}
	slot := &f.slots[at]
	low, okLow := readRange(c, "low", r.Low, slot)
	high, okHigh := readRange(c, "high", r.High, slot)
	if !okLow || !okHigh {
		return
	}
	if high < low {
		c.Fail("high", unit.Clip(r.High), "not less than low, "+unit.Clip(r.Low))
		return
	}
	rung := instrument(slot.quantity, slot.whole, low, system)
	if r.Step != "" {
		step, err := readStep(slot, r.Step, rung.unit)
		if err != nil || !(step >= 1e-6 && step <= 1e9) || decimalsOf(step) > 6 || slot.whole && step != math.Trunc(step) {
			c.Fail("step", strconv.Quote(unit.Clip(r.Step)), strings.TrimSpace("a step from 0.000001 that is round in "+rung.unit))
			return
		}
		rung.step = step
	}
	if most := rung.step * mostStepsUp; !(math.Abs(shown(slot.quantity, low, rung.unit)) <= most && math.Abs(shown(slot.quantity, high, rung.unit)) <= most) {
		c.Fail("high", unit.Clip(r.High), "a value that somebody writes down to the step")
		return
	}
	g := newGrid(slot, rung, low, high)
	if top := shown(slot.quantity, high, rung.unit); float64(float64(g.low)*rung.step) > top+float64(rung.step*1e-6) {
		c.Fail("step", strconv.Quote(unit.Clip(r.Step)), "a step of which a multiple lies in the range; it goes by "+g.text(1)+" now")
		return
	}
	own[at] = g
}

// mostStepsUp is how many steps a value may be from 0.
const mostStepsUp = 1e9

// readRange reads a bound and holds it against what the calculation accepts.
func readRange(c *reckon.Checks, field, text string, s *slot) (float64, bool) {
	v, ok := readBound(text, s.quantity)
	if !ok || len(text) > 64 {
		want := "a number"
		if s.quantity != nil {
			info := unit.Describe(s.quantity)
			want = "a " + info.Name + " with its unit: " + strings.Join(info.Units, ", ")
		}
		c.Fail(field, strconv.Quote(unit.Clip(text)), want)
		return 0, false
	}
	if !s.legal.holds(v) {
		c.Fail(field, unit.Clip(text), s.legal.String()+", which is what the calculation accepts")
		return 0, false
	}
	return v, true
}

// readStep reads a step in the unit that values are drawn in.
func readStep(s *slot, text, symbol string) (float64, error) {
	if s.quantity == nil {
		return strconv.ParseFloat(text, 64)
	}
	zero := s.quantity
	if _, temp := zero.(unit.Temp); temp {
		zero, symbol = unit.TempDelta(0), map[string]string{"°C": "C°", "°F": "F°"}[symbol]
	}
	held, err := unit.Parse(zero, text)
	if err != nil {
		return 0, err
	}
	return shown(zero, held, symbol), nil
}
