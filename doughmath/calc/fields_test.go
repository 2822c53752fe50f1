package calc_test

import (
	"encoding"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata/hold"
)

// A refusal names a field that the input has, whichever value is at the end of
// its range or beyond it: nobody can mend a value that they never gave.
func TestRefusalsNameFieldsOfTheInput(t *testing.T) {
	for _, e := range calc.Entries() {
		in, _ := e.Types()
		question, tried := hold.Ask(e), 0
		try := func(steps []reckon.Field, set func(reflect.Value)) {
			if tried++; large(e) && tried%8 != 0 {
				return
			}
			q := question.Example().Elem()
			set(hold.WalkTo(q, steps))
			_, err := e.Call(q, nil)
			for _, bad := range reckon.InputErrors(err) {
				assert.True(t, hold.HasField(in, bad.Field), "%s names %q", e.ID, bad.Field)
			}
		}
		hold.EachRange(in, nil, func(steps []reckon.Field, tag, _ string) {
			low, high, ok := strings.Cut(tag, "..")
			if !ok {
				return
			}
			for _, text := range []string{strings.TrimPrefix(low, ">"), strings.TrimPrefix(high, "<")} {
				if text == "" {
					continue
				}
				try(steps, func(v reflect.Value) {
					if u, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
						require.NoError(t, u.UnmarshalText([]byte(text)))
						return
					}
					x, err := strconv.ParseFloat(text, 64)
					require.NoError(t, err)
					hold.SetNumber(v, x)
				})
			}
			for _, x := range []float64{5e-324, -1, 1e308} {
				try(steps, func(v reflect.Value) {
					if v.CanFloat() || v.Type() != reflect.TypeFor[int]() {
						hold.SetNumber(v, x)
					}
				})
			}
		})
	}
}
