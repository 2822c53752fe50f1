package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
)

// drawing is a chart of one lane as an SVG file shows it.
type drawing struct {
	paths []drawnPath
	words map[string]spot // where each text begins
}

type drawnPath struct {
	at    []spot
	style string
}

type spot struct{ x, y float64 }

var (
	svgPath = regexp.MustCompile(`<path d="([^"]*)" style="([^"]*)"`)
	svgSpot = regexp.MustCompile(`[ML]([-\d.]+),([-\d.]+)`)
	svgText = regexp.MustCompile(`<text x="([-\d.]+)" y="-([\d.]+)"[^>]*>([^<]*)<`)
)

func toSpot(t *testing.T, x, y string) spot {
	t.Helper()
	a, err := strconv.ParseFloat(x, 64)
	require.NoError(t, err)
	b, err := strconv.ParseFloat(y, 64)
	require.NoError(t, err)
	return spot{a, b}
}

// drawn runs the program and reads the chart that it drew.
func drawn(t *testing.T, table string, args ...string) (drawing, said) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "chart.svg")
	got := checkweigh(table, append(args, "-svg", name, "-")...)
	require.Equal(t, exitOK, got.code, got.err)
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	d := drawing{words: map[string]spot{}}
	for _, m := range svgPath.FindAllStringSubmatch(string(text), -1) {
		p := drawnPath{style: m[2]}
		for _, s := range svgSpot.FindAllStringSubmatch(m[1], -1) {
			p.at = append(p.at, toSpot(t, s[1], s[2]))
		}
		d.paths = append(d.paths, p)
	}
	for _, m := range svgText.FindAllStringSubmatch(string(text), -1) {
		d.words[m[3]] = toSpot(t, m[1], m[2])
	}
	return d, got
}

// with returns the paths whose style holds all the parts.
func (d *drawing) with(parts ...string) (out []drawnPath) {
	for _, p := range d.paths {
		if !slices.ContainsFunc(parts, func(part string) bool { return !strings.Contains(p.style, part) }) {
			out = append(out, p)
		}
	}
	return out
}

// points are the spots of the line that joins the points.
func (d *drawing) points(t *testing.T) []spot {
	t.Helper()
	lines := d.with("fill:none", "stroke:#0072B2")
	lines = slices.DeleteFunc(lines, func(p drawnPath) bool { return len(p.at) < 3 })
	require.Len(t, lines, 1)
	return lines[0].at
}

// scale turns a spot into the point's number and the weight, by two points known.
func scale(points []spot, i, j int, wi, wj float64) func(spot) (number, weight float64) {
	a, b := points[i], points[j]
	return func(s spot) (float64, float64) {
		return float64(i+1) + (s.x-a.x)/(b.x-a.x)*float64(j-i), wi + (s.y-a.y)/(b.y-a.y)*(wj-wi)
	}
}

// signalling is a chart of single pieces: a set-up of 20, then pieces of which
// some signal, with moves of the mark after points 24 and 30.
func signalling() string {
	var b strings.Builder
	b.WriteString("mark,weight (g)\n")
	for i := range 20 {
		fmt.Fprintf(&b, "12,%.1f\n", []float64{84.6, 85.4, 85.2, 84.8}[i%4])
	}
	b.WriteString("12,85.1\n12,88\n12,85\n12,84.9\n12.5,85.2\n12.5,85\n12.5,84.8\n12.5,85.1\n12.5,85\n12.5,85.2\n13,85\n13,82\n")
	return b.String()
}

// Every sign stands where its number and its weight belong.
func TestChartShowsWhatTheTextSays(t *testing.T) {
	d, got := drawn(t, signalling(), "-chart", "individuals", "-subgroup-size", "1")
	points := d.points(t)
	require.Len(t, points, 32)
	at := scale(points, 21, 31, 88, 82)

	levels := regexp.MustCompile(`set up on 20 subgroups of 1: ([\d.]+) g from ([\d.]+) g to ([\d.]+) g`).FindStringSubmatch(got.out)
	require.NotNil(t, levels, got.out)
	limits := d.with("stroke:#222222", "stroke-dasharray:6,4")
	require.Len(t, limits, 2)
	slices.SortFunc(limits, func(a, b drawnPath) int { return cmp.Compare(a.at[0].y, b.at[0].y) })
	for i, want := range []struct{ name, weight string }{{"lower limit", levels[2]}, {"upper limit", levels[3]}} {
		weight, err := strconv.ParseFloat(want.weight, 64)
		require.NoError(t, err)
		for _, s := range limits[i].at {
			_, shown := at(s)
			assert.InDelta(t, weight, shown, 0.01, want.name)
		}
		words := d.words[want.name+" "+want.weight+" g"]
		assert.InDelta(t, limits[i].at[0].y, words.y, 8, "the name stands at its line")
	}

	var moves []float64
	for _, p := range d.moveLines(points) {
		number, _ := at(p.at[0])
		moves = append(moves, number)
		again, _ := at(p.at[1])
		assert.InDelta(t, number, again, 0.01)
	}
	assert.InDeltaSlice(t, []float64{24.5, 30.5}, moves, 0.01)
	assert.Contains(t, d.words, "mark 12 to 12.5")
	assert.Contains(t, d.words, "mark 12.5 to 13")

	level, spread := d.signals(at)
	assert.Equal(t, told(got.out, false), level, got.out)
	assert.Equal(t, told(got.out, true), spread, got.out)
	assert.NotEmpty(t, level)
	assert.NotEmpty(t, spread)
	assert.NotEqual(t, level, spread)
}

// moveLines are the lines of the moves, without their sign in the key.
func (d *drawing) moveLines(points []spot) (out []drawnPath) {
	lowest := slices.MinFunc(points, func(a, b spot) int { return cmp.Compare(a.y, b.y) }).y
	for _, p := range d.with("stroke:#007055") {
		if p.at[0].y <= lowest {
			out = append(out, p)
		}
	}
	return out
}

// signals are the numbers of the points that carry a triangle, or a square.
func (d *drawing) signals(at func(spot) (float64, float64)) (level, spread []int) {
	_, key := at(d.words["level signals"])
	for _, p := range d.with("fill:#D55E00") {
		var sum spot
		for _, s := range p.at {
			sum.x, sum.y = sum.x+s.x, sum.y+s.y
		}
		n := float64(len(p.at))
		number, weight := at(spot{sum.x / n, sum.y / n})
		switch {
		case weight > key-1: // the key's own
		case len(p.at) == 3:
			level = append(level, int(number+0.5))
		default:
			spread = append(spread, int(number+0.5))
		}
	}
	return level, spread
}

// told are the numbers of the points of which the text says a signal of the
// spread, or any other.
func told(out string, spread bool) (numbers []int) {
	for _, m := range regexp.MustCompile(`(?m)point (\d+)  .*  SIGNAL (.*)$`).FindAllStringSubmatch(out, -1) {
		words := strings.Split(m[2], ", ")
		other := slices.ContainsFunc(words, func(w string) bool { return w != "spread-beyond-limit" })
		if n, _ := strconv.Atoi(m[1]); spread && slices.Contains(words, "spread-beyond-limit") || !spread && other {
			numbers = append(numbers, n)
		}
	}
	return numbers
}

// moving is a table of one lane whose mark moves by 0.1 after each of so many
// subgroups, from the first after the set-up.
func moving(moves int) string {
	b := new(table)
	b.weighed(12, 105, 1)
	for i := range moves {
		b.weighed(12+0.1*float64(1+i%5), 5, 1)
	}
	return b.String()
}

// The words of five moves, one subgroup apart, all stand free of one another.
func TestFiveMovesInARowAreReadable(t *testing.T) {
	d, got := drawn(t, moving(5))
	assert.NotContains(t, got.out, "in the chart", "no numbers are needed")
	var boxes []vg.Rectangle
	for _, words := range []string{"set-up", "in use", "mark 12 to 12.1", "mark 12.1 to 12.2", "mark 12.2 to 12.3", "mark 12.3 to 12.4", "mark 12.4 to 12.5", "mark moved", "subgroup"} {
		require.Contains(t, d.words, words)
		boxes = append(boxes, boxOf(words, d.words[words]))
	}
	assertApart(t, boxes)
	lines := d.moveLines(d.points(t))
	require.Len(t, lines, 5)
	for _, line := range lines {
		for _, box := range boxes {
			x, top := vg.Length(line.at[0].x), vg.Length(max(line.at[0].y, line.at[1].y))
			assert.False(t, x >= box.Min.X && x <= box.Max.X && top > box.Min.Y, "a line runs through words: %v %v", line, box)
		}
	}
}

// boxOf is the room of some words: from a letter's foot to its head.
func boxOf(words string, at spot) vg.Rectangle {
	x, y := vg.Length(at.x), vg.Length(at.y)
	return vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + small.Width(words), Y: y + 8}}
}

func assertApart(t *testing.T, boxes []vg.Rectangle) {
	t.Helper()
	for i, a := range boxes {
		for _, b := range boxes[i+1:] {
			apart := a.Max.X <= b.Min.X || b.Max.X <= a.Min.X || a.Max.Y <= b.Min.Y || b.Max.Y <= a.Min.Y
			assert.True(t, apart, "%v lies over %v", a, b)
		}
	}
}

// Many moves have numbers, and the text says which is which.
func TestManyMovesAreNumbered(t *testing.T) {
	for _, n := range []int{12, 40, 200} {
		d, got := drawn(t, moving(n))
		assert.Contains(t, got.out, "move 1 in the chart: mark 12 to 12.1\nmove 2 in the chart: mark 12.1 to 12.2\n")
		assert.Contains(t, got.out, fmt.Sprintf("move %d in the chart: ", n))
		assert.Contains(t, d.words, "mark moved (the text says what each number is)")
		var boxes []vg.Rectangle
		row := d.words["1"].y
		for words, at := range d.words {
			if at.y == row {
				boxes = append(boxes, boxOf(words, at))
			}
		}
		assert.GreaterOrEqual(t, len(boxes), min(n, 20))
		assertApart(t, boxes)
		assert.NotEqual(t, row, d.words["in use"].y)
	}
}

// Moves between the same two points share a line and its words.
func TestTwoMovesAtOnePlace(t *testing.T) {
	d, _ := drawn(t, new(table).weighed(12, 105, 1).weighed(12.1, 3, 1).weighed(12.3, 10, 1).String())
	assert.Contains(t, d.words, "mark 12 to 12.1 to 12.3")
	assert.Len(t, d.moveLines(d.points(t)), 1)
}

// The names of limits that lie close together on the page do not touch.
func TestNamesOfCloseLimits(t *testing.T) {
	d, _ := drawn(t, new(table).weighed(12, 105, 1).weighed(16, 30, 1).String())
	var boxes []vg.Rectangle
	for words, at := range d.words {
		if strings.HasPrefix(words, "centre") || strings.Contains(words, " limit ") {
			boxes = append(boxes, boxOf(words, at))
		}
	}
	require.Len(t, boxes, 3)
	assertApart(t, boxes)
}
