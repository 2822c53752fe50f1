// Package proof covers the proofers: the pocketed overhead proofer that runs with
// the divider, the final proof, and the air in both.
//
// # Which calculation answers which question
//
//	How long does a piece stay in the overhead proofer?   Dwell
//	How fast must the divider run for that stay?          StrokesForDwell
//	Which speed suits the dwell and all the machines?     Speed
//	More pieces an hour or more time for each?            Tradeoff
//	When is a run out, and when may the next follow?      Clear
//	What does a stop or a change of speed do?             SpeedChange
//	How long does each lane stay?                         Lanes
//	What happens with stops, jams and lane changes?       Run
//	How many racks does the final proof need?             FinalProofLoad
//	How fast can the line run with that room?             RateForFinalProofLoad
//	How much does an oven make that products share?       SharedRate
//	Does the grown piece fit its pocket?                  PocketFit
//	How heavy a piece do the pockets take?                PieceForPocket
//	How much does the whole line make in a shift?         LineCapacity
//	How long must it run for so many pieces?              ShiftForLineCapacity
//	How long is this proof at another temperature?        Equivalent
//	How warm must the dough be for this proof?            TemperatureForProof
//	How much faster does a warmer dough prove?            Q10ForProof
//	How moist is the air?                                 Air
//	What is the pressure of the air up here?              AirPressure
//	How high up is a bakery with this pressure?           AltitudeForAirPressure
//	How much vapour can air hold?                         SaturationPressure
//	At what temperature does vapour condense?             TemperatureForSaturation
//	Does the piece sweat, and does it dry?                Surface
//	How fast does its surface warm?                       WarmingForSurface
//	Which humidity keeps it from both?                    HumidityForSurface
//	How much water condenses on it?                       SweatWater
//	How much of its warming is condensation?              ShareForSweatWater
//
// # The overhead proofer
//
// It is an endless chain of trays, each with a number of pockets across. Every
// stroke of the divider drops its pieces into the first pockets of the tray
// that stands under the chute. Each time the tray comes round, the pieces are
// tipped over into the next pockets of the row, until they have used the whole
// row and leave:
//
//	pass 1   | o o . . . . |   loaded, two across
//	pass 2   | . . o o . . |
//	pass 3   | . . . . o o |   and out
//
// Two lanes across in six pockets therefore make three passes, one lane makes six.
// Divider and proofer start, stop and change speed together: whatever is
// inside when they stop stays inside.
package proof
