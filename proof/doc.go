// Package proof answers the questions of the proofers: the pocketed overhead
// proofer that runs with the divider, the final proof, and the air in both.
//
// The overhead proofer is an endless chain of trays, each with a number of
// pockets across. Every stroke of the divider drops its pieces into the first
// pockets of the tray that stands under the chute. Each time the tray comes
// round, the pieces are tipped over into the next pockets of the row, until
// they have used the whole row and leave:
//
//	pass 1   | o o . . . . |   loaded, two across
//	pass 2   | . . o o . . |
//	pass 3   | . . . . o o |   and out
//
// Two lanes across in six pockets so make three passes, one lane makes six.
// Divider and proofer start, stop and change speed together: whatever is
// inside when they stop stays inside.
package proof
