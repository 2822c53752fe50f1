package molder_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// What each part is made of.
var made = map[molder.Part][]molder.Material{
	molder.RoundingDrum:  {molder.Plastic, molder.Metal},
	molder.DrumBrush:     {molder.Glued},
	molder.StampDie:      {molder.Plastic, molder.Metal},
	molder.PressingBoard: {molder.Plastic, molder.Metal, molder.Glued},
	molder.Scraper:       {molder.Plastic, molder.Metal},
	molder.BeltPart:      {molder.Plastic, molder.Fabric},
	molder.PocketCup:     {molder.Plastic, molder.Metal, molder.Fabric},
}

// Nothing held by glue, and no plastic or fabric, is ever sent into warmer
// water than bare metal; every pair that there is has its words, and every
// other is refused by naming those.
func TestPartCareIsWhole(t *testing.T) {
	for part, materials := range made {
		for _, material := range []molder.Material{molder.Plastic, molder.Glued, molder.Fabric, molder.Metal} {
			out, err := molder.PartCare{Part: part, Material: material, WaterTemp: unit.Celsius(30)}.Solve()
			if !slices.Contains(materials, material) {
				assert.Equal(t, []string{"material"}, fields(err), "%s of %s", part, material)
				for _, m := range materials {
					assert.ErrorContains(t, err, string(m))
				}
				continue
			}
			require.NoError(t, err)
			for _, words := range []string{out.Wash, out.Drying, out.Store, out.Loosens} {
				assert.NotEmpty(t, words, "%s of %s", part, material)
				if part != molder.DrumBrush {
					assert.NotContains(t, words, "bristles", "%s of %s", part, material)
				}
				assert.NotContains(t, words, "core")
			}
			assert.Equal(t, molder.Conditions(reckon.FromMemory), out.Conditions)
			assert.True(t, out.Cautions.Has(reckon.Cleaning|reckon.LockedOut))
			assert.Equal(t, material == molder.Metal, out.Cautions.Has(reckon.HotWater))
			if material == molder.Metal {
				assert.Equal(t, 60.0, out.Warmest.Celsius())
			} else {
				assert.Equal(t, 40.0, out.Warmest.Celsius())
			}
			hot, err := molder.PartCare{Part: part, Material: material, WaterTemp: unit.Celsius(out.Warmest.Celsius() + 1)}.Solve()
			require.NoError(t, err)
			assert.True(t, hot.Conditions.Has(molder.HotForPart))
		}
	}
}

func TestPartCareRefuses(t *testing.T) {
	_, err := molder.PartCare{WaterTemp: unit.Celsius(120)}.Solve()
	assert.Equal(t, []string{"part", "material", "water_temp"}, fields(err))
}

func ExamplePartCare() {
	out, _ := molder.PartCare{Part: molder.RoundingDrum, Material: molder.Plastic, WaterTemp: unit.Celsius(60)}.Solve()
	fmt.Println("Water no warmer than", out.Warmest)
	fmt.Println(out.Store)
	fmt.Println(out.Conditions.Sentences()[1])
	// Output:
	// Water no warmer than 40 °C
	// Keep it as the maker directs, off its cups and away from heat, with its number in view.
	// The water is too warm for this part: let it cool, or the part may warp or come apart.
}
