package molder

import (
	"errors"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// SheetSetting asks where to set the last pair of rollers, by the rule of the
// trade: at least the wanted turns, and the thinnest sheet that does not tear:
//
//	g_N = t_N / R  by [GapForTurns], the widest gap up to g_max that makes the wanted turns N_want
//	a = L / W
//	t_w = 4 * V / (pi * a * w^2),  V = m / rho * 1000
//	g_low = max(g_min, t_T / R, t_w / R), and g_r if that is still below g_N
//	g = q_g * ceil(g_low / q_g), g_low itself if the rollers are stepless
//	N = k * (D - d) / (2 * t),  D = sqrt(d^2 + 4 * L * t / pi),  t = R * g
//
// A tear limit comes from trials with the dough. While there is none, nobody
// knows how thin the dough can go: then the gap is the widest, down to the
// step, that makes the wanted turns, and the answer says so.
//
// A reduction that exceeds the dough's limit for one pair is no reason to give
// up wanted turns, but nothing is sheeted thinner than them for it.
//
// It is refused if:
//   - both or neither of aspect and width are given,
//   - gap_high is less than gap_low,
//   - width is more than width_limit.
//
// Source: at least the wanted turns, and the thinnest sheet that holds (common practice); conservation of volume
// and area of the roll's end (derived); cases in testdata/cases/molder/sheet-setting.json.
//
// [GapForTurns] gives the gap for the turns alone, and [TurnsForGap] goes back.
type SheetSetting struct {
	Turns    float64      `json:"turns" sym:"N_want" range:"0.5..20"`           // least turns wanted, counted in a cut piece; the usual aim is 2.5
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough after the rollers
	Recovery float64      `json:"recovery" sym:"R" range:"1..5"`                // sheet thickness over gap
	Aspect   float64      `json:"aspect,omitzero" sym:"a" range:"0.5..10"`      // sheet length over width; give this or width
	Width    unit.Length  `json:"width,omitzero" sym:"W" range:"5 mm..2 m"`     // sheet width; give this or aspect
	Core     unit.Length  `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling; 0 for none
	Measured bool         `json:"measured,omitzero"`                            // true if recovery was measured on this line: see [RecoveryFromSheet]

	TurnsRatio   float64     `json:"turns_ratio,omitzero" sym:"k,1" range:"0.3..2"`            // turns counted in cut pieces over turns computed: see [TurnsRatioFromPieces]; leave out for 1
	TearLimit    unit.Length `json:"tear_limit,omitzero" sym:"t_T" range:"0.1 mm..200 mm"`     // thinnest sheet of this dough that did not tear: see [SheetFromTrials]; leave out if not known
	GapLow       unit.Length `json:"gap_low" sym:"g_min" range:"0.05 mm..200 mm"`              // narrowest gap that the rollers reach
	GapHigh      unit.Length `json:"gap_high" sym:"g_max" range:"0.05 mm..200 mm"`             // widest gap that they reach, at least gap_low
	GapStep      unit.Length `json:"gap_step,omitzero" sym:"q_g" range:"0 mm..200 mm"`         // finest step of the gap; leave out if it is stepless
	ReductionGap unit.Length `json:"reduction_gap,omitzero" sym:"g_r" range:"0.05 mm..200 mm"` // narrowest gap within the dough's limit for one pair: see [LastGapForReduction]; leave out if not known
	WidthLimit   unit.Length `json:"width_limit,omitzero" sym:"w" range:"5 mm..2 m"`           // widest sheet that can be rolled, such as the length to which the board may roll the piece; leave out for none
}

// SheetSettingResult is where the last pair of rollers goes.
type SheetSettingResult struct {
	Gap        unit.Length     `json:"gap" sym:"g"`         // gap of the last pair to set
	Thickness  unit.Length     `json:"thickness" sym:"t"`   // of the sheet that it makes
	Turns      float64         `json:"turns" sym:"N"`       // turns to count in a cut piece
	TurnsGap   unit.Length     `json:"turns_gap" sym:"g_N"` // widest gap that makes the wanted turns
	Limit      string          `json:"limit"`               // what keeps the sheet from being thinner: "tear", "reduction", "width", "rollers"; "turns" if the tear limit is not known, or at the 20 turns that are the most
	Conditions Conditions      `json:"conditions"`          // tear-untried, deep-reduction, few-turns, uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`            // moving-machinery, interlocks, roller-nip
}

func (SheetSetting) ID() string { return "sheet-setting" }

// turns is the question for the wanted turns alone.
func (q *SheetSetting) turns() (t GapForTurns) {
	t.Turns, t.Piece, t.Density, t.Recovery, t.Aspect, t.Width = q.Turns, q.Piece, q.Density, q.Recovery, q.Aspect, q.Width
	t.Core, t.Measured, t.TurnsRatio = q.Core, q.Measured, q.TurnsRatio
	return t
}

func (q SheetSetting) Check(c *reckon.Checks) {
	turns := q.turns()
	q.check(c, &turns)
}

func (q *SheetSetting) check(c *reckon.Checks, turns *GapForTurns) {
	turns.check(c)
	checkTearLimit(c, q.TearLimit)
	low := reckon.CheckRange(c, "gap_low", q.GapLow, narrowestGap, widestGap)
	if reckon.CheckRange(c, "gap_high", q.GapHigh, narrowestGap, widestGap) && low && q.GapHigh < q.GapLow {
		c.Fail("gap_high", q.GapHigh.String(), "at least gap_low, "+q.GapLow.String())
	}
	reckon.CheckRange(c, "gap_step", q.GapStep, 0, widestGap)
	if q.ReductionGap != 0 {
		reckon.CheckRange(c, "reduction_gap", q.ReductionGap, narrowestGap, widestGap)
	}
	if q.WidthLimit != 0 && reckon.CheckRange(c, "width_limit", q.WidthLimit, narrowestSheet, widestSheet) && q.Width > q.WidthLimit {
		c.Fail("width_limit", q.WidthLimit.String(), "at least width, "+q.Width.String())
	}
}

// Solve has no answer if no gap that the rollers reach makes the wanted turns
// of a sheet that holds.
func (q SheetSetting) Solve() (out SheetSettingResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *SheetSetting) SolveInto(out *SheetSettingResult) error {
	*out = SheetSettingResult{}
	c := reckon.Checks{Func: q.ID()}
	wanted := q.turns()
	if q.check(&c, &wanted); !c.OK() {
		return c.Err()
	}
	var turns GapResult
	if err := wanted.find(&turns); err != nil {
		return q.named(err)
	}
	lowest, limit := q.lowest()
	low, high := stepUp(lowest, q.GapStep), stepDown(min(turns.Gap, q.GapHigh), q.GapStep)
	if low > high*(1+1e-9) {
		return q.noGap(lowest, limit, turns.Gap)
	}
	gap := high
	if q.TearLimit == 0 {
		limit = "turns"
	} else if gap = low; q.ReductionGap > low {
		gap, limit = min(high, stepUp(q.ReductionGap, q.GapStep)), "reduction"
	}
	out.Gap, out.TurnsGap, out.Limit = gap, turns.Gap, limit
	out.Conditions, out.Cautions = turns.Conditions&^(FewTurns|ManyTurns|reckon.OutsideSource), turns.Cautions
	out.Thickness = gap * unit.Length(q.Recovery)
	var width float64
	out.Turns, width, out.Conditions = q.made(float64(out.Thickness), out.Conditions)
	if !isSheet(float64(out.Thickness), q.outline().length(float64(out.Thickness)), width) {
		*out = SheetSettingResult{}
		return q.noGap(lowest, limit, turns.Gap)
	}
	if q.TearLimit == 0 {
		out.Conditions |= TearUntried
	}
	// A gap set for exactly the limit must not fail for its last binary digit.
	if gap < q.ReductionGap*(1-1e-9) {
		out.Conditions |= DeepReduction
	}
	return nil
}

func (q *SheetSetting) outline() outline {
	return outline{volume: volume(q.Piece, q.Density), recovery: q.Recovery, aspect: q.Aspect, width: float64(q.Width)}
}

// made returns the turns and the width of a sheet of thickness t, and what there is to look at.
func (q *SheetSetting) made(t float64, found Conditions) (turns, width float64, all Conditions) {
	l, d := q.outline().length(t), float64(q.Core)
	_, turns = roll(l, t, d)
	turns *= ratioOr1(q.TurnsRatio)
	found |= recoveryConditions(q.Recovery, q.Measured)
	if width = float64(q.Width); q.Aspect != 0 {
		width = l / q.Aspect
	} else {
		found |= outlineConditions(l, width)
	}
	if turns < fewTurns*(1-1e-9) {
		found |= unusualTurns(turns, t, d)
	}
	return turns, width, found
}

// lowest returns the narrowest gap at which the sheet can be made and holds,
// and what limits it.
func (q *SheetSetting) lowest() (gap unit.Length, limit string) {
	gap, limit = q.GapLow, "rollers"
	if torn := q.TearLimit / unit.Length(q.Recovery); torn >= gap {
		gap, limit = torn, "tear"
	}
	if wide := unit.Length(q.widest() / q.Recovery); wide > gap {
		gap, limit = wide, "width"
	}
	t := float64(gap) * q.Recovery
	if _, turns := roll(q.outline().length(t), t, float64(q.Core)); turns > mostTurns {
		most := q.mostTurns()
		gap, limit = unit.Length(most.thickness()/q.Recovery), "turns"
	}
	return gap, limit
}

// mostTurns is the question for the most turns that a roll can have.
func (q *SheetSetting) mostTurns() GapForTurns {
	most := q.turns()
	most.Turns = mostTurns * ratioOr1(q.TurnsRatio)
	return most
}

// widest returns the thickness of the widest sheet that is allowed.
func (q *SheetSetting) widest() float64 {
	if q.WidthLimit == 0 || q.Aspect == 0 {
		return 0
	}
	return q.outline().thickness(float64(q.WidthLimit) * q.Aspect)
}

// stepUp and stepDown set a gap to a step; the slack is for a gap that is on one.
func stepUp(gap, step unit.Length) unit.Length {
	if step == 0 {
		return gap
	}
	return unit.Length(math.Ceil(float64(gap/step)-1e-9)) * step
}

func stepDown(gap, step unit.Length) unit.Length {
	if step == 0 {
		return gap
	}
	return unit.Length(math.Floor(float64(gap/step)+1e-9)) * step
}

// named puts this question's name on the answer of the one for the turns alone.
func (q *SheetSetting) named(err error) error {
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		none.Func = q.ID()
	}
	return err
}

// noGap says how many turns the thinnest sheet makes.
func (q *SheetSetting) noGap(low unit.Length, limit string, wanted unit.Length) error {
	none := &reckon.NoSolutionError{Func: q.ID(), Unknown: "gap", Wanted: "at least " + number(q.Turns) + " turns (a gap of " + wanted.String() + " or less)"}
	advice := map[string]string{
		"tear":    "a thinner sheet of this dough tears; ask for fewer turns, rest the dough before the rollers or take a heavier piece",
		"width":   "a thinner sheet would be wider than " + q.WidthLimit.String() + "; ask for fewer turns or a longer piece",
		"turns":   "ask for fewer turns",
		"rollers": "the rollers reach gaps of " + q.GapLow.String() + " to " + q.GapHigh.String() + "; ask for fewer turns or take a heavier piece",
	}
	none.Advice = advice[limit]
	t := float64(low) * q.Recovery
	turns, width, _ := q.made(t, 0)
	switch {
	case low > q.GapHigh:
		none.Advice = "the sheet must be " + unit.Length(t).String() + " thick or more, and the rollers open to " + q.GapHigh.String() + " only; " + none.Advice
	case asThickAsBall(t, q.Piece, q.Density) || !isSheet(t, q.outline().length(t), width):
	case low <= wanted:
		none.Advice = "no step of the rollers lies between that and the narrowest, " + low.String() + "; " + none.Advice
	default:
		none.Advice = "at " + low.String() + " it makes " + number(turns) + " turns: " + none.Advice
	}
	return none
}

func (q SheetSetting) Show(w *reckon.Working, out SheetSettingResult) {
	w.Inputs(q)
	turns := q.turns()
	turns.showThickness(w, out, "t_N", "N_want")
	w.Lines(out, "widest gap for the wanted turns: g_N = t_N/R  [springback]")
	q.showLowest(w, out)
	up, down := "g_low", "min(g_N, g_max)"
	if q.GapStep != 0 {
		up, down = "q_g*ceil(g_low/q_g)", "q_g*floor(min(g_N, g_max)/q_g)"
	}
	switch {
	case q.TearLimit == 0:
		w.Lines(out, "gap to set: g = "+down+"  [the widest that makes the turns, down to the step]")
	case out.Limit == "reduction":
		w.Lines(out, "widest gap to set: g_high = "+down+" in mm  [down to the step]")
		if q.GapStep != 0 {
			up = "q_g*ceil(g_r/q_g)"
		} else {
			up = "g_r"
		}
		w.Lines(out, "gap to set: g = min(g_high, "+up+")  [within the dough's limit for one pair, but not at the cost of turns]")
	default:
		w.Lines(out, "gap to set: g = "+up+"  [up to the step]")
	}
	w.Lines(out, "sheet thickness: t = R*g  [springback]")
	if q.Aspect != 0 {
		w.Lines(out, "sheet length: L = sqrt(4*V*a/(pi*t)) in mm  [volume of an ellipse of even thickness]")
	} else {
		w.Lines(out, "sheet length: L = 4*V/(pi*t*W) in mm  [volume of an ellipse of even thickness]")
	}
	showRolled(w, out, q.TurnsRatio)
}

// showLowest records how narrow the gap may be.
func (q *SheetSetting) showLowest(w *reckon.Working, out SheetSettingResult) {
	lowest := "g_min"
	also := func(gap string) { lowest = "max(" + lowest + ", " + gap + ")" }
	if q.TearLimit != 0 {
		also("t_T/R")
	}
	if q.widest() != 0 {
		w.Lines(out, "thickness of the widest sheet: t_w = 4*V/(pi*a*w*w) in mm  [volume of an ellipse of even thickness]")
		also("t_w/R")
	}
	if _, limit := q.lowest(); limit == "turns" {
		turns := "20"
		if q.TurnsRatio != 0 {
			turns += "*k"
		}
		w.Lines(nil, "most turns that a roll can have: N_20 = "+turns)
		most := q.mostTurns()
		most.showThickness(w, nil, "t_20", "N_20")
		also("t_20/R")
	}
	w.Lines(out, "narrowest gap: g_low = "+lowest+" in mm")
}

// What a ratio of counted to computed turns can be, taken wide.
const (
	leastTurnsRatio   = 0.3
	largestTurnsRatio = 2
)
