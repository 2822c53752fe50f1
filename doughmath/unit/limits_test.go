package unit_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
)

// The thermochemical calorie is 4.184 J by definition: NIST Special Publication 811, appendix B.8.
func TestCalorie(t *testing.T) {
	var e unit.Energy
	require.NoError(t, e.UnmarshalText([]byte("1000 kcal")))
	assert.InDelta(t, 4184, e.Kilojoules(), 1e-9)
}

// People count in hours up to three days, and in days from there; common practice.
func TestHoursBecomeDays(t *testing.T) {
	assert.Equal(t, "71 h", unit.Hours(71).String())
	assert.Equal(t, "3 d", unit.Hours(72).String())
}

// What an error repeats of a text is cut behind 64 bytes.
func TestClipAtItsLength(t *testing.T) {
	assert.Equal(t, strings.Repeat("x", 64), unit.Clip(strings.Repeat("x", 64)))
	assert.Equal(t, strings.Repeat("x", 64)+"…", unit.Clip(strings.Repeat("x", 65)))
}
