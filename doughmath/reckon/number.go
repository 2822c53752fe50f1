package reckon

import (
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/unit"
)

// A Number is one number inside a question or an answer, found once by its
// path and then read and set at hardly any cost. It is in the unit held.
type Number struct {
	Held string // the unit it is held in, such as "g"; "" for a plain number
	v    reflect.Value
	temp *unit.Temp // if it is a temperature
}

// NumberIn finds the number at the path in the struct that q points to. A path
// is made of JSON names: "batch", "air.dry", "trials[2].weight", or with the
// name of an item "limits[stamper].high".
//
// It returns an *[InputError] that names the part of the path that leads
// nowhere and the nearest name that does.
func NumberIn(q any, path string) (Number, error) {
	return numberIn(reflect.ValueOf(q).Elem(), path, false)
}

// Value returns the number; NaN for a temperature that was not given.
func (n Number) Value() float64 {
	switch {
	case n.temp != nil:
		return n.temp.Celsius()
	case n.v.CanInt():
		return float64(n.v.Int())
	}
	return n.v.Float()
}

// Set replaces the number. It returns false, and changes nothing, if the
// number counts something and x is not whole.
func (n Number) Set(x float64) bool {
	switch {
	case n.temp != nil:
		*n.temp = unit.Celsius(x)
	case n.v.CanInt():
		if x != math.Trunc(x) || math.Abs(x) > 1<<53 || n.v.OverflowInt(int64(x)) {
			return false
		}
		n.v.SetInt(int64(x))
	default:
		n.v.SetFloat(x)
	}
	return true
}

// numberIn follows the path from v. If own is set, lists and pointers on the way
// are copied first, so that whoever shares them is not disturbed.
func numberIn(v reflect.Value, path string, own bool) (Number, error) {
	p, err := PathIn(v.Type(), path)
	if err != nil {
		return Number{}, err
	}
	place, _, err := p.walk(v, func(v reflect.Value) (reflect.Value, bool) { return inside(v, own), true })
	if err != nil {
		return Number{}, err
	}
	if n, ok := NumberAt(place); ok {
		return n, nil
	}
	return Number{}, lost(path, path, "the path of a number")
}

// inside follows a pointer and, if own is set, copies what it points to or the list.
func inside(v reflect.Value, own bool) reflect.Value {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		} else if own {
			fresh := reflect.New(v.Type().Elem())
			fresh.Elem().Set(v.Elem())
			v.Set(fresh)
		}
		return v.Elem()
	case reflect.Slice:
		if own {
			fresh := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(fresh, v)
			v.Set(fresh)
		}
	}
	return v
}

// itemAt finds an item by its number or its name, or says which there are.
func itemAt(list reflect.Value, item string) (int, string) {
	if i, err := strconv.Atoi(item); err == nil {
		if i >= 0 && i < list.Len() {
			return i, ""
		}
		return -1, "an item from 0 to " + strconv.Itoa(list.Len()-1)
	}
	var names []string
	where := namesIn(list.Type().Elem())
	for i := range list.Len() {
		name := nameBy(list.Index(i), where)
		if name == item && name != "" {
			return i, ""
		}
		names = append(names, name)
	}
	want := "the number of an item, or the name of one: " + strings.Join(names, ", ")
	if near := nearest.Of(item, names); near != "" {
		want = near + " perhaps"
	}
	return -1, want
}

// lost says that a path leads nowhere.
func lost(path, part, want string) error {
	return &InputError{Func: "path", Field: unit.Clip(path), Value: strconv.Quote(unit.Clip(part)), Want: want}
}
