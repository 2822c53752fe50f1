package line

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Racks counted by hand: 1 from 0 to 10, 2 from 4 to 20 and from 6 to 8, one from 20, as one is back.
func TestRacksByHand(t *testing.T) {
	spans := func() []rackSpan { return []rackSpan{{20, 30}, {4, 20}, {0, 10}, {6, 8}} }
	levels := []RackLevel{{0, 1}, {4, 2}, {6, 3}, {8, 2}, {10, 1}, {20, 1}, {30, 0}}
	for _, c := range []struct {
		available int
		want      RackUse
	}{
		{0, RackUse{Most: 3, MostAt: 6, Levels: levels}}, // nobody says how many there are
		{1, RackUse{Most: 3, MostAt: 6, ShortBy: 2, ShortFrom: 4, Levels: levels}},
		{2, RackUse{Most: 3, MostAt: 6, ShortBy: 1, ShortFrom: 6, Levels: levels}},
		{3, RackUse{Most: 3, MostAt: 6, Levels: levels}},
	} {
		assert.Equal(t, c.want, rackUse(spans(), c.available, true), "of %d", c.available)
		c.want.Levels = nil
		assert.Equal(t, c.want, rackUse(spans(), c.available, false), "of %d", c.available)
	}
}

// As many at once for a second time is no news.
func TestMostRacksForTheFirstTime(t *testing.T) {
	u := rackUse([]rackSpan{{0, 10}, {5, 15}, {20, 30}, {25, 35}}, 0, false)
	assert.Equal(t, RackUse{Most: 2, MostAt: 5}, u)
}
