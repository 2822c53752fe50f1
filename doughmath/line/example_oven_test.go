package line_test

import (
	"fmt"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
)

func ExampleOvenRate() {
	out, err := line.OvenRate{
		Oven: line.Oven{Kind: line.DeckOven, Places: 4, Loading: unit.Minutes(4)},
		Time: unit.Minutes(26), PerLoad: 48, Piece: unit.Grams(800),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.PieceRate, "or", out.MassRate, "with a load every", out.Pace)
	// Output:
	// 6.4 pieces/min or 307.2 kg/h with a load every 7 min 30 s
}
