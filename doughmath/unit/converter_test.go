package unit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/unit"
)

// A converter says the same as InUnit for every unit, and leads back.
func TestConverter(t *testing.T) {
	for _, q := range []Quantity{Grams(123.4), Millimetres(56), Celsius(21.5), CelsiusDegrees(7), KilogramsPerHour(88), Seconds(90)} {
		for _, symbol := range Describe(q).Units {
			c, ok := ConverterTo(q, symbol)
			require.True(t, ok, symbol)
			want, ok := InUnit(q, symbol)
			require.True(t, ok)
			assert.Equal(t, symbol, c.Symbol)
			assert.InDelta(t, want, c.FromHeld(Held(q)), 1e-12*want)
			assert.InDelta(t, Held(q), c.ToHeld(want), 1e-12*Held(q))
		}
	}
	c, ok := ConverterTo(Temp{}, "F")
	require.True(t, ok)
	assert.Equal(t, "°F", c.Symbol)
	assert.Equal(t, 212.0, c.FromHeld(100))
	assert.Equal(t, 100.0, c.ToHeld(212))
	_, ok = ConverterTo(Grams(1), "mm")
	assert.False(t, ok)
}
