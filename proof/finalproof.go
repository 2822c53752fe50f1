package proof

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
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
	maxRate      unit.PieceRate = 100_000
	maxStay      unit.Duration  = 7 * 24 * 3600
	maxPerHolder                = 1_000_000
)

// FinalProofLoad returns how many racks, boxes or carriers the final proof
// needs so that the line never waits, and how many pieces stand in it:
//
//	mean = mean rate x stay (Little's law), fill = per holder / rate
//	needed = ceil((fill + stay + handling) / fill), without the fill for a continuous proofer
//
// With batches of B pieces and gaps, all counted in pieces at the line's rate,
// u holders of k pieces are started by a batch and the last of them holds r:
//
//	u = ceil(B / k), r = B - (u - 1)*k, c = B + gap * rate, x = (fill + stay + handling) * rate, q = floor(x / c)
//	needed = q*u + min(u, ceil((x - q*c + e) / k)), e = max(0, k - r - gap * rate)
//
// by so much e the next holder is started early behind a part-filled one. For
// racks and boxes e is 0 where x - q*c is at most k, and the fill is that of a
// whole batch if a batch fills none. Each batch starts its own holder; a
// part-filled one goes in when its last piece is on it.
//
// It is exact for a line that makes such batches one after the other for long
// enough: with as many holders each is back when it is wanted again, and with
// one fewer the line waits in the end. A holder that comes back at the very
// moment, to a billionth of stay and handling, is in time. The same relation
// holds for an oven.
//
// It returns an *[reckon.InputError] if:
//   - rate, stay, per_holder, handling, batch, gap or available is out of its range,
//   - holder is not named, or gap is given without batch,
//   - more than 100 million holders would be needed.
//
// Source: J. D. C. Little, Operations Research 9 (1961) 383 (content = rate x
// time); times of a plant line from the Institute of Food Technologists lesson
// in testdata/cases/proof/final-proof-load.json; with batches derived from the
// times at which holders are started and come back.
//
// The inverse is [RateForFinalProofLoad].
type FinalProofLoad struct {
	Rate      unit.PieceRate `json:"rate"`               // pieces from the line while it runs, above 0 to 100000 pieces/min
	Stay      unit.Duration  `json:"stay"`               // time in the final proof, 1 s to 7 d
	Holder    Holder         `json:"holder"`             // "rack", "box" or "continuous"
	PerHolder int            `json:"per_holder"`         // pieces in one rack, box or carrier, 1 to a million
	Handling  unit.Duration  `json:"handling,omitzero"`  // how long a holder is bound besides: moved, waiting for the oven, emptied, brought back; 0 to 7 d
	Batch     int            `json:"batch,omitzero"`     // pieces between two gaps, 1 to 100 million; leave out if the line runs steadily
	Gap       unit.Duration  `json:"gap,omitzero"`       // time without pieces after each batch, 0 to 7 d; only with batch
	Available int            `json:"available,omitzero"` // holders that the plant has, if they are to be checked
}

func (FinalProofLoad) ID() string { return "final-proof-load" }

// SHELL
func (q FinalProofLoad) Check(c *reckon.Checks) {
	_, err := explainFinalProofLoad(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FinalProofLoad) Solve() (FinalProofLoadResult, error) { return explainFinalProofLoad(q, nil) }

func (q FinalProofLoad) Show(w *reckon.Working, _ FinalProofLoadResult) {
	_, _ = explainFinalProofLoad(q, w)
}

// FinalProofLoadResult is the room that the final proof needs.
type FinalProofLoadResult struct {
	MeanRate   unit.PieceRate `json:"mean_rate"`  // pieces with the gaps counted in
	Mean       float64        `json:"mean"`       // pieces in the final proof on average
	InProof    int            `json:"in_proof"`   // most holders in the final proof at once, each for its stay: a rack or box from when its last piece is in, a carrier from its first
	Needed     int            `json:"needed"`     // holders needed in all, so that the line never waits for one
	Fill       unit.Duration  `json:"fill"`       // time to fill a holder
	Spread     unit.Duration  `json:"spread"`     // by how much longer the first piece of a holder proofs than the last
	Conditions Conditions     `json:"conditions"` // overloaded (fewer available than needed)
}

func checkHolder(c *reckon.Checks, h Holder, perHolder int, stay, handling unit.Duration) {
	reckon.CheckRange(c, "stay", stay, 1, maxStay)
	reckon.CheckWord(c, "holder", h, HolderRack, HolderBox, HolderContinuous)
	reckon.CheckCount(c, "per_holder", perHolder, 1, maxPerHolder)
	reckon.CheckRange(c, "handling", handling, 0, maxStay)
}

// checkBatch checks the batches of a line, if it has any.
func checkBatch(c *reckon.Checks, batch int, gap unit.Duration) {
	if batch != 0 {
		reckon.CheckCount(c, "batch", batch, 1, maxPieces)
		reckon.CheckRange(c, "gap", gap, 0, maxStay)
	} else if gap != 0 {
		c.Fail("gap", gap.String(), "nothing, or the batch after which it comes")
	}
}

func explainFinalProofLoad(in FinalProofLoad, w *reckon.Working) (out FinalProofLoadResult, err error) {
	c := reckon.Checks{Func: "final-proof-load"}
	checkRate(&c, "rate", in.Rate)
	checkHolder(&c, in.Holder, in.PerHolder, in.Stay, in.Handling)
	checkBatch(&c, in.Batch, in.Gap)
	if in.Available != 0 {
		reckon.CheckCount(&c, "available", in.Available, 1, maxPieces)
	}
	if err := c.Err(); err != nil {
		return FinalProofLoadResult{}, err
	}
	out = FinalProofLoadResult{MeanRate: in.Rate, Fill: unit.Duration(float64(in.PerHolder) / float64(in.Rate) * 60)}
	if in.Batch != 0 {
		cycle := float64(float64(in.Batch)/float64(in.Rate)*60) + float64(in.Gap)
		out.MeanRate = unit.PieceRate(float64(in.Batch) / cycle * 60)
	}
	out.Mean = float64(out.MeanRate) * in.Stay.Minutes()
	if in.Holder == HolderRack {
		out.Spread = out.Fill
	}
	l := in.load()
	needed := l.needed()
	if needed > maxPieces {
		c.Fail("per_holder", strconv.Itoa(in.PerHolder), "more pieces in a holder: at this rate "+number(needed)+" of them would be needed")
		return FinalProofLoadResult{}, c.Err()
	}
	out.InProof, out.Needed = int(l.inProof()), int(needed)
	if in.Available != 0 && in.Available < out.Needed {
		out.Conditions |= Overloaded
	}
	if w != nil {
		in.explain(w, out, l)
	}
	return out, nil
}

// checkRate wants a rate that is above nothing and no slip of digits.
func checkRate(c *reckon.Checks, field string, r unit.PieceRate) {
	// The slowest is a piece a day.
	reckon.CheckRange(c, field, r, 1.0/1440, maxRate)
}

// onTime is the part of a stay after which a holder counts as back: a speck of
// binary rounding does not make it late.
const onTime = 1 - 1e-9

// load is a final proof with every time counted in the pieces that the line
// makes meanwhile. A steady line makes batches of one holder without a gap.
type load struct {
	waits   bool
	k       float64 // pieces in a holder
	batch   float64
	u, last float64 // holders started by a batch, and the pieces in the last
	gap     float64
	cycle   float64 // a batch and its gap
	stay    float64
	away    float64 // stay and handling
}

// holders returns how many holders of so many pieces a batch starts, and what the last of them holds.
func holders(batch, perHolder int) (started, last int) {
	started = (batch + perHolder - 1) / perHolder
	return started, batch - (started-1)*perHolder
}

func (in FinalProofLoad) load() load {
	rate, batch := float64(in.Rate), in.Batch
	if batch == 0 {
		batch = in.PerHolder
	}
	l := load{waits: in.Holder.waits(), k: float64(in.PerHolder), batch: float64(batch)}
	u, last := holders(batch, in.PerHolder)
	l.u, l.last = float64(u), float64(last)
	l.gap = float64(float64(in.Gap) * rate / 60)
	l.cycle = l.batch + l.gap
	l.stay = float64(in.Stay) * rate / 60
	l.away = (float64(in.Stay) + float64(in.Handling)) * rate / 60
	return l
}

// bound returns for how long a full holder is bound, a hair less than in truth.
func (l load) bound() float64 {
	if l.waits {
		return float64(l.away*onTime) + math.Min(l.k, l.batch)
	}
	return float64(l.away * onTime)
}

// early returns by how much sooner a holder is started behind a part-filled one
// than behind a full one, as far as it matters for a time that is by rest
// longer than whole cycles.
func (l load) early(rest float64) float64 {
	// A rack that is bound for its own filling at most is back before the last of its batch is full.
	if l.waits && rest <= l.k {
		return 0
	}
	return math.Max(0, l.k-l.last-l.gap)
}

// cycles returns the whole cycles in a time, and what is left of it.
func (l load) cycles(x float64) (q, rest float64) {
	q = math.Floor(x / l.cycle)
	return q, x - float64(q*l.cycle)
}

// needed returns how many holders let each come back before it is wanted again.
// With n = q*u + m holders and 0 <= m < u it is wanted n starts later, and
// there are two kinds of them: one that comes back within the batch that wants
// it, q cycles and m holders later, and one with a part-filled holder, and so
// one gap more, in between.
func (l load) needed() float64 {
	q, rest := l.cycles(l.bound())
	return float64(q*l.u) + math.Min(l.u, math.Ceil((rest+l.early(rest))/l.k))
}

// inProof returns the most holders that are in the final proof at once. Racks
// and boxes count from when they are full: the part-filled one follows upon the
// one before it by as much too early as it holds less.
func (l load) inProof() float64 {
	q, rest := l.cycles(float64(l.stay * onTime))
	early := l.k - l.last
	if !l.waits {
		early = math.Max(0, early-l.gap)
	}
	return float64(q*l.u) + math.Min(l.u, math.Ceil((rest+early)/l.k))
}

func (in FinalProofLoad) explain(w *reckon.Working, out FinalProofLoadResult, l load) {
	w.Given("pieces a minute", "R", float64(in.Rate), "pieces/min", "")
	w.Given("stay", "t", float64(in.Stay), "s", "")
	w.Given("pieces in a holder", "k", float64(in.PerHolder), "", "")
	w.Given("handling", "h", float64(in.Handling), "s", "")
	w.Step("time to fill a holder", "f", "k / R * 60", float64(out.Fill), "s", "")
	const onTheDot = "1e-9 less, so that one that comes back at the very moment is in time"
	x, batches := l.bound(), in.Batch != 0
	if batches {
		w.Given("pieces in a batch", "B", float64(in.Batch), "", "")
		w.Given("gap after a batch", "g", float64(in.Gap), "s", "")
		cycle := float64(float64(in.Batch)/float64(in.Rate)*60) + float64(in.Gap)
		w.Step("a batch and its gap", "d", "B / R * 60 + g", cycle, "s", "")
		w.Step("mean rate", "R_m", "B / d * 60", float64(out.MeanRate), "pieces/min", "gaps counted in")
		w.Step("pieces in the final proof on average", "m", "R_m * (t / 60)", out.Mean, "", "Little's law")
	} else {
		w.Step("pieces in the final proof on average", "m", "R * (t / 60)", out.Mean, "", "Little's law")
	}
	switch {
	case l.waits && batches:
		w.Step("pieces made while a holder is bound", "x", "(t + h) * R / 60 * (1 - 1e-9) + min(k, B)", x, "", "filled, proofed, handled; "+onTheDot)
	case l.waits:
		w.Step("pieces made while a holder is bound", "x", "(t + h) * R / 60 * (1 - 1e-9) + k", x, "", "filled, proofed, handled; "+onTheDot)
	default:
		w.Step("pieces made while a holder is bound", "x", "(t + h) * R / 60 * (1 - 1e-9)", x, "", "proofed and handled, it moves while it is loaded; "+onTheDot)
	}
	if !batches {
		w.Step("holders in the proof at once", "n_p", "ceil(t * R / 60 * (1 - 1e-9) / k)", float64(out.InProof), "", "")
		w.Step("holders needed", "n", "ceil(x / k)", float64(out.Needed), "", "one is started every k pieces")
		return
	}
	w.Step("holders started by a batch", "u", "ceil(B / k)", l.u, "", "")
	w.Step("pieces in the last of them", "r", "B - (u - 1) * k", l.last, "", "")
	w.Step("gap, in pieces", "g_p", "g * R / 60", l.gap, "", "")
	w.Step("a batch and its gap, in pieces", "c", "B + g_p", l.cycle, "", "")
	q, rest := l.cycles(x)
	w.Step("whole cycles while a holder is bound", "q", "floor(x / c)", q, "", "")
	w.Step("what is left", "y", "x - q * c", rest, "", "")
	if early := l.early(rest); l.waits && rest <= l.k {
		w.Given("start that comes early behind a part-filled holder", "e", early, "", "none matters within the filling of a holder")
	} else {
		w.Step("start that comes early behind a part-filled holder", "e", "max(0, k - r - g_p)", early, "", "by what it holds less, but for the gap")
	}
	w.Given("holders in the proof at once", "n_p", float64(out.InProof), "", "counted in the same way over the stay alone")
	w.Step("holders needed", "n", "q * u + min(u, ceil((y + e) / k))", float64(out.Needed), "", "those of whole cycles and of the rest")
}

// RateForFinalProofLoad returns the highest rate that a final proof, or an
// oven, of given room can take:
//
//	R = n * k / (stay + handling), with n - 1 in place of n for racks and boxes
//
// since one rack or box is always being filled. With batches of B pieces,
// which start u holders and put r into the last, and n = q*u + m, 0 <= m < u:
//
//	R = min(R_1, R_2), u = ceil(B / k), r = B - (u - 1)*k, q = floor(n / u)
//	R_1 = (q*B + m*k) / (stay + handling - q*gap)
//	R_2 = (q*B + (m - 1)*k + r) / (stay + handling - (q + 1)*gap), only if m >= 1
//
// for a continuous proofer; for racks and boxes the smaller of k and B is
// taken off above the line in R_1, and k off in R_2, which counts only if
// m >= 2. A rate whose divisor is not above 0 does not bind.
//
// It is the inverse of [FinalProofLoad], with the same validity: at this rate
// the room is just enough.
//
// It returns an *[reckon.InputError] if:
//   - available, per_holder, stay, handling, batch, gap or piece is out of its range,
//   - holder is not named, or gap is given without batch,
//   - there is only one rack or box: the line waits while it proofs,
//   - the room is enough for any rate up to 100000 pieces/min.
//
// Source: oven capacities of course projects in
// testdata/cases/proof/rate-for-final-proof-load.json; Little's law; with
// batches derived from the times at which holders are started and come back.
//
// The inverse is [FinalProofLoad].
type RateForFinalProofLoad struct {
	Available int           `json:"available"`         // racks, boxes or carriers in all, 1 to 100 million; 2 or more unless continuous
	PerHolder int           `json:"per_holder"`        // pieces in one rack, box or carrier, 1 to a million
	Holder    Holder        `json:"holder"`            // "rack", "box" or "continuous"
	Stay      unit.Duration `json:"stay"`              // time in the final proof or oven, 1 s to 7 d
	Handling  unit.Duration `json:"handling,omitzero"` // how long a holder is bound besides, 0 to 7 d
	Batch     int           `json:"batch,omitzero"`    // pieces between two gaps, 1 to 100 million; leave out if the line runs steadily
	Gap       unit.Duration `json:"gap,omitzero"`      // time without pieces after each batch, 0 to 7 d; only with batch
	Piece     unit.Mass     `json:"piece,omitzero"`    // mass of a piece, up to 100 kg, if kilograms an hour are wanted
}

func (RateForFinalProofLoad) ID() string { return "rate-for-final-proof-load" }

// SHELL
func (q RateForFinalProofLoad) Check(c *reckon.Checks) {
	_, err := explainRateForFinalProofLoad(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RateForFinalProofLoad) Solve() (RateForFinalProofLoadResult, error) {
	return explainRateForFinalProofLoad(q, nil)
}

func (q RateForFinalProofLoad) Show(w *reckon.Working, _ RateForFinalProofLoadResult) {
	_, _ = explainRateForFinalProofLoad(q, w)
}

// RateForFinalProofLoadResult is what the room can take.
type RateForFinalProofLoadResult struct {
	Rate     unit.PieceRate `json:"rate"`      // highest rate at which the line never waits, while it runs
	MassRate unit.MassRate  `json:"mass_rate"` // the same by mass; 0 if the piece is not given
}

func explainRateForFinalProofLoad(in RateForFinalProofLoad, w *reckon.Working) (out RateForFinalProofLoadResult, err error) {
	c := reckon.Checks{Func: "rate-for-final-proof-load"}
	if in.Holder == HolderContinuous {
		reckon.CheckCount(&c, "available", in.Available, 1, maxPieces)
	} else {
		reckon.CheckCount(&c, "available", in.Available, 2, maxPieces)
	}
	checkHolder(&c, in.Holder, in.PerHolder, in.Stay, in.Handling)
	checkBatch(&c, in.Batch, in.Gap)
	if in.Piece != 0 {
		reckon.CheckRange(&c, "piece", in.Piece, 0, unit.Kilograms(100))
	}
	if err := c.Err(); err != nil {
		return RateForFinalProofLoadResult{}, err
	}
	f := in.room()
	first, second := f.rates()
	out.Rate = unit.PieceRate(math.Min(first, second))
	if out.Rate > maxRate {
		c.Fail("available", strconv.Itoa(in.Available), "fewer: so many are enough for any rate up to "+maxRate.String())
		return RateForFinalProofLoadResult{}, c.Err()
	}
	out.MassRate = unit.KilogramsPerHour(out.Rate.PiecesPerHour() * in.Piece.Kilograms())
	if w != nil {
		w.Given("holders", "n", float64(in.Available), "", "")
		w.Given("pieces in a holder", "k", float64(in.PerHolder), "", "")
		w.Given("stay", "t", float64(in.Stay), "s", "")
		w.Given("handling", "h", float64(in.Handling), "s", "")
		w.Given("mass of a piece", "m", float64(in.Piece), "g", "")
		if in.Batch == 0 {
			expression, why := "n * k / (t + h) * 60", ""
			if in.Holder.waits() {
				expression, why = "(n - 1) * k / (t + h) * 60", "one is being filled"
			}
			w.Step("pieces a minute", "R", expression, float64(out.Rate), "pieces/min", why)
		} else {
			in.explainBatches(w, f, first, second)
		}
		w.Step("by mass", "M", "R * 60 * (m / 1000)", float64(out.MassRate), "kg/h", "")
	}
	return out, nil
}

// room is what a number of holders can take between a start and the one that
// needs the same holder again: pieces made and gaps gone by.
type room struct {
	away, gap      float64 // s
	q, over        float64 // whole batches, and holders besides
	first, second  float64 // pieces made before a holder must be back: within a batch, and past one more gap
	secondHappens  bool
	perBatch, last float64 // holders started by a batch, pieces in the last
}

func (in RateForFinalProofLoad) room() room {
	r := room{away: float64(in.Stay) + float64(in.Handling), gap: float64(in.Gap)}
	if in.Batch == 0 {
		r.over = float64(in.Available)
		if in.Holder.waits() {
			r.over--
		}
		r.first = r.over * float64(in.PerHolder)
		return r
	}
	k, b := in.PerHolder, in.Batch
	u, last := holders(b, k)
	q, m := in.Available/u, in.Available%u
	// At most 1e8 holders of 1e6 pieces: whole numbers that an int64 and a float64 hold.
	made := float64(float64(q)*float64(b)) + float64(float64(m)*float64(k))
	r.q, r.over, r.perBatch, r.last = float64(q), float64(m), float64(u), float64(last)
	r.first, r.second, r.secondHappens = made, made-float64(k-last), m >= 1
	if in.Holder.waits() {
		r.first, r.second, r.secondHappens = r.first-float64(min(k, b)), r.second-float64(k), m >= 2
	}
	return r
}

// rates returns the two rates that bind, infinite if they do not.
func (r room) rates() (first, second float64) {
	first, second = math.Inf(1), math.Inf(1)
	if left := r.away - float64(r.q*r.gap); left > 0 {
		first = r.first / left * 60
	}
	if left := r.away - float64((r.q+1)*r.gap); r.secondHappens && left > 0 {
		second = r.second / left * 60
	}
	return first, second
}

func (in RateForFinalProofLoad) explainBatches(w *reckon.Working, f room, first, second float64) {
	w.Given("pieces in a batch", "B", float64(in.Batch), "", "")
	w.Given("gap after a batch", "g", float64(in.Gap), "s", "")
	w.Step("holders started by a batch", "u", "ceil(B / k)", f.perBatch, "", "")
	w.Step("pieces in the last of them", "r", "B - (u - 1) * k", f.last, "", "")
	w.Step("whole batches until a holder is wanted again", "q", "floor(n / u)", f.q, "", "")
	w.Step("holders besides", "o", "n - q * u", f.over, "", "")
	one, two := "q * B + o * k", "q * B + o * k - (k - r)"
	if in.Holder.waits() {
		one, two = one+" - min(k, B)", two+" - k"
	}
	var bind string
	if !math.IsInf(first, 1) {
		w.Step("within a batch", "R_1", "("+one+") / (t + h - q * g) * 60", first, "pieces/min", "")
		bind = "R_1"
	}
	if !math.IsInf(second, 1) {
		w.Step("past the next gap", "R_2", "("+two+") / (t + h - (q + 1) * g) * 60", second, "pieces/min", "a part-filled holder and one gap more between")
		bind = "min(R_1, R_2)" // its divisor is the smaller one, so that the first binds as well
	}
	w.Step("pieces a minute", "R", bind, math.Min(first, second), "pieces/min", "what binds")
}
