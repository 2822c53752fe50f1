package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What dusting flour can be, taken wide.
const (
	mostFlour       unit.MassRate = 1000 // from the duster
	heaviestDusting unit.Mass     = 1000 // on one piece
)

// FlourShare asks how much of the dusting flour falls on the pieces and how
// much beside them:
//
//	p = v * 60 / r
//	s = 100 * n * pi/4 * d^2 / (p * W)
//	B = F * (1 - s/100)
//	m = F * 1000/60 * s/100 / (n * r)
//
// It assumes an even curtain of flour and round pieces. Whether the curtain is
// even is found by catching flour at several places across the belt and
// weighing it; until then the result is called uncalibrated. Use only as much
// flour as keeps the pieces from sticking: what falls beside them makes dust.
//
// It is refused if:
//   - the belt is so slow that the pieces touch,
//   - the pieces side by side are wider than the duster,
//   - there is so much flour that more than 1 kg falls on a piece.
//
// Source: areas and kinematics (derived); cases in testdata/cases/molder/flour-share.json.
//
// The inverse is [FlourForPiece].
type FlourShare struct {
	FlourRate   unit.MassRate  `json:"flour_rate" sym:"F" range:">0 kg/h..1000 kg/h"`                // flour that the duster drops
	PieceRate   unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on one lane
	Across      int            `json:"across" sym:"n" range:"1..20"`                                 // lanes side by side under the duster
	Belt        unit.Speed     `json:"belt" sym:"v" range:"0.1 mm/s..10 m/s"`                        // belt speed
	Width       unit.Length    `json:"width" sym:"W" range:"10 mm..5 m"`                             // width that the duster covers
	PieceLength unit.Length    `json:"piece_length" sym:"d" range:"1 mm..5 m"`                       // diameter of a round piece from above; all lanes within the width
	Measured    bool           `json:"measured,omitzero"`                                            // true if the curtain was seen to be even: flour caught at several places across this belt and weighed
}

// FlourShareResult is where the flour goes.
type FlourShareResult struct {
	Share         unit.Percent    `json:"share" sym:"s"`           // of the flour that falls on pieces
	FlourPerPiece unit.Mass       `json:"flour_per_piece" sym:"m"` // flour on each piece
	OnBelt        unit.MassRate   `json:"on_belt" sym:"B"`         // flour that falls beside them
	Conditions    Conditions      `json:"conditions"`              // uncalibrated
	Cautions      reckon.Cautions `json:"cautions"`                // flour-dust
}

func (FlourShare) ID() string { return "flour-share" }

func (q FlourShare) Check(c *reckon.Checks) { q.check(c) }

// check returns the share of the belt that is covered and the flour on a
// piece, which shows whether there is too much.
func (q FlourShare) check(c *reckon.Checks) (share float64, perPiece unit.Mass) {
	mark := c.Mark()
	if !(q.FlourRate > 0 && q.FlourRate <= mostFlour) {
		c.Fail("flour_rate", q.FlourRate.String(), "more than 0 kg/h, up to "+mostFlour.String())
	}
	checkDuster(c, q.PieceRate, q.Across, q.Belt, q.Width, q.PieceLength)
	if c.Mark() > mark {
		return share, perPiece
	}
	share = covered(q.PieceRate, q.Across, q.Belt, q.Width, q.PieceLength)
	pieces := float64(q.Across) * float64(q.PieceRate)
	perPiece = unit.Mass(float64(q.FlourRate) * 1000 / 60 * share / pieces)
	if perPiece > heaviestDusting*(1+1e-9) {
		c.Fail("flour_rate", q.FlourRate.String(), "at most "+(q.FlourRate*unit.MassRate(heaviestDusting/perPiece)).String()+": more puts over "+heaviestDusting.String()+" on each piece; check the rate and the flour")
	}
	return share, perPiece
}

func (q FlourShare) Solve() (out FlourShareResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	share, perPiece := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	return FlourShareResult{
		Share: unit.Percent(100 * share), FlourPerPiece: perPiece, OnBelt: unit.MassRate(float64(q.FlourRate) * (1 - share)),
		Conditions: evenness(q.Measured), Cautions: reckon.FlourDust,
	}, nil
}

func (q FlourShare) Show(w *reckon.Working, out FlourShareResult) {
	w.Inputs(q)
	w.Lines(out,
		"pitch: p = v*60{s/min}/r in mm",
		"share on the pieces: s = 100*n*pi/4*d*d/(p*W)  [area of the pieces over area of the belt]",
		"flour beside the pieces: B = F*(1 - s/100)",
		"flour on a piece: m = F*1000{g/kg}/60{min/h}*s/100/(n*r)",
	)
}

func checkDuster(c *reckon.Checks, rate unit.PieceRate, lanes int, belt unit.Speed, width, piece unit.Length) {
	ok := checkLane(c, rate, piece)
	lane := reckon.CheckCount(c, "across", lanes, 1, maxAcross)
	speed := reckon.CheckRange(c, "belt", belt, slowestBelt, fastestBelt)
	across := reckon.CheckRange(c, "width", width, 10, 5000)
	if ok && speed {
		checkApart(c, belt, rate, piece)
	}
	if ok && lane && across && unit.Length(lanes)*piece > width {
		c.Fail("width", width.String(), "at least "+(unit.Length(lanes)*piece).String()+", the pieces side by side")
	}
}

// covered is the share of the belt that round pieces cover.
func covered(rate unit.PieceRate, lanes int, belt unit.Speed, width, piece unit.Length) float64 {
	return float64(lanes) * (math.Pi / 4) * float64(piece) * float64(piece) / (float64(pitchOf(belt, rate)) * float64(width))
}

// evenness says whether the even curtain of flour is more than a model.
func evenness(measured bool) Conditions {
	if measured {
		return 0
	}
	return reckon.Uncalibrated
}

// FlourForPiece asks how much flour the duster must drop to put the wanted
// flour on each piece:
//
//	p = v * 60 / r
//	s = 100 * n * pi/4 * d^2 / (p * W)
//	F = m * 60/1000 * n * r / (s/100)
//	B = F * (1 - s/100)
//
// It is the inverse of [FlourShare], with the same validity.
//
// It is refused if:
//   - the belt is so slow that the pieces touch,
//   - the pieces side by side are wider than the duster.
//
// Source: areas and kinematics (derived).
//
// The inverse is [FlourShare].
type FlourForPiece struct {
	FlourPerPiece unit.Mass      `json:"flour_per_piece" sym:"m" range:">0 g..1 kg"`                   // wanted flour on each piece
	PieceRate     unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on one lane
	Across        int            `json:"across" sym:"n" range:"1..20"`                                 // lanes side by side under the duster
	Belt          unit.Speed     `json:"belt" sym:"v" range:"0.1 mm/s..10 m/s"`                        // belt speed
	Width         unit.Length    `json:"width" sym:"W" range:"10 mm..5 m"`                             // width that the duster covers
	PieceLength   unit.Length    `json:"piece_length" sym:"d" range:"1 mm..5 m"`                       // diameter of a round piece from above; all lanes within the width
	Measured      bool           `json:"measured,omitzero"`                                            // true if the curtain was seen to be even: flour caught at several places across this belt and weighed
}

// FlourForPieceResult is what the duster must drop.
type FlourForPieceResult struct {
	FlourRate  unit.MassRate   `json:"flour_rate" sym:"F"` // from the duster
	OnBelt     unit.MassRate   `json:"on_belt" sym:"B"`    // of that, beside the pieces
	Conditions Conditions      `json:"conditions"`         // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`           // flour-dust
}

func (FlourForPiece) ID() string { return "flour-for-piece" }

func (q FlourForPiece) Check(c *reckon.Checks) {
	if !(q.FlourPerPiece > 0 && q.FlourPerPiece <= heaviestDusting) {
		c.Fail("flour_per_piece", q.FlourPerPiece.String(), "more than 0 g, up to 1 kg")
	}
	checkDuster(c, q.PieceRate, q.Across, q.Belt, q.Width, q.PieceLength)
}

// Solve has no answer if the duster would have to drop more than 1000 kg/h.
func (q FlourForPiece) Solve() (out FlourForPieceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	share := covered(q.PieceRate, q.Across, q.Belt, q.Width, q.PieceLength)
	flour := unit.MassRate(float64(q.FlourPerPiece) * 60 / 1000 * float64(q.Across) * float64(q.PieceRate) / share)
	if !(flour <= mostFlour) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "duster", Wanted: q.FlourPerPiece.String() + " of flour on each piece", High: (q.FlourPerPiece * unit.Mass(mostFlour/flour)).String(),
			Advice: "it would have to drop " + flour.String() + ", and " + mostFlour.String() + " is the most; ask for less flour, or run the belt slower so that less falls beside the pieces",
		}
	}
	return FlourForPieceResult{
		FlourRate: flour, OnBelt: unit.MassRate(float64(flour) * (1 - share)),
		Conditions: evenness(q.Measured), Cautions: reckon.FlourDust,
	}, nil
}

func (q FlourForPiece) Show(w *reckon.Working, out FlourForPieceResult) {
	w.Inputs(q)
	w.Lines(out,
		"pitch: p = v*60{s/min}/r in mm",
		"share on the pieces: s = 100*n*pi/4*d*d/(p*W) in %  [area of the pieces over area of the belt]",
		"flour: F = m*60{min/h}/1000{g/kg}*n*r/(s/100)",
		"flour beside the pieces: B = F*(1 - s/100)",
	)
}
