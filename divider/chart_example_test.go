package divider_test

import (
	"encoding/json"
	"fmt"
	"log"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExampleChartConstants() {
	out, err := divider.ChartConstants{Size: 5}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("A2 %.4f, D3 %.4f, D4 %.4f\n", out.A2, out.D3, out.D4)
	// Output: A2 0.5768, D3 0.0000, D4 2.1145
}

func ExampleSetUpChart() {
	out, err := divider.SetUpChart{
		Kind: divider.ChartAveragesRanges, Size: 3, Width: 3, Rules: divider.ZoneTests,
		Weighings: grams(85.2, 84.1, 86.0, 85.5, 84.7, 85.9, 84.4, 85.1, 86.3, 84.8, 85.0, 85.6),
	}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("averages from", out.Chart.Low, "to", out.Chart.High)
	fmt.Println("ranges up to", out.Chart.SpreadHigh)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// averages from 83.73 g to 86.7 g
	// ranges up to 3.733 g
	// Weigh more pieces before you decide.
}

func ExampleControlChart() {
	out, err := divider.ControlChart{
		Setup:     divider.ChartSetup{Kind: divider.ChartAveragesRanges, Size: 3, Centre: unit.Grams(85.2), SD: unit.Grams(0.7), Width: 3, Rules: divider.ZoneTests},
		Weighings: grams(85.4, 84.6, 85.9, 86.6, 86.9, 86.4, 86.2, 86.8, 87.1),
	}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range out.Points {
		fmt.Printf("%d %v [%v]\n", p.Number, p.Value, p.Signals)
	}
	// Output:
	// 1 85.3 g []
	// 2 86.63 g [beyond-limit]
	// 3 86.7 g [beyond-limit, two-of-three]
}

func ExampleWatch() {
	watch, err := divider.NewWatch(divider.ChartSetup{Kind: divider.ChartIndividuals, Size: 1, Centre: unit.Grams(85), SD: unit.Grams(0.7), Width: 3, Rules: divider.LimitsOnly})
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range grams(85.4, 84.6) {
		if _, _, err := watch.Add(m); err != nil {
			log.Fatal(err)
		}
	}
	saved, err := json.Marshal(watch) // at the end of the shift
	if err != nil {
		log.Fatal(err)
	}
	var next divider.Watch // at the start of the next
	if err := json.Unmarshal(saved, &next); err != nil {
		log.Fatal(err)
	}
	p, _, err := next.Add(unit.Grams(88))
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("point", p.Number, p.Signals)
	// Output:
	// point 3 beyond-limit, spread-beyond-limit
}

func ExampleRunLength() {
	out, err := divider.RunLength{Kind: divider.ChartCUSUM, Shift: 1, Sides: divider.TwoSided, Slack: 0.5, Decision: 5}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("signals after %.1f points, and without cause every %.0f\n", out.RunLength, out.FalseAlarm)
	// Output:
	// signals after 10.4 points, and without cause every 465
}

func ExampleOperatingCurve() {
	out, err := divider.OperatingCurve{Size: 5, Width: 3, Shifts: []float64{0.5, 1, 1.5}}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range out.Points {
		fmt.Printf("a move of %.1f sd is missed %.0f times in 100\n", p.Shift, 100*p.Missed)
	}
	// Output:
	// a move of 0.5 sd is missed 97 times in 100
	// a move of 1.0 sd is missed 78 times in 100
	// a move of 1.5 sd is missed 36 times in 100
}

func ExampleCapability() {
	out, err := divider.Capability{
		Mean: unit.Grams(85.2), Within: unit.Grams(0.7), Pieces: 100,
		Low: unit.Grams(82), High: unit.Grams(88), Level: 95, Required: 1.33,
	}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("Cpk %.2f (%.2f to %.2f)\n", out.Cpk, out.CpkLow, out.CpkHigh)
	fmt.Println(out.Conditions)
	// Output:
	// Cpk 1.33 (1.14 to 1.53)
	// weigh-more
}

func ExampleSDForCapability() {
	out, err := divider.SDForCapability{Mean: unit.Grams(85.2), Low: unit.Grams(82), High: unit.Grams(88), Cpk: 1.33}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("the pieces may scatter by", out.SD)
	// Output:
	// the pieces may scatter by 0.7018 g
}
