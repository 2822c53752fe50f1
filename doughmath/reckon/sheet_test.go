package reckon

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
)

type stage struct {
	Name string        `json:"name"`
	Temp unit.Temp     `json:"temp" sym:"T_#"`
	Time unit.Duration `json:"time" sym:"t_#"`
}

type part struct {
	Kind string    `json:"kind"`
	Mass unit.Mass `json:"mass" sym:"m_#"`
}

type proofing struct {
	Pieces int           `json:"pieces" sym:"n"`
	Spare  int           `json:"spare,omitzero" sym:"s,0"`
	Rest   unit.Duration `json:"rest,omitzero" sym:"r"`
	Room   unit.Temp     `json:"room,omitzero" sym:"T_r"`
	Steps  []stage       `json:"steps"`
	Last   stage         `json:"last" sym:"9"`
	Extra  stage         `json:"extra,omitzero" sym:"8"`
	Hidden stage         `json:"hidden" sym:"-"`
	Parts  []part        `json:"parts"`
	Shares []float64     `json:"shares" sym:"w_#"`
	Word   string        `json:"word"`
}

type proofed struct {
	Time unit.Duration `json:"time" sym:"t"`
	Rate unit.MassRate `json:"rate" sym:"R"`
}

func TestSheet(t *testing.T) {
	q := proofing{
		Pieces: 12, Steps: []stage{{"floor", unit.Celsius(24), 60}, {"", unit.Celsius(30), 90}},
		Last: stage{Temp: unit.Celsius(35), Time: 10}, Shares: []float64{0.25, 0.75},
		Parts: []part{{"flour", 500}},
	}
	var w Working
	w.Inputs(q)
	w.Lines(
		proofed{Time: 150.00000000000003, Rate: 3},
		"warmth: K = sum(T_#*w_#) in °C",
		"time: t = sum(t_#) - t_9  [clock]",
		"longest: m = max(t_9, t_#...) in s",
		"rate: R = n/4",
		"a constant: k = 334 in kJ/kg  [table]",
		"nothing: z = sum(y_#)",
		"mean of none: o = max(0, y_#...)",
	)
	w.Item(2, stage{Temp: unit.Celsius(30)}, "again: T_# = T_# + 0")
	assert.Equal(t, `  pieces: n = 12
  spare: s = 0
  floor, temperature: T_1 = 24 °C
  floor, time: t_1 = 1 min
  steps 2 temperature: T_2 = 30 °C
  steps 2 time: t_2 = 1.5 min
  last temperature: T_9 = 35 °C
  last time: t_9 = 10 s
  flour, mass: m_1 = 500 g
  shares 1: w_1 = 0.25
  shares 2: w_2 = 0.75
  warmth: K = T_1*w_1 + T_2*w_2 = 24*0.25 + 30*0.75 = 28.5 °C
  floor, time, in s: t_1 = 1*60 = 60 s
  steps 2 time, in s: t_2 = 1.5*60 = 90 s
  time: t = (t_1 + t_2) - t_9 = (60 + 90) - 10 = 150 s  [clock]
  time, in min: t = 150/60 = 2.5 min
  longest: m = max(t_9, t_1, t_2) = max(10, 60, 90) = 90 s
  rate: R = n/4 = 12/4 = 3 kg/h
  a constant: k = 334 kJ/kg  [table]
  nothing: z = 0
  mean of none: o = max(0) = 0
  again: T_2 = T_2 + 0 = 30 + 0 = 30 °C
`, w.String())
	assert.Equal(t, 150.00000000000003, w.Steps[12].Value, "an answer's value is the field, to the last bit")
	var none *Working
	none.Inputs(q)
	none.Lines(q, "x: y = 1")
}

// Depth is embedded below, so that its name is exported.
type Depth struct {
	Depth unit.Length `json:"depth" sym:"d_#"`
}

type weighed struct {
	Depth
	Kind     int            `json:"kind"`
	MassSD   unit.Mass      `json:"mass_sd" sym:"s_#"`
	Rest     unit.Duration  `json:"rest" sym:"-"`
	hidden   unit.Mass      `sym:"h_#"`
	Measured unit.TempDelta `json:"measured_temp" sym:"D_#"`
}

type everyPlace struct {
	Depth
	Name   string      `json:"name"`
	Oven   unit.Temp   `json:"oven" sym:"T_o"`
	Part   weighed     `json:"part" sym:"9"`
	Two    [2]weighed  `json:"two" sym:"w"`
	Lent   *weighed    `json:"lent" sym:"7"`
	Borrow *weighed    `json:"borrow"`
	Lots   []*Depth    `json:"lots"`
	Temps  []unit.Temp `json:"temps" sym:"T_#"`
	Bare   []unit.Mass `json:"bare"`
}

// Every number that has a symbol is an input, wherever it stands, by the path that leads to it and the words that a
// person reads; what has none, is not given or is nobody else's business is not.
func TestInputsOfEveryPlace(t *testing.T) {
	q := everyPlace{
		Depth: Depth{1}, Part: weighed{Depth{2}, 3, 4, 5, 6, 7}, Two: [2]weighed{{Depth{8}, 9, 10, 11, 12, 13}, {Depth{14}, 15, 16, 17, 18, 19}},
		Lent: &weighed{Depth{20}, 21, 22, 23, 24, 25}, Lots: []*Depth{{26}, nil, {27}}, Temps: []unit.Temp{unit.Celsius(28), {}}, Bare: []unit.Mass{29},
	}
	var w Working
	w.Inputs(&q)
	var got [][4]string
	for _, s := range w.Steps {
		got = append(got, [4]string{s.Field, s.Symbol, s.ID, Text(s.Value) + " " + s.Unit})
	}
	assert.Equal(t, [][4]string{
		{"depth", "d_#", "depth", "1 mm"},
		{"part.depth", "d_9", "part depth", "2 mm"},
		{"part.mass_sd", "s_9", "part mass standard deviation", "4 g"},
		{"part.measured_temp", "D_9", "part measured temperature", "7 C°"},
		{"two[0].depth", "d_1", "two 1 depth", "8 mm"},
		{"two[0].mass_sd", "s_1", "two 1 mass standard deviation", "10 g"},
		{"two[0].measured_temp", "D_1", "two 1 measured temperature", "13 C°"},
		{"two[1].depth", "d_2", "two 2 depth", "14 mm"},
		{"two[1].mass_sd", "s_2", "two 2 mass standard deviation", "16 g"},
		{"two[1].measured_temp", "D_2", "two 2 measured temperature", "19 C°"},
		{"lent.depth", "d_7", "lent depth", "20 mm"},
		{"lent.mass_sd", "s_7", "lent mass standard deviation", "22 g"},
		{"lent.measured_temp", "D_7", "lent measured temperature", "25 C°"},
		{"lots[0].depth", "d_1", "lots 1 depth", "26 mm"},
		{"lots[2].depth", "d_3", "lots 3 depth", "27 mm"},
		{"temps[0]", "T_1", "temps 1", "28 °C"},
	}, got)
	var none *Working
	none.Found(q, "counted")
	none.PutBack("x: y = 1")
	none.Root("root", "x", 1, "", "trial")
	none.Heading("part")
	none.Carried("input", "x", 1, "")
	w = Working{}
	w.Found(Depth{3}, "counted")
	assert.Equal(t, []Step{{Kind: TableStep, ID: "depth", Symbol: "d_#", Value: 3, Unit: "mm", Source: "counted", Answer: true}}, w.Steps)
}

// A root that is put back keeps its value to the last bit. Items of an earlier part do not count, and what was taken
// back is not known any more.
func TestPutBack(t *testing.T) {
	var w Working
	w.Given("first", "t_1", 5, "s", "")
	w.Root("root", "x", 2, "", "trial")
	w.PutBack("square: x = sqrt(4.0004)", "not known: y = sqrt(9)")
	assert.Equal(t, Step{Kind: CheckStep, ID: "square", Symbol: "x", Expression: "sqrt(4.0004)", Value: 2}, w.Steps[2])
	assert.Equal(t, Step{Kind: CheckStep, ID: "not known", Symbol: "y", Expression: "sqrt(9)", Value: 3}, w.Steps[3])
	w.Heading("Later")
	w.Lines(nil, "all: s = sum(t_#) + x", "one: o = t_1*1")
	assert.Equal(t, "(0) + x", w.Steps[5].Expression)
	assert.Equal(t, 2.0, w.Steps[5].Value)
	assert.Equal(t, 5.0, w.Steps[6].Value, "a symbol by its name does")
	w.Steps = w.Steps[:1]
	w.Lines(nil, "gone: z = x*1")
	assert.True(t, math.IsNaN(w.Steps[1].Value))
}

// What only converts is taken out of an expression with the sign before it, or else with that after it.
func TestConverting(t *testing.T) {
	for text, want := range map[string][3]string{
		"a + b":                          {"a + b", "", ""},
		"v*60{s/min}/r":                  {"v*60/r", "v/r", "60 s/min"},
		"60{s/min}*v/r":                  {"60*v/r", "v/r", "60 s/min"},
		"60{s/min}/r":                    {"60/r", "1/r", "60 s/min"},
		"M/1000{g/kg}/D*3600{s/h}":       {"M/1000/D*3600", "M/D", "1000 g/kg, 3600 s/h"},
		"M / 1e3{g/kg}":                  {"M / 1e3", "M", "1e3 g/kg"},
		"(M)/1000{g/kg}":                 {"(M)/1000", "M", "1000 g/kg"},
		"2*(M)/0.001{kg/g}*(a + b)":      {"2*(M)/0.001*(a + b)", "2*M*(a + b)", "0.001 kg/g"},
		"sqrt(a)*60{s/min}":              {"sqrt(a)*60", "sqrt(a)", "60 s/min"},
		"a*60{s/min} + b*60{s/min}":      {"a*60 + b*60", "a + b", "60 s/min"},
		"2*60{s/min}*t/1000{g/kg}*T_1*x": {"2*60*t/1000*T_1*x", "2*t*T_1*x", "60 s/min, 1000 g/kg"},
	} {
		whole, plain, constants := converting(text)
		assert.Equal(t, want, [3]string{whole, plain, constants}, text)
	}
}

// What makes no sense gives NaN and never panics.
// A symbol that has come to stand for the same number of something else does not name what is carried.
func TestCarriedAfterTheSameNumber(t *testing.T) {
	w := new(Working)
	w.Step("batches", "b", "2*2", 4, "", "")
	w.Carried("batches", "b", 4, "")
	w.Step("time from stroke to stroke", "b", "60/15", 4, "s", "")
	w.Carried("batches", "b", 4, "")
	assert.Equal(t, "b", w.Steps[1].Expression)
	assert.Equal(t, CarriedStep, w.Steps[3].Kind)
	assert.Empty(t, w.Steps[3].Expression)
	shown := ShowSteps(w.Steps, unit.Metric)
	assert.Equal(t, "4", shown[len(shown)-1].Result())
}

func TestSheetThatMakesNoSense(t *testing.T) {
	for _, line := range []string{"", "x", "x: y", "x: y = ", "x: y = (", "x: y = 1 +", "x: y = nosuch", "x: y = foo(1)", "x: y = sum(", "x: y = pow(1)", "x: y = min()", "x: y = 1 2", "x: y = " + strings.Repeat("(", 1000), "x: y = " + strings.Repeat("-", 1000) + "1", "x: y = ...", "x: y = sum(#)"} {
		var w Working
		w.Lines(nil, line)
		require.Len(t, w.Steps, 1, line)
		assert.True(t, math.IsNaN(w.Steps[0].Value), line)
	}
}

func TestExpression(t *testing.T) {
	values := map[string]float64{"a": 3, "b_1": 4, "η": 0.5}
	for text, want := range map[string]float64{
		"1 + 2*3": 7, "(1 + 2)*3": 9, "8/4/2": 1, "8 - 4 - 2": 2, "-a + 1": -2, "-(a + 1)*2": -8, "2*-a": -6, "1e3 + 1.5e-1": 1000.15,
		"sqrt(a*a + b_1*b_1)": 5, "abs(-2)": 2, "exp(0)": 1, "ln(exp(2))": 2, "floor(2.7)": 2, "ceil(2.1)": 3, "round(2.5)": 3,
		"cos(0)": 1, "sin(0)": 0, "acosh(1)": 0, "min(3, 1, 2)": 1, "max(3, 1, 2)": 3, "pow(2, 10)": 1024, "pi/pi": 1, "η*2": 1, ".5": 0.5,
	} {
		e, err := ParseExpression(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, e.Eval(func(s string) (float64, bool) { v, ok := values[s]; return v, ok }), text)
	}
	e, err := ParseExpression("a*b_1 + sqrt(a)/pi")
	require.NoError(t, err)
	assert.Equal(t, []string{"a", "b_1"}, e.Symbols())
}

// Every line of every sheet in the source can be read, whether a case takes
// the branch that it stands in or not.
func TestEverySheetParses(t *testing.T) {
	lines := 0
	root := filepath.Join("..", "..")
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, src, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			method, ok := call.Fun.(*ast.SelectorExpr)
			if !ok || method.Sel.Name != "Lines" && method.Sel.Name != "Item" && method.Sel.Name != "PutBack" {
				return true
			}
			for _, arg := range call.Args {
				text, ok := literal(arg)
				if !ok || !strings.Contains(text, ": ") {
					continue
				}
				lines++
				l := splitLine(text)
				assert.NotEmpty(t, l.words, "%s: %q", path, text)
				assert.Regexp(t, `^[\p{L}\d_#]+$`, l.symbol, "%s: %q", path, text)
				assert.NotRegexp(t, `[\[\]]`, l.unit, "%s: %q: two spaces before the source", path, text)
				// Of every list there is one item; in an item's own line # is its number.
				whole, plain, _ := converting(l.expression)
				if _, err := ParseExpression(strings.ReplaceAll(spread(plain, func(string) bool { return false }), "#", "1")); plain != "" {
					assert.NoError(t, err, "%s: %q", path, text)
				}
				expression := spread(whole, func(symbol string) bool { return !strings.HasSuffix(symbol, "2") })
				_, err := ParseExpression(strings.ReplaceAll(expression, "#", "1"))
				assert.NoError(t, err, "%s: %q", path, text)
			}
			return true
		})
		return nil
	}))
	assert.Greater(t, lines, 1)
}

// literal puts a line together from its pieces. A piece that is only known at
// run time counts as a symbol.
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil && e.Kind == token.STRING
	case *ast.BinaryExpr:
		x, okX := literal(e.X)
		y, okY := literal(e.Y)
		if !okX {
			x = "x"
		}
		if !okY {
			y = "x"
		}
		return x + y, e.Op == token.ADD && (okX || okY)
	}
	return "", false
}
