package line

import (
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// wall is a moment as the clock on the wall shows it, and the day if it is another than that from whose midnight it counts.
func wall(t unit.Duration) string {
	text, day := t.TimeOfDay(unit.Metric)
	switch {
	case day == -1:
		text += " the day before"
	case day != 0:
		text += " of day " + strconv.Itoa(day+1)
	}
	return text
}

// worthTelling is the shortest wait that is a finding: below it nobody at the line sees one.
const worthTelling unit.Duration = 1

// Where something waits.
const (
	theHopper = "hopper"
	theOven   = "oven"
	theRacks  = "racks"
)

// findings tells what does not go as it should, and what would mend it.
func (r *ran) findings(racks *RackUse) (list []Finding) {
	t, o := &r.plan.Times, r.plan
	sooner := "let mixers or bowls take turns, so that a batch comes every " + t.BatchScaling.String()
	why := "the mixer gives a batch every " + t.BatchInterval.String() + " and the divider scales it in " + t.BatchScaling.String()
	if r.waits() {
		list = append(list, Finding{At: theHopper, Says: "the divider waits for dough for " + t.BatchWait.String() + " after each batch but the last: " + why, Mend: sooner})
	}
	if most := r.q.Order.Product.HopperMax; o.Hopper.Time > most*(1+hair) {
		list = append(list, Finding{
			At: theHopper, Says: "dough stands there up to " + o.Hopper.Time.String() + ", longer than " + most.String() + ": a batch of " + strconv.Itoa(o.Batch.PiecesPerBatch) +
				" pieces is scaled in " + t.BatchScaling.String(),
			Mend: "make smaller batches, or run faster",
		})
	}
	switch {
	case len(r.loads) > 0:
		list = append(list, r.ovenFindings(why, sooner)...)
	case r.waits():
		list = append(list, Finding{At: theOven, Says: "it waits " + t.BatchWait.String() + " longer than usual for the first pieces of each batch but the first: " + why, Mend: sooner})
	}
	if racks.ShortBy > 0 {
		list = append(list, r.racksShort(racks))
	}
	return slices.Clip(list)
}

// ovenFindings tells of an oven without pieces and of pieces that wait for it.
func (r *ran) ovenFindings(why, sooner string) (list []Finding) {
	p := &r.q.Order.Product
	var empty, late unit.Duration
	times, at := 0, unit.Duration(0)
	out := r.loads[0].Out
	for i := range r.loads {
		k := &r.loads[i]
		if gap := k.In - out; gap > worthTelling {
			if empty == 0 {
				at = out + r.start
			}
			times++
			empty = max(empty, gap)
		}
		out = max(out, k.Out)
		late = max(late, k.In-k.Ready)
	}
	if empty > 0 {
		says := "it stands without pieces " + strconv.Itoa(times) + " times, up to " + empty.String() + ", first at " + wall(at) + ": "
		if r.waits() {
			list = append(list, Finding{At: theOven, Says: says + why, Mend: sooner})
		} else {
			// A load is followed by the next within its baking if it fills no slower.
			per := float64(r.perLoad())
			list = append(list, Finding{
				At: theOven, Says: says + "a load of " + strconv.Itoa(r.perLoad()) + " pieces takes " + unit.Duration(per/float64(r.plan.Rate.PieceRate)*60).String() + " to make and " + p.Baking.Time.String() + " to bake",
				Mend: "make loads of at most " + strconv.Itoa(int(math.Floor(float64(r.plan.Rate.PieceRate)*float64(p.Baking.Time)/60))) + " pieces, or run at " + unit.PieceRate(math.Ceil(per/float64(p.Baking.Time)*6000)/100).String() + " or more",
			})
		}
	}
	if may := max(0, p.Baking.StayMax-p.FinalStay); late > max(may, worthTelling) {
		says := "pieces that are proofed wait for it up to " + late.String()
		if p.Baking.StayMax > 0 {
			says += ", and " + may.String() + " is the most"
		}
		says += ": a load goes in as there is room, and it was ready sooner than the ones before it let it in"
		list = append(list, Finding{At: theOven, Says: says, Mend: r.enough(max(may, worthTelling), late)})
	}
	return list
}

// enough says what lets no load wait longer than it may; the longest wait is so long.
func (r *ran) enough(may, late unit.Duration) string {
	stay := "allow a stay of " + (r.q.Order.Product.FinalStay + unit.Duration(math.Ceil(float64(late)))).String() + " in the final proof"
	if r.q.Line.Oven.Kind == TunnelOven {
		return "let no run end with a part-filled rack, or " + stay
	}
	q := *r.q
	try := ran{q: &q, plan: r.plan}
	for n := q.Line.Oven.Places + 1; n <= len(r.loads); n++ {
		q.Line.Oven.Places, try.loads = n, try.loads[:0]
		if try.bake(); !slices.ContainsFunc(try.loads, func(k OvenLoad) bool { return k.In-k.Ready > may }) {
			return "bake in " + strconv.Itoa(n) + " places, let no batch end with a part-filled rack, or " + stay
		}
	}
	return stay
}

// shortOf says by how many racks the line is short, and from when.
func shortOf(u *RackUse, available int) string {
	return "up to " + strconv.Itoa(u.Most) + " are taken at once and there are " + strconv.Itoa(available) + ": from " + wall(u.ShortFrom) + " the line waits for racks"
}

// racksShort tells of racks that are wanting.
func (r *ran) racksShort(u *RackUse) Finding {
	p, f := &r.q.Order.Product, &r.q.Line.FinalProof
	k := Finding{At: theRacks, Says: shortOf(u, f.Available), Mend: "have " + strconv.Itoa(u.Most)}
	q := proof.RateForFinalProofLoad{Available: f.Available, PerCarrier: p.PerCarrier, Carrier: f.Carrier, Stay: p.FinalStay, Handling: f.Handling + p.inRacks(&r.q.Line)}
	if out, err := q.Solve(); err == nil {
		k.Mend += ", or run no faster than " + unit.PieceRate(math.Floor(float64(out.PieceRate)*100)/100).String()
	}
	return k
}
