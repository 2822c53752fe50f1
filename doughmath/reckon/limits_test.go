package reckon_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

// What is read is bounded, and a refusal says by how much.
func TestBoundsOfWhatIsRead(t *testing.T) {
	type one struct {
		X float64 `json:"x"`
	}
	refusal := func(value string) string {
		_, err := reckon.Decode[one]("one", []byte(`{"x":`+value+`}`))
		require.Error(t, err)
		return err.Error()
	}
	assert.Contains(t, refusal(strings.Repeat("[", 40)+strings.Repeat("]", 40)), "nested more than 32 deep")
	_, err := reckon.Decode[one]("one", []byte(`{"x":`+strings.Repeat("1", 64)+`}`))
	require.NoError(t, err)
	assert.Contains(t, refusal(strings.Repeat("1", 65)), "at most 64")
	assert.Contains(t, refusal(`"`+strings.Repeat("y", 200)+`"`), `"`+strings.Repeat("y", 60)+"…")
}

// One text of a refusal is cut behind a thousand bytes.
func TestLongestTextOfARefusal(t *testing.T) {
	var c reckon.Checks
	c.Fail("x", strings.Repeat("y", 2000), "less")
	assert.Equal(t, strings.Repeat("y", 1000)+"…", reckon.InputErrors(c.Err())[0].Value)
}

func TestDeepestExpression(t *testing.T) {
	deep := func(n int) string { return strings.Repeat("(", n) + "1" + strings.Repeat(")", n) }
	_, err := reckon.ParseExpression(deep(63))
	require.NoError(t, err)
	_, err = reckon.ParseExpression(deep(64))
	assert.Error(t, err)
}

// A billionth below a whole number counts as it: 8.4/1.2 makes 7.
func TestNearlyWhole(t *testing.T) {
	floor, err := reckon.ParseExpression("floor(x)")
	require.NoError(t, err)
	at := func(x float64) float64 { return floor.Eval(func(string) (float64, bool) { return x, true }) }
	assert.Equal(t, 7.0, at(8.4/1.2))
	assert.Equal(t, 3.0, at(3-0.995e-9))
	assert.Equal(t, 2.0, at(3-1.005e-9))
}
