package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
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
	assert.Contains(t, out, "mark 12: between-marks (mean 87.00 g, target 85.00 g)\n        Leave the handle alone: the mean is off, but no mark that the handle can be set to brings it nearer, so this is as near as the handle comes.")
}

// A handle whose scale ends too early is told so.
func TestOffTheScale(t *testing.T) {
	out := adviseOn(t, trialsFile(t), subgroup("1", "12", "95", "95", "95", "95", "95")+subgroup("2", "12", "95", "95", "95", "95", "95"), "-move-limit", "0.6 g", "-mark-low", "11")
	assert.Contains(t, out, "mark 12: off-scale to 10 (mean 95.00 g, target 85.00 g)")
	assert.Contains(t, out, "The handle does not reach so far")
}

// A double is not the mark: nothing is said of the handle until both lanes have
// a fresh subgroup, and then the double does not count.
func TestDoubleIsNotTheMark(t *testing.T) {
	whole := []string{"84.5", "85.2", "84.9", "85.4", "85.1"}
	for finding, spoilt := range map[string][]string{
		"double, piece 3":  {"84.5", "85.2", "170.3", "85.4", "85.1"},
		"torn, piece 2":    {"84.5", "41.2", "84.9", "85.4", "85.1"},
		"outlier, piece 5": {"84.5", "85.2", "84.9", "85.4", "91"},
		"spread":           {"82.9", "87.2", "82.8", "87.1", "85"},
	} {
		out := adviseOn(t, trialsFile(t), subgroup("1", "12", spoilt...)+subgroup("2", "12", whole...))
		assert.Contains(t, out, "lane 1: "+finding)
		assert.Contains(t, out, "weigh a fresh subgroup")
		assert.NotContains(t, out, "mark 12:", "one lane alone says nothing of the handle")
		out = adviseOn(t, trialsFile(t), subgroup("1", "12", spoilt...)+subgroup("2", "12", whole...)+subgroup("1", "12", whole...))
		assert.Contains(t, out, "mark 12: stay (mean 85.02 g)")
		assert.NotContains(t, out, "move to")
		assert.NotContains(t, out, "before you move the handle")
	}
}

// No two lines of an answer contradict each other: a signal that a move of the
// mark answers is not to be explained first, and one that it does not answer is.
func TestSignalAndAdviceAgree(t *testing.T) {
	const cause = "look for the cause before you move the handle"
	demo := checkweigh("", "-demo")
	assert.Contains(t, demo.out, "move to")
	assert.NotContains(t, demo.out, cause)
	shifted := []string{"88.1", "87.8", "88.4", "88", "88.2"}
	out := adviseOn(t, trialsFile(t), subgroup("1", "12", shifted...)+subgroup("2", "12", shifted...))
	assert.Contains(t, out, "SIGNAL beyond-limit")
	assert.Contains(t, out, "move to")
	assert.NotContains(t, out, cause)
	out = adviseOn(t, trialsFile(t), subgroup("1", "12", shifted...)+subgroup("2", "12", shifted...), "-mark-step", "2")
	assert.Contains(t, out, "between-marks")
	assert.Contains(t, out, cause)
}

// The program moves for the means for which the library moves, and for no other.
func TestAdviceKeepsToTheBand(t *testing.T) {
	for tenths := 800; tenths <= 900; tenths += 2 {
		mean := float64(tenths) / 10
		pieces := []string{fmt.Sprint(mean - 0.5), fmt.Sprint(mean + 0.5), fmt.Sprint(mean), fmt.Sprint(mean - 0.2), fmt.Sprint(mean + 0.2)}
		out := adviseOn(t, trialsFile(t), subgroup("1", "12", pieces...)+subgroup("2", "12", pieces...), "-mark-step", "0.1")
		fit, err := divider.MarkFit{Trials: []divider.Trial{
			{Mark: 11, Weight: 80.1, Pieces: 10}, {Mark: 11, Weight: 79.8, Pieces: 10}, {Mark: 12, Weight: 85.2, Pieces: 10},
			{Mark: 12, Weight: 84.9, Pieces: 10}, {Mark: 13, Weight: 90.1, Pieces: 10}, {Mark: 13, Weight: 89.8, Pieces: 10},
		}, Confidence: confidence, Shape: divider.Straight, Weighting: divider.ByPieces}.Solve()
		require.NoError(t, err)
		next, err := divider.NextMark{
			Calibration: fit.Calibration, Mark: 12, Weight: unit.Mass(mean), Pieces: 10, Target: 85, MarkStep: 0.1, MarkLow: 0, MarkHigh: 40,
			SD: unit.Mass(2 / 2.326), Needless: divider.NeedlessMoves, // the mean range of the set-up over d2
		}.Solve()
		require.NoError(t, err)
		inside := unit.Mass(mean) >= next.LeaveLow && unit.Mass(mean) <= next.LeaveHigh
		assert.Equal(t, inside, !strings.Contains(out, "move to"), "%g of %v to %v:\n%s", mean, next.LeaveLow, next.LeaveHigh, out)
	}
}

// After a move for today's dough the mark gives what the move was made for, not what the trials gave.
func TestAdviceRemembersTodaysDough(t *testing.T) {
	light := []string{"81.6", "82.4", "82", "81.8", "82.2"}
	moved := []string{"84.6", "85.4", "85", "84.8", "85.2"}
	rows := subgroup("1", "12", light...) + subgroup("2", "12", light...)
	out := adviseOn(t, trialsFile(t), rows, "-mark-step", "0.1")
	require.Contains(t, out, "move to 12.6")
	rows += strings.Repeat(subgroup("1", "12.6", moved...)+subgroup("2", "12.6", moved...), 3)
	out = adviseOn(t, trialsFile(t), rows, "-mark-step", "0.1")
	assert.Equal(t, 3, strings.Count(out, "mark 12.6: stay"), out)
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
