package calc

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"github.com/invopop/jsonschema"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// quantityPattern matches a number followed by a unit, as every quantity is
// written. The units are named in the description of each field.
const quantityPattern = `^ *[-+−]?\.?[0-9][0-9.eE+-]* *[^0-9 .].*$`

// InputSchema returns the JSON Schema (draft 2020-12) of the input.
func (e Entry) InputSchema() *jsonschema.Schema {
	d := loaded()
	in, _ := e.Types()
	s := d.reflector(true).ReflectFromType(in)
	s.Version = jsonschema.Version
	s.Title, s.Description = e.ID, e.Question
	var example any
	if json.Unmarshal([]byte(e.Example), &example) == nil {
		s.Examples = []any{example}
	}
	return s
}

// OutputSchema returns the JSON Schema (draft 2020-12) of a [Result].
func (e Entry) OutputSchema() *jsonschema.Schema {
	d := loaded()
	_, out := e.Types()
	result := d.reflector(false).ReflectFromType(out)
	result.Description = d.Functions[e.Func()].Summary
	about := e.describe(d)
	for _, f := range about.Outputs {
		top := !strings.ContainsAny(f.Name, ".[{")
		isRemark := strings.HasPrefix(f.Kind, "list of ")
		if top && isRemark {
			result.Properties.Delete(f.Name) // they stand beside the result
		}
		if top && (isRemark || f.Kind == "temperature") { // a temperature that is not known is left out
			result.Required = slices.DeleteFunc(result.Required, func(name string) bool { return name == f.Name })
		}
	}
	s := object("calculation", "result", "conditions", "cautions")
	s.Version, s.Title = jsonschema.Version, e.ID
	s.Properties.Set("calculation", &jsonschema.Schema{Const: e.ID})
	s.Properties.Set("result", result)
	s.Properties.Set("conditions", remarks("things to look at"))
	s.Properties.Set("cautions", remarks("hazards and duties"))
	s.Properties.Set("defer", &jsonschema.Schema{Type: "string", Description: "who decides before this page"})
	s.Properties.Set("working", &jsonschema.Schema{Type: "array", Items: d.reflector(false).Reflect(reckon.Step{})})
	return s
}

// object makes a closed object that requires the named properties.
func object(required ...string) *jsonschema.Schema {
	return &jsonschema.Schema{
		Type: "object", Properties: jsonschema.NewProperties(), Required: required,
		AdditionalProperties: jsonschema.FalseSchema,
	}
}

func remarks(about string) *jsonschema.Schema {
	item := object("word", "says")
	item.Properties.Set("at", &jsonschema.Schema{Type: "string", Description: "the part of the result that it speaks of; left out for the whole"})
	item.Properties.Set("word", &jsonschema.Schema{Type: "string", Description: "for programs; it stays the same"})
	item.Properties.Set("says", &jsonschema.Schema{Type: "string", Description: "for people"})
	return &jsonschema.Schema{Type: "array", Items: item, Description: about}
}

func (d *docs) reflector(input bool) *jsonschema.Reflector {
	return &jsonschema.Reflector{
		Anonymous: true, DoNotReference: true, ExpandedStruct: true,
		LookupComment: func(t reflect.Type, field string) string { return d.Types[t.String()][field] },
		Mapper: func(t reflect.Type) *jsonschema.Schema {
			switch {
			case t.Implements(notedType):
				return &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{Type: "string"}}
			case t.Implements(quantityType):
				info := unit.Describe(reflect.Zero(t).Interface().(unit.Quantity))
				return &jsonschema.Schema{
					Type: "string", Pattern: quantityPattern,
					Comments: info.Name + " with its unit: " + strings.Join(info.Units, ", "),
				}
			case t.Implements(marshalerType):
				return &jsonschema.Schema{Type: "string"}
			case input && len(d.Words[t.String()]) > 0:
				s := &jsonschema.Schema{Type: "string"}
				for _, c := range d.Words[t.String()] {
					s.Enum = append(s.Enum, c.Word)
				}
				return s
			}
			return nil
		},
	}
}
