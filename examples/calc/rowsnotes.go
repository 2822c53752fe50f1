package main

import (
	"reflect"
	"slices"

	"example.com/dough/doughmath/reckon"
)

// notes reads the conditions and cautions of one answer, again and again as it changes: where
// they stand is found once, and what they say.
type notes struct {
	sets     []reflect.Value // of the answer itself
	parts    []reflect.Value // lists and pointers, which may hold some
	said     map[reckon.Noted][]reckon.Note
	noted    map[reflect.Type]bool // whether lists of these may hold some
	words    []string              // of the conditions, each once
	met      []reckon.Note
	cautions reckon.Cautions
}

var (
	notedType    = reflect.TypeFor[reckon.Noted]()
	cautionsType = reflect.TypeFor[reckon.Cautions]()
)

// newNotes finds the sets in what answer points to.
func newNotes(answer any) *notes {
	n := &notes{said: map[reckon.Noted][]reckon.Note{}, noted: map[reflect.Type]bool{}}
	n.find(reflect.ValueOf(answer).Elem())
	return n
}

func (n *notes) find(v reflect.Value) {
	switch t := v.Type(); {
	case t.Implements(notedType):
		n.sets = append(n.sets, v)
	case t.Kind() == reflect.Struct:
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				n.find(v.Field(i))
			}
		}
	case (t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer) && hasNotes(t.Elem()):
		n.parts = append(n.parts, v)
	}
}

// hasNotes reports whether a set stands in the type or in what it holds.
func hasNotes(t reflect.Type) bool {
	switch {
	case t.Implements(notedType):
		return true
	case t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer:
		return hasNotes(t.Elem())
	case t.Kind() == reflect.Struct:
		for f := range t.Fields() {
			if f.IsExported() && hasNotes(f.Type) {
				return true
			}
		}
	}
	return false
}

// read returns the notes of the answer as it stands. They hold until the next read.
func (n *notes) read() *notes {
	n.words, n.met, n.cautions = n.words[:0], n.met[:0], 0
	for _, set := range n.sets {
		n.take(set)
	}
	for _, part := range n.parts {
		n.walk(part)
	}
	return n
}

// walk reads what stands in a part.
func (n *notes) walk(v reflect.Value) {
	switch t := v.Type(); {
	case t.Implements(notedType):
		n.take(v)
	case t.Kind() == reflect.Pointer && !v.IsNil():
		n.walk(v.Elem())
	case t.Kind() == reflect.Slice && v.Len() > 0:
		may, known := n.noted[t]
		if !known {
			may = hasNotes(t.Elem())
			n.noted[t] = may
		}
		if !may {
			return
		}
		for i := range v.Len() {
			n.walk(v.Index(i))
		}
	case t.Kind() == reflect.Struct:
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				n.walk(v.Field(i))
			}
		}
	}
}

// take reads one set.
func (n *notes) take(v reflect.Value) {
	bits := v.Uint()
	if bits == 0 {
		return
	}
	if v.Type() == cautionsType {
		n.cautions |= reckon.Cautions(bits)
		return
	}
	set := v.Interface().(reckon.Noted)
	said, known := n.said[set]
	if !known {
		said = set.Notes()
		n.said[set] = said
	}
	for _, note := range said {
		if !slices.Contains(n.words, note.Word) {
			n.words, n.met = append(n.words, note.Word), append(n.met, note)
		}
	}
}
