package proof_test

import (
	"fmt"

	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

func ExampleDwell() {
	p := proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1}
	rolls, err := proof.Dwell{Proofer: p, Across: 2, Strokes: unit.StrokesPerMinute(24)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d passes, %v in the proofer, %d pieces inside at %v\n", rolls.Passes, rolls.Dwell, rolls.Inside, rolls.PieceRate)
	// Output: 3 passes, 15 min in the proofer, 720 pieces inside at 48 pieces/min
}

func ExampleStrokesForDwell() {
	p := proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 90, TraysPerStroke: 1}
	bread, err := proof.StrokesForDwell{Proofer: p, Across: 1, Dwell: unit.Minutes(20)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("run at %v: %d passes, %v\n", bread.Strokes, bread.Passes, bread.PieceRate)
	for _, s := range bread.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// run at 34.5 strokes/min: 6 passes, 34.5 pieces/min
	// One pass covers only part of the trays.
}

func ExampleSpeed() {
	in := proof.Speed{
		Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1}, Across: 2,
		DwellLow: unit.Minutes(10), DwellHigh: unit.Minutes(20),
		Limits: []proof.StrokeLimit{{Name: "divider", Low: 10, High: 30}, {Name: "stamper", Low: 0, High: 32}},
	}
	out, err := in.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("from %v (%s: %v) to %v (%s: dwell %v)\n", out.Low, out.LowLimit, out.DwellAtLow, out.High, out.HighLimit, out.DwellAtHigh)
	in.Limits[0].High = 15
	_, err = in.Solve()
	fmt.Println(err)
	// Output:
	// from 18 strokes/min (dwell: 20 min) to 30 strokes/min (divider: dwell 12 min)
	// proofer-speed: no divider speed gives both dwell (18 strokes/min or more) and divider (15 strokes/min or less): the nearest are 15 strokes/min (dwell 24 min), which suits divider, and 18 strokes/min (dwell 20 min), which suits dwell; move one of the two limits, or load another number across
}

func ExampleClear() {
	out, err := proof.Clear{
		Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1},
		Across:  2, Strokes: unit.StrokesPerMinute(24), Pieces: 3000, NextAcross: 1,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("first rolls after %v, last after %v; a stop strands up to %d\n", out.FirstOut, out.LastOut, out.Stranded)
	fmt.Printf("next product %v after the last stroke (%s)\n", out.ChangeoverGap, out.Rule)
	// Output:
	// first rolls after 15 min, last after 1 h 17 min 28 s; a stop strands up to 720
	// next product 15 min after the last stroke (clear-out)
}

func ExampleLanes() {
	out, err := proof.Lanes{
		Proofer: proof.Proofer{Pockets: 5, Trays: 100, FirstPassTrays: 80, LastPassTrays: 60, TraysPerStroke: 1},
		Load:    []int{1, 2}, Next: []int{3, 4, 5, 0, 0}, Strokes: unit.StrokesPerMinute(20),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range out.Lanes {
		fmt.Printf("pocket %d: %d passes, out of pocket %d after %v\n", l.Pocket, l.Passes, l.LastPocket, l.Dwell)
	}
	fmt.Printf("mean %v, %d pieces inside\n", out.MeanDwell, out.Inside)
	// Output:
	// pocket 1: 3 passes, out of pocket 5 after 12 min
	// pocket 2: 2 passes, out of pocket 4 after 7 min
	// mean 9 min 30 s, 380 pieces inside
}

func ExampleRun() {
	out, err := proof.Run{
		Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1},
		Across:  2, Strokes: unit.StrokesPerMinute(24), Pieces: 2000,
		Acts: []proof.Act{
			{At: unit.Minutes(20), Do: proof.ActStop},
			{At: unit.Minutes(25), Do: proof.ActStart},
		},
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d in, %d out, dwell %v to %v\n", out.PiecesIn, out.PiecesOut, out.Shortest, out.Longest)
	fmt.Printf("last piece in after %v, out after %v\n", out.LastIn, out.LastOut)
	// Output:
	// 2000 in, 2000 out, dwell 15 min to 20 min
	// last piece in after 46 min 38 s, out after 1 h 1 min 38 s
}

func ExampleRun_Events() {
	events, err := proof.Run{
		Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1},
		Across:  2, Strokes: unit.StrokesPerMinute(24), Pieces: 2000,
	}.Events()
	if err != nil {
		fmt.Println(err)
		return
	}
	for e := range events {
		if e.Piece == 2 {
			fmt.Printf("%v: %v, tray %d pocket %d, pass %d\n", e.At, e.Kind, e.Tray, e.Pocket, e.Pass)
		}
		if e.Piece == 2 && e.Kind == proof.EventOut {
			break
		}
	}
	// Output:
	// 0 s: in, tray 1 pocket 2, pass 1
	// 5 min: moved, tray 1 pocket 4, pass 2
	// 10 min: moved, tray 1 pocket 6, pass 3
	// 15 min: out, tray 1 pocket 6, pass 3
}

func ExampleSpeedChange() {
	out, err := proof.SpeedChange{
		Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1}, Across: 2,
		StrokesBefore: unit.StrokesPerMinute(24), Pause: unit.Minutes(3), StrokesAfter: unit.StrokesPerMinute(20),
		DwellLow: unit.Minutes(12), DwellHigh: unit.Minutes(20),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("dwell %v, then %v to %v, settled at %v after %v\n", out.DwellBefore, out.NextOut, out.JustIn, out.DwellAfter, out.Settled)
	fmt.Printf("%d of %d pieces get too old; the longest stop that none minds is %v\n", out.Outside, out.Inside, out.LongestPause)
	// Output:
	// dwell 15 min, then 18 min to 21 min, settled at 18 min after 21 min
	// 240 of 720 pieces get too old; the longest stop that none minds is 2 min
}

func ExampleTradeoff() {
	out, err := proof.Tradeoff{
		Speed: proof.Speed{
			Proofer:  proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1},
			DwellLow: unit.Minutes(8), DwellHigh: unit.Minutes(20),
			Limits: []proof.StrokeLimit{{Name: "divider", Low: 10, High: 40}},
		},
		Across: []int{1, 2, 3}, Steps: 2,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range out.Rows {
		fmt.Printf("%d across at %v: %v, %v\n", r.Across, r.Strokes, r.PieceRate, r.Dwell)
	}
	// Output:
	// 1 across at 36 strokes/min: 36 pieces/min, 20 min
	// 1 across at 40 strokes/min: 40 pieces/min, 18 min
	// 2 across at 18 strokes/min: 36 pieces/min, 20 min
	// 2 across at 40 strokes/min: 80 pieces/min, 9 min
	// 3 across at 12 strokes/min: 36 pieces/min, 20 min
	// 3 across at 30 strokes/min: 90 pieces/min, 8 min
}
