// Package divider holds the arithmetic of the volumetric divider: the chamber
// and what it weighs, the handle and its marks, rate and hopper time, weight
// through a batch, check-weighing, net content, and divider oil and dusting flour.
//
// # Which calculation answers which question
//
// Rate and hopper:
//
//	How many pieces and how much dough an hour?   Rate
//	How many strokes for the rate I want?         StrokesForRate
//	How long does a batch stand in the hopper?    HopperTime, BatchForHopperTime
//	How far does the weight fall meanwhile?       WeightDrift, BatchForWeightDrift
//	How fast is this dough gassing?               HopperGrowth
//
// Handle and marks:
//
//	Which marks do I weigh, and how many pieces?  TrialPlan
//	What weight does each mark give?              MarkFit
//	Where do I set the handle for this weight?    MarkForWeight
//	What does a piece weigh at this mark?         WeightForMark
//	At which means is the handle left alone?      HandleBand
//	What do these weighings say of the mark?      WeighingVerdict
//	After this check, do I move the handle?       NextMark
//	Does one lane run heavier than the others?    LaneOffsets
//
// Chamber:
//
//	What weight does the chamber cut?             ChamberWeight
//	How large must the chamber be?                VolumeForChamberWeight
//	How much gas is in the dough?                 GasAfterMixing, GasForChamberWeight
//	How hard is the dough pressed?                PressureForChamberWeight
//
// Weighing pieces:
//
//	What do these pieces show about all pieces?   PieceSample, GroupSample
//	How many pieces must I weigh for the mean?    PiecesToWeigh, HalfWidthForPieces
//	How many, to notice that it has moved?        PiecesToDetect, ShiftForPieces
//	How many standard deviations do I allow?      ToleranceFactor
//	Do neighbouring pieces resemble one another?  WeighingCorrelation
//	Is my scale fine enough?                      ScaleDivision
//
// Control charts:
//
//	Is this run steady, and what are its limits?  SetUpChart
//	Has the divider changed since?                ControlChart, or Watch while weighing
//	How soon does a chart show a change?          RunLength, OperatingCurve
//	What are the constants of a chart?            ChartConstants
//	Are the pieces steady enough?                 Capability, SDForCapability
//
// Net content:
//
//	How far may one package fall short?           TolerableDeficiency
//	What may one loaf weigh?                      LoafLimits
//	Where must the mean weight be?                TargetWeight, SDForTarget
//	How many pieces are light?                    FractionBelow
//	Does this lot pass?                           LotCheck
//	How likely is such a lot to pass?             LotOperatingCurve, FractionForAcceptance
//
// Oil and flour:
//
//	How much divider oil does a day take?         OilUse
//	How long, or how far, may the valves be open? OilTimeForUse, OilRateForUse
//	How much dusting flour, by stickiness?        StickinessFit, FlourUse
//	How far open is the duster's slide?           SlideForFlow, FlowForSlide
//	How sticky is a dough that takes so much?     StickinessForFlour
//	What are the limits on flour dust?            DustLimit
//
// # How a mark is found
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
