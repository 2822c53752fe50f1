package divider_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A shift of so many pieces has a pace at which it makes just so many.
func TestTaktGoesThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	for range 2000 {
		q := divider.Takt{Shift: unit.Minutes(1 + 600*r.Float64()), Pieces: 1 + r.IntN(5000)}
		q.Breaks = q.Shift * unit.Duration(0.5*r.Float64())
		out, err := q.Solve()
		require.NoError(t, err)
		back, err := divider.PiecesForTakt{Shift: q.Shift, Breaks: q.Breaks, Takt: max(out.Takt, 0.01)}.Solve()
		require.NoError(t, err)
		if out.Takt >= 0.01 {
			require.Equal(t, q.Pieces, back.Pieces, "%+v", q)
		}
		require.Equal(t, out.Available, back.Available)
		require.InEpsilon(t, 60/float64(out.Takt), float64(out.PieceRate), 1e-12)
	}
}

func TestTaktNamesEveryBadField(t *testing.T) {
	assert.Equal(t, []string{"shift", "breaks", "pieces"}, wrong(divider.Takt{Breaks: -1}))
	assert.Equal(t, []string{"breaks", "takt"}, wrong(divider.PiecesForTakt{Shift: 3600, Breaks: 3600}))
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = divider.Takt{Shift: unit.Hours(8), Breaks: unit.Hours(1), Pieces: 41}.Solve()
		_, _ = divider.PiecesForTakt{Shift: unit.Hours(8), Takt: 10}.Solve()
	}))
}

// wrong returns the fields that Check refuses.
func wrong[R any](q reckon.Calculation[R]) []string {
	var out []string
	for _, e := range reckon.Wrong(q) {
		out = append(out, e.Field)
	}
	return out
}

func ExampleTakt() {
	out, err := divider.Takt{Shift: unit.Hours(8), Breaks: unit.Hours(1), Pieces: 6000}.Solve()
	fmt.Println(out.Takt, out.PieceRate, err)
	// Output: 4.2 s 14.29 pieces/min <nil>
}

func ExamplePiecesForTakt() {
	out, err := divider.PiecesForTakt{Shift: unit.Hours(8), Breaks: unit.Hours(1), Takt: 4.2}.Solve()
	fmt.Println(out.Pieces, err)
	// Output: 6000 <nil>
}

func BenchmarkTakt(b *testing.B) {
	q := divider.Takt{Shift: unit.Hours(8), Breaks: unit.Hours(1), Pieces: 6000}
	var sum unit.Duration
	b.ReportAllocs()
	for b.Loop() {
		out, _ := q.Solve()
		sum += out.Takt
	}
	_ = sum
}

func FuzzTakt(f *testing.F) {
	f.Add(28800.0, 3600.0, 41, 4.2)
	f.Fuzz(func(t *testing.T, shift, breaks float64, pieces int, takt float64) {
		out, err := divider.Takt{Shift: unit.Duration(shift), Breaks: unit.Duration(breaks), Pieces: pieces}.Solve()
		if err == nil {
			assert.Positive(t, out.Takt)
		}
		back, err := divider.PiecesForTakt{Shift: unit.Duration(shift), Breaks: unit.Duration(breaks), Takt: unit.Duration(takt)}.Solve()
		if err == nil {
			assert.GreaterOrEqual(t, back.Pieces, 0)
		}
	})
}
