package proof_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// stays hands out holders along a line, one after the other, and takes each back
// as soon as it is free again. Times are whole numbers: a piece takes 60 of
// them and a second takes rate, so that nothing is rounded. It returns how many
// holders had to be there, and the most that were in the final proof at once.
func stays(rate, per, batch, gap, stay, handling int, h proof.Holder) (needed, inProof int) {
	cycle := 60*batch + rate*gap
	var back, in, out []int // when holders come back, go in and come out, in order
	free := 0
	for n := 0; n <= (stay+handling)*rate/cycle+2*per/batch+6; n++ {
		for done := 0; done < batch; done += per {
			start := n*cycle + 60*done
			enters := start
			if h != proof.HolderContinuous {
				enters += 60 * min(per, batch-done) // its last piece is on it
			}
			for free < len(back) && back[free] <= start {
				free++
			}
			back = append(back, enters+(stay+handling)*rate)
			needed = max(needed, len(back)-free)
			in, out = append(in, enters), append(out, enters+stay*rate)
		}
	}
	left := 0
	for i, t := range in {
		for out[left] <= t {
			left++
		}
		inProof = max(inProof, i+1-left)
	}
	return needed, inProof
}

func TestFinalProofLoadMeetsACount(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	early := 0
	holders := []proof.Holder{proof.HolderRack, proof.HolderBox, proof.HolderContinuous}
	for i := range 20_000 {
		// Small numbers meet each other often, large ones are those of a line.
		rate, per, batch, gap, stay, handling := 1+r.IntN(120), 1+r.IntN(20), 1+r.IntN(80), r.IntN(60), 1+r.IntN(300), r.IntN(60)
		if i%2 == 0 {
			rate, per, batch = 20+r.IntN(101), 12*(1+r.IntN(20)), 200+r.IntN(1800)
			gap, stay, handling = 60*r.IntN(10)+15*r.IntN(2), 60*(10+r.IntN(70)), 60*r.IntN(15)
		}
		in := proof.FinalProofLoad{
			Rate: unit.PieceRate(rate), PerHolder: per, Stay: unit.Duration(stay), Handling: unit.Duration(handling), Holder: holders[r.IntN(3)],
		}
		if r.IntN(4) == 0 {
			batch, gap = per, 0 // a steady line
		} else {
			in.Batch, in.Gap = batch, unit.Duration(gap)
		}
		out, err := in.Solve()
		require.NoError(t, err)
		needed, inProof := stays(rate, per, batch, gap, stay, handling, in.Holder)
		require.Equal(t, needed, out.Needed, "%+v", in)
		require.Equal(t, inProof, out.InProof, "%+v", in)
		if batch%per != 0 && gap*rate < 60*(per-batch%per) {
			early++
		}
	}
	require.Greater(t, early, 1000, "part-filled holders that are followed early are among them")
}

// Part-filled holders are followed by the next batch's first before their time.
func TestFinalProofLoadOfPartFilledHolders(t *testing.T) {
	carriers := proof.FinalProofLoad{Rate: 60, Stay: 30, Holder: proof.HolderContinuous, PerHolder: 60, Batch: 61}
	out, err := carriers.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, out.Needed) // loaded from 60 s and from 61 s, each for 30 s
	racks := proof.FinalProofLoad{Rate: 40, Stay: unit.Minutes(45), Holder: proof.HolderRack, PerHolder: 120, Handling: unit.Minutes(10), Batch: 1011, Gap: unit.Minutes(1)}
	out, err = racks.Solve()
	require.NoError(t, err)
	assert.Equal(t, 21, out.Needed)
	// A minute's stay at the slowest rate still takes a carrier, however little of it.
	out, err = proof.FinalProofLoad{Rate: 1.0 / 1440, Stay: 1, Holder: proof.HolderContinuous, PerHolder: 1_000_000}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 1, out.Needed)
	assert.Equal(t, 1, out.InProof)
}

func TestFinalProofLoadAndRateOfBatchesGoThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	enough := 0
	for range 20_000 {
		in := proof.RateForFinalProofLoad{
			Available: 2 + r.IntN(60), PerHolder: 1 + r.IntN(300), Stay: unit.Minutes(1 + 90*r.Float64()), Handling: unit.Minutes(10 * r.Float64()),
			Holder: []proof.Holder{proof.HolderRack, proof.HolderBox, proof.HolderContinuous}[r.IntN(3)],
			Batch:  1 + r.IntN(3000), Gap: unit.Duration(r.IntN(900)),
		}
		rate, err := in.Solve()
		if err != nil {
			require.Equal(t, []string{"available"}, fields(err))
			enough++
			continue
		}
		load := proof.FinalProofLoad{
			Rate: rate.Rate, Stay: in.Stay, Handling: in.Handling, Holder: in.Holder, PerHolder: in.PerHolder, Batch: in.Batch, Gap: in.Gap, Available: in.Available,
		}
		out, err := load.Solve()
		require.NoError(t, err)
		require.Equal(t, in.Available, out.Needed, "%+v", in)
		require.False(t, out.Conditions.Has(proof.Overloaded))
		load.Rate *= 1.00001
		if load.Rate > 100_000 {
			continue
		}
		out, err = load.Solve()
		require.NoError(t, err)
		require.Greater(t, out.Needed, in.Available, "%+v", in)
	}
	assert.Positive(t, enough, "long gaps, in which every holder comes back, are among them")
	assert.Less(t, enough, 10_000)
	// The working is that of the answer, with and without a part-filled holder.
	for _, batch := range []int{0, 120, 1011} {
		in := proof.RateForFinalProofLoad{Available: 21, PerHolder: 120, Holder: proof.HolderRack, Stay: unit.Minutes(45), Handling: unit.Minutes(10), Batch: batch, Piece: 85}
		rate, w, err := reckon.Explain(in)
		require.NoError(t, err)
		assert.Equal(t, float64(rate.Rate), w.Steps[len(w.Steps)-2].Value)
		assert.Equal(t, float64(rate.MassRate), w.Steps[len(w.Steps)-1].Value)
	}
}

func TestFinalProofLoadAndRateGoThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for range 1000 {
		in := proof.RateForFinalProofLoad{
			Available: 2 + r.IntN(60), PerHolder: 1 + r.IntN(300), Stay: unit.Minutes(1 + 90*r.Float64()), Handling: unit.Minutes(10 * r.Float64()),
			Holder: []proof.Holder{proof.HolderRack, proof.HolderBox, proof.HolderContinuous}[r.IntN(3)],
		}
		rate, err := in.Solve()
		require.NoError(t, err)
		load := proof.FinalProofLoad{Rate: rate.Rate, Stay: in.Stay, Handling: in.Handling, Holder: in.Holder, PerHolder: in.PerHolder, Available: in.Available}
		out, err := load.Solve()
		require.NoError(t, err)
		require.Equal(t, in.Available, out.Needed)
		assert.False(t, out.Conditions.Has(proof.Overloaded))
		load.Rate *= 1.001 // a little faster, and one holder is missing
		out, err = load.Solve()
		require.NoError(t, err)
		require.Equal(t, in.Available+1, out.Needed)
		assert.True(t, out.Conditions.Has(proof.Overloaded))
	}
}

func TestFinalProofLoadRefuses(t *testing.T) {
	_, err := proof.FinalProofLoad{Rate: 0, Holder: "shelf", Handling: -1, Gap: 5, Available: -1}.Solve()
	assert.Equal(t, []string{"rate", "stay", "holder", "per_holder", "handling", "gap", "available"}, fields(err))
	_, err = proof.FinalProofLoad{Rate: 1, Stay: 60, Holder: proof.HolderBox, PerHolder: 1, Batch: -1, Gap: -1}.Solve()
	assert.Equal(t, []string{"batch", "gap"}, fields(err))
	_, err = proof.RateForFinalProofLoad{Available: 1, PerHolder: 1, Holder: proof.HolderRack, Stay: 60, Piece: -1}.Solve()
	assert.Equal(t, []string{"available", "piece"}, fields(err))
	_, err = proof.RateForFinalProofLoad{Available: 2, PerHolder: 1, Holder: proof.HolderRack, Stay: 60, Gap: 1}.Solve()
	assert.Equal(t, []string{"gap"}, fields(err))
	// The gap is longer than a rack is away, and a rack takes a batch.
	_, err = proof.RateForFinalProofLoad{Available: 2, PerHolder: 10, Holder: proof.HolderRack, Stay: 60, Batch: 10, Gap: 70}.Solve()
	require.Error(t, err)
	assert.Equal(t, "rate-for-final-proof-load: available is 2: want fewer: so many are enough for any rate up to 100000 pieces/min", err.Error())
	_, err = proof.SharedRate{}.Solve()
	assert.Equal(t, []string{"basis", "products"}, fields(err))
	_, err = proof.SharedRate{Basis: proof.ShareOfTime, Products: []proof.ProductShare{{101, 0}}}.Solve()
	assert.Equal(t, []string{"products[0].share", "products[0].rate"}, fields(err))
	_, err = proof.SharedRate{Basis: proof.ShareOfTime, Products: []proof.ProductShare{{50, 10}, {49, 10}}}.Solve()
	assert.Equal(t, []string{"products"}, fields(err))
}

// The mean over time is the larger one, and they meet where the rates are equal.
func TestSharedRateBases(t *testing.T) {
	products := []proof.ProductShare{{70, 900}, {30, 300}}
	output, err := proof.SharedRate{Products: products, Basis: proof.ShareOfOutput}.Solve()
	require.NoError(t, err)
	hours, err := proof.SharedRate{Products: products, Basis: proof.ShareOfTime}.Solve()
	require.NoError(t, err)
	// 700 kg take 7/9 h and 300 kg take 1 h.
	assert.InDelta(t, 1000/(7.0/9+1), float64(output.Rate), 1e-9)
	assert.InDelta(t, 720, float64(hours.Rate), 1e-9)
}

func TestEquivalentRange(t *testing.T) {
	in := proof.Equivalent{
		History: []proof.Stage{{unit.Celsius(28), unit.Minutes(40)}}, Reference: unit.Celsius(25),
		Model: proof.ModelQ10, Value: 2.2, Low: 1.8, High: 2.6, Origin: proof.OriginAssumed,
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Less(t, out.Shortest, out.Equivalent)
	assert.Less(t, out.Equivalent, out.Longest)
	assert.Equal(t, proof.Conditions(reckon.Uncalibrated), out.Conditions)
	// At the reference temperature time is time, whatever the model.
	in.History[0].Temp = in.Reference
	for _, m := range []proof.RateModel{proof.ModelQ10, proof.ModelArrhenius} {
		in.Model, in.Value, in.Low, in.High = m, 5, 0, 0
		out, err = in.Solve()
		require.NoError(t, err)
		assert.Equal(t, out.Clock, out.Equivalent)
		assert.Equal(t, out.Shortest, out.Longest)
	}
}

func TestEquivalentGoesThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	for range 1000 {
		m, value := proof.ModelQ10, 1.2+2*r.Float64()
		if r.IntN(2) == 0 {
			m, value = proof.ModelArrhenius, 20+80*r.Float64()
		}
		ref, temp := unit.Celsius(20+10*r.Float64()), unit.Celsius(20+10*r.Float64())
		known := unit.Minutes(30 + 60*r.Float64())
		// The same dough takes "known" at ref; at temp it takes less in the ratio of the speeds.
		one, err := proof.Equivalent{History: []proof.Stage{{temp, known}}, Reference: ref, Model: m, Value: value, Origin: proof.OriginMeasured}.Solve()
		require.NoError(t, err)
		wanted := known * known / one.Equivalent
		back, err := proof.TemperatureForProof{Reference: ref, Known: known, Wanted: wanted, Model: m, Value: value, Origin: proof.OriginMeasured}.Solve()
		require.NoError(t, err)
		require.InDelta(t, temp.Celsius(), back.Temp.Celsius(), 1e-9)
		if temp.Celsius()-ref.Celsius() < 2 {
			continue
		}
		fit, err := proof.Q10ForProof{Cool: proof.Trial{ref, known}, Warm: proof.Trial{temp, wanted}}.Solve()
		require.NoError(t, err)
		if m == proof.ModelQ10 {
			require.InEpsilon(t, value, fit.Q10, 1e-9)
		} else {
			require.InEpsilon(t, value, fit.Activation, 1e-9)
		}
	}
}

func TestEquivalentRefuses(t *testing.T) {
	_, err := proof.Equivalent{}.Solve()
	assert.Equal(t, []string{"history", "reference", "model", "origin"}, fields(err))
	_, err = proof.Equivalent{
		History: []proof.Stage{{unit.Celsius(60), -1}}, Reference: unit.Celsius(20), Model: proof.ModelQ10, Value: 2, Low: 2.1, High: 6, Origin: proof.OriginAssumed,
	}.Solve()
	assert.Equal(t, []string{"history[0].temp", "history[0].time", "high", "low"}, fields(err))
	_, err = proof.TemperatureForProof{Reference: unit.Celsius(25), Known: 6000, Wanted: 60, Model: proof.ModelArrhenius, Value: 5, Origin: proof.OriginAssumed}.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Contains(t, err.Error(), "it can reach")
	_, err = proof.TemperatureForProof{Reference: unit.Celsius(25), Known: 60, Wanted: 600000, Model: proof.ModelQ10, Value: 2, Origin: proof.OriginAssumed}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = proof.Q10ForProof{Cool: proof.Trial{unit.Celsius(25), 60}, Warm: proof.Trial{unit.Celsius(26), 0}}.Solve()
	assert.Equal(t, []string{"warm.time", "warm.temp"}, fields(err))
	_, err = proof.Q10ForProof{Cool: proof.Trial{unit.Celsius(25), 60}, Warm: proof.Trial{unit.Celsius(30), 70}}.Solve()
	assert.Equal(t, []string{"warm.time"}, fields(err))
}

func TestFinalProofAllocatesNothing(t *testing.T) {
	history := []proof.Stage{{unit.Celsius(28), unit.Minutes(40)}}
	products := []proof.ProductShare{{70, 900}, {30, 300}}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = proof.FinalProofLoad{Rate: 48, Stay: 3300, Holder: proof.HolderRack, PerHolder: 240, Batch: 2400, Gap: 300}.Solve()
		_, _ = proof.FinalProofLoad{Rate: 40, Stay: 2700, Holder: proof.HolderRack, PerHolder: 120, Batch: 1011, Gap: 60}.Solve()
		_, _ = proof.RateForFinalProofLoad{Available: 21, PerHolder: 120, Holder: proof.HolderRack, Stay: 2700, Batch: 1011, Gap: 60}.Solve()
		_, _ = proof.RateForFinalProofLoad{Available: 14, PerHolder: 240, Holder: proof.HolderRack, Stay: 3300}.Solve()
		_, _ = proof.SharedRate{Products: products, Basis: proof.ShareOfOutput}.Solve()
		_, _ = proof.Equivalent{History: history, Reference: unit.Celsius(25), Model: proof.ModelQ10, Value: 2, Origin: proof.OriginAssumed}.Solve()
		_, _ = proof.TemperatureForProof{Reference: unit.Celsius(25), Known: 3600, Wanted: 3000, Model: proof.ModelArrhenius, Value: 55, Origin: proof.OriginAssumed}.Solve()
		_, _ = proof.Q10ForProof{Cool: proof.Trial{unit.Celsius(25), 3600}, Warm: proof.Trial{unit.Celsius(30), 2500}}.Solve()
		_, _ = proof.SaturationPressure{Temp: unit.Celsius(38)}.Solve()
		_, _ = proof.TemperatureForSaturation{Pressure: 5}.Solve()
		_, _ = proof.Air{Dry: unit.Celsius(38), Humidity: 85, Pressure: 101.325}.Solve()
		_, _ = surfaceInput().Solve()
		_, _ = proof.WarmingForSurface{Air: unit.Celsius(40), Start: unit.Celsius(27), After: unit.Celsius(34), Time: 1800}.Solve()
		_, _ = proof.HumidityForSurface{Air: unit.Celsius(38), Dough: unit.Celsius(33), Activity: 0.97, Origin: proof.OriginAssumed}.Solve()
		_, _ = sweatInput().Solve()
		_, _ = proof.ShareForSweatWater{Piece: 500, SpecificHeat: 2.8, Start: unit.Celsius(27), Until: unit.Celsius(33), Latent: 2420, Gain: 1}.Solve()
	}))
}

func FuzzFinalProof(f *testing.F) {
	f.Add(48.0, 3300.0, 600.0, 240, 2400, 300.0, 14, 26.0, 22.0, 2.2, true)
	f.Fuzz(func(t *testing.T, rate, stay, handling float64, per, batch int, gap float64, available int, warm, cool, value float64, q10 bool) {
		for _, h := range []proof.Holder{proof.HolderRack, proof.HolderContinuous} {
			if out, err := (proof.FinalProofLoad{
				Rate: unit.PieceRate(rate), Stay: unit.Duration(stay), Handling: unit.Duration(handling), Holder: h, PerHolder: per, Batch: batch, Gap: unit.Duration(gap),
			}).Solve(); err == nil {
				finite(t, float64(out.MeanRate), out.Mean, float64(out.Fill), float64(out.Spread))
				if out.Needed < 1 || out.InProof > out.Needed {
					t.Fatalf("%+v", out)
				}
			}
			if out, err := (proof.RateForFinalProofLoad{Available: available, PerHolder: per, Holder: h, Stay: unit.Duration(stay), Handling: unit.Duration(handling), Batch: batch, Gap: unit.Duration(gap)}).Solve(); err == nil {
				finite(t, float64(out.Rate))
				if !(out.Rate > 0) {
					t.Fatalf("%+v", out)
				}
			}
		}
		m := proof.ModelArrhenius
		if q10 {
			m = proof.ModelQ10
		}
		w, c := proof.Stage{unit.Celsius(warm), unit.Duration(stay)}, proof.Stage{unit.Celsius(cool), unit.Duration(handling)}
		if out, err := (proof.Equivalent{History: []proof.Stage{w, c}, Reference: c.Temp, Model: m, Value: value, Origin: proof.OriginAssumed}).Solve(); err == nil {
			finite(t, float64(out.Equivalent), float64(out.Shortest), float64(out.Longest))
		}
		if out, err := (proof.TemperatureForProof{Reference: w.Temp, Known: w.Time, Wanted: c.Time, Model: m, Value: value, Origin: proof.OriginAssumed}).Solve(); err == nil {
			finite(t, out.Temp.Celsius())
		}
		if out, err := (proof.Q10ForProof{Cool: proof.Trial(c), Warm: proof.Trial(w)}).Solve(); err == nil {
			finite(t, out.Q10, out.Activation, float64(out.PerDegree))
		}
	})
}

func BenchmarkFinalProofLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.FinalProofLoad{Rate: 48, Stay: 3300, Holder: proof.HolderRack, PerHolder: 240, Batch: 2400, Gap: 300}.Solve()
	}
}

func BenchmarkEquivalent(b *testing.B) {
	history := []proof.Stage{{unit.Celsius(28), unit.Minutes(40)}}
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.Equivalent{History: history, Reference: unit.Celsius(25), Model: proof.ModelQ10, Value: 2, Origin: proof.OriginAssumed}.Solve()
	}
}
