package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// largestClearance bounds the free space at each end of a piece; it catches slips of unit and digit.
const largestClearance unit.Length = 500

// SideGuides returns the distance between the side guides that makes a piece for the pan:
//
//	piece = pan - 2 clearance
//	guides = piece / spread
//
// The guides hold the piece while the board rolls it out; behind them it
// draws back or spreads a little, which is measured on the line.
//
// It returns an *[reckon.InputError] if:
//   - pan is outside 20 to 2000 mm, or spread outside 0.5 to 2,
//   - clearance is outside 0 to 500 mm, or leaves less than 5 mm for the piece,
//   - narrowest or widest is outside 0 to 2000 mm, or widest is below narrowest.
//
// It returns a *[reckon.NoSolutionError] if the guides do not go there, or
// would be outside the 5 to 2000 mm that [PieceLengthForGuides] takes.
//
// Source: the piece is as long as the guides let it (common practice); cases
// in testdata/cases/molder/side-guides.json.
//
// The inverse is [PieceLengthForGuides].
type SideGuides struct {
	Pan       unit.Length `json:"pan"`                // inside length of the pan at its bottom, 20 to 2000 mm
	Clearance unit.Length `json:"clearance"`          // free space wanted at each end of the piece, 0 to 500 mm
	Spread    float64     `json:"spread"`             // length of the finished piece over the distance between the guides, 0.5 to 2: see [SpreadFromPieces]
	Narrowest unit.Length `json:"narrowest,omitzero"` // narrowest that the guides close, 0 to 2000 mm
	Widest    unit.Length `json:"widest,omitzero"`    // widest that they open, up to 2000 mm; leave out for no limit
	Measured  bool        `json:"measured,omitzero"`  // true if spread was measured on this line
}

func (SideGuides) ID() string { return "side-guides" }

// SHELL
func (q SideGuides) Check(c *reckon.Checks) {
	_, err := explainSideGuides(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SideGuides) Solve() (SideGuidesResult, error) { return explainSideGuides(q, nil) }

func (q SideGuides) Show(w *reckon.Working, _ SideGuidesResult) { _, _ = explainSideGuides(q, w) }

// SideGuidesResult is where the guides go.
type SideGuidesResult struct {
	Guides     unit.Length     `json:"guides"`     // distance between the guides
	Piece      unit.Length     `json:"piece"`      // length of the finished piece
	Conditions Conditions      `json:"conditions"` // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainSideGuides(in SideGuides, w *reckon.Working) (out SideGuidesResult, err error) {
	c := reckon.Checks{Func: "side-guides"}
	pan := reckon.CheckRange(&c, "pan", in.Pan, 20, 2000)
	if reckon.CheckRange(&c, "clearance", in.Clearance, 0, largestClearance) && pan && 2*in.Clearance >= in.Pan-shortestGuide {
		c.Fail("clearance", in.Clearance.String(), "less than "+((in.Pan-shortestGuide)/2).String()+", so that at least "+shortestGuide.String()+" are left for the piece")
	}
	reckon.CheckRange(&c, "spread", in.Spread, 0.5, 2)
	ok := reckon.CheckRange(&c, "narrowest", in.Narrowest, 0, 2000)
	if reckon.CheckRange(&c, "widest", in.Widest, 0, 2000) && ok && in.Widest != 0 && in.Widest < in.Narrowest {
		c.Fail("widest", in.Widest.String(), "at least narrowest, "+in.Narrowest.String())
	}
	if err := c.Err(); err != nil {
		return SideGuidesResult{}, err
	}
	piece := in.Pan - 2*in.Clearance
	out = SideGuidesResult{Guides: unit.Length(float64(piece) / in.Spread), Piece: piece, Cautions: reckon.MovingMachinery}
	if out.Guides < max(in.Narrowest, shortestGuide) || out.Guides > widestGuide || in.Widest != 0 && out.Guides > in.Widest {
		widest := widestGuide
		if in.Widest != 0 {
			widest = in.Widest
		}
		return SideGuidesResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "guide setting", Wanted: "a piece " + piece.String() + " long",
			Low: (max(in.Narrowest, shortestGuide) * unit.Length(in.Spread)).String(), High: (widest * unit.Length(in.Spread)).String(),
			Advice: "the guides would stand at " + out.Guides.String() + "; take another pan or another clearance",
		}
	}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("inside length of the pan", "P", float64(in.Pan), "mm", "")
		w.Given("clearance at each end", "c", float64(in.Clearance), "mm", "")
		w.Given("piece over guides", "s", in.Spread, "", "")
		w.Step("length of the piece", "L", "P - 2*c", float64(piece), "mm", "")
		w.Step("distance between the guides", "G", "L / s", float64(out.Guides), "mm", "")
	}
	return out, nil
}

// PieceLengthForGuides returns how long a piece comes out between the guides, and how it lies in the pan:
//
//	piece = guides * spread
//	clearance = (pan - piece) / 2
//
// It is the inverse of [SideGuides], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - guides is outside 5 to 2000 mm, or so wide that the piece is longer than the pan,
//   - guides is so narrow that the piece is shorter than 5 mm, or leaves more than 500 mm of the pan free at each end,
//   - pan is outside 20 to 2000 mm, or spread outside 0.5 to 2.
//
// Source: the piece is as long as the guides let it (common practice).
type PieceLengthForGuides struct {
	Guides   unit.Length `json:"guides"`            // distance between the guides, 5 to 2000 mm
	Pan      unit.Length `json:"pan"`               // inside length of the pan at its bottom, 20 to 2000 mm
	Spread   float64     `json:"spread"`            // length of the finished piece over the distance between the guides, 0.5 to 2
	Measured bool        `json:"measured,omitzero"` // true if spread was measured on this line
}

func (PieceLengthForGuides) ID() string { return "piece-length-for-guides" }

// SHELL
func (q PieceLengthForGuides) Check(c *reckon.Checks) {
	_, err := explainPieceLengthForGuides(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PieceLengthForGuides) Solve() (PieceLengthForGuidesResult, error) {
	return explainPieceLengthForGuides(q, nil)
}

func (q PieceLengthForGuides) Show(w *reckon.Working, _ PieceLengthForGuidesResult) {
	_, _ = explainPieceLengthForGuides(q, w)
}

// PieceLengthForGuidesResult is how the piece lies in the pan.
type PieceLengthForGuidesResult struct {
	Piece      unit.Length `json:"piece"`      // length of the finished piece
	Clearance  unit.Length `json:"clearance"`  // free space at each end of it
	Conditions Conditions  `json:"conditions"` // uncalibrated
}

func explainPieceLengthForGuides(in PieceLengthForGuides, w *reckon.Working) (out PieceLengthForGuidesResult, err error) {
	c := reckon.Checks{Func: "piece-length-for-guides"}
	ok := reckon.CheckRange(&c, "guides", in.Guides, shortestGuide, widestGuide)
	ok = reckon.CheckRange(&c, "pan", in.Pan, 20, 2000) && ok
	ok = reckon.CheckRange(&c, "spread", in.Spread, 0.5, 2) && ok
	piece := unit.Length(float64(in.Guides) * in.Spread)
	// A guide set for exactly the pan must not fail for its last binary digit.
	least := max(shortestGuide, in.Pan-2*largestClearance)
	switch {
	case !ok:
	case piece > in.Pan*(1+1e-9):
		c.Fail("guides", in.Guides.String(), "at most "+unit.Length(float64(in.Pan)/in.Spread).String()+": wider, the piece is longer than the pan")
	case piece < least*(1-1e-9):
		c.Fail("guides", in.Guides.String(), "at least "+unit.Length(float64(least)/in.Spread).String()+": narrower, the piece is shorter than "+least.String()+", too short for this pan")
	}
	if err := c.Err(); err != nil {
		return PieceLengthForGuidesResult{}, err
	}
	out = PieceLengthForGuidesResult{Piece: piece, Clearance: (in.Pan - piece) / 2}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("distance between the guides", "G", float64(in.Guides), "mm", "")
		w.Given("piece over guides", "s", in.Spread, "", "")
		w.Given("inside length of the pan", "P", float64(in.Pan), "mm", "")
		w.Step("length of the piece", "L", "G * s", float64(piece), "mm", "")
		w.Step("clearance at each end", "c", "(P - L) / 2", float64(out.Clearance), "mm", "")
	}
	return out, nil
}

// SpreadFromPieces returns the ratio of piece length to guide distance from pieces measured on the line:
//
//	spread = mean(length) / guides
//
// The ratio belongs to the dough and to the board's setting: measure it again
// when one of them changes.
//
// It returns an *[reckon.InputError] if:
//   - guides is outside 5 to 2000 mm,
//   - lengths is empty, or one is less than half or more than twice the distance.
//
// Source: definition; cases in testdata/cases/molder/spread-from-pieces.json.
//
// It calibrates [SideGuides].
type SpreadFromPieces struct {
	Guides  unit.Length   `json:"guides"`  // distance between the guides, 5 to 2000 mm
	Lengths []unit.Length `json:"lengths"` // finished pieces measured, each half to twice the distance; at least one
}

func (SpreadFromPieces) ID() string { return "spread-from-pieces" }

// SHELL
func (q SpreadFromPieces) Check(c *reckon.Checks) {
	_, err := explainSpreadFromPieces(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SpreadFromPieces) Solve() (SpreadFromPiecesResult, error) {
	return explainSpreadFromPieces(q, nil)
}

func (q SpreadFromPieces) Show(w *reckon.Working, _ SpreadFromPiecesResult) {
	_, _ = explainSpreadFromPieces(q, w)
}

// SpreadFromPiecesResult is how the piece follows the guides.
type SpreadFromPiecesResult struct {
	Spread  float64     `json:"spread"`           // mean of length over distance between the guides
	Scatter float64     `json:"scatter,omitzero"` // sample standard deviation of the ratio; left out for a single piece
	Length  unit.Length `json:"length"`           // mean length
	Pieces  int         `json:"pieces"`           // number of pieces measured
}

func explainSpreadFromPieces(in SpreadFromPieces, w *reckon.Working) (out SpreadFromPiecesResult, err error) {
	c := reckon.Checks{Func: "spread-from-pieces"}
	if reckon.CheckRange(&c, "guides", in.Guides, 5, 2000) {
		for i, l := range in.Lengths {
			if !(l >= in.Guides/2 && l <= 2*in.Guides) {
				reckon.CheckRange(&c, fmt.Sprintf("lengths[%d]", i), l, in.Guides/2, 2*in.Guides)
			}
		}
	}
	if len(in.Lengths) == 0 {
		c.Fail("lengths", "empty", "at least one piece measured behind the guides")
	}
	if err := c.Err(); err != nil {
		return SpreadFromPiecesResult{}, err
	}
	sum, mean, scatter := ratios(in.Lengths, in.Guides)
	out = SpreadFromPiecesResult{Spread: mean / float64(in.Guides), Scatter: scatter, Length: unit.Length(mean), Pieces: len(in.Lengths)}
	if w != nil {
		w.Given("pieces measured", "n", float64(len(in.Lengths)), "", "")
		w.Given("sum of their lengths", "S", sum, "mm", "")
		w.Given("distance between the guides", "G", float64(in.Guides), "mm", "")
		w.Step("mean length", "L", "S / n", mean, "mm", "")
		w.Step("piece over guides", "s", "L / G", out.Spread, "", "definition")
	}
	return out, nil
}

// ratios returns the sum and mean of the values, and the sample standard
// deviation of value over base, 0 for a single one.
func ratios(values []unit.Length, base unit.Length) (sum, mean, scatter float64) {
	n := float64(len(values))
	for _, v := range values {
		sum += float64(v)
	}
	mean = sum / n
	if len(values) < 2 {
		return sum, mean, 0
	}
	squares := 0.0
	for _, v := range values {
		d := (float64(v) - mean) / float64(base)
		squares += float64(d * d)
	}
	return sum, mean, math.Sqrt(squares / (n - 1))
}
