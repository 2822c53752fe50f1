package line_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// day is the demo plant's orders through a night: the rolls alone hold milk.
func day(t testing.TB) line.DayPlan {
	t.Helper()
	s, _ := demo(t)
	q := line.DayPlan{Line: s.Line, Shift: s.Shift, DayTerms: line.DayTerms{Start: unit.Hours(22), People: 2, Aim: line.FewestLate, Allergens: line.CleanedBetween, OvenReset: unit.Minutes(10)}}
	for i, k := range []struct {
		name      string
		due, bake float64
		temp      unit.Temp
	}{{"buns", 31, 18, unit.Celsius(220)}, {"rolls", 30, 15, unit.Celsius(220)}, {"loaves", 32, 35, unit.Celsius(210)}, {"sticks", 30.5, 18, unit.Celsius(220)}} {
		q.Orders = append(q.Orders, line.DayOrder{Name: k.name, Order: s.Orders[i], DayTimes: line.DayTimes{Due: unit.Hours(k.due), Bake: unit.Minutes(k.bake), BakeTemp: k.temp, Packing: unit.Minutes(40)}})
	}
	return q
}

// asDay follows an order of the orders by the other calculations: each on its own clock, the changeover before
// it, and neither mixer nor oven taken twice.
type asDay struct {
	q       *line.DayPlan
	clocks  []line.ClockResult
	changes [][]unit.Duration
	cuts    []unit.Duration // between the first and the last stroke
}

func newAsDay(t testing.TB, q *line.DayPlan) asDay {
	t.Helper()
	d := asDay{q: q}
	for i := range q.Orders {
		k, err := line.Clock{Line: q.Line, Order: q.Orders[i].Order, Shift: q.Shift, Start: unit.Hours(1)}.Solve()
		require.NoError(t, err)
		d.clocks = append(d.clocks, k)
		d.cuts = append(d.cuts, k.Batches[len(k.Batches)-1].LastCut-k.Batches[0].FirstCut)
		var row []unit.Duration
		for j := range q.Orders {
			out, err := line.Changeover{Line: q.Line, Before: q.Orders[i].Order, Next: q.Orders[j].Order, Shift: q.Shift, People: q.People}.Solve()
			require.NoError(t, err)
			row = append(row, out.Takes)
		}
		d.changes = append(d.changes, row)
	}
	return d
}

// total returns how many are late and how late all are together.
func (d *asDay) total(order []int) (late int, lateness float64) {
	up := func(x unit.Duration) float64 { return math.Ceil(float64(x) - 1e-6) }
	mixing := d.q.Shift.Mixer
	line0 := up(d.q.Start) // where the line is free
	last := -1
	for _, j := range order {
		k, o := &d.clocks[j], &d.q.Orders[j]
		first, end := &k.Batches[0], &k.Batches[len(k.Batches)-1]
		lead := first.FirstCut - first.Mix
		gap := lead
		if last >= 0 {
			b, p := &d.clocks[last], &d.q.Orders[last]
			bend := &b.Batches[len(b.Batches)-1]
			gap = max(d.changes[last][j], mixing.Cycle+lead-(bend.LastCut-bend.Mix))
			oven := (b.LastOven - bend.LastCut) - (k.FirstOven - first.FirstCut)
			if p.Bake != o.Bake || p.BakeTemp != o.BakeTemp {
				oven += p.Bake + d.q.OvenReset
			}
			gap = max(gap, oven)
		}
		line0 += up(gap) + up(d.cuts[j])
		if by := line0 + up(k.LastOven-end.LastCut+o.Bake+o.Packing) - float64(o.Due); by > 0 {
			late++
			lateness += by
		}
		last = j
	}
	return late, lateness
}

// No order of the day does better, counted by the other calculations.
func TestDayPlanIsTheBestOrder(t *testing.T) {
	for _, sooner := range []float64{0, 1, 2} {
		q := day(t)
		for i := range q.Orders {
			q.Orders[i].Due -= unit.Hours(sooner)
		}
		out, err := q.Solve()
		require.NoError(t, err)
		d := newAsDay(t, &q)
		best, least := 99, 0.0
		everyOrder(len(q.Orders), func(order []int) {
			if late, lateness := d.total(order); late < best || late == best && lateness < least {
				best, least = late, lateness
			}
		})
		assert.Equal(t, best, out.Total.Late)
		assert.InDelta(t, least, float64(out.Total.Lateness), 4, "a second for each order")
		assert.False(t, out.Conditions.Has(line.NotProven))
		assert.Equal(t, best > 0, out.Conditions.Has(line.Late))
		assert.Equal(t, best > 0, out.Remedies.StartEarlier > 0)
	}
}

// Each run is on the clock that line-clock puts it on, and neither the mixer nor the oven is taken twice.
func TestDayRunsOnTheClock(t *testing.T) {
	q := day(t)
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, q.Start, out.Runs[0].Batches[0], "the first mixing starts with the day")
	for k, r := range out.Runs {
		i := slices.IndexFunc(q.Orders, func(o line.DayOrder) bool { return o.Name == r.Name })
		o := &q.Orders[i]
		at, err := line.Clock{Line: q.Line, Order: o.Order, Shift: q.Shift, Start: r.Batches[0]}.Solve()
		require.NoError(t, err)
		require.Len(t, r.Batches, len(at.Batches))
		for b := range at.Batches {
			assert.InDelta(t, float64(at.Batches[b].Mix), float64(r.Batches[b]), 1e-6)
		}
		assert.InDelta(t, float64(at.FirstOven), float64(r.FirstOven), 1e-6)
		assert.InDelta(t, float64(at.LastOven), float64(r.LastOven), 1e-6)
		assert.InDelta(t, float64(r.LastOven+o.Bake+o.Packing), float64(r.Ready), 2, "whole seconds")
		for p := range r.Preferments {
			assert.InDelta(t, float64(at.Batches[0].Preferments[p].Start), float64(r.Preferments[p].Start), 1e-6)
		}
		if k == 0 {
			continue
		}
		before := &out.Runs[k-1]
		assert.GreaterOrEqual(t, r.Batches[0], before.Batches[len(before.Batches)-1]+q.Shift.Mixer.Cycle-1e-6)
		assert.GreaterOrEqual(t, r.FirstOven, before.LastOven-1e-6)
		assert.GreaterOrEqual(t, r.FirstStroke, before.LastStroke+r.Changeover)
	}
	assert.Greater(t, out.Ready, unit.Hours(24), "through midnight")
	assert.True(t, slices.IsSortedFunc(out.Chart, func(a, b line.DayBar) int { return int(a.Start - b.Start) }))
	for _, bar := range out.Chart {
		assert.Greater(t, bar.End, bar.Start)
		assert.LessOrEqual(t, bar.End, out.Ready)
	}
}

// A run is what its plan and its changeover say, and the day is what its runs are: what is drawn, and each bar of its chart.
func TestDayIsMadeOfItsPlans(t *testing.T) {
	for id, q := range map[string]line.DayPlan{"day": day(t), "with an oven": ovenDay(t, line.DeckOven)} {
		out, err := q.Solve()
		require.NoError(t, err, id)
		var bars []line.DayBar
		var ice, dusting unit.Mass
		var cautions reckon.Cautions
		var conditions line.Conditions
		end, ready := q.Start, unit.Duration(0)
		for k, r := range out.Runs {
			o := &q.Orders[slices.IndexFunc(q.Orders, func(o line.DayOrder) bool { return o.Name == r.Name })]
			plan, err := line.Plan{Line: q.Line, Order: o.Order, Shift: q.Shift}.Solve()
			require.NoError(t, err)
			at, err := line.Clock{Line: q.Line, Order: o.Order, Shift: q.Shift, Start: r.Batches[0]}.Solve()
			require.NoError(t, err)
			assert.Equal(t, []any{plan.Batch.PiecesMade, plan.Strokes, plan.StrokesLimit, o.Due}, []any{r.Pieces, r.Strokes, r.Limit, r.Due}, r.Name)
			assert.InDelta(t, float64(at.Batches[len(at.Batches)-1].LastOut), float64(r.LastOut), 1e-6, r.Name)
			assert.Len(t, r.Preferments, len(o.Product.Preferments))
			care := plan.Cautions | plan.Batch.Cautions | plan.Weigh.Cautions
			var says line.Conditions
			if k > 0 {
				before := q.Orders[slices.IndexFunc(q.Orders, func(o line.DayOrder) bool { return o.Name == out.Runs[k-1].Name })]
				c, err := line.Changeover{Line: q.Line, Before: before.Order, Next: o.Order, Shift: q.Shift, People: q.People}.Solve()
				require.NoError(t, err)
				if q.Changeover == 0 {
					care |= c.Cautions
					says |= c.Conditions
					assert.Equal(t, c.CarriedOver, r.CarriedOver)
				}
			}
			if len(r.CarriedOver) > 0 {
				care |= reckon.Allergens
				says |= line.CarriedOver
			}
			assert.Equal(t, max(0, r.Ready-o.Due), r.Late, "%s: %s", id, r.Name)
			if r.Late > 0 {
				says |= line.Late
			}
			assert.Equal(t, care, r.Cautions, "%s: %s", id, r.Name)
			assert.Equal(t, says, r.Conditions, "%s: %s", id, r.Name)
			cautions, conditions, ready = cautions|r.Cautions, conditions|r.Conditions, max(ready, r.Ready)
			ice += plan.IceToWeigh * unit.Mass(plan.Batch.Batches)
			for _, d := range plan.Dusting {
				dusting += d.Flour.PerRun
			}
			bake := max(o.Bake, o.Product.Baking.Time)
			if o.Bake != 0 {
				bake = o.Bake
			}
			for _, mix := range r.Batches {
				bars = append(bars, line.DayBar{Row: "mixer", Order: r.Name, Start: mix, End: mix + q.Shift.Mixer.Mixing})
			}
			for _, b := range []line.DayBar{
				{Row: "changeover", Start: end, End: end + r.Changeover},
				{Row: "divider", Start: r.FirstStroke, End: r.LastStroke},
				{Row: "overhead proofer", Start: r.FirstStroke, End: r.LastOut},
				{Row: "final proof", Start: r.FirstOven - o.Product.FinalStay, End: r.LastOven},
				{Row: "oven", Start: r.FirstOven, End: r.LastOven + bake},
				{Row: "packing", Start: r.Ready - o.Packing, End: r.Ready},
			} {
				if b.Order = r.Name; b.End > b.Start {
					bars = append(bars, b)
				}
			}
			end = r.LastStroke
		}
		assert.ElementsMatch(t, bars, out.Chart, id)
		assert.InDelta(t, float64(ice), float64(out.Ice), 1e-6, id)
		assert.InDelta(t, float64(dusting), float64(out.Dusting), 1e-6, id)
		assert.Equal(t, cautions, out.Cautions, id)
		assert.Equal(t, conditions, out.Conditions&^line.NotProven, id)
		assert.Equal(t, ready, out.Ready, id)
		assert.Equal(t, out.Total.Late > 0, out.Remedies.StartEarlier > 0, id)
	}
}

// Plain goes before what holds all its allergens and more, beside what is asked for; the same and what neither holds all of are free.
func TestPlainFirstByHand(t *testing.T) {
	q := day(t)
	q.Allergens, q.Aim = line.PlainFirst, line.EarliestFinish
	for i, list := range [][]string{{"wheat", "milk"}, {"wheat"}, {}, {"egg", "wheat"}} {
		q.Orders[i].Product.Allergens = list
	}
	out, err := q.Solve()
	require.NoError(t, err)
	var order []string
	for _, r := range out.Runs {
		order = append(order, r.Name)
	}
	assert.Equal(t, []string{"loaves", "rolls"}, order[:2], "nothing, then wheat, then either of the others")
	for _, c := range []struct {
		first, then string
		ok          bool
	}{{"loaves", "rolls", true}, {"rolls", "loaves", false}, {"buns", "loaves", false}, {"buns", "rolls", false}, {"sticks", "rolls", false}, {"buns", "sticks", true}, {"sticks", "buns", true}} {
		q := q
		q.Orders = slices.Clone(q.Orders)
		for i := range q.Orders {
			if q.Orders[i].Name == c.then {
				q.Orders[i].After = []string{c.first}
			}
		}
		wrong := reckon.Wrong(q)
		assert.Equal(t, c.ok, len(wrong) == 0, "%s before %s", c.first, c.then)
		for _, e := range wrong {
			assert.Equal(t, "orders", e.Field)
		}
	}
}

// The oven is empty and reset before other baking, and the changeover is not shortened for it.
func TestDayWaitsForTheOven(t *testing.T) {
	q := day(t)
	q.OvenReset = unit.Hours(3)
	out, err := q.Solve()
	require.NoError(t, err)
	waits := 0
	for k, r := range out.Runs[1:] {
		a := q.Orders[slices.IndexFunc(q.Orders, func(o line.DayOrder) bool { return o.Name == out.Runs[k].Name })]
		b := q.Orders[slices.IndexFunc(q.Orders, func(o line.DayOrder) bool { return o.Name == r.Name })]
		if a.Bake != b.Bake || a.BakeTemp != b.BakeTemp {
			assert.Equal(t, "oven", r.GapLimit)
			assert.InDelta(t, float64(out.Runs[k].LastOven+a.Bake+q.OvenReset), float64(r.FirstOven), 3)
			waits++
		}
	}
	assert.Positive(t, waits)
}

// Where nothing is baked, no order waits for an oven, however long the one before proofs.
func TestDayWithoutAnOven(t *testing.T) {
	q := day(t)
	q.Changeover, q.Line.Oven = 1, line.Oven{}
	for i := range q.Orders {
		o := &q.Orders[i]
		o.Product.Baking = line.Baking{}
		o.Bake, o.BakeTemp, o.Product.FinalStay = 0, unit.Temp{}, unit.Minutes([]float64{150, 20, 90, 30}[i])
		if i > 0 { // the longest first
			o.After = []string{q.Orders[i-1].Name}
		}
	}
	out, err := q.Solve()
	require.NoError(t, err)
	for _, r := range out.Runs[1:] {
		assert.NotEqual(t, "oven", r.GapLimit, r.Name)
	}
	// Of two that take as long the changeover is told.
	mixer := slices.IndexFunc(out.Runs[1:], func(r line.DayRun) bool { return r.GapLimit == "mixer" }) + 1
	require.Positive(t, mixer)
	q.Changeover = out.Runs[mixer].Gap
	alike, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "changeover", alike.Runs[mixer].GapLimit)
	assert.Equal(t, out.Runs[mixer].Gap, alike.Runs[mixer].Gap)
}

// What is drawn is what all batches weigh, to the scale, and adds up.
func TestDayDrawsWhatTheBatchesWeigh(t *testing.T) {
	q := day(t)
	out, err := q.Solve()
	require.NoError(t, err)
	want, batches := map[string]float64{}, 0
	for i := range q.Orders {
		plan, err := line.Plan{Line: q.Line, Order: q.Orders[i].Order, Shift: q.Shift}.Solve()
		require.NoError(t, err)
		for _, part := range plan.Weigh.Parts {
			want[part.Name] += float64(part.Mass) * float64(plan.Batch.Batches)
		}
		batches += plan.Batch.Batches
	}
	sum := 0.0
	for _, s := range out.Store {
		// The sponge is weighed on a finer scale than the rest, so that it takes something from the final mix or leaves it that.
		assert.InDelta(t, want[s.Name], float64(s.Mass), float64(batches)*float64(q.Shift.Division), s.Name)
		assert.InDelta(t, 0, math.Remainder(float64(s.Mass), 5), 1e-6, s.Name)
		sum += float64(s.Mass)
		delete(want, s.Name)
	}
	assert.Empty(t, want)
	assert.InDelta(t, sum, float64(out.Drawn), 1e-6)
	// Without it all is weighed on one, to the gram as the plans say.
	q.Orders = slices.Delete(q.Orders, 1, 2)
	out, err = q.Solve()
	require.NoError(t, err)
	sum = 0
	for i := range q.Orders {
		plan, err := line.Plan{Line: q.Line, Order: q.Orders[i].Order, Shift: q.Shift}.Solve()
		require.NoError(t, err)
		sum += float64(plan.Weigh.Weighed) * float64(plan.Batch.Batches)
	}
	assert.InDelta(t, sum, float64(out.Drawn), 1e-6)
}

// Each remedy alone meets every due time, and none less does.
func TestDayRemedies(t *testing.T) {
	q := day(t)
	for i := range q.Orders {
		q.Orders[i].Due -= unit.Hours(1)
	}
	out, err := q.Solve()
	require.NoError(t, err)
	require.Positive(t, out.Total.Late)
	r := out.Remedies
	late := func(q line.DayPlan) int {
		out, err := q.Solve()
		require.NoError(t, err)
		return out.Total.Late
	}
	early := q
	early.Start = r.StartAt
	assert.Zero(t, late(early))
	assert.Equal(t, q.Start-r.StartEarlier, r.StartAt)
	inOrder := early // as they are named
	inOrder.Orders = slices.Clone(q.Orders)
	for k := 1; k < len(r.Order); k++ {
		i := slices.IndexFunc(q.Orders, func(o line.DayOrder) bool { return o.Name == r.Order[k] })
		inOrder.Orders[i].After = r.Order[k-1 : k]
	}
	assert.Zero(t, late(inOrder))
	early.Start++
	assert.Positive(t, late(early), "a second later is too late")
	for i := range q.Orders {
		rest := q
		rest.Orders = slices.Delete(slices.Clone(q.Orders), i, i+1)
		assert.Equal(t, slices.Contains(r.LeaveOut, q.Orders[i].Name), late(rest) == 0, q.Orders[i].Name)
	}
	require.Positive(t, r.Faster)
	assert.Len(t, r.Order, len(q.Orders))
}

// The changeovers are those of the calculation, whatever was made before.
func TestDayChangeovers(t *testing.T) {
	q := longDay(t, 9)
	out, err := q.Solve()
	require.NoError(t, err)
	order := func(name string) line.Order {
		return q.Orders[slices.IndexFunc(q.Orders, func(o line.DayOrder) bool { return o.Name == name })].Order
	}
	for k, r := range out.Runs[1:] {
		c, err := line.Changeover{Line: q.Line, Before: order(out.Runs[k].Name), Next: order(r.Name), Shift: q.Shift, People: q.People}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(c.Takes), float64(r.Changeover), 1, "taken up to whole seconds")
		assert.GreaterOrEqual(t, float64(r.Changeover), float64(c.Takes)*(1-1e-9))
		assert.Equal(t, c.CarriedOver, r.CarriedOver)
	}
}

// In the order found, runs that are so much faster are in time and a tenth of a percent less is not.
func TestDayFaster(t *testing.T) {
	q := day(t)
	q.Orders = q.Orders[:1]
	q.Orders[0].Due = 0
	q.Aim = line.EarliestFinish
	alone, err := q.Solve()
	require.NoError(t, err)
	assert.Zero(t, alone.Runs[0].Late, "it is never due")
	assert.Zero(t, alone.Runs[0].Conditions)
	q.Aim = line.FewestLate
	q.Orders[0].Due = alone.Ready
	inTime, err := q.Solve()
	require.NoError(t, err)
	assert.Zero(t, inTime.Runs[0].Conditions, "ready at its due time it is in time")
	assert.Zero(t, inTime.Total.Late)
	assert.Equal(t, line.DayRemedies{}, inTime.Remedies, "there is nothing to mend")
	q.Orders[0].Due = alone.Ready - 600
	out, err := q.Solve()
	require.NoError(t, err)
	runs := float64(out.Runs[0].LastStroke - out.Runs[0].FirstStroke)
	assert.LessOrEqual(t, runs/(1+float64(out.Remedies.Faster)/100), runs-600)
	assert.Greater(t, runs/(1+float64(out.Remedies.Faster-0.1)/100), runs-600)
	assert.Empty(t, out.Remedies.LeaveOut, "there is nothing else")
	q.Orders[0].Due = q.Start + 1
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Remedies.Faster, "no speed is enough")
}

// Plain goes before what contains more, and whoever asks for the contrary is told.
func TestPlainFirst(t *testing.T) {
	q := day(t)
	q.Orders[1].Due = unit.Hours(26)
	q.Orders[1].Weight = 10
	free, err := q.Solve()
	require.NoError(t, err)
	assert.NotEqual(t, "rolls", free.Runs[3].Name)
	q.Allergens = line.PlainFirst
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "rolls", out.Runs[3].Name, "they alone hold milk")
	for _, r := range out.Runs {
		assert.Empty(t, r.CarriedOver)
	}
	q.Orders[0].After = []string{"rolls"}
	_, err = q.Solve()
	assert.ErrorContains(t, err, `orders is "buns", "rolls": want`)
	q.Orders[0].After = nil
	q.Orders[2].Product.Allergens = nil
	_, err = q.Solve()
	assert.ErrorContains(t, err, "orders[2].product.allergens")
	// Where it is free, what is carried over is told at the run after.
	q = day(t)
	q.Orders[0].After, q.Orders[2].After, q.Orders[3].After = []string{"rolls"}, []string{"buns"}, []string{"loaves"}
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []string{"milk"}, out.Runs[1].CarriedOver)
	assert.True(t, out.Runs[1].Conditions.Has(line.CarriedOver) && out.Conditions.Has(line.CarriedOver))
	assert.True(t, out.Cautions.Has(reckon.Allergens))
}

// Changeovers that are given take the place of those found, either way on its own, and carry allergens over all the same.
func TestGivenChangeovers(t *testing.T) {
	q := day(t)
	q.Orders = q.Orders[:2]
	q.Aim = line.EarliestFinish
	q.Changeovers = []line.GivenChangeover{{"buns", "rolls", unit.Hours(2)}, {"rolls", "buns", unit.Minutes(30)}, {"", "rolls", unit.Minutes(10)}, {"buns", "", unit.Minutes(5)}}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "rolls", out.Runs[0].Name)
	assert.Equal(t, unit.Minutes(10), out.Runs[0].Changeover)
	assert.Equal(t, "mixer", out.Runs[0].GapLimit, "its dough takes longer")
	assert.Equal(t, unit.Minutes(30), out.Runs[1].Changeover)
	assert.Equal(t, unit.Minutes(45), out.Total.Changing)
	assert.Equal(t, out.Runs[1].LastStroke+unit.Minutes(5), out.Total.Finish)
	assert.Equal(t, []string{"milk"}, out.Runs[1].CarriedOver)
	assert.True(t, out.Runs[1].Conditions.Has(line.CarriedOver))
	assert.True(t, out.Runs[1].Cautions.Has(reckon.Allergens), "as of every plan")
	// One time for all needs no controls.
	q.Line.Controls, q.Line.Changing, q.Changeovers, q.Changeover = nil, line.Changing{}, nil, unit.Hours(1)
	for i := range q.Orders {
		q.Orders[i].Product.Fittings = nil
	}
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Hours(1), out.Total.Changing)
	q.Changeover = 0
	_, err = q.Solve()
	assert.ErrorContains(t, err, "changeover is missing")
}

// What only the changeover to a plainer product would want stands in the way of no day that never makes it: one person cannot do the washing that takes
// two, and with the plain product first nothing is washed.
func TestDayAsksOnlyForChangeoversThatCanBe(t *testing.T) {
	q := day(t)
	q.Orders, q.People = q.Orders[:2], 1 // the rolls hold milk, the buns do not
	q.Line.Controls = slices.Clone(q.Line.Controls)
	for i := range q.Line.Controls {
		q.Line.Controls[i].People = 0
	}
	q.Line.Changing.Tasks = []line.ChangeTask{{Name: "wash the pockets", Machine: "overhead proofer", When: line.LockedOut, For: line.ForAllergens, Time: 600, People: 2}}
	_, err := q.Solve()
	assert.ErrorContains(t, err, "people is 1: want at least 2")
	q.Allergens = line.PlainFirst
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "buns", out.Runs[0].Name)
	assert.Empty(t, out.Runs[1].CarriedOver)
	q.Allergens, q.Orders[1].After = line.CleanedBetween, []string{"buns"}
	_, err = q.Solve()
	assert.NoError(t, err, "nor with the order asked for")
}

func TestDayPlanRacks(t *testing.T) {
	q := day(t)
	out, err := q.Solve()
	require.NoError(t, err)
	q.Line.FinalProof.Available = out.RacksAtOnce
	out, err = q.Solve()
	require.NoError(t, err)
	assert.False(t, out.Conditions.Has(line.RacksShort))
	q.Line.FinalProof.Available--
	out, err = q.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(line.RacksShort))
}

func neverDue(q *line.DayPlan) {
	for i := range q.Orders {
		q.Orders[i].Due = 0
	}
}

func TestDayPlanRefuses(t *testing.T) {
	for _, c := range []struct {
		id     string
		spoil  func(*line.DayPlan)
		fields []string
	}{
		{"nobody, no words, no start", func(q *line.DayPlan) { q.People, q.Aim, q.Allergens, q.Start = 0, "", "", 0 }, []string{"start", "people", "aim", "allergens"}},
		{"no orders", func(q *line.DayPlan) { q.Orders = nil }, []string{"orders"}},
		{"due times in the past", func(q *line.DayPlan) { q.Orders[1].Due, q.Orders[3].Due = unit.Hours(6), unit.Hours(22) }, []string{"orders[1].due", "orders[3].due"}},
		{"products that the line cannot carry", func(q *line.DayPlan) { q.Orders[0].Product.Across, q.Orders[2].Pieces = 5, 0 }, []string{"orders[0].product.across", "orders[2].pieces"}},
		{"the line once", func(q *line.DayPlan) { q.Line.Divider.StrokesLow = 0 }, []string{"line.divider.strokes_low"}},
		{"no due times", func(q *line.DayPlan) { neverDue(q) }, []string{"aim"}},
		{"no aim, where nothing is due", func(q *line.DayPlan) { neverDue(q); q.Aim = "" }, []string{"aim"}},
		{"a circle", func(q *line.DayPlan) { q.Orders[0].After, q.Orders[2].After = []string{"loaves"}, []string{"buns"} }, []string{"orders"}},
		{"names", func(q *line.DayPlan) { q.Orders[1].Name, q.Orders[2].After = "buns", []string{"cakes"} }, []string{"orders[1].name", "orders[2].after[0]"}},
		{"some baked", func(q *line.DayPlan) {
			q.Orders[2].Bake, q.Orders[2].Product.Baking, q.Orders[3].BakeTemp = 0, line.Baking{}, unit.Celsius(900)
		}, []string{"orders[2].bake", "orders[3].bake_temp"}},
		{"given changeovers", func(q *line.DayPlan) {
			q.Changeovers = []line.GivenChangeover{{"buns", "cakes", 60}, {"buns", "buns", 60}, {"buns", "rolls", -1}, {"buns", "rolls", 60}}
		}, []string{"changeovers[0].next", "changeovers[1].next", "changeovers[2].time", "changeovers[3].next"}},
		{"no controls", func(q *line.DayPlan) {
			q.Line.Controls, q.Line.Changing = nil, line.Changing{}
			for i := range q.Orders {
				q.Orders[i].Product.Fittings = nil
			}
		}, []string{"line.controls", "line.changing", "changeover"}},
		{"odd numbers", func(q *line.DayPlan) {
			q.Orders[0].Weight, q.Orders[0].Packing, q.Changeover, q.OvenReset = -1, -1, -1, -1
		}, []string{"changeover", "oven_reset", "orders[0].weight", "orders[0].packing"}},
		{"too many", func(q *line.DayPlan) { q.Orders = make([]line.DayOrder, 61) }, []string{"orders"}},
	} {
		q := day(t)
		c.spoil(&q)
		var fields []string
		for _, e := range reckon.Wrong(q) {
			fields = append(fields, e.Field)
			assert.Equal(t, "day-plan", e.Func)
		}
		assert.Equal(t, c.fields, fields, c.id)
		_, err := q.Solve()
		assert.Error(t, err, c.id)
	}
	// One that is due is enough, and none is needed where only the finish counts.
	q := day(t)
	neverDue(&q)
	q.Aim = line.EarliestFinish
	assert.Empty(t, reckon.Wrong(q))
	q.Aim, q.Orders[3].Due = line.LeastWorst, unit.Hours(30)
	assert.Empty(t, reckon.Wrong(q))
	// Lists beyond their bounds are told, and nothing of what is in them.
	q = day(t)
	q.Changeovers = make([]line.GivenChangeover, 3661)
	list := reckon.Wrong(q)
	require.Len(t, list, 1)
	assert.Equal(t, "changeovers", list[0].Field)
	// One pair without its changeover, where the line's own cannot be found.
	q = day(t)
	q.Orders, q.Line.Controls, q.Line.Changing = q.Orders[:2], nil, line.Changing{}
	for i := range q.Orders {
		q.Orders[i].Product.Fittings = nil
	}
	q.Changeovers = []line.GivenChangeover{{"buns", "rolls", 60}}
	_, err := q.Solve()
	assert.ErrorContains(t, err, `changeover is missing: want the time of any changeover, or changeovers for all pairs, such as from "rolls" to "buns", or the line's controls and changing`)
	q.Changeovers = append(q.Changeovers, line.GivenChangeover{"rolls", "buns", 0})
	assert.Empty(t, reckon.Wrong(q))
	// Orders that cannot be made as asked are each named.
	q = day(t)
	q.Orders[0].Product.RateHigh, q.Orders[2].Product.RateHigh = 5, 5
	_, err = q.Solve()
	require.Error(t, err)
	assert.Contains(t, err.Error(), "orders[0]")
	assert.Contains(t, err.Error(), "orders[2]")
	// A step that takes two is told once, not for each pair.
	q = day(t)
	q.People = 1
	_, err = q.Solve()
	require.Error(t, err)
	assert.Equal(t, 1, strings.Count(err.Error(), "people is 1"))
}

func TestDayPlanWorking(t *testing.T) {
	var workings []*reckon.Working
	q := day(t)
	q.Start += 0.5
	q.Orders[0].Due -= unit.Hours(3)
	q.Orders[1].Due = 0
	_, w, err := reckon.Explain(q)
	require.NoError(t, err)
	workings = append(workings, w)
	assert.NoError(t, testdata.Retrace(w, 1e-9))
	// For other aims, through a planned oven, with changeovers that are given, and where nothing is due.
	worst, oven, given, free := q, ovenDay(t, line.DeckOven), day(t), day(t)
	worst.Aim = line.LeastWorst
	given.Orders = given.Orders[:2]
	given.Changeovers = []line.GivenChangeover{{"buns", "rolls", 7200.5}, {"", "rolls", 600}, {"buns", "", 300}, {"rolls", "", 200}}
	given.Orders[0].Weight = 3
	given.Orders[0].Due, given.Orders[1].Due = unit.Hours(23), 0 // one alone, and late
	free.Aim, free.Orders = line.EarliestFinish, free.Orders[:1]
	free.Orders[0].Due = 0
	plain := free // nothing is dusted, nor cooled with ice
	plain.Line.Dusters, plain.Line.Controls, plain.Line.Changing, plain.Shift.Tap = nil, nil, line.Changing{}, unit.Celsius(4)
	for id, q := range map[string]line.DayPlan{"worst": worst, "oven": oven, "given": given, "free": free, "plain": plain} {
		out, w, err := reckon.Explain(q)
		require.NoError(t, err, id)
		workings = append(workings, w)
		assert.NoError(t, testdata.Retrace(w, 1e-9), id)
		totals := map[string]string{}
		for _, s := range w.Steps {
			if strings.HasSuffix(s.Symbol, "_1") {
				totals[s.Symbol] = s.Expression // the last of that symbol is the day's
			}
		}
		if id == "given" { // what one alone that is late comes to
			assert.Equal(t, []string{"min(1, l_1)", "3*l_1", "max(0, l_1)"}, []string{totals["N_1"], totals["L_1"], totals["W_1"]})
		}
		// Ice and dusting flour are worked out where there are any.
		assert.Equal(t, id == "plain", out.Dusting == 0, id)
		for symbol, want := range map[string]unit.Mass{"S_ice": out.Ice, "S_dust": out.Dusting} {
			i := slices.IndexFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == symbol })
			if assert.Equal(t, want > 0, i >= 0, "%s: %s", id, symbol) && i >= 0 {
				assert.InDelta(t, float64(want), w.Steps[i].Value, 1e-6, "%s: %s", id, symbol)
			}
		}
	}
	outlinedBesideThePlan(t, "TestDayPlanWorking", workings...)
}

// A day of so many orders, made of the demo plant's in other numbers.
func longDay(t testing.TB, n int) line.DayPlan {
	q := day(t)
	four := q.Orders
	q.Orders = nil
	for i := range n {
		o := four[i%4]
		o.Name += " " + string(rune('A'+i/4))
		o.Pieces = 100 + 10*(i*7%5) // a batch
		o.Due = unit.Hours(25 + float64(i*11%n)*0.6)
		q.Orders = append(q.Orders, o)
	}
	return q
}

func BenchmarkDayPlan(b *testing.B) {
	for _, n := range []int{4, 12, 60} {
		b.Run(map[int]string{4: "4", 12: "12", 60: "60"}[n], func(b *testing.B) {
			q := longDay(b, n)
			var out line.DayPlanResult
			b.ReportAllocs()
			for b.Loop() {
				var err error
				if out, err = q.Append(out.Runs[:0]); err != nil {
					b.Fatal(err)
				}
			}
			proven := 1.0
			if out.Conditions.Has(line.NotProven) {
				proven = 0
			}
			b.ReportMetric(proven, "proven")
			b.ReportMetric(float64(out.Total.Late), "late")
			b.ReportMetric(float64(out.Least.Late), "late-at-least")
			b.ReportMetric(float64(out.Total.Finish)/float64(out.Least.Finish), "finish/least")
		})
	}
}
