// Package reckon is what every calculation shares: the checks and errors that
// say what is wrong with an input, the conditions and cautions that go with an
// answer, and the working that shows how it came about.
//
// An error means "cannot be computed" and names every bad value at once
// ([InputError], [NoSolutionError]). A condition means "computed, but look"
// ([Conditions]). A caution is for people's safety and the law ([Cautions]).
package reckon
