package whatif

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Every calculation can be varied: each value of its input is found and set,
// each value of its answer read, and its remarks are those that it has itself.
func TestEveryCalculation(t *testing.T) {
	ins, outs := 0, 0
	for _, e := range calc.Entries() {
		s, err := ByID(e.ID, []byte(e.Example))
		require.NoError(t, err, e.ID)
		result, err := calc.Eval(e.ID, []byte(e.Example), calc.Options{})
		require.NoError(t, err, e.ID)
		answer := reflect.New(reflect.TypeOf(result.Value()))
		answer.Elem().Set(reflect.ValueOf(result.Value()))

		c := reckon.Checks{Func: e.ID}
		var inputs []input
		var x []float64
		for _, l := range s.leaves() {
			in, ok := s.input(&c, "in", l.path)
			require.True(t, ok, "%s: %s: %v", e.ID, l.path, c.Err())
			v, text := read(l.v)
			if in.kind == Word {
				in.words, v = []string{text}, 0
			}
			inputs, x = append(inputs, in), append(x, v)
		}
		var wanted []output
		var want []float64
		var words []string
		for _, l := range leavesOf(answer.Elem(), "", math.MaxInt, nil) {
			out, ok := s.output(&c, "out", l.path)
			require.True(t, ok, "%s: %s: %v", e.ID, l.path, c.Err())
			v, text := read(l.v)
			wanted, want, words = append(wanted, out), append(want, v), append(words, text)
		}
		m := s.model(inputs, wanted)
		w, y := m.worker(), make([]float64, len(wanted))
		for range 2 { // once more over what the first left
			require.NoError(t, w.eval(x, y), e.ID)
			require.Equal(t, bitsOf(want), bitsOf(y), e.ID)
			require.Equal(t, words, append([]string{}, w.texts...), e.ID)
			w.note()
			conditions, cautions := m.remarksOf(w.marks)
			assert.ElementsMatch(t, result.Conditions, conditions, e.ID)
			assert.Equal(t, result.Cautions, cautions, e.ID)
		}
		for _, p := range m.notes.places {
			assert.LessOrEqual(t, strings.Count(p.at, "[]"), len(mark{}.items), "%s: %s stands in more lists than a mark can name", e.ID, p.at)
		}
		ins, outs = ins+len(inputs), outs+len(wanted)
	}
	t.Logf("%d inputs and %d outputs", ins, outs)
	assert.Greater(t, min(ins, outs), 1000)
}

// A study of one scenario, which is the base, gives what the calculation gives,
// in the units of its columns: here the customary ones.
func TestEveryBase(t *testing.T) {
	for _, e := range calc.Entries() {
		s, err := ByID(e.ID, []byte(e.Example))
		require.NoError(t, err)
		result, err := calc.Eval(e.ID, []byte(e.Example), calc.Options{})
		require.NoError(t, err)
		answer := reflect.New(reflect.TypeOf(result.Value()))
		answer.Elem().Set(reflect.ValueOf(result.Value()))
		study := Study{Subject: s, Units: unit.US}
		given := s.leaves()[0]
		for _, l := range s.leaves() {
			if kindOf(l.v.Type()) == Number {
				given = l
				break
			}
		}
		v, text := read(given.v)
		switch q, isQuantity := given.v.Interface().(unit.Quantity); {
		case isQuantity: // with every digit and its unit
			b, err := q.MarshalText()
			require.NoError(t, err)
			text = string(b)
		case text == "":
			text = strconv.FormatFloat(v, 'g', -1, 64)
		}
		study.Vary = []Factor{values(given.path, text)}
		leaves := leavesOf(answer.Elem(), "", math.MaxInt, nil)
		for _, l := range leaves[:min(len(leaves), mostOutputs)] {
			study.Outputs = append(study.Outputs, Output{Path: l.path})
		}
		c, err := study.Compile()
		require.NoError(t, err, e.ID)
		assert.Nil(t, c.BaseRefused(), e.ID)
		r, err := c.At(0)
		require.NoError(t, err)
		require.NoError(t, r.Err(), "%s: %s = %s", e.ID, given.path, text)
		if kindOf(given.v.Type()) == Number {
			assert.InDelta(t, v, r.Values[0], 1e-12*math.Abs(v), e.ID)
		}
		for i := range study.Outputs {
			want, word := read(leaves[i].v)
			if q, ok := leaves[i].v.Interface().(unit.Quantity); ok {
				want, ok = unit.InUnit(q, c.Columns()[1+i].Unit)
				require.True(t, ok, "%s: %s", e.ID, c.Columns()[1+i].Name)
			}
			if !math.IsNaN(want) {
				assert.InDelta(t, want, r.Values[1+i], 1e-12*math.Abs(want), "%s: %s", e.ID, leaves[i].path)
			}
			assert.Equal(t, word, r.Word(1+i), "%s: %s", e.ID, leaves[i].path)
		}
	}
}
