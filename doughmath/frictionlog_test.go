package doughmath_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// logged is a batch whose friction, with two factors, comes out as given.
func logged(friction, minutes, kilograms float64, day string) doughmath.LoggedBatch {
	return doughmath.LoggedBatch{
		Mixer: "spiral", Day: day, BatchSize: unit.Kilograms(kilograms), Time: unit.Minutes(minutes),
		DoughTemp: unit.Celsius((friction + 36) / 2), WaterTemp: unit.Celsius(15), FlourTemp: unit.Celsius(21),
	}
}

// nextBatch asks for 100 kg mixed 7 minutes.
func nextBatch(model doughmath.FrictionModel, batches ...doughmath.LoggedBatch) doughmath.FrictionLog {
	return doughmath.FrictionLog{Log: batches, Mixer: "spiral", Model: model, BatchSize: unit.Kilograms(100), Time: unit.Minutes(7), Confidence: 90}
}

func ExampleFrictionLog() {
	in := nextBatch(doughmath.FrictionByTime,
		logged(12.1, 6, 100, "mon"), logged(14.3, 8, 100, "mon"), logged(12.8, 6, 100, "tue"), logged(14.9, 8, 100, "tue"),
		logged(13.1, 7, 100, "wed"), logged(13.3, 7, 100, "wed"), logged(12.6, 6.5, 100, "thu"))
	in.FirstBatch = logged(14.4, 7, 100, "fri")
	out, err := in.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("foreseen %v, %v more for each minute, the dough within %v\n", out.Friction, out.ByMinute, out.DoughOff)
	fmt.Printf("after the first batch, which showed %v more, use %v today\n", out.FirstFurther, out.Today)
	// Output:
	// foreseen 13.38 C°, 1.103 C° more for each minute, the dough within 0.3883 C°
	// after the first batch, which showed 1.021 C° more, use 14.33 C° today
}

// A log without scatter gives back the plane that it was made from, whatever lies in between.
func TestFrictionLogFindsThePlane(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 100 {
		constant, byMinute, byKilo := 5+5*r.Float64(), 2*r.Float64(), -0.02*r.Float64()
		var batches []doughmath.LoggedBatch
		for range 5 + r.IntN(20) {
			minutes, kilograms := 4+8*r.Float64(), 50+150*r.Float64()
			batches = append(batches, logged(constant+byMinute*minutes+byKilo*kilograms, minutes, kilograms, ""))
		}
		out, err := nextBatch(doughmath.FrictionByTimeAndSize, batches...).Solve()
		require.NoError(t, err)
		assert.InDelta(t, constant, float64(out.Constant), 1e-8)
		assert.InDelta(t, byMinute, float64(out.ByMinute), 1e-9)
		assert.InDelta(t, byKilo, float64(out.ByKilo), 1e-9)
		assert.InDelta(t, constant+7*byMinute+100*byKilo, float64(out.Friction), 1e-9)
		assert.InDelta(t, 0, float64(out.FitSD), 1e-9)
	}
}

// The prediction interval holds about as many new batches as it promises.
func TestFrictionLogIntervalKeepsItsPromise(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	const trials = 4000
	for _, model := range []doughmath.FrictionModel{doughmath.FrictionMean, doughmath.FrictionByTime, doughmath.FrictionBySize, doughmath.FrictionByTimeAndSize} {
		inside := 0
		truth := func(minutes, kilograms float64) float64 {
			f := 10.0
			if strings.Contains(string(model), "time") {
				f += 0.8 * minutes
			}
			if strings.Contains(string(model), "size") {
				f -= 0.01 * kilograms
			}
			return f + 0.5*r.NormFloat64()
		}
		for range trials {
			var batches []doughmath.LoggedBatch
			for range 8 {
				minutes, kilograms := 4+8*r.Float64(), 50+150*r.Float64()
				batches = append(batches, logged(truth(minutes, kilograms), minutes, kilograms, ""))
			}
			out, err := nextBatch(model, batches...).Solve()
			require.NoError(t, err)
			if f := unit.TempDelta(truth(7, 100)); f >= out.Low && f <= out.High {
				inside++
			}
		}
		// Four standard deviations of a share of 0.9 over the trials.
		assert.InDelta(t, 0.9, float64(inside)/trials, 4*math.Sqrt(0.09/trials), model)
	}
}

func TestFrictionLogMeanByHand(t *testing.T) {
	in := nextBatch(doughmath.FrictionMean, logged(12, 7, 100, ""), logged(13, 6, 100, ""), logged(14, 7, 90, ""), logged(13, 7, 100, ""), logged(13, 7, 100, ""))
	in.Log = append(in.Log, doughmath.LoggedBatch{
		Mixer: "planetary", BatchSize: 1000, Time: 60, DoughTemp: unit.Celsius(30), WaterTemp: unit.Celsius(15), FlourTemp: unit.Celsius(21), Room: unit.Celsius(20),
	})
	out, w, err := reckon.Explain(in)
	require.NoError(t, err)
	isTrue(t, w)
	assert.Equal(t, 5, out.Batches, "the other mixer does not count, nor do its three factors")
	assert.Equal(t, 2, out.Factors)
	assert.InDelta(t, 13, float64(out.MeanFriction), 1e-12)
	assert.InDelta(t, math.Sqrt(0.5), float64(out.SD), 1e-12)
	assert.Equal(t, [2]unit.TempDelta{12, 14}, [2]unit.TempDelta{out.Lowest, out.Highest})
	// t(0.95, 4) = 2.132 (tables), and sqrt(1 + 1/5).
	assert.InDelta(t, 2.132*math.Sqrt(0.5)*math.Sqrt(1.2), float64(out.High-out.Friction), 5e-4)
	assert.InDelta(t, float64(out.High-out.Low)/4, float64(out.DoughOff), 1e-12)
	assert.Equal(t, out.Friction, out.Today)
	assert.Equal(t, out.DoughOff, out.TodayDough)
	assert.Contains(t, []int{1, 3}, out.Farthest)
	assert.Zero(t, out.Conditions)
	assert.Zero(t, out.DaySD)
}

// Days that differ take the first batch's surprise for their own; days that do not, forget it.
func TestFrictionLogFirstBatch(t *testing.T) {
	days := func(spread, within float64) []doughmath.LoggedBatch {
		var out []doughmath.LoggedBatch
		for i, d := range []float64{-1, 0, 1, 0} {
			day := fmt.Sprint("day ", i)
			out = append(out, logged(13+spread*d-within, 7, 100, day), logged(13+spread*d+within, 7, 100, day))
		}
		return out
	}
	in := nextBatch(doughmath.FrictionMean, days(1, 0.1)...)
	in.FirstBatch = logged(15, 7, 100, "today")
	out, err := in.Solve()
	require.NoError(t, err)
	// By hand: mean squares 4/3 between (2 in each day) and 0.02 within, so D² = (4/3 - 0.02)/2.
	d2, w2 := (4.0/3-0.02)/2, 0.02
	assert.InDelta(t, math.Sqrt(d2), float64(out.DaySD), 1e-9)
	assert.InDelta(t, math.Sqrt(w2), float64(out.WithinDay), 1e-9)
	assert.InDelta(t, 100*d2/(d2+w2), float64(out.FirstCounts), 1e-9)
	assert.InDelta(t, 2, float64(out.FirstFurther), 1e-9)
	assert.InDelta(t, 13+2*d2/(d2+w2), float64(out.Today), 1e-9)
	assert.Less(t, out.TodayDough, out.DoughOff)

	in = nextBatch(doughmath.FrictionMean, days(0, 1)...)
	in.FirstBatch = logged(15, 7, 100, "today")
	out, w, err := reckon.Explain(in)
	require.NoError(t, err)
	isTrue(t, w)
	assert.Zero(t, out.DaySD)
	assert.Zero(t, out.FirstCounts)
	assert.Equal(t, out.Friction, out.Today)

	in.Log[3].Day = ""
	_, err = in.Solve()
	assert.ErrorContains(t, err, "the day of every batch")
	in.FirstBatch.Mixer, in.FirstBatch.Room = "planetary", unit.Celsius(20)
	in.Log[3].Day = "day 1"
	_, err = in.Solve()
	assert.Equal(t, []string{"first_batch", "first_batch.mixer"}, fields(err))
	in.FirstBatch.Mixer, in.FirstBatch.Room, in.FirstBatch.MixerSpeed = "spiral", unit.Temp{}, "fast"
	_, err = in.Solve()
	assert.Equal(t, []string{"first_batch.mixer_speed"}, fields(err))
	assert.ErrorContains(t, err, `first_batch.mixer_speed is "fast": want the speed of the batch to come`)
	in.FirstBatch.Mixer = "planetary"
	_, err = in.Solve()
	assert.Equal(t, []string{"first_batch.mixer", "first_batch.mixer_speed"}, fields(err))
	in.FirstBatch.Mixer, in.FirstBatch.MixerSpeed = "", ""
	_, err = in.Solve()
	assert.Equal(t, []string{"first_batch.mixer"}, fields(err), "one thing is said once")
}

// pairs is a log of days with as many batches as counts says, of 6 to 9 minutes,
// in which all days are alike but for what day and batch draw.
func pairs(counts []int, day, batch func() float64) []doughmath.LoggedBatch {
	var out []doughmath.LoggedBatch
	for i, n := range counts {
		d := day()
		for range n {
			minutes := 6 + float64(len(out)%4)
			out = append(out, logged(12+0.8*minutes+d+batch(), minutes, 100, fmt.Sprint("day ", i)))
		}
	}
	return out
}

// Today's first batch is held against the log as the batches of the log are.
func TestFrictionLogScreensTheFirstBatch(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	draw := func() float64 { return 0.2 * r.NormFloat64() }
	in := nextBatch(doughmath.FrictionByTime, pairs([]int{2, 2, 2, 2, 2}, draw, draw)...)
	plain, err := in.Solve()
	require.NoError(t, err)
	require.Zero(t, plain.Conditions)
	check := func(first doughmath.LoggedBatch, want doughmath.Conditions) doughmath.FrictionLogResult {
		t.Helper()
		in.FirstBatch = first
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Conditions, "%v", out.Conditions)
		return out
	}
	usual := float64(plain.Friction)
	check(logged(usual+0.3, 7, 100, "today"), 0)
	misread := logged(usual, 7, 100, "today")
	misread.DoughTemp = unit.Celsius(45)
	out := check(misread, reckon.Outlier)
	assert.Equal(t, plain.Farthest, out.Farthest, "the log's own batch stays named")
	check(logged(12+0.8*60, 60, 100, "today"), reckon.Extrapolated)
	check(logged(usual, 7, 300, "today"), 0) // the model does not look at the size

	// The limit is three standard deviations of a new batch: around the mean of n batches, S*sqrt(1 + 1/n).
	in.Model = doughmath.FrictionMean
	mean, err := in.Solve()
	require.NoError(t, err)
	limit := 3 * float64(mean.SD) * math.Sqrt(1.1)
	for _, sign := range []float64{-1, 1} {
		check(logged(float64(mean.MeanFriction)+sign*limit*0.999, 7, 100, "today"), 0)
		check(logged(float64(mean.MeanFriction)+sign*limit*1.001, 60, 100, "today"), reckon.Outlier)
	}

	// A log without any scatter takes a first batch that differs by nothing but rounding.
	in = nextBatch(doughmath.FrictionMean)
	for i := range 10 {
		in.Log = append(in.Log, logged(13.1, 7, 100, fmt.Sprint(i/2)))
	}
	check(logged(13.1+1e-13, 7, 100, "today"), 0)
	check(logged(13.2, 7, 100, "today"), reckon.Outlier)
}

// The interval after the first batch holds about as many batches as it promises,
// also where a single pair tells how much batches of one day differ.
func TestFrictionLogIntervalAfterTheFirstBatch(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	const trials = 1000
	for _, c := range []struct {
		counts []int
		few    bool
	}{
		{[]int{2, 1, 1, 1, 1, 1, 1, 1, 1}, true},
		{[]int{2, 2, 1, 1, 1, 1, 1, 1, 1}, true},
		{[]int{2, 2, 2, 2, 2}, false},
		{[]int{2, 2, 2, 2}, true},
		{[]int{3, 2, 2, 2, 2, 2, 2, 2, 2, 2}, false},
	} {
		for _, model := range []doughmath.FrictionModel{doughmath.FrictionMean, doughmath.FrictionByTime} {
			for _, between := range []float64{0, 0.3, 0.9} {
				day := func() float64 { return between * r.NormFloat64() }
				batch := func() float64 { return 0.3 * r.NormFloat64() }
				inside := 0
				for range trials {
					in := nextBatch(model, pairs(c.counts, day, batch)...)
					if model == doughmath.FrictionMean {
						for i := range in.Log {
							b := &in.Log[i]
							b.DoughTemp, b.Time = b.DoughTemp.Add(unit.TempDelta(0.4*(7-b.Time.Minutes()))), unit.Minutes(7)
						}
					}
					in.Confidence = 95
					today := 12 + 0.8*7 + day()
					in.FirstBatch = logged(today+batch(), 7, 100, "today")
					out, err := in.Solve()
					require.NoError(t, err)
					require.Equal(t, c.few, out.Conditions.Has(doughmath.FewBatches))
					// Two factors: the dough is off by half of what the friction is.
					if math.Abs(today+batch()-float64(out.Today))/2 <= float64(out.TodayDough) {
						inside++
					}
				}
				assert.GreaterOrEqual(t, float64(inside)/trials, 0.9, "%v %v %v", c.counts, model, between)
				assert.Less(t, float64(inside)/trials, 0.99, "%v %v %v", c.counts, model, between)
			}
		}
	}
}

// By hand: six batches on five days, so that W has one degree of freedom and t is 12.706 (tables).
func TestFrictionLogFewPairs(t *testing.T) {
	in := nextBatch(doughmath.FrictionMean, logged(12.9, 7, 100, "a"), logged(13.1, 7, 100, "a"), logged(12, 7, 100, "b"), logged(13, 7, 100, "c"), logged(14, 7, 100, "d"), logged(13, 7, 100, "e"))
	in.Confidence, in.FirstBatch = 95, logged(13.5, 7, 100, "today")
	out, err := in.Solve()
	require.NoError(t, err)
	w := math.Sqrt(0.02) // 2*0.1² over one degree of freedom
	assert.InDelta(t, w, float64(out.WithinDay), 1e-9)
	assert.InDelta(t, 12.706*w*math.Sqrt(1+float64(out.FirstCounts)/100)/2, float64(out.TodayDough), 1e-4)
	assert.Equal(t, doughmath.FewBatches, out.Conditions)
	in.FirstBatch = doughmath.LoggedBatch{}
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions, "the fit itself has five")
}

func TestFrictionLogConditions(t *testing.T) {
	line := func(n int) []doughmath.LoggedBatch {
		var out []doughmath.LoggedBatch
		for i := range n {
			out = append(out, logged(13+0.1*float64(i%2), 6+float64(i%3), 100, ""))
		}
		return out
	}
	check := func(in doughmath.FrictionLog, want doughmath.Conditions) {
		t.Helper()
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Conditions, "%v", out.Conditions)
	}
	check(nextBatch(doughmath.FrictionByTime, line(12)...), 0)
	check(nextBatch(doughmath.FrictionByTime, line(5)...), doughmath.FewBatches)
	check(nextBatch(doughmath.FrictionByTime, line(6)...), 0)
	in := nextBatch(doughmath.FrictionByTime, line(12)...)
	in.TempTolerance = 0.05
	check(in, doughmath.FewBatches)
	in.TempTolerance = 0.1
	check(in, 0)
	in.Time = unit.Minutes(8.1)
	check(in, reckon.Extrapolated)
	in.Time, in.BatchSize = unit.Minutes(8), unit.Kilograms(300)
	check(in, 0) // the model does not look at the size
	out := line(12)
	out[4] = logged(16, 7, 100, "")
	odd := nextBatch(doughmath.FrictionByTime, out...)
	check(odd, reckon.Outlier)
	result, err := odd.Solve()
	require.NoError(t, err)
	assert.Equal(t, 5, result.Farthest)
	cold := line(12)
	for i := range cold {
		cold[i].DoughTemp = unit.Celsius(17)
	}
	check(nextBatch(doughmath.FrictionMean, cold...), doughmath.FrictionNegative)
}

func TestFrictionLogNamesEveryBadField(t *testing.T) {
	_, err := doughmath.FrictionLog{Log: []doughmath.LoggedBatch{{Time: unit.Hours(5)}}, TempTolerance: -1}.Solve()
	assert.Equal(t, []string{
		"model", "mixer", "batch_size", "time", "confidence", "temp_tolerance",
		"log[0].mixer", "log[0].batch_size", "log[0].time", "log[0].dough_temp", "log[0].water_temp", "log[0].flour_temp",
	}, fields(err))
	for _, model := range []doughmath.FrictionModel{doughmath.FrictionByTime, doughmath.FrictionBySize, doughmath.FrictionByTimeAndSize} {
		same := nextBatch(model, logged(12, 7, 100, ""), logged(13, 7, 100, ""), logged(14, 7, 100, ""), logged(13, 7, 100, ""))
		_, err = same.Solve()
		assert.Equal(t, []string{"model"}, fields(err), model)
	}
	together := nextBatch(doughmath.FrictionByTimeAndSize, logged(12, 5, 50, ""), logged(13, 6, 60, ""), logged(14, 7, 70, ""), logged(13, 8, 80, ""), logged(13, 9, 90, ""))
	_, err = together.Solve()
	assert.Equal(t, []string{"model"}, fields(err), "time and size go together")
	short := nextBatch(doughmath.FrictionByTime, logged(12, 5, 50, ""), logged(13, 6, 60, ""))
	_, err = short.Solve()
	assert.ErrorContains(t, err, "3 or more")
	mixed := nextBatch(doughmath.FrictionMean, logged(12, 5, 50, ""), logged(13, 6, 60, ""), logged(13, 6, 60, ""))
	mixed.Log[1].Room = unit.Celsius(20)
	_, err = mixed.Solve()
	assert.Equal(t, []string{"log[1]"}, fields(err))
	_, err = nextBatch(doughmath.FrictionMean, make([]doughmath.LoggedBatch, 10001)...).Solve()
	assert.Equal(t, []string{"log"}, fields(err))
}

// The quantile that the interval uses, against printed tables of Student's t.
func TestStudentQuantile(t *testing.T) {
	for _, c := range []struct{ p, freedom, want float64 }{{0.975, 1, 12.706}, {0.95, 4, 2.132}, {0.975, 10, 2.228}, {0.995, 30, 2.750}} {
		assert.InDelta(t, c.want, distuv.StudentsT{Mu: 0, Sigma: 1, Nu: c.freedom}.Quantile(c.p), 5e-4)
	}
}

func BenchmarkFrictionLog(b *testing.B) {
	var batches []doughmath.LoggedBatch
	for i := range 200 {
		batches = append(batches, logged(13+0.1*float64(i%7), 6+float64(i%3), 90+float64(i%11), fmt.Sprint(i/5)))
	}
	in := nextBatch(doughmath.FrictionByTimeAndSize, batches...)
	in.FirstBatch = logged(14, 7, 95, "")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// No log makes the fit panic, or lets NaN or infinity out.
func FuzzFrictionLog(f *testing.F) {
	f.Add(13.0, 7.0, 100.0, 0.5, 1.0, 10.0, uint8(3), 8)
	f.Add(0.0, 1e-300, 1e-6, 0.0, 1e-12, 1e-12, uint8(3), 4)
	f.Add(math.NaN(), math.Inf(1), -1.0, 1e308, 1e308, 1e308, uint8(1), 3)
	f.Fuzz(func(t *testing.T, friction, minutes, kilograms, dFriction, dMinutes, dKilograms float64, model uint8, n int) {
		if n < 0 || n > 20 {
			return
		}
		models := [...]doughmath.FrictionModel{doughmath.FrictionMean, doughmath.FrictionByTime, doughmath.FrictionBySize, doughmath.FrictionByTimeAndSize}
		in := nextBatch(models[model%4])
		for i := range n {
			k := float64(i * i % 7)
			in.Log = append(in.Log, logged(friction+k*dFriction, minutes+float64(i)*dMinutes, kilograms+k*dKilograms, fmt.Sprint(i/2)))
		}
		in.FirstBatch = logged(friction-dFriction, minutes, kilograms, "")
		out, err := in.Solve()
		_, jsonErr := json.Marshal(out)
		require.NoError(t, jsonErr, "%v", err)
	})
}
