//go:build unix

package main

import (
	"bytes"
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

// Hung up or ended it does what it does when it is interrupted: the rows are whole, and it says where to go on.
func TestSignals(t *testing.T) {
	for _, with := range []syscall.Signal{syscall.SIGINT, syscall.SIGHUP, syscall.SIGTERM} {
		t.Run(with.String(), func(t *testing.T) {
			if signal.Ignored(with) {
				t.Skip("these tests were started so that the signal is ignored, as with nohup: so does the program then")
			}
			t.Parallel()
			c := process.Command(t, "vary", "-id", "curls", "-base", `{"length":"300 mm","thickness":"5 mm"}`, "-vary", "thickness=2 mm..20 mm in 900000", "-want", "turns", "-to", "csv")
			out, err := c.StdoutPipe()
			require.NoError(t, err)
			var complaints bytes.Buffer
			c.Stderr = &complaints
			require.NoError(t, c.Start())
			first := make([]byte, 1000)
			_, err = io.ReadFull(out, first)
			require.NoError(t, err)
			require.NoError(t, c.Process.Signal(with))
			rest, err := io.ReadAll(out)
			require.NoError(t, err)
			_ = c.Wait() // the code tells
			assert.Equal(t, interrupted, c.ProcessState.ExitCode())
			assert.True(t, bytes.HasSuffix(rest, []byte("\n")))
			assert.Contains(t, complaints.String(), "the same command with -first ")
		})
	}
}

// Output that nobody takes ends the program with its code.
func TestClosedOutput(t *testing.T) {
	c := process.Command(t, "vary", "-id", "curls", "-base", `{"length":"300 mm","thickness":"5 mm"}`, "-vary", "thickness=2 mm..20 mm in 50000", "-want", "turns", "-to", "csv")
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	var complaints bytes.Buffer
	c.Stderr = &complaints
	require.NoError(t, c.Start())
	require.NoError(t, out.Close())
	_ = c.Wait() // the code tells
	assert.Equal(t, broken, c.ProcessState.ExitCode())
	assert.Contains(t, complaints.String(), "broken pipe")
}

// No file is written over that is read, nor by two things.
func TestOutputOverInput(t *testing.T) {
	folder := t.TempDir()
	study, link := filepath.Join(folder, "study.json"), filepath.Join(folder, "link.svg")
	data, err := os.ReadFile("tolerances.json")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(study, data, 0o600))
	require.NoError(t, os.Symlink(study, link))
	picture := filepath.Join(folder, "p.svg")
	for _, args := range [][]string{{"-file", study}, {"-plot", link}, {"-plot", picture, "-plot", picture}, {"-file", picture, "-plot", picture}} {
		code, _, errs := call(append([]string{"spread", "-study", study}, args...)...)
		assert.Equal(t, misused, code, "%q", args)
		assert.Contains(t, errs, "name another", "%q", args)
	}
	left, err := os.ReadFile(study)
	require.NoError(t, err)
	assert.Equal(t, data, left)
	for _, args := range [][]string{{"spread", "-study", folder}, {"vary", "-scenario", folder, "-vary", "shift.tap=6 °C, 7 °C"}, {"vary", "-id", "curls", "-base", folder}, {"spread", "-study", study, "-file", folder}} {
		code, _, errs := call(args...)
		assert.Equal(t, broken, code, "%q", args)
		assert.Contains(t, errs, "is a folder: want the name of a file", "%q", args)
	}
}

// What was typed comes out as signs, not as orders to a terminal.
func TestNothingForTheTerminalToObey(t *testing.T) {
	hostile := "\x1b]0;x\a\u202e\u009b31m\r"
	file := filepath.Join(t.TempDir(), "out")
	for _, args := range [][]string{{hostile}, {"vary", hostile}, with("vary", "-vary", hostile), with("compare", "-want", "water_temp", "-case", hostile+": shift.tap=7 °C"), with("compare", "-want", "water_temp", "-to", "json", "-case", hostile+": shift.tap=7 °C"), with("compare", "-want", "water_temp", "-file", file, "-case", hostile+": shift.tap=7 °C")} {
		c := process.Command(t, args...)
		said, _ := c.CombinedOutput() // most are refused
		if written, err := os.ReadFile(file); err == nil {
			said = append(said, written...)
		}
		assert.NotEmpty(t, said, "%q", args)
		for _, sign := range []string{"\x1b", "\a", "\u202e", "\u009b", "\r"} {
			assert.False(t, strings.Contains(string(said), sign), "%q", args)
		}
	}
}
