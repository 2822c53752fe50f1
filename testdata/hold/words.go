package hold

import (
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// refusesWords: a word that is none of the choices of a field is refused at that field.
func refusesWords(t *testing.T, e calc.Entry) {
	q := Ask(e)
	eachWord(q.in, nil, func(steps []reckon.Field) {
		refused := false
		for _, base := range q.bases() {
			WalkTo(base.Elem(), steps).SetString("no such word")
			refused = refused || slices.ContainsFunc(wrong(base.Interface()), func(bad *reckon.InputError) bool { return bad.Field == leafPath(steps) })
		}
		assert.True(t, refused, "%s takes any word", pathOf(steps))
	})
}

// refusesNothing: of a question in which nothing is given Solve says what Check says, and gives no answer.
func refusesNothing(t *testing.T, e calc.Entry) {
	in, _ := e.Types()
	q := reflect.New(in).Interface()
	want := wrong(q)
	for i := range want {
		want[i].Func = e.ID
	}
	answer, solve := e.Repeat(q, nil)
	err := solve()
	assert.Equal(t, want, reckon.InputErrors(err))
	assert.True(t, err == nil || reflect.ValueOf(answer).Elem().IsZero(), "it is refused, and yet there is an answer")
}

// eachWord visits every field whose type names its choices.
func eachWord(t reflect.Type, steps []reckon.Field, visit func(steps []reckon.Field)) {
	for _, f := range reckon.Fields(t) {
		path := append(append([]reckon.Field{}, steps...), f)
		inner := f.Type
		for inner.Kind() == reflect.Slice || inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Array {
			inner = inner.Elem()
		}
		switch {
		case inner.Kind() == reflect.String && inner != reflect.TypeFor[string]():
			visit(path)
		case inner.Kind() == reflect.Struct && inner != reflect.TypeFor[unit.Temp]() && t.FieldByIndex(f.Index).Tag.Get("range") != "-":
			eachWord(inner, path, visit)
		}
	}
}
