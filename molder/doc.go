// Package molder is what happens between the divider and the pan: rounding
// drum, sheeting rollers, curling chain, pressure board, side guides, stamper
// and the belts between them. The quantities are in package unit, what all
// calculations share in package reckon.
//
// # Which calculation answers which question
//
// Rounding:
//
//	Which drum takes this piece?                       DrumChoice
//	Which pieces does this drum take?                  PieceForDrum
//	How full may the cup be for this dough?            FillFromTrials
//	How long is a piece rounded?                       RoundingTime
//	How fast must the drum turn for that?              DrumSpeedForRoundingTime
//	How long must this dough be rounded?               RoundingFromTrials
//
// Sheeting:
//
//	How thick, long and wide is the sheet?             Sheet
//	Which gap makes it so thick, or so long?           GapForThickness, GapForSheetLength
//	How far does the dough spring back?                RecoveryFromSheet
//	What is the least that it springs back?            CalenderBound
//	How much longer than wide does it sheet?           AspectFromSheet
//	Where do two pairs of rollers go?                  RollerGaps
//	How far may they close within the dough's limit?   LastGapForReduction
//	How many passes does it take?                      SheetingPasses
//	How thin does it get in so many?                   ThicknessForPasses
//	Which number at the indicator is this gap?         IndicatorForGap
//	Which gap is this number?                          GapForIndicator
//	How well do the measured gaps lie on a line?       IndicatorFit
//
// Curling:
//
//	How many turns does the sheet make?                Curls
//	How long, or how thick, must it be for the turns?  LengthForTurns, ThicknessForTurns
//	How many turns does this gap give the piece?       TurnsForGap
//	Which gap gives it the turns wanted?               GapForTurns
//	Which setting changes the turns most?              CurlSensitivity
//	How far is the area rule from the true spiral?     SpiralLength
//	At which height does the chain hang?               CurlingChain
//	Which pieces go with which height?                 ChainFromTrials
//
// Pressing and panning:
//
//	How long does the board make the piece?            PressureBoard
//	How high does the board stand for this length?     BoardForLength
//	How long must the board be for the turns wanted?   BoardLengthForTurns
//	How often must the piece turn to seal?             SealFromTrials
//	How far apart do the side guides stand?            SideGuides
//	How long does the piece come out between them?     PieceLengthForGuides
//	How does the piece follow the guides?              SpreadFromPieces
//	Does the proofed piece fill its pan?               PanFit
//	Which piece suits this pan?                        PieceForPan
//	How many pieces does the tray hold?                TrayFit
//	Which piece fits so often on the tray?             PieceForTray
//	How far does the dough grow, and how far sag?      GrowthFromJar, FlatnessFromPieces
//
// Stamping:
//
//	How often must the stamper stamp?                  StampRate
//	Which discharge keeps step with it?                RateForStamps
//	How far does it drift out of step?                 StampDrift
//	How well must its speed agree?                     StampsForRun
//
// Belts, flour and care:
//
//	How far apart do the pieces run?                   PieceSpacing, BeltTrain
//	How fast must the belt run for this gap?           BeltForGap
//	How many pieces does this belt take?               RateForGap
//	How often do pieces touch?                         DoublesRisk
//	How fast must the belt run to part them?           BeltForDoubles
//	How evenly do the pieces come?                     ArrivalSpread
//	How much of the dusting flour meets the pieces?    FlourShare
//	How much flour must the duster drop?               FlourForPiece
//	How is a part washed, dried and stored?            PartCare
//
// # Conventions
//
// Dough is taken as incompressible: a piece of given mass and density keeps
// its volume while its shape changes. What dough does beyond that (springs
// back behind the rollers, spreads, seals) is measured on the line and put in;
// an answer that rests on a value not measured there says so by the condition
// [reckon.Uncalibrated]. A calculation called <Something>From<Measurements>
// turns such measurements into the value that another one takes.
//
// A calculation is a struct of its inputs; see [reckon.Calculation]. An error
// means "cannot be computed" and names every bad value at once
// ([reckon.InputError], [reckon.NoSolutionError]). A condition in the answer
// ([Conditions]) means "computed, but look". A caution ([reckon.Cautions]) is
// for people's safety and the law. The inverse of F is called
// <Unknown>For<Known>.
package molder
