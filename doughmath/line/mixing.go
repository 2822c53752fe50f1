package line

import (
	"fmt"
	"slices"
	"strconv"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// dough: what to weigh for one batch, how wet it is and how warm its water.
func (r *run) dough(due station, dst []doughmath.Part) {
	if !r.ready() {
		var weigh doughmath.FormulaScale
		r.askWeigh(&weigh)
		r.tell(weighAt, weigh.Check)
		wet := doughmath.Hydration{Ingredients: r.product.Formula, Liquids: doughmath.LiquidsWater}
		r.tell(wetAt, wet.Check)
		r.tellWater()
		if out, err := wet.Solve(); err == nil {
			r.dry(&out)
		}
		return
	}
	if due.has(weighing) && !r.weigh(dst) {
		r.tellWater()
		return
	}
	if due.has(wetting) && !r.wet() {
		return
	}
	if due.has(tempering) {
		r.waterTemp()
	}
}

func (r *run) askWeigh(q *doughmath.FormulaScale) {
	q.Ingredients, q.Dough = r.product.Formula, r.out.Batch.BatchDough
	q.Division, q.Scales = r.shift.Division, r.scales()
}

func weighAt() places {
	return places{{"division", "shift.division"}, {"scales", "shift.scales"}, {"ingredients", "order.product.formula"}, {"", "~order."}}
}

// weigh: what to weigh for one batch.
func (r *run) weigh(dst []doughmath.Part) bool {
	var q doughmath.FormulaScale
	r.askWeigh(&q)
	if err := q.AppendInto(dst, &r.out.Weigh); !r.settled(err, weighAt) {
		return false
	}
	r.first = len(dst)
	if r.w != nil {
		r.w.Heading("Weighing one batch")
		q.Show(r.w, r.out.Weigh)
	}
	return true
}

func wetAt() places {
	return places{{"ingredients", "order.product.formula"}, {"", "~order.product.formula."}}
}

// wet: how wet the dough is.
func (r *run) wet() bool {
	var q doughmath.Hydration
	q.Ingredients, q.Liquids = r.product.Formula, doughmath.LiquidsWater
	if err := q.SolveInto(&r.out.Hydration); !r.settled(err, wetAt) {
		return false
	}
	if r.dry(&r.out.Hydration); !r.c.OK() {
		return false
	}
	if r.w != nil {
		r.w.Heading("Hydration")
		q.Show(r.w, r.out.Hydration)
	}
	return true
}

func (r *run) askWater(q *doughmath.WaterTemperature) {
	p, s := r.product, r.shift
	q.TargetTemp, q.FlourTemp, q.Room, q.Third = p.DoughTemp, s.FlourTemp, s.Room, p.PrefermentTemp
	q.Friction, q.Basis, q.YeastUse = p.Friction, p.Basis, p.YeastUse
}

func waterAt() places {
	return places{
		{"target_temp", "order.product.dough_temp"},
		{"flour_temp", "shift.flour_temp"},
		{"room", "shift.room"},
		{"third", "order.product.preferment_temp"},
		{"", "order.product."},
	}
}

func (r *run) tellWater() {
	var q doughmath.WaterTemperature
	r.askWater(&q)
	r.tell(waterAt, q.Check)
}

// waterTemp: the water temperature by the factor rule.
func (r *run) waterTemp() {
	var q doughmath.WaterTemperature
	r.askWater(&q)
	if err := q.SolveInto(&r.out.Water); r.settled(err, waterAt) && r.w != nil {
		r.w.Heading("Water temperature")
		q.Show(r.w, r.out.Water)
	}
}

// scales are those of the shift, each kept for what this formula has of its
// ingredients: another product's are no concern here.
func (r *run) scales() []doughmath.Scale {
	if len(r.shift.Scales) == 0 {
		return nil
	}
	own := make([]doughmath.Scale, len(r.shift.Scales))
	for i, s := range r.shift.Scales {
		kept := s.For
		s.For = nil
		for _, name := range kept {
			if slices.ContainsFunc(r.product.Formula, func(g doughmath.Ingredient) bool { return g.Name == name }) {
				s.For = append(s.For, name)
			}
		}
		own[i] = s
	}
	return own
}

// division is that of the scale on which so much water or ice is weighed.
func (r *run) division(m unit.Mass) unit.Mass {
	if len(r.shift.Scales) > 0 {
		if s, ok := doughmath.ScaleFor(r.shift.Scales, "", m); ok {
			return s.Division
		}
	}
	return r.shift.Division
}

// dry refuses a formula without any water.
func (r *run) dry(wet *doughmath.HydrationResult) {
	if !(wet.Hydration > 0) {
		r.c.Fail("order.product.formula", "without any water", "water or another liquid: flour alone makes no dough")
	}
}

// preferments: the formula as preferments and final mix.
func (r *run) preferments() {
	p := r.product
	if len(p.Preferments) == 0 {
		return
	}
	q := doughmath.PrefermentSplit{
		Ingredients: p.Formula, Preferments: p.Preferments, Dough: r.out.Weigh.Weighed, Liquids: doughmath.LiquidsWater,
		Division: r.shift.Division, Scales: r.scales(),
	}
	at := func() places {
		return places{{"division", "shift.division"}, {"scales", "shift.scales"}, {"ingredients", "order.product.formula"}, {"dough", "~order.pieces"}, {"", "order.product."}}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Split, err = q.Solve(); !r.settled(err, at) || r.w == nil {
		return
	}
	r.w.Heading("Preferments and final mix of one batch")
	q.Show(r.w, r.out.Split)
}

// mostHeatParts is as many as [doughmath.MixingBatch] takes.
const mostHeatParts = 100

// heat: the water temperature by the heat balance, if the product has the data.
func (r *run) heat() {
	p := r.product
	r.out.WaterTemp = r.out.Water.WaterTemp
	if p.Heat == nil {
		return
	}
	reckon.CheckItems(r.c, "order.product.heat.ingredients", len(p.Heat.Ingredients), mostHeatParts)
	if len(p.Heat.Ingredients) != len(p.Formula) {
		r.c.Fail("order.product.heat.ingredients", strconv.Itoa(len(p.Heat.Ingredients))+" lines",
			fmt.Sprintf("one for each of the formula's %d lines, in its order", len(p.Formula)))
	}
	if len(p.Preferments) > 0 && !p.PrefermentTemp.Given() && !r.c.Told("order.product.preferment_temp") {
		r.c.Fail("order.product.preferment_temp", p.PrefermentTemp.String(), "the temperature of the preferments: the heat balance needs it")
	}
	if !r.ready() {
		return // without its masses the balance has nothing to check
	}
	batch := r.heatBatch()
	at := func() places {
		return places{
			{"target_temp", "order.product.dough_temp"},
			{"room", "shift.room"},
			{"friction", "order.product.friction"},
			{"friction_basis", "order.product.friction_basis"},
			{"yeast", "order.product.yeast"},
			{"yeast_step", "order.product.yeast_step"},
			{"", "order.product.heat."},
		}
	}
	water := doughmath.WaterForMixingHeat{MixingBatch: batch, TargetTemp: p.DoughTemp}
	var err error
	if r.out.HeatWater, err = water.Solve(); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		r.w.Heading("Heat balance of mixing")
		water.Show(r.w, r.out.HeatWater)
	}
	for i := range batch.Ingredients {
		if !batch.Ingredients[i].Temp.Given() {
			batch.Ingredients[i].Temp = r.out.HeatWater.WaterTemp
		}
	}
	r.out.WaterTemp = r.out.HeatWater.WaterTemp
	friction := p.Friction // a copy: the product itself stays off the heap
	heat := doughmath.MixingHeat{MixingBatch: batch, Room: r.shift.Room, Friction: &friction, Basis: p.Basis}
	if r.out.Heat, err = heat.Solve(); r.settled(err, at) && r.w != nil {
		heat.Show(r.w, r.out.Heat)
	}
}

// heatBatch is the batch as the heat balance takes it, its water still without
// a temperature. What is in a preferment has the preferment's.
func (r *run) heatBatch() doughmath.MixingBatch {
	p, h := r.product, r.product.Heat
	batch := doughmath.MixingBatch{
		Heats: h.Heats, HydrationHeat: h.HydrationHeat, Work: h.Work, Power: h.Power, Time: h.Time,
		CoolingEnergy: h.CoolingEnergy, Bowl: h.Bowl, Calibrated: h.Calibrated, YeastUse: p.YeastUse,
	}
	add := func(i int, m unit.Mass, t unit.Temp, preferment bool) {
		k := &h.Ingredients[i]
		batch.Ingredients = append(batch.Ingredients, doughmath.HeatIngredient{Kind: k.Kind, Mass: m, Temp: t, SpecificHeat: k.SpecificHeat, Preferment: preferment})
	}
	if len(r.out.Split.Parts) == 0 {
		for i := range p.Formula {
			add(i, r.out.Weigh.Parts[r.first+i].Mass, h.Ingredients[i].Temp, false)
		}
		return batch
	}
	for _, part := range r.out.Split.Parts {
		for i := range p.Formula {
			switch {
			case p.Formula[i].Name != part.Name:
			case part.Mix == doughmath.FinalMix:
				add(i, part.Mass, h.Ingredients[i].Temp, false)
			default:
				add(i, part.Mass, p.PrefermentTemp, true)
			}
		}
	}
	return batch
}

// sameWater is how little the tap may be warmer than the water and still be as cold: more than binary arithmetic
// leaves over, and less than any ice that can be weighed.
const sameWater unit.TempDelta = 1e-6

// water: the formula water of the final mix, and what of it is ice.
func (r *run) water() {
	if !r.ready() {
		return
	}
	s := r.shift
	r.w.Heading("Water and ice")
	waters := r.waterMass()
	if r.w != nil && waters > 0 {
		r.w.Lines(*r.out, "formula water of the final mix of one batch: W_all = sum(W_#)")
	}
	r.out.WaterToWeigh = r.out.WaterMass
	if r.out.WaterMass == 0 {
		return
	}
	if !(s.Tap.Sub(r.out.WaterTemp) > sameWater) {
		r.warm()
		return
	}
	ice := r.iceFor()
	if !r.c.OK() {
		return
	}
	division := float64(r.division(ice))
	r.out.IceToWeigh = unit.Mass(nearest(float64(ice), division))
	r.out.WaterToWeigh = r.out.WaterMass - r.out.IceToWeigh
	if r.out.IceToWeigh == 0 {
		// What the scale does not show is not weighed, and nobody handles it.
		r.out.Ice.Cautions &^= reckon.IceHandling
		r.out.HeatIce.Cautions &^= reckon.IceHandling
	}
	if r.w != nil {
		r.w.Carried("ice", "J", float64(ice), "g")
		r.showNearest("ice to weigh", "J_set", "J", division, "g")
		r.w.Lines(*r.out, "water to weigh: W_tap = W_all - J_set")
	}
}

// warm: what of the formula water comes from the hot tap.
func (r *run) warm() {
	s := r.shift
	if !s.HotTap.Given() {
		if r.w != nil {
			r.w.Lines(*r.out, "water to weigh: W_tap = W_all  [all of it from the tap]")
		}
		if s.Tap.Less(r.out.WaterTemp) {
			r.out.Water.Conditions |= doughmath.WarmerThanTap
		}
		return
	}
	var q doughmath.WaterMix
	q.Water, q.WantedTemp, q.Cold = r.out.WaterMass, r.out.WaterTemp, s.Tap
	if q.WantedTemp.Less(s.Tap) {
		q.WantedTemp = s.Tap
	}
	q.Hot = s.HotTap
	var err error
	if err = q.SolveInto(&r.out.Mix); !r.settled(err, func() places { return places{{"cold", "shift.tap"}, {"hot", "shift.hot_tap"}, {"", "~shift."}} }) {
		return
	}
	// Whether it harms the yeast is told of the water as it is poured, by one who knows the yeast.
	r.out.Mix.Conditions &^= doughmath.WarmForYeast
	division := float64(r.division(r.out.Mix.HotWater))
	r.out.HotToWeigh = unit.Mass(nearest(float64(r.out.Mix.HotWater), division))
	r.out.WaterToWeigh = r.out.WaterMass - r.out.HotToWeigh
	if r.w != nil {
		q.Show(r.w, r.out.Mix)
		r.showNearest("hot water to weigh", "H_set", "m_hot", division, "g")
		r.w.Lines(*r.out, "water to weigh: W_tap = W_all - H_set")
	}
}

// waterMass sums the formula water of the final mix, and returns how many of
// its lines are water.
func (r *run) waterMass() (waters int) {
	weighed := r.out.Weigh.Parts[r.first:]
	for i := range r.product.Formula {
		g := &r.product.Formula[i]
		if g.Role != doughmath.RoleWater {
			continue
		}
		if len(r.out.Split.Parts) == 0 {
			waters = r.pour(g.Name, weighed[i].Mass, waters)
		}
		for _, part := range r.out.Split.Parts {
			if part.Mix == doughmath.FinalMix && part.Name == g.Name {
				waters = r.pour(g.Name, part.Mass, waters)
			}
		}
	}
	return waters
}

// pour adds one line of water to the formula water, and returns how many there are now.
func (r *run) pour(name string, m unit.Mass, waters int) int {
	r.out.WaterMass += m
	if waters++; r.w != nil {
		r.w.Carried(name, "W_"+strconv.Itoa(waters), float64(m), "g")
	}
	return waters
}

// iceFor returns the ice that replaces water: by the heat balance if it knows
// how cold the ice is, otherwise by the trade's rule.
func (r *run) iceFor() unit.Mass {
	p, s := r.product, r.shift
	var err error
	if p.Heat != nil && p.Heat.IceTemp.Given() {
		batch := r.heatBatch()
		batch.IceTemp = p.Heat.IceTemp
		for i := range batch.Ingredients {
			if !batch.Ingredients[i].Temp.Given() {
				batch.Ingredients[i].Temp = s.Tap
			}
		}
		q := doughmath.IceForMixingHeat{MixingBatch: batch, TargetTemp: p.DoughTemp, Reading: doughmath.IceReplacing}
		if r.out.HeatIce, err = q.Solve(); r.settled(err, func() places { return places{{"target_temp", "order.product.dough_temp"}, {"", "order.product.heat."}} }) && r.w != nil {
			q.Show(r.w, r.out.HeatIce)
		}
		return r.out.HeatIce.Ice
	}
	var q doughmath.Ice
	q.Water, q.Tap, q.NeededTemp = r.out.WaterMass, s.Tap, r.out.WaterTemp
	q.Reading = doughmath.IceReplacing
	if err = q.SolveInto(&r.out.Ice); r.settled(err, func() places { return places{{"needed_temp", "~shift.tap"}, {"", "shift."}} }) && r.w != nil {
		q.Show(r.w, r.out.Ice)
	}
	return r.out.Ice.Ice
}
