package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/molder"
)

// Nothing held by glue, and no plastic or fabric, is ever sent into warmer
// water than bare metal; and every pair has its words.
func TestPartCareIsWhole(t *testing.T) {
	for _, part := range []molder.Part{
		molder.RoundingDrum, molder.DrumBrush, molder.StampDie, molder.PressingBoard, molder.Scraper, molder.BeltPart, molder.PocketCup,
	} {
		metal, err := molder.PartCare(molder.PartCareInput{Part: part, Material: molder.Metal})
		require.NoError(t, err)
		for _, material := range []molder.Material{molder.Plastic, molder.Glued, molder.Fabric, molder.Metal} {
			out, err := molder.PartCare(molder.PartCareInput{Part: part, Material: material, Water: doughmath.Celsius(30)})
			require.NoError(t, err)
			for _, words := range []string{out.Wash, out.Dry, out.Store, out.Loosens} {
				assert.NotEmpty(t, words, "%s of %s", part, material)
			}
			assert.Equal(t, doughmath.FromMemory, out.Conditions)
			assert.True(t, out.Cautions.Has(doughmath.Cleaning|doughmath.LockedOut))
			assert.Equal(t, material == molder.Metal, out.Cautions.Has(doughmath.HotWater))
			if material != molder.Metal {
				assert.Less(t, out.Warmest.Celsius(), metal.Warmest.Celsius())
			}
			hot, err := molder.PartCare(molder.PartCareInput{Part: part, Material: material, Water: doughmath.Celsius(out.Warmest.Celsius() + 1)})
			require.NoError(t, err)
			assert.True(t, hot.Conditions.Has(doughmath.HotForPart))
		}
	}
}

func TestPartCareRefuses(t *testing.T) {
	_, err := molder.PartCare(molder.PartCareInput{Water: doughmath.Celsius(120)})
	assert.Equal(t, []string{"part", "material", "water"}, fields(err))
}

func ExamplePartCare() {
	out, _ := molder.PartCare(molder.PartCareInput{Part: molder.RoundingDrum, Material: molder.Plastic, Water: doughmath.Celsius(60)})
	fmt.Println("Water no warmer than", out.Warmest)
	fmt.Println(out.Store)
	fmt.Println(out.Conditions.Sentences()[1])
	// Output:
	// Water no warmer than 40 °C
	// Keep it as the maker directs, off its cups and away from heat, with its number to be seen.
	// The water is too warm for this part: let it cool, or the part warps or comes apart.
}
