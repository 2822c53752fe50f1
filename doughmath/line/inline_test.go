package line_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
)

// byHand is a moulded product of the demo plant, worked with bare numbers and
// none of this library's arithmetic: what a person would key into a
// calculator. It is the check of the joints between the stations, and the
// yardstick for speed; it reads the same input and checks none of it.
type byHand struct {
	piece, low, high, mark, markLow, markHigh, set, expected     float64
	strokesLow, strokesHigh, strokes, rate, doughRate            float64
	dwell, dwellLow, dwellHigh, trayRate, beat                   float64
	passes, inside, firstOut, lastIn, clearOut, stranded         float64
	most, batches, perBatch, batch, made, leftover, hopper       float64
	water, waterMass, ice, iceShare, iceSet, waterSet, hydration float64
	ball, fill, smaller, larger                                  float64
	gap, gapSet, thickness, width, length, turns, diameter       float64
	pitch, free                                                  float64
	extra, onDough, onBaked, g, expectedLow, expectedHigh        float64
	rateLow, rateHigh, order, percents, flour, base, iceCooling  float64
	errors                                                       [8]float64
	first, interval, wait, lastMix, lastStroke, lastOut          float64
	drum, belt                                                   int
	parts                                                        [8]float64
}

type handFit struct{ mean, meanY, slope, sxx, s, t, n float64 }

func fitByHand(trials []divider.Trial) handFit {
	f := handFit{n: float64(len(trials))}
	for _, t := range trials {
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

func handPlan(f *handFit, l *line.Line, o *line.Order, s *line.Shift) (h byHand) {
	p := &o.Product
	across := float64(p.Across)
	baked, tolerance := float64(p.Baked), float64(p.Tolerance)
	h.piece = baked / (1 - float64(p.Loss.Bake.Percent)/100) / (1 - float64(p.Loss.Cooling.Percent)/100)
	h.low, h.high = h.piece-tolerance, h.piece+tolerance
	h.extra = h.piece - baked
	h.onDough, h.onBaked = 100*h.extra/h.piece, 100*h.extra/baked
	u := (h.piece - f.meanY) / f.slope
	h.mark = f.mean + u
	// Fieller's interval for the mean response.
	g := f.t * f.t * f.s * f.s / (f.slope * f.slope * f.sxx)
	half := f.t * f.s / math.Abs(f.slope) * math.Sqrt((1-g)/f.n+u*u/f.sxx)
	h.markLow = f.mean + (u-half)/(1-g)
	h.markHigh = f.mean + (u+half)/(1-g)
	h.set = math.Round(h.mark/l.Divider.MarkStep) * l.Divider.MarkStep
	h.expected = f.meanY + f.slope*(h.set-f.mean)
	h.g = g
	band := f.t * math.Sqrt(f.s*f.s*(1/f.n+(h.set-f.mean)*(h.set-f.mean)/f.sxx))
	h.expectedLow, h.expectedHigh = h.expected-band, h.expected+band

	density := float64(p.Density)
	h.ball = math.Cbrt(6000 * h.piece / (math.Pi * density))
	h.drum = -1
	for i := range l.Drums {
		fill := h.ball / float64(l.Drums[i].Cup)
		if fill <= l.Fill.High && (h.drum < 0 || fill > h.fill) {
			h.drum, h.fill = i, fill
		}
	}
	for i := range l.Drums {
		fill := h.ball / float64(l.Drums[i].Cup)
		if fill > h.fill && (h.smaller == 0 || fill < h.smaller) {
			h.smaller = fill
		}
		if fill < h.fill && fill > h.larger {
			h.larger = fill
		}
	}

	travel := float64((l.Proofer.Pockets/p.Across-1)*l.Proofer.Trays+l.Proofer.LastPassTrays) / l.Proofer.TraysPerStroke
	piece := float64(p.Length)
	h.strokesLow = max(float64(l.Divider.StrokesLow), travel/(float64(p.DwellHigh)/60))
	h.strokesHigh = min(float64(l.Divider.StrokesHigh), travel/(float64(p.DwellLow)/60), float64(l.Moulder.RateHigh)/across)
	if p.RateHigh > 0 {
		h.strokesHigh = min(h.strokesHigh, float64(p.RateHigh)/across)
	}
	for i := range l.Belts {
		b := &l.Belts[i]
		h.strokesHigh = min(h.strokesHigh, float64(b.Speed)*60*float64(min(b.Lanes, p.Across))/(piece+float64(b.LeastGap))/across)
	}
	h.strokes = math.Floor(h.strokesHigh/float64(l.Divider.StrokeStep)+1e-9) * float64(l.Divider.StrokeStep)
	h.dwellLow, h.dwellHigh = travel/h.strokesHigh*60, travel/h.strokesLow*60
	h.rateLow, h.rateHigh = h.strokesLow*across, h.strokesHigh*across
	h.rate = h.strokes * across
	h.doughRate = h.rate * h.piece * 60 / 1000
	h.beat = 60 / h.strokes
	h.passes = float64(l.Proofer.Pockets / p.Across)
	h.trayRate = h.strokes * l.Proofer.TraysPerStroke
	h.dwell = travel / h.strokes * 60
	h.inside = across * math.Ceil(travel)

	h.most = min(float64(s.Mixer.High), float64(l.Divider.Hopper), float64(p.HopperMax)*h.doughRate/3.6)
	each := h.piece * (1 + float64(s.Waste)/100)
	all := float64(o.Pieces + o.Spare)
	h.order = all * each
	h.batches = math.Ceil(all / math.Floor(h.most/each))
	h.perBatch = math.Ceil(all / h.batches)
	h.batch = h.perBatch * each
	h.made = h.batches * h.batch
	h.leftover = h.batches*h.perBatch - all
	h.hopper = h.batch * 3.6 / h.doughRate

	var percents, wet float64
	for i := range p.Formula {
		percents += float64(p.Formula[i].Percent)
		switch p.Formula[i].Role {
		case doughmath.RoleWater:
			wet += float64(p.Formula[i].Percent)
		case doughmath.RoleLiquid, doughmath.RoleOther:
			wet += float64(p.Formula[i].Percent) * float64(p.Formula[i].Water) / 100
		}
	}
	h.hydration, h.percents = wet, percents
	flour := h.batch / (percents / 100)
	h.flour = flour
	division := float64(s.Division)
	total := math.Round(h.batch/division) * division
	var rest [8]float64
	short := total
	for i := range p.Formula {
		exact := flour * float64(p.Formula[i].Percent) / 100
		h.parts[i] = math.Floor(exact/division) * division
		rest[i] = exact - h.parts[i]
		short -= h.parts[i]
	}
	for n := math.Round(short / division); n > 0; n-- {
		most := 0
		for i := range rest {
			if rest[i] > rest[most] {
				most = i
			}
		}
		h.parts[most] += division
		rest[most] = -1
	}
	for i := range p.Formula {
		h.errors[i] = h.parts[i] - flour*float64(p.Formula[i].Percent)/100
	}
	h.base = 3*p.Dough.Celsius() - float64(p.Friction)
	h.water = 3*p.Dough.Celsius() - s.Flour.Celsius() - s.Room.Celsius() - float64(p.Friction)
	for i := range p.Formula {
		if p.Formula[i].Role == doughmath.RoleWater {
			h.waterMass += h.parts[i]
		}
	}
	if tap := s.Tap.Celsius(); h.water < tap {
		h.iceShare = (tap - h.water) / (tap + 80)
		h.ice = h.waterMass * h.iceShare
		h.iceCooling = h.ice / 1000 * 144 * 2.326
		h.iceSet = math.Round(h.ice/division) * division
	}
	h.waterSet = h.waterMass - h.iceSet

	// Turns: pi N^2 t = L and L = sqrt(4 V a / (pi t)) give t^(3/2).
	volume := h.piece / density * 1000
	t := math.Pow(math.Sqrt(4*volume*p.Aspect/math.Pi)/(math.Pi*p.Turns*p.Turns), 2.0/3)
	h.gap = t / l.Moulder.Recovery
	h.gapSet = math.Round(h.gap/float64(l.Moulder.GapStep)) * float64(l.Moulder.GapStep)
	h.thickness = h.gapSet * l.Moulder.Recovery
	h.length = math.Sqrt(4 * volume * p.Aspect / (math.Pi * h.thickness))
	h.width = h.length / p.Aspect
	h.diameter = math.Sqrt(4 * h.length * h.thickness / math.Pi)
	h.turns = h.diameter / (2 * h.thickness)

	tightest := math.Inf(1)
	for i := range l.Belts {
		b := &l.Belts[i]
		pitch := float64(b.Speed) * 60 * float64(min(b.Lanes, p.Across)) / h.rate
		if free := pitch - piece - float64(b.LeastGap); free < tightest {
			h.belt, tightest, h.pitch, h.free = i, free, pitch, pitch-piece
		}
	}

	h.first = float64(s.Mixer.Mixing + p.FloorTime)
	h.interval = max(h.hopper, float64(s.Mixer.Cycle))
	h.wait = h.interval - h.hopper
	h.lastMix = (h.batches - 1) * h.interval
	h.firstOut = h.first + h.dwell
	strokes := math.Ceil(h.batches * h.perBatch / across)
	h.lastIn = (strokes - 1) / h.strokes * 60
	h.clearOut = h.dwell
	h.lastStroke = h.first + h.lastIn + (h.batches-1)*h.wait
	h.lastOut = h.lastStroke + h.clearOut
	h.stranded = min(h.batches*h.perBatch, h.inside)
	return h
}

func TestPlanAgainstHand(t *testing.T) {
	s, cl := straight(t)
	for i := range 2 {
		o := &s.Orders[i+1]
		p, err := cl.Plan(o, &s.Shift, nil)
		require.NoError(t, err)
		fit := fitByHand(s.Line.Divider.Lanes[i].Trials)
		h := handPlan(&fit, &s.Line, o, &s.Shift)
		t.Run(o.Product.Name, func(t *testing.T) { againstHand(t, &p, &h) })
	}
}

func againstHand(t *testing.T, p *line.PlanResult, h *byHand) {
	for _, c := range []struct {
		name      string
		want, got float64
	}{
		{"dough piece", h.piece, float64(p.Piece.Dough)},
		{"mark", h.mark, p.Mark.Mark},
		{"mark, low end", h.markLow, p.Mark.Low},
		{"mark, high end", h.markHigh, p.Mark.High},
		{"mark set", h.set, p.MarkSet},
		{"weight there", h.expected, float64(p.Expected)},
		{"strokes", h.strokes, float64(p.Strokes)},
		{"pieces", h.rate, float64(p.Rate.Pieces)},
		{"dough rate", h.doughRate, float64(p.Rate.Dough)},
		{"dwell", h.dwell, float64(p.Dwell.Dwell)},
		{"inside", h.inside, float64(p.Dwell.Inside)},
		{"stranded", h.stranded, float64(p.Clear.Stranded)},
		{"largest batch", h.most, float64(p.BatchMost)},
		{"batches", h.batches, float64(p.Batch.Batches)},
		{"pieces per batch", h.perBatch, float64(p.Batch.PiecesPerBatch)},
		{"batch", h.batch, float64(p.Batch.BatchDough)},
		{"hopper time", h.hopper, float64(p.Hopper.Time)},
		{"hydration", h.hydration, float64(p.Hydration.Hydration)},
		{"water temperature", h.water, p.Water.Water.Celsius()},
		{"water", h.waterMass, float64(p.WaterMass)},
		{"ice", h.iceSet, float64(p.IceToWeigh)},
		{"water to weigh", h.waterSet, float64(p.WaterToWeigh)},
		{"ball", h.ball, float64(p.Drum.Diameter)},
		{"gap", h.gap, float64(p.Gap.Gap)},
		{"gap set", h.gapSet, float64(p.GapSet)},
		{"sheet thickness", h.thickness, float64(p.Sheet.Thickness)},
		{"sheet length", h.length, float64(p.Sheet.Length)},
		{"turns", h.turns, p.Curls.Turns},
		{"roll", h.diameter, float64(p.Curls.Diameter)},
		{"pitch", h.pitch, float64(p.Spacing.Pitch)},
		{"dough above the baked weight", h.extra, float64(p.Piece.Extra)},
		{"loss on dough", h.onDough, float64(p.Piece.LossOnDough)},
		{"loss on baked", h.onBaked, float64(p.Piece.LossOnBaked)},
		{"Fieller's g", h.g, p.Mark.G},
		{"pieces at the slowest", h.rateLow, float64(p.Speed.RateLow)},
		{"pieces at the fastest", h.rateHigh, float64(p.Speed.RateHigh)},
		{"dough of the order", h.order, float64(p.Batch.Dough)},
		{"all percents", h.percents, float64(p.Weigh.TotalPercent)},
		{"flour", h.flour, float64(p.Weigh.Flour)},
		{"base temperature", h.base, float64(p.Water.Base)},
		{"cooling by ice", h.iceCooling, float64(p.Ice.Cooling)},
		{"fill", h.fill, p.Drum.Fill},
		{"slowest", h.strokesLow, float64(p.Speed.Low)},
		{"fastest", h.strokesHigh, float64(p.Speed.High)},
		{"sheet width", h.width, float64(p.Sheet.Width)},
		{"free belt", h.free, float64(p.Spacing.Gap)},
		{"lightest", h.low, float64(p.PieceLow)},
		{"last batch", h.lastMix, float64(p.Times.LastMix)},
		{"interval", h.interval, float64(p.Times.BatchInterval)},
		{"first out", h.firstOut, float64(p.Times.FirstOut)},
		{"last stroke", h.lastStroke, float64(p.Times.LastStroke)},
		{"last out", h.lastOut, float64(p.Times.LastOut)},
	} {
		assert.InDelta(t, c.want, c.got, 1e-9*math.Max(1, math.Abs(c.want)), c.name)
	}
	for i, part := range p.Weigh.Parts {
		assert.InDelta(t, h.parts[i], float64(part.Mass), 1e-6, part.Name)
		assert.InDelta(t, h.errors[i], float64(part.Error), 1e-6, part.Name)
	}
}

func BenchmarkPlan(b *testing.B) {
	s, cl := straight(b)
	for _, o := range s.Orders[:3] {
		b.Run(o.Product.Name, func(b *testing.B) {
			parts := make([]doughmath.Part, 0, 20)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := cl.Plan(&o, &s.Shift, parts); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The same arithmetic with bare numbers, unchecked: the yardstick.
func BenchmarkPlanByHand(b *testing.B) {
	s, _ := straight(b)
	fit := fitByHand(s.Line.Divider.Lanes[1].Trials)
	b.ReportAllocs()
	var h byHand
	for b.Loop() {
		h = handPlan(&fit, &s.Line, &s.Orders[2], &s.Shift)
	}
	if h.turns < 2 {
		b.Fatal(h)
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
