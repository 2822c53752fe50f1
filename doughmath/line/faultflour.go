package line

import (
	"slices"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// dusters visits those that the symptom is about, with what the plan has of each.
func (f *fault) dusters(onto Onto, visit func(d *Duster, plan *Dusting)) {
	for i := range f.plan.Dusting {
		plan := &f.plan.Dusting[i]
		at := slices.IndexFunc(f.q.Line.Dusters, func(d Duster) bool { return d.Name == plan.Name })
		if onto == "" || plan.Onto == onto {
			visit(&f.q.Line.Dusters[at], plan)
		}
	}
}

// flour: does each duster drop what the plan asks for?
func (f *fault) flour(way Side, onto Onto) {
	name := FlourMuch
	if way == TooLittle {
		name = FlourLittle
	}
	f.dusters(onto, func(d *Duster, plan *Dusting) {
		calculation := divider.FlourUse{}.ID()
		at := slices.IndexFunc(f.q.Readings.Flour, func(r FlourReading) bool { return r.Duster == d.Name })
		if at < 0 {
			f.need(name, calculation, "Catch the flour of the duster "+d.Name+" for a minute, from outside the guards, and weigh it.")
			return
		}
		v, want := float64(f.q.Readings.Flour[at].FlourRate), plan.Flour.Hour
		if len(d.Slide) > 0 {
			want = plan.Slide.FlourRate // what falls where the slide is set
		}
		s := suspect{
			Cause: Cause{
				Cause: name, Calculation: calculation,
				Next: "Catch it again with the slide set: if it drops what the plan asks for and the pieces are as before, it is the dough.",
			},
			what: "flour that the duster " + d.Name + " drops", side: way, in: flow, of: d.Name,
			// Of a duster that drops next to nothing it is the plan's flour that the scale weighs as closely.
			v: read(v), l: asPlanned(float64(want)), u: worked(max(v, float64(want))*float64(f.q.Instruments.Scale)/100, "max(v_#, l_#)*r_s/100"), show: f.showScale,
			advice: "Set the duster " + d.Name + " to " + want.String() + ", only as much as keeps the pieces from sticking.",
		}
		f.slide(&s, d, plan, v)
		f.judge(s)
	})
}

// slide says how to set a slide: by its own points it stands where it drops v.
func (f *fault) slide(s *suspect, d *Duster, plan *Dusting, v float64) {
	at := divider.SlideForFlow{FlourRate: unit.MassRate(v), Points: d.Slide}
	stands, err := at.Solve()
	if err != nil {
		return // it has no points, or drops less than at the first or more than at the last
	}
	s.Sets, s.advice = SetsSlide, "If it stands there already, the sieve is blocked or the flour damp. Only as much flour as keeps the pieces from sticking."
	s.x, s.y = worked(stands.Slide, "X_set"), asPlanned(plan.Slide.Slide)
	s.showTo = func(w *reckon.Working) { at.Show(w, stands) }
}

// sticky: is the dough as sticky as planned?
func (f *fault) sticky(way Side) {
	p, x := &f.q.Order.Product, f.q.Readings.Stickiness
	calculation := divider.FlourUse{}.ID()
	if len(f.plan.Dusting) == 0 {
		return
	}
	if x == 0 {
		f.need(DoughSticky, calculation, "Judge the dough's stickiness on the bakery's own scale.")
		return
	}
	advice := ""
	f.dusters("", func(d *Duster, plan *Dusting) {
		use, err := divider.FlourUse{Scale: d.Scale, Stickiness: x, Piece: f.plan.Target, PieceRate: f.plan.Rate.PieceRate, RunTime: unit.Hours(1)}.Solve()
		if err != nil {
			return
		}
		advice += " Duster " + d.Name + ": " + use.Hour.String()
		if set, err := (divider.SlideForFlow{FlourRate: use.Hour, Points: d.Slide, SlideStep: d.SlideStep}).Solve(); err == nil {
			advice += ", slide at " + kind(nil).text(set.Slide)
		}
		advice += "."
	})
	f.judge(suspect{
		Cause: Cause{
			Cause: DoughSticky, Calculation: calculation,
			Next: "Weigh the water of the next batch again and measure the dough: too much water or too warm a dough is sticky; then mend that rather than dust more.",
		},
		what: "stickiness of the dough", side: way,
		v: read(x), l: asPlanned(p.Stickiness), u: read(f.q.Instruments.Stickiness),
		advice: "Until the dough is mended, dust for it as it is." + advice,
	})
}

// grown: has the piece room in its pocket?
func (f *fault) grown() {
	k := f.q.Line.Pocket
	if k == (proof.Pocket{}) {
		return
	}
	v := f.q.Readings.Grown
	if v == 0 {
		f.need(GrownLarge, proof.PocketFit{}.ID(), "Measure a piece across as it leaves its pocket.")
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: GrownLarge, Calculation: proof.PocketFit{}.ID(),
			Next: "Weigh the piece and time its stay: if both are as planned, the dough grows faster, so measure its temperature.",
		},
		what: "diameter of the piece in its pocket", side: TooMuch, in: length,
		v: read(float64(v)), l: worked(float64(k.Width-2*k.Gap), "W_p - 2*g_p"), u: read(float64(f.q.Instruments.Rule)),
		show: func(w *reckon.Working) {
			w.Carried("pocket, clear width", "W_p", float64(k.Width), "mm")
			w.Carried("least gap to its wall", "g_p", float64(k.Gap), "mm")
		},
		advice: "Let it grow less: a cooler dough, or a shorter stay within the plan's window. A pocket of that width takes no more.",
	})
}

// sweating and drying: what does the air do to the piece while it stays?
func (f *fault) sweating() { f.surface(AirDamp) }
func (f *fault) drying()   { f.surface(AirDry) }

func (f *fault) surface(name CauseName) {
	a := f.q.Readings.Air
	if a == nil {
		f.need(name, proof.Surface{}.ID(), "Measure temperature and humidity in the overhead proofer, and the surface of a piece as it comes in.")
		return
	}
	of := func(t unit.Temp) (q proof.Surface, out proof.SurfaceResult, err error) {
		q = a.surface(t, f.plan.LongestDwell)
		out, err = q.Solve()
		return q, out, err
	}
	q, out, err := of(a.SurfaceIn)
	if err != nil {
		f.wrong(err)
		return
	}
	off := f.q.Instruments.Thermometer
	nearby, other, err := of(unit.Celsius(a.SurfaceIn.Celsius() + float64(off)))
	if err != nil {
		if nearby, other, err = of(unit.Celsius(a.SurfaceIn.Celsius() - float64(off))); err != nil {
			f.wrong(err)
			return
		}
	}
	v, v2, limit, symbol := out.Sweating, other.Sweating, a.SweatLimit, "t_s"
	if name == AirDry {
		v, v2, limit, symbol = out.Drying, other.Drying, a.DryLimit, "t_d"
	}
	s := suspect{
		Cause: Cause{
			Cause: name, Calculation: q.ID(),
			Next: "Look at pieces from the first trays after a stop and from a steady run: if only those after a stop are bad, it is the stay.",
		},
		what: map[CauseName]string{AirDamp: "time for which the piece sweats", AirDry: "time for which it dries"}[name], side: TooMuch, in: second,
		v: worked(float64(v), symbol), l: read(float64(limit)), u: worked(max(1, abs(float64(v2-v))), "max(1, abs(t_b - "+symbol+"))"),
		show: func(w *reckon.Working) {
			nearby.Show(w, other)
			w.Lines(nil, "the same, a standard uncertainty of the thermometer away: t_b = "+symbol)
			q.Show(w, out)
		},
	}
	need, err := proof.HumidityForSurface{AirTemp: a.Air.DryBulb, DoughTemp: a.SurfaceIn, Activity: a.Activity, Origin: a.Origin}.Solve()
	end, err2 := proof.HumidityForSurface{AirTemp: a.Air.DryBulb, DoughTemp: out.EndTemp, Activity: a.Activity, Origin: a.Origin}.Solve()
	switch {
	case name == AirDamp && err == nil:
		s.advice = "Make the air drier, or bring the piece in warmer: at " + a.Air.DryBulb.String() + " a surface of " + a.SurfaceIn.String() + " sweats above a humidity of " + need.SweatsAbove.String() + "."
	case name == AirDry && err2 == nil:
		s.advice = "Make the air damper, and keep draught off: at " + a.Air.DryBulb.String() + " a surface of " + out.EndTemp.String() + " dries below a humidity of " + end.DriesBelow.String() + "."
	default:
		s.advice = "Ask humidity-for-surface for the humidity that this piece stands."
	}
	f.judge(s)
}

func (a *Around) surface(t unit.Temp, stay unit.Duration) proof.Surface {
	return proof.Surface{
		Air: a.Air, DoughTemp: t, Activity: a.Activity, Warming: a.Warming, Origin: a.Origin, Time: stay, SweatLimit: a.SweatLimit, DryLimit: a.DryLimit,
	}
}
