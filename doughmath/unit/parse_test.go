package unit_test

import (
	"encoding"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/unit"
)

// Of every kind of quantity, Parse reads what the kind's own reader reads, to
// the last bit, and refuses what it refuses, in the same words.
func TestParseAnyKind(t *testing.T) {
	for _, zero := range zeros {
		kind := Describe(zero)
		for _, symbol := range append(kind.Units, "furlong", "") {
			for _, number := range []string{"85.3", "-1e-3", "0", "x", "1e999", "1 g 2"} {
				text := number + " " + symbol
				own := reflect.New(reflect.TypeOf(zero))
				want := own.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text))
				got, err := Parse(zero, text)
				assert.Equal(t, want, err, "%s %q", kind.Name, text)
				if err == nil {
					require.Equal(t, Held(own.Elem().Interface().(Quantity)), got, "%s %q", kind.Name, text)
				}
			}
		}
	}
}
