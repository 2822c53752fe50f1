package reckon_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	. "example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A batch is asked about as a calculation would be.
type batch struct {
	Flour  unit.Mass      `json:"flour" range:">0 g..10 t"`
	Salt   unit.Percent   `json:"salt" range:"0 %..<20 %"`
	Room   unit.Temp      `json:"room" range:"-40 °C..60 °C"`
	Across int            `json:"across" range:"1..12"`
	Share  float64        `json:"share,omitzero" range:">0..1"`
	Basis  basis          `json:"basis"`
	Spare  unit.Mass      `json:"spare,omitzero" range:"-"` // at most the flour
	Growth float64        `json:"growth,omitzero" range:"-"`
	Rows   []row          `json:"rows" items:"1..3"`
	Marks  []float64      `json:"marks,omitzero" range:"0..40"`
	Oven   *row           `json:"oven,omitzero"`
	By     map[string]int `json:"by,omitzero"`
}

type row struct {
	Name   string        `json:"name"`
	Length unit.Duration `json:"length" range:"1 s..1 h"`
}

func (b batch) Check(c *Checks) {
	CheckAbove(c, "flour", b.Flour, unit.Kilograms(10_000))
	CheckBelow(c, "salt", b.Salt, 0, 20)
	CheckTemp(c, "room", b.Room, unit.Celsius(-40), unit.Celsius(60))
	CheckCount(c, "across", b.Across, 1, 12)
	if b.Share != 0 {
		CheckAbove(c, "share", b.Share, 1)
	}
	CheckEither(c, "basis", b.Basis, "dough", "flour")
	CheckRange(c, "spare", b.Spare, 0, b.Flour)
	most := 2.0
	if b.Basis == "flour" {
		most = 3
	}
	CheckRange(c, "growth", b.Growth, 0, most)
	if len(b.Rows) < 1 || len(b.Rows) > 3 {
		c.Fail("rows", fmt.Sprintf("%d rows", len(b.Rows)), "1 to 3 rows")
	}
	for i, r := range b.Rows {
		mark := c.Mark()
		r.check(c)
		c.Item(mark, "rows", i)
	}
	for i, m := range b.Marks {
		CheckRange(c, fmt.Sprintf("marks[%d]", i), m, 0, 40)
	}
	if b.Oven != nil {
		mark := c.Mark()
		b.Oven.check(c)
		c.Under(mark, "oven")
	}
	if b.Across > 0 && len(b.Rows) > 0 && len(b.Rows)%b.Across != 0 {
		c.Fail("rows", fmt.Sprintf("%d rows", len(b.Rows)), fmt.Sprintf("a multiple of %d", b.Across))
	}
}

func (r row) check(c *Checks) {
	if r.Name == "" {
		c.Fail("name", `""`, "a name")
	}
	CheckRange(c, "length", r.Length, 1, unit.Hours(1))
}

func TestDecodeTellsRangesToo(t *testing.T) {
	for id, c := range map[string]struct {
		text string
		want []string
	}{
		"nothing given": {`{}`, []string{
			"flour is missing: want a mass in quotes with its unit (g, kg, mg, t, oz, lb), more than 0 g to 10 t",
			"salt is missing: want a percent in quotes with its unit (%), 0 % to under 20 %",
			"room is missing: want a temperature in quotes with its unit (°C, °F, K), -40 °C to 60 °C",
			"across is missing: want a whole number, 1 to 12",
			`basis is missing: want "dough" or "flour"`,
			"rows is missing: want a list of 1 to 3 items",
		}},
		"a bit of everything": {
			`{"flour":"15.5 t","salt":"30%","rom":1,"room":"20","across":15,"share":2e0,"basis":"bread","rows":[{"name":"a","length":"70 min"},{"length":5}],"marks":[1,50.0,"x"],"oven":{"name":"b","length":"90 min"}}`,
			[]string{
				"rom is not a known name: want room perhaps; the names here are flour, salt, room, across, share, basis, spare, growth, rows, marks, oven, by",
				`room is "20": want a unit after the number; a number and a unit (°C, °F, K)`,
				"rows[1].length is the bare number 5: want a duration in quotes with its unit (s, ms, min, h, d), 1 s to 1 h",
				"rows[1].name is missing: want a text in quotes",
				`marks[2] is "x": want a number without a unit, 0 to 40`,
				"flour is 15.5 t: want more than 0 g to 10 t",
				"salt is 30%: want 0 % to under 20 %",
				"across is 15: want a whole number from 1 to 12",
				"share is 2e0: want more than 0 to 1",
				`basis is "bread": want "dough" or "flour"`,
				"rows[0].length is 70 min: want 1 s to 1 h",
				"marks[1] is 50.0: want 0 to 40",
				"oven.length is 90 min: want 1 s to 1 h",
			},
		},
		// What depends on a value that could not be read is not told.
		"bound not known": {
			`{"flour":5,"salt":"1 %","room":"20 °C","across":1,"basis":"dough","spare":"1 kg","rows":[{"name":"a","length":"1 min"}]}`,
			[]string{"flour is the bare number 5: want a mass in quotes with its unit (g, kg, mg, t, oz, lb), more than 0 g to 10 t"},
		},
		"bound by a word not known": {
			`{"flour":"5 kg","salt":"1 %","room":"20 °C","across":1,"basis":1,"growth":2.5,"rows":[{"name":"a","length":"1 min"}]}`,
			[]string{`basis is the bare number 1: want "dough" or "flour"`},
		},
		"out of any bound": {
			`{"flour":"5 kg","salt":"1 %","room":"20 °C","across":1,"basis":1,"growth":-2.50,"spare":"-1 lb","rows":[{"name":"a","length":"1 min"}]}`,
			[]string{`basis is the bare number 1: want "dough" or "flour"`, "spare is -1 lb: want 0 g to 5 kg"},
		},
		"several that belong together": {
			`{"flour":"5 kg","salt":"1 %","room":"20 °C","across":null,"basis":"dough","rows":[{"name":"","length":"1 min"}]}`,
			[]string{"across is null: want a whole number, 1 to 12"},
		},
		"a part not known": {
			`{"flour":"5 kg","salt":"1 %","room":"20 °C","across":1,"basis":"dough","rows":5,"oven":[],"by":{"a":"b"},"share":7}`,
			[]string{
				"rows is the bare number 5: want a list of 1 to 3 items",
				"oven is a list: want an object with name, length",
				`by.a is "b": want a whole number`,
				"share is 7: want more than 0 to 1",
			},
		},
		"not an object": {`[]`, []string{"the input is a list: want an object with flour, salt, room, across, basis, rows"}},
		"not JSON":      {`{"flour":"15 t"`, []string{"the input is not JSON at line 1, column 16 (it ends too early): want one JSON value and nothing after it"}},
	} {
		t.Run(id, func(t *testing.T) {
			_, err := Decode[batch]("test", []byte(c.text))
			var got []string
			for _, e := range InputErrors(err) {
				got = append(got, e.Error()[len("test: "):])
			}
			assert.Equal(t, c.want, got)
		})
	}
	// An input that can be read is for Solve to check.
	b, err := Decode[batch]("test", []byte(`{"flour":"15 t","salt":"30 %","room":"99 °C","across":15,"basis":"bread","rows":[{"name":"a","length":"2 h"}]}`))
	require.NoError(t, err)
	assert.Equal(t, unit.Kilograms(15_000), b.Flour)
}

// A missing value has the range of its tag as a program reads it, in one unit.
func TestDecodeNamesTheRange(t *testing.T) {
	_, err := Decode[batch]("test", []byte(`{"flour":5,"room":"20 °C","across":"x","basis":"dough"}`))
	got := map[string]InputError{}
	for _, e := range InputErrors(err) {
		got[e.Field] = *e
	}
	assert.Equal(t, Range{Low: "0 g", LowOpen: true, High: "1e+07 g"}, got["flour"].Range)
	assert.Equal(t, "g", got["flour"].Unit)
	assert.Equal(t, Range{Low: "0 %", High: "20 %", HighOpen: true}, got["salt"].Range)
	assert.Equal(t, Range{Low: "1", High: "12"}, got["across"].Range)
	assert.Equal(t, KindMissing, got["salt"].Kind)
	assert.Zero(t, got["rows"].Range)
}

// Where no tag says it, Check does, if nothing else is amiss.
func TestDecodeAsksForOne(t *testing.T) {
	_, err := Decode[untagged]("test", []byte(`{"room":"20 °C","across":3}`))
	assert.EqualError(t, err, "test: mass is missing: want a mass in quotes with its unit (g, kg, mg, t, oz, lb), more than 0 g to 1 kg")
	_, err = Decode[untagged]("test", []byte(`{"mass":"1 g","across":3}`))
	assert.EqualError(t, err, "test: room is missing: want a temperature in quotes with its unit (°C, °F, K), 0 °C to 40 °C")
	_, err = Decode[untagged]("test", []byte(`{"mass":"1 g","room":"20 °C"}`))
	assert.EqualError(t, err, "test: across is missing: want a whole number, 2 to 5")
	e := InputErrors(err)[0]
	assert.Equal(t, Range{Low: "2", High: "5"}, e.Range)
	_, err = Decode[untagged]("test", []byte(`{"mass":"1 g"}`))
	assert.EqualError(t, err, "test: room is missing: want a temperature in quotes with its unit (°C, °F, K)\ntest: across is missing: want a whole number")
}

type untagged struct {
	Mass   unit.Mass `json:"mass"`
	Room   unit.Temp `json:"room"`
	Across int       `json:"across"`
}

func (u *untagged) Check(c *Checks) {
	CheckAbove(c, "mass", u.Mass, 1000)
	CheckTemp(c, "room", u.Room, unit.Celsius(0), unit.Celsius(40))
	CheckCount(c, "across", u.Across, 2, 5)
}

// oven goes as warm as its kind allows.
type oven struct {
	Kind string    `json:"kind"`
	Temp unit.Temp `json:"temp"`
}

func (o oven) Check(c *Checks) {
	CheckWord(c, "kind", o.Kind, "pan", "deck", "stone")
	most := unit.Celsius(250)
	if o.Kind == "stone" {
		most = unit.Celsius(400)
	}
	CheckTemp(c, "temp", o.Temp, unit.Celsius(0), most)
}

// What the last of the words allows is not told while the word is not known.
func TestDecodeTriesEveryWord(t *testing.T) {
	_, err := Decode[oven]("test", []byte(`{"kind":7,"temp":"350 °C"}`))
	assert.EqualError(t, err, `test: kind is the bare number 7: want "pan", "deck" or "stone"`)
	_, err = Decode[oven]("test", []byte(`{"kind":"deck","temp":"350 °C","tmep":1}`))
	assert.ErrorContains(t, err, "test: temp is 350 °C: want a temperature from 0 °C to 250 °C")
}

func TestAsTyped(t *testing.T) {
	data := []byte(` {"flour":" 3 oz","salt":"2e1 %","room":"75 °F","across":1,"share":0.50,"growth":1.234567890,"marks":[2.34567891],"rows":[{"name":"a"},{"name":"b","length":"1 h 30 min"}],"oven":{"length":"6e3 s"},"by":{"a b":1}} `)
	b := batch{
		Flour: unit.Ounces(3), Salt: 20, Room: unit.Fahrenheit(75), Across: 1, Share: 0.5, Growth: 1.23456789, Marks: []float64{2.34567891},
		Rows: []row{{"a", 0}, {"b", 5400}}, Oven: &row{"", 6000}, By: map[string]int{"a b": 1},
	}
	c := Checks{Func: "test"}
	CheckBelow(&c, "flour", b.Flour, 0, 1)
	CheckRange(&c, "salt", b.Salt, 1, 2)
	CheckTemp(&c, "room", b.Room, unit.Celsius(0), unit.Celsius(1))
	CheckCount(&c, "across", b.Across, 2, 3)
	CheckAbove(&c, "share", b.Share, 0.1)
	CheckRange(&c, "rows[1].length", b.Rows[1].Length, 0, 1)
	CheckRange(&c, "rows[0].length", b.Rows[0].Length, 1, 2)
	CheckRange(&c, "oven.length", b.Oven.Length, 0, 1)
	CheckRange(&c, "marks[0]", b.Marks[0], 0, 1)
	c.Fail("growth", fmt.Sprint(b.Growth), "less")
	c.Fail("flour", "85 g of flour and 3 g of salt", "less")
	c.Fail(`by["a b"]`, "1", "another")
	c.Fail("rows[7].length", "1 s", "another")
	none := &NoSolutionError{Func: "test", Unknown: "x", Wanted: "y"}
	c.Nest("", none)
	err := AsTyped(fmt.Errorf("wrapped: %w", c.Err()), &b, data)
	var got []string
	for _, e := range InputErrors(err) {
		got = append(got, e.Field+" "+e.Value)
	}
	assert.Equal(t, []string{
		"flour 3 oz", "salt 2e1 %", "room 75 °F", "across 1", "share 0.50", "rows[1].length 1 h 30 min", "rows[0].length 0 s", "oven.length 6e3 s",
		"marks[0] 2.34567891", "growth 1.234567890", "flour 85 g of flour and 3 g of salt", `by["a b"] 1`, "rows[7].length 1 s",
	}, got)
	var back *NoSolutionError
	require.ErrorAs(t, err, &back)
	assert.Same(t, none, back)

	after := []byte(`{"rows":[{"name":"a"},{"name":"b","length":"1 min"}],"oven":{"length":"6e3 s"},"flour":"3 oz"}`)
	for _, data := range [][]byte{after, append(after, strings.Repeat(" ", 1<<20-len(after))...)} { // as long as is read
		assert.Equal(t, "3 oz", InputErrors(AsTyped(c.Err(), &b, data))[0].Value)
	}
	assert.Equal(t, "85.05 g", InputErrors(AsTyped(c.Err(), &b, append(after, strings.Repeat(" ", 1<<20-len(after)+1)...)))[0].Value)

	plain := errors.New("plain")
	assert.Same(t, plain, AsTyped(plain, &b, data))
	wrapped := fmt.Errorf("wrapped: %w", plain)
	assert.Equal(t, wrapped, AsTyped(wrapped, &b, data))
	assert.NoError(t, AsTyped(nil, &b, data))
	one := InputErrors(c.Err())[0]
	assert.Equal(t, "85.05 g", one.Value, "the error itself is left alone")
	for _, text := range []string{`{"flour":`, `{"flour" "3 oz"}`, `{"flour":"3 oz`, `{"rows":[1 2],"flour":"3 oz"}`, `{"x":` + strings.Repeat("[", 100)} {
		assert.Equal(t, one, AsTyped(one, &b, []byte(text)), "a text that is not the one it was read from")
	}
}

// Everything that is wrong with an input is said at once: its names, its
// units and its ranges.
func ExampleDecode() {
	_, err := Decode[divider.HopperTime]("hopper-time", []byte(`{"batch":"12 t","dough_rat":"400 kg/h"}`))
	for _, e := range InputErrors(err) {
		fmt.Printf("%s is %s: want %s\n", e.Field, e.Value, e.Want)
	}

	q, err := Decode[divider.HopperTime]("hopper-time", []byte(`{"batch":"120 kg","dough_rate":"400 kg/h"}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	out, err := q.Solve()
	fmt.Println(out.Time, err)
	// Output:
	// dough_rat is not a known name: want dough_rate perhaps; the names here are batch, head, dough_rate, wait, time_limit
	// dough_rate is missing: want a mass rate in quotes with its unit (kg/h, t/h, g/h, g/min, g/s, kg/min, lb/h, oz/h), more than 0 kg/h to 200000 t/h
	// batch is 12 t: want more than 0 g to 10 t
	// 18 min <nil>
}
