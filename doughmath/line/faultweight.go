package line

import (
	"cmp"
	"math"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// weigh judges the weighings, if there are any.
func (f *fault) weigh() {
	x := f.q.Readings.Weighings
	if len(x) == 0 {
		return
	}
	at := divider.WeightForMark{Calibration: f.calibration(), Mark: f.plan.Mark.Set, Of: divider.OfMean}
	set, err := at.Solve()
	v := divider.WeighingVerdict{
		Weighings: x, Expected: f.plan.Mark.Expected, Target: f.plan.Target, PerMark: set.PerMark, MarkStep: f.q.Line.Divider.MarkStep,
		SD: cmp.Or(f.q.Readings.SD, f.q.Order.Product.Check.SD), Needless: divider.NeedlessMoves,
	}
	if f.plan.Label.Dough > 0 {
		v.Label = f.plan.Label.Dough - f.plan.Band.Noise
	}
	if err == nil {
		f.weight, err = v.Solve()
	}
	if err != nil {
		f.wrong(err)
		return
	}
	f.verdict = &v
	f.out.Finding, f.out.Mean, f.out.Low, f.out.High = f.weight.Finding, f.weight.Mean, f.weight.Low, f.weight.High
	switch s := f.q.Symptom; f.weight.Finding {
	case divider.FoundSteady:
	case divider.FoundMark:
		if heavy := f.weight.Mean > f.weight.High; s == TooLight && heavy || s == TooHeavy && !heavy {
			f.c.Fail("symptom", strconv.Quote(string(s)), string(map[bool]Symptom{true: TooHeavy, false: TooLight}[heavy])+
				": the mean of the weighings is "+f.weight.Mean.String()+", and the handle is left alone from "+f.weight.Low.String()+" to "+f.weight.High.String())
		}
	default:
		f.stopped = true
		f.out.Look = append(f.out.Look, lookWhole(f.weight.Finding))
	}
}

func (f *fault) calibration() divider.Calibration {
	p := &f.q.Order.Product
	return f.cl.fits[f.cl.line.lanes(p.Dough, p.Across)].Calibration
}

func (f *fault) showVerdict(w *reckon.Working) {
	w.Given("chance of a needless move that is accepted", "A", float64(f.verdict.Needless), "%", "as for the checks of a plan")
	f.verdict.Show(w, f.weight)
}

// mayMove reports whether the weighings speak for a move of the handle; if not it says what to do first.
func (f *fault) mayMove(cause CauseName, calculation string) bool {
	pieces := "at least " + strconv.Itoa(max(3, f.plan.Check.Pieces)) + " single pieces behind the divider, one subgroup at one setting"
	switch {
	case f.stopped:
		return false // a fresh subgroup comes first
	case f.verdict == nil:
		f.need(cause, calculation, "Weigh "+pieces+".")
		return false
	case f.weight.Finding == divider.FoundSteady:
		f.out.Cleared = append(f.out.Cleared, Cleared{cause, "The mean is " + f.weight.Mean.String() + ", and the handle is left alone from " + f.weight.Low.String() + " to " + f.weight.High.String() + "."})
		return false
	case f.q.Readings.Mark == nil:
		f.need(cause, calculation, "Read the mark at the handle.")
		return false
	}
	return true
}

// handle: does it stand where the plan sets it?
func (f *fault) handle(way Side) {
	if !f.mayMove(HandleMoved, divider.WeightForMark{}.ID()) {
		return
	}
	q, at, err := f.atMark()
	if err != nil {
		f.wrong(err)
		return
	}
	step, off := f.q.Line.Divider.MarkStep, f.q.Instruments.Handle
	if step > 0 {
		off = step / math.Sqrt(12)
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: HandleMoved, Calculation: q.ID(), Sets: SetsMark,
			Next: "Read the mark again, and look whether its lock holds. If the handle stands where the plan sets it, it is the dough.",
		},
		what: "weight that the mark gives", side: way, in: gram,
		v: worked(float64(at.Weight), "y"), l: asPlanned(float64(f.plan.Mark.Expected)), u: worked(math.Abs(float64(at.PerMark))*off, "abs(b_x)*r_h"),
		x: read(q.Mark), y: asPlanned(f.plan.Mark.Set),
		show: func(w *reckon.Working) {
			q.Show(w, at)
			if step > 0 {
				w.Carried("step of the handle", "q", step, "")
				w.Lines(nil, "the handle is read to a step: r_h = q/sqrt(12)")
			} else {
				w.Given("how closely the handle is read", "r_h", off, "", "")
			}
		},
	})
}

// atMark is what the divider gives at the mark that was read.
func (f *fault) atMark() (q divider.WeightForMark, at divider.WeightForMarkResult, err error) {
	q = divider.WeightForMark{Calibration: f.calibration(), Mark: *f.q.Readings.Mark, Of: divider.OfMean}
	at, err = q.Solve()
	return q, at, err
}

// dough: does it weigh at that mark what the trial pieces weighed?
func (f *fault) dough(way Side) {
	next := divider.NextMark{}
	if !f.mayMove(DoughOtherwise, next.ID()) {
		return
	}
	q, at, err := f.atMark()
	if err != nil {
		return // which the handle has told
	}
	d, n := &f.q.Line.Divider, len(f.q.Readings.Weighings)
	next = divider.NextMark{
		Calibration: q.Calibration, Mark: q.Mark, Weight: f.weight.Mean, Pieces: n, Target: f.plan.Target, MarkStep: d.MarkStep,
		SD: f.verdict.SD, Needless: f.verdict.Needless, Label: f.verdict.Label, MarkLow: d.MarkLow, MarkHigh: d.MarkHigh,
	}
	to, err := next.Solve()
	switch {
	case err != nil:
		f.wrong(err)
		return
	case to.Action != divider.Move:
		f.need(DoughOtherwise, next.ID(), to.Advice)
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: DoughOtherwise, Calculation: next.ID(), Sets: SetsMark,
			Next: "Fill a cup of known volume with dough from the hopper and weigh it: a density other than in the trials is the dough. If it is as in the trials, look at the chambers.",
		},
		what: "mean of the pieces weighed", side: way, in: gram,
		v: worked(float64(f.weight.Mean), "x_m"), l: worked(float64(at.Weight), "y"), u: worked(float64(f.verdict.SD)/math.Sqrt(float64(n)), "e"),
		x: read(q.Mark), y: worked(to.Mark, "x_set"),
		show: func(w *reckon.Working) {
			q.Show(w, at) // before the verdict: its curve has an x_m of its own
			f.showVerdict(w)
		},
		showTo: func(w *reckon.Working) { next.Show(w, to) },
	})
}

// doughTemp: did the dough leave the mixer as warm as planned?
func (f *fault) doughTemp(way Side) {
	p, t := &f.q.Order.Product, f.q.Readings.DoughTemp
	name := DoughWarm
	if way == TooLittle {
		name = DoughCold
	}
	if !t.Given() {
		f.need(name, "water-temperature", "Measure the dough as it leaves the mixer.")
		return
	}
	n := float64(f.plan.Water.Factors)
	by := n * (p.DoughTemp.Celsius() - t.Celsius())
	s := suspect{
		Cause: Cause{
			Cause: name, Calculation: "water-temperature",
			Next: "Measure flour, room and water beside the next dough: if they are as planned, the friction is not; see friction-factor.",
		},
		what: "dough temperature", side: way, in: celsius,
		v: read(t.Celsius()), l: asPlanned(p.DoughTemp.Celsius()), u: read(float64(f.q.Instruments.Thermometer)),
		advice: "Make the water of the next batch " + map[bool]string{true: "colder", false: "warmer"}[by < 0] + " by " + unit.TempDelta(math.Abs(by)).String() +
			", as long as flour and room stay as they are: the water carries " + strconv.Itoa(f.plan.Water.Factors) + " times what the dough is off. Ask water-temperature with what was measured.",
	}
	f.judge(s)
}

// stood: did the dough stand in the hopper as long as planned?
func (f *fault) stood() {
	t := f.q.Readings.Stood
	if t == 0 {
		f.need(StoodLong, divider.HopperTime{}.ID(), "Time how long the last dough of a batch stands in the hopper, from the tipping.")
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: StoodLong, Calculation: divider.HopperTime{}.ID(),
			Next: "Weigh at the start of a batch and at its end: pieces that lighten only with a batch that stands are this.",
		},
		what: "time in the hopper", side: TooMuch, in: second,
		v: read(float64(t)), l: asPlanned(float64(f.plan.Hopper.Time)), u: f.counted(float64(t)), show: f.showCounting,
		advice: "Tip batches of " + f.plan.Batch.BatchDough.String() + " as planned, when the one before is cut; if the line ran slower or stood, tip less.",
	})
}

// hopperLow: is there enough dough over the chambers?
func (f *fault) hopperLow() {
	least, m := f.q.Line.Divider.HopperLeast, f.q.Readings.HopperDough
	if least == 0 {
		return // the divider scales true until it is empty
	}
	if m == 0 {
		f.need(HopperLow, planID, "Estimate the dough in the hopper while the pieces are light.")
		return
	}
	f.judge(suspect{
		Cause: Cause{
			Cause: HopperLow, Calculation: planID,
			Next: "Weigh just before and just after the next batch is tipped: a step up shows it.",
		},
		what: "dough in the hopper", side: TooLittle, in: gram,
		v: read(float64(m)), l: asPlanned(float64(least)), u: f.scaled(float64(m)), show: f.showScale,
		advice: "Tip the next batch while " + least.String() + " or more are left.",
	})
}

func (f *fault) showCounting(w *reckon.Working) {
	w.Given("how closely it is counted or timed", "r_c", float64(f.q.Instruments.Counting), "%", "")
}

func (f *fault) showScale(w *reckon.Working) {
	w.Given("how closely it is weighed", "r_s", float64(f.q.Instruments.Scale), "%", "")
}

// growth: does the dough gas in the hopper as planned?
func (f *fault) growth() {
	x := f.q.Readings.Hopper
	q := divider.HopperGrowth{Weighings: x, Confidence: oneSigma}
	if len(x) == 0 {
		f.need(GrowsFast, q.ID(), "Weigh pieces three times or more through one batch, from its tipping, with the mark left alone.")
		return
	}
	out, err := q.Solve()
	if err != nil {
		f.wrong(err)
		return
	}
	p, o := &f.q.Order.Product, &f.plan
	u := float64(out.High-out.Low) / 2
	if !(u > 0) {
		f.need(GrowsFast, q.ID(), "Weigh more pieces through a batch: these show no scatter to judge by.")
		return
	}
	s := suspect{
		Cause: Cause{
			Cause: GrowsFast, Calculation: q.ID(),
			Next: "Measure the dough as it leaves the mixer and time how long it stands: a warm dough, or one that stands, grows more. If both are as planned, it is the yeast or the floor time.",
		},
		what: "growth of the dough in the hopper", side: TooMuch, in: growing,
		v: worked(float64(out.Growth), "g"), l: asPlanned(float64(p.Drift.Growth)), u: worked(u, "(g_h - g_l)/2"),
		show:   func(w *reckon.Working) { q.Show(w, out) },
		advice: "Tip smaller batches.",
	}
	batch, err := divider.BatchForWeightDrift{
		StartWeight: o.Mark.Expected, DriftLimit: o.DriftLimit, Growth: out.Growth, GrowthBasis: divider.Measured, DoughRate: o.Rate.DoughRate, Head: f.q.Line.Divider.HopperLeast,
	}.Solve()
	if err == nil { // there is a limit, the dough grows, and some batch keeps to it
		s.advice = "Tip batches of up to " + batch.Batch.String() + ": they are cut in " + batch.Time.String() + ", before " + o.DriftLimit.String() + " are lost. Leave the handle alone, unless the plan says when to move it: see weight-drift."
	}
	f.judge(s)
}

// oneSigma is the confidence whose interval reaches one standard uncertainty either way.
const oneSigma unit.Percent = 68.27

// lanes: does one differ from the others?
func (f *fault) lanes() {
	q := divider.LaneOffsets{Calibration: f.calibration(), Mark: f.plan.Mark.Set, Lanes: f.q.Readings.Lanes}
	if f.q.Readings.Mark != nil {
		q.Mark = *f.q.Readings.Mark
	}
	if len(q.Lanes) == 0 {
		f.need(LaneOff, q.ID(), "Weigh five pieces or more of each lane by itself.")
		return
	}
	out, err := q.Solve()
	if err != nil {
		f.wrong(err)
		return
	}
	for i, l := range out.Lanes {
		n := strconv.Itoa(i + 1)
		half := float64(l.High-l.Low) / 2
		if !(half > 0) {
			f.need(LaneOff, q.ID(), "Weigh more trial pieces: they show no scatter to judge by.")
			return
		}
		f.judge(suspect{
			Cause: Cause{
				Cause: LaneOff, Calculation: q.ID(),
				Next: "Weigh the lanes again with fresh dough: a lane that stays off is its chamber, one that changes is how the dough lies in the hopper.",
			},
			what: "lane " + strconv.Itoa(l.Lane) + ", less the mean of the lanes", side: EitherWay, in: gram,
			v: worked(float64(l.Offset), "o_"+n), l: worked(0, "0*o_"+n), u: worked(half/2, "i_"+n+"/2"),
			show: func(w *reckon.Working) {
				q.Show(w, out)
				w.Step("half the interval of lane "+strconv.Itoa(l.Lane), "i_"+n, "(h_"+n+" - l_"+n+")/2", half, "g", "") // before the limit of the cause, an l as well
			},
			advice: "Leave the handle alone: it moves every lane alike. Have the chamber of lane " + strconv.Itoa(l.Lane) + ", its piston and its oil looked at by whoever maintains the divider; its pieces are " + unit.Mass(math.Abs(float64(l.Offset))).String() + map[bool]string{true: " too heavy.", false: " too light."}[l.Offset > 0],
		})
	}
}
