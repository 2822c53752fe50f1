// Package doughmath is the mixing room: the calculations that come before the
// divider, from a formula and an order to batches, water temperature, ice and
// the scaling weight. The quantities are in package unit, what all
// calculations share in package reckon.
//
//	water, err := doughmath.WaterTemperature{
//		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
//		Friction: 14, Basis: doughmath.FrictionOnce,
//	}.Solve()
//
// # Which calculation answers which question
//
// The formula and what to weigh:
//
//	What do I weigh out for this much dough or flour?   FormulaScale
//	What are the baker's percentages of this dough?     FormulaFromWeights
//	What is the overall formula of several mixes?       FormulaFromMixes
//	What is the true hydration of this dough?           Hydration
//	How much water do I add for this hydration?         WaterForHydration
//	How much water is in milk, egg or butter?           IngredientWater
//	How much milk or egg in place of this water?        LiquidForWater
//	What goes into the preferments and the final mix?   PrefermentSplit
//	What is its percentage counted the other ways?      PrefermentPercent
//	What do I mix for the starter I need?               StarterFeeding
//	In what ratio did I feed this starter?              RatioForFeeding
//
// The order, the batches and the piece:
//
//	What dough weight for this baked weight?            ScalingWeight
//	What will this piece weigh once it is baked?        BakedWeightForDough
//	How much weight does my bread lose?                 LossFromWeights
//	How much dough, in how many batches?                BatchPlan
//	The same for a mixed order?                         MixedBatchPlan
//	How many pieces do I get from this dough?           PiecesForDough
//	How much dough from 100 parts of flour?             DoughYield
//	How much bread from 100 parts of flour?             BreadYield
//	How much flour for this much bread?                 FlourForBread
//	How much dough can I make with what I have?         DoughForStock
//	What do the ingredients of one piece cost?          DoughCost
//
// The dough temperature by the factor rule:
//
//	What dough temperature is usual?                    TargetTemperature
//	How warm must the water be?                         WaterTemperature
//	How warm will the dough be with this water?         DoughTemperatureForWater
//	What friction factor does this batch show?          FrictionFactor
//	What friction does my log predict?                  FrictionLog
//	What base temperature do I work to?                 BaseTemperature
//	What dough temperature does this base give?         DoughTemperatureForBase
//	How warm must the water be for my base?             WaterForBase
//	What base did this batch have?                      BaseForWater
//	Too warm or too cold: what base and water next?     BaseCorrection
//
// Water and ice:
//
//	How much ice, and how much water?                   Ice
//	How cold does this much ice make the water?         TemperatureForIce
//	Will this ice melt before mixing ends?              IceMelt
//	How thick can the ice be?                           SizeForIceMelt
//	How well does heat reach the ice in my mixer?       TransferForIceMelt
//	How much from the cold tap, how much from the hot?  WaterMix
//	How warm is the water when I mix these two?         TemperatureForWaterMix
//
// The dough temperature by the heat balance, and what it rests on:
//
//	How warm will the dough be?                         MixingHeat
//	How warm must the water be?                         WaterForMixingHeat
//	How much ice?                                       IceForMixingHeat
//	How much heat does my mixer really put in?          WorkForMixingHeat
//	What are the heat and density of water or ice?      WaterProperty
//	What are the heat and density of this dough?        DoughProperty
//	How dense is the dough with gas in it?              DoughDensity
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
// in steps that can be keyed into a calculator. [reckon.Wrong] says only what is
// wrong with the inputs, for a form. [reckon.Vary] asks what if.
//
// The inverse of F is called <Unknown>For<Known> and stands in the same file.
// The tag sym of a field is its symbol in the relation and the working, the tag
// range what it takes.
//
// Nothing here reads a file, a clock or a global. Everything may be called
// from several goroutines at once.
package doughmath
