package main

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

func TestSheetNames(t *testing.T) {
	b := &book{}
	seen := map[string]bool{}
	for _, name := range []string{
		"1 Star bun", "1 star BUN", "", "'", "History", "history", "a/b\\c:d*e?f[g]h", "'quoted'", strings.Repeat("long name ", 9), strings.Repeat("long name ", 9),
		strings.Repeat("🥖", 40), "tab\tand\nline", "\xff\xfe", "=1+1", "  ",
	} {
		got := b.page(name).name
		units := len(utf16.Encode([]rune(got)))
		assert.True(t, units >= 1 && units <= longestSheetName, "%q becomes %q", name, got)
		assert.False(t, strings.ContainsAny(got, `[]:*?/\`), "%q", got)
		assert.False(t, strings.HasPrefix(got, "'") || strings.HasSuffix(got, "'") || strings.EqualFold(got, "history"), "%q", got)
		assert.False(t, seen[strings.ToLower(got)], "%q is there twice", got)
		seen[strings.ToLower(got)] = true
	}
	var out bytes.Buffer
	assert.NoError(t, b.write(&out), "the library takes all of these names")
}

// A name that a spreadsheet would run is a text in the file, and stays one when
// the sheet is saved as plain text and opened again.
func TestHarmless(t *testing.T) {
	for s, want := range map[string]string{
		`=HYPERLINK("http://x","y")`: `'=HYPERLINK("http://x","y")`,
		"+1":                         "'+1",
		"-2+3":                       "'-2+3",
		"@SUM(A1)":                   "'@SUM(A1)",
		"\t=1":                       "' =1",
		"\r\n=1":                     "'  =1",
		"＝1":                         "'＝1",
		"\x00\x1b[31m=":              "  [31m=",
		"rye 100 %":                  "rye 100 %",
		"":                           "",
		"bad \xff":                   "bad \ufffd",
	} {
		assert.Equal(t, want, harmless(s), "%q", s)
	}
	long := harmless(strings.Repeat("🥖", 40_000))
	assert.Less(t, len(utf16.Encode([]rune(long))), excelize.TotalCellChars)
	assert.True(t, strings.HasSuffix(long, "(cut: too long for a cell)"), "what is left out is told")
}

func TestDigits(t *testing.T) {
	for _, c := range []struct {
		v     float64
		unit  string
		whole bool
		want  string
	}{
		{26, "°C", false, "0.0"},
		{62.629, "kg", false, "0.000"},
		{51.33, "g", false, "0.0"},
		{0.0123, "g", false, "0.0000"},
		{6000, "", true, "0"},
		{7, "", false, "General"},
		{12.6925, "", false, "0.00"},
		{0.864274, "", false, "0.0000"},
		{1.5e12, "g", false, "0.000E+00"},
		{2e-9, "", false, "0.000E+00"},
		{0, "g", false, "0.0"},
		{-1697.2, "g", false, "0.0"},
	} {
		assert.Equal(t, c.want, digits(c.v, c.unit, c.whole), "%v %s", c.v, c.unit)
	}
	assert.Equal(t, "0.0000", finer("0.0", 30.397, 30.403), "what was tried does not look like one value")
	assert.Equal(t, "0.0", finer("0.0", 20, 30))
	assert.InDelta(t, 0.3, fifteen(0.1+0.2), 0)
}

// Formulas carry what they gave, so that a program that only reads sees
// numbers; a spreadsheet is told to work everything out when it opens the file.
func TestFormulasCarryTheirValues(t *testing.T) {
	b := &book{paper: paperLetter}
	p := b.page("one", 10, 10)
	p.add(numberCell(entry, 2, "0.0"), formulaCell(plain, "A1*2", 4, "0.0"))
	var out bytes.Buffer
	require.NoError(t, b.write(&out))
	f, err := excelize.OpenReader(&out)
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	value, err := f.GetCellValue("one", "B1")
	require.NoError(t, err)
	assert.Equal(t, "4.0", value)
	formula, err := f.GetCellFormula("one", "B1")
	require.NoError(t, err)
	assert.Equal(t, "A1*2", formula)
	kind, err := f.GetCellType("one", "B1")
	require.NoError(t, err)
	assert.NotContains(t, []excelize.CellType{excelize.CellTypeInlineString, excelize.CellTypeSharedString, excelize.CellTypeError}, kind)
	props, err := f.GetCalcProps()
	require.NoError(t, err)
	assert.True(t, *props.FullCalcOnLoad)
	layout, err := f.GetPageLayout("one")
	require.NoError(t, err)
	assert.Equal(t, 1, *layout.Size)
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestFullDisk(t *testing.T) {
	b := &book{paper: paperA4}
	b.page("one", 10).add(text("x"))
	assert.ErrorContains(t, b.write(fullDisk{}), "no space left")
}
