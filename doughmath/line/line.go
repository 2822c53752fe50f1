package line

import (
	"fmt"
	"slices"
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
	Name       string            `json:"name"`                                                          // what the bakery calls it
	Divider    Divider           `json:"divider"`                                                       // the volumetric divider
	Proofer    proof.Proofer     `json:"proofer"`                                                       // the overhead proofer that runs with it
	Pocket     proof.Pocket      `json:"pocket,omitzero"`                                               // pocket of its trays; leave out if it is not to be checked
	Drums      []molder.Drum     `json:"drums" items:"1..100"`                                          // rounding drums on the shelf
	CupRatio   CupRatio          `json:"cup_ratio"`                                                     // diameter of the piece over that of the cup, as far as it rounds well
	Stamper    Stamper           `json:"stamper,omitzero"`                                              // leave out if there is none
	Moulder    Moulder           `json:"moulder,omitzero"`                                              // leave out if there is none
	Belts      []Belt            `json:"belts" items:"..100"`                                           // belts behind the proofer, in the order of travel
	Oil        []unit.VolumeRate `json:"oil_valves,omitzero" range:">0 ml/min..10 l/min" items:"..100"` // flow of each oil valve while open; leave out if oil is not counted
	Dusters    []Duster          `json:"flour_dusters,omitzero" items:"1..10"`                          // dusters of flour, in the order of travel; leave out if flour is not counted
	Rounder    Rounder           `json:"rounder,omitzero"`                                              // how it rounds; leave out if it is not known
	FinalProof FinalProof        `json:"final_proof,omitzero"`                                          // where the pieces proof after make-up; leave out if it is not planned
	Oven       Oven              `json:"oven,omitzero"`                                                 // what bakes the pieces; leave out if that is not planned
	Parts      []molder.PartCare `json:"parts,omitzero" items:"..100"`                                  // parts that are taken out and washed; leave out if their care is not printed
	Controls   []Control         `json:"controls,omitzero" items:"..100"`                               // every control and fitting, in walking order; leave out if only the plan is wanted
	Changing   Changing          `json:"changing,omitzero"`                                             // how the line is changed over, in the shop's own times; leave out if that is not planned
}

// Divider is the divider of a line.
type Divider struct {
	StrokesLow     unit.StrokeRate  `json:"strokes_low" range:"0.01 strokes/min..1000 strokes/min"`           // slowest speed
	StrokesHigh    unit.StrokeRate  `json:"strokes_high" range:"0.01 strokes/min..1000 strokes/min"`          // fastest speed, at least strokes_low
	StrokeStep     unit.StrokeRate  `json:"stroke_step,omitzero" range:"0.001 strokes/min..1000 strokes/min"` // finest step of the speed setting; leave out if stepless
	MarkLow        float64          `json:"mark_low" range:"-1e6..1e6"`                                       // lowest mark on the scale of the handle
	MarkHigh       float64          `json:"mark_high" range:"-"`                                              // highest mark, above mark_low, up to 1e6
	MarkStep       float64          `json:"mark_step,omitzero" range:"1e-6..1e6"`                             // finest step of the handle, in marks; leave out if it can be set anywhere between them
	HopperCapacity unit.Mass        `json:"hopper_capacity" range:"1 g..10 t"`                                // most dough that the hopper holds
	HopperLeast    unit.Mass        `json:"hopper_least,omitzero" range:"-"`                                  // least dough in the hopper, its head, with which the divider still scales full weight; less than hopper_capacity; leave out if it does so until it is empty
	Confidence     unit.Percent     `json:"confidence" range:"50 %..99.9 %"`                                  // of the interval of the mark
	Interval       divider.Interval `json:"interval"`                                                         // "fieller" or "delta"
	Lanes          []Lanes          `json:"lanes" items:"1..100"`                                             // one for each dough and number of pieces across that is in use
}

// Lanes is one way to run the divider, with the trial pieces weighed in it. A mark
// measures a volume: a dough of another density, softness or gas weighs otherwise at the same
// mark, so that trial pieces are those of one dough, or of a family of doughs that was
// seen to weigh alike.
type Lanes struct {
	Dough     string            `json:"dough,omitzero"`         // dough or family of doughs that was weighed; leave out if the line makes one alone
	Across    int               `json:"across" range:"-"`       // pieces across; must divide the pockets of the proofer evenly, each number once for a dough
	Trials    []divider.Trial   `json:"trials" items:"..10000"` // weight against mark
	Shape     divider.Shape     `json:"shape"`                  // "straight" or "quadratic"
	Weighting divider.Weighting `json:"weighting"`              // how the trials count
}

// CupRatio is how large a piece a cup of a rounding drum rounds well.
type CupRatio struct {
	Low        float64 `json:"low" range:"0.1..1"`  // smallest diameter of the piece over that of the cup
	High       float64 `json:"high" range:"0.1..1"` // largest, above low
	Calibrated bool    `json:"calibrated,omitzero"` // true if the range comes from trials on this line
}

// Rounder is how the line rounds, whichever drum is in. Its speed is set for
// each product: see [Rounding].
type Rounder struct {
	Way       RoundingWay       `json:"way"`                                          // "track" or "cup"
	SpeedLow  unit.RotationRate `json:"speed_low" range:"0.1 rev/min..1000 rev/min"`  // slowest that its drive runs
	SpeedHigh unit.RotationRate `json:"speed_high" range:"0.1 rev/min..1000 rev/min"` // fastest, at least speed_low
	Diameter  unit.Length       `json:"diameter,omitzero" range:"-"`                  // on a track: of the drum where it drives the piece, 10 mm to 10 m; leave out for a cup
	Path      unit.Length       `json:"path,omitzero" range:"-"`                      // on a track: length that the piece travels along it, 10 mm to 100 m; leave out for a cup
	Travel    molder.Travel     `json:"travel,omitzero"`                              // on a track: "carried" or "rolling"; leave out for a cup
	Rows      int               `json:"rows,omitzero" range:"-"`                      // in a cup: rows from where they are loaded to where they are discharged, 1 to 100; leave out for a track
}

// Duster is one duster of flour: each has trials and a slide of its own, since a belt, a piece
// and a pocket take different amounts for the same dough.
type Duster struct {
	Name      string                  `json:"name"`                          // what the bakery calls it
	Onto      Onto                    `json:"onto"`                          // "belt", "piece" or "pockets"
	Scale     divider.StickinessScale `json:"scale"`                         // flour by stickiness, from the bakery's own trials with this duster; it names their trial_piece
	Slide     []divider.SlidePoint    `json:"slide,omitzero" items:"2..50"`  // flour caught at positions of its slide; leave out if it is not set by the plan
	SlideStep float64                 `json:"slide_step,omitzero" range:"-"` // finest step of the slide, 1e-6 to 1e6, with slide; leave out if it moves freely
}

// Onto names what a duster drops its flour on.
type Onto string

const (
	// OntoBelt is a belt on which pieces are to slide.
	OntoBelt Onto = "belt"
	// OntoPiece is the piece itself, before the rollers or the rounder.
	OntoPiece Onto = "piece"
	// OntoPockets are the pockets of the overhead proofer.
	OntoPockets Onto = "pockets"
)

// mostDusters bounds the dusters of a line.
const mostDusters = 10

func (d *Duster) check(r *run, i int) {
	path := "line.flour_dusters[" + strconv.Itoa(i) + "]."
	if d.Name == "" {
		r.c.Fail(path+"name", `""`, "a name, to say which duster is meant")
	}
	reckon.CheckWord(r.c, path+"onto", d.Onto, OntoBelt, OntoPiece, OntoPockets)
	r.tell(func() places { return places{{"scale", path + "scale"}} }, divider.FlourUse{Scale: d.Scale, Stickiness: d.Scale.StickinessLow, Piece: d.Scale.TrialPiece}.Check)
	if !(d.Scale.TrialPiece > 0) && !r.c.Told(path+"scale.trial_piece") {
		r.c.Fail(path+"scale.trial_piece", d.Scale.TrialPiece.String(), "the weight of the trial pieces: flour goes with the surface, and the products of a line differ")
	}
	switch {
	case len(d.Slide) > 0:
		r.tell(func() places { return places{{"points", path + "slide"}, {"slide_step", path + "slide_step"}} }, divider.SlideForFlow{Points: d.Slide, SlideStep: d.SlideStep}.Check)
	case d.SlideStep != 0:
		r.c.Fail(path+"slide_step", strconv.FormatFloat(d.SlideStep, 'g', 6, 64), "nothing, unless slide is given")
	}
}

// RoundingWay is how a rounder works the piece.
type RoundingWay string

const (
	// OnTrack is a piece that runs along a track or wall, driven by a drum: a slower drum rounds more.
	OnTrack RoundingWay = "track"
	// InCup is a piece in a cup whose moving core or wall works it against a belt, at a speed of its own: a faster rounder rounds more.
	InCup RoundingWay = "cup"
)

// Stamper is the stamper behind the proofer. It stamps each row that leaves it.
type Stamper struct {
	StampsLow  unit.StrokeRate  `json:"stamps_low" range:"0 strokes/min..1000 strokes/min"`     // slowest, in rows a minute
	StampsHigh unit.StrokeRate  `json:"stamps_high" range:"0.01 strokes/min..1000 strokes/min"` // fastest, above stamps_low
	Mode       molder.StampMode `json:"mode"`                                                   // "off", "continuous" or "timed" by the proofer, as the line is set
	Die        molder.Die       `json:"die,omitzero"`                                           // "still" or "turning"; leave out if the stamping itself is not planned
	Spin       molder.Spin      `json:"spin,omitzero"`                                          // "on" or "off", as the stamper is set; needed with die
	Around     int              `json:"around,omitzero" range:"-"`                              // dies around a turning head, 1 to 50; leave out for a die that goes up and down
	Contact    unit.Percent     `json:"contact,omitzero" range:"-"`                             // part of a cycle for which the die is on the dough; needed with die
}

// Moulder is the sheeting and curling moulder.
type Moulder struct {
	RateHigh unit.PieceRate `json:"rate_high" range:"0.01 pieces/min..10000 pieces/min"` // most pieces that it can take
	GapLow   unit.Length    `json:"gap_low" range:"0.05 mm..200 mm"`                     // narrowest gap of the last pair of rollers
	GapHigh  unit.Length    `json:"gap_high" range:"0.05 mm..200 mm"`                    // widest gap, at least gap_low
	GapStep  unit.Length    `json:"gap_step,omitzero" range:"0.001 mm..200 mm"`          // finest step of the gap; leave out if it is stepless
	Recovery float64        `json:"recovery" range:"1..5"`                               // sheet thickness over gap
	Measured bool           `json:"measured,omitzero"`                                   // true if the recovery was measured on this line
	First    *FirstPair     `json:"first_pair,omitzero"`                                 // the first of two pairs of rollers; leave out if there is one pair
	Chain    *Chain         `json:"curling_chain,omitzero"`                              // heights of the curling chain; leave out if there is none
	Board    *Board         `json:"pressure_board,omitzero"`                             // the pressure board; leave out if there is none
	Guides   *Guides        `json:"side_guides,omitzero"`                                // the side guides of the board; needed with a board
}

// FirstPair is the first pair of rollers of a moulder that has two.
type FirstPair struct {
	Recovery       float64               `json:"recovery" range:"1..5"`                           // sheet thickness over gap behind it
	ReductionLimit float64               `json:"reduction_limit" range:"1.1..10"`                 // largest reduction that the dough stands in one pair
	FlattenedTo    unit.Length           `json:"flattened_to,omitzero" range:"1 mm..500 mm"`      // height to which a roller or board flattens thicker pieces in front of it; leave out if there is none
	Roller         unit.Length           `json:"roller_diameter,omitzero" range:"10 mm..2000 mm"` // diameter of its rollers, with friction; leave out both if not known
	Friction       float64               `json:"friction,omitzero" range:"0.05..3"`               // of the dough on them: see [molder.GripFromTrials]
	Scale          molder.IndicatorScale `json:"scale,omitzero"`                                  // gaps measured at its indicator; leave out for none
	Last           molder.IndicatorScale `json:"last_scale,omitzero"`                             // gaps measured at the indicator of the second pair; leave out for none
}

// Chain is the list of heights at which the curling chain can hang.
type Chain struct {
	Heights  []molder.ChainHeight `json:"heights" items:"1..100"`            // from the lowest to the highest, each for heavier pieces
	Lightest unit.Mass            `json:"lightest,omitzero" range:"-"`       // lightest piece that was good at the lowest height; leave out if not known
	Margin   unit.Percent         `json:"margin,omitzero" range:"0 %..50 %"` // how near to a limit counts as between two heights
	Measured bool                 `json:"measured,omitzero"`                 // true if the list comes from trials on this line
}

// Board is the pressure board that rolls the curled piece out.
type Board struct {
	Length    unit.Length  `json:"length" range:"50 mm..10000 mm"`     // along the belt
	Belt      unit.Speed   `json:"belt" range:"0.1 mm/s..10 m/s"`      // belt speed under it
	Spring    float64      `json:"spring" range:"1..5"`                // diameter of the finished piece over the height where it leaves
	Bite      unit.Percent `json:"bite" range:"0 %..50 %"`             // how much the entry presses the roll, of its diameter
	SealTurns float64      `json:"seal_turns,omitzero" range:"0..100"` // least turns that closed the seam; leave out if not known
	Measured  bool         `json:"measured,omitzero"`                  // true if spring was measured on this line
}

// Guides are the side guides of the pressure board.
type Guides struct {
	LengthRatio float64     `json:"length_ratio" range:"0.5..2"`              // length of the finished piece over the distance between them
	Narrowest   unit.Length `json:"narrowest,omitzero" range:"0 mm..2000 mm"` // narrowest that they close
	Widest      unit.Length `json:"widest,omitzero" range:"0 mm..2000 mm"`    // widest that they open, at least narrowest; leave out for no limit
	Measured    bool        `json:"measured,omitzero"`                        // true if length_ratio was measured on this line
}

// FinalProof is where the pieces proof after make-up.
type FinalProof struct {
	Carrier   proof.Carrier `json:"carrier"`                              // "rack", "box" or "continuous"
	Handling  unit.Duration `json:"handling,omitzero" range:"0 s..168 h"` // how long a rack is taken besides the stay
	Available int           `json:"available,omitzero" range:"-"`         // racks, boxes or carriers that the plant has; leave out if they are not to be checked
}

// Belt is one belt behind the proofer. It has a speed of its own, or it is geared
// to the line and advances by a length for each stroke of the divider, however fast that is.
type Belt struct {
	Name             string      `json:"name"`                                           // what the bakery calls it
	BeltSpeed        unit.Speed  `json:"belt_speed,omitzero" range:"0.1 mm/s..10 m/s"`   // its own speed; leave out if it is geared to the line
	AdvancePerStroke unit.Length `json:"advance_per_stroke,omitzero" range:"1 mm..10 m"` // how far it goes for each stroke of the divider; leave out if it has a speed of its own
	Route            Route       `json:"route,omitzero"`                                 // "stamper", "moulder" or "panning" if only such pieces run over it; leave out for all
	Place            BeltPlace   `json:"place,omitzero"`                                 // "before-moulder" or "behind-moulder"; needed where moulded pieces run over it
	Across           int         `json:"across" range:"1..100"`                          // most pieces that lie side by side; 1 if they run in file
	EvenMerge        bool        `json:"even_merge,omitzero"`                            // true if the pieces of lanes that merge onto it follow one another evenly
	MergePitch       unit.Length `json:"merge_pitch,omitzero" range:"0 mm..10 m"`        // where lanes merge unevenly: from one piece of a row to the next on this belt
	LeastGap         unit.Length `json:"least_gap,omitzero" range:"0 mm..5000 mm"`       // smallest gap between pieces; leave out if it is enough that they do not touch
}

// BeltPlace is where a belt that carries moulded pieces lies.
type BeltPlace string

const (
	// BeforeMoulder is a belt that carries balls, as they come from the proofer.
	BeforeMoulder BeltPlace = "before-moulder"
	// BehindMoulder is a belt that carries moulded pieces.
	BehindMoulder BeltPlace = "behind-moulder"
)

// Route says where a piece goes from the overhead proofer.
type Route string

const (
	// ToStamper is the way of the stamped roll: past the moulder, under the stamper.
	ToStamper Route = "stamper"
	// ToMoulder is the way of rolls and loaves that are sheeted and curled.
	ToMoulder Route = "moulder"
	// ToPanning is the way of the plain round piece: straight onto trays or into
	// pans, past moulder and stamper.
	ToPanning Route = "panning"
)

func (r Route) check(c *reckon.Checks) {
	switch r {
	case ToStamper, ToMoulder, ToPanning:
	default:
		reckon.CheckWord(c, "route", r, ToStamper, ToMoulder, ToPanning)
	}
}

// parts says which of the parts that a line may lack are there.
type parts struct{ stamper, moulder, rounder, pocket bool }

func (l *Line) parts() parts {
	return parts{
		stamper: l.Stamper != (Stamper{}), moulder: l.Moulder != (Moulder{}),
		rounder: l.Rounder != (Rounder{}),
		pocket:  l.Pocket != (proof.Pocket{}),
	}
}

// check tells what is wrong with the line, whatever is made on it.
func (l *Line) check(c *reckon.Checks) {
	mark := c.Mark()
	l.Divider.check(c)
	l.checkLanes(c)
	if l.Moulder != (Moulder{}) {
		l.Moulder.check(c)
	}
	if l.Stamper != (Stamper{}) {
		l.Stamper.check(c)
	}
	reckon.CheckItems(c, "belts", len(l.Belts), mostParts)
	reckon.CheckItems(c, "parts", len(l.Parts), mostParts)
	if l.Rounder != (Rounder{}) {
		l.Rounder.check(c)
	}
	if l.Oven != (Oven{}) {
		before := c.Mark()
		l.Oven.check(c)
		c.Under(before, "oven")
	}
	for i := range l.Belts {
		before := c.Mark()
		l.Belts[i].check(c)
		c.Item(before, "belts", i)
	}
	l.checkControls(c)
	if !l.Changing.none() {
		l.Changing.check(c, l)
	}
	c.Under(mark, "line")
	l.checkStations(c)
}

func (d *Divider) check(c *reckon.Checks) {
	mark := c.Mark()
	if reckon.CheckRange(c, "strokes_low", d.StrokesLow, 0.01, 1000) && !(d.StrokesHigh >= d.StrokesLow) {
		c.Fail("strokes_high", d.StrokesHigh.String(), "at least strokes_low, "+d.StrokesLow.String())
	} else {
		reckon.CheckRange(c, "strokes_high", d.StrokesHigh, 0.01, 1000)
	}
	if d.StrokeStep != 0 {
		reckon.CheckRange(c, "stroke_step", d.StrokeStep, 0.001, 1000)
	}
	if reckon.CheckRange(c, "mark_low", d.MarkLow, -1e6, 1e6) && !(d.MarkHigh > d.MarkLow) {
		c.Fail("mark_high", fmt.Sprint(d.MarkHigh), fmt.Sprintf("more than mark_low, %v", d.MarkLow))
	} else {
		reckon.CheckRange(c, "mark_high", d.MarkHigh, -1e6, 1e6)
	}
	if d.MarkStep != 0 {
		reckon.CheckRange(c, "mark_step", d.MarkStep, 1e-6, 1e6)
	}
	reckon.CheckRange(c, "hopper_capacity", d.HopperCapacity, 1, 10_000_000)
	if reckon.CheckNotNegative(c, "hopper_least", d.HopperLeast) && d.HopperLeast > 0 && d.HopperLeast >= d.HopperCapacity {
		c.Fail("hopper_least", d.HopperLeast.String(), "less than hopper_capacity, "+d.HopperCapacity.String())
	}
	reckon.CheckRange(c, "confidence", d.Confidence, 50, 99.9)
	reckon.CheckEither(c, "interval", d.Interval, divider.Fieller, divider.Delta)
	c.Under(mark, "divider")
}

// checkLanes checks that the proofer takes each number across and that none stands twice.
func (l *Line) checkLanes(c *reckon.Checks) {
	d := &l.Divider
	if len(d.Lanes) == 0 {
		c.Fail("divider.lanes", "empty", "at least one number of pieces across with its trial pieces")
	}
	if !reckon.CheckItems(c, "divider.lanes", len(d.Lanes), mostLanes) {
		return
	}
	for i, lanes := range d.Lanes {
		mark := c.Mark()
		if lanes.Across < 1 || l.Proofer.Pockets > 0 && l.Proofer.Pockets%lanes.Across != 0 {
			c.Fail("across", strconv.Itoa(lanes.Across), fmt.Sprintf("a number that divides the proofer's %d pockets evenly", l.Proofer.Pockets))
		}
		if slices.ContainsFunc(d.Lanes[:i], func(other Lanes) bool { return other.Across == lanes.Across && other.Dough == lanes.Dough }) {
			c.Fail("across", strconv.Itoa(lanes.Across), "each number across once for a dough; put all its trials into one list, or name the doughs")
		}
		c.Item(mark, "divider.lanes", i)
	}
}

func (m *Moulder) check(c *reckon.Checks) {
	mark := c.Mark()
	reckon.CheckRange(c, "rate_high", m.RateHigh, 0.01, 10_000)
	if reckon.CheckRange(c, "gap_low", m.GapLow, 0.05, 200) && !(m.GapHigh >= m.GapLow) {
		c.Fail("gap_high", m.GapHigh.String(), "at least gap_low, "+m.GapLow.String())
	} else {
		reckon.CheckRange(c, "gap_high", m.GapHigh, 0.05, 200)
	}
	if m.GapStep != 0 {
		reckon.CheckRange(c, "gap_step", m.GapStep, 0.001, 200)
	}
	if m.First != nil && m.First.FlattenedTo != 0 {
		reckon.CheckRange(c, "first_pair.flattened_to", m.First.FlattenedTo, 1, 500)
	}
	c.Under(mark, "moulder")
}

func (k *Rounder) check(c *reckon.Checks) {
	mark := c.Mark()
	way := reckon.CheckEither(c, "way", k.Way, OnTrack, InCup)
	if reckon.CheckRange(c, "speed_low", k.SpeedLow, 0.1, 1000) && !(k.SpeedHigh >= k.SpeedLow) {
		c.Fail("speed_high", k.SpeedHigh.String(), "at least speed_low, "+k.SpeedLow.String())
	} else {
		reckon.CheckRange(c, "speed_high", k.SpeedHigh, 0.1, 1000)
	}
	switch {
	case !way:
	case k.Way == OnTrack:
		if k.Rows != 0 {
			c.Fail("rows", strconv.Itoa(k.Rows), "nothing: leave it out where the piece runs along a track")
		}
	default:
		const out = "nothing: leave it out where the piece is rounded in a cup"
		if k.Diameter != 0 {
			c.Fail("diameter", k.Diameter.String(), out)
		}
		if k.Path != 0 {
			c.Fail("path", k.Path.String(), out)
		}
		if k.Travel != "" {
			c.Fail("travel", strconv.Quote(string(k.Travel)), out)
		}
	}
	c.Under(mark, "rounder")
}

func (s *Stamper) check(c *reckon.Checks) {
	mark := c.Mark()
	if reckon.CheckRange(c, "stamps_low", s.StampsLow, 0, 1000) && !(s.StampsHigh > s.StampsLow) {
		c.Fail("stamps_high", s.StampsHigh.String(), "more than stamps_low, "+s.StampsLow.String())
	} else {
		reckon.CheckRange(c, "stamps_high", s.StampsHigh, 0.01, 1000)
	}
	reckon.CheckWord(c, "mode", s.Mode, molder.OffStamp, molder.ContinuousStamp, molder.TimedStamp)
	if s.Die == "" {
		if s.Spin != "" {
			c.Fail("spin", strconv.Quote(string(s.Spin)), "nothing without a die: name the die too")
		}
		if s.Around != 0 {
			c.Fail("around", strconv.Itoa(s.Around), "nothing without a die: name the die too")
		}
	}
	c.Under(mark, "stamper")
}

func (b *Belt) check(c *reckon.Checks) {
	switch {
	case b.BeltSpeed == 0 && b.AdvancePerStroke == 0:
		c.Fail("belt_speed", "missing", "a speed of its own, or advance_per_stroke if it is geared to the line")
	case b.AdvancePerStroke == 0:
		reckon.CheckRange(c, "belt_speed", b.BeltSpeed, 0.1, 10_000)
	case b.BeltSpeed == 0:
		reckon.CheckRange(c, "advance_per_stroke", b.AdvancePerStroke, 1, 10_000)
	default:
		c.Fail("advance_per_stroke", b.AdvancePerStroke.String(), "nothing beside belt_speed: a belt has a speed of its own or is geared to the line")
		reckon.CheckRange(c, "belt_speed", b.BeltSpeed, 0.1, 10_000)
	}
	if b.Place != "" {
		reckon.CheckEither(c, "place", b.Place, BeforeMoulder, BehindMoulder)
		if b.Route == ToStamper || b.Route == ToPanning {
			c.Fail("place", strconv.Quote(string(b.Place)), "nothing: no moulded piece runs over it")
		}
	} else if b.Route == ToMoulder {
		reckon.CheckEither(c, "place", b.Place, BeforeMoulder, BehindMoulder)
	}
	reckon.CheckCount(c, "across", b.Across, 1, 100)
	if reckon.CheckRange(c, "merge_pitch", b.MergePitch, 0, 10_000) && b.MergePitch != 0 && b.EvenMerge {
		c.Fail("merge_pitch", b.MergePitch.String(), "nothing beside even_merge")
	}
	reckon.CheckRange(c, "least_gap", b.LeastGap, 0, 5000)
	if b.Name == "" {
		c.Fail("name", `""`, "a name, to say which belt sets a limit")
	}
	if b.Route != "" {
		b.Route.check(c)
	}
}

// checkStations lets the stations tell what is wrong with their parts of the
// line, before any product is known.
func (l *Line) checkStations(c *reckon.Checks) {
	r := run{c: c, telling: true}
	r.tell(func() places { return places{{"proofer", "line.proofer"}} }, proof.Dwell{Proofer: l.Proofer}.Check)
	r.tell(func() places {
		return places{{"drums", "line.drums"}, {"cup_ratio_low", "line.cup_ratio.low"}, {"cup_ratio_high", "line.cup_ratio.high"}}
	},
		molder.DrumChoice{Drums: l.Drums, CupRatioLow: l.CupRatio.Low, CupRatioHigh: l.CupRatio.High}.Check)
	if l.Pocket != (proof.Pocket{}) {
		r.tell(func() places { return places{{"pocket", "line.pocket"}} }, proof.PocketFit{Pocket: l.Pocket}.Check)
	}
	// The speeds of the rounder and of the line are not known yet.
	switch k := l.Rounder; k.Way {
	case OnTrack:
		r.tell(func() places { return places{{"drum_speed", "~"}, {"", "line.rounder."}} },
			molder.RoundingTime{Diameter: k.Diameter, Path: k.Path, Travel: k.Travel}.Check)
	case InCup:
		r.tell(func() places { return places{{"speed", "~"}, {"strokes", "~"}, {"", "line.rounder."}} },
			molder.RoundingMotions{Rows: k.Rows}.Check)
	}
	if s := l.Stamper; s.Die != "" {
		r.tell(func() places {
			return places{{"die", "line.stamper.die"}, {"spin", "line.stamper.spin"}, {"around", "line.stamper.around"}, {"contact", "line.stamper.contact"}}
		},
			molder.StampRate{Die: s.Die, Spin: s.Spin, Around: s.Around, Contact: s.Contact}.Check)
	}
	if len(l.Oil) > 0 {
		r.tell(func() places { return places{{"valves", "line.oil_valves"}} }, divider.OilUse{Valves: l.Oil}.Check)
	}
	if n := len(l.Dusters); n > mostDusters {
		c.Fail("line.flour_dusters", strconv.Itoa(n)+" dusters", "1 to "+strconv.Itoa(mostDusters)+" dusters")
	} else {
		for i := range l.Dusters {
			l.Dusters[i].check(&r, i)
		}
	}
	if l.Moulder != (Moulder{}) {
		l.Moulder.checkStations(&r)
	}
	if f := l.FinalProof; f != (FinalProof{}) {
		r.tell(func() places {
			return places{{"carrier", "line.final_proof.carrier"}, {"handling", "line.final_proof.handling"}, {"available", "line.final_proof.available"}}
		},
			proof.FinalProofLoad{Carrier: f.Carrier, Handling: f.Handling, Available: f.Available}.Check)
	}
	for i, part := range l.Parts[:min(len(l.Parts), mostParts)] { // more were refused above
		r.tell(all(fmt.Sprintf("line.parts[%d].", i)), part.Check)
	}
	for i, lanes := range l.Divider.Lanes[:min(len(l.Divider.Lanes), mostLanes)] {
		fit := divider.MarkFit{
			Trials: lanes.Trials, Confidence: l.Divider.Confidence,
			Shape: lanes.Shape, Weighting: lanes.Weighting, Across: lanes.Across,
		}
		lane := fmt.Sprintf("line.divider.lanes[%d].", i)
		r.tell(func() places { return places{{"confidence", "~"}, {"across", "~"}, {"", lane}} }, fit.Check) // these two were told above, for all lanes
	}
}

func (m *Moulder) checkStations(r *run) {
	r.tell(func() places { return places{{"recovery", "line.moulder.recovery"}} }, molder.GapForTurns{Recovery: m.Recovery}.Check)
	if f := m.First; f != nil {
		r.tell(func() places {
			return places{
				{"first_scale", "line.moulder.first_pair.scale"},
				{"last_scale", "line.moulder.first_pair.last_scale"},
				{"first_recovery", "line.moulder.first_pair.recovery"},
				{"reduction_limit", "line.moulder.first_pair.reduction_limit"},
				{"roller_diameter", "line.moulder.first_pair.roller_diameter"},
				{"friction", "line.moulder.first_pair.friction"},
			}
		}, molder.RollerGaps{Roller: f.Roller, Friction: f.Friction, FirstRecovery: f.Recovery, ReductionLimit: f.ReductionLimit, FirstScale: f.Scale, LastScale: f.Last}.Check)
	}
	if k := m.Chain; k != nil {
		r.tell(func() places { return places{{"piece", "~"}, {"", "line.moulder.curling_chain."}} }, molder.CurlingChain{Heights: k.Heights, Lightest: k.Lightest, Margin: k.Margin}.Check)
	}
	if g := m.Guides; g != nil {
		r.tell(func() places {
			return places{{"pan_length", "~"}, {"clearance", "~"}, {"", "line.moulder.side_guides."}}
		}, molder.SideGuides{LengthRatio: g.LengthRatio, Narrowest: g.Narrowest, Widest: g.Widest}.Check)
	}
	if b := m.Board; b != nil {
		r.tell(func() places {
			return places{{"spring", "line.moulder.pressure_board.spring"}, {"bite", "line.moulder.pressure_board.bite"}}
		},
			molder.BoardForLength{Spring: b.Spring, Bite: b.Bite}.Check)
		r.tell(func() places {
			return places{{"board_length", "line.moulder.pressure_board.length"}, {"belt", "line.moulder.pressure_board.belt"}, {"seal_turns", "line.moulder.pressure_board.seal_turns"}}
		},
			molder.PressureBoard{BoardLength: b.Length, Belt: b.Belt, SealTurns: b.SealTurns}.Check)
	}
}

// The longest lists of a line.
const (
	mostParts = 100 // belts, and parts to be washed
	mostLanes = 100 // ways to run the divider: a number across with each dough
)

// lanes returns the index of the way to run the divider with a dough, n across, or -1.
func (l *Line) lanes(dough string, n int) int {
	for i := range l.Divider.Lanes {
		if k := &l.Divider.Lanes[i]; k.Across == n && k.Dough == dough {
			return i
		}
	}
	return -1
}

// checkTrialled refuses a dough that was never weighed, or not so many across.
func (l *Line) checkTrialled(c *reckon.Checks, dough string, across int) {
	var list, doughs []string
	for i := range l.Divider.Lanes {
		k := &l.Divider.Lanes[i]
		if k.Dough == dough {
			list = append(list, strconv.Itoa(k.Across))
		}
		if name := strconv.Quote(k.Dough); !slices.Contains(doughs, name) {
			doughs = append(doughs, name)
		}
	}
	switch {
	case len(doughs) == 0:
	case len(list) == 0:
		c.Fail("order.product.dough", strconv.Quote(dough), "a dough for which the divider has trial pieces: "+strings.Join(doughs, ", "))
	case !c.Told("order.product.across"):
		c.Fail("order.product.across", strconv.Itoa(across), "a number across for which the divider has trial pieces of this dough: "+strings.Join(list, ", "))
	}
}
