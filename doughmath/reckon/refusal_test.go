package reckon_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

func TestRefusalIsBounded(t *testing.T) {
	c := reckon.Checks{Func: "kneading"}
	for range 1000 {
		mark := c.Mark()
		c.Fail("name", strings.Repeat("x", 1<<16), strings.Repeat("y", 1<<16))
		assert.Equal(t, mark+1, c.Mark(), "what is not kept counts all the same")
		c.Item(mark, "stock", 9999)
		c.Under(mark, "pantry")
	}
	text := c.Err().Error()
	assert.LessOrEqual(t, len(text), reckon.MaxRefusal)
	assert.Contains(t, text, "pantry.stock[9999].name")
	assert.True(t, strings.HasSuffix(text, "(mend these first: there may be more)"), text[len(text)-60:])
	assert.LessOrEqual(t, len(reckon.Refusals(c.Err())), reckon.MaxErrors)

	short := reckon.Checks{Func: "kneading"}
	for range 51 {
		short.Fail("time", "0 s", "more")
	}
	require.Len(t, reckon.InputErrors(short.Err()), reckon.MaxErrors)
	assert.Contains(t, short.Err().Error(), "there may be more")

	all := reckon.Checks{Func: "kneading"}
	for range reckon.MaxErrors {
		all.Fail("time", "0 s", "more")
	}
	assert.NotContains(t, all.Err().Error(), "there may be more", "all of them are there")

	var outer reckon.Checks
	outer.Nest("mixer", c.Err())
	outer.Nest("mixer", errors.New("no mixer"))
	assert.LessOrEqual(t, len(outer.Err().Error()), reckon.MaxRefusal)

	none := &reckon.NoSolutionError{Func: "kneading", Wanted: strings.Repeat("é", 1<<16), Advice: strings.Repeat("z", 1<<16)}
	assert.Less(t, len(none.Error()), 3000)
	assert.Less(t, len(reckon.Refusals(none)[0].Advice), 1100)
}
