package line

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// PrefermentRun is how one preferment of a batch is made.
type PrefermentRun struct {
	Name   string                           `json:"name"`                   // the preferment
	Before unit.Duration                    `json:"before" sym:"-"`         // how long before the mixing of its batch it is started
	Draw   doughmath.WaterDrawResult        `json:"draw,omitzero" sym:"-"`  // ice, tap water and hot water for one batch, if a temperature is wanted
	Water  doughmath.WaterTemperatureResult `json:"water,omitzero" sym:"-"` // the temperature behind it
}

// MixFor returns what is weighed of a preferment or a soaker for so many batches, all of it and part by part; nothing if the
// product has none of that name.
func (o *PlanResult) MixFor(name string, batches int) (all unit.Mass, parts []doughmath.MixPart) {
	for _, part := range o.Split.Parts {
		if part.Mix == name {
			part.Mass, part.Exact = unit.Mass(float64(part.Mass)*float64(batches)), unit.Mass(float64(part.Exact)*float64(batches))
			all += part.Mass
			parts = append(parts, part)
		}
	}
	return all, parts
}

// prefermentMixes: when each preferment is started, and its water.
func (r *run) prefermentMixes() {
	p, s := r.product, r.shift
	if len(p.PrefermentMixes) == 0 {
		return
	}
	const list = "order.product.preferment_mixes"
	if !r.matchMixes(list) {
		return
	}
	times := doughmath.PrefermentTimes{}
	for i := range p.PrefermentMixes {
		m := &p.PrefermentMixes[i]
		times.Preferments = append(times.Preferments, doughmath.PrefermentTime{Name: m.Name, Into: r.into(m.Name), Mixing: m.Mixing, Ripening: m.Ripening})
	}
	timesAt := func() places { return places{{"preferments", list}, {"", "order.product."}} }
	waters := make([]doughmath.WaterTemperature, len(p.PrefermentMixes))
	for i := range p.PrefermentMixes {
		m := &p.PrefermentMixes[i]
		waters[i] = doughmath.WaterTemperature{
			TargetTemp: m.TargetTemp, FlourTemp: s.FlourTemp, Room: s.Room, Friction: m.Friction, Basis: m.Basis, YeastUse: m.YeastUse,
		}
		if r.takesAnother(m.Name) {
			waters[i].Third = p.PrefermentTemp
		}
	}
	waterAt := func(i int) func() places {
		return func() places {
			return places{
				{"flour_temp", "shift.flour_temp"},
				{"room", "shift.room"},
				{"third", "order.product.preferment_temp"},
				{"", list + "[" + strconv.Itoa(i) + "]."},
			}
		}
	}
	tellAll := func() {
		r.tell(timesAt, times.Check)
		for i := range waters {
			if p.PrefermentMixes[i].TargetTemp.Given() {
				r.tell(waterAt(i), waters[i].Check)
			}
		}
	}
	if !r.ready() {
		tellAll()
		return
	}
	starts, err := times.Solve()
	if !r.settled(err, timesAt) {
		tellAll()
		return
	}
	if r.w != nil {
		r.w.Heading("When the preferments are started")
		times.Show(r.w, starts)
	}
	for i := range waters {
		run := PrefermentRun{Name: p.PrefermentMixes[i].Name, Before: starts.Starts[i].Before}
		if p.PrefermentMixes[i].TargetTemp.Given() {
			r.prefermentWater(&run, waters[i], waterAt(i))
		}
		if !r.c.OK() {
			tellAll()
			return
		}
		r.out.PrefermentRuns = append(r.out.PrefermentRuns, run)
	}
}

// prefermentWater finds the water of one preferment, and what of it is ice or hot.
func (r *run) prefermentWater(run *PrefermentRun, water doughmath.WaterTemperature, at func() places) {
	s := r.shift
	var err error
	if run.Water, err = water.Solve(); !r.settled(err, at) {
		return
	}
	draw := doughmath.WaterDraw{NeededTemp: run.Water.WaterTemp, Tap: s.Tap, HotTap: s.HotTap}
	for _, part := range r.out.Split.Parts {
		if part.Mix != run.Name || !slices.ContainsFunc(r.product.Formula, func(g doughmath.Ingredient) bool {
			return g.Name == part.Name && g.Role == doughmath.RoleWater
		}) {
			continue
		}
		draw.Water += part.Mass
		if draw.Division == 0 || part.Division < draw.Division {
			draw.Division = part.Division
		}
	}
	if r.w != nil {
		r.w.Heading("Water of the " + run.Name)
		water.Show(r.w, run.Water)
	}
	if draw.Water == 0 {
		return // no water is weighed into it
	}
	if run.Draw, err = draw.Solve(); r.settled(err, func() places { return places{{"tap", "shift.tap"}, {"hot_tap", "shift.hot_tap"}, {"", "~shift."}} }) && r.w != nil {
		r.w.Heading("What to draw for the " + run.Name)
		draw.Show(r.w, run.Draw)
	}
}

// mostMixes is as many preferments as [doughmath.PrefermentSplit] takes.
const mostMixes = 16

// matchMixes requires one mix for each preferment.
func (r *run) matchMixes(list string) bool {
	p := r.product
	if !reckon.CheckItems(r.c, list, len(p.PrefermentMixes), mostMixes) {
		return false
	}
	if len(p.PrefermentMixes) != len(p.Preferments) {
		r.c.Fail(list, strconv.Itoa(len(p.PrefermentMixes))+" mixes", "one for each of the "+strconv.Itoa(len(p.Preferments))+" preferments")
		return false
	}
	ok := true
	for i := range p.PrefermentMixes {
		m, at := &p.PrefermentMixes[i], list+"["+strconv.Itoa(i)+"]"
		if !slices.ContainsFunc(p.Preferments, func(f doughmath.Preferment) bool { return f.Name == m.Name }) ||
			slices.ContainsFunc(p.PrefermentMixes[:i], func(o PrefermentMix) bool { return o.Name == m.Name }) {
			r.c.Fail(at+".name", strconv.Quote(unit.Clip(m.Name)), "the name of a preferment, each once")
			ok = false
		}
		if !m.TargetTemp.Given() && (m.Friction != 0 || m.Basis != "") {
			r.c.Fail(at+".target_temp", "not given", "the temperature wanted, or no friction either")
			ok = false
		}
	}
	return ok
}

// into lists the preferments that one goes into.
func (r *run) into(name string) (into []string) {
	for i := range r.product.Preferments {
		f := &r.product.Preferments[i]
		if slices.ContainsFunc(f.Parts, func(part doughmath.PrefermentPart) bool { return part.Name == name && part.Percent > 0 }) {
			into = append(into, f.Name)
		}
	}
	return into
}

// takesAnother reports whether another preferment goes into the one named.
func (r *run) takesAnother(name string) bool {
	return slices.ContainsFunc(r.product.Preferments, func(f doughmath.Preferment) bool { return slices.Contains(r.into(f.Name), name) })
}
