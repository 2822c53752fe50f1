package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// table writes rows under a header, the weights about what the mark gives.
type table struct {
	strings.Builder
	rows int
}

// weighed adds n weighings of each lane at a mark.
func (b *table) weighed(mark float64, n int, lanes ...int) *table {
	if b.rows == 0 {
		b.WriteString("lane,mark,weight (g)\n")
	}
	for range n {
		for _, lane := range lanes {
			b.rows++
			fmt.Fprintf(b, "%d,%g,%.2f\n", lane, mark, 85+5*(mark-12)+0.5*float64(b.rows%3-1)+0.1*float64(b.rows%7-3)+0.05*float64(b.rows%11-5))
		}
	}
	return b
}

// trialsFile writes trials of 5 g for a mark, with a little scatter.
func trialsFile(t *testing.T) string {
	t.Helper()
	return file(t, "trials.csv", "mark,weight (g),pieces\n11,80.1,10\n11,79.8,10\n12,85.2,10\n12,84.9,10\n13,90.1,10\n13,89.8,10\n")
}

func file(t *testing.T, name, text string) string {
	t.Helper()
	name = filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	return name
}

// passing are the lines that a run prints about itself.
var passing = regexp.MustCompile(`(?m)^(\d+ weighings.*|lane \d+: \d+ of \d+ weighings .*|trials: .*)\n`)

// However a table is cut into shifts, with the state kept between them, what is
// said of it is the same as in one run.
func TestShiftsSayWhatOneRunSays(t *testing.T) {
	mark := []string{"-trials", trialsFile(t), "-target", "85 g", "-move-limit", "0.6 g", "-mark-low", "0", "-mark-high", "40", "-mark-step", "0.1"}
	long := new(table)
	long.weighed(12, 60, 1, 2).weighed(12.4, 23, 1, 2).weighed(12.4, 9, 2).weighed(12, 12, 1, 2)
	for _, tt := range []struct {
		id    string
		table string
		cuts  []int // rows before each
		args  []string
	}{
		{"in-a-subgroup", steady(130), []int{117}, nil},
		{"in-the-set-up", steady(120), []int{60}, nil},
		{"three-shifts-to-set-up", steady(130), []int{30, 60, 63}, nil},
		{"at-the-end-of-the-set-up", steady(120), []int{100}, nil},
		{"move-between-in-a-subgroup", new(table).weighed(12, 103, 1).weighed(13, 12, 1).String(), []int{103}, nil},
		{"move-between-in-the-set-up", new(table).weighed(12, 60, 1).weighed(13, 120, 1).String(), []int{60}, nil},
		{"mark-zero", new(table).weighed(0, 103, 1).weighed(13, 12, 1).String(), []int{103}, nil},
		{"advice", long.String(), []int{7, 81, 83, 125, 146, 168, 177, 180}, append(mark, "-setup", "6")},
		{"individuals", steady(60), []int{7, 33}, []string{"-chart", "individuals", "-subgroup-size", "1"}},
	} {
		t.Run(tt.id, func(t *testing.T) {
			whole := checkweigh(tt.table, append(tt.args, "-")...)
			require.Equal(t, exitOK, whole.code, whole.err)
			rows := strings.SplitAfter(tt.table, "\n")
			args := append(tt.args, "-state", filepath.Join(t.TempDir(), "state.json"), "-")
			shifts, from := "", 0
			for _, to := range append(tt.cuts, len(rows)-1) {
				got := checkweigh(rows[0]+strings.Join(rows[1+from:min(1+to, len(rows))], ""), args...)
				require.Equal(t, exitOK, got.code, got.err)
				shifts, from = shifts+got.out, to
			}
			assert.Equal(t, passing.ReplaceAllString(whole.out, ""), passing.ReplaceAllString(shifts, ""))
			assert.Contains(t, shifts, "set up on")
		})
	}
}

// A subgroup is of one mark, also where the move fell between two runs.
func TestMoveBetweenRuns(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state.json")
	first := checkweigh(new(table).weighed(12, 103, 1).String(), "-state", state, "-")
	require.Equal(t, exitOK, first.code, first.err)
	second := checkweigh("mark,weight (g)\n13,90\n13,91\n13,92\n13,93\n13,94\n", "-state", state, "-")
	assert.Equal(t, exitOK, second.code, second.err)
	assert.Contains(t, second.out, "mark moved from 12 to 13\nlane 1: 3 weighings before the move belong to no subgroup and are left out\nlane 1  point 21  92.00 g")
}

// Two shifts of 60 make the set-up of 100 that one of them does not.
func TestSetUpOverTwoShifts(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state.json")
	first := checkweigh(steady(60), "-state", state, "-")
	assert.Equal(t, exitOK, first.code, first.err)
	assert.Contains(t, first.out, "lane 1: 60 of 100 weighings to set up its chart; "+state+" keeps them")
	second := checkweigh(steady(60), "-state", state, "-")
	assert.Equal(t, exitOK, second.code, second.err)
	assert.Contains(t, second.out, "lane 1  set up on 20 subgroups of 5")
	assert.Contains(t, second.out, "lane 1  point 24")
}

// A set-up that goes on can be made shorter, down to what was gathered.
func TestSetUpMadeShorter(t *testing.T) {
	kept := filepath.Join(t.TempDir(), "state.json")
	require.Equal(t, exitOK, checkweigh(steady(60), "-state", kept, "-").code)
	text, err := os.ReadFile(kept)
	require.NoError(t, err)
	got := checkweigh(steady(5), "-state", file(t, "s.json", string(text)), "-setup", "11", "-")
	assert.Equal(t, exitData, got.code)
	assert.Contains(t, got.err, "holds 60 weighings of lane 1 to set up its chart, more than -setup 11 takes: call with -setup 12 or more")
	got = checkweigh(steady(5), "-state", file(t, "s.json", string(text)), "-setup", "12", "-")
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.out, "lane 1  set up on 12 subgroups of 5")
	assert.Contains(t, got.out, "lane 1  point 13")
}

// What was kept is not bent to another call, nor is anything else taken for it.
func TestStateIsRefused(t *testing.T) {
	chart := `"chart":{"kind":"averages-ranges","subgroup_size":5,"limit_width":3,"rules":"zone-tests"}`
	withMark := new(table).weighed(12, 3, 1).String()
	for _, tt := range []struct{ id, state, table, want string }{
		{"other-size", strings.Replace(`{`+chart+`,"lanes":[]}`, `"subgroup_size":5`, `"subgroup_size":4`, 1), steady(5), "was kept with -chart averages-ranges -subgroup-size 4 -limit-width 3 -rules zone-tests, this call asks for -chart averages-ranges -subgroup-size 5"},
		{"other-form", `{"1":{"setup":{}}}`, steady(5), "holds no charts to go on with"},
		{"no-text", "", steady(5), "holds no charts"},
		{"a-chart-that-is-none", `{` + chart + `,"lanes":[{"lane":1,"watch":{"setup":{}}}]}`, steady(5), "setup.kind"},
		{"lane-twice", `{` + chart + `,"lanes":[{"lane":1},{"lane":1}]}`, steady(5), "lane 1: want each lane once"},
		{"lane-0", `{` + chart + `,"lanes":[{"lane":0}]}`, steady(5), "lane 0: want a whole number from 1 to 1000"},
		{"no-weight", `{` + chart + `,"lanes":[{"lane":1,"set_up":["-3 g"]}]}`, steady(5), "set_up holds -3 g: want 1 mg to 100 kg"},
		{"mark-unknown-now", `{` + chart + `,"mark":12,"lanes":[{"lane":1,"set_up":["85 g"]}]}`, steady(5), "was kept at mark 12, but the table has no column mark"},
		{"mark-unknown-before", `{` + chart + `,"lanes":[{"lane":1,"set_up":["85 g"]}]}`, withMark, "was kept from a table without marks"},
	} {
		t.Run(tt.id, func(t *testing.T) {
			name := file(t, "state.json", tt.state)
			got := checkweigh(tt.table, "-state", name, "-")
			assert.Equal(t, exitData, got.code)
			assert.Contains(t, got.err, "state.json")
			assert.Contains(t, got.err, tt.want)
			assert.Contains(t, got.err, "name another -state file to set up anew")
			left, err := os.ReadFile(name)
			require.NoError(t, err)
			assert.Equal(t, tt.state, string(left), "what is refused is left as it was")
		})
	}
}

// A bad row ends the reading, but what came before it is kept and drawn.
func TestBadRowKeepsWhatCameBefore(t *testing.T) {
	dir := t.TempDir()
	state, svg := filepath.Join(dir, "state.json"), filepath.Join(dir, "chart.svg")
	rows := strings.SplitAfter(steady(130), "\n")
	got := checkweigh(strings.Join(rows[:123], "")+"heavy\n", "-state", state, "-svg", svg, "-")
	assert.Equal(t, exitData, got.code)
	assert.Contains(t, got.err, `line 124, column weight: "heavy"`)
	assert.Contains(t, got.err, "state.json keeps what was read before it: go on with a table that begins at line 124, under the header")
	assert.Contains(t, got.out, "122 weighings\nlane 1: 2 of 5 weighings of the next subgroup")
	assert.FileExists(t, svg)
	next := checkweigh(rows[0]+strings.Join(rows[123:], ""), "-state", state, "-")
	assert.Equal(t, exitOK, next.code, next.err)
	whole := checkweigh(strings.Join(rows, ""), "-")
	assert.Equal(t, passing.ReplaceAllString(whole.out, ""), passing.ReplaceAllString(got.out+next.out, ""))
}

// A set-up without scatter makes no chart; the next run does not stumble over it again.
func TestUselessSetUpIsNotKept(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state.json")
	got := checkweigh("weight (g)\n"+strings.Repeat("85\n", 100), "-state", state, "-")
	assert.Equal(t, exitData, got.code)
	assert.Contains(t, got.err, "line 101: lane 1 has no chart, and the 100 weighings for it are left out")
	assert.Contains(t, got.err, "go on with a table that begins at line 102")
	got = checkweigh(steady(100), "-state", state, "-")
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.out, "set up on 20")
}
