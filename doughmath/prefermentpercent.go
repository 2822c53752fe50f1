package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// PrefermentReading names what "20 % levain" means. Sources use all three.
type PrefermentReading string

const (
	// FlourOnFlour is the flour weighed into the preferment on all the flour weighed.
	FlourOnFlour PrefermentReading = "flour-on-flour"
	// MassOnFlour is the weight of the preferment on all the flour weighed.
	MassOnFlour PrefermentReading = "mass-on-flour"
	// MassOnFinalFlour is the weight of the preferment on the flour added at the final mix.
	MassOnFinalFlour PrefermentReading = "mass-on-final-flour"
)

// PrefermentPercent asks what a preferment's percentage is in each of the three
// ways of counting it that are in use:
//
//	flour-on-flour:      a = v
//	mass-on-flour:       a = 100 * v / T
//	mass-on-final-flour: a = 100 * v / (T + v)
//	b = a * T / 100, c = 100 * b / (100 - a)
//
// with a the flour in it on all the flour, b its weight on all the flour, and c its weight on the
// flour of the final mix. It holds for a dough with one preferment that has flour; [PrefermentSplit] does several.
//
// It is refused if:
//   - the percentage stands for all the flour or more.
//
// Source: K. Forkish, Flour Water Salt Yeast (2012), whose 20 % levain is 36 % and 45 % in the other readings; cases in
// testdata/cases/doughmath/preferment-percent.json.
//
// It is its own inverse.
type PrefermentPercent struct {
	Percent      unit.BakersPercent `json:"percent" sym:"v" range:"0 %..1000 %"`         // as the formula gives it, less than all the flour
	Reading      PrefermentReading  `json:"reading"`                                     // "flour-on-flour", "mass-on-flour" or "mass-on-final-flour"
	TotalPercent unit.BakersPercent `json:"total_percent" sym:"T" range:"100 %..1000 %"` // sum of the preferment's own percentages, such as 200 % for equal flour and water
}

// PrefermentPercentResult is the same preferment in all three readings.
type PrefermentPercentResult struct {
	FlourOnFlour     unit.BakersPercent `json:"flour_on_flour" sym:"a"`      // flour in it on all the flour
	MassOnFlour      unit.BakersPercent `json:"mass_on_flour" sym:"b"`       // its weight on all the flour
	MassOnFinalFlour unit.BakersPercent `json:"mass_on_final_flour" sym:"c"` // its weight on the flour added at the final mix
}

func (PrefermentPercent) ID() string { return "preferment-percent" }

func (q PrefermentPercent) Check(c *reckon.Checks) {
	p := reckon.CheckRange(c, "percent", q.Percent, 0, largestPercent)
	r := reckon.CheckWord(c, "reading", q.Reading, FlourOnFlour, MassOnFlour, MassOnFinalFlour)
	t := reckon.CheckRange(c, "total_percent", q.TotalPercent, 100, largestPercent)
	switch {
	case !p || !r || !t:
	case q.Reading == FlourOnFlour && q.Percent >= 100:
		c.Fail("percent", reckon.Text(q.Percent), "under 100 %: the preferment cannot hold all the flour")
	case q.Reading == MassOnFlour && q.Percent >= q.TotalPercent:
		c.Fail("percent", reckon.Text(q.Percent), "under the "+reckon.Text(q.TotalPercent)+" at which the preferment holds all the flour")
	}
}

func (q PrefermentPercent) Solve() (out PrefermentPercentResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	v, total := float64(q.Percent), float64(q.TotalPercent)
	a := v
	switch q.Reading {
	case MassOnFlour:
		a = 100 * v / total
	case MassOnFinalFlour:
		a = 100 * v / (total + v)
	}
	b := float64(a*total) / 100
	onFinal := 100 * b / (100 - a)
	return PrefermentPercentResult{FlourOnFlour: unit.BakersPercent(a), MassOnFlour: unit.BakersPercent(b), MassOnFinalFlour: unit.BakersPercent(onFinal)}, nil
}

func (q PrefermentPercent) Show(w *reckon.Working, out PrefermentPercentResult) {
	a := "v"
	switch q.Reading {
	case MassOnFlour:
		a = "100*v/T"
	case MassOnFinalFlour:
		a = "100*v/(T + v)"
	}
	w.Inputs(q)
	w.Lines(out,
		"flour in it on all the flour: a = "+a+"  ["+string(q.Reading)+"]",
		"its weight on all the flour: b = a*T/100",
		"its weight on the flour of the final mix: c = 100*b/(100 - a)",
	)
}
