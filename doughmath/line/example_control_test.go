package line_test

import (
	"fmt"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func ExampleControlSettings() {
	data, _ := testdata.Scenario("demo.json")
	day, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	loaf, err := line.ControlSettings{
		Line: day.Line, Order: day.Orders[2], Shift: day.Shift,
		Stands: []line.Standing{{Control: "divider handle", At: "18.5"}, {Control: "rounding drum", At: "large cups"}, {Control: "small guides", At: "in"}},
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range loaf.Settings {
		if s := &loaf.Settings[i]; s.Stands != "" {
			fmt.Printf("%s: %s, stands at %s: %s\n", s.Control, s.At, s.Stands, s.Move)
		}
	}
	for _, k := range loaf.Contradictions {
		fmt.Printf("%s %s against %s: %s\n", k.Control, k.At, k.OtherAt, k.Why)
	}
	// Output:
	// divider handle: 35, stands at 18.5: more
	// rounding drum: large cups, stands at large cups: leave
	// small guides: out, stands at in: move
	// small guides in against large cups: the fitting does not go in beside this drum: parts would strike or pieces jam
}

func ExampleChangeover() {
	data, _ := testdata.Scenario("demo.json")
	day, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	out, err := line.Changeover{Line: day.Line, Before: day.Orders[0], Next: day.Orders[1], Shift: day.Shift, People: 2}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range out.ByPeople {
		fmt.Printf("with %d: %v\n", t.People, t.Takes)
	}
	fmt.Printf("the line stands for %v; new on the line: %v\n", out.Standing, out.NewInNext)
	for _, s := range out.Steps {
		if s.Phase == line.PhaseChange && s.Control != "" {
			fmt.Println(s.Do, s.Cautions.Words())
		}
	}
	// By hand, for one: 5 min of clear-out, and 37 min 50 s of work one after the other.

	// Output:
	// with 1: 42 min 50 s
	// with 2: 24 min
	// the line stands for 16 min 30 s; new on the line: [milk]
	// set curling chain to low [moving-machinery interlocks locked-out]
	// take out star die [moving-machinery interlocks locked-out]
}

func ExampleCriticalPath() {
	out, err := line.CriticalPath{
		Jobs: []line.Job{
			{Name: "proofer runs empty", Time: unit.Minutes(12)},
			{Name: "change the drum", Time: unit.Minutes(18), People: 2, After: []string{"proofer runs empty"}},
			{Name: "wash the hopper", Time: unit.Minutes(15), People: 1, After: []string{"proofer runs empty"}},
			{Name: "set the rollers", Time: unit.Minutes(3), People: 1, After: []string{"proofer runs empty"}},
		},
		People: 2,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Total, out.Least)
	for _, j := range out.Jobs {
		fmt.Println(j.Name, j.Slack, j.Who)
	}
	// Output:
	// 45 min 45 min
	// proofer runs empty 0 s []
	// change the drum 0 s [1 2]
	// wash the hopper 0 s [1]
	// set the rollers 12 min [2]
}

func ExampleKnownGood() {
	data, _ := testdata.Scenario("demo.json")
	day, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	bun := day.Orders[0]
	var kept []line.RunRecord
	for i, mark := range []string{"12.5", "13", "13", "12.5"} {
		kept = append(kept, line.RunRecord{
			Date: fmt.Sprintf("2026-11-%02d", 10+i), Line: day.Line, Order: bun, Shift: day.Shift, Good: true,
			Settings: []line.Standing{{Control: "divider handle", At: mark}},
		})
	}
	day.Shift.Room = unit.Celsius(28)
	out, err := line.KnownGood{Line: day.Line, Order: bun, Shift: day.Shift, Records: kept, Last: 4}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Settings[0].Control+":", out.Settings[0].Says)
	for _, d := range out.Changed {
		fmt.Printf("%s was %s, is %s\n", d.Path, d.Was, d.Is)
	}
	// Output:
	// divider handle: last 4 runs 12.5 to 13, today's plan 12.5
	// shift.room was 25 °C, is 28 °C
}

func ExampleClock() {
	data, _ := testdata.Scenario("demo.json")
	day, err := line.ReadScenario(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	out, err := line.Clock{Line: day.Line, Order: day.Orders[1], Shift: day.Shift, OvenAt: unit.Hours(6), Piece: 1000}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("sponge", out.Earliest, "first mix", out.Start, "last into the oven", out.LastOven)
	fmt.Println("piece 1000 is scaled at", out.Piece.Cut, "and goes into the oven at", out.Piece.Oven)
	// By hand: 324 pieces fill a rack in 161 strokes after the first, 7 min; 12 min of mixing, 6 min 5 s in the proofer, 7 min
	// and 50 min before 6 h start the first mixing at 4 h 44 min 55 s, and the sponge 3 h 8 min before that.

	// Output:
	// sponge 1 h 36 min 55 s first mix 4 h 44 min 55 s last into the oven 7 h 20 min 47 s
	// piece 1000 is scaled at 5 h 18 min 37 s and goes into the oven at 6 h 21 min 8 s
}
