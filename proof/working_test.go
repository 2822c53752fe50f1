package proof_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
	"example.com/dough/testdata"
)

// shows solves q, evaluates every step of its working again, and finds every
// number of the answer in it. It reports whether q has an answer.
func shows[R any](t *testing.T, q reckon.Calculation[R]) bool {
	t.Helper()
	out, w, err := reckon.Explain(q)
	if err != nil {
		return false
	}
	require.NoError(t, testdata.Retrace(w, 1e-9), "%+v", q)
	known, worked, given := map[string]float64{}, map[string]bool{}, false
	for _, s := range w.Steps {
		given = given || s.Kind == reckon.InputStep
		if s.Kind == reckon.WorkedStep {
			require.False(t, worked[s.Symbol], "%s is worked out twice in the working of %+v", s.Symbol, q)
			worked[s.Symbol] = true
		}
		known[s.Symbol] = s.Value
	}
	require.True(t, given, "the working of %+v says nothing of what was given", q)
	var answer reckon.Working
	answer.Inputs(out)
	require.NotEmpty(t, answer.Steps)
	for _, a := range answer.Steps {
		v, ok := known[a.Symbol]
		require.True(t, ok || a.Value == 0, "%s (%s) is not in the working of %+v", a.Symbol, a.ID, q)
		if ok {
			require.Equal(t, a.Value, v, "%s (%s) of %+v", a.Symbol, a.ID, q)
		}
	}
	return true
}

// The working is that of the answer whatever branch it takes: part passes,
// single passes, batches, ice, and surfaces that never cross a level.
func TestWorkingOfEveryBranch(t *testing.T) {
	r := rand.New(rand.NewPCG(37, 38))
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	strokes := func() unit.StrokeRate { return unit.StrokeRate(between(1, 60)) }
	carriers := []proof.Carrier{proof.CarrierRack, proof.CarrierBox, proof.CarrierContinuous}
	answers := map[string]int{}
	count := func(id string, answered bool) {
		if answered {
			answers[id]++
		}
	}
	for range 200 {
		p, across := randomProofer(r)
		speed := proof.Speed{Proofer: p, Across: across, DwellLow: 10, DwellHigh: 20_000}
		for range r.IntN(3) {
			speed.Limits = append(speed.Limits, proof.StrokeLimit{Name: "stamper: [x]  #", Low: unit.StrokeRate(between(0, 10)), High: strokes() + 10})
		}
		for range r.IntN(3) {
			speed.Rates = append(speed.Rates, proof.RateLimit{Name: "oven", Low: unit.PieceRate(between(0, 10)), High: unit.PieceRate(between(20, 500))})
		}
		load, next := randomPattern(r, p.Pockets)
		count("dwell", shows(t, proof.Dwell{Proofer: p, Across: across, Strokes: strokes()}))
		count("strokes", shows(t, proof.StrokesForDwell{Proofer: p, Across: across, Dwell: unit.Duration(between(1, 9000))}))
		count("speed", shows(t, speed))
		count("clear", shows(t, proof.Clear{Proofer: p, Across: across, Strokes: strokes(), Pieces: 1 + r.IntN(9000), NextAcross: across * r.IntN(2)}))
		count("trade-off", shows(t, proof.Tradeoff{Speed: speed, Across: []int{across, p.Pockets, 1}[:1+r.IntN(3)], Steps: 1 + r.IntN(4)}))
		count("change", shows(t, proof.SpeedChange{
			Proofer: p, Across: across, StrokesBefore: strokes(), StrokesAfter: strokes(), Pause: unit.Duration(r.IntN(2) * 90), DwellLow: 60, DwellHigh: 2000,
		}))
		count("lanes", shows(t, proof.Lanes{Proofer: p, Load: load, Next: next, Strokes: strokes()}))
		count("run", shows(t, proof.Run{Proofer: p, Across: across, Strokes: strokes(), Pieces: 1 + r.IntN(900)}))
	}
	for range 500 {
		load := proof.FinalProofLoad{
			PieceRate: unit.PieceRate(1 + r.IntN(60)), Stay: unit.Duration(60 + r.IntN(4000)), Carrier: carriers[r.IntN(3)], PerCarrier: 1 + r.IntN(300), Handling: unit.Duration(r.IntN(600)),
		}
		room := proof.RateForFinalProofLoad{
			Available: 1 + r.IntN(40), PerCarrier: load.PerCarrier, Carrier: load.Carrier, Stay: load.Stay, Handling: load.Handling, Piece: unit.Mass(r.IntN(2) * 85),
		}
		if r.IntN(3) > 0 {
			load.BatchPieces, load.Wait = 1+r.IntN(3000), unit.Duration(r.IntN(3)*200)
			room.BatchPieces, room.Wait = load.BatchPieces, load.Wait
		}
		count("load", shows(t, load))
		count("room", shows(t, room))

		temp := func(low, high float64) unit.Temp { return unit.Celsius(between(low, high)) }
		share := unit.Percent(between(1, 99))
		count("shared", shows(t, proof.SharedRate{
			Basis:    []proof.ShareBasis{proof.ShareOfOutput, proof.ShareOfTime}[r.IntN(2)],
			Products: []proof.ProductShare{{share, unit.MassRate(between(1, 900))}, {100 - share, unit.MassRate(between(1, 900))}},
		}))
		same := proof.Equivalent{
			History: []proof.Stage{{Temp: temp(15, 35), Time: 900, End: temp(15, 35)}, {Temp: temp(15, 35), Time: 1800}}, Reference: temp(15, 35), Model: proof.ModelQ10, ModelValue: between(1.6, 2.4), Origin: proof.OriginAssumed,
		}
		back := proof.TemperatureForProof{Reference: temp(15, 35), KnownTime: 3600, WantedTime: unit.Duration(between(1800, 7200)), Model: same.Model, ModelValue: same.ModelValue, Origin: proof.OriginAssumed}
		scale := 1.0
		if r.IntN(2) == 0 {
			scale = 30
			same.Model, same.ModelValue = proof.ModelArrhenius, scale*same.ModelValue
			back.Model, back.ModelValue = same.Model, same.ModelValue
		}
		if r.IntN(2) == 0 {
			same.Low, same.High = scale*1.5, scale*2.5
		}
		count("equivalent", shows(t, same))
		count("temperature", shows(t, back))
		count("q10", shows(t, proof.Q10ForProof{Cool: proof.Trial{temp(18, 24), 3600}, Warm: proof.Trial{temp(26, 32), unit.Duration(between(1200, 3000))}}))

		air := proof.Air{DryBulb: temp(0, 60), Pressure: 101.325}
		switch r.IntN(3) {
		case 0:
			air.Humidity = unit.Percent(between(10, 100))
		case 1:
			air.WetBulb = air.DryBulb.Add(-unit.TempDelta(between(0, 6)))
		case 2:
			air.DewPoint = air.DryBulb.Add(-unit.TempDelta(between(0, 20)))
		}
		count("saturation", shows(t, proof.SaturationPressure{Temp: temp(-50, 120)}))
		count("dew point", shows(t, proof.TemperatureForSaturation{Pressure: unit.Pressure(between(0.01, 100))}))
		count("air", shows(t, air))
		count("surface", shows(t, proof.Surface{
			Air: air, DoughTemp: temp(5, 45), Activity: between(0.8, 1), Warming: unit.Duration(between(100, 3000)), Origin: proof.OriginMeasured, Time: unit.Duration(between(60, 7200)),
		}))
		count("warming", shows(t, proof.WarmingForSurface{AirTemp: unit.Celsius(40), StartTemp: temp(20, 28), AfterTemp: temp(29, 39), Time: 1800}))
		count("humidity", shows(t, proof.HumidityForSurface{AirTemp: temp(0, 60), DoughTemp: temp(0, 40), Activity: between(0.8, 1), Origin: proof.OriginMeasured}))

		sweat := sweatInput()
		sweat.Share = unit.Percent(between(0, 100))
		if r.IntN(2) == 0 {
			sweat.Uptake, sweat.Dusted = 0, 0
		}
		count("sweat", shows(t, sweat))
		count("share", shows(t, proof.ShareForSweatWater{Piece: 500, SpecificHeat: 2.8, StartTemp: temp(20, 26), UntilTemp: temp(28, 40), Latent: 2420, WeightGain: unit.Mass(between(0, 1))}))
	}
	require.Len(t, answers, 22, "every calculation is among them")
	for id, n := range answers {
		require.Greater(t, n, 60, id)
	}
}
