package main

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// Whatever a shop calls its things, nothing of it runs, is fetched, or leaves its place.
func TestHostileNames(t *testing.T) {
	evil := `</style></title></svg><script src=http://x>alert(1)</script>"');}*{}<!-- &amp; {{.}} ` + "\u202e"
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	text := string(day)
	for _, name := range []string{"Star bun", "divider handle", "star die", "wide", "rounding drum", "large cups", "clockwise", "route lever", "overhead proofer", "milk", "sponge"} {
		quoted, err := json.Marshal((evil + name)[:min(len(evil+name), 99)])
		require.NoError(t, err)
		text = strings.ReplaceAll(text, `"`+name+`"`, string(quoted))
	}
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	code, page, complaints := call("-scenario", file)
	require.Equal(t, exitFile, code, "a name of a product that cannot be printed is refused")
	assert.Empty(t, page)
	assert.Contains(t, complaints, "printable characters")
	require.NoError(t, os.WriteFile(file, []byte(strings.ReplaceAll(text, "\u202e", "")), 0o600))
	code, page, complaints = call("-scenario", file)
	require.Equal(t, exitOK, code, complaints)
	selfContained(t, page)
	assert.Contains(t, page, "&lt;script")
	assert.Contains(t, textOf(page), strings.TrimSuffix(evil, "\u202e")+"Star bun")
}

// blackOrWhite is what a drawing may be drawn with: black, white, a grey or a pattern of these.
var blackOrWhite = regexp.MustCompile(`^(none|#000|#777|#aaa|#bbb|#ddd|#fff|url\(#d\d+-p\d\))$`)

// selfContained demands a page that is well formed, needs nothing else, runs nothing, and can be read out.
func selfContained(t *testing.T, page string) {
	t.Helper()
	assert.Contains(t, page, `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">`)
	assert.Contains(t, page, `<html lang="en-GB">`)
	assert.Equal(t, 1, strings.Count(page, "<style"))
	assert.Equal(t, 1, strings.Count(page, "</style"))
	style := page[strings.Index(page, "<style"):strings.Index(page, "</style")]
	for _, outside := range []string{"url(", "@import", "http", "expression("} {
		assert.NotContains(t, strings.ReplaceAll(style, `\`, ""), outside+"x", "nothing is fetched")
	}
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	ids, points := map[string]int{}, []string{}
	level, headers := 0, 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		k, opens := token.(xml.StartElement)
		if !opens {
			continue
		}
		switch name := k.Name.Local; name {
		case "script", "link", "img", "iframe", "object", "embed", "base", "form", "a", "use", "image", "foreignObject":
			assert.Fail(t, name)
		case "h1", "h2", "h3", "h4":
			now := int(name[1] - '0')
			assert.LessOrEqual(t, now, level+1, "no heading is left out before %s", name)
			level = now
		case "th":
			headers++
			assert.Contains(t, []string{"col", "row", "rowgroup"}, attribute(k, "scope"))
		case "svg":
			assert.Equal(t, "img", attribute(k, "role"))
			assert.NotEmpty(t, attribute(k, "aria-labelledby"))
		case "section":
			assert.NotEmpty(t, attribute(k, "aria-labelledby"))
		}
		for _, a := range k.Attr {
			switch a.Name.Local {
			case "id":
				ids[a.Value]++
			case "aria-labelledby":
				points = append(points, strings.Fields(a.Value)...)
			case "src", "href", "style", "action", "background":
				assert.Fail(t, a.Name.Local)
			case "fill", "stroke":
				assert.Regexp(t, blackOrWhite, a.Value)
			}
			assert.False(t, strings.HasPrefix(strings.ToLower(a.Name.Local), "on"), a.Name.Local)
		}
	}
	assert.Positive(t, headers)
	for id, n := range ids {
		assert.Equal(t, 1, n, "id %s", id)
	}
	for _, p := range points {
		assert.Contains(t, ids, p)
	}
}

func attribute(k xml.StartElement, name string) string {
	for _, a := range k.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func TestThePageNeedsNothingElse(t *testing.T) {
	for _, page := range []string{demoPage(), demoInUS()} {
		selfContained(t, page)
		assert.Contains(t, textOf(page), reckon.CautionDeference)
	}
	assert.Contains(t, demoPage(), "size: A4;")
	assert.Contains(t, demoInUS(), "size: letter;")
}
