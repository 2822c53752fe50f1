package main

import (
	"context"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/examples/internal/browser"
)

// command runs a program that must end well, and soon.
func command(t *testing.T, name string, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, name, args...).CombinedOutput()
	require.NoError(t, err, "%s: %s", name, out)
	return string(out)
}

// word is one word as it was printed, in points from the top left.
type word struct {
	text                   string
	left, top, right, foot float64
}

var (
	pageBox = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	wordBox = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</word>`)
)

// The cards are printed as they are meant to be: on the paper asked for, in their own size, within the margins, and no control is
// torn apart by the end of a page.
func TestPrinted(t *testing.T) {
	chromium, pdftotext := browser.Tool(t, "chromium"), browser.Tool(t, "pdftotext")
	sandbox := "--disable-gpu"
	if os.Geteuid() == 0 {
		sandbox = "--no-sandbox"
	}
	_, s := demo(t, "", "")
	for _, c := range []struct {
		name, page    string
		width, height float64 // of the paper, in points
	}{
		{"A4 metric", demoPage(), 595, 842},
		{"Letter US", demoInUS(), 612, 792},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			page, pdf, picture := filepath.Join(dir, "cards.html"), filepath.Join(dir, "cards.pdf"), filepath.Join(dir, "cards.png")
			require.NoError(t, os.WriteFile(page, []byte(c.page), 0o600))
			flags := []string{"--headless", sandbox, "--user-data-dir=" + filepath.Join(dir, "profile"), "--no-pdf-header-footer"}
			command(t, chromium, append(flags, "--print-to-pdf="+pdf, "file://"+page)...)
			boxes := command(t, pdftotext, "-bbox", pdf, "-")
			pages := pageBox.FindAllStringSubmatch(boxes, -1)
			assert.Greater(t, len(pages), len(s.Orders)*2)
			assert.Less(t, len(pages), 30, "somebody has to carry them")
			for _, p := range pages {
				assert.InDelta(t, c.width, number(p[1]), 1)
				assert.InDelta(t, c.height, number(p[2]), 1)
			}
			heading := 0.0
			for _, m := range wordBox.FindAllStringSubmatch(boxes, -1) {
				w := word{m[5], number(m[1]), number(m[2]), number(m[3]), number(m[4])}
				assert.True(t, w.left >= 39 && w.right <= c.width-27 && w.top >= 8 && w.foot <= c.height-8, "%+v is beyond the margins", w)
				if w.text == "picnic" {
					heading = max(heading, w.foot-w.top)
				}
			}
			// A box as high as DejaVu Sans is 1.16 of its size. What is wider than the paper would make Chromium shrink all of it.
			assert.InDelta(t, 22*1.16, heading, 1.5, "the name of a product has its 22 points")

			// In the order of the page, each control's name is followed by its blank before the page ends.
			text := strings.Join(strings.FieldsFunc(command(t, pdftotext, "-raw", pdf, "-"), func(r rune) bool { return r == ' ' || r == '\n' }), " ")
			at := 0
			for _, order := range inOrder(t, &s) {
				set, err := line.ControlSettings{Line: s.Line, Order: order, Shift: s.Shift}.Solve()
				require.NoError(t, err)
				n := 0
				for _, k := range set.Settings {
					if k.At == "" {
						continue
					}
					n++
					name := strconv.Itoa(n) + " " + k.Control + " "
					from := strings.Index(text[at:], name)
					require.GreaterOrEqual(t, from, 0, "%s of %s", name, order.Product.Name)
					length := strings.Index(text[at+from:], " ran at")
					require.GreaterOrEqual(t, length, 0, name)
					assert.NotContains(t, text[at+from:at+from+length], "\f", "%s is torn apart", name)
					at += from + length
				}
			}

			// On a screen as well it is black on white, and not empty.
			command(t, chromium, append(flags, "--hide-scrollbars", "--window-size=900,6000", "--screenshot="+picture, "file://"+page)...)
			ink := blackShare(t, picture)
			assert.Greater(t, ink, 0.01)
			assert.Less(t, ink, 0.3)
		})
	}
}

func number(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64) // the pattern let nothing else through
	return v
}

// blackShare is how much of a picture is darker than grey. No dot may have a colour.
func blackShare(t *testing.T, file string) float64 {
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	picture, err := png.Decode(f)
	require.NoError(t, err)
	box := picture.Bounds()
	dark, coloured := 0, image.Point{-1, -1}
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, b, _ := picture.At(x, y).RGBA()
			if max(r, g, b)-min(r, g, b) > 0x500 {
				coloured = image.Pt(x, y)
			}
			if r < 0x8000 {
				dark++
			}
		}
	}
	assert.Equal(t, image.Point{-1, -1}, coloured, "a dot with a colour")
	return float64(dark) / float64(box.Dx()*box.Dy())
}
