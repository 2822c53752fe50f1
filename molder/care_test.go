package molder_test

import (
	"fmt"
	"slices"
	"strings"
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
	molder.RoundingCore:  {molder.Plastic, molder.Metal},
	molder.DrumBrush:     {molder.Bristle, molder.Plastic, molder.Metal},
	molder.StampDie:      {molder.Plastic, molder.Metal},
	molder.PressingBoard: {molder.Plastic, molder.Metal, molder.Fabric},
	molder.Scraper:       {molder.Plastic, molder.Metal},
	molder.BeltPart:      {molder.Plastic, molder.Fabric},
	molder.PocketCup:     {molder.Plastic, molder.Metal, molder.Fabric},
}

// The strictest of a part's materials and joints rules: warm water is for bare metal
// without glue alone. Every part there is has its words, and every other is
// refused by naming what it is made of.
func TestPartCareIsWhole(t *testing.T) {
	all := []molder.Material{molder.Plastic, molder.Metal, molder.Fabric, molder.Bristle}
	for part, of := range made {
		for set := 1; set < 16; set++ {
			var materials []molder.Material
			stranger := false
			for i, m := range all {
				if set&(1<<i) != 0 {
					materials = append(materials, m)
					stranger = stranger || !slices.Contains(of, m)
				}
			}
			for _, glued := range []bool{false, true} {
				at := fmt.Sprint(part, materials, glued)
				q := molder.PartCare{Part: part, Materials: materials, Glued: glued, WaterTemp: unit.Celsius(30)}
				out, err := q.Solve()
				if stranger || part == molder.DrumBrush && !slices.Contains(materials, molder.Bristle) {
					require.Error(t, err, at)
					assert.ErrorContains(t, err, "materials", at)
					continue
				}
				require.NoError(t, err, at)
				text := strings.Join([]string{out.Wash, out.Drying, out.Store, out.Loosens}, "\n")
				for _, words := range []string{out.Wash, out.Drying, out.Store, out.Loosens} {
					assert.NotEmpty(t, words, at)
				}
				assert.Equal(t, part == molder.DrumBrush, strings.Contains(text, "bristles"), at)
				assert.Equal(t, glued, strings.Contains(text, "glue"), at)
				assert.Contains(t, out.Wash, "what has built up", at)
				bare := len(materials) == 1 && materials[0] == molder.Metal && !glued
				assert.Equal(t, bare, out.Cautions.Has(reckon.HotWater), at)
				assert.Equal(t, bare, strings.Contains(out.Wash, "warm water") && !strings.Contains(out.Wash, "lukewarm"), at)
				assert.Equal(t, map[bool]float64{true: 60, false: 40}[bare], out.Warmest.Celsius(), at)
				assert.Equal(t, molder.Conditions(reckon.FromMemory), out.Conditions, at)
				assert.True(t, out.Cautions.Has(reckon.Cleaning|reckon.LockedOut), at)
				q.WaterTemp = unit.Celsius(out.Warmest.Celsius() + 1)
				hot, err := q.Solve()
				require.NoError(t, err, at)
				assert.True(t, hot.Conditions.Has(molder.HotForPart), at)
			}
		}
	}
}

// Nothing stands or lies on its bristles, in any of the texts of a brush.
func TestBrushIsNeverPutOnItsBristles(t *testing.T) {
	out, err := molder.PartCare{Part: molder.DrumBrush, Materials: []molder.Material{molder.Bristle}, Glued: true}.Solve()
	require.NoError(t, err)
	for _, words := range []string{out.Wash, out.Drying, out.Store} {
		assert.NotContains(t, words, "bristles down")
	}
	assert.Contains(t, out.Drying, "nothing touches the bristles")
	assert.Contains(t, out.Store, "nothing presses on the bristles")
	assert.Contains(t, out.Loosens, "weight on the bristles bends them")
}

func TestDrumStandsOnEnd(t *testing.T) {
	for _, thin := range []bool{false, true} {
		out, err := molder.PartCare{Part: molder.RoundingDrum, Materials: []molder.Material{molder.Plastic}, ThinWalled: thin}.Solve()
		require.NoError(t, err)
		assert.Contains(t, out.Store, "Stand it on end")
		assert.Equal(t, thin, strings.Contains(out.Store, "loses its shape in warmth and damp"))
	}
}

func TestPartCareRefuses(t *testing.T) {
	_, err := molder.PartCare{WaterTemp: unit.Celsius(120)}.Solve()
	assert.Equal(t, []string{"part", "materials", "water_temp"}, fields(err))
	_, err = molder.PartCare{Part: molder.Scraper, Materials: []molder.Material{"steel", molder.Metal, molder.Metal, molder.Fabric}, ThinWalled: true}.Solve()
	assert.Equal(t, []string{"materials[0]", "materials[2]", "materials[3]", "thin_walled"}, fields(err))
	_, err = molder.PartCare{Part: molder.DrumBrush, Materials: []molder.Material{molder.Metal}}.Solve()
	assert.Equal(t, []string{"materials"}, fields(err))
}

func ExamplePartCare() {
	out, _ := molder.PartCare{
		Part: molder.RoundingDrum, Materials: []molder.Material{molder.Plastic}, ThinWalled: true, WaterTemp: unit.Celsius(60),
	}.Solve()
	fmt.Println("Water no warmer than", out.Warmest)
	fmt.Println(out.Store)
	fmt.Println(out.Conditions.Sentences()[1])
	// Output:
	// Water no warmer than 40 °C
	// Stand it on end, dry and at room temperature, with its number in view; its thin wall loses its shape in warmth and damp, so keep it away from proofer, oven and wash-up.
	// The water is too warm for this part: let it cool, or the part may warp or come apart.
}
