package proof_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
	"example.com/dough/testdata"
)

// stays hands out carriers along a line, one after the other, and takes each back
// as soon as it is free again. Times are whole numbers: a piece takes 60 of
// them and a second takes rate, so that nothing is rounded. It returns how many
// carriers had to be there, and the most that were in the final proof at once.
func stays(rate, per, batch, gap, stay, handling int, h proof.Carrier) (needed, inProof int) {
	cycle := 60*batch + rate*gap
	var back, in, out []int // when carriers come back, go in and come out, in order
	free := 0
	for n := 0; n <= (stay+handling)*rate/cycle+2*per/batch+6; n++ {
		for done := 0; done < batch; done += per {
			start := n*cycle + 60*done
			enters := start
			if h != proof.CarrierContinuous {
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
	carriers := []proof.Carrier{proof.CarrierRack, proof.CarrierBox, proof.CarrierContinuous}
	for i := range 20_000 {
		// Small numbers meet each other often, large ones are those of a line.
		rate, per, batch, gap, stay, handling := 1+r.IntN(120), 1+r.IntN(20), 1+r.IntN(80), r.IntN(60), 1+r.IntN(300), r.IntN(60)
		if i%2 == 0 {
			rate, per, batch = 20+r.IntN(101), 12*(1+r.IntN(20)), 200+r.IntN(1800)
			gap, stay, handling = 60*r.IntN(10)+15*r.IntN(2), 60*(10+r.IntN(70)), 60*r.IntN(15)
		}
		in := proof.FinalProofLoad{
			PieceRate: unit.PieceRate(rate), PerCarrier: per, Stay: unit.Duration(stay), Handling: unit.Duration(handling), Carrier: carriers[r.IntN(3)],
		}
		if r.IntN(4) == 0 {
			batch, gap = per, 0 // a steady line
		} else {
			in.BatchPieces, in.Wait = batch, unit.Duration(gap)
		}
		out, err := in.Solve()
		require.NoError(t, err)
		needed, inProof := stays(rate, per, batch, gap, stay, handling, in.Carrier)
		require.Equal(t, needed, out.Needed, "%+v", in)
		require.Equal(t, inProof, out.InProof, "%+v", in)
		if batch%per != 0 && gap*rate < 60*(per-batch%per) {
			early++
		}
	}
	require.Greater(t, early, 1000, "part-filled carriers that are followed early are among them")
}

// Part-filled carriers are followed by the next batch's first before their time.
func TestFinalProofLoadOfPartFilledCarriers(t *testing.T) {
	carrier := proof.FinalProofLoad{PieceRate: 60, Stay: 30, Carrier: proof.CarrierContinuous, PerCarrier: 60, BatchPieces: 61}
	out, err := carrier.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, out.Needed) // loaded from 60 s and from 61 s, each for 30 s
	racks := proof.FinalProofLoad{PieceRate: 40, Stay: unit.Minutes(45), Carrier: proof.CarrierRack, PerCarrier: 120, Handling: unit.Minutes(10), BatchPieces: 1011, Wait: unit.Minutes(1)}
	out, err = racks.Solve()
	require.NoError(t, err)
	assert.Equal(t, 21, out.Needed)
	// A minute's stay at the slowest rate still takes a carrier, however little of it.
	out, err = proof.FinalProofLoad{PieceRate: 1.0 / 1440, Stay: 1, Carrier: proof.CarrierContinuous, PerCarrier: 1_000_000}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 1, out.Needed)
	assert.Equal(t, 1, out.InProof)
}

func TestFinalProofLoadAndRateOfBatchesGoThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	enough := 0
	for range 20_000 {
		in := proof.RateForFinalProofLoad{
			Available: 2 + r.IntN(60), PerCarrier: 1 + r.IntN(300), Stay: unit.Minutes(1 + 90*r.Float64()), Handling: unit.Minutes(10 * r.Float64()),
			Carrier:     []proof.Carrier{proof.CarrierRack, proof.CarrierBox, proof.CarrierContinuous}[r.IntN(3)],
			BatchPieces: 1 + r.IntN(3000), Wait: unit.Duration(r.IntN(900)),
		}
		rate, err := in.Solve()
		if err != nil {
			require.Equal(t, []string{"available"}, fields(err))
			enough++
			continue
		}
		load := proof.FinalProofLoad{
			PieceRate: rate.PieceRate, Stay: in.Stay, Handling: in.Handling, Carrier: in.Carrier, PerCarrier: in.PerCarrier, BatchPieces: in.BatchPieces, Wait: in.Wait, Available: in.Available,
		}
		out, err := load.Solve()
		require.NoError(t, err)
		require.Equal(t, in.Available, out.Needed, "%+v", in)
		require.False(t, out.Conditions.Has(proof.Overloaded))
		load.PieceRate *= 1.00001
		if load.PieceRate > 100_000 {
			continue
		}
		out, err = load.Solve()
		require.NoError(t, err)
		require.Greater(t, out.Needed, in.Available, "%+v", in)
	}
	assert.Positive(t, enough, "long gaps, in which every carrier comes back, are among them")
	assert.Less(t, enough, 10_000)
	// The working is that of the answer, with and without a part-filled carrier.
	for _, batch := range []int{0, 120, 1011} {
		in := proof.RateForFinalProofLoad{Available: 21, PerCarrier: 120, Carrier: proof.CarrierRack, Stay: unit.Minutes(45), Handling: unit.Minutes(10), BatchPieces: batch, Piece: 85}
		rate, w, err := reckon.Explain(in)
		require.NoError(t, err)
		assert.Equal(t, float64(rate.PieceRate), w.Steps[len(w.Steps)-2].Value)
		assert.Equal(t, float64(rate.MassRate), w.Steps[len(w.Steps)-1].Value)
	}
}

// Two racks of one piece, each proofed over two waits of 10 min and half a second besides: while the one proofs, the
// other has its piece in that half second.
func TestRateForFinalProofLoadBetweenWaits(t *testing.T) {
	in := proof.RateForFinalProofLoad{
		Available: 2, PerCarrier: 1, Carrier: proof.CarrierRack, Stay: unit.Minutes(20) + 0.5, BatchPieces: 1, Wait: unit.Minutes(10),
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 120, float64(out.PieceRate), 1e-9) // a piece in 0.5 s
	in.Stay = unit.Minutes(20) + 0.01
	out, err = in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 6000, float64(out.PieceRate), 1e-3) // a piece in 0.01 s
}

func TestFinalProofLoadAndRateGoThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for range 1000 {
		in := proof.RateForFinalProofLoad{
			Available: 2 + r.IntN(60), PerCarrier: 1 + r.IntN(300), Stay: unit.Minutes(1 + 90*r.Float64()), Handling: unit.Minutes(10 * r.Float64()),
			Carrier: []proof.Carrier{proof.CarrierRack, proof.CarrierBox, proof.CarrierContinuous}[r.IntN(3)],
		}
		rate, err := in.Solve()
		require.NoError(t, err)
		load := proof.FinalProofLoad{PieceRate: rate.PieceRate, Stay: in.Stay, Handling: in.Handling, Carrier: in.Carrier, PerCarrier: in.PerCarrier, Available: in.Available}
		out, err := load.Solve()
		require.NoError(t, err)
		require.Equal(t, in.Available, out.Needed)
		assert.False(t, out.Conditions.Has(proof.Overloaded))
		load.PieceRate *= 1.001 // a little faster, and one carrier is missing
		out, err = load.Solve()
		require.NoError(t, err)
		require.Equal(t, in.Available+1, out.Needed)
		assert.True(t, out.Conditions.Has(proof.Overloaded))
	}
}

func TestFinalProofLoadRefuses(t *testing.T) {
	_, err := proof.FinalProofLoad{PieceRate: 0, Carrier: "shelf", Handling: -1, Wait: 5, Available: -1}.Solve()
	assert.Equal(t, []string{"piece_rate", "stay", "carrier", "per_carrier", "handling", "wait", "available"}, fields(err))
	_, err = proof.FinalProofLoad{PieceRate: 1, Stay: 60, Carrier: proof.CarrierBox, PerCarrier: 1, BatchPieces: -1, Wait: -1}.Solve()
	assert.Equal(t, []string{"batch_pieces", "wait"}, fields(err))
	_, err = proof.RateForFinalProofLoad{Available: 1, PerCarrier: 1, Carrier: proof.CarrierRack, Stay: 60, Piece: -1}.Solve()
	assert.Equal(t, []string{"available", "piece"}, fields(err))
	_, err = proof.RateForFinalProofLoad{Available: 2, PerCarrier: 1, Carrier: proof.CarrierRack, Stay: 60, Wait: 1}.Solve()
	assert.Equal(t, []string{"wait"}, fields(err))
	// The wait is longer than a rack is away, and a rack takes a batch.
	_, err = proof.RateForFinalProofLoad{Available: 2, PerCarrier: 10, Carrier: proof.CarrierRack, Stay: 60, BatchPieces: 10, Wait: 70}.Solve()
	require.Error(t, err)
	assert.Equal(t, "rate-for-final-proof-load: available is 2: want fewer: so many are enough for any rate up to 100000 pieces/min", err.Error())
	_, err = proof.SharedRate{}.Solve()
	assert.Equal(t, []string{"basis", "products"}, fields(err))
	_, err = proof.SharedRate{Basis: proof.ShareOfTime, Products: []proof.ProductShare{{101, 0}}}.Solve()
	assert.Equal(t, []string{"products[0].share", "products[0].mass_rate"}, fields(err))
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
	assert.InDelta(t, 1000/(7.0/9+1), float64(output.MassRate), 1e-9)
	assert.InDelta(t, 720, float64(hours.MassRate), 1e-9)
}

func TestEquivalentRange(t *testing.T) {
	in := proof.Equivalent{
		History: []proof.Stage{{Temp: unit.Celsius(28), Time: unit.Minutes(40)}}, Reference: unit.Celsius(25),
		Model: proof.ModelQ10, ModelValue: 2.2, Low: 1.8, High: 2.6, Origin: proof.OriginAssumed,
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Less(t, out.Shortest, out.Equivalent)
	assert.Less(t, out.Equivalent, out.Longest)
	assert.Equal(t, proof.Conditions(reckon.Uncalibrated), out.Conditions)
	// At the reference temperature time is time, whatever the model.
	in.History[0].Temp = in.Reference
	for _, m := range []proof.RateModel{proof.ModelQ10, proof.ModelArrhenius} {
		in.Model, in.ModelValue, in.Low, in.High = m, 5, 0, 0
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
		one, err := proof.Equivalent{History: []proof.Stage{{Temp: temp, Time: known}}, Reference: ref, Model: m, ModelValue: value, Origin: proof.OriginMeasured}.Solve()
		require.NoError(t, err)
		wanted := known * known / one.Equivalent
		back, err := proof.TemperatureForProof{Reference: ref, KnownTime: known, WantedTime: wanted, Model: m, ModelValue: value, Origin: proof.OriginMeasured}.Solve()
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

// A slope counts as the many short stretches that it is made of, in either
// direction, and a slope of nothing as a level.
func TestEquivalentOfASlope(t *testing.T) {
	r := rand.New(rand.NewPCG(55, 56))
	for range 50 {
		m, value := proof.ModelQ10, 1.2+2*r.Float64()
		if r.IntN(2) == 0 {
			m, value = proof.ModelArrhenius, 20+80*r.Float64()
		}
		from, to := 20+10*r.Float64(), 20+10*r.Float64()
		in := proof.Equivalent{Reference: unit.Celsius(26), Model: m, ModelValue: value, Low: value * 0.9, High: value * 1.1, Origin: proof.OriginMeasured}
		in.History = []proof.Stage{{Temp: unit.Celsius(from), End: unit.Celsius(to), Time: 3600}}
		slope, err := in.Solve()
		require.NoError(t, err)
		require.True(t, shows(t, in))
		in.History = nil
		for i := range 1000 {
			in.History = append(in.History, proof.Stage{Temp: unit.Celsius(from + (to-from)*(float64(i)+0.5)/1000), Time: 3.6})
		}
		cut, err := in.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(cut.Equivalent), float64(slope.Equivalent), 1e-6)
		require.InEpsilon(t, float64(cut.Shortest), float64(slope.Shortest), 1e-6)
		require.InEpsilon(t, float64(cut.Longest), float64(slope.Longest), 1e-6)
		in.History = []proof.Stage{{Temp: unit.Celsius(from), Time: 3600}}
		level, err := in.Solve()
		require.NoError(t, err)
		in.History[0].End = in.History[0].Temp
		flat, err := in.Solve()
		require.NoError(t, err)
		require.Equal(t, level, flat)
	}
	in := proof.Equivalent{
		History: []proof.Stage{{Temp: unit.Celsius(25), End: unit.Celsius(33), Time: 60}}, Reference: unit.Celsius(26), Model: proof.ModelQ10, ModelValue: 2, Origin: proof.OriginMeasured,
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(reckon.OutsideSource), "it ends where no source speaks")
	in.History[0].End = unit.Celsius(51)
	_, err = in.Solve()
	assert.Equal(t, []string{"history[0].end_temp"}, fields(err))
}

func TestEquivalentRefuses(t *testing.T) {
	_, err := proof.Equivalent{}.Solve()
	assert.Equal(t, []string{"history", "reference", "model", "origin"}, fields(err))
	_, err = proof.Equivalent{
		History: []proof.Stage{{Temp: unit.Celsius(60), Time: -1}}, Reference: unit.Celsius(20), Model: proof.ModelQ10, ModelValue: 2, Low: 2.1, High: 6, Origin: proof.OriginAssumed,
	}.Solve()
	assert.Equal(t, []string{"history[0].temp", "history[0].time", "high", "low"}, fields(err))
	_, err = proof.TemperatureForProof{Reference: unit.Celsius(25), KnownTime: 6000, WantedTime: 60, Model: proof.ModelArrhenius, ModelValue: 5, Origin: proof.OriginAssumed}.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Contains(t, err.Error(), "it can reach")
	_, err = proof.TemperatureForProof{Reference: unit.Celsius(25), KnownTime: 60, WantedTime: 600000, Model: proof.ModelQ10, ModelValue: 2, Origin: proof.OriginAssumed}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = proof.Q10ForProof{Cool: proof.Trial{unit.Celsius(25), 60}, Warm: proof.Trial{unit.Celsius(26), 0}}.Solve()
	assert.Equal(t, []string{"warm.time", "warm.temp"}, fields(err))
	_, err = proof.Q10ForProof{Cool: proof.Trial{unit.Celsius(25), 60}, Warm: proof.Trial{unit.Celsius(30), 70}}.Solve()
	assert.Equal(t, []string{"warm.time"}, fields(err))
}

func TestFinalProofAllocatesNothing(t *testing.T) {
	history := []proof.Stage{{Temp: unit.Celsius(28), Time: unit.Minutes(40)}}
	products := []proof.ProductShare{{70, 900}, {30, 300}}
	chain := chainOf(56, 48)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = proof.FinalProofLoad{PieceRate: 48, Stay: 3300, Carrier: proof.CarrierRack, PerCarrier: 240, BatchPieces: 2400, Wait: 300}.Solve()
		_, _ = proof.FinalProofLoad{PieceRate: 40, Stay: 2700, Carrier: proof.CarrierRack, PerCarrier: 120, BatchPieces: 1011, Wait: 60}.Solve()
		_, _ = proof.RateForFinalProofLoad{Available: 21, PerCarrier: 120, Carrier: proof.CarrierRack, Stay: 2700, BatchPieces: 1011, Wait: 60}.Solve()
		_, _ = proof.RateForFinalProofLoad{Available: 14, PerCarrier: 240, Carrier: proof.CarrierRack, Stay: 3300}.Solve()
		_, _ = proof.SharedRate{Products: products, Basis: proof.ShareOfOutput}.Solve()
		_, _ = proof.Equivalent{History: history, Reference: unit.Celsius(25), Model: proof.ModelQ10, ModelValue: 2, Origin: proof.OriginAssumed}.Solve()
		_, _ = proof.TemperatureForProof{Reference: unit.Celsius(25), KnownTime: 3600, WantedTime: 3000, Model: proof.ModelArrhenius, ModelValue: 55, Origin: proof.OriginAssumed}.Solve()
		_, _ = proof.LineCapacity{Machines: chain, Shift: 28800}.Solve()
		_, _ = proof.ShiftForLineCapacity{Machines: chain, Pieces: 5000}.Solve()
		_, _ = proof.PocketFit{Pocket: proof.Pocket{Width: 150, Gap: 2}, Piece: 900, Density: 1.05, Growth: 1.2, Flatness: 1.1}.Solve()
		_, _ = proof.PieceForPocket{Pocket: proof.Pocket{Width: 150, Gap: 2}, Density: 1.05, Growth: 1.2, Flatness: 1.1}.Solve()
		_, _ = proof.AirPressure{Altitude: unit.Metres(1200)}.Solve()
		_, _ = proof.AltitudeForAirPressure{Pressure: 88}.Solve()
		_, _ = proof.Q10ForProof{Cool: proof.Trial{unit.Celsius(25), 3600}, Warm: proof.Trial{unit.Celsius(30), 2500}}.Solve()
		_, _ = proof.SaturationPressure{Temp: unit.Celsius(38)}.Solve()
		_, _ = proof.TemperatureForSaturation{Pressure: 5}.Solve()
		_, _ = proof.Air{DryBulb: unit.Celsius(38), Humidity: 85, Pressure: 101.325}.Solve()
		_, _ = surfaceInput().Solve()
		_, _ = proof.WarmingForSurface{AirTemp: unit.Celsius(40), StartTemp: unit.Celsius(27), AfterTemp: unit.Celsius(34), Time: 1800}.Solve()
		_, _ = proof.HumidityForSurface{AirTemp: unit.Celsius(38), DoughTemp: unit.Celsius(33), Activity: 0.97, Origin: proof.OriginAssumed}.Solve()
		_, _ = sweatInput().Solve()
		_, _ = proof.ShareForSweatWater{Piece: 500, SpecificHeat: 2.8, StartTemp: unit.Celsius(27), UntilTemp: unit.Celsius(33), Latent: 2420, WeightGain: 1}.Solve()
	}))
}

func FuzzFinalProof(f *testing.F) {
	f.Add(48.0, 3300.0, 600.0, 240, 2400, 300.0, 14, 26.0, 22.0, 2.2, true)
	f.Fuzz(func(t *testing.T, rate, stay, handling float64, per, batch int, gap float64, available int, warm, cool, value float64, q10 bool) {
		for _, h := range []proof.Carrier{proof.CarrierRack, proof.CarrierContinuous} {
			if out, err := (proof.FinalProofLoad{
				PieceRate: unit.PieceRate(rate), Stay: unit.Duration(stay), Handling: unit.Duration(handling), Carrier: h, PerCarrier: per, BatchPieces: batch, Wait: unit.Duration(gap),
			}).Solve(); err == nil {
				finite(t, float64(out.MeanRate), out.MeanInside, float64(out.FillTime), float64(out.StayDifference))
				if out.Needed < 1 || out.InProof > out.Needed {
					t.Fatalf("%+v", out)
				}
			}
			if out, err := (proof.RateForFinalProofLoad{Available: available, PerCarrier: per, Carrier: h, Stay: unit.Duration(stay), Handling: unit.Duration(handling), BatchPieces: batch, Wait: unit.Duration(gap)}).Solve(); err == nil {
				finite(t, float64(out.PieceRate))
				if !(out.PieceRate > 0) {
					t.Fatalf("%+v", out)
				}
			}
		}
		m := proof.ModelArrhenius
		if q10 {
			m = proof.ModelQ10
		}
		w, c := proof.Stage{Temp: unit.Celsius(warm), Time: unit.Duration(stay)}, proof.Stage{Temp: unit.Celsius(cool), Time: unit.Duration(handling)}
		if out, err := (proof.Equivalent{History: []proof.Stage{w, c}, Reference: c.Temp, Model: m, ModelValue: value, Origin: proof.OriginAssumed}).Solve(); err == nil {
			finite(t, float64(out.Equivalent), float64(out.Shortest), float64(out.Longest))
		}
		if out, err := (proof.TemperatureForProof{Reference: w.Temp, KnownTime: w.Time, WantedTime: c.Time, Model: m, ModelValue: value, Origin: proof.OriginAssumed}).Solve(); err == nil {
			finite(t, out.Temp.Celsius())
		}
		if out, err := (proof.Q10ForProof{Cool: proof.Trial{c.Temp, c.Time}, Warm: proof.Trial{w.Temp, w.Time}}).Solve(); err == nil {
			finite(t, out.Q10, out.Activation, float64(out.PerDegree))
		}
	})
}

func BenchmarkFinalProofLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.FinalProofLoad{PieceRate: 48, Stay: 3300, Carrier: proof.CarrierRack, PerCarrier: 240, BatchPieces: 2400, Wait: 300}.Solve()
	}
}

func BenchmarkEquivalent(b *testing.B) {
	history := []proof.Stage{{Temp: unit.Celsius(28), Time: unit.Minutes(40)}}
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.Equivalent{History: history, Reference: unit.Celsius(25), Model: proof.ModelQ10, ModelValue: 2, Origin: proof.OriginAssumed}.Solve()
	}
}

// In a time of whole cycles as many carriers start as whole cycles start, wherever it begins, and the working says so.
func TestFinalProofLoadOfWholeCycles(t *testing.T) {
	q := proof.FinalProofLoad{
		PieceRate: 48, Carrier: proof.CarrierContinuous, PerCarrier: 386, BatchPieces: 2400, Wait: unit.Minutes(6),
		Stay: unit.Duration(180 * 56 * 60), // a batch takes 50 min, and waits for 6 min
	}
	out, w, err := reckon.Explain(q)
	require.NoError(t, err)
	assert.Equal(t, 180*7, out.InProof)
	assert.Equal(t, 180*7, out.Needed)
	assert.NoError(t, testdata.Retrace(w, 1e-9))
}
