package whatif

import (
	"context"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// planSpread is five tolerances on the day's first plan.
func planSpread(t testing.TB) Spread {
	return Spread{Study: Study{Subject: OfScenario(demo(t)), Samples: 8192, Vary: []Factor{
		{Path: "shift.flour_temp", Distribution: Distribution{Shape: Uniform, HalfWidth: "1 C°"}},
		{Path: "shift.room", Distribution: Distribution{Shape: Normal, SD: "0.5 C°"}},
		{Path: "shift.tap", Distribution: Distribution{Shape: Triangular, HalfWidth: "1 C°"}},
		{Path: "orders[Star bun].product.friction", Distribution: Distribution{Shape: Normal, SD: "0.8 C°"}},
		{Path: "orders[Star bun].product.baked", Distribution: Distribution{Shape: Normal, SD: "0.1 g"}},
	}, Outputs: []Output{{Path: "orders[Star bun].water_temp"}, {Path: "orders[Star bun].target"}}}, Points: 64}
}

// A whole plan's spread: 8192 trials and 16 times 64 points of 7 plans for the indices.
func BenchmarkSpreadOfAPlan(b *testing.B) {
	s := planSpread(b)
	b.ReportAllocs()
	var solved int
	for b.Loop() {
		got, err := s.Run(context.Background(), Options{})
		require.NoError(b, err)
		solved = got.Trials + indexReplicates*64*7
	}
	b.ReportMetric(float64(solved)*float64(b.N)/b.Elapsed().Seconds(), "plans/s")
}

func BenchmarkSeek(b *testing.B) {
	s := Seek{Study: waterStudy(Factor{Path: "flour_temp"}), Value: "4 °C"}
	b.ReportAllocs()
	var solved int
	for b.Loop() {
		got, err := s.Run(context.Background())
		require.NoError(b, err)
		solved = got.Solved
	}
	b.ReportMetric(float64(solved)*float64(b.N)/b.Elapsed().Seconds(), "scenarios/s")
}

func BenchmarkQuantile(b *testing.B) {
	for name, d := range everyShape {
		b.Run(name, func(b *testing.B) {
			sum, p := 0.0, 0.0
			b.ReportAllocs()
			for b.Loop() {
				if p += 0.001; p >= 1 {
					p = 0.0005
				}
				sum += d.quantile(p)
			}
			if sum == 0 {
				b.Fatal("nothing drawn")
			}
		})
	}
}

// What a spread costs beside the calculation: 131,072 trials of a small one, and its indices.
func BenchmarkSpread(b *testing.B) {
	s := waterSpread()
	for _, workers := range []int{1, 2} {
		b.Run(strconv.Itoa(workers), func(b *testing.B) {
			b.ReportAllocs()
			var solved int
			for b.Loop() {
				got, err := s.Run(context.Background(), Options{Workers: workers})
				require.NoError(b, err)
				solved = got.Trials + indexReplicates*defaultPoints*5
			}
			b.ReportMetric(float64(solved)*float64(b.N)/b.Elapsed().Seconds(), "scenarios/s")
		})
	}
}
