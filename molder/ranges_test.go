package molder_test

import (
	"encoding"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"math"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/molder"
)

// fieldComments returns what the source says about each field: "SheetInput.Gap".
func fieldComments(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	out := map[string]string{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok {
				return true
			}
			if s, ok := spec.Type.(*ast.StructType); ok {
				for _, f := range s.Fields.List {
					for _, id := range f.Names {
						out[spec.Name.Name+"."+id.Name] = strings.TrimSpace(f.Comment.Text())
					}
				}
			}
			return false
		})
	}
	return out
}

// A range as a comment writes it: "1 g to 10 kg", "0.5 to 2", "above 0 to
// under 100 %", "up to 600 s".
var (
	rangeText = regexp.MustCompile(`(above )?(-?[\d.]+) ?([a-zA-Z%/]*) to (under )?(-?[\d.]+) ?([a-zA-Z%/]*)`)
	upToText  = regexp.MustCompile(`up to ([\d.]+) ?([a-zA-Z%/]*)`)
)

type documentedRange struct {
	low, high         float64 // in the unit held
	lowOpen, highOpen bool
}

func documented(t *testing.T, field reflect.StructField, comment string) (documentedRange, bool) {
	t.Helper()
	if m := rangeText.FindStringSubmatch(comment); m != nil {
		lowUnit := m[3]
		if lowUnit == "" {
			lowUnit = m[6]
		}
		return documentedRange{held(t, field, m[2], lowUnit), held(t, field, m[5], m[6]), m[1] != "", m[4] != ""}, true
	}
	if m := upToText.FindStringSubmatch(comment); m != nil {
		return documentedRange{0, held(t, field, m[1], m[2]), false, false}, true
	}
	return documentedRange{}, false
}

// held reads a number with its unit into the unit that the field holds.
func held(t *testing.T, field reflect.StructField, text, unit string) float64 {
	t.Helper()
	v := reflect.New(field.Type)
	if q, ok := v.Interface().(encoding.TextUnmarshaler); ok {
		require.NoError(t, q.UnmarshalText([]byte(text+" "+unit)), "%s: %s %s", field.Name, text, unit)
		return v.Elem().Float()
	}
	f, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return f
}

// plainRange is the text of a refusal that is about the range alone.
var plainRange = regexp.MustCompile(`^(a whole number from )?\S+( \S+)? to \S+( \S+)?$`)

// The ranges that the comments promise, and the reference page repeats, are
// the ranges that are enforced: the ends are taken, everything beyond and
// what is no number is refused, and the refusal names the field.
func TestDocumentedRangesAreEnforced(t *testing.T) {
	comments := fieldComments(t)
	checked := 0
	for id, c := range scalars {
		base := reflect.ValueOf(c.in)
		for i := range base.NumField() {
			field := base.Type().Field(i)
			name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
			kind := field.Type.Kind()
			if kind != reflect.Float64 && kind != reflect.Int || field.Tag.Get("range") != "" {
				continue
			}
			comment, ok := comments[base.Type().Name()+"."+field.Name]
			require.True(t, ok, "%s.%s has no comment", base.Type().Name(), field.Name)
			r, ok := documented(t, field, comment)
			alternative := base.Field(i).IsZero() && (name == "aspect" || name == "width")
			if !ok || alternative {
				continue
			}
			checked++
			refusal := func(v float64) string {
				in := reflect.New(base.Type()).Elem()
				in.Set(base)
				if kind == reflect.Int {
					in.Field(i).SetInt(int64(v))
				} else {
					in.Field(i).SetFloat(v)
				}
				for _, e := range reckon.InputErrors(c.try(in.Interface())) {
					if e.Field == name {
						return e.Want
					}
				}
				return ""
			}
			what := fmt.Sprintf("%s of %s (%s)", name, id, comment)
			below, above := math.Nextafter(r.low, math.Inf(-1)), math.Nextafter(r.high, math.Inf(1))
			if kind == reflect.Int {
				below, above = r.low-1, r.high+1
			}
			optional := strings.Contains(field.Tag.Get("json"), "omitzero")
			if !(optional && below == 0) {
				assert.NotEmpty(t, refusal(below), "%s takes %v", what, below)
			}
			assert.NotEmpty(t, refusal(above), "%s takes %v", what, above)
			for _, end := range []struct {
				v    float64
				open bool
			}{{r.low, r.lowOpen}, {r.high, r.highOpen}} {
				switch got := refusal(end.v); {
				case end.open:
					assert.NotEmpty(t, got, "%s takes %v", what, end.v)
				default:
					assert.False(t, plainRange.MatchString(got), "%s refuses %v: want %s", what, end.v, got)
				}
			}
			if kind == reflect.Float64 {
				for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
					assert.NotEmpty(t, refusal(v), "%s takes %v", what, v)
				}
			}
		}
	}
	assert.Greater(t, checked, 80, "the comments must say their ranges")
}

// What is no number is refused wherever a range is named, and by the field's name.
func TestNoNumberIsInARange(t *testing.T) {
	all := map[string]calculation{}
	maps.Copy(all, scalars)
	all["calender-bound"] = call(molder.CalenderBound.Solve, molder.CalenderBound{Feed: 4, Index: 0.35})
	checked := 0
	for id, c := range all {
		base := reflect.ValueOf(c.in)
		for i := range base.NumField() {
			field := base.Type().Field(i)
			if field.Type.Kind() != reflect.Float64 || field.Tag.Get("range") == "" {
				continue
			}
			name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
			if base.Field(i).IsZero() && (name == "aspect" || name == "width") {
				continue // the other of the two is given, and is the one that is refused
			}
			checked++
			for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				in := reflect.New(base.Type()).Elem()
				in.Set(base)
				in.Field(i).SetFloat(v)
				assert.Contains(t, fields(c.try(in.Interface())), name, "%s of %s takes %v", name, id, v)
			}
		}
	}
	assert.Greater(t, checked, 80)
}
