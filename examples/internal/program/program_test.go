package program_test

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/examples/internal/program"
)

// What is printed is shown, wherever it is cut; letters come out whole.
func TestOutput(t *testing.T) {
	for _, size := range []int{1, 2, 3, 1000} {
		file, err := os.Create(filepath.Join(t.TempDir(), "out"))
		require.NoError(t, err)
		_, err = io.CopyBuffer(struct{ io.Writer }{&program.Output{File: file}}, struct{ io.Reader }{strings.NewReader("20 °C\t\x1b[2J\u202e\r\U000e0001\xff.\n")}, make([]byte, size))
		require.NoError(t, err)
		require.NoError(t, file.Close())
		data, err := os.ReadFile(file.Name())
		require.NoError(t, err)
		assert.Equal(t, "20 °C\t"+`\u001b[2J\u202e\u000d\udb40\udc01\ufffd.`+"\n", string(data))
	}
}

// Reading ends when somebody interrupts, though nothing comes, and loses nothing that came.
func TestReading(t *testing.T) {
	require.NoError(t, iotest.TestReader(program.Reading(t.Context(), strings.NewReader("some text")), []byte("some text")))
	ctx, stop := context.WithCancel(t.Context())
	in, feed := io.Pipe()
	r := program.Reading(ctx, in)
	go io.WriteString(feed, "85\n") // the reading tells
	got := make([]byte, 10)
	n, err := r.Read(got)
	require.NoError(t, err)
	assert.Equal(t, "85\n", string(got[:n]))
	time.AfterFunc(10*time.Millisecond, stop)
	_, err = r.Read(got)
	require.ErrorIs(t, err, program.ErrInterrupted)
	_, err = r.Read(got)
	assert.ErrorIs(t, err, program.ErrInterrupted)
}
