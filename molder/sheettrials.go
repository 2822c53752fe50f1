package molder

import (
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What trials with sheets and cut pieces can be, taken wide.
const (
	mostSheetTrials = 1000
	mostCounted     = 40
)

// A SheetTrial is one sheet behind the rollers, looked at.
type SheetTrial struct {
	Thickness unit.Length `json:"thickness" sym:"t_#" range:"0.1 mm..200 mm"` // measured in the middle of the sheet, with the machine at a stand
	Verdict   Verdict     `json:"verdict"`                                    // "too-much" if the sheet or its skin tore, "good", or "too-little" if coarse holes were left
}

// Check requires a thickness and a verdict.
func (t *SheetTrial) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "thickness", t.Thickness, thinnestSheet, thickestSheet)
	t.Verdict.Check(c)
}

// SheetFromTrials asks how thin a dough can be sheeted, as the thinnest sheet
// that was good in trials:
//
//	t_T = min(t_i),  t_high = max(t_i)  of the n trials that were good
//	t_torn = max(t_i)  of those that tore
//
// It belongs to the dough, its rest and the reduction before the last pair.
// As long as no sheet has torn, the dough may well stand a thinner one.
//
// It is refused if:
//   - fewer than two trials with different thicknesses were good.
//
// Source: trials by eye (common practice); cases in testdata/cases/molder/sheet-from-trials.json.
//
// It calibrates [SheetSetting].
type SheetFromTrials struct {
	Trials []SheetTrial `json:"trials" items:"1..1000"` // in any order; at least two good ones with different thicknesses
}

// SheetFromTrialsResult is how thin this dough can be sheeted.
type SheetFromTrialsResult struct {
	TearLimit  unit.Length     `json:"tear_limit" sym:"t_T"`       // thinnest sheet that was good
	GoodHigh   unit.Length     `json:"good_high" sym:"t_high"`     // thickest sheet that was good
	Torn       unit.Length     `json:"torn,omitzero" sym:"t_torn"` // thickest sheet that tore; left out if none did
	Good       int             `json:"good" sym:"n"`               // trials that were good
	Conditions Conditions      `json:"conditions"`                 // tear-untried
	Cautions   reckon.Cautions `json:"cautions"`                   // moving-machinery, interlocks, roller-nip
}

func (SheetFromTrials) ID() string { return "sheet-from-trials" }

func (q SheetFromTrials) Check(c *reckon.Checks) { q.check(c) }

// check returns what the trials come to. Thinner is more work, so the window
// counts the thickness downwards.
func (q SheetFromTrials) check(c *reckon.Checks) trialWindow {
	start := c.Mark()
	window := newTrialWindow()
	if len(q.Trials) > mostSheetTrials {
		c.Fail("trials", strconv.Itoa(len(q.Trials))+" trials", "at most "+strconv.Itoa(mostSheetTrials))
		return window
	}
	for i := range q.Trials {
		t := &q.Trials[i]
		mark := c.Mark()
		t.Check(c)
		c.Item(mark, "trials", i)
		window.add(-float64(t.Thickness), t.Verdict)
	}
	if c.Mark() == start {
		window.check(c)
	}
	return window
}

// Solve has no answer if a bad trial lies among the good ones.
func (q SheetFromTrials) Solve() (out SheetFromTrialsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	window := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if err = window.none(q.ID(), "range of thicknesses"); err != nil {
		return out, err
	}
	out = SheetFromTrialsResult{
		TearLimit: unit.Length(-window.high), GoodHigh: unit.Length(-window.low), Good: window.good,
		Cautions: rollerCautions,
	}
	for i := range q.Trials {
		if t := &q.Trials[i]; t.Verdict == TooMuch {
			out.Torn = max(out.Torn, t.Thickness)
		}
	}
	if out.Torn == 0 {
		out.Conditions = TearUntried
	}
	return out, nil
}

func (q SheetFromTrials) Show(w *reckon.Working, out SheetFromTrialsResult) {
	w.Inputs(q)
	good := goodOnes("t_", len(q.Trials), func(i int) Verdict { return q.Trials[i].Verdict })
	w.Lines(out,
		"trials that were good: n = count("+good+")",
		"thinnest good sheet: t_T = min("+good+")  [trials]",
		"thickest good sheet: t_high = max("+good+")  [trials]")
	if out.Torn != 0 {
		torn := goodOnes("t_", len(q.Trials), func(i int) Verdict {
			if q.Trials[i].Verdict == TooMuch {
				return Good
			}
			return TooMuch
		})
		if strings.Contains(torn, ",") {
			torn = "max(" + torn + ")"
		}
		w.Lines(out, "thickest torn sheet: t_torn = "+torn+"  [trials]")
	}
}

// TurnsRatioFromPieces asks how many turns pieces really make, as the ratio of
// the turns counted in cut pieces to those computed:
//
//	k_i = N_i / N_0
//	k = sum(k_i) / n
//	s = sqrt(sum((k_i - k)^2) / (n - 1))
//
// Cut a moulded piece across its middle, where the sheet was longest, and count
// from the inner end to the outer, to a quarter of a turn. A roll that holds air
// makes fewer turns than the tight one that is computed. The ratio belongs to
// the dough, the chain and the gap.
//
// It is refused if:
//   - the mean ratio is outside 0.3 to 2: then something else is wrong, such as the recovery or the outline of the sheet.
//
// Source: definition of a ratio and of its sample standard deviation; cases in testdata/cases/molder/turns-ratio-from-pieces.json.
//
// It calibrates [SheetSetting], [TurnsForGap] and [GapForTurns].
type TurnsRatioFromPieces struct {
	Computed float64   `json:"computed" sym:"N_0" range:"0.5..20"`               // turns that [TurnsForGap] gives for the same piece and gap without a ratio
	Counted  []float64 `json:"counted" sym:"N_#" range:">0..40" items:"1..1000"` // turns counted in cut pieces
}

// TurnsRatioFromPiecesResult is the calibration of turns.
type TurnsRatioFromPiecesResult struct {
	TurnsRatio float64         `json:"turns_ratio" sym:"k"` // mean of counted over computed turns
	SD         float64         `json:"sd,omitzero" sym:"s"` // sample standard deviation of the ratio; left out for a single piece
	Count      int             `json:"count" sym:"n"`       // pieces cut
	Cautions   reckon.Cautions `json:"cautions"`            // moving-belt
}

func (TurnsRatioFromPieces) ID() string { return "turns-ratio-from-pieces" }

func (q TurnsRatioFromPieces) Check(c *reckon.Checks) { q.check(c) }

// check returns the mean of the turns counted and the standard deviation of their ratio.
func (q TurnsRatioFromPieces) check(c *reckon.Checks) (mean, sd float64) {
	start := c.Mark()
	reckon.CheckRange(c, "computed", q.Computed, leastTurns, mostTurns)
	switch n := len(q.Counted); {
	case n == 0:
		c.Fail("counted", "empty", "the turns of at least one cut piece")
	case n > mostSheetTrials:
		c.Fail("counted", strconv.Itoa(n)+" pieces", "at most "+strconv.Itoa(mostSheetTrials))
		return mean, sd
	}
	for i, n := range q.Counted {
		if !(n > 0 && n <= mostCounted) {
			c.Fail("counted["+strconv.Itoa(i)+"]", number(n), "more than 0, up to "+number(mostCounted))
		}
	}
	if c.Mark() > start {
		return mean, sd
	}
	mean, sd = ratios(q.Counted, q.Computed)
	if k := mean / q.Computed; k < leastTurnsRatio || k > largestTurnsRatio {
		c.Fail("counted", "a ratio of "+number(k), "a ratio to computed of "+number(leastTurnsRatio)+" to "+number(largestTurnsRatio)+": look at the recovery and the outline of the sheet first")
	}
	return mean, sd
}

func (q TurnsRatioFromPieces) Solve() (out TurnsRatioFromPiecesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	mean, sd := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	return TurnsRatioFromPiecesResult{TurnsRatio: mean / q.Computed, SD: sd, Count: len(q.Counted), Cautions: reckon.MovingBelt}, nil
}

func (q TurnsRatioFromPieces) Show(w *reckon.Working, out TurnsRatioFromPiecesResult) {
	w.Inputs(q)
	w.Lines(out,
		"pieces cut: n = count(N_#...)",
		"turns counted to computed: k = sum(N_#)/n/N_0")
	if out.Count > 1 {
		w.Lines(out, "standard deviation of the ratio: s = sqrt(sum((N_#/N_0 - k)*(N_#/N_0 - k))/(n - 1))  [sample standard deviation]")
	}
}
