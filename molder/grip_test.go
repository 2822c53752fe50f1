package molder_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// The geometry worked from the triangle of centres: the force of the roller and
// the friction on it must together pull the piece in.
func TestGripPullsThePieceIn(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 500 {
		q := molder.RollerGrip{Roller: between[unit.Length](r, 30, 1000), Gap: between[unit.Length](r, 1, 40), Friction: between[float64](r, 0.1, 2)}
		q.Thickness = q.Gap + between[unit.Length](r, 0.5, 200)
		out, err := q.Solve()
		require.NoError(t, err)
		alpha := math.Acos(float64((q.Roller/2 + q.Gap/2) / (q.Roller/2 + q.Thickness/2)))
		pull := q.Friction*math.Cos(alpha) - math.Sin(alpha)
		assert.Equal(t, pull < 0, out.Conditions.Has(molder.NoGrip), "%+v", q)
		assert.Equal(t, pull < 0, q.Friction < out.NeededFriction, "%+v", q)
		if q.Thickness = out.ThicknessLimit; q.Thickness > 500 {
			continue
		}
		out, err = q.Solve()
		require.NoError(t, err)
		assert.False(t, out.Conditions.Has(molder.NoGrip), "the limit itself is drawn in")
		same(t, q.Friction, out.NeededFriction, "needed at the limit")
		back, err := molder.GapForGrip{Roller: q.Roller, Friction: q.Friction, Thickness: q.Thickness}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(q.Gap), float64(back.Gap), 1e-9*float64(q.Roller+q.Thickness), "gap")
	}
}

func TestGripRefuses(t *testing.T) {
	_, err := molder.RollerGrip{}.Solve()
	assert.Equal(t, []string{"roller_diameter", "gap", "friction", "thickness"}, fields(err))
	_, err = molder.RollerGrip{Roller: 200, Gap: 15, Friction: 0.8, Thickness: 15}.Solve()
	assert.Equal(t, []string{"thickness"}, fields(err))
	_, err = molder.GapForGrip{}.Solve()
	assert.Equal(t, []string{"roller_diameter", "friction", "thickness"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.GapForGrip{Roller: 200, Friction: 0.8, Thickness: 50}.Solve()
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "at every gap")
	_, err = molder.GapForGrip{Roller: 200, Friction: 0.05, Thickness: 450}.Solve()
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "flatten the piece")

	_, err = molder.GripFromTrials{Trials: []molder.GripTrial{{}}}.Solve()
	assert.Equal(t, []string{"roller_diameter", "trials[0].gap", "trials[0].thickness", "trials[0].verdict"}, fields(err))
	_, err = molder.GripFromTrials{Roller: 200}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.GripFromTrials{Roller: 200, Trials: make([]molder.GripTrial, 1001)}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.GripFromTrials{Roller: 200, Trials: []molder.GripTrial{{Thickness: 60, Gap: 15, Taken: molder.Good}, {Thickness: 50, Gap: 15, Taken: molder.TooMuch}}}.Solve()
	require.ErrorAs(t, err, &none)

	q := twoPairs
	q.Roller = 200
	_, err = q.Solve()
	assert.Equal(t, []string{"friction"}, fields(err))
	q.Roller, q.Friction = 0, 0.8
	_, err = q.Solve()
	assert.Equal(t, []string{"roller_diameter"}, fields(err))
}

// The first of two pairs says whether it draws the piece in, as the pair by itself does.
func TestFirstPairGrips(t *testing.T) {
	for _, friction := range []float64{0.3, 0.5, 0.8} {
		q := twoPairs
		q.Roller, q.Friction, q.Thickness = 200, friction, 60
		both, err := q.Solve()
		require.NoError(t, err)
		one, err := molder.RollerGrip{Roller: 200, Gap: both.FirstGap, Friction: friction, Thickness: 60}.Solve()
		require.NoError(t, err)
		assert.Equal(t, one.ThicknessLimit, both.GripLimit)
		assert.Equal(t, one.Conditions.Has(molder.NoGrip), both.Conditions.Has(molder.NoGrip))
		assert.Equal(t, friction < 0.6, both.Conditions.Has(molder.NoGrip), "friction %v", friction)
	}
}

func ExampleRollerGrip() {
	out, _ := molder.RollerGrip{Roller: unit.Millimetres(200), Gap: unit.Millimetres(15), Friction: 0.8, Thickness: unit.Millimetres(118)}.Solve()
	fmt.Printf("The rollers draw in pieces up to %v.\n", out.ThicknessLimit)
	fmt.Println(out.Conditions)
	// Output:
	// The rollers draw in pieces up to 75.33 mm.
	// uncalibrated, no-grip
}

func ExampleGapForGrip() {
	out, _ := molder.GapForGrip{Roller: unit.Millimetres(200), Friction: 0.6, Thickness: unit.Millimetres(60)}.Solve()
	fmt.Printf("Leave a gap of at least %v.\n", out.Gap)
	// Output:
	// Leave a gap of at least 22.95 mm.
}

func ExampleGripFromTrials() {
	out, _ := molder.GripFromTrials{Roller: unit.Millimetres(200), Trials: []molder.GripTrial{
		{Thickness: unit.Millimetres(60), Gap: unit.Millimetres(15), Taken: molder.Good}, {Thickness: unit.Millimetres(80), Gap: unit.Millimetres(15), Taken: molder.TooMuch},
	}}.Solve()
	fmt.Printf("A friction of %.2f is there.\n", out.Friction)
	// Output:
	// A friction of 0.68 is there.
}
