package line

import "example.com/dough/divider"

// Symptom is what is wrong with the pieces or the run, as it is seen.
type Symptom string

const (
	// TooLight is pieces that weigh too little: underweight, small.
	TooLight Symptom = "too-light"
	// TooHeavy is pieces that weigh too much: overweight, large.
	TooHeavy Symptom = "too-heavy"
	// DriftingWeight is a weight that falls from the start of a batch to its end: pieces get lighter, the weight wanders or creeps.
	DriftingWeight Symptom = "drifting"
	// UnevenLanes is lanes that weigh differently: one side is heavy, one pocket light.
	UnevenLanes Symptom = "uneven-lanes"
	// Doubles is two pieces that stick together, touch or ride in one place: twins, pairs.
	Doubles Symptom = "doubles"
	// TornSheet is a sheet that tears or rips between the rollers: ragged, holes.
	TornSheet Symptom = "torn-sheet"
	// OpenSeam is a seam that opens or does not seal: unrolled, split, uncurled.
	OpenSeam Symptom = "open-seam"
	// TooLong is a moulded piece that is longer than wanted: pointed, squeezed into its pan.
	TooLong Symptom = "too-long"
	// TooShort is a moulded piece that is shorter than wanted: stubby, loose in its pan.
	TooShort Symptom = "too-short"
	// NotRound is a rounded piece that is not a ball: oval, lopsided, open underneath, loose.
	NotRound Symptom = "not-round"
	// MisshapenStamp is a stamp that is faint, smeared, twisted or not in the middle: crooked, shallow, off-centre.
	MisshapenStamp Symptom = "misshapen-stamp"
	// OutOfStep is a stamper that no longer meets the rows: late, early, off, missed rows.
	OutOfStep Symptom = "out-of-step"
	// StickingInPocket is a piece that stays in its pocket, or hangs in it: sticky, stuck, not dropping.
	StickingInPocket Symptom = "sticking"
	// Floury is pieces with dry flour on them, or streaked with it inside: dusty, streaks, white.
	Floury Symptom = "floury"
	// Skinned is a piece with a dry skin: skinning, crusted, cracked, leathery.
	Skinned Symptom = "skinned"
	// Wet is a piece whose surface is wet: sweating, clammy, tacky, condensation.
	Wet Symptom = "wet"
	// OvenWaits is an oven that waits for pieces: gaps, starved, empty, slow, idle.
	OvenWaits Symptom = "oven-waits"
)

// CauseName names what may be to blame.
type CauseName string

const (
	// HandleMoved is the handle of the divider at another mark than planned.
	HandleMoved CauseName = "handle-moved"
	// DoughOtherwise is a dough that weighs otherwise at the same mark than that of the trial pieces.
	DoughOtherwise CauseName = "dough-otherwise"
	// DoughWarm is a dough that left the mixer warmer than planned.
	DoughWarm CauseName = "dough-warm"
	// DoughCold is a dough that left it colder.
	DoughCold CauseName = "dough-cold"
	// StoodLong is dough that stands in the hopper for longer than planned.
	StoodLong CauseName = "stood-long"
	// HopperLow is less dough in the hopper than the divider needs to fill its chambers.
	HopperLow CauseName = "hopper-low"
	// GrowsFast is a dough that gasses faster in the hopper than planned.
	GrowsFast CauseName = "grows-fast"
	// LaneOff is a lane whose pieces differ from those of the others.
	LaneOff CauseName = "lane-off"
	// BeltSlow is a belt that runs too slowly for its gap.
	BeltSlow CauseName = "belt-slow"
	// LineFast is a line that runs faster than everything allows.
	LineFast CauseName = "line-fast"
	// LineSlow is a line that runs slower than it may, or than the oven needs.
	LineSlow CauseName = "line-slow"
	// PieceWide is a piece that lies longer on the belt than there is room for.
	PieceWide CauseName = "piece-wide"
	// GapNarrow is a last pair of rollers that is set too close.
	GapNarrow CauseName = "gap-narrow"
	// GapWide is a last pair of rollers that is set too far apart.
	GapWide CauseName = "gap-wide"
	// FirstGapOff is a first pair of rollers that leaves one of the two pairs too much to do.
	FirstGapOff CauseName = "first-gap-off"
	// SheetThin is a sheet that springs back less behind the rollers than those of the trials.
	SheetThin CauseName = "sheet-thin"
	// BoardInOff is a pressure board at another height than planned where the piece enters.
	BoardInOff CauseName = "board-in-off"
	// BoardOutOff is a pressure board at another height than planned where it leaves.
	BoardOutOff CauseName = "board-out-off"
	// GuidesOff is side guides that stand otherwise than planned.
	GuidesOff CauseName = "guides-off"
	// DrawsBack is a dough that draws back, or spreads, behind the guides otherwise than on the line before.
	DrawsBack CauseName = "draws-back"
	// RoundedLittle is a rounder whose speed rounds the piece too little.
	RoundedLittle CauseName = "rounded-little"
	// DrumWrong is a rounding drum that does not suit the piece.
	DrumWrong CauseName = "drum-wrong"
	// StampsOff is a stamper that runs at another speed than the rows.
	StampsOff CauseName = "stamps-off"
	// StamperSet is a stamper that is set otherwise than the line says.
	StamperSet CauseName = "stamper-set"
	// FlourLittle is a duster that drops too little flour.
	FlourLittle CauseName = "flour-little"
	// FlourMuch is a duster that drops too much flour.
	FlourMuch CauseName = "flour-much"
	// DoughSticky is a dough that is stickier than planned.
	DoughSticky CauseName = "dough-sticky"
	// DwellLong is a stay in the overhead proofer that is too long.
	DwellLong CauseName = "dwell-long"
	// DwellShort is a stay that is too short.
	DwellShort CauseName = "dwell-short"
	// GrownLarge is a piece that has grown too large for its pocket.
	GrownLarge CauseName = "grown-large"
	// AirDamp is air so damp that the piece sweats for too long.
	AirDamp CauseName = "air-damp"
	// AirDry is air so dry that the piece dries for too long.
	AirDry CauseName = "air-dry"
	// MixerSlow is a mixer that gives its batches too far apart.
	MixerSlow CauseName = "mixer-slow"
	// RacksFew is too few racks for the line never to wait for one.
	RacksFew CauseName = "racks-few"
)

// symptomOf says of a symptom on which route it can be, "" for any, and what may cause it: what asks the calculations, and
// the named checks.
type symptomOf struct {
	symptom Symptom
	route   Route
	suspect func(*fault)
	look    []Look
}

var symptoms = [...]symptomOf{
	{TooLight, "", func(f *fault) {
		f.handle(TooLittle)
		f.dough(TooLittle)
		f.doughTemp(TooMuch)
		f.stood()
		f.hopperLow()
	}, []Look{lookScale, lookChamber, lookWaste}},
	{TooHeavy, "", func(f *fault) { f.handle(TooMuch); f.dough(TooMuch); f.doughTemp(TooLittle) }, []Look{lookScale, lookChamber}},
	{DriftingWeight, "", func(f *fault) { f.growth(); f.doughTemp(TooMuch); f.stood(); f.hopperLow() }, []Look{lookHandle, lookScale}},
	{UnevenLanes, "", (*fault).lanes, []Look{lookScale, lookChamber, lookOil}},
	{Doubles, "", func(f *fault) { f.belts(); f.lineFast(); f.pieceWide(); f.flour(TooLittle, ""); f.sticky(TooMuch) }, []Look{lookDrop, lookTransfer}},
	{TornSheet, ToMoulder, func(f *fault) { f.gapNarrow(); f.firstGap(); f.sheetThin(); f.doughTemp(TooLittle); f.dwell(TooLittle) }, []Look{lookScraper, lookTouch}},
	{OpenSeam, ToMoulder, func(f *fault) { f.seam(); f.curls(); f.flour(TooMuch, ""); f.drying() }, []Look{lookSeam, lookBoard}},
	{TooLong, ToMoulder, func(f *fault) {
		f.guides(TooMuch)
		f.drawsBack(TooMuch)
		f.boardOut(TooLittle)
		f.width(TooMuch)
		f.handle(TooMuch)
		f.dough(TooMuch)
	}, []Look{lookBoard, lookEnds}},
	{TooShort, ToMoulder, func(f *fault) {
		f.guides(TooLittle)
		f.drawsBack(TooLittle)
		f.boardOut(TooMuch)
		f.width(TooLittle)
		f.handle(TooLittle)
		f.dough(TooLittle)
	}, []Look{lookBoard, lookEnds}},
	{NotRound, "", func(f *fault) { f.rounded(); f.drum(); f.flour(TooMuch, ""); f.drying() }, []Look{lookCups, lookRounderBelt}},
	{MisshapenStamp, ToStamper, func(f *fault) {
		f.stamperSet()
		f.stamps()
		f.dwell(TooMuch)
		f.doughTemp(TooMuch)
		f.flour(TooLittle, "")
		f.sticky(TooMuch)
		f.drying()
	}, []Look{lookDie, lookMiddle}},
	{OutOfStep, ToStamper, func(f *fault) { f.stamperSet(); f.stamps() }, []Look{lookTogether, lookMiddle}},
	{StickingInPocket, "", func(f *fault) {
		f.flour(TooLittle, OntoPockets)
		f.sticky(TooMuch)
		f.dwell(TooMuch)
		f.sweating()
		f.grown()
		f.doughTemp(TooMuch)
	}, []Look{lookPockets, lookDuster}},
	{Floury, "", func(f *fault) { f.flour(TooMuch, ""); f.sticky(TooLittle) }, []Look{lookDuster, lookBrush}},
	{Skinned, "", func(f *fault) { f.drying(); f.dwell(TooMuch) }, []Look{lookDraught, lookStops}},
	{Wet, "", func(f *fault) { f.sweating(); f.doughTemp(TooLittle); f.sticky(TooMuch) }, []Look{lookDrip, lookTouch}},
	{OvenWaits, "", func(f *fault) { f.lineSlow(); f.mixerSlow(); f.racksFew() }, []Look{lookStops, lookTogether, lookFinalProof}},
}

// Named checks: what to look at, and what is seen if it is the cause. All of them are common practice.
var (
	lookScale       = Look{"the scale", "Weigh a known weight, and the empty pan.", "Either is off by more than the scale's division."}
	lookChamber     = Look{"chambers and knife of the divider", "Stop, isolate and lock out; look at the chambers, their pistons and the knife.", "Dough hangs in a chamber or on the knife, a piston stops short, or one chamber is worn."}
	lookWaste       = Look{"dough at the divider", "Stop, isolate and lock out; look under the divider and at the hopper's wall.", "Dough leaves beside the chambers, or hangs on the wall and does not come down."}
	lookHandle      = Look{"the handle's lock", "Read the mark at the start of a batch and at its end.", "The mark is another one though nobody moved it."}
	lookOil         = Look{"the divider's oil", "Look at the oil of each chamber while it scales, from outside the guards; wipe spills at once.", "One chamber runs dry or swims; the heavy or light lane is that one."}
	lookDrop        = Look{"the drop into the rounder", "Watch twenty pieces fall, from outside the guards.", "Two fall together, or one hits an edge and waits for the next."}
	lookTransfer    = Look{"infeed, transfer and outlet of the overhead proofer", "Watch each place for a round of the trays, from outside the guards.", "A piece lands in a pocket that is taken, or comes out with the next."}
	lookScraper     = Look{"scrapers and roller surfaces", "Stop, isolate and lock out; look along both rollers and scrapers.", "Dough sticks to a roller, a scraper lifts off, or a surface is scored."}
	lookTouch       = Look{"the dough by hand", "Take a piece where the belt lies open, well before the rollers, and one from the bowl with the mixer stopped; stretch both.", "It tears short, or strings and sticks: it is under-mixed, over-mixed or slack."}
	lookSeam        = Look{"the seam as it meets the belt", "Watch where the seam lies as the piece leaves the board.", "The seam lies on top or at the side, or there is flour in it."}
	lookBoard       = Look{"the pressure board", "Stop, isolate and lock out; measure its height on both sides, at both ends.", "One side is lower than the other, or the board gives when it is pressed."}
	lookEnds        = Look{"the ends of the piece", "Look at ten pieces from where the belt lies open, well behind the board.", "One end is pointed, or pieces lean against one guide: the sheet comes in off the middle."}
	lookCups        = Look{"cups or track of the rounder", "Stop, isolate and lock out; look at cups, cores or track.", "Crusts of dough, a worn edge, or a part of another drum."}
	lookRounderBelt = Look{"the belt of the rounder", "Look at it from outside the guards, with the light along it.", "Pieces slide instead of turning: it is wet, oily or thick with flour."}
	lookDie         = Look{"the die", "Stop, isolate and lock out; look at its edges.", "Dough in its corners, a blunt or bent edge, or the die is not the product's."}
	lookMiddle      = Look{"where the piece lies under the stamper", "Watch the rows in front of the stamper with its cover shut.", "Rows come in askew, or pieces lie beside the middle of their lane."}
	lookTogether    = Look{"divider and overhead proofer", "Watch a stop and a change of speed.", "They do not start, stop and change speed together."}
	lookPockets     = Look{"the pockets", "Stop, isolate and lock out; look at the pockets of a few trays.", "Crusts or damp cloth, always the same pockets."}
	lookDuster      = Look{"the curtain of flour", "Catch flour at three places across the belt, from outside the guards, and weigh each.", "The places differ, or the flour comes in lumps: a sieve is blocked or damp."}
	lookBrush       = Look{"brushes and scrapers that take flour off", "Stop, isolate and lock out; look at them.", "They are worn, clogged or not in."}
	lookDraught     = Look{"draught and doors", "Hold a strip of paper at the proofer's openings.", "It moves: air from a door, a fan or a vent passes over the pieces."}
	lookStops       = Look{"stops of the line", "Write down each stop with its minutes for an hour.", "Pieces are bad, or missing, a dwell after each stop."}
	lookDrip        = Look{"what drips", "Look at ceilings and edges above the pieces.", "Drops hang there: the wet pieces lie under them."}
	lookFinalProof  = Look{"the final proof", "Note when racks go in and when they are ready.", "They wait for the oven, or are not ready when it is."}
)

// lookWhole is where to look if a weighing says that pieces are not whole, or scatter otherwise.
func lookWhole(found divider.Finding) Look {
	return Look{"the pieces weighed", found.LookAt(), "It is seen there: see " + string(Doubles) + " for two that stick together."}
}
