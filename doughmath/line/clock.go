package line

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Clock asks when, by the clock on the wall, each batch of an order is started, mixed, tipped, scaled and through the
// overhead proofer, and when its pieces come to the oven:
//
//	t_i = t_0 + (i - 1)*t_b,  m_i = t_i + t_m,  h_i = m_i + t_f
//	run(x) = t_0 + t_m + t_f + x + min(b - 1, floor(x/t_s)) * t_w
//	cut_k = run(60/S * floor((k - 1)/a)),  out_k = run(60/S * floor((k - 1)/a) + t)
//	full_k = out of the last piece on the same rack,  prf_k = full_k + t_p,  B_k = 1 + floor((k - 1)/n_b)
//	rdy_i = prf of l_i, the last piece of load i,  in_i = max(rdy_i, in of load i - n_o + t_k + t_l),  done_i = in_i + t_k
//	in a tunnel: in_i = max(rdy_i, in of load i - 1 + its pieces*t_k/L_o),  done_i = in_i + (l_i - y_i)*t_k/L_o + t_k
//	oven_k = in_i of its load, in a tunnel in_i + (k - y_i)*t_k/L_o,  bkd_k = oven_k + t_k,  v_o = x_o/t_k
//	t_o = oven_1,  t_z = oven of the last piece,  t_0 = v_a - oven_1 or v_z - oven of the last, both counted from t_0
//	cut_fi, out_fi, oven_fi of the first piece of batch i, cut_li, out_li, oven_li of its last
//	p_i = t_i - d_i, E = min(t_0, p_i, u_i),  u_i = t - d of the first batch of lot i
//
// with b batches, t_b from one to the next, t_m mixing and t_f floor time: batch i is mixed at m_i and tipped at h_i; t_s scaling
// one batch of n_b pieces and t_w the wait between batches, in which divider and proofer stand; S strokes, a pieces across and the dwell t;
// t_p the stay in the final proof, which counts from when
// a rack is full, in boxes and in a continuous proofer from when the piece is in; and d_i how long before its batch is mixed a preferment is started, at p_i.
// The oven bakes for t_k on n_o places, each taken for t_l besides, with L_o pieces in a load; a tunnel has L_o on its belt of x_o, and takes a rack as a load, whose first piece is y_i.
// Where the divider waits, each batch starts its own rack and its own load. All but t_0 and the oven's times is the plan's.
// Without the line's oven and the product's baking it ends where pieces are proofed, and oven_k is prf_k.
//
// Times are counted from midnight, on the day of whichever time is given: below 0 it is the day before, above 24 h the day after.
// A preferment or soaker is started so that it is ripe when its batch is mixed. One that keeps is made in lots: a lot is ripe for the first
// of its batches and serves all that are mixed while it keeps.
//
// Station by station, buffers holds the most pieces at once and the mean, which is pieces an hour times their mean stay (Little's law).
// Racks are counted one by one: a rack or box is taken from the first piece on it, or from when the one before was full, until its pieces are in the oven, in a
// rack oven until they are baked, and then for the handling. This order may need fewer than line-plan says, which counts for a run that goes on.
//
// What does not go as it should is told in findings: a hopper that runs dry, dough that stands there over its time, an oven
// without pieces, pieces that wait for it, racks that are short, each with why and what would mend it.
//
// It is refused if:
//   - the plan is,
//   - not exactly one of start, oven_at and finish_at is given,
//   - there are more than 1000 batches, 10000 loads or 100000 racks, or levels are wanted of more than 10000,
//   - piece is more than are made.
//
// Source: the plan of [Plan]; counting of strokes, racks and loads (derived), held against [proof.Run] pocket by pocket;
// J. D. C. Little, Operations Research 9 (1961) 383;
// cases in testdata/cases/line/line-clock.json.
type Clock struct {
	Line     Line          `json:"line" sym:"-"`                                    // the equipment as it stands
	Order    Order         `json:"order" sym:"-"`                                   // what to make, and how much
	Shift    Shift         `json:"shift" sym:"-"`                                   // today's conditions
	Start    unit.Duration `json:"start,omitzero" sym:"t_0" range:">0 s..48 h"`     // when the first mixing starts, from midnight, such as "5 h 30 min"; leave out if another time is given
	OvenAt   unit.Duration `json:"oven_at,omitzero" sym:"v_a" range:">0 s..48 h"`   // when the first pieces are to go into the oven, from midnight; leave out if another time is given
	FinishAt unit.Duration `json:"finish_at,omitzero" sym:"v_z" range:">0 s..48 h"` // when the last pieces are to go into the oven, from midnight; leave out if another time is given
	Piece    int           `json:"piece,omitzero" sym:"k" range:"1..100000000"`     // a piece to follow, by the order in which pieces are scaled; leave out for none
	At       unit.Duration `json:"at,omitzero" range:"-48 h..240 h"`                // a moment to look at, from midnight; leave out for none
	Levels   bool          `json:"levels,omitzero"`                                 // true to list how many racks are taken, from change to change
}

// BatchClock is the moments of one batch, from midnight.
type BatchClock struct {
	Batch       int             `json:"batch"`                    // counted from 1
	Preferments []PrefermentDue `json:"preferments,omitzero"`     // when each of its preferments is started
	Mix         unit.Duration   `json:"mix" sym:"t_#"`            // weighed and into the mixer
	Mixed       unit.Duration   `json:"mixed" sym:"m_#"`          // out of the mixer
	Tip         unit.Duration   `json:"tip" sym:"h_#"`            // after its floor time, into the hopper
	FirstCut    unit.Duration   `json:"first_cut" sym:"cut_f#"`   // first of as many pieces as the batch makes, from the head of dough before it
	LastCut     unit.Duration   `json:"last_cut" sym:"cut_l#"`    // last of them
	FirstOut    unit.Duration   `json:"first_out" sym:"out_f#"`   // the first leaves the overhead proofer
	LastOut     unit.Duration   `json:"last_out" sym:"out_l#"`    // the last
	FirstOven   unit.Duration   `json:"first_oven" sym:"oven_f#"` // the first goes into the oven
	LastOven    unit.Duration   `json:"last_oven" sym:"oven_l#"`  // the last
}

// PrefermentDue is when a preferment is started.
type PrefermentDue struct {
	Name  string        `json:"name"`            // the preferment
	Start unit.Duration `json:"start" sym:"p_#"` // from midnight
}

// PrefermentLot is one making of a preferment or soaker that serves several batches.
type PrefermentLot struct {
	Name       string        `json:"name"`            // the preferment
	Start      unit.Duration `json:"start" sym:"u_#"` // from midnight
	FirstBatch int           `json:"first_batch"`     // the batches that it is for, counted from 1
	LastBatch  int           `json:"last_batch"`      // the last of them: weigh for all
}

// PieceClock is the way of one piece.
type PieceClock struct {
	Batch   int           `json:"batch" sym:"B_k"`            // in whose stretch it is cut
	Cut     unit.Duration `json:"cut" sym:"cut_k"`            // scaled, into the overhead proofer
	Out     unit.Duration `json:"out" sym:"out_k"`            // out of it, to the stamper, the moulder or the tray
	Full    unit.Duration `json:"full" sym:"full_k"`          // its rack is full: the final proof counts from here
	Proofed unit.Duration `json:"proofed" sym:"prf_k"`        // its final proof is over
	Oven    unit.Duration `json:"oven" sym:"oven_k"`          // into the oven
	Baked   unit.Duration `json:"baked,omitzero" sym:"bkd_k"` // out of it, if the product is baked
	Station string        `json:"station,omitzero"`           // where it is at the moment that was named
}

// Finding is something in a day that does not go as it should.
type Finding struct {
	Order string `json:"order,omitzero"` // whose, if there are several
	At    string `json:"at"`             // where: "hopper", "oven" or "racks"
	Says  string `json:"says"`           // what, for how long, and why
	Mend  string `json:"mend"`           // what would mend it
}

// ClockResult is the order by the clock.
type ClockResult struct {
	Start      unit.Duration   `json:"start" sym:"t_0"`              // when the first mixing starts, from midnight
	Earliest   unit.Duration   `json:"earliest" sym:"E"`             // when the first work starts, preferments included
	FirstOven  unit.Duration   `json:"first_oven" sym:"t_o"`         // when the first pieces go into the oven
	LastOven   unit.Duration   `json:"last_oven" sym:"t_z"`          // when the last do
	OvenBelt   unit.Speed      `json:"oven_belt,omitzero" sym:"v_o"` // speed of the belt of a tunnel, if its length is known
	Bottleneck string          `json:"bottleneck"`                   // what sets the pace: the limit of the plan's speed
	Batches    []BatchClock    `json:"batches"`                      // one for each, in order
	Lots       []PrefermentLot `json:"lots,omitzero"`                // preferments and soakers that keep, lot by lot
	Loads      []OvenLoad      `json:"loads,omitzero"`               // what goes into the oven, load by load; for a tunnel rack by rack
	Buffers    []Buffer        `json:"buffers"`                      // what stands at each station, in the order of the way
	Racks      RackUse         `json:"racks,omitzero"`               // racks or boxes of the final proof that are taken, if they are planned
	Piece      PieceClock      `json:"piece,omitzero" sym:"-"`       // the piece followed, if one was named
	Stations   []Station       `json:"stations,omitzero"`            // where pieces are at the moment that was named; stations that are empty are left out
	Findings   []Finding       `json:"findings,omitzero"`            // what does not go as it should; left out if nothing waits
	Conditions Conditions      `json:"conditions"`                   // rate-limited, racks-short
	Cautions   reckon.Cautions `json:"cautions"`                     // moving-machinery, hot-oven where pieces are baked, spoilage where preferments or soakers stand
}

const (
	mostClockBatches = 1000
	latestClock      = unit.Duration(48 * 3600)
	latestLook       = unit.Duration(240 * 3600)
)

func (Clock) ID() string { return "line-clock" }

func (q Clock) Check(c *reckon.Checks) {
	Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.under(c, "order")
	given := 0
	for _, t := range [...]struct {
		field string
		at    unit.Duration
	}{{"start", q.Start}, {"oven_at", q.OvenAt}, {"finish_at", q.FinishAt}} {
		if t.at != 0 {
			given++
			reckon.CheckAbove(c, t.field, t.at, latestClock)
		}
	}
	if given != 1 {
		c.Fail("start", strconv.Itoa(given)+" times", "one time: when the first mixing starts, or oven_at, or finish_at")
	}
	if q.Piece != 0 {
		reckon.CheckCount(c, "piece", q.Piece, 1, mostPieces)
	}
	if q.At != 0 {
		reckon.CheckRange(c, "at", q.At, -latestClock, latestLook)
	}
}

// Solve has no answer if the plan has none.
func (q Clock) Solve() (ClockResult, error) { return q.Append(nil) }

// Append is Solve with the batches appended to dst.
func (q Clock) Append(dst []BatchClock) (out ClockResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	plan, err := Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	if err != nil {
		nestPlan(&c, "order", err)
		return out, c.Err()
	}
	r := ran{q: &q, plan: &plan}
	if r.check(&c, "order"); q.Piece > plan.Batch.PiecesMade {
		c.Fail("piece", strconv.Itoa(q.Piece), "one of the "+strconv.Itoa(plan.Batch.PiecesMade)+" that are made")
	}
	if !c.OK() {
		return out, c.Err()
	}
	r.bake()
	switch {
	case q.Start != 0:
		r.start = q.Start
	case q.OvenAt != 0:
		r.start = q.OvenAt - r.piece(1).Oven
	default:
		r.start = q.FinishAt - r.piece(plan.Batch.PiecesMade).Oven
	}
	r.write(&out, dst)
	if q.Piece > 0 {
		out.Piece = r.piece(q.Piece)
		if q.At != 0 {
			out.Piece.Station = r.station(q.Piece, q.At)
		}
	}
	if q.At != 0 {
		out.Stations = r.stations(nil, "", q.At)
	}
	return out, nil
}
