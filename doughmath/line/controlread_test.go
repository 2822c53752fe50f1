package line

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/unit"
)

// A number is read off a scale to its step and in the unit of that; an inch is halved and halved again, down to a 64th.
func TestNumbersAreReadToTheirStep(t *testing.T) {
	inches := func(v float64) float64 { return v * 25.4 } // by definition
	for _, c := range []struct {
		sets   Sets
		number float64
		step   string
		sys    unit.System
		want   string
	}{
		{SetsGuides, inches(1.5625), "0.0625 in", unit.US, "1 9/16 in"},
		{SetsGuides, inches(1.5), "0.0625 in", unit.US, "1 1/2 in"},
		{SetsGuides, inches(0.75), "0.25 in", unit.US, "3/4 in"},
		{SetsGuides, inches(2), "0.5 in", unit.US, "2 in"},
		{SetsGuides, inches(2.5), "0.5 in", unit.US, "2 1/2 in"},
		{SetsGuides, inches(3), "1 in", unit.US, "3 in"},
		{SetsGuides, inches(1.0 / 64), "0.015625 in", unit.US, "1/64 in"},
		{SetsGuides, inches(5.0 / 128), "0.0078125 in", unit.US, "0.0390625 in"}, // no rule has a 128th
		{SetsGuides, inches(1.2), "0.2 in", unit.US, "1.2 in"},                   // a fifth is not halved
		{SetsGuides, inches(1.3), "0.1 in", unit.US, "1.3 in"},
		{SetsGuides, inches(1.5), "0.3 in", unit.US, "1.5 in"},      // nor a third
		{SetsGuides, inches(1.54), "0.0151 in", unit.US, "1.54 in"}, // next to a 64th is none
		{SetsGuides, inches(1.3), "0.26 in", unit.US, "1.3 in"},     // next to a quarter is none
		{SetsGuides, inches(-1.5), "0.5 in", unit.US, "-1.5 in"},
		{SetsGuides, 160, "2 mm", unit.Metric, "160 mm"},
		{SetsGuides, 160, "2  mm", unit.Metric, "160 mm"},
		{SetsGuides, 160.5, "0.5 mm", unit.Metric, "160.5 mm"},
		{SetsGuides, 160, "0.5 mm", unit.Metric, "160 mm"},
		{SetsGuides, 1250, "0.25 m", unit.Metric, "1.25 m"},
		{SetsGuides, 165, "0.5 cm", unit.Metric, "16.5 cm"},
		// A scale in the units that a person did not choose is read in those that they did, rounded.
		{SetsGuides, inches(6.123456), "1 mm", unit.US, "6.123 in"},
		{SetsGuides, inches(6.123456), "0.1 cm", unit.US, "6.123 in"},
		{SetsGuides, inches(6.123456), "0.25 in", unit.Metric, "155.5 mm"},
		{SetsGuides, 1524.123, "0.5 ft", unit.Metric, "1.524 m"},
		{SetsGuides, 304.8 * 1.5, "0.5 ft", unit.US, "1.5 ft"},
		{SetsRounderSpeed, 97, "5 rev/min", unit.US, "97 rev/min"}, // a speed is the same to both
		{SetsGuides, 160.123456, "", unit.Metric, "160.1 mm"},
		{SetsGuides, 160.123456, "0 mm", unit.Metric, "160.1 mm"},
		{SetsFirstNumber, 2.5, "0.5", unit.Metric, "2.5"},
		{SetsFirstNumber, 2.25, "0.05", unit.US, "2.25"},
		{SetsFirstNumber, 2, "1", unit.US, "2"},
		{SetsFirstNumber, 1.0 / 3, "", unit.US, "0.333333"}, // to a millionth
	} {
		assert.Equal(t, c.want, c.sets.shown(c.number, c.step, c.sys), "%v to %q", c.number, c.step)
	}
	for _, c := range []struct {
		sets Sets
		at   string
		want string
	}{{SetsGuides, "254 mm", "10 in"}, {SetsMark, "12.5", "12.5"}, {SetsGuides, "wide", "wide"}, {SetsOil, "12", "12"}, {SetsOil, "1.5000000", "1.5000000"}} {
		assert.Equal(t, c.want, c.sets.in(c.at, unit.US), "%s", c.at)
	}
}
