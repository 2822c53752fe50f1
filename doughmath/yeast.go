package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// YeastForm names the yeast of a dough.
type YeastForm string

// The forms.
const (
	NoYeast      YeastForm = "none"        // neither baker's yeast nor a starter
	FreshYeast   YeastForm = "fresh"       // compressed, crumbled or liquid yeast, or a starter
	ActiveDry    YeastForm = "active-dry"  // granules, which are wetted in warm water first
	InstantYeast YeastForm = "instant-dry" // fine dry yeast, which needs no wetting
)

// YeastStep names how the yeast goes into the dough.
type YeastStep string

// The steps. The last three keep the yeast out of the water as it is poured,
// the second only if the yeast is dry: it takes up water more slowly than the flour around it.
const (
	YeastInWater   YeastStep = "in-water"  // in the water, or on it as it is poured
	YeastInFlour   YeastStep = "in-flour"  // mixed through all the flour before the water is poured
	YeastAfterward YeastStep = "after-wet" // worked in once flour and water are mixed
	YeastApart     YeastStep = "own-water" // in a little water of its own, fit for it, added once flour and water are mixed
)

// YeastUse is the yeast of a dough and how it meets the water. Both left out, the
// water is taken to meet yeast: nobody is told to pour hot water on it because nothing was said.
type YeastUse struct {
	Yeast     YeastForm `json:"yeast,omitzero"`      // "none", "fresh", "active-dry" or "instant-dry"; left out, some yeast of no form in particular
	YeastStep YeastStep `json:"yeast_step,omitzero"` // "in-water", "in-flour", "after-wet" or "own-water"; left out, it meets the water
}

const (
	// yeastCautionCelsius is the water temperature above which yeast that the
	// water touches may be harmed. Trade texts put the caution at 38 to 43 °C;
	// common practice, no source.
	yeastCautionCelsius = 40
	// yeastRefusalCelsius is the water temperature above which water that
	// touches yeast is refused: baker's yeast begins to die there. Common practice, no source.
	yeastRefusalCelsius = 45
	// hottestWaterCelsius is the water temperature above which no water is
	// recommended, whatever becomes of the yeast: at about 55 °C wheat starch begins to swell
	// and the water scalds. Makers of dry yeast that is mixed through the flour ask for
	// water of up to 54 °C (130 °F). Common practice, no source.
	hottestWaterCelsius = 55
	// coldYeastCelsius is the water temperature below which dry yeast that is
	// wetted by it loses what is in its cells, and strength with it. Common practice: 15 to 21 °C.
	coldYeastCelsius = 20
)

func (y YeastUse) check(c *reckon.Checks) {
	switch y.Yeast {
	case "", NoYeast, FreshYeast, ActiveDry, InstantYeast:
	default:
		reckon.CheckWord(c, "yeast", y.Yeast, NoYeast, FreshYeast, ActiveDry, InstantYeast)
	}
	switch y.YeastStep {
	case "":
		return
	case YeastInWater, YeastInFlour, YeastAfterward, YeastApart:
	default:
		reckon.CheckWord(c, "yeast_step", y.YeastStep, YeastInWater, YeastInFlour, YeastAfterward, YeastApart)
		return
	}
	if y.Yeast == NoYeast {
		c.Fail("yeast_step", strconv.Quote(string(y.YeastStep)), "left out: there is no yeast")
	}
}

// meets reports whether the water meets the yeast as it is poured.
func (y YeastUse) meets() bool {
	switch {
	case y.Yeast == NoYeast, y.YeastStep == YeastAfterward, y.YeastStep == YeastApart:
		return false
	case y.YeastStep == YeastInFlour:
		return y.Yeast != ActiveDry && y.Yeast != InstantYeast
	}
	return true
}

// hottest is the warmest water that this dough is made with.
func (y YeastUse) hottest() float64 {
	if y.meets() {
		return yeastRefusalCelsius
	}
	return hottestWaterCelsius
}

// waterConditions says what to look at in a calculated water temperature. What
// is colder than all ice is not also told to be mended with ice.
func (y YeastUse) waterConditions(t unit.Temp) (c Conditions, u reckon.Cautions) {
	switch {
	case t.Celsius() < -float64(iceEquivalent):
		c |= ColderThanAllIce
	case t.Celsius() < 0:
		c |= BelowFreezing
	}
	if t.Celsius() > yeastCautionCelsius {
		u |= reckon.HotWater
		if y.meets() {
			c |= WarmForYeast
		}
	}
	// Cold water wets dry yeast in the flour too: only a dough that is mixed already spares it.
	if dry := y.Yeast == InstantYeast || y.Yeast == ActiveDry; dry && t.Celsius() < coldYeastCelsius && y.YeastStep != YeastAfterward && y.YeastStep != YeastApart {
		c |= ColdForDryYeast
	}
	return c, u
}

// fits reports whether t can stand for water that is fit for this dough, or
// for water and ice.
func (y YeastUse) fits(t unit.Temp) bool {
	return t.Celsius() <= y.hottest() && t.Celsius() >= -unit.KelvinAtZeroCelsius
}

// noWater refuses water that the yeast does not survive and a number that
// stands for no water and no ice. reach says what can be had with water of so
// many °C, and warmer what else would have to be how warm with the hottest water.
func (y YeastUse) noWater(id, wanted string, water unit.Temp, warmer string, reach func(water float64) string) error {
	hottest := y.hottest()
	if water.Celsius() > hottest {
		why := "would kill yeast that it touches; with water of " + unit.Celsius(hottest).String() + ", " + warmer
		if water.Celsius() <= hottestWaterCelsius {
			why += "; or keep the yeast out of the water: say which yeast, and the yeast_step that keeps it out"
		}
		if !y.meets() {
			why = "scalds flour and hands; with water of " + unit.Celsius(hottest).String() + ", " + warmer
		}
		return &reckon.NoSolutionError{
			Func: id, Unknown: "safe water temperature", Wanted: wanted, High: reach(hottest),
			Advice: "water of " + water.String() + " " + why,
		}
	}
	return &reckon.NoSolutionError{
		Func: id, Unknown: "water or ice", Wanted: wanted, Low: reach(-float64(iceEquivalent)), High: reach(hottest),
		Advice: "it would take water of " + water.String() + ", below absolute zero; check the readings and what warms the dough in mixing, cool the flour or the room, or accept a warmer dough",
	}
}

// warmer says how warm flour or room would have to be in the water's stead, by
// the factor rule, in which every temperature counts the same. What would be
// too warm for the yeast itself is no help.
func (f factorTemps) warmer(short unit.TempDelta) string {
	text := ""
	for _, x := range [...]struct {
		name string
		temp unit.Temp
	}{{"flour of ", f.flour}, {"a room of ", f.room}} {
		if !x.temp.Given() {
			continue
		}
		if need := x.temp.Add(short); need.Celsius() <= yeastRefusalCelsius {
			if text != "" {
				text += " or "
			}
			text += x.name + need.String()
		}
	}
	if text == "" {
		return "flour and room would have to be " + short.String() + " warmer together"
	}
	return text + " would do"
}
