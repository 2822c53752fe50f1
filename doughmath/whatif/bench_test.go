package whatif

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
)

func water() doughmath.WaterTemperature {
	return doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Friction: unit.CelsiusDegrees(14), Basis: doughmath.FrictionOnce,
	}
}

// smallStudy varies two inputs of a small calculation.
func smallStudy() Study {
	return Study{
		Subject: Of(water()),
		Vary: []Factor{
			{Path: "room", From: "15 °C", To: "30 °C", Count: 100},
			{Path: "flour_temp", From: "15 °C", To: "25 °C", Count: 100},
		},
		Outputs: []Output{{Path: "water_temp"}, {Path: "base"}},
	}
}

// planStudy varies five inputs of a full line plan.
func planStudy(t testing.TB) Study {
	day := demo(t)
	return Study{
		Subject: Of(line.Plan{Line: day.Line, Order: day.Orders[0], Shift: day.Shift}),
		Vary: []Factor{
			{Path: "shift.tap", From: "8 °C", To: "20 °C", Count: 10},
			{Path: "shift.flour_temp", From: "18 °C", To: "24 °C", Count: 10},
			{Path: "order.product.baked", From: "44 g", To: "50 g", Count: 5},
			{Path: "order.pieces", From: "5000", To: "7000", Count: 5},
			{Path: "order.product.dwell_low", From: "5 min", To: "6 min", Count: 4},
		},
		Outputs: []Output{{Path: "water_temp"}, {Path: "target"}, {Path: "strokes"}, {Path: "batch.batches"}, {Path: "dwell.dwell"}},
	}
}

// tempStudy varies two temperatures of the same plan.
func tempStudy(t testing.TB) Study {
	s := planStudy(t)
	s.Vary = []Factor{
		{Path: "shift.tap", From: "8 °C", To: "20 °C", Count: 100}, {Path: "shift.flour_temp", From: "18 °C", To: "24 °C", Count: 100},
	}
	s.Outputs = []Output{{Path: "water_temp"}, {Path: "ice_to_weigh"}, {Path: "hot_to_weigh"}, {Path: "water_to_weigh"}, {Path: "mix.hot_share"}}
	return s
}

var sink float64

// finer cuts the first two ranges of a study finer, so that it has more scenarios: what a study
// costs before its first scenario is then little beside them.
func finer(s Study, times int) Study {
	s.Vary[0].Count *= times
	s.Vary[1].Count *= times
	return s
}

// A whole study of a quarter of a million to a million scenarios an iteration: the time of one
// scenario is reported beside it.
func BenchmarkRows(b *testing.B) {
	for _, bench := range []struct {
		name  string
		study Study
	}{{"small", finer(smallStudy(), 10)}, {"plan", finer(planStudy(b), 5)}, {"temperatures", finer(tempStudy(b), 10)}} {
		c, err := bench.study.Compile()
		require.NoError(b, err)
		for _, o := range []Options{{Workers: 1}, {Workers: 2}, {Workers: 1, ValuesOnly: true}, {Workers: 2, ValuesOnly: true}} {
			name := fmt.Sprintf("%s/%d", bench.name, o.Workers)
			if o.ValuesOnly {
				name += "/values"
			}
			b.Run(name, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					for r, err := range c.Rows(context.Background(), o) {
						if err != nil {
							b.Fatal(err)
						}
						sink += r.Values[len(r.Values)-1]
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*c.Size()), "ns/scenario")
			})
		}
	}
}
