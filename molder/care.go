package molder

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Part is a removable part of the make-up line.
type Part string

const (
	// RoundingDrum is the drum with cups that rounds the pieces.
	RoundingDrum Part = "rounding-drum"
	// RoundingCore is the core that works the pieces in the cups.
	RoundingCore Part = "rounding-core"
	// DrumBrush is the brush that keeps a drum clean of flour.
	DrumBrush Part = "drum-brush"
	// StampDie is the die of the stamper.
	StampDie Part = "stamp-die"
	// PressingBoard is the pressure board of the moulder.
	PressingBoard Part = "pressure-board"
	// Scraper is a scraper of the sheeting rollers.
	Scraper Part = "scraper"
	// BeltPart is a belt of the moulder or a conveyor.
	BeltPart Part = "belt"
	// PocketCup is a pocket of the proofer or a cup insert.
	PocketCup Part = "pocket"
)

// Material is what a part is made of, as far as washing goes.
type Material string

const (
	// Plastic warps and comes loose from its core in hot water.
	Plastic Material = "plastic"
	// Metal is bare metal without bearings or coating.
	Metal Material = "metal"
	// Fabric is cotton, felt or woven belting.
	Fabric Material = "fabric"
	// Bristle is the hair of a brush, natural or not.
	Bristle Material = "bristle"
)

// The warmest water. That plastic drums and glued parts are washed
// lukewarm and never hot is common practice; the figure for lukewarm, and
// that for metal, are from memory, and the maker's figure comes first.
const (
	lukewarmCelsius = 40
	metalCelsius    = 60
)

// PartCare asks how a part of the line should be washed, dried and stored, and
// what loosens it:
//
//	T = 60 °C if all of it is bare metal without glue, 40 °C (lukewarm) otherwise
//
// with T the warmest water. The strictest of the part's materials and joints
// rules: what is glued is washed as glue allows, whatever it holds together. The maker's
// instructions come first, always. Only what has built up is washed: water does a clean
// part no good. Drums are stored standing on end; thin-walled ones lose their
// shape in warmth and damp. The degrees are from memory.
//
// Name every material, so that the advice fits: a rounding drum, a rounding core, a stamp die
// and a scraper are of plastic or metal, a drum brush has bristles set in plastic or
// metal, a pressure board is of plastic or metal and may have a lining of fabric, a belt is of
// plastic or fabric, a pocket of plastic, metal or fabric.
//
// It is refused if:
//   - the part is not made of a material, or one is named twice,
//   - a drum brush has no bristles,
//   - thin_walled is said of another part than a drum.
//
// Source: common practice; the degrees from memory; cases in testdata/cases/molder/part-care.json.
//
// It has no inverse.
type PartCare struct {
	Part       Part       `json:"part"`                                     // "rounding-drum", "rounding-core", "drum-brush", "stamp-die", "pressure-board", "scraper", "belt" or "pocket"
	Materials  []Material `json:"materials" items:"1..4"`                   // all that it is made of: "plastic", "metal", "fabric", "bristle"
	Glued      bool       `json:"glued,omitzero"`                           // true if any joint of it is held by glue, whatever else fastens it
	ThinWalled bool       `json:"thin_walled,omitzero"`                     // true for a drum with a thin wall
	WaterTemp  unit.Temp  `json:"water_temp,omitzero" range:"0 °C..100 °C"` // water at hand; leave out if not known
}

// PartCareResult is how to treat it. The maker's instructions come first.
type PartCareResult struct {
	Warmest    unit.Temp       `json:"warmest" sym:"T"` // warmest water
	Wash       string          `json:"wash"`            // how it is washed
	Drying     string          `json:"drying"`          // how it is dried
	Store      string          `json:"store"`           // how it is stored
	Loosens    string          `json:"loosens"`         // what makes it come apart or wear out
	Conditions Conditions      `json:"conditions"`      // from-memory, hot-for-part
	Cautions   reckon.Cautions `json:"cautions"`        // cleaning, locked-out, hot-water, lifting
}

func (PartCare) ID() string { return "part-care" }

func (q PartCare) Check(c *reckon.Checks) {
	known := reckon.CheckWord(c, "part", q.Part, RoundingDrum, RoundingCore, DrumBrush, StampDie, PressingBoard, Scraper, BeltPart, PocketCup)
	if n := len(q.Materials); n < 1 || n > 4 {
		c.Fail("materials", strconv.Itoa(n)+" materials", "1 to 4, what the part is made of")
	} else {
		for i, m := range q.Materials {
			mark := c.Mark()
			switch {
			case !reckon.CheckWord(c, "", m, Plastic, Metal, Fabric, Bristle):
			case slices.Contains(q.Materials[:i], m):
				c.Fail("", strconv.Quote(string(m)), "each material once")
			case known && !madeOf(q.Part, m):
				c.Fail("", strconv.Quote(string(m)), reckon.OneOf(made(q.Part)...)+", what a "+string(q.Part)+" is made of")
			}
			c.Item(mark, "materials", i)
		}
		if q.Part == DrumBrush && !slices.Contains(q.Materials, Bristle) {
			c.Fail("materials", "without bristle", `"bristle" among them: a brush has bristles`)
		}
	}
	if known && q.ThinWalled && q.Part != RoundingDrum {
		c.Fail("thin_walled", "true", "nothing: only of a rounding drum")
	}
	if q.WaterTemp.Given() {
		reckon.CheckTemp(c, "water_temp", q.WaterTemp, unit.Celsius(0), unit.Celsius(100))
	}
}

// made lists what a part is made of.
func made(part Part) []Material {
	switch part {
	case DrumBrush:
		return []Material{Bristle, Plastic, Metal}
	case PressingBoard, PocketCup:
		return []Material{Plastic, Metal, Fabric}
	case BeltPart:
		return []Material{Plastic, Fabric}
	default:
		return []Material{Plastic, Metal}
	}
}

func madeOf(part Part, m Material) bool { return slices.Contains(made(part), m) }

func (q PartCare) Solve() (out PartCareResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out = PartCareResult{Warmest: unit.Celsius(q.warmest()), Conditions: reckon.FromMemory, Cautions: reckon.Cleaning | reckon.LockedOut}
	q.washing(&out)
	q.keeping(&out)
	if q.Part == RoundingDrum {
		out.Cautions |= reckon.Lifting
	}
	if q.WaterTemp.Given() && q.WaterTemp.Celsius() > out.Warmest.Celsius() {
		out.Conditions |= HotForPart
	}
	return out, nil
}

// washing says how the part is washed and dried, by the strictest of what it is made of and held by.
func (q *PartCare) washing(out *PartCareResult) {
	switch {
	case q.Part == DrumBrush:
		out.Wash = "Comb out dry what has built up; only if that is not enough, wash it by hand in lukewarm water, as briefly as it takes, never hot and never soaked."
		out.Drying = "Shake it out and let it dry in air, hanging so that nothing touches the bristles; never on a heater."
		out.Loosens = "Hot water and heat spread the bristles; weight on them bends them."
		if q.Glued {
			out.Loosens = "Hot water, heat and soaking soften the glue; weight on the bristles bends them."
		}
	case slices.Contains(q.Materials, Fabric):
		out.Wash = "Scrape and brush off dry what has built up; only if that is not enough, use a lukewarm damp cloth and little of it."
		out.Drying = "Dry it through before it runs again, open and in moving air, without heat."
		out.Loosens = "Soaking, heat and damp storage shrink it, open its seam and let it mould."
		if q.Glued {
			out.Loosens = "Soaking, heat and damp storage shrink the fabric and soften the glue, so that it lifts."
		}
	case q.Glued:
		out.Wash = "Take off dry, with a plastic scraper or a brush, what has built up; only if that is not enough, wash it by hand in lukewarm water, as briefly as it takes, never hot and never soaked."
		out.Drying = "Wipe it and let it dry in air at room temperature, so that no water stands in the joints; never in the oven or on a heater."
		out.Loosens = "Hot water, heat and soaking soften the glue, so that what it holds comes off."
	case slices.Contains(q.Materials, Plastic):
		out.Wash = "Scrape off with a plastic scraper what has built up and wash it by hand in lukewarm water with a mild cleaner; no soaking and no dishwasher."
		out.Drying = "Wipe it and let it dry in air at room temperature; never in the oven or on a heater."
		out.Loosens = "Hot water, heat and solvents warp it and loosen it from what holds it; metal tools scratch it so that dough sticks."
	default:
		out.Wash = "Take off with a plastic scraper what has built up and wash it in warm water with a mild cleaner, away from bearings and drives."
		out.Drying = "Dry it at once, and oil bare steel with food-grade oil."
		out.Loosens = "Bleach, strong alkali and standing wet pit it; knocks bend it and nick its edges."
		out.Cautions |= reckon.HotWater
	}
}

// keeping says how the part is stored.
func (q *PartCare) keeping(out *PartCareResult) {
	switch q.Part {
	case RoundingDrum:
		out.Store = "Stand it on end, dry and at room temperature, with its number in view."
		if q.ThinWalled {
			out.Store = "Stand it on end, dry and at room temperature, with its number in view; its thin wall loses its shape in warmth and damp, so keep it away from proofer, oven and wash-up."
		}
	case RoundingCore:
		out.Store = "Lay it dry in its own place, with nothing on top of it."
	case DrumBrush:
		out.Store = "Hang it, so that nothing presses on the bristles."
	case StampDie:
		out.Store = "Keep it dry in its own place with the cutting face covered."
	case PressingBoard:
		out.Store = "Lay it flat or hang it straight, so that it does not warp."
	case Scraper:
		out.Store = "Keep it dry with the edge covered, and look for nicks before it goes back."
	case BeltPart:
		out.Store = "Roll it up loosely with the seam outside, dry and away from heat."
	case PocketCup:
		out.Store = "Stack it dry and with air between, never wet one in another."
	}
}

func (q PartCare) Show(w *reckon.Working, out PartCareResult) {
	w.Inputs(q)
	source := "lukewarm by common practice, the figure from memory; the maker's figure comes first"
	if q.bare() {
		source = "from memory; the maker's figure comes first"
	}
	w.Lines(out, "warmest water: T = "+number(q.warmest())+"  ["+source+"]")
}

// bare reports whether all of the part is bare metal without glue.
func (q *PartCare) bare() bool {
	return !q.Glued && !slices.ContainsFunc(q.Materials, func(m Material) bool { return m != Metal })
}

// warmest returns the warmest water that the part can stand, in °C.
func (q *PartCare) warmest() float64 {
	if q.bare() {
		return metalCelsius
	}
	return lukewarmCelsius
}
