package molder

import (
	"fmt"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A ChainHeight is one of the heights at which the curling chain hangs.
type ChainHeight struct {
	Name string    `json:"name"`                               // what the shop calls it; not empty
	UpTo unit.Mass `json:"up_to" sym:"m_#" range:"1 g..10 kg"` // heaviest piece that it is used for
}

// CurlingChain asks at what height the curling chain should hang for a piece,
// by the shop's own list:
//
//	A < m <= M,  M = m_i,  A = m_(i-1), or 0 for the lowest height
//
// The chain hangs low for small pieces and high for large ones, so that it
// catches the front edge of the sheet and rolls it up without dragging it.
// Three heights are usual. Which weights go with which is found in trials. A
// piece lighter than the lightest that was good in them is called
// extrapolated: nobody has seen it curl.
//
// It is refused if:
//   - a height is not for heavier pieces than the one before,
//   - lightest exceeds the up_to of the lowest height.
//
// Source: where a chain has several heights, low for small pieces and high for
// large; how many there are is the moulder's own (common practice); cases in
// testdata/cases/molder/curling-chain.json.
//
// The result names the pieces that the height is for, which is the inverse.
type CurlingChain struct {
	Piece    unit.Mass     `json:"piece" sym:"m" range:"1 g..10 kg"`     // piece weight
	Heights  []ChainHeight `json:"heights" items:"1..100"`               // from the lowest to the highest, each for heavier pieces than the one before
	Lightest unit.Mass     `json:"lightest,omitzero" range:"1 g..10 kg"` // lightest piece that was good at the lowest height, at most its up_to; leave out if not known
	Margin   unit.Percent  `json:"margin,omitzero" range:"0 %..50 %"`    // how close to a border counts as between two heights, as a share of the border's weight
	Measured bool          `json:"measured,omitzero"`                    // true if the list comes from trials on this line: see [ChainFromTrials]
}

// CurlingChainResult is where the chain hangs.
type CurlingChainResult struct {
	Height     int             `json:"height"`        // index of the height in the list given
	Name       string          `json:"name"`          // its name
	Above      unit.Mass       `json:"above" sym:"A"` // it is for pieces heavier than this; 0 for the lowest
	UpTo       unit.Mass       `json:"up_to" sym:"M"` // and up to this
	Conditions Conditions      `json:"conditions"`    // between-settings, extrapolated, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`      // moving-machinery, locked-out
}

func (CurlingChain) ID() string { return "curling-chain" }

func (q CurlingChain) Check(c *reckon.Checks) {
	start := c.Mark()
	reckon.CheckRange(c, "piece", q.Piece, lightestPiece, heaviestPiece)
	reckon.CheckItems(c, "heights", len(q.Heights), mostParts)
	if len(q.Heights) == 0 {
		c.Fail("heights", "empty", "at least one height, as the chain of this moulder has them")
	}
	before := unit.Mass(0)
	for i := range q.Heights {
		mark := c.Mark()
		before = q.Heights[i].check(c, before)
		c.Item(mark, "heights", i)
	}
	if q.Lightest != 0 && reckon.CheckRange(c, "lightest", q.Lightest, lightestPiece, heaviestPiece) && c.Mark() == start && q.Lightest > q.Heights[0].UpTo {
		c.Fail("lightest", q.Lightest.String(), "at most "+q.Heights[0].UpTo.String()+", the heaviest piece of the lowest height")
	}
	reckon.CheckRange(c, "margin", q.Margin, 0, 50)
}

// check requires a height for heavier pieces than the one before, and returns for
// which the next must be heavier.
func (h *ChainHeight) check(c *reckon.Checks, before unit.Mass) unit.Mass {
	if h.Name == "" {
		c.Fail("name", `""`, "a name to tell the height by")
	}
	if !reckon.CheckRange(c, "up_to", h.UpTo, lightestPiece, heaviestPiece) {
		return before
	}
	if h.UpTo <= before {
		c.Fail("up_to", h.UpTo.String(), "more than "+before.String()+": a higher chain is for heavier pieces")
		return before
	}
	return h.UpTo
}

// Solve has no answer if the piece is heavier than the list goes.
func (q CurlingChain) Solve() (out CurlingChainResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	at, last := 0, len(q.Heights)-1
	for q.Piece > q.Heights[at].UpTo {
		if at++; at > last {
			return out, &reckon.NoSolutionError{
				Func: q.ID(), Unknown: "height", Wanted: "a curled piece of " + q.Piece.String(), High: q.Heights[last].UpTo.String(),
				Advice: "try such a piece at the highest setting and put what you find in the list",
			}
		}
	}
	out = CurlingChainResult{Height: at, Name: q.Heights[at].Name, UpTo: q.Heights[at].UpTo, Cautions: reckon.MovingMachinery | reckon.LockedOut}
	if at > 0 {
		out.Above = q.Heights[at-1].UpTo
	}
	if q.near(out.Above) || at < last && q.near(out.UpTo) {
		out.Conditions |= BetweenSettings
	}
	if q.Piece < q.Lightest {
		out.Conditions |= reckon.Extrapolated
	}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q CurlingChain) Show(w *reckon.Working, out CurlingChainResult) {
	w.Inputs(q)
	above := "0"
	if out.Height > 0 {
		above = fmt.Sprintf("m_%d", out.Height)
	}
	w.Lines(out,
		"for pieces heavier than: A = "+above+"  [the shop's list]",
		fmt.Sprintf("and up to: M = m_%d  [the shop's list]", out.Height+1),
	)
}

// near reports whether the piece is within the margin of a border.
func (q *CurlingChain) near(border unit.Mass) bool {
	off := float64(q.Margin) / 100 * float64(border)
	return q.Piece >= border-unit.Mass(off) && q.Piece <= border+unit.Mass(off) && off > 0
}

// A ChainTrial is one piece curled at one height and looked at.
type ChainTrial struct {
	Height  int       `json:"height" range:"-"`                   // index of the height in names, 0 for the lowest
	Piece   unit.Mass `json:"piece" sym:"p_#" range:"1 g..10 kg"` // piece weight
	Verdict Verdict   `json:"verdict"`                            // "good", or "too-little" or "too-much" for a piece that was not
}

// ChainFromTrials asks which pieces suit which height of the curling chain,
// from trial pieces. It makes the list for [CurlingChain]:
//
//	m_i = (heaviest good p_i at this height + lightest good p_i at the next) / 2
//	m_i = heaviest good p_i at this height, if it is the highest
//	m_low = lightest good p_i at the lowest height
//
// Where two heights both curl the same pieces the border lies in the middle
// of what both can do. Where no piece was good at both, a piece that was bad
// below takes the place of the lightest good one above if it is lighter, and
// a piece that was bad above that of the heaviest good one below if it is
// heavier: no piece is sent to a height at which the trials failed.
//
// It is refused if:
//   - a height has no name or no good trial,
//   - a trial was at a height that is not in names.
//
// Source: common practice; cases in testdata/cases/molder/chain-from-trials.json.
//
// It calibrates [CurlingChain].
type ChainFromTrials struct {
	Names  []string     `json:"names" items:"1..100"`   // the heights from the lowest to the highest; at least one
	Trials []ChainTrial `json:"trials" items:"..10000"` // in any order; at least one good one at every height
}

// ChainFromTrialsResult is the list for [CurlingChain].
type ChainFromTrialsResult struct {
	Heights  []ChainHeight   `json:"heights"`              // from the lowest to the highest
	Lightest unit.Mass       `json:"lightest" sym:"m_low"` // lightest piece that was good at the lowest height
	Cautions reckon.Cautions `json:"cautions"`             // locked-out, moving-belt
}

func (ChainFromTrials) ID() string { return "chain-from-trials" }

func (q ChainFromTrials) Check(c *reckon.Checks) {
	reckon.CheckItems(c, "trials", len(q.Trials), mostTrials)
	for i := range q.Trials {
		mark := c.Mark()
		q.Trials[i].check(c, len(q.Names))
		c.Item(mark, "trials", i)
	}
	reckon.CheckItems(c, "names", len(q.Names), mostParts)
	if len(q.Names) == 0 {
		c.Fail("names", "empty", "at least one height, as the chain of this moulder has them")
	}
	for i, name := range q.Names {
		if name == "" {
			c.Fail(fmt.Sprintf("names[%d]", i), `""`, "a name to tell the height by")
		}
		if low, _ := q.good(i); low < 0 {
			c.Fail("trials", "without a good piece at height "+fmt.Sprint(i), "at least one good piece at every height")
		}
	}
}

func (t *ChainTrial) check(c *reckon.Checks, heights int) {
	if t.Height < 0 || t.Height >= heights {
		c.Fail("height", fmt.Sprint(t.Height), "the place of a name in names, counted from 0")
	}
	reckon.CheckRange(c, "piece", t.Piece, lightestPiece, heaviestPiece)
	t.Verdict.Check(c)
}

// Solve has no answer if the pieces do not become heavier from height to
// height, a bad piece lies among the good ones of its height, or pieces
// between two heights were bad at both.
func (q ChainFromTrials) Solve() (ChainFromTrialsResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q ChainFromTrials) Append(dst []ChainHeight) (out ChainFromTrialsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	for _, t := range q.Trials {
		if low, high := q.good(t.Height); t.Verdict != Good && t.Piece >= q.Trials[low].Piece && t.Piece <= q.Trials[high].Piece {
			return out, q.muddled("a bad piece, " + t.Piece.String() + ", lies among the good ones of " + q.Names[t.Height])
		}
	}
	before := unit.Mass(0)
	for i, name := range q.Names {
		below, above, ok := q.border(i)
		from, to := q.Trials[below].Piece, q.Trials[above].Piece
		if !ok {
			return out, q.muddled(to.String() + " was bad at " + name + " and " + from.String() + " at " + q.Names[i+1] + ", so that no height is left for pieces between them")
		}
		border := (from + to) / 2
		if border <= before {
			return out, q.muddled("the pieces do not become heavier from height to height")
		}
		dst = append(dst, ChainHeight{Name: name, UpTo: border})
		before = border
	}
	lightest, _ := q.good(0)
	return ChainFromTrialsResult{Heights: dst, Lightest: q.Trials[lightest].Piece, Cautions: reckon.LockedOut | reckon.MovingBelt}, nil
}

func (q ChainFromTrials) Show(w *reckon.Working, out ChainFromTrialsResult) {
	w.Inputs(q)
	lightest, _ := q.good(0)
	w.Lines(out, fmt.Sprintf("lightest good piece of the lowest height: m_low = p_%d", lightest+1))
	for i, row := range out.Heights[len(out.Heights)-len(q.Names):] {
		below, above, _ := q.border(i)
		border := fmt.Sprintf("p_%d  [the heaviest good piece]", below+1)
		if below != above {
			border = fmt.Sprintf("(p_%d + p_%d)/2  [between the good pieces of neighbouring heights, and on the good side of the bad ones]", below+1, above+1)
		}
		w.Item(i+1, row, "heaviest piece for height #: m_# = "+border)
	}
}

// good returns the trials with the lightest and the heaviest good piece of a
// height, counted from 0; -1 if there is none. A piece of 0 g has no weight yet.
func (q *ChainFromTrials) good(height int) (low, high int) {
	low, high = -1, -1
	for i := range q.Trials {
		t := &q.Trials[i]
		if t.Height != height || t.Verdict != Good {
			continue
		}
		if low < 0 || t.Piece < q.Trials[low].Piece {
			low = i
		}
		if high < 0 || t.Piece > q.Trials[high].Piece {
			high = i
		}
	}
	return low, high
}

// border returns the two trials half way between which the pieces for a height
// end; for the highest it is one, its heaviest good piece. It is not ok if no
// height is left for the pieces between two.
func (q *ChainFromTrials) border(height int) (below, above int, ok bool) {
	_, below = q.good(height)
	if height+1 == len(q.Names) {
		return below, below, true
	}
	above, _ = q.good(height + 1)
	high, low := q.Trials[below].Piece, q.Trials[above].Piece
	if high >= low {
		return below, above, true
	}
	for i := range q.Trials {
		switch t := &q.Trials[i]; {
		case t.Verdict == Good:
		case t.Height == height && t.Piece > high && t.Piece < q.Trials[above].Piece:
			above = i
		case t.Height == height+1 && t.Piece < low && t.Piece > q.Trials[below].Piece:
			below = i
		}
	}
	return below, above, q.Trials[below].Piece < q.Trials[above].Piece
}

func (q *ChainFromTrials) muddled(why string) error {
	return &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "list of heights", Wanted: "the verdicts of all trials",
		Advice: why + "; try those again with the same dough",
	}
}
