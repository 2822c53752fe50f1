package main

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A quote without a partner spoils its own row and no other.
func TestStrayQuoteSpoilsOneRow(t *testing.T) {
	table := "lane,mark,weight (g)\n1,12,85\n1,\"12,85.1\n1,12,85.2\n1,12,8\"5.3\n\"1\",\"12\",\"85.4\"\n1,12,\"85.5\n1,12,85.6"
	got := checkweigh(table, "-bad-rows", "skip", "-")
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.out, "4 weighings, 3 rows skipped")
	want := "no quotes, or a pair of them about the whole cell"
	assert.Equal(t, `checkweigh: line 3, column mark: "\"12": want `+want+`
checkweigh: line 5, column weight: "8\"5.3": want `+want+`
checkweigh: line 7, column weight: "\"85.5": want `+want+"\n", got.err)
}

// A row with several bad cells names them all, in the order of the columns.
func TestAllBadCellsOfARow(t *testing.T) {
	for range 20 { // an order that changes from run to run shows
		got := checkweigh("mark,weight (g),lane\nhigh,heavy,0\n", "-bad-rows", "skip", "-")
		require.Equal(t, `checkweigh: line 2, column mark: "high": want a number from -1e+09 to 1e+09; column weight: "heavy": want a weight in g, from 1 mg to 100 kg; column lane: "0": want a whole number from 1 to 1000`+"\n", got.err)
	}
}

// A mark that the handle does not have is a bad row.
func TestMarkOffTheScale(t *testing.T) {
	args := []string{"-trials", trialsFile(t), "-target", "85 g", "-move-limit", "0.6 g", "-mark-low", "10", "-mark-high", "14"}
	got := checkweigh("mark,weight (g)\n12,85\n14.5,85\n14,85\n9,85\n", append(args, "-bad-rows", "skip", "-")...)
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.err, `line 3, column mark: "14.5": want a number from 10 to 14, the handle's scale as -mark-low and -mark-high give it`)
	assert.Contains(t, got.err, `line 5, column mark: "9"`)
	assert.Contains(t, got.out, "2 weighings, 2 rows skipped")
	got = checkweigh("mark,weight (g)\n12,85\n", append(args, "-mark-low", "11.5", "-")...)
	assert.Equal(t, exitData, got.code)
	assert.Contains(t, got.err, "checkweigh: trials: line 2, column mark: \"11\": want a number from 11.5 to 14")
	assert.Contains(t, got.err, "\ncheckweigh: line 3, column mark: \"11\"", "every bad row of the trials is named")
}

func TestBlankLinesAndLineEnds(t *testing.T) {
	got := checkweigh("\ufeffweight (g)\r\n85.1\r\n\r\n  \n85.2\r\nheavy\n85.3", "-bad-rows", "skip", "-")
	assert.Contains(t, got.out, "3 weighings, 1 rows skipped")
	assert.Contains(t, got.err, "line 6, column weight")
}

// A long cell does not fill the screen.
func TestLongCellIsClipped(t *testing.T) {
	got := checkweigh("weight (g)\n"+strings.Repeat("x", 100_000)+"\n85\n", "-bad-rows", "skip", "-")
	assert.Less(t, len(got.err), 200)
	assert.Contains(t, got.out, "1 weighings")
}

// breaking is a line that goes dead in the middle of a table.
type breaking struct{ text io.Reader }

func (b breaking) Read(into []byte) (int, error) {
	n, err := b.text.Read(into)
	if errors.Is(err, io.EOF) {
		err = errors.New("the cable is out")
	}
	return n, err
}

func TestBrokenInputKeepsWhatCameBefore(t *testing.T) {
	var out, complaint strings.Builder
	code := run(context.Background(), []string{"-"}, breaking{strings.NewReader(steady(103))}, &out, &complaint)
	assert.Equal(t, exitFile, code)
	assert.Equal(t, "checkweigh: after line 104: the cable is out\n", complaint.String())
	assert.Contains(t, out.String(), "103 weighings")
}
