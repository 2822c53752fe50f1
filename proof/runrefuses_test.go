package proof_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// A run goes past the chute with at most 20 million trays, and past the transfer with 200 million
// pockets: with 200 pockets to a tray that is a million trays. Of these, 202 rounds of 100 trays, 20,200,
// are for the last piece to come out, so that 979,800 are left for the log.
func TestRunLength(t *testing.T) {
	p := proof.Proofer{Pockets: 200, Trays: 100, LastPassTrays: 100, TraysPerStroke: 1}
	slow := p
	slow.TraysPerStroke = 2
	stop := func(at unit.Duration) proof.Act { return proof.Act{At: at, Do: proof.ActStop} }
	missing := []proof.Fault{{Kind: proof.FaultMissing, Stroke: 1, Lane: 1}}
	for _, c := range []struct {
		id     string
		at     proof.Run // just short enough
		beyond proof.Run
		told   string // of what is refused
	}{
		{
			"a piece a stroke, and one more for the piece that is missing",
			proof.Run{Proofer: p, Across: 1, Strokes: 60, Pieces: 979_799, Faults: missing},
			proof.Run{Proofer: p, Across: 1, Strokes: 60, Pieces: 979_800, Faults: missing},
			"a run of 1000001 trays: want at most 1000000 trays",
		},
		{
			"two trays a stroke",
			proof.Run{Proofer: slow, Across: 1, Strokes: 60, Pieces: 489_900},
			proof.Run{Proofer: slow, Across: 1, Strokes: 60, Pieces: 489_901},
			"a run of 1000002 trays: want at most 1000000 trays",
		},
		{
			"four pieces a stroke, two after the lanes have changed",
			proof.Run{Proofer: p, Across: 4, Strokes: 60, Pieces: 1_959_598, Acts: []proof.Act{{At: 1, Do: proof.ActLanes, Across: 2}}},
			proof.Run{Proofer: p, Across: 4, Strokes: 60, Pieces: 1_959_600, Acts: []proof.Act{{At: 1, Do: proof.ActLanes, Across: 2}}},
			"a run of 1000001 trays: want at most 1000000 trays", // 1 in the second before, half as many as pieces behind it
		},
		{
			"a tray a second until the stop",
			proof.Run{Proofer: p, Across: 1, Strokes: 60, Acts: []proof.Act{stop(979_800)}},
			proof.Run{Proofer: p, Across: 1, Strokes: 60, Acts: []proof.Act{stop(979_800.005)}},
			"want at most 1000000 trays",
		},
		{
			"two trays a second after the change of speed, none in the stop between",
			proof.Run{Proofer: p, Across: 1, Strokes: 60, Acts: []proof.Act{
				stop(100), {At: 5000, Do: proof.ActStart}, {At: 5100, Do: proof.ActSpeed, Strokes: 120}, stop(494_900),
			}}, // 100 + 100 + 2 * 489,800
			proof.Run{Proofer: p, Across: 1, Strokes: 60, Acts: []proof.Act{
				stop(100), {At: 5000, Do: proof.ActStart}, {At: 5100, Do: proof.ActSpeed, Strokes: 120}, stop(494_901),
			}},
			"a run of 1000002 trays: want at most 1000000 trays",
		},
	} {
		t.Run(c.id, func(t *testing.T) {
			assert.Empty(t, reckon.Wrong(c.at))
			bad := reckon.Wrong(c.beyond)
			require.Len(t, bad, 1)
			assert.Equal(t, "acts", bad[0].Field)
			assert.Contains(t, bad[0].Error(), c.told)
		})
	}
}

// What is refused of a run, and nothing besides.
func TestRunRefusesNoMore(t *testing.T) {
	one := proof.Proofer{Pockets: 1, Trays: 10, LastPassTrays: 10, TraysPerStroke: 1}
	six := demo
	none := demo
	none.Pockets = 0
	end := []proof.Act{{At: 60, Do: proof.ActStop}}
	lanes := []proof.Act{{At: 30, Do: proof.ActLanes, Across: 3}, {At: 60, Do: proof.ActStop}}
	for _, c := range []struct {
		id   string
		in   proof.Run
		want []string
	}{
		{"one pocket takes one piece", proof.Run{Proofer: one, Across: 1, Next: []int{0}, Strokes: 60, Acts: end}, nil},
		{"one pocket takes no two", proof.Run{Proofer: one, Across: 2, Next: []int{0}, Strokes: 60, Acts: end}, []string{"across"}},
		{"no pocket", proof.Run{Proofer: none, Across: 1, Next: []int{0}, Strokes: 60, Acts: end}, []string{"proofer.pockets"}},
		{"nothing across", proof.Run{Proofer: one, Next: []int{0}, Strokes: 60, Acts: end}, []string{"across"}},
		{"new lanes in the usual pattern", proof.Run{Proofer: six, Across: 2, Strokes: 60, Acts: lanes}, nil},
		{"new lanes with pockets chosen", proof.Run{Proofer: six, Across: 2, Load: []int{1, 2}, Strokes: 60, Acts: lanes}, []string{"acts[0].do"}},
		{"new lanes with ways chosen", proof.Run{Proofer: six, Across: 2, Next: []int{3, 4, 5, 6, 0, 0}, Strokes: 60, Acts: lanes}, []string{"acts[0].do"}},
		{"an act right at the start", proof.Run{Proofer: one, Across: 1, Strokes: 60, Acts: []proof.Act{{At: 0.001, Do: proof.ActStop}}}, nil},
		{"more pockets than there are", proof.Run{Proofer: one, Across: 3, Load: []int{1, 1, 1}, Strokes: 60, Acts: end}, []string{"load"}},
	} {
		t.Run(c.id, func(t *testing.T) {
			var got []string
			for _, bad := range reckon.Wrong(c.in) {
				got = append(got, bad.Field)
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// A piece that sticks to another counts with the dwell of that one.
//
// Ten trays, the transfer and, on the last pass, the discharge five trays on: one piece a second, two from 9.5 s
// on, when ways end in the first pocket too. Of the ten pieces of before, the first five (0 to 4 s) are in
// the second pocket by then and stay for 15 s; the others leave after 5 s. The stroke at 10 s drops a piece
// beside the first of them, which leaves after 5 s, and one upon it, which leaves with it.
func TestRunDwellOfPiecesThatMeet(t *testing.T) {
	out, err := proof.Run{
		Proofer: proof.Proofer{Pockets: 2, Trays: 10, FirstPassTrays: 5, LastPassTrays: 10, TraysPerStroke: 1},
		Across:  1, Strokes: 60, Pieces: 12, Acts: []proof.Act{{At: 9.5, Do: proof.ActLanes, Across: 2}},
	}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 12, out.PiecesOut)
	assert.Equal(t, 1, out.Doubles)
	assert.Equal(t, 10, out.Mixed)
	assert.Equal(t, 12+5+1+11, out.PocketEvents) // drops, tips of the first five, one that sticks, exits
	assert.Equal(t, unit.Duration(5), out.Shortest)
	assert.Equal(t, unit.Duration(15), out.Longest)
	assert.InDelta(t, 10, float64(out.MeanDwell), 1e-9) // 5 of 15 s, one more with the first, 6 of 5 s
	assert.InDelta(t, 19, float64(out.LastOut), 1e-9)   // the fifth, dropped at 4 s
}

// A stroke is made when it is due, and drops its piece when the next tray stands below, whatever is done to scaling or
// speed between. 24 strokes a minute and a tray a second: stroke 1 at 2.5 s for the tray at 3 s, stroke 2 at 5 s.
func TestRunOfStrokesThatWaitForTheirTrays(t *testing.T) {
	off := func(at unit.Duration) proof.Act { return proof.Act{At: at, Do: proof.ActScalingOff} }
	on := func(at unit.Duration) proof.Act { return proof.Act{At: at, Do: proof.ActScalingOn} }
	for _, c := range []struct {
		id                           string
		acts                         []proof.Act
		pieces                       int
		lastIn, lastOut, mean, clear unit.Duration // each piece leaves ten trays on
	}{
		{"before the stroke", []proof.Act{off(2.4)}, 1, 0, 10, 10, 10},
		{"with the stroke, which comes first", []proof.Act{off(2.5)}, 2, 2.5, 13, 10, 10.5},
		{"before its tray", []proof.Act{off(2.7)}, 2, 2.5, 13, 10, 10.5},
		{"on before the stroke", []proof.Act{off(1), on(2.4), off(2.7)}, 2, 2.5, 13, 10, 10.5},
		{"on with the stroke", []proof.Act{off(1), on(2.5), off(5.5)}, 2, 5, 15, 10, 10},
		{"on before its tray", []proof.Act{off(1), on(2.7), off(5.5)}, 2, 5, 15, 10, 10},
		// Half a tray at half a tray a second: the stroke at 3 s, its tray at 4 s. Eight of the first ten trays take 16 s, all of the second 20 s.
		{"slower before the stroke", []proof.Act{{At: 2, Do: proof.ActSpeed, Strokes: 12}, off(3.5)}, 2, 3, 24, 19, 21},
	} {
		out, err := proof.Run{
			Proofer: proof.Proofer{Pockets: 1, Trays: 10, LastPassTrays: 10, TraysPerStroke: 2.5}, Across: 1, Strokes: 24, Acts: c.acts,
		}.Solve()
		require.NoError(t, err, c.id)
		assert.Equal(t, [2]int{c.pieces, c.pieces}, [2]int{out.PiecesIn, out.PiecesOut}, c.id)
		for i, pair := range [][2]unit.Duration{{c.lastIn, out.LastIn}, {c.lastOut, out.LastOut}, {c.mean, out.MeanDwell}, {c.clear, out.ClearOut}} {
			assert.InDelta(t, float64(pair[0]), float64(pair[1]), 1e-9, "%s: time %d", c.id, i)
		}
	}
}

// A tray a second on rounds of ten: the piece is tipped after 10 s and should leave after 20.
func TestRunEventsOfAJam(t *testing.T) {
	in := proof.Event{Piece: 1, Stroke: 1, Lane: 1, Tray: 1, Pocket: 1, Pass: 1, Kind: proof.EventIn}
	for pass, want := range map[int][]proof.Event{
		1: {in, {At: 10, Dwell: 10, Piece: 1, Stroke: 1, Lane: 1, Tray: 1, Pocket: 1, Pass: 1, Kind: proof.EventStuck}},
		2: {
			in,
			{At: 10, Dwell: 10, Piece: 1, Stroke: 1, Lane: 1, Tray: 1, Pocket: 2, Pass: 2, Kind: proof.EventMoved},
			{At: 20, Dwell: 20, Piece: 1, Stroke: 1, Lane: 1, Tray: 1, Pocket: 2, Pass: 2, Kind: proof.EventStuck},
		},
	} {
		events, err := proof.Run{
			Proofer: proof.Proofer{Pockets: 2, Trays: 10, LastPassTrays: 10, TraysPerStroke: 1}, Across: 1, Strokes: 60, Pieces: 1,
			Faults: []proof.Fault{{Kind: proof.FaultJam, Stroke: 1, Lane: 1, Pass: pass}},
		}.Events()
		require.NoError(t, err)
		var got []proof.Event
		for e := range events {
			got = append(got, e)
		}
		assert.Equal(t, want, got, "stuck at the end of pass %d", pass)
	}
}

// A proofer that is empty when the machines stop requires no clearing.
func TestRunStoppedEmpty(t *testing.T) {
	out, err := proof.Run{
		Proofer: proof.Proofer{Pockets: 1, Trays: 10, LastPassTrays: 10, TraysPerStroke: 1}, Across: 1, Strokes: 60,
		Acts: []proof.Act{{At: 5.5, Do: proof.ActScalingOff}, {At: 60, Do: proof.ActStop}},
	}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 6, out.PiecesOut) // strokes at 0 to 5 s
	assert.Zero(t, out.Stranded)
	assert.Zero(t, out.ClearOut)
}

// What two limits exclude leaves no answer behind, nor does a refusal.
func TestRefusalsLeaveNothing(t *testing.T) {
	in := proof.Speed{Proofer: demo, Across: 2, DwellLow: 600, DwellHigh: 1200, Limits: []proof.StrokeLimit{{Name: "divider", Low: 1, High: 2}}}
	speed := proof.SpeedResult{Low: 7, HighLimit: "before"}
	require.Error(t, in.SolveInto(&speed))
	assert.Equal(t, proof.SpeedResult{}, speed)
	speed.Low = 7
	require.Error(t, (&proof.Speed{}).SolveInto(&speed))
	assert.Equal(t, proof.SpeedResult{}, speed)
	dwell := proof.DwellResult{Passes: 7}
	require.Error(t, (&proof.Dwell{}).SolveInto(&dwell))
	assert.Equal(t, proof.DwellResult{}, dwell)
	clear := proof.ClearResult{Stranded: 7}
	require.Error(t, (&proof.Clear{}).SolveInto(&clear))
	assert.Equal(t, proof.ClearResult{}, clear)
}
