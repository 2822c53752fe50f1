package divider_test

import (
	"fmt"
	"log"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExampleCapability() {
	out, err := divider.Capability{
		Mean: unit.Grams(85.2), SDWithin: unit.Grams(0.7), Pieces: 100,
		Low: unit.Grams(82), High: unit.Grams(88), Confidence: 95, Required: 1.33,
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

func TestCapabilityConditions(t *testing.T) {
	base := divider.Capability{Mean: 85, SDWithin: 0.7, Pieces: 500, Low: 82, High: 88, Confidence: 95, Required: 1.33}
	for _, tt := range []struct {
		id     string
		change func(*divider.Capability)
		want   divider.Conditions
	}{
		{"capable", func(in *divider.Capability) { in.SDWithin = 0.6 }, 0},
		{"just-capable", func(in *divider.Capability) { in.Pieces = 100 }, divider.WeighMore},
		{"too-wide", func(in *divider.Capability) { in.SDWithin = 1 }, divider.NotCapable},
		{"off-centre", func(in *divider.Capability) { in.Mean = 86.5 }, divider.NotCapable},
		{"outside", func(in *divider.Capability) { in.Mean = 90 }, divider.NotCapable},
		{"wandering", func(in *divider.Capability) { in.SDWithin, in.SDOverall = 0.6, 1 }, divider.NotCapable},
	} {
		in := base
		tt.change(&in)
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, tt.want, out.Conditions, tt.id)
	}
}

func TestCapabilityThereAndBack(t *testing.T) {
	for _, cpk := range []float64{0.5, 1, 1.33, 2} {
		sd, err := divider.SDForCapability{Mean: 84, Low: 82, High: 88, Cpk: cpk}.Solve()
		require.NoError(t, err)
		out, err := divider.Capability{Mean: 84, SDWithin: sd.SD, Pieces: 100, Low: 82, High: 88, Confidence: 95, Required: 1}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, cpk, out.Cpk, 1e-14)
	}
}

// What falls outside the tolerance follows the index that decides: a wandering
// mean puts pieces outside, however steady the subgroups are.
func TestCapabilitySharesFollowTheScatterOfAllPieces(t *testing.T) {
	in := divider.Capability{Mean: 84, SDWithin: 0.4, Pieces: 100, Low: 82, High: 88, Confidence: 95, Required: 1.33}
	within, err := in.Solve()
	require.NoError(t, err)
	in.SDOverall = 1
	overall, err := in.Solve()
	require.NoError(t, err)
	in.SDWithin = 1
	wide, err := in.Solve()
	require.NoError(t, err)
	assert.Less(t, within.ShareBelow, unit.Percent(1e-4))
	assert.Equal(t, wide.ShareBelow, overall.ShareBelow)
	assert.Equal(t, wide.ShareAbove, overall.ShareAbove)
	assert.InDelta(t, 2.275, float64(overall.ShareBelow), 5e-4) // two deviations below, by the table
	in.SDWithin = 0.4
	holdsWhenWorkedByHand(t, in)
}

func TestCapabilityRefuses(t *testing.T) {
	_, err := divider.Capability{SDOverall: -1, Low: 88, High: 82, Target: -85}.Solve()
	assert.Equal(t, []string{"mean", "sd_within", "sd_overall", "pieces", "high", "target", "confidence", "required"}, refusedFields(err))
	_, err = divider.Capability{Mean: 85, SDWithin: 1, Pieces: 50, Low: 88, High: 82, Target: 85, Confidence: 95, Required: 1}.Solve()
	assert.Equal(t, []string{"high"}, refusedFields(err), "a target is held against a tolerance that is one")
	_, err = divider.SDForCapability{Mean: 90, Low: 82, High: 88, Cpk: 9}.Solve()
	assert.Equal(t, []string{"mean", "cpk"}, refusedFields(err))
	_, err = divider.SDForCapability{Mean: 90, Low: -1, High: 88, Cpk: 1}.Solve()
	assert.Equal(t, []string{"low"}, refusedFields(err), "where no tolerance is given, any weight may be in it")
	_, err = divider.SDForCapability{Mean: 85, Low: 82, High: -1, Cpk: 1}.Solve()
	assert.Equal(t, []string{"high"}, refusedFields(err))
	_, err = divider.SDForCapability{Low: 88, High: 82, Cpk: 1}.Solve()
	assert.Equal(t, []string{"high", "mean"}, refusedFields(err))
	_, err = divider.SDForCapability{Mean: 90, Low: 82, High: 88, Cpk: 1}.Solve()
	assert.Equal(t, []string{"mean"}, refusedFields(err))
}

func BenchmarkCapability(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.Capability{Mean: 85, SDWithin: 0.7, Pieces: 500, Low: 82, High: 88, Confidence: 95, Required: 1.33}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
