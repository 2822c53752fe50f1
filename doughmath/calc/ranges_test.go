package calc_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Every number of an input has its range in its tag, or says there that it
// depends on another value; every list says how many items it takes, or that.
func TestEveryInputHasItsRange(t *testing.T) {
	for _, e := range calc.Entries() {
		in, _ := e.Types()
		var walk func(t2 reflect.Type, path string)
		walk = func(typ reflect.Type, path string) {
			for _, f := range reckon.Fields(typ) {
				tag := typ.FieldByIndex(f.Index).Tag
				name := path + f.Name
				inner := f.Type
				for inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Slice || inner.Kind() == reflect.Array {
					inner = inner.Elem()
				}
				switch {
				case inner.Kind() == reflect.Float64, inner.Kind() == reflect.Int, inner == reflect.TypeFor[unit.Temp]():
					assert.NotEmpty(t, tag.Get("range"), "%s: %s has no range tag", e.ID, name)
				case inner.Kind() == reflect.Struct:
					walk(inner, name+".")
				}
			}
		}
		walk(in, "")
	}
}
