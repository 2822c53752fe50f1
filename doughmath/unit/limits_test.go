package unit_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/unit"
)

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
