// Package doughmath is the mixing room: the calculations that come before the
// divider, from a formula and an order to batches, water temperature, ice and
// the scaling weight. The quantities are in package unit, what all
// calculations share in package reckon.
//
// # Which function answers which question
//
//	What do I weigh for this much dough?          FormulaScale
//	What are the percentages of this dough?       FormulaFromWeights
//	How wet is it?                                Hydration
//	How warm must the water be?                   WaterTemperature
//	What friction does the mixer add?             FrictionFactor
//	How much ice?                                 Ice
//	What dough piece gives this baked weight?     ScalingWeight
//	How many batches of what size?                BatchPlan
//
// # Conventions
//
// A calculation F takes one input struct and returns a result struct and an
// error. An error means "cannot be computed" and names every bad value at
// once ([reckon.InputError], [reckon.NoSolutionError]). A condition in the result
// ([Conditions]) means "computed, but look". A caution ([reckon.Cautions]) is for
// people's safety and the law. ExplainF is F with its [reckon.Working]; its steps can
// be keyed into a calculator. The inverse of F is called <Unknown>For<Known>
// and stands in the same file.
//
// Nothing here reads a file, a clock or a global. Everything may be called
// from several goroutines at once.
package doughmath
