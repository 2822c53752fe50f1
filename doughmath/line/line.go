package line

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// Line describes a make-up line as it stands. The figures come from the
// machines' plates and manuals and from trials on the line itself.
type Line struct {
	Name       string                  `json:"name"`                  // what the bakery calls it
	Divider    Divider                 `json:"divider"`               // the volumetric divider
	Proofer    proof.Proofer           `json:"proofer"`               // the overhead proofer that runs with it
	Drums      []molder.Drum           `json:"drums"`                 // rounding drums on the shelf
	Fill       DrumFill                `json:"drum_fill"`             // how full a cup may be
	Stamper    Stamper                 `json:"stamper,omitzero"`      // leave out if there is none
	Moulder    Moulder                 `json:"moulder,omitzero"`      // leave out if there is none
	Belts      []Belt                  `json:"belts"`                 // belts behind the proofer, in the order of travel
	Oil        []unit.VolumeRate       `json:"oil_valves,omitzero"`   // what each oil valve lets through while open; leave out if it is not counted
	Duster     divider.StickinessScale `json:"flour_duster,omitzero"` // dusting flour by stickiness, from the shop's trials; leave out if it is not counted
	Rounder    Rounder                 `json:"rounder,omitzero"`      // the rounding drum as it turns; leave out if it is not known
	FinalProof FinalProof              `json:"final_proof,omitzero"`  // where the pieces proof after make-up; leave out if it is not planned
	Parts      []molder.PartCare       `json:"parts,omitzero"`        // parts that are taken out and washed; leave out if their care is not to be printed
}

// Divider is the divider of a line.
type Divider struct {
	StrokesLow  unit.StrokeRate  `json:"strokes_low"`          // slowest speed, 0.01 to 1000 strokes/min
	StrokesHigh unit.StrokeRate  `json:"strokes_high"`         // fastest speed, strokes_low to 1000 strokes/min
	StrokeStep  unit.StrokeRate  `json:"stroke_step,omitzero"` // finest step of the speed setting, up to 1000 strokes/min; leave out if stepless
	MarkLow     float64          `json:"mark_low"`             // lowest mark on the scale of the handle, -1e6 to 1e6
	MarkHigh    float64          `json:"mark_high"`            // highest mark, mark_low to 1e6
	MarkStep    float64          `json:"mark_step,omitzero"`   // smallest part of a mark that the handle can be set to, 1e-6 to 1e6; leave out if it is read between the marks
	Hopper      unit.Mass        `json:"hopper"`               // most dough that the hopper takes, 1 g to 10 t
	Confidence  unit.Percent     `json:"confidence"`           // for the interval of the mark; 50 to 99.9 %
	Interval    divider.Interval `json:"interval"`             // "fieller" or "delta"
	Lanes       []Lanes          `json:"lanes"`                // one for each number of pieces across that is in use
}

// Lanes is one way to run the divider, with the trial pieces weighed in it.
type Lanes struct {
	Across    int               `json:"across"`    // pieces across
	Trials    []divider.Trial   `json:"trials"`    // weight against mark
	Shape     divider.Shape     `json:"shape"`     // "straight" or "quadratic"
	Weighting divider.Weighting `json:"weighting"` // how the trials count
}

// DrumFill is how full the cup of a rounding drum may be.
type DrumFill struct {
	Low        float64 `json:"low"`                 // least diameter of the piece over that of the cup, 0.1 to 2
	High       float64 `json:"high"`                // largest, above low up to 2
	Calibrated bool    `json:"calibrated,omitzero"` // true if the range comes from trials on this line
}

// Stamper is the stamper behind the proofer. It stamps each row that leaves it.
type Stamper struct {
	StampsLow  unit.StrokeRate `json:"stamps_low"`       // slowest, 0 to 1000 rows a minute
	StampsHigh unit.StrokeRate `json:"stamps_high"`      // fastest, stamps_low to 1000 rows a minute
	Die        molder.Die      `json:"die,omitzero"`     // "fixed" or "rotating"; leave out if the stamping itself is not planned
	Around     int             `json:"around,omitzero"`  // dies around a rotating head; leave out for a fixed die
	Contact    unit.Percent    `json:"contact,omitzero"` // part of a cycle for which the die is on the dough, with die
}

// Moulder is the sheeting and curling moulder.
type Moulder struct {
	RateHigh unit.PieceRate `json:"rate_high"`               // most pieces that it takes, 0.01 to 10000 pieces/min
	GapLow   unit.Length    `json:"gap_low"`                 // narrowest gap of the last pair of rollers, 0.05 to 200 mm
	GapHigh  unit.Length    `json:"gap_high"`                // widest gap, gap_low to 200 mm
	GapStep  unit.Length    `json:"gap_step,omitzero"`       // finest step of the gap, up to 200 mm; leave out if it is stepless
	Recovery float64        `json:"recovery"`                // sheet thickness over gap, 1 to 5
	Measured bool           `json:"measured,omitzero"`       // true if the recovery was measured on this line
	First    *FirstPair     `json:"first_pair,omitzero"`     // the first of two pairs of rollers; leave out if there is one pair
	Chain    *Chain         `json:"curling_chain,omitzero"`  // heights of the curling chain; leave out if there is none
	Board    *Board         `json:"pressure_board,omitzero"` // the pressure board; leave out if there is none
	Guides   *Guides        `json:"side_guides,omitzero"`    // the side guides of the board; needed with a board
}

// Belt is one belt behind the proofer.
type Belt struct {
	Name     string      `json:"name"`               // what the shop calls it
	Speed    unit.Speed  `json:"speed"`              // belt speed, 0.1 mm/s to 10 m/s
	Route    Route       `json:"route,omitzero"`     // "stamper" or "moulder" if only such pieces run over it; leave out for both
	Lanes    int         `json:"lanes"`              // most pieces that lie side by side; 1 if they run in file, up to 100
	LeastGap unit.Length `json:"least_gap,omitzero"` // smallest gap wanted between pieces, up to 5000 mm; leave out if they must only not touch
}

// Route says where a piece goes from the overhead proofer.
type Route string

const (
	// ToStamper is the way of the round roll: past the moulder, under the stamper.
	ToStamper Route = "stamper"
	// ToMoulder is the way of rolls and loaves that are sheeted and curled.
	ToMoulder Route = "moulder"
)

// Commissioned is a line that was checked and whose trial pieces were fitted,
// once, so that planning on it is quick. It may be shared by goroutines.
type Commissioned struct {
	line Line
	fits []divider.MarkFitResult // by index of Divider.Lanes
	has  parts
}

// parts says which of the parts that a line may lack are there.
type parts struct{ stamper, moulder, rounder, duster bool }

// Line returns the description that was commissioned.
func (cl *Commissioned) Line() *Line { return &cl.line }

// Commission checks a line and fits the weight against the mark for each way
// to run its divider.
//
// It returns an *[reckon.InputError] for every value that is missing,
// impossible or at odds with another, and for trials that cannot be fitted.
func Commission(l Line) (Commissioned, error) { return commission(l, nil) }

func commission(l Line, w *reckon.Working) (Commissioned, error) {
	c := reckon.Checks{Func: "line-plan"}
	l.check(&c)
	l.probe(&c)
	out := Commissioned{line: l, fits: make([]divider.MarkFitResult, len(l.Divider.Lanes)), has: parts{
		stamper: l.Stamper != (Stamper{}), moulder: l.Moulder != (Moulder{}),
		rounder: l.Rounder != (Rounder{}), duster: l.Duster != (divider.StickinessScale{}),
	}}
	for i, lanes := range l.Divider.Lanes {
		w.Heading("Mark and weight, " + strconv.Itoa(lanes.Across) + " across")
		askMarkFit := divider.MarkFit{
			Trials: lanes.Trials, Confidence: l.Divider.Confidence,
			Shape: lanes.Shape, Weighting: lanes.Weighting, Across: lanes.Across,
		}
		fit, err := askMarkFit.Solve()
		if w != nil && err == nil {
			askMarkFit.Show(w, fit)
		}
		for _, e := range reckon.InputErrors(err) {
			if e.Field != "confidence" { // told above, once for all lanes
				c.Fail(fmt.Sprintf("line.divider.lanes[%d].%s", i, e.Field), e.Value, e.Want)
			}
		}
		out.fits[i] = fit
	}
	if err := c.Err(); err != nil {
		return Commissioned{}, err
	}
	return out, nil
}

func (l *Line) check(c *reckon.Checks) {
	d := &l.Divider
	if reckon.CheckRange(c, "line.divider.strokes_low", d.StrokesLow, 0.01, 1000) && !(d.StrokesHigh >= d.StrokesLow) {
		c.Fail("line.divider.strokes_high", d.StrokesHigh.String(), "at least strokes_low, "+d.StrokesLow.String())
	}
	reckon.CheckRange(c, "line.divider.strokes_high", d.StrokesHigh, 0.01, 1000)
	reckon.CheckRange(c, "line.divider.stroke_step", d.StrokeStep, 0, 1000)
	if reckon.CheckRange(c, "line.divider.mark_low", d.MarkLow, -1e6, 1e6) && !(d.MarkHigh > d.MarkLow) {
		c.Fail("line.divider.mark_high", fmt.Sprint(d.MarkHigh), fmt.Sprintf("more than mark_low, %v", d.MarkLow))
	}
	reckon.CheckRange(c, "line.divider.mark_high", d.MarkHigh, -1e6, 1e6)
	if d.MarkStep != 0 {
		reckon.CheckRange(c, "line.divider.mark_step", d.MarkStep, 1e-6, 1e6)
	}
	reckon.CheckRange(c, "line.divider.hopper", d.Hopper, 1, 10_000_000)
	reckon.CheckRange(c, "line.divider.confidence", d.Confidence, 50, 99.9)
	reckon.CheckEither(c, "line.divider.interval", d.Interval, divider.Fieller, divider.Delta)
	if len(d.Lanes) == 0 {
		c.Fail("line.divider.lanes", "empty", "at least one number of pieces across with its trial pieces")
	}
	for i, lanes := range d.Lanes {
		field := fmt.Sprintf("line.divider.lanes[%d].across", i)
		if lanes.Across < 1 || l.Proofer.Pockets > 0 && l.Proofer.Pockets%lanes.Across != 0 {
			c.Fail(field, strconv.Itoa(lanes.Across), fmt.Sprintf("a number that divides the proofer's %d pockets evenly", l.Proofer.Pockets))
		}
		for j := range i {
			if d.Lanes[j].Across == lanes.Across {
				c.Fail(field, strconv.Itoa(lanes.Across), "each number across once; put all its trials into one list")
			}
		}
	}
	if l.Moulder != (Moulder{}) {
		reckon.CheckRange(c, "line.moulder.rate_high", l.Moulder.RateHigh, 0.01, 10_000)
		if reckon.CheckRange(c, "line.moulder.gap_low", l.Moulder.GapLow, 0.05, 200) && !(l.Moulder.GapHigh >= l.Moulder.GapLow) {
			c.Fail("line.moulder.gap_high", l.Moulder.GapHigh.String(), "at least gap_low, "+l.Moulder.GapLow.String())
		}
		reckon.CheckRange(c, "line.moulder.gap_high", l.Moulder.GapHigh, 0.05, 200)
		reckon.CheckRange(c, "line.moulder.gap_step", l.Moulder.GapStep, 0, 200)
	}
	if l.Stamper != (Stamper{}) {
		if reckon.CheckRange(c, "line.stamper.stamps_low", l.Stamper.StampsLow, 0, 1000) && !(l.Stamper.StampsHigh > l.Stamper.StampsLow) {
			c.Fail("line.stamper.stamps_high", l.Stamper.StampsHigh.String(), "more than stamps_low, "+l.Stamper.StampsLow.String())
		}
		reckon.CheckRange(c, "line.stamper.stamps_high", l.Stamper.StampsHigh, 0.01, 1000)
	}
	for i, b := range l.Belts {
		field := func(name string) string { return fmt.Sprintf("line.belts[%d].%s", i, name) }
		reckon.CheckRange(c, field("speed"), b.Speed, 0.1, 10_000)
		reckon.CheckCount(c, field("lanes"), b.Lanes, 1, 100)
		reckon.CheckRange(c, field("least_gap"), b.LeastGap, 0, 5000)
		if b.Name == "" {
			c.Fail(field("name"), `""`, "a name, so that a limit can be told")
		}
		if b.Route != "" {
			reckon.CheckEither(c, field("route"), b.Route, ToStamper, ToMoulder)
		}
	}
}

// lanes returns the index of the way to run the divider n across, or -1.
func (l *Line) lanes(n int) int {
	for i := range l.Divider.Lanes {
		if l.Divider.Lanes[i].Across == n {
			return i
		}
	}
	return -1
}

// laneList lists the numbers across for which there are trial pieces.
func (l *Line) laneList() string {
	list := make([]string, len(l.Divider.Lanes))
	for i := range l.Divider.Lanes {
		list[i] = strconv.Itoa(l.Divider.Lanes[i].Across)
	}
	return strings.Join(list, ", ")
}
