package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// StarterFeeding asks how much old starter, flour and water to mix for the
// starter wanted:
//
//	M = A + K
//	S = M * s / (s + f + w), F = M * f / (s + f + w), W = M * w / (s + f + w)
//	F_s = S * 100 / (100 + h_s)
//	h = 100 * (W + S - F_s) / (F + F_s)
//	P_s = 100 * F_s / (F + F_s)
//
// It is exact arithmetic on the ratio, which is written seed : flour : water and counts by
// weight. It does not count what is lost to evaporation and on the tools.
//
// It is refused if:
//   - the water is more than makes a fed starter of 1000 % hydration.
//
// Source: common practice; K. Forkish, Flour Water Salt Yeast (2012), a levain of 100 : 500 : 400; cases in
// testdata/cases/doughmath/starter-feeding.json.
//
// The inverse is [RatioForFeeding].
type StarterFeeding struct {
	WantedWeight  unit.Mass          `json:"wanted_weight" sym:"A" range:"1 mg..1000 t"`   // fed starter for the dough
	Keep          unit.Mass          `json:"keep,omitzero" sym:"K,0" range:"0 g..1000 t"`  // fed starter kept for the next feeding
	SeedParts     float64            `json:"seed_parts" sym:"s" range:"0.000001..1000"`    // parts of old starter, the 1 of 1 : 5 : 5
	FlourParts    float64            `json:"flour_parts" sym:"f" range:"0.000001..1000"`   // parts of flour
	WaterParts    float64            `json:"water_parts" sym:"w" range:"0..1000"`          // parts of water, no more than make a hydration of 1000 %
	SeedHydration unit.BakersPercent `json:"seed_hydration" sym:"h_s" range:"0 %..1000 %"` // of the old starter, its water on its flour
}

// StarterFeedingResult is what to mix.
type StarterFeedingResult struct {
	Seed      unit.Mass          `json:"seed" sym:"S"`         // old starter to take
	Flour     unit.Mass          `json:"flour" sym:"F"`        // flour to add
	Water     unit.Mass          `json:"water" sym:"W"`        // water to add
	Total     unit.Mass          `json:"total" sym:"M"`        // fed starter made, with what is kept
	Hydration unit.BakersPercent `json:"hydration" sym:"h"`    // of the fed starter, the seed's flour and water counted in; 0 to 1000 %
	SeedFlour unit.Percent       `json:"seed_flour" sym:"P_s"` // flour of the seed, of all the flour in the fed starter
	Cautions  reckon.Cautions    `json:"cautions"`             // spoilage
}

func (StarterFeeding) ID() string { return "starter-feeding" }

// The most parts in a feeding ratio, and the fewest of seed and flour.
const leastParts, mostParts = 1e-6, 1000

func (q StarterFeeding) Check(c *reckon.Checks) {
	checkMass(c, "wanted_weight", q.WantedWeight)
	reckon.CheckRange(c, "keep", q.Keep, 0, largestMass)
	reckon.CheckRange(c, "seed_parts", q.SeedParts, leastParts, mostParts)
	reckon.CheckRange(c, "flour_parts", q.FlourParts, leastParts, mostParts)
	reckon.CheckRange(c, "water_parts", q.WaterParts, 0, mostParts)
	reckon.CheckRange(c, "seed_hydration", q.SeedHydration, 0, largestPercent)
	if !c.OK() {
		return
	}
	if most := mostFeedWater(q.SeedParts, q.FlourParts, q.SeedHydration); q.WaterParts > most {
		c.Fail("water_parts", reckon.Text(q.WaterParts), "0 to "+reckon.Text(most)+" parts, with which the fed starter has a hydration of "+reckon.Text(largestPercent)+" on all its flour")
	}
}

// mostFeedWater returns the most water that a seed of this hydration and so
// much flour may be fed with: more than ten times all the flour is a slip, not a starter.
func mostFeedWater(seed, flour float64, hydration unit.BakersPercent) float64 {
	seedFlour := seed * 100 / (100 + float64(hydration))
	return (float64(float64(largestPercent)/100*(flour+seedFlour)) - (seed - seedFlour)) * (1 + roundingSlack)
}

func (q StarterFeeding) Solve() (out StarterFeedingResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	total := float64(q.WantedWeight) + float64(q.Keep)
	part := total / (q.SeedParts + q.FlourParts + q.WaterParts)
	seed, flour, water := float64(part*q.SeedParts), float64(part*q.FlourParts), float64(part*q.WaterParts)
	seedFlour := seed * 100 / (100 + float64(q.SeedHydration))
	all := flour + seedFlour
	h := 100 * (water + (seed - seedFlour)) / all
	return StarterFeedingResult{
		Seed: unit.Mass(seed), Flour: unit.Mass(flour), Water: unit.Mass(water), Total: unit.Mass(total),
		Hydration: unit.BakersPercent(h), SeedFlour: unit.Percent(100 * seedFlour / all),
		Cautions: reckon.Spoilage,
	}, nil
}

func (q StarterFeeding) Show(w *reckon.Working, out StarterFeedingResult) {
	w.Inputs(q)
	w.Lines(out,
		"fed starter to make: M = A + K",
		"one part: u = M/(s + f + w) in g",
		"old starter: S = u*s",
		"flour: F = u*f",
		"water: W = u*w",
		"flour in the old starter: F_s = S*100/(100 + h_s) in g",
		"flour in the old starter, of all the flour: P_s = 100*F_s/(F + F_s)",
		"hydration: h = 100*(W + (S - F_s))/(F + F_s)",
	)
}

// RatioForFeeding asks in what ratio 1 : flour : water a starter was fed, and
// what starter that gives:
//
//	f = F / S, w = W / S, M = S + F + W
//	F_s = S * 100 / (100 + h_s)
//	h = 100 * (W + S - F_s) / (F + F_s)
//	P_s = 100 * F_s / (F + F_s)
//
// It is the inverse of [StarterFeeding], with the same validity and source.
//
// It is refused if:
//   - the water is more than makes a fed starter of 1000 % hydration.
//
// Source: common practice; K. Forkish, Flour Water Salt Yeast (2012).
//
// The inverse is [StarterFeeding].
type RatioForFeeding struct {
	Seed          unit.Mass          `json:"seed" sym:"S" range:"1 mg..1000 t"`            // old starter
	Flour         unit.Mass          `json:"flour" sym:"F" range:"1 mg..1000 t"`           // flour added
	Water         unit.Mass          `json:"water" sym:"W" range:"0 g..1000 t"`            // water added, no more than makes a hydration of 1000 %
	SeedHydration unit.BakersPercent `json:"seed_hydration" sym:"h_s" range:"0 %..1000 %"` // of the old starter, its water on its flour
}

// RatioForFeedingResult is the ratio behind a feeding.
type RatioForFeedingResult struct {
	FlourParts float64            `json:"flour_parts" sym:"f"`  // parts of flour for 1 of old starter
	WaterParts float64            `json:"water_parts" sym:"w"`  // parts of water for 1 of old starter
	Total      unit.Mass          `json:"total" sym:"M"`        // fed starter made
	Hydration  unit.BakersPercent `json:"hydration" sym:"h"`    // of the fed starter, the seed's flour and water counted in; 0 to 1000 %
	SeedFlour  unit.Percent       `json:"seed_flour" sym:"P_s"` // flour of the seed, of all the flour in the fed starter
}

func (RatioForFeeding) ID() string { return "ratio-for-feeding" }

func (q RatioForFeeding) Check(c *reckon.Checks) {
	checkMass(c, "seed", q.Seed)
	checkMass(c, "flour", q.Flour)
	reckon.CheckRange(c, "water", q.Water, 0, largestMass)
	reckon.CheckRange(c, "seed_hydration", q.SeedHydration, 0, largestPercent)
	if !c.OK() {
		return
	}
	if most := mostFeedWater(float64(q.Seed), float64(q.Flour), q.SeedHydration); float64(q.Water) > most {
		c.Fail("water", reckon.Text(q.Water), "0 g to "+reckon.Text(unit.Mass(most))+", with which the fed starter has a hydration of "+reckon.Text(largestPercent)+" on all its flour")
	}
}

func (q RatioForFeeding) Solve() (out RatioForFeedingResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	seed, flour, water := float64(q.Seed), float64(q.Flour), float64(q.Water)
	seedFlour := seed * 100 / (100 + float64(q.SeedHydration))
	h := 100 * (water + (seed - seedFlour)) / (flour + seedFlour)
	return RatioForFeedingResult{
		FlourParts: flour / seed, WaterParts: water / seed, Total: unit.Mass(seed + flour + water), Hydration: unit.BakersPercent(h),
		SeedFlour: unit.Percent(100 * seedFlour / (flour + seedFlour)),
	}, nil
}

func (q RatioForFeeding) Show(w *reckon.Working, out RatioForFeedingResult) {
	w.Inputs(q)
	w.Lines(out,
		"fed starter made: M = S + F + W",
		"flour in the old starter: F_s = S*100/(100 + h_s) in g",
		"hydration: h = 100*(W + (S - F_s))/(F + F_s)",
		"flour in the old starter, of all the flour: P_s = 100*F_s/(F + F_s)",
		"parts of flour: f = F/S",
		"parts of water: w = W/S",
	)
}
