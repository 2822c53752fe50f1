package reckon

import (
	"encoding/json"
)

// Cautions is a set of hazards to people, or duties under the law, that come
// with carrying out a result. They are reminders, not instructions: the
// machine's manual, local codes and licensed or authorised persons decide.
type Cautions uint64

// The cautions. Each has a word and a sentence, as conditions have.
const (
	// MovingMachinery goes with every setting made at a running machine.
	MovingMachinery Cautions = 1 << iota
	// Interlocks goes with guarded parts; what guards one place only is named by its own caution.
	Interlocks
	// HotWater goes with water that can scald.
	HotWater
	// FlourDust goes with dusting flour and handling flour.
	FlourDust
	// OilSlip goes with divider oil.
	OilSlip
	// Lifting goes with batches, bowls, bags and drums that are moved by hand.
	Lifting
	// Allergens goes with a change of product or ingredient.
	Allergens
	// WeightsLaw goes with weights that are promised to a buyer.
	WeightsLaw
	// Cleaning goes with washing and storing removable parts.
	Cleaning
	// LockedOut goes with taking parts out or reaching in.
	LockedOut
	// IceHandling goes with ice put into a mixer.
	IceHandling
	// RollerNip goes with what is set or measured at rollers and sheets.
	RollerNip
	// RaisedBowl goes with dough that is tipped into the hopper.
	RaisedBowl
	// RunningDrive goes with every speed that somebody sets.
	RunningDrive
	// MovingBelt goes with pieces that are taken off the line to be weighed or looked at.
	MovingBelt
	// Spoilage goes with milk, egg, and preferments and soakers that stand warm.
	Spoilage
	// StamperCover goes with the stamper and with nothing else.
	StamperCover
	// Wheels goes with a machine that is rolled into the line or out of it.
	Wheels
	// HotOven goes with pieces that go into an oven or come out of it.
	HotOven

	cautionEnd // one past the last
)

// The hazards and usual practice are facts of the trade (common practice);
// the limits behind them are set by the authorities, never here.
var cautions = [...]Note{
	{"moving-machinery", "Keep hands, sleeves and tools away from moving parts and set a machine only as its manual allows; train operators first."},
	{"interlocks", "Never defeat a guard or an interlock; if one fails, stop the machine and call an authorised person."},
	{"hot-water", "Hot water scalds: mix it before it reaches the hand, and follow the local code for hot taps."},
	{"flour-dust", "Flour dust harms the lungs and can explode: raise little of it, do not blow it away with air, and keep to the limit your authority sets."},
	{"oil-slip", "Oil on the floor makes people fall: shut the oil whenever scaling stops and wipe spills at once."},
	{"lifting", "Bowls, bags and drums are heavy: use the lift, two persons or smaller batches as your local rules say."},
	{"allergens", "Check the allergens of both products before you change over, and clean as your food-safety plan says."},
	{"weights-law", "Weights promised to a buyer are under the law: the local weights and measures authority decides, this arithmetic does not."},
	{"cleaning", "Clean and store removable parts as the maker directs; plastic drums and glued brushes are washed lukewarm, never hot."},
	{"locked-out", "Isolate and lock out the machine before you take parts out or reach in, as the manual and local codes say."},
	{"ice-handling", "Tip ice in with the mixer stopped and the guard closed before starting; use ice made from drinking water."},
	{"roller-nip", "Rollers that turn towards each other draw in hands, sleeves and tools: keep their guard shut, stop and isolate them before you measure a gap or clean them, and take a sheet to be measured from well behind them."},
	{"raised-bowl", "Nobody stands under a raised bowl or in its path: lock it in the hoist, tip from outside the guard, and keep the hopper's grid shut while the divider can run."},
	{"running-drive", "A drive with a variator has its speed changed only while it runs, as its manual says: do it from outside the guards, clear of belts, chains and rollers, and in small steps."},
	{"moving-belt", "Take pieces off a moving belt only where it lies open, never beside rollers, chains, the stamper or the end of the belt, with sleeves closed and jewellery off; where there is no such place, stop it first."},
	{"spoilage", "Milk, egg, and preferments and soakers that stand warm spoil, and mould and harmful germs grow in them: hold them within the times and temperatures of your food-safety plan, and throw away what has stood longer."},
	{"stamper-cover", "The stamper closes on whatever lies under it: it runs only with its cover shut, and nobody bridges the cover's switch."},
	{"wheels", "Switch off and unplug a machine before it is rolled, push it from a side where it cannot tip on anyone, and lock its castors before it is switched on again."},
	{"hot-oven", "An oven, its trays, tins and racks burn, and steam scalds: dry gloves and long sleeves, stand aside as a door opens, and nobody steps into a chamber for racks unless it is switched off and locked out."},
}

// Every caution has its texts, or this does not compile.
var _ [1]struct{} = [cautionEnd >> len(cautions)]struct{}{}

// Has reports whether every caution of want is set.
func (c Cautions) Has(want Cautions) bool { return c&want == want }

// Notes returns the cautions that are set, in a fixed order.
func (c Cautions) Notes() []Note { return notes(uint64(c), cautions[:], nil) }

// Words returns the words of the cautions that are set.
func (c Cautions) Words() []string { return wordsOf(c.Notes()) }

// Sentences returns what to tell a person, in the order of Words.
func (c Cautions) Sentences() []string { return sentencesOf(c.Notes()) }

// Known returns every caution.
func (Cautions) Known() []Note { return append([]Note{}, cautions[:]...) }

// CautionDeference closes every list of cautions.
const CautionDeference = "The machine's manual, local codes and a licensed or authorised person come before anything printed here."

// MarshalJSON writes the words as a list.
func (c Cautions) MarshalJSON() ([]byte, error) { return json.Marshal(c.Words()) }

// UnmarshalJSON reads a list of words.
func (c *Cautions) UnmarshalJSON(data []byte) error {
	got, err := readWords(data, "caution", cautions[:], nil)
	if err == nil {
		*c = Cautions(got)
	}
	return err
}
