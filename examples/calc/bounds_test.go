package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// endless is one sign without end, and counts how much of it was taken.
type endless struct {
	sign  byte
	taken int
}

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = e.sign
	}
	e.taken += len(p)
	return len(p), nil
}

// Input without an end ends the program, with little read.
func TestEndlessInput(t *testing.T) {
	for _, args := range [][]string{
		{"do", "curls", "-"}, {"rows", "curls"}, {"rows", "-from", "jsonl", "curls"}, {"rows", "-bad", "skip", "-from", "jsonl", "curls"}, {"rows", "-bad", "skip", "curls"},
	} {
		for _, sign := range []byte{'x', '"', 0, ','} {
			in := &endless{sign: sign}
			var out, complaints bytes.Buffer
			code := run(context.Background(), args, in, &out, &complaints)
			assert.NotEqual(t, done, code)
			assert.NotEmpty(t, complaints.String())
			assert.Less(t, complaints.Len(), 10_000)
			assert.Less(t, in.taken, 20<<20)
		}
	}
}

func TestOutputOverInput(t *testing.T) {
	folder := t.TempDir()
	rows, base := filepath.Join(folder, "rows.csv"), filepath.Join(folder, "base.json")
	link := filepath.Join(folder, "link.csv")
	require.NoError(t, os.WriteFile(rows, []byte("thickness\n5 mm\n"), 0o600))
	require.NoError(t, os.WriteFile(base, []byte(`{"length":"300 mm"}`), 0o600))
	require.NoError(t, os.Symlink(rows, link))
	for _, args := range [][]string{{"-file", rows, "curls", rows}, {"-file", link, "curls", rows}, {"-file", rows, "curls", link}, {"-file", base, "curls", rows}} {
		code, _, errs := call("", append([]string{"rows", "-base", base}, args...)...)
		assert.Equal(t, misused, code, "%q", args)
		assert.Contains(t, errs, "would go over", "%q", args)
	}
	in, err := os.OpenFile(rows, os.O_RDWR|os.O_APPEND, 0)
	require.NoError(t, err)
	defer in.Close()
	var complaints bytes.Buffer
	assert.Equal(t, misused, run(context.Background(), []string{"rows", "-base", base, "curls", rows}, strings.NewReader(""), in, &complaints), "output appended to its own input")
	assert.Equal(t, misused, run(context.Background(), []string{"rows", "-base", base, "-file", link, "curls", "-"}, in, &bytes.Buffer{}, &complaints))
	data, err := os.ReadFile(rows)
	require.NoError(t, err)
	assert.Equal(t, "thickness\n5 mm\n", string(data))
}

func TestFolders(t *testing.T) {
	folder := t.TempDir()
	for _, args := range [][]string{{"curls", folder}, {"-from", "jsonl", "curls", folder}, {"-base", folder, "curls"}, {"-file", folder, "curls"}} {
		code, _, errs := call("length,thickness\n300 mm,5 mm\n", append([]string{"rows"}, args...)...)
		assert.Equal(t, broken, code, "%q", args)
		assert.Contains(t, errs, "is a folder: want the name of a file", "%q", args)
	}
}
