package divider_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func TestOilThereAndBack(t *testing.T) {
	for _, minutes := range []float64{1, 7.5, 480} {
		for _, rate := range []float64{0.5, 12, 333} {
			used, err := divider.OilUse{Valves: []unit.VolumeRate{unit.VolumeRate(rate), unit.VolumeRate(rate)}, Scaling: unit.Minutes(minutes), Runs: 1}.Solve()
			require.NoError(t, err)
			open, err := divider.OilTimeForUse{Valves: []unit.VolumeRate{unit.VolumeRate(rate), unit.VolumeRate(rate)}, Use: used.PerRun}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, minutes*60, float64(open.Open), 1e-12)
			each, err := divider.OilRateForUse{Use: used.PerRun, Open: open.Open, ValveCount: 2}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, rate, each.OilRate.MillilitresPerMinute(), 1e-12)
		}
	}
}

// Time left open costs exactly as much as time scaled, and is all loss.
func TestOilLeftOpen(t *testing.T) {
	valves := []unit.VolumeRate{10}
	scaled, err := divider.OilUse{Valves: valves, Scaling: unit.Minutes(60), Runs: 3}.Solve()
	require.NoError(t, err)
	left, err := divider.OilUse{Valves: valves, LeftOpen: unit.Minutes(60), Runs: 3, PiecesPerRun: 100}.Solve()
	require.NoError(t, err)
	assert.Equal(t, scaled.PerDay, left.PerDay)
	assert.Equal(t, left.PerDay, left.LostDay)
	assert.Equal(t, unit.Percent(100), left.LostShare)
	assert.Zero(t, scaled.LostDay)
	assert.Zero(t, scaled.OilPerPiece, "no pieces were given")
	assert.Zero(t, left.OilPerPiece, "what runs while scaling stops is on no piece")
	assert.True(t, left.Cautions.Has(reckon.OilSlip))
}

func TestOilRefuses(t *testing.T) {
	_, err := divider.OilUse{}.Solve()
	assert.Equal(t, []string{"valves", "scaling", "runs"}, refusedFields(err))
	_, err = divider.OilUse{Valves: []unit.VolumeRate{1, 0, -2, unit.VolumeRate(math.NaN()), 10001}, Scaling: -1, LeftOpen: unit.Hours(200), Runs: 1001, PiecesPerRun: -1}.Solve()
	assert.Equal(t, []string{"valves[1]", "valves[2]", "valves[3]", "valves[4]", "scaling", "left_open", "runs", "pieces_per_run"}, refusedFields(err))
	_, err = divider.OilUse{Valves: make([]unit.VolumeRate, 101), Scaling: 1, Runs: 1}.Solve()
	assert.Contains(t, refusedFields(err), "valves")
	_, err = divider.OilTimeForUse{Valves: []unit.VolumeRate{1e-9}, Use: 0}.Solve()
	assert.Equal(t, []string{"use", "valves"}, refusedFields(err))
	_, err = divider.OilRateForUse{Use: unit.Volume(math.Inf(1)), Open: 0.5}.Solve()
	assert.Equal(t, []string{"use", "open", "valve_count"}, refusedFields(err))
}

func FuzzOil(f *testing.F) {
	f.Add(12.0, 8.0, 1800.0, 60.0, 4, 900)
	f.Add(1e-320, 1e-320, 5e-324, 5e-324, 1, 1)
	f.Fuzz(func(t *testing.T, a, b, scaling, left float64, runs, pieces int) {
		valves := []unit.VolumeRate{unit.VolumeRate(a), unit.VolumeRate(b)}
		for _, run := range []func() (any, error){
			func() (any, error) {
				return (divider.OilUse{Valves: valves, Scaling: unit.Duration(scaling), LeftOpen: unit.Duration(left), Runs: runs, PiecesPerRun: pieces}).Solve()
			},
			func() (any, error) {
				return (divider.OilTimeForUse{Valves: valves, Use: unit.Volume(scaling)}).Solve()
			},
			func() (any, error) {
				return (divider.OilRateForUse{Use: unit.Volume(a), Open: unit.Duration(scaling), ValveCount: runs}).Solve()
			},
		} {
			got, err := run()
			if err != nil {
				require.NotEmpty(t, reckon.InputErrors(err))
				continue
			}
			_, err = json.Marshal(got) // refuses NaN and infinity
			require.NoError(t, err)
		}
	})
}

func TestOilAllocatesNothing(t *testing.T) {
	in := divider.OilUse{Valves: []unit.VolumeRate{12, 8}, Scaling: 1800, Runs: 4, PiecesPerRun: 900}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := in.Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.OilTimeForUse{Valves: in.Valves, Use: 5000}).Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.OilRateForUse{Use: 5000, Open: 3600, ValveCount: 2}).Solve(); err != nil {
			t.Error(err)
		}
	}))
}

func BenchmarkOilUse(b *testing.B) {
	in := divider.OilUse{Valves: []unit.VolumeRate{12, 8}, Scaling: 1800, Runs: 4, PiecesPerRun: 900}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleOilUse() {
	oil, err := divider.OilUse{
		Valves:  []unit.VolumeRate{unit.MillilitresPerMinute(12), unit.MillilitresPerMinute(8)},
		Scaling: unit.Minutes(40), LeftOpen: unit.Minutes(10), Runs: 6,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s a day, %s of it run away while scaling stopped\n", oil.PerDay, oil.LostDay)
	fmt.Println(oil.Cautions.Sentences()[1])
	// Output:
	// 6 l a day, 1.2 l of it run away while scaling stopped
	// Oil on the floor makes people fall: shut the oil whenever scaling stops and wipe spills at once.
}

func ExampleOilTimeForUse() {
	can, err := divider.OilTimeForUse{Valves: []unit.VolumeRate{12, 8}, Use: unit.Litres(5)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("the can is empty after", can.Open)
	// Output:
	// the can is empty after 4 h 10 min
}

func ExampleOilRateForUse() {
	valve, err := divider.OilRateForUse{Use: unit.Litres(3), Open: unit.Hours(4), ValveCount: 2}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("set each valve to", valve.OilRate)
	// Output:
	// set each valve to 6.25 ml/min
}
