package divider_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
)

// The working of a list shows what this call appended, not what the caller's
// slice held before.
func TestWorkingShowsOnlyTheRowsAppended(t *testing.T) {
	lanes := divider.LaneOffsets{Calibration: calibrated(t, morning()), Mark: 5, Lanes: []divider.LaneWeighing{
		{Lane: 2, Weight: 85.2, Pieces: 10}, {Lane: 1, Weight: 87.9, Pieces: 10},
	}}
	plan := divider.TrialPlan{
		Shape: divider.Straight, Confidence: 95, MarkLow: 2, MarkHigh: 6, MarkCount: 3, Rounds: 2, RunMark: 4.8, PieceSD: 1.1, HalfWidth: 0.5, Slope: 8.4,
	}
	dust := divider.DustLimit{Authority: divider.DustUK}
	drift := gassing()
	for name, show := range map[string]func(before int) (int, *reckon.Working, error){
		"lanes": func(before int) (int, *reckon.Working, error) {
			out, err := lanes.Append(make([]divider.LaneOffset, before))
			var w reckon.Working
			lanes.Show(&w, out)
			return len(out.Lanes), &w, err
		},
		"plan": func(before int) (int, *reckon.Working, error) {
			out, err := plan.Append(make([]divider.TrialMark, before))
			var w reckon.Working
			plan.Show(&w, out)
			return len(out.Trials), &w, err
		},
		"dust": func(before int) (int, *reckon.Working, error) {
			out, err := dust.Append(make([]divider.DustFigure, before))
			var w reckon.Working
			dust.Show(&w, out)
			return len(out.Figures), &w, err
		},
		"drift": func(before int) (int, *reckon.Working, error) {
			out, err := drift.Append(make([]divider.DriftMove, before))
			var w reckon.Working
			drift.Show(&w, out)
			return len(out.Moves), &w, err
		},
	} {
		t.Run(name, func(t *testing.T) {
			rows, alone, err := show(0)
			require.NoError(t, err)
			require.Positive(t, rows)
			more, after, err := show(3)
			require.NoError(t, err)
			assert.Equal(t, rows+3, more)
			assert.Equal(t, alone, after)
		})
	}
}
