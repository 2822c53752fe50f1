package molder

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The springback that sources report for wheat dough between rollers: from
// about 1.1, the purely viscous swell, to 2.75 for strong dough that has not
// relaxed. Outside it a measurement is looked at again, not refused. The 2.75
// is printed (Foods 11, 2022, 2300, section 3.1), but that it was measured
// behind a gap of 12 mm was inferred from the order of the sentence there.
const (
	leastRecovery   = 1.1
	largestRecovery = 2.75
)

// recoveryConditions says what to look at in a recovery ratio.
func recoveryConditions(recovery float64, measured bool) Conditions {
	var c Conditions
	if recovery < leastRecovery || recovery > largestRecovery {
		c |= reckon.OutsideSource
	}
	if !measured {
		c |= reckon.Uncalibrated
	}
	return c
}

// RecoveryFromSheet asks how much a dough springs back behind the rollers, as the
// recovery ratio of sheets measured on the line:
//
//	t = sum(t_i) / n
//	R = t / g
//	s = sqrt(sum((t_i / g - R)^2) / (n - 1))
//
// The ratio belongs to the dough, its rest before the rollers, the gap and
// the speed: measure it again when one of them changes. A sheet needs some 50
// minutes to relax fully (Morgenstern, Newberry and Holst, Cereal Chem. 73,
// 1996, 478), so a short rest leaves much of the spring. A sheet thinner than
// the gap is being pulled by the belt behind the rollers; mend that first.
//
// It is refused if:
//   - thicknesses is empty,
//   - a thickness is less than the gap or more than 5 times it.
//
// Source: definition of the recovery ratio; the ratios of Foods 11 (2022) 2300, section 3.1,
// worked one way and back (derived); cases in testdata/cases/molder/recovery-from-sheet.json.
//
// It calibrates [Sheet].
type RecoveryFromSheet struct {
	Gap         unit.Length   `json:"gap" sym:"g" range:"0.05 mm..200 mm"`              // gap of the rollers
	Thicknesses []unit.Length `json:"thicknesses" sym:"t_#" range:"-" items:"1..10000"` // sheets measured behind it in the middle, each at least the gap and at most 5 times it; at least one
}

// RecoveryFromSheetResult is how much this dough springs back behind this gap.
type RecoveryFromSheetResult struct {
	Recovery   float64         `json:"recovery" sym:"R"`    // mean of thickness over gap
	SD         float64         `json:"sd,omitzero" sym:"s"` // sample standard deviation of the ratio; left out for a single sheet
	Thickness  unit.Length     `json:"thickness" sym:"t"`   // mean thickness
	Count      int             `json:"count" sym:"n"`       // number of sheets measured
	Conditions Conditions      `json:"conditions"`          // outside-source
	Cautions   reckon.Cautions `json:"cautions"`            // roller-nip
}

func (RecoveryFromSheet) ID() string { return "recovery-from-sheet" }

func (q RecoveryFromSheet) Check(c *reckon.Checks) {
	if reckon.CheckRange(c, "gap", q.Gap, narrowestGap, widestGap) {
		checkEach(c, "thicknesses", q.Thicknesses, q.Gap, 5*q.Gap)
	}
	reckon.CheckItems(c, "thicknesses", len(q.Thicknesses), mostTrials)
	if len(q.Thicknesses) == 0 {
		c.Fail("thicknesses", "empty", "at least one sheet measured behind the rollers")
	}
}

func (q RecoveryFromSheet) Solve() (out RecoveryFromSheetResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	mean, sd := ratios(q.Thicknesses, q.Gap)
	out = RecoveryFromSheetResult{Recovery: mean / float64(q.Gap), SD: sd, Thickness: unit.Length(mean), Count: len(q.Thicknesses)}
	out.Conditions = recoveryConditions(out.Recovery, true)
	out.Cautions = reckon.RollerNip
	return out, nil
}

func (q RecoveryFromSheet) Show(w *reckon.Working, out RecoveryFromSheetResult) {
	w.Inputs(q)
	w.Lines(out,
		"sheets measured: n = count(t_#...)",
		"mean thickness: t = sum(t_#)/n",
		"recovery: R = t/g  [definition]")
	if out.Count > 1 {
		w.Lines(out, "standard deviation of the ratio: s = sqrt(sum((t_#/g - R)*(t_#/g - R))/(n - 1))  [sample standard deviation]")
	}
}
