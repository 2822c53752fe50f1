package molder

import (
	"math"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Pan is a rectangular pan, measured inside. Leave both sides of the bottom
// out for straight sides.
type Pan struct {
	Length       unit.Length `json:"length" sym:"l_#" range:"20 mm..2 m"`                 // at the top
	Width        unit.Length `json:"width" sym:"w_#" range:"20 mm..2 m"`                  // at the top
	Depth        unit.Length `json:"depth" sym:"h_#" range:"5 mm..1 m"`                   // from the rim to the bottom
	BottomLength unit.Length `json:"bottom_length,omitzero" sym:"k_#" range:"10 mm..2 m"` // at the bottom, at most length; leave both bottoms out for straight sides
	BottomWidth  unit.Length `json:"bottom_width,omitzero" sym:"b_#" range:"10 mm..2 m"`  // at the bottom, at most width
}

// Check requires a pan that a loaf comes out of.
func (p Pan) Check(c *reckon.Checks) {
	ok := reckon.CheckRange(c, "length", p.Length, 20, 2000)
	ok = reckon.CheckRange(c, "width", p.Width, 20, 2000) && ok
	ok = reckon.CheckRange(c, "depth", p.Depth, 5, 1000) && ok
	if p.BottomLength != 0 || p.BottomWidth != 0 {
		ok = reckon.CheckRange(c, "bottom_length", p.BottomLength, 10, 2000) && ok
		ok = reckon.CheckRange(c, "bottom_width", p.BottomWidth, 10, 2000) && ok
	}
	if ok && p.BottomLength > p.Length {
		tooWide(c, "bottom_length", p.BottomLength, p.Length, "length")
	}
	if p.BottomWidth > p.Width && p.Width >= 20 && p.BottomWidth <= 2000 {
		tooWide(c, "bottom_width", p.BottomWidth, p.Width, "width")
	}
}

// tooWide says that the bottom of a pan is larger than its top.
func tooWide(c *reckon.Checks, field string, bottom, top unit.Length, side string) {
	c.Fail(field, bottom.String(), "at most "+top.String()+", the "+side+" at the top: a loaf does not come out of a pan that closes upward")
}

// checkPan checks a part of a question that is a pan.
func checkPan(c *reckon.Checks, field string, p Pan) bool {
	mark := c.Mark()
	p.Check(c)
	c.Under(mark, field)
	return c.Mark() == mark
}

// bottom returns the sides of the bottom.
func (p Pan) bottom() (length, width float64) {
	if p.BottomLength == 0 {
		return float64(p.Length), float64(p.Width)
	}
	return float64(p.BottomLength), float64(p.BottomWidth)
}

// volume returns the volume in mm³ by the prismoidal rule, which is exact for
// flat sloping sides.
func (p Pan) volume() float64 {
	l, w := p.bottom()
	top := float64(float64(p.Length) * float64(p.Width))
	middle := float64((float64(p.Length) + l) * (float64(p.Width) + w)) // four times the area half way up
	return float64(p.Depth) / 6 * (top + middle + float64(l*w))
}

// volumeStep is the step to the volume of the pan with the given number.
func (p Pan) volumeStep(number string) string {
	line := "pan volume: V_# = h_#/6*(l_#*w_# + (l_# + k_#)*(w_# + b_#) + k_#*b_#)/1000{mm³/ml} in ml  [prismoidal rule]"
	if p.BottomLength == 0 {
		line = "pan volume: V_# = h_#*l_#*w_#/1000{mm³/ml} in ml  [straight sides]"
	}
	return strings.ReplaceAll(line, "#", number)
}

// PanFit asks how far a piece fills its pan once it is proofed, and how it lies
// in it:
//
//	V_p = h_p/6 * (l_p * w_p + (l_p + k_p) * (w_p + b_p) + k_p * b_p) / 1000
//	q = m / V_p
//	c = (k_p - L) / 2
//	F = 100 * G * (m / rho) / V_p
//
// with the pan's length l and width w at the top, k and b at the bottom (those
// at the top if its sides are straight) and its depth h. The growth is measured
// in the shop with [GrowthFromJar].
//
// It is refused if:
//   - length is longer than the bottom of the pan,
//   - length is so short that the piece, as a cylinder, is thicker than the pan is wide at the top,
//   - the bottom of the pan is larger than its top,
//   - fill_high does not exceed fill_low.
//
// Source: prismoidal rule; dough weight per pan volume from wholegrain100 (2015);
// cases in testdata/cases/molder/pan-fit.json.
//
// The inverse is [PieceForPan].
type PanFit struct {
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is panned
	Length   unit.Length  `json:"length" sym:"L" range:"5 mm..2 m"`             // length of the moulded piece
	Pan      Pan          `json:"pan" sym:"p"`                                  // the pan, measured inside
	Growth   float64      `json:"growth" sym:"G" range:"1..8"`                  // volume at the end of the proof over volume as panned: see [GrowthFromJar]
	FillLow  unit.Percent `json:"fill_low" range:">0 %..200 %"`                 // least wanted fill of the pan at the end of the proof
	FillHigh unit.Percent `json:"fill_high" range:">0 %..200 %"`                // largest wanted fill, above fill_low
	Measured bool         `json:"measured,omitzero"`                            // true if growth was measured on this dough
}

// PanFitResult is how the piece fills its pan.
type PanFitResult struct {
	Volume     unit.Volume  `json:"volume" sym:"V_p"`  // of the pan
	Loading    unit.Density `json:"loading" sym:"q"`   // dough weight over pan volume
	Fill       unit.Percent `json:"fill" sym:"F"`      // dough volume at the end of the proof over pan volume
	Clearance  unit.Length  `json:"clearance" sym:"c"` // free space at each end of the piece at the bottom of the pan
	Conditions Conditions   `json:"conditions"`        // pan-overfull, pan-underfull, uncalibrated
}

func (PanFit) ID() string { return "pan-fit" }

func (q PanFit) Check(c *reckon.Checks) { q.check(c) }

func (q *PanFit) check(c *reckon.Checks) {
	mass := checkPiece(c, q.Piece, q.Density)
	ok := reckon.CheckRange(c, "length", q.Length, 5, 2000)
	if checkPan(c, "pan", q.Pan) && ok {
		q.checkLength(c, mass)
	}
	reckon.CheckRange(c, "growth", q.Growth, 1, 8)
	ok = q.FillLow > 0 && q.FillLow <= 200
	if !ok {
		c.Fail("fill_low", q.FillLow.String(), "more than 0 %, up to 200 %")
	}
	switch {
	case !(q.FillHigh > 0 && q.FillHigh <= 200):
		c.Fail("fill_high", q.FillHigh.String(), "more than fill_low, up to 200 %")
	case ok && q.FillHigh <= q.FillLow:
		c.Fail("fill_high", q.FillHigh.String(), "more than fill_low, "+q.FillLow.String())
	}
}

// checkLength requires a piece that lies in the pan, in length and, if its mass is known, in width.
func (q *PanFit) checkLength(c *reckon.Checks, mass bool) {
	if bottom, _ := q.Pan.bottom(); float64(q.Length) > bottom {
		c.Fail("length", q.Length.String(), "at most "+unit.Length(bottom).String()+", the length of the pan's bottom: close the side guides")
	}
	// Compared by volume: the cylinder of this length that is as thick as the pan is wide.
	if wide := float64(q.Pan.Width); mass && volume(q.Piece, q.Density) > math.Pi/4*wide*wide*float64(q.Length)*(1+1e-9) {
		thick := unit.Length(math.Sqrt(4 * volume(q.Piece, q.Density) / (math.Pi * float64(q.Length))))
		c.Fail("length", q.Length.String(), "a piece no thicker than the pan is wide: of this length it is "+thick.String()+" thick, and the pan is "+q.Pan.Width.String()+" wide at the top; take a wider pan, or a lighter or longer piece")
	}
}

func (q PanFit) Solve() (out PanFitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return out, c.Err()
	}
	v, pan := volume(q.Piece, q.Density)/1000, q.Pan.volume()/1000
	bottom, _ := q.Pan.bottom()
	out = PanFitResult{
		Volume: unit.Volume(pan), Loading: unit.Density(float64(q.Piece) / pan),
		Fill: unit.Percent(100 * q.Growth * v / pan), Clearance: unit.Length((bottom - float64(q.Length)) / 2),
	}
	if out.Fill > q.FillHigh {
		out.Conditions |= PanOverfull
	}
	if out.Fill < q.FillLow {
		out.Conditions |= PanUnderfull
	}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q PanFit) Show(w *reckon.Working, out PanFitResult) {
	w.Inputs(q)
	bottom := "k_p"
	if q.Pan.BottomLength == 0 {
		bottom = "l_p"
	}
	w.Lines(out,
		q.Pan.volumeStep("p"),
		"dough per pan volume: q = m/V_p",
		"clearance at each end: c = ("+bottom+" - L)/2",
		"fill at the end of the proof: F = 100*G*(m/rho)/V_p",
	)
}

// PieceForPan asks what piece weight suits a pan, in proportion to one that is
// known to work:
//
//	V_1 = h_1/6 * (l_1 * w_1 + (l_1 + k_1) * (w_1 + b_1) + k_1 * b_1) / 1000
//	V_2 = h_2/6 * (l_2 * w_2 + (l_2 + k_2) * (w_2 + b_2) + k_2 * b_2) / 1000
//	q = m_1 / V_1
//	m_2 = q * V_2
//
// with the length l and width w of each pan at the top, k and b at the bottom
// (those at the top if its sides are straight) and its depth h. It holds for
// the same dough and the same proof, in pans of like shape.
//
// It is refused if:
//   - the bottom of a pan is larger than its top.
//
// Source: wholegrain100 (2015), dough weight per pan volume; cases in testdata/cases/molder/piece-for-pan.json.
//
// It is the inverse of [PanFit].
type PieceForPan struct {
	KnownPiece unit.Mass `json:"known_piece" sym:"m_1" range:"1 g..10 kg"` // piece weight that suits the known pan
	KnownPan   Pan       `json:"known_pan" sym:"1"`                        // the known pan, measured inside
	Pan        Pan       `json:"pan" sym:"2"`                              // the other pan
}

// PieceForPanResult is the piece to scale.
type PieceForPanResult struct {
	Piece   unit.Mass    `json:"piece" sym:"m_2"` // for the other pan
	Loading unit.Density `json:"loading" sym:"q"` // dough weight over pan volume, the same in both
}

func (PieceForPan) ID() string { return "piece-for-pan" }

func (q PieceForPan) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "known_piece", q.KnownPiece, lightestPiece, heaviestPiece)
	checkPan(c, "known_pan", q.KnownPan)
	checkPan(c, "pan", q.Pan)
}

// Solve has no answer if the piece would weigh less than 1 g or more than 10 kg.
func (q PieceForPan) Solve() (out PieceForPanResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	loading := float64(q.KnownPiece) / (q.KnownPan.volume() / 1000)
	pan := q.Pan.volume() / 1000
	piece := unit.Mass(loading * pan)
	if !(piece >= lightestPiece && piece <= heaviestPiece) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "piece", Wanted: "this loading in a pan of " + unit.Volume(pan).String(),
			Low: unit.Volume(float64(lightestPiece) / loading).String(), High: unit.Volume(float64(heaviestPiece) / loading).String(),
			Advice: "it would weigh " + piece.String() + ", and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; measure both pans again",
		}
	}
	return PieceForPanResult{Piece: piece, Loading: unit.Density(loading)}, nil
}

func (q PieceForPan) Show(w *reckon.Working, out PieceForPanResult) {
	w.Inputs(q)
	w.Lines(out,
		"known "+q.KnownPan.volumeStep("1"),
		q.Pan.volumeStep("2"),
		"dough per pan volume: q = m_1/V_1",
		"piece: m_2 = q*V_2",
	)
}
