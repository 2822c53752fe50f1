package line_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
)

// byHand is the tin loaf of the demo plant, worked with bare numbers and
// nothing from this library: what a person would key into a calculator. It is
// the check of the joints between the stations, and the yardstick for speed.
type byHand struct {
	piece, mark, low, high, set, expected                     float64
	strokes, rate, doughRate, dwell, inside                   float64
	most, batches, perBatch, batch, hopper                    float64
	water, waterMass, ice, hydration                          float64
	ball, gap, gapSet, thickness, length, turns, diameter     float64
	pitch, interval, firstOut, lastStroke, lastOut, strandedN float64
	parts                                                     [6]float64
}

type handFit struct{ mean, meanY, slope, sxx, s, t, n float64 }

func fitByHand() handFit {
	marks := [5]float64{10, 18, 26, 34, 38}
	weights := [5]float64{318, 511, 702, 899, 994}
	var f handFit
	f.n = 5
	for i := range marks {
		f.mean += marks[i] / 5
		f.meanY += weights[i] / 5
	}
	var sxy float64
	for i := range marks {
		f.sxx += (marks[i] - f.mean) * (marks[i] - f.mean)
		sxy += (marks[i] - f.mean) * (weights[i] - f.meanY)
	}
	f.slope = sxy / f.sxx
	var ss float64
	for i := range marks {
		e := weights[i] - f.meanY - f.slope*(marks[i]-f.mean)
		ss += e * e
	}
	f.s = math.Sqrt(ss / 3)
	f.t = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 3}.Quantile(0.975)
	return f
}

func handPlan(f *handFit) (h byHand) {
	h.piece = 800 / (1 - 0.105) / (1 - 0.015)
	u := (h.piece - f.meanY) / f.slope
	h.mark = f.mean + u
	// Fieller's interval for the mean response.
	g := f.t * f.t * f.s * f.s / (f.slope * f.slope * f.sxx)
	half := f.t * f.s / math.Abs(f.slope) * math.Sqrt((1-g)/f.n+u*u/f.sxx)
	h.low = f.mean + (u-half)/(1-g)
	h.high = f.mean + (u+half)/(1-g)
	h.set = math.Round(h.mark/0.5) * 0.5
	h.expected = f.meanY + f.slope*(h.set-f.mean)

	h.ball = math.Cbrt(6000 * h.piece / (math.Pi * 1.05))
	travel := 5*50.0 + 40
	high := min(30, 60, 16, 14000.0/60*60/(240+40), 18000.0/60*60/(240+60), travel/10)
	low := max(12, travel/20)
	if low > high {
		panic("no window")
	}
	h.strokes = math.Floor(high/0.5) * 0.5
	h.rate = h.strokes
	h.doughRate = h.rate * h.piece * 60 / 1000
	h.dwell = travel / h.strokes * 60
	h.inside = travel

	h.most = min(200000, 160000, 15*60*h.doughRate/3.6)
	each := h.piece * 1.01
	h.batches = math.Ceil(1510 / math.Floor(h.most/each))
	h.perBatch = math.Ceil(1510 / h.batches)
	h.batch = h.perBatch * each
	h.hopper = h.batch * 3.6 / h.doughRate
	percents := [6]float64{90, 10, 61, 2.5, 1.8, 2}
	flour := h.batch / 1.673
	total := math.Round(h.batch/10) * 10
	var short float64
	var rest [6]float64
	for i, p := range percents {
		exact := flour * p / 100
		h.parts[i] = math.Floor(exact/10) * 10
		rest[i] = exact - h.parts[i]
		short += h.parts[i]
	}
	for n := math.Round((total - short) / 10); n > 0; n-- {
		most := 0
		for i := range rest {
			if rest[i] > rest[most] {
				most = i
			}
		}
		h.parts[most] += 10
		rest[most] = -1
	}
	h.hydration = 61
	h.water = 3*26 - 22 - 25 - 24
	h.waterMass = h.parts[2]
	h.ice = math.Round(h.waterMass*(15-h.water)/(15+80)/10) * 10

	// Turns: pi N^2 t = L and L = sqrt(4 V a / (pi t)) give t^(3/2).
	volume := h.piece / 1.05 * 1000
	t := math.Pow(math.Sqrt(4*volume*2.5/math.Pi)/(math.Pi*2.5*2.5), 2.0/3)
	h.gap = t / 1.6
	h.gapSet = math.Round(h.gap/0.25) * 0.25
	h.thickness = h.gapSet * 1.6
	h.length = math.Sqrt(4 * volume * 2.5 / (math.Pi * h.thickness))
	h.diameter = math.Sqrt(4 * h.length * h.thickness / math.Pi)
	h.turns = h.diameter / (2 * h.thickness)
	h.pitch = 14000.0 / 60 * 60 / h.rate

	h.interval = max(h.hopper, 600)
	first := 22 * 60.0
	h.firstOut = first + h.dwell
	strokes := h.batches * h.perBatch
	h.lastStroke = first + (strokes-1)/h.strokes*60 + (h.batches-1)*(h.interval-h.hopper)
	h.lastOut = h.lastStroke + h.dwell
	h.strandedN = min(strokes, h.inside)
	return h
}

func TestPlanAgainstHand(t *testing.T) {
	s, cl := demo(t)
	p, err := cl.Plan(&s.Orders[2], &s.Shift, nil)
	require.NoError(t, err)
	fit := fitByHand()
	h := handPlan(&fit)
	for _, c := range []struct {
		name      string
		want, got float64
	}{
		{"dough piece", h.piece, float64(p.Piece.Dough)},
		{"mark", h.mark, p.Mark.Mark},
		{"mark, low end", h.low, p.Mark.Low},
		{"mark, high end", h.high, p.Mark.High},
		{"mark set", h.set, p.MarkSet},
		{"weight there", h.expected, float64(p.Expected)},
		{"strokes", h.strokes, float64(p.Strokes)},
		{"pieces", h.rate, float64(p.Rate.Pieces)},
		{"dough rate", h.doughRate, float64(p.Rate.Dough)},
		{"dwell", h.dwell, float64(p.Dwell.Dwell)},
		{"inside", h.inside, float64(p.Dwell.Inside)},
		{"stranded", h.strandedN, float64(p.Clear.Stranded)},
		{"largest batch", h.most, float64(p.BatchMost)},
		{"batches", h.batches, float64(p.Batch.Batches)},
		{"pieces per batch", h.perBatch, float64(p.Batch.PiecesPerBatch)},
		{"batch", h.batch, float64(p.Batch.BatchDough)},
		{"hopper time", h.hopper, float64(p.Hopper.Time)},
		{"hydration", h.hydration, float64(p.Hydration.Hydration)},
		{"water temperature", h.water, p.Water.Water.Celsius()},
		{"water", h.waterMass, float64(p.WaterMass)},
		{"ice", h.ice, float64(p.IceToWeigh)},
		{"water to weigh", h.waterMass - h.ice, float64(p.WaterToWeigh)},
		{"ball", h.ball, float64(p.Drum.Diameter)},
		{"gap", h.gap, float64(p.Gap.Gap)},
		{"gap set", h.gapSet, float64(p.GapSet)},
		{"sheet thickness", h.thickness, float64(p.Sheet.Thickness)},
		{"sheet length", h.length, float64(p.Sheet.Length)},
		{"turns", h.turns, p.Curls.Turns},
		{"roll", h.diameter, float64(p.Curls.Diameter)},
		{"pitch", h.pitch, float64(p.Spacing.Pitch)},
		{"interval", h.interval, float64(p.Times.BatchInterval)},
		{"first out", h.firstOut, float64(p.Times.FirstOut)},
		{"last stroke", h.lastStroke, float64(p.Times.LastStroke)},
		{"last out", h.lastOut, float64(p.Times.LastOut)},
	} {
		assert.InEpsilon(t, c.want, c.got, 1e-9, c.name)
	}
	for i, part := range p.Weigh.Parts {
		assert.InDelta(t, h.parts[i], float64(part.Mass), 1e-6, part.Name)
	}
	assert.Equal(t, "oven", p.Speed.HighLimit)
	assert.Equal(t, "dwell", p.Speed.LowLimit)
	assert.Equal(t, "hopper", p.BatchMostLimit)
}

func BenchmarkPlan(b *testing.B) {
	s, cl := demo(b)
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
	fit := fitByHand()
	b.ReportAllocs()
	var h byHand
	for b.Loop() {
		h = handPlan(&fit)
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
