// Package doughmath is the ground floor of dough make-up arithmetic: the
// quantities that carry their units, the errors and conditions that say what
// is wrong or wants a look, and the calculations that come before the divider,
// from a formula and an order to batches, water temperature, ice and the
// scaling weight.
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
// once ([InputError], [NoSolutionError]). A condition in the result
// ([Conditions]) means "computed, but look". A caution ([Cautions]) is for
// people's safety and the law. ExplainF is F with its [Working]; its steps can
// be keyed into a calculator. The inverse of F is called <Unknown>For<Known>
// and stands in the same file.
//
// Nothing here reads a file, a clock or a global. Everything may be called
// from several goroutines at once.
package doughmath
