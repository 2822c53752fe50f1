// Package molder holds what happens between the divider and the pan: rounding
// drum, sheeting rollers, curling, pressure board, stamper and the belts
// between them. It answers which drum takes the piece, how far apart the
// rollers stand for the turns wanted, where boards and guides go, and how far
// apart the pieces run.
//
// Dough is taken as incompressible: a piece of given mass and density keeps
// its volume while its shape changes. What dough does beyond that (spring
// back after the rollers, spread, seal) is measured on the line and put in;
// a result that rests on a value not measured there says so by the condition
// [reckon.Uncalibrated].
package molder
