package intake_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/examples/internal/intake"
)

func TestRead(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "f")
	require.NoError(t, os.WriteFile(name, []byte("x"), 0o600))
	data, err := intake.Read(name)
	require.NoError(t, err)
	assert.Equal(t, "x", string(data))
	_, err = intake.Read(folder)
	require.EqualError(t, err, folder+" is a folder: want the name of a file")
	_, err = intake.Read(filepath.Join(folder, "none"))
	require.ErrorIs(t, err, os.ErrNotExist)
	_, err = intake.All(strings.NewReader(strings.Repeat("x", intake.Most)), "it")
	require.NoError(t, err)
	_, err = intake.All(strings.NewReader(strings.Repeat("x", intake.Most+1)), "it")
	require.EqualError(t, err, "it has more than 8388608 bytes: that is none of ours")
}

// Lines are told apart by their size alone, wherever the reader cuts them.
func TestLines(t *testing.T) {
	const most = 100_000 // more than the buffer
	fits, long := strings.Repeat("a", most-1)+"\n", strings.Repeat("b", most)+"\n"
	text := "one\n\n" + fits + long + "two\r\n" + fits + strings.Repeat("c", most)
	for _, in := range []io.Reader{strings.NewReader(text), iotest.DataErrReader(strings.NewReader(text)), iotest.HalfReader(strings.NewReader(text))} {
		lines := intake.NewLines(in, most)
		for i, want := range []string{"one\n", "\n", fits, "", "two\r\n", fits, strings.Repeat("c", most)} {
			line, err := lines.Next()
			assert.Equal(t, i+1, lines.Number())
			if want == "" {
				require.EqualError(t, err, "line 4 has more than 100000 bytes")
				continue
			}
			require.NoError(t, err)
			assert.True(t, want == string(line), "line %d", i+1)
		}
		_, err := lines.Next()
		require.ErrorIs(t, err, io.EOF)
	}
	broken := errors.New("the cable is out")
	lines := intake.NewLines(io.MultiReader(strings.NewReader("one\ntw"), iotest.ErrReader(broken)), most)
	_, err := lines.Next()
	require.NoError(t, err)
	_, err = lines.Next()
	require.ErrorIs(t, err, broken, "half a line is none")
	_, err = intake.NewLines(strings.NewReader(strings.Repeat("x", 2000)), 10).Next()
	var tooLong *intake.LongLine
	require.ErrorAs(t, err, &tooLong, "its end was found in the buffer")
	_, err = intake.NewLines(strings.NewReader(strings.Repeat("x", 1<<20)), 1000).Next()
	require.EqualError(t, err, "line 1 has no end within 16000 bytes: that is no table")
}

func TestApart(t *testing.T) {
	folder := t.TempDir()
	there, hard, soft, gone := filepath.Join(folder, "there"), filepath.Join(folder, "hard"), filepath.Join(folder, "soft"), filepath.Join(folder, "gone")
	require.NoError(t, os.WriteFile(there, nil, 0o600))
	require.NoError(t, os.Link(there, hard))
	require.NoError(t, os.Symlink(there, soft))
	away := filepath.Join(t.TempDir(), "away")
	require.NoError(t, os.Symlink(folder, away))
	stream, err := os.Open(there)
	require.NoError(t, err)
	defer stream.Close()
	place := func(name string) intake.Place { return intake.Place{What: "it", Name: name} }
	open := intake.Place{What: "stream", Stream: stream}
	for _, pair := range [][2]intake.Place{{place(there), place(hard)}, {place(there), place(soft)}, {place(hard), place(soft)}, {open, place(hard)}, {open, open}, {place(there), place(filepath.Join(away, "there"))}} {
		assert.ErrorContains(t, intake.Apart(pair[:1], pair[1:]), "would go over", "%v", pair)
		assert.ErrorContains(t, intake.Apart(nil, pair[:]), "are one file", "%v", pair)
	}
	assert.Error(t, intake.Apart(nil, []intake.Place{place(gone), place(filepath.Join(away, "gone"))}), "a file that two things would make")
	device := os.DevNull
	assert.NoError(t, intake.Apart([]intake.Place{place(there), place(device), place("")}, []intake.Place{place(gone), place(device), place(""), {Stream: os.Stdout}}))
}
