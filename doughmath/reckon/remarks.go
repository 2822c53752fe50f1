package reckon

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// A Remark is a condition or a caution of an answer, with the place where it arose.
type Remark struct {
	Path string `json:"at,omitempty"` // the part of the answer, such as "rounding" or "rows[2]"; "" for the answer itself
	Note
}

// Remarks returns every condition in answer, its parts and its rows, each with
// the place where it arose. The hazards are in [Hazards].
func Remarks(answer any) []Remark {
	var out []Remark
	eachSet(reflect.ValueOf(answer), "", func(path string, set Noted) {
		if _, hazard := set.(Cautions); hazard {
			return
		}
		for _, n := range set.Notes() {
			out = append(out, Remark{path, n})
		}
	})
	return out
}

// Hazards returns every caution in answer, its parts and its rows together.
func Hazards(answer any) Cautions {
	var out Cautions
	eachSet(reflect.ValueOf(answer), "", func(_ string, set Noted) {
		if c, hazard := set.(Cautions); hazard {
			out |= c
		}
	})
	return out
}

// Noted is a set of conditions of any station, or of cautions.
type Noted interface {
	Notes() []Note // those that are set
	Known() []Note // all that could be set
}

var notedType = reflect.TypeFor[Noted]()

// Distinct returns what the remarks say, each word once.
func Distinct(remarks []Remark) []Note {
	out := make([]Note, 0, len(remarks))
	for _, r := range remarks {
		if !slices.Contains(out, r.Note) {
			out = append(out, r.Note)
		}
	}
	return out
}

// eachSet calls visit for every set in v that is not empty.
func eachSet(v reflect.Value, path string, visit func(path string, set Noted)) {
	if !v.IsValid() {
		return
	}
	if v.Type().Implements(notedType) {
		if v.CanUint() && v.Uint() != 0 {
			visit(path, v.Interface().(Noted))
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			eachSet(v.Elem(), path, visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() {
				continue
			}
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			inner := joinPath(path, name)
			if f.Anonymous || name == "conditions" { // cautions are told without a place
				inner = path // they speak of what they stand in
			}
			eachSet(v.Field(i), inner, visit)
		}
	case reflect.Slice, reflect.Array:
		if !holdsSets(v.Type().Elem()) {
			return
		}
		for i := range v.Len() {
			eachSet(v.Index(i), path+"["+strconv.Itoa(i)+"]", visit)
		}
	}
}

// holdsSets spares the walk through long lists of plain numbers.
func holdsSets(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Struct, reflect.Pointer, reflect.Interface, reflect.Slice, reflect.Array:
		return true
	}
	return t.Implements(notedType)
}

func joinPath(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
