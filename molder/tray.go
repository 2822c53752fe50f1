package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// TrayFit asks how many round pieces a flat tray holds when they have proofed,
// in straight rows:
//
//	V = m / rho * 1000
//	d = f * (6 * G * V / pi)^(1/3)
//	n_1 = floor((l - g) / (d + g))
//	n_2 = floor((w - g) / (d + g))
//	n = n_1 * n_2
//
// Source: sphere volume (derived); flatness from judgement; cases in testdata/cases/molder/tray-fit.json.
//
// The inverse is [PieceForTray].
type TrayFit struct {
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is trayed
	Growth   float64      `json:"growth" sym:"G" range:"1..8"`                  // volume at the end of the proof over volume as trayed: see [GrowthFromJar]
	Flatness float64      `json:"flatness" sym:"f" range:"1..3"`                // diameter on the tray over the diameter of a ball of the same volume: see [FlatnessFromPieces]; about 1.1 to 1.25 by judgement
	Length   unit.Length  `json:"length" sym:"l" range:"20 mm..3 m"`            // inside length of the tray
	Width    unit.Length  `json:"width" sym:"w" range:"20 mm..3 m"`             // inside width of the tray
	Gap      unit.Length  `json:"gap" sym:"g" range:"0 mm..500 mm"`             // least gap wanted between proofed pieces and to the edge
	Measured bool         `json:"measured,omitzero"`                            // true if growth and flatness were measured on this dough
}

// TrayFitResult is how many pieces go on the tray.
type TrayFitResult struct {
	Diameter   unit.Length `json:"diameter" sym:"d"` // of a proofed piece on the tray
	Along      int         `json:"along" sym:"n_1"`  // pieces along the length
	Across     int         `json:"across" sym:"n_2"` // pieces across the width
	Pieces     int         `json:"pieces" sym:"n"`   // on the tray
	Conditions Conditions  `json:"conditions"`       // rounded, uncalibrated
}

func (TrayFit) ID() string { return "tray-fit" }

func (q TrayFit) Check(c *reckon.Checks) {
	checkPiece(c, q.Piece, q.Density)
	checkTray(c, q.Growth, q.Flatness, q.Length, q.Width, q.Gap)
}

// Solve has no answer if not one piece fits.
func (q TrayFit) Solve() (out TrayFitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	gap := float64(q.Gap)
	d := float64(q.Flatness * proofedBall(q.Growth, volume(q.Piece, q.Density)))
	// A tray made for exactly so many must not lose one for its last binary digit.
	along := math.Floor((float64(q.Length)-gap)/(d+gap) + 1e-9)
	across := math.Floor((float64(q.Width)-gap)/(d+gap) + 1e-9)
	if along < 1 || across < 1 {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "place", Wanted: "room for a proofed piece of " + unit.Length(d).String(),
			Advice: "take a larger tray, a smaller piece or a smaller gap",
		}
	}
	out = TrayFitResult{Diameter: unit.Length(d), Along: int(along), Across: int(across), Pieces: int(along * across), Conditions: reckon.Rounded}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q TrayFit) Show(w *reckon.Working, out TrayFitResult) {
	w.Inputs(q)
	w.Lines(out,
		volumeLine,
		"diameter of a proofed piece: d = f*pow(6*G*V/pi, 1/3)  [sphere volume]",
		"pieces along: n_1 = floor((l - g)/(d + g))  [whole pieces]",
		"pieces across: n_2 = floor((w - g)/(d + g))  [whole pieces]",
		"pieces: n = n_1*n_2",
	)
}

// mostInRow bounds the places asked for in one row: the longest tray holds 276 of the lightest pieces.
const mostInRow = 300

func checkTray(c *reckon.Checks, growth, flatness float64, length, width, gap unit.Length) {
	reckon.CheckRange(c, "growth", growth, 1, 8)
	reckon.CheckRange(c, "flatness", flatness, 1, 3)
	reckon.CheckRange(c, "length", length, 20, 3000)
	reckon.CheckRange(c, "width", width, 20, 3000)
	reckon.CheckRange(c, "gap", gap, 0, 500)
}

// proofedBall returns the diameter of a ball of v mm³ that has grown.
func proofedBall(growth, v float64) float64 { return math.Cbrt(6 * growth * v / math.Pi) }

// PieceForTray asks how heavy the pieces can be for a flat tray to hold the
// wanted number when they have proofed:
//
//	d = min((l - g) / n_1, (w - g) / n_2) - g
//	m = rho / G * pi/6 * (d / f)^3 / 1000
//
// It is the inverse of [TrayFit], with the same validity.
//
// Source: sphere volume (derived).
//
// The inverse is [TrayFit].
type PieceForTray struct {
	Along    int          `json:"along" sym:"n_1" range:"1..300"`               // pieces along the length
	Across   int          `json:"across" sym:"n_2" range:"1..300"`              // pieces across the width
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is trayed
	Growth   float64      `json:"growth" sym:"G" range:"1..8"`                  // volume at the end of the proof over volume as trayed: see [GrowthFromJar]
	Flatness float64      `json:"flatness" sym:"f" range:"1..3"`                // diameter on the tray over the diameter of a ball of the same volume
	Length   unit.Length  `json:"length" sym:"l" range:"20 mm..3 m"`            // inside length of the tray
	Width    unit.Length  `json:"width" sym:"w" range:"20 mm..3 m"`             // inside width of the tray
	Gap      unit.Length  `json:"gap" sym:"g" range:"0 mm..500 mm"`             // least gap wanted between proofed pieces and to the edge
	Measured bool         `json:"measured,omitzero"`                            // true if growth and flatness were measured on this dough
}

// PieceForTrayResult is the heaviest piece of which so many fit.
type PieceForTrayResult struct {
	Piece      unit.Mass   `json:"piece" sym:"m"`    // heaviest piece
	Diameter   unit.Length `json:"diameter" sym:"d"` // of it when proofed, on the tray
	Conditions Conditions  `json:"conditions"`       // uncalibrated
}

func (PieceForTray) ID() string { return "piece-for-tray" }

func (q PieceForTray) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "along", q.Along, 1, mostInRow)
	reckon.CheckCount(c, "across", q.Across, 1, mostInRow)
	reckon.CheckRange(c, "density", q.Density, loosestDough, densestDough)
	checkTray(c, q.Growth, q.Flatness, q.Length, q.Width, q.Gap)
}

// Solve has no answer if the gaps leave no room for pieces, or only for pieces
// lighter than 1 g or heavier than 10 kg.
func (q PieceForTray) Solve() (out PieceForTrayResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	gap := float64(q.Gap)
	d := min((float64(q.Length)-gap)/float64(q.Along), (float64(q.Width)-gap)/float64(q.Across)) - gap
	if d <= 0 {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "piece", Wanted: "so many places",
			Advice: "the gaps alone fill the tray; ask for fewer pieces or smaller gaps",
		}
	}
	ball := d / q.Flatness
	piece := unit.Mass(float64(q.Density) / q.Growth * math.Pi / 6 * ball * ball * ball / 1000)
	if !(piece >= lightestPiece && piece <= heaviestPiece) {
		return out, q.noPiece(piece)
	}
	out = PieceForTrayResult{Piece: piece, Diameter: unit.Length(d)}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q PieceForTray) Show(w *reckon.Working, out PieceForTrayResult) {
	w.Inputs(q)
	w.Lines(out,
		"diameter of a proofed piece: d = min((l - g)/n_1, (w - g)/n_2) - g",
		"piece: m = rho/G*pi/6*pow(d/f, 3)/1000{mm³/ml}  [sphere volume]",
	)
}

// noPiece says what the piece would weigh and, if it is too light, how many places the tray has.
func (q *PieceForTray) noPiece(piece unit.Mass) error {
	instead := "ask for more places or take a smaller tray"
	if piece < lightestPiece {
		instead = "ask for fewer places or smaller gaps"
	}
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "piece", Wanted: number(float64(q.Along)) + " by " + number(float64(q.Across)) + " places",
		Advice: "it would weigh " + piece.String() + ", and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; " + instead,
	}
	if piece < lightestPiece {
		gap := float64(q.Gap)
		least := float64(q.Flatness * proofedBall(q.Growth, volume(lightestPiece, q.Density)))
		along := math.Floor((float64(q.Length) - gap) / (least + gap))
		across := math.Floor((float64(q.Width) - gap) / (least + gap))
		if along >= 1 && across >= 1 {
			none.High = number(along) + " by " + number(across) + " places"
		}
	}
	return none
}

// FlatnessFromPieces asks how much a piece flattens on the tray, as how much
// wider it lies than a ball of its volume, from pieces measured:
//
//	V = m / rho * 1000
//	b = (6 * G * V / pi)^(1/3)
//	f = (d_1 + ... + d_n) / n / b
//	u = sqrt(sum((d_i / b - f)^2) / (n - 1))
//
// It is refused if:
//   - there is no piece,
//   - a diameter is less than that of the ball or more than 3 times it.
//
// Source: sphere volume (derived); cases in testdata/cases/molder/flatness-from-pieces.json.
//
// It calibrates [TrayFit].
type FlatnessFromPieces struct {
	Piece     unit.Mass     `json:"piece" sym:"m" range:"1 g..10 kg"`               // piece weight
	Density   unit.Density  `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"`   // density of the dough as it is trayed
	Growth    float64       `json:"growth" sym:"G" range:"1..8"`                    // volume when measured over volume as trayed; 1 if measured unproofed
	Diameters []unit.Length `json:"diameters" sym:"d_#" range:"-" items:"1..10000"` // of pieces on the tray from above, 1 to 3 times that of the ball; at least one
}

// FlatnessFromPiecesResult is how much a piece flattens.
type FlatnessFromPiecesResult struct {
	Flatness float64     `json:"flatness" sym:"f"`    // mean diameter over the diameter of the ball
	SD       float64     `json:"sd,omitzero" sym:"u"` // sample standard deviation of it; left out for a single piece
	Ball     unit.Length `json:"ball" sym:"b"`        // diameter of a ball of the same volume
	Pieces   int         `json:"pieces" sym:"n"`      // number of pieces measured
}

func (FlatnessFromPieces) ID() string { return "flatness-from-pieces" }

func (q FlatnessFromPieces) Check(c *reckon.Checks) { q.check(c) }

// check returns the diameter of the ball, which shows whether the pieces can be true.
func (q FlatnessFromPieces) check(c *reckon.Checks) (ball unit.Length) {
	ok := checkPiece(c, q.Piece, q.Density)
	ok = reckon.CheckRange(c, "growth", q.Growth, 1, 8) && ok
	reckon.CheckItems(c, "diameters", len(q.Diameters), mostTrials)
	if len(q.Diameters) == 0 {
		c.Fail("diameters", "empty", "at least one piece measured on the tray")
	}
	ball = unit.Length(proofedBall(q.Growth, volume(q.Piece, q.Density)))
	if ok {
		checkEach(c, "diameters", q.Diameters, ball, 3*ball)
	}
	return ball
}

func (q FlatnessFromPieces) Solve() (out FlatnessFromPiecesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	ball := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	mean, sd := ratios(q.Diameters, ball)
	return FlatnessFromPiecesResult{Flatness: mean / float64(ball), SD: sd, Ball: ball, Pieces: len(q.Diameters)}, nil
}

func (q FlatnessFromPieces) Show(w *reckon.Working, out FlatnessFromPiecesResult) {
	w.Inputs(q)
	w.Lines(out,
		"pieces measured: n = count(d_#...)",
		volumeLine,
		"diameter of the ball: b = pow(6*G*V/pi, 1/3)  [sphere volume]",
		"flatness: f = sum(d_#)/n/b",
	)
	if out.Pieces > 1 {
		w.Lines(out, "standard deviation of the flatness: u = sqrt(sum((d_#/b - f)*(d_#/b - f))/(n - 1))  [sample standard deviation]")
	}
}
