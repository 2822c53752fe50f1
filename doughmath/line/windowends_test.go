package line

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// Each limit of the demo's orders ends where the range of its input does: there it is taken, and a hundredth further refused.
// One unit moves it no further than that.
func TestLimitsEndWithTheirRanges(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	s, err := ReadScenario(data)
	require.NoError(t, err)
	// More room is 1 stroke or piece a minute, 1 min, 1 kg, 1 m/min, 0.1 mm, a tenth of a turn, 0.01 %/min, or no step at all.
	units := map[string]float64{
		"line.divider.strokes_low": -1, "line.divider.strokes_high": 1, "line.divider.stroke_step": -float64(s.Line.Divider.StrokeStep), "line.divider.hopper_capacity": 1000,
		"order.product.dwell_high": 60, "order.product.dwell_low": -60, "order.product.hopper_max": 60, "order.product.rate_high": 1, "order.product.hopper_drift.growth": -0.01,
		"order.product.turns": -0.1, "order.product.tear_limit": -0.1, "shift.mixer.high": 1000, "shift.mixer.low": -1000, "shift.mixer.cycle": -60,
		"line.stamper.stamps_low": -1, "line.stamper.stamps_high": 1, "line.moulder.rate_high": 1, "line.moulder.gap_low": -0.1, "line.moulder.gap_high": 0.1,
		"line.belts[1].belt_speed": 1000. / 60, "line.belts[2].belt_speed": 1000. / 60,
	}
	// The ranges of the tags; a mixer may be as large as anybody likes, and less than one turn is no curl.
	ends := map[string]float64{
		"line.divider.strokes_low": 0.01, "line.divider.strokes_high": 1000, "line.divider.stroke_step": 0, "line.divider.hopper_capacity": 1e7,
		"order.product.dwell_high": 86_400, "order.product.dwell_low": 1, "order.product.hopper_max": 86_400, "order.product.rate_high": 10_000, "order.product.hopper_drift.growth": 0,
		"order.product.turns": 1, "order.product.tear_limit": 0.1, "shift.mixer.high": 1e9, "shift.mixer.low": 0, "shift.mixer.cycle": 1,
		"line.stamper.stamps_low": 0, "line.stamper.stamps_high": 1000, "line.moulder.rate_high": 10_000, "line.moulder.gap_low": 0.05, "line.moulder.gap_high": 200,
		"line.belts[1].belt_speed": 10_000, "line.belts[2].belt_speed": 10_000,
	}
	seen := map[string]bool{}
	for i := range s.Orders {
		order := s.Orders[i]
		if order.Product.RateHigh == 0 {
			order.Product.RateHigh = 60
		}
		if order.Product.Drift.Growth > 0 {
			order.Product.Drift.Hold = HoldByBatch
		}
		cl, err := Commission(s.Line)
		require.NoError(t, err)
		a := newAsked(&cl, &order, &s.Shift)
		require.True(t, a.before())
		a.again()
		limits := a.limits()
		belts := 0
		for k := range limits {
			if strings.HasPrefix(limits[k].field, "line.belts") {
				belts++
			}
		}
		// The discharge belt goes with the strokes, and the two at the moulder carry only what is moulded.
		assert.Equal(t, map[Route]int{ToMoulder: 2}[order.Product.Route], belts, order.Product.Name)
		for k := range limits {
			l := &limits[k]
			seen[l.field] = true
			refused := func(v float64) bool {
				was := l.at.value()
				defer l.at.set(was)
				l.at.set(v)
				return slices.ContainsFunc(reckon.Wrong(a.plan), func(e *reckon.InputError) bool { return e.Field == l.field })
			}
			assert.False(t, refused(l.end), "%s may be %v", l.field, l.end)
			further := l.end * 1.01
			if l.unit < 0 {
				further = l.end*0.99 - 1e-9
			}
			if by, known := units[l.field]; assert.True(t, known, l.field) {
				assert.InDelta(t, by, l.unit, 1e-12, l.field)
			}
			assert.Equal(t, ends[l.field], l.end, l.field)
			if l.field != "shift.mixer.high" && l.field != "order.product.turns" {
				assert.True(t, refused(further), "%s may not be %v: %v is as far as it goes", l.field, further, l.end)
			}
			was := l.at.value()
			for _, short := range []float64{0.5, 1, 1.5} { // so many units before the end
				l.at.set(l.end - short*l.unit)
				want := l.end - max(0, short-1)*l.unit
				assert.InDelta(t, want, l.moved(), 1e-9*max(1, want), "%s from %v", l.field, l.at.value())
			}
			l.at.set(was)
			// Six digits leave the more room, and no more than there is.
			for _, v := range []float64{1.2345678, 1234567.8, 0.0012345678} {
				d := l.sixDigits(v)
				if l.unit < 0 && v > l.end {
					assert.LessOrEqual(t, d, v)
					assert.Greater(t, d, v*(1-1e-5))
					assert.GreaterOrEqual(t, d, l.end)
				} else if l.unit > 0 && v < l.end {
					assert.GreaterOrEqual(t, d, v)
					assert.Less(t, d, v*(1+1e-5))
					assert.LessOrEqual(t, d, l.end)
				}
			}
		}
	}
	for field := range units {
		assert.True(t, seen[field], field)
	}
}

// The smallest set that is excluded is found although leaving one out after the other ends with a larger one.
func TestSmallestByHand(t *testing.T) {
	for _, c := range []struct {
		n    int
		sets [][]int // what is excluded, and everything that holds one of these
		want []int
	}{
		{3, [][]int{{0}, {1, 2}}, []int{0}},
		{4, [][]int{{0}, {1, 2, 3}}, []int{0}},
		{5, [][]int{{0, 1}, {2, 3, 4}}, []int{0, 1}},
		{5, [][]int{{1, 4}, {0, 2, 3}}, []int{1, 4}},
		{3, [][]int{{0, 1, 2}}, []int{0, 1, 2}},
		{4, [][]int{{2}}, []int{2}},
		{5, [][]int{{0, 2}, {1, 4}}, []int{1, 4}}, // of two that are as small, the one that is left
	} {
		got := smallest(c.n, func(in []int) bool {
			for _, i := range in {
				assert.True(t, i >= 0 && i < c.n)
			}
			return slices.ContainsFunc(c.sets, func(set []int) bool {
				return !slices.ContainsFunc(set, func(i int) bool { return !slices.Contains(in, i) })
			})
		})
		assert.Equal(t, c.want, got, "%v", c.sets)
	}
	var tried [][]int
	assert.Nil(t, firstOf(4, 2, func(in []int) bool { tried = append(tried, slices.Clone(in)); return false }))
	assert.Equal(t, [][]int{{0, 1}, {0, 2}, {0, 3}, {1, 2}, {1, 3}, {2, 3}}, tried, "each pair once")
}
