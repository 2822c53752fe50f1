package whatif

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Source: H. H. Rosenbrock, Computer Journal 3 (1960) 175, least at (1, 1); others by hand (derived).
func TestRefine(t *testing.T) {
	for name, tt := range map[string]struct {
		judge           func(x []float64) standing
		low, high, from []float64
		want            []float64
		missed          float64
	}{
		"valley": {
			func(x []float64) standing {
				return standing{0, 100*(x[1]-x[0]*x[0])*(x[1]-x[0]*x[0]) + (1-x[0])*(1-x[0])}
			},
			[]float64{-2, -1},
			[]float64{2, 3},
			[]float64{-1.2, 1},
			[]float64{1, 1},
			0,
		},
		"at a bound": {
			func(x []float64) standing { return standing{0, x[0] - 2*x[1]} },
			[]float64{0, 0},
			[]float64{1, 5},
			[]float64{0.5, 2},
			[]float64{0, 5},
			0,
		},
		"held by a condition": {
			func(x []float64) standing { return standing{max(0, x[0]+x[1]-1), -x[0] * x[1]} },
			[]float64{0, 0},
			[]float64{1, 1},
			[]float64{0.1, 0.1},
			[]float64{0.5, 0.5},
			0,
		},
		"not kept at first": {
			func(x []float64) standing { return standing{max(0, 0.7-x[0]), x[0]} },
			[]float64{0},
			[]float64{1},
			[]float64{0.1},
			[]float64{0.7},
			0,
		},
		"never kept": {
			func(x []float64) standing { return standing{1 + math.Abs(x[0]-0.3), x[0]} },
			[]float64{0},
			[]float64{1},
			[]float64{0.1},
			[]float64{0.3},
			1,
		},
		"refused above": {
			func(x []float64) standing {
				if x[0] > 0.6 {
					return nowhere
				}
				return standing{0, -x[0]}
			},
			[]float64{0},
			[]float64{1},
			[]float64{0.1},
			[]float64{0.6},
			0,
		},
		"one stays": {
			func(x []float64) standing { return standing{0, (x[0]-2)*(x[0]-2) + (x[1]-2)*(x[1]-2)} },
			[]float64{0, 1},
			[]float64{5, 1},
			[]float64{5, 1},
			[]float64{2, 1},
			0,
		},
	} {
		r := refiner{judge: tt.judge, low: tt.low, high: tt.high}
		r.from(tt.from)
		assert.InDeltaSlice(t, tt.want, r.best, 1e-3, name)
		assert.InDelta(t, tt.missed, r.missed, 1e-6, name)
		assert.False(t, tt.judge(tt.from).better(r.standing), "%s: never worse than where it began", name)
		assert.Less(t, r.solved, 3*refineBudget+100, name)
	}
	r := refiner{judge: func([]float64) standing { return nowhere }, low: []float64{0}, high: []float64{1}}
	r.from([]float64{0.5})
	assert.Equal(t, nowhere, r.standing)
}
