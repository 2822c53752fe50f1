package line

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Difference is a value that is not what it was.
type Difference struct {
	Path string `json:"path"` // where it stands, such as "line.moulder.recovery"
	Was  string `json:"was"`  // then
	Is   string `json:"is"`   // now
}

// mostDifferences bounds what is listed of them.
const mostDifferences = 60

// differences appends what differs between two values of one type, by their JSON names.
func differences(list []Difference, path string, was, is reflect.Value) []Difference {
	if len(list) >= mostDifferences {
		return list
	}
	if _, ok := is.Interface().(encoding.TextMarshaler); ok || is.Kind() == reflect.String || is.CanInt() || is.CanFloat() || is.Kind() == reflect.Bool {
		if was.Equal(is) {
			return list
		}
		if a, b := asText(was), asText(is); a != b {
			// As a person reads it, if that shows the difference.
			if x, y := asRead(was, a), asRead(is, b); x != y {
				a, b = x, y
			}
			list = append(list, Difference{path, a, b})
		}
		return list
	}
	switch is.Kind() {
	case reflect.Pointer:
		if was.IsNil() || is.IsNil() {
			if was.IsNil() != is.IsNil() {
				list = append(list, Difference{path, given(was), given(is)})
			}
			return list
		}
		return differences(list, path, was.Elem(), is.Elem())
	case reflect.Slice, reflect.Array:
		if was.Len() != is.Len() {
			return append(list, Difference{path, strconv.Itoa(was.Len()) + " items", strconv.Itoa(is.Len()) + " items"})
		}
		for i := range is.Len() {
			list = differences(list, path+"["+strconv.Itoa(i)+"]", was.Index(i), is.Index(i))
		}
	case reflect.Struct:
		for _, f := range reckon.Fields(is.Type()) {
			if at := path + "." + f.Name; !aside(at) {
				list = differences(list, at, was.FieldByIndex(f.Index), is.FieldByIndex(f.Index))
			}
		}
	}
	return list
}

// aside reports whether a part makes no other setting: how much is ordered, what the controls are called, and how the line
// is changed over.
func aside(path string) bool {
	switch path {
	case "order.pieces", "order.spare", "line.controls", "line.changing":
		return true
	}
	return false
}

func given(v reflect.Value) string {
	if v.IsNil() {
		return notGiven
	}
	return "given"
}

// asText is a value with every digit and its unit.
func asText(v reflect.Value) string {
	if v.IsZero() && v.Kind() == reflect.Struct {
		return notGiven
	}
	if m, ok := v.Interface().(encoding.TextMarshaler); ok {
		if text, err := m.MarshalText(); err == nil {
			return string(text)
		}
	}
	if v.Kind() == reflect.String {
		return strconv.Quote(v.String())
	}
	return fmt.Sprint(v.Interface())
}

// asRead is a quantity rounded for a person, and anything else as it is.
func asRead(v reflect.Value, text string) string {
	if q, ok := v.Interface().(unit.Quantity); ok && text != notGiven {
		return q.String()
	}
	return text
}

const notGiven = "not given"
