package describe

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// compile reads one of our schemas with a validator that is not ours.
func compile(t *testing.T, schema json.RawMessage) *validator.Schema {
	t.Helper()
	c := validator.NewCompiler()
	require.NoError(t, c.AddResource("schema.json", parse(t, schema)))
	s, err := c.Compile("schema.json")
	require.NoError(t, err, "%s", schema)
	assert.Equal(t, 2020, s.DraftVersion)
	return s
}

func parse(t *testing.T, data []byte) any {
	t.Helper()
	v, err := validator.UnmarshalJSON(strings.NewReader(string(data)))
	require.NoError(t, err, "%s", data)
	return v
}

// inputs returns the example of each calculation and the inputs of its cases.
func inputs(t *testing.T) map[string][]string {
	t.Helper()
	cases, err := testdata.Cases()
	require.NoError(t, err)
	out := map[string][]string{}
	for _, c := range cases {
		if c.Func == "run-order" && len(c.In) > 1500 && os.Getenv("CHECKS") != "all" {
			continue // every day the short lists alone: a long one is searched for a second, and its answer looks the same
		}
		out[c.Func] = append(out[c.Func], string(c.In))
	}
	for _, e := range calc.Entries() {
		out[e.ID] = append(out[e.ID], e.Example)
	}
	return out
}

// answered is what a calculation says of an input, with its working.
type answered struct {
	calc.Result
	err error
}

var answers sync.Map // by id and input

// answer evaluates an example or a case once for all tests that look at it.
func answer(t *testing.T, id string, in []byte) (calc.Result, error) {
	t.Helper()
	key := id + " " + string(in)
	if a, ok := answers.Load(key); ok {
		return a.(answered).Result, a.(answered).err
	}
	r, err := calc.Eval(id, in, calc.Options{Working: true})
	answers.Store(key, answered{r, err})
	return r, err
}

// Every input that is accepted and every result that comes of it must be valid
// by the schemas, and every condition and caution of it named in the
// description: for the example, the cases, and what a slip of the pen makes of
// the example.
func TestWhatIsAcceptedFits(t *testing.T) {
	all := inputs(t)
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			texts, r := all[e.ID], rand.New(rand.NewPCG(3, 4))
			mutations := 100
			if os.Getenv("CHECKS") != "all" { // every day fewer, and of those that are long the fewest
				mutations = max(5, min(40, 40_000/len(e.Example)))
			}
			for range mutations {
				texts = append(texts, testdata.Mutate(r, e.Example))
			}
			f := newFit(t, e)
			for i, text := range texts {
				f.check(t, text, []calc.Options{{}, {Units: unit.US, Working: true}, {Rounded: true}}[i%3])
			}
		})
	}
}

// fit holds the inputs and results of a calculation to what is said of them.
type fit struct {
	entry   calc.Entry
	in, out *validator.Schema
	named   []string        // the words of conditions and cautions
	told    map[string]bool // those that were missed, each told once
}

func newFit(t *testing.T, e calc.Entry) fit {
	d := readDocuments(t)
	f := fit{entry: e, in: compile(t, d.inputSchema(e).text()), out: compile(t, d.outputSchema(e).text()), told: map[string]bool{}}
	about := d.describe(e)
	for _, n := range slices.Concat(about.Conditions, about.Cautions) {
		f.named = append(f.named, n.Word)
	}
	return f
}

func (f fit) check(t *testing.T, input string, o calc.Options) {
	t.Helper()
	r, err := f.entry.Eval([]byte(input), o)
	if err != nil {
		return
	}
	assert.NoError(t, f.in.Validate(parse(t, []byte(input))), "%s", input)
	data, err := r.AppendJSON(nil)
	require.NoError(t, err)
	assert.NoError(t, f.out.Validate(parse(t, data)), "%s: %s", input, data)
	words := r.Cautions.Words()
	for _, n := range r.Conditions {
		words = append(words, n.Word)
	}
	for _, word := range words {
		if !slices.Contains(f.named, word) && !f.told[word] {
			f.told[word] = true
			t.Errorf("%s sets %s, which the comment of its field does not name", f.entry.ID, word)
		}
	}
}

// FuzzFit does the same with whatever comes.
func FuzzFit(f *testing.F) {
	entries := calc.Entries()
	for i, e := range entries {
		f.Add(i, e.Example)
	}
	fits := make([]*fit, len(entries))
	f.Fuzz(func(t *testing.T, which int, text string) {
		i := int(uint(which) % uint(len(entries)))
		if fits[i] == nil {
			made := newFit(t, entries[i])
			fits[i] = &made
		}
		fits[i].check(t, text, calc.Options{Working: true})
	})
}

// What the strict reader refuses is not valid by the schema either.
func TestWhatIsRefusedDoesNotFit(t *testing.T) {
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			in := compile(t, readDocuments(t).inputSchema(e).text())
			refuses := func(why string, change func(members map[string]json.RawMessage)) {
				var members map[string]json.RawMessage
				require.NoError(t, json.Unmarshal([]byte(e.Example), &members))
				change(members)
				text, err := json.Marshal(members)
				require.NoError(t, err)
				assert.Error(t, in.Validate(parse(t, text)), why)
			}
			refuses("an unknown name", func(m map[string]json.RawMessage) { m["no_such_name"] = json.RawMessage("1") })
			for _, f := range readDocuments(t).describe(e).Inputs {
				if strings.ContainsAny(f.Name, ".[{") {
					continue
				}
				if !f.Optional {
					refuses("without "+f.Name, func(m map[string]json.RawMessage) { delete(m, f.Name) })
				}
				bad := map[bool][]string{true: {`26`, `"26"`, `"°C"`, `""`}, false: nil}[len(f.Units) > 0]
				switch f.Kind {
				case "word":
					bad = []string{`"no-such-word"`, `1`}
				case "number", "whole number":
					bad = []string{`"1"`, `true`}
				}
				for _, v := range bad {
					refuses(f.Name+" = "+v, func(m map[string]json.RawMessage) { m[f.Name] = json.RawMessage(v) })
				}
			}
		})
	}
}

// The bounds of numbers and lists are those of the tags.
func TestSchemaOfBounds(t *testing.T) {
	type row struct {
		Mass unit.Mass `json:"mass" range:">0 g..10 t"`
	}
	type bounds struct {
		Share  float64            `json:"share" range:">0..<1"`
		Open   float64            `json:"open" range:"-1e6.."`
		Across int                `json:"across" range:"1..12"`
		Spare  int                `json:"spare,omitzero" range:"3..12"`
		Below  float64            `json:"below,omitzero" range:"-5..<0"`
		Zero   float64            `json:"zero,omitzero" range:"-1..1"`
		Free   float64            `json:"free" range:"-"`
		Marks  []float64          `json:"marks" range:"0..40" items:"3..100"`
		Rows   []row              `json:"rows,omitzero" items:"1..5"`
		By     map[string]float64 `json:"by,omitzero" range:"0..1"`
		One    *row               `json:"one,omitzero"`
		Units  unit.System        `json:"units,omitzero"`
	}
	got := maker{docs: new(docs)}.of(reflect.TypeFor[bounds](), "")
	mass := `{"type":"object","properties":{"mass":{"description":"more than 0 g to 10 t; mass in g, kg, mg, t, oz, lb","type":"string","pattern":"^ *[-+−]?\\.?[0-9][0-9.eE+-]* *[^0-9 .].*$"}},"required":["mass"],"additionalProperties":false}`
	assert.Equal(t, `{"type":"object","properties":{`+
		`"share":{"type":"number","exclusiveMinimum":0,"exclusiveMaximum":1},`+
		`"open":{"type":"number","minimum":-1e6},`+
		`"across":{"type":"integer","minimum":1,"maximum":12},`+
		`"spare":{"description":"3 to 12, or 0 as if left out","type":"integer","minimum":0,"maximum":12},`+
		`"below":{"description":"-5 to under 0, or 0 as if left out","type":"number","minimum":-5,"maximum":0},`+
		`"zero":{"type":"number","minimum":-1,"maximum":1},`+
		`"free":{"type":"number"},`+
		`"marks":{"type":"array","items":{"type":"number","minimum":0,"maximum":40},"minItems":3,"maxItems":100},`+
		`"rows":{"type":"array","items":`+mass+`,"maxItems":5},`+
		`"by":{"type":"object","additionalProperties":{"type":"number","minimum":0,"maximum":1}},`+
		`"one":`+mass+`,`+
		`"units":{"type":"string"}},`+
		`"required":["share","open","across","free","marks"],"additionalProperties":false}`, string(got.text()))
}

// The pattern of a quantity lets through every way in which one is written.
func TestQuantityPattern(t *testing.T) {
	const water = `{"target_temp":"26 °C","flour_temp":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`
	e, _ := calc.Lookup("water-temperature")
	s := compile(t, InputSchema(e))
	for _, text := range []string{"26 °C", "26°C", "26 C", " 26 °C", "+26 °C", "-5 °C", "−5 °C", ".5 °C", "2.6e1 °C", "299.15 K", "78.5F"} {
		input := strings.Replace(water, "26 °C", text, 1)
		var in unit.Temp
		require.NoError(t, in.UnmarshalText([]byte(text)))
		assert.NoError(t, s.Validate(parse(t, []byte(input))), "%q", text)
	}
}
