// Package reckon is what every calculation shares: the checks and errors that
// say what is wrong with an input, the conditions and cautions that go with an
// answer, and the working that shows how it came about.
//
// An error means "cannot be computed" and names every bad value at once
// ([InputError], [NoSolutionError]). A condition means "computed, but look"
// ([Conditions]). A caution is for people's safety and the law ([Cautions]): a program hands it on
// to whoever does the work, and [Hazards] finds all of an answer.
//
// It is arithmetic, not authority. It must not be used to control a machine or to stand in for a guard or an
// interlock, nor to decide that food, a starter, flour dust or a change of allergens is safe, that a lot is lawful, or
// that somebody is trained: the machine's manual, local codes and a licensed or authorised person decide that.
package reckon
