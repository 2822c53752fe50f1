//go:build unix

package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/examples/internal/process"
)

func TestMain(m *testing.M) { process.Main(m, main) }

// individuals make every weighing a subgroup, so that there is much to lose.
var individuals = []string{"-chart", "individuals", "-subgroup-size", "1"}

// started is the program as it runs, with its input and output at hand.
type started struct {
	feed  io.WriteCloser
	out   *bufio.Reader
	heard strings.Builder // of it, so far
	err   bytes.Buffer
	stop  func(os.Signal)
	wait  func() int
}

func start(t *testing.T, args ...string) *started {
	t.Helper()
	c := process.Command(t, append(append([]string{}, individuals...), args...)...)
	s := new(started)
	c.Stderr = &s.err
	var err error
	s.feed, err = c.StdinPipe()
	require.NoError(t, err)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	s.out = bufio.NewReader(out)
	require.NoError(t, c.Start())
	s.stop = func(with os.Signal) { require.NoError(t, c.Process.Signal(with)) }
	s.wait = func() int {
		_ = c.Wait() // the code tells
		return c.ProcessState.ExitCode()
	}
	return s
}

// until reads what is printed up to a word.
func (s *started) until(t *testing.T, word string) {
	t.Helper()
	for {
		text, err := s.out.ReadString('\n')
		s.heard.WriteString(text)
		require.NoError(t, err, "%s; %s", word, &s.err)
		if strings.Contains(text, word) {
			return
		}
	}
}

// weighingsIn is how many weighings of the last run a state holds; 0 if there is none.
func weighingsIn(t *testing.T, state string) int {
	t.Helper()
	data, err := os.ReadFile(state)
	if os.IsNotExist(err) {
		return 0
	}
	require.NoError(t, err)
	var s saved
	require.NoError(t, json.Unmarshal(data, &s), "the state is whole")
	return s.Weighings
}

// after is what a state looks like after so many weighings that were read in one go.
func after(t *testing.T, n int) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "state.json")
	got := checkweigh(steady(n), append(append([]string{}, individuals...), "-state", name, "-")...)
	require.Equal(t, exitOK, got.code, got.err)
	return read(t, name)
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

// alone checks that nothing lies about a state.
func alone(t *testing.T, state string) {
	t.Helper()
	there, err := filepath.Glob(filepath.Join(filepath.Dir(state), "*"))
	require.NoError(t, err)
	assert.Equal(t, []string{state}, there)
}

// Interrupted, hung up or ended while it waits, it has kept every weighing, and says so.
func TestSignalsLoseNothing(t *testing.T) {
	for _, with := range []syscall.Signal{syscall.SIGINT, syscall.SIGHUP, syscall.SIGTERM} {
		t.Run(with.String(), func(t *testing.T) {
			if signal.Ignored(with) {
				t.Skip("these tests were started so that the signal is ignored, as with nohup: so does the program then")
			}
			t.Parallel()
			state := filepath.Join(t.TempDir(), "state.json")
			s := start(t, "-state", state, "-")
			_, err := io.WriteString(s.feed, steady(27)+"85.")
			require.NoError(t, err)
			s.until(t, "point 27")
			s.stop(with)
			assert.Equal(t, exitInterrupted, s.wait())
			assert.Equal(t, "checkweigh: interrupted after line 28\ncheckweigh: "+state+" keeps what was read before it: go on with a table that begins at line 29, under the header\n", s.err.String())
			assert.Equal(t, after(t, 27), read(t, state))
			alone(t, state)
		})
	}
}

// Killed at any moment, it leaves a state that some table up to there would have left, and never one ahead of what was said.
func TestKilledAtAnyMoment(t *testing.T) {
	const rows = 400
	table := strings.SplitAfter(steady(rows), "\n")
	now := uint64(time.Now().UnixNano())
	dice := rand.New(rand.NewPCG(1, now))
	for i := range 12 {
		state := filepath.Join(t.TempDir(), "state.json")
		s := start(t, "-state", state, "-")
		waits := time.Duration(dice.IntN(200)) * time.Microsecond
		go func() { // as they come, some one by one and some in a heap
			defer s.feed.Close()
			dice := rand.New(rand.NewPCG(uint64(2+i), now)) // its own: two goroutines share none
			for n := 0; n < len(table); {
				next := min(len(table), n+1+dice.IntN(1+30*(i%2)))
				if _, err := io.WriteString(s.feed, strings.Join(table[n:next], "")); err != nil {
					return
				}
				n = next
				time.Sleep(waits)
			}
		}()
		s.until(t, fmt.Sprintf("point %d ", 21+dice.IntN(300)))
		s.stop(os.Kill)
		_, err := io.Copy(&s.heard, s.out)
		require.NoError(t, err)
		s.wait()
		n := weighingsIn(t, state)
		if n == 0 {
			continue
		}
		require.Equal(t, after(t, n), read(t, state))
		if n > 20 {
			assert.Contains(t, s.heard.String(), fmt.Sprintf("point %d ", n), "what is kept was said")
		}
		// Whoever goes on after them stands where one run would.
		rest := "weight (g)\n" + strings.Join(table[1+n:], "")
		got := checkweigh(rest, append(append([]string{}, individuals...), "-state", state, "-")...)
		require.Equal(t, exitOK, got.code, got.err)
		if n < rows {
			assert.Contains(t, got.out, fmt.Sprintf("%d weighings of the run before are in %s", n, state))
			assert.Contains(t, got.out, fmt.Sprintf("point %d ", rows))
		}
		alone(t, state)
	}
}

// What is printed is printed to nobody: it ends with its code, and the state holds what was said.
func TestClosedOutput(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state.json")
	c := process.Command(t, append(append([]string{}, individuals...), "-state", state, "-")...)
	reader, writer, err := os.Pipe()
	require.NoError(t, err)
	c.Stdout = writer
	var complaints bytes.Buffer
	c.Stderr = &complaints
	feed, err := c.StdinPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	require.NoError(t, writer.Close())
	_, err = io.WriteString(feed, steady(24))
	require.NoError(t, err)
	(&started{out: bufio.NewReader(reader)}).until(t, "point 24")
	require.Eventually(t, func() bool { return weighingsIn(t, state) == 24 }, 2*time.Second, time.Millisecond)
	require.NoError(t, reader.Close())
	_, err = io.WriteString(feed, "85.1\n85.2\n")
	require.NoError(t, err)
	_ = c.Wait() // the code tells
	assert.Equal(t, exitFile, c.ProcessState.ExitCode())
	assert.Contains(t, complaints.String(), "what is printed: write /dev/stdout: broken pipe")
	assert.Contains(t, complaints.String(), "go on with a table that begins at line 26, under the header")
	assert.Equal(t, after(t, 24), read(t, state))
	alone(t, state)
}

// A full disk: the state stays what it was, and it ends with its code.
func TestFullDisk(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state.json")
	require.NoError(t, os.WriteFile(state, []byte(after(t, 25)), 0o600))
	before := read(t, state)
	full := process.Command(t, append(append([]string{}, individuals...), "-state", state, "-")...)
	process.FullDisk(t, full, 100)
	full.Stdin = strings.NewReader(steady(5))
	said, err := full.CombinedOutput()
	require.Error(t, err)
	assert.Equal(t, exitFile, full.ProcessState.ExitCode(), "%s", said)
	assert.Contains(t, string(said), "file too large")
	assert.Contains(t, string(said), "begins at line 2, under the header")
	assert.Equal(t, before, read(t, state))
	alone(t, state)

	device, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no device here that is always full")
	}
	defer device.Close()
	full = process.Command(t, append(append([]string{}, individuals...), "-state", state, "-")...)
	full.Stdin, full.Stdout = strings.NewReader(steady(5)), device
	assert.Error(t, full.Run())
	assert.Equal(t, exitFile, full.ProcessState.ExitCode())
	assert.Equal(t, before, read(t, state))
}

// Of four at once on one state one has it, and the others are told so.
func TestFourAtOnce(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state.json")
	link := filepath.Join(t.TempDir(), "link.json")
	require.NoError(t, os.WriteFile(state, []byte(after(t, 21)), 0o600))
	require.NoError(t, os.Symlink(state, link))
	first := start(t, "-state", state, "-")
	_, err := io.WriteString(first.feed, "weight (g)\n85.1\n")
	require.NoError(t, err)
	first.until(t, "point 22")
	var all sync.WaitGroup
	for i := range 3 {
		all.Go(func() {
			name := []string{state, link}[i%2]
			c := process.Command(t, append(append([]string{}, individuals...), "-state", name, "-")...)
			c.Stdin = strings.NewReader(steady(9))
			said, _ := c.CombinedOutput() // the code tells
			assert.Equal(t, exitFile, c.ProcessState.ExitCode())
			assert.Equal(t, "checkweigh: "+name+" is in use by another program: end that one first, or name another file\n", string(said))
		})
	}
	all.Wait()
	require.NoError(t, first.feed.Close())
	assert.Equal(t, exitOK, first.wait(), first.err.String())
	assert.Equal(t, 1, weighingsIn(t, state))
	alone(t, state)
}
