package molder

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What rollers and their grip can be, taken wide.
const (
	thinnestRoller unit.Length = 10
	widestRoller   unit.Length = 2000
	leastFriction              = 0.05
	mostFriction               = 3
)

// RollerGrip asks how thick a piece a pair of rollers takes in by itself, and
// at what angle it meets them:
//
//	h_max = (D_r + g) * sqrt(1 + mu^2) - D_r
//	cos(alpha) = (D_r + g) / (D_r + h)
//	mu_need = tan(alpha)
//
// The piece touches both rollers first where the line from its middle to
// theirs stands at the angle alpha to the plane of the rollers. It is drawn in
// while the friction there pulls harder than the roller pushes back, mu >
// tan(alpha); the two angles together, 2 alpha, are the angle of nip. The
// piece is taken as round in front; one with a square edge as thick meets the
// rollers at a wider angle. Dough gives way and sticks, so that the friction is
// more than that of a hard body: it is found with [GripFromTrials] and depends on dusting flour.
//
// A piece that is not gripped rides on the rollers. It is never pushed in:
// flatten it in front of them, open the gap, or dust less.
//
// Source: angle of nip of crushing rolls, Coulson and Richardson, Chemical Engineering, volume 2, chapter 2
// (from memory); cases in testdata/cases/molder/roller-grip.json.
//
// The inverse is [GapForGrip].
type RollerGrip struct {
	Roller    unit.Length `json:"roller_diameter" sym:"D_r" range:"10 mm..2 m"` // diameter of each roller
	Gap       unit.Length `json:"gap" sym:"g" range:"0.05 mm..200 mm"`          // gap between them
	Friction  float64     `json:"friction" sym:"mu" range:"0.05..3"`            // of the dough on the rollers: see [GripFromTrials]
	Thickness unit.Length `json:"thickness" sym:"h" range:"1 mm..500 mm"`       // of the piece as it meets them, more than the gap
	Measured  bool        `json:"measured,omitzero"`                            // true if friction was found on this line
}

// RollerGripResult is what the rollers take in.
type RollerGripResult struct {
	ThicknessLimit unit.Length     `json:"thickness_limit" sym:"h_max"`   // thickest piece that they take in
	NeededFriction float64         `json:"needed_friction" sym:"mu_need"` // friction that this piece needs
	Conditions     Conditions      `json:"conditions"`                    // no-grip, uncalibrated
	Cautions       reckon.Cautions `json:"cautions"`                      // moving-machinery, interlocks, roller-nip
}

func (RollerGrip) ID() string { return "roller-grip" }

func (q RollerGrip) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "roller_diameter", q.Roller, thinnestRoller, widestRoller)
	gap := reckon.CheckRange(c, "gap", q.Gap, narrowestGap, widestGap)
	reckon.CheckRange(c, "friction", q.Friction, leastFriction, mostFriction)
	checkMeets(c, q.Thickness, q.Gap, gap)
}

// checkMeets requires a piece that the rollers touch.
func checkMeets(c *reckon.Checks, thickness, gap unit.Length, known bool) bool {
	ok := reckon.CheckRange(c, "thickness", thickness, thinnestPiece, thickestPiece)
	if ok && known && thickness <= gap {
		c.Fail("thickness", thickness.String(), "more than the gap, "+gap.String()+": otherwise the rollers do not touch the piece")
		return false
	}
	return ok
}

func (q RollerGrip) Solve() (out RollerGripResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out = RollerGripResult{
		ThicknessLimit: gripped(q.Roller, q.Gap, q.Friction), NeededFriction: frictionFor(q.Roller, q.Gap, q.Thickness),
		Cautions: rollerCautions,
	}
	// A gap set for exactly this piece must not fail for its last binary digit.
	if q.Thickness > out.ThicknessLimit*(1+1e-9) {
		out.Conditions |= NoGrip
	}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

// gripped returns the thickest piece that rollers take in.
func gripped(roller, gap unit.Length, friction float64) unit.Length {
	d := float64(roller)
	return unit.Length(float64((d+float64(gap))*math.Hypot(1, friction)) - d)
}

// frictionFor returns the friction that a piece needs: the tangent of the
// angle whose cosine is (D_r + g) / (D_r + h).
func frictionFor(roller, gap, thickness unit.Length) float64 {
	near, far := float64(roller+gap), float64(roller+thickness)
	return math.Sqrt((far-near)*(far+near)) / near
}

func (q RollerGrip) Show(w *reckon.Working, out RollerGripResult) {
	w.Inputs(q)
	w.Lines(out,
		"thickest piece taken in: h_max = (D_r + g)*sqrt(1 + mu*mu) - D_r  [angle of nip of crushing rolls]",
		"cosine of the angle at which the piece meets a roller: c_a = (D_r + g)/(D_r + h)",
		"friction that the piece needs: mu_need = sqrt(1 - c_a*c_a)/c_a  [tangent of the angle]")
}

// GapForGrip asks how narrow a pair of rollers may close and still take in a
// piece by itself:
//
//	g = (D_r + h) / sqrt(1 + mu^2) - D_r
//
// It is the inverse of [RollerGrip], with the same validity.
//
// Source: angle of nip of crushing rolls, Coulson and Richardson, Chemical Engineering, volume 2, chapter 2
// (from memory).
//
// The inverse is [RollerGrip].
type GapForGrip struct {
	Roller    unit.Length `json:"roller_diameter" sym:"D_r" range:"10 mm..2 m"` // diameter of each roller
	Friction  float64     `json:"friction" sym:"mu" range:"0.05..3"`            // of the dough on the rollers: see [GripFromTrials]
	Thickness unit.Length `json:"thickness" sym:"h" range:"1 mm..500 mm"`       // of the piece as it meets them
	Measured  bool        `json:"measured,omitzero"`                            // true if friction was found on this line
}

// GapForGripResult is the narrowest gap.
type GapForGripResult struct {
	Gap        unit.Length     `json:"gap" sym:"g"` // narrowest gap at which the piece is drawn in
	Conditions Conditions      `json:"conditions"`  // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`    // moving-machinery, interlocks, roller-nip
}

func (GapForGrip) ID() string { return "gap-for-grip" }

func (q GapForGrip) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "roller_diameter", q.Roller, thinnestRoller, widestRoller)
	reckon.CheckRange(c, "friction", q.Friction, leastFriction, mostFriction)
	reckon.CheckRange(c, "thickness", q.Thickness, thinnestPiece, thickestPiece)
}

// Solve has no answer if the rollers take in the piece at every gap that
// [RollerGrip] takes, or only at a wider one than that.
func (q GapForGrip) Solve() (out GapForGripResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	gap := (q.Roller+q.Thickness)/unit.Length(math.Hypot(1, q.Friction)) - q.Roller
	if !(gap >= narrowestGap && gap <= widestGap) {
		low, high := gripped(q.Roller, narrowestGap, q.Friction), gripped(q.Roller, widestGap, q.Friction)
		advice := "the rollers take in this piece at every gap; close them as far as the sheet asks for"
		if gap > widestGap {
			advice = "the gap would have to be " + gap.String() + "; flatten the piece in front of the rollers"
		}
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "gap", Wanted: "a grip that just takes in a piece " + q.Thickness.String() + " thick",
			Low: low.String(), High: min(high, thickestPiece).String(), Advice: advice,
		}
	}
	out = GapForGripResult{Gap: gap, Cautions: rollerCautions}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q GapForGrip) Show(w *reckon.Working, out GapForGripResult) {
	w.Inputs(q)
	w.Lines(out, "narrowest gap: g = (D_r + h)/sqrt(1 + mu*mu) - D_r  [angle of nip of crushing rolls]")
}

// A GripTrial is one piece laid on the running rollers by the feed.
type GripTrial struct {
	Thickness unit.Length `json:"thickness" sym:"h_#" range:"1 mm..500 mm"` // of the piece as it met them, more than the gap
	Gap       unit.Length `json:"gap" sym:"g_#" range:"0.05 mm..200 mm"`    // between the rollers
	Taken     Verdict     `json:"verdict"`                                  // "good" if the rollers drew it in, "too-much" if it rode on them
}

// GripFromTrials asks how well rollers grip a dough, as the friction that the
// thickest piece needed that they drew in:
//
//	mu_i = sqrt((D_r + h_i)^2 - (D_r + g_i)^2) / (D_r + g_i)
//	mu = max(mu_i)  of the n that were drawn in
//
// It belongs to the dough, its dusting and the surface of the rollers.
//
// It is refused if:
//   - no piece was drawn in.
//
// Source: angle of nip of crushing rolls, Coulson and Richardson, Chemical Engineering, volume 2, chapter 2
// (from memory); cases in testdata/cases/molder/grip-from-trials.json.
//
// It calibrates [RollerGrip].
type GripFromTrials struct {
	Roller unit.Length `json:"roller_diameter" sym:"D_r" range:"10 mm..2 m"` // diameter of each roller
	Trials []GripTrial `json:"trials" items:"1..1000"`                       // in any order; at least one that was drawn in
}

// GripFromTrialsResult is the grip of the rollers.
type GripFromTrialsResult struct {
	Friction float64         `json:"friction" sym:"mu"` // that was enough
	Taken    int             `json:"taken" sym:"n"`     // pieces drawn in
	Cautions reckon.Cautions `json:"cautions"`          // moving-machinery, interlocks, roller-nip
}

func (GripFromTrials) ID() string { return "grip-from-trials" }

func (q GripFromTrials) Check(c *reckon.Checks) { q.check(c) }

// check returns the largest friction of those drawn in, the least of those
// that were not, and how many were.
func (q GripFromTrials) check(c *reckon.Checks) (most, failed float64, taken int) {
	start := c.Mark()
	reckon.CheckRange(c, "roller_diameter", q.Roller, thinnestRoller, widestRoller)
	if len(q.Trials) > mostSheetTrials {
		c.Fail("trials", strconv.Itoa(len(q.Trials))+" trials", "at most "+strconv.Itoa(mostSheetTrials))
		return most, failed, taken
	}
	failed = math.Inf(1)
	for i := range q.Trials {
		t := &q.Trials[i]
		mark := c.Mark()
		gap := reckon.CheckRange(c, "gap", t.Gap, narrowestGap, widestGap)
		checkMeets(c, t.Thickness, t.Gap, gap)
		reckon.CheckWord(c, "verdict", t.Taken, Good, TooMuch)
		c.Item(mark, "trials", i)
		if mu := frictionFor(q.Roller, t.Gap, t.Thickness); t.Taken == Good {
			most = max(most, mu)
			taken++
		} else {
			failed = min(failed, mu)
		}
	}
	if c.Mark() == start && taken == 0 {
		c.Fail("trials", "none drawn in", "at least one piece that the rollers drew in")
	}
	return most, failed, taken
}

// Solve has no answer if a piece that needs less friction was not drawn in.
func (q GripFromTrials) Solve() (out GripFromTrialsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	most, failed, taken := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if failed <= most {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "friction", Wanted: "the verdicts of all trials",
			Advice: "a piece that needs a friction of " + number(failed) + " rode on the rollers, and one that needs " + number(most) + " was drawn in; try them again with the same dough and the same dusting",
		}
	}
	return GripFromTrialsResult{Friction: most, Taken: taken, Cautions: rollerCautions}, nil
}

func (q GripFromTrials) Show(w *reckon.Working, out GripFromTrialsResult) {
	w.Inputs(q)
	var needed []string
	for i := range q.Trials {
		if t := &q.Trials[i]; t.Taken == Good {
			n := strconv.Itoa(i + 1)
			w.Lines(out, fmt.Sprintf("friction that piece %s needs: mu_%s = sqrt((D_r + h_%s)*(D_r + h_%s) - (D_r + g_%s)*(D_r + g_%s))/(D_r + g_%s)", n, n, n, n, n, n, n))
			needed = append(needed, "mu_"+n)
		}
	}
	most := strings.Join(needed, ", ")
	w.Lines(out,
		"pieces drawn in: n = count("+most+")",
		"friction: mu = max("+most+")  [trials]")
}
