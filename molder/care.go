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
	// Glued is anything held by glue: a brush, or a board with a lining.
	Glued Material = "glued"
	// Metal is bare metal without bearings, glue or coating.
	Metal Material = "metal"
	// Fabric is cotton, felt or woven belting.
	Fabric Material = "fabric"
)

// The warmest water. That plastic drums and glued brushes are washed
// lukewarm and never hot is common practice; the figure for lukewarm, and
// that for metal, are from memory, and the maker's figure comes first.
const (
	lukewarmCelsius = 40
	metalCelsius    = 60
)

// PartCare asks how a part of the line should be washed, dried and stored, and
// what loosens it:
//
//	T = 40 °C (lukewarm) for plastic, glued and fabric parts, 60 °C for bare metal
//
// with T the warmest water. The maker's instructions come first, always.
// Plastic drums and glued brushes are washed lukewarm, never hot, and drums are
// stored as the maker directs; the degrees are from memory.
//
// Name the material that the part is made of, so that the advice fits it: a
// rounding drum, a stamp die and a scraper are of plastic or metal, a drum
// brush is glued, a pressure board is of plastic or metal or glued (with a
// lining), a belt is of plastic or fabric, a pocket of plastic, metal or fabric.
//
// It is refused if:
//   - the part is not made of the material.
//
// Source: common practice; the degrees from memory; cases in testdata/cases/molder/part-care.json.
//
// It has no inverse.
type PartCare struct {
	Part      Part      `json:"part"`                                     // "rounding-drum", "drum-brush", "stamp-die", "pressure-board", "scraper", "belt" or "pocket"
	Material  Material  `json:"material"`                                 // "plastic", "glued", "metal" or "fabric", as far as the part is made of it; a part of several counts as the most delicate of them
	WaterTemp unit.Temp `json:"water_temp,omitzero" range:"0 °C..100 °C"` // water at hand; leave out if not known
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
	reckon.CheckWord(c, "part", q.Part, RoundingDrum, DrumBrush, StampDie, PressingBoard, Scraper, BeltPart, PocketCup)
	if reckon.CheckWord(c, "material", q.Material, Plastic, Glued, Metal, Fabric) {
		checkMade(c, q.Part, q.Material)
	}
	if q.WaterTemp.Given() {
		reckon.CheckTemp(c, "water_temp", q.WaterTemp, unit.Celsius(0), unit.Celsius(100))
	}
}

func (q PartCare) Solve() (out PartCareResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out = PartCareResult{Warmest: unit.Celsius(q.Material.warmest()), Conditions: reckon.FromMemory, Cautions: reckon.Cleaning | reckon.LockedOut}
	switch q.Material {
	case Plastic:
		out.Wash = "Scrape off dough with a plastic scraper and wash by hand in lukewarm water with a mild cleaner; no soaking and no dishwasher."
		out.Drying = "Wipe it and let it dry in air at room temperature; never in the oven or on a heater."
		out.Loosens = "Hot water, heat and solvents warp it and loosen it from what holds it; metal tools scratch it so that dough sticks."
	case Glued:
		if q.Part == DrumBrush {
			out.Wash = "Brush or comb it out dry first and wash it by hand in lukewarm water only as long as needed; never hot, never soaked."
			out.Drying = "Shake it out and let it dry in air, bristles down or hanging; never on a heater."
			out.Loosens = "Hot water and soaking dissolve the glue; standing on the bristles bends them."
		} else {
			out.Wash = "Brush the lining dry, then wipe it with a lukewarm damp cloth and little of it; never hot, never soaked."
			out.Drying = "Let it dry in air, flat or hanging straight, before it runs again; never on a heater."
			out.Loosens = "Hot water and soaking dissolve the glue so that the lining lifts; heat warps the board."
		}
	case Fabric:
		out.Wash = "Scrape and brush it dry; if it must be wetted, use a lukewarm damp cloth and little of it."
		out.Drying = "Dry it through before it runs again, open and in moving air."
		out.Loosens = "Soaking, heat and damp storage shrink it, open its seam and let it mould."
	case Metal:
		out.Wash = "Clean it with a plastic scraper and wash it in warm water with a mild cleaner, away from bearings and drives."
		out.Drying = "Dry it at once, and oil bare steel with food-grade oil."
		out.Loosens = "Bleach, strong alkali and standing wet pit it; knocks bend it and nick its edges."
		out.Cautions |= reckon.HotWater
	}
	switch q.Part {
	case RoundingDrum:
		out.Store = "Keep it as the maker directs, off its cups and away from heat, with its number in view."
		out.Cautions |= reckon.Lifting
	case DrumBrush:
		out.Store = "Hang it, or lay it so that nothing presses on the bristles."
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
	if q.WaterTemp.Given() && q.WaterTemp.Celsius() > out.Warmest.Celsius() {
		out.Conditions |= HotForPart
	}
	return out, nil
}

func (q PartCare) Show(w *reckon.Working, out PartCareResult) {
	w.Inputs(q)
	source := "lukewarm by common practice, the figure from memory; the maker's figure comes first"
	if q.Material == Metal {
		source = "from memory; the maker's figure comes first"
	}
	w.Lines(out, "warmest water: T = "+number(q.Material.warmest())+"  ["+source+"]")
}

// warmest returns the warmest water that the material can stand, in °C.
func (m Material) warmest() float64 {
	if m == Metal {
		return metalCelsius
	}
	return lukewarmCelsius
}

// checkMade requires a material that the part is made of, so that the advice fits it.
func checkMade(c *reckon.Checks, part Part, material Material) {
	switch part {
	case RoundingDrum, StampDie, Scraper:
		checkMaterial(c, part, material, Plastic, Metal)
	case DrumBrush:
		checkMaterial(c, part, material, Glued)
	case PressingBoard:
		checkMaterial(c, part, material, Plastic, Metal, Glued)
	case BeltPart:
		checkMaterial(c, part, material, Plastic, Fabric)
	case PocketCup:
		checkMaterial(c, part, material, Plastic, Metal, Fabric)
	}
}

func checkMaterial(c *reckon.Checks, part Part, material Material, made ...Material) {
	if slices.Contains(made, material) {
		return
	}
	c.Fail("material", strconv.Quote(string(material)), reckon.OneOf(made...)+", what a "+string(part)+" is made of")
}
