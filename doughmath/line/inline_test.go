package line_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// This file works a whole plan by hand: with bare arithmetic and comparisons
// in one function, none of the library's calculations, reading the same input
// and checking none of it. It fills the same result. It is the check of every
// number, word, condition and caution of the plan, and the yardstick for its speed.

// handFit is the straight line through trials that all count the same.
type handFit struct{ mean, meanY, slope, sxx, s, t, n, low, high float64 }

func fitByHand(trials []divider.Trial) handFit {
	f := handFit{n: float64(len(trials)), low: math.Inf(1), high: math.Inf(-1)}
	for _, t := range trials {
		f.low, f.high = min(f.low, t.Mark), max(f.high, t.Mark)
		f.mean += t.Mark / f.n
		f.meanY += float64(t.Weight) / f.n
	}
	var sxy float64
	for _, t := range trials {
		f.sxx += (t.Mark - f.mean) * (t.Mark - f.mean)
		sxy += (t.Mark - f.mean) * (float64(t.Weight) - f.meanY)
	}
	f.slope = sxy / f.sxx
	var ss float64
	for _, t := range trials {
		e := float64(t.Weight) - f.meanY - f.slope*(t.Mark-f.mean)
		ss += e * e
	}
	f.s = math.Sqrt(ss / (f.n - 2))
	f.t = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: f.n - 2}.Quantile(0.975)
	return f
}

// planByHand is the plan of a straight dough. What to weigh is appended to parts.
func planByHand(f *handFit, l *line.Line, o *line.Order, s *line.Shift, parts []doughmath.Part) (p line.PlanResult) {
	q := &o.Product
	moulded := q.Route == line.ToMoulder
	across, baked, density := float64(q.Across), float64(q.Baked), float64(q.Density)

	// The piece and the mark.
	piece := baked / (1 - float64(q.Loss.Bake.Percent)/100) / (1 - float64(q.Loss.Cooling.Percent)/100)
	extra := piece - baked
	p.Piece.Dough, p.Piece.Extra = unit.Mass(piece), unit.Mass(extra)
	p.Piece.LossOnDough, p.Piece.LossOnBaked = unit.Percent(100*extra/piece), unit.Percent(100*extra/baked)
	if p.Piece.LossOnDough < 5 || p.Piece.LossOnDough > 30 {
		p.Piece.Conditions = doughmath.UnusualLoss
	}
	p.Piece.Cautions = reckon.WeightsLaw
	p.Target, p.PieceLow, p.PieceHigh = p.Piece.Dough, p.Piece.Dough-q.Tolerance, p.Piece.Dough+q.Tolerance
	d := &l.Divider
	u := (piece - f.meanY) / f.slope
	p.Mark.G = f.t * f.t * f.s * f.s / (f.slope * f.slope * f.sxx)
	// Fieller's interval for the mean response.
	half := f.t * f.s / math.Abs(f.slope) * math.Sqrt((1-p.Mark.G)/f.n+u*u/f.sxx)
	p.Mark.Mark, p.Mark.PerMark = f.mean+u, unit.Mass(f.slope)
	p.Mark.Low, p.Mark.High = f.mean+(u-half)/(1-p.Mark.G), f.mean+(u+half)/(1-p.Mark.G)
	p.Mark.Set = math.Round(p.Mark.Mark/d.MarkStep) * d.MarkStep
	p.Mark.Expected = unit.Mass(f.meanY + f.slope*(p.Mark.Set-f.mean))
	if p.Mark.Mark < f.low || p.Mark.Mark > f.high {
		p.Mark.Conditions = reckon.Extrapolated
	}
	if p.Mark.Set < p.Mark.Low || p.Mark.Set > p.Mark.High {
		p.Mark.Conditions |= divider.MarkOutsideInterval
	}
	p.Mark.Cautions = reckon.MovingMachinery | reckon.MovingBelt

	// The drum, and its neighbours in size.
	ball := math.Cbrt(6000 * piece / (math.Pi * density))
	p.Drum.Diameter = unit.Length(ball)
	middle, least := (l.CupRatio.Low+l.CupRatio.High)/2, math.Inf(1)
	for i := range l.Drums {
		fill := ball / float64(l.Drums[i].Cup)
		if miss := math.Abs(fill - middle); miss < least && fill <= 1 {
			least = miss
			p.Drum.Drum, p.Drum.Name, p.Drum.CupRatio = i, l.Drums[i].Name, fill
		}
	}
	for i := range l.Drums {
		fill := ball / float64(l.Drums[i].Cup)
		if fill <= 1 && fill > p.Drum.CupRatio && (p.Drum.Smaller.Name == "" || fill < p.Drum.Smaller.CupRatio) {
			p.Drum.Smaller.Drum, p.Drum.Smaller.Name, p.Drum.Smaller.CupRatio = i, l.Drums[i].Name, fill
		}
		if fill < p.Drum.CupRatio && fill > p.Drum.Larger.CupRatio {
			p.Drum.Larger.Drum, p.Drum.Larger.Name, p.Drum.Larger.CupRatio = i, l.Drums[i].Name, fill
		}
	}
	p.Drum.CupLow, p.Drum.CupHigh = unit.Length(ball/l.CupRatio.High), unit.Length(ball/l.CupRatio.Low)
	p.Drum.TakesOut = l.Drums[p.Drum.Drum].TakesOut
	switch {
	case p.Drum.CupRatio > l.CupRatio.High && p.Drum.Larger.Name != "", p.Drum.CupRatio < l.CupRatio.Low && p.Drum.Smaller.Name != "":
		p.Drum.Conditions = molder.BetweenDrums
	case p.Drum.CupRatio > l.CupRatio.High:
		p.Drum.Conditions = molder.DrumTooSmall
	case p.Drum.CupRatio < l.CupRatio.Low:
		p.Drum.Conditions = molder.DrumTooLarge
	}
	if !l.CupRatio.Calibrated {
		p.Drum.Conditions |= reckon.Uncalibrated
	}
	p.Drum.Cautions = reckon.MovingMachinery | reckon.LockedOut | reckon.Cleaning | reckon.Lifting

	// The window of speeds, and the fastest in it.
	passes := l.Proofer.Pockets / q.Across
	travel := float64((passes-1)*l.Proofer.Trays + l.Proofer.LastPassTrays)
	ratio := l.Proofer.TraysPerStroke
	var partPass proof.Conditions
	if l.Proofer.LastPassTrays != l.Proofer.Trays {
		partPass = proof.PartPass
	}
	low, lowLimit := travel/ratio/(float64(q.DwellHigh)/60), "dwell"
	high, highLimit := travel/ratio/(float64(q.DwellLow)/60), "dwell"
	if v := float64(d.StrokesLow); v > low {
		low, lowLimit = v, "divider"
	}
	if v := float64(d.StrokesHigh); v < high {
		high, highLimit = v, "divider"
	}
	lengthOn := func(b *line.Belt) float64 {
		if moulded && b.Place == line.BehindMoulder {
			return float64(q.Length)
		}
		return ball
	}
	if moulded {
		if v := float64(l.Moulder.RateHigh) / across; v < high {
			high, highLimit = v, "moulder"
		}
	} else {
		if v := float64(l.Stamper.StampsLow); v > low {
			low, lowLimit = v, "stamper"
		}
		if v := float64(l.Stamper.StampsHigh); v < high {
			high, highLimit = v, "stamper"
		}
	}
	if v := float64(q.RateHigh) / across; v > 0 && v < high {
		high, highLimit = v, "oven"
	}
	for i := range l.Belts {
		b := &l.Belts[i]
		if b.Route != "" && b.Route != q.Route {
			continue
		}
		if v := float64(b.BeltSpeed) * 60 * float64(min(b.Across, q.Across)) / (lengthOn(b) + float64(b.LeastGap)) / across; b.AdvancePerStroke == 0 && v < high {
			high, highLimit = v, b.Name
		}
	}
	strokes := math.Floor(high/float64(d.StrokeStep)+1e-9) * float64(d.StrokeStep)
	rate, beat := strokes*across, 60/strokes
	p.Speed.Low, p.Speed.LowLimit = unit.StrokeRate(low), lowLimit
	p.Speed.High, p.Speed.HighLimit = unit.StrokeRate(high), highLimit
	p.Speed.RateLow, p.Speed.RateHigh = unit.PieceRate(low*across), unit.PieceRate(high*across)
	p.Speed.DwellAtLow, p.Speed.DwellAtHigh = unit.Duration(travel/ratio/low*60), unit.Duration(travel/ratio/high*60)
	p.Speed.Conditions, p.Speed.Cautions = partPass, reckon.MovingMachinery|reckon.RunningDrive
	p.Strokes, p.StrokesLimit = unit.StrokeRate(strokes), highLimit
	p.Rate.PieceRate, p.Rate.Beat = unit.PieceRate(rate), unit.Duration(beat)
	doughRate := rate * piece * 60 / 1000
	p.Rate.DoughRate = unit.MassRate(doughRate)

	// The batches.
	p.LargestBatch, p.LargestBatchLimit = s.Mixer.High, "mixer"
	if d.HopperCapacity < p.LargestBatch {
		p.LargestBatch, p.LargestBatchLimit = d.HopperCapacity, "hopper"
	}
	// Waste takes no strokes, and so no time in the hopper.
	if v := unit.Mass(float64(q.HopperMax) * doughRate / 3.6 * (1 + float64(s.Waste)/100)); v < p.LargestBatch {
		p.LargestBatch, p.LargestBatchLimit = v, "hopper time"
	}
	each := piece * (1 + float64(s.Waste)/100)
	all := float64(o.Pieces + o.Spare)
	batches := math.Ceil(all / math.Floor(float64(p.LargestBatch)/each))
	per := math.Ceil(all / batches)
	batch := per * each
	if batches > 1 {
		p.MixerStrokes = unit.StrokeRate(per * 60 / (across * float64(s.Mixer.Cycle)))
	}
	p.Batch.Dough, p.Batch.Batches, p.Batch.PiecesPerBatch = unit.Mass(all*each), int(batches), int(per)
	p.Batch.BatchDough, p.Batch.Made = unit.Mass(batch), unit.Mass(batches*batch)
	p.Batch.PiecesMade, p.Batch.LeftoverPieces = int(batches*per), int(batches*per-all)
	if p.Batch.LeftoverPieces > 0 {
		p.Batch.Conditions = reckon.Rounded | doughmath.LeftoverDough
	}
	if p.Batch.BatchDough < s.Mixer.Low {
		p.Batch.Conditions |= doughmath.SmallBatch
	}
	p.Batch.Cautions = reckon.Lifting
	hopper := per * piece * 3.6 / doughRate
	p.Hopper.Time, p.Hopper.Cautions = unit.Duration(hopper), reckon.RaisedBowl
	if p.Hopper.Time > q.HopperMax {
		p.Hopper.Conditions = divider.LongHopperTime
	}

	// What to weigh: rounded down, then the divisions that are missing to those that lost most.
	var percents, wet, salt float64
	for i := range q.Formula {
		g := &q.Formula[i]
		percents += float64(g.Percent)
		switch g.Role {
		case doughmath.RoleWater:
			wet += float64(g.Percent)
		case doughmath.RoleLiquid, doughmath.RoleOther:
			wet += float64(g.Percent) * float64(g.WaterContent) / 100
		case doughmath.RoleSalt:
			salt += float64(g.Percent)
		}
	}
	flour, division := batch/(percents/100), float64(s.Division)
	weighed := math.Round(batch/division) * division
	first, short := len(parts), weighed
	for i := range q.Formula {
		g := &q.Formula[i]
		exact := flour * float64(g.Percent) / 100
		mass := math.Floor(exact/division) * division
		short -= mass
		parts = append(parts, doughmath.Part{Name: g.Name, Percent: g.Percent, Mass: unit.Mass(mass), Exact: unit.Mass(exact), Division: s.Division})
	}
	mine := parts[first:]
	for n := math.Round(short / division); n > 0; n-- {
		most := 0
		for i := range mine {
			if mine[i].Exact-mine[i].Mass > mine[most].Exact-mine[most].Mass {
				most = i
			}
		}
		mine[most].Mass += s.Division
	}
	for i := range mine {
		mine[i].Error = mine[i].Mass - mine[i].Exact
		if off := math.Abs(float64(mine[i].Error)); off > 0 {
			p.Weigh.Conditions |= reckon.Rounded
			if off > 0.05*float64(mine[i].Exact) {
				p.Weigh.Conditions |= reckon.ScaleTooCoarse
			}
		}
		if q.Formula[i].Role == doughmath.RoleWater {
			p.WaterMass += mine[i].Mass
		}
	}
	if salt > 0 && (salt < 1 || salt > 3) {
		p.Weigh.Conditions |= doughmath.UnusualSalt
	}
	p.Weigh.Parts, p.Weigh.Flour, p.Weigh.Dough = parts, unit.Mass(flour), unit.Mass(batch)
	p.Weigh.Weighed, p.Weigh.TotalPercent = unit.Mass(weighed), unit.BakersPercent(percents)
	p.Weigh.Cautions = reckon.FlourDust | reckon.Lifting
	p.Hydration.Hydration, p.Hydration.WithoutStarter = unit.BakersPercent(wet), unit.BakersPercent(wet)
	p.Hydration.WaterPercent, p.Hydration.FlourPercent = unit.BakersPercent(wet), 100
	if wet < 45 || wet > 80 {
		p.Hydration.Conditions = doughmath.UnusualHydration
	}

	// Water and ice.
	base := 3*q.DoughTemp.Celsius() - float64(q.Friction)
	water, tap := base-s.FlourTemp.Celsius()-s.Room.Celsius(), s.Tap.Celsius()
	p.Water.WaterTemp, p.Water.Factors, p.Water.Base = unit.Celsius(water), 3, unit.TempDelta(base)
	if water < 0 {
		p.Water.Conditions = doughmath.BelowFreezing
	}
	if water < -80 {
		p.Water.Conditions = doughmath.ColderThanAllIce
	}
	if water > 40 {
		p.Water.Conditions, p.Water.Cautions = doughmath.WarmForYeast, reckon.HotWater
	}
	p.WaterTemp, p.WaterToWeigh = p.Water.WaterTemp, p.WaterMass
	if water < tap {
		share := (tap - water) / (tap + 80)
		ice := float64(p.WaterMass) * share
		p.Ice.Ice, p.Ice.TapWater, p.Ice.Total = unit.Mass(ice), p.WaterMass-unit.Mass(ice), p.WaterMass
		p.Ice.Share, p.Ice.CoolingEnergy = unit.Percent(100*share), unit.Energy(ice/1000*144*2.326)
		if share > 0.4 {
			p.Ice.Conditions = doughmath.MuchIce
		}
		p.Ice.Cautions = reckon.IceHandling
		if ice > 20_000 || p.Ice.TapWater > 20_000 {
			p.Ice.Cautions |= reckon.Lifting
		}
		p.IceToWeigh = unit.Mass(math.Round(ice/division) * division)
		p.WaterToWeigh -= p.IceToWeigh
		if p.IceToWeigh == 0 {
			p.Ice.Cautions &^= reckon.IceHandling
		}
	} else if hot := s.HotTap.Celsius(); water > tap && s.HotTap.Given() {
		share := (water - tap) / (hot - tap)
		p.Mix.HotWater, p.Mix.HotShare = unit.Mass(float64(p.WaterMass)*share), unit.Percent(100*share)
		p.Mix.ColdWater = p.WaterMass - p.Mix.HotWater
		if hot > 43 {
			p.Mix.Cautions = reckon.HotWater
		}
		if p.Mix.HotWater > 20_000 || p.Mix.ColdWater > 20_000 {
			p.Mix.Cautions |= reckon.Lifting
		}
		p.HotToWeigh = unit.Mass(math.Round(float64(p.Mix.HotWater)/division) * division)
		p.WaterToWeigh -= p.HotToWeigh
	} else if water > tap {
		p.Water.Conditions |= doughmath.WarmerThanTap
	}

	// The proofer.
	trayRate := strokes * ratio
	dwell, made := travel/trayRate*60, batches*per
	inside := across * math.Ceil(travel/ratio)
	runs := math.Ceil(made / across)
	lastIn := (runs - 1) / strokes * 60
	lastOut := (math.Ceil((runs-1)*ratio) + travel) / trayRate * 60
	p.Dwell.Passes, p.Dwell.Dwell, p.Dwell.PieceRate = passes, unit.Duration(dwell), p.Rate.PieceRate
	p.Dwell.Inside, p.Dwell.TrayRate = int(inside), unit.TrayRate(trayRate)
	p.Dwell.Conditions, p.Dwell.Cautions = partPass, reckon.MovingMachinery|reckon.RunningDrive
	p.Clear.FirstOut, p.Clear.LastIn, p.Clear.LastOut = unit.Duration(dwell), unit.Duration(lastIn), unit.Duration(lastOut)
	p.Clear.ClearOut, p.Clear.ChangeoverGap, p.Clear.Rule = p.Clear.LastOut-p.Clear.LastIn, p.Clear.LastOut-p.Clear.LastIn, proof.GapClearOut
	p.Clear.Stranded = int(min(made, inside))
	p.Clear.Conditions, p.Clear.Cautions = partPass, reckon.MovingMachinery|reckon.OilSlip|reckon.LockedOut|reckon.Allergens

	// Turns: pi N^2 t = L and L = sqrt(4 V a / (pi t)) give t^(3/2).
	if moulded {
		m := &l.Moulder
		volume := piece / density * 1000
		n := q.Turns
		if q.TurnsRatio != 0 {
			n /= q.TurnsRatio // turns counted are fewer than those of a tight roll
		}
		t := math.Pow(math.Sqrt(4*volume*q.Aspect/math.Pi)/(math.Pi*n*n), 2.0/3)
		p.Gap.TurnsGap = unit.Length(t / m.Recovery)
		// The thinnest sheet that holds, if the rollers close so far; as it is without trials, the turns decide.
		step, closed, wanted := float64(m.GapStep), float64(m.GapLow), t/m.Recovery
		set := math.Floor(math.Min(wanted, float64(m.GapHigh))/step) * step
		p.Gap.Limit = "turns"
		if held := float64(q.TearLimit) / m.Recovery; held > closed {
			set, p.Gap.Limit = math.Ceil(held/step)*step, "tear"
		} else if held > 0 {
			set, p.Gap.Limit = math.Ceil(closed/step)*step, "rollers"
		}
		thick := set * m.Recovery
		p.Gap.Gap, p.Gap.Thickness = unit.Length(set), unit.Length(thick)
		long := math.Sqrt(4 * volume * q.Aspect / (math.Pi * thick))
		roll := math.Sqrt(4 * long * thick / math.Pi)
		turns := roll / (2 * thick)
		if q.TurnsRatio != 0 {
			turns *= q.TurnsRatio
		}
		p.Roll.Thickness, p.Roll.Length, p.Roll.Width = unit.Length(thick), unit.Length(long), unit.Length(long/q.Aspect)
		p.Roll.Turns, p.Roll.Diameter = turns, unit.Length(roll)
		// The whole sheet as a roll of even thickness, as long as the sheet is wide.
		p.Roll.Mean = unit.Length(math.Sqrt(volume / (long / q.Aspect) / math.Pi * 4))
		var conditions molder.Conditions
		if m.Recovery < 1.1 || m.Recovery > 2.75 {
			conditions = reckon.OutsideSource
		}
		if !m.Measured {
			conditions |= reckon.Uncalibrated
		}
		p.Gap.Turns = turns
		p.Gap.Conditions, p.Roll.Conditions = conditions, conditions
		if q.TearLimit == 0 {
			p.Gap.Conditions |= molder.TearUntried
		}
		switch {
		case turns < 2.4:
			p.Gap.Conditions |= molder.FewTurns
			p.Roll.Conditions |= molder.FewTurns
		case turns > 4 && q.TearLimit == 0:
			p.Roll.Conditions |= molder.ManyTurns
		}
		p.Gap.Cautions = reckon.MovingMachinery | reckon.Interlocks | reckon.RollerNip
		p.Roll.Cautions = p.Gap.Cautions
	}

	// The belt on which the pieces lie closest.
	spare := math.Inf(1)
	for i := range l.Belts {
		b := &l.Belts[i]
		if b.Route != "" && b.Route != q.Route {
			continue
		}
		pitch, length := float64(b.BeltSpeed)*60*float64(min(b.Across, q.Across))/rate, lengthOn(b)
		if b.AdvancePerStroke != 0 {
			pitch = float64(b.AdvancePerStroke) * float64(min(b.Across, q.Across)) / across
		}
		if free := pitch - length - float64(b.LeastGap); free < spare {
			spare, p.TightestBelt = free, b.Name
			p.Spacing.Pitch, p.Spacing.Gap = unit.Length(pitch), unit.Length(pitch-length)
		}
	}
	if spare < 0 {
		p.Spacing.Conditions = molder.RiskOfDoubles
	}
	p.Spacing.Cautions = reckon.MovingMachinery | reckon.RunningDrive

	// The times.
	scaling := per * 60 / rate
	interval := max(scaling, float64(s.Mixer.Cycle))
	wait := interval - scaling
	p.Times.BatchScaling = unit.Duration(scaling)
	p.LongestDwell = unit.Duration(dwell + wait*min(batches-1, math.Ceil(dwell/scaling)))
	if p.LongestDwell > q.DwellHigh {
		p.Dwell.Conditions |= proof.DwellOutsideWindow
	}
	start := float64(s.Mixer.Mixing + q.FloorTime)
	p.Times.FirstStroke, p.Times.FirstOut = unit.Duration(start), unit.Duration(start+dwell)
	p.Times.BatchInterval, p.Times.BatchWait = unit.Duration(interval), unit.Duration(wait)
	p.Times.LastMix = unit.Duration((batches - 1) * interval)
	last := start + lastIn + (batches-1)*wait
	p.Times.LastStroke, p.Times.LastOut = unit.Duration(last), unit.Duration(last+lastOut-lastIn)

	if wait > 0 && batches > 1 {
		p.Conditions = reckon.RateLimited
	}
	if strokes != high {
		p.Conditions |= reckon.Rounded
	}
	p.Cautions = reckon.MovingMachinery | reckon.FlourDust | reckon.OilSlip | reckon.Allergens | reckon.MovingBelt | reckon.Wheels
	if o.Product.Route == line.ToStamper {
		p.Cautions |= reckon.Interlocks | reckon.StamperCover
	}
	return p
}

func TestPlanAgainstHand(t *testing.T) {
	s, cl := straight(t)
	for i, lanes := range []int{0, 0, 1} {
		o := &s.Orders[i]
		t.Run(o.Product.Name, func(t *testing.T) {
			got, err := cl.Plan(o, &s.Shift, nil)
			require.NoError(t, err)
			fit := fitByHand(s.Line.Divider.Lanes[lanes].Trials)
			want := planByHand(&fit, &s.Line, o, &s.Shift, nil)
			assert.Empty(t, cmp.Diff(want, got, closeNumbers...))
		})
	}
}

// closeNumbers takes numbers for equal that differ by rounding alone.
var closeNumbers = cmp.Options{
	cmp.FilterPath(func(p cmp.Path) bool { return p.Last().Type().Kind() == reflect.Float64 },
		cmp.Comparer(func(a, b any) bool { return near(reflect.ValueOf(a).Float(), reflect.ValueOf(b).Float()) })),
	cmp.Comparer(func(a, b unit.Temp) bool {
		return a.Given() == b.Given() && (!a.Given() || near(a.Celsius(), b.Celsius()))
	}),
}

// near allows 1e-9 of the number, and as much by itself for what is a
// difference of two large ones.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a), math.Abs(b)) }

// Both sides of the comparison keep the plan that they make.
var kept line.PlanResult

func BenchmarkPlan(b *testing.B) {
	s, cl := straight(b)
	for _, o := range s.Orders[:3] {
		parts := make([]doughmath.Part, 0, 20)
		b.Run(o.Product.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var err error
				if kept, err = cl.Plan(&o, &s.Shift, parts); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkPlanInPlace(b *testing.B) {
	s, cl := straight(b)
	for _, o := range s.Orders[:3] {
		parts := make([]doughmath.Part, 0, 20)
		b.Run(o.Product.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := cl.PlanInto(&kept, &o, &s.Shift, parts); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The same result by bare arithmetic, unchecked: the yardstick.
func BenchmarkPlanByHand(b *testing.B) {
	s, _ := straight(b)
	for i, lanes := range []int{0, 0, 1} {
		o := &s.Orders[i]
		b.Run(o.Product.Name, func(b *testing.B) {
			fit := fitByHand(s.Line.Divider.Lanes[lanes].Trials)
			parts := make([]doughmath.Part, 0, 20)
			b.ReportAllocs()
			for b.Loop() {
				kept = planByHand(&fit, &s.Line, o, &s.Shift, parts)
			}
		})
	}
}

func BenchmarkCommission(b *testing.B) {
	s, _ := demo(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := line.Commission(s.Line); err != nil {
			b.Fatal(err)
		}
	}
}
