package reckon

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/unit"
)

// So many significant figures, all figures of a whole number part, no trailing zeros, and a power of ten where a
// number would be all zeros.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		v      float64
		digits int
		want   string
	}{
		{0, 5, "0"},
		{math.NaN(), 5, "NaN"},
		{math.Inf(1), 5, "+Inf"},
		{math.Inf(-1), 5, "-Inf"},
		{123.456, 5, "123.46"},
		{-123.456, 5, "-123.46"},
		{123.456, 2, "123"},
		{120, 5, "120"},
		{1.5, 5, "1.5"},
		{0.00123456, 5, "0.0012346"},
		{99999.6, 5, "100000"},
		{1e-4, 5, "0.0001"},
		{0.995e-4, 5, "9.95e-05"},
		{1.25e-7, 5, "1.25e-07"},
		{-1e-7, 5, "-1e-07"},
		{999999999999999, 5, "999999999999999"},
		{1e15, 5, "1e+15"},
		{1.005e15, 5, "1.005e+15"},
	} {
		assert.Equal(t, c.want, figures(c.v, c.digits), "%v to %d", c.v, c.digits)
	}
}

// How many digits numbers are shown with, by hand: five, and as many more as it takes for every number to come out of
// those shown, up to the fifteen of a float64 that are sure. What then does not come out has fewer, and what lies upon
// the edge between two roundings is what the numbers shown make of it.
func TestDigits(t *testing.T) {
	for _, c := range []struct {
		id    string
		steps []Step
		want  []string
	}{
		{"one more digit where the last would come out differently", []Step{
			given("x", "x", 1.0/3, "", ""), worked("y", "y", "x*3", 1, ""),
		}, []string{"0.333333", "1"}},
		// Of the logarithm of 1 + 1.2346e-10 five digits take fifteen of the number; of 1 + 1.2346e-11 four are left.
		{"fifteen digits", []Step{
			given("x", "x", 1.0000000001234567, "", ""), worked("y", "y", "ln(x)", math.Log(1.0000000001234567), ""),
		}, []string{"1.00000000012346", "1.2346e-10"}},
		{"and no more", []Step{
			given("x", "x", 1.00000000001234567, "", ""), worked("y", "y", "ln(x)", math.Log(1.00000000001234567), ""),
		}, []string{"1.00000000001235", "1.235e-11"}},
		// 2*pi is 6.2832: what was computed is 6.28 with it to three digits, 6 to one, and 7 to none.
		{"as far as it comes out", []Step{worked("y", "y", "2*pi", 6.2848, "")}, []string{"6.28"}},
		{"to one digit", []Step{worked("y", "y", "2*pi", 6.4, "")}, []string{"6"}},
		{"to none", []Step{worked("y", "y", "2*pi", 7, "")}, []string{"7"}},
		// Five digits of x make 1.5 of z, seven too, but six, which y takes, would make 1.5001.
		{"what another takes is looked at again", []Step{
			given("x", "x", 0.3333349, "", ""), worked("y", "y", "x*3", 1.0000047, ""), worked("z", "z", "x + 1.16671505", 1.50004995, ""),
		}, []string{"0.3333349", "1", "1.5"}},
		// 200005.5 is rounded up; that a computation came out 3e-11 below is nothing to whoever keys it in.
		{"upon the edge of rounding", []Step{
			given("x", "x", 200005.5, "", "200005.5"), worked("y", "y", "x*1", math.Nextafter(200005.5, 0), ""),
		}, []string{"200005.5", "200006"}},
		{"and what is made of it", []Step{
			given("x", "x", 200005.5, "", "200005.5"), worked("y", "y", "x*1", math.Nextafter(200005.5, 0), ""), worked("z", "z", "y*1", math.Nextafter(200005.5, 0), ""),
		}, []string{"200005.5", "200005.5", "200006"}},
	} {
		var got []string
		for _, s := range ShowSteps(c.steps, unit.Metric) {
			got = append(got, s.Value)
		}
		assert.Equal(t, c.want, got, c.id)
	}
}
