// Package divider holds the arithmetic of the volumetric divider: the chamber
// and what it weighs, the handle and its marks, rate and hopper time, weight
// through a batch, check-weighing, net content, and divider oil and dusting flour.
//
// The divider measures by volume. Its handle moves a stop along a scale of
// marks; what a mark weighs depends on the dough, so it is found by weighing:
//
//	trial pieces --> MarkFit --> Calibration --> MarkForWeight --> move --> weigh
//	                                 |                              ^        |
//	                                 +------------ NextMark --------+--------+
//
// Every change of the mark is followed by a weighing.
package divider
