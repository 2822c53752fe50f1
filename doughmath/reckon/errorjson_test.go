package reckon_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// plain writes v as JSON without the escapes that are meant for web pages.
func plain(t *testing.T, v any) string {
	t.Helper()
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	require.NoError(t, enc.Encode(v))
	return strings.TrimSuffix(b.String(), "\n")
}

// The JSON of an error is a promise to programs: it is written out here.
func TestErrorJSON(t *testing.T) {
	c := Checks{Func: "demo"}
	CheckAbove(&c, "batch", unit.Kilograms(20_000), unit.Kilograms(10_000))
	CheckAbove(&c, "slope", math.NaN(), 1.0/3)
	CheckRange(&c, "weight", unit.Ounces(3), unit.Grams(0.05), unit.Grams(1.0/3))
	CheckBelow(&c, "loss", unit.Percent(100), 0, 100)
	CheckPositive(&c, "run", unit.Minutes(-1))
	CheckNotNegative(&c, "waste", -1.0)
	CheckFinite(&c, "mark", math.Inf(1))
	CheckFinite(&c, "energy", unit.Energy(math.NaN()))
	CheckCount(&c, "across", 0, 1, 12)
	CheckTemp(&c, "room", unit.Celsius(80), unit.Celsius(-40), unit.Celsius(60))
	CheckTemp(&c, "flour", unit.Temp{}, unit.Celsius(-40), unit.Celsius(60))
	CheckWord(&c, "basis", "twice", "once", "per-factor", "never")
	c.Fail("low", "3 g", "less than high, 2 g")
	none := &NoSolutionError{Func: "demo", Unknown: "mark", Wanted: "85 g", Low: "10 g", High: "80 g", Advice: "take the larger chamber"}
	broken := fmt.Errorf("page 3: %w", io.ErrUnexpectedEOF)
	err := errors.Join(c.Err(), fmt.Errorf("in a frame: %w", none), broken)

	want := []string{
		`{"kind":"range","calculation":"demo","field":"batch","value":"20 t","low":"0 g","low_open":true,"high":"1e+07 g","unit":"g","want":"more than 0 g to 10 t"}`,
		`{"kind":"range","calculation":"demo","field":"slope","value":"NaN","low":"0","low_open":true,"high":"0.3333333333333333","want":"more than 0 to 0.333333"}`,
		`{"kind":"range","calculation":"demo","field":"weight","value":"85.05 g","low":"0.05 g","high":"0.3333333333333333 g","unit":"g","want":"50 mg to 0.3333 g"}`,
		`{"kind":"range","calculation":"demo","field":"loss","value":"100 %","low":"0 %","high":"100 %","high_open":true,"unit":"%","want":"0 % to under 100 %"}`,
		`{"kind":"range","calculation":"demo","field":"run","value":"-1 min","low":"0 s","low_open":true,"unit":"s","want":"more than 0 s"}`,
		`{"kind":"range","calculation":"demo","field":"waste","value":"-1","low":"0","want":"0 or more"}`,
		`{"kind":"range","calculation":"demo","field":"mark","value":"+Inf","want":"a finite number"}`,
		`{"kind":"range","calculation":"demo","field":"energy","value":"NaN kJ","unit":"kJ","want":"a finite number"}`,
		`{"kind":"range","calculation":"demo","field":"across","value":"0","low":"1","high":"12","want":"a whole number from 1 to 12"}`,
		`{"kind":"range","calculation":"demo","field":"room","value":"80 °C","low":"-40 °C","high":"60 °C","unit":"°C","want":"a temperature from -40 °C to 60 °C"}`,
		`{"kind":"missing","calculation":"demo","field":"flour","value":"not given","low":"-40 °C","high":"60 °C","unit":"°C","want":"a temperature from -40 °C to 60 °C"}`,
		`{"kind":"word","calculation":"demo","field":"basis","value":"\"twice\"","want":"\"once\", \"per-factor\" or \"never\""}`,
		`{"kind":"input","calculation":"demo","field":"low","value":"3 g","want":"less than high, 2 g"}`,
		`{"kind":"no-solution","calculation":"demo","unknown":"mark","wanted":"85 g","low":"10 g","high":"80 g","advice":"take the larger chamber"}`,
		`{"kind":"other","advice":"page 3: unexpected EOF"}`,
	}
	got := Refusals(err)
	require.Len(t, got, len(want))
	for i, r := range got {
		assert.Equal(t, want[i], plain(t, r))
	}
	assert.Equal(t, want[0], plain(t, InputErrors(err)[0]))
	assert.Equal(t, want[0], plain(t, *InputErrors(err)[0]))
	assert.Equal(t, want[13], plain(t, none))
	assert.JSONEq(t, `{"kind":"input","calculation":"calc","field":"id","value":"x","want":"y"}`,
		plain(t, InputError{Func: "calc", Field: "id", Value: "x", Want: "y"}))

	// What a program reads back is what was written.
	var back []Refusal
	require.NoError(t, json.Unmarshal([]byte(plain(t, got)), &back))
	assert.Equal(t, got, back)
	assert.Nil(t, Refusals(nil))
}

// The kind of everything that the strict reader finds.
func TestDecodeKinds(t *testing.T) {
	kinds := func(text string) map[string]Kind {
		_, err := Decode[input]("test", []byte(text))
		out := map[string]Kind{}
		for _, e := range InputErrors(err) {
			out[e.Field] = e.Kind
		}
		return out
	}
	assert.Equal(t, map[string]Kind{
		"target": KindUnit, "room": KindUnit, "energy": KindUnit, "basis": KindType, "count": KindType, "factor": KindRange,
		"open": KindType, "pieces[0].weight": KindMissing, "flour": KindUnknownName, "words": KindType, "units": KindUnit,
		"extra": KindType, "small": KindInput,
	}, kinds(`{"target":26,"room":"75","energy":"3 kg","basis":1,"count":1.5,"factor":1e999,"open":"yes","pieces":[{}],
		"flour":1,"words":["no"],"units":"eu","extra":[],"small":1,"small":1}`))
	assert.Equal(t, map[string]Kind{"the input": KindSyntax}, kinds(`{`))
	assert.Equal(t, map[string]Kind{"the input": KindInput}, kinds(strings.Repeat(" ", 1<<20+1)))
}

func TestRange(t *testing.T) {
	for tag, want := range map[string]string{
		"0 g..10 t": "0 g to 10 t", ">0 g..10 t": "more than 0 g to 10 t", "0 %..<100 %": "0 % to under 100 %",
		">0..<1": "more than 0 to under 1", ">0 s..": "more than 0 s", "0 s..": "0 s or more",
		"..5": "up to 5", "..<5": "under 5", "-40 °C..60 °C": "-40 °C to 60 °C",
	} {
		r, ok := ParseRange(tag)
		assert.True(t, ok, tag)
		assert.Equal(t, want, r.String(), tag)
	}
	for _, tag := range []string{"", "-", "5"} {
		_, ok := ParseRange(tag)
		assert.False(t, ok, tag)
	}
}
