package line_test

import (
	"fmt"
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

// ovenDay is three orders of the demo plant with a changeover of one time for all, through one oven.
func ovenDay(t testing.TB, kind line.OvenKind) line.DayPlan {
	t.Helper()
	q := day(t)
	q.Orders = q.Orders[:3]
	q.Changeover = unit.Minutes(12)
	q.Line.Oven = line.Oven{Kind: kind, Places: 7, Loading: unit.Minutes(3)}
	if kind == line.TunnelOven {
		q.Line.Oven = line.Oven{Kind: kind, Belt: 24_000}
	}
	for i := range q.Orders {
		o := &q.Orders[i]
		o.Product.Baking = line.Baking{Time: o.Bake, PerLoad: o.Product.PerCarrier}
		if o.Bake = 0; kind == line.TunnelOven {
			o.Product.Baking.PerLoad = 1200
		}
		o.BakeTemp = unit.Celsius(220)
	}
	q.Orders[1].Product.Baking.Time = q.Orders[0].Product.Baking.Time // baked alike
	return q
}

// The day is the orders one by one on the clock of line-clock, in the order and from the starts of day-plan; the oven, followed load by
// load through all orders, takes each when the clock says.
func TestDayClockIsTheDayAndItsClocks(t *testing.T) {
	for _, kind := range []line.OvenKind{line.DeckOven, line.RackOven, line.TunnelOven} {
		q := line.DayClock{Day: ovenDay(t, kind)}
		plan, err := q.Day.Solve()
		require.NoError(t, err)
		out, err := q.Solve()
		require.NoError(t, err)
		require.Len(t, out.Runs, 3)
		assert.Equal(t, plan.Ready, out.Ready)
		assert.Equal(t, plan.RacksAtOnce, out.Racks.Most)
		free := make([]float64, max(1, q.Day.Line.Oven.Places))
		for i, r := range out.Runs {
			assert.Equal(t, plan.Runs[i].Name, r.Name)
			assert.Equal(t, plan.Runs[i].Changeover, r.Changeover)
			o := q.Day.Orders[slices.IndexFunc(q.Day.Orders, func(o line.DayOrder) bool { return o.Name == r.Name })]
			alone, err := line.Clock{Line: q.Day.Line, Order: o.Order, Shift: q.Day.Shift, Start: plan.Runs[i].Batches[0]}.Solve()
			require.NoError(t, err)
			alone.Findings = nil
			assert.Equal(t, alone, r.Clock, r.Name)
			assert.InDelta(t, float64(plan.Runs[i].LastOven), float64(r.Clock.LastOven), 1e-6)
			assert.InDelta(t, float64(plan.Runs[i].FirstOven), float64(r.Clock.FirstOven), 1e-6)
			for b := range plan.Runs[i].Batches {
				assert.InDelta(t, float64(plan.Runs[i].Batches[b]), float64(r.Clock.Batches[b].Mix), 1e-6)
			}
			for _, k := range r.Clock.Loads {
				place := slices.Index(free, slices.Min(free))
				in := max(free[place], float64(k.Ready))
				assert.InDelta(t, in, float64(k.In), 1e-6, "%s: %s, load %d", kind, r.Name, k.Load)
				b := o.Product.Baking
				if free[place] = in + float64(b.Time+q.Day.Line.Oven.Loading); kind == line.TunnelOven {
					free[place] = in + float64(k.LastPiece-k.FirstPiece+1)*float64(b.Time)/float64(b.PerLoad)
				}
			}
		}
	}
}

// What is empty between two orders is told with what lies there, and a changeover as short as it says fills it.
func TestDayClockMendsWhatLiesBetween(t *testing.T) {
	q := line.DayClock{Day: ovenDay(t, line.RackOven)}
	q.Day.Orders = q.Day.Orders[:2]
	q.Day.Changeover = unit.Minutes(55)
	out, err := q.Solve()
	require.NoError(t, err)
	a, b := out.Runs[0].Clock, out.Runs[1].Clock
	empty := b.FirstOven - a.Loads[len(a.Loads)-1].Out
	require.Greater(t, empty, unit.Minutes(5))
	require.Len(t, out.Findings, 1)
	f := out.Findings[0]
	assert.Equal(t, "oven", f.At)
	assert.Equal(t, out.Runs[1].Name, f.Order)
	minute := int(math.Round(a.Loads[len(a.Loads)-1].Out.Minutes())) - 24*60
	assert.Contains(t, f.Says, fmt.Sprintf("it stands without pieces for %v from %d:%02d of day 2, between ", empty, minute/60, minute%60))
	assert.Contains(t, f.Says, ": the changeover takes 55 min")
	assert.Contains(t, f.Mend, "change over in "+(unit.Minutes(55)-empty).String())
	q.Day.Changeover -= empty
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Empty(t, out.Findings)
	q.Day.Changeover += 2
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Len(t, out.Findings, 1, "two seconds longer and it is empty again")

	// Another baking: emptied and reset.
	q.Day = ovenDay(t, line.RackOven)
	q.Day.OvenReset = unit.Hours(1)
	out, err = q.Solve()
	require.NoError(t, err)
	assert.True(t, slices.ContainsFunc(out.Findings, func(f line.Finding) bool {
		return f.Mend == "make orders that bake alike one after the other"
	}), "%v", out.Findings)
	// A mixer that comes too late.
	q.Day = ovenDay(t, line.RackOven)
	q.Day.Orders = q.Day.Orders[:2]
	q.Day.Changeover = 60
	for i := range q.Day.Orders {
		q.Day.Orders[i].Product.FloorTime = unit.Minutes(90)
	}
	out, err = q.Solve()
	require.NoError(t, err)
	assert.True(t, slices.ContainsFunc(out.Runs, func(r line.RunClock) bool { return r.GapLimit != "oven" }))
}

// Why the oven is empty between two orders, for how long, and what would mend it.
func TestDayClockSaysWhyTheOvenIsEmpty(t *testing.T) {
	for _, c := range []struct {
		id, limit string
		bend      func(q *line.DayPlan)
		why, mend string // EMPTY stands for how long it is, SHORT for what is left of the changeover
	}{
		{
			"the changeover is long", "changeover", func(q *line.DayPlan) { q.Changeover = unit.Minutes(55) },
			"the changeover takes 55 min", "change over in SHORT, if the mixer keeps up, or make another order between them",
		},
		{
			"the second proofs for long", "changeover", func(q *line.DayPlan) {
				q.Changeover, q.Orders[1].Product.FinalStay, q.Orders[1].After = unit.Minutes(25), unit.Minutes(150), []string{"buns"}
			}, "the changeover takes 25 min", "no changeover is short enough: make an order between them that comes to the oven sooner",
		},
		{
			"the mixer is late", "mixer", func(q *line.DayPlan) {
				q.Changeover, q.Orders[1].Product.FloorTime, q.Orders[1].After = 60, unit.Minutes(90), []string{"buns"}
			}, "the first batch of the one comes too late after the last of the other", "mix it EMPTY sooner, in another bowl or mixer",
		},
		{
			"it is reset", "oven", func(q *line.DayPlan) {
				q.OvenReset = unit.Hours(1)
				q.Orders[1].BakeTemp = unit.Celsius(200)
			}, "the oven is emptied and made ready for another baking", "make orders that bake alike one after the other",
		},
	} {
		q := line.DayClock{Day: ovenDay(t, line.RackOven)}
		q.Day.Orders = q.Day.Orders[:2]
		c.bend(&q.Day)
		out, err := q.Solve()
		require.NoError(t, err, c.id)
		a, b := out.Runs[0], out.Runs[1]
		assert.Equal(t, c.limit, b.GapLimit, c.id)
		from := a.Clock.Loads[len(a.Clock.Loads)-1].Out
		empty := b.Clock.FirstOven - from
		minute := int(math.Round(from.Minutes()))
		at := fmt.Sprintf("%d:%02d", minute/60, minute%60)
		if minute >= 24*60 {
			at = fmt.Sprintf("%d:%02d of day 2", minute/60-24, minute%60)
		}
		fill := strings.NewReplacer("EMPTY", empty.String(), "SHORT", (q.Day.Changeover - empty).String())
		assert.Contains(t, out.Findings, line.Finding{
			Order: b.Name, At: "oven", Says: "it stands without pieces for " + empty.String() + " from " + at + ", between " + a.Name + " and " + b.Name + ": " + fill.Replace(c.why), Mend: fill.Replace(c.mend),
		}, c.id)
	}
}

// What holds for the day is that of all its orders: the first, the last, and all of their remarks.
func TestDayClockOfAllOrders(t *testing.T) {
	q := line.DayClock{Day: ovenDay(t, line.DeckOven)}
	plan, err := q.Day.Solve()
	require.NoError(t, err)
	out, err := q.Solve()
	require.NoError(t, err)
	earliest, first, last := out.Runs[0].Clock.Earliest, out.Runs[0].Clock.FirstOven, out.Runs[0].Clock.LastOven
	cautions := plan.Cautions
	for _, r := range out.Runs {
		earliest, first, last = min(earliest, r.Clock.Earliest), min(first, r.Clock.FirstOven), max(last, r.Clock.LastOven)
		cautions |= r.Clock.Cautions
		assert.Empty(t, r.Clock.Findings, "they stand with those of the day")
	}
	assert.Equal(t, []unit.Duration{earliest, first, last, plan.Ready}, []unit.Duration{out.Earliest, out.FirstOven, out.LastOven, out.Ready})
	assert.Less(t, out.Earliest, q.Day.Start, "the sponge")
	assert.Equal(t, cautions, out.Cautions)
	assert.True(t, out.Cautions.Has(reckon.HotOven|reckon.Spoilage))
	assert.Zero(t, out.Stations, "no moment was named")
	assert.Zero(t, out.Piece, "no piece was named")
	// A piece without a moment has its times, and stands nowhere.
	q.Order, q.Piece = "rolls", 1
	out, err = q.Solve()
	require.NoError(t, err)
	for _, r := range out.Runs {
		if r.Name == "rolls" {
			assert.Equal(t, r.Clock.Batches[0].FirstCut, out.Piece.Cut)
			assert.Equal(t, r.Clock.FirstOven, out.Piece.Oven)
		}
	}
	assert.Empty(t, out.Piece.Station)
	assert.Empty(t, out.Stations)
	// Where the divider waits, an order's findings say whose they are.
	q = line.DayClock{Day: ovenDay(t, line.DeckOven)}
	q.Day.Line.FinalProof.Available = 1
	out, err = q.Solve()
	require.NoError(t, err)
	racks := 0
	for _, f := range out.Findings {
		if f.At == "racks" {
			racks++
			assert.Empty(t, f.Order, "of all orders together")
			assert.Equal(t, fmt.Sprintf("have %d, or start the order that fills them then later", out.Racks.Most), f.Mend)
			assert.True(t, strings.HasPrefix(f.Says, fmt.Sprintf("up to %d are taken at once and there are 1: ", out.Racks.Most)), f.Says)
		} else {
			assert.NotEmpty(t, f.Order)
		}
	}
	assert.Equal(t, 1, racks)
	assert.True(t, out.Conditions.Has(line.RacksShort))
}

// Racks are those of all orders together: as many as are counted are enough.
func TestDayClockCountsRacksOfAllOrders(t *testing.T) {
	q := line.DayClock{Day: ovenDay(t, line.RackOven), Levels: true}
	out, err := q.Solve()
	require.NoError(t, err)
	most, alone := 0, 0
	for _, l := range out.Racks.Levels {
		most = max(most, l.Racks)
	}
	for _, r := range out.Runs {
		alone = max(alone, r.Clock.Racks.Most)
	}
	assert.Equal(t, out.Racks.Most, most)
	assert.GreaterOrEqual(t, most, alone)
	assert.Zero(t, out.Racks.Levels[len(out.Racks.Levels)-1].Racks)
	for _, have := range []int{most, most - 1} {
		q.Day.Line.FinalProof.Available = have
		out, err := q.Solve()
		require.NoError(t, err)
		short := slices.ContainsFunc(out.Findings, func(f line.Finding) bool { return f.At == "racks" })
		assert.Equal(t, have < most, short)
		assert.Equal(t, have < most, out.Conditions.Has(line.RacksShort))
	}
}

// A piece of an order is where the stations of the day say.
func TestDayClockSaysWhereAPieceIs(t *testing.T) {
	q := line.DayClock{Day: ovenDay(t, line.DeckOven)}
	for hours := 22.5; hours < 34; hours += 0.75 {
		q.At = unit.Hours(hours)
		for _, name := range []string{"buns", "rolls", "loaves"} {
			q.Order, q.Piece = name, 700
			out, err := q.Solve()
			require.NoError(t, err)
			i := slices.IndexFunc(out.Stations, func(s line.Station) bool {
				return s.Order == name && s.FirstPiece <= q.Piece && q.Piece <= s.LastPiece
			})
			if i < 0 {
				assert.Contains(t, []string{"not mixed yet", "baked"}, out.Piece.Station)
			} else {
				assert.Equal(t, out.Stations[i].Station, out.Piece.Station)
			}
		}
	}
}

func TestDayClockRefuses(t *testing.T) {
	for _, c := range []struct {
		id    string
		spoil func(*line.DayClock)
		want  []string
	}{
		{"the day", func(q *line.DayClock) { q.Day.People = 0 }, []string{"day.people"}},
		{"the plan of an order", func(q *line.DayClock) { q.Day.Orders[1].Pieces = 0 }, []string{"day.orders[1].pieces"}},
		{"no such order", func(q *line.DayClock) { q.Order, q.Piece = "cake", 1 }, []string{"order"}},
		{"whose piece", func(q *line.DayClock) { q.Piece = 1 }, []string{"order"}},
		{"which piece", func(q *line.DayClock) { q.Order = "buns" }, []string{"piece"}},
		{"too far on", func(q *line.DayClock) { q.Order, q.Piece = "buns", 99_999 }, []string{"piece"}},
		{"too many racks to list", func(q *line.DayClock) {
			q.Day.Line.Oven, q.Levels = line.Oven{}, true
			for i := range q.Day.Orders {
				q.Day.Orders[i].Product.Baking = line.Baking{}
			}
			q.Day.Orders[1].Pieces, q.Day.Orders[1].Product.PerCarrier = 12_000, 1
		}, []string{"levels"}},
		{"another day", func(q *line.DayClock) { q.At = unit.Hours(300) }, []string{"at"}},
		{"all at once", func(q *line.DayClock) { q.Day.People, q.At, q.Piece = 99, unit.Hours(-50), -2 }, []string{"day.people", "piece", "at"}},
	} {
		q := line.DayClock{Day: ovenDay(t, line.DeckOven)}
		c.spoil(&q)
		_, err := q.Solve()
		var got []string
		for _, e := range reckon.InputErrors(err) {
			assert.Equal(t, "day-clock", e.Func, c.id)
			got = append(got, e.Field)
		}
		assert.Equal(t, c.want, got, c.id)
	}
}

// The last piece that is made can be followed, and no other beyond; what cannot be made is told in the name of the day's clock.
func TestDayClockLastPiece(t *testing.T) {
	q := line.DayClock{Day: ovenDay(t, line.DeckOven), Order: "buns", Piece: 6040}
	out, err := q.Solve()
	require.NoError(t, err)
	for _, r := range out.Runs {
		if r.Name == "buns" {
			assert.Equal(t, r.Clock.LastOven, out.Piece.Oven)
		}
	}
	assert.Empty(t, out.Piece.Station, "no moment was named")
	assert.Empty(t, out.Stations)
	q.Piece++
	_, err = q.Solve()
	assert.EqualError(t, err, "day-clock: piece is 6041: want one of the 6040 that are made")
	q = line.DayClock{Day: ovenDay(t, line.DeckOven)}
	q.Day.Orders[0].Product.RateHigh = 5
	_, err = q.Solve()
	_, dayErr := q.Day.Solve()
	require.Error(t, dayErr)
	assert.EqualError(t, err, strings.ReplaceAll(dayErr.Error(), "day-plan", "day-clock"))
}

// A day in which the divider waits for the mixer says so, as the clock of the order does.
func TestDayClockSaysThatTheMixerLimits(t *testing.T) {
	q := line.DayClock{Day: day(t)}
	q.Day.Orders = q.Day.Orders[:1]
	o := &q.Day.Orders[0]
	wait := waiting(t)
	o.Order, q.Day.Shift, q.Day.Line, o.Bake, o.BakeTemp = wait.Order, wait.Shift, wait.Line, 0, unit.Temp{}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(reckon.RateLimited))
	q.Day.Shift.Mixer.Cycle = 60
	out, err = q.Solve()
	require.NoError(t, err)
	assert.False(t, out.Conditions.Has(reckon.RateLimited))
}

func TestDayClockWorking(t *testing.T) {
	var workings []*reckon.Working
	for _, kind := range []line.OvenKind{line.DeckOven, line.TunnelOven} {
		q := line.DayClock{Day: ovenDay(t, kind), Order: "rolls", Piece: 99, At: unit.Hours(26)}
		_, w, err := reckon.Explain(q)
		require.NoError(t, err)
		workings = append(workings, w)
		assert.NoError(t, retrace(w))
	}
	outlinedBesideThePlan(t, "TestDayClockWorking", workings...)
}

func BenchmarkDayClock(b *testing.B) {
	q := line.DayClock{Day: ovenDay(b, line.RackOven)}
	var out line.DayClockResult
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if out, err = q.Append(out.Runs[:0]); err != nil {
			b.Fatal(err)
		}
	}
	if len(out.Runs) == 0 {
		b.Fatal("there are no orders")
	}
}

func ExampleDayClock() {
	data, _ := testdata.Scenario("demo.json")
	s, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	s.Line.Oven = line.Oven{Kind: line.TunnelOven} // in place of its decks
	baking := line.Baking{Time: unit.Minutes(15), PerLoad: 1100}
	for i := range s.Orders[:2] {
		s.Orders[i].Product.Baking = baking
	}
	out, err := line.DayClock{
		Day: line.DayPlan{
			Line: s.Line, Shift: s.Shift,
			DayTerms: line.DayTerms{Start: unit.Hours(22), People: 2, Aim: line.FewestLate, Allergens: line.CleanedBetween},
			Orders: []line.DayOrder{
				{Name: "buns", Order: s.Orders[0], DayTimes: line.DayTimes{Due: unit.Hours(31), Packing: unit.Minutes(40)}},
				{Name: "rolls", Order: s.Orders[1], DayTimes: line.DayTimes{Due: unit.Hours(30), Packing: unit.Minutes(40)}},
			},
		},
		Order: "rolls", Piece: 700, At: unit.Hours(25),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range out.Runs {
		fmt.Printf("%s: mixing from %v, in the oven from %v to %v\n", r.Name, r.Clock.Start, r.Clock.FirstOven, r.Clock.LastOven)
	}
	fmt.Println("at one, roll 700 is in the", out.Piece.Station)
	for _, f := range out.Findings {
		fmt.Printf("%s: %s; %s\n", f.At, f.Says, f.Mend)
	}
	// Output:
	// buns: mixing from 22 h, in the oven from 23 h 9 min 41 s to 24 h 55 min 35 s
	// rolls: mixing from 24 h 11 min 50 s, in the oven from 25 h 26 min 55 s to 26 h 50 min 53 s
	// at one, roll 700 is in the final proof
	// oven: it stands without pieces for 16 min 20 s from 1:11 of day 2, between buns and rolls: the changeover takes 24 min; change over in 7 min 40 s, if the mixer keeps up, or make another order between them
	// oven: pieces that are proofed wait for it up to 1 min 7 s: a load goes in as there is room, and it was ready sooner than the ones before it let it in; let no run end with a part-filled rack, or allow a stay of 51 min 7 s in the final proof
}

// The day's time in the oven stands in place of the product's.
func TestDayBakesInItsOwnTime(t *testing.T) {
	q := line.DayClock{Day: ovenDay(t, line.DeckOven)}
	q.Day.Orders[0].Bake = unit.Minutes(21)
	out, err := q.Solve()
	require.NoError(t, err)
	for _, r := range out.Runs {
		k := r.Clock.Loads[0]
		if r.Name == "buns" {
			assert.InDelta(t, 21*60, float64(k.Out-k.In), 1e-6)
		}
	}
}
