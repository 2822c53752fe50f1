//go:build unix

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/examples/internal/process"
)

func TestMain(m *testing.M) { process.Main(m, main) }

// recordOf is a record of a day, as the shop hands it in.
func recordOf(t *testing.T, day int) string {
	t.Helper()
	code, blank, complaints := call("", "-blank", "1", "-date", fmt.Sprintf("2026-%02d-%02d", 1+day/28, 1+day%28))
	require.Equal(t, exitOK, code, complaints)
	return blank
}

// kept is how many records are in a file.
func kept(t *testing.T, runs string) int {
	t.Helper()
	data, err := os.ReadFile(runs)
	if os.IsNotExist(err) {
		return 0
	}
	require.NoError(t, err)
	book, err := line.ReadRunBook(data)
	require.NoError(t, err, "the file is whole")
	return len(book.Records)
}

// alone checks that nothing lies about the records.
func alone(t *testing.T, runs string) {
	t.Helper()
	there, err := filepath.Glob(filepath.Join(filepath.Dir(runs), "*"))
	require.NoError(t, err)
	assert.Equal(t, []string{runs}, there)
}

// Four that keep a record at once keep four.
func TestFourKeepAtOnce(t *testing.T) {
	runs := filepath.Join(t.TempDir(), "runs.json")
	var all sync.WaitGroup
	for i := range 4 {
		record := recordOf(t, i)
		all.Go(func() {
			for n := range 3 {
				c := process.Command(t, "-keep", runs)
				c.Stdin = strings.NewReader(strings.Replace(record, "2026-", fmt.Sprintf("202%d-", n), 1))
				said, err := c.CombinedOutput()
				assert.NoError(t, err, "%s", said)
			}
		})
	}
	all.Wait()
	assert.Equal(t, 12, kept(t, runs))
	alone(t, runs)
}

// Killed at any moment, it has kept the record or not, and the others are there.
func TestKilledAtAnyMoment(t *testing.T) {
	runs := filepath.Join(t.TempDir(), "runs.json")
	dice := rand.New(rand.NewPCG(2, uint64(time.Now().UnixNano())))
	before := 0
	for i := range 25 {
		c := process.Command(t, "-keep", runs)
		c.Stdin = strings.NewReader(recordOf(t, i))
		var out strings.Builder
		c.Stdout = &out
		require.NoError(t, c.Start())
		time.Sleep(time.Duration(dice.IntN(30)) * time.Millisecond)
		_ = c.Process.Kill() // it may have ended
		_ = c.Wait()
		now := kept(t, runs)
		require.True(t, now == before || now == before+1, "%d, then %d", before, now)
		require.True(t, now == before || out.Len() > 0, "what is kept was told")
		before = now
	}
	c := process.Command(t, "-keep", runs)
	c.Stdin = strings.NewReader(recordOf(t, 100))
	require.NoError(t, c.Run(), "what a killed one left is in nobody's way")
	assert.Equal(t, before+1, kept(t, runs))
	alone(t, runs)
}

// Where there is no room, for the file or for what is printed, nothing is kept and it ends with its code.
func TestNoRoom(t *testing.T) {
	runs := filepath.Join(t.TempDir(), "runs.json")
	code, _, complaints := call(recordOf(t, 0), "-keep", runs)
	require.Equal(t, exitOK, code, complaints)

	full := process.Command(t, "-keep", runs)
	process.FullDisk(t, full, 1000)
	full.Stdin = strings.NewReader(recordOf(t, 1))
	said, err := full.CombinedOutput()
	require.Error(t, err)
	assert.Equal(t, exitFile, full.ProcessState.ExitCode(), "%s", said)
	assert.Contains(t, string(said), "file too large")
	assert.Equal(t, 1, kept(t, runs))
	alone(t, runs)

	reader, writer, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	defer writer.Close()
	closed := process.Command(t, "-keep", runs)
	closed.Stdin, closed.Stdout = strings.NewReader(recordOf(t, 1)), writer
	require.Error(t, closed.Run())
	assert.Equal(t, exitFile, closed.ProcessState.ExitCode())
	assert.Equal(t, 1, kept(t, runs), "nobody was told, so nothing was kept")
	alone(t, runs)
}
