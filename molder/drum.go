package molder

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Drum is one of the rounding drums on the shelf.
type Drum struct {
	Name     string      `json:"name"`                               // what the shop calls it; not empty
	Cup      unit.Length `json:"cup" sym:"c_#" range:"5 mm..500 mm"` // cup diameter
	TakesOut []string    `json:"takes_out,omitzero" items:"0..20"`   // what comes out of the machine while it is in, such as guides or a brush, by the machine's manual; leave out for nothing
}

// mostTakenOut bounds what comes out with a drum.
const mostTakenOut = 20

// Check requires a drum that can be told from the others.
func (d Drum) Check(c *reckon.Checks) { d.check(c) }

func (d *Drum) check(c *reckon.Checks) {
	if d.Name == "" {
		c.Fail("name", `""`, "a name to tell the drum by")
	}
	reckon.CheckRange(c, "cup", d.Cup, smallestCup, largestCup)
	if n := len(d.TakesOut); n > mostTakenOut {
		c.Fail("takes_out", strconv.Itoa(n)+" parts", "at most "+strconv.Itoa(mostTakenOut)+" parts")
		return
	}
	for i, part := range d.TakesOut {
		if part == "" {
			mark := c.Mark()
			c.Fail("", `""`, "the name of a part that comes out")
			c.Item(mark, "takes_out", i)
		}
	}
}

// A DrumFit is how a piece sits in one drum.
type DrumFit struct {
	Drum     int     `json:"drum" sym:"j_#"`      // index of the drum in the list given
	Name     string  `json:"name"`                // its name
	CupRatio float64 `json:"cup_ratio" sym:"f_#"` // diameter of the rounded piece over the cup diameter
}

// What cups, and pieces over them, can be, taken wide. A ball wider than the cup
// does not go in. Trials may have tried it.
const (
	smallestCup unit.Length = 5
	largestCup  unit.Length = 500
	leastRatio              = 0.1
	fullCup                 = 1
	mostTried               = 2
)

// goesIn reports whether a ball of that cup ratio goes into the cup. One made
// for exactly the cup must not be refused for its last binary digit.
func goesIn(ratio float64) bool { return ratio <= fullCup*(1+1e-9) }

func checkRatio(c *reckon.Checks, low, high float64) {
	ok := reckon.CheckRange(c, "cup_ratio_low", low, leastRatio, fullCup)
	if reckon.CheckRange(c, "cup_ratio_high", high, leastRatio, fullCup) && ok && high <= low {
		c.Fail("cup_ratio_high", number(high), "more than cup_ratio_low ("+number(low)+"), up to 1")
	}
}

// DrumChoice asks which rounding drum has the cup that suits the piece, by the
// diameter of the piece as a ball:
//
//	V = m / rho * 1000
//	d = (6 * V / pi)^(1/3)
//	f_i = d / c_i
//	f = f_i of the drum j that is nearest to (f_low + f_high) / 2
//	f_s, f_l = f_i of the next smaller drum j_s and the next larger drum j_l
//	c_low = d / f_high,  c_high = d / f_low
//
// It takes the drum whose cup ratio f lies in the wanted range, and of several the
// one nearest to its middle. If none does, it takes the drum that misses the
// middle by the least and says so. A drum whose cup is smaller than the ball cannot take
// the piece: it is neither chosen nor named beside the one chosen. Larger pieces take larger drums.
//
// The ball is exact geometry; which ratio rounds well depends on dough and
// machine, so the range is the shop's own. What comes out of the machine with a
// drum is said by the machine's manual, and is the drum's own too.
//
// It is refused if:
//   - drums is empty, or a drum has no name,
//   - cup_ratio_high is not more than cup_ratio_low.
//
// Source: sphere volume (derived); larger pieces take larger drums (common
// practice); cases in testdata/cases/molder/drum-choice.json.
//
// The inverse is [PieceForDrum].
type DrumChoice struct {
	Piece        unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density      unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is rounded
	Drums        []Drum       `json:"drums" items:"1..100"`                         // the drums on the shelf in any order, at least one
	CupRatioLow  float64      `json:"cup_ratio_low" sym:"f_low" range:"0.1..1"`     // least wanted piece diameter over cup diameter
	CupRatioHigh float64      `json:"cup_ratio_high" sym:"f_high" range:"0.1..1"`   // largest wanted, more than cup_ratio_low
	Calibrated   bool         `json:"calibrated,omitzero"`                          // true if the range comes from trials on this line: see [CupRatioFromTrials]
}

// DrumChoiceResult is the drum to put on.
type DrumChoiceResult struct {
	Drum       int             `json:"drum" sym:"j"`             // index of the drum in the list given
	Name       string          `json:"name"`                     // its name
	Diameter   unit.Length     `json:"diameter" sym:"d"`         // diameter of the piece as a ball
	CupRatio   float64         `json:"cup_ratio" sym:"f"`        // diameter over the cup of the drum chosen
	CupLow     unit.Length     `json:"cup_low" sym:"c_low"`      // smallest cup that suits the piece
	CupHigh    unit.Length     `json:"cup_high" sym:"c_high"`    // largest
	TakesOut   []string        `json:"takes_out,omitzero"`       // what comes out of the machine for the drum chosen; left out for nothing
	Smaller    DrumFit         `json:"smaller,omitzero" sym:"s"` // the next smaller drum that takes the piece; left out if there is none
	Larger     DrumFit         `json:"larger,omitzero" sym:"l"`  // the next larger drum; left out if there is none
	Conditions Conditions      `json:"conditions"`               // drum-too-small, drum-too-large, between-drums, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`                 // moving-machinery, locked-out, cleaning, lifting
}

func (DrumChoice) ID() string { return "drum-choice" }

func (q DrumChoice) Check(c *reckon.Checks) { q.check(c) }

func (q *DrumChoice) check(c *reckon.Checks) {
	checkPiece(c, q.Piece, q.Density)
	reckon.CheckItems(c, "drums", len(q.Drums), mostParts)
	if len(q.Drums) == 0 {
		c.Fail("drums", "empty", "at least one drum")
	}
	for i := range q.Drums {
		mark := c.Mark()
		q.Drums[i].check(c)
		c.Item(mark, "drums", i)
	}
	checkRatio(c, q.CupRatioLow, q.CupRatioHigh)
}

// Solve has no answer if the piece as a ball is wider than every cup.
func (q DrumChoice) Solve() (out DrumChoiceResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *DrumChoice) SolveInto(out *DrumChoiceResult) error {
	*out = DrumChoiceResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	diameter := sphere(q.Piece, q.Density)
	best, least := -1, math.Inf(1)
	// A drum suits badly by how far its cup ratio is from the middle of the wanted range.
	middle := float64((q.CupRatioLow + q.CupRatioHigh) / 2)
	for i := range q.Drums {
		ratio := float64(diameter) / float64(q.Drums[i].Cup)
		if miss := math.Abs(ratio - middle); miss < least && goesIn(ratio) {
			best, least = i, miss
		}
	}
	if best < 0 {
		return q.noDrum(diameter)
	}
	cup := q.Drums[best].Cup
	out.Drum, out.Name, out.Diameter, out.CupRatio = best, q.Drums[best].Name, diameter, float64(diameter)/float64(cup)
	out.CupLow, out.CupHigh = unit.Length(float64(diameter)/q.CupRatioHigh), unit.Length(float64(diameter)/q.CupRatioLow)
	out.TakesOut = q.Drums[best].TakesOut
	out.Cautions = reckon.MovingMachinery | reckon.LockedOut | reckon.Cleaning | reckon.Lifting
	smaller, larger := -1, -1
	for i := range q.Drums {
		switch d := q.Drums[i].Cup; {
		case d < cup && q.takes(diameter, i) && (smaller < 0 || d > q.Drums[smaller].Cup):
			smaller = i
		case d > cup && (larger < 0 || d < q.Drums[larger].Cup):
			larger = i
		}
	}
	if smaller >= 0 {
		out.Smaller = q.fit(diameter, smaller)
	}
	if larger >= 0 {
		out.Larger = q.fit(diameter, larger)
	}
	switch {
	case out.CupRatio > q.CupRatioHigh && larger >= 0, out.CupRatio < q.CupRatioLow && smaller >= 0:
		out.Conditions |= BetweenDrums
	case out.CupRatio > q.CupRatioHigh:
		out.Conditions |= DrumTooSmall
	case out.CupRatio < q.CupRatioLow:
		out.Conditions |= DrumTooLarge
	}
	if !q.Calibrated {
		out.Conditions |= reckon.Uncalibrated
	}
	return nil
}

// takes reports whether the ball goes into the cups of a drum.
func (q *DrumChoice) takes(diameter unit.Length, i int) bool {
	return goesIn(float64(diameter) / float64(q.Drums[i].Cup))
}

// noDrum says which pieces the drums take, and which cup would take this one.
func (q *DrumChoice) noDrum(diameter unit.Length) error {
	largest := 0
	for i := range q.Drums {
		if q.Drums[i].Cup > q.Drums[largest].Cup {
			largest = i
		}
	}
	cup := q.Drums[largest].Cup
	low, high := unit.Length(float64(diameter)/q.CupRatioHigh), unit.Length(float64(diameter)/q.CupRatioLow)
	instead := "cups of " + low.String() + " to " + high.String() + " would suit it"
	if low > largestCup {
		instead = "no drum has cups that large: scale the piece lighter"
	}
	heaviest := PieceForDrum{Cup: cup, Density: q.Density}
	return &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "drum", Wanted: "room for a piece of " + q.Piece.String(), High: heaviest.mass(fullCup).String(),
		Advice: "as a ball it is " + diameter.String() + " across and does not go into the largest cup, " + cup.String() + " (" + q.Drums[largest].Name + "); " + instead,
	}
}

func (q *DrumChoice) fit(diameter unit.Length, i int) DrumFit {
	return DrumFit{Drum: i, Name: q.Drums[i].Name, CupRatio: float64(diameter) / float64(q.Drums[i].Cup)}
}

func (q DrumChoice) Show(w *reckon.Working, out DrumChoiceResult) {
	w.Inputs(q)
	w.Lines(out,
		volumeLine,
		"piece diameter as a ball: d = pow(6*V/pi, 1/3)  [sphere volume]",
		"middle of the wanted ratios: f_m = (f_low + f_high)/2")
	for i := range q.Drums {
		if !q.takes(out.Diameter, i) {
			w.Item(i+1, nil, "cup ratio of drum #: f_# = d/c_#  [more than 1: the piece does not go in]")
			continue
		}
		w.Item(i+1, nil,
			"cup ratio of drum #: f_# = d/c_#",
			"its distance from the middle: x_# = abs(f_# - f_m)")
	}
	w.Lines(out,
		"drum chosen, counted from 0: j = "+strconv.Itoa(out.Drum)+"  [the least distance]",
		"its cup ratio: f = f_"+strconv.Itoa(out.Drum+1),
		"smallest cup that suits: c_low = d/f_high",
		"largest cup that suits: c_high = d/f_low")
	if out.Smaller.Name != "" {
		w.Lines(out,
			"next smaller drum: j_s = "+strconv.Itoa(out.Smaller.Drum),
			"its cup ratio: f_s = f_"+strconv.Itoa(out.Smaller.Drum+1))
	}
	if out.Larger.Name != "" {
		w.Lines(out,
			"next larger drum: j_l = "+strconv.Itoa(out.Larger.Drum),
			"its cup ratio: f_l = f_"+strconv.Itoa(out.Larger.Drum+1))
	}
}

// PieceForDrum asks what piece weights a drum rounds, from the lightest to the
// heaviest at the wanted cup ratios:
//
//	m_low = rho * pi/6 * (f_low * c)^3 / 1000
//	m_high = rho * pi/6 * (f_high * c)^3 / 1000
//
// It is the inverse of [DrumChoice], with the same validity.
//
// It is refused if cup_ratio_high is not more than cup_ratio_low.
//
// Source: sphere volume (derived).
//
// The inverse is [DrumChoice].
type PieceForDrum struct {
	Cup          unit.Length  `json:"cup" sym:"c" range:"5 mm..500 mm"`             // cup diameter
	Density      unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is rounded
	CupRatioLow  float64      `json:"cup_ratio_low" sym:"f_low" range:"0.1..1"`     // least wanted piece diameter over cup diameter
	CupRatioHigh float64      `json:"cup_ratio_high" sym:"f_high" range:"0.1..1"`   // largest wanted, more than cup_ratio_low
	Calibrated   bool         `json:"calibrated,omitzero"`                          // true if the range comes from trials on this line: see [CupRatioFromTrials]
}

// PieceForDrumResult is the range of pieces that the drum rounds.
type PieceForDrumResult struct {
	Low        unit.Mass  `json:"low" sym:"m_low"`   // lightest piece
	High       unit.Mass  `json:"high" sym:"m_high"` // heaviest piece
	Conditions Conditions `json:"conditions"`        // uncalibrated
}

func (PieceForDrum) ID() string { return "piece-for-drum" }

func (q PieceForDrum) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "cup", q.Cup, smallestCup, largestCup)
	reckon.CheckRange(c, "density", q.Density, loosestDough, densestDough)
	checkRatio(c, q.CupRatioLow, q.CupRatioHigh)
}

// Solve has no answer if a piece would be outside the 1 g to 10 kg that [DrumChoice] takes.
func (q PieceForDrum) Solve() (out PieceForDrumResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	low, high := q.mass(q.CupRatioLow), q.mass(q.CupRatioHigh)
	if !(low >= lightestPiece && high <= heaviestPiece) {
		return out, q.noPiece(low, high)
	}
	out.Low, out.High = low, high
	if !q.Calibrated {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q *PieceForDrum) mass(ratio float64) unit.Mass {
	d := ratio * float64(q.Cup)
	return unit.Mass(float64(q.Density) * math.Pi / 6 * d * d * d / 1000)
}

// noPiece says which ratios to this cup are pieces that can be.
func (q *PieceForDrum) noPiece(low, high unit.Mass) error {
	least := float64(sphere(lightestPiece, q.Density)) / float64(q.Cup)
	most := float64(sphere(heaviestPiece, q.Density)) / float64(q.Cup)
	return &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "range of pieces", Wanted: "a cup ratio of " + number(q.CupRatioLow) + " to " + number(q.CupRatioHigh),
		Low: number(max(leastRatio, least)), High: number(min(fullCup, most)),
		Advice: "the pieces would weigh " + low.String() + " to " + high.String() + ", and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; take another cup or other ratios",
	}
}

func (q PieceForDrum) Show(w *reckon.Working, out PieceForDrumResult) {
	w.Inputs(q)
	w.Lines(out,
		"lightest piece: m_low = rho*pi/6*pow(f_low*c, 3)/1000{mm³/ml}  [sphere volume]",
		"heaviest piece: m_high = rho*pi/6*pow(f_high*c, 3)/1000{mm³/ml}")
}

// A CupTrial is one piece rounded in one drum and looked at.
type CupTrial struct {
	Piece   unit.Mass   `json:"piece" sym:"m_#" range:"1 g..10 kg"` // piece weight
	Cup     unit.Length `json:"cup" sym:"c_#" range:"5 mm..500 mm"` // cup diameter of the drum
	Verdict Verdict     `json:"verdict"`                            // "too-little" if it was loose, "good", or "too-much" if it overfilled the cup
}

// CupRatioFromTrials asks how full the cup should be with a dough, as the range
// of ratios (diameter of the piece as a ball over cup diameter) that was good in
// trials:
//
//	f_i = (6 * m_i / rho * 1000 / pi)^(1/3) / c_i
//	f_low = min(f_i),  f_high = max(f_i)  of the n trials that were good
//
// The range is what was seen to work, no more; failed trials on both sides of
// it confirm its ends.
//
// It is refused if:
//   - a piece is less than 0.1 or more than 2 times as wide as its cup,
//   - a piece that is wider than its cup is called good,
//   - fewer than two trials of different ratios were good.
//
// Source: sphere volume (derived); trials by eye (common practice); cases in testdata/cases/molder/cup-ratio-from-trials.json.
//
// It calibrates [DrumChoice].
type CupRatioFromTrials struct {
	Density unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as it is rounded
	Trials  []CupTrial   `json:"trials" items:"..10000"`                       // in any order; at least two good ones of different ratios
}

// CupRatioFromTrialsResult is how full the cup is when this dough rounds.
type CupRatioFromTrialsResult struct {
	CupRatioLow  float64         `json:"cup_ratio_low" sym:"f_low"`   // least ratio that was good
	CupRatioHigh float64         `json:"cup_ratio_high" sym:"f_high"` // largest ratio that was good
	Good         int             `json:"good" sym:"n"`                // trials that were good
	Cautions     reckon.Cautions `json:"cautions"`                    // moving-belt
}

func (CupRatioFromTrials) ID() string { return "cup-ratio-from-trials" }

func (q CupRatioFromTrials) Check(c *reckon.Checks) { q.check(c) }

// check returns what the trials come to.
func (q CupRatioFromTrials) check(c *reckon.Checks) trialWindow {
	start := c.Mark()
	reckon.CheckItems(c, "trials", len(q.Trials), mostTrials)
	dense := reckon.CheckRange(c, "density", q.Density, loosestDough, densestDough)
	return windowOf(c, start, q.Trials, func(t *CupTrial) (float64, Verdict) {
		return t.check(c, q.Density, dense), t.Verdict
	})
}

// check returns the cup ratio, which is checked if the density is one that can be.
func (t *CupTrial) check(c *reckon.Checks, density unit.Density, dense bool) float64 {
	ok := reckon.CheckRange(c, "piece", t.Piece, lightestPiece, heaviestPiece) && dense
	ok = reckon.CheckRange(c, "cup", t.Cup, smallestCup, largestCup) && ok
	t.Verdict.Check(c)
	ratio := float64(sphere(t.Piece, density)) / float64(t.Cup)
	switch {
	case !ok:
	case !(ratio >= leastRatio && ratio <= mostTried):
		c.Fail("cup", t.Cup.String(), "a cup for a piece "+number(leastRatio)+" to "+number(mostTried)+" times as wide, not "+number(ratio)+": measure the cup and weigh the piece again")
	case t.Verdict == Good && ratio > fullCup:
		c.Fail("verdict", strconv.Quote(string(t.Verdict)), "too-much: as a ball the piece is "+number(ratio)+" times as wide as the cup and does not go in; if it rounded well, measure the cup and weigh the piece again")
	}
	return ratio
}

// Solve has no answer if a bad trial lies among the good ones.
func (q CupRatioFromTrials) Solve() (out CupRatioFromTrialsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	window := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if err = window.none(c.Func, "range of cup ratios"); err != nil {
		return out, err
	}
	return CupRatioFromTrialsResult{CupRatioLow: window.low, CupRatioHigh: window.high, Good: window.good, Cautions: reckon.MovingBelt}, nil
}

func (q CupRatioFromTrials) Show(w *reckon.Working, out CupRatioFromTrialsResult) {
	w.Inputs(q)
	for i := range q.Trials {
		w.Item(i+1, nil, "cup ratio of trial #: f_# = pow(6*m_#/rho*1000{mm³/ml}/pi, 1/3)/c_#  [piece diameter as a ball over cup diameter]")
	}
	good := goodOnes("f_", len(q.Trials), func(i int) Verdict { return q.Trials[i].Verdict })
	w.Lines(out,
		"trials that were good: n = count("+good+")",
		"least good ratio: f_low = min("+good+")  [trials]",
		"largest good ratio: f_high = max("+good+")  [trials]")
}
