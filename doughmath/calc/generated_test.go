package calc_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

var write = flag.Bool("write", false, "write described.json and REFERENCE.md anew")

// described.json and REFERENCE.md are made from the source. Regenerate them with
//
//	go generate ./doughmath/calc
func TestGenerated(t *testing.T) {
	if !*write && os.Getenv("DOUGH_GENERATED") != "check" {
		t.Skip("set DOUGH_GENERATED=check to hold the generated files against the source")
	}
	docs := makeDocs(t)
	for _, e := range calc.Entries() {
		docs.Calculations[e.ID] = probe(t, e)
		oneEach(docs, e)
	}
	var described bytes.Buffer
	enc := json.NewEncoder(&described)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	require.NoError(t, enc.Encode(docs))
	page := makePage(t, docs)
	for _, f := range []struct {
		name string
		want []byte
	}{{"described.json", described.Bytes()}, {"REFERENCE.md", page}} {
		if *write {
			require.NoError(t, os.WriteFile(f.name, f.want, 0o644))
			continue
		}
		got, err := os.ReadFile(f.name)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(f.want, got), "%s is out of date: go generate ./doughmath/calc", f.name)
	}
}

// oneEach lets a symbol stand for one thing: of results that are always equal,
// the first one has it.
func oneEach(docs *calc.Docs, e calc.Entry) {
	taken := map[string]bool{}
	for _, field := range e.DescribeWith(docs).Outputs {
		if taken[field.Symbol] {
			delete(docs.Calculations[e.ID].Symbols, "out."+field.Name)
		}
		taken[field.Symbol] = true
	}
}

// A description leaves nothing out: whoever adds a calculation writes the
// comments that it is made from.
func TestDescriptionsAreComplete(t *testing.T) {
	docs := makeDocs(t)
	for _, e := range calc.Entries() {
		d := e.DescribeWith(docs)
		assert.NotEmpty(t, d.Summary, "%s: no summary", e.ID)
		assert.NotEmpty(t, d.Relation, "%s: no indented formula in the comment of %s", e.ID, e.Func())
		assert.NotEmpty(t, d.Sources, "%s: no source", e.ID)
		for _, f := range slices.Concat(d.Inputs, d.Outputs) {
			assert.NotEmpty(t, f.Meaning, "%s: %s has no comment in its struct", e.ID, f.Name)
		}
	}
}

// makeDocs reads the comments of the source.
func makeDocs(t *testing.T) *calc.Docs {
	sources := readSources(t)
	l := linker{ids: map[string]string{}}
	for _, e := range calc.Entries() {
		l.ids[e.Func()] = e.ID
	}
	docs := &calc.Docs{
		Functions: map[string]calc.FuncDoc{}, Types: map[string]map[string]string{},
		Words: map[string][]calc.Choice{}, Calculations: map[string]calc.ProbeDoc{},
	}
	for _, s := range sources {
		l.pkg = s.name
		for name, spec := range s.types {
			if st, ok := spec.Type.(*ast.StructType); ok {
				docs.Types[s.name+"."+name] = l.fieldComments(st)
			}
		}
		for name, list := range s.consts {
			for _, c := range list {
				docs.Words[s.name+"."+name] = append(docs.Words[s.name+"."+name], calc.Choice{Word: c.Word, Meaning: l.link(c.Meaning)})
			}
		}
	}
	reached := map[string]bool{}
	for _, e := range calc.Entries() {
		in, out := e.Types()
		reach(in, reached)
		reach(out, reached)
		pkg, name, _ := strings.Cut(e.Func(), ".")
		i := slices.IndexFunc(sources, func(s source) bool { return s.name == pkg })
		l.pkg = pkg
		f := l.function(name, sources[i].types[name].Doc.Text(), sources[i].methods[name+".Solve"].Doc.Text())
		conditions, cautions := e.KnownNotes()
		f.Conditions = words(docs, out, false, conditions)
		f.Cautions = words(docs, out, true, cautions)
		docs.Functions[e.Func()] = f
	}
	for name := range docs.Types {
		if !reached[name] {
			delete(docs.Types, name)
		}
	}
	for name := range docs.Words {
		if !reached[name] {
			delete(docs.Words, name)
		}
	}
	return docs
}

// reach marks the types of this project that t holds.
func reach(t reflect.Type, seen map[string]bool) {
	switch t.Kind() {
	case reflect.Slice, reflect.Array, reflect.Map, reflect.Pointer:
		reach(t.Elem(), seen)
		return
	case reflect.Struct:
		if seen[t.String()] {
			return
		}
		seen[t.String()] = true
		for field := range t.Fields() {
			reach(field.Type, seen)
		}
		return
	}
	seen[t.String()] = true
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

// oneSentence matches how a comment starts that refuses in one sentence.
var oneSentence = regexp.MustCompile(`^It returns an InputError (for|if) `)

// aboutGo matches a sentence that only a Go programmer needs.
var aboutGo = regexp.MustCompile(`[^.:]*\bdst\b[^.:]*\.`)

// function takes a comment apart by the shape that every calculation's has.
func (l linker) function(name, doc, solve string) calc.FuncDoc {
	var out calc.FuncDoc
	var relation []string
	after := 0 // notes that stand before the relation goes on
	refusing := false
	for block := range strings.SplitSeq(strings.TrimSpace(doc), "\n\n") {
		flat := l.link(oneLine(block))
		listed := strings.HasPrefix(strings.TrimLeft(block, " "), "- ")
		lead, _, _ := strings.Cut(block, "\n  - ")
		switch {
		case strings.HasPrefix(block, "\t"):
			if len(relation) > 0 { // the words between two formulas belong to them
				relation = append(relation, out.Notes[after:]...)
				out.Notes = out.Notes[:after]
			}
			relation = append(relation, strings.ReplaceAll(strings.TrimPrefix(block, "\t"), "\n\t", "\n"))
			after = len(out.Notes)
		case out.Summary == "":
			flat = strings.TrimPrefix(flat, name+" ")
			flat = strings.TrimSpace(aboutGo.ReplaceAllString(flat, ""))
			out.Summary = strings.ToUpper(flat[:1]) + flat[1:]
		case strings.HasPrefix(flat, "Source: "):
			out.Sources = append(out.Sources, strings.TrimSuffix(strings.TrimPrefix(flat, "Source: "), "."))
		case strings.Contains(lead, "InputError]") && strings.HasSuffix(strings.TrimSpace(oneLine(lead)), ":"):
			refusing = true
			out.Refusals = append(out.Refusals, l.items(block)...)
		case refusing && listed:
			out.Refusals = append(out.Refusals, l.items("\n"+block)...)
			refusing = false
		case strings.HasPrefix(flat, "It returns an InputError for "), strings.HasPrefix(flat, "It returns an InputError if "):
			out.Refusals = append(out.Refusals, strings.TrimSuffix(oneSentence.ReplaceAllString(flat, ""), "."))
		case strings.HasPrefix(flat, "It returns a NoSolutionError"):
			out.Refusals = append(out.Refusals, "no answer"+strings.TrimSuffix(strings.TrimPrefix(flat, "It returns a NoSolutionError"), "."))
		case strings.Contains(flat, "shows the working") || strings.Contains(flat, "show the working"):
			// The inverses and the working have their own places.
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

// words lists what the comments of the sets of conditions, or of cautions, in t
// name. "as for water-temperature" takes over what that calculation names.
func words(docs *calc.Docs, t reflect.Type, cautions bool, known map[string]string) []string {
	var out []string
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(t reflect.Type) {
		switch t.Kind() {
		case reflect.Slice, reflect.Array, reflect.Pointer, reflect.Map:
			walk(t.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		if seen[t] {
			return
		}
		seen[t] = true
		for f := range t.Fields() {
			_, caution := reflect.Zero(f.Type).Interface().(reckon.Cautions)
			if !f.Type.Implements(reflect.TypeFor[reckon.Noted]()) || caution != cautions {
				walk(f.Type)
				continue
			}
			comment := docs.Types[t.String()][f.Name]
			if _, id, ok := strings.Cut(comment, "as for "); ok {
				if e, ok := calc.Lookup(kebabWord.FindString(id)); ok {
					_, other := e.Types()
					walk(other)
				}
			}
			for _, w := range kebabWord.FindAllString(comment, -1) {
				if known[w] != "" && !slices.Contains(out, w) {
					out = append(out, w)
				}
			}
		}
	}
	walk(t)
	return out
}

// run is one evaluation with its working, for finding which symbol is which field.
type run struct {
	values map[string]float64 // by "in." or "out." and the path
	steps  []reckon.Step
}

var indices = regexp.MustCompile(`\[\d+\]`)

func values(prefix string, v reflect.Value, into map[string]float64) {
	leaves("", v, func(path string, v reflect.Value) {
		if indices.MatchString(path) {
			return // a row has no symbol of its own
		}
		switch q, ok := v.Interface().(unit.Quantity); {
		case ok:
			if held := unit.Held(q); !math.IsNaN(held) {
				into[prefix+path] = held
			}
		case v.Kind() == reflect.Int:
			into[prefix+path] = float64(v.Int())
		case v.Kind() == reflect.Float64:
			into[prefix+path] = v.Float()
		}
	})
}

// probe runs e in many ways. A field has the symbol whose value is that of the
// field in every run, and accepts what e says when it refuses it.
func probe(t *testing.T, e calc.Entry) calc.ProbeDoc {
	var runs []run
	try := func(in reflect.Value) {
		var w reckon.Working
		r, err := e.Call(in, &w)
		if err != nil {
			return
		}
		one := run{map[string]float64{}, w.Steps}
		values("in.", in, one.values)
		result := reflect.New(reflect.TypeOf(r.Value())).Elem()
		result.Set(reflect.ValueOf(r.Value()))
		values("out.", result, one.values)
		runs = append(runs, one)
	}
	inputs := []string{e.Example}
	cases, err := testdata.Cases()
	require.NoError(t, err)
	for _, c := range cases {
		if c.Func == e.ID {
			inputs = append(inputs, string(c.In))
		}
	}
	accepts := map[string]string{}
	for _, text := range inputs {
		in, err := e.Input(text)
		if err != nil {
			continue
		}
		try(in)
		bent := 0
		leaves("", in, func(path string, v reflect.Value) {
			before := reflect.ValueOf(v.Interface())
			defer v.Set(before)
			bend := func(change float64) bool {
				switch {
				case v.Kind() == reflect.Float64:
					v.SetFloat(v.Float() * change)
				case v.Kind() == reflect.Struct && before.Interface().(unit.Temp).Given():
					v.Set(reflect.ValueOf(unit.Celsius(before.Interface().(unit.Temp).Celsius() * change)))
				case v.Kind() == reflect.Int:
					v.SetInt(before.Int() + int64(math.Copysign(1, change-1)))
				default:
					return false
				}
				return true
			}
			bent++
			for _, change := range []float64{1 + float64(bent)/1024, 1 - float64(bent)/1024} {
				if !indices.MatchString(path) && bend(change) {
					try(in)
				}
				v.Set(before)
			}
			want, name := refusal(e, in, path, v), "in."+indices.ReplaceAllString(path, "[]")
			// "left out, because ..." is said where another value rules this one
			// out: what is wanted where it counts says more.
			if old := accepts[name]; old == "" || strings.HasPrefix(old, "left out") && want != "" {
				accepts[name] = want
			}
		})
	}
	maps.DeleteFunc(accepts, func(_, want string) bool { return want == "" })
	return calc.ProbeDoc{Symbols: symbols(runs), Accepts: accepts}
}

// refusal puts an impossible value into v and returns what e wants instead.
func refusal(e calc.Entry, in reflect.Value, path string, v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(math.NaN())
	case reflect.Struct:
		v.Set(reflect.ValueOf(unit.Celsius(math.NaN())))
	case reflect.Int:
		v.SetInt(math.MinInt32)
	case reflect.String:
		v.SetString("?")
	}
	_, err := e.Call(in, nil)
	for _, bad := range reckon.InputErrors(err) {
		if bad.Field == path {
			return bad.Want
		}
	}
	return ""
}

// symbols finds for each field the symbol that follows it through all runs.
func symbols(runs []run) map[string]string {
	fields := map[string]bool{}
	var steps []string // symbols in the order met
	for _, r := range runs {
		for field := range r.values {
			fields[field] = true
		}
		for _, s := range r.steps {
			if !slices.Contains(steps, s.Symbol) {
				steps = append(steps, s.Symbol)
			}
		}
	}
	out := map[string]string{}
	for field := range fields {
		// Among equals the one met most often wins, then the later one: a
		// result is the last thing computed.
		best, most := "", 0
		for _, symbol := range steps {
			if n := follows(runs, field, symbol); n > 0 && n >= most {
				best, most = symbol, n
			}
		}
		if best != "" {
			out[field] = best
		}
	}
	return out
}

// follows counts the runs in which the symbol has the field's value. It is 0
// if they differ in one, or if the value was never another. An input is zero
// where it was left out, and its symbol may then stand for something that was
// computed.
func follows(runs []run, field, symbol string) int {
	input := strings.HasPrefix(field, "in.")
	n := 0
	seen := map[float64]bool{}
	for _, r := range runs {
		v, there := r.values[field]
		for _, s := range r.steps {
			if !there || s.Symbol != symbol || input && v == 0 && s.Expression != "" {
				continue
			}
			if s.Value != v || input && s.Expression != "" {
				return 0
			}
			seen[v] = true
			n++
		}
	}
	if len(seen) < 2 {
		return 0
	}
	return n
}

const pageHead = `# Reference

Every calculation of the reference calculator, in the order in which dough passes the stations.
This page is made from the source by ` + "`go generate ./doughmath/calc`" + `; do not edit it.

Each section has the same order: the question, what comes back, the relation and where it holds,
what you give, what you get, what to look out for, what is refused, an example worked step by
step, the sources, and the calculations that solve the same relation for another unknown.

Write every quantity as a number with its unit: 85 g, 24 °C (or 24 C), 0.5 in. A mass, a length,
a volume or a duration may have several parts, the largest first: 2 lb 8 oz, 7 min 30 s. A bare
number is refused. A decimal point is a point, and nothing stands between thousands.
`

// makePage writes the reference page.
func makePage(t *testing.T, docs *calc.Docs) []byte {
	var b bytes.Buffer
	b.WriteString(pageHead)
	b.WriteString("\n| Quantity | Units |\n| --- | --- |\n")
	units := map[string]string{}
	var order []string
	var sections []byte
	contents, station := "", ""
	for _, e := range calc.Entries() {
		d := e.DescribeWith(docs)
		for _, f := range slices.Concat(d.Inputs, d.Outputs) {
			if len(f.Units) > 0 && units[f.Kind] == "" {
				units[f.Kind] = strings.Join(f.Units, ", ")
				order = append(order, f.Kind)
			}
		}
		if e.Station != station {
			station = e.Station
			contents += "\n**" + station + "**\n\n"
		}
		contents += fmt.Sprintf("- [%s](#%s): %s\n", e.ID, e.ID, e.Question)
		sections = append(sections, '\n')
		var err error
		sections, err = d.AppendMarkdown(sections, unit.Metric)
		require.NoError(t, err, e.ID)
	}
	slices.Sort(order)
	for _, kind := range order {
		fmt.Fprintf(&b, "| %s | %s |\n", kind, units[kind])
	}
	b.WriteString("\nA temperature difference is read from °C, °F and K as well: 24 °F of friction is a difference of 24 F°.\n")
	b.WriteString(contents)
	b.Write(sections)
	return b.Bytes()
}

// What a result is seen to set must be what its comment names, and every field
// of a result must be in its description.
func TestDescribedRemarks(t *testing.T) {
	if os.Getenv("DOUGH_GENERATED") != "check" {
		t.Skip("set DOUGH_GENERATED=check")
	}
	cases, err := testdata.Cases()
	require.NoError(t, err)
	inputs := map[string][]string{}
	for _, c := range cases {
		inputs[c.Func] = append(inputs[c.Func], string(c.In))
	}
	for _, e := range calc.Entries() {
		d := e.Describe()
		named := map[string]bool{}
		for _, r := range slices.Concat(d.Conditions, d.Cautions) {
			named[r.Word] = true
		}
		r := rand.New(rand.NewPCG(3, 4))
		for range 300 {
			inputs[e.ID] = append(inputs[e.ID], mutate(r, e.Example))
		}
		for _, in := range append(inputs[e.ID], e.Example) {
			r, err := e.Eval([]byte(in), calc.Options{})
			if err != nil {
				continue
			}
			for _, w := range r.Words() {
				assert.True(t, named[w], "%s sets %s, which the comment of its field does not name", e.ID, w)
			}
		}
	}
}

func TestDescribe(t *testing.T) {
	e, ok := calc.Lookup("water-temperature")
	require.True(t, ok)
	d := e.Describe()
	assert.Contains(t, d.Relation, "T_w = B - (T_f + T_r + T_3 + T_4)\n")
	assert.Equal(t, []string{"target", "flour", "room", "third", "fourth", "friction", "friction_basis"}, names(d.Inputs))
	assert.Equal(t, []string{"water", "factors", "base", "conditions", "cautions"}, names(d.Outputs))
	target, room, basis := d.Inputs[0], d.Inputs[2], d.Inputs[6]
	assert.Equal(t, "T_d", target.Symbol)
	assert.Equal(t, "temperature", target.Kind)
	assert.Equal(t, []string{"°C", "°F", "K"}, target.Units)
	assert.Equal(t, "a temperature from 0 °C to 45 °C", target.Accepts)
	assert.False(t, target.Optional)
	assert.True(t, room.Optional)
	assert.Contains(t, room.Absent, "leave out for the two-factor rule")
	assert.Equal(t, "word", basis.Kind)
	require.Len(t, basis.Choices, 2)
	assert.Equal(t, "once", basis.Choices[0].Word)
	assert.Equal(t, "below-freezing", d.Conditions[0].Word)
	assert.NotEmpty(t, d.Cautions)
	assert.NotEmpty(t, d.Sources)
	data, err := json.Marshal(d)
	require.NoError(t, err)
	assert.True(t, json.Valid(data))
	page, err := d.AppendMarkdown(nil, unit.US)
	require.NoError(t, err)
	assert.Contains(t, string(page), "68 °F")
}

func names(list []calc.Field) []string {
	var out []string
	for _, f := range list {
		out = append(out, f.Name)
	}
	return out
}

// Field names are lower case with underscores, so that nobody has to guess.
func TestFieldNames(t *testing.T) {
	plain := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	var walk func(where string, typ reflect.Type)
	walk = func(where string, typ reflect.Type) {
		switch typ.Kind() {
		case reflect.Slice, reflect.Array, reflect.Pointer, reflect.Map:
			walk(where, typ.Elem())
		case reflect.Struct:
			for _, f := range reckon.Fields(typ) {
				if !plain.MatchString(f.Name) {
					t.Errorf("%s: %q", where, f.Name)
				}
				walk(where+"."+f.Name, f.Type)
			}
		}
	}
	for _, e := range calc.Entries() {
		in, out := e.Types()
		walk(e.ID, in)
		walk(e.ID, out)
	}
}
