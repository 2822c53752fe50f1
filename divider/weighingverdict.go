package divider

import (
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Finding is what one subgroup shows.
type Finding string

const (
	// FoundSteady says that the pieces are whole and their mean lies in the band.
	FoundSteady Finding = "steady"
	// FoundMark says that the pieces are whole and their mean has left the band: a matter for the handle.
	FoundMark Finding = "mark"
	// FoundDouble says that a piece weighs about twice its neighbours.
	FoundDouble Finding = "double"
	// FoundTorn says that a piece weighs about half of its neighbours.
	FoundTorn Finding = "torn"
	// FoundOutlier says that one piece lies farther from the others than they scatter.
	FoundOutlier Finding = "outlier"
	// FoundSpread says that the pieces scatter more than they used to.
	FoundSpread Finding = "spread"
)

// LookAt returns where to look for the cause; it is empty with steady and mark.
func (f Finding) LookAt() string {
	switch f {
	case FoundDouble:
		return "Two pieces have stuck together: look at the drop into the rounder, at the belts and the gaps between pieces on them, and at the dusting."
	case FoundTorn:
		return "A piece is torn or the chamber did not fill: look at the chamber and what strips it, and at the dough in the hopper; the rest of it may stick somewhere, or to another piece."
	case FoundOutlier:
		return "One piece is out of line: weigh it again; then look at its lane and chamber, and at the dough in the hopper."
	case FoundSpread:
		return "The pieces scatter otherwise than they used to: look at the dough in the hopper and its gas, at the chambers, the oil and the dusting, and at the scale."
	}
	return ""
}

// Advice returns what to do.
func (f Finding) Advice() string {
	switch f {
	case FoundSteady:
		return "Leave the handle alone and go on with the usual checks."
	case FoundMark:
		return "The pieces are whole and their mean has left the band: ask for the next mark with it."
	case FoundDouble, FoundTorn, FoundOutlier, FoundSpread:
		return "Leave the handle alone: this subgroup says nothing of the mark. Find the cause, and weigh a fresh subgroup."
	}
	return ""
}

const (
	// doubleRatio and tornRatio are where a piece is nearer to two of its
	// neighbours than to one, and nearer to half of one than to a whole.
	doubleRatio = 1.5
	tornRatio   = 0.75
	// stopChance is the chance that a subgroup of whole, steady pieces is taken
	// for one with an outlier, and again for one with a spread, in percent: small, since
	// each such stop costs a fresh subgroup. Common practice, no source.
	stopChance = 1.0
)

// mostInVerdict bounds a subgroup that is judged piece by piece.
const mostInVerdict = 1000

// WeighingVerdict asks what the single weights of one subgroup say, before
// anything is done about the mark:
//
//	x_m = sum(x_i) / n,  s_w = sqrt(sum((x_i - x_m)^2) / (n - 1))
//	x_n = the median of x_i; of two middle ones, the nearer to E;  the neighbours' weight
//	torn if x_n is at most 0.75 * E
//	double if x_n is at least 1.5 * E, or the heaviest at least 1.5 * x_n and more than z_G * s above it
//	torn if the lightest is at most 0.75 * x_n and more than z_G * s below it
//	outlier if G = max(|x_i - x_m|) / (s * sqrt(1 - 1 / n)) > z_G, z_G at 1 - 0.005 / n, from 3 pieces
//	spread if s_w > s_max = s * sqrt(chi2 / (n - 1)), chi2 at 99 % with n - 1 degrees of freedom, from 2 pieces
//	mark if x_m lies outside a_low to a_high, the band of [HandleBand] by E, T, b, D, L, A and Y
//	steady if none of these
//
// The first that applies is the finding. A double or a torn piece moves the mean by a
// large part of a piece, and the handle has nothing to do with it: only a clean
// subgroup, with the finding mark, goes on to [NextMark]. With any other finding
// but steady the handle is left alone, the cause is looked for, and a fresh subgroup is weighed.
//
// A subgroup of whole pieces of the usual scatter is stopped as an outlier, and as a
// spread, in one of a hundred cases at most each. Of one piece or two the expected weight is the neighbour.
//
// It holds for single pieces: weighed several together they hide what is asked for
// here ([GroupSample]). The scatter s is known from an earlier, steady run.
//
// It is refused if:
//   - one of the figures for the band is not as [HandleBand] takes it.
//
// Source: the largest deviation at known scatter, as F. E. Grubbs, Technometrics 11 (1969), 1-21, section on a known
// standard deviation, with Bonferroni's bound in place of his table, recalled; the chi-square test of a standard deviation, NIST/SEMATECH
// e-Handbook of Statistical Methods, section 1.3.5.8; doubles and torn pieces: common practice.
type WeighingVerdict struct {
	Weighings []unit.Mass  `json:"weighings" sym:"x_#" range:"1 mg..100 kg" items:"1..1000"` // single pieces of one subgroup at one setting
	Expected  unit.Mass    `json:"expected" sym:"E" range:">0 g..1000 t"`                    // mean that the set mark gives
	Target    unit.Mass    `json:"target" sym:"T" range:">0 g..1000 t"`                      // mean weight wanted
	PerMark   unit.Mass    `json:"per_mark" sym:"b" range:"-1000 t..1000 t"`                 // weight of one mark; below 0 if a higher mark weighs less
	MarkStep  float64      `json:"mark_step,omitzero" sym:"D,0" range:"1e-6..1e9"`           // smallest part of a mark that the handle can be set to; leave out if it moves freely
	MoveLimit unit.Mass    `json:"move_limit,omitzero" sym:"L,0" range:"0 g..1000 t"`        // how far the mean may lie from the target before it matters, where that is more than half a step
	SD        unit.Mass    `json:"sd" sym:"s" range:"0.001 mg..100 kg"`                      // standard deviation of single pieces, of a steady run
	Needless  unit.Percent `json:"needless" sym:"A" range:"0.01 %..5 %"`                     // chance of a needless move that is accepted
	Label     unit.Mass    `json:"label,omitzero" sym:"Y,0" range:"0 g..1000 t"`             // lowest mean that a label allows; leave out for none
}

// WeighingVerdictResult is what the subgroup says.
type WeighingVerdictResult struct {
	Finding Finding `json:"finding"` // "steady", "mark", "double", "torn", "outlier" or "spread"
	Piece   int     `json:"piece"`   // number of the piece that was found, counted from 1; 0 with "steady", "mark" and "spread"
	LookAt  string  `json:"look_at"` // where to look for the cause; empty with "steady" and "mark"
	Advice  string  `json:"advice"`  // what to do

	Mean         unit.Mass `json:"mean" sym:"x_m"`          // mean of the pieces, found ones included
	Neighbours   unit.Mass `json:"neighbours" sym:"x_n"`    // what a piece beside them weighs
	FoundSD      unit.Mass `json:"found_sd" sym:"s_w"`      // standard deviation of the subgroup; 0 g of one piece
	SDLimit      unit.Mass `json:"sd_limit" sym:"s_max"`    // above which it is a spread; 0 g for one piece
	Deviation    float64   `json:"deviation" sym:"G"`       // of the piece farthest from the mean, in its standard deviations; 0 below 3 pieces
	OutlierLimit float64   `json:"outlier_limit" sym:"z_G"` // above which it is an outlier
	Low          unit.Mass `json:"low" sym:"a_low"`         // lowest mean at which the handle is left alone
	High         unit.Mass `json:"high" sym:"a_high"`       // highest

	Conditions Conditions      `json:"conditions"` // fresh-subgroup, or no-move-warranted
	Cautions   reckon.Cautions `json:"cautions"`   // moving-belt; moving-machinery and locked-out, where someone looks into the machine
}

func (WeighingVerdict) ID() string { return "weighing-verdict" }

func (q WeighingVerdict) Check(c *reckon.Checks) {
	if n := len(q.Weighings); n < 1 || n > mostInVerdict {
		c.Fail("weighings", strconv.Itoa(n)+" weighings", "1 to "+strconv.Itoa(mostInVerdict)+" weighings")
	} else {
		checkEach(c, "weighings", q.Weighings, 1)
	}
	b := q.band()
	b.Pieces = 1
	b.Check(c)
}

// band asks for the band of a check of so many pieces.
func (q *WeighingVerdict) band() HandleBand {
	return HandleBand{
		Expected: q.Expected, Target: q.Target, PerMark: q.PerMark, MarkStep: q.MarkStep, MoveLimit: q.MoveLimit,
		SD: q.SD, Pieces: len(q.Weighings), Needless: q.Needless, Label: q.Label,
	}
}

func (q WeighingVerdict) Solve() (out WeighingVerdictResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	b, err := q.band().Solve()
	if err != nil {
		return out, err
	}
	n := len(q.Weighings)
	out = WeighingVerdictResult{
		Mean: q.Weighings[0], Neighbours: q.neighbours(), OutlierLimit: normalQuantile(1 - stopChance/200/float64(n)), Low: b.Low, High: b.High,
	}
	if n > 1 {
		mean, sd := meanSD(q.Weighings)
		out.Mean, out.FoundSD = unit.Mass(mean), unit.Mass(sd)
		out.SDLimit = q.SD * unit.Mass(math.Sqrt(chiSquareQuantile(1-stopChance/100, float64(n-1))/float64(n-1)))
	}
	heaviest, lightest, farthest := 0, 0, 0
	off := func(i int) float64 { return math.Abs(float64(q.Weighings[i] - out.Mean)) }
	for i, x := range q.Weighings {
		if x > q.Weighings[heaviest] {
			heaviest = i
		}
		if x < q.Weighings[lightest] {
			lightest = i
		}
		if off(i) > off(farthest) {
			farthest = i
		}
	}
	if n > 2 {
		out.Deviation = off(farthest) / (float64(q.SD) * math.Sqrt(1-1/float64(n)))
	}
	next, room := out.Neighbours, unit.Mass(out.OutlierLimit)*q.SD
	most, least := q.Weighings[heaviest], q.Weighings[lightest]
	switch {
	case next <= tornRatio*q.Expected: // most of them are: a whole piece is no double of these
		out.Finding, out.Piece = FoundTorn, lightest+1
	case next >= doubleRatio*q.Expected || most >= doubleRatio*next && most-next > room:
		out.Finding, out.Piece = FoundDouble, heaviest+1
	case least <= tornRatio*next && next-least > room:
		out.Finding, out.Piece = FoundTorn, lightest+1
	case out.Deviation > out.OutlierLimit:
		out.Finding, out.Piece = FoundOutlier, farthest+1
	case out.FoundSD > out.SDLimit: // of one piece both are 0
		out.Finding = FoundSpread
	case out.Mean < out.Low || out.Mean > out.High:
		out.Finding = FoundMark
	default:
		out.Finding = FoundSteady
		out.Conditions |= NoMoveWarranted
	}
	out.Cautions = reckon.MovingBelt
	if out.Finding.stops() {
		out.Conditions |= FreshSubgroup
		out.Cautions |= reckon.MovingMachinery | reckon.LockedOut
	}
	out.LookAt, out.Advice = out.Finding.LookAt(), out.Finding.Advice()
	return out, nil
}

// stops reports whether the finding stops all advice on the mark.
func (f Finding) stops() bool { return f != FoundSteady && f != FoundMark }

// neighbours returns what a whole piece of the subgroup weighs, by its middle.
func (q *WeighingVerdict) neighbours() unit.Mass {
	x := slices.Clone(q.Weighings)
	slices.Sort(x)
	n := len(x)
	low, high := x[(n-1)/2], x[n/2]
	if math.Abs(float64(low-q.Expected)) <= math.Abs(float64(high-q.Expected)) {
		return low
	}
	return high
}

func (q WeighingVerdict) Show(w *reckon.Working, out WeighingVerdictResult) {
	n := float64(len(q.Weighings))
	w.Inputs(q)
	weighing := func(m unit.Mass) string { return "x_" + strconv.Itoa(slices.Index(q.Weighings, m)+1) }
	w.Lines(out,
		"pieces weighed: n = count(x_#...)",
		"mean: x_m = sum(x_#)/n",
		"weight of the neighbours: x_n = "+weighing(out.Neighbours)+"  [median of the weighings; of two middle ones the nearer to E]",
		"chance that a sound piece lies above the limit of an outlier: q_G = "+strconv.FormatFloat(stopChance/200, 'g', -1, 64)+"/n",
	)
	w.Root("limit of an outlier", "z_G", out.OutlierLimit, "", "normal quantile at 1 - q_G")
	w.PutBack("share of a normal distribution above the limit: q_G = normal(-z_G)")
	w.Lines(out,
		"double, from: y_2 = max("+strconv.FormatFloat(doubleRatio, 'g', -1, 64)+"*x_n, x_n + z_G*s) in g",
		"torn, up to: y_t = min("+strconv.FormatFloat(tornRatio, 'g', -1, 64)+"*x_n, x_n - z_G*s) in g",
	)
	if len(q.Weighings) > 2 {
		w.Lines(out, "farthest from the mean: x_f = "+weighing(q.farthest(out.Mean))+" in g", "deviation: G = abs(x_f - x_m)/(s*sqrt(1 - 1/n))")
	} else {
		w.Lines(out, "deviation: G = 0  [too few pieces for an outlier]")
	}
	if len(q.Weighings) > 1 {
		w.Given("chi-square", "chi2", chiSquareQuantile(1-stopChance/100, n-1), "", "n - 1 degrees of freedom, at 99 %")
		w.Lines(out,
			"standard deviation of the subgroup: s_w = sqrt(sum((x_# - x_m)*(x_# - x_m))/(n - 1))",
			"limit of its spread: s_max = s*sqrt(chi2/(n - 1))",
		)
	} else {
		w.Lines(out, "standard deviation of the subgroup: s_w = 0  [one piece has none]", "limit of its spread: s_max = 0  [one piece has none]")
	}
	w.Lines(out, "standard error of the mean: e = s/sqrt(n) in g")
	w.Given("normal quantile of the chance", "z", needlessQuantile(q.Needless), "", "at 1 - A/200")
	w.Lines(out, "noise of the mean: m = z*e in g", "half a step of the handle: H = abs(b)*D/2 in g", nearEnough)
	showAim(w, out, q.Label)
	showBand(w, out)
}

// farthest returns the weighing farthest from the mean, the first of equals.
func (q *WeighingVerdict) farthest(mean unit.Mass) unit.Mass {
	out := q.Weighings[0]
	for _, x := range q.Weighings {
		if math.Abs(float64(x-mean)) > math.Abs(float64(out-mean)) {
			out = x
		}
	}
	return out
}
