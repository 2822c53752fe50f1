package divider_test

import (
	"fmt"
	"log"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExamplePieceSample() {
	out, err := divider.PieceSample{
		Weighings: grams(85.2, 84.1, 86.0, 85.5, 84.7, 85.9, 84.4, 85.1, 86.3, 84.8),
		Level:     95, Share: 95, Method: divider.ToleranceExact,
		HalfWidth: unit.Grams(0.3),
	}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("mean", out.Mean, "from", out.MeanLow, "to", out.MeanHigh)
	fmt.Println("95 % of all pieces from", out.PiecesLow, "to", out.PiecesHigh)
	fmt.Println("for ±0.3 g weigh", out.Needed)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// mean 85.2 g from 84.68 g to 85.72 g
	// 95 % of all pieces from 82.75 g to 87.65 g
	// for ±0.3 g weigh 25
	// Weigh more pieces before you decide.
}

func ExamplePiecesToWeigh() {
	out, err := divider.PiecesToWeigh{SD: unit.Grams(6), HalfWidth: unit.Grams(2), Level: 95}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("weigh", out.Pieces, "pieces; the mean is then known within", out.HalfWidth)
	// Output:
	// weigh 38 pieces; the mean is then known within 1.972 g
}

func ExampleHalfWidthForPieces() {
	out, err := divider.HalfWidthForPieces{SD: unit.Grams(6), Pieces: 10, Level: 95}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("ten pieces fix the mean within", out.HalfWidth)
	// Output:
	// ten pieces fix the mean within 4.292 g
}

func ExamplePiecesToDetect() {
	out, err := divider.PiecesToDetect{SD: unit.Grams(1), Shift: unit.Grams(1), Level: 95, Power: 90, Sides: divider.TwoSided}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("weigh", out.Pieces, "pieces to notice a move of 1 g")
	// Output:
	// weigh 13 pieces to notice a move of 1 g
}

func ExampleShiftForPieces() {
	out, err := divider.ShiftForPieces{SD: unit.Grams(1), Pieces: 6, Level: 95, Power: 90, Sides: divider.TwoSided}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("six pieces notice a move of", out.Shift)
	// Output:
	// six pieces notice a move of 1.652 g
}

func ExampleToleranceFactor() {
	out, err := divider.ToleranceFactor{Pieces: 43, Share: 90, Level: 99}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("at least: mean - %.4f sd; between: mean ± %.4f sd (Howe: %.4f)\n", out.OneSided, out.Exact, out.Howe)
	// Output:
	// at least: mean - 1.8740 sd; between: mean ± 2.2228 sd (Howe: 2.2173)
}

func ExampleGroupSample() {
	out, err := divider.GroupSample{Groups: grams(512.4, 510.8, 511.5, 513.0, 509.9), Pieces: 6, Level: 95, Division: unit.Grams(0.2)}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("a piece weighs", out.Mean, "on average")
	fmt.Println("one piece could be off by", out.Hidden, "unseen")
	// Output:
	// a piece weighs 85.25 g on average
	// one piece could be off by 2.422 g unseen
}

func ExampleScaleDivision() {
	out, err := divider.ScaleDivision{Division: unit.Grams(1), SD: unit.Grams(0.7), Variation: unit.Grams(7.2)}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("the rule allows a division of", out.ForRule, "and the scatter one of", out.ForSD)
	fmt.Println(out.Conditions)
	// Output:
	// the rule allows a division of 1.2 g and the scatter one of 0.7 g
	// scale-too-coarse
}
