// Package process runs a program's own test binary as the program, in a process that can be killed, cut off from its
// output, or kept from writing.
package process

import (
	"os"
	"os/exec"
	"strconv"
	"testing"
)

// asProgram says in the environment that a test binary is to be the program; mostWritten, how large a
// file it may make, in bytes.
const (
	asProgram   = "DOUGH_TEST_PROGRAM"
	mostWritten = "DOUGH_TEST_MOST_WRITTEN"
)

// Main is for TestMain: it runs the tests, or is the program if Command asks for that.
func Main(m *testing.M, program func()) {
	if os.Getenv(asProgram) == "" {
		os.Exit(m.Run())
	}
	if n, err := strconv.Atoi(os.Getenv(mostWritten)); err == nil {
		limitFiles(n)
	}
	program()
	os.Exit(0)
}

// Command is the program with its arguments, in a process of its own.
func Command(t testing.TB, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.CommandContext(t.Context(), self, args...)
	c.Env = append(os.Environ(), asProgram+"=yes")
	return c
}

// FullDisk lets no file of the program grow beyond so many bytes, as on a disk that is full. It skips the test where
// the system knows no such limit.
func FullDisk(t testing.TB, c *exec.Cmd, bytes int) {
	t.Helper()
	if !filesCanBeLimited {
		t.Skip("no limit of file sizes on this system")
	}
	c.Env = append(c.Env, mostWritten+"="+strconv.Itoa(bytes))
}
