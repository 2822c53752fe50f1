package proof_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// The run and the closed forms share no arithmetic but the clock, and must
// agree to the last bit in a steady run.
func TestRunMeetsTheClosedForms(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 400 {
		p, across := randomProofer(r)
		strokes := unit.StrokesPerMinute(1 + 60*r.Float64())
		dwell, err := proof.Dwell{Proofer: p, Across: across, Strokes: strokes}.Solve()
		require.NoError(t, err)
		pieces := 1 + r.IntN(2*dwell.Inside+20*across)
		closed, err := proof.Clear{Proofer: p, Across: across, Strokes: strokes, Pieces: pieces}.Solve()
		require.NoError(t, err)
		run, err := proof.Run{Proofer: p, Across: across, Strokes: strokes, Pieces: pieces}.Solve()
		require.NoError(t, err)
		require.Equal(t, pieces, run.PiecesIn)
		require.Equal(t, pieces, run.PiecesOut)
		require.Equal(t, dwell.Dwell, run.Shortest)
		require.Equal(t, dwell.Dwell, run.Longest)
		require.InEpsilon(t, float64(dwell.Dwell), float64(run.MeanDwell), 1e-12)
		require.Equal(t, closed.FirstOut, run.FirstOut)
		require.Equal(t, closed.LastIn, run.LastIn)
		require.Equal(t, closed.LastOut, run.LastOut)
		require.Equal(t, closed.ClearOut, run.ClearOut)
		if pieces > dwell.Inside+10*across {
			require.Equal(t, closed.Stranded, run.MostInside)
		} else {
			require.LessOrEqual(t, run.MostInside, closed.Stranded)
		}
		require.Zero(t, run.Stranded+run.Doubles+run.Stuck+run.Missing+run.Mixed)
		// Each piece drops, is tipped between its passes, and leaves.
		require.Equal(t, pieces*(dwell.Passes+1), run.PocketEvents)
	}
}

// randomPattern lays disjoint ways through the pockets.
func randomPattern(r *rand.Rand, pockets int) (load, next []int) {
	order := r.Perm(pockets)
	next = make([]int, pockets)
	for len(order) > 0 {
		n := 1 + r.IntN(min(4, len(order)))
		way := order[:n]
		order = order[n:]
		if len(load) > 0 && r.IntN(3) == 0 {
			continue // leave these pockets unused
		}
		load = append(load, way[0]+1)
		for i := range n - 1 {
			next[way[i]] = way[i+1] + 1
		}
	}
	return load, next
}

func TestRunMeetsTheLanes(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 400 {
		p, _ := randomProofer(r)
		load, next := randomPattern(r, p.Pockets)
		strokes := unit.StrokesPerMinute(1 + 60*r.Float64())
		lanes, err := proof.Lanes{Proofer: p, Load: load, Next: next, Strokes: strokes}.Solve()
		require.NoError(t, err)
		in := proof.Run{Proofer: p, Across: len(load), Load: load, Next: next, Strokes: strokes, Pieces: len(load) * (1 + r.IntN(600))}
		events, err := in.Events()
		require.NoError(t, err)
		for e := range events {
			if e.Kind != proof.EventOut {
				continue
			}
			lane := lanes.Lanes[e.Lane-1]
			require.Equal(t, lane.Dwell, e.Dwell)
			require.Equal(t, lane.Passes, e.Pass)
			require.Equal(t, lane.LastPocket, e.Pocket)
		}
		run, err := in.Solve()
		require.NoError(t, err)
		require.Equal(t, lanes.Shortest, run.Shortest)
		require.Equal(t, lanes.Longest, run.Longest)
		require.InEpsilon(t, float64(lanes.MeanDwell), float64(run.MeanDwell), 1e-12)
		require.LessOrEqual(t, run.MostInside, lanes.Inside)
		require.Zero(t, run.Doubles)
	}
}

// The usual pattern, spelt out, is the closed form of the usual proofer.
func TestLanesOfTheUsualPattern(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 300 {
		p, across := randomProofer(r)
		load := make([]int, across)
		for i := range load {
			load[i] = i + 1
		}
		want, err := proof.Dwell{Proofer: p, Across: across, Strokes: 20}.Solve()
		require.NoError(t, err)
		got, err := proof.Lanes{Proofer: p, Load: load, Strokes: 20}.Solve()
		require.NoError(t, err)
		assert.Equal(t, want.Dwell, got.Shortest)
		assert.Equal(t, want.Dwell, got.Longest)
		assert.InEpsilon(t, float64(want.Dwell), float64(got.MeanDwell), 1e-12)
		assert.Equal(t, want.Inside, got.Inside)
		assert.Equal(t, want.PieceRate, got.PieceRate)
		assert.Equal(t, want.Passes, got.Lanes[0].Passes)
	}
}

func TestLanesThatDiffer(t *testing.T) {
	// Five pockets, two across: one lane goes round three times, the other twice.
	p := proof.Proofer{Pockets: 5, Trays: 100, FirstPassTrays: 80, LastPassTrays: 60, TraysPerStroke: 1}
	out, err := proof.Lanes{Proofer: p, Load: []int{1, 2}, Strokes: 20}.Solve()
	require.NoError(t, err)
	assert.Equal(t, []proof.Lane{
		{Pocket: 1, Passes: 3, TraysTravelled: 240, LastPocket: 5, Dwell: unit.Minutes(12)},
		{Pocket: 2, Passes: 2, TraysTravelled: 140, LastPocket: 4, Dwell: unit.Minutes(7)},
	}, out.Lanes)
	assert.InDelta(t, 9.5, out.MeanDwell.Minutes(), 1e-12)
	assert.Equal(t, 380, out.Inside) // 240 + 140
	assert.InDelta(t, 380, float64(out.PieceRate)*out.MeanDwell.Minutes(), 1e-9, "content = rate x mean dwell")
	// Of one lane nothing is the least.
	_, w, err := reckon.Explain(proof.Lanes{Proofer: p, Load: []int{2}, Strokes: 20})
	require.NoError(t, err)
	for _, s := range w.Steps {
		if s.Symbol == "t_min" || s.Symbol == "t_max" {
			assert.Equal(t, "t_1", s.Expression)
		}
	}
	// One pass: from the chute straight to the discharge, 40 trays on.
	out, err = proof.Lanes{Proofer: p, Load: []int{1, 2, 3, 4, 5}, Strokes: 20}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 40, out.Lanes[0].TraysTravelled)
}

func TestLanesRefuses(t *testing.T) {
	p := proof.Proofer{Pockets: 4, Trays: 10, LastPassTrays: 10, TraysPerStroke: 1}
	for _, c := range []struct {
		id   string
		in   proof.Lanes
		want string
	}{
		{
			"collision",
			proof.Lanes{Proofer: p, Load: []int{1, 2}, Next: []int{3, 3, 0, 0}, Strokes: 20},
			"proofer-lanes: next is two pieces in pocket 3 of tray 1: lane 1 on pass 2 and lane 2 on pass 2: want a pattern in which no two pieces meet: send one of the two lanes another way",
		},
		{
			"into a loaded pocket",
			proof.Lanes{Proofer: p, Load: []int{1, 2}, Next: []int{2, 0, 0, 0}, Strokes: 20},
			"proofer-lanes: next is two pieces in pocket 2 of tray 1: lane 1 on pass 2 and lane 2 on pass 1: want a pattern in which no two pieces meet: send one of the two lanes another way",
		},
		{
			"endless round",
			proof.Lanes{Proofer: p, Load: []int{1}, Next: []int{3, 0, 4, 3}, Strokes: 20},
			"proofer-lanes: next is an endless round: lane 1 comes from pocket 4 back to pocket 3: want a pattern in which every piece leaves: 0 for the last pocket",
		},
	} {
		t.Run(c.id, func(t *testing.T) {
			_, err := c.in.Solve()
			require.Error(t, err)
			assert.Equal(t, c.want, err.Error())
		})
	}
	wrong := p
	wrong.FirstPassTrays = 11
	_, err := proof.Lanes{Proofer: wrong, Load: nil}.Solve()
	assert.Equal(t, []string{"proofer.first_pass_trays", "strokes"}, fields(err))
	_, err = proof.Lanes{Proofer: p, Load: []int{0, 2, 2, 5}, Next: []int{5, -1, 0, 0}, Strokes: 20}.Solve()
	assert.Equal(t, []string{"load[0]", "load[2]", "load[3]", "next[0]", "next[1]"}, fields(err))
	_, err = proof.Lanes{Proofer: p, Load: []int{1}, Next: []int{0}, Strokes: 20}.Solve()
	assert.Equal(t, []string{"next"}, fields(err))
	_, err = proof.Lanes{Proofer: p, Load: []int{}, Strokes: 20}.Solve()
	assert.Equal(t, []string{"load"}, fields(err))
	_, err = proof.Lanes{Proofer: p, Load: []int{1, 2, 3, 4, 1}, Strokes: 20}.Solve()
	assert.Equal(t, []string{"load"}, fields(err), "five for four pockets: which they are does not matter")
	_, err = proof.Lanes{Proofer: p, Load: []int{5}, Next: []int{0, 0, 0, 0}, Strokes: 20}.Solve()
	assert.Equal(t, []string{"load[0]"}, fields(err))

	// On trays that are loaded only every other round the same ways do not meet.
	p.Trays, p.LastPassTrays, p.TraysPerStroke = 5, 5, 2
	_, err = proof.Lanes{Proofer: p, Load: []int{1, 2}, Next: []int{2, 0, 0, 0}, Strokes: 20}.Solve()
	assert.NoError(t, err)
}

// steadyRun is ten minutes of demo, and then an end.
func steadyRun(acts ...proof.Act) proof.Run {
	return proof.Run{Proofer: demo, Across: 2, Strokes: 24, Acts: acts}
}

func TestRunStop(t *testing.T) {
	// 20 min of scaling: strokes 0 to 480. The proofer is full after 15 min.
	in := steadyRun(proof.Act{At: unit.Minutes(20), Do: proof.ActStop})
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 962, out.PiecesIn)
	assert.Equal(t, 720, out.Stranded)
	assert.Equal(t, 242, out.PiecesOut) // strokes 0 to 120
	assert.Equal(t, unit.Minutes(15), out.ClearOut)
	assert.True(t, out.Conditions.Has(proof.PiecesStranded))

	// A restart five minutes later: who was inside stayed five minutes longer.
	in.Acts = append(in.Acts, proof.Act{At: unit.Minutes(25), Do: proof.ActStart}, proof.Act{At: unit.Minutes(26), Do: proof.ActScalingOff})
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Stranded)
	assert.InDelta(t, 15, out.Shortest.Minutes(), 1e-12)
	assert.InDelta(t, 20, out.Longest.Minutes(), 1e-12)
	assert.InDelta(t, 26, out.LastIn.Minutes(), 1e-12)
	assert.InDelta(t, 26+15, out.LastOut.Minutes(), 1e-12)
}

func TestRunSpeedChange(t *testing.T) {
	// At 12 strokes/min a piece that has 6 min behind it has 9 min left at 24, 18 at 12.
	out, err := steadyRun(proof.Act{At: unit.Minutes(6), Do: proof.ActSpeed, Strokes: 12}, proof.Act{At: unit.Minutes(40), Do: proof.ActScalingOff}).Solve()
	require.NoError(t, err)
	assert.InDelta(t, 6+18, out.FirstOut.Minutes(), 1e-12)
	assert.InDelta(t, 24, out.Shortest.Minutes(), 1e-12)
	assert.InDelta(t, 30, out.Longest.Minutes(), 1e-12)
	assert.InDelta(t, 30, out.ClearOut.Minutes(), 1e-9)
}

func TestRunSpeedsUp(t *testing.T) {
	// 360 trays are 30 min at 12 strokes/min, and 15 at 24.
	in := steadyRun(proof.Act{At: unit.Minutes(40), Do: proof.ActSpeed, Strokes: 24}, proof.Act{At: unit.Minutes(60), Do: proof.ActScalingOff})
	in.Strokes = 12
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 30, out.FirstOut.Minutes(), 1e-12)
	assert.InDelta(t, 30, out.Longest.Minutes(), 1e-12)
	assert.InDelta(t, 15, out.Shortest.Minutes(), 1e-12)
}

func TestRunScalingOffAndOn(t *testing.T) {
	out, err := steadyRun(proof.Act{At: 60.5, Do: proof.ActScalingOff}, proof.Act{At: 90.5, Do: proof.ActScalingOn}, proof.Act{At: 120.5, Do: proof.ActScalingOff}).Solve()
	require.NoError(t, err)
	assert.Equal(t, 2*(25+12), out.PiecesIn) // strokes 0 to 24 and 37 to 48
	assert.Equal(t, out.PiecesIn, out.PiecesOut)
	assert.InDelta(t, 120, out.LastIn.Seconds(), 1e-12)
}

func TestRunLaneChange(t *testing.T) {
	// Rolls two across, and bread one across behind them without a clear-out:
	// what is inside is tipped on one pocket at a time and stays too long.
	mixed, err := steadyRun(proof.Act{At: unit.Minutes(20), Do: proof.ActLanes, Across: 1}, proof.Act{At: unit.Minutes(21), Do: proof.ActScalingOff}).Solve()
	require.NoError(t, err)
	assert.Equal(t, 720, mixed.Mixed)
	assert.Equal(t, mixed.PiecesIn, mixed.PiecesOut)
	assert.InDelta(t, 15, mixed.Shortest.Minutes(), 1e-9)
	assert.Greater(t, mixed.Longest, unit.Minutes(20))
	// With a clear-out nothing is mixed and each product has its own dwell.
	clean, err := steadyRun(proof.Act{At: unit.Minutes(20), Do: proof.ActScalingOff},
		proof.Act{At: unit.Minutes(35), Do: proof.ActLanes, Across: 1},
		proof.Act{At: unit.Minutes(35), Do: proof.ActScalingOn}, proof.Act{At: unit.Minutes(36), Do: proof.ActScalingOff}).Solve()
	require.NoError(t, err)
	assert.Zero(t, clean.Mixed)
	assert.InDelta(t, 15, clean.Shortest.Minutes(), 1e-9)
	assert.InDelta(t, 30, clean.Longest.Minutes(), 1e-9)
}

func TestRunFaults(t *testing.T) {
	in := steadyRun()
	in.Pieces = 2000
	in.Faults = []proof.Fault{
		{Kind: proof.FaultMissing, Stroke: 3, Lane: 1},
		{Kind: proof.FaultMissing, Stroke: 3, Lane: 2},
		{Kind: proof.FaultJam, Stroke: 10, Lane: 2, Pass: 2},
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2000, out.PiecesIn)
	assert.Equal(t, 2, out.Missing)
	// 1001 strokes; the tray comes round every 120, the piece sticks at its
	// third visit to the transfer, and strokes 130, 250, ... follow onto it.
	assert.Equal(t, 1+8, out.Stuck)
	assert.Equal(t, 8, out.Doubles)
	assert.Equal(t, 9, out.Stranded)
	assert.Equal(t, 2000-9, out.PiecesOut)
}

func TestRunRefuses(t *testing.T) {
	in := steadyRun()
	_, err := in.Solve()
	assert.Equal(t, []string{"pieces"}, fields(err))
	in = proof.Run{Proofer: demo, Across: 2, Strokes: 24, Acts: []proof.Act{
		{At: 5, Do: "dance"}, {At: 6, Do: proof.ActSpeed}, {At: 7, Do: proof.ActStop, Strokes: 3, Across: 1}, {At: 8, Do: proof.ActLanes, Across: 4}, {At: 7, Do: proof.ActStop},
	}, Faults: []proof.Fault{{Kind: "lost", Stroke: 2, Lane: 3}, {Kind: proof.FaultMissing, Stroke: 1, Lane: 1, Pass: 1}, {Kind: proof.FaultJam, Stroke: 2, Lane: 1}}}
	_, err = in.Solve()
	assert.Equal(t, []string{
		"acts[0].do", "acts[1].strokes", "acts[2].strokes", "acts[2].across", "acts[3].across", "acts[4].at",
		"faults[0].kind", "faults[1].stroke", "faults[1].pass", "faults[2].pass",
	}, fields(err)[:10])
	_, err = proof.Run{Proofer: proof.Proofer{Pockets: 200, Trays: 100_000, LastPassTrays: 1, TraysPerStroke: 1}, Across: 1, Strokes: 1, Pieces: 1}.Solve()
	assert.Equal(t, []string{"proofer.trays"}, fields(err)[:1])
	_, err = proof.Run{}.Events()
	assert.Error(t, err)
	in = steadyRun(proof.Act{At: unit.Hours(24 * 300), Do: proof.ActStop})
	in.Strokes = 1000
	_, err = in.Solve()
	assert.Equal(t, []string{"acts"}, fields(err))
}

// Faults of which it can be told beforehand that they do not come about.
func TestRunRefusesFaultsThatCannotHappen(t *testing.T) {
	missing := func(stroke, lane int) proof.Fault {
		return proof.Fault{Kind: proof.FaultMissing, Stroke: stroke, Lane: lane}
	}
	jam := func(stroke, lane, pass int) proof.Fault {
		return proof.Fault{Kind: proof.FaultJam, Stroke: stroke, Lane: lane, Pass: pass}
	}
	lanes := func(across int) []proof.Act {
		return []proof.Act{{At: 600, Do: proof.ActLanes, Across: across}}
	}
	pause := []proof.Act{{At: 60, Do: proof.ActStop}, {At: 90, Do: proof.ActSpeed, Strokes: 12}, {At: 120, Do: proof.ActStart}}
	for _, c := range []struct {
		id     string
		acts   []proof.Act
		faults []proof.Fault
		want   string // "" if the run is allowed
	}{
		{"last pass", nil, []proof.Fault{jam(1, 1, 3)}, ""},
		{"pass too many", nil, []proof.Fault{jam(1, 1, 5)}, "faults[0].pass is 5: want a whole number from 1 to 3"},
		{"pass of the lanes to come", lanes(1), []proof.Fault{jam(1, 1, 6)}, ""},
		{"pass of no lanes at all", lanes(1), []proof.Fault{jam(1, 1, 7)}, "faults[0].pass is 7: want a whole number from 1 to 6"},
		{"pass of lanes that only widen", lanes(3), []proof.Fault{jam(1, 1, 4)}, "faults[0].pass is 4: want a whole number from 1 to 3"},
		{"last stroke", nil, []proof.Fault{missing(100, 1)}, ""},
		{"stroke of no piece", nil, []proof.Fault{missing(101, 1)}, "faults[0].stroke is 101: want 1 to 100, the last stroke that drops a piece"},
		{"last stroke drops one", nil, []proof.Fault{missing(100, 2)}, "faults[0].lane is 2: want 1 to 1, the lanes of the last stroke that drops a piece"},
		{"one missing piece makes a place", nil, []proof.Fault{missing(1, 1), missing(100, 2), jam(101, 1, 1)}, ""},
		{"stroke far off, with stops", pause, []proof.Fault{missing(5000, 1)}, "faults[0].stroke is 5000: want 1 to 100, the last stroke that drops a piece"},
		{"stroke that scaling off may bring", []proof.Act{{At: 60, Do: proof.ActScalingOff}, {At: 120, Do: proof.ActScalingOn}}, []proof.Fault{missing(110, 1)}, ""},
		{"the same piece twice", nil, []proof.Fault{missing(1, 1), missing(1, 1)}, "faults[1].lane is 1: want one fault for each piece, lanes in order within a stroke"},
		{"lanes out of order", nil, []proof.Fault{missing(3, 2), missing(3, 1)}, "faults[1].lane is 1: want one fault for each piece, lanes in order within a stroke"},
		{"lane that is not loaded", nil, []proof.Fault{missing(1, 3)}, "faults[0].lane is 3: want a whole number from 1 to 2"},
		{"lane that will be loaded", lanes(3), []proof.Fault{missing(1, 3)}, ""},
	} {
		t.Run(c.id, func(t *testing.T) {
			in := steadyRun(c.acts...)
			in.Pieces, in.Faults = 199, c.faults
			_, err := in.Solve()
			if c.want == "" {
				require.NoError(t, err)
				return
			}
			require.Error(t, err)
			assert.Equal(t, "proofer-run: "+c.want, err.Error())
		})
	}
	// In a pattern of its own each lane has its own passes.
	in := proof.Run{
		Proofer: proof.Proofer{Pockets: 5, Trays: 100, LastPassTrays: 100, TraysPerStroke: 1}, Across: 2, Load: []int{1, 2}, Next: []int{3, 4, 5, 0, 0}, Strokes: 20, Pieces: 100,
		Faults: []proof.Fault{jam(1, 1, 3), jam(1, 2, 3)},
	}
	_, err := in.Solve()
	require.Error(t, err)
	assert.Equal(t, "proofer-run: faults[1].pass is 3: want a whole number from 1 to 2", err.Error())
}

// Faults that hang on the log are counted when they do not come about.
func TestRunCountsUnmetFaults(t *testing.T) {
	in := steadyRun(
		proof.Act{At: unit.Minutes(1), Do: proof.ActScalingOff}, proof.Act{At: unit.Minutes(30), Do: proof.ActLanes, Across: 3},
		proof.Act{At: unit.Minutes(30), Do: proof.ActScalingOn}, proof.Act{At: unit.Minutes(31), Do: proof.ActStop},
	)
	in.Faults = []proof.Fault{
		{Kind: proof.FaultMissing, Stroke: 1, Lane: 2},
		{Kind: proof.FaultMissing, Stroke: 2, Lane: 3},        // two across then
		{Kind: proof.FaultJam, Stroke: 3, Lane: 1, Pass: 3},   // sticks
		{Kind: proof.FaultJam, Stroke: 100, Lane: 1, Pass: 1}, // scaling is off
		{Kind: proof.FaultJam, Stroke: 730, Lane: 1, Pass: 3}, // two passes then
		{Kind: proof.FaultJam, Stroke: 735, Lane: 1, Pass: 1}, // the log ends first
		{Kind: proof.FaultMissing, Stroke: 740, Lane: 3},
		{Kind: proof.FaultMissing, Stroke: 9000, Lane: 1}, // after the end
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, out.Missing)
	assert.Equal(t, 1, out.Stuck)
	assert.Equal(t, 5, out.Unmet)
	in.Faults = in.Faults[:1]
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Unmet)
}

// Strokes that drift past the trays meet in the end, however slowly they drift.
func TestLanesRefuseWhatDrifts(t *testing.T) {
	p := proof.Proofer{Pockets: 2, Trays: 101, LastPassTrays: 101, TraysPerStroke: 1.9999}
	in := proof.Lanes{Proofer: p, Load: []int{1, 2}, Next: []int{2, 0}, Strokes: 20}
	_, err := in.Solve()
	require.Error(t, err)
	assert.Equal(t, "proofer-lanes: next is two pieces in pocket 2 of a tray, in a long run: lane 1 on pass 2 and lane 2 on pass 1: "+
		"want a pattern in which no two pieces meet: send one of the two lanes another way", err.Error())
	_, err = proof.Run{Proofer: p, Across: 2, Load: in.Load, Next: in.Next, Strokes: 20, Pieces: 60_000}.Solve()
	assert.Equal(t, []string{"next"}, fields(err))
	// At the ratio itself a tray is loaded every other round.
	in.Proofer.TraysPerStroke = 2
	_, err = in.Solve()
	assert.NoError(t, err)
	// So it is with ratios that binary arithmetic does not hold: three strokes
	// are four trays, eleven trays are ten strokes.
	for _, ratio := range []float64{4.0 / 3, 1.1, 2.2, 1.7} {
		p := proof.Proofer{Pockets: 1, Trays: 1000, LastPassTrays: 1000, TraysPerStroke: ratio}
		run, err := proof.Run{Proofer: p, Across: 1, Strokes: 20, Pieces: 30_000}.Solve()
		require.NoError(t, err)
		clear, err := proof.Clear{Proofer: p, Across: 1, Strokes: 20, Pieces: 30_000}.Solve()
		require.NoError(t, err)
		require.Equal(t, clear.LastOut, run.LastOut)
		require.Equal(t, clear.Stranded, run.MostInside, "%v", ratio)
	}
}

func TestEventsAreLazyAndRepeat(t *testing.T) {
	in := steadyRun()
	in.Pieces = 2000
	events, err := in.Events()
	require.NoError(t, err)
	var first []proof.Event
	for e := range events {
		first = append(first, e)
		if len(first) == 5 {
			break
		}
	}
	n, ins, last := 0, 0, unit.Duration(0)
	for e := range events {
		if n < 5 {
			require.Equal(t, first[n], e)
		}
		require.GreaterOrEqual(t, e.At, last)
		last = e.At
		n++
		if e.Kind == proof.EventIn {
			ins++
			require.Equal(t, ins, e.Piece)
		}
	}
	run, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, run.PocketEvents, n)
	assert.Equal(t, "in", first[0].Kind.String())
	assert.Equal(t, "event 99", proof.EventKind(99).String())
	assert.Equal(t, "event 0", proof.EventKind(0).String())
}

func TestRunAllocatesNothingPerEvent(t *testing.T) {
	short, long := steadyRun(), steadyRun()
	short.Pieces, long.Pieces = 100, 20_000
	count := func(in proof.Run) float64 {
		return testing.AllocsPerRun(3, func() {
			events, _ := in.Events()
			for range events {
			}
		})
	}
	assert.Equal(t, count(short), count(long))
	dst := make([]proof.Lane, 0, 8)
	load := []int{1, 2}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = proof.Lanes{Proofer: demo, Load: load, Strokes: 24}.Append(dst)
	}))
}

func FuzzRun(f *testing.F) {
	f.Add(6, 12, 10, 7, 1.5, 2, 24.0, 300, 60.0, uint8(0), 30.0, 1, uint8(3), uint8(2))
	f.Fuzz(func(t *testing.T, pockets, trays, last, first int, ratio float64, across int, strokes float64, pieces int, at float64, do uint8, value float64, lanes int, stroke, pass uint8) {
		if pockets*trays > 10_000 || pieces > 5000 {
			return // quick runs only
		}
		kinds := []proof.ActKind{proof.ActStop, proof.ActStart, proof.ActSpeed, proof.ActScalingOff, proof.ActScalingOn, proof.ActLanes}
		act := proof.Act{At: unit.Duration(at), Do: kinds[int(do)%len(kinds)]}
		switch act.Do {
		case proof.ActSpeed:
			act.Strokes = unit.StrokeRate(value)
		case proof.ActLanes:
			act.Across = lanes
		}
		in := proof.Run{
			Proofer: proof.Proofer{Pockets: pockets, Trays: trays, FirstPassTrays: first, LastPassTrays: last, TraysPerStroke: ratio},
			Across:  across, Strokes: unit.StrokeRate(strokes), Pieces: pieces, Acts: []proof.Act{act},
			Faults: []proof.Fault{{Kind: proof.FaultJam, Stroke: int(stroke), Lane: 1, Pass: int(pass)}},
		}
		if strokes*at > 1e5 {
			return
		}
		out, err := in.Solve()
		if err != nil {
			return
		}
		finite(t, float64(out.FirstOut), float64(out.LastIn), float64(out.LastOut), float64(out.Shortest), float64(out.Longest), float64(out.MeanDwell), float64(out.ClearOut))
		if out.PiecesIn != out.PiecesOut+out.Stranded {
			t.Fatalf("pieces are lost: %+v", out)
		}
	})
}

func FuzzLanes(f *testing.F) {
	f.Add(6, 12, 10, 7, 1.5, []byte{1, 2}, []byte{3, 4, 5, 6, 0, 0})
	f.Fuzz(func(t *testing.T, pockets, trays, last, first int, ratio float64, load, next []byte) {
		in := proof.Lanes{Proofer: proof.Proofer{Pockets: pockets, Trays: trays, FirstPassTrays: first, LastPassTrays: last, TraysPerStroke: ratio}, Strokes: 20}
		for _, b := range load {
			in.Load = append(in.Load, int(b))
		}
		for _, b := range next {
			in.Next = append(in.Next, int(b))
		}
		if out, err := in.Solve(); err == nil {
			finite(t, float64(out.MeanDwell), float64(out.Shortest), float64(out.Longest))
			for _, l := range out.Lanes {
				if l.TraysTravelled < 1 || l.Passes < 1 {
					t.Fatalf("%+v", l)
				}
			}
		}
	})
}

func BenchmarkRun(b *testing.B) {
	in := proof.Run{Proofer: demo, Across: 2, Strokes: 24, Pieces: 200_000}
	b.ReportAllocs()
	events := 0
	for b.Loop() {
		out, err := in.Solve()
		if err != nil {
			b.Fatal(err)
		}
		events += out.PocketEvents
	}
	b.ReportMetric(float64(events)/b.Elapsed().Seconds(), "events/s")
}

func BenchmarkEvents(b *testing.B) {
	in := proof.Run{Proofer: demo, Across: 2, Strokes: 24, Pieces: 200_000}
	events, err := in.Events()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		for range events {
			n++
		}
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "events/s")
}

func BenchmarkLanes(b *testing.B) {
	dst := make([]proof.Lane, 0, 8)
	load := []int{1, 2}
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.Lanes{Proofer: demo, Load: load, Strokes: 24}.Append(dst)
	}
}

// A run is followed pocket by pocket, so that its memory and its length are bounded.
func TestRunBounds(t *testing.T) {
	q := proof.Run{Proofer: proof.Proofer{Pockets: 101, Trays: 9900, LastPassTrays: 9900, TraysPerStroke: 1}, Across: 1, Strokes: 20, Pieces: 10}
	assert.Empty(t, reckon.Wrong(q), "999 900 pockets")
	q.Proofer.Trays, q.Proofer.LastPassTrays = 9901, 9901
	require.Len(t, reckon.Wrong(q), 1, "1 000 001 pockets")
	assert.Equal(t, "proofer.trays", reckon.Wrong(q)[0].Field)
	long := proof.Run{Proofer: proof.Proofer{Pockets: 6, Trays: 50, LastPassTrays: 50, TraysPerStroke: 1}, Across: 1, Strokes: 20, Pieces: 100_000_000}
	require.Len(t, reckon.Wrong(long), 1)
	assert.Contains(t, reckon.Wrong(long)[0].Want, "at most 20000000 trays")
}
