package whatif

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/testdata"
)

func demo(t testing.TB) line.Scenario {
	t.Helper()
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	day, err := line.ReadScenario(data)
	require.NoError(t, err)
	return day
}

func all(t *testing.T, c *Compiled, o Options) []Row {
	t.Helper()
	var out []Row
	for r, err := range c.Rows(context.Background(), o) {
		require.NoError(t, err)
		out = append(out, r.Clone())
	}
	return out
}

func TestScenarioSubject(t *testing.T) {
	c, err := Study{
		Subject: OfScenario(demo(t)),
		Vary: []Factor{
			{Path: "shift.tap", From: "8 °C", To: "20 °C", Count: 4},
			{Path: "orders[Star bun].product.baked", Values: []string{"45 g", "50 g"}},
		},
		Outputs: []Output{{Path: "orders[Star bun].target"}, {Path: "orders[Star bun].water_temp"}, {Path: "orders[2].strokes_limit"}},
	}.Compile()
	require.NoError(t, err)
	assert.Equal(t, 8, c.Size())
	rows := all(t, c, Options{})
	require.Len(t, rows, 8)
	for i, r := range rows {
		assert.Equal(t, "mixer", r.Word(4))
		alone, err := c.At(i)
		require.NoError(t, err)
		assert.Equal(t, r.Values[:4], alone.Values[:4])
		assert.Equal(t, r.Conditions(), alone.Conditions())
	}
}
