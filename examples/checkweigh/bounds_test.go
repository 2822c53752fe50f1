package main

import (
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

// A line has an end: one that is too long is a bad row, one without an end is no table.
func TestEndlessLines(t *testing.T) {
	long := strings.Repeat("8", mostLine)
	got := checkweigh("weight (g)\n85\n"+long+"5\n85\n", "-bad-rows", "skip", "-")
	assert.Equal(t, exitOK, got.code)
	assert.Equal(t, "checkweigh: line 3 has more than 65536 bytes\n", got.err)
	assert.Contains(t, got.out, "2 weighings, 1 rows skipped")
	got = checkweigh("weight (g)\n85\n"+long+"5\n85\n", "-")
	assert.Equal(t, exitData, got.code)

	for _, head := range []string{"", "weight (g)\n"} {
		e := &endless{sign: 'x'}
		got := checkweighFrom(head, e, "-bad-rows", "skip", "-")
		assert.Equal(t, exitFile, got.code)
		assert.Contains(t, got.err, "has no end within 1048576 bytes: that is no table")
		assert.Less(t, e.taken, 2<<20)
	}
}

// No file is written over that is read, by whatever name.
func TestOutputOverInput(t *testing.T) {
	dir := t.TempDir()
	table := filepath.Join(dir, "w.csv")
	require.NoError(t, os.WriteFile(table, []byte(steady(120)), 0o600))
	link, hard := filepath.Join(dir, "link.csv"), filepath.Join(dir, "hard.csv")
	require.NoError(t, os.Symlink(table, link))
	require.NoError(t, os.Link(table, hard))
	for _, args := range [][]string{
		{"-state", table, table},
		{"-svg", table, table},
		{"-png", link, table},
		{"-state", hard, table},
		{"-svg", table, link},
		{"-svg", filepath.Join(dir, "new"), "-png", filepath.Join(dir, ".", "new"), table},
		{"-state", filepath.Join(dir, "new"), "-png", filepath.Join(dir, "new"), table},
	} {
		got := checkweigh("", args...)
		assert.Equal(t, exitUsage, got.code, "%q", args)
		assert.Contains(t, got.err, "name another", "%q", args)
	}
	in, err := os.Open(table)
	require.NoError(t, err)
	defer in.Close()
	got := checkweighFrom("", in, "-svg", link, "-")
	assert.Equal(t, exitUsage, got.code, "the table comes by way of standard input")
	data, err := os.ReadFile(table)
	require.NoError(t, err)
	assert.Equal(t, steady(120), string(data))
}

func TestFolders(t *testing.T) {
	dir := t.TempDir()
	for _, args := range [][]string{
		{dir}, {"-state", dir, "-"}, {"-svg", dir, "-"}, {"-trials", dir, "-target", "85 g", "-mark-low", "0", "-mark-high", "40", "-"},
	} {
		got := checkweigh(steady(120), args...)
		assert.Equal(t, exitFile, got.code, "%q", args)
		assert.Contains(t, got.err, "is a folder: want the name of a file", "%q", args)
	}
}

func TestBadTrialsAreBounded(t *testing.T) {
	trials := file(t, "trials.csv", "mark,weight (g),pieces\n"+strings.Repeat("x,y,z\n", 10_000))
	got := checkweigh(steady(3), "-trials", trials, "-target", "85 g", "-mark-low", "0", "-mark-high", "40", "-")
	assert.Equal(t, exitData, got.code)
	assert.Equal(t, 101, strings.Count(got.err, "\n"))
}
