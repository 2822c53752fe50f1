package divider_test

import (
	"fmt"
	"log"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func caught() []divider.SlidePoint {
	return []divider.SlidePoint{{Slide: 1, FlourRate: 0.2}, {Slide: 3, FlourRate: 0.8}, {Slide: 6, FlourRate: 2.6}}
}

func ExampleSlideForFlow() {
	out, err := divider.SlideForFlow{FlourRate: 1.4, Points: caught(), SlideStep: 0.5}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("slide at", out.Slide, "for", out.FlourRate)
	// Output:
	// slide at 4 for 1.4 kg/h
}

func ExampleFlowForSlide() {
	out, err := divider.FlowForSlide{Slide: 2, Points: caught()}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(out.FlourRate)
	// Output:
	// 0.5 kg/h
}

func TestSlideThereAndBack(t *testing.T) {
	for _, rate := range []unit.MassRate{0.2, 0.3, 0.8, 1.7, 2.6} {
		in := divider.SlideForFlow{FlourRate: rate, Points: caught()}
		out, err := in.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(rate), float64(out.FlourRate), 1e-12)
		back, err := divider.FlowForSlide{Slide: out.Slide, Points: caught()}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(rate), float64(back.FlourRate), 1e-12)
		assert.Zero(t, out.Conditions)
		in.SlideStep = 0.4
		holdsWhenWorkedByHand(t, in)
		holdsWhenWorkedByHand(t, divider.FlowForSlide{Slide: 2, Points: caught()})
	}
	out, err := divider.SlideForFlow{FlourRate: 1, Points: caught(), SlideStep: 0.5}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 3.5, out.Slide)
	assert.True(t, out.Conditions.Has(reckon.Rounded))
}

func TestSlideRefuses(t *testing.T) {
	for _, rate := range []unit.MassRate{0.1, 3} {
		_, err := divider.SlideForFlow{FlourRate: rate, Points: caught()}.Solve()
		assert.ErrorContains(t, err, "catch flour at further positions")
	}
	_, err := divider.SlideForFlow{FlourRate: -1, Points: caught()[:1], SlideStep: -1}.Solve()
	assert.Equal(t, []string{"flour_rate", "points", "slide_step"}, fields(err))
	_, err = divider.SlideForFlow{Points: []divider.SlidePoint{{2, 1}, {1, 0.5}}}.Solve()
	assert.Equal(t, []string{"points[1].slide", "points[1].flour_rate"}, fields(err))
	_, err = divider.FlowForSlide{Slide: 9, Points: caught()}.Solve()
	assert.Equal(t, []string{"slide"}, fields(err))
}

func BenchmarkSlideForFlow(b *testing.B) {
	in := divider.SlideForFlow{FlourRate: 1.4, Points: caught(), SlideStep: 0.5}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// Of a value out of its range it is not said besides that it does not rise.
func TestSlidesAreRefusedOnce(t *testing.T) {
	_, err := divider.FlowForSlide{Points: []divider.SlidePoint{{Slide: 1, FlourRate: 1}, {Slide: -2e6, FlourRate: -1}}}.Solve()
	assert.Equal(t, []string{"points[1].slide", "points[1].flour_rate"}, refusedFields(err))
}
