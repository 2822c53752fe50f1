package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Drum is one of the rounding drums on the shelf.
type Drum struct {
	Name string      `json:"name"` // what the shop calls it; not empty
	Cup  unit.Length `json:"cup"`  // cup diameter, 5 to 500 mm
}

// A DrumFit is how a piece sits in one drum.
type DrumFit struct {
	Drum int     `json:"drum"` // index of the drum in the list given
	Name string  `json:"name"` // its name
	Fill float64 `json:"fill"` // diameter of the rounded piece over the cup diameter
}

// DrumChoice returns the rounding drum whose cup suits the piece, by the
// diameter of the piece as a ball:
//
//	d = (6 m / (pi rho))^(1/3)
//	fill = d / cup
//
// It takes the drum whose fill lies in the wanted range, and of several the
// one nearest to its middle. If none does, it takes the drum that misses the
// range by the least and says so. Larger pieces take larger drums.
//
// The ball is exact geometry; which fill rounds well depends on dough and
// machine, so the range is the shop's own.
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg, or density outside 0.1 to 1.5 g/ml,
//   - drums is empty, a name is empty, or a cup is outside 5 to 500 mm,
//   - fill_low is outside 0.1 to 2, or fill_high not between it and 2.
//
// Source: sphere volume (derived); larger pieces take larger drums (common
// practice); cases in testdata/cases/molder/drum-choice.json.
//
// The inverse is [PieceForDrum].
type DrumChoice struct {
	Piece      unit.Mass    `json:"piece"`               // piece weight, 1 g to 10 kg
	Density    unit.Density `json:"density"`             // density of the dough as it is rounded, 0.1 to 1.5 g/ml
	Drums      []Drum       `json:"drums"`               // the drums on the shelf in any order, at least one
	FillLow    float64      `json:"fill_low"`            // least wanted fill (piece diameter over cup diameter), 0.1 to 2
	FillHigh   float64      `json:"fill_high"`           // largest wanted fill, 0.1 to 2 and above fill_low
	Calibrated bool         `json:"calibrated,omitzero"` // true if the fill range comes from trials on this line: see [FillFromTrials]
}

func (DrumChoice) ID() string { return "drum-choice" }

// SHELL
func (q DrumChoice) Check(c *reckon.Checks) {
	_, err := explainDrumChoice(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DrumChoice) Solve() (DrumChoiceResult, error) { return explainDrumChoice(q, nil) }

func (q DrumChoice) Show(w *reckon.Working, _ DrumChoiceResult) { _, _ = explainDrumChoice(q, w) }

// DrumChoiceResult is the drum to put on.
type DrumChoiceResult struct {
	Drum       int             `json:"drum"`             // index of the drum in the list given
	Name       string          `json:"name"`             // its name
	Diameter   unit.Length     `json:"diameter"`         // diameter of the piece as a ball
	Fill       float64         `json:"fill"`             // diameter over the cup of the drum chosen
	Smaller    DrumFit         `json:"smaller,omitzero"` // the next smaller drum; left out if there is none
	Larger     DrumFit         `json:"larger,omitzero"`  // the next larger drum; left out if there is none
	Conditions Conditions      `json:"conditions"`       // drum-too-small, drum-too-large, between-drums, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`         // moving-machinery, locked-out, cleaning
}

func checkFill(c *reckon.Checks, low, high float64) {
	ok := reckon.CheckRange(c, "fill_low", low, leastFill, largestFill)
	if reckon.CheckRange(c, "fill_high", high, leastFill, largestFill) && ok && high <= low {
		c.Fail("fill_high", number(high), "more than fill_low ("+number(low)+"), up to 2")
	}
}

const (
	smallestCup unit.Length = 5
	largestCup  unit.Length = 500
	leastFill               = 0.1
	largestFill             = 2
)

func explainDrumChoice(in DrumChoice, w *reckon.Working) (out DrumChoiceResult, err error) {
	c := reckon.Checks{Func: "drum-choice"}
	checkPiece(&c, in.Piece, in.Density)
	if len(in.Drums) == 0 {
		c.Fail("drums", "empty", "at least one drum")
	}
	for i := range in.Drums {
		d := &in.Drums[i]
		if d.Name == "" {
			c.Fail(fmt.Sprintf("drums[%d].name", i), `""`, "a name to tell the drum by")
		}
		if !(d.Cup >= smallestCup && d.Cup <= largestCup) {
			reckon.CheckRange(&c, fmt.Sprintf("drums[%d].cup", i), d.Cup, smallestCup, largestCup)
		}
	}
	checkFill(&c, in.FillLow, in.FillHigh)
	if err := c.Err(); err != nil {
		return DrumChoiceResult{}, err
	}
	diameter := sphere(in.Piece, in.Density)
	best, least := 0, in.misfit(diameter, 0)
	for i := 1; i < len(in.Drums); i++ {
		if miss := in.misfit(diameter, i); miss < least {
			best, least = i, miss
		}
	}
	cup := in.Drums[best].Cup
	out = DrumChoiceResult{
		Drum: best, Name: in.Drums[best].Name, Diameter: diameter, Fill: float64(diameter) / float64(cup),
		Cautions: reckon.MovingMachinery | reckon.LockedOut | reckon.Cleaning,
	}
	smaller, larger := -1, -1
	for i := range in.Drums {
		d := &in.Drums[i]
		if d.Cup < cup && (smaller < 0 || d.Cup > in.Drums[smaller].Cup) {
			smaller = i
		}
		if d.Cup > cup && (larger < 0 || d.Cup < in.Drums[larger].Cup) {
			larger = i
		}
	}
	if smaller >= 0 {
		out.Smaller = in.fit(diameter, smaller)
	}
	if larger >= 0 {
		out.Larger = in.fit(diameter, larger)
	}
	switch {
	case out.Fill > in.FillHigh && larger >= 0, out.Fill < in.FillLow && smaller >= 0:
		out.Conditions |= BetweenDrums
	case out.Fill > in.FillHigh:
		out.Conditions |= DrumTooSmall
	case out.Fill < in.FillLow:
		out.Conditions |= DrumTooLarge
	}
	if !in.Calibrated {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Step("piece diameter as a ball", "d", "pow(6*V/pi, 1.0/3)", float64(diameter), "mm", "sphere volume")
		w.Given("cup diameter of the drum chosen", "cup", float64(cup), "mm", "the drum that misses the wanted fill by the least")
		w.Step("fill", "f", "d / cup", out.Fill, "", "")
	}
	return out, nil
}

// misfit is how badly a drum suits: how far its fill is from the middle of the wanted range.
func (in *DrumChoice) misfit(diameter unit.Length, i int) float64 {
	return math.Abs(float64(diameter)/float64(in.Drums[i].Cup) - float64((in.FillLow+in.FillHigh)/2))
}

func (in *DrumChoice) fit(diameter unit.Length, i int) DrumFit {
	return DrumFit{Drum: i, Name: in.Drums[i].Name, Fill: float64(diameter) / float64(in.Drums[i].Cup)}
}

// PieceForDrum returns the lightest and the heaviest piece that a drum takes
// at the wanted fill:
//
//	m = rho * pi/6 * (fill * cup)^3
//
// It is the inverse of [DrumChoice], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - cup is outside 5 to 500 mm, or density outside 0.1 to 1.5 g/ml,
//   - fill_low is outside 0.1 to 2, or fill_high not between it and 2.
//
// It returns a *[reckon.NoSolutionError] if a piece would be outside the 1 g to 10 kg that [DrumChoice] takes.
//
// Source: sphere volume (derived).
type PieceForDrum struct {
	Cup        unit.Length  `json:"cup"`                 // cup diameter, 5 to 500 mm
	Density    unit.Density `json:"density"`             // density of the dough as it is rounded, 0.1 to 1.5 g/ml
	FillLow    float64      `json:"fill_low"`            // least wanted fill (piece diameter over cup diameter), 0.1 to 2
	FillHigh   float64      `json:"fill_high"`           // largest wanted fill, 0.1 to 2 and above fill_low
	Calibrated bool         `json:"calibrated,omitzero"` // true if the fill range comes from trials on this line: see [FillFromTrials]
}

func (PieceForDrum) ID() string { return "piece-for-drum" }

// SHELL
func (q PieceForDrum) Check(c *reckon.Checks) {
	_, err := explainPieceForDrum(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PieceForDrum) Solve() (PieceForDrumResult, error) { return explainPieceForDrum(q, nil) }

func (q PieceForDrum) Show(w *reckon.Working, _ PieceForDrumResult) { _, _ = explainPieceForDrum(q, w) }

// PieceForDrumResult is the range of pieces that the drum rounds.
type PieceForDrumResult struct {
	Low        unit.Mass  `json:"low"`        // lightest piece
	High       unit.Mass  `json:"high"`       // heaviest piece
	Conditions Conditions `json:"conditions"` // uncalibrated
}

func explainPieceForDrum(in PieceForDrum, w *reckon.Working) (out PieceForDrumResult, err error) {
	c := reckon.Checks{Func: "piece-for-drum"}
	reckon.CheckRange(&c, "cup", in.Cup, smallestCup, largestCup)
	reckon.CheckRange(&c, "density", in.Density, loosestDough, densestDough)
	checkFill(&c, in.FillLow, in.FillHigh)
	if err := c.Err(); err != nil {
		return PieceForDrumResult{}, err
	}
	out = PieceForDrumResult{Low: in.mass(in.FillLow), High: in.mass(in.FillHigh)}
	if !(out.Low >= lightestPiece && out.High <= heaviestPiece) {
		low := float64(sphere(lightestPiece, in.Density)) / float64(in.Cup)
		high := float64(sphere(heaviestPiece, in.Density)) / float64(in.Cup)
		return PieceForDrumResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "range of pieces", Wanted: "a fill of " + number(in.FillLow) + " to " + number(in.FillHigh),
			Low: number(max(leastFill, low)), High: number(min(largestFill, high)),
			Advice: "the pieces would weigh " + out.Low.String() + " to " + out.High.String() + ", and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; take another cup or another fill",
		}
	}
	if !in.Calibrated {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("cup diameter", "cup", float64(in.Cup), "mm", "")
		w.Given("dough density", "rho", float64(in.Density), "g/ml", "")
		w.Given("least fill", "f_low", in.FillLow, "", "")
		w.Given("largest fill", "f_high", in.FillHigh, "", "")
		w.Step("lightest piece", "m_low", "rho * pi/6 * pow(f_low*cup, 3) / 1000", float64(out.Low), "g", "sphere volume; 1 ml = 1000 mm³")
		w.Step("heaviest piece", "m_high", "rho * pi/6 * pow(f_high*cup, 3) / 1000", float64(out.High), "g", "")
	}
	return out, nil
}

func (in PieceForDrum) mass(fill float64) unit.Mass {
	d := fill * float64(in.Cup)
	return unit.Mass(float64(in.Density) * math.Pi / 6 * d * d * d / 1000)
}
