package exercise

import (
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A SetSpec says which set of exercises to make. The same SetSpec makes the
// same set, in which no two are alike.
type SetSpec struct {
	Size         int         `json:"size"`                  // up to [MaxSet]
	Seed         int64       `json:"seed,omitzero"`         // up to [MaxSeed]
	Units        unit.System `json:"units,omitzero"`        // metric unless US is chosen
	Calculations []string    `json:"calculations,omitzero"` // ids to choose from; left out, all that make an exercise
	Station      string      `json:"station,omitzero"`      // such as "divider", in place of Calculations
	StepsLow     int         `json:"steps_low,omitzero"`    // fewest steps
	StepsHigh    int         `json:"steps_high,omitzero"`   // most steps; 0 for as many as there are
	Distractors  int         `json:"distractors,omitzero"`  // in each, up to 3
	Conversions  int         `json:"conversions,omitzero"`  // in each where there is something to convert, up to 3
}

// Make makes the set. The calculations take turns, in an order that the seed
// picks, so that a set holds as many different ones as it can.
//
// It returns an *[reckon.InputError] for everything that is wrong with the
// SetSpec, and a *[reckon.NoSolutionError] if there are not so many different exercises.
func (s SetSpec) Make() ([]*Exercise, error) {
	c := reckon.Checks{Func: refusal}
	choices := s.check(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	d := newDraw(uint64(s.Seed), setStream)
	d.chance.Shuffle(len(choices), func(i, j int) { choices[i], choices[j] = choices[j], choices[i] })
	set, seen := make([]*Exercise, 0, s.Size), map[string]bool{}
	spec := Spec{Units: s.Units, Distractors: s.Distractors, Conversions: s.Conversions}
	for turn, idle := 0, 0; len(set) < s.Size; turn++ {
		if idle++; idle > mostIdle+mostTurns*len(choices) {
			return nil, &reckon.NoSolutionError{
				Func: refusal, Unknown: "set", Wanted: strconv.Itoa(s.Size) + " different exercises", High: strconv.Itoa(len(set)),
				Advice: "choose more calculations, or a smaller set",
			}
		}
		choice := &choices[turn%len(choices)]
		if choice.asks == nil {
			choice.asks = formOf(choice.id).main()
		}
		spec.Seed = d.chance.Int64N(MaxSeed + 1)
		spec.Calculation, spec.Asked = choice.id, choice.asks[d.n(len(choice.asks))].path
		e, err := spec.Make()
		if err != nil || e.Difficulty.Steps < s.StepsLow || s.StepsHigh > 0 && e.Difficulty.Steps > s.StepsHigh {
			continue // the next turn draws anew
		}
		if alike := e.signature(); !seen[alike] {
			seen[alike], idle = true, 0
			set = append(set, e)
		}
	}
	return set, nil
}

// How often in a row something refused or seen before may be drawn.
const (
	mostTurns = 8 // for each calculation
	mostIdle  = 64
)

// choice is a calculation of a set, with what may be asked of it: nil until it
// is drawn if any of its main outputs may, because a short set draws few and it
// takes a while to make all calculations ready.
type choice struct {
	id   string
	asks []*outlet
}

func (s SetSpec) check(c *reckon.Checks) []choice {
	reckon.CheckCount(c, "size", s.Size, 1, MaxSet)
	checkSeed(c, s.Seed)
	checkUnits(c, s.Units)
	reckon.CheckCount(c, "distractors", s.Distractors, 0, mostExtra)
	reckon.CheckCount(c, "conversions", s.Conversions, 0, mostExtra)
	reckon.CheckCount(c, "steps_low", s.StepsLow, 0, mostSteps)
	if s.StepsHigh != 0 {
		reckon.CheckCount(c, "steps_high", s.StepsHigh, max(1, s.StepsLow), mostSteps)
	}
	var ids []string
	switch {
	case len(s.Calculations) > 0 && s.Station != "":
		c.Fail("station", strconv.Quote(unit.Clip(s.Station)), "either a station or calculations")
	case len(s.Calculations) > 0:
		if reckon.CheckItems(c, "calculations", len(s.Calculations), MaxSet) {
			for i, id := range s.Calculations {
				if checkCalculation(c, "calculations["+strconv.Itoa(i)+"]", id) != nil {
					ids = append(ids, id)
				}
			}
		}
	default:
		ids = s.atStation(c)
	}
	if !c.OK() {
		return nil
	}
	var choices []choice
	for _, id := range ids {
		if s.StepsLow == 0 && s.StepsHigh == 0 {
			choices = append(choices, choice{id: id})
		} else if asks := s.within(formOf(id)); len(asks) > 0 {
			choices = append(choices, choice{id, asks})
		}
	}
	if len(choices) == 0 {
		c.Fail("steps_low", strconv.Itoa(s.StepsLow)+" to "+strconv.Itoa(s.StepsHigh), "steps that one of the calculations takes")
	}
	return choices
}

// atStation lists the calculations of the station, or all, that make an exercise.
func (s SetSpec) atStation(c *reckon.Checks) []string {
	var out []string
	var stations []string
	for _, e := range calc.Entries() {
		if _, unfitted := Unfit(e.ID); unfitted {
			continue
		}
		if !slices.Contains(stations, e.Station) {
			stations = append(stations, e.Station)
		}
		if s.Station == "" || s.Station == e.Station {
			out = append(out, e.ID)
		}
	}
	if len(out) == 0 {
		c.Fail("station", strconv.Quote(unit.Clip(s.Station)), "one of "+strings.Join(stations, ", "))
	}
	return out
}

// within lists what may be asked in so many steps.
func (s SetSpec) within(f *form) []*outlet {
	var out []*outlet
	for _, i := range f.asks {
		if o := &f.outlets[i]; o.steps >= s.StepsLow && (s.StepsHigh == 0 || o.steps <= s.StepsHigh) {
			out = append(out, o)
		}
	}
	return out
}

// signature is the same for two exercises that are alike: they ask for the
// same from the same values, in whatever words.
func (e *Exercise) signature() string {
	return e.Spec.Calculation + "\x00" + e.Spec.Asked + "\x00" + string(e.input)
}
