package whatif

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func look(f func(x float64) float64, want, low, high, step float64) sought {
	s := seeker{f: f, want: want, low: low, high: high, step: step, points: seekPoints}
	return s.search()
}

// Crossings of functions whose roots are known in closed form.
//
// Source: identities (derived).
func TestCrossings(t *testing.T) {
	refusedAbove := func(limit float64, f func(float64) float64) func(float64) float64 {
		return func(x float64) float64 {
			if x > limit {
				return math.NaN()
			}
			return f(x)
		}
	}
	for name, tt := range map[string]struct {
		f               func(x float64) float64
		want, low, high float64
		met             []crossing // y is not looked at
		within          float64
	}{
		"line":                          {func(x float64) float64 { return 3*x - 1 }, 5, 0, 10, []crossing{{kind: Crossing, from: 2, to: 2}}, 1e-15},
		"falling":                       {func(x float64) float64 { return 10 / x }, 4, 1, 10, []crossing{{kind: Crossing, from: 2.5, to: 2.5}}, 1e-15},
		"at an end":                     {func(x float64) float64 { return x }, 10, 0, 10, []crossing{{kind: Crossing, from: 10, to: 10}}, 0},
		"two":                           {func(x float64) float64 { return x * x }, 2, -3, 3, []crossing{{kind: Crossing, from: -math.Sqrt2, to: -math.Sqrt2}, {kind: Crossing, from: math.Sqrt2, to: math.Sqrt2}}, 1e-15},
		"root, steep":                   {func(x float64) float64 { return math.Cbrt(x - 1.2345) }, 0, 0, 3, []crossing{{kind: Crossing, from: 1.2345, to: 1.2345}}, 1e-15},
		"flat":                          {func(x float64) float64 { return (x - 1.2345) * (x - 1.2345) * (x - 1.2345) }, 0, 0, 3, []crossing{{kind: Crossing, from: 1.2345, to: 1.2345}}, 1e-5},
		"touch":                         {func(x float64) float64 { return (x - 1.2345) * (x - 1.2345) }, 0, 0, 3, []crossing{{kind: Touch, from: 1.2345, to: 1.2345}}, 1e-6},
		"touch from under":              {func(x float64) float64 { return 7 - (x-1.2345)*(x-1.2345) }, 7, 0, 3, []crossing{{kind: Touch, from: 1.2345, to: 1.2345}}, 1e-6},
		"dips below between two places": {func(x float64) float64 { return (x-1.2345)*(x-1.2345) - 1e-8 }, 0, 0, 3, []crossing{{kind: Crossing, from: 1.2344, to: 1.2344}, {kind: Crossing, from: 1.2346, to: 1.2346}}, 1e-12},
		"jump":                          {func(x float64) float64 { return math.Floor(x) }, 1.5, 0, 3, []crossing{{kind: Jump, from: 2, to: 2}}, 1e-15},
		"pole":                          {func(x float64) float64 { return 1 / (x - 1.2345) }, 0, 0, 3, []crossing{{kind: Jump, from: 1.2345, to: 1.2345}}, 1e-15},
		"stretch":                       {func(x float64) float64 { return math.Floor(x) }, 1, 0, 3, []crossing{{kind: Level, from: 1, to: 2}}, 1e-15},
		"refused above":                 {refusedAbove(1.5, func(x float64) float64 { return x }), 1.4, 0, 3, []crossing{{kind: Crossing, from: 1.4, to: 1.4}}, 1e-15},
		"refused there":                 {refusedAbove(1.5, func(x float64) float64 { return x }), 1.6, 0, 3, nil, 0},
		"sine, all six":                 {math.Sin, 0.5, 0, 18, []crossing{{kind: Crossing, from: math.Pi / 6}, {kind: Crossing, from: math.Pi * 5 / 6}, {kind: Crossing, from: math.Pi * 13 / 6}, {kind: Crossing, from: math.Pi * 17 / 6}, {kind: Crossing, from: math.Pi * 25 / 6}, {kind: Crossing, from: math.Pi * 29 / 6}}, 1e-14},
		"nothing":                       {math.Sin, 1.5, 0, 18, nil, 0},
	} {
		t.Run(name, func(t *testing.T) {
			got := look(tt.f, tt.want, tt.low, tt.high, 0)
			require.Len(t, got.met, len(tt.met), "%+v", got.met)
			for i, want := range tt.met {
				assert.Equal(t, want.kind, got.met[i].kind)
				assert.InDelta(t, want.from, got.met[i].from, tt.within)
				if want.kind == Level {
					assert.InDelta(t, want.to, got.met[i].to, tt.within)
				}
				if want.kind == Crossing {
					assert.InDelta(t, tt.want, got.met[i].y[0], 1e-7)
				}
			}
			assert.Less(t, got.solved, 3000)
		})
	}
}

func TestSearchWithSteps(t *testing.T) {
	got := look(func(x float64) float64 { return x * x }, 10, 0, 20, 0.5)
	require.Len(t, got.met, 1)
	assert.Equal(t, crossing{Between, 3, 3.5, [2]float64{9, 12.25}}, got.met[0], "the settings on both sides")
	got = look(func(x float64) float64 { return x * x }, 9, 0, 20, 0.5)
	require.Len(t, got.met, 1)
	assert.Equal(t, crossing{Crossing, 3, 3, [2]float64{9, 9}}, got.met[0])
	// Far more steps than places: each step is still found.
	got = look(func(x float64) float64 { return x }, 123456.5, 0, 1e6, 1)
	require.Len(t, got.met, 1)
	assert.Equal(t, crossing{Between, 123456, 123457, [2]float64{123456, 123457}}, got.met[0])
	assert.Less(t, got.solved, 1000)
	got = look(func(x float64) float64 { return x }, 777, 0, 1e6, 1)
	require.Len(t, got.met, 1)
	assert.Equal(t, crossing{Crossing, 777, 777, [2]float64{777, 777}}, got.met[0])
	got = look(func(x float64) float64 { return 5 }, 5, 2, 4, 1)
	require.Len(t, got.met, 1)
	assert.Equal(t, crossing{Level, 2, 4, [2]float64{5, 5}}, got.met[0], "every setting")
	got = look(func(x float64) float64 { return (x - 70001) * (x - 70001) }, -1, 0, 1e6, 1)
	assert.Empty(t, got.met)
	assert.Zero(t, got.least, "the least is found between places")
}

// What is refused is kept out and told, and what lies beyond it is found.
func TestSearchAroundRefusals(t *testing.T) {
	f := func(x float64) float64 {
		if x > 1.2 && x < 1.2001 || x > 2.5 && x < 2.75 {
			return math.NaN()
		}
		return x
	}
	got := look(f, 2.6, 0, 4, 0)
	assert.Empty(t, got.met, "it would be where there is no answer")
	require.Len(t, got.refused, 1)
	assert.InDelta(t, 2.5, got.refused[0][0], 1e-15)
	assert.InDelta(t, 2.75, got.refused[0][1], 1e-15)
	got = look(f, 1.20005, 0, 4, 0)
	assert.Empty(t, got.met)
	require.Len(t, got.refused, 2, "a narrow one is found where the search comes across it")
	assert.InDelta(t, 1.2, got.refused[0][0], 1e-14)
	got = look(func(float64) float64 { return math.NaN() }, 1, 0, 4, 0)
	assert.Empty(t, got.met)
	assert.Equal(t, [][2]float64{{0, 4}}, got.refused)
	assert.True(t, math.IsInf(got.least, 1), "nothing is reached")
}

// The reachable range is that of the function, not only of the places looked at.
func TestReachableRange(t *testing.T) {
	got := look(func(x float64) float64 { return 3 + math.Sin(x) }, 9, 0, 7, 0)
	assert.InDelta(t, 4, got.most, 1e-12)
	assert.InDelta(t, math.Pi/2, got.mostAt, 1e-6)
	assert.InDelta(t, 2, got.least, 1e-12)
}
