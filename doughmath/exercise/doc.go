// Package exercise makes exercises from the calculations of the library, with
// keys, hints and marking, for whoever teaches the trade.
//
//	e, err := exercise.Spec{Calculation: "water-temperature", Seed: 7}.Make()
//	fmt.Println(e)                     // the question as it is handed out
//	mark := e.Mark("20.5 °C")          // what an answer is worth, and which mistake it shows
//	key, err := e.Key()                // the working, its blanks and its sources
//
// What is given is drawn from ranges that a shop knows, in steps that its
// instruments show; nothing is drawn that the calculation refuses or that it
// remarks upon, and no answer is nothing, equal to what is given, or within
// reach of a likely [Mistake]. The same seed gives the same exercise everywhere.
//
// [SetSpec] makes a set without repeats, [CaseStudySpec] several calculations that
// hand their answers on, [FaultSpec] a plan with something wrong in it.
//
// Everything is plain data that a page or a file format can be made from. The
// package rests on the calculator alone, not on its descriptions.
package exercise
