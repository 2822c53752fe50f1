package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// said is what one call of the program said.
type said struct {
	code     int
	out, err string
}

func checkweigh(stdin string, args ...string) said { return checkweighFrom(stdin, nil, args...) }

// checkweighFrom reads a text and then a stream, or the stream alone.
func checkweighFrom(text string, then io.Reader, args ...string) said {
	var out, err bytes.Buffer
	var in io.Reader = strings.NewReader(text)
	switch {
	case then != nil && text == "":
		in = then
	case then != nil:
		in = io.MultiReader(in, then)
	}
	code := run(context.Background(), args, in, &out, &err)
	return said{code, out.String(), err.String()}
}

// steady is a table of n single weighings about 85 g.
func steady(n int) string {
	var b strings.Builder
	b.WriteString("weight (g)\n")
	for i := range n {
		fmt.Fprintf(&b, "%.1f\n", 85+0.5*float64(i%3-1)+0.1*float64(i%7-3))
	}
	return b.String()
}

func TestDemo(t *testing.T) {
	dir := t.TempDir()
	svgName, pngName := filepath.Join(dir, "chart.svg"), filepath.Join(dir, "chart.png")
	got := checkweigh("", "-demo", "-svg", svgName, "-png", pngName)
	assert.Equal(t, exitOK, got.code, got.err)
	for _, want := range []string{
		"lane 1  set up on 20 subgroups of 5",
		"lane 2  set up on 20 subgroups of 5",
		"SIGNAL beyond-limit",
		"mark 12: move to 12.3",
		"every change of the mark is followed by a weighing",
		"mark moved from 12 to 12.3",
		"mark 12.3: stay",
		"SIGNAL spread-beyond-limit",
		"460 weighings",
	} {
		assert.Contains(t, got.out, want)
	}
	assert.NotContains(t, got.out, "not steady")

	picture, err := os.Open(pngName)
	require.NoError(t, err)
	defer picture.Close()
	img, err := png.Decode(picture)
	require.NoError(t, err)
	assert.Greater(t, img.Bounds().Dx(), 1000)
	svg, err := os.ReadFile(svgName)
	require.NoError(t, err)
	for decoder := xml.NewDecoder(bytes.NewReader(svg)); ; {
		if _, err := decoder.Token(); errors.Is(err, io.EOF) {
			break
		} else {
			require.NoError(t, err)
		}
	}
	for _, want := range []string{"Lane 1", "Lane 2", "upper limit", "lower limit", "set-up", "in use", "mark 12 to 12.3", "level signals", "spread signals"} {
		assert.Contains(t, string(svg), want)
	}
}

func TestStandardInputAndFileAgree(t *testing.T) {
	table := steady(120)
	name := filepath.Join(t.TempDir(), "w.csv")
	require.NoError(t, os.WriteFile(name, []byte(table), 0o600))
	fromFile, fromStdin := checkweigh("", name), checkweigh(table, "-")
	assert.Equal(t, exitOK, fromFile.code, fromFile.err)
	assert.Equal(t, fromFile, fromStdin)
	assert.Contains(t, fromFile.out, "lane 1  point 24")
}

// What was weighed is said as it comes, not when all is over.
func TestPrintsAsTheyArrive(t *testing.T) {
	in, feed := io.Pipe()
	outReader, out := io.Pipe()
	done := make(chan int)
	go func() {
		done <- run(context.Background(), []string{"-chart", "individuals", "-subgroup-size", "1", "-setup", "20", "-"}, in, out, io.Discard)
		out.Close()
	}()
	_, err := io.WriteString(feed, steady(20))
	require.NoError(t, err)
	text := make([]byte, 200)
	n, err := outReader.Read(text)
	require.NoError(t, err)
	assert.Contains(t, string(text[:n]), "set up on 20 subgroups")
	go io.Copy(io.Discard, outReader) // only to let it end
	require.NoError(t, feed.Close())
	assert.Equal(t, exitOK, <-done)
}

func TestBadRows(t *testing.T) {
	good := strings.TrimSuffix(steady(100), "\n")
	for _, tt := range []struct{ id, row, want string }{
		{"no-number", "85,2 g", `line 102, column 2: "85,2 g": want 1 cells`},
		{"text", "heavy", `line 102, column weight: "heavy": want a weight in g`},
		{"zero", "0", `line 102, column weight: "0": want a weight in g, from 1 mg to 100 kg`},
		{"below-zero", "-3", `line 102, column weight: "-3"`},
		{"with-unit", "85 g", `line 102, column weight: "85 g"`},
		{"not-a-number", "NaN", `line 102, column weight: "NaN"`},
		{"infinite", "Inf", `line 102, column weight: "Inf"`},
		{"huge", "1e9", `line 102, column weight: "1e9"`},
		{"lighter-than-any", "0.0001", `line 102, column weight: "0.0001"`},
		{"quote-inside", `8"5`, `line 102, column weight: "8\"5": want no quotes, or a pair`},
		{"quote-before", `"85.1`, `line 102, column weight: "\"85.1": want no quotes, or a pair`},
		{"quote-behind", `85.1"`, `line 102, column weight: "85.1\"": want no quotes, or a pair`},
	} {
		t.Run(tt.id, func(t *testing.T) {
			table := good + "\n" + tt.row + "\n85.0\n85.1\n84.9\n85.2\n84.8\n"
			refused := checkweigh(table, "-")
			assert.Equal(t, exitData, refused.code)
			assert.Contains(t, refused.err, tt.want)
			assert.Contains(t, refused.err, "nothing after it was read")
			kept := checkweigh(table, "-bad-rows", "skip", "-")
			assert.Equal(t, exitOK, kept.code)
			assert.Contains(t, kept.err, tt.want)
			assert.Contains(t, kept.out, "105 weighings, 1 rows skipped")
			assert.Contains(t, kept.out, "lane 1  point 21")
		})
	}
	got := checkweigh("lane,mark,weight (g)\n1,12,85\n2.5,12,85\n1,high,85\n", "-bad-rows", "skip", "-")
	assert.Contains(t, got.err, `line 3, column lane: "2.5": want a whole number`)
	assert.Contains(t, got.err, `line 4, column mark: "high": want a number`)
}

func TestHeaders(t *testing.T) {
	for _, tt := range []struct{ table, want string }{
		{"", "line 1: nothing there"},
		{"weight\n85\n", "its unit in parentheses"},
		{"weight (stone)\n85\n", "its unit in parentheses"},
		{"lane\n1\n", `a column such as "weight (g)"`},
		{"weight (g),colour\n85,red\n", `"colour": want one of lane, mark, weight (g)`},
		{"weight (g),weight (oz)\n85,3\n", "each column once"},
	} {
		got := checkweigh(tt.table, "-")
		assert.Equal(t, exitData, got.code)
		assert.Contains(t, got.err, tt.want)
	}
	ounces := strings.Replace(steady(105), "weight (g)", "Weight (oz)", 1)
	got := checkweigh(ounces, "-")
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.out, "84.99 oz from ", "what comes in ounces goes out in ounces")
}

func TestAllEqualWeights(t *testing.T) {
	got := checkweigh("weight (g)\n"+strings.Repeat("85\n", 100), "-")
	assert.Equal(t, exitData, got.code)
	assert.Contains(t, got.err, "without scatter")
}

func TestTooFewForAChart(t *testing.T) {
	got := checkweigh(steady(30), "-")
	assert.Equal(t, exitOK, got.code)
	assert.Contains(t, got.out, "lane 1: 30 of 100 weighings to set up its chart")
	got = checkweigh(steady(30), "-png", filepath.Join(t.TempDir(), "x.png"), "-")
	assert.Equal(t, exitData, got.code)
}

// A move of the mark starts afresh: during set-up, and within a subgroup.
func TestMoveOfTheMark(t *testing.T) {
	table := "mark,weight (g)\n" + strings.ReplaceAll(strings.TrimPrefix(steady(103), "weight (g)\n"), "8", "12,8")
	table = strings.ReplaceAll(table, ".12,8", ".8") // only the first 8 of a weight got a mark
	moved := table + "13,86\n13,85.5\n13,86.5\n13,86.2\n13,85.9\n"
	got := checkweigh(moved, "-")
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.out, "mark moved from 12 to 13\nlane 1: 3 weighings before the move belong to no subgroup")
	assert.Contains(t, got.out, "lane 1  point 21  86.02 g", "only of pieces of the new mark")
	early := checkweigh("mark,weight (g)\n12,85\n13,86\n13,85\n", "-")
	assert.Contains(t, early.out, "1 weighings before the move")
	assert.Contains(t, early.out, "2 of 100 weighings to set up")
}

// A signal of the set-up that has gone is told in full when it comes back.
func TestSignalThatComesBackIsToldAgain(t *testing.T) {
	got := checkweigh("weight (g)\n85\n88\n85\n85.1\n84.9\n85.2\n85.1\n84.8\n85\n85.1\n88.5\n", "-chart", "individuals", "-subgroup-size", "1", "-setup", "10", "-limit-width", "2", "-rules", "limits-only", "-")
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.out, "lane 1  point 2  88.00 g  SIGNAL beyond-limit")
	_, inUse, found := strings.Cut(got.out, "lane 1  point 11  88.50 g  SIGNAL beyond-limit, spread-beyond-limit\n")
	assert.True(t, found, got.out)
	assert.Contains(t, inUse, "The pieces of this subgroup scatter")
	assert.Contains(t, inUse, "The chart signals a change")
}

// A lane that stands still does not keep the others from advice.
func TestLaneThatStopsIsNotWaitedFor(t *testing.T) {
	dir := t.TempDir()
	trials := filepath.Join(dir, "trials.csv")
	require.NoError(t, os.WriteFile(trials, []byte("mark,weight (g),pieces\n11,80.1,10\n11,79.8,10\n12,85.2,10\n12,84.9,10\n13,90.1,10\n13,89.8,10\n"), 0o600))
	var table strings.Builder
	table.WriteString("lane,mark,weight (g)\n")
	for i := range 60 {
		w := 85 + 0.4*float64(i%3-1) + 0.1*float64(i%5-2)
		fmt.Fprintf(&table, "1,12,%.1f\n", w)
		if i < 25 {
			fmt.Fprintf(&table, "2,12,%.1f\n", w)
		}
	}
	got := checkweigh(table.String(), "-setup", "4", "-trials", trials, "-target", "85 g", "-move-limit", "0.8 g", "-mark-low", "0", "-mark-high", "40", "-")
	assert.Equal(t, exitOK, got.code, got.err)
	// Once with both lanes, then with every second subgroup of the one that runs.
	assert.Equal(t, 4, strings.Count(got.out, "\nmark 12: "), got.out)
}
