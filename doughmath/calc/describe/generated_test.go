package describe

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
)

var write = flag.Bool("write", false, "write the descriptions and the reference pages anew")

// pages is where the reference stands.
const pages = "../reference"

// The descriptions and the reference pages are made from the source.
func TestGenerated(t *testing.T) {
	d := readDocuments(t)
	files := makePages(t, d)
	for pkg, part := range d.byPackage() {
		files[filepath.Join("described", pkg+".json")] = written(t, part)
	}
	var stale []string
	for name, want := range files {
		if *write {
			require.NoError(t, os.WriteFile(name, want, 0o644))
			continue
		}
		got, err := os.ReadFile(name)
		if !errors.Is(err, fs.ErrNotExist) {
			require.NoError(t, err)
		}
		if !bytes.Equal(want, got) {
			stale = append(stale, filepath.Base(name))
		}
	}
	slices.Sort(stale)
	assert.Empty(t, stale, "these are out of date: run go generate ./doughmath/calc/describe")
	for _, folder := range []string{pages, "described"} {
		there, err := filepath.Glob(filepath.Join(folder, "*"))
		require.NoError(t, err)
		for _, name := range there {
			if files[name] == nil {
				t.Errorf("%s is made from nothing any more: delete it", name)
			}
		}
	}
}

// byPackage parts the documents into the files that they are kept in.
func (d *docs) byPackage() map[string]*docs {
	parts := map[string]*docs{}
	of := func(name string) *docs {
		pkg, _, _ := strings.Cut(name, ".")
		if parts[pkg] == nil {
			parts[pkg] = newDocs()
		}
		return parts[pkg]
	}
	for name, f := range d.Functions {
		of(name).Functions[name] = f
	}
	for name, fields := range d.Types {
		of(name).Types[name] = fields
	}
	for name, choices := range d.Words {
		of(name).Words[name] = choices
	}
	return parts
}

func newDocs() *docs {
	return &docs{Functions: map[string]funcDoc{}, Types: map[string]map[string]string{}, Words: map[string][]Choice{}}
}

func written(t *testing.T, d *docs) []byte {
	t.Helper()
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	require.NoError(t, enc.Encode(d))
	return b.Bytes()
}

// A description leaves nothing out: whoever adds a calculation writes the
// comments that it is made from.
func TestDescriptionsAreComplete(t *testing.T) {
	d := readDocuments(t)
	for _, e := range calc.Entries() {
		about := d.describe(e)
		assert.NotEmpty(t, about.Summary, "%s: no summary", e.ID)
		assert.NotEmpty(t, about.Relation, "%s: no indented formula in the comment of %s", e.ID, e.Func())
		assert.NotEmpty(t, about.Sources, "%s: no source", e.ID)
		for _, f := range slices.Concat(about.Inputs, about.Outputs) {
			assert.NotEmpty(t, f.Meaning, "%s: %s has no comment in its struct", e.ID, f.Name)
		}
	}
}

// readDocuments takes what the descriptions hold from the source as it is now.
// Tests look at this one: a file that is stale is one fault, not one for every
// calculation.
func readDocuments(t *testing.T) *docs {
	t.Helper()
	d, err := documents()
	require.NoError(t, err)
	return d
}

var documents = sync.OnceValues(func() (*docs, error) {
	sources, err := sources()
	if err != nil {
		return nil, err
	}
	l := linker{ids: map[string]string{}}
	used := map[string]bool{}
	for _, e := range calc.Entries() {
		l.ids[e.Func()] = e.ID
		in, out := e.Types()
		reach(in, used)
		reach(out, used)
	}
	reach(reflect.TypeFor[line.Scenario](), used) // for its form
	d := newDocs()
	for _, s := range sources {
		l.pkg = s.name
		for name, spec := range s.types {
			if st, ok := spec.Type.(*ast.StructType); ok && used[s.name+"."+name] {
				d.Types[s.name+"."+name] = l.fieldComments(st)
			}
		}
		for name, list := range s.consts {
			if used[s.name+"."+name] {
				d.Words[s.name+"."+name] = l.choices(list)
			}
		}
	}
	for _, e := range calc.Entries() {
		pkg, name, _ := strings.Cut(e.Func(), ".")
		l.pkg = pkg
		s := sources[pkg]
		f := l.calculation(name, s.types[name].Doc.Text(), s.methods[name+".Solve"].Doc.Text())
		_, out := e.Types()
		f.Conditions, f.Cautions = d.words(out)
		for _, note := range f.Notes { // of a result that several calculations share
			never := neverSaid(note)
			f.Conditions = slices.DeleteFunc(f.Conditions, func(w string) bool { return slices.Contains(never, w) })
			f.Cautions = slices.DeleteFunc(f.Cautions, func(w string) bool { return slices.Contains(never, w) })
		}
		d.Functions[e.Func()] = f
	}
	return d, nil
})

// reach marks the types that t holds.
func reach(t reflect.Type, seen map[string]bool) {
	switch t.Kind() {
	case reflect.Slice, reflect.Array, reflect.Map, reflect.Pointer:
		reach(t.Elem(), seen)
		return
	}
	if seen[t.String()] {
		return
	}
	seen[t.String()] = true
	if t.Kind() == reflect.Struct {
		for f := range t.Fields() {
			reach(f.Type, seen)
		}
	}
}

// linker turns Go links in comments into ids of calculations.
type linker struct {
	pkg string
	ids map[string]string // by Go name
}

var goLink = regexp.MustCompile(`\*?\[([A-Za-z][\w.]*)\]`)

func (l linker) link(text string) string {
	return goLink.ReplaceAllStringFunc(text, func(m string) string {
		name := strings.Trim(m, "*[]")
		if id, ok := l.ids[l.pkg+"."+name]; ok {
			return id
		}
		if id, ok := l.ids[name]; ok {
			return id
		}
		return name[strings.LastIndexByte(name, '.')+1:]
	})
}

func (l linker) choices(list []Choice) []Choice {
	var out []Choice
	for _, c := range list {
		out = append(out, Choice{c.Word, l.link(c.Meaning)})
	}
	return out
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func (l linker) fieldComments(st *ast.StructType) map[string]string {
	out := map[string]string{}
	for _, f := range st.Fields.List {
		text := l.link(oneLine(f.Doc.Text() + " " + f.Comment.Text()))
		for _, n := range f.Names {
			if text != "" && n.IsExported() {
				out[n.Name] = text
			}
		}
	}
	return out
}

// inverses matches what is said of the inverses, which have a place of their own.
var inverses = regexp.MustCompile(`^(The inverses? (is|are)|Its inverses? (is|are)) [^.]*\.$`)

// calculation takes a comment apart by the shape that every calculation's has:
// "F asks ...", the relation indented, where it holds, "It is refused if:", the
// sources, the inverses.
func (l linker) calculation(name, doc, solve string) funcDoc {
	var out funcDoc
	var relation []string
	after := 0 // notes that stand before the relation goes on
	refusing := false
	for block := range strings.SplitSeq(strings.TrimSpace(doc), "\n\n") {
		flat := l.link(oneLine(block))
		list := strings.HasPrefix(strings.TrimLeft(block, " "), "- ")
		switch {
		case strings.HasPrefix(block, "\t"):
			if len(relation) > 0 { // the words between two formulas belong to them
				relation = append(relation, out.Notes[after:]...)
				out.Notes = out.Notes[:after]
			}
			relation = append(relation, strings.ReplaceAll(strings.TrimPrefix(block, "\t"), "\n\t", "\n"))
			after = len(out.Notes)
		case out.Summary == "":
			out.Summary = summary(strings.TrimPrefix(flat, name+" "))
		case strings.HasPrefix(flat, "Source: "):
			out.Sources = append(out.Sources, strings.TrimSuffix(strings.TrimPrefix(flat, "Source: "), "."))
		case strings.HasPrefix(flat, "It is refused if:"):
			refusing = true
			out.Refusals = append(out.Refusals, l.items(block)...)
		case refusing && list:
			out.Refusals = append(out.Refusals, l.items("\n"+block)...)
		case strings.HasPrefix(flat, "It is refused "):
			out.Refusals = append(out.Refusals, strings.TrimSuffix(strings.TrimPrefix(flat, "It is refused "), "."))
		case inverses.MatchString(flat):
		default:
			out.Notes = append(out.Notes, flat)
		}
	}
	out.Relation = strings.Join(relation, "\n\n")
	if text := l.link(oneLine(solve)); text != "" {
		out.Refusals = append(out.Refusals, strings.TrimSuffix(strings.TrimPrefix(text, "Solve has "), "."))
	}
	return out
}

// summary says what comes back instead of what is asked for.
func summary(asks string) string {
	text := strings.TrimPrefix(strings.TrimPrefix(asks, "asks "), "for ")
	return strings.ToUpper(text[:1]) + text[1:]
}

func (l linker) items(block string) []string {
	var out []string
	for i, item := range strings.Split(block, "\n  - ") {
		if i > 0 {
			out = append(out, strings.TrimRight(l.link(oneLine(item)), ",;."))
		}
	}
	return out
}

var kebabWord = regexp.MustCompile(`[a-z]+(?:-[a-z]+)*`)

// words lists what the comments of the conditions and of the cautions in a
// result of type t name. "as for water-temperature" takes over what that
// calculation names. What a part says and the whole cannot, since it refuses or avoids that, is taken
// out where the whole holds it: "never says pocket-too-small".
func (d *docs) words(t reflect.Type) (conditions, cautions []string) {
	allConditions, allCautions := knownNotes(t)
	visit := func(in reflect.Type, f reflect.StructField, never []string) {
		list, known := &conditions, allConditions
		if f.Type == cautionsType {
			list, known = &cautions, allCautions
		}
		for _, w := range kebabWord.FindAllString(d.Types[in.String()][f.Name], -1) {
			if known[w] != "" && !slices.Contains(*list, w) && !slices.Contains(never, w) {
				*list = append(*list, w)
			}
		}
	}
	var walk func(t reflect.Type, never []string)
	walk = func(t reflect.Type, never []string) {
		switch t.Kind() {
		case reflect.Slice, reflect.Array, reflect.Pointer, reflect.Map:
			walk(t.Elem(), never)
		case reflect.Struct:
			for f := range t.Fields() {
				comment := d.Types[t.String()][f.Name]
				if !f.Type.Implements(notedType) {
					walk(f.Type, slices.Concat(never, neverSaid(comment)))
					continue
				}
				if _, id, ok := strings.Cut(comment, "as for "); ok {
					if e, ok := calc.Lookup(kebabWord.FindString(id)); ok {
						_, other := e.Types()
						eachNoted(other, func(in reflect.Type, o reflect.StructField) {
							if (o.Type == cautionsType) == (f.Type == cautionsType) {
								visit(in, o, never)
							}
						})
					}
				}
				visit(t, f, never)
			}
		}
	}
	walk(t, nil)
	return conditions, cautions
}

// neverSaid finds the words of which a comment says that they are never said.
func neverSaid(comment string) []string {
	_, rest, ok := strings.Cut(comment, "never says ")
	if !ok {
		return nil
	}
	rest, _, _ = strings.Cut(rest, ":") // the reason
	return kebabWord.FindAllString(rest, -1)
}

const (
	contentsHead = `# Reference

Every calculation of the reference calculator, in the order in which dough passes the stations.
These pages are made from the source by ` + "`go generate ./doughmath/calc/describe`" + `; do not edit them.

Each section has the same order: the question, what comes back, the relation and where it holds,
what you give, what you get, what to look out for, what is refused, an example worked step by
step, the sources, and the calculations that solve the same relation for another unknown.

Write every quantity as a number with its unit: 85 g, 24 °C (or 24 C), 0.5 in. A mass, a length,
a volume or a duration may have several parts, the largest first: 2 lb 8 oz, 7 min 30 s. A bare
number is refused. A decimal point is a point, and nothing stands between thousands.

A symbol T_i in a list stands for T_1, T_2 and so on, one for each item.
`
	unitsHead = `
## Units

| Quantity | Units |
| --- | --- |
`
	unitsEnd = `
A temperature difference is read from °C, °F and K as well: 24 °F of friction is a difference of 24 F°.
`
	pageHead = "# %s\n\nThese are the calculations of the station %q in the [reference](README.md). Do not edit this page: it is made from the source.\n"
)

// makePages writes the reference: a page of contents and one for each station.
func makePages(t *testing.T, d *docs) map[string][]byte {
	t.Helper()
	entries := calc.Entries()
	page := map[string]string{} // the page of each calculation
	for _, e := range entries {
		page[e.ID] = e.Station + ".md"
	}
	contents, sections := []byte(contentsHead), map[string][]byte{}
	units := map[string]string{}
	station := ""
	for _, e := range entries {
		if e.Station != station {
			station = e.Station
			title := strings.ToUpper(station[:1]) + station[1:]
			contents = fmt.Appendf(contents, "\n## [%s](%s)\n\n", title, page[e.ID])
			sections[page[e.ID]] = fmt.Appendf(nil, pageHead, title, station)
		}
		contents = fmt.Appendf(contents, "- [%s](%s#%s): %s\n", e.ID, page[e.ID], e.ID, e.Question)
		about := d.describe(e)
		for _, f := range slices.Concat(about.Inputs, about.Outputs) {
			if len(f.Units) > 0 {
				units[f.Kind] = strings.Join(f.Units, ", ")
			}
		}
		link := func(id string) string { return strings.TrimPrefix(page[id], page[e.ID]) + "#" + id }
		text, err := about.AppendMarkdown(append(sections[page[e.ID]], '\n'), unit.Metric, link)
		require.NoError(t, err, e.ID)
		sections[page[e.ID]] = text
	}
	contents = append(contents, unitsHead...)
	var kinds []string
	for kind := range units {
		kinds = append(kinds, kind)
	}
	slices.Sort(kinds)
	for _, kind := range kinds {
		contents = fmt.Appendf(contents, "| %s | %s |\n", kind, units[kind])
	}
	files := map[string][]byte{filepath.Join(pages, "README.md"): append(contents, unitsEnd...)}
	for name, text := range sections {
		files[filepath.Join(pages, name)] = text
	}
	return files
}

// mdLink matches where a link in Markdown leads.
var mdLink = regexp.MustCompile(`\]\(([^)#\s]*)(?:#([^)\s]*))?\)`)

// The reference can be read in a browser: no page is too long to be shown, and
// every link leads to a section that is there.
func TestPages(t *testing.T) {
	const most = 300_000 // bytes; what is longer is not shown as a page by the usual hosts
	files := makePages(t, readDocuments(t))
	for name, text := range files {
		assert.Less(t, len(text), most, "%s", name)
		for _, m := range mdLink.FindAllStringSubmatch(string(text), -1) {
			target, section := name, m[2]
			if m[1] != "" {
				target = filepath.Join(pages, m[1])
			}
			there, ok := files[target]
			assert.True(t, ok, "%s: no page %s", name, m[1])
			assert.True(t, section == "" || bytes.Contains(there, []byte("\n## "+section+"\n")), "%s: no section %s in %s", name, section, target)
		}
	}
	contents := string(files[filepath.Join(pages, "README.md")])
	for _, e := range calc.Entries() {
		assert.True(t, strings.Contains(contents, "]("+e.Station+".md#"+e.ID+"): "+e.Question+"\n"), "%s is not in the contents", e.ID)
	}
}
