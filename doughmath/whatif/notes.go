package whatif

import (
	"math/bits"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// mark is a set of conditions or cautions of the last answer that is not empty.
type mark struct {
	part  int32 // of the subject
	place int32 // among [notes.places]
	items [2]int32
	bits  uint64
}

// notes says where conditions and cautions stand in one type of answer.
type notes struct {
	places []notePlace
	tree   noteTree
}

// notePlace is one of them.
type notePlace struct {
	at    string // "rounding", or with [] for the items of a list "rows[].mark"
	typ   reflect.Type
	words [64]reckon.Note // by bit
}

// noteTree is what the way to them looks like: a part of the answer.
type noteTree struct {
	place  int // if it is a set itself, otherwise -1
	fields []noteField
	elem   *noteTree // of a list or a pointer
	list   bool
}

type noteField struct {
	index int
	tree  noteTree
}

var cautionsType = reflect.TypeFor[reckon.Cautions]()

func notesOf(t reflect.Type) *notes {
	n := new(notes)
	n.tree, _ = n.walk(t, "", 0)
	return n
}

// deepest bounds the parts in parts, for types that hold themselves.
const deepest = 32

// walk returns the tree of t, which stands at the path; false if nothing is noted in it.
func (n *notes) walk(t reflect.Type, at string, deep int) (tree noteTree, any bool) {
	if tree.place = -1; deep > deepest {
		return tree, false
	}
	if t.Implements(notedType) && t.Kind() == reflect.Uint64 {
		tree.place = len(n.places)
		n.places = append(n.places, newNotePlace(t, at))
		return tree, true
	}
	switch t.Kind() {
	case reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			if !f.IsExported() {
				continue
			}
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			inner := at
			if !f.Anonymous && name != "conditions" && name != "cautions" { // those speak of what they stand in
				inner = strings.TrimPrefix(at+"."+name, ".")
			}
			if sub, ok := n.walk(f.Type, inner, deep+1); ok {
				tree.fields = append(tree.fields, noteField{i, sub})
			}
		}
		return tree, len(tree.fields) > 0
	case reflect.Slice, reflect.Array:
		sub, ok := n.walk(t.Elem(), at+"[]", deep+1)
		tree.elem, tree.list = &sub, true
		return tree, ok
	case reflect.Pointer:
		sub, ok := n.walk(t.Elem(), at, deep+1)
		tree.elem = &sub
		return tree, ok
	}
	return tree, false
}

func newNotePlace(t reflect.Type, at string) notePlace {
	p := notePlace{at: at, typ: t}
	v := reflect.New(t).Elem()
	for bit := range p.words {
		v.SetUint(1 << bit)
		if said := v.Interface().(reckon.Noted).Notes(); len(said) == 1 {
			p.words[bit] = said[0]
		}
	}
	return p
}

// noteReader reads the conditions and cautions of one answer, again and again as it changes.
type noteReader struct {
	fixed  []fixedNote
	moving []movingNote
}

type fixedNote struct {
	set   *uint64
	place int32
	items [2]int32
}

// movingNote is a list or a pointer. As long as it leads where it led the last time, so does all that it holds.
type movingNote struct {
	v     reflect.Value
	tree  *noteTree
	items [2]int32
	deep  int // lists around it
	to    uintptr
	n     int           // items, 1 of a pointer
	kept  reflect.Value // holds what to leads to, so that nothing else comes to stand there
	held  noteReader
}

func (n *notes) reader(answer any) (r noteReader) {
	r.find(&n.tree, reflect.ValueOf(answer).Elem(), [2]int32{}, 0)
	return r
}

func (r *noteReader) find(t *noteTree, v reflect.Value, items [2]int32, deep int) {
	switch {
	case t.place >= 0:
		r.fixed = append(r.fixed, fixedNote{pointer[uint64](v), int32(t.place), items})
	case t.elem != nil && v.Kind() == reflect.Array:
		r.findItems(t, v, items, deep)
	case t.elem != nil:
		r.moving = append(r.moving, movingNote{v: v, tree: t, items: items, deep: deep})
	}
	for i := range t.fields {
		r.find(&t.fields[i].tree, v.Field(t.fields[i].index), items, deep)
	}
}

func (r *noteReader) findItems(t *noteTree, v reflect.Value, items [2]int32, deep int) {
	for i := range v.Len() {
		if deep < len(items) {
			items[deep] = int32(i)
		}
		r.find(t.elem, v.Index(i), items, deep+1)
	}
}

// follow finds what is noted behind a list or a pointer that leads elsewhere than before.
func (m *movingNote) follow() {
	to, n := m.v.Pointer(), 1
	if m.tree.list {
		n = m.v.Len()
	}
	if to == m.to && n == m.n {
		return
	}
	m.to, m.n = to, n
	m.held.fixed, m.held.moving = m.held.fixed[:0], m.held.moving[:0]
	switch {
	case !m.tree.list && to != 0:
		m.kept = m.v.Elem()
		m.held.find(m.tree.elem, m.kept, m.items, m.deep)
	case n > 0 && m.tree.list:
		m.kept = m.v.Index(0)
		m.held.findItems(m.tree, m.v, m.items, m.deep)
	}
}

// appendTo appends what is noted in the answer of the part.
func (r *noteReader) appendTo(marks []mark, part int) []mark {
	n := len(marks)
	marks = slices.Grow(marks, len(r.fixed))[:n+len(r.fixed)]
	for i := range r.fixed {
		f := &r.fixed[i]
		if b := *f.set; b != 0 {
			m := &marks[n]
			m.part, m.place, m.items, m.bits = int32(part), f.place, f.items, b
			n++
		}
	}
	marks = marks[:n]
	for i := range r.moving {
		m := &r.moving[i]
		if m.follow(); len(m.held.fixed)+len(m.held.moving) > 0 {
			marks = m.held.appendTo(marks, part)
		}
	}
	return marks
}

// note gathers the conditions and cautions of the last answer into w.marks.
func (w *worker) note() { w.marks = w.appendMarks(w.marks[:0]) }

// appendMarks appends the conditions and cautions of the last answer.
func (w *worker) appendMarks(marks []mark) []mark {
	for i := range w.read {
		if !w.lost[i] {
			marks = w.read[i].appendTo(marks, w.m.parts[i])
		}
	}
	return marks
}

// remarksOf puts marks into words, cautions apart.
func (m *model) remarksOf(marks []mark) (conditions []reckon.Remark, cautions reckon.Cautions) {
	for _, k := range marks {
		p := &m.notes.places[k.place]
		if p.typ == cautionsType {
			cautions |= reckon.Cautions(k.bits)
			continue
		}
		at := m.at(k)
		for b := k.bits; b != 0; b &= b - 1 {
			conditions = append(conditions, reckon.Remark{Path: at, Note: p.words[bits.TrailingZeros64(b)]})
		}
	}
	return conditions, cautions
}

// at is the path of what is marked.
func (m *model) at(k mark) string {
	at := m.notes.places[k.place].at
	for _, item := range k.items {
		at = strings.Replace(at, "[]", "["+strconv.Itoa(int(item))+"]", 1)
	}
	prefix := m.subject.prefix(int(k.part))
	if prefix != "" && at != "" {
		prefix += "."
	}
	return prefix + at
}

// remarks returns the words of the conditions of the last answer, each once, and its cautions.
func (w *worker) remarks() (words []string, cautions reckon.Cautions) {
	w.note()
	conditions, cautions := w.m.remarksOf(w.marks)
	for _, n := range reckon.Distinct(conditions) {
		words = append(words, n.Word)
	}
	return words, cautions
}

// A watch is one condition, wherever in the answer it may arise.
type watch struct{ masks []uint64 } // by place

// watch returns the watch for the condition with the word, and every word
// there is if none is called so.
func (m *model) watch(word string) (w watch, known []string) {
	w.masks = make([]uint64, len(m.notes.places))
	found := false
	seen := map[string]bool{}
	for i := range m.notes.places {
		p := &m.notes.places[i]
		if p.typ == cautionsType {
			continue
		}
		for bit, n := range p.words {
			if n.Word == word {
				w.masks[i], found = 1<<bit, true
			}
			if n.Word != "" && !seen[n.Word] {
				seen[n.Word] = true
				known = append(known, n.Word)
			}
		}
	}
	if found {
		known = nil
	}
	return w, known
}

// has reports whether the condition is among the marks.
func (w watch) has(marks []mark) bool {
	for i := range marks {
		if w.masks[marks[i].place]&marks[i].bits != 0 {
			return true
		}
	}
	return false
}
