package line

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Oven is what bakes the pieces of a line.
type Oven struct {
	Kind    OvenKind      `json:"kind"`                                 // "deck", "rack" or "tunnel"
	Places  int           `json:"places,omitzero" sym:"n_o" range:"-"`  // decks, or chambers for racks, each loaded for itself, 1 to 1000; leave out for a tunnel
	Loading unit.Duration `json:"loading,omitzero" sym:"t_l" range:"-"` // how long a place is taken besides the baking: emptied, loaded, hot again; up to 4 h; leave out for a tunnel, or for none
	Belt    unit.Length   `json:"belt,omitzero" sym:"x_o" range:"-"`    // length of a tunnel's belt in the heat, 0.1 to 500 m; leave out if its speed is not to be found, and for another oven
}

// OvenKind names how an oven is loaded.
type OvenKind string

const (
	// DeckOven has decks: the pieces of a load are set onto one, and come off it together.
	DeckOven OvenKind = "deck"
	// RackOven takes the racks of the final proof as they are: they are back when they have been baked in.
	RackOven OvenKind = "rack"
	// TunnelOven carries the pieces through on a belt, one row after the other.
	TunnelOven OvenKind = "tunnel"
)

// Baking is how a product is baked.
type Baking struct {
	Time    unit.Duration `json:"time" range:"1 s..12 h"`      // in the oven
	PerLoad int           `json:"per_load,omitzero" range:"-"` // pieces in one load of the line's oven: on a deck, in the racks that a chamber takes at once, on the whole belt of a tunnel; 1 to 1000000, and needed where the line has an oven
	StayMax unit.Duration `json:"stay_max,omitzero" range:"-"` // longest stay in the final proof with the wait for the oven, at least final_stay; leave out if none may wait
}

const (
	mostPlaces  = 1000
	mostPerLoad = 1_000_000
	mostStay    = unit.Duration(7 * 24 * 3600)
	longestBelt = unit.Length(500_000)
)

func (o *Oven) check(c *reckon.Checks) {
	reckon.CheckWord(c, "kind", o.Kind, DeckOven, RackOven, TunnelOven)
	if o.Kind == TunnelOven {
		const out = "nothing: leave it out for a tunnel"
		if o.Places != 0 {
			c.Fail("places", strconv.Itoa(o.Places), out)
		}
		if o.Loading != 0 {
			c.Fail("loading", o.Loading.String(), out)
		}
		if o.Belt != 0 {
			reckon.CheckRange(c, "belt", o.Belt, 100, longestBelt)
		}
	} else {
		reckon.CheckCount(c, "places", o.Places, 1, mostPlaces)
		reckon.CheckRange(c, "loading", o.Loading, 0, unit.Hours(4))
		if o.Belt != 0 {
			c.Fail("belt", o.Belt.String(), "nothing: only a tunnel has a belt")
		}
	}
}

// check tells what is wrong with the baking of a product.
func (b *Baking) check(c *reckon.Checks, p *Product, l *Line) {
	mark := c.Mark()
	timed := reckon.CheckRange(c, "time", b.Time, 1, longestBake)
	switch q := (OvenRate{Oven: l.Oven, Time: b.Time, PerLoad: b.PerLoad}); {
	case l.Oven == (Oven{}):
		if b.PerLoad != 0 {
			c.Fail("per_load", strconv.Itoa(b.PerLoad), "nothing, or line.oven, which takes such a load")
		}
	case !reckon.CheckCount(c, "per_load", b.PerLoad, 1, mostPerLoad):
	case l.Oven.Kind == RackOven && p.PerCarrier > 0 && b.PerLoad%p.PerCarrier != 0:
		c.Fail("per_load", strconv.Itoa(b.PerLoad), "whole racks of "+strconv.Itoa(p.PerCarrier)+", the product's per_carrier")
	case timed && q.rate() < slowestOven:
		c.Fail("per_load", strconv.Itoa(b.PerLoad), "more: the oven would take less than "+slowestOven.String())
	}
	if b.StayMax != 0 {
		reckon.CheckRange(c, "stay_max", b.StayMax, max(1, p.FinalStay), mostStay)
	}
	c.Under(mark, "baking")
}

// OvenRate asks how many pieces an oven takes, one load after the other:
//
//	R = n_o * L_o / (t_k + t_l) * 60
//	in a tunnel: R = L_o / t_k * 60, v_o = x_o / t_k
//	N = n_o * L_o, in a tunnel N = L_o
//	p = (t_k + t_l) / n_o, in a tunnel p = t_k
//	M = R * 60 * m / 1000
//
// with L_o pieces in a load, N in the oven when it is full and p from load to load.
//
// It holds for an oven that is never without a load that is ready; [Clock] follows the loads as they come.
//
// It is refused if:
//   - a tunnel has places or a loading time, or another oven a belt,
//   - the oven would take less than a piece in 100 min.
//
// Source: oven capacities of course projects in testdata/cases/line/oven-rate.json; J. D. C. Little, Operations Research 9 (1961) 383
// (content = rate x time).
type OvenRate struct {
	Oven
	Time    unit.Duration `json:"time" sym:"t_k" range:"1 s..12 h"`           // baking
	PerLoad int           `json:"per_load" sym:"L_o" range:"1..1000000"`      // pieces on a deck, in the racks that a chamber takes at once, or on the whole belt of a tunnel
	Piece   unit.Mass     `json:"piece,omitzero" sym:"m" range:"0 g..100 kg"` // of a baked piece; leave out if kilograms an hour are not asked for
}

// OvenRateResult is what an oven takes.
type OvenRateResult struct {
	PieceRate unit.PieceRate  `json:"piece_rate" sym:"R"`            // with a load always ready
	MassRate  unit.MassRate   `json:"mass_rate,omitzero" sym:"M"`    // the same by mass; left out if the piece is not given
	Inside    int             `json:"inside" sym:"N"`                // pieces in the oven when it is full
	Pace      unit.Duration   `json:"pace" sym:"p"`                  // from load to load; for a tunnel until its belt is full
	BeltSpeed unit.Speed      `json:"belt_speed,omitzero" sym:"v_o"` // of a tunnel's belt; left out if its length is not given
	Cautions  reckon.Cautions `json:"cautions"`                      // hot-oven
}

func (OvenRate) ID() string { return "oven-rate" }

func (q OvenRate) Check(c *reckon.Checks) {
	before := c.Mark()
	q.check(c)
	reckon.CheckRange(c, "time", q.Time, 1, longestBake)
	reckon.CheckCount(c, "per_load", q.PerLoad, 1, mostPerLoad)
	reckon.CheckRange(c, "piece", q.Piece, 0, unit.Kilograms(100))
	if c.Mark() == before && q.rate() < slowestOven {
		c.Fail("per_load", strconv.Itoa(q.PerLoad), "more: the oven would take less than "+slowestOven.String())
	}
}

// rate is what an oven takes that was checked.
func (q *OvenRate) rate() unit.PieceRate {
	return unit.PieceRate(float64(q.places()) * float64(q.PerLoad) * 60 / float64(q.Time+q.Loading))
}

// places is in how many places it bakes, each for itself.
func (o *Oven) places() int { return max(1, o.Places) }

func (q OvenRate) Solve() (out OvenRateResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out = OvenRateResult{PieceRate: q.rate(), Inside: q.places() * q.PerLoad, Pace: (q.Time + q.Loading) / unit.Duration(q.places()), Cautions: reckon.HotOven}
	out.MassRate = unit.KilogramsPerHour(out.PieceRate.PiecesPerHour() * q.Piece.Kilograms())
	out.BeltSpeed = unit.Speed(float64(q.Belt) / float64(q.Time))
	return out, nil
}

func (q OvenRate) Show(w *reckon.Working, out OvenRateResult) {
	w.Inputs(q)
	if q.Kind == TunnelOven {
		w.Lines(out, "most pieces that it takes: R = L_o/t_k*60{s/min}  [its belt full]", "pieces on the belt: N = L_o", "until the belt is full: p = t_k")
		if q.Belt > 0 {
			w.Lines(out, "speed of its belt: v_o = x_o/t_k")
		}
	} else {
		besides := "(t_k + t_l)"
		if q.Loading == 0 {
			besides = "t_k"
		}
		w.Lines(out, "most pieces that it takes: R = n_o*L_o/"+besides+"*60{s/min}  [one load after the other]", "pieces in it: N = n_o*L_o", "from load to load: p = "+besides+"/n_o")
	}
	if q.Piece > 0 {
		w.Lines(out, "by mass: M = R*60{min/h}*(m/1000{g/kg})")
	}
}

// slowestOven and fastestLine are what a line's speed may be limited to: see [proof.Speed].
const (
	slowestOven unit.PieceRate = 0.01
	fastestLine unit.PieceRate = 10_000
)

// baked reports whether the line's oven is planned for the product.
func (p *Product) baked(l *Line) bool { return l.Oven.Kind != "" && p.Baking.PerLoad > 0 }

// ovenRate: the most pieces that the line's oven takes, one load after the other; 0 if it sets no limit.
func (r *run) ovenRate() unit.PieceRate {
	b := &r.product.Baking
	if !r.product.baked(r.line) {
		return 0
	}
	q := OvenRate{Oven: r.line.Oven, Time: b.Time, PerLoad: b.PerLoad}
	out, err := q.Solve()
	if err != nil || out.PieceRate > fastestLine {
		return 0 // line and product say what is wrong; or no line comes near
	}
	if r.w != nil {
		r.w.Heading("What the oven takes")
		q.Show(r.w, out)
	}
	return out.PieceRate
}

// inRacks is how long a rack is taken for the baking as well: it stands in the oven with its pieces.
func (p *Product) inRacks(l *Line) unit.Duration {
	if l.Oven.Kind != RackOven || !p.baked(l) {
		return 0
	}
	return p.Baking.Time
}
