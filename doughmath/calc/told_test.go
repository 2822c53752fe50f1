package calc_test

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// spoil calls visit with the input, each value of it spoilt in turn: replaced
// by true, or left out; of a sample one in seven.
func spoil(t *testing.T, input string, sample bool, visit func(path, spoilt string, missing bool)) {
	t.Helper()
	var tree any
	require.NoError(t, json.Unmarshal([]byte(input), &tree))
	shown := 0
	show := func(path string, missing bool) {
		if shown++; sample && shown%7 != 0 { // a value is shown once or twice
			return
		}
		text, err := json.Marshal(tree)
		require.NoError(t, err)
		visit(strings.TrimPrefix(path, "."), string(text), missing)
	}
	var walk func(path string, n any)
	walk = func(path string, n any) {
		switch n := n.(type) {
		case map[string]any:
			for _, name := range slices.Sorted(maps.Keys(n)) {
				inner, v := path+"."+name, n[name]
				walk(inner, v)
				if _, isBool := v.(bool); !isBool {
					n[name] = true
					show(inner, false)
				}
				delete(n, name)
				show(inner, true)
				n[name] = v
			}
		case []any:
			for i, v := range n {
				inner := path + "[" + strconv.Itoa(i) + "]"
				walk(inner, v)
				n[i] = true
				show(inner, false)
				n[i] = v
			}
		}
	}
	walk("", tree)
}

// One value that cannot be read is one fault. The others are right, and
// nothing may be said of them on account of it.
func TestOneFaultIsOne(t *testing.T) {
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			spoil(t, e.Example, large(e), func(path, spoilt string, missing bool) {
				_, err := e.Input(spoilt)
				if missing && err == nil {
					return // it may be left out
				}
				list := reckon.InputErrors(err)
				if assert.Len(t, list, 1, "%s: %v", path, err) {
					assert.Equal(t, path, list[0].Field)
				}
			})
		})
	}
}

// What a person typed is what they are told, in an answer that could be read
// and in one that could not.
func TestValuesAsTyped(t *testing.T) {
	for _, c := range []struct{ input, want string }{
		{`{"batch":"24000 lb","dough_rate":"1e9 lb/h"}`, "hopper-time: batch is 24000 lb: want more than 0 g to 10 t\nhopper-time: dough_rate is 1e9 lb/h: want more than 0 kg/h to 200000 t/h"},
		{`{"batch":"24000 lb","dough_rate":"1 lb"}`, "hopper-time: dough_rate is \"1 lb\": want a unit of mass rate in place of \"lb\"; a number and a unit (kg/h, t/h, g/h, g/min, g/s, kg/min, lb/h, oz/h)\nhopper-time: batch is 24000 lb: want more than 0 g to 10 t"},
	} {
		_, err := calc.Eval("hopper-time", []byte(c.input), calc.Options{})
		assert.EqualError(t, err, c.want)
	}
}
