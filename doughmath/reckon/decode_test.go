package reckon_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	. "example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

type piece struct {
	Weight unit.Mass `json:"weight"`
	Note   string    `json:"note,omitzero"`
}

type basis string

// An embedded struct lends its names, exported or not.
type shared struct {
	Across int `json:"across"`
}

type input struct {
	Target unit.Temp                  `json:"target"`
	Room   unit.Temp                  `json:"room,omitzero"`
	Energy unit.Energy                `json:"energy,omitzero"`
	Basis  basis                      `json:"basis"`
	Count  int                        `json:"count,omitempty"`
	Small  int8                       `json:"small,omitzero"`
	Factor float64                    `json:"factor,omitzero"`
	Open   bool                       `json:"open,omitzero"`
	Pieces []piece                    `json:"pieces,omitzero"`
	Limits map[string]unit.Mass       `json:"limits,omitzero"`
	Words  Cautions                   `json:"words,omitzero"`
	Units  unit.System                `json:"units,omitzero"`
	Extra  *piece                     `json:"extra,omitzero"`
	Unsaid int                        `json:"-"`
	Deep   map[string]map[string]bool `json:"deep,omitzero"`
}

type outer struct {
	shared
	Rows int `json:"rows"`
}

const good = ` { "target" : "26 °C", "room":"75 °F", "energy":"2 kJ", "basis":"on\u0063e", "count":3, "small":-7, "factor":-1.5e-1,
 "open":true, "pieces":[{"weight":"3 oz"},{"weight":"2 lb 8 oz","note":"a \"b\" \\ \/ \b\f\n\r\t é é \ud83c\udf5e"}], "limits":{"mixer":"90 kg","a b":"1 g"},
 "words":["lifting"], "units":"us", "extra":{"weight":"1 g"}, "deep":{"x":{"y":true}}}
`

func TestReads(t *testing.T) {
	in, err := Decode[input]("test", []byte(good))
	require.NoError(t, err)
	assert.Equal(t, unit.Celsius(26), in.Target)
	assert.Equal(t, unit.Fahrenheit(75), in.Room)
	assert.Equal(t, unit.Energy(2), in.Energy)
	assert.Equal(t, basis("once"), in.Basis)
	assert.Equal(t, 3, in.Count)
	assert.Equal(t, int8(-7), in.Small)
	assert.Equal(t, -0.15, in.Factor)
	assert.True(t, in.Open)
	assert.Equal(t, []piece{{Weight: unit.Ounces(3)}, {Weight: unit.Pounds(2.5), Note: "a \"b\" \\ / \b\f\n\r\t é é 🍞"}}, in.Pieces)
	assert.Equal(t, map[string]unit.Mass{"mixer": unit.Kilograms(90), "a b": unit.Grams(1)}, in.Limits)
	assert.Equal(t, Lifting, in.Words)
	assert.Equal(t, unit.US, in.Units)
	assert.Equal(t, &piece{Weight: 1}, in.Extra)
	assert.Equal(t, map[string]map[string]bool{"x": {"y": true}}, in.Deep)

	o, err := Decode[outer]("test", []byte(`{"rows":2,"across":6}`))
	require.NoError(t, err)
	assert.Equal(t, &outer{shared{6}, 2}, o)
}

// Each row is one wrong text and every field that must be complained about,
// with what the value was and some words of what would do.
func TestRefuses(t *testing.T) {
	type wrong struct{ field, value, want string }
	const rest = `"target":"1 °C","basis":"x"`
	for id, c := range map[string]struct {
		text string
		want []wrong
	}{
		"everything at once": {
			`{"target":26,"room":"75","energy":"3 kg","basis":1,"count":1.5,"factor":"2 g","open":"yes","pieces":[{"weight":"3 oz"},{"note":""}],"limits":{"mixer":90},"words":["no"],"units":"eu","flour":1}`,
			[]wrong{
				{"target", "the bare number 26", "a temperature in quotes with its unit (°C, °F, K)"},
				{"room", `"75"`, "a unit after the number"},
				{"energy", `"3 kg"`, `a unit of energy in place of "kg"`},
				{"basis", "the bare number 1", "a text in quotes"},
				{"count", "the bare number 1.5", "a whole number"},
				{"factor", `"2 g"`, "a number without a unit"},
				{"open", `"yes"`, "true or false"},
				{"pieces[1].weight", "missing", "a mass in quotes with its unit (g, kg, mg, t, oz, lb)"},
				{"limits.mixer", "the bare number 90", "a mass"},
				{"words", "a list", `no caution is called "no"`},
				{"units", `"eu"`, "metric or us"},
				{"flour", "not a known name", "one of target, room"},
			},
		},
		"missing":             {`{}`, []wrong{{"target", "missing", "a temperature"}, {"basis", "missing", "a text in quotes"}}},
		"missing an energy":   {`{"energy":null,` + rest + `}`, []wrong{{"energy", "null", "an energy"}}},
		"unknown name":        {`{"tagret":"1 °C",` + rest + `}`, []wrong{{"tagret", "not a known name", "target perhaps; the names here are target, room"}}},
		"name in other case":  {`{"Room":"1 °C",` + rest + `}`, []wrong{{"Room", "not a known name", "room perhaps"}}},
		"name of a Go field":  {`{"Unsaid":1,"-":1,` + rest + `}`, []wrong{{"Unsaid", "not a known", ""}, {"-", "not a known", ""}}},
		"strange name":        {`{"a.b \" c":1,` + rest + `}`, []wrong{{`["a.b \" c"]`, "not a known name", ""}}},
		"empty name":          {`{"":1,` + rest + `}`, []wrong{{`[""]`, "not a known name", ""}}},
		"twice":               {`{"count":1,"count":2,` + rest + `}`, []wrong{{"count", "there twice", "once"}}},
		"twice, by an escape": {`{"count":1,"\u0063ount":2,` + rest + `}`, []wrong{{"count", "there twice", "once"}}},
		"twice in a map":      {`{"limits":{"a":"1 g","a":"1 g"},` + rest + `}`, []wrong{{"limits.a", "there twice", "once"}}},
		"null":                {`{"count":null,"pieces":null,"limits":null,"extra":null,` + rest + `}`, []wrong{{"count", "null", "a whole number"}, {"pieces", "null", "a list"}, {"limits", "null", "an object"}, {"extra", "null", "an object"}}},
		"wrong shapes":        {`{"pieces":{},"limits":[],"target":[],"basis":{},"extra":7}`, []wrong{{"pieces", "an object", "a list"}, {"limits", "a list", "an object"}, {"target", "a list", "a temperature"}, {"basis", "an object", "a text"}, {"extra", "the bare number 7", "an object"}}},
		"not an object":       {`[]`, []wrong{{"the input", "a list", "an object"}}},
		"empty quotes":        {`{"room":"",` + rest + `}`, []wrong{{"room", `""`, "a temperature"}}},
		"number too large":    {`{"factor":1e999,` + rest + `}`, []wrong{{"factor", "the bare number 1e999", "a computer can hold"}}},
		"number too long":     {`{"factor":0.` + strings.Repeat("1", 100) + `,` + rest + `}`, []wrong{{"factor", "a number of 102 characters", "at most 64"}}},
		"whole too large":     {`{"count":99999999999999999999,"small":128,` + rest + `}`, []wrong{{"count", "", "a whole number"}, {"small", "the bare number 128", "a whole number"}}},
		"long value is cut":   {`{"open":"` + strings.Repeat("ä", 500) + `",` + rest + `}`, []wrong{{"open", `"` + strings.Repeat("ä", 30) + `…"`, ""}}},
		"quantity too long":   {`{"room":"` + strings.Repeat("1", 500) + ` °C",` + rest + `}`, []wrong{{"room", "", "at most 64 characters"}}},
		"quantity infinite":   {`{"room":"1e999 °C","energy":"NaN kJ",` + rest + `}`, []wrong{{"room", "", "a computer can hold"}, {"energy", "", "a number first"}}},
		"syntax hides others": {"{\"count\":1.5,\n  \"ä\": tru}", []wrong{{"the input", "not JSON at line 2, column 8 (a word that is not true, false or null)", "one JSON value"}}},
		"ends early":          {`{"count":`, []wrong{{"the input", "not JSON at line 1, column 10 (it ends too early)", ""}}},
		"empty":               {"", []wrong{{"the input", "it ends too early", ""}}},
		"only spaces":         {" \n\t ", []wrong{{"the input", "line 2, column 3 (it ends too early", ""}}},
		"more after":          {`{` + rest + `} {`, []wrong{{"the input", "there is more after the end", ""}}},
		"comma at the end":    {`{` + rest + `,}`, []wrong{{"the input", "want a name in double quotes", ""}}},
		"comma missing":       {`{"count":1 ` + rest + `}`, []wrong{{"the input", "want a comma or '}'", ""}}},
		"comma at list end":   {`{"pieces":[1,]}`, []wrong{{"the input", "want a value", ""}}},
		"colon missing":       {`{"count" 1}`, []wrong{{"the input", "want ':'", ""}}},
		"quote open":          {`{"basis":"x`, []wrong{{"the input", "a quote is not closed", ""}}},
		"backslash at end":    {`{"basis":"x\`, []wrong{{"the input", "a quote is not closed", ""}}},
		"control character":   {"{\"basis\":\"a\nb\"}", []wrong{{"the input", "a control character", ""}}},
		"bad escape":          {`{"basis":"\x"}`, []wrong{{"the input", "an escape", ""}}},
		"bad hex":             {`{"basis":"\u12g4"}`, []wrong{{"the input", "an escape", ""}}},
		"short hex":           {`{"basis":"\u12"}`, []wrong{{"the input", "an escape", ""}}},
		"half a surrogate":    {`{"basis":"\ud83c"}`, []wrong{{"the input", "an escape", ""}}},
		"surrogates reversed": {`{"basis":"\udf5e\ud83c"}`, []wrong{{"the input", "an escape", ""}}},
		"not UTF-8":           {"{\"basis\":\"\xff\"}", []wrong{{"the input", "not Unicode", ""}}},
		"leading zero":        {`{"factor":01}`, []wrong{{"the input", "want a comma", ""}}},
		"plus sign":           {`{"factor":+1}`, []wrong{{"the input", "want a value", ""}}},
		"bare point":          {`{"factor":1.}`, []wrong{{"the input", "digits after the point", ""}}},
		"bare exponent":       {`{"factor":1e+}`, []wrong{{"the input", "digits in the exponent", ""}}},
		"a NaN":               {`{"factor":NaN}`, []wrong{{"the input", "want a value", ""}}},
		"single quotes":       {`{'factor':1}`, []wrong{{"the input", "a name in double quotes", ""}}},
		"byte order mark":     {"\ufeff{}", []wrong{{"the input", "line 1, column 1", ""}}},
		"deep, known":         {strings.Repeat(`{"deep":`, 40), []wrong{{"the input", "not JSON at line 1, column", "one JSON value"}}},
		"deep, unknown":       {`{"x":` + strings.Repeat("[", 100000), []wrong{{"the input", "nested more than 32 deep", ""}}},
		"inside unknown":      {`{"x":{"a":[1,{"b":nul}]}}`, []wrong{{"the input", "a word that is not", ""}}},
	} {
		t.Run(id, func(t *testing.T) {
			in, err := Decode[input]("test", []byte(c.text))
			require.Error(t, err)
			assert.Nil(t, in, "a refused input must not be handed out")
			got := InputErrors(err)
			var fields, wanted []string
			for _, e := range got {
				assert.Equal(t, "test", e.Func)
				assert.NotEmpty(t, e.Want)
				fields = append(fields, e.Field)
			}
			for _, w := range c.want {
				wanted = append(wanted, w.field)
			}
			require.ElementsMatch(t, wanted, fields, "%v", err)
			for _, w := range c.want {
				for _, e := range got {
					if e.Field == w.field {
						assert.Contains(t, e.Value, w.value)
						assert.Contains(t, e.Want, w.want)
					}
				}
			}
		})
	}
}

func TestSize(t *testing.T) {
	fill := strings.Repeat(" ", 1<<20-len(good))
	_, err := Decode[input]("test", []byte(good+fill))
	require.NoError(t, err)
	_, err = Decode[input]("test", []byte(good+fill+" "))
	require.EqualError(t, err, "test: the input is 1048577 bytes long: want at most 1048576 bytes")
}

// A long list of mistakes is cut, and says that it is.
func TestManyMistakes(t *testing.T) {
	text := `{"pieces":[` + strings.Repeat(`{"weight":1},`, 1000) + `{}]}`
	_, err := Decode[input]("test", []byte(text))
	got := InputErrors(err)
	require.Len(t, got, 50)
	assert.Contains(t, got[49].Want, "there may be more")
	assert.Equal(t, "pieces[49].weight", got[49].Field)

	_, err = Decode[input]("test", []byte(text[:len(text)-1]+"]"))
	assert.Len(t, InputErrors(err), 50, "beyond fifty nothing is read, whatever it is")

	var limits strings.Builder
	for i := range 60 {
		fmt.Fprintf(&limits, `,"k%d":1`, i)
	}
	_, err = Decode[input]("test", []byte(`{"limits":{"k":"1 g"`+limits.String()+`}}`))
	got = InputErrors(err)
	require.Len(t, got, 50, "of a map too")
	assert.Equal(t, "limits.k49", got[49].Field)
	assert.Contains(t, got[49].Want, "there may be more")
}

// hostile are texts of the largest size that is read.
func hostile() map[string]string {
	const size = 1<<20 - 100
	return map[string]string{
		"brackets":      strings.Repeat("[", size),
		"braces":        strings.Repeat(`{"a":`, size/5),
		"long name":     `{"` + strings.Repeat("a", size) + `":1}`,
		"many names":    `{` + strings.Repeat(`"tagret":1,`, size/11) + `"x":1}`,
		"many new keys": manyKeys(size),
		"long text":     `{"target":"` + strings.Repeat("1", size) + `"}`,
		"long number":   `{"count":` + strings.Repeat("1", size) + `}`,
		"escapes":       `{"basis":"` + strings.Repeat(`\u0041`, size/6) + `","count":"x"}`,
		"quotes":        strings.Repeat(`"`, size),
		"empty objects": `{"pieces":[` + strings.Repeat(`{},`, size/3) + `{}]}`,
		"lines":         strings.Repeat("\n", size) + "x",
		"spaces":        strings.Repeat(" ", size),
	}
}

func TestHostileIsRefused(t *testing.T) {
	for id, text := range hostile() {
		t.Run(id, func(t *testing.T) {
			require.LessOrEqual(t, len(text), 1<<20)
			_, err := Decode[input]("test", []byte(text))
			require.Error(t, err)
		})
	}
	_, err := Decode[input]("test", bytes.Repeat([]byte(`{"count":1}`), 1<<20)) // 11 MB
	require.ErrorContains(t, err, "at most 1048576 bytes")
}

// A method that is not linear shows here at once: none takes longer than the others by more than a few times.
func BenchmarkHostile(b *testing.B) {
	for id, text := range hostile() {
		b.Run(id, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if _, err := Decode[input]("test", []byte(text)); err == nil {
					b.Fatal("it is not refused")
				}
			}
		})
	}
}

func manyKeys(size int) string {
	var b strings.Builder
	b.WriteString(`{"limits":{`)
	for i := 0; b.Len() < size; i++ {
		fmt.Fprintf(&b, `"k%d":"1 g",`, i)
	}
	return b.String() + `"k0":"1 g"}}`
}

// What cannot be read is a mistake in the program and is said at once.
func TestPlanPanics(t *testing.T) {
	type unreadable struct {
		C chan int `json:"c"`
	}
	assert.PanicsWithValue(t, "reckon: cannot read into chan int", func() { NewDecoder[unreadable]() })
	assert.Panics(t, func() { NewDecoder[map[int]string]() })
	type ten struct{ A, B, C, D, E, F, G, H, I, J int }
	type wide struct {
		ten
		K0, L0, M0, N0, O0, P0, Q0, R0, S0, T0, K1, L1, M1, N1, O1, P1, Q1, R1, S1, T1 int
		K2, L2, M2, N2, O2, P2, Q2, R2, S2, T2, K3, L3, M3, N3, O3, P3, Q3, R3, S3, T3 int
		K4, L4, M4, N4, O4, P4, Q4, R4, S4, T4, K5, L5, M5, N5                         int
	}
	assert.NotPanics(t, func() { NewDecoder[wide]() })
	assert.Panics(t, func() {
		NewDecoder[struct {
			wide
			Z int
		}]()
	})
}

// A type may hold itself.
func TestRecursiveType(t *testing.T) {
	type tree struct {
		Name string  `json:"name"`
		Sub  []*tree `json:"sub,omitzero"`
	}
	got, err := Decode[tree]("test", []byte(`{"name":"a","sub":[{"name":"b"}]}`))
	require.NoError(t, err)
	assert.Equal(t, "b", got.Sub[0].Name)
}

func TestFields(t *testing.T) {
	var names []string
	for _, f := range Fields(reflect.TypeFor[outer]()) {
		names = append(names, f.Name)
		assert.True(t, f.Required)
	}
	assert.Equal(t, []string{"across", "rows"}, names)
}

// A field without a tag goes by its Go name, and the fields of an embedded struct stand among the others.
func TestFieldsWithoutATag(t *testing.T) {
	type Inner struct{ Plain int }
	var names []string
	for _, f := range Fields(reflect.TypeFor[struct {
		Inner
		Bare bool
		Left int `json:",omitzero"`
		Out  int `json:"-"`
		own  int
	}]()) {
		names = append(names, fmt.Sprint(f.Name, " ", f.Required))
	}
	assert.Equal(t, []string{"Plain true", "Bare true", "Left false"}, names)
}

// nests go as deep as the text.
type nests struct {
	List nest    `json:"list,omitzero"`
	Map  nestMap `json:"map,omitzero"`
}

type nest []nest

type nestMap map[string]nestMap

// Parts in parts are read 32 deep, the whole among them, however many stand beside one another.
func TestDepth(t *testing.T) {
	list := func(n int) string { return `{"list":` + strings.Repeat("[", n) + strings.Repeat("]", n) + "}" }
	maps := func(n int) string { return `{"map":` + strings.Repeat(`{"a":`, n-1) + "{}" + strings.Repeat("}", n) }
	for _, text := range []string{
		list(31), maps(31), `{"list":[` + strings.Repeat("[],", 40) + "[]]}", `{"map":{"x":{}` + strings.Repeat(`,"a":{}`, 0) + `,"b":{},"c":{}}}`,
	} {
		_, err := Decode[nests]("test", []byte(text))
		assert.NoError(t, err, text)
	}
	var wide strings.Builder
	for i := range 40 {
		fmt.Fprintf(&wide, `,"k%d":{}`, i)
	}
	in, err := Decode[nests]("test", []byte(`{"list":[],"map":{"k":{}`+wide.String()+"}}"))
	require.NoError(t, err)
	assert.Len(t, in.Map, 41)
	assert.NotNil(t, in.List)
	assert.Empty(t, in.List)
	for _, text := range []string{list(32), maps(32), list(33), maps(33), list(100), maps(100)} {
		_, err := Decode[nests]("test", []byte(text))
		assert.ErrorContains(t, err, "nested more than 32 deep", text)
	}
}

// What a value should look like, to the last word.
func TestWhatWouldDo(t *testing.T) {
	type loose struct {
		Opt  int           `json:"opt,omitzero" range:"1..3"`
		Free unit.Mass     `json:"free,omitzero" range:"-"`
		None struct{}      `json:"none,omitzero"`
		Own  unit.System   `json:"own,omitzero"`
		List []float64     `json:"list,omitzero" range:"0..40" items:"1..3"`
		Rows []struct{}    `json:"rows,omitzero" items:"1..3"`
		Word string        `json:"word,omitzero" range:"1..3"`
		Open bool          `json:"open,omitzero"`
		Late unit.Duration `json:"late,omitzero"`
		One  *piece        `json:"one,omitzero"`
	}
	type whole struct {
		L *loose `json:"l"`
	}
	for text, want := range map[string]struct {
		value, want string
		kind        Kind
		r           Range
		unit        string
	}{
		`5`:                {"the bare number 5", "an object", KindType, Range{}, ""},
		`{"opt":"3"}`:      {`"3"`, "a whole number, 1 to 3", KindType, Range{Low: "1", High: "3"}, ""},
		`{"opt":true}`:     {"true", "a whole number, 1 to 3", KindType, Range{Low: "1", High: "3"}, ""},
		`{"free":5}`:       {"the bare number 5", "a mass in quotes with its unit (g, kg, mg, t, oz, lb)", KindUnit, Range{}, ""},
		`{"free":true}`:    {"true", "a mass in quotes with its unit (g, kg, mg, t, oz, lb)", KindType, Range{}, ""},
		`{"free":""}`:      {`""`, "a mass in quotes with its unit (g, kg, mg, t, oz, lb)", KindType, Range{}, ""},
		`{"late":"5"}`:     {`"5"`, "a unit after the number; a number and a unit (s, ms, min, h, d)", KindUnit, Range{}, ""},
		`{"none":{"a":1}}`: {"not a known name", "no names here", KindUnknownName, Range{}, ""},
		`{"one":5}`:        {"the bare number 5", "an object with weight", KindType, Range{}, ""},
		`{"own":""}`:       {`""`, "a text in quotes", KindType, Range{}, ""},
		`{"own":7}`:        {"the bare number 7", "a text in quotes", KindType, Range{}, ""},
		`{"own":"x"}`:      {`"x"`, `metric or us`, KindUnit, Range{}, ""},
		`{"list":5}`:       {"the bare number 5", "a list of 1 to 3 items", KindType, Range{}, ""},
		`{"rows":[5]}`:     {"the bare number 5", "an object", KindType, Range{}, ""},
		`{"word":true}`:    {"true", "a text in quotes", KindType, Range{}, ""},
		`{"open":"t"}`:     {`"t"`, "true or false", KindType, Range{}, ""},
		`{"open":null}`:    {"null", "true or false", KindType, Range{}, ""},
		`{"word":[` + strings.Repeat("1,", 100) + `1]}`:     {"a list", "a text in quotes", KindType, Range{}, ""},
		`{"word":{"a":"` + strings.Repeat("x", 100) + `"}}`: {"an object", "a text in quotes", KindType, Range{}, ""},
	} {
		_, err := Decode[whole]("test", []byte(`{"l":`+text+`}`))
		require.Len(t, InputErrors(err), 1, text)
		e := InputErrors(err)[0]
		assert.Equal(t, want.value, e.Value, text)
		assert.Contains(t, e.Want, want.want, text)
		if want.kind != KindUnit || text == `{"free":5}` {
			assert.Equal(t, want.want, e.Want, text)
		}
		assert.Equal(t, []any{want.kind, want.r, want.unit}, []any{e.Kind, e.Range, e.Unit}, text)
	}
	in, err := Decode[whole]("test", []byte(`{"l":{"open":false,"opt":-0}}`))
	require.NoError(t, err)
	assert.Equal(t, &loose{}, in.L)
}

// The standard decoder is the second opinion: what is read here it reads to
// the same value, and what is not JSON to it is refused here.
func FuzzDecode(f *testing.F) {
	f.Add(good)
	f.Add(`{"target":"26 °C","basis":"x"}`)
	f.Add(`{"target":"26 °C","basis":"\ud83c\udf5e","pieces":[],"count":-0}`)
	f.Add(`{"target":1,"target":2,"basis":null`)
	f.Add("{\"basis\":\"\xff\"}")
	f.Fuzz(func(t *testing.T, text string) {
		in, err := Decode[input]("test", []byte(text))
		if err != nil {
			require.NotEmpty(t, InputErrors(err))
			for _, e := range InputErrors(err) {
				if e.Field == "" || e.Value == "" || e.Want == "" || len(e.Field) > 4000 || len(e.Value) > 1000 {
					t.Fatalf("an error that does not help: %+v", e)
				}
			}
			return
		}
		require.True(t, json.Valid([]byte(text)), "%q is not JSON", text)
		var std input
		dec := json.NewDecoder(strings.NewReader(text))
		dec.DisallowUnknownFields()
		require.NoError(t, dec.Decode(&std))
		require.Equal(t, std, *in)
	})
}

func BenchmarkDecode(b *testing.B) {
	decoder := NewDecoder[doughmath.WaterTemperature]()
	data := []byte(`{"target_temp":"26 °C","flour_temp":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := decoder.Decode("water-temperature", data); err != nil {
			b.Fatal(err)
		}
	}
}
