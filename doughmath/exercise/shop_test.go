package exercise

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
)

// Every line of the table is that of some value, and of a quantity that it has.
func TestShopRangesAreOfUse(t *testing.T) {
	used := map[string]bool{}
	for _, e := range calc.Entries() {
		f := formOf(e.ID)
		for i := range f.slots {
			s := &f.slots[i]
			for _, key := range [...]string{e.ID + "." + s.path, lastTwo(s.path), e.ID + "." + s.name, s.name} {
				line, ok := shopRanges[key]
				if !ok {
					continue
				}
				from, _, isRange := strings.Cut(line, "..")
				if _, fits := readBound(from, s.quantity); !isRange || fits {
					used[key] = true
				}
				break
			}
		}
		for i := range f.outlets {
			used[f.outlets[i].path] = used[f.outlets[i].path] || f.outlets[i].shop.hasLow
		}
	}
	for key, line := range shopRanges {
		assert.True(t, used[key], "%s: %s is of no use", key, line)
	}
}

// Instruments have steps that people read: a one, a two or a five with zeros, or
// quarters; and finer ones for smaller values.
func TestInstruments(t *testing.T) {
	for _, zero := range kinds {
		name := unit.Describe(zero).Name
		scales, ok := instruments[name]
		if !assert.True(t, ok, name) {
			continue
		}
		for _, scale := range scales {
			last := 0.0
			for i, r := range scale {
				held := stepHeld(zero, r.step, r.unit)
				assert.Greater(t, held, last, "%s in %s", name, r.unit)
				last = held
				assert.True(t, i == 0 || held < r.from, "%s from %v in steps of %v %s", name, r.from, r.step, r.unit)
				figure := r.step / powerOfTen(exponent(r.step))
				assert.Contains(t, []float64{1, 2, 5, 2.5}, math.Round(figure*10)/10, "%s: %v", name, r.step)
			}
		}
	}
	assert.Equal(t, rung{0, "°C", 0.5}, instrument(unit.Temp{}, false, 24, unit.Metric))
	assert.Equal(t, rung{1000, "kg", 0.05}, instrument(unit.Mass(0), false, 4000, unit.Metric))
	assert.Equal(t, rung{0, "strokes/min", 1}, instrument(unit.StrokeRate(0), false, 24, unit.Metric))
}

func TestAskedSteps(t *testing.T) {
	for _, c := range []struct {
		shown  float64
		symbol string
		want   float64
	}{
		{20.3, "°C", 0.5},
		{68, "°F", 1},
		{14, "C°", 0.5},
		{2.5, "C°", 0.1},
		{578.8, "g", 1},
		{85.3, "g", 0.1},
		{5.714, "kg", 0.01},
		{0.0571, "kg", 0.01},
		{137.2, "kg", 1},
		{3.483, "", 0.01},
		{34.48, "", 0.1},
		{0.9612, "", 0.001},
		{28.04, "strokes/min", 0.1},
		{2.1, "strokes/min", 0.1},
		{-1.35, "g", 0.01},
		{1913.9, "kJ", 10},
	} {
		assert.Equal(t, c.want, askedStep(c.shown, c.symbol), "%v %s", c.shown, c.symbol)
	}
	assert.Equal(t, "5.710", strings.TrimSpace(atSteps(5.71, 0.001)))
	assert.Equal(t, "20.5", atSteps(20.3, 0.5))
	assert.Equal(t, "0", atSteps(-0.2, 1))
	assert.Equal(t, "1550", atSteps(1553, 10))
}
