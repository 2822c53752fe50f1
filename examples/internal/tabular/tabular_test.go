package tabular

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var columns = []Column{{Name: "n"}, {Name: "length", Unit: "mm"}, {Name: "word"}, {Name: "conditions"}, {Name: "error"}}

// write writes the same three rows in a format.
func write(t *testing.T, format, word string) string {
	t.Helper()
	var out bytes.Buffer
	w, err := New(format, &out, columns)
	require.NoError(t, err)
	for i, length := range []float64{300, 0.1, math.NaN()} {
		w.Number(float64(i))
		w.Number(length)
		w.Text(word)
		w.Words([]string{"one", "two"})
		if math.IsNaN(length) {
			w.Refused(errors.New("no length\nno, none"), func() any { return []string{"no length"} })
		} else {
			w.Refused(nil, nil)
		}
		require.NoError(t, w.End())
	}
	require.NoError(t, w.Close([]byte("a note\n")))
	return out.String()
}

func TestFormats(t *testing.T) {
	assert.Equal(t, "n,length (mm),word,conditions,error\n0,300,a b,one two,\n1,0.1,a b,one two,\n2,,a b,one two,\"no length; no, none\"\n", write(t, "csv", "a b"))
	assert.Equal(t, `{"n":0,"length (mm)":300,"word":"a b","conditions":["one","two"]}
{"n":1,"length (mm)":0.1,"word":"a b","conditions":["one","two"]}
{"n":2,"word":"a b","conditions":["one","two"],"error":["no length"]}
`, write(t, "jsonl", "a b"))
	assert.Equal(t, `n  length (mm)  word  conditions  error
0          300  a b   one two
1          0.1  a b   one two
2               a b   one two     no length; no, none
a note
`, write(t, "table", "a b"))
	_, err := New("pdf", io.Discard, nil)
	assert.ErrorContains(t, err, `"pdf" is no format`)
}

// Whatever a text holds, it comes back as it was from CSV and JSON, but for what a spreadsheet
// would run and a terminal would obey.
func TestTexts(t *testing.T) {
	for text, want := range map[string]string{
		"plain": "plain", `quote " and , comma`: `quote " and , comma`, "two\nlines": "two\nlines", "°C": "°C", `back\slash`: `back\slash`,
		"=1+1": "'=1+1", "+x": "'+x", "@SUM(A1)": "'@SUM(A1)", "-x": "'-x", "-3.5": "-3.5", "+4": "+4", "\t=1": "'\t=1",
		"\x1b[2J": "\ufffd[2J", "a\x00b": "a\ufffdb", "bell\a": "bell\ufffd", "broken\xff": "broken\ufffd", "\u202egnp": "\ufffdgnp", "\u009b1m": "\ufffd1m", "\r=1": "\ufffd=1", "＝1+1": "'＝1+1", "\n=1": "'\n=1", "\U000e0001": "\ufffd",
	} {
		rows, err := csv.NewReader(strings.NewReader(write(t, "csv", text))).ReadAll()
		require.NoError(t, err, "%q", text)
		assert.Equal(t, want, rows[1][2], "%q", text)
		for line := range strings.Lines(write(t, "jsonl", text)) {
			for _, sign := range []string{"\x1b", "\u202e", "\u009b"} {
				assert.NotContains(t, line, sign, "%q", text)
			}
			var row map[string]any
			require.NoError(t, json.Unmarshal([]byte(line), &row), "%q", text)
			assert.Equal(t, strings.ToValidUTF8(text, "\ufffd"), row["word"])
		}
		assert.NotContains(t, write(t, "table", text), "\x1b", "%q", text)
	}
}

func TestRounded(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 1.23456: "1.235", 123456: "123456", 0.000123456: "0.0001235", 1e-9: "1e-09", 2e20: "2e+20", -5.5: "-5.5", 99.994: "99.99", 10: "10", 100.04: "100"} {
		assert.Equal(t, want, string(AppendRounded(nil, x)), "%v", x)
	}
	assert.Equal(t, "1000000", string(AppendNumber(nil, 1e6)))
	assert.Equal(t, "0.1", string(AppendNumber(nil, 0.1)))
}

// Rows after the first ones go through with the widths found so far.
func TestLongTable(t *testing.T) {
	var out bytes.Buffer
	w, err := New("table", &out, []Column{{Name: "n"}, {Name: "word"}})
	require.NoError(t, err)
	for i := range 1000 {
		w.Number(float64(i))
		w.Text("x")
		require.NoError(t, w.End())
	}
	require.NoError(t, w.Close(nil))
	lines := strings.Split(out.String(), "\n")
	assert.Equal(t, "999  x", lines[1000])
	assert.Len(t, lines, 1002)
}

func TestFile(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "out")
	left := func() int {
		names, err := os.ReadDir(folder)
		require.NoError(t, err)
		return len(names)
	}
	says := func(text string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
	}
	require.Error(t, Write(name, nil, func(w io.Writer) error { _ = says("half")(w); return errors.New("stop") }))
	assert.Zero(t, left())
	require.NoError(t, Write(name, nil, says("one")))
	require.NoError(t, os.Chmod(name, 0o640))
	link := filepath.Join(folder, "link")
	require.NoError(t, os.Symlink(name, link))
	require.Error(t, Write(link, nil, func(io.Writer) error { return errors.New("stop") }))
	require.NoError(t, Write(link, nil, says("two")))
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "two", string(data), "what the link points to is replaced, not the link")
	info, err := os.Stat(name)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o640), info.Mode().Perm())
	assert.Equal(t, 2, left())
	require.ErrorContains(t, Write(folder, nil, says("x")), "is a folder")
	require.NoError(t, os.WriteFile(name+".part0", nil, 0o600))
	require.NoError(t, Write(name, nil, says("three")), "somebody else's file beside it is left alone")
	assert.FileExists(t, name+".part0")
	var out bytes.Buffer
	require.NoError(t, Write("-", &out, says("four")))
	assert.Equal(t, "four", out.String())
}
