package reckon

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/unit"
)

// Values that may well have been meant lie within the range, and beside a bound that is out of it.
func TestEnds(t *testing.T) {
	of := func(typ reflect.Type) *plan { return newPlan(typ, map[reflect.Type]*plan{}) }
	mass, temp, share, count := of(reflect.TypeFor[unit.Mass]()), of(reflect.TypeFor[unit.Temp]()), of(reflect.TypeFor[float64]()), of(reflect.TypeFor[int]())
	for _, c := range []struct {
		p    *plan
		says string
		want [2]float64
	}{
		{mass, "0 g..10 t", [2]float64{0, 1e7}},
		{mass, ">0 g..10 t", [2]float64{1e7 / 1024, 1e7}},
		{mass, "2 g..<4 g", [2]float64{2, 4 - 2.0/1024}},
		{mass, ">2 g..<4 g", [2]float64{2 + 2.0/1024, 4 - 2.0/1024}},
		{mass, ">0 g..", [2]float64{1e6 / 1024, 1e6}},
		{mass, "5 g..", [2]float64{5, 1000005}},
		{mass, "..5 g", [2]float64{5 - 1e6, 5}},
		{mass, "-", [2]float64{1, 1e6}},
		{mass, "", [2]float64{1, 1e6}},
		{mass, "some..more", [2]float64{1, 1e6}},
		{mass, "5 g", [2]float64{1, 1e6}}, // no range
		{temp, "-40 °C..60 °C", [2]float64{-40, 60}},
		{share, ">0..1", [2]float64{1.0 / 1024, 1}},
		{count, "1..12", [2]float64{1, 12}},
		{count, ">1..<12", [2]float64{2, 11}},
		{count, ">1..1", [2]float64{1, 1}},
	} {
		assert.Equal(t, c.want, c.p.ends(reflect.StructTag(`range:"`+c.says+`"`)), "%s %s", c.p.typ, c.says)
	}
}

func TestWithin(t *testing.T) {
	for path, want := range map[string]bool{"rows": true, "rows.a": true, "rows[2].a": true, "rowsaw": false, "row": false, "": false, "[0]": false, ".a": false} {
		assert.Equal(t, want, within(path, "rows"), path)
	}
}

type told struct {
	Name   string        `json:"name"`
	Length unit.Duration `json:"length" range:"1 s..1 h"`
	Extra  unit.Duration `json:"extra,omitzero" range:"1 h..2 h"`
}

// run is an input in which what must be depends on all the rest.
type run struct {
	Least unit.Duration `json:"least" range:"1 min..5 h"`
	Most  unit.Duration `json:"most" range:">0 s.."`
	Count int           `json:"count" range:"1..3"`
	Steps []told        `json:"steps" items:"1..3"`
	Oven  *told         `json:"oven,omitzero"`
	Kind  string        `json:"kind"`
}

func (r run) Check(c *Checks) {
	CheckWord(c, "kind", r.Kind, "dough", "flour")
	total := unit.Duration(0)
	for _, s := range r.Steps {
		total += s.Length + s.Extra
	}
	if r.Oven != nil {
		total += r.Oven.Length
	}
	total *= unit.Duration(r.Count)
	if total < r.Least && r.Kind != "flour" {
		CheckRange(c, "least", r.Least, 0, 1)
	}
	if total > r.Most || r.Kind == "flour" && total > unit.Minutes(1) {
		CheckRange(c, "most", r.Most, unit.Hours(10), unit.Hours(20))
	}
}

// What depends on a value that could not be read is told only if it is wrong whatever was meant: at the low end of the
// range and at the high one, and by each of the words.
func TestDecodeTellsWhatIsWrongWhateverWasMeant(t *testing.T) {
	const head, steps = `"least":"30 min","most":"2 h",`, `"steps":[{"name":"a","length":"20 min"},{"name":"b","length":"20 min"}]`
	for id, c := range map[string]struct {
		text string
		want []string
	}{
		"all is read, and nothing is wrong but a name": {`{` + head + `"count":1,"kind":"dough",` + steps + `,"x":1}`, []string{"x"}},
		"too short whatever the count":                 {`{"least":"5 h","most":"9 h","count":"x","kind":"dough",` + steps + `}`, []string{"count", "least"}},
		"long enough with more":                        {`{"least":"1 h","most":"9 h","count":"x","kind":"dough",` + steps + `}`, []string{"count"}},
		"short enough with one":                        {`{` + `"least":"30 min","most":"1 h",` + `"count":"x","kind":"dough",` + steps + `}`, []string{"count"}},
		"too long whatever the count":                  {`{"least":"1 min","most":"30 min","count":"x","kind":"dough",` + steps + `}`, []string{"count", "most"}},
		"a step that is not known":                     {`{` + head + `"count":1,"kind":"dough","steps":[{"name":"a","length":"1 min"},{"name":"b","length":5}]}`, []string{"steps[1].length"}},
		"steps that are not known":                     {`{"least":"30 min","most":"1 h","count":1,"kind":"dough","steps":5}`, []string{"steps"}},
		"an oven that is not known":                    {`{` + head + `"count":1,"kind":"dough","steps":[{"name":"a","length":"1 s"}],"oven":[]}`, []string{"oven"}},
		"a step of an oven":                            {`{` + head + `"count":1,"kind":"dough","steps":[{"name":"a","length":"1 s"}],"oven":{"name":"b","length":1}}`, []string{"oven.length"}},
		// With flour and a second all is well, with dough and with an hour it is not.
		"a word and a length":                 {`{` + head + `"count":1,"kind":7,"steps":[{"name":"a","length":5}],"oven":{"name":"b","length":"1 s"}}`, []string{"kind", "steps[0].length"}},
		"a word, and too long whatever it is": {`{"least":"1 min","most":"30 min","count":1,"kind":7,` + steps + `}`, []string{"kind", "most"}},
		"twice, and unread before":            {`{` + head + `"count":1,"kind":"dough","steps":[{"name":"a","length":"1 min"},{"name":"b","length":5}],"steps":7}`, []string{"steps[1].length", "steps"}},
	} {
		_, err := NewDecoder[run]().Decode("test", []byte(c.text))
		var got []string
		for _, e := range InputErrors(err) {
			got = append(got, e.Field)
		}
		assert.ElementsMatch(t, c.want, got, "%s: %v", id, err)
	}

	_, err := NewDecoder[run]().Decode("test", []byte(`{"least":"30 min","count":1,"kind":"dough",`+steps+`}`))
	assert.Equal(t, Range{Low: "0 s", LowOpen: true}, InputErrors(err)[0].Range, "a range without an end")
}

// bare has no ranges but those of its Check.
type untold struct {
	Across int      `json:"across"`
	Rows   []string `json:"rows" items:"1..3"`
}

func (u untold) Check(c *Checks) {
	CheckCount(c, "across", u.Across, 2, 5)
	if len(u.Rows) == 0 {
		c.Fail("rows", "none", "a row")
	}
}

// What is wrong with a value is told once: as it was read, or as the Check finds it.
func TestDecodeTellsItOnce(t *testing.T) {
	for text, want := range map[string]string{
		`{"across":"x","rows":["a"]}`: `test: across is "x": want a whole number`,
		`{"rows":["a"]}`:              `test: across is missing: want a whole number, 2 to 5`,
		`{"across":7,"rows":"a"}`:     "test: rows is \"a\": want a list of 1 to 3 items\ntest: across is 7: want a whole number from 2 to 5",
		`{"across":2}`:                `test: rows is missing: want a list of 1 to 3 items`,
	} {
		_, err := NewDecoder[untold]().Decode("test", []byte(text))
		assert.EqualError(t, err, want)
	}
}

// tray has a part that must be there, and rolls that each may have one.
type tray struct {
	Across int    `json:"across" range:"1..5"`
	Liner  *liner `json:"liner"`
	Rolls  []roll `json:"rolls,omitzero"`
}

type roll struct {
	Name  string `json:"name"`
	Liner *liner `json:"liner,omitzero"`
}

type liner struct {
	Thick int `json:"thick" range:"1..9"`
}

func (r tray) Check(c *Checks) {
	CheckCount(c, "across", r.Across, 1, 5)
	if r.Liner == nil {
		c.Fail("liner", "not given", "under the rolls")
		return
	}
	CheckCount(c, "liner.thick", r.Liner.Thick, 1, 9)
}

// A part that is missing is made up while the rest is looked at; and one in a list that another stands for by now is gone.
func TestDecodeMakesUpParts(t *testing.T) {
	for text, want := range map[string]string{
		`{"across":9}`: "test: liner is missing: want an object with thick, under the rolls\ntest: across is 9: want a whole number from 1 to 5",
		`{"across":9,"liner":{"thick":1},"rolls":[{"name":"a","liner":{"thick":"x"}}],"rolls":7}`: "test: rolls[0].liner.thick is \"x\": want a whole number, 1 to 9\n" +
			"test: rolls is there twice: want each name once\ntest: across is 9: want a whole number from 1 to 5",
	} {
		_, err := NewDecoder[tray]().Decode("test", []byte(text))
		assert.EqualError(t, err, want)
	}
}

// branch holds itself, and must: what is invented for it ends somewhere.
type branch struct {
	Name string   `json:"name"`
	Sub  []branch `json:"sub"`
}

func (b branch) Check(c *Checks) {
	deep := 0
	for ; len(b.Sub) > 0; b = b.Sub[0] {
		deep++
	}
	if deep > 10 {
		CheckWord(c, "name", "deep", "flat")
	}
}

func TestDecodeOfATypeThatHoldsItself(t *testing.T) {
	_, err := NewDecoder[branch]().Decode("test", []byte(`{"name":"a","sub":7}`))
	assert.EqualError(t, err, "test: sub is the bare number 7: want a list\ntest: name is \"deep\": want \"flat\"")
}
