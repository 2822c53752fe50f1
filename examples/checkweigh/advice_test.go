package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// subgroup is the rows of one subgroup of a lane at a mark.
func subgroup(lane, mark string, weights ...string) string {
	start := lane + "," + mark + ","
	return start + strings.Join(weights, "\n"+start) + "\n"
}

// adviseOn runs two lanes with a target of 85 g, each set up
// on two subgroups about 85 g, and returns what is said of the rows after that.
func adviseOn(t *testing.T, trials, rows string, args ...string) string {
	t.Helper()
	around := []string{"84", "84.5", "85", "85.5", "86"}
	table := "lane,mark,weight (g)\n" + strings.Repeat(subgroup("1", "12", around...)+subgroup("2", "12", around...), 2)
	args = append([]string{"-setup", "2", "-trials", trials, "-target", "85 g", "-mark-low", "0", "-mark-high", "40"}, args...)
	got := checkweigh(table+rows, append(args, "-")...)
	require.Equal(t, exitOK, got.code, got.err)
	return got.out
}

// One handle serves all lanes: the advice rests on the mean of all.
func TestAdviceRestsOnTheMeanOfTheLanes(t *testing.T) {
	out := adviseOn(t, trialsFile(t), subgroup("1", "12", "88", "88", "88", "88", "88")+subgroup("2", "12", "84", "84", "84", "84", "84"), "-move-limit", "0.6 g")
	assert.Contains(t, out, "mark 12: move to 11.8 (mean 86.00 g, target 85.00 g)")
}

// The pieces of both lanes make the noise smaller: five of them would not
// tell this mean from the target, ten do.
func TestAdviceCountsThePiecesOfAllLanes(t *testing.T) {
	out := adviseOn(t, trialsFile(t), subgroup("1", "12", "85.7", "85.7", "85.7", "85.7", "85.7")+subgroup("2", "12", "85.7", "85.7", "85.7", "85.7", "85.7"), "-move-limit", "0.3 g")
	assert.Contains(t, out, "mark 12: move to 11.")
}

// A lane's subgroup of the mark before is no ground for advice on this one.
func TestAdviceForgetsTheMarkBefore(t *testing.T) {
	at13 := []string{"90", "90", "90", "90", "90"}
	rows := subgroup("1", "12", "84", "84", "84", "84", "84") + subgroup("2", "13", at13...)
	out := adviseOn(t, trialsFile(t), rows, "-move-limit", "0.6 g")
	assert.NotContains(t, out, "mark 13:", "lane 1 has no subgroup at mark 13 yet")
	out = adviseOn(t, trialsFile(t), rows+subgroup("1", "13", at13...), "-move-limit", "0.6 g")
	assert.Contains(t, out, "mark 13: move to 12 (mean 90.00 g, target 85.00 g)")
}

// A trial of a hundred pieces counts for more than one of a single piece.
func TestTrialsCountByPieces(t *testing.T) {
	trials := file(t, "t.csv", "mark,weight (g),pieces\n11,80,100\n12,85,100\n13,90.1,100\n13,91.5,1\n11,80.1,100\n12,85.1,100\n")
	away := subgroup("1", "12", "95", "95", "95", "95", "95") + subgroup("2", "12", "95", "95", "95", "95", "95")
	assert.Contains(t, adviseOn(t, trials, away, "-move-limit", "0.6 g"), "mark 12: move to 10.0")
}

// Trials that show no slope leave the charts as they are, and say so once.
func TestNoAdviceIsSaidOnce(t *testing.T) {
	flat := file(t, "flat.csv", "mark,weight (g),pieces\n11,85.5,10\n11,84.6,10\n12,85.2,10\n12,84.9,10\n13,85.9,10\n13,84.5,10\n")
	around := []string{"84", "84.5", "85", "85.5", "86"}
	rows := strings.Repeat(subgroup("1", "12", around...)+subgroup("2", "12", around...), 3)
	out := adviseOn(t, flat, rows, "-move-limit", "0.6 g")
	assert.Equal(t, 1, strings.Count(out, "mark 12: no advice can be given\n        the slope is not significant: weigh more pieces"), out)
	assert.Equal(t, 1, strings.Count(out, "no advice"))
	assert.Contains(t, out, "lane 2  point 5")
}

// Where the handle can only be set in coarse steps, none of them may come nearer.
func TestBetweenMarks(t *testing.T) {
	out := adviseOn(t, trialsFile(t), subgroup("1", "12", "87", "87", "87", "87", "87")+subgroup("2", "12", "87", "87", "87", "87", "87"), "-move-limit", "0.6 g", "-mark-step", "1")
	assert.Contains(t, out, "mark 12: between-marks (mean 87.00 g, target 85.00 g)\n        The mean is off, and no mark that the handle can be set to brings it nearer")
}

// A handle whose scale ends too early is told so.
func TestOffTheScale(t *testing.T) {
	out := adviseOn(t, trialsFile(t), subgroup("1", "12", "95", "95", "95", "95", "95")+subgroup("2", "12", "95", "95", "95", "95", "95"), "-move-limit", "0.6 g", "-mark-low", "11")
	assert.Contains(t, out, "mark 12: off-scale to 10 (mean 95.00 g, target 85.00 g)")
	assert.Contains(t, out, "The handle does not reach so far")
}

// Advice on the mark needs to know the mark, in both tables.
func TestMarkColumnIsMissing(t *testing.T) {
	args := []string{"-target", "85 g", "-move-limit", "0.6 g", "-mark-low", "0", "-mark-high", "40"}
	got := checkweigh(steady(5), append(args, "-trials", trialsFile(t), "-")...)
	assert.Equal(t, exitData, got.code)
	assert.Contains(t, got.err, "no column mark: -trials says where to set the mark")
	assert.Empty(t, got.out)
	got = checkweigh(steady(5), append(args, "-trials", file(t, "t.csv", "weight (g)\n80\n"), "-")...)
	assert.Equal(t, exitData, got.code)
	assert.Contains(t, got.err, "trials: line 1: no column mark: want mark, weight (g) and pieces\ncheckweigh: line 1: no column pieces")
}
