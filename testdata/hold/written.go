package hold

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// numberIn reads a plain number; NaN if it is none.
func numberIn(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// written is the question, or the answer, as JSON. Every number is moved by nudge first, which gets what it is held as.
// It is an error if a number is none.
func written(q reflect.Value, sys unit.System, nudge func(float64) float64) ([]byte, error) {
	tree, err := tree(q, sys, nudge)
	if err != nil {
		return nil, err
	}
	return json.Marshal(tree)
}

func tree(v reflect.Value, sys unit.System, nudge func(float64) float64) (any, error) {
	if isNumber(v) && !v.CanInt() {
		moved := reflect.New(v.Type()).Elem()
		at := numberOf(v)
		if _, temp := moved.Interface().(unit.Temp); temp {
			at += nudge(at+32) - (at + 32) // a Fahrenheit's last digit is that of 32 where a Celsius is near 0
		} else {
			at = nudge(at)
		}
		SetNumber(moved, at)
		if q, ok := moved.Interface().(unit.Quantity); ok {
			if sys == unit.Metric {
				text, err := q.MarshalText()
				return string(text), err
			}
			text, err := q.AppendIn(nil, sys)
			return string(text), err
		}
		return moved.Interface(), nil
	}
	if m, ok := v.Interface().(encoding.TextMarshaler); ok {
		text, err := m.MarshalText()
		return string(text), err
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil, nil
		}
		return tree(v.Elem(), sys, nudge)
	case reflect.Struct:
		out := map[string]any{}
		for _, f := range reckon.Fields(v.Type()) {
			part := v.FieldByIndex(f.Index)
			if part.IsZero() && (!f.Required || part.Type() == reflect.TypeFor[unit.Temp]()) {
				continue
			}
			var err error
			if out[f.Name], err = tree(part, sys, nudge); err != nil {
				return nil, fmt.Errorf("%s: %w", f.Name, err)
			}
		}
		return out, nil
	case reflect.Slice, reflect.Array:
		out := make([]any, v.Len())
		for i := range out {
			var err error
			if out[i], err = tree(v.Index(i), sys, nudge); err != nil {
				return nil, err
			}
		}
		return out, nil
	}
	return v.Interface(), nil
}

var notedType = reflect.TypeFor[reckon.Noted]()

// apart says where two answers of one type differ by more than the share of their numbers, and by which share.
func apart(a, b reflect.Value, share float64) (where string, by float64) {
	differ := func(path string, d float64) {
		if d > share && d > by {
			where, by = path, d
		}
	}
	var walk func(a, b reflect.Value, path string)
	walk = func(a, b reflect.Value, path string) {
		switch {
		case a.Type().Implements(notedType):
			// conditions and cautions have their own place in JSON
		case isNumber(a):
			x, y := numberOf(a), numberOf(b)
			if x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
				size := max(math.Abs(x), math.Abs(y))
				if a.Type() == reflect.TypeFor[unit.Temp]() {
					size = max(size, 1) // the zero of the scale is no small temperature
				}
				d := math.Abs(x-y) / size
				if math.IsNaN(d) {
					d = math.Inf(1)
				}
				differ(fmt.Sprintf("%s: %v and %v", path, a.Interface(), b.Interface()), d)
			}
		case a.Kind() == reflect.Pointer:
			if a.IsNil() != b.IsNil() {
				differ(path, math.Inf(1))
			} else if !a.IsNil() {
				walk(a.Elem(), b.Elem(), path)
			}
		case a.Kind() == reflect.Struct:
			for i := range a.NumField() {
				if f := a.Type().Field(i); f.IsExported() {
					walk(a.Field(i), b.Field(i), path+"."+f.Name)
				}
			}
		case a.Kind() == reflect.Slice, a.Kind() == reflect.Array:
			if a.Len() != b.Len() {
				differ(fmt.Sprintf("%s: %d and %d items", path, a.Len(), b.Len()), math.Inf(1))
				return
			}
			for i := range a.Len() {
				walk(a.Index(i), b.Index(i), fmt.Sprintf("%s[%d]", path, i))
			}
		default:
			if !reflect.DeepEqual(a.Interface(), b.Interface()) {
				differ(fmt.Sprintf("%s: %v and %v", path, a.Interface(), b.Interface()), math.Inf(1))
			}
		}
	}
	walk(a, b, "")
	return where, by
}
