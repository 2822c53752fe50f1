package calc_test

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// eachList visits every list in v, and every list inside the first item of one.
func eachList(v reflect.Value, path string, visit func(path string, list reflect.Value, tag reflect.StructTag)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			eachList(v.Elem(), path, visit)
		}
	case reflect.Struct:
		for _, f := range reckon.Fields(v.Type()) {
			inner := v.FieldByIndex(f.Index)
			if inner.Kind() == reflect.Slice {
				visit(path+"."+f.Name, inner, f.Tag)
			}
			eachList(inner, path+"."+f.Name, visit)
		}
	case reflect.Slice:
		for i := range min(1, v.Len()) {
			eachList(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	}
}

// mostItems is how many items a list takes by its tag; a bound that depends on another value may be as great as any.
func mostItems(t *testing.T, tag reflect.StructTag) int {
	_, high, _ := strings.Cut(tag.Get("items"), "..")
	if high == "" {
		return 10_000
	}
	most, err := strconv.Atoi(high)
	require.NoError(t, err)
	return most
}

// Every list says how long it may be, and one that is far too long, with the
// same item over and over, is refused in few words.
func TestEveryListHasABound(t *testing.T) {
	for _, e := range calc.Entries() {
		example, err := e.Input(e.Example)
		require.NoError(t, err)
		q := reflect.New(example.Type()).Elem()
		q.Set(example)
		eachList(q, "", func(path string, list reflect.Value, tag reflect.StructTag) {
			assert.NotEmpty(t, tag.Get("items"), "%s%s has no bound", e.ID, path)
			many := 200_000 // items, more than fit into what is read
			if !all {
				many = max(2_000, min(many, 2*mostItems(t, tag))) // far more than the list takes
			}
			old := reflect.ValueOf(list.Interface())
			long := reflect.MakeSlice(list.Type(), many, many)
			if old.Len() > 0 {
				for n := reflect.Copy(long, old.Slice(0, 1)); n < many; n += reflect.Copy(long.Slice(n, many), long.Slice(0, n)) {
				}
			}
			list.Set(long)
			bad := e.Check(q.Addr().Interface())
			list.Set(old)
			size := 0
			for _, b := range bad {
				size += len(b.Error()) + 1
			}
			assert.NotEmpty(t, bad, "%s%s takes %d items", e.ID, path, many)
			assert.LessOrEqual(t, len(bad), reckon.MaxErrors, "%s%s", e.ID, path)
			assert.LessOrEqual(t, size, reckon.MaxRefusal, "%s%s", e.ID, path)
		})
	}
}

// A name that stands in the stock over and over is told once for each time
// that it is too many, and the stock of a whole shop once.
func TestRepeatedNamesAreToldOnce(t *testing.T) {
	item := `{"name":"rye","mass":"1 kg"}`
	input := func(n int) string {
		return `{"ingredients":[{"name":"rye","role":"flour","percent":"100 %"}],"stock":[` + strings.Repeat(item+",", n-1) + item + `]}`
	}
	_, err := calc.Eval("dough-for-stock", []byte(input(4)), calc.Options{})
	assert.Len(t, reckon.InputErrors(err), 3)
	for _, n := range []int{1000, 30_000} {
		_, err := calc.Eval("dough-for-stock", []byte(input(n)), calc.Options{})
		require.Error(t, err)
		assert.LessOrEqual(t, len(err.Error()), reckon.MaxRefusal)
	}
}
