package unit_test

import (
	"math"
	"testing"

	"example.com/dough/doughmath/unit"

	"github.com/stretchr/testify/assert"
)

// The clock counts from midnight, to the nearest minute; a clock with twelve hours begins each half day with twelve.
func TestTimeOfDay(t *testing.T) {
	for _, c := range []struct {
		at         unit.Duration
		metric, us string
		day        int
	}{
		{0, "0:00", "12:00 am", 0},
		{unit.Minutes(5*60 + 7), "5:07", "5:07 am", 0},
		{unit.Hours(12) - 31, "11:59", "11:59 am", 0},
		{unit.Hours(12) - 30, "12:00", "12:00 pm", 0},
		{unit.Hours(23), "23:00", "11:00 pm", 0},
		{unit.Hours(24) - 20, "0:00", "12:00 am", 1},
		{unit.Hours(49), "1:00", "1:00 am", 2},
		{-unit.Minutes(30), "23:30", "11:30 pm", -1},
		{-unit.Hours(24), "0:00", "12:00 am", -1},
		{-unit.Hours(24) - 60, "23:59", "11:59 pm", -2},
		{unit.Hours(24*365*1000) - 60, "23:59", "11:59 pm", 364_999},
		{unit.Hours(24 * 365 * 1000), "365000 d", "365000 d", 0},
		{unit.Duration(math.Inf(1)), "+Inf s", "+Inf s", 0},
		{unit.Duration(math.NaN()), "NaN s", "NaN s", 0},
	} {
		text, day := c.at.TimeOfDay(unit.Metric)
		assert.Equal(t, c.metric, text)
		assert.Equal(t, c.day, day, c.metric)
		text, day = c.at.TimeOfDay(unit.US)
		assert.Equal(t, c.us, text)
		assert.Equal(t, c.day, day, c.us)
	}
}
