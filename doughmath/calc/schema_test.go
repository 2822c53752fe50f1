package calc_test

import (
	"encoding/json"
	"strings"
	"testing"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// compile reads one of our schemas with a validator that is not ours.
func compile(t *testing.T, schema any) *validator.Schema {
	t.Helper()
	data, err := json.Marshal(schema)
	require.NoError(t, err)
	c := validator.NewCompiler()
	require.NoError(t, c.AddResource("schema.json", parse(t, data)))
	s, err := c.Compile("schema.json")
	require.NoError(t, err, "%s", data)
	return s
}

func parse(t *testing.T, data []byte) any {
	t.Helper()
	v, err := validator.UnmarshalJSON(strings.NewReader(string(data)))
	require.NoError(t, err, "%s", data)
	return v
}

// Every input that is accepted and every result that comes of it must be
// valid by the schemas; what the decoder refuses must not be.
func TestSchemas(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	inputs := map[string][]string{}
	for _, c := range cases {
		inputs[c.Func] = append(inputs[c.Func], string(c.In))
	}
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			in, out := compile(t, e.InputSchema()), compile(t, e.OutputSchema())
			for _, text := range append(inputs[e.ID], e.Example) {
				for _, o := range []calc.Options{{}, {Units: unit.US, Working: true}, {Rounded: true}} {
					r, err := e.Eval([]byte(text), o)
					if err != nil {
						continue
					}
					require.NoError(t, in.Validate(parse(t, []byte(text))))
					data, err := r.AppendJSON(nil)
					require.NoError(t, err)
					require.NoError(t, out.Validate(parse(t, data)), "%s", data)
				}
			}
			var members map[string]json.RawMessage
			require.NoError(t, json.Unmarshal([]byte(e.Example), &members))
			members["no_such_name"] = json.RawMessage("1")
			assert.Error(t, in.Validate(parse(t, written(t, members))), "an unknown name")
			for _, f := range e.Describe().Inputs {
				if strings.ContainsAny(f.Name, ".[{") {
					continue
				}
				require.NoError(t, json.Unmarshal([]byte(e.Example), &members))
				delete(members, "no_such_name")
				if !f.Optional {
					delete(members, f.Name)
					assert.Error(t, in.Validate(parse(t, written(t, members))), "without %s", f.Name)
				}
				if len(f.Units) > 0 {
					for _, bad := range []string{`26`, `"26"`, `"°C"`, `""`} {
						members[f.Name] = json.RawMessage(bad)
						assert.Error(t, in.Validate(parse(t, written(t, members))), "%s = %s", f.Name, bad)
					}
				}
			}
		})
	}
}

func written(t *testing.T, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	require.NoError(t, err)
	return data
}

// The pattern of a quantity lets through every way in which one is written.
func TestQuantityPattern(t *testing.T) {
	e, _ := calc.Lookup("water-temperature")
	s := compile(t, e.InputSchema())
	for _, text := range []string{"26 °C", "26°C", "26 C", " 26 °C", "+26 °C", "-5 °C", "−5 °C", ".5 °C", "2.6e1 °C", "299.15 K", "78.5F"} {
		input := strings.Replace(water, "26 °C", text, 1)
		var in unit.Temp
		require.NoError(t, in.UnmarshalText([]byte(text)))
		assert.NoError(t, s.Validate(parse(t, []byte(input))), "%q", text)
	}
}
