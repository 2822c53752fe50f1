package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// StarterFeeding returns the old starter, flour and water that make the starter wanted.
//
//	seed = (wanted + keep) * s / (s + f + w), flour and water likewise
//	hydration = 100 * (water + seed water) / (flour + seed flour)
//
// It is exact arithmetic on the ratio, which is written seed : flour : water and counts by
// weight. It does not count what is lost to evaporation and on the tools.
//
// It returns an *[reckon.InputError] if:
//   - wanted is outside 1 mg to 1000 t, or keep outside 0 to 1000 t,
//   - seed or flour is outside a millionth to 1000 parts, or water is outside 0 to 1000 parts,
//   - seed_hydration is outside 0 to 1000 %,
//   - the water is more than makes a fed starter of 1000 % hydration.
//
// Source: common practice; K. Forkish, Flour Water Salt Yeast (2012), a levain of 100 : 500 : 400; cases in
// testdata/cases/doughmath/starter-feeding.json.
//
// The inverse is [RatioForFeeding].
type StarterFeeding struct {
	Wanted        unit.Mass          `json:"wanted"`         // fed starter for the dough; 1 mg to 1000 t
	Keep          unit.Mass          `json:"keep,omitzero"`  // fed starter kept for the next feeding; 0 to 1000 t
	Seed          float64            `json:"seed"`           // parts of old starter, the 1 of 1 : 5 : 5; a millionth to 1000
	Flour         float64            `json:"flour"`          // parts of flour; a millionth to 1000
	Water         float64            `json:"water"`          // parts of water; 0 to 1000, and no more than make a hydration of 1000 %
	SeedHydration unit.BakersPercent `json:"seed_hydration"` // of the old starter, its water on its flour; 0 to 1000 %
}

func (StarterFeeding) ID() string { return "starter-feeding" }

// SHELL
func (q StarterFeeding) Check(c *reckon.Checks) {
	_, err := explainStarterFeeding(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StarterFeeding) Solve() (StarterFeedingResult, error) { return explainStarterFeeding(q, nil) }

func (q StarterFeeding) Show(w *reckon.Working, _ StarterFeedingResult) {
	_, _ = explainStarterFeeding(q, w)
}

// StarterFeedingResult is what to mix.
type StarterFeedingResult struct {
	Seed      unit.Mass          `json:"seed"`       // old starter to take
	Flour     unit.Mass          `json:"flour"`      // flour to add
	Water     unit.Mass          `json:"water"`      // water to add
	Total     unit.Mass          `json:"total"`      // fed starter made, with what is kept
	Hydration unit.BakersPercent `json:"hydration"`  // of the fed starter, the seed's flour and water counted in; 0 to 1000 %
	SeedFlour unit.Percent       `json:"seed_flour"` // flour of the seed, of all the flour in the fed starter
}

// The most parts in a feeding ratio, and the fewest of seed and flour.
const leastParts, mostParts = 1e-6, 1000

// mostFeedWater returns the most water that a seed of this hydration and so
// much flour may be fed with: more than ten times all the flour is a slip, not a starter.
func mostFeedWater(seed, flour float64, hydration unit.BakersPercent) float64 {
	seedFlour := seed * 100 / (100 + float64(hydration))
	return (float64(float64(largestPercent)/100*(flour+seedFlour)) - (seed - seedFlour)) * (1 + roundingSlack)
}

func explainStarterFeeding(in StarterFeeding, w *reckon.Working) (StarterFeedingResult, error) {
	c := reckon.Checks{Func: "starter-feeding"}
	checkMass(&c, "wanted", in.Wanted)
	reckon.CheckRange(&c, "keep", in.Keep, 0, largestMass)
	reckon.CheckRange(&c, "seed", in.Seed, leastParts, mostParts)
	reckon.CheckRange(&c, "flour", in.Flour, leastParts, mostParts)
	reckon.CheckRange(&c, "water", in.Water, 0, mostParts)
	reckon.CheckRange(&c, "seed_hydration", in.SeedHydration, 0, largestPercent)
	if err := c.Err(); err != nil {
		return StarterFeedingResult{}, err
	}
	if most := mostFeedWater(in.Seed, in.Flour, in.SeedHydration); in.Water > most {
		c.Fail("water", reckon.Text(in.Water), "0 to "+reckon.Text(most)+" parts, with which the fed starter has a hydration of "+reckon.Text(largestPercent)+" on all its flour")
		return StarterFeedingResult{}, c.Err()
	}
	total := float64(in.Wanted) + float64(in.Keep)
	part := total / (in.Seed + in.Flour + in.Water)
	seed, flour, water := float64(part*in.Seed), float64(part*in.Flour), float64(part*in.Water)
	seedFlour := seed * 100 / (100 + float64(in.SeedHydration))
	all := flour + seedFlour
	h := 100 * (water + (seed - seedFlour)) / all
	if w != nil {
		w.Given("fed starter wanted", "A", float64(in.Wanted), "g", "")
		w.Given("fed starter to keep", "K", float64(in.Keep), "g", "")
		w.Given("parts of old starter", "s", in.Seed, "", "")
		w.Given("parts of flour", "f", in.Flour, "", "")
		w.Given("parts of water", "w", in.Water, "", "")
		w.Given("hydration of the old starter", "h_s", float64(in.SeedHydration), "%", "")
		w.Step("fed starter to make", "M", "A + K", total, "g", "")
		w.Step("one part", "u", "M/(s + f + w)", part, "g", "")
		w.Step("old starter", "S", "u*s", seed, "g", "")
		w.Step("flour", "F", "u*f", flour, "g", "")
		w.Step("water", "W", "u*w", water, "g", "")
		w.Step("flour in the old starter", "F_s", "S*100/(100 + h_s)", seedFlour, "g", "")
		w.Step("hydration", "h", "100*(W + (S - F_s))/(F + F_s)", h, "%", "")
	}
	return StarterFeedingResult{
		Seed: unit.Mass(seed), Flour: unit.Mass(flour), Water: unit.Mass(water), Total: unit.Mass(total),
		Hydration: unit.BakersPercent(h), SeedFlour: unit.Percent(100 * seedFlour / all),
	}, nil
}

// RatioForFeeding returns the ratio 1 : flour : water in which a starter was
// fed, and the starter that comes of it.
//
//	flour parts = flour / seed, water parts = water / seed
//
// It is the inverse of [StarterFeeding], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - seed or flour is outside 1 mg to 1000 t, or water is outside 0 to 1000 t,
//   - seed_hydration is outside 0 to 1000 %,
//   - the water is more than makes a fed starter of 1000 % hydration.
//
// Source: common practice; K. Forkish, Flour Water Salt Yeast (2012).
type RatioForFeeding struct {
	Seed          unit.Mass          `json:"seed"`           // old starter; 1 mg to 1000 t
	Flour         unit.Mass          `json:"flour"`          // flour added; 1 mg to 1000 t
	Water         unit.Mass          `json:"water"`          // water added; 0 to 1000 t, and no more than makes a hydration of 1000 %
	SeedHydration unit.BakersPercent `json:"seed_hydration"` // of the old starter, its water on its flour; 0 to 1000 %
}

func (RatioForFeeding) ID() string { return "ratio-for-feeding" }

// SHELL
func (q RatioForFeeding) Check(c *reckon.Checks) {
	_, err := explainRatioForFeeding(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RatioForFeeding) Solve() (RatioForFeedingResult, error) {
	return explainRatioForFeeding(q, nil)
}

func (q RatioForFeeding) Show(w *reckon.Working, _ RatioForFeedingResult) {
	_, _ = explainRatioForFeeding(q, w)
}

// RatioForFeedingResult is the ratio behind a feeding.
type RatioForFeedingResult struct {
	Flour     float64            `json:"flour"`      // parts of flour for 1 of old starter
	Water     float64            `json:"water"`      // parts of water for 1 of old starter
	Total     unit.Mass          `json:"total"`      // fed starter made
	Hydration unit.BakersPercent `json:"hydration"`  // of the fed starter, the seed's flour and water counted in; 0 to 1000 %
	SeedFlour unit.Percent       `json:"seed_flour"` // flour of the seed, of all the flour in the fed starter
}

func explainRatioForFeeding(in RatioForFeeding, w *reckon.Working) (RatioForFeedingResult, error) {
	c := reckon.Checks{Func: "ratio-for-feeding"}
	checkMass(&c, "seed", in.Seed)
	checkMass(&c, "flour", in.Flour)
	reckon.CheckRange(&c, "water", in.Water, 0, largestMass)
	reckon.CheckRange(&c, "seed_hydration", in.SeedHydration, 0, largestPercent)
	if err := c.Err(); err != nil {
		return RatioForFeedingResult{}, err
	}
	seed, flour, water := float64(in.Seed), float64(in.Flour), float64(in.Water)
	if most := mostFeedWater(seed, flour, in.SeedHydration); water > most {
		c.Fail("water", reckon.Text(in.Water), "0 g to "+reckon.Text(unit.Mass(most))+", with which the fed starter has a hydration of "+reckon.Text(largestPercent)+" on all its flour")
		return RatioForFeedingResult{}, c.Err()
	}
	f, p := flour/seed, water/seed
	seedFlour := seed * 100 / (100 + float64(in.SeedHydration))
	h := 100 * (water + (seed - seedFlour)) / (flour + seedFlour)
	if w != nil {
		w.Given("old starter", "S", seed, "g", "")
		w.Given("flour", "F", flour, "g", "")
		w.Given("water", "W", water, "g", "")
		w.Given("hydration of the old starter", "h_s", float64(in.SeedHydration), "%", "")
		w.Step("flour in the old starter", "F_s", "S*100/(100 + h_s)", seedFlour, "g", "")
		w.Step("hydration", "h", "100*(W + (S - F_s))/(F + F_s)", h, "%", "")
		w.Step("parts of flour", "f", "F/S", f, "", "")
		w.Step("parts of water", "w", "W/S", p, "", "")
	}
	return RatioForFeedingResult{
		Flour: f, Water: p, Total: unit.Mass(seed + flour + water), Hydration: unit.BakersPercent(h),
		SeedFlour: unit.Percent(100 * seedFlour / (flour + seedFlour)),
	}, nil
}
