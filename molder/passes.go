package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What passes can be, taken wide: the bounds catch slips of the decimal point.
const (
	thinnestIn unit.Length = 0.2
	thickestIn unit.Length = 1000
	mostPasses             = 50
)

// SheetingPasses asks how many passes a dough needs to come to the wanted
// thickness within its limit:
//
//	q = t_in / t_out
//	p = ceil(ln(q) / ln(r_max / R))
//	r = R * q^(1 / p)
//
// The reduction is counted from the thickness in front of the rollers to the
// gap. With a recovery of 1 it is counted from sheet to sheet, as the rule of
// thumb of the trade is.
//
// It is refused if thickness_out is not less than thickness_in.
//
// Source: reduction of 2 to 1 a pass as a rule of thumb, up to 4 to 1 in use
// (trade article on sheeting, 2015); cases in testdata/cases/molder/sheeting-passes.json.
//
// The inverse is [ThicknessForPasses].
type SheetingPasses struct {
	ThicknessIn    unit.Length `json:"thickness_in" sym:"t_in" range:"0.2 mm..1 m"`   // thickness before the first pair
	ThicknessOut   unit.Length `json:"thickness_out" sym:"t_out" range:"0.1 mm..1 m"` // wanted thickness behind the last, less than thickness_in
	Recovery       float64     `json:"recovery" sym:"R" range:"1..5"`                 // sheet thickness over gap of each pass; 1 if the limit is meant from sheet to sheet
	ReductionLimit float64     `json:"reduction_limit" sym:"r_max" range:"1.1..10"`   // largest reduction (thickness in over gap) that the dough can stand in one pass; rule of thumb 2, up to 4
}

// SheetingPassesResult is how often the dough is sheeted.
type SheetingPassesResult struct {
	Passes     int             `json:"passes" sym:"p"`    // pairs of rollers, or times through one
	Reduction  float64         `json:"reduction" sym:"r"` // thickness in over gap of each pass, shared evenly
	Conditions Conditions      `json:"conditions"`        // outside-source
	Cautions   reckon.Cautions `json:"cautions"`          // moving-machinery, roller-nip
}

func (SheetingPasses) ID() string { return "sheeting-passes" }

func (q SheetingPasses) Check(c *reckon.Checks) {
	if reckon.CheckRange(c, "thickness_in", q.ThicknessIn, thinnestIn, thickestIn) {
		reckon.CheckBelow(c, "thickness_out", q.ThicknessOut, thinnestSheet, q.ThicknessIn)
	} else {
		reckon.CheckRange(c, "thickness_out", q.ThicknessOut, thinnestSheet, thickestIn)
	}
	checkReduction(c, q.Recovery, q.ReductionLimit)
}

// Solve has no answer if the dough springs back by as much as it may be
// reduced, or so nearly that it takes more than 50 passes.
func (q SheetingPasses) Solve() (out SheetingPassesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	if q.Recovery >= q.ReductionLimit {
		return out, noReduction(c.Func, q.Recovery)
	}
	total := float64(q.ThicknessIn) / float64(q.ThicknessOut)
	exact := math.Log(total) / math.Log(q.ReductionLimit/q.Recovery)
	// Exact powers, such as 16 at 2 to 1, must not ask for one pass more.
	passes := max(1, math.Ceil(exact-1e-9))
	if passes > mostPasses {
		thinnest := unit.Length(float64(q.ThicknessIn) * math.Pow(q.Recovery/q.ReductionLimit, mostPasses))
		return out, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "number of passes up to " + number(mostPasses), Wanted: "a sheet " + q.ThicknessOut.String() + " thick",
			Low: thinnest.String(), High: q.ThicknessIn.String(),
			Advice: "each pass leaves no less than " + number(q.Recovery/q.ReductionLimit) + " of the thickness; rest the dough before sheeting, or allow a larger reduction",
		}
	}
	return SheetingPassesResult{
		Passes: int(passes), Reduction: q.Recovery * math.Pow(total, 1/passes),
		Conditions: reductionConditions(1, q.ReductionLimit),
		Cautions:   reckon.MovingMachinery | reckon.RollerNip,
	}, nil
}

func (q SheetingPasses) Show(w *reckon.Working, out SheetingPassesResult) {
	w.Inputs(q)
	w.Lines(out,
		"whole reduction: q = t_in/t_out",
		"passes: p = ceil(ln(q)/ln(r_max/R))  [whole passes]",
		"reduction of each pass: r = R*pow(q, 1/p)  [shared evenly]")
}

func noReduction(id string, recovery float64) error {
	return &reckon.NoSolutionError{
		Func: id, Unknown: "number of passes", Wanted: "that thickness",
		Advice: "the dough springs back to " + number(recovery) + " times the gap, as much as it may be reduced; rest it before sheeting",
	}
}

// ThicknessForPasses asks how thin a dough gets in this many passes within its
// limit:
//
//	t_out = t_in * (R / r_max)^p
//
// It is the inverse of [SheetingPasses], with the same validity.
//
// Source: reduction of 2 to 1 a pass as a rule of thumb, up to 4 to 1 in use
// (trade article on sheeting, 2015).
//
// The inverse is [SheetingPasses].
type ThicknessForPasses struct {
	ThicknessIn    unit.Length `json:"thickness_in" sym:"t_in" range:"0.2 mm..1 m"` // thickness before the first pair
	Passes         int         `json:"passes" sym:"p" range:"1..50"`                // pairs of rollers, or times through one
	Recovery       float64     `json:"recovery" sym:"R" range:"1..5"`               // sheet thickness over gap of each pass; 1 if the limit is meant from sheet to sheet
	ReductionLimit float64     `json:"reduction_limit" sym:"r_max" range:"1.1..10"` // largest reduction (thickness in over gap) that the dough can stand in one pass; rule of thumb 2, up to 4
}

// ThicknessForPassesResult is the thinnest sheet within the limit.
type ThicknessForPassesResult struct {
	ThicknessOut unit.Length     `json:"thickness_out" sym:"t_out"` // thickness behind the last pair
	Conditions   Conditions      `json:"conditions"`                // outside-source
	Cautions     reckon.Cautions `json:"cautions"`                  // moving-machinery, roller-nip
}

func (ThicknessForPasses) ID() string { return "thickness-for-passes" }

func (q ThicknessForPasses) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "thickness_in", q.ThicknessIn, thinnestIn, thickestIn)
	reckon.CheckCount(c, "passes", q.Passes, 1, mostPasses)
	checkReduction(c, q.Recovery, q.ReductionLimit)
}

// Solve has no answer if the dough springs back by as much as it may be
// reduced, or if the sheet would be thinner than the 0.1 mm that [SheetingPasses] takes.
func (q ThicknessForPasses) Solve() (out ThicknessForPassesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	if q.Recovery >= q.ReductionLimit {
		return out, noReduction(c.Func, q.Recovery)
	}
	thickness := unit.Length(float64(q.ThicknessIn) * math.Pow(q.Recovery/q.ReductionLimit, float64(q.Passes)))
	if thickness < thinnestSheet {
		most := math.Floor(math.Log(float64(q.ThicknessIn/thinnestSheet)) / math.Log(q.ReductionLimit/q.Recovery))
		return out, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "sheet", Wanted: number(float64(q.Passes)) + " passes at the limit", High: number(most) + " passes",
			Advice: "the sheet would be thinner than " + thinnestSheet.String() + "; ask for fewer passes",
		}
	}
	out.ThicknessOut, out.Conditions = thickness, reductionConditions(1, q.ReductionLimit)
	out.Cautions = reckon.MovingMachinery | reckon.RollerNip
	return out, nil
}

func (q ThicknessForPasses) Show(w *reckon.Working, out ThicknessForPassesResult) {
	w.Inputs(q)
	w.Lines(out, "thickness out: t_out = t_in*pow(R/r_max, p)")
}
