package exercise_test

import (
	"fmt"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/unit"
)

func ExampleSpec_Make() {
	e, err := exercise.Spec{Calculation: "curls", Asked: "turns", Seed: 7, Units: unit.US}.Make()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(e)
	// Output:
	// How many turns does the sheet make when it is rolled up?
	//
	// The Old Ropewalk bakery prepares its make-up line for the next product.
	//
	//   length: 10.25 in
	//   thickness: 0.22 in
	//   core: 0.345 in
	//
	// Find: turns (N), to the nearest 0.01.
	// Take care: Keep hands, sleeves and tools away from moving parts and set a machine only as its manual allows; train operators first.
	// Take care: Rollers that turn towards each other draw in hands, sleeves and tools: keep their guard shut, stop and isolate them before you measure a gap or clean them, and take a sheet to be measured from well behind them.
	// The machine's manual, local codes and a licensed or authorised person come before anything printed here.
}

func ExampleExercise_Mark() {
	e, err := exercise.Spec{
		Calculation: "hopper-time", Asked: "time",
		Ranges: []exercise.Range{{Field: "batch", Low: "120 kg", High: "120 kg"}, {Field: "dough_rate", Low: "300 kg/h", High: "300 kg/h"}},
	}.Make()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, answer := range []string{"24 min", "0,4 h", "24.003 min", "40 min", "24 kg", "1,440 s"} {
		mark := e.Mark(answer)
		fmt.Printf("%s: %s. %s\n", answer, mark.Verdict, mark.Says)
	}
	// Output:
	// 24 min: right. Right.
	// 0,4 h: right. Right.
	// 24.003 min: too-many-digits. The value is right; give it to the nearest 0.1 min: no instrument shows more.
	// 40 min: mistake. A hundredth of an hour is not a minute: multiply the hours by 60.
	// 24 kg: wrong-quantity. That is a weight; a time was asked.
	// 1,440 s: ambiguous. Is 1,440 the number 1.440 or the number 1440? Write it without the comma.
}

func ExampleKey_MarkWork() {
	e, err := exercise.Spec{
		Calculation: "loss-from-weights", Asked: "loss_on_dough",
		Ranges: []exercise.Range{{Field: "dough", Low: "570 g", High: "570 g"}, {Field: "baked", Low: "500 g", High: "500 g"}},
	}.Make()
	if err != nil {
		fmt.Println(err)
		return
	}
	key, err := e.Key()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range key.Lines(true) {
		fmt.Println(line)
	}
	mark, err := key.MarkWork([]string{"60 g", "10.5 %"}, "10.5 %")
	fmt.Println(mark.Steps[0].Verdict, mark.Steps[1].Verdict, mark.Score, err)
	// Output:
	// dough: D = 570 g
	// baked: B = 500 g
	// lost: E = D - B = ________ g
	// loss on dough: L_d = 100*E/D = ________ %
	// wrong followed 0.5 <nil>
}

func ExampleSetSpec_Make() {
	set, err := exercise.SetSpec{Size: 3, Seed: 1, Station: "batch", StepsHigh: 3}.Make()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range set {
		fmt.Println(e.Question, "->", e.Asked.Words, e.Asked.Text())
	}
	// Output:
	// How many pieces do I get from this dough? -> whole pieces a whole number
	// How much dough does a mixed order take, and in how many batches? -> loaves, dough to the nearest 0.1 kg
	// How much weight does my bread lose? -> lost to the nearest 0.1 g
}

func ExampleFaultSpec_Make() {
	e, err := exercise.FaultSpec{Fault: "proof-off-time", Seed: 3}.Make()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(e.Symptom)
	for _, c := range e.Causes() {
		fmt.Printf("%s: %.0f %%\n", c.Words, c.Share)
	}
	// Output:
	// The pieces were to stay 49.8 min in the overhead proofer and stayed 47.9 min.
	// divider speed: 125 %
	// trays travelled on the last pass: -26 %
}

func ExampleCaseStudySpec_Make() {
	c, err := exercise.CaseStudySpec{Case: "warm-day", Seed: 2}.Make()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Title)
	for i, part := range c.Parts {
		fmt.Println(i+1, part.Asked.Words, part.Asked.Text(), part.Lines()[1])
	}
	// Output:
	// A warm day, from the temperatures to the ice
	// 1 water temperature to the nearest 0.5 °C flour temperature: 24 °C
	// 2 ice to the nearest 0.01 kg tap water, T_tap: 10.5 °C
	// 3 tap water to the nearest 0.1 kg tap water, T_tap: 10.5 °C
}
