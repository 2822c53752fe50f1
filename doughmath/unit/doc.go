// Package unit holds the quantities of dough make-up arithmetic: a mass, a
// length, a temperature, each a number in one fixed unit, with the text that
// people and programs read and write it by. It rests on the standard library
// alone.
//
// A quantity is a defined float64, so that arithmetic costs nothing and a
// value typed in the unit held comes back to the last digit. [Temp] alone is
// opaque: two temperatures do not add. Text always carries its unit; a bare
// number is refused.
package unit

//go:generate go test -count=1 -run ^TestQuantitiesAreCurrent$ . -write
