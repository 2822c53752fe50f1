package main

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A part is an element as it is read back.
type part struct {
	XMLName    xml.Name
	Attributes []xml.Attr `xml:",any,attr"`
	Children   []part     `xml:",any"`
	Text       string     `xml:",chardata"`
}

func (p *part) attribute(name string) string {
	for _, a := range p.Attributes {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// each visits the element and all in it.
func (p *part) each(visit func(*part)) {
	visit(p)
	for i := range p.Children {
		p.Children[i].each(visit)
	}
}

func (p *part) all(name string) (out []*part) {
	p.each(func(q *part) {
		if q.XMLName.Local == name {
			out = append(out, q)
		}
	})
	return out
}

// unpack reads the documents of a package.
func unpack(t *testing.T, file string) map[string]*part {
	t.Helper()
	z, err := zip.OpenReader(file)
	require.NoError(t, err)
	defer func() { require.NoError(t, z.Close()) }()
	out := map[string]*part{}
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		require.NoError(t, r.Close())
		var root part
		require.NoError(t, xml.Unmarshal(text, &root), f.Name)
		require.NotContains(t, out, f.Name)
		out[f.Name] = &root
		assert.True(t, f.Modified.IsZero() || f.Modified.Year() < 1981, "no time of day")
	}
	return out
}

func pack(t *testing.T, args ...string) (string, map[string]*part) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.zip")
	code, out, complaint := call(append(args, "-o", file)...)
	require.Equal(t, exitOK, code, complaint)
	assert.Empty(t, out)
	return file, unpack(t, file)
}

var name = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_.-]*$`)

// The manifest names every file and nothing else, and the test every item once.
func TestAPackageHangsTogether(t *testing.T) {
	_, docs := pack(t, "-size", "12", "-seed", "5", "-hints", "-distractors", "1", "-conversions", "1")
	manifest, test := docs[manifestFile], docs[testFile]
	require.NotNil(t, manifest)
	require.NotNil(t, test)
	assert.Equal(t, packageSpace, manifest.XMLName.Space)
	var order []string
	for _, c := range manifest.Children {
		order = append(order, c.XMLName.Local)
	}
	assert.Equal(t, []string{"metadata", "organizations", "resources"}, order)
	files, ids := map[string]string{}, map[string]bool{manifest.attribute("identifier"): true}
	for _, r := range manifest.all("resource") {
		id, file := r.attribute("identifier"), r.attribute("href")
		assert.Regexp(t, name, id)
		assert.False(t, ids[id], id)
		ids[id], files[file] = true, id
		require.NotEmpty(t, r.Children)
		assert.Equal(t, file, r.Children[0].attribute("href"))
		require.Contains(t, docs, file)
		assert.Equal(t, id, docs[file].attribute("identifier"), file)
	}
	assert.Len(t, files, len(docs)-1, "all but the manifest itself")
	refs := test.all("qti-assessment-item-ref")
	depends := manifest.all("dependency")
	require.Len(t, refs, 12)
	require.Len(t, depends, 12)
	for i, r := range refs {
		assert.Equal(t, files[r.attribute("href")], r.attribute("identifier"))
		assert.Equal(t, r.attribute("identifier"), depends[i].attribute("identifierref"))
	}
}

// itemOrder is the order in which the standard has the parts of an item.
var itemOrder = []string{"qti-response-declaration", "qti-outcome-declaration", "qti-item-body", "qti-response-processing"}

// In every item whatever is referred to is there, and whatever is told can come to be told.
func TestItemsHangTogether(t *testing.T) {
	for _, units := range []string{"metric", "us"} {
		_, docs := pack(t, "-size", "16", "-seed", "9", "-key", "-units", units)
		for file, item := range docs {
			if !strings.HasPrefix(file, "items/") {
				continue
			}
			assert.Equal(t, qtiSpace, item.XMLName.Space)
			assert.Equal(t, "en-GB", item.attribute("lang"))
			assert.NotEmpty(t, item.attribute("title"), file)
			last := 0
			declared := map[string]string{}
			for _, c := range item.Children {
				at := slices.Index(itemOrder, c.XMLName.Local)
				require.GreaterOrEqual(t, at, last, "%s: %s", file, c.XMLName.Local)
				last = at
				if id := c.attribute("identifier"); id != "" {
					assert.NotContains(t, declared, id, file)
					assert.Regexp(t, name, id)
					declared[id] = c.XMLName.Local
				}
			}
			assert.Equal(t, 3, last, file)
			entries := map[string]bool{}
			told := map[string]bool{}
			sets := map[string]bool{}
			item.each(func(p *part) {
				switch p.XMLName.Local {
				case "qti-text-entry-interaction":
					id := p.attribute("response-identifier")
					assert.Equal(t, "qti-response-declaration", declared[id], file)
					assert.False(t, entries[id], "%s: %s is asked once", file, id)
					assert.NotEmpty(t, p.attribute("aria-label"), file)
					entries[id] = true
				case "qti-variable":
					assert.Contains(t, declared, p.attribute("identifier"), file)
				case "qti-feedback-block", "qti-feedback-inline":
					told[p.attribute("outcome-identifier")+"="+p.attribute("identifier")] = true
					assert.Regexp(t, name, p.attribute("identifier"))
				case "qti-set-outcome-value":
					id := p.attribute("identifier")
					assert.Equal(t, "qti-outcome-declaration", declared[id], file)
					require.Len(t, p.Children, 1)
					if c := &p.Children[0]; c.attribute("base-type") == "identifier" {
						sets[id+"="+c.Text] = true
					}
				case "qti-equal":
					require.Len(t, p.Children, 2)
					assert.Equal(t, p.attribute("tolerance-mode") == "absolute", p.attribute("tolerance") != "", file)
				case "qti-base-value", "qti-value":
					assert.NotContains(t, []string{"", "NaN", "+Inf", "-Inf"}, p.Text, file)
				}
			})
			answer := "FEEDBACK_" + strings.TrimPrefix(stepResponse(len(entries)-1), "STEP") + "=" // is told with the answer
			for what := range sets {
				assert.True(t, told[what] || strings.HasPrefix(what, answer), "%s: nothing is told of %s", file, what)
			}
			for what := range told {
				outcome, verdict, _ := strings.Cut(what, "=")
				assert.True(t, sets[what] || verdict == "followed", "%s: %s is never told of %s", file, verdict, outcome)
			}
			responses := item.all("qti-response-declaration")
			assert.Len(t, responses, len(entries), file)
			for _, r := range responses {
				assert.Len(t, r.all("qti-value"), 1, file)
			}
			rubrics := item.all("qti-rubric-block")
			require.Len(t, rubrics, 1, file)
			assert.Equal(t, "scorer", rubrics[0].attribute("view"), "not for the student")
		}
	}
}

func TestAPackageIsTheSameAgain(t *testing.T) {
	one, docs := pack(t, "-size", "12", "-units", "us", "-seed", "3")
	two, _ := pack(t, "-size", "12", "-units", "us", "-seed", "3")
	three, _ := pack(t, "-size", "12", "-units", "us", "-seed", "4")
	a, err := os.ReadFile(one)
	require.NoError(t, err)
	b, err := os.ReadFile(two)
	require.NoError(t, err)
	c, err := os.ReadFile(three)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(a, b))
	assert.False(t, bytes.Equal(a, c))
	for file, doc := range docs {
		assert.Empty(t, doc.all("qti-rubric-block"), "%s: the key only where it is asked for", file)
	}
}

// Text comes back as it was, whatever stands in it.
func TestTextIsEscaped(t *testing.T) {
	hostile := "a<b & \"c\" 'd' ]]> </p><script>alert(1)</script> é ½ → \n\t ok"
	doc := tag("p", "title", hostile).in(tag("b").say(hostile).then(hostile), nil).document()
	var back part
	require.NoError(t, xml.Unmarshal(doc, &back))
	assert.Equal(t, hostile, back.attribute("title"))
	require.Len(t, back.Children, 1)
	assert.Equal(t, hostile, back.Children[0].Text)
	assert.Equal(t, hostile, strings.TrimSpace(back.Text))
	assert.NotContains(t, string(doc), "<script>")
}

// What is wrong leaves no file behind, and an old one as it was.
func TestNoHalfPackage(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "sheet.zip")
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o600))
	for _, args := range [][]string{{"-size", "0"}, {"-case", "any"}, {"-fault", "any"}, {"-qti", "-html"}, {"-seed", "-1"}} {
		code, _, complaint := call(append(args, "-o", file)...)
		assert.NotEqual(t, exitOK, code)
		assert.NotEmpty(t, complaint)
		old, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, "mine", string(old))
	}
	code, out, complaint := call("-qti")
	assert.Equal(t, exitUsage, code)
	assert.Empty(t, out)
	assert.Contains(t, complaint, "-o")
	code, _, complaint = call("-o", filepath.Join(folder, "no", "such.zip"))
	assert.Equal(t, exitRefused, code)
	assert.NotEmpty(t, complaint)
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, left, 1)
	_, err = os.Stat(filepath.Join(folder, "no"))
	assert.True(t, errors.Is(err, os.ErrNotExist))
}
