package reckon

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What RFC 8259 calls JSON is stepped over as a whole, with the space around it.
func TestScanSteps(t *testing.T) {
	for _, text := range []string{
		`0`, `-0`, `-0.5`, `10.25`, `1E5`, `1e-05`, `1e+5`, `-12e0`, `true`, `false`, `null`, `""`, `"é\n"`, "\" \"", `[]`, `{}`, `[1, 2,3]`, `{"a":1,"b":{"c":[{}]}}`,
		strings.Repeat("[", 32) + strings.Repeat("]", 32), strings.Repeat(`{"a":`, 32) + "1" + strings.Repeat("}", 32),
		"[" + strings.Repeat("[],", 40) + "{}]", `{"x":[]` + strings.Repeat(`,"x":{}`, 40) + "}",
	} {
		s := scanner{data: "\t\r\n " + text + " \t\r\n"}
		skipped, ok := s.skip()
		assert.True(t, ok && s.atEnd(), text)
		assert.Equal(t, text, skipped)
		assert.Zero(t, s.depth, text)
		assert.Empty(t, s.syntax)
	}
}

// What is not is told with its line and its column, counted in letters.
func TestScanTellsWhere(t *testing.T) {
	for text, want := range map[string]string{
		``: "1, column 1 (it ends too early", " \n ": "2, column 2 (it ends too early", `{`: "1, column 2 (it ends too early", `[1`: "1, column 3 (it ends too early", `[1,`: "1, column 4 (it ends too early",
		`{"a"`: "1, column 5 (it ends too early", `{"a":`: "1, column 6 (it ends too early", `{"a":1`: "1, column 7 (it ends too early", `{"a":1,`: "1, column 8 (it ends too early",
		`[1 2]`: "1, column 4 (want a comma or ']'", `{"a":1 2}`: "1, column 8 (want a comma or '}'", `[1}`: "1, column 3 (want a comma or ']'", `["é" 1]`: "1, column 6 (want a comma or ']'",
		`{1}`: "1, column 2 (want a name in double quotes", `{"a":1,}`: "1, column 8 (want a name in double quotes", `{"a" 1}`: "1, column 6 (want ':'",
		`tru`: "1, column 1 (a word that is not true, false or null", `falsy`: "1, column 1 (a word that is not true, false or null", `[nul]`: "1, column 2 (a word that is not true, false or null",
		`-`: "1, column 2 (want a value", `+1`: "1, column 1 (want a value", `[,1]`: "1, column 2 (want a value", `[1,]`: "1, column 4 (want a value", "[1,\n\n x]": "3, column 2 (want a value", "\v1": "1, column 1 (want a value",
		`/`: "1, column 1 (want a value", `:`: "1, column 1 (want a value",
		`1.`: "1, column 3 (want digits after the point", `[1.x]`: "1, column 4 (want digits after the point", `1e`: "1, column 3 (want digits in the exponent", `1E+`: "1, column 4 (want digits in the exponent",
		`"abc`: "1, column 5 (a quote is not closed", `"abc\`: "1, column 6 (a quote is not closed", `"abc\"`: "1, column 7 (a quote is not closed", `{"a`: "1, column 4 (a quote is not closed",
		"\"a\nb\"": "1, column 3 (a control character inside quotes", "\"\x1f\"": "1, column 2 (a control character inside quotes",
		`"\x"`: "1, column 4 (an escape or a character that is not Unicode text", "\"\xff\"": "1, column 3 (an escape or a character that is not Unicode text",
		"\"\x80\"":              "1, column 3 (an escape or a character that is not Unicode text",
		strings.Repeat("[", 33): "1, column 33 (nested more than 32 deep", strings.Repeat(`{"a":`, 33): "1, column 161 (nested more than 32 deep",
	} {
		s := scanner{data: text}
		_, ok := s.skip()
		assert.False(t, ok, text)
		assert.Equal(t, "not JSON at line "+want+")", s.syntax, text)
		s.broken("another")
		assert.Equal(t, "not JSON at line "+want+")", s.syntax, "the first is told")
	}
}

// Escapes as RFC 8259 has them; what is no text is refused rather than replaced.
func TestUnquote(t *testing.T) {
	for inside, want := range map[string]string{
		``: "", `a`: "a", `é`: "é", `\"\\\/\b\f\n\r\t`: "\"\\/\b\f\n\r\t", `a\nb`: "a\nb", `\u0041b`: "Ab", `x\u0041\u0042y`: "xABy", `\\u0041`: `\u0041`,
		`\u00e9\u00E9`: "éé", `\u09af\u09AF`: "\u09af\u09af", `\ud83c\udf5e!`: "🍞!", `\uD83C\uDF5E`: "🍞", `\uffff`: "\uffff",
	} {
		got, ok := unquote(inside)
		assert.True(t, ok, inside)
		assert.Equal(t, want, got, inside)
	}
	for _, inside := range []string{
		`\`, `a\`, `\x`, `\U0041`, `\u`, `\u12`, `\u123`, `\u12g4`, `\u/000`, `\u:000`, "\\u`000", `\u@000`, `\uG000`, "\xff", "a\xc3",
		`\ud83c`, `\ud83cx`, `\ud83c\n`, `\ud83c\u0041`, `\ud83c\udf5`, `\udf5e`, `\udf5e\ud83c`, `\ud83c/udf5e`, `\ud83c\Udf5e`,
	} {
		_, ok := unquote(inside)
		assert.False(t, ok, inside)
	}
}
