//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/examples/internal/process"
)

func TestMain(m *testing.M) { process.Main(m, main) }

// Of four at once that may not replace a workbook one writes it.
func TestFourAtOnce(t *testing.T) {
	name := filepath.Join(t.TempDir(), "w.xlsx")
	var all sync.WaitGroup
	var wrote atomic.Int32
	for range 4 {
		all.Go(func() {
			c := process.Command(t, append([]string{"-o", name}, water...)...)
			said, err := c.CombinedOutput()
			if err == nil {
				wrote.Add(1)
				return
			}
			assert.Equal(t, broken, c.ProcessState.ExitCode())
			assert.True(t, strings.Contains(string(said), name+" is there already") || strings.Contains(string(said), name+" is in use by another program"), "%s", said)
		})
	}
	all.Wait()
	assert.EqualValues(t, 1, wrote.Load())
	open(t, name)
	left, err := os.ReadDir(filepath.Dir(name))
	require.NoError(t, err)
	assert.Len(t, left, 1)
}

// A full disk leaves the old workbook as it was, a closed output ends with its code.
func TestNoRoom(t *testing.T) {
	name := filepath.Join(t.TempDir(), "w.xlsx")
	require.NoError(t, os.WriteFile(name, []byte("a planner's work"), 0o600))
	full := process.Command(t, append([]string{"-replace", "-o", name}, water...)...)
	process.FullDisk(t, full, 1000)
	said, err := full.CombinedOutput()
	require.Error(t, err)
	assert.Equal(t, broken, full.ProcessState.ExitCode())
	assert.Contains(t, string(said), "file too large")
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "a planner's work", string(data))
	left, err := os.ReadDir(filepath.Dir(name))
	require.NoError(t, err)
	assert.Len(t, left, 1)

	reader, writer, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	defer writer.Close()
	closed := process.Command(t, append([]string{"-replace", "-o", name}, water...)...)
	closed.Stdout = writer
	require.Error(t, closed.Run())
	assert.Equal(t, broken, closed.ProcessState.ExitCode())
}
