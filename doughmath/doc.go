// Package doughmath is the mixing room: the calculations that come before the
// divider, from a formula and an order to batches, water temperature, ice and
// the scaling weight. The quantities are in package unit, what all
// calculations share in package reckon.
//
//	water, err := doughmath.WaterTemperature{
//		Target: unit.Celsius(26), Flour: unit.Celsius(21), Room: unit.Celsius(23),
//		Friction: 14, Basis: doughmath.FrictionOnce,
//	}.Solve()
//
// # Which calculation answers which question
//
// The formula and what to weigh:
//
//	What do I weigh for this much dough or flour?       FormulaScale
//	What are the baker's percentages of this dough?     FormulaFromWeights
//	What is the overall formula of several mixes?       FormulaFromMixes
//	How wet is this dough really?                       Hydration
//	How much water for this hydration?                  WaterForHydration
//	How much water does milk, egg or butter bring?      IngredientWater
//	How much milk or egg replaces this water?           LiquidForWater
//	What goes into the preferments and the final mix?   PrefermentSplit
//	What is this preferment's percentage otherwise?     PrefermentPercent
//	What makes the starter I need?                      StarterFeeding
//	In what ratio did I feed this starter?              RatioForFeeding
//
// The order, the batches and the piece:
//
//	How much dough do I scale for this baked weight?    ScalingWeight
//	What will this piece weigh when it is baked?        BakedWeightForDough
//	What does my bread lose?                            LossFromWeights
//	How much dough is this order, in how many batches?  BatchPlan
//	The same for an order of several pieces?            MixedBatchPlan
//	How many pieces does this dough give?               PiecesForDough
//	How much dough do 100 of flour give?                DoughYield
//	How much bread came of 100 of flour?                BreadYield
//	How much flour makes this much bread?               FlourForBread
//	How much dough can I make of what I have?           DoughForStock
//	What do the ingredients of a piece cost?            DoughCost
//
// The dough temperature by the factor rule:
//
//	Which dough temperature is usual?                   TargetTemperature
//	How warm must the water be?                         WaterTemperature
//	How warm will the dough be with this water?         DoughTemperatureForWater
//	What friction does this batch show?                 FrictionFactor
//	What friction does my log foresee?                  FrictionLog
//	Which sum must water, flour and room make?          BaseTemperature
//	Which dough does this base stand for?               DoughTemperatureForBase
//	How warm must the water be for my base?             WaterForBase
//	Which base did this batch have?                     BaseForWater
//	Too warm or too cold: what base and water next?     BaseCorrection
//
// Water and ice:
//
//	How much ice, and how much water?                   Ice
//	How cold does this ice make the water?              TemperatureForIce
//	Is this ice gone before mixing ends?                IceMelt
//	How thick may the ice be?                           SizeForIceMelt
//	How well does heat reach the ice in my mixer?       TransferForIceMelt
//	How much from the cold tap, how much from the hot?  WaterMix
//	How warm is water from two taps?                    TemperatureForWaterMix
//
// The dough temperature by the heat balance, and what it rests on:
//
//	How warm will the dough be?                         MixingHeat
//	How warm must the water be?                         WaterForMixingHeat
//	How much ice?                                       IceForMixingHeat
//	How much heat does my mixer really put in?          WorkForMixingHeat
//	What are the heat and density of water or ice?      WaterProperty
//	What are the heat and density of this dough?        DoughProperty
//	How dense is the dough with its gas?                DoughDensity
//	How much gas is in the dough?                       GasForDensity
//
// # Conventions
//
// A calculation is a value: a plain struct whose fields are the inputs. Its
// method Solve returns the answer, a struct too, and an error. An error means
// "cannot be computed" and names every bad value at once ([reckon.InputError],
// [reckon.NoSolutionError]). A condition in the result ([Conditions]) means
// "computed, but look". A caution ([reckon.Cautions]) is for people's safety and
// the law. A calculation that makes a list has Append besides Solve, which adds
// the rows to a slice of yours.
//
// [reckon.Explain] solves a calculation and shows how the answer comes about,
// in steps that can be keyed into a calculator. [reckon.Wrong] only tells what is
// wrong with the inputs, for a form. [reckon.Vary] asks what if.
//
// The inverse of F is called <Unknown>For<Known> and stands in the same file.
// The tag sym of a field is its symbol in the relation and the working, the tag
// range what it takes.
//
// Nothing here reads a file, a clock or a global. Everything may be called
// from several goroutines at once.
package doughmath
