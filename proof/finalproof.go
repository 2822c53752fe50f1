package proof

import (
	"math"
	"strconv"

	"example.com/dough/doughmath"
)

// Holder names what the pieces stand in while they proof.
type Holder string

const (
	// HolderRack is a rack that is rolled in when it is full and out as a
	// whole: its first piece waits for the last.
	HolderRack Holder = "rack"
	// HolderBox is a cabinet that is filled and emptied piece by piece in the
	// same order: it is bound while it is filled, but every piece stays the same time.
	HolderBox Holder = "box"
	// HolderContinuous is a carrier of a continuous proofer, on its way as soon as it is loaded.
	HolderContinuous Holder = "continuous"
)

// waits reports whether a holder is bound while it is filled.
func (h Holder) waits() bool { return h != HolderContinuous }

const (
	maxRate      doughmath.PieceRate = 100_000
	maxStay      doughmath.Duration  = 7 * 24 * 3600
	maxPerHolder                     = 1_000_000
)

// FinalProofLoadInput is a line that feeds a final proof.
type FinalProofLoadInput struct {
	Rate      doughmath.PieceRate `json:"rate"`               // pieces from the line while it runs, above 0 to 100000 pieces/min
	Stay      doughmath.Duration  `json:"stay"`               // time in the final proof, 1 s to 7 d
	Holder    Holder              `json:"holder"`             // "rack", "box" or "continuous"
	PerHolder int                 `json:"per_holder"`         // pieces in one rack, box or carrier, 1 to a million
	Handling  doughmath.Duration  `json:"handling,omitzero"`  // how long a holder is bound besides: moved, waiting for the oven, emptied, brought back; 0 to 7 d
	Batch     int                 `json:"batch,omitzero"`     // pieces between two gaps, 1 to 100 million; leave out if the line runs steadily
	Gap       doughmath.Duration  `json:"gap,omitzero"`       // time without pieces after each batch, 0 to 7 d; only with Batch
	Available int                 `json:"available,omitzero"` // holders that the plant has, if they are to be checked
}

// FinalProofLoadResult is the room that the final proof needs.
type FinalProofLoadResult struct {
	MeanRate   doughmath.PieceRate  `json:"mean_rate"`  // pieces with the gaps counted in
	Mean       float64              `json:"mean"`       // pieces in the final proof on average
	InProof    int                  `json:"in_proof"`   // most holders in the final proof at once
	Needed     int                  `json:"needed"`     // holders needed in all, so that the line never waits for one
	Fill       doughmath.Duration   `json:"fill"`       // time to fill a holder
	Spread     doughmath.Duration   `json:"spread"`     // by how much longer the first piece of a holder proofs than the last
	Conditions doughmath.Conditions `json:"conditions"` // overloaded (fewer available than needed)
}

// FinalProofLoad returns how many racks, boxes or carriers the final proof
// needs so that the line never waits, and how many pieces stand in it:
//
//	mean = mean rate x stay (Little's law), fill = per holder / rate
//	needed = ceil((fill + stay + handling) / fill), without the fill for a continuous proofer
//
// With gaps, the holders of whole cycles and those started in the rest are
// counted; each batch starts its own holder. The last, part-filled holder is
// counted as if it were filled, so that the answer is never too small.
//
// It is exact for a line that runs evenly. The same relation holds for an oven.
//
// It returns an *[doughmath.InputError] if:
//   - rate, stay, per_holder, handling, batch, gap or available is out of its range,
//   - holder is not named, or gap is given without batch,
//   - more than 100 million holders would be needed.
//
// Source: J. D. C. Little, Operations Research 9 (1961) 383 (content = rate x
// time); times of a plant line from the Institute of Food Technologists lesson
// in testdata/cases/proof/final-proof-load.json.
//
// The inverse is [RateForFinalProofLoad]; [ExplainFinalProofLoad] shows the working.
func FinalProofLoad(in FinalProofLoadInput) (FinalProofLoadResult, error) {
	return ExplainFinalProofLoad(in, nil)
}

func checkHolder(c *doughmath.Checks, h Holder, perHolder int, stay, handling doughmath.Duration) {
	doughmath.CheckRange(c, "stay", stay, 1, maxStay)
	doughmath.CheckWord(c, "holder", h, HolderRack, HolderBox, HolderContinuous)
	doughmath.CheckCount(c, "per_holder", perHolder, 1, maxPerHolder)
	doughmath.CheckRange(c, "handling", handling, 0, maxStay)
}

// ExplainFinalProofLoad is [FinalProofLoad] with its working.
func ExplainFinalProofLoad(in FinalProofLoadInput, w *doughmath.Working) (out FinalProofLoadResult, err error) {
	c := doughmath.Checks{Func: "final-proof-load"}
	checkRate(&c, "rate", in.Rate)
	checkHolder(&c, in.Holder, in.PerHolder, in.Stay, in.Handling)
	if in.Batch != 0 {
		doughmath.CheckCount(&c, "batch", in.Batch, 1, maxPieces)
		doughmath.CheckRange(&c, "gap", in.Gap, 0, maxStay)
	} else if in.Gap != 0 {
		c.Fail("gap", in.Gap.String(), "nothing, or the batch after which it comes")
	}
	if in.Available != 0 {
		doughmath.CheckCount(&c, "available", in.Available, 1, maxPieces)
	}
	if err := c.Err(); err != nil {
		return FinalProofLoadResult{}, err
	}
	out = FinalProofLoadResult{MeanRate: in.Rate, Fill: doughmath.Duration(float64(in.PerHolder) / float64(in.Rate) * 60)}
	cycle := 0.0 // a batch and its gap
	if in.Batch != 0 {
		cycle = float64(float64(in.Batch)/float64(in.Rate)*60) + float64(in.Gap)
		out.MeanRate = doughmath.PieceRate(float64(in.Batch) / cycle * 60)
	}
	out.Mean = float64(out.MeanRate) * in.Stay.Minutes()
	if in.Holder == HolderRack {
		out.Spread = out.Fill
	}
	bound := float64(in.Stay) + float64(in.Handling)
	if in.Holder.waits() {
		bound += float64(out.Fill)
	}
	if many := in.started(bound, cycle); many > maxPieces {
		c.Fail("per_holder", strconv.Itoa(in.PerHolder), "more pieces in a holder: at this rate "+number(many)+" of them would be needed")
		return FinalProofLoadResult{}, c.Err()
	}
	out.InProof = int(in.started(float64(in.Stay), cycle))
	out.Needed = int(in.started(bound, cycle))
	if in.Available != 0 && in.Available < out.Needed {
		out.Conditions |= doughmath.Overloaded
	}
	if w != nil {
		in.explain(w, out, cycle, bound)
	}
	return out, nil
}

// checkRate wants a rate that is above nothing and no slip of digits.
func checkRate(c *doughmath.Checks, field string, r doughmath.PieceRate) {
	// The slowest is a piece a day.
	doughmath.CheckRange(c, field, r, 1.0/1440, maxRate)
}

// started returns the most holders started within a time, a half-open stretch
// that begins with a batch: then the most of them fall into it.
func (in FinalProofLoadInput) started(time, cycle float64) float64 {
	perSecond := float64(in.Rate) / 60
	if in.Batch == 0 {
		return wholeUp(time * perSecond / float64(in.PerHolder))
	}
	each := float64((in.Batch + in.PerHolder - 1) / in.PerHolder)
	cycles := math.Floor(time / cycle)
	rest := time - float64(cycles*cycle)
	return float64(cycles*each) + math.Min(each, wholeUp(rest*perSecond/float64(in.PerHolder)))
}

// wholeUp rounds up, but not for a speck of binary rounding above a whole number.
func wholeUp(v float64) float64 {
	if near := math.Round(v); math.Abs(v-near) <= 1e-9*math.Max(1, v) {
		return near
	}
	return math.Ceil(v)
}

func (in FinalProofLoadInput) explain(w *doughmath.Working, out FinalProofLoadResult, cycle, bound float64) {
	w.Given("pieces a minute", "R", float64(in.Rate), "pieces/min", "")
	w.Given("stay", "t", float64(in.Stay), "s", "")
	w.Given("pieces in a holder", "k", float64(in.PerHolder), "", "")
	w.Given("handling", "h", float64(in.Handling), "s", "")
	w.Step("time to fill a holder", "f", "k / R * 60", float64(out.Fill), "s", "")
	if in.Holder.waits() {
		w.Step("time that a holder is bound", "b", "t + h + f", bound, "s", "filled, proofed, handled")
	} else {
		w.Step("time that a holder is bound", "b", "t + h", bound, "s", "proofed and handled; it moves while it is loaded")
	}
	if in.Batch == 0 {
		w.Step("pieces in the final proof on average", "m", "R * (t / 60)", out.Mean, "", "Little's law")
		w.Step("holders needed", "n", "ceil(b * R / 60 / k)", float64(out.Needed), "", "one is started every f")
		return
	}
	each := (in.Batch + in.PerHolder - 1) / in.PerHolder
	w.Given("pieces in a batch", "B", float64(in.Batch), "", "")
	w.Given("gap after a batch", "g", float64(in.Gap), "s", "")
	w.Step("a batch and its gap", "c", "B / R * 60 + g", cycle, "s", "")
	w.Step("mean rate", "R_m", "B / c * 60", float64(out.MeanRate), "pieces/min", "gaps counted in")
	w.Step("pieces in the final proof on average", "m", "R_m * (t / 60)", out.Mean, "", "Little's law")
	w.Step("holders started by a batch", "u", "ceil(B / k)", float64(each), "", "")
	w.Step("whole cycles while a holder is bound", "q", "floor(b / c)", math.Floor(bound/cycle), "", "")
	w.Step("holders needed", "n", "q*u + min(u, ceil((b - q*c) * R / 60 / k))", float64(out.Needed), "", "those of whole cycles and of the rest")
}

// RateForFinalProofLoadInput is the room that there is.
type RateForFinalProofLoadInput struct {
	Available int                `json:"available"`         // racks, boxes or carriers in all, 1 to 100 million; 2 or more unless continuous
	PerHolder int                `json:"per_holder"`        // pieces in one rack, box or carrier, 1 to a million
	Holder    Holder             `json:"holder"`            // "rack", "box" or "continuous"
	Stay      doughmath.Duration `json:"stay"`              // time in the final proof or oven, 1 s to 7 d
	Handling  doughmath.Duration `json:"handling,omitzero"` // how long a holder is bound besides, 0 to 7 d
	Piece     doughmath.Mass     `json:"piece,omitzero"`    // mass of a piece, up to 100 kg, if kilograms an hour are wanted
}

// RateForFinalProofLoadResult is what the room can take.
type RateForFinalProofLoadResult struct {
	Rate     doughmath.PieceRate `json:"rate"`      // highest steady rate at which the line never waits
	MassRate doughmath.MassRate  `json:"mass_rate"` // the same by mass; 0 if the piece is not given
}

// RateForFinalProofLoad returns the highest steady rate that a final proof, or
// an oven, of given room can take:
//
//	R = n * k / (stay + handling), with n - 1 in place of n for racks and boxes
//
// since one rack or box is always being filled. It is the inverse of
// [FinalProofLoad] for a line that runs steadily.
//
// It returns an *[doughmath.InputError] if:
//   - available, per_holder, stay, handling or piece is out of its range,
//   - holder is not named,
//   - there is only one rack or box: the line waits while it proofs.
//
// Source: oven capacities of course projects in
// testdata/cases/proof/rate-for-final-proof-load.json; Little's law.
//
// The inverse is [FinalProofLoad]; [ExplainRateForFinalProofLoad] shows the working.
func RateForFinalProofLoad(in RateForFinalProofLoadInput) (RateForFinalProofLoadResult, error) {
	return ExplainRateForFinalProofLoad(in, nil)
}

// ExplainRateForFinalProofLoad is [RateForFinalProofLoad] with its working.
func ExplainRateForFinalProofLoad(in RateForFinalProofLoadInput, w *doughmath.Working) (out RateForFinalProofLoadResult, err error) {
	c := doughmath.Checks{Func: "rate-for-final-proof-load"}
	if in.Holder == HolderContinuous {
		doughmath.CheckCount(&c, "available", in.Available, 1, maxPieces)
	} else {
		doughmath.CheckCount(&c, "available", in.Available, 2, maxPieces)
	}
	checkHolder(&c, in.Holder, in.PerHolder, in.Stay, in.Handling)
	if in.Piece != 0 {
		doughmath.CheckRange(&c, "piece", in.Piece, 0, doughmath.Kilograms(100))
	}
	if err := c.Err(); err != nil {
		return RateForFinalProofLoadResult{}, err
	}
	busy := in.Available
	if in.Holder.waits() {
		busy--
	}
	bound := float64(in.Stay) + float64(in.Handling)
	out = RateForFinalProofLoadResult{Rate: doughmath.PieceRate(float64(busy) * float64(in.PerHolder) / bound * 60)}
	out.MassRate = doughmath.KilogramsPerHour(out.Rate.PiecesPerHour() * in.Piece.Kilograms())
	if w != nil {
		w.Given("holders", "n", float64(in.Available), "", "")
		w.Given("pieces in a holder", "k", float64(in.PerHolder), "", "")
		w.Given("stay", "t", float64(in.Stay), "s", "")
		w.Given("handling", "h", float64(in.Handling), "s", "")
		w.Given("mass of a piece", "m", float64(in.Piece), "g", "")
		expression, why := "n * k / (t + h) * 60", ""
		if in.Holder.waits() {
			expression, why = "(n - 1) * k / (t + h) * 60", "one is being filled"
		}
		w.Step("pieces a minute", "R", expression, float64(out.Rate), "pieces/min", why)
		w.Step("by mass", "M", "R * 60 * (m / 1000)", float64(out.MassRate), "kg/h", "")
	}
	return out, nil
}
