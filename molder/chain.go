package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A ChainHeight is one of the heights at which the curling chain hangs.
type ChainHeight struct {
	Name string    `json:"name"`  // what the shop calls it; not empty
	UpTo unit.Mass `json:"up_to"` // heaviest piece that it is used for, 1 g to 10 kg
}

// CurlingChain returns the height of the curling chain for a piece, from the shop's own list:
//
//	the first height whose heaviest piece is not lighter than the piece
//
// The chain hangs low for small pieces and high for large ones, so that it
// catches the front edge of the sheet and rolls it up without dragging it.
// Three heights are usual. Which weights go with which is found in trials. A
// piece lighter than the lightest that was good in them is called
// extrapolated: nobody has seen it curl.
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg,
//   - heights is empty, a name is empty, or up_to is outside 1 g to 10 kg or not more than the one before,
//   - lightest is given and outside 1 g to the up_to of the lowest height,
//   - margin is outside 0 to 50 %.
//
// It returns a *[reckon.NoSolutionError] if the piece is heavier than the list goes.
//
// Source: three heights, low for small pieces and high for large (common
// practice); cases in testdata/cases/molder/curling-chain.json.
//
// The result names the pieces that the height is for, which is the inverse.
type CurlingChain struct {
	Piece    unit.Mass     `json:"piece"`             // piece weight, 1 g to 10 kg
	Heights  []ChainHeight `json:"heights"`           // from the lowest to the highest, each for heavier pieces than the one before; three are usual
	Lightest unit.Mass     `json:"lightest,omitzero"` // lightest piece that was good at the lowest height, 1 g to 10 kg and at most its up_to; leave out if not known
	Margin   unit.Percent  `json:"margin,omitzero"`   // how near to a border counts as between two heights, 0 to 50 % of the border's weight
	Measured bool          `json:"measured,omitzero"` // true if the list comes from trials on this line: see [ChainFromTrials]
}

func (CurlingChain) ID() string { return "curling-chain" }

// SHELL
func (q CurlingChain) Check(c *reckon.Checks) {
	_, err := explainCurlingChain(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q CurlingChain) Solve() (CurlingChainResult, error) { return explainCurlingChain(q, nil) }

func (q CurlingChain) Show(w *reckon.Working, _ CurlingChainResult) { _, _ = explainCurlingChain(q, w) }

// CurlingChainResult is where the chain hangs.
type CurlingChainResult struct {
	Height     int             `json:"height"`     // index of the height in the list given
	Name       string          `json:"name"`       // its name
	Above      unit.Mass       `json:"above"`      // it is for pieces heavier than this; 0 for the lowest
	UpTo       unit.Mass       `json:"up_to"`      // and up to this
	Conditions Conditions      `json:"conditions"` // between-settings, extrapolated, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, locked-out
}

func explainCurlingChain(in CurlingChain, w *reckon.Working) (out CurlingChainResult, err error) {
	c := reckon.Checks{Func: "curling-chain"}
	reckon.CheckRange(&c, "piece", in.Piece, lightestPiece, heaviestPiece)
	if len(in.Heights) == 0 {
		c.Fail("heights", "empty", "at least one height; three are usual")
	}
	before := unit.Mass(0)
	for i, h := range in.Heights {
		if h.Name == "" {
			c.Fail(fmt.Sprintf("heights[%d].name", i), `""`, "a name to tell the height by")
		}
		switch {
		case !(h.UpTo >= lightestPiece && h.UpTo <= heaviestPiece):
			reckon.CheckRange(&c, fmt.Sprintf("heights[%d].up_to", i), h.UpTo, lightestPiece, heaviestPiece)
		case h.UpTo <= before:
			c.Fail(fmt.Sprintf("heights[%d].up_to", i), h.UpTo.String(), "more than "+before.String()+": a higher chain is for heavier pieces")
		default:
			before = h.UpTo
		}
	}
	if in.Lightest != 0 && reckon.CheckRange(&c, "lightest", in.Lightest, lightestPiece, heaviestPiece) && c.OK() && in.Lightest > in.Heights[0].UpTo {
		c.Fail("lightest", in.Lightest.String(), "at most "+in.Heights[0].UpTo.String()+", the heaviest piece of the lowest height")
	}
	reckon.CheckRange(&c, "margin", in.Margin, 0, 50)
	if err := c.Err(); err != nil {
		return CurlingChainResult{}, err
	}
	at := 0
	for at < len(in.Heights) && in.Piece > in.Heights[at].UpTo {
		at++
	}
	if at == len(in.Heights) {
		return CurlingChainResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "height", Wanted: "curls of a piece of " + in.Piece.String(), High: before.String(),
			Advice: "try such a piece at the highest setting and put what you find in the list",
		}
	}
	out = CurlingChainResult{Height: at, Name: in.Heights[at].Name, UpTo: in.Heights[at].UpTo, Cautions: reckon.MovingMachinery | reckon.LockedOut}
	if at > 0 {
		out.Above = in.Heights[at-1].UpTo
		if in.near(out.Above) {
			out.Conditions |= BetweenSettings
		}
	}
	if at < len(in.Heights)-1 && in.near(out.UpTo) {
		out.Conditions |= BetweenSettings
	}
	if in.Piece < in.Lightest {
		out.Conditions |= reckon.Extrapolated
	}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("piece", "m", float64(in.Piece), "g", "")
		w.Given("pieces heavier than this", "m_above", float64(out.Above), "g", "the shop's list")
		w.Given("and up to this", "m_up_to", float64(out.UpTo), "g", "the shop's list")
	}
	return out, nil
}

// near reports whether the piece is within the margin of a border.
func (in CurlingChain) near(border unit.Mass) bool {
	off := float64(in.Margin) / 100 * float64(border)
	return in.Piece >= border-unit.Mass(off) && in.Piece <= border+unit.Mass(off) && off > 0
}

// A ChainTrial is one piece curled at one height and looked at.
type ChainTrial struct {
	Height  int       `json:"height"`  // index of the height in names, 0 for the lowest
	Piece   unit.Mass `json:"piece"`   // piece weight, 1 g to 10 kg
	Verdict Verdict   `json:"verdict"` // "good", or "too-little" or "too-much" for a piece that was not
}

// ChainFromTrials returns the list of heights for [CurlingChain] from trial pieces, appended to dst:
//
//	border between two heights = (heaviest good piece below + lightest good piece above) / 2
//	end of the highest = its heaviest good piece
//
// Where two heights both curl the same pieces the border lies in the middle
// of what both can do. Where no piece was good at both, a piece that was bad
// below takes the place of the lightest good one above if it is lighter, and
// a piece that was bad above that of the heaviest good one below if it is
// heavier: no piece is sent to a height at which the trials failed.
//
// It returns an *[reckon.InputError] if:
//   - names is empty or has an empty name,
//   - a trial's height is not one of them, its piece is outside 1 g to 10 kg, or its verdict is not named,
//   - a height has no good trial.
//
// It returns a *[reckon.NoSolutionError] if the pieces do not become
// heavier from height to height, a bad piece lies among the good ones of its
// height, or pieces between two heights were bad at both.
//
// Source: common practice; cases in testdata/cases/molder/chain-from-trials.json.
//
// It calibrates [CurlingChain].
type ChainFromTrials struct {
	Names  []string     `json:"names"`  // the heights from the lowest to the highest; at least one
	Trials []ChainTrial `json:"trials"` // in any order; at least one good one at every height
}

func (ChainFromTrials) ID() string { return "chain-from-trials" }

// SHELL
func (q ChainFromTrials) Check(c *reckon.Checks) {
	_, err := explainChainFromTrials(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ChainFromTrials) Solve() (ChainFromTrialsResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q ChainFromTrials) Append(dst []ChainHeight) (ChainFromTrialsResult, error) {
	return explainChainFromTrials(q, dst, nil)
}

func (q ChainFromTrials) Show(w *reckon.Working, _ ChainFromTrialsResult) {
	_, _ = explainChainFromTrials(q, nil, w)
}

// ChainFromTrialsResult is the list for [CurlingChain].
type ChainFromTrialsResult struct {
	Heights  []ChainHeight `json:"heights"`  // from the lowest to the highest
	Lightest unit.Mass     `json:"lightest"` // lightest piece that was good at the lowest height
}

func explainChainFromTrials(in ChainFromTrials, dst []ChainHeight, w *reckon.Working) (ChainFromTrialsResult, error) {
	c := reckon.Checks{Func: "chain-from-trials"}
	for i, t := range in.Trials {
		if t.Height < 0 || t.Height >= len(in.Names) {
			c.Fail(fmt.Sprintf("trials[%d].height", i), fmt.Sprint(t.Height), "the place of a name in names, counted from 0")
		}
		if !(t.Piece >= lightestPiece && t.Piece <= heaviestPiece) {
			reckon.CheckRange(&c, fmt.Sprintf("trials[%d].piece", i), t.Piece, lightestPiece, heaviestPiece)
		}
		checkVerdict(&c, i, t.Verdict)
	}
	if len(in.Names) == 0 {
		c.Fail("names", "empty", "at least one height; three are usual")
	}
	for i, name := range in.Names {
		if name == "" {
			c.Fail(fmt.Sprintf("names[%d]", i), `""`, "a name to tell the height by")
		}
		if low, _ := in.good(i); low == 0 {
			c.Fail("trials", "without a good piece at height "+fmt.Sprint(i), "at least one good piece at every height")
		}
	}
	if err := c.Err(); err != nil {
		return ChainFromTrialsResult{}, err
	}
	for _, t := range in.Trials {
		if low, high := in.good(t.Height); t.Verdict != Good && t.Piece >= low && t.Piece <= high {
			return ChainFromTrialsResult{}, muddled(c.Func, "a bad piece, "+t.Piece.String()+", lies among the good ones of "+in.Names[t.Height])
		}
	}
	start := len(dst)
	lightest, _ := in.good(0)
	if w != nil {
		w.Given("lightest good piece for "+in.Names[0], "m_low", float64(lightest), "g", "trials")
	}
	for i, name := range in.Names {
		_, high := in.good(i)
		border := high
		if i+1 < len(in.Names) {
			above, _ := in.good(i + 1)
			from, to := high, above
			if high < above {
				from, to = max(from, in.badBelow(i+1, above)), min(to, in.badAbove(i, high))
				if from >= to {
					return ChainFromTrialsResult{}, muddled(c.Func, to.String()+" was bad at "+name+" and "+from.String()+" at "+in.Names[i+1]+", so that no height is left for pieces between them")
				}
			}
			border = (from + to) / 2
		}
		if len(dst) > start && border <= dst[len(dst)-1].UpTo {
			return ChainFromTrialsResult{}, muddled(c.Func, "the pieces do not become heavier from height to height")
		}
		dst = append(dst, ChainHeight{Name: name, UpTo: border})
		if w != nil {
			w.Given("heaviest piece for "+name, fmt.Sprintf("m_%d", i), float64(border), "g", "trials: between the good pieces of neighbouring heights, and on the good side of the bad ones")
		}
	}
	return ChainFromTrialsResult{Heights: dst, Lightest: lightest}, nil
}

// badAbove returns the lightest bad piece of a height that is heavier than high.
func (in ChainFromTrials) badAbove(height int, high unit.Mass) unit.Mass {
	bad := unit.Mass(math.Inf(1))
	for _, t := range in.Trials {
		if t.Height == height && t.Verdict != Good && t.Piece > high {
			bad = min(bad, t.Piece)
		}
	}
	return bad
}

// badBelow returns the heaviest bad piece of a height that is lighter than low; 0 if there is none.
func (in ChainFromTrials) badBelow(height int, low unit.Mass) unit.Mass {
	bad := unit.Mass(0)
	for _, t := range in.Trials {
		if t.Height == height && t.Verdict != Good && t.Piece < low {
			bad = max(bad, t.Piece)
		}
	}
	return bad
}

// good returns the lightest and the heaviest good piece of a height; 0 if there is none.
func (in ChainFromTrials) good(height int) (low, high unit.Mass) {
	for _, t := range in.Trials {
		if t.Height != height || t.Verdict != Good {
			continue
		}
		if low == 0 || t.Piece < low {
			low = t.Piece
		}
		high = max(high, t.Piece)
	}
	return low, high
}

func muddled(id, why string) error {
	return &reckon.NoSolutionError{
		Func: id, Unknown: "list of heights", Wanted: "the verdicts of all trials",
		Advice: why + "; try those again with the same dough",
	}
}
