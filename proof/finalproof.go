package proof

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Carrier names what the pieces stand in while they proof.
type Carrier string

const (
	// CarrierRack is a rack that is rolled in when it is full and out as a
	// whole: its first piece waits for the last.
	CarrierRack Carrier = "rack"
	// CarrierBox is a cabinet that is filled and emptied piece by piece in the
	// same order: it is in use while it is filled, but every piece stays the same time.
	CarrierBox Carrier = "box"
	// CarrierContinuous is a carrier of a continuous proofer, on its way as soon as it is loaded.
	CarrierContinuous Carrier = "continuous"
)

// waits reports whether filling counts into the time for which a rack or box is in use.
func (c Carrier) waits() bool { return c != CarrierContinuous }

const (
	// The slowest line makes a piece a day.
	minRate       unit.PieceRate = 1.0 / 1440
	maxRate       unit.PieceRate = 100_000
	maxStay       unit.Duration  = 7 * 24 * 3600
	maxPerCarrier                = 1_000_000
)

// FinalProofLoad asks how many racks, boxes or carriers the final proof needs
// so that the line never waits, and how many pieces stand in it:
//
//	f = k / R * 60, m = R_m * (t / 60), R_m = R
//	x = (t + h) * R / 60 + k, without k for a continuous proofer
//	n = ceil(x / k), n_p = ceil(t * R / 60 / k), s = f for racks
//
// on a steady line, where m is Little's law, x the pieces made while a rack is
// in use, n the racks needed and n_p those in the proof at once. What is said
// of racks holds for boxes and carriers alike, unless they are named. With
// batches of B pieces and a wait g after each, all counted in pieces at the
// line's rate, u racks of k pieces are started by a batch and the last of them
// takes r:
//
//	d = B / R * 60 + g, R_m = B / d * 60
//	u = ceil(B / k), r = B - (u - 1)*k, g_p = g * R / 60, c = B + g_p
//	x = (t + h) * R / 60 + min(k, B), q = ceil(x / c) - 1, y = x - q*c
//	e = max(0, k - r - g_p), n = q*u + min(u, ceil((y + e) / k))
//
// by so much e the next rack is started early behind a part-filled one; of whole
// cycles the last is what is left, since who comes back at its end is in time. For
// racks and boxes e is 0 where y is at most k. n_p is counted in the same way
// over x_p = t * R / 60 alone, with q_p cycles; racks and boxes then count from
// when they are full, with e = k - r. Each batch starts its own rack; a
// part-filled one goes in when its last piece is on it.
//
// It is exact for a line that makes such batches one after the other for long
// enough: with as many racks each is back when it is needed again, and with
// one fewer the line waits in the end. A rack that comes back at the very
// moment, to a billionth of stay and handling, is in time. The same relation
// holds for an oven.
//
// It is refused if:
//   - wait is given without batch_pieces,
//   - more than 100 million racks would be needed.
//
// Source: J. D. C. Little, Operations Research 9 (1961) 383 (content = rate x
// time); times of a plant line from the Institute of Food Technologists lesson
// in testdata/cases/proof/final-proof-load.json; with batches derived from the
// times at which racks are started and come back.
//
// The inverse is [RateForFinalProofLoad].
type FinalProofLoad struct {
	PieceRate   unit.PieceRate `json:"piece_rate" sym:"R" range:"0.0006944444444444445 pieces/min..100000 pieces/min"` // pieces from the line while it runs; the slowest is a piece a day
	Stay        unit.Duration  `json:"stay" sym:"t" range:"1 s..7 d"`                                                  // time in the final proof
	Carrier     Carrier        `json:"carrier"`                                                                        // "rack", "box" or "continuous"
	PerCarrier  int            `json:"per_carrier" sym:"k" range:"1..1000000"`                                         // pieces in one rack, box or carrier
	Handling    unit.Duration  `json:"handling,omitzero" sym:"h,0" range:"0 s..7 d"`                                   // how long a rack is in use besides: moved, waiting for the oven, emptied, brought back
	BatchPieces int            `json:"batch_pieces,omitzero" sym:"B" range:"1..100000000"`                             // pieces between two waits; leave out if the line runs steadily
	Wait        unit.Duration  `json:"wait,omitzero" sym:"g" range:"0 s..7 d"`                                         // time without pieces after each batch; only with batch_pieces
	Available   int            `json:"available,omitzero" range:"1..100000000"`                                        // racks, boxes or carriers that the plant has; leave out if they are not to be checked
}

// FinalProofLoadResult is the room that the final proof needs.
type FinalProofLoadResult struct {
	MeanRate       unit.PieceRate `json:"mean_rate" sym:"R_m"`     // pieces with the waits counted in
	MeanInside     float64        `json:"mean_inside" sym:"m"`     // pieces in the final proof on average
	InProof        int            `json:"in_proof" sym:"n_p"`      // most racks in the final proof at once, each for its stay: a rack or box from when its last piece is in, a carrier from its first
	Needed         int            `json:"needed" sym:"n"`          // racks needed in all, so that the line never waits for one
	FillTime       unit.Duration  `json:"fill_time" sym:"f"`       // time to fill a rack
	StayDifference unit.Duration  `json:"stay_difference" sym:"s"` // by how much longer the first piece of a rack proofs than the last
	Conditions     Conditions     `json:"conditions"`              // overloaded (fewer available than needed)
}

func (FinalProofLoad) ID() string { return "final-proof-load" }

func (q FinalProofLoad) Check(c *reckon.Checks) { q.check(c) }

// check returns what is needed as well, and what it is found from.
func (q *FinalProofLoad) check(c *reckon.Checks) (l load, needed float64) {
	before := c.Mark()
	reckon.CheckRange(c, "piece_rate", q.PieceRate, minRate, maxRate)
	checkCarrier(c, q.Carrier, q.PerCarrier, q.Stay, q.Handling)
	checkBatch(c, q.BatchPieces, q.Wait)
	if q.Available != 0 {
		reckon.CheckCount(c, "available", q.Available, 1, maxPieces)
	}
	if c.Mark() > before {
		return l, 0
	}
	l = q.load()
	needed = l.needed()
	if needed > maxPieces {
		c.Fail("per_carrier", strconv.Itoa(q.PerCarrier), "more pieces in each: at this rate "+reckon.Text(needed)+" of them would be needed")
	}
	return l, needed
}

func checkCarrier(c *reckon.Checks, carrier Carrier, perCarrier int, stay, handling unit.Duration) {
	reckon.CheckRange(c, "stay", stay, 1, maxStay)
	reckon.CheckWord(c, "carrier", carrier, CarrierRack, CarrierBox, CarrierContinuous)
	reckon.CheckCount(c, "per_carrier", perCarrier, 1, maxPerCarrier)
	reckon.CheckRange(c, "handling", handling, 0, maxStay)
}

// checkBatch checks the batches of a line, if it has any.
func checkBatch(c *reckon.Checks, batch int, wait unit.Duration) {
	if batch != 0 {
		reckon.CheckCount(c, "batch_pieces", batch, 1, maxPieces)
		reckon.CheckRange(c, "wait", wait, 0, maxStay)
	} else if wait != 0 {
		c.Fail("wait", wait.String(), "nothing, or the batch_pieces after which it comes")
	}
}

func (q FinalProofLoad) Solve() (out FinalProofLoadResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	l, needed := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out = FinalProofLoadResult{MeanRate: q.PieceRate, FillTime: unit.Duration(float64(q.PerCarrier) / float64(q.PieceRate) * 60)}
	if q.BatchPieces != 0 {
		cycle := float64(float64(q.BatchPieces)/float64(q.PieceRate)*60) + float64(q.Wait)
		out.MeanRate = unit.PieceRate(float64(q.BatchPieces) / cycle * 60)
	}
	out.MeanInside = float64(out.MeanRate) * q.Stay.Minutes()
	if q.Carrier == CarrierRack {
		out.StayDifference = out.FillTime
	}
	out.InProof, out.Needed = int(l.inProof()), int(needed)
	if q.Available != 0 && q.Available < out.Needed {
		out.Conditions |= Overloaded
	}
	return out, nil
}

func (q FinalProofLoad) Show(w *reckon.Working, out FinalProofLoadResult) {
	w.Inputs(q)
	w.Lines(out, "time to fill a rack: f = k/R*60{s/min}")
	if q.Carrier == CarrierRack {
		w.Lines(out, "longer stay of the first piece than of the last: s = f  [the rack goes in when it is full]")
	}
	if q.BatchPieces != 0 {
		q.showBatches(w, out)
		return
	}
	w.Lines(out,
		"mean rate: R_m = R  [no waits]",
		"pieces in the final proof on average: m = R_m*(t/60{s/min})  [Little's law]",
	)
	if q.Carrier.waits() {
		w.Lines(out, "pieces made while a rack is in use: x = (t + h)*R/60{s/min} + k  [filled, proofed, handled; one that comes back at that very moment is in time]")
	} else {
		w.Lines(out, "pieces made while a carrier is in use: x = (t + h)*R/60{s/min}  [proofed and handled, it moves while it is loaded; one that comes back at that very moment is in time]")
	}
	w.Lines(out,
		"racks in the proof at once: n_p = ceil(t*R/60{s/min}/k)",
		"racks needed: n = ceil(x/k)  [one is started every k pieces]",
	)
}

func (q *FinalProofLoad) showBatches(w *reckon.Working, out FinalProofLoadResult) {
	if q.Wait == 0 {
		w.Lines(out, "wait after a batch: g = 0 in s")
	}
	w.Lines(out,
		"a batch and its wait: d = B/R*60{s/min} + g in s",
		"mean rate: R_m = B/d*60{s/min}  [waits counted in]",
		"pieces in the final proof on average: m = R_m*(t/60{s/min})  [Little's law]",
		"racks started by a batch: u = ceil(B/k)",
		"pieces in the last of them: r = B - (u - 1)*k",
		"wait, in pieces: g_p = g*R/60{s/min}",
		"a batch and its wait, in pieces: c = B + g_p",
		"pieces made during the stay: x_p = t*R/60{s/min}  [one that leaves at the very moment is out]",
		"whole cycles before the end of the stay: q_p = ceil(x_p/c) - 1",
	)
	waits := q.Carrier.waits()
	if waits {
		w.Lines(out,
			"racks in the proof at once: n_p = q_p*u + min(u, ceil((x_p - q_p*c + (k - r))/k))  [each from when it is full, a part-filled one sooner by k - r]",
			"pieces made while a rack is in use: x = (t + h)*R/60{s/min} + min(k, B)  [filled, proofed, handled; one that comes back at that very moment is in time]",
		)
	} else {
		w.Lines(out,
			"carriers in the proof at once: n_p = q_p*u + min(u, ceil((x_p - q_p*c + max(0, k - r - g_p))/k))",
			"pieces made while a carrier is in use: x = (t + h)*R/60{s/min}  [proofed and handled, it moves while it is loaded; one that comes back at that very moment is in time]",
		)
	}
	w.Lines(out, "whole cycles before it is back: q = ceil(x/c) - 1", "what is left: y = x - q*c")
	l := q.load()
	if _, rest := l.cycles(l.bound()); waits && rest <= l.k {
		w.Lines(out, "start that comes early behind a part-filled rack: e = 0  [none matters within the filling of a rack]")
	} else {
		w.Lines(out, "start that comes early behind a part-filled rack: e = max(0, k - r - g_p)  [by what it takes less, but for the wait]")
	}
	w.Lines(out, "racks needed: n = q*u + min(u, ceil((y + e)/k))  [those of whole cycles and of the rest]")
}

// onTime is the part of a stay after which a rack counts as back: a speck of
// binary rounding does not make it late.
const onTime = 1 - 1e-9

// load is a final proof with every time counted in the pieces that the line
// makes meanwhile. A steady line makes batches of one rack without a wait.
type load struct {
	waits   bool
	k       float64 // pieces in a rack
	batch   float64
	u, last float64 // racks started by a batch, and the pieces in the last
	wait    float64
	cycle   float64 // a batch and its wait
	stay    float64
	away    float64 // stay and handling
}

// racks returns how many racks of so many pieces a batch starts, and what the last of them takes.
func racks(batch, perCarrier int) (started, last int) {
	started = (batch + perCarrier - 1) / perCarrier
	return started, batch - (started-1)*perCarrier
}

func (q *FinalProofLoad) load() load {
	rate, batch := float64(q.PieceRate), q.BatchPieces
	if batch == 0 {
		batch = q.PerCarrier
	}
	l := load{waits: q.Carrier.waits(), k: float64(q.PerCarrier), batch: float64(batch)}
	u, last := racks(batch, q.PerCarrier)
	l.u, l.last = float64(u), float64(last)
	l.wait = float64(float64(q.Wait) * rate / 60)
	l.cycle = l.batch + l.wait
	l.stay = float64(q.Stay) * rate / 60
	l.away = (float64(q.Stay) + float64(q.Handling)) * rate / 60
	return l
}

// bound returns for how long a full rack is in use, a hair less than in truth.
func (l load) bound() float64 {
	if l.waits {
		return float64(l.away*onTime) + math.Min(l.k, l.batch)
	}
	return float64(l.away * onTime)
}

// early returns by how much sooner a rack is started behind a part-filled one
// than behind a full one, as far as it matters for a time that is by rest
// longer than whole cycles.
func (l load) early(rest float64) float64 {
	// A rack that is in use for its own filling at most is back before the last of its batch is full.
	if l.waits && rest <= l.k {
		return 0
	}
	return math.Max(0, l.k-l.last-l.wait)
}

// cycles returns the whole cycles in a time, and what is left of it.
func (l load) cycles(x float64) (q, rest float64) {
	q = math.Floor(x / l.cycle)
	return q, x - float64(q*l.cycle)
}

// needed returns how many racks let each come back before it is needed again.
// With n = q*u + m racks and 0 <= m < u it is needed n starts later, and there
// are two kinds of them: one that comes back within the batch that needs it, q
// cycles and m racks later, and one with a part-filled rack, and so one wait
// more, in between.
func (l load) needed() float64 {
	q, rest := l.cycles(l.bound())
	return float64(q*l.u) + math.Min(l.u, math.Ceil((rest+l.early(rest))/l.k))
}

// inProof returns the most racks that are in the final proof at once. Racks
// and boxes count from when they are full: the part-filled one follows upon the
// one before it by as much too early as it holds less.
func (l load) inProof() float64 {
	q, rest := l.cycles(float64(l.stay * onTime))
	early := l.k - l.last
	if !l.waits {
		early = math.Max(0, early-l.wait)
	}
	return float64(q*l.u) + math.Min(l.u, math.Ceil((rest+early)/l.k))
}

// RateForFinalProofLoad asks how fast the line can run with the room that
// there is in a final proof, or in an oven:
//
//	R = n * k / (t + h) * 60, with n - 1 in place of n for racks and boxes
//	M = R * 60 * (m / 1000)
//
// since one rack or box is always being filled. What is said of racks holds for
// boxes and carriers alike, unless they are named. With batches of B pieces,
// which start u racks and put r into the last, and n = q*u + o, 0 <= o < u:
//
//	u = ceil(B / k), r = B - (u - 1)*k, q = floor(n / u), o = n - q*u
//	R_1 = (q*B + o*k) / (t + h - q*g) * 60
//	R_2 = (q*B + o*k - (k - r)) / (t + h - (q + 1)*g) * 60, only if o >= 1
//	R = min(R_1, R_2)
//
// for a continuous proofer; for racks and boxes the smaller of k and B is
// taken off above the line in R_1, and k off in R_2, which counts only if
// o >= 2. A rate whose divisor is not above 0 sets no limit.
//
// It is the inverse of [FinalProofLoad], with the same validity: at this rate
// the room is just enough.
//
// It is refused if:
//   - wait is given without batch_pieces,
//   - there is only one rack or box: the line waits while it proofs,
//   - the room is enough for any rate up to 100000 pieces/min.
//
// Source: oven capacities of course projects in
// testdata/cases/proof/rate-for-final-proof-load.json; Little's law; with
// batches derived from the times at which racks are started and come back.
//
// The inverse is [FinalProofLoad].
type RateForFinalProofLoad struct {
	Available   int           `json:"available" sym:"n" range:"-"`                        // racks, boxes or carriers in all, 1 to 100 million; 2 or more unless continuous
	PerCarrier  int           `json:"per_carrier" sym:"k" range:"1..1000000"`             // pieces in one rack, box or carrier
	Carrier     Carrier       `json:"carrier"`                                            // "rack", "box" or "continuous"
	Stay        unit.Duration `json:"stay" sym:"t" range:"1 s..7 d"`                      // time in the final proof or oven
	Handling    unit.Duration `json:"handling,omitzero" sym:"h,0" range:"0 s..7 d"`       // how long a rack is in use besides
	BatchPieces int           `json:"batch_pieces,omitzero" sym:"B" range:"1..100000000"` // pieces between two waits; leave out if the line runs steadily
	Wait        unit.Duration `json:"wait,omitzero" sym:"g" range:"-"`                    // time without pieces after each batch, 0 to 7 d; only with batch_pieces
	Piece       unit.Mass     `json:"piece,omitzero" sym:"m" range:"0 g..100 kg"`         // mass of a piece; leave out if kilograms an hour are not asked for
}

// RateForFinalProofLoadResult is what the room can take.
type RateForFinalProofLoadResult struct {
	PieceRate unit.PieceRate  `json:"piece_rate" sym:"R"` // highest rate at which the line never waits, while it runs
	MassRate  unit.MassRate   `json:"mass_rate" sym:"M"`  // the same by mass; 0 if the piece is not given
	Cautions  reckon.Cautions `json:"cautions"`           // moving-machinery, running-drive
}

func (RateForFinalProofLoad) ID() string { return "rate-for-final-proof-load" }

func (q RateForFinalProofLoad) Check(c *reckon.Checks) { q.check(c) }

// check returns the rate as well.
func (q *RateForFinalProofLoad) check(c *reckon.Checks) unit.PieceRate {
	before := c.Mark()
	if q.Carrier == CarrierContinuous {
		reckon.CheckCount(c, "available", q.Available, 1, maxPieces)
	} else {
		reckon.CheckCount(c, "available", q.Available, 2, maxPieces)
	}
	checkCarrier(c, q.Carrier, q.PerCarrier, q.Stay, q.Handling)
	checkBatch(c, q.BatchPieces, q.Wait)
	reckon.CheckRange(c, "piece", q.Piece, 0, unit.Kilograms(100))
	if c.Mark() > before {
		return 0
	}
	rate := unit.PieceRate(math.Min(q.room().rates()))
	if rate > maxRate {
		c.Fail("available", strconv.Itoa(q.Available), "fewer: so many are enough for any rate up to "+maxRate.String())
	}
	return rate
}

func (q RateForFinalProofLoad) Solve() (out RateForFinalProofLoadResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	rate := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.PieceRate = rate
	out.MassRate = unit.KilogramsPerHour(out.PieceRate.PiecesPerHour() * q.Piece.Kilograms())
	out.Cautions = reckon.MovingMachinery | reckon.RunningDrive
	return out, nil
}

func (q RateForFinalProofLoad) Show(w *reckon.Working, out RateForFinalProofLoadResult) {
	w.Inputs(q)
	switch {
	case q.BatchPieces != 0:
		q.showBatches(w, out)
	case q.Carrier.waits():
		w.Lines(out, "pieces a minute: R = (n - 1)*k/(t + h)*60{s/min}  [one is being filled]")
	default:
		w.Lines(out, "pieces a minute: R = n*k/(t + h)*60{s/min}")
	}
	if q.Piece != 0 {
		w.Lines(out, "by mass: M = R*60{min/h}*(m/1000{g/kg})")
	}
}

func (q *RateForFinalProofLoad) showBatches(w *reckon.Working, out RateForFinalProofLoadResult) {
	if q.Wait == 0 {
		w.Lines(out, "wait after a batch: g = 0 in s")
	}
	w.Lines(out,
		"racks started by a batch: u = ceil(B/k)",
		"pieces in the last of them: r = B - (u - 1)*k",
		"whole batches until a rack is needed again: q = floor(n/u)",
		"racks besides: o = n - q*u",
	)
	waits := q.Carrier.waits()
	if waits {
		w.Lines(out, "within a batch: R_1 = (q*B + o*k - min(k, B))/(t + h - q*g)*60{s/min} in pieces/min  [one is being filled]")
	} else {
		w.Lines(out, "within a batch: R_1 = (q*B + o*k)/(t + h - q*g)*60{s/min} in pieces/min")
	}
	_, second := q.room().rates()
	switch {
	case math.IsInf(second, 1):
		w.Lines(out, "pieces a minute: R = R_1")
		return
	case waits:
		w.Lines(out, "past the next wait: R_2 = (q*B + o*k - (k - r) - k)/(t + h - (q + 1)*g)*60{s/min} in pieces/min  [a part-filled rack and one wait more between]")
	default:
		w.Lines(out, "past the next wait: R_2 = (q*B + o*k - (k - r))/(t + h - (q + 1)*g)*60{s/min} in pieces/min  [a part-filled carrier and one wait more between]")
	}
	w.Lines(out, "pieces a minute: R = min(R_1, R_2)  [the smaller is the limit]")
}

// room is what a number of racks can take between a start and the one that
// needs the same rack again: pieces made and waits gone by.
type room struct {
	away, wait    float64 // s
	q             float64 // whole batches
	first, second float64 // pieces made before a rack must be back: within a batch, and past one more wait
	secondHappens bool
}

func (q *RateForFinalProofLoad) room() room {
	r := room{away: float64(q.Stay) + float64(q.Handling), wait: float64(q.Wait)}
	if q.BatchPieces == 0 {
		n := float64(q.Available)
		if q.Carrier.waits() {
			n--
		}
		r.first = n * float64(q.PerCarrier)
		return r
	}
	k, b := q.PerCarrier, q.BatchPieces
	u, last := racks(b, k)
	n, m := q.Available/u, q.Available%u
	// At most 1e8 racks of 1e6 pieces: whole numbers that an int64 and a float64 hold.
	made := float64(float64(n)*float64(b)) + float64(float64(m)*float64(k))
	r.q = float64(n)
	r.first, r.second, r.secondHappens = made, made-float64(k-last), m >= 1
	if q.Carrier.waits() {
		r.first, r.second, r.secondHappens = r.first-float64(min(k, b)), r.second-float64(k), m >= 2
	}
	return r
}

// rates returns the two rates that limit the line, infinite if they do not.
func (r room) rates() (first, second float64) {
	first, second = math.Inf(1), math.Inf(1)
	if left := r.away - float64(r.q*r.wait); left > 0 {
		first = r.first / left * 60
	}
	if left := r.away - float64((r.q+1)*r.wait); r.secondHappens && left > 0 {
		second = r.second / left * 60
	}
	return first, second
}
