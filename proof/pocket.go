package proof

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Pocket is the room that one piece has in a tray of the overhead proofer.
type Pocket struct {
	Width unit.Length `json:"width" sym:"W" range:"10 mm..500 mm"` // narrowest clear width inside, where the piece lies
	Gap   unit.Length `json:"gap" sym:"g" range:"0 mm..100 mm"`    // least wanted between the grown piece and the wall, on either side; 0 mm if it may just touch
}

// Check says what is wrong with the pocket, whatever lies in it.
func (p *Pocket) Check(c *reckon.Checks) {
	width := reckon.CheckRange(c, "width", p.Width, 10, 500)
	gap := reckon.CheckRange(c, "gap", p.Gap, 0, 100)
	if width && gap && 2*p.Gap >= p.Width {
		c.Fail("gap", p.Gap.String(), "less than half of width, "+p.Width.String())
	}
}

// checkGrown checks a piece and how it grows.
func checkGrown(c *reckon.Checks, density unit.Density, growth, flatness float64) {
	reckon.CheckRange(c, "density", density, 0.1, 1.5)
	reckon.CheckRange(c, "growth", growth, 1, 8)
	reckon.CheckRange(c, "flatness", flatness, 1, 3)
}

// PocketFit asks whether the piece still fits its pocket when it has grown in
// the overhead proofer:
//
//	d = f * (6 * G * m / (pi * rho) * 1000)^(1/3)
//	s = (W - d) / 2, W_n = d + 2 * g
//
// The ball is exact geometry. How much the piece grows and flattens depends on
// dough, time and temperature: measure it at the discharge, the growth from the
// rise of the same dough in a jar over the same time, the flatness from the
// diameters of a few pieces. A piece wider than its pocket sticks to the
// wall, turns over late at the transfer, and leaves as a double or out of shape.
//
// It is refused if:
//   - the gaps on both sides take the whole width.
//
// Source: sphere volume (derived); common practice (the piece lies free in its pocket).
//
// The inverse is [PieceForPocket].
type PocketFit struct {
	Pocket   Pocket       `json:"pocket"`                                       // of the proofer's trays
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is rounded
	Growth   float64      `json:"growth" sym:"G" range:"1..8"`                  // volume as it leaves the overhead proofer over volume as rounded
	Flatness float64      `json:"flatness" sym:"f" range:"1..3"`                // its diameter there over the diameter of a ball of the same volume
	Measured bool         `json:"measured,omitzero"`                            // true if growth and flatness were measured on this dough
}

// PocketFitResult is how the grown piece lies in its pocket.
type PocketFitResult struct {
	Diameter    unit.Length `json:"diameter" sym:"d"`       // of the grown piece
	Room        unit.Length `json:"room" sym:"s"`           // between it and the wall on either side; negative if it is wider than the pocket
	WidthNeeded unit.Length `json:"width_needed" sym:"W_n"` // narrowest pocket that would do
	Conditions  Conditions  `json:"conditions"`             // pocket-too-small, uncalibrated
}

func (PocketFit) ID() string { return "pocket-fit" }

func (q PocketFit) Check(c *reckon.Checks) {
	mark := c.Mark()
	q.Pocket.Check(c)
	c.Under(mark, "pocket")
	reckon.CheckRange(c, "piece", q.Piece, 1, 10_000)
	checkGrown(c, q.Density, q.Growth, q.Flatness)
}

func (q PocketFit) Solve() (out PocketFitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Diameter = unit.Length(float64(q.Flatness * math.Cbrt(float64(6*q.Growth*float64(q.Piece))/(math.Pi*float64(q.Density))*1000)))
	out.Room = (q.Pocket.Width - out.Diameter) / 2
	out.WidthNeeded = out.Diameter + 2*q.Pocket.Gap
	// A pocket made for just this piece is not too small for its last binary digit.
	if out.Room < q.Pocket.Gap-unit.Length(q.Pocket.Width*limitSlack) {
		out.Conditions |= PocketTooSmall
	}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q PocketFit) Show(w *reckon.Working, out PocketFitResult) {
	w.Inputs(q)
	w.Lines(out,
		"diameter of the grown piece: d = f*pow(6*G*m/(pi*rho)*1000{mm³/ml}, 1/3)  [sphere volume]",
		"room on either side: s = (W - d)/2",
		"narrowest pocket that would do: W_n = d + 2*g",
	)
}

// PieceForPocket asks how heavy a piece the pockets of the overhead proofer take:
//
//	m = rho / G * pi / 6 * ((W - 2*g) / f)^3 / 1000
//
// It is the inverse of [PocketFit], with the same validity.
//
// It is refused if:
//   - the gaps on both sides take the whole width.
//
// Source: as for [PocketFit].
//
// The inverse is [PocketFit].
type PieceForPocket struct {
	Pocket   Pocket       `json:"pocket"`                                       // of the proofer's trays
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is rounded
	Growth   float64      `json:"growth" sym:"G" range:"1..8"`                  // volume as it leaves the overhead proofer over volume as rounded
	Flatness float64      `json:"flatness" sym:"f" range:"1..3"`                // its diameter there over the diameter of a ball of the same volume
	Measured bool         `json:"measured,omitzero"`                            // true if growth and flatness were measured on this dough
}

// PieceForPocketResult is the heaviest piece that the pockets take.
type PieceForPocketResult struct {
	Piece      unit.Mass  `json:"piece" sym:"m"` // heaviest piece that keeps the gap when it has grown
	Conditions Conditions `json:"conditions"`    // uncalibrated
}

func (PieceForPocket) ID() string { return "piece-for-pocket" }

func (q PieceForPocket) Check(c *reckon.Checks) {
	mark := c.Mark()
	q.Pocket.Check(c)
	c.Under(mark, "pocket")
	checkGrown(c, q.Density, q.Growth, q.Flatness)
}

func (q PieceForPocket) Solve() (out PieceForPocketResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	ball := float64(q.Pocket.Width-2*q.Pocket.Gap) / q.Flatness
	out.Piece = unit.Mass(float64(q.Density) / q.Growth * math.Pi / 6 * ball * ball * ball / 1000)
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q PieceForPocket) Show(w *reckon.Working, out PieceForPocketResult) {
	w.Inputs(q)
	w.Lines(out, "heaviest piece: m = rho/G*pi/6*pow((W - 2*g)/f, 3)/1000{mm³/ml}  [sphere volume]")
}
