//go:build unix

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/examples/internal/process"
)

func TestMain(m *testing.M) { process.Main(m, main) }

// Interrupted, hung up or ended while it waits for rows, it ends with its code: what it printed is whole, and no
// half of a file is left.
func TestSignals(t *testing.T) {
	for _, with := range []syscall.Signal{syscall.SIGINT, syscall.SIGHUP, syscall.SIGTERM} {
		t.Run(with.String(), func(t *testing.T) {
			if signal.Ignored(with) {
				t.Skip("these tests were started so that the signal is ignored, as with nohup: so does the program then")
			}
			t.Parallel()
			file := filepath.Join(t.TempDir(), "out.csv")
			for _, to := range [][]string{{"-to", "jsonl"}, {"-file", file}} {
				c := process.Command(t, append(append([]string{"rows", "-base", `{"length":"300 mm"}`, "-want", "turns"}, to...), "curls")...)
				feed, err := c.StdinPipe()
				require.NoError(t, err)
				var out, complaints bytes.Buffer
				c.Stdout, c.Stderr = &out, &complaints
				require.NoError(t, c.Start())
				_, err = io.WriteString(feed, "thickness (mm)\n"+strings.Repeat("5\n", 150_000)) // more than the program and a pipe hold: it has begun
				require.NoError(t, err)
				require.NoError(t, c.Process.Signal(with))
				_ = c.Wait() // the code tells
				assert.Equal(t, interrupted, c.ProcessState.ExitCode())
				assert.Contains(t, complaints.String(), "interrupted after ")
				if to[0] == "-to" {
					var rows int
					_, err := fmt.Sscanf(complaints.String(), "interrupted after %d rows", &rows)
					require.NoError(t, err)
					assert.Equal(t, rows, strings.Count(out.String(), "\n"))
					assert.True(t, strings.HasSuffix(out.String(), "}\n"))
					continue
				}
				assert.Contains(t, complaints.String(), file+" was not written")
				left, err := os.ReadDir(filepath.Dir(file))
				require.NoError(t, err)
				assert.Empty(t, left)
			}
		})
	}
}

// Output that nobody takes, or that finds no room, ends the program with its code.
func TestNoRoomForOutput(t *testing.T) {
	rows := "thickness (mm)\n" + strings.Repeat("5\n", 100_000)
	args := []string{"rows", "-base", `{"length":"300 mm"}`, "-want", "turns", "-to", "csv"}
	closed := process.Command(t, append(args, "curls")...)
	closed.Stdin = strings.NewReader(rows)
	out, err := closed.StdoutPipe()
	require.NoError(t, err)
	var complaints bytes.Buffer
	closed.Stderr = &complaints
	require.NoError(t, closed.Start())
	_, err = bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	require.NoError(t, out.Close())
	_ = closed.Wait() // the code tells
	assert.Equal(t, broken, closed.ProcessState.ExitCode())
	assert.Contains(t, complaints.String(), "broken pipe")

	file := filepath.Join(t.TempDir(), "out.csv")
	require.NoError(t, os.WriteFile(file, []byte("old"), 0o600))
	full := process.Command(t, append(args, "-file", file, "curls")...)
	process.FullDisk(t, full, 100_000)
	full.Stdin = strings.NewReader(rows)
	said, err := full.CombinedOutput()
	require.Error(t, err)
	assert.Equal(t, broken, full.ProcessState.ExitCode())
	assert.Contains(t, string(said), "file too large")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "old", string(data))
	left, err := os.ReadDir(filepath.Dir(file))
	require.NoError(t, err)
	assert.Len(t, left, 1)
}

// No sign that a terminal obeys comes out, whatever was typed.
func TestNothingForTheTerminalToObey(t *testing.T) {
	hostile := "\x1b]0;x\a\u202e\u009b31m\r"
	object := `{"length":"300 mm","thickness":"` + strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(hostile, "\x1b", `\u001b`), "\a", `\u0007`), "\r", `\r`) + `"}`
	for _, args := range [][]string{
		{hostile},
		{"list", hostile},
		{"about", hostile},
		{"do", hostile},
		{"do", "-" + hostile, "curls"},
		{"do", "curls", "-thickness", hostile},
		{"do", "curls", object},
		{"do", "-json", "curls", object},
		{"rows", "-want", hostile, "curls"},
		{"rows", hostile + ".csv"},
		{"rows", "curls", hostile + ".csv"},
		{"rows", "-bad", "skip", "-to", "jsonl", "-from", "jsonl", "curls"},
		{"rows", "-bad", "skip", "-to", "csv", "-from", "jsonl", "curls"},
		{"rows", "-bad", "skip", "-keep", "note", "-to", "csv", "curls"},
		{"rows", "-bad", "skip", "-keep", "note", "-to", "table", "curls"},
		{"rows", "-bad", "skip", "-keep", "note", "-to", "jsonl", "-want", "turns", "curls"},
	} {
		c := process.Command(t, args...)
		c.Stdin = strings.NewReader("length,thickness,note\n300 mm,5 mm," + hostile + "\n300 mm," + hostile + ",=1+1\n")
		if strings.Contains(strings.Join(args, " "), "-from jsonl") {
			c.Stdin = strings.NewReader(object + "\n" + hostile + "\n")
		}
		said, _ := c.CombinedOutput() // most are refused
		assert.NotEmpty(t, said)
		for _, sign := range []string{"\x1b", "\a", "\u202e", "\u009b", "\r"} {
			assert.NotContains(t, string(said), sign, "%q", args)
		}
		assert.NotContains(t, string(said), ",=1+1", "%q", args)
	}
}

// However much was typed, a message stays one that can be read.
func TestMessagesAreBounded(t *testing.T) {
	long := strings.Repeat("x", 100_000)
	for _, args := range [][]string{{long}, {"do", long}, {"do", "curls", "-" + long, "1"}, {"do", "curls", "-length", long}, {"rows", "-" + long}, {"rows", "-want", long, "curls"}, {"rows", "-to", long, "curls"}} {
		said, err := process.Command(t, args...).CombinedOutput()
		require.Error(t, err)
		assert.Less(t, len(said), 5000, "%q", args[:len(args)-1])
	}
}
