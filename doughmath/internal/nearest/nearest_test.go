package nearest_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/internal/nearest"
)

func TestOf(t *testing.T) {
	words := []string{"flour", "friction", "friction_basis", "room", "target"}
	for word, want := range map[string]string{
		"flour":          "flour",
		"flower":         "flour",
		"Flour":          "flour",
		"rooom":          "room",
		"romo":           "room", // neighbours swapped: one slip
		"friction-basis": "friction_basis",
		"Friction Basis": "friction_basis",
		"tagret":         "target",
		"salt":           "",
		"":               "",
		"äöü":            "",
	} {
		assert.Equal(t, want, nearest.Of(word, words), "%q", word)
	}
	assert.Empty(t, nearest.Of(strings.Repeat("flour", 1000), words))
	assert.Empty(t, nearest.Of("flour", nil))
}
