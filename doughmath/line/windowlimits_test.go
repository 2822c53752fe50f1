package line_test

import (
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// outOfTheWay is where each limit of a line without a moulder holds nothing any more.
var outOfTheWay = map[string]float64{
	"line.divider.strokes_low": 0.01, "line.divider.strokes_high": 1000, "line.divider.stroke_step": 0, "line.divider.hopper_capacity": 10_000_000,
	"order.product.dwell_high": 24 * 3600, "order.product.dwell_low": 1, "order.product.hopper_max": 24 * 3600, "order.product.rate_high": 10_000,
	"order.product.hopper_drift.growth": 0, "line.stamper.stamps_low": 0, "line.stamper.stamps_high": 1000,
	"shift.mixer.high": 1e9, "shift.mixer.low": 0, "shift.mixer.cycle": 1,
}

// without is the plan with some of these limits out of the way.
func without(t *testing.T, in line.Plan, fields []string) line.Plan {
	in.Line.Belts = slices.Clone(in.Line.Belts)
	for _, f := range fields {
		at, err := reckon.NumberIn(&in, f)
		require.NoError(t, err)
		if v, ok := outOfTheWay[f]; ok {
			at.Set(v)
		} else {
			at.Set(10_000) // a belt
		}
	}
	return in
}

// Where nothing works, the limits named exclude one another whatever the others are, any of them out of the way is enough, and
// no smaller set does the same. Moved alone as far as it says, and hardly less, each lets a plan be found.
func TestConflictIsTheSmallest(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 2026))
	sizes := map[int]int{}
	for n, tried := 0, 0; n < 12 && tried < 200; tried++ {
		in := anyOrder(t, rng)
		if in.Order.Product.Route == line.ToMoulder {
			continue
		}
		// Narrow it until something gives: a dwell that is too long for the slowest speed, or a mixer that takes its time.
		if n%2 == 0 {
			in.Order.Product.DwellLow, in.Order.Product.DwellHigh = unit.Minutes(11+4*rng.Float64()), unit.Minutes(15.5)
		} else {
			in.Shift.Mixer.Cycle = unit.Hours(1)
		}
		in.Line.Dusters, in.Line.Controls, in.Line.Changing, in.Order.Product.Fittings, in.Order.Product.Stickiness = nil, nil, line.Changing{}, nil, 0 // their slides are not asked for as much as a thousand strokes a minute take
		in.Line.Divider.StrokeStep = unit.StrokeRate([]float64{0, 0.5, 4}[rng.IntN(3)])
		w, err := line.Window(in).Solve()
		if err != nil || len(w.Conflict) == 0 {
			continue
		}
		n++
		_, err = in.Solve()
		require.Error(t, err)
		require.True(t, w.Conditions.Has(line.NoWindow))
		require.Empty(t, w.Limits)
		var all, named []string
		for f := range outOfTheWay {
			unset := f == "order.product.rate_high" && in.Order.Product.RateHigh == 0 ||
				f == "order.product.hopper_drift.growth" && in.Order.Product.Drift.Hold != line.HoldByBatch
			if _, err := reckon.NumberIn(&in, f); err == nil && !unset {
				all = append(all, f)
			}
		}
		for i := range in.Line.Belts {
			if in.Line.Belts[i].BeltSpeed > 0 {
				all = append(all, "line.belts["+strconv.Itoa(i)+"].belt_speed")
			}
		}
		for _, c := range w.Conflict {
			named = append(named, c.Field)
		}
		sizes[len(named)]++
		works := func(limits []string) bool {
			var gone []string
			for _, f := range all {
				if !slices.Contains(limits, f) {
					gone = append(gone, f)
				}
			}
			_, err := without(t, in, gone).Solve()
			return err == nil
		}
		require.False(t, works(named), "%v", named)
		for i := range named {
			require.True(t, works(slices.Delete(slices.Clone(named), i, i+1)), "without %s of %v", named[i], named)
		}
		for i := range all { // no single limit and, where three are named, no two of them
			require.True(t, works(all[i:i+1]))
			for j := i + 1; len(named) > 2 && j < len(all); j++ {
				require.True(t, works([]string{all[i], all[j]}))
			}
		}
		for _, c := range w.Conflict {
			if c.Needs == "" {
				_, err := without(t, in, []string{c.Field}).Solve()
				require.Error(t, err, "%+v", c)
				continue
			}
			at := moved(t, in, c.Field, c.Needs)
			p, err := at.Solve()
			require.NoError(t, err, "%+v", c)
			assert.Equal(t, c.Strokes, p.Strokes)
			assert.Equal(t, c.PieceRate, p.Rate.PieceRate)
			if c.Limit == "step" {
				continue
			}
			number, err := reckon.NumberIn(&at, c.Field)
			require.NoError(t, err)
			was, err := reckon.NumberIn(&in, c.Field)
			require.NoError(t, err)
			number.Set(number.Value() - 1e-4*(number.Value()-was.Value()))
			_, err = at.Solve()
			require.Error(t, err, "hardly less is not enough: %+v", c)
		}
	}
	assert.Positive(t, sizes[2], "%v", sizes)
	assert.Positive(t, sizes[3], "%v", sizes)
}

// moved is the plan with one input read from text.
func moved(t *testing.T, in line.Plan, field, text string) line.Plan {
	t.Helper()
	in.Line.Belts = slices.Clone(in.Line.Belts)
	path, err := reckon.PathIn(reflect.TypeFor[line.Plan](), field)
	require.NoError(t, err)
	place, _, err := path.Place(&in)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal([]byte(`"`+text+`"`), place.Addr().Interface()), text)
	return in
}

// A case by hand: six pockets two across, 140 trays. A dwell of 12 to 13 min takes 10.77 to 11.67 strokes/min, and the divider runs no slower than 12.
func TestConflictByHand(t *testing.T) {
	in := input(t, 0)
	in.Order.Product.DwellLow, in.Order.Product.DwellHigh = unit.Minutes(12), unit.Minutes(13)
	in.Order.Product.HopperMax = unit.Minutes(90) // or that excludes the slow speeds as well
	w, err := line.Window(in).Solve()
	require.NoError(t, err)
	require.Len(t, w.Conflict, 2)
	slow, long := w.Conflict[0], w.Conflict[1]
	assert.Equal(t, "line.divider.strokes_low", slow.Field)
	assert.Equal(t, "12 strokes/min", slow.Stands)
	assert.Equal(t, "order.product.dwell_low", long.Field)
	// 140 trays at 12 strokes/min take 11 min 40 s.
	assert.Equal(t, "20 s less", long.By)
	assert.Equal(t, unit.StrokesPerMinute(12), long.Strokes)
	assert.Empty(t, w.Ways)
	require.Len(t, w.Closed, 1)
	assert.True(t, strings.HasPrefix(w.Closed[0].Says, "these exclude one another: divider (12 strokes/min), dwell (12 min)"), w.Closed[0].Says)
}

// Where the slow side gives way it is by more: 140 trays stay 13 min at 10.77 strokes/min, and the divider runs no faster than 10.
func TestConflictNeedsMore(t *testing.T) {
	in := input(t, 0)
	in.Line.Divider.StrokesLow, in.Line.Divider.StrokesHigh = 8, 10
	in.Order.Product.DwellLow, in.Order.Product.DwellHigh, in.Order.Product.HopperMax = unit.Minutes(8), unit.Minutes(13), unit.Minutes(90)
	w, err := line.Window(in).Solve()
	require.NoError(t, err)
	require.Len(t, w.Conflict, 2)
	fast, short := w.Conflict[0], w.Conflict[1]
	assert.Equal(t, []string{"line.divider.strokes_high", "10 strokes/min", "1 strokes/min more"}, []string{fast.Field, fast.Stands, fast.By}, "it goes by halves")
	assert.Equal(t, []string{"order.product.dwell_high", "13 min", "840 s", "1 min more"}, []string{short.Field, short.Stands, short.Needs, short.By})
	assert.Equal(t, []unit.StrokeRate{11, 10}, []unit.StrokeRate{fast.Strokes, short.Strokes})
	assert.Equal(t, []unit.PieceRate{22, 20}, []unit.PieceRate{fast.PieceRate, short.PieceRate}, "two across")
	stands, needs, by := fast.In(unit.Metric)
	assert.Equal(t, []string{"10 strokes/min", "11 strokes/min", fast.By}, []string{stands, needs, by})
	// Where water stands in the way as well, moving one limit is not enough.
	in = input(t, 2)
	heat := *in.Order.Product.Heat
	heat.Power = unit.Kilowatts(100)
	in.Order.Product.Heat, in.Order.Product.DwellHigh = &heat, unit.Minutes(17) // 290 trays at 16 strokes/min take 18 min 7.5 s
	w, err = line.Window(in).Solve()
	require.NoError(t, err)
	require.Len(t, w.Conflict, 2)
	for _, c := range w.Conflict {
		assert.Equal(t, []string{"", ""}, []string{c.Needs, c.By}, c.Field)
		_, needs, by := c.In(unit.US)
		assert.Equal(t, []string{"", ""}, []string{needs, by}, c.Field)
	}
}

// What no setting moves stands in the way of the window as of the plan, and what is wrong is told as by the plan.
func TestWindowRefuses(t *testing.T) {
	in := input(t, 2)
	in.Line.Pocket.Width = 138
	_, planErr := in.Solve()
	_, err := line.Window(in).Solve()
	require.Error(t, planErr)
	assert.EqualError(t, err, strings.ReplaceAll(planErr.Error(), "line-plan", "line-window"))

	in = input(t, 0)
	in.Order.Pieces, in.Shift.Mixer.Cycle, in.Line.Divider.StrokesLow = 0, 0, -1
	in.Order.Aim = line.Aim{For: line.WantedRate, FinishIn: unit.Hours(1)}
	_, planErr = in.Solve()
	_, err = line.Window(in).Solve()
	assert.EqualError(t, err, strings.ReplaceAll(planErr.Error(), "line-plan", "line-window"))
	for _, field := range []string{"order.pieces", "shift.mixer.cycle", "line.divider.strokes_low", "order.aim.piece_rate", "order.aim.finish_in"} {
		assert.ErrorContains(t, err, field)
	}
	for id, bend := range map[string]func(*line.Plan){
		"a value of a station that narrows": func(in *line.Plan) { in.Shift.Mixer.Cycle = 0 },
		"trials that no line fits":          func(in *line.Plan) { lanes := in.Line.Divider.Lanes; lanes[0].Trials = lanes[0].Trials[:1] },
		"flour that no slide gives": func(in *line.Plan) {
			in.Line.Dusters[0].Slide = in.Line.Dusters[0].Slide[:2]
			in.Line.Dusters[0].Slide[1].FlourRate = 0.11
		},
		"no water is cold enough": func(in *line.Plan) {
			heat := *in.Order.Product.Heat
			heat.Power = unit.Kilowatts(100)
			in.Order.Product.Heat = &heat
		},
	} {
		in := input(t, map[bool]int{true: 2}[strings.Contains(id, "water")])
		bend(&in)
		_, planErr := in.Solve()
		require.Error(t, planErr, id)
		_, err := line.Window(in).Solve()
		require.Error(t, err, id)
		assert.Equal(t, strings.ReplaceAll(planErr.Error(), "line-plan", "line-window"), err.Error(), id)
	}
	in = input(t, 0)
	in.Order.Aim = line.Aim{For: "quickest"}
	_, err = in.Solve()
	assert.ErrorContains(t, err, "order.aim.for")
}
