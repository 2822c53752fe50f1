package reckon_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/reckon"
)

func TestFilled(t *testing.T) {
	for _, c := range []struct{ name, form, want string }{
		{"as it is", `{"a": 1}`, `{"a": 1}`},
		{"a note keeps its line", "{\n  # about a\n\"a\": 1\n# end", "{\n\n\"a\": 1\n"},
		{"no note within a text", `{"a": "x # y"}`, `{"a": "x # y"}`},
		{"not filled in", `{"a": "? g, kg", "b": 2}`, `{"b":2}`},
		{"the last is not", `{"b": 2, "a": "?"}`, `{"b":2}`},
		{"none is", `{"a": "?", "b": {"c": "?"}, "d": [{"e": "?"}], "f": ["?"]}`, `{}`},
		{"in a part", `{"a": {"b": "?", "c": "1 kg"}, "d": true}`, `{"a":{"c":"1 kg"},"d":true}`},
		{"of a list", `{"a": ["?", "x"], "b": [{"c": "?"}, {"c": 1.50}]}`, `{"a":["x"],"b":[{"c":1.50}]}`},
		{"empty is filled in", `{"a": [], "b": {}, "c": "?"}`, `{"a":[],"b":{}}`},
		{"names twice stay twice", `{"a": 1, "a": 2, "b": "?"}`, `{"a":1,"a":2}`},
		{"what follows stays", `{"a": "?"} x`, `{} x`},
		{"no JSON", `{"a": "?", }`, `{"a": "?", }`},
		{"unfinished", `{"a": "?`, `{"a": "?`},
		{"a name is no value", `{"?a": 1, "b": "?"}`, `{"?a":1}`},
		{"escapes stay", `{"a": "\u00e9\n", "b": "?"}`, `{"a":"\u00e9\n"}`},
	} {
		assert.Equal(t, c.want, string(reckon.Filled([]byte(c.form))), c.name)
	}
	just := strings.Repeat(`{"a":`, 32) + `"?"` + strings.Repeat("}", 32)
	assert.Equal(t, "{}", string(reckon.Filled([]byte(just))))
	beside := `{"a":"?"` + strings.Repeat(`,"b":{"c":1}`, 40) + "}"
	assert.Equal(t, "{"+strings.Repeat(`,"b":{"c":1}`, 40)[1:]+"}", string(reckon.Filled([]byte(beside))), "one beside the other is not deep")
	deep := strings.Repeat(`{"a":`, 40) + `"?"` + strings.Repeat("}", 40)
	assert.Equal(t, deep, string(reckon.Filled([]byte(deep))), "what is too deep to be read is not looked into")
	long := `{"a":"?` + strings.Repeat("x", 1<<20) + `"}`
	assert.Len(t, reckon.Filled([]byte(long)), len(long))
}

// What is filled in is filled in for good, and never panics.
func FuzzFilled(f *testing.F) {
	f.Add(`{"a": "?", "b": [{"c": "?"}, 1]}`)
	f.Add("# note\n[\"?\", \"x\"]\n#")
	f.Add(`{"a": "?"`)
	f.Fuzz(func(t *testing.T, text string) {
		once := reckon.Filled([]byte(text))
		assert.Equal(t, string(once), string(reckon.Filled(once)))
	})
}

func ExampleFilled() {
	form := `
# what is baked
{
  # weight: of one piece as sold
  "weight": "85 g",
  # loss: leave out if it is not known
  "loss": "? %"
}`
	fmt.Println(strings.TrimSpace(string(reckon.Filled([]byte(form)))))
	// Output: {"weight":"85 g"}
}
