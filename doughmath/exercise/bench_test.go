package exercise

import (
	"testing"

	"example.com/dough/doughmath/unit"
)

var (
	keptExercise *Exercise
	keptMark     Mark
	keptWork     WorkMark
	keptKey      *Key
	keptSet      []*Exercise
	keptCase     *CaseStudy
	keptFault    *FaultExercise
)

// BenchmarkExercise makes one exercise after the other, each of another seed.
// The last needs Student's t, which costs most of its time.
func BenchmarkExercise(b *testing.B) {
	for _, spec := range []Spec{
		{Calculation: "water-temperature"},
		{Calculation: "curls", Units: unit.US},
		{Calculation: "scaling-weight", Distractors: 2, Conversions: 1},
		{Calculation: "batch-plan"},
		{Calculation: "formula-scale"},
		{Calculation: "proofer-dwell"},
		{Calculation: "half-width-for-pieces"},
	} {
		b.Run(spec.Calculation, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				spec.Seed++
				var err error
				if keptExercise, err = spec.Make(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkMark marks an answer: right, a likely mistake, and one in the wrong quantity.
func BenchmarkMark(b *testing.B) {
	e, err := Spec{Calculation: "water-temperature", Asked: "water_temp", Seed: 3}.Make()
	if err != nil {
		b.Fatal(err)
	}
	for name, answer := range map[string]string{"right": e.right(), "mistake": e.Asked.write(e.outlet.quantity, e.mistakes[0].held), "quantity": "450 g"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				keptMark = e.Mark(answer)
			}
		})
	}
}

// BenchmarkMarkWork marks a whole working with an early slip that is followed through.
func BenchmarkMarkWork(b *testing.B) {
	e, err := Spec{Calculation: "scaling-weight", Asked: "loss_on_baked", Seed: 3}.Make()
	if err != nil {
		b.Fatal(err)
	}
	k, err := e.Key()
	if err != nil {
		b.Fatal(err)
	}
	blanks := make([]string, len(k.Blanks))
	for i := range blanks {
		blanks[i] = k.Blanks[i].Value
	}
	blanks[0] = "2"
	b.ReportAllocs()
	for b.Loop() {
		if keptWork, err = k.MarkWork(blanks, k.Answer); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkKey(b *testing.B) {
	e, err := Spec{Calculation: "water-temperature", Asked: "water_temp", Seed: 3}.Make()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if keptKey, err = e.Key(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSet makes the largest set: 1000 exercises over all calculations
// without a repeat.
func BenchmarkSet(b *testing.B) {
	spec := SetSpec{Size: MaxSet, Distractors: 1, Conversions: 1}
	b.ReportAllocs()
	for b.Loop() {
		spec.Seed++
		var err error
		if keptSet, err = spec.Make(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCase(b *testing.B) {
	spec := CaseStudySpec{Case: "rolls-to-proofer"}
	b.ReportAllocs()
	for b.Loop() {
		spec.Seed++
		var err error
		if keptCase, err = spec.Make(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFault(b *testing.B) {
	spec := FaultSpec{Fault: "dough-off-temperature"}
	b.ReportAllocs()
	for b.Loop() {
		spec.Seed++
		var err error
		if keptFault, err = spec.Make(); err != nil {
			b.Fatal(err)
		}
	}
}
