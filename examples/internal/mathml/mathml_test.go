package mathml

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// Read from left to right, a fraction is "over" and a subscript stands behind a space.
func TestOf(t *testing.T) {
	for _, c := range []struct{ expression, want string }{
		{"N*T_d - F", "N×T d−F"},
		{"a - (b - c)", "a−(b−c)"},
		{"a - b - c", "a−b−c"},
		{"a + (b + c)", "a+b+c"},
		{"(a + b)*c", "(a+b)×c"},
		{"(a + b)/(c*d)", "a+b over c×d"},
		{"-(a + b)", "−(a+b)"},
		{"a*-b", "a×(−b)"},
		{"a/b/c", "a over b over c"},
		{"pi*pow(D/2, 2)", "π×(D over 2)^2"},
		{"sqrt(a + b)", "√a+b"},
		{"ceil(P/n_max)", "⌈P over n max⌉"},
		{"exp(-k*t)", "e^−k×t"},
		{"max(S_1, S_2)", "max(S 1,S 2)"},
		{"1.5e-3*x", "1.5×10^−3×x"},
		{"ln(2)", "ln(2)"},
		{"abs(x)", "|x|"},
	} {
		e, err := reckon.ParseExpression(c.expression)
		require.NoError(t, err)
		assert.Equal(t, c.want, readAloud(t, Inline(e)), c.expression)
	}
}

// readAloud reads a piece of MathML from left to right.
func readAloud(t *testing.T, text string) string {
	t.Helper()
	type node struct {
		name string
		text []string
	}
	stack := []node{{}}
	for dec := xml.NewDecoder(strings.NewReader(text)); ; {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, text)
		top := &stack[len(stack)-1]
		switch token := token.(type) {
		case xml.StartElement:
			stack = append(stack, node{name: token.Name.Local})
		case xml.CharData:
			top.text = append(top.text, string(token))
		case xml.EndElement:
			between := map[string]string{"mfrac": " over ", "msup": "^", "msub": " "}[top.name]
			if between != "" {
				require.Len(t, top.text, 2, "%s has two parts: %s", top.name, text)
			}
			said := strings.Join(top.text, between)
			if top.name == "msqrt" {
				said = "√" + said
			}
			stack = stack[:len(stack)-1]
			stack[len(stack)-1].text = append(stack[len(stack)-1].text, said)
		}
	}
	require.Len(t, stack, 1)
	return strings.Join(stack[0].text, "")
}

// Every relation that a working holds is well formed.
func TestEveryRelation(t *testing.T) {
	typeset := 0
	for _, entry := range calc.Entries() {
		r, err := entry.Eval([]byte(entry.Example), calc.Options{Working: true})
		require.NoError(t, err, entry.ID)
		for _, s := range r.Working {
			if e, err := reckon.ParseExpression(s.Expression); err == nil {
				assert.NotEmpty(t, readAloud(t, Equation(s.Symbol, e)))
				typeset++
			}
		}
	}
	assert.Greater(t, typeset, 1000)
}

func TestHostileText(t *testing.T) {
	e := &reckon.Expression{Op: 'f', Name: "<script>", Args: []*reckon.Expression{{Op: 's', Name: "a<b_&c"}, {Op: 'n', Name: `"<`}}}
	assert.NotContains(t, Inline(e), "<script>")
	readAloud(t, Inline(e))
	assert.Equal(t, "table 3 &lt;b&gt;", Text("table 3 <b>"))
}
