package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// largestClearance bounds the free space at each end of a piece; it catches slips of unit and digit.
const largestClearance unit.Length = 500

// SideGuides asks how far apart the side guides should be to make a piece for
// the pan:
//
//	L = P - 2 * c
//	G = L / s
//
// The guides hold the piece while the board rolls it out; behind them the dough
// draws back, so that s is below 1. A slack dough that spreads instead is the
// exception, and the answer says so. Measure s on the line, on pieces that have come to rest.
//
// It is refused if:
//   - clearance leaves less than 5 mm for the piece,
//   - widest is below narrowest.
//
// Source: the piece is as long as the guides let it (common practice); cases
// in testdata/cases/molder/side-guides.json.
//
// The inverse is [PieceLengthForGuides].
type SideGuides struct {
	PanLength   unit.Length `json:"pan_length" sym:"P" range:"20 mm..2 m"`  // inside length of the pan at its bottom
	Clearance   unit.Length `json:"clearance" sym:"c" range:"0 mm..500 mm"` // free space wanted at each end of the piece
	LengthRatio float64     `json:"length_ratio" sym:"s" range:"0.5..2"`    // length of the finished piece over the distance between the guides: see [GuideRatioFromPieces]
	Narrowest   unit.Length `json:"narrowest,omitzero" range:"0 mm..2 m"`   // narrowest setting of the guides
	Widest      unit.Length `json:"widest,omitzero" range:"0 mm..2 m"`      // their widest setting; leave out for no limit
	Measured    bool        `json:"measured,omitzero"`                      // true if length_ratio was measured on this line
}

// drawsBack says of a length ratio above 1 that it is the exception.
func drawsBack(ratio float64) Conditions {
	if ratio > 1 {
		return LongerThanGuides
	}
	return 0
}

// SideGuidesResult is where the guides go.
type SideGuidesResult struct {
	Guides      unit.Length     `json:"guides" sym:"G"`       // distance between the guides
	PieceLength unit.Length     `json:"piece_length" sym:"L"` // length of the finished piece
	Conditions  Conditions      `json:"conditions"`           // longer-than-guides, uncalibrated
	Cautions    reckon.Cautions `json:"cautions"`             // moving-machinery
}

func (SideGuides) ID() string { return "side-guides" }

func (q SideGuides) Check(c *reckon.Checks) {
	pan := reckon.CheckRange(c, "pan_length", q.PanLength, 20, 2000)
	if reckon.CheckRange(c, "clearance", q.Clearance, 0, largestClearance) && pan && 2*q.Clearance >= q.PanLength-shortestGuide {
		c.Fail("clearance", q.Clearance.String(), "less than "+((q.PanLength-shortestGuide)/2).String()+", so that at least "+shortestGuide.String()+" are left for the piece")
	}
	reckon.CheckRange(c, "length_ratio", q.LengthRatio, 0.5, 2)
	ok := reckon.CheckRange(c, "narrowest", q.Narrowest, 0, 2000)
	if reckon.CheckRange(c, "widest", q.Widest, 0, 2000) && ok && q.Widest != 0 && q.Widest < q.Narrowest {
		c.Fail("widest", q.Widest.String(), "at least narrowest, "+q.Narrowest.String())
	}
}

// Solve has no answer if the guides do not go there, or would stand less than
// 5 mm or more than 2 m apart.
func (q SideGuides) Solve() (out SideGuidesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	piece := q.PanLength - 2*q.Clearance
	guides := unit.Length(float64(piece) / q.LengthRatio)
	narrowest, widest := max(q.Narrowest, shortestGuide), widestGuide
	if q.Widest != 0 {
		widest = q.Widest
	}
	if guides < narrowest || guides > widest {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "guide setting", Wanted: "a piece " + piece.String() + " long",
			Low: (narrowest * unit.Length(q.LengthRatio)).String(), High: (widest * unit.Length(q.LengthRatio)).String(),
			Advice: "the guides would stand at " + guides.String() + "; take another pan or another clearance",
		}
	}
	out = SideGuidesResult{Guides: guides, PieceLength: piece, Cautions: reckon.MovingMachinery}
	out.Conditions = drawsBack(q.LengthRatio)
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q SideGuides) Show(w *reckon.Working, out SideGuidesResult) {
	w.Inputs(q)
	w.Lines(out,
		"length of the piece: L = P - 2*c",
		"distance between the guides: G = L/s",
	)
}

// PieceLengthForGuides asks how long a piece comes out between the guides, and
// how it lies in the pan:
//
//	L = G * s
//	c = (P - L) / 2
//
// It is the inverse of [SideGuides], with the same validity.
//
// It is refused if:
//   - guides is so wide that the piece is longer than the pan,
//   - guides is so narrow that the piece is shorter than 5 mm, or leaves more than 500 mm of the pan free at each end.
//
// Source: the piece is as long as the guides let it (common practice).
//
// The inverse is [SideGuides].
type PieceLengthForGuides struct {
	Guides      unit.Length `json:"guides" sym:"G" range:"5 mm..2 m"`      // distance between the guides
	PanLength   unit.Length `json:"pan_length" sym:"P" range:"20 mm..2 m"` // inside length of the pan at its bottom
	LengthRatio float64     `json:"length_ratio" sym:"s" range:"0.5..2"`   // length of the finished piece over the distance between the guides
	Measured    bool        `json:"measured,omitzero"`                     // true if length_ratio was measured on this line
}

// PieceLengthForGuidesResult is how the piece lies in the pan.
type PieceLengthForGuidesResult struct {
	PieceLength unit.Length `json:"piece_length" sym:"L"` // length of the finished piece
	Clearance   unit.Length `json:"clearance" sym:"c"`    // free space at each end of it
	Conditions  Conditions  `json:"conditions"`           // longer-than-guides, uncalibrated
}

func (PieceLengthForGuides) ID() string { return "piece-length-for-guides" }

func (q PieceLengthForGuides) Check(c *reckon.Checks) { q.check(c) }

// check returns the length of the piece, which shows whether it suits the pan.
func (q PieceLengthForGuides) check(c *reckon.Checks) (piece unit.Length) {
	ok := reckon.CheckRange(c, "guides", q.Guides, shortestGuide, widestGuide)
	ok = reckon.CheckRange(c, "pan_length", q.PanLength, 20, 2000) && ok
	ok = reckon.CheckRange(c, "length_ratio", q.LengthRatio, 0.5, 2) && ok
	piece = unit.Length(float64(q.Guides) * q.LengthRatio)
	// A guide set for exactly the pan must not fail for its last binary digit.
	least := max(shortestGuide, q.PanLength-2*largestClearance)
	switch {
	case !ok:
	case piece > q.PanLength*(1+1e-9):
		c.Fail("guides", q.Guides.String(), "at most "+unit.Length(float64(q.PanLength)/q.LengthRatio).String()+": wider, the piece is longer than the pan")
	case piece < least*(1-1e-9):
		c.Fail("guides", q.Guides.String(), "at least "+unit.Length(float64(least)/q.LengthRatio).String()+": narrower, the piece is shorter than "+least.String()+", too short for this pan")
	}
	return piece
}

func (q PieceLengthForGuides) Solve() (out PieceLengthForGuidesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	piece := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out = PieceLengthForGuidesResult{PieceLength: piece, Clearance: (q.PanLength - piece) / 2}
	out.Conditions = drawsBack(q.LengthRatio)
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q PieceLengthForGuides) Show(w *reckon.Working, out PieceLengthForGuidesResult) {
	w.Inputs(q)
	w.Lines(out,
		"length of the piece: L = G*s",
		"clearance at each end: c = (P - L)/2",
	)
}

// GuideRatioFromPieces asks how long the pieces come out for the distance between
// the guides, from pieces measured on the line:
//
//	L = (l_1 + ... + l_n) / n
//	s = L / G
//	u = sqrt(sum((l_i / G - s)^2) / (n - 1))
//
// The ratio belongs to the dough and to the board's setting: measure it again
// when one of them changes.
//
// It is refused if:
//   - there is no piece,
//   - a piece is shorter than half of the distance or longer than twice the distance.
//
// Source: definition; cases in testdata/cases/molder/guide-ratio-from-pieces.json.
//
// It calibrates [SideGuides].
type GuideRatioFromPieces struct {
	Guides  unit.Length   `json:"guides" sym:"G" range:"5 mm..2 m"`             // distance between the guides
	Lengths []unit.Length `json:"lengths" sym:"l_#" range:"-" items:"1..10000"` // finished pieces measured, each half to twice the distance; at least one
}

// GuideRatioFromPiecesResult is how long the piece comes out between the guides.
type GuideRatioFromPiecesResult struct {
	LengthRatio float64         `json:"length_ratio" sym:"s"` // mean of length over distance between the guides
	SD          float64         `json:"sd,omitzero" sym:"u"`  // sample standard deviation of the ratio; left out for a single piece
	Length      unit.Length     `json:"length" sym:"L"`       // mean length
	Pieces      int             `json:"pieces" sym:"n"`       // number of pieces measured
	Conditions  Conditions      `json:"conditions"`           // longer-than-guides
	Cautions    reckon.Cautions `json:"cautions"`             // moving-belt
}

func (GuideRatioFromPieces) ID() string { return "guide-ratio-from-pieces" }

func (q GuideRatioFromPieces) Check(c *reckon.Checks) {
	if reckon.CheckRange(c, "guides", q.Guides, shortestGuide, widestGuide) {
		checkEach(c, "lengths", q.Lengths, q.Guides/2, 2*q.Guides)
	}
	reckon.CheckItems(c, "lengths", len(q.Lengths), mostTrials)
	if len(q.Lengths) == 0 {
		c.Fail("lengths", "empty", "at least one piece measured behind the guides")
	}
}

func (q GuideRatioFromPieces) Solve() (out GuideRatioFromPiecesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	mean, sd := ratios(q.Lengths, q.Guides)
	ratio := mean / float64(q.Guides)
	return GuideRatioFromPiecesResult{LengthRatio: ratio, SD: sd, Length: unit.Length(mean), Pieces: len(q.Lengths), Conditions: drawsBack(ratio), Cautions: reckon.MovingBelt}, nil
}

func (q GuideRatioFromPieces) Show(w *reckon.Working, out GuideRatioFromPiecesResult) {
	w.Inputs(q)
	w.Lines(out,
		"pieces measured: n = count(l_#...)",
		"mean length: L = sum(l_#)/n",
		"length over distance between the guides: s = L/G  [definition]",
	)
	if out.Pieces > 1 {
		w.Lines(out, "standard deviation of the ratio: u = sqrt(sum((l_#/G - s)*(l_#/G - s))/(n - 1))  [sample standard deviation]")
	}
}

// checkEach requires every value of a list from low to high.
func checkEach(c *reckon.Checks, list string, values []unit.Length, low, high unit.Length) {
	for i, v := range values {
		mark := c.Mark()
		reckon.CheckRange(c, "", v, low, high)
		c.Item(mark, list, i)
	}
}

// ratios returns the mean of the values, and the sample standard deviation of
// value over base, 0 for a single one.
func ratios[N ~float64](values []N, base N) (mean, sd float64) {
	sum, n := 0.0, float64(len(values))
	for _, v := range values {
		sum += float64(v)
	}
	mean = sum / n
	if len(values) < 2 {
		return mean, 0
	}
	squares := 0.0
	for _, v := range values {
		d := (float64(v) - mean) / float64(base)
		squares += float64(d * d)
	}
	return mean, math.Sqrt(squares / (n - 1))
}
