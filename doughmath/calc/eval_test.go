package calc_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

const water = `{"target_temp":"26 °C","flour_temp":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`

func TestEvalWritesJSON(t *testing.T) {
	for id, c := range map[string]struct {
		input   string
		options calc.Options
		want    string
	}{
		"metric":  {water, calc.Options{}, `{"calculation":"water-temperature","result":{"water_temp":"20 °C","factors":3,"base":"64 C°"},"conditions":[],"cautions":[]}`},
		"US":      {water, calc.Options{Units: unit.US}, `{"calculation":"water-temperature","result":{"water_temp":"68 °F","factors":3,"base":"115.2 F°"},"conditions":[],"cautions":[]}`},
		"rounded": {strings.Replace(water, "14 C°", "14.125 C°", 1), calc.Options{Rounded: true}, `{"calculation":"water-temperature","result":{"water_temp":"19.9 °C","factors":3,"base":"63.88 C°"},"conditions":[],"cautions":[]}`},
		"every digit": {
			strings.Replace(water, "14 C°", "14.125 C°", 1),
			calc.Options{},
			`{"calculation":"water-temperature","result":{"water_temp":"19.875 °C","factors":3,"base":"63.875 C°"},"conditions":[],"cautions":[]}`,
		},
	} {
		t.Run(id, func(t *testing.T) {
			r, err := calc.Eval("water-temperature", []byte(c.input), c.options)
			require.NoError(t, err)
			got, err := json.Marshal(r)
			require.NoError(t, err)
			assert.JSONEq(t, c.want, string(got))
			assert.Equal(t, unit.Celsius(20).Celsius(), math.Round(r.Value().(doughmath.WaterTemperatureResult).WaterTemp.Celsius()))
		})
	}
}

func TestEvalRemarks(t *testing.T) {
	cold := strings.Replace(water, "26 °C", "15 °C", 1)
	r, err := calc.Eval("water-temperature", []byte(cold), calc.Options{Working: true})
	require.NoError(t, err)
	assert.Contains(t, r.Words(), "below-freezing")
	data, err := r.AppendJSON(nil)
	require.NoError(t, err)
	assert.Contains(t, string(data), `"conditions":[{"word":"below-freezing","says":"Liquid water cannot be this cold: replace part of the water with ice."}]`)
	assert.Contains(t, string(data), `"working":[{"id":"target temperature","symbol":"T_d"`)
	assert.NotContains(t, string(data), `"defer"`)

	hot := strings.Replace(water, "26 °C", "33 °C", 1)
	r, err = calc.Eval("water-temperature", []byte(hot), calc.Options{})
	require.NoError(t, err)
	data, err = r.AppendJSON(nil)
	require.NoError(t, err)
	assert.True(t, r.Cautions.Has(reckon.HotWater))
	assert.Contains(t, string(data), `"cautions":[{"word":"hot-water"`)
	assert.Contains(t, string(data), `"defer":"`+reckon.CautionDeference+`"`)
	assert.NotContains(t, string(data), `"working"`)
}

func TestEvalRefuses(t *testing.T) {
	_, err := calc.Eval("watr-temperature", []byte(water), calc.Options{})
	assert.EqualError(t, err, `calc: id is "watr-temperature": want "water-temperature" perhaps`)
	_, err = calc.Eval(strings.Repeat("x", 1000), nil, calc.Options{})
	require.ErrorContains(t, err, "want the id of a calculation")
	assert.Less(t, len(err.Error()), 200)
	_, err = calc.Eval("water-temperature", []byte(`{"target_temp":26}`), calc.Options{})
	var fields []string
	for _, e := range reckon.InputErrors(err) {
		fields = append(fields, e.Field)
	}
	assert.Equal(t, []string{"target_temp", "flour_temp", "friction", "friction_basis"}, fields)
	_, err = calc.Eval("water-temperature", []byte(strings.Replace(water, "26 °C", "45 °C", 1)), calc.Options{})
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	_, ok := calc.Lookup("no-such")
	assert.False(t, ok)
}

func TestResultAppend(t *testing.T) {
	r, err := calc.Eval("water-temperature", []byte(water), calc.Options{})
	require.NoError(t, err)
	for path, want := range map[string]string{"water_temp": "20 °C", "factors": "3", "conditions": ""} {
		got, err := r.Append([]byte("> "), path)
		require.NoError(t, err)
		assert.Equal(t, "> "+want, string(got), path)
	}
	_, err = r.Append(nil, "water_tmp")
	require.ErrorContains(t, err, "the name of an output")
	_, err = r.Append(nil, "water_temp.celsius")
	require.Error(t, err)
}

func TestSolving(t *testing.T) {
	e, _ := calc.Lookup("water-temperature")
	for output, want := range map[string]string{"water_temp": "water-temperature", "dough_temp": "dough-temperature-for-water"} {
		got, err := e.Solving(output)
		require.NoError(t, err)
		assert.Equal(t, want, got.ID)
	}
	_, err := e.Solving("dough_tmp")
	require.ErrorContains(t, err, `want "dough_temp" perhaps; one of weigh, water_temp`)
	_, err = e.Solving("conditions")
	require.Error(t, err)
}

// What a caller does to the entries it got must not reach anyone else's.
func TestEntriesAreCopies(t *testing.T) {
	list := calc.Entries()
	list[0].ID = "spoilt"
	for i := range list {
		for k := range list[i].Inverses {
			list[i].Inverses[k] = "spoilt"
		}
	}
	for _, e := range calc.Entries() {
		assert.NotEqual(t, "spoilt", e.ID)
		assert.NotContains(t, e.Inverses, "spoilt")
		assert.NotEmpty(t, e.Station)
		again, ok := calc.Lookup(e.ID)
		require.True(t, ok)
		assert.Equal(t, e.Func(), again.Func())
	}
}

// The example of every entry works and speaks the whole way through JSON.
func TestExamplesWork(t *testing.T) {
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			for _, o := range []calc.Options{{}, {Units: unit.US}, {Rounded: true, Working: true}} {
				r, err := e.Eval([]byte(e.Example), o)
				require.NoError(t, err)
				data, err := r.AppendJSON(nil)
				require.NoError(t, err)
				require.True(t, json.Valid(data), "%s", data)
			}
		})
	}
}

// An error must name the calculation and a field that its input has, in every
// case: a screen shows it beside that field.
func TestErrorsNameFields(t *testing.T) {
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			in, _ := e.Types()
			_, err := e.Call(reflect.Zero(in), nil)
			if err == nil {
				return // a calculation of optional values only
			}
			names := map[string]bool{}
			for _, f := range reckon.Fields(in) {
				names[f.Name] = true
			}
			for _, bad := range reckon.InputErrors(err) {
				first, _, _ := strings.Cut(bad.Field, ".")
				first, _, _ = strings.Cut(first, "[")
				assert.Equal(t, e.ID, bad.Func, "an error of %s names another calculation", e.ID)
				assert.True(t, names[first], "the error's field %q is not one of the input", bad.Field)
			}
		})
	}
}

// leaves calls visit for every number in v, with its JSON path.
func leaves(path string, v reflect.Value, visit func(path string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[unit.Temp]() {
			visit(path, v)
			return
		}
		for _, f := range reckon.Fields(v.Type()) {
			leaves(strings.TrimPrefix(path+"."+f.Name, "."), v.FieldByIndex(f.Index), visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			leaves(fmt.Sprintf("%s[%d]", path, i), v.Index(i), visit)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			leaves(path, v.Elem(), visit)
		}
	case reflect.Float64, reflect.Int, reflect.String:
		visit(path, v)
	}
}

// A Go caller can pass what JSON cannot: NaN, infinities, the largest and the
// smallest numbers. Each is refused by name, or does no harm.
func TestImpossibleNumbers(t *testing.T) {
	hostile := []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, -1, 0}
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			in, err := e.Input(e.Example)
			require.NoError(t, err)
			at := 0
			leaves("", in, func(path string, v reflect.Value) {
				before := reflect.ValueOf(v.Interface())
				at++
				if v.Kind() == reflect.String {
					v.SetString("?")
					finite(t, e, in, path, "?")
					v.Set(before)
					return
				}
				for i, h := range hostile {
					switch {
					case large(e) && i*3 != at%(3*len(hostile)): // every third, by one value each
						continue
					case v.Kind() == reflect.Float64:
						v.SetFloat(h)
					case v.Kind() == reflect.Struct:
						v.Set(reflect.ValueOf(unit.Celsius(h)))
					case v.Kind() == reflect.Int && math.Abs(h) == math.MaxFloat64:
						v.SetInt(int64(math.Copysign(math.MaxInt32, h)))
					case v.Kind() == reflect.Int:
						continue
					}
					finite(t, e, in, path, h)
				}
				v.Set(before)
			})
		})
	}
}

// A list that holds nothing where something is wanted is told of beside what is missing.
func TestEmptyListIsToldOfAtOnce(t *testing.T) {
	tried := 0
	for _, e := range calc.Entries() {
		in, err := e.Input(e.Example)
		require.NoError(t, err)
		for _, f := range reckon.Fields(in.Type()) {
			if r, ok := reckon.ParseRange(f.Tag.Get("items")); !ok || !f.Required || r.Low == "" || r.Low == "0" || f.Type.Kind() != reflect.Slice {
				continue
			}
			_, err := calc.Eval(e.ID, []byte(`{"`+f.Name+`":[]}`), calc.Options{})
			var named []string
			for _, bad := range reckon.InputErrors(err) {
				named = append(named, bad.Field)
			}
			assert.Contains(t, named, f.Name, e.ID)
			tried++
		}
	}
	assert.Greater(t, tried, 10)
}

// finite calls e and wants either an error that helps or a finite result.
func finite(t *testing.T, e calc.Entry, in reflect.Value, path string, h any) {
	t.Helper()
	var w reckon.Working
	r, err := e.Call(in, &w)
	if err != nil {
		helps(t, e.ID, err)
		return
	}
	if _, err := r.AppendJSON(nil); err != nil {
		t.Errorf("%s = %v: %v", path, h, err)
	}
}

// helps wants an error to be one of the two kinds, with its texts filled in.
func helps(t *testing.T, id string, err error) {
	t.Helper()
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		if none.Func != id || none.Unknown == "" || none.Wanted == "" {
			t.Errorf("an error that does not help: %+v", none)
		}
		return
	}
	list := reckon.InputErrors(err)
	if len(list) == 0 {
		t.Errorf("an error of neither kind: %v", err)
	}
	for _, in := range list {
		if in.Func != id || in.Field == "" || in.Value == "" || in.Want == "" {
			t.Errorf("an error that does not help: %+v", in)
		}
	}
}

// FuzzEval feeds every calculation random JSON and mutated examples: nothing
// may panic, nothing infinite may come out, and every error must say which
// value is meant. That each value has its unit is what the schema of the output
// says; see the package describe.
func FuzzEval(f *testing.F) {
	entries := calc.Entries()
	for i, e := range entries {
		f.Add(i, e.Example, uint64(i))
		f.Add(i, `{}`, uint64(0))
	}
	f.Add(0, `{"target_temp":"1e308 °C","flour_temp":"-1e308 °C","friction":"1e308 C°","friction_basis":"per-factor"}`, uint64(0))
	f.Fuzz(func(t *testing.T, which int, text string, seed uint64) {
		e := entries[int(uint(which)%uint(len(entries)))]
		r := rand.New(rand.NewPCG(seed, 1))
		for _, input := range []string{text, testdata.Mutate(r, text), testdata.Mutate(r, e.Example), testdata.Mutate(r, e.Example)} {
			checkEval(t, e, input)
		}
	})
}

// The same for every calculation alike, on every run of the tests.
func TestMutatedExamples(t *testing.T) {
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, 2))
			for range mutations(e) {
				checkEval(t, e, testdata.Mutate(r, e.Example))
			}
		})
	}
}

// checkEval wants an error that helps, or a result whose every value is finite.
func checkEval(t *testing.T, e calc.Entry, input string) {
	t.Helper()
	result, err := e.Eval([]byte(input), calc.Options{Working: true})
	if err != nil {
		helps(t, e.ID, err)
		return
	}
	data, err := result.AppendJSON(nil)
	if err != nil || !json.Valid(data) {
		t.Errorf("%s: %s: %v: %s", e.ID, input, err, data)
	}
}

// Everything may be called from several goroutines at once.
func TestConcurrentUse(t *testing.T) {
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for _, e := range calc.Entries() {
				r, err := calc.Eval(e.ID, []byte(e.Example), calc.Options{Working: true})
				if err == nil {
					_, err = r.AppendJSON(nil)
				}
				if err != nil {
					t.Errorf("%s: %v", e.ID, err)
				}
			}
		})
	}
	all.Wait()
}

func BenchmarkEval(b *testing.B) {
	for _, id := range []string{"water-temperature", "curls"} {
		b.Run(id, func(b *testing.B) {
			e, _ := calc.Lookup(id)
			data, buf := []byte(e.Example), make([]byte, 0, 4096)
			b.ReportAllocs()
			for b.Loop() {
				r, err := calc.Eval(id, data, calc.Options{})
				if err == nil {
					buf, err = r.AppendJSON(buf[:0])
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// What the first evaluation in a process costs: the table of entries, and the
// plans of the one calculation that is asked for.
func BenchmarkFirstEval(b *testing.B) {
	for _, id := range []string{"water-temperature", "curls", "line-plan"} {
		b.Run(id, func(b *testing.B) {
			e, _ := calc.Lookup(id)
			data, buf := []byte(e.Example), make([]byte, 0, 16384)
			b.ReportAllocs()
			for b.Loop() {
				r, err := calc.NewFresh().Eval(id, data)
				if err == nil {
					buf, err = r.AppendJSON(buf[:0])
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A table that was just made says of every calculation what the one in use says.
func TestFreshTable(t *testing.T) {
	fresh := calc.NewFresh()
	for _, e := range calc.Entries() {
		want, err := e.Eval([]byte(e.Example), calc.Options{})
		require.NoError(t, err)
		got, err := fresh.Eval(e.ID, []byte(e.Example))
		require.NoError(t, err)
		assert.Equal(t, want.Value(), got.Value())
	}
}

// A scalar calculation allocates its question, its answer and one copy of the
// text, and more only for what is remarked.
func TestEvalAllocates(t *testing.T) {
	for _, id := range []string{"water-temperature", "curls", "batch-for-hopper-time", "divider-rate"} {
		e, _ := calc.Lookup(id)
		data, buf := []byte(e.Example), make([]byte, 0, 4096)
		assert.LessOrEqual(t, testing.AllocsPerRun(100, func() {
			r, err := calc.Eval(id, data, calc.Options{})
			if err == nil {
				buf, err = r.AppendJSON(buf[:0])
			}
			if err != nil {
				t.Fatal(err)
			}
		}), 4.0, id)
	}
}

// A question that was read can be changed and solved again, and its answer shown.
func TestRepeat(t *testing.T) {
	e, ok := calc.Lookup("hopper-time")
	require.True(t, ok)
	q, err := e.Read([]byte(`{"batch":"120 kg","dough_rate":"400 kg/h"}`))
	require.NoError(t, err)
	answer, solve := e.Repeat(q, []string{"batch"})
	require.NoError(t, solve())
	assert.Equal(t, unit.Minutes(18), answer.(*divider.HopperTimeResult).Time)
	q.(*divider.HopperTime).Batch = unit.Kilograms(60)
	require.NoError(t, solve())
	assert.Equal(t, unit.Minutes(9), answer.(*divider.HopperTimeResult).Time)
	w := new(reckon.Working)
	e.Show(q, w, answer)
	assert.NotEmpty(t, w.Steps)
	q.(*divider.HopperTime).Batch = 0
	assert.Error(t, solve())
	_, err = e.Read([]byte(`{"batch":"120"}`))
	assert.Len(t, reckon.InputErrors(err), 2)
}
