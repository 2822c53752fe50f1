package reckon

import (
	"fmt"
	"strconv"
	"strings"
)

// AsTyped returns err with the values as they stand in data, "3 oz" where a
// calculation says 85.05 g, so that a person finds again what they typed. q
// points to the struct that was read from data. It is for errors only: what
// went well costs nothing.
func AsTyped(err error, q any, data []byte) error {
	wrong := InputErrors(err)
	if len(wrong) == 0 || len(data) > maxInput {
		return err
	}
	t := typed{scanner: scanner{data: string(data)}, found: map[string]string{}}
	for _, e := range wrong {
		t.found[e.Field] = ""
	}
	t.value()
	var c Checks
	c.adopt(err, func(e *InputError) {
		if raw := t.found[e.Field]; raw != "" && isShown(q, e.Field, e.Value) {
			e.Value = raw
		}
	})
	return c.Err()
}

// isShown reports whether value is how a check shows the number at the path,
// and not something that it worked out.
func isShown(q any, path, value string) bool {
	n, err := NumberIn(q, path)
	if err != nil {
		return false
	}
	switch v := n.v.Interface().(type) {
	case fmt.Stringer:
		return v.String() == value
	default:
		if n.v.CanInt() {
			return strconv.FormatInt(n.v.Int(), 10) == value
		}
		return Text(n.v.Float()) == value || fmt.Sprint(n.v.Float()) == value
	}
}

// typed collects the texts of numbers by their paths.
type typed struct {
	scanner
	path  []byte
	found map[string]string // has the paths that are looked for
}

func (t *typed) value() bool {
	first, _ := t.peek()
	if first == '{' || first == '[' {
		return t.inside(first)
	}
	var value string
	var ok bool
	if first == '"' {
		value, ok = t.text()
	} else {
		value, ok = t.skip()
	}
	if _, looked := t.found[string(t.path)]; looked {
		t.found[string(t.path)] = clip(strings.TrimSpace(value))
	}
	return ok
}

func (t *typed) inside(opening byte) bool {
	if !t.enter() {
		return false
	}
	n, i := len(t.path), 0
	for more := t.first(opening + 2); more; more = t.another(opening + 2) {
		t.path = t.path[:n]
		if opening == '[' {
			t.path = append(strconv.AppendInt(append(t.path, '['), int64(i), 10), ']')
		} else {
			name, ok := t.name()
			if !ok {
				return false
			}
			if n > 0 {
				t.path = append(t.path, '.')
			}
			t.path = append(t.path, name...)
		}
		if !t.value() {
			return false
		}
		i++
	}
	t.leave()
	return t.syntax == ""
}
