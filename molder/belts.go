package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Belt is one belt of the line and the piece as it lies on it.
type Belt struct {
	Name  string      `json:"name"`  // what the shop calls it; not empty
	Speed unit.Speed  `json:"speed"` // belt speed, 0.1 mm/s to 10 m/s
	Piece unit.Length `json:"piece"` // length of a piece along this belt, 1 to 5000 mm
}

// A BeltRow is how the pieces run on one belt.
type BeltRow struct {
	Name  string      `json:"name"`           // of the belt
	Pitch unit.Length `json:"pitch"`          // from one piece to the same point of the next
	Gap   unit.Length `json:"gap"`            // free belt between them
	Ratio float64     `json:"ratio,omitzero"` // its speed over that of the belt before; left out for the first
}

// BeltTrain returns the pitch and gap on every belt of the line, and the speed ratios between them, appended to dst:
//
//	pitch = belt speed / rate,  gap = pitch - piece length
//	ratio = belt speed / speed of the belt before
//
// A belt that is faster than the one before pulls the pieces apart, a slower
// one pushes them together. It holds for pieces that arrive evenly; for
// uneven arrival see [DoublesRisk].
//
// It returns an *[reckon.InputError] if:
//   - rate is outside 0.01 to 10000 pieces/min, or least_gap outside 0 to 5000 mm,
//   - belts is empty or a name is empty,
//   - a speed is outside 0.1 mm/s to 10 m/s, so slow that pieces touch, or so fast that more than 100 m are free between them,
//   - a piece is outside 1 to 5000 mm.
//
// Source: kinematics (derived); cases in testdata/cases/molder/belt-train.json.
//
// The inverse, belt by belt, is [BeltForGap].
type BeltTrain struct {
	Rate     unit.PieceRate `json:"rate"`               // pieces on this lane, 0.01 to 10000 pieces/min
	Belts    []Belt         `json:"belts"`              // in the order of travel, at least one
	LeastGap unit.Length    `json:"least_gap,omitzero"` // smallest gap wanted, 0 to 5000 mm; with 0 only touching pieces are refused
}

func (BeltTrain) ID() string { return "belt-train" }

// SHELL
func (q BeltTrain) Check(c *reckon.Checks) {
	_, err := explainBeltTrain(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BeltTrain) Solve() (BeltTrainResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q BeltTrain) Append(dst []BeltRow) (BeltTrainResult, error) {
	return explainBeltTrain(q, dst, nil)
}

func (q BeltTrain) Show(w *reckon.Working, _ BeltTrainResult) { _, _ = explainBeltTrain(q, nil, w) }

// BeltTrainResult is how the pieces run on every belt.
type BeltTrainResult struct {
	Rows       []BeltRow       `json:"rows"`       // one for each belt
	Tightest   int             `json:"tightest"`   // index of the belt with the smallest gap
	Conditions Conditions      `json:"conditions"` // risk-of-doubles
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainBeltTrain(in BeltTrain, dst []BeltRow, w *reckon.Working) (out BeltTrainResult, err error) {
	c := reckon.Checks{Func: "belt-train"}
	rate := reckon.CheckRange(&c, "rate", in.Rate, slowestRate, fastestRate)
	reckon.CheckRange(&c, "least_gap", in.LeastGap, 0, longestBody)
	if len(in.Belts) == 0 {
		c.Fail("belts", "empty", "at least one belt")
	}
	for i, b := range in.Belts {
		if b.Name == "" {
			c.Fail(fmt.Sprintf("belts[%d].name", i), `""`, "a name to tell the belt by")
		}
		speed, piece := b.Speed >= slowestBelt && b.Speed <= fastestBelt, b.Piece >= shortestBody && b.Piece <= longestBody
		if !speed {
			reckon.CheckRange(&c, fmt.Sprintf("belts[%d].speed", i), b.Speed, slowestBelt, fastestBelt)
		}
		if !piece {
			reckon.CheckRange(&c, fmt.Sprintf("belts[%d].piece", i), b.Piece, shortestBody, longestBody)
		}
		if !speed || !piece || !rate {
			continue
		}
		switch gap := pitchOf(b.Speed, in.Rate) - b.Piece; {
		case gap <= 0:
			c.Fail(fmt.Sprintf("belts[%d].speed", i), b.Speed.String(), apartWant(in.Rate, b.Piece))
		case gap > widestFree*(1+1e-9):
			_ = tooFree(&c, fmt.Sprintf("belts[%d].speed", i), b.Speed.String(), gap)
		}
	}
	if err := c.Err(); err != nil {
		return BeltTrainResult{}, err
	}
	w.Given("rate", "r", float64(in.Rate), "pieces/min", "")
	out = BeltTrainResult{Cautions: reckon.MovingMachinery}
	tightest := unit.Length(math.Inf(1))
	for i, b := range in.Belts {
		row := BeltRow{Name: b.Name, Pitch: pitchOf(b.Speed, in.Rate)}
		row.Gap = row.Pitch - b.Piece
		if i > 0 {
			row.Ratio = float64(b.Speed) / float64(in.Belts[i-1].Speed)
		}
		if row.Gap < tightest {
			tightest, out.Tightest = row.Gap, i
		}
		if row.Gap < in.LeastGap {
			out.Conditions |= RiskOfDoubles
		}
		dst = append(dst, row)
		if w != nil {
			n := fmt.Sprint("_", i+1)
			w.Given("speed of "+b.Name, "v"+n, float64(b.Speed), "mm/s", "")
			w.Given("piece length on "+b.Name, "l"+n, float64(b.Piece), "mm", "")
			w.Step("pitch on "+b.Name, "p"+n, "v"+n+" * 60 / r", float64(row.Pitch), "mm", "60 s in a minute")
			w.Step("gap on "+b.Name, "g"+n, "p"+n+" - l"+n, float64(row.Gap), "mm", "")
		}
	}
	out.Rows = dst
	return out, nil
}

// FlourShare returns how much of the dusting flour falls on the pieces and how much beside them:
//
//	share = lanes * pi/4 * d^2 / (pitch * width),  pitch = belt speed / rate
//	flour per piece = flour * share / (lanes * rate)
//
// It takes an even curtain of flour and round pieces. Whether the curtain is
// even is found by catching flour at several places across the belt and
// weighing it; until then the result is called uncalibrated. Only as much
// flour is used as keeps pieces from sticking: what falls beside them makes dust.
//
// It returns an *[reckon.InputError] if:
//   - flour is not above 0 and up to 1000 kg/h, or so much that more than 1000 g fall on a piece,
//   - rate is outside 0.01 to 10000 pieces/min, lanes outside 1 to 20, or piece outside 1 to 5000 mm,
//   - belt is outside 0.1 mm/s to 10 m/s, or so slow that pieces touch,
//   - width is outside 10 to 5000 mm, or narrower than the pieces side by side.
//
// Source: areas and kinematics (derived); cases in testdata/cases/molder/flour-share.json.
//
// The inverse is [FlourForPiece].
type FlourShare struct {
	Flour    unit.MassRate  `json:"flour"`             // flour that the duster drops, above 0 to 1000 kg/h
	Rate     unit.PieceRate `json:"rate"`              // pieces on one lane, 0.01 to 10000 pieces/min
	Lanes    int            `json:"lanes"`             // lanes side by side under the duster, 1 to 20
	Belt     unit.Speed     `json:"belt"`              // belt speed, 0.1 mm/s to 10 m/s
	Width    unit.Length    `json:"width"`             // width that the duster covers, 10 to 5000 mm
	Piece    unit.Length    `json:"piece"`             // diameter of a round piece from above, 1 to 5000 mm; all lanes within the width
	Measured bool           `json:"measured,omitzero"` // true if the curtain was seen to be even: flour caught at several places across this belt and weighed
}

func (FlourShare) ID() string { return "flour-share" }

// SHELL
func (q FlourShare) Check(c *reckon.Checks) {
	_, err := explainFlourShare(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FlourShare) Solve() (FlourShareResult, error) { return explainFlourShare(q, nil) }

func (q FlourShare) Show(w *reckon.Working, _ FlourShareResult) { _, _ = explainFlourShare(q, w) }

// FlourShareResult is where the flour goes.
type FlourShareResult struct {
	Share      unit.Percent    `json:"share"`      // of the flour that falls on pieces
	PerPiece   unit.Mass       `json:"per_piece"`  // flour on each piece
	OnBelt     unit.MassRate   `json:"on_belt"`    // flour that falls beside them
	Conditions Conditions      `json:"conditions"` // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust
}

// What dusting flour can be, taken wide.
const (
	mostFlour       unit.MassRate = 1000 // from the duster
	heaviestDusting unit.Mass     = 1000 // on one piece
)

// evenness says whether the even curtain of flour is more than a model.
func evenness(measured bool) Conditions {
	if measured {
		return 0
	}
	return reckon.Uncalibrated
}

func checkDuster(c *reckon.Checks, rate unit.PieceRate, lanes int, belt unit.Speed, width, piece unit.Length) {
	ok := checkLane(c, rate, piece)
	lane := reckon.CheckCount(c, "lanes", lanes, 1, maxAcross)
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

func explainFlourShare(in FlourShare, w *reckon.Working) (out FlourShareResult, err error) {
	c := reckon.Checks{Func: "flour-share"}
	if !(in.Flour > 0 && in.Flour <= mostFlour) {
		c.Fail("flour", in.Flour.String(), "more than 0 kg/h, up to "+mostFlour.String())
	}
	checkDuster(&c, in.Rate, in.Lanes, in.Belt, in.Width, in.Piece)
	if err := c.Err(); err != nil {
		return FlourShareResult{}, err
	}
	share := covered(in.Rate, in.Lanes, in.Belt, in.Width, in.Piece)
	pieces := float64(in.Lanes) * float64(in.Rate)
	out = FlourShareResult{
		Share:      unit.Percent(100 * share),
		PerPiece:   unit.Mass(float64(in.Flour) * 1000 / 60 * share / pieces),
		OnBelt:     unit.MassRate(float64(in.Flour) * (1 - share)),
		Conditions: evenness(in.Measured), Cautions: reckon.FlourDust,
	}
	if out.PerPiece > heaviestDusting*(1+1e-9) {
		c.Fail("flour", in.Flour.String(), "at most "+(in.Flour*unit.MassRate(heaviestDusting/out.PerPiece)).String()+": more puts over "+heaviestDusting.String()+" on each piece; check the rate and the flour")
		return FlourShareResult{}, c.Err()
	}
	if w != nil {
		w.Given("flour", "F", float64(in.Flour), "kg/h", "")
		explainDuster(w, in.Rate, in.Lanes, in.Belt, in.Width, in.Piece)
		w.Step("share on the pieces", "s", "100 * n * pi/4 * d*d / (p * W)", float64(out.Share), "%", "area of the pieces over area of the belt")
		w.Step("flour beside the pieces", "B", "F * (1 - s/100)", float64(out.OnBelt), "kg/h", "")
		w.Step("flour on a piece", "m", "F * 1000 / 60 * s/100 / (n * r)", float64(out.PerPiece), "g", "60 minutes in an hour")
	}
	return out, nil
}

func explainDuster(w *reckon.Working, rate unit.PieceRate, lanes int, belt unit.Speed, width, piece unit.Length) {
	w.Given("pieces on a lane", "r", float64(rate), "pieces/min", "")
	w.Given("lanes", "n", float64(lanes), "", "")
	w.Given("belt speed", "v", float64(belt), "mm/s", "")
	w.Given("width under the duster", "W", float64(width), "mm", "")
	w.Given("piece diameter", "d", float64(piece), "mm", "")
	w.Step("pitch", "p", "v * 60 / r", float64(pitchOf(belt, rate)), "mm", "60 s in a minute")
}

// FlourForPiece returns the flour that a duster must drop to put the wanted flour on each piece:
//
//	flour = flour per piece * lanes * rate / share
//
// It is the inverse of [FlourShare], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - per_piece is not above 0 and up to 1000 g,
//   - rate, lanes, belt, width or piece is refused by [FlourShare].
//
// It returns a *[reckon.NoSolutionError] if the duster would have to drop more than 1000 kg/h.
//
// Source: areas and kinematics (derived).
type FlourForPiece struct {
	PerPiece unit.Mass      `json:"per_piece"`         // wanted flour on each piece, above 0 to 1000 g
	Rate     unit.PieceRate `json:"rate"`              // pieces on one lane, 0.01 to 10000 pieces/min
	Lanes    int            `json:"lanes"`             // lanes side by side under the duster, 1 to 20
	Belt     unit.Speed     `json:"belt"`              // belt speed, 0.1 mm/s to 10 m/s
	Width    unit.Length    `json:"width"`             // width that the duster covers, 10 to 5000 mm
	Piece    unit.Length    `json:"piece"`             // diameter of a round piece from above, 1 to 5000 mm; all lanes within the width
	Measured bool           `json:"measured,omitzero"` // true if the curtain was seen to be even: flour caught at several places across this belt and weighed
}

func (FlourForPiece) ID() string { return "flour-for-piece" }

// SHELL
func (q FlourForPiece) Check(c *reckon.Checks) {
	_, err := explainFlourForPiece(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FlourForPiece) Solve() (FlourForPieceResult, error) { return explainFlourForPiece(q, nil) }

func (q FlourForPiece) Show(w *reckon.Working, _ FlourForPieceResult) {
	_, _ = explainFlourForPiece(q, w)
}

// FlourForPieceResult is what the duster must drop.
type FlourForPieceResult struct {
	Flour      unit.MassRate   `json:"flour"`      // from the duster
	OnBelt     unit.MassRate   `json:"on_belt"`    // of that, beside the pieces
	Conditions Conditions      `json:"conditions"` // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust
}

func explainFlourForPiece(in FlourForPiece, w *reckon.Working) (out FlourForPieceResult, err error) {
	c := reckon.Checks{Func: "flour-for-piece"}
	if !(in.PerPiece > 0 && in.PerPiece <= heaviestDusting) {
		c.Fail("per_piece", in.PerPiece.String(), "more than 0 g, up to 1 kg")
	}
	checkDuster(&c, in.Rate, in.Lanes, in.Belt, in.Width, in.Piece)
	if err := c.Err(); err != nil {
		return FlourForPieceResult{}, err
	}
	share := covered(in.Rate, in.Lanes, in.Belt, in.Width, in.Piece)
	flour := float64(in.PerPiece) * 60 / 1000 * float64(in.Lanes) * float64(in.Rate) / share
	out = FlourForPieceResult{
		Flour: unit.MassRate(flour), OnBelt: unit.MassRate(flour * (1 - share)),
		Conditions: evenness(in.Measured), Cautions: reckon.FlourDust,
	}
	if !(out.Flour <= mostFlour) {
		return FlourForPieceResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "duster", Wanted: in.PerPiece.String() + " of flour on each piece", High: (in.PerPiece * unit.Mass(mostFlour/out.Flour)).String(),
			Advice: "it would have to drop " + out.Flour.String() + ", and " + mostFlour.String() + " is the most; ask for less flour, or run the belt slower so that less falls beside the pieces",
		}
	}
	if w != nil {
		w.Given("flour on a piece", "m", float64(in.PerPiece), "g", "")
		explainDuster(w, in.Rate, in.Lanes, in.Belt, in.Width, in.Piece)
		w.Step("share on the pieces", "s", "n * pi/4 * d*d / (p * W)", share, "", "area of the pieces over area of the belt")
		w.Step("flour", "F", "m * 60 / 1000 * n * r / s", flour, "kg/h", "60 minutes in an hour")
	}
	return out, nil
}
