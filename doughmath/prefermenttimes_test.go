package doughmath_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func levainTimes() doughmath.PrefermentTimes {
	return doughmath.PrefermentTimes{Preferments: []doughmath.PrefermentTime{
		{Name: "levain", Mixing: unit.Minutes(10), Ripening: unit.Hours(6)},
		{Name: "mother", Into: []string{"levain", "final mix"}, Mixing: unit.Minutes(15), Ripening: unit.Hours(10)},
		{Name: "soaker", Mixing: unit.Minutes(5), Ripening: unit.Hours(12)},
	}}
}

func ExamplePrefermentTimes() {
	out, err := levainTimes().Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range out.Starts {
		fmt.Println(s.Name, s.Before, "before the final mix")
	}
	// Output:
	// levain 6 h 10 min before the final mix
	// mother 16 h 25 min before the final mix
	// soaker 12 h 5 min before the final mix
}

func TestPrefermentTimes(t *testing.T) {
	q := levainTimes()
	out, w, err := reckon.Explain(q)
	require.NoError(t, err)
	isTrue(t, w)
	// By hand: the levain 370 min, the mother 615 min before it, the soaker 725 min.
	assert.Equal(t, []doughmath.PrefermentStart{{"levain", unit.Minutes(370)}, {"mother", unit.Minutes(985)}, {"soaker", unit.Minutes(725)}}, out.Starts)
	assert.Equal(t, unit.Minutes(985), out.Earliest)

	dst := make([]doughmath.PrefermentStart, 0, 3)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := q.Append(dst); err != nil {
			t.Fatal(err)
		}
	}))

	q.Preferments[0].Into = []string{"mother"}
	_, err = q.Solve()
	assert.Equal(t, []string{"preferments[0].into"}, fields(err), "a circle")
	q = levainTimes()
	q.Preferments[0].Name, q.Preferments[0].Mixing = "final mix", -1
	q.Preferments[1].Into = []string{"sponge"}
	q.Preferments[2].Name, q.Preferments[2].Ripening = "mother", unit.Hours(169)
	_, err = q.Solve()
	assert.Equal(t, []string{"preferments[0].name", "preferments[0].mixing", "preferments[1].into[0]", "preferments[2].name", "preferments[2].ripening"}, fields(err))
	_, err = doughmath.PrefermentTimes{}.Solve()
	assert.Equal(t, []string{"preferments"}, fields(err))
	q = levainTimes()
	q.Preferments[0].Into = make([]string, 17)
	_, err = q.Solve()
	assert.Equal(t, []string{"preferments[0].into", "preferments[1].into[0]"}[:1], fields(err)[:1])
}
