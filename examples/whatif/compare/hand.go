package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
	"example.com/dough/testdata"
)

// columns are the outputs that every contender works out, for each plan.
var columns = []string{
	"piece.dough", "piece.extra", "piece.loss_on_baked", "piece_low", "piece_high",
	"mark.mark", "mark.low", "mark.high", "mark.set", "mark.expected",
	"drum.diameter", "drum.cup_ratio", "drum.cup_low", "drum.cup_high",
	"speed.low", "speed.high", "strokes", "rate.piece_rate", "rate.beat", "rate.dough_rate",
	"largest_batch", "batch.dough", "batch.batches", "batch.pieces_per_batch", "batch.batch_dough", "batch.made", "mixer_strokes", "hopper.time",
	"weigh.flour", "weigh.weighed", "water_mass", "water.base", "water_temp", "ice_to_weigh", "hot_to_weigh", "water_to_weigh",
	"dwell.dwell", "dwell.inside", "clear.last_in", "clear.last_out", "spacing.gap",
	"times.batch_scaling", "times.batch_interval", "times.batch_wait", "longest_dwell", "times.last_mix", "times.last_stroke", "times.last_out",
}

// inputs are what varies: five, with ten values each.
var inputs = []struct {
	path, symbol string
	from, step   float64
}{
	{"shift.tap", "°C", 6, 1.5},
	{"shift.flour_temp", "°C", 17, 0.5},
	{"order.product.baked", "g", 42, 0.5},
	{"order.product.friction", "C°", 12, 0.5},
	{"order.pieces", "", 5000, 150},
}

// straightPlan is the demo's first order without what only some lines have, so that the
// arithmetic is that of any planner's sheet.
func straightPlan() (line.Plan, error) {
	data, err := testdata.Scenario("demo.json")
	if err != nil {
		return line.Plan{}, err
	}
	s, err := line.ReadScenario(data)
	if err != nil {
		return line.Plan{}, err
	}
	l, o := s.Line, s.Orders[0]
	l.Oil, l.Dusters, l.Rounder, l.Parts = nil, nil, line.Rounder{}, nil
	l.Controls, l.Changing = nil, line.Changing{}
	l.Moulder.First, l.Moulder.Chain, l.Moulder.Board, l.Moulder.Guides = nil, nil, nil, nil
	l.Divider.HopperLeast = 0
	l.Stamper.Die, l.Stamper.Spin, l.Stamper.Around, l.Stamper.Contact = "", "", 0, 0
	l.Pocket = proof.Pocket{}
	l.Stamper.StampsHigh = 27.5 // slower than the dwell allows: no two limits are equal
	p := &o.Product
	p.Label, p.Check, p.Drift, p.Stickiness = line.Label{}, line.Check{}, line.HopperDrift{}, 0
	p.Panned, p.FinalStay, p.PerCarrier, p.Pocketed = nil, 0, 0, nil
	return line.Plan{Line: l, Order: o, Shift: s.Shift}, nil
}

// sheet is all that a planner's sheet takes from the plan, for every contender alike.
type sheet struct {
	Bake, Cooling, Tolerance                  float64
	MeanMark, MeanWeight, Slope, Sxx, S, T, N float64 // of the trials
	MarkStep                                  float64
	Cups                                      []float64
	CupLow, CupHigh, Density                  float64
	Passes, Travel, Ratio, Across             float64
	DwellLow, DwellHigh                       float64
	StrokesLow, StrokesHigh, StrokeStep       float64
	StampsLow, StampsHigh                     float64
	MixerLow, MixerHigh, Cycle, Mixing        float64
	Hopper, HopperMax, Waste, Spare           float64
	Percents                                  []float64
	Water                                     int // which of them is the water
	Division, DoughTemp, Room, HotTap, Pitch  float64
}

func newSheet(q *line.Plan) sheet {
	l, p, s := &q.Line, &q.Order.Product, &q.Shift
	k := sheet{
		Bake: float64(p.Loss.Bake.Percent), Cooling: float64(p.Loss.Cooling.Percent), Tolerance: float64(p.Tolerance),
		MarkStep: l.Divider.MarkStep, CupLow: l.CupRatio.Low, CupHigh: l.CupRatio.High, Density: float64(p.Density),
		Across: float64(p.Across), Ratio: l.Proofer.TraysPerStroke, DwellLow: float64(p.DwellLow), DwellHigh: float64(p.DwellHigh),
		StrokesLow: float64(l.Divider.StrokesLow), StrokesHigh: float64(l.Divider.StrokesHigh), StrokeStep: float64(l.Divider.StrokeStep),
		StampsLow: float64(l.Stamper.StampsLow), StampsHigh: float64(l.Stamper.StampsHigh),
		MixerLow: float64(s.Mixer.Low), MixerHigh: float64(s.Mixer.High), Cycle: float64(s.Mixer.Cycle), Mixing: float64(s.Mixer.Mixing),
		Hopper: float64(l.Divider.HopperCapacity), HopperMax: float64(p.HopperMax), Waste: float64(s.Waste), Spare: float64(q.Order.Spare),
		Division: float64(s.Division), DoughTemp: p.DoughTemp.Celsius(), Room: s.Room.Celsius(), HotTap: s.HotTap.Celsius(),
	}
	for _, d := range l.Drums {
		k.Cups = append(k.Cups, float64(d.Cup))
	}
	passes := l.Proofer.Pockets / p.Across
	k.Passes, k.Travel = float64(passes), float64((passes-1)*l.Proofer.Trays+l.Proofer.LastPassTrays)
	for i, g := range p.Formula {
		k.Percents = append(k.Percents, float64(g.Percent))
		if g.Name == "water" {
			k.Water = i
		}
	}
	b := l.Belts[0] // the one that a stamped piece travels on
	k.Pitch = float64(b.AdvancePerStroke) * float64(min(b.Across, p.Across)) / k.Across
	k.fit(l)
	return k
}

// fit is the straight line through the trials of the dough.
func (k *sheet) fit(l *line.Line) {
	trials := l.Divider.Lanes[0].Trials
	k.N = float64(len(trials))
	for _, t := range trials {
		k.MeanMark += t.Mark / k.N
		k.MeanWeight += float64(t.Weight) / k.N
	}
	var sxy, ss float64
	for _, t := range trials {
		k.Sxx += (t.Mark - k.MeanMark) * (t.Mark - k.MeanMark)
		sxy += (t.Mark - k.MeanMark) * (float64(t.Weight) - k.MeanWeight)
	}
	k.Slope = sxy / k.Sxx
	for _, t := range trials {
		e := float64(t.Weight) - k.MeanWeight - k.Slope*(t.Mark-k.MeanMark)
		ss += e * e
	}
	k.S = math.Sqrt(ss / (k.N - 2))
	k.T = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: k.N - 2}.Quantile(0.975)
}

// plan is the same arithmetic by hand: unchecked, no condition, no caution.
func (k *sheet) plan(tap, flourTemp, baked, friction, pieces float64, out []float64) {
	piece := baked / (1 - k.Bake/100) / (1 - k.Cooling/100)
	u := (piece - k.MeanWeight) / k.Slope
	g := k.T * k.T * k.S * k.S / (k.Slope * k.Slope * k.Sxx)
	half := k.T * k.S / math.Abs(k.Slope) * math.Sqrt((1-g)/k.N+u*u/k.Sxx)
	mark := k.MeanMark + u
	set := math.Round(mark/k.MarkStep) * k.MarkStep
	out[0], out[1], out[2], out[3], out[4] = piece, piece-baked, 100*(piece-baked)/baked, piece-k.Tolerance, piece+k.Tolerance
	out[5], out[6], out[7], out[8], out[9] = mark, k.MeanMark+(u-half)/(1-g), k.MeanMark+(u+half)/(1-g), set, k.MeanWeight+k.Slope*(set-k.MeanMark)

	ball := math.Cbrt(6000 * piece / (math.Pi * k.Density))
	middle, least, fill := (k.CupLow+k.CupHigh)/2, math.Inf(1), 0.0
	for _, cup := range k.Cups {
		if miss := math.Abs(ball/cup - middle); miss < least && ball/cup <= 1 {
			least, fill = miss, ball/cup
		}
	}
	out[10], out[11], out[12], out[13] = ball, fill, ball/k.CupHigh, ball/k.CupLow

	low := max(k.Travel/k.Ratio/(k.DwellHigh/60), k.StrokesLow, k.StampsLow)
	high := min(k.Travel/k.Ratio/(k.DwellLow/60), k.StrokesHigh, k.StampsHigh)
	strokes := math.Floor(high/k.StrokeStep+1e-9) * k.StrokeStep
	rate := strokes * k.Across
	doughRate := rate * piece * 60 / 1000
	out[14], out[15], out[16], out[17], out[18], out[19] = low, high, strokes, rate, 60/strokes, doughRate

	each, all := piece*(1+k.Waste/100), pieces+k.Spare
	largest := min(k.MixerHigh, k.Hopper, k.HopperMax*doughRate/3.6*(1+k.Waste/100))
	batches := math.Ceil(all / math.Floor(largest/each))
	per := math.Ceil(all / batches)
	batch := per * each
	out[20], out[21], out[22], out[23], out[24], out[25] = largest, all*each, batches, per, batch, batches*batch
	out[26], out[27] = per*60/(k.Across*k.Cycle), per*piece*3.6/doughRate

	percents := 0.0
	for _, p := range k.Percents {
		percents += p
	}
	flour := batch / (percents / 100)
	weighed := math.Round(batch/k.Division) * k.Division
	short := weighed
	for _, p := range k.Percents {
		short -= math.Floor(flour*p/100/k.Division) * k.Division
	}
	// Rounded down, then the divisions that are missing to those that lost most: how many lost more than the water?
	missing := math.Round(short / k.Division)
	exact := flour * k.Percents[k.Water] / 100
	waterMass := math.Floor(exact/k.Division) * k.Division
	lost, before := exact-waterMass, 0.0
	for i, p := range k.Percents {
		x := flour * p / 100
		if l := x - math.Floor(x/k.Division)*k.Division; l > lost || l == lost && i < k.Water {
			before++
		}
	}
	if before < missing {
		waterMass += k.Division
	}
	base := 3*k.DoughTemp - friction
	water := base - flourTemp - k.Room
	ice, hot := 0.0, 0.0
	switch {
	case water < tap:
		ice = math.Round(waterMass*(tap-water)/(tap+80)/k.Division) * k.Division
	case water > tap:
		hot = math.Round(waterMass*(water-tap)/(k.HotTap-tap)/k.Division) * k.Division
	}
	out[28], out[29], out[30], out[31], out[32], out[33], out[34], out[35] = flour, weighed, waterMass, base, water, ice, hot, waterMass-ice-hot

	trayRate := strokes * k.Ratio
	dwell, runs := k.Travel/trayRate*60, math.Ceil(batches*per/k.Across)
	lastIn := (runs - 1) / strokes * 60
	lastOut := (math.Ceil((runs-1)*k.Ratio) + k.Travel) / trayRate * 60
	out[36], out[37], out[38], out[39], out[40] = dwell, k.Across*math.Ceil(k.Travel/k.Ratio), lastIn, lastOut, k.Pitch-ball

	scaling := per * 60 / rate
	interval := max(scaling, k.Cycle)
	wait := interval - scaling
	last := k.Mixing + lastIn + (batches-1)*wait
	out[41], out[42], out[43] = scaling, interval, wait
	out[44] = dwell + wait*min(batches-1, math.Ceil(dwell/scaling))
	out[45], out[46], out[47] = (batches-1)*interval, last, last+lastOut-lastIn
}

// at returns the inputs of plan i.
func at(i int) (x [5]float64) {
	for k := len(inputs) - 1; k >= 0; k-- {
		x[k] = inputs[k].from + inputs[k].step*float64(i%10)
		i /= 10
	}
	return x
}

// values are the texts of the ten values of an input.
func values(k int) (out []string) {
	for i := range 10 {
		text := fmt.Sprint(inputs[k].from + inputs[k].step*float64(i))
		if inputs[k].symbol != "" {
			text += " " + inputs[k].symbol
		}
		out = append(out, text)
	}
	return out
}

// set puts plan i's inputs into q.
func set(q *line.Plan, x [5]float64) {
	q.Shift.Tap, q.Shift.FlourTemp = unit.Celsius(x[0]), unit.Celsius(x[1])
	q.Order.Product.Baked, q.Order.Product.Friction, q.Order.Pieces = unit.Mass(x[2]), unit.TempDelta(x[3]), int(x[4])
}
