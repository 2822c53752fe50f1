package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"example.com/dough/doughmath/calc"
)

// objectOf makes the JSON input of e from flags: -NAME VALUE, or -NAME=VALUE.
// A name may have points, for a part of a part. Whether the values make sense
// is for the calculation to say.
func objectOf(e calc.Entry, args []string) ([]byte, error) {
	fields := fieldsOf(e)
	object := map[string]any{}
	for len(args) > 0 {
		name, value, joined := strings.Cut(strings.TrimLeft(args[0], "-"), "=")
		switch {
		case !strings.HasPrefix(args[0], "-") || name == "":
			return nil, fmt.Errorf("%q: want -NAME VALUE, or one JSON object in quotes", args[0])
		case joined:
			args = args[1:]
		case len(args) == 1:
			return nil, fmt.Errorf("-%s has no value after it", name)
		default:
			value, args = args[1], args[2:]
		}
		parts := strings.Split(name, ".")
		in := object
		for _, part := range parts[:len(parts)-1] {
			inner, ok := in[part].(map[string]any)
			if !ok {
				inner = map[string]any{}
				in[part] = inner
			}
			in = inner
		}
		last := parts[len(parts)-1]
		if _, twice := in[last]; twice {
			return nil, fmt.Errorf("-%s is there twice", name)
		}
		_, list := fields[name+"[]"]
		kind := fields[name].Kind + fields[name+"[]"].Kind
		in[last] = jsonOf(value, kind, list)
	}
	return json.Marshal(object)
}

// jsonOf is the value as JSON: a text unless the input is of another kind.
func jsonOf(value, kind string, list bool) any {
	literal := kind == "object" || kind == "number" || kind == "whole number" || kind == "true or false"
	text := strings.TrimSpace(value)
	if list && !strings.HasPrefix(text, "[") {
		items := []any{}
		for item := range strings.SplitSeq(text, ",") {
			items = append(items, jsonOf(strings.TrimSpace(item), kind, false))
		}
		return items
	}
	if (literal || list) && json.Valid([]byte(text)) {
		return json.RawMessage(text)
	}
	return value
}
