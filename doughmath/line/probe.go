package line

import (
	"strings"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// A station is asked only when those before it have answered. So that a person
// still mends everything in one go, the stations that were not come to are
// asked here with usual values in place of what is not known, and what they
// find wrong with the values that were given is told.

// usual values, for what an earlier station would have given.
const (
	usualPiece   unit.Mass      = 100
	usualDough   unit.Mass      = 50_000
	usualDensity unit.Density   = 1
	usualRate    unit.PieceRate = 20
)

// probe tells each field once.
type probe struct {
	c    *reckon.Checks
	told map[string]bool
}

func newProbe(c *reckon.Checks) probe {
	p := probe{c: c, told: map[string]bool{}}
	for _, e := range reckon.InputErrors(c.Err()) {
		p.told[e.Field] = true
	}
	return p
}

// take passes on what err says of the fields in paths, under their path here.
func (p *probe) take(err error, paths map[string]string) {
	for _, e := range reckon.InputErrors(err) {
		head, rest := e.Field, ""
		if i := strings.IndexAny(e.Field, ".["); i >= 0 {
			head, rest = e.Field[:i], e.Field[i:]
		}
		path, ok := paths[head]
		if !ok || p.told[path+rest] {
			continue
		}
		p.told[path+rest] = true
		p.c.Fail(path+rest, e.Value, e.Want)
	}
}

// under maps each field to itself below a prefix.
func under(prefix string, fields ...string) map[string]string {
	out := map[string]string{}
	for _, f := range fields {
		out[f] = prefix + f
	}
	return out
}

// probe asks the stations about an order and its shift.
func (o *Order) probe(c *reckon.Checks, l *Line, s *Shift) {
	p, q := &o.Product, newProbe(c)
	_, err := doughmath.ScalingWeight{Baked: p.Baked, Fermentation: p.Loss.Fermentation, Bake: p.Loss.Bake, Cooling: p.Loss.Cooling, Combine: p.Loss.Combine}.Solve()
	paths := under("order.product.loss.", "fermentation", "bake", "cooling", "combine")
	paths["baked"] = "order.product.baked"
	q.take(err, paths)
	if l.lanes(p.Across) < 0 && !q.told["order.product.across"] && len(l.Divider.Lanes) > 0 {
		r := run{line: l, product: p, c: c}
		r.refuseAcross()
	}
	if p.Label != (Label{}) {
		_, err = divider.TargetWeight{
			Rules: p.Label.Rules, Nominal: p.Baked, Spread: p.Label.Spread, FirstShare: p.Label.FirstShare, SecondShare: p.Label.SecondShare,
			Drift: p.Label.Drift, Bake: doughmath.Loss{Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
		}.Solve()
		q.take(err, under("order.product.label.", "rules", "spread", "first_share", "second_share", "drift"))
	}
	if p.Check != (Check{}) {
		_, err = divider.PiecesToWeigh{SD: p.Check.SD, HalfWidth: p.Check.HalfWidth, Level: p.Check.Level}.Solve()
		q.take(err, under("order.product.check.", "sd", "half_width", "level"))
	}
	proofer := proof.Proofer{Pockets: 6, Trays: 100, LastPassTrays: 100, TraysPerStroke: 1}
	_, err = proof.Speed{Proofer: proofer, Across: 1, DwellLow: p.DwellLow, DwellHigh: p.DwellHigh}.Solve()
	q.take(err, under("order.product.", "dwell_low", "dwell_high"))
	_, err = divider.BatchForHopperTime{Limit: p.HopperMax, Dough: 100}.Solve()
	q.take(err, map[string]string{"limit": "order.product.hopper_max"})
	_, err = doughmath.BatchPlan{Pieces: o.Pieces, PieceWeight: usualPiece, Spare: o.Spare, Waste: s.Waste, WasteBasis: s.WasteBasis, MixerMost: 100 * usualDough}.Solve()
	q.take(err, map[string]string{"pieces": "order.pieces", "spare": "order.spare", "waste": "shift.waste", "waste_basis": "shift.waste_basis"})
	_, err = doughmath.FormulaScale{Ingredients: p.Formula, Dough: usualDough, Division: s.Division}.Solve()
	q.take(err, map[string]string{"ingredients": "order.product.formula", "division": "shift.division"})
	_, err = doughmath.WaterTemperature{Target: p.Dough, Flour: s.Flour, Room: s.Room, Third: p.PrefermentTemp, Friction: p.Friction, Basis: p.Basis}.Solve()
	q.take(err, map[string]string{
		"target": "order.product.dough", "flour": "shift.flour", "room": "shift.room", "third": "order.product.preferment_temp",
		"friction": "order.product.friction", "friction_basis": "order.product.friction_basis",
	})
	if p.Route == ToMoulder {
		_, err = molder.GapForTurns{Turns: p.Turns, Piece: usualPiece, Density: usualDensity, Recovery: 1.5, Aspect: p.Aspect}.Solve()
		q.take(err, map[string]string{"turns": "order.product.turns", "aspect": "order.product.sheet_aspect"})
		if p.Panned != nil {
			_, err = molder.PanFit{
				Piece: usualPiece, Density: usualDensity, Length: 10, Pan: p.Panned.Pan, Growth: p.Panned.Growth,
				FillLow: p.Panned.FillLow, FillHigh: p.Panned.FillHigh, Measured: p.Panned.Measured,
			}.Solve()
			q.take(err, under("order.product.panned.", "pan", "growth", "fill_low", "fill_high"))
		}
	}
	if l.Duster != (divider.StickinessScale{}) {
		_, err = divider.FlourUse{Scale: l.Duster, Stickiness: p.Stickiness, Rate: usualRate, Run: 3600}.Solve()
		q.take(err, map[string]string{"stickiness": "order.product.stickiness"})
	}
	if p.FinalStay != 0 {
		_, err = proof.FinalProofLoad{Rate: usualRate, Stay: p.FinalStay, Holder: proof.HolderRack, PerHolder: p.PerHolder}.Solve()
		q.take(err, map[string]string{"stay": "order.product.final_stay", "per_holder": "order.product.per_holder"})
	}
}

// probe asks the stations about the line.
func (l *Line) probe(c *reckon.Checks) {
	q := newProbe(c)
	_, err := proof.Dwell{Proofer: l.Proofer, Across: 1, Strokes: 20}.Solve()
	q.take(err, map[string]string{"proofer": "line.proofer"})
	_, err = molder.DrumChoice{Piece: usualPiece, Density: usualDensity, Drums: l.Drums, FillLow: l.Fill.Low, FillHigh: l.Fill.High}.Solve()
	q.take(err, map[string]string{"drums": "line.drums", "fill_low": "line.drum_fill.low", "fill_high": "line.drum_fill.high"})
	if k := l.Rounder; k != (Rounder{}) {
		_, err = molder.RoundingTime{Diameter: k.Diameter, Speed: k.Speed, Path: k.Path, Travel: k.Travel, Least: k.Least, Most: k.Most}.Solve()
		q.take(err, under("line.rounder.", "diameter", "speed", "path", "travel", "least", "most"))
	}
	if s := l.Stamper; s.Die != "" {
		_, err = molder.StampRate{Rate: usualRate, Across: 1, Die: s.Die, Around: s.Around, Contact: s.Contact}.Solve()
		q.take(err, under("line.stamper.", "die", "around", "contact"))
	}
	if len(l.Oil) > 0 {
		_, err = divider.OilUse{Valves: l.Oil, Scaling: 3600, Runs: 1}.Solve()
		q.take(err, map[string]string{"valves": "line.oil_valves"})
	}
	if l.Duster != (divider.StickinessScale{}) {
		_, err = divider.FlourUse{Scale: l.Duster, Stickiness: l.Duster.From, Rate: usualRate, Run: 3600}.Solve()
		q.take(err, map[string]string{"scale": "line.flour_duster"})
	}
	if m := &l.Moulder; *m != (Moulder{}) {
		_, err = molder.GapForTurns{Turns: 2.5, Piece: usualPiece, Density: usualDensity, Recovery: m.Recovery, Aspect: 2}.Solve()
		q.take(err, map[string]string{"recovery": "line.moulder.recovery"})
	}
}
