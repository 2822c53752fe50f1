// Package molder is what happens between the divider and the pan: rounding
// drum, sheeting rollers, curling chain, pressure board, side guides, stamper
// and the belts between them. The quantities are in package unit, what all
// calculations share in package reckon.
//
// # Which calculation answers which question
//
// Rounding:
//
//	Which drum suits this piece?                       DrumChoice
//	What piece weights does this drum round?           PieceForDrum
//	How full should the cup be with this dough?        CupRatioFromTrials
//	How long is a piece rounded?                       RoundingTime
//	How fast must the drum turn for that?              DrumSpeedForRoundingTime
//	How long should this dough be rounded?             RoundingFromTrials
//	By how many motions is it rounded in a cup?        RoundingMotions
//	How fast must the rounder run for that?            SpeedForMotions
//	By how many should this dough be rounded?          MotionsFromTrials
//
// Sheeting:
//
//	How thick, long and wide is the sheet?             Sheet
//	What gap makes it this thick, or this long?        GapForThickness, GapForSheetLength
//	How much does the dough spring back?               RecoveryFromSheet
//	What is the least that it can spring back?         CalenderBound
//	How much longer than wide is the sheet?            AspectFromSheet
//	How should both pairs of rollers be set?           RollerGaps
//	How far can they close within the dough's limit?   LastGapForReduction
//	How many passes does it take?                      SheetingPasses
//	How thin does it get in this many?                 ThicknessForPasses
//	Which indicator number gives this gap?             IndicatorForGap
//	What gap does this number give?                    GapForIndicator
//	How well do the measured gaps lie on a line?       IndicatorFit
//
// Curling:
//
//	How many turns does the sheet make?                Curls
//	How long, or how thick, must it be for the turns?  LengthForTurns, ThicknessForTurns
//	How many turns does this gap give the piece?       TurnsForGap
//	What gap gives it the turns wanted?                GapForTurns
//	Which setting changes the turns most?              CurlSensitivity
//	How far off the true spiral is the area rule?      SpiralLength
//	At what height should the chain hang?              CurlingChain
//	Which pieces suit which height?                    ChainFromTrials
//
// Pressing and panning:
//
//	How long does the board make the piece?            PressureBoard
//	How high should the board be for this length?      BoardForLength
//	How long must the board be for the turns wanted?   BoardLengthForTurns
//	How many turns does the piece need to seal?        SealFromTrials
//	How far apart should the side guides be?           SideGuides
//	How long does the piece come out between them?     PieceLengthForGuides
//	How long does it come out for their distance?      GuideRatioFromPieces
//	Does the proofed piece fill its pan?               PanFit
//	What piece weight suits this pan?                  PieceForPan
//	How many pieces does the tray hold?                TrayFit
//	How heavy can they be for this many on it?         PieceForTray
//	How much does the dough grow, and flatten?         GrowthFromJar, FlatnessFromPieces
//
// Stamping:
//
//	How often must the stamper stamp?                  StampRate
//	How many pieces a minute keep step with it?        RateForStamps
//	How far does it drift out of step?                 StampDrift
//	How closely must its speed be set?                 StampsForRun
//
// Belts, flour and care:
//
//	How far apart are the pieces?                      PieceSpacing, BeltTrain
//	How fast must the belt run for this gap?           BeltForGap
//	How many pieces can this belt carry?               RateForGap
//	How often do pieces touch?                         DoublesRisk
//	How fast must the belt run to keep them apart?     BeltForDoubles
//	How evenly do the pieces arrive?                   ArrivalSD
//	How much of the dusting flour falls on the pieces? FlourShare
//	How much flour must the duster drop?               FlourForPiece
//	How should a part be washed, dried and stored?     PartCare
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
